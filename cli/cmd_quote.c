/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * hankful quote: the price to charge for a commission, a kit or a pattern, or the profit at a given price. This file
 * has the options and the choice of the question; quote_commission.c, quote_kit.c, quote_pattern.c, quote_prices.c and
 * quote_json.c have the answers.
 */
#include "findings.h"
#include "quote.h"
#include "quote_letter.h"

#include <stdlib.h>
#include <string.h>

enum { KITS_MOST = 100000 };

/* ---- Options ---- */

/* The options of the library, and the memory that they borrow. */
struct asked {
    struct hk_quote_options wanted;
    int64_t *kits; /* by size of the project; NULL: none by size. Owned */
};

static enum outcome money_option(const struct work *work, const char *option, const char *word, int64_t *minor)
{
    struct hk_diags diags = {0};
    const bool read = hk_project_money(work->project, word, minor, &diags);
    for (size_t i = 0; i < hk_diags_count(&diags); i++) {
        const struct hk_finding *finding = hk_diags_finding(&diags, i);
        complain("--%s: %s%s%s", option, finding->message, finding->hint ? "; " : "", finding->hint ? finding->hint : "");
    }
    const bool failed = findings_outcome(&diags) == FAILED;
    hk_diags_free(&diags);
    return failed ? FAILED : read ? DONE : MISUSED;
}

/* Reports a bare number up to 1, which may be a share of the price or an amount of money. */
static bool share_asked(const struct work *work, const char *option, const char *word)
{
    double value = 0, unit = 0;
    for (const char *c = word; *c; c++) {
        const bool mark = (*c == '.' || *c == ',') && unit == 0;
        if (!mark && (*c < '0' || *c > '9'))
            return false;
        value = mark ? value : unit > 0 ? value + unit * (*c - '0') : 10 * value + (*c - '0');
        unit = mark ? 0.1 : unit / 10;
    }
    if (!(value > 0 && value <= 1))
        return false;
    const char *currency = hk_project_currency(work->project);
    char *amount = text_format("%s%s %s", *currency ? " or " : "", currency, *currency ? word : "");
    complain("--%s: \"%s\" can be a share of the price or an amount of money; write %s%%%s", option, word,
             hk_number_text(100 * value, 6).text, amount ? amount : "");
    free(amount);
    return true;
}

/* Reads "30%" as a share of the price, up to `most`, and "50" or "EUR 50" as an amount. */
static enum outcome part_option(const struct work *work, const char *option, const char *word, double most,
                                int64_t *millionths, int64_t *minor)
{
    if (strchr(word, '%'))
        return options_share(option, word, most, millionths) ? DONE : MISUSED;
    return share_asked(work, option, word) ? MISUSED : money_option(work, option, word, minor);
}

/* Returns true when --batch states kits by size, not a number. */
static bool batch_by_size(const struct options *options)
{
    return options->batch && options->batch[strspn(options->batch, "0123456789.,")] != '\0';
}

/* Reads "M 5", kits of one size. Returns false with a message. */
static bool size_kits(const struct work *work, char *words, int64_t *kits)
{
    static const char blank[] = " ";
    char *end = words + strlen(words);
    const char *nearest = NULL;
    while (end > words && strchr(blank, end[-1]))
        *--end = '\0';
    words += strspn(words, blank);
    char *number = strrchr(words, ' ');
    if (!number) {
        complain("--batch: \"%s\" is not a number of kits; write one such as 10, or kits by size such as \"S 2, M 5\"",
                 words);
        return false;
    }
    *number++ = '\0';
    while (end = words + strlen(words), strchr(blank, end[-1]))
        end[-1] = '\0';
    const size_t size = hk_project_find_size(work->project, words, &nearest);
    if (size == HK_NO_SIZE) {
        complain("--batch: there is no size \"%s\"; %s%s%s", words, nearest ? "did you mean " : "",
                 nearest ? nearest : "write the size before its kits, such as \"S 2, M 5\"", nearest ? "?" : "");
        return false;
    }
    if (kits[size] > 0) {
        complain("--batch: the size %s stands there twice", words);
        return false;
    }
    return options_kits("batch", number, &kits[size]);
}

