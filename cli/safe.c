/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "safe.h"

#include <stdbool.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <wchar.h>

#define NO_CODE UINT32_MAX

static const struct {
    uint32_t first, last;
} hidden[] = {
    {0x0, 0x1F},       {0x7F, 0x9F},                                            /* controls */
    {0x61C, 0x61C},    {0x200E, 0x200F}, {0x202A, 0x202E}, {0x2066, 0x2069},    /* direction */
    {0x2028, 0x2029},  {0xFEFF, 0xFEFF}, {0xFFF9, 0xFFFB}, {0xE0000, 0xE007F},  /* separators, marks, tags */
    {0xD800, 0xDFFF},  {0xFDD0, 0xFDEF},                                        /* no characters */
};

static bool is_hidden(uint32_t code)
{
    for (size_t i = 0; i < sizeof hidden / sizeof hidden[0]; i++)
        if (code >= hidden[i].first && code <= hidden[i].last)
            return true;
    return (code & 0xFFFE) == 0xFFFE || code > 0x10FFFF;
}

/* Returns the code point at `words` and sets its length in bytes; NO_CODE and one byte for invalid UTF-8. */
static size_t decode(const char *words, size_t length, uint32_t *code)
{
    static const uint32_t least[] = {0, 0, 0x80, 0x800, 0x10000};
    const unsigned char lead = (unsigned char)*words;
    const size_t bytes = lead < 0x80 ? 1 : lead < 0xC2 ? 0 : lead < 0xE0 ? 2 : lead < 0xF0 ? 3 : lead < 0xF5 ? 4 : 0;
    *code = bytes == 1 ? lead : lead & (0x7FU >> bytes);
    size_t i = 1;
    for (; i < bytes && i < length && ((unsigned char)words[i] & 0xC0) == 0x80; i++)
        *code = *code << 6 | ((unsigned char)words[i] & 0x3F);
    if (i == bytes && *code >= least[bytes] && (*code < 0xD800 || *code > 0xDFFF))
        return bytes;
    *code = NO_CODE;
    return 1;
}

size_t safe_character(const char *words, size_t length, int *columns)
{
    uint32_t code;
    if (*words >= ' ' && *words <= '~') { /* most characters are ASCII and need no locale */
        *columns = 1;
        return 1;
    }
    const size_t bytes = decode(words, length, &code);
    *columns = is_hidden(code) ? -1 : wcwidth((wchar_t)code);
    return bytes;
}

void safe_words(char *words)
{
    const size_t length = strlen(words);
    size_t end = 0;
    for (size_t i = 0; i < length;) {
        int columns;
        const size_t bytes = safe_character(words + i, length - i, &columns);
        if (columns < 0) {
            words[end++] = words[i] == '\n' || words[i] == '\t' || words[i] == '\r' ? ' ' : '?';
        } else {
            memmove(words + end, words + i, bytes);
            end += bytes;
        }
        i += bytes;
    }
    words[end] = '\0';
}

/* Returns whether a spreadsheet would read the text as a formula; full-width characters count too. */
static bool runs(const char *words)
{
    static const char *const starts[] = {"=", "+", "-", "@", "\xEF\xBC\x9D", "\xEF\xBC\x8B", "\xEF\xBC\x8D", "\xEF\xBC\xA0"};
    for (size_t i = 0; i < sizeof starts / sizeof starts[0]; i++)
        if (strncmp(words, starts[i], strlen(starts[i])) == 0)
            return true;
    return false;
}

void safe_csv(FILE *out, const char *words)
{
    const size_t length = strlen(words);
    const bool quoted = strpbrk(words, ",;\"\r\n\t") != NULL;
    if (quoted)
        fputc('"', out);
    if (runs(words))
        fputc('\'', out);
    for (size_t i = 0; i < length;) {
        int columns;
        const size_t bytes = safe_character(words + i, length - i, &columns);
        if (columns < 0)
            fputc(words[i] == '\n' || words[i] == '\t' || words[i] == '\r' ? ' ' : '?', out);
        else
            fwrite(words + i, 1, bytes, out);
        if (words[i] == '"')
            fputc('"', out);
        i += bytes;
    }
    if (quoted)
        fputc('"', out);
}

static bool is_plain_in_shell(const char *word)
{
    static const char plain[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789_./,:@%+-";
    return *word && word[strspn(word, plain)] == '\0';
}

static bool can_be_shown(const char *word)
{
    const size_t length = strlen(word);
    for (size_t i = 0; i < length;) {
        int columns;
        i += safe_character(word + i, length - i, &columns);
        if (columns < 0)
            return false;
    }
    return true;
}

char *safe_shell(const char *word)
{
    const size_t length = strlen(word);
    const bool plain = is_plain_in_shell(word), shown = can_be_shown(word);
    char *quoted = malloc(4 * length + 4);
    char *end = quoted;
    if (!quoted)
        return NULL;
    end += sprintf(end, "%s", plain ? "" : shown ? "'" : "$'");
    for (size_t i = 0; i < length;) {
        int columns;
        const size_t bytes = safe_character(word + i, length - i, &columns);
        if (columns < 0)
            for (size_t b = 0; b < bytes; b++)
                end += sprintf(end, "\\%03o", (unsigned)(unsigned char)word[i + b]);
        else if (word[i] == '\'' && shown)
            end += sprintf(end, "'\\''");
        else if (!shown && (word[i] == '\'' || word[i] == '\\'))
            end += sprintf(end, "\\%c", word[i]);
        else
            end += sprintf(end, "%.*s", (int)bytes, word + i);
        i += bytes;
    }
    sprintf(end, "%s", plain ? "" : "'");
    return quoted;
}

int safe_json(const char *bytes, size_t size, FILE *out)
{
    size_t written = 0; /* all bytes before it have been written */
    for (size_t i = 0; i < size;) {
        uint32_t code = (unsigned char)bytes[i];
        const size_t length = code < 0x7F ? 1 : decode(bytes + i, size - i, &code);
        if (code >= 0x7F && is_hidden(code)) {
            if (fwrite(bytes + written, 1, i - written, out) != i - written)
                return -1;
            const bool paired = code > 0xFFFF && code != NO_CODE;
            const uint32_t low = code - 0x10000;
            if (code == NO_CODE)
                fputs("\\ufffd", out);
            else if (paired)
                fprintf(out, "\\u%04x\\u%04x", (unsigned)(0xD800 + (low >> 10)), (unsigned)(0xDC00 + (low & 0x3FF)));
            else
                fprintf(out, "\\u%04x", (unsigned)code);
            written = i + length;
        }
        i += length;
    }
    return fwrite(bytes + written, 1, size - written, out) == size - written ? 0 : -1;
}
