/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Finished work against its forecasts (hankful.h). The fit is made without any weighing of progress.csv, and they are
 * held against it: y = ln of reading over expectation, with the covariance J C J^T of the forecasts, s^2 of the
 * readings, and making^2 between weighings of one making. A making is the sum of its weighings. What the others say
 * about a making comes from the same covariance (spread_estimate.h), so that no making needs a fit of its own.
 *
 * A standard deviation from n degrees of freedom has the relative standard uncertainty 1 / sqrt(2 n): 25% for 8 (JCGM
 * 100:2008 E.4.3). With fewer, no spread is proposed.
 */
#include "model/fit.h"

#include "base/diags.h"
#include "model/evidence.h"
#include "model/model.h"
#include "model/outlier.h"
#include "model/predict.h"
#include "model/readers.h"
#include "model/spread_estimate.h"

#include <gsl/gsl_math.h>
#include <stdlib.h>
#include <string.h>

#define EVIDENCE_LEAST ((size_t)8)
/* The chance that a spread is above, or below, the one in use, from which another is proposed. */
#define SIDE_CHANCE 0.99
/* A proposed spread is rounded up to a multiple of this. */
#define PROPOSAL_STEP 0.005
enum { SPREADS = 3 };

/* The public struct comes first, as in struct hk_needed. */
struct calibrated {
    struct hk_calibration face;
    struct hk_arena arena;
};

struct calibrating {
    struct calibrated *calibrated;
    const struct hk_fit *fit, *holding;
    double *gradients;  /* of ln expectation: held_count x count, B left out */
    double *expected_g; /* by weighing */
    size_t *making_of;  /* by weighing: its making */
    double *worked;     /* by weighing: the part that B applies to */
    struct hk_calibration_making *makings;
    size_t making_count;
    struct hk_calibration_spread spreads[SPREADS];
    size_t spread_count;
    struct hk_arena scratch;
    struct hk_diags *diags;
};

/* ---- Weighings and makings --------------------------------------------------------------------------------------- */

/* Returns what a weighing says of its making. */
static struct hk_calibration_making making_new(const struct hk_datum *datum)
{
    const struct hk_project *project = datum->tally->project;
    return (struct hk_calibration_making){
        .project = project->title,
        .at = hk_cell_place(hk_datum_cell(datum), 0),
        .size = project->size_count > 1 ? project->sizes[project->progress[datum->progress].size] : "",
        .work = ""};
}

static size_t making_find(struct calibrating *c, const struct hk_datum *datum)
{
    for (size_t i = 0; i < c->holding->held_count; i++) {
        if (&c->holding->held[i] == datum)
            break;
        if (c->holding->held[i].making == datum->making)
            return c->making_of[i];
    }
    c->makings[c->making_count] = making_new(datum);
    return c->making_count++;
}

/* ---- What the fit leaves out ---------------------------------------------------------------------------------- */

static bool is_left_out(const struct hk_fit *fit, const struct hk_datum *held)
{
    for (size_t i = 0; i < fit->odd_count; i++)
        if (fit->odd[i].progress == held->progress && fit->odd[i].folder == held->folder)
            return true;
    return false;
}

/* Keeps the weighings that the fit leaves out apart: no forecast and no spread follows them. */
static void leave_out(const struct hk_fit *fit, struct hk_fit *holding)
{
    size_t kept = 0;
    for (size_t i = 0; i < holding->held_count; i++)
        if (!is_left_out(fit, &holding->held[i]))
            holding->held[kept++] = holding->held[i];
    holding->held_count = kept;
}

