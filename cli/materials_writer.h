/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The block of a published pattern, and its formats: text, Markdown and HTML have the same titles, headings and items
 * in the same order; CSV and JSON have numbers. The block needs no editing.
 */
#ifndef BLOCK_H
#define BLOCK_H

#include "pipeline.h"

#include <stdio.h>

struct block_writer;
typedef void block_part(struct block_writer *writer, const char *words); /* the words are safe (safe.h) */

/* The functions of a format; `out` is in memory. */
struct block_writer {
    const struct hk_materials *materials;
    FILE *out;
    struct text *text;                          /* for the text format */
    enum { NO_LIST, LIST, ITEM, SUBLIST } open; /* for HTML: the open element */
    bool failed;
    block_part *title, *heading, *item;
    block_part *subitem;                        /* part of the item before */
    void (*close)(struct block_writer *writer); /* NULL: nothing to close */
};

/*
 * Writes title, headings and items with the writer. Like the functions below, returns FAILED, with a message, when
 * memory runs out.
 */
enum outcome block_write(struct block_writer *writer);

enum outcome block_text(const struct hk_materials *materials, struct text *text);
enum outcome block_markdown(const struct hk_materials *materials, FILE *out);
enum outcome block_html(const struct hk_materials *materials, FILE *out);
enum outcome block_csv(const struct work *work, const struct hk_materials *materials, FILE *out);
enum outcome block_json(const struct work *work, const struct hk_materials *materials, FILE *out);

/* Returns whether both unit systems count the amount alike: stitches, not metres. */
bool block_one_unit(const struct hk_printed *amount);

#endif
