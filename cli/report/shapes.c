/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A schematic of every piece, to scale, and the table of its measures. All sizes are nested, each in a line of its own;
 * letters beside the drawing name the measures. The picture of a single size states their values too, except in a
 * pattern. Labels stand in two columns, widths to the left and heights to the right of all outlines, so that no text
 * meets a line.
 */
#include "number.h"
#include "report/page.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define WIDTH 340.0
#define MARGIN 8.0
#define HEIGHT_MOST 380.0
#define LEADER 16.0  /* between a column of labels and the drawing */
#define PART_AT 8.0  /* of the line of a height, from the right end of the drawing */
#define WHOLE_AT 18.0
#define HEIGHTS 34.0 /* between the drawing and the labels of heights */
#define LINE_HEIGHT 13.0
#define CHARACTER 6.4 /* about the width of a character */
#define NAME_MOST 14  /* characters of a size in the key */
#define TINTS 7
#define DASHES 8
#define CM_PER_M 100.0

/* The outline of one piece in all sizes: pieces[first] up to pieces[end]. */
struct outlines {
    const struct hk_schematic_piece *pieces;
    size_t first, end;
    size_t letters; /* the number of measures over all sizes */
    size_t drawn;   /* sizes with an outline */
    bool values;    /* the labels state the values */
};

static bool drawn(const struct hk_schematic_piece *piece)
{
    return piece->outline != HK_OUTLINE_UNKNOWN;
}

/* Returns the measure that a letter names in one size; NULL: the size has none. */
static const struct hk_schematic_measure *measure_of(const struct hk_schematic_piece *piece, size_t letter)
{
    for (size_t i = 0; i < piece->measure_count; i++)
        if (piece->measures[i].letter == letter)
            return &piece->measures[i];
    return NULL;
}

/* Returns the index of the size in which a letter is drawn: the last that has it. SIZE_MAX: none has. */
static size_t lettered(const struct outlines *outlines, size_t letter)
{
    for (size_t at = outlines->end; at > outlines->first; at--)
        if (measure_of(&outlines->pieces[at - 1], letter))
            return at - 1;
    return SIZE_MAX;
}

/* Returns the last size with an outline; there is one. */
static const struct hk_schematic_piece *last_drawn(const struct outlines *outlines)
{
    size_t at = outlines->end - 1;
    while (at > outlines->first && !drawn(&outlines->pieces[at]))
        at--;
    return &outlines->pieces[at];
}

static struct outlines outlines_of(const struct report *report, size_t first, size_t end)
{
    struct outlines outlines = {.pieces = report->schematic->pieces, .first = first, .end = end};
    for (size_t i = first; i < end; i++) {
        const struct hk_schematic_piece *piece = &outlines.pieces[i];
        outlines.drawn += drawn(piece);
        for (size_t m = 0; m < piece->measure_count; m++)
            outlines.letters = piece->measures[m].letter >= outlines.letters ? piece->measures[m].letter + 1 : outlines.letters;
    }
    outlines.values = outlines.drawn == 1 && report->cut != REPORT_PATTERN;
    return outlines;
}

struct shape_letter report_shape_letter(size_t letter)
{
    struct shape_letter name = {{0}};
    char reversed[sizeof name.text];
    size_t length = 0;
    for (size_t rest = letter + 1; rest > 0 && length + 1 < sizeof reversed; rest = (rest - 1) / 26)
        reversed[length++] = (char)('A' + (rest - 1) % 26);
    for (size_t i = 0; i < length; i++)
        name.text[i] = reversed[length - 1 - i];
    return name;
}

static struct number centimetres(double length_m)
{
    return number_stepped(CM_PER_M * length_m, (struct number_step){5, -1}, NUMBER_NEAREST);
}

