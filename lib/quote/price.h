/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The amount that a sale leaves, and the least price that leaves a given amount, exact in whole minor units. Each
 * percentage is rounded half up to the minor unit separately, since each is charged separately.
 */
#ifndef HK_PRICE_H
#define HK_PRICE_H

#include "base/money.h"

#define HK_FEES_MOST 64
#define HK_TAXES_MOST 16

/*
 * A tax on the price before tax. With i the sum of the rates that are included in the quoted price q, the price before
 * tax is q / (1 + i), and each tax is its rate of that: q t / (1 + i).
 */
struct hk_rate_tax {
    int64_t millionths; /* of the price before tax */
    bool added;         /* added to the quoted price; false: included in it */
};

/* The deductions from a price. Fees are charged on the price paid, tax included. */
struct hk_rates {
    int64_t fee_millionths[HK_FEES_MOST]; /* of the price paid */
    size_t fee_count;
    int64_t fee_minor; /* fixed fee per sale */
    struct hk_rate_tax taxes[HK_TAXES_MOST];
    size_t tax_count;
};

/* paid = quoted + added taxes; tax = added and included taxes; left = paid - tax - fees. */
struct hk_sale {
    int64_t quoted_minor, paid_minor, tax_minor, fees_minor, left_minor;
};

/* The required last digits of the price paid: paid % modulus == minor. modulus 1: any price. */
struct hk_ending {
    int64_t minor, modulus;
};

/* Returns the sum of the rates of taxes, in millionths of the price before tax: of those added, or of those included. */
int64_t hk_rates_tax(const struct hk_rates *rates, bool added);

/*
 * Computes tax i in the sale at a quoted price, rounded half up. Returns false and leaves *tax_minor unchanged when the
 * price is below 0 or the tax is beyond HK_MONEY_MOST.
 */
bool hk_rates_tax_at(const struct hk_rates *rates, size_t i, int64_t quoted_minor, int64_t *tax_minor);

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
