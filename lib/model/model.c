/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The formulas of fit.h. */
#include "model/model.h"

#include "model/loop.h"
#include "model/parameters.h"

#include <assert.h>
#include <gsl/gsl_math.h>

/* In a fit of time a wrap equals a full loop. */
#define PLAIN_OMEGA 1.0

static double at(const struct hk_fit *fit, const double *x, size_t i)
{
    return x ? x[i] : fit->parameters[i].value;
}

static double omega_at(const struct hk_fit *fit, const double *x)
{
    if (fit->quantity == HK_QUANTITY_TIME)
        return PLAIN_OMEGA;
    return fit->wrap != SIZE_MAX ? exp(at(fit, x, fit->wrap)) : fit->tally->project->spreads.wrap_ratio;
}

double hk_fit_omega(const struct hk_fit *fit)
{
    return omega_at(fit, NULL);
}

static const struct hk_folder *folder_of(const struct hk_fit *fit, const struct hk_tally *tally)
{
    for (size_t i = 0; i < fit->folder_count; i++)
        if (fit->folders[i].tally == tally)
            return &fit->folders[i];
    assert(!"a tally that the fit was not made from");
    return NULL;
}

/* The values common to the kinds of one use. */
struct footing {
    size_t tool, blend; /* parameters */
    bool swatch;
    double omega;
    double loop;        /* metres: pi * (h_t + d_c) * exp(q_t + v_c); seconds: exp(q_t + v_c) */
};

static struct footing footing_of(const struct hk_fit *fit, const double *x, struct hk_ground ground)
{
    struct footing footing = {
        .tool = hk_fit_find(fit, HK_PARAM_TOOL, 0, ground.tool_mm, NULL),
        .blend = folder_of(fit, ground.tally)->blends[ground.combination],
        .swatch = ground.swatch,
        .omega = omega_at(fit, x),
    };
    assert(footing.tool != SIZE_MAX && footing.blend != SIZE_MAX);
    footing.loop = exp(at(fit, x, footing.tool) + at(fit, x, footing.blend));
    if (fit->quantity == HK_QUANTITY_YARN)
        footing.loop *= hk_loop_length_m(ground.tool_mm, ground.tally->project->combinations[ground.combination].diameter_mm);
    return footing;
}

static bool takes_yarn(const struct hk_fit *fit, struct hk_kinds kinds)
{
    for (size_t i = 0; i < kinds.count; i++)
        if (hk_is_worked(hk_fit_stitch(fit, kinds.kinds[i].stitch), kinds.kinds[i].count))
            return true;
    return false;
}

/*
 * W = sum over kinds of count * y_k * pi (h_t + d_c) * exp(a_f + D_f + r_k + q_t + v_c), y_k = loops + omega * wraps,
 * D_f for garments only. W is a sum of exponentials, so dW/da, dW/dD, dW/dr, dW/dq, dW/dv are sums of the terms with
 * that parameter, and dW/d ln omega is the part of the wraps.
 */
double hk_fit_worked(const struct hk_fit *fit, const double *x, struct hk_ground ground, struct hk_kinds kinds, double weight,
                     double *gradient)
{
    if (!takes_yarn(fit, kinds))
        return 0;
    struct footing footing = footing_of(fit, x, ground);
    double amount = 0, wrapped = 0;
    for (size_t i = 0; i < kinds.count; i++) {
        const struct hk_stitch *stitch = hk_fit_stitch(fit, kinds.kinds[i].stitch);
        if (!hk_is_worked(stitch, kinds.kinds[i].count))
            continue;
        size_t departure = fit->stitches[kinds.kinds[i].stitch], tension = fit->tensions[stitch->family];
        size_t garment = footing.swatch ? SIZE_MAX : fit->garments[stitch->family];
        double ln = at(fit, x, tension) + at(fit, x, departure) + (garment == SIZE_MAX ? 0 : at(fit, x, garment));
        double loops = kinds.kinds[i].count * footing.loop * exp(ln);
        double of_kind = loops * hk_stitch_loops(stitch, footing.omega);
        amount += of_kind;
        wrapped += loops * footing.omega * stitch->wraps;
        if (gradient) {
            gradient[departure] += weight * of_kind;
            gradient[tension] += weight * of_kind;
            if (garment != SIZE_MAX)
                gradient[garment] += weight * of_kind;
        }
    }
    if (gradient) {
        gradient[footing.tool] += weight * amount;
        gradient[footing.blend] += weight * amount;
        if (wrapped > 0 && fit->wrap != SIZE_MAX)
            gradient[fit->wrap] += weight * wrapped;
    }
    return amount;
}

