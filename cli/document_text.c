/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "document.h"

#include <stdlib.h>

static void put_section(struct document *document)
{
    if (document->section && document->items)
        text_entry(document->text, "%s: %s", document->section, document->items);
    free(document->section);
    free(document->items);
    document->section = document->items = NULL;
}

static void text_title(struct document *document, const char *words)
{
    text_heading(document->text, "%s", words);
    text_gap(document->text);
}

static void text_part(struct document *document, const char *words)
{
    put_section(document);
    document->section = text_format("%s", words);
    document->failed |= !document->section;
}

/* Joins the items of a section that has no subitems yet. */
static void text_words(struct document *document, const char *words)
{
    if (document->section)
        document->failed |= !text_append(&document->items, "%s%s", document->items ? "; " : "", words);
    else
        text_item(document->text, "%s", words);
}

static void text_subwords(struct document *document, const char *words)
{
    if (document->section) {
        text_heading(document->text, "%s", document->section);
        text_item(document->text, "%s", document->items ? document->items : "");
    }
    free(document->section);
    free(document->items);
    document->section = document->items = NULL;
    text_subitem(document->text, "%s", words);
}

struct document document_text(struct text *text)
{
    return (struct document){
        .out = text->stream,
        .text = text,
        .put_title = text_title,
        .put_heading = text_part,
        .put_item = text_words,
        .put_subitem = text_subwords,
        .close = put_section,
    };
}
