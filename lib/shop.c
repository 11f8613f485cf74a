/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What to buy: the planned yarn of each role, from one source, the price in yarns.csv. With one source the least
 * number of balls that is enough is the cheapest basket, so it is proven. A role whose yarn has no price keeps its
 * balls and goes without a cost.
 */
#include "need.h"

#include "balls.h"
#include "chance.h"
#include "diags.h"
#include "money.h"

#include <gsl/gsl_math.h>
#include <stdlib.h>

#define NO_PRICE (-1)
#define STEPS_EACH_WAY 2
#define DEFAULT_MINOR_DIGITS 2

/* The public struct comes first, as in struct hk_needed. */
struct shopped {
    struct hk_shop face;
    struct hk_arena arena;
};

struct planning {
    struct shopped *shopped;
    const struct hk_needed *needed;
    const struct hk_project *project;
    struct hk_diags *diags;
    bool *said; /* by role: that it has no price, or that its cost is too high */
};

static const struct hk_candidate *planned(const struct planning *p, size_t role)
{
    return &p->project->candidates[p->project->roles[role].plan];
}

/* ---- Money ------------------------------------------------------------------------------------------------------- */

static bool say_once(struct planning *p, size_t role)
{
    bool first = !p->said[role];
    p->said[role] = true;
    return first;
}

static void warn_without_price(struct planning *p, const struct hk_need_role *role)
{
    if (!say_once(p, role->role))
        return;
    hk_diags_add(p->diags, HK_PRICE_MISSING, hk_cell_place(planned(p, role->role)->price_cell, 0),
                 "%s, the yarn of %s, has no price, so its cost is left out", role->yarn, role->role_name);
    hk_diags_hint(p->diags, "state the price of one ball in the column price");
}

static void refuse_cost(struct planning *p, size_t role)
{
    if (!say_once(p, role))
        return;
    hk_diags_add(p->diags, HK_MONEY, hk_cell_place(planned(p, role)->price_cell, 0),
                 "what %s costs is more than can be counted to the minor unit", p->project->roles[role].name);
    hk_diags_hint(p->diags, "check price and put_up");
}

/* balls * price in minor units; NO_PRICE where there is none. False where it is more than money can be. */
static bool cost_of(int64_t balls, int64_t price_minor, int64_t *cost_minor)
{
    if (price_minor < 0) {
        *cost_minor = NO_PRICE;
        return true;
    }
    if (price_minor > 0 && balls > HK_MONEY_MOST / price_minor)
        return false;
    *cost_minor = balls * price_minor;
    return true;
}

/* ---- One role ---------------------------------------------------------------------------------------------------- */

/* ln of what n balls give against the likely mass: what ln M - ln likely must stay within. */
static double ln_limit(const struct hk_need_role *role, int64_t balls)
{
    return log(hk_balls_usable_g(balls, role->put_up_g, role->join_g) / role->mass_g.likely);
}

static double chance_within(double ln_limit_of, double spread)
{
    if (spread > 0)
        return hk_normal_chance(ln_limit_of / spread);
    return ln_limit_of >= 0 ? 1 : 0;
}

static double left_over_m(const struct hk_need_role *role, int64_t balls)
{
    double g_m = role->mass_g.likely / role->length_m.likely;
    return fmax(0, hk_balls_usable_g(balls, role->put_up_g, role->join_g) - role->mass_g.likely) / g_m;
}

static bool fill_step(struct planning *p, const struct hk_need_role *role, int64_t balls, struct hk_shop_step *step)
{
    *step = (struct hk_shop_step){
        .balls = balls,
        .chance = chance_within(ln_limit(role, balls), role->spread_mass),
        .margin = hk_balls_usable_g(balls, role->put_up_g, role->join_g) / role->mass_g.likely - 1,
        .left_over_m = left_over_m(role, balls),
    };
    if (cost_of(balls, planned(p, role->role)->price_minor, &step->cost_minor))
        return true;
    refuse_cost(p, role->role);
    return false;
}

static bool fill_role(struct planning *p, const struct hk_need_role *role, struct hk_shop_role *bought)
{
    int64_t first = role->balls > STEPS_EACH_WAY ? role->balls - STEPS_EACH_WAY : 1;
    size_t count = (size_t)(role->balls + STEPS_EACH_WAY - first + 1);
    struct hk_shop_step *steps = hk_arena_take(&p->shopped->arena, count, sizeof *steps);
    for (size_t i = 0; i < count; i++) {
        if (!steps || !fill_step(p, role, first + (int64_t)i, &steps[i]))
            return false;
    }
    const struct hk_shop_step *taken = &steps[role->balls - first];
    *bought = (struct hk_shop_role){
        .role = role->role_name,
        .need_g = role->mass_g.enough, .likely_g = role->mass_g.likely,
        .bought_g = (double)role->balls * role->put_up_g, .joins_g = (double)(role->balls - 1) * role->join_g,
        .chance = taken->chance, .margin = taken->margin, .left_over_m = taken->left_over_m,
        .steps = steps, .step_count = count,
    };
    return true;
}

