/* SPDX-License-Identifier: GPL-3.0-or-later */
/* hankful shop --list: a shopping list to print or paste. */
#include "number.h"
#include "purchases.h"
#include "shop_text.h"

#include <stdlib.h>
#include <string.h>

/* Formats "A12, B3"; "not stated" for a lot without a name. */
static char *lot_names(const struct hk_shop_size *size, const char *role)
{
    char *names = NULL;
    for (size_t i = 0; i < size->line_count; i++) {
        const struct hk_shop_line *line = &size->lines[i];
        bool said = strcmp(line->role, role) != 0;
        for (size_t k = 0; k < i && *line->lot; k++)
            said |= strcmp(size->lines[k].role, role) == 0 && strcmp(size->lines[k].lot, line->lot) == 0;
        if (!said && !text_append(&names, "%s%s", names ? ", " : "", *line->lot ? line->lot : "one not stated"))
            return NULL;
    }
    return names;
}

void shop_report_mixed(const struct hk_shop_size *size, const struct hk_shop_role *role, struct text *text)
{
    char *names = lot_names(size, role->role);
    if (names)
        text_paragraph(text, "%s, %s: %zu lots are mixed (%s), as project.csv lets them; their colours may differ, so change "
                       "where it does not show, or row by row.", size->size, role->role, role->lots, names);
    else
        text->failed = true;
    free(names);
}

static void list_line(const struct hk_shop *shop, const struct hk_shop_line *line, struct text *text)
{
    const bool own = shop_is_own(line->shop), priced = line->cost_minor >= 0 && !own;
    text_line(text, "[ ] %s x %s g %s%s%s%s%s%s (%s)%s%s", number_whole(line->balls).text,
              number_label(line->put_up_g).text, line->yarn, *line->colour ? ", " : "", line->colour,
              *line->lot ? ", lot " : "", line->lot, !*line->lot && line->balls > 1 && !own ? ", of one lot" : "",
              line->role, priced ? ": " : "", priced ? shop_named_money(shop, line->cost_minor).text : "");
}

static void list_bill(const struct hk_shop *shop, const struct hk_shop_bill *bill, struct text *text)
{
    if (bill->postage_minor > 0)
        text_line(text, "    postage: %s", shop_named_money(shop, bill->postage_minor).text);
    if (bill->discount_minor > 0)
        text_line(text, "    discount: -%s", shop_named_money(shop, bill->discount_minor).text);
    if (!shop_is_own(bill->shop))
        text_line(text, "    to pay: %s", shop_named_money(shop, bill->total_minor).text);
}

/* Lists the purchases of one shop; `bill` is NULL for purchases without a price, which have no shop. */
static void list_shop(const struct hk_shop *shop, const struct hk_shop_size *size, const struct hk_shop_bill *bill,
                      struct text *text)
{
    const char *title = !bill ? "No price stated" : shop_is_own(bill->shop) ? "At home" : *bill->shop ? bill->shop : "To buy";
    text_gap(text);
    text_heading(text, "%s", title);
    for (size_t i = 0; i < size->line_count; i++) {
        const struct hk_shop_line *line = &size->lines[i];
        if (bill ? line->cost_minor >= 0 && strcmp(line->shop, bill->shop) == 0 : line->cost_minor < 0)
            list_line(shop, line, text);
    }
    if (bill)
        list_bill(shop, bill, text);
}

/* "[ ] 7 buttons", "[ ] thread and label". */
static void list_notions(const struct hk_shop_size *size, struct text *text)
{
    if (size->notion_count == 0)
        return;
    text_gap(text);
    text_heading(text, "Notions");
    for (size_t i = 0; i < size->notion_count; i++) {
        text_line(text, "[ ] %s%s%s", notion_count(&size->notions[i]).text, notion_sign(&size->notions[i]),
                  size->notions[i].item);
    }
}

static void list_size(const struct hk_shop *shop, const struct hk_shop_size *size, struct text *text)
{
    if (size->times > 1)
        text_heading(text, "%s, %s, each %s times: shopping list", shop->project, size->size,
                     number_whole(size->times).text);
    else
        text_heading(text, "%s, %s: shopping list", shop->project, size->size);
    for (size_t i = 0; i < size->bill_count; i++)
        list_shop(shop, size, &size->bills[i], text);
    if (!size->priced)
        list_shop(shop, size, NULL, text);
    if (size->bill_count > 1) {
        text_gap(text);
        text_line(text, "All together: %s", shop_named_money(shop, size->total_minor).text);
    }
    list_notions(size, text);
    for (size_t i = 0; i < size->role_count; i++)
        if (size->roles[i].lots > 1) {
            text_gap(text);
            shop_report_mixed(size, &size->roles[i], text);
        }
}

void shop_list(const struct work *work, struct text *text)
{
    for (size_t i = 0; i < work->shop->size_count; i++) {
        if (i)
            text_gap(text);
        list_size(work->shop, &work->shop->sizes[i], text);
    }
}
