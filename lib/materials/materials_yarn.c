/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Yarn of a published pattern. Amounts are for a reader, who differs from the designer even at the same gauge, by P + e
 * in ln length and ln mass (model/readers.h), and `enough` is their quantile at the chance. Roles in the same yarn and
 * colour are bought together: with w_r their shares of the likely mass, and the posterior of P from the fit,
 *
 *     median: exp(P) sum_r M_r      variance: var ln M + 2 sum_r w_r cov(ln M_r, P) + var P + reader^2 / 2
 *     var ln M = sum_rs w_r w_s cov(ln M_r, ln M_s)       var ln T = var ln M - sum_r w_r (spread_mass_r^2 -
 * spread_r^2)
 *
 * where the second difference is the part of the common grist. Without testers P is 0 and independent of all else, and
 * var P
 * + reader^2 / 2 is reader^2.
 */
#include "materials/materials.h"

#include "base/diags.h"
#include "base/text.h"
#include "model/chance.h"
#include "model/predict.h"
#include "model/readers.h"
#include "need/balls.h"

#include <gsl/gsl_math.h>
#include <inttypes.h>
#include <math.h>

#define HALF_OUNCE 0.5
/* The limits of a small amount, of which a reader has some left over from other work; common practice, no source. */
#define SMALL_G 5
#define SMALL_BALL 0.1
#define PUT_UP_OUNCE_STEP 0.01
#define PUT_UP_STEP                                                                                                    \
    0.1 /* step of label values below PUT_UP_WHOLE g or m; above it whole units, unless tenths are stated */
#define PUT_UP_WHOLE 100

static const struct hk_candidate *plan_of(const struct hk_writing *w, size_t role)
{
    return &w->project->candidates[w->project->roles[role].plan];
}

static bool role_used(const struct hk_writing *w, size_t role)
{
    const struct hk_need *need = &w->needed->face;
    for (size_t i = 0; i < need->role_count; i++) {
        if (need->roles[i].role == role)
            return true;
    }
    return false;
}

static bool same_colour(const struct hk_writing *w, size_t role, size_t other)
{
    const struct hk_candidate *a = plan_of(w, role), *b = plan_of(w, other);
    return a->yarn == b->yarn && hk_text_same(a->colour, b->colour);
}

/* The amounts of all roles in one yarn and colour, in one size. */
struct together {
    double length_m, mass_g;           /* likely */
    double variance, grist;            /* of ln mass; the part of it from the grist */
    double readers;                    /* cov(ln mass, P) */
    double join_g;
};

static struct together take_together(const struct hk_writing *w, size_t size, size_t role)
{
    const struct hk_need *need = &w->needed->face;
    struct together sum = {0};
    for (size_t r = 0; r < need->role_count; r++) {
        const struct hk_need_role *a = &need->roles[r];
        if (a->size != w->first + size || !same_colour(w, a->role, role))
            continue;
        sum.length_m += a->length_m.likely;
        sum.mass_g += a->mass_g.likely;
        sum.join_g = fmax(sum.join_g, a->join_g);
        sum.readers +=
            a->mass_g.likely * hk_readers_covariance(w->needed->fit, w->needed->gradients + r * w->needed->fit->count);
        sum.grist += a->mass_g.likely * (a->spread_mass * a->spread_mass - a->spread * a->spread);
        for (size_t s = 0; s < need->role_count; s++) {
            const struct hk_need_role *b = &need->roles[s];
            if (b->size == w->first + size && same_colour(w, b->role, role))
                sum.variance += a->mass_g.likely * b->mass_g.likely * need->covariance[r * need->role_count + s];
        }
    }
    if (sum.mass_g > 0) {
        sum.variance /= sum.mass_g * sum.mass_g;
        sum.grist /= sum.mass_g;
        sum.readers /= sum.mass_g;
    }
    return sum;
}

/* Returns the quantile for a reader, from the median and variance of the maker's logarithm, and its covariance with P.
 */
