/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * pattern.txt as lines that know their place: what belongs together and was wrapped is one line again; headings are
 * told from text; the marks of Markdown and of lists are taken off. What a line means is written.h's.
 */
#ifndef HK_LINES_H
#define HK_LINES_H

#include "pattern/row.h"

#define HK_PATTERN_BYTES ((size_t)1 << 20)
#define HK_PATTERN_LINES_MOST ((size_t)20000)

struct hk_pattern_line {
    struct hk_row_text text;
    size_t number; /* in the file, from 1: of its first line */
    int level;     /* of a heading: 1 for #, 2 for ##, ...; a heading without such a mark: 0 */
    bool heading;
    bool apart; /* an empty line, a heading or nothing stands before it */
};

struct hk_pattern_lines {
    const char *file;  /* for places: "pattern.txt" */
    const char *bytes; /* the file */
    size_t *starts;    /* byte at which each line of the file starts */
    size_t start_count;
    struct hk_pattern_line *lines;
    size_t count;
};

/*
 * Lines of a text that is valid UTF-8. `lines` is what places are found by, so it must stay where it is. `words` may be
 * NULL (a text to take settings from). False where the arena is out of memory.
 */
bool hk_pattern_lines_read(const char *bytes, const char *file, const struct hk_row_words *words,
                           struct hk_pattern_lines *lines, struct hk_arena *arena);

/* Where a byte of the file stands. */
struct hk_place hk_pattern_place(const struct hk_pattern_lines *lines, size_t byte);
/* Where a byte of a line's text, or of a part of it, stands. */
struct hk_place hk_row_text_place(const struct hk_row_text *text, size_t at);
/* `length` bytes of the text from `from` on, outer blanks taken off. False where the arena is out of memory. */
bool hk_row_text_part(const struct hk_row_text *text, size_t from, size_t length, struct hk_row_text *part,
                      struct hk_arena *arena);

#endif
