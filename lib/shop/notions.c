/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "shop/notions.h"

void hk_notions_fill(const struct hk_project *project, size_t first, size_t last, int64_t times,
                     struct hk_shop_size *shop_size, struct hk_arena *arena)
{
    struct hk_shop_notion *notions = hk_arena_take(arena, project->cost_count, sizeof *notions);
    size_t count = 0;
    for (size_t i = 0; i < project->cost_count && notions; i++) {
        const struct hk_cost *cost = &project->costs[i];
        double quantity = 0;
        for (size_t size = first; size <= last && hk_cost_is_notion(cost); size++)
            quantity += (double)times * (cost->quantity ? (double)cost->quantity[size] / (double)HK_COST_ONE : 1);
        if (quantity > 0)
            notions[count++] = (struct hk_shop_notion){cost->item, quantity, cost->quantity != NULL};
    }
    shop_size->notions = notions;
    shop_size->notion_count = count;
}
