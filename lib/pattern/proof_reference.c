/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows by reference: finds the rows and their number. */
#include "pattern/colours.h"
#include "pattern/proof_run.h"

#include "base/text.h"

#include <assert.h>
#include <inttypes.h>
#include <math.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- The referenced rows ---- */

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

/* Returns true when the last rows, one cycle of the last reference, left the number of stitches unchanged. */
static bool cycle_preserved(const struct proof_run *run)
{
    size_t rows = run->cycle < run->cycle_worked ? run->cycle : run->cycle_worked;
    for (size_t i = 1; i <= rows; i++)
        if (!run->log[run->log_count - i].preserved)
            return false;
    return rows > 0;
}

/* Replaces the last rows by plain rows of their stitches. Returns their number. */
static size_t plain_rows(struct proof_run *run, const struct worked_row *first, size_t count, struct planned_row *cycle)
{
    for (size_t i = 0; i < count; i++) {
        struct plain_row plain = {.stitch = first[i].stitch,
                                  .held = first[i].held,
                                  .chains = first[i].knit ? 0 : first[i].lead,
                                  .joined = !first[i].knit && first[i].row->joined};
        if (plain.stitch == NO_STITCH || !hk_proof_plain_words(run, &plain, NULL, &cycle[i]))
            return 0;
    }
    return count;
}

/*
 * Finds the rows to continue without shaping and sets them in `cycle` (room for CYCLE_MOST): the rows of the last
 * reference, else the last row, in flat knitting the last two; if these shape, plain rows of their stitches. Returns
 * their number; 0 when ambiguous.
 */
static size_t even_rows(struct proof_run *run, struct planned_row *cycle)
{
    size_t part = run->log_count - run->part_log;
    if (run->log_count == 0)
        return 0;
    if (run->cycle > 0 && (run->cycle_plain || cycle_preserved(run))) {
        for (size_t i = 0; i < run->cycle; i++) {
            cycle[i] = run->cycle_rows[(run->cycle_worked + i) % run->cycle];
            cycle[i].again = true;
        }
        return run->cycle;
    }
    const struct worked_row *last = &run->log[run->log_count - 1], *above = part > 1 ? last - 1 : NULL;
    bool pair = !run->round && last->knit && above && above->knit;
    if (last->knit && !run->round && !pair)
        return 0;
    if (!last->preserved && !last->knit) { /* there are rows without shaping between those that shape */
        for (size_t i = 1; i < part && i < CYCLE_MOST; i++)
            if (last[-(ptrdiff_t)i].preserved && last[-(ptrdiff_t)i].stitch == last->stitch && last->stitch != NO_STITCH) {
                cycle[0] = (struct planned_row){last[-(ptrdiff_t)i].row, last[-(ptrdiff_t)i].held, true};
                return 1;
            }
    }
    if (!last->preserved || (pair && !above->preserved))
        return plain_rows(run, last - pair, 1 + (size_t)pair, cycle);
    if (pair)
        cycle[0] = (struct planned_row){above->row, above->held, true};
    cycle[pair] = (struct planned_row){last->row, last->held, true};
    /* Alternating rows of two kinds are a pattern; which comes next is not stated. */
    bool alike = pair || !above || above->row == last->row || !above->preserved ||
                 (last->stitch != NO_STITCH && above->stitch == last->stitch);
    return alike ? 1 + (size_t)pair : 0;
}

/* "Bind off 4 (5, 6) sts at beg of next 2 rows": makes the words of each row. */
static size_t edge_rows(struct proof_run *run, const struct hk_reference *reference, struct planned_row *cycle)
{
    struct plain_row *plain = hk_arena_take(run->p->arena, CYCLE_MOST, sizeof *plain);
    size_t count = plain ? hk_proof_plain_rows(run, plain) : 0;
    run->p->out_of_memory |= !plain;
    for (size_t i = 0; i < count; i++) {
        const struct hk_stitch *s = &run->w->words.catalogue->stitches[plain[i].stitch];
        const char *name = hk_proof_stitch(run->p, plain[i].stitch),
                   *to = s->family == HK_FAMILY_KNIT ? "" : " in each st";
        char words[HK_PROOF_WORDS_MOST];
        if (reference->at_end)
            snprintf(words, sizeof words, "%s%s to end, %s", name, to, reference->words);
        else
            snprintf(words, sizeof words, "%s, %s%s to end", reference->words, name, to);
        if (!hk_proof_planned_words(run, words, plain[i].held, &cycle[i]))
            return 0;
    }
    return count;
}

