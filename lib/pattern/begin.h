/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How a piece begins: "Ch 72 (78, 84), join.", "Cast on 84 sts", "magic ring", "Pick up and knit 60 sts", "On an edge
 * of 20 sts:". */
#ifndef HK_BEGIN_H
#define HK_BEGIN_H

#include "pattern/label.h"

enum hk_begin_kind {
    HK_BEGIN_CHAIN,   /* `count` chains; `joined` into a ring */
    HK_BEGIN_CAST_ON, /* `count` stitches cast on */
    HK_BEGIN_RING,    /* a magic ring, or a ring of `count` chains that stitches are worked into */
    HK_BEGIN_PICK_UP, /* `count` stitches picked up and knitted */
    HK_BEGIN_EDGE,    /* `count` stitches that are there, of whatever is worked below */
    HK_BEGIN_HELD,    /* `count` stitches that were held or left */
    HK_BEGIN_LEFT,    /* on stitches that rows left, behind `count` of them that are skipped */
    HK_BEGIN_ONLY,    /* on `count` of the stitches that are there: the rest is left */
    HK_BEGIN_JOIN,    /* yarn is joined to something that is there, and how many stitches is not said */
    HK_BEGIN_NOTHING  /* a row that makes its own foundation (foundation sc) */
};

struct hk_begin {
    enum hk_begin_kind kind;
    struct hk_graded_count count;
    bool joined;        /* worked in rounds from there */
    const char *stitch; /* HK_BEGIN_EDGE: the kind of its stitches, as written; NULL: it is not said */
    const char *of;     /* what else it says of the place: "of body for the underarm", "along the left front edge" */
    bool more;          /* HK_BEGIN_PICK_UP: beside the held or cast-on stitches that work has just begun on */
    bool last;          /* HK_BEGIN_ONLY: the last ones, not the first */
    size_t length;      /* bytes of the text that it takes */
    size_t setting;     /* 1 + the byte of words of yarn or tool behind the number, "with MC and 5 mm hook"; 0: none */
    size_t wrong;       /* 1 + the byte of a number that has not one value for each size */
};

/* False where the text does not begin so. */
bool hk_begin_read(const char *text, size_t size_count, struct hk_begin *begin, struct hk_arena *arena);

/* Whether a row of these words works into a ring, or makes its own foundation. */
bool hk_row_in_ring(const char *text);
bool hk_row_founds(const char *text);

#endif
