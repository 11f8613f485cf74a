/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The one writer of HTML and SVG: elements, attributes, and escaped text, as well-formed XML that is valid HTML too.
 * Text is made safe (safe.h) and escaped here and nowhere else.
 */
#ifndef MARKUP_H
#define MARKUP_H

#include "layout.h"

#include <stdarg.h>
#include <stdbool.h>
#include <stdio.h>

/* `failed` records a failure; the caller checks it once, at the end. */
struct markup {
    FILE *out; /* borrowed */
    bool failed;
};

/*
 * The functions below take attributes as pairs of name and value, ended by NULL; a pair whose value is NULL is left
 * out. Values are escaped.
 */
#if defined __GNUC__
#define MARKUP_ENDED __attribute__((sentinel))
#else
#define MARKUP_ENDED
#endif

/* Opens an element; markup_close closes it. A block element begins and ends a line. */
void markup_open(struct markup *markup, const char *tag, ...) MARKUP_ENDED;
void markup_close(struct markup *markup, const char *tag);

/* Writes an element without content. */
void markup_leaf(struct markup *markup, const char *tag, ...) MARKUP_ENDED;

/* Writes an element that holds a text. */
void markup_element(struct markup *markup, const char *tag, const char *words, ...) MARKUP_ENDED;

/* Writes text. */
void markup_text(struct markup *markup, const char *format, ...) TEXT_PRINTF(2, 3);

/*
 * A figure of an answer: the words that show it, and its place in the JSON of a command, "need:/need/3/balls" (RFC
 * 6901). A program that reads the page finds the exact value there.
 */
void markup_figure(struct markup *markup, const char *tag, const char *words, const char *from, ...) MARKUP_ENDED;

/* Writes trusted markup unchanged. */
void markup_plain(struct markup *markup, const char *trusted);

#endif
