/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Published newsvendor problems (named beside each), solved by the code that chooses ball counts. Demand there is
 * continuous and the answers are Q = F^-1(cu / (cu + co)). For whole items, demand is rounded up, F(n) = P(X <= n), so
 * the least n with F(n) >= the ratio is Q rounded up. Counted in steps of about a thousandth, the same code gives Q
 * itself.
 */
#include "support.h"

#include "shop/order_quantity.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

/* A continuous demand X counted in steps: P(X <= step * (n + shift)). */
struct stepped {
    double step, shift;
    double (*below)(double x, const double *parameters);
    double parameters[3];
};

static double stepped_chance(const void *context, int64_t n)
{
    const struct stepped *s = context;
    return s->below(s->step * ((double)n + s->shift), s->parameters);
}

static double normal_below(double x, const double *p)
{
    return gsl_cdf_gaussian_P(x - p[0], p[1]);
}

static double uniform_below(double x, const double *p)
{
    return fmin(fmax((x - p[0]) / (p[1] - p[0]), 0), 1);
}

static double lognormal_below(double x, const double *p)
{
    return x > 0 ? gsl_cdf_lognormal_P(x, log(p[0]), p[1]) : 0;
}

/* Minimum, mode, maximum. */
static double triangular_below(double x, const double *p)
{
    if (x <= p[0])
        return 0;
    if (x >= p[2])
        return 1;
    if (x <= p[1])
        return (x - p[0]) * (x - p[0]) / ((p[2] - p[0]) * (p[1] - p[0]));
    return 1 - (p[2] - x) * (p[2] - x) / ((p[2] - p[0]) * (p[2] - p[1]));
}

static int64_t least(const struct stepped *stepped, struct hk_order_costs costs, double reach)
{
    struct hk_count_demand demand = {stepped_chance, stepped, (int64_t)(reach / stepped->step)};
    int64_t n = -1;
    assert_true(hk_order_least_cost(&demand, &costs, &n));
    return n;
}

/* cu: the cost of one missing item; co: the cost of one left over. */
static void assert_orders(struct stepped demand, double cu, double co, double reach, double quantity, int64_t whole)
{
    struct hk_order_costs costs = {.price = co + 7, .late = cu, .spare = 7};
    demand.step = 1;
    assert_int_equal(least(&demand, costs, reach), whole);
    demand.step = 1e-3;
    assert_close((double)least(&demand, costs, reach) * 1e-3, quantity, 0, 1.1e-3);
}

/* "magazine ratio 0.769 231, Q 15.2201"; the book's "about 15" is Q rounded to the nearest. */
static void a_magazine_is_ordered_to_its_critical_ratio(void **state)
{
    (void)state;
    assert_orders((struct stepped){.below = normal_below, .parameters = {11.73, 4.74}}, 50, 15, 100, 15.2201, 16);
}

/* "calendars triangular ratio 1/3, Q 100 + sqrt(5000) = 170.7107 -> 171". Cost 7.50, price 10, refund 2.50. */
static void calendars_of_triangular_demand(void **state)
{
    (void)state;
    assert_orders((struct stepped){.below = triangular_below, .parameters = {100, 175, 300}}, 10 - 7.5, 7.5 - 2.5, 400,
                  100 + sqrt(5000), 171);
}

/* "calendars with goodwill ratio 0.75, Q 276.9796 -> 277". Cost 4.25, price 9.50, salvage 2.00, goodwill 1.50. */
static void goodwill_adds_to_what_a_missing_one_costs(void **state)
{
    (void)state;
    assert_orders((struct stepped){.below = normal_below, .parameters = {250, 40}}, 9.5 - 4.25 + 1.5, 4.25 - 2, 600,
                  276.9796, 277);
}

/* "uniform ratio 0.4, Q 440, stock-out probability 0.60". Price 10, cost 8, salvage 5. 440 and 441 cost the same: the
 * least. */
