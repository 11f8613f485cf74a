/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lengths, seconds and masses of work at given parameter values, with their derivatives. */
#ifndef HK_MODEL_H
#define HK_MODEL_H

#include "model/fit.h"

/* Grams, metres or seconds: `worked` of the stitches, without the making; `loose` of ends and cut lengths. */
struct hk_taken {
    double worked, loose;
};

enum hk_taken_as { HK_TAKEN_GRAMS, HK_TAKEN_ALONE };

/*
 * Returns the amount of one of the lines or swatches weighed or timed together, in all copies; the gradient as in
 * hk_fit_worked.
 */
struct hk_taken hk_thing_amount(const struct hk_fit *fit, const double *x, const struct hk_datum *datum,
                                const struct hk_worked *worked, enum hk_taken_as measure, double weight,
                                double *gradient);

/*
 * Returns the grams that a tester is expected to use of one line, by the label; `worked` with P and the gauge. The
 * gradient as in hk_fit_worked. x as there.
 */
struct hk_taken hk_tester_line(const struct hk_fit *fit, const double *x, const struct hk_datum *datum, size_t line,
                               double weight, double *gradient);

/* Returns the grams that a tester used of all yarns, on the tester's scale. */
double hk_tester_used_g(const struct hk_tester *tester);

/* Returns the length in metres of one strand's ends and cut lengths in a use. */
double hk_loose_m(const struct hk_tally *tally, const struct hk_use *use);

#endif
