/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * First the steps without a search: invalid amounts, roles that cannot be filled, one feasible basket. Its total limits
 * the packs in a cheapest basket, and it is the answer if the time runs out. Then the programme (basket_programme.c),
 * which returns whole packs; this file checks that they fill the roles and recomputes their cost.
 */
#include "shop/basket.h"

#include "base/money.h"
#include "shop/basket_programme.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define PACKS_MOST 1000000
#define PACK_MOST 1000000
#define TOTAL_MOST INT64_C(1000000000000) /* in minor units; GLPK counts in doubles */

/* The tolerance of GLPK's bound, as a ratio and in minor units: its simplex method stops at about 1e-9. */
#define BOUND_RATIO 1e-9
#define BOUND_MINOR 1e-3

#define ANY SIZE_MAX

/* An offer ranked within its role or lot: by price per gram, then the larger ball, then the first listed. */
struct ranked {
    size_t role, lot, offer;
    double price_g, usable_g;
};

struct ranks {
    const struct ranked *of;
    size_t count;
};

struct solving {
    const struct hk_basket_problem *problem;
    struct hk_basket_plan plan;
    struct ranks *roles, *lots; /* by role, and by lot of the plan */
    struct hk_arena scratch, *arena;
    int64_t *packs; /* by offer: packs of the best basket so far */
};

/* ---- Counting ---------------------------------------------------------------------------------------------------- */

static bool reaches(double given_g, double needed_g)
{
    return given_g >= needed_g - HK_NEED_SHORT * fabs(needed_g);
}

static bool fills(const struct hk_basket_problem *problem, const int64_t *balls, size_t role)
{
    double given_g = 0;
    bool any = false;
    for (size_t i = 0; i < problem->offer_count; i++) {
        if (problem->offers[i].role != role || balls[i] == 0)
            continue;
        given_g += problem->offers[i].usable_g * (double)balls[i];
        any = true;
    }
    return any && reaches(given_g, problem->roles[role].needed_g);
}

bool hk_basket_bill(const struct hk_basket_shop *shop, bool used, int64_t goods_minor, int64_t *postage_minor,
                    int64_t *discount_minor)
{
    int64_t postage = 0, discount = 0;
    bool postage_free = shop->free_from_minor >= 0 && goods_minor >= shop->free_from_minor;
    if (used && !postage_free)
        postage = shop->postage_minor;
    if (used && goods_minor >= shop->off_from_minor) {
        if (!hk_money_share(goods_minor, shop->off_millionths, &discount))
            return false;
        int64_t left = goods_minor - discount;
        discount = left < shop->off_minor ? goods_minor : discount + shop->off_minor;
    }
    *postage_minor = postage;
    *discount_minor = discount;
    return true;
}

int64_t hk_basket_pack_minor(const struct hk_basket_offer *offer, int64_t balls)
{
    int64_t minor = offer->pack_minor;
    for (const struct hk_basket_tier *tier = offer->tiers; tier && tier->from && balls >= tier->from; tier++)
        minor = tier->pack_minor;
    return minor;
}

bool hk_basket_goods(const struct hk_basket_offer *offer, int64_t balls, int64_t *minor)
{
    return hk_money_part(hk_basket_pack_minor(offer, balls), balls, offer->pack, minor);
}

static bool count_goods(const struct hk_basket_problem *problem, const int64_t *balls, int64_t *goods_minor, bool *used)
{
    for (size_t i = 0; i < problem->offer_count; i++) {
        const struct hk_basket_offer *offer = &problem->offers[i];
        if (balls[i] > 0)
            used[offer->shop] = true;
        int64_t cost_minor;
        if (!hk_basket_goods(offer, balls[i], &cost_minor) || !hk_money_add(&goods_minor[offer->shop], cost_minor))
            return false;
    }
    return true;
}

