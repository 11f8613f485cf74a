/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The end of "each" and of repeats, in words or by the place that the row names next. */
#include "pattern/run.h"

#include <inttypes.h>

size_t hk_run_before_last(struct run *run, int64_t places, size_t end)
{
    int64_t left = places;
    size_t i = end;
    for (; i > run->at && left > 0; i--) {
        const struct hk_spot *spot = &run->below.spots[i - 1];
        left -= hk_run_is_worked(spot);
        if (spot->kind == HK_SPOT_SPACE) {
            run->readings |= HK_READING_SPACES;
            if (hk_run_spaces_are_places(run))
                left -= spot->chains;
        }
    }
    hk_run_look(run, end - i);
    return left > 0 ? NOWHERE : i;
}

static size_t index_of(struct run *run, const struct hk_where *where, size_t end)
{
    struct position position = {0};
    if (where->which == HK_WHICH_LAST && (where->what == HK_WHAT_ANY || where->what == HK_WHAT_STITCH ||
                                          where->what == HK_WHAT_TOP || where->what == HK_WHAT_CHAIN))
        return hk_run_before_last(run, hk_graded_in(where->count, run->follow->size), end);
    if (where->which == HK_WHICH_LAST && where->what == HK_WHAT_SPACE) {
        int64_t most = hk_run_most_chains(run);
        for (size_t i = end; i > run->at; i--)
            if (run->below.spots[i - 1].kind == HK_SPOT_SPACE &&
                (where->chains == 0 || run->below.spots[i - 1].chains == (where->chains < 0 ? most : where->chains)))
                return i - 1;
        return NOWHERE;
    }
    if (where->what == HK_WHAT_TOP) {
        for (size_t i = run->at; i < end; i++)
            if (run->below.spots[i].chains > 0 && run->below.spots[i].kind == HK_SPOT_STITCH)
                return i;
        return NOWHERE;
    }
    if (where->what == HK_WHAT_STITCH) {
        for (size_t i = run->at; i < end; i++)
            if (run->below.spots[i].kind == HK_SPOT_STITCH && hk_run_kind_is(run, &run->below.spots[i], where->stitch))
                return i;
        return NOWHERE;
    }
    if (hk_run_seek(run, where, end, &position) != FOUND)
        return NOWHERE;
    return position.index != NOWHERE ? position.index : position.at;
}

static size_t named_index(struct run *run, const struct hk_where *where, size_t end)
{
    size_t index = index_of(run, where, end);
    hk_run_look(run, index < run->at || end < run->at ? 0 : (index == NOWHERE ? end : index) - run->at);
    return index;
}

size_t hk_run_next_marker(struct run *run, size_t end)
{
    size_t i = run->at;
    while (i < end && run->below.spots[i].kind != HK_SPOT_MARKER)
        i++;
    hk_run_look(run, i > run->at ? i - run->at : 0);
    return i < end ? i : NOWHERE;
}

enum named hk_run_step_named(struct run *run, const struct hk_step *step, size_t end, size_t *index)
{
    const struct hk_where *where = &step->where;
    switch (step->kind) {
    case HK_STEP_PASS:
    case HK_STEP_UNMARK:
        if (where->which == HK_WHICH_EACH)
            return GOES_ON;
        *index = hk_run_next_marker(run, end);
        return NAMED;
    case HK_STEP_REPEAT:
        for (size_t i = 0; i < step->step_count; i++) {
            enum named named = hk_run_step_named(run, &step->steps[i], end, index);
            if (named != GOES_ON)
                return named;
        }
        return GOES_ON;
    case HK_STEP_STITCH:
    case HK_STEP_GROUP:
    case HK_STEP_SKIP:
    case HK_STEP_LEAVE:
        if (!where->given)
            return step->kind == HK_STEP_STITCH && step->stitch < run->follow->catalogue->stitch_count &&
                           hk_run_stitch_of(run, step->stitch)->needs == 0
                       ? GOES_ON
                       : TAKES_ANY;
        if (where->which == HK_WHICH_SAME || where->what == HK_WHAT_NTH_CHAIN || where->what == HK_WHAT_BELOW ||
            where->what == HK_WHAT_OTHER)
            return GOES_ON;
        if (where->which == HK_WHICH_LAST || hk_run_is_jump(where) || where->what == HK_WHAT_TOP) {
            *index = named_index(run, where, end);
            return NAMED;
        }
        return TAKES_ANY;
    case HK_STEP_CHAIN:
    case HK_STEP_TURNING:
    case HK_STEP_JOIN:
    case HK_STEP_TURN:
    case HK_STEP_MARK:
    case HK_STEP_CUT:
    case HK_STEP_YARN:
    case HK_STEP_OTHER_SIDE:
        break;
    }
    return GOES_ON;
}

