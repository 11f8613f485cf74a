/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Testers: the spread of readers that they show, the odd ones among them, and what readers of the pattern then need.
 * Makers and testers are simulated by the definitions of readers.h, here without its code: each has a departure t ~
 * N(0, reader^2 / 2) at the pattern's gauge, and a reader differs from the designer by the difference of theirs.
 */
#include "makers.h"

#include "model/chance.h"
#include "model/readers.h"

#include <gsl/gsl_math.h>
#include <gsl/gsl_randist.h>

enum { TESTERS = 30, PARAMETERS_MOST = 32 };

/* A garment of one size and a swatch of it, tested by several makers. */
struct tested {
    struct handmade h;
    struct hk_tester testers[TESTERS];
    struct hk_tester_used used[TESTERS];
    double truth[PARAMETERS_MOST], designer; /* the maker's departures; t_0 */
};

static void start(struct tested *d, size_t testers)
{
    makers_garment(&d->h, 1);
    handmade_swatch(&d->h, "square", 5, 20, 0.1, (struct handmade_use){0, DC, 400, 20, 2, 0});
    d->h.project.spreads.reader = 0.07;
    d->h.project.testers = d->testers;
    d->h.project.tester_count = testers;
    for (size_t i = 0; i < TESTERS; i++) {
        d->used[i] =
            (struct hk_tester_used){.of = {SIZE_MAX, SIZE_MAX}, .yarn = SIZE_MAX, .mass_g = 500, .scale = {1, 1}};
        d->testers[i] = (struct hk_tester){.name = "tester", .used = &d->used[i], .used_count = 1};
    }
}

static double parameter(const struct tested *d, const struct hk_fit *fit, enum hk_parameter_kind kind)
{
    return d->truth[hk_fit_find(fit, kind, 0, 0, "main")];
}

/* Grams of the label that one making takes, all pieces of one day; `swatch`: the swatch instead. */
static double take_g(const struct tested *d, const struct hk_fit *fit, bool swatch, double departure, gsl_rng *rng)
{
    const struct hk_worked *worked = swatch ? d->h.worked_swatches : d->h.worked;
    double length_m = 0, day = gsl_ran_gaussian(rng, 0.04) + departure;
    for (size_t line = 0; line < (swatch ? 1 : d->h.project.line_count); line++) {
        const struct hk_use *use = worked[line].uses;
        struct hk_ground ground = {&d->h.tally, use->combination, worked[line].tool_mm, swatch};
        double strand_m = hk_fit_length_m(fit, d->truth, ground, use->kinds, 0, NULL);
        for (int64_t copy = 0; copy < worked[line].times; copy++)
            length_m += exp(day + gsl_ran_gaussian(rng, 0.02)) * strand_m + use->ends[0] * d->h.project.tail_m;
    }
    return exp(parameter(d, fit, HK_PARAM_GRIST)) * length_m;
}

/* One designer with a swatch, and the testers, each in a dry or damp room of its own. */
static void simulate(struct tested *d, const struct hk_fit *template, double reader, gsl_rng *rng)
{
    const struct hk_yarn *yarn = &d->h.yarns[0];
    assert_true(template->count <= PARAMETERS_MOST);
    for (size_t i = 0; i < template->count; i++)
        d->truth[i] = template->parameters[i].prior + gsl_ran_gaussian(rng, template->parameters[i].sd);
    d->designer = gsl_ran_gaussian(rng, reader / M_SQRT2);
    double room = exp(parameter(d, template, HK_PARAM_BALL));
    d->h.swatches[0].mass_g = fmax(0.1 * round(10 * room * take_g(d, template, true, 0, rng)), 0.1);
    for (size_t i = 0; i < d->h.project.tester_count; i++) {
        double departure = gsl_ran_gaussian(rng, reader / M_SQRT2) - d->designer;
        double other_room = exp(yarn->ln_weighs + gsl_ran_gaussian(rng, yarn->ln_weighs_sd));
        d->used[i].mass_g = round(other_room * take_g(d, template, false, departure, rng));
    }
}

static struct hk_fit *fit_of(const struct tested *d)
{
    struct hk_diags diags = {0};
    struct hk_fit *fit = hk_fit_make(&d->h.tally, &diags);
    assert_non_null(fit);
    hk_diags_free(&diags);
    return fit;
}

