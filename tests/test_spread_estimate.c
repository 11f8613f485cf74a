/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The estimate of a spread by itself, and the spreads that finished work of simulated makers shows (makers.h): 4
 * projects with 3 sizes each, two pieces of every size weighed, all makings of one maker.
 */
#include "makers.h"

#include "model/chance.h"
#include "model/spread_estimate.h"

#include <gsl/gsl_math.h>
#include <gsl/gsl_randist.h>
#include <stdlib.h>

/* ---- By itself --------------------------------------------------------------------------------------------------- */

/*
 * Without other variance the mean of y^2 over many readings is the spread's square, and a reading's forecast by the
 * others is 0 give or take the spread.
 */
static void many_readings_give_their_mean_square(void **state)
{
    (void)state;
    enum { COUNT = 200 };
    static double off[COUNT], rest[COUNT * COUNT], weight[COUNT], deviations[COUNT];
    struct hk_spread_reading forecasts[COUNT];
    struct hk_spread_estimate estimate;
    struct hk_arena scratch = {0};
    for (size_t i = 0; i < COUNT; i++) {
        off[i] = i % 2 ? 0.05 : -0.05;
        weight[i] = 1;
        rest[i * COUNT + i] = 1e-9;
    }
    struct hk_spread_task task = {COUNT, off, rest, weight, 0, 0.07};
    assert_true(hk_spread_estimate(&task, &estimate, deviations, &scratch));
    assert_close(estimate.spread, 0.05, 0, 0.001);
    /* ln s has the standard deviation 1 / sqrt(2 n): JCGM 100:2008 E.4.3 */
    assert_close(log(estimate.high / estimate.low), 2 * 1.645 / sqrt(2 * COUNT), 0.08, 0);
    assert_close(deviations[0], 1, 0.02, 0);
    assert_true(hk_spread_forecasts(&task, 0.05, forecasts, &scratch));
    assert_close(forecasts[1].off, 0.05, 1e-9, 0);
    assert_close(forecasts[1].spread, 0.05, 1e-6, 0);
    hk_arena_free(&scratch);
}

/* Two readings that share everything but r: the second is forecast by the first. x | y ~ N(y c / (c + r), ...), by
 * hand. */
static void a_shared_part_is_forecast_by_the_other_reading(void **state)
{
    (void)state;
    const double off[] = {0.1, 0.04}, rest[] = {0.01, 0, 0, 0.01}, weight[] = {1, 1};
    struct hk_spread_reading forecasts[2];
    struct hk_arena scratch = {0};
    struct hk_spread_task task = {2, off, rest, weight, 1, 0.1};
    assert_true(hk_spread_forecasts(&task, 0.1, forecasts, &scratch));
    assert_close(forecasts[1].off, 0.04 - 0.1 / 2, 0, 1e-12);
    assert_close(forecasts[1].spread, sqrt(0.02 - 0.01 * 0.01 / 0.02), 1e-12, 0);
    assert_close(forecasts[0].off, 0.1 - 0.04 / 2, 0, 1e-12);
    hk_arena_free(&scratch);
}

/* Without readings there is no evidence: the estimate is the prior, whose mean square is exp(2 * 0.5^2) of its
 * median's. */
static void without_evidence_the_estimate_is_the_prior(void **state)
{
    (void)state;
    const double off = 0, rest = 1, weight = 1e-6;
    struct hk_spread_estimate estimate;
    struct hk_arena scratch = {0};
    struct hk_spread_task task = {1, &off, &rest, &weight, 0, 0.04};
    assert_true(hk_spread_estimate(&task, &estimate, NULL, &scratch));
    assert_close(estimate.spread, 0.04 * exp(0.25), 0.01, 0);
    assert_close(estimate.low, 0.04 * exp(-1.645 * 0.5), 0.02, 0);
    assert_close(estimate.high, 0.04 * exp(1.645 * 0.5), 0.02, 0);
    hk_arena_free(&scratch);
}

