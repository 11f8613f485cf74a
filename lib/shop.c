/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What to buy: for one size, or for all together, what the garments take (bulk.h), which offers may fill which role
 * (choices.h), the cheapest basket of them (basket.h), and around it what a ball more or fewer does. A role whose yarn has no price
 * stays outside the basket: it keeps its balls and goes without a cost.
 */
#include "need.h"

#include "balls.h"
#include "chance.h"
#include "choices.h"
#include "diags.h"
#include "money.h"
#include "spare.h"

#include <gsl/gsl_math.h>
#include <stdlib.h>

#define NO_PRICE (-1)
#define STEPS_EACH_WAY 2
#define DEFAULT_MINOR_DIGITS 2
#define DEFAULT_SECONDS 10

/* The public struct comes first, as in struct hk_needed. */
struct shopped {
    struct hk_shop face;
    struct hk_arena arena;
};

struct planning {
    struct shopped *shopped;
    const struct hk_needed *needed;
    const struct hk_project *project;
    struct hk_shop_options options;
    struct hk_diags *diags;
    bool *said; /* by role: that it has no price */
};

/* One basket in the making. */
struct basket {
    struct planning *p;
    struct hk_arena *arena; /* of the answer */
    const char *title;      /* "" or " in size M", for messages */
    struct hk_bulk bulk;
    struct hk_choices choices;
    struct hk_basket_problem problem;
    struct hk_basket found;
    int64_t *unpriced_balls; /* by role of the bulk; 0 where the basket has it */
    double *enough_g;        /* by role of the bulk: what must be there, eaten included */
    struct hk_shop_role *roles;
};

static const struct hk_candidate *plan_of(const struct basket *b, size_t r)
{
    const struct hk_project *project = b->p->project;
    return &project->candidates[project->roles[b->bulk.roles[r].role].plan];
}

static const struct hk_yarn *yarn_of(const struct basket *b, size_t r)
{
    return &b->p->project->yarns[plan_of(b, r)->yarn];
}

static const char *role_name(const struct basket *b, size_t r)
{
    return b->p->project->roles[b->bulk.roles[r].role].name;
}

/* ---- What some balls are worth ----------------------------------------------------------------------------------- */

/* Balls of a role: how many and what they weigh. */
struct pile {
    int64_t balls;
    double mass_g;
};

static struct pile pile_of(const struct basket *b, const int64_t *balls, size_t r)
{
    struct pile pile = {b->unpriced_balls[r], (double)b->unpriced_balls[r] * yarn_of(b, r)->put_up_g};
    for (size_t i = 0; i < b->choices.count; i++) {
        if (b->choices.choices[i].role != r)
            continue;
        pile.balls += balls[i];
        pile.mass_g += (double)balls[i] * b->choices.choices[i].put_up_g;
    }
    return pile;
}

/* What the garments can take of it: each ball but one costs a join, and her swatches had theirs. */
static double left_for_garments_g(const struct hk_bulk_role *role, struct pile pile)
{
    return pile.mass_g - (double)(pile.balls - 1) * role->join_g - role->eaten_g;
}

/* ln of that against the likely mass. */
static double ln_limit(const struct hk_bulk_role *role, struct pile pile)
{
    double usable_g = left_for_garments_g(role, pile);
    return usable_g > 0 ? log(usable_g / role->likely_g) : -HUGE_VAL;
}

static double chance_within(double ln_limit_of, double spread)
{
    if (spread > 0)
        return hk_normal_chance(ln_limit_of / spread);
    return ln_limit_of >= 0 ? 1 : 0;
}

/*
 * E max(0, u - M) for ln M ~ N(ln m, s^2), in grams: u P(M <= u) - E[M; M <= u], and the latter is
 * m exp(s^2 / 2) Phi(ln(u / m) / s - s) (partial expectation of the log-normal; any text on it).
 */
static double expected_over_g(const struct hk_bulk_role *role, struct pile pile)
{
    double usable_g = left_for_garments_g(role, pile), s = role->spread;
    if (!(usable_g > 0))
        return 0;
    if (!(s > 0))
        return fmax(0, usable_g - role->likely_g);
    double z = ln_limit(role, pile) / s;
    return fmax(0, usable_g * hk_normal_chance(z) - role->likely_g * exp(s * s / 2) * hk_normal_chance(z - s));
}

