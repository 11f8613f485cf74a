/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A sheet as the text of the file that it stands for. Line n of the text is row n of a sheet of cells; a cell of the
 * sheet `pattern` may have several lines. The cells are separated by tabs, so that a comma and a point both may be the
 * decimal mark of what was typed.
 */
#ifndef SHEET_TEXT_H
#define SHEET_TEXT_H

#include "workbook/sheets.h"

#include <stdio.h>

/* Where a cell begins in the text: line and column from 1, in characters. */
struct sheet_mark {
    uint32_t line, character;
    uint32_t row, column; /* of the cell, from 0 */
};

struct sheet_text {
    char *bytes; /* zero-terminated */
    size_t used, capacity;
    struct sheet_mark *marks; /* in the order of the text */
    size_t mark_count, mark_capacity;
    bool too_large, no_memory;
};

/* Builds the text. Starts as {0}; returns false when it is too large or memory runs out. */
bool sheet_text_make(struct sheet_text *text, const struct sheets *sheets, const struct sheet *sheet);
void sheet_text_free(struct sheet_text *text);

/* Returns the cell at a place in the text; NULL: none, for a text without cells. */
const struct sheet_mark *sheet_text_cell(const struct sheet_text *text, size_t line, size_t character);

/* Returns the place in the text at which a cell begins; NULL: it has none. */
const struct sheet_mark *sheet_text_place(const struct sheet_text *text, uint32_t row, uint32_t column);

/*
 * Writes a number; one such as 1.234 with a further zero, since where a comma and a point both may be the decimal mark,
 * it could be a thousand and more.
 */
void sheet_text_number(const char *text, FILE *out);

/* Returns whether the sheet is the written pattern, whose text has no cells. */
bool sheet_is_pattern(const struct sheet *sheet);

#endif
