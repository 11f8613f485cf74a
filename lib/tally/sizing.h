/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A line of pieces.csv in one size, ready to be counted: lengths turned into stitches and rows by a swatch's gauge. */
#ifndef HK_SIZING_H
#define HK_SIZING_H

#include "project/project.h"
#include "tally/standing.h"

/* What stands before the first row, as stitches of the catalogue. */
struct hk_foundations {
    size_t chain, cast_on;
};

/* A length asked for and the whole number of stitches or rows that it became; count 0 where no length was given. */
struct hk_rounded {
    double asked_m, finished_m;
    int64_t count, apart; /* apart: of the widths that fit, see hk_count_nearest; 1 for rows and tapers */
    bool inches;          /* see hk_length_worked */
    const struct hk_swatch *swatch;
};

struct hk_sized {
    bool nothing; /* this size does without */
    int64_t times;
    struct hk_work work;
    struct hk_rounded width, height, end_width;
};

struct hk_foundations hk_foundations_find(const struct hk_catalogue *catalogue);
size_t hk_foundation_stitch(struct hk_foundations foundations, const struct hk_fabric *fabric);

/* Rows of each stripe of a yarn cell; NULL when the arena is out of memory. */
const int64_t *hk_stripe_rows(const struct hk_stripes *stripes, struct hk_arena *arena);

/*
 * What the line comes to in a size, on the `below` stitches of the edge `before` if it continues, on `standing` if its
 * cell `on` is filled (else NULL), whose `fitted` is then set. False with a finding, *sized then untouched: no gauge for
 * a length, no width near it that the fabric fits, or stitches, rows and shaping that do not agree.
 */
bool hk_line_sized(const struct hk_project *project, size_t line, size_t size, int64_t below,
                   const struct hk_follow *before, struct hk_standing *standing, struct hk_foundations foundations,
                   int64_t *effort, struct hk_sized *sized, struct hk_arena *arena, struct hk_diags *diags);

/* Says once for all sizes of a line which whole stitches and rows its lengths became (a note); nothing if it has no
 * lengths. */
void hk_rounding_report(const struct hk_project *project, size_t line, const struct hk_sized *by_size,
                        struct hk_arena *arena, struct hk_diags *diags);

#endif