/* Returns the number of odd testers; *named: whether this one is. */
static size_t odd_testers(const struct tested *d, size_t tester, bool *named)
{
    struct hk_fit *fit = fit_of(d);
    size_t odd = 0;
    *named = fit->readers.deviations[tester] > HK_ODD_TESTER;
    for (size_t i = 0; i < d->h.project.tester_count; i++)
        odd += fit->readers.deviations[i] > HK_ODD_TESTER;
    hk_fit_free(fit);
    return odd;
}

/* The spread is itself drawn from its prior, so that its range of 90% has to hold it in 90% of the patterns. */
static void the_spread_of_readers_is_recovered_within_its_uncertainty(void **state)
{
    (void)state;
    enum { PATTERNS = 1000 };
    struct tested d = {0};
    gsl_rng *rng = hk_random_new(1851);
    for (size_t testers = 3; testers <= 24; testers *= 2) {
        size_t held = 0;
        double width = 0;
        start(&d, testers);
        struct hk_fit *template = fit_of(&d);
        for (size_t i = 0; i < PATTERNS; i++) {
            double reader = 0.07 * exp(gsl_ran_gaussian(rng, 0.5));
            simulate(&d, template, reader, rng);
            struct hk_fit *fit = fit_of(&d);
            held += fit->readers.low <= reader && reader <= fit->readers.high;
            width += log(fit->readers.high / fit->readers.low) / PATTERNS;
            hk_fit_free(fit);
        }
        print_message("%zu testers: the range held the spread in %.1f%% of %d patterns (to %.2f times either way)\n",
                      testers, 100.0 * (double)held / PATTERNS, PATTERNS, exp(width / 2));
        assert_in_range(held, PATTERNS * 86 / 100, PATTERNS * 94 / 100); /* three standard errors of 1.2 points */
        hk_fit_free(template);
    }
    gsl_rng_free(rng);
}

static void many_testers_give_their_spread_whatever_was_assumed(void **state)
{
    (void)state;
    static const double spreads[] = {0.05, 0.07, 0.12};
    struct tested d = {0};
    gsl_rng *rng = hk_random_new(1859);
    start(&d, TESTERS);
    struct hk_fit *template = fit_of(&d);
    for (size_t s = 0; s < sizeof spreads / sizeof spreads[0]; s++) {
        double mean = 0;
        for (size_t i = 0; i < 100; i++) {
            simulate(&d, template, spreads[s], rng);
            struct hk_fit *fit = fit_of(&d);
            mean += fit->readers.spread / 100;
            hk_fit_free(fit);
        }
        print_message("%d testers who differ by %.2f: %.4f on average\n", TESTERS, spreads[s], mean);
        assert_close(mean, spreads[s], 0, 0.14 * spreads[s]); /* the prior pulls towards 0.07 */
    }
    hk_fit_free(template);
    gsl_rng_free(rng);
}

/* One of eight is off by four standard deviations of a single result: reader / sqrt(2), making, pieces, room. */
static void an_odd_tester_is_named_and_others_are_not(void **state)
{
    (void)state;
    enum { PATTERNS = 400, EIGHT = 8 };
    const double off = 4 * sqrt(gsl_pow_2(0.07) / 2 + gsl_pow_2(0.04) + gsl_pow_2(0.015) + gsl_pow_2(0.02));
    struct tested d = {0};
    gsl_rng *rng = hk_random_new(1866);
    start(&d, EIGHT);
    struct hk_fit *template = fit_of(&d);
    size_t found = 0, doubled = 0, false_alarms = 0;
    for (size_t i = 0; i < PATTERNS; i++) {
        bool named;
        simulate(&d, template, 0.07, rng);
        false_alarms += odd_testers(&d, 3, &named);
        double honest_g = d.used[3].mass_g;
        d.used[3].mass_g = honest_g * exp(i % 2 ? off : -off);
        odd_testers(&d, 3, &named);
        found += named;
        d.used[3].mass_g = 2 * honest_g; /* of both yarns, or two of them */
        odd_testers(&d, 3, &named);
        doubled += named;
    }
    print_message("off by four: found in %.1f%%; doubled: in %.1f%%; false alarms: %.2f%% of testers\n",
                  100.0 * (double)found / PATTERNS, 100.0 * (double)doubled / PATTERNS,
                  100.0 * (double)false_alarms / PATTERNS / EIGHT);
    assert_true(100 * found >= 75 * PATTERNS);
    assert_true(doubled == PATTERNS);
    assert_true(100 * false_alarms < PATTERNS * EIGHT);
    hk_fit_free(template);
    gsl_rng_free(rng);
}

