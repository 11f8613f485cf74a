/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Counting of a part, by following its rows over the edge. It makes no findings: the caller (tally_make.c) knows the
 * piece and size to name.
 */
#ifndef HK_COUNT_H
#define HK_COUNT_H

#include "pattern/fabric.h"
#include "pattern/follow.h"

/*
 * Shaping: rows that widen by `by` stitches (below 0: narrow). The first is row after[0], but never row 1; the
 * distances between them alternate between after[1] and after[0].
 */
struct hk_shaping {
    int64_t by, after[2];
};

/* Returns the number of shaping rows among `rows` rows, and the row of the `count`-th shaping; 1 if count is 0. */
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

/* The work of a part. Stripes repeat from row 1 of the part; without stripes there is one, of any length. */
struct hk_work {
    const struct hk_fabric *fabric;
    const struct hk_catalogue *catalogue;
    enum hk_start start;
    int64_t stitches;               /* as stated in the cell, or HK_NOT_STATED */
    int64_t below;                  /* HK_START_CONTINUE: the stitches that the line before left */
    const struct hk_follow *before; /* the edge of the line before; NULL: only the number is known */
    int64_t rows;
    int64_t end_stitches;       /* the stitches at the end of a taper, or HK_NOT_STATED */
    int64_t taper_rows;         /* the rows of the whole taper, if it is not worked to its end; 0: rows */
    struct hk_shaping shaping;  /* the shaping to end_stitches; by 0: an even taper */
    struct hk_kinds made;       /* stitches worked before the first row, without the foundation */
    const int64_t *stripe_rows; /* rows of each stripe, at least 1 */
    size_t stripe_count;    /* at least 1 */
    size_t foundation_stitch;   /* catalogue index of a chain or a cast-on stitch */
    int64_t *effort;            /* the effort left for all parts together, see HK_EFFORT_MOST; NULL: unlimited */
};

/*
 * The limit of the effort, about a second. A place followed costs 1; a row that is only added up costs 1 + its kinds of
 * stitch / 16.
 */
#define HK_EFFORT_MOST ((int64_t)100000000)

struct hk_stripe_count {
    struct hk_kinds kinds; /* of all its rows; the first stripe includes the foundation */
    double cut_m;
    int64_t joined;           /* the number of changes to this stripe from another within the part */
    struct hk_kinds *longest; /* the Pareto-maximal rows, of which the longest is one; without the foundation */
    size_t longest_count;
};

struct hk_counted {
    struct hk_stripe_count *stripes; /* one for each stripe of the work */
    size_t last_stripe;              /* the stripe the part ends with */
    int64_t foundation; /* the least number of chains or cast-on stitches below row 1 that gives the stated width */
    int64_t leaves;     /* the stitches that the last row leaves; a taper: end_stitches */
    struct hk_row_run *runs;  /* a run with a step other than 0 has at least three rows; tapers rounded half up */
    size_t run_count;         /* at most HK_RUNS_MOST; at the limit the last run may end before the last row */
    struct hk_follow *follow; /* the edge that the part leaves, for a line that continues; owner: the caller */
    unsigned other; /* bits of enum hk_convention with an unusual reading, needed to agree with stated counts */
};

#define HK_RUNS_MOST 4096
#define HK_PART_ROWS_MOST ((int64_t)1000000) /* limit for one part */

enum hk_counting {
    HK_COUNTING_DONE,
    HK_COUNTING_NO_WIDTH,   /* a width that does not fit: see hk_count_error */
    HK_COUNTING_TROUBLE,    /* a row that cannot be worked on the stitches below: see hk_count_error.trouble */
    HK_COUNTING_MISCOUNTED, /* a row states another count than the computed one */
    HK_COUNTING_ENDLESS, /* a repeat without an end: it uses no stitches, or in row 1 never reaches the stated width */
    HK_COUNTING_DIFFERS, /* the stated stitches differ from the computed ones */
    HK_COUNTING_UNKNOWN, /* the number of stitches is needed but not stated */
    HK_COUNTING_RIGID,   /* a taper over a row without a repeat */
    HK_COUNTING_SHAPES,  /* shaping of a row that changes the width itself */
    HK_COUNTING_NO_DECREASE, /* no stitch of a row has a decrease in the tables */
    HK_COUNTING_TOO_MANY,    /* a row of more than HK_SPOTS_MOST places, or more than HK_PART_ROWS_MOST rows */
    HK_COUNTING_SPENT,       /* the effort is used up */
    HK_COUNTING_NO_MEMORY,
};

/* Where the counting stopped. */
struct hk_count_error {
    int64_t row;          /* from 1; of the part */
    int64_t below;   /* the stitches below the row (a ring: 0); in row 1 with a stated width, the stated stitches */
    int64_t needs;   /* the nearest number of stitches above `below`, else below it, on which the row can be worked; 0:
                      * it needs none; or HK_NOT_STATED */
    int64_t counted; /* HK_COUNTING_DIFFERS: the stitches that the first row leaves; on an edge the stitches
                      * that it needs, if any; also set by HK_COUNTING_MISCOUNTED */
    int64_t fits_row[2];  /* nearest widths below and above that this row would fit, or HK_NOT_STATED */
    int64_t fits_all[2];  /* nearest stated widths below and above that all rows fit, or HK_NOT_STATED */
    int64_t gain;         /* the stitches that each cycle adds at any width; 0 if none or if it varies */
    const struct hk_row *row_of;
    const struct hk_stated *stated; /* HK_COUNTING_MISCOUNTED; `below` is the stated count in this size */
    struct hk_trouble trouble;
};

/*
 * Counts the whole part. *Sets *counted on HK_COUNTING_DONE only, and *error on every other answer except
 * HK_COUNTING_SPENT and HK_COUNTING_NO_MEMORY. A part without rows has no stitches and leaves the stitches below it.
 */
enum hk_counting hk_count_part(const struct hk_work *work, struct hk_counted *counted, struct hk_count_error *error,
                               struct hk_arena *arena);

/*
 * Finds the width nearest to `stitches` (ties up) that all rows of the work fit, with at least one run of the first
 * row's repeat if it has one; ignores work->stitches and the taper. *apart: the distance between widths that fit, 0 if
 * only this one does. Returns HK_COUNTING_NO_WIDTH if no width fits. Sets both only on HK_COUNTING_DONE.
 */
enum hk_counting hk_count_nearest(const struct hk_work *work, double stitches, int64_t *width, int64_t *apart);

/*
 * Returns true when every row of the cycle that changes the width changes it in the same direction: the fabric then
 * shapes and makes no flat swatch. Sets arena->out_of_memory when memory runs out.
 */
bool hk_count_shapes(const struct hk_fabric *fabric, const struct hk_catalogue *catalogue, struct hk_arena *arena);

#endif
