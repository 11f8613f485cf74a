/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Working stitches into places: one by one, in each, or several in one. */
#include "pattern/run.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#define STRETCH_EACH_MOST 1000 /* limit of stitches in one place for stretches */

/*
 * "Nth ch from hook": works into the foundation, or into the chain that the row has just made; a decrease uses the
 * chains after it.
 */
static bool nth_chain(struct run *run, const struct hk_step *step, size_t stitch, int64_t many)
{
    int64_t nth = step->where.nth, needs = hk_run_stitch_of(run, stitch)->needs, more = needs > 1 ? needs - 1 : 0;
    struct hk_spot *last = run->made.count ? &run->made.spots[run->made.count - 1] : NULL;
    if (last && last->kind == HK_SPOT_SPACE && last->chains >= nth + more) {
        int64_t chains = last->chains;
        run->made.count--;
        run->own_chains = stitch == run->follow->slip ? 0 : chains - nth - more;
        if (stitch == run->follow->slip) /* a picot is on the stitch before it */
            return hk_run_push_space(run, chains - nth) && hk_run_log_stitch(run, stitch, many);
        if (nth > 2 && !hk_run_push_space(run, nth - 1))
            return false;
        return hk_run_produce(run, stitch, many, hk_run_group_now(run));
    }
    if (!run->leading || run->at + (size_t)(nth + more) > run->below.count ||
        run->below.spots[run->at].kind != HK_SPOT_CHAIN) {
        hk_run_fail(run, HK_CODE_ROW_PLACE, step->where.at, "there are fewer than %" PRId64 " chains from the hook", nth);
        return hk_run_advise(run, "start the work with a chain, or write in first st");
    }
    bool dc = hk_run_is_us(run, run->row_stitch, "dc"), hdc = hk_run_is_us(run, run->row_stitch, "hdc"),
         tr = hk_run_is_us(run, run->row_stitch, "tr");
    bool counts = false;
    size_t skipped = (size_t)nth - 1;
    if (run->widening && run->widening->counts != HK_COUNTS_OPEN)
        counts = run->widening->counts == HK_COUNTS_YES;
    else if (step->counts != HK_COUNTS_OPEN)
        counts = step->counts == HK_COUNTS_YES;
    else if ((dc && skipped >= 3) || (tr && skipped >= 4))
        counts = hk_run_chooses(run, HK_CONVENTION_SKIPPED_DC, true);
    else if (hdc && skipped >= 2)
        counts = hk_run_chooses(run, HK_CONVENTION_SKIPPED_HDC, false);
    run->at += skipped;
    if (counts) {
        int64_t height = tr   ? 4
                         : dc ? 3
                              : 2,
                over = (int64_t)skipped - height; /* "dc in 8th ch": a dc and a space over skipped chains */
        int64_t spare = step->spare ? step->spare : over >= 2 ? over - over / 2 : 0;
        if (!hk_run_push_counting(run, run->row_stitch, height + spare, spare))
            return false;
    }
    run->leading = false;
    run->foundation_first = run->at;
    struct position position;
    hk_run_whole(run, run->at + (size_t)more, &position);
    return hk_run_take(run, &position) && hk_run_produce(run, stitch, many, hk_run_group_now(run));
}

/* Returns the stitch of an inc or dec without a name. */
static size_t shaping_kind(const struct run *run)
{
    if (run->row_stitch != NO_KIND)
        return run->row_stitch;
    const struct hk_spot *spot = run->at < run->below.count ? &run->below.spots[run->at] : NULL;
    if (spot && spot->kind == HK_SPOT_STITCH && spot->stitch != HK_SPOT_ANY && spot->stitch != run->follow->chain)
        return hk_run_stitch_of(run, spot->stitch)->base;
    return run->follow->sc;
}

