/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What a row of progress.csv is of: the lines of pieces.csv, or their first rows, that it says are worked. Two rows may
 * speak of the same work (a sleeve, then the whole garment): its yarn and its time are then taken from the later one
 * alone.
 */
#ifndef HK_TALLY_PROGRESS_H
#define HK_TALLY_PROGRESS_H

#include "tally/tally.h"

/* Rows still to be found among the lines, as the counting of a row of progress.csv begins. */
int64_t hk_progress_rows(const struct hk_progress *progress);

/* Copies of a line worked `times` times that the row is of. */
int64_t hk_progress_copies(const struct hk_progress *progress, int64_t times);

/* Says where a row states more rows than its lines have. False then. */
bool hk_progress_fits(const struct hk_progress *progress, const struct hk_progress_work *done, struct hk_diags *diags);

/* Settles which rows stand, and says which do not. */
void hk_progress_settle(struct hk_tally *tally, struct hk_diags *diags);

/*
 * What the weighings that stand come to, one for each size and each yarn that was weighed by itself, in the order of
 * progress.csv. NULL when the arena is out of memory.
 */
struct hk_need_used *hk_progress_used(const struct hk_tally *tally, struct hk_arena *arena, size_t *count);

#endif
