/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Outliers: readings far from their expectation by the loop rule and all other evidence. */
#ifndef HK_OUTLIER_H
#define HK_OUTLIER_H

#include "model/fit.h"

/*
 * The deviation of a reading from its expectation by all other data: its leverage, ln(reading / expectation), and the
 * same in standard deviations. `gradient` has room for all parameters.
 */
struct hk_deviation {
    double leverage, ln_ratio, deviations;
};
struct hk_deviation hk_outlier_deviation(const struct hk_fit *fit, const struct hk_datum *datum, double *gradient);

/* The limit of an outlier, in standard deviations from the expectation by all other data. */
#define HK_OUTLIER_DEVIATIONS 3.0

/* Returns the text for a ratio far from 1: "35% more", "2.3 times"; "" when memory runs out. */
const char *hk_outlier_ratio(struct hk_arena *scratch, double ratio, const char *more, const char *less);

/* The deviation of a reading that is left out: its distance from the fit, over the deviation of both. */
struct hk_deviation hk_outlier_left_out(const struct hk_fit *fit, const struct hk_datum *datum, double *gradient);

/* The place of the finding about an outlier. */
struct hk_place hk_outlier_place(const struct hk_datum *datum);

/* Adds a warning (HK_CODE_OUTLIER) for each outlier, and for each reading that is left out. */
void hk_outlier_report(const struct hk_fit *fit, struct hk_arena *scratch, struct hk_diags *diags);

#endif
