/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * hankful quote: the price of a commission, its uncertainty, and the distribution of the hours.
 */
#include "quote.h"

#include "findings.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define MINUTES_PER_HOUR 60.0

/* ---- The answer ---- */

/* The least and the greatest of an amount over the sizes, in the order of the sizes. */
struct span {
    int64_t low_minor, high_minor;
};

static struct span earned(const struct hk_quote *quote)
{
    struct span span = {quote->sizes[0].earns_minor, quote->sizes[0].earns_minor};
    for (size_t i = 1; i < quote->size_count; i++) {
        const int64_t earns = quote->sizes[i].earns_minor;
        span.low_minor = earns < span.low_minor ? earns : span.low_minor;
        span.high_minor = earns > span.high_minor ? earns : span.high_minor;
    }
    return span;
}

bool quote_guessed(const struct hk_quote *quote)
{
    return quote->timed == 0 && quote->sizes[0].hours.likely > quote->sizes[0].stated_h;
}

static int least_hours(const struct hk_range *hours)
{
    return hours->likely < 10 ? -1 : 0;
}

struct quote_ends quote_hours_ends(const struct hk_range *hours)
{
    return quote_ends(hours->low, hours->high, least_hours(hours));
}

static struct number hours_range(const struct hk_range *hours)
{
    return quote_range(hours->low, hours->high, least_hours(hours));
}

/* Appends "pays 14.35 an hour if it takes 23 h (18-28)". */
static bool append_earnings(char **words, const struct hk_quote *quote)
{
    const struct hk_quote_size *size = &quote->sizes[0];
    const struct span span = earned(quote);
    const bool loss = span.high_minor < 0, one = span.low_minor == span.high_minor;
    const char *start = quote->solved ? loss ? ". Loses " : ". Pays " : loss ? " loses " : " pays ";
    const char *guess = quote_guessed(quote) ? "a guess: nothing was timed" : "";
    bool good = text_append(words, "%s%s", start, quote_money(quote, loss ? -span.high_minor : span.low_minor).text);
    if (!one)
        good = good && text_append(words, " to %s", quote_money(quote, loss ? -span.low_minor : span.high_minor).text);
    good = good && text_append(words, " an hour if ");
    if (quote->size_count == 1)
        return good && text_append(words, "it takes %s h", quote_hours(&size->hours).text) &&
               (size->hours.low < size->hours.high
                    ? text_append(words, " (%s%s%s)", hours_range(&size->hours).text, *guess ? ", " : "", guess)
                    : text_append(words, ", as costs.csv states"));
    return good && text_append(words, "each takes its likely hours%s%s%s", *guess ? " (" : "", guess, *guess ? ")" : "");
}

/* Appends "; 42% risk of less than your 14.00". */
static bool append_risk(char **words, const struct hk_quote *quote)
{
    double low = quote->sizes[0].chance_below, high = low;
    for (size_t i = 1; i < quote->size_count; i++) {
        low = fmin(low, quote->sizes[i].chance_below);
        high = fmax(high, quote->sizes[i].chance_below);
    }
    const struct number least = number_chance(low), most = number_chance(high);
    if (low < 0)
        return true;
    if (!text_append(words, "; %s", least.text) ||
        (strcmp(least.text, most.text) != 0 && !text_append(words, " to %s", most.text)))
        return false;
    return quote->rate_minor < 0 ? text_append(words, " risk of less than your rate")
                                 : text_append(words, " risk of less than your %s", quote_money(quote, quote->rate_minor).text);
}

/* Returns the safe price in the steps of the range of prices, rounded up so that it stays safe. */
static struct number about_safe(const struct hk_quote *quote, const struct hk_quote_size *size)
{
    const double digits = pow(10, quote->minor_digits), width = (double)(size->price_high_minor - size->price_low_minor);
    return number_stepped((double)size->safe_minor / digits,
                          number_step(width / digits / QUOTE_RANGE_DEVIATIONS, -quote->minor_digits), NUMBER_UP);
}

/* Whether some size has a safe price above its price. */
static bool safe_is_more(const struct hk_quote *quote)
{
    bool more = false;
    for (size_t i = 0; i < quote->size_count; i++)
        more |= quote->sizes[i].safe_minor > quote->sizes[i].bill.paid_minor;
    return more && !quote->sure;
}

/* Appends the chance that was asked for, or the price that is 80% sure. */
static bool append_safe(char **words, const struct hk_quote *quote)
{
    bool sure = quote->sure && quote->sizes[0].chance_below >= 0;
    for (size_t i = 0; i < quote->size_count; i++)
        sure &= quote->sizes[i].reserve_minor == 0;
    if (sure)
        return text_append(words, " The price for the likely hours is %s sure without a reserve.",
                           number_asked(quote->safe).text);
    if (!safe_is_more(quote) || quote->size_count > 1)
        return true;
    return text_append(words, " %s sure: about %s.", number_asked(quote->safe).text, about_safe(quote, &quote->sizes[0]).text);
}

