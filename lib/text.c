/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Words as people paste and mistype them. UTF-8 by RFC 3629: shortest forms only, no surrogates, up to U+10FFFF.
 */
#include "text.h"

#include <string.h>

static bool is_blank(char c)
{
    return c == ' ' || (c >= '\t' && c <= '\r');
}

/* ---- UTF-8 --------------------------------------------------------------------------------------------------------- */

static bool continues(unsigned char byte)
{
    return (byte & 0xC0) == 0x80;
}

/* The character at `bytes`, of which `left` (at least 1) are there: its length in bytes, or 0 if none is well formed. */
static size_t character(const char *bytes, size_t left, uint32_t *code)
{
    const unsigned char *b = (const unsigned char *)bytes;
    static const uint32_t least[] = {0, 0, 0x80, 0x800, 0x10000};
    if (b[0] < 0x80) {
        *code = b[0];
        return 1;
    }
    size_t length = b[0] >= 0xF0 ? 4 : b[0] >= 0xE0 ? 3 : 2;
    if (b[0] < 0xC2 || b[0] > 0xF4 || left < length)
        return 0;
    uint32_t value = b[0] & (0x7Fu >> length);
    for (size_t i = 1; i < length; i++) {
        if (!continues(b[i]))
            return 0;
        value = value << 6 | (b[i] & 0x3Fu);
    }
    if (value < least[length] || value > 0x10FFFF || (value >= 0xD800 && value <= 0xDFFF))
        return 0;
    *code = value;
    return length;
}

/* Bytes from `text` on that are ASCII, counted in whole words: files are mostly ASCII, and large ones must be quick. */
static size_t ascii_words(const char *text, size_t bytes)
{
    size_t at = 0;
    for (uint64_t word; bytes - at >= sizeof word; at += sizeof word) {
        memcpy(&word, text + at, sizeof word);
        if (word & UINT64_C(0x8080808080808080))
            break;
    }
    return at;
}

bool hk_text_valid_utf8(const char *text, size_t bytes, size_t *bad)
{
    for (size_t at = 0; at < bytes;) {
        at += ascii_words(text + at, bytes - at);
        uint32_t code;
        size_t length = at < bytes ? character(text + at, bytes - at, &code) : 0;
        if (length == 0 && at < bytes) {
            *bad = at;
            return false;
        }
        at += length;
    }
    return true;
}

size_t hk_text_characters(const char *text, size_t bytes)
{
    size_t count = 0;
    for (size_t i = 0; i < bytes; i++)
        count += !continues((unsigned char)text[i]);
    return count;
}

/* ---- Comparing ----------------------------------------------------------------------------------------------------- */

static size_t trimmed(const char **text)
{
    while (is_blank(**text))
        ++*text;
    size_t length = strlen(*text);
    while (length > 0 && is_blank((*text)[length - 1]))
        length--;
    return length;
}

int hk_text_compare(const char *a, const char *b)
{
    size_t a_length = trimmed(&a), b_length = trimmed(&b);
    for (size_t i = 0; i < a_length && i < b_length; i++) {
        int difference = (unsigned char)hk_lower(a[i]) - (unsigned char)hk_lower(b[i]);
        if (difference != 0)
            return difference;
    }
    return (a_length > b_length) - (a_length < b_length);
}

bool hk_text_same(const char *a, const char *b)
{
    return hk_text_compare(a, b) == 0;
}

bool hk_text_starts_whole(const char *text, const char *start)
{
    for (; *start; text++, start++) {
        if (hk_lower(*text) != hk_lower(*start))
            return false;
    }
    return true;
}

/* ---- Plain text ---------------------------------------------------------------------------------------------------- */

struct fraction {
    uint32_t code;
    const char *text;
};

/* Unicode's vulgar fractions: Latin-1 Supplement and Number Forms. */
static const struct fraction fractions[] = {
    {0x00BC, "1/4"}, {0x00BD, "1/2"}, {0x00BE, "3/4"}, {0x2150, "1/7"}, {0x2151, "1/9"}, {0x2152, "1/10"}, {0x2153, "1/3"},
    {0x2154, "2/3"}, {0x2155, "1/5"}, {0x2156, "2/5"}, {0x2157, "3/5"}, {0x2158, "4/5"}, {0x2159, "1/6"},  {0x215A, "5/6"},
    {0x215B, "1/8"}, {0x215C, "3/8"}, {0x215D, "5/8"}, {0x215E, "7/8"},
};

static const char *fraction_text(uint32_t code)
{
    for (size_t i = 0; i < sizeof fractions / sizeof fractions[0]; i++) {
        if (fractions[i].code == code)
            return fractions[i].text;
    }
    return NULL;
}

