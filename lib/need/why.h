/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The causes of the width of a prediction, and their remedies as listed in hankful.h, each evaluated in advance. */
#ifndef HK_WHY_H
#define HK_WHY_H

#include "need/need.h"

/*
 * Sets face.why of a prediction whose roles, gradients and garment variances are computed. Sets
 * needed->arena.out_of_memory when memory runs out.
 */
void hk_why(struct hk_needed *needed);

#endif
