#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""
What must hold whatever the numbers are: random small designs, each changed in one way whose effect is known beforehand.
More work never takes less yarn, a file's rows may stand in any order, a worse offer never makes a basket dearer, ...

    invariants.py BINARY TABLES [DESIGNS [SEED]]

Prints what does not hold, with the two folders kept, and ends with 1 then.
"""
import copy
import csv
import json
import os
import random
import re
import shutil
import subprocess
import sys
import tempfile

FABRICS = ["single crochet", "half double crochet", "double crochet", "granite stitch", "back loop rib", "stockinette",
           "tunisian simple stitch", "waffle stitch", "v-stitch"]
NEAR = 1e-9
FITTED = 1e-7  # as far as the fit is settled: its readings may be taken in any order


class Design:
    """The files of a folder: each a header and rows, or for project.csv its fields."""

    def __init__(self):
        self.project, self.files, self.separator = {}, {}, ","

    def table(self, name):
        return self.files[name][1]

    def column(self, name, column):
        return self.files[name][0].index(column)

    def write(self, folder):
        os.makedirs(folder)
        rows = {"project.csv": [["field", "value"]] + [[k, v] for k, v in self.project.items()]}
        for name, (header, table) in self.files.items():
            rows[name] = [header] + table
        for name, table in rows.items():
            with open(os.path.join(folder, name), "w", newline="", encoding="utf-8") as file:
                csv.writer(file, delimiter=self.separator, lineterminator="\n").writerows(table)


class Failed(Exception):
    pass


class Tester:
    def __init__(self, binary, tables):
        self.binary, self.tables, self.room = binary, tables, tempfile.mkdtemp(prefix="invariants-")
        self.count, self.failures, self.asked, self.refused = 0, 0, 0, {}

    def ask(self, design, *words):
        self.count += 1
        folder = os.path.join(self.room, str(self.count))
        design.write(folder)
        done = subprocess.run([self.binary, *words, "--json", "--tables", self.tables, folder], capture_output=True,
                              text=True, timeout=60, check=False)
        design.folder = folder
        if done.returncode != 0:
            raise Failed(done.stderr.replace(folder, "") or f"status {done.returncode}")
        return json.loads(done.stdout)

    def must(self, held, what, *designs):
        self.asked += 1
        if held:
            return
        self.failures += 1
        print(f"{what}: {' '.join(d.folder for d in designs)}")


# ---- Random designs ---------------------------------------------------------------------------------------------------


def graded(numbers):
    if len(numbers) == 1:
        return str(numbers[0])
    return f"{numbers[0]} ({', '.join(str(n) for n in numbers[1:])})"


def numbers(text):
    return [int(word) for word in re.findall(r"\d+", text)]


def random_design(rng):
    d = Design()
    sizes = ["S", "M", "L"][:rng.randint(1, 3)]
    d.sizes = sizes
    d.project = {"title": "Random", "sizes": " ".join(sizes) if len(sizes) == 1 else graded(sizes), "terms": "US",
                 "currency": "EUR", "chance": f"{rng.randint(80, 99)}%"}
    if rng.random() < 0.3:
        d.project["join"] = "anywhere"
    if rng.random() < 0.3:
        d.project["lots"] = "may mix"
    roles = ["main", "second", "third"][:rng.randint(1, 3)]
    d.roles = roles
    yarns = []
    for i, role in enumerate(roles):
        put_up = rng.choice([25, 50, 100])
        yarns.append([role, f"Yarn {i}", f"{put_up} g", f"{round(put_up * rng.uniform(1, 5))} m", "",
                      f"{rng.randint(300, 1300) / 100:.2f}"])
    d.files["yarns.csv"] = (["role", "yarn", "put_up", "length", "colour", "price"], yarns)
    lines = []
    for piece in range(rng.randint(1, 4)):
        fabric = rng.choice(FABRICS)
        yarn = rng.choice([rng.choice(roles), rng.choice(roles) + " x2", f"{roles[0]} {rng.randint(1, 6)}, {roles[-1]} 2",
                           " + ".join(roles)])
        stitches = [12 * rng.randint(2, 12) + 1 for _ in sizes]
        if fabric not in ("waffle stitch", "v-stitch"):
            stitches = [rng.randint(8, 150) for _ in sizes]
        if fabric == "granite stitch":
            stitches = [2 * n + 1 for n in stitches]
        if fabric in ("waffle stitch", "v-stitch"):
            stitches = [f"{rng.randint(20, 60)} cm" for _ in sizes]
        rows = [rng.randint(1, 120) for _ in sizes]
        lines.append([f"piece {piece}", "", fabric, yarn, f"{rng.choice([4, 5, 6])} mm", graded(stitches), graded(rows),
                      str(rng.randint(1, 3)), "chain"])
    d.files["pieces.csv"] = (["piece", "part", "fabric", "yarn", "tool", "stitches", "rows", "times", "start"], lines)
    swatches = []
    for i, fabric in enumerate(FABRICS):
        needed = fabric in ("waffle stitch", "v-stitch")
        if not needed and rng.random() < 0.7:
            continue
        weight = rng.random() < 0.4
        swatches.append([f"swatch {i}", rng.choice(roles), "5 mm", fabric, 25, 20,
                         f"{rng.randint(12, 20)} x {rng.randint(10, 24)}",
                         f"{rng.uniform(8, 16):.1f} g" if weight else "", "0.1 g"])
        if needed:
            swatches[-1][4] = 24 if fabric == "waffle stitch" else 26
    header = ["swatch", "yarn", "tool", "fabric", "stitches", "rows", "gauge", "weight", "scale_step"]
    d.files["swatches.csv"] = (header, swatches)
    return d


def add_offers(rng, d):
    shops = ["own", "A", "B", "C"]
    offers = []
    for role in d.roles:
        for _ in range(rng.randint(1, 5)):
            shop = rng.choice(shops)
            own = shop == "own"
            price = "0" if own else f"{rng.randint(300, 1500) / 100:.2f}"
            offers.append([role, shop, f"{rng.choice([50, 100, 200])} g", price,
                           rng.choice(["", "x", "y"]), "" if own else rng.choice(["", "", "5"]),
                           str(rng.randint(1, 30)) if own or rng.random() < 0.4 else ""])
        offers.append([role, "A", "50 g", f"{rng.randint(300, 1500) / 100:.2f}", "", "", ""])
    seen = set()  # two rows that differ in stock alone are one offer twice
    offers = [row for row in offers if not (tuple(row[:6]) in seen or seen.add(tuple(row[:6])))]
    d.files["offers.csv"] = (["role", "shop", "put_up", "price", "lot", "pack", "stock"], offers)
    d.files["shops.csv"] = (["shop", "postage", "free_from", "off", "off_from", "off_percent"],
                            [[s, f"{rng.randint(0, 8)}", rng.choice(["", "40", "80"]), rng.choice(["", "3"]),
                              rng.choice(["", "30"]), rng.choice(["", "10%"])] for s in shops[1:]])


# ---- What must hold ---------------------------------------------------------------------------------------------------


def by_role(need):
    return {(r["size"], r["role"]): r for r in need["need"]}


def same(a, b, near=NEAR):
    return abs(a - b) <= near * max(abs(a), abs(b), 1e-300)


def same_need(a, b, near=NEAR):
    a, b = by_role(a), by_role(b)
    ranges = [(m, q) for m in ("length_m", "mass_g") for q in ("likely", "low", "high", "enough")]
    return a.keys() == b.keys() and all(same(a[k][m][q], b[k][m][q], near) for k in a for m, q in ranges) and all(
        same(a[k][s], b[k][s], near) for k in a for s in ("spread", "spread_mass", "stitches", "loops"))


def never_less(a, b):
    """Every mass of b is that of a at least."""
    a, b = by_role(a), by_role(b)
    return all(k in b and b[k]["mass_g"][q] >= a[k]["mass_g"][q] * (1 - NEAR) for k in a for q in ("likely", "enough"))


def changed(design, change):
    other = copy.deepcopy(design)
    change(other)
    return other


def check_need(t, rng, d):
    base = t.ask(d, "need")
    line = rng.choice(d.table("pieces.csv"))
    at = d.table("pieces.csv").index(line)

    def compare(what, holds, change, *words):
        other = changed(d, change)
        try:
            answer = t.ask(other, "need", *words)
        except Failed as failed:
            t.refused.setdefault(what, []).append((str(failed), other.folder))
            return
        t.must(holds(base, answer), what, d, other)

    def more_rows(o):
        o.table("pieces.csv")[at][6] = graded([1000] * len(o.sizes))

    def once_more(o):
        row = o.table("pieces.csv")[at]
        row[7] = str(int(row[7]) + 1)

    def twice_by_name(o):
        row = o.table("pieces.csv")[at]
        row[7] = "1"
        o.table("pieces.csv").append([row[0] + " again"] + row[1:])

    def twice(o):
        o.table("pieces.csv")[at][7] = "2"

    two = changed(d, twice)
    try:
        twos = t.ask(two, "need")
        other = changed(d, twice_by_name)
        t.must(same_need(twos, t.ask(other, "need")), "two alike are one worked twice", two, other)
    except Failed as failed:
        t.refused.setdefault("twice", []).append((str(failed), two.folder))
    compare("more rows take no less", never_less, more_rows)
    compare("once more takes no less", never_less, once_more)
    compare("a higher chance is more", lambda a, b: all(
        by_role(b)[k]["mass_g"]["enough"] > r["mass_g"]["enough"] for k, r in by_role(a).items()),
            lambda o: o.project.update(chance="99.9%"))
    compare("order of pieces", lambda a, b: same_need(a, b, FITTED), lambda o: rng.shuffle(o.table("pieces.csv")))
    compare("order of swatches", lambda a, b: same_need(a, b, FITTED), lambda o: o.table("swatches.csv").reverse())
    compare("order of yarns", lambda a, b: same_need(a, b, FITTED), lambda o: o.table("yarns.csv").reverse())
    compare("semicolons", same_need, lambda o: setattr(o, "separator", ";"))
    compare("one size alone", lambda a, b: all(
        same(r["mass_g"]["enough"], by_role(a)[k]["mass_g"]["enough"]) for k, r in by_role(b).items()), lambda o: None,
            "--size", d.sizes[-1])

    def inches(o):
        for row in o.table("pieces.csv"):
            if "cm" in row[5]:
                row[5] = graded([f"{n / 2.54:.12f} in" for n in numbers(row[5])])

    compare("inches are centimetres", same_need, inches)

    def imperial(o):
        for row in o.table("yarns.csv"):
            row[2] = f"{float(row[2][:-2]) / 28.349523125:.12f} oz"
            row[3] = f"{float(row[3][:-2]) / 0.9144:.12f} yd"

    compare("ounces and yards", lambda a, b: same_need(a, b, 1e-6), imperial)

    def split(o):
        row = o.table("pieces.csv")[at]
        if "," in row[3] or row[2] in ("waffle stitch", "granite stitch"):
            return  # what goes on begins with the set-up or with row 1 of the fabric
        rows = numbers(row[6])
        if min(rows) < 2:
            return
        first = [n // 2 for n in rows]
        row[1], row[6] = "lower", graded(first)
        rest = graded([n - f for n, f in zip(rows, first)])
        o.table("pieces.csv").insert(at + 1, [row[0], "upper", row[2], row[3], row[4], "", rest, row[7], ""])

    compare("a part worked in two goes", lambda a, b: all(
        same(by_role(b)[k]["mass_g"]["likely"], r["mass_g"]["likely"]) for k, r in by_role(a).items()), split)

    def stripes(o):
        row = o.table("pieces.csv")[at]
        if "," not in row[3]:
            row[3] = f"{row[3]} 3, {row[3]} 2"

    compare("stripes of one yarn", same_need, stripes)

    def held(o):
        row = o.table("pieces.csv")[at]
        if row[3].endswith(" x2"):
            row[3] = f"{row[3][:-3]} + {row[3][:-3]}"

    compare("held double by name", same_need, held)

    def candidates(o):
        for put_up in (50, 100):
            o.table("yarns.csv").append([d.roles[0], f"Other {put_up}", f"{put_up} g", f"{3 * put_up} m", "", "5"])

    other = changed(d, candidates)
    check_compare(t, other, d.sizes[-1])

    def heavier(o):
        for row in o.table("swatches.csv"):
            if row[7]:
                row[7] = f"{float(row[7][:-2]) * 1.1:.3f} g"

    compare("heavier swatches, more yarn", never_less, heavier)
    check_progress(t, d)
    if base["evidence"]:
        learn(t, d, base)


def check_compare(t, d, size):
    """The plan is what need says; one yarn in balls of two sizes takes the same; candidates may stand in any order."""
    words = ("compare", "--role", d.roles[0], "--size", size)
    need = by_role(t.ask(d, "need")).get((size, d.roles[0]))
    if not need:
        return
    try:
        other = changed(d, lambda o: o.table("yarns.csv").insert(len(d.roles), o.table("yarns.csv").pop()))
        answer, back = t.ask(d, *words), t.ask(other, *words)
    except Failed as failed:
        t.refused.setdefault("compare", []).append((str(failed), d.folder))
        return
    plan, rows = answer["plan"], {row["yarns"][0]["yarn"]: row for row in answer["compare"]}
    t.must(same(plan["mass_g"], need["mass_g"]["likely"]) and same(plan["length_m"]["enough"], need["length_m"]["enough"])
           and plan["balls"] == need["balls"], "the plan of compare is what need says", d)
    t.must(same(rows["Other 50"]["length_m"]["enough"], rows["Other 100"]["length_m"]["enough"]), "balls change no length", d)
    large, small = rows["Other 100"]["balls"], rows["Other 50"]["balls"]
    t.must(large <= small <= 2 * large + 1, "balls twice as large", d)
    t.must(rows == {row["yarns"][0]["yarn"]: row for row in back["compare"]}, "order of candidates", d, other)


ROWS = [("tch 1, *sc 1*", "tch 1, *dc 1*"), ("tch 3 as dc, *dc 1*", "tch 3 as tr, *tr 1*"), ("tch 2, *hdc*", "tch 2, *htr*"),
        ("*sc in 1, FPdc 1*", "*dc in 1, FPtr 1*"), ("sc 1, *2 dc in 1, sk 1*, sc 1", "dc 1, *2 tr in 1, miss 1*, dc 1"),
        ("*(sc 1, ch 1, sk 1) x 2*", "*(dc 1, ch 1, miss 1) x 2*")]


def check_terms(t, rng, d):
    """The same rows in US and in UK terms, and a fabric of two rows of one kind against one of one."""
    us, uk = rng.choice(ROWS)
    answers = []
    for terms, row in (("US", us), ("UK", uk)):
        o = copy.deepcopy(d)
        o.project["terms"] = terms
        o.files["fabrics.csv"] = (["fabric", "row", "make"], [["mine", "1", row]])
        for line in o.table("pieces.csv"):
            line[2], line[5] = "mine", graded([4 * n for n in range(5, 5 + len(o.sizes))])
        answers.append((t.ask(o, "need"), o))
    t.must(same_need(answers[0][0], answers[1][0]), f"UK terms: {us}", answers[0][1], answers[1][1])
    o = copy.deepcopy(answers[0][1])
    o.table("fabrics.csv").append(["mine", "2", us])
    t.must(same_need(answers[0][0], t.ask(o, "need")), f"two rows alike: {us}", answers[0][1], o)


def check_progress(t, d):
    """A piece in the making that weighs just what is expected of it changes nothing but how sure that is. Where balls weigh what
    their labels say, nearly, and on a scale of its own that is hardly off: then what is expected are the grams of the label."""
    d = copy.deepcopy(d)
    d.project.update({"unstated": "0.0000001", "unstated_spread": "0.0000001"})
    header, rows = d.files["swatches.csv"]
    d.files["swatches.csv"] = (header + ["scale_accuracy"], [row + [""] for row in rows])
    base = t.ask(d, "need")
    size, pieces = d.sizes[0], {row[0]: row for row in d.table("pieces.csv")}
    for part in base["parts"]:
        if part["size"] != size or part["mass_g"] < 1:
            continue
        times = pieces[part["piece"]][7]
        name = part["piece"] if times == "1" else f"{part['piece']} x{times}"
        o = copy.deepcopy(d)
        o.files["progress.csv"] = (["size", "piece", "yarn", "weight", "scale_step", "scale_accuracy"],
                                   [[size, name, part["role"], f"{part['mass_g']:.9f} g", "0.1 g", "0.000001 g"]])
        a, b = by_role(base), by_role(t.ask(o, "need"))
        t.must(all(same(a[k]["mass_g"]["likely"], b[k]["mass_g"]["likely"], 1e-6) for k in a), "a piece as expected", d, o)
        t.must(all(b[k]["spread_mass"] <= a[k]["spread_mass"] * (1 + NEAR) for k in a), "a piece weighed makes it surer", d, o)
    for piece, row in pieces.items():
        mass_g = sum(part["mass_g"] for part in base["parts"] if (part["size"], part["piece"]) == (size, piece))
        if "cm" in row[5] or row[7] != "1" or mass_g < 1:
            continue
        o = copy.deepcopy(d)
        o.table("swatches.csv").append(["as the piece", row[3], row[4], row[2], numbers(row[5])[0], numbers(row[6])[0], "",
                                        f"{mass_g:.9f} g", "0.1 g", "0.000001 g"])
        a, b = by_role(base), by_role(t.ask(o, "need"))
        t.must(all(same(a[k]["mass_g"]["likely"], b[k]["mass_g"]["likely"], 1e-6) for k in a), "a swatch as expected", d, o)


def learn(t, d, base):
    """Swatches of another folder are the same evidence."""
    other = copy.deepcopy(d)
    header, rows = d.files["swatches.csv"]
    other.files["swatches.csv"] = (header, [row[:7] + ["", ""] for row in rows])
    source = os.path.join(t.room, f"learn{t.count}")
    swatches = copy.deepcopy(d)
    swatches.write(source)
    other.project["learn_from"] = f"../learn{t.count}"
    try:
        t.must(same_need(base, t.ask(other, "need"), FITTED), "swatches of another folder", d, other)
    except Failed as failed:
        t.refused.setdefault("learn", []).append((str(failed), other.folder))


def total(size):
    return round(100 * float(size["total"]))


def check_shop(t, rng, d):
    add_offers(rng, d)
    try:
        base = t.ask(d, "shop")
    except Failed as failed:
        t.refused.setdefault("shop", []).append((str(failed), d.folder))
        return

    def compare(what, holds, change, *words):
        other = changed(d, change)
        try:
            answer = t.ask(other, "shop", *words)
        except Failed as failed:
            t.refused.setdefault("shop " + what, []).append((str(failed), other.folder))
            return
        for a, b in zip(base["shop"], answer["shop"]):
            if a["proven"] and b["proven"]:
                t.must(holds(a, b), what, d, other)

    offers = d.table("offers.csv")
    role, at = rng.choice(d.roles), rng.randrange(len(offers))
    for size in base["shop"]:
        goods = sum(round(100 * float(line["cost"])) for line in size["lines"])
        t.must(goods == round(100 * float(size["goods"])), "goods are the sum of the lines", d)
        bill = float(size["goods"]) + float(size["postage"]) - float(size["discount"])
        t.must(total(size) == round(100 * bill), "the total of goods, postage and discount", d)
        for r in size["roles"]:
            t.must(r["bought_g"] - r["joins_g"] >= r["need_g"] * (1 - NEAR), "what is bought is enough", d)
            t.must(r["chance"] >= base["chance"] - 1e-9, "chance of each", d)
        t.must(size["chance_all"] <= min(r["chance"] for r in size["roles"]) + 1e-12, "all is no surer than one", d)
    def no_dearer(a, b):
        return total(b) <= total(a)

    compare("order of offers", lambda a, b: total(a) == total(b), lambda o: o.table("offers.csv").reverse())
    compare("order of shops", lambda a, b: total(a) == total(b), lambda o: o.table("shops.csv").reverse())
    compare("one offer more", no_dearer, lambda o: o.table("offers.csv").append(
        [role, rng.choice("ABC"), f"{rng.randint(20, 300)} g", f"{rng.randint(100, 3000) / 100:.2f}",
         rng.choice(["", "x"]), "", ""]))
    compare("one offer cheaper", no_dearer,
            lambda o: o.table("offers.csv")[at].__setitem__(3, "0" if offers[at][1] == "own" else "2.99"))
    compare("no limit to stock", no_dearer,
            lambda o: [row.__setitem__(6, "") for row in o.table("offers.csv") if row[1] != "own"])
    compare("no packs", no_dearer, lambda o: [row.__setitem__(5, "") for row in o.table("offers.csv")])
    compare("lots may mix", no_dearer, lambda o: o.project.update(lots="may mix"))
    compare("no postage", no_dearer, lambda o: [row.__setitem__(1, "0") for row in o.table("shops.csv")])
    compare("a higher chance", lambda a, b: total(b) >= total(a), lambda o: o.project.update(chance="99.9%"))

    def tenfold(o):
        for row in o.table("offers.csv"):
            row[3] = f"{float(row[3]) * 10:.2f}"
        for row in o.table("shops.csv"):
            for i in (1, 2, 3, 4):
                row[i] = row[i] and str(int(row[i]) * 10)

    compare("ten times the prices", lambda a, b: abs(total(b) - 10 * total(a)) <= 5 * 3, tenfold)
    plain = changed(d, lambda o: [row.__setitem__(3, "") for row in o.table("shops.csv")])
    try:
        one, two = t.ask(plain, "shop"), t.ask(plain, "shop", "--times", "2")
        for a, b in zip(one["shop"], two["shop"]):
            if a["proven"] and b["proven"] and not any(row[6] for row in plain.table("offers.csv")):
                t.must(total(b) <= 2 * total(a) + 3, "two together are no dearer than apart", plain)
        if not any(row[6] for row in plain.table("offers.csv")):
            together = total(t.ask(plain, "shop", "--together")["shop"][0])
            t.must(together <= sum(total(s) for s in one["shop"]) + 3, "sizes together are no dearer", plain)
    except Failed as failed:
        t.refused.setdefault("times", []).append((str(failed), plain.folder))


def check_quote(t, rng, d):
    d.files["costs.csv"] = (["item", "kind", "amount", "quantity", "per"], [
        ["work", "labour", f"{rng.randint(8, 30)}.00", "", ""],
        ["buttons", "material", "0.85", str(rng.randint(1, 9)), ""],
        ["packing", "labour", "12.00", "15 min", "kit"],
        ["light", "overhead", f"{rng.randint(0, 20)}%", "", rng.choice(["", "labour", "materials"])],
        ["profit", "markup", f"{rng.randint(0, 20)}%", "", ""],
        ["market", "fee", f"{rng.randint(0, 90) / 10}%", "", ""],
        ["card", "fee", "EUR 0.25", "", ""], ["VAT", "tax", f"{rng.randint(0, 25)}%", "", rng.choice(["included", "added"])],
        ["levy", "tax", f"{rng.randint(0, 90) / 10}%", "", rng.choice(["included", "added"])],
        ["box", "kit", "1.10", "", ""], ["art", "fixed", "45", "", "batch"], ["parcel", "postage", "5.20", "", ""]])
    try:
        base = t.ask(d, "quote")
    except Failed as failed:
        t.refused.setdefault("quote", []).append((str(failed), d.folder))
        return
    def minor(text):
        return round(100 * float(text))

    for size in base["quote"]:
        bill = {k: minor(v) for k, v in size["bill"].items() if isinstance(v, str)}
        parts = ("labour", "markup", "rounding")
        t.must(bill["paid"] == bill["costs"] + bill["fees"] + bill["tax"] + sum(minor(size[k]) for k in parts), "a column adds up", d)
        t.must(bill["fees"] == sum(minor(fee["amount"]) for fee in size["bill"]["each_fee"]), "fees add up", d)
        t.must(bill["tax"] == sum(minor(tax["amount"]) for tax in size["bill"]["each_tax"]), "taxes add up", d)
        worked = float(size["hour"]) * size["hours"]["likely"] - bill["kept"] / 100
        t.must(abs(worked) <= 0.0051 * size["hours"]["likely"], "an hour times the hours is what is kept", d)
        t.must(bill["paid"] - bill["tax"] - bill["fees"] - bill["costs"] == bill["kept"], "a bill adds up", d)
        t.must(bill["costs"] == sum(minor(size[k]) for k in ("yarn", "materials", "overhead", "postage")), "costs add up", d)
        t.must(bill["kept"] >= minor(size["labour"]) + minor(size["markup"]), "what is hers is kept", d)
        t.must(minor(size["price_low"]) <= bill["paid"] <= minor(size["price_high"]), "the price is in its range", d)
        sure = t.ask(d, "quote", "--size", size["size"], "--sure", "80%")["quote"][0]
        t.must(sure["chance_below"] <= 0.2001, "a price that is asked to be sure is", d)
        t.must(minor(sure["bill"]["paid"]) == max(minor(size["safe_price"]), bill["paid"]), "the safe price is the sure one", d)
        again = t.ask(d, "quote", "--size", size["size"], "--price", size["bill"]["quoted"])["quote"][0]
        t.must(again["bill"] == size["bill"], "the price asked back", d)
        lower = f"{(bill['quoted'] - 1) / 100:.2f}"
        less = t.ask(d, "quote", "--size", size["size"], "--price", lower)["quote"][0]
        t.must(minor(less["bill"]["kept"]) < minor(size["labour"]) + minor(size["markup"]), "a cent less is too little", d)
    try:
        kits = t.ask(d, "quote", "--kit", "--batch", "7", "--size", d.sizes[0])["quote"][0]
    except Failed as failed:
        t.refused.setdefault("kit", []).append((str(failed), d.folder))
        return
    batches = {b["kits"]: b for b in kits["batches"]}
    own = any(row[1] == "own" for row in d.files.get("offers.csv", ((), ()))[1])
    for b in kits["batches"] if not own else []:  # what is bought beside it may be dearer than what it is worth
        t.must(minor(b["unit"]) <= minor(batches[1]["unit"]), "a kit of many is no dearer than one", d)


def main():
    binary, tables = sys.argv[1:3]
    designs = int(sys.argv[3]) if len(sys.argv) > 3 else 20
    seed = int(sys.argv[4]) if len(sys.argv) > 4 else 1
    t = Tester(os.path.abspath(binary), os.path.abspath(tables))
    for i in range(designs):
        rng = random.Random(1000 * seed + i)
        d = random_design(rng)
        try:
            check_need(t, rng, d)
        except Failed as failed:
            t.refused.setdefault("need", []).append((str(failed), d.folder))
            continue
        try:
            check_terms(t, rng, d)
        except Failed as failed:
            t.refused.setdefault("terms", []).append((str(failed), d.folder))
        check_shop(t, rng, copy.deepcopy(d))
        check_quote(t, rng, copy.deepcopy(d))
    print(f"{t.asked} statements on {designs} designs, {t.count} runs, {t.failures} do not hold")
    for what, refused in t.refused.items():
        print(f"refused: {what} {len(refused)} times, such as {refused[0][1]}: {refused[0][0].splitlines()[0]}")
    if t.failures == 0:
        shutil.rmtree(t.room)
    return 1 if t.failures else 0


if __name__ == "__main__":
    sys.exit(main())
