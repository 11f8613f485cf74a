/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Digits to a number, whatever the locale: "12,000", "7 1/4", "18,5". */
#ifndef HK_DIGITS_H
#define HK_DIGITS_H

#include <stdbool.h>
#include <stdint.h>

/* The decimal mark of the text that the digits stand in. */
enum hk_decimal { HK_DECIMAL_POINT, HK_DECIMAL_COMMA, HK_DECIMAL_EITHER };

/*
 * One number at *cursor: digits, one decimal mark (a comma too unless `decimal` is a point), thousands in groups of three
 * where unambiguous, then optionally a fraction. Advances *cursor. False, untouched, where there is none, or where its mark
 * can be read in two ways. Never "nan", "inf", hex. `text` must be plain (hk_text_plain).
 */
bool hk_number_scan(const char **cursor, enum hk_decimal decimal, double *value);

/* mantissa * 10^(tens - decimals) + numerator / denominator; denominator 0: no fraction. */
struct hk_digits {
    bool negative;
    uint64_t mantissa;
    int decimals, tens;
    uint64_t numerator, denominator;
};

enum hk_number_form {
    HK_NUMBER_NONE,    /* *cursor and *digits are untouched */
    HK_NUMBER_ONE,
    HK_NUMBER_AMBIGUOUS, /* "1,234": its three decimals may be thousands instead, which is decimals 0 */
};

/* As hk_number_scan, but a comma that can only be a decimal mark ("4,95") is one in any file: for whole cells. */
enum hk_number_form hk_digits_scan(const char **cursor, enum hk_decimal decimal, struct hk_digits *digits);
double hk_digits_value(const struct hk_digits *digits);

#endif
