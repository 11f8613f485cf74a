/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The moisture allowance of a yarn, from the fibres on its label. */
#ifndef HK_MOISTURE_H
#define HK_MOISTURE_H

#include "catalogue/catalogue.h"

/*
 * Computes the conventional allowance of a label such as "wool", "70% merino, 30% silk" or "cotton and linen" from the
 * table fibres, a ratio of the dry mass: the lowest and the highest if the label is ambiguous (wool, carded or combed).
 * Shares are by mass. Returns false and leaves *low and *high unchanged when a fibre is unknown or the shares do not
 * add up to 100%.
 */
bool hk_moisture_allowance(const struct hk_catalogue *catalogue, const char *label, double *low, double *high);

/*
 * Returns the fibre that a word of the label is probably meant to be, "wool" for "woll", if a part of the label names
 * no known fibre; NULL if there is none, or when memory runs out. The text is in the arena.
 */
const char *hk_fibre_meant(const struct hk_catalogue *catalogue, const char *label, struct hk_arena *arena);

#endif
