/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The tree of a row is run over a copy of the edge with a cursor; what is worked goes to a second edge, which the next row then
 * finds. A repeat that goes on as long as it fits is run and taken back: all that a run has done can be cut off again at a mark.
 * Where words may be meant in two ways the row is run in each, and what comes out and meets the stated counts is taken.
 */
#include "edge.h"

#include <assert.h>
#include <inttypes.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define NOWHERE SIZE_MAX
#define NO_KIND SIZE_MAX
#define BACKTRACKS_MOST 256
#define DEEP_MOST 64
#define EFFORT_MOST 100000000 /* where the caller sets no bound */
#define LOOKS_A_UNIT 16       /* places that are only looked at cost less than those that are worked */

/* Chains that stand before the turn at the end of a row: they begin the next one. */
struct lead {
    int64_t chains;
    const struct hk_step *step; /* what the row said of them; of a row that lives as long as the follower is used */
};

struct log {
    struct hk_stitches *entries;
    size_t count, capacity;
};

/* What a run has done up to a point. */
struct mark {
    size_t at, here, made, logged, skipped, skipped_first, yarn;
    int64_t sub, last_count, own_chains, used, went_on;
    double cut_m;
    size_t gap_at;
    bool landed;
};

/* The place that brackets "in next st" work into. */
struct inside {
    bool on;
    size_t place;
    uint32_t group;
};

/* A row in one reading. */
struct run {
    struct hk_follow *follow;
    const struct hk_row *row;
    struct hk_manner manner;
    unsigned reading, readings, choices;
    struct hk_edge below, made, scratch, behind; /* behind: places that travelling slip stitches left, nearest last */
    size_t at;            /* the next place of below */
    int64_t sub;          /* its chains that are used up already */
    size_t end;           /* the place that is out of reach for now */
    size_t here;          /* the place worked into last */
    size_t gap_at;        /* where a gap was worked into last */
    size_t beyond;        /* places beyond the edge that are taken in */
    struct log log;
    size_t *skipped, skipped_first, skipped_count, skipped_capacity; /* those before skipped_first are worked since */
    double cut_m;
    size_t yarn;
    int64_t used;
    int64_t went_on;      /* runs of what goes on as long as it fits, all together */
    int64_t own_chains;   /* of a chain that the row made, still to be worked into */
    uint32_t group;
    struct inside in;
    int64_t most_chains;  /* of a space of below, when it had most_of places; most_of NOWHERE: not looked for yet */
    size_t most_of;
    bool works;           /* it works a stitch at all */
    enum hk_counts join_says; /* what the join says of the starting chain */
    bool leading;         /* no stitch is worked yet */
    bool landed;          /* nothing stands yet in the place where travelling slip stitches ended, the first one */
    bool leaves;          /* the row says that stitches are left */
    bool ring;            /* it works into a ring */
    int64_t travelled;    /* places that slip stitches have moved to the end of the round */
    bool in_group;        /* the last place was one stitch of a shell, called by its place in it */
    size_t foundation_first; /* the first chain of the foundation that the row works into */
    size_t own;           /* the stitch that it works, for inc and dec */
    int64_t equal;        /* runs of each open repeat, -1: not fixed */
    bool equal_wanted;
    size_t open_repeats;
    struct lead lead;
    size_t deep;
    bool failed, lost;
    bool not_named;       /* the failure: no place of the name is left */
    struct hk_trouble trouble;
};

struct hk_follow {
    const struct hk_catalogue *catalogue;
    const struct hk_conventions *conventions;
    size_t size;
    int64_t *effort, own_effort;
    struct hk_edge edge;
    struct hk_edge beyond[2]; /* crochet: places left beyond the end and before the start of the edge, nearest first */
    struct hk_edge needle;    /* knitting: stitches before the edge, on the other needle already */
    bool joined, foundation;
    struct lead lead;
    size_t chain, slip, sc, knit, kfb, k2tog;
    struct run runs[2];
    struct hk_compared *compared;
    size_t compared_capacity;
};

/* A list of steps that is being run, and what it stands in. */
struct list {
    const struct hk_step *steps;
    size_t count, now;
    bool again; /* it is repeated */
    bool open;  /* as often as it fits */
    const struct list *outer;
};

static bool run_list(struct run *run, struct list *list);

/* ---- Failing ---- */

__attribute__((format(printf, 4, 5))) static bool fail(struct run *run, enum hk_code code, size_t at, const char *format, ...)
{
    if (run->failed)
        return false;
    va_list arguments;
    va_start(arguments, format);
    run->trouble = (struct hk_trouble){.code = code, .at = at};
    vsnprintf(run->trouble.text, sizeof run->trouble.text, format, arguments);
    va_end(arguments);
    run->failed = true;
    run->not_named = false;
    return false;
}

__attribute__((format(printf, 2, 3))) static bool advise(struct run *run, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(run->trouble.hint, sizeof run->trouble.hint, format, arguments);
    va_end(arguments);
    return false;
}

static bool lose(struct run *run)
{
    run->lost = run->failed = true;
    return false;
}

static bool spend(struct run *run, int64_t cost)
{
    int64_t *effort = run->follow->effort;
    *effort -= cost;
    if (*effort >= 0)
        return true;
    fail(run, HK_COUNT_TOO_LARGE, 0, "too many stitches to follow in all rows and sizes together");
    run->trouble.spent = true;
    return false;
}

static bool look(struct run *run, size_t places)
{
    return places < LOOKS_A_UNIT || spend(run, (int64_t)(places / LOOKS_A_UNIT));
}

static bool too_many(struct run *run)
{
    return fail(run, HK_COUNT_TOO_LARGE, 0, "the row comes to more than %" PRId64 " of one stitch", HK_COUNT_MOST);
}

/* ---- What is worked ---- */

static const struct hk_stitch *stitch_of(const struct run *run, size_t stitch)
{
    return &run->follow->catalogue->stitches[stitch];
}

static bool log_stitch(struct run *run, size_t stitch, int64_t count)
{
    const struct hk_stitch *of = stitch_of(run, stitch);
    struct log *log = &run->log;
    if (count == 0 || (of->loops == 0 && of->wraps == 0))
        return true;
    if (count > HK_COUNT_MOST || (log->count && log->entries[log->count - 1].count > HK_COUNT_MOST - count))
        return too_many(run);
    if (log->count && log->entries[log->count - 1].stitch == stitch && log->entries[log->count - 1].yarn == run->yarn) {
        log->entries[log->count - 1].count += count;
        return true;
    }
    if (log->count == log->capacity) {
        size_t capacity = log->capacity ? 2 * log->capacity : 64;
        struct hk_stitches *grown = realloc(log->entries, capacity * sizeof *grown);
        if (!grown)
            return lose(run);
        log->entries = grown;
        log->capacity = capacity;
    }
    log->entries[log->count++] = (struct hk_stitches){stitch, run->yarn, count};
    return true;
}

static struct mark mark_set(const struct run *run)
{
    return (struct mark){
        .at = run->at, .here = run->here, .made = run->made.count, .logged = run->log.count, .skipped = run->skipped_count,
        .skipped_first = run->skipped_first, .yarn = run->yarn, .sub = run->sub, .own_chains = run->own_chains, .used = run->used,
        .went_on = run->went_on, .cut_m = run->cut_m,
        .gap_at = run->gap_at, .landed = run->landed,
        .last_count = run->log.count ? run->log.entries[run->log.count - 1].count : 0};
}

static void go_back(struct run *run, const struct mark *mark)
{
    run->at = mark->at;
    run->sub = mark->sub;
    run->here = mark->here;
    run->made.count = mark->made;
    run->log.count = mark->logged;
    if (mark->logged)
        run->log.entries[mark->logged - 1].count = mark->last_count;
    run->skipped_count = mark->skipped;
    run->skipped_first = mark->skipped_first;
    run->yarn = mark->yarn;
    run->own_chains = mark->own_chains;
    run->used = mark->used;
    run->went_on = mark->went_on;
    run->cut_m = mark->cut_m;
    run->gap_at = mark->gap_at;
    run->landed = mark->landed;
    run->failed = run->lost;
}

/* A place more, to be filled in; NULL with a failure. */
static struct hk_spot *push_empty(struct run *run)
{
    if (run->made.count >= HK_SPOTS_MOST) {
        fail(run, HK_COUNT_TOO_LARGE, 0, "the row comes to more than %zu places", HK_SPOTS_MOST);
        return NULL;
    }
    if (!spend(run, 1))
        return NULL;
    if (!hk_edge_room(&run->made, run->made.count + 1)) {
        lose(run);
        return NULL;
    }
    return &run->made.spots[run->made.count++];
}

static bool push(struct run *run, struct hk_spot spot)
{
    struct hk_spot *made = push_empty(run);
    if (made)
        *made = spot;
    return made;
}

static uint32_t group_new(struct run *run)
{
    return ++run->group;
}

/* The group of what is worked now: in brackets "in next st" one for all of them, but in a ring chains part them. */
static uint32_t group_now(struct run *run)
{
    return run->in.on ? run->in.group : group_new(run);
}

static bool push_space(struct run *run, int64_t chains)
{
    struct hk_spot *last = run->made.count ? &run->made.spots[run->made.count - 1] : NULL;
    bool ring = run->in.on && run->in.place != NOWHERE && run->below.spots[run->in.place].kind == HK_SPOT_RING;
    int64_t all = chains + (last && last->kind == HK_SPOT_SPACE ? last->chains : 0);
    if (all > (int64_t)HK_SPOTS_MOST)
        return fail(run, HK_COUNT_TOO_LARGE, 0, "a space of more than %zu chains", HK_SPOTS_MOST);
    if (all > chains) {
        last->chains = (uint32_t)all;
        return true;
    }
    struct hk_spot spot = {.kind = HK_SPOT_SPACE, .chains = (uint32_t)chains, .stitch = (uint16_t)run->follow->chain};
    spot.group = run->in.on && !ring ? run->in.group : group_new(run);
    if (ring)
        run->in.group = group_new(run);
    return push(run, spot);
}

/* `count` of a stitch; the places that it makes belong to the group. */
static bool produce(struct run *run, size_t stitch, int64_t count, uint32_t group)
{
    const struct hk_stitch *of = stitch_of(run, stitch);
    if (of->leaves > 0 && count > (int64_t)HK_SPOTS_MOST)
        return fail(run, HK_COUNT_TOO_LARGE, 0, "the row comes to more than %zu places", HK_SPOTS_MOST);
    run->leading = false;
    if (!log_stitch(run, stitch, count))
        return false;
    uint16_t kind = (uint16_t)(of->leaves > 1 ? of->base : stitch);
    for (int64_t i = 0; i < count * of->leaves; i++) {
        struct hk_spot *spot = push_empty(run);
        if (!spot)
            return false;
        spot->group = group;
        spot->chains = 0;
        spot->stitch = kind;
        spot->kind = HK_SPOT_STITCH;
        spot->marked = false;
    }
    return true;
}

/* ---- Kinds ---- */

static bool kind_is(const struct run *run, const struct hk_spot *spot, size_t stitch)
{
    const struct hk_stitch *stitches = run->follow->catalogue->stitches;
    if (stitch == NO_KIND || spot->stitch == HK_SPOT_ANY || spot->stitch == stitch)
        return true;
    return stitches[spot->stitch].base == stitches[stitch].base ||
           (stitches[spot->stitch].family == HK_KNIT && stitches[stitch].family == HK_KNIT);
}

static const char *kind_text(const struct run *run, size_t stitch)
{
    if (stitch == NO_KIND || stitch == HK_SPOT_ANY)
        return "stitch";
    const struct hk_stitch *of = stitch_of(run, stitch);
    return of->us ? of->us : of->name;
}

