/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows by reference: which rows they are, and how many. */
#include "pattern/proof_run.h"

#include "text.h"

#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- Which rows ---- */

const struct filler *hk_proof_filler_for(const struct proof_run *run, int64_t number)
{
    for (size_t i = run->filler_count; i > 0; i--) {
        const struct filler *filler = &run->fillers[i - 1];
        const struct hk_entry *entry = &run->w->entries[filler->entry];
        if (filler->every && number > filler->number && (number - filler->number) % 2 == 0)
            return filler;
        for (size_t n = 0; n < entry->list_count; n++)
            if (entry->list[n] == number)
                return filler;
    }
    return NULL;
}

static bool row_numbered(const struct proof_run *run, int64_t number, struct planned_row *planned)
{
    for (size_t i = run->log_count; i > 0; i--)
        if (run->log[i - 1].number == number) {
            *planned = (struct planned_row){run->log[i - 1].row, run->log[i - 1].held, true};
            return true;
        }
    const struct filler *filler = hk_proof_filler_for(run, number);
    if (filler)
        *planned = filler->planned;
    return filler != NULL;
}

/*
 * The rows that go on without shaping, into `cycle` (room for CYCLE_MOST): the rows of the last reference, else the
 * last row, in flat knitting the last two; where these shaped, plain rows of their stitches. 0: it cannot be told.
 */
static size_t even_rows(struct proof_run *run, struct planned_row *cycle)
{
    size_t count = run->log_count, part = count - run->part_log;
    if (count == 0)
        return 0;
    const struct worked_row *last = &run->log[count - 1], *above = part > 1 ? last - 1 : NULL;
    if (run->cycle > 0 && run->cycle <= part && run->cycle <= CYCLE_MOST) {
        bool preserved = true;
        for (size_t i = 0; i < run->cycle; i++)
            preserved &= run->log[count - run->cycle + i].preserved;
        for (size_t i = 0; preserved && i < run->cycle; i++)
            cycle[i] = (struct planned_row){run->log[count - run->cycle + i].row, run->held, true};
        if (preserved)
            return run->cycle;
    }
    bool pair = !run->round && last->knit && above && above->knit;
    if (last->preserved && (!pair || above->preserved)) {
        if (pair)
            cycle[0] = (struct planned_row){above->row, run->held, true};
        cycle[pair] = (struct planned_row){last->row, run->held, true};
        bool same = pair || !above || above->row == last->row || !above->preserved ||
                    (above->stitch != NO_STITCH && above->stitch == last->stitch);
        if (!pair && !run->round && last->knit)
            return 0;
        return same ? 1 + (size_t)pair : 0;
    }
    if (last->stitch == NO_STITCH || (pair && above->stitch == NO_STITCH) || (!pair && last->knit && !run->round))
        return 0;
    if (pair && !hk_proof_plain_words(run, above->stitch, &cycle[0]))
        return 0;
    return hk_proof_plain_words(run, last->stitch, &cycle[pair]) ? 1 + (size_t)pair : 0;
}

static bool same_letters(const char *a, const char *b)
{
    for (;;) {
        while (*a == ' ' || *a == ',' || *a == '-' || *a == '/')
            a++;
        while (*b == ' ' || *b == ',' || *b == '-' || *b == '/')
            b++;
        if (hk_lower(*a) != hk_lower(*b))
            return false;
        if (!*a)
            return true;
        a++;
        b++;
    }
}

/* The rows of a stitch pattern by name: a block of the text, a fabric, a stitch. */
static size_t pattern_rows(struct proof_run *run, const char *name, struct planned_row *cycle, size_t *setup)
{
    const struct hk_written *w = run->w;
    *setup = 0;
    for (size_t b = w->block_count; b > 0; b--) {
        const struct hk_written_block *block = &w->blocks[b - 1];
        size_t length = strlen(block->name);
        if (!same_letters(name, block->name) &&
            !(hk_text_starts(name, block->name) && hk_word_at(name + length, " patt")))
            continue;
        size_t count = 0;
        for (size_t e = 0; e < block->count; e++) {
            const struct hk_proof_entry *parsed = &run->p->entries[block->first + e];
            int64_t rows = hk_entry_rows(&w->entries[block->first + e], run->size);
            if (!parsed->good)
                return 0;
            for (int64_t i = 0; i < rows && count < CYCLE_MOST; i++)
                cycle[count++] = (struct planned_row){&parsed->row, run->held, false};
        }
        return count;
    }
    static const char *const aliases[][2] = {
        {"st st", "stockinette"},          {"stocking stitch", "stockinette"},    {"stocking st", "stockinette"},
        {"stockinette st", "stockinette"}, {"stockinette stitch", "stockinette"}, {"garter st", "garter stitch"},
        {"garter", "garter stitch"}};
    const char *known = name;
    for (size_t i = 0; i < sizeof aliases / sizeof aliases[0]; i++)
        if (same_letters(name, aliases[i][0]))
            known = aliases[i][1];
    const struct hk_row *rows;
    size_t turns;
    const char *round = run->round ? hk_arena_print(run->p->arena, "%s in rounds", known) : NULL;
    if ((round && run->p->host->fabric(run->p->host->context, round, &rows, setup, &turns)) ||
        run->p->host->fabric(run->p->host->context, known, &rows, setup, &turns)) {
        size_t count = *setup + turns;
        for (size_t i = 0; i < count && i < CYCLE_MOST; i++)
            cycle[i] = (struct planned_row){&rows[i], run->held, false};
        return count <= CYCLE_MOST ? count : 0;
    }
    const struct hk_words *words = &w->words.catalogue->words[w->words.terms];
    for (size_t i = 0; i < words->count; i++)
        if (hk_text_same(words->words[i].text, name))
            return hk_proof_plain_words(run, words->words[i].stitch, &cycle[0]) ? 1 : 0;
    return 0;
}

