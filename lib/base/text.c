/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Text as people paste and mistype it. UTF-8 follows RFC 3629: shortest forms only, no surrogates, up to U+10FFFF.
 * Properties of characters come from utf8proc.
 */
#include "base/text.h"

#include <string.h>
#include <utf8proc.h>

static bool is_blank(char c)
{
    return c == ' ' || (c >= '\t' && c <= '\r');
}

/* ---- UTF-8 --------------------------------------------------------------------------------------------------------- */

static bool continues(unsigned char byte)
{
    return (byte & 0xC0) == 0x80;
}

/*
 * Decodes the character at `bytes`, of which `left` (at least 1) may be read. Returns its length in bytes, or 0 if it
 * is malformed.
 */
static size_t character(const char *bytes, size_t left, uint32_t *code)
{
    utf8proc_int32_t found;
    utf8proc_ssize_t length = utf8proc_iterate((const utf8proc_uint8_t *)bytes, (utf8proc_ssize_t)left, &found);
    if (length <= 0)
        return 0;
    *code = (uint32_t)found;
    return (size_t)length;
}

/*
 * Returns a number of ASCII bytes from `text` on, a multiple of the word size. Files are mostly ASCII, so this is the
 * fast path.
 */
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

size_t hk_text_put(char *out, uint32_t code)
{
    return (size_t)utf8proc_encode_char((utf8proc_int32_t)code, (utf8proc_uint8_t *)out);
}

size_t hk_text_characters(const char *text, size_t bytes)
{
    size_t count = 0;
    for (size_t i = 0; i < bytes; i++)
        count += !continues((unsigned char)text[i]);
    return count;
}

/* ---- Characters ---------------------------------------------------------------------------------------------------- */

static bool blank_code(uint32_t code)
{
    if (code < 0x80)
        return is_blank((char)code);
    utf8proc_category_t category = utf8proc_category((utf8proc_int32_t)code);
    return code == 0x85 || category == UTF8PROC_CATEGORY_ZS || category == UTF8PROC_CATEGORY_ZL ||
           category == UTF8PROC_CATEGORY_ZP;
}

/* Returns the ASCII character that users mean by `code`, or 0: signs that Unicode does not map to it. */
static char plain_sign(uint32_t code)
{
    if ((code >= 0x2018 && code <= 0x201B) || code == 0x2032 || code == 0x2035 || code == 0x02B9 || code == 0x00B4)
        return '\'';
    if ((code >= 0x201C && code <= 0x201F) || code == 0x2033 || code == 0x2036 || code == 0x02BA)
        return '"';
    if (code == 0x00D7 || code == 0x2715 || code == 0x2716 || code == 0x2A2F)
        return 'x';
    if (code == 0x2217 || code == 0x204E)
        return '*';
    return 0;
}

/* Room for the decomposition of any character: at most 18, of U+FDFA (Unicode, NormalizationTest.txt; from memory). */
#define DECOMPOSED_MOST 32
/* Compatibility decomposition; dashes, blanks and slashes are unified; invisible characters are dropped. */
#define DECOMPOSED (UTF8PROC_COMPAT | UTF8PROC_DECOMPOSE | UTF8PROC_LUMP | UTF8PROC_IGNORE)

static bool is_fraction(uint32_t code)
{
    return code >= 0x80 && utf8proc_get_property((utf8proc_int32_t)code)->decomp_type == UTF8PROC_DECOMP_TYPE_FRACTION;
}

/*
 * Writes the ASCII equivalent of `code`, a character above ASCII. Returns its length, or SIZE_MAX if there is none and
 * the character stays. Superscript and subscript digits stay, since 5 squared is not 52, and so do an ellipsis and
 * ligatures.
 */
static size_t plain_text(uint32_t code, char text[DECOMPOSED_MOST])
{
    text[0] = plain_sign(code);
    if (text[0])
        return 1;
    int type = utf8proc_get_property((utf8proc_int32_t)code)->decomp_type;
    if (type == UTF8PROC_DECOMP_TYPE_SUPER || type == UTF8PROC_DECOMP_TYPE_SUB || type == UTF8PROC_DECOMP_TYPE_COMPAT)
        return SIZE_MAX;
    utf8proc_int32_t codes[DECOMPOSED_MOST];
    int boundary = 0;
    utf8proc_ssize_t count =
        utf8proc_decompose_char((utf8proc_int32_t)code, codes, DECOMPOSED_MOST, DECOMPOSED, &boundary);
    for (utf8proc_ssize_t i = 0; i < count; i++) {
        if (codes[i] >= 0x80)
            return SIZE_MAX;
        text[i] = (char)codes[i];
    }
    return (size_t)count;
}

