/* SPDX-License-Identifier: GPL-3.0-or-later */
/* pattern.txt: a written pattern as lines of the project, beside those of pieces.csv or in their place. */
#ifndef HK_PATTERN_FILE_H
#define HK_PATTERN_FILE_H

#include "project/read/reading.h"

/*
 * Reads the file, if there is one, works it in every size and adds its lines to the project. What is found in it is
 * kept with the project (hk_project.proof_diags), for a pattern that has mistakes still has rows to be shown; the tally
 * reports it.
 */
void hk_pattern_file_read(struct hk_reading *reading);

/* Adds what was found in pattern.txt to *diags. */
void hk_pattern_file_report(const struct hk_project *project, struct hk_diags *diags);

#endif