bool hk_basket_recount(const struct hk_basket_problem *problem, const int64_t *balls, struct hk_basket *basket,
                       struct hk_arena *arena)
{
    size_t shops = problem->shop_count;
    bool *used = hk_arena_take(arena, shops, sizeof *used);
    int64_t *goods = hk_arena_take(arena, shops, sizeof *goods);
    int64_t *postage = hk_arena_take(arena, shops, sizeof *postage);
    int64_t *discount = hk_arena_take(arena, shops, sizeof *discount);
    if (arena->out_of_memory || !count_goods(problem, balls, goods, used))
        return false;
    int64_t total = 0;
    for (size_t s = 0; s < shops; s++) {
        if (!hk_basket_bill(&problem->shops[s], used[s], goods[s], &postage[s], &discount[s]) ||
            !hk_money_add(&total, goods[s] - discount[s]) || !hk_money_add(&total, postage[s]))
            return false;
    }
    basket->goods_minor = goods;
    basket->postage_minor = postage;
    basket->discount_minor = discount;
    basket->total_minor = total;
    return true;
}

/* ---- Invalid amounts -------------------------------------------------------------------------------------- */

static bool is_money(int64_t minor)
{
    return minor >= 0 && minor <= HK_MONEY_MOST;
}

static bool tiers_in_range(const struct hk_basket_offer *offer)
{
    int64_t from = offer->pack, minor = offer->pack_minor;
    for (const struct hk_basket_tier *tier = offer->tiers; tier && tier->from; tier++) {
        if (tier->from <= from || tier->from > PACKS_MOST || tier->pack_minor < 1 || tier->pack_minor >= minor)
            return false;
        from = tier->from;
        minor = tier->pack_minor;
    }
    return true;
}

static bool offer_in_range(const struct hk_basket_offer *offer)
{
    return isfinite(offer->usable_g) && offer->usable_g > 0 && offer->pack >= 1 && offer->pack <= PACK_MOST &&
           offer->stock >= -1 && is_money(offer->pack_minor) && tiers_in_range(offer);
}

static bool shop_in_range(const struct hk_basket_shop *shop)
{
    return is_money(shop->postage_minor) && (shop->free_from_minor == -1 || is_money(shop->free_from_minor)) &&
           is_money(shop->off_from_minor) && is_money(shop->off_minor) && shop->off_millionths >= 0 &&
           shop->off_millionths <= HK_MILLION;
}

static bool in_range(const struct hk_basket_problem *problem)
{
    bool in = problem->seconds > 0;
    for (size_t i = 0; i < problem->offer_count && in; i++) {
        assert(problem->offers[i].role < problem->role_count && problem->offers[i].shop < problem->shop_count);
        in = offer_in_range(&problem->offers[i]);
    }
    for (size_t s = 0; s < problem->shop_count && in; s++)
        in = shop_in_range(&problem->shops[s]);
    for (size_t r = 0; r < problem->role_count && in; r++)
        in = isfinite(problem->roles[r].needed_g);
    return in;
}

/* ---- Packs and lots ---------------------------------------------------------------------------------------------- */

static double pack_g(const struct hk_basket_offer *offer)
{
    return offer->usable_g * (double)offer->pack;
}

/* Returns the price of this number of packs. */
static double price_of(const struct hk_basket_offer *offer, double packs)
{
    return packs * (double)hk_basket_pack_minor(offer, (int64_t)packs * offer->pack);
}

static double packs_in_stock(const struct hk_basket_offer *offer)
{
    const int64_t whole = offer->stock / offer->pack;
    return offer->stock < 0 ? HUGE_VAL : (double)whole;
}

/* Returns the least number of packs that fill the need alone, at least one; a double, since it may be very large. */
static double packs_to_fill(const struct hk_basket_offer *offer, double needed_g)
{
    double packs = fmax(ceil(needed_g / pack_g(offer)), 1);
    if (packs > 1 && reaches((packs - 1) * pack_g(offer), needed_g))
        return packs - 1;
    return reaches(packs * pack_g(offer), needed_g) ? packs : packs + 1;
}

