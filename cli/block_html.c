/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A section of HTML, to be put into a page; well-formed as XML too. */
#include "block.h"

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

static void html_list_end(struct block_writer *writer)
{
    if (writer->open)
        fputs("</ul>\n", writer->out);
    writer->open = false;
}

static void html_title(struct block_writer *writer, const char *words)
{
    fputs("<section class=\"materials\">\n<h2>", writer->out);
    html_words(writer, words);
    fputs(": materials</h2>\n", writer->out);
}

static void html_heading(struct block_writer *writer, const char *words)
{
    html_list_end(writer);
    fputs("<h3>", writer->out);
    html_words(writer, words);
    fputs("</h3>\n<ul>\n", writer->out);
    writer->open = true;
}

static void html_item(struct block_writer *writer, const char *words)
{
    fputs("<li>", writer->out);
    html_words(writer, words);
    fputs("</li>\n", writer->out);
}

static void html_close(struct block_writer *writer)
{
    html_list_end(writer);
    fputs("</section>\n", writer->out);
}

enum outcome block_html(const struct hk_materials *materials, FILE *out)
{
    struct block_writer writer = {
        .materials = materials, .out = out,
        .title = html_title, .heading = html_heading, .item = html_item, .close = html_close,
    };
    return block_write(&writer);
}
