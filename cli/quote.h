/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shared parts of the answers of hankful quote: figures, the bill with a column for each size, and remarks. */
#ifndef QUOTE_H
#define QUOTE_H

#include "more.h"
#include "number.h"
#include "purchases.h"
#include "pipeline.h"

#include <stddef.h>

/* ---- Figures ---- */

/* Distance of the 95% quantile of a normal distribution from its 5% quantile, in standard deviations. */
#define QUOTE_RANGE_DEVIATIONS 3.29

/* The amount may be negative: a loss. */
struct money quote_money(const struct hk_quote *quote, int64_t minor);
/* Formats "EUR 95.00". */
struct number quote_named_money(const struct hk_quote *quote, int64_t minor);
/* The ends of a range, rounded outward in the steps that the spread warrants, no finer than `least`. */
struct quote_ends {
    struct number low, high;
};
struct quote_ends quote_ends(double low, double high, int least);
struct quote_ends quote_money_ends(const struct hk_quote *quote, int64_t low, int64_t high);
/* Formats "62-110". */
struct number quote_range(double low, double high, int least);
struct number quote_money_range(const struct hk_quote *quote, int64_t low, int64_t high);
struct number quote_hours(const struct hk_range *hours);

/* ---- The bill ---- */

/* Adds a column for each size. */
struct text_table *quote_table(const struct hk_quote *quote, struct text *text);

/*
 * Adds a row for one amount, a member of struct hk_quote_size; the second function leaves out a row that is zero in
 * every size.
 */
#define AMOUNT(member) offsetof(struct hk_quote_size, member)
void quote_row(struct text_table *table, const struct hk_quote *quote, const char *name, size_t amount);
void quote_row_if_any(struct text_table *table, const struct hk_quote *quote, const char *name, size_t amount);

int64_t quote_amount(const struct hk_quote_size *size, size_t amount);

/*
 * Return words that name the fee or tax: "marketplace, 6.5%", "payment, 0.25 a sale", "VAT, 20% included". Owner: the
 * caller (free). NULL when memory runs out.
 */
char *quote_fee_words(const struct hk_quote *quote, size_t fee);
char *quote_tax_words(const struct hk_quote *quote, size_t tax);

/* A line of the bill; borrowed while it is taken. */
struct quote_bill_line {
    const char *name;
    const char *key;      /* its place below a size in the JSON: "bill/paid" */
    const int64_t *minor; /* by size */
};
#define QUOTE_PRICE_KEY "bill/paid"
typedef void quote_bill_take(void *context, const struct quote_bill_line *line);

/*
 * Gives the lines of a commission or a kit in order: what the price covers, and the price; with a given price, the
 * price first. A commission goes on with what is kept, and how it is paid. Returns false when memory runs out.
 */
bool quote_bill_each(const struct hk_quote *quote, quote_bill_take *take, void *context);
/* Adds the lines as rows. */
void quote_bill_rows(struct text_table *table, const struct hk_quote *quote, struct text *text);

/* ---- Parts of every answer ---- */

/*
 * Returns "Ask EUR 582.90 for M" or "Ask EUR 514.14 for XS, up to 748.13 for 2X"; with a given price "A price of EUR
 * 95.00 for M". `article` stands before the size: "a kit of ". Owner: the caller (free). NULL when memory runs out.
 */
char *quote_ask(const struct work *work, const struct hk_quote *quote, const char *article);
/* Says how the tax is in the price, or that none is stated. */
void quote_tax(const struct hk_quote *quote, struct text *text);
/* The caution on taxes, labels and safety in one line. */
const char *quote_caution_words(const struct hk_quote *quote);
void quote_caution(const struct hk_quote *quote, struct text *text);

/*
 * Returns the answer of a commission in one paragraph: the price, its range, the pay and the risk. Owner: the caller
 * (free). NULL when memory runs out.
 */
char *quote_commission_words(const struct work *work, const struct hk_quote *quote);
/* Whether hours that no timing supports are charged. */
bool quote_guessed(const struct hk_quote *quote);
struct quote_ends quote_hours_ends(const struct hk_range *hours);

/* ---- The answers ---- */

enum outcome quote_commission(const struct work *work, const struct hk_quote *quote, const struct options *options,
                              struct text *text);
enum outcome quote_kit(const struct work *work, const struct hk_quote *quote, const struct options *options, struct text *text);
enum outcome quote_pattern(const struct work *work, const struct hk_quote *quote, const struct options *options,
                           struct text *text);
enum outcome quote_prices(const struct work *work, const struct hk_quote *quote, const struct options *options,
                          struct text *text);
/* Writes the list of prices as CSV: a line for each size. */
enum outcome quote_prices_csv(const struct hk_quote *quote, struct text *text);
/* `diags`: findings of the quote, separate from the findings of the work. */
enum outcome quote_json(const struct work *work, const struct hk_quote *quote, const struct hk_diags *diags,
                        const struct options *options, FILE *out);

#endif