/* margin = (bought - joins) / likely - 1 and left over = max(0, bought - joins - likely) / g, swatches within likely. */
static void weigh_pile(const struct hk_bulk_role *role, struct pile pile, struct hk_shop_step *step)
{
    double usable_g = pile.mass_g - (double)(pile.balls - 1) * role->join_g, likely_g = role->likely_g + role->eaten_g;
    step->balls = pile.balls;
    step->chance = chance_within(ln_limit(role, pile), role->spread);
    step->margin = usable_g / likely_g - 1;
    step->left_over_m = fmax(0, usable_g - likely_g) / role->g_m;
    step->expected_left_over_m = expected_over_g(role, pile) / role->g_m;
}

/* ---- How much is enough -------------------------------------------------------------------------------------------- */

/* The offer that a gram costs least in, the first of equals; SIZE_MAX where nothing has a price above 0. */
static size_t cheapest_choice(const struct basket *b, size_t r)
{
    size_t best = SIZE_MAX;
    double best_price = HUGE_VAL;
    for (size_t i = 0; i < b->choices.count; i++) {
        const struct hk_basket_offer *offer = &b->choices.offers[i];
        double price = (double)offer->price_minor / offer->usable_g;
        if (b->choices.choices[i].role != r || b->choices.choices[i].seller == HK_SELLER_OWN || !(price < best_price))
            continue;
        best = i;
        best_price = price;
    }
    return best;
}

struct ball_demand {
    const struct hk_bulk_role *role;
    double put_up_g;
};

/* P(n balls are enough). */
static double enough_chance(const void *context, int64_t n)
{
    const struct ball_demand *demand = context;
    struct pile pile = {n, (double)n * demand->put_up_g};
    return n < 1 ? 0 : chance_within(ln_limit(demand->role, pile), demand->role->spread);
}

/* Beyond what is enough but for this chance, one more saves next to nothing. */
#define CHANCE_LEFT 1e-9

static bool tried_to(const struct ball_demand *of, struct hk_demand *demand)
{
    double most_g = of->role->likely_g * exp(of->role->spread * hk_normal_quantile(1 - CHANCE_LEFT)) + of->role->eaten_g;
    int64_t most;
    if (!hk_balls_needed(most_g, of->put_up_g, of->role->join_g, &most))
        return false;
    *demand = (struct hk_demand){.chance = enough_chance, .context = of, .most = most + 1};
    return true;
}

/*
 * Where running short has a price: the ball count of least expected cost, in balls of the offer that a gram costs least in; the
 * basket must then hold as much as those, in whatever put-ups.
 */
static bool least_cost(struct basket *b, size_t r)
{
    const struct hk_project *project = b->p->project;
    size_t i = project->short_cost_minor >= 0 && !b->p->options.by_chance ? cheapest_choice(b, r) : SIZE_MAX;
    if (i == SIZE_MAX)
        return true;
    double price = (double)b->choices.offers[i].price_minor;
    const struct ball_demand of = {&b->bulk.roles[r], b->choices.choices[i].put_up_g};
    const struct hk_spare_costs costs = {.price = price, .short_once = (double)project->short_cost_minor,
                                         .spare = project->spare_worth * price};
    struct hk_demand demand;
    int64_t n;
    if (!tried_to(&of, &demand) || !hk_spare_least(&demand, &costs, &n))
        return false;
    n = n > 1 ? n : 1;
    double cost = hk_spare_cost(&demand, &costs, n);
    b->enough_g[r] = hk_balls_usable_g(n, of.put_up_g, of.role->join_g);
    b->roles[r].basis = HK_SHOP_LEAST_COST;
    b->roles[r].reason = (struct hk_shop_reason){
        .balls = n, .put_up_g = of.put_up_g, .price_minor = b->choices.offers[i].price_minor,
        .fewer_minor = n > 1 ? hk_spare_cost(&demand, &costs, n - 1) - cost : HUGE_VAL,
        .more_minor = hk_spare_cost(&demand, &costs, n + 1) - cost,
        .short_chance = 1 - enough_chance(&of, n), .short_chance_fewer = 1 - enough_chance(&of, n - 1),
        .spare_chance_more = enough_chance(&of, n),
    };
    return true;
}

