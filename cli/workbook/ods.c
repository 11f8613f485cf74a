/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * OpenDocument (OASIS ODF 1.2, part 1, chapter 9): content.xml. A cell has its value in an attribute, and in its
 * paragraphs the text that the sheet shows. Cells that a merged one covers keep their column.
 */
#include "workbook/decimal.h"
#include "workbook/formats.h"
#include "workbook/shown.h"

#include <stdlib.h>
#include <string.h>

struct ods {
    struct package *package;
    struct sheets *sheets;
    struct growing text; /* of the paragraphs of the cell */
    size_t sheet;
    uint32_t row, column;
    uint32_t rows, columns; /* how often the row and the cell are repeated */
    size_t row_first;       /* index of the first cell of the row */
    size_t depth, skip;     /* of elements; skip: within a note or drawing that began at this depth; 0: none */
    bool in_table, in_cell, covered, in_paragraph, has_formula, has_value;
    size_t paragraphs;
    enum { TYPE_NONE, TYPE_NUMBER, TYPE_PERCENT, TYPE_TEXT } type;
    char value[64];
    bool encrypted;
};

static void stop(struct ods *o)
{
    package_stop(o->package);
}

/* ---- The manifest ---- */

static void start_manifest(void *data, const char *name, const char **attributes)
{
    (void)attributes;
    struct ods *o = data;
    o->encrypted = o->encrypted || strcmp(name, "encryption-data") == 0;
}

static void ignore(void *data, const char *name)
{
    (void)data, (void)name;
}

/* ---- Cells ---- */

/* Returns how often an element is repeated, at least once. */
static uint32_t repeated(const char **attributes, const char *name, uint32_t most)
{
    const char *text = attribute(attributes, name);
    unsigned long count;
    if (text && !decimal_whole(text, most, &count))
        return most;
    return text && count > 0 ? (uint32_t)count : 1;
}

static void start_table(struct ods *o, const char **attributes)
{
    const char *name = attribute(attributes, "name");
    const struct sheet *sheet = sheets_add(o->sheets, name ? name : "");
    if (!sheet) {
        stop(o);
        return;
    }
    o->sheet = o->sheets->count - 1;
    o->in_table = sheet->wanted;
    o->row = 0;
}

static void start_row(struct ods *o, const char **attributes)
{
    o->rows = repeated(attributes, "number-rows-repeated", SHEETS_ROWS);
    o->row_first = o->sheets->list[o->sheet].count;
    o->column = 0;
}

static void start_cell(struct ods *o, const char *name, const char **attributes)
{
    static const struct {
        const char *name;
        int type;
    } types[] = {{"float", TYPE_NUMBER}, {"currency", TYPE_NUMBER}, {"percentage", TYPE_PERCENT}};
    const char *type = attribute(attributes, "value-type"), *value = attribute(attributes, "value");
    o->in_cell = true;
    o->covered = strcmp(name, "covered-table-cell") == 0;
    o->columns = repeated(attributes, "number-columns-repeated", SHEETS_COLUMNS);
    o->has_formula = attribute(attributes, "formula") != NULL;
    o->has_value = type != NULL;
    o->type = TYPE_TEXT; /* also a date, a time or a truth value: as the sheet shows it */
    o->paragraphs = 0;
    for (size_t i = 0; type && value && i < sizeof types / sizeof types[0]; i++)
        if (strcmp(type, types[i].name) == 0)
            o->type = types[i].type;
    strncpy(o->value, value ? value : "", sizeof o->value - 1);
    growing_clear(&o->text);
    const char *string = attribute(attributes, "string-value");
    if (string && type && strcmp(type, "string") == 0)
        growing_add(&o->text, o->package, string, strlen(string));
    const char *day = attribute(attributes, "date-value");
    if (day && type && strcmp(type, "date") == 0)
        strncpy(o->value, day, sizeof o->value - 1);
}

static void put(struct ods *o, enum sheet_kind kind, const char *text)
{
    struct sheet *sheet = &o->sheets->list[o->sheet];
    for (uint32_t i = 0; i < o->columns; i++) {
        const struct sheet_cell cell = {.row = o->row, .column = o->column + i, .kind = kind};
        if (!sheets_put(o->sheets, sheet, cell, text, strlen(text))) {
            stop(o);
            return;
        }
    }
}

static void put_number(struct ods *o)
{
    char shown[SHOWN_TEXT];
    double value;
    const char *end = decimal_read(o->value, &value);
    if (end == o->value || *end) {
        sheets_refuse(o->sheets, "it is damaged: a cell has an impossible number",
                      "open it in a spreadsheet and save it again");
        stop(o);
        return;
    }
    shown_as(value, o->type == TYPE_PERCENT, growing_text(&o->text), shown);
    put(o, CELL_NUMBER, shown);
}

