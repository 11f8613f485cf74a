/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Numbers as people read them: no more digits than are known. Rounding is that of NIST SP 811 (2008) B.7.1: below 5
 * down, above 5 up, exactly 5 to the even digit, judged on 15 significant decimal digits, so that 2.5 computed is 2.5.
 */
#ifndef NUMBER_H
#define NUMBER_H

#include <stdbool.h>
#include <stdint.h>

/* A number as text. Small enough to return. */
struct number {
    char text[40];
};

/* What shown values are multiples of: digit * 10^place, digit 1 or 5. */
struct number_step {
    int digit, place;
};

enum number_way { NUMBER_NEAREST, NUMBER_DOWN, NUMBER_UP };

/* To so many significant digits, 1 to 15: 6.9749515 to 5 is "6.9750". */
struct number number_digits(double value, int digits);

/* A whole number with its digits in groups of three from 10 000 on (NIST SP 330 (2019) 5.4.4), no-break blanks between.
 */
struct number number_whole(int64_t value);

/*
 * The step that a standard deviation warrants: the largest one of at most half of it, so that rounding adds no more
 * than 1/8 of it in standard deviation; never below 10^least. 612.38 m with 30.6 m: steps of 10 m, 610 m.
 */
struct number_step number_step(double deviation, int least);

/* A value as a multiple of the step; a range is rounded outward by NUMBER_DOWN and NUMBER_UP. */
struct number number_stepped(double value, struct number_step step, enum number_way way);

/* The same as a number, where another figure is to follow from the one shown. */
double number_rounded(double value, struct number_step step, enum number_way way);

/* What was stated, as it was: "5", "2.75". */
struct number number_stated(double value);

/* Of a label: as stated where it has a tenth at most, else as labels have it: 3.5 oz are "99.2" g, 220 yd "201" m. */
struct number number_label(double value);

/* A ratio in percent: "4.2%", "23%", whole from 10% on. */
struct number number_percent(double ratio);

/* A ratio in whole percent, below 1% with a digit more: "12%", "0.4%", "-3%". */
struct number number_share(double ratio);

/* A ratio that was asked for, in percent and as it was said: "95%", "99.95%". */
struct number number_asked(double ratio);

/* A chance in percent, never rounded up to "100%" nor, above one half, beyond what it is: "97%", "99.6%", ">99.9%".
 */
struct number number_chance(double chance);

#endif
