/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Readings of the maker's own that are left out of the fit: slips, such as ounces written as grams, which no spread of
 * the model allows. The distance of a reading from the expectation by all others is d (outlier.h), and d^2 is what the
 * sum of squares falls by without it, so the reading with the largest d is the one that agrees with the others least.
 * It is left out, the rest is fitted again and judged again: one slip then does not make outliers of those that it has
 * pulled the fit away from.
 *
 * A reading is left out if d > HK_ODD_DEVIATIONS, if it differs by more than HK_ODD_RATIO, and if it stays an outlier
 * without any one of the others. Where two readings contradict each other, and either would be good without the other,
 * it is not known which of them is wrong: both stay, and both are reported.
 */
#ifndef HK_ODD_H
#define HK_ODD_H

#include "model/fit.h"

/*
 * The limit, in standard deviations. 1 of 16,000 good readings of a maker as modelled is beyond it, and of one whose
 * makings differ by half as much again as modelled 1 of 130.
 */
#define HK_ODD_DEVIATIONS 4.0

/*
 * A reading that differs by less is no slip of the usual kinds, such as a unit, a ball, a tin on the scale or rows
 * miscounted, and stays: real makers scatter more than modelled, and the range must not ignore that.
 */
#define HK_ODD_RATIO 1.2

/* At most so many are left out, one for each time that the fit is made again. */
#define HK_ODD_MOST ((size_t)8)

/*
 * Returns the reading of the data [0, evidence) to leave out next, none of a tester; SIZE_MAX: none, or out of memory.
 * Readings whose row accepts HK_CODE_OUTLIER (column `ok`) are right, as the maker says, and stay.
 */
size_t hk_odd_find(const struct hk_fit *fit, const struct hk_diags *diags, struct hk_arena *scratch);

/*
 * Moves a reading from the data to `odd`, with all others of the same swatch; `testers` data behind the evidence move
 * up. Returns false when out of memory.
 */
bool hk_odd_leave_out(struct hk_fit *fit, size_t reading, size_t testers);

/*
 * Moves readings back that are no outliers to the fit without them, such as one that was left out while two slips were
 * in the fit. Returns true when there are any, or out of memory.
 */
bool hk_odd_take_back(struct hk_fit *fit, size_t testers, struct hk_arena *scratch);

#endif
