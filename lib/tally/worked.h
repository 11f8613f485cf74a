/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The work of one line or swatch: stitch kinds, ends and cut lengths, by yarns held together. */
#ifndef HK_WORKED_H
#define HK_WORKED_H

#include "project/project.h"
#include "tally/count.h"

/* The use of one combination in a line or swatch, in counts for one copy. */
struct hk_use {
    size_t combination;
    struct hk_kinds kinds;
    double *ends;             /* of each strand of the combination; a strand "x2" has this number on each of the two */
    double cut_m;             /* of each strand */
    struct hk_kinds *longest; /* the Pareto-maximal rows; the longest is one of them */
    size_t longest_count, longest_capacity;
};

/* A line in one size, or a swatch. times 0: no work. */
struct hk_worked {
    double tool_mm;
    int64_t times;
    struct hk_use *uses;
    size_t use_count;
    int64_t foundation, leaves;
    struct hk_row_run *runs;
    size_t run_count;
    struct hk_length_worked width, end_width, height;
};

#endif
