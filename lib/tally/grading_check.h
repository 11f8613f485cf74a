/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Checks of grading: a measurement that grows with the sizes must not fall from one size to the next. */
#ifndef HK_GRADING_CHECK_H
#define HK_GRADING_CHECK_H

#include "tally/sizing.h"

/* Warns of the measurements of grade.csv (HK_CODE_GRADING_FALLS); measurements that never rise are accepted. */
void hk_grading_check_sheet(const struct hk_project *project, struct hk_diags *diags);

/*
 * Warns when the stitches, end stitches or rows of a line, as worked, fall from one size to the next and rise overall.
 * Skips cells that name a measure of grade.csv, which is checked there.
 */
void hk_grading_check_line(const struct hk_project *project, size_t line, const struct hk_sized *by_size,
                           struct hk_arena *arena, struct hk_diags *diags);

#endif