size_t hk_run_named_next(struct run *run, const struct list *list, size_t end)
{
    size_t nearest = NOWHERE, index;
    for (const struct list *l = list; l; l = l->outer) {
        enum named named = GOES_ON;
        for (size_t i = l->now + 1; i < l->count && named == GOES_ON; i++) {
            named = hk_run_step_named(run, &l->steps[i], end, &index);
            if (named == NAMED && index < nearest)
                nearest = index;
        }
        if (named != GOES_ON)
            return nearest;
        for (size_t i = 0; l->again && i <= l->now && named == GOES_ON; i++) {
            named = hk_run_step_named(run, &l->steps[i], end, &index);
            if (named == NAMED && index < nearest)
                nearest = index;
        }
    }
    return nearest;
}

/* Returns the place that later steps of the row name as its last; NOWHERE if none. */
static size_t last_named(struct run *run, const struct list *list, size_t end)
{
    for (const struct list *l = list; l; l = l->outer) {
        if (l->again)
            return NOWHERE;
        for (size_t i = l->now + 1; i < l->count; i++) {
            const struct hk_step *step = &l->steps[i];
            bool takes = step->kind == HK_STEP_STITCH || step->kind == HK_STEP_GROUP || step->kind == HK_STEP_SKIP ||
                         step->kind == HK_STEP_LEAVE;
            if (takes && step->where.given && (step->where.which == HK_WHICH_LAST || step->where.what == HK_WHAT_TOP))
                return named_index(run, &step->where, end);
            if (takes && step->where.which != HK_WHICH_SAME)
                return NOWHERE;
        }
    }
    return NOWHERE;
}

bool hk_run_limit_index(struct run *run, const struct hk_where *where, const struct list *list, size_t at,
                        size_t *limit)
{
    int64_t last = hk_graded_in(where->last, run->follow->size);
    switch (where->limit) {
    case HK_LIMIT_NONE: {
        size_t next = hk_run_named_next(run, list, run->end);
        *limit = next == NOWHERE ? run->end : next;
        return true;
    }
    case HK_LIMIT_LAST:
        *limit = hk_run_before_last(run, last, run->end);
        if (*limit != NOWHERE)
            return true;
        hk_run_fail(run, HK_CODE_WIDTH, at, "fewer than %" PRId64 " stitch%s left here", last, last == 1 ? " is" : "es are");
        run->trouble.short_of = true;
        return false;
    case HK_LIMIT_PLACE: {
        size_t index = named_index(run, where->until, run->end);
        if (index == NOWHERE || index < run->at) { /* "to skipped st" may lie behind */
            hk_run_none_left(run, where->until, NONE_LEFT, NULL, at);
            run->not_named = true;
            return false;
        }
        *limit = last > 0 ? hk_run_before_last(run, last, index) : index;
        if (*limit != NOWHERE)
            return true;
        hk_run_fail(run, HK_CODE_WIDTH, at, "fewer than %" PRId64 " stitches are left before that place", last);
        return false;
    }
    case HK_LIMIT_END: { /* "across" goes to the end, except for a named last place */
        size_t named = last_named(run, list, run->end);
        *limit = named == NOWHERE ? run->end : named;
        return true;
    }
    case HK_LIMIT_COUNT:
        break;
    }
    *limit = run->end;
    return true;
}