/* Adds them behind the makings, each against its forecast by the fit. */
static bool left_out_fill(struct calibrating *c)
{
    const struct hk_fit *fit = c->fit;
    struct hk_calibration *face = &c->calibrated->face;
    const struct hk_level level = hk_level_of(face->chance, -1);
    double *gradient = hk_arena_take(&c->scratch, fit->count, sizeof *gradient);
    for (size_t i = 0; gradient && i < fit->odd_count; i++) {
        const struct hk_datum *datum = &fit->odd[i];
        if (datum->progress == SIZE_MAX)
            continue;
        const struct hk_deviation off = hk_outlier_left_out(fit, datum, gradient);
        struct hk_calibration_making making = making_new(datum);
        making.weighings = 1;
        making.weighed_g = hk_fit_read(fit, datum);
        making.forecast_g =
            hk_range_of(&level, making.weighed_g * exp(-off.ln_ratio), fabs(off.ln_ratio) / off.deviations);
        making.deviations = copysign(off.deviations, off.ln_ratio);
        making.work = datum->tally->project->progress[datum->progress].work;
        c->makings[c->making_count + face->left_out++] = making;
    }
    return gradient != NULL;
}

/* ---- Weighings as they are read -------------------------------------------------------------------------------- */

static bool weighings_read(struct calibrating *c)
{
    const struct hk_fit *fit = c->holding;
    size_t n = fit->held_count;
    c->gradients = hk_arena_take(&c->scratch, n * fit->count, sizeof *c->gradients);
    c->expected_g = hk_arena_take(&c->scratch, n, sizeof *c->expected_g);
    c->making_of = hk_arena_take(&c->scratch, n, sizeof *c->making_of);
    c->worked = hk_arena_take(&c->scratch, n, sizeof *c->worked);
    c->makings = hk_arena_take(&c->calibrated->arena, n + c->fit->odd_count, sizeof *c->makings);
    if (c->scratch.out_of_memory || c->calibrated->arena.out_of_memory)
        return false;
    for (size_t i = 0; i < n; i++) {
        const struct hk_datum *datum = &fit->held[i];
        double *gradient = c->gradients + i * fit->count, read_g = hk_fit_read(fit, datum);
        c->expected_g[i] = read_g * exp(hk_fit_ln_off(fit, NULL, datum, 1, gradient));
        c->worked[i] = gradient[datum->making];
        gradient[datum->making] = 0;
        c->making_of[i] = making_find(c, datum);
        c->makings[c->making_of[i]].weighings++;
        c->makings[c->making_of[i]].weighed_g += read_g;
    }
    return true;
}

/* Returns the covariance of two weighings but for makings; s^2 of one weighing is its own. */
static void covariance_fill(struct calibrating *c, double *covariance)
{
    const struct hk_fit *fit = c->holding;
    size_t n = fit->held_count;
    double *along = hk_arena_take(&c->scratch, fit->count, sizeof *along);
    for (size_t i = 0; along && i < n; i++) {
        hk_fit_along(fit, c->gradients + i * fit->count, along);
        for (size_t k = 0; k < n; k++)
            covariance[i * n + k] =
                hk_fit_dot(fit, along, c->gradients + k * fit->count) + (i == k ? gsl_pow_2(fit->held[i].s) : 0);
    }
}

/* ---- Makings ----------------------------------------------------------------------------------------------------- */

/* The weighings of each making as one, by their expected grams. */
static bool makings_task(struct calibrating *c, const double *covariance, struct hk_spread_task *task)
{
    size_t n = c->holding->held_count, count = c->making_count;
    double *off = hk_arena_take(&c->scratch, count, sizeof *off),
           *weight = hk_arena_take(&c->scratch, count, sizeof *weight);
    double *rest = hk_arena_take(&c->scratch, count * count, sizeof *rest);
    double *sum_g = hk_arena_take(&c->scratch, count, sizeof *sum_g);
    if (c->scratch.out_of_memory)
        return false;
    for (size_t i = 0; i < n; i++)
        sum_g[c->making_of[i]] += c->expected_g[i];
    for (size_t i = 0; i < n; i++) {
        size_t a = c->making_of[i];
        double part = c->expected_g[i] / sum_g[a];
        weight[a] += part * c->worked[i];
        for (size_t k = 0; k < n; k++) {
            size_t b = c->making_of[k];
            rest[a * count + b] += part * (c->expected_g[k] / sum_g[b]) * covariance[i * n + k];
        }
    }
    for (size_t a = 0; a < count; a++)
        off[a] = log(c->makings[a].weighed_g / sum_g[a]);
    *task = (struct hk_spread_task){count, off, rest, weight, 0, c->fit->tally->project->spreads.making};
    return true;
}

