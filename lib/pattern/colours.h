/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Colours in turn: "Colour sequence: A, B, C; work 1 rnd each", "Work in stripes: 2 rows A, 4 rows B", "Alternate 2
 * rows MC and 2 rows CC".
 */
#ifndef HK_COLOURS_H
#define HK_COLOURS_H

#include "pattern/setting.h"

#define HK_COLOURS_MOST 64

struct hk_colours {
    struct {
        size_t role;
        struct hk_graded_count rows;
    } colours[HK_COLOURS_MOST];
    size_t count;
    bool carried;               /* "carrying the yarn not in use up the side": none is cut */
    size_t length;              /* bytes of the text, with the mark behind; before "for 20 rows" where that follows */
    bool goes_on;               /* "for 20 rows", "until piece measures 20 cm" follows */
    size_t wrong;               /* 1 + the byte of a number that has not one value for each size */
    const char *problem, *hint; /* what in it cannot be read, and what would do; NULL: nothing. Static texts */
    size_t problem_at;
};

/* False where the text says nothing of the kind, or the arena is out of memory. */
bool hk_colours_read(const char *text, const struct hk_setting_words *words, struct hk_colours *colours,
                     struct hk_arena *arena);

/* "stripe sequence", "colour pattern", "stripes": what names such a sequence. The bytes behind it, or NULL. */
const char *hk_colours_name_at(const char *text);

/* "Working in stripe sequence," in front of other words: the bytes behind it, or NULL. */
const char *hk_colours_intro(const char *text);

/* Whether the text says that it is worked in such a sequence: "work even in stripe sequence for 20 rows". */
bool hk_colours_wanted(const char *text);

#endif
