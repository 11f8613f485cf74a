/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The model of DEVELOPERS.md: parameters with their priors, the data, the optimum and its covariance.
 *
 *     ln l = ln y_k(omega) + ln(pi (h_t + d_c)) + a_f + r_k + q_t + v_c        length of one stitch
 *     f_i  = sum over combinations c, strands u of times * g_u * (exp(B) W_ic + e_iu * tail)      weighed
 *
 * Time is fitted by the same code: a loop takes exp(a_f) seconds in place of its length, a wrap as long as a full loop,
 * strands held together are worked once, and a timing has no ends in it.
 *
 *     ln t = ln (loops_k + wraps_k) + a_f + r_k + q_t + v_c                    seconds of one stitch
 */
#ifndef HK_FIT_H
#define HK_FIT_H

#include "tally.h"

enum hk_quantity { HK_YARN, HK_TIME };

enum hk_parameter_kind {
    HK_WRAP,    /* ln omega */
    HK_TENSION, /* a_f; key: family */
    HK_STITCH,  /* r_k; key: stitch of the catalogue */
    HK_TOOL_Q,  /* q_t; tool_mm */
    HK_BLEND,   /* v_c; name: the yarns held together, "Alva", "Alva x2", "Alva + Lace": by name, in any letter case */
    HK_GRIST,   /* ln g_u; name: the yarn */
    HK_MAKING,  /* B; key: the size being made, of which there are several readings */
};

struct hk_parameter {
    enum hk_parameter_kind kind;
    size_t key;
    double tool_mm;
    const char *name;
    double prior, sd; /* N(prior, sd^2) */
    double value;     /* at the optimum */
    bool touched;     /* by a datum */
    const struct hk_line *line; /* the first line of the design that it enters; NULL where none does */
};

/*
 * One reading: of a swatch weighed, unravelled, or both (its grist), or timed; or of a piece in the making (progress.csv)
 * weighed or timed, which may be several lines and copies together, and of one yarn alone.
 */
struct hk_datum {
    enum { HK_WEIGHED, HK_UNRAVELLED, HK_GRIST_READ, HK_TIMED } kind;
    const struct hk_tally *tally; /* whose it is: this project's or a learned one's */
    size_t swatch, progress;      /* one of the two, the other SIZE_MAX */
    const struct hk_worked *worked;
    size_t worked_count;
    struct hk_of_yarn of;
    size_t making;   /* parameter B, which several readings share; SIZE_MAX: it sits in s */
    double reading;  /* g, m, g/m or s */
    double s;        /* standard uncertainty of ln reading, the pieces in it */
    double residual; /* (ln f - ln reading) / s at the optimum */
};

/* Where a folder's yarns and combinations stand among the parameters; SIZE_MAX where they do not enter. */
struct hk_folder {
    const struct hk_tally *tally;
    size_t *blends; /* by combination of the project */
    size_t *grists; /* by yarn of the project */
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
    size_t tensions[HK_FAMILIES], wrap;
    struct hk_folder *folders; /* the project's own, then the learned ones */
    size_t folder_count;
};

/* Index of a parameter; SIZE_MAX where neither data nor design touch it. */
size_t hk_fit_find(const struct hk_fit *fit, enum hk_parameter_kind kind, size_t key, double tool_mm, const char *name);

/* The name of a blend, as parameters have it; of the project only the names of yarns are read. NULL when the arena is lost. */
const char *hk_blend_name(struct hk_arena *arena, const struct hk_project *project,
                          const struct hk_combination *combination);

double hk_fit_omega(const struct hk_fit *fit);

/*
 * What the kinds worked with a tool in a combination come to: metres of one strand in a fit of yarn, seconds in one of
 * time; at the parameter values x (fit->count of them; NULL: the optimum). gradient (may be NULL) has its derivatives
 * added, times `weight`.
 */
double hk_fit_worked(const struct hk_fit *fit, const double *x, const struct hk_tally *tally, size_t combination,
                     double tool_mm, struct hk_kinds kinds, double weight, double *gradient);

/* The same, of a fit of yarn. */
double hk_fit_length_m(const struct hk_fit *fit, const double *x, const struct hk_tally *tally, size_t combination,
                       double tool_mm, struct hk_kinds kinds, double weight, double *gradient);

/* The variance at the optimum of what has that gradient in the parameters. */
double hk_fit_variance(const struct hk_fit *fit, const double *gradient);

/*
 * ln f of a datum at x (as above), pieces left out, and the making too where it is no parameter; gradient (may be NULL)
 * has its derivatives added, times `weight`.
 */
double hk_fit_ln_datum(const struct hk_fit *fit, const double *x, const struct hk_datum *datum, double weight,
                       double *gradient);

/* Grams a metre of a yarn of the project at the optimum. */
double hk_fit_grist_g_m(const struct hk_fit *fit, size_t yarn);

/* Data that are of progress.csv. */
size_t hk_fit_so_far(const struct hk_fit *fit);

/* The row of a file that a datum comes from. */
struct hk_cell hk_datum_cell(const struct hk_datum *datum);

#endif
