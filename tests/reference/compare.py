#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Another yarn in a role's place, reckoned without the library: compare.py generate | solve | check

The folder compare/ holds a small design (invented data) of which all counts are products, one weighed swatch and a catalogue of
400 random yarns. `solve` writes what each of them comes to in compare/results.csv, in the order of cost among those that
fit; `check` solves again and compares. The whole model is fitted here anew, by Gauss-Newton, and then predicted once for each
yarn from all its parameters, those of the yarn among them: nothing is scaled from the plan.
"""
import csv
import math
import os
import sys

import numpy as np

HERE = os.path.join(os.path.dirname(os.path.abspath(__file__)), "compare")
RESULTS = os.path.join(HERE, "results.csv")
Z95 = 1.6448536269514722  # standard normal quantile of 95%
TAIL = 0.15
COUNTED = 400
# DEVELOPERS.md, The model
WRAP, WRAP_SD, TENSION, STITCH, TOOL, YARN, GRIST, MAKING, PIECE, DIAMETER = (
    2 / 3, 0.2, 0.15, 0.12, 0.05, 0.06, 0.02, 0.04, 0.02, 0.108)
GARMENT, WEIGHS, WEIGHS_SD = 0.03, -0.015, 0.02  # the fibre is not stated

FILES = {
    "project.csv": 'field,value\ntitle,Reference\nsizes,one\nterms,US\ncurrency,EUR\n',
    "fabrics.csv": 'fabric,row,make\nplain,1,*sc*\nhalf,1,*hdc*\n',
    "swatches.csv": 'swatch,yarn,tool,fabric,stitches,rows,start,weight,scale_step\nplain,Alva,5 mm,plain,20,24,edge,7.6 g,0.1 g\n',
    "pieces.csv": 'piece,fabric,yarn,tool,stitches,rows,times,start\n'
                  'body,plain,main,5 mm,100,120,2,edge\n'
                  'sleeves,half,main,4 mm,60,80,2,edge\n'
                  'band,plain,main + lace,5 mm,200,10,1,edge\n',
}
HEADER = ["role", "yarn", "put_up", "length", "category", "price", "wpi"]
PLANS = [["main", "Alva", "50 g", "120 m", "", "6.40", ""], ["lace", "Brim", "25 g", "200 m", "", "7", ""]]
# line: copies, stitch, tool, stitches a row, rows, with lace
LINES = [(2, "sc", 5.0, 100, 120, False), (2, "hdc", 4.0, 60, 80, False), (1, "sc", 5.0, 200, 10, True)]
CATEGORY_WRAPS = [(30, math.inf), (14, 30), (12, 18), (11, 15), (9, 12), (6, 9), (5, 6), (1, 4)]
HOOKS = [2.25, 2.75, 3.125, 3.25, 3.5, 3.75, 4, 4.25, 4.5, 5, 5.25, 5.5, 5.75, 6, 6.5, 8, 9, 10, 11.5, 15, 15.75, 16, 19, 25, 30,
         0.75, 0.85, 1, 1.1, 1.3, 1.4, 1.5, 1.65, 1.8, 1.9, 2, 2.1, 2.5]


def generate():
    random = np.random.default_rng(5)
    os.makedirs(HERE, exist_ok=True)
    for name, text in FILES.items():
        with open(os.path.join(HERE, name), "w", encoding="utf-8") as out:
            out.write(text)
    with open(os.path.join(HERE, "yarns.csv"), "w", encoding="utf-8", newline="") as out:
        csv.writer(out, lineterminator="\n").writerows([HEADER] + PLANS)
    with open(os.path.join(HERE, "catalogue.csv"), "w", encoding="utf-8", newline="") as out:
        write = csv.writer(out, lineterminator="\n")
        write.writerow(HEADER[1:])
        for i in range(COUNTED):
            put_up = [25, 50, 100, 200][random.integers(4)]
            tex = math.exp(random.uniform(math.log(60), math.log(2500)))
            length = round(1000 * put_up / tex, 1)
            price = "" if random.random() < 0.1 else f"{random.integers(150, 3000) / 100:.2f}"
            wraps = f"{random.integers(3, 40)}" if random.random() < 0.3 else ""
            if i % 97 == 0:  # the planned yarn itself, in another colour's price
                write.writerow(["Alva", "50 g", "120 m", "", price, ""])
            else:
                write.writerow([f"yarn {i}", f"{put_up} g", f"{length} m", "", price, wraps])


class Yarn:
    def __init__(self, name, put_up, length, price, wraps):
        self.name, self.put_up, self.length = name, float(put_up.split()[0]), float(length.split()[0])
        self.price = round(100 * float(price)) if price else None
        self.d = 25.4 / float(wraps) if wraps else DIAMETER * math.sqrt(1000 * self.put_up / self.length)


def read(name):
    with open(os.path.join(HERE, name), encoding="utf-8") as file:
        return [Yarn(row["yarn"], row["put_up"], row["length"], row["price"], row["wpi"]) for row in csv.DictReader(file)]


# Parameters: ln omega, tension, r_sc, r_hdc, q_5, q_4, v of main alone, v with lace, ln g main, ln g lace; the yarn's own v twice, g;
# what a garment's length is over a swatch's, what main weighs over its label
OMEGA, A, SC, HDC, Q5, Q4, V, VL, G, GL, V2, VL2, G2, D, H = range(15)
SD = np.array([WRAP_SD, TENSION, STITCH, STITCH, TOOL, TOOL, YARN, YARN, GRIST, GRIST, YARN, YARN, GRIST, GARMENT, WEIGHS_SD])


def stitch_m(x, stitch, tool, d, v):
    loops = 2 if stitch == "sc" else 2 + math.exp(x[OMEGA])
    r = x[SC] if stitch == "sc" else x[HDC]
    q = x[Q5] if tool == 5 else x[Q4]
    return loops * math.pi * (tool + d) / 1000 * math.exp(x[A] + r + q + v)


def numeric_gradient(f, x):
    gradient = np.zeros(len(x))
    for i in range(len(x)):
        step = np.zeros(len(x))
        step[i] = 1e-5
        gradient[i] = (f(x + step) - f(x - step)) / 2e-5
    return gradient


def fit(plan, lace, candidate):
    prior = np.zeros(15)
    prior[H] = WEIGHS
    prior[OMEGA] = math.log(WRAP)
    for i, yarn in ((G, plan), (GL, lace), (G2, candidate)):
        prior[i] = math.log(yarn.put_up / yarn.length)
    reading, step = 7.6, 0.1
    s = math.sqrt((step ** 2 / 12 + step ** 2 / 3) / reading ** 2 + MAKING ** 2 + PIECE ** 2)  # its step, and as much accuracy

    def residual(x):
        mass = math.exp(x[G] + x[H]) * (20 * 24 * stitch_m(x, "sc", 5.0, plan.d, x[V]) + 2 * TAIL)
        return (math.log(mass) - math.log(reading)) / s

    x = prior.copy()
    for _ in range(50):
        j = np.vstack([numeric_gradient(residual, x), np.diag(1 / SD)])
        r = np.concatenate([[residual(x)], (x - prior) / SD])
        change = np.linalg.solve(j.T @ j, -j.T @ r)
        x = x + change
        if np.abs(change).max() < 1e-13:
            break
    return x, np.linalg.inv(j.T @ j)


def predict(plan, lace, yarn):
    x, c = fit(plan, lace, yarn)
    known = yarn.name == plan.name
    v, vl, g = (V, VL, G) if known else (V2, VL2, G2)

    def worked(x, line):
        copies, stitch, tool, width, rows, held = line
        d = math.hypot(yarn.d, lace.d) if held else yarn.d
        return copies * width * rows * math.exp(x[D]) * stitch_m(x, stitch, tool, d, x[vl] if held else x[v])

    plain = sum(2 * TAIL * line[0] for line in LINES)
    parts = [worked(x, line) for line in LINES]
    length = sum(parts) + plain
    own = (sum(parts) / length * MAKING) ** 2 + sum((p / length * PIECE) ** 2 / line[0] for p, line in zip(parts, LINES))
    h = numeric_gradient(lambda x: math.log(sum(worked(x, line) for line in LINES) + plain), x)
    spread = math.sqrt(h @ c @ h + own)
    h[g] += 1
    spread_mass = math.sqrt(h @ c @ h + own)
    grist = math.exp(x[g])
    enough = grist * length * math.exp(Z95 * spread_mass)
    rows = [part / line[0] / line[4] for part, line in zip(parts, LINES)]
    join = grist * (2 * TAIL + max(rows) / 2)
    balls = max(1, math.ceil((enough - join) / (yarn.put_up - join))) if yarn.put_up > join else 0
    left = max(0, balls * yarn.put_up - (balls - 1) * join - grist * length) / grist if balls else 0
    piece = grist * length + math.exp(x[GL]) * (parts[2] + 2 * TAIL)
    return {"length": length, "spread": spread, "enough_m": length * math.exp(Z95 * spread), "mass": grist * length,
            "enough_g": enough, "balls": balls, "left": left, "piece": piece,
            "cost": -1 if yarn.price is None or not balls else yarn.price * balls, "verdict": verdict(plan, yarn, balls)}


def categories(d):
    whole = max(math.floor(25.4 / d + 0.5), 1)
    return {i for i, (low, high) in enumerate(CATEGORY_WRAPS) if low <= whole <= high}


def verdict(plan, yarn, balls):
    def off(tool):
        return abs(math.log((tool + yarn.d) / (5 + plan.d)))
    kept = math.log(1.03)
    if not balls or not categories(plan.d) & categories(yarn.d) or abs(math.log(yarn.d / plan.d)) > math.log(1.25):
        return "differs"
    if off(5) <= kept:
        return "fits"
    return "fits with another hook" if min(off(tool) for tool in HOOKS) <= kept else "differs"


def solve():
    plan, lace = read("yarns.csv")
    found = [(i, yarn, predict(plan, lace, yarn)) for i, yarn in enumerate(read("catalogue.csv"))]
    found.sort(key=lambda f: (f[2]["verdict"] == "differs", f[2]["cost"] < 0, f[2]["cost"], f[0]))
    rows = [["listed", "verdict", "length_m", "enough_m", "spread", "mass_g", "enough_g", "balls", "cost", "left_over_m",
             "piece_g"]]
    for i, _, p in found:
        rows.append([i, p["verdict"]] + [f"{p[k]:.10g}" for k in ("length", "enough_m", "spread", "mass", "enough_g")]
                    + [p["balls"], p["cost"], f"{p['left']:.10g}", f"{p['piece']:.10g}"])
    return rows


def check():
    with open(RESULTS, encoding="utf-8") as file:
        stored = list(csv.reader(file))
    solved = [[str(cell) for cell in row] for row in solve()]
    assert len(stored) == len(solved) == COUNTED + 1
    for a, b in zip(stored, solved):
        for x, y in zip(a, b):
            try:
                assert abs(float(x) - float(y)) <= 1e-7 * max(1, abs(float(y))), (a, b)
            except ValueError:
                assert x == y, (a, b)


def write():
    with open(RESULTS, "w", encoding="utf-8", newline="") as out:
        csv.writer(out, lineterminator="\n").writerows(solve())


if __name__ == "__main__":
    modes = {"generate": generate, "solve": write, "check": check}
    if len(sys.argv) != 2 or sys.argv[1] not in modes:
        raise SystemExit(__doc__)
    modes[sys.argv[1]]()
