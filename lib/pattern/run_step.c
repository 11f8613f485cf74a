/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Steps other than stitches and repeats, and lists of steps. */
#include "pattern/run.h"

#include <inttypes.h>

/* "Sk 2 sl sts": returns true for slip stitches that joined the row below to an edge, which are not places. */
static bool ties_only(const struct run *run, const struct hk_where *where)
{
    if (where->what != HK_WHAT_STITCH || (where->stitch != run->follow->slip && where->stitch != run->follow->slipped))
        return false;
    const struct hk_spot *next = run->at < run->below.count ? &run->below.spots[run->at] : NULL;
    return !next || next->kind != HK_SPOT_STITCH || next->stitch != where->stitch;
}

/* "leaving rem sts on a holder": skips each place up to the limit. */
static bool skip_each(struct run *run, const struct hk_step *step, size_t limit)
{
    size_t here = run->here, first = run->skipped_count;
    static const struct hk_where next = {.given = true, .count = {.one = 1}, .stitch = SIZE_MAX};
    while (hk_run_places_between(run, run->at, limit) > 0)
        if (!hk_run_take_place(run, &next, limit, step->at) || !hk_run_skipped_add(run, run->here))
            return false;
    run->here = here;
    return hk_run_aside_add(run, step->name, first);
}

static bool step_skip(struct run *run, const struct hk_step *step, const struct list *list)
{
    const struct hk_where *where = &step->where;
    if (where->which == HK_WHICH_SAME)
        return true;
    int64_t count = hk_graded_in(where->count, run->follow->size);
    const bool on_first = hk_run_on_first(run, where); /* the chain is there */
    if (on_first && count == 1)
        return true;
    run->leading = false;
    if (where->what == HK_WHAT_OTHER)
        return hk_run_skip_others(run, step);
    if (!hk_run_centered(run, where, step->at))
        return false;
    if (where->which == HK_WHICH_EACH) {
        size_t limit;
        if (!hk_run_limit_index(run, where, list, step->at, &limit))
            return false;
        if (step->hold)
            return skip_each(run, step, limit);
        run->leaves |= where->limit == HK_LIMIT_END;
        struct position position = {.index = run->here, .at = limit, .uses = true};
        return run->leaves ? true : hk_run_take(run, &position);
    }
    size_t here = run->here, first = run->skipped_count;
    if (ties_only(run, where))
        return true;
    const struct hk_where then = hk_run_where_then(where);
    for (int64_t i = on_first; i < count; i++) {
        if (!hk_run_take_place(run, i > 0 ? &then : where, run->end, step->at) ||
            (run->here != NOWHERE && !hk_run_skipped_add(run, run->here)))
            return false;
    }
    run->here = here;
    return (list->outer && !step->name) || hk_run_aside_add(run, step->name, first);
}

static bool step_pass(struct run *run, const struct hk_step *step)
{
    if (step->where.which == HK_WHICH_EACH) /* applies to the whole row, after it is worked */
        return true;
    size_t index = hk_run_next_marker(run, run->end);
    int64_t between = index == NOWHERE ? 0 : hk_run_places_between(run, run->at, index);
    if (index == NOWHERE || between > 0) {
        if (index == NOWHERE)
            hk_run_fail(run, HK_CODE_ROW_PLACE, step->at, "no marker is left here");
        else
            hk_run_fail(run, HK_CODE_ROW_PLACE, step->at, "the next marker is %" PRId64 " stitch%s further on", between,
                        between == 1 ? "" : "es");
        return hk_run_advise(run, "place markers with pm in the row below, or work to the marker first");
    }
    struct hk_spot marker = run->below.spots[index];
    run->at = index + 1;
    run->sub = 0;
    return step->kind == HK_STEP_UNMARK || hk_run_push(run, marker);
}

static bool step_mark(struct run *run, const struct hk_step *step)
{
    if (run->row->knit && !step->where.given)
        return hk_run_push(
            run, (struct hk_spot){.kind = HK_SPOT_MARKER, .group = hk_run_group_new(run), .stitch = HK_SPOT_ANY});
    if (step->where.given && step->where.which == HK_WHICH_NEXT &&
        (step->where.what == HK_WHAT_ANY || step->where.what == HK_WHAT_STITCH)) {
        hk_run_fail(run, HK_CODE_ROW_PLACE, step->where.at, "a marker goes into a stitch that this row has worked already");
        return hk_run_advise(run, "write it after that stitch: pm in last st");
    }
    size_t i = run->made.count;
    if (step->where.given && step->where.which == HK_WHICH_FIRST)
        i = 1;
    while (i > 0 && i < run->made.count && run->made.spots[i - 1].kind != HK_SPOT_STITCH)
        i++;
    if (i > 0 && i <= run->made.count)
        run->made.spots[i - 1].marked = true;
    return true;
}

