/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The price: the answer, the bill line by line, and how sure it is. */
#include "quote.h"
#include "report/page.h"

#include <stdlib.h>

#define FROM "quote:/quote/%zu/"

static void bill_row(void *context, const struct quote_bill_line *line)
{
    struct report *report = context;
    page_row(report);
    page_name(report, line->name);
    for (size_t i = 0; i < report->quote->size_count; i++)
        page_figure(report, quote_money(report->quote, line->minor[i]).text, FROM "%s", i, line->key);
    page_row_end(report);
}

static void bill(struct report *report)
{
    const struct hk_quote *quote = report->quote;
    page_table(report, "What the price is made of, and how it is paid");
    page_head(report, *quote->currency ? quote->currency : "Amount");
    for (size_t i = 0; i < quote->size_count; i++)
        page_head_figure(report, quote->sizes[i].size);
    page_body(report);
    report->markup.failed |= !quote_bill_each(quote, bill_row, report);
    page_table_end(report);
}

static void sure_row(struct report *report, size_t at)
{
    const struct hk_quote *quote = report->quote;
    const struct hk_quote_size *size = &quote->sizes[at];
    page_row(report);
    page_name(report, size->size);
    page_figure(report, quote_money(quote, size->bill.paid_minor).text, FROM QUOTE_PRICE_KEY, at);
    if (quote->solved) {
        const struct quote_ends price = quote_money_ends(quote, size->price_low_minor, size->price_high_minor);
        page_figure(report, price.low.text, FROM "price_low", at);
        page_figure(report, price.high.text, FROM "price_high", at);
    }
    if (size->hours.likely > 0) {
        const struct quote_ends hours = quote_hours_ends(&size->hours);
        page_figure(report, quote_hours(&size->hours).text, FROM "hours/likely", at);
        page_figure(report, hours.low.text, FROM "hours/low", at);
        page_figure(report, hours.high.text, FROM "hours/high", at);
        page_figure(report, quote_money(quote, size->earns_minor).text, FROM "hour", at);
    } else {
        for (int i = 0; i < 4; i++)
            page_blank(report);
    }
    if (size->chance_below < 0)
        page_blank(report);
    else
        page_figure(report, number_chance(size->chance_below).text, FROM "chance_below", at);
    page_row_end(report);
}

static void sure(struct report *report)
{
    static const char *const heads[] = {
        "Size", "Price", "From", "To", "Hours", "From hours", "To hours", "An hour", "Chance of less than your rate"};
    page_folded(report, "How sure the price is");
    page_table(report, "Nine makings in ten lie in each range");
    for (size_t i = 0; i < sizeof heads / sizeof heads[0]; i++)
        if (report->quote->solved || (i != 2 && i != 3))
            (i == 0 ? page_head : page_head_figure)(report, heads[i]);
    page_body(report);
    for (size_t i = 0; i < report->quote->size_count; i++)
        sure_row(report, i);
    page_table_end(report);
    page_folded_end(report);
}

void report_price(struct report *report)
{
    page_section(report, "price", "What to charge");
    if (report->quote) {
        char *words = quote_commission_words(report->work, report->quote);
        report->markup.failed |= !words;
        markup_element(&report->markup, "p", words ? words : "", NULL);
        free(words);
        bill(report);
        if (quote_guessed(report->quote))
            page_paragraph(report, "The hours are a guess: no swatch was timed.");
        sure(report);
        page_paragraph(report, "%s", quote_caution_words(report->quote));
    } else {
        page_paragraph(report, "There is no price, for this reason:");
        page_findings(report, &report->quote_diags, HK_SEVERITY_ERROR);
    }
    page_section_end(report);
}
