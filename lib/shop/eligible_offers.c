/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Selects the offers for a basket (hankful(1), FILES). A role never mixes colours, and mixes lots only if the project
 * allows it: both are part of the `lot` of the basket.
 */
#include "shop/eligible_offers.h"

#include "base/money.h"
#include "base/text.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

struct finding_offers {
    const struct hk_project *project;
    const struct hk_demand *demand;
    const char *title;
    struct hk_eligible_offers *eligible;
    struct hk_arena *arena;
    struct hk_diags *diags;
};

static const struct hk_candidate *plan_of(const struct hk_project *project, const struct hk_demand *demand, size_t r)
{
    return &project->candidates[project->roles[demand->roles[r].role].plan];
}

/*
 * ---- Finding offers
 * --------------------------------------------------------------------------------------------------
 */

/* Returns the price of a pack from the price of balls_each balls; one that is too large for money is never bought. */
static int64_t pack_minor_of(int64_t minor, int64_t pack, int64_t balls_each)
{
    int64_t pack_minor = HK_MONEY_MOST;
    return hk_money_times(minor, pack / balls_each, &pack_minor) ? pack_minor : HK_MONEY_MOST;
}

/* Returns the quantity prices of an offer for the basket; NULL if it has none, or when out of memory. */
static const struct hk_basket_tier *tiers_of(struct finding_offers *f, const struct hk_offer *offer)
{
    const struct hk_offer_price *price = &offer->price;
    if (price->from_count == 0)
        return NULL;
    struct hk_basket_tier *tiers = hk_arena_take(f->arena, price->from_count + 1, sizeof *tiers);
    for (size_t i = 0; tiers && i < price->from_count; i++)
        tiers[i] = (struct hk_basket_tier){price->from[i].from,
                                           pack_minor_of(price->from[i].minor, offer->pack, price->balls)};
    return tiers;
}

/* Adds an offer; basket: its pack, stock and prices. */
static bool add(struct finding_offers *f, struct hk_eligible_offer choice, struct hk_basket_offer basket)
{
    struct hk_eligible_offers *c = f->eligible;
    if (c->count == HK_OFFERS_MOST) {
        hk_diags_add(f->diags, HK_CODE_BASKET, hk_table_place(choice.cell.table), "more than %zu offers to choose from",
                     HK_OFFERS_MOST);
        hk_diags_hint(f->diags, "leave out those that are dearer than others of the same shop");
        return false;
    }
    c->eligible[c->count] = choice;
    basket.role = choice.role;
    basket.shop = choice.seller;
    basket.usable_g = choice.put_up_g - f->demand->roles[choice.role].join_g;
    c->offers[c->count] = basket;
    c->count++;
    return true;
}

static void report_too_small(struct finding_offers *f, const struct hk_offer *offer, double join_g)
{
    hk_diags_add(f->diags, HK_CODE_OFFER_SMALL, hk_cell_place(offer->cell, 0),
                 "balls of %s g are left out, since each join wastes %s g%s", hk_number_text(offer->put_up_g, 3).text,
                 hk_number_text(join_g, 3).text, f->title);
    hk_diags_hint(f->diags, "%s",
                  f->project->join_anywhere ? "a shorter tail would do" : "\"join,anywhere\" in project.csv would do");
}

static bool refuse_all(struct finding_offers *f, size_t r, const struct hk_offer *first, bool some_count)
{
    const struct hk_candidate *plan = plan_of(f->project, f->demand, r);
    const char *role = f->project->roles[plan->role].name, *yarn = f->project->yarns[plan->yarn].name;
    if (some_count) {
        hk_diags_add(f->diags, HK_CODE_OFFER_NONE, hk_cell_place(first->cell, 0),
                     "no ball on offer for %s is large enough%s", role, f->title);
        hk_diags_hint(f->diags, "an offer of a larger put_up would do");
        return false;
    }
    hk_diags_add(f->diags, HK_CODE_OFFER_NONE, hk_cell_place(first->cell, 0), "no offer for %s is of its yarn, %s%s%s",
                 role, yarn, *plan->colour ? ", in " : "", plan->colour);
    hk_diags_hint(f->diags, "add a row for it, or take the rows of %s out to buy at the price in yarns.csv", role);
    return false;
}

/* Returns true when yarns.csv lists the yarn for the role, as the plan or as a candidate. */
static bool listed(const struct hk_project *project, const struct hk_offer *offer)
{
    for (size_t i = 0; i < project->candidate_count; i++)
        if (hk_offer_counts(offer, &project->candidates[i]))
            return true;
    return false;
}

