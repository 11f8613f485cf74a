/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Formats numbers with a fraction independently of the locale, whose decimal mark printf would use. */
#include "hankful.h"

#include "base/text.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define DIGITS_MOST 17
#define PLAIN_LEAST (-9) /* the least power of ten written without an exponent */
#define PLAIN_MOST 14

struct decimal {
    char digits[DIGITS_MOST + 1]; /* without leading or trailing zeros, except "0" for zero */
    int count, power;             /* the value of digits[0] is digits[0] * 10^power */
    bool negative;
};

/*
 * The quick way for values with at most two decimals: finds an integer N with N / 100 == value in double arithmetic,
 * where N has at most `digits` digits (and at most the 15 that a double keeps). Returns false for other values.
 */
static bool decimal_of_hundredths(double value, int digits, struct decimal *decimal)
{
    double hundredths = rint(100 * value), most = pow(10, digits);
    if (digits > 15 || !(hundredths > 0 && hundredths < most) || hundredths / 100 != value)
        return false;
    char falling[DIGITS_MOST + 1];
    int length = 0;
    for (int64_t n = (int64_t)hundredths; n > 0; n /= 10)
        falling[length++] = (char)('0' + n % 10);
    decimal->power = length - 3;
    for (decimal->count = 0; decimal->count < length; decimal->count++)
        decimal->digits[decimal->count] = falling[length - 1 - decimal->count];
    return true;
}

/*
 * Any value: printf rounds the binary value exactly, ties to even. The locale's decimal mark is skipped as a non-digit.
 */
static void decimal_of_any(double value, int digits, struct decimal *decimal)
{
    char text[64];
    const char *c = text;
    snprintf(text, sizeof text, "%.*e", digits - 1, value);
    for (; *c != 'e'; c++)
        if (hk_is_digit(*c))
            decimal->digits[decimal->count++] = *c;
    bool below = c[1] == '-';
    for (c += 2; *c; c++)
        decimal->power = 10 * decimal->power + (*c - '0');
    decimal->power = below ? -decimal->power : decimal->power;
}

static struct decimal decimal_of(double value, int digits)
{
    struct decimal decimal = {.negative = value < 0};
    if (!decimal_of_hundredths(fabs(value), digits, &decimal))
        decimal_of_any(fabs(value), digits, &decimal);
    while (decimal.count > 1 && decimal.digits[decimal.count - 1] == '0')
        decimal.count--;
    return decimal;
}

/*
 * Writes the digits with a decimal point after the digit of 10^0, where digits[0] is that of 10^power. Returns the
 * length.
 */
static size_t put_digits(const struct decimal *decimal, int power, char *to)
{
    size_t length = 0;
    int last = decimal->count - 1 > power ? decimal->count - 1 : power;
    for (int i = power < 0 ? power : 0; i <= last; i++) {
        to[length++] = i >= 0 && i < decimal->count ? decimal->digits[i] : '0';
        if (i == power && i < last)
            to[length++] = '.';
    }
    return length;
}

struct hk_number hk_number_text(double value, int digits)
{
    struct hk_number number = {0};
    if (!isfinite(value)) {
        snprintf(number.text, sizeof number.text, "%s", isnan(value) ? "nan" : value < 0 ? "-inf" : "inf");
        return number;
    }
    struct decimal decimal = decimal_of(value, digits < 1 ? 1 : digits > DIGITS_MOST ? DIGITS_MOST : digits);
    bool plain = decimal.power >= PLAIN_LEAST && decimal.power <= PLAIN_MOST;
    size_t length = 0;
    if (decimal.negative)
        number.text[length++] = '-';
    length += put_digits(&decimal, plain ? decimal.power : 0, number.text + length);
    if (!plain)
        snprintf(number.text + length, sizeof number.text - length, " x 10^%d", decimal.power);
    return number;
}

#define TOGETHER_MOST 7 /* sizes with a single bracket: common practice, no source */

const char *hk_graded_mark(size_t i, size_t count)
{
    const size_t second = count > TOGETHER_MOST ? count - (count - 1) / 2 : count;
    if (i == 0)
        return "";
    if (i == count)
        return count == 1 ? "" : second < count ? "]" : ")";
    return i == 1 ? " (" : i == second ? ") [" : ", ";
}
