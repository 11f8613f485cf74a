#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""page.py HANKFUL TABLES EXAMPLES: every figure on the page of `report` is that of the JSON.

An element with data-from="need:/need/3/balls" names the place (RFC 6901) in the answer of `hankful need --json`; its words must show that
value, rounded in any direction. Also: the page is well-formed (parsed as XML by Python), its ids are unique and found, every picture has a
title and a description, every table a caption, nothing is loaded from elsewhere, and the block of the pattern and
the offer are those of `materials --html` and `quote --letter --html`. So in every cut of every example; in a project whose every name is
hostile (markup, quotes, right to left, emoji, 10,000 characters), where the names must come out as text; and in one of 60 parts in 20
sizes, whose page must be smaller than 1 MB."""
import csv
import itertools
import json
import math
import os
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as ET

PROGRAM, TABLES, EXAMPLES = sys.argv[1:]
os.environ["HANKFUL_TABLES"] = TABLES
os.environ["LC_ALL"] = "C.UTF-8"
MOST_BYTES = 1_000_000


def run(*words):
    return subprocess.run([PROGRAM, *words], check=True, capture_output=True, text=True).stdout


def resolve(answer, pointer):
    for step in pointer.split("/")[1:]:
        answer = answer[int(step)] if isinstance(answer, list) else answer[step.replace("~1", "/").replace("~0", "~")]
    return answer


def shown(words):
    """The value that words show, half a step of its last digit, and whether only a bound is shown."""
    match = re.search(r"([<>]?)(-?)(\d[\d\u00a0 ]*)(?:\.(\d+))?(%?)", words)
    if not match:
        return None
    bound, sign, whole, part, percent = match.groups()
    value = float(re.sub(r"\D", "", whole) + "." + (part or "0"))
    step = 10.0 ** -len(part or "")
    digits = re.sub(r"\D", "", whole)
    if not part and len(digits) > 1:
        step = 10.0 ** (len(digits) - len(digits.rstrip("0")))
    if (part or digits.rstrip("0") or digits)[-1] in "05":
        step *= 5  # figures go in steps of one or of five
    value, step = (value / 100, step / 100) if percent else (value, step)
    return (-value if sign else value), step, bound


def place_words(place):
    """fronts 2, body, row 14; a part without rows has no row."""
    if place is None:
        return "-"
    part = f", {place['part']}" if place["part"] else ""
    copy = f" {place['copy']}" if place["copies"] > 1 else ""
    row = f", row {place['row']}" if place["row"] else ""
    return f"{place['piece']}{copy}{part}{row}"


def agrees(words, value):
    if value is None:
        return words == "-"
    if isinstance(value, dict) and "length_cm" in value:
        count, _, length = words.partition(", ")
        return agrees(count, value["count"]) and agrees(length, value["length_cm"])
    found = shown(words)
    if not found:
        return False
    number, step, bound = found
    value = float(value)
    if bound:
        return value > number - 1e-9 if bound == ">" else value < number + 1e-9
    return abs(number - value) <= step * (1 + 1e-9) or math.isclose(number, value, rel_tol=1e-12)

# The options that a command takes, of those that a page may be asked with.
TAKEN = {"need": {"--size", "--chance"}, "shop": {"--size", "--chance"}, "materials": {"--size", "--chance", "--units", "--terms"},
         "quote": {"--size", "--chance", "--client", "--deposit", "--ending", "--sure", "--price"}}


def taken(command, options):
    """The options, pairs of a name and a value, without those that the command does not take."""
    pairs = zip(options[::2], options[1::2])
    return [word for pair in pairs if command == "report" or pair[0] in TAKEN[command] for word in pair]


def local(element):
    return element.tag.rpartition("}")[2]


def check_structure(root):
    """Faults that any page can have."""
    ids = [e.get("id") for e in root.iter() if e.get("id")]
    faults = [f"the id {i} is there twice" for i in set(ids) if ids.count(i) > 1]
    for element in root.iter():
        for name in ("aria-labelledby", "href"):
            for target in (element.get(name) or "").replace("#", "").split():
                if target not in ids:
                    faults.append(f"{name} {target} leads nowhere")
        for name in ("src", "href", "data", "action"):
            if (element.get(name) or "#")[0] != "#":
                faults.append(f"{name}={element.get(name)} leads elsewhere")
        faults += [f"an attribute {name}" for name in element.keys() if name.startswith("on")]
        if local(element) in ("script", "iframe", "object", "link", "img", "base", "foreignObject"):
            faults.append(f"an element {local(element)}")
        if local(element) == "svg":
            faults += [f"a picture has no {part}" for part in ("title", "desc")
                       if not any(local(e) == part and (e.text or "").strip() for e in element)]
        if local(element) == "table" and not any(local(e) == "caption" for e in element):
            faults.append("a table has no caption")
    return faults


def check_figures(root, folder, options):
    faults, answers, figures = [], {}, 0
    for element in root.iter():
        source = element.get("data-from")
        if not source:
            continue
        figures += 1
        command, pointer = source.split(":", 1)
        if command not in answers:
            answers[command] = json.loads(run(command, folder, "--json", *taken(command, options)))
        try:
            value = resolve(answers[command], pointer)
        except (KeyError, IndexError) as error:
            faults.append(f"{source}: there is no {error}")
            continue
        words = "".join(element.itertext())
        if local(element) == "tr":
            words = ["".join(cell.itertext()) for cell in element][2:]
            good = words == [str(value["ball"]), *(place_words(value[key]) for key in ("likely", "earliest", "latest"))]
        else:
            good = agrees(words, value)
        if not good:
            faults.append(f"{source}: {words!r} is not {value}")
    return figures, faults


def check_rows(root, folder, flags, options):
    """Faults of the table of stitches after every row: it is that of `check --table`, of every row on the maker's page."""
    if "--client" in options:
        return []
    size = [word for pair in zip(options[::2], options[1::2]) if pair[0] == "--size" for word in pair]
    lines = list(csv.reader(run("check", folder, "--table", "--csv", *([] if flags else ["--rows"]), *size).splitlines()))
    count = len(json.loads(run("need", folder, "--json", *size))["sizes"])
    section = next(e for e in root.iter() if e.get("id") == "rows")
    shown_rows = [["".join(cell.itertext()) for cell in row] for table in section.iter("tbody") for row in table]
    listed = [[line[1], line[2], *(cell or "-" for cell in line[4:4 + count])] for line in lines[1:]]
    return [f"row {a} is not {b}" for a, b in itertools.zip_longest(shown_rows, listed) if a != b]


