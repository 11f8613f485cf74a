/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The block of a published pattern, and the ways to write it: as text, Markdown and HTML it is the same titles,
 * headings and items in the same order; as CSV and JSON it is numbers. What a block says nobody has to edit.
 */
#ifndef BLOCK_H
#define BLOCK_H

#include "pipeline.h"

#include <stdio.h>

struct block_writer;
typedef void block_part(struct block_writer *writer, const char *words); /* of words that are safe (safe.h) */

/* How a format writes; `out` is in memory. */
struct block_writer {
    const struct hk_materials *materials;
    FILE *out;
    struct text *text;                          /* of the text format */
    enum { NO_LIST, LIST, ITEM, SUBLIST } open; /* of HTML: what is */
    bool failed;
    block_part *title, *heading, *item;
    block_part *subitem;                        /* of the item before */
    void (*close)(struct block_writer *writer); /* NULL: nothing to close */
};

/* Title, headings and items by the writer. FAILED, said on standard error, where memory ran out; so too below. */
enum outcome block_write(struct block_writer *writer);

enum outcome block_text(const struct hk_materials *materials, struct text *text);
enum outcome block_markdown(const struct hk_materials *materials, FILE *out);
enum outcome block_html(const struct hk_materials *materials, FILE *out);
enum outcome block_csv(const struct work *work, const struct hk_materials *materials, FILE *out);
enum outcome block_json(const struct work *work, const struct hk_materials *materials, FILE *out);

/* Whether both systems count it alike: stitches, not metres. */
bool block_one_unit(const struct hk_printed *amount);

#endif
