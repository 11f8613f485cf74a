/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Stores the result of a worked row: its stitches by yarn, the places that it leaves, and its counts. */
#include "pattern/proof_run.h"

#include "base/text.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#define FAMILIES_CARRIED 2 /* floats of knitting, and of crochet */

/* ---- Stitches ---- */

size_t hk_proof_base(const struct hk_proofing *p, size_t stitch)
{
    const struct hk_stitch *s = &p->words.catalogue->stitches[stitch];
    if (s->needs == s->leaves)
        return stitch;
    if (s->family != HK_FAMILY_KNIT)
        return s->base;
    const char *us = hk_stitch_word(s, HK_TERMS_US);
    return us[0] == 'p' || strcmp(us, "ssp") == 0 || strcmp(us, "M1P") == 0 ? p->purl : p->knit;
}

bool hk_proof_shows(const struct hk_proofing *p, size_t stitch)
{
    return stitch != p->chain && stitch != p->slip && stitch != p->cast_on && stitch != p->slipped &&
           p->words.catalogue->stitches[stitch].leaves > 0;
}

size_t hk_proof_only_stitch(const struct proof_run *run, const struct hk_followed *followed, bool *knit)
{
    size_t only = NO_STITCH;
    *knit = false;
    for (size_t i = 0; i < followed->worked_count; i++) {
        size_t stitch = followed->worked[i].stitch;
        if (!hk_proof_shows(run->p, stitch))
            continue;
        *knit |= run->w->words.catalogue->stitches[stitch].family == HK_FAMILY_KNIT;
        size_t base = hk_proof_base(run->p, stitch);
        if (only != NO_STITCH && base != only)
            return NO_STITCH;
        only = base;
    }
    return only;
}

/* ---- Works ---- */

static size_t held_of_role(const struct proof_run *run, size_t role, size_t fallback)
{
    for (size_t i = 0; i < run->w->held_count; i++)
        if (run->w->helds[i].count == 1 && run->w->helds[i].roles[0] == role && run->w->helds[i].times[0] == 1)
            return i;
    return fallback;
}

void hk_proof_stitches_add(struct hk_proof_stitches *list, size_t *count, size_t held, size_t stitch, int64_t more)
{
    size_t at = 0;
    while (at < *count && (list[at].held < held || (list[at].held == held && list[at].stitch < stitch)))
        at++;
    if (at < *count && list[at].held == held && list[at].stitch == stitch) {
        list[at].count += more;
        return;
    }
    memmove(list + at + 1, list + at, (*count - at) * sizeof *list);
    list[at] = (struct hk_proof_stitches){held, stitch, more};
    ++*count;
}

static bool works_same(const struct hk_proof_work *a, const struct hk_proof_work *b)
{
    bool same = a->stitch_count == b->stitch_count && a->leaves == b->leaves && a->cut_m == b->cut_m &&
                a->cut_held == b->cut_held && a->carried == b->carried && a->width == b->width &&
                a->round == b->round && !b->begins && !b->joined && b->changed.start == 0 && b->changed.end == 0 &&
                !b->changed.elsewhere;
    for (size_t i = 0; same && i < a->stitch_count; i++)
        same = a->stitches[i].held == b->stitches[i].held && a->stitches[i].stitch == b->stitches[i].stitch &&
               a->stitches[i].count == b->stitches[i].count;
    return same;
}

void hk_proof_work_keep(struct proof_run *run, const struct hk_proof_work *work)
{
    struct hk_proof_line *line = &run->p->proof->lines[run->line * run->w->words.size_count + run->size];
    if (line->count > 0 && work->rows > 0 && line->works[line->count - 1].rows > 0 &&
        works_same(&line->works[line->count - 1], work)) {
        line->works[line->count - 1].rows += work->rows;
        return;
    }
    struct hk_proof_work *works =
        hk_arena_grow(run->p->arena, line->works, line->count, &line->capacity, sizeof *works);
    if (!works) {
        hk_proof_lose(run);
        return;
    }
    line->works = works;
    works[line->count++] = *work;
}

