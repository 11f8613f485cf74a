/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The commonest sentences of published patterns, put into the notation before a row is parsed:
 *
 *     *k4, k2tog; rep from * to end                  *k4, k2tog*
 *     *k4, k2tog; rep from * to last 2 sts, k2       *k4, k2tog*, k2     (the 2 is not checked: counting does that)
 *     sc in next 3 sts                               sc in each of next 3 sts
 *     2 sc in each st around                         *2 sc in 1*
 *     sc in each st to last st, 2 sc in last st      *sc in 1*, 2 sc in 1
 *     sk next 2 sts                                  sk 2
 *     fpdc around next st                            fpdc in 1
 *     ch 3 (counts as first dc)                      tch 3 as (dc)
 *     ch 2 (does not count as st)                    tch 2
 *     sc in 2nd ch from hook and in each ch across   tch 1, sc, *sc in 1*
 *     dc in 4th ch from hook                         tch 3 as (dc), dc
 *     (sc 4, sc2tog) around                          *sc 4, sc2tog*
 *     join with sl st to first sc                    join
 *     sc 5 in back loop only                         sc 5 BLO
 *
 * and what a row comes to, "(40 sts)" at its end, is taken out;
 * also with repeat, across, around, to the end, first, last, skip, miss. What can be meant in more than one way is left
 * as it is, for the parser to refuse: 5 dc in next 3 sts, rep from * 3 times.
 */
#ifndef HK_WORDING_H
#define HK_WORDING_H

#include "arena.h"

#include <stdint.h>

/* What a row says that it comes to. */
struct hk_stated {
    int64_t stitches; /* -1: it does not say */
    size_t at;        /* byte of the cell */
};

/*
 * `text` and its origins as hk_text_plain gives them; both are replaced, but for what would come to more than twice its length:
 * no pattern does. False, and untouched, where the arena is lost.
 */
bool hk_wording(struct hk_arena *arena, char **text, size_t **origin, struct hk_stated *stated);

#endif
