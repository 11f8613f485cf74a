/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A schematic of every piece, to scale: all sizes nested, measures as letters, and a table of them. */
#include "number.h"
#include "report/page.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define WIDTH 340.0
#define MARGIN 26.0
#define HEIGHT_MOST 420.0
#define LETTERS 26
#define CM_PER_M 100.0

/* The outline of one piece in all sizes: pieces[first] up to pieces[end]. */
struct outlines {
    const struct hk_schematic_piece *pieces;
    size_t first, end;
};

/* Where metres are drawn. */
struct plane {
    double left_m, bottom_m, units_a_metre, height;
};

static double x_of(const struct plane *plane, double x_m)
{
    return MARGIN + (x_m - plane->left_m) * plane->units_a_metre;
}

static double y_of(const struct plane *plane, double y_m)
{
    return plane->height - MARGIN - (y_m - plane->bottom_m) * plane->units_a_metre;
}

static bool drawn(const struct hk_schematic_piece *piece)
{
    return piece->outline != HK_OUTLINE_UNKNOWN;
}

/* Returns the size whose measures the letters name: the last one drawn. NULL: none is. */
static const struct hk_schematic_piece *lettered(const struct outlines *outlines)
{
    for (size_t i = outlines->end; i-- > outlines->first;)
        if (drawn(&outlines->pieces[i]))
            return &outlines->pieces[i];
    return NULL;
}

/* A box that grows with what is put into it. */
struct box {
    double left, right, bottom, top;
};

static void grow(struct box *box, double x, double y)
{
    box->left = fmin(box->left, x);
    box->right = fmax(box->right, x);
    box->bottom = fmin(box->bottom, y);
    box->top = fmax(box->top, y);
}

static struct plane plane_of(const struct outlines *outlines)
{
    struct box box = {INFINITY, -INFINITY, INFINITY, -INFINITY};
    for (size_t i = outlines->first; i < outlines->end; i++) {
        const struct hk_schematic_piece *piece = &outlines->pieces[i];
        for (size_t p = 0; p < piece->point_count; p++)
            grow(&box, piece->points[p].x_m, piece->points[p].y_m);
        if (piece->outline == HK_OUTLINE_DISC) {
            grow(&box, -piece->radius_m, -piece->radius_m);
            grow(&box, piece->radius_m, piece->radius_m);
        }
    }
    const double wide = box.right - box.left, high = box.top - box.bottom;
    const double units = fmin((WIDTH - 2 * MARGIN) / wide, (HEIGHT_MOST - 2 * MARGIN) / high);
    return (struct plane){box.left - ((WIDTH - 2 * MARGIN) / units - wide) / 2, box.bottom, units, high * units + 2 * MARGIN};
}

static void draw_outline(struct svg *svg, const struct plane *plane, const struct hk_schematic_piece *piece)
{
    if (piece->outline == HK_OUTLINE_DISC) {
        svg_circle(svg, "outline", x_of(plane, 0), y_of(plane, 0), piece->radius_m * plane->units_a_metre);
        return;
    }
    double *points = calloc(2 * piece->point_count + 1, sizeof *points);
    svg->markup->failed |= !points;
    for (size_t i = 0; points && i < piece->point_count; i++) {
        points[2 * i] = x_of(plane, piece->points[i].x_m);
        points[2 * i + 1] = y_of(plane, piece->points[i].y_m);
    }
    if (points)
        svg_polygon(svg, "outline", points, piece->point_count);
    free(points);
}

/* Returns whether the measure is the height of several parts, whose own heights stand at the right edge. */
static bool overall(const struct hk_schematic_piece *piece, const struct hk_schematic_measure *measure)
{
    for (size_t i = 0; i < piece->measure_count; i++) {
        const struct hk_schematic_measure *other = &piece->measures[i];
        if (measure->rows && other->rows && other->count < measure->count && other->from.y_m >= measure->from.y_m &&
            other->to.y_m <= measure->to.y_m)
            return true;
    }
    return false;
}

/* Writes the letter of a measure beside the middle of its line: widths below it, the uppermost above; heights outside. */
static void draw_letter(struct svg *svg, const struct plane *plane, const struct hk_schematic_piece *piece, size_t index)
{
    const struct hk_schematic_measure *measure = &piece->measures[index];
    const char letter[] = {(char)('A' + index % LETTERS), '\0'};
    const bool left = overall(piece, measure);
    const double from_x = left ? MARGIN - 8 : x_of(plane, measure->from.x_m), from_y = y_of(plane, measure->from.y_m);
    const double to_x = left ? MARGIN - 8 : x_of(plane, measure->to.x_m), to_y = y_of(plane, measure->to.y_m);
    const double x = (from_x + to_x) / 2, y = (from_y + to_y) / 2;
    svg_line(svg, "axis", from_x, from_y, to_x, to_y);
    if (left)
        svg_words(svg, x - 4, y + 4, SVG_END, letter);
    else if (measure->rows)
        svg_words(svg, x + 7, y + 4, SVG_START, letter);
    else
        svg_words(svg, x, y > MARGIN + 1 ? y + 13 : y - 5, SVG_MIDDLE, letter);
}

