/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The picture of a piece, to scale. All sizes are nested, each in a line of its own; letters beside the drawing name
 * the measures. The picture of a single size states their values too, except in a pattern. Labels stand in two columns,
 * widths to the left and heights to the right of all outlines, so that no text meets a line.
 */
#include "report/outlines.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define WIDTH 340.0
#define MARGIN 8.0
#define HEIGHT_MOST 380.0
#define LEADER 16.0 /* between a column of labels and the drawing */
#define PART_AT 8.0 /* of the line of a height, from the right end of the drawing */
#define WHOLE_AT 18.0
#define HEIGHTS 34.0 /* between the drawing and the labels of heights */
#define LINE_HEIGHT 13.0
#define CHARACTER 6.4 /* about the width of a character */
#define NAME_MOST 14  /* characters of a size in the key */
#define TINTS 7
#define DASHES 8

/* Returns the last size with an outline; there is one. */
static const struct hk_schematic_piece *last_drawn(const struct outlines *outlines)
{
    size_t at = outlines->end - 1;
    while (at > outlines->first && !outline_drawn(&outlines->pieces[at]))
        at--;
    return &outlines->pieces[at];
}

/* ---- Labels ---- */

/* The label of a letter: beside the drawing, on the left of widths and on the right of heights. */
struct label {
    size_t piece, letter;
    const struct hk_schematic_measure *measure;
    bool right;
    char *words;      /* the letter, and the count where values are stated */
    double anchor, y; /* of its measure, and of its own middle */
};

static bool on_right(const struct hk_schematic_measure *measure)
{
    return measure->measured == HK_MEASURED_HEIGHT || measure->measured == HK_MEASURED_RADIUS ||
           measure->measured == HK_MEASURED_APOTHEM;
}

struct labels {
    struct label *labels;
    size_t count;
};

static void labels_free(struct labels *labels)
{
    for (size_t i = 0; i < labels->count; i++)
        free(labels->labels[i].words);
    free(labels->labels);
}

/* Makes the labels, in the order of the letters. Returns false when out of memory. */
static bool labels_make(const struct outlines *outlines, struct labels *labels)
{
    *labels = (struct labels){calloc(outlines->letters + 1, sizeof *labels->labels), 0};
    for (size_t letter = 0; labels->labels && letter < outlines->letters; letter++) {
        const size_t at = outlines_lettered(outlines, letter);
        if (at == SIZE_MAX)
            continue;
        const struct hk_schematic_measure *measure = outline_measure(&outlines->pieces[at], letter);
        char *words = outlines->values ? text_format("%s %s %s", report_shape_letter(letter).text,
                                                     number_whole(measure->count).text, outline_counted_in(measure))
                                       : text_format("%s", report_shape_letter(letter).text);
        if (!words)
            return false;
        labels->labels[labels->count++] = (struct label){
            .piece = at, .letter = letter, .measure = measure, .right = on_right(measure), .words = words};
    }
    return labels->labels != NULL;
}

/* Returns the width of the labels on one side. */
static double column_of(const struct labels *labels, bool right)
{
    size_t most = 0;
    for (size_t i = 0; i < labels->count; i++)
        if (labels->labels[i].right == right)
            most = strlen(labels->labels[i].words) > most ? strlen(labels->labels[i].words) : most;
    return CHARACTER * (double)most;
}

static size_t count_of(const struct labels *labels, bool right)
{
    size_t found = 0;
    for (size_t i = 0; i < labels->count; i++)
        found += labels->labels[i].right == right;
    return found;
}

static int label_order(const void *a, const void *b)
{
    const struct label *of = a, *with = b;
    if (of->right != with->right)
        return of->right ? 1 : -1;
    if (of->anchor != with->anchor)
        return of->anchor < with->anchor ? -1 : 1;
    return (of->letter < with->letter) - (of->letter > with->letter);
}

