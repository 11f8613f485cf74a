/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Rounds: a disc, a polygon or a tube, where their lengths and heights show which. The limits are choices of ours, kept
 * so that a yoke is never drawn as a tube:
 *
 *     a disc        its last round is 2 pi times its radius, to a fifth
 *     a polygon     its apothem is its rounds over the gauge, to a third and half a round
 *     a tube        laid flat, an edge moves by at most a third of the height (a sleeve) where the rounds are shaped;
 *                   or the rounds end at most a fifth as long as the longest (a crown), or begin so and grow no faster
 *                   than a disc
 */
#include "schematic/schematic.h"

#include <math.h>

static const double pi = 3.14159265358979323846;
static const double disc_within = 1.2;
static const double slope_most = 1.0 / 3;
static const double closed_most = 0.2;
static const double apothem_within = 1.0 / 3;
#define POLYGON_LEAST 3
#define POLYGON_MOST 8
#define TUBE_SCALE 0.5 /* laid flat */

static const char yoke_text[] = "a yoke in rounds: its counts alone do not give its shape";
static const char ruffle_text[] =
    "its rounds grow faster than a flat circle, so the counts alone do not give its shape";

/* ---- A motif ---- */

static double height_of(const struct hk_drawing *drawing)
{
    return hk_drawing_top(drawing)->y_m;
}

/* Draws a polygon of n sides of length s: apothem s / (2 tan(pi / n)), radius of its corners s / (2 sin(pi / n)). */
static void polygon_draw(struct hk_drawing *drawing, const struct hk_motif *motif, struct hk_schematic_piece *piece)
{
    const size_t line = drawing->lines[drawing->line_count - 1], corners = (size_t)motif->corners;
    const double side = hk_drawing_width(drawing, line, motif->side), turn = pi / (double)motif->corners;
    const double apothem = side / (2 * tan(turn)), rounds = height_of(drawing);
    const double row = hk_drawing_height(drawing, line, 1);
    if (fabs(apothem - rounds) > apothem_within * rounds + row / 2) {
        hk_drawing_refuse(drawing, "its sides and its rounds do not make a flat motif");
        return;
    }
    struct hk_schematic_point *points = hk_arena_take(drawing->arena, corners, sizeof *points);
    struct hk_schematic_measure *measures = hk_arena_take(drawing->arena, 2, sizeof *measures);
    if (!points || !measures)
        return;
    const double radius = side / (2 * sin(turn));
    for (size_t i = 0; i < corners; i++) {
        double angle = -pi / 2 + turn * (2 * (double)i - 1);
        points[i].x_m = radius * cos(angle);
        points[i].y_m = radius * sin(angle);
    }
    measures[0] = (struct hk_schematic_measure){.measured = HK_MEASURED_SIDE,
                                                .line = piece->line,
                                                .part = "",
                                                .count = motif->side,
                                                .length_m = side,
                                                .from = points[0],
                                                .to = points[1]};
    measures[1] = (struct hk_schematic_measure){.measured = HK_MEASURED_APOTHEM,
                                                .line = piece->line,
                                                .part = "",
                                                .count = hk_drawing_top(drawing)->rows,
                                                .rows = true,
                                                .length_m = apothem,
                                                .to = {0, -apothem}};
    *piece = (struct hk_schematic_piece){.piece = piece->piece,
                                         .part = piece->part,
                                         .line = piece->line,
                                         .size = piece->size,
                                         .copies = piece->copies,
                                         .outline = HK_OUTLINE_POLYGON,
                                         .why = "",
                                         .points = points,
                                         .point_count = corners,
                                         .radius_m = radius,
                                         .measures = measures,
                                         .measure_count = 2};
}

/* ---- A disc ---- */

/* Returns the last round over the length of a circle of its radius. */
static double roundness(const struct hk_drawing *drawing)
{
    return hk_level_width(hk_drawing_top(drawing)) / (2 * pi * height_of(drawing));
}

/* Returns true when the rounds grow to the end: after the last that grows, at most one, or an eighth of them. */
static bool grows(const struct hk_levels *levels)
{
    const struct hk_level *last = &levels->levels[levels->count - 1];
    int64_t grown = 0;
    for (size_t i = 1; i < levels->count; i++) {
        if (hk_level_width(&levels->levels[i]) < hk_level_width(&levels->levels[i - 1]))
            return false;
        if (levels->levels[i].stitches > levels->levels[i - 1].stitches)
            grown = levels->levels[i].rows;
    }
    return last->rows - grown <= (last->rows < 16 ? 1 : last->rows / 8);
}

