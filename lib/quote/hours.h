/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Hours (public face in hankful.h); what later stages must know of them besides. */
#ifndef HK_HOURS_H
#define HK_HOURS_H

#include "model/fit.h"

/* The public struct comes first, as in struct hk_needed. */
struct hk_clocked {
    struct hk_hours face;
    struct hk_arena arena;
    const struct hk_tally *tally;
    size_t first_size, last_size; /* asked for, of the project's */
};

#endif
