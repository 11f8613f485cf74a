/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * With r the sum of percentage fees, f the fixed fee, t the tax and p the price paid, apart from rounding
 *
 *     left = p (1 / (1 + t) - r) - f
 *
 * The quoted price is p if it includes the tax; else n with p = n (1 + t).
 */
#include "quote/price.h"

#include "base/money.h"

#include <math.h>

/* Doubles represent integers up to 2^53 exactly; this leaves more room below the estimate above 10^13. */
#define DOUBLE_SLACK 1e-12

static int64_t fee_sum(const struct hk_rates *rates)
{
    int64_t sum = 0;
    for (size_t i = 0; i < rates->fee_count; i++)
        sum += rates->fee_millionths[i];
    return sum;
}

/* Returns the amount left from each unit paid. */
static double left_of_one(const struct hk_rates *rates)
{
    double r = (double)fee_sum(rates) / HK_MILLION, t = (double)rates->tax_millionths / HK_MILLION;
    return 1 / (1 + t) - r;
}

#define LEFT_LEAST ((int64_t)1000) /* millionths */

/* Returns true when 1 - r (1 + t) >= 1/1000, the amount left of the price before tax, in integer arithmetic. */
bool hk_rates_leave(const struct hk_rates *rates)
{
    return (HK_MILLION + rates->tax_millionths) * fee_sum(rates) <= HK_MILLION * (HK_MILLION - LEFT_LEAST);
}

/* Computes the tax in the price paid, p t / (1 + t), rounded half up. */
static bool tax_inside(const struct hk_rates *rates, int64_t paid_minor, int64_t *tax_minor)
{
    return hk_money_part(paid_minor, rates->tax_millionths, HK_MILLION + rates->tax_millionths, tax_minor);
}

static bool pay(const struct hk_rates *rates, int64_t quoted_minor, struct hk_sale *sale)
{
    sale->paid_minor = quoted_minor;
    if (!rates->tax_added)
        return tax_inside(rates, quoted_minor, &sale->tax_minor);
    return hk_money_share(quoted_minor, rates->tax_millionths, &sale->tax_minor) &&
           hk_money_add(&sale->paid_minor, sale->tax_minor);
}

bool hk_sale_at(const struct hk_rates *rates, int64_t quoted_minor, struct hk_sale *sale)
{
    struct hk_sale found = {.quoted_minor = quoted_minor, .fees_minor = rates->fee_minor};
    if (quoted_minor < 0 || quoted_minor > HK_MONEY_MOST || !pay(rates, quoted_minor, &found))
        return false;
    for (size_t i = 0; i < rates->fee_count; i++) {
        int64_t fee;
        if (!hk_money_share(found.paid_minor, rates->fee_millionths[i], &fee))
            return false;
        found.fees_minor += fee;
    }
    found.left_minor = found.paid_minor - found.tax_minor - found.fees_minor;
    *sale = found;
    return true;
}

double hk_price_leaving(const struct hk_rates *rates, double wanted_minor)
{
    return fmax(0, (wanted_minor + (double)rates->fee_minor) / left_of_one(rates));
}

/*
 * Finds the quoted price for which the buyer pays exactly `paid_minor`. For a quoted price n with tax t added, the
 * payment is n + round(n t), and the tax in this payment rounds to the same amount; so n is the payment less the tax in
 * it, or no price leads to this payment. Returns false in that case.
 */
static bool name_price(const struct hk_rates *rates, int64_t paid_minor, int64_t *quoted_minor)
{
    int64_t tax_minor = 0;
    struct hk_sale sale;
    if (rates->tax_added && !tax_inside(rates, paid_minor, &tax_minor))
        return false;
    *quoted_minor = paid_minor - tax_minor;
    return pay(rates, *quoted_minor, &sale) && sale.paid_minor == paid_minor;
}

static int64_t common_divisor(int64_t a, int64_t b)
{
    return b == 0 ? a : common_divisor(b, a % b);
}

/*
 * With t = a / b in lowest terms, b more units in the quoted price are a + b more units paid, so payments with a price
 * recur periodically.
 */
bool hk_ending_possible(const struct hk_rates *rates, struct hk_ending ending)
{
    int64_t common = common_divisor(HK_MILLION, rates->tax_millionths), quoted;
    int64_t recur = rates->tax_added ? (HK_MILLION + rates->tax_millionths) / common : 1;
    int64_t paid = ending.minor;
    for (int64_t i = 0; i < recur && paid <= HK_MONEY_MOST; i++, paid += ending.modulus)
        if (name_price(rates, paid, &quoted))
            return true;
    return false;
}

/* Returns the least price with this ending, at least `from`. */
static int64_t ending_from(struct hk_ending ending, int64_t from)
{
    int64_t short_of = (from - ending.minor) % ending.modulus;
    if (short_of < 0)
        short_of += ending.modulus;
    return short_of > 0 ? from + ending.modulus - short_of : from;
}

/*
 * Because of rounding a higher price may leave one unit less, so prices are tried one by one from a price that cannot
 * leave enough: each rounded part has an error of at most half a unit.
 */
bool hk_sale_leaving(const struct hk_rates *rates, int64_t wanted_minor, struct hk_ending ending, struct hk_sale *sale)
{
    if (!hk_rates_leave(rates) || !hk_ending_possible(rates, ending))
        return false;
    double rounded = 0.5 * (double)(rates->fee_count + 2);
    double from = hk_price_leaving(rates, (double)wanted_minor - rounded);
    from -= 2 + DOUBLE_SLACK * from / left_of_one(rates);
    if (!(from <= (double)HK_MONEY_MOST))
        return false;
    int64_t paid = ending_from(ending, from > 0 ? (int64_t)from : 0), quoted;
    for (; paid <= HK_MONEY_MOST; paid += ending.modulus) {
        struct hk_sale found;
        if (!name_price(rates, paid, &quoted))
            continue;
        if (!hk_sale_at(rates, quoted, &found))
            return false;
        if (found.left_minor >= wanted_minor) {
            *sale = found;
            return true;
        }
    }
    return false;
}
