/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Finished sizes of a published pattern: what grade.csv marks for print, else what the gauge makes of those pieces that run
 * straight through. What divides, or is worked on along an edge of itself, has sizes that no count of rows tells.
 */
#include "materials/materials.h"

#include "project/gauge.h"

#include <math.h>

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
        .name = name, .amount = hk_writing_amount(w, values, kind, kind == HK_PRINTED_SIZE ? cm : plain)};
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
            measure_add(w, measures, measure->name, values, length ? HK_PRINTED_SIZE : HK_PRINTED_COUNT);
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

/* Whether any size works stitches of the line: sewn seams and fringes have none. */
static bool has_stitches(const struct hk_writing *w, size_t line)
{
    for (size_t size = 0; size < w->size_count; size++) {
        const struct hk_worked *worked = hk_writing_worked(w, size, line);
        if (worked->times > 0 && widest(worked) > 0)
            return true;
    }
    return false;
}

static bool same_copies(const struct hk_writing *w, size_t a, size_t b)
{
    for (size_t size = 0; size < w->size_count; size++) {
        int64_t times = hk_writing_worked(w, size, b)->times;
        if (times > 0 && times != hk_writing_worked(w, size, a)->times)
            return false;
    }
    return true;
}

/* How the lines of a piece stand to each other. */
struct piece_line {
    size_t first;     /* of the piece */
    size_t next;      /* the next line that continues this one, past sewn ones; the number of lines where there is none */
    size_t latest;    /* of a first line: the latest of its piece that has stitches */
    size_t begins;    /* of a first line: how many of its piece begin with a chain, or on other work (`on`) */
    bool divides;     /* of a first line: its piece goes on along an edge of itself, from a ring, in other copies,
                         or on what it left */
};

/* What has sizes of its own within its piece. */
static bool begins(const struct hk_line *line)
{
    return line->start == HK_START_CHAIN || line->on.count > 0;
}

/* Whether rows of a line of pattern.txt begin again on what earlier ones left. */
static bool lies_beside(const struct hk_writing *w, size_t line)
{
    const struct hk_project *project = w->project;
    bool beside = false;
    for (size_t size = 0; project->lines[line].written && size < w->size_count; size++)
        beside |= project->proof->lines[line * project->size_count + w->first + size].beside;
    return beside;
}

static void link_line(const struct hk_writing *w, struct piece_line *lines, size_t line)
{
    const struct hk_line *of = &w->project->lines[line];
    struct piece_line *first = &lines[lines[line].first];
    first->begins += begins(of);
    first->divides |= lies_beside(w, line);
    if (line == lines[line].first || !has_stitches(w, line)) /* the first is `latest` from the beginning */
        return;
    bool continues = of->start == HK_START_CONTINUE;
    if (continues)
        lines[first->latest].next = line;
    first->divides |= continues ? !same_copies(w, first->latest, line) : !begins(of);
    first->latest = line;
}

/* NULL when the arena is out of memory. */
static struct piece_line *link_lines(struct hk_writing *w)
{
    size_t count = w->project->line_count;
    struct piece_line *lines = hk_arena_take(w->arena, count, sizeof *lines);
    for (size_t line = 0; lines && line < count; line++) {
        const struct hk_line *of = &w->project->lines[line];
        lines[line] = (struct piece_line){.first = of->first ? line : lines[of->before].first, .next = count, .latest = line};
        link_line(w, lines, line);
    }
    return lines;
}

/* Whether every row of it leaves so many stitches. */
static bool of_width(const struct hk_worked *worked, int64_t stitches)
{
    for (size_t i = 0; i < worked->run_count; i++) {
        const struct hk_row_run *run = &worked->runs[i];
        if (run->stitches != stitches || run->step != 0)
            return false;
    }
    return true;
}

