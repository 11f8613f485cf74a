/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Text from users' files and arguments, made safe for its destination; the only file for all streams and formats. It
 * hides control characters (Unicode's Cc: U+0000-001F, U+007F-009F), marks that change the direction of writing (UAX
 * 9), line and paragraph separators, noncharacters, byte order marks, tags, and invalid UTF-8 (Unicode 15, chapters 3,
 * 5 and 23).
 */
#ifndef SAFE_H
#define SAFE_H

#include <stddef.h>
#include <stdio.h>

/*
 * Returns the length in bytes of the character at `words` and sets its terminal columns, -1 if it must not be shown.
 * length > 0.
 */
size_t safe_character(const char *words, size_t length, int *columns);

/* Replaces unsafe characters in place: line ends and tabs by a space, all others by a question mark. */
void safe_words(char *words);

/*
 * Writes a CSV cell, quoted where necessary; puts an apostrophe before text that a spreadsheet would run as a formula.
 */
void safe_csv(FILE *out, const char *words);

/*
 * Returns a word for a shell, quoted where necessary: 'my hat'. Bytes that must not be shown become $'\302\233'
 * (POSIX.1-2024, 2.2.4). Owner: the caller (free). Returns NULL when memory runs out.
 */
char *safe_shell(const char *word);

/*
 * Writes a piece of JSON and escapes unsafe characters, which can occur only in strings. Returns 0, or -1 on failure.
 */
int safe_json(const char *bytes, size_t size, FILE *out);

#endif
