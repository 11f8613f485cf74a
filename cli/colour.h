/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The colour in which a yarn is drawn. */
#ifndef COLOUR_H
#define COLOUR_H

#include <stddef.h>

struct colour {
    char text[8]; /* "#rrggbb" */
};

/*
 * Returns `rgb` ("#rrggbb" of yarns.csv) if it is stated; else the colour of CSS that the words name, or their last
 * word
 * ("Buoy red"); else the colour of `index`, which is the same for no two of the first eight.
 */
struct colour colour_shown(const char *rgb, const char *words, size_t index);

#endif
