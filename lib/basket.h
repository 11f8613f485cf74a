/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The cheapest basket as an integer programme on GLPK: balls of each offer, which shops are used, which thresholds are met, one
 * lot a role. Pure: knows no files and no yarn. Money is whole minor units; what GLPK says is rechecked and recounted
 * exactly before it is believed.
 *
 * GLPK keeps an environment for each thread: hk_basket_solve owns the calling thread's for the time of the call.
 */
#ifndef HK_BASKET_H
#define HK_BASKET_H

#include "arena.h"

struct hk_basket_offer {
    size_t role, shop;
    size_t lot;          /* one number for each lot name of a role, across shops and put-ups */
    double usable_g;     /* a ball's mass less one join: p - j > 0 */
    int64_t pack;        /* sold in so many only; at least 1 */
    int64_t stock;       /* in balls; -1: no limit */
    int64_t price_minor; /* of one ball */
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
};

enum hk_basket_answer {
    HK_BASKET_FOUND,
    HK_BASKET_SHORT,  /* a role whose offers together do not reach: role, missing_g */
    HK_BASKET_LOTS,   /* a role that only mixing lots would fill: role, missing_g with its best single lot */
    HK_BASKET_TIME,   /* the time ran out before any basket was found */
    HK_BASKET_RANGE,  /* amounts beyond what can be counted exactly */
    HK_BASKET_FAILED, /* GLPK failed: no memory, or an answer that did not survive the recount */
};

struct hk_basket {
    int64_t *balls; /* by offer; from the arena */
    int64_t *goods_minor, *postage_minor, *discount_minor; /* by shop */
    int64_t total_minor;
    bool proven;    /* no cheaper basket exists */
    double gap;     /* else: at most this ratio of the total above the cheapest */
    size_t role;    /* SHORT, LOTS */
    double missing_g;
};

enum hk_basket_answer hk_basket_solve(const struct hk_basket_problem *problem, struct hk_basket *basket,
                                      struct hk_arena *arena);

/* What a shop asks for `goods_minor` of goods (0: nothing is bought there): postage and discount. False beyond int64. */
bool hk_basket_bill(const struct hk_basket_shop *shop, int64_t goods_minor, int64_t *postage_minor, int64_t *discount_minor);

#endif