static void a_singular_matrix_is_refused(void **state)
{
    (void)state;
    const double off[] = {0.1, 0.1}, rest[] = {0, 0, 0, 0}, weight[] = {1, 1};
    struct hk_spread_estimate estimate = {1, 1, 1, 1};
    struct hk_arena scratch = {0};
    struct hk_spread_task task = {2, off, rest, weight, 1, 0.1};
    assert_false(hk_spread_estimate(&task, &estimate, NULL, &scratch));
    assert_false(scratch.out_of_memory);
    hk_arena_free(&scratch);
}

/* ---- Finished work of simulated makers ----------------------------------------------------------------------- */

enum { PROJECTS = 4, PIECES = 2, ROWS = PIECES * HANDMADE_SIZES, TRUTHS = 64 };

struct finished {
    struct handmade of[PROJECTS]; /* the first learns from the others */
    struct hk_project *learned[PROJECTS];
    struct hk_tally *tallies[PROJECTS];
    struct hk_progress rows[PROJECTS][ROWS];
    struct hk_progress_work done[PROJECTS][ROWS];
    struct hk_worked worked[PROJECTS][ROWS];
};

static void start(struct finished *f, size_t projects)
{
    for (size_t p = 0; p < projects; p++) {
        struct handmade *h = &f->of[p];
        makers_garment(h, HANDMADE_SIZES);
        h->project.catalogue = &f->of[0].catalogue;
        h->project.progress = f->rows[p];
        h->project.progress_count = ROWS;
        h->tally.progress = f->done[p];
        for (size_t i = 0; i < ROWS; i++) {
            size_t size = i / PIECES;
            f->worked[p][i] = h->worked[size * h->project.line_count + i % PIECES];
            f->worked[p][i].times = 1;
            f->rows[p][i] = (struct hk_progress){
                .size = size, .title = "piece", .of = {SIZE_MAX, SIZE_MAX}, .mass_g = 100, .scale = {1, 1}};
            f->done[p][i] = (struct hk_progress_work){.worked = &f->worked[p][i], .count = 1, .weighed = true};
        }
        if (p > 0) {
            f->learned[p - 1] = &h->project;
            f->tallies[p - 1] = &h->tally;
        }
    }
    f->of[0].project.learned = f->learned;
    f->of[0].project.learned_count = projects - 1;
    f->of[0].tally.learned = f->tallies;
}

static struct hk_fit *fit_of(struct finished *f)
{
    struct hk_diags diags = {0};
    struct hk_fit *fit = hk_fit_make(&f->of[0].tally, &diags);
    assert_non_null(fit);
    hk_diags_free(&diags);
    return fit;
}

/* One maker of the priors, whose makings and pieces differ by these spreads. */
static void simulate(struct finished *f, const struct hk_fit *template, double making, double piece, gsl_rng *rng)
{
    double x[TRUTHS] = {0};
    assert_true(template->count <= TRUTHS);
    for (size_t i = 0; i < template->count; i++)
        x[i] = template->parameters[i].prior + gsl_ran_gaussian(rng, template->parameters[i].sd);
    double g_m = exp(x[hk_fit_find(template, HK_PARAM_GRIST, 0, 0, "main")] +
                     x[hk_fit_find(template, HK_PARAM_BALL, 0, 0, "main")]);
    for (size_t p = 0; p < template->folder_count; p++) {
        struct handmade *h = &f->of[p];
        double day = 0;
        for (size_t i = 0; i < ROWS; i++) {
            const struct hk_use *use = f->worked[p][i].uses;
            struct hk_ground ground = {&h->tally, use->combination, f->worked[p][i].tool_mm, false};
            day = i % PIECES ? day : gsl_ran_gaussian(rng, making);
            double worked_m =
                exp(day + gsl_ran_gaussian(rng, piece)) * hk_fit_length_m(template, x, ground, use->kinds, 0, NULL);
            f->rows[p][i].mass_g = round(g_m * (worked_m + use->ends[0] * h->project.tail_m));
        }
    }
}

/* What many makers come to: shares of them, and means. */
struct outcome {
    double makings, within, covered, deviations, making_proposed, piece_proposed, held;
};

