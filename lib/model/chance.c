/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Uses Monte Carlo instead of a quadrature of the multivariate normal, so that the result never falls when a limit
 * rises: the draws are the same each time, and a draw within the limits is within wider ones.
 */
#include "model/chance.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_randist.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* The number of draws. The standard error of a joint chance of 95% is 0.07%; chances are shown in whole percent. */
#ifdef HK_FUZZING
#define JOINT_DRAWS 1000
#else
#define JOINT_DRAWS 100000
#endif
/*
 * The limit of products in all draws, about a second. Above 141 variables there are fewer draws: 2,000 for 1,000
 * variables (standard error at most 1.1%).
 */
#define JOINT_PRODUCTS 1e9
#define JOINT_SEED 101 /* arbitrary; never changed, so that equal input gives equal output */

/* The least chance that differs from 0, for a finite quantile. */
#define CHANCE_NOTHING 1e-12

/*
 * Tolerances for rounding in a correlation matrix: for a variance, and for a correlation next to a zero variance (its
 * square root).
 */
#define NOTHING 1e-10
#define NOTHING_BESIDE 1e-5

double hk_normal_chance(double z)
{
    return gsl_cdf_ugaussian_P(z);
}

double hk_normal_quantile(double chance)
{
    return gsl_cdf_ugaussian_Pinv(chance);
}

double hk_normal_limit(double chance)
{
    return hk_normal_quantile(fmin(fmax(chance, CHANCE_NOTHING), 1 - CHANCE_NOTHING));
}

double hk_chi_square_chance(double x, double degrees)
{
    return gsl_cdf_chisq_P(x, degrees);
}

gsl_rng *hk_random_new(uint64_t seed)
{
    gsl_rng *rng = gsl_rng_alloc(gsl_rng_mt19937);
    if (rng)
        gsl_rng_set(rng, (unsigned long)seed);
    return rng;
}

/* Propagation of distributions (JCGM 101:2008, clause 7): one value of the output for each draw of the inputs. */
static bool draw_outputs(const struct hk_propagation *p, gsl_rng *rng, double *outputs)
{
    double *inputs = calloc(p->count_inputs ? p->count_inputs : 1, sizeof *inputs);
    if (!inputs)
        return false;
    bool numbers = true;
    for (size_t i = 0; i < p->draws && numbers; i++) {
        p->draw(p->context, rng, inputs);
        outputs[i] = p->output(p->context, inputs);
        numbers = !isnan(outputs[i]);
    }
    free(inputs);
    return numbers;
}

