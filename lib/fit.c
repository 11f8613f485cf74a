/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Everything weighed or unravelled against everything expected, in one Bayesian fit (DEVELOPERS.md, The model); and
 * everything timed, in another. What the two quantities differ in is in priors_of, footing_of and the data; all else is
 * one.
 *
 * The solver works on departures in their own spreads, z = (x - prior) / spread: the rows of the priors are then z
 * itself, a spread of 0 simply fixes its parameter, and all columns are of one size. Only parameters that a datum
 * touches enter; the others keep their priors exactly.
 */
#include "fit.h"

#include "assumed.h"
#include "loop.h"
#include "progress.h"
#include "solver.h"
#include "text.h"

#include <assert.h>
#include <gsl/gsl_math.h>
#include <stdlib.h>
#include <string.h>

/* A scale or a tape that is read to more than this part of the reading is worth a better one. */
#define COARSE_STEP 0.1
/* Standard deviations between a reading and what all else leads to expect. */
#define ODD_DEVIATIONS 3.0
/* A clock is read to the minute. */
#define S_PER_MIN 60.0
#define CLOCK_STEP_S S_PER_MIN
/* In time a wrap is as much as a full loop. */
#define PLAIN_OMEGA 1.0

/* ---- Parameters -------------------------------------------------------------------------------------------------- */

size_t hk_fit_find(const struct hk_fit *fit, enum hk_parameter_kind kind, size_t key, double tool_mm, const char *name)
{
    for (size_t i = 0; i < fit->count; i++) {
        const struct hk_parameter *p = &fit->parameters[i];
        if (p->kind == kind && p->key == key && p->tool_mm == tool_mm && !p->name == !name
            && (!name || hk_text_same(p->name, name)))
            return i;
    }
    return SIZE_MAX;
}

/* Of the departures: of ln length or of ln seconds. */
struct priors {
    double ln_loop; /* median of a_f */
    double tension, stitch, tool, yarn, making, piece;
};

static struct priors priors_of(const struct hk_spreads *s, enum hk_quantity quantity)
{
    if (quantity == HK_YARN)
        return (struct priors){0, s->tension, s->stitch, s->tool, s->yarn, s->making, s->piece};
    return (struct priors){log(s->time_loop_s), s->time_tension, s->time_stitch, s->time_tool, s->time_yarn, s->time_making,
                           s->time_piece};
}

struct maker {
    struct hk_fit *fit;
    const struct hk_project *project; /* whose spreads count */
    struct priors priors;
    size_t parameter_capacity, data_capacity;
    const struct hk_line *line; /* of the design that is being entered, or NULL: a datum is */
    struct hk_diags *diags;
};

/* The parameter, entered if it is new; SIZE_MAX when the arena is lost. */
static size_t enter(struct maker *m, struct hk_parameter parameter)
{
    struct hk_fit *fit = m->fit;
    size_t i = hk_fit_find(fit, parameter.kind, parameter.key, parameter.tool_mm, parameter.name);
    if (i == SIZE_MAX && fit->count == HK_PARAMETERS_MOST)
        i = fit->count - 1; /* whichever: few_enough gives up */
    if (i == SIZE_MAX) {
        struct hk_parameter *all =
            hk_arena_grow(&fit->arena, fit->parameters, fit->count, &m->parameter_capacity, sizeof *all);
        if (!all)
            return SIZE_MAX;
        fit->parameters = all;
        i = fit->count++;
        all[i] = parameter;
        all[i].value = parameter.prior;
    }
    if (!m->line)
        fit->parameters[i].touched = true;
    else if (!fit->parameters[i].line)
        fit->parameters[i].line = m->line;
    return i;
}

static const struct hk_stitch *stitch_of(const struct hk_fit *fit, size_t stitch)
{
    return &fit->tally->project->catalogue->stitches[stitch];
}

/* A skipped stitch takes no yarn. */
static bool is_worked(const struct hk_stitch *stitch, double count)
{
    return count > 0 && (stitch->loops > 0 || stitch->wraps > 0);
}

/* False where none of the kinds takes yarn. */
static bool enter_kinds(struct maker *m, struct hk_kinds kinds)
{
    struct hk_fit *fit = m->fit;
    const struct hk_spreads *spreads = &m->project->spreads;
    const struct priors *priors = &m->priors;
    bool any = false;
    for (size_t i = 0; i < kinds.count; i++) {
        size_t k = kinds.kinds[i].stitch;
        const struct hk_stitch *stitch = stitch_of(fit, k);
        if (!is_worked(stitch, kinds.kinds[i].count))
            continue;
        any = true;
        fit->stitches[k] = enter(m, (struct hk_parameter){.kind = HK_STITCH, .key = k, .sd = priors->stitch});
        fit->tensions[stitch->family] = enter(m, (struct hk_parameter){
            .kind = HK_TENSION, .key = (size_t)stitch->family, .prior = priors->ln_loop, .sd = priors->tension});
        if (stitch->wraps > 0 && fit->quantity == HK_YARN)
            fit->wrap = enter(m, (struct hk_parameter){
                .kind = HK_WRAP, .prior = log(spreads->wrap_ratio), .sd = spreads->wrap});
    }
    return any;
}

