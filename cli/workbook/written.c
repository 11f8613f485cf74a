/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "workbook/written.h"

#include "workbook/decimal.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#define CREATED 1577836800 /* 2020-01-01: the same cells give the same bytes */

void written_begin(struct written *written, const char *path, const char *subject)
{
    lxw_doc_properties properties = {
        .author = (char[]){"Hankful"}, .subject = (char *)(uintptr_t)subject, .created = CREATED};
    errno = 0; /* libxlsxwriter does not tell of all that it had no memory for; malloc does */
    *written = (struct written){.book = workbook_new(path), .path = path};
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
    written->no_memory |= errno == ENOMEM;
    if (written->error == LXW_NO_ERROR)
        written->error = error;
}

lxw_worksheet *written_page(struct written *written, const char *name)
{
    if (written->no_memory)
        return NULL;
    lxw_worksheet *page = workbook_add_worksheet(written->book, name);
    written_done(written, page ? LXW_NO_ERROR : LXW_ERROR_SHEETNAME_ALREADY_USED);
    return page;
}

void written_text(struct written *written, lxw_worksheet *page, uint32_t row, uint32_t column, const char *text,
                  lxw_format *format)
{
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
    written_done(written, worksheet_write_number(page, row, (lxw_col_t)column, percent ? value / 100 : value, format));
    return true;
}

void written_value(struct written *written, lxw_worksheet *page, uint32_t row, uint32_t column, double value)
{
    char digits[40];
    double shown = value;
    decimal_short(value, digits, sizeof digits);
    decimal_read(digits, &shown);
    written_done(written, worksheet_write_number(page, row, (lxw_col_t)column, shown, NULL));
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
    if (written->book && !written->no_memory && written->error == LXW_NO_ERROR)
        return true;
    unlink(written->path);
    *why = reason(written);
    return false;
}