/* Moves the labels of one side apart, each as near to its anchor as the others let it, between top and bottom. */
static void labels_part(struct label *labels, size_t count, double gap, double top, double bottom)
{
    double least = top + gap / 2;
    for (size_t i = 0; i < count; i++) {
        labels[i].y = fmax(labels[i].anchor, least);
        least = labels[i].y + gap;
    }
    double most = bottom - gap / 2;
    for (size_t i = count; i > 0; i--) {
        labels[i - 1].y = fmin(labels[i - 1].y, most);
        most = labels[i - 1].y - gap;
    }
}

/* ---- The plane ---- */

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

static struct box box_of(const struct outlines *outlines)
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
    return box;
}

/* Where metres are drawn, and the columns beside them. */
struct plane {
    double left_m, top_m, units_a_metre;
    double left, right, top, bottom; /* of the drawing with its labels */
    double drawing_top;
    double gap; /* between the middles of labels */
};

static double x_of(const struct plane *plane, double x_m)
{
    return plane->left + (x_m - plane->left_m) * plane->units_a_metre;
}

static double y_of(const struct plane *plane, double y_m)
{
    return plane->drawing_top + (plane->top_m - y_m) * plane->units_a_metre;
}

static struct plane plane_of(const struct outlines *outlines, const struct labels *labels)
{
    const struct box box = box_of(outlines);
    const size_t rights = count_of(labels, true), lefts = labels->count - rights;
    const double left = MARGIN + column_of(labels, false) + LEADER;
    const double right = WIDTH - MARGIN - column_of(labels, true) - HEIGHTS;
    const double wide = box.right - box.left, high = box.top - box.bottom;
    const double units = fmin((right - left) / wide, HEIGHT_MOST / high);
    const double gap = (outlines->values ? 2 : 1) * LINE_HEIGHT + 2;
    const double height = fmax(high * units, gap * (double)(lefts > rights ? lefts : rights));
    const bool headed = last_drawn(outlines)->outline != HK_OUTLINE_FLAT;
    const double top = MARGIN + (headed ? LINE_HEIGHT + 4 : 0), spare = (right - left - wide * units) / 2;
    return (struct plane){.left_m = box.left,
                          .top_m = box.top,
                          .units_a_metre = units,
                          .left = left + spare,
                          .right = right - spare,
                          .top = top,
                          .bottom = top + height,
                          .drawing_top = top + (height - high * units) / 2,
                          .gap = gap};
}

/* ---- The drawing ---- */

/* Sets the class of the line of a size: colour and dashes differ, so that print and the colour-blind lose nothing. */
static void size_class(char class[32], const struct outlines *outlines, const struct hk_schematic_piece *piece)
{
    const size_t size = outlines->drawn > 1 ? piece->size : 0;
    snprintf(class, 32, "size tint%zu dash%zu", size % TINTS, size % DASHES);
}

static void draw_outline(struct svg *svg, const struct plane *plane, const struct outlines *outlines,
                         const struct hk_schematic_piece *piece)
{
    char class[32];
    size_class(class, outlines, piece);
    if (piece->outline == HK_OUTLINE_DISC) {
        svg_circle(svg, class, x_of(plane, 0), y_of(plane, 0), piece->radius_m * plane->units_a_metre);
        return;
    }
    double *points = calloc(2 * piece->point_count + 1, sizeof *points);
    svg->markup->failed |= !points;
    for (size_t i = 0; points && i < piece->point_count; i++) {
        points[2 * i] = x_of(plane, piece->points[i].x_m);
        points[2 * i + 1] = y_of(plane, piece->points[i].y_m);
    }
    if (points)
        svg_polygon(svg, class, points, piece->point_count);
    free(points);
}

/* Returns the x of the line of a height. */
static double height_x(const struct plane *plane, const struct hk_schematic_measure *measure)
{
    return plane->right + (measure->at == HK_MEASURED_WHOLE ? WHOLE_AT : PART_AT);
}

