/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "input/span.h"

#include "base/text.h"

bool hk_span_make(struct hk_cell cell, struct hk_span *span, struct hk_arena *arena)
{
    size_t *origin = NULL;
    const char *text = hk_text_is_plain(cell.text) ? cell.text : hk_text_plain(arena, cell.text, &origin);
    if (!text)
        return false;
    *span = (struct hk_span){.text = text, .origin = origin, .cell = cell};
    return true;
}

bool hk_span_part(const struct hk_span *whole, size_t start, size_t length, struct hk_span *part,
                  struct hk_arena *arena)
{
    while (length > 0 && whole->text[start] == ' ') {
        start++;
        length--;
    }
    while (length > 0 && whole->text[start + length - 1] == ' ')
        length--;
    const char *text = hk_arena_text(arena, whole->text + start, length);
    if (!text)
        return false;
    *part = *whole;
    part->text = text;
    part->origin = whole->origin ? whole->origin + start : NULL;
    part->start += start;
    return true;
}

struct hk_place hk_span_place(const struct hk_span *span, const char *at)
{
    size_t byte = (size_t)(at - span->text), offset = span->origin ? span->origin[byte] : span->start + byte;
    if (span->cell.table)
        return hk_cell_place(span->cell, offset);
    struct hk_place place = span->at;
    place.column += hk_text_characters(span->cell.text, offset);
    return place;
}

enum hk_decimal hk_span_decimal(const struct hk_span *span)
{
    return span->cell.table ? hk_table_decimal(span->cell.table) : HK_DECIMAL_POINT;
}
