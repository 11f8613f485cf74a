/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * As test_calibration.c, of time: simulated makers, drawn from the priors of DEVELOPERS.md, The model, work swatches by a clock
 * read to the minute and then the garment, each on its own day; the hours that it took are held against what was
 * predicted. 2,000 makers in each case: the share is known to half a percent.
 */
#include "support.h"

#include "chance.h"
#include "handmade.h"

#include <gsl/gsl_math.h>
#include <gsl/gsl_randist.h>

#define MAKERS 2000
#define HELD_LEAST 0.925
#define HELD_MOST 0.965
#define S_PER_MIN 60.0
#define S_PER_HOUR 3600.0
#define END_S 180.0

enum { PARAMETERS_MOST = 32 };

/* A body and two sleeves of dc, the sleeves on a smaller hook, with a border of sc on a smaller one still. */
static void start_garment(struct handmade *h, size_t sizes)
{
    handmade_start(h, sizes, 3);
    h->project.tail_m = 0.15;
    size_t main = handmade_yarn(h, "main", -1);
    for (size_t size = 0; size < sizes; size++) {
        double larger = 1 + 0.2 * (double)size;
        handmade_line(h, size, 0, 5, 1, (struct handmade_use){main, DC, 9000 * larger, 120, 4, 0});
        handmade_line(h, size, 1, 4.5, 2, (struct handmade_use){main, DC, 2800 * larger, 60, 4, 0});
        handmade_line(h, size, 2, 4, 1, (struct handmade_use){main, SC, 2400 * larger, 240, 2, 0});
    }
}

static void add_swatch(struct handmade *h, size_t stitch, double tool_mm, double count)
{
    size_t i = handmade_swatch(h, "square", tool_mm, 0, 1, (struct handmade_use){0, stitch, count, 20, 2, 0});
    h->swatches[i].minutes = 30; /* each maker's own takes its place */
}

/* One making of one thing, each copy a piece: seconds at the work. x: what is true of this maker. */
static double make_s(const struct handmade *h, const struct hk_fit *fit, const double *x, const struct hk_worked *worked,
                     double making, gsl_rng *rng)
{
    double seconds = 0;
    for (size_t u = 0; u < worked->use_count; u++) {
        const struct hk_use *use = &worked->uses[u];
        double each = hk_fit_worked(fit, x, &h->tally, use->combination, worked->tool_mm, use->kinds, 0, NULL);
        for (int64_t copy = 0; copy < worked->times; copy++)
            seconds += exp(making + gsl_ran_gaussian(rng, h->project.spreads.time_piece)) * each;
    }
    return seconds;
}

static double a_day(const struct handmade *h, gsl_rng *rng)
{
    return gsl_ran_gaussian(rng, h->project.spreads.time_making);
}

static void time_swatches(struct handmade *h, const struct hk_fit *fit, const double *x, gsl_rng *rng)
{
    for (size_t i = 0; i < h->project.swatch_count; i++) {
        double seconds = make_s(h, fit, x, &h->worked_swatches[i], a_day(h, rng), rng);
        h->swatches[i].minutes = fmax(1, floor(seconds / S_PER_MIN + 0.5));
    }
}

/* Two pieces of the smaller size, the body and one sleeve, made on one day. */
struct in_hand {
    struct hk_progress rows[2];
    struct hk_so_far so_far[2];
    struct hk_worked worked[2];
};

static void take_in_hand(struct handmade *h, struct in_hand *in_hand)
{
    *in_hand = (struct in_hand){0};
    for (size_t i = 0; i < 2; i++) {
        in_hand->worked[i] = h->worked[i];
        in_hand->worked[i].times = 1;
        in_hand->rows[i] = (struct hk_progress){.title = "in hand", .of = {SIZE_MAX, SIZE_MAX}, .minutes = 600};
        in_hand->so_far[i] = (struct hk_so_far){.worked = &in_hand->worked[i], .count = 1, .timed = true};
    }
    h->project.progress = in_hand->rows;
    h->project.progress_count = 2;
    h->tally.progress = in_hand->so_far;
}

