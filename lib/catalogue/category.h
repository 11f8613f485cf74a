/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Names that the trade gives to yarns of several categories: "fingering" is 0 Lace and 1 Super Fine. */
#ifndef HK_CATEGORY_H
#define HK_CATEGORY_H

#include "catalogue/catalogue.h"

/* "0 Lace, 1 Super Fine": those that are called so, all where `name` is NULL. NULL: none, or the arena is out of
 * memory. */
const char *hk_categories_called(const struct hk_catalogue *catalogue, const char *name, struct hk_arena *arena);

/* Of those that are called so, the only one that a yarn of so many wraps an inch may be; else NULL. */
const struct hk_category *hk_category_by_thickness(const struct hk_catalogue *catalogue, const char *name, double wraps);

#endif
