/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What a remedy would do is known before it is taken: how far a reading narrows the answer depends on its precision
 * and on what it touches, not on its outcome (pre-posterior analysis; exact for a linear model, here at the optimum).
 * A reading of ln f with gradient j and standard uncertainty s adds w = 1/s^2 to the information, a more precise one w
 * = 1/s'^2 - 1/s^2, and the covariance becomes
 *
 *     C' = C - w (C j)(C j)^T / (1 + w j^T C j)        (J. Sherman, W. J. Morrison 1950)
 *
 * The variance of ln M is then h^T C' h + what the making and its pieces add, which no weighing takes away.
 */
#include "why.h"

#include "loop.h"

#include <assert.h>
#include <gsl/gsl_math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#define FINE_STEP_G 0.1
#define NEW_ROWS 30
#define NEW_STITCHES 30 /* in each of them */
#define SHARE_LEAST 0.03
/* A larger swatch does as well as a finer scale when it does this part of the same. */
#define AS_WELL 0.9
/* A stitch that takes less of the yarn than this is not what a part is about. */
#define STITCH_LEAST 0.05

/* A part of the design as a swatch of it would be worked. */
struct sample {
    const struct hk_fabric *fabric;
    double tool_mm;
    size_t combination;
    struct hk_kinds kinds;
    size_t place; /* among all of the size, each part and each of its uses */
};

/* Of one role after the other; what does not depend on the role is made once. */
struct search {
    struct hk_needed *needed;
    const struct hk_fit *fit;
    const struct hk_project *project;
    const struct hk_need_role *role;
    struct sample *samples; /* of the size, once each */
    size_t sample_count;
    const double *h;    /* gradient of ln M */
    double own;
    double variance;    /* of ln M as it is */
    double *j;          /* gradient of the reading that is tried */
    double *fine;       /* the covariance with all scales fine; NULL until it is asked for */
    /* The covariance as it would be: base - sum of factors[m] updates[m] updates[m]^T. `based`: variance of ln M by base. */
    const double *base;
    double *covariance, *updates, *factors, based;
    size_t update_count; /* fewer than parameters */
    struct hk_arena scratch;
    struct hk_need_why *causes; /* of the role */
    size_t count, capacity;
    struct hk_need_why *all;    /* of all roles so far, in the arena of the prediction */
    size_t all_capacity;
};

/* ---- Trying a reading -------------------------------------------------------------------------------------------- */

static void start_over(struct search *search)
{
    search->base = search->fit->covariance;
    search->based = search->variance;
    search->update_count = 0;
}

static double dot(const struct search *search, const double *a, const double *b)
{
    double sum = 0;
    for (size_t i = 0; i < search->fit->count; i++)
        sum += a[i] * b[i];
    return sum;
}

static double variance_now(const struct search *search)
{
    double variance = search->based;
    for (size_t m = 0; m < search->update_count; m++)
        variance -= search->factors[m] * gsl_pow_2(dot(search, search->h, search->updates + m * search->fit->count));
    return variance;
}

/* Puts the updates into the base, before there are more of them than it has rows. */
static void settle(struct search *search)
{
    size_t n = search->fit->count;
    search->based = variance_now(search);
    if (search->base != search->covariance)
        memcpy(search->covariance, search->base, n * n * sizeof *search->covariance);
    search->base = search->covariance;
    for (size_t m = 0; m < search->update_count; m++) {
        const double *cj = search->updates + m * n;
        for (size_t i = 0; i < n; i++)
            for (size_t k = 0; k < n; k++)
                search->covariance[i * n + k] -= search->factors[m] * cj[i] * cj[k];
    }
    search->update_count = 0;
}

/* Adds w to the information along search->j, few of which are not 0. */
static void inform(struct search *search, double w)
{
    size_t n = search->fit->count;
    if (search->update_count == n)
        settle(search);
    double *cj = search->updates + search->update_count * n;
    memset(cj, 0, n * sizeof *cj);
    for (size_t k = 0; k < n; k++)
        for (size_t i = 0; i < n && search->j[k] != 0; i++)
            cj[i] += search->base[k * n + i] * search->j[k];
    for (size_t m = 0; m < search->update_count; m++) {
        const double *update = search->updates + m * n;
        double factor = search->factors[m] * dot(search, update, search->j);
        for (size_t i = 0; i < n; i++)
            cj[i] -= factor * update[i];
    }
    search->factors[search->update_count++] = w / (1 + w * dot(search, search->j, cj));
}

