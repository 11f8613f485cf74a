/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The levels of a line of pattern.txt, from the counts of its rows and the places of their shaping. A row that changes
 * an edge by more than the usual stitch or two, or all the row evenly, makes a step.
 */
#include "schematic/gauge.h"
#include "schematic/schematic.h"

#include <inttypes.h>
#include <stdlib.h>

#define STEP_LEAST 3  /* stitches of one edge in one row, or of a lone round */
#define EVENLY_MOST 4 /* a row between two parts may change a quarter of its stitches: more gathers the fabric */
#define LONE_ROUNDS 6 /* rounds without a change on both sides of a lone one */
#define RING_CHAINS 4 /* a foundation of so few chains, with more stitches in its first round, is a ring */

static const char again_text[] = "work begins more than once in it, and the places of its parts are not known";
static const char within_text[] = "it is shaped within its rows, and the counts alone do not give its shape";

static const struct hk_proof_line *proof_of(const struct hk_drawing *drawing, size_t line)
{
    return &drawing->project->proof->lines[line * drawing->project->size_count + drawing->size];
}

/* Returns the first work with rows; NULL: none. */
static const struct hk_proof_work *first_work(const struct hk_proof_line *proof)
{
    for (size_t i = 0; i < proof->count; i++)
        if (proof->works[i].rows > 0)
            return &proof->works[i];
    return NULL;
}

bool hk_written_rounds(const struct hk_drawing *drawing, size_t line)
{
    const struct hk_proof_work *first = first_work(proof_of(drawing, line));
    return first && first->round;
}

bool hk_written_from_ring(const struct hk_drawing *drawing, size_t line)
{
    const struct hk_proof_line *proof = proof_of(drawing, line);
    const struct hk_proof_work *first = first_work(proof);
    return drawing->project->lines[line].start == HK_START_RING ||
           (first && first->round && proof->foundation > 0 && proof->foundation <= RING_CHAINS &&
            first->width > proof->foundation);
}

/* ---- What is not drawn ---- */

/* Returns false with the reason when an entry of the line has no certain place in its outline. */
static bool entry_known(struct hk_drawing *drawing, size_t entry, bool first)
{
    const struct hk_project *project = drawing->project;
    const struct hk_proof_row *row = &project->proof->rows[entry * project->size_count + drawing->size];
    enum hk_entry_kind kind = project->written->entries[entry].kind;
    if (kind == HK_ENTRY_BEGIN && !first)
        return hk_drawing_refuse(drawing, again_text);
    if (kind == HK_ENTRY_BEGIN || kind == HK_ENTRY_CUT || !row->there)
        return true;
    if (!row->worked || row->from_stated)
        return hk_drawing_refuse(drawing, "some of its rows could not be worked");
    if (row->on_hold_count > 0)
        return hk_drawing_refuse(drawing, "a row puts stitches on hold, and their places are not known");
    return true;
}

/*
 * Counts the rows that are worked into one loop, for which there is no swatch: by their words, and after such a row
 * those that refer to other rows.
 */
static void one_loop_count(struct hk_drawing *drawing, const struct hk_written_line *of)
{
    const struct hk_project *project = drawing->project;
    bool one_loop = false;
    for (size_t i = of->first; i < of->first + of->count; i++) {
        const struct hk_entry *entry = &project->written->entries[i];
        bool words = entry->whole.text && hk_text_one_loop(entry->whole.text);
        if (words || (one_loop && entry->kind == HK_ENTRY_REFERENCE)) {
            drawing->other_rows += project->proof->rows[i * project->size_count + drawing->size].rows;
            drawing->other_why = "no swatch of rows in one loop has a gauge";
        }
        one_loop |= words;
    }
}

static bool entries_known(struct hk_drawing *drawing, size_t line)
{
    const struct hk_written_line *of = &drawing->project->written->works[line];
    for (size_t i = of->first; i < of->first + of->count; i++)
        if (!entry_known(drawing, i, i == of->first))
            return false;
    one_loop_count(drawing, of);
    return true;
}

