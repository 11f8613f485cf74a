/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Stitches into places of other work: of row ends, of what rows left, of the last row of a piece. */
#include "pattern/run.h"

#include <inttypes.h>
#include <stdlib.h>

static const char *const names[] = {
    [HK_OTHER_ROW_ENDS] = "row end",       [HK_OTHER_LEFT] = "unworked stitch",
    [HK_OTHER_CHAINS] = "underarm chain",  [HK_OTHER_STITCHES] = "stitch",
    [HK_OTHER_FOUNDATION] = "foundation chain", [HK_OTHER_BASE] = "stitch of the edge",
    [HK_OTHER_EVENLY] = "stitch"};

static const char *plural(int64_t count, enum hk_other_kind kind)
{
    bool stitch = kind == HK_OTHER_LEFT || kind == HK_OTHER_STITCHES || kind == HK_OTHER_EVENLY;
    return count == 1 ? "" : stitch ? "es" : "s";
}

static bool is_of(const struct hk_other *other, const struct hk_parts *works)
{
    return !works || (other->part >= works->first && other->part - works->first < works->count);
}

static bool matches(const struct hk_other *other, const struct hk_where *where, const struct hk_parts *works)
{
    return other->kind == where->other && is_of(other, works);
}

/* Places that the run has not used up yet. */
static int64_t left_of(const struct run *run, size_t index, bool all)
{
    const struct hk_other *other = &run->follow->others[index];
    int64_t left = other->count * (all ? other->copies : 1) - other->taken;
    for (size_t i = 0; i < run->took_count; i++)
        left -= run->took[i].other == index ? run->took[i].count : 0;
    return left;
}

static bool take(struct run *run, size_t index, int64_t count)
{
    if (run->took_count == run->took_capacity) {
        size_t capacity = run->took_capacity ? 2 * run->took_capacity : 8;
        struct took *grown = realloc(run->took, capacity * sizeof *grown);
        if (!grown)
            return hk_run_lose(run);
        run->took = grown;
        run->took_capacity = capacity;
    }
    run->took[run->took_count++] = (struct took){index, count};
    return true;
}

static int64_t none(struct run *run, const struct hk_where *where, size_t at, int64_t wanted, int64_t there)
{
    const char *name = names[where->other];
    if (wanted > 0 && there > 0)
        hk_run_fail(run, HK_CODE_WIDTH, at, "%" PRId64 " %s%s are named here, and there are %" PRId64, wanted, name,
                    plural(wanted, where->other), there);
    else
        hk_run_fail(run, HK_CODE_WIDTH, at, "no %s is there to work this into", name);
    run->trouble.short_of = true;
    if (where->other == HK_OTHER_LEFT && there == 0)
        hk_run_advise(run, "name the piece or part, as its heading does: unworked sts of back");
    else if (where->other == HK_OTHER_ROW_ENDS && there == 0)
        hk_run_advise(run, "name a piece that is worked in rows above it, as its heading does: row ends of back");
    return -1;
}

/* "3 of every 4": of a rest that is no 4, the first of them. */
static int64_t some_of(const struct hk_where *where, int64_t count)
{
    if (where->of == 0)
        return count;
    int64_t rest = count % where->of;
    return count / where->of * where->take + (rest < where->take ? rest : where->take);
}

/* Row ends are not used up: a piece has two sides. */
static int64_t row_ends(struct run *run, const struct hk_where *where, size_t at)
{
    int64_t there = 0, wanted = hk_graded_in(where->count, run->follow->size);
    size_t parts = 0, beside = 0;
    for (size_t i = 0; i < run->follow->other_count; i++)
        for (size_t w = 0; w < (where->work_count ? where->work_count : 1); w++) {
            const struct hk_other *other = &run->follow->others[i];
            if (!matches(other, where, where->works ? &where->works[w] : NULL))
                continue;
            there += other->count * (where->all ? other->copies : 1);
            beside += other->beside && where->works && where->works[w].count > 1;
            parts++;
        }
    if (where->which == HK_WHICH_EACH && beside > 0 && parts > 1) {
        hk_run_fail(run, HK_CODE_ROW_PLACE, at,
                    "its rows are worked side by side in part: the edge that is meant is missing");
        hk_run_advise(run, "name the part, or write how many row ends: in each of next 44 row ends of back");
        return -1;
    }
    if (where->which == HK_WHICH_EACH)
        return there > 0 ? some_of(where, there) : none(run, where, at, 0, there);
    return wanted <= there ? wanted : none(run, where, at, wanted, there);
}

/*
 * Of one work. Stitches that wait in several sets, for several copies of a sleeve, are used up a set a copy; a set that
 * is just as large as what is named comes first.
 */
