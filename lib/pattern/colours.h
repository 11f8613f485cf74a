/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A sequence of colours: "Colour sequence: A, B, C; work 1 rnd each", "Work in stripes: 2 rows A, 4 rows B", "Alternate
 * 2 rows MC and 2 rows CC".
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
    bool carried;               /* "carrying the yarn not in use up the side": no yarn is cut */
    size_t length;              /* length of the text in bytes with the mark after it, or up to "for 20 rows" */
    bool goes_on;               /* "for 20 rows", "until piece measures 20 cm" follows */
    size_t wrong;               /* 1 + the byte of a number without one value for each size */
    const char *problem, *hint; /* an error and its remedy; NULL: no error. Static texts */
    size_t problem_at;
};

/* Returns false when the text is not a sequence of colours, or when out of memory. */
bool hk_colours_read(const char *text, const struct hk_setting_words *words, struct hk_colours *colours,
                     struct hk_arena *arena);

/* Returns the text after a name of such a sequence ("stripe sequence", "colour pattern", "stripes"), or NULL. */
const char *hk_colours_name_at(const char *text);

/* Returns the text after "Working in stripe sequence," at the start of other words, or NULL. */
const char *hk_colours_intro(const char *text);

/* Returns true when the text requires work in such a sequence: "work even in stripe sequence for 20 rows". */
bool hk_colours_wanted(const char *text);

#endif
