/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The section --why of `shop`: how much is enough, whether a cheaper basket exists, and why this number of balls. */
#include "number.h"
#include "purchases.h"
#include "shop_text.h"

#include <stdlib.h>
#include <string.h>

/* Formats an expected amount, to the minor unit. */
static struct money about(const struct hk_shop *shop, double minor)
{
    return shop_money(shop, minor < 1e15 ? (int64_t)(minor + 0.5) : -1);
}

static void report_what_for(const struct hk_shop *shop, struct text *text)
{
    if (shop->short_cost_minor >= 0)
        text_paragraph(
            text,
            "The number of balls of least expected cost: that of the balls and that of running short (%s, by "
            "project.csv), where a ball left over keeps %s of its price.",
            shop_named_money(shop, shop->short_cost_minor).text, number_asked(shop->spare_worth).text);
    else if (shop->margin >= 0)
        text_paragraph(
            text,
            "The balls that hold the likely amount and a flat %s more, as asked for; CHANCE is the chance that "
            "they are enough.",
            number_asked(shop->margin).text);
    else
        text_paragraph(text, "%s enough with a chance of %s, for each yarn.",
                       shop->offers ? "The cheapest basket that is" : "The fewest balls that are",
                       number_asked(shop->chance).text);
}

/* Shown only where there was a choice. */
static void report_proof(const struct hk_shop *shop, struct text *text)
{
    size_t proven = 0;
    for (size_t i = 0; i < shop->size_count; i++)
        proven += shop->sizes[i].proven;
    if (shop->offers && proven == shop->size_count)
        text_paragraph(text, "No basket%s is cheaper; this is proven.",
                       shop->lots_apart ? " with one dye lot for each role" : "");
}

/* Returns the effect of one ball fewer, where that is possible. Owner: the caller (free). */
static char *fewer_words(const struct hk_shop *shop, const struct hk_shop_reason *reason)
{
    if (reason->balls == 1)
        return text_format("%s", "");
    return text_format("with one fewer it would run short in %s of makings, which costs %s more than it saves; ",
                       number_chance(reason->short_chance_fewer).text, about(shop, reason->fewer_minor).text);
}

/*
 * Returns the effect of one ball more; it is free only at the largest number of balls considered. Owner: the caller
 * (free).
 */
static char *more_words(const struct hk_shop *shop, const struct hk_shop_reason *reason)
{
    if (reason->more_minor <= 0)
        return text_format("one more would cost nothing in the long run, but they are enough in %s of makings, and beyond "
                           "99.9%% no more are bought",
                           number_chance(reason->spare_chance_more).text);
    return text_format("one more would be left over in %s of makings, which costs %s more than it saves",
                       number_chance(reason->spare_chance_more).text, about(shop, reason->more_minor).text);
}

/* Returns whether every purchase of the role is balls of the given mass. */
static bool bought_in(const struct hk_shop_size *size, const char *role, double put_up_g)
{
    for (size_t i = 0; i < size->line_count; i++)
        if (strcmp(size->lines[i].role, role) == 0 && size->lines[i].put_up_g != put_up_g)
            return false;
    return true;
}

/* Explains the number of balls, where running short has a price. */
static void report_reason(const struct hk_shop *shop, const struct hk_shop_size *size, const struct hk_shop_role *role,
                          struct text *text)
{
    const struct hk_shop_reason *reason = &role->reason;
    const bool alike = bought_in(size, role->role, reason->put_up_g);
    char *fewer = fewer_words(shop, reason), *more = more_words(shop, reason);
    if (fewer && more)
        text_item(text, "%s, %s: %s%s %s of %s g at %s %s least: %s%s", size->size, role->role,
                  alike ? "" : "in balls of one size, ", number_whole(reason->balls).text, reason->balls > 1 ? "balls" : "ball",
                  number_label(reason->put_up_g).text, shop_price(shop, reason->price_minor, reason->price_for).text,
                  reason->balls > 1 ? "cost" : "costs", fewer, more);
    else
        text->failed = true;
    free(fewer);
    free(more);
}

static void report_reasons(const struct hk_shop *shop, struct text *text)
{
    for (size_t i = 0; i < shop->size_count; i++) {
        for (size_t j = 0; j < shop->sizes[i].role_count; j++) {
            const struct hk_shop_role *role = &shop->sizes[i].roles[j];
            if (role->basis != HK_SHOP_BASIS_LEAST_COST)
                continue;
            report_reason(shop, &shop->sizes[i], role, text);
        }
    }
}

void shop_report_why(const struct hk_shop *shop, struct text *text)
{
    text_gap(text);
    text_heading(text, "Why this number");
    report_what_for(shop, text);
    report_proof(shop, text);
    report_reasons(shop, text);
}