/* ---- Places ---- */

/* A place found: the spot (NOWHERE: it uses none), and where the cursor stands then. */
struct position {
    size_t index, at;
    int64_t sub;
    bool uses;  /* places before `at` are used up */
    bool own;   /* a chain that this row made */
};

enum found { FOUND, NONE_LEFT, OTHER_KIND };

static bool is_worked(const struct hk_spot *spot)
{
    return spot->kind == HK_SPOT_STITCH || spot->kind == HK_SPOT_CHAIN;
}

/* Filled in place: a struct put together elsewhere and copied costs more than all the rest of a stitch. */
static void whole(const struct run *run, size_t index, struct position *position)
{
    position->index = index;
    position->at = run->below.spots[index].kind == HK_SPOT_RING ? index : index + 1;
    position->sub = 0;
    position->uses = true;
    position->own = false;
}

/* One chain of a space. */
static void chain_of(const struct run *run, size_t index, struct position *position)
{
    int64_t sub = (index == run->at ? run->sub : 0) + 1;
    bool last = sub >= run->below.spots[index].chains;
    *position = (struct position){.index = index, .at = last ? index + 1 : index, .sub = last ? 0 : sub, .uses = true};
}

static bool spaces_are_places(const struct run *run)
{
    return run->reading & HK_READING_SPACES;
}

static enum found seek_any(struct run *run, size_t end, struct position *position)
{
    for (size_t i = run->at; i < end; i++) {
        const struct hk_spot *spot = &run->below.spots[i];
        if (spot->kind == HK_SPOT_SPACE) {
            run->readings |= HK_READING_SPACES;
            if (!spaces_are_places(run))
                continue;
            chain_of(run, i, position);
            return FOUND;
        }
        if (is_worked(spot)) {
            whole(run, i, position);
            return FOUND;
        }
    }
    return NONE_LEFT;
}

static enum found seek_stitch(struct run *run, size_t stitch, size_t end, struct position *position)
{
    for (size_t i = run->at; i < end; i++) {
        const struct hk_spot *spot = &run->below.spots[i];
        if (!is_worked(spot))
            continue;
        whole(run, i, position);
        if (spot->kind == HK_SPOT_STITCH && kind_is(run, spot, stitch))
            return FOUND;
        if (run->in_group && run->at > 0 && spot->group == run->below.spots[run->at - 1].group)
            continue; /* the rest of a shell whose middle was worked into */
        return OTHER_KIND;
    }
    return NONE_LEFT;
}

static int64_t most_chains(struct run *run)
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

/* Whether place i is parted from the one before it: they are stitches of two places below, or it is a space between two. */
static bool gap_at(const struct run *run, size_t i)
{
    const struct hk_spot *here = &run->below.spots[i];
    if (i == 0 || here->group == here[-1].group || here[-1].kind != HK_SPOT_STITCH)
        return false;
    if (here->kind == HK_SPOT_SPACE)
        return i + 1 < run->below.count && here[1].group != here->group;
    return here->kind == HK_SPOT_STITCH && run->gap_at != i;
}

/* The next gap: between two groups, or two stitches that stand in places of their own. */
static enum found seek_gap(const struct run *run, size_t end, struct position *position)
{
    size_t i = run->at;
    while (i < end && !gap_at(run, i))
        i++;
    if (i >= end)
        return NONE_LEFT;
    if (run->below.spots[i].kind == HK_SPOT_SPACE)
        whole(run, i, position);
    else
        *position = (struct position){.index = NOWHERE, .at = i, .uses = true};
    return FOUND;
}

static enum found seek_space(struct run *run, int64_t chains, size_t end, struct position *position)
{
    int64_t most = most_chains(run);
    if (most == 0 && chains == 0)
        return seek_gap(run, end, position);
    for (size_t i = run->at + (run->sub > 0); i < end; i++) {
        const struct hk_spot *spot = &run->below.spots[i];
        if (spot->kind == HK_SPOT_SPACE && (chains == 0 || spot->chains == (chains < 0 ? most : chains))) {
            whole(run, i, position);
            return FOUND;
        }
    }
    return NONE_LEFT;
}

static enum found seek_chain(const struct run *run, size_t end, struct position *position)
{
    if (run->own_chains > 0) {
        *position = (struct position){.index = NOWHERE, .at = run->at, .sub = run->sub, .own = true};
        return FOUND;
    }
    for (size_t i = run->at; i < end; i++) {
        const struct hk_spot *spot = &run->below.spots[i];
        if (spot->kind == HK_SPOT_MARKER)
            continue;
        if (spot->kind == HK_SPOT_SPACE)
            chain_of(run, i, position);
        else
            whole(run, i, position);
        return spot->kind == HK_SPOT_STITCH && spot->stitch != HK_SPOT_ANY ? OTHER_KIND : FOUND;
    }
    return NONE_LEFT;
}

/* A row that goes from space to space passes stitches without a word. */
static bool works_in_spaces(const struct run *run)
{
    return run->here != NOWHERE && run->here < run->below.count && run->at == run->here + 1 &&
           run->below.spots[run->here].kind == HK_SPOT_SPACE;
}

static enum found seek_top(const struct run *run, size_t end, struct position *position)
{
    for (size_t i = run->at; i < end; i++) {
        const struct hk_spot *spot = &run->below.spots[i];
        if (!is_worked(spot))
            continue;
        whole(run, i, position);
        if (spot->chains > 0 || spot->stitch == HK_SPOT_ANY)
            return FOUND;
        if (!works_in_spaces(run))
            return OTHER_KIND;
    }
    return NONE_LEFT;
}

/* The next whole group from the cursor on: at least two stitches in one place. */
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

