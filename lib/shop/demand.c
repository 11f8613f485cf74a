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

struct summing {
    const struct hk_needed *needed;
    size_t first, last; /* the need's roles of the sizes asked for: first to last - 1 */
    double times;
    double *fit_covariance; /* by these roles */
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

static const struct hk_need_role *need_role(const struct summing *s, size_t i)
{
    return &s->needed->face.roles[s->first + i];
}

static double need_covariance(const struct summing *s, size_t i, size_t k)
{
    return s->needed->face.covariance[(s->first + i) * s->needed->face.role_count + s->first + k];
}

static double mean_g(const struct summing *s, size_t i)
{
    return need_role(s, i)->mass_g.likely * exp(need_covariance(s, i, i) / 2);
}

/* Computes h_i^T C h_k for all pairs, the covariance between two makings. Returns false when out of memory. */
static bool fill_fit_covariance(struct summing *s, struct hk_arena *arena)
{
    const struct hk_fit *fit = s->needed->fit;
    size_t n = fit->count, roles = s->last - s->first;
    double *ch = hk_arena_take(arena, n, sizeof *ch);
    s->fit_covariance = hk_arena_take(arena, roles * roles, sizeof *s->fit_covariance);
    if (!ch || !s->fit_covariance)
        return false;
    for (size_t i = 0; i < roles; i++) {
        const double *h = s->needed->gradients + (s->first + i) * n;
        hk_fit_along(fit, h, ch);
        for (size_t k = 0; k < roles; k++)
            s->fit_covariance[i * roles + k] = hk_fit_dot(fit, ch, s->needed->gradients + (s->first + k) * n);
    }
    return true;
}

/* For one of these roles: its role in the demand, and n times its mean. */
struct share {
    size_t role;
    double mean_g;
};

static struct share *shares_of(const struct summing *s, struct hk_arena *arena)
{
    size_t roles = s->last - s->first;
    struct share *shares = hk_arena_take(arena, roles, sizeof *shares);
    for (size_t i = 0; shares && i < roles; i++) {
        while (s->demand->roles[shares[i].role].role != need_role(s, i)->role)
            shares[i].role++;
        shares[i].mean_g = s->times * mean_g(s, i);
    }
    return shares;
}

/* Returns cov(M_i, M_k) / (mu_i mu_k) of all makings, divided by n^2. */
static double pairs_covariance(const struct summing *s, size_t i, size_t k)
{
    double c = need_covariance(s, i, k);
    if (need_role(s, i)->size != need_role(s, k)->size)
        return expm1(c);
    double f = s->fit_covariance[i * (s->last - s->first) + k];
    return expm1(f) + (expm1(c) - expm1(f)) / s->times;
}

/*
 * Computes the moments, each pair of roles and sizes once, since there may be a thousand roles. Returns false when out
 * of memory.
 */
static bool fill_moments(struct summing *s, struct hk_arena *arena)
{
    struct hk_demand *demand = s->demand;
    size_t roles = s->last - s->first, count = demand->count;
    const struct share *shares = shares_of(s, arena);
    double *mean_g = hk_arena_take(arena, count, sizeof *mean_g);
    if (!shares || !mean_g)
        return false;
    for (size_t i = 0; i < roles; i++) {
        mean_g[shares[i].role] += shares[i].mean_g;
        for (size_t k = 0; k < roles; k++)
            demand->covariance[shares[i].role * count + shares[k].role] +=
                shares[i].mean_g * shares[k].mean_g * pairs_covariance(s, i, k);
    }
    for (size_t r = 0; r < count; r++) {
        for (size_t q = 0; q < count; q++)
            demand->covariance[r * count + q] = log1p(demand->covariance[r * count + q] / (mean_g[r] * mean_g[q]));
        double variance = fmax(demand->covariance[r * count + r], 0);
        demand->roles[r].spread = sqrt(variance);
        demand->roles[r].likely_g = mean_g[r] * exp(-variance / 2);
    }
    return true;
}

/* Copies the prediction, for one making of one size. */
static void copy_prediction(struct summing *s)
{
    struct hk_demand *demand = s->demand;
    for (size_t r = 0; r < demand->count; r++) {
        demand->roles[r].likely_g = need_role(s, r)->mass_g.likely;
        demand->roles[r].spread = need_role(s, r)->spread_mass;
        demand->roles[r].enough_g = need_role(s, r)->mass_g.enough;
        for (size_t q = 0; q < demand->count; q++)
            demand->covariance[r * demand->count + q] = need_covariance(s, r, q);
    }
}

static void fill_enough(struct summing *s)
{
    struct hk_level level = hk_level_of(s->needed->face.chance, s->needed->face.margin);
    for (size_t r = 0; r < s->demand->count; r++)
        s->demand->roles[r].enough_g = hk_enough(&level, s->demand->roles[r].likely_g, s->demand->roles[r].spread);
}

static void find_roles(struct summing *s)
{
    const struct hk_project *project = s->needed->fit->tally->project;
    for (size_t role = 0; role < project->role_count; role++) {
        struct hk_demand_role found = {.role = role};
        bool used = false;
        for (size_t i = 0; i < s->last - s->first; i++) {
            if (need_role(s, i)->role != role)
                continue;
            used = true;
            found.join_g = fmax(found.join_g, need_role(s, i)->join_g);
            found.g_m = need_role(s, i)->mass_g.likely / need_role(s, i)->length_m.likely;
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
    s.last = s.first;
    while (s.last < need->role_count && need->roles[s.last].size <= last_size)
        s.last++;
    *demand = (struct hk_demand){.roles = hk_arena_take(arena, s.last - s.first, sizeof *demand->roles)};
    if (!demand->roles)
        return false;
    find_roles(&s);
    demand->covariance = hk_arena_take(arena, demand->count * demand->count, sizeof *demand->covariance);
    if (!demand->covariance)
        return false;
    if (times == 1 && first_size == last_size) {
        copy_prediction(&s);
        return true;
    }
    if (!fill_fit_covariance(&s, arena) || !fill_moments(&s, arena))
        return false;
    fill_enough(&s);
    return true;
}
