/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Readers of the pattern, known from its testers (testers.csv). A maker j at the pattern's gauge takes exp(t_j) of the
 * usual length, t_j ~ N(0, reader^2 / 2), so a reader differs from the designer (j = 0) by t_j - t_0: P + e_j with P =
 * -t_0, common to all readers, and with the variance reader^2, which is how tables/spreads.csv has it. A tester is one
 * datum:
 *
 *     f_j = sum over yarns u, lines of g_u * (exp(P + G_j) W + ends * tail + cut lengths)
 *     s_j^2 = reader^2 / 2 + (worked / f)^2 making^2 + pieces + sd(H)^2 + scale^2
 *
 * G_j = 1/2 ln(stitches * rows in 10 cm of the pattern over those of the tester): stitches in an area go with 1 /
 * length^2 (D. L. Munden 1959, "The geometry and dimensional properties of plain-knit fabrics", J. Text. Inst. 50,
 * T448; from memory). A tester's tool does not enter: it is whatever meets the gauge. Readings become grams of the
 * label by the median of H.
 *
 * The spread is estimated first, from the residuals to the fit of the maker's own work (spread_estimate.h, with P
 * common), then the testers enter the fit with it: as evidence about stitches, wraps and garments, never surer of them
 * than P allows.
 */
#ifndef HK_READERS_H
#define HK_READERS_H

#include "model/parameters.h"

/* The readers before any tester. */
struct hk_readers hk_readers_unknown(const struct hk_project *project);

/* Enters the testers as the last data of the fit, with all that their work depends on. */
void hk_testers_enter(struct hk_maker *m);

/*
 * Estimates the spread of readers at the optimum of the other data, the prior if there are none, and gives it to the
 * data of the testers and to P. The oddest tester is left out as long as its result is an outlier. Returns false when
 * memory runs out or the estimate fails.
 */
bool hk_readers_estimate(struct hk_fit *fit, struct hk_arena *scratch);

/*
 * Adds a warning (HK_CODE_OUTLIER) for each tester with an odd result, left out or not. 1% of honest results are beyond
 * the limit; a result beyond HK_OUTLIER_DEVIATIONS is left out.
 */
#define HK_ODD_TESTER 2.5758293035489004
void hk_readers_report(const struct hk_fit *fit, struct hk_arena *scratch, struct hk_diags *diags);

/* The spread of P + e before the testers; exp(P) at the optimum; the variance of P + e after them. */
double hk_readers_spread(const struct hk_fit *fit);
double hk_readers_ratio(const struct hk_fit *fit);
double hk_readers_variance(const struct hk_fit *fit);

/* Returns the covariance of P with a quantity of this gradient. */
double hk_readers_covariance(const struct hk_fit *fit, const double *gradient);

#endif
