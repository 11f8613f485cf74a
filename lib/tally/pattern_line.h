/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A line of pattern.txt as work: the stitches that its proof counted, by yarn, with ends and longest rows. */
#ifndef HK_PATTERN_LINE_H
#define HK_PATTERN_LINE_H

#include "tally/worked.h"

/*
 * What a line of pattern.txt comes to in one size, its first `rows` rows (HK_NOT_STATED: all of them). *worked is
 * filled but for its times and tool. `before`: the combination that the line before it ended with, SIZE_MAX: none;
 * *last: the one it ends with. False where the arena is out of memory.
 */
bool hk_pattern_line_work(const struct hk_project *project, size_t line, size_t size, int64_t rows, size_t before,
                          struct hk_worked *worked, size_t *last, struct hk_arena *arena);

/* Rows of a line in one size. */
int64_t hk_pattern_line_rows(const struct hk_project *project, size_t line, size_t size);

#endif
