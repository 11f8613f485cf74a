/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/money.h"

#define DIGITS_MOST 18 /* after the point; more than any currency has */

/* a * b + c for numbers that are not negative; false beyond HK_MONEY_MOST. */
static bool product_sum(int64_t a, int64_t b, int64_t c, int64_t *sum)
{
    if (b != 0 && a > HK_MONEY_MOST / b)
        return false;
    if (c > HK_MONEY_MOST - a * b)
        return false;
    *sum = a * b + c;
    return true;
}

/*
 * With w = 10^6 W + w' and m = 10^6 M + m':  w m / 10^6 = w M + W m' + w' m' / 10^6, and only the last term has a rest.
 * Half up: (w' m' + 500000) / 10^6, in whole numbers below 10^12.
 */
bool hk_money_share(int64_t whole_minor, int64_t millionths, int64_t *minor)
{
    if (whole_minor < 0 || millionths < 0)
        return false;
    int64_t m_whole = millionths / HK_MILLION, m_rest = millionths % HK_MILLION;
    int64_t sum = (whole_minor % HK_MILLION * m_rest + HK_MILLION / 2) / HK_MILLION;
    if (!product_sum(whole_minor / HK_MILLION, m_rest, sum, &sum) || !product_sum(whole_minor, m_whole, sum, &sum))
        return false;
    *minor = sum;
    return true;
}

/* From the last digit to the first. */
void hk_money_text(int64_t minor, int minor_digits, char text[HK_MONEY_TEXT])
{
    text[0] = '\0';
    if (minor_digits < 0 || minor_digits > DIGITS_MOST)
        return;
    char reversed[HK_MONEY_TEXT];
    size_t length = 0;
    uint64_t left = minor < 0 ? 0 - (uint64_t)minor : (uint64_t)minor;
    for (int i = 0; left > 0 || i <= minor_digits; i++, left /= 10) {
        if (i > 0 && i == minor_digits)
            reversed[length++] = '.';
        reversed[length++] = (char)('0' + left % 10);
    }
    if (minor < 0)
        reversed[length++] = '-';
    for (size_t i = 0; i < length; i++)
        text[i] = reversed[length - 1 - i];
    text[length] = '\0';
}
