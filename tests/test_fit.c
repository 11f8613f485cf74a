/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Comparison with tests/reference/fit.py, which shares no code with the library, on random projects of stated counts;
 * and small folders whose answer can be calculated on paper.
 */
#include "folder.h"
#include "handmade.h"

#include "model/outlier.h"
#include "model/parameters.h"

#include <gsl/gsl_math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- Random projects of tests/reference -------------------------------------------------------------------------- */

#define PROJECTS 32
#define AGREES 1e-7

enum { STITCHES = 10, FEW = 8, USES = 64, KINDS = 4, STRANDS = 2 };

/* A project as stated in fit.projects.csv. */
struct stated {
    struct hk_stitch stitches[STITCHES];
    struct hk_catalogue catalogue;
    struct hk_yarn yarns[FEW];
    char names[FEW][16];
    struct hk_combination combinations[FEW];
    struct hk_strand strands[FEW][STRANDS];
    struct hk_swatch swatches[FEW];
    struct hk_line lines[FEW];
    struct hk_worked worked_swatches[FEW], worked_lines[FEW];
    struct hk_use uses[USES];
    size_t use_count;
    struct hk_kind kinds[USES][KINDS];
    double ends[USES][STRANDS];
    struct hk_progress progress[FEW];
    struct hk_progress_work done[FEW];
    struct hk_worked worked_already[FEW][2];
    struct hk_fabric fabric;
    struct hk_project project;
    struct hk_tally tally;
};

static struct hk_spreads spreads_of_the_design(void)
{
    return (struct hk_spreads){.wrap_ratio = 2.0 / 3, .wrap = 0.2, .tension = 0.15, .stitch = 0.12, .tool = 0.05,
                               .yarn = 0.06, .grist = 0.02, .making = 0.04, .piece = 0.02, .garment = 0.03, .moisture = 0.15,
                               .unstated = 0.015, .unstated_spread = 0.02, .ball = 0.015, .unravelled = 0.02,
                               .diameter_mm = 0.108};
}

static void stated_start(struct stated *s, double tail_m)
{
    s->catalogue = (struct hk_catalogue){.stitches = s->stitches, .stitch_count = STITCHES};
    s->project = (struct hk_project){
        .catalogue = &s->catalogue, .size_count = 1, .tail_m = tail_m, .spreads = spreads_of_the_design(), .yarns = s->yarns,
        .combinations = s->combinations, .swatches = s->swatches, .lines = s->lines,
        .progress = s->progress};
    s->tally = (struct hk_tally){
        .project = &s->project, .lines = s->worked_lines, .swatches = s->worked_swatches, .progress = s->done};
}

static void stated_strand(struct stated *s, size_t yarn, int64_t times)
{
    struct hk_combination *c = &s->combinations[s->project.combination_count - 1];
    c->strands = s->strands[s->project.combination_count - 1];
    c->strands[c->strand_count++] = (struct hk_strand){SIZE_MAX, yarn, times};
    c->diameter_mm = hypot(c->diameter_mm, sqrt((double)times) * s->yarns[yarn].diameter_mm);
}

static void stated_use(struct stated *s, struct hk_worked *worked, size_t combination, double cut_m, const double *ends)
{
    size_t i = s->use_count++;
    assert_true(s->use_count < USES);
    if (worked->use_count++ == 0)
        worked->uses = &s->uses[i];
    s->uses[i] = (struct hk_use){.combination = combination, .kinds = {s->kinds[i], 0}, .ends = s->ends[i], .cut_m = cut_m};
    memcpy(s->ends[i], ends, sizeof s->ends[i]);
}

static void stated_kind(struct stated *s, size_t stitch, double count)
{
    struct hk_kinds *kinds = &s->uses[s->use_count - 1].kinds;
    assert_true(kinds->count < KINDS);
    kinds->kinds[kinds->count++] = (struct hk_kind){stitch, count};
}

/* Adds one record to the last project; `worked` is the last swatch or line. */
static void stated_record(struct stated *s, const char *text, struct hk_worked **worked)
{
    double v[9] = {0};
    char *name = s->names[s->project.yarn_count];
    if (sscanf(text, "yarn,%15[^,],%lf,%lf,%lf,%lf,%lf,%lf,%lf,%lf,%lf", name, &v[0], &v[1], &v[2], &v[3], &v[4], &v[5], &v[6],
               &v[7], &v[8]) == 10) {
        s->yarns[s->project.yarn_count++] = (struct hk_yarn){
            .name = name, .put_up_g = v[0], .length_m = v[1], .tex = 1000 * v[0] / v[1], .diameter_mm = v[2], .fibre = "",
            .ln_weighs = v[3], .ln_weighs_sd = v[4], .ball_count = (int64_t)v[5], .ball_g = v[6], .ball_scale = {v[7], v[8]}};
    } else if (strncmp(text, "combination", 11) == 0) {
        s->combinations[s->project.combination_count++] = (struct hk_combination){0};
    } else if (sscanf(text, "strand,%lf,%lf", &v[0], &v[1]) == 2) {
        stated_strand(s, (size_t)v[0], (int64_t)v[1]);
    } else if (sscanf(text, "swatch,%lf,%lf,%lf,%lf,%lf,%lf", &v[0], &v[1], &v[2], &v[3], &v[4], &v[5]) == 6) {
        s->swatches[s->project.swatch_count] = (struct hk_swatch){.name = "square", .tool_mm = v[0], .mass_g = v[1],
                                                                 .scale = {v[2], v[3]}, .unravelled_m = v[4],
                                                                 .tape_step_m = v[5]};
        *worked = &s->worked_swatches[s->project.swatch_count++];
        **worked = (struct hk_worked){.tool_mm = v[0], .times = 1};
    } else if (sscanf(text, "line,%lf", &v[0]) == 1) {
        s->lines[s->project.line_count] = (struct hk_line){.tool_mm = v[0], .fabric = &s->fabric};
        *worked = &s->worked_lines[s->project.line_count++];
        **worked = (struct hk_worked){.tool_mm = v[0], .times = 1};
    } else if (sscanf(text, "weighing,%lf,%lf,%lf,%lf,%lf,%lf", &v[0], &v[1], &v[2], &v[3], &v[4], &v[5]) == 6) {
        size_t i = s->project.progress_count++;
        bool left = v[3] > 0;
        s->progress[i] = (struct hk_progress){.title = "so far", .size = (size_t)v[0], .mass_g = left ? v[3] - v[2] : v[2],
                                              .hand_g = v[3], .left_g = left ? v[2] : 0, .scale = {v[4], v[5]},
                                              .of = {SIZE_MAX, v[1] < 0 ? SIZE_MAX : (size_t)v[1]}};
        s->done[i] = (struct hk_progress_work){.worked = s->worked_already[i], .weighed = true};
    } else if (sscanf(text, "part,%lf,%lf", &v[0], &v[1]) == 2) {
        struct hk_progress_work *done = &s->done[s->project.progress_count - 1];
        *worked = &done->worked[done->count++];
        **worked = (struct hk_worked){.tool_mm = v[0], .times = (int64_t)v[1]};
    } else if (sscanf(text, "use,%lf,%lf,%lf,%lf", &v[0], &v[1], &v[2], &v[3]) >= 3) {
        stated_use(s, *worked, (size_t)v[0], v[1], &v[2]);
    } else {
        assert_int_equal(sscanf(text, "kind,%lf,%lf", &v[0], &v[1]), 2);
        stated_kind(s, (size_t)v[0], v[1]);
    }
}