static void of_equal_costs_the_least_number(void **state)
{
    (void)state;
    struct stepped demand = {.below = uniform_below, .parameters = {200, 800}, .step = 1};
    assert_orders(demand, 10 - 8, 8 - 5, 900, 440, 440);
    assert_close(1 - stepped_chance(&demand, 440), 0.60, 1e-12, 0);
}

/* "ratio 2/7 with uniform 50-80 Q 58.5714, normal (50, 20) Q 38.6810, lognormal (median 50, 0.2) Q 44.6491". */
static void one_ratio_with_three_demands(void **state)
{
    (void)state;
    assert_orders((struct stepped){.below = uniform_below, .parameters = {50, 80}}, 2, 5, 200, 58.5714, 59);
    assert_orders((struct stepped){.below = normal_below, .parameters = {50, 20}}, 2, 5, 200, 38.6810, 39);
    assert_orders((struct stepped){.below = lognormal_below, .parameters = {50, 0.2}}, 2, 5, 200, 44.6491, 45);
}

/*
 * wetsuit, price 190, cost 110, salvage 90, N(3192, 1181): ratio 0.8, Q 4185.955, lost 131.844, left over 1125.799,
 * profit 222 296.50; at Q 4196 222 295.31. Profit = 80 * 3192 - expected cost, cost = 80 lost + 20 left over. The
 * normal's negative demand counts in the source, so demand is shifted by 4000; steps of 0.02 are rounded to the nearest
 * (shift of half a step), which makes the errors of second order.
 */
static void a_wetsuit_s_expected_profit(void **state)
{
    (void)state;
    double step = 0.02, below_0 = 4000;
    struct stepped stepped = {step, 0.5 - below_0 / step, normal_below, {3192, 1181, 0}};
    struct hk_count_demand demand = {stepped_chance, &stepped, (int64_t)((below_0 + 12000) / step)};
    struct hk_order_costs costs = {.price = 110 * step, .late = 80 * step, .spare = 90 * step};
    int64_t n = 0, text = (int64_t)((below_0 + 4196) / step);
    assert_true(hk_order_least_cost(&demand, &costs, &n));
    assert_close((double)n * step - below_0, 4185.955, 0, 0.02);
    assert_close(80 * 3192 - hk_order_cost(&demand, &costs, n), 222296.50, 0, 0.01);
    assert_close(80 * 3192 - hk_order_cost(&demand, &costs, text), 222295.31, 0, 0.01);
    /* the cost of lateness alone gives the lost sales, the price alone the items left over */
    assert_close(hk_order_cost(&demand, &(struct hk_order_costs){.late = step}, n), 131.844, 0, 0.01);
    assert_close(hk_order_cost(&demand, &(struct hk_order_costs){.price = step}, n), 1125.799, 0, 0.01);
}

/* ---- Balls ----------------------------------------------------------------------------------------------------------
 */

/* 6 balls of 50 g hold the median of 300 g: a chance of a half. Joins of 0.5 g leave 297.5 g: ln(297.5/300)/0.1 =
 * -0.0837. */
static void the_chance_that_balls_suffice(void **state)
{
    (void)state;
    struct hk_ball_demand of = {300, 0.1, 50, 0, 0};
    assert_close(hk_ball_chance(&of, 6), 0.5, 1e-12, 0);
    assert_close(hk_ball_chance(&of, 7), gsl_cdf_ugaussian_P(log(350.0 / 300) / 0.1), 1e-12, 0);
    assert_close(hk_ball_chance(&of, 0), 0, 0, 0);
    of.join_g = 0.5;
    assert_close(hk_ball_chance(&of, 6), gsl_cdf_ugaussian_P(log(297.5 / 300) / 0.1), 1e-12, 0);
    of.spread = 0;
    assert_close(hk_ball_chance(&of, 6), 0, 0, 0);
    assert_close(hk_ball_chance(&of, 7), 1, 0, 0);
}