/* A date shown as a plain number, such as the day alone, is written as its value. */
static const char *text_of_cell(const struct ods *o)
{
    const char *shown = growing_text(&o->text);
    const bool is_day = strlen(o->value) >= 10 && o->value[4] == '-';
    return is_day && strspn(shown, "0123456789., ") == strlen(shown) ? o->value : shown;
}

static void end_cell(struct ods *o)
{
    o->in_cell = false;
    if (o->covered)
        ; /* the sheet does not show it */
    else if (o->has_formula && !o->has_value && o->text.used == 0)
        put(o, CELL_UNSOLVED, "");
    else if (o->type == TYPE_TEXT && *text_of_cell(o))
        put(o, CELL_TEXT, text_of_cell(o));
    else if (o->type != TYPE_TEXT)
        put_number(o);
    o->column += o->columns;
}

/* Repeats the cells of the row, if it has any. */
static void end_row(struct ods *o)
{
    struct sheet *sheet = &o->sheets->list[o->sheet];
    const size_t end = sheet->count;
    for (uint32_t i = 1; end > o->row_first && i < o->rows; i++)
        for (size_t c = o->row_first; c < end; c++) {
            struct sheet_cell cell = sheet->cells[c];
            const char *text = sheets_text(o->sheets, &cell);
            char *copy = strdup(text);
            cell.row = o->row + i;
            const bool good = copy && sheets_put(o->sheets, sheet, cell, copy, strlen(copy));
            if (!copy)
                sheets_no_memory(o->sheets);
            free(copy);
            if (!good) {
                stop(o);
                return;
            }
        }
    o->row = o->rows > SHEETS_ROWS - o->row ? SHEETS_ROWS : o->row + o->rows;
}

/* ---- Elements ---- */

/* Returns whether an element within a cell is no part of its text. */
static bool is_aside(const char *name)
{
    static const char *const names[] = {"annotation", "shapes", "frame", "custom-shape", "g", "control", "ruby-text"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++)
        if (strcmp(name, names[i]) == 0)
            return true;
    return false;
}

static void start_inside_cell(struct ods *o, const char *name, const char **attributes)
{
    if (strcmp(name, "p") == 0) {
        if (o->paragraphs++ > 0)
            growing_add(&o->text, o->package, "\n", 1);
        else
            growing_clear(&o->text);
        o->in_paragraph = true;
    } else if (strcmp(name, "s") == 0) {
        for (uint32_t i = repeated(attributes, "c", 10000); i > 0; i--)
            growing_add(&o->text, o->package, " ", 1);
    } else if (strcmp(name, "tab") == 0) {
        growing_add(&o->text, o->package, "\t", 1);
    } else if (strcmp(name, "line-break") == 0) {
        growing_add(&o->text, o->package, "\n", 1);
    }
}

static bool is_cell(const char *name)
{
    return strcmp(name, "table-cell") == 0 || strcmp(name, "covered-table-cell") == 0;
}

static void start_element(void *data, const char *name, const char **attributes)
{
    struct ods *o = data;
    o->depth++;
    if (o->skip)
        return;
    if (is_aside(name))
        o->skip = o->depth;
    else if (o->in_cell)
        start_inside_cell(o, name, attributes);
    else if (strcmp(name, "table") == 0)
        start_table(o, attributes);
    else if (o->in_table && strcmp(name, "table-row") == 0)
        start_row(o, attributes);
    else if (o->in_table && is_cell(name))
        start_cell(o, name, attributes);
}

static void end_element(void *data, const char *name)
{
    struct ods *o = data;
    const size_t depth = o->depth--;
    if (o->skip) {
        o->skip = depth == o->skip ? 0 : o->skip;
        return;
    }
    if (strcmp(name, "p") == 0)
        o->in_paragraph = false;
    else if (o->in_cell && is_cell(name))
        end_cell(o);
    else if (o->in_table && !o->in_cell && strcmp(name, "table-row") == 0)
        end_row(o);
    else if (!o->in_cell && strcmp(name, "table") == 0)
        o->in_table = false;
}

static void take_text(void *data, const char *text, size_t length)
{
    struct ods *o = data;
    if (o->in_cell && o->in_paragraph && !o->skip)
        growing_add(&o->text, o->package, text, length);
}

void ods_read(struct package *package)
{
    struct ods o = {.package = package, .sheets = package->sheets, .rows = 1, .columns = 1};
    const struct part_reader manifest = {&o, start_manifest, ignore, NULL},
                             content = {&o, start_element, end_element, take_text};
    if (package_has(package, "META-INF/manifest.xml"))
        package_parse(package, "META-INF/manifest.xml", &manifest);
    if (o.encrypted)
        sheets_refuse(package->sheets, "it has a password", "save it without a password");
    package_parse(package, "content.xml", &content);
    free(o.text.bytes);
}
