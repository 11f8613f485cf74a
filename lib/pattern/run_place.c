/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Places of the row below: finding the next of a kind, and using it. */
#include "pattern/run.h"

#include <inttypes.h>
#include <stdlib.h>

bool hk_run_kind_is(const struct run *run, const struct hk_spot *spot, size_t stitch)
{
    const struct hk_stitch *stitches = run->follow->catalogue->stitches;
    if (stitch == NO_KIND || spot->stitch == HK_SPOT_ANY || spot->stitch == stitch)
        return true;
    return stitches[spot->stitch].base == stitches[stitch].base ||
           (stitches[spot->stitch].family == HK_FAMILY_KNIT && stitches[stitch].family == HK_FAMILY_KNIT);
}

const char *hk_run_kind_text(const struct run *run, size_t stitch)
{
    return hk_stitch_word(hk_run_stitch_of(run, stitch), run->row->terms);
}

/* ---- Places ---- */

/* Takes one chain of a space. */
static void chain_of(const struct run *run, size_t index, struct position *position)
{
    int64_t sub = (index == run->at ? run->sub : 0) + 1;
    bool last = sub >= run->below.spots[index].chains;
    *position = (struct position){.index = index, .at = last ? index + 1 : index, .sub = last ? 0 : sub, .uses = true};
}

static enum found seek_any(struct run *run, size_t end, struct position *position)
{
    for (size_t i = run->at; i < end; i++) {
        const struct hk_spot *spot = &run->below.spots[i];
        if (spot->kind == HK_SPOT_SPACE) {
            run->readings |= HK_READING_SPACES;
            if (!hk_run_spaces_are_places(run))
                continue;
            chain_of(run, i, position);
            return FOUND;
        }
        if (hk_run_is_worked(spot)) {
            hk_run_whole(run, i, position);
            return FOUND;
        }
    }
    return NONE_LEFT;
}

static enum found seek_stitch(struct run *run, size_t stitch, size_t end, struct position *position)
{
    for (size_t i = run->at; i < end; i++) {
        const struct hk_spot *spot = &run->below.spots[i];
        if (!hk_run_is_worked(spot))
            continue;
        hk_run_whole(run, i, position);
        if (spot->kind == HK_SPOT_STITCH && hk_run_kind_is(run, spot, stitch))
            return FOUND;
        if (run->in_group && spot->group == run->below.spots[run->at - 1].group)
            continue; /* the rest of a shell worked into its middle */
        return OTHER_KIND;
    }
    return NONE_LEFT;
}

int64_t hk_run_most_chains(struct run *run)
{
    if (run->most_of == run->below.count)
        return run->most_chains;
    run->most_of = run->below.count;
    run->most_chains = 0;
    for (size_t i = 0; i < run->below.count; i++)
        if (run->below.spots[i].kind == HK_SPOT_SPACE && run->below.spots[i].chains > run->most_chains)
            run->most_chains = run->below.spots[i].chains;
    return run->most_chains;
}

/* Returns true for a gap before place i: between stitches of two places below, or a space between two stitches. */
static bool gap_at(const struct run *run, size_t i)
{
    const struct hk_spot *here = &run->below.spots[i];
    if (i == 0 || here->group == here[-1].group || here[-1].kind != HK_SPOT_STITCH)
        return false;
    if (here->kind == HK_SPOT_SPACE)
        return i + 1 < run->below.count && here[1].group != here->group;
    return here->kind == HK_SPOT_STITCH && run->gap_at != i;
}

/* Finds the next gap: between two groups, or between two stitches in separate places. */
static enum found seek_gap(const struct run *run, size_t end, struct position *position)
{
    size_t i = run->at;
    while (i < end && !gap_at(run, i))
        i++;
    if (i >= end)
        return NONE_LEFT;
    if (run->below.spots[i].kind == HK_SPOT_SPACE)
        hk_run_whole(run, i, position);
    else
        *position = (struct position){.index = NOWHERE, .at = i, .uses = true};
    return FOUND;
}

