/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Counting a part row by row from what the row below left. Pure arithmetic on whole numbers, checked; no files, no findings:
 * the caller (tally.c) knows which piece and size to name. Where a cycle leaves what it found, the remaining
 * rows are taken in bulk.
 */
#ifndef HK_COUNT_H
#define HK_COUNT_H

#include "fabric.h"

enum hk_start { HK_START_CHAIN, HK_START_EDGE, HK_START_RING, HK_START_CONTINUE };

#define HK_NOT_STATED (-1)

/* A part to be worked. Stripes repeat from row 1 of the part; one stripe of any length where there are none. */
struct hk_work {
    const struct hk_fabric *fabric;
    enum hk_start start;
    int64_t stitches;       /* as the cell states, or HK_NOT_STATED */
    int64_t below;          /* HK_START_CONTINUE: what the line before left */
    bool ambiguous;         /* and custom may count that in several ways */
    int64_t rows;
    int64_t end_stitches;   /* an even taper to this, or HK_NOT_STATED */
    int64_t taper_rows;     /* that the taper goes over, if it is not worked to its end; 0: rows */
    const int64_t *stripe_rows; /* rows of each stripe, at least 1 */
    size_t stripe_count;    /* at least 1 */
    size_t foundation_stitch;   /* catalogue index of a chain or a cast-on stitch */
    int64_t *effort;            /* what all parts together may still cost, see HK_EFFORT_MOST; NULL: no bound */
};

/*
 * One row walked costs 1; a part, 1 for each stripe, and as many as its fabric has rows in all its stripes / 16 and
 * stitches in all their rows / 8. At some 20 to 100 ns each, this is a second or so and some hundred MB at most, whatever
 * the folder; a large design (100 lines, 20 sizes) takes a hundredth of it.
 */
#define HK_EFFORT_MOST ((int64_t)10000000)

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
    /* Chains or cast-on stitches that row 1 stands on. A turning chain that counts takes up one of them if the row is
     * joined and works stitches into the others; in flat rows it is no part of them. */
    int64_t foundation;
    int64_t leaves;                  /* of the last row; a taper: end_stitches */
    bool ambiguous;                  /* custom counts a row in several ways: what it and those on it say was not compared */
    struct hk_row_run *runs;         /* a step other than 0 spans three rows at least; tapers rounded, halves up */
    size_t run_count;                /* at most HK_RUNS_MOST: then the last run ends before the last row */
};

#define HK_RUNS_MOST 4096
/* Rows whose widths go on changing are walked one by one, so many at most. */
#define HK_ROWS_WALKED_MOST ((int64_t)1000000)

enum hk_counting {
    HK_COUNTED,
    HK_MISFIT,       /* a width that does not fit: see hk_misfit */
    HK_ENDLESS,      /* a repeat that nothing ends: it needs nothing, or in row 1 leaves nothing of what is stated */
    HK_DIFFERS,      /* stated stitches are not those counted */
    HK_MISCOUNTED,   /* a row does not come to what it says */
    HK_UNKNOWN,      /* stitches are needed and not stated */
    HK_RIGID,        /* a taper over a row that has no repeat */
    HK_TOO_MANY,     /* counts beyond HK_COUNT_MOST, or rows beyond HK_ROWS_WALKED_MOST that keep changing */
    HK_SPENT,        /* the effort is used up */
    HK_NO_MEMORY,
};

/* Where the counting stopped. */
struct hk_misfit {
    int64_t row;          /* from 1; of the part */
    int64_t below;        /* what the row stands on (a ring: 0), or, in row 1 by a stated width, the stated stitches */
    int64_t needs;        /* the least that the row needs: no run of its repeat, and what falls away in row 1 left out */
    int64_t counted;      /* HK_DIFFERS: what the first row leaves; on an edge what it needs, if it needs any */
    int64_t stated;       /* HK_MISCOUNTED: what the row says, and `counted` what it leaves */
    size_t stated_at;     /* byte of its cell */
    int64_t fits_row[2];  /* nearest widths below and above that this row would fit, or HK_NOT_STATED */
    int64_t fits_all[2];  /* nearest stated widths below and above that all rows fit, or HK_NOT_STATED */
    struct hk_cell cell;  /* of the row's notation */
};

/*
 * Counts the whole part. *counted is filled on HK_COUNTED only, *misfit on every other answer but HK_SPENT and
 * HK_NO_MEMORY. A part of no rows comes to nothing and leaves what is below it.
 */
enum hk_counting hk_count_part(const struct hk_work *work, struct hk_counted *counted, struct hk_misfit *misfit,
                               struct hk_arena *arena);

/*
 * The width nearest to `stitches` (halves up) that all rows of the work fit, with at least one run of the first row's repeat
 * if it has one; work->stitches and the taper are ignored. *apart: how many stitches the widths that fit are apart, 0 where only
 * this one does. HK_MISFIT where no width fits. Both untouched but on HK_COUNTED.
 */
enum hk_counting hk_count_nearest(const struct hk_work *work, double stitches, int64_t *width, int64_t *apart);

#endif
