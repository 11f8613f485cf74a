/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The input and output of following a row: conventions, the manner of working, the result. */
#ifndef HK_FOLLOWED_H
#define HK_FOLLOWED_H

#include "pattern/edge.h"
#include "pattern/row.h"

/*
 * Ambiguous conventions on chains, with one choice for a whole file (hankful(1), Conventions). The text may settle
 * each.
 */
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
    unsigned settled; /* settled by the text: no other reading is tried */
    unsigned other;   /* not the default */
};

/* Readings of a row with ambiguous words. Bits. */
enum {
    HK_READING_SPACES = 1, /* "next st" and "sk N": spaces are among the places */
    HK_READING_TIMES = 2,  /* "rep from * N times": N + 1 in all */
    HK_READING_OTHER = 4   /* the figure at the end is a count (struct hk_row, other) */
};
#define HK_READINGS 8

/* The manner of working a row. */
struct hk_manner {
    bool round;  /* turns only where stated; false: each row begins where the one before ended */
    bool strict; /* a row of a stitch pattern: no place may be left over */
    bool fixed;  /* open repeats without another end run `runs` times, not as often as they fit */
    int64_t runs;
};

/* Places of other work that rows may work into: in a piece or part of the pattern, in one size. */
struct hk_other {
    enum hk_other_kind kind;
    size_t part;    /* part of the pattern */
    int64_t count;  /* places, of one copy */
    int64_t copies; /* of the piece with these places */
    bool beside;    /* HK_OTHER_ROW_ENDS: of rows on a part of the stitches, next to other rows of the piece */
    int64_t taken;  /* places taken by rows; not of row ends, which stay available */
    int64_t skipped; /* of these, skipped by the last row and left in place for `skipped_name`, which may be NULL */
    const char *skipped_name;
    const struct hk_edge *edge; /* stitches with their kinds; NULL or empty: only the number is known */
    const char *name;           /* HK_OTHER_LEFT: their purpose; NULL or "": not stated */
};

/* Returns the part of `left`, for all copies, in the last copy with places left. */
static inline int64_t hk_other_left_of_copy(const struct hk_other *other, int64_t left)
{
    return left > 0 && other->count > 0 ? (left - 1) % other->count + 1 : left;
}

/* Stitches that a row skipped or put on hold, by one step. */
struct hk_set_aside {
    const char *name; /* their purpose; NULL: not stated */
    const struct hk_spot *spots;
    size_t count;
};

/* Worked stitches, with chains and slip stitches, without skipped ones. */
struct hk_stitches {
    size_t stitch;
    size_t yarn; /* SIZE_MAX: the yarn at the start of the row; else an index in hk_row_words.yarns */
    int64_t count;
};

/* The reason why a row cannot be followed. */
struct hk_trouble {
    enum hk_code code;
    size_t at; /* byte of the row's text */
    char text[240], hint[240];
    int64_t remain; /* places left over at the end of the row; 0: another error */
    bool endless;   /* a repeat has no end */
    bool short_of;  /* too few places */
    bool spent;     /* the effort is used up */
};

/* A stated count and the computed one. */
struct hk_compared {
    int64_t stated, actual;
    bool agrees;
};

/*
 * Where a row has more or (below 0) fewer stitches than the row below: near its start and near its end, within
 * HK_ENDS_NEAR stitches. A row of a slanting piece has more at one end and as many fewer at the other. elsewhere: some
 * are further inside, or the row does not show where.
 */
struct hk_ends {
    int64_t start, end;
    bool elsewhere;
};
#define HK_ENDS_NEAR 5

/* The result of one row. Arrays live until the next row of the same follower. */
struct hk_followed {
    bool good;
    struct hk_trouble trouble;        /* if not good */
    int64_t count;                    /* stitches, by the readings taken */
    int64_t width;                    /* the count with spaces, one for each chain */
    int64_t left;                     /* places of the row below left unworked */
    int64_t used;                     /* places of the row below that the row used */
    int64_t went_on;                  /* the total of runs of repeats and "each" that continue as long as they fit */
    const struct hk_stitches *worked; /* in working order; neighbours differ */
    size_t worked_count;
    size_t yarn; /* the yarn at the end of the row; SIZE_MAX: the one at its start */
    double cut_m;
    const struct hk_compared *compared; /* one for each stated count of the row */
    size_t compared_count;
    const struct hk_set_aside *aside; /* set aside by a row that divides the work */
    size_t aside_count;
    int64_t
        chains; /* of a row that divides: the chains in place of skipped stitches, per set; 0: none, or sets differ */
    int64_t chain_sets;
    struct hk_ends changed; /* zero for a round and a row of a fabric */
    unsigned choices;  /* bits of enum hk_convention that the row depends on */
    unsigned readings; /* the reading taken, if the row has several */
};

#endif
