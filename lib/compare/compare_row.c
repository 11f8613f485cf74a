/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The row of one candidate: its parameters in the fit, length, mass, balls, cost and yarn left over. compare.c has the
 * formulas.
 */
#include "compare/compare.h"

#include "base/money.h"
#include "need/balls.h"

#include <gsl/gsl_math.h>
#include <string.h>

/* ---- Its parameters in the fit ----------------------------------------------------------------------------------- */

double hk_listed_g_m(const struct hk_listed *yarn)
{
    return yarn->put_up_g / yarn->length_m;
}

/* Returns the grist parameter of the yarn by name, if its label is the same too. */
static size_t known_grist(const struct hk_comparing *c, const struct hk_listed *yarn)
{
    size_t i = hk_fit_find(c->work.fit, HK_PARAM_GRIST, 0, 0, yarn->name);
    bool same = i != SIZE_MAX && fabs(c->work.fit->parameters[i].prior - log(hk_listed_g_m(yarn))) < HK_SAME_GRIST;
    return same ? i : SIZE_MAX;
}

static struct hk_stand_in stand_in_of(const struct hk_comparing *c, const struct hk_listed *a,
                                      const struct hk_listed *b)
{
    struct hk_stand_in in = {.yarns = {a, b}, .count = b ? 2 : 1, .alike = a == b ? 2 : 1, .known = true};
    for (size_t i = 0; i < in.count && in.yarns[i]; i++) {
        in.diameter_mm2 += in.yarns[i]->diameter_mm * in.yarns[i]->diameter_mm;
        in.grists[i] = known_grist(c, in.yarns[i]);
        in.known &= in.grists[i] != SIZE_MAX;
    }
    return in;
}

/* Returns the departure of the combination with the stand-in for the role; SIZE_MAX if the fit does not have it. */
static size_t known_blend(struct hk_comparing *c, const struct hk_stand_in *in, const struct hk_group *group)
{
    if (!in->known)
        return SIZE_MAX;
    const struct hk_combination *of = hk_group_combination(&c->work, group);
    if (of->strand_count == 1 && in->count == 1 && group->times == 1)
        return hk_fit_find(c->work.fit, HK_PARAM_BLEND, 0, 0, in->yarns[0]->name);
    /* Only the names of these yarns are used. */
    struct hk_arena arena = {0};
    size_t most = of->strand_count + HK_HELD_MOST, found = SIZE_MAX;
    struct hk_yarn *yarns = hk_arena_take(&arena, most, sizeof *yarns);
    struct hk_strand *strands = hk_arena_take(&arena, most, sizeof *strands);
    struct hk_combination held = {.strands = strands};
    for (size_t s = 0; yarns && strands && s < of->strand_count; s++) {
        bool replaced = of->strands[s].role == c->work.role;
        for (size_t i = 0; i < (replaced ? in->count : 1); i++, held.strand_count++) {
            const struct hk_yarn *planned = &c->work.project->yarns[of->strands[s].yarn];
            yarns[held.strand_count].name = replaced ? in->yarns[i]->name : planned->name;
            strands[held.strand_count] = (struct hk_strand){0, held.strand_count, of->strands[s].times};
        }
    }
    struct hk_project names = {.yarns = yarns};
    const char *name = arena.out_of_memory ? NULL : hk_blend_name(&arena, &names, &held);
    if (name)
        found = hk_fit_find(c->work.fit, HK_PARAM_BLEND, 0, 0, name);
    c->scratch.out_of_memory |= arena.out_of_memory;
    hk_arena_free(&arena);
    return found;
}

/* ---- Length and spread --------------------------------------------------------------------------------------------- */

/* Sets the scale of each group, with v from the fit; sums the shares without a fitted v by blend of the design. */
static void scale_groups(struct hk_comparing *c, const struct hk_stand_in *in)
{
    for (size_t k = 0; k < c->work.group_count; k++) {
        const struct hk_group *group = &c->work.groups[k];
        c->known[k] = known_blend(c, in, group);
        c->scale[k] = hk_group_ratio(group, in->diameter_mm2, group->tool_mm);
        if (c->known[k] != SIZE_MAX)
            c->scale[k] *= exp(c->work.fit->parameters[c->known[k]].value);
    }
}

static double worked_length_m(const struct hk_comparing *c)
{
    double worked_m = 0;
    for (size_t k = 0; k < c->work.group_count; k++)
        worked_m += c->scale[k] * c->work.groups[k].worked_m;
    return worked_m;
}

