/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Hours, worked by hand: a loop takes 1.3 s until something is timed, an end 3 min (the model of DEVELOPERS.md). */
#include "folder.h"

#include "model/chance.h"
#include "model/fit.h"
#include "handmade.h"

#include <gsl/gsl_math.h>

/* Values of DEVELOPERS.md, The model, copied here. */
static void start(struct handmade *h, size_t sizes, size_t lines)
{
    handmade_start(h, sizes, lines);
    h->project.tail_m = 0.15;
}

struct answer {
    struct hk_time_fit *fit;
    struct hk_hours *hours;
};

static struct answer predict(const struct handmade *h, const char *expected)
{
    struct hk_diags diags = {0};
    struct answer answer = {.fit = hk_fit_time(&h->tally, &diags)};
    assert_non_null(answer.fit);
    answer.hours = hk_hours_predict(answer.fit, HK_NO_SIZE, &diags);
    assert_non_null(answer.hours);
    assert_findings(&diags, expected);
    return answer;
}

static void done(struct answer answer)
{
    hk_hours_free(answer.hours);
    hk_time_fit_free(answer.fit);
}

#define UNTIMED                                                                                                        \
    "-:0:0: note: nothing was timed: the hours are a rough guess, from 1.3 seconds a loop; write the minutes that "    \
    "a "                                                                                                               \
    "swatch took in the column minutes of swatches.csv\n"

/*
 * 9000 dc of 2 loops and 2 wraps at 1.3 s: 46800 s, 13 h; 4 ends at 3 min: 0.2 h. The spread of the seconds is
 * sqrt(0.35^2 + 0.15^2 + 0.05^2 + 0.1^2 + 0.1^2 + 0.05^2) = 0.41231, and applies to 13/13.2 of the total.
 */
static void nothing_timed_is_1_3_seconds_a_loop_and_a_wide_guess(void **state)
{
    (void)state;
    struct handmade h;
    start(&h, 1, 1);
    size_t main = handmade_yarn(&h, "main", -1);
    handmade_line(&h, 0, 0, 5, 1, (struct handmade_use){main, DC, 9000, 120, 4, 0.5});
    struct answer a = predict(&h, UNTIMED);
    const struct hk_hours_size *s = &a.hours->sizes[0];
    assert_int_equal(a.hours->evidence, 0);
    assert_close(s->worked_h, 13, 1e-12, 0);
    assert_close(s->ends_h, 0.2, 1e-12, 0);
    assert_close(s->hours.likely, 13.2, 1e-12, 0);
    assert_close(s->spread, 13 / 13.2 * sqrt(0.1225 + 0.0225 + 0.0025 + 0.01 + 0.01 + 0.0025), 1e-12, 0);
    assert_close(s->hours.high, 13.2 * exp(Z95 * s->spread), 1e-12, 0);
    assert_close(s->hours.low, 13.2 * exp(-Z95 * s->spread), 1e-12, 0);
    assert_close(s->hours.enough, 13.2, 1e-12, 0); /* the median */
    assert_int_equal(s->part_count, 1);
    assert_int_equal(a.hours->stitch_count, 1);
    assert_string_equal(a.hours->stitches[0].stitch, "dc");
    assert_close(a.hours->stitches[0].each_s.likely, 5.2, 1e-12, 0);
    assert_close(a.hours->stitches[0].each_s.enough, 5.2, 1e-12, 0);
    assert_close(a.hours->stitches[0].count, 9000, 0, 0);
    done(a);
}

/* Without a swatch that could state minutes, the note is at the pieces, even for a single piece. */
static void nothing_timed_is_said_where_the_work_is_stated(void **state)
{
    struct hk_diags diags = {0};
    struct stages stages = stages_of(*state, (struct folder){.swatches = ""}, HK_NO_SIZE);
    assert_int_equal(stages.project->line_count, 1);
    struct hk_time_fit *time = hk_fit_time(stages.tally, &diags);
    assert_non_null(time);
    struct hk_hours *hours = hk_hours_predict(time, HK_NO_SIZE, &diags);
    assert_non_null(hours);
    assert_findings(
        &diags, "pieces.csv:0:0: note: nothing was timed: the hours are a rough guess, from 1.3 seconds a loop; write "
                "the minutes that a swatch took in the column minutes of swatches.csv\n");
    hk_hours_free(hours);
    hk_time_fit_free(time);
    stages_free(stages);
}

