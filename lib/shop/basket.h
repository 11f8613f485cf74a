/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The cheapest basket as an integer programme on GLPK: balls of each offer, which shops are used, which thresholds are met, one
 * lot a role. Pure: knows no files and no yarn. Money is whole minor units; what GLPK says is rechecked and recounted
 * exactly before it is believed.
 *
 * GLPK keeps an environment for each thread. hk_basket_solve makes one and frees it again; if the host already has one on
 * this thread, its terminal and error hooks are reset, and where GLPK fails (HK_BASKET_FAILED) it is freed with all the
 * host's own problems in it, for GLPK leaves no other way on. A host that keeps such problems solves baskets on another thread.
 */
#ifndef HK_BASKET_H
#define HK_BASKET_H

#include "base/arena.h"

struct hk_basket_offer {
    size_t role, shop;
    size_t lot;          /* one number for each lot name of a role, across shops and put-ups */
    double usable_g;     /* a ball's mass less one join: p - j > 0 */
    int64_t pack;        /* sold in so many only; at least 1 */
    int64_t stock;       /* in balls; -1: no limit */
    int64_t price_minor; /* of one ball; 0 and more */
};

/* Thresholds look at the goods bought in this shop before any discount and are met at equality. */
struct hk_basket_shop {
    int64_t postage_minor;
    int64_t free_from_minor; /* -1: never */
    int64_t off_from_minor;  /* of both offs */
    int64_t off_minor, off_millionths; /* add up, never beyond the goods; the percentage rounded half up once */
};

struct hk_basket_role {
    double needed_g; /* enough - j: sum of usable_g * balls must reach it, with at least one ball */
    bool one_lot;
};

struct hk_basket_problem {
    const struct hk_basket_offer *offers;
    const struct hk_basket_shop *shops;
    const struct hk_basket_role *roles;
    size_t offer_count, shop_count, role_count;
    double seconds; /* time limit of the search; > 0 */
    struct hk_watch watch;
};

enum hk_basket_answer {
    HK_BASKET_FOUND,
    HK_BASKET_SHORT,  /* some roles cannot be filled: `lacks`, every one of them */
    HK_BASKET_RANGE,  /* an amount that is no number, out of its range, or beyond what can be counted exactly */
    HK_BASKET_CANCELLED, /* by the watch */
    HK_BASKET_FAILED, /* GLPK failed, or there was no memory */
};

/* A role that its offers do not fill. */
struct hk_basket_lack {
    size_t role;
    bool lots;        /* mixing lots would fill it; else nothing on offer does */
    double missing_g; /* with all there is; with `lots`: with the lot that holds most */
    size_t lot;       /* `lots`: that lot */
};

struct hk_basket {
    int64_t *balls; /* by offer; from the arena, like all arrays here */
    int64_t *goods_minor, *postage_minor, *discount_minor; /* by shop */
    int64_t total_minor;
    bool proven;    /* no cheaper basket exists */
    double gap;     /* else: the cheapest is at most this ratio of the total below it; 0 where proven */
    const struct hk_basket_lack *lacks; /* SHORT: by role */
    size_t lack_count;
};

/*
 * A need is met by what falls short of it by this part, half a milligram of 500 g: more than rounding and GLPK's tolerance leave.
 */
#define HK_NEED_SHORT 1e-6

/*
 * Of several cheapest baskets any may be found, without balls that are free and not needed; equal problems give equal baskets,
 * unless time runs out. *basket is untouched on RANGE and FAILED; SHORT fills `lacks` only. When the time runs out the best
 * basket seen is given with its gap: there always is one.
 */
enum hk_basket_answer hk_basket_solve(const struct hk_basket_problem *problem, struct hk_basket *basket,
                                      struct hk_arena *arena);

/*
 * What any choice of balls (by offer, each 0 or more) costs: fills the four sums of *basket and makes its arrays by
 * shop. False, *basket untouched, beyond HK_MONEY_MOST or on no memory (arena->out_of_memory). Looks at prices only,
 * not at need, stock, packs, lots.
 */
bool hk_basket_recount(const struct hk_basket_problem *problem, const int64_t *balls, struct hk_basket *basket,
                       struct hk_arena *arena);

/*
 * What a shop asks for goods of `goods_minor` (0 where all that is taken there is free; `used`: anything is taken at
 * all): postage and discount. False, both untouched, beyond HK_MONEY_MOST.
 */
bool hk_basket_bill(const struct hk_basket_shop *shop, bool used, int64_t goods_minor, int64_t *postage_minor,
                    int64_t *discount_minor);

#endif
