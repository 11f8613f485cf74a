/* SPDX-License-Identifier: GPL-3.0-or-later */
/* See readers.h. */
#include "model/readers.h"

#include "base/diags.h"
#include "model/evidence.h"
#include "model/model.h"
#include "model/outlier.h"
#include "model/spread_estimate.h"
#include "project/gauge.h"

#include <gsl/gsl_math.h>

/* A tester's tool beyond this ratio to the pattern's, or a gauge beyond this part of it, is reported: probably a slip.
 */
#define TOOL_RATIO 2.0
#define GAUGE_RATIO 1.34
/* At most this part of the testers is left out as odd, and at least one: where more are, none is known to be right. */
#define ODD_PART 4
#define NORMAL_5_PERCENT 1.6448536269514722

struct hk_readers hk_readers_unknown(const struct hk_project *project)
{
    double spread = project->spreads.reader;
    return (struct hk_readers){.parameter = SIZE_MAX,
                               .spread = spread,
                               .low = spread * exp(-NORMAL_5_PERCENT * HK_SPREAD_PRIOR),
                               .high = spread * exp(NORMAL_5_PERCENT * HK_SPREAD_PRIOR)};
}

static const struct hk_tester *tester_of(const struct hk_datum *datum)
{
    return &datum->tally->project->testers[datum->tester];
}

/* ---- Tool and gauge ---------------------------------------------------------------------------------------------- */

/* The line of the tester's size in which most of the yarn is worked; NULL where there is none. */
static const struct hk_line *main_line(const struct hk_fit *fit, const struct hk_datum *datum)
{
    const struct hk_project *project = datum->tally->project;
    const struct hk_line *found = NULL;
    double most = 0;
    for (size_t line = 0; line < project->line_count; line++) {
        double worked = hk_tester_line(fit, NULL, datum, line, 0, NULL).worked;
        if (worked > most)
            found = &project->lines[line];
        most = fmax(most, worked);
    }
    return found;
}

static void warn_of_tool(const struct hk_tester *tester, const struct hk_line *line, struct hk_diags *diags)
{
    double ratio = tester->tool_mm / line->tool_mm;
    if (!(tester->tool_mm > 0) || (ratio <= TOOL_RATIO && ratio >= 1 / TOOL_RATIO))
        return;
    hk_diags_add(diags, HK_CODE_UNUSUAL, hk_cell_place(tester->tool_cell, 0),
                 "%s worked on %s mm, and the pattern on %s mm", tester->name, hk_number_text(tester->tool_mm, 4).text,
                 hk_number_text(line->tool_mm, 4).text);
    hk_diags_hint(diags, "check the tool; the answer does not depend on it");
}

/* Returns G: 0 with a warning where the pattern has no gauge to compare with. */
static double ln_gauge(const struct hk_project *project, const struct hk_tester *tester, const struct hk_line *line,
                       struct hk_diags *diags)
{
    const struct hk_swatch *swatch = hk_gauge_swatch(project, line->fabric, line->tool_mm, false);
    struct hk_place at = hk_cell_place(tester->gauge_cell, 0);
    if (!(tester->gauge_stitches > 0))
        return 0;
    if (!swatch || !(swatch->gauge_rows > 0)) {
        hk_diags_add(diags, HK_CODE_UNUSUAL, at,
                     "the gauge of %s is left out: no swatch in %s has stitches and rows to compare", tester->name,
                     line->fabric->name);
        hk_diags_hint(diags, "write the gauge of the pattern into swatches.csv");
        return 0;
    }
    double stitches = swatch->gauge_stitches / tester->gauge_stitches, rows = swatch->gauge_rows / tester->gauge_rows;
    if (fmax(fmax(stitches, 1 / stitches), fmax(rows, 1 / rows)) > GAUGE_RATIO) {
        hk_diags_add(diags, HK_CODE_UNUSUAL, at, "%s has %s x %s in 10 cm, and swatch \"%s\" %s x %s", tester->name,
                     hk_number_text(tester->gauge_stitches, 3).text, hk_number_text(tester->gauge_rows, 3).text,
                     swatch->name, hk_number_text(swatch->gauge_stitches, 3).text,
                     hk_number_text(swatch->gauge_rows, 3).text);
        hk_diags_hint(diags, "check which fabric it is of, and the length that it was counted in");
    }
    return log(stitches * rows) / 2;
}

