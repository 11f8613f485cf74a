/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Works the rows of a written pattern one after another, each on the result of the row below. When a stretch of rows
 * leaves the edge unchanged, its repeats are multiplied.
 */
#include "pattern/proof_run.h"

#include <inttypes.h>
#include <stdio.h>

void hk_proof_not_followed(struct proof_run *run)
{
    run->p->proof->incomplete[run->size] = true;
    run->known = false;
}

int64_t hk_proof_stated_stitches(const struct proof_run *run, const struct hk_row *row)
{
    int64_t kinds = 0;
    bool any = false;
    for (size_t i = 0; i < row->stated_count; i++) {
        if (row->stated[i].of == HK_STATED_STITCHES)
            return hk_graded_in(row->stated[i].count, run->size);
        if (row->stated[i].of == HK_STATED_KIND) {
            kinds += hk_graded_in(row->stated[i].count, run->size);
            any = true;
        }
    }
    return any ? kinds : -1;
}

void hk_proof_go_on_from(struct proof_run *run, const struct hk_row *stated)
{
    int64_t stitches = stated ? hk_proof_stated_stitches(run, stated) : -1;
    run->cycle = 0;
    if (stitches < 0 || stitches > (int64_t)HK_SPOTS_MOST) {
        hk_proof_not_followed(run);
        return;
    }
    run->p->proof->incomplete[run->size] = true;
    run->from_stated = true;
    hk_proof_strands_drop(run);
    if (!hk_follow_edge(run->follow, stitches, HK_SPOT_ANY))
        hk_proof_lose(run);
}

void hk_proof_refuse(struct proof_run *run, enum hk_code code, const char *text, const char *hint)
{
    const struct hk_proof_entry *parsed = &run->p->entries[run->entry];
    hk_proof_report(run, code, hk_proof_entry_at(run)->place, text, hint);
    struct hk_proof_row *kept = hk_proof_row_of(run, run->entry);
    kept->there = true;
    kept->worked = false;
    hk_proof_go_on_from(run, parsed->tailed ? &parsed->tail : NULL);
}

void hk_proof_turn_side(struct proof_run *run, int64_t rows)
{
    if (rows % 2 != 0 && !run->round && run->side != HK_SIDE_OPEN)
        run->side = run->side == HK_SIDE_RIGHT ? HK_SIDE_WRONG : HK_SIDE_RIGHT;
}

/* Returns the chains of spaces, if they count as stitches. */
static int64_t spaces_now(const struct proof_run *run)
{
    const struct hk_edge *edge = hk_follow_edge_now(run->follow);
    bool counted = run->conventions.other & (1u << HK_CONVENTION_SPACES);
    return counted ? hk_edge_count(edge, true) - hk_edge_count(edge, false) : 0;
}

static void log_add(struct proof_run *run, struct worked_row row)
{
    struct worked_row *log = hk_arena_grow(run->p->arena, run->log, run->log_count, &run->log_capacity, sizeof *log);
    if (!log) {
        hk_proof_lose(run);
        return;
    }
    run->log = log;
    log[run->log_count++] = row;
    run->number = row.number;
}

static void trouble_report(struct proof_run *run, const struct hk_row *row, const struct hk_trouble *trouble)
{
    const struct hk_entry *entry = hk_proof_entry_at(run);
    bool written_row = row->text == &entry->text;
    const char *text = trouble->text, *hint = *trouble->hint ? trouble->hint : NULL;
    if (trouble->spent) {
        run->p->spent = true;
        return;
    }
    bool places = trouble->code == HK_CODE_WIDTH || trouble->code == HK_CODE_ROW_PLACE;
    const char *sum = written_row && places ? hk_proof_sum(run, row, false) : NULL;
    if (sum)
        text = hk_arena_print(run->p->arena, "%s: %s", trouble->text, sum);
    if (!written_row)
        text = hk_arena_print(run->p->arena, "%s, where it works \"%s\"", trouble->text, row->text->text);
    if (text)
        hk_proof_report(run, trouble->code, written_row ? hk_row_text_place(row->text, trouble->at) : entry->place,
                        text, hint);
    else
        hk_proof_lose(run);
}

