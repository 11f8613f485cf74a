/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Trade names of yarns that belong to several categories: "fingering" is 0 Lace and 1 Super Fine. */
#ifndef HK_CATEGORY_H
#define HK_CATEGORY_H

#include "catalogue/catalogue.h"

/*
 * Returns the categories with this trade name as a list, such as "0 Lace, 1 Super Fine"; all categories if `name` is
 * NULL. NULL if there is none or when out of memory.
 */
const char *hk_categories_called(const struct hk_catalogue *catalogue, const char *name, struct hk_arena *arena);

/* Returns the only category with this trade name that holds a yarn with these wraps per inch; else NULL. */
const struct hk_category *hk_category_by_thickness(const struct hk_catalogue *catalogue, const char *name, double wraps);

#endif