static enum found seek_space(struct run *run, int64_t chains, size_t end, struct position *position)
{
    int64_t most = hk_run_most_chains(run);
    if (most == 0 && chains == 0)
        return seek_gap(run, end, position);
    for (size_t i = run->at + (run->sub > 0); i < end; i++) {
        const struct hk_spot *spot = &run->below.spots[i];
        if (spot->kind == HK_SPOT_SPACE && (chains == 0 || spot->chains == (chains < 0 ? most : chains))) {
            hk_run_whole(run, i, position);
            return FOUND;
        }
    }
    return NONE_LEFT;
}

static enum found seek_chain(const struct run *run, size_t end, struct position *position)
{
    if (run->own_chains > 0) {
        *position = (struct position){.index = NOWHERE, .at = run->at, .sub = run->sub, .own_chain = true};
        return FOUND;
    }
    for (size_t i = run->at; i < end; i++) {
        const struct hk_spot *spot = &run->below.spots[i];
        if (spot->kind == HK_SPOT_MARKER)
            continue;
        if (spot->kind == HK_SPOT_SPACE)
            chain_of(run, i, position);
        else
            hk_run_whole(run, i, position);
        return spot->kind == HK_SPOT_STITCH && spot->stitch != HK_SPOT_ANY ? OTHER_KIND : FOUND;
    }
    return NONE_LEFT;
}

bool hk_run_works_in_spaces(const struct run *run)
{
    if (run->here == NOWHERE)
        return run->at > 0 && run->gap_at == run->at;
    return run->at == run->here + 1 && run->below.spots[run->here].kind == HK_SPOT_SPACE;
}

static enum found seek_top(const struct run *run, size_t end, struct position *position)
{
    for (size_t i = run->at; i < end; i++) {
        const struct hk_spot *spot = &run->below.spots[i];
        if (!hk_run_is_worked(spot))
            continue;
        hk_run_whole(run, i, position);
        if (spot->chains > 0 || spot->stitch == HK_SPOT_ANY)
            return FOUND;
        if (!hk_run_works_in_spaces(run))
            return OTHER_KIND;
    }
    return NONE_LEFT;
}

/* Finds the next whole group from the cursor on: at least two stitches in one place. */
static bool group_from(const struct run *run, size_t end, size_t *first, size_t *behind)
{
    const struct hk_spot *spots = run->below.spots;
    size_t i = run->at;
    while (i > 0 && i < end && spots[i].group == spots[i - 1].group)
        i++;
    while (i < end) {
        size_t last = i, stitches = 0;
        for (; last < end && spots[last].group == spots[i].group; last++)
            stitches += spots[last].kind == HK_SPOT_STITCH;
        if (stitches > 1) {
            *first = i;
            *behind = last;
            return true;
        }
        i = last;
    }
    return false;
}

/* Returns the nth stitch of a kind in a group; -1: the last; 0: the middle one. */
static size_t group_member(const struct run *run, size_t first, size_t behind, size_t stitch, int64_t nth)
{
    int64_t count = 0;
    for (size_t i = first; i < behind; i++)
        count += run->below.spots[i].kind == HK_SPOT_STITCH && hk_run_kind_is(run, &run->below.spots[i], stitch);
    int64_t wanted = nth < 0 ? count : nth == 0 ? (count + 1) / 2 : nth;
    for (size_t i = first; i < behind; i++) {
        if (run->below.spots[i].kind == HK_SPOT_STITCH && hk_run_kind_is(run, &run->below.spots[i], stitch) &&
            --wanted == 0)
            return i;
    }
    return NOWHERE;
}

static enum found seek_group(const struct run *run, const struct hk_where *where, size_t end, struct position *position)
{
    size_t first, behind, index = NOWHERE;
    if (!group_from(run, end, &first, &behind))
        return NONE_LEFT;
    if (!where->within) {
        for (size_t i = first; i < behind; i++)
            if (run->below.spots[i].kind == HK_SPOT_SPACE)
                index = i;
    }
    if (index == NOWHERE)
        index =
            group_member(run, first, behind, where->within ? where->stitch : NO_KIND, where->within ? where->nth : 0);
    if (index == NOWHERE)
        return NONE_LEFT;
    *position = (struct position){.index = index, .at = where->within ? index + 1 : behind, .uses = true};
    return FOUND;
}

