/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "svg.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The width of a column of text, in units, for letters of 11 px: most are narrower. */
#define COLUMN_WIDTH 6.5

const char svg_style[] =
    "svg text{font:11px system-ui,sans-serif;fill:currentColor}"
    "svg .axis{stroke:currentColor;stroke-opacity:.35;fill:none}"
    "svg .range{fill:currentColor;fill-opacity:.18;stroke:currentColor;stroke-opacity:.5}"
    "svg .likely{stroke:currentColor;stroke-width:2}"
    "svg .mark{fill:none;stroke:#c0392b;stroke-width:2}"
    "svg .bar{fill:currentColor;fill-opacity:.35}"
    "svg .chosen{fill:currentColor;fill-opacity:.85}"
    "svg .outline{fill:currentColor;fill-opacity:.05;stroke:currentColor;stroke-width:1.2}"
    "svg .leader{stroke:currentColor;stroke-opacity:.55;stroke-width:.7}"
    "svg .measure{stroke:currentColor;stroke-width:.9}"
    "svg .size{fill:none;stroke-width:1.5}"
    "svg .tint0{stroke:currentColor}svg .tint1{stroke:#0072b2}svg .tint2{stroke:#c65102}"
    "svg .tint3{stroke:#008f68}svg .tint4{stroke:#b8609a}svg .tint5{stroke:#8a6d00}"
    "svg .tint6{stroke:#6a6ad8}"
    "svg .dash1{stroke-dasharray:7 3}svg .dash2{stroke-dasharray:2 2}svg .dash3{stroke-dasharray:9 2 2 2}"
    "svg .dash4{stroke-dasharray:12 3}svg .dash5{stroke-dasharray:1 3}"
    "svg .dash6{stroke-dasharray:7 2 2 2 2 2}"
    "svg .dash7{stroke-dasharray:4 2 1 2}"
    "svg .edge{stroke:currentColor;stroke-opacity:.6}";

/* Coordinates have two decimals. */
static struct number coordinate(double value)
{
    struct number number;
    const long long hundredths = llround(value * 100);
    const long long whole = llabs(hundredths) / 100, part = llabs(hundredths) % 100;
    const char *sign = hundredths < 0 ? "-" : "";
    if (part == 0)
        snprintf(number.text, sizeof number.text, "%s%lld", sign, whole);
    else
        snprintf(number.text, sizeof number.text, "%s%lld.%02lld", sign, whole, part);
    return number;
}

static void write_id(struct markup *markup, const char *tag, const char *id, const char *end, const char *words)
{
    char *whole = text_format("%s-%s", id, end);
    markup->failed |= !whole;
    if (whole)
        markup_element(markup, tag, words, "id", whole, NULL);
    free(whole);
}

struct svg svg_open(struct markup *markup, const char *id, double width, double height, const char *title,
                    const char *description, bool alone)
{
    char *box = text_format("0 0 %s %s", coordinate(width).text, coordinate(height).text);
    char *labels = text_format("%s-title %s-desc", id, id);
    markup->failed |= !box || !labels;
    if (box && labels)
        markup_open(markup, "svg", "xmlns", alone ? "http://www.w3.org/2000/svg" : NULL, "viewBox", box, "role", "img",
                    "aria-labelledby", labels, NULL);
    free(box);
    free(labels);
    write_id(markup, "title", id, "title", title);
    write_id(markup, "desc", id, "desc", description);
    if (alone)
        markup_element(markup, "style", svg_style, NULL);
    return (struct svg){markup, id};
}

void svg_close(struct svg *svg)
{
    markup_close(svg->markup, "svg");
}

/* The patterns, drawn over a colour in a square of eight units; the first has none. */
static const char *const patterns[] = {
    "", "M0 8L8 0", "M0 0L8 8", "M0 4H8", "M4 0V8", "M0 4H8M4 0V8", "M0 8L8 0M0 0L8 8", "M3 4H5M4 3V5",
};

