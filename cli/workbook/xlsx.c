/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Office Open XML (ECMA-376-1): the parts by their relationships, then shared strings, number formats, and the sheets
 * that a project has. Formulas count by their saved result; merged ranges, comments and drawings are passed over.
 */
#include "workbook/decimal.h"
#include "workbook/formats.h"
#include "workbook/shown.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define SAVE_AGAIN "open it in a spreadsheet and save it again"
#define LIST_MOST ((size_t)2000000)
#define PART_SIZE 300
#define ID_MOST 100000000

/* One sheet of the workbook: its name, the identifier of its relationship, and its part. */
struct listed {
    char *name, *id, part[PART_SIZE];
};

struct xlsx {
    struct package *package;
    struct sheets *sheets;
    char workbook[PART_SIZE], strings[PART_SIZE], styles[PART_SIZE];
    struct listed *listed;
    size_t listed_count;
    bool from_1904;
    /* shared strings: offsets in `pool`, each zero-terminated */
    struct growing pool, text;
    size_t *string_at;
    size_t string_count, string_capacity;
    bool inside_text, phonetic;
    /* number formats: codes by identifier, and the format of each style of cells */
    struct {
        unsigned long id;
        char *code;
    } * codes;
    size_t code_count;
    struct style {
        struct shown_format format;
        const char *code; /* NULL: General */
    } * cell_styles;
    size_t style_count;
    bool in_cell_styles;
    /* the current sheet */
    size_t sheet;
    uint32_t row, column;
    char type[16];
    unsigned long style;
    bool in_value, has_formula, has_value;
    size_t empty, merged,
        steps; /* empty: offset of an empty text; ranges of merged cells; cells that were compared with them */
};

static void stop(struct xlsx *x)
{
    package_stop(x->package);
}

static void no_memory(struct xlsx *x)
{
    sheets_no_memory(x->sheets);
    stop(x);
}

static void damaged(struct xlsx *x)
{
    sheets_refuse(x->sheets, "it is damaged: a cell has an impossible place or text", SAVE_AGAIN);
    stop(x);
}

static bool ends_with(const char *text, const char *end)
{
    const size_t length = strlen(text), wanted = strlen(end);
    return length >= wanted && strcmp(text + length - wanted, end) == 0;
}

/* Writes the part that `target` names in a relationship of a part in `folder` ("xl/"). */
static void resolve(const char *folder, const char *target, char part[PART_SIZE])
{
    if (*target == '/') {
        snprintf(part, PART_SIZE, "%s", target + 1);
        return;
    }
    size_t length = strlen(folder);
    while (strncmp(target, "../", 3) == 0) {
        target += 3;
        length -= length > 0;
        while (length > 0 && folder[length - 1] != '/')
            length--;
    }
    snprintf(part, PART_SIZE, "%.*s%s", (int)length, folder, target);
}

static void ignore(void *data, const char *name)
{
    (void)data, (void)name;
}

/* ---- Relationships and the list of sheets ---- */

static void start_root(void *data, const char *name, const char **attributes)
{
    struct xlsx *x = data;
    const char *type = attribute(attributes, "Type"), *target = attribute(attributes, "Target");
    if (strcmp(name, "Relationship") == 0 && type && target && ends_with(type, "/officeDocument"))
        resolve("", target, x->workbook);
}

/* Writes the folder of a part, "xl/". */
static void folder_of(const char *part, char folder[PART_SIZE])
{
    const char *slash = strrchr(part, '/');
    snprintf(folder, PART_SIZE, "%.*s", slash ? (int)(slash + 1 - part) : 0, part);
}