static bool makings_forecast(struct calibrating *c, const struct hk_spread_task *task)
{
    struct hk_calibration *face = &c->calibrated->face;
    struct hk_level level = hk_level_of(face->chance, -1);
    struct hk_spread_reading *readings = hk_arena_take(&c->scratch, task->count, sizeof *readings);
    if (!readings || !hk_spread_forecasts(task, task->prior, readings, &c->scratch))
        return false;
    for (size_t i = 0; i < task->count; i++) {
        struct hk_calibration_making *making = &c->makings[i];
        double likely = making->weighed_g * exp(-readings[i].off);
        making->forecast_g = hk_range_of(&level, likely, readings[i].spread);
        making->deviations = readings[i].off / readings[i].spread;
        face->within += making->weighed_g >= making->forecast_g.low && making->weighed_g <= making->forecast_g.high;
        face->covered += making->weighed_g <= making->forecast_g.enough;
    }
    return true;
}

/* ---- Spreads ----------------------------------------------------------------------------------------------------- */

static struct hk_calibration_spread *spread_add(struct calibrating *c, enum hk_calibrated spread, const char *name,
                                                double now)
{
    struct hk_calibration_spread *added = &c->spreads[c->spread_count++];
    *added = (struct hk_calibration_spread){
        .spread = spread, .name = name, .now = now, .estimate = now, .low = now, .high = now, .needed = EVIDENCE_LEAST};
    return added;
}

/* Estimates a spread, and proposes it where the evidence is enough and the spread in use is outside its range. */
static bool spread_fill(struct calibrating *c, struct hk_calibration_spread *spread, const struct hk_spread_task *task)
{
    struct hk_spread_estimate estimate;
    spread->enough = spread->evidence >= spread->needed;
    if (!(task->prior > 0) || spread->evidence == 0)
        return true;
    if (!hk_spread_estimate(task, &estimate, NULL, &c->scratch))
        return false;
    spread->estimate = estimate.spread;
    spread->low = estimate.low;
    spread->high = estimate.high;
    if (spread->enough && fmax(estimate.above, 1 - estimate.above) > SIDE_CHANCE)
        spread->proposal = fmin(ceil(estimate.spread / PROPOSAL_STEP) * PROPOSAL_STEP, 1);
    return true;
}

/* Pieces within their makings, with the making that was estimated. */
static bool pieces_fill(struct calibrating *c, double *covariance, double making, struct hk_calibration_spread *spread)
{
    const struct hk_fit *fit = c->holding;
    size_t n = fit->held_count;
    double *off = hk_arena_take(&c->scratch, n, sizeof *off), *weight = hk_arena_take(&c->scratch, n, sizeof *weight);
    if (c->scratch.out_of_memory)
        return false;
    for (size_t i = 0; i < n; i++) {
        off[i] = log(hk_fit_read(fit, &fit->held[i]) / c->expected_g[i]);
        weight[i] = hk_pieces_spread(fit, 1, &fit->held[i]);
        covariance[i * n + i] -= gsl_pow_2(weight[i] * spread->now);
        for (size_t k = 0; k < n; k++)
            if (c->making_of[i] == c->making_of[k])
                covariance[i * n + k] += gsl_pow_2(making) * c->worked[i] * c->worked[k];
    }
    return spread_fill(c, spread, &(struct hk_spread_task){n, off, covariance, weight, 0, spread->now});
}

static bool spreads_fill(struct calibrating *c, double *covariance, const struct hk_spread_task *makings)
{
    const struct hk_spreads *now = &c->fit->tally->project->spreads;
    struct hk_calibration_spread *making = spread_add(c, HK_CALIBRATED_MAKING, "making", now->making);
    struct hk_calibration_spread *piece = spread_add(c, HK_CALIBRATED_PIECE, "piece", now->piece);
    making->evidence = c->making_count;
    piece->evidence = c->holding->held_count - c->making_count;
    return spread_fill(c, making, makings) && pieces_fill(c, covariance, making->estimate, piece);
}

