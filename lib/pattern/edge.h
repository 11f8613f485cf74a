/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The edge that rows leave: an array of places in working order, for one size. Functions that change it return false
 * when out of memory.
 */
#ifndef HK_EDGE_H
#define HK_EDGE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum hk_spot_kind {
    HK_SPOT_STITCH,
    HK_SPOT_SPACE, /* `chains` chains between stitches */
    HK_SPOT_CHAIN, /* one chain of a foundation */
    HK_SPOT_RING,  /* takes any number of stitches */
    HK_SPOT_MARKER /* between stitches */
};

/* A place of the edge. */
struct hk_spot {
    uint32_t group;  /* equal for all places in the same place of the row below */
    uint32_t chains; /* chains of a HK_SPOT_SPACE or of a counting chain; else 0 */
    uint16_t stitch; /* stitch in the catalogue; for a counting chain the stitch it counts as */
    uint16_t part;   /* 1 + the part whose last row left it; 0: none */
    uint16_t row;    /* of a place that a row left: the same for all places of the edge that this row was worked on */
    uint8_t kind;
    bool marked; /* the stitch has a marker */
};

struct hk_edge {
    struct hk_spot *spots;
    size_t count, capacity;
};

/* The kind of stitches when only their number is known; it matches any kind. */
#define HK_SPOT_ANY UINT16_MAX

int64_t hk_edge_width(const struct hk_edge *edge);
int64_t hk_edge_count(const struct hk_edge *edge, bool spaces);
/* Returns true for the same places in the same order, ignoring the numbering of groups. */
bool hk_edge_same(const struct hk_edge *a, const struct hk_edge *b);
bool hk_edge_copy(struct hk_edge *to, const struct hk_edge *from);
void hk_edge_free(struct hk_edge *edge);

/* The limit of places in one row. */
#define HK_SPOTS_MOST ((size_t)1000000)

bool hk_edge_room(struct hk_edge *edge, size_t count);
bool hk_edge_push(struct hk_edge *edge, struct hk_spot spot);
bool hk_edge_add(struct hk_edge *to, const struct hk_spot *spots, size_t count);
void hk_edge_reverse(struct hk_edge *edge);
/* Makes `first` the first place of a round; the places before it move to the end. */
bool hk_edge_rotate(struct hk_edge *edge, size_t first, struct hk_edge *scratch);

#endif
