/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * hankful quote: the price of a commission, its uncertainty, and the distribution of the hours.
 */
#include "quote.h"

#include "findings.h"

#include <math.h>

#define MINUTES_PER_HOUR 60.0

/* ---- The bill ---- */

static void add_whole_yarn(struct text_table *table, const struct hk_quote *quote)
{
    quote_row(table, quote, "yarn, as bought", AMOUNT(yarn_bought_minor));
    quote_row_if_any(table, quote, "yarn from home", AMOUNT(yarn_home_minor));
}

static void add_commission_rows(struct text_table *table, const struct hk_quote *quote)
{
    if (!quote->solved)
        quote_row(table, quote, "price", AMOUNT(bill.paid_minor));
    if (quote->used)
        quote_row(table, quote, "yarn, as used", AMOUNT(yarn_minor));
    else
        add_whole_yarn(table, quote);
    quote_row_if_any(table, quote, "notions", AMOUNT(materials_minor));
    quote_row_if_any(table, quote, "overhead", AMOUNT(overhead_minor));
    quote_row_if_any(table, quote, "postage", AMOUNT(postage_minor));
    if (quote->solved) {
        quote_row_if_any(table, quote, "work", AMOUNT(labour_minor));
        quote_row_if_any(table, quote, "markup", AMOUNT(markup_minor));
    }
    quote_charges(table, quote);
    quote_row_if_any(table, quote, "rounding up", AMOUNT(rounding_minor));
    if (quote->solved)
        quote_row(table, quote, "price", AMOUNT(bill.paid_minor));
    if (quote->tax_added)
        quote_row_if_any(table, quote, "before tax", AMOUNT(bill.quoted_minor));
    if (!quote->solved)
        quote_row(table, quote, "kept", AMOUNT(bill.kept_minor));
    quote_row(table, quote, "deposit", AMOUNT(deposit_minor));
}

static void print_other_yarn(const struct hk_quote *quote, struct text *text)
{
    struct text_table *table = quote_table(quote, text);
    text_gap(text);
    text_paragraph(text, quote->used ? "Charged by the amount used. The cost of whole balls (charged without --used):"
                                     : "Charged by the ball. The cost of the amount used (charged with --used):");
    text_gap(text);
    if (quote->used)
        add_whole_yarn(table, quote);
    else
        quote_row(table, quote, "yarn, as used", AMOUNT(yarn_used_minor));
    text_table_print(table);
}

/* ---- How sure ---- */

static void add_sure(struct text_table *table, const struct hk_quote *quote, const struct hk_quote_size *size)
{
    const struct hk_range *hours = &size->hours;
    text_table_cell(table, "%s", size->size);
    text_table_cell(table, "%s", quote_hours(hours).text);
    text_table_cell(table, "%s", quote_range(hours->low, hours->high, hours->likely < 10 ? -1 : 0).text);
    if (quote->solved)
        text_table_cell(table, "%s", quote_money_range(quote, size->price_low_minor, size->price_high_minor).text);
    if (size->hours.likely > 0) {
        text_table_cell(table, "%s", quote_money(quote, size->earns_minor).text);
        text_table_cell(table, "%s", quote_money_range(quote, size->earns_low_minor, size->earns_high_minor).text);
    } else {
        text_table_cell(table, "-");
        text_table_cell(table, "-");
    }
    text_table_cell(table, "%s", size->chance_below < 0 ? "-" : number_chance(size->chance_below).text);
}

static void print_sure(const struct hk_quote *quote, struct text *text)
{
    struct text_table *table = text_table(text);
    text_gap(text);
    text_heading(text, "Ranges of hours and pay");
    text_paragraph(text, "HOURS are all those of the piece: its stitches, its ends, and other hours in costs.csv; nine "
                         "makings in ten lie in "
                         "each RANGE. AN HOUR is the amount left after fees, tax and costs, over these hours. BELOW is "
                         "the chance that it is "
                         "less than the hourly rate.");
    text_gap(text);
    text_table_column(table, TEXT_KEY, "SIZE");
    text_table_column(table, TEXT_RIGHT, "HOURS");
    text_table_column(table, TEXT_RIGHT, "RANGE");
    if (quote->solved)
        text_table_column(table, TEXT_RIGHT, "PRICE RANGE");
    text_table_column(table, TEXT_RIGHT, "AN HOUR");
    text_table_column(table, TEXT_RIGHT, "RANGE");
    text_table_column(table, TEXT_RIGHT, "BELOW");
    for (size_t i = 0; i < quote->size_count; i++)
        add_sure(table, quote, &quote->sizes[i]);
    text_table_print(table);
}

/* ---- Where the hours go ---- */

static const struct hk_hours_size *shown_hours(const struct work *work)
{
    const struct hk_hours *hours = work->hours;
    for (size_t i = 0; i < hours->size_count; i++)
        if (hours->sizes[i].size == hours->stitch_size)
            return &hours->sizes[i];
    return &hours->sizes[0];
}

