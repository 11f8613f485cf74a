#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Mistakes planted in whole written patterns: each must be found on its line, in exactly the sizes in which it is one.

    planted.py BINARY TABLES [FOLDER]     FOLDER holds planted.csv and a folder for each pattern that it names

A size counts as found where `check --json` has no row of that line (it cannot be worked) or one that does not agree with what it
states. As they stand, the patterns have no mistake. What differs is printed, and the script ends with 1 then.
"""
import csv
import json
import os
import shutil
import subprocess
import sys
import tempfile

HERE = os.path.dirname(os.path.abspath(__file__))


def edits_of(folder):
    with open(os.path.join(folder, "planted.csv"), newline="", encoding="utf-8") as file:
        return list(csv.DictReader(line for line in file if not line.startswith("#")))


def text_of(folder, pattern):
    with open(os.path.join(folder, pattern, "pattern.txt"), encoding="utf-8") as file:
        return file.read()


def sizes_of(folder, pattern):
    with open(os.path.join(folder, pattern, "project.csv"), newline="", encoding="utf-8") as file:
        cell = next(row[1] for row in csv.reader(file) if row and row[0] == "sizes")
    return [name for name in cell.replace("(", ",").replace(")", "").replace(" ", "").split(",") if name]


def once(text, part, of):
    if text.count(part) != 1:
        sys.exit(f"planted.csv: {part!r} stands {text.count(part)} times in {of}")
    return text.index(part)


def rows_of(binary, tables, folder, pattern, text):
    """The entries of `rows`, by line."""
    room = tempfile.mkdtemp(prefix="planted-")
    try:
        shutil.copytree(os.path.join(folder, pattern), os.path.join(room, pattern))
        with open(os.path.join(room, pattern, "pattern.txt"), "w", encoding="utf-8") as file:
            file.write(text)
        run = subprocess.run([binary, "check", "--json", "--tables", tables, os.path.join(room, pattern)], capture_output=True,
                             text=True, check=False)
        lines = {}
        for entry in json.loads(run.stdout)["rows"]:
            lines.setdefault(entry["line"], []).append(entry)
        return lines
    except (ValueError, KeyError, TypeError) as error:
        sys.exit(f"{pattern}: no rows ({error!r}), exit code {run.returncode}\n{run.stdout[:1000]}{run.stderr[:1000]}")
    finally:
        shutil.rmtree(room)


def found_in(entries, sizes):
    agreeing = {entry["size"] for entry in entries if entry["agrees"] is not False}
    return [name for name in sizes if name not in agreeing]


def check(binary, tables, folder):
    wrong, edits = 0, edits_of(folder)
    sound = {}
    for pattern in sorted({edit["pattern"] for edit in edits}):
        sound[pattern] = rows_of(binary, tables, folder, pattern, text_of(folder, pattern))
        for line, entries in sound[pattern].items():
            differing = [entry["size"] for entry in entries if entry["agrees"] is False]
            if differing:
                print(f"{pattern}, line {line}: differs from what it states in {differing}, and there is no mistake")
                wrong += 1
    for edit in edits:
        pattern, text = edit["pattern"], text_of(folder, edit["pattern"])
        sizes = sizes_of(folder, pattern)
        once(text, edit["old"], pattern)
        edited = text.replace(edit["old"], edit["new"])
        line = edited[: once(edited, edit["at"], f"{pattern}, edited")].count("\n") + 1
        wanted = [sizes[int(number) - 1] for number in edit["sizes"].split()]
        # no edit adds or takes away a line
        before = found_in(sound[pattern].get(line, []), sizes)
        found = found_in(rows_of(binary, tables, folder, pattern, edited).get(line, []), sizes)
        if before or found != wanted:
            print(f"{pattern}, line {line}, {edit['new']!r}: found in {found}, and not {wanted} ({edit['why']}); before: {before}")
            wrong += 1
    print(f"{len(edits)} planted mistakes")
    return wrong


if __name__ == "__main__":
    if len(sys.argv) not in (3, 4):
        sys.exit(__doc__)
    sys.exit(1 if check(sys.argv[1], sys.argv[2], sys.argv[3] if len(sys.argv) == 4 else os.path.join(HERE, "..", "rows")) else 0)