/* ---- Data ---------------------------------------------------------------------------------------------------- */

/* Enters the parameters of the tester's work. Returns false where none of it takes the yarn. */
static bool enter_work(struct hk_maker *m, const struct hk_tester *tester)
{
    const struct hk_tally *tally = m->fit->tally;
    const struct hk_project *project = tally->project;
    bool all = true;
    for (size_t i = 0; i < tester->used_count; i++) {
        const struct hk_tester_used *used = &tester->used[i];
        bool any = false;
        for (size_t line = 0; line < project->line_count; line++) {
            const struct hk_worked *worked = &tally->lines[tester->size * project->line_count + line];
            if (worked->times > 0)
                any |= hk_enter_worked(m, worked, (struct hk_entering){used->of, false, false});
        }
        if (used->yarn != SIZE_MAX)
            hk_enter_grist(m, used->yarn);
        for (size_t yarn = 0; used->yarn == SIZE_MAX && yarn < project->yarn_count; yarn++)
            if (m->fit->folders[0].grists[yarn] != SIZE_MAX)
                hk_enter_grist(m, yarn);
        if (!any) {
            hk_diags_add(m->diags, HK_CODE_TESTER, hk_cell_place(used->cell, 0),
                         "size %s of the design takes none of that yarn", project->sizes[tester->size]);
            hk_diags_hint(m->diags, "check the size and the yarn");
        }
        all &= any;
    }
    return all;
}

/*
 * The reading in grams of the label, by the median of H; its variance, with that of H, which all yarns of a room share.
 * The parts of the yarns are those expected, the derivatives by their ln g.
 */
static void read_scale(struct hk_maker *m, const struct hk_tester *tester, struct hk_datum *datum)
{
    double scale_g2 = 0, ln = 0, sd = 0, *gradient = hk_arena_take(&m->fit->arena, m->fit->count, sizeof *gradient);
    datum->reading = hk_tester_used_g(tester);
    for (size_t i = 0; i < tester->used_count; i++) {
        const struct hk_scale *scale = &tester->used[i].scale;
        scale_g2 += gsl_pow_2(hk_step_spread(scale->step_g, 1)) + gsl_pow_2(scale->accuracy_g) / 3;
    }
    if (!gradient)
        return;
    datum->s = sqrt(scale_g2) / datum->reading;
    hk_fit_ln_off(m->fit, NULL, datum, 1, gradient);
    for (size_t i = 0; i < m->project->yarn_count; i++) {
        size_t grist = m->fit->folders[0].grists[i];
        if (grist == SIZE_MAX)
            continue;
        ln += gradient[grist] * m->project->yarns[i].ln_weighs;
        sd += gradient[grist] * m->project->yarns[i].ln_weighs_sd;
    }
    datum->reading *= exp(-ln);
    datum->s = hypot(datum->s, sd);
}

/* Adds the making and the pieces to s, at the prior; reports a reading that is not above the tester's tails. */
static bool add_makings(struct hk_maker *m, struct hk_datum *datum)
{
    double worked = 0, loose = 0, squares = 0;
    for (size_t line = 0; line < m->project->line_count; line++) {
        const struct hk_worked *of = &datum->tally->lines[tester_of(datum)->size * m->project->line_count + line];
        struct hk_taken amount = hk_tester_line(m->fit, NULL, datum, line, 0, NULL);
        worked += amount.worked;
        loose += amount.loose;
        squares += amount.worked > 0 ? gsl_pow_2(amount.worked) / (double)of->times : 0;
    }
    if (datum->reading <= loose) {
        hk_diags_add(m->diags, HK_CODE_SWATCH_TAILS, hk_cell_place(tester_of(datum)->used[0].cell, 0),
                     "%s used %s g, but the tails of the design alone come to %s g", tester_of(datum)->name,
                     hk_number_text(datum->reading, 3).text, hk_number_text(loose, 3).text);
        hk_diags_hint(m->diags, "check the amount and its unit, the size and the yarn");
        return false;
    }
    double making = m->priors.making * worked / (worked + loose),
           piece = m->priors.piece * sqrt(squares) / (worked + loose);
    datum->s = hypot(datum->s, hypot(making, piece));
    return true;
}