static void start_relations(void *data, const char *name, const char **attributes)
{
    struct xlsx *x = data;
    const char *type = attribute(attributes, "Type"), *target = attribute(attributes, "Target");
    const char *id = attribute(attributes, "Id");
    char folder[PART_SIZE];
    if (strcmp(name, "Relationship") != 0 || !type || !target || !id)
        return;
    folder_of(x->workbook, folder);
    if (ends_with(type, "/sharedStrings"))
        resolve(folder, target, x->strings);
    else if (ends_with(type, "/styles"))
        resolve(folder, target, x->styles);
    else if (ends_with(type, "/worksheet"))
        for (size_t i = 0; i < x->listed_count; i++)
            if (strcmp(x->listed[i].id, id) == 0)
                resolve(folder, target, x->listed[i].part);
}

static void add_listed(struct xlsx *x, const char *name, const char *id)
{
    struct listed *list = realloc(x->listed, (x->listed_count + 1) * sizeof *list);
    if (!list) {
        no_memory(x);
        return;
    }
    x->listed = list;
    list[x->listed_count] = (struct listed){.name = strdup(name), .id = strdup(id)};
    if (!list[x->listed_count].name || !list[x->listed_count].id)
        no_memory(x);
    x->listed_count++;
}

static bool is_true(const char *value)
{
    return value && (strcmp(value, "1") == 0 || strcmp(value, "true") == 0);
}

static void start_workbook(void *data, const char *name, const char **attributes)
{
    struct xlsx *x = data;
    const char *title = attribute(attributes, "name"), *id = NULL;
    if (strcmp(name, "workbookPr") == 0)
        x->from_1904 = is_true(attribute(attributes, "date1904"));
    for (size_t i = 0; attributes[i]; i += 2) /* r:id, not sheetId; the prefix is the file's choice */
        if (ends_with(attributes[i], ":id"))
            id = attributes[i + 1];
    if (strcmp(name, "sheet") == 0 && title && id)
        add_listed(x, title, id);
}

/* ---- Shared strings ---- */

/* Returns the value of four hexadecimal digits; 0x10000 if others stand there. */
static unsigned hexadecimal(const char *text)
{
    static const char digits[] = "0123456789abcdef0123456789ABCDEF";
    unsigned value = 0;
    for (size_t i = 0; i < 4; i++) {
        const char *digit = text[i] ? strchr(digits, text[i]) : NULL;
        if (!digit)
            return 0x10000;
        value = value * 16 + (unsigned)(digit - digits) % 16;
    }
    return value;
}

/* Appends text, in which _x000D_ stands for a character that XML cannot hold (ECMA-376-1, 22.9.2.19). */
static void add_decoded(struct xlsx *x, struct growing *pool, const char *text)
{
    for (const char *at; (at = strstr(text, "_x")); text = at) {
        const unsigned code = hexadecimal(at + 2);
        if (code >= 0x80 || at[6] != '_') { /* others can be written as they are, and are */
            growing_add(pool, x->package, text, (size_t)(at + 2 - text));
            at += 2;
            continue;
        }
        growing_add(pool, x->package, text, (size_t)(at - text));
        if (code == '\t' || code == '\n' || code >= ' ')
            growing_add(pool, x->package, (char[]){(char)code}, 1);
        at += 7;
    }
    growing_add(pool, x->package, text, strlen(text));
}

static void add_string(struct xlsx *x)
{
    if (x->string_count == x->string_capacity) {
        const size_t capacity = x->string_capacity ? 2 * x->string_capacity : 256;
        size_t *grown = capacity > LIST_MOST ? NULL : realloc(x->string_at, capacity * sizeof *grown);
        if (!grown) {
            no_memory(x);
            return;
        }
        x->string_at = grown;
        x->string_capacity = capacity;
    }
    x->string_at[x->string_count++] = x->pool.used;
    add_decoded(x, &x->pool, growing_text(&x->text));
    growing_add(&x->pool, x->package, "", 1);
}

static void start_text(struct xlsx *x, const char *name)
{
    x->phonetic = x->phonetic || strcmp(name, "rPh") == 0;
    x->inside_text = strcmp(name, "t") == 0 && !x->phonetic;
}

static void end_text(struct xlsx *x, const char *name)
{
    x->phonetic = x->phonetic && strcmp(name, "rPh") != 0;
    x->inside_text = false;
}

