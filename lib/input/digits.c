/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The number parser for all cells. An ambiguous number is reported, never guessed: "1,234" means a thousand in some
 * countries and about one in others.
 *
 *     number   = ["-" | "+"] ( fraction | whole [ (" " | "-") fraction ] | digits { group } [ mark digits ] )
 *     fraction = digits "/" digits
 *     group    = mark of thousands, three digits: " ", "'", or whichever of "," and "." is not the decimal mark
 */
#include "input/digits.h"

#include "base/text.h"

/* The meaning of a comma next to digits. */
enum comma {
    COMMA_SEPARATES, /* never part of a number */
    COMMA_IF_SURE,   /* a decimal mark or thousands separator if unambiguous */
    COMMA_OR_POINT,  /* comma and point are both decimal marks */
    COMMA_IS_MARK,   /* the file's decimal mark */
};

/* Limits of the accumulated number: larger values are rejected anyway, and the power of ten still fits a double. */
#define MANTISSA_FULL UINT64_C(100000000000000000)
#define POWER_MOST 280
#define FRACTION_DIGITS 6

static void take_digits(struct hk_digits *digits, const char *text, size_t length, bool decimals)
{
    for (size_t i = 0; i < length; i++) {
        if (decimals && digits->decimals == POWER_MOST)
            return;
        if (digits->mantissa < MANTISSA_FULL) {
            digits->mantissa = digits->mantissa * 10 + (uint64_t)(text[i] - '0');
            digits->decimals += decimals;
        } else if (!decimals && digits->tens < POWER_MOST) {
            digits->tens++;
        }
    }
}

/*
 * Returns the number of well-formed groups of three digits at `text`, which points to the mark before the first group.
 */
static size_t groups(const char *text)
{
    char mark = *text;
    size_t count = 0;
    while (*text == mark && hk_digit_run(text + 1) == 3 && !(mark == ' ' && text[4] == '/')) {
        count++;
        text += 4;
    }
    return count;
}

static bool decimals_follow(const char *text, enum comma comma)
{
    return (*text == '.' || (*text == ',' && comma != COMMA_SEPARATES)) && hk_is_digit(text[1]);
}

/* Parses a fraction such as "3/4". Returns its length, or 0. */
static size_t fraction_scan(const char *text, uint64_t *numerator, uint64_t *denominator)
{
    size_t above = hk_digit_run(text);
    size_t below = above > 0 && text[above] == '/' ? hk_digit_run(text + above + 1) : 0;
    if (above == 0 || above > FRACTION_DIGITS || below == 0 || below > FRACTION_DIGITS)
        return 0;
    struct hk_digits a = {0}, b = {0};
    take_digits(&a, text, above, false);
    take_digits(&b, text + above + 1, below, false);
    size_t length = above + 1 + below;
    if (b.mantissa == 0 || text[length] == '/')
        return 0;
    *numerator = a.mantissa;
    *denominator = b.mantissa;
    return length;
}

/* Parses the fraction after a whole number: " 1/4", "-1/4". It must be below one. Returns its length, or 0. */
static size_t mixed_scan(const char *text, struct hk_digits *digits)
{
    if (*text != ' ' && *text != '-')
        return 0;
    uint64_t numerator, denominator;
    size_t length = fraction_scan(text + 1, &numerator, &denominator);
    if (length == 0 || (*text == '-' && numerator >= denominator))
        return 0;
    digits->numerator = numerator;
    digits->denominator = denominator;
    return length + 1;
}

