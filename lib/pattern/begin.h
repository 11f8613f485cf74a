/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The beginning of a piece: "Ch 72 (78, 84), join.", "Cast on 84 sts", "magic ring", "Pick up and knit 60 sts", "On an
 * edge of 20 sts:".
 */
#ifndef HK_BEGIN_H
#define HK_BEGIN_H

#include "pattern/label.h"

enum hk_begin_kind {
    HK_BEGIN_CHAIN,   /* `count` chains; `joined` into a ring */
    HK_BEGIN_CAST_ON, /* `count` stitches cast on */
    HK_BEGIN_RING,    /* a magic ring, or a ring of `count` chains to work into */
    HK_BEGIN_PICK_UP, /* `count` stitches picked up and knitted */
    HK_BEGIN_EDGE,    /* `count` existing stitches, of the kind worked below */
    HK_BEGIN_HELD,    /* `count` stitches held or left earlier */
    HK_BEGIN_LEFT,    /* stitches that rows left, after `count` skipped ones */
    HK_BEGIN_ONLY,    /* `count` of the existing stitches; the rest is left */
    HK_BEGIN_JOIN,    /* yarn is joined to existing work; the number of stitches is not stated */
    HK_BEGIN_NOTHING  /* a row that makes its own foundation (foundation sc) */
};

struct hk_begin {
    enum hk_begin_kind kind;
    struct hk_graded_count count;
    bool joined;        /* worked in rounds */
    const char *stitch; /* HK_BEGIN_EDGE: the kind of its stitches, as written; NULL: not stated */
    const char *of;     /* further words on the place: "of body for the underarm", "along the left front edge" */
    bool more;          /* HK_BEGIN_PICK_UP: in addition to the held or cast-on stitches just begun on */
    bool last;          /* HK_BEGIN_ONLY: the last stitches, not the first */
    bool next;          /* HK_BEGIN_ONLY: the next stitches, "next 14 sts only" */
    size_t length;      /* length of the text in bytes */
    size_t setting;     /* 1 + the byte of words on yarn or tool after the number, "with MC and 5 mm hook"; 0: none */
    size_t wrong;       /* 1 + the byte of a number without one value for each size */
    const char *list;   /* a list at that byte in another form, as it has to be written: "62 (66, 74)"; NULL: none */
};

/* Returns false when the text is not such a beginning. */
bool hk_begin_read(const char *text, size_t size_count, struct hk_begin *begin, struct hk_arena *arena);

/* Return true when a row with these words works into a ring, or makes its own foundation. */
bool hk_row_in_ring(const char *text);
bool hk_row_founds(const char *text);

#endif
