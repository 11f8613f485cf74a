/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "convert/parts.h"

#include "base/text.h"

#include <string.h>

/* Each with its plural. */
static const char *const put_up_words[][2] = {
    {"ball", "balls"}, {"skein", "skeins"}, {"hank", "hanks"}, {"cake", "cakes"},
    {"cone", "cones"}, {"spool", "spools"}, {"reel", "reels"},
};

const char *hk_put_up_word(const char *text)
{
    for (size_t i = 0; i < sizeof put_up_words / sizeof put_up_words[0]; i++)
        if (hk_text_same(text, put_up_words[i][0]) || hk_text_same(text, put_up_words[i][1]))
            return put_up_words[i][0];
    return NULL;
}

/* Returns the next word of a plain text, and advances *cursor; NULL at the end, or when out of memory. */
static const char *token_next(const char **cursor, struct hk_arena *arena)
{
    const char *start = hk_blanks_skipped(*cursor);
    size_t length = strcspn(start, " ");
    *cursor = start + length;
    if (length == 0)
        return NULL;
    while (length > 1 && strchr(",;?", start[length - 1]))
        length--;
    return hk_arena_text(arena, start, length);
}

/* Whether the text has the mark of a label: = or /, but not the one of a fraction. */
static bool has_mark(const char *text)
{
    for (const char *c = text; *c; c++)
        if (*c == '=' || (*c == '/' && (c == text || !hk_is_digit(c[-1]))))
            return true;
    return false;
}

/* Writes a label "50 g (120 m)" as "50 g = 120 m"; other texts stay. NULL when out of memory. */
static const char *without_brackets(const char *text, struct hk_arena *arena)
{
    const char *open = strchr(text, '('), *close = open ? strchr(open, ')') : NULL;
    if (!close || !hk_is_digit(open[1]) || has_mark(text))
        return text;
    return hk_arena_print(arena, "%.*s= %.*s%s", (int)(open - text), text, (int)(close - open - 1), open + 1, close + 1);
}

static bool comes_apart(const char *text, struct hk_arena *arena)
{
    static const char *const first[] = {"how", "for"};
    const char *cursor = text, *token = token_next(&cursor, arena);
    for (size_t i = 0; token && i < sizeof first / sizeof first[0]; i++)
        if (hk_text_same(token, first[i]))
            return true;
    for (; token; token = token_next(&cursor, arena))
        if (hk_put_up_word(token) || hk_text_same(token, "of"))
            return true;
    return false;
}

static void part_add(struct hk_convert_parts *parts, size_t *capacity, struct hk_convert_part part, struct hk_arena *arena)
{
    struct hk_convert_part *larger = hk_arena_grow(arena, parts->parts, parts->count, capacity, sizeof *larger);
    if (!larger)
        return;
    parts->parts = larger;
    larger[parts->count++] = part;
}

bool hk_convert_parts_make(const char *const *words, size_t count, bool (*is_name)(const void *context, const char *text),
                   const void *context, struct hk_convert_parts *parts, struct hk_arena *arena)
{
    size_t capacity = 0;
    *parts = (struct hk_convert_parts){0};
    for (size_t i = 0; i < count && !arena->out_of_memory; i++) {
        const char *text = hk_text_plain(arena, words[i], NULL), *token;
        if (text && !is_name(context, text))
            text = without_brackets(text, arena);
        if (!text)
            return false;
        const char *cursor = text;
        if (is_name(context, text) || !comes_apart(text, arena)) {
            part_add(parts, &capacity, (struct hk_convert_part){text, i}, arena);
            continue;
        }
        while ((token = token_next(&cursor, arena)))
            part_add(parts, &capacity, (struct hk_convert_part){token, i}, arena);
    }
    return !arena->out_of_memory;
}
