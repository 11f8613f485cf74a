/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A written pattern in one size: its entries in working order. */
#include "pattern/proof_run.h"

#include "base/text.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#define COPIES_MOST 100 /* limit of pieces worked like each other, in a chain */
#define COPY_EFFORT 1000

/* ---- Rows ---- */

/* The work of "[take as 84 hdc, 6 ch]". */
struct taken {
    int64_t stitches, chains;
    size_t kind; /* the most frequent kind; HK_SPOT_ANY: none */
};

/* Stores a number of its rows in one yarn. */
static bool taken_keep(struct proof_run *run, int64_t rows, size_t held, struct taken *taken)
{
    const struct hk_row *words = &run->p->entries[run->entry].taken;
    struct hk_proof_stitches *list = hk_arena_take(run->p->arena, words->step_count, sizeof *list);
    struct hk_proof_work work = {.stitches = list, .rows = rows, .cut_held = held};
    int64_t most = 0;
    *taken = (struct taken){.kind = HK_SPOT_ANY};
    if (!list) {
        hk_proof_lose(run);
        return false;
    }
    for (size_t i = 0; i < words->step_count; i++) {
        const struct hk_step *step = &words->steps[i];
        bool chains = step->kind == HK_STEP_CHAIN;
        size_t stitch = chains ? run->p->chain : step->stitch;
        int64_t many = hk_graded_in(step->many, run->size);
        many *= chains ? 1 : hk_graded_in(step->where.count, run->size); /* "84 hdc": one in each of 84 places */
        int64_t leaves = stitch == run->p->slip ? 0 : many * run->w->words.catalogue->stitches[stitch].leaves;
        hk_proof_stitches_add(list, &work.stitch_count, held, stitch, many);
        taken->chains += chains ? many : 0;
        taken->stitches += chains ? 0 : leaves;
        if (!chains && leaves > most) {
            most = leaves;
            taken->kind = stitch;
        }
    }
    work.leaves = taken->stitches;
    work.width = taken->stitches + taken->chains;
    work.round = run->round;
    work.changed.elsewhere = true; /* its words are not read */
    hk_proof_work_keep(run, &work);
    return true;
}

/*
 * Leaves the stitches that the row states if they equal the taken stitches with some of the chains; else the taken
 * stitches.
 */
static void taken_work(struct proof_run *run, int64_t rows)
{
    const struct hk_proof_entry *parsed = &run->p->entries[run->entry];
    struct hk_proof_row *kept = hk_proof_row_of(run, run->entry);
    struct taken taken = {0};
    bool coloured = hk_proof_entry_at(run)->colours > 0;
    for (int64_t i = 0; i < (coloured ? rows : 1); i++)
        if (!hk_proof_room(run, coloured ? 1 : rows) ||
            !taken_keep(run, coloured ? 1 : rows, hk_proof_colour_next(run, run->held), &taken))
            return;
    kept->rows = rows;
    hk_proof_turn_side(run, rows);
    hk_proof_strands_drop(run);
    run->number += rows;
    run->cycle = 0;
    hk_proof_stitches_compare(run,
                              parsed->good     ? &parsed->row
                              : parsed->tailed ? &parsed->tail
                                               : NULL,
                              taken.stitches, taken.stitches + taken.chains);
    kept->stitches = kept->stated_count > 0 ? kept->stated->actual : taken.stitches;
    if (kept->stitches > (int64_t)HK_SPOTS_MOST) {
        hk_proof_report(run, HK_CODE_COUNT_TOO_LARGE, hk_proof_entry_at(run)->place,
                        "it leaves more stitches than can be followed", "is the number a slip?");
        hk_proof_not_followed(run);
        return;
    }
    kept->worked = true;
    run->from_stated = false;
    if (hk_follow_edge(run->follow, kept->stitches, taken.kind))
        hk_proof_places_keep(run, kept);
    else
        hk_proof_lose(run);
}

/* Returns true when a label contains one of the words; "3rd row" does not contain "rd". */
static bool label_names(const char *label, const char *const *words)
{
    for (const char *c = label; *c; c++) {
        bool within = c > label && (hk_is_letter(c[-1]) || hk_is_digit(c[-1]));
        for (size_t i = 0; words[i] && !within; i++)
            if (hk_text_starts(c, words[i]) && !hk_is_letter(c[strlen(words[i])]))
                return true;
    }
    return false;
}

/* Sets rounds or rows from a label that names them. */
static void manner_take(struct proof_run *run, const char *label)
{
    static const char *const rounds[] = {"rnd", "rnds", "round", "rounds", "rd", "rds", NULL};
    static const char *const rows[] = {"row", "rows", "rw", NULL};
    if (label_names(label, rounds))
        run->round = true;
    else if (label_names(label, rows))
        run->round = false;
}

