/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Converts plain text to CommonMark that parses as the same pattern. */
#include "base/text.h"
#include "pattern/reprint.h"

#include <string.h>

struct output {
    char *text;
    size_t length, capacity;
    struct hk_arena *arena;
};

static void put(struct output *out, const char *bytes, size_t count)
{
    if (out->length + count + 1 > out->capacity) {
        const size_t capacity = 2 * (out->length + count) + 256;
        char *grown = hk_arena_take(out->arena, capacity, 1);
        if (!grown)
            return;
        if (out->text)
            memcpy(grown, out->text, out->length);
        out->text = grown;
        out->capacity = capacity;
    }
    memcpy(out->text + out->length, bytes, count);
    out->length += count;
    out->text[out->length] = '\0';
}

static void put_text(struct output *out, const char *text)
{
    put(out, text, strlen(text));
}

/* Writes a character of the file unchanged. */
static void put_character(struct output *out, const char *at)
{
    size_t bytes = 1;
    while (((unsigned char)at[bytes] & 0xC0) == 0x80)
        bytes++;
    if (strchr("\r\n\t", *at))
        put_text(out, " ");
    else
        put(out, at, bytes);
}

/* Writes bytes of a line as in the file. Escapes marks of Markdown by a backslash. */
static void put_words(struct output *out, const struct hk_row_text *text, size_t at, size_t end, const char *bytes)
{
    for (size_t i = at; i < end; i++) {
        if ((i > at && text->origin[i] == text->origin[i - 1]) || ((unsigned char)bytes[text->origin[i]] & 0xC0) == 0x80)
            continue;
        if (strchr("*_\\", text->text[i]))
            put_text(out, "\\");
        put_character(out, bytes + text->origin[i]);
    }
}

/* Writes a line, with the label of a row in bold. */
static void put_line(struct output *out, const struct hk_row_text *text, const char *bytes)
{
    size_t colon = hk_label_begins(text->text) ? strcspn(text->text, ":*_") : 0;
    if (text->text[colon] != ':' || text->text[colon + 1] != ' ')
        colon = 0;
    if (colon > 0) {
        put_text(out, "**");
        put_words(out, text, 0, colon + 1, bytes);
        put_text(out, "**");
    }
    put_words(out, text, colon + (colon > 0), strlen(text->text), bytes);
    put_text(out, "\n");
}

static bool marked(const struct hk_pattern_lines *lines)
{
    for (size_t i = 0; i < lines->count; i++)
        if (lines->lines[i].level > 0)
            return true;
    return false;
}

const char *hk_reprint_markdown(const struct hk_pattern_lines *lines, struct hk_arena *arena)
{
    struct output out = {.arena = arena};
    if (marked(lines))
        return lines->bytes;
    for (size_t i = 0; i < lines->count && !arena->out_of_memory; i++) {
        const struct hk_pattern_line *line = &lines->lines[i], *next = i + 1 < lines->count ? line + 1 : NULL;
        const bool joined = !line->apart,
                   joins_next = next && !next->apart && !next->heading; /* the first line is separate */
        if (i > 0 && (line->apart || line->heading))
            put_text(&out, "\n");
        if (line->heading)
            put_text(&out, "## ");
        else if (joined || joins_next || hk_label_begins(line->text.text))
            put_text(&out, "- ");
        if (line->heading) {
            put_words(&out, &line->text, 0, strlen(line->text.text), lines->bytes);
            put_text(&out, "\n");
        } else {
            put_line(&out, &line->text, lines->bytes);
        }
    }
    return arena->out_of_memory ? NULL : out.text ? out.text : "";
}
