/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Yarn at home before or during the work, and whether it is enough. */
#ifndef HK_HAVE_H
#define HK_HAVE_H

#include "need/walk.h"

/* A ball that is begun, and full balls, in grams by the label. */
struct hk_have {
    double first_g; /* 0: no ball is begun */
    int64_t balls;
    double put_up_g;
};

/* Divides grams into full balls and one that is begun. */
struct hk_have hk_have_of(double mass_g, double put_up_g);

/*
 * The grams by the label of a role before the work: as typed (struct hk_in_hand), else the balls of the shop own in
 * offers.csv. Returns false when neither states any.
 */
bool hk_have_start_g(const struct hk_project *project, size_t role, double *mass_g);

/* What some work takes: ln grams is normal with this spread about ln likely_g. */
struct hk_taking {
    double likely_g, spread, join_g;
    const struct hk_walk *walk; /* its rows in order; NULL: only the mean loss of a join */
};

/* Returns the usable grams: what all joins between the balls do not waste. */
double hk_have_usable_g(struct hk_have have, double join_g);

/* Computes the chance that the yarn is enough; by walking where a ball holds few rows. Returns false when out of
 * memory. */
bool hk_have_chance(struct hk_have have, const struct hk_taking *taking, double *chance);

#endif
