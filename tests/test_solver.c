/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Certified values: NIST Statistical Reference Datasets, as quoted in the test data of GSL 2.7. Certified standard
 * errors use the residual variance: sqrt((J^T J)^-1 * RSS / degrees of freedom).
 */
#include "support.h"

#include "model/solver.h"

#include <gsl/gsl_errno.h>
#include <math.h>

#define CERTIFIED 1e-7

enum curve { LINE, SATURATION, LOGISTIC };

struct data {
    enum curve curve;
    size_t count, parameters;
    double x[16], y[16];
};

static const struct data no_int1 = {LINE, 11, 1, {60, 61, 62, 63, 64, 65, 66, 67, 68, 69, 70},
                                    {130, 131, 132, 133, 134, 135, 136, 137, 138, 139, 140}};
static const struct data no_int2 = {LINE, 3, 1, {4, 5, 6}, {3, 4, 4}};
static const struct data box_bod = {SATURATION, 6, 2, {1, 2, 3, 5, 7, 10}, {109, 149, 149, 191, 213, 224}};
static const struct data rat42 = {LOGISTIC, 9, 3, {9, 14, 21, 28, 42, 57, 63, 70, 79},
                                  {8.93, 10.80, 18.59, 22.33, 39.35, 56.11, 61.73, 64.62, 67.08}};

static bool curve_residual(const void *context, const double *b, double *r)
{
    const struct data *d = context;
    for (size_t i = 0; i < d->count; i++) {
        double f = 0;
        switch (d->curve) {
        case LINE: f = b[0] * d->x[i]; break;
        case SATURATION: f = b[0] * (1 - exp(-b[1] * d->x[i])); break;
        case LOGISTIC: f = b[0] / (1 + exp(b[1] - b[2] * d->x[i])); break;
        }
        r[i] = f - d->y[i];
    }
    return true;
}

static bool curve_jacobian(const void *context, const double *b, double *j)
{
    const struct data *d = context;
    for (size_t i = 0; i < d->count; i++) {
        double *row = j + i * d->parameters, e = 0;
        switch (d->curve) {
        case LINE:
            row[0] = d->x[i];
            break;
        case SATURATION:
            e = exp(-b[1] * d->x[i]);
            row[0] = 1 - e;
            row[1] = b[0] * d->x[i] * e;
            break;
        case LOGISTIC:
            e = exp(b[1] - b[2] * d->x[i]);
            row[0] = 1 / (1 + e);
            row[1] = -b[0] * e / ((1 + e) * (1 + e));
            row[2] = -row[1] * d->x[i];
            break;
        }
    }
    return true;
}

static struct hk_least_squares curve_problem(const struct data *d)
{
    return (struct hk_least_squares){d->parameters, d->count, curve_residual, curve_jacobian, d};
}

struct certified {
    double value[3], error[3], sum_of_squares;
};

static void assert_certified(const struct data *d, const double *start, const struct certified *certified)
{
    struct hk_least_squares problem = curve_problem(d);
    double b[3] = {start[0], start[1], start[2]}, covariance[9];
    struct hk_solution solution = {0};
    assert_int_equal(hk_least_squares_solve(&problem, b, covariance, &solution), HK_SOLVED_CONVERGED);
    assert_close(solution.sum_of_squares, certified->sum_of_squares, CERTIFIED, 0);
    double variance = solution.sum_of_squares / (double)(d->count - d->parameters);
    for (size_t i = 0; i < d->parameters; i++) {
        assert_close(b[i], certified->value[i], CERTIFIED, 0);
        assert_close(sqrt(covariance[i * d->parameters + i] * variance), certified->error[i], CERTIFIED, 0);
    }
}

static void noint1_is_as_certified(void **state)
{
    (void)state;
    const struct certified certified = {{2.07438016528926}, {0.0165289256198347}, 127.272727272727};
    assert_certified(&no_int1, (const double[]){0, 0, 0}, &certified);
}

static void noint2_is_as_certified(void **state)
{
    (void)state;
    const struct certified certified = {{0.727272727272727}, {0.0420827318078432}, 0.272727272727273};
    assert_certified(&no_int2, (const double[]){0, 0, 0}, &certified);
}