/* Draws the line of a measure; a height stands beside the drawing, with its ends marked. */
static void draw_measure(struct svg *svg, const struct plane *plane, const struct hk_schematic_measure *measure)
{
    const double from_y = y_of(plane, measure->from.y_m), to_y = y_of(plane, measure->to.y_m);
    if (measure->measured == HK_MEASURED_HEIGHT) {
        const double x = height_x(plane, measure);
        svg_line(svg, "measure", x, from_y, x, to_y);
        svg_line(svg, "measure", x - 3, from_y, x + 3, from_y);
        svg_line(svg, "measure", x - 3, to_y, x + 3, to_y);
        return;
    }
    svg_line(svg, "leader", x_of(plane, measure->from.x_m), from_y, x_of(plane, measure->to.x_m), to_y);
}

/* Returns the x at which the leader of a label ends at its measure. */
static double anchor_x(const struct plane *plane, const struct hk_schematic_measure *measure)
{
    if (measure->measured == HK_MEASURED_HEIGHT)
        return height_x(plane, measure);
    if (measure->measured == HK_MEASURED_RADIUS)
        return x_of(plane, measure->to.x_m);
    return x_of(plane, measure->from.x_m);
}

static void draw_label(struct report *report, struct svg *svg, const struct plane *plane,
                       const struct outlines *outlines, const struct label *label)
{
    const enum svg_anchor anchor = label->right ? SVG_START : SVG_END;
    const double column = label->right ? plane->right + HEIGHTS - 2 : plane->left - LEADER;
    const double text = column + (label->right ? 2 : -2);
    const size_t index = (size_t)(label->measure - outlines->pieces[label->piece].measures);
    draw_measure(svg, plane, label->measure);
    svg_line(svg, "leader", column, label->y, anchor_x(plane, label->measure), label->anchor);
    if (!outlines->values) {
        svg_words(svg, text, label->y + 4, anchor, label->words);
        return;
    }
    char *cm = text_format("%s cm", outline_centimetres(label->measure->length_m).text);
    report->markup.failed |= !cm;
    svg_figure(svg, text, label->y - 2, anchor, label->words, "report:/schematic/%zu/measures/%zu/count", label->piece,
               index);
    if (cm)
        svg_figure(svg, text, label->y + LINE_HEIGHT - 3, anchor, cm, "report:/schematic/%zu/measures/%zu/length_cm",
                   label->piece, index);
    free(cm);
}

static void draw_labels(struct report *report, struct svg *svg, const struct plane *plane,
                        const struct outlines *outlines, struct labels *all)
{
    struct label *labels = all->labels;
    const size_t count = all->count, lefts = count - count_of(all, true);
    for (size_t i = 0; i < count; i++) {
        const struct hk_schematic_measure *measure = labels[i].measure;
        bool middle = measure->measured == HK_MEASURED_HEIGHT || measure->measured == HK_MEASURED_APOTHEM;
        labels[i].anchor = y_of(plane, middle ? (measure->from.y_m + measure->to.y_m) / 2 : measure->from.y_m);
    }
    qsort(labels, count, sizeof *labels, label_order);
    labels_part(labels, lefts, plane->gap, plane->top, plane->bottom);
    labels_part(labels + lefts, count - lefts, plane->gap, plane->top, plane->bottom);
    for (size_t i = 0; i < count; i++)
        draw_label(report, svg, plane, outlines, &labels[i]);
}

/* ---- The key of sizes ---- */

/* Returns the name of a size, shortened for the key; owned by the caller, NULL when out of memory. */
static char *size_name(const struct report *report, size_t size)
{
    const char *name = hk_project_size(report->work->project, size);
    size_t length = 0, characters = 0;
    while (name[length] && characters <= NAME_MOST) {
        do
            length++;
        while (((unsigned char)name[length] & 0xC0) == 0x80);
        characters += characters <= NAME_MOST;
    }
    if (!name[length] && characters <= NAME_MOST)
        return text_format("%s", name);
    while (((unsigned char)name[length] & 0xC0) == 0x80)
        length--;
    return text_format("%.*s...", (int)length, name);
}