void hk_proof_foundation_keep(struct proof_run *run, size_t stitch, int64_t count, bool joined)
{
    struct hk_proof_stitches *list = hk_arena_take(run->p->arena, 2, sizeof *list);
    struct hk_proof_work work = {.stitches = list, .leaves = count, .width = count, .cut_held = run->held};
    if (!list) {
        hk_proof_lose(run);
        return;
    }
    hk_proof_stitches_add(list, &work.stitch_count, run->held, stitch, count);
    if (joined)
        hk_proof_stitches_add(list, &work.stitch_count, run->held, run->p->slip, 1);
    if (count > 0)
        hk_proof_work_keep(run, &work);
    run->p->proof->lines[run->line * run->w->words.size_count + run->size].foundation += count;
}

/* Returns the held yarns for `yarn` of a row; `held` if it names none. */
static size_t held_of(const struct proof_run *run, size_t yarn, size_t held)
{
    return yarn == SIZE_MAX ? held : held_of_role(run, yarn, held);
}

/* ---- Carried yarns ---- */

/* The use of one yarn in a row, in stitches. */
struct hk_strand_run {
    bool used;
    int64_t before, after; /* stitches before its first stitch and after its last */
    int64_t longest;       /* the longest float between two of its stitches */
};

static size_t strand_count(const struct proof_run *run)
{
    return run->w->held_count + 1; /* the last one is the yarn without a name */
}

static size_t strand_of(const struct proof_run *run, size_t held)
{
    return held == SIZE_MAX ? run->w->held_count : held;
}

/*
 * Allocates room for the current row, the row before it, and the row at the start of a stretch. Returns false when out
 * of memory.
 */
static bool strands_room(struct proof_run *run)
{
    for (size_t i = 0; i < 3 && !run->strands[i]; i++)
        run->strands[i] = hk_arena_take(run->p->arena, strand_count(run), sizeof *run->strands[i]);
    return run->strands[0] && run->strands[1] && run->strands[2];
}

static size_t strand_kind(const struct proof_run *run, size_t stitch)
{
    bool knit = run->w->words.catalogue->stitches[stitch].family == HK_FAMILY_KNIT;
    return knit ? run->p->floats : run->p->carried;
}

/*
 * Returns the float of a yarn between two rounds: the stitches after its last stitch in one round and before its first
 * in the next. It is carried if this is no longer than the floats within the rounds.
 */
static int64_t passed_between(const struct hk_strand_run *last, const struct hk_strand_run *now)
{
    bool near = last->used && now->used && last->after <= last->longest && now->before <= now->longest;
    return near ? last->after + now->before : 0;
}

void hk_proof_strands_drop(struct proof_run *run)
{
    run->strands_known = false;
}

void hk_proof_strands_mark(struct proof_run *run)
{
    run->strands_marked = run->strands_known;
    if (run->strands_known)
        memcpy(run->strands[2], run->strands[0], strand_count(run) * sizeof *run->strands[0]);
}

bool hk_proof_strands_same(const struct proof_run *run)
{
    if (run->strands_marked != run->strands_known)
        return false;
    for (size_t i = 0; run->strands_known && i < strand_count(run); i++) {
        const struct hk_strand_run *a = &run->strands[0][i], *b = &run->strands[2][i];
        if (a->used != b->used || a->before != b->before || a->after != b->after || a->longest != b->longest)
            return false;
    }
    return true;
}

/* Computes the row's stitches by yarn, with the floats of each. */
static void strands_work(struct proof_run *run, const struct hk_followed *followed, size_t held,
                         struct hk_proof_stitches *list, size_t *count)
{
    struct hk_strand_run *now = run->strands[1];
    int64_t made = 0;
    memset(now, 0, strand_count(run) * sizeof *now);
    for (size_t i = 0; i < followed->worked_count; i++) {
        const struct hk_stitches *s = &followed->worked[i];
        size_t in = held_of(run, s->yarn, held), of = strand_of(run, in), kind = strand_kind(run, s->stitch);
        struct hk_strand_run *strand = &now[of];
        int64_t passed =
            strand->used ? made - strand->after : 0; /* here `after` is the position after its last stitch */
        if (strand->used)
            strand->longest = passed > strand->longest ? passed : strand->longest;
        else
            strand->before = made;
        hk_proof_stitches_add(list, count, in, s->stitch, s->count);
        if (passed > 0 && kind != NO_STITCH)
            hk_proof_stitches_add(list, count, in, kind, passed);
        made += s->count * run->w->words.catalogue->stitches[s->stitch].leaves;
        strand->used = true;
        strand->after = made;
    }
    for (size_t i = 0; i < strand_count(run); i++)
        now[i].after = made - now[i].after;
}

