/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The count table of a pattern: for each row of pattern.txt, and for the rows of each line of pieces.csv, the stitches
 * in every size in graded notation, and their width where a gauge is known.
 */
#ifndef COUNT_TABLE_H
#define COUNT_TABLE_H

#include "layout.h"
#include "pipeline.h"

/* Special values for the stitches of a row in one size. */
#define COUNT_WITHOUT INT64_C(-1)  /* the size does not have the row */
#define COUNT_UNKNOWN INT64_C(-2)  /* the row could not be worked */

struct count_cell {
    int64_t stitches;
    double width_m; /* 0: unknown */
};

struct count_row {
    const char *piece, *part; /* part: "" if the piece has no parts */
    const char *label;
    size_t line; /* line in pattern.txt or pieces.csv */
    const struct count_cell *cells; /* one for each size shown */
    size_t size_count;
};

/* Callback for a row. Returns false to end the table when memory runs out. */
typedef bool count_visit(void *context, const struct count_row *row);

/* Passes on the rows in file order, with the rows of a piece together; every row of a shaped line if `every_row`. */
bool count_table_each(const struct work *work, bool every_row, count_visit *visit, void *context);

/* A quantity measured on a row. */
enum count_figure { COUNT_STITCHES, COUNT_CM, COUNT_IN };

/* Returns whether the row has a width in any size. */
bool count_row_wide(const struct count_row *row);
/* Returns "72", "35.5", or "14 1/4" in quarters; "-" or "?" for special values. Owner: the caller (free). */
char *count_cell_text(const struct count_cell *cell, enum count_figure figure);
/*
 * Returns "72 (78, 84)", or more than seven sizes in two groups: "72 (78, 84, 90, 96) [102, 108, 114, 120]"; a single
 * text if all are equal. Owner: the caller (free). Returns NULL when memory runs out.
 */
char *count_row_text(const struct count_row *row, enum count_figure figure);
/* Returns "S (M, L)" for the sizes shown. Owner: the caller (free). */
char *count_sizes_text(const struct work *work);

enum outcome count_table_text(const struct work *work, bool every_row, struct text *text);
enum outcome count_table_markdown(const struct work *work, bool every_row, FILE *out);
enum outcome count_table_csv(const struct work *work, bool every_row, FILE *out);

#endif
