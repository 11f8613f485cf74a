/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "shop/purchase.h"

#include "base/money.h"
#include "base/text.h"

#include <math.h>

const struct hk_candidate *hk_purchase_plan(const struct hk_purchase *p, size_t r)
{
    return &p->project->candidates[p->project->roles[p->demand.roles[r].role].plan];
}

const struct hk_yarn *hk_purchase_yarn(const struct hk_purchase *p, size_t r)
{
    return &p->project->yarns[hk_purchase_plan(p, r)->yarn];
}

const char *hk_purchase_role(const struct hk_purchase *p, size_t r)
{
    return p->project->roles[p->demand.roles[r].role].name;
}

/* ---- The basket ------------------------------------------------------------------------------------------------------ */

bool hk_purchase_open(struct hk_purchase *p)
{
    p->roles = hk_arena_take(p->arena, p->demand.count, sizeof *p->roles);
    p->shops = hk_arena_take(p->arena, p->project->seller_count, sizeof *p->shops);
    p->unpriced_balls = hk_arena_take(p->arena, p->demand.count, sizeof *p->unpriced_balls);
    if (p->arena->out_of_memory)
        return false;
    for (size_t i = 0; i < p->project->seller_count; i++) {
        const struct hk_seller *seller = &p->project->sellers[i];
        p->shops[i] = (struct hk_basket_shop){
            .postage_minor = seller->postage_minor, .free_from_minor = seller->free_from_minor,
            .off_from_minor = seller->off_from_minor, .off_minor = seller->off_minor,
            .off_millionths = seller->off_millionths,
        };
    }
    for (size_t r = 0; r < p->demand.count; r++)
        p->roles[r].one_lot = true;
    return hk_eligible_offers_find(p->project, &p->demand, p->title, &p->eligible, p->arena, p->diags) &&
           !p->arena->out_of_memory;
}

bool hk_watching_go_on(void *context, double done)
{
    struct hk_watching *watching = context;
    watching->most = fmax(watching->most, watching->from + watching->share * done);
    if (!watching->cancelled && watching->watch.go_on)
        watching->cancelled = !watching->watch.go_on(watching->watch.host, watching->most);
    return !watching->cancelled;
}

struct hk_basket_problem hk_purchase_problem(const struct hk_purchase *p)
{
    return (struct hk_basket_problem){
        .offers = p->eligible.offers,
        .shops = p->shops,
        .roles = p->roles,
        .offer_count = p->eligible.count,
        .shop_count = p->project->seller_count,
        .role_count = p->demand.count,
        .seconds = p->seconds,
        .watch = {p->watching ? hk_watching_go_on : NULL, p->watching},
    };
}

/* The programme is without the roles that have no price: numbers[n] is its n-th role here. */
enum hk_basket_answer hk_purchase_solve(struct hk_purchase *p)
{
    struct hk_basket_problem problem = hk_purchase_problem(p);
    size_t *numbers = hk_arena_take(p->arena, p->demand.count, sizeof *numbers);
    struct hk_basket_role *roles = hk_arena_take(p->arena, p->demand.count, sizeof *roles);
    struct hk_basket_offer *offers = hk_arena_take(p->arena, p->eligible.count, sizeof *offers);
    if (!numbers || !roles || !offers)
        return HK_BASKET_FAILED;
    problem.role_count = 0;
    problem.roles = roles;
    problem.offers = offers;
    for (size_t r = 0; r < p->demand.count; r++) {
        size_t n = problem.role_count;
        if (p->eligible.unpriced[r])
            continue;
        for (size_t i = 0; i < p->eligible.count; i++) {
            if (p->eligible.offers[i].role != r)
                continue;
            offers[i] = p->eligible.offers[i];
            offers[i].role = n;
        }
        numbers[n] = r;
        roles[n] = p->roles[r];
        problem.role_count++;
    }
    enum hk_basket_answer answer = hk_basket_solve(&problem, &p->found, p->arena);
    for (size_t i = 0; answer == HK_BASKET_SHORT && i < p->found.lack_count; i++)
        p->found.lacks[i].role = numbers[p->found.lacks[i].role];
    return answer;
}