static bool fill_line(struct planning *p, const struct hk_need_role *role, struct hk_shop_line *line)
{
    *line = (struct hk_shop_line){
        .role = role->role_name, .yarn = role->yarn, .colour = role->colour, .shop = "", .lot = "",
        .put_up_g = role->put_up_g, .put_up_m = role->put_up_m,
        .balls = role->balls, .price_minor = planned(p, role->role)->price_minor,
    };
    if (line->price_minor < 0) {
        line->price_minor = NO_PRICE;
        warn_without_price(p, role);
    }
    if (cost_of(line->balls, line->price_minor, &line->cost_minor))
        return true;
    refuse_cost(p, role->role);
    return false;
}

/* ---- One size ---------------------------------------------------------------------------------------------------- */

/* The chance that every yarn is enough: roles[first] to roles[first + count - 1] together. */
static bool joint_chance(struct planning *p, size_t first, size_t count, double *chance)
{
    const struct hk_need *need = &p->needed->face;
    double *limits = hk_arena_take(&p->shopped->arena, count, sizeof *limits);
    double *covariance = hk_arena_take(&p->shopped->arena, count * count, sizeof *covariance);
    if (!limits || !covariance)
        return false;
    for (size_t r = 0; r < count; r++) {
        limits[r] = ln_limit(&need->roles[first + r], need->roles[first + r].balls);
        for (size_t s = 0; s < count; s++)
            covariance[r * count + s] = need->covariance[(first + r) * need->role_count + first + s];
    }
    *chance = 1;
    if (count == 0 || hk_joint_chance(count, limits, covariance, chance))
        return true;
    p->shopped->arena.lost = true; /* the matrix is a covariance by its making, so there was no memory */
    return false;
}

static void add_up(struct planning *p, struct hk_shop_size *shop_size, const struct hk_shop_line *line, size_t role)
{
    if (line->cost_minor < 0) {
        shop_size->priced = false;
        return;
    }
    if (line->cost_minor > HK_MONEY_MOST - shop_size->goods_minor) {
        refuse_cost(p, role);
        return;
    }
    shop_size->goods_minor += line->cost_minor;
}

/* roles[first] to roles[last - 1] are those of the size. */
static void fill_size(struct planning *p, size_t size, size_t first, size_t last, struct hk_shop_size *shop_size)
{
    const struct hk_need *need = &p->needed->face;
    struct hk_shop_line *lines = hk_arena_take(&p->shopped->arena, last - first, sizeof *lines);
    struct hk_shop_role *roles = hk_arena_take(&p->shopped->arena, last - first, sizeof *roles);
    *shop_size = (struct hk_shop_size){
        .size = p->project->sizes[size],
        .lines = lines, .line_count = last - first, .roles = roles, .role_count = last - first,
        .priced = true, .proven = true,
    };
    for (size_t r = first; r < last && lines && roles; r++) {
        const struct hk_need_role *role = &need->roles[r];
        if (fill_line(p, role, &lines[r - first]) && fill_role(p, role, &roles[r - first]))
            add_up(p, shop_size, &lines[r - first], role->role);
    }
    shop_size->total_minor = shop_size->goods_minor;
    joint_chance(p, first, last - first, &shop_size->chance_all);
}

/* ---- The whole --------------------------------------------------------------------------------------------------- */

static void plan_sizes(struct planning *p)
{
    const struct hk_needed *needed = p->needed;
    size_t count = needed->last_size - needed->first_size + 1;
    struct hk_shop_size *sizes = hk_arena_take(&p->shopped->arena, count, sizeof *sizes);
    p->said = hk_arena_take(&p->shopped->arena, p->project->role_count, sizeof *p->said);
    if (p->shopped->arena.lost)
        return;
    for (size_t i = 0, first = 0, last = 0; i < count; i++, first = last) {
        while (last < needed->face.role_count && needed->face.roles[last].size == needed->first_size + i)
            last++;
        fill_size(p, needed->first_size + i, first, last, &sizes[i]);
    }
    p->shopped->face.sizes = sizes;
    p->shopped->face.size_count = count;
}

struct hk_shop *hk_shop_plan(const struct hk_need *need, struct hk_diags *diags)
{
    const struct hk_needed *needed = (const struct hk_needed *)need;
    const struct hk_project *project = needed->fit->tally->project;
    size_t errors = diags->errors;
    struct shopped *shopped = calloc(1, sizeof *shopped);
    if (!shopped) {
        diags->lost = true;
        return NULL;
    }
    shopped->face = (struct hk_shop){
        .project = need->project, .chance = need->chance, .margin = need->margin,
        .currency = project->currency ? project->currency->code : "",
        .minor_digits = project->currency ? project->currency->minor_digits : DEFAULT_MINOR_DIGITS,
    };
    struct planning p = {.shopped = shopped, .needed = needed, .project = project, .diags = diags};
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
