/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Repeats: counted, up to a place, and as often as the rest of the row allows. */
#include "pattern/run.h"

#include <inttypes.h>
#include <stdlib.h>

static bool run_once(struct run *run, const struct hk_step *step, const struct list *list, size_t first, size_t count,
                     bool again)
{
    struct list inner = {.steps = step->steps + first,
                         .count = count,
                         .again = again,
                         .open = step->where.limit != HK_LIMIT_COUNT,
                         .outer = list};
    return hk_run_list(run, &inner);
}

bool hk_run_endless(struct run *run, const struct hk_step *step)
{
    hk_run_fail(run, HK_CODE_ROW_ENDLESS, step->at, "this repeat has no end");
    run->trouble.endless = true;
    return hk_run_advise(run, "let each run of the repeat use up stitches of the row below");
}

static bool repeat_times(struct run *run, const struct hk_step *step, const struct list *list)
{
    int64_t times = hk_graded_in(step->many, run->follow->size);
    if (step->times_open) {
        run->readings |= HK_READING_TIMES;
        times += (run->reading & HK_READING_TIMES) != 0;
    }
    for (int64_t i = 0; i < times; i++) {
        size_t count = i + 1 == times && step->last_steps ? step->last_steps : step->step_count;
        if (!run_once(run, step, list, 0, count, i + 1 < times))
            return false;
    }
    return true;
}

static bool at_limit(const struct run *run, size_t limit)
{
    return hk_run_places_up_to(run, run->at, limit, 0) == 0;
}

static bool remains(struct run *run, const struct hk_step *step, int64_t remain)
{
    run->failed = false;
    hk_run_fail(run, HK_CODE_WIDTH, step->at, "%" PRId64 " stitch%s where this repeat should come out", remain,
                remain == 1 ? " remains" : "es remain");
    run->trouble.remain = remain ? remain : 1;
    return false;
}

/* Runs a repeat once within its limit; *stopped: it reached its end by "ending last rep at **", and must not without.
 */
static bool repeat_run(struct run *run, const struct hk_step *step, const struct list *list, size_t limit,
                       bool *stopped)
{
    *stopped = false;
    run->went_on++;
    if (!step->last_steps)
        return run_once(run, step, list, 0, step->step_count, true);
    if (!run_once(run, step, list, 0, step->last_steps, true))
        return false;
    *stopped = at_limit(run, limit);
    int64_t remain = hk_run_places_between(run, run->at, limit);
    return *stopped || (run_once(run, step, list, step->last_steps, step->step_count - step->last_steps, true) &&
                        (!at_limit(run, limit) || remains(run, step, remain)));
}

static bool nothing_new(const struct run *run, const struct mark *mark)
{
    return run->at == mark->at && run->sub == mark->sub && run->gap_at == mark->gap_at;
}

/* Repeats up to a limit, which must fit exactly; first: at least once. */
static bool repeat_to(struct run *run, const struct hk_step *step, const struct list *list, size_t limit, bool first)
{
    size_t saved = run->end;
    bool stopped = false, good = true;
    run->end = limit;
    while (good && !stopped && (first || !at_limit(run, limit))) {
        struct mark mark = hk_run_mark_set(run);
        good = repeat_run(run, step, list, limit, &stopped);
        if (good && nothing_new(run, &mark)) {
            run->end = saved;
            return hk_run_endless(run, step);
        }
        if (!good && !run->out_of_memory && !first && run->trouble.short_of) {
            bool named = run->not_named;
            hk_run_go_back(run, &mark);
            run->end = saved;
            return named || remains(run, step, hk_run_places_between(run, run->at, limit));
        }
        first = false;
    }
    run->end = saved;
    return good;
}

/* Runs an open repeat a fixed number of times, equal for all open repeats. */
static bool repeat_equal(struct run *run, const struct hk_step *step, const struct list *list)
{
    run->equal_wanted = true;
    run->went_on += run->equal;
    for (int64_t i = 0; i < run->equal; i++)
        if (!run_once(run, step, list, 0, step->step_count, true))
            return false;
    return true;
}

static bool comes_out(const struct run *run)
{
    return at_limit(run, run->below.count) || run->leaves;
}

/* Returns true when a step names a place itself. */
static bool names(struct run *run, const struct hk_step *steps, size_t count, size_t place)
{
    for (size_t i = 0; i < count; i++) {
        size_t index;
        bool repeat = steps[i].kind == HK_STEP_REPEAT;
        if (repeat ? names(run, steps[i].steps, steps[i].step_count, place)
                   : hk_run_step_named(run, &steps[i], run->end, &index) == NAMED && index == place)
            return true;
    }
    return false;
}

/* Returns true when steps work only into named places, spaces and gaps. */
static bool only_jumps(const struct hk_step *steps, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        bool takes = steps[i].kind == HK_STEP_STITCH || steps[i].kind == HK_STEP_GROUP || steps[i].kind == HK_STEP_SKIP;
        if (takes && !hk_run_is_jump(&steps[i].where))
            return false;
        if (steps[i].kind == HK_STEP_REPEAT && !only_jumps(steps[i].steps, steps[i].step_count))
            return false;
    }
    return true;
}

