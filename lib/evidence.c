/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Swatches, then pieces in the making: each reading with its standard uncertainty. */
#include "evidence.h"

#include "diags.h"
#include "model.h"

#include <gsl/gsl_math.h>

/* A scale or a tape that is read to more than this part of the reading is worth a better one. */
#define COARSE_STEP 0.1
/* A clock is read to the minute. */
#define S_PER_MIN 60.0
#define CLOCK_STEP_S S_PER_MIN

/* ---- Swatches ---------------------------------------------------------------------------------------------------- */

/* Ends and cut lengths of a swatch at the label's grist. */
static double loose_g(const struct hk_tally *tally, const struct hk_worked *worked)
{
    const struct hk_project *project = tally->project;
    double mass_g = 0;
    for (size_t u = 0; u < worked->use_count; u++) {
        const struct hk_combination *c = &project->combinations[worked->uses[u].combination];
        for (size_t s = 0; s < c->strand_count; s++)
            mass_g += (double)c->strands[s].times * hk_label_g_m(&project->yarns[c->strands[s].yarn])
                      * (worked->uses[u].ends[s] * project->tail_m + worked->uses[u].cut_m);
    }
    return mass_g;
}

static bool is_beyond_tails(const struct hk_tally *tally, size_t i, struct hk_diags *diags)
{
    static const char hint[] = "check it, and the ends of this swatch and the tail of project.csv";
    const struct hk_swatch *swatch = &tally->project->swatches[i];
    const struct hk_worked *worked = &tally->swatches[i];
    double tails_m = 0, tails_g = loose_g(tally, worked);
    for (size_t u = 0; u < worked->use_count; u++)
        tails_m += hk_loose_m(tally, &worked->uses[u]);
    if (swatch->mass_g > 0 && swatch->mass_g <= tails_g) {
        hk_diags_add(diags, HK_SWATCH_TAILS, hk_cell_place(swatch->weight_cell, 0),
                     "swatch \"%s\" weighs %s g, but its tails alone come to %s g", swatch->name,
                     hk_number_text(swatch->mass_g, 3).text, hk_number_text(tails_g, 3).text);
        hk_diags_hint(diags, "%s", hint);
        return false;
    }
    if (swatch->unravelled_m > 0 && swatch->unravelled_m <= tails_m) {
        hk_diags_add(diags, HK_SWATCH_TAILS, hk_cell_place(swatch->cell, 0),
                     "swatch \"%s\" was unravelled to %s m, but its tails alone come to %s m", swatch->name,
                     hk_number_text(swatch->unravelled_m, 3).text, hk_number_text(tails_m, 3).text);
        hk_diags_hint(diags, "%s", hint);
        return false;
    }
    return true;
}

/* A step of 0 is exact; the reader lets none through. */
static void warn_of_coarse(const struct hk_swatch *swatch, struct hk_diags *diags)
{
    if (swatch->mass_g > 0 && swatch->scale_step_g > COARSE_STEP * swatch->mass_g) {
        hk_diags_add(diags, HK_SCALE_COARSE, hk_cell_place(swatch->weight_cell, 0),
                     "the scale's step of %s g is more than a tenth of the %s g that swatch \"%s\" weighs",
                     hk_number_text(swatch->scale_step_g, 3).text, hk_number_text(swatch->mass_g, 3).text, swatch->name);
        hk_diags_hint(diags, "use a finer scale, or weigh a larger swatch");
    }
    if (swatch->unravelled_m > 0 && swatch->tape_step_m > COARSE_STEP * swatch->unravelled_m) {
        hk_diags_add(diags, HK_SCALE_COARSE, hk_cell_place(swatch->cell, 0),
                     "the tape's step of %s m is more than a tenth of the %s m that swatch \"%s\" was unravelled "
                     "to",
                     hk_number_text(swatch->tape_step_m, 3).text, hk_number_text(swatch->unravelled_m, 3).text,
                     swatch->name);
        hk_diags_hint(diags, "use a finer tape, or unravel a larger swatch");
    }
}

static void warn_of_coarse_clock(const struct hk_swatch *swatch, struct hk_diags *diags)
{
    if (CLOCK_STEP_S <= COARSE_STEP * swatch->minutes * S_PER_MIN)
        return;
    hk_diags_add(diags, HK_SCALE_COARSE, hk_cell_place(swatch->minutes_cell, 0),
                 "a minute is more than a tenth of the %s min that swatch \"%s\" took",
                 hk_number_text(swatch->minutes, 3).text, swatch->name);
    hk_diags_hint(diags, "time a larger swatch");
}

static void datum_add(struct hk_maker *m, struct hk_datum datum)
{
    struct hk_fit *fit = m->fit;
    struct hk_datum *data = hk_arena_grow(&fit->arena, fit->data, fit->evidence, &m->data_capacity, sizeof *data);
    if (!data)
        return;
    fit->data = data;
    data[fit->evidence++] = datum;
}