static FILE *reference(const char *name)
{
    char path[4096];
    snprintf(path, sizeof path, "%s/%s", REFERENCE_DIR, name);
    FILE *in = fopen(path, "r");
    if (!in)
        fail_msg("cannot open %s", path);
    return in;
}

/* Owner: the caller (free). */
static struct stated *read_stated(void)
{
    struct stated *all = calloc(PROJECTS, sizeof *all);
    assert_non_null(all);
    FILE *in = reference("fit.projects.csv");
    char text[256];
    size_t count = 0, stitch_count = 0;
    struct hk_worked *worked = NULL;
    while (fgets(text, sizeof text, in)) {
        double tail_m = 0, loops = 0, wraps = 0;
        int family = 0;
        if (text[0] == '#')
            continue;
        if (sscanf(text, "stitch,%d,%lf,%lf", &family, &loops, &wraps) == 3) {
            all[0].stitches[stitch_count++] = (struct hk_stitch){
                .us = "st", .name = "stitch", .family = (enum hk_family)family, .loops = loops, .wraps = wraps};
        } else if (sscanf(text, "project,%lf", &tail_m) == 1) {
            assert_true(count < PROJECTS);
            memcpy(all[count].stitches, all[0].stitches, sizeof all[0].stitches);
            stated_start(&all[count++], tail_m);
        } else {
            stated_record(&all[count - 1], text, &worked);
        }
    }
    fclose(in);
    assert_int_equal(count, PROJECTS);
    return all;
}

/* Ignores warnings and notes: the makers vary twice as much as the priors. */
static struct hk_fit *fit_stated(const struct stated *s)
{
    struct hk_diags diags = {0};
    struct hk_fit *fit = hk_fit_make(&s->tally, &diags);
    if (!fit)
        fail_msg("%s", findings_text(&diags));
    hk_diags_free(&diags);
    return fit;
}

static size_t find_by_words(const struct hk_fit *fit, const char *kind, const char *key)
{
    double value = 0;
    sscanf(key, "%lf", &value);
    if (strcmp(kind, "wrap") == 0)
        return hk_fit_find(fit, HK_PARAM_WRAP, 0, 0, NULL);
    if (strcmp(kind, "making") == 0)
        return hk_fit_find(fit, HK_PARAM_MAKING, (size_t)value, 0, NULL);
    if (strcmp(kind, "garment") == 0)
        return hk_fit_find(fit, HK_PARAM_GARMENT, (size_t)value, 0, NULL);
    if (strcmp(kind, "ball") == 0)
        return hk_fit_find(fit, HK_PARAM_BALL, 0, 0, key);
    if (strcmp(kind, "scale") == 0) {
        struct hk_parameter like = {.kind = HK_PARAM_SCALE};
        assert_int_equal(sscanf(key, "%lf:%lf", &like.scale.step_g, &like.scale.accuracy_g), 2);
        return hk_fit_find_like(fit, &like);
    }
    if (strcmp(kind, "tension") == 0)
        return hk_fit_find(fit, HK_PARAM_TENSION, (size_t)value, 0, NULL);
    if (strcmp(kind, "stitch") == 0)
        return hk_fit_find(fit, HK_PARAM_STITCH, (size_t)value, 0, NULL);
    if (strcmp(kind, "tool") == 0)
        return hk_fit_find(fit, HK_PARAM_TOOL, 0, value, NULL);
    return hk_fit_find(fit, strcmp(kind, "blend") == 0 ? HK_PARAM_BLEND : HK_PARAM_GRIST, 0, 0, key);
}

/* Compares the values of one project in fit.results.csv, from its "project" line to the next. */
static void assert_as_solved_elsewhere(const struct hk_fit *fit, FILE *results)
{
    char text[256], kind[16], key[64];
    size_t ours[64], count = 0, covariances = 0, residuals = 0, i = 0, k = 0;
    double value = 0;
    long back = ftell(results);
    while (fgets(text, sizeof text, results) && strncmp(text, "project", 7) != 0) {
        back = ftell(results);
        if (sscanf(text, "parameter,%15[^,],%63[^,],%lf", kind, key, &value) == 3) {
            ours[count] = find_by_words(fit, kind, key);
            if (ours[count] == SIZE_MAX)
                fail_msg("no parameter %s %s", kind, key);
            assert_close(fit->parameters[ours[count++]].value, value, AGREES, AGREES);
        } else if (sscanf(text, "covariance,%zu,%zu,%lf", &i, &k, &value) == 3) {
            assert_close(fit->covariance[ours[i] * fit->count + ours[k]], value, AGREES, AGREES * 1e-2);
            assert_close(fit->covariance[ours[k] * fit->count + ours[i]], value, AGREES, AGREES * 1e-2);
            covariances++;
        } else if (sscanf(text, "residual,%zu,%lf", &i, &value) == 2) {
            assert_close(fit->data[i].residual, value, AGREES, AGREES);
            residuals++;
        }
    }
    fseek(results, back, SEEK_SET);
    assert_int_equal(count, fit->count);
    assert_int_equal(residuals, fit->evidence);
    assert_true(covariances >= count);
}

/* The reference leaves nothing out: projects of which the fit does are not compared. */
static void optimum_and_covariance_are_those_of_the_reference(void **state)
{
    (void)state;
    size_t compared = 0;
    struct stated *all = read_stated();
    FILE *results = reference("fit.results.csv");
    char text[256];
    for (size_t n = 0; n < PROJECTS; n++) {
        size_t number = SIZE_MAX;
        while (number == SIZE_MAX && fgets(text, sizeof text, results))
            sscanf(text, "project,%zu", &number);
        assert_int_equal(number, n);
        struct hk_fit *fit = fit_stated(&all[n]);
        if (fit->odd_count == 0) {
            assert_as_solved_elsewhere(fit, results);
            compared++;
        }
        hk_fit_free(fit);
    }
    print_message("%zu of %d projects compared\n", compared, PROJECTS);
    assert_true(compared > PROJECTS * 3 / 4);
    fclose(results);
    free(all);
}

/* A point away from the optimum: x plus a sixth of each spread, alternately up and down. */
static void away(const struct hk_fit *fit, double *x)
{
    for (size_t i = 0; i < fit->count; i++)
        x[i] = fit->parameters[i].value + (i % 2 ? -1 : 1) * (0.1 + 0.02 * (double)i) * fit->parameters[i].sd;
}

/*
 * Central differences: truncation error h^2 / 6 of the third derivative, about 1e-11 for sums of exponentials; rounding
 * error about 5e-16 / h for a logarithm of a few units, 1e-10.
 */
