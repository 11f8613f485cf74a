/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Repeats of rows that were worked into a foundation. */
#include "pattern/proof_run.h"

static bool where_chains(const struct hk_where *where)
{
    return where && (where->what == HK_WHAT_CHAIN || where_chains(where->besides) || where_chains(where->until));
}

static bool steps_chains(const struct hk_step *steps, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (where_chains(&steps[i].where) || steps_chains(steps[i].steps, steps[i].step_count))
            return true;
    return false;
}

static const struct hk_where *place_stitches(struct proof_run *run, const struct hk_where *where);

static struct hk_where where_stitches(struct proof_run *run, struct hk_where where)
{
    where.what = where.what == HK_WHAT_CHAIN ? HK_WHAT_ANY : where.what;
    where.besides = place_stitches(run, where.besides);
    where.until = place_stitches(run, where.until);
    return where;
}

static const struct hk_where *place_stitches(struct proof_run *run, const struct hk_where *where)
{
    struct hk_where *copy = where ? hk_arena_take(run->p->arena, 1, sizeof *copy) : NULL;
    if (copy)
        *copy = where_stitches(run, *where);
    return copy;
}

static struct hk_step *steps_stitches(struct proof_run *run, const struct hk_step *steps, size_t count)
{
    struct hk_step *copies = hk_arena_take(run->p->arena, count, sizeof *copies);
    for (size_t i = 0; copies && i < count; i++) {
        copies[i] = steps[i];
        copies[i].where = where_stitches(run, steps[i].where);
        copies[i].steps = steps_stitches(run, steps[i].steps, steps[i].step_count);
    }
    return copies;
}

const struct hk_row *hk_proof_row_again(struct proof_run *run, const struct hk_row *row)
{
    const struct hk_edge *edge = hk_follow_edge_now(run->follow);
    for (size_t i = 0; i < edge->count; i++)
        if (edge->spots[i].kind == HK_SPOT_CHAIN || edge->spots[i].kind == HK_SPOT_SPACE)
            return row;
    if (!steps_chains(row->steps, row->step_count))
        return row;
    struct hk_row *copy = hk_arena_take(run->p->arena, 1, sizeof *copy);
    if (copy) {
        *copy = *row;
        copy->steps = steps_stitches(run, row->steps, row->step_count);
        copy->other = NULL;
    }
    run->p->out_of_memory |= run->p->arena->out_of_memory;
    return run->p->out_of_memory ? NULL : copy;
}