static void draw(struct report *report, const struct outlines *outlines, const char *title)
{
    const struct hk_schematic_piece *last = lettered(outlines);
    const struct plane plane = plane_of(outlines);
    char *id = text_format("shape%zu", last->line);
    report->markup.failed |= !id;
    if (!id)
        return;
    struct svg svg = page_picture(report, id, WIDTH, plane.height, title,
                                  "Outlines to scale, all sizes nested on the middle of the first row. The letters name the "
                                  "measures of the largest size drawn; the table below has them for every size.");
    for (size_t i = outlines->first; i < outlines->end; i++)
        if (drawn(&outlines->pieces[i]))
            draw_outline(&svg, &plane, &outlines->pieces[i]);
    for (size_t i = 0; i < last->measure_count; i++)
        draw_letter(&svg, &plane, last, i);
    page_picture_end(report, &svg);
    free(id);
}

/* ---- The table of measures ---- */

static const char *measured_name(enum hk_measured measured)
{
    static const char *const names[] = {[HK_MEASURED_WIDTH] = "width",   [HK_MEASURED_CIRCUMFERENCE] = "around",
                                        [HK_MEASURED_HEIGHT] = "height", [HK_MEASURED_RADIUS] = "radius",
                                        [HK_MEASURED_SIDE] = "side",     [HK_MEASURED_APOTHEM] = "middle to side"};
    return names[measured];
}

/* Writes "81 sts, 54.0 cm" of one size. */
static void measure_cell(struct report *report, size_t at, size_t index)
{
    const struct hk_schematic_measure *measure = &report->schematic->pieces[at].measures[index];
    markup_open(&report->markup, "td", NULL);
    page_inline(report, number_whole(measure->count).text, "report:/schematic/%zu/measures/%zu/count", at, index);
    markup_text(&report->markup, " %s, ", measure->rows ? "rows" : "sts");
    const struct number cm = number_stepped(CM_PER_M * measure->length_m, (struct number_step){5, -1}, NUMBER_NEAREST);
    page_inline(report, cm.text, "report:/schematic/%zu/measures/%zu/length_cm", at, index);
    markup_text(&report->markup, " cm");
    markup_close(&report->markup, "td");
}

static void measure_table(struct report *report, const struct outlines *outlines, const char *caption)
{
    const struct hk_schematic_piece *last = lettered(outlines);
    page_table(report, caption);
    page_head(report, "");
    page_head(report, "Measure");
    for (size_t i = outlines->first; i < outlines->end; i++)
        page_head_figure(report, hk_project_size(report->work->project, outlines->pieces[i].size));
    page_body(report);
    for (size_t m = 0; m < last->measure_count; m++) {
        const char letter[] = {(char)('A' + m % LETTERS), '\0'};
        page_row(report);
        page_name(report, letter);
        page_cell(report, measured_name(last->measures[m].measured));
        for (size_t i = outlines->first; i < outlines->end; i++)
            if (outlines->pieces[i].measure_count == last->measure_count)
                measure_cell(report, i, m);
            else
                page_blank(report);
        page_row_end(report);
    }
    page_table_end(report);
}

static void one_piece(struct report *report, const struct outlines *outlines)
{
    const struct hk_schematic_piece *first = &outlines->pieces[outlines->first], *last = lettered(outlines);
    char *title = text_format("%s%s%s", first->piece, *first->part ? ", " : "", first->part);
    report->markup.failed |= !title;
    if (title) {
        markup_element(&report->markup, "h3", title, NULL);
        if (last) {
            draw(report, outlines, title);
            if (last->copies > 1)
                page_paragraph(report, "Work %s alike.", number_whole(last->copies).text);
            if (last->outline == HK_OUTLINE_TUBE)
                page_paragraph(report, "Worked in rounds and drawn laid flat.");
            measure_table(report, outlines, title);
        } else {
            page_paragraph(report, "No outline: %s.", first->why);
        }
    }
    free(title);
}

void report_shapes(struct report *report)
{
    const struct hk_schematic *schematic = report->schematic;
    if (!schematic || !schematic->piece_count)
        return;
    page_section(report, "shapes", "The pieces, to scale");
    for (size_t first = 0, end = 0; first < schematic->piece_count; first = end) {
        while (end < schematic->piece_count && schematic->pieces[end].line == schematic->pieces[first].line)
            end++;
        one_piece(report, &(struct outlines){schematic->pieces, first, end});
    }
    page_section_end(report);
}
