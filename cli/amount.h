/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Amounts of yarn as text for people, with the digits that their own range warrants: the text for a size is the same
 * alone, among other sizes and in every command.
 */
#ifndef AMOUNT_H
#define AMOUNT_H

#include "number.h"

#include <hankful.h>

enum amount_unit { AMOUNT_G, AMOUNT_OZ, AMOUNT_M, AMOUNT_YD, AMOUNT_UNITS };

const char *amount_unit_name(enum amount_unit unit);

/* Returns the role's range that the unit measures: of mass in g, or of length in m. */
const struct hk_range *amount_range(const struct hk_need_role *role, enum amount_unit unit);

/* Formats a value, in g or m like the range, in the given unit. */
struct number amount_shown(const struct hk_range *range, double value, enum amount_unit unit, enum number_way way);

/* Formats the amount that is enough, rounded up; each unit is converted from the exact amount. */
struct number amount_enough(const struct hk_range *range, enum amount_unit unit);

#endif
