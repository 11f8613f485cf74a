/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The estimate of one spread from readings y_i (ln of reading over forecast) that have it as a component of variance:
 *
 *     y ~ N(0, R + s^2 ((1 - common) diag(w_i^2) + common w w^T))        ln s ~ N(ln prior, HK_SPREAD_PRIOR^2)
 *
 * with s the spread, w_i the part of the reading that it applies to, and R the covariance of all else. The posterior of
 * ln s is computed on a grid. Nothing here knows of yarn.
 */
#ifndef HK_SPREAD_ESTIMATE_H
#define HK_SPREAD_ESTIMATE_H

#include "base/arena.h"

/* The standard deviation of ln of a spread before any evidence: from experience, no source. A factor of 2.7 is two of
 * it. */
#define HK_SPREAD_PRIOR 0.5
/* The limit of readings: time grows with the third power of their number. */
#define HK_SPREAD_READINGS_MOST ((size_t)200)

struct hk_spread_task {
    size_t count;
    const double *off;    /* y */
    const double *rest;   /* R: count x count */
    const double *weight; /* w */
    double common;        /* the part of s^2 that all readings share, 0 to 1 */
    double prior;         /* above 0 */
};

/* A reading against its forecast from all other readings. */
struct hk_spread_reading {
    double off, spread; /* ln of reading over that forecast, and the standard deviation of the forecast */
};

struct hk_spread_estimate {
    double spread;    /* the root of the mean square, which a prediction with it needs */
    double low, high; /* the 5% and 95% quantiles */
    double above;     /* the chance that it is above `prior` */
};

/* The readings against their forecasts, with a known spread. Returns false when memory runs out or the matrix is
 * singular. */
bool hk_spread_forecasts(const struct hk_spread_task *task, double spread, struct hk_spread_reading *readings,
                         struct hk_arena *scratch);

/*
 * Estimates the spread. deviations (may be NULL): by reading, the standard normal quantile with the same two-sided tail
 * as the forecast from the others, averaged over the spreads that the others allow. Returns false as above.
 */
bool hk_spread_estimate(const struct hk_spread_task *task, struct hk_spread_estimate *estimate, double *deviations,
                        struct hk_arena *scratch);

#endif
