/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which offers may fill which role of a basket, and what is said where they do not. */
#ifndef HK_ELIGIBLE_OFFERS_H
#define HK_ELIGIBLE_OFFERS_H

#include "shop/basket.h"
#include "shop/demand.h"

/* More than anyone chooses from, and what the search can bear. */
#define HK_CHOICES_MOST ((size_t)5000)

/* An offer for a role of the demand, or the price in yarns.csv as one. */
struct hk_eligible_offer {
    size_t role; /* of the demand */
    size_t seller;
    const char *colour, *lot;
    double put_up_g, put_up_m;
    int64_t value_minor; /* of one ball at home; -1 where it is not stated */
    struct hk_cell cell;
};

/* offers[i] is choices[i] as the basket wants it; its lot there is all that a role must keep to: its colour and, unless
   lots may mix, its lot; its put-up too where those are kept apart. */
struct hk_eligible_offers {
    struct hk_eligible_offer *eligible;
    struct hk_basket_offer *offers;
    size_t count;
    bool *unpriced;     /* by role of the demand: nothing on offer and no price, so it is outside the basket */
    bool from_offers;   /* some role has rows in offers.csv */
    bool put_ups_apart; /* set by the caller, before they are found: a role keeps to balls of one size */
};

/*
 * False where the arena is out of memory or a role has rows in offers.csv and none that fills it (a finding). `title`
 * names the garments in messages: "" or " in size M".
 */
bool hk_eligible_offers_find(const struct hk_project *project, const struct hk_demand *demand, const char *title,
                             struct hk_eligible_offers *eligible, struct hk_arena *arena, struct hk_diags *diags);

/* Says of every role that a basket lacks how much is missing, and what would do. */
void hk_eligible_offers_lacking(const struct hk_project *project, const struct hk_demand *demand,
                                const struct hk_eligible_offers *eligible, const struct hk_basket_problem *problem,
                                const struct hk_basket *basket, const char *title, struct hk_diags *diags);

#endif
