/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Reprinting of a written pattern for one size, in the other terms, or both: the bytes of its file with edits. Only
 * unambiguous text is edited: a list with one number or name for each size becomes that of the size; a stitch becomes
 * the same stitch in the other terms in parsed rows, and in prose if its word is unambiguous. Ambiguous text is left
 * unchanged and listed.
 */
#ifndef HK_REPRINT_H
#define HK_REPRINT_H

#include "pattern/proof.h"

struct hk_reprint_wanted {
    size_t size;         /* SIZE_MAX: all */
    enum hk_terms terms; /* terms of the printed text */
    bool unwrap;         /* joined lines are printed on one line */
    const char *const *names; /* of yarns, colours and roles: never changed */
    size_t name_count;
};

/* A replacement of bytes of the file. */
struct hk_reprint_edit {
    size_t from, end;
    const char *text;
    bool quiet; /* only blanks change, no word or number */
};

/* Text that is left unchanged. */
struct hk_reprint_left {
    struct hk_place place;
    const char *text, *hint;
};

/* The class of a byte of the file. */
enum hk_reprint_class { HK_CLASS_PROSE, HK_CLASS_ROW, HK_CLASS_REFUSED, HK_CLASS_GONE };

struct hk_reprinting {
    const struct hk_written *written;
    const struct hk_proof *proof;
    const struct hk_reprint_wanted *wanted;
    struct hk_arena *arena; /* memory of the result */
    unsigned char *classes; /* [byte of the file] */
    bool *dropped;          /* [entry]: the size does not have it */
    struct hk_reprint_edit *edits; /* ascending at the end; without overlaps */
    size_t edit_count, edit_capacity;
    struct hk_reprint_left *left;
    size_t left_count, left_capacity;
};

/* Finds all edits. The caller sets the first four members of *r. Returns false when out of memory. */
bool hk_reprint_find(struct hk_reprinting *r);
/* Returns the file with the edits. NULL when out of memory. */
const char *hk_reprint_apply(const struct hk_reprinting *r);

/*
 * Returns a text as Markdown: headings get marks, rows and consecutive lines become items, and marks within text are
 * escaped. It parses as the same pattern. `lines` are the lines of the text; a text with marked headings is Markdown
 * already and is returned unchanged. NULL when out of memory.
 */
const char *hk_reprint_markdown(const struct hk_pattern_lines *lines, struct hk_arena *arena);

/* ---- Internal ---- */

/* Replaces bytes `at` to `end` of a line's plain text, and removes earlier edits of them. */
void hk_reprint_edit_text(struct hk_reprinting *r, const struct hk_row_text *text, size_t at, size_t end,
                          const char *with);
/* Makes the letter at a byte a capital; other bytes stay unchanged. */
void hk_reprint_capital(struct hk_reprinting *r, const struct hk_row_text *text, size_t at);
/* Returns true when the last edit is such a capital at this byte. */
bool hk_reprint_capital_at(const struct hk_reprinting *r, const struct hk_row_text *text, size_t at);
void hk_reprint_leave(struct hk_reprinting *r, struct hk_place place, const char *text, const char *hint);

static inline enum hk_reprint_class hk_reprint_class_at(const struct hk_reprinting *r, const struct hk_row_text *text,
                                                        size_t at)
{
    return (enum hk_reprint_class)r->classes[text->origin[at]];
}

/* Returns the length of the name of a yarn, colour or role at a byte of the text; 0 if there is none. */
size_t hk_reprint_name_at(const struct hk_reprinting *r, const char *text, size_t at);

/* reprint_sizes.c: numbers and names of a line, one for each size. */
void hk_reprint_sizes(struct hk_reprinting *r, const struct hk_row_text *text);
/* reprint_terms.c: stitches of a line in the other terms. */
void hk_reprint_terms(struct hk_reprinting *r, const struct hk_row_text *text);

#endif
