/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Converts cells with money to whole minor units, in integer arithmetic. The number of decimals of the currency often
 * resolves an ambiguous mark: "1,234" in a currency with cents is 1234.
 */
#include "input/money_cell.h"

#include "base/money.h"
#include "base/text.h"
#include "input/quantity.h"
#include "input/spreadsheet_damage.h"

#include <string.h>

struct price {
    const struct hk_span *span;
    const char *currency; /* "" if not stated */
    int minor_digits;
    struct hk_diags *diags;
};

/* The signs of currencies. A dollar sign is accepted for every dollar currency. */
struct sign {
    const char *sign, *codes; /* codes separated by blanks */
};

static const struct sign signs[] = {
    {"€", "EUR"},
    {"£", "GBP"},
    {"¥", "JPY CNY"},
    {"$", "USD CAD AUD NZD HKD SGD TWD MXN ARS CLP COP"},
    {"zł", "PLN"},
    {"Kč", "CZK"},
    {"kr", "SEK NOK DKK ISK"},
};

static bool is_capital_or_small(char c)
{
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

/* Returns true when the blank-separated list contains the three-letter code. */
static bool codes_have(const char *codes, const char *code)
{
    for (; *codes; codes += codes[3] == ' ' ? 4 : 3) {
        if (strlen(code) == 3 && hk_text_starts(codes, code))
            return true;
    }
    return false;
}

/*
 * Returns the length in bytes of the currency at `text`, a sign or three letters; 0 if none. *right: it is the
 * project's currency.
 */
static size_t currency_scan(const char *text, const char *currency, bool *right)
{
    for (size_t i = 0; i < sizeof signs / sizeof signs[0]; i++) {
        size_t length = strlen(signs[i].sign);
        if (!hk_text_starts(text, signs[i].sign) || is_capital_or_small(text[length]))
            continue;
        *right = codes_have(signs[i].codes, currency);
        return length;
    }
    size_t letters = 0;
    while (is_capital_or_small(text[letters]))
        letters++;
    if (letters != 3)
        return 0;
    *right = strlen(currency) == 3 && hk_text_starts(text, currency);
    return letters;
}

static void wrong_currency(const struct price *p, const char *at, size_t length)
{
    hk_diags_add(p->diags, HK_CODE_MONEY, hk_span_place(p->span, at), "%.*s is not this design's currency", (int)length,
                 at);
    if (*p->currency)
        hk_diags_hint(p->diags, "write the price in %s", p->currency);
    else
        hk_diags_hint(p->diags, "state the currency in project.csv, as a row such as currency,EUR");
}

static void not_money(const struct price *p, const char *at)
{
    hk_diags_add(p->diags, HK_CODE_MONEY, hk_span_place(p->span, at), "\"%s\" is not a price", p->span->text);
    hk_diags_hint(p->diags, "write it like %s%s%s%s", p->currency, *p->currency ? " " : "",
                  p->minor_digits > 0 ? "6.40" : "640",
                  strpbrk(p->span->text, "0123456789") ? "" : ", and what costs nothing as 0");
}

/* Skips a currency at *cursor. Returns false with a finding when it is not the project's. */
static bool currency_skip(const struct price *p, const char **cursor)
{
    bool right = false;
    size_t length = currency_scan(*cursor, p->currency, &right);
    if (length > 0 && !right) {
        if (strpbrk(p->span->text, "0123456789"))
            wrong_currency(p, *cursor, length);
        else
            not_money(p, *cursor);
        return false;
    }
    *cursor = hk_blanks_skipped(*cursor + length);
    return true;
}

/* Computes mantissa * 10^(minor_digits - decimals), which must be an integer; else returns false with a finding. */
static bool to_minor(const struct price *p, const struct hk_digits *digits, const char *at, int64_t *minor)
{
    if (digits->decimals > p->minor_digits) {
        hk_diags_add(p->diags, HK_CODE_MONEY, hk_span_place(p->span, at), "%s has too many digits after the point", at);
        if (p->minor_digits == 0)
            hk_diags_hint(p->diags, "write a whole number");
        else
            hk_diags_hint(p->diags, "write at most %d", p->minor_digits);
        return false;
    }
    uint64_t value = digits->mantissa;
    int tens = digits->tens + p->minor_digits - digits->decimals;
    for (; tens > 0 && value <= (uint64_t)HK_MONEY_MOST; tens--)
        value *= 10;
    if (value > (uint64_t)HK_MONEY_MOST || digits->negative) {
        hk_diags_add(p->diags, HK_CODE_RANGE, hk_span_place(p->span, at), "%s is %s", at,
                     digits->negative ? "below zero" : "larger than any price");
        hk_diags_hint(p->diags, "write a price of zero or more");
        return false;
    }
    *minor = (int64_t)value;
    return true;
}

static bool price_read(const struct price *p, int64_t *minor)
{
    const char *cursor = p->span->text;
    if (hk_spreadsheet_damage(p->span, p->diags) || !currency_skip(p, &cursor))
        return false;
    const char *start = cursor;
    struct hk_digits digits = {0};
    enum hk_number_form form = hk_digits_scan(&cursor, hk_span_decimal(p->span), &digits);
    if (form == HK_NUMBER_NONE || digits.denominator > 0) {
        not_money(p, start);
        return false;
    }
    if (form == HK_NUMBER_AMBIGUOUS && p->minor_digits >= 3) {
        hk_two_readings(p->span, start, cursor, p->diags);
        return false;
    }
    if (form == HK_NUMBER_AMBIGUOUS)
        digits.decimals = 0;
    cursor = hk_blanks_skipped(cursor);
    if (!currency_skip(p, &cursor))
        return false;
    if (*cursor) {
        not_money(p, cursor);
        return false;
    }
    return to_minor(p, &digits, start, minor);
}

bool hk_money_cell(struct hk_cell cell, const char *currency, int minor_digits, int64_t *minor, struct hk_diags *diags)
{
    struct hk_arena scratch = {0};
    struct hk_span span;
    int64_t found = 0;
    bool read = hk_span_make(cell, &span, &scratch);
    if (!read)
        diags->out_of_memory = true;
    const struct price price = {&span, currency ? currency : "", minor_digits, diags};
    read = read && price_read(&price, &found);
    hk_arena_free(&scratch);
    if (read)
        *minor = found;
    return read;
}