static int by_price(const struct ranked *a, const struct ranked *b)
{
    if (a->price_g != b->price_g)
        return a->price_g < b->price_g ? -1 : 1;
    if (a->usable_g != b->usable_g)
        return a->usable_g > b->usable_g ? -1 : 1;
    return (a->offer > b->offer) - (a->offer < b->offer);
}

static int by_role(const void *a, const void *b)
{
    const struct ranked *x = a, *y = b;
    return x->role != y->role ? (x->role < y->role ? -1 : 1) : by_price(x, y);
}

static int by_lot(const void *a, const void *b)
{
    const struct ranked *x = a, *y = b;
    if (x->role != y->role)
        return x->role < y->role ? -1 : 1;
    return x->lot != y->lot ? (x->lot < y->lot ? -1 : 1) : by_price(x, y);
}

/* Returns all offers in an order; NULL when out of memory. */
static struct ranked *rank(struct solving *s, int (*order)(const void *, const void *))
{
    size_t count = s->problem->offer_count;
    struct ranked *ranked = hk_arena_take(&s->scratch, count, sizeof *ranked);
    for (size_t i = 0; ranked && i < count; i++) {
        const struct hk_basket_offer *o = &s->problem->offers[i];
        ranked[i] = (struct ranked){o->role, o->lot, i, (double)o->pack_minor / pack_g(o), o->usable_g};
    }
    if (ranked && count)
        qsort(ranked, count, sizeof *ranked, order);
    return ranked;
}

/* Numbers the lots: offers of the same role and lot share a number. */
static void number_lots(struct solving *s, const struct ranked *in_lots)
{
    struct hk_basket_plan *plan = &s->plan;
    for (size_t i = 0; i < s->problem->offer_count; i++) {
        const struct ranked *offer = &in_lots[i];
        if (i == 0 || offer->role != offer[-1].role || offer->lot != offer[-1].lot)
            plan->lot_role[plan->lot_count++] = offer->role;
        plan->lot[offer->offer] = plan->lot_count - 1;
    }
}

/* Ranks the offers of each role and of each lot. Returns false when out of memory. */
static bool rank_offers(struct solving *s)
{
    size_t count = s->problem->offer_count;
    struct hk_basket_plan *plan = &s->plan;
    const struct ranked *in_roles = rank(s, by_role), *in_lots = rank(s, by_lot);
    plan->lot = hk_arena_take(&s->scratch, count, sizeof *plan->lot);
    plan->lot_role = hk_arena_take(&s->scratch, count, sizeof *plan->lot_role);
    s->roles = hk_arena_take(&s->scratch, s->problem->role_count, sizeof *s->roles);
    s->lots = hk_arena_take(&s->scratch, count, sizeof *s->lots);
    if (s->scratch.out_of_memory)
        return false;
    number_lots(s, in_lots);
    for (size_t i = count; i-- > 0;) {
        struct ranks *role = &s->roles[in_roles[i].role], *lot = &s->lots[plan->lot[in_lots[i].offer]];
        *role = (struct ranks){&in_roles[i], role->count + 1};
        *lot = (struct ranks){&in_lots[i], lot->count + 1};
    }
    return true;
}

/* Returns the offers of a role, in one lot or ANY. */
static struct ranks offers_of(const struct solving *s, size_t role, size_t lot)
{
    return lot == ANY ? s->roles[role] : s->lots[lot];
}

/* Returns the grams in all offers of a role, in one lot or ANY. */
static double stock_g(const struct solving *s, size_t role, size_t lot)
{
    double sum_g = 0;
    struct ranks offers = offers_of(s, role, lot);
    for (size_t i = 0; i < offers.count; i++) {
        const struct hk_basket_offer *offer = &s->problem->offers[offers.of[i].offer];
        if (packs_in_stock(offer) > 0)
            sum_g += pack_g(offer) * packs_in_stock(offer);
    }
    return sum_g;
}

