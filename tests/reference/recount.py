#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The stitches of whole written patterns, counted without the library.

    recount.py show [PATTERN...]               size,stitch,count of each pattern as CSV; with --yarns size,yarn,stitch,count
    recount.py check BINARY TABLES [FOLDER [PATTERN...]]
                                               the same compared with `totals` of `check --json`; FOLDER holds a folder a pattern

Each pattern is written down here once more by hand: a line for each row, with the stitches that it takes in every size. Nothing is read
from pattern.txt. Chains and slip stitches are in it, joining ones too; an increase is the stitches that it makes; a counting chain is
its chains. Names of stitches are in the pattern's terms. What differs is printed, and the script ends with 1 then.
"""
import collections
import csv
import json
import os
import subprocess
import sys

HERE = os.path.dirname(os.path.abspath(__file__))
Pattern = collections.namedtuple("Pattern", "sizes given rows")

# given: what differs by size. rows: (label, copies, yarn, stitches); all but the label and the yarn are Python expressions of
# what is given, stitches as "name: expression; ...".
PATTERNS = {
    "granny-motif": Pattern(
        ["S", "M", "L"],
        {"motifs": (12, 20, 30), "rounds": (5, 6, 7), "seams": (17, 31, 49), "side": (25, 29, 33), "edge": (350, 522, 726)},
        [
            ("motif, ring", "motifs", "A", "ch: 4; sl st: 1"),
            ("motif, rnd 1", "motifs", "A", "ch: 3 + 4 * 2; dc: 2 + 3 * 3; sl st: 1"),
            # of each round from the second: 4 corners of 6 dc, of which the ch 3 stands for one, and r - 2 groups of 3 on each side
            ("motif, rnds 2 to rounds", "motifs", "A",
             "ch: sum(3 + 4 * 2 + 4 * (r - 1) for r in range(2, rounds + 1));"
             "dc: sum(4 * 6 - 1 + 4 * 3 * (r - 2) for r in range(2, rounds + 1));"
             "sl st: (3 + 1) * (rounds - 1)"),
            # into each dc and ch-1 sp of the last round, and 4 in each corner
            ("motif, last rnd", "motifs", "B", "ch: 1 + 4 * 2; sc: 12 * rounds + 4 * (rounds - 1) + 4 * 4; sl st: 1"),
            ("seam", "seams", "B", "sl st: side"),
            ("border, rnd 1", "1", "B", "ch: 1; sc: edge; sl st: 1"),
            ("border, rnd 2", "1", "B", "ch: 1 + 2 * (edge // 2); sc: edge // 2; sl st: 1"),
            ("border, rnd 3", "1", "B", "ch: 1; sc: 3 * (edge // 2); sl st: 1"),
        ]),
    "spiral-toy": Pattern(
        ["small", "medium", "large"],
        # wedge: increases a round; wide: the widest plain rounds; n: the part of the oval that has no increase
        {"wedge": (6, 7, 8), "wide": (30, 42, 48), "plain": (8, 10, 12), "larger": (0, 1, 1), "n": (2, 3, 4), "m": (6, 7, 8),
         "sides": (4, 5, 6), "fluke": (3, 4, 5), "scarf": (60, 70, 80)},
        [
            ("body, rnd 1", "1", "main", "dc: wedge"),
            ("body, rnds 2 to 5", "1", "main", "dc: (2 + 3 + 4 + 5) * wedge"),
            ("body, medium and large only", "larger", "main", "dc: 6 * wedge"),
            ("body, plain rounds", "plain", "main", "dc: wide"),
            ("body, belly", "1", "main", "dc: wide + wide // 3"),
            ("body, belly", "1", "main", "dc: wide + wide // 3"),
            ("body, belly", "1", "main", "dc: 2 * wide // 3; dc2tog: wide // 3"),
            ("body, medium and large only", "larger", "main", "dc: 4 * wedge; dc2tog: wedge"),
            ("body, close", "1", "main", "dc: (3 + 2 + 1) * wedge; dc2tog: 4 * wedge"),
            ("flippers, chain", "2", "main", "ch: n + 3"),
            ("flippers, rnd 1", "2", "main", "dc: 1 + n + 3 + n + 2"),
            ("flippers, rnd 2", "2", "main", "dc: 2 + n + 6 + n + 4"),
            ("flippers, plain rounds", "2 * sides", "main", "dc: 12 + 2 * n"),
            ("flippers, last rnd", "2", "main", "dc: 2 * m; dc2tog: 2"),
            ("flukes, chain", "2", "main", "ch: fluke + 1"),
            ("flukes, row 1", "2", "main", "dc: fluke"),
            ("flukes, rows 2 to 7", "2", "main", "ch: 6; dc: 2 * ((fluke + 2) + (fluke + 4) + (fluke + 6))"),
            ("flukes, row 8", "2", "main", "ch: 1; ss: 4; htr: 4; tr: 2; dc: (fluke + 6) - 6"),
            ("scarf, chain", "1", "scarf", "ch: scarf + 2"),
            ("scarf, row 1", "1", "scarf", "htr: scarf"),
            ("scarf, row 2", "1", "scarf", "ch: 2; htr: scarf"),
            ("scarf, row 3", "1", "scarf", "ch: 1 + 2 * (scarf // 2); ss: scarf // 2"),
        ]),
    "knitted-hat": Pattern(
        list("123456789"),
        {"n": (56, 64, 72, 80, 88, 96, 104, 112, 120), "rib": (8, 8, 9, 10, 10, 11, 12, 12, 13),
         "stripes": (3, 3, 4, 4, 5, 5, 5, 6, 6), "above": (6, 7, 8, 8, 9, 10, 10, 11, 12)},
        [
            ("cast on", "1", "MC", "CO: n"),
            ("rib", "rib", "MC", "k: n // 2; p: n // 2"),
            ("increase", "1", "MC", "k: n; M1: 4"),
            ("plain", "1", "MC", "k: n + 4"),
            ("stripe in CC", "2 * stripes", "CC", "k: n + 4"),
            ("stripe in MC", "2 * stripes", "MC", "k: n + 4"),
            ("decrease", "1", "MC", "k: n - 4; k2tog: 4"),
            ("above", "above", "MC", "k: n"),
            # eight wedges
            ("crown, rnds 1, 3, 5", "1", "MC", "k: (n - 16) + (n - 24) + (n - 32); k2tog: 3 * 8"),
            ("crown, rnds 2, 4", "1", "MC", "k: (n - 8) + (n - 16)"),
            ("crown, rnd 6", "1", "MC", "k: n - 40; ssk: 8"),
            ("crown, rnd 7", "1", "MC", "k2tog: (n - 32) // 2"),
            ("crown, rnd 8", "1", "MC", "k2tog: (n - 32) // 4"),
        ]),
    "raglan-pullover": Pattern(
        ["XS", "S", "M", "L", "XL"],
        # neck: cast on; incs: rounds that increase; body, sleeve: after dividing, with the underarm; decs: rounds of the sleeve that decrease
        {"neck": (88, 96, 100, 108, 112), "incs": (18, 20, 23, 25, 28), "under": (6, 6, 8, 8, 10), "half": (70, 76, 84, 90, 98),
         "body": (152, 164, 184, 196, 216), "long": (40, 42, 44, 46, 48), "sleeve": (52, 58, 66, 72, 80),
         "decs": (6, 7, 9, 10, 12), "gap": (7, 6, 5, 5, 4)},
        [
            ("yoke, cast on", "1", "MC", "CO: neck"),
            ("yoke, rib", "6", "MC", "k: neck // 2; p: neck // 2"),
            ("yoke, rnd 7", "1", "MC", "k: neck"),
            ("yoke, increases", "1", "MC", "k: sum(neck + 8 * j for j in range(incs)); M1L: 4 * incs; M1R: 4 * incs"),
            ("yoke, rounds between", "1", "MC", "k: sum(neck + 8 * j for j in range(1, incs + 1))"),
            ("divide", "1", "MC", "CO: 2 * under; k: 2 * half"),
            ("body, plain", "12", "MC", "k: body"),
            ("body, stranded, 3 to 1", "2", "MC", "k: 3 * (body // 4)"),
            ("body, stranded, 3 to 1", "2", "CC", "k: body // 4"),
            ("body, stranded, 1 to 1", "1", "MC", "k: body // 2"),
            ("body, stranded, 1 to 1", "1", "CC", "k: body // 2"),
            # a strand passes what the other yarn works until its own next stitch in the round: not from the last one to the next round
            ("body, floats of rnd 1", "1", "MC", "float: (body // 4 - 1) * (1 + 3)"),
            ("body, floats of rnd 2", "1", "MC", "float: (body // 2 - 1) * (1 + 1)"),
            ("body, floats of rnd 3", "1", "MC", "float: body // 4 + (body // 4 - 1) * 3"),
            ("body, plain", "long", "MC", "k: body"),
            ("body, rib", "10", "MC", "k: body // 2; p: body // 2"),
            ("body, bind off", "1", "MC", "BO: body"),
            # picked up stitches are loops drawn up, as k
            ("sleeves, rnds 1 to 10", "2 * 10", "MC", "k: sleeve"),
            ("sleeves, decreases", "2", "MC", "k: sum(sleeve - 2 * j - 4 for j in range(decs)); k2tog: decs; ssk: decs"),
            ("sleeves, rounds between", "2 * gap", "MC", "k: sum(sleeve - 2 * j for j in range(1, decs + 1))"),
            ("sleeves, stranded", "2", "MC", "k: 3 * ((sleeve - 2 * decs) // 4)"),
            ("sleeves, stranded", "2", "CC", "k: (sleeve - 2 * decs) // 4"),
            # from round to round: MC past the CC behind rnd 1 and before rnd 2, CC past the MC behind rnd 2 and before rnd 3
            ("body, floats between rounds", "1", "MC", "float: 1 + 1"),
            ("body, floats between rounds", "1", "CC", "float: 1 + 1"),
            # MC past the CC behind the stranded round
            ("sleeves, float behind the round", "2", "MC", "float: 1"),
            ("sleeves, floats", "2", "MC", "float: ((sleeve - 2 * decs) // 4 - 1) * (1 + 3)"),
            ("sleeves, plain", "2", "MC", "k: sleeve - 2 * decs"),
            ("sleeves, rib", "2 * 12", "MC", "k: (sleeve - 2 * decs) // 2; p: (sleeve - 2 * decs) // 2"),
            ("sleeves, bind off", "2", "MC", "BO: sleeve - 2 * decs"),
        ]),
    "crochet-raglan": Pattern(
        ["S", "M", "L"],
        # grow: rounds 3 and on of the yoke; body: with the underarms; plain: rounds of the body; decs: rounds of a sleeve that decrease
        {"neck": (72, 80, 88), "grow": (14, 16, 18), "under": (6, 8, 10), "half": (54, 60, 66), "plain": (34, 35, 36),
         "skipped": (40, 46, 52), "decs": (6, 7, 8)},
        [
            ("yoke, chain", "1", "main", "ch: neck; sl st: 1"),
            ("yoke, rnd 1", "1", "main", "ch: 1; hdc: neck; sl st: 1"),
            ("yoke, rnd 2", "1", "main", "ch: 1 + 4; hdc: neck + 4; sl st: 1"),
            ("yoke, rnds 3 and on", "1", "main", "ch: 5 * grow; hdc: sum(neck + 4 + 8 * j for j in range(1, grow + 1)); sl st: grow"),
            ("divide", "1", "main", "ch: 1 + 2 * under; hdc: 2 * half; sl st: 1"),
            ("body, hdc", "plain", "main", "ch: 1; hdc: 2 * (half + under); sl st: 1"),
            ("body, last rnd", "1", "main", "ch: 1; sc: 2 * (half + under); sl st: 1"),
            ("sleeves, rnd 1", "2", "main", "ch: 1; hdc: under + skipped; sl st: 1"),
            ("sleeves, decreases", "2", "main",
             "ch: decs; hdc: sum(under + skipped - 2 * j - 4 for j in range(decs)); hdc2tog: 2 * decs; sl st: decs"),
            ("sleeves, rounds between", "2 * 4", "main",
             "ch: decs; hdc: sum(under + skipped - 2 * j for j in range(1, decs + 1)); sl st: decs"),
            ("sleeves, last rnd", "2", "main", "ch: 1; sc: under + skipped - 2 * decs; sl st: 1"),
        ]),
    "band-cardigan": Pattern(
        ["S", "M", "L", "XL"],
        # long: rows of the body; front, back: after the armholes; low: rows of a front before its neck; bind: left for the neck at
        # each front; shoulder; upper: rows above the armhole; cuff and incs of the sleeves
        {"body": (120, 136, 152, 168), "long": (40, 40, 42, 42), "front": (27, 30, 33, 36), "back": (54, 60, 66, 72),
         "low": (12, 12, 14, 14), "bind": (7, 8, 9, 10), "shoulder": (17, 19, 21, 23), "cuff": (30, 32, 34, 36), "incs": (7, 8, 9, 10)},
        [
            ("body, chain", "1", "MC", "ch: body + 2"),
            ("body, row 1", "1", "MC", "hdc: body"),
            ("body, rows 2 and on", "long - 1", "MC", "ch: 2; hdc: body"),
            ("fronts, below the neck", "2 * low", "MC", "ch: 2; hdc: front"),
            ("right front, row 13: crosses the neck", "1", "MC", "sl st: bind"),
            ("left front, row 1: joins", "1", "MC", "sl st: 1"),
            # one of each front: the neck row, three that decrease, four even
            ("fronts, neck row", "2", "MC", "ch: 2; hdc: front - bind"),
            ("fronts, decreases", "2", "MC", "ch: 3 * 2; hdc: sum(front - bind - j - 2 for j in range(3)); hdc2tog: 3"),
            ("fronts, last rows", "2 * 4", "MC", "ch: 2; hdc: shoulder"),
            ("back, row 1: joins", "1", "MC", "sl st: 1"),
            ("back, below the neck", "low + 6", "MC", "ch: 2; hdc: back"),
            ("back, sides of the neck", "2 * 2", "MC", "ch: 2; hdc: shoulder"),
            ("back, second side: joins", "1", "MC", "sl st: 1"),
            ("shoulders", "2", "MC", "sl st: shoulder"),
            ("sleeves, chain", "2", "MC", "ch: cuff + 2"),
            ("sleeves, row 1", "2", "MC", "hdc: cuff"),
            ("sleeves, rows between", "2 * 3", "MC", "ch: 2 * incs; hdc: sum(cuff + 2 * j for j in range(incs))"),
            ("sleeves, increases", "2", "MC", "ch: 2 * incs; hdc: sum(cuff + 2 * j for j in range(1, incs + 1))"),
            ("sleeves, last rows", "2 * 3", "MC", "ch: 2; hdc: cuff + 2 * incs"),
            ("bands, row 1", "2", "CC", "sc: long + low"),
            ("right band, row 2", "1", "CC", "ch: 1 + 5 * 2; sc: long + low - 10"),
            ("right band, row 3", "1", "CC", "ch: 1; sc: long + low"),
            ("left band, rows 2 and 3", "2", "CC", "ch: 1; sc: long + low"),
            ("neck band, row 1", "1", "CC", "sc: 2 * (bind + 8 + 2) + back - 2 * shoulder"),
            ("neck band, row 2", "1", "CC", "ch: 1; sc: 2 * (bind + 8 + 2) + back - 2 * shoulder"),
            ("hem rib, row 1", "1", "CC", "ch: 9; sc: 8; sl st: 2"),
            ("hem rib, rows 2 and 3", "body // 2 - 1", "CC", "ch: 1; sc: 2 * 8; sl st: 2"),
        ]),
    "spine-shawl": Pattern(
        ["small", "medium", "large"],
        # stripes: of two rows CC and two MC, after ten rows of MC; row r has 6 r + 2 dc, of which the ch 3 stands for one
        {"stripes": (5, 7, 9), "rows": (30, 38, 46)},
        [
            ("ring", "1", "MC", "ch: 4; sl st: 1"),
            ("rows 1 to 10", "1", "MC", "ch: 10 * (3 + 2); dc: sum(6 * r + 1 for r in range(1, 11))"),
            ("stripes in CC", "1", "CC",
             "ch: stripes * 2 * (3 + 2); dc: sum(6 * r + 1 for j in range(stripes) for r in (11 + 4 * j, 12 + 4 * j))"),
            ("stripes in MC", "1", "MC",
             "ch: stripes * 2 * (3 + 2); dc: sum(6 * r + 1 for j in range(stripes) for r in (13 + 4 * j, 14 + 4 * j))"),
            ("edging, row 1", "1", "CC", "ch: 1 + 3 * (2 * rows + 3); sc: 2 * rows + 4"),
            ("edging, row 2", "1", "CC",
             "ch: 1 + 3 * (2 * rows + 3); sc: 2 * (2 * rows + 3); hdc: 2 * (2 * rows + 3); dc: 2 * (2 * rows + 3); sl st: 2 * rows + 3"),
            ("top edge, row 1", "1", "CC", "sc: 4 * rows + 1"),
            ("top edge, row 2", "1", "CC", "ch: 1; rev sc: 4 * rows + 1"),
        ]),
}


def count(pattern):
    """{(size, yarn, stitch): count}"""
    total = collections.Counter()
    for at, size in enumerate(pattern.sizes):
        given = {name: values[at] for name, values in pattern.given.items()}
        for label, copies, yarn, stitches in pattern.rows:
            for item in stitches.split(";"):
                stitch, expression = item.split(":")
                made = eval(copies, {}, given) * eval(expression, dict(given))  # the tables above, nothing else
                if made < 0:
                    sys.exit(f"{label}, size {size}: {made} {stitch.strip()}")
                total[size, yarn, stitch.strip()] += made
    return {key: value for key, value in total.items() if value}


def without_yarns(counts):
    total = collections.Counter()
    for (size, _, stitch), value in counts.items():
        total[size, stitch] += value
    return dict(total)


def show(names, yarns):
    out = csv.writer(sys.stdout, lineterminator="\n")
    out.writerow((["pattern"] if len(names) != 1 else []) + (["size", "yarn", "stitch", "count"] if yarns else ["size", "stitch", "count"]))
    for name in names or PATTERNS:
        counts = count(PATTERNS[name])
        for key, value in (counts if yarns else without_yarns(counts)).items():
            out.writerow(([name] if len(names) != 1 else []) + [*key, value])


def check(binary, tables, folder, names):
    wrong = 0
    for name in names or PATTERNS:
        pattern = PATTERNS[name]
        ours = without_yarns(count(pattern))
        run = subprocess.run([binary, "check", "--json", "--tables", tables, os.path.join(folder, name)], capture_output=True, text=True,
                             check=False)
        try:
            totals = json.loads(run.stdout)["totals"]
        except (ValueError, KeyError, TypeError):
            print(f"{name}: no totals, exit code {run.returncode}\n{run.stdout[:2000]}{run.stderr[:2000]}")
            wrong += 1
            continue
        theirs = {(entry["size"], entry["stitch"]): entry["count"] for entry in totals}
        for key in sorted(ours.keys() | theirs.keys()):
            if ours.get(key, 0) != theirs.get(key, 0):
                print(f"{name}, size {key[0]}: {ours.get(key, 0)} {key[1]}, and the totals have {theirs.get(key, 0)}")
                wrong += 1
        print(f"{name}: {len(ours)} counts of stitches compared")
    return wrong


def main(words):
    yarns = "--yarns" in words
    words = [word for word in words if word != "--yarns"]
    if words[:1] == ["show"] and all(word in PATTERNS for word in words[1:]):
        show(words[1:], yarns)
    elif words[:1] == ["check"] and len(words) >= 3 and all(word in PATTERNS for word in words[4:]):
        folder = words[3] if len(words) > 3 else os.path.join(HERE, "..", "rows")
        sys.exit(1 if check(words[1], words[2], folder, words[4:]) else 0)
    else:
        sys.exit(__doc__)


if __name__ == "__main__":
    main(sys.argv[1:])
