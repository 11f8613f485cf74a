/* SPDX-License-Identifier: GPL-3.0-or-later */
/* hankful quote --pattern: the number of sales that cover the fixed costs. */
#include "quote.h"

#include "findings.h"

/* Placed after the cell that names the row. */
static void add_amounts(struct text_table *table, const struct hk_quote *quote, int64_t full, int64_t code, bool with_code)
{
    text_table_cell(table, "%s", quote_money(quote, full).text);
    if (with_code)
        text_table_cell(table, "%s", quote_money(quote, code).text);
}

static void add_sale(struct text_table *table, const struct hk_quote *quote, const char *name, int64_t full,
                     int64_t code, bool with_code)
{
    text_table_cell(table, "%s", name);
    add_amounts(table, quote, full, code, with_code);
}

static void add_charges(struct text_table *table, const struct hk_quote *quote, bool code)
{
    const struct hk_bill *full = &quote->sales.bill, *with = &quote->code_sales.bill;
    for (size_t i = 0; i < quote->fee_count; i++) {
        quote_fee_cell(table, quote, i);
        add_amounts(table, quote, full->fee_minor[i], with->fee_minor[i], code);
    }
    if (!quote->tax_stated)
        return;
    quote_tax_cell(table, quote);
    add_amounts(table, quote, full->tax_minor, with->tax_minor, code);
}

/* The same at both prices. */
static void add_fixed(struct text_table *table, const struct hk_quote *quote, bool code)
{
    const int64_t hers = quote->labour_minor, overhead = quote->overhead_minor, all = quote->fixed_minor;
    if (hers > 0 || overhead > 0)
        add_sale(table, quote, "stated as fixed", all - hers - overhead, all - hers - overhead, code);
    if (hers > 0)
        add_sale(table, quote, "work on it", hers, hers, code);
    if (overhead > 0)
        add_sale(table, quote, "overhead of that", overhead, overhead, code);
    add_sale(table, quote, "fixed costs", all, all, code);
}

static void add_sales(struct text_table *table, const struct hk_quote *quote, bool with_code)
{
    text_table_cell(table, "sales until then");
    text_table_cell(table, "%s", quote->sales.sales < 0 ? "never" : number_whole(quote->sales.sales).text);
    if (with_code)
        text_table_cell(table, "%s",
                        quote->code_sales.sales < 0 ? "never" : number_whole(quote->code_sales.sales).text);
}

enum outcome quote_pattern(const struct hk_quote *quote, bool code, struct text *text)
{
    const struct hk_bill *full = &quote->sales.bill, *with = &quote->code_sales.bill;
    struct text_table *table = text_table(text);
    text_heading(text, "%s: the pattern", quote->project);
    text_paragraph(text, "The amount that a sale leaves, and the number of sales that pays the fixed costs.");
    quote_tax(quote, text);
    text_gap(text);
    text_table_column(table, TEXT_KEY, "%s", *quote->currency ? quote->currency : "AMOUNT");
    text_table_column(table, TEXT_RIGHT, "FULL PRICE");
    if (code)
        text_table_column(table, TEXT_RIGHT, "WITH THE CODE");
    add_sale(table, quote, "price", full->paid_minor, with->paid_minor, code);
    add_charges(table, quote, code);
    add_sale(table, quote, "left of a sale", full->kept_minor, with->kept_minor, code);
    add_fixed(table, quote, code);
    add_sales(table, quote, code);
    text_table_print(table);
    quote_footer(text);
    return text_outcome(text);
}