/* ---- Comparing ----------------------------------------------------------------------------------------------------- */

/*
 * An iterator over the normalised form of a name: NFKD with case folding (Unicode Standard Annex #15; NFKC gives the
 * same equality), with signs simplified as in hk_text_plain. It needs no memory, so a name may have any length.
 */
struct folding {
    const char *at, *end;
    utf8proc_int32_t codes[128], last; /* codes: of a character and its marks; last: the code point returned last, -1
                                        * at first */
    size_t count, next;
    bool blank, fraction; /* a blank is pending; a fraction was returned last */
};

#define MARKS_MOST 24 /* on one letter; further marks are compared in the order written */

static struct folding folding_of(const char *text)
{
    return (struct folding){.at = text, .end = text + strlen(text), .last = -1};
}

static bool is_mark(const char *at, const char *end, size_t *length)
{
    uint32_t code;
    *length = *at & 0x80 ? character(at, (size_t)(end - at), &code) : 0;
    return *length > 0 && utf8proc_get_property((utf8proc_int32_t)code)->combining_class > 0;
}

/* Returns the length in bytes of the character at f->at, which has `length` bytes, with the marks on it. */
static size_t with_marks(const struct folding *f, size_t length)
{
    size_t mark;
    for (int marks = 0; marks < MARKS_MOST && f->at + length < f->end && is_mark(f->at + length, f->end, &mark); marks++)
        length += mark;
    return length;
}

/* Reads the next character and its marks into codes, which may stay empty. */
static void folding_read(struct folding *f)
{
    uint32_t code = (unsigned char)*f->at;
    size_t length = code < 0x80 ? 1 : character(f->at, (size_t)(f->end - f->at), &code);
    bool well_formed = length > 0, fraction = well_formed && is_fraction(code);
    char sign = well_formed && code >= 0x80 ? plain_sign(code) : '\0';
    f->next = 0;
    f->count = 1;
    if (!well_formed) {
        f->codes[0] = 0x110000 + *(const unsigned char *)f->at; /* a malformed byte: above all code points */
        length = 1;
    } else if (blank_code(code)) {
        f->count = 0;
        f->blank |= f->last >= 0;
    } else if (sign) {
        f->codes[0] = (unsigned char)sign;
    } else if (code < 0x80 && (f->at + 1 == f->end || !(f->at[1] & 0x80))) {
        f->codes[0] = (unsigned char)hk_lower(*f->at);
    } else {
        length = with_marks(f, length);
        utf8proc_ssize_t count =
            utf8proc_decompose((const utf8proc_uint8_t *)f->at, (utf8proc_ssize_t)length, f->codes,
                               sizeof f->codes / sizeof f->codes[0], DECOMPOSED | UTF8PROC_CASEFOLD);
        f->count = count > 0 ? (size_t)count : 0;
    }
    f->at += length;
    if (f->count == 0)
        return;
    bool before = f->last >= '0' && f->last <= '9', behind = f->codes[0] >= '0' && f->codes[0] <= '9';
    f->blank |= (fraction && before) || (f->fraction && behind);
    f->fraction = fraction;
}

/* Returns the next code point, or -1 at the end. */
static utf8proc_int32_t folding_next(struct folding *f)
{
    while (f->next == f->count) {
        if (f->at == f->end)
            return -1;
        folding_read(f);
    }
    if (f->blank) {
        f->blank = false;
        return f->last = ' ';
    }
    return f->last = f->codes[f->next++];
}

static int compare_folded(const char *a, const char *b)
{
    struct folding x = folding_of(a), y = folding_of(b);
    for (;;) {
        utf8proc_int32_t p = folding_next(&x), q = folding_next(&y);
        if (p != q)
            return p < q ? -1 : 1;
        if (p < 0)
            return 0;
    }
}

/* Returns the next character of ASCII text in normalised form; 0 at the end, 0x80 for a byte that is not ASCII. */
static unsigned char ascii_next(const char **text)
{
    const char *at = *text;
    unsigned char c = (unsigned char)*at;
    if (is_blank(*at)) {
        while (is_blank(*at))
            at++;
        c = *at == '\0' ? '\0' : *at & 0x80 ? 0x80 : ' ';
        *text = at;
        return c;
    }
    *text = at + (c != '\0');
    return c & 0x80 ? 0x80 : (unsigned char)hk_lower((char)c);
}

/* With a fast path for ASCII: nearly all names are ASCII, and a file may have a hundred thousand. */
int hk_text_compare(const char *a, const char *b)
{
    const char *x = a, *y = b;
    while (is_blank(*x))
        x++;
    while (is_blank(*y))
        y++;
    for (;;) {
        unsigned char p = ascii_next(&x), q = ascii_next(&y);
        if (p == 0x80 || q == 0x80)
            return compare_folded(a, b);
        if (p != q)
            return p < q ? -1 : 1;
        if (p == '\0')
            return 0;
    }
}

