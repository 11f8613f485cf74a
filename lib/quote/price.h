/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The amount that a sale leaves, and the least price that leaves a given amount, exact in whole minor units. Each
 * percentage is rounded half up to the minor unit separately, since each is charged separately.
 */
#ifndef HK_PRICE_H
#define HK_PRICE_H

#include "base/money.h"

#define HK_FEES_MOST 64

/* The deductions from a price. Fees are charged on the price paid, tax included. */
struct hk_rates {
    int64_t fee_millionths[HK_FEES_MOST]; /* of the price paid */
    size_t fee_count;
    int64_t fee_minor;      /* fixed fee per sale */
    int64_t tax_millionths; /* of the price before tax */
    bool tax_added;         /* added to the quoted price; false: included in it */
};

/* quoted = paid, or paid - tax if tax is added; left = paid - tax - fees. */
struct hk_sale {
    int64_t quoted_minor, paid_minor, tax_minor, fees_minor, left_minor;
};

/* The required last digits of the price paid: paid % modulus == minor. modulus 1: any price. */
struct hk_ending {
    int64_t minor, modulus;
};

/* Returns true when at least a thousandth of a price is left; with less, prices are absurd and the search is long. */
bool hk_rates_leave(const struct hk_rates *rates);

/* Computes a sale at the quoted price, >= 0. Returns false and leaves *sale unchanged beyond HK_MONEY_MOST. */
bool hk_sale_at(const struct hk_rates *rates, int64_t quoted_minor, struct hk_sale *sale);

/*
 * Returns true when some price has this ending. With an added tax some payments are impossible in whole minor units,
 * such as 0.03 with 20%.
 */
bool hk_ending_possible(const struct hk_rates *rates, struct hk_ending ending);

/*
 * Finds the sale at the least price with this ending that leaves at least `wanted_minor`. Returns false and leaves
 * *sale unchanged when no price up to HK_MONEY_MOST does.
 */
bool hk_sale_leaving(const struct hk_rates *rates, int64_t wanted_minor, struct hk_ending ending, struct hk_sale *sale);

/* Returns the price paid for an amount that is not whole, without rounding. */
double hk_price_leaving(const struct hk_rates *rates, double wanted_minor);

#endif
