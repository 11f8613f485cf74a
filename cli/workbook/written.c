/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "workbook/written.h"

#include "workbook/decimal.h"

#include <stdio.h>
#include <string.h>
#include <unistd.h>

#define CREATED 1577836800 /* 2020-01-01: the same cells give the same bytes */

void written_begin(struct written *written, const char *path, const char *subject)
{
    lxw_doc_properties properties = {.author = (char[]){"Hankful"}, .subject = (char *)(uintptr_t)subject, .created = CREATED};
    *written = (struct written){.book = workbook_new(path), .path = path, .expected.all = true};
    written->no_memory = !written->book;
    if (written->no_memory)
        return;
    written_done(written, workbook_set_properties(written->book, &properties));
    written->head = workbook_add_format(written->book);
    written->text = workbook_add_format(written->book);
    written->no_memory = !written->head || !written->text;
    if (written->no_memory)
        return;
    format_set_bold(written->head);
    format_set_num_format(written->head, "@");
    format_set_num_format(written->text, "@");
}

void written_done(struct written *written, lxw_error error)
{
    if (written->error == LXW_NO_ERROR)
        written->error = error;
}

lxw_worksheet *written_page(struct written *written, const char *name)
{
    if (written->no_memory)
        return NULL;
    lxw_worksheet *page = workbook_add_worksheet(written->book, name);
    if (!page)
        written_done(written, LXW_ERROR_SHEETNAME_ALREADY_USED);
    if (page && !sheets_add(&written->expected, name))
        written->no_memory = true;
    return written->no_memory ? NULL : page;
}

/* Adds a cell that the file must have; text NULL: of any text. */
static void expect(struct written *written, uint32_t row, uint32_t column, const char *text)
{
    struct sheet *sheet = &written->expected.list[written->expected.count - 1];
    const struct sheet_cell cell = {.row = row, .column = column, .kind = text ? CELL_TEXT : CELL_UNSOLVED};
    if (!sheets_put(&written->expected, sheet, cell, text ? text : "", text ? strlen(text) : 0))
        written->no_memory = true;
}

void written_text(struct written *written, lxw_worksheet *page, uint32_t row, uint32_t column, const char *text,
                  lxw_format *format)
{
    expect(written, row, column, text);
    written_done(written, worksheet_write_string(page, row, (lxw_col_t)column, text, format));
}

/* Returns the format of a code; the same code gives the same format. NULL: General, or on failure. */
static lxw_format *format_of(struct written *written, const char *code)
{
    for (size_t i = 0; i < written->format_count; i++)
        if (strcmp(written->formats[i].code, code) == 0)
            return written->formats[i].format;
    lxw_format *format = written->format_count < WRITTEN_FORMATS ? workbook_add_format(written->book) : NULL;
    if (!format) {
        written->no_memory = true;
        return NULL;
    }
    format_set_num_format(format, code);
    snprintf(written->formats[written->format_count].code, sizeof written->formats[0].code, "%s", code);
    written->formats[written->format_count++].format = format;
    return format;
}

bool written_number(struct written *written, lxw_worksheet *page, uint32_t row, uint32_t column, const char *text)
{
    char code[24];
    double value;
    const char *end = decimal_read(text, &value);
    const bool percent = *end == '%';
    const char *point = strchr(text, '.');
    const int decimals = point ? (int)strspn(point + 1, "0123456789") : 0;
    if (end == text || end[percent] || strspn(text, "-0123456789.%") != strlen(text) || decimals > 15)
        return false;
    snprintf(code, sizeof code, "0%s%.*s%s", decimals > 0 ? "." : "", decimals, "000000000000000", percent ? "%" : "");
    lxw_format *format = decimals > 0 || percent ? format_of(written, code) : NULL;
    expect(written, row, column, NULL);
    written_done(written, worksheet_write_number(page, row, (lxw_col_t)column, percent ? value / 100 : value, format));
    return true;
}

void written_value(struct written *written, lxw_worksheet *page, uint32_t row, uint32_t column, double value)
{
    char digits[40];
    double shown = value;
    decimal_short(value, digits, sizeof digits);
    decimal_read(digits, &shown);
    expect(written, row, column, NULL);
    written_done(written, worksheet_write_number(page, row, (lxw_col_t)column, shown, NULL));
}

void written_bool(struct written *written, lxw_worksheet *page, uint32_t row, uint32_t column, bool value)
{
    expect(written, row, column, NULL);
    written_done(written, worksheet_write_boolean(page, row, (lxw_col_t)column, value, NULL));
}

/* ---- The end ---- */

/* Returns whether the texts are the same, control characters aside, which a workbook does not keep. */
static bool same_text(const char *one, const char *other)
{
    do {
        while (*one && (unsigned char)*one < ' ')
            one++;
        while (*other && (unsigned char)*other < ' ')
            other++;
        if (*one != *other)
            return false;
    } while (*one++ && *other++);
    return true;
}

static bool same_cells(const struct sheets *expected, const struct sheet *wanted, const struct sheets *read, const struct sheet *sheet)
{
    bool same = wanted->count == sheet->count && strcmp(wanted->name, sheet->name) == 0;
    for (size_t i = 0; same && i < sheet->count; i++) {
        const struct sheet_cell *cell = &wanted->cells[i], *other = &sheet->cells[i];
        same = cell->row == other->row && cell->column == other->column &&
               (cell->kind != CELL_TEXT || same_text(sheets_text(expected, cell), sheets_text(read, other)));
    }
    return same;
}

/* Returns whether the file has the cells that were written. */
static bool holds_all(struct written *written)
{
    struct sheets read = {.all = true};
    sheets_sort(&written->expected);
    bool same = sheets_read(&read, written->path) && read.count == written->expected.count;
    for (size_t i = 0; same && i < read.count; i++)
        same = same_cells(&written->expected, &written->expected.list[i], &read, &read.list[i]);
    sheets_free(&read);
    return same;
}

static const char *reason(const struct written *written)
{
    if (written->no_memory || written->error == LXW_ERROR_MEMORY_MALLOC_FAILED)
        return "out of memory";
    if (written->error == LXW_ERROR_MAX_STRING_LENGTH_EXCEEDED)
        return "a cell has more than the 32767 characters that a workbook can hold";
    if (written->error == LXW_ERROR_WORKSHEET_INDEX_OUT_OF_RANGE)
        return "a sheet has more rows or columns than a workbook can hold";
    return lxw_strerror(written->error);
}

bool written_end(struct written *written, const char **why)
{
    if (written->book && (written->no_memory || written->error != LXW_NO_ERROR))
        lxw_workbook_free(written->book);
    else if (written->book)
        written_done(written, workbook_close(written->book));
    bool done = written->book && !written->no_memory && written->error == LXW_NO_ERROR;
    if (!done) {
        *why = reason(written);
    } else if (!holds_all(written)) {
        *why = "not every cell is in the file; memory may have run out";
        done = false;
    }
    sheets_free(&written->expected);
    if (!done)
        unlink(written->path);
    return done;
}
