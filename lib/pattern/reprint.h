/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A written pattern printed again, for one size, in the other terms, or both: the bytes of its file with edits. Only
 * what is certain is edited: one number or name for each size becomes that of the size; a stitch becomes the same stitch
 * in the other terms where the row is read, and in prose where its word can mean nothing else. What is not certain is
 * left as it is, and listed.
 */
#ifndef HK_REPRINT_H
#define HK_REPRINT_H

#include "pattern/proof.h"

struct hk_reprint_wanted {
    size_t size;         /* SIZE_MAX: all */
    enum hk_terms terms; /* of what is printed */
    bool unwrap;         /* lines that belong together are put on one line */
    const char *const *names; /* of yarns, colours and roles: never changed */
    size_t name_count;
};

/* Bytes of the file that are replaced. */
struct hk_reprint_edit {
    size_t from, end;
    const char *text;
    bool quiet; /* of blanks only: no word or number is changed */
};

/* What is left as it is. */
struct hk_reprint_left {
    struct hk_place place;
    const char *text, *hint;
};

/* How a byte of the file is read. */
enum hk_reprint_class { HK_CLASS_PROSE, HK_CLASS_ROW, HK_CLASS_REFUSED, HK_CLASS_GONE };

struct hk_reprinting {
    const struct hk_written *written;
    const struct hk_proof *proof;
    const struct hk_reprint_wanted *wanted;
    struct hk_arena *arena; /* of all that is delivered */
    unsigned char *classes; /* [byte of the file] */
    bool *dropped;          /* [entry]: the size does without it */
    struct hk_reprint_edit *edits; /* ascending when all are found; none overlap */
    size_t edit_count, edit_capacity;
    struct hk_reprint_left *left;
    size_t left_count, left_capacity;
};

/* Finds all edits. *r starts with its first four members. False where the arena is out of memory. */
bool hk_reprint_find(struct hk_reprinting *r);
/* The file with the edits made. NULL where the arena is out of memory. */
const char *hk_reprint_apply(const struct hk_reprinting *r);

/*
 * A text as Markdown: headings get their marks, rows and lines that follow each other become items, and marks within
 * are escaped. It reads as the same pattern. `lines` are those of the text; one that has headings with marks is
 * Markdown already and comes back as it is. NULL where the arena is out of memory.
 */
const char *hk_reprint_markdown(const struct hk_pattern_lines *lines, struct hk_arena *arena);

/* ---- Inside ---- */

/* Replaces bytes `at` to `end` of a line's plain text; what they had been is gone. */
void hk_reprint_edit_text(struct hk_reprinting *r, const struct hk_row_text *text, size_t at, size_t end,
                          const char *with);
/* Writes the letter at a byte as a capital; another byte stays. */
void hk_reprint_capital(struct hk_reprinting *r, const struct hk_row_text *text, size_t at);
/* Whether the last edit is such a capital, at that byte. */
bool hk_reprint_capital_at(const struct hk_reprinting *r, const struct hk_row_text *text, size_t at);
void hk_reprint_leave(struct hk_reprinting *r, struct hk_place place, const char *text, const char *hint);

static inline enum hk_reprint_class hk_reprint_class_at(const struct hk_reprinting *r, const struct hk_row_text *text,
                                                        size_t at)
{
    return (enum hk_reprint_class)r->classes[text->origin[at]];
}

/* The bytes of a name of a yarn, colour or role that stands at a byte of the text; 0: none does. */
size_t hk_reprint_name_at(const struct hk_reprinting *r, const char *text, size_t at);

/* reprint_sizes.c: numbers and names of a line, one for each size. */
void hk_reprint_sizes(struct hk_reprinting *r, const struct hk_row_text *text);
/* reprint_terms.c: stitches of a line in the other terms. */
void hk_reprint_terms(struct hk_reprinting *r, const struct hk_row_text *text);

#endif
