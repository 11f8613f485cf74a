/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Text for people: paragraphs wrapped at words, and aligned tables that fit the width. All text goes to a stream in
 * memory; `failed` records a failure, and the caller checks it once, at the end.
 */
#ifndef TEXT_H
#define TEXT_H

#include <stdarg.h>
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
    size_t width; /* width of the terminal, in columns */
    bool colour;
    bool failed; /* out of memory, or a failed stream */
    /*
     * Set by the caller: returns wrapped words as they are to be read in a project, such as "the sheet yarns" for
     * "yarns.csv". Owner of what it returns: layout (free). Returns NULL when memory runs out. NULL: words stay.
     */
    char *(*reword)(const char *project, const char *words);
    const char *project; /* passed to reword; borrowed */
};

/*
 * Width: the option's if not 0, else COLUMNS, else the terminal's, else 80. Colour: on a terminal, unless NO_COLOR is
 * set.
 */
struct text text_to(FILE *stream, int64_t width_option);

/* Writes an empty line. */
void text_gap(struct text *text);
/* Writes a line, bold on a terminal. */
void text_heading(struct text *text, const char *format, ...) TEXT_PRINTF(2, 3);
/* Writes one line of any length, without wrapping. */
void text_line(struct text *text, const char *format, ...) TEXT_PRINTF(2, 3);
/* Writes trusted text unchanged, with its line ends. */
void text_plain(struct text *text, const char *format, ...) TEXT_PRINTF(2, 3);
/* Writes wrapped words. */
void text_paragraph(struct text *text, const char *format, ...) TEXT_PRINTF(2, 3);
/* Writes wrapped words; lines after the first begin with two blanks. */
void text_entry(struct text *text, const char *format, ...) TEXT_PRINTF(2, 3);
/* Writes "  - words", wrapped after the dash; the second function writes "    - words". */
void text_item(struct text *text, const char *format, ...) TEXT_PRINTF(2, 3);
void text_subitem(struct text *text, const char *format, ...) TEXT_PRINTF(2, 3);

/* Formats a text. Owner: the caller (free). Returns NULL when memory runs out. */
char *text_format(const char *format, ...) TEXT_PRINTF(1, 2);
/* Shortens words in place to that many columns, at least 4, with dots. */
void text_shorten(char *words, size_t columns);

char *text_format_list(const char *format, va_list list) TEXT_PRINTF(1, 0);

/*
 * Appends to allocated words, or starts them if they are NULL. Returns false, and frees all words, when memory runs
 * out.
 */
bool text_append(char **words, const char *format, ...) TEXT_PRINTF(2, 3);

enum text_column {
    TEXT_LEFT = 0,
    TEXT_RIGHT = 1,
    TEXT_WRAP = 2, /* the column may be narrowed and its words wrapped */
    TEXT_KEY = 4,  /* the column is repeated in each block when a wide table is cut into blocks of columns */
};

struct text_table;

/* Returns NULL when memory runs out; every function below accepts NULL. */
struct text_table *text_table(struct text *text);
void text_table_column(struct text_table *table, int flags, const char *format, ...) TEXT_PRINTF(3, 4);
/* Adds a cell. Cells are added row by row, one for each column. */
void text_table_cell(struct text_table *table, const char *format, ...) TEXT_PRINTF(2, 3);
/* The same; takes ownership of the words; NULL means that memory ran out. */
void text_table_words(struct text_table *table, char *words);
/* Prints and frees the table. */
void text_table_print(struct text_table *table);

#endif