/* q E[max(n, D)] + short_cost P(D > n) - worth q E[max(n - D, 0)], summed over the chances of each D. */
static double expected_cost(const struct hk_ball_demand *of, double q, double short_cost, double worth, int64_t n)
{
    double cost = 0;
    for (int64_t d = 1; d < 400; d++) {
        double chance = hk_ball_chance(of, d) - hk_ball_chance(of, d - 1);
        double more = (double)(n > d ? n : d), left = (double)(n > d ? n - d : 0);
        cost += chance * (q * more + (d > n ? short_cost : 0) - worth * q * left);
    }
    return cost;
}

static void no_ball_count_costs_less_by_the_definition(void **state)
{
    (void)state;
    static const double shorts[] = {0, 200, 1500, 6000, 90000}, worths[] = {0, 0.5, 0.9}, spreads[] = {0.02, 0.08, 0.2};
    struct hk_ball_demand of = {430, 0, 50, 0.8, 0};
    for (size_t i = 0; i < 5 * 3 * 3; i++) {
        double short_cost = shorts[i % 5], worth = worths[i / 5 % 3];
        of.spread = spreads[i / 15];
        struct hk_order_costs costs = {.price = 640, .short_once = short_cost, .spare = 640 * worth};
        int64_t balls = 0;
        assert_true(hk_order_balls(&of, &costs, &balls));
        for (int64_t n = 1; n <= 30; n++)
            assert_true(expected_cost(&of, 640, short_cost, worth, balls) <=
                        expected_cost(&of, 640, short_cost, worth, n) + 1e-7);
    }
}

/* The sum of the steps equals the difference by the definition, relative to one ball. */
static void steps_add_up_to_the_definition(void **state)
{
    (void)state;
    struct hk_ball_demand of = {430, 0.1, 50, 0.8, 0};
    struct hk_count_demand demand = {hk_ball_chance, &of, 40};
    struct hk_order_costs costs = {.price = 640, .short_once = 1500, .spare = 160};
    double one = hk_order_cost(&demand, &costs, 1), one_expected = expected_cost(&of, 640, 1500, 0.25, 1);
    for (int64_t n = 2; n <= 20; n++)
        assert_close(hk_order_cost(&demand, &costs, n) - one, expected_cost(&of, 640, 1500, 0.25, n) - one_expected,
                     1e-9, 1e-7);
}

/*
 * With quantity prices p(n): p(n) n + q E[max(D - n, 0)] + short_cost P(D > n) - worth p(n) E[max(n - D, 0)], summed over
 * the chances of each D; what is missing is bought later, at the price q of few.
 */
static double expected_with_tiers(const struct hk_ball_demand *of, const struct hk_order_costs *costs, int64_t n)
{
    double cost = 0, paid = costs->price, worth = costs->spare / costs->price;
    for (const struct hk_order_tier *tier = costs->tiers; tier->from; tier++)
        paid = tier->from <= n ? tier->price : paid;
    for (int64_t d = 1; d < 400; d++) {
        double chance = hk_ball_chance(of, d) - hk_ball_chance(of, d - 1);
        double later = (double)(d > n ? d - n : 0), left = (double)(n > d ? n - d : 0);
        cost += chance * (paid * (double)n + costs->price * later + (d > n ? costs->short_once : 0) - worth * paid * left);
    }
    return cost;
}

