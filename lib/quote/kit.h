/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A batch of kits, and its yarn (kit_yarn.c): what a kit holds, and the cheapest basket for the batch. */
#ifndef HK_KIT_H
#define HK_KIT_H

#include "quote/quoting.h"

/* The cost of the yarn of a batch, once computed, and the value of the part from home. */
struct hk_kit_trial {
    bool tried, had, proven;
    double gap;
    int64_t bought_minor, home_minor;
};

/* The kits of one size in a batch. */
struct hk_kit_part {
    size_t index;                 /* of the size in the project */
    int64_t kits, before;         /* of this size, and of the parts before it */
    struct hk_demand_role *roles; /* of one kit, by role of the project; enough_g 0: not in this size */
    int64_t *balls;               /* by offer: whole balls in one kit; 0: wound off, or not in this size */
    struct hk_quote_size *size;
};

/* One batch. */
struct hk_kit {
    struct hk_quoting *q;
    struct hk_kit_part *parts;
    size_t part_count;
    int64_t kits; /* of all parts */
    struct hk_purchase buy;
    struct hk_kit_trial *trials; /* index: kits - 1; only a batch of one size has others than its own */
    int64_t most;                /* the largest batch examined */
};

/* Opens the batch, whose parts have their sizes and kits. Returns false when out of memory or with a finding. */
bool hk_kit_open(struct hk_kit *k);

/* Changes the kits of a batch of one size; a batch of several keeps its own. */
void hk_kit_resize(struct hk_kit *k, int64_t kits);

/* Buys the batch and keeps its basket. Returns false with a finding when the stock is not enough. */
bool hk_kit_buy(struct hk_kit *k, struct hk_shop_size *shop_size);

/* Sets the yarns of a part by role, from the basket that was bought. */
void hk_kit_fill_yarns(const struct hk_kit *k, const struct hk_kit_part *part);

/* Divides the cost of the basket among the parts, to the minor unit, by the value of their balls or grams. */
void hk_kit_split_yarn(const struct hk_kit *k, struct hk_kit_trial *by_part);

/*
 * Finds the cheapest basket of a number of kits of one size, within a share of the time of the options; the basket that
 * was bought is lost. A failure is recorded, and later results are then not used.
 */
const struct hk_kit_trial *hk_kit_try(struct hk_kit *k, int64_t kits, double share);

/* Returns the maximum value of balls from home in the batch: of each offer as many as fill its role. */
int64_t hk_kit_home_most(struct hk_kit *k);

#endif
