/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A section of HTML for inclusion in a page; also well-formed XML. */
#include "document.h"

static void html_words(struct document *document, const char *words)
{
    for (; *words; words++) {
        switch (*words) {
        case '&':
            fputs("&amp;", document->out);
            break;
        case '<':
            fputs("&lt;", document->out);
            break;
        case '>':
            fputs("&gt;", document->out);
            break;
        case '"':
            fputs("&quot;", document->out);
            break;
        default:
            fputc((unsigned char)*words < ' ' ? ' ' : *words, document->out);
        }
    }
}

/* Closes the open elements, down to a list or to none. */
static void html_close_to(struct document *document, bool list)
{
    if (document->open == SUBLIST)
        fputs("</ul>\n", document->out);
    if (document->open >= ITEM)
        fputs("</li>\n", document->out);
    if (document->open >= LIST && !list)
        fputs("</ul>\n", document->out);
    document->open = list ? LIST : NO_LIST;
}

static void html_title(struct document *document, const char *words)
{
    fprintf(document->out, "<section class=\"%s\">\n<h2>", document->kind);
    html_words(document, words);
    fputs("</h2>\n", document->out);
}

static void html_heading(struct document *document, const char *words)
{
    html_close_to(document, false);
    fputs("<h3>", document->out);
    html_words(document, words);
    fputs("</h3>\n<ul>\n", document->out);
    document->open = LIST;
}

static void html_item(struct document *document, const char *words)
{
    if (document->open == NO_LIST)
        fputs("<ul>\n", document->out);
    html_close_to(document, true);
    fputs("<li>", document->out);
    html_words(document, words);
    document->open = ITEM;
}

static void html_subitem(struct document *document, const char *words)
{
    fputs(document->open == SUBLIST ? "<li>" : "\n<ul>\n<li>", document->out);
    html_words(document, words);
    fputs("</li>\n", document->out);
    document->open = SUBLIST;
}

static void html_close(struct document *document)
{
    html_close_to(document, false);
    fputs("</section>\n", document->out);
}

struct document document_html(FILE *out, const char *kind)
{
    return (struct document){
        .out = out,
        .kind = kind,
        .put_title = html_title,
        .put_heading = html_heading,
        .put_item = html_item,
        .put_subitem = html_subitem,
        .close = html_close,
    };
}