/* Finds the catalogue's stitch for a step, and the number worked in each place. Returns false with a failure. */
static bool resolve(struct run *run, const struct hk_step *step, size_t *stitch, int64_t *many)
{
    *many = hk_graded_in(step->many, run->follow->size) * (step->stitch_inc ? 2 : 1);
    *stitch = step->stitch;
    if (step->stitch != HK_STITCH_INC && step->stitch != HK_STITCH_DEC)
        return true;
    size_t kind = shaping_kind(run);
    bool knit = hk_run_stitch_of(run, kind)->family == HK_FAMILY_KNIT;
    if (step->stitch == HK_STITCH_INC) {
        *stitch = knit ? run->follow->kfb : kind;
        *many *= knit ? 1 : 2;
    } else {
        char name[64];
        snprintf(name, sizeof name, "%s2tog", hk_stitch_word(hk_run_stitch_of(run, kind), HK_TERMS_US));
        *stitch = knit ? run->follow->k2tog : hk_catalogue_stitch(run->follow->catalogue, name);
        if (*stitch == NO_KIND) {
            hk_run_fail(run, HK_CODE_NAME_UNKNOWN, step->at, "a decrease of %s is in no table",
                        hk_stitch_word(hk_run_stitch_of(run, kind), run->row->terms));
            return hk_run_advise(run, "name the decrease, such as sc2tog or k2tog");
        }
    }
    return true;
}

/* Returns the number of places used by one stitch; several only if they are consecutive stitches. */
static int64_t places_of(const struct hk_where *where, int64_t needs)
{
    needs *= 1 + where->both_layers; /* a folded edge */
    bool row = where->which != HK_WHICH_SAME &&
               (where->what == HK_WHAT_ANY || where->what == HK_WHAT_STITCH || where->what == HK_WHAT_CHAIN);
    return needs > 1 && row ? needs : 1;
}

static void carry_mark(struct run *run, size_t made_before, bool marked)
{
    if (marked && run->made.count > made_before)
        run->made.spots[made_before + (run->made.count - made_before - 1) / 2].marked = true;
}

/* Works stitches into a place; they take over its marker. */
static bool produce_marked(struct run *run, size_t stitch, int64_t count, uint32_t group, bool marked)
{
    size_t before = run->made.count;
    bool good = hk_run_produce(run, stitch, count, group);
    carry_mark(run, before, marked);
    return good;
}

/* Returns the group for a stitch; in a ring chains separate groups. */
static uint32_t group_of_unit(struct run *run)
{
    const struct hk_spot *last = run->made.count ? &run->made.spots[run->made.count - 1] : NULL;
    bool ring = run->here != NOWHERE && run->below.spots[run->here].kind == HK_SPOT_RING;
    return ring && last && last->kind == HK_SPOT_STITCH ? last->group : hk_run_group_now(run);
}

/* Works one stitch, or several in one place. */
static bool work_unit(struct run *run, const struct hk_step *step, size_t stitch, int64_t many, int64_t places,
                      size_t end)
{
    bool marked = false;
    for (int64_t i = 0; i < places; i++) {
        const struct hk_where then = i > 0 ? hk_run_where_then(&step->where) : (struct hk_where){0};
        if (!hk_run_take_place(run, i > 0 ? &then : &step->where, end, step->at))
            return false;
        marked |= run->here != NOWHERE && run->below.spots[run->here].marked;
    }
    return produce_marked(run, stitch, many, group_of_unit(run), marked);
}

/* Works one stitch, or several, in a place already found. */
static bool work_found(struct run *run, const struct hk_step *step, size_t stitch, int64_t many,
                       const struct position *position)
{
    if (!hk_run_take(run, position))
        return false;
    run->in_group = step->where.what == HK_WHAT_GROUP && step->where.within;
    bool marked = run->here != NOWHERE && run->below.spots[run->here].marked;
    return produce_marked(run, stitch, many, group_of_unit(run), marked);
}

/*
 * Fast path: works a stretch of the next places, at most `most`, that are stitches without a marker. *worked: their
 * number; 0 if the places must be examined one by one.
 */
