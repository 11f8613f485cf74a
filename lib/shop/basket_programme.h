/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A basket as an integer programme, searched on GLPK. basket_solve.c has the last word on every answer. */
#ifndef HK_BASKET_PROGRAMME_H
#define HK_BASKET_PROGRAMME_H

#include "shop/basket.h"

/* What GLPK's tolerance let pass for packs that miss it: it takes one pack more of something. */
enum hk_basket_claim {
    HK_CLAIM_NEED,     /* that they fill the role `index` */
    HK_CLAIM_FREE,     /* that they reach free_from in the shop `index` */
    HK_CLAIM_OFF,      /* that they reach off_from there */
    HK_CLAIM_PART,     /* that off_millionths of them are `part_minor` there */
};
struct hk_basket_refusal {
    enum hk_basket_claim claim;
    size_t index;
    int64_t part_minor;
    const int64_t *packs; /* by offer */
};

/* What is known before the search. A pack is the unit here: `pack` balls of an offer. */
struct hk_basket_plan {
    const struct hk_basket_problem *problem;
    int64_t *packs_most;  /* by offer: no cheapest basket holds more; 0: it holds none */
    double *cover;        /* by offer: what a pack gives of its role's need, at most 1 */
    size_t *lot;          /* by offer: its lot, numbered through all roles */
    size_t *lot_role;     /* by lot */
    size_t lot_count;
    double *goods_most;   /* by shop: no cheapest basket buys for more there */
    int64_t total_minor;  /* of the best basket known; -1: none yet */
    struct hk_basket_refusal *refusals;
    size_t refusal_count, refusal_capacity;
};

enum hk_programme_goal {
    HK_PROGRAMME_CHEAPEST,
    HK_PROGRAMME_FEWEST, /* balls, then least sum of positions, at a cost of at most total_minor */
};

enum hk_programme_end {
    HK_PROGRAMME_OPTIMUM,
    HK_PROGRAMME_STOPPED, /* by time or by `nodes_most`; `packs` holds the best seen if `seen` */
    HK_PROGRAMME_NOTHING, /* GLPK finds no basket, or gives up: both against what is known */
    HK_PROGRAMME_CANCELLED,
    HK_PROGRAMME_FAILED,  /* no memory, or what GLPK aborts on */
};

struct hk_programme_search {
    enum hk_programme_goal goal;
    double seconds;
    long nodes_most;   /* LONG_MAX: no limit */
    double balls_most; /* FEWEST: there is a basket of so many */
    /* results */
    bool seen;
    int64_t *packs;    /* by offer; the caller's */
    bool *postage_free, *off_taken; /* by shop; the caller's: which thresholds GLPK takes for met, */
    int64_t *part_minor;            /* and what for the percentage's discount */
    double objective;  /* of `packs`, by GLPK */
    double bound;      /* no basket has a lower objective */
    double seconds_left;
};

/* Prints nothing, whatever happens, and always returns. */
enum hk_programme_end hk_programme_search(const struct hk_basket_plan *plan, struct hk_programme_search *search);

/* Writes the programme (goal: the cheapest) in CPLEX LP format, for a look from outside. For tests and benchmarks only. */
bool hk_programme_write(const struct hk_basket_plan *plan, const char *path);

/*
 * Nothing that fills the role, from this lot or (NULL) any, costs less before discounts and postage: the optimum of that
 * knapsack where a bounded search finds it, else 0.
 */
double hk_basket_price_least(const struct hk_basket_plan *plan, size_t role, const size_t *lot);

/* What hk_basket_solve does before the search. Arrays are from the arena. */
enum hk_basket_answer hk_basket_prepare(const struct hk_basket_problem *problem, struct hk_basket_plan *plan,
                                        struct hk_basket *basket, struct hk_arena *arena);

#endif