/* Sets the gradient of ln T' in the fit's parameters. Returns the variance that the fit does not include. */
static double fill_gradient(struct hk_comparing *c, double length_m)
{
    double yarn = c->work.project->spreads.yarn, variance = 0;
    memset(c->gradient, 0, c->work.fit->count * sizeof *c->gradient);
    memset(c->blends, 0, c->work.project->blend_count * sizeof *c->blends);
    for (size_t k = 0; k < c->work.group_count; k++) {
        const struct hk_group *group = &c->work.groups[k];
        double weight = c->scale[k] / length_m, share = weight * group->worked_m;
        for (size_t i = 0; i < c->work.fit->count; i++)
            c->gradient[i] += weight * group->gradient[i];
        if (c->known[k] != SIZE_MAX)
            c->gradient[c->known[k]] += share;
        else
            c->blends[hk_group_combination(&c->work, group)->blend] += share;
    }
    for (size_t b = 0; b < c->work.project->blend_count; b++)
        variance += c->blends[b] * c->blends[b] * yarn * yarn;
    return variance;
}

static double own_variance(const struct hk_comparing *c, double worked_m, double length_m)
{
    double pieces = 0, share = worked_m / length_m;
    for (size_t k = 0; k < c->work.group_count; k++)
        for (size_t l = 0; l < c->work.group_count; l++)
            pieces += c->scale[k] * c->scale[l] * c->work.pieces[k * c->work.group_count + l];
    return hk_garment_covariance(&c->priors, share * share, pieces / (length_m * length_m));
}

/* ---- One of its yarns ---------------------------------------------------------------------------------------------- */

/* An offer of a ball, and the balls of it to buy. */
struct purchase {
    const struct hk_offer *offer; /* NULL: none */
    int64_t balls, cost_minor;
};

/* Returns the balls rounded up to whole packs. */
static int64_t balls_sold(const struct hk_offer *offer, int64_t balls)
{
    return (balls + offer->pack - 1) / offer->pack * offer->pack;
}

/* Takes this number of an offer if that costs less than the best so far. */
static void consider(struct hk_comparing *c, const struct hk_offer *offer, int64_t balls, struct purchase *best)
{
    int64_t sold = balls_sold(offer, balls), cost_minor;
    if (offer->stock >= 0 && offer->stock < sold)
        return;
    if (!hk_money_part(hk_offer_price_at(offer, sold), sold, offer->price.balls, &cost_minor))
        c->too_dear = true;
    else if (!best->offer || cost_minor < best->cost_minor)
        *best = (struct purchase){offer, sold, cost_minor};
}

/*
 * Returns the offer of this ball at which this number costs least, without postage and discounts, or a larger number with
 * its quantity price.
 */
static struct purchase cheapest_offer(struct hk_comparing *c, const struct hk_listed *listed, int64_t balls)
{
    const struct hk_project *project = c->work.project;
    struct purchase best = {0};
    for (size_t i = 0; listed->candidate && i < project->offer_count; i++) {
        const struct hk_offer *offer = &project->offers[i];
        if (!hk_offer_counts(offer, listed->candidate) || offer->shop == HK_SELLER_OWN ||
            offer->put_up_g != listed->put_up_g)
            continue;
        consider(c, offer, balls, &best);
        for (size_t t = 0; t < offer->price.from_count; t++)
            if (offer->price.from[t].from > balls)
                consider(c, offer, offer->price.from[t].from, &best);
    }
    return best;
}

/* Sets the balls to buy, their cost and the yarn left over. */
static void fill_balls(struct hk_comparing *c, const struct hk_listed *listed, double g_m, double longest_m,
                       struct hk_compare_yarn *yarn)
{
    const struct hk_project *project = c->work.project;
    double join_g = hk_join_g(project, g_m, longest_m);
    yarn->cost_minor = HK_NO_PRICE;
    if (!hk_balls_needed(yarn->mass_g.enough, yarn->put_up_g, join_g, &yarn->balls))
        return;
    struct purchase found = cheapest_offer(c, listed, yarn->balls);
    if (found.offer) {
        yarn->balls = found.balls;
        yarn->price_minor = hk_offer_price_at(found.offer, found.balls);
        yarn->price_for = found.offer->price.balls;
        yarn->cost_minor = found.cost_minor;
        c->offers = true;
    } else if (yarn->price_minor >= 0) {
        c->too_dear |= !hk_money_times(yarn->price_minor, yarn->balls, &yarn->cost_minor);
    }
    double usable_g = hk_balls_usable_g(yarn->balls, yarn->put_up_g, join_g);
    yarn->left_over_m = fmax(0, usable_g - yarn->mass_g.likely) / g_m;
}

