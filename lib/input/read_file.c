/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Reads the formats that spreadsheet programs save by default: UTF-16 and UTF-8 with a byte order mark, and single-byte
 * Western encodings. Their own binary formats are recognised by the first bytes and refused. A table decodes
 * Windows-1252 instead of iconv, so a browser build needs no other library.
 */
#include "input/read_file.h"

#include "base/diags.h"
#include "base/text.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

#define BLOCK_BYTES ((size_t)8 << 10) /* most files are smaller */

/* A buffer that is being filled or decoded; bytes is allocated by malloc with at least size + 1 bytes. */
struct buffer {
    char *bytes;
    size_t size, capacity;
};

static struct hk_place whole_file(const char *name)
{
    return (struct hk_place){name, 0, 0};
}

/* ---- Reading ----------------------------------------------------------------------------------------------------- */

static bool buffer_grow(struct buffer *buffer)
{
    size_t capacity = buffer->capacity ? 2 * buffer->capacity : BLOCK_BYTES;
    char *larger = realloc(buffer->bytes, capacity + 1);
    if (!larger)
        return false;
    buffer->bytes = larger;
    buffer->capacity = capacity;
    return true;
}

static void add_too_large(const char *name, size_t most_bytes, struct hk_diags *diags)
{
    hk_diags_add(diags, HK_CODE_FILE_TOO_LARGE, whole_file(name), "the file is larger than %zu MB", most_bytes >> 20);
    hk_diags_hint(diags, "a file of a project has some kB: is this the right one?");
}

/* Reads to the end of the file. Returns false with a finding or diags->out_of_memory. */
static bool read_all(struct hk_file *file, const char *name, size_t most_bytes, struct buffer *buffer,
                     struct hk_diags *diags)
{
    for (;;) {
        if (buffer->size == buffer->capacity && !buffer_grow(buffer)) {
            diags->out_of_memory = true;
            return false;
        }
        size_t room = buffer->capacity - buffer->size;
        const char *why = NULL;
        ptrdiff_t got = file->read(file->handle, buffer->bytes + buffer->size, room, &why);
        if (got < 0) {
            hk_diags_add(diags, HK_CODE_FILE_UNREADABLE, whole_file(name), "reading stopped: %s",
                         why ? why : "unknown cause");
            return false;
        }
        if (got == 0)
            return true;
        assert((size_t)got <= room);
        buffer->size += (size_t)got;
        if (buffer->size > most_bytes) {
            add_too_large(name, most_bytes, diags);
            return false;
        }
    }
}

/* ---- Text or binary ---------------------------------------------------------------------------------------------- */

struct signature {
    const char *bytes;
    size_t size;
    const char *what;
};

static const struct signature signatures[] = {
    {"PK\3\4", 4, "a spreadsheet program's own format (.xlsx or .ods)"},
    {"\xD0\xCF\x11\xE0", 4, "a spreadsheet program's own format (.xls)"},
    {"%PDF", 4, "a PDF document"},
    {"{\\rtf", 5, "a word processor's document (.rtf)"},
    {"<", 1, "HTML or XML"},
};

static const char *known_format(const struct buffer *buffer)
{
    for (size_t i = 0; i < sizeof signatures / sizeof signatures[0]; i++) {
        const struct signature *s = &signatures[i];
        if (buffer->size >= s->size && memcmp(buffer->bytes, s->bytes, s->size) == 0)
            return s->what;
    }
    if (buffer->size < 4)
        return NULL;
    const char *b = buffer->bytes; /* two ASCII letters in UTF-16 without a byte order mark */
    bool wide = (!b[0] && b[1] && !b[2] && b[3]) || (b[0] && !b[1] && b[2] && !b[3]);
    return wide ? "UTF-16 text without a byte order mark" : NULL;
}

/*
 * Returns true for a byte that does not occur in text: the C0 controls, except tab, line ends and the other breaks that
 * some programs leave in cells.
 */
static bool no_text_byte(unsigned char byte)
{
    return byte < '\t' || (byte > '\r' && byte < ' ');
}

/*
 * Returns the offset of the first byte that is not text, or `size`. It checks eight bytes at a time: one subtraction
 * shows whether any byte is below a blank.
 */