static void assert_derivative(const struct hk_fit *fit, const struct hk_datum *datum, double *x)
{
    double gradient[64] = {0};
    const double h = 1e-5;
    hk_fit_ln_off(fit, x, datum, 1, gradient);
    for (size_t i = 0; i < fit->count; i++) {
        double here = x[i];
        x[i] = here + h;
        double above = hk_fit_ln_off(fit, x, datum, 0, NULL);
        x[i] = here - h;
        double below = hk_fit_ln_off(fit, x, datum, 0, NULL);
        x[i] = here;
        assert_close(gradient[i], (above - below) / (2 * h), 1e-8, 1e-9);
    }
}

static void derivatives_are_those_of_finite_differences(void **state)
{
    (void)state;
    struct stated *all = read_stated();
    size_t seen[HK_DATUM_BALL + 1] = {0};
    for (size_t n = 0; n < PROJECTS; n++) {
        struct hk_fit *fit = fit_stated(&all[n]);
        double x[64];
        assert_true(fit->count <= 64);
        away(fit, x);
        for (size_t i = 0; i < fit->evidence; i++) {
            assert_derivative(fit, &fit->data[i], x);
            seen[fit->data[i].kind]++;
        }
        hk_fit_free(fit);
    }
    assert_true(seen[HK_DATUM_WEIGHED] > 10 && seen[HK_DATUM_UNRAVELLED] > 10 && seen[HK_DATUM_GRIST] > 10 && seen[HK_DATUM_BALL] > 10);
    free(all);
}

/* ---- Folders ----------------------------------------------------------------------------------------------------- */

struct fitted {
    struct hk_project *project;
    struct hk_tally *tally;
    struct hk_fit *fit; /* NULL if it failed */
    struct hk_diags diags;
};

static struct fitted fit_project(struct hk_project *project)
{
    struct fitted f = {.project = project};
    f.tally = hk_tally_count(f.project, &f.diags);
    assert_non_null(f.tally);
    assert_int_equal(f.diags.count, 0);
    f.fit = hk_fit_make(f.tally, &f.diags);
    return f;
}

static struct fitted fit_folder(const struct hk_catalogue *catalogue, struct folder folder)
{
    return fit_project(folder_good(catalogue, folder));
}

static void fitted_free(struct fitted *f)
{
    hk_fit_free(f->fit);
    hk_tally_free(f->tally);
    hk_project_free(f->project);
    hk_diags_free(&f->diags);
}

static void assert_fitted(struct fitted *f, const char *expected)
{
    assert_findings(&f->diags, expected);
    fitted_free(f);
}

static const struct hk_parameter *parameter(const struct hk_fit *fit, enum hk_parameter_kind kind, double tool_mm,
                                            const char *name)
{
    size_t i = hk_fit_find(fit, kind, 0, tool_mm, name);
    if (i == SIZE_MAX)
        fail_msg("no such parameter");
    return &fit->parameters[i];
}

/*
 * Returns the variance of ln f of a datum at the optimum, without the offset of its scale, and, if requested, the
 * change from the priors.
 */
static double variance_of(const struct hk_fit *fit, const struct hk_datum *datum, double *moved)
{
    double gradient[64] = {0}, variance = 0;
    assert_true(fit->count <= 64);
    hk_fit_ln_off(fit, NULL, datum, 1, gradient);
    gradient[datum->scale] = 0;
    for (size_t i = 0; i < fit->count; i++) {
        if (moved)
            *moved += gradient[i] * (fit->parameters[i].value - fit->parameters[i].prior);
        for (size_t k = 0; k < fit->count; k++)
            variance += gradient[i] * gradient[k] * fit->covariance[i * fit->count + k];
    }
    return variance;
}

#define PLAIN "swatch,yarn,tool,fabric,stitches,rows,start,weight,scale_step,unravelled,ends\n"

/*
 * One swatch of one stitch, garter on an edge without ends: ln f = ln(label) + u, where u = a + r + q + v + (ln g - its
 * prior) + H has the prior N(-0.015, P) with P = 0.15^2 + 0.12^2 + 0.05^2 + 0.06^2 + 0.02^2 + 0.02^2 = 0.0438, the last
 * for a fibre that is not stated. f is an exponential of u, so linearising is exact: with D = ln(reading / label) and
 * s^2 of the datum, u + Z / reading is read, and u lies -0.015 + (D + 0.015) P / (P + s^2 + z^2), the mean weighted by
 * precision, its variance 1 / (1/P + 1/(s^2 + z^2)). By hand: 900 knit stitches of pi * (4 + 0.108 sqrt(1000 * 50/120))
 * mm at 50/120 g/m; weighed 10 g on a 1 g scale, s^2 = (0.288675 / 10)^2 + 0.04^2 + 0.02^2 = 0.002833333, z^2 = 1 / 3 /
 * 10^2.
 */
static void one_swatch_is_the_mean_weighted_by_precision(void **state)
{
    struct fitted f = fit_folder(*state, (struct folder){
        .swatches = PLAIN "plain,main,4 mm,garter stitch,30,30,edge,10 g,1 g,,0\n",
        .pieces = "piece,fabric,yarn,tool,stitches,rows\nstrip,garter stitch,main,4 mm,30,10\n"});
    assert_non_null(f.fit);
    assert_int_equal(f.fit->evidence, 1);
    double label_g = 900 * M_PI * (4 + 0.108 * sqrt(50000.0 / 120)) * 1e-3 * 50 / 120;
    double prior = 0.0438, s2 = 0.0288675134594813 * 0.0288675134594813 + 0.002, z2 = 1.0 / 300;
    assert_close(f.fit->data[0].s, sqrt(s2), 1e-12, 0);
    double u = 0, variance = variance_of(f.fit, &f.fit->data[0], &u);
    assert_close(u, (log(10 / label_g) + 0.015) * prior / (prior + s2 + z2), 1e-9, 0);
    assert_close(variance, 1 / (1 / prior + 1 / (s2 + z2)), 1e-9, 0);
    fitted_free(&f);
}

/* A scale that may be 3 g off: Z ~ N(0, 3^2 / 3), shared by all weighings on it; another scale has another Z. */
static void what_a_scale_shows_too_much_is_one_for_all_that_is_weighed_on_it(void **state)
{
    struct fitted f = fit_folder(*state, (struct folder){
        .swatches = "swatch,yarn,tool,fabric,stitches,rows,weight,scale_step,scale_accuracy\n"
                    "a,main,4 mm,single crochet,20,20,9 g,1 g,3 g\nb,main,4 mm,single crochet,20,20,9 g,1 g,3 g\n"
                    "c,main,4 mm,single crochet,20,20,9 g,1 g,\n"});
    assert_non_null(f.fit);
    assert_int_equal(f.fit->data[0].scale, f.fit->data[1].scale);
    assert_true(f.fit->data[2].scale != f.fit->data[0].scale);
    assert_close(f.fit->parameters[f.fit->data[0].scale].sd, sqrt(3), 1e-12, 0);
    assert_close(f.fit->parameters[f.fit->data[2].scale].sd, 1 / sqrt(3), 1e-12, 0);
    fitted_free(&f);
}

