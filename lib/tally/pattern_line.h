/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The work of a line of pattern.txt: the stitches counted by its proof, by yarn, with ends and longest rows. */
#ifndef HK_PATTERN_LINE_H
#define HK_PATTERN_LINE_H

#include "tally/worked.h"

/*
 * Computes the work of a line of pattern.txt in one size, for its first `rows` rows (HK_NOT_STATED: all). Sets *worked
 * except its times and tool. before: the combination at the end of the line before, SIZE_MAX: none; *last: the
 * combination at the end of this line. Returns false when out of memory.
 */
bool hk_pattern_line_work(const struct hk_project *project, size_t line, size_t size, int64_t rows, size_t before,
                          struct hk_worked *worked, size_t *last, struct hk_arena *arena);

/* Returns the number of rows of a line in one size. */
int64_t hk_pattern_line_rows(const struct hk_project *project, size_t line, size_t size);

#endif