static struct outcome outcome_of(size_t projects, double making, double piece, size_t makers)
{
    struct finished *f = calloc(1, sizeof *f);
    gsl_rng *rng = hk_random_new(1888);
    struct outcome sum = {0};
    assert_non_null(f);
    start(f, projects);
    struct hk_fit *template = fit_of(f);
    for (size_t m = 0; m < makers; m++) {
        struct hk_diags diags = {0};
        simulate(f, template, making, piece, rng);
        struct hk_fit *fit = fit_of(f);
        struct hk_calibration *calibration = hk_calibration_make(fit, 0.95, &diags);
        assert_non_null(calibration);
        assert_int_equal(hk_diags_count(&diags), 0);
        sum.makings = (double)calibration->making_count;
        sum.within += (double)calibration->within / sum.makings / (double)makers;
        sum.covered += (double)calibration->covered / sum.makings / (double)makers;
        for (size_t i = 0; i < calibration->making_count; i++)
            sum.deviations += gsl_pow_2(calibration->makings[i].deviations) / sum.makings / (double)makers;
        sum.making_proposed += calibration->spreads[0].proposal > 0 ? 1 / (double)makers : 0;
        sum.piece_proposed += calibration->spreads[1].proposal > 0 ? 1 / (double)makers : 0;
        sum.held +=
            calibration->spreads[0].low <= making && making <= calibration->spreads[0].high ? 1 / (double)makers : 0;
        hk_calibration_free(calibration);
        hk_fit_free(fit);
        hk_diags_free(&diags);
    }
    print_message(
        "%.0f makings, making %.2f, piece %.2f: within the range %.1f%%, covered %.1f%%, mean square of deviations "
        "%.2f; proposed: making %.1f%%, piece %.1f%%; the range of making held it in %.1f%%\n",
        sum.makings, making, piece, 100 * sum.within, 100 * sum.covered, sum.deviations, 100 * sum.making_proposed,
        100 * sum.piece_proposed, 100 * sum.held);
    hk_fit_free(template);
    gsl_rng_free(rng);
    free(f);
    return sum;
}

/* Makers of the priors are forecast as well as the model says, and their spreads fit. */
static void makers_of_the_priors_fit_their_forecasts(void **state)
{
    (void)state;
    struct outcome twelve = outcome_of(4, 0.04, 0.02, 300);
    assert_true(twelve.makings == 12);
    assert_close(twelve.within, 0.9, 0, 0.025);
    assert_close(twelve.covered, 0.95, 0, 0.02);
    assert_close(twelve.deviations, 1, 0, 0.12);
    assert_true(twelve.making_proposed <= 0.04);
    assert_true(twelve.piece_proposed <= 0.04);
}

static void a_maker_whose_days_differ_more_is_shown_a_wider_spread(void **state)
{
    (void)state;
    struct outcome wide = outcome_of(4, 0.12, 0.02, 100);
    assert_true(wide.deviations > 3);
    assert_true(wide.making_proposed >= 0.95);
    assert_true(wide.held >= 0.8);
    assert_true(outcome_of(4, 0.04, 0.07, 100).piece_proposed >= 0.95);
}

/* With fewer than eight makings nothing is proposed, however far off the maker is. */
static void little_evidence_proposes_nothing(void **state)
{
    (void)state;
    struct outcome three = outcome_of(1, 0.3, 0.2, 50), six = outcome_of(2, 0.3, 0.2, 50);
    assert_true(three.making_proposed == 0 && three.piece_proposed == 0);
    assert_true(six.making_proposed == 0 && six.piece_proposed == 0);
}

int main(void)
{
    hk_gsl_errors_off();
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(many_readings_give_their_mean_square),
        cmocka_unit_test(a_shared_part_is_forecast_by_the_other_reading),
        cmocka_unit_test(without_evidence_the_estimate_is_the_prior),
        cmocka_unit_test(a_singular_matrix_is_refused),
        cmocka_unit_test(makers_of_the_priors_fit_their_forecasts),
        cmocka_unit_test(a_maker_whose_days_differ_more_is_shown_a_wider_spread),
        cmocka_unit_test(little_evidence_proposes_nothing),
    };
    return cmocka_run_group_tests_name("spread_estimate", tests, NULL, NULL);
}
