/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows by reference: which rows they are, and how many. */
#include "pattern/proof_run.h"

#include "base/text.h"

#include <assert.h>
#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- Which rows ---- */

int64_t hk_proof_filler_first(const struct hk_entry *entry, size_t size)
{
    if (entry->numbered)
        return hk_graded_in(entry->first, size);
    return entry->side == HK_SIDE_RIGHT ? -1 : 0;
}

void hk_proof_lists_end(struct proof_run *run)
{
    for (size_t i = 0; i < run->filler_count; i++) {
        struct filler *filler = &run->fillers[i];
        const struct hk_entry *entry = &run->w->entries[filler->entry];
        int64_t last = entry->list_count > 0 ? entry->list[entry->list_count - 1] : 0;
        bool short_of = !filler->ended && last > run->number;
        filler->ended = true;
        if (!short_of)
            continue;
        char text[160];
        snprintf(text, sizeof text, "\"%.60s\" has a row %" PRId64 ", but the last row of its part is row %" PRId64,
                 entry->label, last, run->number);
        hk_proof_remark(run->p, filler->entry, run->size, HK_CODE_ROW_SYNTAX, entry->place, text,
                        "write the rows of the list that come last as rows of their own");
        run->p->proof->incomplete[run->size] = true;
    }
}

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

/* Whether the rows last worked, as many as one turn of the last reference, left as many stitches as they found. */
static bool cycle_preserved(const struct proof_run *run)
{
    size_t rows = run->cycle < run->cycle_worked ? run->cycle : run->cycle_worked;
    for (size_t i = 1; i <= rows; i++)
        if (!run->log[run->log_count - i].preserved)
            return false;
    return rows > 0;
}

static size_t plain_rows(struct proof_run *run, const size_t *stitches, bool pair, struct planned_row *cycle)
{
    for (size_t i = 0; i < 1 + (size_t)pair; i++)
        if (stitches[i] == NO_STITCH || !hk_proof_plain_words(run, stitches[i], &cycle[i]))
            return 0;
    return 1 + (size_t)pair;
}

/*
 * The rows that go on without shaping, into `cycle` (room for CYCLE_MOST): the rows of the last reference, else the
 * last row, in flat knitting the last two; where these shaped, plain rows of their stitches. 0: it cannot be told.
 */
static size_t even_rows(struct proof_run *run, struct planned_row *cycle)
{
    size_t part = run->log_count - run->part_log;
    if (run->log_count == 0)
        return 0;
    if (run->cycle > 0 && cycle_preserved(run)) {
        for (size_t i = 0; i < run->cycle; i++)
            cycle[i] = (struct planned_row){run->cycle_rows[(run->cycle_worked + i) % run->cycle].row, run->held, true};
        return run->cycle;
    }
    const struct worked_row *last = &run->log[run->log_count - 1], *above = part > 1 ? last - 1 : NULL;
    bool pair = !run->round && last->knit && above && above->knit;
    if (last->knit && !run->round && !pair)
        return 0;
    if (!last->preserved || (pair && !above->preserved)) {
        const size_t stitches[] = {pair ? above->stitch : last->stitch, last->stitch};
        return plain_rows(run, stitches, pair, cycle);
    }
    if (pair)
        cycle[0] = (struct planned_row){above->row, run->held, true};
    cycle[pair] = (struct planned_row){last->row, run->held, true};
    /* Rows of two kinds in turn are one pattern: which of them comes next is not said. */
    bool alike = pair || !above || above->row == last->row || !above->preserved ||
                 (last->stitch != NO_STITCH && above->stitch == last->stitch);
    return alike ? 1 + (size_t)pair : 0;
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
        char words[HK_PROOF_WORDS_MOST];
        snprintf(words, sizeof words, s->family == HK_FAMILY_KNIT ? "%s, %s to end" : "%s, %s in each st to end",
                 reference->words, name);
        if (!hk_proof_planned_words(run, words, &cycle[i]))
            return 0;
    }
    return 1 + (size_t)pair;
}

/* ---- How many ---- */

/* The only stitch of the steps that shows what the fabric is; false where there are several. */
static bool steps_stitch(const struct hk_proofing *p, const struct hk_step *steps, size_t count, size_t *only)
{
    for (size_t i = 0; i < count; i++) {
        if (!steps_stitch(p, steps[i].steps, steps[i].step_count, only))
            return false;
        if (steps[i].kind != HK_STEP_STITCH || steps[i].stitch >= p->words.catalogue->stitch_count ||
            !hk_proof_shows(p, steps[i].stitch))
            continue;
        size_t base = hk_proof_base(p, steps[i].stitch);
        if (*only != NO_STITCH && *only != base)
            return false;
        *only = base;
    }
    return true;
}