/* ---- The number of rows ---- */

/* Finds the only stitch of the steps that characterises the fabric. Returns false if there are several. */
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

/* Returns true for steps of a single stitch, one in each place, with chains only at the start. */
static bool steps_plain(const struct hk_proofing *p, const struct hk_step *steps, size_t count, bool first,
                        size_t *only)
{
    for (size_t i = 0; i < count; i++) {
        enum hk_step_kind kind = steps[i].kind;
        bool chain = (kind == HK_STEP_CHAIN || kind == HK_STEP_TURNING) && first && i == 0;
        if (kind == HK_STEP_JOIN || kind == HK_STEP_TURN || chain)
            continue;
        if (kind == HK_STEP_REPEAT) {
            if (!steps_plain(p, steps[i].steps, steps[i].step_count, false, only))
                return false;
            continue;
        }
        if (kind != HK_STEP_STITCH || steps[i].stitch >= p->words.catalogue->stitch_count ||
            (*only != NO_STITCH && *only != steps[i].stitch) || hk_graded_in(steps[i].many, 0) != 1)
            return false;
        *only = steps[i].stitch;
    }
    return true;
}

/*
 * Returns the number of rows like `row` for a length. When the gauge, or the place from which the length is measured,
 * is not known, adds a finding and returns `turn`, so that the rows below are still followed. Returns -1 with a finding
 * when there can be no such rows.
 */
static int64_t rows_to_length(struct proof_run *run, const struct hk_reference *reference, const struct hk_row *row,
                              int64_t turn)
{
    const char *swatch = NULL;
    size_t stitch = NO_STITCH;
    assert(row);
    if (reference->from_unread) {
        hk_proof_report(run, HK_CODE_ROW_SYNTAX, reference->from_place, "from where this is measured is not followed",
                        "write how much is worked from here on, such as \"Work even for 20 cm\"");
        return turn;
    }
    if (!steps_stitch(run->p, row->steps, row->step_count, &stitch))
        stitch = NO_STITCH;
    double per_m = run->p->host->rows_per_m(run->p->host->context, stitch, hk_proof_entry_at(run)->tool_mm, &swatch);
    if (!(per_m > 0)) {
        hk_proof_report(run, HK_CODE_GAUGE_MISSING, hk_proof_entry_at(run)->place,
                        "no swatch gives the number of rows for it",
                        "give a swatch of this stitch with its gauge in swatches.csv, or write how many rows");
        return turn;
    }
    double rows = reference->length_m[run->size] * per_m;
    if (reference->of_division && run->division_log == 0) {
        hk_proof_refuse(run, HK_CODE_ROW_SYNTAX,
                        "from where this is measured is not clear: no row above divides the work",
                        "write how much is worked from here on, such as \"Work even for 20 cm\"");
        return -1;
    }
    if (!reference->onward)
        rows -= (double)(run->log_count - (reference->of_division ? run->division_log - 1
                                           : reference->of_part   ? run->part_log
                                                                  : 0));
    if (rows < -0.5) {
        hk_proof_refuse(run, HK_CODE_RANGE, "the rows above already exceed that length",
                        "check the length, the gauge of the swatch and the rows above");
        return -1;
    }
    hk_proof_row_of(run, run->entry)->by_gauge = true;
    return (int64_t)floor(fmin(fmax(rows, 0), (double)ROWS_MOST + 1) + 0.5);
}

