/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support.h"

#include "catalogue/diameter.h"
#include "model/loop.h"

#include <math.h>
#include <string.h>

static const struct hk_stitch *stitch(const struct hk_catalogue *catalogue, const char *us)
{
    for (size_t i = 0; i < catalogue->stitch_count; i++)
        if (catalogue->stitches[i].us && strcmp(catalogue->stitches[i].us, us) == 0)
            return &catalogue->stitches[i];
    fail_msg("no stitch %s", us);
    return NULL;
}

/* pi * (5 + 2) mm = 21.991 mm. */
static void loop_of_2_mm_yarn_on_5_mm_is_22_mm(void **state)
{
    (void)state;
    assert_close(hk_loop_length_m(5, 2), 0.02199114857512855, 1e-15, 0);
}

/* Limit: the loop of a yarn without thickness is the circumference of the tool. */
static void loop_of_a_hair_is_the_tools_girth(void **state)
{
    (void)state;
    assert_close(hk_loop_length_m(4, 1e-12), 0.004 * 3.14159265358979, 1e-12, 0);
}

/*
 * Peirce, specific volume 1.1 cm3/g: d = 0.037424 mm * sqrt(tex). Diameters recomputed with GNU units 2.22 from the
 * put-ups 100 g/200 yd, 50 g/125 m, 100 g/100 m, 100 g/400 m.
 */
static void diameter_with_peirces_constant_is_his(void **state)
{
    (void)state;
    assert_close(hk_yarn_diameter_mm(546.806649, 0.037424), 0.87512, 0, 5e-6);
    assert_close(hk_yarn_diameter_mm(400, 0.037424), 0.74848, 0, 5e-6);
    assert_close(hk_yarn_diameter_mm(1000, 0.037424), 1.18345, 0, 5e-6);
    assert_close(hk_yarn_diameter_mm(250, 0.037424), 0.59173, 0, 5e-6);
}

/* Twelve wraps of 25.4/12 mm fill the inch. */
static void wraps_fill_the_inch(void **state)
{
    (void)state;
    assert_close(12 * hk_wraps_diameter_mm(12), 25.4, 1e-15, 0);
}

/*
 * Usual put-ups, tools and gauges in stockinette: common practice, no source. They are within the trade body's
 * categories.
 */
static const struct usual {
    const char *name;
    double tex, needle_mm, stitches, rows; /* in 10 cm */
    double wraps_low, wraps_high;          /* an inch: Craft Yarn Council's ranges, two agreeing copies */
} usual[] = {
    {"fingering, 50 g = 200 m", 250, 2.75, 28, 36, 14, 30},
    {"sport, 50 g = 150 m", 1000.0 / 3, 3.5, 24, 32, 12, 18},
    {"DK, 50 g = 125 m", 400, 4, 22, 30, 11, 15},
    {"worsted, 100 g = 200 m", 500, 5, 18, 24, 9, 12},
    {"bulky, 100 g = 110 m", 100000.0 / 110, 6.5, 14, 19, 6, 9},
};
#define USUAL (sizeof usual / sizeof usual[0])

/*
 * Stitch density of plain wool, wet relaxed: S = Ks / l^2 with Ks = 21.6, l in cm and S in stitches a cm2 (D. L.
 * Munden, J. Text. Inst. 50 (1959) T448; the constant from memory).
 */
static double loop_by_stitch_density_m(double stitches_10cm, double rows_10cm)
{
    double density = stitches_10cm / 10 * rows_10cm / 10;
    return sqrt(21.6 / density) / 100;
}

/* 22 stitches x 30 rows: S = 6.6, l = 1.8091 cm, and 100 cm2 take 660 of them, 11.940 m. */
static void stitch_density_of_22_by_30_gives_a_loop_of_18_mm(void **state)
{
    (void)state;
    assert_close(loop_by_stitch_density_m(22, 30), 0.018091, 0, 5e-7);
    assert_close(660 * loop_by_stitch_density_m(22, 30), 11.940, 0, 5e-4);
}