/* Parses digits with thousands and decimals. *plain: it has neither, so a fraction may follow. */
static enum hk_number_form decimal_scan(const char **cursor, enum comma comma, struct hk_digits *digits, bool *plain)
{
    const char *text = *cursor;
    size_t first = hk_digit_run(text);
    char mark = text[first];
    bool may_group = mark == ' ' || mark == '\'' || mark == '.' || (mark == ',' && comma != COMMA_SEPARATES);
    size_t grouped = may_group && first >= 1 && first <= 3 && text[0] != '0' ? groups(text + first) : 0;
    const char *end = text + first + 4 * grouped;
    bool decimals = decimals_follow(end, comma) && !(grouped > 0 && *end == mark);
    if (first == 0 && !decimals)
        return HK_NUMBER_NONE;
    bool one_group = grouped == 1 && !decimals && (mark == '.' || mark == ',');
    take_digits(digits, text, first, false);
    for (size_t i = 0; i < grouped; i++)
        take_digits(digits, text + first + 4 * i + 1, 3, one_group);
    if (decimals) {
        size_t length = hk_digit_run(end + 1);
        take_digits(digits, end + 1, length, true);
        end += 1 + length;
    }
    *cursor = end;
    *plain = grouped == 0 && !decimals;
    bool is_mark = comma != COMMA_OR_POINT && mark == (comma == COMMA_IS_MARK ? ',' : '.');
    return one_group && !is_mark ? HK_NUMBER_AMBIGUOUS : HK_NUMBER_ONE;
}

static enum hk_number_form number_scan(const char **cursor, enum comma comma, struct hk_digits *digits)
{
    const char *text = *cursor;
    struct hk_digits found = {.negative = *text == '-'};
    if (*text == '-' || *text == '+')
        text++;
    enum hk_number_form form = HK_NUMBER_ONE;
    size_t fraction = fraction_scan(text, &found.numerator, &found.denominator);
    text += fraction;
    if (fraction == 0) {
        bool plain = false;
        form = decimal_scan(&text, comma, &found, &plain);
        if (plain)
            text += mixed_scan(text, &found);
    }
    if (form == HK_NUMBER_NONE)
        return form;
    *cursor = text;
    *digits = found;
    return form;
}

static enum comma comma_of(enum hk_decimal decimal, enum comma where_point)
{
    return decimal == HK_DECIMAL_POINT ? where_point : decimal == HK_DECIMAL_COMMA ? COMMA_IS_MARK : COMMA_OR_POINT;
}

enum hk_number_form hk_digits_scan(const char **cursor, enum hk_decimal decimal, struct hk_digits *digits)
{
    return number_scan(cursor, comma_of(decimal, COMMA_IF_SURE), digits);
}

#define EXACT_WHOLE (UINT64_C(1) << 53)
#define EXACT_POWER 22 /* 10^22 is the largest power of ten that a double represents exactly */

/*
 * mantissa * 10^(tens - decimals). The quotient of an integer below 2^53 and an exact power of ten is rounded once, so
 * "0.1" is the double nearest to 0.1 (W. D. Clinger, How to read floating point numbers accurately, 1990). For longer
 * numbers the error is at most one unit in the last place.
 */
static double scaled(const struct hk_digits *digits)
{
    if (digits->mantissa < EXACT_WHOLE && digits->tens == 0 && digits->decimals <= EXACT_POWER) {
        double scale = 1;
        for (int i = 0; i < digits->decimals; i++)
            scale *= 10;
        return (double)digits->mantissa / scale;
    }
    long double value = (long double)digits->mantissa, scale = 1;
    for (int i = 0; i < digits->tens; i++)
        value *= 10;
    for (int i = 0; i < digits->decimals; i++)
        scale *= 10;
    return (double)(value / scale);
}

double hk_digits_value(const struct hk_digits *digits)
{
    double value = scaled(digits);
    if (digits->denominator > 0)
        value += (double)digits->numerator / (double)digits->denominator;
    return digits->negative ? -value : value;
}

bool hk_number_scan(const char **cursor, enum hk_decimal decimal, double *value)
{
    const char *text = *cursor;
    struct hk_digits digits;
    if (number_scan(&text, comma_of(decimal, COMMA_SEPARATES), &digits) != HK_NUMBER_ONE)
        return false;
    *cursor = text;
    *value = hk_digits_value(&digits);
    return true;
}
