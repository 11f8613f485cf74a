/* SPDX-License-Identifier: GPL-3.0-or-later */
/* See odd.h. */
#include "odd.h"

#include "diags.h"

#include <gsl/gsl_machine.h>
#include <gsl/gsl_math.h>
#include <string.h>

/* Standard deviations between a reading and what all else leads to expect. */
#define ODD_DEVIATIONS 3.0

/*
 * A reading against what the loop rule and all other evidence lead to expect. With J its row and h = J C J^T its
 * leverage, leaving it out (linearised) moves its residual r to r / (1 - h), whose standard deviation is 1 / sqrt(1 -
 * h): so it is r / sqrt(1 - h) deviations off. The residual itself would not do: a lone swatch pulls the fit with it,
 * and a weighing ten times too heavy would show a residual below 3. Source: leverage and deleted residuals, any text on
 * regression diagnostics.
 */
static double deviations_off(const struct hk_fit *fit, const struct hk_datum *datum, double *gradient, double *ln_ratio)
{
    memset(gradient, 0, fit->count * sizeof *gradient);
    hk_fit_ln_datum(fit, NULL, datum, 1 / datum->s, gradient);
    double leverage = hk_fit_variance(fit, gradient);
    double left = fmax(1 - leverage, GSL_DBL_EPSILON);
    *ln_ratio = -datum->residual * datum->s / left;
    return fabs(datum->residual) / sqrt(left);
}

/* "35% more", "2.3 times": of a ratio that is far from 1. */
static const char *how_much(struct hk_arena *scratch, double ratio, const char *more, const char *less)
{
    const char *text = ratio >= 1000    ? "over 1000 times"
                       : ratio >= 9.95  ? hk_arena_print(scratch, "%.0f times", ratio)
                       : ratio >= 1.995 ? hk_arena_print(scratch, "%s times", hk_number_text(ratio, 2).text)
                       : ratio > 1      ? hk_arena_print(scratch, "%.0f%% %s", 100 * (ratio - 1), more)
                       : ratio < 0.01   ? hk_arena_print(scratch, "over 99%% %s", less)
                                        : hk_arena_print(scratch, "%.0f%% %s", 100 * (1 - ratio), less);
    return text ? text : "";
}

/* A piece in the making, weighed or timed. */
static void warn_of_odd_progress(const struct hk_datum *datum, double ratio, struct hk_arena *scratch, struct hk_diags *diags)
{
    const struct hk_progress *progress = &datum->tally->project->progress[datum->progress];
    bool timed = datum->kind == HK_TIMED;
    hk_diags_add(diags, HK_SWATCH_ODD, hk_cell_place(timed ? progress->minutes_cell : progress->weight_cell, 0),
                 timed ? "%s took %s%s the minutes that its stitches and all else lead to expect"
                       : "%s comes to %s%s what its stitches, tool and yarn lead to expect",
                 progress->title, how_much(scratch, ratio, "more", "less"), ratio >= 1.995 ? "" : " than");
    hk_diags_hint(diags, "check the %s, the copies and the rows; if they are right, it may stay",
                  timed ? "minutes" : "weight");
}

static void warn_of_odd(const struct hk_datum *datum, double ratio, struct hk_arena *scratch, struct hk_diags *diags)
{
    const struct hk_swatch *swatch = &datum->tally->project->swatches[datum->swatch];
    const char *than = ratio >= 1.995 ? "" : " than";
    switch (datum->kind) {
    case HK_WEIGHED:
        hk_diags_add(diags, HK_SWATCH_ODD, hk_cell_place(swatch->weight_cell, 0),
                     "swatch \"%s\" weighs %s%s what its stitches, tool and yarn lead to expect", swatch->name,
                     how_much(scratch, ratio, "more", "less"), than);
        hk_diags_hint(diags, "check the weight, the stitches and rows, the tool, and the yarn's label; if they are right, it may "
                             "stay");
        break;
    case HK_UNRAVELLED:
        hk_diags_add(diags, HK_SWATCH_ODD, hk_cell_place(swatch->cell, 0),
                     "swatch \"%s\" was unravelled to %s%s what its stitches, tool and yarn lead to expect",
                     swatch->name, how_much(scratch, ratio, "more", "less"), than);
        hk_diags_hint(diags, "check the length, the stitches and rows, and the tool; if they are right, it may stay");
        break;
    case HK_GRIST_READ:
        hk_diags_add(diags, HK_SWATCH_ODD, hk_cell_place(swatch->weight_cell, 0),
                     "swatch \"%s\" makes its yarn %s g a metre, %s%s expected", swatch->name,
                     hk_number_text(datum->reading, 3).text, how_much(scratch, ratio, "heavier", "lighter"),
                     ratio >= 1.995 ? " what is" : than);
        hk_diags_hint(diags, "check the weight, the unravelled length, and the yarn's put-up and length");
        break;
    case HK_TIMED:
        hk_diags_add(diags, HK_SWATCH_ODD, hk_cell_place(swatch->minutes_cell, 0),
                     "swatch \"%s\" took %s%s the minutes that its stitches and all else lead to expect", swatch->name,
                     how_much(scratch, ratio, "more", "less"), than);
        hk_diags_hint(diags, "check the minutes, and the stitches and rows; if they are right, it may stay");
        break;
    }
}

void hk_odd_say(const struct hk_fit *fit, struct hk_arena *scratch, struct hk_diags *diags)
{
    double *gradient = hk_arena_take(scratch, fit->count, sizeof *gradient);
    for (size_t i = 0; gradient && i < fit->evidence; i++) {
        double ln_ratio = 0;
        if (deviations_off(fit, &fit->data[i], gradient, &ln_ratio) > ODD_DEVIATIONS)
            (fit->data[i].swatch == SIZE_MAX ? warn_of_odd_progress : warn_of_odd)(&fit->data[i], exp(ln_ratio), scratch, diags);
    }
}