/* Order of names in any letter case, so that a blend has one name. */
static int name_order(const char *a, const char *b)
{
    for (; *a || *b; a++, b++) {
        int x = *a >= 'A' && *a <= 'Z' ? *a - 'A' + 'a' : *a;
        int y = *b >= 'A' && *b <= 'Z' ? *b - 'A' + 'a' : *b;
        if (x != y)
            return x < y ? -1 : 1;
    }
    return 0;
}

/* How many strands of the yarn are held together, and, in *after, the next name in order after `name` (NULL: none). */
static int64_t strands_of(const struct hk_project *project, const struct hk_combination *combination, const char *name,
                          const char **after)
{
    int64_t times = 0;
    *after = NULL;
    for (size_t s = 0; s < combination->strand_count; s++) {
        const char *other = project->yarns[combination->strands[s].yarn].name;
        int order = name ? name_order(other, name) : 1;
        if (order == 0)
            times += combination->strands[s].times;
        else if (order > 0 && (!*after || name_order(other, *after) < 0))
            *after = other;
    }
    return times;
}

const char *hk_blend_name(struct hk_arena *arena, const struct hk_project *project,
                          const struct hk_combination *combination)
{
    const char *blend = NULL, *next = NULL;
    strands_of(project, combination, NULL, &next);
    while (next) {
        const char *name = next;
        int64_t times = strands_of(project, combination, name, &next);
        const char *before = blend ? blend : "", *plus = blend ? " + " : "";
        blend = times > 1 ? hk_arena_print(arena, "%s%s%s x%lld", before, plus, name, (long long)times)
                          : hk_arena_print(arena, "%s%s%s", before, plus, name);
        if (!blend)
            return NULL;
    }
    return blend;
}

/* Not entered again where it is known already: names take memory. */
static void enter_blend(struct maker *m, struct hk_folder *folder, size_t combination)
{
    const struct hk_project *project = folder->tally->project;
    struct hk_parameter parameter = {.kind = HK_BLEND, .sd = m->priors.yarn};
    size_t known = folder->blends[combination];
    parameter.name = known != SIZE_MAX ? m->fit->parameters[known].name
                                       : hk_blend_name(&m->fit->arena, project, &project->combinations[combination]);
    if (parameter.name)
        folder->blends[combination] = enter(m, parameter);
}

static double label_g_m(const struct hk_yarn *yarn)
{
    return yarn->put_up_g / yarn->length_m;
}

static void enter_grists(struct maker *m, struct hk_folder *folder, size_t combination, struct hk_of_yarn of)
{
    const struct hk_combination *c = &folder->tally->project->combinations[combination];
    for (size_t s = 0; s < c->strand_count; s++) {
        const struct hk_yarn *yarn = &folder->tally->project->yarns[c->strands[s].yarn];
        if (!hk_of_yarn(of, &c->strands[s]))
            continue;
        folder->grists[c->strands[s].yarn] = enter(m, (struct hk_parameter){
            .kind = HK_GRIST, .name = yarn->name, .prior = log(label_g_m(yarn)), .sd = m->project->spreads.grist});
    }
}

/* Of all yarns alike. */
static const struct hk_of_yarn any_yarn = {SIZE_MAX, SIZE_MAX};

/* Strands of a combination that a weighing is of, each as often as it is held. */
static int64_t strands_weighed(const struct hk_combination *c, struct hk_of_yarn of)
{
    int64_t strands = 0;
    for (size_t s = 0; s < c->strand_count; s++)
        strands += hk_of_yarn(of, &c->strands[s]) ? c->strands[s].times : 0;
    return strands;
}

/* False where nothing of it takes yarn. */
static bool enter_worked(struct maker *m, struct hk_folder *folder, const struct hk_worked *worked, struct hk_of_yarn of,
                         bool grists)
{
    bool any = false;
    for (size_t u = 0; u < worked->use_count; u++) {
        const struct hk_use *use = &worked->uses[u];
        if (strands_weighed(&folder->tally->project->combinations[use->combination], of) == 0)
            continue;
        if (enter_kinds(m, use->kinds)) {
            enter(m, (struct hk_parameter){
                .kind = HK_TOOL_Q, .tool_mm = worked->tool_mm, .sd = m->priors.tool});
            enter_blend(m, folder, use->combination);
            any = true;
        }
        if (grists)
            enter_grists(m, folder, use->combination, of);
    }
    return any;
}

/* Line by line, so that each parameter knows the first line that it enters. */
static void enter_design(struct maker *m)
{
    const struct hk_project *project = m->project;
    for (size_t l = 0; l < project->line_count; l++) {
        m->line = &project->lines[l];
        for (size_t size = 0; size < project->size_count; size++) {
            const struct hk_worked *worked = &m->fit->tally->lines[size * project->line_count + l];
            if (worked->times > 0)
                enter_worked(m, &m->fit->folders[0], worked, any_yarn, m->fit->quantity == HK_YARN);
        }
    }
    m->line = NULL;
}

