/* SPDX-License-Identifier: GPL-3.0-or-later */
/* See outlier.h. */
#include "model/outlier.h"

#include "base/diags.h"
#include "model/chance.h"

#include <gsl/gsl_machine.h>
#include <gsl/gsl_math.h>
#include <string.h>

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

/* Warns of a piece in progress, weighed or timed. */
static void warn_of_outlying_progress(const struct hk_datum *datum, double ratio, struct hk_arena *scratch,
                                      struct hk_diags *diags)
{
    const struct hk_progress *progress = &datum->tally->project->progress[datum->progress];
    bool timed = datum->kind == HK_DATUM_TIMED;
    hk_diags_add(diags, HK_CODE_OUTLIER, hk_cell_place(timed ? progress->minutes_cell : progress->weight_cell, 0),
                 timed ? "%s took %s%s the minutes that its stitches and all else lead to expect"
                       : "%s comes to %s%s what its stitches, tool and yarn lead to expect",
                 progress->title, hk_outlier_ratio(scratch, ratio, "more", "less"), ratio >= 1.995 ? "" : " than");
    hk_diags_hint(diags,
                  timed ? "check the minutes, the copies and the rows; if they are right, it may stay"
                        : "check the scale, the count of rows and copies, and the hook or needle; if they are right, "
                          "the tension has changed, and it may stay");
}

/* Warns of full balls on the scale: H. */
static void warn_of_outlying_balls(const struct hk_datum *datum, double ratio, struct hk_arena *scratch,
                                   struct hk_diags *diags)
{
    const struct hk_yarn *yarn = &datum->tally->project->yarns[datum->yarn];
    hk_diags_add(diags, HK_CODE_OUTLIER, hk_cell_place(yarn->ball_cell, 0),
                 "a ball of %s weighs %s g, %s%s the %s g of its label and all else lead to expect", yarn->name,
                 hk_number_text(datum->reading, 4).text, hk_outlier_ratio(scratch, ratio, "more", "less"),
                 ratio >= 1.995 ? "" : " than", hk_number_text(yarn->put_up_g, 4).text);
    hk_diags_hint(diags, "check the weight, how many balls it is of, and put_up; if they are right, it may stay");
}

static void warn_of_outlier(const struct hk_datum *datum, double ratio, struct hk_arena *scratch,
                            struct hk_diags *diags)
{
    const struct hk_swatch *swatch = &datum->tally->project->swatches[datum->swatch];
    const char *than = ratio >= 1.995 ? "" : " than";
    switch (datum->kind) {
    case HK_DATUM_WEIGHED:
        hk_diags_add(diags, HK_CODE_OUTLIER, hk_cell_place(swatch->weight_cell, 0),
                     "swatch \"%s\" weighs %s%s what its stitches, tool and yarn lead to expect", swatch->name,
                     hk_outlier_ratio(scratch, ratio, "more", "less"), than);
        hk_diags_hint(
            diags, "check the weight, the stitches and rows, the tool, and the yarn's label; if they are right, it may "
                   "stay");
        break;
    case HK_DATUM_UNRAVELLED:
        hk_diags_add(diags, HK_CODE_OUTLIER, hk_cell_place(swatch->cell, 0),
                     "swatch \"%s\" was unravelled to %s%s what its stitches, tool and yarn lead to expect",
                     swatch->name, hk_outlier_ratio(scratch, ratio, "more", "less"), than);
        hk_diags_hint(diags, "check the length, the stitches and rows, and the tool; if they are right, it may stay");
        break;
    case HK_DATUM_GRIST:
        hk_diags_add(diags, HK_CODE_OUTLIER, hk_cell_place(swatch->weight_cell, 0),
                     "swatch \"%s\" makes its yarn %s g a metre, %s%s expected", swatch->name,
                     hk_number_text(datum->reading, 3).text, hk_outlier_ratio(scratch, ratio, "heavier", "lighter"),
                     ratio >= 1.995 ? " what is" : than);
        hk_diags_hint(diags, "check the weight, the unravelled length, and the yarn's put-up and length");
        break;
    case HK_DATUM_TIMED:
        hk_diags_add(diags, HK_CODE_OUTLIER, hk_cell_place(swatch->minutes_cell, 0),
                     "swatch \"%s\" took %s%s the minutes that its stitches and all else lead to expect", swatch->name,
                     hk_outlier_ratio(scratch, ratio, "more", "less"), than);
        hk_diags_hint(diags, "check the minutes, and the stitches and rows; if they are right, it may stay");
        break;
    case HK_DATUM_BALL:
    case HK_DATUM_TESTER:
        break;
    }
}

static void report_outliers(const struct hk_datum *datum, double ratio, struct hk_arena *scratch,
                            struct hk_diags *diags)
{
    if (datum->yarn != SIZE_MAX)
        warn_of_outlying_balls(datum, ratio, scratch, diags);
    else if (datum->swatch != SIZE_MAX)
        warn_of_outlier(datum, ratio, scratch, diags);
    else
        warn_of_outlying_progress(datum, ratio, scratch, diags);
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
        report_outliers(&fit->data[i], exp(off.ln_ratio), scratch, diags);
    }
    if (gradient && !any_outlier && fit->quantity == HK_QUANTITY_YARN)
        report_scatter(fit, &scatter, diags);
}
