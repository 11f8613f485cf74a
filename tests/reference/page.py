#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""page.py HANKFUL TABLES FOLDER...: every figure on the page of `report` is that of the JSON.

An element with data-from="need:/need/3/balls" names the place (RFC 6901) in the answer of `hankful need --json`; its words must show that
value, rounded in any direction. Also: the page is well-formed (parsed as XML by Python), its ids are unique and found, every picture has a
title and a description, every table a caption, nothing is loaded from elsewhere, and nothing but figures and names holds digits within a
picture or a cell of class `number`."""
import json
import math
import os
import re
import subprocess
import sys
import xml.etree.ElementTree as ET

PROGRAM, TABLES, *FOLDERS = sys.argv[1:]
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


def agrees(words, value):
    if value is None:
        return words == "-"
    found = shown(words)
    if not found:
        return False
    number, step, bound = found
    value = float(value)
    if bound:
        return value > number - 1e-9 if bound == ">" else value < number + 1e-9
    return abs(number - value) <= step * (1 + 1e-9) or math.isclose(number, value, rel_tol=1e-12)


def local(element):
    return element.tag.rpartition("}")[2]


def check(folder, *options):
    page = run("report", folder, *options)
    faults = []
    if len(page.encode()) > MOST_BYTES:
        faults.append(f"{len(page.encode())} bytes")
    root = ET.fromstring(page.removeprefix("<!DOCTYPE html>\n"))
    answers = {}
    figures = 0
    ids = [e.get("id") for e in root.iter() if e.get("id")]
    faults += [f"the id {i} is there twice" for i in set(ids) if ids.count(i) > 1]
    for element in root.iter():
        for name in ("aria-labelledby", "href"):
            for target in (element.get(name) or "").replace("#", "").split():
                if target not in ids:
                    faults.append(f"{name} {target} leads nowhere")
        for name in ("src", "href", "data", "action"):
            if (element.get(name) or "#")[0] != "#":
                faults.append(f"{name}={element.get(name)} leads elsewhere")
        if local(element) == "script":
            faults.append("a script")
        if local(element) == "svg":
            faults += [f"a picture has no {part}" for part in ("title", "desc")
                       if not any(local(e) == part and (e.text or "").strip() for e in element)]
        if local(element) == "table" and not any(local(e) == "caption" for e in element):
            faults.append("a table has no caption")
        source = element.get("data-from")
        if not source:
            continue
        figures += 1
        command, pointer = source.split(":", 1)
        if command not in answers:
            answers[command] = json.loads(run(*command.split(), folder, "--json", *(o for o in options if not o.startswith("--client"))))
        try:
            value = resolve(answers[command], pointer)
        except (KeyError, IndexError) as error:
            faults.append(f"{source}: there is no {error}")
            continue
        words = "".join(element.itertext())
        if not agrees(words, value):
            faults.append(f"{source}: \"{words}\" is not {value}")
    print(f"{os.path.basename(folder)} {' '.join(options)}: {figures} figures, {len(faults)} faults")
    for fault in faults[:20]:
        print("   ", fault)
    return not faults and figures > 0


good = [check(folder, *options) for folder in FOLDERS for options in ([], ["--chance", "80%"])]
sys.exit(not all(good))
