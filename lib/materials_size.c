/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Finished sizes of a published pattern: what grade.csv marks for print, else what the gauge makes of the pieces. */
#include "materials.h"

#include "gauge.h"

#include <math.h>
#include <string.h>

#define MM_STEP_CM 0.1 /* cm are stated to the millimetre, inches to a quarter */
#define QUARTER_INCH 0.25
#define EDGING_MOST_M 0.1 /* what is worked on an edge and goes further is no edging; from experience, no source */

struct measures {
    struct hk_materials_size *list;
    size_t count, capacity;
};

static void measure_add(struct hk_writing *w, struct measures *measures, const char *name, const double *values,
                        enum hk_printed_kind kind)
{
    struct hk_materials_size *list =
        hk_arena_grow(w->arena, measures->list, measures->count, &measures->capacity, sizeof *list);
    struct hk_unit_step cm = {hk_round_near, MM_STEP_CM, QUARTER_INCH, true}, plain = {hk_round_near, 1, 1, false};
    if (!list)
        return;
    measures->list = list;
    list[measures->count++] = (struct hk_materials_size){
        .name = name, .amount = hk_writing_amount(w, values, kind, kind == HK_PRINT_SIZE ? cm : plain)};
}

/* The rows of the grading sheet that are marked for print. */
static void measures_stated(struct hk_writing *w, struct measures *measures)
{
    double *values = hk_arena_take(w->arena, w->size_count, sizeof *values);
    for (size_t i = 0; values && i < w->project->grade.count; i++) {
        const struct hk_measure *measure = &w->project->grade.measures[i];
        bool length = false, any = false;
        for (size_t size = 0; size < w->size_count; size++) {
            const struct hk_amount *amount = &measure->by_size[w->first + size];
            length |= amount->kind == HK_AMOUNT_LENGTH;
            values[size] = amount->kind == HK_AMOUNT_NONE    ? NAN
                           : amount->kind == HK_AMOUNT_COUNT ? (double)amount->count
                                                             : amount->length_m;
            any |= amount->kind != HK_AMOUNT_NONE;
        }
        if (measure->print && any)
            measure_add(w, measures, measure->name, values, length ? HK_PRINT_SIZE : HK_PRINT_COUNT);
    }
}

static int64_t widest(const struct hk_worked *worked)
{
    int64_t most = 0;
    for (size_t i = 0; i < worked->run_count; i++) {
        const struct hk_row_run *run = &worked->runs[i];
        int64_t last = run->stitches + (run->last - run->first) * run->step;
        most = run->stitches > most ? run->stitches : most;
        most = last > most ? last : most;
    }
    return most;
}

/* Metres by the gauge of the line's fabric; NAN where no swatch says it or the size does without. */
static double finished_m(const struct hk_writing *w, size_t size, size_t line, bool rows)
{
    const struct hk_line *of = &w->project->lines[line];
    const struct hk_worked *worked = hk_writing_worked(w, size, line);
    const struct hk_swatch *swatch = rows ? of->height_gauge : of->width_gauge;
    if (!swatch || worked->times == 0 || worked->run_count == 0)
        return NAN;
    double count = (double)(rows ? worked->runs[worked->run_count - 1].last : widest(worked));
    return 0.1 * count / (rows ? swatch->gauge_rows : swatch->gauge_stitches);
}

static bool same_piece(const struct hk_writing *w, size_t a, size_t b)
{
    return strcmp(w->project->lines[a].piece, w->project->lines[b].piece) == 0;
}

/* What the gauge tells of a piece: metres, and whether that is all of it. */
struct extent {
    double m;
    bool whole;
};

/*
 * The widest of the lines of a piece, or all its rows; of the line `first` and those that continue on it. A line whose fabric has
 * no gauge leaves the width as it is where it is no wider than one that has.
 */
static struct extent piece_extent(const struct hk_writing *w, size_t size, size_t first, bool rows)
{
    struct extent extent = {0, true};
    int64_t known = 0, unknown = 0;
    for (size_t line = first; line < w->project->line_count; line++) {
        if (!same_piece(w, line, first))
            continue;
        if (line > first && w->project->lines[line].start != HK_START_CONTINUE)
            break;
        const struct hk_worked *worked = hk_writing_worked(w, size, line);
        if (worked->times == 0)
            continue;
        double m = finished_m(w, size, line, rows);
        int64_t *most = isnan(m) ? &unknown : &known, stitches = widest(worked);
        *most = stitches > *most ? stitches : *most;
        extent.m = isnan(m) ? extent.m : rows ? extent.m + m : fmax(extent.m, m);
    }
    extent.whole = extent.m > 0 && (rows ? unknown == 0 : unknown <= known);
    return extent;
}

static bool first_of_piece(const struct hk_writing *w, size_t line)
{
    size_t first = 0;
    while (!same_piece(w, first, line))
        first++;
    return first == line;
}

/* What begins with a chain is a piece; so is what is worked on from an edge, a body or a sleeve, but no edging and no seam. */
static bool has_size(const struct hk_writing *w, size_t line)
{
    const struct hk_line *of = &w->project->lines[line];
    if (of->start == HK_START_CHAIN)
        return true;
    if (of->start != HK_START_EDGE || !first_of_piece(w, line))
        return false;
    double longest = 0;
    for (size_t size = 0; size < w->size_count; size++)
        longest = fmax(longest, piece_extent(w, size, line, true).m);
    return longest >= EDGING_MOST_M;
}

/* Whether the piece begins with a chain more than once, so that its parts need their names. */
static bool in_parts(const struct hk_writing *w, size_t line)
{
    size_t chains = 0;
    for (size_t i = 0; i < w->project->line_count; i++)
        chains += w->project->lines[i].start == HK_START_CHAIN && same_piece(w, i, line);
    return chains > 1 && *w->project->lines[line].part;
}

static void measure_piece(struct hk_writing *w, struct measures *measures, size_t line, bool rows)
{
    const struct hk_line *of = &w->project->lines[line];
    double *values = hk_arena_take(w->arena, w->size_count, sizeof *values);
    bool any = false;
    for (size_t size = 0; values && size < w->size_count; size++) {
        struct extent extent = piece_extent(w, size, line, rows);
        values[size] = extent.whole ? extent.m : NAN;
        any |= extent.whole;
    }
    const char *what = rows ? "length" : hk_writing_rounds(of->start, of->fabric) ? "round" : "width";
    bool parts = in_parts(w, line);
    if (any)
        measure_add(w, measures,
                    hk_arena_print(w->arena, "%s%s%s, %s", of->piece, parts ? " " : "", parts ? of->part : "", what),
                    values, HK_PRINT_SIZE);
}

static void measures_reckoned(struct hk_writing *w, struct measures *measures)
{
    for (size_t i = 0; i < w->project->line_count; i++) {
        if (!hk_writing_uses(w, i) || !has_size(w, i))
            continue;
        measure_piece(w, measures, i, false);
        measure_piece(w, measures, i, true);
    }
}

void hk_materials_sizes(struct hk_writing *w)
{
    struct measures measures = {0};
    measures_stated(w, &measures);
    if (measures.count == 0)
        measures_reckoned(w, &measures);
    w->face->measures = measures.list;
    w->face->measure_count = measures.count;
}
