/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A section of HTML for inclusion in a page; also well-formed XML. */
#include "document.h"

/* Closes the open elements, down to a list or to none. */
static void close_to(struct document *document, bool list)
{
    if (document->open == SUBLIST)
        markup_close(document->markup, "ul");
    if (document->open >= ITEM)
        markup_close(document->markup, "li");
    if (document->open >= LIST && !list)
        markup_close(document->markup, "ul");
    document->open = list ? LIST : NO_LIST;
}

static void html_title(struct document *document, const char *words)
{
    markup_open(document->markup, "section", "class", document->kind, NULL);
    markup_element(document->markup, "h2", words, NULL);
}

static void html_heading(struct document *document, const char *words)
{
    close_to(document, false);
    markup_element(document->markup, "h3", words, NULL);
    markup_open(document->markup, "ul", NULL);
    document->open = LIST;
}

static void html_item(struct document *document, const char *words)
{
    if (document->open == NO_LIST)
        markup_open(document->markup, "ul", NULL);
    close_to(document, true);
    markup_open(document->markup, "li", NULL);
    markup_text(document->markup, "%s", words);
    document->open = ITEM;
}

static void html_subitem(struct document *document, const char *words)
{
    if (document->open != SUBLIST) {
        markup_plain(document->markup, "\n");
        markup_open(document->markup, "ul", NULL);
    }
    markup_element(document->markup, "li", words, NULL);
    document->open = SUBLIST;
}

static void html_close(struct document *document)
{
    close_to(document, false);
    markup_close(document->markup, "section");
    document->failed |= document->markup->failed;
}

struct document document_html(struct markup *markup, const char *kind)
{
    return (struct document){
        .markup = markup,
        .kind = kind,
        .put_title = html_title,
        .put_heading = html_heading,
        .put_item = html_item,
        .put_subitem = html_subitem,
        .close = html_close,
    };
}
