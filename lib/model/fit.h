/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The model of DEVELOPERS.md: parameters with their priors, the data, the optimum and its covariance.
 *
 *     ln l = ln y_k(omega) + ln(pi (h_t + d_c)) + a_f + D_f + r_k + q_t + v_c  length of one stitch; D in garments alone
 *     f_i  = sum over combinations c, strands u of times * g_u * exp(H_u) * (exp(B) W_ic + e_iu * tail)      weighed
 *
 * Time is fitted by the same code: a loop takes exp(a_f) seconds in place of its length, a wrap as long as a full loop,
 * strands held together are worked once, and a timing has no ends in it.
 *
 *     ln t = ln (loops_k + wraps_k) + a_f + r_k + q_t + v_c                    seconds of one stitch
 */
#ifndef HK_FIT_H
#define HK_FIT_H

#include "tally/tally.h"

enum hk_quantity { HK_QUANTITY_YARN, HK_QUANTITY_TIME };

enum hk_parameter_kind {
    HK_PARAM_WRAP,    /* ln omega */
    HK_PARAM_TENSION, /* a_f; key: family */
    HK_PARAM_STITCH,  /* r_k; key: stitch of the catalogue */
    HK_PARAM_TOOL,  /* q_t; tool_mm */
    HK_PARAM_BLEND,   /* v_c; name: the yarns held together, "Alva", "Alva x2", "Alva + Lace": by name, in any letter case */
    HK_PARAM_GRIST,   /* ln g_u; name: the yarn */
    HK_PARAM_MAKING,  /* B; folder and key: the size being made, which something weighed or timed is of */
    HK_PARAM_GARMENT, /* D_f; key: family */
    HK_PARAM_SCALE,   /* Z, in grams; folder and scale */
    HK_PARAM_BALL,    /* H_u; name: the yarn */
};

struct hk_parameter {
    enum hk_parameter_kind kind;
    size_t key;
    size_t folder;          /* of the fit */
    double tool_mm;
    struct hk_scale scale;
    const char *name;
    double prior, sd; /* N(prior, sd^2) */
    double value;     /* at the optimum */
    bool touched;     /* by a datum */
    const struct hk_line *line; /* the first line of the design that it enters; NULL where none does */
};

/*
 * One reading: of a swatch weighed, unravelled, or both (its grist), or timed; of a piece in the making (progress.csv)
 * weighed or timed, which may be several lines and copies together, and of one yarn alone; or of full balls weighed.
 */
struct hk_datum {
    enum { HK_DATUM_WEIGHED, HK_DATUM_UNRAVELLED, HK_DATUM_GRIST, HK_DATUM_TIMED, HK_DATUM_BALL } kind;
    const struct hk_tally *tally; /* whose it is: this project's or a learned one's */
    size_t folder;                /* the same, of the fit */
    size_t swatch, progress, yarn; /* one of the three, of the project; the others SIZE_MAX */
    const struct hk_worked *worked;
    size_t worked_count;
    struct hk_of_yarn of;
    size_t making;   /* parameter B, which all readings of a size share; SIZE_MAX: a swatch's, which sits in s */
    size_t scale;    /* parameter Z; SIZE_MAX: no scale, or an exact one */
    double per_g;    /* of ln reading, by each gram that the scale shows too much */
    double left_g;   /* what was weighed is what is left of `reading` in hand (hk_fit_ln_off); 0: else */
    size_t left_ball; /* H of that yarn */
    double reading;  /* g, m, g/m or s */
    double s;        /* standard uncertainty of ln reading, the pieces in it, and a swatch's making */
    double residual; /* hk_fit_ln_off / s at the optimum */
};

/* Where a folder's yarns and combinations stand among the parameters; SIZE_MAX where they do not enter. */
struct hk_folder {
    const struct hk_tally *tally;
    size_t *blends; /* by combination of the project */
    size_t *grists, *balls; /* by yarn of the project: g and H */
};

