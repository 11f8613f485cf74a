/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The effect of a remedy is known in advance: the reduction of the variance by a reading depends on its precision and
 * its gradient, not on its outcome (pre-posterior analysis; exact for a linear model, here at the optimum). A reading
 * of ln f with gradient j and standard uncertainty s adds w = 1/s^2 to the information, removing one adds w = -1/s^2,
 * and the covariance becomes
 *
 *     C' = C - w (C j)(C j)^T / (1 + w j^T C j)        (J. Sherman, W. J. Morrison 1950)
 *
 * The variance of ln M is then h^T C' h plus the part from the making and its pieces, which no weighing reduces. Every
 * remedy is evaluated alone, as the datum that it would be in the fit.
 */
#include "need/why.h"

#include "base/text.h"
#include "model/evidence.h"
#include "model/loop.h"
#include "tally/sizing.h"

#include <assert.h>
#include <gsl/gsl_math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

/* The scales assumed by remedies: a finer scale, and one for finished pieces. */
static const struct hk_scale fine_scale = {0.1, 0.1}, piece_scale = {1, 1};
/* The size of a new swatch: its rows, its rounds if from a ring, and its approximate stitches. */
#define NEW_ROWS 30
#define NEW_ROUNDS 10
#define NEW_STITCHES 30
#define NEW_ENDS 2
#define SHARE_LEAST 0.03
/* A larger swatch is a remedy when it has this part of the effect of a finer scale. */
#define AS_WELL 0.9
/* A stitch with a smaller share of the yarn is not typical of a part. */
#define STITCH_LEAST 0.05
#define PIECES_TRIED 3
#define COPIES_MOST 9
/* The limit of readings added and removed together: a swatch's mass and its grist, on two scales. */
#define UPDATES_MOST 4

/* A part of the design, worked as a swatch. */
struct sample {
    const struct hk_fabric *fabric;
    enum hk_start start;
    int64_t stitches, rows;
    size_t combination;
    size_t place; /* its position among all uses of all parts of the size */
    bool workable;
    struct hk_worked worked;
};

/* The state of the search, for one role after the other; members that do not depend on the role are computed once. */
struct search {
    struct hk_needed *needed;
    const struct hk_fit *fit;
    const struct hk_project *project;
    const struct hk_need_role *role;
    struct sample *samples; /* of the size, without duplicates */
    size_t sample_count;
    size_t *piece_of;       /* by line: the first line of its piece */
    bool *piece_weighed;    /* by first line: part of it has been weighed in this size */
    double *piece_m;        /* by first line: the role's metres in it, temporary */
    struct hk_worked *room; /* for the lines of a piece */
    const double *h;    /* gradient of ln M */
    double garment_variance;
    double variance; /* of ln M before the remedy */
    /* The variance of the offset of a scale that the fit does not know; it follows the parameters. */
    double fresh_scale;
    double *j; /* gradient of the reading tried, over the parameters and that offset */
    /* The covariance after the remedy: that of the fit and that offset - sum of factors[m] updates[m] updates[m]^T. */
    double *updates, factors[UPDATES_MOST];
    size_t update_count;
    struct hk_arena scratch;
    struct hk_need_why *causes; /* the causes of the role */
    size_t count, capacity;
    struct hk_need_why *all;    /* of all roles so far, in the arena of the prediction */
    size_t all_capacity;
};

/* ---- Trying a reading -------------------------------------------------------------------------------------------- */

/* The dot product over the parameters and the offset. */
static double dot(const struct search *search, const double *a, const double *b)
{
    return hk_fit_dot(search->fit, a, b) + a[search->fit->count] * b[search->fit->count];
}

static double *update_at(const struct search *search, size_t m)
{
    return search->updates + m * (search->fit->count + 1);
}

