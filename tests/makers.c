/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "makers.h"

#include "model/chance.h"

#include <gsl/gsl_randist.h>
#include <stdlib.h>

#define MAKERS 2000

enum { PARAMETERS_MOST = 32 };

void makers_garment(struct handmade *h, size_t sizes)
{
    handmade_start(h, sizes, 3);
    h->project.tail_m = 0.15;
    size_t main = handmade_yarn(h, "main", -1);
    for (size_t size = 0; size < sizes; size++) {
        double larger = 1 + 0.2 * (double)size;
        handmade_line(h, size, 0, 5, 1, (struct handmade_use){main, DC, 9000 * larger, 120, 4, 0});
        handmade_line(h, size, 1, 4.5, 2, (struct handmade_use){main, DC, 2800 * larger, 60, 4, 0});
        handmade_line(h, size, 2, 4, 1, (struct handmade_use){main, SC, 2400 * larger, 240, 2, 0});
    }
}

void makers_take_in_hand(struct handmade *h, struct in_hand *in_hand, struct hk_progress row,
                         struct hk_progress_work done)
{
    *in_hand = (struct in_hand){0};
    for (size_t i = 0; i < 2; i++) {
        in_hand->worked[i] = h->worked[i];
        in_hand->worked[i].times = 1;
        in_hand->rows[i] = row;
        in_hand->rows[i].title = "in hand";
        in_hand->rows[i].of = (struct hk_of_yarn){SIZE_MAX, SIZE_MAX};
        in_hand->done[i] = done;
        in_hand->done[i].worked = &in_hand->worked[i];
        in_hand->done[i].count = 1;
    }
    h->project.progress = in_hand->rows;
    h->project.progress_count = 2;
    h->tally.progress = in_hand->done;
}

static double a_day(const struct maker *maker, const struct measure *measure)
{
    return gsl_ran_gaussian(maker->rng, measure->day_sd);
}

/* The amount of each line of the garment, which is a single making. */
static void work_garment(const struct maker *maker, const struct measure *measure, double *taken)
{
    const struct hk_project *project = &maker->design->project;
    const struct hk_worked *last_size = &maker->design->worked[(project->size_count - 1) * project->line_count];
    double day = a_day(maker, measure);
    for (size_t line = 0; line < project->line_count; line++) {
        double looser = measure->loosens * ((double)line + 0.5) / (double)project->line_count;
        taken[line] = measure->take(maker, &last_size[line], day + looser);
        taken[line] += measure->finish ? measure->finish(&last_size[line]) : 0;
    }
}

static void read_all(const struct maker *maker, const struct measure *measure, const double *garment)
{
    struct hk_project *project = &maker->design->project;
    for (size_t i = 0; i < project->swatch_count; i++) {
        double day = a_day(maker, measure);
        measure->read_swatch(maker, &maker->design->swatches[i],
                             measure->take(maker, &maker->design->worked_swatches[i], day));
    }
    double day = project->progress_count > 0 ? a_day(maker, measure) : 0;
    for (size_t i = 0; i < project->progress_count; i++)
        measure->read_progress(maker, &project->progress[i],
                               measure->same_garment ? garment[0]
                                                     : measure->take(maker, maker->design->tally.progress[i].worked, day));
    if (measure->read_balls)
        measure->read_balls(maker, &maker->design->yarns[0]);
}

static struct hk_fit *fit_of(const struct handmade *h, const struct measure *measure)
{
    struct hk_diags diags = {0};
    struct hk_fit *fit = measure->fit(&h->tally, &diags);
    assert_non_null(fit);
    hk_diags_free(&diags);
    return fit;
}

/*
 * Returns whether one maker stays within the prediction. The parameters are the same for every fit of this design: only
 * readings differ.
 */
static bool holds(struct handmade *h, const struct hk_fit *template, const struct measure *measure, gsl_rng *rng)
{
    double x[PARAMETERS_MOST], spread;
    assert_true(template->count <= PARAMETERS_MOST);
    for (size_t i = 0; i < template->count; i++)
        x[i] = template->parameters[i].prior + gsl_ran_gaussian(rng, template->parameters[i].sd);
    struct maker maker = {h, template, x, rng};
    if (measure->differ)
        measure->differ(&maker, x);
    double garment[HANDMADE_LINES], sum = 0;
    work_garment(&maker, measure, garment);
    for (size_t line = 0; line < h->project.line_count; line++)
        sum += garment[line];
    read_all(&maker, measure, garment);
    struct hk_fit *fit = fit_of(h, measure);
    bool held = sum <= measure->bound(fit, h->project.size_count - 1, &spread);
    hk_fit_free(fit);
    return held;
}

double assert_calibrated(struct handmade *h, const struct measure *measure, const char *what, double least, double most)
{
    double spread, held = 0;
    struct hk_fit *template = fit_of(h, measure);
    gsl_rng *rng = hk_random_new(measure->seed);
    assert_non_null(rng);
    measure->bound(template, h->project.size_count - 1, &spread);
    for (size_t i = 0; i < MAKERS; i++)
        held += holds(h, template, measure, rng) ? 1.0 / MAKERS : 0;
    print_message("%s: a 95%% bound held for %.2f%% of %d makers (spread about %.1f%%)\n", what, 100 * held, MAKERS,
                  100 * spread);
    gsl_rng_free(rng);
    hk_fit_free(template);
    assert_true(100 * held >= least);
    assert_true(100 * held <= most);
    return 100 * held;
}
