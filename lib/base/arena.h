/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The memory of one stage: allocated piece by piece, freed at once. A stage is constant once it is built, so it needs
 * no finer ownership.
 */
#ifndef HK_ARENA_H
#define HK_ARENA_H

#include "hankful.h"

#include <stdarg.h>

struct hk_arena_block;

/* Initialise as {0}. The first failed allocation sets out_of_memory, which stays set. */
struct hk_arena {
    struct hk_arena_block *blocks;
    bool out_of_memory;
};

void hk_arena_free(struct hk_arena *arena);

/*
 * Returns zeroed memory for `count` objects of `size` bytes, aligned for any type; NULL when out of memory. count 0
 * returns a valid pointer.
 */
void *hk_arena_take(struct hk_arena *arena, size_t count, size_t size);

/* Returns a copy of the first `length` bytes of `text`, zero-terminated; NULL when out of memory. */
char *hk_arena_text(struct hk_arena *arena, const char *text, size_t length);
char *hk_arena_print(struct hk_arena *arena, const char *format, ...) HK_PRINTF(2, 3);

/*
 * Makes room for one more element in a growing array. Returns the array, moved if it was full; NULL when out of memory
 * (the old array stays valid). *capacity starts at 0 with a NULL array.
 */
void *hk_arena_grow(struct hk_arena *arena, void *array, size_t count, size_t *capacity, size_t size);

#endif
