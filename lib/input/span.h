/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Words of a cell that know where they stand: what is wrong within them is pointed at in the file as it was typed. */
#ifndef HK_SPAN_H
#define HK_SPAN_H

#include "base/diags.h"
#include "input/table.h"

/* A cell, or a part of one, made plain: it still knows where in the file each of its bytes stands. */
struct hk_span {
    const char *text;
    const size_t
        *origin; /* for each byte of text, its closing zero too: the byte of cell.text; NULL: from `start` on */
    size_t start;
    struct hk_cell cell;
    struct hk_place at; /* of the first character, where the cell is in no file */
};

/* False where the arena is out of memory; *span is then untouched. */
bool hk_span_make(struct hk_cell cell, struct hk_span *span, struct hk_arena *arena);
/* `length` bytes of it from byte `start` on, outer blanks trimmed. */
bool hk_span_part(const struct hk_span *whole, size_t start, size_t length, struct hk_span *part,
                  struct hk_arena *arena);
/* Where `at`, a byte of span->text, stands. */
struct hk_place hk_span_place(const struct hk_span *span, const char *at);
/* That of its file; a point where the cell is in none. */
enum hk_decimal hk_span_decimal(const struct hk_span *span);

#endif