/* ---- Lengths, seconds and masses at given parameter values ------------------------------------------------------- */

static double at(const struct hk_fit *fit, const double *x, size_t i)
{
    return x ? x[i] : fit->parameters[i].value;
}

static double omega_at(const struct hk_fit *fit, const double *x)
{
    if (fit->quantity == HK_TIME)
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

/* What the kinds of one use have in common. */
struct footing {
    size_t tool, blend; /* parameters */
    double omega;
    double loop;        /* metres: pi * (h_t + d_c) * exp(q_t + v_c); seconds: exp(q_t + v_c) */
};

static struct footing footing_of(const struct hk_fit *fit, const double *x, const struct hk_tally *tally,
                                 size_t combination, double tool_mm)
{
    struct footing footing = {
        .tool = hk_fit_find(fit, HK_TOOL_Q, 0, tool_mm, NULL),
        .blend = folder_of(fit, tally)->blends[combination],
        .omega = omega_at(fit, x),
    };
    assert(footing.tool != SIZE_MAX && footing.blend != SIZE_MAX);
    footing.loop = exp(at(fit, x, footing.tool) + at(fit, x, footing.blend));
    if (fit->quantity == HK_YARN)
        footing.loop *= hk_loop_length_m(tool_mm, tally->project->combinations[combination].diameter_mm);
    return footing;
}

static bool takes_yarn(const struct hk_fit *fit, struct hk_kinds kinds)
{
    for (size_t i = 0; i < kinds.count; i++)
        if (is_worked(stitch_of(fit, kinds.kinds[i].stitch), kinds.kinds[i].count))
            return true;
    return false;
}

/*
 * W = sum over kinds of count * y_k * pi (h_t + d_c) * exp(a_f + r_k + q_t + v_c), y_k = loops + omega * wraps.
 * W is a sum of exponentials, so dW/da, dW/dr, dW/dq, dW/dv are the terms that each enters, and dW/d ln omega is the
 * wraps' part.
 */
double hk_fit_worked(const struct hk_fit *fit, const double *x, const struct hk_tally *tally, size_t combination,
                     double tool_mm, struct hk_kinds kinds, double weight, double *gradient)
{
    if (!takes_yarn(fit, kinds))
        return 0;
    struct footing footing = footing_of(fit, x, tally, combination, tool_mm);
    double amount = 0, wrapped = 0;
    for (size_t i = 0; i < kinds.count; i++) {
        const struct hk_stitch *stitch = stitch_of(fit, kinds.kinds[i].stitch);
        if (!is_worked(stitch, kinds.kinds[i].count))
            continue;
        size_t departure = fit->stitches[kinds.kinds[i].stitch], tension = fit->tensions[stitch->family];
        double loops = kinds.kinds[i].count * footing.loop * exp(at(fit, x, tension) + at(fit, x, departure));
        double of_kind = loops * hk_stitch_loops(stitch, footing.omega);
        amount += of_kind;
        wrapped += loops * footing.omega * stitch->wraps;
        if (gradient) {
            gradient[departure] += weight * of_kind;
            gradient[tension] += weight * of_kind;
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

double hk_fit_length_m(const struct hk_fit *fit, const double *x, const struct hk_tally *tally, size_t combination,
                       double tool_mm, struct hk_kinds kinds, double weight, double *gradient)
{
    assert(fit->quantity == HK_YARN);
    return hk_fit_worked(fit, x, tally, combination, tool_mm, kinds, weight, gradient);
}

/* h^T C h; rounding may leave a hair less than nothing. */
double hk_fit_variance(const struct hk_fit *fit, const double *gradient)
{
    double variance = 0;
    for (size_t i = 0; i < fit->count; i++)
        for (size_t k = 0; k < fit->count; k++)
            variance += gradient[i] * fit->covariance[i * fit->count + k] * gradient[k];
    return fmax(variance, 0);
}

double hk_fit_grist_g_m(const struct hk_fit *fit, size_t yarn)
{
    size_t i = fit->folders[0].grists[yarn];
    return i != SIZE_MAX ? exp(fit->parameters[i].value) : label_g_m(&fit->tally->project->yarns[yarn]);
}

/* exp(B) of a datum's making. */
static double day_of(const struct hk_fit *fit, const double *x, const struct hk_datum *datum)
{
    return datum->making == SIZE_MAX ? 1 : exp(at(fit, x, datum->making));
}

/* Grams, metres or seconds of a thing: what its stitches took, making left out, and its ends and cut lengths. */
struct amount {
    double worked, loose;
};

/* Grams of one use, of one copy, of the yarns that the datum is of; the gradient as in hk_fit_length_m. */
static struct amount use_g(const struct hk_fit *fit, const double *x, const struct hk_datum *datum, double tool_mm,
                           const struct hk_use *use, double weight, double *gradient)
{
    const struct hk_project *project = datum->tally->project;
    const struct hk_folder *folder = folder_of(fit, datum->tally);
    const struct hk_combination *c = &project->combinations[use->combination];
    double day = day_of(fit, x, datum), bundle_g_m = 0; /* all strands */
    struct amount mass_g = {0, 0};
    if (strands_weighed(c, datum->of) == 0)
        return mass_g;
    for (size_t s = 0; s < c->strand_count; s++)
        if (hk_of_yarn(datum->of, &c->strands[s]))
            bundle_g_m += (double)c->strands[s].times * exp(at(fit, x, folder->grists[c->strands[s].yarn]));
    double worked_m = hk_fit_length_m(fit, x, datum->tally, use->combination, tool_mm, use->kinds,
                                      weight * day * bundle_g_m, gradient);
    for (size_t s = 0; s < c->strand_count; s++) {
        if (!hk_of_yarn(datum->of, &c->strands[s]))
            continue;
        size_t grist = folder->grists[c->strands[s].yarn];
        double g_m = (double)c->strands[s].times * exp(at(fit, x, grist));
        double loose_m = use->ends[s] * project->tail_m + use->cut_m;
        mass_g.worked += g_m * worked_m;
        mass_g.loose += g_m * loose_m;
        if (gradient)
            gradient[grist] += weight * g_m * (day * worked_m + loose_m);
    }
    return mass_g;
}

/* What of an unravelled swatch no stitch took: one strand's ends, and cut lengths. A clock is stopped at the last stitch. */
static double loose_m(const struct hk_tally *tally, const struct hk_use *use)
{
    return use->ends[0] * tally->project->tail_m + use->cut_m;
}

/* Metres of one use, one strand, or its seconds. */
static struct amount use_alone(const struct hk_fit *fit, const double *x, const struct hk_datum *datum, double tool_mm,
                               const struct hk_use *use, double weight, double *gradient)
{
    return (struct amount){
        .worked = hk_fit_worked(fit, x, datum->tally, use->combination, tool_mm, use->kinds,
                                weight * day_of(fit, x, datum), gradient),
        .loose = fit->quantity == HK_YARN ? loose_m(datum->tally, use) : 0,
    };
}

enum measure { GRAMS, ALONE };

/* One of the things that were weighed or timed together, all its copies. */
static struct amount thing_amount(const struct hk_fit *fit, const double *x, const struct hk_datum *datum,
                                  const struct hk_worked *worked, enum measure measure, double weight, double *gradient)
{
    double copies = (double)worked->times;
    struct amount sum = {0, 0};
    for (size_t u = 0; u < worked->use_count; u++) {
        const struct hk_use *use = &worked->uses[u];
        struct amount amount =
            measure == GRAMS ? use_g(fit, x, datum, worked->tool_mm, use, weight * copies, gradient)
                             : use_alone(fit, x, datum, worked->tool_mm, use, weight * copies, gradient);
        sum.worked += copies * amount.worked;
        sum.loose += copies * amount.loose;
    }
    return sum;
}

/* f; the gradient as in hk_fit_worked. */
static double datum_amount(const struct hk_fit *fit, const double *x, const struct hk_datum *datum, enum measure measure,
                           double weight, double *gradient)
{
    double worked = 0, loose = 0, day = day_of(fit, x, datum);
    for (size_t w = 0; w < datum->worked_count; w++) {
        struct amount amount = thing_amount(fit, x, datum, &datum->worked[w], measure, weight, gradient);
        worked += amount.worked;
        loose += amount.loose;
    }
    if (gradient && datum->making != SIZE_MAX)
        gradient[datum->making] += weight * day * worked;
    return day * worked + loose;
}

/* Of a swatch in one yarn mass / length is g, and all departures cancel. */
double hk_fit_ln_datum(const struct hk_fit *fit, const double *x, const struct hk_datum *datum, double weight,
                       double *gradient)
{
    double ln = 0;
    if (datum->kind == HK_WEIGHED || datum->kind == HK_GRIST_READ) {
        double mass_g = datum_amount(fit, x, datum, GRAMS, 0, NULL);
        ln += log(mass_g);
        if (gradient)
            datum_amount(fit, x, datum, GRAMS, weight / mass_g, gradient);
    }
    if (datum->kind != HK_WEIGHED) {
        double sign = datum->kind == HK_GRIST_READ ? -1 : 1;
        double amount = datum_amount(fit, x, datum, ALONE, 0, NULL);
        ln += sign * log(amount);
        if (gradient)
            datum_amount(fit, x, datum, ALONE, sign * weight / amount, gradient);
    }
    return ln;
}

size_t hk_fit_so_far(const struct hk_fit *fit)
{
    size_t count = 0;
    for (size_t i = 0; i < fit->evidence; i++)
        count += fit->data[i].swatch == SIZE_MAX;
    return count;
}

struct hk_cell hk_datum_cell(const struct hk_datum *datum)
{
    const struct hk_project *project = datum->tally->project;
    return datum->swatch == SIZE_MAX ? project->progress[datum->progress].cell : project->swatches[datum->swatch].cell;
}

/* ---- Data -------------------------------------------------------------------------------------------------------- */

/* Ends and cut lengths of a swatch at the label's grist. */
static double loose_g(const struct hk_tally *tally, const struct hk_worked *worked)
{
    const struct hk_project *project = tally->project;
    double mass_g = 0;
    for (size_t u = 0; u < worked->use_count; u++) {
        const struct hk_combination *c = &project->combinations[worked->uses[u].combination];
        for (size_t s = 0; s < c->strand_count; s++)
            mass_g += (double)c->strands[s].times * label_g_m(&project->yarns[c->strands[s].yarn])
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
        tails_m += loose_m(tally, &worked->uses[u]);
    if (swatch->mass_g > 0 && swatch->mass_g <= tails_g) {
        hk_diags_add(diags, HK_SWATCH_TAILS, hk_cell_place(swatch->weight_cell, 0),
                     "swatch \"%s\" weighs %.3g g, but its tails alone come to %.3g g", swatch->name, swatch->mass_g,
                     tails_g);
        hk_diags_hint(diags, "%s", hint);
        return false;
    }
    if (swatch->unravelled_m > 0 && swatch->unravelled_m <= tails_m) {
        hk_diags_add(diags, HK_SWATCH_TAILS, hk_cell_place(swatch->cell, 0),
                     "swatch \"%s\" was unravelled to %.3g m, but its tails alone come to %.3g m", swatch->name,
                     swatch->unravelled_m, tails_m);
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
                     "the scale's step of %.3g g is more than a tenth of the %.3g g that swatch \"%s\" weighs",
                     swatch->scale_step_g, swatch->mass_g, swatch->name);
        hk_diags_hint(diags, "use a finer scale, or weigh a larger swatch");
    }
    if (swatch->unravelled_m > 0 && swatch->tape_step_m > COARSE_STEP * swatch->unravelled_m) {
        hk_diags_add(diags, HK_SCALE_COARSE, hk_cell_place(swatch->cell, 0),
                     "the tape's step of %.3g m is more than a tenth of the %.3g m that swatch \"%s\" was unravelled "
                     "to",
                     swatch->tape_step_m, swatch->unravelled_m, swatch->name);
        hk_diags_hint(diags, "use a finer tape, or unravel a larger swatch");
    }
}

static void warn_of_coarse_clock(const struct hk_swatch *swatch, struct hk_diags *diags)
{
    if (CLOCK_STEP_S <= COARSE_STEP * swatch->minutes * S_PER_MIN)
        return;
    hk_diags_add(diags, HK_SCALE_COARSE, hk_cell_place(swatch->minutes_cell, 0),
                 "a minute is more than a tenth of the %.3g min that swatch \"%s\" took", swatch->minutes, swatch->name);
    hk_diags_hint(diags, "time a larger swatch");
}

static void datum_add(struct maker *m, struct hk_datum datum)
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
                             .worked = &folder->tally->swatches[i], .worked_count = 1, .of = any_yarn, .making = SIZE_MAX};
}

/*
 * Relative standard uncertainties. Reading a step: step / sqrt(12), rectangular (JCGM 100:2008 4.3.7). A length
 * unravelled is crimped or stretched besides. A swatch differs from the next by its making and by its piece.
 */
static void read_swatch(struct maker *m, struct hk_folder *folder, size_t i)
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
static void read_clock(struct maker *m, struct hk_folder *folder, size_t i)
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

static void enter_evidence(struct maker *m, struct hk_folder *folder)
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
        if (!enter_worked(m, folder, &folder->tally->swatches[i], any_yarn, !timing && swatch->mass_g > 0)) {
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

static bool is_read(const struct maker *m, size_t i)
{
    const struct hk_so_far *so_far = &m->fit->tally->progress[i];
    return m->fit->quantity == HK_TIME ? so_far->timed : so_far->weighed;
}

/*
 * Of a making that is read once B sits in s, as with a swatch: the posterior is the same, and the fit smaller. Where there
 * are several readings they share B.
 */
static bool making_read_again(const struct maker *m, size_t size)
{
    size_t readings = 0;
    for (size_t i = 0; i < m->project->progress_count; i++)
        readings += m->project->progress[i].size == size && is_read(m, i);
    return readings > 1;
}

static bool enter_so_far(struct maker *m, const struct hk_so_far *so_far, struct hk_of_yarn of, bool grists)
{
    bool any = false;
    for (size_t w = 0; w < so_far->count; w++)
        any |= enter_worked(m, &m->fit->folders[0], &so_far->worked[w], of, grists);
    return any;
}

/*
 * Each copy of each line has its own c, N(0, piece^2): of a sum of W_j, sum_j (W_j / W)^2 piece^2, at the priors. n copies of
 * one line are n terms of (W_j / n)^2.
 */
static double pieces_spread(const struct maker *m, const struct hk_datum *datum)
{
    enum measure measure = datum->kind == HK_TIMED ? ALONE : GRAMS;
    double all = 0, squares = 0;
    for (size_t w = 0; w < datum->worked_count; w++) {
        double worked = thing_amount(m->fit, NULL, datum, &datum->worked[w], measure, 0, NULL).worked;
        all += worked;
        squares += worked > 0 ? gsl_pow_2(worked) / (double)datum->worked[w].times : 0;
    }
    return all > 0 ? m->priors.piece * sqrt(squares) / all : m->priors.piece;
}

/* What it weighs must be more than its ends, at the label's grist. */
static bool so_far_beyond_tails(const struct maker *m, const struct hk_datum *datum)
{
    const struct hk_progress *progress = &m->project->progress[datum->progress];
    double loose_g = 0;
    for (size_t w = 0; w < datum->worked_count; w++)
        loose_g += thing_amount(m->fit, NULL, datum, &datum->worked[w], GRAMS, 0, NULL).loose;
    if (progress->mass_g > loose_g)
        return true;
    hk_diags_add(m->diags, HK_SWATCH_TAILS, hk_cell_place(progress->weight_cell, 0),
                 "%s comes to %.3g g so far, but its tails alone come to %.3g g", progress->title, progress->mass_g, loose_g);
    hk_diags_hint(m->diags, "check the weight and the rows, the ends in pieces.csv and the tail of project.csv");
    return false;
}

static void warn_of_coarse_progress(const struct maker *m, const struct hk_progress *progress)
{
    if (m->fit->quantity == HK_YARN && progress->scale_step_g > COARSE_STEP * progress->mass_g) {
        hk_diags_add(m->diags, HK_SCALE_COARSE, hk_cell_place(progress->weight_cell, 0),
                     "the scale's step of %.3g g is more than a tenth of the %.3g g that %s comes to so far",
                     progress->scale_step_g, progress->mass_g, progress->title);
        hk_diags_hint(m->diags, "use a finer scale, or weigh again when more is worked");
    }
    if (m->fit->quantity == HK_TIME && CLOCK_STEP_S > COARSE_STEP * progress->minutes * S_PER_MIN) {
        hk_diags_add(m->diags, HK_SCALE_COARSE, hk_cell_place(progress->minutes_cell, 0),
                     "a clock read to the minute says little of the %.3g min that %s took", progress->minutes,
                     progress->title);
        hk_diags_hint(m->diags, "time more of it");
    }
}

static void read_progress(struct maker *m, size_t i)
{
    const struct hk_progress *progress = &m->project->progress[i];
    const struct hk_so_far *so_far = &m->fit->tally->progress[i];
    bool timing = m->fit->quantity == HK_TIME;
    struct hk_datum datum = {
        .kind = timing ? HK_TIMED : HK_WEIGHED, .tally = m->fit->tally, .swatch = SIZE_MAX, .progress = i,
        .worked = so_far->worked, .worked_count = so_far->count, .of = timing ? any_yarn : progress->of,
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
        datum.making = enter(m, (struct hk_parameter){.kind = HK_MAKING, .key = progress->size, .sd = m->priors.making});
    else
        datum.s = hypot(datum.s, m->priors.making);
    datum_add(m, datum);
}

static void enter_progress(struct maker *m)
{
    for (size_t i = 0; i < m->project->progress_count && m->fit->tally->progress; i++)
        if (is_read(m, i))
            read_progress(m, i);
}

/* ---- The optimum ------------------------------------------------------------------------------------------------- */

/* The problem as the solver sees it: z of the touched parameters. */
struct problem {
    const struct hk_fit *fit;
    size_t *touched; /* parameter of each column */
    size_t count;
    double *x;       /* scratch: all parameters */
    double *gradient;
};

static void place_x(const struct problem *problem, const double *z)
{
    for (size_t j = 0; j < problem->count; j++) {
        const struct hk_parameter *p = &problem->fit->parameters[problem->touched[j]];
        problem->x[problem->touched[j]] = p->prior + p->sd * z[j];
    }
}

static bool residuals(const void *context, const double *z, double *r)
{
    const struct problem *problem = context;
    const struct hk_fit *fit = problem->fit;
    place_x(problem, z);
    for (size_t i = 0; i < fit->evidence; i++) {
        const struct hk_datum *datum = &fit->data[i];
        r[i] = (hk_fit_ln_datum(fit, problem->x, datum, 0, NULL) - log(datum->reading)) / datum->s;
    }
    memcpy(r + fit->evidence, z, problem->count * sizeof *z);
    return true;
}

static bool jacobian(const void *context, const double *z, double *j)
{
    const struct problem *problem = context;
    const struct hk_fit *fit = problem->fit;
    size_t n = problem->count;
    place_x(problem, z);
    memset(j, 0, (fit->evidence + n) * n * sizeof *j);
    for (size_t i = 0; i < fit->evidence; i++) {
        memset(problem->gradient, 0, fit->count * sizeof *problem->gradient);
        hk_fit_ln_datum(fit, problem->x, &fit->data[i], 1 / fit->data[i].s, problem->gradient);
        for (size_t k = 0; k < n; k++)
            j[i * n + k] = problem->gradient[problem->touched[k]] * fit->parameters[problem->touched[k]].sd;
    }
    for (size_t k = 0; k < n; k++)
        j[(fit->evidence + k) * n + k] = 1;
    return true;
}

static bool problem_make(struct problem *problem, struct hk_fit *fit, struct hk_arena *scratch)
{
    problem->fit = fit;
    problem->touched = hk_arena_take(scratch, fit->count, sizeof *problem->touched);
    problem->x = hk_arena_take(scratch, fit->count, sizeof *problem->x);
    problem->gradient = hk_arena_take(scratch, fit->count, sizeof *problem->gradient);
    if (scratch->lost)
        return false;
    for (size_t i = 0; i < fit->count; i++) {
        problem->x[i] = fit->parameters[i].prior;
        if (fit->parameters[i].touched)
            problem->touched[problem->count++] = i;
    }
    return true;
}

static void take_optimum(struct hk_fit *fit, const struct problem *problem, const double *z, const double *covariance)
{
    size_t n = problem->count;
    for (size_t j = 0; j < n; j++) {
        struct hk_parameter *p = &fit->parameters[problem->touched[j]];
        p->value = p->prior + p->sd * z[j];
        for (size_t k = 0; k < n; k++)
            fit->covariance[problem->touched[j] * fit->count + problem->touched[k]] =
                p->sd * covariance[j * n + k] * fit->parameters[problem->touched[k]].sd;
    }
    for (size_t i = 0; i < fit->evidence; i++) {
        struct hk_datum *datum = &fit->data[i];
        datum->residual = (hk_fit_ln_datum(fit, NULL, datum, 0, NULL) - log(datum->reading)) / datum->s;
    }
}

static bool solve(struct hk_fit *fit, struct hk_arena *scratch, struct hk_diags *diags)
{
    struct problem problem = {0};
    if (!problem_make(&problem, fit, scratch))
        return false;
    double *z = hk_arena_take(scratch, problem.count, sizeof *z);
    double *covariance = hk_arena_take(scratch, problem.count * problem.count, sizeof *covariance);
    if (scratch->lost)
        return false;
    struct hk_least_squares squares = {problem.count, fit->evidence + problem.count, residuals, jacobian, &problem};
    struct hk_solution solution = {0};
    switch (hk_least_squares_solve(&squares, z, covariance, &solution)) {
    case HK_SOLVED:
        take_optimum(fit, &problem, z, covariance);
        return true;
    case HK_NOT_CONVERGED:
    case HK_NOT_FINITE:
        hk_diags_add(diags, HK_FIT, hk_cell_place(hk_datum_cell(&fit->data[0]), 0),
                     "the readings cannot be brought together (after %zu steps, the last of %.2g spreads)",
                     solution.iterations, solution.last_step);
        hk_diags_hint(diags, "look for a %s or a stitch count that is far off",
                      fit->quantity == HK_TIME ? "time" : "weight, a length");
        return false;
    case HK_SOLVER_MEMORY:
        break;
    }
    scratch->lost = true;
    return false;
}

/* ---- Readings that look wrong ------------------------------------------------------------------------------------ */

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
                       : ratio >= 1.995 ? hk_arena_print(scratch, "%.2g times", ratio)
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
        hk_diags_hint(diags, "check the weight, the stitches and rows, and the tool; if they are right, it may stay");
        break;
    case HK_UNRAVELLED:
        hk_diags_add(diags, HK_SWATCH_ODD, hk_cell_place(swatch->cell, 0),
                     "swatch \"%s\" was unravelled to %s%s what its stitches, tool and yarn lead to expect",
                     swatch->name, how_much(scratch, ratio, "more", "less"), than);
        hk_diags_hint(diags, "check the length, the stitches and rows, and the tool; if they are right, it may stay");
        break;
    case HK_GRIST_READ:
        hk_diags_add(diags, HK_SWATCH_ODD, hk_cell_place(swatch->weight_cell, 0),
                     "swatch \"%s\" makes its yarn %.3g g a metre, %s%s expected", swatch->name, datum->reading,
                     how_much(scratch, ratio, "heavier", "lighter"), ratio >= 1.995 ? " what is" : than);
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

static void look_for_odd(const struct hk_fit *fit, struct hk_arena *scratch, struct hk_diags *diags)
{
    double *gradient = hk_arena_take(scratch, fit->count, sizeof *gradient);
    for (size_t i = 0; gradient && i < fit->evidence; i++) {
        double ln_ratio = 0;
        if (deviations_off(fit, &fit->data[i], gradient, &ln_ratio) > ODD_DEVIATIONS)
            (fit->data[i].swatch == SIZE_MAX ? warn_of_odd_progress : warn_of_odd)(&fit->data[i], exp(ln_ratio), scratch, diags);
    }
}

/* ---- Making it --------------------------------------------------------------------------------------------------- */

static void all_absent(size_t *indexes, size_t count)
{
    for (size_t i = 0; indexes && i < count; i++)
        indexes[i] = SIZE_MAX;
}

static bool folders_make(struct hk_fit *fit)
{
    const struct hk_project *project = fit->tally->project;
    fit->stitches = hk_arena_take(&fit->arena, project->catalogue->stitch_count, sizeof *fit->stitches);
    all_absent(fit->stitches, project->catalogue->stitch_count);
    all_absent(fit->tensions, HK_FAMILIES);
    fit->wrap = SIZE_MAX;
    fit->folder_count = 1 + project->learned_count;
    fit->folders = hk_arena_take(&fit->arena, fit->folder_count, sizeof *fit->folders);
    for (size_t i = 0; fit->folders && i < fit->folder_count; i++) {
        struct hk_folder *folder = &fit->folders[i];
        folder->tally = i == 0 ? fit->tally : fit->tally->learned[i - 1];
        const struct hk_project *other = folder->tally->project;
        assert(other->catalogue == project->catalogue);
        folder->blends = hk_arena_take(&fit->arena, other->combination_count, sizeof *folder->blends);
        folder->grists = hk_arena_take(&fit->arena, other->yarn_count, sizeof *folder->grists);
        all_absent(folder->blends, other->combination_count);
        all_absent(folder->grists, other->yarn_count);
    }
    return !fit->arena.lost;
}

static bool priors_make(struct hk_fit *fit)
{
    fit->covariance = hk_arena_take(&fit->arena, fit->count * fit->count, sizeof *fit->covariance);
    for (size_t i = 0; fit->covariance && i < fit->count; i++)
        fit->covariance[i * fit->count + i] = gsl_pow_2(fit->parameters[i].sd);
    return !fit->arena.lost;
}

/* Multiplications of one step of the solver, nearly: a second or so in all. */
#define STEP_MOST 1e8

/* Parameters beyond the most are not entered: the fit is given up then. */
static bool few_enough(const struct hk_fit *fit, struct hk_diags *diags)
{
    double n = (double)fit->count, step = n * n * ((double)fit->evidence + n);
    if (fit->count < HK_PARAMETERS_MOST && (fit->evidence == 0 || step <= STEP_MOST))
        return true;
    bool learns = fit->folder_count > 1;
    hk_diags_add(diags, HK_FIT, (struct hk_place){learns ? "project.csv" : "yarns.csv", 0, 0},
                 "too many yarns, stitches and tools are used, and swatches of them weighed, to reckon with together");
    hk_diags_hint(diags, learns ? "name fewer folders in learn_from"
                                : "leave out swatches and lines of yarns and tools that do not matter");
    return false;
}

static bool fit_fill(struct hk_fit *fit, struct hk_arena *scratch, struct hk_diags *diags)
{
    size_t errors = diags->errors;
    const struct hk_project *project = fit->tally->project;
    struct maker m = {.fit = fit, .project = project, .priors = priors_of(&project->spreads, fit->quantity), .diags = diags};
    if (!folders_make(fit))
        return false;
    enter_design(&m);
    for (size_t i = 0; i < fit->folder_count; i++)
        enter_evidence(&m, &fit->folders[i]);
    enter_progress(&m);
    if (fit->arena.lost || diags->errors > errors || !few_enough(fit, diags) || !priors_make(fit))
        return false;
    if (fit->evidence > 0) {
        if (!solve(fit, scratch, diags))
            return false;
        look_for_odd(fit, scratch, diags);
    }
    if (fit->quantity == HK_YARN)
        hk_assumed_say(fit, diags);
    return !scratch->lost;
}

static struct hk_fit *fit_of(const struct hk_tally *tally, enum hk_quantity quantity, struct hk_diags *diags)
{
    struct hk_fit *fit = calloc(1, sizeof *fit);
    if (!fit) {
        diags->lost = true;
        return NULL;
    }
    struct hk_arena scratch = {0};
    fit->tally = tally;
    fit->quantity = quantity;
    bool made = fit_fill(fit, &scratch, diags);
    diags->lost = diags->lost || fit->arena.lost || scratch.lost;
    hk_arena_free(&scratch);
    if (made && !diags->lost)
        return fit;
    hk_fit_free(fit);
    return NULL;
}

struct hk_fit *hk_fit_make(const struct hk_tally *tally, struct hk_diags *diags)
{
    return fit_of(tally, HK_YARN, diags);
}

struct hk_fit *hk_fit_time(const struct hk_tally *tally, struct hk_diags *diags)
{
    return fit_of(tally, HK_TIME, diags);
}

void hk_fit_free(struct hk_fit *fit)
{
    if (!fit)
        return;
    hk_arena_free(&fit->arena);
    free(fit);
}
