/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Stitches worked into places of other work: row ends, stitches left, the last row of a piece. */
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
    bool stitch = kind == HK_OTHER_LEFT || kind == HK_OTHER_STITCHES;
    return count == 1 ? "" : stitch ? "es" : "s";
}

static bool matches(const struct hk_other *other, const struct hk_where *where, const struct hk_parts *works)
{
    return other->kind == where->other && (!works || hk_parts_have(*works, other->part));
}

/* Returns the places of all copies that the run has not used. */
static int64_t left_in_all(const struct run *run, size_t index)
{
    const struct hk_other *other = &run->follow->others[index];
    int64_t left = other->count * other->copies - other->taken;
    for (size_t i = 0; i < run->took_count; i++)
        left -= run->took[i].other == index ? run->took[i].count : 0;
    return left;
}

/* The same, for one copy. */
static int64_t left_of(const struct run *run, size_t index)
{
    return hk_other_left_of_copy(&run->follow->others[index], left_in_all(run, index));
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
    run->took[run->took_count++] = (struct took){.other = index, .count = count};
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

/* Returns the places for "3 of every 4"; of an incomplete last 4, the first 3. */
static int64_t some_of(const struct hk_where *where, int64_t count)
{
    if (where->of == 0)
        return count;
    int64_t rest = count % where->of;
    return count / where->of * where->take + (rest < where->take ? rest : where->take);
}

/* Returns the number of row ends, which stay available, since a piece has two sides. */
static int64_t row_ends_of(struct run *run, const struct hk_where *where, const struct hk_parts *works, size_t work_count,
                           size_t at)
{
    int64_t there = 0, wanted = hk_graded_in(where->count, run->follow->size);
    size_t parts = 0, beside = 0;
    for (size_t i = 0; i < run->follow->other_count; i++)
        for (size_t w = 0; w < (work_count ? work_count : 1); w++) {
            const struct hk_other *other = &run->follow->others[i];
            if (!matches(other, where, work_count ? &works[w] : NULL))
                continue;
            there += other->count * (where->all ? other->copies : 1);
            beside += other->beside && work_count > 0 && works[w].count > 1;
            parts++;
        }
    if (where->which == HK_WHICH_EACH && beside > 0 && parts > 1) {
        hk_run_fail(run, HK_CODE_ROW_PLACE, at, "some of its rows are worked side by side: name the edge");
        hk_run_advise(run, "name the part, or write how many row ends: in each of next 44 row ends of back");
        return -1;
    }
    if (where->which == HK_WHICH_EACH)
        return there > 0 ? some_of(where, there) : none(run, where, at, 0, there);
    return wanted <= there ? wanted : none(run, where, at, wanted, there);
}

static int64_t layers_differ(struct run *run, const char *name, int64_t a, int64_t b, size_t at)
{
    hk_run_fail(run, HK_CODE_WIDTH, at, "the two layers have %" PRId64 " and %" PRId64 " %s", a, b, name);
    return -1;
}

static int64_t row_ends(struct run *run, const struct hk_where *where, size_t at)
{
    if (!where->both_layers || where->work_count < 2)
        return row_ends_of(run, where, where->works, where->work_count, at);
    int64_t count = 0;
    for (size_t w = 0; w < where->work_count; w++) {
        int64_t of = row_ends_of(run, where, &where->works[w], 1, at);
        if (of < 0)
            return -1;
        if (w > 0 && of != count)
            return layers_differ(run, "row ends", count, of, at);
        count = of;
    }
    return count;
}

/* The requested stitches and the available sets. */
struct wanted {
    bool each; /* all stitches of a set */
    int64_t count, copies;
    size_t first, sets; /* the first set, NOWHERE: none is large enough; the number of sets with stitches left */
    int64_t most;       /* the largest number left in a set */
};

static bool set_holds(const struct run *run, size_t index, const struct wanted *wanted)
{
    const struct hk_other *other = &run->follow->others[index];
    int64_t left = left_in_all(run, index);
    return wanted->count <= left && (wanted->count <= other->count || wanted->sets == 1);
}

static const char *waits_for(const struct hk_other *other)
{
    return other->name ? other->name : "";
}

static bool sets_differ(struct run *run, const struct wanted *wanted, size_t other, size_t at)
{
    const char *a = waits_for(&run->follow->others[wanted->first]), *b = waits_for(&run->follow->others[other]);
    bool named = *a && *b;
    hk_run_fail(run, HK_CODE_ROW_PLACE, at,
                "these places stand in several sets, of %" PRId64 "%s%.40s and %" PRId64 "%s%.40s",
                left_of(run, wanted->first), named ? " for " : "", named ? a : "", left_of(run, other),
                named ? " for " : "", named ? b : "");
    if (wanted->copies > 1)
        return hk_run_advise(run, "write a piece for each of them, with the number: in each of %" PRId64 " skipped sts",
                             left_of(run, wanted->first));
    return hk_run_advise(run, "write how many of them, and of which piece or part");
}

/* Finds the sets; a set of exactly the requested size comes first. */
static bool sets_find(struct run *run, const struct hk_where *where, const struct hk_parts *works,
                      struct wanted *wanted, size_t at)
{
    for (size_t i = 0; i < run->follow->other_count; i++)
        wanted->sets += matches(&run->follow->others[i], where, works) && left_in_all(run, i) > 0;
    for (size_t i = 0; i < run->follow->other_count; i++) {
        int64_t left = matches(&run->follow->others[i], where, works) ? left_in_all(run, i) : 0;
        if (left <= 0)
            continue;
        bool first = wanted->first == NOWHERE;
        int64_t left_here = left_of(run, i), most = wanted->sets == 1 ? left : left_here;
        wanted->most = most > wanted->most ? most : wanted->most;
        if (wanted->each && !first && left_here != left_of(run, wanted->first))
            return sets_differ(run, wanted, i, at);
        bool fits = wanted->each                 ? first
                    : left_here == wanted->count ? first || left_of(run, wanted->first) != wanted->count
                                                 : first && set_holds(run, i, wanted);
        wanted->first = fits ? i : wanted->first;
    }
    return true;
}

/* Returns the number of copies worked on these places separately. */
static int64_t copies_of(const struct run *run, const struct hk_where *where)
{
    return where->other == HK_OTHER_STITCHES ? 1 : run->follow->copies;
}

static void too_many_copies(struct run *run, const struct hk_where *where, int64_t count, int64_t enough, size_t at)
{
    hk_run_fail(run, HK_CODE_WIDTH, at,
                "%" PRId64 " copies are worked on %" PRId64 " %s%s each, and there %s enough for %" PRId64,
                copies_of(run, where), count, names[where->other], plural(count, where->other),
                enough == 1 ? "is" : "are", enough);
    run->trouble.short_of = true;
    hk_run_advise(run, "correct how many are made, or give the others a beginning of their own");
}

/* Takes a set for each copy. */
static bool sets_take(struct run *run, const struct hk_where *where, const struct hk_parts *works,
                      const struct wanted *wanted, size_t at)
{
    int64_t copies = wanted->copies;
    for (size_t n = 0; n <= run->follow->other_count && copies > 0; n++) {
        size_t i = n == 0 ? wanted->first : n - 1;
        if ((n > 0 && i == wanted->first) || !matches(&run->follow->others[i], where, works))
            continue;
        int64_t times = wanted->sets == 1 ? copies : run->follow->others[i].copies;
        for (; times > 0 && copies > 0 && left_in_all(run, i) >= wanted->count; times--, copies--)
            if (!take(run, i, wanted->count))
                return false;
    }
    if (copies > 0)
        too_many_copies(run, where, wanted->count, wanted->copies - copies, at);
    return copies == 0;
}

/* Checks that all stitches of the set are of the named kind, as in "each dc of front". */
static bool kind_fits(struct run *run, const struct hk_where *where, size_t index, size_t at)
{
    const struct hk_edge *edge = run->follow->others[index].edge;
    for (size_t i = 0; edge && i < edge->count; i++) {
        const struct hk_spot *spot = &edge->spots[i];
        if (spot->kind != HK_SPOT_STITCH || hk_run_kind_is(run, spot, where->stitch))
            continue;
        hk_run_fail(run, HK_CODE_ROW_PLACE, at, "not all of these stitches are %s: there is a %s",
                    hk_run_kind_text(run, where->stitch), hk_run_kind_text(run, spot->stitch));
        return hk_run_advise(run, "write st for all of them, or how many are worked and skipped in turn");
    }
    return true;
}

/* Takes from all copies and sets together. */
static int64_t of_all(struct run *run, const struct hk_where *where, const struct hk_parts *works, size_t at)
{
    int64_t count = 0;
    for (size_t i = 0; i < run->follow->other_count; i++) {
        int64_t left = matches(&run->follow->others[i], where, works) ? left_in_all(run, i) : 0;
        count += left;
        if (left > 0 && (!kind_fits(run, where, i, at) || !take(run, i, left)))
            return -1;
    }
    if (count == 0)
        return none(run, where, at, 0, 0);
    if (copies_of(run, where) > 1) {
        too_many_copies(run, where, count, 1, at);
        return -1;
    }
    return some_of(where, count);
}

/* Takes from one piece. Stitches in several sets, for several copies of a sleeve, are used one set per copy. */
static int64_t of_sets(struct run *run, const struct hk_where *where, const struct hk_parts *works, size_t at)
{
    const struct hk_follow *follow = run->follow;
    struct wanted wanted = {.each = where->which == HK_WHICH_EACH, .copies = copies_of(run, where), .first = NOWHERE};
    wanted.count = wanted.each ? 0 : hk_graded_in(where->count, follow->size);
    if (where->all && !wanted.each) {
        hk_run_fail(run, HK_CODE_ROW_PLACE, at, "whether these are of each or of all together is not stated");
        hk_run_advise(run, "write each st of all, or one of them in brackets: *sc in next 4 sts of motif; rep from *");
        return -1;
    }
    if (where->all)
        return of_all(run, where, works, at);
    if (!sets_find(run, where, works, &wanted, at))
        return -1;
    if (wanted.first == NOWHERE)
        return none(run, where, at, wanted.count, wanted.most);
    if (!kind_fits(run, where, wanted.first, at))
        return -1;
    if (wanted.each)
        wanted.count = left_of(run, wanted.first);
    return sets_take(run, where, works, &wanted, at) ? some_of(where, wanted.count) : -1;
}

int64_t hk_run_take_others(struct run *run, const struct hk_where *where)
{
    const size_t at = where->at;
    if (where->other == HK_OTHER_EVENLY)
        return hk_graded_in(where->count, run->follow->size);
    if (where->other == HK_OTHER_ROW_ENDS)
        return row_ends(run, where, at);
    int64_t count = 0;
    for (size_t w = 0; w < (where->work_count ? where->work_count : 1); w++) {
        int64_t of = of_sets(run, where, where->works ? &where->works[w] : NULL, at);
        if (of < 0)
            return -1;
        if (where->both_layers && w > 0 && of != count)
            return layers_differ(run, "stitches", count, of, at);
        count = where->both_layers ? of : count + of;
    }
    return count;
}

bool hk_run_skip_others(struct run *run, const struct hk_step *step)
{
    size_t first = run->took_count;
    if (hk_run_take_others(run, &step->where) < 0)
        return hk_run_advise(run, "name the piece whose stitches are skipped, or skip them before the row: "
                                  "\"Sk next 4 sts of body for underarm.\"");
    for (size_t i = first; i < run->took_count; i++) {
        run->took[i].skipped = true;
        run->took[i].name = step->name;
    }
    return true;
}

bool hk_run_beyond_edge(const struct run *run, const struct hk_where *where)
{
    if (where->other != HK_OTHER_LEFT || where->work_count > 0)
        return false;
    for (size_t i = 0; i < run->follow->other_count && run->follow->beyond[0].count == 0; i++)
        if (run->follow->others[i].kind == HK_OTHER_LEFT && left_of(run, i) > 0)
            return false;
    return true;
}

bool hk_run_step_others(struct run *run, const struct hk_step *step, size_t stitch, int64_t many)
{
    int64_t places = step->where.which == HK_WHICH_SAME ? 1 : hk_run_take_others(run, &step->where);
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
    if (places > 0)
        run->leading = false;
    bool edge = step->where.other == HK_OTHER_BASE || (step->where.other == HK_OTHER_STITCHES && !run->row->only_others);
    if (edge && !step->where.both_layers && stitch == run->follow->slip) /* it joins the row to the edge */
        return hk_run_log_stitch(run, stitch, places * many);
    for (int64_t i = 0; i < places; i++)
        if (!hk_run_produce(run, stitch, many, hk_run_group_now(run)))
            return false;
    run->here = NOWHERE;
    return true;
}
