/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The model of DEVELOPERS.md: parameters with their priors, the data, the optimum and its covariance.
 *
 *     ln l = ln y_k(omega) + ln(pi (h_t + d_c)) + a_f + D_f + r_k + q_t + v_c  length of one stitch; D in garments only
 *     f_i  = sum over combinations c, strands u of times * g_u * exp(H_u) * (exp(B) W_ic + e_iu * tail)      weighed
 *
 * Time is fitted by the same code: a loop takes exp(a_f) seconds instead of its length, a wrap takes as long as a full
 * loop, strands held together are worked once, and a timing excludes ends.
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
    HK_PARAM_TOOL,    /* q_t; tool_mm */
    HK_PARAM_BLEND,   /* v_c; name: the yarns held together, "Alva", "Alva x2", "Alva + Lace"; ignoring letter case */
    HK_PARAM_GRIST,   /* ln g_u; name: the yarn */
    HK_PARAM_MAKING,  /* B; folder and key: the size in progress that a reading belongs to */
    HK_PARAM_GARMENT, /* D_f; key: family */
    HK_PARAM_SCALE,   /* Z, in grams; folder and scale */
    HK_PARAM_BALL,    /* H_u; name: the yarn */
    HK_PARAM_READERS, /* P */
};

struct hk_parameter {
    enum hk_parameter_kind kind;
    size_t key;
    size_t folder; /* index in the fit */
    double tool_mm;
    struct hk_scale scale;
    const char *name;
    double prior, sd; /* N(prior, sd^2) */
    double value;     /* at the optimum */
    bool touched;     /* some datum depends on it */
    bool own;         /* some datum of the maker's own work does */
    const struct hk_line *line; /* the first line of the design that depends on it; NULL if none */
};

/*
 * One reading: a swatch weighed, unravelled, both (its grist), or timed; a piece in progress (progress.csv) weighed or
 * timed, which may be several lines and copies together, and one yarn only; or full balls weighed; or the yarn that a
 * tester used for the whole design.
 */
struct hk_datum {
    enum { HK_DATUM_WEIGHED, HK_DATUM_UNRAVELLED, HK_DATUM_GRIST, HK_DATUM_TIMED, HK_DATUM_BALL, HK_DATUM_TESTER } kind;
    size_t number;                 /* of the readings, in the order in which they were entered */
    const struct hk_tally *tally;  /* the tally of this project or of a learned one */
    size_t folder;                 /* the same, as an index in the fit */
    size_t swatch, progress, yarn; /* one of the three is an index in the project; the others are SIZE_MAX */
    size_t tester;                 /* HK_DATUM_TESTER: an index in the project; the three above are SIZE_MAX */
    double ln_gauge;               /* HK_DATUM_TESTER: ln of a length at its gauge over the same at the pattern's */
    const struct hk_worked *worked;
    size_t worked_count;
    struct hk_of_yarn of;
    size_t making; /* parameter B, shared by all readings of a size; SIZE_MAX for a swatch, whose making is part of s */
    size_t scale;    /* parameter Z; SIZE_MAX: no scale, or an exact one */
    double per_g;    /* derivative of ln reading by the offset of the scale, 1/g */
    double left_g;   /* the mass left, of `reading` at the start (hk_fit_ln_off); 0: the mass used was weighed */
    size_t left_ball; /* parameter H of that yarn */
    double reading;  /* g, m, g/m or s */
    double s;        /* standard uncertainty of ln reading, including pieces, and the making of a swatch */
    double residual; /* hk_fit_ln_off / s at the optimum */
};

/* The parameters of a folder's yarns and combinations; SIZE_MAX if there is none. */
struct hk_folder {
    const struct hk_tally *tally;
    size_t *blends; /* by combination of the project */
    size_t *grists, *balls; /* by yarn of the project: g and H */
};

/*
 * How far readers of the pattern differ from its maker at the same gauge, in ln of a length: P + e, P common to all of
 * them, e one reader's own, each with half of the variance (readers.h). Without testers it is the spread `reader`
 * alone.
 */
struct hk_readers {
    size_t testers;           /* the number of data */
    size_t odd;               /* behind the data: testers that are left out */
    size_t parameter;         /* P; SIZE_MAX: without testers, when its estimate is 0 and independent of all else */
    double spread, low, high; /* of P + e before the testers; its 5% and 95% quantiles */
    double *deviations;       /* by tester of the project: from the forecast by those that count */
};

/*
 * The limit of parameters: time grows with the third power, memory with the second. Years of work have about a hundred.
 */
#define HK_PARAMETERS_MOST ((size_t)500)

