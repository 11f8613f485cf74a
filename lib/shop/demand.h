/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The demand of one order: one garment or several, and the maker's own swatches. */
#ifndef HK_DEMAND_H
#define HK_DEMAND_H

#include "need/need.h"

struct hk_demand_role {
    size_t role;             /* index in the project */
    double likely_g, spread; /* median, and standard deviation of the logarithm, of the garments' mass */
    double enough_g;         /* the quantile at the chance, or likely plus the flat margin */
    double swatch_use_g;     /* the yarn of swatches, if the project includes it */
    double join_g;           /* the waste of one join, in the garment where it is largest */
    double g_m;              /* grams per metre */
};

struct hk_demand {
    struct hk_demand_role *roles; /* the used roles, in the order of yarns.csv */
    size_t count;
    double *covariance; /* count x count, of the logarithms */
};

/*
 * Computes the demand of `times` makings of each of the sizes first to last, all of which are predicted; times >= 1.
 * One making of one size is the prediction itself. Returns false when out of memory.
 */
bool hk_demand_make(const struct hk_needed *needed, size_t first_size, size_t last_size, int64_t times,
                    struct hk_demand *demand, struct hk_arena *arena);

#endif