static double variance_now(const struct search *search)
{
    double variance = search->variance;
    for (size_t m = 0; m < search->update_count; m++)
        variance -= search->factors[m] * gsl_pow_2(hk_fit_dot(search->fit, search->h, update_at(search, m)));
    return variance;
}

/* Adds w to the information along search->j. */
static void inform(struct search *search, double w)
{
    size_t n = search->fit->count;
    assert(search->update_count < UPDATES_MOST);
    double *cj = update_at(search, search->update_count);
    hk_fit_along(search->fit, search->j, cj);
    cj[n] = search->fresh_scale * search->j[n];
    for (size_t m = 0; m < search->update_count; m++) {
        const double *update = update_at(search, m);
        double factor = search->factors[m] * dot(search, update, search->j);
        for (size_t i = 0; i <= n; i++)
            cj[i] -= factor * update[i];
    }
    search->factors[search->update_count++] = w / (1 + w * dot(search, search->j, cj));
}

/* Adds the datum to the evidence (way 1) or removes it (way -1); leaves its gradient in j. */
static void inform_by(struct search *search, const struct hk_datum *datum, int way)
{
    memset(search->j, 0, search->fit->count * sizeof *search->j);
    hk_fit_ln_off(search->fit, NULL, datum, 1, search->j);
    search->j[search->fit->count] = datum->scale == SIZE_MAX ? datum->per_g : 0;
    inform(search, way / gsl_pow_2(datum->s));
}

/* Returns the reduction of the variance when the datum is added to the evidence. */
static double gone_by(struct search *search, const struct hk_datum *datum)
{
    search->update_count = 0;
    inform_by(search, datum, 1);
    return search->variance - variance_now(search);
}

/*
 * Adds the uncertainty of a scale to a reading of mass_g: a scale in the fit has its parameter, a new scale has an
 * offset of its own. rest: the other contributions to s.
 */
static void put_on(struct search *search, struct hk_scale scale, double mass_g, double rest, struct hk_datum *datum)
{
    datum->scale = hk_fit_find_like(search->fit, &(struct hk_parameter){.kind = HK_PARAM_SCALE, .scale = scale});
    datum->per_g = 1 / mass_g;
    datum->s = hypot(scale.step_g / sqrt(12) / mass_g, rest);
    search->fresh_scale = gsl_pow_2(scale.accuracy_g) / 3;
}

/* Returns an empty datum in the project's own folder. */
static struct hk_datum new_datum(const struct search *search)
{
    return (struct hk_datum){.kind = HK_DATUM_WEIGHED, .tally = search->fit->tally, .swatch = SIZE_MAX, .progress = SIZE_MAX,
                             .yarn = SIZE_MAX, .worked_count = 1, .of = hk_any_yarn, .making = SIZE_MAX, .scale = SIZE_MAX};
}

/* ---- The list ---------------------------------------------------------------------------------------------------- */

/* Returns true for the same cause with the same subject, which is listed once, with its best remedy. */
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
    case HK_CAUSE_GARMENT:
    case HK_CAUSE_BALL:
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

/* Returns a remedy that reduces the variance by `gone`. */
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

/* Returns true for a datum of a swatch, which can be worked again, weighed again or unravelled. */
static bool is_of_swatch(const struct hk_datum *datum)
{
    return datum->swatch != SIZE_MAX;
}

static bool same_swatch(const struct hk_datum *a, const struct hk_datum *b)
{
    return a->tally == b->tally && a->swatch == b->swatch;
}

/*
 * Returns the variance when the readings of the swatch on its scale are replaced by readings on another scale, of a
 * swatch `larger` times as heavy or of `copies` copies together. of: its mass; its grist, if it was unravelled too, is
 * the next datum.
 */
