/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The common parts of commission.c, kit.c and pattern.c: sums over the rows of costs.csv, deductions from a price, and
 * the price, all in whole minor units; every product is rounded half up once.
 */
#ifndef HK_QUOTING_H
#define HK_QUOTING_H

#include "need/need.h"
#include "quote/price.h"
#include "shop/purchase.h"

struct hk_quoting {
    struct hk_quote *face;
    struct hk_arena *arena; /* the arena of the answer */
    const struct hk_needed *needed;
    const struct hk_shop *shop;
    const struct hk_hours *hours;
    const struct hk_project *project;
    struct hk_quote_options options;
    struct hk_rates rates;
    struct hk_watching watching;
    struct hk_diags *diags;
    size_t errors; /* the number of errors at the start */
    bool too_much; /* some amount is above HK_MONEY_MOST: reported once, at the end */
};

/* The limit of kits, so that sums do not overflow. */
#define HK_KITS_MOST 100000

/* ---- Exact sums ---- */

void hk_quoting_add(struct hk_quoting *q, int64_t *sum, int64_t more);
/* Returns the amount for a quantity in units of 1/HK_COST_ONE, rounded half up; both are at least 0. */
int64_t hk_quoting_times(struct hk_quoting *q, int64_t amount, int64_t quantity);
int64_t hk_quoting_percent(struct hk_quoting *q, int64_t amount, int64_t millionths);
/* Returns a / b, rounded up; a >= 0, b > 0. */
int64_t hk_ceil_div(int64_t a, int64_t b);

/* ---- Rows of costs.csv ---- */

bool hk_cost_applies(const struct hk_cost *cost, enum hk_cost_kind kind, enum hk_cost_per per);
/* Returns the place of the last row of costs.csv, or of the file if it has no rows. */
struct hk_place hk_costs_place(const struct hk_project *project);
/* Returns the quantity, in units of 1/HK_COST_ONE; one if not stated. */
int64_t hk_cost_quantity(const struct hk_cost *cost, size_t size);
/* Returns the sum of all rows of this kind in money, each `times` times (1 to HK_KITS_MOST) and rounded once. */
int64_t hk_quoting_sum(struct hk_quoting *q, enum hk_cost_kind kind, enum hk_cost_per per, size_t size, int64_t times);
/*
 * Returns the earnings of the hours stated in rows of labour, each `times` times; adds the hours, in units of
 * 1/HK_COST_ONE, to *time.
 */
int64_t hk_quoting_stated_labour(struct hk_quoting *q, enum hk_cost_per per, size_t size, int64_t times, int64_t *time);
/* Returns the overhead per hour for a time in units of 1/HK_COST_ONE. */
int64_t hk_quoting_hour_overhead(struct hk_quoting *q, int64_t time);
/* Returns the hourly rate for the computed hours; NULL if none is stated. */
const struct hk_cost *hk_quoting_rate(const struct hk_project *project);
/* Returns the first cost that states hours for the piece; NULL: none. Without a rate they replace the computed hours. */
const struct hk_cost *hk_quoting_hours_stated(const struct hk_project *project);
/* Returns the sum of percentages of this kind on one basis. */
int64_t hk_quoting_percents(const struct hk_project *project, enum hk_cost_kind kind, enum hk_cost_per basis);
/* Returns the sum of all percentages of this kind on their bases, each rounded separately. */
int64_t hk_quoting_shares(struct hk_quoting *q, enum hk_cost_kind kind, int64_t materials, int64_t labour);

/* ---- The price ---- */

/*
 * Sets the fees and tax of the article in q->rates and the quote. Returns false with a finding when they take the whole
 * price, or when no price has the requested ending.
 */
bool hk_quoting_collect_rates(struct hk_quoting *q);
/*
 * Sets the bill at the given price, else at the least price that covers costs and the maker's income. Returns false
 * with a finding.
 */
bool hk_quoting_price(struct hk_quoting *q, int64_t costs_minor, int64_t hers_minor, struct hk_bill *bill);
/*
 * The same article with the discount code. Adds a finding when the code is more than the price; the bill is then unset.
 */
void hk_quoting_code_bill(struct hk_quoting *q, const struct hk_bill *full, struct hk_bill *bill);
/* Returns the amount kept for each of the likely hours, > 0, rounded to the minor unit; negative for a loss. */
int64_t hk_quoting_earns(const struct hk_bill *bill, double hours);
/* Sets the bills at the discounts of the options; the bill and the hours are set. */
void hk_quoting_discounts(struct hk_quoting *q, struct hk_quote_size *size);
/* Sets the deposit. Adds a finding when it is more than the price. */
void hk_quoting_deposit(struct hk_quoting *q, struct hk_quote_size *size);

/* ---- The three questions ---- */

/* Answers for size i of those asked for, whose roles are roles[first] to roles[first + count - 1] of the need. */
void hk_commission_size(struct hk_quoting *q, size_t i, size_t first, size_t count, struct hk_quote_size *size);
/*
 * Answers for one batch of kits, of the project's sizes first to last: with options.kits those with kits in it, else
 * `batch` kits of the one size. Sets sizes[0] and so on, and *shop_size to the basket of the batch.
 */
void hk_kit_batch(struct hk_quoting *q, size_t first, size_t last, struct hk_quote_size *sizes,
                  struct hk_shop_size *shop_size);
void hk_pattern_sales(struct hk_quoting *q);

#endif