/* Returns where the row changes the number of stitches, as seen from the piece. */
static struct hk_ends ends_seen(const struct proof_run *run, struct hk_ends changed)
{
    bool swapped = run->ends.swapped != run->reversed;
    struct hk_ends seen = swapped ? (struct hk_ends){changed.end, changed.start, changed.elsewhere} : changed;
    seen.elsewhere |= run->ends.unknown && (changed.start != 0 || changed.end != 0);
    return seen;
}

bool hk_proof_work_make(struct proof_run *run, const struct hk_followed *followed, size_t held,
                        struct hk_proof_work *work)
{
    size_t most = followed->worked_count + FAMILIES_CARRIED * strand_count(run);
    struct hk_proof_stitches *list = hk_arena_take(run->p->arena, most, sizeof *list);
    size_t colours = hk_proof_entry_at(run)->colours;
    *work = (struct hk_proof_work){.stitches = list,
                                   .rows = 1,
                                   .leaves = followed->count,
                                   .width = followed->width,
                                   .round = run->round,
                                   .side = run->side,
                                   .changed = ends_seen(run, followed->changed),
                                   .ends_of = run->ends.of,
                                   .cut_m = followed->cut_m,
                                   .carried = colours > 0 && run->w->sequences[colours - 1].carried};
    if (!list || !strands_room(run)) {
        hk_proof_lose(run);
        return false;
    }
    strands_work(run, followed, held, list, &work->stitch_count);
    for (size_t i = 0; i < followed->worked_count && run->round && run->strands_known; i++) {
        const struct hk_stitches *s = &followed->worked[i];
        size_t in = held_of(run, s->yarn, held), of = strand_of(run, in), kind = strand_kind(run, s->stitch);
        int64_t passed = passed_between(&run->strands[0][of], &run->strands[1][of]);
        if (passed > 0 && kind != NO_STITCH)
            hk_proof_stitches_add(list, &work->stitch_count, in, kind, passed);
        run->strands[0][of].used = false; /* count each yarn once */
    }
    struct hk_strand_run *last = run->strands[0];
    run->strands[0] = run->strands[1];
    run->strands[1] = last;
    run->strands_known = run->round;
    work->cut_held = held_of(run, followed->yarn, held);
    return true;
}

/* ---- Edges and counts ---- */

/* Returns the kind of a place left by a row: a stitch, "st" if unknown, or a space. */
static const char *kind_of(const struct proof_run *run, const struct hk_spot *spot)
{
    if (spot->kind == HK_SPOT_SPACE)
        return hk_arena_print(run->p->arena, "ch-%u sp", (unsigned)spot->chains);
    return hk_proof_stitch(run->p, spot->stitch);
}

/* Places of one kind. */
struct kind {
    struct hk_spot spot; /* the first place */
    int64_t count;
};

static bool kinds_alike(const struct hk_spot *a, const struct hk_spot *b)
{
    if (a->kind != b->kind)
        return false;
    return a->kind == HK_SPOT_SPACE ? a->chains == b->chains : a->stitch == b->stitch;
}

