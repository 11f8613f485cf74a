/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whole balls: each ball after the first costs a join (DEVELOPERS.md, The model). */
#ifndef HK_BALLS_H
#define HK_BALLS_H

#include <stdbool.h>
#include <stdint.h>

/*
 * Computes n = max(1, ceil((enough - j) / (p - j))). Returns false and leaves *balls unchanged when p <= j (a ball is
 * not heavier than the waste of a join) or n exceeds 10^12. All in grams; put_up_g > 0, join_g >= 0.
 */
bool hk_balls_needed(double enough_g, double put_up_g, double join_g, int64_t *balls);

/* Returns the usable mass of n balls in grams: n p - (n - 1) j. */
double hk_balls_usable_g(int64_t balls, double put_up_g, double join_g);

#endif
