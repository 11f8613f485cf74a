/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support.h"

#include "handmade.h"

#include <gsl/gsl_math.h>

/*
 * With one stitch, one tool and one yarn only the sum of all departures and ln grist matters: prior variance P.
 * Readings of variance s_1^2, s_2^2, ... leave 1 / (1 / P + sum 1 / s_i^2); one making of one piece adds OWN, and a
 * swatch's day is the same OWN.
 */
#define P (0.15 * 0.15 + 0.12 * 0.12 + 0.05 * 0.05 + 0.06 * 0.06 + 0.02 * 0.02)
#define OWN (0.03 * 0.03 + 0.02 * 0.02)

static double left(double information)
{
    return 1 / (1 / P + information);
}

/* Information of a weighing of mass_g to step_g on a day of its own. */
static double weighing(double mass_g, double step_g)
{
    return 1 / (gsl_pow_2(step_g / mass_g) / 12 + OWN);
}

/* 1,000 sc in one piece, a swatch of 400 of a stitch (mass 0: not weighed) on 20 rows. */
static void start_with(struct handmade *h, size_t stitch, double tool_mm, double mass_g, double step_g)
{
    handmade_start(h, 1, 1);
    size_t main = handmade_yarn(h, "main", -1);
    handmade_line(h, 0, 0, 5, 1, (struct handmade_use){main, SC, 1000, 20, 0, 0});
    if (mass_g > 0)
        handmade_swatch(h, "square", tool_mm, mass_g, step_g, (struct handmade_use){main, stitch, 400, 20, 0, 0});
}

static const struct hk_need_why *find(const struct hk_need *need, enum hk_cause cause)
{
    for (size_t i = 0; i < need->why_count; i++)
        if (need->why[i].cause == cause)
            return &need->why[i];
    return NULL;
}

static struct handmade_answer predict(const struct handmade *h)
{
    return handmade_predict(h, hk_need_defaults());
}

/* Mass of a swatch of 30 rows of 30 sc, as the fit stands. */
static double new_swatch_g(const struct hk_need *need)
{
    return 900 * need->roles[0].mass_g.likely / 1000;
}

/* ---- By hand ----------------------------------------------------------------------------------------------------- */

static void with_nothing_weighed_a_swatch_is_the_remedy(void **state)
{
    (void)state;
    struct handmade h;
    start_with(&h, SC, 5, 0, 0);
    struct handmade_answer a = predict(&h);
    double after = left(weighing(new_swatch_g(a.need), 0.1));
    assert_int_equal(a.need->why_count, 2);
    const struct hk_need_why *why = &a.need->why[0];
    assert_int_equal(why->cause, HK_CAUSE_NOTHING_WEIGHED);
    assert_string_equal(why->fabric, "single crochet");
    assert_string_equal(why->yarn, "main");
    assert_close(why->tool_mm, 5, 0, 0);
    assert_null(why->swatch);
    assert_close(why->share, (P - after) / (P + OWN), 1e-12, 0);
    assert_close(why->spread_mass_then, sqrt(after + OWN), 1e-12, 0);
    /* what stays: this making and this piece, 0.0013 of 0.0447 */
    assert_int_equal(a.need->why[1].cause, HK_CAUSE_MAKING);
    assert_close(a.need->why[1].share, 0.0013 / 0.0447, 1e-12, 0);
    assert_close(a.need->why[1].spread_mass_then, sqrt(0.0013), 1e-12, 0);
    handmade_done(a);
}

