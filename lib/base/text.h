/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Words as people paste and mistype them: UTF-8, what paste brings in, comparing names, the nearest known name. */
#ifndef HK_TEXT_H
#define HK_TEXT_H

#include "base/arena.h"

/* Whatever the locale. Letters of any script: every byte above ASCII counts as one. */
static inline bool hk_is_digit(char c)
{
    return c >= '0' && c <= '9';
}

static inline bool hk_is_letter(char c)
{
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (unsigned char)c >= 0x80;
}

/* The small letter of an ASCII one. */
static inline char hk_lower(char c)
{
    return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

/* The capital of a small ASCII letter. */
static inline char hk_upper(char c)
{
    return c >= 'a' && c <= 'z' ? (char)(c - 'a' + 'A') : c;
}

/* How many digits stand there. */
static inline size_t hk_digit_run(const char *text)
{
    size_t length = 0;
    while (hk_is_digit(text[length]))
        length++;
    return length;
}

/* What stands behind blanks; in plain text they are spaces. */
static inline const char *hk_blanks_skipped(const char *text)
{
    while (*text == ' ')
        text++;
    return text;
}

/*
 * Whether two names are one, by one rule for all names: Unicode's compatibility normalisation and case folding (NFKC, utf8proc);
 * all dashes one, all quotes of a kind one, a half sign as good as " 1/2"; blanks run together, outer ones and what
 * cannot be seen dropped. So nothing but the name decides, no locale. As an order: below, at or above 0.
 */
bool hk_text_same(const char *a, const char *b);
int hk_text_compare(const char *a, const char *b);
uint64_t hk_text_hash(const char *text); /* the same of names that are one */
size_t hk_text_characters(const char *text, size_t bytes);            /* code points in the first `bytes` bytes */
size_t hk_text_put(char *out, uint32_t code);                         /* as UTF-8, at most 4 bytes; how many */
bool hk_text_valid_utf8(const char *text, size_t bytes, size_t *bad); /* *bad: offset of the first wrong byte */

bool hk_text_starts_whole(const char *text, const char *start);
/* The same of the first `length` bytes of `start`. */
bool hk_text_starts_part(const char *text, const char *start, size_t length);

/* Letter case ignored. Most texts differ in their first letter (but for the bit of its case), and lists are long. */
static inline bool hk_text_starts(const char *text, const char *start)
{
    return !*start || (((*text ^ *start) & ~0x20) == 0 && hk_text_starts_whole(text, start));
}

/*
 * For reading what stands in a text, not for names: with what paste brings in made plain. No-break and thin blanks to a blank,
 * curly quotes and primes to ' and ", dashes and the minus sign to -, the multiplication sign to x, full-width forms and units
 * in one sign to ASCII, vulgar fractions to "1/2" with a blank where a digit stands next to them, outer blanks trimmed,
 * runs of blanks to one, what cannot be seen dropped. *origin (if asked for) gives for each byte of the result, its
 * closing zero too, the byte of `text` it came from, so that a message can point into the cell. NULL when the arena is
 * lost.
 */
char *hk_text_plain(struct hk_arena *arena, const char *text, size_t **origin);
bool hk_text_is_plain(const char *text); /* ASCII that hk_text_plain would give back as it is: most cells are */
/* A name to show: as it was typed, but on one line, with outer blanks off and runs of them one. NULL when the arena is
 * out of memory. */
char *hk_text_shown(struct hk_arena *arena, const char *text);

/*
 * The index of the name nearest to `word` by Damerau-Levenshtein distance in characters, letter case folded, if that is
 * at most a third of the longer word's length (at least 1) and they have something in common, the first of equals; else
 * the first that begins with all the words asked for, or they with it; SIZE_MAX if none does. name(context, i) gives the
 * i-th of `count`.
 */
size_t hk_text_nearest(const char *word, size_t count, const char *(*name)(const void *context, size_t i),
                       const void *context);

#endif