static enum found seek_marked(const struct run *run, size_t end, struct position *position)
{
    for (size_t i = run->at; i < end; i++) {
        if (run->below.spots[i].marked || run->below.spots[i].kind == HK_SPOT_MARKER) {
            hk_run_whole(run, i, position);
            return FOUND;
        }
    }
    return NONE_LEFT;
}

static enum found seek_skipped(const struct run *run, size_t stitch, struct position *position)
{
    if (run->skipped_count == run->skipped_first)
        return NONE_LEFT;
    *position = (struct position){.index = run->skipped[run->skipped_first], .at = run->at, .sub = run->sub};
    const struct hk_spot *spot = &run->below.spots[position->index];
    bool alike = stitch == NO_KIND || (spot->kind == HK_SPOT_STITCH && hk_run_kind_is(run, spot, stitch));
    return alike ? FOUND : OTHER_KIND;
}

static enum found seek_ring(struct run *run, struct position *position)
{
    *position = (struct position){.index = NOWHERE, .at = run->at, .sub = run->sub};
    hk_run_look(run, run->below.count);
    bool there = run->below.count == 0 ||
                 (run->follow->joined && !run->manner.strict && run->below.spots[0].kind == HK_SPOT_CHAIN);
    for (size_t i = 0; i < run->below.count; i++) {
        if (run->below.spots[i].kind == HK_SPOT_RING) {
            hk_run_whole(run, i, position);
            there = true;
        }
    }
    run->ring |= there;
    return there ? FOUND : NONE_LEFT;
}

static enum found seek_kind(struct run *run, const struct hk_where *where, size_t end, struct position *position)
{
    switch (where->what) {
    case HK_WHAT_ANY:
        return seek_any(run, end, position);
    case HK_WHAT_STITCH:
        return seek_stitch(run, where->stitch, end, position);
    case HK_WHAT_SPACE:
        return seek_space(run, where->chains, end, position);
    case HK_WHAT_CHAIN:
        return seek_chain(run, end, position);
    case HK_WHAT_TOP:
        return seek_top(run, end, position);
    case HK_WHAT_RING:
        return seek_ring(run, position);
    case HK_WHAT_GAP:
        return seek_gap(run, end, position);
    case HK_WHAT_GROUP:
        return seek_group(run, where, end, position);
    case HK_WHAT_MARKED:
        return seek_marked(run, end, position);
    case HK_WHAT_SKIPPED:
        return seek_skipped(run, where->stitch, position);
    case HK_WHAT_NTH_CHAIN:
    case HK_WHAT_BELOW:
    case HK_WHAT_OTHER:
        break;
    }
    *position = (struct position){.index = NOWHERE, .at = run->at, .sub = run->sub};
    return FOUND;
}

enum found hk_run_seek(struct run *run, const struct hk_where *where, size_t end, struct position *position)
{
    enum found found = seek_kind(run, where, end, position);
    size_t to = found == NONE_LEFT ? end : position->index == NOWHERE ? position->at : position->index;
    hk_run_look(run, to > run->at ? to - run->at : 0);
    return found;
}

bool hk_run_is_jump(const struct hk_where *where)
{
    return where->given &&
           (where->what == HK_WHAT_SPACE || where->what == HK_WHAT_GAP || where->what == HK_WHAT_GROUP ||
            where->what == HK_WHAT_MARKED || where->what == HK_WHAT_RING);
}

static enum found nearest(struct run *run, const struct hk_where *where, size_t end, struct position *position)
{
    enum found best = hk_run_seek(run, where, end, position);
    for (const struct hk_where *other = where->besides; other; other = other->besides) {
        struct position at;
        enum found found = hk_run_seek(run, other, end, &at);
        if (found == FOUND && (best != FOUND || at.index < position->index)) {
            *position = at;
            best = FOUND;
        }
    }
    return best;
}

/* Returns true for a kind whose place does not depend on the places after it. */
static bool stands_alone(const struct hk_where *where)
{
    return where->what == HK_WHAT_ANY || where->what == HK_WHAT_STITCH || where->what == HK_WHAT_CHAIN ||
           where->what == HK_WHAT_SPACE;
}

