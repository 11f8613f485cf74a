/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Amounts as printed in a pattern: in two systems of units, rounded up. */
#ifndef HK_PRINTED_H
#define HK_PRINTED_H

#include "base/arena.h"

/* The kinds of amount, with their units in both systems: m/yd, g/oz, cm/in. */
enum hk_printed_kind { HK_PRINTED_YARN_LENGTH, HK_PRINTED_YARN_MASS, HK_PRINTED_SIZE, HK_PRINTED_COUNT };
enum hk_system { HK_SYSTEM_METRIC, HK_SYSTEM_CUSTOMARY };

const char *hk_printed_unit(enum hk_printed_kind kind, enum hk_system system); /* "" for counts */
/* Converts a value in metres, grams or pieces to this unit. */
double hk_printed_in(double value, enum hk_printed_kind kind, enum hk_system system);

/* Returns the least multiple of `step` that is not below the value, within rounding errors; step > 0. */
double hk_round_up(double value, double step);
/* Returns the nearest multiple of `step`, ties up. */
double hk_round_near(double value, double step);

/* Returns "480", "7.25" with at most 2 decimals, or with `quarters` "7 1/4"; "-" for NAN. NULL when out of memory. */
const char *hk_printed_number(double value, bool quarters, struct hk_arena *arena);

#endif