static int compare(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

bool hk_propagate(const struct hk_propagation *propagation, gsl_rng *rng, double *sorted)
{
    double *outputs = calloc(propagation->draws ? propagation->draws : 1, sizeof *outputs);
    bool done = outputs && draw_outputs(propagation, rng, outputs);
    if (done) {
        qsort(outputs, propagation->draws, sizeof *outputs, compare);
        memcpy(sorted, outputs, propagation->draws * sizeof *sorted);
    }
    free(outputs);
    return done;
}

/* x = L z has the given correlation; `limits` in standard deviations. */
struct joint {
    size_t count;
    const double *factor; /* lower triangle, row-major */
    const double *limits;
};

static void joint_draw(const void *context, gsl_rng *rng, double *z)
{
    const struct joint *joint = context;
    for (size_t i = 0; i < joint->count; i++)
        z[i] = gsl_ran_gaussian_ziggurat(rng, 1);
}

/* Returns 1 when any x is beyond its limit, else 0. */
static double joint_beyond(const void *context, const double *z)
{
    const struct joint *joint = context;
    for (size_t i = 0; i < joint->count; i++) {
        double x = 0;
        for (size_t k = 0; k <= i; k++)
            x += joint->factor[i * joint->count + k] * z[k];
        if (x > joint->limits[i])
            return 1;
    }
    return 0;
}

/*
 * A = L L^T in place (lower triangle), for correlation matrices that may be singular: a zero pivot must have zeros
 * below it, and its column is 0 (G. H. Golub, C. F. Van Loan, Matrix Computations, on semidefinite Cholesky; from
 * memory). gsl_linalg_pcholesky_decomp divides by such a pivot.
 */
static bool factorize(size_t n, double *a)
{
    for (size_t k = 0; k < n; k++) {
        double pivot = a[k * n + k];
        if (!(pivot > -NOTHING))
            return false;
        bool nothing = pivot < NOTHING;
        double root = nothing ? 0 : sqrt(pivot);
        a[k * n + k] = root;
        for (size_t i = k + 1; i < n; i++) {
            if (nothing && !(fabs(a[i * n + k]) < NOTHING_BESIDE))
                return false;
            a[i * n + k] = nothing ? 0 : a[i * n + k] / root;
        }
        for (size_t j = k + 1; j < n; j++)
            for (size_t i = j; i < n; i++)
                a[i * n + j] -= a[i * n + k] * a[j * n + k];
    }
    return true;
}

/*
 * Computes the correlation matrix. A variance of 0 means a constant: within any limit >= 0, beyond any other. Its row
 * of the factor stays 0.
 */
static bool correlate(size_t n, const double *covariance, double *correlation)
{
    for (size_t i = 0; i < n; i++)
        if (!(covariance[i * n + i] >= 0) || !isfinite(covariance[i * n + i]))
            return false;
    for (size_t i = 0; i < n; i++) {
        for (size_t k = 0; k <= i; k++) {
            double scale = sqrt(covariance[i * n + i]) * sqrt(covariance[k * n + k]);
            correlation[i * n + k] = scale > 0 ? covariance[i * n + k] / scale : 0;
        }
    }
    return true;
}

static double in_deviations(double limit, double variance)
{
    if (variance > 0)
        return limit / sqrt(variance);
    return limit >= 0 ? HUGE_VAL : -HUGE_VAL;
}

/* Returns the number of draws; each takes count^2 / 2 products. */
static size_t joint_draws(size_t count)
{
    double draws = 2 * JOINT_PRODUCTS / ((double)count * (double)count);
    return draws < JOINT_DRAWS ? (size_t)draws + 1 : JOINT_DRAWS;
}

/*
 * Computes the chance, limited to the bounds valid for any correlation: at most the smallest single chance, at least 1
 * minus the sum of the single failures.
 */
static bool count_within(const struct joint *joint, double *chance)
{
    size_t draws = joint_draws(joint->count);
    double *beyond = calloc(draws, sizeof *beyond);
    gsl_rng *rng = hk_random_new(JOINT_SEED);
    struct hk_propagation propagation = {joint->count, draws, joint_draw, joint_beyond, joint};
    bool done = beyond && rng && draw_outputs(&propagation, rng, beyond);
    if (done) {
        size_t within = 0;
        for (size_t i = 0; i < draws; i++)
            within += beyond[i] <= 0;
        double most = 1, least = 1;
        for (size_t i = 0; i < joint->count; i++) {
            most = fmin(most, hk_normal_chance(joint->limits[i]));
            least -= hk_normal_chance(-joint->limits[i]);
        }
        *chance = fmin(fmax((double)within / (double)draws, least), most);
    }
    free(beyond);
    if (rng)
        gsl_rng_free(rng);
    return done;
}

bool hk_normal_factor(size_t count, const double *covariance, double *factor)
{
    return correlate(count, covariance, factor) && factorize(count, factor);
}

bool hk_joint_chance(size_t count, const double *limits, const double *covariance, double *chance)
{
    double *memory = calloc(count * count + count + 1, sizeof *memory);
    if (!memory)
        return false;
    double *factor = memory, *deviations = memory + count * count;
    bool done = hk_normal_factor(count, covariance, factor);
    for (size_t i = 0; i < count; i++) {
        deviations[i] = in_deviations(limits[i], covariance[i * count + i]);
        done = done && !isnan(deviations[i]);
    }
    struct joint joint = {count, factor, deviations};
    if (done && count == 1)
        *chance = hk_normal_chance(deviations[0]);
    else if (done)
        done = count_within(&joint, chance);
    free(memory);
    return done;
}