static void forget_gradient(struct search *search)
{
    memset(search->j, 0, search->fit->count * sizeof *search->j);
}

/* ---- The list ---------------------------------------------------------------------------------------------------- */

/* One cause and one thing it speaks of: told once, by its best remedy. */
static bool same_cause(const struct hk_need_why *a, const struct hk_need_why *b)
{
    if (a->cause != b->cause)
        return false;
    switch (a->cause) {
    case HK_CAUSE_SCALE:
        return false;
    case HK_CAUSE_STITCH:
        return a->stitch == b->stitch;
    case HK_CAUSE_TOOL:
        return a->tool_mm == b->tool_mm;
    case HK_CAUSE_YARN:
        return a->yarn == b->yarn;
    case HK_CAUSE_NOTHING_WEIGHED:
    case HK_CAUSE_ONE_DAY:
    case HK_CAUSE_GRIST:
    case HK_CAUSE_MAKING:
        return true;
    }
    return true;
}

static void list(struct search *search, struct hk_need_why why)
{
    if (!(why.share >= (why.cause == HK_CAUSE_MAKING ? 0 : SHARE_LEAST)))
        return;
    for (size_t i = 0; i < search->count; i++) {
        if (!same_cause(&search->causes[i], &why))
            continue;
        if (why.share > search->causes[i].share)
            search->causes[i] = why;
        return;
    }
    struct hk_need_why *causes =
        hk_arena_grow(&search->scratch, search->causes, search->count, &search->capacity, sizeof *causes);
    if (!causes)
        return;
    search->causes = causes;
    causes[search->count++] = why;
}

/* `gone` of the variance goes. */
static struct hk_need_why remedy(const struct search *search, enum hk_cause cause, double gone)
{
    double left = fmax(search->variance - gone, 0);
    return (struct hk_need_why){.cause = cause, .share = gone / search->variance, .spread_mass_then = sqrt(left)};
}

/* ---- A finer scale ----------------------------------------------------------------------------------------------- */

static const struct hk_swatch *swatch_of(const struct hk_datum *datum)
{
    return &datum->tally->project->swatches[datum->swatch];
}

/* Of a swatch, which can be worked again, weighed again or unravelled: not of a piece in the making. */
static bool is_of_swatch(const struct hk_datum *datum)
{
    return datum->swatch != SIZE_MAX;
}

/* The information that a datum gains where its swatch is `scale` times as heavy and weighed to step_g. */
static double information_gained(const struct hk_datum *datum, double step_g, double scale)
{
    const struct hk_swatch *swatch = swatch_of(datum);
    double was = swatch->scale_step_g / sqrt(12) / swatch->mass_g;
    double is = step_g / sqrt(12) / (swatch->mass_g * scale);
    double s2 = gsl_pow_2(datum->s) - gsl_pow_2(was) + gsl_pow_2(is);
    return s2 > 0 ? 1 / s2 - 1 / gsl_pow_2(datum->s) : 0;
}

static bool same_swatch(const struct hk_datum *a, const struct hk_datum *b)
{
    return a->tally == b->tally && a->swatch == b->swatch;
}

/* Informs by all data of the datum's swatch that a scale had a part in. The data of a swatch stand side by side. */
static void reweigh(struct search *search, const struct hk_datum *of, double step_g, double scale)
{
    const struct hk_datum *first = of, *end = search->fit->data + search->fit->evidence;
    while (first > search->fit->data && same_swatch(first - 1, of))
        first--;
    for (const struct hk_datum *datum = first; datum < end && same_swatch(datum, of); datum++) {
        if (datum->kind == HK_UNRAVELLED)
            continue;
        forget_gradient(search);
        hk_fit_ln_datum(search->fit, NULL, datum, 1, search->j);
        inform(search, information_gained(datum, step_g, scale));
    }
}

static bool is_coarse(const struct hk_datum *datum)
{
    return datum->kind == HK_WEIGHED && is_of_swatch(datum) && swatch_of(datum)->scale_step_g > FINE_STEP_G;
}