/* ---- Testers ----------------------------------------------------------------------------------------------------- */

/* Returns the tool of the line in which a tester works most of the yarn. */
static double pattern_tool_mm(const struct hk_fit *fit, const struct hk_datum *datum)
{
    const struct hk_project *project = datum->tally->project;
    double most = 0, tool_mm = 0;
    for (size_t line = 0; line < project->line_count; line++) {
        double worked = hk_tester_line(fit, NULL, datum, line, 0, NULL).worked;
        if (worked > most)
            tool_mm = project->lines[line].tool_mm;
        most = fmax(most, worked);
    }
    return tool_mm;
}

/* The forecast of a tester by the others: as the fit has it, or, for one that counts, without it (outlier.h). */
static struct hk_spread_reading tester_forecast(const struct hk_fit *fit, const struct hk_datum *datum,
                                                double *gradient)
{
    if (datum < fit->data + fit->evidence) {
        struct hk_deviation off = hk_outlier_deviation(fit, datum, gradient);
        return (struct hk_spread_reading){off.ln_ratio, datum->s / sqrt(fmax(1 - off.leverage, GSL_DBL_EPSILON))};
    }
    memset(gradient, 0, fit->count * sizeof *gradient);
    double off = -hk_fit_ln_off(fit, NULL, datum, 1, gradient);
    return (struct hk_spread_reading){off, hypot(sqrt(hk_fit_variance(fit, gradient)), datum->s)};
}

static void tester_fill(struct calibrating *c, const struct hk_datum *datum, double *gradient,
                        struct hk_calibration_tester *tester)
{
    const struct hk_fit *fit = c->fit;
    const struct hk_project *project = fit->tally->project;
    const struct hk_tester *of = &project->testers[datum->tester];
    struct hk_spread_reading reading = tester_forecast(fit, datum, gradient);
    struct hk_level level = hk_level_of(c->calibrated->face.chance, -1);
    double used_g = hk_tester_used_g(of);
    *tester =
        (struct hk_calibration_tester){.name = of->name,
                                       .size = project->size_count > 1 ? project->sizes[of->size] : "",
                                       .at = hk_cell_place(of->cell, 0),
                                       .tool_mm = of->tool_mm,
                                       .pattern_tool_mm = pattern_tool_mm(fit, datum),
                                       .gauge_stitches = of->gauge_stitches,
                                       .gauge_rows = of->gauge_rows,
                                       .used_g = used_g,
                                       .forecast_g = hk_range_of(&level, used_g * exp(-reading.off), reading.spread),
                                       .deviations = copysign(fit->readers.deviations[datum->tester], reading.off),
                                       .odd = fit->readers.deviations[datum->tester] > HK_ODD_TESTER,
                                       .left_out = datum >= fit->data + fit->evidence};
}

static bool testers_fill(struct calibrating *c)
{
    const struct hk_fit *fit = c->fit;
    const struct hk_readers *readers = &fit->readers;
    size_t count = readers->testers + readers->odd, filled = 0;
    if (count == 0)
        return true;
    struct hk_calibration *face = &c->calibrated->face;
    double *gradient = hk_arena_take(&c->scratch, fit->count, sizeof *gradient);
    struct hk_calibration_tester *testers = hk_arena_take(&c->calibrated->arena, count, sizeof *testers);
    if (!gradient || !testers)
        return false;
    const struct hk_datum *data = fit->data + fit->evidence - readers->testers;
    for (size_t t = 0; t < fit->tally->project->tester_count; t++)
        for (size_t i = 0; i < count; i++)
            if (data[i].tester == t)
                tester_fill(c, &data[i], gradient, &testers[filled++]);
    face->testers = testers;
    face->tester_count = filled;
    face->readers_more = hk_readers_ratio(fit) - 1;
    struct hk_calibration_spread *reader =
        spread_add(c, HK_CALIBRATED_READER, "reader", fit->tally->project->spreads.reader);
    reader->evidence = readers->testers;
    reader->enough = reader->evidence >= reader->needed;
    reader->estimate = hk_readers_spread(fit);
    reader->low = readers->low;
    reader->high = readers->high;
    return true;
}