/*
 * 120 g of 20 g balls, the label's: ln 120/3 - ln 20 is read of H, N(-0.015, 0.02^2), with (0.015^2 / 3) + steps beside
 * it.
 */
static void balls_on_the_scale_tell_what_a_label_weighs(void **state)
{
    struct fitted f = fit_folder(*state, (struct folder){
        .yarns = "role,yarn,put_up,length,ball_weighs,scale_step\nmain,Quay DK,50 g,120 m,3 balls 141 g,0.1 g\n"
                 "lace,Quay Lace,25 g,210 m,,\n",
        .swatches = "swatch,yarn,tool,fabric,stitches,rows\nplain,main,4 mm,single crochet,20,20\n"});
    assert_non_null(f.fit);
    assert_int_equal(f.fit->evidence, 1);
    double read = log(47.0 / 50), s2 = 0.015 * 0.015 / 3 + gsl_pow_2(0.1 / 141) * (1.0 / 12 + 1.0 / 3), prior = 0.02 * 0.02;
    assert_close(log(hk_fit_weighs(f.fit, 0, 0)), -0.015 + (read + 0.015) * prior / (prior + s2), 1e-9, 0);
    assert_close(log(hk_fit_weighs(f.fit, 0, 1)), -0.015, 1e-12, 0);
    fitted_free(&f);
}

/*
 * JCGM 100:2008 4.3.7: a step of 1 g is a rectangular law with u = 0.288675 g; beside it in s are the day and the
 * piece.
 */
static void reading_of_a_step_is_rectangular(void **state)
{
    struct fitted f = fit_folder(*state, (struct folder){
        .swatches = PLAIN "plain,main,4 mm,single crochet,20,20,,20 g,1 g,,2\n"});
    assert_non_null(f.fit);
    assert_close(20 * sqrt(gsl_pow_2(f.fit->data[0].s) - 0.04 * 0.04 - 0.02 * 0.02), 0.288675, 0, 5e-7);
    fitted_free(&f);
}

/* Nothing weighed: the answer is the prior, and is labelled as the prior. */
static void nothing_weighed_is_the_loop_rule_alone(void **state)
{
    struct fitted f = fit_folder(*state, (struct folder){.swatches = PLAIN "plain,main,4 mm,single crochet,20,20,,,,,\n"});
    assert_non_null(f.fit);
    assert_int_equal(f.fit->evidence, 0);
    for (size_t i = 0; i < f.fit->count; i++) {
        const struct hk_parameter *p = &f.fit->parameters[i];
        assert_true(p->value == p->prior && !p->touched && p->line);
        for (size_t k = 0; k < f.fit->count; k++)
            assert_true(f.fit->covariance[i * f.fit->count + k] == (i == k ? p->sd * p->sd : 0));
    }
    assert_close(hk_fit_grist_g_m(f.fit, 0), 50.0 / 120, 1e-15, 0);
    assert_close(hk_fit_grist_g_m(f.fit, 1), 25.0 / 210, 1e-15, 0); /* in no line: the label alone */
    assert_fitted(&f, "swatches.csv:0:0: note: nothing was weighed: from the loop rule alone; weigh a swatch of the main "
                      "fabric, with its tool and yarn: the range becomes far narrower\n");
}

/* Parameters without a swatch keep their prior exactly. */
static void parameter_that_no_swatch_touches_keeps_its_prior(void **state)
{
    struct fitted f = fit_folder(*state, (struct folder){
        .pieces = "piece,fabric,yarn,tool,stitches,rows\nstrip,double crochet,lace,2.5 mm,20,10\n"});
    assert_non_null(f.fit);
    const struct hk_parameter *tool = parameter(f.fit, HK_PARAM_TOOL, 2.5, NULL);
    assert_true(!tool->touched && tool->value == 0 && tool->sd == 0.05);
    size_t i = (size_t)(tool - f.fit->parameters);
    assert_true(f.fit->covariance[i * f.fit->count + i] == 0.05 * 0.05);
    assert_true(parameter(f.fit, HK_PARAM_TOOL, 4, NULL)->touched);
    assert_true(parameter(f.fit, HK_PARAM_TOOL, 4, NULL)->value != 0);
    fitted_free(&f);
}

/*
 * 12 g over 25 m is 480 tex, 15% above the label's 416.7, and the model expects a ball to weigh 1.5% less than its
 * label: g and H increase equally, nearly to the mean weighted by precision.
 */
static void swatch_weighed_and_unravelled_counts_twice_and_moves_grist(void **state)
{
    const struct hk_catalogue *catalogue = *state;
    struct fitted weighed = fit_folder(catalogue, (struct folder){
        .swatches = PLAIN "plain,main,4 mm,single crochet,20,20,,12 g,0.1 g,,2\n"});
    struct fitted both = fit_folder(catalogue, (struct folder){
        .swatches = PLAIN "plain,main,4 mm,single crochet,20,20,,12 g,0.1 g,25 m,2\n"});
    struct fitted length = fit_folder(catalogue, (struct folder){
        .swatches = PLAIN "plain,main,4 mm,single crochet,20,20,,,,25 m,2\n"});
    assert_int_equal(weighed.fit->evidence, 1);
    assert_int_equal(both.fit->evidence, 2);
    assert_int_equal(length.fit->evidence, 1);
    /*
     * s^2 = (0.1 g / sqrt 12 / 12 g)^2 + (1 mm / sqrt 12 / 25 m)^2 + 0.02^2, and the variances of g and H are as large:
     * g moves by a third
     */
    assert_close(both.fit->data[1].s, 0.020143, 0, 5e-6);
    double label = 50.0 / 120, grist = parameter(both.fit, HK_PARAM_GRIST, 0, "Quay DK")->value;
    assert_close(grist - log(label), (log(0.48 / label) + 0.015) / 3, 0.05, 0);
    assert_true(grist > parameter(weighed.fit, HK_PARAM_GRIST, 0, "Quay DK")->value);
    /* a length alone does not determine grist */
    assert_false(parameter(length.fit, HK_PARAM_GRIST, 0, "quay dk")->touched);
    /*
     * the grist datum of one yarn affects no other parameter: mass / length is g exp(H), and the scale, independent of
     * the maker
     */
    double gradient[64] = {0};
    hk_fit_ln_off(both.fit, NULL, &both.fit->data[1], 1, gradient);
    for (size_t i = 0; i < both.fit->count; i++) {
        enum hk_parameter_kind kind = both.fit->parameters[i].kind;
        assert_close(gradient[i], kind == HK_PARAM_GRIST || kind == HK_PARAM_BALL ? 1 : kind == HK_PARAM_SCALE ? 1.0 / 12 : 0, 0, 1e-14);
    }
    fitted_free(&weighed);
    fitted_free(&both);
    fitted_free(&length);
}

