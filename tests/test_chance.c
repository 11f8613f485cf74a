/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support.h"

#include "model/chance.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_randist.h>
#include <math.h>
#include <stdlib.h>

/* Three standard errors of a joint chance of one half from 100,000 draws. */
#define MONTE_CARLO 0.005

/* Tables of the normal distribution: 95% lies below 1.644854, 97.5% below 1.959964. */
static void quantiles_are_those_of_the_tables(void **state)
{
    (void)state;
    assert_close(hk_normal_quantile(0.95), 1.644854, 0, 5e-7);
    assert_close(hk_normal_quantile(0.975), 1.959964, 0, 5e-7);
    assert_close(hk_normal_quantile(0.5), 0, 0, 1e-16);
    for (double chance = 0.001; chance < 1; chance += 0.037)
        assert_close(hk_normal_chance(hk_normal_quantile(chance)), chance, 1e-12, 0);
}

/* Four rectangular inputs of mean 0 and sd 1; the last has the sd `last`. */
static void draw_rectangular(const void *context, gsl_rng *rng, double *inputs)
{
    double last = *(const double *)context, half = sqrt(3);
    for (int i = 0; i < 4; i++)
        inputs[i] = gsl_ran_flat(rng, -half, half) * (i == 3 ? last : 1);
}

static double sum_of_four(const void *context, const double *inputs)
{
    (void)context;
    return inputs[0] + inputs[1] + inputs[2] + inputs[3];
}

#define DRAWS 400000

/* Returns the sorted sums; owner: the caller (free). */
static double *propagate_sum(double last, uint64_t seed)
{
    struct hk_propagation p = {4, DRAWS, draw_rectangular, sum_of_four, &last};
    double *sorted = malloc(DRAWS * sizeof *sorted);
    gsl_rng *rng = hk_random_new(seed);
    assert_non_null(sorted);
    assert_non_null(rng);
    assert_true(hk_propagate(&p, rng, sorted));
    gsl_rng_free(rng);
    return sorted;
}

static double quantile(const double *sorted, double chance)
{
    return sorted[(size_t)(chance * DRAWS)];
}

/*
 * JCGM 101:2008 clause 9.2, the additive model with four rectangular inputs. Exact ends of the 95% interval (the closed
 * form of the sum): +-2 sqrt(3) (2 - (3/5)^(1/4)) = +-3.879407, where a normal law would say 3.92; +-17.0158 with one
 * input of sd 10.
 */
static void sum_of_rectangular_inputs_is_that_of_jcgm_101(void **state)
{
    (void)state;
    const struct { double last, end; } cases[] = {{1, 3.879407}, {10, 17.0158}};
    for (size_t i = 0; i < 2; i++) {
        double *sorted = propagate_sum(cases[i].last, 7);
        assert_close(quantile(sorted, 0.975), cases[i].end, 0.004, 0);
        assert_close(quantile(sorted, 0.025), -cases[i].end, 0.004, 0);
        for (size_t k = 1; k < DRAWS; k++)
            assert_true(sorted[k - 1] <= sorted[k]);
        free(sorted);
    }
}

static void same_seed_gives_the_same_draws(void **state)
{
    (void)state;
    double *a = propagate_sum(1, 5), *b = propagate_sum(1, 5), *c = propagate_sum(1, 6);
    assert_memory_equal(a, b, DRAWS * sizeof *a);
    assert_memory_not_equal(a, c, DRAWS * sizeof *a);
    free(a);
    free(b);
    free(c);
}

static double no_number(const void *context, const double *inputs)
{
    (void)context;
    return sqrt(-1 - fabs(inputs[0]));
}

static void output_that_is_no_number_leaves_the_draws_alone(void **state)
{
    (void)state;
    double last = 1, sorted[4] = {9, 9, 9, 9};
    struct hk_propagation p = {4, 4, draw_rectangular, no_number, &last};
    gsl_rng *rng = hk_random_new(1);
    assert_non_null(rng);
    assert_false(hk_propagate(&p, rng, sorted));
    for (int i = 0; i < 4; i++)
        assert_true(sorted[i] == 9);
    gsl_rng_free(rng);
}