void svg_fill(struct svg *svg, size_t index, struct colour colour)
{
    char *id = text_format("%s-fill%zu", svg->id, index);
    const char *path = patterns[index % (sizeof patterns / sizeof patterns[0])];
    svg->markup->failed |= !id;
    if (id) {
        markup_open(svg->markup, "defs", NULL);
        markup_open(svg->markup, "pattern", "id", id, "width", "8", "height", "8", "patternUnits", "userSpaceOnUse",
                    NULL);
        markup_leaf(svg->markup, "rect", "width", "8", "height", "8", "fill", colour.text, NULL);
        if (*path) {
            markup_leaf(svg->markup, "path", "d", path, "stroke", "#fff", "stroke-width", "2.2", "fill", "none", NULL);
            markup_leaf(svg->markup, "path", "d", path, "stroke", "#000", "stroke-width", "1", "fill", "none", NULL);
        }
        markup_close(svg->markup, "pattern");
        markup_close(svg->markup, "defs");
    }
    free(id);
}

static void draw_rect(struct svg *svg, const char *class, const char *fill, double x, double y, double width,
                      double height)
{
    markup_leaf(svg->markup, "rect", "class", class, "fill", fill, "x", coordinate(x).text, "y", coordinate(y).text,
                "width", coordinate(fmax(width, 0)).text, "height", coordinate(fmax(height, 0)).text, NULL);
}

void svg_filled(struct svg *svg, size_t index, double x, double y, double width, double height)
{
    char *fill = text_format("url(#%s-fill%zu)", svg->id, index);
    svg->markup->failed |= !fill;
    if (fill)
        draw_rect(svg, "edge", fill, x, y, width, height);
    free(fill);
}

void svg_rect(struct svg *svg, const char *class, double x, double y, double width, double height)
{
    draw_rect(svg, class, NULL, x, y, width, height);
}

void svg_line(struct svg *svg, const char *class, double x1, double y1, double x2, double y2)
{
    markup_leaf(svg->markup, "line", "class", class, "x1", coordinate(x1).text, "y1", coordinate(y1).text, "x2",
                coordinate(x2).text, "y2", coordinate(y2).text, NULL);
}

void svg_circle(struct svg *svg, const char *class, double x, double y, double radius)
{
    markup_leaf(svg->markup, "circle", "class", class, "cx", coordinate(x).text, "cy", coordinate(y).text, "r",
                coordinate(radius).text, NULL);
}

void svg_polygon(struct svg *svg, const char *class, const double *points, size_t count)
{
    char *words = NULL;
    bool good = true;
    for (size_t i = 0; i < count && good; i++)
        good = text_append(&words, "%s%s,%s", i ? " " : "", coordinate(points[2 * i]).text,
                           coordinate(points[2 * i + 1]).text);
    svg->markup->failed |= !good;
    if (words && good)
        markup_leaf(svg->markup, "polygon", "class", class, "points", words, NULL);
    free(words);
}

static const char *anchor_word(enum svg_anchor anchor)
{
    return anchor == SVG_START ? NULL : anchor == SVG_MIDDLE ? "middle" : "end";
}

void svg_words(struct svg *svg, double x, double y, enum svg_anchor anchor, const char *words)
{
    markup_element(svg->markup, "text", words, "x", coordinate(x).text, "y", coordinate(y).text, "text-anchor",
                   anchor_word(anchor), NULL);
}

void svg_name(struct svg *svg, double x, double y, enum svg_anchor anchor, double room, const char *words)
{
    char *name = strdup(words);
    svg->markup->failed |= !name;
    if (name) {
        text_shorten(name, (size_t)fmax(room / COLUMN_WIDTH, 4));
        svg_words(svg, x, y, anchor, name);
    }
    free(name);
}

void svg_figure(struct svg *svg, double x, double y, enum svg_anchor anchor, const char *words, const char *from, ...)
{
    va_list arguments;
    va_start(arguments, from);
    char *place = text_format_list(from, arguments);
    va_end(arguments);
    svg->markup->failed |= !place;
    if (place)
        markup_figure(svg->markup, "text", words, place, "x", coordinate(x).text, "y", coordinate(y).text,
                      "text-anchor", anchor_word(anchor), NULL);
    free(place);
}
