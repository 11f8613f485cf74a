/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The balls to order for the rest, and who has them in the lot of the yarn in hand. */
#include "left/left.h"

#include "base/text.h"
#include "model/predict.h"
#include "need/balls.h"

#include <math.h>

/* The search for the number of balls ends here: as many as no chance needs. */
#define TRIES_MOST 1000

static bool is_enough(const struct hk_remaining_taking *t, struct hk_have have, double asked, double *chance,
                      bool *enough)
{
    if (!hk_have_chance(have, &t->taking, chance))
        return false;
    *enough = t->level->margin >= 0
                  ? hk_have_usable_g(have, t->taking.join_g) >= t->taking.likely_g * (1 + t->level->margin)
                  : *chance >= asked;
    return true;
}

/* Of several shops that with the largest stock; one that states no stock comes after one that has enough. */
static bool is_better(const struct hk_offer *offer, const struct hk_offer *best, int64_t balls)
{
    bool enough = offer->stock >= balls, best_enough = best && best->stock >= balls;
    if (!best || enough != best_enough)
        return !best || enough;
    if ((offer->stock < 0) != (best->stock < 0))
        return offer->stock < 0;
    return offer->stock > best->stock;
}

static void find_shop(const struct hk_project *project, struct hk_remaining_role *role)
{
    const struct hk_candidate *plan = &project->candidates[project->roles[role->role].plan];
    const struct hk_offer *best = NULL;
    role->lot = role->shop = "";
    role->stock = -1;
    for (size_t i = 0; i < project->offer_count; i++) {
        const struct hk_offer *offer = &project->offers[i];
        if (offer->shop == HK_SELLER_OWN && offer->role == role->role && hk_offer_counts(offer, plan) && !*role->lot)
            role->lot = offer->lot;
    }
    for (size_t i = 0; i < project->offer_count; i++) {
        const struct hk_offer *offer = &project->offers[i];
        if (offer->shop != HK_SELLER_OWN && offer->role == role->role && hk_offer_counts(offer, plan) &&
            offer->stock != 0 && (!*role->lot || hk_text_same(offer->lot, role->lot)) &&
            is_better(offer, best, role->order))
            best = offer;
    }
    if (!best)
        return;
    role->shop = project->sellers[best->shop].name;
    role->stock = best->stock;
}

bool hk_remaining_order(const struct hk_remaining_taking *t, double chance, struct hk_remaining_role *role)
{
    struct hk_have have = t->have;
    bool enough;
    double asked_g = hk_enough(t->level, t->taking.likely_g, t->taking.spread);
    if (!is_enough(t, have, chance, &role->order_chance, &enough))
        return false;
    if (!enough && have.put_up_g > t->taking.join_g) { /* the number by the mean loss of a join, then by the chance */
        double lacks_g = asked_g - hk_have_usable_g(have, t->taking.join_g);
        role->order = (int64_t)fmax(floor(lacks_g / (have.put_up_g - t->taking.join_g)) - 2, 0);
    }
    for (int tries = 0; !enough && tries < TRIES_MOST; tries++) {
        have.balls = t->have.balls + ++role->order;
        if (!is_enough(t, have, chance, &role->order_chance, &enough))
            return false;
    }
    find_shop(t->project, role);
    return true;
}
