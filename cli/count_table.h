/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The count table of a pattern: for each row of pattern.txt, and for the rows of each line of pieces.csv, the stitches
 * in every size in graded notation, and how wide they are where a gauge is known.
 */
#ifndef COUNT_TABLE_H
#define COUNT_TABLE_H

#include "layout.h"
#include "pipeline.h"

/* Stitches of a row in one size, where they are not a number. */
#define COUNT_WITHOUT INT64_C(-1)  /* the size does without the row */
#define COUNT_UNKNOWN INT64_C(-2)  /* it could not be worked */

struct count_cell {
    int64_t stitches;
    double width_m; /* 0: not known */
};

struct count_row {
    const char *piece, *part; /* part: "" where it has none */
    const char *label;
    size_t line; /* of pattern.txt or pieces.csv */
    const struct count_cell *cells; /* of each size that is shown */
    size_t size_count;
};

/* What is done with a row. False ends the table: memory runs out. */
typedef bool count_visit(void *context, const struct count_row *row);

/* Rows in the order of the files, those of a piece together; every row of what is shaped if `every_row`. */
bool count_table_each(const struct work *work, bool every_row, count_visit *visit, void *context);

/* What is measured of a row. */
enum count_figure { COUNT_STITCHES, COUNT_CM, COUNT_IN };

/* Whether the row has a width in any size. */
bool count_row_wide(const struct count_row *row);
/* "72", "35.5", "14 1/4" in quarters; "-" and "?". Owner: the caller (free). */
char *count_cell_text(const struct count_cell *cell, enum count_figure figure);
/* "72 (78, 84)", more than seven sizes in two groups: "72 (78, 84, 90, 96) [102, 108, 114, 120]"; one text where all are
 * alike. Owner: the caller (free). NULL when out of memory. */
char *count_row_text(const struct count_row *row, enum count_figure figure);
/* "S (M, L)", of the sizes that are shown. Owner: the caller (free). */
char *count_sizes_text(const struct work *work);

enum outcome count_table_text(const struct work *work, bool every_row, struct text *text);
enum outcome count_table_markdown(const struct work *work, bool every_row, FILE *out);
enum outcome count_table_csv(const struct work *work, bool every_row, FILE *out);

#endif
