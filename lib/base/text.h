/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Text as people paste and mistype it: UTF-8, pasted characters, comparison of names, the nearest known name. */
#ifndef HK_TEXT_H
#define HK_TEXT_H

#include "base/arena.h"

/* Independent of the locale. Every byte above ASCII counts as a letter. */
static inline bool hk_is_digit(char c)
{
    return c >= '0' && c <= '9';
}

static inline bool hk_is_letter(char c)
{
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (unsigned char)c >= 0x80;
}

/* Returns the lower-case form of an ASCII letter; any other character unchanged. */
static inline char hk_lower(char c)
{
    return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

/* Returns the upper-case form of an ASCII letter; any other character unchanged. */
static inline char hk_upper(char c)
{
    return c >= 'a' && c <= 'z' ? (char)(c - 'a' + 'A') : c;
}

/* Returns the number of digits at the start of the text. */
static inline size_t hk_digit_run(const char *text)
{
    size_t length = 0;
    while (hk_is_digit(text[length]))
        length++;
    return length;
}

/* Returns the text after leading blanks; in plain text they are spaces. */
static inline const char *hk_blanks_skipped(const char *text)
{
    while (*text == ' ')
        text++;
    return text;
}

/*
 * hk_text_same returns true when two names are equal. hk_text_compare returns a value below, at or above 0. One rule
 * applies to all names: Unicode's compatibility normalisation and case folding (NFKC, utf8proc); all dashes are equal,
 * all quotes of a kind are equal, a half sign equals " 1/2"; runs of blanks are one blank, outer blanks and invisible
 * characters are dropped. The locale does not matter.
 */
bool hk_text_same(const char *a, const char *b);
int hk_text_compare(const char *a, const char *b);
uint64_t hk_text_hash(const char *text);                              /* equal for equal names */
size_t hk_text_characters(const char *text, size_t bytes);            /* code points in the first `bytes` bytes */
size_t hk_text_put(char *out, uint32_t code); /* as UTF-8, at most 4 bytes; returns their number */
bool hk_text_valid_utf8(const char *text, size_t bytes, size_t *bad); /* *bad: offset of the first wrong byte */

bool hk_text_starts_whole(const char *text, const char *start);
/* The same, for the first `length` bytes of `start`. */
bool hk_text_starts_part(const char *text, const char *start, size_t length);

/*
 * Returns true when `text` starts with `start`, ignoring letter case. First compares the first letters without the case
 * bit, since lists are long.
 */
static inline bool hk_text_starts(const char *text, const char *start)
{
    return !*start || (((*text ^ *start) & ~0x20) == 0 && hk_text_starts_whole(text, start));
}

/*
 * Returns a text for parsing, not for names, with pasted characters simplified: no-break and thin blanks become a
 * blank, curly quotes and primes ' and ", dashes and the minus sign -, the multiplication sign x, full-width forms and
 * one-sign units ASCII, vulgar fractions "1/2" with a blank next to a digit. Outer blanks are trimmed, runs of blanks
 * become one, invisible characters are dropped. *origin (unless NULL) receives, for each byte of the result and its
 * final zero, the index of its source byte in `text`, so that a message can point into the cell. NULL when out of
 * memory.
 */
char *hk_text_plain(struct hk_arena *arena, const char *text, size_t **origin);
bool hk_text_is_plain(const char *text); /* true when hk_text_plain would change nothing; true of most cells */
/*
 * Returns a name for display: as typed, on one line, without outer blanks and with single inner ones. NULL when out of
 * memory.
 */
char *hk_text_shown(struct hk_arena *arena, const char *text);

/*
 * Returns the index of the name nearest to `word` by Damerau-Levenshtein distance in characters, ignoring letter case.
 * The distance must be at most a third of the longer word's length (at least 1), and the words must have something in
 * common; the first of equals is chosen. Otherwise it returns the first name that begins with all words of `word`, or
 * that `word` begins with; SIZE_MAX if there is none. name(context, i) returns name i of `count`.
 */
size_t hk_text_nearest(const char *word, size_t count, const char *(*name)(const void *context, size_t i),
                       const void *context);

#endif
