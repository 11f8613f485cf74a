/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What following a row takes and gives: what custom leaves open, how the row is worked, what it came to. */
#ifndef HK_FOLLOWED_H
#define HK_FOLLOWED_H

#include "pattern/edge.h"
#include "pattern/row.h"

/* What custom leaves open of chains, one choice for a whole file (hankful(1), Conventions). Each may be settled by words. */
enum hk_convention {
    HK_CONVENTION_CH2,         /* ch 2 at the start of a row counts as its first stitch; default no */
    HK_CONVENTION_CH3,         /* ch 3 before dc counts; default yes */
    HK_CONVENTION_CH4,         /* ch 4 before tr counts; default yes */
    HK_CONVENTION_CH_OTHER,    /* other chains before a stitch count as it; default no */
    HK_CONVENTION_SKIPPED_DC,  /* skipped foundation chains before dc count as a dc; default yes */
    HK_CONVENTION_SKIPPED_HDC, /* the same before hdc; default no */
    HK_CONVENTION_SPACES,      /* spaces count in a number of stitches; default no */
    HK_CONVENTIONS
};

/* Bits by enum hk_convention. */
struct hk_conventions {
    unsigned settled; /* by words: not tried otherwise */
    unsigned other;   /* taken other than the default */
};

/* A way to read one row, where its words may be meant in two. Bits. */
enum {
    HK_READING_SPACES = 1, /* "next st" and "sk N": spaces are among the places */
    HK_READING_TIMES = 2,  /* "rep from * N times": N + 1 in all */
    HK_READING_OTHER = 4   /* the figure at the end is a count (struct hk_row, other) */
};
#define HK_READINGS 8

/* How a row is worked. */
struct hk_manner {
    bool round;  /* no turn but where the row says so; else each row begins where the one before ended */
    bool strict; /* a row of a stitch pattern: nothing may be left over */
    bool fixed;  /* open repeats that nothing else ends are run `runs` times, not as often as fits */
    int64_t runs;
};

/* Places of other work that rows may be worked into: what stands in a piece or part of the pattern, in one size. */
struct hk_other {
    enum hk_other_kind kind;
    size_t part;    /* of the pattern */
    int64_t count;  /* places, of one copy */
    int64_t copies; /* of the piece that they are of */
    bool beside;    /* HK_OTHER_ROW_ENDS: of rows on some of the stitches, beside other rows of the piece */
    int64_t taken;  /* by rows, of those that are used up: not of row ends */
    int64_t skipped; /* of those, by the last row: left where they were, for `skipped_name`, which may be NULL */
    const char *skipped_name;
    const struct hk_edge *edge; /* stitches with their kinds; NULL or empty: only their number is known */
    const char *name; /* HK_OTHER_LEFT: what they wait for; NULL or "": it is not said */
};

/* Of what all copies have left, that of the last one of which something is. */
static inline int64_t hk_other_left_of_copy(const struct hk_other *other, int64_t left)
{
    return left > 0 && other->count > 0 ? (left - 1) % other->count + 1 : left;
}

/* Stitches that a row skipped or put on hold, by one step. */
struct hk_set_aside {
    const char *name; /* what they wait for; NULL: it is not said */
    const struct hk_spot *spots;
    size_t count;
};

/* Stitches worked: chains and slip stitches too, without skipped ones. */
struct hk_stitches {
    size_t stitch;
    size_t yarn; /* SIZE_MAX: the yarn that the row began with; else of hk_row_words.yarns */
    int64_t count;
};

/* Why a row cannot be followed. */
struct hk_trouble {
    enum hk_code code;
    size_t at; /* byte of the row's text */
    char text[240], hint[240];
    int64_t remain; /* places that remain where the row should have come out; 0: it is something else */
    bool endless;   /* nothing ends a repeat */
    bool short_of;  /* too few places */
    bool spent;     /* the effort is used up */
};

/* A stated count against what was worked. */
struct hk_compared {
    int64_t stated, actual;
    bool agrees;
};

/* What one row came to. Arrays live until the next row of the same follower. */
struct hk_followed {
    bool good;
    struct hk_trouble trouble;        /* where it is not */
    int64_t count;                    /* stitches, by the choices taken */
    int64_t width;                    /* with spaces, a chain each */
    int64_t left;                     /* places of the row below left unworked */
    int64_t used;                     /* places of the row below that it went over */
    int64_t went_on;                  /* runs of repeats and "each" that go on as long as they fit, all together */
    const struct hk_stitches *worked; /* in working order, neighbours differ */
    size_t worked_count;
    size_t yarn; /* that the row ends with; SIZE_MAX: the one that it began with */
    double cut_m;
    const struct hk_compared *compared; /* one for each stated count of the row */
    size_t compared_count;
    const struct hk_set_aside *aside; /* those of a row that divides the work */
    size_t aside_count;
    int64_t chains; /* of a row that divides: those that stand for what it skipped, of one set; 0: none, or unlike ones */
    int64_t chain_sets;
    unsigned choices;  /* bits of enum hk_convention that the row depends on */
    unsigned readings; /* the reading taken, where the row has several */
};

#endif
