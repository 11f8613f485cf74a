/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The finished sizes of a published pattern: the measures that grade.csv marks for print, else the sizes by gauge of
 * pieces without divisions. The size of a piece that divides, or continues along its own edge, does not follow from its
 * rows.
 */
#include "materials/materials.h"

#include "project/gauge.h"

#include <math.h>

#define MM_STEP_CM 0.1 /* cm are stated to the millimetre, inches to a quarter */
#define QUARTER_INCH 0.25
#define EDGING_MOST_M 0.1 /* work on an edge that is longer is not an edging; from experience, no source */

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

/* Adds the rows of grade.csv that are marked for print. */
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

/* Returns metres by the gauge of the line's fabric; NAN if no swatch has a gauge or the size does not have the line. */
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

/* Returns true when some size works stitches in the line; sewn seams and fringes have none. */
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

/* The relations between the lines of a piece. */
struct piece_line {
    size_t first;  /* the first line of the piece */
    size_t next;   /* the next line that continues this one, skipping sewn ones; the number of lines if there is none */
    size_t latest; /* for a first line: the last line of its piece with stitches */
    size_t begins; /* for a first line: the lines of its piece that begin with a chain, or on other work (`on`) */
    bool divides;  /* for a first line: its piece continues along its own edge, from a ring, in other copies, or
                    * on stitches left earlier */
};

/* Returns true for a line that has a size of its own within its piece. */
static bool begins(const struct hk_line *line)
{
    return line->start == HK_START_CHAIN || line->on.count > 0;
}

/* Returns true when rows of a line of pattern.txt begin again on stitches left by earlier rows. */
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
    if (line == lines[line].first || !has_stitches(w, line)) /* `latest` starts as the first line */
        return;
    bool continues = of->start == HK_START_CONTINUE;
    if (continues)
        lines[first->latest].next = line;
    first->divides |= continues ? !same_copies(w, first->latest, line) : !begins(of);
    first->latest = line;
}

/* Links the lines of each piece. NULL when out of memory. */
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

/* Returns true when every row leaves this number of stitches. */
static bool of_width(const struct hk_worked *worked, int64_t stitches)
{
    for (size_t i = 0; i < worked->run_count; i++) {
        const struct hk_row_run *run = &worked->runs[i];
        if (run->stitches != stitches || run->step != 0)
            return false;
    }
    return true;
}

/* Returns the common width in metres of all lines from `first` on, by gauge; NAN if they differ or have no gauge. */
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
        width_m = fmax(width_m, finished_m(w, size, line, false)); /* the larger of two gauges: a rib draws in */
    }
    return width_m;
}

/* Returns true for rows of a fabric that keeps widening or narrowing, whose length does not follow from a gauge. */
static bool runs_on(const struct hk_writing *w, const struct hk_worked *worked, const struct hk_fabric *fabric)
{
    return worked->run_count == 0 || worked->runs[worked->run_count - 1].last == 1 ||
           !hk_count_shapes(fabric, w->project->catalogue, w->arena);
}

/* A length by gauge: metres, and whether it is complete. */
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

/*
 * Returns true for a line whose size is printed: one that begins with a chain, or is worked from an edge (a body, a
 * sleeve), except edgings and seams.
 */
static bool has_size(const struct hk_writing *w, const struct piece_line *lines, size_t line)
{
    const struct hk_line *of = &w->project->lines[line];
    const struct piece_line *first = &lines[lines[line].first];
    bool edge = of->start == HK_START_EDGE && (of->first || of->on.count > 0);
    bool unnamed = first->begins > 1 && !*of->part && !of->written; /* a size of an unnamed part would be taken for
                                                                     * that of the piece */
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
    bool parts = lines[lines[line].first].begins > 1 && *of->part; /* print the names of parts */
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
