/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is bought for at once: one garment or several, and what the maker's own swatches ate. */
#ifndef HK_DEMAND_H
#define HK_DEMAND_H

#include "need/need.h"

struct hk_demand_role {
    size_t role;             /* of the project */
    double likely_g, spread; /* median, and standard deviation of the logarithm, of what the garments take */
    double enough_g;         /* the quantile at the chance, or the flat margin's */
    double swatch_use_g;     /* what her swatches ate, where the project counts them in */
    double join_g;           /* what one join costs: in the garment where it costs most */
    double g_m;              /* grams a metre */
};

struct hk_demand {
    struct hk_demand_role *roles; /* in the order of yarns.csv, those that are used */
    size_t count;
    double *covariance; /* count x count, of the logarithms */
};

/*
 * `times` makings of each of the sizes first to last, all of which were predicted; times >= 1. One making of one size
 * is the prediction itself. False where the arena is out of memory.
 */
bool hk_demand_make(const struct hk_needed *needed, size_t first_size, size_t last_size, int64_t times,
                    struct hk_demand *demand, struct hk_arena *arena);

#endif
