/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The actions of a run of a row, and how they are undone. */
#include "pattern/run.h"

#include <inttypes.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>

__attribute__((format(printf, 4, 5))) bool hk_run_fail(struct run *run, enum hk_code code, size_t at,
                                                       const char *format, ...)
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

__attribute__((format(printf, 2, 3))) bool hk_run_advise(struct run *run, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(run->trouble.hint, sizeof run->trouble.hint, format, arguments);
    va_end(arguments);
    return false;
}

bool hk_run_lose(struct run *run)
{
    run->out_of_memory = run->failed = true;
    return false;
}

bool hk_run_spent(struct run *run)
{
    hk_run_fail(run, HK_CODE_COUNT_TOO_LARGE, 0, "too many stitches to follow in all rows and sizes together");
    run->trouble.spent = true;
    return false;
}

static bool too_many(struct run *run)
{
    return hk_run_fail(run, HK_CODE_COUNT_TOO_LARGE, 0, "the row comes to more than %" PRId64 " of one stitch",
                       HK_COUNT_MOST);
}

/* ---- Working ---- */

bool hk_run_log_stitch(struct run *run, size_t stitch, int64_t count)
{
    const struct hk_stitch *of = hk_run_stitch_of(run, stitch);
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
            return hk_run_lose(run);
        log->entries = grown;
        log->capacity = capacity;
    }
    log->entries[log->count++] = (struct hk_stitches){stitch, run->yarn, count};
    return true;
}

struct mark hk_run_mark_set(const struct run *run)
{
    return (struct mark){.took = run->took_count,
                         .at = run->at,
                         .here = run->here,
                         .made = run->made.count,
                         .logged = run->log.count,
                         .skipped = run->skipped_count,
                         .skipped_first = run->skipped_first,
                         .yarn = run->yarn,
                         .sub = run->sub,
                         .own_chains = run->own_chains,
                         .used = run->used,
                         .went_on = run->went_on,
                         .cut_m = run->cut_m,
                         .gap_at = run->gap_at,
                         .landed = run->landed,
                         .last_count = run->log.count ? run->log.entries[run->log.count - 1].count : 0};
}

void hk_run_go_back(struct run *run, const struct mark *mark)
{
    run->took_count = mark->took;
    run->at = mark->at;
    run->sub = mark->sub;
    run->here = mark->here;
    run->made.count = mark->made;
    run->log.count = mark->logged;
    if (mark->logged)
        run->log.entries[mark->logged - 1].count = mark->last_count;
    run->skipped_count = mark->skipped;
    run->skipped_first = mark->skipped_first;
    while (run->aside_count &&
           run->aside[run->aside_count - 1].first + run->aside[run->aside_count - 1].count > run->skipped_count)
        run->aside_count--;
    run->yarn = mark->yarn;
    run->own_chains = mark->own_chains;
    run->used = mark->used;
    run->went_on = mark->went_on;
    run->cut_m = mark->cut_m;
    run->gap_at = mark->gap_at;
    run->landed = mark->landed;
    run->failed = run->out_of_memory;
}

/* Appends an empty place. Returns NULL with a failure. */
static struct hk_spot *push_empty(struct run *run)
{
    if (run->made.count >= HK_SPOTS_MOST) {
        hk_run_fail(run, HK_CODE_COUNT_TOO_LARGE, 0, "the row comes to more than %zu places", HK_SPOTS_MOST);
        return NULL;
    }
    if (!hk_run_spend(run, 1))
        return NULL;
    if (run->made.count == run->made.capacity && !hk_edge_room(&run->made, run->made.count + 1)) {
        hk_run_lose(run);
        return NULL;
    }
    return &run->made.spots[run->made.count++];
}

bool hk_run_push(struct run *run, struct hk_spot spot)
{
    struct hk_spot *made = push_empty(run);
    if (made)
        *made = spot;
    return made;
}

uint32_t hk_run_group_new(struct run *run)
{
    return ++run->group;
}

bool hk_run_on_ring(const struct run *run)
{
    return run->below.count && run->below.spots[0].kind == HK_SPOT_RING && !run->in.on;
}

uint32_t hk_run_group_now(struct run *run)
{
    return run->in.on ? run->in.group : hk_run_group_new(run);
}

bool hk_run_push_space(struct run *run, int64_t chains)
{
    struct hk_spot *last = run->made.count ? &run->made.spots[run->made.count - 1] : NULL;
    bool ring = run->in.on && run->in.place != NOWHERE && run->below.spots[run->in.place].kind == HK_SPOT_RING;
    if (chains == 0)
        return true;
    int64_t all = chains + (last && last->kind == HK_SPOT_SPACE ? last->chains : 0);
    if (all > (int64_t)HK_SPOTS_MOST)
        return hk_run_fail(run, HK_CODE_COUNT_TOO_LARGE, 0, "a space of more than %zu chains", HK_SPOTS_MOST);
    if (all > chains) {
        last->chains = (uint32_t)all;
        return true;
    }
    struct hk_spot spot = {.kind = HK_SPOT_SPACE, .chains = (uint32_t)chains, .stitch = (uint16_t)run->follow->chain};
    spot.group = run->in.on && !ring ? run->in.group : hk_run_group_new(run);
    if (ring)
        run->in.group = hk_run_group_new(run);
    return hk_run_push(run, spot);
}

bool hk_run_produce(struct run *run, size_t stitch, int64_t count, uint32_t group)
{
    const struct hk_stitch *of = hk_run_stitch_of(run, stitch);
    if (of->leaves > 0 && count > (int64_t)HK_SPOTS_MOST)
        return hk_run_fail(run, HK_CODE_COUNT_TOO_LARGE, 0, "the row comes to more than %zu places", HK_SPOTS_MOST);
    run->leading = false;
    if (!hk_run_log_stitch(run, stitch, count))
        return false;
    uint16_t kind = (uint16_t)(of->leaves > 1 ? of->base : stitch);
    for (int64_t i = 0; i < count * of->leaves; i++) {
        struct hk_spot *spot = push_empty(run);
        if (!spot)
            return false;
        spot->group = group;
        spot->chains = 0;
        spot->part = spot->row = 0;
        spot->stitch = kind;
        spot->kind = HK_SPOT_STITCH;
        spot->marked = false;
    }
    return true;
}
