/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Bars of text, for figures that are faster to compare than to read. */
#ifndef BAR_H
#define BAR_H

#include <stdbool.h>

/* A bar as text: blocks of Unicode in eighths of a column, else #. */
struct bar {
    char text[64];
};

#define BAR_COLUMNS 12 /* of a ratio of 1 */

/* Returns whether the locale of the environment is UTF-8. */
bool bar_blocks(void);

/* Returns the bar of a ratio, at least a sliver above 0; a ratio beyond 0 to 1 is cut. */
struct bar bar_of(double ratio, bool blocks);

#endif
