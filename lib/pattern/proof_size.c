/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A written pattern in one size: its entries in working order. */
#include "pattern/proof_run.h"

#include "text.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#define COPIES_MOST 4 /* pieces that are as one another, in turn */

/* ---- Rows ---- */

/* The edge that "[take as 84 hdc, 6 ch]" leaves, and what it works. */
static void taken_work(struct proof_run *run, int64_t rows)
{
    const struct hk_proof_entry *parsed = &run->p->entries[run->entry];
    struct hk_proof_row *kept = hk_proof_row_of(run, run->entry);
    struct hk_proof_stitches *list = hk_arena_take(run->p->arena, parsed->taken.step_count, sizeof *list);
    struct hk_proof_work work = {.stitches = list, .rows = rows, .cut_held = run->held};
    int64_t stitches = 0, most = -1;
    size_t kind = NO_STITCH;
    if (!list) {
        hk_proof_lose(run);
        return;
    }
    for (size_t i = 0; i < parsed->taken.step_count; i++) {
        const struct hk_step *step = &parsed->taken.steps[i];
        size_t stitch = step->kind == HK_STEP_STITCH ? step->stitch : run->p->chain;
        int64_t many = hk_graded_in(step->many, run->size), places = hk_graded_in(step->where.count, run->size);
        many *= step->kind == HK_STEP_STITCH && places > 1 ? places : 1; /* "84 hdc" */
        if (many <= 0)
            continue;
        hk_proof_stitches_add(list, &work.stitch_count, run->held, stitch, many);
        if (step->kind != HK_STEP_STITCH || stitch == run->p->slip)
            continue;
        stitches += many * run->w->words.catalogue->stitches[stitch].leaves;
        if (many > most) {
            most = many;
            kind = stitch;
        }
    }
    const struct hk_row *row = parsed->good ? &parsed->row : parsed->tailed ? &parsed->tail : NULL;
    int64_t said = row ? hk_proof_stated_stitches(run, row) : -1;
    work.leaves = said >= 0 ? said : stitches;
    hk_proof_work_keep(run, &work);
    if (work.leaves > (int64_t)HK_SPOTS_MOST) {
        hk_proof_say(run, HK_COUNT_TOO_LARGE, hk_proof_entry_at(run)->place,
                     "it leaves more stitches than can be followed", "is the number a slip?");
        hk_proof_not_followed(run);
        return;
    }
    if (!hk_follow_edge(run->follow, work.leaves, kind == NO_STITCH ? HK_SPOT_ANY : kind))
        hk_proof_lose(run);
    for (int64_t i = 0; i < rows; i++)
        hk_proof_turn_side(run);
    run->number += rows;
    kept->worked = true;
    kept->agrees = true;
    kept->rows = rows;
    kept->stitches = work.leaves;
    run->from_stated = false;
    run->cycle = 0;
    hk_proof_places_keep(run, kept);
}

/* Whether a label names rounds, or rows; HK_SIDE has nothing to do with it. 0: neither. */
static int label_manner(const char *label)
{
    static const char *const rounds[] = {"rnd", "rnds", "round", "rounds", "rd", "rds"}, *const rows[] = {"row", "rows",
                                                                                                          "rw"};
    for (const char *c = label; *c; c++) {
        if (c > label && hk_is_letter(c[-1]))
            continue;
        for (size_t i = 0; i < sizeof rounds / sizeof rounds[0]; i++)
            if (hk_text_starts(c, rounds[i]) && !hk_is_letter(c[strlen(rounds[i])]))
                return 1;
        for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
            if (hk_text_starts(c, rows[i]) && !hk_is_letter(c[strlen(rows[i])]))
                return -1;
    }
    return 0;
}

static void side_check(struct proof_run *run)
{
    const struct hk_entry *entry = hk_proof_entry_at(run);
    if (entry->side == HK_SIDE_OPEN || run->round)
        return;
    if (run->side == HK_SIDE_OPEN) {
        run->side = entry->side;
        /* What was worked before decides nothing: it was not said. */
        return;
    }
    if (run->side == entry->side)
        return;
    char text[160];
    snprintf(text, sizeof text, "\"%.60s\" falls on the %s side", entry->label,
             entry->side == HK_SIDE_RIGHT ? "wrong" : "right");
    hk_proof_say(run, HK_UNUSUAL, entry->place, text, "is a row too many or too few above it?");
    run->side = entry->side;
}

