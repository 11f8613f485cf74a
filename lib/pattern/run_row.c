/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The start of a row, and the check at its end. */
#include "pattern/run.h"

#include <assert.h>
#include <inttypes.h>
#include <string.h>

/* Returns the step of a starting chain after slip stitches; 0 if there is none. */
static size_t travel_steps(const struct run *run)
{
    const struct hk_row *row = run->row;
    size_t i = 0, slips = 0;
    while (i < row->step_count && row->steps[i].kind == HK_STEP_TURN)
        i++;
    for (; i < row->step_count; i++) {
        const struct hk_step *step = &row->steps[i];
        if (step->kind == HK_STEP_STITCH && step->stitch == run->follow->slip) {
            slips++;
            continue;
        }
        const struct hk_step *first = step;
        while (first->kind == HK_STEP_GROUP || first->kind == HK_STEP_REPEAT)
            first = first->steps;
        return slips && (first->kind == HK_STEP_CHAIN || first->kind == HK_STEP_TURNING) ? i : 0;
    }
    return 0;
}

/* Leaves the places before the one where work begins. */
static bool leave_before(struct run *run, size_t here)
{
    if (!hk_edge_add(&run->behind, run->below.spots, here))
        return hk_run_lose(run);
    memmove(run->below.spots, run->below.spots + here, (run->below.count - here) * sizeof *run->below.spots);
    run->below.count -= here;
    run->end = run->below.count;
    return true;
}

/* Travels by slip stitches: the places passed are left, or come last in a round; the chain starts where they end. */
static bool travel(struct run *run, size_t steps)
{
    bool round = run->manner.round || run->row->joined;
    bool moved = false;
    if (round && run->follow->joined && run->at == 0 && run->below.count > 0) {
        const struct hk_step *first = &run->row->steps[0];
        if (first->where.which != HK_WHICH_FIRST && first->where.which != HK_WHICH_SAME) {
            run->at = 1; /* the round was joined in its first place */
            moved = true;
        }
    }
    struct list list = {.steps = run->row->steps, .count = steps};
    if (!hk_run_list(run, &list))
        return false;
    run->made.count = 0; /* slip stitches count 0 */
    if (run->here == NOWHERE || (!moved && run->at == 0))
        return true;
    size_t here = run->here;
    if (round) {
        run->travelled = hk_run_places_between(run, 0, here);
        if (!hk_edge_rotate(&run->below, here, &run->scratch))
            return hk_run_lose(run);
    } else {
        if (!leave_before(run, here))
            return false;
    }
    run->here = round ? NOWHERE : 0;
    run->at = run->used = !round; /* a round ends in this place, unless it is worked first */
    run->sub = 0;
    run->gap_at = NOWHERE;
    run->end = run->below.count;
    run->leading = true;
    run->landed = !round;
    return true;
}

/* "Join B with sl st in any ch-2 sp": starts the round there. */
static bool join_first(struct run *run, const struct hk_step *step)
{
    if (!hk_run_log_stitch(run, run->follow->slip, 1))
        return false;
    if (!step->where.given)
        return true;
    struct hk_where where = step->where;
    if (where.what == HK_WHAT_OTHER) /* the row is worked on the other work */
        where = (struct hk_where){.given = true, .count = where.count, .stitch = SIZE_MAX, .at = where.at};
    if (!hk_run_take_place(run, &where, run->end, step->at))
        return false;
    size_t from = run->here == NOWHERE ? run->at : run->here; /* a gap, or no place used */
    if (run->manner.round || run->row->joined) {
        if (!hk_edge_rotate(&run->below, from, &run->scratch))
            return hk_run_lose(run);
    } else if (!leave_before(run, from)) {
        return false;
    }
    run->here = NOWHERE;
    run->at = run->used = 0;
    run->skipped_count = run->aside_count = 0; /* these places are left */
    run->leading = true;
    return true;
}

