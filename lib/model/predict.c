/* SPDX-License-Identifier: GPL-3.0-or-later */
/* See predict.h. */
#include "model/predict.h"

#include "model/chance.h"

#include <gsl/gsl_math.h>

/* Returns the amount of one line, in all copies, and adds the gradient of W. */
static struct hk_extent line_amount(const struct hk_asked *asked, const struct hk_worked *line, double *gradient)
{
    struct hk_extent amount = {0, 0};
    double copies = (double)line->times, day = asked->making ? exp(asked->making->value) : 1;
    for (size_t u = 0; u < line->use_count; u++) {
        const struct hk_use *use = &line->uses[u];
        struct hk_asked_of of = asked->of(asked->context, use);
        struct hk_ground ground = {asked->fit->tally, use->combination, line->tool_mm, false};
        amount.loose += copies * of.loose;
        if (of.strands > 0)
            amount.worked += day * copies * of.strands *
                             hk_fit_worked(asked->fit, NULL, ground, use->kinds, day * copies * of.strands, gradient);
    }
    return amount;
}

void hk_predict(const struct hk_asked *asked, const struct hk_priors *priors, struct hk_predicted *predicted)
{
    struct hk_total worked = {0}, loose = {0}, squares = {0};
    for (size_t j = 0; j < asked->line_count; j++) {
        const struct hk_worked *line = &asked->lines[j];
        if (line->times <= 0)
            continue;
        struct hk_extent amount = predicted->lines[j] = line_amount(asked, line, predicted->gradient);
        hk_total_add(&worked, amount.worked);
        hk_total_add(&loose, amount.loose);
        hk_total_add(&squares, gsl_pow_2(amount.worked) / (double)line->times);
    }
    predicted->sum = (struct hk_extent){hk_total_value(worked), hk_total_value(loose)};
    double total = predicted->total = predicted->sum.worked + predicted->sum.loose;
    predicted->garment_variance = predicted->variance = 0;
    if (!(total > 0))
        return;
    struct hk_priors spreads = *priors;
    if (asked->making) {
        predicted->gradient[asked->making - asked->fit->parameters] += predicted->sum.worked;
        spreads.making = 0;
    }
    for (size_t i = 0; i < asked->fit->count; i++)
        predicted->gradient[i] /= total;
    predicted->garment_variance = hk_garment_covariance(&spreads, gsl_pow_2(predicted->sum.worked / total),
                                                        hk_total_value(squares) / gsl_pow_2(total));
    predicted->variance = hk_fit_variance(asked->fit, predicted->gradient) + predicted->garment_variance;
}

double hk_garment_covariance(const struct hk_priors *priors, double worked, double pieces)
{
    return worked * gsl_pow_2(priors->making) + pieces * gsl_pow_2(priors->piece);
}

struct hk_level hk_level_of(double chance, double margin)
{
    return (struct hk_level){margin, hk_normal_quantile(HK_LOW_CHANCE), hk_normal_quantile(HK_HIGH_CHANCE),
                             hk_normal_quantile(chance)};
}

double hk_enough(const struct hk_level *level, double likely, double spread)
{
    return level->margin >= 0 ? likely * (1 + level->margin) : likely * exp(spread * level->enough);
}

struct hk_range hk_range_of(const struct hk_level *level, double likely, double spread)
{
    return (struct hk_range){.likely = likely,
                             .low = likely * exp(spread * level->low),
                             .high = likely * exp(spread * level->high),
                             .enough = hk_enough(level, likely, spread)};
}

double hk_chance_within(double ln_ratio, double spread)
{
    if (spread > 0)
        return hk_normal_chance(ln_ratio / spread);
    return ln_ratio >= 0 ? 1 : 0;
}

double hk_join_g(const struct hk_project *project, double g_m, double longest_row_m)
{
    return g_m * (2 * project->tail_m + (project->join_anywhere ? 0 : longest_row_m / 2));
}
