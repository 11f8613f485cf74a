/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Checks whether a 95% bound holds in 95 of 100 garments. Simulated makers, drawn from the priors of DEVELOPERS.md, The
 * model, or differing from them, work the evidence of the design (read in whole steps) and then the garment, each
 * making on its own day; the amount used by the garment is compared with the prediction from the readings. 2,000 makers
 * give the share to half a percent; the Laplace step costs about as much. A `measure` is the quantity read: grams or
 * minutes.
 */
#ifndef TEST_MAKERS_H
#define TEST_MAKERS_H

#include "support.h"

#include "handmade.h"

#include <gsl/gsl_rng.h>

/* One maker: x are the true values of the parameters of `fit`. */
struct maker {
    struct handmade *design;
    const struct hk_fit *fit;
    const double *x;
    gsl_rng *rng;
};

struct measure {
    struct hk_fit *(*fit)(const struct hk_tally *tally, struct hk_diags *diags);
    /* Sets the 95% bound of the last size, and the spread. */
    double (*bound)(const struct hk_fit *fit, size_t size, double *spread);
    /* Returns the amount that one making of a thing takes, each copy as a piece; `day`: the departure of its day. */
    double (*take)(const struct maker *maker, const struct hk_worked *worked, double day);
    /* Returns the additional amount for that line of a garment; NULL: none. */
    double (*finish)(const struct hk_worked *worked);
    void (*read_swatch)(const struct maker *maker, struct hk_swatch *swatch, double taken);
    void (*read_progress)(const struct maker *maker, struct hk_progress *progress, double taken);
    void (*read_balls)(const struct maker *maker, struct hk_yarn *yarn); /* NULL: there are none */
    void (*differ)(const struct maker *maker, double *x);                /* departure from the priors; NULL: none */
    double day_sd;
    double loosens;      /* ln length at the end of the garment minus ln length at its start */
    bool same_garment;   /* progress is of the first line of the garment itself, not of another making */
    unsigned long seed;
};

/* Makes a body and two sleeves of dc, the sleeves on a smaller tool, with a border of sc on an even smaller one. */
void makers_garment(struct handmade *h, size_t sizes);

/*
 * Adds progress for two pieces of the smaller size, the body and one sleeve, made on one day; `row` and `done` are the
 * readings.
 */
struct in_hand {
    struct hk_progress rows[2];
    struct hk_progress_work done[2];
    struct hk_worked worked[2];
};
void makers_take_in_hand(struct handmade *h, struct in_hand *in_hand, struct hk_progress row,
                         struct hk_progress_work done);

/*
 * Returns the percentage of makers for whom the bound holds, and asserts that it is from `least` to `most`. Changes the
 * readings in `h`.
 */
double assert_calibrated(struct handmade *h, const struct measure *measure, const char *what, double least, double most);

#endif
