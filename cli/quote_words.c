/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "quote.h"

#include "number.h"

#include <math.h>

/* Distance of the 95% quantile of a normal distribution from its 5% quantile, in standard deviations. */
#define DEVIATIONS_IN_RANGE 3.29

/* ---- Figures ---- */

struct money quote_money(const struct hk_quote *quote, int64_t minor)
{
    struct money money = {0};
    hk_money_text(minor, quote->minor_digits, money.text);
    return money;
}

/* Formats "EUR 95.00". */
struct number quote_named_money(const struct hk_quote *quote, int64_t minor)
{
    struct number number;
    snprintf(number.text, sizeof number.text, "%s%s%.24s", quote->currency, *quote->currency ? " " : "",
             quote_money(quote, minor).text);
    return number;
}

static double major(const struct hk_quote *quote, int64_t minor)
{
    return (double)minor / pow(10, quote->minor_digits);
}

/* Formats "62-110", rounded outward in the steps that the spread warrants. */
struct number quote_range(double low, double high, int least)
{
    struct number number;
    const struct number_step step = number_step((high - low) / DEVIATIONS_IN_RANGE, least);
    snprintf(number.text, sizeof number.text, low < 0 ? "%.17s to %.17s" : "%.18s-%.18s",
             number_stepped(low, step, NUMBER_DOWN).text, number_stepped(high, step, NUMBER_UP).text);
    return number;
}

struct number quote_money_range(const struct hk_quote *quote, int64_t low, int64_t high)
{
    return quote_range(major(quote, low), major(quote, high), -quote->minor_digits);
}

struct number quote_hours(const struct hk_range *hours)
{
    const struct number_step step =
        number_step((hours->high - hours->low) / DEVIATIONS_IN_RANGE, hours->likely < 10 ? -1 : 0);
    return number_stepped(hours->likely, step, NUMBER_NEAREST);
}

/* ---- The bill, a column a size ---- */

static int64_t amount_of(const struct hk_quote_size *size, size_t amount)
{
    return *(const int64_t *)((const char *)size + amount);
}

void quote_row(struct text_table *table, const struct hk_quote *quote, const char *name, size_t amount)
{
    text_table_cell(table, "%s", name);
    for (size_t i = 0; i < quote->size_count; i++)
        text_table_cell(table, "%s", quote_money(quote, amount_of(&quote->sizes[i], amount)).text);
}

void quote_row_if_any(struct text_table *table, const struct hk_quote *quote, const char *name, size_t amount)
{
    bool any = false;
    for (size_t i = 0; i < quote->size_count; i++)
        any |= amount_of(&quote->sizes[i], amount) != 0;
    if (any)
        quote_row(table, quote, name, amount);
}

/* Formats a stated percentage, to the ten-thousandth of a percent. */
static struct number rate(int64_t millionths)
{
    return number_stated((double)millionths / 10000);
}

void quote_fee_cell(struct text_table *table, const struct hk_quote *quote, size_t fee)
{
    const struct hk_quote_fee *of = &quote->fees[fee];
    if (of->percent)
        text_table_cell(table, "%s, %s%%", of->item, rate(of->millionths).text);
    else
        text_table_cell(table, "%s, %s a sale", of->item, quote_money(quote, of->amount_minor).text);
}

void quote_tax_cell(struct text_table *table, const struct hk_quote *quote)
{
    text_table_cell(table, "%s, %s%% %s", quote->tax_item, rate(quote->tax_millionths).text,
                    quote->tax_added ? "added" : "included");
}

void quote_charges(struct text_table *table, const struct hk_quote *quote)
{
    for (size_t fee = 0; fee < quote->fee_count; fee++) {
        quote_fee_cell(table, quote, fee);
        for (size_t i = 0; i < quote->size_count; i++)
            text_table_cell(table, "%s", quote_money(quote, quote->sizes[i].bill.fee_minor[fee]).text);
    }
    if (!quote->tax_stated)
        return;
    quote_tax_cell(table, quote);
    for (size_t i = 0; i < quote->size_count; i++)
        text_table_cell(table, "%s", quote_money(quote, quote->sizes[i].bill.tax_minor).text);
}

struct text_table *quote_table(const struct hk_quote *quote, struct text *text)
{
    struct text_table *table = text_table(text);
    text_table_column(table, TEXT_KEY, "%s", *quote->currency ? quote->currency : "AMOUNT");
    for (size_t i = 0; i < quote->size_count; i++)
        text_table_column(table, TEXT_RIGHT, "%s", quote->sizes[i].size);
    return table;
}

/* ---- Parts of every answer ---- */

void quote_footer(struct text *text)
{
    text_gap(text);
    text_paragraph(
        text, "Tax rates and thresholds are local, and are yours to state. Fibre labels for textiles, and safety rules "
              "for things made for children (cords, small parts, flammability), apply to what is sold: the rules of "
              "the place decide. This is neither legal nor tax advice.");
}

void quote_tax(const struct hk_quote *quote, struct text *text)
{
    if (!quote->tax_stated)
        text_paragraph(text, "No tax is stated in costs.csv, so none is included.");
    else
        text_paragraph(text, "The price is the amount that the buyer pays, %s.",
                       quote->tax_added ? "the tax that is added with it" : "the tax in it");
}