static bool holds_enough(double sum_g, double needed_g)
{
    return sum_g > 0 && reaches(sum_g, needed_g);
}

/* Returns the lot of the role that holds most, the first of equals; ANY if the role has no offer. */
static size_t largest_lot(const struct solving *s, size_t role)
{
    size_t largest = ANY;
    for (size_t l = 0; l < s->plan.lot_count; l++)
        if (s->plan.lot_role[l] == role && (largest == ANY || stock_g(s, role, l) > stock_g(s, role, largest)))
            largest = l;
    return largest;
}

/* Returns the caller's number of a lot. */
static size_t lot_name(const struct solving *s, size_t lot)
{
    size_t i = 0;
    while (s->plan.lot[i] != lot)
        i++;
    return s->problem->offers[i].lot;
}

static bool find_lack(const struct solving *s, size_t role, struct hk_basket_lack *lack)
{
    double needed_g = s->problem->roles[role].needed_g;
    double all_g = stock_g(s, role, ANY);
    if (!holds_enough(all_g, needed_g)) {
        *lack = (struct hk_basket_lack){.role = role, .missing_g = fmax(needed_g - all_g, 0)};
        return true;
    }
    if (!s->problem->roles[role].one_lot)
        return false;
    size_t lot = largest_lot(s, role);
    double lot_g = stock_g(s, role, lot);
    if (holds_enough(lot_g, needed_g))
        return false;
    *lack = (struct hk_basket_lack){.role = role, .lots = true, .missing_g = needed_g - lot_g, .lot = lot_name(s, lot)};
    return true;
}

static enum hk_basket_answer find_lacks(struct solving *s, struct hk_basket *basket)
{
    struct hk_basket_lack *lacks = hk_arena_take(s->arena, s->problem->role_count, sizeof *lacks);
    size_t count = 0;
    for (size_t r = 0; r < s->problem->role_count && lacks; r++)
        count += find_lack(s, r, &lacks[count]);
    if (!lacks)
        return HK_BASKET_FAILED;
    if (count == 0)
        return HK_BASKET_FOUND;
    basket->lacks = lacks;
    basket->lack_count = count;
    return HK_BASKET_SHORT;
}

/* ---- A feasible basket ------------------------------------------------------------------------------------- */

/* The offers that may fill a role. */
struct choice {
    size_t role, lot, shop; /* lot and shop may be ANY */
};

/* Returns the packs to take of this number: more where a quantity price makes more cost less. */
static double cheaper_packs(const struct hk_basket_offer *offer, double packs)
{
    double best = packs;
    for (const struct hk_basket_tier *tier = offer->tiers; tier && tier->from; tier++) {
        double more = (double)hk_basket_tier_packs(offer, tier);
        if (more > best && more <= packs_in_stock(offer) && price_of(offer, more) < price_of(offer, best))
            best = more;
    }
    return best;
}

/*
 * Takes packs from the cheapest offer per gram, up to the need or the stock, then from the next. Returns false when the
 * offers are not enough.
 */
static bool fill_role(const struct solving *s, const struct choice *c, int64_t *packs, double *price)
{
    double needed_g = s->problem->roles[c->role].needed_g, given_g = 0;
    struct ranks offers = offers_of(s, c->role, c->lot);
    *price = 0;
    for (size_t i = 0; i < offers.count; i++) {
        const struct hk_basket_offer *o = &s->problem->offers[offers.of[i].offer];
        double take = fmin(packs_to_fill(o, needed_g - given_g), packs_in_stock(o));
        if ((c->shop != ANY && o->shop != c->shop) || take < 1)
            continue;
        if (take > PACKS_MOST)
            return false;
        take = cheaper_packs(o, take);
        packs[offers.of[i].offer] = (int64_t)take;
        given_g += take * pack_g(o);
        *price += price_of(o, take);
        if (reaches(given_g, needed_g))
            return true;
    }
    return false;
}

