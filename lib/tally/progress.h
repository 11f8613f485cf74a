/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The work of a row of progress.csv: the finished lines of pieces.csv, or their first rows. Two rows may include the
 * same work (a sleeve, then the whole garment); then only the later row's yarn and time are used.
 */
#ifndef HK_TALLY_PROGRESS_H
#define HK_TALLY_PROGRESS_H

#include "tally/tally.h"

/* Returns the number of rows to assign to lines when the counting of a row of progress.csv begins. */
int64_t hk_progress_rows(const struct hk_progress *progress);

/* Returns the number of copies that the row includes of a line worked `times` times. */
int64_t hk_progress_copies(const struct hk_progress *progress, int64_t times);

/* Returns false with a finding when a row states more rows than its lines have. */
bool hk_progress_fits(const struct hk_progress *progress, const struct hk_progress_work *done, struct hk_diags *diags);

/* Returns the row that has the weight of everything that was on the scale together with this row; usually itself. */
size_t hk_progress_weight_row(const struct hk_project *project, size_t row);

/* Decides which rows are used, and reports the others. */
void hk_progress_settle(struct hk_tally *tally, struct hk_diags *diags);

/*
 * Returns the yarn used according to the weighings in use, one entry for each size and each yarn weighed by itself, in
 * the order of progress.csv. NULL when out of memory.
 */
struct hk_need_used *hk_progress_used(const struct hk_tally *tally, struct hk_arena *arena, size_t *count);

#endif
