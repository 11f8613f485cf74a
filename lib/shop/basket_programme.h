/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A basket as an integer programme, searched on GLPK. basket_solve.c checks every answer. */
#ifndef HK_BASKET_PROGRAMME_H
#define HK_BASKET_PROGRAMME_H

#include "shop/basket.h"

/* The data known before the search. The unit is a pack: `pack` balls of an offer. */
struct hk_basket_plan {
    const struct hk_basket_problem *problem;
    int64_t *packs_most;  /* by offer: no cheapest basket holds more; 0: it holds none */
    double *cover;        /* by offer: the part of its role's need that a pack covers, at most 1 */
    size_t *lot;          /* by offer: its lot, numbered across all roles */
    size_t *lot_role;     /* by lot */
    size_t lot_count;
    double *goods_most;   /* by shop: no cheapest basket buys for more there */
    int64_t total_minor;  /* of the best basket known; -1: none yet */
};

/* Returns the lowest price of a pack that the offer's quantity prices reach. */
static inline int64_t hk_basket_pack_least(const struct hk_basket_offer *offer)
{
    int64_t minor = offer->pack_minor;
    for (const struct hk_basket_tier *tier = offer->tiers; tier && tier->from; tier++)
        minor = tier->pack_minor;
    return minor;
}

/* Returns the least number of packs with a quantity price. */
static inline int64_t hk_basket_tier_packs(const struct hk_basket_offer *offer, const struct hk_basket_tier *tier)
{
    return (tier->from + offer->pack - 1) / offer->pack;
}

struct hk_programme_found {
    bool seen;      /* a basket was found: */
    int64_t *packs; /* by offer; the caller's array */
    double bound;   /* no basket costs less; 0: not known */
    bool cancelled; /* the watch of the problem ended the search */
};

/* Searches for `seconds`. Prints nothing and always returns; false when out of memory or when GLPK aborts. */
bool hk_programme_search(const struct hk_basket_plan *plan, double seconds, struct hk_programme_found *found);

/*
 * Returns a lower bound of the price, before discounts and postage, of goods that fill the role from this lot or (NULL)
 * any: the optimum of the knapsack if a bounded search finds it, else 0.
 */
double hk_basket_price_least(const struct hk_basket_plan *plan, size_t role, const size_t *lot);

#endif
