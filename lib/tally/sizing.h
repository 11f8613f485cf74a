/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A line of pieces.csv in one size, ready for counting: lengths are converted to stitches and rows by a swatch's gauge.
 */
#ifndef HK_SIZING_H
#define HK_SIZING_H

#include "project/project.h"
#include "tally/standing.h"

/* The stitches of foundations, as catalogue indices. */
struct hk_foundations {
    size_t chain, cast_on;
};

/* A length and the whole number of stitches or rows computed from it; count 0: no length was given. */
struct hk_rounded {
    double asked_m, finished_m;
    int64_t count, apart; /* apart: the distance of widths that fit, see hk_count_nearest; 1 for rows and tapers */
    bool inches;          /* see hk_length_worked */
    const struct hk_swatch *swatch;
};

struct hk_sized {
    bool nothing; /* this size does not have the line */
    int64_t times;
    struct hk_work work;
    struct hk_rounded width, height, end_width;
};

struct hk_foundations hk_foundations_find(const struct hk_catalogue *catalogue);
size_t hk_foundation_stitch(struct hk_foundations foundations, const struct hk_fabric *fabric);

/* Returns the rows of each stripe of a yarn cell; NULL when out of memory. */
const int64_t *hk_stripe_rows(const struct hk_stripes *stripes, struct hk_arena *arena);

/*
 * Computes the work of the line in a size: on the `below` stitches of the edge `before` if it continues, or on
 * `standing` if its cell `on` is filled (else NULL), and sets standing->fitted. Returns false with a finding and leaves
 * *sized unchanged when there is no gauge for a length, no width near it fits the fabric, or stitches, rows and shaping
 * do not agree.
 */
bool hk_line_sized(const struct hk_project *project, size_t line, size_t size, int64_t below,
                   const struct hk_follow *before, struct hk_standing *standing, struct hk_foundations foundations,
                   int64_t *effort, struct hk_sized *sized, struct hk_arena *arena, struct hk_diags *diags);

/*
 * Adds one note for all sizes of a line with the stitches and rows computed from its lengths; none if it has no
 * lengths.
 */
void hk_rounding_report(const struct hk_project *project, size_t line, const struct hk_sized *by_size,
                        struct hk_arena *arena, struct hk_diags *diags);

#endif