/*
 * Counts the rows of the part and marks its last row as present. If all stitches are bound off, a row has no row end.
 */
static void row_count(struct proof_run *run, int64_t rows)
{
    struct part_rows *part = &run->part_rows[run->part];
    bool off = hk_edge_count(hk_follow_edge_now(run->follow), true) == 0;
    part->flat += run->round || off ? 0 : rows;
    part->rounds += run->round ? rows : 0;
    part->copies = hk_proof_copies(run);
    part->beside |= run->beside;
    run->edge_part = run->part;
    run->rows_since += rows;
    run->joins = run->founded = false;
}

/* Returns true for a rib that is joined to the edge as it grows: it starts on its own chains, and the edge stays. */
static bool works_into_base(const struct hk_row *row)
{
    for (size_t i = 0; i < row->step_count; i++)
        if (row->steps[i].where.what == HK_WHAT_OTHER && row->steps[i].where.other == HK_OTHER_BASE)
            return true;
    return false;
}

/* Sets the places besides the edge that the row may use. */
static bool others_set(struct proof_run *run, const struct hk_row *row, const struct hk_row *compared)
{
    bool begins = run->joins && !row->others && hk_row_join(row) == row->step_count;
    if (begins) {
        hk_proof_report(run, HK_CODE_START, hk_proof_entry_at(run)->place,
                        "how many stitches this is worked on is not known",
                        "name what it is worked into, such as each row end of back, or write \"On an edge of 40 sts:\" "
                        "before it");
        run->unknown_reported = true;
        return false;
    }
    if (run->rows_since > 0 && !row->others && row->repeats && !run->pending.on && hk_row_join(row) == row->step_count &&
        hk_follow_edge_now(run->follow)->count == 0) {
        hk_proof_report(run, HK_CODE_START, hk_proof_entry_at(run)->place, "no stitches are left to work this row on",
                        "write on which it is worked: \"Rejoin yarn to rem sts\", \"Work on the 20 held sts\"");
        return false;
    }
    if (row->only_others && !run->pending.on)
        hk_proof_shelve(run);
    else if (works_into_base(row))
        hk_proof_base_shelve(run);
    return hk_proof_left_find(run, compared) && hk_proof_others_begin(run, row);
}

bool hk_proof_work_row(struct proof_run *run, struct planned_row planned, const struct hk_row *stated,
                       struct hk_proof_work *work)
{
    struct hk_followed followed;
    struct hk_row row = *planned.row;
    const struct hk_manner manner = {.round = run->round};
    row.stated = stated ? stated->stated : NULL;
    row.stated_count = stated ? stated->stated_count : 0;
    if (stated != planned.row)
        row.other = NULL;
    if (!others_set(run, planned.row, &row))
        return false;
    int64_t width = hk_edge_width(hk_follow_edge_now(run->follow));
    int64_t count = hk_edge_count(hk_follow_edge_now(run->follow), false);
    hk_follow_part(run->follow, run->edge_part);
    bool begins = run->rows_since == 0, founds = begins && run->founded;
    if (!hk_follow_row(run->follow, &row, manner, &followed)) {
        hk_proof_lose(run);
        return false;
    }
    hk_proof_others_end(run);
    if (!followed.good) {
        trouble_report(run, planned.row, &followed.trouble);
        return false;
    }
    bool knit;
    const struct hk_edge *edge = hk_follow_edge_now(run->follow);
    size_t stitch = hk_proof_only_stitch(run, &followed, &knit);
    for (size_t i = 0; i < edge->count && stitch != NO_STITCH; i++) /* a row with spaces is not of a single stitch */
        stitch = edge->spots[i].kind == HK_SPOT_SPACE ? NO_STITCH : stitch;
    if (!hk_proof_work_make(run, &followed, planned.held, work))
        return false;
    work->begins = begins;
    work->joined = hk_row_join(planned.row) < planned.row->step_count;
    log_add(run, (struct worked_row){.row = planned.row,
                                     .number = run->number + 1,
                                     .entry = run->entry,
                                     .held = planned.held,
                                     .stitch = stitch,
                                     .preserved = followed.width == width,
                                     .knit = knit,
                                     .lead = hk_proof_lead(run, &followed),
                                     .change = followed.count - count});
    struct hk_proof_row *kept = hk_proof_row_of(run, run->entry);
    kept->worked = true;
    kept->stitches = followed.count + spaces_now(run);
    kept->left += followed.left;
    kept->choices |= followed.choices;
    hk_proof_row_shelve(run, &followed);
    if (founds)
        hk_proof_foundation_shelve(run, followed.used);
    row_count(run, 1);
    hk_proof_on_hold_keep(run, &followed, kept);
    kept->side = run->round ? HK_SIDE_RIGHT : run->side;
    if (stated)
        hk_proof_stated_keep(run, followed.readings & HK_READING_OTHER ? planned.row->other : stated, &followed, kept);
    if (stated && !kept->agrees)
        kept->sum = hk_proof_sum(run, planned.row, true);
    hk_proof_turn_side(run, 1);
    return true;
}

