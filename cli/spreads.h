/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Finished work and testers against their forecasts, and the spreads that fit them, as text and as JSON. */
#ifndef SPREADS_H
#define SPREADS_H

#include "json.h"
#include "layout.h"
#include "pipeline.h"

/* Returns whether progress.csv, of the project or of learned ones, or testers.csv has something to compare. */
bool spreads_any(const struct hk_need *need);

/* Prints the comparison, or what there must be for one. Requires STAGE_NEED. */
void spreads_print(const struct work *work, struct text *text);
/* Adds the object `spreads`. */
void spreads_json(struct json *json, json_t *answer, const struct work *work);

#endif
