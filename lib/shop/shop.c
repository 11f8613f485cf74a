/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The shopping plan, for one size or for all together: the demand of the garments (demand.h), the amount that is
 * enough, the cheapest order of it (purchase.h), and the effect of a ball more or fewer. A role whose yarn has no price
 * has balls but no cost.
 */
#include "shop/shop.h"

#include "base/diags.h"
#include "base/money.h"
#include "model/chance.h"
#include "model/predict.h"
#include "need/balls.h"
#include "need/walk.h"
#include "shop/notions.h"
#include "shop/purchase.h"
#include "shop/order_quantity.h"

#include <gsl/gsl_math.h>
#include <stdlib.h>

#define STEPS_EACH_WAY 2
#define DEFAULT_SECONDS 10
/*
 * For balls with few rows: the limit of searches with a raised need, and the grams by which it exceeds the last basket.
 */
#define RAISED_MOST 10
#define RAISED_G 1e-3

struct planning {
    struct hk_shopped *shopped;
    const struct hk_needed *needed;
    const struct hk_project *project;
    struct hk_shop_options options;
    struct hk_diags *diags;
    bool *said; /* by role: the missing price has been reported */
    struct hk_watching watching;
};

/* A basket under construction. */
struct basket {
    struct planning *p;
    struct hk_purchase buy;
    double *enough_g; /* by role of the demand: the required mass, swatches included */
    struct hk_shop_role *roles;
    struct hk_walk *walks; /* by role of the demand: its rows; none if not walked */
    struct hk_pile *piles; /* room for the balls of one role, by offer */
};

/* ---- The value of some balls ----------------------------------------------------------------------------------- */

/* The number and mass of balls of a role. */
struct pile {
    int64_t balls;
    double mass_g;
};

static struct pile pile_of(const struct basket *b, const int64_t *balls, size_t r)
{
    int64_t unpriced = b->buy.unpriced_balls[r];
    struct pile pile = {unpriced, (double)unpriced * hk_purchase_yarn(&b->buy, r)->put_up_g};
    for (size_t i = 0; i < b->buy.eligible.count; i++) {
        if (b->buy.eligible.eligible[i].role != r)
            continue;
        pile.balls += balls[i];
        pile.mass_g += (double)balls[i] * b->buy.eligible.eligible[i].put_up_g;
    }
    return pile;
}

/* Returns the mass usable for the garments: less a join for each ball after the first, and less the swatches. */
static double left_for_garments_g(const struct hk_demand_role *role, struct pile pile)
{
    return pile.mass_g - (double)(pile.balls - 1) * role->join_g - role->swatch_use_g;
}

/* Returns ln of the ratio of this mass to the likely mass. */
static double ln_limit(const struct hk_demand_role *role, struct pile pile)
{
    double usable_g = left_for_garments_g(role, pile);
    return usable_g > 0 ? log(usable_g / role->likely_g) : -HUGE_VAL;
}

/*
 * Returns E max(0, u - M) for ln M ~ N(ln m, s^2), in grams: u P(M <= u) - E[M; M <= u], where the last term is m
 * exp(s^2 / 2) Phi(ln(u / m) / s - s) (partial expectation of the log-normal; any text on it).
 */
static double expected_over_g(const struct hk_demand_role *role, struct pile pile)
{
    double usable_g = left_for_garments_g(role, pile), s = role->spread;
    if (!(usable_g > 0))
        return 0;
    if (!(s > 0))
        return fmax(0, usable_g - role->likely_g);
    double z = ln_limit(role, pile) / s;
    return fmax(0, usable_g * hk_normal_chance(z) - role->likely_g * exp(s * s / 2) * hk_normal_chance(z - s));
}

/*
 * Sets margin = (bought - joins) / likely - 1 and left over = max(0, bought - joins - likely) / g; likely includes
 * swatches.
 */
