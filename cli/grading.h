/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Help with grading: where pieces.csv states lengths, the resulting stitches or rows in every size, the repeat used for
 * rounding, and the finished measurement.
 */
#ifndef GRADING_H
#define GRADING_H

#include "json.h"
#include "layout.h"
#include "pipeline.h"

/* Measurements that pieces.csv may state as lengths. */
enum grading_what { GRADING_WIDTH, GRADING_END_WIDTH, GRADING_HEIGHT };
enum { grading_whats = GRADING_HEIGHT + 1 };

const char *grading_name(enum grading_what what);    /* "width", "end width", "height" */
const char *grading_counted(enum grading_what what); /* "stitches", "rows" */
const struct hk_length_worked *grading_length(const struct hk_line_count *line, enum grading_what what);

/* Returns whether the line states that length in any size, and sets the swatch used for the conversion. */
bool grading_given(const struct work *work, size_t line, struct size_range sizes, enum grading_what what,
                   const char **swatch);

/*
 * Adds the rows of a line to a table of two columns before the sizes; *part, the first column, becomes "" after the
 * first row. Adds the counts where the rest of the table does not show them.
 */
void grading_rows(struct text_table *table, const struct work *work, size_t line, struct size_range sizes, bool counts,
                  const char **part);

/* Returns whether a line states a length. */
bool grading_any(const struct work *work, struct size_range sizes);

/* Prints all lines in a separate table, under a heading; prints nothing if all lines state counts. */
void grading_print(const struct work *work, struct size_range sizes, struct text *text);

/* Names the swatches whose gauge was used; prints nothing if all lines state counts. */
void grading_swatches(const struct work *work, struct size_range sizes, struct text *text);

/* Returns [{"what":"width","swatch":"","count":0,"apart":0,"asked_m":0,"finished_m":0},...] for a line in a size. */
json_t *grading_json(struct json *json, const struct hk_line_count *line);

#endif
