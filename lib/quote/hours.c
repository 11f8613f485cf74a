/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Predicts hours from the fit of time (the model of DEVELOPERS.md) by predict.h: W_j are the seconds worked in line j,
 * where strands held together are worked once; loose is the time to weave in ends. A seam is a line like any other.
 * Each start and each end of a strand is an end to weave in.
 */
#include "quote/hours.h"

#include "base/diags.h"
#include "model/predict.h"

#include <assert.h>
#include <gsl/gsl_math.h>
#include <stdlib.h>
#include <string.h>

#define S_PER_MIN 60.0
#define S_PER_HOUR 3600.0
#define MEDIAN 0.5 /* a chance */

struct clocking {
    struct hk_clocked *clocked;
    const struct hk_fit *fit;
    const struct hk_project *project;
    struct hk_priors priors;
    struct hk_level level; /* `enough` is the median */
    double *gradient;
    struct hk_extent *lines;
    struct hk_hours_stitch *stitches;
    size_t stitch_capacity;
};

static const struct hk_worked *worked_at(const struct clocking *c, size_t size, size_t line)
{
    return &c->fit->tally->lines[size * c->project->line_count + line];
}

/* Returns the ends of all strands. */
static double use_ends(const struct hk_project *project, const struct hk_use *use)
{
    const struct hk_combination *of = &project->combinations[use->combination];
    double ends = 0;
    for (size_t s = 0; s < of->strand_count; s++)
        ends += (double)of->strands[s].times * use->ends[s];
    return ends;
}

/* Returns the part of a use for hours; strands held together are worked once. */
static struct hk_asked_of of_use(const void *context, const struct hk_use *use)
{
    const struct hk_project *project = context;
    return (struct hk_asked_of){1, use_ends(project, use) * project->spreads.time_end_min * S_PER_MIN};
}

/* ---- Parts and sizes --------------------------------------------------------------------------------------------- */

static void fill_part(const struct clocking *c, size_t size, size_t line, struct hk_hours_part *part)
{
    const struct hk_worked *worked = worked_at(c, size, line);
    *part = (struct hk_hours_part){
        .piece = c->project->lines[line].piece,
        .part = c->project->lines[line].part,
        .worked_h = c->lines[line].worked / S_PER_HOUR,
        .ends_h = c->lines[line].loose / S_PER_HOUR,
    };
    for (size_t u = 0; u < worked->use_count; u++)
        part->ends += (double)worked->times * use_ends(c->project, &worked->uses[u]);
}

static void fill_size(const struct clocking *c, size_t size, struct hk_hours_size *hours)
{
    size_t lines = c->project->line_count;
    struct hk_hours_part *parts = hk_arena_take(&c->clocked->arena, lines, sizeof *parts);
    struct hk_asked asked = {c->fit, worked_at(c, size, 0), lines, of_use, c->project, NULL};
    struct hk_predicted predicted = {.lines = c->lines, .gradient = c->gradient};
    *hours = (struct hk_hours_size){.size = size, .size_name = c->project->sizes[size], .parts = parts};
    if (!parts)
        return;
    memset(c->gradient, 0, c->fit->count * sizeof *c->gradient);
    hk_predict(&asked, &c->priors, &predicted);
    for (size_t line = 0; line < lines; line++) {
        if (worked_at(c, size, line)->times <= 0)
            continue;
        fill_part(c, size, line, &parts[hours->part_count]);
        hours->ends += parts[hours->part_count++].ends;
    }
    hours->worked_h = predicted.sum.worked / S_PER_HOUR;
    hours->ends_h = predicted.sum.loose / S_PER_HOUR;
    hours->spread = sqrt(predicted.variance);
    hours->hours = hk_range_of(&c->level, predicted.total / S_PER_HOUR, hours->spread);
}

/* ---- Stitch by stitch -------------------------------------------------------------------------------------------- */

