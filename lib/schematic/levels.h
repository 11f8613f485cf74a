/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The outline of a part in one size, from its first row upward, and its corners. */
#ifndef HK_LEVELS_H
#define HK_LEVELS_H

#include "base/arena.h"

/* The outline at the top of a row, or at the foot of the first. */
struct hk_level {
    int64_t rows;                /* rows below it */
    int64_t stitches;            /* of the row below it; at the foot of the first row */
    double y_m, left_m, right_m; /* of rounds: the two ends of the whole round, laid out straight */
    bool corner;                 /* of the outline */
    bool ends;                   /* a line of the project ends here */
};

struct hk_levels {
    struct hk_level *levels; /* owned by the arena */
    size_t count, capacity;
};

/* The limit of levels in one outline: beyond it, nobody reads a drawing. */
#define HK_LEVELS_MOST ((size_t)4096)

/* Returns false when out of memory. */
bool hk_levels_add(struct hk_levels *levels, struct hk_level level, struct hk_arena *arena);

/*
 * Adds a step at the height of the last level, to these stitches and edges: both its ends are corners. Returns false
 * when out of memory.
 */
bool hk_levels_step(struct hk_levels *levels, int64_t stitches, double left_m, double right_m, struct hk_arena *arena);

/*
 * Marks the corners: between two of them, both edges of every row lie within one step (the largest change of an edge
 * from one row to the next) of a straight line.
 */
void hk_levels_corners(struct hk_levels *levels);

/* Returns the width at a level in metres. */
static inline double hk_level_width(const struct hk_level *level)
{
    return level->right_m - level->left_m;
}

#endif
