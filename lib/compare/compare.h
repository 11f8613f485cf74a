/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The common parts of a comparison (public part in hankful.h); compare.c has the formulas. */
#ifndef HK_COMPARE_H
#define HK_COMPARE_H

#include "compare/yarn_list.h"
#include "model/predict.h"
#include "need/need.h"

#define HK_HELD_MOST 2 /* yarns of one candidate */

/* ---- The role's work: computed once, then constant (compare_work.c) ---------------------------------------------- */

#define HK_GROUPS_MOST ((size_t)1000) /* limit, since all pairs of groups are compared */

/* The role's work with one tool in one combination. */
struct hk_group {
    double tool_mm, old_mm; /* diameter of the tool, and of the planned combination */
    double others_mm2;      /* sum of d^2 of its other strands */
    double times;           /* strands of the role */
    size_t combination, blend;
    double worked_m;        /* W_k */
    double *gradient;       /* gradient of W_k in the parameters of the fit, without its blend */
    double other_g;         /* mass of the other strands, without v */
    double longest_m;       /* the longest row of one strand */
    bool needles;
};

struct hk_role_work {
    const struct hk_project *project;
    const struct hk_fit *fit;
    struct hk_arena *arena;
    size_t size, role;
    struct hk_group *groups;
    size_t group_count, main; /* main: the one with the most yarn */
    bool too_many;            /* more than HK_GROUPS_MOST groups; none is stored */
    double *pieces;           /* P_kl */
    double plain_m;
    double other_g; /* other roles: in lines without this role, and the part of the others without tension */
};

/*
 * Gathers the groups; the caller sets project, fit, arena, size and role. Returns false when out of memory or when
 * there are too many groups.
 */
bool hk_role_work_gather(struct hk_role_work *work);

const struct hk_combination *hk_group_combination(const struct hk_role_work *work, const struct hk_group *group);
/*
 * Returns the ratio of loop lengths with a yarn (or yarns) of this sum of d^2 and with this tool to the plan: (h + d')
 * / (h + d).
 */
double hk_group_ratio(const struct hk_group *group, double diameter_mm2, double tool_mm);

/* ---- A candidate (compare_row.c) ------------------------------------------------------------------------------------ */

/* The replacement of one strand of the role. */
struct hk_stand_in {
    const struct hk_listed *yarns[HK_HELD_MOST];
    size_t count;
    size_t alike;                /* strands of each of its yarns: 2 for a single yarn held double, else 1 */
    double diameter_mm2;         /* sum of d^2 */
    size_t grists[HK_HELD_MOST]; /* parameters; SIZE_MAX if the fit does not have the yarn */
    bool known;                  /* the fit has all its yarns */
};

/* The cached moisture allowance of a label. */
struct hk_known_fibre {
    const char *words;
    double low, high; /* moisture; -1: not known */
};
#define HK_FIBRES_KEPT 256

struct hk_comparing {
    struct hk_role_work work;
    const struct hk_needed *needed;
    struct hk_diags *diags;
    struct hk_arena *arena; /* the arena of the face */
    struct hk_arena scratch;
    struct hk_priors priors;
    struct hk_level level;
    double *gradient, *scale;       /* of the current candidate, in the fit's parameters and by group */
    double *blends;                 /* by blend of the project: share of W' in blends that the fit does not have */
    size_t *known;                  /* by group: the parameter of its departure, or SIZE_MAX */
    double plan_mm;                 /* diameter of the planned yarn */
    unsigned plan_categories;
    struct hk_known_fibre plan_fibre;
    const char *sets[1 << 8];       /* names of sets of categories */
    struct hk_known_fibre fibres[HK_FIBRES_KEPT];
    struct hk_compare_row *rows;
    size_t row_count, row_capacity;
    bool too_dear, offers;
};

/* The tolerance for grams per metre of the same label written in two ways, as a ratio (yarns.c). */
#define HK_SAME_GRIST 1e-3
double hk_listed_g_m(const struct hk_listed *yarn);

/*
 * Computes the row of a yarn, or of two held together (b, else NULL; a == b: two strands of it), for the role. Returns
 * false when out of memory.
 */
bool hk_compare_fill(struct hk_comparing *c, const struct hk_listed *a, const struct hk_listed *b,
                     struct hk_compare_row *row);
/* The same, and appends the row. */
bool hk_compare_add(struct hk_comparing *c, const struct hk_listed *a, const struct hk_listed *b);

/* Appends all pairs whose grams per metre add up to nearly the plan's (compare_pairs.c). */
bool hk_compare_add_pairs(struct hk_comparing *c, const struct hk_listed *yarns, size_t count, double plan_g_m);

/* ---- The verdict (compare_verdict.c) ---------------------------------------------------------------------------- */

/* Stores the data of the plan that candidates are compared with. */
void hk_verdict_plan(struct hk_comparing *c, const struct hk_listed *plan);
/* Sets tool, categories, moisture, verdict and reason of a row whose amounts are computed. */
void hk_verdict_fill(struct hk_comparing *c, const struct hk_stand_in *in, struct hk_compare_row *row);

#endif