static const char *counted_in(const struct hk_schematic_measure *measure)
{
    return measure->rows ? "rows" : "sts";
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
        const size_t at = lettered(outlines, letter);
        if (at == SIZE_MAX)
            continue;
        const struct hk_schematic_measure *measure = measure_of(&outlines->pieces[at], letter);
        char *words = outlines->values
                          ? text_format("%s %s %s", report_shape_letter(letter).text, number_whole(measure->count).text,
                                        counted_in(measure))
                          : text_format("%s", report_shape_letter(letter).text);
        if (!words)
            return false;
        labels->labels[labels->count++] =
            (struct label){.piece = at, .letter = letter, .measure = measure, .right = on_right(measure), .words = words};
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

static void draw_label(struct report *report, struct svg *svg, const struct plane *plane, const struct outlines *outlines,
                       const struct label *label)
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
    char *cm = text_format("%s cm", centimetres(label->measure->length_m).text);
    report->markup.failed |= !cm;
    svg_figure(svg, text, label->y - 2, anchor, label->words, "report:/schematic/%zu/measures/%zu/count", label->piece, index);
    if (cm)
        svg_figure(svg, text, label->y + LINE_HEIGHT - 3, anchor, cm, "report:/schematic/%zu/measures/%zu/length_cm",
                   label->piece, index);
    free(cm);
}

static void draw_labels(struct report *report, struct svg *svg, const struct plane *plane, const struct outlines *outlines,
                        struct labels *all)
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