static void weigh_pile(const struct hk_demand_role *role, struct pile pile, struct hk_shop_step *step)
{
    double usable_g = pile.mass_g - (double)(pile.balls - 1) * role->join_g,
           likely_g = role->likely_g + role->swatch_use_g;
    step->balls = pile.balls;
    step->margin = usable_g / likely_g - 1;
    step->left_over_m = fmax(0, usable_g - likely_g) / role->g_m;
    step->expected_left_over_m = expected_over_g(role, pile) / role->g_m;
}

/* Returns true when all balls of a role hold few rows. */
static bool is_walked(const struct basket *b, size_t r)
{
    bool walked = hk_walk_wanted(&b->walks[r], hk_purchase_yarn(&b->buy, r)->put_up_g);
    for (size_t i = 0; i < b->buy.eligible.count && walked; i++)
        walked =
            b->buy.eligible.eligible[i].role != r || hk_walk_wanted(&b->walks[r], b->buy.eligible.eligible[i].put_up_g);
    return walked;
}

/*
 * Returns the chance that the balls of a role are enough, by the mean loss of a join or by walking row by row. balls:
 * by offer.
 */
static double chance_of(const struct basket *b, const int64_t *balls, size_t r, struct pile pile)
{
    const struct hk_demand_role *role = &b->buy.demand.roles[r];
    double chance = hk_chance_within(ln_limit(role, pile), role->spread);
    if (!is_walked(b, r))
        return chance;
    size_t count = 0;
    if (b->buy.eligible.unpriced[r])
        b->piles[count++] = (struct hk_pile){pile.balls, hk_purchase_yarn(&b->buy, r)->put_up_g};
    for (size_t i = 0; i < b->buy.eligible.count; i++) /* no offers if unpriced */
        if (b->buy.eligible.eligible[i].role == r)
            b->piles[count++] = (struct hk_pile){balls[i], b->buy.eligible.eligible[i].put_up_g};
    b->buy.arena->out_of_memory |=
        !hk_walk_chance(&b->walks[r], b->piles, count, role->swatch_use_g, role->spread, &chance);
    return chance;
}

/* ---- How much is enough -------------------------------------------------------------------------------------------- */

/* Returns the price of one ball of an offer where this number is bought; not rounded. */
static double ball_price(const struct hk_basket_offer *offer, int64_t balls)
{
    return (double)hk_basket_pack_minor(offer, balls) / (double)offer->pack;
}

/*
 * Returns the offer with the least price per gram, at the number of balls that is enough; the first of equals; SIZE_MAX
 * if no offer has a price above 0.
 */
static size_t cheapest_choice(const struct basket *b, size_t r)
{
    size_t best = SIZE_MAX;
    double best_price = HUGE_VAL;
    for (size_t i = 0; i < b->buy.eligible.count; i++) {
        const struct hk_basket_offer *offer = &b->buy.eligible.offers[i];
        const struct hk_eligible_offer *choice = &b->buy.eligible.eligible[i];
        int64_t balls = 1;
        hk_balls_needed(b->enough_g[r], choice->put_up_g, b->buy.demand.roles[r].join_g, &balls);
        double price = ball_price(offer, balls) / offer->usable_g;
        if (choice->role != r || choice->seller == HK_SELLER_OWN || !(price < best_price))
            continue;
        best = i;
        best_price = price;
    }
    return best;
}

/* Balls of one offer for a role: P(D <= n), by walking row by row if each holds few rows. */
struct balls_of {
    const struct basket *basket;
    size_t role;
    struct hk_ball_demand demand;
};

static double balls_chance(const void *context, int64_t n)
{
    const struct balls_of *of = context;
    const struct basket *b = of->basket;
    double chance = hk_ball_chance(&of->demand, n);
    struct hk_pile pile = {n, of->demand.put_up_g};
    if (n > 0 && is_walked(b, of->role))
        b->buy.arena->out_of_memory |=
            !hk_walk_chance(&b->walks[of->role], &pile, 1, of->demand.swatch_use_g, of->demand.spread, &chance);
    return chance;
}

