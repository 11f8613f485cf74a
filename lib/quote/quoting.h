/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A quote in the making: what commission.c, kit.c and pattern.c share. Sums over the rows of costs.csv, what goes off a
 * price, and the price itself, all in whole minor units; every product is rounded half up once.
 */
#ifndef HK_QUOTING_H
#define HK_QUOTING_H

#include "need/need.h"
#include "quote/price.h"
#include "shop/purchase.h"

struct hk_quoting {
    struct hk_quote *face;
    struct hk_arena *arena; /* of the answer */
    const struct hk_needed *needed;
    const struct hk_shop *shop;
    const struct hk_hours *hours;
    const struct hk_project *project;
    struct hk_quote_options options;
    struct hk_rates rates;
    struct hk_watching watching;
    struct hk_diags *diags;
    size_t errors; /* there were before */
    bool too_much; /* some amount is more than money can be: said once, at the end */
};

/* More kits than anyone packs, and so few that their sums stay within what is counted. */
#define HK_KITS_MOST 100000

/* ---- Exact sums ---- */

void hk_quoting_add(struct hk_quoting *q, int64_t *sum, int64_t more);
/* The amount for a quantity in HK_COST_ONEths, half up; nothing negative. */
int64_t hk_quoting_times(struct hk_quoting *q, int64_t amount, int64_t quantity);
int64_t hk_quoting_percent(struct hk_quoting *q, int64_t amount, int64_t millionths);
/* a / b, rounded up; a >= 0, b > 0. */
int64_t hk_ceil_div(int64_t a, int64_t b);

/* ---- Rows of costs.csv ---- */

bool hk_cost_applies(const struct hk_cost *cost, enum hk_cost_kind kind, enum hk_cost_per per);
/* Its last row, or the file where there is none. */
struct hk_place hk_costs_place(const struct hk_project *project);
/* How many of it, in HK_COST_ONE; one where nothing is stated. */
int64_t hk_cost_quantity(const struct hk_cost *cost, size_t size);
/* What all rows of money of that kind come to, each `times` times (1 to HK_KITS_MOST) and rounded once. */
int64_t hk_quoting_sum(struct hk_quoting *q, enum hk_cost_kind kind, enum hk_cost_per per, size_t size, int64_t times);
/* Hours stated in rows of labour, each `times` times: what they earn; the hours, in HK_COST_ONE, are added to *time. */
int64_t hk_quoting_stated_labour(struct hk_quoting *q, enum hk_cost_per per, size_t size, int64_t times, int64_t *time);
/* What overhead by the hour comes to for that time, in HK_COST_ONE. */
int64_t hk_quoting_hour_overhead(struct hk_quoting *q, int64_t time);
/* The rate for the hours that the stitches come to; NULL where none is stated. */
const struct hk_cost *hk_quoting_rate(const struct hk_project *project);
/* Hours on the piece that she states; where those are all the labour there is, they stand in for the stitches' own. */
bool hk_quoting_hours_stated(const struct hk_project *project);
/* Percentages of that kind on one basis, added up. */
int64_t hk_quoting_percents(const struct hk_project *project, enum hk_cost_kind kind, enum hk_cost_per basis);
/* What those of that kind come to, each on its basis and rounded by itself. */
int64_t hk_quoting_shares(struct hk_quoting *q, enum hk_cost_kind kind, int64_t materials, int64_t labour);

/* ---- The price ---- */

/*
 * Fees and tax of what is sold into q->rates and the quote. False, with a finding, where they take all of any price, or none ends
 * as it is asked to.
 */
bool hk_quoting_collect_rates(struct hk_quoting *q);
/* At the price asked about, else at the least one that leaves costs and hers. */
bool hk_quoting_price(struct hk_quoting *q, int64_t costs_minor, int64_t hers_minor, struct hk_bill *bill);
/* The same article with the discount code. */
void hk_quoting_code_bill(struct hk_quoting *q, const struct hk_bill *full, struct hk_bill *bill);

/* ---- The three questions ---- */

/* One size, the i-th asked for: roles[first] to roles[first + count - 1] of the need are its. */
void hk_commission_size(struct hk_quoting *q, size_t i, size_t first, size_t count, struct hk_quote_size *size);
/* The same; *shop_size is what to buy for the batch. */
void hk_kit_size(struct hk_quoting *q, size_t i, struct hk_quote_size *size, struct hk_shop_size *shop_size);
void hk_pattern_sales(struct hk_quoting *q);

#endif
