/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Counting a part: its rows are followed over the edge. No files, no findings: the caller (tally_make.c) knows which piece
 * and size to name.
 */
#ifndef HK_COUNT_H
#define HK_COUNT_H

#include "pattern/fabric.h"
#include "pattern/follow.h"

/*
 * Rows that widen by `by` stitches (below 0: narrow): row after[0], but never row 1, then the one after[1] rows on, then after[0]
 * again, in turn.
 */
struct hk_shaping {
    int64_t by, after[2];
};

/* How many rows of so many shape; the row that is the `count`-th to shape, 1 if count is 0. */
int64_t hk_shaping_count(const struct hk_shaping *shaping, int64_t rows);
int64_t hk_shaping_row(const struct hk_shaping *shaping, int64_t count);

/* Counts of stitch kinds; whole except in tapers. */
struct hk_kind {
    size_t stitch;
    double count;
};

/* A sum of kinds: of a stripe, or of one row. */
struct hk_kinds {
    struct hk_kind *kinds;
    size_t count;
};

/* A part to be worked. Stripes repeat from row 1 of the part; one stripe of any length where there are none. */
struct hk_work {
    const struct hk_fabric *fabric;
    const struct hk_catalogue *catalogue;
    enum hk_start start;
    int64_t stitches;       /* as the cell states, or HK_NOT_STATED */
    int64_t below;          /* HK_START_CONTINUE: how many stitches the line before left */
    const struct hk_follow *before; /* and its edge; NULL: only the number is known */
    int64_t rows;
    int64_t end_stitches;   /* an even taper to this, or HK_NOT_STATED */
    int64_t taper_rows;     /* that the taper goes over, if it is not worked to its end; 0: rows */
    struct hk_shaping shaping; /* how it comes to them; by 0: evenly, on widths between */
    struct hk_kinds made;   /* worked before the first row besides the foundation */
    const int64_t *stripe_rows; /* rows of each stripe, at least 1 */
    size_t stripe_count;    /* at least 1 */
    size_t foundation_stitch;   /* catalogue index of a chain or a cast-on stitch */
    int64_t *effort;            /* what all parts together may still cost, see HK_EFFORT_MOST; NULL: no bound */
};

/* A place followed costs 1, a row that is only added up 1 and its kinds of stitch / 16: a second or so in all. */
#define HK_EFFORT_MOST ((int64_t)100000000)

struct hk_stripe_count {
    struct hk_kinds kinds;     /* all its rows, the foundation too for the first stripe */
    double cut_m;
    int64_t joined;            /* times this stripe was changed to (from another one) within the part */
    struct hk_kinds *longest;  /* rows that may be its longest, none of them dominated by another; the foundation is no row */
    size_t longest_count;
};

struct hk_counted {
    struct hk_stripe_count *stripes; /* as many as the work has */
    size_t last_stripe;              /* the stripe the part ends with */
    int64_t foundation; /* chains or cast-on stitches that row 1 stands on: the fewest that leave the stated width */
    int64_t leaves;     /* of the last row; a taper: end_stitches */
    struct hk_row_run *runs;         /* a step other than 0 spans three rows at least; tapers rounded, halves up */
    size_t run_count;                /* at most HK_RUNS_MOST: then the last run ends before the last row */
    struct hk_follow *follow;        /* the edge that the part leaves, for one that goes on; owner: the caller */
    unsigned other; /* bits of enum hk_convention: taken otherwise than usual, since only then rows meet what they state */
};

#define HK_RUNS_MOST 4096
#define HK_PART_ROWS_MOST ((int64_t)1000000) /* of one part */

enum hk_counting {
    HK_COUNTING_DONE,
    HK_COUNTING_NO_WIDTH, /* a width that does not fit: see hk_count_error */
    HK_COUNTING_TROUBLE,  /* a row that cannot be followed on the stitches that are there: see hk_count_error.trouble */
    HK_COUNTING_MISCOUNTED, /* a row states another count than it comes to */
    HK_COUNTING_ENDLESS, /* a repeat that nothing ends: it needs nothing, or in row 1 leaves nothing of what is stated
                          */
    HK_COUNTING_DIFFERS, /* stated stitches are not those counted */
    HK_COUNTING_UNKNOWN, /* stitches are needed and not stated */
    HK_COUNTING_RIGID,   /* a taper over a row that has no repeat */
    HK_COUNTING_SHAPES,  /* a row that shapes by itself is to be shaped */
    HK_COUNTING_NO_DECREASE, /* no stitch of a row has a decrease in the tables */
    HK_COUNTING_TOO_MANY,    /* a row of more than HK_SPOTS_MOST places, or more than HK_PART_ROWS_MOST rows */
    HK_COUNTING_SPENT,       /* the effort is used up */
    HK_COUNTING_NO_MEMORY,
};

/* Where the counting stopped. */
struct hk_count_error {
    int64_t row;          /* from 1; of the part */
    int64_t below;        /* what the row stands on (a ring: 0), or, in row 1 by a stated width, the stated stitches */
    int64_t needs; /* the nearest above `below`, else below it, that the row would stand on; 0: it stands on none; or
                      HK_NOT_STATED */
    int64_t counted;      /* HK_COUNTING_DIFFERS: what the first row leaves; on an edge what it needs, if it needs any;
                             HK_COUNTING_MISCOUNTED */
    int64_t fits_row[2];  /* nearest widths below and above that this row would fit, or HK_NOT_STATED */
    int64_t fits_all[2];  /* nearest stated widths below and above that all rows fit, or HK_NOT_STATED */
    int64_t gain; /* by how much each cycle makes the part wider, at whatever width; 0 where it does not or differs */
    const struct hk_row *row_of;
    const struct hk_stated *stated; /* HK_COUNTING_MISCOUNTED; `below` is what it states in this size */
    struct hk_trouble trouble;
};

/*
 * Counts the whole part. *counted is filled on HK_COUNTING_DONE only, *error on every other answer but
 * HK_COUNTING_SPENT and HK_COUNTING_NO_MEMORY. A part of no rows comes to nothing and leaves what is below it.
 */
enum hk_counting hk_count_part(const struct hk_work *work, struct hk_counted *counted, struct hk_count_error *error,
                               struct hk_arena *arena);

/*
 * The width nearest to `stitches` (halves up) that all rows of the work fit, with at least one run of the first row's
 * repeat if it has one; work->stitches and the taper are ignored. *apart: how many stitches the widths that fit are
 * apart, 0 where only this one does. HK_COUNTING_NO_WIDTH where no width fits. Both untouched but on HK_COUNTING_DONE.
 */
enum hk_counting hk_count_nearest(const struct hk_work *work, double stitches, int64_t *width, int64_t *apart);

/*
 * Every row of the cycle that changes the width changes it the same way: worked on and on it shapes, and makes no
 * swatch. The arena is out of memory where memory is.
 */
bool hk_count_shapes(const struct hk_fabric *fabric, const struct hk_catalogue *catalogue, struct hk_arena *arena);

#endif