/*
 * The least number of rows that does AS_WELL; its mass goes with the rows. Ten times the step: ten times the rows
 * always do.
 */
static int64_t rows_as_well(struct search *search, const struct hk_datum *datum, double gone)
{
    const struct hk_swatch *swatch = swatch_of(datum);
    double most = ceil((double)swatch->rows * swatch->scale_step_g / FINE_STEP_G);
    if (swatch->rows <= 0 || !(most < (double)HK_COUNT_MOST))
        return 0;
    int64_t low = swatch->rows, high = (int64_t)most; /* low: not enough; high: enough */
    while (high - low > 1) {
        int64_t rows = low + (high - low) / 2;
        start_over(search);
        reweigh(search, datum, swatch->scale_step_g, (double)rows / (double)swatch->rows);
        if (search->variance - variance_now(search) >= AS_WELL * gone)
            high = rows;
        else
            low = rows;
    }
    return high;
}

static void try_scales(struct search *search)
{
    for (size_t i = 0; i < search->fit->evidence; i++) {
        const struct hk_datum *datum = &search->fit->data[i];
        if (!is_coarse(datum))
            continue;
        start_over(search);
        reweigh(search, datum, FINE_STEP_G, 1);
        double gone = search->variance - variance_now(search);
        struct hk_need_why why = remedy(search, HK_CAUSE_SCALE, gone);
        if (why.share < SHARE_LEAST)
            continue;
        why.swatch = swatch_of(datum)->name;
        why.scale_step_g = swatch_of(datum)->scale_step_g;
        why.rows = rows_as_well(search, datum, gone);
        list(search, why);
    }
}

/* ---- A new swatch ------------------------------------------------------------------------------------------------ */

static double bundle_g_m(const struct search *search, const struct hk_combination *combination)
{
    double g_m = 0;
    for (size_t s = 0; s < combination->strand_count; s++)
        g_m += (double)combination->strands[s].times * hk_fit_grist_g_m(search->fit, combination->strands[s].yarn);
    return g_m;
}

static double stitch_count(const struct hk_stitch *stitches, struct hk_kinds kinds)
{
    double count = 0;
    for (size_t i = 0; i < kinds.count; i++)
        count += hk_stitch_loops(&stitches[kinds.kinds[i].stitch], 1) > 0 ? kinds.kinds[i].count : 0;
    return count;
}

/*
 * Gradient of ln f into search->j, tails left out; the information of such a reading, 0 where the sample takes no
 * yarn.
 */
static double new_swatch(struct search *search, const struct sample *sample)
{
    const struct hk_combination *combination = &search->project->combinations[sample->combination];
    const struct hk_spreads *spreads = &search->project->spreads;
    const struct hk_fit *fit = search->fit;
    double bundle = bundle_g_m(search, combination);
    double length_m =
        hk_fit_length_m(fit, NULL, fit->tally, sample->combination, sample->tool_mm, sample->kinds, 0, NULL);
    if (!(length_m > 0))
        return 0;
    forget_gradient(search);
    hk_fit_length_m(fit, NULL, fit->tally, sample->combination, sample->tool_mm, sample->kinds, 1 / length_m, search->j);
    for (size_t s = 0; s < combination->strand_count; s++) {
        const struct hk_strand *strand = &combination->strands[s];
        size_t grist = hk_fit_find(fit, HK_GRIST, 0, 0, search->project->yarns[strand->yarn].name);
        assert(grist != SIZE_MAX);
        search->j[grist] += (double)strand->times * hk_fit_grist_g_m(fit, strand->yarn) / bundle;
    }
    double stitch_g = bundle * length_m / stitch_count(search->project->catalogue->stitches, sample->kinds);
    double mass_g = NEW_ROWS * NEW_STITCHES * stitch_g;
    double s2 = gsl_pow_2(FINE_STEP_G / sqrt(12) / mass_g) + gsl_pow_2(spreads->making) + gsl_pow_2(spreads->piece);
    return 1 / s2;
}