#define KEY_LINE 30.0 /* the length of a line in the key */

/* Returns the columns of the key: as many as the longest name lets stand side by side. */
static size_t key_columns(const struct report *report, const struct outlines *outlines)
{
    size_t most = 1;
    for (size_t i = outlines->first; i < outlines->end; i++) {
        char *name = size_name(report, outlines->pieces[i].size);
        most = name && strlen(name) > most ? strlen(name) : most;
        free(name);
    }
    const double columns = (WIDTH - 2 * MARGIN) / (KEY_LINE + 18 + 7.5 * (double)most);
    return columns < 1 ? 1 : (size_t)columns;
}

static double key_height(const struct outlines *outlines, size_t columns)
{
    const size_t lines = (outlines->drawn + columns - 1) / columns;
    return outlines->drawn < 2 ? 0 : LINE_HEIGHT * (double)lines + 6;
}

static void draw_key(struct report *report, struct svg *svg, const struct outlines *outlines, size_t columns,
                     double top)
{
    size_t at = 0;
    for (size_t i = outlines->first; outlines->drawn > 1 && i < outlines->end; i++) {
        if (!outline_drawn(&outlines->pieces[i]))
            continue;
        const double x = MARGIN + (double)(at % columns) * (WIDTH - 2 * MARGIN) / (double)columns;
        const size_t line = at / columns;
        const double y = top + 6 + LINE_HEIGHT * ((double)line + 0.5);
        char class[32], *name = size_name(report, outlines->pieces[i].size);
        size_class(class, outlines, &outlines->pieces[i]);
        svg_line(svg, class, x, y, x + KEY_LINE, y);
        report->markup.failed |= !name;
        if (name)
            svg_words(svg, x + KEY_LINE + 6, y + 4, SVG_START, name);
        free(name);
        at++;
    }
}

/* ---- The picture ---- */

static const char *way_of(const struct hk_schematic_piece *piece)
{
    static const char *const words[] = {[HK_OUTLINE_TUBE] = "Worked in rounds, laid flat",
                                        [HK_OUTLINE_DISC] = "Worked in rounds from the middle",
                                        [HK_OUTLINE_POLYGON] = "Worked in rounds from the middle"};
    return piece->outline > HK_OUTLINE_FLAT ? words[piece->outline] : NULL;
}

static const char nested_text[] =
    "Outlines to scale, all sizes nested. Letters name the measures, which are drawn on the "
    "largest size; the table has them for every size.";
static const char single_text[] = "The outline to scale. Letters name the measures, which the table has.";

static void draw_picture(struct report *report, const struct outlines *outlines, struct labels *labels,
                         const char *title)
{
    const struct hk_schematic_piece *last = last_drawn(outlines);
    const struct plane plane = plane_of(outlines, labels);
    const size_t columns = key_columns(report, outlines);
    char *id = text_format("shape%zu", last->line);
    report->markup.failed |= !id;
    if (!id)
        return;
    struct svg svg = page_picture(report, id, WIDTH, plane.bottom + key_height(outlines, columns) + MARGIN, title,
                                  outlines->drawn > 1 ? nested_text : single_text);
    if (way_of(last))
        svg_words(&svg, WIDTH / 2, MARGIN + 8, SVG_MIDDLE, way_of(last));
    for (size_t i = outlines->first; i < outlines->end; i++)
        if (outline_drawn(&outlines->pieces[i]))
            draw_outline(&svg, &plane, outlines, &outlines->pieces[i]);
    draw_labels(report, &svg, &plane, outlines, labels);
    draw_key(report, &svg, outlines, columns, plane.bottom);
    page_picture_end(report, &svg);
    free(id);
}

void outlines_draw(struct report *report, const struct outlines *outlines, const char *title)
{
    struct labels labels;
    bool good = labels_make(outlines, &labels);
    report->markup.failed |= !good;
    if (good)
        draw_picture(report, outlines, &labels, title);
    labels_free(&labels);
}