bool hk_text_same(const char *a, const char *b)
{
    return hk_text_compare(a, b) == 0;
}

/* FNV-1a (Fowler, Noll, Vo) over code points. */
uint64_t hk_text_hash(const char *text)
{
    uint64_t hash = UINT64_C(0xcbf29ce484222325);
    struct folding folding = folding_of(text);
    for (utf8proc_int32_t code; (code = folding_next(&folding)) >= 0;)
        hash = (hash ^ (uint64_t)code) * UINT64_C(0x100000001b3);
    return hash;
}

bool hk_text_starts_whole(const char *text, const char *start)
{
    for (; *start; text++, start++) {
        if (hk_lower(*text) != hk_lower(*start))
            return false;
    }
    return true;
}

bool hk_text_starts_part(const char *text, const char *start, size_t length)
{
    size_t same = 0;
    while (same < length && hk_lower(text[same]) == hk_lower(start[same]))
        same++;
    return same == length;
}

/* ---- Plain text ---------------------------------------------------------------------------------------------------- */

/* The growing result; text NULL: only the length is computed. */
struct plain {
    char *text;
    size_t *origin;
    size_t length;
    char last;     /* the last byte written, 0 at the start */
    bool blank;    /* a blank is pending before the next byte */
    bool fraction; /* a fraction was written last */
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

/* Writes a text, with a blank between a fraction and a digit on either side of it. */
static void put_text(struct plain *plain, const char *text, size_t length, size_t at, bool fraction)
{
    if (fraction && hk_is_digit(plain->last))
        want_blank(plain, at);
    for (size_t i = 0; i < length; i++)
        put(plain, text[i], at);
    plain->fraction |= fraction;
}

static void make_plain(struct plain *plain, const char *text, size_t bytes)
{
    for (size_t at = 0, length; at < bytes; at += length) {
        uint32_t code = (unsigned char)text[at];
        char ascii[DECOMPOSED_MOST] = "";
        length = code < 0x80 ? 1 : character(text + at, bytes - at, &code);
        bool well_formed = length > 0;
        size_t written = well_formed && code >= 0x80 ? plain_text(code, ascii) : SIZE_MAX;
        if (!well_formed)
            length = 1; /* keep the byte */
        if (well_formed && blank_code(code))
            want_blank(plain, at);
        else if (written != SIZE_MAX)
            put_text(plain, ascii, written, at, is_fraction(code));
        else
            for (size_t i = 0; i < length; i++)
                put(plain, text[at + i], at + i);
    }
}

/* Inner blanks must be single. */
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

char *hk_text_shown(struct hk_arena *arena, const char *text)
{
    size_t bytes = strlen(text), out = 0;
    char *shown = hk_arena_text(arena, text, bytes);
    bool blank = false;
    for (size_t at = 0, length; shown && at < bytes; at += length) {
        uint32_t code = (unsigned char)text[at];
        length = code < 0x80 ? 1 : character(text + at, bytes - at, &code);
        bool well_formed = length > 0;
        length += !well_formed;
        if (well_formed && blank_code(code)) {
            blank = out > 0;
            continue;
        }
        if (blank)
            shown[out++] = ' ';
        blank = false;
        memcpy(shown + out, text + at, length);
        out += length;
    }
    if (shown)
        shown[out] = '\0';
    return shown;
}

/* ---- The nearest name ---------------------------------------------------------------------------------------------- */

/* Longer words are not mistyped names. */
#define WORD_MOST ((size_t)64)

struct word {
    utf8proc_int32_t codes[WORD_MOST]; /* folded */
    size_t length;
};

/* Returns false when the text is longer than WORD_MOST. */
static bool word_read(struct word *word, const char *text)
{
    struct folding folding = folding_of(text);
    word->length = 0;
    for (utf8proc_int32_t code; (code = folding_next(&folding)) >= 0;) {
        if (word->length == WORD_MOST)
            return false;
        word->codes[word->length++] = code;
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
 * Damerau-Levenshtein distance in its restricted form (optimal string alignment): the least number of insertions,
 * deletions, substitutions and transpositions, with no substring edited twice. Keeps rows i-2, i-1 and i of the table.
 * A distance above `most` may be returned as any number above it.
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
        if (least > most + 1) /* a transposition may still use the row above */
            return most + 1;
        size_t *spare = before;
        before = above;
        above = row;
        row = spare;
    }
    return above[b->length];
}

/* Returns true when the longer word begins with the words of the shorter: "Mole" for "Mole Wool". */
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