def without_spaces(words):
    return re.sub(r"\s+", " ", words)


def check(folder, flags, options):
    page = run("report", folder, *flags, *options)
    root = ET.fromstring(page.removeprefix("<!DOCTYPE html>\n"))
    faults = check_structure(root)
    if len(page.encode()) > MOST_BYTES:
        faults.append(f"{len(page.encode())} bytes")
    figures, wrong = check_figures(root, folder, options)
    faults += wrong + check_rows(root, folder, flags, options)
    client = "--client" in options
    if client:
        block = run("quote", folder, "--letter", "--html", *taken("quote", options))
    else:
        block = run("materials", folder, "--html", *taken("materials", options))
    if block not in page:
        faults.append("the block is not that of the command")
    words = without_spaces("".join(root.itertext()))
    if client and re.search(r"chance|hour", words, re.IGNORECASE):
        faults.append("the client reads of hours or chances")
    print(f"{os.path.basename(folder)} {' '.join([*flags, *options])[:60]}: {len(page.encode())} bytes, {figures} figures, {len(faults)} faults")
    for fault in faults[:20]:
        print("   ", fault)
    return not faults and (figures > 0 or client), words


CUTS = [([], []), ([], ["--chance", "80%"]), ([], ["--size", "SIZE", "--sure", "90%"]), (["--pattern"], []),
        (["--pattern"], ["--units", "imperial", "--terms", "UK"]), ([], ["--client", "Ada", "--size", "SIZE", "--deposit", "30%"])]


def sizes_of(folder):
    return json.loads(run("need", folder, "--json"))["sizes"]


def priced(folder):
    return os.path.exists(os.path.join(folder, "costs.csv"))


def check_cuts(folder):
    size = sizes_of(folder)[0]
    return all([check(folder, flags, [size if word == "SIZE" else word for word in options])[0]
                for flags, options in CUTS if priced(folder) or "--client" not in options])


HOSTILE = ["<script>alert(1)</script>", "&lt;b&gt; 'single'", "</style></svg><img src=x onerror=y>", "\u05e9\u05dc\u05d5\u05dd \u0645\u0631\u062d\u0628\u0627",
           "\U0001f9f6\U0001f469\u200d\U0001f33e knit", "]]><!-- --", "Ada & Quill",
           "long " + "n" * 395]


def cell(words):
    return '"' + words.replace('"', '""') + '"'


