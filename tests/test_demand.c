/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Sums of garments compared with a simulation of every garment, and yarn used by swatches compared with shares worked
 * by hand.
 */
#include "support.h"

#include "shop/demand.h"
#include "model/chance.h"
#include "handmade.h"

#include <gsl/gsl_math.h>
#include <gsl/gsl_randist.h>
#include <stdlib.h>

#define DRAWS ((size_t)40000)
#define MAKINGS 3

/* Sizes S and M; both use main, S alone the contrast. Nothing is weighed, so the fit's covariance is diagonal. */
static void start(struct handmade *h)
{
    handmade_start(h, 2, 2);
    h->project.tail_m = 0.15;
    size_t main = handmade_yarn(h, "main", 640), contrast = handmade_yarn(h, "contrast", 725);
    handmade_line(h, 0, 0, 5, 1, (struct handmade_use){main, SC, 10000, 20, 0, 0});
    handmade_line(h, 0, 1, 5, 2, (struct handmade_use){contrast, SC, 1500, 60, 0, 0});
    handmade_line(h, 1, 0, 5, 1, (struct handmade_use){main, SC, 14000, 30, 0, 0});
}

struct made {
    struct handmade_answer from;
    const struct hk_needed *needed;
    struct hk_arena arena;
    struct hk_demand demand;
};

/* Returns the demand for a number of garments of each size from the first to the last. */
static struct made make(const struct handmade *h, size_t last_size, int64_t times)
{
    struct made made = {.from = handmade_predict(h, hk_need_defaults())};
    made.needed = (const struct hk_needed *)made.from.need;
    assert_true(hk_demand_make(made.needed, 0, last_size, times, &made.demand, &made.arena));
    return made;
}

static void done(struct made made)
{
    hk_arena_free(&made.arena);
    handmade_done(made.from);
}

/*
 * Returns the yarn that the swatches of a design used in each of its two roles. In the air of the room a gram of the
 * label weighs exp(H) grams.
 */
static void assert_swatch_use(const struct handmade *h, bool weighed, double main_g, double contrast_g)
{
    struct made made = make(h, 0, 1);
    double main_weighs = weighed ? hk_fit_weighs(made.from.fit, 0, 0) : 1;
    double contrast_weighs = weighed ? hk_fit_weighs(made.from.fit, 0, 1) : 1;
    assert_close(made.demand.roles[0].swatch_use_g, main_g / main_weighs, 1e-9, 0);
    assert_close(made.demand.roles[1].swatch_use_g, contrast_g / contrast_weighs, 1e-9, 0);
    done(made);
}

static void one_making_of_one_size_is_the_prediction(void **state)
{
    (void)state;
    struct handmade h;
    start(&h);
    struct made made = make(&h, 0, 1);
    assert_int_equal(made.demand.count, 2);
    for (size_t r = 0; r < 2; r++) {
        assert_int_equal(made.demand.roles[r].role, r);
        assert_close(made.demand.roles[r].likely_g, made.from.need->roles[r].mass_g.likely, 0, 0);
        assert_close(made.demand.roles[r].enough_g, made.from.need->roles[r].mass_g.enough, 0, 0);
        assert_close(made.demand.roles[r].spread, made.from.need->roles[r].spread_mass, 0, 0);
        assert_close(made.demand.roles[r].swatch_use_g, 0, 0, 0);
    }
    assert_close(made.demand.covariance[1], made.from.need->covariance[1], 0, 0);
    done(made);
}

/*
 * One draw of all variables: the uncertainty of the fit is common to all makings, and each making has its own day and
 * pieces.
 */
struct drawing {
    const struct hk_needed *needed;
    gsl_rng *rng;
    double *departures;
};

/* The effect of one making's own day and pieces on its roles: the covariance of the prediction less that of the fit. */
static void draw_making(const struct drawing *d, size_t first, size_t count, double *sums)
{
    const struct hk_need *need = &d->needed->face;
    size_t n = d->needed->fit->count;
    double own[2][2], ln[2];
    for (size_t r = 0; r < count; r++) {
        const double *h = d->needed->gradients + (first + r) * n;
        ln[r] = log(need->roles[first + r].mass_g.likely);
        for (size_t p = 0; p < n; p++)
            ln[r] += h[p] * d->departures[p];
        for (size_t s = 0; s < count; s++) {
            const double *k = d->needed->gradients + (first + s) * n;
            own[r][s] = need->covariance[(first + r) * need->role_count + first + s];
            for (size_t p = 0; p < n; p++)
                own[r][s] -= h[p] * k[p] * d->needed->fit->covariance[p * n + p];
        }
    }
    double z0 = gsl_ran_gaussian(d->rng, 1), z1 = gsl_ran_gaussian(d->rng, 1), root = sqrt(own[0][0]);
    ln[0] += root * z0;
    if (count > 1)
        ln[1] += own[1][0] / root * z0 + sqrt(own[1][1] - own[1][0] * own[1][0] / own[0][0]) * z1;
    for (size_t r = 0; r < count; r++)
        sums[need->roles[first + r].role] += exp(ln[r]);
}

