/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A document to print or paste: a title, headings, items and items below items, as text, Markdown or HTML, always in
 * the same order. The caller gives words in the order of the document; all are made safe here (safe.h).
 */
#ifndef DOCUMENT_H
#define DOCUMENT_H

#include "commands.h"
#include "layout.h"
#include "markup.h"

#include <stdio.h>

struct document;
typedef void document_part(struct document *document, const char *words); /* the words are safe */

/* The functions of a format, and where it writes: borrowed. */
struct document {
    FILE *out;                                  /* for Markdown */
    struct text *text;                          /* for the text format */
    struct markup *markup;                      /* for HTML */
    const char *kind;                           /* for HTML: the class of the section */
    enum { NO_LIST, LIST, ITEM, SUBLIST } open; /* for HTML and Markdown: the open element */
    char *section, *items;                      /* for text: a heading whose items are not written yet */
    bool failed;
    document_part *put_title, *put_heading, *put_item;
    document_part *put_subitem;               /* part of the item before */
    void (*close)(struct document *document); /* NULL: nothing to close */
};

/* In text the items of a section stand behind its heading, "Hooks: 5 mm hook; 4 mm hook", unless it has subitems. */
struct document document_text(struct text *text);
/* CommonMark. */
struct document document_markdown(FILE *out);
/* A section of HTML for inclusion in a page; also well-formed XML. `kind`, "materials", is its class. */
struct document document_html(struct markup *markup, const char *kind);

/* Each takes ownership of the words; NULL means that memory ran out. */
void document_title(struct document *document, char *words);
void document_heading(struct document *document, char *words);
void document_item(struct document *document, char *words);
void document_subitem(struct document *document, char *words);

/* Ends the document. Returns false when memory ran out. */
bool document_end(struct document *document);

#endif
