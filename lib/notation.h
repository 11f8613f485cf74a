/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Row notation, as written patterns use it, down to what counting needs. Only needs and leaves are counted, not where things
 * stand, so a row comes down to two sums: what is worked once, and what each run of its repeats adds (repeats of one row run
 * equally often, so one number of runs serves them all).
 *
 *     row  = item { ("," | ";") item }
 *     item = "*" row "*" | "(" row ")" [times] [place] | [N] stitch [N] [place] | "tch" N ["as" ...] | "join" [N]
 *          | "cut" LENGTH [times] | "turn"                                          (hankful(1) has it whole)
 *
 * Sentences such as "rep from * to end" are put into these words first (wording.h).
 */
#ifndef HK_NOTATION_H
#define HK_NOTATION_H

#include "catalogue.h"

struct hk_stitches {
    size_t stitch; /* of the catalogue */
    int64_t count;
};

/* Everything in it is per copy of the row or per run of the repeat; no number exceeds HK_COUNT_MOST. */
struct hk_sum {
    int64_t needs;        /* stitches of the row below that are used up */
    int64_t turning_needs; /* those of `needs` that turning chains stand for: not needed in a ring nor on a flat chain */
    int64_t leaves;
    /* By catalogue order, no stitch twice; with chains of turning chains and slip stitches of joins, without skipped stitches. */
    struct hk_stitches *stitches;
    size_t stitch_count;
    double cut_m;         /* cut lengths together */
};

/* Whether the work is turned behind a row or goes round, by what the row says. */
enum hk_way {
    HK_WAY_NOT_STATED,
    HK_WAY_ROWS,   /* it turns, or begins with a turning chain, and is not closed */
    HK_WAY_ROUNDS, /* a join closes it, whether or not it is turned then */
};

struct hk_row {
    struct hk_sum once, each;
    bool repeats;         /* there is a repeat at all */
    enum hk_way way;
    bool ambiguous;       /* custom counts it in several ways: chain spaces, counting chains, slip stitches among others */
    bool states;          /* it says what it comes to */
    int64_t stated;       /* that many stitches */
    size_t stated_at;     /* byte of the cell */
    bool joined;          /* a join stands outside of brackets and repeats: the row is a round that is closed */
    struct hk_cell cell;  /* for messages */
};

#define HK_COUNT_MOST ((int64_t)1000000000000)

/* All ways to write the catalogue's stitches in these terms. False, *words untouched, when the arena is lost. */
bool hk_words_list(const struct hk_catalogue *catalogue, enum hk_terms terms, struct hk_words *words,
                   struct hk_arena *arena);

/* Parses a cell in the given terms. False with findings at their column; *row is then untouched. */
bool hk_row_parse(struct hk_cell cell, enum hk_terms terms, const struct hk_catalogue *catalogue, struct hk_row *row,
                  struct hk_arena *arena, struct hk_diags *diags);

#endif
