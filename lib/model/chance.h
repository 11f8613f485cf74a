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

/* What a range that is shown lies between: nine times in ten. */
#define HK_LOW_CHANCE 0.05
#define HK_HIGH_CHANCE 0.95

/* The standard normal distribution function, and its inverse for 0 < chance < 1. */
double hk_normal_chance(double z);
double hk_normal_quantile(double chance);

/* The chi-square distribution function; degrees > 0, whole or not. */
double hk_chi_square_chance(double x, double degrees);

/* A generator with a fixed seed; NULL on no memory. Free with gsl_rng_free. */
gsl_rng *hk_random_new(uint64_t seed);

/*
 * Draws `draws` values of output(context, inputs) with inputs filled by draw(context, rng, inputs); sorted ascending.
 */
struct hk_propagation {
    size_t count_inputs, draws;
    void (*draw)(const void *context, gsl_rng *rng, double *inputs);
    double (*output)(const void *context, const double *inputs);
    const void *context;
};
bool hk_propagate(const struct hk_propagation *propagation, gsl_rng *rng, double *sorted);

/*
 * The lower triangle L (row-major, the rest left as it is) with L L^T the correlation of a covariance, count x count:
 * x_i = sd_i (L z)_i draws it. False where it is not positive semidefinite (rounding is forgiven).
 */
bool hk_normal_factor(size_t count, const double *covariance, double *factor);

/*
 * P(all x_i <= limit_i), x ~ N(0, covariance), count x count row-major, positive semidefinite (rounding is forgiven).
 * One: the closed form. More: the Monte Carlo of hk_propagate with a fixed seed, never above the smallest single
 * chance. *chance untouched and false on no memory or a matrix that is not positive semidefinite.
 */
bool hk_joint_chance(size_t count, const double *limits, const double *covariance, double *chance);

#endif
