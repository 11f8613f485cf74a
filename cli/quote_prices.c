/* SPDX-License-Identifier: GPL-3.0-or-later */
/* hankful quote --prices: the price of every size, with discounts beside it. */
#include "quote.h"

#include "findings.h"
#include "safe.h"

static struct number off(const struct hk_quote *quote, size_t discount)
{
    return number_stated((double)quote->sizes[0].discounts[discount].millionths / 10000);
}

/* The amounts of one table of the list. */
enum listed { PRICE, KEPT, AN_HOUR };

static struct money amount_of(const struct hk_quote *quote, const struct hk_bill *bill, int64_t earns_minor, enum listed which)
{
    return quote_money(quote, which == PRICE ? bill->paid_minor : which == KEPT ? bill->kept_minor : earns_minor);
}

static void print_list(const struct hk_quote *quote, enum listed which, struct text *text)
{
    struct text_table *table = text_table(text);
    text_table_column(table, TEXT_KEY, "SIZE");
    text_table_column(table, TEXT_RIGHT, "%s", which == PRICE && *quote->currency ? quote->currency : "FULL PRICE");
    for (size_t d = 0; d < quote->discount_count; d++)
        text_table_column(table, TEXT_RIGHT, "%s%% OFF", off(quote, d).text);
    for (size_t i = 0; i < quote->size_count; i++) {
        const struct hk_quote_size *size = &quote->sizes[i];
        text_table_cell(table, "%s", size->size);
        text_table_cell(table, "%s", amount_of(quote, &size->bill, size->earns_minor, which).text);
        for (size_t d = 0; d < quote->discount_count; d++)
            text_table_cell(table, "%s", amount_of(quote, &size->discounts[d].bill, size->discounts[d].earns_minor, which).text);
    }
    text_table_print(table);
}

/* What a price leaves for an hour; for a kit, whose work is seldom all stated, what it keeps. */
static void print_left(const struct hk_quote *quote, struct text *text)
{
    const bool hours = quote->question == HK_QUESTION_COMMISSION && quote->sizes[0].hours.likely > 0;
    text_gap(text);
    if (hours && quote->rate_minor >= 0)
        text_paragraph(text, "Each pays for an hour, at the likely hours (your rate is %s):",
                       quote_money(quote, quote->rate_minor).text);
    else
        text_paragraph(text, hours ? "Each pays for an hour, at the likely hours:" : "Each leaves, fees, tax and costs paid:");
    text_gap(text);
    print_list(quote, hours ? AN_HOUR : KEPT, text);
}

enum outcome quote_prices(const struct work *work, const struct hk_quote *quote, const struct options *options,
                          struct text *text)
{
    text_heading(text, "Prices of %s%s%s", quote->project, quote->question == HK_QUESTION_KIT ? ", as a kit" : "",
                 quote->tax_count ? ", tax included" : "");
    text_gap(text);
    print_list(quote, PRICE, text);
    print_left(quote, text);
    quote_caution(quote, text);
    more_report(text, work, options, 0, HK_CODE_END);
    return text_outcome(text);
}

enum outcome quote_prices_csv(const struct hk_quote *quote, struct text *text)
{
    fprintf(text->stream, "size,currency,price");
    for (size_t d = 0; d < quote->discount_count; d++)
        fprintf(text->stream, ",%s%% off", off(quote, d).text);
    fputc('\n', text->stream);
    for (size_t i = 0; i < quote->size_count; i++) {
        const struct hk_quote_size *size = &quote->sizes[i];
        safe_csv(text->stream, size->size);
        fprintf(text->stream, ",%s,%s", quote->currency, quote_money(quote, size->bill.paid_minor).text);
        for (size_t d = 0; d < quote->discount_count; d++)
            fprintf(text->stream, ",%s", quote_money(quote, size->discounts[d].bill.paid_minor).text);
        fputc('\n', text->stream);
    }
    return text_outcome(text);
}