static void draw_key(struct report *report, struct svg *svg, const struct outlines *outlines, size_t columns, double top)
{
    size_t at = 0;
    for (size_t i = outlines->first; outlines->drawn > 1 && i < outlines->end; i++) {
        if (!drawn(&outlines->pieces[i]))
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

static const char nested_text[] = "Outlines to scale, all sizes nested. Letters name the measures, which are drawn on the "
                                  "largest size; the table has them for every size.";
static const char single_text[] = "The outline to scale. Letters name the measures, which the table has.";

static void draw_picture(struct report *report, const struct outlines *outlines, struct labels *labels, const char *title)
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
        if (drawn(&outlines->pieces[i]))
            draw_outline(&svg, &plane, outlines, &outlines->pieces[i]);
    draw_labels(report, &svg, &plane, outlines, labels);
    draw_key(report, &svg, outlines, columns, plane.bottom);
    page_picture_end(report, &svg);
    free(id);
}

static void draw(struct report *report, const struct outlines *outlines, const char *title)
{
    struct labels labels;
    bool good = labels_make(outlines, &labels);
    report->markup.failed |= !good;
    if (good)
        draw_picture(report, outlines, &labels, title);
    labels_free(&labels);
}

/* ---- The table of measures ---- */

const char *report_measured_name(const struct hk_schematic_measure *measure)
{
    static const char *const names[] = {[HK_MEASURED_WIDTH] = "width",   [HK_MEASURED_CIRCUMFERENCE] = "around",
                                        [HK_MEASURED_HEIGHT] = "height", [HK_MEASURED_RADIUS] = "radius",
                                        [HK_MEASURED_SIDE] = "side",     [HK_MEASURED_APOTHEM] = "middle to side"};
    return names[measure->measured];
}

/* Returns whether the measures are of several parts, which their names then state. */
static bool several_parts(const struct outlines *outlines)
{
    size_t line = SIZE_MAX;
    for (size_t letter = 0; letter < outlines->letters; letter++) {
        const size_t at = lettered(outlines, letter);
        if (at == SIZE_MAX)
            continue;
        const struct hk_schematic_measure *measure = measure_of(&outlines->pieces[at], letter);
        if (line != SIZE_MAX && measure->at != HK_MEASURED_WHOLE && measure->line != line)
            return true;
        line = measure->at == HK_MEASURED_WHOLE ? line : measure->line;
    }
    return false;
}

/* Returns "width at the end, neck"; owned by the caller, NULL when out of memory. */
static char *measure_words(const struct outlines *outlines, size_t letter)
{
    const struct hk_schematic_piece *piece = &outlines->pieces[lettered(outlines, letter)];
    const struct hk_schematic_measure *measure = measure_of(piece, letter);
    const char *name = report_measured_name(measure), *part = "", *comma = "";
    if (measure->at != HK_MEASURED_WHOLE && several_parts(outlines)) {
        part = *measure->part ? measure->part : piece->piece;
        comma = ", ";
    }
    switch (measure->at) {
    case HK_MEASURED_START:
        return text_format("%s at the start%s%s", name, comma, part);
    case HK_MEASURED_END:
        return text_format("%s at the end%s%s", name, comma, part);
    case HK_MEASURED_WITHIN:
        return measure->rows ? text_format("%s, section %zu%s%s", name, measure->nth, comma, part)
                             : text_format("%s after section %zu%s%s", name, measure->nth, comma, part);
    case HK_MEASURED_PART:
        return text_format("%s%s%s", name, comma, part);
    default:
        return measure->measured == HK_MEASURED_HEIGHT ? text_format("whole %s", name) : text_format("%s", name);
    }
}

/* Writes "81 sts, 54.0 cm" of one size. */
static void measure_cell(struct report *report, size_t at, const struct hk_schematic_measure *measure)
{
    const size_t index = (size_t)(measure - report->schematic->pieces[at].measures);
    char *words = text_format("%s %s, %s cm", number_whole(measure->count).text, counted_in(measure),
                              centimetres(measure->length_m).text);
    report->markup.failed |= !words;
    if (words)
        page_figure(report, words, "report:/schematic/%zu/measures/%zu", at, index);
    free(words);
}

static void measure_table(struct report *report, const struct outlines *outlines, const char *caption)
{
    page_table(report, caption);
    page_head(report, "");
    page_head(report, "Measure");
    for (size_t i = outlines->first; i < outlines->end; i++)
        page_head_figure(report, hk_project_size(report->work->project, outlines->pieces[i].size));
    page_body(report);
    for (size_t letter = 0; letter < outlines->letters; letter++) {
        if (lettered(outlines, letter) == SIZE_MAX)
            continue;
        char *words = measure_words(outlines, letter);
        report->markup.failed |= !words;
        page_row(report);
        page_name(report, report_shape_letter(letter).text);
        page_cell(report, words ? words : "");
        for (size_t i = outlines->first; i < outlines->end; i++) {
            const struct hk_schematic_measure *measure = measure_of(&outlines->pieces[i], letter);
            if (measure)
                measure_cell(report, i, measure);
            else
                page_blank(report);
        }
        page_row_end(report);
        free(words);
    }
    page_table_end(report);
}

/* ---- The section ---- */

/* States how many are worked, by size where sizes differ. */
static void copies(struct report *report, const struct outlines *outlines)
{
    const struct hk_schematic_piece *pieces = outlines->pieces;
    bool several = false, same = true;
    for (size_t i = outlines->first; i < outlines->end; i++) {
        several |= pieces[i].copies > 1;
        same &= pieces[i].copies == pieces[outlines->first].copies;
    }
    if (several && same)
        page_paragraph(report, "Work %s alike.", number_whole(pieces[outlines->first].copies).text);
    if (same)
        return;
    markup_open(&report->markup, "p", NULL);
    markup_text(&report->markup, "Work ");
    for (size_t i = outlines->first; i < outlines->end; i++)
        markup_text(&report->markup, "%s%s (%s)", i > outlines->first ? ", " : "", number_whole(pieces[i].copies).text,
                    hk_project_size(report->work->project, pieces[i].size));
    markup_text(&report->markup, " alike.");
    markup_close(&report->markup, "p");
}

/* States why sizes have no outline; once where no size has one, and all for the same reason. */
static void reasons(struct report *report, const struct outlines *outlines)
{
    const struct hk_schematic_piece *pieces = outlines->pieces;
    bool same = outlines->drawn == 0;
    for (size_t i = outlines->first; i < outlines->end; i++)
        same &= strcmp(pieces[i].why, pieces[outlines->first].why) == 0;
    if (same) {
        page_paragraph(report, "No outline: %s.", pieces[outlines->first].why);
        return;
    }
    for (size_t i = outlines->first; i < outlines->end; i++)
        if (!drawn(&pieces[i]))
            page_paragraph(report, "No outline of size %s: %s.", hk_project_size(report->work->project, pieces[i].size),
                           pieces[i].why);
}

static void one_piece(struct report *report, const struct outlines *outlines)
{
    const struct hk_schematic_piece *first = &outlines->pieces[outlines->first];
    char *title = text_format("%s%s%s", first->piece, *first->part ? ", " : "", first->part);
    report->markup.failed |= !title;
    if (title) {
        markup_element(&report->markup, "h3", title, NULL);
        copies(report, outlines);
        if (outlines->drawn > 0)
            draw(report, outlines, title);
        if (outlines->drawn < outlines->end - outlines->first)
            reasons(report, outlines);
        if (outlines->drawn > 0)
            measure_table(report, outlines, title);
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
        const struct outlines outlines = outlines_of(report, first, end);
        one_piece(report, &outlines);
    }
    page_section_end(report);
}
