/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The internal parser of rows by reference: a cursor over the text, and the common parts of all forms. */
#ifndef HK_REFERENCE_READER_H
#define HK_REFERENCE_READER_H

#include "pattern/reference.h"

#include "base/text.h"

#define HK_REFERENCE_NAME_MOST 60

struct reader {
    const char *text, *c;
    size_t size_count;
    struct hk_reference *reference;
    struct hk_arena *arena;
    size_t wrong; /* 1 + the byte of a number without one value for each size */
};

static inline bool words(struct reader *r, const char *const *list)
{
    const char *end = hk_word_of(hk_blanks_skipped(r->c), list);
    if (!end)
        return false;
    r->c = end;
    return true;
}

static inline bool word(struct reader *r, const char *text)
{
    const char *const list[] = {text, NULL};
    return words(r, list);
}

/* Skips any of the words, repeatedly. */
static inline void words_skip(struct reader *r, const char *const *list)
{
    while (words(r, list))
        ;
}

static inline void comma_skip(struct reader *r)
{
    const char *c = hk_blanks_skipped(r->c);
    r->c = *c == ',' ? c + 1 : c;
}

static inline void problem(struct reader *r, const char *at, const char *text, const char *hint)
{
    r->reference->problem = text;
    r->reference->hint = hint;
    r->reference->problem_at = (size_t)(at - r->text);
}

/* ---- reference_read.c ---- */

extern const char *const hk_reference_rows[]; /* "rows", "rnd", ... */

bool hk_reference_number(struct reader *r, struct hk_graded_count *value);

struct amount {
    enum { AMOUNT_TIMES, AMOUNT_ROWS, AMOUNT_LENGTH } of;
    struct hk_graded_count count;
    const double *length_m;
    bool more, total; /* in addition to the existing rows; "in all" */
};

/* Reads "5 (6, 7) more times", "for 10 rows", "for 5 cm", "twice more". Returns false if there is no such amount. */
bool hk_reference_amount(struct reader *r, struct amount *amount);
/* Reads "ending with a WS row". */
bool hk_reference_ending(struct reader *r);
/* Returns the end of the clause: a semicolon, or the end of the sentence. */
const char *hk_reference_clause_end(const char *text);

/* ---- reference_shape.c ---- */

bool hk_reference_shape(struct reader *r);
bool hk_reference_shape_row(struct reader *r);
bool hk_reference_edge(struct reader *r);
bool hk_reference_evenly(struct reader *r);
/*
 * "at the same time dec 1 st each end of every 4th row 6 times" after other rows, or after a comma, and "then bind off
 * 2 sts".
 */
void hk_reference_more(struct reader *r);

#endif
