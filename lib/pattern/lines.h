/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * pattern.txt as lines with places: wrapped lines are joined, headings are recognised, and the marks of Markdown and
 * lists are removed. written.h interprets the lines.
 */
#ifndef HK_LINES_H
#define HK_LINES_H

#include "pattern/row.h"

#define HK_PATTERN_BYTES ((size_t)1 << 20)
#define HK_PATTERN_LINES_MOST ((size_t)20000)

struct hk_pattern_line {
    struct hk_row_text text;
    size_t number; /* number in the file, from 1, of its first line */
    int level;     /* of a heading: 1 for #, 2 for ##, ...; 0 for a heading without # */
    bool heading;
    bool apart; /* after an empty line, a heading or the start of the file */
};

/* A line "ok: untaken" of the file, which belongs to none of its lines: it accepts findings about the line below it. */
struct hk_pattern_ok {
    struct hk_row_text text;
    size_t codes;       /* the byte of the text after "ok:" */
    size_t number;      /* of the line of the file */
    size_t first, last; /* the lines of the file that the line below fills; its own number at the end of the file */
};

struct hk_pattern_lines {
    const char *file;  /* for places: "pattern.txt" */
    const char *bytes; /* the file */
    size_t *starts;    /* byte at which each line of the file starts */
    size_t start_count;
    struct hk_pattern_line *lines;
    size_t count;
    struct hk_pattern_ok *oks;
    size_t ok_count;
};

/*
 * Reads the lines of a text that is valid UTF-8. Places refer to *lines, so it must not move. `words` may be NULL (for
 * settings). Returns false when out of memory.
 */
bool hk_pattern_lines_read(const char *bytes, const char *file, const struct hk_row_words *words,
                           struct hk_pattern_lines *lines, struct hk_arena *arena);

/* Returns the place of a byte of the file. */
struct hk_place hk_pattern_place(const struct hk_pattern_lines *lines, size_t byte);
/* Returns the place of a byte of a line's text, or of a part of it. */
struct hk_place hk_row_text_place(const struct hk_row_text *text, size_t at);
/* Sets *part to `length` bytes of the text from `from` on, without outer blanks. Returns false when out of memory. */
bool hk_row_text_part(const struct hk_row_text *text, size_t from, size_t length, struct hk_row_text *part,
                      struct hk_arena *arena);

#endif
