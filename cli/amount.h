/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Amounts of yarn as people read them, with the digits that their own range warrants: a size says the same alone, among
 * others and in every command.
 */
#ifndef AMOUNT_H
#define AMOUNT_H

#include "number.h"

#include <hankful.h>

enum amount_unit { AMOUNT_G, AMOUNT_OZ, AMOUNT_M, AMOUNT_YD, AMOUNT_UNITS };

const char *amount_unit_name(enum amount_unit unit);

/* A value, in g or m as the range is, in that unit. */
struct number amount_shown(const struct hk_range *range, double value, enum amount_unit unit, enum number_way way);

/* Enough, rounded up; in each unit from the exact amount. */
struct number amount_enough(const struct hk_range *range, enum amount_unit unit);

#endif
