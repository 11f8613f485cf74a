/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * One order: the eligible offers (eligible_offers.h), the cheapest basket of them (basket.h), its lines and the bills
 * of the shops. The caller sets the need of each role. A role whose yarn has no price is not in the basket.
 */
#ifndef HK_PURCHASE_H
#define HK_PURCHASE_H

#include "shop/eligible_offers.h"

/* A watch over several consecutive searches, each of which is a part of the whole. */
struct hk_watching {
    struct hk_watch watch; /* of the host */
    double from, share;    /* the current search begins at `from` of the whole and is `share` of it */
    double most;           /* the largest `done` reported so far */
    bool cancelled;
};

/* go_on of hk_watch for one of the searches. */
bool hk_watching_go_on(void *watching, double done);

struct hk_purchase {
    /* set by the caller */
    const struct hk_project *project;
    struct hk_demand demand;
    const char *title; /* "" or " in size M", for messages */
    struct hk_arena *arena;
    struct hk_diags *diags;
    double seconds; /* time limit of the search */
    struct hk_watching *watching;
    /* from hk_purchase_open */
    struct hk_eligible_offers eligible;
    struct hk_basket_role *roles; /* by role of the demand: the caller sets needed_g */
    struct hk_basket_shop *shops;
    int64_t *unpriced_balls; /* by role of the demand: 0 if the role is in the basket, else set by the caller */
    /* from hk_purchase_solve */
    struct hk_basket found;
};

/* Return the planned candidate, its yarn, and the name of a role of the demand. */
const struct hk_candidate *hk_purchase_plan(const struct hk_purchase *purchase, size_t role);
const struct hk_yarn *hk_purchase_yarn(const struct hk_purchase *purchase, size_t role);
const char *hk_purchase_role(const struct hk_purchase *purchase, size_t role);

/*
 * Finds the eligible offers. Returns false when out of memory, or with a finding when a role has offers but none that
 * fits.
 */
bool hk_purchase_open(struct hk_purchase *purchase);

/* Returns all roles, offers and shops, to recompute costs. */
struct hk_basket_problem hk_purchase_problem(const struct hk_purchase *purchase);

/* Finds the cheapest basket and sets `found`, with memory from the arena. Adds no finding. */
enum hk_basket_answer hk_purchase_solve(struct hk_purchase *purchase);

/* Reports why there is no basket. */
void hk_purchase_refuse(const struct hk_purchase *purchase, enum hk_basket_answer answer);

/* Returns the number of lots of a role in the basket; an offer without a lot is a lot of its own. */
size_t hk_purchase_lots(const struct hk_purchase *purchase, size_t role);
/*
 * Returns the value of a number of balls of an offer: their cost; for balls at home the stated value, else by mass at
 * the yarn's price in yarns.csv. HK_NO_PRICE if neither is stated; at most HK_MONEY_MOST.
 */
int64_t hk_purchase_worth(const struct hk_purchase *purchase, size_t choice, int64_t balls);
/* Sets the price of an offer as it is stated, where this number of balls is bought, and the balls that it is for. */
void hk_purchase_price(const struct hk_purchase *purchase, size_t choice, int64_t balls, int64_t *price_minor,
                       int64_t *price_for);
/* Returns the value of all balls from home in the basket, as far as known. */
int64_t hk_purchase_home(const struct hk_purchase *purchase);
/* Returns true when balls at home are not used while others are bought, because lots do not mix. */
bool hk_purchase_own_left(const struct hk_purchase *purchase, size_t role);

/* Sets the lines of the basket, by role and then in the order of the file, and the bills in the order of shops.csv. */
void hk_purchase_fill(const struct hk_purchase *purchase, struct hk_shop_size *shop_size);

#endif
