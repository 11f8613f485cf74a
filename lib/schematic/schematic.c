/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The schematic: every outline in every size asked for. */
#include "schematic/schematic.h"

#include "schematic/way.h"

#include "base/diags.h"
#include "schematic/gauge.h"

#include <stdlib.h>

#define EFFORT_MOST ((int64_t)10000000) /* places worked again for motifs, in all outlines */

/* The public struct comes first, so that a `struct hk_schematic *` is a `struct drawn *`. */
struct drawn {
    struct hk_schematic face;
    struct hk_arena arena;
};

/* Returns true when the rows of the outline's lines have a gauge; else sets the reason. */
static bool gauge_known(struct hk_drawing *drawing)
{
    for (size_t i = 0; i < drawing->line_count; i++) {
        const struct hk_line *line = hk_drawing_line(drawing, i);
        const struct hk_swatch *width = drawing->width_gauges[drawing->lines[i]];
        if (!width || !drawing->height_gauges[drawing->lines[i]])
            return hk_drawing_refuse(drawing, hk_arena_print(drawing->arena, "no swatch of \"%s\" has a gauge%s",
                                                             line->fabric->name, width ? " of rows" : ""));
    }
    return true;
}

/* Returns true when all lines are worked as often as the first; else sets the reason. */
static bool copies_agree(struct hk_drawing *drawing)
{
    for (size_t i = 1; i < drawing->line_count; i++)
        if (hk_drawing_worked(drawing, drawing->lines[i])->times !=
            hk_drawing_worked(drawing, drawing->lines[0])->times)
            return hk_drawing_refuse(drawing,
                                     "its parts are not worked equally often, so their places on each other are "
                                     "not known");
    return true;
}

/* Sets whether it is rows or rounds; else the reason. */
static bool way_known(struct hk_drawing *drawing)
{
    size_t rounds = 0, open = 0;
    for (size_t i = 0; i < drawing->line_count; i++) {
        size_t line = drawing->lines[i];
        bool written = drawing->project->lines[line].written;
        enum hk_drawn_way way = written ? hk_written_rounds(drawing, line) ? HK_DRAWN_ROUNDS : HK_DRAWN_ROWS
                                        : hk_drawn_way(drawing->project, line);
        rounds += way == HK_DRAWN_ROUNDS;
        open += way == HK_DRAWN_OPEN;
    }
    drawing->rounds = rounds > 0;
    if (open > 0)
        return hk_drawing_refuse(drawing, "its fabric does not say whether it is worked in rows or in rounds");
    if (rounds > 0 && rounds < drawing->line_count)
        return hk_drawing_refuse(drawing, "it is worked partly in rows and partly in rounds");
    if (rounds == 0 && hk_drawing_from_ring(drawing))
        return hk_drawing_refuse(drawing,
                                 "it is worked in rows from a ring, and the counts alone do not give its shape");
    if (rounds > 0 && hk_stack_band(drawing->tally, drawing->lines[0]))
        return hk_drawing_refuse(drawing, "it is worked in rounds along an edge, which gives its shape");
    return true;
}

/* Adds the levels of all lines. */
static bool levels_known(struct hk_drawing *drawing)
{
    for (size_t i = 0; i < drawing->line_count; i++) {
        size_t line = drawing->lines[i];
        drawing->first_levels[i] = drawing->levels.count;
        bool good = drawing->project->lines[line].written ? hk_written_add(drawing, line) : hk_rows_add(drawing, line);
        if (!good)
            return false;
        drawing->first_levels[i + 1] = drawing->levels.count;
    }
    return drawing->levels.count > 1 || hk_drawing_refuse(drawing, "it has no rows");
}

/*
 * Returns true when few rows are drawn by the gauge of others: a tenth, which is 1 row in 20 too many where they are
 * half as high; of a polygon, whose size is that of its sides, a fifth. Else sets the reason.
 */
static bool others_few(struct hk_drawing *drawing, bool polygon)
{
    int64_t rows = hk_drawing_top(drawing)->rows;
    return drawing->other_rows <= rows / (polygon ? 5 : 10) || hk_drawing_refuse(drawing, drawing->other_why);
}

static void outline_draw(struct hk_drawing *drawing, struct hk_schematic_piece *piece)
{
    if (gauge_known(drawing) && copies_agree(drawing) && way_known(drawing) && levels_known(drawing)) {
        if (drawing->rounds)
            hk_rounds_draw(drawing, piece);
        else
            hk_flat_draw(drawing, piece);
        if (!drawing->why)
            others_few(drawing, piece->outline == HK_OUTLINE_POLYGON);
    }
    if (drawing->why)
        *piece = (struct hk_schematic_piece){.piece = piece->piece,
                                             .part = piece->part,
                                             .line = piece->line,
                                             .size = piece->size,
                                             .copies = piece->copies,
                                             .why = drawing->why};
}