static void warn_without_price(struct basket *b, size_t r)
{
    bool *said = &b->p->said[b->bulk.roles[r].role];
    if (*said)
        return;
    *said = true;
    hk_diags_add(b->p->diags, HK_PRICE_MISSING, hk_cell_place(plan_of(b, r)->price_cell, 0),
                 "%s, the yarn of %s, has no price, so its cost is left out", yarn_of(b, r)->name, role_name(b, r));
    hk_diags_hint(b->p->diags, "state the price of one ball in the column price");
}

static bool refuse_count(struct basket *b, size_t r)
{
    hk_diags_add(b->p->diags, HK_COUNT_TOO_LARGE, hk_cell_place(yarn_of(b, r)->cell, 0),
                 "it takes more balls of %s than can be counted%s", yarn_of(b, r)->name, b->title);
    hk_diags_hint(b->p->diags, "check put_up, stitches, rows and times");
    return false;
}

static bool set_needs(struct basket *b)
{
    struct hk_basket_role *roles = hk_arena_take(b->arena, b->bulk.count, sizeof *roles);
    bool good = roles;
    for (size_t r = 0; r < b->bulk.count && roles; r++) {
        const struct hk_bulk_role *role = &b->bulk.roles[r];
        b->roles[r].basis = b->p->needed->face.margin >= 0 ? HK_SHOP_MARGIN : HK_SHOP_CHANCE;
        b->enough_g[r] = role->enough_g + role->eaten_g;
        if (b->choices.unpriced[r]) {
            warn_without_price(b, r);
            if (!hk_balls_needed(b->enough_g[r], yarn_of(b, r)->put_up_g, role->join_g, &b->unpriced_balls[r]))
                good = refuse_count(b, r);
        } else if (!least_cost(b, r)) {
            good = refuse_count(b, r);
        }
        roles[r] = (struct hk_basket_role){.needed_g = b->enough_g[r] - role->join_g, .one_lot = true};
    }
    b->problem.roles = roles;
    b->problem.role_count = b->bulk.count;
    return good;
}

/* ---- The basket ------------------------------------------------------------------------------------------------------ */

static void set_shops(struct basket *b)
{
    const struct hk_project *project = b->p->project;
    struct hk_basket_shop *shops = hk_arena_take(b->arena, project->seller_count, sizeof *shops);
    for (size_t i = 0; i < project->seller_count && shops; i++) {
        const struct hk_seller *seller = &project->sellers[i];
        shops[i] = (struct hk_basket_shop){
            .postage_minor = seller->postage_minor, .free_from_minor = seller->free_from_minor,
            .off_from_minor = seller->off_from_minor, .off_minor = seller->off_minor,
            .off_millionths = seller->off_millionths,
        };
    }
    b->problem.shops = shops;
    b->problem.shop_count = project->seller_count;
}

/* The roles without a price are not in the programme; the others move up. */
static bool leave_out_unpriced(const struct basket *b, struct hk_basket_problem *problem, size_t *numbers)
{
    struct hk_basket_role *roles = hk_arena_take(b->arena, b->bulk.count, sizeof *roles);
    struct hk_basket_offer *offers = hk_arena_take(b->arena, b->choices.count, sizeof *offers);
    *problem = b->problem;
    problem->role_count = 0;
    if (!roles || !offers)
        return false;
    for (size_t r = 0, n = 0; r < b->bulk.count; r++) {
        if (b->choices.unpriced[r])
            continue;
        for (size_t i = 0; i < b->choices.count; i++) {
            if (b->choices.offers[i].role != r)
                continue;
            offers[i] = b->choices.offers[i];
            offers[i].role = n;
        }
        numbers[n] = r;
        roles[n++] = b->problem.roles[r];
        problem->role_count = n;
    }
    problem->roles = roles;
    problem->offers = offers;
    return true;
}

static bool refuse_amounts(struct basket *b)
{
    struct hk_place at = b->bulk.count > 0 ? hk_cell_place(plan_of(b, 0)->price_cell, 0) : (struct hk_place){0};
    hk_diags_add(b->p->diags, HK_MONEY, at, "what is to be bought%s costs more than can be reckoned to the minor unit",
                 b->title);
    hk_diags_hint(b->p->diags, "check price, put_up and times");
    return false;
}

