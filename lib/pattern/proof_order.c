/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The order of works: what a row names has to be worked above it, and not in a circle. */
#include "pattern/proof_run.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#define CIRCLE_MOST 8 /* parts that a message shows */

size_t hk_proof_piece_of(const struct proof_run *run, size_t part)
{
    size_t piece = 0;
    while (piece + 1 < run->w->piece_count && run->w->pieces[piece + 1].first <= part)
        piece++;
    return piece;
}

const char *hk_proof_title(const struct proof_run *run, size_t part)
{
    const char *name = run->w->parts[part].name;
    return *name ? name : run->w->pieces[hk_proof_piece_of(run, part)].name;
}

static size_t line_of(const struct proof_run *run, size_t part)
{
    const struct hk_written_part *of = &run->w->parts[part];
    return of->count > 0 ? run->w->entries[of->first].place.line : 0;
}

/* Whether a step names a work of these parts. */
static bool names(const struct hk_step *steps, size_t count, struct hk_parts parts)
{
    for (size_t i = 0; i < count; i++) {
        for (size_t w = 0; w < steps[i].where.work_count; w++) {
            const struct hk_parts *work = &steps[i].where.works[w];
            if (work->first < parts.first + parts.count && parts.first < work->first + work->count)
                return true;
        }
        if (names(steps[i].steps, steps[i].step_count, parts))
            return true;
    }
    return false;
}

static bool part_names(const struct proof_run *run, size_t part, struct hk_parts parts)
{
    const struct hk_written_part *of = &run->w->parts[part];
    for (size_t e = of->first; e < of->first + of->count; e++) {
        const struct hk_proof_entry *entry = &run->p->entries[e];
        if (run->w->entries[e].kind == HK_ENTRY_ROW && entry->good && names(entry->row.steps, entry->row.step_count, parts))
            return true;
    }
    return false;
}

/*
 * The shortest way from `part` to the one that is being worked, through what each names; its parts go to `way`, no more
 * than CIRCLE_MOST. 0: there is none. Each part is looked at once, whatever names it.
 */
static size_t circle_find(struct proof_run *run, size_t part, size_t *way)
{
    size_t parts = run->w->part_count, count = 0;
    size_t *queue = hk_arena_take(run->p->arena, parts, sizeof *queue), *from = hk_arena_take(run->p->arena, parts, sizeof *from);
    if (!queue || !from) {
        hk_proof_lose(run);
        return 0;
    }
    queue[count++] = part;
    from[part] = part + 1;
    for (size_t i = 0; i < count && (*run->p->effort -= (int64_t)parts) >= 0; i++) {
        size_t last = queue[i], deep = 1;
        for (size_t p = last; p != part; p = from[p] - 1)
            deep++;
        if (deep > CIRCLE_MOST)
            return 0;
        if (part_names(run, last, (struct hk_parts){run->part, 1})) {
            for (size_t p = last, at = deep; at > 0; p = from[p] - 1)
                way[--at] = p;
            return deep;
        }
        for (size_t next = run->part + 1; next < parts; next++)
            if (from[next] == 0 && part_names(run, last, (struct hk_parts){next, 1})) {
                queue[count++] = next;
                from[next] = last + 1;
            }
    }
    return 0;
}

static void circle_report(struct proof_run *run, const size_t *way, size_t count)
{
    char text[800];
    size_t at = (size_t)snprintf(text, sizeof text, "these are worked on one another in a circle: %.40s (line %zu)",
                                 hk_proof_title(run, run->part), line_of(run, run->part));
    for (size_t i = 0; i < count; i++)
        at += (size_t)snprintf(text + at, sizeof text - at, " -> %.40s (line %zu)", hk_proof_title(run, way[i]),
                               line_of(run, way[i]));
    snprintf(text + at, sizeof text - at, " -> %.40s", hk_proof_title(run, run->part));
    hk_proof_report(run, HK_CODE_START, hk_proof_entry_at(run)->place, text,
                    "let one of them begin on chains, a cast-on or \"On an edge of 20 sts:\"");
}

/* Whether rows of these parts have been worked, flat ones or in rounds. */
static void rows_of(const struct proof_run *run, struct hk_parts parts, int64_t *flat, int64_t *rounds)
{
    *flat = *rounds = 0;
    for (size_t part = parts.first; part < parts.first + parts.count; part++) {
        *flat += run->part_rows[part].flat;
        *rounds += run->part_rows[part].rounds;
    }
}

static bool work_there(struct proof_run *run, const struct hk_where *where, struct hk_parts parts)
{
    int64_t flat, rounds;
    char text[200];
    size_t way[CIRCLE_MOST];
    const char *title = hk_proof_title(run, parts.first);
    rows_of(run, parts, &flat, &rounds);
    if (flat + rounds == 0 && parts.first > run->part) {
        size_t circle = circle_find(run, parts.first, way);
        if (circle > 0) {
            circle_report(run, way, circle);
            return false;
        }
        snprintf(text, sizeof text, "%.60s is worked below, in line %zu", title, line_of(run, parts.first));
        hk_proof_report(run, HK_CODE_START, hk_proof_entry_at(run)->place, text, "move what is worked on it below it");
        return false;
    }
    if (where->other == HK_OTHER_ROW_ENDS && flat == 0 && rounds > 0) {
        snprintf(text, sizeof text, "%.60s is worked in rounds and has no row ends", title);
        hk_proof_report(run, HK_CODE_ROW_PLACE, hk_proof_entry_at(run)->place, text,
                        "name its stitches or its foundation: each st of body, each foundation ch of body");
        return false;
    }
    return true;
}

bool hk_proof_works_there(struct proof_run *run, const struct hk_step *steps, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        const struct hk_where *where = &steps[i].where;
        for (size_t w = 0; w < where->work_count; w++)
            if (!work_there(run, where, where->works[w]))
                return false;
        if (!hk_proof_works_there(run, steps[i].steps, steps[i].step_count))
            return false;
    }
    return true;
}