/* A swatch of 6 g on a 1 g scale: read to 4.8%, more than the 3.6% by which days and pieces differ. */
static void a_coarse_scale_is_most_of_it(void **state)
{
    (void)state;
    struct handmade h;
    start_with(&h, SC, 5, 6, 1);
    struct handmade_answer a = predict(&h);
    double before = left(weighing(6, 1)), after = left(weighing(6, 0.1)), variance = before + OWN;
    const struct hk_need_why *why = &a.need->why[0];
    assert_int_equal(why->cause, HK_CAUSE_SCALE);
    assert_string_equal(why->swatch, "square");
    assert_close(why->scale_step_g, 1, 0, 0);
    assert_close(why->share, (before - after) / variance, 1e-8, 0);
    assert_close(why->spread_mass_then, sqrt(after + OWN), 1e-8, 0);
    /* on the same scale the least rows that do nine tenths of it; one row fewer does less */
    double enough = before - 0.9 * (before - after);
    assert_true(left(weighing(6 * (double)why->rows / 20, 1)) <= enough);
    assert_true(left(weighing(6 * (double)(why->rows - 1) / 20, 1)) > enough);
    assert_in_range(why->rows, 41, 80);
    handmade_done(a);
}

/* A second day is told beside what a finer scale does: with both swatches read to 0.1 g. */
static void a_second_swatch_takes_away_part_of_the_first_ones_day(void **state)
{
    (void)state;
    struct handmade h;
    start_with(&h, SC, 5, 10, 1);
    struct handmade_answer a = predict(&h);
    const struct hk_need_why *why = find(a.need, HK_CAUSE_ONE_DAY);
    double fine = weighing(10, 0.1), both = fine + weighing(new_swatch_g(a.need), 0.1);
    double variance = left(weighing(10, 1)) + OWN;
    assert_non_null(why);
    assert_close(why->share, (left(fine) - left(both)) / variance, 1e-8, 0);
    assert_string_equal(why->fabric, "single crochet");
    handmade_done(a);

    /* with a fine scale there is no scale to blame, and the second swatch counts in full */
    start_with(&h, SC, 5, 10, 0.1);
    a = predict(&h);
    assert_null(find(a.need, HK_CAUSE_SCALE));
    variance = left(fine) + OWN;
    why = find(a.need, HK_CAUSE_ONE_DAY);
    both = fine + weighing(new_swatch_g(a.need), 0.1);
    assert_close(why->spread_mass_then, sqrt(left(both) + OWN), 1e-8, 0);
    handmade_done(a);
}

/* More readings than parameters, which are five here: seven swatches of a fifth of a gram, and what fine scales do beside. */
static void a_day_more_is_told_beside_many_coarse_swatches(void **state)
{
    (void)state;
    struct handmade h;
    start_with(&h, SC, 5, 0.2, 0.2);
    for (int i = 0; i < 6; i++)
        handmade_swatch(&h, "again", 5, 0.2, 0.2, (struct handmade_use){0, SC, 400, 20, 0, 0});
    struct handmade_answer a = predict(&h);
    const struct hk_need_why *why = find(a.need, HK_CAUSE_ONE_DAY);
    double fine = 7 * weighing(0.2, 0.1), both = fine + weighing(new_swatch_g(a.need), 0.1);
    assert_non_null(why);
    assert_close(why->share, (left(fine) - left(both)) / (left(7 * weighing(0.2, 0.2)) + OWN), 1e-8, 0);
    handmade_done(a);
}

/* ---- What is missing --------------------------------------------------------------------------------------------- */

/*
 * The remedy taken for true: a swatch of that fabric and tool, weighed to what is expected of it, leaves the spread
 * that was told.
 */
static void assert_comes_true(struct handmade *h, enum hk_cause cause)
{
    struct handmade_answer a = predict(h);
    const struct hk_need_why *why = find(a.need, cause);
    assert_non_null(why);
    double then = why->spread_mass_then;
    handmade_swatch(h, "new", 5, new_swatch_g(a.need), 0.1, (struct handmade_use){0, SC, 900, 30, 0, 0});
    handmade_done(a);
    a = predict(h);
    assert_close(a.need->roles[0].spread_mass, then, 1e-3, 0);
    handmade_done(a);
}

static void a_stitch_that_no_swatch_has_is_named_in_the_projects_terms(void **state)
{
    (void)state;
    struct handmade h;
    start_with(&h, DC, 5, 14, 0.1);
    struct handmade_answer a = predict(&h);
    assert_int_equal(a.need->why[0].cause, HK_CAUSE_STITCH);
    assert_string_equal(a.need->why[0].stitch, "sc");
    assert_string_equal(a.need->why[0].fabric, "single crochet");
    handmade_done(a);
    h.project.terms = HK_UK;
    a = predict(&h);
    assert_string_equal(a.need->why[0].stitch, "dc");
    handmade_done(a);
    assert_comes_true(&h, HK_CAUSE_STITCH);
}

