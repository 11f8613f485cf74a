/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support.h"

#include "need/balls.h"

#include <math.h>

static int64_t needed(double enough_g, double put_up_g, double join_g)
{
    int64_t balls = -1;
    assert_true(hk_balls_needed(enough_g, put_up_g, join_g, &balls));
    return balls;
}

/* Without joins the number of balls is a ceiling: 275 g in 50 g balls are 5.5, so 6. */
static void without_joins_balls_are_a_ceiling(void **state)
{
    (void)state;
    assert_int_equal(needed(275, 50, 0), 6);
    assert_int_equal(needed(300, 50, 0), 6);
    assert_int_equal(needed(300.000001, 50, 0), 7);
}

/* 299 g in 50 g balls are 6 without joins. At 0.5 g a join 6 balls give 300 - 5 * 0.5 = 297.5 g, so it takes 7. */
static void joins_can_cost_a_ball(void **state)
{
    (void)state;
    assert_int_equal(needed(299, 50, 0.5), 7);
    assert_int_equal(needed(297.5, 50, 0.5), 6);
    assert_close(hk_balls_usable_g(6, 50, 0.5), 297.5, 1e-15, 0);
}

/* One ball has no join: 50 g from a 50 g ball at any cost of a join. */
static void one_ball_has_no_join(void **state)
{
    (void)state;
    assert_int_equal(needed(50, 50, 49), 1);
    assert_int_equal(needed(50.1, 50, 49), 2);
    assert_int_equal(needed(1e-9, 50, 1), 1);
    assert_int_equal(needed(0, 50, 1), 1);
}

/*
 * Inverse: the yield of n balls takes n balls, and a thousandth of a gram more takes one more, regardless of rounding.
 */
static void what_n_balls_give_takes_n_balls(void **state)
{
    (void)state;
    static const double joins[] = {0, 0.1, 0.3, 0.7, 1.0 / 3, 4.999, 33.3};
    for (size_t j = 0; j < sizeof joins / sizeof *joins; j++) {
        for (int64_t n = 1; n < 2000; n++) {
            double usable_g = hk_balls_usable_g(n, 49.61, joins[j]);
            assert_int_equal(needed(usable_g, 49.61, joins[j]), n);
            assert_int_equal(needed(usable_g + 1e-3, 49.61, joins[j]), n + 1);
        }
    }
}

static void a_ball_no_heavier_than_a_join_is_refused(void **state)
{
    (void)state;
    int64_t balls = 77;
    assert_false(hk_balls_needed(100, 5, 5, &balls));
    assert_false(hk_balls_needed(100, 5, 6, &balls));
    assert_false(hk_balls_needed(100, 5, (double)NAN, &balls));
    assert_int_equal(balls, 77);
}

/* At most 10^12 balls are counted: 10^12 g in 1 g balls fit, 10^14 g do not. */
static void more_balls_than_can_be_counted_are_refused(void **state)
{
    (void)state;
    int64_t balls = 77;
    assert_false(hk_balls_needed(1e14, 1, 0, &balls));
    assert_false(hk_balls_needed((double)INFINITY, 1, 0, &balls));
    assert_false(hk_balls_needed((double)NAN, 1, 0, &balls));
    assert_int_equal(balls, 77);
    assert_int_equal(needed(1e12, 1, 0), INT64_C(1000000000000));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(without_joins_balls_are_a_ceiling),
        cmocka_unit_test(joins_can_cost_a_ball),
        cmocka_unit_test(one_ball_has_no_join),
        cmocka_unit_test(what_n_balls_give_takes_n_balls),
        cmocka_unit_test(a_ball_no_heavier_than_a_join_is_refused),
        cmocka_unit_test(more_balls_than_can_be_counted_are_refused),
    };
    return cmocka_run_group_tests_name("balls", tests, NULL, NULL);
}
