/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What to buy, by shop, with boxes to tick. */
#include "number.h"
#include "purchases.h"
#include "report/page.h"

#include <string.h>

static void line_item(struct report *report, size_t size_at, size_t at)
{
    const struct hk_shop *shop = report->work->shop;
    const struct hk_shop_line *line = &shop->sizes[size_at].lines[at];
    markup_open(&report->markup, "li", NULL);
    page_inline(report, number_whole(line->balls).text, "shop:/shop/%zu/lines/%zu/balls", size_at, at);
    markup_text(&report->markup, " x %s g %s%s%s%s%s (%s)", number_label(line->put_up_g).text, line->yarn,
                *line->colour ? ", " : "", line->colour, *line->lot ? ", lot " : "", line->lot, line->role);
    if (line->cost_minor >= 0 && !shop_is_own(line->shop)) {
        markup_text(&report->markup, ": %s ", shop->currency);
        page_inline(report, shop_money(shop, line->cost_minor).text, "shop:/shop/%zu/lines/%zu/cost", size_at, at);
    }
    markup_close(&report->markup, "li");
}

/* Lists one shop; `bill` NULL: what has no price. */
static void shop_items(struct report *report, size_t size_at, const struct hk_shop_bill *bill)
{
    const struct hk_shop_size *size = &report->work->shop->sizes[size_at];
    markup_element(&report->markup, "h4",
                   !bill         ? "No price stated"
                   : *bill->shop ? shop_title(bill->shop)
                                 : "To buy",
                   NULL);
    markup_open(&report->markup, "ul", "class", "ticks", NULL);
    for (size_t i = 0; i < size->line_count; i++)
        if (bill ? size->lines[i].cost_minor >= 0 && strcmp(size->lines[i].shop, bill->shop) == 0
                 : size->lines[i].cost_minor < 0)
            line_item(report, size_at, i);
    markup_close(&report->markup, "ul");
}

static void notion_items(struct report *report, size_t at)
{
    const struct hk_shop_size *size = &report->work->shop->sizes[at];
    if (size->notion_count == 0)
        return;
    markup_element(&report->markup, "h4", "Notions", NULL);
    markup_open(&report->markup, "ul", "class", "ticks", NULL);
    for (size_t i = 0; i < size->notion_count; i++) {
        markup_open(&report->markup, "li", NULL);
        const struct number count = notion_count(&size->notions[i]);
        if (*count.text)
            page_inline(report, count.text, "shop:/shop/%zu/notions/%zu/quantity", at, i);
        markup_text(&report->markup, "%s%s", notion_sign(&size->notions[i]), size->notions[i].item);
        markup_close(&report->markup, "li");
    }
    markup_close(&report->markup, "ul");
}

static void size_list(struct report *report, size_t at)
{
    const struct hk_shop *shop = report->work->shop;
    const struct hk_shop_size *size = &shop->sizes[at];
    markup_element(&report->markup, "h3", size->size, NULL);
    markup_open(&report->markup, "p", NULL);
    if (size->priced) {
        markup_text(&report->markup, "%s ", shop->currency);
        page_inline(report, shop_money(shop, size->total_minor).text, "shop:/shop/%zu/total", at);
        markup_text(&report->markup, ", postage and discounts included. ");
    }
    markup_text(&report->markup, "Every yarn is enough with a chance of ");
    page_inline(report, number_chance(size->chance_all).text, "shop:/shop/%zu/chance_all", at);
    markup_text(&report->markup, ".");
    markup_close(&report->markup, "p");
    for (size_t i = 0; i < size->bill_count; i++)
        shop_items(report, at, &size->bills[i]);
    if (!size->priced)
        shop_items(report, at, NULL);
    notion_items(report, at);
}

void report_shopping(struct report *report)
{
    const struct hk_shop *shop = report->work->shop;
    page_section(report, "shopping", "What to buy");
    if (shop->lots_apart)
        page_paragraph(report, "Buy each yarn of one dye lot.");
    for (size_t i = 0; i < shop->size_count; i++)
        size_list(report, i);
    page_section_end(report);
}
