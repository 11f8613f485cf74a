/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/money.h"

#define DIGITS_MOST 18 /* after the point; more than any currency has */

bool hk_money_add(int64_t *sum_minor, int64_t more_minor)
{
    int64_t sum;
    if (__builtin_add_overflow(*sum_minor, more_minor, &sum) || sum > HK_MONEY_MOST)
        return false;
    *sum_minor = sum;
    return true;
}

bool hk_money_times(int64_t each_minor, int64_t times, int64_t *minor)
{
    int64_t product;
    if (__builtin_mul_overflow(each_minor, times, &product) || product > HK_MONEY_MOST)
        return false;
    *minor = product;
    return true;
}

bool hk_money_part(int64_t whole_minor, int64_t numerator, int64_t denominator, int64_t *minor)
{
    if (whole_minor < 0 || numerator < 0)
        return false;
    __extension__ __int128 part = (2 * (__int128)whole_minor * numerator + denominator) / (2 * (__int128)denominator);
    if (part > HK_MONEY_MOST)
        return false;
    *minor = (int64_t)part;
    return true;
}

bool hk_money_share(int64_t whole_minor, int64_t millionths, int64_t *minor)
{
    return hk_money_part(whole_minor, millionths, HK_MILLION, minor);
}

/* Writes from the last digit to the first. */
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
