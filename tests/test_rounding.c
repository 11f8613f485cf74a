/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support.h"

#include "../cli/number.h"

#include <math.h>

#define BLANK "\xc2\xa0"

/* Source: NIST SP 811 (2008) B.7.1 and B.7.2, its own examples. */
static void digits_are_rounded_as_sp_811_rounds_them(void **state)
{
    (void)state;
    assert_string_equal(number_digits(6.9749515, 3).text, "6.97");
    assert_string_equal(number_digits(6.9749515, 2).text, "7.0");
    assert_string_equal(number_digits(6.9749515, 5).text, "6.9750");
    assert_string_equal(number_digits(6.9749515, 7).text, "6.974952"); /* exactly 5, odd before it: up */
    assert_string_equal(number_digits(6.9749505, 7).text, "6.974950"); /* exactly 5, even before it: unchanged */
    assert_string_equal(number_digits(36 * 0.3048, 3).text, "11.0");
}

static void a_number_keeps_its_digits_over_carries_signs_and_zero(void **state)
{
    (void)state;
    assert_string_equal(number_digits(9.996, 3).text, "10.0");
    assert_string_equal(number_digits(999.5, 3).text, "1000");
    assert_string_equal(number_digits(-2.5, 1).text, "-2");
    assert_string_equal(number_digits(0.00012345, 3).text, "0.000123");
    assert_string_equal(number_digits(0, 4).text, "0");
    assert_string_equal(number_digits(123456, 2).text, "120" BLANK "000");
}

/* A tie moved by one ulp in arithmetic is a tie: 0.1 + 0.7 + 0.05 is 0.85 except for its last bit. */
static void ties_are_judged_in_decimal(void **state)
{
    (void)state;
    const struct number_step tenths = {1, -1};
    assert_string_equal(number_stepped(0.1 + 0.7 + 0.05, tenths, NUMBER_NEAREST).text, "0.8");
    assert_string_equal(number_stepped(0.15, tenths, NUMBER_NEAREST).text, "0.2");
    assert_string_equal(number_stepped(0.1 + 0.2, tenths, NUMBER_UP).text, "0.3");
    assert_string_equal(number_stepped(0.3, tenths, NUMBER_DOWN).text, "0.3");
}

/* By hand: 3.5 oz = 99.2233 g, 220 yd = 201.168 m, 4 oz = 113.398 g. Metric values on labels are unchanged. */
static void labels_have_the_digits_of_labels(void **state)
{
    (void)state;
    assert_string_equal(number_label(3.5 * 28.349523125).text, "99.2");
    assert_string_equal(number_label(220 * 0.9144).text, "201");
    assert_string_equal(number_label(4 * 28.349523125).text, "113");
    assert_string_equal(number_label(50).text, "50");
    assert_string_equal(number_label(12.5).text, "12.5");
    assert_string_equal(number_label(112.5).text, "112.5");
    assert_string_equal(number_label(0.04).text, "0.04");
}

/* Half of 5% of 612.38 is 15.3: steps of 10. */
static void digits_follow_the_spread(void **state)
{
    (void)state;
    const struct number_step step = number_step(0.05 * 612.38, 0);
    assert_int_equal(step.digit, 1);
    assert_int_equal(step.place, 1);
    assert_string_equal(number_stepped(612.38, step, NUMBER_NEAREST).text, "610");
    assert_string_equal(number_stepped(287, number_step(17.2, 0), NUMBER_NEAREST).text, "285");
    assert_string_equal(number_stepped(287, number_step(0.4, 0), NUMBER_NEAREST).text, "287");
}

/* Limits: half the deviation exactly a step; unknown deviation; no finer than requested. */
static void steps_are_at_most_half_the_deviation(void **state)
{
    (void)state;
    assert_int_equal(number_step(20, 0).place, 1);
    assert_int_equal(number_step(20, 0).digit, 1);
    assert_int_equal(number_step(19.99, 0).place, 0);
    assert_int_equal(number_step(19.99, 0).digit, 5);
    assert_int_equal(number_step(0, 0).place, 0);
    assert_int_equal(number_step(NAN, -1).place, -1);
    assert_int_equal(number_step(1e-9, -2).place, -2);
}

static void ranges_are_rounded_outward(void **state)
{
    (void)state;
    const struct number_step fives = {5, 0};
    assert_string_equal(number_stepped(241, fives, NUMBER_DOWN).text, "240");
    assert_string_equal(number_stepped(241, fives, NUMBER_UP).text, "245");
    assert_string_equal(number_stepped(240, fives, NUMBER_UP).text, "240");
}

/* NIST SP 330 (2019) 5.4.4: groups of three, four digits need none. */
static void long_numbers_are_grouped(void **state)
{
    (void)state;
    assert_string_equal(number_whole(0).text, "0");
    assert_string_equal(number_whole(9999).text, "9999");
    assert_string_equal(number_whole(10000).text, "10" BLANK "000");
    assert_string_equal(number_whole(-1234567).text, "-1" BLANK "234" BLANK "567");
    assert_string_equal(number_whole(INT64_MAX).text,
                        "9" BLANK "223" BLANK "372" BLANK "036" BLANK "854" BLANK "775" BLANK "807");
}

/* A chance is a promise: its text never exceeds it. */
static void chances_are_not_rounded_up(void **state)
{
    (void)state;
    assert_string_equal(number_chance(0.9799).text, "97%");
    assert_string_equal(number_chance(0.95).text, "95%");
    assert_string_equal(number_chance(0.9969).text, "99.6%");
    assert_string_equal(number_chance(0.99996).text, ">99.9%");
    assert_string_equal(number_chance(1).text, ">99.9%");
    assert_string_equal(number_chance(0.0001).text, "<0.1%");
    assert_string_equal(number_asked(0.9995).text, "99.95%");
    assert_string_equal(number_percent(0.0423).text, "4.2%");
    assert_string_equal(number_percent(0.0996).text, "10%");
    assert_string_equal(number_percent(-0.123).text, "-12%");
}

/* Values without meaningful digits still print, and none overflows. */
static void absurd_numbers_are_shown_plainly(void **state)
{
    (void)state;
    const struct number_step whole = {1, 0};
    assert_string_equal(number_stepped(1e30, whole, NUMBER_UP).text, "1 x 10^30");
    assert_string_equal(number_stepped(INFINITY, whole, NUMBER_NEAREST).text, "inf");
    assert_string_equal(number_digits(1e-300, 3).text, "1 x 10^-300");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(digits_are_rounded_as_sp_811_rounds_them),
        cmocka_unit_test(a_number_keeps_its_digits_over_carries_signs_and_zero),
        cmocka_unit_test(ties_are_judged_in_decimal),
        cmocka_unit_test(labels_have_the_digits_of_labels),
        cmocka_unit_test(digits_follow_the_spread),
        cmocka_unit_test(steps_are_at_most_half_the_deviation),
        cmocka_unit_test(ranges_are_rounded_outward),
        cmocka_unit_test(long_numbers_are_grouped),
        cmocka_unit_test(chances_are_not_rounded_up),
        cmocka_unit_test(absurd_numbers_are_shown_plainly),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