static void time_in_hand(struct handmade *h, const struct hk_fit *fit, const double *x, gsl_rng *rng)
{
    double making = h->project.progress_count > 0 ? a_day(h, rng) : 0;
    for (size_t i = 0; i < h->project.progress_count; i++)
        h->project.progress[i].minutes = fmax(1, floor(make_s(h, fit, x, h->tally.progress[i].worked, making, rng) / S_PER_MIN + 0.5));
}

/* The last size. */
static double garment_s(const struct handmade *h, const struct hk_fit *fit, const double *x, gsl_rng *rng)
{
    double making = a_day(h, rng), seconds = 0;
    for (size_t line = 0; line < h->project.line_count; line++) {
        const struct hk_worked *worked = &h->worked[(h->project.size_count - 1) * h->project.line_count + line];
        seconds += make_s(h, fit, x, worked, making, rng);
        seconds += (double)worked->times * worked->uses[0].ends[0] * END_S;
    }
    return seconds;
}

static struct hk_hours *predict(const struct handmade *h, struct hk_fit **fit)
{
    struct hk_diags diags = {0};
    *fit = hk_fit_time(&h->tally, &diags);
    assert_non_null(*fit);
    struct hk_hours *hours = hk_hours_predict(*fit, h->project.size_count - 1, &diags);
    assert_non_null(hours);
    hk_diags_free(&diags);
    return hours;
}

/* The parameters of `template` are those of every fit of this design: only the readings differ. */
static double share_held(struct handmade *h, const struct hk_fit *template, gsl_rng *rng)
{
    size_t held = 0;
    for (size_t maker = 0; maker < MAKERS; maker++) {
        double x[PARAMETERS_MOST];
        assert_true(template->count <= PARAMETERS_MOST);
        for (size_t i = 0; i < template->count; i++)
            x[i] = template->parameters[i].prior + gsl_ran_gaussian(rng, template->parameters[i].sd);
        time_swatches(h, template, x, rng);
        time_in_hand(h, template, x, rng);
        struct hk_fit *fit;
        struct hk_hours *hours = predict(h, &fit);
        held += garment_s(h, template, x, rng) / S_PER_HOUR <= hours->sizes[0].hours.high;
        hk_hours_free(hours);
        hk_fit_free(fit);
    }
    return (double)held / MAKERS;
}

static void assert_calibrated(struct handmade *h, const char *what)
{
    struct hk_fit *template;
    struct hk_hours *hours = predict(h, &template);
    gsl_rng *rng = hk_random_new(20261125);
    assert_non_null(rng);
    double held = share_held(h, template, rng);
    print_message("%s: a 95%% bound on the hours held for %.2f%% of %d makers (spread about %.0f%%)\n", what, 100 * held,
                  MAKERS, 100 * hours->sizes[0].spread);
    gsl_rng_free(rng);
    hk_hours_free(hours);
    hk_fit_free(template);
    assert_true(held >= HELD_LEAST);
    assert_true(held <= HELD_MOST);
}

static void hours_hold_with_nothing_timed(void **state)
{
    (void)state;
    struct handmade h;
    start_garment(&h, 1);
    assert_calibrated(&h, "nothing timed");
}

static void hours_hold_after_one_timed_swatch(void **state)
{
    (void)state;
    struct handmade h;
    start_garment(&h, 1);
    add_swatch(&h, DC, 5, 400);
    assert_calibrated(&h, "one swatch");
}

static void hours_hold_after_a_timed_swatch_of_a_few_minutes(void **state)
{
    (void)state;
    struct handmade h;
    start_garment(&h, 1);
    add_swatch(&h, DC, 5, 60);
    assert_calibrated(&h, "one small swatch");
}

static void hours_hold_after_two_timed_swatches_of_different_stitches(void **state)
{
    (void)state;
    struct handmade h;
    start_garment(&h, 1);
    add_swatch(&h, DC, 5, 400);
    add_swatch(&h, SC, 4, 500);
    assert_calibrated(&h, "two swatches");
}

static void hours_hold_in_another_size_after_two_timed_pieces(void **state)
{
    (void)state;
    struct handmade h;
    struct in_hand in_hand;
    start_garment(&h, 2);
    take_in_hand(&h, &in_hand);
    assert_calibrated(&h, "two pieces of another size");
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