static void clear(struct ranks offers, int64_t *packs)
{
    for (size_t i = 0; i < offers.count; i++)
        packs[offers.of[i].offer] = 0;
}

/* Fills the role, from the cheapest lot if it must stay in one lot. */
static bool fill_from(const struct solving *s, size_t role, size_t shop, int64_t *packs)
{
    struct choice c = {role, ANY, shop};
    double price, best_price = HUGE_VAL;
    if (s->problem->roles[role].one_lot) {
        for (size_t l = 0; l < s->plan.lot_count; l++) {
            if (s->plan.lot_role[l] != role)
                continue;
            struct choice of_lot = {role, l, shop};
            clear(s->lots[l], packs);
            if (fill_role(s, &of_lot, packs, &price) && price < best_price) {
                best_price = price;
                c.lot = l;
            }
        }
        if (c.lot == ANY)
            return false;
    }
    clear(s->roles[role], packs);
    return fill_role(s, &c, packs, &price);
}

/* Fills every role from this shop if possible, else from any shop. */
static bool fill_all(const struct solving *s, size_t shop, int64_t *packs)
{
    for (size_t r = 0; r < s->problem->role_count; r++)
        if (!fill_from(s, r, shop, packs) && !fill_from(s, r, ANY, packs))
            return false;
    return true;
}

static void to_balls(const struct hk_basket_problem *problem, const int64_t *packs, int64_t *balls)
{
    for (size_t i = 0; i < problem->offer_count; i++)
        balls[i] = packs[i] * problem->offers[i].pack;
}

static bool fills_all(const struct hk_basket_problem *problem, const int64_t *balls)
{
    for (size_t r = 0; r < problem->role_count; r++)
        if (!fills(problem, balls, r))
            return false;
    return true;
}

/* Removes free packs that are not needed, the last listed first. */
static void trim(const struct hk_basket_problem *problem, int64_t *packs)
{
    for (size_t i = problem->offer_count; i-- > 0;) {
        const struct hk_basket_offer *offer = &problem->offers[i];
        double needed_g = problem->roles[offer->role].needed_g, others_g = 0;
        if (offer->pack_minor > 0 || packs[i] == 0)
            continue;
        for (size_t k = 0; k < problem->offer_count; k++)
            if (k != i && problem->offers[k].role == offer->role)
                others_g += pack_g(&problem->offers[k]) * (double)packs[k];
        double needed = others_g > 0 && reaches(others_g, needed_g) ? 0 : packs_to_fill(offer, needed_g - others_g);
        packs[i] = (int64_t)fmin((double)packs[i], needed);
    }
}

/*
 * Trims the packs, recomputes their cost and keeps them if they are the best so far. Returns false when the cost
 * overflows or memory runs out.
 */
static bool consider(struct solving *s, int64_t *packs)
{
    trim(s->problem, packs);
    struct hk_basket basket = {0};
    struct hk_arena room = {0}; /* not the arena of the search: there may be many shops to try */
    int64_t *balls = hk_arena_take(&room, s->problem->offer_count, sizeof *balls);
    bool counted = balls;
    if (balls)
        to_balls(s->problem, packs, balls);
    if (balls && fills_all(s->problem, balls)) {
        counted = hk_basket_recount(s->problem, balls, &basket, &room) && basket.total_minor <= TOTAL_MOST;
        if (counted && (s->plan.total_minor < 0 || basket.total_minor < s->plan.total_minor)) {
            memcpy(s->packs, packs, s->problem->offer_count * sizeof *packs);
            s->plan.total_minor = basket.total_minor;
        }
    }
    s->scratch.out_of_memory |= room.out_of_memory;
    hk_arena_free(&room);
    return counted;
}

/*
 * Finds the best of these baskets: every role from its cheapest offers; and, for each shop, as much as possible from
 * it.
 */
