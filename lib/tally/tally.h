/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The counted work: stitch kinds, ends and cut lengths of every line in every size and of every swatch, by combination.
 */
#ifndef HK_TALLY_H
#define HK_TALLY_H

#include "tally/worked.h"

/* The work that a row of progress.csv includes. */
struct hk_progress_work {
    struct hk_worked *worked; /* for each line with finished rows, its first rows or all; times: copies */
    size_t *lines;            /* ascending */
    size_t count, worked_capacity, line_capacity;
    int64_t rows_left;   /* stated rows not yet assigned to lines */
    bool weighed, timed; /* its mass, its time is used: no later row includes the same work */
};

struct hk_tally {
    struct hk_arena arena;
    const struct hk_project *project;
    struct hk_worked *lines;    /* [size * project->line_count + line] */
    struct hk_worked *swatches; /* project->swatch_count */
    struct hk_progress_work *progress; /* project->progress_count */
    struct hk_stitch_total *totals;
    size_t total_count;
    struct hk_tally **learned; /* the tallies of project->learned; owned */
};

/*
 * Returns true when the size, or with HK_NO_SIZE any size, has parts. Adds a warning for each size without parts, or an
 * error for each when no size has any.
 */
bool hk_tally_has_parts(const struct hk_tally *tally, size_t size, struct hk_diags *diags);

/*
 * Returns the chains of a kind of place of a written row, 2 for "ch-2 sp", which is as wide as that number of stitches;
 * 0 if it is not a space.
 */
int64_t hk_space_chains(const char *kind);

#endif
