/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shaping at the ends of some rows, with rows of their stitches between them; several shapings at the same time. */
#include "pattern/proof_run.h"

#include "base/text.h"

#include <assert.h>
#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define LABEL_MOST 80

/* The shaping of a row at its start and end: 1 a stitch more, -1 a stitch fewer; or a named row. */
struct shaped {
    int left, right;
    bool named;
};

struct shaping {
    struct plain_row *plain; /* repeated, the next one first */
    size_t plain_count;
    struct shaped *rows;
    size_t count, capacity;
    const struct worked_row *named; /* "dec row"; NULL: none */
};

/* ---- Rows that shape ---- */

/*
 * Writes the words at the start or the end of a row of this stitch; "" for no change. Returns false if it has no such
 * words.
 */
static bool end_words(const struct proof_run *run, size_t stitch, int by, bool right, char *words)
{
    static const char *const knits[2][2][2] = {/* by change, purl, right end */
                                               {{"k2tog", "ssk"}, {"p2tog", "p2tog"}},
                                               {{"k1, M1", "M1, k1"}, {"p1, M1P", "M1P, p1"}}};
    const struct hk_stitch *s = &run->w->words.catalogue->stitches[stitch];
    const char *us = hk_stitch_word(s, HK_TERMS_US);
    char together[LABEL_MOST];
    words[0] = '\0';
    if (by == 0)
        return true;
    if (s->family == HK_FAMILY_TUNISIAN)
        return false;
    if (s->family == HK_FAMILY_KNIT) {
        snprintf(words, LABEL_MOST, "%s", knits[by > 0][us[0] == 'p'][right]);
        return true;
    }
    if (by > 0) {
        snprintf(words, LABEL_MOST, "2 %s in %s st", hk_proof_stitch(run->p, stitch), right ? "last" : "first");
        return true;
    }
    snprintf(together, sizeof together, "%s2tog", us);
    size_t two = hk_catalogue_stitch(run->p->words.catalogue, together);
    if (two == NO_STITCH)
        return false;
    snprintf(words, LABEL_MOST, "%s", hk_proof_stitch(run->p, two));
    return true;
}

/* Writes the words of a row that shapes at its ends. Returns false if there are none for this stitch. */
static bool shape_words(const struct proof_run *run, const struct shaped *row, size_t stitch, char *words)
{
    const struct hk_stitch *s = &run->w->words.catalogue->stitches[stitch];
    char left[LABEL_MOST], right[LABEL_MOST], to[LABEL_MOST] = "to end";
    if (!end_words(run, stitch, row->left, false, left) || !end_words(run, stitch, row->right, true, right))
        return false;
    if (row->right != 0)
        snprintf(to, sizeof to, row->right < 0 ? "to last 2 sts" : "to last st");
    snprintf(words, HK_PROOF_WORDS_MOST, "%s%s%s%s %s%s%s", left, *left ? ", " : "", hk_proof_stitch(run->p, stitch),
             s->family == HK_FAMILY_KNIT ? "" : " in each st", to, *right ? ", " : "", right);
    return true;
}

/* "Dec row" of a label and of words: "decrease rnd" is "dec rnd", "dec round" is. */
static void label_plain(const char *label, char *plain)
{
    static const char *const words[][2] = {
        {"decreasing", "dec"}, {"decrease", "dec"}, {"dec.", "dec"},  {"increasing", "inc"}, {"increase", "inc"},
        {"inc.", "inc"},       {"rounds", "rnd"},   {"round", "rnd"}, {"rnds", "rnd"},       {"rows", "row"}};
    size_t at = 0;
    while (*label && at + 1 < LABEL_MOST) {
        bool found = false;
        for (size_t i = 0; i < sizeof words / sizeof words[0] && !found; i++) {
            size_t length = strlen(words[i][0]);
            found = hk_text_starts(label, words[i][0]) && !hk_is_letter(label[length]);
            if (!found || at + 4 >= LABEL_MOST)
                continue;
            memcpy(plain + at, words[i][1], 3);
            at += 3;
            label += length;
        }
        if (!found)
            plain[at++] = hk_lower(*label++);
    }
    plain[at] = '\0';
}

/* Returns the last worked row with this label; NULL if none. */
static const struct worked_row *row_named(const struct proof_run *run, const char *name)
{
    char wanted[LABEL_MOST], label[LABEL_MOST];
    label_plain(name, wanted);
    for (size_t i = run->log_count; i > 0; i--) {
        const struct worked_row *row = &run->log[i - 1];
        label_plain(run->w->entries[row->entry].label, label);
        if (run->w->entries[row->entry].kind == HK_ENTRY_ROW && hk_word_find(label, wanted))
            return row;
    }
    return NULL;
}