/* Counts the rows of a work of which most stitches are not worked in the swatch of the line's gauge. */
static void gauge_compare(struct hk_drawing *drawing, size_t line, const struct hk_proof_work *work)
{
    const struct hk_project *project = drawing->project;
    const struct hk_fabric *fabric = drawing->width_gauges[line]->fabric;
    const struct hk_proof_stitches *most = NULL;
    int64_t alike = 0, other = 0;
    for (size_t i = 0; i < work->stitch_count; i++) {
        const struct hk_proof_stitches *stitches = &work->stitches[i];
        const struct hk_stitch *stitch = &project->catalogue->stitches[stitches->stitch];
        if (stitch->needs == 0 || stitch->leaves == 0)
            continue;
        *(hk_fabric_works(fabric, project->catalogue, stitch->base) ? &alike : &other) += stitches->count;
        most = !most || stitches->count > most->count ? stitches : most;
    }
    if (alike >= other)
        return;
    const char *word = hk_stitch_word(&project->catalogue->stitches[most->stitch], project->terms);
    drawing->other_rows += work->rows;
    drawing->other_why = hk_arena_print(drawing->arena, "no swatch of \"%s\" has a gauge", word);
}

/* ---- Edges of flat rows ---- */

/* The two edges of a flat outline, and how its shaping names them. */
struct edges {
    double stitch_m;
    int64_t row;                  /* the rows worked */
    bool mirrored;                /* the first row is worked from left to right */
    bool by_row, by_work, joined; /* the ends of rows, the edges of the work, were shaped unequally; yarn was joined */
};

/* Returns the change of both edges in stitches, the left one first. False with the reason when it is not known. */
static bool edges_change(struct hk_drawing *drawing, struct edges *edges, const struct hk_proof_work *work,
                         int64_t more, double change[2])
{
    const struct hk_ends *ends = &work->changed;
    if (work->ends_of == HK_ENDS_OF_NEITHER) {
        change[0] = change[1] = (double)more / 2;
        return true;
    }
    if (ends->elsewhere || ends->start + ends->end != more)
        return hk_drawing_refuse(drawing, within_text);
    bool from_right = work->ends_of == HK_ENDS_OF_ROW && (edges->row % 2 == 0) != edges->mirrored;
    change[0] = (double)(from_right ? ends->end : ends->start);
    change[1] = (double)(from_right ? ends->start : ends->end);
    if (ends->start == ends->end)
        return true;
    edges->by_row |= work->ends_of == HK_ENDS_OF_ROW;
    edges->by_work |= work->ends_of == HK_ENDS_OF_WORK;
    if (edges->by_row && (edges->by_work || edges->joined))
        return hk_drawing_refuse(drawing,
                                 "its two edges are shaped unequally, and which row shapes which is not known");
    return true;
}

static bool level_add(struct hk_drawing *drawing, size_t line, int64_t rows, int64_t stitches, double left_m,
                      double right_m)
{
    struct hk_level level = *hk_drawing_top(drawing);
    if (drawing->levels.count >= HK_LEVELS_MOST)
        return hk_drawing_refuse(drawing, "its width changes too often to be drawn");
    level.rows += rows;
    level.y_m += hk_drawing_height(drawing, line, rows);
    level.stitches = stitches;
    level.left_m = left_m;
    level.right_m = right_m;
    level.corner = level.ends = false;
    return hk_levels_add(&drawing->levels, level, drawing->arena);
}

/* Returns false with the reason when a step changes too many stitches. */
static bool step_known(struct hk_drawing *drawing, int64_t below, int64_t stitches)
{
    if (llabs(stitches - below) <= below / EVENLY_MOST)
        return true;
    return hk_drawing_refuse(drawing, hk_arena_print(drawing->arena,
                                                     "a row changes from %" PRId64 " to %" PRId64
                                                     " stitches, and the counts alone do not give its shape",
                                                     below, stitches));
}

/* Adds the rows of a work, the first of which may change the edges. */
static bool flat_add(struct hk_drawing *drawing, size_t line, const struct hk_proof_work *work, struct edges *edges)
{
    const struct hk_level top = *hk_drawing_top(drawing);
    double change[2] = {0, 0};
    bool changes = work->width != top.stitches || work->changed.start != 0;
    if (changes && !edges_change(drawing, edges, work, work->width - top.stitches, change))
        return false;
    bool evenly = work->ends_of == HK_ENDS_OF_NEITHER && work->width != top.stitches;
    double left = top.left_m - change[0] * edges->stitch_m, right = top.right_m + change[1] * edges->stitch_m;
    if (evenly && !step_known(drawing, top.stitches, work->width))
        return false;
    if ((evenly || llabs((int64_t)change[0]) >= STEP_LEAST || llabs((int64_t)change[1]) >= STEP_LEAST) &&
        !hk_levels_step(&drawing->levels, work->width, left, right, drawing->arena))
        return false;
    edges->row += work->rows;
    edges->joined |= work->joined;
    return level_add(drawing, line, 1, work->width, left, right) &&
           (work->rows == 1 || level_add(drawing, line, work->rows - 1, work->width, left, right));
}