static void side_check(struct proof_run *run)
{
    const struct hk_entry *entry = hk_proof_entry_at(run);
    if (entry->side == HK_SIDE_OPEN || run->round)
        return;
    /* Rows worked before a side is named do not matter. */
    if (run->side != HK_SIDE_OPEN && run->side != entry->side) {
        char text[160];
        snprintf(text, sizeof text, "\"%.60s\" falls on the %s side", *entry->label ? entry->label : entry->text.text,
                 entry->side == HK_SIDE_RIGHT ? "wrong" : "right");
        hk_proof_report(run, HK_CODE_UNUSUAL, entry->place, text, "is a row too many or too few above it?");
    }
    run->side = entry->side;
}

/* Works rows that are not written but covered by others, up to the number of the entry; warns of a gap. */
static void gap_fill(struct proof_run *run)
{
    const struct hk_entry *entry = hk_proof_entry_at(run);
    size_t here = run->entry;
    int64_t first = hk_graded_in(entry->first, run->size);
    if (!entry->numbered)
        return;
    while (run->number > 0 && run->number + 1 < first && !run->p->out_of_memory && run->known) {
        const struct filler *filler = hk_proof_filler_for(run, run->number + 1);
        if (!filler)
            break;
        run->entry = filler->entry;
        struct planned_row planned = filler->planned;
        hk_proof_work_cycle(run, &planned, 1, 1, NULL);
        run->entry = here;
    }
    const struct hk_proof_entry *parsed = &run->p->entries[run->entry];
    bool rejoins = parsed->good && hk_row_join(&parsed->row) < parsed->row.step_count && !run->round;
    bool restarts = first == 1 || run->number == 0 || rejoins; /* a second side repeats the numbers of the first */
    if (restarts)
        hk_proof_lists_end(run);
    if (run->known && !restarts && first != run->number + 1) {
        char text[160];
        snprintf(text, sizeof text, "\"%.60s\" comes after row %" PRId64, entry->label, run->number);
        hk_proof_report(run, HK_CODE_UNUSUAL, entry->place, text, "is a row missing, or a number wrong?");
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
    fillers[run->filler_count++] = (struct filler){
        {row, run->held, true}, run->entry, hk_proof_filler_first(entry, run->size), entry->others, false};
}

static void entry_row(struct proof_run *run)
{
    const struct hk_entry *entry = hk_proof_entry_at(run);
    const struct hk_proof_entry *parsed = &run->p->entries[run->entry];
    struct hk_proof_row *kept = hk_proof_row_of(run, run->entry);
    int64_t rows = hk_entry_rows(entry, run->size);
    if (rows == 0 || run->absent)
        return;
    *kept = (struct hk_proof_row){.there = true, .rows = rows, .agrees = true};
    manner_take(run, entry->label);
    if (run->known)
        gap_fill(run);
    else if (!run->unknown_reported && !run->follow) {
        hk_proof_report(run, HK_CODE_START, entry->place, "work begins nowhere",
                        "write how it begins before it: \"ch 72\", \"cast on 84 sts\", \"On an edge of 20 sts:\"");
        run->unknown_reported = true;
    }
    if (!parsed->good && !parsed->taken_good)
        hk_proof_report(run, parsed->problem.code, parsed->problem.place, parsed->problem.text, parsed->problem.hint);
    if (!run->known) {
        run->p->proof->incomplete[run->size] = true;
        return;
    }
    const bool fills = entry->others && !entry->numbered;
    if (!fills)
        side_check(run);
    if (parsed->taken_good)
        taken_work(run, rows);
    else if (!parsed->good) {
        hk_proof_go_on_from(run, parsed->tailed ? &parsed->tail : NULL);
        run->number += entry->numbered ? 0 : rows;
        hk_proof_turn_side(run, rows);
    } else if (entry->kind == HK_ENTRY_REFERENCE)
        hk_proof_reference_work(run);
    else {
        struct planned_row planned = {&parsed->row, run->held, rows > 1};
        kept->rows = 0;
        if (!fills) { /* "All WS rows:" is worked for rows without their own words */
            run->cycle = 0;
            hk_proof_work_cycle(run, &planned, 1, rows, &parsed->row);
        }
        filler_keep(run, &parsed->row);
    }
}

/* ---- Entries and pieces ---- */

/* Sets the row number for the next row, even if the entry was refused. */
static void number_take(struct proof_run *run)
{
    const struct hk_entry *entry = hk_proof_entry_at(run);
    if (entry->numbered && hk_entry_rows(entry, run->size) > 0)
        run->number = hk_graded_in(entry->last, run->size);
}

static void entry_work(struct proof_run *run)
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
        if (entry->cut_m > 0 && hk_entry_rows(entry, run->size) > 0 && !run->absent)
            hk_proof_work_keep(run, &(struct hk_proof_work){.cut_m = entry->cut_m, .cut_held = run->held});
        return;
    case HK_ENTRY_ROW:
    case HK_ENTRY_REFERENCE:
    case HK_ENTRY_REFUSED:
        entry_row(run);
        number_take(run);
        return;
    }
}

