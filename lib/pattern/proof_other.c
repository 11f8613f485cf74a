/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Other work that exists while a piece is worked: the last row of each part; stitches that rows left, skipped or put on
 * hold; chains in their place; foundations; row ends. Rows may work into it by name, and work may begin again on it.
 * Stitches that are never used are reported at the end.
 */
#include "pattern/edge.h"
#include "pattern/proof_run.h"

#include "base/text.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- Shelves ---- */

static struct shelf *shelf_add(struct proof_run *run, enum hk_other_kind kind, size_t part, int64_t count)
{
    struct shelf *shelves =
        hk_arena_grow(run->p->arena, run->shelves, run->shelf_count, &run->shelf_capacity, sizeof *shelves);
    if (!shelves) {
        hk_proof_lose(run);
        return NULL;
    }
    run->shelves = shelves;
    struct shelf *shelf = &shelves[run->shelf_count++];
    *shelf = (struct shelf){
        .other = {.kind = kind, .part = part, .count = count, .copies = hk_proof_copies(run)}, .entry = run->entry};
    return shelf;
}

static int64_t shelf_left(const struct shelf *shelf)
{
    return hk_other_left_of_copy(&shelf->other, shelf->other.count * shelf->other.copies - shelf->other.taken);
}

/* Returns the part whose last row has the place; `part` if no row has left it before. */
static size_t part_of(const struct hk_spot *spot, size_t part)
{
    return spot->part ? spot->part - (size_t)1 : part;
}

/* Adds a shelf of stitches with their kinds. */
static struct shelf *spots_shelve(struct proof_run *run, enum hk_other_kind kind, size_t part,
                                  const struct hk_spot *spots, size_t count, const char *name)
{
    struct shelf *shelf = count > 0 ? shelf_add(run, kind, part, 0) : NULL;
    if (!shelf)
        return NULL;
    shelf->name = name;
    if (!hk_edge_add(&shelf->edge, spots, count)) {
        hk_proof_lose(run);
        return NULL;
    }
    shelf->other.count = hk_proof_stitches_in(spots, count);
    return shelf;
}

int64_t hk_proof_stitches_in(const struct hk_spot *spots, size_t count)
{
    int64_t stitches = 0;
    for (size_t i = 0; i < count; i++)
        stitches += spots[i].kind == HK_SPOT_STITCH || spots[i].kind == HK_SPOT_CHAIN;
    return stitches;
}

int64_t hk_proof_copies(const struct proof_run *run)
{
    return hk_graded_in(run->w->pieces[run->piece].times, run->size) *
           hk_graded_in(run->w->parts[run->part].times, run->size);
}

/* Adds shelves for places that rows left, one for each part. */
static void left_shelve(struct proof_run *run, const struct hk_edge *edge, size_t part)
{
    for (size_t i = 0, end; i < edge->count && !run->p->out_of_memory; i = end) {
        size_t of = part_of(&edge->spots[i], part);
        for (end = i + 1; end < edge->count && edge->spots[end].part == edge->spots[i].part; end++)
            ;
        spots_shelve(run, HK_OTHER_LEFT, of, edge->spots + i, end - i, NULL);
    }
}

/* Adds shelves for places that rows left on either side and on the needle. */
static void beyond_shelve(struct proof_run *run)
{
    for (int side = 0; side < 2; side++)
        left_shelve(run, hk_follow_beyond(run->follow, side), run->edge_part);
    left_shelve(run, hk_follow_needle(run->follow), run->edge_part);
}

void hk_proof_shelve(struct proof_run *run)
{
    if (!run->follow || !run->known)
        return;
    beyond_shelve(run);
    const struct hk_edge *edge = hk_follow_edge_now(run->follow);
    if (run->rows_since > 0)
        spots_shelve(run, HK_OTHER_STITCHES, run->edge_part, edge->spots, edge->count, NULL);
    run->rows_since = 0;
    hk_follow_clear(run->follow);
}

void hk_proof_base_shelve(struct proof_run *run)
{
    if (run->based)
        return;
    const struct hk_edge *edge = hk_follow_edge_now(run->follow);
    run->based = true;
    spots_shelve(run, HK_OTHER_BASE, run->part, edge->spots, edge->count, NULL);
    hk_follow_clear(run->follow);
}

