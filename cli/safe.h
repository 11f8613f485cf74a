/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What comes from users' files and words, made safe for where it goes: the one place for all streams and formats. Not shown are
 * control characters (Unicode's Cc: U+0000-001F, U+007F-009F), marks that turn the direction of writing (UAX 9), line and
 * paragraph separators, noncharacters, byte order marks, tags, and what is no UTF-8 (Unicode 15, chapters 3, 5 and 23).
 */
#ifndef SAFE_H
#define SAFE_H

#include <stddef.h>
#include <stdio.h>

/* The character at `words`: its bytes and the terminal columns it takes, -1 where it must not be shown. length > 0. */
size_t safe_character(const char *words, size_t length, int *columns);

/* Replaces, in place, what must not be shown: line ends and tabs by a blank, all else by a question mark. */
void safe_words(char *words);

/* A cell of CSV, in quotes where it must be; one that a spreadsheet would run as a formula behind an apostrophe. */
void safe_csv(FILE *out, const char *words);

/*
 * A word for a shell, in quotes where it needs them: 'my hat'. Bytes that must not be shown as $'\302\233' (POSIX.1-2024, 2.2.4).
 * Owner: the caller (free). NULL when out of memory.
 */
char *safe_shell(const char *word);

/* Writes a piece of JSON with what must not be shown escaped: it can only stand in strings. 0, or -1 where that fails. */
int safe_json(const char *bytes, size_t size, FILE *out);

#endif