enum found hk_run_seek_besides(struct run *run, const struct hk_where *where, size_t end, struct position *position)
{
    if (where->what == HK_WHAT_ANY && !where->besides && run->at < end &&
        hk_run_is_worked(&run->below.spots[run->at])) { /* the usual case */
        hk_run_whole(run, run->at, position);
        return FOUND;
    }
    bool alone = where->besides;
    for (const struct hk_where *one = where; one; one = one->besides)
        alone &= stands_alone(one);
    for (size_t stretch = LOOKS_A_UNIT; alone && run->at + stretch < end; stretch *= LOOKS_A_UNIT)
        if (nearest(run, where, run->at + stretch, position) == FOUND)
            return FOUND;
    return nearest(run, where, end, position);
}

bool hk_run_pass_markers(struct run *run, size_t to)
{
    for (size_t i = run->at; i < to; i++)
        if (run->below.spots[i].kind == HK_SPOT_MARKER && !hk_run_push(run, run->below.spots[i]))
            return false;
    return true;
}

int64_t hk_run_places_up_to(const struct run *run, size_t from, size_t to, int64_t most)
{
    int64_t places = 0;
    for (size_t i = from; i < to && places <= most; i++) {
        const struct hk_spot *spot = &run->below.spots[i];
        places += hk_run_is_worked(spot);
        if (spot->kind == HK_SPOT_SPACE && hk_run_spaces_are_places(run))
            places += spot->chains - (i == run->at ? run->sub : 0);
    }
    return places;
}

int64_t hk_run_places_between(struct run *run, size_t from, size_t to)
{
    hk_run_look(run, to > from ? to - from : 0);
    return hk_run_places_up_to(run, from, to, INT64_MAX - 1);
}

bool hk_run_centered(struct run *run, const struct hk_where *where, size_t at)
{
    if (!where->center)
        return true;
    int64_t count = hk_graded_in(where->count, run->follow->size);
    int64_t before = hk_run_places_between(run, 0, run->at), behind = hk_run_places_between(run, run->at, run->end);
    if (before == behind - count)
        return true;
    hk_run_fail(run, HK_CODE_ROW_PLACE, at,
                "%" PRId64 " stitches are not the centre here: %" PRId64 " lie before them, and %" PRId64 " after",
                count, before, behind - count > 0 ? behind - count : 0);
    return hk_run_advise(run, "work to the center first, or write next in place of center");
}

bool hk_run_skipped_add(struct run *run, size_t index)
{
    if (run->skipped_count == run->skipped_capacity) {
        size_t capacity = run->skipped_capacity ? 2 * run->skipped_capacity : 16;
        size_t *grown = realloc(run->skipped, capacity * sizeof *grown);
        if (!grown)
            return hk_run_lose(run);
        run->skipped = grown;
        run->skipped_capacity = capacity;
    }
    run->skipped[run->skipped_count++] = index;
    return true;
}

bool hk_run_aside_add(struct run *run, const char *name, size_t first)
{
    size_t count = run->skipped_count - first;
    if (count == 0 || (!name && count < ASIDE_LEAST))
        return true;
    if (run->aside_count == run->aside_capacity) {
        size_t capacity = run->aside_capacity ? 2 * run->aside_capacity : 4;
        struct aside *grown = realloc(run->aside, capacity * sizeof *grown);
        if (!grown)
            return hk_run_lose(run);
        run->aside = grown;
        run->aside_capacity = capacity;
    }
    run->aside[run->aside_count++] = (struct aside){name, first, count};
    return true;
}

bool hk_run_take(struct run *run, const struct position *position)
{
    if (position->own_chain) {
        run->own_chains--;
        run->here = NOWHERE;
        return true;
    }
    if (position->uses && position->index == run->at && position->at == run->at + 1 &&
        hk_run_is_worked(&run->below.spots[run->at])) {
        run->used++;
        run->at++;
        run->sub = 0;
    } else if (position->uses) {
        if (!hk_run_pass_markers(run, position->at))
            return false;
        run->used += hk_run_places_between(run, run->at, position->at);
        if (position->index == NOWHERE)
            run->gap_at = position->at;
        run->at = position->at;
        run->sub = position->sub;
    } else if (position->index != NOWHERE) { /* the next skipped stitch */
        run->skipped_first++;
    }
    run->here = position->index;
    run->in_group = false;
    return hk_run_spend(run, 1);
}

