/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A map from names to numbers, sorted by hk_text_compare and read by binary search: unlike a hash table, no file of
 * chosen names can make it slow.
 */
#ifndef HK_INDEX_H
#define HK_INDEX_H

#include "base/arena.h"

struct hk_index {
    struct hk_index_entry *entries; /* sorted by name */
    size_t count, capacity;
};

/* Returns the number of a name; SIZE_MAX if the name is absent. */
size_t hk_index_find(const struct hk_index *index, const char *name);

/*
 * Adds a name with its number; a known name keeps its number. The name must live as long as the index. Returns false
 * when out of memory.
 */
bool hk_index_add(struct hk_index *index, const char *name, size_t number, struct hk_arena *arena);

#endif