/* The parameter of a stitch that the gradient in search->j weighs most: among all, or among those no datum touches. */
static size_t main_stitch(const struct search *search, bool untouched)
{
    size_t found = SIZE_MAX;
    for (size_t i = 0; i < search->fit->count; i++) {
        const struct hk_parameter *p = &search->fit->parameters[i];
        if (p->kind != HK_STITCH || search->j[i] < STITCH_LEAST || (untouched && p->touched))
            continue;
        if (found == SIZE_MAX || search->j[i] > search->j[found])
            found = i;
    }
    return found;
}

static const char *stitch_name(const struct search *search, size_t parameter)
{
    const struct hk_stitch *stitch = &search->project->catalogue->stitches[search->fit->parameters[parameter].key];
    const char *name = search->project->terms == HK_UK ? stitch->uk : stitch->us;
    return name ? name : stitch->name;
}

static size_t blend_of(const struct search *search, size_t combination)
{
    return search->fit->folders[0].blends[combination];
}

/* What such a swatch would be the first of; search->j holds its gradient. */
static enum hk_cause first_of(const struct search *search, const struct sample *sample, size_t *stitch)
{
    const struct hk_fit *fit = search->fit;
    size_t most = main_stitch(search, false);
    *stitch = main_stitch(search, true);
    if (most != SIZE_MAX) {
        size_t tension = fit->tensions[search->project->catalogue->stitches[fit->parameters[most].key].family];
        if (!fit->parameters[tension].touched)
            return HK_CAUSE_NOTHING_WEIGHED;
    }
    if (*stitch != SIZE_MAX)
        return HK_CAUSE_STITCH;
    if (!fit->parameters[hk_fit_find(fit, HK_TOOL_Q, 0, sample->tool_mm, NULL)].touched)
        return HK_CAUSE_TOOL;
    return fit->parameters[blend_of(search, sample->combination)].touched ? HK_CAUSE_ONE_DAY : HK_CAUSE_YARN;
}

/* The covariance with all scales fine, into search->fine. */
static void find_fine(struct search *search)
{
    size_t n = search->fit->count;
    search->fine = hk_arena_take(&search->scratch, n * n, sizeof *search->fine);
    if (!search->fine)
        return;
    start_over(search);
    for (size_t i = 0; i < search->fit->evidence; i++)
        if (is_coarse(&search->fit->data[i]))
            reweigh(search, &search->fit->data[i], FINE_STEP_G, 1);
    settle(search);
    memcpy(search->fine, search->covariance, n * n * sizeof *search->fine);
}

/*
 * A second swatch would hide a coarse scale as well; what the second day does is what it takes away beside fine
 * scales. The variance of ln M beside them; nothing changes where memory is lost.
 */
static double start_with_fine_scales(struct search *search)
{
    size_t n = search->fit->count;
    start_over(search);
    if (!search->fine)
        find_fine(search);
    if (!search->fine)
        return search->variance;
    search->base = search->fine;
    search->based = search->own;
    search->update_count = 0;
    for (size_t i = 0; i < n; i++)
        search->based += search->h[i] * dot(search, search->h, search->fine + i * n);
    return search->based;
}

/* A fabric that shapes is asked for to see its stitches, and in place of another only where there is none. */
static void try_sample(struct search *search, const struct sample *sample, bool in_place)
{
    double information = new_swatch(search, sample);
    if (!(information > 0))
        return;
    size_t stitch;
    enum hk_cause cause = first_of(search, sample, &stitch);
    if (!in_place && cause != HK_CAUSE_STITCH)
        return;
    start_over(search);
    double before = search->variance;
    if (cause == HK_CAUSE_ONE_DAY) {
        before = start_with_fine_scales(search);
        new_swatch(search, sample);
    }
    inform(search, information);
    struct hk_need_why why = remedy(search, cause, before - variance_now(search));
    why.fabric = sample->fabric->name;
    why.tool_mm = sample->tool_mm;
    why.yarn = search->fit->parameters[blend_of(search, sample->combination)].name;
    why.stitch = cause == HK_CAUSE_STITCH ? stitch_name(search, stitch) : NULL;
    list(search, why);
}

static bool has_role(const struct hk_combination *combination, size_t role)
{
    for (size_t s = 0; s < combination->strand_count; s++)
        if (combination->strands[s].role == role && combination->strands[s].times > 0)
            return true;
    return false;
}

