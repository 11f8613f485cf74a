/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the parts of a comparison share (public face in hankful.h); the formulas stand in compare.c. */
#ifndef HK_COMPARE_H
#define HK_COMPARE_H

#include "compare/yarn_list.h"
#include "model/predict.h"
#include "need/need.h"

#define HK_HELD_MOST 2 /* yarns of one candidate */

/* ---- The role's work: gathered once, then constant (compare_work.c) ------------------------------------------------ */

#define HK_GROUPS_MOST ((size_t)1000) /* every two of them are compared */

/* With one tool in one combination. */
struct hk_group {
    double tool_mm, old_mm; /* of the tool; the diameter of the combination as planned */
    double others_mm2;      /* sum of d^2 of its other strands */
    double times;           /* strands of the role */
    size_t combination, blend;
    double worked_m;        /* W_k */
    double *gradient;       /* of W_k in the parameters of the fit, its blend left out */
    double other_g;         /* what the other strands weigh, v left out */
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
    bool too_many;            /* more than HK_GROUPS_MOST, and none gathered */
    double *pieces;           /* P_kl */
    double plain_m;
    double other_g;           /* other roles in lines without this one, and what of them no tension acts on */
};

/* Project, fit, arena, size and role are set. False when memory runs out, or there are too many. */
bool hk_role_work_gather(struct hk_role_work *work);

const struct hk_combination *hk_group_combination(const struct hk_role_work *work, const struct hk_group *group);
/* How much larger its loops become, in a yarn (or yarns) of that sum of d^2 and with that tool: (h + d') / (h + d). */
double hk_group_ratio(const struct hk_group *group, double diameter_mm2, double tool_mm);

/* ---- A candidate (compare_row.c) ------------------------------------------------------------------------------------ */

/* What stands in the place of a strand of the role, by strand. */
struct hk_stand_in {
    const struct hk_listed *yarns[HK_HELD_MOST];
    size_t count;
    size_t alike;                /* strands of each of its yarns: 2 of one, or 1 */
    double diameter_mm2;         /* sum of d^2 */
    size_t grists[HK_HELD_MOST]; /* parameters; SIZE_MAX where the fit does not know the yarn */
    bool known;                  /* the fit knows all its yarns */
};

/* What was looked up for the words of a label. */
struct hk_known_fibre {
    const char *words;
    double low, high; /* moisture; -1: not known */
};
#define HK_FIBRES_KEPT 256

struct hk_comparing {
    struct hk_role_work work;
    const struct hk_needed *needed;
    struct hk_diags *diags;
    struct hk_arena *arena;  /* of the face */
    struct hk_arena scratch;
    struct hk_priors priors;
    struct hk_level level;
    double *gradient, *scale;       /* of the candidate at hand, in the fit's parameters and by group */
    double *blends;                 /* by blend of the project: share of W' in one that the fit does not know */
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

/* Two ways to write one label agree no better in grams a metre, as a ratio (yarns.c). */
#define HK_SAME_GRIST 1e-3
double hk_listed_g_m(const struct hk_listed *yarn);

/* A yarn, or two held together (b; else NULL; `a` again: two strands of it), in the role's place. False when memory
 * runs out. */
bool hk_compare_fill(struct hk_comparing *c, const struct hk_listed *a, const struct hk_listed *b,
                     struct hk_compare_row *row);
/* The same, behind the rows there are. */
bool hk_compare_add(struct hk_comparing *c, const struct hk_listed *a, const struct hk_listed *b);

/* All pairs whose grams a metre add up to nearly the plan's (compare_pairs.c). */
bool hk_compare_add_pairs(struct hk_comparing *c, const struct hk_listed *yarns, size_t count, double plan_g_m);

/* ---- Whether it fits (compare_verdict.c) ---------------------------------------------------------------------------- */

/* Takes down what candidates are held against. */
void hk_verdict_plan(struct hk_comparing *c, const struct hk_listed *plan);
/* Fills tool, categories, moisture, verdict and reason of a row whose amounts stand. */
void hk_verdict_fill(struct hk_comparing *c, const struct hk_stand_in *in, struct hk_compare_row *row);

#endif