void hk_proof_places_keep(struct proof_run *run, struct hk_proof_row *row)
{
    const struct hk_edge *edge = hk_follow_edge_now(run->follow);
    struct kind *kinds = NULL;
    size_t count = 0, capacity = 0;
    for (size_t i = 0; i < edge->count; i++) {
        const struct hk_spot *spot = &edge->spots[i];
        size_t k = 0;
        if (spot->kind == HK_SPOT_MARKER)
            continue;
        while (k < count && !kinds_alike(&kinds[k].spot, spot))
            k++;
        if (k == count) {
            kinds = hk_arena_grow(run->p->arena, kinds, count, &capacity, sizeof *kinds);
            if (!kinds) {
                hk_proof_lose(run);
                return;
            }
            kinds[count++] = (struct kind){.spot = *spot};
        }
        kinds[k].count++;
    }
    struct hk_written_places *places = hk_arena_take(run->p->arena, count, sizeof *places);
    if (!places) {
        hk_proof_lose(run);
        return;
    }
    for (size_t k = 0; k < count; k++)
        places[k] = (struct hk_written_places){kind_of(run, &kinds[k].spot), kinds[k].count};
    row->places = places;
    row->place_count = count;
}

static const char *stated_text(const struct proof_run *run, const struct hk_stated *stated)
{
    static const char *const texts[] = {
        [HK_STATED_STITCHES] = "sts",  [HK_STATED_SPACES] = "sp",     [HK_STATED_CHAINS] = "ch",
        [HK_STATED_GROUPS] = "groups", [HK_STATED_MORE] = "sts more", [HK_STATED_FEWER] = "sts fewer"};
    if (stated->of == HK_STATED_KIND)
        return hk_proof_stitch(run->p, stated->stitch);
    return stated->chains > 0 ? hk_arena_print(run->p->arena, "ch-%" PRId64 " sp", stated->chains) : texts[stated->of];
}

void hk_proof_stitches_compare(struct proof_run *run, const struct hk_row *row, int64_t least, int64_t most)
{
    struct hk_proof_row *kept = hk_proof_row_of(run, run->entry);
    int64_t stated = row ? hk_proof_stated_stitches(run, row) : -1;
    struct hk_written_stated *list = stated < 0 ? NULL : hk_arena_take(run->p->arena, 1, sizeof *list);
    if (stated < 0)
        return;
    if (!list) {
        hk_proof_lose(run);
        return;
    }
    *list = (struct hk_written_stated){"sts", stated, stated < least || stated > most ? least : stated};
    kept->stated = list;
    kept->stated_count = 1;
    kept->agrees = list->stated == list->actual;
}

void hk_proof_on_hold_keep(struct proof_run *run, const struct hk_followed *followed, struct hk_proof_row *row)
{
    size_t count = 0;
    if (followed->aside_count == 0)
        return;
    struct hk_written_places *on_hold = hk_arena_take(run->p->arena, followed->aside_count, sizeof *on_hold);
    if (!on_hold) {
        hk_proof_lose(run);
        return;
    }
    for (size_t i = 0; i < followed->aside_count; i++) {
        const struct hk_set_aside *set = &followed->aside[i];
        const char *name = set->name && *set->name ? set->name : "stitches";
        size_t same = 0;
        while (same < count && !hk_text_same(on_hold[same].kind, name))
            same++;
        int64_t stitches = set->name ? hk_proof_stitches_in(set->spots, set->count) : 0;
        if (stitches > 0 && same == count)
            on_hold[count++] = (struct hk_written_places){name, 0};
        if (stitches > 0)
            on_hold[same].count += stitches;
    }
    row->on_hold = on_hold;
    row->on_hold_count = count;
}

void hk_proof_stated_keep(struct proof_run *run, const struct hk_row *row, const struct hk_followed *followed,
                          struct hk_proof_row *kept)
{
    kept->agrees = true;
    kept->stated_count = 0;
    struct hk_written_stated *list = hk_arena_take(run->p->arena, followed->compared_count, sizeof *list);
    if (!list) {
        hk_proof_lose(run);
        return;
    }
    for (size_t i = 0; i < followed->compared_count; i++) {
        list[kept->stated_count++] = (struct hk_written_stated){
            stated_text(run, &row->stated[i]), followed->compared[i].stated, followed->compared[i].actual};
        kept->agrees &= followed->compared[i].agrees;
    }
    kept->stated = list;
}
