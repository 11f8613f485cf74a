/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pictures: figures of SVG with a title, a description, real text, and patterns beside colours. */
#ifndef SVG_H
#define SVG_H

#include "colour.h"
#include "markup.h"
#include "number.h"

/* A picture that is being written. */
struct svg {
    struct markup *markup;
    const char *id; /* unique on the page; begins the ids of its parts */
};

/* Opens a picture; its units are about a pixel of a telephone. `alone`: a file of its own, with its own style. */
struct svg svg_open(struct markup *markup, const char *id, double width, double height, const char *title,
                    const char *description, bool alone);
void svg_close(struct svg *svg);

/* Defines the fill of `index`: its colour, and over it the pattern of the index, so that print loses nothing. */
void svg_fill(struct svg *svg, size_t index, struct colour colour);

/* Draws a rectangle in the fill of `index`. */
void svg_filled(struct svg *svg, size_t index, double x, double y, double width, double height);

/*
 * Draws with the class of the style: "axis", "range", "mark", "outline", "leader", "measure"; a line of a size is "size
 * tintT dashD", with T from 0 to 6 and D from 0 to 7.
 */
void svg_rect(struct svg *svg, const char *class, double x, double y, double width, double height);
void svg_line(struct svg *svg, const char *class, double x1, double y1, double x2, double y2);
void svg_circle(struct svg *svg, const char *class, double x, double y, double radius);

/* Draws a closed polygon: `count` pairs of x and y. */
void svg_polygon(struct svg *svg, const char *class, const double *points, size_t count);

enum svg_anchor { SVG_START, SVG_MIDDLE, SVG_END };

void svg_words(struct svg *svg, double x, double y, enum svg_anchor anchor, const char *words);
/* Writes a name, shortened to fit into `room`; the table behind the picture has the whole. */
void svg_name(struct svg *svg, double x, double y, enum svg_anchor anchor, double room, const char *words);
/* Writes a figure; see markup_figure. The format gives its place in the JSON. */
void svg_figure(struct svg *svg, double x, double y, enum svg_anchor anchor, const char *words, const char *from, ...)
    TEXT_PRINTF(6, 7);

/* The style of pictures, as CSS. */
extern const char svg_style[];

#endif
