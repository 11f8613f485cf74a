/* SPDX-License-Identifier: GPL-3.0-or-later */
/* grade.csv: a grading sheet, one measure a row and one size a column, whose names stand for their values in pieces.csv. */
#ifndef HK_GRADE_H
#define HK_GRADE_H

#include "input/graded.h"

/*
 * grade.csv against the project's sizes (its size columns by name, in any order). False with findings. A table of NULL:
 * there is no such file, and no measures. `sizes` must live as long as *grade.
 */
bool hk_grade_read(const struct hk_table *table, const char *const *sizes, size_t size_count, struct hk_grade *grade,
                   struct hk_arena *arena, struct hk_diags *diags);

#endif
