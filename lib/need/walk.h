/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Whether some balls are enough where each holds few rows and a new one is joined only where a row ends: half a row lost on
 * average is not what equal rows lose. The rows of the work are walked in their order, each ball with its length, each row with
 * its own; a ball that cannot finish a row is joined at its start and its rest is lost. All lengths scale with exp(x), and x_n
 * is the largest x that n balls carry, so that of one walk P(n are enough) = Phi(x_n / s), s the spread of the whole mass: balls
 * go by their mass, so that what a metre weighs is in it.
 * The chance is the mean over walks with fixed seeds, half of them the other half's mirror.
 */
#ifndef HK_WALK_H
#define HK_WALK_H

#include "need/need.h"

/* Balls that hold fewer rows are walked; from there on the mean loss is within 2 points (tests/test_walk.c). */
#define HK_WALK_ROWS_LEAST 12

struct hk_walk {
    double *rows_m;    /* likely lengths in the order of the work, for one role */
    size_t row_count, capacity;
    double sum_m, mean_row_m; /* mean: of the row that a metre of the yarn is in, sum of squares over sum */
    double tail_m, g_m;
};

/* Balls alike: how many, of how much. */
struct hk_pile {
    int64_t balls;
    double put_up_g;
};

/*
 * The rows of a role in the sizes first to last, each made `times` times. False where there are none to walk: joins may
 * be anywhere, there are more rows than are walked, or memory runs out.
 */
bool hk_walk_rows(const struct hk_needed *needed, size_t first_size, size_t last_size, int64_t times, size_t role,
                  struct hk_walk *walk, struct hk_arena *arena);

/* Whether balls of that mass are walked. */
bool hk_walk_wanted(const struct hk_walk *walk, double put_up_g);

/*
 * The chance that the piles, used up one after the other, are enough where swatch_use_g of them are gone before;
 * `spread` of the ln mass of all. Never falls where a ball is added behind. False when memory runs out.
 */
bool hk_walk_chance(const struct hk_walk *walk, const struct hk_pile *piles, size_t pile_count, double swatch_use_g,
                    double spread, double *chance);

#endif
