/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The output of `check` for pattern.txt: every row in every size, with the count that it states. */
#ifndef PROOFREADING_H
#define PROOFREADING_H

#include "json.h"
#include "pipeline.h"

/* Each of these functions prints nothing without pattern.txt. */

/* Prints a line: the rows that are worked, the stated counts that agree, the prose that is not read. */
void proofreading_summary(const struct work *work, struct text *text);
/* Prints a table for each piece: of all rows, or of those next to a row with a wrong count or one that is not worked. */
void proofreading_print(const struct work *work, bool all, struct text *text);
/* Prints the readings taken where custom leaves a choice. */
void proofreading_choices(const struct work *work, struct text *text);
/* Prints the lines that are not read, and returns their number. */
void proofreading_prose(const struct work *work, struct text *text);
size_t proofreading_prose_lines(const struct work *work);

/* `rows`: an object for each row line and size. */
json_t *proofreading_rows(struct json *json, const struct work *work);
/*
 * `totals`: for the whole project, or for pattern.txt alone if the project could not be counted. *complete: the totals
 * lack nothing.
 */
json_t *proofreading_totals(struct json *json, const struct work *work, bool *complete);

#endif