double hk_fit_length_m(const struct hk_fit *fit, const double *x, struct hk_ground ground, struct hk_kinds kinds,
                       double weight, double *gradient)
{
    assert(fit->quantity == HK_QUANTITY_YARN);
    return hk_fit_worked(fit, x, ground, kinds, weight, gradient);
}

/* Skips zeros, since most elements of a gradient are 0. */
void hk_fit_along(const struct hk_fit *fit, const double *gradient, double *along)
{
    for (size_t i = 0; i < fit->count; i++)
        along[i] = 0;
    for (size_t k = 0; k < fit->count; k++)
        for (size_t i = 0; i < fit->count && gradient[k] != 0; i++)
            along[i] += fit->covariance[k * fit->count + i] * gradient[k];
}

double hk_fit_dot(const struct hk_fit *fit, const double *a, const double *b)
{
    double sum = 0;
    for (size_t i = 0; i < fit->count; i++)
        sum += a[i] * b[i];
    return sum;
}

/* h^T C h; rounding errors may make it slightly negative. */
double hk_fit_variance(const struct hk_fit *fit, const double *gradient)
{
    double variance = 0;
    for (size_t i = 0; i < fit->count; i++) {
        double row = 0;
        for (size_t k = 0; k < fit->count && gradient[i] != 0; k++)
            row += fit->covariance[i * fit->count + k] * gradient[k];
        variance += gradient[i] * row;
    }
    return fmax(variance, 0);
}

double hk_fit_grist_g_m(const struct hk_fit *fit, size_t yarn)
{
    size_t i = fit->folders[0].grists[yarn];
    return i != SIZE_MAX ? exp(fit->parameters[i].value) : hk_label_g_m(&fit->tally->project->yarns[yarn]);
}

double hk_fit_weighs(const struct hk_fit *fit, size_t folder, size_t yarn)
{
    size_t i = fit->folders[folder].balls[yarn];
    return exp(i != SIZE_MAX ? fit->parameters[i].value : fit->folders[folder].tally->project->yarns[yarn].ln_weighs);
}

/* Returns exp(B) of a datum's making. */
static double day_of(const struct hk_fit *fit, const double *x, const struct hk_datum *datum)
{
    return datum->making == SIZE_MAX ? 1 : exp(at(fit, x, datum->making));
}

static struct hk_ground ground_of(const struct hk_datum *datum, size_t combination, double tool_mm)
{
    return (struct hk_ground){datum->tally, combination, tool_mm, datum->swatch != SIZE_MAX};
}

/*
 * Returns grams per metre of a yarn for a datum: on the maker's scale, or by the label if the mass at the start is by
 * the label.
 */
static double weighed_g_m(const struct hk_fit *fit, const double *x, const struct hk_datum *datum, size_t yarn)
{
    const struct hk_folder *folder = folder_of(fit, datum->tally);
    double ln = at(fit, x, folder->grists[yarn]);
    return exp(datum->left_g > 0 ? ln : ln + at(fit, x, folder->balls[yarn]));
}

/*
 * Returns the grams of one use in one copy, of the yarns that the datum includes; the gradient as in hk_fit_length_m.
 */
