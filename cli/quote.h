/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the answers of hankful quote share: figures, the bill with a column a size, and what each of them says. */
#ifndef QUOTE_H
#define QUOTE_H

#include "number.h"
#include "purchases.h"
#include "pipeline.h"

#include <stddef.h>

/* ---- Figures ---- */

/* May be below 0, which is a loss. */
struct money quote_money(const struct hk_quote *quote, int64_t minor);
/* "EUR 95.00" */
struct number quote_named_money(const struct hk_quote *quote, int64_t minor);
/* "62-110": outward, in the steps that the spread warrants, no finer than `least`. */
struct number quote_range(double low, double high, int least);
struct number quote_money_range(const struct hk_quote *quote, int64_t low, int64_t high);
struct number quote_hours(const struct hk_range *hours);

/* ---- The bill ---- */

/* A column for each size. */
struct text_table *quote_table(const struct hk_quote *quote, struct text *text);

/* A row of one amount, a member of struct hk_quote_size; the second leaves out what is nothing in every size. */
#define AMOUNT(member) offsetof(struct hk_quote_size, member)
void quote_row(struct text_table *table, const struct hk_quote *quote, const char *name, size_t amount);
void quote_row_if_any(struct text_table *table, const struct hk_quote *quote, const char *name, size_t amount);

/* A cell that names it: "marketplace, 6.5%", "payment, 0.25 a sale", "VAT, 20% included". */
void quote_fee_cell(struct text_table *table, const struct hk_quote *quote, size_t fee);
void quote_tax_cell(struct text_table *table, const struct hk_quote *quote);
/* A row of each fee, and one of the tax where one is stated. */
void quote_charges(struct text_table *table, const struct hk_quote *quote);

/* ---- What every answer says ---- */

void quote_tax(const struct hk_quote *quote, struct text *text);
void quote_footer(struct text *text);

/* ---- The answers ---- */

enum outcome quote_commission(const struct work *work, const struct hk_quote *quote, struct text *text);
enum outcome quote_letter(const struct work *work, const struct hk_quote *quote, struct text *text);
enum outcome quote_kit(const struct work *work, const struct hk_quote *quote, bool code, struct text *text);
enum outcome quote_pattern(const struct hk_quote *quote, bool code, struct text *text);
/* `diags`: the quote's own findings, beside the work's. */
enum outcome quote_json(const struct work *work, const struct hk_quote *quote, const struct hk_diags *diags, bool code,
                        FILE *out);

#endif
