/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Numbers with units as people write them: "50 g", "1.75 oz", "7 1/4 in", "7½\"", "18,5 cm", "95%".
 * Exact factors: NIST SP 811 (2008) B.6 and B.8, NIST HB 44 (2014) App. C.
 */
#ifndef HK_QUANTITY_H
#define HK_QUANTITY_H

#include "input/digits.h"
#include "input/span.h"

/* hankful.h defines yards, inches and ounces. */
#define HK_M_PER_FOOT 0.3048
#define HK_MM_PER_INCH 25.4
#define HK_G_PER_POUND 453.59237

enum hk_dimension {
    HK_DIM_PLAIN,   /* a number without a unit */
    HK_DIM_MASS,    /* grams */
    HK_DIM_LENGTH,  /* metres */
    HK_DIM_PERCENT, /* a ratio: 95% is 0.95; a bare number below 1 is a ratio */
    HK_DIM_TEX,     /* g/km */
    HK_DIM_WRAPS,   /* wraps per inch; the unit is optional */
    HK_DIM_MINUTES, /* "25", "25 min", "1 h 10 min" */
};

/*
 * The allowed signs. A magnitude above HK_QUANTITY_MOST, or below HK_QUANTITY_LEAST and not zero, is HK_CODE_RANGE in
 * any dimension: later results could leave the range of doubles.
 */
enum hk_sign { HK_SIGN_POSITIVE, HK_SIGN_NOT_NEGATIVE, HK_SIGN_ANY };
#define HK_QUANTITY_MOST 1e12
#define HK_QUANTITY_LEAST 1e-9

/*
 * Parses the whole cell as one quantity in the dimension's base unit. On a mistake it adds a finding at the cell,
 * leaves *value unchanged and returns false. A cell converted by a spreadsheet (to a date) is
 * HK_CODE_SPREADSHEET_DAMAGE.
 */
bool hk_quantity_cell(struct hk_cell cell, enum hk_dimension dimension, enum hk_sign sign, double *value,
                      struct hk_diags *diags);

/* The largest number of stitches or rows that a cell may hold. */
#define HK_COUNT_MOST ((int64_t)1000000000000)

/* Parses an integer from 0 (or 1 if positive) to HK_COUNT_MOST. Returns false with a finding. */
bool hk_count_cell(struct hk_cell cell, enum hk_sign sign, int64_t *value, struct hk_diags *diags);

/*
 * Parses a unit at *cursor, after blanks, such as "cm" or "yd". Sets *dimension and *factor (to the base unit) and
 * advances *cursor. Returns false and changes nothing when there is no known unit.
 */
bool hk_unit_scan(const char **cursor, enum hk_dimension *dimension, double *factor);

/* Returns the known unit of a dimension nearest to a word, or NULL. Static. */
const char *hk_unit_nearest(const char *word, enum hk_dimension dimension);

/* ---- For graded cells, money and the words of `convert` ------------------------------------------- */

/* The same as hk_quantity_cell, for a span. */
bool hk_quantity_read(const struct hk_span *span, enum hk_dimension dimension, enum hk_sign sign, double *value,
                      struct hk_diags *diags);

/* Adds HK_CODE_NUMBER: the number from `start` to `end` is ambiguous. */
void hk_two_readings(const struct hk_span *span, const char *start, const char *end, struct hk_diags *diags);
/* Adds HK_CODE_UNIT_WRONG: the text at `at` is not a unit of this dimension. */
void hk_unit_wrong(const struct hk_span *span, const char *at, enum hk_dimension dimension, struct hk_diags *diags);

#endif
