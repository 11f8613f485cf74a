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

#define HK_ENDS_OF_A_STRAND 2 /* one at the join, one at the cut (hankful(1), FILES) */

/* Returns the share of a strand's copies that are new where `had` of them are held already. */
double hk_strand_new(const struct hk_strand *strand, int64_t had);

/*
 * Returns the use of a combination, a new one if there is none yet; `uses` must have room for it. NULL when memory runs
 * out.
 */
struct hk_use *hk_worked_use(struct hk_worked *worked, size_t combination, const struct hk_project *project,
                             struct hk_arena *arena);

#endif
