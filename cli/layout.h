/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Text for people: paragraphs wrapped by words, aligned tables that fit the width. Everything is written to a stream in memory; a
 * failure on the way is kept in `failed`, which is checked once, at the end.
 */
#ifndef TEXT_H
#define TEXT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

#if defined __GNUC__
#define TEXT_PRINTF(fmt_at, args_at) __attribute__((format(printf, fmt_at, args_at)))
#else
#define TEXT_PRINTF(fmt_at, args_at)
#endif

struct text {
    FILE *stream; /* borrowed */
    size_t width; /* columns of the terminal */
    bool colour;
    bool failed; /* out of memory, or the stream failed */
};

/* Width: the option's if not 0, else COLUMNS, else the terminal's, else 80. Colour: on a terminal, never with NO_COLOR.
 */
struct text text_to(FILE *stream, int64_t width_option);

/* An empty line. */
void text_gap(struct text *text);
/* A bold line on a terminal. */
void text_heading(struct text *text, const char *format, ...) TEXT_PRINTF(2, 3);
/* One line, however long it is. */
void text_line(struct text *text, const char *format, ...) TEXT_PRINTF(2, 3);
/* Of words of our own: as it is, line ends and all. */
void text_plain(struct text *text, const char *format, ...) TEXT_PRINTF(2, 3);
/* Words, wrapped. */
void text_paragraph(struct text *text, const char *format, ...) TEXT_PRINTF(2, 3);
/* "  - words", wrapped behind the dash; "    - words". */
void text_item(struct text *text, const char *format, ...) TEXT_PRINTF(2, 3);
void text_subitem(struct text *text, const char *format, ...) TEXT_PRINTF(2, 3);

/* Owner: the caller (free). NULL when out of memory. */
char *text_format(const char *format, ...) TEXT_PRINTF(1, 2);

/* Adds to words that malloc made, or starts them where they are NULL. Out of memory: false, and all of them are gone.
 */
bool text_append(char **words, const char *format, ...) TEXT_PRINTF(2, 3);

enum text_column {
    TEXT_LEFT = 0,
    TEXT_RIGHT = 1,
    TEXT_WRAP = 2, /* may be narrowed, its words wrapped */
    TEXT_KEY = 4,  /* stands again in each block where a table is too wide and is cut into blocks of columns */
};

struct text_table;

/* NULL when out of memory; every call below takes NULL. */
struct text_table *text_table(struct text *text);
void text_table_column(struct text_table *table, int flags, const char *format, ...) TEXT_PRINTF(3, 4);
/* Cells go in row by row, as many to a row as there are columns. */
void text_table_cell(struct text_table *table, const char *format, ...) TEXT_PRINTF(2, 3);
/* Prints and frees it. */
void text_table_print(struct text_table *table);

#endif
