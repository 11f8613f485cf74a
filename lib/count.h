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
    int64_t rows;
    int64_t end_stitches;   /* an even taper to this, or HK_NOT_STATED */
    const int64_t *stripe_rows; /* rows of each stripe */
    size_t stripe_count;    /* at least 1 */
    size_t foundation_stitch;   /* catalogue index of a chain or a cast-on stitch */
};

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
    struct hk_kinds *longest;  /* rows that may be its longest, none of them dominated by another */
    size_t longest_count;
};

struct hk_counted {
    struct hk_stripe_count *stripes; /* as many as the work has */
    size_t last_stripe;              /* the stripe the part ends with */
    int64_t foundation;              /* chains or cast-on stitches */
    int64_t leaves;                  /* of the last row; a taper: end_stitches */
    struct hk_row_run *runs;
    size_t run_count;
};

enum hk_counting {
    HK_COUNTED,
    HK_MISFIT,       /* a width that does not fit: see hk_misfit */
    HK_ENDLESS,      /* a repeat that needs nothing, with nothing to end it */
    HK_DIFFERS,      /* stated stitches are not those counted */
    HK_UNKNOWN,      /* stitches are needed and not stated */
    HK_TOO_MANY,     /* beyond HK_COUNT_MOST */
    HK_NO_MEMORY,
};

struct hk_misfit {
    int64_t row;          /* from 1; of the part */
    int64_t below;        /* what the row stands on, or, in row 1, the stated stitches */
    int64_t counted;      /* HK_DIFFERS: what the first row leaves */
    int64_t fits_row[2];  /* nearest widths below and above that this row would fit, or HK_NOT_STATED */
    int64_t fits_all[2];  /* nearest stated widths that all rows fit, or HK_NOT_STATED */
    struct hk_cell cell;  /* of the row's notation */
};

enum hk_counting hk_count_part(const struct hk_work *work, struct hk_counted *counted, struct hk_misfit *misfit,
                               struct hk_arena *arena);

/*
 * The width nearest to `stitches` (halves up) that all rows of the work fit, with at least one run of the first row's repeat;
 * work->stitches is ignored. HK_MISFIT where none fits within a wide search.
 */
enum hk_counting hk_count_nearest(const struct hk_work *work, double stitches, int64_t *width, struct hk_arena *arena);

#endif
