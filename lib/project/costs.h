/* SPDX-License-Identifier: GPL-3.0-or-later */
/* costs.csv: the costs of a commission, a kit or a pattern besides its yarn, and the shares of a price that others take. */
#ifndef HK_COSTS_H
#define HK_COSTS_H

#include "base/money.h"
#include "input/table.h"

enum hk_cost_kind {
    HK_COST_MATERIAL,
    HK_COST_LABOUR,
    HK_COST_OVERHEAD,
    HK_COST_MARKUP,
    HK_COST_FEE,
    HK_COST_TAX,
    HK_COST_KIT,
    HK_COST_FIXED,
    HK_COST_POSTAGE,
};

/* The thing that an amount is for. */
enum hk_cost_per {
    HK_PER_EACH,      /* not stated: each piece and each kit, each sale of any kind */
    HK_PER_PIECE,     /* a commissioned piece */
    HK_PER_KIT,
    HK_PER_BATCH,     /* of kits */
    HK_PER_PATTERN,
    HK_PER_HOUR,      /* of work on a piece */
    HK_PER_ALL,       /* a percentage of materials and labour together */
    HK_PER_MATERIALS,
    HK_PER_LABOUR,
    HK_PER_INCLUDED,  /* a tax in the price */
    HK_PER_ADDED,     /* a tax on top of it */
};

/* 1000%: a higher percentage is a typing error. */
#define HK_PERCENT_MOST (10 * HK_MILLION)

/*
 * Quantities are counted in this part of one: hours in whole milliseconds. Thirds, eighths and five digits after the point are
 * whole numbers of it.
 */
#define HK_COST_ONE ((int64_t)3600000)

struct hk_cost {
    const char *item;
    enum hk_cost_kind kind;
    enum hk_cost_per per;
    bool percent;
    int64_t millionths;    /* of a percentage */
    int64_t amount_minor;  /* otherwise: of one, or of an hour */
    /* By size, of one or of an hour, in HK_COST_ONE; NULL: not stated. */
    int64_t *quantity;
    bool unprinted; /* of a material: a pattern does not list it, such as packaging */
    struct hk_cell cell, amount_cell, print_cell;
};

/* Returns true for a material of the piece besides yarn; the costs of kits and patterns are not for its reader. */
static inline bool hk_cost_is_notion(const struct hk_cost *cost)
{
    return cost->kind == HK_COST_MATERIAL && (cost->per == HK_PER_EACH || cost->per == HK_PER_PIECE);
}

#endif
