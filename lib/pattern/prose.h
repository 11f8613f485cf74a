/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What sentences say besides rows: definitions, conventions, how often a piece is made; work whose yarn no row counts.
 */
#ifndef HK_PROSE_H
#define HK_PROSE_H

#include "pattern/follow.h"
#include "pattern/label.h"

/* "ch 2 does not count as a st", "turning ch counts as dc": sets bits of *conventions. False where it says nothing of
 * the kind. */
bool hk_convention_read(const char *text, struct hk_conventions *conventions);

/*
 * "shell = 5 dc in same st", "V-st (dc, ch 1, dc)", "picot: ch 3, sl st in 3rd ch from hook". The name, another one in
 * brackets behind it or NULL (both of the arena), the byte at which its steps start and their length. False where the
 * text is none; whether the steps can be read is not looked at.
 */
bool hk_definition_find(const char *text, const char **name, const char **also, size_t *at, size_t *length,
                        struct hk_arena *arena);

/*
 * "make 2", "(make 2 (3))", "x 2", "both alike": how often. The bytes it takes; 0: nothing of the kind stands at the
 * text's start. *wrong: it has not one number for each size.
 */
size_t hk_times_read(const char *text, size_t size_count, struct hk_graded_count *times, bool *wrong,
                     struct hk_arena *arena);

/* Headings that name no piece: SIZES, GAUGE, NOTES, ... *gauge: rows below it make a swatch. */
bool hk_heading_silent(const char *text, bool *gauge);

/* "sew", "seam", "tassel", "pick up", ...: the work that a sentence speaks of. */
bool hk_speaks_of_work(const char *text);

#endif
