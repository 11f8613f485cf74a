/* SPDX-License-Identifier: GPL-3.0-or-later */
/* See outlier.h. */
#include "model/outlier.h"

#include "base/diags.h"
#include "base/text.h"
#include "model/chance.h"

#include <gsl/gsl_machine.h>
#include <gsl/gsl_math.h>
#include <string.h>

/* A ratio within this part of a factor suggests its usual cause. */
#define SLIP_TOLERANCE 0.1

/*
 * Compares a reading with its expectation by the loop rule and all other evidence. With J its row and h = J C J^T its
 * leverage, leaving it out (linearised) moves its residual r to r / (1 - h), whose standard deviation is 1 / sqrt(1 -
 * h): so its distance is r / sqrt(1 - h) deviations. The residual itself is not usable: a single swatch pulls the fit
 * towards it, and a weighing ten times too heavy would have a residual below 3. Source: leverage and deleted residuals,
 * any text on regression diagnostics.
 */
struct hk_deviation hk_outlier_deviation(const struct hk_fit *fit, const struct hk_datum *datum, double *gradient)
{
    memset(gradient, 0, fit->count * sizeof *gradient);
    hk_fit_ln_off(fit, NULL, datum, 1 / datum->s, gradient);
    double leverage = hk_fit_variance(fit, gradient);
    double left = fmax(1 - leverage, GSL_DBL_EPSILON);
    return (struct hk_deviation){leverage, -datum->residual * datum->s / left, fabs(datum->residual) / sqrt(left)};
}

const char *hk_outlier_ratio(struct hk_arena *scratch, double ratio, const char *more, const char *less)
{
    const char *text = ratio >= 1000    ? "over 1000 times"
                       : ratio >= 9.95  ? hk_arena_print(scratch, "%.0f times", ratio)
                       : ratio >= 1.995 ? hk_arena_print(scratch, "%s times", hk_number_text(ratio, 2).text)
                       : ratio > 1      ? hk_arena_print(scratch, "%.0f%% %s", 100 * (ratio - 1), more)
                       : ratio < 0.01   ? hk_arena_print(scratch, "over 99%% %s", less)
                                        : hk_arena_print(scratch, "%.0f%% %s", 100 * (1 - ratio), less);
    return text ? text : "";
}

struct hk_deviation hk_outlier_left_out(const struct hk_fit *fit, const struct hk_datum *datum, double *gradient)
{
    memset(gradient, 0, fit->count * sizeof *gradient);
    double off = -hk_fit_ln_off(fit, NULL, datum, 1, gradient);
    return (struct hk_deviation){0, off, fabs(off) / hypot(sqrt(hk_fit_variance(fit, gradient)), datum->s)};
}

struct hk_place hk_outlier_place(const struct hk_datum *datum)
{
    const struct hk_project *project = datum->tally->project;
    const bool timed = datum->kind == HK_DATUM_TIMED;
    if (datum->yarn != SIZE_MAX)
        return hk_cell_place(project->yarns[datum->yarn].ball_cell, 0);
    if (datum->swatch != SIZE_MAX) {
        const struct hk_swatch *swatch = &project->swatches[datum->swatch];
        return hk_cell_place(timed                                ? swatch->minutes_cell
                             : datum->kind == HK_DATUM_UNRAVELLED ? swatch->cell
                                                                  : swatch->weight_cell,
                             0);
    }
    const struct hk_progress *progress = &project->progress[datum->progress];
    return hk_cell_place(timed ? progress->minutes_cell : progress->weight_cell, 0);
}

/* ---- Findings ---------------------------------------------------------------------------------------------------- */

/* An outlier: its ratio to the expectation by all others, in words that end with "than" where they compare. */
struct outlier {
    const struct hk_datum *datum;
    bool left_out;
    double ratio;
    const char *more, *than;
};

static bool is_about(double ratio, double factor)
{
    return fabs(log(ratio / factor)) < log(1 + SLIP_TOLERANCE) || fabs(log(ratio * factor)) < log(1 + SLIP_TOLERANCE);
}

/* Returns what usually causes such a ratio, as the start of a hint; "" where nothing does. */
static const char *usual_slip(const struct outlier *outlier)
{
    const double ratio = outlier->ratio;
    if (outlier->datum->kind == HK_DATUM_TIMED || outlier->datum->kind == HK_DATUM_UNRAVELLED)
        return is_about(ratio, 10) ? "a factor of 10 is often a decimal point; " : "";
    if (is_about(ratio, HK_G_PER_OUNCE))
        return ratio < 1 ? "a factor of 28 is often ounces written as grams; "
                         : "a factor of 28 is often grams written as ounces; ";
    if (is_about(ratio, 10))
        return "a factor of 10 is often a decimal point; ";
    if (is_about(ratio, 100))
        return "a factor of 100 is often a decimal point; ";
    if (is_about(ratio, 2))
        return ratio < 1 ? "half is often one of two that were on the scale; "
                         : "double is often two on the scale, counted as one; ";
    return "";
}