struct hk_fit {
    struct hk_arena arena;
    enum hk_quantity quantity;
    const struct hk_tally *tally;
    struct hk_parameter *parameters; /* all that the data or the design depend on */
    size_t count;
    double *covariance; /* count x count: (J^T J)^-1; for parameters without data the prior variance */
    struct hk_datum *data;
    size_t evidence;     /* the number of data */
    struct hk_datum *odd; /* the maker's own readings that are left out (odd.h), by number */
    size_t odd_count;
    struct hk_datum *held; /* weighings of progress.csv kept out of the fit, to be compared with its forecasts */
    size_t held_count;
    struct hk_readers readers;
    size_t *stitches;    /* by stitch of the catalogue: its parameter, or SIZE_MAX */
    size_t tensions[HK_FAMILIES], garments[HK_FAMILIES], wrap; /* garments: none in a fit of time */
    struct hk_folder *folders; /* the project's own, then the learned ones */
    size_t folder_count;
};

/* A fit in seconds instead of metres. */
struct hk_time_fit {
    struct hk_fit fit;
};

/* Returns the index of a parameter; SIZE_MAX if neither data nor design depend on it. */
size_t hk_fit_find(const struct hk_fit *fit, enum hk_parameter_kind kind, size_t key, double tool_mm, const char *name);

/* The name of a blend, as parameters have it; of the project only the names of yarns are read. NULL when the arena is
 * out of memory. */
const char *hk_blend_name(struct hk_arena *arena, const struct hk_project *project,
                          const struct hk_combination *combination);

double hk_fit_omega(const struct hk_fit *fit);

/*
 * The ground of stitches: the yarns of a folder held together, and the tool. In a garment, lengths differ from a
 * swatch's by D.
 */
struct hk_ground {
    const struct hk_tally *tally;
    size_t combination;
    double tool_mm;
    bool swatch;
};

/*
 * Returns the amount for the kinds worked on the ground: metres of one strand in a fit of yarn, seconds in a fit of
 * time, at the parameter values x (fit->count values; NULL: the optimum). Adds the derivatives, times `weight`, to
 * gradient (may be NULL).
 */
double hk_fit_worked(const struct hk_fit *fit, const double *x, struct hk_ground ground, struct hk_kinds kinds, double weight,
                     double *gradient);

/* The same, for a fit of yarn. */
double hk_fit_length_m(const struct hk_fit *fit, const double *x, struct hk_ground ground, struct hk_kinds kinds,
                       double weight, double *gradient);

/* Computes C h; its product with another gradient is their covariance at the optimum. */
void hk_fit_along(const struct hk_fit *fit, const double *gradient, double *along);
double hk_fit_dot(const struct hk_fit *fit, const double *a, const double *b);
/* Returns the variance at the optimum of a quantity with this gradient. */
double hk_fit_variance(const struct hk_fit *fit, const double *gradient);

/* Returns the ratio of a yarn's mass on the maker's scale to its label: exp(H) at the optimum. */
double hk_fit_weighs(const struct hk_fit *fit, size_t folder, size_t yarn);

/*
 * Returns ln of the ratio of the expectation of a datum to its reading, at x (as above): ln f - ln reading + Z per_g,
 * without pieces, and without the making unless it is a parameter. If the mass left was weighed, ln reading is
 * ln(reading - left exp(-H)). Adds the derivatives, times `weight`, to gradient (may be NULL).
 */
double hk_fit_ln_off(const struct hk_fit *fit, const double *x, const struct hk_datum *datum, double weight,
                       double *gradient);

/* Returns the grams per metre of a yarn of the project at the optimum. */
double hk_fit_grist_g_m(const struct hk_fit *fit, size_t yarn);

/*
 * Returns the reading of a datum at the optimum, in g, m or g/m; if the mass left was weighed, the grams of the label
 * used; of a tester, the grams on the tester's scale.
 */
double hk_fit_read(const struct hk_fit *fit, const struct hk_datum *datum);

/* Returns the number of data from progress.csv, of the project or of learned projects; and of full balls. */
size_t hk_fit_pieces(const struct hk_fit *fit, bool learned);
size_t hk_fit_balls(const struct hk_fit *fit);

/*
 * A fit of yarn by swatches and balls alone; the weighings of progress.csv, here and learned, are its data `held`. NULL
 * on any error. Its findings are those of hk_fit_make.
 */
struct hk_fit *hk_fit_holding(const struct hk_tally *tally, struct hk_diags *diags);

/* Returns the cell of a file that a datum comes from. */
struct hk_cell hk_datum_cell(const struct hk_datum *datum);

/* Returns true for the readings of one swatch: its weight, its length and its grams a metre. */
static inline bool hk_datum_same_swatch(const struct hk_datum *a, const struct hk_datum *b)
{
    return a->swatch != SIZE_MAX && a->swatch == b->swatch && a->folder == b->folder;
}

#endif