/* Two strands of one yarn held together take one pass of the hook, and their ends are woven in separately. */
static void strands_held_together_are_worked_once_and_woven_in_each(void **state)
{
    (void)state;
    struct handmade h;
    start(&h, 1, 1);
    size_t main = handmade_yarn(&h, "main", -1);
    size_t twice = handmade_together(&h, main, 2, main, 0, 3);
    handmade_line(&h, 0, 0, 5, 1, (struct handmade_use){twice, SC, 1000, 100, 2, 0});
    struct answer a = predict(&h, UNTIMED);
    assert_close(a.hours->sizes[0].worked_h, 2600.0 / 3600, 1e-12, 0);
    assert_close(a.hours->sizes[0].ends, 4, 0, 0);
    done(a);
}

/* The piece spread of 4 sleeves is half that of one: var = ... + making^2 + piece^2 / 4. */
static void copies_differ_one_by_one(void **state)
{
    (void)state;
    struct handmade h;
    start(&h, 2, 1);
    size_t main = handmade_yarn(&h, "main", -1);
    handmade_line(&h, 0, 0, 5, 1, (struct handmade_use){main, SC, 4000, 100, 0, 0});
    handmade_line(&h, 1, 0, 5, 4, (struct handmade_use){main, SC, 1000, 100, 0, 0});
    struct answer a = predict(&h, UNTIMED);
    const struct hk_hours_size *one = &a.hours->sizes[0], *four = &a.hours->sizes[1];
    assert_close(one->hours.likely, four->hours.likely, 1e-12, 0);
    assert_close(gsl_pow_2(one->spread) - gsl_pow_2(four->spread), 0.0025 * 3 / 4, 1e-9, 0);
    done(a);
}

/*
 * One swatch of the design's one stitch, tool and yarn, timed: data s^2 = (60/sqrt12/t)^2 + 0.1^2 + 0.05^2 against the
 * prior V = 0.35^2 + 0.15^2 + 0.05^2 + 0.1^2 of ln seconds. Of one sum of departures the optimum is the weighted mean,
 * ln each = ln 5.2 + V / (V + s^2) * ln(reading / expected), with variance V s^2 / (V + s^2). 400 dc at 5.2 s are 2080
 * s; it took 52 min, 3120 s, half as long again.
 */
static void one_timed_swatch_is_a_weighted_mean(void **state)
{
    (void)state;
    struct handmade h;
    start(&h, 1, 1);
    size_t main = handmade_yarn(&h, "main", -1);
    handmade_line(&h, 0, 0, 5, 1, (struct handmade_use){main, DC, 9000, 120, 0, 0});
    size_t i = handmade_swatch(&h, "square", 5, 0, 1, (struct handmade_use){main, DC, 400, 20, 2, 0});
    h.swatches[i].minutes = 52;
    struct answer a = predict(&h, "");
    double v = 0.1225 + 0.0225 + 0.0025 + 0.01, s2 = gsl_pow_2(60 / sqrt(12) / 3120) + 0.01 + 0.0025;
    double ln = log(5.2) + v / (v + s2) * log(1.5);
    assert_int_equal(a.hours->evidence, 1);
    assert_close(a.hours->stitches[0].each_s.likely, exp(ln), 1e-9, 0);
    assert_close(a.hours->stitches[0].spread, sqrt(v * s2 / (v + s2)), 1e-8, 0);
    assert_close(a.hours->sizes[0].spread, sqrt(v * s2 / (v + s2) + 0.0125), 1e-8, 0);
    done(a);
}

/* Weights do not affect time, and minutes do not affect yarn. */
static void yarn_and_time_are_two_fits(void **state)
{
    (void)state;
    struct handmade h;
    start(&h, 1, 1);
    size_t main = handmade_yarn(&h, "main", -1);
    handmade_line(&h, 0, 0, 5, 1, (struct handmade_use){main, DC, 9000, 120, 4, 0});
    size_t i = handmade_swatch(&h, "square", 5, 20, 1, (struct handmade_use){main, DC, 400, 20, 2, 0});
    struct answer a = predict(&h, UNTIMED);
    struct handmade_answer before = handmade_predict(&h, hk_need_defaults());
    h.swatches[i].minutes = 40;
    struct handmade_answer after = handmade_predict(&h, hk_need_defaults());
    assert_close(before.need->roles[0].mass_g.likely, after.need->roles[0].mass_g.likely, 0, 0);
    assert_int_equal(after.need->evidence, 1);
    handmade_done(before);
    handmade_done(after);
    done(a);
}

