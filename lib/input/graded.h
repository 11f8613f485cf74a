/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * One value for every size in the trade's notation: "71 (77, 83, 91, 99)", "38 (40, 42) cm", "5"; `0` or `-`: this size
 * does without. A cell may also hold the name of a measure of grade.csv, a grading sheet.
 */
#ifndef HK_GRADED_H
#define HK_GRADED_H

#include "input/quantity.h"

enum hk_amount_kind { HK_AMOUNT_NONE, HK_AMOUNT_COUNT, HK_AMOUNT_LENGTH };

struct hk_amount {
    enum hk_amount_kind kind; /* NONE: this size does without */
    int64_t count;
    double length_m;
};

/* A parsed cell. `given` is false, and by_size NULL, where the cell was empty. */
struct hk_graded {
    bool given;
    struct hk_amount *by_size; /* one for each size */
    struct hk_cell cell;       /* for messages: the cell of pieces.csv, even where grade.csv gave the values */
};

/* Whether it says that the size does without. */
static inline bool hk_graded_none(const struct hk_graded *graded, size_t size)
{
    return graded->given && graded->by_size[size].kind == HK_AMOUNT_NONE;
}

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
 * The notation: first value, then one or more groups in brackets with the values of the other sizes, then what goes to
 * each value that does not end in a unit of its own.
 *
 *     71 (77, 83, 91, 99)    38 (40, 42) cm    38 cm (40 cm, 42 cm)    7 1/2 [8; 8 1/2] in    36 (38) [40, 42]
 *
 * Commas between two digits: in `;` and tab files decimal marks; in comma files separators, unless other values of the
 * same cell are separated by comma and blank or by `;`, when it is asked about.
 *
 * Blanks group digits in threes ("12 000"), but where that may be a list it is asked about.
 *
 * Splits it into one text a size: `texts` has room for size_count; a single value is repeated. False with a finding
 * (HK_CODE_GRADE_COUNT, HK_CODE_GRADE_FORM) where it cannot be.
 */
bool hk_graded_split(struct hk_cell cell, size_t size_count, const char **texts, struct hk_arena *arena,
                     struct hk_diags *diags);

/*
 * Graded notation from one text a size: "480 (520, 570)"; one text where all are the same. hk_graded_split reads it
 * back.
 * "" when the arena is out of memory; count at least 1.
 */
const char *hk_graded_write(const char *const *texts, size_t count, struct hk_arena *arena);

/* Whether anything but a number stands in the text: a value with a unit of its own, or a name. */
bool hk_has_words(const char *text);

/*
 * A cell of pieces.csv: counts, lengths if `lengths`, or the name of a measure in `grade` (may be NULL). Counts to
 * 10^12. A cell of counts and lengths together is an error. False with findings; *value is then untouched.
 */
bool hk_graded_cell(struct hk_cell cell, size_t size_count, const struct hk_grade *grade, bool lengths,
                    struct hk_graded *value, struct hk_arena *arena, struct hk_diags *diags);
/* The same of words within a cell, which are not empty. */
bool hk_graded_part(const struct hk_span *span, size_t size_count, const struct hk_grade *grade, bool lengths,
                    struct hk_graded *value, struct hk_arena *arena, struct hk_diags *diags);

/*
 * A row of grade.csv: a cell for each size, and the unit of those that have none of their own. All mistakes are found;
 * false then, or where the arena is out of memory.
 */
bool hk_amounts_row(const struct hk_cell *cells, struct hk_cell unit, const char *const *sizes, size_t size_count,
                    struct hk_amount *by_size, struct hk_arena *arena, struct hk_diags *diags);

#endif
