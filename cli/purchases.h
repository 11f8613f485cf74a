/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The purchases of each shop, as text and JSON: for the garments of `shop`, and for the kits of `quote`. */
#ifndef PURCHASES_H
#define PURCHASES_H

#include "json.h"
#include "layout.h"

struct money {
    char text[HK_MONEY_TEXT];
};

/* "-" if unknown. */
struct money shop_money(const struct hk_shop *shop, int64_t minor);

struct named_money {
    char text[HK_MONEY_TEXT + 32];
};

/* Formats "EUR 6.40". */
struct named_money shop_named_money(const struct hk_shop *shop, int64_t minor);

/* Formats "6.40", or "5 for 27.99" for a pack. */
struct named_money shop_price(const struct hk_shop *shop, int64_t minor, int64_t balls);

bool shop_is_own(const char *shop);
const char *shop_title(const char *shop);

/* Formats "M", "3 x M" or "3 x (S + M)". Owner: the caller (free). NULL when memory runs out. */
char *shop_size_title(const struct hk_shop_size *size);
/* Adds the same as a cell. */
void shop_size_cell(struct text *text, struct text_table *table, const struct hk_shop_size *size);

/*
 * Shows every purchase, shop by shop, with the charges of each and the total, and the chance that the purchase is enough
 * where it is computed.
 */
void purchases_print(const struct hk_shop *shop, bool chances, struct text *text);

json_t *purchase_lines_json(struct json *json, const struct hk_shop_size *size, int digits);
json_t *purchase_bills_json(struct json *json, const struct hk_shop_size *size, int digits);

/* Return how many of a notion are bought, "" for one that no number is stated of, and the sign behind it, " " or " x ".
 */
struct number notion_count(const struct hk_shop_notion *notion);
const char *notion_sign(const struct hk_shop_notion *notion);

#endif
