/* SPDX-License-Identifier: GPL-3.0-or-later */
/* grade.csv: a grading sheet, one measure a row and one size a column, whose names stand for their values in pieces.csv. */
#ifndef HK_GRADE_H
#define HK_GRADE_H

#include "input/graded.h"

/* A row of grade.csv. */
struct hk_measure {
    const char *name;
    struct hk_amount *by_size;
    bool print; /* one of the finished measurements that a pattern states */
    struct hk_cell cell;
};

/* grade.csv, and the project's sizes even where there is no such file: messages about graded cells name them. */
struct hk_grade {
    struct hk_measure *measures;
    size_t count;
    const char *const *sizes; /* NULL: not known */
};

/* The measure of that name; NULL where there is none. `grade` may be NULL. */
const struct hk_measure *hk_measure_find(const struct hk_grade *grade, const char *name);

/*
 * grade.csv against the project's sizes (its size columns by name, in any order). False with findings. A table of NULL:
 * there is no such file, and no measures. `sizes` must live as long as *grade.
 */
bool hk_grade_read(const struct hk_table *table, const char *const *sizes, size_t size_count, struct hk_grade *grade,
                   struct hk_arena *arena, struct hk_diags *diags);

#endif
