/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Grading: where a size steps backwards, a measurement that grows with the sizes falls from one to the next. */
#ifndef HK_GRADING_CHECK_H
#define HK_GRADING_CHECK_H

#include "tally/sizing.h"

/* Warns of the measurements of grade.csv (HK_CODE_GRADING_FALLS); those that only fall are meant to. */
void hk_grading_check_sheet(const struct hk_project *project, struct hk_diags *diags);

/*
 * Warns where a line's stitches, end stitches or rows, as worked, fall from a size to the next and rise elsewhere. What
 * a name of grade.csv stands for and was warned of there is passed over.
 */
void hk_grading_check_line(const struct hk_project *project, size_t line, const struct hk_sized *by_size,
                           struct hk_arena *arena, struct hk_diags *diags);

#endif