/* Rows that are not written but stood for, up to the number of the entry; a gap that nothing fills is a warning. */
static void gap_fill(struct proof_run *run)
{
    const struct hk_entry *entry = hk_proof_entry_at(run);
    size_t here = run->entry;
    int64_t first = hk_graded_in(entry->first, run->size);
    if (!entry->numbered)
        return;
    while (run->number > 0 && run->number + 1 < first && !run->p->lost && run->known) {
        const struct filler *filler = hk_proof_filler_for(run, run->number + 1);
        if (!filler)
            break;
        run->entry = filler->entry;
        size_t cycle = run->cycle;
        struct hk_proof_row kept = *hk_proof_row_of(run, filler->entry);
        struct planned_row planned = filler->planned;
        hk_proof_work_cycle(run, &planned, 1, 1, NULL);
        hk_proof_row_of(run, filler->entry)->rows += kept.rows;
        run->cycle = cycle;
        run->entry = here;
    }
    bool restarts = first == 1 || run->number == 0;
    if (!restarts && first != run->number + 1) {
        char text[160];
        snprintf(text, sizeof text, "\"%.60s\" comes behind row %" PRId64, entry->label, run->number);
        hk_proof_say(run, HK_UNUSUAL, entry->place, text, "is a row missing, or a number wrong?");
    }
    run->number = first - 1;
}

static void filler_keep(struct proof_run *run, const struct hk_row *row)
{
    const struct hk_entry *entry = hk_proof_entry_at(run);
    if (!entry->others && entry->list_count == 0)
        return;
    struct filler *fillers =
        hk_arena_grow(run->p->arena, run->fillers, run->filler_count, &run->filler_capacity, sizeof *fillers);
    if (!fillers) {
        hk_proof_lose(run);
        return;
    }
    run->fillers = fillers;
    fillers[run->filler_count++] =
        (struct filler){{row, run->held, true}, run->entry, hk_graded_in(entry->first, run->size), entry->others};
}

static void entry_row(struct proof_run *run, size_t depth)
{
    const struct hk_entry *entry = hk_proof_entry_at(run);
    const struct hk_proof_entry *parsed = &run->p->entries[run->entry];
    struct hk_proof_row *kept = hk_proof_row_of(run, run->entry);
    int64_t rows = hk_entry_rows(entry, run->size);
    bool limited = entry->sizes && !entry->sizes[run->size];
    if (limited || (rows == 0 && (entry->kind != HK_ENTRY_REFERENCE || entry->numbered || entry->rows_given)))
        return;
    *kept = (struct hk_proof_row){.there = true, .rows = rows, .agrees = true};
    int manner = label_manner(entry->label);
    if (manner != 0)
        run->round = manner > 0;
    if (!run->known) {
        if (!run->unknown_said && run->follow == NULL)
            hk_proof_say(run, HK_START, entry->place, "work begins nowhere",
                         "write how it begins before it: \"ch 72\", \"cast on 84 sts\", \"On an edge of 20 sts:\"");
        run->unknown_said = true;
        run->p->proof->incomplete[run->size] = true;
        if (parsed->problem.text)
            hk_proof_say(run, parsed->problem.code, parsed->problem.place, parsed->problem.text, parsed->problem.hint);
        return;
    }
    const bool fills = entry->others && !entry->numbered;
    gap_fill(run);
    if (!fills)
        side_check(run);
    if (parsed->taken_good) {
        taken_work(run, rows);
        return;
    }
    if (!parsed->good) {
        hk_proof_say(run, parsed->problem.code, parsed->problem.place, parsed->problem.text, parsed->problem.hint);
        hk_proof_go_on_from(run, parsed->tailed ? &parsed->tail : NULL);
        run->number += entry->numbered ? 0 : rows;
        for (int64_t i = 0; i < rows; i++)
            hk_proof_turn_side(run);
        return;
    }
    if (entry->kind == HK_ENTRY_REFERENCE) {
        hk_proof_reference_work(run, depth);
        return;
    }
    if (fills) { /* "All WS rows:" is worked where rows without words of their own come */
        kept->rows = 0;
        filler_keep(run, &parsed->row);
        return;
    }
    struct planned_row planned = {&parsed->row, run->held, rows > 1};
    hk_proof_work_cycle(run, &planned, 1, rows, &parsed->row);
    run->cycle = 0;
    filler_keep(run, &parsed->row);
}

/* ---- Entries and pieces ---- */

/* Whatever became of its rows, the next one follows on its number. */
static void number_take(struct proof_run *run)
{
    const struct hk_entry *entry = hk_proof_entry_at(run);
    bool row = entry->kind == HK_ENTRY_ROW || entry->kind == HK_ENTRY_REFERENCE || entry->kind == HK_ENTRY_REFUSED;
    if (row && entry->numbered && hk_entry_rows(entry, run->size) > 0)
        run->number = hk_graded_in(entry->last, run->size);
}