static double enough_for_readers(const struct hk_writing *w, double likely, double variance, double readers)
{
    struct hk_level level = hk_level_of(w->needed->face.chance, w->needed->face.margin);
    const struct hk_fit *fit = w->needed->fit;
    double all = variance + 2 * readers + hk_readers_variance(fit);
    return hk_enough(&level, likely * hk_readers_ratio(fit), sqrt(fmax(all, 0)));
}

static void ball_too_small(struct hk_writing *w, size_t size, const struct hk_yarn *yarn)
{
    hk_diags_add(w->diags, HK_CODE_BALL_SMALL, hk_cell_place(yarn->cell, 0),
                 "no number of balls of %s is enough for a reader in size %s", yarn->name,
                 w->project->sizes[w->first + size]);
    hk_diags_hint(w->diags, "a larger put_up would do");
}

/* Returns the balls in graded notation: "9 (10, 11)". */
static const char *balls_write(struct hk_writing *w, const int64_t *balls)
{
    size_t count = w->size_count;
    const char **texts = hk_arena_take(w->arena, count, sizeof *texts);
    for (size_t i = 0; texts && i < count; i++)
        texts[i] = balls[i] ? hk_arena_print(w->arena, "%" PRId64, balls[i]) : "-";
    return texts ? hk_graded_write(texts, count, w->arena) : NULL;
}

/* Returns the names of the roles: "main", "main and trim". */
static const char *roles_write(struct hk_writing *w, size_t role)
{
    const char *names = NULL;
    for (size_t i = role; i < w->project->role_count; i++) {
        if (role_used(w, i) && same_colour(w, i, role))
            names = names ? hk_arena_print(w->arena, "%s and %s", names, w->project->roles[i].name)
                          : w->project->roles[i].name;
    }
    return names ? names : "";
}

static double likely_g(const struct hk_writing *w, size_t role)
{
    double sum_g = 0;
    for (size_t size = 0; size < w->size_count; size++)
        sum_g += take_together(w, size, role).mass_g;
    return sum_g;
}

/* Returns true for the colour of which the design takes most, in all sizes together. */
static bool takes_most(const struct hk_writing *w, size_t role)
{
    double most_g = 0;
    for (size_t i = 0; i < w->project->role_count; i++)
        most_g = fmax(most_g, likely_g(w, i));
    return likely_g(w, role) >= most_g;
}

static bool is_small(const struct hk_writing *w, size_t role, const double *mass_g)
{
    const double put_up_g = w->project->yarns[plan_of(w, role)->yarn].put_up_g;
    for (size_t i = 0; i < w->size_count; i++)
        if (mass_g[i] > fmin(SMALL_G, SMALL_BALL * put_up_g)) /* NAN: a size without it */
            return false;
    return !takes_most(w, role);
}

static void fill_colour(struct hk_writing *w, size_t role, struct hk_materials_colour *colour)
{
    size_t count = w->size_count;
    const struct hk_yarn *yarn = &w->project->yarns[plan_of(w, role)->yarn];
    double *length_m = hk_arena_take(w->arena, count, sizeof *length_m);
    double *mass_g = hk_arena_take(w->arena, count, sizeof *mass_g);
    int64_t *balls = hk_arena_take(w->arena, count, sizeof *balls);
    for (size_t i = 0; length_m && mass_g && balls && i < count; i++) {
        struct together sum = take_together(w, i, role);
        length_m[i] = mass_g[i] = NAN;
        if (!(sum.length_m > 0))
            continue;
        length_m[i] = enough_for_readers(w, sum.length_m, sum.variance - sum.grist, sum.readers);
        mass_g[i] = enough_for_readers(w, sum.mass_g, sum.variance, sum.readers);
        if (!hk_balls_needed(mass_g[i], yarn->put_up_g, sum.join_g, &balls[i]))
            ball_too_small(w, i, yarn);
    }
    if (w->arena->out_of_memory)
        return;
    struct hk_unit_step step = {hk_round_up, w->round_to, w->round_to, false};
    struct hk_unit_step ounces = {hk_round_up, w->round_to, HALF_OUNCE, false};
    *colour = (struct hk_materials_colour){
        .colour = plan_of(w, role)->colour,
        .roles = roles_write(w, role),
        .length = hk_writing_amount(w, length_m, HK_PRINTED_YARN_LENGTH, step),
        .mass = hk_writing_amount(w, mass_g, HK_PRINTED_YARN_MASS, ounces),
        .balls = balls,
        .balls_text = balls_write(w, balls),
        .small = is_small(w, role, mass_g),
    };
}

