/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Money as whole minor units (cents): never a double. Digits after the point come from tables/currencies.csv (ISO
 * 4217).
 */
#ifndef HK_MONEY_H
#define HK_MONEY_H

#include "base/diags.h"
#include "input/table.h"

#define HK_MONEY_MOST ((int64_t)1000000000000000)
#define HK_NO_PRICE (-1) /* an amount that is not known or not stated */
#define HK_MILLION ((int64_t)1000000) /* percents are whole millionths: 12.5% is 125000 */

/*
 * "6.40", "6,40" (where the file's separator allows or the cell cannot mean thousands), "EUR 6.40", "6.40 EUR" into
 * minor units. `currency`: a code of ISO 4217, "" or NULL where the project states none (a code or sign in the cell is
 * then an error, for it could not be told from another). A currency other than that or more digits than it has is an
 * error. Zero is allowed, negative is not.
 */
bool hk_money_cell(struct hk_cell cell, const char *currency, int minor_digits, int64_t *minor, struct hk_diags *diags);

/*
 * whole_minor * millionths / 1000000, rounded half up to a whole minor unit. Exact. False,
 * *minor untouched, where either is negative or the share is beyond HK_MONEY_MOST.
 */
bool hk_money_share(int64_t whole_minor, int64_t millionths, int64_t *minor);

#endif