/* A design of one line, with weighed swatches of it on a number of tools. */
static struct fitted fit_tools(const struct hk_catalogue *catalogue, size_t tools, size_t swatches)
{
    struct hk_arena arena = {0};
    char *text = hk_arena_take(&arena, 64 * (swatches + 2), 1), *end = text;
    assert_non_null(text);
    end += sprintf(end, "swatch,weight,yarn,tool,fabric,stitches,rows\n");
    for (size_t i = 0; i < swatches; i++)
        end += sprintf(end, "w%zu,20 g,main,%.2f mm,single crochet,20,20\n", i, 3 + (double)(i % tools) / 100);
    struct fitted f = fit_folder(catalogue, (struct folder){.swatches = text});
    hk_arena_free(&arena);
    return f;
}

/* Besides 300 tools there are eight parameters. 308^2 * (324 + 308) is below 6 10^7, and 308^2 * (325 + 308) above. */
static void more_evidence_than_can_be_weighed_together_is_refused(void **state)
{
    struct fitted most = fit_tools(*state, 300, 324), beyond = fit_tools(*state, 300, 325);
    assert_non_null(most.fit);
    assert_int_equal(most.fit->count, 308);
    assert_int_equal(most.fit->evidence, 324);
    assert_null(beyond.fit);
    assert_fitted(&beyond,
                  "yarns.csv:0:0: error: too many yarns, stitches and tools are used, and swatches of them weighed, to "
                  "compute together; leave out swatches and lines of yarns and tools that do not matter\n");
    fitted_free(&most);
}

static struct fitted fit_lines(const struct hk_catalogue *catalogue, size_t tools)
{
    struct hk_arena arena = {0};
    char *text = hk_arena_take(&arena, 64 * (tools + 2), 1), *end = text;
    assert_non_null(text);
    end += sprintf(end, "piece,fabric,yarn,tool,stitches,rows\n");
    for (size_t i = 0; i < tools; i++)
        end += sprintf(end, "p%zu,single crochet,main,%.2f mm,20,10\n", i, 3 + (double)i / 100);
    struct fitted f = fit_folder(catalogue, (struct folder){.pieces = text, .swatches = ""});
    hk_arena_free(&arena);
    return f;
}

/* Nothing is weighed here. */
static void five_hundred_parameters_are_too_many(void **state)
{
    const size_t others = 7;
    struct fitted most = fit_lines(*state, 499 - others), beyond = fit_lines(*state, 500 - others);
    assert_non_null(most.fit);
    assert_int_equal(most.fit->count, 499);
    assert_null(beyond.fit);
    fitted_free(&most);
    fitted_free(&beyond);
}

/* Owner: the caller (free). */
static struct hk_project *project_learning(const struct hk_catalogue *catalogue)
{
    const struct memory_file files[] = {
        {"project.csv", "field,value\ntitle,Sampler\nsizes,\"S (M, L)\"\nlearn_from,../hat\n", 0},
        {"yarns.csv", "role,yarn,put_up,length,colour,price\nmain,Quay DK,50 g,120 m,Slate,6.40\n", 0},
        {"pieces.csv", "piece,fabric,yarn,tool,stitches,rows\nstrip,single crochet,main,4 mm,20,10\n", 0},
        {"../hat/project.csv", "field,value\nsizes,one\n", 0},
        {"../hat/yarns.csv", "role,yarn,put_up,length\nbrim,Quay Lace,25 g,210 m\ncrown,quay dk,50 g,120 m\n", 0},
        {"../hat/swatches.csv", "swatch,weight,gauge,yarn,tool,fabric,stitches,rows\n"
                                "plain,9 g,20 x 25,crown,4 mm,single crochet,20,20\n", 0},
        {NULL, NULL, 0},
    };
    struct hk_source source = memory_source(files);
    struct hk_diags diags = {0};
    struct hk_project *project = hk_project_read(&source, catalogue, &diags);
    assert_findings(&diags, "");
    assert_non_null(project);
    return project;
}

/* The valid folder's swatch, read from another folder, where the yarn has another role and a name in other capitals. */
static void learned_swatch_is_the_same_evidence(void **state)
{
    struct fitted own = fit_folder(*state, (struct folder){0});
    struct fitted learned = fit_project(project_learning(*state));
    assert_non_null(own.fit);
    assert_non_null(learned.fit);
    assert_int_equal(learned.fit->evidence, 1);
    assert_ptr_equal(learned.fit->data[0].tally, learned.tally->learned[0]);
    assert_int_equal(learned.fit->count, own.fit->count);
    for (size_t i = 0; i < own.fit->count; i++) {
        struct hk_parameter like = own.fit->parameters[i];
        const struct hk_parameter *p = &own.fit->parameters[i];
        like.folder = p->kind == HK_PARAM_SCALE ? 1 : 0; /* its own scale */
        size_t k = hk_fit_find_like(learned.fit, &like);
        assert_true(k != SIZE_MAX && learned.fit->parameters[k].touched == p->touched);
        assert_close(learned.fit->parameters[k].value, p->value, 1e-12, 1e-15);
        assert_close(learned.fit->covariance[k * own.fit->count + k], own.fit->covariance[i * own.fit->count + i], 1e-12, 0);
    }
    fitted_free(&own);
    fitted_free(&learned);
}

/* "main x2" and "main" are worked differently and have separate departures; "main + lace" equals "lace + main". */
static void blends_are_named_after_their_yarns(void **state)
{
    struct fitted f = fit_folder(*state, (struct folder){
        .swatches = "swatch,yarn,tool,fabric,stitches,rows,weight\n"
                    "a,lace + main,4 mm,single crochet,20,20,14 g\nb,main x2,4 mm,single crochet,20,20,30 g\n",
        .pieces = "piece,fabric,yarn,tool,stitches,rows\nstrip,single crochet,main + lace,4 mm,20,10\n"});
    assert_non_null(f.fit);
    assert_true(parameter(f.fit, HK_PARAM_BLEND, 0, "Quay DK + Quay Lace")->touched);
    assert_true(parameter(f.fit, HK_PARAM_BLEND, 0, "Quay DK x2")->touched);
    assert_true(hk_fit_find(f.fit, HK_PARAM_BLEND, 0, 0, "Quay DK") == SIZE_MAX);
    fitted_free(&f);
}

/* A spread of 0 means a known value: it does not change, and has no variance. */
static void spread_of_nothing_fixes_its_parameter(void **state)
{
    struct hk_project *project = folder_good(*state, (struct folder){0});
    project->spreads.grist = 0;
    struct fitted f = fit_project(project);
    assert_non_null(f.fit);
    const struct hk_parameter *grist = parameter(f.fit, HK_PARAM_GRIST, 0, "Quay DK");
    size_t i = (size_t)(grist - f.fit->parameters);
    assert_true(grist->touched && grist->value == grist->prior);
    for (size_t k = 0; k < f.fit->count; k++)
        assert_true(f.fit->covariance[i * f.fit->count + k] == 0);
    fitted_free(&f);
}

/*
 * Two equal swatches have more information than one, and less than two independent readings: they share everything
 * except their days.
 */
