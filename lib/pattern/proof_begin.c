/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The beginning of a piece. */
#include "pattern/edge.h"
#include "pattern/proof_run.h"

#include "base/text.h"

#include <stdio.h>
#include <string.h>

/* "On an edge of 20 dc": stitches of this kind, in the pattern's terms. */
static bool edge_begin(struct proof_run *run, const struct hk_begin *begin, int64_t count)
{
    const struct hk_words *words = &run->w->words.catalogue->words[run->w->words.terms];
    size_t stitch = begin->stitch ? NO_STITCH : HK_SPOT_ANY;
    for (size_t i = 0; i < words->count && stitch == NO_STITCH; i++)
        if (hk_text_same(words->words[i].text, begin->stitch))
            stitch = words->words[i].stitch;
    if (stitch == NO_STITCH) {
        char text[120];
        snprintf(text, sizeof text, "\"%.60s\" is not a stitch", begin->stitch);
        hk_proof_report(run, HK_CODE_NAME_UNKNOWN, hk_proof_entry_at(run)->place, text,
                        "write \"On an edge of 20 sts:\", or the kind of stitch: \"On an edge of 20 dc:\"");
        hk_proof_not_followed(run);
        run->unknown_reported = true;
        return true;
    }
    return hk_follow_edge(run->follow, count, stitch);
}

/* "Sk next 6 sts of body for underarm": begins on stitches left there. */
static bool left_begin(struct proof_run *run, const struct hk_begin *begin, int64_t skip)
{
    const char *purpose = hk_word_find(begin->of, "for");
    run->pending = (struct pending){.on = true, .skip = skip};
    if (purpose) {
        const char *name = hk_blanks_skipped(purpose + strlen("for")), *the = hk_word_at(name, "the");
        name = the ? hk_blanks_skipped(the) : name;
        run->pending.name = hk_arena_text(run->p->arena, name, strcspn(name, ",.;:"));
    }
    /* "for the back neck" is a purpose, not the name of a piece. */
    const char *of =
        hk_arena_text(run->p->arena, begin->of, purpose ? (size_t)(purpose - begin->of) : strlen(begin->of));
    if (!of)
        return false;
    hk_proof_work_named(run, of, &run->pending.parts);
    hk_follow_clear(run->follow);
    return true;
}

/* Returns true when work begins on existing work of the current piece. */
static bool goes_on(enum hk_begin_kind kind)
{
    return kind == HK_BEGIN_LEFT || kind == HK_BEGIN_HELD || kind == HK_BEGIN_ONLY;
}

static bool follow_new(struct proof_run *run, const struct hk_begin *begin)
{
    bool only = begin->kind == HK_BEGIN_ONLY && run->known;
    if (run->follow && !only)
        hk_proof_shelve(run);
    if (run->follow && goes_on(begin->kind))
        return true;
    hk_follow_free(run->follow);
    run->follow = hk_follow_new(run->w->words.catalogue, &run->conventions, run->size, run->p->effort);
    return run->follow != NULL;
}

/* Picks up stitches in addition to the existing ones. */
static void pick_up_more(struct proof_run *run, int64_t count)
{
    struct hk_edge edge = {0};
    bool good = hk_edge_copy(&edge, hk_follow_edge_now(run->follow));
    const struct hk_spot spot = {.kind = HK_SPOT_STITCH, .stitch = (uint16_t)run->p->knit};
    uint32_t group = edge.count ? edge.spots[edge.count - 1].group : 0;
    hk_proof_foundation_keep(run, run->p->knit, count, false);
    for (int64_t i = 0; i < count && good; i++) {
        struct hk_spot more = spot;
        more.group = ++group;
        good = hk_edge_push(&edge, more);
    }
    if (!good || !hk_follow_places(run->follow, edge.spots, edge.count))
        hk_proof_lose(run);
    hk_edge_free(&edge);
}

void hk_proof_begin_work(struct proof_run *run)
{
    const struct hk_entry *entry = hk_proof_entry_at(run);
    const struct hk_begin *begin = &entry->begin;
    int64_t count = hk_graded_in(begin->count, run->size);
    bool good = true;
    if (begin->more && run->known && count <= (int64_t)HK_SPOTS_MOST) {
        run->round |= begin->joined;
        pick_up_more(run, count);
        return;
    }
    hk_proof_lists_end(run);
    if (!follow_new(run, begin)) {
        run->known = false;
        hk_proof_lose(run);
        return;
    }
    run->part_log = run->log_count;
    if (goes_on(begin->kind) || (begin->kind == HK_BEGIN_NOTHING && run->shelf_count > 0))
        run->division_log = run->log_count + 1;
    run->filler_count = run->cycle = 0;
    run->number = 0;
    run->pending = (struct pending){0};
    run->along = (struct hk_parts){0};
    run->joins = run->based = false;
    run->beside = goes_on(begin->kind) && run->part_rows[run->part].flat == 0;
    run->founded = begin->kind == HK_BEGIN_CHAIN && !begin->joined;
    run->absent = begin->kind != HK_BEGIN_LEFT && begin->count.by_size && count == 0 && !entry->problem.text;
    run->known = !run->absent;
    run->from_stated = run->unknown_reported = false;
    run->round = begin->joined;
    run->side = HK_SIDE_OPEN;
    if (run->absent)
        return;
    if (entry->problem.text) {
        hk_proof_report(run, entry->problem.code, entry->problem.place, entry->problem.text, entry->problem.hint);
        if (entry->problem.code == HK_CODE_GRADE_COUNT || entry->problem.code == HK_CODE_GRADE_FORM) {
            hk_proof_not_followed(run);
            return;
        }
    }
    if (count > (int64_t)HK_SPOTS_MOST) {
        hk_proof_report(run, HK_CODE_COUNT_TOO_LARGE, entry->place, "work begins on more stitches than can be followed",
                        "is the number a slip?");
        hk_proof_not_followed(run);
        return;
    }
    switch (begin->kind) {
    case HK_BEGIN_CHAIN:
        hk_proof_foundation_keep(run, run->p->chain, count, begin->joined);
        if (begin->joined)
            hk_proof_foundation_shelve(run, count);
        good = hk_follow_chain(run->follow, count, begin->joined);
        break;
    case HK_BEGIN_CAST_ON:
        hk_proof_foundation_keep(run, run->p->cast_on, count, false);
        hk_proof_foundation_shelve(run, count);
        good = hk_follow_edge(run->follow, count, run->p->cast_on);
        break;
    case HK_BEGIN_PICK_UP:
        hk_proof_foundation_keep(run, run->p->knit, count, false);
        good = hk_follow_edge(run->follow, count, run->p->knit);
        break;
    case HK_BEGIN_RING:
        hk_proof_foundation_keep(run, run->p->chain, count, true);
        good = hk_follow_ring(run->follow);
        break;
    case HK_BEGIN_EDGE:
        good = edge_begin(run, begin, count);
        break;
    case HK_BEGIN_HELD:
        good = hk_proof_held_begin(run, begin, count);
        break;
    case HK_BEGIN_LEFT:
        good = left_begin(run, begin, count);
        break;
    case HK_BEGIN_ONLY:
        good = hk_proof_only_begin(run, begin, count);
        break;
    case HK_BEGIN_NOTHING:
        hk_follow_clear(run->follow);
        break;
    case HK_BEGIN_JOIN:
        run->joins = true; /* its first row may name the work that it joins */
        hk_proof_work_named(run, begin->of, &run->along);
        hk_follow_clear(run->follow);
        break;
    }
    if (!good)
        hk_proof_lose(run);
}
