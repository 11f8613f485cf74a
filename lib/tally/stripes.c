/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The stripes of a line, and the stripe of a row. */
#include "tally/tally.h"

static const struct hk_stripes *stripes_of(const struct hk_tally *tally, size_t line)
{
    return &tally->project->lines[line].yarn;
}

static const struct hk_combination *combination_of(const struct hk_tally *tally, size_t line, size_t stripe)
{
    return &tally->project->combinations[stripes_of(tally, line)->stripes[stripe].combination];
}

size_t hk_tally_stripes(const struct hk_tally *tally, size_t line)
{
    return stripes_of(tally, line)->count;
}

int64_t hk_tally_stripe_rows(const struct hk_tally *tally, size_t line, size_t stripe)
{
    return stripes_of(tally, line)->count > 1 ? stripes_of(tally, line)->stripes[stripe].rows : INT64_MAX;
}

size_t hk_tally_stripe_roles(const struct hk_tally *tally, size_t line, size_t stripe)
{
    return combination_of(tally, line, stripe)->strand_count;
}

size_t hk_tally_stripe_role(const struct hk_tally *tally, size_t line, size_t stripe, size_t index)
{
    return combination_of(tally, line, stripe)->strands[index].role;
}

size_t hk_tally_row_stripe(const struct hk_tally *tally, size_t line, int64_t row)
{
    const struct hk_stripes *yarn = stripes_of(tally, line);
    int64_t cycle = 0;
    for (size_t i = 0; i < yarn->count; i++)
        cycle += yarn->stripes[i].rows;
    int64_t left = yarn->count > 1 ? (row - 1) % cycle : 0;
    size_t stripe = 0;
    for (; stripe + 1 < yarn->count && left >= yarn->stripes[stripe].rows; stripe++)
        left -= yarn->stripes[stripe].rows;
    return stripe;
}
