/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Memory of one stage: taken piece by piece, given back at once. A stage that is built and then treated as constant needs
 * no finer ownership, and its _free is one call.
 */
#ifndef HK_ARENA_H
#define HK_ARENA_H

#include "hankful.h"

#include <stdarg.h>

struct hk_arena_block;

/* Starts as {0}. `lost` is set for good by the first allocation that fails. */
struct hk_arena {
    struct hk_arena_block *blocks;
    bool out_of_memory;
};

void hk_arena_free(struct hk_arena *arena);

/* Zeroed memory for `count` things of `size` bytes, aligned for any type; NULL when lost. count 0 gives a valid pointer. */
void *hk_arena_take(struct hk_arena *arena, size_t count, size_t size);

/* A copy of the first `length` bytes of `text`, closed with a zero; NULL when lost. */
char *hk_arena_text(struct hk_arena *arena, const char *text, size_t length);
char *hk_arena_print(struct hk_arena *arena, const char *format, ...) HK_PRINTF(2, 3);

/*
 * Room for one more in a growing array: returns the array, moved if it was full, or NULL when lost (the old one stays).
 * *capacity starts at 0 with a NULL array.
 */
void *hk_arena_grow(struct hk_arena *arena, void *array, size_t count, size_t *capacity, size_t size);

#endif
