/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The outline along the levels: its points, and the measures that letters name. */
#include "schematic/schematic.h"

#include <math.h>

static const double same_m = 1e-9;

/* The points of an outline being drawn; without memory `points` is NULL and nothing is added. */
struct pen {
    struct hk_schematic_point *points;
    size_t count, first; /* first: of the edge being drawn */
};

static bool on_line(struct hk_schematic_point a, struct hk_schematic_point b, struct hk_schematic_point c)
{
    double length = hypot(c.x_m - a.x_m, c.y_m - a.y_m);
    return length <= same_m ||
           fabs((b.x_m - a.x_m) * (c.y_m - a.y_m) - (b.y_m - a.y_m) * (c.x_m - a.x_m)) <= same_m * length;
}

/* Adds a point; one that repeats the last, or makes it a point of a straight edge, replaces it. */
static void pen_add(struct pen *pen, struct hk_schematic_point point)
{
    const struct hk_schematic_point *end = pen->points + pen->count;
    bool same = pen->count > 0 && hypot(end[-1].x_m - point.x_m, end[-1].y_m - point.y_m) <= same_m;
    if (!same && pen->count >= pen->first + 2 && on_line(end[-2], end[-1], point))
        pen->count--;
    if (!same)
        pen->points[pen->count++] = point;
}

static struct hk_schematic_point point_of(const struct hk_level *level, bool right, double scale)
{
    return (struct hk_schematic_point){scale * (right ? level->right_m : level->left_m), level->y_m};
}

static void points_draw(struct hk_drawing *drawing, double scale, struct hk_schematic_piece *piece)
{
    const struct hk_levels *levels = &drawing->levels;
    struct pen pen = {.points = hk_arena_take(drawing->arena, 2 * levels->count, sizeof *pen.points)};
    if (!pen.points)
        return;
    pen_add(&pen, point_of(&levels->levels[0], false, scale));
    pen.first = pen.count;
    for (size_t i = 0; i < levels->count; i++)
        if (levels->levels[i].corner)
            pen_add(&pen, point_of(&levels->levels[i], true, scale));
    pen.first = pen.count;
    for (size_t i = levels->count; i > 1; i--)
        if (levels->levels[i - 1].corner)
            pen_add(&pen, point_of(&levels->levels[i - 1], false, scale));
    if (pen.count >= pen.first + 2 && on_line(pen.points[pen.count - 2], pen.points[pen.count - 1], pen.points[0]))
        pen.count--;
    piece->points = pen.points;
    piece->point_count = pen.count;
}

/* The measures of an outline being drawn. */
struct measuring {
    struct hk_schematic_measure *measures;
    size_t count;
    enum hk_measured measured; /* of widths */
    double scale, right_m;     /* right_m: the right end of the drawing */
};

/* What a measure is of. */
struct place {
    enum hk_measured_at at;
    size_t line;
    const char *part;
    size_t nth;
};

static void width_measure(struct measuring *measuring, struct place place, const struct hk_level *level)
{
    if (level->stitches > 0)
        measuring->measures[measuring->count++] =
            (struct hk_schematic_measure){.measured = measuring->measured,
                                          .at = place.at,
                                          .line = place.line,
                                          .part = place.part,
                                          .nth = place.nth,
                                          .count = level->stitches,
                                          .length_m = hk_level_width(level),
                                          .from = point_of(level, false, measuring->scale),
                                          .to = point_of(level, true, measuring->scale)};
}

static void height_measure(struct measuring *measuring, struct place place, const struct hk_level *from,
                           const struct hk_level *to)
{
    if (to->rows > from->rows)
        measuring->measures[measuring->count++] = (struct hk_schematic_measure){.measured = HK_MEASURED_HEIGHT,
                                                                                .at = place.at,
                                                                                .line = place.line,
                                                                                .part = place.part,
                                                                                .nth = place.nth,
                                                                                .count = to->rows - from->rows,
                                                                                .rows = true,
                                                                                .length_m = to->y_m - from->y_m,
                                                                                .from = {measuring->right_m, from->y_m},
                                                                                .to = {measuring->right_m, to->y_m}};
}

/* Measures a part, from its first level to its last. */
static void part_measure(struct measuring *measuring, struct place of, const struct hk_level *levels, size_t first,
                         size_t last)
{
    const struct place start = {HK_MEASURED_START, of.line, of.part, 0}, end = {HK_MEASURED_END, of.line, of.part, 0};
    struct place within = {HK_MEASURED_WITHIN, of.line, of.part, 1};
    const struct hk_level *below = &levels[first];
    width_measure(measuring, start, below);
    for (size_t i = first + 1; i < last; i++) {
        if (!levels[i].corner)
            continue;
        height_measure(measuring, within, below, &levels[i]);
        width_measure(measuring, within, &levels[i]);
        below = &levels[i];
        within.nth++;
    }
    if (within.nth > 1)
        height_measure(measuring, within, below, &levels[last]);
    height_measure(measuring, of, &levels[first], &levels[last]);
    width_measure(measuring, end, &levels[last]);
}

/* Makes all measures; hk_measures_choose keeps those that the drawing needs. */
static void measures_make(const struct hk_drawing *drawing, struct measuring *measuring)
{
    const struct hk_level *levels = drawing->levels.levels;
    for (size_t i = 0; i < drawing->line_count; i++) {
        size_t first = drawing->first_levels[i], end = drawing->first_levels[i + 1];
        bool stands = first > 0 && first < end && levels[first].rows > levels[first - 1].rows;
        const struct place of = {HK_MEASURED_PART, drawing->lines[i], hk_drawing_line(drawing, i)->part, 0};
        if (first < end)
            part_measure(measuring, of, levels, stands ? first - 1 : first, end - 1);
    }
    height_measure(measuring, (struct place){HK_MEASURED_WHOLE, drawing->lines[0], "", 0}, &levels[0],
                   &levels[drawing->levels.count - 1]);
}

void hk_levels_draw(struct hk_drawing *drawing, enum hk_measured measured, double scale,
                    struct hk_schematic_piece *piece)
{
    const struct hk_levels *levels = &drawing->levels;
    struct measuring measuring = {
        .measures =
            hk_arena_take(drawing->arena, 2 * levels->count + 4 * drawing->line_count + 1, sizeof *measuring.measures),
        .measured = measured,
        .scale = scale};
    for (size_t i = 0; i < levels->count; i++)
        measuring.right_m = fmax(measuring.right_m, scale * levels->levels[i].right_m);
    points_draw(drawing, scale, piece);
    if (!measuring.measures || !piece->points)
        return;
    measures_make(drawing, &measuring);
    piece->measures = measuring.measures;
    piece->measure_count = measuring.count;
}

void hk_flat_draw(struct hk_drawing *drawing, struct hk_schematic_piece *piece)
{
    hk_levels_corners(&drawing->levels);
    piece->outline = HK_OUTLINE_FLAT;
    hk_levels_draw(drawing, HK_MEASURED_WIDTH, 1, piece);
}
