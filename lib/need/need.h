/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Prediction from the fit (public face in hankful.h); what later stages need of it besides. */
#ifndef HK_NEED_H
#define HK_NEED_H

#include "model/fit.h"

/* The public struct comes first, so that a `struct hk_need *` is a `struct hk_needed *`. */
struct hk_needed {
    struct hk_need face;
    struct hk_arena arena;
    const struct hk_fit *fit;
    size_t first_size, last_size; /* asked for, of the project's */
    const double *gradients;      /* of ln mass at the optimum: face.role_count x fit->count */
    const double *garment_variance; /* variance of ln mass that the making and its pieces add: face.role_count */
};

#endif
