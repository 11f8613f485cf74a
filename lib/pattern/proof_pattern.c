/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The rows of a stitch pattern by its name: rows in the text, rows of a fabric, or rows of one stitch. */
#include "pattern/proof_run.h"

#include "base/text.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

/* Returns true for names with the same letters: "St st" and "st-st". */
static bool same_letters(const char *a, const char *b)
{
    static const char marks[] = " ,-/";
    do {
        a += strspn(a, marks);
        b += strspn(b, marks);
        if (hk_lower(*a) != hk_lower(*b))
            return false;
        b++;
    } while (*a++);
    return true;
}

/* ---- Rows of the text ---- */

static const struct hk_written_block *block_named(const struct hk_written *written, const char *name)
{
    for (size_t b = written->block_count; b > 0; b--) {
        const struct hk_written_block *block = &written->blocks[b - 1];
        if (same_letters(name, block->name) ||
            (hk_text_starts(name, block->name) && hk_word_at(name + strlen(block->name), " patt")))
            return block;
    }
    return NULL;
}

static bool block_refuse(struct proof_run *run, const struct hk_written_block *block, const char *text,
                         const char *hint)
{
    char whole[200];
    snprintf(whole, sizeof whole, "the stitch pattern \"%.60s\" %s", block->name, text);
    hk_proof_refuse(run, HK_CODE_ROW_SYNTAX, whole, hint);
    return false;
}

/* Reads "Rep row 1" within a pattern: earlier rows of the pattern. */
static bool block_reference(struct proof_run *run, const struct hk_written_block *block,
                            const struct hk_reference *reference, int64_t first, int64_t last,
                            struct planned_row *cycle)
{
    for (int64_t n = first; n <= last; n++) {
        size_t which = (size_t)(n - first) % (reference->number_count ? reference->number_count : 1);
        int64_t from = reference->kind == HK_REFERENCE_ROWS ? reference->numbers[which] : 0;
        if (from < 1 || from >= n || !cycle[from - 1].row)
            return block_refuse(run, block, "has a row by reference that is not one of the rows above it",
                                "write its rows by their numbers, or \"Row 3: Rep row 1.\"");
        cycle[n - 1] = cycle[from - 1];
    }
    return true;
}

/* Adds an entry of the pattern to the cycle; *count: the highest row number so far. Returns false with a finding. */
static bool block_entry(struct proof_run *run, const struct hk_written_block *block, size_t index,
                        struct planned_row *cycle, int64_t *count)
{
    const struct hk_entry *entry = &run->w->entries[index];
    const struct hk_proof_entry *parsed = &run->p->entries[index];
    int64_t rows = hk_entry_rows(entry, run->size);
    int64_t first = entry->numbered ? hk_graded_in(entry->first, run->size) : *count + 1, last = first + rows - 1;
    if (!parsed->good)
        return block_refuse(run, block, "has a row that cannot be read", "correct that row");
    if (entry->others && !entry->numbered)
        return true;
    if (first < 1 || last > CYCLE_MOST)
        return block_refuse(run, block, "has a row of a number that no row has", "number its rows from 1 to 1000");
    if (entry->kind == HK_ENTRY_REFERENCE) {
        if (!block_reference(run, block, &entry->reference, first, last, cycle))
            return false;
    } else
        for (int64_t n = first; n <= last; n++)
            cycle[n - 1] = (struct planned_row){&parsed->row, run->held, false};
    *count = last > *count ? last : *count;
    for (size_t i = 0; i < entry->list_count; i++) {
        if (entry->list[i] > CYCLE_MOST)
            return block_refuse(run, block, "has a row of a number that no row has", "number its rows from 1 to 1000");
        cycle[entry->list[i] - 1] = cycle[first - 1];
        *count = entry->list[i] > *count ? entry->list[i] : *count;
    }
    return true;
}

/* Reads "Row 2 and all WS rows": fills every second row that is not written, also after the last. */
static void block_fill(const struct proof_run *run, size_t index, struct planned_row *cycle, int64_t *count)
{
    int64_t first = hk_proof_filler_first(&run->w->entries[index], run->size);
    *count += first % 2 == 0 && *count % 2 != 0;
    for (int64_t n = first < 1 ? first + 2 : first; n <= *count; n += 2)
        if (!cycle[n - 1].row)
            cycle[n - 1] = (struct planned_row){&run->p->entries[index].row, run->held, false};
}

static size_t block_rows(struct proof_run *run, const struct hk_written_block *block, struct planned_row *cycle)
{
    int64_t count = 0;
    for (size_t e = 0; e < block->count; e++)
        if (!block_entry(run, block, block->first + e, cycle, &count))
            return 0;
    for (size_t e = 0; e < block->count; e++)
        if (run->w->entries[block->first + e].others)
            block_fill(run, block->first + e, cycle, &count);
    for (int64_t n = 1; n <= count; n++)
        if (!cycle[n - 1].row) {
            char text[60];
            snprintf(text, sizeof text, "lacks row %" PRId64, n);
            block_refuse(run, block, text, "write all its rows");
            return 0;
        }
    if (count == 0)
        block_refuse(run, block, "has no rows in this size", "write them");
    return (size_t)count;
}

/* ---- Rows of fabrics and stitches ---- */

static bool fabric_rows(struct proof_run *run, const char *name, struct planned_row *cycle, size_t *count,
                        size_t *setup)
{
    const struct hk_row *rows;
    size_t turns;
    if (!run->p->host->fabric(run->p->host->context, name, &rows, setup, &turns))
        return false;
    *count = *setup + turns < CYCLE_MOST ? *setup + turns : CYCLE_MOST;
    for (size_t i = 0; i < *count; i++)
        cycle[i] = (struct planned_row){&rows[i], run->held, false};
    return true;
}

bool hk_proof_pattern_known(const struct proof_run *run, const char *name)
{
    return block_named(run->w, name) != NULL;
}

size_t hk_proof_pattern_rows(struct proof_run *run, const char *name, struct planned_row *cycle, size_t *setup)
{
    static const char *const aliases[][2] = {
        {"st st", "stockinette"},          {"stocking stitch", "stockinette"},    {"stocking st", "stockinette"},
        {"stockinette st", "stockinette"}, {"stockinette stitch", "stockinette"}, {"garter st", "garter stitch"},
        {"garter", "garter stitch"}};
    *setup = 0;
    const struct hk_written_block *block = block_named(run->w, name);
    if (block)
        return block_rows(run, block, cycle);
    const char *known = name;
    size_t count;
    for (size_t i = 0; i < sizeof aliases / sizeof aliases[0]; i++)
        if (same_letters(name, aliases[i][0]))
            known = aliases[i][1];
    const char *round = run->round ? hk_arena_print(run->p->arena, "%s in rounds", known) : NULL;
    if ((round && fabric_rows(run, round, cycle, &count, setup)) || fabric_rows(run, known, cycle, &count, setup))
        return count;
    const struct hk_words *words = &run->w->words.catalogue->words[run->w->words.terms];
    for (size_t i = 0; i < words->count; i++)
        if (hk_text_same(words->words[i].text, name)) {
            struct plain_row plain = hk_proof_plain_of(run, words->words[i].stitch);
            return hk_proof_plain_words(run, &plain, NULL, &cycle[0]) ? 1 : 0;
        }
    char text[120];
    snprintf(text, sizeof text, "there is no stitch pattern \"%.80s\"", name);
    hk_proof_refuse(run, HK_CODE_NAME_UNKNOWN, text,
                    "write its rows under its name before the pieces, or into fabrics.csv");
    return 0;
}