static bool blank_code(uint32_t code)
{
    return (code < 0x80 && is_blank((char)code)) || code == 0x85 || code == 0xA0 || code == 0x1680 ||
           (code >= 0x2000 && code <= 0x200A) || code == 0x2028 || code == 0x2029 || code == 0x202F || code == 0x205F ||
           code == 0x3000;
}

/* Soft hyphen, zero-width characters, marks of writing direction, variation selectors, byte order mark. */
static bool unseen_code(uint32_t code)
{
    return code == 0xAD || (code >= 0x200B && code <= 0x200F) || (code >= 0x202A && code <= 0x202E) ||
           (code >= 0x2060 && code <= 0x2069) || (code >= 0xFE00 && code <= 0xFE0F) || code == 0xFEFF;
}

/* The one ASCII character that stands for `code`, or 0. */
static char plain_code(uint32_t code)
{
    if (code < 0x80)
        return (char)code;
    if (code >= 0xFF01 && code <= 0xFF5E) /* full-width forms */
        return (char)(code - 0xFF01 + '!');
    if ((code >= 0x2010 && code <= 0x2015) || code == 0x2212 || code == 0xFE58 || code == 0xFE63)
        return '-';
    if ((code >= 0x2018 && code <= 0x201B) || code == 0x2032 || code == 0x2035 || code == 0x02B9 || code == 0x00B4)
        return '\'';
    if ((code >= 0x201C && code <= 0x201F) || code == 0x2033 || code == 0x2036 || code == 0x02BA)
        return '"';
    if (code == 0x00D7 || code == 0x2715 || code == 0x2716 || code == 0x2A2F)
        return 'x';
    if (code == 0x2044 || code == 0x2215)
        return '/';
    if (code == 0x2217 || code == 0x204E)
        return '*';
    return 0;
}

/* The result as it grows; text NULL: only its length is wanted. */
struct plain {
    char *text;
    size_t *origin;
    size_t length;
    char last;        /* byte put last, 0 at the start */
    bool blank;       /* a blank is due before the next byte */
    bool fraction;    /* a fraction was put last */
    size_t blank_at;
};

static void put_byte(struct plain *plain, char byte, size_t at)
{
    if (plain->text)
        plain->text[plain->length] = byte;
    if (plain->origin)
        plain->origin[plain->length] = at;
    plain->length++;
    plain->last = byte;
}

static void want_blank(struct plain *plain, size_t at)
{
    if (plain->blank || plain->length == 0)
        return;
    plain->blank = true;
    plain->blank_at = at;
}

static void put(struct plain *plain, char byte, size_t at)
{
    if (plain->fraction && hk_is_digit(byte))
        want_blank(plain, at);
    if (plain->blank)
        put_byte(plain, ' ', plain->blank_at);
    plain->blank = plain->fraction = false;
    put_byte(plain, byte, at);
}

static void put_fraction(struct plain *plain, const char *text, size_t at)
{
    if (hk_is_digit(plain->last))
        want_blank(plain, at);
    for (; *text; text++)
        put(plain, *text, at);
    plain->fraction = true;
}

static void make_plain(struct plain *plain, const char *text, size_t bytes)
{
    for (size_t at = 0, length; at < bytes; at += length) {
        uint32_t code = 0;
        length = character(text + at, bytes - at, &code);
        const char *fraction = length == 0 ? NULL : fraction_text(code);
        char byte = length == 0 ? text[at] : plain_code(code);
        if (length == 0)
            length = 1; /* no character: the byte stays as it is */
        if (blank_code(code))
            want_blank(plain, at);
        else if (fraction)
            put_fraction(plain, fraction, at);
        else if (byte)
            put(plain, byte, at);
        else if (!unseen_code(code)) {
            for (size_t i = 0; i < length; i++)
                put(plain, text[at + i], at + i);
        }
    }
}

/* With single blanks inside. */
bool hk_text_is_plain(const char *text)
{
    for (const char *c = text; *c; c++) {
        bool blank = *c == ' ' && c > text && c[1] && c[1] != ' ';
        if (!blank && (*c <= ' ' || (unsigned char)*c >= 0x80))
            return false;
    }
    return true;
}

static void copy_plain(struct plain *plain, const char *text, size_t bytes)
{
    memcpy(plain->text, text, bytes);
    for (size_t i = 0; i < bytes && plain->origin; i++)
        plain->origin[i] = i;
    plain->length = bytes;
}

