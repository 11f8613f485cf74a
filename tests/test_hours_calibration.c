/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Checks whether a 95% bound on the hours holds (makers.h): swatches and pieces timed to the minute, then the garment.
 */
#include "makers.h"

#include <gsl/gsl_math.h>
#include <gsl/gsl_randist.h>

#define S_PER_MIN 60.0
#define MIN_PER_HOUR 60.0
#define END_MIN 3.0
/* Percentages: four standard errors around 95. */
#define LEAST 92.5
#define MOST 96.5

static double take_min(const struct maker *maker, const struct hk_worked *worked, double day)
{
    double seconds = 0;
    for (size_t u = 0; u < worked->use_count; u++) {
        const struct hk_use *use = &worked->uses[u];
        struct hk_ground ground = {&maker->design->tally, use->combination, worked->tool_mm, false};
        double each = hk_fit_worked(maker->fit, maker->x, ground, use->kinds, 0, NULL);
        for (int64_t copy = 0; copy < worked->times; copy++)
            seconds += exp(day + gsl_ran_gaussian(maker->rng, maker->design->project.spreads.time_piece)) * each;
    }
    return seconds / S_PER_MIN;
}

static double weave_in_min(const struct hk_worked *worked)
{
    return (double)worked->times * worked->uses[0].ends[0] * END_MIN;
}

static double by_the_clock(double minutes)
{
    return fmax(1, floor(minutes + 0.5));
}

static void time_swatch(const struct maker *maker, struct hk_swatch *swatch, double minutes)
{
    (void)maker;
    swatch->minutes = by_the_clock(minutes);
}

static void time_progress(const struct maker *maker, struct hk_progress *progress, double minutes)
{
    (void)maker;
    progress->minutes = by_the_clock(minutes);
}

static double high_min(const struct hk_fit *fit, size_t size, double *spread)
{
    struct hk_diags diags = {0};
    struct hk_hours *hours = hk_hours_predict((const struct hk_time_fit *)fit, size, &diags);
    assert_non_null(hours);
    double bound_min = hours->sizes[0].hours.high * MIN_PER_HOUR;
    *spread = hours->sizes[0].spread;
    hk_diags_free(&diags);
    hk_hours_free(hours);
    return bound_min;
}

static struct hk_fit *fit_time(const struct hk_tally *tally, struct hk_diags *diags)
{
    return (struct hk_fit *)hk_fit_time(tally, diags);
}

static const struct measure minutes = {
    .fit = fit_time, .bound = high_min, .take = take_min, .finish = weave_in_min, .read_swatch = time_swatch,
    .read_progress = time_progress, .day_sd = 0.1, .seed = 20261125,
};

static void add_swatch(struct handmade *h, size_t stitch, double tool_mm, double count)
{
    size_t i = handmade_swatch(h, "square", tool_mm, 0, 1, (struct handmade_use){0, stitch, count, 20, 2, 0});
    h->swatches[i].minutes = 30; /* each maker's own time replaces it */
}

static void hours_hold_with_nothing_timed(void **state)
{
    (void)state;
    struct handmade h;
    makers_garment(&h, 1);
    assert_calibrated(&h, &minutes, "nothing timed", LEAST, MOST);
}

static void hours_hold_after_one_timed_swatch(void **state)
{
    (void)state;
    struct handmade h;
    makers_garment(&h, 1);
    add_swatch(&h, DC, 5, 400);
    assert_calibrated(&h, &minutes, "one swatch", LEAST, MOST);
}

static void hours_hold_after_a_timed_swatch_of_a_few_minutes(void **state)
{
    (void)state;
    struct handmade h;
    makers_garment(&h, 1);
    add_swatch(&h, DC, 5, 60);
    assert_calibrated(&h, &minutes, "one small swatch", LEAST, MOST);
}

static void hours_hold_after_two_timed_swatches_of_different_stitches(void **state)
{
    (void)state;
    struct handmade h;
    makers_garment(&h, 1);
    add_swatch(&h, DC, 5, 400);
    add_swatch(&h, SC, 4, 500);
    assert_calibrated(&h, &minutes, "two swatches", LEAST, MOST);
}

static void hours_hold_in_another_size_after_two_timed_pieces(void **state)
{
    (void)state;
    struct handmade h;
    struct in_hand in_hand;
    makers_garment(&h, 2);
    makers_take_in_hand(&h, &in_hand, (struct hk_progress){.minutes = 600}, (struct hk_progress_work){.timed = true});
    assert_calibrated(&h, &minutes, "two pieces of another size", LEAST, MOST);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(hours_hold_with_nothing_timed),
        cmocka_unit_test(hours_hold_after_one_timed_swatch),
        cmocka_unit_test(hours_hold_after_a_timed_swatch_of_a_few_minutes),
        cmocka_unit_test(hours_hold_after_two_timed_swatches_of_different_stitches),
        cmocka_unit_test(hours_hold_in_another_size_after_two_timed_pieces),
    };
    return cmocka_run_group_tests_name("hours calibration", tests, NULL, NULL);
}