static double step_spread(double step, double reading)
{
    return reading > 0 ? step / sqrt(12) / reading : 0;
}

static struct hk_datum swatch_datum(const struct hk_folder *folder, size_t i)
{
    return (struct hk_datum){.tally = folder->tally, .swatch = i, .progress = SIZE_MAX,
                             .worked = &folder->tally->swatches[i], .worked_count = 1, .of = hk_any_yarn, .making = SIZE_MAX};
}

/*
 * Relative standard uncertainties. Reading a step: step / sqrt(12), rectangular (JCGM 100:2008 4.3.7). A length
 * unravelled is crimped or stretched besides. A swatch differs from the next by its making and by its piece.
 */
static void read_swatch(struct hk_maker *m, struct hk_folder *folder, size_t i)
{
    const struct hk_spreads *spreads = &m->project->spreads;
    const struct hk_swatch *swatch = &folder->tally->project->swatches[i];
    struct hk_datum datum = swatch_datum(folder, i);
    double mass = step_spread(swatch->scale_step_g, swatch->mass_g);
    double length = hypot(step_spread(swatch->tape_step_m, swatch->unravelled_m), spreads->unravelled);
    double work = hypot(m->priors.making, m->priors.piece);
    if (swatch->mass_g > 0) {
        datum.kind = HK_WEIGHED;
        datum.reading = swatch->mass_g;
        datum.s = hypot(mass, work);
        datum_add(m, datum);
    } else if (swatch->unravelled_m > 0) {
        datum.kind = HK_UNRAVELLED;
        datum.reading = swatch->unravelled_m;
        datum.s = hypot(length, work);
        datum_add(m, datum);
    }
    if (swatch->mass_g > 0 && swatch->unravelled_m > 0) {
        datum.kind = HK_GRIST_READ;
        datum.reading = swatch->mass_g / swatch->unravelled_m;
        datum.s = hypot(mass, length);
        datum_add(m, datum);
    }
}

/* u = 1 min / sqrt(12), rectangular as above. */
static void read_clock(struct hk_maker *m, struct hk_folder *folder, size_t i)
{
    double seconds = S_PER_MIN * folder->tally->project->swatches[i].minutes;
    struct hk_datum datum = swatch_datum(folder, i);
    datum.kind = HK_TIMED;
    datum.reading = seconds;
    datum.s = hypot(CLOCK_STEP_S / sqrt(12) / seconds, hypot(m->priors.making, m->priors.piece));
    datum_add(m, datum);
}

static bool is_evidence(enum hk_quantity quantity, const struct hk_swatch *swatch)
{
    return quantity == HK_TIME ? swatch->minutes > 0 : swatch->mass_g > 0 || swatch->unravelled_m > 0;
}

void hk_evidence_enter(struct hk_maker *m, struct hk_folder *folder)
{
    const struct hk_project *project = folder->tally->project;
    bool timing = m->fit->quantity == HK_TIME;
    for (size_t i = 0; i < project->swatch_count; i++) {
        const struct hk_swatch *swatch = &project->swatches[i];
        if (!is_evidence(m->fit->quantity, swatch) || (!timing && !is_beyond_tails(folder->tally, i, m->diags)))
            continue;
        if (timing)
            warn_of_coarse_clock(swatch, m->diags);
        else
            warn_of_coarse(swatch, m->diags);
        if (!hk_enter_worked(m, folder, &folder->tally->swatches[i], hk_any_yarn, !timing && swatch->mass_g > 0)) {
            hk_diags_add(m->diags, HK_SWATCH_TAILS, hk_cell_place(swatch->cell, 0),
                         "swatch \"%s\" has no stitch that takes %s", swatch->name, timing ? "time" : "yarn");
            hk_diags_hint(m->diags, "check its fabric, stitches and rows");
            continue;
        }
        if (timing)
            read_clock(m, folder, i);
        else
            read_swatch(m, folder, i);
    }
}

/* ---- Pieces in the making ---------------------------------------------------------------------------------------- */

static bool is_read(const struct hk_maker *m, size_t i)
{
    const struct hk_so_far *so_far = &m->fit->tally->progress[i];
    return m->fit->quantity == HK_TIME ? so_far->timed : so_far->weighed;
}

/*
 * Of a making that is read once B sits in s, as with a swatch: the posterior is the same, and the fit smaller. Where there
 * are several readings they share B.
 */
static bool making_read_again(const struct hk_maker *m, size_t size)
{
    size_t readings = 0;
    for (size_t i = 0; i < m->project->progress_count; i++)
        readings += m->project->progress[i].size == size && is_read(m, i);
    return readings > 1;
}

static bool enter_so_far(struct hk_maker *m, const struct hk_so_far *so_far, struct hk_of_yarn of, bool grists)
{
    bool any = false;
    for (size_t w = 0; w < so_far->count; w++)
        any |= hk_enter_worked(m, &m->fit->folders[0], &so_far->worked[w], of, grists);
    return any;
}

