/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Hours from the fit of time (the model of DEVELOPERS.md), predicted as yarn is. For one size, with W_j the seconds worked
 * in line j (all copies, strands held together worked once) and n_j its copies:
 *
 *     T = exp(B) sum_j exp(c_j) W_j + ends * time_end        B: this making, c: one for each copy of j
 *     var ln T = h^T C h + (W / T)^2 making^2 + sum_j (W_j / T)^2 / n_j piece^2,   h: the gradient of ln T
 *
 * Median at the optimum, ln T taken as normal. A seam is a line like any other. Ends are woven in once the work is done:
 * each strand that starts or ends is one.
 */
#include "fit.h"

#include "chance.h"
#include "diags.h"

#include <assert.h>
#include <gsl/gsl_math.h>
#include <stdlib.h>
#include <string.h>

#define S_PER_MIN 60.0
#define S_PER_HOUR 3600.0

/* The public struct comes first, as in struct hk_needed. */
struct clocked {
    struct hk_hours face;
    struct hk_arena arena;
};

struct clocking {
    struct clocked *clocked;
    const struct hk_fit *fit;
    const struct hk_project *project;
    double *gradient;
    struct hk_hours_stitch *stitches;
    size_t stitch_capacity;
};

static const struct hk_worked *worked_at(const struct clocking *c, size_t size, size_t line)
{
    return &c->fit->tally->lines[size * c->project->line_count + line];
}

/* Seconds of one copy; the gradient of the sum as in hk_fit_worked. */
static double worked_s(const struct clocking *c, const struct hk_worked *worked, double weight, double *gradient)
{
    double seconds = 0;
    for (size_t u = 0; u < worked->use_count; u++)
        seconds += hk_fit_worked(c->fit, NULL, c->fit->tally, worked->uses[u].combination, worked->tool_mm,
                                 worked->uses[u].kinds, weight, gradient);
    return seconds;
}

/* Of one copy, every strand's. */
static double ends_of(const struct clocking *c, const struct hk_worked *worked)
{
    double ends = 0;
    for (size_t u = 0; u < worked->use_count; u++) {
        const struct hk_combination *of = &c->project->combinations[worked->uses[u].combination];
        for (size_t s = 0; s < of->strand_count; s++)
            ends += (double)of->strands[s].times * worked->uses[u].ends[s];
    }
    return ends;
}

static struct hk_range range_of(double likely, double spread)
{
    return (struct hk_range){.likely = likely,
                             .low = likely * exp(spread * hk_normal_quantile(HK_LOW_CHANCE)),
                             .high = likely * exp(spread * hk_normal_quantile(HK_HIGH_CHANCE)),
                             .enough = likely};
}

/* ---- Parts and sizes --------------------------------------------------------------------------------------------- */

static void fill_part(const struct clocking *c, size_t size, size_t line, struct hk_hours_part *part)
{
    const struct hk_worked *worked = worked_at(c, size, line);
    double copies = (double)worked->times;
    *part = (struct hk_hours_part){
        .piece = c->project->lines[line].piece,
        .part = c->project->lines[line].part,
        .ends = copies * ends_of(c, worked),
        .worked_h = copies * worked_s(c, worked, 0, NULL) / S_PER_HOUR,
    };
    part->ends_h = part->ends * c->project->spreads.time_end_min * S_PER_MIN / S_PER_HOUR;
}

/* Standard deviation of ln T, T = hours_h. */
static double spread_of(const struct clocking *c, size_t size, const struct hk_hours_part *parts, double hours_h)
{
    const struct hk_spreads *spreads = &c->project->spreads;
    double worked = 0, pieces = 0, weight = 1 / (hours_h * S_PER_HOUR);
    memset(c->gradient, 0, c->fit->count * sizeof *c->gradient);
    for (size_t line = 0; line < c->project->line_count; line++) {
        const struct hk_worked *of = worked_at(c, size, line);
        if (of->times <= 0)
            continue;
        worked_s(c, of, (double)of->times * weight, c->gradient);
        worked += parts[line].worked_h / hours_h;
        pieces += gsl_pow_2(parts[line].worked_h / hours_h) / (double)of->times;
    }
    return sqrt(hk_fit_variance(c->fit, c->gradient) + gsl_pow_2(worked * spreads->time_making) +
                pieces * gsl_pow_2(spreads->time_piece));
}

static void fill_size(const struct clocking *c, size_t size, struct hk_hours_size *hours)
{
    struct hk_hours_part *parts = hk_arena_take(&c->clocked->arena, c->project->line_count, sizeof *parts);
    *hours = (struct hk_hours_size){.size = size, .size_name = c->project->sizes[size]};
    if (!parts)
        return;
    for (size_t line = 0; line < c->project->line_count; line++) {
        if (worked_at(c, size, line)->times > 0)
            fill_part(c, size, line, &parts[line]);
        hours->worked_h += parts[line].worked_h;
        hours->ends_h += parts[line].ends_h;
        hours->ends += parts[line].ends;
    }
    double likely_h = hours->worked_h + hours->ends_h;
    hours->spread = likely_h > 0 ? spread_of(c, size, parts, likely_h) : 0;
    hours->hours = range_of(likely_h, hours->spread);
    hours->parts = parts;
    for (size_t line = 0; line < c->project->line_count; line++)
        if (worked_at(c, size, line)->times > 0)
            parts[hours->part_count++] = parts[line];
}

/* ---- Stitch by stitch -------------------------------------------------------------------------------------------- */

