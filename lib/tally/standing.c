/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tally/standing.h"

#include "base/diags.h"

#include <inttypes.h>
#include <string.h>

#define SUM_MOST ((int64_t)1000000000000000) /* above all possible counts; sums saturate here */

static int64_t product(int64_t a, int64_t b)
{
    return a > 0 && b > SUM_MOST / a ? SUM_MOST : a * b;
}

static int64_t sum(int64_t a, int64_t b)
{
    return a > SUM_MOST - b ? SUM_MOST : a + b;
}

/* The stitches of one line that cells `on` take. */
struct entry {
    int64_t taken; /* stitches taken by number, from all copies together */
    int64_t whole; /* how often a whole copy is taken */
    size_t rests;  /* the number of parts that take the rest */
    bool continued;
    size_t taker; /* the last line whose cell `on` names it; SIZE_MAX: none */
};

struct hk_ledger {
    const struct hk_project *project;
    struct hk_arena *arena;
    size_t size;
    struct entry *entries;
    size_t *source;   /* for each line: itself, or the line before it that the size has; SIZE_MAX: none */
    int64_t *untaken; /* [line * sizes + size]; -1: no cell names it */
};

struct hk_ledger *hk_ledger_new(const struct hk_project *project, struct hk_arena *arena)
{
    struct hk_ledger *ledger = hk_arena_take(arena, 1, sizeof *ledger);
    size_t lines = project->line_count, all = lines * project->size_count;
    if (!ledger)
        return NULL;
    *ledger = (struct hk_ledger){.project = project,
                                 .arena = arena,
                                 .entries = hk_arena_take(arena, lines, sizeof *ledger->entries),
                                 .source = hk_arena_take(arena, lines, sizeof *ledger->source),
                                 .untaken = hk_arena_take(arena, all, sizeof *ledger->untaken)};
    for (size_t i = 0; ledger->untaken && i < all; i++)
        ledger->untaken[i] = -1;
    return arena->out_of_memory ? NULL : ledger;
}

/* Returns the count of a cell that is given. */
static int64_t graded_count(const struct hk_graded *graded, size_t size)
{
    return graded->by_size[size].count;
}

static int64_t times_of(const struct hk_line *line, size_t size)
{
    return line->times.given ? line->times.by_size[size].count : 1;
}

/* Returns the line that the source means in this size; SIZE_MAX if the size does not have it. */
static size_t source_of(const struct hk_ledger *ledger, const struct hk_on_source *of)
{
    bool without = !of->whole && hk_line_without(&ledger->project->lines[of->line], ledger->size);
    return without ? SIZE_MAX : ledger->source[of->line];
}

/* Enters the stitches that a part of `line`, in all its copies, takes from its source. */
static void part_enter(struct hk_ledger *ledger, size_t line, const struct hk_on_part *part)
{
    const struct hk_line *of = &ledger->project->lines[line];
    int64_t times = product(part->times, times_of(of, ledger->size));
    size_t source = part->kind == HK_ON_STITCHES || part->kind == HK_ON_REST ? source_of(ledger, &part->of) : SIZE_MAX;
    if (source == SIZE_MAX)
        return;
    struct entry *entry = &ledger->entries[source];
    entry->taker = entry->taker == SIZE_MAX || line > entry->taker ? line : entry->taker;
    if (part->kind == HK_ON_REST)
        entry->rests++;
    else if (part->count.given)
        entry->taken = sum(entry->taken, product(times, graded_count(&part->count, ledger->size)));
    else
        entry->whole =
            sum(entry->whole,
                product(times, part->of.copies ? times_of(&ledger->project->lines[source], ledger->size) : 1));
}

void hk_ledger_open(struct hk_ledger *ledger, size_t size)
{
    const struct hk_project *project = ledger->project;
    ledger->size = size;
    for (size_t line = 0; line < project->line_count; line++) {
        const struct hk_line *of = &project->lines[line];
        ledger->entries[line] = (struct entry){.taker = SIZE_MAX};
        ledger->source[line] = !hk_line_without(of, size) ? line : of->first ? SIZE_MAX : ledger->source[of->before];
    }
    for (size_t line = 0; line < project->line_count; line++) {
        const struct hk_line *of = &project->lines[line];
        size_t before = of->first || of->start != HK_START_CONTINUE ? SIZE_MAX : ledger->source[of->before];
        if (hk_line_without(of, size))
            continue;
        if (before != SIZE_MAX) {
            ledger->entries[before].whole = sum(ledger->entries[before].whole, times_of(of, size));
            ledger->entries[before].continued = true;
        }
        for (size_t i = 0; i < of->on.count; i++)
            part_enter(ledger, line, &of->on.parts[i]);
    }
}

