/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Units: NIST HB 44 (2014) App. C (hankful.h has the factors). Amounts to buy are rounded up, each system from the
 * exact amount, not from the rounded value of the other.
 */
#include "materials/printed.h"

#include <math.h>

#define M_PER_CM 0.01
/* The relative tolerance for a multiple of a step. */
#define STEP_NOISE 1e-9

static const struct {
    const char *unit;
    double factor; /* base units per unit */
} units[][2] = {
    [HK_PRINTED_YARN_LENGTH] = {{"m", 1}, {"yd", HK_M_PER_YARD}},
    [HK_PRINTED_YARN_MASS] = {{"g", 1}, {"oz", HK_G_PER_OUNCE}},
    [HK_PRINTED_SIZE] = {{"cm", M_PER_CM}, {"in", HK_M_PER_INCH}},
    [HK_PRINTED_COUNT] = {{"", 1}, {"", 1}},
};

const char *hk_printed_unit(enum hk_printed_kind kind, enum hk_system system)
{
    return units[kind][system].unit;
}

double hk_printed_in(double value, enum hk_printed_kind kind, enum hk_system system)
{
    return value / units[kind][system].factor;
}

/* Multiples of a step below 1 are divided by an integer, so that tenths equal their decimals. */
static double steps_value(double steps, double step)
{
    return step < 1 ? steps / floor(1 / step + 0.5) : steps * step;
}

double hk_round_up(double value, double step)
{
    double steps = value / step;
    return steps_value(ceil(steps - STEP_NOISE * fmax(1, fabs(steps))), step);
}

double hk_round_near(double value, double step)
{
    double steps = value / step;
    return steps_value(floor(steps + 0.5 + STEP_NOISE * fmax(1, fabs(steps))), step);
}

/* Returns a number in quarters with a no-break blank, so that no line breaks within it. */
static const char *quarters_text(double value, struct hk_arena *arena)
{
    static const char *const parts[] = {"", "1/4", "1/2", "3/4"};
    double whole = floor(value);
    int quarter = (int)floor(4 * (value - whole) + 0.5);
    if (quarter == 4)
        return hk_arena_print(arena, "%.0f", whole + 1);
    if (quarter == 0)
        return hk_arena_print(arena, "%.0f", whole);
    return whole > 0 ? hk_arena_print(arena, "%.0f\u00a0%s", whole, parts[quarter]) : parts[quarter];
}

const char *hk_printed_number(double value, bool quarters, struct hk_arena *arena)
{
    if (isnan(value))
        return "-";
    if (quarters)
        return quarters_text(value, arena);
    return hk_arena_print(arena, "%s", hk_number_text(rint(100 * value) / 100, 15).text);
}
