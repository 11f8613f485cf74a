/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The demand of several garments. Each takes M_i, ln M_i ~ N(ln m_i, c_ii), and they are correlated: c_ik within one
 * making (fit, making, pieces), f_ik = h_i^T C h_k between two makings (the fit only). With mu_i = m_i exp(c_ii / 2)
 * and n makings of each, a role R's sum S_R has
 *
 *     E S_R         = n sum_{i in R} mu_i
 *     cov(S_R, S_Q) = sum_{i in R, k in Q} mu_i mu_k [ n^2 (e^{f_ik} - 1) + n (e^{c_ik} - e^{f_ik}) ]
 *
 * which is exact. The sums are approximated as log-normal with these moments (L. F. Fenton, "The sum of log-normal
 * probability distributions", 1960; from memory): l_RQ = ln(1 + cov / (E S_R E S_Q)), median E S_R exp(-l_RR / 2).
 * tests/test_demand.c compares this with Monte Carlo.
 */
#include "shop/demand.h"

#include "model/predict.h"

#include <math.h>

/* The roles of the need that are summed: those of the sizes asked for. */
struct summing {
    const struct hk_needed *needed;
    const struct hk_need_role *roles; /* the need's, from the first size asked for on */
    size_t first, count;              /* first: the index in the need */
    double times;
    struct hk_demand *demand;
};

/* ---- Swatches ---------------------------------------------------------------------------------------------------- */

/* Returns the role of a strand in a swatch: its own, else the first role planned with its yarn; SIZE_MAX: none. */
static size_t role_of(const struct hk_project *project, const struct hk_strand *strand)
{
    if (strand->role != SIZE_MAX)
        return strand->role;
    for (size_t role = 0; role < project->role_count; role++) {
        if (project->candidates[project->roles[role].plan].yarn == strand->yarn)
            return role;
    }
    return SIZE_MAX;
}

/*
 * Returns the grams by the fit of the strands of one role in a swatch, in grams of the label; role SIZE_MAX: of all
 * roles, in grams on the maker's scale. *length_m: of one strand of each stripe.
 */
static double swatch_g(const struct hk_fit *fit, size_t swatch, size_t role, double *length_m)
{
    const struct hk_project *project = fit->tally->project;
    const struct hk_worked *worked = &fit->tally->swatches[swatch];
    double mass_g = 0;
    *length_m = 0;
    for (size_t u = 0; u < worked->use_count; u++) {
        const struct hk_use *use = &worked->uses[u];
        const struct hk_combination *c = &project->combinations[use->combination];
        struct hk_ground ground = {fit->tally, use->combination, worked->tool_mm, true};
        double worked_m = hk_fit_length_m(fit, NULL, ground, use->kinds, 0, NULL);
        *length_m += worked_m + use->ends[0] * project->tail_m + use->cut_m;
        for (size_t s = 0; s < c->strand_count; s++) {
            double strand_m = worked_m + use->ends[s] * project->tail_m + use->cut_m;
            double g_m = (double)c->strands[s].times * hk_fit_grist_g_m(fit, c->strands[s].yarn);
            if (role == SIZE_MAX)
                mass_g += g_m * hk_fit_weighs(fit, 0, c->strands[s].yarn) * strand_m;
            else if (role_of(project, &c->strands[s]) == role)
                mass_g += g_m * strand_m;
        }
    }
    return mass_g;
}

/*
 * Returns the grams of a role's yarn in swatches. The reading of a swatch is divided among its yarns in the proportions
 * of the fit, and converted to grams of their labels. Swatches without a reading are not included.
 */
static double swatch_use_g(const struct hk_fit *fit, size_t role)
{
    const struct hk_project *project = fit->tally->project;
    double sum_g = 0;
    for (size_t i = 0; project->count_in_swatches && i < project->swatch_count; i++) {
        const struct hk_swatch *swatch = &project->swatches[i];
        double length_m;
        if (!(swatch->mass_g > 0 || swatch->unravelled_m > 0))
            continue;
        double all_g = swatch_g(fit, i, SIZE_MAX, &length_m);
        double part_g = swatch_g(fit, i, role, &length_m);
        sum_g += swatch->mass_g > 0 ? part_g / all_g * swatch->mass_g : part_g / length_m * swatch->unravelled_m;
    }
    return sum_g;
}

/* ---- Sums -------------------------------------------------------------------------------------------------------- */

static double need_covariance(const struct summing *s, size_t i, size_t k)
{
    return s->needed->face.covariance[(s->first + i) * s->needed->face.role_count + s->first + k];
}

/* Returns h_i^T C h_k for all pairs, the covariance between two makings; NULL when out of memory. */
static const double *fit_covariance(const struct summing *s, struct hk_arena *arena)
{
    const struct hk_fit *fit = s->needed->fit;
    const double *gradients = s->needed->gradients + s->first * fit->count;
    double *ch = hk_arena_take(arena, fit->count, sizeof *ch);
    double *covariance = hk_arena_take(arena, s->count * s->count, sizeof *covariance);
    for (size_t i = 0; i < s->count && ch && covariance; i++) {
        hk_fit_along(fit, gradients + i * fit->count, ch);
        for (size_t k = 0; k < s->count; k++)
            covariance[i * s->count + k] = hk_fit_dot(fit, ch, gradients + k * fit->count);
    }
    return ch ? covariance : NULL;
}

/*
 * Computes the moments of several garments, each pair of roles and sizes once, since there may be a thousand roles.
 * Returns false when out of memory.
 */
static bool sum_garments(const struct summing *s, struct hk_arena *arena)
{
    struct hk_demand *demand = s->demand;
    const double *fit = fit_covariance(s, arena);
    size_t *role = hk_arena_take(arena, s->count, sizeof *role); /* its role in the demand */
    double *garments_g = hk_arena_take(arena, s->count, sizeof *garments_g);
    double *mean_g = hk_arena_take(arena, demand->count, sizeof *mean_g);
    if (!fit || !role || !garments_g || !mean_g)
        return false;
    for (size_t i = 0; i < s->count; i++) {
        while (demand->roles[role[i]].role != s->roles[i].role)
            role[i]++;
        garments_g[i] = s->times * s->roles[i].mass_g.likely * exp(need_covariance(s, i, i) / 2);
        mean_g[role[i]] += garments_g[i];
    }
    for (size_t i = 0; i < s->count; i++) {
        for (size_t k = 0; k < s->count; k++) {
            double c = expm1(need_covariance(s, i, k)), f = expm1(fit[i * s->count + k]);
            double share = s->roles[i].size == s->roles[k].size ? f + (c - f) / s->times : c; /* of both means */
            demand->covariance[role[i] * demand->count + role[k]] += garments_g[i] * garments_g[k] * share;
        }
    }
    struct hk_level level = hk_level_of(s->needed->face.chance, s->needed->face.margin);
    for (size_t r = 0; r < demand->count; r++) {
        double *covariance = demand->covariance + r * demand->count;
        for (size_t q = 0; q < demand->count; q++)
            covariance[q] = log1p(covariance[q] / (mean_g[r] * mean_g[q]));
        struct hk_demand_role *of = &demand->roles[r];
        double variance = fmax(covariance[r], 0);
        of->spread = sqrt(variance);
        of->likely_g = mean_g[r] * exp(-variance / 2);
        of->enough_g = hk_enough(&level, of->likely_g, of->spread);
    }
    return true;
}

/* Copies the prediction, for one making of one size. */
static void copy_prediction(const struct summing *s)
{
    for (size_t r = 0; r < s->demand->count; r++) {
        struct hk_demand_role *of = &s->demand->roles[r];
        of->likely_g = s->roles[r].mass_g.likely;
        of->spread = s->roles[r].spread_mass;
        of->enough_g = s->roles[r].mass_g.enough;
        for (size_t q = 0; q < s->demand->count; q++)
            s->demand->covariance[r * s->demand->count + q] = need_covariance(s, r, q);
    }
}

/* Sets the used roles, with what does not depend on the number of garments. */
static void find_roles(const struct summing *s)
{
    for (size_t role = 0; role < s->needed->fit->tally->project->role_count; role++) {
        struct hk_demand_role found = {.role = role};
        bool used = false;
        for (size_t i = 0; i < s->count; i++) {
            if (s->roles[i].role != role)
                continue;
            used = true;
            found.join_g = fmax(found.join_g, s->roles[i].join_g);
            found.g_m = s->roles[i].mass_g.likely / s->roles[i].length_m.likely;
        }
        if (!used)
            continue;
        found.swatch_use_g = swatch_use_g(s->needed->fit, role);
        s->demand->roles[s->demand->count++] = found;
    }
}

bool hk_demand_make(const struct hk_needed *needed, size_t first_size, size_t last_size, int64_t times,
                    struct hk_demand *demand, struct hk_arena *arena)
{
    const struct hk_need *need = &needed->face;
    struct summing s = {.needed = needed, .times = (double)times, .demand = demand};
    while (s.first < need->role_count && need->roles[s.first].size < first_size)
        s.first++;
    while (s.first + s.count < need->role_count && need->roles[s.first + s.count].size <= last_size)
        s.count++;
    s.roles = need->roles + s.first;
    *demand = (struct hk_demand){.roles = hk_arena_take(arena, s.count, sizeof *demand->roles)};
    if (!demand->roles)
        return false;
    find_roles(&s);
    demand->covariance = hk_arena_take(arena, demand->count * demand->count, sizeof *demand->covariance);
    if (!demand->covariance)
        return false;
    if (times > 1 || first_size != last_size)
        return sum_garments(&s, arena);
    copy_prediction(&s);
    return true;
}