static void loop_rule_is_within_15_percent_of_plain_knitting(void **state)
{
    const struct hk_catalogue *catalogue = *state;
    for (size_t i = 0; i < USUAL; i++) {
        const struct usual *u = &usual[i];
        double rule = hk_loop_length_m(u->needle_mm, hk_yarn_diameter_mm(u->tex, catalogue->spreads.diameter_mm))
                      * hk_stitch_loops(stitch(catalogue, "k"), catalogue->spreads.wrap_ratio);
        double measured = loop_by_stitch_density_m(u->stitches, u->rows);
        if (fabs(rule / measured - 1) > 0.15)
            fail_msg("%s: %.2f mm by the rule, %.2f mm by stitch density", u->name, 1000 * rule, 1000 * measured);
    }
}

/* The coefficient of the diameter compared with the trade body's wraps per inch. */
static void diameters_lie_in_the_categories_wraps_per_inch(void **state)
{
    const struct hk_catalogue *catalogue = *state;
    for (size_t i = 0; i < USUAL; i++) {
        double wraps = 25.4 / hk_yarn_diameter_mm(usual[i].tex, catalogue->spreads.diameter_mm);
        if (wraps < usual[i].wraps_low || wraps > usual[i].wraps_high)
            fail_msg("%s: %.1f wraps an inch", usual[i].name, wraps);
    }
}

/* Loops of one stitch divided by its width times height, in units of the stitch width squared. */
static double loops_an_area(const struct hk_catalogue *catalogue, const char *us, double height)
{
    return hk_stitch_loops(stitch(catalogue, us), catalogue->spreads.wrap_ratio) / height;
}

/*
 * Common practice, no source: at row heights of 1, 1.5, 2 and 3 stitch widths single crochet takes the most yarn per
 * area, and double crochet 10 to 25% less. By hand: 2, (2 + 2/3) / 1.5 = 1.78, (2 + 4/3) / 2 = 1.67 (17% less), (2 +
 * 8/3) / 3 = 1.56.
 */
static void single_crochet_takes_most_yarn_an_area(void **state)
{
    const struct hk_catalogue *catalogue = *state;
    double sc = loops_an_area(catalogue, "sc", 1), hdc = loops_an_area(catalogue, "hdc", 1.5);
    double dc = loops_an_area(catalogue, "dc", 2), tr = loops_an_area(catalogue, "tr", 3);
    assert_true(sc > hdc && hdc > dc && dc > tr);
    assert_true(dc / sc >= 0.75 && dc / sc <= 0.90);
}

/* Limits: wraps of length zero leave the loops alone; a wrap as long as a loop counts as one. */
static void wraps_count_by_omega(void **state)
{
    (void)state;
    const struct hk_stitch dc = {.loops = 2, .wraps = 2};
    assert_close(hk_stitch_loops(&dc, 0), 2, 0, 0);
    assert_close(hk_stitch_loops(&dc, 1), 4, 0, 0);
    assert_close(hk_stitch_loops(&dc, 0.5), 3, 0, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(loop_of_2_mm_yarn_on_5_mm_is_22_mm),
        cmocka_unit_test(loop_of_a_hair_is_the_tools_girth),
        cmocka_unit_test(diameter_with_peirces_constant_is_his),
        cmocka_unit_test(wraps_fill_the_inch),
        cmocka_unit_test(stitch_density_of_22_by_30_gives_a_loop_of_18_mm),
        cmocka_unit_test(loop_rule_is_within_15_percent_of_plain_knitting),
        cmocka_unit_test(diameters_lie_in_the_categories_wraps_per_inch),
        cmocka_unit_test(single_crochet_takes_most_yarn_an_area),
        cmocka_unit_test(wraps_count_by_omega),
    };
    return cmocka_run_group_tests_name("loop", tests, catalogue_set_up, catalogue_tear_down);
}
