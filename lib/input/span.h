/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Parts of cells with their places, so that a message can point to the exact column of the file. */
#ifndef HK_SPAN_H
#define HK_SPAN_H

#include "base/diags.h"
#include "input/table.h"

/* A cell or a part of it as plain text (hk_text_plain), with the place of each byte in the file. */
struct hk_span {
    const char *text;
    const size_t
        *origin; /* for each byte of text and its final zero: its index in cell.text; NULL: consecutive from `start` */
    size_t start;
    struct hk_cell cell;
    struct hk_place at; /* of the first character, if the cell is not from a file */
};

/* Returns false and leaves *span unchanged when out of memory. */
bool hk_span_make(struct hk_cell cell, struct hk_span *span, struct hk_arena *arena);
/* Sets *part to `length` bytes of *whole from byte `start`, without outer blanks. Returns false when out of memory. */
bool hk_span_part(const struct hk_span *whole, size_t start, size_t length, struct hk_span *part,
                  struct hk_arena *arena);
/* Returns the place of `at`, a byte of span->text. */
struct hk_place hk_span_place(const struct hk_span *span, const char *at);
/* Returns the decimal mark of its file; a point if the cell is not from a file. */
enum hk_decimal hk_span_decimal(const struct hk_span *span);

#endif
