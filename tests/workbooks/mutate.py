#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""mutate.py HANKFUL TABLES FOLDER COUNT [SEED]: the workbooks of FOLDER with bytes of the archive, or of the XML of its parts, changed
at random. Every one is read within limits of time and memory, and is an answer or an error with its reason: no crash."""
import os, random, resource, subprocess, sys, tempfile, zipfile

program, tables, folder, count = sys.argv[1:5]
seed = int(sys.argv[5]) if len(sys.argv) > 5 else 1
sanitized = subprocess.run(['grep', '-qa', '__asan_init', program]).returncode == 0
PIECES = [b'<', b'>', b'&', b'"', b'</c>', b'<c>', b'<row r="9">', b'r="A0"', b't="s"', b'99999999999', b'-1', b'\xff', b'\0', b'&#0;',
          b'<v>1e999</v>', b'<mergeCell ref="A1:XFD1048576"/>', b'table:number-columns-repeated="16384"', b'_x0000_', b'<![CDATA[', b'']


def changed(data, random):
    data = bytearray(data)
    for _ in range(random.choice([1, 1, 2, 5, 20])):
        at = random.randrange(len(data) + 1)
        kind = random.randrange(4)
        if kind == 0 and data:
            data[at % len(data)] = random.randrange(256)
        elif kind == 1:
            data[at:at + random.randrange(40)] = random.choice(PIECES)
        elif kind == 2:
            other = random.randrange(len(data) + 1)
            data[at:at] = data[other:other + random.randrange(200)]
        else:
            del data[at:at + random.randrange(100)]
    return bytes(data)


def mutated(path, out, random):
    if random.random() < 0.3:
        open(out, 'wb').write(changed(open(path, 'rb').read(), random))
        return
    with zipfile.ZipFile(path) as archive, zipfile.ZipFile(out, 'w', zipfile.ZIP_DEFLATED) as copy:
        names = [n for n in archive.namelist() if n.endswith(('.xml', '.rels'))]
        chosen = random.sample(names, 1)
        for name in archive.namelist():
            data = archive.read(name)
            copy.writestr(name, changed(data, random) if name in chosen else data)


def bounds():
    resource.setrlimit(resource.RLIMIT_CPU, (10, 10))
    if not sanitized:
        resource.setrlimit(resource.RLIMIT_AS, (1 << 30, 1 << 30))


bad, ended = 0, {}
with tempfile.TemporaryDirectory() as work:
    books = sorted(n for n in os.listdir(folder) if n.endswith(('.xlsx', '.ods')))
    for i in range(int(count)):
        chance = random.Random(f'{seed} {i}')
        name = chance.choice(books)
        out = os.path.join(work, 'w' + os.path.splitext(name)[1])
        mutated(os.path.join(folder, name), out, chance)
        run = subprocess.run([program, 'check', out, '--tables', tables], capture_output=True, preexec_fn=bounds,
                             env={'ASAN_OPTIONS': 'exitcode=99', 'UBSAN_OPTIONS': 'exitcode=99'})
        ended[run.returncode] = ended.get(run.returncode, 0) + 1
        if run.returncode not in (0, 1) or (run.returncode == 1 and b'error' not in run.stderr):
            bad += 1
            print(f'{name}, seed {seed}, number {i}: exit {run.returncode}:', run.stderr.decode(errors='replace')[:2000])
print('exit status: ' + ', '.join(f'{k}: {v}' for k, v in sorted(ended.items())))
sys.exit(bad > 0 or 1 not in ended)
