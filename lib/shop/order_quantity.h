/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The order quantity of least expected cost for an uncertain demand (the model of DEVELOPERS.md). */
#ifndef HK_ORDER_QUANTITY_H
#define HK_ORDER_QUANTITY_H

#include <stdbool.h>
#include <stdint.h>

/* An integer demand D >= 0: chance(context, n) = P(D <= n), non-decreasing in n, from 0 to 1. */
struct hk_count_demand {
    double (*chance)(const void *context, int64_t n);
    const void *context;
    int64_t most; /* the largest order quantity */
};

/*
 * The costs, all in the same currency and at least 0: each item is bought at `price`; each missing item is bought later
 * at `price` + `late`; if any is missing, `short_once` is due (a second order, a lost dye lot); each left-over item is
 * worth `spare`, at most `price`.
 */
struct hk_order_costs {
    double price, late, short_once, spare;
    const struct hk_order_tier *tiers; /* quantity prices, ended by one from 0; NULL: none */
};

/*
 * From `from` items on, each costs price, above 0 and below the price before it. Items that are missing are bought later
 * at the first price; a left-over item keeps the same part, spare / price, of the price that was paid.
 */
struct hk_order_tier {
    int64_t from;
    double price;
};

/*
 * Returns the expected cost of buying n:
 *     price E[max(n, D)] + late E[max(D - n, 0)] + short_once P(D > n) - spare E[max(n - D, 0)],   less price E[D]
 * E[D] is the same for every n, so it is subtracted. With a quantity price p for n items, p < price, that is more by
 *     (p - price) (n - spare / price E[max(n - D, 0)])
 * 0 <= n <= demand->most; E[D] is computed as E[min(D, most)].
 */
double hk_order_cost(const struct hk_count_demand *demand, const struct hk_order_costs *costs, int64_t n);

/*
 * Finds the n from 0 to demand->most of least expected cost, the least of equals. Returns false and leaves *n unchanged
 * when a cost is negative or not a number, spare > price, a tier is not as stated above, most < 0 or above
 * HK_ORDER_MOST, or a chance is not in [0, 1].
 */
#define HK_ORDER_MOST 1000000
bool hk_order_least_cost(const struct hk_count_demand *demand, const struct hk_order_costs *costs, int64_t *n);

/*
 * The demand in balls of put_up_g for a role of mass M and swatches of mass e, with a join for each ball after the
 * first: D is the least number with M + e <= D p - (D - 1) j, so P(D <= n) = P(M <= n p - (n - 1) j - e); ln M is
 * normal. D is at least 1. spread 0: M is constant.
 */
struct hk_ball_demand {
    double likely_g, spread; /* the median of M, and the standard deviation of ln M */
    double put_up_g, join_g; /* p > j >= 0 */
    double swatch_use_g;     /* e >= 0 */
};
double hk_ball_chance(const void *ball_demand, int64_t n);

/*
 * Finds the number of balls of least expected cost, at least one, up to the number that is enough at a chance of
 * HK_ORDER_CHANCE_MOST (which is the result when spare = price and short_once > 0: a returnable ball costs nothing).
 * Returns false and leaves *balls unchanged like hk_order_least_cost, and when p <= j.
 */
#define HK_ORDER_CHANCE_MOST 0.999
/* Returns the mass in grams that is enough at this chance, swatches included. */
double hk_order_most_g(const struct hk_ball_demand *balls_of);
bool hk_order_balls(const struct hk_ball_demand *balls_of, const struct hk_order_costs *costs, int64_t *balls);

#endif
