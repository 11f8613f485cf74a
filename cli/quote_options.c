/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "quote_options.h"

#include "findings.h"

#include <stdlib.h>
#include <string.h>

enum { KITS_MOST = 100000 };

static enum outcome money_option(const struct work *work, const char *option, const char *word, int64_t *minor)
{
    struct hk_diags diags = {0};
    const bool read = hk_project_money(work->project, word, minor, &diags);
    for (size_t i = 0; i < hk_diags_count(&diags); i++) {
        const struct hk_finding *finding = hk_diags_finding(&diags, i);
        complain("--%s: %s%s%s", option, finding->message, finding->hint ? "; " : "",
                 finding->hint ? finding->hint : "");
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

bool quote_batch_by_size(const struct options *options)
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
        complain("--batch: the size %s is stated twice", words);
        return false;
    }
    return options_kits("batch", number, &kits[size]);
}

/* Reads "S 2, M 5". */
static enum outcome sizes_option(const struct work *work, const char *word, struct quote_asked *asked)
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
    complain("--ending: \"%s\" can be read in two ways; write .%.*s%s or %s.%.*s", word, digits - length, zeros, word,
             word, digits, zeros);
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

bool quote_price_options(const struct options *options)
{
    return !(options->given & OPTION_PRICE) || options_go_with(options, OPTION_ENDING | OPTION_SURE | OPTION_SALES,
                                                               "a price that is sought, not with --price");
}

enum outcome quote_one_piece(const struct work *work, uint64_t option)
{
    if (work->size != HK_NO_SIZE || hk_project_sizes(work->project) == 1)
        return DONE;
    complain("--%s is about one piece; name its size with --size", options_name(option));
    return MISUSED;
}

/* Returns the graver of two outcomes: a failure of the machine, then a misuse. */
static enum outcome graver(enum outcome a, enum outcome b)
{
    return a == FAILED || b == FAILED ? FAILED : a != DONE ? a : b;
}

enum outcome quote_options_fill(const struct work *work, const struct options *options, void *taking)
{
    struct quote_asked *asked = taking;
    struct hk_quote_options *wanted = &asked->wanted;
    enum outcome outcome = options->given & OPTION_LETTER ? quote_one_piece(work, OPTION_LETTER) : DONE;
    if (options->price)
        outcome = graver(outcome, money_option(work, "price", options->price, &wanted->price_minor));
    if (options->deposit)
        outcome = graver(outcome, part_option(work, "deposit", options->deposit, 1, &wanted->deposit_millionths,
                                              &wanted->deposit_minor));
    if (options->code)
        outcome = graver(
            outcome, part_option(work, "code", options->code, 0.9999, &wanted->code_millionths, &wanted->code_minor));
    if (quote_batch_by_size(options))
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
