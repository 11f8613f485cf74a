#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Rows as published (tests/rows/rows.csv), read as whole patterns and held to counts worked by hand.

    published.py BINARY TABLES [FILE]

Each row of the file becomes a project with a pattern.txt, of which `check --json` is asked. At least 95% must come to the counts by hand in
every size, none may come to others without a word, wrong stated counts must be found in exactly the sizes in which they are wrong, and at
most 2% of right ones may be called wrong. What is refused is listed with its message.
"""
import csv
import json
import os
import subprocess
import sys
import tempfile

HERE = os.path.dirname(os.path.abspath(__file__))
SIZES = {1: ["one"], 2: ["S", "M"], 3: ["S", "M", "L"], 4: ["S", "M", "L", "XL"], 9: list("123456789")}
STARTS = {"chain": "Ch {}.", "cast-on": "Cast on {} sts.", "ring": "Magic ring.", "nothing": ""}


def values(cell, sizes):
    found = [part.strip() for part in cell.replace("(", ",").replace(")", ",").split(",") if part.strip()]
    return found * sizes if len(found) == 1 else found


def pattern_of(row):
    kind, _, count = row["start"].partition(" ")
    start = STARTS[kind].format(count) if kind in STARTS else f"On an edge of {row['start']}:" if row["start"] else ""
    lines = ["NOTES", row["notes"], ""] if row["notes"] else []
    lines += ["# Piece", f"With MC and 5 mm {'needles' if row['craft'] == 'knit' else 'hook'}.", start]
    label = {"rows": "Row", "rounds": "Rnd"}.get(row["worked"])
    for number, text in enumerate(row["rows"].split(" / "), 1):
        lines.append(f"{label} {number}: {text}" if label else text)
    return "\n".join(line for line in lines) + "\n"


def answer_of(binary, tables, row):
    names = SIZES[int(row["sizes"])]
    sizes = names[0] + (f" ({', '.join(names[1:])})" if len(names) > 1 else "")
    with tempfile.TemporaryDirectory() as folder:
        for name, text in {"project.csv": f'field,value\nsizes,"{sizes}"\nterms,{row["terms"]}\n',
                           "yarns.csv": "role,yarn,put_up,length\n" + "".join(f"{role},Holm {role},50 g,120 m\n" for role in ("MC", "CC", "A", "B")),
                           "pattern.txt": pattern_of(row)}.items():
            with open(os.path.join(folder, name), "w", encoding="utf-8") as file:
                file.write(text)
        run = subprocess.run([binary, "check", "--json", "--tables", tables, folder], capture_output=True, text=True, check=False)
        return json.loads(run.stdout)


def verdict_of(row, answer):
    """What is wrong with the answer ("" nothing), and whether a row was refused."""
    sizes = int(row["sizes"])
    texts = row["rows"].split(" / ")
    counts = [values(cell, sizes) for cell in row["counts"].split(" / ")]
    wrongs = [set(cell.split()) - {"-"} for cell in row["wrong"].split(" / ")] if row["wrong"] else []
    # Rows of the answer by line; the last lines of the pattern are the row's texts.
    last = pattern_of(row).count("\n")
    for at, name in enumerate(SIZES[sizes]):
        lines = {entry["line"] - (last - len(texts)) - 1: entry for entry in answer["rows"] if entry["size"] == name}
        for i, wanted in enumerate(counts):
            entry = lines.get(i)
            if wanted[at] == "!":
                if entry:
                    return f"size {name}, row {i + 1} was worked", False
                break
            if wanted[at] in ("-", ""):
                continue
            if not entry:
                return f"size {name}, row {i + 1}", True
            if entry["stitches"] != int(wanted[at]):
                return f"size {name}, row {i + 1} has {entry['stitches']}, and not {wanted[at]}", False
            marked = i < len(wrongs) and str(at + 1) in wrongs[i]
            if entry["agrees"] == marked:
                return f"size {name}, row {i + 1}: a {'wrong' if marked else 'right'} count is called {'right' if marked else 'wrong'}", False
    return "", False


def main(binary, tables, path):
    with open(path, newline="", encoding="utf-8") as file:
        rows = list(csv.DictReader(line for line in file if not line.startswith("#")))
    right = silent = called = refused = 0
    for row in rows:
        answer = answer_of(binary, tables, row)
        said, refusal = verdict_of(row, answer)
        message = answer["errors"][0]["message"] if answer["errors"] else "no message"
        if not said:
            right += 1
        elif refusal:
            refused += 1
            silent += not answer["errors"]
            print(f"refused{' (it may be)' if row['refused'] else ''}: {row['id']}, {said}: {message}")
        elif "right count" in said:
            called += 1
            print(f"called wrong: {row['id']}, {said}: {message}")
        else:
            silent += 1
            print(f"WRONG: {row['id']}, {said}: {message}")
    print(f"{len(rows)} rows as published: {right} right, {refused} refused, {called} right counts called wrong, {silent} wrong without a word")
    return 0 if silent == 0 and 100 * right >= 95 * len(rows) and 100 * called <= 2 * len(rows) else 1


if __name__ == "__main__":
    if len(sys.argv) not in (3, 4):
        sys.exit(__doc__)
    sys.exit(main(sys.argv[1], sys.argv[2], sys.argv[3] if len(sys.argv) == 4 else os.path.join(HERE, "..", "rows", "rows.csv")))