static double reweighed(struct search *search, const struct hk_datum *of, struct hk_scale scale, double larger, int64_t copies)
{
    double mass_g = swatch_of(of)->mass_g, all = (double)copies;
    double pieces = search->project->spreads.piece / sqrt((double)of->worked->times);
    const struct hk_datum *end = search->fit->data + search->fit->evidence;
    search->update_count = 0;
    for (const struct hk_datum *each = of; each < end && same_swatch(each, of); each++) {
        struct hk_datum datum = *each;
        inform_by(search, &datum, -1);
        double step = swatch_of(of)->scale.step_g / sqrt(12) / mass_g;
        double less = datum.kind == HK_DATUM_WEIGHED ? (1 - 1 / all) * gsl_pow_2(pieces) : 0;
        double rest = sqrt(fmax(gsl_pow_2(datum.s) - gsl_pow_2(step) - less, 0));
        put_on(search, scale, mass_g * larger * all, rest, &datum);
        inform_by(search, &datum, 1);
    }
    return variance_now(search);
}

/* Returns true for a coarse weighing in this folder; those of other folders cannot be repeated. */
static bool is_coarse(const struct hk_datum *datum)
{
    return datum->kind == HK_DATUM_WEIGHED && is_of_swatch(datum) && datum->folder == 0 &&
           (swatch_of(datum)->scale.step_g > fine_scale.step_g || swatch_of(datum)->scale.accuracy_g > fine_scale.accuracy_g);
}

/*
 * Returns the least number of rows with the effect AS_WELL on the same scale; the mass is proportional to the rows. 0
 * if there is none up to the largest count.
 */
static int64_t rows_as_well(struct search *search, const struct hk_datum *datum, double gone)
{
    const struct hk_swatch *swatch = swatch_of(datum);
    double coarser = fmax(swatch->scale.step_g / fine_scale.step_g, swatch->scale.accuracy_g / fine_scale.accuracy_g);
    double most = ceil((double)swatch->rows * coarser);
    if (swatch->rows <= 0 || !(most < (double)HK_COUNT_MOST))
        return 0;
    int64_t low = swatch->rows, high = (int64_t)most; /* low: not enough; high: enough */
    while (high - low > 1) {
        int64_t rows = low + (high - low) / 2;
        double then = reweighed(search, datum, swatch->scale, (double)rows / (double)swatch->rows, 1);
        if (search->variance - then >= AS_WELL * gone)
            high = rows;
        else
            low = rows;
    }
    return high;
}

/* Returns the least number of copies with the effect AS_WELL when weighed together on the same scale. 0: too many. */
static int64_t copies_as_well(struct search *search, const struct hk_datum *datum, double gone)
{
    int64_t copies = 2;
    while (copies <= COPIES_MOST &&
           search->variance - reweighed(search, datum, swatch_of(datum)->scale, 1, copies) < AS_WELL * gone)
        copies++;
    return copies <= COPIES_MOST ? copies * datum->worked->times : 0;
}

static void try_scales(struct search *search)
{
    for (size_t i = 0; i < search->fit->evidence; i++) {
        const struct hk_datum *datum = &search->fit->data[i];
        if (!is_coarse(datum))
            continue;
        double gone = search->variance - reweighed(search, datum, fine_scale, 1, 1);
        struct hk_need_why why = remedy(search, HK_CAUSE_SCALE, gone);
        if (why.share < SHARE_LEAST)
            continue;
        why.swatch = swatch_of(datum)->name;
        why.scale_step_g = swatch_of(datum)->scale.step_g;
        why.scale_accuracy_g = swatch_of(datum)->scale.accuracy_g;
        why.new_step_g = fine_scale.step_g;
        why.rows = rows_as_well(search, datum, gone);
        why.copies = copies_as_well(search, datum, gone);
        list(search, why);
    }
}

/* ---- A new swatch ------------------------------------------------------------------------------------------------ */

