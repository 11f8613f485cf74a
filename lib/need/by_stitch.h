/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The yarn of one role in a use, and of each kind of stitch. */
#ifndef HK_BY_STITCH_H
#define HK_BY_STITCH_H

#include "model/predict.h"
#include "need/need.h"

/* Returns the number of strands of a role in a combination. *ends_sum: the sum of their ends. */
double hk_role_strands(const struct hk_combination *combination, size_t role, const double *ends, double *ends_sum);

/* The part of a role in a use, for the predictor: the context of hk_of_role_use. */
struct hk_of_role {
    const struct hk_project *project;
    size_t role;
};
struct hk_asked_of hk_of_role_use(const void *context, const struct hk_use *use);

/*
 * Lists the likely yarn of each kind of stitch by size and role, the most yarn first, and of what is no stitch (ends,
 * cut lengths) last. `roles`: predicted, in the order of their sizes. NULL when memory runs out.
 */
const struct hk_need_stitch *hk_need_by_stitch(struct hk_needed *needed, const struct hk_need_role *roles,
                                               size_t role_count, size_t *count);

#endif
