/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A row of the work, where a ball ends or work stops; and where each ball of a yarn ends. */
#ifndef PLACE_H
#define PLACE_H

#include "json.h"

/* Returns "fronts 2, neck, row 12"; "-" for no place. Owner: the caller (free). NULL when memory runs out. */
char *place_words(const struct hk_ball_place *place);

/* Returns {"piece","part","copy","copies","row"}; null where there is none. */
json_t *place_json(struct json *json, const struct hk_ball_place *place);

/* Returns a list of {"ball","likely","earliest","latest"}. */
json_t *ball_ends_json(struct json *json, const struct hk_ball_end *ends, size_t count);

#endif
