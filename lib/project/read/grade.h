/* SPDX-License-Identifier: GPL-3.0-or-later */
/* grade.csv: a grading sheet, one measure a row and one size a column. pieces.csv uses the measures by name. */
#ifndef HK_GRADE_H
#define HK_GRADE_H

#include "input/graded.h"

/*
 * Reads grade.csv for the sizes of the project; the columns of the sizes may stand in any order. False with findings.
 * `table` is NULL where there is no such file: no measures. `sizes` must live as long as *grade.
 */
bool hk_grade_read(const struct hk_table *table, const char *const *sizes, size_t size_count, struct hk_grade *grade,
                   struct hk_arena *arena, struct hk_diags *diags);

#endif
