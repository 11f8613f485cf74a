/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Numbers with units as people write them: "50 g", "1.75 oz", "7 1/4 in", "7½\"", "18,5 cm", "95%", "EUR 6.40".
 * Exact factors: NIST SP 811 (2008) B.6 and B.8, NIST HB 44 (2014) App. C; those of yard, inch and ounce in hankful.h.
 */
#ifndef HK_QUANTITY_H
#define HK_QUANTITY_H

#include "diags.h"
#include "table.h"

#define HK_M_PER_FOOT 0.3048
#define HK_G_PER_POUND 453.59237

enum hk_dimension {
    HK_PLAIN,    /* a number without a unit */
    HK_MASS,     /* grams */
    HK_LENGTH,   /* metres */
    HK_PERCENT,  /* a ratio: 95% is 0.95; a bare 0.95 is one too */
    HK_TEX,      /* g/km */
    HK_WRAPS,    /* wraps per inch; the unit may be left out */
    HK_MINUTES,  /* "25", "25 min", "1 h 10 min" */
};

/* What zero and the sign may be. Above HK_QUANTITY_MOST in any dimension is HK_RANGE. */
enum hk_sign { HK_POSITIVE, HK_NOT_NEGATIVE, HK_ANY_SIGN };
#define HK_QUANTITY_MOST 1e12

/*
 * One number at *cursor: digits, one decimal mark (a comma too if decimal_comma), thousands in groups of three where
 * unambiguous, then optionally a fraction. Advances *cursor. False, untouched, where there is none. Never "nan", "inf", hex.
 * `text` must be plain (hk_text_plain).
 */
bool hk_number_scan(const char **cursor, bool decimal_comma, double *value);

/*
 * The whole cell as one quantity in the dimension's base unit. On a mistake adds a finding at the cell and returns false;
 * *value is then untouched. What a spreadsheet made of it (a date) is HK_SPOILED.
 */
bool hk_quantity_cell(struct hk_cell cell, enum hk_dimension dimension, enum hk_sign sign, double *value,
                      struct hk_diags *diags);

/* A whole number from 0 (or 1 if positive) to 10^12. */
bool hk_count_cell(struct hk_cell cell, enum hk_sign sign, int64_t *value, struct hk_diags *diags);

/*
 * A unit at *cursor, blanks before it skipped: "cm", "in", "\"", "yd", "oz", ... *dimension and *factor to the base unit; advances.
 * False, untouched, where no known unit stands.
 */
bool hk_unit_scan(const char **cursor, enum hk_dimension *dimension, double *factor);

#endif