/* Returns true when nothing later in the row uses a place. */
static bool takes_last(struct run *run, const struct list *list)
{
    size_t ignored;
    for (const struct list *l = list; l; l = l->outer) {
        if (l->again)
            return false;
        for (size_t i = l->now + 1; i < l->count; i++)
            if (hk_run_step_named(run, &l->steps[i], run->end, &ignored) != GOES_ON)
                return false;
    }
    return true;
}

static bool nested(struct run *run, const struct hk_step *step)
{
    hk_run_fail(run, HK_CODE_ROW_NESTED, step->at,
                "this repeat is inside another, and neither its number nor its end is stated");
    return hk_run_advise(run, "write (dc, ch 1) 3 times, or [dc, ch 1] to next ch-2 sp");
}

/*
 * Repeats as often as the rest of the row allows: runs to the end, then undoes runs until the rest of the row fits,
 * after a last run up to ** if one is stated. *done: the rest of the list has been worked too.
 */
static bool repeat_open(struct run *run, const struct hk_step *step, struct list *list, bool *done)
{
    size_t limit = hk_run_named_next(run, list, run->end), capacity = 0, count = 0;
    *done = false;
    if (run->in.on && !run->manner.fixed)
        return hk_run_endless(run, step);
    if (limit != NOWHERE && !names(run, step->steps, step->step_count, limit))
        return repeat_to(run, step, list, limit, false);
    if (list->outer && only_jumps(step->steps, step->step_count) && takes_last(run, list))
        return repeat_to(run, step, list, run->end, false);
    for (const struct list *l = list; l; l = l->outer)
        if (l->open)
            return nested(run, step);
    if (run->manner.fixed) {
        run->equal = run->manner.runs;
        return repeat_equal(run, step, list);
    }
    bool tail = list->now + 1 < list->count;
    if (run->open_repeats > 1)
        return repeat_equal(run, step, list);
    struct mark *marks = NULL;
    bool good = true;
    struct hk_trouble trouble = {0};
    if (hk_run_on_ring(run))
        return hk_run_none_left(run, &(struct hk_where){0}, NONE_LEFT, NULL, step->at);
    while (good && !at_limit(run, run->end)) {
        if (count == capacity) {
            capacity = capacity ? 2 * capacity : 64;
            struct mark *grown = realloc(marks, capacity * sizeof *grown);
            if (!grown) {
                free(marks);
                return hk_run_lose(run);
            }
            marks = grown;
        }
        marks[count++] = hk_run_mark_set(run);
        run->went_on++;
        good = run_once(run, step, list, 0, step->step_count, true);
        if (good && nothing_new(run, &marks[count - 1])) {
            free(marks);
            return hk_run_endless(run, step);
        }
    }
    if (!good) {
        trouble = run->trouble;
        bool named = run->not_named;
        if (run->out_of_memory || count < 2 || !run->trouble.short_of) {
            if (run->out_of_memory || !run->trouble.short_of || !tail) {
                free(marks);
                return false;
            }
        }
        hk_run_go_back(run, &marks[--count]);
        if (named && !tail) {
            struct position position = {.index = run->here, .at = run->end, .uses = true};
            free(marks);
            return hk_run_take(run, &position);
        }
    }
    int64_t remain = hk_run_places_between(run, run->at, run->end);
    size_t index = list->now;
    for (size_t tries = 0; tries < BACKTRACKS_MOST; tries++) {
        struct mark here = hk_run_mark_set(run);
        list->now = index;
        bool ended = !step->last_steps || run_once(run, step, list, 0, step->last_steps, false);
        list->now = index + 1;
        bool worked = ended && hk_run_list(run, list);
        if (run->out_of_memory || run->trouble.spent) {
            free(marks);
            return false;
        }
        if (worked && comes_out(run)) {
            free(marks);
            *done = true;
            return true;
        }
        if (tries == 0 && !worked && run->trouble.code && !run->trouble.short_of)
            trouble = run->trouble;
        if (worked && (tries == 0 || remain == 0))
            remain = hk_run_places_between(run, run->at, run->end);
        hk_run_go_back(run, count ? &marks[--count] : &here);
        if (count == 0 && tries > 0)
            break;
        if (!tail)
            break;
    }
    free(marks);
    run->failed = false;
    if (trouble.code && !trouble.short_of) {
        run->trouble = trouble;
        run->failed = true;
        return false;
    }
    return remains(run, step, remain);
}

bool hk_run_step_repeat(struct run *run, const struct hk_step *step, struct list *list, bool *done)
{
    size_t limit;
    *done = false;
    if (run->deep >= DEEP_MOST)
        return hk_run_fail(run, HK_CODE_ROW_SYNTAX, step->at, "brackets are nested too deep");
    if (step->where.limit == HK_LIMIT_COUNT)
        return repeat_times(run, step, list);
    if (step->where.limit == HK_LIMIT_NONE)
        return repeat_open(run, step, list, done);
    if (!hk_run_limit_index(run, &step->where, list, step->at, &limit))
        return false;
    bool ending = step->where.limit == HK_LIMIT_END && limit == run->end && !list->outer && !takes_last(run, list);
    return ending ? repeat_open(run, step, list, done) /* "rep from * around, ending k1" */
                  : repeat_to(run, step, list, limit, true);
}