static void second_swatch_narrows_the_answer(void **state)
{
    const char *one = PLAIN "a,main,4 mm,garter stitch,30,30,edge,10 g,0.1 g,,0\n";
    const char *two = PLAIN "a,main,4 mm,garter stitch,30,30,edge,10 g,0.1 g,,0\n"
                            "b,main,4 mm,garter stitch,30,30,edge,10 g,0.1 g,,0\n";
    const char *pieces = "piece,fabric,yarn,tool,stitches,rows\nstrip,garter stitch,main,4 mm,30,10\n";
    double variance[2] = {0};
    for (int n = 0; n < 2; n++) {
        struct fitted f = fit_folder(*state, (struct folder){.swatches = n == 0 ? one : two, .pieces = pieces});
        assert_non_null(f.fit);
        variance[n] = variance_of(f.fit, &f.fit->data[0], NULL);
        fitted_free(&f);
    }
    /* 1 / (1/0.0438 + 1 / (s^2 / n + z^2)), s^2 = (0.1/sqrt 12/10)^2 + 0.002, z^2 = (0.1/10)^2 / 3 */
    double s2 = 0.01 / 12 / 100 + 0.002, z2 = 0.01 / 3 / 100;
    assert_close(variance[0], 1 / (1 / 0.0438 + 1 / (s2 + z2)), 1e-9, 0);
    assert_close(variance[1], 1 / (1 / 0.0438 + 1 / (s2 / 2 + z2)), 1e-9, 0);
}

/* ---- Messages ---------------------------------------------------------------------------------------------------- */

#define LABEL                                                                                                          \
    "yarns.csv:2:6: note: what a metre of Quay DK weighs is taken from the label; unravel and measure a swatch that "   \
    "was weighed\n"

/* Two tails of 15 cm are 0.3 m, 0.125 g of the yarn. */
static void swatch_lighter_than_its_tails_is_refused(void **state)
{
    struct fitted f = fit_folder(*state, (struct folder){
        .swatches = PLAIN "a,main,4 mm,single crochet,20,20,,0.1 g,0.1 g,,2\nb,main,4 mm,single crochet,20,20,,,,30 cm,2\n"});
    assert_null(f.fit);
    assert_fitted(&f, "swatches.csv:2:35: error: swatch \"a\" weighs 0.1 g, but its tails alone come to 0.125 g; check it, and "
                      "the ends of this swatch and the tail of project.csv\n"
                      "swatches.csv:3:1: error: swatch \"b\" was unravelled to 0.3 m, but its tails alone come to 0.3 m; check "
                      "it, and the ends of this swatch and the tail of project.csv\n");
}

/*
 * Two tails of 0.25 m at 0.5 g a metre are exactly 0.25 g: then no yarn is left for a stitch, by weight or by length.
 */
static void a_swatch_that_is_all_tails_is_refused(void **state)
{
    (void)state;
    for (int weighed = 0; weighed < 2; weighed++) {
        struct handmade h;
        struct hk_diags diags = {0};
        handmade_start(&h, 1, 1);
        h.project.tail_m = 0.25;
        size_t main = handmade_yarn(&h, "main", -1);
        handmade_line(&h, 0, 0, 5, 1, (struct handmade_use){main, SC, 1000, 20, 0, 0});
        const struct handmade_use square = {main, SC, 400, 20, 2, 0};
        size_t i = handmade_swatch(&h, "square", 5, weighed ? 0.25 : 0, 0.001, square);
        h.swatches[i].unravelled_m = weighed ? 0 : 0.5;
        assert_null(hk_fit_make(&h.tally, &diags));
        assert_findings(
            &diags, weighed
                        ? "-:0:0: error: swatch \"square\" weighs 0.25 g, but its tails alone come to 0.25 g; check "
                          "it, and the ends of this swatch and the tail of project.csv\n"
                        : "-:0:0: error: swatch \"square\" was unravelled to 0.5 m, but its tails alone come to 0.5 "
                          "m; check it, and the ends of this swatch and the tail of project.csv\n");
    }
}

static void step_above_a_tenth_of_the_reading_is_warned_about(void **state)
{
    struct fitted f = fit_folder(*state, (struct folder){
        .swatches = PLAIN "plain,main,4 mm,single crochet,20,20,,9 g,1 g,,2\n"});
    assert_fitted(&f, LABEL "swatches.csv:2:39: warning: the scale's step of 1 g is more than a tenth of the 9 g that swatch "
                            "\"plain\" weighs; use a finer scale, or weigh a larger swatch\n");
    f = fit_folder(*state, (struct folder){.swatches = PLAIN "plain,main,4 mm,single crochet,20,20,,10 g,1 g,,2\n"});
    assert_fitted(&f, LABEL);
}

static void weighing_far_from_the_rest_is_warned_about(void **state)
{
    struct fitted f = fit_folder(*state, (struct folder){
        .swatches = PLAIN "plain,main,4 mm,single crochet,20,20,,90 g,1 g,,2\n"});
    assert_non_null(f.fit);
    assert_int_equal(f.fit->evidence, 0);
    assert_int_equal(f.fit->odd_count, 1);
    assert_true(parameter(f.fit, HK_PARAM_TOOL, 4, NULL)->value == 0);
    assert_fitted(
        &f, "swatches.csv:0:0: note: nothing that was weighed counts: from the loop rule alone; weigh a swatch of "
            "the main fabric, with its tool and yarn: the range becomes far narrower\n"
            "swatches.csv:2:39: warning: swatch \"plain\" weighs 13 times what its stitches, tool and yarn lead to "
            "expect, and is left out; check the weight, the stitches and rows, the tool, and the yarn's label; if "
            "they are right, write outlier into its column ok, and it counts\n");
    f = (struct fitted){
        .project = folder_good(
            *state, (struct folder){.swatches = PLAIN "plain,main,4 mm,single crochet,20,20,,90 g,1 g,,2\n"})};
    f.tally = hk_tally_count(f.project, &f.diags);
    hk_diags_accept(&f.diags, HK_CODE_OUTLIER, (struct hk_ok_lines){{"swatches.csv", 2, 50}, 2, 2});
    f.fit = hk_fit_make(f.tally, &f.diags);
    assert_int_equal(f.fit->odd_count, 0);          /* the maker says that it is right */
    assert_true(fabs(f.fit->data[0].residual) < 3); /* it has shifted the fit */
    assert_fitted(&f, LABEL);
    /* 60 g over 63 m are twice the label's 0.417 g a metre: neither the weight nor the length alone is implausible */
    f = fit_folder(*state, (struct folder){
        .swatches = PLAIN "plain,main,4 mm,single crochet,40,40,,60 g,1 g,63 m,2\n"});
    assert_fitted(
        &f, "swatches.csv:0:0: note: nothing that was weighed counts: from the loop rule alone; weigh a swatch of "
            "the main fabric, with its tool and yarn: the range becomes far narrower\n"
            "swatches.csv:2:39: warning: swatch \"plain\" makes its yarn 0.952 g a metre, 2.3 times what is "
            "expected, and is left out; check the weight, the unravelled length, and the yarn's put-up and length; "
            "if they are right, write outlier into its column ok, and it counts\n");
    f = fit_folder(*state, (struct folder){.swatches = PLAIN "plain,main,4 mm,single crochet,20,20,,,,8 m,2\n"});
    assert_fitted(&f, LABEL "swatches.csv:2:1: warning: swatch \"plain\" was unravelled to 52% less than what its stitches, "
                            "tool and yarn lead to expect; check the length, the stitches and rows, and the tool; if they are "
                            "right, it may stay\n");
}

