/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Remarks on work in hand from progress.csv, for answers about a new garment. */
#ifndef IN_HAND_H
#define IN_HAND_H

#include "json.h"
#include "layout.h"

/*
 * States that the figures are for a new garment, and the yarn used so far by the work in hand; prints nothing if there
 * is none.
 */
void in_hand_report(const struct hk_need *need, struct text *text);

/* Returns [{"size":"M","of":"main","mass_g":0},...]. */
json_t *in_hand_json(struct json *json, const struct hk_need *need);

#endif