/* 20 sc at 2.6 s: 52 s; a step of one minute is more than a tenth of it; 9 min is ten times the expected time. */
static void a_short_or_an_outlying_timing_is_warned_about(void **state)
{
    (void)state;
    struct handmade h;
    start(&h, 1, 1);
    size_t main = handmade_yarn(&h, "main", -1);
    handmade_line(&h, 0, 0, 5, 1, (struct handmade_use){main, SC, 9000, 120, 0, 0});
    size_t i = handmade_swatch(&h, "corner", 5, 0, 1, (struct handmade_use){main, SC, 20, 20, 2, 0});
    h.swatches[i].minutes = 9;
    struct answer a = predict(
        &h,
        "-:0:0: warning: a minute is more than a tenth of the 9 min that swatch \"corner\" took; time a larger swatch\n"
        "-:0:0: warning: swatch \"corner\" took 10 times the minutes that its stitches and all else lead to expect; a "
        "factor of 10 is often a decimal point; check the minutes, and the stitches and rows; if they are right, it "
        "may stay\n");
    done(a);
    h.swatches[i].minutes = 10; /* a minute is a tenth, and 230 sc are 598 s */
    h.kinds[1][0].count = 230;
    done(predict(&h, ""));
}

/* Derivative of ln seconds against central differences. */
static void the_gradient_is_that_of_finite_differences(void **state)
{
    (void)state;
    struct handmade h;
    start(&h, 1, 2);
    size_t main = handmade_yarn(&h, "main", -1);
    handmade_line(&h, 0, 0, 5, 1, (struct handmade_use){main, DC, 9000, 120, 4, 0});
    handmade_line(&h, 0, 1, 4, 1, (struct handmade_use){main, SC, 900, 120, 4, 0});
    size_t i = handmade_swatch(&h, "square", 5, 0, 1, (struct handmade_use){main, DC, 400, 20, 2, 0});
    h.swatches[i].minutes = 40;
    struct answer a = predict(&h, "");
    const struct hk_fit *fit = &a.fit->fit;
    double gradient[16] = {0}, x[16];
    assert_true(fit->count <= 16);
    hk_fit_ln_off(fit, NULL, &fit->data[0], 1, gradient);
    for (size_t p = 0; p < fit->count; p++) {
        static const double step = 1e-5;
        double sides[2];
        for (int side = 0; side < 2; side++) {
            for (size_t k = 0; k < fit->count; k++)
                x[k] = fit->parameters[k].value + (k == p ? (side ? step : -step) : 0);
            sides[side] = hk_fit_ln_off(fit, x, &fit->data[0], 1, NULL);
        }
        assert_close(gradient[p], (sides[1] - sides[0]) / (2 * step), 1e-7, 1e-9);
    }
    done(a);
}

static void a_fit_of_yarn_or_a_size_that_is_none_gives_no_hours(void **state)
{
    (void)state;
    struct handmade h;
    struct hk_diags diags = {0};
    start(&h, 1, 1);
    size_t main = handmade_yarn(&h, "main", -1);
    handmade_line(&h, 0, 0, 5, 1, (struct handmade_use){main, SC, 9000, 120, 0, 0});
    struct hk_time_fit *time = hk_fit_time(&h.tally, &diags);
    assert_null(hk_hours_predict(time, 1, &diags));
    assert_findings(
        &diags, "size:0:0: error: no hours can be computed for this request; ask with a fit of time, for a size of the "
                "project\n");
    hk_time_fit_free(time);
    hk_hours_free(NULL);
}

/* A size without the only line, and a stitch with no time or no repeats, take no hours. */
static void what_is_not_worked_takes_no_hours(void **state)
{
    (void)state;
    struct handmade h;
    start(&h, 2, 1);
    size_t main = handmade_yarn(&h, "main", -1);
    handmade_line(&h, 0, 0, 5, 0, (struct handmade_use){main, SC, 9000, 120, 0, 0});
    struct answer a = predict(&h, UNTIMED);
    assert_close(a.hours->sizes[0].hours.likely, 0, 0, 0);
    assert_close(a.hours->sizes[0].spread, 0, 0, 0);
    assert_int_equal(a.hours->stitch_count, 0);
    done(a);
    start(&h, 1, 1);
    main = handmade_yarn(&h, "main", -1);
    handmade_line(&h, 0, 0, 5, 1, (struct handmade_use){main, SC, 3600, 60, 0, 0});
    h.kinds[0][1] = (struct hk_kind){SKIP, 500};
    h.uses[0].kinds.count = 2;
    a = predict(&h, UNTIMED);
    assert_close(a.hours->sizes[0].hours.likely, 2.6, 1e-12, 0);
    assert_int_equal(a.hours->stitch_count, 1);
    done(a);
    h.kinds[0][1] = (struct hk_kind){DC, 0};
    a = predict(&h, UNTIMED);
    assert_int_equal(a.hours->stitch_count, 1);
    done(a);
}

