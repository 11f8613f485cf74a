/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The offers that may fill the roles of a basket, and the findings when they are not enough. */
#ifndef HK_ELIGIBLE_OFFERS_H
#define HK_ELIGIBLE_OFFERS_H

#include "shop/basket.h"
#include "shop/demand.h"

/* The limit of offers, for the time of the search. */
#define HK_OFFERS_MOST ((size_t)5000)

/* An offer for a role of the demand, or a price in yarns.csv treated as an offer. */
struct hk_eligible_offer {
    size_t role; /* of the demand */
    size_t seller;
    const char *colour, *lot;
    double put_up_g, put_up_m;
    int64_t price_for;   /* the balls that a price is for: 1, or those of a pack */
    int64_t value_minor; /* of one ball at home; -1: not stated */
    struct hk_cell cell;
};

/*
 * offers[i] is eligible[i] as an offer of the basket. Its lot there combines all that a role must not mix: its colour,
 * its lot unless lots may mix, and its put-up if put_ups_apart.
 */
struct hk_eligible_offers {
    struct hk_eligible_offer *eligible;
    struct hk_basket_offer *offers;
    size_t count;
    bool *unpriced;     /* by role of the demand: without offers and price, so not in the basket */
    bool from_offers;   /* some roles have rows in offers.csv */
    bool put_ups_apart; /* set by the caller before the call: a role uses balls of one size only */
};

/*
 * Finds the offers. Returns false when out of memory, or with a finding when a role has rows in offers.csv but none
 * that fills it. `title` names the garments in messages: "" or " in size M".
 */
bool hk_eligible_offers_find(const struct hk_project *project, const struct hk_demand *demand, const char *title,
                             struct hk_eligible_offers *eligible, struct hk_arena *arena, struct hk_diags *diags);

/* Reports, for every role in the basket's `lacks`, the missing mass and a remedy. */
void hk_eligible_offers_lacking(const struct hk_project *project, const struct hk_demand *demand,
                                const struct hk_eligible_offers *eligible, const struct hk_basket_problem *problem,
                                const struct hk_basket *basket, const char *title, struct hk_diags *diags);

#endif
