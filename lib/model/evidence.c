/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The data of the fit: readings of swatches, balls and pieces in progress, each with its standard uncertainty. */
#include "model/evidence.h"

#include "base/diags.h"
#include "model/model.h"

#include <gsl/gsl_math.h>

/* A step of a scale or tape above this part of the reading gets a warning. */
#define COARSE_STEP 0.1
/* A clock is read to the minute. */
#define S_PER_MIN 60.0
#define CLOCK_STEP_S S_PER_MIN

/* ---- Swatches ---------------------------------------------------------------------------------------------------- */

/* Returns the mass of the ends and cut lengths of a swatch at the label's grist. */
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
    double copies = (double)worked->times, tails_m = 0, tails_g = copies * loose_g(tally, worked);
    for (size_t u = 0; u < worked->use_count; u++)
        tails_m += copies * hk_loose_m(tally, &worked->uses[u]);
    if (swatch->mass_g > 0 && swatch->mass_g <= tails_g) {
        hk_diags_add(diags, HK_CODE_SWATCH_TAILS, hk_cell_place(swatch->weight_cell, 0),
                     "swatch \"%s\" weighs %s g, but its tails alone come to %s g", swatch->name,
                     hk_number_text(swatch->mass_g, 3).text, hk_number_text(tails_g, 3).text);
        hk_diags_hint(diags, "%s", hint);
        return false;
    }
    if (swatch->unravelled_m > 0 && swatch->unravelled_m <= tails_m) {
        hk_diags_add(diags, HK_CODE_SWATCH_TAILS, hk_cell_place(swatch->cell, 0),
                     "swatch \"%s\" was unravelled to %s m, but its tails alone come to %s m", swatch->name,
                     hk_number_text(swatch->unravelled_m, 3).text, hk_number_text(tails_m, 3).text);
        hk_diags_hint(diags, "%s", hint);
        return false;
    }
    return true;
}

