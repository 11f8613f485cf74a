/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "catalogue/category.h"

static bool called(const struct hk_category *category, const char *name)
{
    const struct hk_catalogue one = {.categories = (struct hk_category *)(uintptr_t)category, .category_count = 1};
    return hk_category_find(&one, name);
}

const char *hk_categories_called(const struct hk_catalogue *catalogue, const char *name, struct hk_arena *arena)
{
    const char *all = NULL;
    for (size_t i = 0; i < catalogue->category_count; i++) {
        const struct hk_category *category = &catalogue->categories[i];
        if (!name || called(category, name))
            all = hk_arena_print(arena, "%s%s%s %s", all ? all : "", all ? ", " : "", category->name, category->label);
    }
    return all;
}

const struct hk_category *hk_category_by_thickness(const struct hk_catalogue *catalogue, const char *name, double wraps)
{
    const struct hk_category *only = NULL;
    for (size_t i = 0; i < catalogue->category_count; i++) {
        const struct hk_category *category = &catalogue->categories[i];
        if (!called(category, name) || !hk_category_holds(catalogue, category, wraps))
            continue;
        if (only)
            return NULL;
        only = category;
    }
    return only;
}
