/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * With S the covariance of y and Q = S^-1, the reading i left out is forecast by the others with the error e_i and the
 * variance v_i, and contributes N(e_i; 0, v_i) to the density of y (the conditional of a normal distribution; any text
 * on multivariate statistics):
 *
 *     e_i = (Q y)_i / Q_ii        v_i = 1 / Q_ii
 *
 * So one inverse for each value of the spread gives its likelihood by all readings, and by all but each.
 */
#include "model/spread_estimate.h"

#include "model/chance.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_linalg.h>
#include <gsl/gsl_math.h>
#include <string.h>

/* The grid of ln s: four standard deviations of its prior on both sides. */
#define GRID_SIDE 40
#define GRID_STEP (4 * HK_SPREAD_PRIOR / GRID_SIDE)
enum { GRID = 2 * GRID_SIDE + 1 };

/* The smallest two-sided tail that is distinguished from 0. */
#define TAIL_LEAST 1e-300

/* The covariance at one spread, inverted in place, with -2 ln of the density of y but for a constant. */
struct inverse {
    double *q;
    double minus_2_ln;
};

static void fill(const struct hk_spread_task *task, double spread, double *s)
{
    size_t n = task->count;
    for (size_t i = 0; i < n; i++)
        for (size_t k = 0; k < n; k++)
            s[i * n + k] = task->rest[i * n + k] +
                           gsl_pow_2(spread) * task->weight[i] * task->weight[k] * (i == k ? 1 : task->common);
}

static double times_off(const struct hk_spread_task *task, const double *q, size_t i)
{
    double sum = 0;
    for (size_t k = 0; k < task->count; k++)
        sum += q[i * task->count + k] * task->off[k];
    return sum;
}

/* Returns false when the covariance is not positive definite. */
static bool invert(const struct hk_spread_task *task, double spread, struct inverse *inverse)
{
    size_t n = task->count;
    fill(task, spread, inverse->q);
    gsl_matrix_view view = gsl_matrix_view_array(inverse->q, n, n);
    if (gsl_linalg_cholesky_decomp1(&view.matrix) != GSL_SUCCESS)
        return false;
    double sum = 0;
    for (size_t i = 0; i < n; i++)
        sum += 2 * log(inverse->q[i * n + i]);
    if (gsl_linalg_cholesky_invert(&view.matrix) != GSL_SUCCESS)
        return false;
    for (size_t i = 0; i < n; i++)
        sum += task->off[i] * times_off(task, inverse->q, i);
    inverse->minus_2_ln = sum;
    return isfinite(sum);
}

static struct hk_spread_reading forecast(const struct hk_spread_task *task, const double *q, size_t i)
{
    double own = q[i * task->count + i];
    return (struct hk_spread_reading){times_off(task, q, i) / own, 1 / sqrt(own)};
}

bool hk_spread_forecasts(const struct hk_spread_task *task, double spread, struct hk_spread_reading *readings,
                         struct hk_arena *scratch)
{
    struct inverse inverse = {.q = hk_arena_take(scratch, task->count * task->count, sizeof *inverse.q)};
    if (!inverse.q || !invert(task, spread, &inverse))
        return false;
    for (size_t i = 0; i < task->count; i++)
        readings[i] = forecast(task, inverse.q, i);
    return true;
}

/* ---- The grid ---------------------------------------------------------------------------------------------------- */

/* By point of the grid: the spread, -2 ln of its posterior, and the forecasts (GRID x count). */
struct grid {
    double spread[GRID], minus_2_ln[GRID];
    struct hk_spread_reading *forecasts;
};

static bool grid_make(const struct hk_spread_task *task, struct grid *grid, struct hk_arena *scratch)
{
    size_t n = task->count;
    struct inverse inverse = {.q = hk_arena_take(scratch, n * n, sizeof *inverse.q)};
    grid->forecasts = hk_arena_take(scratch, GRID * n, sizeof *grid->forecasts);
    for (size_t g = 0; g < GRID; g++) {
        double ln = GRID_STEP * ((double)g - GRID_SIDE);
        grid->spread[g] = task->prior * exp(ln);
        if (scratch->out_of_memory || !invert(task, grid->spread[g], &inverse))
            return false;
        grid->minus_2_ln[g] = inverse.minus_2_ln + gsl_pow_2(ln / HK_SPREAD_PRIOR);
        for (size_t i = 0; i < n; i++)
            grid->forecasts[g * n + i] = forecast(task, inverse.q, i);
    }
    return true;
}

/* Turns -2 ln of densities into weights that add up to 1. */
static void weights_of(const double minus_2_ln[GRID], double weights[GRID])
{
    double least = GSL_POSINF, sum = 0;
    for (size_t g = 0; g < GRID; g++)
        least = fmin(least, minus_2_ln[g]);
    for (size_t g = 0; g < GRID; g++)
        sum += weights[g] = exp(-(minus_2_ln[g] - least) / 2);
    for (size_t g = 0; g < GRID; g++)
        weights[g] /= sum;
}

/* The quantile of the spread: ln s is taken as uniform within half a step of each point. */
static double quantile(const struct grid *grid, const double weights[GRID], double chance)
{
    double below = 0;
    size_t g = 0;
    while (g + 1 < GRID && below + weights[g] < chance)
        below += weights[g++];
    double part = weights[g] > 0 ? (chance - below) / weights[g] : 0.5;
    return grid->spread[g] * exp(GRID_STEP * (fmin(part, 1) - 0.5));
}

/* The deviation of reading i: the weights of the others alone, its tail averaged over them. */
static double deviation(const struct hk_spread_task *task, const struct grid *grid, size_t i)
{
    double others[GRID], weights[GRID], tail = 0;
    for (size_t g = 0; g < GRID; g++) {
        const struct hk_spread_reading *left_out = &grid->forecasts[g * task->count + i];
        others[g] = grid->minus_2_ln[g] - gsl_pow_2(left_out->off / left_out->spread) - 2 * log(left_out->spread);
    }
    weights_of(others, weights);
    for (size_t g = 0; g < GRID; g++) {
        const struct hk_spread_reading *left_out = &grid->forecasts[g * task->count + i];
        tail += weights[g] * hk_normal_chance(-fabs(left_out->off / left_out->spread));
    }
    return -hk_normal_quantile(fmin(fmax(tail, TAIL_LEAST), 0.5));
}

bool hk_spread_estimate(const struct hk_spread_task *task, struct hk_spread_estimate *estimate, double *deviations,
                        struct hk_arena *scratch)
{
    struct grid grid;
    double weights[GRID], square = 0;
    if (!grid_make(task, &grid, scratch))
        return false;
    weights_of(grid.minus_2_ln, weights);
    for (size_t g = 0; g < GRID; g++)
        square += weights[g] * gsl_pow_2(grid.spread[g]);
    *estimate = (struct hk_spread_estimate){sqrt(square), quantile(&grid, weights, HK_LOW_CHANCE),
                                            quantile(&grid, weights, HK_HIGH_CHANCE), weights[GRID_SIDE] / 2};
    for (size_t g = GRID_SIDE + 1; g < GRID; g++)
        estimate->above += weights[g];
    for (size_t i = 0; deviations && i < task->count; i++)
        deviations[i] = deviation(task, &grid, i);
    return true;
}