/* Warns of a coarse scale or tape. A step of 0 would be exact; the reader rejects it. */
static void warn_of_coarse(const struct hk_swatch *swatch, struct hk_diags *diags)
{
    if (swatch->mass_g > 0 && swatch->scale.step_g > COARSE_STEP * swatch->mass_g) {
        hk_diags_add(diags, HK_CODE_SCALE_COARSE, hk_cell_place(swatch->weight_cell, 0),
                     "the scale's step of %s g is more than a tenth of the %s g that swatch \"%s\" weighs",
                     hk_number_text(swatch->scale.step_g, 3).text, hk_number_text(swatch->mass_g, 3).text, swatch->name);
        hk_diags_hint(diags, "use a finer scale, or weigh a larger swatch");
    }
    if (swatch->unravelled_m > 0 && swatch->tape_step_m > COARSE_STEP * swatch->unravelled_m) {
        hk_diags_add(diags, HK_CODE_SCALE_COARSE, hk_cell_place(swatch->cell, 0),
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
    hk_diags_add(diags, HK_CODE_SCALE_COARSE, hk_cell_place(swatch->minutes_cell, 0),
                 "a minute is more than a tenth of the %s min that swatch \"%s\" took",
                 hk_number_text(swatch->minutes, 3).text, swatch->name);
    hk_diags_hint(diags, "time a larger swatch");
}

static void list_add(struct hk_arena *arena, struct hk_datum **list, size_t *count, size_t *capacity,
                     const struct hk_datum *datum)
{
    struct hk_datum *data = hk_arena_grow(arena, *list, *count, capacity, sizeof *data);
    if (!data)
        return;
    *list = data;
    data[*count] = *datum;
    data[*count].number = *count;
    (*count)++;
}

void hk_datum_add(struct hk_maker *m, const struct hk_datum *datum)
{
    struct hk_fit *fit = m->fit;
    if (m->holds && datum->progress != SIZE_MAX)
        list_add(&fit->arena, &fit->held, &fit->held_count, &m->held_capacity, datum);
    else
        list_add(&fit->arena, &fit->data, &fit->evidence, &m->data_capacity, datum);
}

double hk_step_spread(double step, double reading)
{
    return reading > 0 ? step / sqrt(12) / reading : 0;
}

/*
 * Adds the offset of the scale, common to all weighings on it in one folder: Z ~ N(0, accuracy^2 / 3), from rectangular
 * limits (JCGM 100:2008 4.3.7). Its effect on ln of a reading of mass_g is Z / mass_g, to first order.
 */
static void put_on_scale(struct hk_maker *m, const struct hk_scale *scale, double mass_g, struct hk_datum *datum)
{
    if (!(scale->accuracy_g > 0) || !(mass_g > 0))
        return;
    datum->per_g = 1 / mass_g;
    datum->scale = hk_enter(m, (struct hk_parameter){
        .kind = HK_PARAM_SCALE, .folder = m->folder, .scale = *scale, .sd = scale->accuracy_g / sqrt(3)});
}

struct hk_datum hk_datum_new(const struct hk_maker *m)
{
    return (struct hk_datum){.tally = m->fit->folders[m->folder].tally, .folder = m->folder, .swatch = SIZE_MAX,
                             .progress = SIZE_MAX, .yarn = SIZE_MAX, .of = hk_any_yarn, .making = SIZE_MAX,
                             .scale = SIZE_MAX, .left_ball = SIZE_MAX};
}

static struct hk_datum swatch_datum(const struct hk_maker *m, size_t i)
{
    struct hk_datum datum = hk_datum_new(m);
    datum.swatch = i;
    datum.worked = &datum.tally->swatches[i];
    datum.worked_count = 1;
    return datum;
}

/*
 * Relative standard uncertainties. Reading a step: step / sqrt(12), rectangular (JCGM 100:2008 4.3.7). An unravelled
 * length is also crimped or stretched. Swatches differ by making and by piece; copies measured together are pieces of
 * one making.
 */
static double work_spread(const struct hk_priors *priors, const struct hk_datum *datum)
{
    return hypot(priors->making, priors->piece / sqrt((double)datum->worked->times));
}

static void read_swatch(struct hk_maker *m, size_t i)
{
    const struct hk_spreads *spreads = &m->project->spreads;
    struct hk_datum datum = swatch_datum(m, i);
    const struct hk_swatch *swatch = &datum.tally->project->swatches[i];
    double mass = hk_step_spread(swatch->scale.step_g, swatch->mass_g);
    double length = hypot(hk_step_spread(swatch->tape_step_m, swatch->unravelled_m), spreads->unravelled);
    double work = work_spread(&m->priors, &datum);
    put_on_scale(m, &swatch->scale, swatch->mass_g, &datum);
    if (swatch->mass_g > 0) {
        datum.kind = HK_DATUM_WEIGHED;
        datum.reading = swatch->mass_g;
        datum.s = hypot(mass, work);
        hk_datum_add(m, &datum);
    } else { /* is_evidence: unravelled */
        datum.kind = HK_DATUM_UNRAVELLED;
        datum.reading = swatch->unravelled_m;
        datum.s = hypot(length, work);
        hk_datum_add(m, &datum);
    }
    if (swatch->mass_g > 0 && swatch->unravelled_m > 0) {
        datum.kind = HK_DATUM_GRIST;
        datum.reading = swatch->mass_g / swatch->unravelled_m;
        datum.s = hypot(mass, length);
        hk_datum_add(m, &datum);
    }
}

/* u = 1 min / sqrt(12), rectangular as above. */
static void read_clock(struct hk_maker *m, size_t i)
{
    struct hk_datum datum = swatch_datum(m, i);
    double seconds = S_PER_MIN * datum.tally->project->swatches[i].minutes;
    datum.kind = HK_DATUM_TIMED;
    datum.reading = seconds;
    datum.s = hypot(CLOCK_STEP_S / sqrt(12) / seconds, work_spread(&m->priors, &datum));
    hk_datum_add(m, &datum);
}

static bool is_evidence(enum hk_quantity quantity, const struct hk_swatch *swatch)
{
    return quantity == HK_QUANTITY_TIME ? swatch->minutes > 0 : swatch->mass_g > 0 || swatch->unravelled_m > 0;
}

static void enter_swatches(struct hk_maker *m)
{
    const struct hk_folder *folder = &m->fit->folders[m->folder];
    const struct hk_project *project = folder->tally->project;
    bool timing = m->fit->quantity == HK_QUANTITY_TIME;
    for (size_t i = 0; i < project->swatch_count; i++) {
        const struct hk_swatch *swatch = &project->swatches[i];
        if (!is_evidence(m->fit->quantity, swatch) || (!timing && !is_beyond_tails(folder->tally, i, m->diags)))
            continue;
        if (timing)
            warn_of_coarse_clock(swatch, m->diags);
        else
            warn_of_coarse(swatch, m->diags);
        if (!hk_enter_worked(m, &folder->tally->swatches[i],
                             (struct hk_entering){hk_any_yarn, true, !timing && swatch->mass_g > 0})) {
            hk_diags_add(m->diags, HK_CODE_SWATCH_TAILS, hk_cell_place(swatch->cell, 0),
                         "swatch \"%s\" has no stitch that takes %s", swatch->name, timing ? "time" : "yarn");
            hk_diags_hint(m->diags, "check its fabric, stitches and rows");
            continue;
        }
        if (timing)
            read_clock(m, i);
        else
            read_swatch(m, i);
    }
}

/* ---- Balls ------------------------------------------------------------------------------------------------------- */

/*
 * Enters weighings of full balls: H, with the variation between balls. Only of yarns that the design or other data use.
 */
static void enter_balls(struct hk_maker *m)
{
    const struct hk_folder *folder = &m->fit->folders[m->folder];
    const struct hk_project *project = folder->tally->project;
    for (size_t i = 0; i < project->yarn_count; i++) {
        const struct hk_yarn *yarn = &project->yarns[i];
        if (!(yarn->ball_g > 0) || hk_fit_find(m->fit, HK_PARAM_BALL, 0, 0, yarn->name) == SIZE_MAX)
            continue;
        struct hk_datum datum = hk_datum_new(m);
        datum.kind = HK_DATUM_BALL;
        datum.yarn = i;
        datum.reading = yarn->ball_g / (double)yarn->ball_count;
        datum.s = hypot(hk_step_spread(yarn->ball_scale.step_g, yarn->ball_g),
                        m->project->spreads.ball / sqrt((double)yarn->ball_count));
        hk_enter_ball(m, i);
        put_on_scale(m, &yarn->ball_scale, yarn->ball_g, &datum);
        hk_datum_add(m, &datum);
    }
}

/* ---- Pieces in progress ---------------------------------------------------------------------------------------- */

static const struct hk_tally *tally_of(const struct hk_maker *m)
{
    return m->fit->folders[m->folder].tally;
}

static bool is_read(const struct hk_maker *m, size_t i)
{
    const struct hk_progress_work *done = &tally_of(m)->progress[i];
    return m->fit->quantity == HK_QUANTITY_TIME ? done->timed : done->weighed;
}

static bool enter_done(struct hk_maker *m, const struct hk_datum *datum, bool weighed)
{
    bool any = false;
    for (size_t w = 0; w < datum->worked_count; w++)
        any |= hk_enter_worked(m, &datum->worked[w], (struct hk_entering){datum->of, false, weighed});
    return any;
}

/* Sets the work of a row, with that of the rows before it that were on the scale too. */
static void set_work(struct hk_maker *m, size_t i, struct hk_datum *datum)
{
    const struct hk_progress_work *done = datum->tally->progress;
    size_t first = i - datum->tally->project->progress[i].with, count = 0;
    datum->worked = done[i].worked;
    datum->worked_count = done[i].count;
    if (first == i)
        return;
    for (size_t k = first; k <= i; k++)
        count += done[k].count;
    struct hk_worked *all = hk_arena_take(&m->fit->arena, count, sizeof *all);
    datum->worked = all;
    datum->worked_count = 0;
    for (size_t k = first; all && k <= i; k++)
        for (size_t w = 0; w < done[k].count; w++)
            all[datum->worked_count++] = done[k].worked[w];
}

/* Returns the parameter H of the single yarn weighed; SIZE_MAX if the work has no strand of it. */
static size_t ball_of(const struct hk_maker *m, const struct hk_datum *datum)
{
    const struct hk_folder *folder = &m->fit->folders[m->folder];
    for (size_t w = 0; w < datum->worked_count; w++) {
        for (size_t u = 0; u < datum->worked[w].use_count; u++) {
            const struct hk_combination *c = &datum->tally->project->combinations[datum->worked[w].uses[u].combination];
            for (size_t s = 0; s < c->strand_count; s++)
                if (hk_of_yarn(datum->of, c->strands[s].role, c->strands[s].yarn))
                    return folder->balls[c->strands[s].yarn];
        }
    }
    return SIZE_MAX;
}

double hk_pieces_spread(const struct hk_fit *fit, double piece, const struct hk_datum *datum)
{
    enum hk_taken_as measure = datum->kind == HK_DATUM_TIMED ? HK_TAKEN_ALONE : HK_TAKEN_GRAMS;
    double all = 0, squares = 0;
    for (size_t w = 0; w < datum->worked_count; w++) {
        double worked = hk_thing_amount(fit, NULL, datum, &datum->worked[w], measure, 0, NULL).worked;
        all += worked;
        squares += worked > 0 ? gsl_pow_2(worked) / (double)datum->worked[w].times : 0;
    }
    return piece * sqrt(squares) / all;
}

/*
 * Returns the mass used: as weighed, or the mass at the start by the labels less the mass left, converted to grams of
 * the label.
 */
static double used_g(const struct hk_maker *m, const struct hk_datum *datum)
{
    double off = datum->left_g > 0 ? m->fit->parameters[datum->left_ball].prior : 0;
    return datum->reading - datum->left_g * exp(-off);
}

/* Returns false with a finding when the mass is not above that of its ends at the label's grist. */
static bool done_beyond_tails(const struct hk_maker *m, const struct hk_datum *datum)
{
    const struct hk_progress *progress = &datum->tally->project->progress[datum->progress];
    double loose_g = 0, mass_g = used_g(m, datum);
    for (size_t w = 0; w < datum->worked_count; w++)
        loose_g += hk_thing_amount(m->fit, NULL, datum, &datum->worked[w], HK_TAKEN_GRAMS, 0, NULL).loose;
    if (mass_g > loose_g)
        return true;
    if (!(mass_g > 0)) {
        hk_diags_add(m->diags, HK_CODE_PROGRESS, hk_cell_place(progress->weight_cell, 0),
                     "%s g are left of %s g in hand: no more is gone than what yarn may lose in a dry room",
                     hk_number_text(progress->left_g, 6).text, hk_number_text(progress->hand_g, 6).text);
        hk_diags_hint(m->diags, "weigh again when more is worked, or weigh what is worked and write used");
        return false;
    }
    hk_diags_add(m->diags, HK_CODE_SWATCH_TAILS, hk_cell_place(progress->weight_cell, 0),
                 "%s comes to %s g so far, but its tails alone come to %s g", progress->title,
                 hk_number_text(mass_g, 3).text, hk_number_text(loose_g, 3).text);
    hk_diags_hint(m->diags, "check the weight and the rows, the ends in pieces.csv and the tail of project.csv");
    return false;
}

static void warn_of_coarse_progress(const struct hk_maker *m, const struct hk_progress *progress)
{
    if (m->fit->quantity == HK_QUANTITY_YARN && progress->scale.step_g > COARSE_STEP * progress->mass_g) {
        hk_diags_add(m->diags, HK_CODE_SCALE_COARSE, hk_cell_place(progress->weight_cell, 0),
                     "the scale's step of %s g is more than a tenth of the %s g that %s comes to so far",
                     hk_number_text(progress->scale.step_g, 3).text, hk_number_text(progress->mass_g, 3).text,
                     progress->title);
        hk_diags_hint(m->diags, "use a finer scale, or weigh again when more is worked");
    }
    if (m->fit->quantity == HK_QUANTITY_TIME && CLOCK_STEP_S > COARSE_STEP * progress->minutes * S_PER_MIN) {
        hk_diags_add(m->diags, HK_CODE_SCALE_COARSE, hk_cell_place(progress->minutes_cell, 0),
                     "a clock read to the minute says little of the %s min that %s took",
                     hk_number_text(progress->minutes, 3).text, progress->title);
        hk_diags_hint(m->diags, "time more of it");
    }
}

/* Returns the datum of a row of progress.csv: weighed (used or left) or timed. */
static struct hk_datum progress_datum(struct hk_maker *m, size_t i)
{
    const struct hk_tally *tally = tally_of(m);
    const struct hk_progress *progress = &tally->project->progress[i];
    bool timing = m->fit->quantity == HK_QUANTITY_TIME, left = !timing && progress->left_g > 0;
    struct hk_datum datum = hk_datum_new(m);
    datum.kind = timing ? HK_DATUM_TIMED : HK_DATUM_WEIGHED;
    datum.progress = i;
    set_work(m, i, &datum);
    datum.of = timing ? hk_any_yarn : progress->of;
    datum.reading = timing ? S_PER_MIN * progress->minutes : left ? progress->hand_g : progress->mass_g;
    datum.left_g = left ? progress->left_g : 0;
    return datum;
}

static void read_progress(struct hk_maker *m, size_t i)
{
    const struct hk_progress *progress = &tally_of(m)->project->progress[i];
    bool timing = m->fit->quantity == HK_QUANTITY_TIME;
    struct hk_datum datum = progress_datum(m, i);
    if (!enter_done(m, &datum, !timing)) {
        hk_diags_add(m->diags, HK_CODE_SWATCH_TAILS, hk_cell_place(progress->cell, 0),
                     "%s has no stitch that takes %s so far", progress->title, timing ? "time" : "that yarn");
        hk_diags_hint(m->diags, "check its yarn and its rows");
        return;
    }
    if (datum.left_g > 0)
        datum.left_ball = ball_of(m, &datum);
    if (m->fit->arena.out_of_memory || (!timing && !done_beyond_tails(m, &datum)))
        return;
    warn_of_coarse_progress(m, progress);
    datum.s = hypot(hk_step_spread(timing ? CLOCK_STEP_S : progress->scale.step_g, used_g(m, &datum)),
                    hk_pieces_spread(m->fit, m->priors.piece, &datum));
    if (!timing)
        put_on_scale(m, &progress->scale, used_g(m, &datum), &datum);
    if (datum.left_g > 0)
        datum.per_g = -datum.per_g; /* an offset in the mass left lowers the mass used */
    datum.making = hk_enter(m, (struct hk_parameter){
        .kind = HK_PARAM_MAKING, .folder = m->folder, .key = progress->size, .sd = m->priors.making});
    hk_datum_add(m, &datum);
}

void hk_evidence_enter(struct hk_maker *m)
{
    const struct hk_tally *tally = tally_of(m);
    enter_swatches(m);
    for (size_t i = 0; i < tally->project->progress_count; i++)
        if (is_read(m, i))
            read_progress(m, i);
    if (m->fit->quantity == HK_QUANTITY_YARN)
        enter_balls(m);
}
