/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The options of a quote whose meaning depends on the project: amounts of money, the ending of the price, the batch. */
#ifndef QUOTE_OPTIONS_H
#define QUOTE_OPTIONS_H

#include "options.h"
#include "pipeline.h"

/* The options of the library, and the memory that they borrow. */
struct quote_asked {
    struct hk_quote_options wanted;
    int64_t *kits; /* by size of the project; NULL: none by size. Owned: the caller frees it */
};

/*
 * Reads the options after the project, for struct work's take_options; `taking` is a struct quote_asked. Reports every
 * mistake.
 */
enum outcome quote_options_fill(const struct work *work, const struct options *options, void *taking);

/* Returns MISUSED, with a message that names the option, if several sizes are asked for. */
enum outcome quote_one_piece(const struct work *work, uint64_t option);

/* Refuses options for a price that is sought if a price is given. Returns false, with a message, if there are some. */
bool quote_price_options(const struct options *options);

/* Returns true when --batch states kits by size, not a number. */
bool quote_batch_by_size(const struct options *options);

#endif