/* Finds the number of least expected cost; if walked, up to the number that is enough at HK_ORDER_CHANCE_MOST. */
static bool least_balls(const struct balls_of *of, const struct hk_order_costs *costs, int64_t *n)
{
    if (!hk_order_balls(&of->demand, costs, n))
        return false;
    struct hk_count_demand demand = {balls_chance, of, 0};
    if (!is_walked(of->basket, of->role) ||
        !hk_balls_needed(hk_order_most_g(&of->demand), of->demand.put_up_g, of->demand.join_g, &demand.most))
        return true;
    for (int64_t most = 2 * demand.most; demand.most < most && balls_chance(of, demand.most) < HK_ORDER_CHANCE_MOST;)
        demand.most++;
    int64_t least = 0;
    if (hk_order_least_cost(&demand, costs, &least))
        *n = least > 1 ? least : 1;
    return true;
}

/* Returns the quantity prices of an offer, of one ball each; NULL if it has none, or when out of memory. */
static const struct hk_order_tier *order_tiers(struct basket *b, const struct hk_basket_offer *offer)
{
    size_t count = 0;
    while (offer->tiers && offer->tiers[count].from)
        count++;
    struct hk_order_tier *tiers = count ? hk_arena_take(b->buy.arena, count + 1, sizeof *tiers) : NULL;
    for (size_t i = 0; i < count && tiers; i++)
        tiers[i] = (struct hk_order_tier){offer->tiers[i].from, ball_price(offer, offer->tiers[i].from)};
    return tiers;
}

/*
 * If running short has a cost: finds the number of balls of least expected cost, for the offer with the least price per
 * gram. The basket must hold at least this mass, in any put-ups, limited to the mass that is enough at
 * HK_ORDER_CHANCE_MOST.
 */
static bool least_cost(struct basket *b, size_t r)
{
    const struct hk_project *project = b->p->project;
    size_t i = project->short_cost_minor >= 0 && !b->p->options.by_chance ? cheapest_choice(b, r) : SIZE_MAX;
    if (i == SIZE_MAX)
        return true;
    const struct hk_basket_offer *offer = &b->buy.eligible.offers[i];
    double price = ball_price(offer, 1);
    const struct hk_demand_role *role = &b->buy.demand.roles[r];
    const struct balls_of of = {
        b, r, {role->likely_g, role->spread, b->buy.eligible.eligible[i].put_up_g, role->join_g, role->swatch_use_g}};
    bool walked = is_walked(b, r);
    const struct hk_order_costs costs = {.price = price, .short_once = (double)project->short_cost_minor,
                                         .spare = project->spare_worth * price, .tiers = order_tiers(b, offer)};
    int64_t n;
    if (!least_balls(&of, &costs, &n))
        return false;
    const struct hk_count_demand demand = {balls_chance, &of, n + 1};
    double cost = hk_order_cost(&demand, &costs, n);
    b->enough_g[r] = hk_balls_usable_g(n, of.demand.put_up_g, of.demand.join_g);
    if (!walked)
        b->enough_g[r] = fmin(b->enough_g[r], hk_order_most_g(&of.demand));
    b->roles[r].basis = HK_SHOP_BASIS_LEAST_COST;
    b->roles[r].reason = (struct hk_shop_reason){
        .balls = n,
        .put_up_g = of.demand.put_up_g,
        .fewer_minor = n > 1 ? hk_order_cost(&demand, &costs, n - 1) - cost : HUGE_VAL,
        .more_minor = hk_order_cost(&demand, &costs, n + 1) - cost,
        .short_chance = 1 - balls_chance(&of, n),
        .short_chance_fewer = 1 - balls_chance(&of, n - 1),
        .spare_chance_more = balls_chance(&of, n),
    };
    hk_purchase_price(&b->buy, i, n, &b->roles[r].reason.price_minor, &b->roles[r].reason.price_for);
    return true;
}

