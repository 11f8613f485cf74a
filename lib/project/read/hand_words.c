/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "project/read/hand_words.h"

void hk_hand_wrong(struct hk_hand_reading *hand, struct hk_cell cell, const char *message, const char *hint)
{
    hk_diags_add(hand->reading->diags, HK_CODE_PROGRESS, hk_cell_place(cell, 0), "%s", message ? message : "");
    hk_diags_hint(hand->reading->diags, "%s", hint ? hint : "");
    hand->good = false;
}

struct hk_cell hk_hand_cell(const struct hk_hand_item *item)
{
    return hk_table_word(item->table, item->start, item->length);
}

struct hk_hand_item hk_hand_part(const struct hk_hand_item *item, size_t start, size_t length)
{
    return (struct hk_hand_item){item->table, item->text, item->start + start, length};
}

struct hk_table *hk_hand_table(struct hk_reading *reading, const char *option, const char *text)
{
    struct hk_project *project = reading->project;
    struct hk_table *table = text ? hk_table_words(option, text) : NULL;
    reading->diags->out_of_memory |= text && !table;
    if (table)
        project->tables[project->table_count++] = table;
    return table;
}

bool hk_hand_next(const struct hk_hand_item *whole, size_t *at, struct hk_hand_item *item)
{
    const char *text = whole->text;
    if (*at > whole->length)
        return false;
    size_t end = *at;
    while (end < whole->length) {
        bool decimal = text[end] == ',' && end > 0 && hk_is_digit(text[end - 1]) && hk_is_digit(text[end + 1]);
        if (text[end] == ';' || (text[end] == ',' && !decimal))
            break;
        end++;
    }
    *item = hk_hand_part(whole, *at, end - *at);
    *at = end + 1;
    return true;
}
