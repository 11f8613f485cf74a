/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The levels of a line of pieces.csv: its counts row by row, and the place of its shaping. */
#include "schematic/schematic.h"

#include <inttypes.h>
#include <stdlib.h>

/* A row that is shaped at both ends, by the usual one stitch at each. */
#define BOTH_ENDS_MOST 2
/* A row between two fabrics may change a quarter of its stitches: more gathers the fabric. */
#define EVENLY_MOST 4

static const char too_many_text[] = "its width changes too often to be drawn";

/* The runs of a line, read from the first row to the last. */
struct cursor {
    const struct hk_worked *worked;
    size_t run;
};

/* Returns the stitches of a row; rows are asked for in ascending order. */
static int64_t stitches_of(struct cursor *cursor, int64_t row)
{
    const struct hk_row_run *runs = cursor->worked->runs;
    while (runs[cursor->run].last < row && cursor->run + 1 < cursor->worked->run_count)
        cursor->run++;
    return runs[cursor->run].stitches + (row - runs[cursor->run].first) * runs[cursor->run].step;
}

static int64_t last_row(const struct hk_worked *worked)
{
    return worked->runs[worked->run_count - 1].last;
}

/*
 * Returns true when the fabric keeps its width: each row has the stitches of the same row of the cycle before. A cycle
 * that leaves the same edge does so again, so one cycle shows it. Less than two cycles must not change it at all.
 */
static bool keeps_width(const struct hk_line *line, const struct hk_worked *worked)
{
    struct cursor now = {worked, 0}, later = {worked, 0};
    int64_t setup = (int64_t)line->fabric->setup_count, cycle = (int64_t)line->fabric->cycle_count,
            rows = last_row(worked);
    for (int64_t row = setup + 1; row <= setup + cycle && row + cycle <= rows; row++)
        if (stitches_of(&now, row) != stitches_of(&later, row + cycle))
            return false;
    return rows > setup + cycle || (worked->run_count == 1 && (worked->runs[0].step == 0 || rows == 1));
}

/* Returns the largest change of stitches from one row to the next; *below: of the row below the line. */
static int64_t largest_change(const struct hk_worked *worked, int64_t below)
{
    int64_t most = 0;
    for (size_t i = 0; i < worked->run_count; i++) {
        const struct hk_row_run *run = &worked->runs[i];
        int64_t change = llabs(run->stitches - below), step = run->last > run->first ? llabs(run->step) : 0;
        most = change > most ? change : most;
        most = step > most ? step : most;
        below = run->stitches + (run->last - run->first) * run->step;
    }
    return most;
}

/* Returns true when the design shapes the line in this size by end_stitches or `every`. */
static bool is_shaped(const struct hk_line *line, size_t size)
{
    return line->every.given || (line->end_stitches.given && !hk_graded_none(&line->end_stitches, size));
}

/* Returns true when several parts take the stitches of the line. */
static bool is_divided(const struct hk_drawing *drawing, size_t line)
{
    for (size_t i = 0; i < drawing->project->line_count; i++) {
        const struct hk_on *on = &drawing->project->lines[i].on;
        for (size_t p = 0; p < on->count; p++) {
            const struct hk_on_part *part = &on->parts[p];
            bool some = part->kind == HK_ON_REST || (part->kind == HK_ON_STITCHES && part->count.given);
            if (some && part->of.line == line)
                return true;
        }
    }
    return false;
}

bool hk_drawing_stand(struct hk_drawing *drawing, size_t line, int64_t stitches)
{
    const double width = hk_drawing_width(drawing, line, stitches);
    struct hk_levels *levels = &drawing->levels;
    if (levels->count == 0)
        return hk_levels_add(levels,
                             (struct hk_level){.stitches = stitches, .left_m = 0 - width / 2, .right_m = width / 2},
                             drawing->arena);
    const struct hk_level *top = hk_drawing_top(drawing);
    const double stitch = hk_drawing_width(drawing, line, 1), middle = (top->left_m + top->right_m) / 2;
    const double apart = hk_level_width(top) - width;
    if (apart < stitch / 2 && apart > -stitch / 2)
        return true;
    return hk_levels_step(levels, stitches, middle - width / 2, middle + width / 2, drawing->arena);
}

/* Adds the top of a row of the line, `row` rows above its foot. */
static bool row_add(struct hk_drawing *drawing, size_t line, const struct hk_level *foot, int64_t row, int64_t stitches)
{
    const struct hk_level *top = hk_drawing_top(drawing);
    const double width = hk_drawing_width(drawing, line, stitches);
    bool one_end = drawing->project->lines[line].shaping == HK_SHAPING_AT_ONE_END && !drawing->rounds;
    struct hk_level level = {.rows = foot->rows + row,
                             .stitches = stitches,
                             .y_m = foot->y_m + hk_drawing_height(drawing, line, row),
                             .left_m = one_end ? top->left_m : (top->left_m + top->right_m - width) / 2};
    level.right_m = level.left_m + width;
    return hk_levels_add(&drawing->levels, level, drawing->arena);
}

