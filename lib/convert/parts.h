/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The words to convert, taken apart: "how many balls of 100 g = 300 m for 840 m" may be one argument or twelve. An argument
 * is taken apart at its blanks if it counts balls, has an "of", or begins with "how" or "for"; others stay whole.
 */
#ifndef HK_CONVERT_PARTS_H
#define HK_CONVERT_PARTS_H

#include "base/arena.h"

struct hk_convert_part {
    const char *text; /* plain (hk_text_plain), without a comma, semicolon or question mark at its end */
    size_t word;      /* the index of its argument */
};

struct hk_convert_parts {
    struct hk_convert_part *parts;
    size_t count;
};

/* Returns the singular of a word of the trade for a put-up, "skein" for "skeins"; NULL for another word. Static. */
const char *hk_put_up_word(const char *text);

/*
 * Takes the arguments apart, except those that is_name(context, text) calls a name. Returns false when out of memory.
 */
bool hk_convert_parts_make(const char *const *words, size_t count, bool (*is_name)(const void *context, const char *text),
                   const void *context, struct hk_convert_parts *parts, struct hk_arena *arena);

#endif