/* Reports "Every RS row:" when every row has its own words. */
static void fillers_report(struct proof_run *run)
{
    for (size_t i = 0; i < run->filler_count && run->known; i++) {
        run->entry = run->fillers[i].entry;
        const struct hk_entry *entry = hk_proof_entry_at(run);
        if (entry->numbered || hk_proof_row_of(run, run->entry)->rows > 0)
            continue;
        hk_proof_report(
            run, HK_CODE_ROW_SYNTAX, entry->place, "the number of times that this row is worked is missing",
            "write how often, such as \"Rep rows 1 and 2 4 more times\", or number the rows that it is worked between");
        run->p->proof->incomplete[run->size] = true;
    }
}

static void piece_work(struct proof_run *run, size_t piece)
{
    const struct hk_written_piece *of = &run->w->pieces[piece];
    size_t line = run->line;
    run->piece = piece;
    for (size_t q = 0; q < of->count; q++) {
        const struct hk_written_part *part = &run->w->parts[of->first + q];
        if (run->depth == 0)
            run->part = of->first + q;
        run->part_log = run->log_count;
        run->cycle = 0;
        for (size_t e = 0; e < part->count && !run->p->out_of_memory && !run->p->spent; e++) {
            run->entry = part->first + e;
            run->line = run->depth > 0 ? line : run->w->entries[run->entry].line;
            entry_work(run);
        }
    }
}

static void piece_begin(struct proof_run *run)
{
    hk_proof_shelve(run);
    hk_follow_free(run->follow);
    run->follow = NULL;
    run->known = run->unknown_reported = run->absent = false;
    run->log_count = run->filler_count = run->division_log = 0;
    run->number = 0;
    run->round = false;
    run->side = HK_SIDE_OPEN;
    run->colours = 0;
    hk_proof_strands_drop(run);
}

/* Returns true for the name of the piece; "Sleeve" matches "Sleeves". */
static bool piece_is(const struct hk_written_piece *piece, const char *name)
{
    const char *rest = piece->heading + (hk_text_starts(piece->heading, name) ? strlen(name) : 0);
    return rest > piece->heading && (!*rest || (hk_lower(*rest) == 's' && !rest[1]));
}

void hk_proof_reference_as(struct proof_run *run, const struct hk_reference *reference)
{
    const struct hk_proof_entry *parsed = &run->p->entries[run->entry];
    size_t entry = run->entry, line = run->line, piece = run->piece, found = 0, alike = 0;
    for (size_t i = 0; i < piece; i++)
        if (piece_is(&run->w->pieces[i], reference->words)) {
            found = i + 1;
            alike++;
        }
    if (alike > 1) {
        hk_proof_refuse(run, HK_CODE_NAME_DOUBLED, "several pieces above have that name",
                        "give each a name of its own in its heading");
        return;
    }
    if (found == 0) {
        hk_proof_refuse(run, HK_CODE_NAME_UNKNOWN, "there is no piece of that name above",
                        "name it as its heading does, or write the rows");
        return;
    }
    *run->p->effort -= COPY_EFFORT;
    run->p->spent |= *run->p->effort < 0;
    if (run->depth == COPIES_MOST) {
        hk_proof_refuse(run, HK_CODE_RANGE, "more than 100 pieces are made like each other in a chain",
                        "write the rows of one of them");
        return;
    }
    run->depth++;
    run->reversed ^= reference->reversing;
    piece_work(run, found - 1);
    run->reversed ^= reference->reversing;
    run->depth--;
    /* The copied rows have their own rows in the proof; this line has their result. */
    run->entry = entry;
    run->line = line;
    run->piece = piece;
    struct hk_proof_row *kept = hk_proof_row_of(run, entry);
    kept->there = !run->absent;
    kept->worked = run->known && !run->p->out_of_memory;
    kept->rows = (int64_t)run->log_count;
    if (!kept->worked)
        return;
    kept->stitches = hk_edge_count(hk_follow_edge_now(run->follow), false);
    hk_proof_stitches_compare(run, parsed->tailed ? &parsed->tail : NULL, kept->stitches, kept->stitches);
    hk_proof_places_keep(run, kept);
    if (!reference->reversing)
        return;
    char text[200];
    snprintf(text, sizeof text, "\"%.60s\" is counted as \"%.60s\": reversed, its rows have the same stitches",
             run->w->pieces[piece].name, run->w->pieces[found - 1].name);
    hk_proof_report(run, HK_CODE_ASSUMPTION, hk_proof_entry_at(run)->place, text, NULL);
}

void hk_proof_size(struct hk_proofing *p, size_t size)
{
    struct proof_run run = {.p = p, .w = p->written, .size = size};
    run.part_rows = hk_arena_take(p->arena, p->written->part_count, sizeof *run.part_rows);
    p->out_of_memory |= !run.part_rows;
    for (size_t piece = 0; piece < p->written->piece_count && !p->out_of_memory && !p->spent; piece++)
        if (hk_graded_in(p->written->pieces[piece].times, size) > 0) {
    piece_begin(&run);
            piece_work(&run, piece);
            hk_proof_lists_end(&run);
            fillers_report(&run);
        }
    if (!p->out_of_memory)
        hk_proof_shelve(&run);
    hk_proof_left_keep(&run);
    hk_proof_shelves_free(&run);
    hk_follow_free(run.follow);
    hk_follow_free(run.kept);
    hk_edge_free(&run.before);
}