/* "Ch 6, turn. Dc in 4th ch from hook": returns true when the chain widens the work. */
static bool lead_widens(struct run *run, int64_t chains, const struct hk_step *step)
{
    run->widening = step;
    run->scratch.count = 0;
    if (!hk_edge_add(&run->scratch, run->below.spots, run->below.count))
        return hk_run_lose(run);
    run->below.count = 0;
    for (int64_t i = 0; i < chains; i++)
        if (!hk_edge_push(&run->below, (struct hk_spot){.kind = HK_SPOT_CHAIN,
                                                        .stitch = (uint16_t)run->follow->chain,
                                                        .group = hk_run_group_new(run)}))
            return hk_run_lose(run);
    if (!hk_edge_add(&run->below, run->scratch.spots, run->scratch.count))
        return hk_run_lose(run);
    run->end = run->below.count;
    return true;
}

static bool is_tunisian(const struct run *run)
{
    return run->row_stitch != NO_KIND && hk_run_stitch_of(run, run->row_stitch)->family == HK_FAMILY_TUNISIAN;
}

/*
 * Tunisian crochet: the loop on the hook is the first stitch, not stated. It also uses the first chain of a foundation.
 */
static bool loop_on_hook(struct run *run)
{
    struct position position = {0};
    const struct hk_where any = {.what = HK_WHAT_ANY};
    const struct hk_step *worked = hk_run_first_worked(run->row->steps, run->row->step_count);
    if (worked && (worked->where.what == HK_WHAT_NTH_CHAIN || worked->where.which == HK_WHICH_FIRST))
        return true;
    if (hk_run_seek(run, &any, run->end, &position) != FOUND)
        return true;
    return hk_run_take(run, &position) && hk_run_log_stitch(run, run->follow->chain, 1) &&
           hk_run_push(run, (struct hk_spot){.kind = HK_SPOT_STITCH,
                                             .stitch = (uint16_t)run->row_stitch,
                                             .group = hk_run_group_new(run)});
}

/* "Ch 5, sc in 2nd ch from hook": without an edge the chain is the foundation; on a foundation it lengthens it. */
static bool founds(struct run *run, size_t i, size_t *first)
{
    const struct hk_row *row = run->row;
    if ((run->below.count > 0 && !run->follow->foundation) || i + 1 >= row->step_count ||
        row->steps[i].kind != HK_STEP_CHAIN)
        return true;
    const struct hk_step *worked = hk_run_first_worked(row->steps + i + 1, row->step_count - i - 1);
    if (!worked || worked->where.what != HK_WHAT_NTH_CHAIN)
        return true;
    int64_t chains = hk_graded_in(row->steps[i].many, run->follow->size);
    if (chains > (int64_t)HK_SPOTS_MOST)
        return hk_run_fail(run, HK_CODE_COUNT_TOO_LARGE, row->steps[i].at, "a foundation of more than %zu chains",
                           HK_SPOTS_MOST);
    *first = i + 1;
    return lead_widens(run, chains, &row->steps[i]) && hk_run_log_stitch(run, run->follow->chain, chains);
}

static bool starts(struct run *run, size_t *first)
{
    const struct hk_row *row = run->row;
    size_t i = 0;
    while (i < row->step_count && row->steps[i].kind == HK_STEP_TURN)
        i++;
    struct lead lead = run->follow->lead;
    *first = i;
    size_t join = hk_row_join(row);
    if (join < row->step_count) { /* "Sk next 20 sts, join yarn in next st" */
        struct list skips = {.steps = row->steps, .count = join, .now = i};
        i = *first = join + 1;
        if (!hk_run_list(run, &skips) || !join_first(run, &row->steps[join]))
            return false;
    }
    if (!founds(run, i, first) || *first > i)
        return !run->failed;
    size_t travels = travel_steps(run);
    if (travels) {
        *first = travels;
        return travel(run, travels);
    }
    if (is_tunisian(run) && !run->manner.strict && row->steps[i].kind != HK_STEP_CHAIN &&
        row->steps[i].kind != HK_STEP_TURNING)
        return loop_on_hook(run);
    if (!lead.chains || i == row->step_count || row->steps[i].kind == HK_STEP_CHAIN ||
        row->steps[i].kind == HK_STEP_TURNING)
        return true;
    const struct hk_step *worked = hk_run_first_worked(row->steps, row->step_count);
    if (worked && worked->where.what == HK_WHAT_NTH_CHAIN)
        return lead_widens(run, lead.chains, lead.step);
    return hk_run_start_chain(run, lead.chains, lead.step, false);
}

