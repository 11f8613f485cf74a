/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/index.h"

#include "base/text.h"

#include <stdint.h>
#include <string.h>

struct hk_index_entry {
    const char *name;
    size_t number;
};

/* Returns the position of the first entry that does not sort before the name. */
static size_t place_of(const struct hk_index *index, const char *name)
{
    size_t from = 0, to = index->count;
    while (from < to) {
        size_t middle = from + (to - from) / 2;
        if (hk_text_compare(index->entries[middle].name, name) < 0)
            from = middle + 1;
        else
            to = middle;
    }
    return from;
}

static bool is_at(const struct hk_index *index, size_t place, const char *name)
{
    return place < index->count && hk_text_compare(index->entries[place].name, name) == 0;
}

size_t hk_index_find(const struct hk_index *index, const char *name)
{
    size_t place = place_of(index, name);
    return is_at(index, place, name) ? index->entries[place].number : SIZE_MAX;
}

bool hk_index_add(struct hk_index *index, const char *name, size_t number, struct hk_arena *arena)
{
    size_t place = place_of(index, name);
    if (is_at(index, place, name))
        return true;
    struct hk_index_entry *grown =
        hk_arena_grow(arena, index->entries, index->count, &index->capacity, sizeof *index->entries);
    if (!grown)
        return false;
    index->entries = grown;
    memmove(&grown[place + 1], &grown[place], (index->count - place) * sizeof *grown);
    grown[place] = (struct hk_index_entry){name, number};
    index->count++;
    return true;
}