static bool colour_mistyped(const struct hk_offer *offer, const struct hk_candidate *plan)
{
    return *offer->colour && *plan->colour && hk_nearest_name(offer->colour, &plan->colour, 1) != HK_NO_NAME;
}

/* Reports a colour that is not in yarns.csv, since the offer would be ignored silently: it may be mistyped. */
static void report_other_colour(struct finding_offers *f, const struct hk_offer *offer, const struct hk_candidate *plan)
{
    const char *role = f->project->roles[plan->role].name;
    if (colour_mistyped(offer, plan)) {
        hk_diags_add(f->diags, HK_CODE_UNUSUAL, hk_cell_place(offer->cell, 0),
                     "the offer for %s in \"%s\" is passed over; did you mean \"%s\"?", role, offer->colour,
                     plan->colour);
        return;
    }
    hk_diags_add(f->diags, HK_CODE_ASSUMPTION, hk_cell_place(offer->cell, 0),
                 "offers for %s in another colour than %s are passed over; the first is in \"%s\"", role, plan->colour,
                 offer->colour);
    hk_diags_hint(f->diags, "if it is the same, write it as in yarns.csv");
}

/* Finds the offers of one role. *rows: offers.csv has rows for it. */
static bool find_offers(struct finding_offers *f, size_t r, bool *rows)
{
    const struct hk_candidate *plan = plan_of(f->project, f->demand, r);
    const struct hk_offer *first = NULL, *other = NULL;
    double join_g = f->demand->roles[r].join_g;
    size_t before = f->eligible->count;
    bool some_count = false;
    for (size_t i = 0; i < f->project->offer_count; i++) {
        const struct hk_offer *offer = &f->project->offers[i];
        if (offer->role != plan->role)
            continue;
        first = first ? first : offer;
        if (!hk_offer_counts(offer, plan)) {
            if (offer->yarn == plan->yarn && !listed(f->project, offer) &&
                (!other || (colour_mistyped(offer, plan) && !colour_mistyped(other, plan))))
                other = offer;
            continue;
        }
        some_count = true;
        if (!(offer->put_up_g > join_g)) {
            report_too_small(f, offer, join_g);
            continue;
        }
        struct hk_eligible_offer choice = {.role = r,
                                           .seller = offer->shop,
                                           .colour = offer->colour,
                                           .lot = offer->lot,
                                           .put_up_g = offer->put_up_g,
                                           .put_up_m = offer->length_m,
                                           .price_for = offer->price.balls,
                                           .value_minor = offer->value_minor,
                                           .cell = offer->cell};
        if (*plan->colour)
            choice.colour = plan->colour;
        struct hk_basket_offer basket = {
            .pack = offer->pack,
            .stock = offer->stock,
            .pack_minor = pack_minor_of(offer->price.minor, offer->pack, offer->price.balls),
            .tiers = tiers_of(f, offer),
        };
        if (!add(f, choice, basket))
            return false;
    }
    *rows = first;
    if (other && f->eligible->count > before)
        report_other_colour(f, other, plan);
    return !first || f->eligible->count > before || refuse_all(f, r, first, some_count);
}

/* Adds the price in yarns.csv, for a role without rows in offers.csv. */
static bool find_price(struct finding_offers *f, size_t r)
{
    const struct hk_candidate *plan = plan_of(f->project, f->demand, r);
    const struct hk_yarn *yarn = &f->project->yarns[plan->yarn];
    f->eligible->unpriced[r] = plan->price_minor < 0;
    struct hk_eligible_offer choice = {.role = r,
                                       .seller = HK_SELLER_PRICE,
                                       .colour = plan->colour,
                                       .lot = "",
                                       .put_up_g = yarn->put_up_g,
                                       .put_up_m = yarn->length_m,
                                       .price_for = 1,
                                       .cell = plan->price_cell};
    struct hk_basket_offer basket = {.pack = 1, .stock = -1, .pack_minor = plan->price_minor};
    return f->eligible->unpriced[r] || add(f, choice, basket);
}

/* Sets the metres of a ball by the yarn's label if the offer states none. */
static void fill_length(struct finding_offers *f, struct hk_eligible_offer *choice)
{
    const struct hk_yarn *yarn = &f->project->yarns[plan_of(f->project, f->demand, choice->role)->yarn];
    if (!(choice->put_up_m > 0))
        choice->put_up_m = choice->put_up_g * yarn->length_m / yarn->put_up_g;
}