static void boxbod_is_as_certified(void **state)
{
    (void)state;
    const struct certified certified = {{213.80940889, 0.54723748542}, {12.354515176, 0.10455993237}, 1168.0088766};
    assert_certified(&box_bod, (const double[]){100, 0.75, 0}, &certified);
}

/*
 * NIST's other start is deliberately hard: a step leads to a point where the second parameter has no effect. Refused,
 * not guessed.
 */
static void boxbod_from_its_hard_start_leaves_outputs_alone(void **state)
{
    (void)state;
    struct hk_least_squares problem = curve_problem(&box_bod);
    double b[2] = {1, 1}, covariance[4] = {9, 9, 9, 9};
    struct hk_solution solution = {0};
    assert_int_equal(hk_least_squares_solve(&problem, b, covariance, &solution), HK_SOLVED_NOT_CONVERGED);
    assert_true(b[0] == 1 && b[1] == 1 && covariance[0] == 9 && covariance[3] == 9);
    assert_true(solution.iterations > 0);
}

static void rat42_is_as_certified(void **state)
{
    (void)state;
    /* standard errors: NIST's Rat42 page, from memory */
    const struct certified certified = {
        {72.462237576, 2.6180768402, 0.067359200066}, {1.7340283401, 0.088295217536, 0.0034465663377}, 8.0565229338};
    assert_certified(&rat42, (const double[]){100, 1, 0.1}, &certified);
    assert_certified(&rat42, (const double[]){75, 2.5, 0.07}, &certified);
}

/* GSL's driver calls this a failure. */
static void start_that_is_the_optimum_is_solved_at_once(void **state)
{
    (void)state;
    const struct data exact = {LINE, 2, 1, {1, 2}, {0.5, 1}};
    struct hk_least_squares problem = curve_problem(&exact);
    double b = 0.5, variance = 0;
    struct hk_solution solution = {0};
    assert_int_equal(hk_least_squares_solve(&problem, &b, &variance, &solution), HK_SOLVED_CONVERGED);
    assert_int_equal(solution.iterations, 0);
    assert_close(b, 0.5, 0, 0);
    assert_close(variance, 0.2, 1e-15, 0); /* 1 / (1 + 4) */
}

/* Two parameters that occur only as a sum: an infinite variance. */
static bool sum_residual(const void *context, const double *x, double *r)
{
    (void)context;
    r[0] = x[0] + x[1] - 3;
    r[1] = 2 * r[0];
    return true;
}

static bool sum_jacobian(const void *context, const double *x, double *j)
{
    (void)context;
    (void)x;
    j[0] = j[1] = 1;
    j[2] = j[3] = 2;
    return true;
}

static void parameter_that_nothing_holds_leaves_outputs_alone(void **state)
{
    (void)state;
    struct hk_least_squares problem = {2, 2, sum_residual, sum_jacobian, NULL};
    double x[2] = {7, 8}, covariance[4] = {9, 9, 9, 9};
    struct hk_solution solution = {0};
    assert_int_equal(hk_least_squares_solve(&problem, x, covariance, &solution), HK_SOLVED_NOT_FINITE);
    assert_true(x[0] == 7 && x[1] == 8 && covariance[0] == 9 && covariance[3] == 9);
}

static bool nan_residual(const void *context, const double *x, double *r)
{
    (void)context;
    r[0] = sqrt(x[0] - 5); /* not a number from the start */
    r[1] = x[0];
    return true;
}

/* Undefined below 1, where the first full step from 10 leads: r = sqrt(x - 1) - 1, optimum 2. */
static bool root_residual(const void *context, const double *x, double *r)
{
    (void)context;
    r[0] = sqrt(x[0] - 1) - 1;
    return x[0] > 1;
}

static bool root_jacobian(const void *context, const double *x, double *j)
{
    (void)context;
    j[0] = 0.5 / sqrt(x[0] - 1);
    return true;
}

static void step_to_where_there_is_no_value_is_taken_back(void **state)
{
    (void)state;
    struct hk_least_squares problem = {1, 1, root_residual, root_jacobian, NULL};
    double x = 10, variance = 0;
    struct hk_solution solution = {0};
    assert_int_equal(hk_least_squares_solve(&problem, &x, &variance, &solution), HK_SOLVED_CONVERGED);
    assert_close(x, 2, 1e-9, 0);
    assert_close(variance, 4, 1e-9, 0); /* J = 1/2 */
}