static struct hk_hours_stitch *stitch_entry(struct clocking *c, size_t stitch, double tool_mm)
{
    struct hk_hours *face = &c->clocked->face;
    const struct hk_stitch *of = &c->project->catalogue->stitches[stitch];
    const char *name = c->project->terms == HK_UK ? of->uk : of->us;
    name = name ? name : of->name;
    assert(c->stitches || face->stitch_count == 0);
    for (size_t i = 0; i < face->stitch_count; i++)
        if (c->stitches[i].tool_mm == tool_mm && strcmp(c->stitches[i].stitch, name) == 0)
            return &c->stitches[i];
    struct hk_hours_stitch *all =
        hk_arena_grow(&c->clocked->arena, c->stitches, face->stitch_count, &c->stitch_capacity, sizeof *all);
    if (!all)
        return NULL;
    c->stitches = all;
    all[face->stitch_count] = (struct hk_hours_stitch){.stitch = name, .tool_mm = tool_mm};
    return &all[face->stitch_count++];
}

/* One kind of a use, in hours; the seconds of one such stitch have the widest spread of the yarns it is worked in. */
static void add_kind(struct clocking *c, const struct hk_worked *worked, const struct hk_use *use, struct hk_kind kind)
{
    struct hk_kind one = {kind.stitch, 1};
    struct hk_kinds kinds = {&one, 1};
    double each_s = hk_fit_worked(c->fit, NULL, c->fit->tally, use->combination, worked->tool_mm, kinds, 0, NULL);
    struct hk_hours_stitch *entry = each_s > 0 && kind.count > 0 ? stitch_entry(c, kind.stitch, worked->tool_mm) : NULL;
    if (!entry)
        return;
    memset(c->gradient, 0, c->fit->count * sizeof *c->gradient);
    hk_fit_worked(c->fit, NULL, c->fit->tally, use->combination, worked->tool_mm, kinds, 1 / each_s, c->gradient);
    double count = (double)worked->times * kind.count;
    entry->count += count;
    entry->hours += count * each_s / S_PER_HOUR;
    entry->spread = fmax(entry->spread, sqrt(hk_fit_variance(c->fit, c->gradient)));
}

static void list_stitches(struct clocking *c, size_t size)
{
    struct hk_hours *face = &c->clocked->face;
    for (size_t line = 0; line < c->project->line_count; line++) {
        const struct hk_worked *worked = worked_at(c, size, line);
        for (size_t u = 0; u < worked->use_count && worked->times > 0; u++)
            for (size_t k = 0; k < worked->uses[u].kinds.count; k++)
                add_kind(c, worked, &worked->uses[u], worked->uses[u].kinds.kinds[k]);
    }
    for (size_t i = 0; i < face->stitch_count; i++) {
        assert(c->stitches);
        c->stitches[i].each_s = range_of(S_PER_HOUR * c->stitches[i].hours / c->stitches[i].count, c->stitches[i].spread);
    }
    face->stitches = c->stitches;
}

/* ---- The whole --------------------------------------------------------------------------------------------------- */

static void say_untimed(const struct clocking *c, struct hk_diags *diags)
{
    struct hk_place place = {0};
    if (c->project->swatch_count > 0 && c->project->swatches[0].cell.table)
        place = hk_table_place(c->project->swatches[0].cell.table);
    else if (c->project->line_count > 0 && c->project->lines[0].cell.table)
        place = hk_table_place(c->project->lines[0].cell.table);
    hk_diags_add(diags, HK_ASSUMED, place, "nothing was timed: the hours are a wide guess, from %s seconds a loop",
                 hk_number_text(c->project->spreads.time_loop_s, 3).text);
    hk_diags_hint(diags, "write the minutes that a swatch took in the column minutes of swatches.csv");
}

static void predict(struct clocking *c, size_t first, size_t last, size_t shown)
{
    struct clocked *clocked = c->clocked;
    struct hk_hours_size *sizes = hk_arena_take(&clocked->arena, last - first + 1, sizeof *sizes);
    c->gradient = hk_arena_take(&clocked->arena, c->fit->count, sizeof *c->gradient);
    if (clocked->arena.lost)
        return;
    for (size_t size = first; size <= last; size++)
        fill_size(c, size, &sizes[size - first]);
    clocked->face.sizes = sizes;
    clocked->face.size_count = last - first + 1;
    clocked->face.stitch_size = shown;
    list_stitches(c, shown);
}

struct hk_hours *hk_hours_predict(const struct hk_fit *time, size_t size, struct hk_diags *diags)
{
    const struct hk_project *project = time->tally->project;
    if (time->quantity != HK_TIME || (size != HK_NO_SIZE && size >= project->size_count)) {
        hk_diags_add(diags, HK_RANGE, (struct hk_place){"size", 0, 0}, "no hours can be told for that");
        hk_diags_hint(diags, "ask with a fit of time, for a size of the project");
        return NULL;
    }
    struct clocked *clocked = calloc(1, sizeof *clocked);
    if (!clocked) {
        diags->lost = true;
        return NULL;
    }
    bool all = size == HK_NO_SIZE;
    clocked->face = (struct hk_hours){.project = project->title, .evidence = time->evidence,
                                      .end_min = project->spreads.time_end_min};
    struct clocking c = {.clocked = clocked, .fit = time, .project = project};
    predict(&c, all ? 0 : size, all ? project->size_count - 1 : size, all ? (project->size_count - 1) / 2 : size);
    if (time->evidence == 0)
        say_untimed(&c, diags);
    diags->lost |= clocked->arena.lost;
    if (!diags->lost)
        return &clocked->face;
    hk_hours_free(&clocked->face);
    return NULL;
}

void hk_hours_free(struct hk_hours *hours)
{
    struct clocked *clocked = (struct clocked *)hours;
    if (!clocked)
        return;
    hk_arena_free(&clocked->arena);
    free(clocked);
}