/* How many rows like `row` it takes to a length; -1: no gauge, said. */
static int64_t rows_to_length(struct proof_run *run, const struct hk_reference *reference, const struct hk_row *row)
{
    const char *swatch = NULL;
    size_t stitch = NO_STITCH;
    assert(row);
    if (!steps_stitch(run->p, row->steps, row->step_count, &stitch))
        stitch = NO_STITCH;
    double per_m = run->p->host->rows_per_m(run->p->host->context, stitch, hk_proof_entry_at(run)->tool_mm, &swatch);
    if (!(per_m > 0)) {
        hk_proof_refuse(run, HK_CODE_GAUGE_MISSING, "no swatch says how many rows that is",
                        "give a swatch of this stitch with its gauge in swatches.csv, or write how many rows");
        return -1;
    }
    double rows = reference->length_m[run->size] * per_m;
    if (!reference->onward)
        rows -= (double)(run->log_count - (reference->of_part ? run->part_log : 0));
    if (rows < -0.5) {
        hk_proof_refuse(run, HK_CODE_RANGE, "the rows above come to more than that length already",
                        "check the length, the gauge of the swatch and the rows above");
        return -1;
    }
    return (int64_t)floor(fmin(fmax(rows, 0), (double)ROWS_MOST + 1) + 0.5);
}

/* "ending with a WS row": one more where so many rows would end on the other side. */
static bool ends_on_other(const struct proof_run *run, const struct hk_reference *reference, int64_t rows)
{
    if (reference->end_side == HK_SIDE_OPEN || run->side == HK_SIDE_OPEN || run->round)
        return false;
    return (run->side == reference->end_side) != (rows % 2 != 0);
}

/* How many rows a reference is. -1: it has been said what is wrong. */
static int64_t rows_total(struct proof_run *run, const struct hk_reference *reference, const struct planned_row *cycle,
                          size_t setup, size_t turn)
{
    const struct hk_entry *entry = hk_proof_entry_at(run);
    int64_t labelled = hk_entry_rows(entry, run->size), total;
    bool label = entry->numbered || entry->rows_given;
    if (reference->length_m) {
        total = rows_to_length(run, reference, cycle[setup].row);
        if (total < 0)
            return -1;
        total += ends_on_other(run, reference, total);
    } else if (reference->rows_given)
        total = hk_graded_in(reference->rows, run->size);
    else if (!*entry->label && !reference->times_given && reference->kind != HK_REFERENCE_ROWS &&
             reference->kind != HK_REFERENCE_LAST) {
        hk_proof_refuse(run, HK_CODE_ROW_SYNTAX, "it does not say how many rows",
                        "write \"for 10 rows\", or \"until piece measures 20 cm\"");
        return -1;
    } else if (reference->times_given || !label)
        total =
            (int64_t)setup + (reference->times_given ? hk_graded_in(reference->times, run->size) : 1) * (int64_t)turn;
    else
        total = labelled;
    if (label && total != labelled) {
        char text[160];
        snprintf(text, sizeof text, "the label has %" PRId64 " rows, and the words come to %" PRId64, labelled, total);
        hk_proof_refuse(run, HK_CODE_COUNT_DIFFERS, text, "make them agree, or leave one of them out");
        return -1;
    }
    return total;
}

/* ---- All of it ---- */

/* The rows of the numbers that it names. False: said. */
static bool numbered_rows(struct proof_run *run, const struct hk_reference *reference, struct planned_row *cycle)
{
    for (size_t i = 0; i < reference->number_count; i++)
        if (!row_numbered(run, reference->numbers[i], &cycle[i])) {
            char text[80];
            snprintf(text, sizeof text, "there is no row %" PRId64 " above", reference->numbers[i]);
            hk_proof_refuse(run, HK_CODE_NAME_UNKNOWN, text,
                            "a reference means the nearest row of that number above it in its piece");
            return false;
        }
    return true;
}