static void warn_without_price(struct basket *b, size_t r)
{
    bool *said = &b->p->said[b->buy.demand.roles[r].role];
    if (*said || b->p->options.unpriced_silent)
        return;
    *said = true;
    hk_diags_add(b->p->diags, HK_CODE_PRICE_MISSING, hk_cell_place(hk_purchase_plan(&b->buy, r)->price_cell, 0),
                 "%s, the yarn of %s, has no price, so its cost is left out", hk_purchase_yarn(&b->buy, r)->name,
                 hk_purchase_role(&b->buy, r));
    hk_diags_hint(b->p->diags, "state the price of one ball in the column price");
}

static bool refuse_count(struct basket *b, size_t r)
{
    hk_diags_add(b->p->diags, HK_CODE_COUNT_TOO_LARGE, hk_cell_place(hk_purchase_yarn(&b->buy, r)->cell, 0),
                 "it takes more balls of %s than can be counted%s", hk_purchase_yarn(&b->buy, r)->name, b->buy.title);
    hk_diags_hint(b->p->diags, "check put_up, stitches, rows and times");
    return false;
}

static bool set_needs(struct basket *b)
{
    bool good = true;
    for (size_t r = 0; r < b->buy.demand.count; r++) {
        const struct hk_demand_role *role = &b->buy.demand.roles[r];
        b->roles[r].basis = b->p->needed->face.margin >= 0 ? HK_SHOP_BASIS_MARGIN : HK_SHOP_BASIS_CHANCE;
        b->enough_g[r] = role->enough_g + role->swatch_use_g;
        if (b->buy.eligible.unpriced[r]) {
            warn_without_price(b, r);
            if (!hk_balls_needed(b->enough_g[r], hk_purchase_yarn(&b->buy, r)->put_up_g, role->join_g,
                                 &b->buy.unpriced_balls[r]))
                good = refuse_count(b, r);
        } else if (!least_cost(b, r)) {
            good = refuse_count(b, r);
        }
        b->buy.roles[r].needed_g = b->enough_g[r] - role->join_g;
    }
    return good;
}

/* ---- One ball more or fewer ------------------------------------------------------------------------------------------ */

/* Returns true when the role may have one more (way 1) or one fewer (way -1) pack of offer i. */
static bool may_change(const struct basket *b, const int64_t *balls, size_t r, size_t i, int way)
{
    const struct hk_basket_offer *offer = &b->buy.eligible.offers[i];
    if (b->buy.eligible.eligible[i].role != r)
        return false;
    if (way < 0)
        return balls[i] >= offer->pack && pile_of(b, balls, r).balls > offer->pack;
    if (offer->stock >= 0 && offer->stock - balls[i] < offer->pack)
        return false;
    for (size_t k = 0; k < b->buy.eligible.count; k++) {
        if (b->buy.eligible.eligible[k].role == r && balls[k] > 0 && b->buy.eligible.offers[k].lot != offer->lot)
            return false;
    }
    return true;
}

/* One pack of offer i more or fewer, and the total then. */
struct change {
    size_t i;
    int64_t total_minor;
};

/*
 * Returns true when change a is better than the other. Both ways: the one of fewer balls, as close to one ball as
 * possible. Fewer: keep balls at home, since removing them saves nothing; then the least mass, which leaves the highest
 * chance; then the cheapest basket. More: the cheapest basket, then the most mass. Of equals the first listed.
 */
static bool is_better(const struct basket *b, int way, struct change a, struct change than)
{
    const struct hk_basket_offer *offers = b->buy.eligible.offers;
    const struct hk_eligible_offer *eligible = b->buy.eligible.eligible;
    double mass_g = eligible[a.i].put_up_g, than_g = eligible[than.i].put_up_g;
    bool own = eligible[a.i].seller == HK_SELLER_OWN, than_own = eligible[than.i].seller == HK_SELLER_OWN;
    if (offers[a.i].pack != offers[than.i].pack)
        return offers[a.i].pack < offers[than.i].pack;
    if (way < 0 && own != than_own)
        return than_own;
    if (way < 0 && mass_g != than_g)
        return mass_g < than_g;
    if (a.total_minor != than.total_minor)
        return a.total_minor < than.total_minor;
    return way > 0 && mass_g > than_g;
}

