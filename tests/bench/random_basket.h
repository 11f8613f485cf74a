/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Random baskets of a given size, the same on every machine: invented prices, 80% availability, postage,
 * free-from, offs, lots.
 */
#ifndef BENCH_RANDOM_BASKET_H
#define BENCH_RANDOM_BASKET_H

#include "shop/basket.h"

#include <stdlib.h>

struct random_basket_size {
    size_t shops, colours, put_ups;
};

/* Steps of a linear congruential generator (Knuth's MMIX numbers, from memory). */
static inline int64_t random_step(uint64_t *state, int64_t least, int64_t most)
{
    *state = *state * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
    return least + (int64_t)((*state >> 33) % (uint64_t)(most - least + 1));
}

static inline struct hk_basket_shop random_basket_shop(uint64_t *state)
{
    struct hk_basket_shop shop = {.postage_minor = random_step(state, 290, 690),
                                  .free_from_minor = random_step(state, 30, 80) * 100};
    if (random_step(state, 0, 2) == 0)
        shop.free_from_minor = -1;
    shop.off_from_minor = random_step(state, 20, 90) * 100;
    switch (random_step(state, 0, 3)) {
    case 0:
        shop.off_minor = random_step(state, 3, 10) * 100;
        break;
    case 1:
        shop.off_millionths = random_step(state, 1, 4) * 50000;
        break;
    default:
        break;
    }
    return shop;
}

/* Put-ups of 25, 50, 100 g and so on, larger ones cheaper by mass; a tenth are sold in fives. A join wastes 0.8 g. */
static inline struct hk_basket_offer random_basket_offer(uint64_t *state, size_t role, size_t shop, size_t put_up)
{
    double mass_g = 25.0 * (double)(1 << put_up);
    double minor_g = 9 + 0.01 * (double)random_step(state, -250, 250);
    struct hk_basket_offer offer = {
        .role = role, .shop = shop, .lot = (size_t)random_step(state, 0, 1) * (1 + shop * 10 + put_up),
        .usable_g = mass_g - 0.8,
        .pack = random_step(state, 0, 9) ? 1 : 5,
        .stock = random_step(state, 0, 3) ? -1 : random_step(state, 2, 20),
    };
    offer.pack_minor = offer.pack * (int64_t)(minor_g * mass_g * (1 - 0.03 * (double)put_up));
    return offer;
}

/* False on no memory. Free with random_basket_free. */
static inline bool random_basket(struct random_basket_size size, uint64_t seed, double seconds, struct hk_basket_problem *problem)
{
    size_t most = size.shops * size.colours * (size.put_ups + 1);
    struct hk_basket_offer *offers = calloc(most, sizeof *offers);
    struct hk_basket_shop *shops = calloc(size.shops, sizeof *shops);
    struct hk_basket_role *roles = calloc(size.colours, sizeof *roles);
    size_t count = 0;
    uint64_t state = seed + 1;
    for (size_t s = 0; s < size.shops && shops; s++)
        shops[s] = random_basket_shop(&state);
    for (size_t r = 0; r < size.colours && roles && offers; r++) {
        roles[r] = (struct hk_basket_role){(double)random_step(&state, 40, 600), true};
        size_t before = count;
        for (size_t s = 0; s < size.shops; s++)
            for (size_t p = 0; p < size.put_ups; p++)
                if (random_step(&state, 0, 4) > 0)
                    offers[count++] = random_basket_offer(&state, r, s, p);
        if (before == count)
            offers[count++] = random_basket_offer(&state, r, 0, 0);
        offers[before].stock = -1; /* so that the role can be filled */
    }
    *problem = (struct hk_basket_problem){offers, shops, roles, count, size.shops, size.colours, seconds, {0}};
    return offers && shops && roles;
}

/*
 * Gives a third of the offers one or two quantity prices, of 3 to 12% less from 4 to 15 balls on, and packs a price that is
 * no whole number a ball. False on no memory.
 */
static inline bool random_basket_quantities(struct hk_basket_problem *problem, uint64_t seed)
{
    struct hk_basket_offer *offers = (struct hk_basket_offer *)(uintptr_t)problem->offers;
    struct hk_basket_tier *tiers = calloc(problem->offer_count, 3 * sizeof *tiers);
    uint64_t state = seed + 1;
    for (size_t i = 0; i < problem->offer_count && tiers; i++) {
        struct hk_basket_tier *of = tiers + 3 * i;
        int64_t from = offers[i].pack, count = random_step(&state, 0, 2) ? 0 : random_step(&state, 1, 2);
        offers[i].pack_minor -= offers[i].pack > 1 ? random_step(&state, 0, 99) : 0;
        offers[i].tiers = of;
        for (int64_t t = 0, price = offers[i].pack_minor; t < count; t++) {
            from += random_step(&state, 4, 15);
            price -= price * random_step(&state, 3, 12) / 100;
            of[t] = (struct hk_basket_tier){from, price};
        }
    }
    return tiers;
}

static inline void random_basket_free(struct hk_basket_problem *problem)
{
    free((void *)(uintptr_t)(problem->offers ? problem->offers[0].tiers : NULL));
    free((void *)(uintptr_t)problem->offers);
    free((void *)(uintptr_t)problem->shops);
    free((void *)(uintptr_t)problem->roles);
}

#endif
