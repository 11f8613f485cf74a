/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support.h"

#include "basket.h"
#include "basket_programme.h"
#include "money.h"

#include <fcntl.h>
#include <glpk.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#define LIMIT_S 60
#define NEVER (-1)
#define NO_LIMIT (-1)
#ifndef CASES
#define CASES 500
#endif

static const struct hk_basket_shop plain_shop = {.free_from_minor = NEVER};

/* ---- Every basket, one after the other ---------------------------------------------------------------------------- */

struct brute {
    const struct hk_basket_problem *problem;
    const int64_t *most; /* by offer, in balls */
    int64_t balls[16];
    int64_t best_minor;  /* -1: none */
    int64_t best_balls, best_positions;
};

static bool lots_hold(const struct hk_basket_problem *problem, const int64_t *balls)
{
    for (size_t i = 0; i < problem->offer_count; i++)
        for (size_t k = 0; k < i; k++) {
            const struct hk_basket_offer *a = &problem->offers[i], *b = &problem->offers[k];
            if (balls[i] && balls[k] && a->role == b->role && a->lot != b->lot && problem->roles[a->role].one_lot)
                return false;
        }
    return true;
}

/* All masses of the random cases are small whole numbers, so these sums are exact. */
static bool needs_met(const struct hk_basket_problem *problem, const int64_t *balls)
{
    for (size_t r = 0; r < problem->role_count; r++) {
        double given_g = 0;
        int64_t count = 0;
        for (size_t i = 0; i < problem->offer_count; i++) {
            given_g += problem->offers[i].role == r ? problem->offers[i].usable_g * (double)balls[i] : 0;
            count += problem->offers[i].role == r ? balls[i] : 0;
        }
        if (given_g < problem->roles[r].needed_g || count == 0)
            return false;
    }
    return true;
}

/* Written again from design.md section 3, not with the library's own bill. */
static int64_t cost_by_hand(const struct hk_basket_problem *problem, const int64_t *balls)
{
    int64_t total = 0;
    for (size_t s = 0; s < problem->shop_count; s++) {
        const struct hk_basket_shop *shop = &problem->shops[s];
        int64_t goods = 0, count = 0;
        for (size_t i = 0; i < problem->offer_count; i++) {
            goods += problem->offers[i].shop == s ? balls[i] * problem->offers[i].price_minor : 0;
            count += problem->offers[i].shop == s ? balls[i] : 0;
        }
        if (count == 0)
            continue;
        int64_t off = goods >= shop->off_from_minor
                          ? shop->off_minor + (2 * goods * shop->off_millionths + 1000000) / 2000000
                          : 0;
        total += goods - (off < goods ? off : goods);
        total += shop->free_from_minor >= 0 && goods >= shop->free_from_minor ? 0 : shop->postage_minor;
    }
    return total;
}

static void try_all(struct brute *b, size_t offer)
{
    const struct hk_basket_problem *p = b->problem;
    if (offer < p->offer_count) {
        for (int64_t n = 0; n <= b->most[offer]; n += p->offers[offer].pack) {
            b->balls[offer] = n;
            try_all(b, offer + 1);
        }
        return;
    }
    if (!lots_hold(p, b->balls) || !needs_met(p, b->balls))
        return;
    int64_t cost = cost_by_hand(p, b->balls), count = 0, positions = 0;
    for (size_t i = 0; i < p->offer_count; i++) {
        count += b->balls[i];
        positions += b->balls[i] * (int64_t)(i + 1);
    }
    bool better = b->best_minor < 0 || cost < b->best_minor;
    bool as_good = cost == b->best_minor;
    better |= as_good && count < b->best_balls;
    better |= as_good && count == b->best_balls && positions < b->best_positions;
    if (better) {
        b->best_minor = cost;
        b->best_balls = count;
        b->best_positions = positions;
    }
}

/* ---- Random small cases --------------------------------------------------------------------------------------------- */

/* Steps of a linear congruential generator (Knuth's MMIX numbers, from memory): the same cases on every machine. */
static uint64_t next_random(uint64_t *state)
{
    *state = *state * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
    return *state >> 33;
}

static int64_t random_in(uint64_t *state, int64_t least, int64_t most)
{
    return least + (int64_t)(next_random(state) % (uint64_t)(most - least + 1));
}

struct random_case {
    struct hk_basket_offer offers[8];
    struct hk_basket_shop shops[3];
    struct hk_basket_role roles[2];
    int64_t most[8];
    struct hk_basket_problem problem;
};

static void random_shop(uint64_t *state, struct hk_basket_shop *shop)
{
    static const int64_t percents[] = {50000, 100000, 125000, 333000, 500000, 1000000};
    *shop = plain_shop;
    if (random_in(state, 0, 3))
        shop->postage_minor = random_in(state, 1, 300);
    if (random_in(state, 0, 1))
        shop->free_from_minor = random_in(state, 0, 1500);
    if (random_in(state, 0, 1))
        shop->off_from_minor = random_in(state, 0, 1200);
    if (random_in(state, 0, 2) == 0)
        shop->off_minor = random_in(state, 1, 400);
    if (random_in(state, 0, 2) == 0)
        shop->off_millionths = percents[random_in(state, 0, random_in(state, 0, 3) ? 4 : 5)];
}