static void start_string(void *data, const char *name, const char **attributes)
{
    (void)attributes;
    struct xlsx *x = data;
    if (strcmp(name, "si") == 0)
        growing_clear(&x->text);
    start_text(x, name);
}

static void end_string(void *data, const char *name)
{
    struct xlsx *x = data;
    end_text(x, name);
    if (strcmp(name, "si") == 0)
        add_string(x);
}

static void string_text(void *data, const char *text, size_t length)
{
    struct xlsx *x = data;
    if (x->inside_text || x->in_value)
        growing_add(&x->text, x->package, text, length);
}

/* ---- Styles ---- */

static const char *code_of(const struct xlsx *x, unsigned long id)
{
    for (size_t i = 0; i < x->code_count; i++)
        if (x->codes[i].id == id)
            return x->codes[i].code;
    return shown_builtin(id);
}

static void add_code(struct xlsx *x, const char *id, const char *code)
{
    void *grown = x->code_count < 65536 ? realloc(x->codes, (x->code_count + 1) * sizeof *x->codes) : NULL;
    if (grown)
        x->codes = grown;
    char *copy = grown ? strdup(code) : NULL;
    if (!copy) {
        no_memory(x);
        return;
    }
    decimal_whole(id, ID_MOST, &x->codes[x->code_count].id);
    x->codes[x->code_count++].code = copy;
}

static void add_style(struct xlsx *x, const char *id)
{
    struct style *grown = x->style_count < 65536 ? realloc(x->cell_styles, (x->style_count + 1) * sizeof *grown) : NULL;
    if (!grown) {
        no_memory(x);
        return;
    }
    x->cell_styles = grown;
    unsigned long number;
    const char *code = id && decimal_whole(id, ID_MOST, &number) ? code_of(x, number) : NULL;
    struct style *style = &grown[x->style_count++];
    *style = (struct style){.code = code};
    if (code)
        style->format = shown_format_of(code);
}

static void start_style(void *data, const char *name, const char **attributes)
{
    struct xlsx *x = data;
    const char *id = attribute(attributes, "numFmtId"), *code = attribute(attributes, "formatCode");
    if (strcmp(name, "cellXfs") == 0)
        x->in_cell_styles = true;
    else if (strcmp(name, "numFmt") == 0 && id && code)
        add_code(x, id, code);
    else if (strcmp(name, "xf") == 0 && x->in_cell_styles)
        add_style(x, id);
}

static void end_style(void *data, const char *name)
{
    struct xlsx *x = data;
    if (strcmp(name, "cellXfs") == 0)
        x->in_cell_styles = false;
}

/* ---- Cells ---- */

/* Reads the place "AB12". */
static bool read_place(const char *text, uint32_t *row, uint32_t *column)
{
    uint64_t letters = 0, digits = 0;
    const char *c = text;
    for (; *c >= 'A' && *c <= 'Z' && c < text + 4; c++)
        letters = letters * 26 + (uint64_t)(*c - 'A' + 1);
    const char *number = c;
    for (; *c >= '0' && *c <= '9' && c < number + 8; c++)
        digits = digits * 10 + (uint64_t)(*c - '0');
    if (*c || letters == 0 || digits == 0 || letters > SHEETS_COLUMNS || digits > SHEETS_ROWS)
        return false;
    *column = (uint32_t)letters - 1;
    *row = (uint32_t)digits - 1;
    return true;
}

static void start_row(struct xlsx *x, const char **attributes)
{
    const char *number = attribute(attributes, "r");
    unsigned long row = (unsigned long)x->row + 1;
    if ((number && !decimal_whole(number, SHEETS_ROWS, &row)) || row == 0 || row > SHEETS_ROWS)
        damaged(x);
    else
        x->row = (uint32_t)row; /* from 1, so that 0 is before the first */
    x->column = 0;
}

