/* SPDX-License-Identifier: GPL-3.0-or-later */
/* hankful quote --kit: the price of a kit, the purchases for a batch, and the profit on a batch of each size. */
#include "quote.h"

#include "findings.h"

#include <math.h>
#include <stdlib.h>

/* ---- The answer ---- */

/* Appends "8 of the 10 must sell before the money is back, 9 before the work is paid too." */
static bool append_sold(char **words, const struct hk_quote *quote, const struct hk_quote_sold *sold)
{
    const struct number batch = number_whole(quote->batch);
    if (quote->batch == 1)
        return text_append(words, " Sold, it %s%s.",
                           sold->costs < 0 ? "does not bring the money back" : "brings the money back",
                           sold->costs < 0 || quote->sizes[0].labour_minor == 0 ? ""
                           : sold->work < 0                                     ? ", but does not pay the work"
                                                                                : " and pays the work");
    if (sold->costs < 0)
        return text_append(words, " Not even all %s, if sold, bring the money back.", batch.text);
    const char *sizes = quote->size_count > 1 ? ", in whichever sizes," : "";
    const bool good = sold->costs == quote->batch
                          ? text_append(words, " All %s must sell", batch.text)
                          : text_append(words, " %s of the %s must sell%s", number_whole(sold->costs).text, batch.text, sizes);
    if (!good || !text_append(words, " before the money is back"))
        return false;
    if (quote->sizes[0].labour_minor == 0)
        return text_append(words, ".");
    if (sold->work == sold->costs)
        return text_append(words, " and the work is paid.");
    if (sold->work < 0)
        return text_append(words, "; not even all of them pay the work.");
    return text_append(words, ", %s before the work is paid too.", number_whole(sold->work).text);
}

static bool append_even(char **words, const struct hk_quote_size *size)
{
    if (size->even_batch < 0)
        return text_append(words, " No batch up to %s kits pays.", number_whole(size->even_most).text);
    return text_append(words, " A batch pays from %s kit%s on.", number_whole(size->even_batch).text,
                       NUMBER_PLURAL(size->even_batch));
}

static void report_answer(const struct work *work, const struct hk_quote *quote, struct text *text)
{
    char *words = quote_ask(work, quote, quote->size_count > 1 ? "a kit in " : "a kit of ");
    bool good = words != NULL;
    if (good && quote->mixed)
        good = text_append(&words, ", in one batch of %s (%s).", number_whole(quote->batch).text, quote->shop.sizes[0].size) &&
               append_sold(&words, quote, &quote->sold);
    else if (good && quote->size_count > 1)
        good = text_append(&words, ", in batches of %s of one size.", number_whole(quote->batch).text);
    else if (good)
        good = text_append(&words, ", in a batch of %s.", number_whole(quote->batch).text) &&
               append_sold(&words, quote, &quote->sizes[0].sold) && append_even(&words, &quote->sizes[0]);
    if (good)
        text_paragraph(text, "%s", words);
    text->failed |= !good;
    free(words);
}

/* ---- The bill ---- */

static void add_even(struct text_table *table, const struct hk_quote *quote, const char *name, bool code)
{
    text_table_cell(table, "%s", name);
    for (size_t i = 0; i < quote->size_count; i++) {
        const int64_t even = code ? quote->sizes[i].code_even_batch : quote->sizes[i].even_batch;
        if (even < 0)
            text_table_cell(table, "not up to %s", number_whole(quote->sizes[i].even_most).text);
        else
            text_table_cell(table, "%s", number_whole(even).text);
    }
}

/* Adds how many of the batch must be sold. */
static void add_sold(struct text_table *table, const struct hk_quote *quote, const char *name, bool work)
{
    text_table_cell(table, "%s", name);
    for (size_t i = 0; i < quote->size_count; i++) {
        const int64_t sold = work ? quote->sizes[i].sold.work : quote->sizes[i].sold.costs;
        text_table_cell(table, "%s", sold < 0 ? "never" : number_whole(sold).text);
    }
}

