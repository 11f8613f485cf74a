/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How many to buy when the demand is uncertain: the number of least expected cost (the model of DEVELOPERS.md). */
#ifndef HK_ORDER_QUANTITY_H
#define HK_ORDER_QUANTITY_H

#include <stdbool.h>
#include <stdint.h>

/* A demand D in whole things, 0 and more: chance(context, n) = P(D <= n), never falling in n, from 0 to 1. */
struct hk_count_demand {
    double (*chance)(const void *context, int64_t n);
    const void *context;
    int64_t most; /* no more than so many are ever bought */
};

/*
 * What n things cost in the end, all of one currency, 0 and more: each is bought at `price`; each one missing is
 * bought later at `price` + `late`; if any is missing at all, `short_once` is due (a second order, a lost dye lot);
 * each one left over still fetches `spare`, at most `price`.
 */
struct hk_order_costs {
    double price, late, short_once, spare;
};

/*
 * The expected cost of buying n:
 *     price E[max(n, D)] + late E[max(D - n, 0)] + short_once P(D > n) - spare E[max(n - D, 0)],   less price E[D]
 * D's mean is the same for every n, so it is left out. 0 <= n <= demand->most; of E[D] it counts E[min(D, most)],
 * the same for every n.
 */
double hk_order_cost(const struct hk_count_demand *demand, const struct hk_order_costs *costs, int64_t n);

/*
 * The n from 0 to demand->most of least expected cost, found by trying; the least of equals. False, *n untouched,
 * where a cost is negative or no number, spare > price, most < 0 or beyond HK_ORDER_MOST, or a chance is no number
 * in [0, 1].
 */
#define HK_ORDER_MOST 1000000
bool hk_order_least_cost(const struct hk_count_demand *demand, const struct hk_order_costs *costs, int64_t *n);

/*
 * Balls of put_up_g each that a role of mass M takes beside the swatches, e, each after the first costing a join: D is
 * the least number with M + e <= D p - (D - 1) j, so P(D <= n) = P(M <= n p - (n - 1) j - e); ln M is normal. D is at
 * least 1. spread 0: M is certain.
 */
struct hk_ball_demand {
    double likely_g, spread; /* the median of M, and the standard deviation of ln M */
    double put_up_g, join_g; /* p > j >= 0 */
    double swatch_use_g;     /* e >= 0 */
};
double hk_ball_chance(const void *ball_demand, int64_t n);

/*
 * The balls of least expected cost, at least one. Tried up to the number that is enough at a chance of
 * HK_ORDER_CHANCE_MOST (all of which are bought where spare = price and short_once > 0: a returnable ball costs
 * nothing). False, *balls untouched, as hk_order_least_cost and where p <= j.
 */
#define HK_ORDER_CHANCE_MOST 0.999
/* What is enough at that chance, swatches in it. */
double hk_order_most_g(const struct hk_ball_demand *balls_of);
bool hk_order_balls(const struct hk_ball_demand *balls_of, const struct hk_order_costs *costs, int64_t *balls);

#endif