/* Changes `balls` by the best pack. Returns its offer; SIZE_MAX if none may be changed. */
static size_t change_one(struct basket *b, int64_t *balls, size_t r, int way, int64_t *total_minor)
{
    struct change best = {.i = SIZE_MAX};
    struct hk_arena scratch = {0};
    const struct hk_basket_problem problem = hk_purchase_problem(&b->buy);
    for (size_t i = 0; i < b->buy.eligible.count; i++) {
        struct hk_basket counted;
        if (!may_change(b, balls, r, i, way))
            continue;
        int64_t change = way * b->buy.eligible.offers[i].pack;
        balls[i] += change;
        bool known = hk_basket_recount(&problem, balls, &counted, &scratch);
        balls[i] -= change;
        if (known && (best.i == SIZE_MAX || is_better(b, way, (struct change){i, counted.total_minor}, best)))
            best = (struct change){i, counted.total_minor};
    }
    b->buy.arena->out_of_memory |= scratch.out_of_memory;
    hk_arena_free(&scratch);
    if (best.i != SIZE_MAX)
        balls[best.i] += way * b->buy.eligible.offers[best.i].pack;
    *total_minor = best.total_minor;
    return best.i;
}

/* Computes up to two steps away from the basket in one direction; steps[0] is the nearest. Returns their number. */
static size_t walk(struct basket *b, size_t r, int way, struct hk_shop_step *steps)
{
    int64_t *balls = hk_arena_take(b->buy.arena, b->buy.eligible.count, sizeof *balls);
    size_t count = 0;
    for (size_t i = 0; i < b->buy.eligible.count && balls; i++)
        balls[i] = b->buy.found.balls[i];
    while (balls && count < STEPS_EACH_WAY) {
        int64_t total_minor = 0;
        size_t changed = change_one(b, balls, r, way, &total_minor);
        if (changed == SIZE_MAX)
            break;
        const struct hk_eligible_offer *choice = &b->buy.eligible.eligible[changed];
        steps[count] = (struct hk_shop_step){.cost_minor = total_minor, .put_up_g = choice->put_up_g, .lot = choice->lot,
                                             .shop = b->p->project->sellers[choice->seller].name};
        weigh_pile(&b->buy.demand.roles[r], pile_of(b, balls, r), &steps[count]);
        steps[count].chance = chance_of(b, balls, r, pile_of(b, balls, r));
        count++;
    }
    return count;
}

/* The same for a role without a price, with its single put-up and no cost. */
static size_t walk_unpriced(struct basket *b, size_t r, int way, struct hk_shop_step *steps)
{
    size_t count = 0;
    for (int64_t k = 1; k <= STEPS_EACH_WAY && b->buy.unpriced_balls[r] + way * k >= 1; k++) {
        int64_t balls = b->buy.unpriced_balls[r] + way * k;
        double put_up_g = hk_purchase_yarn(&b->buy, r)->put_up_g;
        steps[count] = (struct hk_shop_step){.cost_minor = HK_NO_PRICE, .shop = "", .lot = "", .put_up_g = put_up_g};
        weigh_pile(&b->buy.demand.roles[r], (struct pile){balls, (double)balls * put_up_g}, &steps[count]);
        steps[count].chance = chance_of(b, b->buy.found.balls, r, (struct pile){balls, (double)balls * put_up_g});
        count++;
    }
    return count;
}

