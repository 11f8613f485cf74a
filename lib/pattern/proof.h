/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Proofreading of a written pattern: every row in every size is worked on the actual result of the row below, and
 * compared with the counts that it states. After a row that cannot be read, work continues from its stated count. Built
 * once, then constant.
 */
#ifndef HK_PROOF_H
#define HK_PROOF_H

#include "pattern/written.h"

/* Access to rows and gauges that are not in pattern.txt. */
struct hk_proof_host {
    const void *context;
    /*
     * The rows of a fabric: `*setup` worked once, then `*cycle` repeated. Returns false if there is no fabric with this
     * name.
     */
    bool (*fabric)(const void *context, const char *name, const struct hk_row **rows, size_t *setup, size_t *cycle);
    /* Returns the rows per metre of a stitch with a tool, and the swatch with this gauge; 0 if there is none. */
    double (*rows_per_m)(const void *context, size_t stitch, double tool_mm, const char **swatch);
};

/* The result of a row line in one size; for a range, after its last row. */
struct hk_proof_row {
    bool there;       /* the size has the row */
    bool by_gauge;    /* a length became rows by the gauge of a swatch */
    bool worked;      /* the row was worked; if false, only `rows` below is known */
    bool from_stated; /* worked on the stated count of the row below, which was refused */
    int64_t rows;
    int64_t stitches, left;
    const struct hk_written_places *places;
    size_t place_count;
    const struct hk_written_places *on_hold;
    size_t on_hold_count;
    const struct hk_written_stated *stated;
    size_t stated_count;
    bool agrees;
    const char *sum;  /* of a row that divides the work and differs from its stated count: "10 + 90 + 8 + 90 are 198";
                       * or NULL */
    unsigned choices; /* bits of enum hk_convention that the row depends on */
    const char *const *readings; /* the conventions taken */
    size_t reading_count;
    enum hk_side side; /* side of its last row */
};

/* Stitches of one kind in one yarn. */
struct hk_proof_stitches {
    size_t held; /* index in written->helds; SIZE_MAX: no yarn has been named */
    size_t stitch;
    int64_t count;
};

/* The ends of a work's rows that are shaped. */
enum hk_ends_of {
    HK_ENDS_OF_ROW,    /* the start and the end of the row as it is worked, on either side of the work */
    HK_ENDS_OF_WORK,   /* start: the left edge of the work, end: its right edge */
    HK_ENDS_OF_NEITHER /* the change is spread evenly over the row */
};

/* Consecutive rows with the same stitches. */
struct hk_proof_work {
    const struct hk_proof_stitches *stitches; /* of one row, by held, then stitch */
    size_t stitch_count;
    int64_t rows; /* 0: a foundation, or a tail */
    int64_t leaves;
    int64_t width; /* `leaves` with the chains of spaces; of a foundation `leaves` */
    bool round;
    bool begins;            /* its first row is worked on other stitches than those of the row before it */
    bool joined;            /* yarn is joined to existing work before its first stitch */
    enum hk_side side;      /* of its first row */
    struct hk_ends changed; /* of its first row; the others do not change the number of stitches */
    enum hk_ends_of ends_of;
    double cut_m; /* per row, of the yarn of its last stitch */
    size_t cut_held;
    bool carried; /* yarns not in use are not cut */
};

/* A line in one size. */
struct hk_proof_line {
    struct hk_proof_work *works;
    size_t count, capacity;
    int64_t foundation;
    bool beside; /* some rows begin again on stitches left by earlier rows, and are next to others */
};

struct hk_proof_total {
    size_t stitch;
    int64_t count;
};

struct hk_proof {
    struct hk_arena arena;
    const struct hk_written *written;
    bool *read;                       /* [entry]: its words were understood */
    const struct hk_row_text **tails; /* [entry]: the stated counts of a row that was not read; NULL: none */
    struct hk_proof_row *rows;   /* [entry * sizes + size] */
    struct hk_proof_line *lines; /* [line * sizes + size] */
    bool *incomplete;            /* by size: some rows are missing from the counts */
    unsigned choices, other;     /* bits of enum hk_convention: conventions that some row depends on; those not taken by
                                  * default */
    unsigned taken[2]; /* likewise: some row takes the default [0], or the other reading [1], by words or by counts */
    size_t *unread;    /* texts taken for definitions that are prose */
    size_t unread_count;
};

/*
 * Works the whole pattern. Findings: rows that cannot be worked, counts that differ, stitches left, each reported once
 * for all its sizes. NULL when out of memory. Borrows the written pattern; owner: the caller. *effort as in follow.h.
 */
struct hk_proof *hk_proof_make(const struct hk_written *written, const struct hk_proof_host *host, int64_t *effort,
                               struct hk_diags *diags);
void hk_proof_free(struct hk_proof *proof);

#endif