static int64_t leaves_all(const struct hk_left *left)
{
    return product(left->stitches, left->times);
}

static int64_t taken_all(const struct entry *entry, const struct hk_left *left)
{
    return sum(entry->taken, product(entry->whole, left->stitches));
}

/* ---- One line ------------------------------------------------------------------------------------------------ */

struct standing_on {
    const struct hk_ledger *ledger;
    size_t line;
    struct hk_standing *standing;
    struct hk_diags *diags;
};

static const struct hk_line *line_of(const struct standing_on *on)
{
    return &on->ledger->project->lines[on->line];
}

static const char *title_in(const struct standing_on *on)
{
    const char *title = hk_line_title_in(on->ledger->project, on->line, on->ledger->size, on->ledger->arena);
    return title ? title : "";
}

/* Returns the title without a size, for errors that are the same in every size and reported once. */
static const char *title_of(const struct standing_on *on)
{
    const char *title = hk_line_title(line_of(on), on->ledger->arena);
    return title ? title : "";
}

static bool not_worked(const struct standing_on *on, const struct hk_on_source *of)
{
    hk_diags_add(on->diags, HK_CODE_START, of->at, "%s: nothing of \"%s\" is worked to stand on", title_in(on),
                 of->name);
    hk_diags_hint(on->diags, "write 0 of %s for a size that does without", of->name);
    return false;
}

/* Computes the stitches of a line that other parts leave, divided by the copies and times of this part. */
static bool rest_of(const struct standing_on *on, const struct hk_on_part *part, const struct hk_left *left,
                    int64_t *count)
{
    const struct entry *entry = &on->ledger->entries[left->line];
    int64_t rest = leaves_all(left) - taken_all(entry, left);
    int64_t times = product(part->times, times_of(line_of(on), on->ledger->size));
    *count = 0;
    if (rest < 0) /* reported for all takers together */
        return false;
    if (entry->rests > 1) {
        hk_diags_add(on->diags, HK_CODE_TAKEN, part->of.at, "%s: the rest of \"%s\" is taken twice", title_of(on),
                     part->of.name);
        hk_diags_hint(on->diags, "write for one of them how many stitches it takes");
        return false;
    }
    if (rest == 0 || rest % times != 0) {
        hk_diags_add(on->diags, HK_CODE_TAKEN, part->of.at,
                     rest == 0 ? "%s: %" PRId64 " stitches are left of \"%s\""
                               : "%s: %" PRId64 " stitches are left of \"%s\", no multiple of %" PRId64,
                     title_in(on), rest, part->of.name, times);
        hk_diags_hint(on->diags, "take fewer elsewhere, or write how many stitches it takes");
        return false;
    }
    *count = rest / times;
    return true;
}

/* Returns the number of stitches for `rows` rows at `picks` stitches per `per` rows, rounded half up. */
static int64_t picked(int64_t rows, int64_t picks, int64_t per)
{
    if (per == 0 || picks > SUM_MOST / 2 / (rows + 1))
        return per == 0 ? 0 : SUM_MOST;
    return (2 * rows * picks + per) / (2 * per);
}

static bool goes_round(const struct standing_on *on, size_t line)
{
    const struct hk_fabric *fabric = on->ledger->project->lines[line].fabric;
    return fabric && hk_fabric_way(fabric) == HK_WAY_ROUNDS;
}

static bool no_row_ends(const struct standing_on *on, const struct hk_on_source *of)
{
    hk_diags_add(on->diags, HK_CODE_START, of->at, "%s: \"%s\" is worked in rounds and has no row ends", title_of(on),
                 of->name);
    hk_diags_hint(on->diags, "write \"stitches of %s\", or the stitches as a number", of->name);
    return false;
}

