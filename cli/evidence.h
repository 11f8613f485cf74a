/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The content of each weighing and its effect on the answer, as text and as JSON. */
#ifndef EVIDENCE_H
#define EVIDENCE_H

#include "json.h"
#include "layout.h"
#include "pipeline.h"

/* Prints a table of the weighings. Requires STAGE_NEED. */
void evidence_report(struct text *text, const struct work *work);
/* Adds the array `readings`. */
void evidence_json(struct json *json, json_t *answer, const struct work *work);

#endif
