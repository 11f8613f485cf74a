/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What an answer about a fresh making has to say where progress.csv tells of work in hand. */
#ifndef IN_HAND_H
#define IN_HAND_H

#include "json.h"
#include "layout.h"

/* That the figures are of a fresh making, and what the work in hand has used so far; nothing where there is none. */
void in_hand_report(const struct hk_need *need, struct text *text);

/* [{"size":"M","of":"main","mass_g":0},...] */
json_t *in_hand_json(struct json *json, const struct hk_need *need);

#endif
