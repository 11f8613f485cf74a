/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "amount.h"

#include <math.h>

/* Distance of the 95% quantile (high) from the 5% quantile (low), in standard deviations of the logarithm. */
#define DEVIATIONS_IN_RANGE (2 * 1.6448536269514722)

static const double unit_sizes[AMOUNT_UNITS] = {1, HK_G_PER_OUNCE, 1, HK_M_PER_YARD};

const char *amount_unit_name(enum amount_unit unit)
{
    static const char *const names[AMOUNT_UNITS] = {"g", "oz", "m", "yd"};
    return names[unit];
}

/* Amounts are shown to tenths below ten and to whole units above; ounces, a large unit, to hundredths. */
static struct number_step step_of(const struct hk_range *range, enum amount_unit unit)
{
    const double likely = range->likely / unit_sizes[unit];
    const double spread = likely > 0 ? log(range->high / range->low) / DEVIATIONS_IN_RANGE : 0;
    return number_step(likely * spread, unit == AMOUNT_OZ ? -2 : likely < 10 ? -1 : 0);
}

struct number amount_shown(const struct hk_range *range, double value, enum amount_unit unit, enum number_way way)
{
    return number_stepped(value / unit_sizes[unit], step_of(range, unit), way);
}

struct number amount_enough(const struct hk_range *range, enum amount_unit unit)
{
    return amount_shown(range, range->enough, unit, NUMBER_UP);
}

const struct hk_range *amount_range(const struct hk_need_role *role, enum amount_unit unit)
{
    return unit == AMOUNT_G || unit == AMOUNT_OZ ? &role->mass_g : &role->length_m;
}
