/* SPDX-License-Identifier: GPL-3.0-or-later */
/* hankful quote --pattern: the number of sales that cover the fixed costs. */
#include "quote.h"

#include "findings.h"

#include <stdlib.h>

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
        text_table_words(table, quote_fee_words(quote, i));
        add_amounts(table, quote, full->fee_minor[i], with->fee_minor[i], code);
    }
    for (size_t i = 0; i < quote->tax_count; i++) {
        text_table_words(table, quote_tax_words(quote, i));
        add_amounts(table, quote, full->each_tax_minor[i], with->each_tax_minor[i], code);
    }
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

static void add_sales(struct text_table *table, const char *name, int64_t full, int64_t code, bool with_code)
{
    text_table_cell(table, "%s", name);
    text_table_cell(table, "%s", full < 0 ? "never" : number_whole(full).text);
    if (with_code)
        text_table_cell(table, "%s", code < 0 ? "never" : number_whole(code).text);
}

static void report_pattern(const struct hk_quote *quote, struct text *text)
{
    const struct hk_quote_sales *sales = &quote->sales;
    const char *ask = quote->solved ? "Ask" : "A price of";
    char *words = text_format("%s %s for the pattern%s", ask, quote_named_money(quote, sales->bill.paid_minor).text,
                              quote->solved ? "." : " leaves ");
    bool good = words != NULL;
    if (good && !quote->solved)
        good = text_append(&words, "%s of a sale.", quote_money(quote, sales->bill.kept_minor).text);
    if (good && sales->sales < 0)
        good = text_append(&words, " No number of sales pays the fixed costs.");
    else if (good)
        good = text_append(&words, " %s sale%s pay%s the fixed costs of %s", number_whole(sales->sales).text,
                           NUMBER_PLURAL(sales->sales), sales->sales == 1 ? "s" : "",
                           quote_money(quote, quote->fixed_minor).text) &&
               (quote->labour_minor == 0
                    ? text_append(&words, ".")
                    : text_append(&words, ", work included; %s bring%s the money back.",
                                  number_whole(sales->money_sales).text, sales->money_sales == 1 ? "s" : ""));
    if (good)
        text_paragraph(text, "%s", words);
    text->failed |= !good;
    free(words);
}

enum outcome quote_pattern(const struct work *work, const struct hk_quote *quote, const struct options *options,
                           struct text *text)
{
    const bool code = options->given & OPTION_CODE;
    const struct hk_bill *full = &quote->sales.bill, *with = &quote->code_sales.bill;
    struct text_table *table = text_table(text);
    report_pattern(quote, text);
    text_gap(text);
    text_table_column(table, TEXT_KEY, "%s", *quote->currency ? quote->currency : "AMOUNT");
    text_table_column(table, TEXT_RIGHT, "FULL PRICE");
    if (code)
        text_table_column(table, TEXT_RIGHT, "WITH THE CODE");
    add_sale(table, quote, "price", full->paid_minor, with->paid_minor, code);
    add_charges(table, quote, code);
    add_sale(table, quote, "left of a sale", full->kept_minor, with->kept_minor, code);
    add_fixed(table, quote, code);
    add_sales(table, "sales until then", quote->sales.sales, quote->code_sales.sales, code);
    if (quote->labour_minor > 0)
        add_sales(table, "money back after", quote->sales.money_sales, quote->code_sales.money_sales, code);
    text_table_print(table);
    quote_caution(quote, text);
    more_report(text, work, options, 0, HK_CODE_END);
    return text_outcome(text);
}
