/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "purchases.h"

#include "number.h"

#include <stdlib.h>
#include <string.h>

/* ---- Words ---- */

struct money shop_money(const struct hk_shop *shop, int64_t minor)
{
    struct money money = {"-"};
    if (minor >= 0)
        hk_money_text(minor, shop->minor_digits, money.text);
    return money;
}

struct named_money shop_named_money(const struct hk_shop *shop, int64_t minor)
{
    struct named_money named;
    snprintf(named.text, sizeof named.text, "%.3s%s%s", shop->currency, *shop->currency ? " " : "",
             shop_money(shop, minor).text);
    return named;
}

struct named_money shop_price(const struct hk_shop *shop, int64_t minor, int64_t balls)
{
    struct named_money price;
    const struct money money = shop_money(shop, minor);
    if (balls > 1)
        snprintf(price.text, sizeof price.text, "%lld for %s", (long long)balls, money.text);
    else
        snprintf(price.text, sizeof price.text, "%s", money.text);
    return price;
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

char *shop_size_title(const struct hk_shop_size *size)
{
    const bool several = strchr(size->size, '+') != NULL;
    if (size->times > 1)
        return text_format("%s x %s%s%s", number_whole(size->times).text, several ? "(" : "", size->size, several ? ")" : "");
    return text_format("%s", size->size);
}

void shop_size_cell(struct text *text, struct text_table *table, const struct hk_shop_size *size)
{
    char *title = shop_size_title(size);
    text->failed |= !title;
    text_table_cell(table, "%s", title ? title : "");
    free(title);
}

/* ---- The table ---- */

/* Leaves out columns and rows that would be empty or equal. */
struct purchases {
    const struct hk_shop *shop;
    struct text *text;
    struct text_table *table;
    bool sizes, shops, total, chances;
};

static struct purchases purchases_of(const struct hk_shop *shop, bool chances, struct text *text)
{
    struct purchases p = {shop, text, text_table(text), shop->size_count > 1, shop->offers, false, chances};
    for (size_t i = 0; i < shop->size_count; i++) {
        const struct hk_shop_size *size = &shop->sizes[i];
        p.total |= size->line_count > 1 || size->postage_minor > 0 || size->discount_minor > 0;
    }
    return p;
}

/* Adds the first cells of a row. */
static void begin_row(const struct purchases *p, const struct hk_shop_size *size, const char *what)
{
    if (p->sizes)
        shop_size_cell(p->text, p->table, size);
    text_table_cell(p->table, "%s", what);
}

/* Adds the last cells of a row: its cost, and a chance or nothing. */
static void end_row(const struct purchases *p, const char *sign, int64_t minor, const double *chance)
{
    text_table_cell(p->table, "%s%s", sign, shop_money(p->shop, minor).text);
    if (p->chances)
        text_table_cell(p->table, "%s", chance ? number_chance(*chance).text : "");
}

/* The chance belongs to the role: it appears in the role's first row. */
static void add_purchase(const struct purchases *p, const struct hk_shop_size *size, const struct hk_shop_line *line,
                         bool first)
{
    const struct hk_shop_role *role = first ? role_named(size, line->role) : NULL;
    begin_row(p, size, line->role);
    text_table_cell(p->table, "%s", number_whole(line->balls).text);
    text_table_cell(p->table, "%s g %s%s%s", number_label(line->put_up_g).text, line->yarn, *line->colour ? " " : "",
                    line->colour);
    if (p->shops)
        text_table_cell(p->table, "%s%s%s", shop_title(line->shop), *line->lot ? ", lot " : "", line->lot);
    text_table_cell(p->table, "%s", shop_price(p->shop, line->price_minor, line->price_for).text);
    end_row(p, "", line->cost_minor, role ? &role->chance : NULL);
}

/* Adds what a shop charges or takes off beyond the price of the balls, or what it is paid in all. */
static void add_bill(const struct purchases *p, const struct hk_shop_size *size, const struct hk_shop_bill *bill,
                     const char *what, const char *sign, int64_t minor)
{
    begin_row(p, size, what);
    text_table_cell(p->table, "%s", "");
    text_table_cell(p->table, "%s", "");
    text_table_cell(p->table, "%s", bill->shop);
    text_table_cell(p->table, "%s", "");
    end_row(p, sign, minor, NULL);
}

static void add_total(const struct purchases *p, const struct hk_shop_size *size)
{
    int64_t balls = 0;
    for (size_t i = 0; i < size->line_count; i++)
        balls += size->lines[i].balls;
    begin_row(p, size, "all");
    text_table_cell(p->table, "%s", number_whole(balls).text);
    for (int i = 0; i < (p->shops ? 3 : 2); i++)
        text_table_cell(p->table, "%s", "");
    end_row(p, "", size->priced ? size->total_minor : -1, &size->chance_all);
}

static size_t shop_rank(const struct hk_shop_size *size, const struct hk_shop_line *line)
{
    size_t i = 0;
    while (i < size->bill_count && (line->cost_minor < 0 || strcmp(size->bills[i].shop, line->shop) != 0))
        i++;
    return i;
}

/* Returns whether no purchase of the role comes earlier: in an earlier shop, or earlier in the same one. */
static bool is_first(const struct hk_shop_size *size, size_t line)
{
    const size_t rank = shop_rank(size, &size->lines[line]);
    for (size_t i = 0; i < size->line_count; i++) {
        const size_t other = shop_rank(size, &size->lines[i]);
        if (strcmp(size->lines[i].role, size->lines[line].role) == 0 && (other < rank || (other == rank && i < line)))
            return false;
    }
    return true;
}

static size_t shops_paid(const struct hk_shop_size *size)
{
    size_t count = 0;
    for (size_t i = 0; i < size->bill_count; i++)
        count += !shop_is_own(size->bills[i].shop);
    return count;
}

/* Adds the purchases of the shop of this rank; those without a price have no shop and come last. */
static void add_shop(const struct purchases *p, const struct hk_shop_size *size, size_t rank)
{
    size_t rows = 0;
    for (size_t i = 0; i < size->line_count; i++) {
        if (shop_rank(size, &size->lines[i]) != rank)
            continue;
        add_purchase(p, size, &size->lines[i], is_first(size, i));
        rows++;
    }
    if (rank == size->bill_count || !p->shops)
        return;
    const struct hk_shop_bill *bill = &size->bills[rank];
    if (bill->postage_minor)
        add_bill(p, size, bill, "postage", "", bill->postage_minor);
    if (bill->discount_minor)
        add_bill(p, size, bill, "discount", "-", bill->discount_minor);
    rows += (bill->postage_minor > 0) + (bill->discount_minor > 0);
    if (rows > 1 && shops_paid(size) > 1 && !shop_is_own(bill->shop))
        add_bill(p, size, bill, "to pay", "", bill->total_minor);
}

void purchases_print(const struct hk_shop *shop, bool chances, struct text *text)
{
    const struct purchases p = purchases_of(shop, chances, text);
    if (p.sizes)
        text_table_column(p.table, TEXT_KEY, "SIZE");
    text_table_column(p.table, TEXT_KEY, "ROLE");
    text_table_column(p.table, TEXT_RIGHT, "BALLS");
    text_table_column(p.table, TEXT_WRAP, "OF");
    if (p.shops)
        text_table_column(p.table, TEXT_WRAP, "SHOP");
    text_table_column(p.table, TEXT_RIGHT, "PRICE");
    text_table_column(p.table, TEXT_RIGHT, "COST%s%s", *shop->currency ? " " : "", shop->currency);
    if (p.chances)
        text_table_column(p.table, TEXT_RIGHT, "CHANCE");
    for (size_t i = 0; i < shop->size_count; i++) {
        for (size_t rank = 0; rank <= shop->sizes[i].bill_count; rank++)
            add_shop(&p, &shop->sizes[i], rank);
        if (p.total)
            add_total(&p, &shop->sizes[i]);
    }
    text_table_print(p.table);
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
    json_put_whole(json, object, "price_for", line->price_for);
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

struct number notion_count(const struct hk_shop_notion *notion)
{
    return notion->stated || notion->quantity > 1 ? number_stated(notion->quantity) : (struct number){""};
}

const char *notion_sign(const struct hk_shop_notion *notion)
{
    return notion->stated ? " " : notion->quantity > 1 ? " x " : "";
}
