/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * hankful quote: the price to charge for a commission, a kit or a pattern, or the profit at a given price. This file
 * has the options and the choice of the question; quote_commission.c, quote_kit.c, quote_pattern.c and quote_json.c
 * have the answers.
 */
#include "findings.h"
#include "quote.h"
#include "quote_letter.h"

#include <string.h>

/* ---- Options ---- */

static enum outcome price_option(const struct work *work, const char *word, int64_t *minor)
{
    struct hk_diags diags = {0};
    const bool read = hk_project_money(work->project, word, minor, &diags);
    for (size_t i = 0; i < hk_diags_count(&diags); i++) {
        const struct hk_finding *finding = hk_diags_finding(&diags, i);
        complain("--price: %s%s%s", finding->message, finding->hint ? "; " : "", finding->hint ? finding->hint : "");
    }
    const bool failed = findings_outcome(&diags) == FAILED;
    hk_diags_free(&diags);
    return failed ? FAILED : read ? DONE : MISUSED;
}

/* Reports "95" in a currency with minor units, where it may mean minor units or whole units. */
static bool ending_asked(const char *word, int digits)
{
    static const char zeros[] = "0000"; /* the most digits of a minor unit in any currency (ISO 4217) */
    const int length = (int)strlen(word);
    if (length == 0 || length > digits || strspn(word, "0123456789") != (size_t)length)
        return false;
    complain("--ending: \"%s\" can be read in two ways; write .%.*s%s or %s.%.*s", word, digits - length, zeros, word, word,
             digits, zeros);
    return true;
}

/*
 * Reads ".95" and "0.95" as digits of the minor unit; "9.95" and, in a currency without minor units, "80" have digits
 * before it too.
 */
static bool ending_option(const struct work *work, const char *word, struct hk_quote_options *options)
{
    const int digits = hk_project_minor_digits(work->project);
    if (ending_asked(word, digits))
        return false;
    word += word[0] == '0' && (word[1] == '.' || word[1] == ',');
    const char *point = strpbrk(word, ".,");
    const size_t whole = point ? (size_t)(point - word) : strlen(word), behind = point ? strlen(point + 1) : 0;
    int64_t minor = 0, modulus = 1;
    for (const char *c = word; *c; c++)
        minor = c == point ? minor : 10 * minor + (*c - '0');
    bool good = strlen(word) > 0 && strlen(word) <= 8 && (point ? behind == (size_t)digits : whole > 0) &&
                strspn(word, "0123456789") >= whole && (!point || strspn(point + 1, "0123456789") == behind);
    for (size_t i = 0; i < whole + (size_t)digits; i++)
        modulus *= good ? 10 : 1;
    for (int i = 0; !point && i < digits; i++)
        minor *= 10;
    if (good) {
        options->ending_minor = minor;
        options->ending_modulus = modulus;
    } else {
        complain("--ending: \"%s\" is no end of a price; write %s", word,
                 digits == 2   ? "one like .95 or 9.50"
                 : digits == 0 ? "one like 80 or 500"
                               : "all digits after the point");
    }
    return good;
}

/* Refuses options that belong to a different question. */
static bool belongs(const struct options *options, uint64_t bits, const char *wanted)
{
    for (uint64_t bit = 1; bit && bit <= bits; bit <<= 1)
        if (bit & bits & options->given)
            complain("--%s goes with %s", options_name(bit), wanted);
    return !(bits & options->given);
}

static bool options_belong(const struct options *options, enum hk_question question)
{
    bool good = !((options->given & OPTION_KIT) && (options->given & OPTION_PATTERN));
    if (!good)
        complain("--kit and --pattern are two questions; ask one of them");
    if (question != HK_QUESTION_KIT)
        good = belongs(options, OPTION_BATCH | OPTION_WASTE | OPTION_SPARE, "--kit") && good;
    else if (!(options->given & OPTION_USED))
        good = belongs(options, OPTION_WASTE, "--used: whole balls are not wound") && good;
    if (question == HK_QUESTION_COMMISSION)
        good = belongs(options, OPTION_CODE, "--kit or --pattern") && good;
    else
        good = belongs(options, OPTION_DEPOSIT | OPTION_LETTER | OPTION_CLIENT,
                       "a commission, not with --kit or --pattern") && good;
    if (question == HK_QUESTION_PATTERN && !options->price) {
        complain("--pattern needs its price, such as --price 7.50");
        good = false;
    }
    if (question == HK_QUESTION_PATTERN)
        good = belongs(options, OPTION_SIZE | OPTION_CHANCE | OPTION_USED | OPTION_ENDING | OPTION_SECONDS,
                       "a commission or --kit") &&
               good;
    if (options->given & OPTION_PRICE)
        good = belongs(options, OPTION_ENDING, "a price that is sought, not with --price") && good;
    return quote_letter_options(options) && good;
}

static bool letter_sized(const struct work *work, const struct options *options)
{
    if (!(options->given & OPTION_LETTER) || work->size != HK_NO_SIZE || hk_project_sizes(work->project) == 1)
        return true;
    complain("--letter is about one piece; name its size with --size");
    return false;
}

/* Reads the price and the ending after the project, because they depend on its currency. */
static enum outcome options_fill(const struct work *work, const struct options *options, void *quote_options)
{
    struct hk_quote_options *wanted = quote_options;
    bool good = letter_sized(work, options);
    const enum outcome priced = options->price ? price_option(work, options->price, &wanted->price_minor) : DONE;
    wanted->used = options->given & OPTION_USED;
    if (options->given & OPTION_DEPOSIT)
        wanted->deposit_millionths = options->deposit_millionths;
    if (options->given & OPTION_BATCH)
        wanted->batch = options->batch;
    wanted->waste_millionths = options->waste_millionths;
    wanted->spare_millionths = options->spare_millionths;
    wanted->code_millionths = options->code_millionths;
    if (options->seconds > 0)
        wanted->seconds = options->seconds;
    if (options->ending)
        good = ending_option(work, options->ending, wanted) && good;
    return priced != DONE ? priced : good ? DONE : MISUSED;
}

/* ---- The command ---- */

static enum outcome print(const struct work *work, const struct options *options, const struct hk_quote *quote,
                          const struct hk_diags *diags, FILE *out)
{
    struct text text = text_to(out, options->width);
    const bool code = options->given & OPTION_CODE;
    if (options->given & OPTION_JSON)
        return quote_json(work, quote, diags, options, out);
    if (options->given & OPTION_LETTER)
        return quote_letter(work, quote, options, out);
    switch (quote->question) {
    case HK_QUESTION_COMMISSION:
        return quote_commission(work, quote, &text);
    case HK_QUESTION_KIT:
        return quote_kit(work, quote, code, &text);
    case HK_QUESTION_PATTERN:
        break;
    }
    return quote_pattern(quote, code, &text);
}

static enum outcome quote_and_print(struct work *work, const struct options *options, struct hk_quote_options wanted,
                                    FILE *out)
{
    struct hk_diags diags = {0};
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
    struct hk_quote_options wanted = hk_quote_defaults(question);
    struct work work = {.hours_wanted = true, .take_options = options_fill, .taking = &wanted};
    if (!options_belong(options, question))
        return MISUSED;
    enum outcome outcome = pipeline_project(&work, options, pipeline_folder(options),
                                            question == HK_QUESTION_COMMISSION ? STAGE_SHOP : STAGE_NEED);
    if (outcome == DONE)
        outcome = quote_and_print(&work, options, wanted, out);
    pipeline_free(&work);
    return outcome;
}
