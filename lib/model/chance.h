/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Normal quantiles and chances, one and many at a time, and propagation of distributions by Monte Carlo (JCGM
 * 101:2008).
 */
#ifndef HK_CHANCE_H
#define HK_CHANCE_H

#include <gsl/gsl_rng.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* The quantiles of a displayed range, which has a coverage of 90%. */
#define HK_LOW_CHANCE 0.05
#define HK_HIGH_CHANCE 0.95

/* The standard normal distribution function, and its inverse for 0 < chance < 1. */
double hk_normal_chance(double z);
double hk_normal_quantile(double chance);

/* The quantile of a chance in [0, 1] that was computed: not beyond 7.03 standard deviations, as if no chance came
 * nearer to 0 or 1 than 1e-12. */
double hk_normal_limit(double chance);

/* The chi-square distribution function; degrees > 0, not necessarily an integer. */
double hk_chi_square_chance(double x, double degrees);

/* A generator with a fixed seed; NULL when out of memory. Free with gsl_rng_free. */
gsl_rng *hk_random_new(uint64_t seed);

/*
 * Draws `draws` values of output(context, inputs) with inputs filled by draw(context, rng, inputs); sorted ascending.
 * Returns false when out of memory.
 */
struct hk_propagation {
    size_t count_inputs, draws;
    void (*draw)(const void *context, gsl_rng *rng, double *inputs);
    double (*output)(const void *context, const double *inputs);
    const void *context;
};
bool hk_propagate(const struct hk_propagation *propagation, gsl_rng *rng, double *sorted);

/*
 * Computes the lower triangle L (row-major, the rest unchanged) with L L^T = correlation of a covariance matrix, count
 * x count: x_i = sd_i (L z)_i is a draw. Returns false when it is not positive semidefinite (within rounding).
 */
bool hk_normal_factor(size_t count, const double *covariance, double *factor);

/*
 * P(all x_i <= limit_i), x ~ N(0, covariance), count x count row-major, positive semidefinite (within rounding). One
 * variable: the closed form. More: Monte Carlo as in hk_propagate with a fixed seed, never above the smallest single
 * chance. Returns false and leaves *chance unchanged when out of memory or when the matrix is not positive
 * semidefinite.
 */
bool hk_joint_chance(size_t count, const double *limits, const double *covariance, double *chance);

#endif
