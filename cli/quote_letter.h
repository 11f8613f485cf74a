/* SPDX-License-Identifier: GPL-3.0-or-later */
/* hankful quote --letter: the offer to a client, without the maker's costs. */
#ifndef QUOTE_LETTER_H
#define QUOTE_LETTER_H

#include "options.h"
#include "pipeline.h"

#include <stdio.h>

/* Writes the letter about the first size of a commission. Returns FAILED, with a message, when memory runs out. */
enum outcome quote_letter(const struct work *work, const struct hk_quote *quote, const struct options *options, FILE *out);

#endif