static enum hk_basket_answer find_first(struct solving *s)
{
    size_t count = s->problem->offer_count;
    int64_t *packs = hk_arena_take(&s->scratch, count, sizeof *packs);
    bool any = false;
    for (size_t shop = 0; shop <= s->problem->shop_count && packs; shop++) {
        memset(packs, 0, count * sizeof *packs);
        any |= fill_all(s, shop < s->problem->shop_count ? shop : ANY, packs) && consider(s, packs);
    }
    if (s->scratch.out_of_memory)
        return HK_BASKET_FAILED;
    return any && s->plan.total_minor >= 0 ? HK_BASKET_FOUND : HK_BASKET_RANGE;
}

/* ---- Limits of a cheapest basket ------------------------------------------------------------------------- */

/*
 * Returns the largest goods of a shop in a cheapest basket. Goods G cost at least G - off - G m - 1/2, which is at most
 * the total T of a feasible basket: G <= (T + off + 1/2) / (1 - m).
 */
static double goods_worth(const struct solving *s, size_t shop)
{
    const struct hk_basket_shop *of = &s->problem->shops[shop];
    double kept = 1 - (double)of->off_millionths / HK_MILLION;
    return floor(((double)s->plan.total_minor + (double)of->off_minor + 0.5) / kept + 0.5);
}

/* Returns the highest threshold of the shop that may be worth meeting. */
static double threshold_worth(const struct solving *s, size_t shop)
{
    const struct hk_basket_shop *of = &s->problem->shops[shop];
    double most = goods_worth(s, shop), worth = 0;
    if (of->postage_minor > 0 && (double)of->free_from_minor <= most)
        worth = fmax(worth, (double)of->free_from_minor);
    if ((of->off_minor > 0 || of->off_millionths > 0) && (double)of->off_from_minor <= most)
        worth = fmax(worth, (double)of->off_from_minor);
    return worth;
}

/*
 * Returns the largest number of packs of an offer in a cheapest basket. When it fills its role, meets its shop's
 * thresholds and has its last quantity price alone, more packs are useless: without the last the basket is still
 * feasible and costs no more. goods_worth() is a limit too.
 */
static double packs_worth(const struct solving *s, const struct hk_basket_offer *offer)
{
    double packs = packs_to_fill(offer, s->problem->roles[offer->role].needed_g);
    double least = (double)hk_basket_pack_least(offer);
    for (const struct hk_basket_tier *tier = offer->tiers; tier && tier->from; tier++)
        packs = fmax(packs, (double)hk_basket_tier_packs(offer, tier));
    if (offer->pack_minor > 0) {
        packs = fmax(packs, ceil(threshold_worth(s, offer->shop) / least));
        packs = fmin(packs, floor(goods_worth(s, offer->shop) / least));
    }
    return fmin(packs, packs_in_stock(offer));
}

static double cover_of(const struct solving *s, const struct hk_basket_offer *offer)
{
    double needed_g = s->problem->roles[offer->role].needed_g;
    return reaches(pack_g(offer), needed_g) ? 1 : pack_g(offer) / needed_g;
}

static enum hk_basket_answer limit_offers(struct solving *s)
{
    size_t count = s->problem->offer_count;
    struct hk_basket_plan *plan = &s->plan;
    plan->packs_most = hk_arena_take(&s->scratch, count, sizeof *plan->packs_most);
    plan->cover = hk_arena_take(&s->scratch, count, sizeof *plan->cover);
    plan->goods_most = hk_arena_take(&s->scratch, s->problem->shop_count, sizeof *plan->goods_most);
    if (s->scratch.out_of_memory)
        return HK_BASKET_FAILED;
    for (size_t i = 0; i < count; i++) {
        const struct hk_basket_offer *offer = &s->problem->offers[i];
        double packs = packs_worth(s, offer);
        if (packs > PACKS_MOST)
            return HK_BASKET_RANGE;
        plan->packs_most[i] = (int64_t)packs;
        plan->cover[i] = cover_of(s, offer);
        plan->goods_most[offer->shop] += packs * (double)offer->pack_minor;
    }
    for (size_t shop = 0; shop < s->problem->shop_count; shop++) {
        plan->goods_most[shop] = fmin(plan->goods_most[shop], goods_worth(s, shop));
        if (plan->goods_most[shop] > (double)TOTAL_MOST)
            return HK_BASKET_RANGE;
    }
    return HK_BASKET_FOUND;
}

