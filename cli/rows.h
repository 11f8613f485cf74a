/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The stitches that the rows of a line leave in every size: row by row, those that agree taken together, or in short. */
#ifndef ROWS_H
#define ROWS_H

#include "layout.h"
#include "pipeline.h"

/*
 * In a table of two columns before the sizes; *part, the first of them, is "" from its second row on. A line that only
 * widens, or only narrows, and fills more than a few rows of the table so, is shown in short unless every row is asked
 * for.
 */
void rows_print(struct text_table *table, const struct hk_tally *tally, size_t line, struct size_range sizes,
                bool every_row, const char **part);

#endif
