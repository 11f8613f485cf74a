/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The least price of goods for one role, a knapsack problem: whole packs that reach the need. Depth first, the cheapest
 * per gram first. A branch is pruned when its missing mass at the price per gram of the next offer (the cheapest one
 * left) makes it no better than the best.
 *
 * As a row of the programme it is a strong bound that cuts would approach only step by step.
 */
#include "shop/basket_programme.h"

#include <math.h>

#define OFFERS_MOST 64
#define STEPS_MOST 20000

/* The tolerance for a need of 1. */
#define COVERED HK_NEED_SHORT

struct knapsack {
    size_t count, steps;
    double cover[OFFERS_MOST], price[OFFERS_MOST], packs[OFFERS_MOST]; /* price: the lowest of a pack */
    const struct hk_basket_offer *offer[OFFERS_MOST];
    double best;
};

/* Inserts an offer in the order of price per cover. */
static void insert(struct knapsack *k, const struct hk_basket_offer *offer, double cover, double packs)
{
    double price = (double)hk_basket_pack_least(offer);
    size_t at = k->count++;
    for (; at > 0 && k->price[at - 1] * cover > price * k->cover[at - 1]; at--) {
        k->cover[at] = k->cover[at - 1];
        k->price[at] = k->price[at - 1];
        k->packs[at] = k->packs[at - 1];
        k->offer[at] = k->offer[at - 1];
    }
    k->cover[at] = cover;
    k->price[at] = price;
    k->packs[at] = packs;
    k->offer[at] = offer;
}

/* Returns the largest number of packs that may be worth buying: more than cover the rest only for a quantity price. */
static double packs_worth(const struct knapsack *k, size_t at, double left)
{
    double packs = ceil((left - COVERED) / k->cover[at]);
    for (const struct hk_basket_tier *tier = k->offer[at]->tiers; tier && tier->from; tier++)
        packs = fmax(packs, (double)hk_basket_tier_packs(k->offer[at], tier));
    return fmin(packs, k->packs[at]);
}

static double price_of(const struct hk_basket_offer *offer, double packs)
{
    return packs * (double)hk_basket_pack_minor(offer, (int64_t)packs * offer->pack);
}

/* Searches from offer `at` on, with `left` of the need to cover. */
static void descend(struct knapsack *k, size_t at, double left, double price)
{
    if (++k->steps > STEPS_MOST)
        return;
    if (left <= COVERED) {
        k->best = fmin(k->best, price);
        return;
    }
    if (at == k->count || price + left * k->price[at] / k->cover[at] >= k->best)
        return;
    /* NOLINTNEXTLINE(clang-analyzer-security.FloatLoopCounter): whole numbers, far below 2^53 */
    for (double packs = packs_worth(k, at, left); packs >= 0; packs--)
        descend(k, at + 1, left - packs * k->cover[at], price + price_of(k->offer[at], packs));
}

double hk_basket_price_least(const struct hk_basket_plan *plan, size_t role, const size_t *lot)
{
    struct knapsack k = {.best = HUGE_VAL};
    for (size_t i = 0; i < plan->problem->offer_count; i++) {
        const struct hk_basket_offer *offer = &plan->problem->offers[i];
        if (offer->role != role || plan->packs_most[i] == 0 || (lot && plan->lot[i] != *lot))
            continue;
        if (k.count == OFFERS_MOST)
            return 0;
        insert(&k, offer, plan->cover[i], (double)plan->packs_most[i]);
    }
    descend(&k, 0, 1, 0);
    return k.steps > STEPS_MOST || !isfinite(k.best) ? 0 : k.best;
}
