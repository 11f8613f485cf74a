/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a basket takes besides its yarn: the materials of costs.csv. */
#ifndef HK_NOTIONS_H
#define HK_NOTIONS_H

#include "project/project.h"

/*
 * Sets the notions of `times` makings of each of the sizes first to last; none where a size takes none. Leaves them out
 * when out of memory (arena->out_of_memory).
 */
void hk_notions_fill(const struct hk_project *project, size_t first, size_t last, int64_t times,
                     struct hk_shop_size *shop_size, struct hk_arena *arena);

#endif
