/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What lines of pieces.csv stand on by their cell `on`, in one size, and the sum of what lines take of another: no
 * stitch is taken twice, and what is left over is known.
 */
#ifndef HK_STANDING_H
#define HK_STANDING_H

#include "project/project.h"
#include "tally/count.h"

/* What a line left in a size, for those that hang on it. Of a line that the size does without: of the line before it of
 * its piece. */
struct hk_left {
    enum { HK_LEFT_NOTHING, HK_LEFT_WORKED, HK_LEFT_FAILED } state;
    size_t line; /* that was worked */
    int64_t times;
    int64_t stitches;             /* of its last row */
    int64_t rows, rows_through;   /* its own; with those of the lines that it continues on */
    int64_t foundation;           /* places along the other side of the foundation that these begin with */
    const struct hk_follow *edge; /* of the tally */
    size_t combination;           /* of its last stripe */
};

/* What a line stands on. */
struct hk_standing {
    int64_t stitches;     /* its own chains too; at most 10^15, where it is more */
    int64_t fitted;       /* what is worked: the nearest number that fits the fabric, where row ends leave a choice */
    int64_t *parts;       /* of each part of the cell, one time */
    int64_t *rows;        /* of each part along row ends: of one copy */
    struct hk_kinds made; /* chains and cast-on stitches of its own */
};

/* What is taken of each line in one size, as far as cells say it. */
struct hk_ledger;

/* For the sizes one after the other. NULL where the arena is out of memory. */
struct hk_ledger *hk_ledger_new(const struct hk_project *project, struct hk_arena *arena);
/* Begins a size. */
void hk_ledger_open(struct hk_ledger *ledger, size_t size);
/* [line] of the size, behind its last line: an error where more is taken of a line than it leaves. */
void hk_ledger_close(struct hk_ledger *ledger, const struct hk_left *left, struct hk_diags *diags);
/* What no line takes of those of which others take something: a note of each, for all sizes, behind the last size. */
void hk_ledger_report(const struct hk_ledger *ledger, struct hk_diags *diags);

/* What the line stands on. False with a finding, or silently where a line that it hangs on could not be counted. */
bool hk_stand(const struct hk_ledger *ledger, size_t line, const struct hk_left *left, struct hk_standing *standing,
              struct hk_diags *diags);

/* `176 of yoke + 2 x 8 ch`; "" where the arena is out of memory. */
const char *hk_standing_text(const struct hk_project *project, size_t line, const struct hk_standing *standing,
                             struct hk_arena *arena);

/* A note of what the line stands on, in all sizes; stitches 0 in those that do without. */
void hk_standing_report(const struct hk_project *project, size_t line, const struct hk_standing *by_size,
                        struct hk_diags *diags);

#endif
