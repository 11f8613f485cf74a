/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A count that failed, said to the designer: which piece, size and row, what is below, which widths would do. */
#ifndef HK_COUNT_ERROR_H
#define HK_COUNT_ERROR_H

#include "base/diags.h"
#include "tally/count.h"

/* What was counted, for messages about it. */
struct hk_subject {
    const char *title; /* `"back", size M` or `the swatch "rib"` */
    const struct hk_work *work;
    bool own_fabric; /* of the project's fabrics.csv: findings may point there */
    struct hk_cell stitches, end_stitches, every;
};

/* `answer` is neither HK_COUNTING_DONE nor HK_COUNTING_NO_MEMORY. */
void hk_count_error_report(const struct hk_subject *subject, enum hk_counting answer,
                           const struct hk_count_error *error, struct hk_diags *diags);

/* HK_COUNTING_SPENT, once a file: the cell is one of the file whose rows are too many. */
void hk_spent_report(struct hk_cell cell, struct hk_diags *diags);

#endif
