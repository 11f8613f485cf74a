/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reports a failed count: the piece, size and row, the stitches below, and the widths that fit. */
#ifndef HK_COUNT_ERROR_H
#define HK_COUNT_ERROR_H

#include "base/diags.h"
#include "tally/count.h"

/* The subject of a count, for messages. */
struct hk_subject {
    const char *title; /* `"back", size M` or `the swatch "rib"` */
    const struct hk_work *work;
    bool own_fabric; /* the fabric is from the project's fabrics.csv: findings may point there */
    struct hk_cell stitches, end_stitches, every;
};

/* Reports the error. `answer` is neither HK_COUNTING_DONE nor HK_COUNTING_NO_MEMORY. */
void hk_count_error_report(const struct hk_subject *subject, enum hk_counting answer,
                           const struct hk_count_error *error, struct hk_diags *diags);

/* Reports HK_COUNTING_SPENT, once per file: `cell` is a cell of the file with too many rows. */
void hk_spent_report(struct hk_cell cell, struct hk_diags *diags);

#endif
