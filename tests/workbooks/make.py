#!/usr/bin/env python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""make.py FOLDER OUT KIND...: the project in FOLDER as a workbook of each kind, OUT/KIND, from the formats' own standards (ECMA-376-1,
OASIS ODF 1.2) and without any library of spreadsheets: what is written here shares no code with what reads it."""
import csv, io, os, struct, sys, zipfile
from xml.sax.saxutils import escape, quoteattr

MAIN = 'http://schemas.openxmlformats.org/spreadsheetml/2006/main'
RELATED = 'http://schemas.openxmlformats.org/officeDocument/2006/relationships'
PACKAGE = 'http://schemas.openxmlformats.org/package/2006/'


def letters(column):
    name, column = '', column + 1
    while column:
        column, rest = divmod(column - 1, 26)
        name = chr(65 + rest) + name
    return name


def sheets_of(folder):
    sheets = {}
    for name in sorted(os.listdir(folder)):
        if name.endswith('.csv'):
            lines = [line.rstrip('\n') for line in open(os.path.join(folder, name), encoding='utf-8')]
            sheets[name[:-4]] = [[line] if line.startswith('#') else next(csv.reader([line]), []) for line in lines]
    return sheets


class Xlsx:
    """Cells are texts, or XML of their own: (attributes, content)."""

    def __init__(self, sheets):
        self.sheets = sheets
        self.cells = {}                     # (sheet, 'C4'): (attributes, content)
        self.behind = {}                    # sheet: XML behind its rows
        self.row_attributes = {}            # (sheet, row): attributes
        self.last_rows = {}                 # sheet: XML of rows below the others
        self.formats, self.names, self.extra = [], {}, {}
        self.properties = ''

    def style(self, code):
        self.formats.append(code)
        return len(self.formats)

    def sheet(self, name):
        rows = []
        for r, row in enumerate(self.sheets[name]):
            cells = ''
            for c, text in enumerate(row):
                place = letters(c) + str(r + 1)
                own = self.cells.get((name, place))
                if own:
                    cells += f'<c r="{place}" {own[0]}>{own[1]}</c>'
                elif text:
                    cells += f'<c r="{place}" t="inlineStr"><is><t xml:space="preserve">{escape(text)}</t></is></c>'
            rows.append(f'<row r="{r + 1}"{self.row_attributes.get((name, r + 1), "")}>{cells}</row>')
        rows.append(self.last_rows.get(name, ''))
        return f'<worksheet xmlns="{MAIN}"><sheetData>{"".join(rows)}</sheetData>{self.behind.get(name, "")}</worksheet>'

    def parts(self):
        names = list(self.sheets)
        types = ''.join(f'<Override PartName="/xl/worksheets/s{i}.xml" ContentType="application/vnd.openxmlformats-officedocument.'
                        'spreadsheetml.worksheet+xml"/>' for i in range(len(names)))
        for part, kind in ('workbook', 'sheet.main'), ('styles', 'styles'):
            types += (f'<Override PartName="/xl/{part}.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.'
                      f'{kind}+xml"/>')
        yield '[Content_Types].xml', (f'<Types xmlns="{PACKAGE}content-types"><Default Extension="rels" ContentType="application/vnd.'
                                      'openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/>'
                                      f'{types}</Types>')
        yield '_rels/.rels', (f'<Relationships xmlns="{PACKAGE}relationships"><Relationship Id="a" Type="{RELATED}/officeDocument" '
                              'Target="xl/workbook.xml"/></Relationships>')
        listed = ''.join(f'<sheet name={quoteattr(self.names.get(n, n))} sheetId="{i + 1}" r:id="s{i}"/>' for i, n in enumerate(names))
        yield 'xl/workbook.xml', (f'<workbook xmlns="{MAIN}" xmlns:r="{RELATED}">{self.properties}<sheets>{listed}</sheets></workbook>')
        related = ''.join(f'<Relationship Id="s{i}" Type="{RELATED}/worksheet" Target="worksheets/s{i}.xml"/>' for i in range(len(names)))
        yield 'xl/_rels/workbook.xml.rels', (f'<Relationships xmlns="{PACKAGE}relationships">{related}<Relationship Id="y" '
                                             f'Type="{RELATED}/styles" Target="/xl/styles.xml"/></Relationships>')
        codes = ''.join(f'<numFmt numFmtId="{164 + i}" formatCode={quoteattr(c)}/>' for i, c in enumerate(self.formats))
        styles = ''.join(f'<xf numFmtId="{164 + i}"/>' for i in range(len(self.formats)))
        yield 'xl/styles.xml', (f'<styleSheet xmlns="{MAIN}"><numFmts>{codes}</numFmts><cellXfs><xf numFmtId="0"/>{styles}</cellXfs>'
                                '</styleSheet>')
        for i, name in enumerate(names):
            yield f'xl/worksheets/s{i}.xml', self.sheet(name)

    def write(self, path):
        with zipfile.ZipFile(path, 'w', zipfile.ZIP_DEFLATED) as archive:
            for name, text in self.parts():
                archive.writestr(name, self.extra.get(name, '<?xml version="1.0" encoding="UTF-8"?>' + text))


def number(book, sheet, place, value, code=None):
    book.cells[sheet, place] = (f's="{book.style(code)}"' if code else '', f'<v>{value}</v>')


# Each kind changes a workbook that is right. The places are those of the project that "hankful new" makes.

def right(book):
    pass


def shown(book):
    """How cells are shown: units, currencies, percentages, a rounded number, and a truth value."""
    number(book, 'yarns', 'C9', 50, '0" g"')
    number(book, 'yarns', 'D9', 120, '#,##0\\ "m"')
    number(book, 'yarns', 'J9', 5.8, '[$€-2]\\ #,##0.00')
    number(book, 'yarns', 'J10', 5.8, '#,##0.00\\ [$€-407];[Red]\\-#,##0.00\\ [$€-407]')
    number(book, 'project', 'B15', 0.95, '0%')
    number(book, 'grade', 'C4', 48.000000000000001, '0.0')
    book.cells['grade', 'D4'] = ('t="str"', '<f>C4+5</f><v>53</v>')
    number(book, 'grade', 'E4', 58)


def harmless(book):
    """Merged cells, hidden rows, a filter, phonetic text, a shared formula with its result, an empty styled cell."""
    book.behind['grade'] = '<autoFilter ref="A3:F6"/><mergeCells count="1"><mergeCell ref="G1:H2"/></mergeCells>'
    book.row_attributes['pieces', 7] = ' hidden="1" ht="0"'
    book.cells['yarns', 'B9'] = ('t="inlineStr"', '<is><r><rPr><b/></rPr><t>Quay</t></r><r><t xml:space="preserve"> DK</t></r><rPh sb="0" '
                                 'eb="1"><t>kei</t></rPh></is>')
    book.cells['grade', 'C5'] = ('', '<f t="shared" ref="C5" si="0">10+1</f><v>11</v>')
    book.sheets['Sums'] = [['anything', '#REF!']]


def date(book):
    number(book, 'grade', 'C5', 45352, 'd\\-mmm')


def builtin_date(book):
    book.formats.append('General')
    book.extra['xl/styles.xml'] = (f'<styleSheet xmlns="{MAIN}"><cellXfs><xf numFmtId="0"/><xf numFmtId="14"/></cellXfs></styleSheet>')
    book.cells['grade', 'C5'] = ('s="1"', '<v>45352</v>')


def date_1904(book):
    book.properties = '<workbookPr date1904="1"/>'
    number(book, 'grade', 'C5', 43890, 'yyyy\\-mm\\-dd')


def day_alone(book):
    number(book, 'grade', 'C5', 45352, 'd')


def time(book):
    number(book, 'grade', 'C5', 0.5486111111, 'h:mm')


def error(book):
    book.cells['pieces', 'F8'] = ('t="e"', '<f>#REF!*2</f><v>#REF!</v>')


def formula(book):
    book.cells['pieces', 'F8'] = ('', '<f>6+3</f>')


def unit(book):
    number(book, 'yarns', 'D9', 120, '0" furlongs"')


def currency(book):
    number(book, 'yarns', 'J9', 5.8, '"£"0.00')


def misnamed(book):
    book.names['swatches'] = 'Swatch'


def doubled(book):
    book.sheets['Yarns '] = book.sheets['yarns']


def missing(book):
    del book.sheets['yarns']


def column(book):
    book.sheets['pieces'] = [['peice' if t == 'piece' else t for t in row] for row in book.sheets['pieces']]


def doctype(book):
    book.extra['xl/workbook.xml'] = '<!DOCTYPE a [<!ENTITY b "bbbb"><!ENTITY c "&b;&b;&b;">]><workbook>&c;</workbook>'


def broken(book):
    book.extra['xl/worksheets/s0.xml'] = f'<worksheet xmlns="{MAIN}"><sheetData><row r="1"><c r="A1"></row>'


def place(book):
    book.extra['xl/worksheets/s0.xml'] = (f'<worksheet xmlns="{MAIN}"><sheetData><row r="1"><c r="ZZZZ1"><v>1</v></c></row></sheetData>'
                                          '</worksheet>')


def bomb(book):
    book.extra['xl/worksheets/s0.xml'] = f'<worksheet xmlns="{MAIN}">' + ' ' * (140 << 20) + '</worksheet>'


def cells(book):
    book.extra['xl/worksheets/s0.xml'] = f'<worksheet xmlns="{MAIN}"><sheetData><row>' + '<c><v>1</v></c>' * 20000 + '</row></sheetData></worksheet>'


def deep(book):
    book.extra['xl/worksheets/s0.xml'] = f'<worksheet xmlns="{MAIN}">' + '<a>' * 1000000


def empty_rows(book):
    book.last_rows['pieces'] = ''.join(['<row r="%d"/>' % r for r in range(len(book.sheets['pieces']) + 1, 1048577)])


def far(book):
    book.last_rows['pieces'] = '<row r="1048576"><c r="A1048576" t="inlineStr"><is><t>x</t></is></c></row>'


# Files that are no such archives.

def whole(folder):
    file = io.BytesIO()
    Xlsx(sheets_of(folder)).write(file)
    return file.getvalue()


def ods(content, manifest=''):
    def write(folder, path):
        with zipfile.ZipFile(path, 'w', zipfile.ZIP_DEFLATED) as archive:
            archive.writestr('mimetype', 'application/vnd.oasis.opendocument.spreadsheet', zipfile.ZIP_STORED)
            archive.writestr('content.xml', content)
            archive.writestr('META-INF/manifest.xml', f'<manifest>{manifest}</manifest>')
    return write


def table(name, rows):
    return f'<table:table table:name="{name}">{rows}</table:table>'


def document(tables):
    return ('<?xml version="1.0"?><office:document-content xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" '
            'xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0">'
            f'<office:body><office:spreadsheet>{tables}</office:spreadsheet></office:body></office:document-content>')


def repeated(count, cells):
    row = f'<table:table-row table:number-rows-repeated="{count}"><table:table-cell table:number-columns-repeated="{cells}" ' \
          'office:value-type="float" office:value="1"><text:p>1</text:p></table:table-cell></table:table-row>'
    return document(table('pieces', row))


def raw(make):
    def write(folder, path):
        open(path, 'wb').write(make(folder))
    return write


def headed(folder):
    """The same archive with the sizes of its parts in the list stated as 1 byte."""
    data = bytearray(whole(folder))
    at = data.find(b'PK\x01\x02')
    while at >= 0:
        data[at + 24:at + 28] = struct.pack('<I', 1)
        at = data.find(b'PK\x01\x02', at + 4)
    return bytes(data)


FILES = {
    'password': raw(lambda folder: b'\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1' + bytes(2000)),
    'ods-password': ods('<x/>', '<file-entry><encryption-data/></file-entry>'),
    'cut': raw(lambda folder: whole(folder)[:-200]),
    'damaged': raw(lambda folder: b''.join([whole(folder)[:600], b'\xff' * 300, whole(folder)[900:]])),
    'headed': raw(headed),
    'text': raw(lambda folder: b'piece,part\n'),
    'nothing': raw(lambda folder: b''),
    'archive': lambda folder, path: zipfile.ZipFile(path, 'w').writestr('a.txt', 'a'),
    'ods-repeated': ods(repeated(1048576, 16384)),
    'ods-no-xml': ods('<office:document-content'),
}

folder, out, *kinds = sys.argv[1:]
for kind in kinds:
    path = os.path.join(out, kind)
    if kind in FILES:
        FILES[kind](folder, path)
    else:
        made = Xlsx(sheets_of(folder))
        globals()[kind.replace('-', '_')](made)
        made.write(path)
