/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What each weighing says, and what it changed: for people and for other programs. */
#ifndef EVIDENCE_H
#define EVIDENCE_H

#include "json.h"
#include "layout.h"
#include "pipeline.h"

/* FAILED where memory runs out; the work has come to STAGE_NEED. */
enum outcome evidence_text(struct text *text, const struct work *work);
/* Adds the array `readings`. */
void evidence_json(struct json *json, json_t *answer, const struct work *work);

#endif