/* ---- All of it --------------------------------------------------------------------------------------------------- */

static bool few_enough(const struct calibrating *c)
{
    const struct hk_fit *fit = c->holding;
    if (fit->held_count <= HK_SPREAD_READINGS_MOST)
        return true;
    hk_diags_add(c->diags, HK_CODE_FIT, hk_cell_place(hk_datum_cell(&fit->held[HK_SPREAD_READINGS_MOST]), 0),
                 "more than %zu weighings of finished work are too many to compare", HK_SPREAD_READINGS_MOST);
    hk_diags_hint(c->diags, "learn from fewer projects");
    return false;
}

static bool calibrate(struct calibrating *c)
{
    struct hk_spread_task makings;
    size_t n = c->holding->held_count;
    double *covariance = hk_arena_take(&c->scratch, n * n, sizeof *covariance);
    if (!covariance || !weighings_read(c))
        return false;
    covariance_fill(c, covariance);
    if (c->scratch.out_of_memory || !makings_task(c, covariance, &makings) ||
        (n > 0 && !makings_forecast(c, &makings)) || !spreads_fill(c, covariance, &makings) || !testers_fill(c) ||
        !left_out_fill(c))
        return false;
    struct hk_calibration *face = &c->calibrated->face;
    struct hk_calibration_spread *spreads = hk_arena_take(&c->calibrated->arena, c->spread_count, sizeof *spreads);
    for (size_t i = 0; spreads && i < c->spread_count; i++)
        spreads[i] = c->spreads[i];
    face->spreads = spreads;
    face->spread_count = c->spread_count;
    face->makings = c->makings;
    face->making_count = c->making_count + face->left_out;
    return spreads != NULL;
}

static bool options_fit(const struct hk_fit *fit, double chance, struct hk_diags *diags)
{
    if (fit->quantity == HK_QUANTITY_YARN && chance > 0 && chance < 1)
        return true;
    hk_diags_add(diags, HK_CODE_RANGE, (struct hk_place){"fit", 0, 0},
                 "a calibration is of a fit of yarn, with a chance between 0 and 1");
    return false;
}

struct hk_calibration *hk_calibration_make(const struct hk_fit *fit, double chance, struct hk_diags *diags)
{
    if (!options_fit(fit, chance, diags))
        return NULL;
    struct hk_diags known = {0}; /* the findings of the fit, which has reported them */
    hk_diags_accept_as(&known, diags);
    struct hk_fit *holding = hk_fit_holding(fit->tally, &known);
    struct calibrating c = {
        .calibrated = calloc(1, sizeof *c.calibrated), .fit = fit, .holding = holding, .diags = diags};
    if (holding)
        leave_out(fit, holding);
    bool done = false;
    if (c.calibrated && c.holding) {
        c.calibrated->face.chance = chance;
        done = few_enough(&c) && calibrate(&c);
        diags->out_of_memory |= c.scratch.out_of_memory || c.calibrated->arena.out_of_memory;
    }
    diags->out_of_memory |= !c.calibrated || known.out_of_memory;
    if (!done && diags->errors == 0 && !diags->out_of_memory) {
        hk_diags_add(diags, HK_CODE_FIT, (struct hk_place){0}, "finished work cannot be compared with its forecasts");
        hk_diags_hint(diags, "look for a spread of 0 in project.csv");
    }
    hk_arena_free(&c.scratch);
    hk_fit_free(holding);
    hk_diags_free(&known);
    if (done && !diags->out_of_memory)
        return &c.calibrated->face;
    hk_calibration_free(c.calibrated ? &c.calibrated->face : NULL);
    return NULL;
}

void hk_calibration_free(struct hk_calibration *calibration)
{
    struct calibrated *calibrated = (struct calibrated *)calibration;
    if (!calibrated)
        return;
    hk_arena_free(&calibrated->arena);
    free(calibrated);
}
