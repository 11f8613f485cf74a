/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The work of a size that the rows of progress.csv leave. */
#ifndef HK_REST_H
#define HK_REST_H

#include "tally/tally.h"

/* Copies of a line that have as many rows to come. */
struct hk_rest_line {
    size_t line;
    int64_t first;     /* copy, from 1; worked.times: how many */
    int64_t rows_done; /* of each; the rows behind them are to come */
    int64_t rows;      /* of the whole; 0: not known */
};

struct hk_rest {
    struct hk_rest_line *lines; /* by line, then copy */
    struct hk_worked *worked;   /* of each of `lines`: what is to come */
    size_t count, line_capacity, worked_capacity;
};

/* The rows of progress.csv that take work away: all of them, or only those whose weight includes the role. */
#define HK_REST_ALL SIZE_MAX

/* Lists the rest of a size without the work of rows of `role`, or of HK_REST_ALL. Returns false when out of memory. */
bool hk_rest_make(const struct hk_tally *tally, size_t size, size_t role, struct hk_rest *rest, struct hk_arena *arena);

/* Returns true when a row of a copy of a line is to come; row 0: its rows are not known. */
bool hk_rest_has(const struct hk_rest *rest, size_t line, int64_t copy, int64_t row);

#endif