static bool work_stretch(struct run *run, const struct hk_where *where, size_t stitch, int64_t many, int64_t most,
                         size_t end, int64_t *worked)
{
    const struct hk_stitch *of = hk_run_stitch_of(run, stitch);
    int64_t each = many * of->leaves, count = 0;
    *worked = 0;
    if (where->what != HK_WHAT_ANY || where->besides || run->in.on || each > STRETCH_EACH_MOST ||
        (where->which != HK_WHICH_NEXT && where->which != HK_WHICH_EACH))
        return true;
    const int64_t room = (int64_t)(HK_SPOTS_MOST - run->made.count) / (each > 0 ? each : 1);
    for (size_t i = run->at; i < end && count < most && count < room && hk_run_is_worked(&run->below.spots[i]) &&
                             !run->below.spots[i].marked;
         i++)
        count++;
    if (count < 2)
        return true;
    if (!hk_run_spend(run, count * (1 + each)) || !hk_run_log_stitch(run, stitch, count * many))
        return false;
    if (!hk_edge_room(&run->made, run->made.count + (size_t)(count * each)))
        return hk_run_lose(run);
    struct hk_spot *spot = run->made.spots + run->made.count;
    const uint16_t kind = (uint16_t)(of->leaves > 1 ? of->base : stitch);
    for (int64_t i = 0; i < count; i++) {
        uint32_t group = hk_run_group_new(run);
        for (int64_t k = 0; k < each; k++)
            *spot++ = (struct hk_spot){.kind = HK_SPOT_STITCH, .stitch = kind, .group = group};
    }
    run->made.count += (size_t)(count * each);
    run->at += (size_t)count;
    run->here = run->at - 1;
    run->used += count;
    run->sub = 0;
    run->in_group = run->leading = false;
    *worked = count;
    return true;
}

/* Works all places up to the limit. */
static bool work_each(struct run *run, const struct hk_step *step, const struct list *list, size_t stitch, int64_t many,
                      int64_t places)
{
    size_t limit;
    const struct hk_where *where = &step->where;
    if (hk_run_on_ring(run) && where->what != HK_WHAT_RING)
        return hk_run_none_left(run, where, NONE_LEFT, NULL, step->at);
    if (!hk_run_limit_index(run, where, list, step->at, &limit))
        return false;
    size_t saved = run->end;
    run->end = limit;
    for (;;) {
        int64_t stretch = 0;
        if (places == 1 && !work_stretch(run, where, stitch, many, INT64_MAX, limit, &stretch)) {
            run->end = saved;
            return false;
        }
        run->went_on += stretch;
        struct position position = {0};
        enum found found = hk_run_seek_besides(run, where, limit, &position);
        if (found == NONE_LEFT)
            break;
        if (found == OTHER_KIND) {
            if (where->limit == HK_LIMIT_NONE && limit == saved)
                break;
            run->end = saved;
            return hk_run_none_left(run, where, found, &position, step->at);
        }
        if (position.index != NOWHERE && run->below.spots[position.index].kind == HK_SPOT_RING) {
            hk_run_fail(run, HK_CODE_ROW_ENDLESS, step->at, "this has no end in a ring");
            run->trouble.endless = true;
            return hk_run_advise(run, "write how many are worked into the ring: 6 sc in ring");
        }
        run->went_on++;
        const size_t from = run->at;
        if (places == 1 ? !work_found(run, step, stitch, many, &position)
                        : !work_unit(run, step, stitch, many, places, limit)) {
            run->end = saved;
            if (!run->trouble.short_of || run->out_of_memory)
                return false;
            run->failed = false;
            int64_t remain = hk_run_places_between(run, from, limit);
            hk_run_fail(run, HK_CODE_WIDTH, step->at, "%" PRId64 " stitch%s at the end of the row", remain,
                        remain == 1 ? " remains" : "es remain");
            run->trouble.remain = remain;
            return false;
        }
    }
    run->end = saved;
    return true;
}

static bool last_there(struct run *run, const struct hk_step *step, int64_t places)
{
    if (run->in.on || hk_run_places_up_to(run, run->at, run->end, places) <= places)
        return true;
    int64_t left = hk_run_places_between(run, run->at, run->end);
    size_t index = hk_run_works_in_spaces(run) ? hk_run_before_last(run, places, run->end) : NOWHERE;
    if (index != NOWHERE) {
        struct position position = {.index = run->here, .at = index, .uses = true};
        return hk_run_take(run, &position);
    }
    hk_run_fail(run, HK_CODE_WIDTH, step->where.at, "%" PRId64 " stitch%s left before the last", left - places,
                left - places == 1 ? " is" : "es are");
    run->trouble.remain = left - places;
    return hk_run_advise(run, "work or skip them first");
}

/* Multiplies counts, saturating. */
static int64_t product(int64_t a, int64_t b)
{
    return a > 0 && b > HK_COUNT_MOST / a ? HK_COUNT_MOST + 1 : a * b;
}

