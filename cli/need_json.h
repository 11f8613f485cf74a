/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The answer of hankful need as JSON: a whole document, or one line for each of many folders. */
#ifndef NEED_JSON_H
#define NEED_JSON_H

#include "json.h"
#include "pipeline.h"

/* Adds the keys to `answer`. Requires STAGE_NEED. */
void need_json(struct json *json, json_t *answer, const struct work *work);

#endif