bool hk_run_none_left(struct run *run, const struct hk_where *where, enum found found, const struct position *position,
                      size_t at)
{
    size_t words_at = where->given ? where->at : at;
    if (found == OTHER_KIND) {
        const struct hk_spot *spot = &run->below.spots[position->index];
        const char *there = spot->kind == HK_SPOT_CHAIN   ? "chain"
                            : spot->kind == HK_SPOT_SPACE ? "space"
                                                          : hk_run_kind_text(run, spot->stitch);
        if (where->what == HK_WHAT_TOP)
            hk_run_fail(run, HK_CODE_ROW_PLACE, words_at,
                        "the next place is a %s, not the top of a chain that counts as a stitch", there);
        else
            hk_run_fail(run, HK_CODE_ROW_PLACE, words_at, "the next place is a %s, not a %s", there,
                        where->what == HK_WHAT_CHAIN ? "chain" : hk_run_kind_text(run, where->stitch));
        return hk_run_advise(run, "skip it by name, or name what is there");
    }
    if (where->what == HK_WHAT_SPACE && where->chains > 0)
        hk_run_fail(run, HK_CODE_WIDTH, words_at, "no ch-%" PRId64 " space is left to work into", where->chains);
    else if (hk_run_is_jump(where))
        hk_run_fail(run, HK_CODE_WIDTH, words_at, "no place of this kind is left to work into");
    else
        hk_run_fail(run, HK_CODE_WIDTH, words_at, "no stitch is left to work this into");
    run->trouble.short_of = true;
    run->not_named = hk_run_is_jump(where);
    return false;
}

/* Includes places beyond the edge that an earlier row left; only words that count places reach them. */
static bool reach_beyond(struct run *run, const struct hk_where *where)
{
    const struct hk_edge *beyond = &run->follow->beyond[0];
    if (run->manner.strict || run->end < run->below.count || run->beyond >= beyond->count || !where->given ||
        (where->what != HK_WHAT_ANY && where->what != HK_WHAT_STITCH && where->what != HK_WHAT_SKIPPED) ||
        where->which != HK_WHICH_NEXT)
        return false;
    if (!hk_edge_push(&run->below, beyond->spots[run->beyond++]))
        return hk_run_lose(run);
    run->end = run->below.count;
    return true;
}

static size_t first_place(struct run *run)
{
    size_t i = 0;
    while (i < run->below.count && run->below.spots[i].kind == HK_SPOT_MARKER)
        i++;
    hk_run_look(run, i);
    return i;
}

bool hk_run_on_first(struct run *run, const struct hk_where *where)
{
    bool row = where->what == HK_WHAT_ANY || where->what == HK_WHAT_STITCH || where->what == HK_WHAT_CHAIN;
    return where->which == HK_WHICH_FIRST && row && run->here != NOWHERE && run->here < run->at &&
           run->here == first_place(run);
}

struct hk_where hk_run_where_then(const struct hk_where *where)
{
    struct hk_where then = *where;
    if (then.which == HK_WHICH_FIRST)
        then.which = HK_WHICH_NEXT;
    return then;
}

bool hk_run_take_place(struct run *run, const struct hk_where *where, size_t end, size_t at)
{
    struct position position = {0};
    if (where->which == HK_WHICH_SAME && (run->here != NOWHERE || run->made.count)) {
        run->landed &= run->here != 0;
        return true; /* `here` is unchanged */
    }
    if (hk_run_on_first(run, where)) {
        run->landed &= run->here != 0;
        return true;
    }
    enum found found = hk_run_seek_besides(run, where, end, &position);
    while (found == NONE_LEFT && reach_beyond(run, where))
        found = hk_run_seek_besides(run, where, run->end, &position);
    if (run->out_of_memory)
        return false;
    if (found != FOUND)
        return hk_run_none_left(run, where, found, &position, at);
    if (!hk_run_take(run, &position))
        return false;
    run->in_group = where->what == HK_WHAT_GROUP && where->within;
    return true;
}
