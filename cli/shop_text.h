/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The answers of `shop` as text: the first screen with its sections, and a list to carry. */
#ifndef SHOP_TEXT_H
#define SHOP_TEXT_H

#include "options.h"
#include "pipeline.h"

/*
 * Shows what to buy, the effect of a ball fewer and one more, and where to buy it; then the sections that are asked
 * for: --why, --where, --steps, --assumptions. The text records a failure.
 */
void shop_text(const struct work *work, const struct options *options, struct text *text);

/* Shows a shopping list for each basket. */
void shop_list(const struct work *work, struct text *text);

/* Names the lots of a role that are mixed. */
void shop_report_mixed(const struct hk_shop_size *size, const struct hk_shop_role *role, struct text *text);

/* Shows how much is enough, whether a cheaper basket exists, and why this number of balls has the least cost. */
void shop_report_why(const struct hk_shop *shop, struct text *text);

/* Returns the step `away` balls or packs from the basket, -2 to 2, 0: the basket itself; NULL if there is none. */
const struct hk_shop_step *shop_step_at(const struct hk_shop_role *role, int away);

/* Shows a row for each size and role with the chance and the cost of a ball or two fewer and more. */
void shop_report_steps(const struct hk_shop *shop, struct text *text);

#endif