/* Metres by the gauge of the width that all lines from `first` on have; NAN where there is no such width or no gauge of it. */
static double piece_width_m(const struct hk_writing *w, const struct piece_line *lines, size_t size, size_t first)
{
    double width_m = NAN;
    int64_t stitches = 0;
    for (size_t line = first; line < w->project->line_count; line = lines[line].next) {
        const struct hk_worked *worked = hk_writing_worked(w, size, line);
        if (worked->times == 0)
            continue;
        stitches = stitches ? stitches : widest(worked);
        if (!of_width(worked, stitches))
            return NAN;
        width_m = fmax(width_m, finished_m(w, size, line, false)); /* of two that differ: a rib draws in */
    }
    return width_m;
}

/* Rows of a fabric that goes on widening or narrowing lie across each other: how long they are together follows from no gauge. */
static bool runs_on(const struct hk_writing *w, const struct hk_worked *worked, const struct hk_fabric *fabric)
{
    return worked->run_count == 0 || worked->runs[worked->run_count - 1].last == 1 ||
           !hk_count_shapes(fabric, w->project->catalogue, w->arena);
}

/* What the gauge tells of a length: metres, and whether that is all of it. */
struct extent {
    double m;
    bool whole;
};

static struct extent piece_length(const struct hk_writing *w, const struct piece_line *lines, size_t size, size_t first)
{
    struct extent length = {0, true};
    for (size_t line = first; line < w->project->line_count; line = lines[line].next) {
        const struct hk_worked *worked = hk_writing_worked(w, size, line);
        if (worked->times == 0)
            continue;
        double m = runs_on(w, worked, w->project->lines[line].fabric) ? finished_m(w, size, line, true) : NAN;
        length.whole &= !isnan(m);
        length.m += isnan(m) ? 0 : m;
    }
    length.whole &= length.m > 0;
    return length;
}

/* What begins with a chain is a piece; so is what is worked on from an edge, a body or a sleeve, but no edging and no seam. */
static bool has_size(const struct hk_writing *w, const struct piece_line *lines, size_t line)
{
    const struct hk_line *of = &w->project->lines[line];
    const struct piece_line *first = &lines[lines[line].first];
    bool edge = of->start == HK_START_EDGE && (of->first || of->on.count > 0);
    bool unnamed = first->begins > 1 && !*of->part && !of->written; /* a size of a part would pass for that of the piece */
    if ((of->start != HK_START_CHAIN && !edge) || first->divides || unnamed)
        return false;
    double longest = 0;
    for (size_t size = 0; size < w->size_count; size++)
        longest = fmax(longest, piece_length(w, lines, size, line).m);
    return !edge || longest >= EDGING_MOST_M;
}

static void measure_piece(struct hk_writing *w, struct measures *measures, const struct piece_line *lines, size_t line, bool rows)
{
    const struct hk_line *of = &w->project->lines[line];
    double *values = hk_arena_take(w->arena, w->size_count, sizeof *values);
    bool any = false;
    for (size_t size = 0; values && size < w->size_count; size++) {
        struct extent length = piece_length(w, lines, size, line);
        values[size] = !rows ? piece_width_m(w, lines, size, line) : length.whole ? length.m : NAN;
        any |= !isnan(values[size]);
    }
    const char *what = rows ? "length" : hk_writing_rounds(w, line) ? "round" : "width";
    bool parts = lines[lines[line].first].begins > 1 && *of->part; /* which then need their names */
    if (any)
        measure_add(w, measures,
                    hk_arena_print(w->arena, "%s%s%s, %s", of->piece, parts ? " " : "", parts ? of->part : "", what),
                    values, HK_PRINTED_SIZE);
}

static void measures_by_gauge(struct hk_writing *w, struct measures *measures)
{
    const struct piece_line *lines = link_lines(w);
    for (size_t i = 0; lines && i < w->project->line_count; i++) {
        if (!hk_writing_uses(w, i) || !has_size(w, lines, i))
            continue;
        measure_piece(w, measures, lines, i, false);
        measure_piece(w, measures, lines, i, true);
    }
}

void hk_materials_sizes(struct hk_writing *w)
{
    struct measures measures = {0};
    measures_stated(w, &measures);
    if (measures.count == 0)
        measures_by_gauge(w, &measures);
    w->face->measures = measures.list;
    w->face->measure_count = measures.count;
}
