/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shared parts of the answers of hankful quote: figures, the bill with a column for each size, and remarks. */
#ifndef QUOTE_H
#define QUOTE_H

#include "number.h"
#include "purchases.h"
#include "pipeline.h"

#include <stddef.h>

/* ---- Figures ---- */

/* The amount may be negative: a loss. */
struct money quote_money(const struct hk_quote *quote, int64_t minor);
/* Formats "EUR 95.00". */
struct number quote_named_money(const struct hk_quote *quote, int64_t minor);
/* Formats "62-110", rounded outward in the steps that the spread warrants, no finer than `least`. */
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

/* Returns a cell that names the fee or tax: "marketplace, 6.5%", "payment, 0.25 a sale", "VAT, 20% included". */
void quote_fee_cell(struct text_table *table, const struct hk_quote *quote, size_t fee);
void quote_tax_cell(struct text_table *table, const struct hk_quote *quote);
/* Adds a row for each fee, and one for the tax if a tax is stated. */
void quote_charges(struct text_table *table, const struct hk_quote *quote);

/* ---- Parts of every answer ---- */

void quote_tax(const struct hk_quote *quote, struct text *text);
void quote_footer(struct text *text);

/* ---- The answers ---- */

enum outcome quote_commission(const struct work *work, const struct hk_quote *quote, struct text *text);
enum outcome quote_kit(const struct work *work, const struct hk_quote *quote, bool code, struct text *text);
enum outcome quote_pattern(const struct hk_quote *quote, bool code, struct text *text);
/* `diags`: findings of the quote, separate from the findings of the work. */
enum outcome quote_json(const struct work *work, const struct hk_quote *quote, const struct hk_diags *diags,
                        const struct options *options, FILE *out);

#endif