/* Computes the stitches of a part, once. */
static bool part_count(const struct standing_on *on, size_t i, const struct hk_left *all)
{
    const struct hk_on_part *part = &line_of(on)->on.parts[i];
    size_t size = on->ledger->size;
    int64_t *count = &on->standing->parts[i];
    if (part->kind == HK_ON_CHAINS ||
        (part->kind == HK_ON_STITCHES && part->count.given && graded_count(&part->count, size) == 0)) {
        *count = graded_count(&part->count, size);
        return true;
    }
    if (source_of(on->ledger, &part->of) == SIZE_MAX)
        return not_worked(on, &part->of);
    const struct hk_left *left = &all[part->of.line];
    if (left->state != HK_LEFT_WORKED)
        return false;
    int64_t copies = part->of.copies ? left->times : 1;
    if (part->kind == HK_ON_REST)
        return rest_of(on, part, left, count);
    if (part->kind == HK_ON_STITCHES) {
        *count = part->count.given ? graded_count(&part->count, size) : product(left->stitches, copies);
        return true;
    }
    if (part->kind == HK_ON_ROWS) {
        if (goes_round(on, left->line))
            return no_row_ends(on, &part->of);
        on->standing->rows[i] = part->of.whole ? left->rows_through : left->rows;
        *count = product(
            copies, picked(on->standing->rows[i], graded_count(&part->count, size), graded_count(&part->rows, size)));
        return true;
    }
    *count = product(copies, left->foundation);
    if (*count > 0)
        return true;
    hk_diags_add(on->diags, HK_CODE_START, part->of.at, "%s: \"%s\" has no foundation", title_of(on), part->of.name);
    hk_diags_hint(on->diags, "write the stitches as a number");
    return false;
}

bool hk_stand(const struct hk_ledger *ledger, size_t line, const struct hk_left *left, struct hk_standing *standing,
              struct hk_diags *diags)
{
    const struct hk_on *of = &ledger->project->lines[line].on;
    struct standing_on on = {ledger, line, standing, diags};
    *standing =
        (struct hk_standing){.parts = hk_arena_take(ledger->arena, of->count, sizeof *standing->parts),
                             .rows = hk_arena_take(ledger->arena, of->count, sizeof *standing->rows),
                             .made = {hk_arena_take(ledger->arena, of->count, sizeof *standing->made.kinds), 0}};
    if (!standing->parts || !standing->rows || !standing->made.kinds)
        return false;
    bool good = true;
    for (size_t i = 0; i < of->count; i++) {
        const struct hk_on_part *part = &of->parts[i];
        good &= part_count(&on, i, left);
        int64_t count = product(part->times, standing->parts[i]);
        standing->stitches = sum(standing->stitches, count);
        if (part->kind == HK_ON_CHAINS && count > 0)
            standing->made.kinds[standing->made.count++] = (struct hk_kind){part->stitch, (double)count};
    }
    standing->fitted = standing->stitches;
    return good;
}

/* ---- Messages ------------------------------------------------------------------------------------------------ */

/*
 * Returns `before` followed by a part with its number, or its numbers in graded notation; `rows` likewise, for row ends
 * only.
 */
static const char *part_text(const struct hk_project *project, const struct hk_on_part *part, const char *number,
                             const char *rows, const char *before, struct hk_arena *arena)
{
    const char *name = part->of.name, *all = part->of.copies ? "all " : "";
    const char *text = "";
    const char *times = part->times > 1 ? hk_arena_print(arena, "%" PRId64 " x ", part->times) : "";
    switch (part->kind) {
    case HK_ON_STITCHES:
    case HK_ON_REST:
        text = hk_arena_print(arena, "%s of %s%s", number, all, name);
        break;
    case HK_ON_ROWS:
        text = hk_arena_print(arena, "%s for %s rows of %s%s", number, rows, all, name);
        break;
    case HK_ON_FOUNDATION:
        text = hk_arena_print(arena, "%s of the foundation of %s%s", number, all, name);
        break;
    case HK_ON_CHAINS:
        text = hk_arena_print(arena, "%s %s", number,
                              hk_stitch_word(&project->catalogue->stitches[part->stitch], project->terms));
        break;
    }
    text = text && times ? hk_arena_print(arena, "%s%s%s%s", before, *before ? " + " : "", times, text) : NULL;
    return text ? text : "";
}