static int compare(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/*
 * Three makings of each size, drawn 40,000 times: mean to half a percent, the 5%, 50% and 95% quantiles to one percent
 * (the mean of 40,000 draws of a spread of 0.2 is uncertain by 0.1%, a 95% quantile by 0.25%; the rest allows for the
 * log-normal approximation).
 */
static void sums_agree_with_drawing_every_garment(void **state)
{
    (void)state;
    struct handmade h;
    start(&h);
    struct made made = make(&h, 1, MAKINGS);
    const struct hk_fit *fit = made.from.fit;
    struct drawing d = {made.needed, hk_random_new(20250), calloc(fit->count, sizeof(double))};
    double *sums[2] = {calloc(DRAWS, sizeof(double)), calloc(DRAWS, sizeof(double))}, cross = 0, mean[2] = {0};
    for (size_t i = 0; i < DRAWS; i++) {
        double sum[2] = {0};
        for (size_t p = 0; p < fit->count; p++)
            d.departures[p] = gsl_ran_gaussian(d.rng, sqrt(fit->covariance[p * fit->count + p]));
        for (size_t k = 0; k < MAKINGS; k++) {
            draw_making(&d, 0, 2, sum);
            draw_making(&d, 2, 1, sum);
        }
        for (size_t r = 0; r < 2; r++) {
            sums[r][i] = sum[r];
            mean[r] += sum[r] / (double)DRAWS;
        }
    }
    for (size_t i = 0; i < DRAWS; i++)
        cross += (sums[0][i] / mean[0] - 1) * (sums[1][i] / mean[1] - 1) / (double)DRAWS;
    for (size_t r = 0; r < 2; r++) {
        const struct hk_demand_role *role = &made.demand.roles[r];
        static const double chances[] = {0.05, 0.5, 0.95};
        qsort(sums[r], DRAWS, sizeof(double), compare);
        assert_close(role->likely_g * exp(role->spread * role->spread / 2), mean[r], 0.005, 0);
        for (size_t q = 0; q < 3; q++)
            assert_close(role->likely_g * exp(role->spread * hk_normal_quantile(chances[q])),
                         sums[r][(size_t)(chances[q] * (double)DRAWS)], 0.01, 0);
    }
    assert_close(expm1(made.demand.covariance[1]), cross, 0.04, 0);
    /*
     * days average out: three makings are a little more certain than one, but much less than sqrt(3) times, since the
     * maker is the same
     */
    assert_true(made.demand.roles[1].spread < made.from.need->roles[1].spread_mass);
    assert_true(made.demand.roles[1].spread > 0.95 * made.from.need->roles[1].spread_mass);
    for (size_t r = 0; r < 2; r++)
        free(sums[r]);
    free(d.departures);
    gsl_rng_free(d.rng);
    done(made);
}

/* The join is computed for the garment with the costliest join: rows of 30 stitches in M, of 20 in S. */
static void a_join_costs_what_it_costs_where_it_costs_most(void **state)
{
    (void)state;
    struct handmade h;
    start(&h);
    struct made made = make(&h, 1, 1);
    assert_close(made.demand.roles[0].join_g, made.from.need->roles[2].join_g, 0, 0);
    assert_true(made.from.need->roles[2].join_g > made.from.need->roles[0].join_g);
    done(made);
}

/*
 * A swatch of both yarns held together weighed 12 g: each is 50 g = 100 m, so by the fit 6 g of each. A swatch
 * unravelled instead, to 20 m, used 10 g of each.
 */
static void what_swatches_ate_is_shared_among_their_yarns(void **state)
{
    (void)state;
    struct handmade h;
    start(&h);
    size_t both = handmade_together(&h, 0, 1, 1, 1, 2.8);
    handmade_swatch(&h, "both", 5, 12, 0.1, (struct handmade_use){both, SC, 200, 20, 2, 0});
    h.project.count_in_swatches = true;
    assert_swatch_use(&h, true, 6, 6);
    h.swatches[0].mass_g = 0; /* it has no reading: excluded */
    assert_swatch_use(&h, false, 0, 0);
    h.swatches[0].unravelled_m = 20; /* two strands: 40 m in total */
    assert_swatch_use(&h, false, 10, 10);
}

/* A swatch without a role counts for the first role with its yarn, or for none. */
static void a_swatch_in_a_bare_yarn_is_of_the_first_role_in_it(void **state)
{
    (void)state;
    struct handmade h;
    start(&h);
    size_t bare = handmade_together(&h, 1, 1, 0, 0, 2);
    h.strands[bare][0].role = SIZE_MAX;
    handmade_swatch(&h, "bare", 5, 12, 0.1, (struct handmade_use){bare, SC, 200, 20, 2, 0});
    h.project.count_in_swatches = true;
    assert_swatch_use(&h, true, 0, 12);
    h.yarns[2] = h.yarns[1];
    h.yarns[2].name = "left over";
    h.project.yarn_count = 3;
    h.strands[bare][0].yarn = 2;
    assert_swatch_use(&h, false, 0, 0);
}

/* Three makings with a margin of 10% are 1.1 times the likely amount of three, at any chance. */
static void a_flat_margin_holds_for_several_makings(void **state)
{
    (void)state;
    struct handmade h;
    start(&h);
    h.project.margin = 0.1;
    struct made made = make(&h, 1, MAKINGS);
    assert_close(made.demand.roles[0].enough_g, 1.1 * made.demand.roles[0].likely_g, 1e-12, 0);
    done(made);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(one_making_of_one_size_is_the_prediction),
        cmocka_unit_test(sums_agree_with_drawing_every_garment),
        cmocka_unit_test(a_join_costs_what_it_costs_where_it_costs_most),
        cmocka_unit_test(what_swatches_ate_is_shared_among_their_yarns),
        cmocka_unit_test(a_swatch_in_a_bare_yarn_is_of_the_first_role_in_it),
        cmocka_unit_test(a_flat_margin_holds_for_several_makings),
    };
    return cmocka_run_group_tests_name("bulk", tests, NULL, NULL);
}