static void a_tool_that_no_swatch_has_is_named(void **state)
{
    (void)state;
    struct handmade h;
    start_with(&h, SC, 4, 8, 0.1);
    struct handmade_answer a = predict(&h);
    const struct hk_need_why *why = find(a.need, HK_CAUSE_TOOL);
    assert_non_null(why);
    assert_close(why->tool_mm, 5, 0, 0);
    handmade_done(a);
    assert_comes_true(&h, HK_CAUSE_TOOL);
}

static void a_yarn_that_no_swatch_has_is_named(void **state)
{
    (void)state;
    struct handmade h;
    handmade_start(&h, 1, 1);
    handmade_yarn(&h, "main", -1);
    size_t other = handmade_yarn(&h, "other", -1);
    handmade_line(&h, 0, 0, 5, 1, (struct handmade_use){0, SC, 1000, 20, 0, 0});
    handmade_swatch(&h, "of the other", 5, 9, 0.1, (struct handmade_use){other, SC, 400, 20, 0, 0});
    struct handmade_answer a = predict(&h);
    const struct hk_need_why *why = find(a.need, HK_CAUSE_YARN);
    assert_non_null(why);
    assert_string_equal(why->yarn, "main");
    handmade_done(a);
    assert_comes_true(&h, HK_CAUSE_YARN);
}

/* A swatch of knitting says nothing of crochet. */
static void a_swatch_of_another_craft_is_as_nothing(void **state)
{
    (void)state;
    struct handmade h;
    start_with(&h, KNIT, 5, 5, 0.1);
    struct handmade_answer a = predict(&h);
    assert_int_equal(a.need->evidence, 1);
    assert_int_equal(a.need->why[0].cause, HK_CAUSE_NOTHING_WEIGHED);
    handmade_done(a);
    assert_comes_true(&h, HK_CAUSE_NOTHING_WEIGHED);
}

/*
 * 20 m of fringe and little else: the label's grams a metre are what is not known. Unravelling reads them to 2%, as
 * well as they were known before, so half of their variance goes.
 */
/* A crown of 1,000 dc that narrows and a band of 100 sc: the swatch is one of the band; a crown alone is asked for itself. */
static void no_swatch_is_asked_of_a_fabric_that_shapes(void **state)
{
    (void)state;
    /* *dc 5, dc dec*: each run takes 7 and leaves 6. */
    struct hk_stitch together = {.us = "dc2tog", .name = "dc decrease", .family = HK_CROCHET, .loops = 3, .wraps = 4, .needs = 2, .leaves = 1};
    struct hk_step steps[] = {
        {.kind = HK_STEP_REPEAT, .steps = &steps[1], .step_count = 2},
        {.kind = HK_STEP_STITCH, .stitch = DC, .many.one = 1, .where.count.one = 5},
        {.kind = HK_STEP_STITCH, .stitch = SKIP, .many.one = 1, .where.count.one = 1},
    };
    struct hk_row narrows = {.steps = steps, .step_count = 1, .repeats = true, .to_end = true};
    for (size_t lines = 1; lines <= 2; lines++) {
        struct handmade h;
        handmade_start(&h, 1, lines);
        size_t main = handmade_yarn(&h, "main", -1);
        h.stitches[SKIP] = together;
        h.fabrics[DC].rows = &narrows;
        h.fabrics[DC].cycle_count = 1;
        handmade_line(&h, 0, 0, 5, 1, (struct handmade_use){main, DC, 1000, 20, 0, 0});
        if (lines == 2)
            handmade_line(&h, 1, 0, 5, 1, (struct handmade_use){main, SC, 100, 20, 0, 0});
        struct handmade_answer a = predict(&h);
        for (size_t i = 0; i < a.need->why_count; i++)
            if (a.need->why[i].fabric)
                assert_string_equal(a.need->why[i].fabric, lines == 2 ? "single crochet" : "double crochet");
        assert_non_null(find(a.need, HK_CAUSE_NOTHING_WEIGHED));
        handmade_done(a);
    }
}