static int by_place(const void *a, const void *b)
{
    const struct sample *x = a, *y = b;
    return (x->place > y->place) - (x->place < y->place);
}

/* Equal ones side by side, the first of them first. */
static int by_kind(const void *a, const void *b)
{
    const struct sample *x = a, *y = b;
    if (x->fabric != y->fabric)
        return (uintptr_t)x->fabric < (uintptr_t)y->fabric ? -1 : 1;
    if (x->tool_mm != y->tool_mm)
        return x->tool_mm < y->tool_mm ? -1 : 1;
    if (x->combination != y->combination)
        return x->combination < y->combination ? -1 : 1;
    return by_place(a, b);
}

static bool alike(const struct sample *a, const struct sample *b)
{
    return a->fabric == b->fabric && a->tool_mm == b->tool_mm && a->combination == b->combination;
}

/* Leaves the first of those that are alike, in the order of the file. */
static size_t each_once(struct sample *samples, size_t count)
{
    size_t kept = 0;
    qsort(samples, count, sizeof *samples, by_kind);
    for (size_t i = 0; i < count; i++)
        if (kept == 0 || !alike(&samples[kept - 1], &samples[i]))
            samples[kept++] = samples[i];
    qsort(samples, kept, sizeof *samples, by_place);
    return kept;
}

/* Every way in which anything is worked in the size, once each, as a swatch. False when memory is lost. */
static bool find_samples(struct search *search, size_t size)
{
    const struct hk_project *project = search->project;
    size_t count = 0, capacity = 0;
    for (size_t l = 0; l < project->line_count; l++) {
        const struct hk_worked *worked = &search->fit->tally->lines[size * project->line_count + l];
        for (size_t u = 0; u < worked->use_count && worked->times > 0; u++) {
            const struct hk_use *use = &worked->uses[u];
            struct sample *samples =
                hk_arena_grow(&search->scratch, search->samples, count, &capacity, sizeof *samples);
            if (!samples)
                return false;
            search->samples = samples;
            samples[count] = (struct sample){project->lines[l].fabric, worked->tool_mm, use->combination, use->kinds, count};
            count++;
        }
    }
    search->sample_count = count > 0 ? each_once(search->samples, count) : 0;
    return true;
}

/* Every way in which the role is worked in its size, in a fabric that shapes or in one that does not. */
static size_t try_fabrics(struct search *search, bool shaping, bool in_place)
{
    size_t count = 0;
    for (size_t i = 0; i < search->sample_count; i++) {
        const struct sample *sample = &search->samples[i];
        if (hk_count_shapes(sample->fabric, search->project->catalogue, 0) != shaping ||
            !has_role(&search->project->combinations[sample->combination], search->role->role))
            continue;
        count++;
        try_sample(search, sample, in_place);
    }
    return count;
}

static void try_swatches(struct search *search)
{
    size_t steady = try_fabrics(search, false, true);
    try_fabrics(search, true, steady == 0);
}

/* ---- The label's grist, and what stays --------------------------------------------------------------------------- */

/*
 * The heaviest weighing, for its scale's step, of a swatch in this yarn alone; false where its grist has been read
 * already.
 */
static bool grist_unread(const struct search *search, size_t grist, const struct hk_swatch **weighed)
{
    *weighed = NULL;
    for (size_t i = 0; i < search->fit->evidence; i++) {
        struct hk_datum reading = search->fit->data[i];
        if (reading.kind == HK_UNRAVELLED || !is_of_swatch(&reading))
            continue;
        bool read = reading.kind == HK_GRIST_READ;
        reading.kind = HK_GRIST_READ;
        memset(search->j, 0, search->fit->count * sizeof *search->j);
        hk_fit_ln_datum(search->fit, NULL, &reading, 1, search->j);
        if (!(fabs(search->j[grist] - 1) < 1e-9))
            continue;
        if (read)
            return false;
        const struct hk_swatch *swatch = swatch_of(&reading);
        if (!*weighed || swatch->mass_g > (*weighed)->mass_g)
            *weighed = swatch;
    }
    return true;
}

