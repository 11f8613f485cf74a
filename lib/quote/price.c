/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * With r the sum of percentage fees, f the fixed fee, i and a the sums of the included and the added taxes, n the price
 * before tax, q the quoted price and p the price paid, apart from rounding
 *
 *     q = n (1 + i),   p = n (1 + i + a),   left = n - r p - f = p (1 / (1 + i + a) - r) - f
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

int64_t hk_rates_tax(const struct hk_rates *rates, bool added)
{
    int64_t sum = 0;
    for (size_t i = 0; i < rates->tax_count; i++)
        sum += rates->taxes[i].added == added ? rates->taxes[i].millionths : 0;
    return sum;
}

/* Returns the sum of all taxes, in millionths. */
static int64_t tax_sum(const struct hk_rates *rates)
{
    return hk_rates_tax(rates, true) + hk_rates_tax(rates, false);
}

/* Returns the amount left from each unit paid. */
static double left_of_one(const struct hk_rates *rates)
{
    double r = (double)fee_sum(rates) / HK_MILLION, t = (double)tax_sum(rates) / HK_MILLION;
    return 1 / (1 + t) - r;
}

#define LEFT_LEAST ((int64_t)1000) /* millionths */

/* Returns true when 1 - r (1 + t) >= 1/1000, the amount left of the price before tax, in integer arithmetic. */
bool hk_rates_leave(const struct hk_rates *rates)
{
    return (HK_MILLION + tax_sum(rates)) * fee_sum(rates) <= HK_MILLION * (HK_MILLION - LEFT_LEAST);
}

bool hk_rates_tax_at(const struct hk_rates *rates, size_t i, int64_t quoted_minor, int64_t *tax_minor)
{
    return hk_money_part(quoted_minor, rates->taxes[i].millionths, HK_MILLION + hk_rates_tax(rates, false), tax_minor);
}

/* Computes the taxes and the price paid. */
static bool pay(const struct hk_rates *rates, int64_t quoted_minor, struct hk_sale *sale)
{
    sale->quoted_minor = sale->paid_minor = quoted_minor;
    sale->tax_minor = 0;
    for (size_t i = 0; i < rates->tax_count; i++) {
        int64_t tax_minor;
        if (!hk_rates_tax_at(rates, i, quoted_minor, &tax_minor) || !hk_money_add(&sale->tax_minor, tax_minor) ||
            (rates->taxes[i].added && !hk_money_add(&sale->paid_minor, tax_minor)))
            return false;
    }
    return true;
}

bool hk_sale_at(const struct hk_rates *rates, int64_t quoted_minor, struct hk_sale *sale)
{
    struct hk_sale found = {.fees_minor = rates->fee_minor};
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
 * Finds the quoted price for which the buyer pays exactly `paid_minor`. The payment grows with the quoted price q by at
 * least a unit for each unit; apart from rounding it is q (1 + i + a) / (1 + i), so q is near its inverse. Returns
 * false when no price leads to this payment.
 */
static bool name_price(const struct hk_rates *rates, int64_t paid_minor, int64_t *quoted_minor)
{
    int64_t before = HK_MILLION + hk_rates_tax(rates, false), quoted;
    struct hk_sale sale;
    if (!hk_money_part(paid_minor, before, before + hk_rates_tax(rates, true), &quoted) || !pay(rates, quoted, &sale))
        return false;
    while (sale.paid_minor > paid_minor && quoted > 0 && pay(rates, quoted - 1, &sale))
        quoted--;
    while (sale.paid_minor < paid_minor && pay(rates, quoted + 1, &sale))
        quoted++;
    *quoted_minor = quoted;
    return pay(rates, quoted, &sale) && sale.paid_minor == paid_minor;
}

static int64_t common_divisor(int64_t a, int64_t b)
{
    return b == 0 ? a : common_divisor(b, a % b);
}

/*
 * With the added rates a_j / (1 + i) = c_j / b, b the common denominator in lowest terms, b more units in the quoted
 * price are b + c_1 + c_2 + ... more units paid, so payments with a price recur periodically.
 */
bool hk_ending_possible(const struct hk_rates *rates, struct hk_ending ending)
{
    int64_t before = HK_MILLION + hk_rates_tax(rates, false), common = before, quoted;
    for (size_t i = 0; i < rates->tax_count; i++)
        common = rates->taxes[i].added ? common_divisor(common, rates->taxes[i].millionths) : common;
    int64_t recur = (before + hk_rates_tax(rates, true)) / common;
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
    double rounded = 0.5 * (double)(rates->fee_count + rates->tax_count + 1);
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
