/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "need/have.h"

#include "model/predict.h"

#include <math.h>

/* Less than this part of a ball is no begun ball: the rounding of "2.5 oz", twice. */
#define BALL_NOISE 1e-9

struct hk_have hk_have_of(double mass_g, double put_up_g)
{
    double balls = floor(mass_g / put_up_g + BALL_NOISE);
    double first_g = mass_g - balls * put_up_g;
    return (struct hk_have){first_g > BALL_NOISE * put_up_g ? first_g : 0, (int64_t)balls, put_up_g};
}

bool hk_have_start_g(const struct hk_project *project, size_t role, double *mass_g)
{
    const struct hk_candidate *plan = &project->candidates[project->roles[role].plan];
    bool known = false;
    *mass_g = 0;
    for (size_t i = 0; i < project->in_hand_count; i++) {
        if (project->in_hand[i].role != role || project->in_hand[i].left)
            continue;
        *mass_g += project->in_hand[i].mass_g;
        known = true;
    }
    for (size_t i = 0; i < project->offer_count && !known; i++) {
        const struct hk_offer *offer = &project->offers[i];
        if (offer->shop == HK_SELLER_OWN && offer->role == role && offer->stock > 0 && hk_offer_counts(offer, plan))
            *mass_g += (double)offer->stock * offer->put_up_g;
    }
    return known || *mass_g > 0;
}

double hk_have_usable_g(struct hk_have have, double join_g)
{
    double balls = (double)have.balls + (have.first_g > 0 ? 1 : 0);
    return balls > 0 ? have.first_g + (double)have.balls * have.put_up_g - (balls - 1) * join_g : 0;
}

bool hk_have_chance(struct hk_have have, const struct hk_taking *taking, double *chance)
{
    double usable_g = hk_have_usable_g(have, taking->join_g);
    *chance = taking->likely_g > 0 ? 0 : 1;
    if (!(taking->likely_g > 0) || !(usable_g > 0))
        return true;
    *chance = hk_chance_within(log(usable_g / taking->likely_g), taking->spread);
    if (!taking->walk || !hk_walk_wanted(taking->walk, have.put_up_g))
        return true;
    const struct hk_pile piles[] = {{1, have.first_g}, {have.balls, have.put_up_g}};
    size_t first = have.first_g > 0 ? 0 : 1;
    return hk_walk_chance(taking->walk, piles + first, 2 - first, 0, taking->spread, chance);
}
