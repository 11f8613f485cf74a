/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The stitches of the rows of a line in every size: row by row, with equal rows grouped, or as a summary. */
#ifndef ROWS_H
#define ROWS_H

#include "layout.h"
#include "pipeline.h"

/*
 * Adds the rows to a table of two columns before the sizes; *part, the first column, becomes "" after the first row. A
 * line that only widens, or only narrows, and would fill more than a few rows of the table is summarised unless every
 * row is requested.
 */
void rows_print(struct text_table *table, const struct hk_tally *tally, size_t line, struct size_range sizes,
                bool every_row, const char **part);

#endif
