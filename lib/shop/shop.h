/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The shopping plan (public part in hankful.h), with the internal data for later stages. */
#ifndef HK_SHOP_H
#define HK_SHOP_H

#include "need/need.h"

/* The public struct comes first, as in struct hk_needed. */
struct hk_shopped {
    struct hk_shop face;
    struct hk_arena arena;
    const struct hk_needed *needed;
    struct hk_shop_options options;
};

#endif