/* Adds `times` more of the last `count` rows of the log and their works. */
static void multiply(struct proof_run *run, const struct hk_proof_work *works, size_t count, int64_t times)
{
    for (int64_t t = 0; t < times; t++)
        for (size_t i = 0; i < count; i++) {
            hk_proof_work_keep(run, &works[i]);
            struct worked_row row = run->log[run->log_count - count];
            row.number = run->number + 1;
            row.entry = run->entry;
            log_add(run, row);
            hk_proof_turn_side(run, 1);
        }
    row_count(run, times * (int64_t)count); /* the edge is unchanged */
}

bool hk_proof_room(struct proof_run *run, int64_t rows)
{
    if ((int64_t)run->log_count + rows <= ROWS_MOST) {
        *run->p->effort -= rows;
        run->p->spent |= *run->p->effort < 0;
        return !run->p->spent;
    }
    char text[80];
    snprintf(text, sizeof text, "the piece has more than %" PRId64 " rows", ROWS_MOST);
    hk_proof_report(run, HK_CODE_COUNT_TOO_LARGE, hk_proof_entry_at(run)->place, text, "is a number a slip?");
    return false;
}

bool hk_proof_work_cycle(struct proof_run *run, struct planned_row *cycle, size_t count, int64_t total,
                         const struct hk_row *stated)
{
    struct hk_proof_row *kept = hk_proof_row_of(run, run->entry);
    bool good = hk_proof_room(run, total), comparable = false, steady = true;
    cycle = good ? hk_proof_coloured(run, cycle, &count, total) : cycle;
    if (!cycle)
        return false;
    struct hk_proof_work *works = hk_arena_take(run->p->arena, count, sizeof *works);
    kept->from_stated |= run->from_stated;
    run->p->out_of_memory |= !works;
    good &= works != NULL;
    for (int64_t i = 0; i < total && good && !run->p->out_of_memory; i++) {
        size_t at = (size_t)(i % (int64_t)count);
        if (at == 0) {
            int64_t spare = (total - i - 1) / (int64_t)count;
            if (comparable && steady && spare > 0 && hk_proof_strands_same(run) &&
                hk_edge_same(&run->before, hk_follow_edge_now(run->follow))) {
                multiply(run, works, count, spare);
                i += spare * (int64_t)count;
            }
            comparable = total - i > (int64_t)count;
            if (comparable && !hk_edge_copy(&run->before, hk_follow_edge_now(run->follow)))
                hk_proof_lose(run);
            hk_proof_strands_mark(run);
            steady = true;
        }
        int64_t left = kept->left;
        if (cycle[at].again && !(cycle[at].row = hk_proof_row_again(run, cycle[at].row)))
            break;
        good = hk_proof_work_row(run, cycle[at], i + 1 == total ? stated : NULL, &works[at]);
        steady &= kept->left == left && !cycle[at].row->others;
        if (good)
            hk_proof_work_keep(run, &works[at]);
    }
    kept->rows += total;
    kept->there |= total > 0;
    if (!good) {
        kept->worked = false;
        hk_proof_go_on_from(run, stated);
        return false;
    }
    if (total > 0) {
        run->from_stated = false;
        hk_proof_places_keep(run, kept);
    }
    return true;
}