static void try_grist(struct search *search)
{
    size_t grist = hk_fit_find(search->fit, HK_GRIST, 0, 0, search->role->yarn);
    const struct hk_swatch *weighed;
    assert(grist != SIZE_MAX);
    if (!grist_unread(search, grist, &weighed))
        return;
    double scale = weighed ? weighed->scale_step_g / sqrt(12) / weighed->mass_g : 0;
    double s2 = gsl_pow_2(scale) + gsl_pow_2(search->project->spreads.unravelled);
    if (!(s2 > 0))
        return;
    forget_gradient(search);
    search->j[grist] = 1;
    start_over(search);
    inform(search, 1 / s2);
    struct hk_need_why why = remedy(search, HK_CAUSE_GRIST, search->variance - variance_now(search));
    why.yarn = search->role->yarn;
    why.swatch = weighed ? weighed->name : NULL;
    list(search, why);
}

static void tell_making(struct search *search)
{
    if (!(search->own > 0))
        return;
    struct hk_need_why why = {.cause = HK_CAUSE_MAKING, .share = search->own / search->variance,
                              .spread_mass_then = sqrt(search->own)};
    list(search, why);
}

/* ---- The whole --------------------------------------------------------------------------------------------------- */

/* What can be done about comes first. */
static int by_share(const void *a, const void *b)
{
    const struct hk_need_why *x = a, *y = b;
    if ((x->cause == HK_CAUSE_MAKING) != (y->cause == HK_CAUSE_MAKING))
        return x->cause == HK_CAUSE_MAKING ? 1 : -1;
    if (x->share != y->share)
        return x->share > y->share ? -1 : 1;
    return (x->cause > y->cause) - (x->cause < y->cause);
}

/* The size nearest to the middle one asked for that uses any yarn. */
static size_t size_to_explain(const struct hk_needed *needed)
{
    size_t middle = needed->first_size + (needed->last_size - needed->first_size) / 2;
    size_t best = 0, best_distance = SIZE_MAX;
    for (size_t r = 0; r < needed->face.role_count; r++) {
        size_t size = needed->face.roles[r].size;
        size_t distance = size > middle ? size - middle : middle - size;
        if (distance < best_distance) {
            best = size;
            best_distance = distance;
        }
    }
    return best;
}

static bool search_make(struct search *search, size_t size)
{
    size_t n = search->fit->count;
    search->covariance = hk_arena_take(&search->scratch, n * n, sizeof *search->covariance);
    search->updates = hk_arena_take(&search->scratch, n * n, sizeof *search->updates);
    search->factors = hk_arena_take(&search->scratch, n, sizeof *search->factors);
    search->j = hk_arena_take(&search->scratch, n, sizeof *search->j);
    return !search->scratch.lost && find_samples(search, size);
}

/* Adds the causes found for one role to those of the roles before it. */
static void keep(struct search *search)
{
    struct hk_need *face = &search->needed->face;
    if (search->count > 0)
        qsort(search->causes, search->count, sizeof *search->causes, by_share);
    for (size_t i = 0; i < search->count; i++) {
        struct hk_need_why *all =
            hk_arena_grow(&search->needed->arena, search->all, face->why_count, &search->all_capacity, sizeof *all);
        if (!all)
            return;
        face->why = search->all = all;
        all[face->why_count++] = search->causes[i];
    }
}

static void explain(struct search *search, size_t r)
{
    const struct hk_need_role *role = &search->needed->face.roles[r];
    search->role = role;
    search->h = search->needed->gradients + r * search->fit->count;
    search->own = search->needed->own[r];
    search->variance = role->spread_mass * role->spread_mass;
    search->count = 0;
    if (!(search->variance > 0))
        return;
    try_scales(search);
    try_swatches(search);
    try_grist(search);
    tell_making(search);
    for (size_t i = 0; i < search->count; i++)
        search->causes[i].role = r;
    keep(search);
}

void hk_why(struct hk_needed *needed)
{
    size_t size = size_to_explain(needed);
    struct search search = {.needed = needed, .fit = needed->fit, .project = needed->fit->tally->project};
    if (search_make(&search, size)) {
        for (size_t r = 0; r < needed->face.role_count && !search.scratch.lost; r++)
            if (needed->face.roles[r].size == size)
                explain(&search, r);
    }
    needed->arena.lost |= search.scratch.lost;
    hk_arena_free(&search.scratch);
}
