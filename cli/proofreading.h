/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The output of `check` for pattern.txt: every row in every size, with the count that it states. */
#ifndef PROOFREADING_H
#define PROOFREADING_H

#include "json.h"
#include "pipeline.h"

/*
 * Prints a table for each piece, the interpretations chosen, and the amount of prose; all of the prose if `prose`.
 * Prints nothing without pattern.txt.
 */
void proofreading_print(const struct work *work, bool prose, struct text *text);

/* `rows`: an object for each row line and size. */
json_t *proofreading_rows(struct json *json, const struct work *work);
/*
 * `totals`: for the whole project, or for pattern.txt alone if the project could not be counted. *complete: the totals
 * lack nothing.
 */
json_t *proofreading_totals(struct json *json, const struct work *work, bool *complete);

#endif