/* Reads "S 2, M 5". */
static enum outcome sizes_option(const struct work *work, const char *word, struct asked *asked)
{
    bool good = true;
    int64_t sum = 0;
    char *words = text_format("%s", word);
    asked->kits = calloc(hk_project_sizes(work->project), sizeof *asked->kits);
    if (!words || !asked->kits) {
        complain("out of memory");
        free(words);
        return FAILED;
    }
    for (char *next = words, *one; next;) {
        one = next;
        next = strchr(one, ',');
        if (next)
            *next++ = '\0';
        good = size_kits(work, one, asked->kits) && good;
    }
    for (size_t i = 0; i < hk_project_sizes(work->project); i++)
        sum += asked->kits[i];
    if (good && sum > KITS_MOST) {
        complain("--batch: more than %d kits", KITS_MOST);
        good = false;
    }
    free(words);
    asked->wanted.kits = asked->kits;
    return good ? DONE : MISUSED;
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

/* Refuses options of the other questions. */
static bool question_belongs(const struct options *options, enum hk_question question)
{
    const bool kit = question == HK_QUESTION_KIT, pattern = question == HK_QUESTION_PATTERN;
    bool good = kit || belongs(options, OPTION_BATCH | OPTION_WASTE | OPTION_SPARE | OPTION_WHERE, "--kit");
    if (kit && !(options->given & OPTION_USED_YARN))
        good = belongs(options, OPTION_WASTE, "--used-yarn: whole balls are not wound") && good;
    if (kit && batch_by_size(options))
        good = belongs(options, OPTION_SIZE, "a batch of one size, not with --batch by size") && good;
    if (!kit && !pattern)
        good = belongs(options, OPTION_CODE, "--kit or --pattern") && good;
    else
        good = belongs(options, OPTION_DEPOSIT | OPTION_LETTER | OPTION_CLIENT | OPTION_SURE | OPTION_HOURS,
                       "a commission, not with --kit or --pattern") &&
               good;
    if (!pattern)
        return belongs(options, OPTION_SALES, "--pattern") && good;
    if (!options->price && !options->sales) {
        complain("--pattern needs its price, such as --price 7.50, or a number of sales, such as --sales 100");
        good = false;
    }
    return belongs(options,
                   OPTION_SIZE | OPTION_CHANCE | OPTION_USED_YARN | OPTION_SECONDS | OPTION_WHY | OPTION_PRICES | OPTION_DISCOUNT,
                   "a commission or --kit") &&
           good;
}

static bool options_belong(const struct options *options, enum hk_question question)
{
    bool good = !((options->given & OPTION_KIT) && (options->given & OPTION_PATTERN));
    if (!good)
        complain("--kit and --pattern are two questions; ask one of them");
    good = question_belongs(options, question) && good;
    if (options->given & OPTION_PRICE)
        good = belongs(options, OPTION_ENDING | OPTION_SURE | OPTION_SALES, "a price that is sought, not with --price") && good;
    if (!(options->given & OPTION_PRICES))
        good = belongs(options, OPTION_DISCOUNT | OPTION_CSV, "--prices") && good;
    else
        good = belongs(options, OPTION_LETTER, "one piece, not with --prices") && good;
    if (options->given & OPTION_JSON)
        good = belongs(options, OPTION_CSV, "text, not with --json") && good;
    return quote_letter_options(options) && good;
}

static bool letter_sized(const struct work *work, const struct options *options)
{
    if (!(options->given & OPTION_LETTER) || work->size != HK_NO_SIZE || hk_project_sizes(work->project) == 1)
        return true;
    complain("--letter is about one piece; name its size with --size");
    return false;
}

/* Returns the graver of two outcomes: a failure of the machine, then a misuse. */
static enum outcome graver(enum outcome a, enum outcome b)
{
    return a == FAILED || b == FAILED ? FAILED : a != DONE ? a : b;
}

/* Reads the amounts, the ending and the batch after the project, because they depend on it. */
static enum outcome options_fill(const struct work *work, const struct options *options, void *taking)
{
    struct asked *asked = taking;
    struct hk_quote_options *wanted = &asked->wanted;
    enum outcome outcome = letter_sized(work, options) ? DONE : MISUSED;
    if (options->price)
        outcome = graver(outcome, money_option(work, "price", options->price, &wanted->price_minor));
    if (options->deposit)
        outcome = graver(outcome, part_option(work, "deposit", options->deposit, 1, &wanted->deposit_millionths,
                                              &wanted->deposit_minor));
    if (options->code)
        outcome = graver(outcome,
                         part_option(work, "code", options->code, 0.9999, &wanted->code_millionths, &wanted->code_minor));
    if (batch_by_size(options))
        outcome = graver(outcome, sizes_option(work, options->batch, asked));
    else if (options->batch && !options_kits("batch", options->batch, &wanted->batch))
        outcome = graver(outcome, MISUSED);
    if (options->ending && !ending_option(work, options->ending, wanted))
        outcome = graver(outcome, MISUSED);
    wanted->used = options->given & OPTION_USED_YARN;
    wanted->waste_millionths = options->waste_millionths;
    wanted->spare_millionths = options->spare_millionths;
    wanted->sure = options->sure;
    wanted->sales = options->sales;
    wanted->discount_millionths = options->discounts.millionths;
    wanted->discount_count = options->discounts.count;
    if (options->seconds > 0)
        wanted->seconds = options->seconds;
    return outcome;
}

/* ---- The command ---- */

static enum outcome print(const struct work *work, const struct options *options, const struct hk_quote *quote,
                          const struct hk_diags *diags, FILE *out)
{
    struct text text = text_to(out, options->width);
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
    struct asked asked = {.wanted = hk_quote_defaults(question)};
    struct work work = {.hours_wanted = true, .take_options = options_fill, .taking = &asked};
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
