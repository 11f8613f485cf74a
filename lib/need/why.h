/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Why a prediction is as wide as it is, and what would narrow it: the remedies that hankful.h lists, each tried in advance. */
#ifndef HK_WHY_H
#define HK_WHY_H

#include "need/need.h"

/* Fills face.why of a prediction whose roles, gradients and own variances stand. needed->arena is out of memory on no
 * memory. */
void hk_why(struct hk_needed *needed);

#endif