static struct hk_taken use_g(const struct hk_fit *fit, const double *x, const struct hk_datum *datum, double tool_mm,
                           const struct hk_use *use, double weight, double *gradient)
{
    const struct hk_project *project = datum->tally->project;
    const struct hk_folder *folder = folder_of(fit, datum->tally);
    const struct hk_combination *c = &project->combinations[use->combination];
    double day = day_of(fit, x, datum), bundle_g_m = 0; /* all strands */
    struct hk_taken mass_g = {0, 0};
    if (hk_strands_weighed(c, datum->of) == 0)
        return mass_g;
    for (size_t s = 0; s < c->strand_count; s++)
        if (hk_of_yarn(datum->of, c->strands[s].role, c->strands[s].yarn))
            bundle_g_m += (double)c->strands[s].times * weighed_g_m(fit, x, datum, c->strands[s].yarn);
    double worked_m = hk_fit_length_m(fit, x, ground_of(datum, use->combination, tool_mm), use->kinds,
                                      weight * day * bundle_g_m, gradient);
    for (size_t s = 0; s < c->strand_count; s++) {
        if (!hk_of_yarn(datum->of, c->strands[s].role, c->strands[s].yarn))
            continue;
        size_t yarn = c->strands[s].yarn;
        double g_m = (double)c->strands[s].times * weighed_g_m(fit, x, datum, yarn);
        double loose_m = use->ends[s] * project->tail_m + use->cut_m;
        mass_g.worked += g_m * worked_m;
        mass_g.loose += g_m * loose_m;
        if (gradient)
            gradient[folder->grists[yarn]] += weight * g_m * (day * worked_m + loose_m);
        if (gradient && !(datum->left_g > 0))
            gradient[folder->balls[yarn]] += weight * g_m * (day * worked_m + loose_m);
    }
    return mass_g;
}

/*
 * Returns the length of an unravelled swatch that is not in stitches: the ends of one strand, and cut lengths. Timings
 * exclude it.
 */
double hk_loose_m(const struct hk_tally *tally, const struct hk_use *use)
{
    return use->ends[0] * tally->project->tail_m + use->cut_m;
}

/* Returns the metres of one strand of one use, or its seconds. */
static struct hk_taken use_alone(const struct hk_fit *fit, const double *x, const struct hk_datum *datum, double tool_mm,
                               const struct hk_use *use, double weight, double *gradient)
{
    return (struct hk_taken){
        .worked = hk_fit_worked(fit, x, ground_of(datum, use->combination, tool_mm), use->kinds,
                                weight * day_of(fit, x, datum), gradient),
        .loose = fit->quantity == HK_QUANTITY_YARN ? hk_loose_m(datum->tally, use) : 0,
    };
}

/* Returns the amount of one of the lines or swatches weighed or timed together, in all copies. */
struct hk_taken hk_thing_amount(const struct hk_fit *fit, const double *x, const struct hk_datum *datum,
                                  const struct hk_worked *worked, enum hk_taken_as measure, double weight, double *gradient)
{
    double copies = (double)worked->times;
    struct hk_taken sum = {0, 0};
    for (size_t u = 0; u < worked->use_count; u++) {
        const struct hk_use *use = &worked->uses[u];
        struct hk_taken amount =
            measure == HK_TAKEN_GRAMS ? use_g(fit, x, datum, worked->tool_mm, use, weight * copies, gradient)
                             : use_alone(fit, x, datum, worked->tool_mm, use, weight * copies, gradient);
        sum.worked += copies * amount.worked;
        sum.loose += copies * amount.loose;
    }
    return sum;
}

/* Returns f; the gradient as in hk_fit_worked. */
static double datum_amount(const struct hk_fit *fit, const double *x, const struct hk_datum *datum, enum hk_taken_as measure,
                           double weight, double *gradient)
{
    double worked = 0, loose = 0, day = day_of(fit, x, datum);
    for (size_t w = 0; w < datum->worked_count; w++) {
        struct hk_taken amount = hk_thing_amount(fit, x, datum, &datum->worked[w], measure, weight, gradient);
        worked += amount.worked;
        loose += amount.loose;
    }
    if (gradient && datum->making != SIZE_MAX)
        gradient[datum->making] += weight * day * worked;
    return day * worked + loose;
}