/* ---- The shaping rows ---- */

static bool row_add(struct proof_run *run, struct shaping *shaping)
{
    struct shaped *grown =
        hk_arena_grow(run->p->arena, shaping->rows, shaping->count, &shaping->capacity, sizeof *shaping->rows);
    if (!grown) {
        hk_proof_lose(run);
        return false;
    }
    shaping->rows = grown;
    grown[shaping->count++] = (struct shaped){0};
    return true;
}

/* Returns the stitches that one of its rows adds. */
static int64_t change_of(const struct hk_reference *reference, const struct shaping *shaping)
{
    return reference->row ? shaping->named->change : (int64_t)reference->by * reference->ends;
}

/*
 * Returns the number of shapings of a stage, after `shaped` earlier ones; -1 with a finding when the numbers do not
 * agree.
 */
static int64_t stage_times(struct proof_run *run, const struct hk_reference *reference,
                           const struct hk_shape_stage *stage, const struct shaping *shaping, bool fixed, int64_t at,
                           int64_t shaped)
{
    int64_t times = hk_graded_in(stage->times, run->size), each = change_of(reference, shaping);
    if (stage->open && !fixed) {
        hk_proof_refuse(run, HK_CODE_ROW_SYNTAX, "it does not say how often",
                        "write \"... to 34 sts\", \"... 6 times\" or \"... 6 more times\"");
        return -1;
    }
    if (stage->open) {
        int64_t rows = (int64_t)shaping->count - at;
        int64_t every = hk_graded_in(stage->every, run->size), then = hk_graded_in(stage->then, run->size);
        if (rows <= 0)
            return 0;
        return then > 0 ? rows / (every + then) * 2 + (rows % (every + then) >= every) : rows / every;
    }
    if (!stage->to)
        return times;
    int64_t there = hk_edge_count(hk_follow_edge_now(run->follow), false) + each * shaped, more = times - there;
    if (each != 0 && more % each == 0 && more / each >= 0)
        return more / each;
    char text[160];
    snprintf(text, sizeof text, "%" PRId64 " stitches do not become %" PRId64 " by %" PRId64 " at a time", there, times,
             each < 0 ? -each : each);
    hk_proof_refuse(run, HK_CODE_COUNT_DIFFERS, text, "check both numbers");
    return -1;
}

/* Returns true when two shapings are at opposite ends of a row, by their words. */
static bool edges_apart(const char *a, const char *b)
{
    static const char *const inner[] = {"neck edge", "front edge", NULL}, *const outer[] = {"armhole edge", "side edge",
                                                                                            NULL};
    static const char *const pairs[][2] = {{"beg", "end"}, {"left edge", "right edge"}};
    if ((hk_word_of(a, inner) && hk_word_of(b, outer)) || (hk_word_of(a, outer) && hk_word_of(b, inner)))
        return true;
    for (size_t i = 0; i < 2; i++)
        if ((hk_word_at(a, pairs[i][0]) && hk_word_at(b, pairs[i][1])) ||
            (hk_word_at(a, pairs[i][1]) && hk_word_at(b, pairs[i][0])))
            return true;
    return false;
}

/* Adds the shaping to a row. Returns false with a finding when there is another one at this end. */
static bool row_shape(struct proof_run *run, struct shaped *row, const struct hk_reference *reference, bool right)
{
    assert(row);
    bool both = !reference->row && reference->ends == 2, taken = row->left != 0 || row->right != 0;
    if (row->named || (taken && (reference->row || both)) ||
        (!reference->row && !both && (right ? row->right : row->left))) {
        hk_proof_refuse(run, HK_CODE_ROW_SYNTAX, "two shapings fall on the same end of a row",
                        "write the rows in which both fall as rows of their own");
        return false;
    }
    row->named = reference->row;
    if (reference->row)
        return true;
    if (both || !right)
        row->left = reference->by;
    if (both || right)
        row->right = reference->by;
    return true;
}

static void rows_too_many(struct proof_run *run, int64_t rows)
{
    hk_proof_room(run, rows);
    hk_proof_row_of(run, run->entry)->there = true;
    hk_proof_go_on_from(run, NULL);
}