static double joint(size_t count, const double *limits, const double *covariance)
{
    double chance = -1;
    assert_true(hk_joint_chance(count, limits, covariance, &chance));
    return chance;
}

/* One dimension: the closed form. 3.289707 is twice 1.644854. */
static void chance_of_one_is_exact(void **state)
{
    (void)state;
    assert_close(joint(1, (const double[]){3.28970725390295}, (const double[]){4}), 0.95, 1e-12, 0);
}

static void chance_of_none_is_certain(void **state)
{
    (void)state;
    assert_close(joint(0, NULL, NULL), 1, 0, 0);
}

/* 0.9 * 0.8 * 0.95. */
static void independent_chances_multiply(void **state)
{
    (void)state;
    const double limits[] = {hk_normal_quantile(0.9), 3 * hk_normal_quantile(0.8), hk_normal_quantile(0.95)};
    const double covariance[] = {1, 0, 0, 0, 9, 0, 0, 0, 1};
    assert_close(joint(3, limits, covariance), 0.684, 0, MONTE_CARLO);
}

/* Two equal rows: the matrix is singular, and the tighter limit decides. */
static void perfectly_correlated_have_the_smallest_chance(void **state)
{
    (void)state;
    const double limits[] = {hk_normal_quantile(0.9), hk_normal_quantile(0.8)}, alike[] = {1, 1, 1, 1};
    assert_close(joint(2, limits, alike), 0.8, 0, MONTE_CARLO);
    const double three[] = {1, 1, 0.5, 1, 1, 0.5, 0.5, 0.5, 1}, zero[] = {0, 0, 0};
    assert_close(joint(3, zero, three), 1.0 / 3, 0, MONTE_CARLO); /* orthant of the two that differ: 1/4 + 1/12 */
}

/* P(x < 0, y < 0) = 1/4 + asin(rho) / (2 pi) (W. F. Sheppard, 1899; from memory), any variances. */
static void orthant_is_sheppards(void **state)
{
    (void)state;
    for (double rho = -0.9; rho < 1; rho += 0.3) {
        const double covariance[] = {4, 2 * rho, 2 * rho, 1}, limits[] = {0, 0};
        assert_close(joint(2, limits, covariance), 0.25 + asin(rho) / (2 * 3.14159265358979), 0, MONTE_CARLO);
    }
}

/*
 * Three dimensions: 1/8 + sum asin(rho) / (4 pi), from Sheppard's formula by inclusion and exclusion. Equal variables
 * would give 1/2.
 */
static void nearly_alike_is_not_alike(void **state)
{
    (void)state;
    const double r = 0.996, pi = 3.14159265358979, limits[] = {0, 0, 0};
    const double two[] = {1, r, r, 1}, three[] = {1, r, r, r, 1, r, r, r, 1};
    assert_close(joint(2, limits, two), 0.25 + asin(r) / (2 * pi), 0, MONTE_CARLO);
    assert_close(joint(3, limits, three), 0.125 + 3 * asin(r) / (4 * pi), 0, MONTE_CARLO);
}

/* Mirrored: the chance that x and -x are both below 1 sd is 2 * 0.841345 - 1. The lower bound alone shows it. */
static void opposites_share_what_is_left(void **state)
{
    (void)state;
    const double covariance[] = {1, -1, -1, 1}, limits[] = {1, 1};
    assert_close(joint(2, limits, covariance), 0.6826895, 0, 1e-6);
}