/* All numbers around the quantity prices, where buying more may cost less than buying fewer. */
static void with_quantity_prices_no_count_costs_less_by_the_definition(void **state)
{
    (void)state;
    static const struct hk_order_tier tiers[][3] = {
        {{10, 520}}, {{10, 600}, {12, 450}}, {{2, 639}, {11, 300}}, {{9, 560}}, {{30, 100}}};
    static const double shorts[] = {0, 1500, 6000}, worths[] = {0, 0.5, 1}, spreads[] = {0.02, 0.1};
    struct hk_ball_demand of = {430, 0, 50, 0.8, 0};
    for (size_t i = 0; i < 5 * 3 * 3 * 2; i++) {
        of.spread = spreads[i / 45];
        struct hk_order_costs costs = {.price = 640, .short_once = shorts[i / 5 % 3], .spare = 640 * worths[i / 15 % 3],
                                       .tiers = tiers[i % 5]};
        struct hk_count_demand demand = {hk_ball_chance, &of, 40};
        int64_t balls = 0;
        double one = hk_order_cost(&demand, &costs, 1), one_expected = expected_with_tiers(&of, &costs, 1);
        assert_true(hk_order_least_cost(&demand, &costs, &balls));
        for (int64_t n = 1; n <= 40; n++) {
            assert_true(expected_with_tiers(&of, &costs, balls) <= expected_with_tiers(&of, &costs, n) + 1e-7);
            assert_close(hk_order_cost(&demand, &costs, n) - one, expected_with_tiers(&of, &costs, n) - one_expected, 1e-9,
                         1e-6);
        }
    }
}

static void a_dearer_shortage_never_asks_for_fewer_balls(void **state)
{
    (void)state;
    struct hk_ball_demand of = {430, 0.1, 50, 0.8, 0};
    int64_t before = 0;
    for (double short_cost = 0; short_cost < 100000; short_cost = short_cost * 1.5 + 10) {
        int64_t balls = 0;
        assert_true(hk_order_balls(&of, &(struct hk_order_costs){.price = 640, .short_once = short_cost}, &balls));
        assert_true(balls >= before);
        before = balls;
    }
    assert_true(before > 9);
}

/*
 * Returnable balls cost nothing: bought up to a chance of 99.9%; exp(0.1 * 3.0902) * 430 g = 585.6 g, 12 balls of 50 g.
 */
static void returnable_balls_are_bought_until_it_is_sure(void **state)
{
    (void)state;
    struct hk_ball_demand of = {430, 0.1, 50, 0, 0};
    int64_t balls = 0;
    assert_true(hk_order_balls(&of, &(struct hk_order_costs){.price = 640, .short_once = 500, .spare = 640}, &balls));
    assert_int_equal(balls, 12);
}

/* 430 g and 20 g of swatches are 450 g: 9 balls of 50 g are enough with a chance of one half, and 8 with less. */
static void what_swatches_ate_is_bought_too(void **state)
{
    (void)state;
    struct hk_ball_demand of = {430, 0.1, 50, 0, 20};
    assert_close(hk_ball_chance(&of, 9), 0.5, 1e-12, 0);
    assert_close(hk_ball_chance(&of, 8), gsl_cdf_ugaussian_P(log(380.0 / 430) / 0.1), 1e-12, 0);
    of.swatch_use_g = 50;
    assert_close(hk_ball_chance(&of, 1), 0, 0, 0); /* the swatches used all of it */
}

/* If running short costs nothing: one ball. For a mass known exactly: just the number that it takes. */
static void the_limits_of_care(void **state)
{
    (void)state;
    struct hk_ball_demand of = {430, 0.1, 50, 0, 0};
    int64_t balls = 0;
    assert_true(hk_order_balls(&of, &(struct hk_order_costs){.price = 640}, &balls));
    assert_int_equal(balls, 1);
    of.spread = 0;
    assert_true(hk_order_balls(&of, &(struct hk_order_costs){.price = 640, .short_once = 1e6}, &balls));
    assert_int_equal(balls, 9);
}

static double not_a_chance(const void *context, int64_t n)
{
    (void)context;
    return n == 3 ? (double)NAN : 0.5;
}

static double falling_chance(const void *context, int64_t n)
{
    (void)context;
    return n < 3 ? 0.5 : 0.4;
}

static double beyond_chance(const void *context, int64_t n)
{
    return n < 3 ? 0.5 : *(const double *)context;
}

static double negative_chance(const void *context, int64_t n)
{
    (void)context;
    return n < 3 ? -0.5 : 0.5;
}

