/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Sentences other than rows: definitions, conventions, the number of copies of a piece; work whose yarn no row counts.
 */
#ifndef HK_PROSE_H
#define HK_PROSE_H

#include "pattern/follow.h"
#include "pattern/label.h"

/*
 * "ch 2 does not count as a st", "turning ch counts as dc": sets bits of *conventions. Returns false if the text has no
 * convention.
 */
bool hk_convention_read(const char *text, struct hk_conventions *conventions);

/*
 * "shell = 5 dc in same st", "V-st (dc, ch 1, dc)", "picot: ch 3, sl st in 3rd ch from hook". Finds a definition: its
 * name, another name in brackets after it or NULL (both owned by the arena), the byte at which its steps start and
 * their length. Returns false if the text is not a definition; the steps are not checked.
 */
bool hk_definition_find(const char *text, const char **name, const char **also, size_t *at, size_t *length,
                        struct hk_arena *arena);

/*
 * Reads the number of copies: "make 2", "(make 2 (3))", "x 2", "both alike". Returns the length in bytes; 0 if the text
 * does not begin with it. *wrong: it does not have one number for each size.
 */
size_t hk_times_read(const char *text, size_t size_count, struct hk_graded_count *times, bool *wrong,
                     struct hk_arena *arena);

/* Returns true for headings that name no piece: SIZES, GAUGE, NOTES, and so on. *gauge: rows below it make a swatch. */
bool hk_heading_silent(const char *text, bool *gauge);

/*
 * Returns the length of "44 rows", "2 (3, 4) more times" at the start of the text; 0 if it is none. hk_rows_named_in:
 * true if one stands anywhere in the text, which is not on gauge.
 */
size_t hk_rows_named(const char *text);
bool hk_rows_named_in(const char *text);

/* "work", "repeat", "do this": true for words that tell to work; "there are 4 rows": true for words that state. */
bool hk_instructs(const char *text);
bool hk_states(const char *text);

/* "sew", "seam", "tassel", "pick up", ...: returns true when a sentence mentions work. */
bool hk_speaks_of_work(const char *text);

#endif