/* Returns the stated category by its full name, else all that fit the thickness. */
static const char *categories_write(struct hk_writing *w, const struct hk_candidate *plan, const struct hk_yarn *yarn)
{
    const struct hk_catalogue *catalogue = w->project->catalogue;
    const struct hk_category *stated = hk_category_find(catalogue, plan->category);
    const char *all = "";
    if (stated)
        return hk_arena_print(w->arena, "%s %s", stated->name, stated->label);
    if (*plan->category)
        return plan->category;
    for (size_t i = 0; i < catalogue->category_count; i++) {
        const struct hk_category *category = &catalogue->categories[i];
        if (all && hk_category_holds(catalogue, category, HK_MM_PER_INCH / yarn->diameter_mm))
            all = hk_arena_print(w->arena, "%s%s%s %s", all, *all ? " or " : "", category->name, category->label);
    }
    return all;
}

/*
 * Rounds a label value in grams or metres that was stated in ounces or yards: 220 yd are 201 m. Values with at most one
 * decimal are unchanged.
 */
static double label(double stated)
{
    double tenth = stated < 1 ? stated : hk_round_near(stated, PUT_UP_STEP);
    return stated < PUT_UP_WHOLE || fabs(stated - tenth) < 1e-9 * stated ? tenth : hk_round_near(stated, 1);
}

/* Returns a label with the precision of patterns: "50 g / 1.76 oz, 120 m / 131 yd". */
static const char *put_up_write(struct hk_writing *w, const struct hk_yarn *yarn)
{
    const char *g = hk_printed_number(label(yarn->put_up_g), false, w->arena);
    const char *m = hk_printed_number(label(yarn->length_m), false, w->arena);
    const char *oz = hk_printed_number(
        hk_round_near(hk_printed_in(yarn->put_up_g, HK_PRINTED_YARN_MASS, HK_SYSTEM_CUSTOMARY), PUT_UP_OUNCE_STEP), false,
        w->arena);
    const char *yd = hk_printed_number(
        hk_round_near(hk_printed_in(yarn->length_m, HK_PRINTED_YARN_LENGTH, HK_SYSTEM_CUSTOMARY), 1), false, w->arena);
    if (!g || !m || !oz || !yd)
        return NULL;
    const char *mass = hk_writing_units(w, hk_arena_print(w->arena, "%s g", g), hk_arena_print(w->arena, "%s oz", oz));
    const char *length =
        hk_writing_units(w, hk_arena_print(w->arena, "%s m", m), hk_arena_print(w->arena, "%s yd", yd));
    return mass && length ? hk_arena_print(w->arena, "%s, %s", mass, length) : NULL;
}

/* Returns true when an earlier role has this yarn, or with `colour` this yarn in this colour. */
static bool seen_before(const struct hk_writing *w, size_t role, bool colour)
{
    for (size_t i = 0; i < role; i++) {
        bool same = colour ? same_colour(w, i, role) : plan_of(w, i)->yarn == plan_of(w, role)->yarn;
        if (same && role_used(w, i))
            return true;
    }
    return false;
}

/* Writes a yarn. roles: receives a role of each colour, after those of earlier yarns. */
static void fill_yarn(struct hk_writing *w, size_t role, struct hk_materials_yarn *yarn, size_t *roles)
{
    const struct hk_candidate *plan = plan_of(w, role);
    const struct hk_yarn *of = &w->project->yarns[plan->yarn];
    struct hk_materials_colour *colours = hk_arena_take(w->arena, w->project->role_count, sizeof *colours);
    *yarn = (struct hk_materials_yarn){
        .yarn = of->name, .fibre = plan->fibre, .categories = categories_write(w, plan, of),
        .put_up_g = of->put_up_g, .put_up_m = of->length_m, .put_up_text = put_up_write(w, of), .colours = colours,
    };
    for (size_t i = role; colours && i < w->project->role_count; i++) {
        if (plan_of(w, i)->yarn != plan->yarn || !role_used(w, i) || seen_before(w, i, true))
            continue;
        roles[w->face->colour_count++] = i;
        fill_colour(w, i, &colours[yarn->colour_count++]);
    }
}