/* Two swatches of the same stitches, one twice as heavy: either may be wrong, and both stay, in any order. */
static void two_weighings_that_contradict_each_other_both_stay(void **state)
{
    static const char *const swatches[] = {
        PLAIN
        "light,main,4 mm,single crochet,20,20,,4.6 g,0.1 g,,2\nheavy,main,4 mm,single crochet,20,20,,9.2 g,0.1 g,,2\n",
        PLAIN
        "heavy,main,4 mm,single crochet,20,20,,9.2 g,0.1 g,,2\nlight,main,4 mm,single crochet,20,20,,4.6 g,0.1 g,,2\n"};
    double value[2];
    for (size_t i = 0; i < 2; i++) {
        struct fitted f = fit_folder(*state, (struct folder){.swatches = swatches[i]});
        size_t outliers = 0;
        assert_int_equal(f.fit->evidence, 2);
        assert_int_equal(f.fit->odd_count, 0);
        for (size_t k = 0; k < hk_diags_count(&f.diags); k++)
            outliers += hk_diags_finding(&f.diags, k)->code == HK_CODE_OUTLIER;
        assert_int_equal(outliers, 2);
        value[i] = parameter(f.fit, HK_PARAM_TOOL, 4, NULL)->value;
        fitted_free(&f);
    }
    assert_close(value[0], value[1], 1e-9, 1e-12);
    /* a third decides */
    struct fitted f =
        fit_folder(*state, (struct folder){.swatches = PLAIN "heavy,main,4 mm,single crochet,20,20,,9.2 g,0.1 g,,2\n"
                                                             "light,main,4 mm,single crochet,20,20,,4.6 g,0.1 g,,2\n"
                                                             "third,main,4 mm,single crochet,20,20,,9.0 g,0.1 g,,2\n"});
    assert_int_equal(f.fit->odd_count, 1);
    assert_int_equal(f.fit->odd[0].swatch, 1);
    assert_int_equal(f.fit->evidence, 2);
    fitted_free(&f);
}

static void what_no_swatch_has_is_reported_once(void **state)
{
    struct fitted f = fit_folder(*state, (struct folder){
        .pieces = "piece,fabric,yarn,tool,stitches,rows\n"
                  "strip,single crochet,main,4 mm,20,10\n"
                  "edge,double crochet,lace,3.5 mm,20,10\n"
                  "trim,half double crochet,main + lace,3 mm,20,10\n"
                  "cuff,stockinette,main,4.5 mm,20,10\n"});
    assert_fitted(&f, "yarns.csv:2:6: note: what a metre of Quay DK or Quay Lace weighs is taken from the label; unravel and "
                      "measure a swatch that was weighed\n"
                      "swatches.csv:2:46: warning: the scale's step of 1 g is more than a tenth of the 9 g that swatch "
                      "\"plain\" weighs; use a finer scale, or weigh a larger swatch\n"
                      "pieces.csv:3:1: note: no weighed swatch has dc or hdc: the count of loops stands in, at the tension "
                      "of the other stitches; weigh a swatch of it, if much of the yarn goes there\n"
                      "pieces.csv:3:1: note: no swatch with the 3.5 mm or 3 mm hook: the 4 mm one and the loop rule stand "
                      "in; weigh a swatch worked with that, if much of the yarn goes there\n"
                      "pieces.csv:3:1: note: no swatch in Quay Lace or Quay DK + Quay Lace: the label and what was weighed in "
                      "other yarns stand in; weigh a swatch in that yarn, if much of the work is in it\n"
                      "pieces.csv:5:1: note: no swatch of knitting was weighed: the loop rule alone stands in; weigh one\n");
}

/* The message distinguishes hooks from needles, and names a stitch without an abbreviation by its name. */
static void tools_that_no_swatch_has_are_called_by_their_craft(void **state)
{
    static const char swatches[] = PLAIN "plain,main,4 mm,single crochet,80,40,,60 g,1 g,,2\n"
                                         "knit,main,4 mm,stockinette,80,40,,100 g,1 g,,2\n"
                                         "small,main,3.5 mm,stockinette,80,40,,90 g,1 g,,2\n";
    struct fitted f = fit_folder(*state, (struct folder){.swatches = swatches,
        .pieces = "piece,fabric,yarn,tool,stitches,rows\ncuff,stockinette,main,5 mm,20,10\n"});
    assert_fitted(&f, "yarns.csv:2:6: note: what a metre of Quay DK weighs is taken from the label; unravel and measure a swatch that was "
                      "weighed\n"
                      "pieces.csv:2:1: note: no swatch with the 5 mm needle: the 4 mm and 3.5 mm ones and the loop rule "
                      "stand in; weigh a swatch worked with that, if much of the yarn goes there\n");
    f = fit_folder(*state, (struct folder){.swatches = swatches,
        .pieces = "piece,fabric,yarn,tool,stitches,rows\ncuff,stockinette,main,5 mm,20,10\nstrip,single crochet,main,6 mm,20,10\n"});
    assert_fitted(&f, "yarns.csv:2:6: note: what a metre of Quay DK weighs is taken from the label; unravel and measure a swatch that was "
                      "weighed\n"
                      "pieces.csv:2:1: note: no swatch with the 5 mm or 6 mm tool: the 4 mm and 3.5 mm ones and the loop rule "
                      "stand in; weigh a swatch worked with that, if much of the yarn goes there\n");
}

/* The message names four of five tools, and all of four. */
static void a_long_list_is_cut_after_four(void **state)
{
    static const char *const tools[] = {"", "strip,single crochet,main,6 mm,20,10\n"};
    static const char *const said[] = {"2.5 mm, 3 mm, 3.5 mm or 5 mm", "2.5 mm, 3 mm, 3.5 mm, 5 mm or 1 more"};
    for (size_t i = 0; i < 2; i++) {
        char pieces[400], expected[600];
        snprintf(pieces, sizeof pieces, "piece,fabric,yarn,tool,stitches,rows\n"
                 "a,single crochet,main,2.5 mm,20,10\nb,single crochet,main,3 mm,20,10\nc,single crochet,main,3.5 mm,20,10\n"
                 "d,single crochet,main,5 mm,20,10\n%s", tools[i]);
        snprintf(expected, sizeof expected, LABEL "pieces.csv:2:1: note: no swatch with the %s hook: the 4 mm one and the "
                 "loop rule stand in; weigh a swatch worked with that, if much of the yarn goes there\n", said[i]);
        struct fitted f = fit_folder(*state, (struct folder){
            .swatches = PLAIN "plain,main,4 mm,single crochet,80,40,,60 g,1 g,,2\n", .pieces = pieces});
        assert_fitted(&f, expected);
    }
}

