/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "materials_writer.h"

static void text_title(struct block_writer *writer, const char *words)
{
    text_heading(writer->text, "%s: materials", words);
}

static void text_part(struct block_writer *writer, const char *words)
{
    text_gap(writer->text);
    text_heading(writer->text, "%s", words);
}

static void text_entry(struct block_writer *writer, const char *words)
{
    text_item(writer->text, "%s", words);
}

static void text_subentry(struct block_writer *writer, const char *words)
{
    text_subitem(writer->text, "%s", words);
}

enum outcome block_text(const struct hk_materials *materials, struct text *text)
{
    struct block_writer writer = {
        .materials = materials,
        .out = text->stream,
        .text = text,
        .title = text_title,
        .heading = text_part,
        .item = text_entry,
        .subitem = text_subentry,
    };
    return block_write(&writer);
}