static struct hk_hours_stitch *stitch_entry(struct clocking *c, size_t stitch, double tool_mm)
{
    struct hk_hours *face = &c->clocked->face;
    const struct hk_stitch *of = &c->project->catalogue->stitches[stitch];
    const char *name = c->project->terms == HK_TERMS_UK ? of->uk : of->us;
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

/* Adds one kind of a use, in hours. The seconds per stitch have the largest spread of its yarns. */
static void add_kind(struct clocking *c, const struct hk_worked *worked, const struct hk_use *use, struct hk_kind kind)
{
    struct hk_kind one = {kind.stitch, 1};
    struct hk_kinds kinds = {&one, 1};
    struct hk_ground ground = {c->fit->tally, use->combination, worked->tool_mm, false};
    double each_s = hk_fit_worked(c->fit, NULL, ground, kinds, 0, NULL);
    struct hk_hours_stitch *entry = each_s > 0 && kind.count > 0 ? stitch_entry(c, kind.stitch, worked->tool_mm) : NULL;
    if (!entry)
        return;
    memset(c->gradient, 0, c->fit->count * sizeof *c->gradient);
    hk_fit_worked(c->fit, NULL, ground, kinds, 1 / each_s, c->gradient);
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
        double each_s = S_PER_HOUR * c->stitches[i].hours / c->stitches[i].count;
        c->stitches[i].each_s = hk_range_of(&c->level, each_s, c->stitches[i].spread);
    }
    face->stitches = c->stitches;
}

/*
 * ---- The whole answer
 * ---------------------------------------------------------------------------------------------------
 */

static void report_untimed(const struct clocking *c, struct hk_diags *diags)
{
    struct hk_place place = {0};
    if (c->project->swatch_count > 0 && c->project->swatches[0].cell.table)
        place = hk_table_place(c->project->swatches[0].cell.table);
    else if (c->project->line_count > 0 && c->project->lines[0].written)
        place = (struct hk_place){c->project->lines[0].at.file, 0, 0};
    else if (c->project->line_count > 0 && c->project->lines[0].cell.table)
        place = hk_table_place(c->project->lines[0].cell.table);
    hk_diags_add(diags, HK_CODE_ASSUMPTION, place,
                 "nothing was timed: the hours are a rough guess, from %s seconds a loop",
                 hk_number_text(c->project->spreads.time_loop_s, 3).text);
    hk_diags_hint(diags, "write the minutes that a swatch took in the column minutes of swatches.csv");
}

static void predict(struct clocking *c, size_t first, size_t last, size_t shown)
{
    struct hk_clocked *clocked = c->clocked;
    struct hk_hours_size *sizes = hk_arena_take(&clocked->arena, last - first + 1, sizeof *sizes);
    c->gradient = hk_arena_take(&clocked->arena, c->fit->count, sizeof *c->gradient);
    c->lines = hk_arena_take(&clocked->arena, c->project->line_count, sizeof *c->lines);
    if (clocked->arena.out_of_memory)
        return;
    for (size_t size = first; size <= last; size++)
        fill_size(c, size, &sizes[size - first]);
    clocked->face.sizes = sizes;
    clocked->face.size_count = last - first + 1;
    clocked->face.stitch_size = shown;
    list_stitches(c, shown);
}

struct hk_hours *hk_hours_predict(const struct hk_time_fit *of, size_t size, struct hk_diags *diags)
{
    const struct hk_fit *time = &of->fit;
    const struct hk_project *project = time->tally->project;
    if (time->quantity != HK_QUANTITY_TIME || (size != HK_NO_SIZE && size >= project->size_count)) {
        hk_diags_add(diags, HK_CODE_RANGE, (struct hk_place){"size", 0, 0},
                     "no hours can be computed for this request");
        hk_diags_hint(diags, "ask with a fit of time, for a size of the project");
        return NULL;
    }
    struct hk_clocked *clocked = calloc(1, sizeof *clocked);
    if (!clocked) {
        diags->out_of_memory = true;
        return NULL;
    }
    bool all = size == HK_NO_SIZE;
    clocked->face = (struct hk_hours){.project = project->title, .evidence = time->evidence,
                                      .end_min = project->spreads.time_end_min};
    struct clocking c = {.clocked = clocked, .fit = time, .project = project,
                         .priors = hk_priors_of(&project->spreads, HK_QUANTITY_TIME), .level = hk_level_of(MEDIAN, -1)};
    clocked->tally = time->tally;
    clocked->first_size = all ? 0 : size;
    clocked->last_size = all ? project->size_count - 1 : size;
    predict(&c, clocked->first_size, clocked->last_size, all ? (project->size_count - 1) / 2 : size);
    if (time->evidence == 0)
        report_untimed(&c, diags);
    diags->out_of_memory |= clocked->arena.out_of_memory;
    if (!diags->out_of_memory)
        return &clocked->face;
    hk_hours_free(&clocked->face);
    return NULL;
}

void hk_hours_free(struct hk_hours *hours)
{
    struct hk_clocked *clocked = (struct hk_clocked *)hours;
    if (!clocked)
        return;
    hk_arena_free(&clocked->arena);
    free(clocked);
}
