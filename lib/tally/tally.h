/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is worked: stitch kinds, ends and cut lengths of every line in every size and of every swatch, by combination. */
#ifndef HK_TALLY_H
#define HK_TALLY_H

#include "tally/worked.h"

/* What a row of progress.csv is of. */
struct hk_progress_work {
    struct hk_worked *worked; /* of each line that has rows worked, the first of its rows or all; times: copies */
    size_t *lines;            /* ascending */
    size_t count, worked_capacity, line_capacity;
    int64_t rows_left;        /* stated and not found among the lines */
    bool weighed, timed;      /* its weight, its time stands: no later row is of the same */
};

struct hk_tally {
    struct hk_arena arena;
    const struct hk_project *project;
    struct hk_worked *lines;    /* [size * project->line_count + line] */
    struct hk_worked *swatches; /* project->swatch_count */
    struct hk_progress_work *progress; /* project->progress_count */
    struct hk_stitch_total *totals;
    size_t total_count;
    struct hk_tally **learned;  /* of project->learned; owned */
};

/*
 * Whether the size, or of HK_NO_SIZE any, has parts: a warning of each that has none, or an error of each where there is
 * none that has.
 */
bool hk_tally_has_parts(const struct hk_tally *tally, size_t size, struct hk_diags *diags);

#endif
