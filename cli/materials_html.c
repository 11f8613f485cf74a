/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A section of HTML for inclusion in a page; also well-formed XML. */
#include "materials_writer.h"

static void html_words(struct block_writer *writer, const char *words)
{
    for (; *words; words++) {
        switch (*words) {
        case '&':
            fputs("&amp;", writer->out);
            break;
        case '<':
            fputs("&lt;", writer->out);
            break;
        case '>':
            fputs("&gt;", writer->out);
            break;
        case '"':
            fputs("&quot;", writer->out);
            break;
        default:
            fputc((unsigned char)*words < ' ' ? ' ' : *words, writer->out);
        }
    }
}

/* Closes the open elements, down to a list or to none. */
static void html_close_to(struct block_writer *writer, bool list)
{
    if (writer->open == SUBLIST)
        fputs("</ul>\n", writer->out);
    if (writer->open >= ITEM)
        fputs("</li>\n", writer->out);
    if (writer->open >= LIST && !list)
        fputs("</ul>\n", writer->out);
    writer->open = list ? LIST : NO_LIST;
}

static void html_title(struct block_writer *writer, const char *words)
{
    fputs("<section class=\"materials\">\n<h2>", writer->out);
    html_words(writer, words);
    fputs(": materials</h2>\n", writer->out);
}

static void html_heading(struct block_writer *writer, const char *words)
{
    html_close_to(writer, false);
    fputs("<h3>", writer->out);
    html_words(writer, words);
    fputs("</h3>\n<ul>\n", writer->out);
    writer->open = LIST;
}

static void html_item(struct block_writer *writer, const char *words)
{
    html_close_to(writer, true);
    fputs("<li>", writer->out);
    html_words(writer, words);
    writer->open = ITEM;
}

static void html_subitem(struct block_writer *writer, const char *words)
{
    fputs(writer->open == SUBLIST ? "<li>" : "\n<ul>\n<li>", writer->out);
    html_words(writer, words);
    fputs("</li>\n", writer->out);
    writer->open = SUBLIST;
}

static void html_close(struct block_writer *writer)
{
    html_close_to(writer, false);
    fputs("</section>\n", writer->out);
}

enum outcome block_html(const struct hk_materials *materials, FILE *out)
{
    struct block_writer writer = {
        .materials = materials,
        .out = out,
        .title = html_title,
        .heading = html_heading,
        .item = html_item,
        .subitem = html_subitem,
        .close = html_close,
    };
    return block_write(&writer);
}
