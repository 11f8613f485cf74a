/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Hours (public part in hankful.h), with the internal data for later stages. */
#ifndef HK_HOURS_H
#define HK_HOURS_H

#include "model/fit.h"

/* The public struct comes first, as in struct hk_needed. */
struct hk_clocked {
    struct hk_hours face;
    struct hk_arena arena;
    const struct hk_tally *tally;
    size_t first_size, last_size; /* the sizes asked for, indices in the project */
};

#endif
