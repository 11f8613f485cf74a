/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Predictions from a fit, of yarn and of time (DEVELOPERS.md, The model). For one role in one size, or for its hours,
 * with W_j the amount worked in line j (all its n_j copies) at the optimum of the fit:
 *
 *     T = exp(B) sum_j exp(c_j) W_j + loose       B: this making, c: one for each copy of j; loose: ends and cut
 * lengths
 *
 * ln T is approximated by a normal distribution with its median at the optimum. h is its gradient in the parameters and
 * C their covariance. Two amounts r and s of the same garment share B and each c; those of two garments do not:
 *
 *     cov(ln T_r, ln T_s) = h_r^T C h_s + W_r W_s / (T_r T_s) * making^2 + sum_j W_rj W_sj / (n_j T_r T_s) * piece^2
 *
 * This is the delta method; tests/test_need.c compares it with Monte Carlo.
 */
#ifndef HK_PREDICT_H
#define HK_PREDICT_H

#include "model/parameters.h"

#include <math.h>

/*
 * A compensated sum (Neumaier 1974, "Rundungsfehleranalyse", eq. IV), since a garment's lines differ by many orders of
 * magnitude.
 */
struct hk_total {
    double sum, compensation;
};

static inline void hk_total_add(struct hk_total *total, double term)
{
    double sum = total->sum + term;
    total->compensation += fabs(total->sum) >= fabs(term) ? (total->sum - sum) + term : (term - sum) + total->sum;
    total->sum = sum;
}

static inline double hk_total_value(struct hk_total total)
{
    return total.sum + total.compensation;
}

/* Metres, or seconds: `worked` depends on tension, making and piece; `loose` does not. */
struct hk_extent {
    double worked, loose;
};

/* The part of a use to predict: a number of strands, and the loose length, for one copy. */
struct hk_asked_of {
    double strands, loose;
};

/* A prediction of T for some lines. */
struct hk_asked {
    const struct hk_fit *fit;
    const struct hk_worked *lines;
    size_t line_count;
    struct hk_asked_of (*of)(const void *context, const struct hk_use *use);
    const void *context;
    const struct hk_parameter *making; /* B of the work in hand, a parameter of the fit; NULL: of a new making */
};

struct hk_predicted {
    struct hk_extent *lines; /* output for each line, all copies; lines without work are unchanged */
    double *gradient;        /* output: h; zeroed by the caller */
    struct hk_extent sum;
    double total;            /* T */
    double garment_variance; /* the part of the variance of ln T from a new making, and from the pieces */
    double variance;         /* of ln T; 0 if T is 0 */
};

void hk_predict(const struct hk_asked *asked, const struct hk_priors *priors, struct hk_predicted *predicted);

/*
 * Returns the covariance from making and pieces. worked: W_r W_s / (T_r T_s); pieces: sum_j W_rj W_sj / (n_j T_r T_s).
 */
double hk_garment_covariance(const struct hk_priors *priors, double worked, double pieces);

/* The level that is enough: the quantile at a chance, or the likely amount plus a flat margin (-1: none). */
struct hk_level {
    double margin;
    double low, high, enough; /* standard normal quantiles of a range's ends and of the chance */
};
struct hk_level hk_level_of(double chance, double margin);
double hk_enough(const struct hk_level *level, double likely, double spread);
struct hk_range hk_range_of(const struct hk_level *level, double likely, double spread);

/* P(X <= median * exp(ln_ratio)), ln X normal with this spread; with spread 0 X is its median. */
double hk_chance_within(double ln_ratio, double spread);

/* Returns the grams that a join wastes: two tails, and half a row on average unless joins may be anywhere. */
double hk_join_g(const struct hk_project *project, double g_m, double longest_row_m);

#endif