const char *hk_standing_text(const struct hk_project *project, size_t line, const struct hk_standing *standing,
                             struct hk_arena *arena)
{
    const struct hk_on *on = &project->lines[line].on;
    const char *text = "";
    for (size_t i = 0; i < on->count; i++) {
        const char *number = hk_arena_print(arena, "%" PRId64, standing->parts[i]);
        const char *rows = hk_arena_print(arena, "%" PRId64, standing->rows[i]);
        if (standing->parts[i] > 0 && number && rows)
            text = part_text(project, &on->parts[i], number, rows, text, arena);
    }
    return text;
}

enum shown { SUM, FITTED, PART, ROWS };

static const char *graded_text(const struct hk_project *project, const struct hk_standing *by_size, enum shown shown,
                               size_t part, struct hk_arena *arena)
{
    const char **texts = hk_arena_take(arena, project->size_count, sizeof *texts);
    for (size_t size = 0; texts && size < project->size_count; size++) {
        const struct hk_standing *standing = &by_size[size];
        int64_t number = !standing->parts  ? 0
                         : shown == SUM    ? standing->stitches
                         : shown == FITTED ? standing->fitted
                         : shown == PART   ? standing->parts[part]
                                           : standing->rows[part];
        texts[size] = number > 0 ? hk_arena_print(arena, "%" PRId64, number) : "-";
    }
    return texts ? hk_graded_write(texts, project->size_count, arena) : "";
}

void hk_standing_report(const struct hk_project *project, size_t line, const struct hk_standing *by_size,
                        struct hk_diags *diags)
{
    struct hk_arena scratch = {0}, *arena = &scratch;
    const struct hk_line *of = &project->lines[line];
    const char *text = "", *title = hk_line_title(of, arena), *fitted = "", *whole = "";
    bool fits = true, rounded = false;
    for (size_t size = 0; size < project->size_count; size++)
        fits &= by_size[size].fitted == by_size[size].stitches;
    for (size_t i = 0; i < of->on.count; i++) {
        const struct hk_on_part *part = &of->on.parts[i];
        const char *number = graded_text(project, by_size, PART, i, arena),
                   *rows = graded_text(project, by_size, ROWS, i, arena);
        text = part_text(project, part, number, rows, text, arena);
        for (size_t size = 0; part->kind == HK_ON_ROWS && size < project->size_count; size++)
            rounded |= by_size[size].parts && graded_count(&part->rows, size) > 1;
    }
    if (rounded)
        whole = ", to the nearest whole stitch, halves up";
    if (!fits)
        fitted = hk_arena_print(arena, ", and the nearest that fits \"%s\" is %s", of->fabric->name,
                                graded_text(project, by_size, FITTED, 0, arena));
    hk_diags_add(diags, HK_CODE_STANDS, hk_cell_place(of->on.cell, 0), "%s stands on %s stitches: %s%s%s",
                 title ? title : "", graded_text(project, by_size, SUM, 0, arena), text, whole, fitted ? fitted : "");
    diags->out_of_memory |= scratch.out_of_memory;
    hk_arena_free(&scratch);
}

#define TAKERS_MOST 8 /* named in one message */

/*
 * Returns the text for a part that takes stitches of the line, or for a line that continues on it if `part` is NULL; ""
 * if it takes none.
 */
static const char *taker_text(const struct hk_ledger *ledger, size_t line, const struct hk_on_part *part,
                              const struct hk_left *left)
{
    const struct hk_line *of = &ledger->project->lines[line];
    int64_t times = product(times_of(of, ledger->size), part ? part->times : 1);
    int64_t count = part && part->count.given ? graded_count(&part->count, ledger->size)
                    : part && part->of.copies ? product(left->stitches, left->times)
                                              : left->stitches;
    const char *many = times > 1 ? hk_arena_print(ledger->arena, "%" PRId64 " x ", times) : "",
               *title = hk_line_title(of, ledger->arena);
    const char *text =
        many && title && count > 0 ? hk_arena_print(ledger->arena, "%s%" PRId64 " for %s", many, count, title) : "";
    return text ? text : "";
}