static void the_labels_grist_is_a_cause_where_no_weighing_bears_on_it(void **state)
{
    (void)state;
    struct handmade h;
    handmade_start(&h, 1, 1);
    handmade_line(&h, 0, 0, 5, 1, (struct handmade_use){handmade_yarn(&h, "main", -1), SKIP, 1, 0, 0, 20});
    struct handmade_answer a = predict(&h);
    assert_int_equal(a.need->why_count, 1);
    assert_int_equal(a.need->why[0].cause, HK_CAUSE_GRIST);
    assert_close(a.need->why[0].share, 0.5, 1e-12, 0);
    assert_null(a.need->why[0].swatch);
    handmade_done(a);

    handmade_swatch(&h, "square", 5, 10, 0.1, (struct handmade_use){0, SC, 400, 20, 0, 0});
    a = predict(&h);
    assert_string_equal(find(a.need, HK_CAUSE_GRIST)->swatch, "square");
    handmade_done(a);

    h.swatches[0].unravelled_m = 18;
    a = predict(&h);
    assert_null(find(a.need, HK_CAUSE_GRIST));
    handmade_done(a);
}

/* ---- The list ---------------------------------------------------------------------------------------------------- */

static void causes_stand_by_share_what_nothing_narrows_last_and_none_is_too_small_to_show(void **state)
{
    (void)state;
    struct handmade h;
    handmade_start(&h, 1, 3);
    size_t main = handmade_yarn(&h, "main", -1);
    handmade_line(&h, 0, 0, 5, 1, (struct handmade_use){main, DC, 5000, 100, 0, 0});
    handmade_line(&h, 0, 1, 4, 1, (struct handmade_use){main, SC, 3000, 100, 0, 0});
    handmade_line(&h, 0, 2, 5, 1, (struct handmade_use){main, SC, 1, 1, 0, 0}); /* one stitch: not worth a word */
    handmade_swatch(&h, "square", 5, 12, 1, (struct handmade_use){main, DC, 400, 20, 0, 0});
    struct handmade_answer a = predict(&h);
    assert_true(a.need->why_count >= 3);
    for (size_t i = 0; i < a.need->why_count; i++) {
        assert_true(a.need->why[i].share >= 0.03 || a.need->why[i].cause == HK_CAUSE_MAKING);
        assert_true(i == 0 || a.need->why[i].cause == HK_CAUSE_MAKING ||
                    a.need->why[i].share <= a.need->why[i - 1].share);
        assert_true(i + 1 == a.need->why_count || a.need->why[i].cause != HK_CAUSE_MAKING);
        assert_true(a.need->why[i].spread_mass_then <= a.need->roles[0].spread_mass);
    }
    assert_non_null(find(a.need, HK_CAUSE_STITCH));
    handmade_done(a);
}

static void it_speaks_of_the_middle_size(void **state)
{
    (void)state;
    struct handmade h;
    handmade_start(&h, 3, 1);
    size_t main = handmade_yarn(&h, "main", -1);
    for (size_t size = 0; size < 3; size++)
        handmade_line(&h, size, 0, 5, size == 1 ? 0 : 1, (struct handmade_use){main, SC, 1000, 20, 0, 0});
    struct handmade_answer a = predict(&h); /* M does without: S is the nearest before L */
    assert_string_equal(a.need->roles[a.need->why[0].role].size_name, "S");
    handmade_done(a);
    h.worked[1].times = 1;
    a = predict(&h);
    assert_string_equal(a.need->roles[a.need->why[0].role].size_name, "M");
    handmade_done(a);
    for (size_t size = 0; size < 3; size++)
        h.worked[size].times = 0;
    a = predict(&h);
    assert_int_equal(a.need->role_count, 0);
    assert_int_equal(a.need->why_count, 0);
    handmade_done(a);
}