/* Enough balls that buying more cannot help: what fills the role alone and meets every threshold alone, within stock and reason. */
static int64_t most_balls(const struct random_case *c, const struct hk_basket_offer *offer)
{
    const struct hk_basket_shop *shop = &c->shops[offer->shop];
    int64_t most = (int64_t)ceil(fmax(c->roles[offer->role].needed_g, 1) / offer->usable_g);
    int64_t from = shop->free_from_minor > shop->off_from_minor ? shop->free_from_minor : shop->off_from_minor;
    if (offer->price_minor > 0 && from / offer->price_minor + 1 > most)
        most = from / offer->price_minor + 1;
    most = (most + offer->pack - 1) / offer->pack * offer->pack;
    return offer->stock >= 0 && offer->stock < most ? offer->stock : most;
}

static double combinations(const struct random_case *c)
{
    double product = 1;
    for (size_t i = 0; i < c->problem.offer_count; i++)
        product *= (double)(c->most[i] / c->offers[i].pack + 1);
    return product;
}

static void random_offer(uint64_t *state, const struct random_case *c, struct hk_basket_offer *offer)
{
    *offer = (struct hk_basket_offer){
        .role = (size_t)random_in(state, 0, (int64_t)c->problem.role_count - 1),
        .shop = (size_t)random_in(state, 0, (int64_t)c->problem.shop_count - 1),
        .lot = (size_t)random_in(state, 0, 3),
        .usable_g = (double)random_in(state, 1, 4) * 25 - (double)random_in(state, 0, 1),
        .pack = random_in(state, 0, 3) ? 1 : random_in(state, 2, 5),
        .stock = random_in(state, 0, 2) ? NO_LIMIT : random_in(state, 0, 6),
        .price_minor = random_in(state, 0, 9) ? random_in(state, 50, 700) : 0,
    };
}

static void random_case(uint64_t *state, struct random_case *c)
{
    do {
        *c = (struct random_case){.problem = {.offers = c->offers, .shops = c->shops, .roles = c->roles,
                                              .offer_count = (size_t)random_in(state, 1, 7),
                                              .shop_count = (size_t)random_in(state, 1, 3),
                                              .role_count = (size_t)random_in(state, 1, 2), .seconds = LIMIT_S}};
        for (size_t s = 0; s < c->problem.shop_count; s++)
            random_shop(state, &c->shops[s]);
        for (size_t r = 0; r < c->problem.role_count; r++)
            c->roles[r] = (struct hk_basket_role){(double)random_in(state, -1, 260), random_in(state, 0, 1)};
        for (size_t i = 0; i < c->problem.offer_count; i++) {
            random_offer(state, c, &c->offers[i]);
            c->most[i] = most_balls(c, &c->offers[i]);
        }
    } while (combinations(c) > 20000);
}

static void assert_obeys(const struct hk_basket_problem *problem, const struct hk_basket *basket)
{
    assert_true(lots_hold(problem, basket->balls));
    assert_true(needs_met(problem, basket->balls));
    for (size_t i = 0; i < problem->offer_count; i++) {
        assert_true(basket->balls[i] >= 0 && basket->balls[i] % problem->offers[i].pack == 0);
        assert_true(problem->offers[i].stock < 0 || basket->balls[i] <= problem->offers[i].stock);
    }
    int64_t total = 0;
    for (size_t s = 0; s < problem->shop_count; s++)
        total += basket->goods_minor[s] + basket->postage_minor[s] - basket->discount_minor[s];
    assert_int_equal(total, basket->total_minor);
    assert_int_equal(total, cost_by_hand(problem, basket->balls));
}

static void assert_is_cheapest(const struct hk_basket_problem *problem, const int64_t *most, int *filled)
{
    struct brute brute = {.problem = problem, .most = most, .best_minor = -1};
    try_all(&brute, 0);
    struct hk_arena arena = {0};
    struct hk_basket basket = {0};
    enum hk_basket_answer answer = hk_basket_solve(problem, &basket, &arena);
    if (brute.best_minor < 0) {
        assert_int_equal(answer, HK_BASKET_SHORT);
        assert_true(basket.lack_count > 0);
    } else {
        assert_int_equal(answer, HK_BASKET_FOUND);
        assert_obeys(problem, &basket);
        assert_true(basket.proven);
        assert_int_equal(basket.total_minor, brute.best_minor);
        int64_t balls = 0, positions = 0;
        for (size_t i = 0; i < problem->offer_count; i++) {
            balls += basket.balls[i];
            positions += basket.balls[i] * (int64_t)(i + 1);
        }
        assert_int_equal(balls, brute.best_balls);
        assert_int_equal(positions, brute.best_positions);
        ++*filled;
    }
    hk_arena_free(&arena);
}

static void no_basket_of_all_is_cheaper(void **state)
{
    (void)state;
    uint64_t seed = 20;
    int filled = 0;
    for (int i = 0; i < CASES; i++) {
        struct random_case c;
        random_case(&seed, &c);
        assert_is_cheapest(&c.problem, c.most, &filled);
    }
    assert_true(filled > CASES / 2);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(no_basket_of_all_is_cheaper),
    };
    return cmocka_run_group_tests_name("basket", tests, NULL, NULL);
}