static void enter_tester(struct hk_maker *m, size_t i)
{
    const struct hk_tester *tester = &m->project->testers[i];
    struct hk_datum datum = hk_datum_new(m);
    datum.kind = HK_DATUM_TESTER;
    datum.tester = i;
    if (!enter_work(m, tester) || m->fit->arena.out_of_memory)
        return;
    read_scale(m, tester, &datum);
    const struct hk_line *line = main_line(m->fit, &datum);
    if (line) {
        warn_of_tool(tester, line, m->diags);
        datum.ln_gauge = ln_gauge(m->project, tester, line, m->diags);
    }
    if (add_makings(m, &datum))
        hk_datum_add(m, &datum);
}

void hk_testers_enter(struct hk_maker *m)
{
    struct hk_readers *readers = &m->fit->readers;
    size_t before = m->fit->evidence;
    if (m->project->tester_count == 0)
        return;
    m->testers = true;
    readers->parameter =
        hk_enter(m, (struct hk_parameter){.kind = HK_PARAM_READERS, .sd = m->project->spreads.reader / M_SQRT2});
    for (size_t i = 0; i < m->project->tester_count && readers->parameter != SIZE_MAX; i++)
        enter_tester(m, i);
    m->testers = false;
    readers->testers = m->fit->evidence - before;
}

/* ---- The estimate ------------------------------------------------------------------------------------------------ */

/* The task of spread_estimate.h: readings y, their covariance but for the readers, the part that is worked. */
struct residuals {
    double *off, *rest, *weight;
};

static bool residuals_make(const struct hk_fit *fit, const struct hk_datum *data, struct residuals *residuals,
                           struct hk_arena *scratch)
{
    size_t n = fit->readers.testers, p = fit->readers.parameter;
    double *gradients = hk_arena_take(scratch, n * fit->count, sizeof *gradients);
    double *along = hk_arena_take(scratch, fit->count, sizeof *along);
    residuals->off = hk_arena_take(scratch, n, sizeof *residuals->off);
    residuals->weight = hk_arena_take(scratch, n, sizeof *residuals->weight);
    residuals->rest = hk_arena_take(scratch, n * n, sizeof *residuals->rest);
    if (scratch->out_of_memory)
        return false;
    for (size_t i = 0; i < n; i++) {
        double *gradient = gradients + i * fit->count;
        residuals->off[i] = -hk_fit_ln_off(fit, NULL, &data[i], 1, gradient);
        residuals->weight[i] = gradient[p];
        gradient[p] = 0;
    }
    for (size_t i = 0; i < n; i++) {
        hk_fit_along(fit, gradients + i * fit->count, along);
        for (size_t k = 0; k < n; k++)
            residuals->rest[i * n + k] =
                hk_fit_dot(fit, along, gradients + k * fit->count) + (i == k ? gsl_pow_2(data[i].s) : 0);
    }
    return true;
}

/* Estimates the spread from the testers that count, with their deviations from the forecasts by the others. */
static bool estimate_counted(struct hk_fit *fit, struct hk_spread_estimate *estimate, struct residuals *residuals,
                             double *deviations, struct hk_arena *scratch)
{
    double prior = fit->tally->project->spreads.reader;
    if (!residuals_make(fit, fit->data + fit->evidence - fit->readers.testers, residuals, scratch))
        return false;
    struct hk_spread_task task = {fit->readers.testers, residuals->off, residuals->rest, residuals->weight, 0.5, prior};
    *estimate = (struct hk_spread_estimate){prior, prior, prior, 0.5};
    return !(prior > 0) || hk_spread_estimate(&task, estimate, deviations, scratch);
}

static size_t oddest(const double *deviations, size_t count)
{
    size_t found = SIZE_MAX;
    for (size_t i = 0; i < count; i++)
        if (deviations[i] > HK_OUTLIER_DEVIATIONS && (found == SIZE_MAX || deviations[i] > deviations[found]))
            found = i;
    return found;
}