/* Adds what the first paragraph says of one size, for each of several. */
static void add_answers(struct text_table *table, const struct hk_quote *quote)
{
    if (quote->solved)
        quote_row(table, quote, "price", AMOUNT(bill.paid_minor));
    quote_row(table, quote, "kept", AMOUNT(bill.kept_minor));
    if (quote->mixed) {
        text_table_cell(table, "kits");
        for (size_t i = 0; i < quote->size_count; i++)
            text_table_cell(table, "%s", number_whole(quote->sizes[i].kits).text);
        return;
    }
    add_sold(table, quote, "money back at", false);
    add_sold(table, quote, "work paid at", true);
    add_even(table, quote, "pays from kits", false);
}

static void print_kit_bill(const struct hk_quote *quote, bool code, struct text *text)
{
    struct text_table *table = quote_table(quote, text);
    const bool several = quote->size_count > 1;
    if (several)
        add_answers(table, quote);
    quote_bill_rows(table, quote, text);
    if (!several)
        quote_row(table, quote, "kept", AMOUNT(bill.kept_minor));
    if (!quote->solved)
        quote_row_if_any(table, quote, "for work, of that", AMOUNT(labour_minor));
    if (code) {
        quote_row(table, quote, "price with the code", AMOUNT(code_bill.paid_minor));
        quote_row(table, quote, "kept with it", AMOUNT(code_bill.kept_minor));
        if (!quote->mixed)
            add_even(table, quote, "pays with it from", true);
    }
    text_table_print(table);
}

/* States the limits of the figures for some batches. */
static void report_batches(const struct hk_quote *quote, struct text *text)
{
    bool lacking = false;
    double gap = 0;
    for (size_t i = 0; i < quote->size_count; i++) {
        for (size_t b = 0; b < quote->sizes[i].batch_count; b++) {
            const struct hk_quote_batch *batch = &quote->sizes[i].batches[b];
            lacking |= !batch->had;
            gap = fmax(gap, batch->had && !batch->proven ? batch->gap : 0);
        }
    }
    if (lacking || gap > 0)
        text_gap(text);
    if (lacking)
        text_paragraph(text, "- where there is not yarn enough on offer.");
    if (gap > 0)
        text_paragraph(
            text,
            "Not every search for the cheapest yarn came to its end: it may be up to %s cheaper (--seconds gives "
            "them more time).",
            number_percent(gap).text);
}

static void print_batches(const struct hk_quote *quote, struct text *text)
{
    struct text_table *table = text_table(text);
    text_gap(text);
    text_heading(text, "By batch: the cost of a kit, work included, and the profit of the batch");
    text_gap(text);
    text_table_column(table, TEXT_KEY, "SIZE");
    text_table_column(table, TEXT_RIGHT, "KITS");
    text_table_column(table, TEXT_RIGHT, "A KIT COSTS");
    text_table_column(table, TEXT_RIGHT, "LEFT");
    for (size_t i = 0; i < quote->size_count; i++) {
        for (size_t b = 0; b < quote->sizes[i].batch_count; b++) {
            const struct hk_quote_batch *batch = &quote->sizes[i].batches[b];
            text_table_cell(table, "%s", b ? "" : quote->sizes[i].size);
            text_table_cell(table, "%s", number_whole(batch->kits).text);
            text_table_cell(table, "%s", batch->had ? quote_money(quote, batch->unit_minor).text : "-");
            text_table_cell(table, "%s", batch->had ? quote_money(quote, batch->left_minor).text : "-");
        }
    }
    text_table_print(table);
    report_batches(quote, text);
}

static void add_kit_yarn(struct text_table *table, const char *size, const struct hk_quote_yarn *yarn)
{
    text_table_cell(table, "%s", size);
    text_table_cell(table, "%s", yarn->role);
    text_table_cell(table, "%s%s%s", yarn->yarn, *yarn->colour ? " " : "", yarn->colour);
    if (yarn->put_up_count > 0) /* one kit: the kits of a batch are alike */
        text_table_cell(table, "%s x %s g", number_whole(yarn->balls).text, number_label(yarn->put_ups[0].put_up_g).text);
    else
        text_table_cell(table, "%s g", number_stepped(yarn->mass_g, (struct number_step){1, 0}, NUMBER_UP).text);
}