/* ---- The joint chance ---------------------------------------------------------------------------- */

/* Returns the covariance of ln mass of two colours in one size, for a reader, whose departure is common to both. */
static double covariance_of(const struct hk_writing *w, size_t size, size_t role, size_t other, double mass_g, double other_g)
{
    const struct hk_need *need = &w->needed->face;
    double sum = 0;
    for (size_t r = 0; r < need->role_count; r++) {
        const struct hk_need_role *a = &need->roles[r];
        if (a->size != w->first + size || !same_colour(w, a->role, role))
            continue;
        for (size_t s = 0; s < need->role_count; s++) {
            const struct hk_need_role *b = &need->roles[s];
            if (b->size == w->first + size && same_colour(w, b->role, other))
                sum += a->mass_g.likely * b->mass_g.likely * need->covariance[r * need->role_count + s];
        }
    }
    return sum / (mass_g * other_g) + take_together(w, size, role).readers + take_together(w, size, other).readers +
           hk_readers_variance(w->needed->fit);
}

/* One colour of a size: a role of it, its likely mass and the printed one. */
struct printed_colour {
    size_t role;
    double likely_g, printed_g;
};

static double chance_in(struct hk_writing *w, size_t size, const struct printed_colour *colours, size_t count)
{
    double *limits = hk_arena_take(w->arena, count, sizeof *limits), chance = 1;
    double *covariance = hk_arena_take(w->arena, count * count, sizeof *covariance);
    for (size_t i = 0; limits && covariance && i < count; i++) {
        limits[i] = log(colours[i].printed_g / (colours[i].likely_g * hk_readers_ratio(w->needed->fit)));
        for (size_t k = 0; k < count; k++)
            covariance[i * count + k] =
                covariance_of(w, size, colours[i].role, colours[k].role, colours[i].likely_g, colours[k].likely_g);
    }
    if (limits && covariance && count > 0 && !hk_joint_chance(count, limits, covariance, &chance))
        w->arena->out_of_memory = true; /* the matrix is a covariance, so the only failure is memory */
    return chance;
}

/* Sets the least joint chance of all sizes. `roles` has a role of each colour, in the order of listing. */
static void fill_chance(struct hk_writing *w, const size_t *roles)
{
    struct printed_colour *colours = hk_arena_take(w->arena, w->face->colour_count, sizeof *colours);
    w->face->chance_all = 1;
    for (size_t size = 0; colours && size < w->size_count; size++) {
        size_t count = 0, listed = 0;
        for (size_t y = 0; y < w->face->yarn_count; y++)
            for (size_t c = 0; c < w->face->yarns[y].colour_count; c++, listed++) {
                double likely_g = take_together(w, size, roles[listed]).mass_g;
                if (likely_g > 0)
                    colours[count++] = (struct printed_colour){roles[listed], likely_g,
                                                               w->face->yarns[y].colours[c].mass.metric[size]};
            }
        w->face->chance_all = fmin(w->face->chance_all, chance_in(w, size, colours, count));
    }
}

void hk_materials_yarns(struct hk_writing *w)
{
    size_t *roles = hk_arena_take(w->arena, w->project->role_count, sizeof *roles);
    struct hk_materials_yarn *yarns = hk_arena_take(w->arena, w->project->role_count, sizeof *yarns);
    size_t count = 0;
    for (size_t i = 0; yarns && roles && i < w->project->role_count; i++) {
        if (role_used(w, i) && !seen_before(w, i, false))
            fill_yarn(w, i, &yarns[count++], roles);
    }
    w->face->yarns = yarns;
    w->face->yarn_count = count;
    if (!w->arena->out_of_memory && w->needed->face.margin < 0)
        fill_chance(w, roles);
}