/* Of a group the nth of its stitches of a kind; -1: the last; 0: the middle one. */
static size_t group_member(const struct run *run, size_t first, size_t behind, size_t stitch, int64_t nth)
{
    int64_t count = 0;
    for (size_t i = first; i < behind; i++)
        count += run->below.spots[i].kind == HK_SPOT_STITCH && kind_is(run, &run->below.spots[i], stitch);
    int64_t wanted = nth < 0 ? count : nth == 0 ? (count + 1) / 2 : nth;
    for (size_t i = first; i < behind; i++) {
        if (run->below.spots[i].kind == HK_SPOT_STITCH && kind_is(run, &run->below.spots[i], stitch) && --wanted == 0)
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
        index = group_member(run, first, behind, where->within ? where->stitch : NO_KIND, where->within ? where->nth : 0);
    if (index == NOWHERE)
        return NONE_LEFT;
    *position = (struct position){.index = index, .at = where->within ? index + 1 : behind, .uses = true};
    return FOUND;
}

static enum found seek_marked(const struct run *run, size_t end, struct position *position)
{
    for (size_t i = run->at; i < end; i++) {
        if (run->below.spots[i].marked || run->below.spots[i].kind == HK_SPOT_MARKER) {
            whole(run, i, position);
            return FOUND;
        }
    }
    return NONE_LEFT;
}

static enum found seek_skipped(const struct run *run, struct position *position)
{
    if (run->skipped_count == run->skipped_first)
        return NONE_LEFT;
    *position = (struct position){.index = run->skipped[run->skipped_first], .at = run->at, .sub = run->sub};
    return FOUND;
}

static enum found seek_ring(struct run *run, struct position *position)
{
    *position = (struct position){.index = NOWHERE, .at = run->at, .sub = run->sub};
    look(run, run->below.count);
    bool there = run->below.count == 0 || (run->follow->joined && !run->manner.strict && run->below.spots[0].kind == HK_SPOT_CHAIN);
    for (size_t i = 0; i < run->below.count; i++) {
        if (run->below.spots[i].kind == HK_SPOT_RING) {
            whole(run, i, position);
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
        return seek_skipped(run, position);
    case HK_WHAT_NTH_CHAIN:
    case HK_WHAT_BELOW:
        break;
    }
    *position = (struct position){.index = NOWHERE, .at = run->at, .sub = run->sub};
    return FOUND;
}

/* The next place of a kind before `end`; nothing is used up yet. */
static enum found seek(struct run *run, const struct hk_where *where, size_t end, struct position *position)
{
    enum found found = seek_kind(run, where, end, position);
    size_t to = found == NONE_LEFT ? end : position->index == NOWHERE ? position->at : position->index;
    look(run, to > run->at ? to - run->at : 0);
    return found;
}

/* A kind that is gone to, whatever stands before it. */
static bool is_jump(const struct hk_where *where)
{
    return where->given && (where->what == HK_WHAT_SPACE || where->what == HK_WHAT_GAP || where->what == HK_WHAT_GROUP ||
                            where->what == HK_WHAT_MARKED || where->what == HK_WHAT_RING);
}

static enum found nearest(struct run *run, const struct hk_where *where, size_t end, struct position *position)
{
    enum found best = seek(run, where, end, position);
    for (const struct hk_where *other = where->besides; other; other = other->besides) {
        struct position at;
        enum found found = seek(run, other, end, &at);
        if (found == FOUND && (best != FOUND || at.index < position->index)) {
            *position = at;
            best = FOUND;
        }
    }
    return best;
}

/* A kind of which a place is found by itself, whatever stands behind it. */
static bool stands_alone(const struct hk_where *where)
{
    return where->what == HK_WHAT_ANY || where->what == HK_WHAT_STITCH || where->what == HK_WHAT_CHAIN ||
           where->what == HK_WHAT_SPACE;
}

/* The nearest place of several kinds: in a stretch that grows, since one of the kinds may be far away or nowhere. */
static enum found seek_besides(struct run *run, const struct hk_where *where, size_t end, struct position *position)
{
    bool alone = where->besides;
    for (const struct hk_where *one = where; one; one = one->besides)
        alone &= stands_alone(one);
    for (size_t stretch = LOOKS_A_UNIT; alone && run->at + stretch < end; stretch *= LOOKS_A_UNIT)
        if (nearest(run, where, run->at + stretch, position) == FOUND)
            return FOUND;
    return nearest(run, where, end, position);
}

/* Markers that the work passes hang on the needle still. */
static bool pass_markers(struct run *run, size_t to)
{
    for (size_t i = run->at; i < to && i < run->below.count; i++)
        if (run->below.spots[i].kind == HK_SPOT_MARKER && !push(run, run->below.spots[i]))
            return false;
    return true;
}

/* Counted no further than to one more than `most`. */
static int64_t places_up_to(const struct run *run, size_t from, size_t to, int64_t most)
{
    int64_t places = 0;
    for (size_t i = from; i < to && places <= most; i++) {
        const struct hk_spot *spot = &run->below.spots[i];
        places += is_worked(spot);
        if (spot->kind == HK_SPOT_SPACE && spaces_are_places(run))
            places += spot->chains - (i == run->at ? run->sub : 0);
    }
    return places;
}

static int64_t places_between(struct run *run, size_t from, size_t to)
{
    look(run, to > from ? to - from : 0);
    return places_up_to(run, from, to, INT64_MAX - 1);
}

static bool skipped_add(struct run *run, size_t index)
{
    if (run->skipped_count == run->skipped_capacity) {
        size_t capacity = run->skipped_capacity ? 2 * run->skipped_capacity : 16;
        size_t *grown = realloc(run->skipped, capacity * sizeof *grown);
        if (!grown)
            return lose(run);
        run->skipped = grown;
        run->skipped_capacity = capacity;
    }
    run->skipped[run->skipped_count++] = index;
    return true;
}

/* Uses the place up. */
static bool take(struct run *run, const struct position *position)
{
    if (position->own) {
        run->own_chains--;
        run->here = NOWHERE;
        return true;
    }
    if (position->uses) {
        if (!pass_markers(run, position->at))
            return false;
        run->used += places_between(run, run->at, position->at);
        if (position->index == NOWHERE)
            run->gap_at = position->at;
        run->at = position->at;
        run->sub = position->sub;
    } else if (position->index != NOWHERE && run->skipped_count > run->skipped_first &&
               run->skipped[run->skipped_first] == position->index) {
        run->skipped_first++;
    }
    run->here = position->index;
    run->in_group = false;
    return spend(run, 1);
}

static bool none_left(struct run *run, const struct hk_where *where, enum found found, const struct position *position, size_t at)
{
    size_t said = where->given ? where->at : at;
    if (found == OTHER_KIND) {
        const struct hk_spot *spot = &run->below.spots[position->index];
        const char *there = spot->kind == HK_SPOT_CHAIN ? "chain" : kind_text(run, spot->stitch);
        if (where->what == HK_WHAT_TOP)
            fail(run, HK_ROW_PLACE, said, "the next place is a %s, not the top of a chain that counts as a stitch", there);
        else
            fail(run, HK_ROW_PLACE, said, "the next place is a %s, not a %s", there,
                 where->what == HK_WHAT_CHAIN ? "chain" : kind_text(run, where->stitch));
        return advise(run, "skip it by name, or name what is there");
    }
    if (where->what == HK_WHAT_SPACE && where->chains > 0)
        fail(run, HK_WIDTH, said, "no ch-%" PRId64 " space is left to work into", where->chains);
    else if (is_jump(where))
        fail(run, HK_WIDTH, said, "no such place is left to work into");
    else
        fail(run, HK_WIDTH, said, "no stitch is left to work this into");
    run->trouble.short_of = true;
    run->not_named = is_jump(where);
    return false;
}

/* Places beyond the edge that an earlier row left: only words that count places reach them. */
static bool reach_beyond(struct run *run, const struct hk_where *where)
{
    const struct hk_edge *beyond = &run->follow->beyond[0];
    if (run->manner.strict || run->end < run->below.count || run->beyond >= beyond->count || !where->given ||
        (where->what != HK_WHAT_ANY && where->what != HK_WHAT_STITCH && where->what != HK_WHAT_SKIPPED) ||
        where->which != HK_WHICH_NEXT)
        return false;
    if (!hk_edge_push(&run->below, beyond->spots[run->beyond++]))
        return lose(run);
    run->end = run->below.count;
    return true;
}

static size_t first_place(struct run *run)
{
    size_t i = 0;
    while (i < run->below.count && run->below.spots[i].kind == HK_SPOT_MARKER)
        i++;
    look(run, i);
    return i;
}

/* The first place has been worked into last: by a chain that stands there. */
static bool on_first(struct run *run)
{
    return run->here != NOWHERE && run->here < run->at && run->here == first_place(run);
}

/* The place that a step names next, used up. */
static bool take_place(struct run *run, const struct hk_where *where, size_t end, size_t at)
{
    struct position position = {0};
    if (where->which == HK_WHICH_SAME && (run->here != NOWHERE || run->made.count)) {
        run->landed &= run->here != 0;
        return true; /* `here` stays */
    }
    if (where->which == HK_WHICH_FIRST && hk_graded_in(where->count, run->follow->size) == 1 &&
        (where->what == HK_WHAT_ANY || where->what == HK_WHAT_STITCH || where->what == HK_WHAT_CHAIN) && on_first(run)) {
        run->landed &= run->here != 0;
        return true;
    }
    enum found found = seek_besides(run, where, end, &position);
    while (found == NONE_LEFT && reach_beyond(run, where))
        found = seek_besides(run, where, end = run->end, &position);
    if (run->lost)
        return false;
    if (found != FOUND)
        return none_left(run, where, found, &position, at);
    if (!take(run, &position))
        return false;
    run->in_group = where->what == HK_WHAT_GROUP && where->within;
    return true;
}

/* ---- Where "each" and repeats end ---- */

/* The spot behind which just `places` places are left; NOWHERE: there are fewer. */
static size_t before_last(struct run *run, int64_t places, size_t end)
{
    int64_t left = places;
    size_t i = end;
    for (; i > run->at && left > 0; i--) {
        const struct hk_spot *spot = &run->below.spots[i - 1];
        left -= is_worked(spot);
        if (spot->kind == HK_SPOT_SPACE) {
            run->readings |= HK_READING_SPACES;
            if (spaces_are_places(run))
                left -= spot->chains;
        }
    }
    look(run, end - i);
    return left > 0 ? NOWHERE : i;
}

static size_t index_of(struct run *run, const struct hk_where *where, size_t end)
{
    struct position position = {0};
    if (where->which == HK_WHICH_LAST && (where->what == HK_WHAT_ANY || where->what == HK_WHAT_STITCH || where->what == HK_WHAT_TOP || where->what == HK_WHAT_CHAIN))
        return before_last(run, hk_graded_in(where->count, run->follow->size), end);
    if (where->which == HK_WHICH_LAST && where->what == HK_WHAT_SPACE) {
        int64_t most = most_chains(run);
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
            if (run->below.spots[i].kind == HK_SPOT_STITCH && kind_is(run, &run->below.spots[i], where->stitch))
                return i;
        return NOWHERE;
    }
    if (seek(run, where, end, &position) != FOUND)
        return NOWHERE;
    return position.index != NOWHERE ? position.index : position.at;
}

static size_t named_index(struct run *run, const struct hk_where *where, size_t end)
{
    size_t index = index_of(run, where, end);
    look(run, index < run->at || end < run->at ? 0 : (index == NOWHERE ? end : index) - run->at);
    return index;
}

static size_t next_marker(struct run *run, size_t end)
{
    size_t i = run->at;
    while (i < end && run->below.spots[i].kind != HK_SPOT_MARKER)
        i++;
    look(run, i > run->at ? i - run->at : 0);
    return i < end ? i : NOWHERE;
}

enum named { NAMED, TAKES_ANY, GOES_ON };

/* Whether a step names the place that it goes to, and which that is. */
static enum named step_named(struct run *run, const struct hk_step *step, size_t end, size_t *index)
{
    const struct hk_where *where = &step->where;
    switch (step->kind) {
    case HK_STEP_PASS:
    case HK_STEP_UNMARK:
        *index = next_marker(run, end);
        return NAMED;
    case HK_STEP_REPEAT:
        for (size_t i = 0; i < step->step_count; i++) {
            enum named named = step_named(run, &step->steps[i], end, index);
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
                           stitch_of(run, step->stitch)->needs == 0
                       ? GOES_ON
                       : TAKES_ANY;
        if (where->which == HK_WHICH_SAME || where->what == HK_WHAT_NTH_CHAIN || where->what == HK_WHAT_BELOW)
            return GOES_ON;
        if (where->which == HK_WHICH_LAST || is_jump(where) || where->what == HK_WHAT_TOP) {
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
    case HK_STEP_NOTHING:
        break;
    }
    return GOES_ON;
}

/* The place that what follows in the row names next; NOWHERE where it names none. */
static size_t named_next(struct run *run, const struct list *list, size_t end)
{
    size_t nearest = NOWHERE, index;
    for (const struct list *l = list; l; l = l->outer) {
        enum named named = GOES_ON;
        for (size_t i = l->now + 1; i < l->count && named == GOES_ON; i++) {
            named = step_named(run, &l->steps[i], end, &index);
            if (named == NAMED && index < nearest)
                nearest = index;
        }
        if (named != GOES_ON)
            return nearest;
        for (size_t i = 0; l->again && i <= l->now && named == GOES_ON; i++) {
            named = step_named(run, &l->steps[i], end, &index);
            if (named == NAMED && index < nearest)
                nearest = index;
        }
    }
    return nearest;
}

/* The place that later steps of the row name as its last; NOWHERE where none does. */
static size_t last_named(struct run *run, const struct list *list, size_t end)
{
    for (const struct list *l = list; l; l = l->outer) {
        if (l->again)
            return NOWHERE;
        for (size_t i = l->now + 1; i < l->count; i++) {
            const struct hk_step *step = &l->steps[i];
            bool takes = step->kind == HK_STEP_STITCH || step->kind == HK_STEP_GROUP || step->kind == HK_STEP_SKIP || step->kind == HK_STEP_LEAVE;
            if (takes && step->where.given && (step->where.which == HK_WHICH_LAST || step->where.what == HK_WHAT_TOP))
                return named_index(run, &step->where, end);
            if (takes && step->where.which != HK_WHICH_SAME)
                return NOWHERE;
        }
    }
    return NOWHERE;
}

/* Where a limit in words lies. False with a failure. */
static bool limit_index(struct run *run, const struct hk_where *where, const struct list *list, size_t at, size_t *limit)
{
    int64_t last = hk_graded_in(where->last, run->follow->size);
    switch (where->limit) {
    case HK_LIMIT_NONE: {
        size_t next = named_next(run, list, run->end);
        *limit = next == NOWHERE ? run->end : next;
        return true;
    }
    case HK_LIMIT_LAST:
        *limit = before_last(run, last, run->end);
        if (*limit != NOWHERE)
            return true;
        fail(run, HK_WIDTH, at, "fewer than %" PRId64 " stitch%s left here", last, last == 1 ? " is" : "es are");
        run->trouble.short_of = true;
        return false;
    case HK_LIMIT_PLACE: {
        size_t index = named_index(run, where->until, run->end);
        if (index == NOWHERE) {
            none_left(run, where->until, NONE_LEFT, NULL, at);
            run->not_named = true;
            return false;
        }
        *limit = last > 0 ? before_last(run, last, index) : index;
        if (*limit != NOWHERE)
            return true;
        fail(run, HK_WIDTH, at, "fewer than %" PRId64 " stitches are left before that place", last);
        return false;
    }
    case HK_LIMIT_END: { /* "across" goes to the end, but for a last place that is named */
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

/* ---- Chains ---- */

static const struct hk_step *first_worked(const struct hk_step *steps, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        if (steps[i].kind == HK_STEP_STITCH)
            return &steps[i];
        const struct hk_step *inner =
            steps[i].kind == HK_STEP_TURNING ? NULL : first_worked(steps[i].steps, steps[i].step_count);
        if (inner)
            return inner;
    }
    return NULL;
}

static bool chooses(struct run *run, enum hk_convention choice, bool usual)
{
    unsigned bit = 1u << choice;
    run->choices |= bit;
    return (run->follow->conventions->other & bit) ? !usual : usual;
}

/* What the row itself says of its starting chain: joined to the top of it, it counts; joined to a stitch by name, it does not. */
static enum hk_counts join_says(const struct run *run)
{
    for (size_t i = 1; i < run->row->step_count; i++) {
        const struct hk_step *step = &run->row->steps[i];
        if (step->kind != HK_STEP_JOIN || !step->where.given)
            continue;
        if (step->where.what == HK_WHAT_TOP)
            return HK_COUNTS_YES;
        if (step->where.what == HK_WHAT_STITCH && step->where.stitch != run->follow->slip)
            return HK_COUNTS_NO;
    }
    return HK_COUNTS_OPEN;
}

static size_t base_kind(const struct run *run, size_t stitch)
{
    return stitch < run->follow->catalogue->stitch_count ? stitch_of(run, stitch)->base : NO_KIND;
}

static bool is_us(const struct run *run, size_t stitch, const char *us)
{
    const char *text = stitch < run->follow->catalogue->stitch_count ? stitch_of(run, stitch)->us : NULL;
    return text && strcmp(text, us) == 0;
}

/* The stitch that the row works, for chains that stand for one and for increases. */
static size_t row_stitch(const struct run *run, const struct hk_step *steps, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        if (steps[i].kind == HK_STEP_STITCH && steps[i].stitch < run->follow->catalogue->stitch_count) {
            const struct hk_stitch *of = stitch_of(run, steps[i].stitch);
            if (of->needs >= 1 && of->leaves == 1 && steps[i].stitch != run->follow->slip && (of->loops > 0 || of->wraps > 0))
                return of->base;
        }
        size_t inner = steps[i].kind == HK_STEP_TURNING ? NO_KIND : row_stitch(run, steps[i].steps, steps[i].step_count);
        if (inner != NO_KIND)
            return inner;
    }
    return NO_KIND;
}

/* Whether chains at the start of the row count as a stitch, and as which. */
static bool chain_counts(struct run *run, int64_t chains, const struct hk_step *said, size_t *stitch, int64_t *spare)
{
    size_t kind = run->own;
    *stitch = said && said->stitch != SIZE_MAX ? said->stitch : kind;
    *spare = said ? said->spare : 0;
    if (said && said->counts != HK_COUNTS_OPEN)
        return said->counts == HK_COUNTS_YES;
    if (chains == 1 || kind == NO_KIND)
        return false;
    enum hk_counts joined = chains > 1 ? run->join_says : HK_COUNTS_OPEN;
    if (joined != HK_COUNTS_OPEN)
        return joined == HK_COUNTS_YES;
    if (chains == 2 && (is_us(run, kind, "hdc") || is_us(run, kind, "dc")))
        return chooses(run, HK_CONVENTION_CH2, false);
    if (chains == 3 && is_us(run, kind, "dc"))
        return chooses(run, HK_CONVENTION_CH3, true);
    if (chains == 4 && is_us(run, kind, "tr"))
        return chooses(run, HK_CONVENTION_CH4, true);
    if (chains > 3 && is_us(run, kind, "dc"))
        *spare = chains - 3;
    return chooses(run, HK_CONVENTION_CH_OTHER, false);
}

/* A chain that counts stands on the first place, which is then worked. */
static bool stand(struct run *run)
{
    struct position position = {0};
    bool ring = run->below.count && run->below.spots[0].kind == HK_SPOT_RING;
    run->landed &= run->here != 0;
    if (ring || run->in.on || run->here != NOWHERE || (run->follow->foundation && !run->manner.round && !run->row->joined))
        return true;
    const struct hk_where any = {.what = HK_WHAT_ANY};
    if (seek(run, &any, run->end, &position) != FOUND) {
        return run->below.count == 0 || none_left(run, &any, NONE_LEFT, NULL, 0);
    }
    return take(run, &position);
}

static bool chain_too_long(struct run *run, int64_t chains)
{
    return chains > (int64_t)HK_SPOTS_MOST && !fail(run, HK_COUNT_TOO_LARGE, 0, "a chain of more than %zu", HK_SPOTS_MOST);
}

static bool push_counting(struct run *run, size_t stitch, int64_t chains, int64_t spare)
{
    struct hk_spot spot = {.kind = HK_SPOT_STITCH, .stitch = (uint16_t)stitch, .chains = (uint32_t)chains};
    spot.group = group_now(run);
    return push(run, spot) && (spare == 0 || push_space(run, spare));
}

static bool start_chain(struct run *run, int64_t chains, const struct hk_step *said, bool worked)
{
    size_t stitch;
    int64_t spare;
    if (chain_too_long(run, chains) || (worked && !log_stitch(run, run->follow->chain, chains)))
        return false;
    if (!chain_counts(run, chains, said, &stitch, &spare) || stitch == NO_KIND)
        return true;
    bool leading = run->leading;
    bool good = stand(run) && push_counting(run, stitch, chains, spare);
    run->leading = leading;
    return good;
}

/* `tch 4 as (dc, ch 1)`: what is said is what counts. */
static bool turning_chain(struct run *run, const struct hk_step *step)
{
    int64_t chains = hk_graded_in(step->many, run->follow->size);
    if (chain_too_long(run, chains) || !log_stitch(run, run->follow->chain, chains) || step->step_count == 0)
        return !run->failed;
    if (!stand(run))
        return false;
    bool first = true;
    for (size_t i = 0; i < step->step_count; i++) {
        const struct hk_step *as = &step->steps[i];
        int64_t count = hk_graded_in(as->kind == HK_STEP_CHAIN ? as->many : as->where.count, run->follow->size);
        if (as->kind == HK_STEP_CHAIN) {
            if (!push_space(run, count))
                return false;
            continue;
        }
        for (int64_t j = 0; j < count && j < (int64_t)HK_SPOTS_MOST; j++) {
            struct hk_spot spot = {.kind = HK_SPOT_STITCH, .stitch = (uint16_t)base_kind(run, as->stitch), .group = group_now(run)};
            if (first)
                spot.chains = (uint32_t)chains;
            first = false;
            if (!push(run, spot))
                return false;
        }
    }
    return true;
}

/* ---- Stitches ---- */

/* "Nth ch from hook": into the foundation, or into the chain that the row has just made. */
static bool nth_chain(struct run *run, const struct hk_step *step, int64_t many)
{
    int64_t nth = step->where.nth;
    struct hk_spot *last = run->made.count ? &run->made.spots[run->made.count - 1] : NULL;
    size_t stitch = step->stitch;
    if (last && last->kind == HK_SPOT_SPACE && last->chains >= nth) {
        int64_t chains = last->chains;
        run->made.count--;
        run->own_chains = stitch == run->follow->slip ? 0 : chains - nth;
        if (stitch == run->follow->slip) /* a picot stands on the stitch before it */
            return (chains == nth || push_space(run, chains - nth)) && log_stitch(run, stitch, many);
        if (nth > 2 && !push_space(run, nth - 1))
            return false;
        return produce(run, stitch, many, group_now(run));
    }
    if (!run->leading || run->at + (size_t)nth > run->below.count || run->below.spots[run->at].kind != HK_SPOT_CHAIN) {
        fail(run, HK_ROW_PLACE, step->where.at, "no %" PRId64 "th chain from the hook is there", nth);
        return advise(run, "start the work with a chain, or write in first st");
    }
    bool dc = is_us(run, run->own, "dc"), hdc = is_us(run, run->own, "hdc"), tr = is_us(run, run->own, "tr");
    bool counts = false;
    size_t skipped = (size_t)nth - 1;
    if (run->lead.step && run->lead.step->counts != HK_COUNTS_OPEN)
        counts = run->lead.step->counts == HK_COUNTS_YES;
    else if (step->counts != HK_COUNTS_OPEN)
        counts = step->counts == HK_COUNTS_YES;
    else if ((dc && skipped >= 3) || (tr && skipped >= 4))
        counts = chooses(run, HK_CONVENTION_SKIPPED_DC, true);
    else if (hdc && skipped >= 2)
        counts = chooses(run, HK_CONVENTION_SKIPPED_HDC, false);
    run->at += skipped;
    if (counts) {
        int64_t height = tr ? 4 : dc ? 3 : 2, over = (int64_t)skipped - height; /* "dc in 8th ch": a dc and a space over skipped chains */
        int64_t spare = step->spare ? step->spare : over >= 2 ? over - over / 2 : 0;
        if (!push_counting(run, run->own, height + spare, spare))
            return false;
    }
    run->leading = false;
    run->foundation_first = run->at;
    struct position position;
    whole(run, run->at, &position);
    return take(run, &position) && produce(run, stitch, many, group_now(run));
}

static size_t stitch_by_name(const struct hk_follow *follow, const char *us)
{
    for (size_t i = 0; i < follow->catalogue->stitch_count; i++)
        if (follow->catalogue->stitches[i].us && strcmp(follow->catalogue->stitches[i].us, us) == 0)
            return i;
    return NO_KIND;
}

/* The stitch that a bare inc or dec is of. */
static size_t shaping_kind(const struct run *run)
{
    if (run->own != NO_KIND)
        return run->own;
    const struct hk_spot *spot = run->at < run->below.count ? &run->below.spots[run->at] : NULL;
    if (spot && spot->kind == HK_SPOT_STITCH && spot->stitch != HK_SPOT_ANY && spot->stitch != run->follow->chain)
        return stitch_of(run, spot->stitch)->base;
    return run->follow->sc;
}

/* The catalogue's stitch for a step, and how many of it are worked in each place. False with a failure. */
static bool resolve(struct run *run, const struct hk_step *step, size_t *stitch, int64_t *many)
{
    *many = hk_graded_in(step->many, run->follow->size) * (step->stitch_inc ? 2 : 1);
    *stitch = step->stitch;
    if (step->stitch != HK_STITCH_INC && step->stitch != HK_STITCH_DEC)
        return true;
    size_t kind = shaping_kind(run);
    bool knit = stitch_of(run, kind)->family == HK_KNIT;
    if (step->stitch == HK_STITCH_INC) {
        *stitch = knit ? run->follow->kfb : kind;
        *many *= knit ? 1 : 2;
    } else {
        char name[64];
        snprintf(name, sizeof name, "%s2tog", stitch_of(run, kind)->us ? stitch_of(run, kind)->us : "");
        *stitch = knit ? run->follow->k2tog : stitch_by_name(run->follow, name);
        if (*stitch == NO_KIND) {
            fail(run, HK_NAME_UNKNOWN, step->at, "a decrease of %s is in no table", stitch_of(run, kind)->name);
            return advise(run, "name the decrease, such as sc2tog or k2tog");
        }
    }
    return true;
}

/* Several places are used by one stitch: only where they are stitches one after another. */
static int64_t places_of(const struct hk_where *where, int64_t needs)
{
    bool row = where->which != HK_WHICH_SAME && (where->what == HK_WHAT_ANY || where->what == HK_WHAT_STITCH || where->what == HK_WHAT_CHAIN);
    return needs > 1 && row ? needs : 1;
}

static bool carry_mark(struct run *run, size_t made_before, bool marked)
{
    if (marked && run->made.count > made_before)
        run->made.spots[made_before + (run->made.count - made_before - 1) / 2].marked = true;
    return true;
}

/* In a ring all is one group that no chains part. */
static uint32_t group_of_unit(struct run *run)
{
    const struct hk_spot *last = run->made.count ? &run->made.spots[run->made.count - 1] : NULL;
    bool ring = run->here != NOWHERE && run->below.spots[run->here].kind == HK_SPOT_RING;
    return ring && last && last->kind == HK_SPOT_STITCH ? last->group : group_now(run);
}

/* One stitch, or several in one place. */
static bool work_unit(struct run *run, const struct hk_step *step, size_t stitch, int64_t many, int64_t places, size_t end)
{
    bool marked = false;
    for (int64_t i = 0; i < places; i++) {
        if (!take_place(run, &step->where, end, step->at))
            return false;
        marked |= run->here != NOWHERE && run->here < run->below.count && run->below.spots[run->here].marked;
    }
    size_t before = run->made.count;
    return produce(run, stitch, many, group_of_unit(run)) && carry_mark(run, before, marked);
}

/* One stitch, or several, in a place that is found already. */
static bool work_found(struct run *run, const struct hk_step *step, size_t stitch, int64_t many, const struct position *position)
{
    if (!take(run, position))
        return false;
    run->in_group = step->where.what == HK_WHAT_GROUP && step->where.within;
    bool marked = run->here != NOWHERE && run->here < run->below.count && run->below.spots[run->here].marked;
    size_t before = run->made.count;
    return produce(run, stitch, many, group_of_unit(run)) && carry_mark(run, before, marked);
}

/* All places up to the limit. */
static bool work_each(struct run *run, const struct hk_step *step, const struct list *list, size_t stitch, int64_t many, int64_t places)
{
    size_t limit;
    const struct hk_where *where = &step->where;
    if (!limit_index(run, where, list, step->at, &limit))
        return false;
    size_t saved = run->end;
    run->end = limit;
    for (;;) {
        struct position position = {0};
        enum found found = seek_besides(run, where, limit, &position);
        if (found == NONE_LEFT)
            break;
        if (found == OTHER_KIND) {
            if (where->limit == HK_LIMIT_NONE && limit == saved)
                break;
            run->end = saved;
            return none_left(run, where, found, &position, step->at);
        }
        if (position.index != NOWHERE && run->below.spots[position.index].kind == HK_SPOT_RING) {
            fail(run, HK_ROW_ENDLESS, step->at, "nothing ends this in a ring");
            run->trouble.endless = true;
            return advise(run, "write how many are worked into the ring: 6 sc in ring");
        }
        run->went_on++;
        if (places == 1 ? !work_found(run, step, stitch, many, &position) : !work_unit(run, step, stitch, many, places, limit)) {
            run->end = saved;
            if (!run->trouble.short_of || run->lost || places == 1)
                return false;
            run->failed = false;
            int64_t remain = places_between(run, run->at, limit) + places - 1;
            fail(run, HK_WIDTH, step->at, "%" PRId64 " stitch%s at the end of the row", remain, remain == 1 ? " remains" : "es remain");
            run->trouble.remain = remain;
            return false;
        }
    }
    run->end = saved;
    return true;
}

static bool last_there(struct run *run, const struct hk_step *step, int64_t places)
{
    if (run->in.on || places_up_to(run, run->at, run->end, places) <= places)
        return true;
    int64_t left = places_between(run, run->at, run->end);
    size_t index = works_in_spaces(run) ? before_last(run, places, run->end) : NOWHERE;
    if (index != NOWHERE) {
        struct position position = {.index = run->here, .at = index, .uses = true};
        return take(run, &position);
    }
    fail(run, HK_WIDTH, step->where.at, "%" PRId64 " stitch%s left before the last", left - places, left - places == 1 ? " is" : "es are");
    run->trouble.remain = left - places;
    return advise(run, "work or skip them first");
}

/* Of counts; too large a one stays too large. */
static int64_t product(int64_t a, int64_t b)
{
    return a > 0 && b > HK_COUNT_MOST / a ? HK_COUNT_MOST + 1 : a * b;
}

static bool step_stitch(struct run *run, const struct hk_step *step, const struct list *list)
{
    size_t stitch;
    int64_t many, count = hk_graded_in(step->where.count, run->follow->size);
    if (!resolve(run, step, &stitch, &many))
        return false;
    const struct hk_where *where = &step->where;
    int64_t needs = stitch_of(run, stitch)->needs;
    if (where->what == HK_WHAT_NTH_CHAIN && where->given)
        return nth_chain(run, step, many);
    if (needs == 0 && !where->given) {
        uint32_t group = group_now(run);
        return produce(run, stitch, product(many, where->limit == HK_LIMIT_NONE ? count : 1), group);
    }
    if (run->in.on && (!where->given || where->which == HK_WHICH_SAME)) {
        bool marked = run->in.place != NOWHERE && run->below.spots[run->in.place].marked;
        size_t before = run->made.count;
        return produce(run, stitch, product(many, where->given ? 1 : count), run->in.group) && carry_mark(run, before, marked);
    }
    int64_t places = places_of(where, needs);
    if (where->which == HK_WHICH_EACH)
        return work_each(run, step, list, stitch, many, places);
    if (where->which == HK_WHICH_LAST && where->what != HK_WHAT_SPACE && !last_there(run, step, count * places))
        return false;
    if (where->which == HK_WHICH_SAME) {
        uint32_t group = run->made.count && run->here != NOWHERE ? run->made.spots[run->made.count - 1].group : group_new(run);
        return take_place(run, where, run->end, step->at) && produce(run, stitch, many, group);
    }
    for (int64_t i = 0; i < count; i++)
        if (!work_unit(run, step, stitch, many, places, run->end))
            return false;
    return true;
}

/* ---- Groups ---- */

static bool group_at(struct run *run, const struct hk_step *step, const struct list *list)
{
    struct inside saved = run->in;
    if (!take_place(run, &step->where, run->end, step->at))
        return false;
    run->in = (struct inside){true, run->here, group_new(run)};
    if (step->where.which == HK_WHICH_SAME && run->made.count && run->here != NOWHERE && !run->leading)
        run->in.group = run->made.spots[run->made.count - 1].group;
    struct list inner = {.steps = step->steps, .count = step->step_count, .outer = list};
    size_t before = run->made.count;
    bool marked = run->here != NOWHERE && run->below.spots[run->here].marked;
    bool good = run_list(run, &inner) && carry_mark(run, before, marked);
    run->in = saved;
    return good;
}

static bool step_group(struct run *run, const struct hk_step *step, const struct list *list)
{
    int64_t count = hk_graded_in(step->where.count, run->follow->size);
    size_t limit, saved = run->end;
    if (step->where.which != HK_WHICH_EACH) {
        bool once = step->where.which == HK_WHICH_SAME || step->where.what == HK_WHAT_RING;
        for (int64_t i = 0; i < (once ? 1 : count); i++)
            if (!group_at(run, step, list))
                return false;
        return true;
    }
    if (!limit_index(run, &step->where, list, step->at, &limit))
        return false;
    run->end = limit;
    bool good = true;
    struct position position = {0};
    enum found found;
    while (good && (found = seek_besides(run, &step->where, limit, &position)) != NONE_LEFT)
        good = found == FOUND ? group_at(run, step, list) : none_left(run, &step->where, found, &position, step->at);
    run->end = saved;
    return good;
}

/* ---- Repeats ---- */

static bool run_once(struct run *run, const struct hk_step *step, const struct list *list, size_t first, size_t count, bool again)
{
    struct list inner = {.steps = step->steps + first, .count = count, .again = again, .open = step->where.limit != HK_LIMIT_COUNT,
                         .outer = list};
    return run_list(run, &inner);
}

static bool endless(struct run *run, const struct hk_step *step)
{
    fail(run, HK_ROW_ENDLESS, step->at, "nothing ends this repeat");
    run->trouble.endless = true;
    return advise(run, "let each run of the repeat use up stitches of the row below");
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
    return places_up_to(run, run->at, limit, 0) == 0;
}

/* One run of a repeat within its limit; *stopped: it stood where it ends, by "ending last rep at **". */
static bool repeat_run(struct run *run, const struct hk_step *step, const struct list *list, size_t limit, bool *stopped)
{
    *stopped = false;
    run->went_on++;
    if (!step->last_steps)
        return run_once(run, step, list, 0, step->step_count, true);
    if (!run_once(run, step, list, 0, step->last_steps, true))
        return false;
    *stopped = at_limit(run, limit);
    return *stopped || run_once(run, step, list, step->last_steps, step->step_count - step->last_steps, true);
}

static bool nothing_new(const struct run *run, const struct mark *mark)
{
    return run->at == mark->at && run->sub == mark->sub && run->gap_at == mark->gap_at;
}

static bool remains(struct run *run, const struct hk_step *step, size_t limit)
{
    int64_t remain = places_between(run, run->at, limit);
    run->failed = false;
    fail(run, HK_WIDTH, step->at, "%" PRId64 " stitch%s where this repeat should come out", remain, remain == 1 ? " remains" : "es remain");
    run->trouble.remain = remain;
    return false;
}

/* Up to a limit in words: it has to come out. */
static bool repeat_to(struct run *run, const struct hk_step *step, const struct list *list, size_t limit)
{
    size_t saved = run->end;
    bool first = true, stopped = false, good = true;
    run->end = limit;
    while (good && !stopped && (first || !at_limit(run, limit))) {
        struct mark mark = mark_set(run);
        good = repeat_run(run, step, list, limit, &stopped);
        if (good && nothing_new(run, &mark)) {
            run->end = saved;
            return endless(run, step);
        }
        if (!good && !run->lost && !first && run->trouble.short_of) {
            bool named = run->not_named;
            go_back(run, &mark);
            run->end = saved;
            return named ? true : remains(run, step, limit);
        }
        first = false;
    }
    run->end = saved;
    return good;
}

/* How often an open repeat is run is fixed: each of them equally often. */
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

/* Whether one of the steps names a place by itself. */
static bool names(struct run *run, const struct hk_step *steps, size_t count, size_t place)
{
    for (size_t i = 0; i < count; i++) {
        size_t index;
        bool repeat = steps[i].kind == HK_STEP_REPEAT;
        if (repeat ? names(run, steps[i].steps, steps[i].step_count, place)
                   : step_named(run, &steps[i], run->end, &index) == NAMED && index == place)
            return true;
    }
    return false;
}

/* Whether steps work into places by name only, in spaces and gaps. */
static bool only_jumps(const struct hk_step *steps, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        bool takes = steps[i].kind == HK_STEP_STITCH || steps[i].kind == HK_STEP_GROUP || steps[i].kind == HK_STEP_SKIP;
        if (takes && !is_jump(&steps[i].where))
            return false;
        if (steps[i].kind == HK_STEP_REPEAT && !only_jumps(steps[i].steps, steps[i].step_count))
            return false;
    }
    return true;
}

/* Whether nothing that follows in the row takes a place. */
static bool takes_last(struct run *run, const struct list *list)
{
    size_t ignored;
    for (const struct list *l = list; l; l = l->outer) {
        if (l->again)
            return false;
        for (size_t i = l->now + 1; i < l->count; i++)
            if (step_named(run, &l->steps[i], run->end, &ignored) != GOES_ON)
                return false;
    }
    return true;
}

static bool nested(struct run *run, const struct hk_step *step)
{
    fail(run, HK_ROW_NESTED, step->at, "this repeat stands in another, and nothing says how often it runs or where it ends");
    return advise(run, "write (dc, ch 1) 3 times, or [dc, ch 1] to next ch-2 sp");
}

/*
 * As often as what follows in the row lets it: run to the end, then back until the rest of the row comes out. *done: the rest of
 * the list is worked too.
 */
static bool repeat_open(struct run *run, const struct hk_step *step, struct list *list, bool *done)
{
    size_t limit = named_next(run, list, run->end), capacity = 0, count = 0;
    *done = false;
    if (limit != NOWHERE && !names(run, step->steps, step->step_count, limit))
        return repeat_to(run, step, list, limit);
    if (list->outer && only_jumps(step->steps, step->step_count) && takes_last(run, list))
        return repeat_to(run, step, list, run->end);
    for (const struct list *l = list; l; l = l->outer)
        if (l->open)
            return nested(run, step);
    if (run->manner.fixed) {
        run->equal = run->manner.runs;
        return repeat_equal(run, step, list);
    }
    bool tail = list->now + 1 < list->count;
    if (run->open_repeats > 1 || list->outer) {
        if (!list->outer && run->open_repeats == 1)
            return repeat_to(run, step, list, run->end);
        return repeat_equal(run, step, list);
    }
    struct mark *marks = NULL;
    bool good = true;
    struct hk_trouble trouble = {0};
    if (run->below.count && run->below.spots[0].kind == HK_SPOT_RING && !run->in.on)
        return none_left(run, &(struct hk_where){0}, NONE_LEFT, NULL, step->at);
    while (good && !at_limit(run, run->end)) {
        if (count == capacity) {
            capacity = capacity ? 2 * capacity : 64;
            struct mark *grown = realloc(marks, capacity * sizeof *grown);
            if (!grown) {
                free(marks);
                return lose(run);
            }
            marks = grown;
        }
        marks[count++] = mark_set(run);
        bool stopped;
        good = repeat_run(run, step, list, run->end, &stopped);
        if (good && nothing_new(run, &marks[count - 1])) {
            free(marks);
            return endless(run, step);
        }
        if (stopped)
            break;
    }
    if (!good) {
        trouble = run->trouble;
        bool named = run->not_named;
        if (run->lost || count < 2 || !run->trouble.short_of) {
            if (run->lost || !run->trouble.short_of || !tail) {
                free(marks);
                return false;
            }
        }
        go_back(run, &marks[--count]);
        if (named && !tail) {
            struct position position = {.index = run->here, .at = run->end, .uses = true};
            free(marks);
            return take(run, &position);
        }
    }
    int64_t remain = places_between(run, run->at, run->end);
    size_t index = list->now;
    for (size_t tries = 0; tries < BACKTRACKS_MOST; tries++) {
        struct mark here = mark_set(run);
        list->now = index + 1;
        bool worked = run_list(run, list);
        if (run->lost || run->trouble.spent) {
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
        if (tries == 0 && worked)
            remain = places_between(run, run->at, run->end);
        go_back(run, count ? &marks[--count] : &here);
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
    fail(run, HK_WIDTH, step->at, "%" PRId64 " stitch%s where this repeat should come out", remain, remain == 1 ? " remains" : "es remain");
    run->trouble.remain = remain ? remain : 1;
    return false;
}

static bool step_repeat(struct run *run, const struct hk_step *step, struct list *list, bool *done)
{
    size_t limit;
    *done = false;
    if (run->deep >= DEEP_MOST)
        return fail(run, HK_ROW_SYNTAX, step->at, "brackets are nested too deep");
    if (step->where.limit == HK_LIMIT_COUNT)
        return repeat_times(run, step, list);
    if (step->where.limit == HK_LIMIT_NONE)
        return repeat_open(run, step, list, done);
    return limit_index(run, &step->where, list, step->at, &limit) && repeat_to(run, step, list, limit);
}

/* ---- Other steps ---- */

static bool step_skip(struct run *run, const struct hk_step *step, const struct list *list)
{
    const struct hk_where *where = &step->where;
    if (where->which == HK_WHICH_SAME)
        return true;
    if (where->which == HK_WHICH_FIRST && on_first(run))
        return true; /* the chain stands there */
    run->leading = false;
    if (where->which == HK_WHICH_EACH) {
        size_t limit;
        if (!limit_index(run, where, list, step->at, &limit))
            return false;
        run->leaves |= where->limit == HK_LIMIT_END;
        struct position position = {.index = run->here, .at = limit, .uses = true};
        return run->leaves ? true : take(run, &position);
    }
    int64_t count = hk_graded_in(where->count, run->follow->size);
    size_t here = run->here;
    for (int64_t i = 0; i < count; i++) {
        if (!take_place(run, where, run->end, step->at) || (run->here != NOWHERE && !skipped_add(run, run->here)))
            return false;
    }
    run->here = here;
    return true;
}

static bool step_pass(struct run *run, const struct hk_step *step)
{
    size_t index = next_marker(run, run->end);
    int64_t between = index == NOWHERE ? 0 : places_between(run, run->at, index);
    if (index == NOWHERE || between > 0) {
        if (index == NOWHERE)
            fail(run, HK_ROW_PLACE, step->at, "no marker is left here");
        else
            fail(run, HK_ROW_PLACE, step->at, "the next marker is %" PRId64 " stitch%s further on", between, between == 1 ? "" : "es");
        return advise(run, "place markers with pm in the row below, or work to the marker first");
    }
    struct hk_spot marker = run->below.spots[index];
    run->at = index + 1;
    run->sub = 0;
    return step->kind == HK_STEP_UNMARK || push(run, marker);
}

static bool step_mark(struct run *run, const struct hk_step *step)
{
    if (run->row->knit && !step->where.given)
        return push(run, (struct hk_spot){.kind = HK_SPOT_MARKER, .group = group_new(run), .stitch = HK_SPOT_ANY});
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
    int64_t left = places_between(run, run->at, run->end);
    run->leaves = true;
    if (step->where.which == HK_WHICH_EACH || left == count)
        return true;
    fail(run, HK_WIDTH, step->at, "%" PRId64 " stitch%s left here, not %" PRId64, left, left == 1 ? " is" : "es are", count);
    return false;
}

static bool step_cut(struct run *run, const struct hk_step *step)
{
    run->cut_m += step->cut_m * (double)hk_graded_in(step->many, run->follow->size);
    return true;
}

static bool only_closes(const struct list *list, size_t from, bool *turns)
{
    *turns = false;
    for (size_t i = from; i < list->count; i++) {
        if (list->steps[i].kind == HK_STEP_TURN)
            *turns = true;
        else if (list->steps[i].kind != HK_STEP_NOTHING)
            return false;
    }
    return true;
}

static bool step_chain(struct run *run, const struct hk_step *step, const struct list *list)
{
    int64_t chains = hk_graded_in(step->many, run->follow->size);
    bool turns;
    if (chains == 0)
        return true;
    run->own_chains = 0;
    const struct hk_step *next = list->now + 1 < list->count ? &list->steps[list->now + 1] : NULL;
    bool own = next && next->kind == HK_STEP_STITCH && next->where.what == HK_WHAT_NTH_CHAIN;
    if (!list->outer && only_closes(list, list->now + 1, &turns) && turns) {
        if (chain_too_long(run, chains))
            return false;
        run->lead = (struct lead){chains, step};
        return log_stitch(run, run->follow->chain, chains);
    }
    if (run->leading && !own && run->works)
        return start_chain(run, chains, step, true);
    return log_stitch(run, run->follow->chain, chains) && push_space(run, chains);
}

/* The places that this row has used of the foundation, reversed, without the end that it turned round. */
static bool step_other_side(struct run *run)
{
    size_t end = run->at, first = run->foundation_first;
    if (first == NOWHERE || end <= first + 1 || run->below.spots[first].kind != HK_SPOT_CHAIN)
        return fail(run, HK_ROW_PLACE, 0, "there is no foundation chain to work along the other side of");
    if (end < run->below.count)
        return fail(run, HK_WIDTH, 0, "%zu chains are left before the other side", run->below.count - end);
    for (size_t i = end - 1; i > first; i--)
        if (!hk_edge_push(&run->below, run->below.spots[i - 1]))
            return lose(run);
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
        return step_stitch(run, step, list);
    case HK_STEP_CHAIN:
        return step_chain(run, step, list);
    case HK_STEP_TURNING:
        return turning_chain(run, step);
    case HK_STEP_GROUP:
        return step_group(run, step, list);
    case HK_STEP_REPEAT: {
        run->deep++;
        bool good = step_repeat(run, step, list, done);
        run->deep--;
        return good;
    }
    case HK_STEP_SKIP:
        return step_skip(run, step, list);
    case HK_STEP_JOIN: /* within a row it ties one part to another: it is no stitch to work into */
        if (list->now + 1 < list->count && is_jump(&step->where) && step->where.which == HK_WHICH_NEXT &&
            !take_place(run, &step->where, run->end, step->at))
            return false;
        return log_stitch(run, run->follow->slip, hk_graded_in(step->many, run->follow->size));
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
    case HK_STEP_NOTHING:
        break;
    }
    return true;
}

/* From list->now on. */
static bool run_list(struct run *run, struct list *list)
{
    size_t first = list->now;
    for (; list->now < list->count; list->now++) {
        bool done;
        if (!spend(run, 1) || !run_step(run, &list->steps[list->now], list, &done)) {
            list->now = first;
            return false;
        }
        if (done)
            break;
    }
    list->now = first;
    return true;
}

/* ---- The start of a row ---- */

/* Slip stitches before a starting chain: the step of that chain, 0 where there are none such. */
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
        while ((first->kind == HK_STEP_GROUP || first->kind == HK_STEP_REPEAT) && first->step_count)
            first = first->steps;
        return slips && (first->kind == HK_STEP_CHAIN || first->kind == HK_STEP_TURNING) ? i : 0;
    }
    return 0;
}

/* What slip stitches cross is left, or comes last in a round; the chain then stands where they end. */
static bool travel(struct run *run, size_t steps)
{
    bool round = run->manner.round || run->row->joined;
    bool moved = false;
    if (round && run->follow->joined && run->at == 0 && run->below.count > 0) {
        const struct hk_step *first = &run->row->steps[0];
        if (first->where.which != HK_WHICH_FIRST && first->where.which != HK_WHICH_SAME) {
            run->at = 1; /* the round was closed in its first place */
            moved = true;
        }
    }
    struct list list = {.steps = run->row->steps, .count = steps};
    if (!run_list(run, &list))
        return false;
    run->made.count = 0; /* they count 0 */
    if (run->here == NOWHERE || (!moved && run->at == 0))
        return true;
    size_t here = run->here;
    if (round) {
        run->travelled = places_between(run, 0, here);
        if (!hk_edge_rotate(&run->below, here, &run->scratch))
            return lose(run);
    } else {
        if (!hk_edge_add(&run->behind, run->below.spots, here))
            return lose(run);
        memmove(run->below.spots, run->below.spots + here, (run->below.count - here) * sizeof *run->below.spots);
        run->below.count -= here;
    }
    run->here = 0;
    run->at = 1;
    run->sub = 0;
    run->used = 1;
    run->gap_at = NOWHERE;
    run->end = run->below.count;
    run->leading = true;
    run->landed = !round;
    return true;
}

/* "Join B with sl st in any ch-2 sp": the round starts there. */
static bool join_first(struct run *run, const struct hk_step *step)
{
    if (!log_stitch(run, run->follow->slip, 1))
        return false;
    if (!step->where.given)
        return true;
    if (!take_place(run, &step->where, run->end, step->at))
        return false;
    if (run->here != NOWHERE && !hk_edge_rotate(&run->below, run->here, &run->scratch))
        return lose(run);
    if (run->here != NOWHERE) {
        run->here = 0;
        run->at = 1;
    }
    run->leading = true;
    return true;
}

/* "Ch 6, turn. Dc in 4th ch from hook": the chain widens the work. */
static bool lead_widens(struct run *run, const struct lead *lead)
{
    run->scratch.count = 0;
    if (!hk_edge_add(&run->scratch, run->below.spots, run->below.count))
        return lose(run);
    run->below.count = 0;
    for (int64_t i = 0; i < lead->chains; i++)
        if (!hk_edge_push(&run->below, (struct hk_spot){.kind = HK_SPOT_CHAIN, .stitch = (uint16_t)run->follow->chain, .group = group_new(run)}))
            return lose(run);
    if (!hk_edge_add(&run->below, run->scratch.spots, run->scratch.count))
        return lose(run);
    run->end = run->below.count;
    return true;
}

static bool is_tunisian(const struct run *run)
{
    return run->own != NO_KIND && stitch_of(run, run->own)->family == HK_TUNISIAN;
}

/* Tunisian: the loop on the hook is the first stitch, unsaid. A foundation's first chain holds it too. */
static bool loop_on_hook(struct run *run)
{
    struct position position = {0};
    const struct hk_where any = {.what = HK_WHAT_ANY};
    const struct hk_step *worked = first_worked(run->row->steps, run->row->step_count);
    if (worked && (worked->where.what == HK_WHAT_NTH_CHAIN || worked->where.which == HK_WHICH_FIRST))
        return true;
    if (seek(run, &any, run->end, &position) != FOUND)
        return true;
    return take(run, &position) && log_stitch(run, run->follow->chain, 1) &&
           push(run, (struct hk_spot){.kind = HK_SPOT_STITCH, .stitch = (uint16_t)run->own, .group = group_new(run)});
}

/* "Ch 5, sc in 2nd ch from hook": with nothing there the chain is the foundation. */
static bool founds(struct run *run, size_t i, size_t *first)
{
    const struct hk_row *row = run->row;
    if (run->below.count > 0 || i + 1 >= row->step_count || row->steps[i].kind != HK_STEP_CHAIN)
        return true;
    const struct hk_step *worked = first_worked(row->steps + i + 1, row->step_count - i - 1);
    if (!worked || worked->where.what != HK_WHAT_NTH_CHAIN)
        return true;
    int64_t chains = hk_graded_in(row->steps[i].many, run->follow->size);
    if (chains > (int64_t)HK_SPOTS_MOST)
        return fail(run, HK_COUNT_TOO_LARGE, row->steps[i].at, "a foundation of more than %zu chains", HK_SPOTS_MOST);
    for (int64_t c = 0; c < chains; c++)
        if (!hk_edge_push(&run->below, (struct hk_spot){.kind = HK_SPOT_CHAIN, .stitch = (uint16_t)run->follow->chain, .group = group_new(run)}))
            return lose(run);
    run->end = run->below.count;
    *first = i + 1;
    return log_stitch(run, run->follow->chain, chains);
}

static bool starts(struct run *run, size_t *first)
{
    const struct hk_row *row = run->row;
    size_t i = 0;
    while (i < row->step_count && (row->steps[i].kind == HK_STEP_TURN || row->steps[i].kind == HK_STEP_NOTHING))
        i++;
    struct lead lead = run->follow->lead;
    *first = i;
    if (i < row->step_count && row->steps[i].kind == HK_STEP_JOIN) {
        *first = i + 1;
        if (!join_first(run, &row->steps[i]))
            return false;
    }
    if (!founds(run, i, first) || *first > i)
        return !run->failed;
    size_t travels = travel_steps(run);
    if (travels) {
        *first = travels;
        return travel(run, travels);
    }
    if (is_tunisian(run) && !run->manner.strict && (i == row->step_count || (row->steps[i].kind != HK_STEP_CHAIN && row->steps[i].kind != HK_STEP_TURNING)))
        return loop_on_hook(run);
    if (!lead.chains || i == row->step_count || row->steps[i].kind == HK_STEP_CHAIN || row->steps[i].kind == HK_STEP_TURNING)
        return true;
    const struct hk_step *worked = first_worked(row->steps, row->step_count);
    if (worked && worked->where.what == HK_WHAT_NTH_CHAIN)
        return lead_widens(run, &lead);
    return start_chain(run, lead.chains, lead.step, false);
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
    run->leaves = run->ring = run->landed = run->failed = run->lost = run->not_named = run->equal_wanted = false;
    run->lead = (struct lead){0};
    run->trouble = (struct hk_trouble){0};
    run->readings = run->choices = 0;
}

/* The places left at the end of the row that are no spaces. */
static int64_t leftover(const struct run *run)
{
    int64_t left = 0;
    for (size_t i = run->at; i < run->below.count; i++)
        left += is_worked(&run->below.spots[i]);
    return left;
}

/* Whether no step takes the next stitch, whatever it is, or a stitch of a kind. */
static bool works_only_in_spaces(const struct run *run, const struct hk_step *steps, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        const struct hk_step *step = &steps[i];
        bool takes = step->kind == HK_STEP_SKIP || (step->kind == HK_STEP_STITCH && step->stitch != run->follow->slip &&
                                                    (step->stitch >= run->follow->catalogue->stitch_count || stitch_of(run, step->stitch)->needs > 0));
        takes = takes || step->kind == HK_STEP_GROUP;
        if (takes && step->where.given && !is_jump(&step->where) && step->where.which != HK_WHICH_SAME)
            return false;
        if (takes && !step->where.given && steps == run->row->steps)
            return false;
        if (step->kind == HK_STEP_REPEAT && !works_only_in_spaces(run, step->steps, step->step_count))
            return false;
    }
    return true;
}

/* A row that goes to named places has jumped over the rest. */
static bool jumped_over(const struct run *run)
{
    if (run->ring)
        return true;
    if (!works_in_spaces(run))
        return false;
    return (run->travelled > 0 && leftover(run) <= run->travelled) ||
           (run->row->repeats && works_only_in_spaces(run, run->row->steps, run->row->step_count));
}

static bool finish(struct run *run)
{
    int64_t left = leftover(run);
    if (left == 0 || run->leaves || jumped_over(run))
        return true;
    if (!run->row->to_end && !run->manner.strict)
        return true;
    fail(run, HK_WIDTH, 0, "%" PRId64 " stitch%s at the end of the row", left, left == 1 ? " remains" : "es remain");
    run->trouble.remain = left;
    return false;
}

static bool run_through(struct run *run)
{
    run_clear(run);
    struct hk_follow *follow = run->follow;
    if (!hk_edge_copy(&run->below, &follow->edge))
        return lose(run);
    run->end = run->below.count;
    run->own = row_stitch(run, run->row->steps, run->row->step_count);
    run->works = first_worked(run->row->steps, run->row->step_count) != NULL;
    run->join_says = join_says(run);
    size_t first;
    if (!starts(run, &first))
        return false;
    struct list list = {.steps = run->row->steps, .count = run->row->step_count, .now = first};
    if (!run_list(run, &list))
        return false;
    if (!pass_markers(run, run->below.count) || !finish(run))
        return false;
    return !run->landed || hk_edge_add(&run->behind, run->below.spots, 1) || lose(run);
}

/* Open repeats of one row that no name ends: as often each, so often that the row comes out. They have been run no times. */
static bool run_equal(struct run *run)
{
    struct hk_trouble none = run->trouble;
    if (!run->failed || none.remain == 0)
        return !run->failed;
    run->equal = 1;
    if (run_through(run) || run->lost)
        return !run->lost;
    if (run->trouble.remain == 0) {
        if (run->trouble.short_of)
            run->trouble = none;
        return false;
    }
    int64_t each = none.remain - run->trouble.remain;
    if (each <= 0)
        return endless(run, &run->row->steps[0]);
    run->equal = none.remain / each;
    return run_through(run);
}

static bool run_row(struct run *run)
{
    run->equal = 0;
    run->open_repeats = open_repeats(run, run->row->steps, run->row->step_count);
    bool good = run_through(run);
    return run->equal_wanted && !run->manner.fixed ? run_equal(run) : good;
}

/* ---- What the row came to ---- */

static bool is_knitting(const struct run *run)
{
    const struct hk_edge *edge = &run->follow->edge;
    if (run->row->knit)
        return true;
    return edge->count && edge->spots[0].kind == HK_SPOT_STITCH && edge->spots[0].stitch != HK_SPOT_ANY &&
           stitch_of(run, edge->spots[0].stitch)->family == HK_KNIT;
}

/* Stitches on the needle that this row has not worked. */
static int64_t on_needle(const struct run *run)
{
    if (!is_knitting(run) || run->manner.round)
        return 0;
    int64_t waiting = hk_edge_count(&run->follow->needle, false);
    for (size_t i = run->at; i < run->below.count; i++)
        waiting += run->below.spots[i].kind == HK_SPOT_STITCH;
    return waiting;
}

static int64_t groups_of(const struct run *run)
{
    int64_t groups = 0;
    for (size_t i = 0; i < run->made.count;) {
        size_t first = i, stitches = 0;
        for (; i < run->made.count && run->made.spots[i].group == run->made.spots[first].group; i++)
            stitches += run->made.spots[i].kind == HK_SPOT_STITCH;
        groups += stitches > 1;
    }
    return groups;
}

static int64_t all_of(const struct run *run, bool spaces)
{
    return hk_edge_count(&run->made, spaces) + on_needle(run);
}

static int64_t all_before(const struct run *run)
{
    return hk_edge_count(&run->follow->edge, false) + hk_edge_count(&run->follow->needle, false);
}

static int64_t actual(struct run *run, const struct hk_stated *stated, bool spaces)
{
    look(run, run->follow->edge.count + run->made.count);
    int64_t count = 0;
    switch (stated->of) {
    case HK_STATED_STITCHES:
        return all_of(run, spaces || stated->spaces_too);
    case HK_STATED_MORE:
        return all_of(run, spaces || stated->spaces_too) - all_before(run);
    case HK_STATED_FEWER:
        return all_before(run) - all_of(run, spaces || stated->spaces_too);
    case HK_STATED_GROUPS:
        return groups_of(run);
    case HK_STATED_KIND:
    case HK_STATED_SPACES:
    case HK_STATED_CHAINS:
        break;
    }
    for (size_t i = 0; i < run->made.count; i++) {
        const struct hk_spot *spot = &run->made.spots[i];
        if (stated->of == HK_STATED_KIND)
            count += spot->kind == HK_SPOT_STITCH && kind_is(run, spot, stated->stitch);
        else if (stated->each && spot->kind == HK_SPOT_SPACE && (count == 0 || spot->chains != hk_graded_in(stated->count, run->follow->size)))
            count = spot->chains; /* of any that differs, else of each */
        else if (!stated->each && spot->kind == HK_SPOT_SPACE && (stated->chains == 0 || spot->chains == stated->chains))
            count += stated->of == HK_STATED_CHAINS ? spot->chains : 1;
    }
    return count;
}

static bool has_spaces(const struct hk_edge *edge)
{
    for (size_t i = 0; i < edge->count; i++)
        if (edge->spots[i].kind == HK_SPOT_SPACE)
            return true;
    return false;
}

/* Every stated count of the row; *mark tells that spaces matter to them. */
static bool compare(struct run *run, struct hk_compared *compared)
{
    bool all = true;
    bool has = has_spaces(&run->made);
    for (size_t i = 0; i < run->row->stated_count && !run->failed; i++) {
        const struct hk_stated *stated = &run->row->stated[i];
        bool spaces = false;
        if (stated->of == HK_STATED_STITCHES && !stated->spaces_too && has)
            spaces = chooses(run, HK_CONVENTION_SPACES, false);
        struct hk_compared of = {hk_graded_in(stated->count, run->follow->size), actual(run, stated, spaces), false};
        of.agrees = of.stated == of.actual;
        all &= of.agrees;
        if (compared)
            compared[i] = of;
    }
    return all;
}

static bool same_outcome(const struct run *a, const struct run *b)
{
    if (!hk_edge_same(&a->made, &b->made) || a->log.count != b->log.count || a->cut_m != b->cut_m)
        return false;
    return a->log.count == 0 || memcmp(a->log.entries, b->log.entries, a->log.count * sizeof *a->log.entries) == 0;
}

static void swap_runs(struct hk_follow *follow)
{
    struct run run = follow->runs[0];
    follow->runs[0] = follow->runs[1];
    follow->runs[1] = run;
}

/* Whether words name the places of the row: "in next st", not `sc 1`. */
static bool places_named(const struct hk_step *steps, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        bool takes = steps[i].kind == HK_STEP_STITCH || steps[i].kind == HK_STEP_GROUP || steps[i].kind == HK_STEP_SKIP;
        if (takes && steps[i].where.worded && steps[i].where.what == HK_WHAT_ANY && steps[i].where.which != HK_WHICH_SAME)
            return true;
        if (places_named(steps[i].steps, steps[i].step_count))
            return true;
    }
    return false;
}

static void two_ways(struct run *run, unsigned differs)
{
    run->failed = false;
    if (differs & HK_READING_SPACES) {
        fail(run, HK_ROW_PLACE, 0, "this can be read in two ways: spaces among the stitches that are counted off, or not");
        advise(run, "write sk next ch-1 sp and sk next dc, in next dc, by name; or state what the row comes to");
    } else if (differs & HK_READING_TIMES) {
        fail(run, HK_ROW_PLACE, 0, "how often it is repeated can be read in two ways: in all, or besides the first");
        advise(run, "write 5 more times for those besides the first, or brackets: [...] 6 times; or state what the row comes to");
    } else {
        fail(run, HK_ROW_PLACE, 0, "the figure at the end may be a second size's or what the row comes to");
        advise(run, "write (24 sts) for a count");
    }
}

/*
 * All readings that the words leave; follow->runs[0] then is the one taken. A reading that meets the stated counts goes before
 * one that does not; two of which neither is better, with different outcomes, are an error.
 */
static bool run_readings(struct hk_follow *follow, const struct hk_row *row, struct hk_manner manner)
{
    struct run *best = &follow->runs[0], *other = &follow->runs[1];
    best->follow = other->follow = follow;
    best->row = row;
    best->manner = other->manner = manner;
    best->reading = 0;
    bool good = run_row(best), agrees = good && compare(best, NULL);
    unsigned open = best->readings | (row->other ? HK_READING_OTHER : 0);
    if (best->lost)
        return false;
    for (unsigned reading = 1; reading < HK_READINGS && open; reading++) {
        if (reading & ~open)
            continue;
        other->row = reading & HK_READING_OTHER ? row->other : row;
        other->reading = reading;
        bool worked = run_row(other), meets = worked && compare(other, NULL);
        if (other->lost)
            return false;
        open |= other->readings;
        if (!worked)
            continue;
        bool states = other->row->stated_count > 0;
        if (!good || (meets && states && !agrees)) {
            swap_runs(follow);
            good = true;
            agrees = meets;
        } else if (meets == agrees && !same_outcome(best, other)) {
            if (agrees && states && best->reading == 0 && !(reading & HK_READING_OTHER))
                continue; /* both meet what is stated: the plain reading */
            if (manner.strict && (reading ^ best->reading) == HK_READING_SPACES && !states && !places_named(row->steps, row->step_count)) {
                if (reading & HK_READING_SPACES)
                    swap_runs(follow); /* short notation counts off the width, in which chains are stitches */
                continue;
            }
            two_ways(best, reading ^ best->reading);
            return true;
        }
    }
    return true;
}

/* ---- The next edge ---- */

static bool prepend(struct hk_edge *list, const struct hk_spot *spots, size_t count, bool reversed, struct hk_edge *scratch)
{
    scratch->count = 0;
    for (size_t i = 0; i < count; i++) {
        const struct hk_spot *spot = &spots[reversed ? count - 1 - i : i];
        if (is_worked(spot) && !hk_edge_push(scratch, *spot))
            return false;
    }
    return hk_edge_add(scratch, list->spots, list->count) && hk_edge_copy(list, scratch);
}

static void swap_edges(struct hk_edge *a, struct hk_edge *b)
{
    struct hk_edge edge = *a;
    *a = *b;
    *b = edge;
}

/* An edge without places may have no array. */
static const struct hk_spot *spots_from(const struct hk_edge *edge, size_t first)
{
    return edge->spots ? edge->spots + first : NULL;
}

/* Crochet: what is left stays where it is. */
static bool keep_left(struct hk_follow *follow, struct run *run)
{
    size_t rest = run->ring || jumped_over(run) ? run->below.count : run->at;
    struct hk_edge *end = &follow->beyond[0];
    if (run->beyond) {
        memmove(end->spots, end->spots + run->beyond, (end->count - run->beyond) * sizeof *end->spots);
        end->count -= run->beyond;
    }
    return prepend(end, spots_from(&run->below, rest), run->below.count - rest, false, &run->scratch) &&
           prepend(&follow->beyond[1], run->behind.spots, run->behind.count, true, &run->scratch);
}

static bool adopt(struct hk_follow *follow, struct run *run)
{
    bool knitting = is_knitting(run), round = run->manner.round || (run->manner.strict && run->row->joined);
    bool turned = round ? run->row->turned : true;
    if (knitting && !round) {
        if (!hk_edge_add(&follow->needle, run->made.spots, run->made.count) || !hk_edge_copy(&follow->edge, &follow->needle))
            return false;
        follow->needle.count = 0;
        if (!hk_edge_add(&follow->needle, spots_from(&run->below, run->at), run->below.count - run->at))
            return false;
        hk_edge_reverse(&follow->edge);
        hk_edge_reverse(&follow->needle);
    } else {
        if (!keep_left(follow, run) || !hk_edge_copy(&follow->edge, &run->made))
            return false;
        if (turned) {
            hk_edge_reverse(&follow->edge);
            swap_edges(&follow->beyond[0], &follow->beyond[1]);
        }
    }
    for (size_t i = 0; i < follow->edge.count; i++)
        if (follow->edge.spots[i].kind == HK_SPOT_SPACE && follow->edge.spots[i].chains == 0)
            follow->edge.spots[i].kind = HK_SPOT_MARKER;
    follow->joined = run->row->joined;
    follow->foundation = false;
    follow->lead = run->lead;
    return true;
}

static bool compare_all(struct hk_follow *follow, struct run *run, struct hk_followed *followed)
{
    size_t count = run->row->stated_count;
    if (count > follow->compared_capacity) {
        struct hk_compared *grown = realloc(follow->compared, count * sizeof *grown);
        if (!grown)
            return false;
        follow->compared = grown;
        follow->compared_capacity = count;
    }
    compare(run, follow->compared);
    if (run->failed)
        return true;
    followed->compared = follow->compared;
    followed->compared_count = count;
    return true;
}

bool hk_follow_row(struct hk_follow *follow, const struct hk_row *row, struct hk_manner manner, struct hk_followed *followed)
{
    *followed = (struct hk_followed){0};
    if (!run_readings(follow, row, manner))
        return false;
    struct run *run = &follow->runs[0];
    followed->good = !run->failed;
    followed->trouble = run->trouble;
    followed->choices = run->choices;
    followed->readings = run->reading;
    if (run->failed)
        return true;
    followed->count = hk_edge_count(&run->made, false) + on_needle(run);
    followed->left = (run->ring || jumped_over(run) ? 0 : leftover(run)) + hk_edge_count(&run->behind, false);
    followed->used = run->used;
    followed->went_on = run->went_on;
    followed->worked = run->log.entries;
    followed->worked_count = run->log.count;
    followed->yarn = run->yarn;
    followed->cut_m = run->cut_m;
    if (!compare_all(follow, run, followed))
        return false;
    if (run->failed) { /* the effort is used up by its stated counts */
        *followed = (struct hk_followed){.trouble = run->trouble};
        return true;
    }
    if (!adopt(follow, run))
        return false;
    followed->width = hk_edge_width(&follow->edge) + hk_edge_width(&follow->needle);
    followed->choices = run->choices;
    return true;
}

const char *hk_convention_text(enum hk_convention convention, bool other)
{
    static const char *const texts[HK_CONVENTIONS][2] = {
        [HK_CONVENTION_CH2] = {"ch 2 at the start of a row does not count as a stitch", "ch 2 at the start of a row counts as its first stitch"},
        [HK_CONVENTION_CH3] = {"ch 3 counts as dc", "ch 3 does not count as a stitch"},
        [HK_CONVENTION_CH4] = {"ch 4 counts as tr", "ch 4 does not count as a stitch"},
        [HK_CONVENTION_CH_OTHER] = {"other chains at the start of a row do not count as a stitch",
                                    "other chains at the start of a row count as its first stitch"},
        [HK_CONVENTION_SKIPPED_DC] = {"skipped chains of the foundation count as dc", "skipped chains of the foundation do not count"},
        [HK_CONVENTION_SKIPPED_HDC] = {"skipped chains before hdc do not count", "skipped chains before hdc count as hdc"},
        [HK_CONVENTION_SPACES] = {"chain spaces are no stitches in a count", "chains of spaces count as stitches"},
    };
    return texts[convention][other];
}

/* ---- Beginning ---- */

struct hk_follow *hk_follow_new(const struct hk_catalogue *catalogue, const struct hk_conventions *conventions, size_t size,
                                int64_t *effort)
{
    struct hk_follow *follow = calloc(1, sizeof *follow);
    if (!follow)
        return NULL;
    follow->catalogue = catalogue;
    follow->conventions = conventions;
    follow->size = size;
    follow->own_effort = EFFORT_MOST;
    follow->effort = effort ? effort : &follow->own_effort;
    follow->chain = stitch_by_name(follow, "ch");
    follow->slip = stitch_by_name(follow, "sl st");
    follow->sc = stitch_by_name(follow, "sc");
    follow->knit = stitch_by_name(follow, "k");
    follow->kfb = stitch_by_name(follow, "kfb");
    follow->k2tog = stitch_by_name(follow, "k2tog");
    return follow;
}

static void run_free(struct run *run)
{
    hk_edge_free(&run->below);
    hk_edge_free(&run->made);
    hk_edge_free(&run->scratch);
    hk_edge_free(&run->behind);
    free(run->log.entries);
    free(run->skipped);
}

void hk_follow_free(struct hk_follow *follow)
{
    if (!follow)
        return;
    run_free(&follow->runs[0]);
    run_free(&follow->runs[1]);
    hk_edge_free(&follow->edge);
    hk_edge_free(&follow->beyond[0]);
    hk_edge_free(&follow->beyond[1]);
    hk_edge_free(&follow->needle);
    free(follow->compared);
    free(follow);
}

static bool begin(struct hk_follow *follow, struct hk_spot spot, int64_t count)
{
    if (count > (int64_t)HK_SPOTS_MOST || !hk_edge_room(&follow->edge, (size_t)count))
        return false;
    follow->edge.count = follow->needle.count = follow->beyond[0].count = follow->beyond[1].count = 0;
    follow->joined = follow->foundation = false;
    follow->lead = (struct lead){0};
    for (int64_t i = 0; i < count; i++) {
        spot.group = (uint32_t)i;
        hk_edge_push(&follow->edge, spot);
    }
    return true;
}

bool hk_follow_chain(struct hk_follow *follow, int64_t chains, bool joined)
{
    if (!begin(follow, (struct hk_spot){.kind = HK_SPOT_CHAIN, .stitch = (uint16_t)follow->chain}, chains))
        return false;
    follow->foundation = !joined;
    follow->joined = joined;
    return true;
}

bool hk_follow_edge(struct hk_follow *follow, int64_t stitches, size_t stitch)
{
    return begin(follow, (struct hk_spot){.kind = HK_SPOT_STITCH, .stitch = (uint16_t)stitch}, stitches);
}

bool hk_follow_ring(struct hk_follow *follow)
{
    return begin(follow, (struct hk_spot){.kind = HK_SPOT_RING, .stitch = HK_SPOT_ANY}, 1);
}

bool hk_follow_copy(struct hk_follow *follow, const struct hk_follow *from)
{
    follow->joined = from->joined;
    follow->foundation = from->foundation;
    follow->lead = from->lead;
    return hk_edge_copy(&follow->edge, &from->edge) && hk_edge_copy(&follow->needle, &from->needle) &&
           hk_edge_copy(&follow->beyond[0], &from->beyond[0]) && hk_edge_copy(&follow->beyond[1], &from->beyond[1]);
}

int64_t hk_follow_left(const struct hk_follow *follow)
{
    return hk_edge_width(&follow->beyond[0]) + hk_edge_width(&follow->beyond[1]);
}

const struct hk_edge *hk_follow_edge_now(const struct hk_follow *follow)
{
    return &follow->edge;
}