/* Moves a tester behind those that count; the others keep their order. */
static void leave_out(struct hk_fit *fit, size_t tester)
{
    struct hk_datum *data = fit->data + fit->evidence - fit->readers.testers, odd = data[tester];
    for (size_t i = tester; i + 1 < fit->readers.testers; i++)
        data[i] = data[i + 1];
    data[fit->readers.testers - 1] = odd;
    fit->evidence--;
    fit->readers.testers--;
    fit->readers.odd++;
}

static void report_odd(const struct hk_fit *fit, const struct hk_datum *datum, struct hk_arena *scratch,
                       struct hk_diags *diags)
{
    bool counts = datum < fit->data + fit->evidence;
    double ratio = exp(-hk_fit_ln_off(fit, NULL, datum, 0, NULL));
    hk_diags_add(diags, HK_CODE_OUTLIER, hk_cell_place(tester_of(datum)->used[0].cell, 0),
                 "%s used %s%s what the design and the other testers lead to expect%s", tester_of(datum)->name,
                 hk_outlier_ratio(scratch, ratio, "more", "less"), ratio >= 1.995 ? "" : " than",
                 counts ? "" : ", and is left out");
    hk_diags_hint(
        diags, "check the amount, the size, the yarn and the gauge, and whether it is all of the design and no more%s",
        counts ? "; if they are right, it may stay" : "");
}

void hk_readers_report(const struct hk_fit *fit, struct hk_arena *scratch, struct hk_diags *diags)
{
    const struct hk_datum *data = fit->data + fit->evidence - fit->readers.testers;
    for (size_t i = 0; i < fit->readers.testers + fit->readers.odd; i++)
        if (fit->readers.deviations[data[i].tester] > HK_ODD_TESTER)
            report_odd(fit, &data[i], scratch, diags);
}

bool hk_readers_estimate(struct hk_fit *fit, struct hk_arena *scratch)
{
    struct hk_readers *readers = &fit->readers;
    struct residuals residuals;
    struct hk_spread_estimate estimate;
    size_t all = readers->testers, most = all / ODD_PART > 0 ? all / ODD_PART : 1;
    double *deviations = hk_arena_take(scratch, all, sizeof *deviations);
    readers->deviations = hk_arena_take(&fit->arena, fit->tally->project->tester_count, sizeof *readers->deviations);
    if (!deviations || !readers->deviations)
        return false;
    for (;;) {
        if (!estimate_counted(fit, &estimate, &residuals, deviations, scratch))
            return false;
        struct hk_datum *data = fit->data + fit->evidence - readers->testers;
        for (size_t i = 0; i < readers->testers; i++)
            readers->deviations[data[i].tester] = deviations[i];
        size_t odd = readers->odd < most ? oddest(deviations, readers->testers) : SIZE_MAX;
        if (odd == SIZE_MAX)
            break;
        leave_out(fit, odd);
        if (readers->testers == 0)
            return true;
    }
    readers->spread = estimate.spread;
    readers->low = estimate.low;
    readers->high = estimate.high;
    struct hk_datum *data = fit->data + fit->evidence - readers->testers;
    for (size_t i = 0; i < readers->testers + readers->odd; i++)
        data[i].s = hypot(data[i].s, estimate.spread / M_SQRT2);
    fit->parameters[readers->parameter].sd = estimate.spread / M_SQRT2;
    return true;
}

/* ---- Predictions for readers ------------------------------------------------------------------------------------- */

double hk_readers_spread(const struct hk_fit *fit)
{
    return fit->readers.testers > 0 ? fit->readers.spread : fit->tally->project->spreads.reader;
}

double hk_readers_ratio(const struct hk_fit *fit)
{
    return fit->readers.testers > 0 ? exp(fit->parameters[fit->readers.parameter].value) : 1;
}

double hk_readers_variance(const struct hk_fit *fit)
{
    double all = gsl_pow_2(hk_readers_spread(fit));
    if (fit->readers.testers == 0)
        return all;
    return all / 2 + fit->covariance[fit->readers.parameter * (fit->count + 1)];
}

double hk_readers_covariance(const struct hk_fit *fit, const double *gradient)
{
    double sum = 0;
    for (size_t i = 0; i < fit->count && fit->readers.testers > 0; i++)
        sum += gradient[i] * fit->covariance[i * fit->count + fit->readers.parameter];
    return sum;
}