static void fill_steps(struct basket *b, size_t r, const struct hk_shop_step *taken)
{
    struct hk_shop_step *steps = hk_arena_take(b->buy.arena, 2 * STEPS_EACH_WAY + 1, sizeof *steps);
    struct hk_shop_step fewer[STEPS_EACH_WAY], more[STEPS_EACH_WAY];
    bool unpriced = b->buy.eligible.unpriced[r];
    size_t below = unpriced ? walk_unpriced(b, r, -1, fewer) : walk(b, r, -1, fewer);
    size_t above = unpriced ? walk_unpriced(b, r, 1, more) : walk(b, r, 1, more);
    if (!steps)
        return;
    for (size_t i = 0; i < below; i++)
        steps[below - 1 - i] = fewer[i];
    steps[below] = *taken;
    for (size_t i = 0; i < above; i++)
        steps[below + 1 + i] = more[i];
    b->roles[r].steps = steps;
    b->roles[r].step_count = below + 1 + above;
}

/* ---- The answer ------------------------------------------------------------------------------------------------------ */

static void fill_role(struct basket *b, size_t r)
{
    const struct hk_demand_role *role = &b->buy.demand.roles[r];
    struct pile pile = pile_of(b, b->buy.found.balls, r);
    struct hk_shop_step taken = {.cost_minor = b->buy.eligible.unpriced[r] ? HK_NO_PRICE : b->buy.found.total_minor};
    weigh_pile(role, pile, &taken);
    taken.chance = chance_of(b, b->buy.found.balls, r, pile);
    struct hk_shop_role *bought = &b->roles[r];
    bought->role = hk_purchase_role(&b->buy, r);
    bought->need_g = b->enough_g[r];
    bought->likely_g = role->likely_g + role->swatch_use_g;
    bought->swatch_use_g = role->swatch_use_g;
    bought->bought_g = pile.mass_g;
    bought->joins_g = (double)(pile.balls - 1) * role->join_g;
    bought->chance = taken.chance;
    bought->margin = taken.margin;
    bought->left_over_m = taken.left_over_m;
    bought->deviation_m = role->likely_g * role->spread / role->g_m;
    bought->lots = b->buy.eligible.unpriced[r] ? 1 : hk_purchase_lots(&b->buy, r);
    bought->own_left = !b->buy.eligible.unpriced[r] && hk_purchase_own_left(&b->buy, r);
    fill_steps(b, r, &taken);
}

/* Computes the chance that every yarn is enough. */
static bool joint_chance(struct basket *b, double *chance)
{
    double *limits = hk_arena_take(b->buy.arena, b->buy.demand.count, sizeof *limits);
    if (!limits)
        return false;
    for (size_t r = 0; r < b->buy.demand.count; r++)
        limits[r] = is_walked(b, r) ? b->buy.demand.roles[r].spread * hk_normal_limit(b->roles[r].chance)
                                    : ln_limit(&b->buy.demand.roles[r], pile_of(b, b->buy.found.balls, r));
    *chance = 1;
    if (b->buy.demand.count == 0 || hk_joint_chance(b->buy.demand.count, limits, b->buy.demand.covariance, chance))
        return true;
    b->buy.arena->out_of_memory = true; /* the matrix is a covariance, so the only failure is memory */
    return false;
}

static void fill_answer(struct basket *b, struct hk_shop_size *shop_size)
{
    hk_purchase_fill(&b->buy, shop_size);
    for (size_t r = 0; r < b->buy.demand.count; r++)
        fill_role(b, r);
    shop_size->roles = b->roles;
    shop_size->role_count = b->buy.demand.count;
    joint_chance(b, &shop_size->chance_all);
}

/* Raises the balls of roles without a price, which are not in the basket, to the number that is enough by walking. */
static void raise_unpriced(struct basket *b)
{
    double asked = b->p->needed->face.chance;
    for (size_t r = 0; r < b->buy.demand.count; r++) {
        if (!b->buy.eligible.unpriced[r] || b->roles[r].basis != HK_SHOP_BASIS_CHANCE || !is_walked(b, r))
            continue;
        for (int again = 0; again < RAISED_MOST; again++) {
            if (chance_of(b, b->buy.found.balls, r, pile_of(b, b->buy.found.balls, r)) >= asked)
                break;
            b->buy.unpriced_balls[r]++;
        }
    }
}