static size_t open_repeats(const struct run *run, const struct hk_step *steps, size_t count)
{
    size_t open = 0;
    for (size_t i = 0; i < count; i++) {
        if (steps[i].kind == HK_STEP_REPEAT && steps[i].where.limit == HK_LIMIT_NONE)
            open++;
        size_t inner = steps[i].kind == HK_STEP_TURNING ? 0 : open_repeats(run, steps[i].steps, steps[i].step_count);
        open += steps[i].kind == HK_STEP_REPEAT && inner ? 2 * inner : inner;
    }
    return open;
}

static void run_clear(struct run *run)
{
    run->made.count = run->below.count = run->behind.count = 0;
    run->log.count = run->skipped_first = run->skipped_count = run->beyond = 0;
    run->took_count = run->aside_count = 0;
    run->at = run->deep = 0;
    run->sub = run->own_chains = run->used = run->went_on = 0;
    run->here = run->gap_at = run->foundation_first = run->most_of = NOWHERE;
    run->in_group = false;
    run->travelled = 0;
    run->cut_m = 0;
    run->yarn = SIZE_MAX;
    run->group = 0;
    run->in = (struct inside){0};
    run->leading = true;
    run->leaves = run->ring = run->landed = run->failed = run->out_of_memory = run->not_named = run->equal_wanted =
        false;
    run->widening = NULL;
    run->lead = (struct lead){0};
    run->trouble = (struct hk_trouble){0};
    run->readings = run->choices = 0;
}

int64_t hk_run_leftover(const struct run *run)
{
    int64_t left = 0;
    for (size_t i = run->at; i < run->below.count; i++)
        left += hk_run_is_worked(&run->below.spots[i]);
    return left;
}

/* Returns true when no step works into the next stitch or a kind of stitch. */
static bool works_only_in_spaces(const struct run *run, const struct hk_step *steps, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        const struct hk_step *step = &steps[i];
        bool takes =
            step->kind == HK_STEP_SKIP ||
            (step->kind == HK_STEP_STITCH && step->stitch != run->follow->slip &&
             (step->stitch >= run->follow->catalogue->stitch_count || hk_run_stitch_of(run, step->stitch)->needs > 0));
        takes = takes || step->kind == HK_STEP_GROUP;
        if (takes && step->where.given && !hk_run_is_jump(&step->where) && step->where.which != HK_WHICH_SAME)
            return false;
        if (takes && !step->where.given && steps == run->row->steps)
            return false;
        if (step->kind == HK_STEP_REPEAT && !works_only_in_spaces(run, step->steps, step->step_count))
            return false;
    }
    return true;
}

bool hk_run_jumped_over(const struct run *run)
{
    if (run->ring)
        return true;
    if (!hk_run_works_in_spaces(run))
        return false;
    return (run->travelled > 0 && hk_run_leftover(run) <= run->travelled) ||
           (run->row->repeats && works_only_in_spaces(run, run->row->steps, run->row->step_count));
}

static bool finish(struct run *run)
{
    int64_t left = hk_run_leftover(run);
    if (left == 0 || run->leaves || hk_run_jumped_over(run))
        return true;
    bool stays = !run->row->knit || run->row->turned; /* unworked knit stitches are left only by a turn */
    if (!run->row->to_end && !run->manner.strict && stays)
        return true;
    hk_run_fail(run, HK_CODE_WIDTH, 0, "%" PRId64 " stitch%s at the end of the row", left,
                left == 1 ? " remains" : "es remain");
    run->trouble.remain = left;
    return false;
}

/* Removes all markers after the row ("removing all markers"). */
static void markers_out(struct run *run)
{
    bool out = false;
    for (size_t i = 0; i < run->row->step_count; i++)
        out |= run->row->steps[i].kind == HK_STEP_UNMARK && run->row->steps[i].where.which == HK_WHICH_EACH;
    size_t kept = 0;
    for (size_t i = 0; out && i < run->made.count; i++) {
        struct hk_spot spot = run->made.spots[i];
        spot.marked = false;
        if (spot.kind != HK_SPOT_MARKER)
            run->made.spots[kept++] = spot;
    }
    run->made.count = out ? kept : run->made.count;
}