/* "ending with a WS row": returns true when this number of rows ends on the other side, and one more is needed. */
static bool ends_on_other(const struct proof_run *run, const struct hk_reference *reference, int64_t rows)
{
    if (reference->end_side == HK_SIDE_OPEN || run->side == HK_SIDE_OPEN || run->round)
        return false;
    return (run->side == reference->end_side) != (rows % 2 != 0);
}

/* Returns the stitches of the edge that a row is joined to. */
static int64_t tied(const struct proof_run *run, const struct hk_row *row)
{
    int64_t count = 0;
    for (size_t i = 0; i < row->step_count; i++) {
        const struct hk_where *where = &row->steps[i].where;
        if (where->what == HK_WHAT_OTHER && where->other == HK_OTHER_BASE)
            count += hk_graded_in(where->count, run->size);
    }
    return count;
}

/* Returns the number of rows of the cycle until the whole edge is used; -1 with a finding. */
static int64_t rows_to_edge(struct proof_run *run, const struct planned_row *cycle, size_t count)
{
    int64_t left = hk_proof_base_left(run), turn = 0, rows = 0;
    for (size_t i = 0; i < count; i++)
        turn += tied(run, cycle[i].row);
    if (left < 0 || turn == 0) {
        hk_proof_refuse(run, HK_CODE_ROW_SYNTAX, "no row above ties itself to an edge",
                        "write it in the rows: \"sl st in next 2 sts of the edge, turn\"");
        return -1;
    }
    rows = left / turn * (int64_t)count;
    left %= turn;
    for (size_t i = 0; i < count && left > 0; i++, rows++)
        left -= tied(run, cycle[i].row);
    if (left == 0)
        return rows;
    left += left < 0 ? turn : 0;
    char text[120];
    snprintf(text, sizeof text, "%" PRId64 " of the stitches of the edge remain%s", left, left == 1 ? "s" : "");
    hk_proof_refuse(run, HK_CODE_WIDTH, text, "let each turn of the rows take as many as the edge has stitches for");
    return -1;
}

