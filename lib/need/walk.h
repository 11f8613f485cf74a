/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The chance that balls are enough when each holds few rows and a new ball is joined only at a row end: the mean loss
 * of half a row is then inaccurate. A walk goes through the rows of the work in order, with a random length for each
 * ball and each row. A ball that cannot finish a row is replaced at the start of that row, and its rest is lost. All
 * lengths scale with exp(x), and x_n is the largest x at which n balls are enough, so for one walk P(n are enough) =
 * Phi(x_n / s), with s the spread of the whole mass, which includes the grams per metre. The chance is the mean over
 * walks with fixed seeds, in antithetic pairs.
 */
#ifndef HK_WALK_H
#define HK_WALK_H

#include "need/need.h"

/* Balls with fewer rows are walked; above it the mean loss is accurate to 2 points (tests/test_walk.c). */
#define HK_WALK_ROWS_LEAST 12

/* A row of the work: of which line, copy and row, each row and copy from 1; row 0: a line whose rows are not known. */
struct hk_walk_place {
    size_t line;
    int64_t copy, row;
    int64_t copies; /* of the line */
};

struct hk_walk {
    double *rows_m;               /* likely lengths in the order of the work, for one role */
    struct hk_walk_place *places; /* of each row */
    size_t row_count, capacity, place_capacity;
    double sum_m, mean_row_m; /* mean_row_m: the length-weighted mean of the rows, sum of squares / sum */
    double tail_m, g_m;
};

/* A number of balls of the same mass. */
struct hk_pile {
    int64_t balls;
    double put_up_g;
};

/*
 * Lists the rows of a role in the sizes first to last, each made `times` times. Returns false when there is nothing to
 * walk: joins may be anywhere, there are too many rows, or memory runs out.
 */
bool hk_walk_rows(const struct hk_needed *needed, size_t first_size, size_t last_size, int64_t times, size_t role,
                  struct hk_walk *walk, struct hk_arena *arena);

/* The same, whether joins may be anywhere or not, up to a larger number of rows, for one making of one size. */
bool hk_walk_list(const struct hk_needed *needed, size_t size, size_t role, struct hk_walk *walk,
                  struct hk_arena *arena);

/* Returns true when balls of this mass are walked. */
bool hk_walk_wanted(const struct hk_walk *walk, double put_up_g);

/*
 * Computes the chance that the piles, used in order, are enough after swatch_use_g of them are used by swatches.
 * spread: of the ln mass of the whole work. The chance never falls when a ball is appended. Returns false when out of
 * memory.
 */
bool hk_walk_chance(const struct hk_walk *walk, const struct hk_pile *piles, size_t pile_count, double swatch_use_g,
                    double spread, double *chance);

#endif
