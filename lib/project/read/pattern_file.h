/* SPDX-License-Identifier: GPL-3.0-or-later */
/* pattern.txt: a written pattern as lines of the project, beside those of pieces.csv or in their place. */
#ifndef HK_PATTERN_FILE_H
#define HK_PATTERN_FILE_H

#include "pattern/proof.h"
#include "project/read/reading.h"

/*
 * Reads the file, if there is one, works it in every size and adds its lines to the project. Its findings are kept with
 * the project (hk_project.proof_diags), because a pattern with mistakes still has rows to show; the tally reports them.
 */
void hk_pattern_file_read(struct hk_reading *reading);

/* What rows are worked by that stand in no pattern.txt, and what words mean in it. False where the arena is out of
 * memory. */
struct hk_proof_host hk_pattern_file_host(const struct hk_project *project);
bool hk_pattern_file_words(const struct hk_project *project, struct hk_row_words *words, struct hk_arena *arena);

/* Adds the findings of pattern.txt to *diags. */
void hk_pattern_file_report(const struct hk_project *project, struct hk_diags *diags);

#endif