static void print_stitches(const struct hk_hours *hours, struct text *text)
{
    struct text_table *table = text_table(text);
    text_table_column(table, TEXT_KEY, "STITCH");
    text_table_column(table, TEXT_KEY, "TOOL mm");
    text_table_column(table, TEXT_RIGHT, "SECONDS EACH");
    text_table_column(table, TEXT_RIGHT, "RANGE");
    text_table_column(table, TEXT_RIGHT, "STITCHES");
    text_table_column(table, TEXT_RIGHT, "HOURS");
    for (size_t i = 0; i < hours->stitch_count; i++) {
        const struct hk_hours_stitch *stitch = &hours->stitches[i];
        text_table_cell(table, "%s", stitch->stitch);
        text_table_cell(table, "%s", number_stated(stitch->tool_mm).text);
        text_table_cell(table, "%s", number_digits(stitch->each_s.likely, 2).text);
        text_table_cell(table, "%s", quote_range(stitch->each_s.low, stitch->each_s.high, -1).text);
        text_table_cell(table, "%s", number_whole((int64_t)(stitch->count + 0.5)).text);
        text_table_cell(table, "%s", number_stepped(stitch->hours, (struct number_step){1, -1}, NUMBER_NEAREST).text);
    }
    text_table_print(table);
}

static void print_parts(const struct hk_hours_size *size, double stated, struct text *text)
{
    const struct number_step tenth = {1, -1};
    struct text_table *table = text_table(text);
    text_table_column(table, TEXT_KEY, "PIECE");
    text_table_column(table, TEXT_KEY, "PART");
    text_table_column(table, TEXT_RIGHT, "HOURS");
    text_table_column(table, TEXT_RIGHT, "ENDS");
    text_table_column(table, TEXT_RIGHT, "MINUTES FOR THEM");
    for (size_t i = 0; i < size->part_count; i++) {
        const struct hk_hours_part *part = &size->parts[i];
        text_table_cell(table, "%s", part->piece);
        text_table_cell(table, "%s", part->part);
        text_table_cell(table, "%s", number_stepped(part->worked_h, tenth, NUMBER_NEAREST).text);
        text_table_cell(table, "%s", number_whole((int64_t)(part->ends + 0.5)).text);
        text_table_cell(table, "%s", number_whole((int64_t)(part->ends_h * MINUTES_PER_HOUR + 0.5)).text);
    }
    if (stated > 0) {
        text_table_cell(table, "other work");
        text_table_cell(table, "by costs.csv");
        text_table_cell(table, "%s", number_stepped(stated, tenth, NUMBER_NEAREST).text);
        text_table_cell(table, "-");
        text_table_cell(table, "-");
    }
    text_table_print(table);
}

/* Returns the size of the quote whose hours are shown, where the hours of the stitches are charged. */
static const struct hk_quote_size *charged(const struct work *work, const struct hk_quote *quote,
                                           const struct hk_hours_size *shown)
{
    for (size_t i = 0; i < quote->size_count; i++)
        if (&work->hours->sizes[i] == shown && quote->sizes[i].hours.likely > quote->sizes[i].stated_h)
            return &quote->sizes[i];
    return NULL;
}

static void print_hours(const struct work *work, const struct hk_quote *quote, struct text *text)
{
    const struct hk_hours_size *size = shown_hours(work);
    const struct hk_quote_size *shown = charged(work, quote, size);
    text_gap(text);
    if (hk_project_sizes(work->project) > 1)
        text_heading(text, "Where the hours go (size %s): likely", size->size_name);
    else
        text_heading(text, "Where the hours go: likely");
    if (!shown)
        text_paragraph(text, "costs.csv states the hours of the piece, and those are charged: these, of its stitches and ends, "
                             "are not.");
    text_gap(text);
    print_stitches(work->hours, text);
    text_gap(text);
    print_parts(size, shown ? shown->stated_h : 0, text);
}

/* ---- The whole ---- */

enum outcome quote_commission(const struct work *work, const struct hk_quote *quote, struct text *text)
{
    if (quote->solved) {
        text_heading(text, "%s: the price to ask", quote->project);
        text_paragraph(text, "The least price that pays fees, tax and costs and leaves the work and the markup whole.");
    } else {
        text_heading(text, "%s: the result of a price of %s", quote->project,
                     quote_named_money(quote, quote->sizes[0].bill.quoted_minor).text);
        text_paragraph(text, "Kept is the price less fees, tax and costs: the pay for the work.");
    }
    quote_tax(quote, text);
    text_gap(text);
    struct text_table *table = quote_table(quote, text);
    add_commission_rows(table, quote);
    text_table_print(table);
    print_other_yarn(quote, text);
    print_sure(quote, text);
    print_hours(work, quote, text);
    quote_footer(text);
    findings_but_assumptions(text, &work->diags, work->folder.path);
    return text_outcome(text);
}