static void entry_work(struct proof_run *run, size_t depth)
{
    const struct hk_entry *entry = hk_proof_entry_at(run);
    run->held = entry->held;
    run->conventions.settled = entry->conventions.settled;
    run->conventions.other =
        (entry->conventions.other & entry->conventions.settled) | (run->p->other & ~entry->conventions.settled);
    switch (entry->kind) {
    case HK_ENTRY_BEGIN:
        hk_proof_begin_work(run);
        return;
    case HK_ENTRY_CUT:
        if (entry->cut_m > 0 && (!entry->sizes || entry->sizes[run->size]))
            hk_proof_work_keep(run, &(struct hk_proof_work){.cut_m = entry->cut_m, .cut_held = run->held});
        return;
    case HK_ENTRY_ROW:
    case HK_ENTRY_REFERENCE:
    case HK_ENTRY_REFUSED:
        entry_row(run, depth);
        number_take(run);
        return;
    }
}

/* "Every RS row:" where no row is without words of its own. */
static void fillers_say(struct proof_run *run)
{
    for (size_t i = 0; i < run->filler_count && run->known; i++) {
        run->entry = run->fillers[i].entry;
        const struct hk_entry *entry = hk_proof_entry_at(run);
        if (entry->numbered || hk_proof_row_of(run, run->entry)->rows > 0)
            continue;
        hk_proof_say(run, HK_ROW_SYNTAX, entry->place, "how often this row is worked is not said",
                     "write how often, such as \"Rep rows 1 and 2 4 more times\", or number the rows that it is worked between");
        run->p->proof->incomplete[run->size] = true;
    }
}

static void left_say(struct proof_run *run, size_t piece)
{
    int64_t left = run->follow && run->known ? hk_follow_left(run->follow) : 0;
    if (left == 0 || run->w->pieces[piece].count == 0)
        return;
    char text[160];
    snprintf(text, sizeof text, "\"%.60s\" leaves %" PRId64 " place%s unworked", run->w->pieces[piece].name, left,
             left == 1 ? "" : "s");
    hk_proof_remark(run->p, run->w->parts[run->w->pieces[piece].first].first, run->size, HK_ASSUMED,
                    run->w->pieces[piece].place, text, NULL);
}

static void piece_work(struct proof_run *run, size_t piece, size_t depth);

void hk_proof_reference_as(struct proof_run *run, const struct hk_reference *reference, size_t depth)
{
    size_t found = SIZE_MAX;
    for (size_t i = run->piece; i > 0 && found == SIZE_MAX; i--)
        if (hk_text_same(run->w->pieces[i - 1].name, reference->words) ||
            (hk_text_starts(run->w->pieces[i - 1].name, reference->words) &&
             run->w->pieces[i - 1].name[strlen(reference->words)] == 's'))
            found = i - 1;
    if (found == SIZE_MAX || depth >= COPIES_MOST) {
        hk_proof_refuse(run, HK_NAME_UNKNOWN, "there is no piece of that name above",
                        "name it as its heading does, or write the rows");
        return;
    }
    size_t entry = run->entry, line = run->line, piece = run->piece;
    piece_work(run, found, depth + 1);
    /* The copied rows have rows of their own in the proof; this line has what they came to. */
    run->entry = entry;
    run->line = line;
    run->piece = piece;
    struct hk_proof_row *kept = hk_proof_row_of(run, entry);
    if (run->p->lost || !run->follow)
        return;
    kept->worked = run->known;
    kept->rows = (int64_t)run->log_count;
    kept->stitches = run->known ? hk_edge_count(hk_follow_edge_now(run->follow), false) : 0;
    kept->agrees = true;
    if (run->known)
        hk_proof_places_keep(run, kept);
}

static void piece_work(struct proof_run *run, size_t piece, size_t depth)
{
    const struct hk_written_piece *of = &run->w->pieces[piece];
    bool copy = depth > 0;
    size_t line = run->line, entry = run->entry;
    if (!copy) {
        hk_follow_free(run->follow);
        run->follow = NULL;
        run->known = run->unknown_said = false;
        run->log_count = run->part_log = run->filler_count = 0;
        run->number = 0;
        run->round = false;
        run->side = HK_SIDE_OPEN;
        run->piece = piece;
    }
    for (size_t q = 0; q < of->count; q++) {
        const struct hk_written_part *part = &run->w->parts[of->first + q];
        run->part_log = run->log_count;
        for (size_t e = 0; e < part->count && !run->p->lost && !run->p->spent; e++) {
            run->entry = part->first + e;
            run->line = copy ? line : run->w->entries[run->entry].line;
            entry_work(run, depth);
        }
    }
    if (!copy)
        fillers_say(run);
    run->entry = entry;
    if (!copy)
        left_say(run, piece);
}

void hk_proof_size(struct hk_proofing *p, size_t size)
{
    struct proof_run run = {.p = p, .w = p->written, .size = size};
    for (size_t piece = 0; piece < p->written->piece_count && !p->lost && !p->spent; piece++)
        if (hk_graded_in(p->written->pieces[piece].times, size) > 0)
            piece_work(&run, piece, 0);
    hk_follow_free(run.follow);
    hk_edge_free(&run.before);
}
