#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Written patterns printed again (`hankful pattern`), and what is printed read as a project of its own.

    reprint.py BINARY TABLES ROWS [all | NAME...]

For each folder of ROWS, and every third pattern of its rows.csv: one size printed comes to the same rows and totals as that size of the whole,
in its own terms and in the others; all sizes in the other terms come to the same; there and back gives the same text, where
every row is read. all: each pattern of rows.csv; NAME...: only these folders and patterns. What differs is printed, and the script ends with 1 then.
"""
import csv
import json
import os
import re
import shutil
import subprocess
import sys
import tempfile

import published

OTHER = {"US": "UK", "UK": "US"}
# Two words of one terms for one stitch: both become the one word of the other terms, and one of them comes back.
TWINS = [(r"\bss\b", "sl st"), (r"\bSs\b", "Sl st"), (r"\byfwd\b|\byrn\b|\byon\b", "yo"), (r"\bBO\b", "Bind off"), (r"\bbo\b", "bind off"), (r"\bskip\b", "miss"), (r"\bSkip\b", "Miss"), (r"\b(tr)c\b", r"\1"), (r"\b(Tr)c\b", r"\1")]


class Checker:
    def __init__(self, binary, tables):
        self.binary, self.tables = binary, tables
        self.failures = self.printed = self.rows = self.drafts = 0
        with open(os.path.join(tables, "stitches.csv"), newline="", encoding="utf-8") as file:
            table = list(csv.DictReader(line for line in file if not line.startswith("#")))
        # a word of the kinds of places and totals: the US one
        self.us = {"US": {}, "UK": {}}
        for row in table:
            us = row["us"] or row["name"]
            self.us["US"][us] = us
            self.us["UK"][row["uk"] or us] = us

    def run(self, *words):
        run = subprocess.run([self.binary, *words, "--tables", self.tables], capture_output=True, text=True, check=False)
        return json.loads(run.stdout)

    def fail(self, what, message):
        self.failures += 1
        print(f"{what}: {message}")

    def kinds(self, places, terms):
        return sorted((self.us[terms].get(kind, kind), count) for kind, count in places.items())

    def row(self, row, terms, own):
        return (row["stitches"], row["left"], row["agrees"], row["from"], sorted(row["held"].values()), self.kinds(row["places"], terms),
                (row["piece"], row["part"]) if own else None)

    def compare(self, what, whole, again, size, terms, terms_again, gone):
        """Rows and totals of one size; `gone`: lines that the print leaves out."""
        own = terms == terms_again
        before = [self.row(row, terms, own) for row in whole["rows"] if row["size"] == size and row["line"] not in gone]
        after = [self.row(row, terms_again, own) for row in again["rows"] if row["size"] == size]
        if before != after:
            at = next((i for i, (a, b) in enumerate(zip(before, after)) if a != b), min(len(before), len(after)))
            self.fail(what, f"row {at + 1} of {len(before)} ({len(after)}): {before[at:at + 1]} became {after[at:at + 1]}")
            return
        self.rows += len(before)
        totals = [sorted((self.us[t].get(total["stitch"], total["stitch"]), total["count"]) for total in answer["totals"] if total["size"] == size)
                  for t, answer in ((terms, whole), (terms_again, again))]
        if totals[0] != totals[1]:
            self.fail(what, f"totals {set(totals[0]) ^ set(totals[1])}")

    def project(self, folder, text, sizes, terms):
        with open(os.path.join(folder, "pattern.txt"), "w", encoding="utf-8") as file:
            file.write(text)
        names = sizes[0] + (f" ({', '.join(sizes[1:])})" if len(sizes) > 1 else "")
        with open(os.path.join(folder, "project.csv"), "w", encoding="utf-8") as file:
            file.write(f'field,value\nsizes,"{names}"\nterms,{terms}\n')

    def pattern(self, what, folder, sizes, terms):
        """`folder`: a project of its own, which may be written over."""
        with open(os.path.join(folder, "pattern.txt"), encoding="utf-8") as file:
            text = file.read()
        self.project(folder, text, sizes, terms)
        whole = self.run("check", "--json", folder)
        refused = bool(whole["errors"])
        self.drafts += refused
        for markdown in ([], ["--markdown"]):
            for to in (terms, OTHER[terms]):
                for size in [None] + (sizes if len(sizes) > 1 else []):
                    if markdown and (to != terms or size not in (None, sizes[-1])):
                        continue
                    self.project(folder, text, sizes, terms)
                    answer = self.run("pattern", "--json", folder, "--terms", to, *markdown, *(["--size", size] if size else []))
                    name = f"{what}, {size or 'all sizes'}, {to}{' Markdown' if markdown else ''}"
                    for error in answer["errors"]:
                        self.fail(name, f"{error['line']}:{error['column']}: {error['message']}")
                    gone = {change["line"] + i for change in answer["changes"] if not change["after"] and change["before"].endswith("\n")
                            for i in range(change["before"].count("\n"))}
                    if not refused and size is None and to != terms and not markdown:
                        self.back(name, folder, text, answer, sizes, terms, to)
                    self.project(folder, answer["text"], [size] if size else sizes, to)
                    again = self.run("check", "--json", folder)
                    self.printed += 1
                    if not refused and again["errors"]:
                        error = again["errors"][0]
                        self.fail(name, f"printed so, line {error['line']}: {error['message']}")
                        continue
                    for one in [size] if size else sizes:
                        left = gone if size else set()
                        if not refused:
                            self.compare(name, whole, again, one, terms, to, left)

    def back(self, name, folder, text, answer, sizes, terms, to):
        self.project(folder, answer["text"], sizes, to)
        home = self.run("pattern", "--json", folder, "--terms", terms)["text"]
        if home == text or any("left" in finding["message"] for finding in answer["warnings"]):
            return
        for pattern, word in TWINS:
            home, text = re.sub(pattern, word, home), re.sub(pattern, word, text)
        if home != text:
            before, after = next((a, b) for a, b in zip(text.splitlines(), home.splitlines()) if a != b)
            self.fail(name, f"there and back: \"{before}\" became \"{after}\"")


def main(binary, tables, rows, names):
    checker = Checker(binary, tables)
    step = 1 if names else 3
    names = [] if names == ["all"] else names
    for name in sorted(os.listdir(rows)):
        source = os.path.join(rows, name)
        if not os.path.isfile(os.path.join(source, "pattern.txt")) or (names and name not in names):
            continue
        with tempfile.TemporaryDirectory() as folder:
            shutil.copytree(source, folder, dirs_exist_ok=True)
            with open(os.path.join(source, "project.csv"), newline="", encoding="utf-8") as file:
                fields = dict(row[:2] for row in csv.reader(line for line in file if not line.startswith("#")) if len(row) > 1)
            sizes = [part.strip() for part in re.split(r"[(),]", fields["sizes"]) if part.strip()]
            checker.pattern(name, folder, sizes, fields["terms"])
    with open(os.path.join(rows, "rows.csv"), newline="", encoding="utf-8") as file:
        published_rows = list(csv.DictReader(line for line in file if not line.startswith("#")))
    for row in published_rows[::step]:
        if names and row["id"] not in names:
            continue
        with tempfile.TemporaryDirectory() as folder:
            with open(os.path.join(folder, "pattern.txt"), "w", encoding="utf-8") as file:
                file.write(published.pattern_of(row))
            with open(os.path.join(folder, "yarns.csv"), "w", encoding="utf-8") as file:
                file.write("role,yarn,put_up,length\n" + "".join(f"{role},Holm {role},50 g,120 m\n" for role in ("MC", "CC", "A", "B")))
            checker.pattern(row["id"], folder, published.SIZES[int(row["sizes"])], row["terms"])
    print(f"{checker.printed} patterns printed ({checker.drafts} of drafts with mistakes), {checker.rows} rows compared, {checker.failures} differ")
    return 1 if checker.failures or not checker.rows else 0


if __name__ == "__main__":
    if len(sys.argv) < 4:
        sys.exit(__doc__)
    sys.exit(main(sys.argv[1], sys.argv[2], sys.argv[3], sys.argv[4:]))