/*
 * 400 sc take 17.6 m: a tape's step of 1.75 m is a tenth of 17.5 m, and of a length one centimetre shorter it is more.
 */
static void a_tape_s_step_above_a_tenth_of_the_length_is_warned_about(void **state)
{
    (void)state;
    for (int coarse = 0; coarse < 2; coarse++) {
        struct handmade h;
        struct hk_diags diags = {0};
        bool warned = false;
        handmade_start(&h, 1, 1);
        size_t main = handmade_yarn(&h, "main", -1);
        handmade_line(&h, 0, 0, 5, 1, (struct handmade_use){main, SC, 1000, 20, 0, 0});
        size_t i = handmade_swatch(&h, "square", 5, 0, 0.001, (struct handmade_use){main, SC, 400, 20, 0, 0});
        h.swatches[i].tape_step_m = 1.75;
        h.swatches[i].unravelled_m = coarse ? 17.49 : 17.5;
        hk_fit_free(hk_fit_make(&h.tally, &diags));
        for (size_t k = 0; k < diags.count; k++)
            warned |= diags.findings[k].code == HK_CODE_SCALE_COARSE;
        assert_int_equal(warned, coarse);
        hk_diags_free(&diags);
    }
}

/* Returns whether a lone swatch of that weight gets the warning, and its deviation in standard deviations. */
static bool is_outlier(double mass_g, double *deviations)
{
    struct handmade h;
    struct hk_diags diags = {0};
    bool warned = false;
    handmade_start(&h, 1, 1);
    size_t main = handmade_yarn(&h, "main", -1);
    handmade_line(&h, 0, 0, 5, 1, (struct handmade_use){main, SC, 1000, 20, 0, 0});
    handmade_swatch(&h, "square", 5, mass_g, 0.1, (struct handmade_use){main, SC, 400, 20, 0, 0});
    struct hk_fit *fit = hk_fit_make(&h.tally, &diags);
    assert_non_null(fit);
    double *gradient = calloc(fit->count, sizeof *gradient);
    assert_non_null(gradient);
    *deviations = hk_outlier_deviation(fit, &fit->data[0], gradient).deviations;
    for (size_t i = 0; i < diags.count; i++)
        warned |= diags.findings[i].code == HK_CODE_OUTLIER;
    free(gradient);
    hk_fit_free(fit);
    hk_diags_free(&diags);
    return warned;
}

/* Three standard deviations, the limits of control charts (W. A. Shewhart, 1931; from memory). */
static void an_outlier_is_more_than_three_deviations_off(void **state)
{
    (void)state;
    double most = 0, least = HUGE_VAL;
    for (double mass_g = 9; mass_g < 40; mass_g *= 1.002) {
        double deviations;
        if (is_outlier(mass_g, &deviations))
            least = fmin(least, deviations);
        else
            most = fmax(most, deviations);
    }
    assert_true(most > 2.95 && most <= 3);
    assert_true(least > 3 && least < 3.05);
}

/*
 * Two swatches alike that weigh rho and 1 / rho times the expected mass, with s^2 = 0.04^2 + 0.02^2 each: r = ln rho /
 * s. They share a spread of P = 0.0225 + 0.0144 + 0.0025 + 0.0036 + 0.0004 + 0.0004, so each has the leverage 1 / (2 +
 * s^2 / P) and sum (1 - h) is 1.02. 95% of the chi-square distribution are 3.84 at 1 degree of freedom (any
 * table), 3.88 at 1.02.
 */
static bool two_scatter(double squares)
{
    struct handmade h;
    struct hk_diags diags = {0};
    bool warned = false;
    double expected_g = 400 * 2 * 0.007 * M_PI * 0.5 * exp(-0.015), ln = sqrt(squares * 0.002 / 2);
    handmade_start(&h, 1, 1);
    size_t main = handmade_yarn(&h, "main", -1);
    handmade_line(&h, 0, 0, 5, 1, (struct handmade_use){main, SC, 1000, 20, 0, 0});
    const struct handmade_use square = {main, SC, 400, 20, 0, 0};
    for (int i = 0; i < 2; i++)
        handmade_swatch(&h, "square", 5, expected_g * exp(i ? ln : -ln), 0.001, square);
    struct hk_fit *fit = hk_fit_make(&h.tally, &diags);
    assert_non_null(fit);
    assert_close(gsl_pow_2(fit->data[0].residual) + gsl_pow_2(fit->data[1].residual), squares, 1e-4, 0);
    for (size_t i = 0; i < diags.count; i++)
        warned |= diags.findings[i].code == HK_CODE_SCATTER;
    hk_fit_free(fit);
    hk_diags_free(&diags);
    return warned;
}

static void two_weighings_are_enough_to_scatter(void **state)
{
    (void)state;
    assert_false(two_scatter(3.8));
    assert_true(two_scatter(3.95));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(optimum_and_covariance_are_those_of_the_reference),
        cmocka_unit_test(derivatives_are_those_of_finite_differences),
        cmocka_unit_test(one_swatch_is_the_mean_weighted_by_precision),
        cmocka_unit_test(what_a_scale_shows_too_much_is_one_for_all_that_is_weighed_on_it),
        cmocka_unit_test(balls_on_the_scale_tell_what_a_label_weighs),
        cmocka_unit_test(reading_of_a_step_is_rectangular),
        cmocka_unit_test(nothing_weighed_is_the_loop_rule_alone),
        cmocka_unit_test(parameter_that_no_swatch_touches_keeps_its_prior),
        cmocka_unit_test(swatch_weighed_and_unravelled_counts_twice_and_moves_grist),
        cmocka_unit_test(learned_swatch_is_the_same_evidence),
        cmocka_unit_test(more_evidence_than_can_be_weighed_together_is_refused),
        cmocka_unit_test(five_hundred_parameters_are_too_many),
        cmocka_unit_test(blends_are_named_after_their_yarns),
        cmocka_unit_test(spread_of_nothing_fixes_its_parameter),
        cmocka_unit_test(second_swatch_narrows_the_answer),
        cmocka_unit_test(swatch_lighter_than_its_tails_is_refused),
        cmocka_unit_test(a_swatch_that_is_all_tails_is_refused),
        cmocka_unit_test(step_above_a_tenth_of_the_reading_is_warned_about),
        cmocka_unit_test(weighing_far_from_the_rest_is_warned_about),
        cmocka_unit_test(two_weighings_that_contradict_each_other_both_stay),
        cmocka_unit_test(what_no_swatch_has_is_reported_once),
        cmocka_unit_test(tools_that_no_swatch_has_are_called_by_their_craft),
        cmocka_unit_test(a_long_list_is_cut_after_four),
        cmocka_unit_test(a_tape_s_step_above_a_tenth_of_the_length_is_warned_about),
        cmocka_unit_test(an_outlier_is_more_than_three_deviations_off),
        cmocka_unit_test(two_weighings_are_enough_to_scatter),
    };
    return cmocka_run_group_tests_name("fit", tests, catalogue_set_up, catalogue_tear_down);
}