static void what_is_no_cost_or_chance_is_refused(void **state)
{
    (void)state;
    const struct hk_order_costs bad[] = {
        {.price = -1},
        {.price = NAN},
        {.price = INFINITY},
        {.price = 1, .late = -1},
        {.price = 1, .short_once = NAN},
        {.price = 1, .spare = 1.01},
        {.price = 1, .spare = -0.1},
        {.price = 1, .tiers = (const struct hk_order_tier[]){{5, 1}, {0, 0}}},
        {.price = 1, .tiers = (const struct hk_order_tier[]){{5, 0}, {0, 0}}},
        {.price = 1, .tiers = (const struct hk_order_tier[]){{5, 0.5}, {5, 0.4}, {0, 0}}},
        {.price = 1, .tiers = (const struct hk_order_tier[]){{-1, 0.5}, {0, 0}}},
    };
    struct hk_ball_demand of = {430, 0.1, 50, 0, 0};
    struct hk_count_demand demand = {hk_ball_chance, &of, 40};
    int64_t n = 77;
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        assert_false(hk_order_least_cost(&demand, &bad[i], &n));
        assert_false(hk_order_balls(&of, &bad[i], &n));
    }
    struct hk_order_costs good = {.price = 1, .late = 1};
    assert_false(hk_order_least_cost(&(struct hk_count_demand){hk_ball_chance, &of, -1}, &good, &n));
    assert_false(hk_order_least_cost(&(struct hk_count_demand){hk_ball_chance, &of, HK_ORDER_MOST + 1}, &good, &n));
    assert_false(hk_order_least_cost(&(struct hk_count_demand){not_a_chance, NULL, 9}, &good, &n));
    assert_false(hk_order_least_cost(&(struct hk_count_demand){falling_chance, NULL, 9}, &good, &n));
    assert_false(hk_order_least_cost(&(struct hk_count_demand){negative_chance, NULL, 9}, &good, &n));
    assert_false(hk_order_least_cost(&(struct hk_count_demand){beyond_chance, &(double){1.5}, 9}, &good, &n));
    static const struct hk_ball_demand no_balls[] = {
        {430, 0.1, 5, 5, 0},  {0, 0.1, 50, 0, 0},   {NAN, 0.1, 50, 0, 0},  {430, -0.1, 50, 0, 0},
        {430, NAN, 50, 0, 0}, {1e12, 0.1, 1, 0, 0}, {430, 0.1, 50, -1, 0}, {430, 0.1, 50, 0, -1},
    };
    for (size_t i = 0; i < sizeof no_balls / sizeof *no_balls; i++)
        assert_false(hk_order_balls(&no_balls[i], &good, &n));
    assert_int_equal(n, 77);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_magazine_is_ordered_to_its_critical_ratio),
        cmocka_unit_test(calendars_of_triangular_demand),
        cmocka_unit_test(goodwill_adds_to_what_a_missing_one_costs),
        cmocka_unit_test(of_equal_costs_the_least_number),
        cmocka_unit_test(one_ratio_with_three_demands),
        cmocka_unit_test(a_wetsuit_s_expected_profit),
        cmocka_unit_test(the_chance_that_balls_suffice),
        cmocka_unit_test(no_ball_count_costs_less_by_the_definition),
        cmocka_unit_test(steps_add_up_to_the_definition),
        cmocka_unit_test(with_quantity_prices_no_count_costs_less_by_the_definition),
        cmocka_unit_test(a_dearer_shortage_never_asks_for_fewer_balls),
        cmocka_unit_test(returnable_balls_are_bought_until_it_is_sure),
        cmocka_unit_test(what_swatches_ate_is_bought_too),
        cmocka_unit_test(the_limits_of_care),
        cmocka_unit_test(what_is_no_cost_or_chance_is_refused),
    };
    return cmocka_run_group_tests_name("spare", tests, NULL, NULL);
}
