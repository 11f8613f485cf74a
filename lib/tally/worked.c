/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tally/worked.h"

double hk_strand_new(const struct hk_strand *strand, int64_t had)
{
    return had < strand->times ? (double)(strand->times - had) / (double)strand->times : 0;
}

struct hk_use *hk_worked_use(struct hk_worked *worked, size_t combination, const struct hk_project *project,
                             struct hk_arena *arena)
{
    for (size_t i = 0; i < worked->use_count; i++)
        if (worked->uses[i].combination == combination)
            return &worked->uses[i];
    struct hk_use *use = &worked->uses[worked->use_count];
    *use = (struct hk_use){
        .combination = combination,
        .ends = hk_arena_take(arena, project->combinations[combination].strand_count, sizeof *use->ends)};
    if (!use->ends)
        return NULL;
    worked->use_count++;
    return use;
}
