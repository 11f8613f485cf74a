/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The label before the colon of a row: "Rnds 2-9 (2-10, 2-11)", "Row 1 (RS)", "Next 3 (4, 5) rows", "1st row", "Inc
 * rnd", "Row 2 and all WS rows"; the sizes of a line, "Medium and large only:"; graded integers and number words.
 */
#ifndef HK_LABEL_H
#define HK_LABEL_H

#include "pattern/row.h"

enum hk_side { HK_SIDE_OPEN, HK_SIDE_RIGHT, HK_SIDE_WRONG };

struct hk_label {
    size_t length;                      /* length in bytes up to the row's words */
    const char *name;                   /* as written, without the colon; owner: the arena */
    bool numbered;                      /* the label has `first` to `last` */
    struct hk_graded_count first, last; /* last < first: the size has no such row */
    struct hk_graded_count rows;        /* not numbered: the number of rows, 1 if not stated */
    bool rows_given;
    enum hk_side side;
    bool others;         /* "and all WS rows": also for the rows not written */
    const int64_t *list; /* "Rows 2, 4 and 6": the other rows with this label, ascending */
    size_t list_count;
    size_t wrong;               /* 1 + the byte of a graded number without one value for each size */
    const char *problem, *hint; /* an error and its remedy; NULL: no error. Static texts */
    size_t problem_at;          /* the byte of the error */
};

/* Return true when the text begins with a label that names a row, or with words that begin work. */
bool hk_label_begins(const char *text);
bool hk_line_begins_work(const char *text);

/* Reads a label. Returns false when there is none, or when out of memory. */
bool hk_label_read(const char *text, const struct hk_row_words *words, struct hk_label *label, struct hk_arena *arena);

/*
 * Reads the sizes of a line: "Medium and large only:", "Sizes S (M) - "; not "[Size L:". Returns its length in bytes, 0
 * if there is none. *sizes: by size; NULL: all. *unknown: it restricts sizes but cannot be read.
 */
size_t hk_sizes_read(const char *text, const struct hk_row_words *words, const bool **sizes, bool *unknown,
                     struct hk_arena *arena);

/*
 * Reads an integer at *cursor, or one for each size: "12", "12 (14, 16)", "12 [14, 16]", "- (2, 4)", "twice", "six",
 * and advances. Returns false and changes nothing if there is none. A bracket without one value for each remaining size
 * sets *wrong and is not read.
 */
bool hk_whole_scan(const char **cursor, size_t size_count, struct hk_graded_count *number, bool *wrong,
                   struct hk_arena *arena);

/*
 * Returns true for a bracket of only numbers; after a number that is not graded, it has too many or too few values for
 * the sizes.
 */
bool hk_numbers_follow(const char *text);

/* The marks between values in brackets; "/" too where no fraction can be meant. */
#define HK_VALUE_MARKS ",;:"

/* What a stated count may be of: stitches or chains. */
extern const char *const hk_count_units[];

/*
 * Returns the list that begins at a number, "62/66/74", "62, 66, 74 sts", as it has to be written: "62 (66, 74)"; *end:
 * its end. NULL if there is none, or out of memory. The text is owned by the arena.
 */
const char *hk_list_without_bracket(const char *text, const char **end, struct hk_arena *arena);

/* Returns the text after a number word, "thirty-six", "twice"; NULL if there is none. */
const char *hk_number_word_end(const char *text);

/* Returns the text after a whole word, ignoring letter case, or NULL. A blank in `word` matches any blanks. */
const char *hk_word_at(const char *text, const char *word);
/* Returns the first occurrence of a whole word in the text, or NULL. */
const char *hk_word_find(const char *text, const char *word);
/* Returns the text after the first matching word of a list that ends with NULL, or NULL. */
const char *hk_word_of(const char *text, const char *const *words);

#endif
