/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The edge that rows leave: an array of places in working order, for one size. Of what changes it, false: memory runs
 * out. */
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
    uint32_t group;  /* alike for all that stands in one place of the row below */
    uint32_t chains; /* HK_SPOT_SPACE; of a counting chain its chains, else 0 */
    uint16_t stitch; /* of the catalogue; of a counting chain what it stands for */
    uint16_t part;   /* 1 + the part whose last row it is of, where a row has left it; else 0 */
    uint8_t kind;
    bool marked; /* a marker hangs in the stitch */
};

struct hk_edge {
    struct hk_spot *spots;
    size_t count, capacity;
};

/* The kind of a stitch of an edge of which only the number is known: it is found as any kind. */
#define HK_SPOT_ANY UINT16_MAX

int64_t hk_edge_width(const struct hk_edge *edge);
int64_t hk_edge_count(const struct hk_edge *edge, bool spaces);
/* The same places in the same order, however their groups are numbered. */
bool hk_edge_same(const struct hk_edge *a, const struct hk_edge *b);
bool hk_edge_copy(struct hk_edge *to, const struct hk_edge *from);
void hk_edge_free(struct hk_edge *edge);

/* Most places of one row. */
#define HK_SPOTS_MOST ((size_t)1000000)

bool hk_edge_room(struct hk_edge *edge, size_t count);
bool hk_edge_push(struct hk_edge *edge, struct hk_spot spot);
bool hk_edge_add(struct hk_edge *to, const struct hk_spot *spots, size_t count);
void hk_edge_reverse(struct hk_edge *edge);
/* Makes `first` the first place of a round; what stood before it comes last. */
bool hk_edge_rotate(struct hk_edge *edge, size_t first, struct hk_edge *scratch);

#endif
