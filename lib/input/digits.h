/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Parses numbers independently of the locale: "12,000", "7 1/4", "18,5". */
#ifndef HK_DIGITS_H
#define HK_DIGITS_H

#include <stdbool.h>
#include <stdint.h>

/* The decimal mark of the file. */
enum hk_decimal { HK_DECIMAL_POINT, HK_DECIMAL_COMMA, HK_DECIMAL_EITHER };

/*
 * Parses one number at *cursor: digits, a decimal mark (a comma too unless `decimal` is a point), unambiguous groups of
 * three digits, and optionally a fraction. Advances *cursor. Returns false and leaves it unchanged when there is no
 * number or its mark is ambiguous. "nan", "inf" and hexadecimal are not numbers. The text must be plain
 * (hk_text_plain).
 */
bool hk_number_scan(const char **cursor, enum hk_decimal decimal, double *value);

/* The number mantissa * 10^(tens - decimals) + numerator / denominator; denominator 0: no fraction. */
struct hk_digits {
    bool negative;
    uint64_t mantissa;
    int decimals, tens;
    uint64_t numerator, denominator;
};

enum hk_number_form {
    HK_NUMBER_NONE, /* **cursor and *digits are unchanged */
    HK_NUMBER_ONE,
    HK_NUMBER_AMBIGUOUS, /* "1,234": its three decimals may be thousands instead (decimals 0) */
};

/* The same for whole cells: a comma that can only be a decimal mark ("4,95") is accepted in any file. */
enum hk_number_form hk_digits_scan(const char **cursor, enum hk_decimal decimal, struct hk_digits *digits);
double hk_digits_value(const struct hk_digits *digits);

#endif