/* Plans the rows of one shaping; fixed: the number of rows is given. */
static bool rows_plan(struct proof_run *run, const struct hk_reference *reference, struct shaping *shaping, bool right,
                      bool fixed)
{
    int64_t at = 0, shaped = 0, limit = fixed ? (int64_t)shaping->count : ROWS_MOST;
    bool room = true;
    if (reference->first_next) {
        room = limit > 0;
        while (room && shaping->count < 1)
            if (!row_add(run, shaping))
                return false;
        if (room && !row_shape(run, &shaping->rows[0], reference, right))
            return false;
        at = shaped = 1;
    }
    for (size_t s = 0; s < reference->stage_count && room; s++) {
        const struct hk_shape_stage *stage = &reference->stages[s];
        int64_t times = stage_times(run, reference, stage, shaping, fixed, at, shaped);
        if (times < 0)
            return false;
        for (int64_t t = 0; t < times && room; t++) {
            bool second = t % 2 != 0 && hk_graded_in(stage->then, run->size) > 0;
            at += hk_graded_in(second ? stage->then : stage->every, run->size);
            room = at <= limit;
            while (room && (int64_t)shaping->count < at)
                if (!row_add(run, shaping))
                    return false;
            if (room && !row_shape(run, &shaping->rows[at - 1], reference, right))
                return false;
            shaped++;
        }
    }
    if (!room && !fixed)
        rows_too_many(run, ROWS_MOST + 1);
    else if (!room)
        hk_proof_refuse(run, HK_CODE_COUNT_DIFFERS,
                        hk_proof_labelled(run) ? "the shaping takes more rows than the label has"
                                               : "the shaping takes more rows than are worked at the same time",
                        "check both numbers");
    return room;
}

/* Returns false with a finding when the shapings of one sentence are ambiguous. */
static bool shapings_apart(struct proof_run *run, const struct hk_reference *first)
{
    size_t count = 0;
    const struct hk_reference *one_end = NULL;
    bool apart = true, to = false;
    for (const struct hk_reference *r = first; r; r = r->besides) {
        count++;
        for (size_t i = 0; i < r->stage_count; i++)
            to |= r->stages[i].to;
        if (r->row || r->ends == 2)
            continue;
        apart &= !one_end || edges_apart(one_end->edge, r->edge);
        one_end = r;
    }
    if (!apart)
        hk_proof_refuse(run, HK_CODE_ROW_SYNTAX, "the ends of the rows that are shaped at the same time are ambiguous",
                        "write \"at neck edge\" and \"at armhole edge\", or \"at each end\"");
    else if (to && count > 1)
        hk_proof_refuse(run, HK_CODE_ROW_SYNTAX,
                        "\"to\" this number of stitches may be meant with or without the other shaping",
                        "write how often in place of it: \"... 6 times\"");
    return apart && !(to && count > 1);
}

/* Plans all shapings: `first` and the simultaneous ones. */
static bool shapings_plan(struct proof_run *run, const struct hk_reference *first, struct shaping *shaping, bool fixed)
{
    bool right = false;
    if (!shapings_apart(run, first))
        return false;
    for (const struct hk_reference *r = first; r; r = r->besides) {
        if (r->row) {
            shaping->named = row_named(run, r->row);
            char text[LABEL_MOST + 40];
            snprintf(text, sizeof text, "no row above it is a \"%.40s\"", r->row);
            if (!shaping->named) {
                hk_proof_refuse(run, HK_CODE_NAME_UNKNOWN, text, "write it as a row with this label: \"Dec row: ...\"");
                return false;
            }
        } else if (abs(r->by) != 1) {
            hk_proof_refuse(
                run, HK_CODE_ROW_SYNTAX, "how several stitches are shaped at an end of a row is not stated",
                "write the row: \"Dec row: K1, k3tog, k to last 4 sts, k3tog, k1\", and \"Rep dec row every 4th "
                "row 5 more times\"");
            return false;
        }
        if (!rows_plan(run, r, shaping, right, fixed))
            return false;
        right |= !r->row && r->ends == 1;
        if (r->in_all)
            hk_proof_report(run, HK_CODE_ASSUMPTION, hk_proof_entry_at(run)->place,
                            "the number of rows that shape alternately is taken as the total, not for each kind", NULL);
    }
    return true;
}

/* ---- The whole shaping ---- */

static const char told_hint[] =
    "write the row that shapes with its label, and \"Rep rows ...\" or \"Work even for 3 rows\"";