static void disc_draw(struct hk_drawing *drawing, struct hk_schematic_piece *piece)
{
    const struct hk_level *last = hk_drawing_top(drawing);
    struct hk_schematic_measure *measures = hk_arena_take(drawing->arena, 2, sizeof *measures);
    if (!measures)
        return;
    piece->outline = HK_OUTLINE_DISC;
    piece->radius_m = last->y_m;
    measures[0] = (struct hk_schematic_measure){.measured = HK_MEASURED_RADIUS,
                                                .line = piece->line,
                                                .part = "",
                                                .count = last->rows,
                                                .rows = true,
                                                .length_m = last->y_m,
                                                .to = {last->y_m, 0}};
    measures[1] = (struct hk_schematic_measure){.measured = HK_MEASURED_CIRCUMFERENCE,
                                                .line = piece->line,
                                                .part = "",
                                                .count = last->stitches,
                                                .length_m = hk_level_width(last),
                                                .from = {0, last->y_m},
                                                .to = {0, last->y_m}};
    piece->measures = measures;
    piece->measure_count = 2;
}

/* ---- A tube ---- */

/* The rounds that close: from level 0 up to `top`, from level `foot` on. */
struct closing {
    size_t top, foot;
};

static double longest_round(const struct hk_levels *levels)
{
    double longest = 0;
    for (size_t i = 0; i < levels->count; i++)
        longest = fmax(longest, hk_level_width(&levels->levels[i]));
    return longest;
}

static struct closing closing_of(const struct hk_levels *levels)
{
    struct closing closing = {0, levels->count - 1};
    const double closed = closed_most * longest_round(levels);
    if (hk_level_width(&levels->levels[0]) <= closed)
        while (closing.top + 1 < levels->count &&
               hk_level_width(&levels->levels[closing.top + 1]) >= hk_level_width(&levels->levels[closing.top]))
            closing.top++;
    if (hk_level_width(&levels->levels[levels->count - 1]) <= closed)
        while (closing.foot > 0 &&
               hk_level_width(&levels->levels[closing.foot - 1]) >= hk_level_width(&levels->levels[closing.foot]))
            closing.foot--;
    return closing;
}

/* Returns true when the rounds between two levels grow at most as fast as a disc. */
static bool lies_flat(const struct hk_level *from, const struct hk_level *to)
{
    return hk_level_width(to) - hk_level_width(from) <= 2 * pi * disc_within * (to->y_m - from->y_m);
}

/* Returns the corner after a level. */
static size_t next_corner(const struct hk_levels *levels, size_t i)
{
    do
        i++;
    while (!levels->levels[i].corner);
    return i;
}

/* Returns true when all rounds are those of a tube; else sets the reason. */
static bool tube_known(struct hk_drawing *drawing)
{
    const struct hk_levels *levels = &drawing->levels;
    const struct closing closing = closing_of(levels);
    for (size_t i = 0, next; i + 1 < levels->count; i = next) {
        next = next_corner(levels, i);
        const struct hk_level *from = &levels->levels[i], *to = &levels->levels[next];
        double height = to->y_m - from->y_m, change = TUBE_SCALE * fabs(hk_level_width(to) - hk_level_width(from)) / 2;
        bool step = to->rows == from->rows; /* its size is checked where it is added */
        if (step || change <= slope_most * height)
            continue;
        if (next > closing.top && i < closing.foot)
            return hk_drawing_refuse(drawing, yoke_text);
        if (next <= closing.top && !lies_flat(from, to))
            return hk_drawing_refuse(drawing, ruffle_text);
    }
    return true;
}

void hk_rounds_draw(struct hk_drawing *drawing, struct hk_schematic_piece *piece)
{
    struct hk_motif motif = {0};
    bool ring = hk_drawing_from_ring(drawing);
    if (ring && !hk_motif_find(drawing, &motif))
        return;
    if (motif.corners >= POLYGON_LEAST && motif.corners <= POLYGON_MOST && !motif.lost && !motif.uneven) {
        polygon_draw(drawing, &motif, piece);
        return;
    }
    if (motif.corners > 0) {
        hk_drawing_refuse(drawing, motif.lost
                                       ? "its first rounds have corners and its last have not, so the counts alone do "
                                         "not give its shape"
                                       : "its corners do not make equal sides, so the counts alone do not give its "
                                         "shape");
        return;
    }
    const double round = roundness(drawing);
    if (ring && round <= disc_within && round >= 1 / disc_within && grows(&drawing->levels)) {
        disc_draw(drawing, piece);
        return;
    }
    if (ring && round > disc_within) {
        hk_drawing_refuse(drawing, ruffle_text);
        return;
    }
    hk_levels_corners(&drawing->levels);
    if (!tube_known(drawing))
        return;
    piece->outline = HK_OUTLINE_TUBE;
    hk_levels_draw(drawing, HK_MEASURED_CIRCUMFERENCE, TUBE_SCALE, piece);
}
