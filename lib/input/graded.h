/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * One value for every size in the trade's notation: "71 (77, 83, 91, 99)", "38 (40, 42) cm", "5"; `0` or `-`: absent in
 * this size. A cell may also hold the name of a measure of grade.csv, a grading sheet.
 */
#ifndef HK_GRADED_H
#define HK_GRADED_H

#include "input/quantity.h"

enum hk_amount_kind { HK_AMOUNT_NONE, HK_AMOUNT_COUNT, HK_AMOUNT_LENGTH };

struct hk_amount {
    enum hk_amount_kind kind; /* NONE: absent in this size */
    int64_t count;
    double length_m;
};

/* A parsed cell. For an empty cell `given` is false and by_size NULL. */
struct hk_graded {
    bool given;
    struct hk_amount *by_size; /* one for each size */
    struct hk_cell cell;       /* for messages: the cell of pieces.csv, also when grade.csv holds the values */
};

/* Returns true when the cell states that the size does not have it. */
static inline bool hk_graded_none(const struct hk_graded *graded, size_t size)
{
    return graded->given && graded->by_size[size].kind == HK_AMOUNT_NONE;
}

/* A row of grade.csv. */
struct hk_measure {
    const char *name;
    struct hk_amount *by_size;
    bool print; /* a finished measurement that the pattern prints */
    struct hk_cell cell;
};

/*
 * grade.csv, and the project's sizes, which messages about graded cells name. The sizes are set also without a
 * grade.csv.
 */
struct hk_grade {
    struct hk_measure *measures;
    size_t count;
    const char *const *sizes; /* NULL: not known */
};

/* Returns the measure with this name, or NULL. `grade` may be NULL. */
const struct hk_measure *hk_measure_find(const struct hk_grade *grade, const char *name);

/*
 * The notation: the first value, then one or more bracketed groups with the values of the other sizes, then the unit of
 * all values without a unit of their own.
 *
 *     71 (77, 83, 91, 99)    38 (40, 42) cm    38 cm (40 cm, 42 cm)    7 1/2 [8; 8 1/2] in    36 (38) [40, 42]
 *
 * Commas between two digits are decimal marks in `;` and tab files. In comma files they are separators, and reported as
 * ambiguous if other values of the cell are separated by comma and blank or by `;`.
 *
 * Blanks group digits in threes ("12 000"); a number that may also be a list is reported.
 *
 * Splits the cell into one text for each size; `texts` has room for size_count, and a single value is repeated. Returns
 * false with a finding (HK_CODE_GRADE_COUNT, HK_CODE_GRADE_FORM) on failure.
 */
bool hk_graded_split(struct hk_cell cell, size_t size_count, const char **texts, struct hk_arena *arena,
                     struct hk_diags *diags);

/*
 * Returns graded notation from one text for each size: "480 (520, 570)", with the marks of hk_graded_mark, or a single
 * text if all are equal. hk_graded_split parses it. count is at least 1. Returns "" when out of memory.
 */
const char *hk_graded_write(const char *const *texts, size_t count, struct hk_arena *arena);

/* Returns true when the text is not only a number: a value with a unit, or a name. */
bool hk_has_words(const char *text);

/*
 * Parses a cell of pieces.csv: counts up to 10^12, lengths if `lengths`, or the name of a measure in `grade` (may be
 * NULL). Counts and lengths in the same cell are an error. Returns false with findings and leaves *value unchanged.
 */
bool hk_graded_cell(struct hk_cell cell, size_t size_count, const struct hk_grade *grade, bool lengths,
                    struct hk_graded *value, struct hk_arena *arena, struct hk_diags *diags);
/* The same for a part of a cell that is not empty. */
bool hk_graded_part(const struct hk_span *span, size_t size_count, const struct hk_grade *grade, bool lengths,
                    struct hk_graded *value, struct hk_arena *arena, struct hk_diags *diags);

/*
 * Parses a row of grade.csv: a cell for each size, and the unit of cells without a unit of their own. Reports all
 * mistakes. Returns false on a mistake or when out of memory.
 */
bool hk_amounts_row(const struct hk_cell *cells, struct hk_cell unit, const char *const *sizes, size_t size_count,
                    struct hk_amount *by_size, struct hk_arena *arena, struct hk_diags *diags);

#endif