int64_t hk_proof_base_left(const struct proof_run *run)
{
    for (size_t i = run->shelf_count; i > 0 && run->based; i--)
        if (run->shelves[i - 1].other.kind == HK_OTHER_BASE)
            return shelf_left(&run->shelves[i - 1]);
    return -1;
}

void hk_proof_foundation_shelve(struct proof_run *run, int64_t count)
{
    shelf_add(run, HK_OTHER_FOUNDATION, run->part, count);
}

void hk_proof_row_shelve(struct proof_run *run, const struct hk_followed *followed)
{
    if (followed->aside_count > 0)
        run->division_log = run->log_count + 1;
    for (size_t i = 0; i < followed->aside_count && !run->p->out_of_memory; i++) {
        const struct hk_set_aside *set = &followed->aside[i];
        const char *name = !set->name ? "" : *set->name ? set->name : NULL;
        spots_shelve(run, HK_OTHER_LEFT, part_of(set->spots, run->part), set->spots, set->count, name);
    }
    for (int64_t i = 0; i < followed->chain_sets && followed->chains > 0; i++)
        shelf_add(run, HK_OTHER_CHAINS, run->part, followed->chains);
}

void hk_proof_shelves_free(struct proof_run *run)
{
    for (size_t i = 0; i < run->shelf_count; i++)
        hk_edge_free(&run->shelves[i].edge);
    run->shelf_count = 0;
}

/* ---- Rows worked into other work ---- */

/* Returns true when unnamed row ends belong to `part`: the part that the beginning names, else the part before. */
static bool row_ends_meant(const struct proof_run *run, size_t part)
{
    if (run->along.count > 0)
        return hk_parts_have(run->along, part);
    size_t last = run->part;
    while (last > 0 && run->part_rows[last - 1].flat == 0)
        last--;
    return part + 1 == last;
}

/* Returns true when steps name row ends together with their work. */
static bool names_row_ends(const struct hk_step *steps, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        const struct hk_where *where = &steps[i].where;
        if ((where->what == HK_WHAT_OTHER && where->other == HK_OTHER_ROW_ENDS && where->work_count > 0) ||
            names_row_ends(steps[i].steps, steps[i].step_count))
            return true;
    }
    return false;
}

bool hk_proof_others_begin(struct proof_run *run, const struct hk_row *row)
{
    size_t parts = run->w->part_count, count = 0;
    if (!row->others)
        return true;
    if (!hk_proof_works_there(run, row->steps, row->step_count))
        return false;
    struct hk_other *list = hk_arena_take(run->p->arena, parts + run->shelf_count, sizeof *list);
    run->other_shelves = hk_arena_take(run->p->arena, parts + run->shelf_count, sizeof *run->other_shelves);
    if (!list || !run->other_shelves) {
        hk_proof_lose(run);
        return false;
    }
    bool named = names_row_ends(row->steps, row->step_count);
    for (size_t part = 0; part < parts; part++) {
        const struct part_rows *rows = &run->part_rows[part];
        if (rows->flat == 0 || part == run->part || (!named && !row_ends_meant(run, part)))
            continue;
        run->other_shelves[count] = SIZE_MAX;
        list[count] = (struct hk_other){.kind = HK_OTHER_ROW_ENDS,
                                        .part = part,
                                        .count = rows->flat,
                                        .copies = rows->copies,
                                        .beside = rows->beside};
        count++;
    }
    for (size_t i = 0; i < run->shelf_count; i++) {
        run->other_shelves[count] = i;
        list[count] = run->shelves[i].other;
        list[count].edge = &run->shelves[i].edge;
        list[count++].name = run->shelves[i].name;
    }
    run->others = list;
    run->other_count = count;
    hk_follow_others(run->follow, list, count, hk_proof_copies(run));
    return true;
}

void hk_proof_others_end(struct proof_run *run)
{
    for (size_t i = 0; i < run->other_count && !run->p->out_of_memory; i++) {
        const struct hk_other *other = &run->others[i];
        if (run->other_shelves[i] == SIZE_MAX)
            continue;
        struct shelf *shelf = &run->shelves[run->other_shelves[i]];
        shelf->used |= other->taken > shelf->other.taken;
        shelf->other.taken = other->taken;
        struct shelf *skipped = other->skipped > 0 ? shelf_add(run, HK_OTHER_LEFT, other->part, other->skipped) : NULL;
        if (skipped) {
            skipped->name = other->skipped_name;
            skipped->other.copies = 1;
        }
    }
    run->other_count = 0;
    hk_follow_others(run->follow, NULL, 0, 1);
}

