/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The parameters of the fit, each with its prior, entered on first use by the design or the data. */
#ifndef HK_PARAMETERS_H
#define HK_PARAMETERS_H

#include "model/fit.h"

/* All yarns. */
static const struct hk_of_yarn hk_any_yarn = {SIZE_MAX, SIZE_MAX};

/* The priors of the departures, of ln length or of ln seconds. */
struct hk_priors {
    double ln_loop; /* median of a_f */
    double tension, stitch, tool, yarn, making, piece, garment;
};

struct hk_maker {
    struct hk_fit *fit;
    const struct hk_project *project; /* the project whose spreads are used */
    struct hk_priors priors;
    size_t parameter_capacity, data_capacity, held_capacity;
    bool holds;                 /* weighings of progress.csv are held out of the fit */
    bool testers;               /* a tester's datum is being entered, not the maker's own work */
    size_t folder;              /* the folder being entered */
    const struct hk_line *line; /* the line of the design being entered; NULL: a datum */
    struct hk_diags *diags;
};

struct hk_priors hk_priors_of(const struct hk_spreads *s, enum hk_quantity quantity);

/* The parameter, entered if it is new; SIZE_MAX when the arena is out of memory. */
size_t hk_enter(struct hk_maker *m, struct hk_parameter parameter);

/*
 * Enters all parameters of some work: of the yarns that a weighing includes (of), of a garment unless `swatch`, and of
 * the masses of its yarns if `weighed`. Returns false when none of the work takes yarn.
 */
struct hk_entering {
    struct hk_of_yarn of;
    bool swatch, weighed;
};
bool hk_enter_worked(struct hk_maker *m, const struct hk_worked *worked, struct hk_entering entering);

/* Enters g, or H, of a yarn of the folder. */
void hk_enter_grist(struct hk_maker *m, size_t yarn);
void hk_enter_ball(struct hk_maker *m, size_t yarn);

void hk_enter_design(struct hk_maker *m);

const struct hk_stitch *hk_fit_stitch(const struct hk_fit *fit, size_t stitch);

/* Returns the index of the parameter with this kind, key, folder, tool, scale and name, or SIZE_MAX. */
size_t hk_fit_find_like(const struct hk_fit *fit, const struct hk_parameter *like);

/* A skipped stitch takes no yarn. */
bool hk_is_worked(const struct hk_stitch *stitch, double count);

/* Strands of a combination that a weighing is of, each as often as it is held. */
int64_t hk_strands_weighed(const struct hk_combination *c, struct hk_of_yarn of);

double hk_label_g_m(const struct hk_yarn *yarn);

#endif