void hk_purchase_refuse(const struct hk_purchase *p, enum hk_basket_answer answer)
{
    struct hk_basket_problem problem = hk_purchase_problem(p);
    switch (answer) {
    case HK_BASKET_FOUND:
        break;
    case HK_BASKET_SHORT:
        hk_eligible_offers_lacking(p->project, &p->demand, &p->eligible, &problem, &p->found, p->title, p->diags);
        break;
    case HK_BASKET_RANGE:
        hk_diags_add(p->diags, HK_CODE_MONEY, hk_cell_place(hk_purchase_plan(p, 0)->price_cell, 0),
                     "the order%s costs more than can be computed to the minor unit", p->title);
        hk_diags_hint(p->diags, "check price, put_up and times");
        break;
    case HK_BASKET_CANCELLED:
        hk_diags_add(p->diags, HK_CODE_CANCELLED, (struct hk_place){0}, "the search for the cheapest basket was cancelled");
        break;
    case HK_BASKET_FAILED:
        if (p->arena->out_of_memory)
            break;
        p->diags->machine = true; /* GLPK ran out of memory, or its answer failed the check */
        hk_diags_add(p->diags, HK_CODE_BASKET, (struct hk_place){0}, "the search for the cheapest basket failed%s", p->title);
        hk_diags_hint(p->diags, "more memory, fewer offers, or simpler amounts may do");
        break;
    }
}

/* ---- Lines and bills --------------------------------------------------------------------------------------------------- */

size_t hk_purchase_lots(const struct hk_purchase *p, size_t r)
{
    size_t lots = 0;
    for (size_t i = 0; i < p->eligible.count; i++) {
        const struct hk_eligible_offer *choice = &p->eligible.eligible[i];
        if (choice->role != r || p->found.balls[i] == 0)
            continue;
        bool known = false;
        for (size_t k = 0; k < i && *choice->lot; k++) {
            const struct hk_eligible_offer *other = &p->eligible.eligible[k];
            known |= other->role == r && p->found.balls[k] > 0 && hk_text_compare(other->lot, choice->lot) == 0;
        }
        lots += !known;
    }
    return lots;
}

int64_t hk_purchase_worth(const struct hk_purchase *p, size_t i, int64_t balls)
{
    const struct hk_eligible_offer *choice = &p->eligible.eligible[i];
    const struct hk_candidate *plan = hk_purchase_plan(p, choice->role);
    bool home = choice->seller == HK_SELLER_OWN;
    int64_t worth = HK_MONEY_MOST;
    if (!home)
        return hk_basket_goods(&p->eligible.offers[i], balls, &worth) ? worth : HK_MONEY_MOST;
    if (choice->value_minor >= 0)
        return hk_money_times(choice->value_minor, balls, &worth) ? worth : HK_MONEY_MOST;
    if (plan->price_minor < 0)
        return HK_NO_PRICE;
    double minor = (double)plan->price_minor * (double)balls * choice->put_up_g / p->project->yarns[plan->yarn].put_up_g;
    return minor < (double)HK_MONEY_MOST ? (int64_t)floor(minor * (1 + 1e-12) + 0.5) : HK_MONEY_MOST; /* half up */
}

void hk_purchase_price(const struct hk_purchase *p, size_t i, int64_t balls, int64_t *price_minor, int64_t *price_for)
{
    const struct hk_basket_offer *offer = &p->eligible.offers[i];
    *price_for = p->eligible.eligible[i].price_for;
    *price_minor = hk_basket_pack_minor(offer, balls) / (offer->pack / *price_for); /* exact: a pack is a multiple */
}

int64_t hk_purchase_home(const struct hk_purchase *p)
{
    int64_t sum = 0;
    for (size_t i = 0; i < p->eligible.count; i++) {
        int64_t worth =
            p->eligible.eligible[i].seller == HK_SELLER_OWN ? hk_purchase_worth(p, i, p->found.balls[i]) : 0;
        if (worth > 0 && !hk_money_add(&sum, worth))
            return HK_MONEY_MOST;
    }
    return sum;
}

