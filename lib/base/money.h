/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Money as whole minor units (cents): never a double; hk_money_text (hankful.h) writes it. Digits after the point come from
 * tables/currencies.csv (ISO 4217).
 */
#ifndef HK_MONEY_H
#define HK_MONEY_H

#include "hankful.h"

#define HK_MONEY_MOST ((int64_t)1000000000000000)
#define HK_NO_PRICE (-1) /* an amount that is not known or not stated */
#define HK_MILLION ((int64_t)1000000) /* percents are whole millionths: 12.5% is 125000 */

/*
 * These functions are exact. They return false, and leave the result unchanged, beyond HK_MONEY_MOST. Amounts and
 * factors are at least 0.
 */
bool hk_money_add(int64_t *sum_minor, int64_t more_minor);
bool hk_money_times(int64_t each_minor, int64_t times, int64_t *minor);
/*
 * whole * numerator / denominator (above 0), rounded half up. Returns false also when whole or numerator is negative.
 */
bool hk_money_part(int64_t whole_minor, int64_t numerator, int64_t denominator, int64_t *minor);

/*
 * whole_minor * millionths / 1000000, rounded half up to a whole minor unit. Exact. Returns false and leaves *minor
 * unchanged when either is negative or the share is beyond HK_MONEY_MOST.
 */
bool hk_money_share(int64_t whole_minor, int64_t millionths, int64_t *minor);

#endif