static void start_cell(struct xlsx *x, const char **attributes)
{
    const char *place = attribute(attributes, "r"), *type = attribute(attributes, "t"),
               *style = attribute(attributes, "s");
    uint32_t row = x->row - 1, column = x->column;
    if ((place && !read_place(place, &row, &column)) || x->row == 0 || row != x->row - 1)
        damaged(x);
    x->column = column + 1;
    if (!style || !decimal_whole(style, ID_MOST, &x->style))
        x->style = 0;
    x->has_formula = x->has_value = false;
    snprintf(x->type, sizeof x->type, "%s", type ? type : "n");
    growing_clear(&x->text);
}

static void put(struct xlsx *x, enum sheet_kind kind, const char *text)
{
    struct sheet_cell cell = {.row = x->row - 1, .column = x->column - 1, .kind = kind};
    if (!sheets_put(x->sheets, &x->sheets->list[x->sheet], cell, text, strlen(text)))
        stop(x);
}

static void put_number(struct xlsx *x)
{
    char shown[SHOWN_TEXT];
    double value;
    const char *text = growing_text(&x->text), *end = decimal_read(text, &value);
    static const struct style general = {.code = NULL};
    const struct style *style = x->style < x->style_count ? &x->cell_styles[x->style] : &general;
    if (end == text || *end) {
        damaged(x);
        return;
    }
    if (style->format.date)
        shown_date(value, x->from_1904, style->code, shown);
    else
        shown_number(value, &style->format, shown);
    put(x, style->format.date ? CELL_TEXT : CELL_NUMBER, shown);
}

static void put_string(struct xlsx *x)
{
    unsigned long index;
    if (!decimal_whole(growing_text(&x->text), LIST_MOST, &index) || index >= x->string_count)
        damaged(x);
    else
        put(x, CELL_TEXT, x->pool.bytes + x->string_at[index]);
}

static void put_decoded(struct xlsx *x)
{
    struct growing decoded = {0};
    add_decoded(x, &decoded, growing_text(&x->text));
    put(x, CELL_TEXT, growing_text(&decoded));
    free(decoded.bytes);
}

/* A day as text, "2024-03-01T00:00:00", is shown without a time of midnight. */
static void put_day(struct xlsx *x)
{
    char day[SHOWN_TEXT];
    snprintf(day, sizeof day, "%s", growing_text(&x->text));
    char *midnight = strstr(day, "T00:00:00");
    if (midnight)
        *midnight = '\0';
    put(x, CELL_TEXT, day);
}

static void end_cell(struct xlsx *x)
{
    if (x->has_formula && !x->has_value)
        put(x, CELL_UNSOLVED, "");
    else if (!x->has_value)
        return;
    else if (strcmp(x->type, "s") == 0)
        put_string(x);
    else if (strcmp(x->type, "str") == 0 || strcmp(x->type, "inlineStr") == 0 || strcmp(x->type, "e") == 0)
        put_decoded(x);
    else if (strcmp(x->type, "b") == 0)
        put(x, CELL_TEXT, is_true(growing_text(&x->text)) ? "TRUE" : "FALSE");
    else if (strcmp(x->type, "d") == 0)
        put_day(x);
    else if (strcmp(x->type, "n") == 0 && x->text.used > 0)
        put_number(x);
}