/* Draws an outline in the drawing's size, unless the size does not work it. */
static void stack_draw(struct hk_drawing *drawing, const struct hk_stack *stack, struct hk_schematic *face,
                       struct hk_schematic_piece *pieces)
{
    const struct hk_line *first = &drawing->project->lines[stack->lines[0]];
    drawing->line_count = drawing->levels.count = 0;
    drawing->other_rows = 0;
    drawing->why = NULL;
    for (size_t i = 0; i < stack->count; i++)
        if (hk_drawing_worked(drawing, stack->lines[i])->times > 0)
            drawing->lines[drawing->line_count++] = stack->lines[i];
    if (drawing->line_count == 0)
        return;
    struct hk_schematic_piece *piece = &pieces[face->piece_count++];
    *piece = (struct hk_schematic_piece){.piece = first->piece,
                                         .part = stack->only ? "" : first->part,
                                         .line = stack->lines[0],
                                         .size = drawing->size,
                                         .copies = hk_drawing_worked(drawing, drawing->lines[0])->times,
                                         .why = ""};
    outline_draw(drawing, piece);
}

/* Draws an outline in all sizes, since a letter names the same measure in each; keeps those of `only`, or all. */
static void sizes_draw(struct hk_drawing *drawing, const struct hk_stack *stack, size_t only, struct hk_schematic *face,
                       struct hk_schematic_piece *pieces)
{
    const size_t first = face->piece_count;
    for (drawing->size = 0; drawing->size < drawing->project->size_count && !drawing->arena->out_of_memory;
         drawing->size++)
        stack_draw(drawing, stack, face, pieces);
    if (!hk_measures_choose(&pieces[first], face->piece_count - first, drawing->arena) || only == HK_NO_SIZE)
        return;
    const size_t end = face->piece_count;
    face->piece_count = first;
    for (size_t i = first; i < end; i++)
        if (pieces[i].size == only)
            pieces[face->piece_count++] = pieces[i];
}

static void draw_all(struct drawn *drawn, const struct hk_tally *tally, size_t only)
{
    const struct hk_project *project = tally->project;
    struct hk_stacks stacks;
    int64_t effort = EFFORT_MOST;
    struct hk_drawing drawing = {
        .tally = tally,
        .project = project,
        .arena = &drawn->arena,
        .effort = &effort,
        .lines = hk_arena_take(&drawn->arena, project->line_count, sizeof *drawing.lines),
        .first_levels = hk_arena_take(&drawn->arena, project->line_count + 1, sizeof *drawing.first_levels),
        .width_gauges = hk_arena_take(&drawn->arena, project->line_count, sizeof(struct hk_swatch *)),
        .height_gauges = hk_arena_take(&drawn->arena, project->line_count, sizeof(struct hk_swatch *))};
    if (!drawing.lines || !drawing.first_levels || !drawing.width_gauges || !drawing.height_gauges)
        return;
    for (size_t i = 0; i < project->line_count; i++) {
        drawing.width_gauges[i] = hk_gauge_drawn(project, i, false);
        drawing.height_gauges[i] = hk_gauge_drawn(project, i, true);
    }
    if (!hk_stacks_make(tally, &stacks, &drawn->arena))
        return;
    struct hk_schematic_piece *pieces =
        hk_arena_take(&drawn->arena, stacks.count * project->size_count, sizeof *pieces);
    drawn->face.pieces = pieces;
    for (size_t i = 0; pieces && i < stacks.count && !drawn->arena.out_of_memory; i++)
        sizes_draw(&drawing, &stacks.stacks[i], only, &drawn->face, pieces);
}

struct hk_schematic *hk_schematic_make(const struct hk_tally *tally, size_t size, struct hk_diags *diags)
{
    struct drawn *drawn = calloc(1, sizeof *drawn);
    if (!drawn) {
        diags->out_of_memory = true;
        return NULL;
    }
    draw_all(drawn, tally, size);
    if (!drawn->arena.out_of_memory)
        return &drawn->face;
    diags->out_of_memory = true;
    hk_schematic_free(&drawn->face);
    return NULL;
}

void hk_schematic_free(struct hk_schematic *schematic)
{
    struct drawn *drawn = (struct drawn *)schematic;
    if (!drawn)
        return;
    hk_arena_free(&drawn->arena);
    free(drawn);
}