/* Returns the stitch parameter with the largest element in the gradient search->j, of all or of those without data. */
static size_t main_stitch(const struct search *search, bool untouched)
{
    size_t found = SIZE_MAX;
    for (size_t i = 0; i < search->fit->count; i++) {
        const struct hk_parameter *p = &search->fit->parameters[i];
        if (p->kind != HK_PARAM_STITCH || search->j[i] < STITCH_LEAST || (untouched && p->own))
            continue;
        if (found == SIZE_MAX || search->j[i] > search->j[found])
            found = i;
    }
    return found;
}

static const char *stitch_name(const struct search *search, size_t parameter)
{
    const struct hk_stitch *stitch = &search->project->catalogue->stitches[search->fit->parameters[parameter].key];
    const char *name = search->project->terms == HK_TERMS_UK ? stitch->uk : stitch->us;
    return name ? name : stitch->name;
}

static size_t blend_of(const struct search *search, size_t combination)
{
    return search->fit->folders[0].blends[combination];
}

/* Returns the cause that the swatch would remove, being the first of its kind; search->j holds its gradient. */
static enum hk_cause first_of(const struct search *search, const struct sample *sample, size_t *stitch)
{
    const struct hk_fit *fit = search->fit;
    size_t most = main_stitch(search, false);
    *stitch = main_stitch(search, true);
    if (most != SIZE_MAX) {
        size_t tension = fit->tensions[search->project->catalogue->stitches[fit->parameters[most].key].family];
        if (!fit->parameters[tension].own)
            return HK_CAUSE_NOTHING_WEIGHED;
    }
    if (*stitch != SIZE_MAX)
        return HK_CAUSE_STITCH;
    if (!fit->parameters[hk_fit_find(fit, HK_PARAM_TOOL, 0, sample->worked.tool_mm, NULL)].own)
        return HK_CAUSE_TOOL;
    return fit->parameters[blend_of(search, sample->combination)].own ? HK_CAUSE_ONE_DAY : HK_CAUSE_YARN;
}

/*
 * Returns true for seams, edgings and cords, which make no swatch; recognised by name, since their rows look like those
 * of fabrics.
 */
static bool is_trim(const char *fabric)
{
    static const char *const trims[] = {"seam", "edging", "edge", "cord"};
    size_t length = strlen(fabric);
    for (size_t i = 0; i < sizeof trims / sizeof trims[0]; i++) {
        size_t end = strlen(trims[i]);
        if (length >= end && hk_text_same(fabric + length - end, trims[i]))
            return true;
    }
    return false;
}

/*
 * Returns the kinds without stitches that the fit does not have (such as a foundation chain that the design does not
 * use).
 */
static struct hk_kinds known_kinds(const struct search *search, struct hk_kinds kinds)
{
    size_t count = 0;
    for (size_t i = 0; i < kinds.count; i++)
        if (search->fit->stitches[kinds.kinds[i].stitch] != SIZE_MAX)
            kinds.kinds[count++] = kinds.kinds[i];
    return (struct hk_kinds){kinds.kinds, count};
}

static bool counted_well(struct search *search, enum hk_counting answer)
{
    search->scratch.out_of_memory |= answer == HK_COUNTING_NO_MEMORY;
    return answer == HK_COUNTING_DONE;
}

/*
 * Counts the sample, 30 rows of about 30 stitches, or some rounds from a ring. Returns false when it cannot be worked
 * as a swatch.
 */