/* ---- Testers ------------------------------------------------------------------------------------------------- */

/* Returns grams per metre of the strands of a combination that a tester replaced by this yarn, or one of its parts. */
static double replaced_g_m(const struct hk_fit *fit, const double *x, const struct hk_combination *c,
                           const struct hk_tester_used *used, size_t strand)
{
    const struct hk_strand *of = &c->strands[strand];
    if (!hk_of_yarn(used->of, of->role, of->yarn))
        return 0;
    return (double)of->times * exp(at(fit, x, fit->folders[0].grists[used->yarn == SIZE_MAX ? of->yarn : used->yarn]));
}

/* Returns the grams of one use in one copy, in one of the yarns that the tester used. */
static struct hk_taken replaced_g(const struct hk_fit *fit, const double *x, const struct hk_datum *datum,
                                  double tool_mm, const struct hk_use *use, const struct hk_tester_used *used,
                                  double weight, double *gradient)
{
    const struct hk_combination *c = &datum->tally->project->combinations[use->combination];
    double reader = exp(at(fit, x, fit->readers.parameter) + datum->ln_gauge), bundle_g_m = 0;
    struct hk_taken mass_g = {0, 0};
    for (size_t s = 0; s < c->strand_count; s++)
        bundle_g_m += replaced_g_m(fit, x, c, used, s);
    if (!(bundle_g_m > 0))
        return mass_g;
    struct hk_ground ground = {datum->tally, use->combination, tool_mm, false};
    double worked_m = reader * hk_fit_length_m(fit, x, ground, use->kinds, weight * reader * bundle_g_m, gradient);
    mass_g.worked = bundle_g_m * worked_m;
    if (gradient)
        gradient[fit->readers.parameter] += weight * mass_g.worked;
    for (size_t s = 0; s < c->strand_count; s++) {
        double g_m = replaced_g_m(fit, x, c, used, s),
               loose_m = use->ends[s] * datum->tally->project->tail_m + use->cut_m;
        mass_g.loose += g_m * loose_m;
        if (gradient && g_m > 0)
            gradient[fit->folders[0].grists[used->yarn == SIZE_MAX ? c->strands[s].yarn : used->yarn]] +=
                weight * g_m * (worked_m + loose_m);
    }
    return mass_g;
}

struct hk_taken hk_tester_line(const struct hk_fit *fit, const double *x, const struct hk_datum *datum, size_t line,
                               double weight, double *gradient)
{
    const struct hk_project *project = datum->tally->project;
    const struct hk_tester *tester = &project->testers[datum->tester];
    const struct hk_worked *worked = &datum->tally->lines[tester->size * project->line_count + line];
    double copies = (double)worked->times;
    struct hk_taken sum = {0, 0};
    for (size_t u = 0; u < worked->use_count && worked->times > 0; u++) {
        for (size_t i = 0; i < tester->used_count; i++) {
            struct hk_taken amount = replaced_g(fit, x, datum, worked->tool_mm, &worked->uses[u], &tester->used[i],
                                                weight * copies, gradient);
            sum.worked += copies * amount.worked;
            sum.loose += copies * amount.loose;
        }
    }
    return sum;
}

double hk_tester_used_g(const struct hk_tester *tester)
{
    double mass_g = 0;
    for (size_t i = 0; i < tester->used_count; i++)
        mass_g += tester->used[i].mass_g;
    return mass_g;
}

static double tester_g(const struct hk_fit *fit, const double *x, const struct hk_datum *datum, double weight,
                       double *gradient)
{
    double mass_g = 0;
    for (size_t line = 0; line < datum->tally->project->line_count; line++) {
        struct hk_taken amount = hk_tester_line(fit, x, datum, line, weight, gradient);
        mass_g += amount.worked + amount.loose;
    }
    return mass_g;
}

/*
 * Returns ln f; the gradient as in hk_fit_worked. For a swatch in one yarn mass / length is g exp(H): all departures
 * cancel.
 */