static void print_kit_yarn(const struct hk_quote *quote, struct text *text)
{
    struct text_table *table = text_table(text);
    text_gap(text);
    text_heading(text, "Yarn of a kit");
    text_gap(text);
    text_table_column(table, TEXT_KEY, "SIZE");
    text_table_column(table, TEXT_KEY, "ROLE");
    text_table_column(table, TEXT_WRAP, "YARN");
    text_table_column(table, TEXT_RIGHT, "A KIT");
    for (size_t i = 0; i < quote->size_count; i++)
        for (size_t r = 0; r < quote->sizes[i].yarn_count; r++)
            add_kit_yarn(table, r ? "" : quote->sizes[i].size, &quote->sizes[i].yarns[r]);
    text_table_print(table);
}

/* Warns that kits of one batch may differ in colour. */
static void report_mixed_lots(const struct hk_quote *quote, struct text *text)
{
    for (size_t i = 0; i < quote->shop.size_count; i++) {
        const struct hk_shop_size *size = &quote->shop.sizes[i];
        for (size_t r = 0; r < size->role_count; r++)
            if (size->roles[r].lots > 1)
                text_item(
                    text,
                    "%s, %s: %zu lots are mixed, as project.csv lets them; put one lot into each kit, as far as they "
                    "reach",
                    size->size, size->roles[r].role, size->roles[r].lots);
    }
}

static void print_batch_yarn(const struct hk_quote *quote, struct text *text)
{
    static const char *const within[2][2] = {{"", ", waste in it"}, {", spare in it", ", spare and waste in it"}};
    text_gap(text);
    text_heading(text, "Yarn to buy for %s kit%s%s%s", number_whole(quote->batch).text, NUMBER_PLURAL(quote->batch),
                 quote->mixed ? "" : " of one size", within[quote->spared][quote->wasted]);
    text_gap(text);
    purchases_print(&quote->shop, false, text);
    report_mixed_lots(quote, text);
}

static void print_why(const struct hk_quote *quote, struct text *text)
{
    const char *holds = quote->used ? "yarn wound off" : "whole balls";
    text_gap(text);
    text_heading(text, "What the price covers");
    if (quote->solved)
        text_paragraph(text, "The least price that pays fees, tax and all costs of the batch and leaves the work and the "
                             "markup whole, if every kit of it is sold.");
    else
        text_paragraph(text, "Kept is what a kit leaves at this price, if every kit of the batch is sold.");
    if (quote->margin >= 0)
        text_paragraph(text, "A kit holds %s, the likely amount and a flat %s more.", holds,
                       number_asked(quote->margin).text);
    else
        text_paragraph(text, "A kit holds %s, enough for another maker with a chance of %s.", holds,
                       number_asked(quote->chance).text);
    if (quote->used)
        text_paragraph(text, "Nothing is added for joins: where a kit is wound from several balls, --waste states the loss.");
    if (quote->mixed)
        text_paragraph(text, "The sizes share the costs of the batch equally by kit, and its yarn by the value of their %s.",
                       quote->used ? "grams" : "balls");
    else
        text_paragraph(text, "A batch pays from this number of kits on: that batch and every larger one that was computed "
                             "leave something when all costs and the work stated are paid.");
    quote_tax(quote, text);
    if (!quote->mixed)
        print_batches(quote, text);
}

enum outcome quote_kit(const struct work *work, const struct hk_quote *quote, const struct options *options, struct text *text)
{
    report_answer(work, quote, text);
    text_gap(text);
    print_kit_bill(quote, options->given & OPTION_CODE, text);
    if (more_wanted(options, OPTION_WHERE)) {
        print_kit_yarn(quote, text);
        print_batch_yarn(quote, text);
    }
    if (more_wanted(options, OPTION_WHY))
        print_why(quote, text);
    quote_caution(quote, text);
    more_report(text, work, options, OPTION_WHERE | OPTION_WHY, HK_CODE_END);
    return text_outcome(text);
}
