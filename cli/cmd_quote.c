/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * hankful quote: the price to charge for a commission, a kit or a pattern, or the profit at a given price. This file
 * has the choice of the question; quote_options.c reads amounts; quote_commission.c, quote_kit.c, quote_pattern.c,
 * quote_prices.c and quote_json.c have the answers.
 */
#include "findings.h"
#include "quote.h"
#include "quote_letter.h"
#include "quote_options.h"

#include <stdlib.h>

/* ---- Options ---- */

/* Refuses options of the other questions. */
static bool question_belongs(const struct options *options, enum hk_question question)
{
    const bool kit = question == HK_QUESTION_KIT, pattern = question == HK_QUESTION_PATTERN;
    bool good = kit || options_go_with(options, OPTION_BATCH | OPTION_WASTE | OPTION_SPARE | OPTION_WHERE, "--kit");
    if (kit && !(options->given & OPTION_USED_YARN))
        good = options_go_with(options, OPTION_WASTE, "--used-yarn: whole balls are not wound") && good;
    if (kit && quote_batch_by_size(options))
        good = options_go_with(options, OPTION_SIZE, "a batch of one size, not with --batch by size") && good;
    if (!kit && !pattern)
        good = options_go_with(options, OPTION_CODE, "--kit or --pattern") && good;
    else
        good = options_go_with(options, OPTION_DEPOSIT | OPTION_LETTER | OPTION_CLIENT | OPTION_SURE | OPTION_HOURS,
                               "a commission, not with --kit or --pattern") &&
               good;
    if (!pattern)
        return options_go_with(options, OPTION_SALES, "--pattern") && good;
    if (!options->price && !options->sales) {
        complain("--pattern needs its price, such as --price 7.50, or a number of sales, such as --sales 100");
        good = false;
    }
    return options_go_with(options,
                           OPTION_SIZE | OPTION_CHANCE | OPTION_USED_YARN | OPTION_SECONDS | OPTION_WHY |
                               OPTION_PRICES | OPTION_DISCOUNT,
                           "a commission or --kit") &&
           good;
}

static bool options_belong(const struct options *options, enum hk_question question)
{
    bool good = !((options->given & OPTION_KIT) && (options->given & OPTION_PATTERN));
    if (!good)
        complain("--kit and --pattern are two questions; ask one of them");
    good = question_belongs(options, question) && good;
    good = quote_price_options(options) && good;
    if (!(options->given & OPTION_PRICES))
        good = options_go_with(options, OPTION_DISCOUNT | OPTION_CSV, "--prices") && good;
    else
        good = options_go_with(options, OPTION_LETTER, "one piece, not with --prices") && good;
    if (options->given & OPTION_JSON)
        good = options_go_with(options, OPTION_CSV, "text, not with --json") && good;
    return quote_letter_options(options) && good;
}

/* ---- The command ---- */

static enum outcome print(const struct work *work, const struct options *options, const struct hk_quote *quote,
                          const struct hk_diags *diags, FILE *out)
{
    struct text text = pipeline_text(out, pipeline_folder(options), options);
    if (options->given & OPTION_JSON)
        return quote_json(work, quote, diags, options, out);
    if (options->given & OPTION_LETTER)
        return quote_letter(work, quote, options, out);
    if (options->given & OPTION_CSV)
        return quote_prices_csv(quote, &text);
    if (options->given & OPTION_PRICES)
        return quote_prices(work, quote, options, &text);
    switch (quote->question) {
    case HK_QUESTION_COMMISSION:
        return quote_commission(work, quote, options, &text);
    case HK_QUESTION_KIT:
        return quote_kit(work, quote, options, &text);
    case HK_QUESTION_PATTERN:
        break;
    }
    return quote_pattern(work, quote, options, &text);
}

static enum outcome quote_and_print(struct work *work, const struct options *options, struct hk_quote_options wanted,
                                    FILE *out)
{
    struct hk_diags diags = {0};
    hk_diags_accept_as(&diags, &work->diags);
    struct hk_quote *quote = hk_quote_make(work->need, work->shop, work->hours, wanted, &diags);
    hk_diags_sort(&diags);
    findings_print(&diags, work->folder.path);
    enum outcome outcome = findings_outcome(&diags);
    if (quote && outcome == DONE)
        outcome = print(work, options, quote, &diags, out);
    hk_quote_free(quote);
    hk_diags_free(&diags);
    return outcome;
}

enum outcome cmd_quote(const struct options *options, FILE *out)
{
    const enum hk_question question = options->given & OPTION_KIT       ? HK_QUESTION_KIT
                                      : options->given & OPTION_PATTERN ? HK_QUESTION_PATTERN
                                                                        : HK_QUESTION_COMMISSION;
    struct quote_asked asked = {.wanted = hk_quote_defaults(question)};
    struct work work = {.hours_wanted = true, .take_options = quote_options_fill, .taking = &asked};
    if (!options_belong(options, question))
        return MISUSED;
    enum outcome outcome = pipeline_project(&work, options, pipeline_folder(options),
                                            question == HK_QUESTION_COMMISSION ? STAGE_SHOP : STAGE_NEED);
    if (outcome == DONE)
        outcome = quote_and_print(&work, options, asked.wanted, out);
    pipeline_free(&work);
    free(asked.kits);
    return outcome;
}