static int64_t of_sets(struct run *run, const struct hk_where *where, const struct hk_parts *works, size_t at)
{
    const struct hk_follow *follow = run->follow;
    bool each = where->which == HK_WHICH_EACH;
    int64_t wanted = each ? 0 : hk_graded_in(where->count, follow->size), most = 0;
    int64_t copies = where->other == HK_OTHER_STITCHES ? 1 : follow->copies;
    size_t first = NOWHERE, sets = 0;
    for (size_t i = 0; i < follow->other_count; i++) {
        int64_t left = matches(&follow->others[i], where, works) ? left_of(run, i, where->all) : 0;
        if (left <= 0)
            continue;
        sets++;
        most = left > most ? left : most;
        if (each && first != NOWHERE && left != left_of(run, first, where->all) && !where->all && sets > 1) {
            hk_run_fail(run, HK_CODE_ROW_PLACE, at, "these places stand in several sets, of %" PRId64 " and %" PRId64,
                        left_of(run, first, where->all), left);
            hk_run_advise(run, "write how many of them, and of which piece or part");
            return -1;
        }
        bool fits = each ? first == NOWHERE
                         : left == wanted ? first == NOWHERE || left_of(run, first, where->all) != wanted
                                          : left > wanted && first == NOWHERE;
        first = fits ? i : first;
    }
    if (first == NOWHERE)
        return none(run, where, at, wanted, most);
    if (each)
        wanted = left_of(run, first, where->all);
    if (sets == 1) { /* all copies stand on one set */
        if (wanted * copies > most)
            return none(run, where, at, wanted * copies, most);
        return take(run, first, wanted * copies) ? some_of(where, wanted) : -1;
    }
    if (!take(run, first, wanted))
        return -1;
    for (size_t i = 0; i < follow->other_count && copies > 1; i++)
        if (i != first && matches(&follow->others[i], where, works) && left_of(run, i, where->all) >= wanted) {
            if (!take(run, i, wanted))
                return -1;
            copies--;
        }
    if (copies > 1)
        return none(run, where, at, wanted * follow->copies, most);
    return some_of(where, wanted);
}

int64_t hk_run_take_others(struct run *run, const struct hk_where *where, size_t at)
{
    at = where->given ? where->at : at;
    if (where->other == HK_OTHER_EVENLY)
        return hk_graded_in(where->count, run->follow->size);
    if (where->other == HK_OTHER_ROW_ENDS)
        return row_ends(run, where, at);
    int64_t count = 0;
    for (size_t w = 0; w < (where->work_count ? where->work_count : 1); w++) {
        int64_t of = of_sets(run, where, where->works ? &where->works[w] : NULL, at);
        if (of < 0)
            return -1;
        if (where->both_layers && w > 0 && of != count) {
            hk_run_fail(run, HK_CODE_WIDTH, at, "the two layers have %" PRId64 " and %" PRId64 " stitches", count, of);
            return -1;
        }
        count = where->both_layers ? of : count + of;
    }
    return count;
}

bool hk_run_beyond_edge(const struct run *run, const struct hk_where *where)
{
    if (where->other != HK_OTHER_LEFT || where->work_count > 0)
        return false;
    for (size_t i = 0; i < run->follow->other_count && run->follow->beyond[0].count == 0; i++)
        if (run->follow->others[i].kind == HK_OTHER_LEFT && left_of(run, i, false) > 0)
            return false;
    return true;
}

bool hk_run_step_others(struct run *run, const struct hk_step *step, size_t stitch, int64_t many)
{
    int64_t places = hk_run_take_others(run, &step->where, step->at);
    int64_t needs = hk_run_stitch_of(run, stitch)->needs;
    if (places < 0)
        return false;
    if (step->where.other != HK_OTHER_EVENLY && step->where.which == HK_WHICH_EACH && needs > 1) {
        if (places % needs != 0) {
            hk_run_fail(run, HK_CODE_WIDTH, step->at, "%" PRId64 " of these places remain", places % needs);
            run->trouble.remain = places % needs;
            return false;
        }
        places /= needs;
    }
    if (step->where.which == HK_WHICH_SAME)
        places = 1;
    if (places > 0)
        run->leading = false;
    if (step->where.other == HK_OTHER_BASE && stitch == run->follow->slip) /* it ties the row to the edge */
        return hk_run_log_stitch(run, stitch, places * many);
    for (int64_t i = 0; i < places; i++)
        if (!hk_run_produce(run, stitch, many, hk_run_group_now(run)))
            return false;
    run->here = NOWHERE;
    return true;
}