char *quote_commission_words(const struct work *work, const struct hk_quote *quote)
{
    const struct hk_quote_size *size = &quote->sizes[0];
    char *words = quote_ask(work, quote, "");
    bool good = words != NULL;
    if (good && quote->solved && quote->size_count == 1 && size->price_low_minor < size->price_high_minor)
        good = text_append(&words, " (%s)", quote_money_range(quote, size->price_low_minor, size->price_high_minor).text);
    if (good && quote->sure && size->chance_below >= 0)
        good = text_append(&words, ", to be %s sure of your rate", number_asked(quote->safe).text);
    if (good && size->hours.likely > 0)
        good = append_earnings(&words, quote);
    else if (good && !quote->solved)
        good = text_append(&words, " keeps %s", quote_money(quote, size->bill.kept_minor).text);
    if (good && append_risk(&words, quote) && text_append(&words, "."))
        append_safe(&words, quote);
    return words; /* NULL once memory ran out */
}

/* ---- The bill ---- */

static void add_whole_yarn(struct text_table *table, const struct hk_quote *quote)
{
    quote_row(table, quote, "yarn, as bought", AMOUNT(yarn_bought_minor));
    quote_row_if_any(table, quote, "yarn from home", AMOUNT(yarn_home_minor));
}

/* Adds what the first paragraph says of one size, for each of several. */
static void add_answers(struct text_table *table, const struct hk_quote *quote)
{
    quote_row(table, quote, quote->solved ? "price" : "an hour", quote->solved ? AMOUNT(bill.paid_minor) : AMOUNT(earns_minor));
    text_table_cell(table, quote->solved ? "range" : "risk of less");
    for (size_t i = 0; i < quote->size_count; i++) {
        const struct hk_quote_size *size = &quote->sizes[i];
        if (quote->solved)
            text_table_cell(table, "%s", quote_money_range(quote, size->price_low_minor, size->price_high_minor).text);
        else
            text_table_cell(table, "%s", size->chance_below < 0 ? "-" : number_chance(size->chance_below).text);
    }
    text_table_cell(table, quote_guessed(quote) ? "hours, a guess" : "hours");
    for (size_t i = 0; i < quote->size_count; i++)
        text_table_cell(table, "%s", quote_hours(&quote->sizes[i].hours).text);
    if (!safe_is_more(quote))
        return;
    text_table_cell(table, "%s sure, about", number_asked(quote->safe).text);
    for (size_t i = 0; i < quote->size_count; i++)
        text_table_cell(table, "%s", quote->sizes[i].safe_minor < 0 ? "-" : about_safe(quote, &quote->sizes[i]).text);
}

static void print_bill(const struct hk_quote *quote, struct text *text)
{
    struct text_table *table = quote_table(quote, text);
    if (quote->size_count > 1)
        add_answers(table, quote);
    quote_bill_rows(table, quote, text);
    text_table_print(table);
}

/* ---- What the price covers ---- */

static void print_why(const struct hk_quote *quote, struct text *text)
{
    struct text_table *table = quote_table(quote, text);
    text_gap(text);
    text_heading(text, "What the price covers");
    if (quote->solved)
        text_paragraph(text, "The least price that pays fees, tax and costs and leaves the work and the markup whole.");
    else
        text_paragraph(text, "Kept is the price less fees, tax and costs: the pay for the work.");
    if (quote->sure)
        text_paragraph(text, "The reserve is what the price holds beyond that, so that yarn and hours leave your hourly rate "
                             "with a chance of %s.", number_asked(quote->safe).text);
    quote_tax(quote, text);
    text_paragraph(text, quote->used
                             ? "Yarn is charged by the amount used. By the ball (without --used-yarn) it would cost:"
                             : "Yarn is charged by the ball. By the amount used (with --used-yarn) it would cost:");
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
    text_table_cell(table, "%s", hours_range(hours).text);
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
                         "makings in ten lie in each RANGE. AN HOUR is the amount left after fees, tax and costs, over "
                         "these hours. BELOW is the chance that it is less than the hourly rate.");
    if (quote_guessed(quote))
        text_paragraph(text, "The hours of the stitches are a guess: no swatch was timed.");
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

enum outcome quote_commission(const struct work *work, const struct hk_quote *quote, const struct options *options,
                              struct text *text)
{
    char *words = quote_commission_words(work, quote);
    text->failed |= !words;
    if (words)
        text_paragraph(text, "%s", words);
    free(words);
    text_gap(text);
    print_bill(quote, text);
    if (more_wanted(options, OPTION_WHY))
        print_why(quote, text);
    if (more_wanted(options, OPTION_HOURS)) {
        print_sure(quote, text);
        print_hours(work, quote, text);
    }
    quote_caution(quote, text);
    more_report(text, work, options, OPTION_WHY | OPTION_HOURS, HK_CODE_END);
    return text_outcome(text);
}
