/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Which number each of many names has. Kept in the order of hk_text_compare, so that a name is found by halving whatever the
 * names are: a table of hashes would be as quick for most and could be made slow by a file of ill-chosen names.
 */
#ifndef HK_INDEX_H
#define HK_INDEX_H

#include "base/arena.h"

struct hk_index {
    struct hk_index_entry *entries; /* by name */
    size_t count, capacity;
};

/* The number of a name; SIZE_MAX where it has none. */
size_t hk_index_find(const struct hk_index *index, const char *name);

/* Gives a name a number; one that it has already stays. The name must live as long as the index. False when memory runs
 * out. */
bool hk_index_add(struct hk_index *index, const char *name, size_t number, struct hk_arena *arena);

#endif