/* The last rows; 0: said. */
static size_t last_rows(struct proof_run *run, const struct hk_reference *reference, struct planned_row *cycle)
{
    int64_t last = hk_graded_in(reference->last, run->size);
    if (last < 1 || last > (int64_t)run->log_count || last > CYCLE_MOST) {
        char text[120];
        snprintf(text, sizeof text, "there are %zu rows above it in its piece, and not %" PRId64, run->log_count, last);
        hk_proof_refuse(run, HK_CODE_RANGE, last > CYCLE_MOST ? "more than 1000 rows are not repeated" : text,
                        "check the number");
        return 0;
    }
    for (int64_t i = 0; i < last; i++) {
        const struct worked_row *row = &run->log[(int64_t)run->log_count - last + i];
        cycle[i] = (struct planned_row){row->row, row->held, true};
    }
    return (size_t)last;
}

/* Which rows, into `cycle`, the first `*setup` of them once only. How many; 0: it has been said what is wrong. */
static size_t rows_find(struct proof_run *run, const struct hk_reference *reference, struct planned_row *cycle,
                        size_t *setup)
{
    size_t count = 0;
    switch (reference->kind) {
    case HK_REFERENCE_ROWS:
        return numbered_rows(run, reference, cycle) ? reference->number_count : 0;
    case HK_REFERENCE_LAST:
        return last_rows(run, reference, cycle);
    case HK_REFERENCE_PATTERN:
        return hk_proof_pattern_rows(run, reference->words, cycle, setup);
    case HK_REFERENCE_EVEN:
        count = even_rows(run, cycle);
        if (count == 0)
            hk_proof_refuse(run, HK_CODE_ROW_SYNTAX, "which rows go on cannot be told from the rows above",
                            "write \"Rep row 4 for 10 rows\", or \"Work 10 rows in sc\"");
        return count;
    case HK_REFERENCE_EDGE:
        count = edge_rows(run, reference, cycle);
        if (count == 0)
            hk_proof_refuse(run, HK_CODE_ROW_SYNTAX, "how these rows go on cannot be told from the rows above",
                            "write each of them: \"Next row: Bind off 3 sts, k to end\"");
        return count;
    default: /* HK_REFERENCE_WORDS */
        return hk_proof_planned_words(run, *reference->words == 'k' ? "k to end" : "p to end", &cycle[0]);
    }
}

/* What "work even" then goes on with. */
static void cycle_keep(struct proof_run *run, const struct hk_reference *reference, const struct planned_row *cycle,
                       size_t count, int64_t worked)
{
    if (reference->kind == HK_REFERENCE_WORDS || reference->kind == HK_REFERENCE_EDGE)
        return;
    struct planned_row *rows = hk_arena_take(run->p->arena, count, sizeof *rows);
    if (!rows) {
        hk_proof_lose(run);
        return;
    }
    memcpy(rows, cycle, count * sizeof *rows);
    run->cycle = count;
    run->cycle_rows = rows;
    run->cycle_worked = (size_t)worked;
}

static void cycle_work(struct proof_run *run, const struct hk_reference *reference, struct planned_row *cycle)
{
    const struct hk_proof_entry *parsed = &run->p->entries[run->entry];
    const struct hk_row *stated = parsed->tailed ? &parsed->tail : NULL;
    struct hk_proof_row *kept = hk_proof_row_of(run, run->entry);
    size_t setup = 0, count = rows_find(run, reference, cycle, &setup);
    int64_t total = count > 0 ? rows_total(run, reference, cycle, setup, count - setup) : -1;
    run->cycle = 0;
    if (total < 0)
        return;
    int64_t first = total < (int64_t)setup ? total : (int64_t)setup;
    kept->rows = 0;
    kept->there = false;
    if (hk_proof_work_cycle(run, cycle, setup, first, total == first ? stated : NULL) &&
        (total == first || hk_proof_work_cycle(run, cycle + setup, count - setup, total - first, stated)))
        cycle_keep(run, reference, cycle + setup, count - setup, total - first);
}

void hk_proof_reference_work(struct proof_run *run)
{
    const struct hk_reference *reference = &hk_proof_entry_at(run)->reference;
    if (reference->kind == HK_REFERENCE_AS) {
        hk_proof_reference_as(run, reference);
        return;
    }
    if (reference->kind == HK_REFERENCE_SHAPE) {
        hk_proof_shape(run, reference);
        return;
    }
    struct planned_row *cycle = calloc(CYCLE_MOST, sizeof *cycle);
    if (cycle)
        cycle_work(run, reference, cycle);
    else
        hk_proof_lose(run);
    free(cycle);
}