static void fill_yarn(struct hk_comparing *c, const struct hk_stand_in *in, size_t i, double length_m, double longest_m,
                      double variance, struct hk_compare_yarn *yarn)
{
    const struct hk_listed *listed = in->yarns[i];
    double g_m = hk_listed_g_m(listed), grist = c->work.project->spreads.grist;
    if (in->grists[i] == SIZE_MAX) {
        variance += hk_fit_variance(c->work.fit, c->gradient) + grist * grist;
    } else {
        g_m = exp(c->work.fit->parameters[in->grists[i]].value);
        c->gradient[in->grists[i]] += 1;
        variance += hk_fit_variance(c->work.fit, c->gradient);
        c->gradient[in->grists[i]] -= 1;
    }
    *yarn = (struct hk_compare_yarn){
        .yarn = listed->name, .colour = listed->colour, .fibre = listed->fibre, .strands = (int64_t)in->alike,
        .put_up_g = listed->put_up_g, .put_up_m = listed->length_m, .price_minor = listed->price_minor, .price_for = 1,
        .mass_g = hk_range_of(&c->level, g_m * length_m, sqrt(fmax(variance, 0))),
        .weighed = in->grists[i] != SIZE_MAX && c->work.fit->parameters[in->grists[i]].touched,
    };
    fill_balls(c, listed, g_m, longest_m, yarn);
}

/* ---- The whole row ------------------------------------------------------------------------------------------------- */

static void add_up(struct hk_comparing *c, struct hk_compare_row *row)
{
    for (size_t i = 0; i < row->yarn_count; i++) {
        const struct hk_compare_yarn *yarn = &row->yarns[i];
        row->mass_g += yarn->mass_g.likely;
        row->balls += yarn->balls;
        row->left_over_m += yarn->left_over_m;
        if (yarn->cost_minor < 0 || row->cost_minor < 0)
            row->cost_minor = HK_NO_PRICE;
        else
            c->too_dear |= !hk_money_add(&row->cost_minor, yarn->cost_minor);
    }
    row->piece_g = row->mass_g + c->work.other_g;
    for (size_t k = 0; k < c->work.group_count; k++)
        row->piece_g += c->scale[k] * c->work.groups[k].other_g;
}

bool hk_compare_fill(struct hk_comparing *c, const struct hk_listed *a, const struct hk_listed *b,
                     struct hk_compare_row *row)
{
    struct hk_stand_in in = stand_in_of(c, a, b);
    scale_groups(c, &in);
    double worked_m = worked_length_m(c), length_m = worked_m + c->work.plain_m, longest_m = 0;
    for (size_t k = 0; k < c->work.group_count; k++)
        longest_m = fmax(longest_m, c->scale[k] * c->work.groups[k].longest_m);
    double variance = fill_gradient(c, length_m) + own_variance(c, worked_m, length_m);
    *row = (struct hk_compare_row){.yarn_count = in.count / in.alike,
                                   .spread = sqrt(variance + hk_fit_variance(c->work.fit, c->gradient))};
    double yarn_m = (double)in.alike * length_m;
    row->length_m = hk_range_of(&c->level, yarn_m, row->spread);
    for (size_t i = 0; i < row->yarn_count; i++)
        fill_yarn(c, &in, i, yarn_m, longest_m, variance, &row->yarns[i]);
    add_up(c, row);
    hk_verdict_fill(c, &in, row);
    return !c->scratch.out_of_memory && !c->arena->out_of_memory;
}

bool hk_compare_add(struct hk_comparing *c, const struct hk_listed *a, const struct hk_listed *b)
{
    struct hk_compare_row *rows = hk_arena_grow(c->arena, c->rows, c->row_count, &c->row_capacity, sizeof *rows);
    if (!rows)
        return false;
    c->rows = rows;
    if (!hk_compare_fill(c, a, b, &rows[c->row_count]))
        return false;
    rows[c->row_count].listed = c->row_count;
    c->row_count++;
    return true;
}
