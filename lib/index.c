/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "index.h"

#include <stdint.h>
#include <string.h>

struct hk_index_entry {
    const char *name;
    size_t number;
};

static int folded(char c)
{
    return c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : (unsigned char)c;
}

static bool is_blank(char c)
{
    return c == ' ' || (c >= '\t' && c <= '\r');
}

static size_t trimmed(const char **text)
{
    while (is_blank(**text))
        ++*text;
    size_t length = strlen(*text);
    while (length > 0 && is_blank((*text)[length - 1]))
        length--;
    return length;
}

int hk_names_compare(const char *a, const char *b)
{
    size_t a_length = trimmed(&a), b_length = trimmed(&b);
    for (size_t i = 0; i < a_length && i < b_length; i++) {
        int difference = folded(a[i]) - folded(b[i]);
        if (difference != 0)
            return difference;
    }
    return (a_length > b_length) - (a_length < b_length);
}

/* The first entry that does not stand before the name. */
static size_t place_of(const struct hk_index *index, const char *name)
{
    size_t from = 0, to = index->count;
    while (from < to) {
        size_t middle = from + (to - from) / 2;
        if (hk_names_compare(index->entries[middle].name, name) < 0)
            from = middle + 1;
        else
            to = middle;
    }
    return from;
}

static bool is_at(const struct hk_index *index, size_t place, const char *name)
{
    return place < index->count && hk_names_compare(index->entries[place].name, name) == 0;
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