/* ---- Rounds ---- */

/* Returns true for a change of stitches that no other change of the line is near; grows: the rounds below come from a
 * ring. */
static bool is_lone(const struct hk_proof_line *proof, size_t work, int64_t below, bool grows)
{
    int64_t before = 0, after = proof->works[work].rows - 1;
    size_t i = work;
    for (; i > 0 && (proof->works[i - 1].width == below || proof->works[i - 1].rows == 0); i--)
        before += proof->works[i - 1].rows;
    bool first = i == 0 && !grows;
    for (i = work + 1; i < proof->count && proof->works[i].width == proof->works[work].width; i++)
        after += proof->works[i].rows;
    return (first || before >= LONE_ROUNDS) && (i == proof->count || after >= LONE_ROUNDS);
}

static bool round_add(struct hk_drawing *drawing, size_t line, size_t index)
{
    const struct hk_proof_line *proof = proof_of(drawing, line);
    const struct hk_proof_work *work = &proof->works[index];
    int64_t below = hk_drawing_top(drawing)->stitches, more = llabs(work->width - below);
    const double half = hk_drawing_width(drawing, line, work->width) / 2;
    bool grows = drawing->levels.levels[0].stitches == 0;
    bool step = more > 0 &&
                (work->ends_of == HK_ENDS_OF_NEITHER || (more >= STEP_LEAST && is_lone(proof, index, below, grows)));
    if (step && (!step_known(drawing, below, work->width) ||
                 !hk_levels_step(&drawing->levels, work->width, 0 - half, half, drawing->arena)))
        return false;
    return level_add(drawing, line, 1, work->width, -half, half) &&
           (work->rows == 1 || level_add(drawing, line, work->rows - 1, work->width, -half, half));
}

/* ---- The line ---- */

/* Sets the side of the first row that names one. */
static void sides_take(const struct hk_proof_line *proof, struct edges *edges)
{
    int64_t row = edges->row;
    for (size_t i = 0; i < proof->count; i++) {
        if (proof->works[i].rows > 0 && proof->works[i].side != HK_SIDE_OPEN) {
            edges->mirrored = (proof->works[i].side == HK_SIDE_WRONG) == (row % 2 == 0);
            return;
        }
        row += proof->works[i].rows;
    }
}

/* Begins the line on the rows below it, or in the ring. */
static bool foot_add(struct hk_drawing *drawing, size_t line, const struct hk_proof_work *first)
{
    if (drawing->levels.count > 0)
        return hk_drawing_stand(drawing, line, hk_drawing_top(drawing)->stitches);
    const struct hk_proof_line *proof = proof_of(drawing, line);
    bool ring = hk_written_from_ring(drawing, line);
    if (first->round && !ring && proof->foundation > 0 &&
        first->width > proof->foundation + proof->foundation / EVENLY_MOST)
        return hk_drawing_refuse(drawing,
                                 "its first round has more stitches than its foundation, so the counts alone do not "
                                 "give its shape");
    return hk_drawing_stand(drawing, line, ring ? 0 : first->width);
}

/* Returns true when all stitches are bound off, which adds no height. */
static bool binds_off(const struct hk_proof_work *work)
{
    return work->width == 0;
}

bool hk_written_add(struct hk_drawing *drawing, size_t line)
{
    const struct hk_proof_line *proof = proof_of(drawing, line);
    const struct hk_proof_work *first = first_work(proof);
    if (!first || binds_off(first))
        return entries_known(drawing, line);
    if (!entries_known(drawing, line) || !foot_add(drawing, line, first))
        return false;
    struct edges edges = {.stitch_m = hk_drawing_width(drawing, line, 1), .row = hk_drawing_top(drawing)->rows};
    sides_take(proof, &edges);
    bool off = false;
    for (size_t i = 0; i < proof->count; i++) {
        const struct hk_proof_work *work = &proof->works[i];
        if (work->rows == 0)
            continue;
        if (off || (work->begins && hk_drawing_top(drawing)->rows > 0))
            return hk_drawing_refuse(drawing, again_text);
        off = binds_off(work);
        if (off)
            continue;
        if (work->round != first->round)
            return hk_drawing_refuse(drawing, "it is worked partly in rows and partly in rounds");
        gauge_compare(drawing, line, work);
        if (!(work->round ? round_add(drawing, line, i) : flat_add(drawing, line, work, &edges)))
            return false;
    }
    hk_drawing_top(drawing)->ends = true;
    return true;
}
