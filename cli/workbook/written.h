/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A workbook while it is written: the handles of libxlsxwriter, and its first failure. */
#ifndef WRITTEN_H
#define WRITTEN_H

#include <stdbool.h>
#include <stdint.h>
#include <xlsxwriter.h>

#define WRITTEN_FORMATS 32

struct written {
    lxw_workbook *book;
    lxw_format *head, *text; /* of headers; of what stays as it is typed */
    struct {
        char code[24];
        lxw_format *format;
    } formats[WRITTEN_FORMATS]; /* of numbers */
    size_t format_count;
    const char *path;
    lxw_error error;
    bool no_memory;
};

/* Begins a file at `path`, which must live on. `subject` is kept in its properties; NULL: none. */
void written_begin(struct written *written, const char *path, const char *subject);

/* Adds a sheet. Returns NULL on failure. */
lxw_worksheet *written_page(struct written *written, const char *name);

/* Keeps the first failure, and whether memory ran out. */
void written_done(struct written *written, lxw_error error);

void written_text(struct written *written, lxw_worksheet *page, uint32_t row, uint32_t column, const char *text,
                  lxw_format *format);

/* Writes a number such as 12, 4.50 or 95%, with its decimals. Returns false for any other text, which it does not
 * write. */
bool written_number(struct written *written, lxw_worksheet *page, uint32_t row, uint32_t column, const char *text);

/* Writes a value with as many digits as a spreadsheet shows. */
void written_value(struct written *written, lxw_worksheet *page, uint32_t row, uint32_t column, double value);

/* Writes the file. Returns false, with the reason in *why (static), and removes it on failure. */
bool written_end(struct written *written, const char **why);

#endif