/*
 * Each copy of each line has its own c, N(0, piece^2): of a sum of W_j, sum_j (W_j / W)^2 piece^2, at the priors. n copies of
 * one line are n terms of (W_j / n)^2.
 */
static double pieces_spread(const struct hk_maker *m, const struct hk_datum *datum)
{
    enum hk_taken_as measure = datum->kind == HK_TIMED ? HK_ALONE : HK_GRAMS;
    double all = 0, squares = 0;
    for (size_t w = 0; w < datum->worked_count; w++) {
        double worked = hk_thing_amount(m->fit, NULL, datum, &datum->worked[w], measure, 0, NULL).worked;
        all += worked;
        squares += worked > 0 ? gsl_pow_2(worked) / (double)datum->worked[w].times : 0;
    }
    return all > 0 ? m->priors.piece * sqrt(squares) / all : m->priors.piece;
}

/* What it weighs must be more than its ends, at the label's grist. */
static bool so_far_beyond_tails(const struct hk_maker *m, const struct hk_datum *datum)
{
    const struct hk_progress *progress = &m->project->progress[datum->progress];
    double loose_g = 0;
    for (size_t w = 0; w < datum->worked_count; w++)
        loose_g += hk_thing_amount(m->fit, NULL, datum, &datum->worked[w], HK_GRAMS, 0, NULL).loose;
    if (progress->mass_g > loose_g)
        return true;
    hk_diags_add(m->diags, HK_SWATCH_TAILS, hk_cell_place(progress->weight_cell, 0),
                 "%s comes to %s g so far, but its tails alone come to %s g", progress->title,
                 hk_number_text(progress->mass_g, 3).text, hk_number_text(loose_g, 3).text);
    hk_diags_hint(m->diags, "check the weight and the rows, the ends in pieces.csv and the tail of project.csv");
    return false;
}

static void warn_of_coarse_progress(const struct hk_maker *m, const struct hk_progress *progress)
{
    if (m->fit->quantity == HK_YARN && progress->scale_step_g > COARSE_STEP * progress->mass_g) {
        hk_diags_add(m->diags, HK_SCALE_COARSE, hk_cell_place(progress->weight_cell, 0),
                     "the scale's step of %s g is more than a tenth of the %s g that %s comes to so far",
                     hk_number_text(progress->scale_step_g, 3).text, hk_number_text(progress->mass_g, 3).text,
                     progress->title);
        hk_diags_hint(m->diags, "use a finer scale, or weigh again when more is worked");
    }
    if (m->fit->quantity == HK_TIME && CLOCK_STEP_S > COARSE_STEP * progress->minutes * S_PER_MIN) {
        hk_diags_add(m->diags, HK_SCALE_COARSE, hk_cell_place(progress->minutes_cell, 0),
                     "a clock read to the minute says little of the %s min that %s took",
                     hk_number_text(progress->minutes, 3).text, progress->title);
        hk_diags_hint(m->diags, "time more of it");
    }
}

static void read_progress(struct hk_maker *m, size_t i)
{
    const struct hk_progress *progress = &m->project->progress[i];
    const struct hk_so_far *so_far = &m->fit->tally->progress[i];
    bool timing = m->fit->quantity == HK_TIME;
    struct hk_datum datum = {
        .kind = timing ? HK_TIMED : HK_WEIGHED, .tally = m->fit->tally, .swatch = SIZE_MAX, .progress = i,
        .worked = so_far->worked, .worked_count = so_far->count, .of = timing ? hk_any_yarn : progress->of,
        .making = SIZE_MAX, .reading = timing ? S_PER_MIN * progress->minutes : progress->mass_g,
    };
    if (!enter_so_far(m, so_far, datum.of, !timing)) {
        hk_diags_add(m->diags, HK_SWATCH_TAILS, hk_cell_place(progress->cell, 0), "%s has no stitch that takes %s so far",
                     progress->title, timing ? "time" : "that yarn");
        hk_diags_hint(m->diags, "check its yarn and its rows");
        return;
    }
    if (m->fit->arena.lost || (!timing && !so_far_beyond_tails(m, &datum)))
        return;
    warn_of_coarse_progress(m, progress);
    datum.s = hypot(step_spread(timing ? CLOCK_STEP_S : progress->scale_step_g, datum.reading), pieces_spread(m, &datum));
    if (making_read_again(m, progress->size))
        datum.making = hk_enter(m, (struct hk_parameter){.kind = HK_MAKING, .key = progress->size, .sd = m->priors.making});
    else
        datum.s = hypot(datum.s, m->priors.making);
    datum_add(m, datum);
}

void hk_evidence_enter_progress(struct hk_maker *m)
{
    for (size_t i = 0; i < m->project->progress_count && m->fit->tally->progress; i++)
        if (is_read(m, i))
            read_progress(m, i);
}
