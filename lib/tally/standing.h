/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The stitches that lines of pieces.csv start on by their cell `on`, in one size, and the sum that lines take from
 * another line: no stitch is taken twice, and the rest is known.
 */
#ifndef HK_STANDING_H
#define HK_STANDING_H

#include "project/project.h"
#include "tally/count.h"

/*
 * The result of a line in a size, for the lines that depend on it. If the size does not have the line: that of the line
 * before it in its piece.
 */
struct hk_left {
    enum { HK_LEFT_NOTHING, HK_LEFT_WORKED, HK_LEFT_FAILED } state;
    size_t line; /* the line that was worked */
    int64_t times;
    int64_t stitches;             /* left by its last row */
    int64_t rows, rows_through;   /* its own rows; its rows and those of the lines that it continues */
    int64_t foundation;           /* places along the other side of the foundation */
    const struct hk_follow *edge; /* owned by the tally */
    size_t combination;           /* of its last stripe */
};

/* The stitches that a line starts on. */
struct hk_standing {
    int64_t stitches;     /* its own chains included; saturates at 10^15 */
    int64_t fitted;       /* the stitches worked: the nearest number that fits the fabric, if row ends allow it */
    int64_t *parts;       /* stitches of each part of the cell, once */
    int64_t *rows;        /* rows of each part along row ends, for one copy */
    struct hk_kinds made; /* chains and cast-on stitches of its own */
};

/* The stitches taken from each line in one size, as stated in cells. */
struct hk_ledger;

/* Creates a ledger, used for one size after the other. NULL when out of memory. */
struct hk_ledger *hk_ledger_new(const struct hk_project *project, struct hk_arena *arena);
/* Begins a size. */
void hk_ledger_open(struct hk_ledger *ledger, size_t size);
/* Ends a size; left: [line]. Reports an error when more is taken from a line than it leaves. */
void hk_ledger_close(struct hk_ledger *ledger, const struct hk_left *left, struct hk_diags *diags);
/* After the last size, adds a note for each line of which only a part is taken, for all sizes. */
void hk_ledger_report(const struct hk_ledger *ledger, struct hk_diags *diags);

/*
 * Computes the stitches that the line starts on. Returns false with a finding, or silently when a line it depends on
 * could not be counted.
 */
bool hk_stand(const struct hk_ledger *ledger, size_t line, const struct hk_left *left, struct hk_standing *standing,
              struct hk_diags *diags);

/* Returns `176 of yoke + 2 x 8 ch`; "" when out of memory. */
const char *hk_standing_text(const struct hk_project *project, size_t line, const struct hk_standing *standing,
                             struct hk_arena *arena);

/* Adds a note with the stitches that the line starts on, in all sizes; 0 in sizes that do not have it. */
void hk_standing_report(const struct hk_project *project, size_t line, const struct hk_standing *by_size,
                        struct hk_diags *diags);

#endif
