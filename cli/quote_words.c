/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "quote.h"

#include "number.h"

#include <math.h>

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

struct quote_ends quote_ends(double low, double high, int least)
{
    const struct number_step step = number_step((high - low) / QUOTE_RANGE_DEVIATIONS, least);
    return (struct quote_ends){number_stepped(low, step, NUMBER_DOWN), number_stepped(high, step, NUMBER_UP)};
}

struct quote_ends quote_money_ends(const struct hk_quote *quote, int64_t low, int64_t high)
{
    return quote_ends(major(quote, low), major(quote, high), -quote->minor_digits);
}

struct number quote_range(double low, double high, int least)
{
    struct number number = number_stepped(low, number_step(0, least), NUMBER_NEAREST);
    if (low >= high)
        return number;
    const struct quote_ends ends = quote_ends(low, high, least);
    snprintf(number.text, sizeof number.text, low < 0 ? "%.17s to %.17s" : "%.18s-%.18s", ends.low.text,
             ends.high.text);
    return number;
}

struct number quote_money_range(const struct hk_quote *quote, int64_t low, int64_t high)
{
    return quote_range(major(quote, low), major(quote, high), -quote->minor_digits);
}

struct number quote_hours(const struct hk_range *hours)
{
    const struct number_step step =
        number_step((hours->high - hours->low) / QUOTE_RANGE_DEVIATIONS, hours->likely < 10 ? -1 : 0);
    return number_stepped(hours->likely, step, NUMBER_NEAREST);
}

/* ---- Amounts, fees and taxes ---- */

int64_t quote_amount(const struct hk_quote_size *size, size_t amount)
{
    return *(const int64_t *)((const char *)size + amount);
}

/* Formats a stated percentage, to the ten-thousandth of a percent. */
static struct number rate(int64_t millionths)
{
    return number_stated((double)millionths / 10000);
}

char *quote_fee_words(const struct hk_quote *quote, size_t fee)
{
    const struct hk_quote_fee *of = &quote->fees[fee];
    if (of->percent)
        return text_format("%s, %s%%", of->item, rate(of->millionths).text);
    return text_format("%s, %s a sale", of->item, quote_money(quote, of->amount_minor).text);
}

char *quote_tax_words(const struct hk_quote *quote, size_t tax)
{
    const struct hk_quote_tax *of = &quote->taxes[tax];
    return text_format("%s, %s%% %s", of->item, rate(of->millionths).text, of->added ? "added" : "included");
}

/* ---- Parts of every answer ---- */

char *quote_ask(const struct work *work, const struct hk_quote *quote, const char *article)
{
    const struct hk_quote_size *low = &quote->sizes[0], *high = low;
    for (size_t i = 1; i < quote->size_count; i++) {
        low = quote->sizes[i].bill.paid_minor < low->bill.paid_minor ? &quote->sizes[i] : low;
        high = quote->sizes[i].bill.paid_minor > high->bill.paid_minor ? &quote->sizes[i] : high;
    }
    const char *verb = quote->solved ? "Ask" : "A price of";
    const struct number price = quote_named_money(quote, low->bill.paid_minor);
    if (quote->size_count == 1)
        return text_format("%s %s for %s%s", verb, price.text, article,
                           hk_project_sizes(work->project) == 1 ? quote->project : low->size);
    if (low->bill.paid_minor == high->bill.paid_minor)
        return text_format("%s %s for %severy size", verb, price.text, article);
    return text_format("%s %s for %s%s, up to %s for %s", verb, price.text, article, low->size,
                       quote_money(quote, high->bill.paid_minor).text, high->size);
}

void quote_tax(const struct hk_quote *quote, struct text *text)
{
    size_t added = 0;
    for (size_t i = 0; i < quote->tax_count; i++)
        added += quote->taxes[i].added;
    if (quote->tax_count > 0)
        text_paragraph(text, "The price is the amount that the buyer pays, %s%s%s.",
                       added < quote->tax_count ? "with the tax that is included" : "",
                       added > 0 && added < quote->tax_count ? " and " : "",
                       added == 0 ? "" : added < quote->tax_count ? "the tax that is added" : "with the tax that is added");
}

const char *quote_caution_words(const struct hk_quote *quote)
{
    return quote->tax_count
               ? "Tax, labels, safety of children's things: the rules of your place decide."
               : "costs.csv states no tax, so none is included. Tax, labels, safety of children's things: the "
                 "rules of your place decide.";
}

void quote_caution(const struct hk_quote *quote, struct text *text)
{
    text_gap(text);
    text_paragraph(text, "%s", quote_caution_words(quote));
}