/* The types distinguish them; a host in another language may have no types. */
static void neither_fit_answers_for_the_other(void **state)
{
    (void)state;
    struct handmade h;
    struct hk_diags diags = {0};
    start(&h, 1, 1);
    size_t main = handmade_yarn(&h, "main", -1);
    handmade_line(&h, 0, 0, 5, 1, (struct handmade_use){main, SC, 3600, 60, 0, 0});
    struct hk_time_fit *time = hk_fit_time(&h.tally, &diags);
    struct hk_fit *yarn = hk_fit_make(&h.tally, &diags);
    hk_diags_free(&diags);
    diags = (struct hk_diags){0};
    assert_null(hk_need_predict((const struct hk_fit *)(const void *)time, hk_need_defaults(), &diags));
    assert_findings(&diags,
                    "fit:0:0: error: a fit of time does not predict yarn; ask with a fit of what was weighed\n");
    diags = (struct hk_diags){0};
    assert_null(hk_hours_predict((const struct hk_time_fit *)(const void *)yarn, 0, &diags));
    assert_findings(
        &diags, "size:0:0: error: no hours can be computed for this request; ask with a fit of time, for a size of the "
                "project\n");
    hk_time_fit_free(time);
    hk_fit_free(yarn);
}

/*
 * A stitch without an abbreviation in the design's terms is called by its name; for one size the answer has that size
 * alone.
 */
static void a_stitch_without_an_abbreviation_goes_by_its_name(void **state)
{
    (void)state;
    struct handmade h;
    struct hk_diags diags = {0};
    start(&h, 2, 1);
    size_t main = handmade_yarn(&h, "main", -1);
    h.stitches[SC].us = NULL;
    handmade_line(&h, 0, 0, 5, 1, (struct handmade_use){main, SC, 3600, 60, 0, 0});
    handmade_line(&h, 1, 0, 5, 1, (struct handmade_use){main, SC, 7200, 60, 0, 0});
    struct hk_time_fit *time = hk_fit_time(&h.tally, &diags);
    struct hk_hours *hours = hk_hours_predict(time, 1, &diags);
    assert_non_null(hours);
    assert_int_equal(hours->size_count, 1);
    assert_close(hours->sizes[0].hours.likely, 5.2, 1e-12, 0);
    assert_string_equal(hours->stitches[0].stitch, "single crochet");
    hk_hours_free(hours);
    hk_time_fit_free(time);
    struct hk_fit *yarn = hk_fit_make(&h.tally, &diags);
    hk_diags_free(&diags);
    diags = (struct hk_diags){0};
    hk_fit_free(yarn);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(nothing_timed_is_1_3_seconds_a_loop_and_a_wide_guess),
        cmocka_unit_test(nothing_timed_is_said_where_the_work_is_stated),
        cmocka_unit_test(strands_held_together_are_worked_once_and_woven_in_each),
        cmocka_unit_test(copies_differ_one_by_one),
        cmocka_unit_test(one_timed_swatch_is_a_weighted_mean),
        cmocka_unit_test(yarn_and_time_are_two_fits),
        cmocka_unit_test(neither_fit_answers_for_the_other),
        cmocka_unit_test(a_short_or_an_outlying_timing_is_warned_about),
        cmocka_unit_test(the_gradient_is_that_of_finite_differences),
        cmocka_unit_test(a_fit_of_yarn_or_a_size_that_is_none_gives_no_hours),
        cmocka_unit_test(what_is_not_worked_takes_no_hours),
        cmocka_unit_test(a_stitch_without_an_abbreviation_goes_by_its_name),
    };
    return cmocka_run_group_tests_name("hours", tests, catalogue_set_up, catalogue_tear_down);
}