/* Skipped stitches take no yarn: what would do more is the same as without them. */
static void skipped_stitches_are_none_of_a_new_swatch(void **state)
{
    (void)state;
    struct handmade h;
    start_with(&h, SC, 5, 0, 0);
    struct handmade_answer plain = predict(&h);
    h.kinds[0][1] = (struct hk_kind){SKIP, 500};
    h.uses[0].kinds.count = 2;
    struct handmade_answer skipped = predict(&h);
    assert_int_equal(skipped.need->roles[0].stitches, 1000);
    assert_int_equal(skipped.need->why_count, plain.need->why_count);
    assert_close(skipped.need->why[0].spread_mass_then, plain.need->why[0].spread_mass_then, 1e-12, 0);
    handmade_done(skipped);
    handmade_done(plain);
}

/* A stitch that no swatch shows, without an abbreviation: it is asked for by name. */
static void a_stitch_without_an_abbreviation_is_asked_for_by_name(void **state)
{
    (void)state;
    struct handmade h;
    start_with(&h, DC, 5, 40, 0.1);
    h.stitches[SC].us = NULL;
    struct handmade_answer a = predict(&h);
    const struct hk_need_why *why = find(a.need, HK_CAUSE_STITCH);
    assert_non_null(why);
    assert_string_equal(why->stitch, "single crochet");
    handmade_done(a);
}

/* Without its rows a swatch cannot be told to have more of them; a finer scale is still worth it. */
static void a_swatch_of_unknown_rows_is_only_weighed_again(void **state)
{
    (void)state;
    struct handmade h;
    start_with(&h, SC, 5, 6, 1);
    h.swatches[0].rows = 0;
    struct handmade_answer a = predict(&h);
    assert_int_equal(a.need->why[0].cause, HK_CAUSE_SCALE);
    assert_int_equal(a.need->why[0].rows, 0);
    handmade_done(a);
}

/* What a tape reads without error, where nothing was weighed, has nothing to say of how sure it would be. */
static void a_reading_without_error_is_no_remedy(void **state)
{
    (void)state;
    struct handmade h;
    start_with(&h, SC, 5, 0, 0);
    h.project.spreads.grist = 0.5;
    struct handmade_answer a = predict(&h);
    assert_non_null(find(a.need, HK_CAUSE_GRIST));
    handmade_done(a);
    h.project.spreads.unravelled = 0;
    a = predict(&h);
    assert_null(find(a.need, HK_CAUSE_GRIST));
    handmade_done(a);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(with_nothing_weighed_a_swatch_is_the_remedy),
        cmocka_unit_test(a_coarse_scale_is_most_of_it),
        cmocka_unit_test(a_second_swatch_takes_away_part_of_the_first_ones_day),
        cmocka_unit_test(a_day_more_is_told_beside_many_coarse_swatches),
        cmocka_unit_test(a_stitch_that_no_swatch_has_is_named_in_the_projects_terms),
        cmocka_unit_test(a_tool_that_no_swatch_has_is_named),
        cmocka_unit_test(a_yarn_that_no_swatch_has_is_named),
        cmocka_unit_test(a_swatch_of_another_craft_is_as_nothing),
        cmocka_unit_test(no_swatch_is_asked_of_a_fabric_that_shapes),
        cmocka_unit_test(the_labels_grist_is_a_cause_where_no_weighing_bears_on_it),
        cmocka_unit_test(causes_stand_by_share_what_nothing_narrows_last_and_none_is_too_small_to_show),
        cmocka_unit_test(it_speaks_of_the_middle_size),
        cmocka_unit_test(skipped_stitches_are_none_of_a_new_swatch),
        cmocka_unit_test(a_stitch_without_an_abbreviation_is_asked_for_by_name),
        cmocka_unit_test(a_swatch_of_unknown_rows_is_only_weighed_again),
        cmocka_unit_test(a_reading_without_error_is_no_remedy),
    };
    return cmocka_run_group_tests_name("why", tests, NULL, NULL);
}