/* Returns a space without a number of chains, "in each sp"; NULL if there is none. */
static const struct hk_where *bare_space(const struct hk_step *steps, size_t count)
{
    assert(steps || count == 0);
    for (size_t i = 0; i < count; i++) {
        for (const struct hk_where *where = &steps[i].where; where; where = where->besides)
            if (where->given && where->what == HK_WHAT_SPACE && where->chains == 0 && !where->of_chains &&
                where->which != HK_WHICH_SAME)
                return where;
        const struct hk_where *inner = bare_space(steps[i].steps, steps[i].step_count);
        if (inner)
            return inner;
    }
    return NULL;
}

/* Returns true when groups of stitches touch without chains between them: this gap is called a space too. */
static bool groups_touch(const struct hk_edge *edge)
{
    for (size_t i = 0, behind; i < edge->count; i = behind) {
        size_t stitches = 0;
        for (behind = i; behind < edge->count && edge->spots[behind].group == edge->spots[i].group; behind++)
            stitches += edge->spots[behind].kind == HK_SPOT_STITCH;
        if (stitches > 1 && behind < edge->count && edge->spots[behind].kind == HK_SPOT_STITCH)
            return true;
    }
    return false;
}

/* Reports an ambiguous "sp" when there are spaces and gaps. */
static bool spaces_reported(struct run *run)
{
    const struct hk_where *bare = bare_space(run->row->steps, run->row->step_count);
    if (!bare || hk_run_most_chains(run) == 0 || !groups_touch(&run->below))
        return true;
    hk_run_look(run, run->below.count);
    hk_run_fail(run, HK_CODE_ROW_PLACE, bare->at, "sp may be a space of chains or one between groups, and both are there");
    return hk_run_advise(run, "write in next ch-%" PRId64 " sp, or in next sp between groups", hk_run_most_chains(run));
}

static bool run_through(struct run *run)
{
    run_clear(run);
    struct hk_follow *follow = run->follow;
    if (!hk_edge_copy(&run->below, &follow->edge) || !hk_edge_room(&run->made, 2 * follow->edge.count + 1))
        return hk_run_lose(run);
    run->end = run->below.count;
    run->row_stitch = hk_run_row_stitch(run, run->row->steps, run->row->step_count);
    run->works = hk_run_first_worked(run->row->steps, run->row->step_count) != NULL;
    run->join_says = hk_run_join_says(run);
    if (!spaces_reported(run))
        return false;
    size_t first;
    if (!starts(run, &first))
        return false;
    struct list list = {.steps = run->row->steps, .count = run->row->step_count, .now = first};
    if (!hk_run_list(run, &list))
        return false;
    if (!hk_run_pass_markers(run, run->below.count) || !finish(run))
        return false;
    markers_out(run);
    return !run->landed || hk_edge_add(&run->behind, run->below.spots, 1) || hk_run_lose(run);
}

/*
 * Runs the open repeats of a row, none ended by a named place, equally often and so that the row fits. They have been
 * run 0 times before.
 */
static bool run_equal(struct run *run)
{
    struct hk_trouble none = run->trouble;
    if (!run->failed || none.remain == 0)
        return !run->failed;
    run->equal = 1;
    if (run_through(run) || run->out_of_memory)
        return !run->out_of_memory;
    if (run->trouble.remain == 0) {
        if (run->trouble.short_of)
            run->trouble = none;
        return false;
    }
    int64_t each = none.remain - run->trouble.remain;
    if (each <= 0)
        return hk_run_endless(run, &run->row->steps[0]);
    run->equal = none.remain / each;
    return run_through(run);
}

bool hk_run_row(struct run *run)
{
    run->equal = 0;
    run->open_repeats = open_repeats(run, run->row->steps, run->row->step_count);
    bool good = run_through(run);
    return run->equal_wanted && !run->manner.fixed ? run_equal(run) : good;
}
