/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The block of a published pattern: a document (document.h), or numbers as CSV and JSON. The block needs no editing.
 */
#ifndef MATERIALS_WRITER_H
#define MATERIALS_WRITER_H

#include "document.h"
#include "pipeline.h"

#include <stdio.h>

/* Writes and ends the document. Returns false when memory ran out. */
bool block_write(struct document *document, const struct hk_materials *materials);
/* Return FAILED, with a message, when memory runs out. */
enum outcome block_csv(const struct work *work, const struct hk_materials *materials, FILE *out);
enum outcome block_json(const struct work *work, const struct hk_materials *materials, FILE *out);

/*
 * Returns a sentence that says why the block has other numbers of balls than need and shop; NULL if it has the same,
 * or, with `failed` set, when memory runs out. Owner: the caller (free).
 */
char *block_difference(const struct work *work, const struct hk_materials *materials, bool *failed);

/* Returns whether both unit systems count the amount alike: stitches, not metres. */
bool block_one_unit(const struct hk_printed *amount);

#endif