/* Returns true for a place in an option of that name, or that begins so. */
static bool is_typed(struct hk_place at, const char *option)
{
    return at.file && hk_text_starts(at.file, option);
}

/* Adds the finding, and its hint: the usual slip, what to check, and how a reading that is right is kept. */
static void outlier_add(struct hk_diags *diags, struct hk_arena *scratch, const struct outlier *outlier,
                        const char *message, const char *check)
{
    const struct hk_place at = hk_outlier_place(outlier->datum);
    const bool typed = is_typed(at, "--");
    const char *text =
        hk_arena_print(scratch, "%s%s", message ? message : "", outlier->left_out ? ", and is left out" : "");
    hk_diags_add(diags, HK_CODE_OUTLIER, at, "%s", text ? text : "");
    hk_diags_hint(diags, "%s%s; %s", usual_slip(outlier), check ? check : "",
                  !outlier->left_out ? "if they are right, it may stay"
                  : typed            ? "if they are right, write it into progress.csv with outlier in the column ok"
                                     : "if they are right, write outlier into its column ok, and it counts");
}

/* Warns of a piece in progress, weighed or timed. */
static void warn_of_progress(const struct outlier *outlier, struct hk_arena *scratch, struct hk_diags *diags)
{
    const struct hk_progress *progress = &outlier->datum->tally->project->progress[outlier->datum->progress];
    if (outlier->datum->kind == HK_DATUM_TIMED) {
        outlier_add(diags, scratch, outlier,
                    hk_arena_print(scratch, "%s took %s%s the minutes that its stitches and all else lead to expect",
                                   progress->title, outlier->more, outlier->than),
                    "check the minutes, the copies and the rows");
        return;
    }
    const bool typed = is_typed(hk_outlier_place(outlier->datum), "--left");
    outlier_add(diags, scratch, outlier,
                hk_arena_print(scratch, "%s comes to %s%s what its stitches, tool and yarn lead to expect",
                               progress->title, outlier->more, outlier->than),
                !(outlier->datum->left_g > 0)
                    ? "check the weight (a bag or a tin on the scale), the count of rows and copies, and the hook or "
                      "needle"
                : typed ? "check the weight (a bag or a tin on the scale), full balls that --left does not state, what "
                          "was in hand, the count of rows and copies, and the hook or needle"
                        : "check the weight (a bag or a tin on the scale, a ball not counted), what was in hand, the "
                          "count of rows and copies, and the hook or needle");
}

/* Warns of full balls on the scale: H. */
static void warn_of_balls(const struct outlier *outlier, struct hk_arena *scratch, struct hk_diags *diags)
{
    const struct hk_datum *datum = outlier->datum;
    const struct hk_yarn *yarn = &datum->tally->project->yarns[datum->yarn];
    outlier_add(
        diags, scratch, outlier,
        hk_arena_print(scratch,
                       "a ball of %s weighs %s g, %s%s the %s g that its label of %s g and the other weighings lead to "
                       "expect",
                       yarn->name, hk_number_text(datum->reading, 4).text, outlier->more, outlier->than,
                       hk_number_text(datum->reading / outlier->ratio, 3).text, hk_number_text(yarn->put_up_g, 4).text),
        "check the weight (a bag or a tin on the scale), how many balls it is of, and put_up");
}

static void warn_of_swatch(const struct outlier *outlier, struct hk_arena *scratch, struct hk_diags *diags)
{
    const struct hk_datum *datum = outlier->datum;
    const char *name = datum->tally->project->swatches[datum->swatch].name, *more = outlier->more,
               *than = outlier->than;
    if (datum->kind == HK_DATUM_WEIGHED)
        outlier_add(diags, scratch, outlier,
                    hk_arena_print(scratch, "swatch \"%s\" weighs %s%s what its stitches, tool and yarn lead to expect",
                                   name, more, than),
                    "check the weight, the stitches and rows, the tool, and the yarn's label");
    else if (datum->kind == HK_DATUM_UNRAVELLED)
        outlier_add(diags, scratch, outlier,
                    hk_arena_print(
                        scratch, "swatch \"%s\" was unravelled to %s%s what its stitches, tool and yarn lead to expect",
                        name, more, than),
                    "check the length, the stitches and rows, and the tool");
    else if (datum->kind == HK_DATUM_TIMED)
        outlier_add(diags, scratch, outlier,
                    hk_arena_print(scratch,
                                   "swatch \"%s\" took %s%s the minutes that its stitches and all else lead to expect",
                                   name, more, than),
                    "check the minutes, and the stitches and rows");
    else
        outlier_add(diags, scratch, outlier,
                    hk_arena_print(scratch, "swatch \"%s\" makes its yarn %s g a metre, %s%s what is expected", name,
                                   hk_number_text(datum->reading, 3).text, more, than),
                    "check the weight, the unravelled length, and the yarn's put-up and length");
}

