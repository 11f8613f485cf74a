/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pattern/edge.h"

#include <stdlib.h>
#include <string.h>

void hk_edge_free(struct hk_edge *edge)
{
    free(edge->spots);
    *edge = (struct hk_edge){0};
}

bool hk_edge_room(struct hk_edge *edge, size_t count)
{
    if (count <= edge->capacity)
        return true;
    size_t capacity = edge->capacity ? edge->capacity : 64;
    while (capacity < count)
        capacity *= 2;
    struct hk_spot *grown = realloc(edge->spots, capacity * sizeof *grown);
    if (!grown)
        return false;
    edge->spots = grown;
    edge->capacity = capacity;
    return true;
}

bool hk_edge_push(struct hk_edge *edge, struct hk_spot spot)
{
    if (!hk_edge_room(edge, edge->count + 1))
        return false;
    edge->spots[edge->count++] = spot;
    return true;
}

bool hk_edge_add(struct hk_edge *to, const struct hk_spot *spots, size_t count)
{
    if (!hk_edge_room(to, to->count + count))
        return false;
    if (count)
        memcpy(to->spots + to->count, spots, count * sizeof *spots);
    to->count += count;
    return true;
}

bool hk_edge_copy(struct hk_edge *to, const struct hk_edge *from)
{
    to->count = 0;
    return hk_edge_add(to, from->spots, from->count);
}

void hk_edge_reverse(struct hk_edge *edge)
{
    for (size_t i = 0, j = edge->count; i + 1 < j; i++) {
        struct hk_spot spot = edge->spots[i];
        edge->spots[i] = edge->spots[--j];
        edge->spots[j] = spot;
    }
}

bool hk_edge_rotate(struct hk_edge *edge, size_t first, struct hk_edge *scratch)
{
    if (first == 0)
        return true;
    scratch->count = 0;
    if (!hk_edge_add(scratch, edge->spots, first))
        return false;
    memmove(edge->spots, edge->spots + first, (edge->count - first) * sizeof *edge->spots);
    memcpy(edge->spots + edge->count - first, scratch->spots, first * sizeof *edge->spots);
    return true;
}

int64_t hk_edge_width(const struct hk_edge *edge)
{
    int64_t width = 0;
    for (size_t i = 0; i < edge->count; i++) {
        const struct hk_spot *spot = &edge->spots[i];
        width +=
            spot->kind == HK_SPOT_SPACE ? spot->chains : spot->kind == HK_SPOT_STITCH || spot->kind == HK_SPOT_CHAIN;
    }
    return width;
}

int64_t hk_edge_count(const struct hk_edge *edge, bool spaces)
{
    int64_t count = 0;
    for (size_t i = 0; i < edge->count; i++) {
        const struct hk_spot *spot = &edge->spots[i];
        count += spot->kind == HK_SPOT_STITCH;
        if (spaces && spot->kind == HK_SPOT_SPACE)
            count += spot->chains;
    }
    return count;
}

bool hk_edge_same(const struct hk_edge *a, const struct hk_edge *b)
{
    if (a->count != b->count)
        return false;
    for (size_t i = 0; i < a->count; i++) {
        const struct hk_spot *x = &a->spots[i], *y = &b->spots[i];
        if (x->stitch != y->stitch || x->chains != y->chains || x->kind != y->kind || x->marked != y->marked ||
            (i > 0 && (x->group == x[-1].group) != (y->group == y[-1].group)))
            return false;
    }
    return true;
}
