/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Nonlinear least squares by GSL's trust region (gsl_multifit_nlinear), with an analytic Jacobian. Independent of yarn.
 */
#ifndef HK_SOLVER_H
#define HK_SOLVER_H

#include <stdbool.h>
#include <stddef.h>

/*
 * residual: count_r values at x (count_x); jacobian: row-major count_r x count_x. Both write finite values or return
 * false.
 */
struct hk_least_squares {
    size_t count_x, count_r;
    bool (*residual)(const void *context, const double *x, double *r);
    bool (*jacobian)(const void *context, const double *x, double *j);
    const void *context;
};

enum hk_solved { HK_SOLVED_CONVERGED, HK_SOLVED_NOT_CONVERGED, HK_SOLVED_NOT_FINITE, HK_SOLVED_MEMORY };

struct hk_solution {
    size_t iterations;
    double last_step;  /* norm of the last step, in units of x */
    double sum_of_squares;
};

/*
 * Minimises |r|^2 from the start x, which receives the optimum only on HK_SOLVED_CONVERGED. covariance (count_x^2,
 * row-major, may be NULL) receives (J^T J)^-1 there, unscaled. count_r >= count_x >= 1.
 */
enum hk_solved hk_least_squares_solve(const struct hk_least_squares *problem, double *x, double *covariance,
                                      struct hk_solution *solution);

#endif