/*
 * The basket assumes the mean loss of a join. If that is too low for balls with few rows, its need is raised until the
 * walked chance is enough or the stock ends; then the last basket is kept, with its chance.
 */
static enum hk_basket_answer solve(struct basket *b)
{
    enum hk_basket_answer answer = hk_purchase_solve(&b->buy);
    for (int again = 0; answer == HK_BASKET_FOUND && again < RAISED_MOST; again++) {
        struct hk_basket before = b->buy.found;
        bool raised = false;
        for (size_t r = 0; r < b->buy.demand.count; r++) {
            struct pile pile = pile_of(b, b->buy.found.balls, r);
            if (b->roles[r].basis != HK_SHOP_BASIS_CHANCE || b->buy.eligible.unpriced[r] || !is_walked(b, r) ||
                chance_of(b, b->buy.found.balls, r, pile) >= b->p->needed->face.chance)
                continue;
            b->buy.roles[r].needed_g = pile.mass_g - (double)pile.balls * b->buy.demand.roles[r].join_g + RAISED_G;
            raised = true;
        }
        if (!raised)
            return answer;
        enum hk_basket_answer raised_answer = hk_purchase_solve(&b->buy);
        if (raised_answer == HK_BASKET_CANCELLED)
            return raised_answer;
        if (raised_answer != HK_BASKET_FOUND) {
            b->buy.found = before;
            return answer;
        }
    }
    return answer;
}

/*
 * ---- The whole plan
 * ---------------------------------------------------------------------------------------------------
 */

/* Returns the name of several sizes: "S + M + L". */
static const char *sizes_name(struct planning *p, size_t first, size_t last)
{
    const char *name = p->project->sizes[first];
    for (size_t i = first + 1; i <= last && name; i++)
        name = hk_arena_print(&p->shopped->arena, "%s + %s", name, p->project->sizes[i]);
    return name ? name : "";
}

/* Returns the size for messages, if the project has several sizes. */
static const char *title_of(struct planning *p, const struct hk_shop_size *shop_size)
{
    const char *title = "";
    if (p->project->size_count > 1)
        title = hk_arena_print(&p->shopped->arena, " in size %s", shop_size->size);
    if (p->options.times > 1 && title)
        title = hk_arena_print(&p->shopped->arena, "%s, %lld times", title, (long long)p->options.times);
    return title ? title : "";
}

/* Plans sizes first to last in one basket. */
static void fill_size(struct planning *p, size_t first, size_t last, struct hk_shop_size *shop_size)
{
    struct hk_arena *arena = &p->shopped->arena;
    *shop_size = (struct hk_shop_size){.size = sizes_name(p, first, last), .times = p->options.times};
    struct basket b = {.p = p, .buy = {.project = p->project, .title = title_of(p, shop_size), .arena = arena,
                                       .diags = p->diags, .seconds = p->options.seconds,
                                       .watching = &p->watching}};
    if (!hk_demand_make(p->needed, first, last, p->options.times, &b.buy.demand, arena))
        return;
    b.roles = hk_arena_take(arena, b.buy.demand.count, sizeof *b.roles);
    b.enough_g = hk_arena_take(arena, b.buy.demand.count, sizeof *b.enough_g);
    b.walks = hk_arena_take(arena, b.buy.demand.count, sizeof *b.walks);
    bool good = hk_purchase_open(&b.buy);
    b.piles = hk_arena_take(arena, b.buy.eligible.count + 1, sizeof *b.piles);
    for (size_t r = 0; b.walks && r < b.buy.demand.count; r++)
        if (!hk_walk_rows(p->needed, first, last, p->options.times, b.buy.demand.roles[r].role, &b.walks[r], arena))
            b.walks[r] = (struct hk_walk){0};
    p->shopped->face.offers |= b.buy.eligible.from_offers;
    if (!good || arena->out_of_memory || !set_needs(&b))
        return;
    enum hk_basket_answer answer = solve(&b);
    if (answer != HK_BASKET_FOUND) {
        hk_purchase_refuse(&b.buy, answer);
        return;
    }
    raise_unpriced(&b);
    fill_answer(&b, shop_size);
    hk_notions_fill(p->project, first, last, p->options.times, shop_size, arena);
}