static size_t find_no_text(const char *bytes, size_t size)
{
    const uint64_t ones = UINT64_C(0x0101010101010101), highs = ones * 0x80;
    size_t at = 0;
    while (at < size) {
        uint64_t word = 0;
        if (size - at >= sizeof word) {
            memcpy(&word, bytes + at, sizeof word);
            if (((word - ones * ' ') & ~word & highs) == 0) {
                at += sizeof word;
                continue;
            }
        }
        for (size_t end = size - at < sizeof word ? size : at + sizeof word; at < end; at++) {
            if (no_text_byte((unsigned char)bytes[at]))
                return at;
        }
    }
    return size;
}

/* ---- Decoding ---------------------------------------------------------------------------------------------------- */

/* Returns the place of byte `at`. The bytes before `at` must be UTF-8. */
static struct hk_place byte_place(const char *name, const struct buffer *buffer, size_t at)
{
    size_t line = 1, start = 0;
    for (size_t i = 0; i < at; i++) {
        char c = buffer->bytes[i];
        if (c == '\n' || (c == '\r' && buffer->bytes[i + 1] != '\n')) {
            line++;
            start = i + 1;
        }
    }
    return (struct hk_place){name, line, hk_text_characters(buffer->bytes + start, at - start) + 1};
}

/* Returns false with a finding when the bytes are not text. */
static bool check_text(const char *name, const struct buffer *buffer, struct hk_diags *diags)
{
    const char *format = known_format(buffer);
    if (format) {
        hk_diags_add(diags, HK_CODE_FILE_FORMAT, whole_file(name), "this is %s, not CSV text", format);
        hk_diags_hint(diags, HK_SAVE_AS_CSV);
        return false;
    }
    size_t at = find_no_text(buffer->bytes, buffer->size);
    if (at == buffer->size)
        return true;
    size_t bad;
    bool utf8 = hk_text_valid_utf8(buffer->bytes, at, &bad);
    hk_diags_add(diags, HK_CODE_FILE_FORMAT, utf8 ? byte_place(name, buffer, at) : whole_file(name),
                 "this is not text: it has a byte %02X", (unsigned char)buffer->bytes[at]);
    hk_diags_hint(diags, HK_SAVE_AS_CSV);
    return false;
}

#define REPLACEMENT 0xFFFD /* the replacement character, for undecodable bytes */

/* Windows-1252, bytes 80 to 9F (Unicode's mapping table CP1252.TXT; a test asks iconv); the rest is Latin-1. 0: not
 * assigned. */
static const uint16_t western[32] = {
    0x20AC, 0,      0x201A, 0x0192, 0x201E, 0x2026, 0x2020, 0x2021, 0x02C6, 0x2030, 0x0160,
    0x2039, 0x0152, 0,      0x017D, 0,      0,      0x2018, 0x2019, 0x201C, 0x201D, 0x2022,
    0x2013, 0x2014, 0x02DC, 0x2122, 0x0161, 0x203A, 0x0153, 0,      0x017E, 0x0178,
};

/* Writes the character as UTF-8, at most 3 bytes. Returns its length. */
static size_t western_put(char *out, unsigned char byte)
{
    uint32_t code = byte;
    if (byte >= 0x80 && byte < 0xA0)
        code = western[byte - 0x80] ? western[byte - 0x80] : REPLACEMENT;
    return hk_text_put(out, code);
}

static bool decode_western(struct buffer *buffer)
{
    struct buffer decoded = {0};
    char three[3];
    for (size_t i = 0; i < buffer->size; i++)
        decoded.capacity += western_put(three, (unsigned char)buffer->bytes[i]);
    decoded.bytes = malloc(decoded.capacity + 1);
    if (!decoded.bytes)
        return false;
    for (size_t i = 0; i < buffer->size; i++)
        decoded.size += western_put(decoded.bytes + decoded.size, (unsigned char)buffer->bytes[i]);
    free(buffer->bytes);
    *buffer = decoded;
    return true;
}

/* Returns the 16-bit code unit at `at`. */
static uint32_t unit_at(const struct buffer *buffer, size_t at, bool big)
{
    const unsigned char *b = (const unsigned char *)buffer->bytes + at;
    return big ? (uint32_t)b[0] << 8 | b[1] : (uint32_t)b[1] << 8 | b[0];
}

/*
 * Decodes the character at *at by RFC 2781 and advances *at. Returns 0 and leaves *at unchanged when it is malformed:
 * half a surrogate pair, or a single byte at the end.
 */
