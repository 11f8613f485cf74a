/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The loop rule: a full loop goes round the tool once, so its length is close to pi * (tool diameter + yarn diameter).
 */
#ifndef HK_LOOP_H
#define HK_LOOP_H

#include "catalogue/catalogue.h"

/* Returns the length of one full loop in metres, without departures. tool_mm > 0, diameter_mm > 0. */
double hk_loop_length_m(double tool_mm, double diameter_mm);

/* y = loops + omega * wraps, for a stitch. */
double hk_stitch_loops(const struct hk_stitch *stitch, double omega);

#endif
