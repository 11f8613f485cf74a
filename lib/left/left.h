/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The rest of the work in hand (public part in hankful.h): what order.c needs of a role. */
#ifndef HK_LEFT_H
#define HK_LEFT_H

#include "need/have.h"

/* A role of the rest, in grams by the label; chances are those of the rest against the yarn in hand. */
struct hk_remaining_taking {
    const struct hk_project *project;
    const struct hk_level *level;
    struct hk_taking taking;
    struct hk_have have; /* what is in hand */
};

/* Sets `order` and `order_chance`, and the shop that has the yarn of the same lot. Returns false when out of memory. */
bool hk_remaining_order(const struct hk_remaining_taking *taking, double chance, struct hk_remaining_role *role);

#endif