/* Returns the index of the first cell, of sorted ones, in that row or below. */
static size_t first_in(const struct sheet *sheet, uint32_t row)
{
    size_t low = 0, high = sheet->count;
    while (low < high) {
        const size_t middle = low + (high - low) / 2;
        if (sheet->cells[middle].row < row)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

#define COVERED_STEPS ((size_t)20000000)

/* Empties the cells that a merged one, "B2:C4", covers: the sheet does not show them. */
static void cover(struct xlsx *x, const char *range)
{
    struct sheet *sheet = &x->sheets->list[x->sheet];
    char first[PART_SIZE];
    const size_t length = strcspn(range, ":");
    uint32_t top, left, bottom, right;
    snprintf(first, sizeof first, "%.*s", length < 20 ? (int)length : 20, range);
    if (!range[length] || !read_place(first, &top, &left) || !read_place(range + length + 1, &bottom, &right))
        return;
    if (x->merged++ == 0)
        sheets_sort(x->sheets);
    for (size_t i = first_in(sheet, top); i < sheet->count && sheet->cells[i].row <= bottom; i++) {
        struct sheet_cell *cell = &sheet->cells[i];
        const bool shown = cell->row == top && cell->column == left;
        if (!shown && cell->column >= left && cell->column <= right) {
            cell->kind = CELL_TEXT;
            cell->text = x->empty;
        }
        if (x->steps++ > COVERED_STEPS) {
            sheets_refuse(x->sheets, "it has more merged cells than any project", "take the merged cells apart");
            stop(x);
            return;
        }
    }
}

static void start_sheet(void *data, const char *name, const char **attributes)
{
    struct xlsx *x = data;
    const char *range = strcmp(name, "mergeCell") == 0 ? attribute(attributes, "ref") : NULL;
    if (range)
        cover(x, range);
    if (strcmp(name, "row") == 0) {
        start_row(x, attributes);
    } else if (strcmp(name, "c") == 0) {
        start_cell(x, attributes);
    } else if (strcmp(name, "f") == 0) {
        x->has_formula = true;
    } else if (strcmp(name, "v") == 0) {
        x->in_value = x->has_value = true;
        growing_clear(&x->text);
    } else if (strcmp(name, "is") == 0) {
        x->has_value = true;
    }
    start_text(x, name);
}

static void end_sheet(void *data, const char *name)
{
    struct xlsx *x = data;
    end_text(x, name);
    if (strcmp(name, "v") == 0)
        x->in_value = false;
    else if (strcmp(name, "c") == 0)
        end_cell(x);
}

static void read_sheets(struct xlsx *x)
{
    const struct part_reader reader = {x, start_sheet, end_sheet, string_text};
    x->empty = sheets_empty(x->sheets);
    for (size_t i = 0; i < x->listed_count && !x->sheets->why; i++) {
        const struct sheet *sheet = sheets_add(x->sheets, x->listed[i].name);
        x->sheet = i;
        x->row = 0;
        x->merged = 0;
        if (sheet && sheet->wanted && *x->listed[i].part)
            package_parse(x->package, x->listed[i].part, &reader);
    }
}

/* ---- The workbook ---- */

static void read_parts(struct xlsx *x)
{
    const struct part_reader root = {x, start_root, ignore, NULL}, workbook = {x, start_workbook, ignore, NULL},
                             relations = {x, start_relations, ignore, NULL},
                             strings = {x, start_string, end_string, string_text},
                             styles = {x, start_style, end_style, NULL};
    char folder[PART_SIZE], part[2 * PART_SIZE + 20];
    bool good = package_parse(x->package, "_rels/.rels", &root);
    if (good && !*x->workbook)
        good = sheets_refuse(x->sheets, "it is a document of another kind, not a workbook", "save it as .xlsx or .ods");
    good = good && package_parse(x->package, x->workbook, &workbook);
    folder_of(x->workbook, folder);
    snprintf(part, sizeof part, "%s_rels/%s.rels", folder, x->workbook + strlen(folder));
    good = good && package_parse(x->package, part, &relations);
    good = good && (!*x->strings || package_parse(x->package, x->strings, &strings));
    good = good && (!*x->styles || package_parse(x->package, x->styles, &styles));
    if (good)
        read_sheets(x);
}

void xlsx_read(struct package *package)
{
    struct xlsx x = {.package = package, .sheets = package->sheets};
    read_parts(&x);
    for (size_t i = 0; i < x.listed_count; i++) {
        free(x.listed[i].name);
        free(x.listed[i].id);
    }
    for (size_t i = 0; i < x.code_count; i++)
        free(x.codes[i].code);
    free(x.codes);
    free(x.listed);
    free(x.cell_styles);
    free(x.string_at);
    free(x.pool.bytes);
    free(x.text.bytes);
}