static bool step_leave(struct run *run, const struct hk_step *step)
{
    int64_t count = hk_graded_in(step->where.count, run->follow->size);
    int64_t left = hk_run_places_between(run, run->at, run->end);
    run->leaves = true;
    if (step->where.which == HK_WHICH_EACH || left == count)
        return true;
    hk_run_fail(run, HK_CODE_WIDTH, step->at, "%" PRId64 " stitch%s left here, not %" PRId64, left,
                left == 1 ? " is" : "es are", count);
    return false;
}

static bool step_cut(struct run *run, const struct hk_step *step)
{
    run->cut_m += step->cut_m * (double)hk_graded_in(step->many, run->follow->size);
    return true;
}

/* Returns true when the row only turns from here on. */
static bool only_turns(const struct list *list, size_t from)
{
    for (size_t i = from; i < list->count; i++)
        if (list->steps[i].kind != HK_STEP_TURN)
            return false;
    return from < list->count;
}

static bool step_chain(struct run *run, const struct hk_step *step, const struct list *list)
{
    int64_t chains = hk_graded_in(step->many, run->follow->size);
    if (chains == 0)
        return true;
    run->own_chains = 0;
    const struct hk_step *next = list->now + 1 < list->count ? &list->steps[list->now + 1] : NULL;
    bool into_own_chain = next && next->kind == HK_STEP_STITCH && next->where.what == HK_WHAT_NTH_CHAIN;
    if (!list->outer && only_turns(list, list->now + 1)) {
        if (hk_run_chain_too_long(run, chains))
            return false;
        run->lead = (struct lead){chains, step};
        return hk_run_log_stitch(run, run->follow->chain, chains);
    }
    if (run->leading && !into_own_chain && run->works)
        return hk_run_start_chain(run, chains, step, true);
    return hk_run_log_stitch(run, run->follow->chain, chains) && hk_run_push_space(run, chains);
}

/* Makes the foundation places that this row has used available again, reversed. */
static bool step_other_side(struct run *run)
{
    size_t end = run->at, first = run->foundation_first;
    if (first == NOWHERE || end <= first + 1)
        return hk_run_fail(run, HK_CODE_ROW_PLACE, 0, "there is no foundation chain to work along the other side of");
    if (end < run->below.count)
        return hk_run_fail(run, HK_CODE_WIDTH, 0, "%zu chains are left before the other side", run->below.count - end);
    size_t last = run->made.count; /* the end chain is worked from both sides, unless several stitches go around it */
    bool turned = last > 1 && run->made.spots[last - 1].group == run->made.spots[last - 2].group;
    for (size_t i = turned ? end - 1 : end; i > first; i--)
        if (!hk_edge_push(&run->below, run->below.spots[i - 1]))
            return hk_run_lose(run);
    run->end = run->below.count;
    return true;
}

static bool step_yarn(struct run *run, const struct hk_step *step)
{
    run->yarn = (size_t)step->spare;
    return true;
}

static bool run_step(struct run *run, const struct hk_step *step, struct list *list, bool *done)
{
    *done = false;
    switch (step->kind) {
    case HK_STEP_STITCH:
        return hk_run_step_stitch(run, step, list);
    case HK_STEP_CHAIN:
        return step_chain(run, step, list);
    case HK_STEP_TURNING:
        return hk_run_turning_chain(run, step);
    case HK_STEP_GROUP:
        return hk_run_step_group(run, step, list);
    case HK_STEP_REPEAT: {
        run->deep++;
        bool good = hk_run_step_repeat(run, step, list, done);
        run->deep--;
        return good;
    }
    case HK_STEP_SKIP:
        return step_skip(run, step, list);
    case HK_STEP_JOIN: /* within a row it joins one part to another, and is not a stitch to work into */
        if (list->now + 1 < list->count && hk_run_is_jump(&step->where) && step->where.which == HK_WHICH_NEXT &&
            !hk_run_take_place(run, &step->where, run->end, step->at))
            return false;
        return hk_run_log_stitch(run, run->follow->slip, hk_graded_in(step->many, run->follow->size));
    case HK_STEP_MARK:
        return step_mark(run, step);
    case HK_STEP_PASS:
    case HK_STEP_UNMARK:
        return step_pass(run, step);
    case HK_STEP_CUT:
        return step_cut(run, step);
    case HK_STEP_LEAVE:
        return step_leave(run, step);
    case HK_STEP_OTHER_SIDE:
        return step_other_side(run);
    case HK_STEP_YARN:
        return step_yarn(run, step);
    case HK_STEP_TURN:
        break;
    }
    return true;
}

bool hk_run_list(struct run *run, struct list *list)
{
    size_t first = list->now;
    for (; list->now < list->count; list->now++) {
        bool done;
        if (!hk_run_spend(run, 1) || !run_step(run, &list->steps[list->now], list, &done)) {
            list->now = first;
            return false;
        }
        if (done)
            break;
    }
    list->now = first;
    return true;
}