/* ---- Beginning again ---- */

bool hk_proof_work_named(const struct proof_run *run, const char *text, struct hk_parts *parts)
{
    size_t longest = 0;
    for (const char *c = text; c && *c; c++) {
        if (c > text && (hk_is_letter(c[-1]) || c[-1] == '-'))
            continue;
        for (size_t i = 0; i < run->w->name_count; i++) {
            const size_t bytes = hk_work_name_ahead(c, run->w->names[i].name);
            if (bytes > longest) {
                longest = bytes;
                *parts = run->w->names[i].parts;
            }
        }
    }
    return longest > 0;
}

static bool within(struct hk_parts parts, size_t part)
{
    return parts.count == 0 || hk_parts_have(parts, part);
}

/* Returns true when the words on held stitches, "of left sleeve", name the purpose of a set. */
static bool waits_for(const struct shelf *shelf, const char *text)
{
    return shelf->name && *shelf->name && hk_word_find(text, shelf->name);
}

/*
 * Takes a set of waiting stitches, `count` of each, for each copy of the piece. Returns the first set, SIZE_MAX if
 * there is none. *there: the largest number in a set; *copies: the copies without a set.
 */
static size_t sets_take(struct proof_run *run, int64_t count, const char *text, int64_t *there, int64_t *copies)
{
    struct hk_parts parts = {0};
    *copies = hk_proof_copies(run);
    bool by_name = false, named = hk_proof_work_named(run, text, &parts), there_is = false;
    size_t first = SIZE_MAX;
    for (size_t i = 0; i < run->shelf_count; i++) {
        bool waits = run->shelves[i].other.kind == HK_OTHER_LEFT;
        by_name |= waits && waits_for(&run->shelves[i], text);
        there_is |= waits && within(parts, run->shelves[i].other.part);
    }
    /* "Held thumb sts" are those for the thumb, unless the thumb has left stitches itself. */
    bool of_part = named && (there_is || !hk_parts_have(parts, run->part));
    *there = 0;
    for (int exact = 1; exact >= 0 && first == SIZE_MAX; exact--)
        for (size_t i = 0; i < run->shelf_count; i++) {
            struct shelf *shelf = &run->shelves[i];
            int64_t left = shelf_left(shelf);
            bool fits = shelf->other.kind == HK_OTHER_LEFT &&
                        (by_name ? waits_for(shelf, text) : !of_part || within(parts, shelf->other.part));
            if (!fits || left <= 0)
                continue;
            *there = left > *there ? left : *there;
            if (first == SIZE_MAX && (exact ? left == count : left > count))
                first = i;
        }
    for (size_t i = first; i < run->shelf_count; i++) {
        struct shelf *shelf = &run->shelves[i];
        if (shelf->other.kind != HK_OTHER_LEFT)
            continue;
        for (int64_t n = shelf->other.copies; n > 0 && *copies > 0 && shelf_left(shelf) >= count; n--, --*copies) {
            shelf->other.taken += count;
            shelf->used = true;
        }
    }
    return first;
}

bool hk_proof_held_begin(struct proof_run *run, const struct hk_begin *begin, int64_t count)
{
    int64_t there, copies;
    size_t set = sets_take(run, count, begin->of, &there, &copies);
    char text[160];
    if (set != SIZE_MAX) {
        struct shelf *shelf = &run->shelves[set];
        if (copies > 0) {
            int64_t enough = hk_proof_copies(run) - copies;
            snprintf(text, sizeof text,
                     "%" PRId64 " copies begin on %" PRId64 " held stitches each, and there %s enough for %" PRId64,
                     hk_proof_copies(run), count, enough == 1 ? "is" : "are", enough);
            hk_proof_report(run, HK_CODE_COUNT_DIFFERS, hk_proof_entry_at(run)->place, text,
                            "correct how many are made, or write a piece for each set, with its number of stitches");
        }
        if (shelf->other.count == (int64_t)shelf->edge.count)
            return hk_follow_places(run->follow, shelf->edge.spots, (size_t)count);
        return hk_follow_edge(run->follow, count, HK_SPOT_ANY);
    }
    if (there > 0) {
        snprintf(text, sizeof text, "%" PRId64 " stitches are named here, and %" PRId64 " wait", count, there);
        hk_proof_report(run, HK_CODE_COUNT_DIFFERS, hk_proof_entry_at(run)->place, text,
                        "correct the number here, or where they are put on hold or left");
    } else {
        hk_proof_report(run, HK_CODE_ASSUMPTION, hk_proof_entry_at(run)->place,
                        "the stitches that were held are taken as they are stated", NULL);
    }
    return hk_follow_edge(run->follow, count, HK_SPOT_ANY);
}

