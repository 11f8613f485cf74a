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

/*
 * Returns true for a line on an edge that is long and low: an edging or a band, whose shape is that of the edge. The
 * limit, a tenth as many rows as stitches in every size, is a choice of ours. False on stitches that other work has
 * left.
 */
bool hk_stack_band(const struct hk_tally *tally, size_t line);

#endif
