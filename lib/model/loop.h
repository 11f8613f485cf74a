/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The loop rule: a full loop goes once round the tool, so its length is close to pi * (tool diameter + yarn diameter).
 */
#ifndef HK_LOOP_H
#define HK_LOOP_H

#include "catalogue/catalogue.h"

/* Metres of one full loop, before any departure. tool_mm > 0, diameter_mm > 0. */
double hk_loop_length_m(double tool_mm, double diameter_mm);

/* y = loops + omega * wraps, for a stitch. */
double hk_stitch_loops(const struct hk_stitch *stitch, double omega);

#endif