/* Makes the planned rows. Returns false with a finding. */
static bool rows_make(struct proof_run *run, const struct shaping *shaping, struct planned_row *cycle,
                      struct planned_row *plain)
{
    bool flat = shaping->plain_count > 1 && !run->round;
    bool named = hk_proof_entry_at(run)->yarn_named;
    for (size_t i = 0; i < shaping->plain_count; i++)
        if (!hk_proof_plain_words(run, &shaping->plain[i], NULL, &plain[i])) {
            hk_proof_refuse(run, HK_CODE_ROW_SYNTAX, "the rows above do not show which stitches are shaped",
                            told_hint);
            return false;
        }
    for (size_t i = 0; i < shaping->count; i++) {
        const struct shaped *row = &shaping->rows[i];
        const struct plain_row *of = &shaping->plain[i % shaping->plain_count];
        char words[HK_PROOF_WORDS_MOST];
        cycle[i] = plain[i % shaping->plain_count];
        if (row->named) {
            int64_t apart = (int64_t)run->log_count + (int64_t)i - (shaping->named - run->log);
            cycle[i] = (struct planned_row){shaping->named->row, named ? run->held : shaping->named->held, true};
            if (flat && shaping->named->knit && apart % 2 != 0) {
                hk_proof_refuse(run, HK_CODE_ROW_SYNTAX,
                                "a row that shapes falls on the other side than where it is written",
                                "write an even number: \"every 4th row\"");
                return false;
            }
        } else if (row->left != 0 || row->right != 0) {
            if (!shape_words(run, row, of->stitch, words) || !hk_proof_plain_words(run, of, words, &cycle[i])) {
                hk_proof_refuse(run, HK_CODE_ROW_SYNTAX, "the rows above do not show which stitches are shaped",
                                told_hint);
                return false;
            }
        }
    }
    return true;
}

/* Sets the ends of rows that the words of the first shaping at one end mean: its rows are made to shape at their start.
 */
static void ends_name(struct proof_run *run, const struct hk_reference *first)
{
    static const char *const left[] = {"armhole edge", "side edge", "left edge", NULL}, *const right[] = {
                                                                                            "neck edge", "front edge",
                                                                                            "right edge", NULL};
    while (first && (first->row || first->ends == 2))
        first = first->besides;
    if (!first)
        return;
    bool of_row = hk_word_at(first->edge, "beg") || hk_word_at(first->edge, "end");
    run->ends.of = of_row ? HK_ENDS_OF_ROW : HK_ENDS_OF_WORK;
    run->ends.swapped = hk_word_at(first->edge, "end") || hk_word_of(first->edge, right);
    run->ends.unknown = !of_row && !run->ends.swapped && !hk_word_of(first->edge, left);
}

static void shaping_work(struct proof_run *run, struct shaping *shaping, const struct hk_reference *first,
                         const struct hk_row *stated)
{
    struct planned_row *cycle = hk_arena_take(run->p->arena, shaping->count, sizeof *cycle),
                       *plain = hk_arena_take(run->p->arena, shaping->plain_count, sizeof *plain);
    if (!cycle || !plain) {
        hk_proof_lose(run);
        return;
    }
    if (!rows_make(run, shaping, cycle, plain))
        return;
    run->cycle = 0;
    ends_name(run, first);
    if (hk_proof_work_cycle(run, cycle, shaping->count, (int64_t)shaping->count, stated))
        hk_proof_plain_keep(run, plain, shaping->plain_count, (int64_t)shaping->count);
    run->ends.of = HK_ENDS_OF_ROW;
    run->ends.swapped = run->ends.unknown = false;
}

void hk_proof_shape(struct proof_run *run, const struct hk_reference *reference, struct plain_row *plain,
                    size_t plain_count, int64_t rows, const struct hk_row *stated)
{
    struct shaping shaping = {.plain = plain, .plain_count = plain_count};
    if (plain_count == 0) {
        hk_proof_refuse(run, HK_CODE_ROW_SYNTAX, "the rows above do not show which stitches are shaped",
                        told_hint);
        return;
    }
    if (rows < 0 && hk_proof_labelled(run))
        rows = hk_entry_rows(hk_proof_entry_at(run), run->size);
    bool fixed = rows >= 0;
    if (rows > ROWS_MOST) {
        rows_too_many(run, rows);
        return;
    }
    while (fixed && (int64_t)shaping.count < rows)
        if (!row_add(run, &shaping))
            return;
    if (reference->one_row && fixed && rows != 1)
        hk_proof_refuse(run, HK_CODE_ROW_SYNTAX, "which of these rows it shapes is not stated",
                        "write \"every row\" or \"every 4th row\"");
    else if (shapings_plan(run, reference, &shaping, fixed))
        shaping_work(run, &shaping, reference, stated);
}
