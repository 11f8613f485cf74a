/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What is predicted from a fit, of yarn and of time alike (DEVELOPERS.md, The model). For one role in one size, or for its hours,
 * with W_j what is worked in line j (all its copies, n_j) at the optimum of the fit:
 *
 *     T = exp(B) sum_j exp(c_j) W_j + loose       B: this making, c: one for each copy of j; loose: ends and cut lengths
 *
 * ln T is taken as normal, its median at the optimum. With h its gradient in the parameters and C their covariance, two
 * amounts r and s of one garment share B and each c, those of two garments do not:
 *
 *     cov(ln T_r, ln T_s) = h_r^T C h_s + W_r W_s / (T_r T_s) * making^2 + sum_j W_rj W_sj / (n_j T_r T_s) * piece^2
 *
 * A delta method: how well it does against drawing all of it by Monte Carlo is in tests/test_need.c.
 */
#ifndef HK_PREDICT_H
#define HK_PREDICT_H

#include "model/parameters.h"

#include <math.h>

/*
 * A sum with its lost low-order part (Neumaier 1974, "Rundungsfehleranalyse", eq. IV): a garment's lines differ by many
 * orders.
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

/* Metres, or seconds: what tension, making and piece act on, and what they do not. */
struct hk_extent {
    double worked, loose;
};

/* What of a use is asked about: so many strands of it, and what is loose, of one copy. */
struct hk_asked_of {
    double strands, loose;
};

/* T of some lines. */
struct hk_asked {
    const struct hk_fit *fit;
    const struct hk_worked *lines;
    size_t line_count;
    struct hk_asked_of (*of)(const void *context, const struct hk_use *use);
    const void *context;
};

struct hk_predicted {
    struct hk_extent *lines; /* room for each, all its copies; those that are not worked stay as they are */
    double *gradient;        /* room for h, all 0 */
    struct hk_extent sum;
    double total;            /* T */
    double garment_variance; /* variance of ln T that the making and its pieces add */
    double variance;         /* of ln T; 0 where T is */
};

void hk_predict(const struct hk_asked *asked, const struct hk_priors *priors, struct hk_predicted *predicted);

/* What making and pieces add to a covariance: `worked` W_r W_s / (T_r T_s), `pieces` sum_j W_rj W_sj / (n_j T_r T_s). */
double hk_own_covariance(const struct hk_priors *priors, double worked, double pieces);

/* How much is enough: the quantile at a chance, or a flat margin more than what is likely (-1: none). */
struct hk_level {
    double margin;
    double low, high, enough; /* standard normal quantiles: of a range's ends, and at the chance */
};
struct hk_level hk_level_of(double chance, double margin);
double hk_enough(const struct hk_level *level, double likely, double spread);
struct hk_range hk_range_of(const struct hk_level *level, double likely, double spread);

/* P(X <= median * exp(ln_ratio)), ln X normal with that spread; without a spread X is its median. */
double hk_chance_within(double ln_ratio, double spread);

/* What a join wastes: two tails, and half a row on average unless joins may be anywhere. */
double hk_join_g(const struct hk_project *project, double g_m, double longest_row_m);

#endif
