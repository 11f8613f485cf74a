/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows that were worked into a foundation, again. */
#include "pattern/proof_run.h"

static bool where_chains(const struct hk_where *where)
{
    return where && where->given &&
           (where->what == HK_WHAT_CHAIN || where_chains(where->besides) || where_chains(where->until));
}

static bool steps_chains(const struct hk_step *steps, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (where_chains(&steps[i].where) || steps_chains(steps[i].steps, steps[i].step_count))
            return true;
    return false;
}

static struct hk_where where_stitches(struct proof_run *run, struct hk_where where)
{
    if (where.given && where.what == HK_WHAT_CHAIN)
        where.what = HK_WHAT_ANY;
    const struct hk_where *besides[] = {where.besides, where.until};
    for (size_t i = 0; i < 2; i++) {
        struct hk_where *copy = besides[i] ? hk_arena_take(run->p->arena, 1, sizeof *copy) : NULL;
        if (copy)
            *copy = where_stitches(run, *besides[i]);
        besides[i] = copy ? copy : besides[i];
    }
    where.besides = besides[0];
    where.until = besides[1];
    return where;
}

static struct hk_step *steps_stitches(struct proof_run *run, const struct hk_step *steps, size_t count)
{
    struct hk_step *copies = hk_arena_take(run->p->arena, count, sizeof *copies);
    if (!copies) {
        hk_proof_lose(run);
        return NULL;
    }
    for (size_t i = 0; i < count; i++) {
        copies[i] = steps[i];
        copies[i].where = where_stitches(run, steps[i].where);
        if (steps[i].step_count > 0)
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
    if (!copy) {
        hk_proof_lose(run);
        return NULL;
    }
    *copy = *row;
    copy->steps = steps_stitches(run, row->steps, row->step_count);
    copy->other = NULL;
    return copy->steps ? copy : NULL;
}