/* ---- Rows on stitches left ---- */

/*
 * A set of stitches that a row is tried on: places of a shelf. They are the edge that one row left, without those that
 * slip stitches or an earlier row left on other edges.
 */
struct trial {
    size_t shelf; /* SIZE_MAX: the current edge */
    size_t from, behind;
    bool named; /* it is of the part that the row names, or the row names none */
    bool good, agrees, states;
};

/* Returns the place after those of the same edge as place `from`. */
static size_t edge_end(const struct shelf *shelf, size_t from)
{
    size_t i = from;
    while (i < shelf->edge.count && shelf->edge.spots[i].row == shelf->edge.spots[from].row)
        i++;
    return i;
}

static size_t shelf_taken(const struct shelf *shelf)
{
    return (size_t)(shelf->other.count - shelf_left(shelf));
}

static bool trial_set(struct proof_run *run, const struct trial *trial)
{
    if (trial->shelf == SIZE_MAX)
        return hk_follow_copy(run->follow, run->kept);
    const struct shelf *shelf = &run->shelves[trial->shelf];
    return hk_follow_places(run->follow, shelf->edge.spots + trial->from, trial->behind - trial->from);
}

static bool trial_run(struct proof_run *run, struct trial *trial, const struct hk_row *row)
{
    struct hk_followed followed;
    bool set = trial_set(run, trial);
    if (trial->shelf == SIZE_MAX) /* the places beyond it are on shelves */
        hk_follow_alone(run->follow);
    if (!set || !hk_follow_row(run->follow, row, (struct hk_manner){.round = run->round}, &followed)) {
        hk_proof_lose(run);
        return false;
    }
    trial->good = followed.good;
    trial->agrees = trial->states = followed.good && followed.compared_count > 0;
    for (size_t i = 0; i < followed.compared_count && followed.good; i++)
        trial->agrees &= followed.compared[i].agrees;
    return true;
}

/* Sets the trial to the nearest edge of its shelf, from place `first` on, that has more places than are skipped. */
static bool trial_next(const struct proof_run *run, struct trial *trial, size_t first, int64_t skip)
{
    const struct shelf *shelf = &run->shelves[trial->shelf];
    for (; first < shelf->edge.count; first = trial->behind) {
        *trial = (struct trial){.shelf = trial->shelf,
                                .named = trial->named,
                                .from = first + (size_t)skip,
                                .behind = edge_end(shelf, first)};
        if (trial->from < trial->behind)
            return true;
    }
    return false;
}

/* Tries the row on each of these edges until it fits and agrees with the stated counts; else the first that fits. */
static bool trial_edges(struct proof_run *run, struct trial *kept, const struct hk_row *row, int64_t skip)
{
    struct trial trial = *kept;
    do {
        if (!trial_run(run, &trial, row))
            return false;
        if (trial.good && (!kept->good || trial.agrees))
            *kept = trial;
    } while (!(kept->good && kept->agrees == kept->states) && trial_next(run, &trial, trial.behind, skip));
    return true;
}

/*
 * Returns the best trial: one that agrees with the stated counts, else one that can be worked, else the first; of
 * these, one that is named.
 */
static size_t trial_best(const struct trial *trials, size_t count)
{
    size_t best = 0;
    int most = -1;
    for (size_t i = 0; i < count; i++) {
        const int value = 4 * trials[i].agrees + 2 * trials[i].good + (trials[i].good && trials[i].named);
        if (value > most) {
            most = value;
            best = i;
        }
    }
    return best;
}

/* Returns the number of trials that are as good as the best. */
static size_t trials_alike(const struct trial *trials, size_t count, const struct trial *best)
{
    size_t alike = 0;
    for (size_t i = 0; i < count; i++)
        alike += trials[i].good && trials[i].named == best->named && (!best->states || trials[i].agrees);
    return alike;
}

