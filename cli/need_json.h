/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What hankful need answers, for other programs: alone, or a line for each of many folders. */
#ifndef NEED_JSON_H
#define NEED_JSON_H

#include "json.h"
#include "pipeline.h"

/* Adds the keys to `answer`. The work has come to STAGE_NEED. */
void need_json(struct json *json, json_t *answer, const struct work *work);

#endif