static void renumber_lacks(struct basket *b, const size_t *numbers)
{
    struct hk_basket_lack *lacks = hk_arena_take(b->arena, b->found.lack_count, sizeof *lacks);
    for (size_t i = 0; i < b->found.lack_count && lacks; i++) {
        lacks[i] = b->found.lacks[i];
        lacks[i].role = numbers[lacks[i].role];
    }
    b->found.lacks = lacks;
    b->found.lack_count = lacks ? b->found.lack_count : 0;
}

static bool solve(struct basket *b)
{
    struct hk_basket_problem problem;
    size_t *numbers = hk_arena_take(b->arena, b->bulk.count, sizeof *numbers);
    if (!numbers || !leave_out_unpriced(b, &problem, numbers))
        return false;
    switch (hk_basket_solve(&problem, &b->found, b->arena)) {
    case HK_BASKET_FOUND:
        return true;
    case HK_BASKET_SHORT:
        renumber_lacks(b, numbers);
        hk_choices_lack(b->p->project, &b->bulk, &b->choices, &b->problem, &b->found, b->title, b->p->diags);
        return false;
    case HK_BASKET_RANGE:
        return refuse_amounts(b);
    case HK_BASKET_FAILED:
        break;
    }
    if (b->arena->lost)
        return false;
    b->p->diags->machine = true; /* GLPK had no memory, or gave an answer that did not bear the recount */
    hk_diags_add(b->p->diags, HK_BASKET, (struct hk_place){0}, "the search for the cheapest basket failed%s", b->title);
    hk_diags_hint(b->p->diags, "more memory, fewer offers, or simpler amounts may do");
    return false;
}

/* ---- One ball more or fewer ------------------------------------------------------------------------------------------ */

/* Whether the role may hold a pack of choice i more (way 1) or fewer (way -1) beside what it has. */
static bool may_change(const struct basket *b, const int64_t *balls, size_t r, size_t i, int way)
{
    const struct hk_basket_offer *offer = &b->choices.offers[i];
    if (b->choices.choices[i].role != r)
        return false;
    if (way < 0)
        return balls[i] >= offer->pack && pile_of(b, balls, r).balls > offer->pack;
    if (offer->stock >= 0 && offer->stock - balls[i] < offer->pack)
        return false;
    for (size_t k = 0; k < b->choices.count; k++) {
        if (b->choices.choices[k].role == r && balls[k] > 0 && b->choices.offers[k].lot != offer->lot)
            return false;
    }
    return true;
}

/* Changes `balls` by the pack that makes the cheapest basket, the smallest of equals; SIZE_MAX where none may be changed. */
static size_t change_one(struct basket *b, int64_t *balls, size_t r, int way, int64_t *total_minor)
{
    size_t best = SIZE_MAX;
    struct hk_arena scratch = {0};
    for (size_t i = 0; i < b->choices.count; i++) {
        struct hk_basket counted;
        if (!may_change(b, balls, r, i, way))
            continue;
        int64_t change = way * b->choices.offers[i].pack;
        balls[i] += change;
        bool known = hk_basket_recount(&b->problem, balls, &counted, &scratch);
        balls[i] -= change;
        if (!known || (best != SIZE_MAX && counted.total_minor > *total_minor) ||
            (best != SIZE_MAX && counted.total_minor == *total_minor &&
             b->choices.offers[i].usable_g >= b->choices.offers[best].usable_g))
            continue;
        best = i;
        *total_minor = counted.total_minor;
    }
    b->arena->lost |= scratch.lost;
    hk_arena_free(&scratch);
    if (best != SIZE_MAX)
        balls[best] += way * b->choices.offers[best].pack;
    return best;
}