/* Further copies of the piece take other sets with the same stitches. */
static void copies_adopt(struct proof_run *run, size_t first)
{
    int64_t copies = hk_proof_copies(run) - run->shelves[first].other.copies;
    int64_t count = (int64_t)run->shelves[first].edge.count;
    for (size_t i = 0; i < run->shelf_count && copies > 0; i++) {
        struct shelf *shelf = &run->shelves[i];
        if (i == first || shelf->other.kind != HK_OTHER_LEFT || shelf_left(shelf) != count ||
            shelf->other.part != run->shelves[first].other.part)
            continue;
        int64_t stand = copies < shelf->other.copies ? copies : shelf->other.copies;
        shelf->other.taken += stand * count;
        shelf->used = true;
        copies -= stand;
    }
    if (copies > 0) {
        char text[120];
        snprintf(text, sizeof text,
                 "%" PRId64 " copies are worked on stitches that were left, and there are enough for %" PRId64,
                 hk_proof_copies(run), hk_proof_copies(run) - copies);
        hk_proof_report(run, HK_CODE_COUNT_DIFFERS, hk_proof_entry_at(run)->place, text,
                        "correct how many are made, or give the others a beginning of their own");
    }
}

/* Continues work on the set of the trial; skipped stitches before it stay. */
static void trial_adopt(struct proof_run *run, const struct trial *trial)
{
    if (!trial_set(run, trial))
        hk_proof_lose(run);
    if (trial->shelf == SIZE_MAX && !trial->good) /* the row does not fit, nor does it go on beyond this edge */
        hk_follow_alone(run->follow);
    if (trial->shelf == SIZE_MAX || run->p->out_of_memory)
        return;
    /* The current edge is put on a shelf; the shelf of the set keeps the stitches before these, another those behind.
     */
    copies_adopt(run, trial->shelf);
    const struct shelf whole = run->shelves[trial->shelf];
    spots_shelve(run, HK_OTHER_LEFT, whole.other.part, whole.edge.spots + trial->behind,
                 whole.edge.count - trial->behind, whole.name);
    struct shelf *shelf = &run->shelves[trial->shelf];
    shelf->other.count = (int64_t)trial->from;
    shelf->edge.count = trial->from < shelf->edge.count ? trial->from : shelf->edge.count;
    shelf->used = true;
    run->beside = true;
    if (!run->pending.on) /* no piece begins */
        run->p->proof->lines[run->line * run->w->words.size_count + run->size].beside = true;
    if (run->pending.name)
        shelf->name = run->pending.name;
}

/* "Join yarn with sl st in first skipped st of yoke": begins on one of these sets. */
static bool joins_left(const struct hk_row *row, struct hk_parts *parts)
{
    size_t join = hk_row_join(row);
    const struct hk_where *where = join < row->step_count ? &row->steps[join].where : NULL;
    if (!where || !where->given || where->what != HK_WHAT_OTHER || where->other != HK_OTHER_LEFT)
        return false;
    *parts = where->work_count > 0 ? where->works[0] : (struct hk_parts){0};
    return true;
}

/* "Sk next 22 sts of back, join yarn in next st": returns the parts named before the join; none: no part is named. */
static struct hk_parts skips_of(const struct hk_row *row)
{
    const size_t join = hk_row_join(row);
    for (size_t i = 0; i < join && join < row->step_count; i++)
        if (row->steps[i].kind == HK_STEP_SKIP && row->steps[i].where.what != HK_WHAT_OTHER &&
            row->steps[i].where.work_count > 0)
            return row->steps[i].where.works[0];
    return (struct hk_parts){0};
}