/* "Bind off 4 (5, 6) sts at beg of next 2 rows": the words of each of them. */
static size_t edge_rows(struct proof_run *run, const struct hk_reference *reference, struct planned_row *cycle)
{
    size_t stitches[2];
    bool pair;
    if (!hk_proof_plain_stitches(run, stitches, &pair))
        return 0;
    for (size_t i = 0; i < 1 + (size_t)pair; i++) {
        const struct hk_stitch *s = &run->w->words.catalogue->stitches[stitches[i]];
        const char *name = hk_proof_stitch(run->p, stitches[i]);
        const char *words = hk_arena_print(
            run->p->arena, s->family == HK_KNIT ? "%s, %s to end" : "%s, %s in each st to end", reference->words, name);
        if (!words || !hk_proof_planned_words(run, words, &cycle[i]))
            return 0;
    }
    return 1 + (size_t)pair;
}

/* ---- How many ---- */

/* How many rows it takes to a length; -1: no gauge, said. */
static int64_t rows_to_length(struct proof_run *run, const struct hk_reference *reference)
{
    const char *swatch = NULL;
    size_t stitch = run->log_count > 0 ? run->log[run->log_count - 1].stitch : NO_STITCH;
    double per_m = run->p->host->rows_per_m(run->p->host->context, stitch, hk_proof_entry_at(run)->tool_mm, &swatch);
    if (!(per_m > 0)) {
        hk_proof_refuse(run, HK_GAUGE_MISSING, "no swatch says how many rows that is",
                        "give a swatch of this stitch with its gauge in swatches.csv, or write how many rows");
        return -1;
    }
    double rows = reference->length_m[run->size] * per_m;
    if (!reference->onward)
        rows -= (double)(run->log_count - (reference->of_part ? run->part_log : 0));
    if (rows < -0.5) {
        hk_proof_refuse(run, HK_RANGE, "the rows above come to more than that length already",
                        "check the length, the gauge of the swatch and the rows above");
        return -1;
    }
    return rows > (double)ROWS_MOST ? ROWS_MOST + 1 : (int64_t)floor(fmax(rows, 0) + 0.5);
}

/* How many rows a reference to `count` rows is. -1: it has been said what is wrong. */
static int64_t rows_total(struct proof_run *run, const struct hk_reference *reference, size_t count)
{
    const struct hk_entry *entry = hk_proof_entry_at(run);
    int64_t labelled = hk_entry_rows(entry, run->size), total = labelled;
    bool label = entry->numbered || entry->rows_given;
    if (reference->length_m) {
        total = rows_to_length(run, reference);
        if (total < 0)
            return -1;
        /* "ending with a WS row": one more where it would end on the other side. */
        bool odd = total % 2 != 0;
        enum hk_side end = run->side == HK_SIDE_OPEN             ? HK_SIDE_OPEN
                           : (run->side == HK_SIDE_RIGHT) == odd ? HK_SIDE_RIGHT
                                                                 : HK_SIDE_WRONG;
        total +=
            reference->end_side != HK_SIDE_OPEN && end != HK_SIDE_OPEN && end != reference->end_side && !run->round;
        return total;
    }
    bool itself = reference->kind == HK_REF_ROWS || reference->kind == HK_REF_LAST;
    if (!itself && !*entry->label && !reference->rows_given && !reference->times_given) {
        hk_proof_refuse(run, HK_ROW_SYNTAX, "it does not say how many rows",
                        "write \"for 10 rows\", or \"until piece measures 20 cm\"");
        return -1;
    }
    if (reference->rows_given)
        total = hk_graded_in(reference->rows, run->size);
    else if (reference->times_given)
        total = hk_graded_in(reference->times, run->size) * (int64_t)count;
    else if (!label)
        total = (int64_t)count;
    if (label && (reference->rows_given || reference->times_given) && total != labelled) {
        char text[160];
        snprintf(text, sizeof text, "the label has %" PRId64 " rows, and the words come to %" PRId64, labelled, total);
        hk_proof_refuse(run, HK_COUNT_DIFFERS, text, "make them agree, or leave one of them out");
        return -1;
    }
    return total;
}

