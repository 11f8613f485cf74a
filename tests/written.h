/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Rows of written patterns for the suites: reading of a row from a string, comparison of two trees, the cases of
 * rows/rows.csv.
 */
#ifndef TEST_WRITTEN_H
#define TEST_WRITTEN_H

#include "pattern/follow.h"
#include "pattern/row.h"
#include "input/table.h"

#define WRITTEN_SIZES 9
#define WRITTEN_ROWS 40

/* The meanings of words in a row for a number of sizes; the yarns are A, B, MC and CC. */
struct hk_row_words written_words(const struct hk_catalogue *catalogue, enum hk_terms terms, size_t sizes);

/* Reads a row. Copies the text into the arena. */
bool written_read(const char *text, const struct hk_row_words *words, struct hk_row *row, struct hk_arena *arena,
                  struct hk_diags *diags);

/* Returns whether two rows have the same tree: everything that affects the work, without positions in the text. */
bool written_same(const struct hk_row *a, const struct hk_row *b, size_t sizes);

/* A case of rows.csv. Its texts live as long as the corpus. */
struct written_case {
    const char *id, *start;
    bool rounds, plain; /* plain: rows without labels, notes or references to other rows */
    bool may_be_refused;
    size_t sizes, row_count;
    struct hk_row_words words;
    const char *rows[WRITTEN_ROWS], *counts[WRITTEN_ROWS], *places[WRITTEN_ROWS], *left[WRITTEN_ROWS],
        *wrong[WRITTEN_ROWS]; /* or "-" */
};

struct written_corpus {
    struct hk_table *table;
    struct hk_arena arena;
    struct written_case *cases;
    size_t count;
};

/* Reads the corpus; fails the test if the file cannot be read. */
struct written_corpus written_corpus_read(const struct hk_catalogue *catalogue);
void written_corpus_free(struct written_corpus *corpus);

/* Returns the value of one size of "32 (38, 44)", or the only value, in `text`. */
void written_value(const char *cell, size_t size, char *text, size_t room);

/* Starts a case from its initial edge. Returns false when memory runs out. */
bool written_start(struct hk_follow *follow, const struct written_case *of, size_t size);

#endif
