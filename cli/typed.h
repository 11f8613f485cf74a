/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Options that state work and yarn in place of files. */
#ifndef TYPED_H
#define TYPED_H

#include "hankful.h"
#include "options.h"

static inline struct hk_hand typed_hand(const struct options *options)
{
    return (struct hk_hand){options->size, options->done, options->used, options->left, options->have};
}

#endif
