/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How a pattern prints amounts: in two systems of units, rounded up. */
#ifndef HK_PRINTED_H
#define HK_PRINTED_H

#include "base/arena.h"

/* What is measured, with the unit of each system that patterns print it in: m/yd, g/oz, cm/in. */
enum hk_printed_kind { HK_PRINTED_YARN_LENGTH, HK_PRINTED_YARN_MASS, HK_PRINTED_SIZE, HK_PRINTED_COUNT };
enum hk_system { HK_SYSTEM_METRIC, HK_SYSTEM_CUSTOMARY };

const char *hk_printed_unit(enum hk_printed_kind kind, enum hk_system system); /* "" for counts */
/* A value in metres, grams or pieces in that unit. */
double hk_printed_in(double value, enum hk_printed_kind kind, enum hk_system system);

/* The least multiple of `step` that is not below the value, but for what a double cannot hold; step > 0. */
double hk_round_up(double value, double step);
/* The nearest multiple of `step`, halves up. */
double hk_round_near(double value, double step);

/* "480", "7.25" with at most 2 decimals, or in quarters "7 1/4" where asked for; NAN is "-". NULL when the arena is out
 * of memory. */
const char *hk_printed_number(double value, bool quarters, struct hk_arena *arena);

#endif