/*
 * x + y = 1, with delta y = 0 as a second equation: the variance of x is 1 + 1 / delta^2, of which a double holds 16
 * digits.
 */
static bool nearly_sum_residual(const void *context, const double *x, double *r)
{
    const double *delta = context;
    r[0] = x[0] + x[1] - 1;
    r[1] = *delta * x[1];
    return true;
}

static bool nearly_sum_jacobian(const void *context, const double *x, double *j)
{
    (void)x;
    const double *delta = context;
    j[0] = j[1] = 1;
    j[2] = 0;
    j[3] = *delta;
    return true;
}

/* A loss of 12 digits leaves 4, and a loss of 14 leaves at most 2: too few for a variance. */
static void variance_of_mere_rounding_is_none(void **state)
{
    (void)state;
    double delta = 1e-6, x[2] = {1, 0}, covariance[4];
    struct hk_least_squares problem = {2, 2, nearly_sum_residual, nearly_sum_jacobian, &delta};
    struct hk_solution solution = {0};
    assert_int_equal(hk_least_squares_solve(&problem, x, covariance, &solution), HK_SOLVED_CONVERGED);
    assert_close(covariance[0], 1 + 1e12, 1e-4, 0);
    delta = 1e-7;
    assert_int_equal(hk_least_squares_solve(&problem, x, covariance, &solution), HK_SOLVED_NOT_FINITE);
}

static bool refused(const void *context, const double *x, double *r)
{
    (void)context;
    (void)x;
    (void)r;
    return false;
}

static void values_that_are_no_numbers_leave_outputs_alone(void **state)
{
    (void)state;
    struct hk_least_squares problem = {1, 2, nan_residual, refused, NULL};
    double x = 1, covariance = 9;
    struct hk_solution solution = {0};
    assert_int_equal(hk_least_squares_solve(&problem, &x, &covariance, &solution), HK_SOLVED_NOT_FINITE);
    problem.residual = sum_residual; /* valid, but the Jacobian function refuses */
    double two[2] = {1, 1};
    problem.count_x = 2;
    assert_int_equal(hk_least_squares_solve(&problem, two, NULL, &solution), HK_SOLVED_NOT_FINITE);
    assert_true(x == 1 && covariance == 9 && two[0] == 1 && two[1] == 1);
}

/* A Jacobian with the wrong sign: no step can lower the sum, and the start is not an optimum. */
static bool wrong_jacobian(const void *context, const double *x, double *j)
{
    if (!curve_jacobian(context, x, j))
        return false;
    const struct data *d = context;
    for (size_t i = 0; i < d->count * d->parameters; i++)
        j[i] = -j[i];
    return true;
}

static void descent_that_finds_no_way_down_leaves_outputs_alone(void **state)
{
    (void)state;
    struct hk_least_squares problem = curve_problem(&no_int2);
    problem.jacobian = wrong_jacobian;
    double b = 5, variance = 9;
    struct hk_solution solution = {0};
    assert_int_equal(hk_least_squares_solve(&problem, &b, &variance, &solution), HK_SOLVED_NOT_CONVERGED);
    assert_true(b == 5 && variance == 9);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(noint1_is_as_certified),
        cmocka_unit_test(noint2_is_as_certified),
        cmocka_unit_test(boxbod_is_as_certified),
        cmocka_unit_test(boxbod_from_its_hard_start_leaves_outputs_alone),
        cmocka_unit_test(rat42_is_as_certified),
        cmocka_unit_test(start_that_is_the_optimum_is_solved_at_once),
        cmocka_unit_test(parameter_that_nothing_holds_leaves_outputs_alone),
        cmocka_unit_test(variance_of_mere_rounding_is_none),
        cmocka_unit_test(step_to_where_there_is_no_value_is_taken_back),
        cmocka_unit_test(values_that_are_no_numbers_leave_outputs_alone),
        cmocka_unit_test(descent_that_finds_no_way_down_leaves_outputs_alone),
    };
    return cmocka_run_group_tests_name("solver", tests, handler_off, NULL);
}