/*
 * ---- Lots and colours
 * ------------------------------------------------------------------------------------------------
 */

/* Returns true when two offers are equal except for their lots. */
static bool alike(const struct hk_eligible_offers *c, const struct hk_eligible_offer *a,
                  const struct hk_eligible_offer *b)
{
    return a->role == b->role && hk_text_compare(a->colour, b->colour) == 0 &&
           (!c->put_ups_apart || a->put_up_g == b->put_up_g);
}

/* An offer with the key of the offers that a role may combine with it. */
struct together {
    size_t role, index;
    const char *colour, *lot;
    double put_up_g; /* 0 if balls of any size may be combined */
};

static int by_lot(const void *a, const void *b)
{
    const struct together *x = a, *y = b;
    int colours = hk_text_compare(x->colour, y->colour), lots = hk_text_compare(x->lot, y->lot);
    if (x->role != y->role)
        return x->role < y->role ? -1 : 1;
    if (colours || lots)
        return colours ? colours : lots;
    return (x->put_up_g > y->put_up_g) - (x->put_up_g < y->put_up_g);
}

static int by_lot_and_place(const void *a, const void *b)
{
    const struct together *x = a, *y = b;
    int order = by_lot(a, b);
    return order ? order : (x->index > y->index) - (x->index < y->index);
}

/* Numbers the lots by their first offer. An offer without a lot is a lot of its own. */
static void number_lots(const struct hk_project *project, struct hk_eligible_offers *c, struct hk_arena *arena)
{
    struct hk_arena scratch = {0};
    struct together *sorted = hk_arena_take(&scratch, c->count, sizeof *sorted);
    for (size_t i = 0; sorted && i < c->count; i++) {
        const struct hk_eligible_offer *choice = &c->eligible[i];
        sorted[i] = (struct together){choice->role, i, choice->colour, project->lots_may_mix ? "" : choice->lot,
                                      c->put_ups_apart ? choice->put_up_g : 0};
    }
    if (sorted && c->count)
        qsort(sorted, c->count, sizeof *sorted, by_lot_and_place);
    for (size_t i = 0, first = 0; sorted && i < c->count; i++) {
        bool unnamed = !project->lots_may_mix && *sorted[i].lot == '\0';
        first = unnamed || by_lot(&sorted[first], &sorted[i]) != 0 ? i : first;
        c->offers[sorted[i].index].lot = sorted[first].index;
    }
    arena->out_of_memory |= scratch.out_of_memory;
    hk_arena_free(&scratch);
}

bool hk_eligible_offers_find(const struct hk_project *project, const struct hk_demand *demand, const char *title,
                             struct hk_eligible_offers *eligible, struct hk_arena *arena, struct hk_diags *diags)
{
    size_t most = project->offer_count + demand->count;
    most = most < HK_OFFERS_MOST ? most : HK_OFFERS_MOST;
    *eligible = (struct hk_eligible_offers){
        .eligible = hk_arena_take(arena, most, sizeof *eligible->eligible),
        .offers = hk_arena_take(arena, most, sizeof *eligible->offers),
        .unpriced = hk_arena_take(arena, demand->count, sizeof *eligible->unpriced),
        .put_ups_apart = eligible->put_ups_apart,
    };
    struct finding_offers f = {project, demand, title, eligible, arena, diags};
    bool good = !arena->out_of_memory;
    for (size_t r = 0; r < demand->count && !arena->out_of_memory; r++) {
        bool rows = false, found = find_offers(&f, r, &rows);
        eligible->from_offers |= rows;
        good &= found && (rows || find_price(&f, r));
    }
    for (size_t i = 0; i < eligible->count; i++)
        fill_length(&f, &eligible->eligible[i]);
    number_lots(project, eligible, arena);
    return good && !arena->out_of_memory;
}

/*
 * ---- Missing yarn
 * ----------------------------------------------------------------------------------------------------
 */

/* Returns true when offers of the role that differ only in their lots would be enough together. */
static bool mixing_lots_fills(const struct hk_eligible_offers *c, const struct hk_basket_problem *problem, size_t r)
{
    for (size_t i = 0; i < c->count; i++) {
        double sum_g = 0;
        for (size_t k = 0; k < c->count && c->eligible[i].role == r; k++) {
            if (!alike(c, &c->eligible[i], &c->eligible[k]))
                continue;
            int64_t packs = c->offers[k].stock < 0 ? INT64_MAX : c->offers[k].stock / c->offers[k].pack;
            sum_g += packs == INT64_MAX ? HUGE_VAL : (double)(packs * c->offers[k].pack) * c->offers[k].usable_g;
        }
        if (sum_g >= problem->roles[r].needed_g)
            return true;
    }
    return false;
}