/* Excludes lots that cannot fill their role alone, if the role must stay in one lot. */
static void close_lots(struct solving *s)
{
    for (size_t l = 0; l < s->plan.lot_count; l++) {
        const struct hk_basket_role *role = &s->problem->roles[s->plan.lot_role[l]];
        if (!role->one_lot || holds_enough(stock_g(s, s->plan.lot_role[l], l), role->needed_g))
            continue;
        for (size_t i = 0; i < s->lots[l].count; i++)
            s->plan.packs_most[s->lots[l].of[i].offer] = 0;
    }
}

static enum hk_basket_answer prepare(struct solving *s, struct hk_basket *basket)
{
    if (!in_range(s->problem))
        return HK_BASKET_RANGE;
    s->plan.problem = s->problem;
    s->plan.total_minor = -1;
    s->packs = hk_arena_take(&s->scratch, s->problem->offer_count, sizeof *s->packs);
    if (!s->packs || !rank_offers(s))
        return HK_BASKET_FAILED;
    enum hk_basket_answer answer = find_lacks(s, basket);
    if (answer == HK_BASKET_FOUND)
        answer = find_first(s);
    if (answer == HK_BASKET_FOUND)
        answer = limit_offers(s);
    if (answer == HK_BASKET_FOUND)
        close_lots(s);
    return answer;
}

/* ---- The search -------------------------------------------------------------------------------------------------- */

/* Returns the bound in whole minor units. A bound above the total contradicts an existing basket and is ignored. */
static int64_t whole_bound(double found_minor, int64_t total_minor)
{
    double bound = ceil(found_minor * (1 - BOUND_RATIO) - BOUND_MINOR);
    return bound > 0 && bound <= (double)total_minor ? (int64_t)bound : 0;
}

static enum hk_basket_answer search(struct solving *s, struct hk_basket *basket)
{
    struct hk_programme_found found = {.packs = hk_arena_take(&s->scratch, s->problem->offer_count, sizeof *found.packs)};
    struct hk_basket best = {.balls = hk_arena_take(s->arena, s->problem->offer_count, sizeof *best.balls)};
    if (!found.packs || !best.balls || (s->plan.total_minor > 0 && !hk_programme_search(&s->plan, s->problem->seconds, &found)) ||
        (found.seen && !consider(s, found.packs)))
        return HK_BASKET_FAILED;
    if (found.cancelled)
        return HK_BASKET_CANCELLED;
    to_balls(s->problem, s->packs, best.balls);
    if (!hk_basket_recount(s->problem, best.balls, &best, s->arena))
        return HK_BASKET_FAILED;
    int64_t bound = whole_bound(found.bound, best.total_minor);
    best.proven = bound == best.total_minor;
    best.gap = best.proven ? 0 : 1 - (double)bound / (double)best.total_minor;
    *basket = best;
    return HK_BASKET_FOUND;
}

enum hk_basket_answer hk_basket_solve(const struct hk_basket_problem *problem, struct hk_basket *basket,
                                      struct hk_arena *arena)
{
    struct solving s = {.problem = problem, .arena = arena};
    enum hk_basket_answer answer = prepare(&s, basket);
    if (answer == HK_BASKET_FOUND)
        answer = search(&s, basket);
    hk_arena_free(&s.scratch);
    return answer;
}
