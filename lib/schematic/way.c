/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "schematic/way.h"

/* Returns true when the fabric is from the project's own file. */
static bool fabric_own(const struct hk_project *project, const struct hk_fabric *fabric)
{
    for (size_t i = 0; i < project->fabric_count; i++)
        if (fabric == &project->fabrics[i])
            return true;
    return false;
}

enum hk_drawn_way hk_drawn_way(const struct hk_project *project, size_t line)
{
    for (;;) {
        const struct hk_line *of = &project->lines[line];
        enum hk_way way = hk_fabric_way(of->fabric);
        if (way != HK_WAY_NOT_STATED)
            return way == HK_WAY_ROUNDS ? HK_DRAWN_ROUNDS : HK_DRAWN_ROWS;
        if (of->start == HK_START_RING)
            return HK_DRAWN_ROUNDS;
        if (!fabric_own(project, of->fabric))
            return HK_DRAWN_ROWS;
        if (of->start != HK_START_CONTINUE)
            return HK_DRAWN_OPEN;
        line = of->before;
    }
}
