/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * One order: which offers may fill which role (eligible_offers.h), the cheapest basket of them (basket.h), its lines
 * and what each shop asks. How much must be in it is set by the caller. A role whose yarn has no price stays outside
 * the basket.
 */
#ifndef HK_PURCHASE_H
#define HK_PURCHASE_H

#include "shop/eligible_offers.h"

/* A watch over several searches, one after another: each is its part of all. */
struct hk_watching {
    struct hk_watch watch; /* of the host */
    double from, share;    /* of the search that is on: it begins at `from` of all, and is `share` of it */
    double most;           /* that was said to be done */
    bool cancelled;
};

/* As go_on of hk_watch, of one of the searches. */
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
    struct hk_basket_role *roles; /* by role of the demand: `needed_g` is to be stated */
    struct hk_basket_shop *shops;
    int64_t *unpriced_balls; /* by role of the demand: 0 where the basket has it, else to be stated */
    /* from hk_purchase_solve */
    struct hk_basket found;
};

/* The planned yarn of a role of the demand, and the role's name. */
const struct hk_candidate *hk_purchase_plan(const struct hk_purchase *purchase, size_t role);
const struct hk_yarn *hk_purchase_yarn(const struct hk_purchase *purchase, size_t role);
const char *hk_purchase_role(const struct hk_purchase *purchase, size_t role);

/* Finds what is on offer. False where the arena is out of memory or a role has offers and none that will do (a
 * finding). */
bool hk_purchase_open(struct hk_purchase *purchase);

/* All roles, offers and shops, to recount balls by. */
struct hk_basket_problem hk_purchase_problem(const struct hk_purchase *purchase);

/* The cheapest basket, into `found`; what it takes comes from the arena. Says nothing. */
enum hk_basket_answer hk_purchase_solve(struct hk_purchase *purchase);

/* Says why there is no basket. */
void hk_purchase_refuse(const struct hk_purchase *purchase, enum hk_basket_answer answer);

/* Lots that a role is bought in; one without a name is the offer's own. */
size_t hk_purchase_lots(const struct hk_purchase *purchase, size_t role);
/*
 * What so many balls of a choice are worth: what they cost; of balls at home by the value stated, else by weight at the price of
 * the yarn in yarns.csv. HK_NO_PRICE where neither is stated, HK_MONEY_MOST where it is that or more.
 */
int64_t hk_purchase_worth(const struct hk_purchase *purchase, size_t choice, int64_t balls);
/* What all balls from home in the basket are worth, as far as that is known. */
int64_t hk_purchase_home(const struct hk_purchase *purchase);
/* Whether balls at home stay there while others are bought, because lots do not mix. */
bool hk_purchase_own_left(const struct hk_purchase *purchase, size_t role);

/* What was found, as lines by role and then as the offers stand in the file, and bills in the order of shops.csv. */
void hk_purchase_fill(const struct hk_purchase *purchase, struct hk_shop_size *shop_size);

#endif