static bool runs_add(struct hk_drawing *drawing, size_t line)
{
    const struct hk_worked *worked = hk_drawing_worked(drawing, line);
    const struct hk_level foot = *hk_drawing_top(drawing);
    if (worked->run_count >= HK_RUNS_MOST || drawing->levels.count + 2 * worked->run_count > HK_LEVELS_MOST)
        return hk_drawing_refuse(drawing, too_many_text);
    for (size_t i = 0; i < worked->run_count; i++) {
        const struct hk_row_run *run = &worked->runs[i];
        int64_t last = run->stitches + (run->last - run->first) * run->step;
        if (!row_add(drawing, line, &foot, run->first, run->stitches) ||
            (run->last > run->first && !row_add(drawing, line, &foot, run->last, last)))
            return false;
    }
    return true;
}

/* Returns false with the reason when the rows of a flat line do not show where they are shaped. */
static bool shaping_known(struct hk_drawing *drawing, size_t line, int64_t below)
{
    const struct hk_line *of = &drawing->project->lines[line];
    int64_t change = largest_change(hk_drawing_worked(drawing, line), below);
    if (of->shaping == HK_SHAPING_AT_BOTH_ENDS || of->shaping == HK_SHAPING_AT_ONE_END || of->every.both_ends)
        return true;
    if (of->shaping == HK_SHAPING_WITHIN)
        return hk_drawing_refuse(drawing, "it is shaped within its rows, and the counts alone do not give its shape");
    if (!is_shaped(of, drawing->size))
        return hk_drawing_refuse(drawing,
                                 hk_arena_print(drawing->arena,
                                                "\"%s\" changes the number of stitches, and the counts alone do "
                                                "not say where",
                                                of->fabric->name));
    if (is_divided(drawing, line))
        return hk_drawing_refuse(drawing,
                                 "other parts take its stitches apart, so the counts alone do not say where its "
                                 "rows are shaped");
    if (change <= BOTH_ENDS_MOST)
        return true;
    return hk_drawing_refuse(drawing, hk_arena_print(drawing->arena,
                                                     "some of its rows change by %" PRId64
                                                     " stitches, and the column shaping of pieces.csv does "
                                                     "not say where",
                                                     change));
}

/* Returns the stitches at the foot of a line that is not even: 0 in a ring, else those of the row below, or of row 1.
 */
static int64_t foot_of(const struct hk_drawing *drawing, const struct hk_line *line, const struct hk_worked *worked)
{
    int64_t first = worked->runs[0].stitches;
    if (drawing->levels.count == 0)
        return line->start == HK_START_RING ? 0 : first;
    int64_t below = hk_drawing_top(drawing)->stitches;
    return llabs(first - below) <= largest_change(worked, first) ? below : first;
}

bool hk_rows_add(struct hk_drawing *drawing, size_t line)
{
    const struct hk_line *of = &drawing->project->lines[line];
    const struct hk_worked *worked = hk_drawing_worked(drawing, line);
    if (worked->run_count == 0)
        return true;
    int64_t first = worked->runs[0].stitches;
    bool ring = drawing->levels.count == 0 && of->start == HK_START_RING;
    bool even = !ring && !is_shaped(of, drawing->size) && keeps_width(of, worked);
    int64_t foot = even ? first : foot_of(drawing, of, worked);
    int64_t below = drawing->levels.count > 0 ? hk_drawing_top(drawing)->stitches : foot;
    if (llabs(foot - below) > below / EVENLY_MOST)
        return hk_drawing_refuse(drawing, hk_arena_print(drawing->arena,
                                                         "a row changes from %" PRId64 " to %" PRId64
                                                         " stitches, and the counts alone do not give its shape",
                                                         below, foot));
    if (!even && !drawing->rounds && !shaping_known(drawing, line, foot))
        return false;
    if (!hk_drawing_stand(drawing, line, foot))
        return false;
    const struct hk_level at = *hk_drawing_top(drawing);
    hk_drawing_top(drawing)->corner |= !even; /* a design is shaped from line to line */
    if (!(even ? row_add(drawing, line, &at, last_row(worked), first) : runs_add(drawing, line)))
        return false;
    hk_drawing_top(drawing)->corner |= !even;
    hk_drawing_top(drawing)->ends = true;
    return true;
}