bool hk_proof_left_find(struct proof_run *run, const struct hk_row *row)
{
    bool joins = hk_row_join(row) < row->step_count;
    struct hk_parts parts;
    if (!run->pending.on && joins_left(row, &parts)) {
        hk_proof_shelve(run);
        run->pending = (struct pending){.on = true, .parts = parts};
    }
    parts = run->pending.on ? run->pending.parts : skips_of(row);
    if (!run->pending.on && run->round && parts.count > 0) {
        hk_proof_report(run, HK_CODE_ROW_PLACE, hk_proof_entry_at(run)->place,
                        "stitches of other work are skipped before a round",
                        "skip them before it: \"Sk next 4 sts of body for underarm.\"");
        return false;
    }
    if (!run->pending.on && !(joins && !run->round && !row->joined))
        return true;
    int64_t skip = run->pending.on ? run->pending.skip : 0;
    if (!run->kept)
        run->kept = hk_follow_new(run->w->words.catalogue, &run->conventions, run->size, run->p->effort);
    if (!run->kept || !hk_follow_copy(run->kept, run->follow)) {
        hk_proof_lose(run);
        return false;
    }
    size_t edges = run->pending.on ? 0 : 1, before = run->shelf_count;
    int64_t since = run->rows_since;
    if (!run->pending.on) /* stitches left by rows of this part are available too */
        hk_proof_shelve(run);
    struct trial *trials = hk_arena_take(run->p->arena, run->shelf_count + 1, sizeof *trials);
    if (!trials || run->p->out_of_memory) {
        hk_proof_lose(run);
        return false;
    }
    size_t count = edges;
    trials[0] = (struct trial){.shelf = SIZE_MAX, .named = within(parts, run->edge_part)};
    for (size_t i = run->shelf_count; i > 0; i--) {
        const struct shelf *shelf = &run->shelves[i - 1];
        struct trial trial = {.shelf = i - 1, .named = within(parts, shelf->other.part)};
        if (shelf->other.kind == HK_OTHER_LEFT && shelf_left(shelf) > 0 && (trial.named || !run->pending.on) &&
            trial_next(run, &trial, shelf_taken(shelf), skip))
            trials[count++] = trial;
    }
    bool good = true;
    for (size_t i = 0; i < count && good; i++)
        good = trials[i].shelf == SIZE_MAX ? trial_run(run, &trials[i], row) : trial_edges(run, &trials[i], row, skip);
    if (!good)
        return false;
    const size_t best = trial_best(trials, count);
    if (count == 0) {
        hk_proof_report(run, HK_CODE_START, hk_proof_entry_at(run)->place, "no stitches are left to work on here",
                        "name the piece whose stitches are meant, or write \"On an edge of 20 sts:\" before it");
        run->pending = (struct pending){0};
        return false;
    }
    if (trials[best].shelf == SIZE_MAX &&
        trials[best].good) { /* the work continues from the last row: nothing is put on a shelf */
        for (size_t i = before; i < run->shelf_count; i++)
            hk_edge_free(&run->shelves[i].edge);
        run->shelf_count = before;
        run->rows_since = since;
    }
    if (trials_alike(trials, count, &trials[best]) > 1 && !trials[best].states && !run->pending.on) {
        hk_proof_report(run, HK_CODE_ROW_PLACE, hk_proof_entry_at(run)->place,
                        "this may be worked on the last row, or on stitches that were left",
                        "write the number of stitches after the row, or before it \"Sk next 4 sts of back.\"");
        return false;
    }
    trial_adopt(run, &trials[best]);
    run->pending = (struct pending){0};
    return !run->p->out_of_memory;
}

/* Places on a shelf: those of one edge. */
struct shelved {
    struct shelf *shelf; /* NULL: none */
    size_t from, behind;
};

/*
 * Finds at least `count` places of one edge, left by rows of this piece. *there: the most that are left of one edge.
 */
static struct shelved left_of_piece(struct proof_run *run, size_t count, size_t *there)
{
    for (size_t i = run->shelf_count; i > 0; i--) {
        struct shelf *shelf = &run->shelves[i - 1];
        if (shelf->other.kind != HK_OTHER_LEFT || hk_proof_piece_of(run, shelf->other.part) != run->piece ||
            (int64_t)shelf->edge.count != shelf->other.count)
            continue;
        for (size_t from = shelf_taken(shelf), behind; from < shelf->edge.count; from = behind) {
            behind = edge_end(shelf, from);
            *there = behind - from > *there ? behind - from : *there;
            if (behind - from >= count)
                return (struct shelved){shelf, from, behind};
        }
    }
    return (struct shelved){0};
}

/*
 * Returns true when a new part begins behind a part that was worked on some of the stitches of another: "last 14 sts"
 * are of those that were left there, not of the part that is done.
 */
