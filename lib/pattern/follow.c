/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Follows rows. An ambiguous row is run in each reading; the reading that agrees with the stated counts is taken, and
 * makes the next edge.
 */
#include "pattern/follow.h"

#include "pattern/run.h"

#include <stdlib.h>
#include <string.h>

/* ---- The result of a row ---- */

static bool is_knitting(const struct run *run)
{
    const struct hk_edge *edge = &run->follow->edge;
    if (run->row->knit)
        return true;
    return edge->count && edge->spots[0].kind == HK_SPOT_STITCH && edge->spots[0].stitch != HK_SPOT_ANY &&
           hk_run_stitch_of(run, edge->spots[0].stitch)->family == HK_FAMILY_KNIT;
}

/* Returns the stitches on the needle that this row has not worked. */
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

/* Returns the number worked of a stitch that leaves no place, such as a picot. */
static int64_t worked_of(const struct run *run, size_t stitch)
{
    int64_t count = 0;
    for (size_t i = 0; i < run->log.count; i++)
        count += run->log.entries[i].stitch == stitch ? run->log.entries[i].count : 0;
    return count;
}

static int64_t actual(struct run *run, const struct hk_stated *stated, bool spaces)
{
    hk_run_look(run, run->follow->edge.count + run->made.count);
    int64_t count = 0;
    switch (stated->of) {
    case HK_STATED_STITCHES:
        return all_of(run, spaces || stated->spaces_too);
    case HK_STATED_MORE:
        return all_of(run, stated->spaces_too) - all_before(run);
    case HK_STATED_FEWER:
        return all_before(run) - all_of(run, stated->spaces_too);
    case HK_STATED_GROUPS:
        return groups_of(run);
    case HK_STATED_KIND:
        if (stated->stitch < run->follow->catalogue->stitch_count && hk_run_stitch_of(run, stated->stitch)->leaves == 0)
            return worked_of(run, stated->stitch);
        break;
    case HK_STATED_SPACES:
    case HK_STATED_CHAINS:
        break;
    }
    for (size_t i = 0; i < run->made.count; i++) {
        const struct hk_spot *spot = &run->made.spots[i];
        if (stated->of == HK_STATED_KIND)
            count += spot->kind == HK_SPOT_STITCH && hk_run_kind_is(run, spot, stated->stitch);
        else if (stated->each && spot->kind == HK_SPOT_SPACE &&
                 (count == 0 || spot->chains != hk_graded_in(stated->count, run->follow->size)))
            count = spot->chains; /* of any space that differs, else of each */
        else if (!stated->each && spot->kind == HK_SPOT_SPACE &&
                 (stated->chains == 0 || spot->chains == stated->chains))
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

/* Compares every stated count of the row; *mark: spaces affect them. */
static bool compare(struct run *run, struct hk_compared *compared)
{
    bool all = true;
    bool has = has_spaces(&run->made);
    for (size_t i = 0; i < run->row->stated_count && !run->failed; i++) {
        const struct hk_stated *stated = &run->row->stated[i];
        bool spaces = false;
        if (stated->of == HK_STATED_STITCHES && !stated->spaces_too && has)
            spaces = hk_run_chooses(run, HK_CONVENTION_SPACES, false);
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

/* Returns true when words name the places of the row: "in next st", not `sc 1`. */
static bool places_named(const struct hk_step *steps, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        bool takes = steps[i].kind == HK_STEP_STITCH || steps[i].kind == HK_STEP_GROUP || steps[i].kind == HK_STEP_SKIP;
        if (takes && steps[i].where.worded && steps[i].where.what == HK_WHAT_ANY &&
            steps[i].where.which != HK_WHICH_SAME)
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
        hk_run_fail(run, HK_CODE_ROW_PLACE, 0,
                    "this can be read in two ways: spaces among the stitches that are counted off, or not");
        hk_run_advise(run, "write sk next ch-1 sp and sk next dc, in next dc, by name; or state what the row comes to");
    } else if (differs & HK_READING_TIMES) {
        hk_run_fail(run, HK_CODE_ROW_PLACE, 0,
                    "the number of repeats is ambiguous: in all, or in addition to the first");
        hk_run_advise(run, "write 5 more times for those after the first, or brackets: [...] 6 times; or state what "
                           "the row comes to");
    } else {
        hk_run_fail(run, HK_CODE_ROW_PLACE, 0, "the number at the end may be a second size's or the count of the row");
        hk_run_advise(run, "write (24 sts) for a count");
    }
}

/*
 * Runs all possible readings; follow->runs[0] is then the one taken. A reading that agrees with the stated counts is
 * preferred; two equally good readings with different results are an error.
 */
static bool run_readings(struct hk_follow *follow, const struct hk_row *row, struct hk_manner manner)
{
    struct run *best = &follow->runs[0], *other = &follow->runs[1];
    best->follow = other->follow = follow;
    best->row = row;
    best->manner = other->manner = manner;
    best->reading = 0;
    bool good = hk_run_row(best), agrees = good && compare(best, NULL);
    unsigned open = best->readings | (row->other ? HK_READING_OTHER : 0);
    if (best->out_of_memory)
        return false;
    bool by_width = manner.strict && row->stated_count == 0 && !places_named(row->steps, row->step_count);
    if (by_width && (open & HK_READING_SPACES)) { /* short notation counts the width, where chains are stitches */
        best->reading = HK_READING_SPACES;
        good = hk_run_row(best);
        agrees = good && compare(best, NULL);
        open = (open | best->readings) & ~(unsigned)HK_READING_SPACES;
        if (best->out_of_memory)
            return false;
    }
    const unsigned fixed = best->reading;
    for (unsigned reading = 1; reading < HK_READINGS && open; reading++) {
        if (reading & ~open)
            continue;
        other->row = reading & HK_READING_OTHER ? row->other : row;
        other->reading = reading | fixed;
        bool worked = hk_run_row(other), meets = worked && compare(other, NULL);
        if (other->out_of_memory)
            return false;
        open |= other->readings & ~fixed;
        if (!worked)
            continue;
        bool states = other->row->stated_count > 0;
        if (!good || (meets && states && !agrees)) {
            swap_runs(follow);
            good = true;
            agrees = meets;
        } else if (meets == agrees && !same_outcome(best, other)) {
            if (agrees && states && best->reading == fixed && !(reading & HK_READING_OTHER))
                continue; /* both agree with the stated counts: take the plain reading */
            two_ways(best, other->reading ^ best->reading);
            return true;
        }
    }
    return true;
}

/* ---- The next edge ---- */

static bool prepend(struct hk_edge *list, const struct hk_spot *spots, size_t count, bool reversed, uint16_t part,
                    struct hk_edge *scratch)
{
    scratch->count = 0;
    for (size_t i = 0; i < count; i++) {
        struct hk_spot spot = spots[reversed ? count - 1 - i : i];
        spot.part = spot.part ? spot.part : part;
        if (hk_run_is_worked(&spot) && !hk_edge_push(scratch, spot))
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

/* Returns the places from `first` on; an edge without places may have no array. */
static const struct hk_spot *spots_from(const struct hk_edge *edge, size_t first)
{
    return edge->spots ? edge->spots + first : NULL;
}

/* In crochet, unworked places stay where they are. */
static bool keep_left(struct hk_follow *follow, struct run *run)
{
    size_t rest = hk_run_jumped_over(run) ? run->below.count : run->at;
    struct hk_edge *end = &follow->beyond[0];
    if (run->beyond) {
        memmove(end->spots, end->spots + run->beyond, (end->count - run->beyond) * sizeof *end->spots);
        end->count -= run->beyond;
    }
    return prepend(end, spots_from(&run->below, rest), run->below.count - rest, false, follow->part, &run->scratch) &&
           prepend(&follow->beyond[1], run->behind.spots, run->behind.count, true, follow->part, &run->scratch);
}

static bool adopt(struct hk_follow *follow, struct run *run)
{
    bool knitting = is_knitting(run), round = run->manner.round || (run->manner.strict && run->row->joined);
    bool turned = round ? run->row->turned : true;
    if (knitting && !round) {
        if (!hk_edge_add(&follow->needle, run->made.spots, run->made.count) ||
            !hk_edge_copy(&follow->edge, &follow->needle))
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

/* Keeps the stitches that the row skipped or put on hold, and the chains in their place. */
static bool aside_keep(struct hk_follow *follow, const struct run *run, struct hk_followed *followed)
{
    size_t count = 0, spots = 0;
    for (size_t i = 0; i < run->aside_count; i++)
        spots += run->aside[i].count;
    if (run->aside_count > follow->aside_capacity) {
        struct hk_set_aside *grown = realloc(follow->aside, run->aside_count * sizeof *grown);
        if (!grown)
            return false;
        follow->aside = grown;
        follow->aside_capacity = run->aside_count;
    }
    follow->aside_spots.count = 0;
    if (!hk_edge_room(&follow->aside_spots, spots))
        return false;
    for (size_t i = 0; i < run->aside_count; i++) {
        const struct aside *aside = &run->aside[i];
        struct hk_set_aside *set = &follow->aside[count];
        *set = (struct hk_set_aside){aside->name, follow->aside_spots.spots + follow->aside_spots.count, 0};
        for (size_t k = aside->first; k < aside->first + aside->count; k++) {
            struct hk_spot spot = run->below.spots[run->skipped[k]];
            spot.part = spot.part ? spot.part : follow->part;
            if (k >= run->skipped_first && hk_run_is_worked(&spot))
                follow->aside_spots.spots[follow->aside_spots.count++] = spot, set->count++;
        }
        count += set->count > 0;
    }
    followed->aside = follow->aside;
    followed->aside_count = count;
    for (size_t i = 0; i < run->made.count && count > 0; i++) {
        const struct hk_spot *spot = &run->made.spots[i];
        if (spot->kind != HK_SPOT_SPACE || spot->chains < 2)
            continue;
        if (followed->chain_sets++ == 0)
            followed->chains = spot->chains;
        else if (followed->chains != spot->chains)
            followed->chains = 0;
    }
    return true;
}

/* Records the places of other work that the row used. */
static void others_take(struct hk_follow *follow, const struct run *run)
{
    for (size_t i = 0; i < run->took_count; i++) {
        const struct took *took = &run->took[i];
        struct hk_other *other = &follow->others[took->other];
        other->taken += took->count;
        other->skipped += took->skipped ? took->count : 0;
        other->skipped_name = took->skipped ? took->name : other->skipped_name;
    }
}

bool hk_follow_row(struct hk_follow *follow, const struct hk_row *row, struct hk_manner manner,
                   struct hk_followed *followed)
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
    followed->left = (hk_run_jumped_over(run) ? 0 : hk_run_leftover(run)) + hk_edge_count(&run->behind, false);
    followed->used = run->used;
    followed->went_on = run->went_on;
    followed->changed = hk_run_ends(run, followed->count);
    followed->worked = run->log.entries;
    followed->worked_count = run->log.count;
    followed->yarn = run->yarn;
    followed->cut_m = run->cut_m;
    if (!compare_all(follow, run, followed))
        return false;
    if (run->failed) { /* the effort was used up by its stated counts */
        *followed = (struct hk_followed){.trouble = run->trouble};
        return true;
    }
    if (!aside_keep(follow, run, followed) || !adopt(follow, run))
        return false;
    others_take(follow, run);
    followed->width = hk_edge_width(&follow->edge) + hk_edge_width(&follow->needle);
    followed->choices = run->choices;
    return true;
}

const char *hk_convention_text(enum hk_convention convention, bool other)
{
    static const char *const texts[HK_CONVENTIONS][2] = {
        [HK_CONVENTION_CH2] = {"ch 2 at the start of a row does not count as a stitch",
                               "ch 2 at the start of a row counts as its first stitch"},
        [HK_CONVENTION_CH3] = {"ch 3 counts as dc", "ch 3 does not count as a stitch"},
        [HK_CONVENTION_CH4] = {"ch 4 counts as tr", "ch 4 does not count as a stitch"},
        [HK_CONVENTION_CH_OTHER] = {"other chains at the start of a row do not count as a stitch",
                                    "other chains at the start of a row count as its first stitch"},
        [HK_CONVENTION_SKIPPED_DC] = {"skipped chains of the foundation count as dc",
                                      "skipped chains of the foundation do not count"},
        [HK_CONVENTION_SKIPPED_HDC] = {"skipped chains before hdc do not count",
                                       "skipped chains before hdc count as hdc"},
        [HK_CONVENTION_SPACES] = {"chain spaces are not stitches in a count", "chains of spaces count as stitches"},
    };
    return texts[convention][other];
}

/* ---- Beginning ---- */

struct hk_follow *hk_follow_new(const struct hk_catalogue *catalogue, const struct hk_conventions *conventions,
                                size_t size, int64_t *effort)
{
    struct hk_follow *follow = calloc(1, sizeof *follow);
    if (!follow)
        return NULL;
    follow->catalogue = catalogue;
    follow->conventions = conventions;
    follow->size = size;
    follow->own_effort = EFFORT_MOST;
    follow->effort = effort ? effort : &follow->own_effort;
    follow->chain = hk_catalogue_stitch(catalogue, "ch");
    follow->slip = hk_catalogue_stitch(catalogue, "sl st");
    follow->slipped = hk_catalogue_stitch(catalogue, "sl");
    follow->sc = hk_catalogue_stitch(catalogue, "sc");
    follow->knit = hk_catalogue_stitch(catalogue, "k");
    follow->kfb = hk_catalogue_stitch(catalogue, "kfb");
    follow->k2tog = hk_catalogue_stitch(catalogue, "k2tog");
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
    free(run->took);
    free(run->aside);
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
    hk_edge_free(&follow->aside_spots);
    free(follow->aside);
    free(follow->compared);
    free(follow);
}

void hk_follow_clear(struct hk_follow *follow)
{
    follow->edge.count = follow->needle.count = follow->beyond[0].count = follow->beyond[1].count = 0;
    follow->joined = follow->foundation = false;
    follow->lead = (struct lead){0};
}

static bool begin(struct hk_follow *follow, struct hk_spot spot, int64_t count)
{
    if (count > (int64_t)HK_SPOTS_MOST || !hk_edge_room(&follow->edge, (size_t)count))
        return false;
    hk_follow_clear(follow);
    for (int64_t i = 0; i < count; i++) {
        spot.group = (uint32_t)i;
        follow->edge.spots[follow->edge.count++] = spot;
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

void hk_follow_others(struct hk_follow *follow, struct hk_other *list, size_t count, int64_t copies)
{
    follow->others = list;
    follow->other_count = count;
    follow->copies = copies;
}

void hk_follow_part(struct hk_follow *follow, size_t part)
{
    follow->part = part < UINT16_MAX - 1 ? (uint16_t)(part + 1) : UINT16_MAX;
}

bool hk_follow_places(struct hk_follow *follow, const struct hk_spot *spots, size_t count)
{
    hk_follow_clear(follow);
    return hk_edge_add(&follow->edge, spots, count);
}

const struct hk_edge *hk_follow_beyond(const struct hk_follow *follow, int side)
{
    return &follow->beyond[side];
}

const struct hk_edge *hk_follow_needle(const struct hk_follow *follow)
{
    return &follow->needle;
}

const struct hk_edge *hk_follow_edge_now(const struct hk_follow *follow)
{
    return &follow->edge;
}