/* ---- All of it ---- */

void hk_proof_reference_work(struct proof_run *run, size_t depth)
{
    const struct hk_entry *entry = hk_proof_entry_at(run);
    const struct hk_reference *reference = &entry->reference;
    const struct hk_proof_entry *parsed = &run->p->entries[run->entry];
    const struct hk_row *stated = parsed->tailed ? &parsed->tail : NULL;
    struct planned_row *cycle = calloc(CYCLE_MOST, sizeof *cycle);
    size_t count = 0, setup = 0;
    char text[200];
    if (!cycle) {
        hk_proof_lose(run);
        return;
    }
    switch (reference->kind) {
    case HK_REF_ROWS:
        for (; count < reference->number_count; count++)
            if (!row_numbered(run, reference->numbers[count], &cycle[count])) {
                snprintf(text, sizeof text, "there is no row %" PRId64 " above", reference->numbers[count]);
                hk_proof_refuse(run, HK_NAME_UNKNOWN, text,
                                "a reference means the nearest row of that number above it in its piece");
                free(cycle);
                return;
            }
        break;
    case HK_REF_LAST: {
        int64_t last = hk_graded_in(reference->last, run->size);
        if (last < 1 || last > (int64_t)run->log_count || last > CYCLE_MOST) {
            snprintf(text, sizeof text, "there are %zu rows above it in its piece, and not %" PRId64, run->log_count,
                     last);
            hk_proof_refuse(run, HK_RANGE, text, "check the number");
            free(cycle);
            return;
        }
        for (; count < (size_t)last; count++) {
            const struct worked_row *row = &run->log[run->log_count - (size_t)last + count];
            cycle[count] = (struct planned_row){row->row, row->held, true};
        }
        break;
    }
    case HK_REF_EVEN:
        count = even_rows(run, cycle);
        if (count == 0) {
            hk_proof_refuse(run, HK_ROW_SYNTAX, "which rows go on cannot be told from the rows above",
                            "write \"Rep row 4 for 10 rows\", or \"Work 10 rows in sc\"");
            free(cycle);
            return;
        }
        break;
    case HK_REF_WORDS:
        if (hk_proof_planned_words(run, strcmp(reference->words, "k") == 0 ? "k to end" : "p to end", &cycle[0]))
            count = 1;
        break;
    case HK_REF_PATTERN:
        count = pattern_rows(run, reference->words, cycle, &setup);
        if (count == 0) {
            snprintf(text, sizeof text, "there is no stitch pattern \"%.80s\"", reference->words);
            hk_proof_refuse(run, HK_NAME_UNKNOWN, text,
                            "write its rows under its name before the pieces, or into fabrics.csv");
            free(cycle);
            return;
        }
        break;
    case HK_REF_EDGE:
        count = edge_rows(run, reference, cycle);
        if (count == 0) {
            hk_proof_refuse(run, HK_ROW_SYNTAX, "how these rows go on cannot be told from the rows above",
                            "write each of them: \"Next row: Bind off 3 sts, k to end\"");
            free(cycle);
            return;
        }
        break;
    case HK_REF_SHAPE:
        hk_proof_shape(run, reference);
        free(cycle);
        return;
    case HK_REF_AS:
        free(cycle);
        hk_proof_reference_as(run, reference, depth);
        return;
    }
    int64_t total = count > 0 ? rows_total(run, reference, count - setup) : -1;
    if (total >= 0 && setup > 0) {
        int64_t first = total < (int64_t)setup ? total : (int64_t)setup;
        hk_proof_work_cycle(run, cycle, setup, first, total == first ? stated : NULL);
        total -= first;
    }
    if (total > 0 || (total == 0 && setup == 0))
        hk_proof_work_cycle(run, cycle + setup, count - setup, total, stated);
    if (total >= 0 && reference->kind != HK_REF_WORDS && reference->kind != HK_REF_EDGE)
        run->cycle = count - setup;
    else
        run->cycle = 0;
    free(cycle);
}