/* Returns all takers of the line: `2 x 66 for "sleeve" + 192 for "body"`. */
static const char *takers_text(const struct hk_ledger *ledger, size_t source, const struct hk_left *left)
{
    const struct hk_project *project = ledger->project;
    const char *text = "";
    size_t named = 0;
    for (size_t line = 0; line < project->line_count && text; line++) {
        const struct hk_line *of = &project->lines[line];
        size_t before = of->first || of->start != HK_START_CONTINUE ? SIZE_MAX : ledger->source[of->before];
        if (hk_line_without(of, ledger->size))
            continue;
        for (size_t i = 0; i <= of->on.count && text; i++) {
            const struct hk_on_part *part = i < of->on.count ? &of->on.parts[i] : NULL;
            bool takes =
                part ? part->kind == HK_ON_STITCHES && source_of(ledger, &part->of) == source : before == source;
            if (!takes || (part && part->count.given && graded_count(&part->count, ledger->size) == 0) ||
                named++ >= TAKERS_MOST)
                continue;
            text =
                hk_arena_print(ledger->arena, "%s%s%s", text, *text ? " + " : "", taker_text(ledger, line, part, left));
        }
    }
    if (text && named > TAKERS_MOST)
        text = hk_arena_print(ledger->arena, "%s and %zu more", text, named - TAKERS_MOST);
    return text ? text : "";
}

static void too_many_report(const struct hk_ledger *ledger, size_t source, const struct hk_left *left,
                            struct hk_diags *diags)
{
    const struct hk_project *project = ledger->project;
    const struct entry *entry = &ledger->entries[source];
    const char *title = hk_line_title_in(project, source, ledger->size, ledger->arena);
    const char *copies = left->times > 1 ? hk_arena_print(ledger->arena, "%" PRId64 " x ", left->times) : "";
    int64_t all = taken_all(entry, left);
    const char *taken = all < SUM_MOST ? hk_arena_print(ledger->arena, "%" PRId64, all) : "at least 10^15";
    hk_diags_add(diags, HK_CODE_TAKEN, hk_cell_place(project->lines[entry->taker].on.cell, 0),
                 "%s leaves %s%" PRId64 " stitches, and %s are %s", title ? title : "", copies ? copies : "",
                 left->stitches, takers_text(ledger, source, left), taken ? taken : "");
    hk_diags_hint(diags, entry->continued ? "fill the cell \"on\" of the line that continues: else it takes all"
                                          : "take fewer, or the rest with one of them");
}

void hk_ledger_close(struct hk_ledger *ledger, const struct hk_left *left, struct hk_diags *diags)
{
    const struct hk_project *project = ledger->project;
    for (size_t line = 0; line < project->line_count; line++) {
        const struct entry *entry = &ledger->entries[line];
        const struct hk_left *of = &left[line];
        if (entry->taker == SIZE_MAX || of->state != HK_LEFT_WORKED)
            continue;
        int64_t over = leaves_all(of) - taken_all(entry, of);
        if (over < 0)
            too_many_report(ledger, line, of, diags);
        ledger->untaken[line * project->size_count + ledger->size] = over < 0 || entry->rests > 0 ? 0 : over;
    }
}

void hk_ledger_report(const struct hk_ledger *ledger, struct hk_diags *diags)
{
    const struct hk_project *project = ledger->project;
    size_t sizes = project->size_count;
    const char **texts = hk_arena_take(ledger->arena, sizes, sizeof *texts);
    for (size_t line = 0; texts && line < project->line_count; line++) {
        const int64_t *untaken = &ledger->untaken[line * sizes];
        bool any = false;
        for (size_t size = 0; size < sizes; size++) {
            any |= untaken[size] > 0;
            texts[size] = untaken[size] > 0   ? hk_arena_print(ledger->arena, "%" PRId64, untaken[size])
                          : untaken[size] < 0 ? "-"
                                              : "0";
        }
        const char *title = any ? hk_line_title(&project->lines[line], ledger->arena) : NULL;
        if (title)
            hk_diags_add(diags, HK_CODE_UNTAKEN, hk_line_place(&project->lines[line]),
                         "no part takes %s of the stitches that %s leaves",
                         hk_graded_write(texts, sizes, ledger->arena), title);
    }
}