/* Up to two steps away from the basket in one way; steps[0] is the nearest. */
static size_t walk(struct basket *b, size_t r, int way, struct hk_shop_step *steps)
{
    int64_t *balls = hk_arena_take(b->arena, b->choices.count, sizeof *balls);
    size_t count = 0;
    for (size_t i = 0; i < b->choices.count && balls; i++)
        balls[i] = b->found.balls[i];
    while (balls && count < STEPS_EACH_WAY) {
        int64_t total_minor = 0;
        size_t changed = change_one(b, balls, r, way, &total_minor);
        if (changed == SIZE_MAX)
            break;
        const struct hk_choice *choice = &b->choices.choices[changed];
        steps[count] = (struct hk_shop_step){.cost_minor = total_minor, .put_up_g = choice->put_up_g,
                                             .shop = b->p->project->sellers[choice->seller].name};
        weigh_pile(&b->bulk.roles[r], pile_of(b, balls, r), &steps[count]);
        count++;
    }
    return count;
}

/* Of a role without a price: its one put-up, and no cost. */
static size_t walk_unpriced(struct basket *b, size_t r, int way, struct hk_shop_step *steps)
{
    size_t count = 0;
    for (int64_t k = 1; k <= STEPS_EACH_WAY && b->unpriced_balls[r] + way * k >= 1; k++) {
        int64_t balls = b->unpriced_balls[r] + way * k;
        double put_up_g = yarn_of(b, r)->put_up_g;
        steps[count] = (struct hk_shop_step){.cost_minor = NO_PRICE, .shop = "", .put_up_g = put_up_g};
        weigh_pile(&b->bulk.roles[r], (struct pile){balls, (double)balls * put_up_g}, &steps[count]);
        count++;
    }
    return count;
}