/*
 * Returns the offer of a role (in a lot, unless SIZE_MAX) with the most usable grams per ball. *balls: the balls of it
 * that cover the missing mass.
 */
static const struct hk_eligible_offer *largest(const struct hk_eligible_offers *c, size_t r, size_t lot,
                                               double missing_g, double *balls)
{
    size_t best = SIZE_MAX;
    for (size_t i = 0; i < c->count; i++) {
        if (c->eligible[i].role != r || (lot != SIZE_MAX && c->offers[i].lot != lot))
            continue;
        if (best == SIZE_MAX || c->offers[i].usable_g > c->offers[best].usable_g)
            best = i;
    }
    *balls = fmax(1, ceil(missing_g / c->offers[best].usable_g));
    return &c->eligible[best];
}

/* Rounds to three digits, or to whole grams from 1000 g on. */
static double shown_g(double mass_g)
{
    double step_g = fmin(1, pow(10, floor(log10(mass_g)) - 2));
    return mass_g > 0 ? round(mass_g / step_g) * step_g : 0;
}

static void report_short(const struct hk_project *project, const struct hk_demand *demand,
                         const struct hk_eligible_offers *c, const struct hk_basket_lack *lack, const char *title,
                         struct hk_diags *diags)
{
    double balls;
    const struct hk_eligible_offer *choice = largest(c, lack->role, SIZE_MAX, lack->missing_g, &balls);
    const char *role = project->roles[demand->roles[lack->role].role].name;
    if (lack->missing_g > 0)
        hk_diags_add(diags, HK_CODE_STOCK_SHORT, hk_cell_place(choice->cell, 0),
                     "all that is on offer for %s together is %s g short%s", role,
                     hk_number_text(shown_g(lack->missing_g), 10).text, title);
    else
        hk_diags_add(diags, HK_CODE_STOCK_SHORT, hk_cell_place(choice->cell, 0), "of %s not one ball is in stock%s",
                     role, title);
    hk_diags_hint(diags, "%.0f %s of %s g more would do", balls, balls > 1 ? "balls" : "ball",
                  hk_number_text(choice->put_up_g, 4).text);
}

static void report_lots(const struct hk_project *project, const struct hk_demand *demand,
                        const struct hk_eligible_offers *c, const struct hk_basket_problem *problem,
                        const struct hk_basket_lack *lack, const char *title, struct hk_diags *diags)
{
    double balls;
    const struct hk_eligible_offer *choice = largest(c, lack->role, lack->lot, lack->missing_g, &balls);
    const char *role = project->roles[demand->roles[lack->role].role].name;
    bool lots = !project->lots_may_mix && mixing_lots_fills(c, problem, lack->role);
    const char *name = lots ? choice->lot : choice->colour;
    hk_diags_add(diags, HK_CODE_STOCK_LOTS, hk_cell_place(choice->cell, 0),
                 "no single %s on offer%s holds enough %s%s: the one that holds most%s%s%s is %s g short",
                 lots ? "lot" : "colour", c->put_ups_apart ? ", in balls of one size," : "", role, title,
                 *name ? " (" : "", name, *name ? ")" : "", hk_number_text(shown_g(lack->missing_g), 10).text);
    hk_diags_hint(diags, "%.0f %s of %s g more in it%s would do", balls, balls > 1 ? "balls" : "ball",
                  hk_number_text(choice->put_up_g, 4).text, lots ? ", or \"lots,may mix\" in project.csv," : "");
}

void hk_eligible_offers_lacking(const struct hk_project *project, const struct hk_demand *demand,
                                const struct hk_eligible_offers *eligible, const struct hk_basket_problem *problem,
                                const struct hk_basket *basket, const char *title, struct hk_diags *diags)
{
    for (size_t i = 0; i < basket->lack_count; i++) {
        const struct hk_basket_lack *lack = &basket->lacks[i];
        if (lack->lots)
            report_lots(project, demand, eligible, problem, lack, title, diags);
        else
            report_short(project, demand, eligible, lack, title, diags);
    }
}