static bool work_sample(struct search *search, struct sample *sample)
{
    static const int64_t whole = HK_COUNT_MOST;
    struct hk_foundations foundations = hk_foundations_find(search->project->catalogue);
    struct hk_work work = {.fabric = sample->fabric,
                           .catalogue = search->project->catalogue,
                           .start = sample->start,
                           .stitches = HK_NOT_STATED,
                           .end_stitches = HK_NOT_STATED,
                           .rows = sample->rows,
                           .stripe_rows = &whole,
                           .stripe_count = 1,
                           .foundation_stitch = hk_foundation_stitch(foundations, sample->fabric)};
    struct hk_counted counted;
    struct hk_count_error error = {0};
    int64_t apart;
    if (is_trim(sample->fabric->name))
        return false;
    if (sample->start != HK_START_RING &&
        !counted_well(search, hk_count_nearest(&work, NEW_STITCHES, &work.stitches, &apart)))
        return false;
    if (!counted_well(search, hk_count_part(&work, &counted, &error, &search->scratch)))
        return false;
    hk_follow_free(counted.follow);
    if (counted.stripes[0].cut_m > 0)
        return false;
    const struct hk_combination *c = &search->project->combinations[sample->combination];
    struct hk_use *use = hk_arena_take(&search->scratch, 1, sizeof *use);
    double *ends = hk_arena_take(&search->scratch, c->strand_count, sizeof *ends);
    if (!use || !ends)
        return false;
    for (size_t s = 0; s < c->strand_count; s++)
        ends[s] = NEW_ENDS;
    *use = (struct hk_use){.combination = sample->combination, .ends = ends,
                           .kinds = known_kinds(search, counted.stripes[0].kinds)};
    sample->stitches = sample->start == HK_START_RING ? 0 : work.stitches;
    sample->worked.times = 1;
    sample->worked.uses = use;
    sample->worked.use_count = 1;
    return use->kinds.count > 0;
}

/* Returns the datum of the sample weighed on a fine scale. It uses yarn, since the fit has no stitches without yarn. */
static struct hk_datum sample_datum(struct search *search, const struct sample *sample)
{
    const struct hk_spreads *spreads = &search->project->spreads;
    struct hk_datum datum = new_datum(search);
    datum.swatch = 0; /* any index marks a swatch */
    datum.worked = &sample->worked;
    datum.reading = 1;
    datum.reading = exp(hk_fit_ln_off(search->fit, NULL, &datum, 0, NULL));
    put_on(search, fine_scale, datum.reading, hypot(spreads->making, spreads->piece), &datum);
    return datum;
}