/* Time and memory grow with the third and the second power of it; a studio's history of years has some hundred. */
#define HK_PARAMETERS_MOST ((size_t)500)

struct hk_fit {
    struct hk_arena arena;
    enum hk_quantity quantity;
    const struct hk_tally *tally;
    struct hk_parameter *parameters; /* all that the data or the design touch */
    size_t count;
    double *covariance;  /* count x count: (J^T J)^-1; priors on the diagonal for what no datum touches */
    struct hk_datum *data;
    size_t evidence;     /* data */
    size_t *stitches;    /* by stitch of the catalogue: its parameter, or SIZE_MAX */
    size_t tensions[HK_FAMILIES], garments[HK_FAMILIES], wrap; /* garments: none in a fit of time */
    struct hk_folder *folders; /* the project's own, then the learned ones */
    size_t folder_count;
};

/* Seconds in place of metres. */
struct hk_time_fit {
    struct hk_fit fit;
};

/* Index of a parameter; SIZE_MAX where neither data nor design touch it. */
size_t hk_fit_find(const struct hk_fit *fit, enum hk_parameter_kind kind, size_t key, double tool_mm, const char *name);

/* The name of a blend, as parameters have it; of the project only the names of yarns are read. NULL when the arena is
 * out of memory. */
const char *hk_blend_name(struct hk_arena *arena, const struct hk_project *project,
                          const struct hk_combination *combination);

double hk_fit_omega(const struct hk_fit *fit);

/* What stitches are worked in: yarns held together of a folder, with a tool; in a garment they depart from a swatch's by D. */
struct hk_ground {
    const struct hk_tally *tally;
    size_t combination;
    double tool_mm;
    bool swatch;
};

/*
 * What the kinds worked on that ground come to: metres of one strand in a fit of yarn, seconds in one of time; at the
 * parameter values x (fit->count of them; NULL: the optimum). gradient (may be NULL) has its derivatives added, times
 * `weight`.
 */
double hk_fit_worked(const struct hk_fit *fit, const double *x, struct hk_ground ground, struct hk_kinds kinds, double weight,
                     double *gradient);

/* The same, of a fit of yarn. */
double hk_fit_length_m(const struct hk_fit *fit, const double *x, struct hk_ground ground, struct hk_kinds kinds,
                       double weight, double *gradient);

/* C h: its product with another gradient is their covariance at the optimum. */
void hk_fit_along(const struct hk_fit *fit, const double *gradient, double *along);
double hk_fit_dot(const struct hk_fit *fit, const double *a, const double *b);
/* The variance at the optimum of what has that gradient in the parameters. */
double hk_fit_variance(const struct hk_fit *fit, const double *gradient);

/* What a yarn of a folder weighs on the maker's scale, over its label: exp(H) at the optimum. */
double hk_fit_weighs(const struct hk_fit *fit, size_t folder, size_t yarn);

/*
 * How far what is expected of a datum is above what was read, at x (as above): ln f - ln reading + Z per_g, pieces left out,
 * and the making too where it is no parameter. Where the datum is what is left of a mass in hand by its labels, what was used
 * is ln(reading - left exp(-H)) in place of ln reading. gradient (may be NULL) has its derivatives added, times `weight`.
 */
double hk_fit_ln_off(const struct hk_fit *fit, const double *x, const struct hk_datum *datum, double weight,
                       double *gradient);

/* Grams a metre of a yarn of the project at the optimum. */
double hk_fit_grist_g_m(const struct hk_fit *fit, size_t yarn);

/* What was read of a datum, at the optimum: g, m or g/m; of what is left of a mass in hand, grams of the label that were used. */
double hk_fit_read(const struct hk_fit *fit, const struct hk_datum *datum);

/* Data that are of progress.csv: the project's own, or those of projects learned from; and of full balls. */
size_t hk_fit_pieces(const struct hk_fit *fit, bool learned);
size_t hk_fit_balls(const struct hk_fit *fit);

/* The row of a file that a datum comes from. */
struct hk_cell hk_datum_cell(const struct hk_datum *datum);

#endif