/* Returns the number of rows of a reference; -1 with a finding. */
static int64_t rows_total(struct proof_run *run, const struct hk_reference *reference, const struct planned_row *cycle,
                          size_t setup, size_t turn)
{
    const struct hk_entry *entry = hk_proof_entry_at(run);
    int64_t labelled = hk_entry_rows(entry, run->size), total;
    bool label = hk_proof_labelled(run);
    if (reference->length_m) {
        total = rows_to_length(run, reference, cycle[setup].row, (int64_t)(setup + turn));
        if (total < 0)
            return -1;
        total += ends_on_other(run, reference, total);
    } else if (reference->to_edge) {
        total = rows_to_edge(run, cycle + setup, turn);
        if (total < 0)
            return -1;
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

/* ---- The whole reference ---- */

/* Finds the rows by the numbers that the reference names. Returns false with a finding. */
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

/* Finds the last rows. Returns their number; 0 with a finding. */
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

/* "Work in stripe sequence for 12 rows": returns true when the rows continue, in a sequence of colours. */
static bool goes_on_in_colours(const struct proof_run *run, const struct hk_reference *reference)
{
    const char *end = hk_colours_name_at(reference->words);
    return end && !*end && hk_proof_entry_at(run)->colours > 0 && !hk_proof_pattern_known(run, reference->words);
}

/*
 * "Beg with a P row": begins the rows of a stitch pattern with the named one. Without such a row adds a finding and
 * returns false.
 */
static bool first_settle(struct proof_run *run, const struct hk_reference *reference, struct planned_row *cycle,
                         size_t setup, size_t count)
{
    if (!reference->first && reference->first_side == HK_SIDE_OPEN)
        return true;
    size_t at = 0;
    bool found = setup == 0 && (reference->first || count == 1 || count % 2 == 0);
    if (reference->first_side == HK_SIDE_WRONG && count > 1)
        at = 1; /* the rows of a stitch pattern begin on the right side */
    if (reference->first && found) {
        const struct hk_stitch *stitches = run->w->words.catalogue->stitches;
        for (found = false; !found && at < count; at += !found) {
            size_t stitch = NO_STITCH;
            const struct hk_row *row = cycle[at].row;
            found = steps_plain(run->p, row->steps, row->step_count, true, &stitch) && stitch != NO_STITCH &&
                    hk_text_same(stitches[stitch].name, reference->first);
        }
    }
    if (!found) {
        hk_proof_refuse(run, HK_CODE_ROW_SYNTAX, "with which row this stitch pattern begins is not clear",
                        "leave out \"beg with\", or write its rows");
        return false;
    }
    for (; at > 0; at--) {
        struct planned_row row = cycle[0];
        memmove(cycle, cycle + 1, (count - 1) * sizeof *cycle);
        cycle[count - 1] = row;
    }
    return true;
}

/* Sets the rows in `cycle`, of which the first `*setup` are worked once. Returns their number; 0 with a finding. */
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
        if (!goes_on_in_colours(run, reference)) {
            count = hk_proof_pattern_rows(run, reference->words, cycle, setup);
            return count > 0 && first_settle(run, reference, cycle, *setup, count) ? count : 0;
        }
        count = even_rows(run, cycle);
        break;
    case HK_REFERENCE_EVEN:
        count = even_rows(run, cycle);
        break;
    case HK_REFERENCE_EDGE:
        count = edge_rows(run, reference, cycle);
        if (count == 0)
            hk_proof_refuse(run, HK_CODE_ROW_SYNTAX, "the rows above do not show how these rows go on",
                            "write each of them: \"Next row: Bind off 3 sts, k to end\"");
        return count;
    default: /* HK_REFERENCE_WORDS */
        return hk_proof_planned_words(run, *reference->words == 'k' ? "k to end" : "p to end", run->held, &cycle[0]);
    }
    if (count == 0)
        hk_proof_refuse(run, HK_CODE_ROW_SYNTAX, "the rows above do not show which rows go on",
                        "write \"Rep row 4 for 10 rows\", or \"Work 10 rows in sc\"");
    return count;
}

/* Stores the rows that a later "work even" continues. */
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
    run->cycle_plain = false;
}

/*
 * Decides the yarn of repeated rows: their own, unless another has been named since; then that one, if all rows are in
 * one yarn. Returns false with a finding when ambiguous.
 */
static bool yarn_settle(struct proof_run *run, struct planned_row *cycle, size_t count)
{
    bool several = false;
    for (size_t i = 1; i < count; i++)
        several |= cycle[i].held != cycle[0].held;
    if (!hk_proof_entry_at(run)->yarn_named || (several && cycle[0].held == run->held))
        return true;
    if (several) {
        hk_proof_refuse(run, HK_CODE_CHOICE,
                        "the rows that are worked again are in several yarns, and another one is named",
                        "take the yarn out where they keep their own, or write the rows with their yarns");
        return false;
    }
    for (size_t i = 0; i < count; i++)
        cycle[i].held = run->held;
    return true;
}

static void cycle_work(struct proof_run *run, const struct hk_reference *reference, struct planned_row *cycle,
                       const struct hk_row *stated)
{
    size_t setup = 0, count = rows_find(run, reference, cycle, &setup);
    if (count > 0 && !yarn_settle(run, cycle, count))
        count = 0;
    int64_t total = count > 0 ? rows_total(run, reference, cycle, setup, count - setup) : -1;
    run->cycle = 0;
    if (total < 0)
        return;
    int64_t first = total < (int64_t)setup ? total : (int64_t)setup;
    if (hk_proof_work_cycle(run, cycle, setup, first, total == first ? stated : NULL) &&
        (total == first || hk_proof_work_cycle(run, cycle + setup, count - setup, total - first, stated)))
        cycle_keep(run, reference, cycle + setup, count - setup, total - first);
}

/* ---- Shaping at the same time ---- */