char *hk_text_plain(struct hk_arena *arena, const char *text, size_t **origin)
{
    size_t bytes = strlen(text);
    bool as_it_is = hk_text_is_plain(text);
    struct plain measure = {.length = bytes};
    if (!as_it_is) {
        measure.length = 0;
        make_plain(&measure, text, bytes);
    }
    struct plain plain = {.text = hk_arena_take(arena, measure.length + 1, 1)};
    if (origin)
        plain.origin = hk_arena_take(arena, measure.length + 1, sizeof *plain.origin);
    if (!plain.text || (origin && !plain.origin))
        return NULL;
    if (as_it_is)
        copy_plain(&plain, text, bytes);
    else
        make_plain(&plain, text, bytes);
    if (origin) {
        plain.origin[plain.length] = bytes;
        *origin = plain.origin;
    }
    return plain.text;
}

/* ---- The nearest name ---------------------------------------------------------------------------------------------- */

/* Words beyond this are no names that anyone mistyped. */
#define WORD_MOST ((size_t)64)

struct word {
    uint32_t codes[WORD_MOST];
    size_t length;
};

/* Capitals of ASCII and Latin-1 become small. */
static uint32_t folded(uint32_t code)
{
    bool capital = (code >= 'A' && code <= 'Z') || (code >= 0xC0 && code <= 0xDE && code != 0xD7);
    return capital ? code + 0x20 : code;
}

/* False where the text is longer than a word may be. */
static bool word_read(struct word *word, const char *text)
{
    size_t bytes = trimmed(&text);
    word->length = 0;
    for (size_t at = 0, length; at < bytes; at += length) {
        if (word->length == WORD_MOST)
            return false;
        uint32_t code = (unsigned char)text[at];
        length = character(text + at, bytes - at, &code);
        if (length == 0)
            length = 1;
        word->codes[word->length++] = folded(code);
    }
    return true;
}

static size_t smaller(size_t a, size_t b)
{
    return a < b ? a : b;
}

static size_t larger(size_t a, size_t b)
{
    return a > b ? a : b;
}

/*
 * Damerau-Levenshtein distance in its restricted form (optimal string alignment): least number of insertions,
 * deletions, substitutions and swaps of neighbours, no part edited twice. Rows i-2, i-1 and i of the table are kept.
 * Above `most` some number above it.
 */
static size_t distance(const struct word *a, const struct word *b, size_t most)
{
    size_t rows[3][WORD_MOST + 1];
    size_t *before = rows[0], *above = rows[1], *row = rows[2];
    for (size_t j = 0; j <= b->length; j++)
        above[j] = j;
    for (size_t i = 1; i <= a->length; i++) {
        size_t least = row[0] = i;
        for (size_t j = 1; j <= b->length; j++) {
            bool same = a->codes[i - 1] == b->codes[j - 1];
            row[j] = smaller(above[j - 1] + !same, smaller(above[j], row[j - 1]) + 1);
            if (i > 1 && j > 1 && a->codes[i - 1] == b->codes[j - 2] && a->codes[i - 2] == b->codes[j - 1])
                row[j] = smaller(row[j], before[j - 2] + 1);
            least = smaller(least, row[j]);
        }
        if (least > most + 1) /* a swap may still come from one row up */
            return most + 1;
        size_t *spare = before;
        before = above;
        above = row;
        row = spare;
    }
    return above[b->length];
}

/* Its first words are the words asked for, or the other way round: "Mole" for "Mole Wool". */
static bool begins(const struct word *shorter, const struct word *longer)
{
    return shorter->length > 1 && shorter->length < longer->length && longer->codes[shorter->length] == ' ' &&
           memcmp(shorter->codes, longer->codes, shorter->length * sizeof *shorter->codes) == 0;
}

size_t hk_text_nearest(const char *word, size_t count, const char *(*name)(const void *context, size_t i),
                       const void *context)
{
    struct word asked, known;
    size_t nearest = SIZE_MAX, best = SIZE_MAX, begun = SIZE_MAX;
    if (!word_read(&asked, word))
        return SIZE_MAX;
    for (size_t i = 0; i < count && best > 0; i++) {
        if (!word_read(&known, name(context, i)))
            continue;
        size_t longer = larger(asked.length, known.length);
        size_t most = larger(longer / 3, 1);
        size_t far = distance(&asked, &known, most);
        if (far <= most && far < longer && far < best) {
            best = far;
            nearest = i;
        }
        if (begun == SIZE_MAX && (begins(&asked, &known) || begins(&known, &asked)))
            begun = i;
    }
    return nearest != SIZE_MAX ? nearest : begun;
}

static const char *name_in_array(const void *context, size_t i)
{
    const char *const *names = context;
    return names[i];
}

size_t hk_nearest_name(const char *word, const char *const *names, size_t count)
{
    return hk_text_nearest(word, count, name_in_array, names);
}
