/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a piece begins on. */
#include "pattern/proof_run.h"

#include "base/text.h"

#include <stdio.h>

/* "On an edge of 20 dc": of that kind, in the pattern's terms. */
static bool edge_begin(struct proof_run *run, const struct hk_begin *begin, int64_t count)
{
    const struct hk_words *words = &run->w->words.catalogue->words[run->w->words.terms];
    size_t stitch = begin->stitch ? NO_STITCH : HK_SPOT_ANY;
    for (size_t i = 0; i < words->count && stitch == NO_STITCH; i++)
        if (hk_text_same(words->words[i].text, begin->stitch))
            stitch = words->words[i].stitch;
    if (stitch == NO_STITCH) {
        char text[120];
        snprintf(text, sizeof text, "\"%.60s\" is no stitch", begin->stitch);
        hk_proof_say(run, HK_CODE_NAME_UNKNOWN, hk_proof_entry_at(run)->place, text,
                     "write \"On an edge of 20 sts:\", or the kind of stitch: \"On an edge of 20 dc:\"");
        hk_proof_not_followed(run);
        run->unknown_said = true;
        return true;
    }
    return hk_follow_edge(run->follow, count, stitch);
}

void hk_proof_begin_work(struct proof_run *run)
{
    const struct hk_entry *entry = hk_proof_entry_at(run);
    const struct hk_begin *begin = &entry->begin;
    int64_t count = hk_graded_in(begin->count, run->size);
    bool good = true;
    hk_proof_lists_end(run);
    hk_follow_free(run->follow);
    run->follow = hk_follow_new(run->w->words.catalogue, &run->conventions, run->size, run->p->effort);
    if (!run->follow) {
        run->known = false;
        hk_proof_lose(run);
        return;
    }
    run->log_count = run->part_log = run->filler_count = run->cycle = 0;
    run->number = 0;
    run->absent = begin->count.by_size && count == 0 && !entry->problem.text;
    run->known = !run->absent;
    run->from_stated = run->unknown_said = false;
    run->round = begin->joined;
    run->side = HK_SIDE_OPEN;
    if (run->absent)
        return;
    if (entry->problem.text) {
        hk_proof_say(run, entry->problem.code, entry->problem.place, entry->problem.text, entry->problem.hint);
        if (entry->problem.code == HK_CODE_GRADE_COUNT) {
            hk_proof_not_followed(run);
            return;
        }
    }
    if (count > (int64_t)HK_SPOTS_MOST) {
        hk_proof_say(run, HK_CODE_COUNT_TOO_LARGE, entry->place, "work begins on more stitches than can be followed",
                     "is the number a slip?");
        hk_proof_not_followed(run);
        return;
    }
    switch (begin->kind) {
    case HK_BEGIN_CHAIN:
        hk_proof_foundation_keep(run, run->p->chain, count, begin->joined);
        good = hk_follow_chain(run->follow, count, begin->joined);
        break;
    case HK_BEGIN_CAST_ON:
        hk_proof_foundation_keep(run, run->p->cast_on, count, false);
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
        hk_proof_say(run, HK_CODE_ASSUMED, entry->place, "the stitches that were held are taken as they are stated", NULL);
        good = hk_follow_edge(run->follow, count, HK_SPOT_ANY);
        break;
    case HK_BEGIN_NOTHING:
        good = hk_follow_edge(run->follow, 0, HK_SPOT_ANY);
        break;
    case HK_BEGIN_JOIN:
        hk_proof_say(run, HK_CODE_START, entry->place, "how many stitches this is worked on is not known",
                     "write \"On an edge of 40 sts:\" before it, with the stitches of every size");
        run->unknown_said = true;
        hk_proof_not_followed(run);
        break;
    }
    if (!good)
        hk_proof_lose(run);
}