static void chance_never_falls_when_a_limit_rises(void **state)
{
    (void)state;
    const double covariance[] = {1, 0.6, 0.3, 0.6, 1, 0.5, 0.3, 0.5, 1};
    double before = 0;
    for (double limit = -3; limit < 4; limit += 0.05) {
        const double limits[] = {1.2, limit, 0.9};
        double chance = joint(3, limits, covariance);
        assert_true(chance >= before);
        assert_true(chance <= hk_normal_chance(limit));
        assert_true(chance <= hk_normal_chance(0.9));
        assert_true(chance == joint(3, limits, covariance));
        before = chance;
    }
}

/*
 * n variables with correlation 1/2 are (y_i - y_0) / sqrt 2 with y independent and identically distributed: all are
 * below 0 if y_0 is the largest of n + 1, so the chance is 1 / (n + 1). With 400 variables there are 12,500 draws.
 */
static void many_limits_take_fewer_draws(void **state)
{
    (void)state;
    enum { MANY = 400 };
    static double covariance[MANY * MANY], limits[MANY];
    for (size_t i = 0; i < MANY; i++)
        for (size_t k = 0; k < MANY; k++)
            covariance[i * MANY + k] = i == k ? 1 : 0.5;
    assert_close(joint(MANY, limits, covariance), 1.0 / (MANY + 1), 0, 3 * sqrt(1.0 / (MANY + 1) / 12500));
    for (size_t i = 0; i < MANY; i++)
        limits[i] = i == 7 ? 1 : 9;
    assert_close(joint(MANY, limits, covariance), hk_normal_chance(1), 0, 3 * 0.37 / sqrt(12500));
}

/* Without spread the chance is 0 or 1. */
static void certainty_is_within_or_not(void **state)
{
    (void)state;
    const double covariance[] = {1, 0, 0, 0}, within[] = {1, 0}, beyond[] = {1, -1e-9};
    assert_close(joint(2, within, covariance), hk_normal_chance(1), 0, MONTE_CARLO);
    assert_close(joint(2, beyond, covariance), 0, 0, 0);
}

static void matrix_that_is_no_covariance_leaves_the_chance_alone(void **state)
{
    (void)state;
    double chance = 9;
    const double limits[] = {0, 0, 0};
    assert_false(hk_joint_chance(2, limits, (const double[]){1, 2, 2, 1}, &chance));
    assert_false(hk_joint_chance(1, limits, (const double[]){-1}, &chance));
    assert_false(hk_joint_chance(1, limits, (const double[]){INFINITY}, &chance));
    /* the first two are equal, and correlated positively and negatively with the third */
    assert_false(hk_joint_chance(3, limits, (const double[]){1, 1, 0.9, 1, 1, -0.9, 0.9, -0.9, 1}, &chance));
    assert_false(hk_joint_chance(2, limits, (const double[]){1, NAN, NAN, 1}, &chance));
    assert_false(hk_joint_chance(1, (const double[]){NAN}, (const double[]){1}, &chance));
    assert_true(chance == 9);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(quantiles_are_those_of_the_tables),
        cmocka_unit_test(sum_of_rectangular_inputs_is_that_of_jcgm_101),
        cmocka_unit_test(same_seed_gives_the_same_draws),
        cmocka_unit_test(output_that_is_no_number_leaves_the_draws_alone),
        cmocka_unit_test(chance_of_one_is_exact),
        cmocka_unit_test(chance_of_none_is_certain),
        cmocka_unit_test(independent_chances_multiply),
        cmocka_unit_test(perfectly_correlated_have_the_smallest_chance),
        cmocka_unit_test(orthant_is_sheppards),
        cmocka_unit_test(nearly_alike_is_not_alike),
        cmocka_unit_test(many_limits_take_fewer_draws),
        cmocka_unit_test(opposites_share_what_is_left),
        cmocka_unit_test(chance_never_falls_when_a_limit_rises),
        cmocka_unit_test(certainty_is_within_or_not),
        cmocka_unit_test(matrix_that_is_no_covariance_leaves_the_chance_alone),
    };
    return cmocka_run_group_tests_name("chance", tests, handler_off, NULL);
}