static double ln_expected(const struct hk_fit *fit, const double *x, const struct hk_datum *datum, double weight,
                          double *gradient)
{
    double ln = 0;
    if (datum->kind == HK_DATUM_BALL) {
        size_t ball = folder_of(fit, datum->tally)->balls[datum->yarn];
        if (gradient)
            gradient[ball] += weight;
        return log(datum->tally->project->yarns[datum->yarn].put_up_g) + at(fit, x, ball);
    }
    if (datum->kind == HK_DATUM_TESTER) {
        double mass_g = tester_g(fit, x, datum, 0, NULL);
        if (gradient)
            tester_g(fit, x, datum, weight / mass_g, gradient);
        return log(mass_g);
    }
    if (datum->kind == HK_DATUM_WEIGHED || datum->kind == HK_DATUM_GRIST) {
        double mass_g = datum_amount(fit, x, datum, HK_TAKEN_GRAMS, 0, NULL);
        ln += log(mass_g);
        if (gradient)
            datum_amount(fit, x, datum, HK_TAKEN_GRAMS, weight / mass_g, gradient);
    }
    if (datum->kind != HK_DATUM_WEIGHED) {
        double sign = datum->kind == HK_DATUM_GRIST ? -1 : 1;
        double amount = datum_amount(fit, x, datum, HK_TAKEN_ALONE, 0, NULL);
        ln += sign * log(amount);
        if (gradient)
            datum_amount(fit, x, datum, HK_TAKEN_ALONE, sign * weight / amount, gradient);
    }
    return ln;
}

/*
 * Returns ln of the reading; if the mass left was weighed, ln of the mass used: u = hand - left exp(-H), d ln u / dH =
 * (hand - u) / u.
 */
static double ln_read(const struct hk_fit *fit, const double *x, const struct hk_datum *datum, double weight, double *gradient)
{
    if (!(datum->left_g > 0))
        return log(datum->reading);
    double used_g = datum->reading - datum->left_g * exp(-at(fit, x, datum->left_ball));
    if (gradient)
        gradient[datum->left_ball] += weight * (datum->reading - used_g) / used_g;
    return log(used_g);
}

double hk_fit_ln_off(const struct hk_fit *fit, const double *x, const struct hk_datum *datum, double weight, double *gradient)
{
    double off = ln_expected(fit, x, datum, weight, gradient) - ln_read(fit, x, datum, -weight, gradient);
    if (datum->scale == SIZE_MAX)
        return off;
    if (gradient)
        gradient[datum->scale] += weight * datum->per_g;
    return off + at(fit, x, datum->scale) * datum->per_g;
}

double hk_fit_read(const struct hk_fit *fit, const struct hk_datum *datum)
{
    if (datum->kind == HK_DATUM_TESTER)
        return hk_tester_used_g(&datum->tally->project->testers[datum->tester]);
    return exp(ln_read(fit, NULL, datum, 0, NULL));
}

size_t hk_fit_pieces(const struct hk_fit *fit, bool learned)
{
    size_t count = 0;
    for (size_t i = 0; i < fit->evidence; i++)
        count += fit->data[i].progress != SIZE_MAX && (fit->data[i].folder > 0) == learned;
    return count;
}

size_t hk_fit_balls(const struct hk_fit *fit)
{
    size_t count = 0;
    for (size_t i = 0; i < fit->evidence; i++)
        count += fit->data[i].yarn != SIZE_MAX;
    return count;
}

struct hk_cell hk_datum_cell(const struct hk_datum *datum)
{
    const struct hk_project *project = datum->tally->project;
    if (datum->kind == HK_DATUM_TESTER)
        return project->testers[datum->tester].cell;
    return datum->yarn != SIZE_MAX     ? project->yarns[datum->yarn].ball_cell
           : datum->swatch != SIZE_MAX ? project->swatches[datum->swatch].cell
                                       : project->progress[datum->progress].cell;
}
