/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The steps of `shop --steps`: the chance and the cost of a ball or two fewer and more, a row for each size and role. */
#include "bar.h"
#include "number.h"
#include "purchases.h"
#include "shop_text.h"

#include <stdlib.h>
#include <string.h>

const struct hk_shop_step *shop_step_at(const struct hk_shop_role *role, int away)
{
    size_t basket = 0;
    while (role->steps[basket].shop)
        basket++;
    if (away < 0)
        return basket >= (size_t)-away ? &role->steps[basket - (size_t)-away] : NULL;
    return basket + (size_t)away < role->step_count ? &role->steps[basket + (size_t)away] : NULL;
}

/* Returns whether two purchases differ only in their number of balls. */
static bool same_ball(const struct hk_shop_step *a, const struct hk_shop_step *b)
{
    return a->shop && b->shop && a->put_up_g == b->put_up_g && strcmp(a->shop, b->shop) == 0 && strcmp(a->lot, b->lot) == 0;
}

/*
 * Returns the balls that two steps in one direction leave out or add: "2 x 50 g, Quay Yarns", "50 g, at home, then 50 g,
 * Mole Wool". Lots are named where they may differ. Owner: the caller (free).
 */
static char *changed_words(const struct hk_shop *shop, const struct hk_shop_role *role, int way)
{
    const struct hk_shop_step *before = shop_step_at(role, 0), *first = shop_step_at(role, way);
    const struct hk_shop_step *second = shop_step_at(role, 2 * way);
    const struct hk_shop_step *steps[] = {first, first && second && same_ball(first, second) ? NULL : second};
    char *words = text_format("%s", first ? "" : "-");
    for (size_t i = 0; i < 2 && steps[i] && words; i++) {
        const int64_t change = (steps[i]->balls - before->balls) * way;
        const bool lot = !shop->lots_apart && *steps[i]->lot;
        if (i)
            text_append(&words, ", then ");
        if (change > 1 && words)
            text_append(&words, "%s\u00a0x\u00a0", number_whole(change).text);
        if (words)
            text_append(&words, "%s\u00a0g%s%s%s%s", number_label(steps[i]->put_up_g).text, *steps[i]->shop ? ", " : "",
                        shop_title(steps[i]->shop), lot ? ", lot " : "", lot ? steps[i]->lot : "");
        before = steps[i];
    }
    return words;
}

static void add_changed(struct text *text, struct text_table *table, const struct hk_shop *shop,
                        const struct hk_shop_role *role, int way)
{
    char *words = changed_words(shop, role, way);
    text->failed |= !words;
    text_table_cell(table, "%s", words ? words : "");
    free(words);
}

/* Adds "8: 87%". */
static void add_chance(struct text_table *table, const struct hk_shop_role *role, int away)
{
    const struct hk_shop_step *step = shop_step_at(role, away);
    if (step)
        text_table_cell(table, "%s: %s", number_whole(step->balls).text, number_chance(step->chance).text);
    else
        text_table_cell(table, "-");
}

/* Adds the difference in cost of the nearest step: "-6.40", "+6.40". */
static void add_cost(struct text_table *table, const struct hk_shop *shop, const struct hk_shop_role *role, int away)
{
    const struct hk_shop_step *step = shop_step_at(role, away), *bought = shop_step_at(role, 0);
    if (!step || !bought || step->cost_minor < 0) {
        text_table_cell(table, "-");
        return;
    }
    const int64_t change = step->cost_minor - bought->cost_minor;
    text_table_cell(table, "%s%s",
                    change < 0   ? "-"
                    : change > 0 ? "+"
                                 : "",
                    shop_money(shop, change < 0 ? -change : change).text);
}

/* A table with a row for each role of each size; the keys are left out where all rows have the same. */
struct keyed {
    const struct hk_shop *shop;
    struct text *text;
    struct text_table *table;
    bool sizes;
};

static struct keyed keyed_table(const struct hk_shop *shop, struct text *text)
{
    struct keyed keyed = {shop, text, text_table(text), shop->size_count > 1};
    if (keyed.sizes)
        text_table_column(keyed.table, TEXT_KEY, "SIZE");
    text_table_column(keyed.table, TEXT_KEY, "ROLE");
    return keyed;
}

static void add_rows(const struct keyed *k, void (*add)(const struct keyed *k, const struct hk_shop_role *role))
{
    for (size_t i = 0; i < k->shop->size_count; i++) {
        const struct hk_shop_size *size = &k->shop->sizes[i];
        for (size_t j = 0; j < size->role_count; j++) {
            if (k->sizes)
                shop_size_cell(k->text, k->table, size);
            text_table_cell(k->table, "%s", size->roles[j].role);
            add(k, &size->roles[j]);
        }
    }
    text_table_print(k->table);
}

