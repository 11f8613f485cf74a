/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The cheapest basket as an integer programme on GLPK: the balls of each offer, the shops used, the thresholds met, one
 * lot per role. Independent of files and yarn. Money is whole minor units; every solution of GLPK is checked and its
 * cost recomputed exactly.
 *
 * GLPK has an environment per thread. hk_basket_solve creates and frees it. If the host already has one on this thread,
 * its terminal and error hooks are reset, and when GLPK fails (HK_BASKET_FAILED) it is freed with all the host's
 * problems in it, since GLPK allows no other recovery. A host with GLPK problems must solve baskets on another thread.
 */
#ifndef HK_BASKET_H
#define HK_BASKET_H

#include "base/arena.h"

/* A quantity price: from this number of balls of the offer on, all its packs cost this. */
struct hk_basket_tier {
    int64_t from; /* in balls, rising, the first above `pack` */
    int64_t pack_minor; /* above 0, and below the price before it */
};

struct hk_basket_offer {
    size_t role, shop;
    size_t lot;          /* the number of the lot name within the role, across shops and put-ups */
    double usable_g;     /* a ball's mass less one join: p - j > 0 */
    int64_t pack;        /* sold only in multiples of this; at least 1 */
    int64_t stock;       /* in balls; -1: no limit */
    int64_t pack_minor;  /* the price of a pack; at least 0 */
    const struct hk_basket_tier *tiers; /* ended by one from 0; NULL: none */
};

/* Thresholds apply to the goods of this shop before discounts, and equality meets them. */
struct hk_basket_shop {
    int64_t postage_minor;
    int64_t free_from_minor; /* -1: never */
    int64_t off_from_minor;  /* the threshold of both discounts */
    int64_t off_minor, off_millionths; /* the discounts; their sum is at most the goods; the percentage is rounded
                                        * half up once */
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
    HK_BASKET_SHORT,     /* some roles cannot be filled: `lacks` lists all of them */
    HK_BASKET_RANGE,     /* an amount that is not a number, out of range, or too large for exact arithmetic */
    HK_BASKET_CANCELLED, /* by the watch */
    HK_BASKET_FAILED,    /* GLPK failed, or memory ran out */
};

/* A role that its offers cannot fill. */
struct hk_basket_lack {
    size_t role;
    bool lots;        /* mixing lots would fill it; false: all offers together do not */
    double missing_g; /* with all offers; if `lots`: with the lot that holds most */
    size_t lot;       /* if `lots`: the lot that holds most */
};

struct hk_basket {
    int64_t *balls; /* by offer; from the arena, like all arrays here */
    int64_t *goods_minor, *postage_minor, *discount_minor; /* by shop */
    int64_t total_minor;
    bool proven;    /* no cheaper basket exists */
    double gap;     /* if not proven: the cheapest is at most this ratio below the total; 0 if proven */
    struct hk_basket_lack *lacks; /* SHORT: by role */
    size_t lack_count;
};

/* The relative tolerance for a need, half a milligram of 500 g; larger than rounding errors and GLPK's tolerance. */
#define HK_NEED_SHORT 1e-6

/*
 * Finds a cheapest basket without free balls that are not needed; if several are cheapest, any of them. Equal problems
 * give equal baskets, unless the time runs out: then the result is the best basket found, with its gap; there is always
 * one. *basket is unchanged on RANGE and FAILED; SHORT sets `lacks` only.
 */
enum hk_basket_answer hk_basket_solve(const struct hk_basket_problem *problem, struct hk_basket *basket,
                                      struct hk_arena *arena);

/*
 * Computes the cost of any choice of balls (by offer, each at least 0): sets the four sums of *basket and allocates its
 * arrays by shop. Returns false and leaves *basket unchanged beyond HK_MONEY_MOST or when out of memory
 * (arena->out_of_memory). Uses prices only; ignores need, stock, packs and lots.
 */
bool hk_basket_recount(const struct hk_basket_problem *problem, const int64_t *balls, struct hk_basket *basket,
                       struct hk_arena *arena);

/* Returns the price of a pack where this number of balls of the offer is bought. */
int64_t hk_basket_pack_minor(const struct hk_basket_offer *offer, int64_t balls);

/* Computes the price of this number of balls. Returns false and leaves *minor unchanged beyond HK_MONEY_MOST. */
bool hk_basket_goods(const struct hk_basket_offer *offer, int64_t balls, int64_t *minor);

/*
 * Computes postage and discount of a shop for goods of `goods_minor`, which is 0 if all goods are free. used: something
 * is bought there. Returns false and leaves both unchanged beyond HK_MONEY_MOST.
 */
bool hk_basket_bill(const struct hk_basket_shop *shop, bool used, int64_t goods_minor, int64_t *postage_minor,
                    int64_t *discount_minor);

#endif
