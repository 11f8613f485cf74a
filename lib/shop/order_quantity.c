/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The expected cost is neither convex nor concave in n because of short_once, so every n is tried, each computed from
 * the one before. With F(n) = P(D <= n), one more than n
 *     costs  (price - spare) F(n)              if it is not needed,
 *     saves  late (1 - F(n))                   if it is,
 *     saves  short_once (F(n + 1) - F(n))      if it is the last one needed
 * (E[max(n - D, 0)] grows by F(n), E[max(D - n, 0)] falls by 1 - F(n)). Without short_once the least n has F(n) >= late
 * / (late + price - spare): the critical ratio of the newsvendor problem, cu / (cu + co), with cu = late and co = price
 * - spare.
 */
#include "shop/order_quantity.h"

#include "model/chance.h"
#include "need/balls.h"

#include <math.h>

/* A saving below this ratio of the costs of one step is a rounding error. */
#define NO_SAVING 1e-12

/* A compensated sum (Neumaier), so that a million small steps are not lost. */
struct sum {
    double total, rest;
};

static void add(struct sum *sum, double value)
{
    double total = sum->total + value;
    sum->rest += fabs(sum->total) >= fabs(value) ? (sum->total - total) + value : (value - total) + sum->total;
    sum->total = total;
}

static double value_of(const struct sum *sum)
{
    return sum->total + sum->rest;
}

/* Returns the cost of buying n + 1 less that of buying n. */
static double step(const struct hk_order_costs *costs, double chance, double chance_next)
{
    return (costs->price - costs->spare) * chance - costs->late * (1 - chance) -
           costs->short_once * (chance_next - chance);
}

/*
 * Returns the cost with n = 0, when all of D is missing: late E[D] + short_once P(D > 0); E[D] = sum over n >= 0 of P(D
 * > n).
 */
static double cost_of_none(const struct hk_count_demand *demand, const struct hk_order_costs *costs)
{
    struct sum mean = {0};
    for (int64_t n = 0; n < demand->most; n++)
        add(&mean, 1 - demand->chance(demand->context, n));
    return costs->late * value_of(&mean) + costs->short_once * (1 - demand->chance(demand->context, 0));
}

/* Returns what the quantity price of n items changes; over: E[max(n - D, 0)]. */
static double tier_saving(const struct hk_order_costs *costs, int64_t n, double over)
{
    double price = costs->price;
    for (const struct hk_order_tier *tier = costs->tiers; tier && tier->from && n >= tier->from; tier++)
        price = tier->price;
    return price < costs->price ? (price - costs->price) * ((double)n - costs->spare / costs->price * over) : 0;
}

double hk_order_cost(const struct hk_count_demand *demand, const struct hk_order_costs *costs, int64_t n)
{
    struct sum sum = {0}, over = {0};
    add(&sum, cost_of_none(demand, costs));
    for (int64_t k = 0; k < n; k++) {
        double chance = demand->chance(demand->context, k);
        add(&sum, step(costs, chance, demand->chance(demand->context, k + 1)));
        add(&over, chance);
    }
    return value_of(&sum) + tier_saving(costs, n, value_of(&over));
}

static bool is_cost(double cost)
{
    return isfinite(cost) && cost >= 0;
}

static bool tiers_in_range(const struct hk_order_costs *costs)
{
    int64_t from = 0;
    double price = costs->price;
    for (const struct hk_order_tier *tier = costs->tiers; tier && tier->from; tier++) {
        if (tier->from <= from || !(tier->price > 0) || !(tier->price < price))
            return false;
        from = tier->from;
        price = tier->price;
    }
    return true;
}

static bool in_range(const struct hk_count_demand *demand, const struct hk_order_costs *costs)
{
    return is_cost(costs->price) && is_cost(costs->late) && is_cost(costs->short_once) && is_cost(costs->spare) &&
           costs->spare <= costs->price && tiers_in_range(costs) && demand->most >= 0 && demand->most <= HK_ORDER_MOST;
}

bool hk_order_least_cost(const struct hk_count_demand *demand, const struct hk_order_costs *costs, int64_t *n)
{
    if (!in_range(demand, costs))
        return false;
    struct sum sum = {0}, over = {0}; /* the cost relative to buying none; E[max(n - D, 0)] */
    double least = 0, chance = demand->chance(demand->context, 0);
    double rounding = NO_SAVING * (costs->price + costs->late + costs->short_once);
    int64_t best = 0;
    for (int64_t k = 0; k < demand->most; k++) {
        double next = demand->chance(demand->context, k + 1);
        if (!(chance >= 0 && chance <= next && next <= 1))
            return false;
        add(&sum, step(costs, chance, next));
        add(&over, chance);
        double cost = value_of(&sum) + tier_saving(costs, k + 1, value_of(&over));
        if (cost < least - rounding) {
            least = cost;
            best = k + 1;
        }
        chance = next;
    }
    *n = best;
    return true;
}

/* ---- Balls ------------------------------------------------------------------------------------------------------- */

double hk_ball_chance(const void *ball_demand, int64_t n)
{
    const struct hk_ball_demand *of = ball_demand;
    if (n < 1)
        return 0;
    double usable_g = hk_balls_usable_g(n, of->put_up_g, of->join_g) - of->swatch_use_g;
    if (!(usable_g > 0))
        return 0;
    double ln_limit = log(usable_g / of->likely_g);
    if (of->spread == 0)
        return ln_limit >= 0 ? 1 : 0;
    return hk_normal_chance(ln_limit / of->spread);
}

/* The spread is not known precisely enough for higher chances. */
double hk_order_most_g(const struct hk_ball_demand *balls_of)
{
    return balls_of->likely_g * exp(balls_of->spread * hk_normal_quantile(HK_ORDER_CHANCE_MOST)) +
           balls_of->swatch_use_g;
}

bool hk_order_balls(const struct hk_ball_demand *balls_of, const struct hk_order_costs *costs, int64_t *balls)
{
    bool known =
        balls_of->likely_g > 0 && balls_of->spread >= 0 && balls_of->join_g >= 0 && balls_of->swatch_use_g >= 0;
    struct hk_count_demand demand = {.chance = hk_ball_chance, .context = balls_of};
    if (!known || !hk_balls_needed(hk_order_most_g(balls_of), balls_of->put_up_g, balls_of->join_g, &demand.most))
        return false;
    int64_t least = 0;
    if (!hk_order_least_cost(&demand, costs, &least))
        return false;
    *balls = least > 1 ? least : 1;
    return true;
}
