/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The measures that letters name: of all measures of an outline those that its drawing needs, the same in all sizes.
 *
 *     corners within a part    where all sizes have equally many there; then its height is measured from one to the
 * next a width                  unless it equals the one below in every size the whole height         unless every size
 * has only one height
 */
#include "schematic/schematic.h"

#include <math.h>
#include <stdlib.h>

static const double same_m = 1e-9;

/* A measure in the list of all sizes. */
struct entry {
    struct hk_schematic_measure *measure;
    size_t piece;
    bool needed;
};

/* Compares the places of two measures: the order of the letters. */
static int place_order(const struct hk_schematic_measure *a, const struct hk_schematic_measure *b)
{
    bool a_whole = a->at == HK_MEASURED_WHOLE, b_whole = b->at == HK_MEASURED_WHOLE;
    if (a_whole != b_whole)
        return a_whole ? 1 : -1;
    if (a->line != b->line)
        return a->line < b->line ? -1 : 1;
    if (a->at != b->at)
        return a->at < b->at ? -1 : 1;
    if (a->nth != b->nth)
        return a->nth < b->nth ? -1 : 1;
    if (a->rows != b->rows)
        return a->rows ? -1 : 1;
    return (a->measured > b->measured) - (a->measured < b->measured);
}

static int entry_order(const void *a, const void *b)
{
    const struct entry *of = a, *with = b;
    int order = place_order(of->measure, with->measure);
    return order ? order : (of->piece > with->piece) - (of->piece < with->piece);
}

/* ---- Corners within parts ---- */

/* Returns the largest number of a measure within the part; 0: none. *worked: it has a measure of the part. */
static size_t corners_of(const struct hk_schematic_piece *piece, size_t line, bool *worked)
{
    size_t most = 0;
    *worked = false;
    for (size_t i = 0; i < piece->measure_count; i++)
        if (piece->measures[i].line == line && piece->measures[i].at != HK_MEASURED_WHOLE) {
            *worked = true;
            most = piece->measures[i].nth > most ? piece->measures[i].nth : most;
        }
    return most;
}

/* Returns how many measures within the part all sizes have; 0 where they differ. */
static size_t corners_agreed(const struct hk_schematic_piece *pieces, size_t count, size_t line)
{
    size_t agreed = SIZE_MAX;
    for (size_t i = 0; i < count; i++) {
        bool worked;
        size_t corners = corners_of(&pieces[i], line, &worked);
        if (worked && agreed != SIZE_MAX && agreed != corners)
            return 0;
        agreed = worked ? corners : agreed;
    }
    return agreed == SIZE_MAX ? 0 : agreed;
}

/* The measures of one size. */
struct chosen {
    struct hk_schematic_measure *measures;
    size_t count;
};

/*
 * Copies the measures of a size, without corners on which sizes differ, and without the height of a part whose corners
 * are measured. Returns false when out of memory.
 */
static bool corners_choose(const struct hk_schematic_piece *pieces, size_t count,
                           const struct hk_schematic_piece *piece, struct chosen *chosen, struct hk_arena *arena)
{
    size_t line = SIZE_MAX, agreed = 0;
    *chosen = (struct chosen){hk_arena_take(arena, piece->measure_count, sizeof *chosen->measures), 0};
    for (size_t m = 0; chosen->measures && m < piece->measure_count; m++) {
        const struct hk_schematic_measure *measure = &piece->measures[m];
        if (measure->line != line)
            agreed = corners_agreed(pieces, count, measure->line);
        line = measure->line;
        if (measure->at == HK_MEASURED_WITHIN ? agreed > 0 : measure->at != HK_MEASURED_PART || agreed == 0)
            chosen->measures[chosen->count++] = *measure;
    }
    return chosen->measures != NULL;
}

/* ---- Measures that say something ---- */

/* Returns true for a height, but for one that is the whole of several. */
static bool is_part_height(const struct hk_schematic_measure *measure)
{
    return measure->measured == HK_MEASURED_HEIGHT && measure->at != HK_MEASURED_WHOLE;
}

/* Returns true when a measure of a size says more than those before it. */
static bool says_more(const struct chosen *chosen, size_t index)
{
    const struct hk_schematic_measure *measure = &chosen->measures[index];
    size_t heights = 0, before = index;
    if (measure->at == HK_MEASURED_WHOLE && measure->measured == HK_MEASURED_HEIGHT) {
        for (size_t i = 0; i < index; i++)
            heights += is_part_height(&chosen->measures[i]);
        return heights > 1;
    }
    if (measure->rows)
        return true;
    while (before > 0 && chosen->measures[before - 1].rows)
        before--;
    const struct hk_schematic_measure *below = before > 0 ? &chosen->measures[before - 1] : NULL;
    return !below || below->measured != measure->measured || below->count != measure->count ||
           fabs(below->length_m - measure->length_m) > same_m;
}

/* Sets the letters of the measures that at least one size needs, and SIZE_MAX of the others. */
static void letters_set(struct entry *entries, size_t count)
{
    size_t letter = 0;
    qsort(entries, count, sizeof *entries, entry_order);
    for (size_t first = 0, end = 0; first < count; first = end) {
        bool needed = false;
        for (; end < count && place_order(entries[first].measure, entries[end].measure) == 0; end++)
            needed |= entries[end].needed;
        for (size_t i = first; i < end; i++)
            entries[i].measure->letter = needed ? letter : SIZE_MAX;
        letter += needed;
    }
}

static void letterless_remove(struct chosen *chosen)
{
    size_t kept = 0;
    for (size_t i = 0; i < chosen->count; i++)
        if (chosen->measures[i].letter != SIZE_MAX)
            chosen->measures[kept++] = chosen->measures[i];
    chosen->count = kept;
}

bool hk_measures_choose(struct hk_schematic_piece *pieces, size_t count, struct hk_arena *arena)
{
    size_t measures = 0, at = 0;
    struct chosen *chosen = hk_arena_take(arena, count, sizeof *chosen);
    if (!chosen)
        return false;
    for (size_t i = 0; i < count; i++) {
        if (!corners_choose(pieces, count, &pieces[i], &chosen[i], arena))
            return false;
        measures += chosen[i].count;
    }
    struct entry *entries = hk_arena_take(arena, measures, sizeof *entries);
    if (!entries)
        return false;
    for (size_t i = 0; i < count; i++)
        for (size_t m = 0; m < chosen[i].count; m++)
            entries[at++] = (struct entry){&chosen[i].measures[m], i, says_more(&chosen[i], m)};
    if (measures > 0)
        letters_set(entries, measures);
    for (size_t i = 0; i < count; i++) {
        letterless_remove(&chosen[i]);
        pieces[i].measures = chosen[i].measures;
        pieces[i].measure_count = chosen[i].count;
    }
    return true;
}