bool hk_purchase_own_left(const struct hk_purchase *p, size_t r)
{
    bool left = false, others = false;
    for (size_t i = 0; i < p->eligible.count; i++) {
        if (p->eligible.eligible[i].role != r)
            continue;
        if (p->eligible.eligible[i].seller == HK_SELLER_OWN)
            left |= p->found.balls[i] < p->eligible.offers[i].stock;
        else
            others |= p->found.balls[i] > 0;
    }
    return left && others && !p->project->lots_may_mix;
}

/* Sets the lines. bought: by seller, set to whether something comes from it. */
static void fill_lines(const struct hk_purchase *p, bool *bought, struct hk_shop_size *shop_size)
{
    struct hk_shop_line *lines = hk_arena_take(p->arena, p->eligible.count + p->demand.count, sizeof *lines);
    size_t count = 0;
    for (size_t r = 0; r < p->demand.count && lines; r++) {
        const struct hk_yarn *yarn = hk_purchase_yarn(p, r);
        struct hk_shop_line line = {
            .role = hk_purchase_role(p, r), .yarn = yarn->name, .colour = hk_purchase_plan(p, r)->colour, .shop = "",
            .lot = "", .put_up_g = yarn->put_up_g, .put_up_m = yarn->length_m, .balls = p->unpriced_balls[r],
            .price_minor = HK_NO_PRICE, .price_for = 1, .cost_minor = HK_NO_PRICE, .worth_minor = HK_NO_PRICE,
        };
        if (p->eligible.unpriced[r])
            lines[count++] = line;
        for (size_t i = 0; i < p->eligible.count; i++) {
            const struct hk_eligible_offer *choice = &p->eligible.eligible[i];
            if (choice->role != r || p->found.balls[i] == 0)
                continue;
            bought[choice->seller] = true;
            line.colour = choice->colour;
            line.shop = p->project->sellers[choice->seller].name;
            line.lot = choice->lot;
            line.put_up_g = choice->put_up_g;
            line.put_up_m = choice->put_up_m;
            line.balls = p->found.balls[i];
            hk_purchase_price(p, i, line.balls, &line.price_minor, &line.price_for);
            hk_basket_goods(&p->eligible.offers[i], line.balls, &line.cost_minor); /* within range: it is in the basket */
            line.worth_minor = hk_purchase_worth(p, i, line.balls);
            lines[count++] = line;
        }
    }
    shop_size->lines = lines;
    shop_size->line_count = count;
}

void hk_purchase_fill(const struct hk_purchase *p, struct hk_shop_size *shop_size)
{
    struct hk_shop_bill *bills = hk_arena_take(p->arena, p->project->seller_count, sizeof *bills);
    bool *bought = hk_arena_take(p->arena, p->project->seller_count, sizeof *bought);
    if (!bills || !bought)
        return;
    fill_lines(p, bought, shop_size);
    for (size_t i = 0; i < p->project->seller_count; i++) { /* in the order of shops.csv; yarn at home first */
        if (!bought[i])
            continue;
        struct hk_shop_bill *bill = &bills[shop_size->bill_count++];
        *bill = (struct hk_shop_bill){
            .shop = p->project->sellers[i].name, .goods_minor = p->found.goods_minor[i],
            .postage_minor = p->found.postage_minor[i], .discount_minor = p->found.discount_minor[i],
        };
        bill->total_minor = bill->goods_minor + bill->postage_minor - bill->discount_minor;
        shop_size->goods_minor += bill->goods_minor;
        shop_size->postage_minor += bill->postage_minor;
        shop_size->discount_minor += bill->discount_minor;
    }
    shop_size->bills = bills;
    shop_size->total_minor = p->found.total_minor;
    shop_size->proven = p->found.proven;
    shop_size->gap = p->found.gap;
    shop_size->priced = true;
    for (size_t r = 0; r < p->demand.count; r++)
        shop_size->priced &= !p->eligible.unpriced[r];
}
