/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Calls gsl_multifit_nlinear (Levenberg-Marquardt in a trust region, More's scaling, QR). It does not use the GSL
 * driver, which reports a start at the optimum as a failure (GSL 2.7: status GSL_EMAXITER with info GSL_ENOPROG) and
 * whose gradient test has the units of the parameters. Ours has the units of the residuals.
 */
#include "model/solver.h"

#include <gsl/gsl_blas.h>
#include <gsl/gsl_linalg.h>
#include <gsl/gsl_math.h>
#include <gsl/gsl_multifit_nlinear.h>
#include <string.h>

#define ITERATIONS_MOST 200

/*
 * The tolerance for the component of the residual along any column of J, relative to max(|r|, 1). For residuals in
 * standard uncertainties this is approximately the distance of each parameter from the optimum, in its standard
 * uncertainty.
 */
#define STATIONARY 1e-10
/*
 * The tolerance when no step lowers |r|^2 further: a step below about 1e-8 enters squared and is lost in double
 * precision.
 */
#define STATIONARY_STALLED 1e-6

/*
 * The limit of the variance inflation C_jj |J_j|^2, which is 1 for a column orthogonal to the others, and about the
 * inverse of the rounding error for a linear combination of them.
 */
#define INFLATION_MOST (0.01 / GSL_DBL_EPSILON)

/* The residual returned for an invalid step; its square is finite. */
#define FAR 1e150

struct run {
    const struct hk_least_squares *problem;
    bool started; /* the residuals have been finite */
    bool broken;  /* a callback failed, or wrote values that are not finite, and a shorter step cannot help */
};

static bool finite_all(const double *values, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (!isfinite(values[i]))
            return false;
    return true;
}

/*
 * The vectors of a GSL workspace have stride 1. A step to a point where the model has no value is too long; it does not
 * end the search.
 */
static int call_residual(const gsl_vector *x, void *params, gsl_vector *r)
{
    struct run *run = params;
    const struct hk_least_squares *p = run->problem;
    if (p->residual(p->context, x->data, r->data) && finite_all(r->data, p->count_r)) {
        run->started = true;
        return GSL_SUCCESS;
    }
    gsl_vector_set_all(r, FAR);
    run->broken = !run->started;
    return run->broken ? GSL_EBADFUNC : GSL_SUCCESS;
}

static int call_jacobian(const gsl_vector *x, void *params, gsl_matrix *j)
{
    struct run *run = params;
    const struct hk_least_squares *p = run->problem;
    if (p->jacobian(p->context, x->data, j->data) && finite_all(j->data, p->count_r * p->count_x))
        return GSL_SUCCESS;
    run->broken = true;
    return GSL_EBADFUNC;
}

/* Returns the largest component of r along a column of J, relative to max(|r|, 1); 0 at the optimum. */
static double slope(const gsl_multifit_nlinear_workspace *w)
{
    const gsl_vector *r = gsl_multifit_nlinear_residual(w);
    const gsl_matrix *j = gsl_multifit_nlinear_jac(w);
    double most = 0, length = fmax(gsl_blas_dnrm2(r), 1);
    for (size_t i = 0; i < j->size2; i++) {
        gsl_vector_const_view column = gsl_matrix_const_column(j, i);
        double norm = gsl_blas_dnrm2(&column.vector), along = 0;
        gsl_blas_ddot(&column.vector, r, &along);
        if (norm > 0)
            most = fmax(most, fabs(along) / norm / length);
    }
    return most;
}

static enum hk_solved descend(gsl_multifit_nlinear_workspace *w, const struct run *run, struct hk_solution *solution)
{
    while (slope(w) > STATIONARY) {
        if (solution->iterations == ITERATIONS_MOST)
            return HK_SOLVED_NOT_CONVERGED;
        int status = gsl_multifit_nlinear_iterate(w);
        if (run->broken)
            return HK_SOLVED_NOT_FINITE;
        if (status == GSL_ENOMEM)
            return HK_SOLVED_MEMORY;
        if (status != GSL_SUCCESS)
            return slope(w) <= STATIONARY_STALLED ? HK_SOLVED_CONVERGED : HK_SOLVED_NOT_CONVERGED;
        solution->iterations++;
        solution->last_step = gsl_blas_dnrm2(w->dx);
    }
    return HK_SOLVED_CONVERGED;
}

/*
 * Computes (J^T J)^-1 = R^-1 R^-T, where J = QR; overwrites `j`. Variances small relative to others are kept, or one
 * precise datum would set those of the priors to 0.
 */
static bool invert_square(gsl_matrix *j, gsl_vector *tau, gsl_matrix *inverse)
{
    size_t n = j->size2;
    if (gsl_linalg_QR_decomp(j, tau) != GSL_SUCCESS)
        return false;
    gsl_matrix_set_zero(inverse);
    for (size_t row = 0; row < n; row++) {
        if (gsl_matrix_get(j, row, row) == 0)
            return false;
        for (size_t column = row; column < n; column++)
            gsl_matrix_set(inverse, row, column, gsl_matrix_get(j, row, column));
    }
    if (gsl_linalg_tri_invert(CblasUpper, CblasNonUnit, inverse) != GSL_SUCCESS)
        return false;
    gsl_matrix_view r = gsl_matrix_submatrix(j, 0, 0, n, n);
    gsl_matrix_memcpy(&r.matrix, inverse);
    return gsl_blas_dtrmm(CblasRight, CblasUpper, CblasTrans, CblasNonUnit, 1, &r.matrix, inverse) == GSL_SUCCESS;
}

/*
 * (J^T J)^-1; HK_SOLVED_NOT_FINITE when J does not determine a parameter. gsl_multifit_nlinear_covar does not check its
 * own allocations (GSL 2.7), so it is not used.
 */
static enum hk_solved spread(const gsl_multifit_nlinear_workspace *w, gsl_matrix *covariance)
{
    const gsl_matrix *j = gsl_multifit_nlinear_jac(w);
    gsl_matrix *copy = gsl_matrix_alloc(j->size1, j->size2);
    gsl_vector *tau = gsl_vector_alloc(j->size2);
    bool there = copy && tau;
    bool inverted = there && gsl_matrix_memcpy(copy, j) == GSL_SUCCESS && invert_square(copy, tau, covariance);
    gsl_matrix_free(copy);
    gsl_vector_free(tau);
    if (!there)
        return HK_SOLVED_MEMORY;
    if (!inverted)
        return HK_SOLVED_NOT_FINITE;
    if (!finite_all(covariance->data, covariance->size1 * covariance->size2))
        return HK_SOLVED_NOT_FINITE;
    for (size_t i = 0; i < covariance->size1; i++) {
        gsl_vector_const_view column = gsl_matrix_const_column(j, i);
        double inflation = gsl_matrix_get(covariance, i, i) * gsl_pow_2(gsl_blas_dnrm2(&column.vector));
        if (!(inflation > 0) || inflation > INFLATION_MOST)
            return HK_SOLVED_NOT_FINITE;
    }
    return HK_SOLVED_CONVERGED;
}

static enum hk_solved solve(gsl_multifit_nlinear_workspace *w, gsl_multifit_nlinear_fdf *fdf, const gsl_vector *start,
                            gsl_matrix *covariance, struct hk_solution *solution)
{
    const struct run *run = fdf->params;
    int status = gsl_multifit_nlinear_init(start, fdf, w);
    if (status != GSL_SUCCESS)
        return run->broken ? HK_SOLVED_NOT_FINITE : HK_SOLVED_MEMORY;
    enum hk_solved solved = descend(w, run, solution);
    if (solved == HK_SOLVED_CONVERGED)
        solved = spread(w, covariance);
    double norm = gsl_blas_dnrm2(gsl_multifit_nlinear_residual(w));
    solution->sum_of_squares = norm * norm;
    return solved;
}

enum hk_solved hk_least_squares_solve(const struct hk_least_squares *problem, double *x, double *covariance,
                                      struct hk_solution *solution)
{
    size_t n = problem->count_x;
    struct run run = {.problem = problem};
    gsl_multifit_nlinear_fdf fdf = {
        .f = call_residual, .df = call_jacobian, .n = problem->count_r, .p = n, .params = &run};
    gsl_multifit_nlinear_parameters parameters = gsl_multifit_nlinear_default_parameters();
    gsl_multifit_nlinear_workspace *w = gsl_multifit_nlinear_alloc(gsl_multifit_nlinear_trust, &parameters, fdf.n, n);
    gsl_matrix *c = gsl_matrix_alloc(n, n);
    struct hk_solution found = {0};
    enum hk_solved solved = HK_SOLVED_MEMORY;
    if (!w || !c)
        goto out;
    gsl_vector_const_view start = gsl_vector_const_view_array(x, n);
    solved = solve(w, &fdf, &start.vector, c, &found);
    if (solved == HK_SOLVED_CONVERGED) {
        memcpy(x, gsl_multifit_nlinear_position(w)->data, n * sizeof *x);
        if (covariance)
            memcpy(covariance, c->data, n * n * sizeof *covariance);
    }
    *solution = found;
out:
    gsl_matrix_free(c);
    if (w)
        gsl_multifit_nlinear_free(w);
    return solved;
}
