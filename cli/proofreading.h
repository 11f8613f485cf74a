/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What `check` shows of pattern.txt: every row in every size, beside what it states. */
#ifndef PROOFREADING_H
#define PROOFREADING_H

#include "json.h"
#include "pipeline.h"

/* A table for each piece, the choices taken, and how much prose there is; all of the prose if `prose`. Nothing without
 * pattern.txt. */
void proofreading_print(const struct work *work, bool prose, struct text *text);

/* `rows`: an object for each row line and size. */
json_t *proofreading_rows(struct json *json, const struct work *work);
/* `totals`: of the whole project, or where it could not be counted of pattern.txt. *complete: nothing is missing from
 * them. */
json_t *proofreading_totals(struct json *json, const struct work *work, bool *complete);

#endif