def check_hostile(work):
    """Every name of the cardigan is replaced by a hostile one, in turn; all come out as text."""
    good = True
    for i, words in enumerate(HOSTILE):
        folder = work / f"hostile{i}"
        shutil.copytree(pathlib.Path(EXAMPLES, "skerry-cardigan"), folder)
        for file, name in (("project.csv", "Skerry cardigan"), ("yarns.csv", "Holm DK"), ("yarns.csv", "Lichen"), ("pieces.csv", "sleeves"),
                           ("swatches.csv", "Holm DK"), ("offers.csv", "Holm DK"), ("offers.csv", "Lichen"), ("costs.csv", "marketplace")):
            path = folder / file
            if path.exists():
                text = path.read_text()
                found = name in text
                text = re.sub(rf"(^|,){re.escape(name)}(?=,|$)", lambda m: m[1] + cell(words), text, flags=re.MULTILINE)
                assert found, f"{name} is not in {file}"
                path.write_text(text)
        fine, shown_words = check(folder, [], [])
        good &= fine
        if shown_words.count(without_spaces(words)) < 3:
            print(f"    {words[:40]} is not shown as it is")
            good = False
        good &= check(folder, [], ["--client", words + "n" * 10_000, "--size", "M"])[0] and check(folder, ["--pattern"], [])[0]
    return good


def check_stripes(work):
    """Stripes, of one yarn and of two held together, have a picture and a table."""
    folder = work / "stripes"
    shutil.copytree(pathlib.Path(EXAMPLES, "skerry-cardigan"), folder)
    path = folder / "pieces.csv"
    path.write_text(path.read_text().replace("\nsleeves,,half double crochet,main,", '\nsleeves,,half double crochet,"main 4, contrast 2, main + contrast 1",'))
    good, words = check(folder, ["--pattern"], [])
    return good and "main + contrast" in words and check(folder, [], [])[0]


def check_long(work):
    """A name of 10,000 characters is refused, with its place."""
    folder = work / "long"
    shutil.copytree(pathlib.Path(EXAMPLES, "skerry-cardigan"), folder)
    path = folder / "pieces.csv"
    path.write_text(path.read_text().replace("\nsleeves,", "\n" + "n" * 10_000 + ","))
    done = subprocess.run([PROGRAM, "report", folder], check=False, capture_output=True, text=True)
    good = done.returncode == 1 and done.stdout == "" and "pieces.csv:6:1: error: a name of 10000 characters" in done.stderr
    print("a name of 10,000 characters:", "refused" if good else done)
    return good


def check_large(work):
    """60 parts in 20 sizes: tapers, and rows of several stitches."""
    folder = work / "large"
    folder.mkdir()
    sizes = [f"S{i}" for i in range(1, 21)]
    (folder / "project.csv").write_text(f'field,value\ntitle,Sixty parts\nsizes,"{sizes[0]} ({", ".join(sizes[1:])})"\ncurrency,EUR\nterms,US\n')
    (folder / "yarns.csv").write_text("role,yarn,put_up,length,price\nmain,Wool,50 g,120 m,5.00\n")
    (folder / "swatches.csv").write_text("swatch,yarn,tool,fabric,stitches,rows,width,height,weight\nmain,Wool,5 mm,half double crochet,20,16,13.3 cm,13.9 cm,9.1 g\n")

    def graded(first, step):
        return f'"{first} ({", ".join(str(first + step * i) for i in range(1, 20))})"'

    lines = ["piece,part,fabric,yarn,tool,stitches,rows,end_stitches,times,start"]
    for piece in range(20):
        lines += [f"piece {piece + 1},start,half double crochet,main,5 mm,{graded(30 + piece, 2)},20,,1,chain",
                  f"piece {piece + 1},taper,half double crochet,main,5 mm,,{graded(20, 1)},{graded(20 + piece, 1)},1,continue",
                  f"piece {piece + 1},end,half double crochet,main,5 mm,,12,,1,continue"]
    (folder / "pieces.csv").write_text("\n".join(lines) + "\n")
    return check(folder, [], [])[0] and check(folder, ["--pattern"], [])[0]


def main():
    with tempfile.TemporaryDirectory() as place:
        work = pathlib.Path(place)
        folders = sorted(str(path) for path in pathlib.Path(EXAMPLES).iterdir() if (path / "project.csv").exists())
        good = all([check_cuts(folder) for folder in folders])
        good &= check_hostile(work)
        good &= check_stripes(work)
        good &= check_long(work)
        good &= check_large(work)
    return 0 if good else 1


sys.exit(main())