/* A bound of 95% for a reader, by what the testers of this pattern used, holds for other readers of it. */
static void what_is_enough_for_a_reader_is(void **state)
{
    (void)state;
    enum { PATTERNS = 2000 };
    static const double spreads[] = {0.05, 0.07, 0.1};
    struct tested d = {0};
    gsl_rng *rng = hk_random_new(1871);
    start(&d, 6);
    struct hk_fit *template = fit_of(&d);
    for (size_t s = 0; s < sizeof spreads / sizeof spreads[0]; s++) {
        size_t held = 0;
        for (size_t i = 0; i < PATTERNS; i++) {
            simulate(&d, template, spreads[s], rng);
            struct handmade_answer answer = handmade_predict(&d.h, hk_need_defaults());
            const struct hk_needed *needed = (const struct hk_needed *)answer.need;
            const struct hk_need_role *role = &answer.need->roles[0];
            double variance = gsl_pow_2(role->spread_mass) + 2 * hk_readers_covariance(answer.fit, needed->gradients) +
                              hk_readers_variance(answer.fit);
            double enough_g = role->mass_g.likely * hk_readers_ratio(answer.fit) * exp(1.6449 * sqrt(variance));
            double departure = gsl_ran_gaussian(rng, spreads[s] / M_SQRT2) - d.designer;
            held += take_g(&d, template, false, departure, rng) <= enough_g;
            hk_need_free(answer.need);
            hk_fit_free(answer.fit);
        }
        print_message("readers who differ by %.2f: a 95%% bound by six testers held for %.1f%%\n", spreads[s],
                      100.0 * (double)held / PATTERNS);
        assert_true(100 * held >= (spreads[s] > 0.07 ? 91 : 93) * PATTERNS);
        assert_true(1000 * held <= 985 * PATTERNS);
    }
    hk_fit_free(template);
    gsl_rng_free(rng);
}

/*
 * Stitches at 16 x 12 in place of 18 x 13.5 are 1.125 times as wide and as high: the square root of the ratio of their
 * areas. By Munden's constants (readers.h) the length in one is as many times as long.
 */
static void a_tester_at_another_gauge_is_compared_at_that_gauge(void **state)
{
    (void)state;
    struct tested d = {0};
    start(&d, 1);
    d.h.swatches[0].gauge_stitches = 18;
    d.h.swatches[0].gauge_rows = 13.5;
    d.testers[0].gauge_stitches = 16;
    d.testers[0].gauge_rows = 12;
    struct hk_fit *fit = fit_of(&d);
    const struct hk_datum *datum = &fit->data[fit->evidence + fit->readers.odd - 1];
    assert_int_equal(datum->kind, HK_DATUM_TESTER);
    assert_close(datum->ln_gauge, log(1.125), 0, 1e-12);
    hk_fit_free(fit);
}

/* The derivatives of a tester's datum against finite differences. */
static void the_gradient_of_a_tester_is_right(void **state)
{
    (void)state;
    struct tested d = {0};
    double x[PARAMETERS_MOST], gradient[PARAMETERS_MOST] = {0}, step = 1e-6;
    start(&d, 2);
    d.used[1].mass_g = 480;
    struct hk_fit *fit = fit_of(&d);
    const struct hk_datum *datum = &fit->data[1];
    assert_int_equal(datum->kind, HK_DATUM_TESTER);
    for (size_t i = 0; i < fit->count; i++)
        x[i] = fit->parameters[i].value + 0.01 * (double)(i % 3);
    hk_fit_ln_off(fit, x, datum, 1, gradient);
    for (size_t i = 0; i < fit->count; i++) {
        double at = x[i];
        x[i] = at + step;
        double above = hk_fit_ln_off(fit, x, datum, 0, NULL);
        x[i] = at - step;
        double below = hk_fit_ln_off(fit, x, datum, 0, NULL);
        x[i] = at;
        assert_close(gradient[i], (above - below) / (2 * step), 0, 1e-7);
    }
    hk_fit_free(fit);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_spread_of_readers_is_recovered_within_its_uncertainty),
        cmocka_unit_test(many_testers_give_their_spread_whatever_was_assumed),
        cmocka_unit_test(an_odd_tester_is_named_and_others_are_not),
        cmocka_unit_test(what_is_enough_for_a_reader_is),
        cmocka_unit_test(a_tester_at_another_gauge_is_compared_at_that_gauge),
        cmocka_unit_test(the_gradient_of_a_tester_is_right),
    };
    return cmocka_run_group_tests_name("readers", tests, NULL, NULL);
}
