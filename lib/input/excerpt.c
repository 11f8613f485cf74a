/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "input/excerpt.h"

#include "base/text.h"

bool hk_excerpt_make(struct hk_cell cell, struct hk_excerpt *excerpt, struct hk_arena *arena)
{
    size_t *origin = NULL;
    const char *text = hk_text_is_plain(cell.text) ? cell.text : hk_text_plain(arena, cell.text, &origin);
    if (!text)
        return false;
    *excerpt = (struct hk_excerpt){.text = text, .origin = origin, .cell = cell};
    return true;
}

bool hk_excerpt_part(const struct hk_excerpt *whole, size_t start, size_t length, struct hk_excerpt *part,
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

struct hk_place hk_excerpt_place(const struct hk_excerpt *excerpt, const char *at)
{
    size_t byte = (size_t)(at - excerpt->text), offset = excerpt->origin ? excerpt->origin[byte] : excerpt->start + byte;
    if (excerpt->cell.table)
        return hk_cell_place(excerpt->cell, offset);
    struct hk_place place = excerpt->at;
    place.column += hk_text_characters(excerpt->cell.text, offset);
    return place;
}

enum hk_decimal hk_excerpt_decimal(const struct hk_excerpt *excerpt)
{
    return excerpt->cell.table ? hk_table_decimal(excerpt->cell.table) : HK_DECIMAL_POINT;
}