/* Tries a swatch of the sample. in_place: a fabric that shapes may replace another only if there is no other. */
static void try_sample(struct search *search, const struct sample *sample, bool in_place)
{
    struct hk_datum datum = sample_datum(search, sample);
    double gone = gone_by(search, &datum);
    size_t stitch;
    enum hk_cause cause = first_of(search, sample, &stitch);
    if (!in_place && cause != HK_CAUSE_STITCH)
        return;
    struct hk_need_why why = remedy(search, cause, gone);
    why.fabric = sample->fabric->name;
    why.tool_mm = sample->worked.tool_mm;
    why.yarn = search->fit->parameters[blend_of(search, sample->combination)].name;
    why.stitch = cause == HK_CAUSE_STITCH ? stitch_name(search, stitch) : NULL;
    why.stitches = sample->stitches;
    why.rows = sample->rows;
    why.new_step_g = fine_scale.step_g;
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

/* Sorts equal samples together, the earliest first. */
static int by_kind(const void *a, const void *b)
{
    const struct sample *x = a, *y = b;
    if (x->fabric != y->fabric)
        return (uintptr_t)x->fabric < (uintptr_t)y->fabric ? -1 : 1;
    if (x->worked.tool_mm != y->worked.tool_mm)
        return x->worked.tool_mm < y->worked.tool_mm ? -1 : 1;
    if (x->combination != y->combination)
        return x->combination < y->combination ? -1 : 1;
    if (x->start != y->start)
        return x->start < y->start ? -1 : 1;
    return by_place(a, b);
}

static bool alike(const struct sample *a, const struct sample *b)
{
    return a->fabric == b->fabric && a->worked.tool_mm == b->worked.tool_mm && a->combination == b->combination &&
           a->start == b->start;
}

/* Keeps the first of equal samples, in the order of the file. Returns their number. */
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

/*
 * Finds all samples of the size, without duplicates: each way of working a part, on a chain or from a ring. Returns
 * false when out of memory.
 */
static bool find_samples(struct search *search, size_t size)
{
    const struct hk_project *project = search->project;
    size_t count = 0, capacity = 0;
    for (size_t l = 0; l < project->line_count; l++) {
        const struct hk_worked *worked = &search->fit->tally->lines[size * project->line_count + l];
        bool ring = project->lines[l].start == HK_START_RING;
        for (size_t u = 0; u < worked->use_count && worked->times > 0; u++) {
            if (worked->uses[u].kinds.count == 0)
                continue;
            struct sample *samples =
                hk_arena_grow(&search->scratch, search->samples, count, &capacity, sizeof *samples);
            if (!samples)
                return false;
            search->samples = samples;
            samples[count] = (struct sample){.fabric = project->lines[l].fabric, .start = ring ? HK_START_RING : HK_START_CHAIN,
                                             .rows = ring ? NEW_ROUNDS : NEW_ROWS, .place = count,
                                             .combination = worked->uses[u].combination,
                                             .worked = {.tool_mm = worked->tool_mm}};
            count++;
        }
    }
    search->sample_count = count > 0 ? each_once(search->samples, count) : 0;
    for (size_t i = 0; i < search->sample_count && !search->scratch.out_of_memory; i++)
        search->samples[i].workable = work_sample(search, &search->samples[i]);
    return !search->scratch.out_of_memory;
}

/* Tries all samples that use the role, with fabrics that shape or with those that do not. Returns their number. */
static size_t try_fabrics(struct search *search, bool shaping, bool in_place)
{
    size_t count = 0;
    for (size_t i = 0; i < search->sample_count; i++) {
        const struct sample *sample = &search->samples[i];
        if (!sample->workable ||
            hk_count_shapes(sample->fabric, search->project->catalogue, &search->scratch) != shaping ||
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

/* ---- A finished piece -------------------------------------------------------------------------------------------- */

static const struct hk_worked *worked_at(const struct search *search, size_t line)
{
    return &search->fit->tally->lines[search->role->size * search->project->line_count + line];
}

/* Returns the role's metres in one copy of a line. *others: the line has strands of other roles. */
static double line_m(const struct search *search, size_t line, bool *others)
{
    const struct hk_worked *worked = worked_at(search, line);
    double length_m = 0;
    for (size_t u = 0; u < worked->use_count && worked->times > 0; u++) {
        const struct hk_use *use = &worked->uses[u];
        const struct hk_combination *c = &search->project->combinations[use->combination];
        struct hk_ground ground = {search->fit->tally, use->combination, worked->tool_mm, false};
        double strands = 0;
        for (size_t s = 0; s < c->strand_count; s++) {
            bool of_role = c->strands[s].role == search->role->role;
            strands += of_role ? (double)c->strands[s].times : 0;
            *others |= !of_role;
        }
        if (strands > 0)
            length_m += strands * hk_fit_length_m(search->fit, NULL, ground, use->kinds, 0, NULL);
    }
    return length_m;
}

/* Computes the role's metres in each piece; 0 for pieces with a weighing. */
static void measure_pieces(const struct search *search)
{
    size_t lines = search->project->line_count;
    bool others = false;
    memset(search->piece_m, 0, lines * sizeof *search->piece_m);
    for (size_t l = 0; l < lines; l++)
        if (!search->piece_weighed[search->piece_of[l]])
            search->piece_m[search->piece_of[l]] += line_m(search, l, &others);
}

/* Returns the first line of the piece with the most metres; SIZE_MAX if all have none. */
static size_t largest_piece(const struct search *search)
{
    size_t largest = SIZE_MAX;
    for (size_t l = 0; l < search->project->line_count; l++)
        if (search->piece_m[l] > (largest == SIZE_MAX ? 0 : search->piece_m[largest]))
            largest = l;
    return largest;
}

/*
 * Returns the datum of one copy of the piece, weighed on a kitchen scale, in the size that is explained. The piece uses
 * the role.
 */
static struct hk_datum piece_datum(struct search *search, size_t piece, bool *others)
{
    const struct hk_project *project = search->project;
    size_t count = 0;
    *others = false;
    for (size_t l = piece; l < project->line_count; l++) {
        if (search->piece_of[l] != piece || worked_at(search, l)->times <= 0)
            continue;
        line_m(search, l, others);
        search->room[count] = *worked_at(search, l);
        search->room[count++].times = 1;
    }
    struct hk_datum datum = new_datum(search);
    datum.progress = 0; /* any index marks a garment */
    datum.worked = search->room;
    datum.worked_count = count;
    datum.of.role = search->role->role;
    datum.reading = 1;
    datum.making = hk_fit_find_like(search->fit, &(struct hk_parameter){.kind = HK_PARAM_MAKING, .key = search->role->size});
    datum.reading = exp(hk_fit_ln_off(search->fit, NULL, &datum, 0, NULL));
    double making = datum.making == SIZE_MAX ? project->spreads.making : 0;
    double pieces = hk_pieces_spread(search->fit, project->spreads.piece, &datum);
    put_on(search, piece_scale, datum.reading, hypot(making, pieces), &datum);
    return datum;
}

/* Tries the largest few pieces. Unlike a swatch, a finished piece shows how garments differ from swatches. */
static void try_pieces(struct search *search)
{
    measure_pieces(search);
    for (int i = 0; i < PIECES_TRIED; i++) {
        bool others;
        size_t piece = largest_piece(search);
        if (piece == SIZE_MAX)
            return;
        search->piece_m[piece] = 0;
        struct hk_datum datum = piece_datum(search, piece, &others);
        struct hk_need_why why = remedy(search, HK_CAUSE_GARMENT, gone_by(search, &datum));
        why.piece = search->project->lines[piece].piece;
        why.yarn = others ? search->role->role_name : NULL;
        why.new_step_g = piece_scale.step_g;
        list(search, why);
    }
}

/* Finds the pieces of the size. Returns false when out of memory. */
static bool find_pieces(struct search *search, size_t size)
{
    const struct hk_project *project = search->project;
    size_t lines = project->line_count;
    search->piece_of = hk_arena_take(&search->scratch, lines, sizeof *search->piece_of);
    search->piece_weighed = hk_arena_take(&search->scratch, lines, sizeof *search->piece_weighed);
    search->piece_m = hk_arena_take(&search->scratch, lines, sizeof *search->piece_m);
    search->room = hk_arena_take(&search->scratch, lines, sizeof *search->room);
    if (search->scratch.out_of_memory)
        return false;
    for (size_t l = 0; l < lines; l++)
        search->piece_of[l] = project->lines[l].first ? l : search->piece_of[project->lines[l].before];
    for (size_t i = 0; i < search->fit->evidence; i++) {
        const struct hk_datum *datum = &search->fit->data[i];
        if (datum->progress == SIZE_MAX || datum->folder != 0 || project->progress[datum->progress].size != size)
            continue;
        for (size_t k = 0; k < project->progress[datum->progress].line_count; k++)
            search->piece_weighed[search->piece_of[project->progress[datum->progress].lines[k]]] = true;
    }
    return true;
}

/* ---- Balls, the label's grist, and the making -------------------------------------------------------------------- */

static void try_ball(struct search *search)
{
    size_t plan = search->project->roles[search->role->role].plan, yarn = search->project->candidates[plan].yarn;
    const struct hk_yarn *of = &search->project->yarns[yarn];
    struct hk_datum datum = new_datum(search);
    if (of->ball_g > 0)
        return;
    datum.kind = HK_DATUM_BALL;
    datum.yarn = yarn;
    datum.reading = of->put_up_g;
    put_on(search, fine_scale, of->put_up_g, search->project->spreads.ball, &datum);
    struct hk_need_why why = remedy(search, HK_CAUSE_BALL, gone_by(search, &datum));
    why.yarn = of->name;
    why.new_step_g = fine_scale.step_g;
    list(search, why);
}

/* Returns the heaviest weighing of a swatch in this yarn alone that was not unravelled. */
static const struct hk_datum *to_unravel(struct search *search, size_t grist)
{
    const struct hk_datum *heaviest = NULL;
    for (size_t i = 0; i < search->fit->evidence; i++) {
        struct hk_datum reading = search->fit->data[i];
        if (reading.kind != HK_DATUM_WEIGHED || !is_of_swatch(&reading) || reading.folder != 0 ||
            swatch_of(&reading)->unravelled_m > 0)
            continue;
        reading.kind = HK_DATUM_GRIST;
        memset(search->j, 0, search->fit->count * sizeof *search->j);
        hk_fit_ln_off(search->fit, NULL, &reading, 1, search->j);
        if (!(fabs(search->j[grist] - 1) < 1e-9))
            continue;
        if (!heaviest || swatch_of(&reading)->mass_g > swatch_of(heaviest)->mass_g)
            heaviest = &search->fit->data[i];
    }
    return heaviest;
}

static void try_grist(struct search *search)
{
    size_t grist = hk_fit_find(search->fit, HK_PARAM_GRIST, 0, 0, search->role->yarn);
    assert(grist != SIZE_MAX);
    const struct hk_datum *weighed = to_unravel(search, grist);
    if (!weighed)
        return;
    struct hk_datum datum = *weighed;
    const struct hk_swatch *swatch = swatch_of(weighed);
    datum.kind = HK_DATUM_GRIST;
    datum.s = hypot(swatch->scale.step_g / sqrt(12) / swatch->mass_g, search->project->spreads.unravelled);
    struct hk_need_why why = remedy(search, HK_CAUSE_GRIST, gone_by(search, &datum));
    why.yarn = search->role->yarn;
    why.swatch = swatch->name;
    list(search, why);
}

static void tell_making(struct search *search)
{
    if (!(search->garment_variance > 0))
        return;
    struct hk_need_why why = {.cause = HK_CAUSE_MAKING,
                              .share = search->garment_variance / search->variance,
                              .spread_mass_then = sqrt(search->garment_variance)};
    list(search, why);
}

/*
 * ---- The whole list
 * ---------------------------------------------------------------------------------------------------
 */

/* Causes with a remedy come first. */
static int by_share(const void *a, const void *b)
{
    const struct hk_need_why *x = a, *y = b;
    if ((x->cause == HK_CAUSE_MAKING) != (y->cause == HK_CAUSE_MAKING))
        return x->cause == HK_CAUSE_MAKING ? 1 : -1;
    if (x->share != y->share)
        return x->share > y->share ? -1 : 1;
    return (x->cause > y->cause) - (x->cause < y->cause);
}

/* Returns the size nearest to the middle one asked for that uses yarn. */
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
    search->updates = hk_arena_take(&search->scratch, UPDATES_MOST * (n + 1), sizeof *search->updates);
    search->j = hk_arena_take(&search->scratch, n + 1, sizeof *search->j);
    return !search->scratch.out_of_memory && find_samples(search, size) && find_pieces(search, size);
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
    search->garment_variance = search->needed->garment_variance[r];
    search->variance = role->spread_mass * role->spread_mass;
    search->count = 0;
    if (!(search->variance > 0))
        return;
    try_scales(search);
    try_swatches(search);
    try_pieces(search);
    try_ball(search);
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
        for (size_t r = 0; r < needed->face.role_count && !search.scratch.out_of_memory; r++)
            if (needed->face.roles[r].size == size)
                explain(&search, r);
    }
    needed->arena.out_of_memory |= search.scratch.out_of_memory;
    hk_arena_free(&search.scratch);
}
