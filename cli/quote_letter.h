/* SPDX-License-Identifier: GPL-3.0-or-later */
/* hankful quote --letter: the offer to a client, without the maker's costs. */
#ifndef QUOTE_LETTER_H
#define QUOTE_LETTER_H

#include "document.h"
#include "json.h"
#include "options.h"
#include "pipeline.h"

#include <stdio.h>

/* Returns false, with a message, if the options of the letter do not fit together. */
bool quote_letter_options(const struct options *options);

/*
 * Writes the letter about the first size of a commission, as text, Markdown or HTML. Returns FAILED, with a message,
 * when memory runs out.
 */
enum outcome quote_letter(const struct work *work, const struct hk_quote *quote, const struct options *options,
                          FILE *out);

/* Writes and ends the letter as a document. Returns false when memory ran out. */
bool quote_letter_write(struct document document, const struct work *work, const struct hk_quote *quote,
                        const struct options *options);

/* Writes what the maker considers before she sends it. */
void quote_letter_caution(struct text *text);

/* Returns what the letter states besides the rest of the answer, for every size: from it a program prints the letter.
 */
json_t *quote_letter_json(struct json *json, const struct work *work, const struct hk_quote *quote,
                          const struct options *options);

/* Returns the unit of a time: "day", "days", "week" or "weeks". */
const char *quote_letter_period(int64_t days, bool weeks);

#endif
