/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Readings that look wrong: far from what the loop rule and all other evidence lead to expect. */
#ifndef HK_OUTLIER_H
#define HK_OUTLIER_H

#include "model/fit.h"

/*
 * A reading against what all else leads to expect: its leverage, ln of what was read over that, and by how many
 * standard deviations. `gradient` has room for the parameters.
 */
struct hk_deviation {
    double leverage, ln_ratio, deviations;
};
struct hk_deviation hk_outlier_deviation(const struct hk_fit *fit, const struct hk_datum *datum, double *gradient);

/* Adds a warning (HK_CODE_OUTLIER) for each. */
void hk_outlier_report(const struct hk_fit *fit, struct hk_arena *scratch, struct hk_diags *diags);

#endif
