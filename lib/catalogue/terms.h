/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Names of stitches and fabrics in the other terms: "half double crochet" in US terms is "half treble crochet" in UK terms. */
#ifndef HK_TERMS_H
#define HK_TERMS_H

#include "catalogue/catalogue.h"

/*
 * Returns the text with every stitch name, the longest first, changed from `from` terms to `to` terms. NULL when out of
 * memory.
 */
const char *hk_terms_change(const struct hk_catalogue *catalogue, const char *words, enum hk_terms from, enum hk_terms to,
                            struct hk_arena *arena);

#endif
