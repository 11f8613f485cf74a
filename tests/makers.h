/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Is a 95% bound held in 95 of 100 garments? Simulated makers, drawn from the priors of DEVELOPERS.md, The model, or
 * differing from them, work what the design has evidence of (read in whole steps) and then the garment, each making on its own
 * day; what the garment took is held against what was predicted from the readings. 2,000 makers: the share is known to half a
 * percent; the Laplace step costs about as much. What is read, grams or minutes, is a `measure`.
 */
#ifndef TEST_MAKERS_H
#define TEST_MAKERS_H

#include "support.h"

#include "handmade.h"

#include <gsl/gsl_rng.h>

/* One maker: x are the parameters of `fit`, as they are in truth. */
struct maker {
    struct handmade *design;
    const struct hk_fit *fit;
    const double *x;
    gsl_rng *rng;
};

struct measure {
    struct hk_fit *(*fit)(const struct hk_tally *tally, struct hk_diags *diags);
    /* The 95% bound of the last size, and the spread. */
    double (*bound)(const struct hk_fit *fit, size_t size, double *spread);
    /* What one making of one thing takes, each copy a piece; `day`: how it departs from the others. */
    double (*take)(const struct maker *maker, const struct hk_worked *worked, double day);
    /* What that line of a garment takes beyond it; NULL: nothing. */
    double (*finish)(const struct hk_worked *worked);
    void (*read_swatch)(const struct maker *maker, struct hk_swatch *swatch, double taken);
    void (*read_progress)(const struct maker *maker, struct hk_progress *progress, double taken);
    void (*read_balls)(const struct maker *maker, struct hk_yarn *yarn); /* NULL: none are */
    void (*differ)(const struct maker *maker, double *x);                /* from the priors; NULL: makers do not */
    double day_sd;
    double loosens;      /* ln length at the end of the garment over that at its start */
    bool same_garment;   /* progress is of the first line of the garment itself, not of another making */
    unsigned long seed;
};

/* A body and two sleeves of dc, the sleeves on a smaller tool, with a border of sc on a smaller one still. */
void makers_garment(struct handmade *h, size_t sizes);

/* Two pieces of the smaller size, the body and one sleeve, made on one day; `row` and `done` say what is read of them.
 */
struct in_hand {
    struct hk_progress rows[2];
    struct hk_progress_work done[2];
    struct hk_worked worked[2];
};
void makers_take_in_hand(struct handmade *h, struct in_hand *in_hand, struct hk_progress row,
                         struct hk_progress_work done);

/* How many makers in a hundred the bound holds for, from `least` to `most`; the share. Changes what was read in `h`. */
double assert_calibrated(struct handmade *h, const struct measure *measure, const char *what, double least, double most);

#endif
