/* SPDX-License-Identifier: GPL-3.0-or-later */
/* CommonMark, with a backslash before every character that could be markup. */
#include "materials_writer.h"

#include <string.h>

static void markdown_words(struct block_writer *writer, const char *words)
{
    for (; *words; words++) {
        if (strchr("\\`*_[]<>|#&~", *words))
            fputc('\\', writer->out);
        fputc(*words, writer->out);
    }
}

static void markdown_title(struct block_writer *writer, const char *words)
{
    fputs("## ", writer->out);
    markdown_words(writer, words);
    fputs(": materials\n", writer->out);
}

static void markdown_heading(struct block_writer *writer, const char *words)
{
    fputs("\n### ", writer->out);
    markdown_words(writer, words);
    fputs("\n\n", writer->out);
}

static void markdown_item(struct block_writer *writer, const char *words)
{
    fputs("- ", writer->out);
    markdown_words(writer, words);
    fputc('\n', writer->out);
}

static void markdown_subitem(struct block_writer *writer, const char *words)
{
    fputs("  ", writer->out);
    markdown_item(writer, words);
}

enum outcome block_markdown(const struct hk_materials *materials, FILE *out)
{
    struct block_writer writer = {
        .materials = materials,
        .out = out,
        .title = markdown_title,
        .heading = markdown_heading,
        .item = markdown_item,
        .subitem = markdown_subitem,
    };
    return block_write(&writer);
}
