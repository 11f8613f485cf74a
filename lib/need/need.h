/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The prediction from the fit (public part in hankful.h), with the internal data for later stages. */
#ifndef HK_NEED_H
#define HK_NEED_H

#include "model/fit.h"

/* The public struct comes first, so that a `struct hk_need *` is a `struct hk_needed *`. */
struct hk_needed {
    struct hk_need face;
    struct hk_arena arena;
    const struct hk_fit *fit;
    size_t first_size, last_size; /* the sizes asked for, indices in the project */
    const double *gradients;      /* gradients of ln mass at the optimum: face.role_count x fit->count */
    const double
        *garment_variance; /* the part of the variance of ln mass from the making and its pieces: face.role_count */
};

#endif
