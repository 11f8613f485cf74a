/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Proofreading a written pattern: every row in every size is worked on what the row below really left, and set beside
 * what it states. Drafts go on behind a row that cannot be read from the count that it states. Built once, then
 * constant.
 */
#ifndef HK_PROOF_H
#define HK_PROOF_H

#include "pattern/written.h"

/* What rows are worked by that stand in no pattern.txt. */
struct hk_proof_host {
    const void *context;
    /* The rows of a fabric: `*setup` worked once, then `*cycle` in turn. False: there is none of that name. */
    bool (*fabric)(const void *context, const char *name, const struct hk_row **rows, size_t *setup, size_t *cycle);
    /* Rows in a metre of work in a stitch with a tool, and the swatch that says so; 0: none does. */
    double (*rows_per_m)(const void *context, size_t stitch, double tool_mm, const char **swatch);
};

/* What a row line came to in one size; a range after its last row. */
struct hk_proof_row {
    bool there;       /* the size has it */
    bool by_gauge;    /* a length became rows by the gauge of a swatch */
    bool worked;      /* it could be; else nothing below but `rows` is known */
    bool from_stated; /* on what the row below states, since that one was refused */
    int64_t rows;
    int64_t stitches, left;
    const struct hk_written_places *places;
    size_t place_count;
    const struct hk_written_places *on_hold;
    size_t on_hold_count;
    const struct hk_written_stated *stated;
    size_t stated_count;
    bool agrees;
    const char *sum; /* of a row that divides and differs from what it states: "10 + 90 + 8 + 90 are 198"; or NULL */
    unsigned choices;            /* bits of enum hk_convention that it depends on */
    const char *const *readings; /* how they are taken */
    size_t reading_count;
    enum hk_side side; /* of its last row */
};

/* Stitches of one kind in one yarn. */
struct hk_proof_stitches {
    size_t held; /* of written->helds; SIZE_MAX: no yarn has been named */
    size_t stitch;
    int64_t count;
};

/* Rows that come to the same, one after another. */
struct hk_proof_work {
    const struct hk_proof_stitches *stitches; /* of one of them, by held, then stitch */
    size_t stitch_count;
    int64_t rows; /* 0: a foundation, or a tail that is left hanging */
    int64_t leaves;
    double cut_m; /* of the yarn of its last stitch, each row */
    size_t cut_held;
    bool carried; /* yarns that it does not use are not cut */
};

/* A line in one size. */
struct hk_proof_line {
    struct hk_proof_work *works;
    size_t count, capacity;
    int64_t foundation;
    bool beside; /* rows of it begin again on stitches that earlier rows left, and so lie beside others */
};

struct hk_proof_total {
    size_t stitch;
    int64_t count;
};

struct hk_proof {
    struct hk_arena arena;
    const struct hk_written *written;
    bool *read;                  /* [entry]: its own words are understood */
    const struct hk_row_text **tails; /* [entry]: where a row that is not states counts; NULL: nowhere */
    struct hk_proof_row *rows;   /* [entry * sizes + size] */
    struct hk_proof_line *lines; /* [line * sizes + size] */
    bool *incomplete;            /* by size: rows are missing from what is counted */
    unsigned choices, other; /* bits of enum hk_convention: that some row depends on; taken other than the default */
    unsigned taken[2];       /* the same: rows take the default, and the other, by words or by counts */
    size_t *unread;          /* definitions that are none: prose */
    size_t unread_count;
};

/*
 * Works all of it. Findings: what a row cannot be worked for, counts that differ, what is left: each once for all sizes
 * that it is of. NULL where memory runs out. Borrows the written pattern; owner: the caller. *effort as in follow.h.
 */
struct hk_proof *hk_proof_make(const struct hk_written *written, const struct hk_proof_host *host, int64_t *effort,
                               struct hk_diags *diags);
void hk_proof_free(struct hk_proof *proof);

#endif