/* Finds the rows that are worked, each of one stitch if some of them shape. Returns their number; 0 with a finding. */
static size_t plain_find(struct proof_run *run, const struct hk_reference *reference, struct planned_row *cycle,
                         struct plain_row *plain)
{
    size_t count = 0, setup = 0;
    if (reference->kind == HK_REFERENCE_EVEN || reference->kind == HK_REFERENCE_SHAPE ||
        (reference->kind == HK_REFERENCE_PATTERN && goes_on_in_colours(run, reference)))
        return hk_proof_plain_rows(run, plain);
    count = rows_find(run, reference, cycle, &setup);
    for (size_t i = 0; i < count; i++) {
        size_t stitch = NO_STITCH;
        if (!steps_plain(run->p, cycle[i].row->steps, cycle[i].row->step_count, true, &stitch) || stitch == NO_STITCH) {
            hk_proof_refuse(run, HK_CODE_ROW_SYNTAX,
                            "how this stitch pattern continues where it is shaped is not stated",
                            "write the rows that shape with their labels; rows of one stitch each are shaped without");
            return 0;
        }
        plain[i] = hk_proof_plain_of(run, stitch);
    }
    return count;
}

static void shape_work(struct proof_run *run, const struct hk_reference *reference, struct planned_row *cycle,
                       const struct hk_row *stated)
{
    struct plain_row *plain = hk_arena_take(run->p->arena, CYCLE_MOST, sizeof *plain);
    const struct hk_reference *first = reference->kind == HK_REFERENCE_SHAPE ? reference : reference->besides;
    int64_t rows = -1;
    if (!plain) {
        hk_proof_lose(run);
        return;
    }
    size_t count = plain_find(run, reference, cycle, plain);
    if (count == 0 && !hk_proof_row_of(run, run->entry)->worked && hk_proof_row_of(run, run->entry)->there)
        return;
    if (count > 0 && (reference->rows_given || reference->length_m)) {
        struct planned_row even;
        if (!hk_proof_plain_words(run, &plain[0], NULL, &even))
            return;
        rows = rows_total(run, reference, &even, 0, 1);
        if (rows < 0)
            return;
    } else if (reference->times_given) {
        hk_proof_refuse(run, HK_CODE_ROW_SYNTAX, "the number of rows worked at the same time is not stated",
                        "write \"for 24 rows\"");
        return;
    }
    hk_proof_shape(run, first, plain, count, rows, stated);
}

static void one_work(struct proof_run *run, const struct hk_reference *reference, const struct hk_row *stated)
{
    struct planned_row *cycle = calloc(CYCLE_MOST, sizeof *cycle);
    if (!cycle)
        hk_proof_lose(run);
    else if (reference->kind == HK_REFERENCE_EVENLY)
        hk_proof_evenly(run, reference, stated);
    else if (reference->kind == HK_REFERENCE_SHAPE || reference->besides)
        shape_work(run, reference, cycle, stated);
    else
        cycle_work(run, reference, cycle, stated);
    free(cycle);
}

void hk_proof_reference_work(struct proof_run *run)
{
    const struct hk_entry *entry = hk_proof_entry_at(run);
    const struct hk_reference *reference = &entry->reference;
    const struct hk_proof_entry *parsed = &run->p->entries[run->entry];
    const struct hk_row *stated = parsed->tailed ? &parsed->tail : NULL;
    struct hk_proof_row *kept = hk_proof_row_of(run, run->entry);
    if (reference->kind == HK_REFERENCE_AS) {
        hk_proof_reference_as(run, reference);
        return;
    }
    if (reference->then && hk_proof_labelled(run)) {
        hk_proof_refuse(run, HK_CODE_ROW_SYNTAX, "the rows of this label are worked in several ways",
                        "write a line for each of them");
        return;
    }
    kept->rows = 0;
    kept->there = false;
    for (const struct hk_reference *r = reference; r && run->known && !run->p->out_of_memory; r = r->then) {
        one_work(run, r, r->then ? NULL : stated);
        if (!kept->worked && kept->there)
            break;
    }
}
