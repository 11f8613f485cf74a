#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""A raglan in pieces.csv whose lines stand on one another, counted without the library.

    divided.py show                      size,stitch,count as CSV
    divided.py check BINARY TABLES FOLDER

`check` compares the stitches of every kind with `totals` of `check --json`, the first rows with `counts`, and the loops with those
of `need --json`; then it makes the pockets four rows deeper and the sleeves end on four stitches fewer, and compares again. Everything
is worked out row by row from the numbers of the design, written down here once more. What differs is printed, and the script ends with 1
then.
"""
import collections
import csv
import json
import os
import shutil
import subprocess
import sys
import tempfile

SIZES = ["S", "M", "L"]
NECK = (72, 76, 80)
YOKE_ROUNDS = (25, 27, 29)
BODY_ROUNDS = (36, 38, 40)
SLEEVE = (36, 40, 44)
WRIST = (32, 34, 36)
POCKET_ROWS = (14, 15, 17)

# Draws of the yarn through the work and round the hook: a slip stitch, a chain, sc, hdc and dc, as any handbook shows their steps; two
# together draw up one loop more, and lay the yarn round the hook as often as both. A wrap is two thirds of a loop (tables/spreads.csv).
LOOPS = {"ch": 1, "sl st": 1, "sc": 2, "hdc": 2 + 2 / 3, "dc": 2 + 4 / 3, "hdc2tog": 3 + 4 / 3}


def halves_up(numerator, denominator):
    return (2 * numerator + denominator) // (2 * denominator)


class Work:
    """Stitches of one size, and what each line's first row stands on."""

    def __init__(self):
        self.stitches = collections.Counter()
        self.first = {}

    def line(self, name, times, on, rows, kind, chains, join=1, shape=lambda row: 0):
        """Rows of one kind: `chains` turning chains each; shape(row) stitches more or fewer in a row."""
        width = on
        self.first[name] = on
        for row in range(1, rows + 1):
            more = shape(row)
            width += more
            self.stitches[kind] += times * (width - max(0, -more))
            if more < 0:
                self.stitches[kind + "2tog"] += times * -more
            self.stitches["ch"] += times * chains
            self.stitches["sl st"] += times * join
        return width


def count(size, deeper=0, narrower=0):
    work = Work()
    work.stitches["ch"] += NECK[size]
    yoke = work.line("yoke", 1, NECK[size], YOKE_ROUNDS[size], "hdc", 2, shape=lambda row: 8 if row % 2 == 0 else 0)
    work.line("neckband", 1, NECK[size], 5, "sc", 1)
    work.stitches["ch"] += 2 * 8
    work.line("body", 1, yoke - 2 * SLEEVE[size] + 2 * 8, BODY_ROUNDS[size], "hdc", 2)
    top = SLEEVE[size] + 8
    work.stitches["ch"] += 2 * 8
    decreases = (top - (WRIST[size] - narrower)) // 2
    wrist = work.line("sleeves arm", 2, top, 5 * decreases, "hdc", 2, shape=lambda row: -2 if row % 5 == 0 else 0)
    work.line("sleeves cuff", 2, wrist, 4, "sc", 1)
    rows = POCKET_ROWS[size] + deeper
    work.stitches["ch"] += 2 * 20
    work.line("pocket", 2, 20, rows, "hdc", 2, join=0)
    edge = 2 * halves_up(3 * rows, 2) + 20
    # shells of 5 dc over 6 stitches and one sc more: the nearest number, the larger of two
    shells = min(range(1, 100), key=lambda n: (abs(6 * n + 1 - edge), -n))
    work.first["pocket edging"] = 6 * shells + 1
    for kind, number in {"ch": 1, "sc": shells + 1, "dc": 5 * shells}.items():
        work.stitches[kind] += 2 * number
    return work


def answer(arguments):
    return json.loads(subprocess.run(arguments, check=True, capture_output=True, text=True).stdout)


def compare(binary, tables, folder, what, **changed):
    checked = answer([binary, "--tables", tables, "check", "--json", folder])
    need = answer([binary, "--tables", tables, "need", "--json", folder])
    found = []
    for index, size in enumerate(SIZES):
        work = count(index, **changed)
        theirs = {t["stitch"]: t["count"] for t in checked["totals"] if t["size"] == size}
        for kind in sorted(set(work.stitches) | set(theirs)):
            if work.stitches[kind] != theirs.get(kind, 0):
                found.append(f"{what}, {size}, {kind}: {work.stitches[kind]} here, {theirs.get(kind, 0)} there")
        for line in checked["counts"]:
            name = " ".join(filter(None, (line["piece"], line["part"])))
            if line["size"] == size and work.first[name] != line["rows"][0]["stitches"]:
                found.append(f"{what}, {size}, {name}: {work.first[name]} here, {line['rows'][0]['stitches']} there")
        loops = sum(number * LOOPS[kind] for kind, number in work.stitches.items())
        there = next(n["loops"] for n in need["need"] if n["size"] == size)
        if abs(loops - there) > 1e-9 * loops:
            found.append(f"{what}, {size}: {loops} loops here, {there} there")
    return found


def check(binary, tables, folder):
    found = compare(binary, tables, folder, "as it is")
    with tempfile.TemporaryDirectory() as changed:
        shutil.copytree(folder, changed, dirs_exist_ok=True)
        path = os.path.join(changed, "pieces.csv")
        with open(path, encoding="utf-8") as file:
            text = file.read()
        for old, new in (('"14 (15, 17)"', '"18 (19, 21)"'), ('"32 (34, 36)"', '"28 (30, 32)"')):
            assert text.count(old) == 1
            text = text.replace(old, new)
        with open(path, "w", encoding="utf-8") as file:
            file.write(text)
        found += compare(binary, tables, changed, "changed", deeper=4, narrower=4)
    print("\n".join(found))
    return 1 if found else 0


def main():
    if sys.argv[1:] == ["show"]:
        out = csv.writer(sys.stdout, lineterminator="\n")
        out.writerow(["size", "stitch", "count"])
        for index, size in enumerate(SIZES):
            out.writerows([size, kind, number] for kind, number in sorted(count(index).stitches.items()))
        return 0
    if len(sys.argv) == 5 and sys.argv[1] == "check":
        return check(*sys.argv[2:])
    print(__doc__, file=sys.stderr)
    return 2


if __name__ == "__main__":
    sys.exit(main())
