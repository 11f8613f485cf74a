/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The lines of the project that make one outline: a beginning, and the lines that continue it upward. */
#ifndef HK_STACKS_H
#define HK_STACKS_H

#include "tally/tally.h"

struct hk_stack {
    size_t *lines;
    size_t count;
    bool only; /* its piece has no other outline */
};

struct hk_stacks {
    struct hk_stack *stacks;
    size_t count;
};

/* Returns false when out of memory. */
bool hk_stacks_make(const struct hk_tally *tally, struct hk_stacks *stacks, struct hk_arena *arena);

/* How a line is worked. */
enum hk_stack_way { HK_STACK_ROWS, HK_STACK_ROUNDS, HK_STACK_OPEN };

/*
 * Returns the way of a line of pieces.csv: by its fabric, else by the line that it continues, else by a start from a
 * ring. A shipped fabric that is not one of rounds is worked in rows; of a project's own fabric that is not stated.
 */
enum hk_stack_way hk_stack_way(const struct hk_project *project, size_t line);

/*
 * Returns true for a line on an edge that is long and low: an edging or a band, whose shape is that of the edge. The
 * limit, a tenth as many rows as stitches in every size, is a choice of ours. False on stitches that other work has
 * left.
 */
bool hk_stack_band(const struct hk_tally *tally, size_t line);

#endif
