/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What stands before the colon of a row: "Rnds 2-9 (2-10, 2-11)", "Row 1 (RS)", "Next 3 (4, 5) rows", "1st row", "Inc
 * rnd", "Row 2 and all WS rows"; sizes that a line is limited to, "Medium and large only:"; graded whole numbers and
 * their words.
 */
#ifndef HK_LABEL_H
#define HK_LABEL_H

#include "pattern/row.h"

enum hk_side { HK_SIDE_OPEN, HK_SIDE_RIGHT, HK_SIDE_WRONG };

struct hk_label {
    size_t length;                      /* bytes up to the row's words */
    const char *name;                   /* as written, without the colon; owner: the arena */
    bool numbered;                      /* `first` to `last` stand in it */
    struct hk_graded_count first, last; /* last below first: a size without */
    struct hk_graded_count rows;        /* not numbered: how many rows, 1 where nothing is said */
    bool rows_given;
    enum hk_side side;
    bool others;         /* "and all WS rows": it stands for those that are not written */
    const int64_t *list; /* "Rows 2, 4 and 6": the other rows that it stands for, ascending */
    size_t list_count;
    size_t wrong;               /* 1 + the byte of a graded number that has not one value for each size */
    const char *problem, *hint; /* what in it cannot be read, and what would do; NULL: nothing. Static texts */
    size_t problem_at;          /* its byte */
};

/* Whether the text begins with a label that names a row, or with words that begin some work. */
bool hk_label_begins(const char *text);
bool hk_line_begins_work(const char *text);

/* False where none stands there, or the arena is out of memory. */
bool hk_label_read(const char *text, const struct hk_row_words *words, struct hk_label *label, struct hk_arena *arena);

/*
 * "Medium and large only:", "Sizes S (M) - ", "[Size L:" is none. The bytes that it takes, 0 where none stands there.
 * *sizes: by size; NULL: all. *unknown: it limits sizes and cannot be read.
 */
size_t hk_sizes_read(const char *text, const struct hk_row_words *words, const bool **sizes, bool *unknown,
                     struct hk_arena *arena);

/*
 * A whole number at *cursor, or one for each size: "12", "12 (14, 16)", "12 [14, 16]", "- (2, 4)", "twice", "six".
 * Advances. False, untouched, where there is none. A bracket that has not as many values as sizes are left is *wrong
 * and not taken.
 */
bool hk_whole_scan(const char **cursor, size_t size_count, struct hk_graded_count *number, bool *wrong,
                   struct hk_arena *arena);

/* A bracket of nothing but numbers: behind a number that is not graded, they are too many or too few for the sizes. */
bool hk_numbers_follow(const char *text);

/* A word, letter case ignored, not in the middle of another: the bytes behind it, else NULL. Blanks in it stand for
 * one. */
const char *hk_word_at(const char *text, const char *word);
/* The same anywhere in the text: where it stands. */
const char *hk_word_find(const char *text, const char *word);
/* One of the words, the list closed by NULL: the bytes behind the first that stands there. */
const char *hk_word_of(const char *text, const char *const *words);

#endif
