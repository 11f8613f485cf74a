#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The cardigan of examples/ written out as pattern.txt: it takes the yarn that its pieces.csv takes, to 1 part in 1,000.

    rewritten.py BINARY TABLES EXAMPLES     the pattern is rewritten.pattern.txt beside this file

What differs is the rhythm of the shaping: pieces.csv changes along a straight line, written rows in two or three steps; and a
decrease that is written is worked on two stitches, while a taper of pieces.csv has one in its row as well. The seams stay in
pieces.csv, beside pattern.txt.
"""
import json
import os
import shutil
import subprocess
import sys
import tempfile

HERE = os.path.dirname(os.path.abspath(__file__))
DESIGN = "skerry-cardigan"
PART = 1 / 1000


def need(binary, tables, folder):
    """{(size, role): (metres, grams)}"""
    run = subprocess.run([binary, "need", "--json", "--tables", tables, folder], capture_output=True, text=True, check=False)
    if run.returncode:
        sys.exit(f"exit code {run.returncode}\n{run.stdout[:1000]}{run.stderr[:1000]}")
    return {(n["size"], n["role"]): (n["length_m"]["likely"], n["mass_g"]["likely"]) for n in json.loads(run.stdout)["need"]}


def written_out(example, pattern, room):
    shutil.copytree(example, room)
    shutil.copy(pattern, os.path.join(room, "pattern.txt"))
    with open(os.path.join(example, "pieces.csv"), encoding="utf-8") as file:
        lines = [line for line in file if line.startswith(("piece,", "seams,"))]
    with open(os.path.join(room, "pieces.csv"), "w", encoding="utf-8") as file:
        file.writelines(lines)


def check(binary, tables, examples):
    example = os.path.join(examples, DESIGN)
    with tempfile.TemporaryDirectory() as room:
        written_out(example, os.path.join(HERE, "rewritten.pattern.txt"), os.path.join(room, DESIGN))
        ours, theirs = need(binary, tables, os.path.join(room, DESIGN)), need(binary, tables, example)
    if ours.keys() != theirs.keys() or not ours:
        sys.exit(f"{sorted(ours)} and {sorted(theirs)}")
    wrong, most = 0, 0
    for key, amounts in theirs.items():
        for name, here, there in zip(("m", "g"), ours[key], amounts):
            most = max(most, abs(here / there - 1))
            if abs(here / there - 1) > PART:
                print(f"{key[0]} {key[1]}: {here:.1f} {name} as pattern.txt, {there:.1f} {name} as pieces.csv")
                wrong += 1
    print(f"{len(ours)} amounts compared, at most {1000 * most:.2f} parts in 1,000 apart")
    return wrong


if __name__ == "__main__":
    if len(sys.argv) != 4:
        sys.exit(__doc__)
    sys.exit(1 if check(*sys.argv[1:]) else 0)