static void fill_steps(struct basket *b, size_t r, const struct hk_shop_step *taken)
{
    struct hk_shop_step *steps = hk_arena_take(b->arena, 2 * STEPS_EACH_WAY + 1, sizeof *steps);
    struct hk_shop_step fewer[STEPS_EACH_WAY], more[STEPS_EACH_WAY];
    bool unpriced = b->choices.unpriced[r];
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

/* Lots that a role is bought in; an empty one is the offer's own. */
static size_t count_lots(const struct basket *b, size_t r)
{
    size_t lots = 0;
    for (size_t i = 0; i < b->choices.count; i++) {
        const struct hk_choice *choice = &b->choices.choices[i];
        if (choice->role != r || b->found.balls[i] == 0)
            continue;
        bool known = false;
        for (size_t k = 0; k < i && *choice->lot; k++) {
            const struct hk_choice *other = &b->choices.choices[k];
            known |= other->role == r && b->found.balls[k] > 0 && hk_names_compare(other->lot, choice->lot) == 0;
        }
        lots += !known;
    }
    return lots;
}

static void fill_role(struct basket *b, size_t r)
{
    const struct hk_bulk_role *role = &b->bulk.roles[r];
    struct pile pile = pile_of(b, b->found.balls, r);
    struct hk_shop_step taken = {.cost_minor = b->choices.unpriced[r] ? NO_PRICE : b->found.total_minor};
    weigh_pile(role, pile, &taken);
    struct hk_shop_role *bought = &b->roles[r];
    bought->role = role_name(b, r);
    bought->need_g = b->enough_g[r];
    bought->likely_g = role->likely_g + role->eaten_g;
    bought->eaten_g = role->eaten_g;
    bought->bought_g = pile.mass_g;
    bought->joins_g = (double)(pile.balls - 1) * role->join_g;
    bought->chance = taken.chance;
    bought->margin = taken.margin;
    bought->left_over_m = taken.left_over_m;
    bought->deviation_m = role->likely_g * role->spread / role->g_m;
    bought->lots = b->choices.unpriced[r] ? 1 : count_lots(b, r);
    fill_steps(b, r, &taken);
}

static struct hk_shop_line line_of(const struct basket *b, size_t r)
{
    return (struct hk_shop_line){
        .role = role_name(b, r), .yarn = yarn_of(b, r)->name, .colour = plan_of(b, r)->colour, .shop = "", .lot = "",
        .put_up_g = yarn_of(b, r)->put_up_g, .put_up_m = yarn_of(b, r)->length_m,
        .balls = b->unpriced_balls[r], .price_minor = NO_PRICE, .cost_minor = NO_PRICE,
    };
}

/* By role, then as the offers stand in the file. */
static void fill_lines(struct basket *b, struct hk_shop_size *shop_size)
{
    struct hk_shop_line *lines = hk_arena_take(b->arena, b->choices.count + b->bulk.count, sizeof *lines);
    size_t count = 0;
    for (size_t r = 0; r < b->bulk.count && lines; r++) {
        if (b->choices.unpriced[r])
            lines[count++] = line_of(b, r);
        for (size_t i = 0; i < b->choices.count; i++) {
            const struct hk_choice *choice = &b->choices.choices[i];
            if (choice->role != r || b->found.balls[i] == 0)
                continue;
            struct hk_shop_line *line = &lines[count++];
            *line = line_of(b, r);
            line->colour = choice->colour;
            line->shop = b->p->project->sellers[choice->seller].name;
            line->lot = choice->lot;
            line->put_up_g = choice->put_up_g;
            line->put_up_m = choice->put_up_m;
            line->balls = b->found.balls[i];
            line->price_minor = b->choices.offers[i].price_minor;
            line->cost_minor = line->balls * line->price_minor;
        }
    }
    shop_size->lines = lines;
    shop_size->line_count = count;
}

static bool buys_at(const struct basket *b, size_t seller)
{
    for (size_t i = 0; i < b->choices.count; i++) {
        if (b->choices.choices[i].seller == seller && b->found.balls[i] > 0)
            return true;
    }
    return false;
}

/* In the order of shops.csv, what is at home first. */
static void fill_bills(struct basket *b, struct hk_shop_size *shop_size)
{
    const struct hk_project *project = b->p->project;
    struct hk_shop_bill *bills = hk_arena_take(b->arena, project->seller_count, sizeof *bills);
    for (size_t i = 0; i < project->seller_count && bills; i++) {
        if (!buys_at(b, i))
            continue;
        struct hk_shop_bill *bill = &bills[shop_size->bill_count++];
        *bill = (struct hk_shop_bill){
            .shop = project->sellers[i].name, .goods_minor = b->found.goods_minor[i],
            .postage_minor = b->found.postage_minor[i], .discount_minor = b->found.discount_minor[i],
        };
        bill->total_minor = bill->goods_minor + bill->postage_minor - bill->discount_minor;
        shop_size->goods_minor += bill->goods_minor;
        shop_size->postage_minor += bill->postage_minor;
        shop_size->discount_minor += bill->discount_minor;
    }
    shop_size->bills = bills;
    shop_size->total_minor = b->found.total_minor;
}

/* The chance that every yarn is enough. */
static bool joint_chance(struct basket *b, double *chance)
{
    double *limits = hk_arena_take(b->arena, b->bulk.count, sizeof *limits);
    if (!limits)
        return false;
    for (size_t r = 0; r < b->bulk.count; r++)
        limits[r] = ln_limit(&b->bulk.roles[r], pile_of(b, b->found.balls, r));
    *chance = 1;
    if (b->bulk.count == 0 || hk_joint_chance(b->bulk.count, limits, b->bulk.covariance, chance))
        return true;
    b->arena->lost = true; /* the matrix is a covariance by its making, so there was no memory */
    return false;
}

static void fill_answer(struct basket *b, struct hk_shop_size *shop_size)
{
    shop_size->priced = true;
    for (size_t r = 0; r < b->bulk.count; r++) {
        shop_size->priced &= !b->choices.unpriced[r];
        fill_role(b, r);
    }
    shop_size->roles = b->roles;
    shop_size->role_count = b->bulk.count;
    shop_size->proven = b->found.proven;
    shop_size->gap = b->found.gap;
    fill_lines(b, shop_size);
    fill_bills(b, shop_size);
    joint_chance(b, &shop_size->chance_all);
}

/* ---- The whole --------------------------------------------------------------------------------------------------- */

/* "S + M + L". */
static const char *sizes_name(struct planning *p, size_t first, size_t last)
{
    const char *name = p->project->sizes[first];
    for (size_t i = first + 1; i <= last && name; i++)
        name = hk_arena_print(&p->shopped->arena, "%s + %s", name, p->project->sizes[i]);
    return name ? name : "";
}

/* Where there is a choice of sizes, messages say which. */
static const char *title_of(struct planning *p, const struct hk_shop_size *shop_size)
{
    const char *title = "";
    if (p->project->size_count > 1)
        title = hk_arena_print(&p->shopped->arena, " in size %s", shop_size->size);
    if (p->options.times > 1 && title)
        title = hk_arena_print(&p->shopped->arena, "%s, %lld times", title, (long long)p->options.times);
    return title ? title : "";
}

/* Sizes first to last in one basket. */
static void fill_size(struct planning *p, size_t first, size_t last, struct hk_shop_size *shop_size)
{
    struct hk_arena *arena = &p->shopped->arena;
    *shop_size = (struct hk_shop_size){.size = sizes_name(p, first, last), .times = p->options.times};
    struct basket b = {.p = p, .arena = arena, .title = title_of(p, shop_size),
                       .problem = {.seconds = p->options.seconds}};
    if (!hk_bulk_make(p->needed, first, last, p->options.times, &b.bulk, arena))
        return;
    b.roles = hk_arena_take(arena, b.bulk.count, sizeof *b.roles);
    b.enough_g = hk_arena_take(arena, b.bulk.count, sizeof *b.enough_g);
    b.unpriced_balls = hk_arena_take(arena, b.bulk.count, sizeof *b.unpriced_balls);
    bool good = hk_choices_find(p->project, &b.bulk, b.title, &b.choices, arena, p->diags);
    if (arena->lost)
        return;
    p->shopped->face.offers |= b.choices.from_offers;
    b.problem.offers = b.choices.offers;
    b.problem.offer_count = b.choices.count;
    set_shops(&b);
    if (good && set_needs(&b) && !arena->lost && solve(&b))
        fill_answer(&b, shop_size);
}

static void plan_sizes(struct planning *p)
{
    const struct hk_needed *needed = p->needed;
    size_t count = p->options.together ? 1 : needed->last_size - needed->first_size + 1;
    struct hk_shop_size *sizes = hk_arena_take(&p->shopped->arena, count, sizeof *sizes);
    p->said = hk_arena_take(&p->shopped->arena, p->project->role_count, sizeof *p->said);
    if (p->shopped->arena.lost)
        return;
    if (p->options.together)
        fill_size(p, needed->first_size, needed->last_size, &sizes[0]);
    for (size_t i = 0; i < count && !p->options.together; i++)
        fill_size(p, needed->first_size + i, needed->first_size + i, &sizes[i]);
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
        hk_diags_add(diags, HK_RANGE, (struct hk_place){"seconds", 0, 0}, "no time to search in");
    if (!times_fit)
        hk_diags_add(diags, HK_RANGE, (struct hk_place){"times", 0, 0}, "%lld makings of each size; 1 to %d can be asked for",
                     (long long)options.times, HK_SHOP_TIMES_MOST);
    return seconds_fit && times_fit;
}

struct hk_shop *hk_shop_plan(const struct hk_need *need, struct hk_shop_options options, struct hk_diags *diags)
{
    const struct hk_needed *needed = (const struct hk_needed *)need;
    const struct hk_project *project = needed->fit->tally->project;
    size_t errors = diags->errors;
    if (!options_fit(options, diags))
        return NULL;
    struct shopped *shopped = calloc(1, sizeof *shopped);
    if (!shopped) {
        diags->lost = true;
        return NULL;
    }
    bool short_costs = project->short_cost_minor >= 0 && !options.by_chance;
    shopped->face = (struct hk_shop){
        .project = need->project, .chance = need->chance, .margin = need->margin,
        .currency = project->currency ? project->currency->code : "",
        .minor_digits = project->currency ? project->currency->minor_digits : DEFAULT_MINOR_DIGITS,
        .short_cost_minor = short_costs ? project->short_cost_minor : NO_PRICE, .spare_worth = project->spare_worth,
    };
    struct planning p = {.shopped = shopped, .needed = needed, .project = project, .options = options, .diags = diags};
    plan_sizes(&p);
    diags->lost |= shopped->arena.lost;
    if (!diags->lost && diags->errors == errors)
        return &shopped->face;
    hk_shop_free(&shopped->face);
    return NULL;
}

void hk_shop_free(struct hk_shop *shop)
{
    struct shopped *shopped = (struct shopped *)shop;
    if (!shopped)
        return;
    hk_arena_free(&shopped->arena);
    free(shopped);
}
