/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Numbers as text for people, with no more digits than are known. Rounding follows NIST SP 811 (2008) B.7.1: below 5
 * down, above 5 up, exactly 5 to the even digit, judged on 15 significant decimal digits, so that a computed 2.5 is
 * 2.5.
 */
#ifndef NUMBER_H
#define NUMBER_H

#include <stdbool.h>
#include <stdint.h>

/* A number as text, small enough to return by value. */
struct number {
    char text[40];
};

/* Rounding step: digit * 10^place, digit 1 or 5. */
struct number_step {
    int digit, place;
};

enum number_way { NUMBER_NEAREST, NUMBER_DOWN, NUMBER_UP };

/* Rounds to a number of significant digits, 1 to 15: 6.9749515 to 5 is "6.9750". */
struct number number_digits(double value, int digits);

/*
 * Formats a whole number with its digits in groups of three from 10 000 on (NIST SP 330 (2019) 5.4.4), separated by
 * no-break spaces.
 */
struct number number_whole(int64_t value);

/* The ending of a noun behind a count of any type: "" for 1, else "s". */
#define NUMBER_PLURAL(count) ((count) == 1 ? "" : "s")

/*
 * Returns the step that a standard deviation warrants: the largest step of at most half of it, so that rounding adds no
 * more than 1/8 of it in standard deviation; never below 10^least. 612.38 m with 30.6 m: steps of 10 m, 610 m.
 */
struct number_step number_step(double deviation, int least);

/* Formats a value as a multiple of the step; NUMBER_DOWN and NUMBER_UP round a range outward. */
struct number number_stepped(double value, struct number_step step, enum number_way way);

/* Returns the same as a number, for a figure that is computed from the one shown. */
double number_rounded(double value, struct number_step step, enum number_way way);

/* Formats a mass or length that is no more precise than a whole unit, with one more digit below ten: "37", "8.1". */
struct number number_unit(double value);

/* Formats a stated value unchanged: "5", "2.75". */
struct number number_stated(double value);

/*
 * Formats a label value: unchanged if it has at most one decimal, else with the usual digits of labels: 3.5 oz are
 * "99.2" g, 220 yd "201" m.
 */
struct number number_label(double value);

/* Formats a ratio in percent: "4.2%", "23%"; whole from 10% on. */
struct number number_percent(double ratio);

/* Formats a ratio in whole percent, below 1% with one more digit: "12%", "0.4%", "-3%". */
struct number number_share(double ratio);

/* Formats a requested ratio in percent, with the digits of the request: "95%", "99.95%". */
struct number number_asked(double ratio);

/*
 * Formats a chance in percent, never rounded up to "100%" nor, above one half, beyond its value: "97%", "99.6%",
 * ">99.9%".
 */
struct number number_chance(double chance);

#endif