static void add_step_row(const struct keyed *k, const struct hk_shop_role *role)
{
    for (int away = -2; away <= 2; away++)
        add_chance(k->table, role, away);
}

static void add_effect_row(const struct keyed *k, const struct hk_shop_role *role)
{
    const struct number_step metre = number_step(role->deviation_m, 0);
    const struct number_step yard = number_step(role->deviation_m / HK_M_PER_YARD, 0);
    const struct hk_shop_step *step = shop_step_at(role, 0);
    add_cost(k->table, k->shop, role, -1);
    add_cost(k->table, k->shop, role, 1);
    text_table_cell(k->table, "%s", number_share(step->margin).text);
    text_table_cell(k->table, "%s", number_stepped(step->expected_left_over_m, metre, NUMBER_NEAREST).text);
    text_table_cell(k->table, "%s", number_stepped(step->expected_left_over_m / HK_M_PER_YARD, yard, NUMBER_NEAREST).text);
    if (k->shop->offers) {
        add_changed(k->text, k->table, k->shop, role, -1);
        add_changed(k->text, k->table, k->shop, role, 1);
    }
}

/* The steps of one size: a row for each number of balls, with its chance as a bar. */
static void report_bars(const struct hk_shop_size *size, struct text *text)
{
    const bool blocks = bar_blocks();
    struct text_table *table = text_table(text);
    text_table_column(table, TEXT_KEY, "ROLE");
    text_table_column(table, TEXT_RIGHT, "BALLS");
    text_table_column(table, TEXT_RIGHT, "ENOUGH");
    text_table_column(table, TEXT_KEY, "%s", "");
    text_table_column(table, TEXT_KEY, "%s", "");
    for (size_t i = 0; i < size->role_count; i++)
        for (int away = -2; away <= 2; away++) {
            const struct hk_shop_step *step = shop_step_at(&size->roles[i], away);
            if (!step)
                continue;
            text_table_cell(table, "%s", size->roles[i].role);
            text_table_cell(table, "%s", number_whole(step->balls).text);
            text_table_cell(table, "%s", number_chance(step->chance).text);
            text_table_cell(table, "%s", away == 0 ? "buy" : "");
            text_table_cell(table, "%s", bar_of(step->chance, blocks).text);
        }
    text_table_print(table);
}

/* The steps of several sizes: a row for each role. */
static void report_table(const struct hk_shop *shop, struct text *text)
{
    static const char *const titles[] = {"2 FEWER", "1 FEWER", "BUY", "1 MORE", "2 MORE"};
    const struct keyed steps = keyed_table(shop, text);
    for (size_t i = 0; i < sizeof titles / sizeof titles[0]; i++)
        text_table_column(steps.table, TEXT_RIGHT, "%s", titles[i]);
    add_rows(&steps, add_step_row);
}

static void report_chances(const struct hk_shop *shop, struct text *text)
{
    text_gap(text);
    text_heading(text, "A ball or two fewer or more");
    text_paragraph(text, "The number of balls, and the chance that they are enough. Where only packs are sold, a step is a "
                         "pack.");
    text_gap(text);
    if (shop->size_count == 1)
        report_bars(&shop->sizes[0], text);
    else
        report_table(shop, text);
}

static void report_costs(const struct hk_shop *shop, struct text *text)
{
    const struct keyed effects = keyed_table(shop, text);
    const char *space = *shop->currency ? " " : "";
    text_gap(text);
    text_paragraph(text, "-1 and +1 are the change in cost of one fewer and of one more%s. MARGIN is the yarn beyond the "
                         "likely amount, less the yarn lost where balls are joined. LEFT OVER is the mean over all makings.%s",
                   shop->offers ? ", with postage and discounts" : "",
                   shop->offers ? " LEFT OUT is the ball without which the chance stays highest (balls at home stay); ADDED "
                                  "is the one that costs least."
                                : "");
    text_gap(text);
    text_table_column(effects.table, TEXT_RIGHT, "-1%s%s", space, shop->currency);
    text_table_column(effects.table, TEXT_RIGHT, "+1%s%s", space, shop->currency);
    text_table_column(effects.table, TEXT_RIGHT, "MARGIN");
    text_table_column(effects.table, TEXT_RIGHT, "LEFT OVER m");
    text_table_column(effects.table, TEXT_RIGHT, "yd");
    if (shop->offers) {
        text_table_column(effects.table, TEXT_WRAP, "LEFT OUT");
        text_table_column(effects.table, TEXT_WRAP, "ADDED");
    }
    add_rows(&effects, add_effect_row);
}

void shop_report_steps(const struct hk_shop *shop, struct text *text)
{
    report_chances(shop, text);
    report_costs(shop, text);
}