static void report_outlier(const struct hk_datum *datum, bool left_out, double ratio, struct hk_arena *scratch,
                           struct hk_diags *diags)
{
    const bool grist = datum->kind == HK_DATUM_GRIST;
    const struct outlier outlier = {
        datum, left_out, ratio,
        hk_outlier_ratio(scratch, ratio, grist ? "heavier" : "more", grist ? "lighter" : "less"),
        ratio >= 1.995 ? "" : " than"};
    if (datum->yarn != SIZE_MAX)
        warn_of_balls(&outlier, scratch, diags);
    else if (datum->swatch != SIZE_MAX)
        warn_of_swatch(&outlier, scratch, diags);
    else
        warn_of_progress(&outlier, scratch, diags);
}

/* ---- Scatter ----------------------------------------------------------------------------------------------------- */

/* The confidence level at which scatter is reported. */
#define SCATTER_CHANCE 0.95
#define SCATTER_STEP 0.01 /* a suggested spread is rounded up to a multiple of this */

/*
 * R^2 = sum r^2 / sum (1 - h) over everything weighed and unravelled, without priors and balls (R. T. Birge 1932): 1
 * when the scatter agrees with the spreads. `expected`: sum (1 - h), the mean of sum r^2; its variance is at most 2 *
 * expected, so the chi-square distribution with `expected` degrees of freedom is wide enough.
 */
struct scatter {
    double squares, expected, spreads; /* spreads: sum of s^2 */
    size_t count;
    const struct hk_datum *first;
};

static void scatter_add(struct scatter *scatter, const struct hk_datum *datum, double leverage)
{
    if (datum->kind != HK_DATUM_WEIGHED && datum->kind != HK_DATUM_UNRAVELLED)
        return;
    scatter->squares += datum->residual * datum->residual;
    scatter->expected += fmax(1 - leverage, 0);
    scatter->spreads += datum->s * datum->s;
    if (scatter->count++ == 0)
        scatter->first = datum;
}

/* Attributes the excess scatter to the makings: making^2 + (R^2 - 1) times the mean of s^2. */
static void report_scatter(const struct hk_fit *fit, const struct scatter *scatter, struct hk_diags *diags)
{
    double making = fit->tally->project->spreads.making;
    if (scatter->count < 2 || !(scatter->expected > 0) ||
        hk_chi_square_chance(scatter->squares, scatter->expected) < SCATTER_CHANCE)
        return;
    double ratio = scatter->squares / scatter->expected;
    double wider = sqrt(making * making + (ratio - 1) * scatter->spreads / (double)scatter->count);
    hk_diags_add(diags, HK_CODE_SCATTER, hk_cell_place(hk_datum_cell(scatter->first), 0),
                 "the weighings lie %s times as far apart as one day's work from another is taken to",
                 hk_number_text(sqrt(ratio), 2).text);
    hk_diags_hint(
        diags,
        "check them; if they are right, write making,%s into project.csv, so that the range is as wide as they say",
        hk_number_text(fmin(ceil(wider / SCATTER_STEP) * SCATTER_STEP, 1), 2).text);
}

/* Of the readings of a swatch that are left out together, the farthest is reported. */
static bool is_reported(const struct hk_fit *fit, size_t odd, double *gradient)
{
    const struct hk_datum *datum = &fit->odd[odd];
    const double own = hk_outlier_left_out(fit, datum, gradient).deviations;
    bool farther = false;
    for (size_t i = 0; i < fit->odd_count; i++)
        farther |= hk_datum_same_swatch(&fit->odd[i], datum) &&
                   hk_outlier_left_out(fit, &fit->odd[i], gradient).deviations > own;
    return !farther;
}

/*
 * Outliers are reported first, and scatter only without them: one outlier makes the whole set scatter. Testers, the
 * last data, are compared with each other (readers.c).
 */
void hk_outlier_report(const struct hk_fit *fit, struct hk_arena *scratch, struct hk_diags *diags)
{
    double *gradient = hk_arena_take(scratch, fit->count, sizeof *gradient);
    struct scatter scatter = {0};
    bool any_outlier = false;
    for (size_t i = 0; gradient && i < fit->evidence - fit->readers.testers; i++) {
        struct hk_deviation off = hk_outlier_deviation(fit, &fit->data[i], gradient);
        scatter_add(&scatter, &fit->data[i], off.leverage);
        if (!(off.deviations > HK_OUTLIER_DEVIATIONS))
            continue;
        any_outlier = true;
        report_outlier(&fit->data[i], false, exp(off.ln_ratio), scratch, diags);
    }
    for (size_t i = 0; gradient && i < fit->odd_count; i++) {
        any_outlier = true;
        if (is_reported(fit, i, gradient))
            report_outlier(&fit->odd[i], true, exp(hk_outlier_left_out(fit, &fit->odd[i], gradient).ln_ratio), scratch,
                           diags);
    }
    if (gradient && !any_outlier && fit->quantity == HK_QUANTITY_YARN)
        report_scatter(fit, &scatter, diags);
}
