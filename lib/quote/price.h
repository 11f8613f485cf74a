/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What a sale leaves to the maker, and the least price that leaves what she wants: exact in whole minor units. Each
 * percentage is rounded half up to the minor unit by itself, as each is charged by itself.
 */
#ifndef HK_PRICE_H
#define HK_PRICE_H

#include "base/money.h"

#define HK_FEES_MOST 64

/* What goes off a price. Fees are charged on all that the buyer pays, tax too. */
struct hk_rates {
    int64_t fee_millionths[HK_FEES_MOST]; /* of what the buyer pays */
    size_t fee_count;
    int64_t fee_minor;      /* the same on each sale */
    int64_t tax_millionths; /* of the price before tax */
    bool tax_added;         /* to the price that is named; else it is in it */
};

/* quoted (the price named) = paid, or paid - tax where tax is added; left = paid - tax - fees. */
struct hk_sale {
    int64_t quoted_minor, paid_minor, tax_minor, fees_minor, left_minor;
};

/* What the buyer pays, by its last digits: paid % modulus == minor. modulus 1: any price. */
struct hk_ending {
    int64_t minor, modulus;
};

/* Whether a thousandth at least is left of a price: with less, a price would be absurd, and the search for it long. */
bool hk_rates_leave(const struct hk_rates *rates);

/* A sale at the price named, >= 0. False, *sale untouched, where that is beyond HK_MONEY_MOST. */
bool hk_sale_at(const struct hk_rates *rates, int64_t quoted_minor, struct hk_sale *sale);

/* Whether any price ends so. Of an added tax, whole minor units leave some payments out: none is 0.03 with 20%. */
bool hk_ending_possible(const struct hk_rates *rates, struct hk_ending ending);

/*
 * The sale at the least price of that ending that leaves at least `wanted_minor`. False, *sale untouched, where no price
 * up to HK_MONEY_MOST does.
 */
bool hk_sale_leaving(const struct hk_rates *rates, int64_t wanted_minor, struct hk_ending ending, struct hk_sale *sale);

/* What the buyer would pay for amounts that are not whole, without rounding. */
double hk_price_leaving(const struct hk_rates *rates, double wanted_minor);

#endif
