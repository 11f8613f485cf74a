/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/arena.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define ALIGNMENT sizeof(max_align_t)
#define BLOCK_BYTES ((size_t)16 << 10)

/*
 * Blocks form a list, the one in use first. An allocation larger than a block gets a block of its own, behind the
 * first.
 */
struct hk_arena_block {
    struct hk_arena_block *next;
    size_t used, size;
    max_align_t bytes[];
};

void hk_arena_free(struct hk_arena *arena)
{
    struct hk_arena_block *block = arena->blocks;
    while (block) {
        struct hk_arena_block *next = block->next;
        free(block);
        block = next;
    }
    *arena = (struct hk_arena){0};
}

static struct hk_arena_block *block_new(struct hk_arena *arena, size_t size)
{
    struct hk_arena_block *block = size > SIZE_MAX - sizeof *block ? NULL : malloc(sizeof *block + size);
    if (!block) {
        arena->out_of_memory = true;
        return NULL;
    }
    *block = (struct hk_arena_block){.size = size};
    return block;
}

void *hk_arena_take(struct hk_arena *arena, size_t count, size_t size)
{
    if (arena->out_of_memory)
        return NULL;
    if (size && count > (SIZE_MAX / 2) / size) {
        arena->out_of_memory = true;
        return NULL;
    }
    size_t bytes = count * size;
    bytes = (bytes ? bytes + ALIGNMENT - 1 : ALIGNMENT) / ALIGNMENT * ALIGNMENT;
    struct hk_arena_block *first = arena->blocks;
    if (!first || bytes > first->size - first->used) {
        bool large = bytes > BLOCK_BYTES / 4;
        struct hk_arena_block *block = block_new(arena, large ? bytes : BLOCK_BYTES);
        if (!block)
            return NULL;
        if (large && first) {
            block->next = first->next;
            first->next = block;
        } else {
            block->next = first;
            arena->blocks = block;
        }
        first = block;
    }
    void *taken = (char *)first->bytes + first->used;
    first->used += bytes;
    memset(taken, 0, bytes); /* cleared here, not per block: a scratch arena seldom fills a block */
    return taken;
}

char *hk_arena_text(struct hk_arena *arena, const char *text, size_t length)
{
    char *copy = hk_arena_take(arena, length + 1, 1);
    if (copy)
        memcpy(copy, text, length);
    return copy;
}

char *hk_arena_print(struct hk_arena *arena, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    int length = vsnprintf(NULL, 0, format, args);
    va_end(args);
    if (length < 0) {
        arena->out_of_memory = true;
        return NULL;
    }
    char *text = hk_arena_take(arena, (size_t)length + 1, 1);
    if (!text)
        return NULL;
    va_start(args, format);
    vsnprintf(text, (size_t)length + 1, format, args);
    va_end(args);
    return text;
}

void *hk_arena_grow(struct hk_arena *arena, void *array, size_t count, size_t *capacity, size_t size)
{
    if (count < *capacity)
        return array;
    size_t more = *capacity ? *capacity * 2 : 8;
    void *larger = hk_arena_take(arena, more, size);
    if (!larger)
        return NULL;
    if (count)
        memcpy(larger, array, count * size);
    *capacity = more;
    return larger;
}