bool hk_run_step_stitch(struct run *run, const struct hk_step *step, const struct list *list)
{
    size_t stitch;
    int64_t many, count = hk_graded_in(step->where.count, run->follow->size);
    if (!resolve(run, step, &stitch, &many))
        return false;
    const struct hk_where *where = &step->where;
    int64_t needs = hk_run_stitch_of(run, stitch)->needs;
    if (!hk_run_centered(run, where, step->at))
        return false;
    if (where->what == HK_WHAT_NTH_CHAIN)
        return nth_chain(run, step, stitch, many);
    struct hk_step in_row = *step;
    if (where->what == HK_WHAT_OTHER) {
        if (!hk_run_beyond_edge(run, where))
            return hk_run_step_others(run, step, stitch, many);
        in_row.where.what = HK_WHAT_SKIPPED;
        step = &in_row;
        where = &in_row.where;
    }
    if (needs == 0 && !where->given) {
        uint32_t group = hk_run_group_now(run);
        return hk_run_produce(run, stitch, product(many, where->limit == HK_LIMIT_NONE ? count : 1), group);
    }
    if (run->in.on && (!where->given || where->which == HK_WHICH_SAME)) {
        bool marked = run->in.place != NOWHERE && run->below.spots[run->in.place].marked;
        return produce_marked(run, stitch, product(many, where->given ? 1 : count), run->in.group, marked);
    }
    int64_t places = places_of(where, needs);
    if (where->which == HK_WHICH_EACH)
        return work_each(run, step, list, stitch, many, places);
    if (where->which == HK_WHICH_LAST && where->what != HK_WHAT_SPACE && !last_there(run, step, count * places))
        return false;
    if (where->which == HK_WHICH_SAME) {
        uint32_t group = run->made.count && run->here != NOWHERE ? run->made.spots[run->made.count - 1].group
                                                                 : hk_run_group_new(run);
        return hk_run_take_place(run, where, run->end, step->at) && hk_run_produce(run, stitch, many, group);
    }
    for (int64_t i = 0; i < count;) {
        int64_t stretch = 0;
        if (places == 1 && !work_stretch(run, where, stitch, many, count - i, run->end, &stretch))
            return false;
        if (stretch == 0 && !work_unit(run, step, stitch, many, places, run->end))
            return false;
        i += stretch ? stretch : 1;
        if (where->which == HK_WHICH_FIRST) {
            in_row.where = hk_run_where_then(where);
            step = &in_row;
            where = &in_row.where;
        }
    }
    return true;
}

/* ---- Groups ---- */

static bool group_at(struct run *run, const struct hk_step *step, const struct list *list)
{
    struct inside saved = run->in;
    if (!hk_run_take_place(run, &step->where, run->end, step->at))
        return false;
    run->in = (struct inside){true, run->here, hk_run_group_new(run)};
    if (step->where.which == HK_WHICH_SAME && run->made.count && run->here != NOWHERE && !run->leading)
        run->in.group = run->made.spots[run->made.count - 1].group;
    struct list inner = {.steps = step->steps, .count = step->step_count, .outer = list};
    size_t before = run->made.count;
    bool marked = run->here != NOWHERE && run->below.spots[run->here].marked;
    bool good = hk_run_list(run, &inner);
    carry_mark(run, before, marked);
    run->in = saved;
    return good;
}

bool hk_run_step_group(struct run *run, const struct hk_step *step, const struct list *list)
{
    int64_t count = hk_graded_in(step->where.count, run->follow->size);
    size_t limit, saved = run->end;
    if (step->where.what == HK_WHAT_OTHER) {
        int64_t places = hk_run_take_others(run, &step->where);
        for (int64_t i = 0; i < places; i++)
            if (!group_at(run, step, list))
                return false;
        return places >= 0;
    }
    if (step->where.which != HK_WHICH_EACH) {
        bool once = step->where.which == HK_WHICH_SAME || step->where.what == HK_WHAT_RING;
        struct hk_step then = *step;
        then.where = hk_run_where_then(&step->where);
        for (int64_t i = 0; i < (once ? 1 : count); i++)
            if (!group_at(run, i > 0 ? &then : step, list))
                return false;
        return true;
    }
    if (!hk_run_limit_index(run, &step->where, list, step->at, &limit))
        return false;
    run->end = limit;
    bool good = true;
    struct position position = {0};
    enum found found;
    while (good && (found = hk_run_seek_besides(run, &step->where, limit, &position)) != NONE_LEFT)
        good = found == FOUND ? group_at(run, step, list)
                              : hk_run_none_left(run, &step->where, found, &position, step->at);
    run->end = saved;
    return good;
}
