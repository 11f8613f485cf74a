/* SPDX-License-Identifier: GPL-3.0-or-later */
/* progress.csv: unfinished work, weighed and timed. */
#ifndef HK_PROGRESS_H
#define HK_PROGRESS_H

#include "project/read/reading.h"

/* Fills the project's progress, after the files that its rows refer to; all mistakes become findings. */
void hk_progress_read(struct hk_reading *reading);

/* The cells of a row of progress.csv, typed on a command line (hand.c); `piece` filled, the others may be empty. */
struct hk_progress_words {
    struct hk_cell piece, part, rows, yarn;
};

/* Reads such a row, of the size that progress->size has, without a weight. False with a finding. */
bool hk_progress_typed(struct hk_reading *reading, const struct hk_progress_words *words, struct hk_progress *progress);

/* The names of the pieces, and `all`. */
struct hk_names hk_progress_pieces(struct hk_reading *reading);

/* The grams of that yarn at home before the work, by the labels: the offers of the shop own for its roles. */
double hk_progress_hand_g(const struct hk_project *project, struct hk_of_yarn of);

/* Once the folders to learn from are read: a weighing that stands in an earlier folder too counts once, with a warning. */
void hk_progress_once(struct hk_project *project, struct hk_diags *diags);

#endif