static uint32_t wide_next(const struct buffer *buffer, size_t *at, bool big)
{
    size_t left = buffer->size - *at;
    uint32_t code = left >= 2 ? unit_at(buffer, *at, big) : 0;
    bool pair = code >= 0xD800 && code <= 0xDFFF;
    uint32_t low = pair && left >= 4 ? unit_at(buffer, *at + 2, big) : 0;
    if (pair && (code > 0xDBFF || low < 0xDC00 || low > 0xDFFF))
        return 0;
    *at += code == 0 ? 0 : pair ? 4 : 2;
    return pair ? 0x10000 + ((code - 0xD800) << 10) + (low - 0xDC00) : code;
}

/* Converts UTF-16 with a byte order mark to UTF-8. Returns false with a finding or diags->out_of_memory. */
static bool decode_wide(const char *name, struct buffer *buffer, struct hk_diags *diags)
{
    bool big = buffer->size >= 2 && memcmp(buffer->bytes, "\xFE\xFF", 2) == 0;
    if (!big && (buffer->size < 2 || memcmp(buffer->bytes, "\xFF\xFE", 2) != 0))
        return true;
    struct buffer decoded = {.bytes = calloc(buffer->size / 2 * 3 + 1, 1)}; /* two bytes become at most three */
    uint32_t code = decoded.bytes != NULL;
    for (size_t at = 2; code && at < buffer->size;) {
        code = wide_next(buffer, &at, big);
        decoded.size += code ? hk_text_put(decoded.bytes + decoded.size, code) : 0;
    }
    free(buffer->bytes);
    *buffer = decoded;
    diags->out_of_memory |= !decoded.bytes;
    if (!code && decoded.bytes) {
        buffer->bytes[buffer->size] = '\0';
        hk_diags_add(diags, HK_CODE_FILE_FORMAT, byte_place(name, buffer, buffer->size),
                     "this is UTF-16 text with a damage here");
        hk_diags_hint(diags, HK_SAVE_AS_CSV);
    }
    return code != 0;
}

static void strip_mark(struct buffer *buffer)
{
    if (buffer->size < 3 || memcmp(buffer->bytes, "\xEF\xBB\xBF", 3) != 0)
        return;
    buffer->size -= 3;
    memmove(buffer->bytes, buffer->bytes + 3, buffer->size);
}

/* Converts the bytes to UTF-8 text. Returns false with a finding or diags->out_of_memory. */
static bool decode(const char *name, struct buffer *buffer, struct hk_diags *diags)
{
    strip_mark(buffer);
    if (!decode_wide(name, buffer, diags))
        return false;
    if (buffer->size > 0 && buffer->bytes[buffer->size - 1] == 0x1A) /* Control-Z, the end-of-file mark of DOS */
        buffer->size--;
    buffer->bytes[buffer->size] = '\0';
    if (!check_text(name, buffer, diags))
        return false;
    size_t bad;
    if (hk_text_valid_utf8(buffer->bytes, buffer->size, &bad))
        return true;
    char character[4] = {0};
    western_put(character, (unsigned char)buffer->bytes[bad]);
    hk_diags_add(diags, HK_CODE_FILE_ENCODING, byte_place(name, buffer, bad),
                 "the file is not UTF-8: read as Windows-1252, which makes this sign \"%s\"", character);
    hk_diags_hint(diags, HK_SAVE_AS_CSV);
    diags->out_of_memory |= !decode_western(buffer);
    if (diags->out_of_memory)
        return false;
    buffer->bytes[buffer->size] = '\0';
    return true;
}

/* ---- The whole file ---------------------------------------------------------------------------------------------- */

enum hk_file_read hk_read_file(const struct hk_source *source, const char *name, size_t most_bytes,
                               struct hk_file_text *read, struct hk_diags *diags)
{
    struct hk_file file = {0};
    const char *why = NULL;
    switch (source->open(source->host, name, &file, &why)) {
    case HK_OPEN_ABSENT:
        return HK_FILE_READ_ABSENT;
    case HK_OPEN_REFUSED:
        hk_diags_add(diags, HK_CODE_FILE_UNREADABLE, whole_file(name), "cannot be opened: %s",
                     why ? why : "unknown cause");
        return HK_FILE_READ_FAILED;
    case HK_OPEN_NO_MEMORY:
        diags->out_of_memory = true;
        return HK_FILE_READ_FAILED;
    case HK_OPEN_DONE:
        break;
    }
    struct buffer buffer = {0};
    bool done = read_all(&file, name, most_bytes, &buffer, diags);
    file.close(file.handle);
    if (!done || !decode(name, &buffer, diags)) {
        free(buffer.bytes);
        return HK_FILE_READ_FAILED;
    }
    *read = (struct hk_file_text){buffer.bytes, buffer.size, file.identity};
    return HK_FILE_READ_WHOLE;
}