static void plan_sizes(struct planning *p)
{
    const struct hk_needed *needed = p->needed;
    size_t count = p->options.together ? 1 : needed->last_size - needed->first_size + 1;
    struct hk_shop_size *sizes = hk_arena_take(&p->shopped->arena, count, sizeof *sizes);
    p->said = hk_arena_take(&p->shopped->arena, p->project->role_count, sizeof *p->said);
    if (p->shopped->arena.out_of_memory)
        return;
    if (p->options.together)
        fill_size(p, needed->first_size, needed->last_size, &sizes[0]);
    p->watching.share = 1 / (double)count;
    for (size_t i = 0; i < count && !p->options.together && !p->watching.cancelled; i++) {
        p->watching.from = (double)i / (double)count;
        fill_size(p, needed->first_size + i, needed->first_size + i, &sizes[i]);
    }
    p->shopped->face.sizes = sizes;
    p->shopped->face.size_count = count;
}

struct hk_shop_options hk_shop_defaults(void)
{
    return (struct hk_shop_options){.seconds = DEFAULT_SECONDS, .times = 1};
}

static bool options_fit(struct hk_shop_options options, struct hk_diags *diags)
{
    bool seconds_fit = options.seconds > 0 && isfinite(options.seconds);
    bool times_fit = options.times >= 1 && options.times <= HK_SHOP_TIMES_MOST;
    if (!seconds_fit)
        hk_diags_add(diags, HK_CODE_RANGE, (struct hk_place){"seconds", 0, 0}, "no time to search in");
    if (!times_fit)
        hk_diags_add(diags, HK_CODE_RANGE, (struct hk_place){"times", 0, 0},
                     "%lld makings of each size; 1 to %d can be asked for", (long long)options.times, HK_SHOP_TIMES_MOST);
    return seconds_fit && times_fit;
}

struct hk_shop *hk_shop_plan(const struct hk_need *need, struct hk_shop_options options, struct hk_diags *diags)
{
    const struct hk_needed *needed = (const struct hk_needed *)need;
    const struct hk_project *project = needed->fit->tally->project;
    size_t errors = diags->errors;
    if (!options_fit(options, diags))
        return NULL;
    struct hk_shopped *shopped = calloc(1, sizeof *shopped);
    if (!shopped) {
        diags->out_of_memory = true;
        return NULL;
    }
    bool short_costs = project->short_cost_minor >= 0 && !options.by_chance;
    shopped->face = (struct hk_shop){
        .project = need->project, .chance = need->chance, .margin = need->margin,
        .currency = hk_project_currency(project), .minor_digits = hk_project_minor_digits(project),
        .short_cost_minor = short_costs ? project->short_cost_minor : HK_NO_PRICE, .spare_worth = project->spare_worth,
        .lots_apart = !project->lots_may_mix,
    };
    shopped->needed = needed;
    shopped->options = options;
    struct planning p = {.shopped = shopped, .needed = needed, .project = project, .options = options, .diags = diags,
                         .watching = {.watch = options.watch, .share = 1}};
    plan_sizes(&p);
    diags->out_of_memory |= shopped->arena.out_of_memory;
    if (!diags->out_of_memory && diags->errors == errors)
        return &shopped->face;
    hk_shop_free(&shopped->face);
    return NULL;
}

void hk_shop_free(struct hk_shop *shop)
{
    struct hk_shopped *shopped = (struct hk_shopped *)shop;
    if (!shopped)
        return;
    hk_arena_free(&shopped->arena);
    free(shopped);
}
