/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "purchases.h"

#include "number.h"

#include <string.h>

/* ---- Words ---- */

struct money shop_money(const struct hk_shop *shop, int64_t minor)
{
    struct money money = {"-"};
    if (minor >= 0)
        hk_money_text(minor, shop->minor_digits, money.text);
    return money;
}

bool shop_is_own(const char *shop)
{
    return strcmp(shop, "own") == 0;
}

const char *shop_title(const char *shop)
{
    return shop_is_own(shop) ? "at home" : shop;
}

static const struct hk_shop_role *role_named(const struct hk_shop_size *size, const char *name)
{
    for (size_t i = 0; i < size->role_count; i++)
        if (strcmp(size->roles[i].role, name) == 0)
            return &size->roles[i];
    return NULL;
}

/* Formats "M", "3 x M" or "3 x (S + M)". */
void shop_size_cell(struct text_table *table, const struct hk_shop_size *size)
{
    const bool several = strchr(size->size, '+') != NULL;
    if (size->times > 1)
        text_table_cell(table, "%s x %s%s%s", number_whole(size->times).text, several ? "(" : "", size->size,
                        several ? ")" : "");
    else
        text_table_cell(table, "%s", size->size);
}

/* Leaves out columns and rows that would be empty. */
struct extras {
    bool shop, total, chance;
};

static struct extras extras_of(const struct hk_shop *shop, bool chances)
{
    struct extras extras = {shop->offers, false, chances};
    for (size_t i = 0; i < shop->size_count; i++) {
        const struct hk_shop_size *size = &shop->sizes[i];
        extras.total |= size->line_count > 1 || size->postage_minor > 0 || size->discount_minor > 0;
    }
    return extras;
}

/* The chance belongs to the role: it appears in the role's first line. */
static void add_purchase(struct text_table *table, const struct hk_shop *shop, const struct hk_shop_size *size,
                         size_t i, struct extras extras)
{
    const struct hk_shop_line *line = &size->lines[i];
    const struct hk_shop_role *role =
        i > 0 && strcmp(size->lines[i - 1].role, line->role) == 0 ? NULL : role_named(size, line->role);
    shop_size_cell(table, size);
    text_table_cell(table, "%s", line->role);
    text_table_cell(table, "%s", number_whole(line->balls).text);
    text_table_cell(table, "%s g %s%s%s", number_label(line->put_up_g).text, line->yarn, *line->colour ? " " : "",
                    line->colour);
    if (extras.shop)
        text_table_cell(table, "%s%s%s", shop_title(line->shop), *line->lot ? ", lot " : "", line->lot);
    text_table_cell(table, "%s", shop_money(shop, line->price_minor).text);
    text_table_cell(table, "%s", shop_money(shop, line->cost_minor).text);
    if (extras.chance)
        text_table_cell(table, "%s", role ? number_chance(role->chance).text : "");
}

/* Adds the charges and discounts of a shop beyond the price of the balls. */
static void add_bill(struct text_table *table, const struct hk_shop *shop, const struct hk_shop_size *size,
                     struct extras extras, const struct hk_shop_bill *bill, const char *what, const char *sign,
                     int64_t minor)
{
    if (minor == 0)
        return;
    shop_size_cell(table, size);
    text_table_cell(table, "%s", what);
    text_table_cell(table, "%s", "");
    text_table_cell(table, "%s", "");
    text_table_cell(table, "%s", bill->shop);
    text_table_cell(table, "%s", "");
    text_table_cell(table, "%s%s", sign, shop_money(shop, minor).text);
    if (extras.chance)
        text_table_cell(table, "%s", "");
}

static void add_total(struct text_table *table, const struct hk_shop *shop, const struct hk_shop_size *size,
                      struct extras extras)
{
    int64_t balls = 0;
    for (size_t i = 0; i < size->line_count; i++)
        balls += size->lines[i].balls;
    shop_size_cell(table, size);
    text_table_cell(table, "all");
    text_table_cell(table, "%s", number_whole(balls).text);
    for (int i = 0; i < (extras.shop ? 3 : 2); i++)
        text_table_cell(table, "%s", "");
    text_table_cell(table, "%s", shop_money(shop, size->priced ? size->total_minor : -1).text);
    if (extras.chance)
        text_table_cell(table, "%s", number_chance(size->chance_all).text);
}

void purchases_print(const struct hk_shop *shop, bool chances, struct text *text)
{
    const struct extras extras = extras_of(shop, chances);
    struct text_table *table = text_table(text);
    text_table_column(table, TEXT_KEY, "SIZE");
    text_table_column(table, TEXT_KEY, "ROLE");
    text_table_column(table, TEXT_RIGHT, "BALLS");
    text_table_column(table, TEXT_WRAP, "OF");
    if (extras.shop)
        text_table_column(table, TEXT_WRAP, "SHOP");
    text_table_column(table, TEXT_RIGHT, "PRICE");
    text_table_column(table, TEXT_RIGHT, "COST%s%s", *shop->currency ? " " : "", shop->currency);
    if (extras.chance)
        text_table_column(table, TEXT_RIGHT, "CHANCE");
    for (size_t i = 0; i < shop->size_count; i++) {
        const struct hk_shop_size *size = &shop->sizes[i];
        for (size_t j = 0; j < size->line_count; j++)
            add_purchase(table, shop, size, j, extras);
        for (size_t j = 0; extras.shop && j < size->bill_count; j++) {
            add_bill(table, shop, size, extras, &size->bills[j], "postage", "", size->bills[j].postage_minor);
            add_bill(table, shop, size, extras, &size->bills[j], "discount", "-", size->bills[j].discount_minor);
        }
        if (extras.total)
            add_total(table, shop, size, extras);
    }
    text_table_print(table);
}

/* ---- JSON ---- */

static json_t *line_json(struct json *json, const struct hk_shop_line *line, int digits)
{
    json_t *object = json_make_object(json);
    json_put_text(json, object, "role", line->role);
    json_put_text(json, object, "yarn", line->yarn);
    json_put_text(json, object, "colour", line->colour);
    json_put_text(json, object, "shop", line->shop);
    json_put_text(json, object, "lot", line->lot);
    json_put_real(json, object, "put_up_g", line->put_up_g);
    json_put_real(json, object, "put_up_m", line->put_up_m);
    json_put_whole(json, object, "balls", line->balls);
    json_put_money(json, object, "price", line->price_minor, digits);
    json_put_money(json, object, "cost", line->cost_minor, digits);
    return object;
}

json_t *purchase_lines_json(struct json *json, const struct hk_shop_size *size, int digits)
{
    json_t *lines = json_make_array(json);
    for (size_t i = 0; i < size->line_count; i++)
        json_add(json, lines, line_json(json, &size->lines[i], digits));
    return lines;
}

json_t *purchase_bills_json(struct json *json, const struct hk_shop_size *size, int digits)
{
    json_t *bills = json_make_array(json);
    for (size_t i = 0; i < size->bill_count; i++) {
        const struct hk_shop_bill *bill = &size->bills[i];
        json_t *object = json_make_object(json);
        json_put_text(json, object, "shop", bill->shop);
        json_put_money(json, object, "goods", bill->goods_minor, digits);
        json_put_money(json, object, "postage", bill->postage_minor, digits);
        json_put_money(json, object, "discount", bill->discount_minor, digits);
        json_put_money(json, object, "total", bill->total_minor, digits);
        json_add(json, bills, object);
    }
    return bills;
}
