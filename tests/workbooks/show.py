#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""show.py FILE [--json JSON]: an .xlsx as another program finds it: its sheets, each with the rows that stay, the comments, the columns that
are text, the lists to choose from, and the rows of cells; numbers with six digits, since the last ones are the machine's. Read by
zipfile and ElementTree, as ECMA-376-1 describes it; shares no code with Hankful. With --json, the answer that JSON states has to be
in the sheets: each text and each number of it, as a value of its own or in a list of texts."""
import json, re, sys, zipfile
import xml.etree.ElementTree as tree

MAIN = '{http://schemas.openxmlformats.org/spreadsheetml/2006/main}'
RELATED = '{http://schemas.openxmlformats.org/officeDocument/2006/relationships}id'


def part(archive, name):
    return tree.fromstring(archive.read(name)) if name in archive.namelist() else None


def related(archive, name):
    folder, _, file = name.rpartition('/')
    links = part(archive, f'{folder}/_rels/{file}.rels')
    return {} if links is None else {r.get('Id'): (r.get('Type').rpartition('/')[2], r.get('Target')) for r in links}


def shared(archive):
    strings = part(archive, 'xl/sharedStrings.xml')
    return [] if strings is None else [''.join(t.text or '' for t in si.iter(MAIN + 't')) for si in strings]


def text_styles(archive):
    """The styles of cells whose number format is text (49, or a format of its own), by index."""
    styles = part(archive, 'xl/styles.xml')
    text = ['49'] + [f.get('numFmtId') for f in styles.iter(MAIN + 'numFmt') if f.get('formatCode') == '@']
    return {str(i) for i, xf in enumerate(styles.find(MAIN + 'cellXfs')) if xf.get('numFmtId') in text}


def read(path):
    """Yields (name, the root of its sheet, {row: {column: value}}, [(cell, comment)])."""
    with zipfile.ZipFile(path) as archive:
        assert archive.testzip() is None
        strings, styles, links = shared(archive), text_styles(archive), related(archive, 'xl/workbook.xml')
        for sheet in part(archive, 'xl/workbook.xml').iter(MAIN + 'sheet'):
            name = 'xl/' + links[sheet.get(RELATED)][1]
            root = part(archive, name)
            rows, comments = {}, []
            for cell in root.iter(MAIN + 'c'):
                letters, row = re.fullmatch('([A-Z]+)([0-9]+)', cell.get('r')).groups()
                value = cell.findtext(MAIN + 'v')
                if value is not None:
                    kind = cell.get('t', 'n')
                    value = strings[int(value)] if kind == 's' else value == '1' if kind == 'b' else float(value)
                    rows.setdefault(int(row), {})[letters] = value
            for kind, target in related(archive, name).values():
                if kind == 'comments':
                    for comment in part(archive, 'xl/' + target.replace('../', '')).iter(MAIN + 'comment'):
                        comments.append((comment.get('ref'), ''.join(t.text or '' for t in comment.iter(MAIN + 't'))))
            yield sheet.get('name'), root, rows, comments, styles


def word(value):
    return f'{value:.6g}' if isinstance(value, float) else str(value)


def show(path):
    """A long sheet of one list a column is cut: its contents are shipped tables."""
    sheets = list(read(path))
    ends = {f'{name}!${letters}$2:${letters}${max(n for n, row in rows.items() if letters in row)}': f'all of {letters} in {name}'
            for name, _, rows, _, _ in sheets for letters in rows.get(1, {})}
    for name, root, rows, comments, styles in sheets:
        pane = root.find(f'.//{MAIN}pane')
        print(f'{name}:' + (f' {pane.get("ySplit")} row stays' if pane is not None and pane.get('state') == 'frozen' else ''))
        for cell, comment in comments:
            print(f'  comment of {cell}: {comment}')
        texts = [c.get('min') for c in root.iter(MAIN + 'col') if c.get('style') in styles]
        print('  columns of text:', *texts)
        for column in root.iter(MAIN + 'col'):
            assert column.get('customWidth') == '1' and float(column.get('width')) >= 9
        for rule in root.iter(MAIN + 'dataValidation'):
            formula = rule.findtext(MAIN + 'formula1')
            print(f'  list in {rule.get("sqref")}: {ends.get(formula, formula)}')
        for number, row in sorted(rows.items())[:4 if len(rows) > 40 else None]:
            print(f'  {number}', *(f'{letters}={word(value)}' for letters, value in row.items()), sep=' | ')


def scalars(value):
    if isinstance(value, dict):
        for inner in value.values():
            yield from scalars(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from scalars(inner)
    elif value is not None and value != '' and not isinstance(value, bool):
        yield value


def compare(path, answer):
    cells = [value for _, _, rows, _, _ in read(path) for row in rows.values() for value in row.values()]
    numbers, texts = {f'{v:.12g}' for v in cells if isinstance(v, float)}, '\n'.join(v for v in cells if isinstance(v, str))
    count, missing = 0, []
    for value in scalars(answer):
        count += 1
        number = not isinstance(value, str) or re.fullmatch('-?[0-9]+[.][0-9]+', value)
        if number and f'{float(value):.12g}' not in numbers and f'{value}' not in texts or not number and value not in texts:
            missing.append(value)
    print(f'{count > 30 and "many" or count} values of the JSON, {len(missing)} missing in the sheets', *missing[:10])


if sys.argv[2:3] == ['--json']:
    compare(sys.argv[1], json.load(open(sys.argv[3], encoding='utf-8')))
else:
    show(sys.argv[1])
