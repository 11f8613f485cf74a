/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Help with grading: where pieces.csv gives lengths, the stitches or rows that they became in every size, the repeat that
 * they were rounded to, and the finished measurement that really results.
 */
#ifndef GRADING_H
#define GRADING_H

#include "json.h"
#include "layout.h"
#include "pipeline.h"

/* What may be given as a length. */
enum grading_what { GRADING_WIDTH, GRADING_END_WIDTH, GRADING_HEIGHT };
enum { grading_whats = GRADING_HEIGHT + 1 };

const char *grading_name(enum grading_what what);    /* "width", "end width", "height" */
const char *grading_counted(enum grading_what what); /* "stitches", "rows" */
const struct hk_length_worked *grading_length(const struct hk_line_count *line, enum grading_what what);

/* Whether the line is given by that length in any of the sizes, and by which swatch it was computed. */
bool grading_given(const struct work *work, size_t line, struct size_range sizes, enum grading_what what,
                   const char **swatch);

/*
 * A line's rows in a table of two columns before the sizes; *part, the first of them, is "" from its second row on. With the
 * counts too, where nothing else in the table shows them.
 */
void grading_rows(struct text_table *table, const struct work *work, size_t line, struct size_range sizes, bool counts,
                  const char **part);

/* All lines in a table of its own, under a heading; nothing where counts are given throughout. */
void grading_print(const struct work *work, struct size_range sizes, struct text *text);

/* Names the swatches whose gauge it was; nothing where counts are given throughout. */
void grading_swatches(const struct work *work, struct size_range sizes, struct text *text);

/* [{"what":"width","swatch":"","count":0,"apart":0,"asked_m":0,"finished_m":0},...] of a line in a size. */
json_t *grading_json(struct json *json, const struct hk_line_count *line);

#endif