static bool left_meant(const struct proof_run *run, const struct hk_begin *begin)
{
    bool left = false;
    for (int side = 0; side < 2; side++) {
        const struct hk_edge *beyond = hk_follow_beyond(run->follow, side);
        for (size_t i = 0; i < beyond->count; i++)
            left |= part_of(&beyond->spots[i], run->edge_part) != run->edge_part;
    }
    return (begin->last || begin->next) && run->part != run->edge_part && left;
}

bool hk_proof_only_begin(struct proof_run *run, const struct hk_begin *begin, int64_t count)
{
    const struct hk_edge *now = hk_follow_edge_now(run->follow);
    struct hk_edge edge = {0};
    if (left_meant(run, begin))
        hk_proof_shelve(run);
    const size_t wanted = (size_t)count;
    size_t there = now->count, part = run->edge_part;
    struct shelved left = now->count == 0 ? left_of_piece(run, wanted, &there) : (struct shelved){0};
    bool good = left.shelf ? hk_edge_add(&edge, left.shelf->edge.spots + left.from, left.behind - left.from)
                           : hk_edge_copy(&edge, now);
    if (left.shelf) {
        struct shelf *shelf = left.shelf;
        const struct shelf whole = *shelf;
        part = shelf->other.part;
        shelf->other.count = (int64_t)left.from;
        shelf->edge.count = left.from;
        shelf->used = true;
        spots_shelve(run, HK_OTHER_LEFT, part, whole.edge.spots + left.behind, whole.edge.count - left.behind,
                     whole.name);
    }
    beyond_shelve(run);
    size_t all = edge.count, from = begin->last && wanted <= all ? all - wanted : 0;
    if (good && wanted <= all && hk_edge_count(&edge, false) == (int64_t)all) {
        spots_shelve(run, HK_OTHER_LEFT, part, edge.spots, from, NULL);
        spots_shelve(run, HK_OTHER_LEFT, part, edge.spots + from + wanted, all - from - wanted, NULL);
        good = hk_follow_places(run->follow, edge.spots + from, wanted);
    } else if (good) {
        char text[120];
        snprintf(text, sizeof text, "%" PRId64 " stitches are named here, and %zu are there", count,
                 all > 0 ? (size_t)hk_edge_count(&edge, false) : there);
        hk_proof_report(run, HK_CODE_COUNT_DIFFERS, hk_proof_entry_at(run)->place, text, "correct the number");
        good = hk_follow_edge(run->follow, count, HK_SPOT_ANY);
    }
    hk_edge_free(&edge);
    return good;
}

/* ---- Unused stitches ---- */

/* Returns the entry for unused stitches: one for each part and purpose. */
static struct hk_proof_left *left_of(struct proof_run *run, size_t part, const char *name)
{
    struct hk_proofing *p = run->p;
    for (size_t i = 0; i < p->left_count; i++)
        if (p->left[i].part == part && (name ? p->left[i].name && hk_text_same(p->left[i].name, name) : !p->left[i].name))
            return &p->left[i];
    struct hk_proof_left *list = hk_arena_grow(p->arena, p->left, p->left_count, &p->left_capacity, sizeof *list);
    int64_t *by_size = hk_arena_take(p->arena, run->w->words.size_count, sizeof *by_size);
    if (!list || !by_size) {
        hk_proof_lose(run);
        return NULL;
    }
    const struct hk_written_piece *piece = &run->w->pieces[hk_proof_piece_of(run, part)];
    const struct hk_written_part *of = &run->w->parts[part];
    p->left = list;
    list[p->left_count] =
        (struct hk_proof_left){.part = part,
                               .title = hk_proof_title(run, part),
                               .name = name,
                               .place = piece->first == part ? piece->place : run->w->entries[of->first].place,
                               .by_size = by_size};
    return &list[p->left_count++];
}

void hk_proof_left_keep(struct proof_run *run)
{
    for (size_t i = 0; i < run->shelf_count && !run->p->out_of_memory; i++) {
        const struct shelf *shelf = &run->shelves[i];
        int64_t count = shelf_left(shelf);
        bool named = shelf->name && *shelf->name;
        if (shelf->other.kind != HK_OTHER_LEFT || count <= 0 || (shelf->name && !named && !shelf->used))
            continue;
        struct hk_proof_left *left = left_of(run, shelf->other.part, named ? shelf->name : NULL);
        if (!left)
            return;
        left->by_size[run->size] += count;
        left->most = left->by_size[run->size] > left->most ? left->by_size[run->size] : left->most;
    }
}
