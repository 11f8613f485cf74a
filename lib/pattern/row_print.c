/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Prints a row in a canonical form that parses as the same tree: steps separated by commas, numbers in digits, places
 * by name, repeats in square brackets, groups in one place in round brackets, stated counts in brackets at the end.
 */
#include "pattern/row.h"

#include "input/quantity.h"
#include "pattern/row_parser.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#define CUT_DIGITS 17

struct printer {
    const struct hk_row *row;
    const struct hk_row_words *words;
    struct hk_arena *arena;
    char *text;
    size_t count, capacity;
    bool bare; /* at the end of a row whose last number is ambiguous: no word follows */
};

/* ---- Text ---- */

static void put_char(struct printer *printer, char c)
{
    char *grown = hk_arena_grow(printer->arena, printer->text, printer->count, &printer->capacity, 1);
    if (!grown)
        return;
    printer->text = grown;
    grown[printer->count++] = c;
}

static void put(struct printer *printer, const char *text)
{
    for (; *text; text++)
        put_char(printer, *text);
}

static void put_whole(struct printer *printer, int64_t value)
{
    char text[32];
    snprintf(text, sizeof text, "%" PRId64, value);
    put(printer, text);
}

static bool is_one(struct hk_graded_count number)
{
    return number.one == 1 && !number.by_size;
}

/* Writes number * times + more: "12 (14, 16)". */
static void put_scaled(struct printer *printer, struct hk_graded_count number, int64_t times, int64_t more)
{
    size_t sizes = printer->words->size_count;
    put_whole(printer, hk_graded_in(number, 0) * times + more);
    for (size_t i = 1; number.by_size && i < sizes; i++) {
        put(printer, i == 1 ? " (" : ", ");
        put_whole(printer, number.by_size[i] * times + more);
    }
    if (number.by_size && sizes > 1)
        put_char(printer, ')');
}

static void put_number(struct printer *printer, struct hk_graded_count number)
{
    put_scaled(printer, number, 1, 0);
}

static void put_noun(struct printer *printer, const char *noun)
{
    if (!printer->bare)
        put(printer, noun);
}

/* ---- Places ---- */

static void put_chains(struct printer *printer, int64_t chains)
{
    if (chains > 0) {
        put(printer, "ch-");
        put_whole(printer, chains);
        put_char(printer, ' ');
    }
}

static void put_ordinal(struct printer *printer, int64_t nth)
{
    static const char *const endings[] = {"th", "st", "nd", "rd"};
    if (nth <= 0) {
        put(printer, nth < 0 ? "last" : "centre");
        return;
    }
    int64_t last = nth % 100;
    put_whole(printer, nth);
    put(printer, endings[last > 3 && last < 21 ? 0 : last % 10 > 3 ? 0 : last % 10]);
}

/* Writes the kind of stitches that have been left, "st" for any. */
static void put_stitch_kind(struct printer *printer, const struct hk_where *where, const char *s)
{
    put(printer, where->stitch == SIZE_MAX ? "st" : hk_row_stitch_text(printer->words, where->stitch));
    put(printer, where->stitch == SIZE_MAX ? s : "");
}

/* " of right front and back" */
static void put_works(struct printer *printer, const struct hk_where *where)
{
    for (size_t i = 0; i < where->work_count; i++) {
        put(printer, i > 0 ? " and " : where->all ? " of all " : " of ");
        for (size_t k = 0; k < printer->words->work_count; k++)
            if (printer->words->works[k].parts.first == where->works[i].first) {
                put(printer, printer->words->works[k].name);
                break;
            }
    }
}

/* "row ends of right front and back". */
static void put_other(struct printer *printer, const struct hk_where *where, bool several)
{
    static const char *const names[] = {
        [HK_OTHER_ROW_ENDS] = "row end",  [HK_OTHER_LEFT] = "skipped st",
        [HK_OTHER_CHAINS] = "underarm ch", [HK_OTHER_STITCHES] = "st",
        [HK_OTHER_FOUNDATION] = "foundation ch", [HK_OTHER_BASE] = "st",
        [HK_OTHER_EVENLY] = "st"};
    bool held = where->other == HK_OTHER_LEFT && where->work_count == 0 && hk_row_skips(printer->row);
    if (where->other == HK_OTHER_LEFT && !held) {
        put(printer, "skipped ");
        put_stitch_kind(printer, where, several ? "s" : "");
    } else {
        put(printer, held ? "held st" : names[where->other]);
        put(printer, several ? "s" : "");
    }
    if (where->other == HK_OTHER_BASE)
        put(printer, " of the edge");
    put_works(printer, where);
}

static void put_kind(struct printer *printer, const struct hk_where *where, bool several)
{
    const char *s = several ? "s" : "";
    switch (where->what) {
    case HK_WHAT_ANY:
    case HK_WHAT_BELOW:
        put_noun(printer, several ? "sts" : "st");
        put_works(printer, where);
        return;
    case HK_WHAT_STITCH:
        put(printer, hk_row_stitch_text(printer->words, where->stitch));
        put_works(printer, where);
        return;
    case HK_WHAT_SPACE:
        put_chains(printer, where->chains);
        put(printer, where->chains < 0 ? "corner" : where->of_chains ? "ch sp" : "sp");
        put(printer, s);
        return;
    case HK_WHAT_CHAIN:
        put(printer, several ? "chs" : "ch");
        return;
    case HK_WHAT_TOP:
        put(printer, where->chains ? "top of ch-" : "top of tch");
        if (where->chains)
            put_whole(printer, where->chains);
        return;
    case HK_WHAT_RING:
        put(printer, "ring");
        return;
    case HK_WHAT_GAP:
        put(printer, "sp between 2 sts");
        return;
    case HK_WHAT_GROUP:
        if (where->within) {
            put_ordinal(printer, where->nth);
            put_char(printer, ' ');
            put(printer, where->stitch == SIZE_MAX ? "st" : hk_row_stitch_text(printer->words, where->stitch));
            put(printer, " of ");
        }
        put(printer, several && !where->within ? "shells" : "shell");
        return;
    case HK_WHAT_MARKED:
        put(printer, "marked st");
        put(printer, s);
        return;
    case HK_WHAT_SKIPPED:
        put(printer, "skipped ");
        put_stitch_kind(printer, where, s);
        return;
    case HK_WHAT_NTH_CHAIN:
        put_ordinal(printer, where->nth);
        put(printer, " ch from hook");
        return;
    case HK_WHAT_OTHER:
        put_other(printer, where, several);
        return;
    }
}

/* Writes a place. places: the number of places per counted stitch, 2 for "sc2tog in next 4 sts". */
static void put_where(struct printer *printer, const struct hk_where *where, int64_t places);

/* "across", "to last 3 sts", "to 2 sts before marked st". */
static void put_limit(struct printer *printer, const struct hk_where *where)
{
    switch (where->limit) {
    case HK_LIMIT_NONE:
    case HK_LIMIT_COUNT:
        return;
    case HK_LIMIT_END:
        put(printer, printer->row->way == HK_WAY_ROUNDS ? " around" : " across");
        return;
    case HK_LIMIT_LAST:
        put(printer, " to last ");
        put_number(printer, where->last);
        put_noun(printer, " sts");
        return;
    case HK_LIMIT_PLACE:
        put(printer, " to ");
        if (where->last.one || where->last.by_size) {
            put_number(printer, where->last);
            put(printer, " sts before ");
        }
        put_where(printer, where->until, 1);
        return;
    }
}

static void put_each(struct printer *printer, const struct hk_where *where)
{
    if (where->of > 0) {
        put_whole(printer, where->take);
        put(printer, " of every ");
        put_whole(printer, where->of);
        put_char(printer, ' ');
        put_kind(printer, where, true);
        return;
    }
    for (const struct hk_where *one = where; one; one = one->besides) {
        put(printer, one == where ? "each " : " and each ");
        put_kind(printer, one, false);
    }
    put_limit(printer, where);
}

static const char *which_text(const struct hk_where *where)
{
    bool known = where->what == HK_WHAT_RING || where->what == HK_WHAT_TOP || where->what == HK_WHAT_NTH_CHAIN ||
                 (where->what == HK_WHAT_GROUP && where->within);
    switch (where->which) {
    case HK_WHICH_FIRST:
        return "first ";
    case HK_WHICH_LAST:
        return "last ";
    case HK_WHICH_SAME:
        return "same ";
    case HK_WHICH_NEXT:
    case HK_WHICH_EACH:
        break;
    }
    return known ? "" : "next ";
}

static void put_where(struct printer *printer, const struct hk_where *where, int64_t places)
{
    if (where->which == HK_WHICH_EACH) {
        put_each(printer, where);
        return;
    }
    bool counted = where->limit == HK_LIMIT_COUNT, several = counted || !is_one(where->count);
    if (counted)
        put(printer, "each of ");
    put(printer, several && where->which == HK_WHICH_NEXT ? "next " : which_text(where));
    if (several) {
        put_scaled(printer, where->count, is_one(where->count) ? 1 : places, 0);
        put_noun(printer, " ");
    }
    put_kind(printer, where, several);
    if (where->what == HK_WHAT_BELOW)
        put(printer, " 1 row below");
}

static void put_in(struct printer *printer, const struct hk_where *where, int64_t places)
{
    if (!where->given)
        return;
    put(printer, where->both_layers ? " through both layers in " : " in ");
    put_where(printer, where, places);
}

/* ---- Stitches and chains ---- */

static int64_t places_of(const struct printer *printer, const struct hk_step *step)
{
    if (step->stitch == HK_STITCH_INC || step->stitch == HK_STITCH_DEC)
        return step->stitch == HK_STITCH_INC ? 1 : 2;
    return printer->words->catalogue->stitches[step->stitch].needs;
}

static void put_counts(struct printer *printer, const struct hk_step *step, bool named)
{
    if (step->counts == HK_COUNTS_OPEN)
        return;
    if (step->counts == HK_COUNTS_NO) {
        put(printer, " (does not count)");
        return;
    }
    put(printer, " (counts as ");
    put(printer, named && step->stitch != SIZE_MAX ? hk_row_stitch_text(printer->words, step->stitch) : "st");
    if (step->spare) {
        put(printer, " and ch ");
        put_whole(printer, step->spare);
    }
    put_char(printer, ')');
}

static void put_plain_number(struct printer *printer, struct hk_graded_count number)
{
    put_char(printer, ' ');
    put_number(printer, number);
    if (number.by_size)
        put_noun(printer, " sts"); /* a graded number alone at the end is ambiguous */
}

static void put_stitch(struct printer *printer, const struct hk_step *step)
{
    const struct hk_where *where = &step->where;
    int64_t needs = places_of(printer, step);
    const char *name = hk_row_stitch_text(printer->words, step->stitch);
    if (where->given && where->what == HK_WHAT_OTHER && where->other == HK_OTHER_EVENLY) {
        put_number(printer, where->count);
        put_char(printer, ' ');
        put(printer, name);
        put(printer, " evenly along edge");
        return;
    }
    if (where->given && !is_one(step->many)) {
        put_number(printer, step->many);
        put_char(printer, ' ');
    }
    put(printer, name);
    if (!where->given && where->limit == HK_LIMIT_NONE) {
        struct hk_graded_count number = needs > 0 ? where->count : step->many;
        if (step->stitch_inc) {
            put_char(printer, ' ');
            put_number(printer, number);
            put(printer, " inc");
        } else {
            put_plain_number(printer, number);
        }
        return;
    }
    if (!where->given && !is_one(step->many)) {
        put_char(printer, ' ');
        put_number(printer, step->many);
    }
    put(printer, step->stitch_inc ? " inc" : "");
    if (!where->given)
        put_limit(printer, where);
    put_in(printer, where, needs > 1 ? needs : 1);
    if (where->given && where->what == HK_WHAT_NTH_CHAIN)
        put_counts(printer, step, false);
}

static bool is_slip(const struct printer *printer, size_t stitch)
{
    const char *us =
        stitch < printer->words->catalogue->stitch_count ? printer->words->catalogue->stitches[stitch].us : NULL;
    return us && strcmp(us, "sl st") == 0;
}

/* Returns true for slip stitches up to a place and one into it, which are one item: "sl st to ch-2 sp". */
static bool slips_to(const struct printer *printer, const struct hk_step *step)
{
    return step->kind == HK_STEP_STITCH && !step->where.given && step->where.limit == HK_LIMIT_PLACE &&
           step->where.until->what != HK_WHAT_MARKED && step->where.which == HK_WHICH_EACH &&
           is_slip(printer, step->stitch);
}

/* ---- Groups and repeats ---- */

static void put_steps(struct printer *printer, const struct hk_step *steps, size_t count);

static void put_bracketed(struct printer *printer, const struct hk_step *step, const char *brackets)
{
    bool bare = printer->bare;
    printer->bare = false;
    put_char(printer, brackets[0]);
    put_steps(printer, step->steps, step->step_count);
    put_char(printer, brackets[1]);
    printer->bare = bare;
}

static void put_times(struct printer *printer, const struct hk_step *step, int64_t more)
{
    if (is_one(step->many) && !step->times_open && more == 0) {
        put(printer, " once");
        return;
    }
    put(printer, printer->bare ? " x " : " ");
    put_scaled(printer, step->many, 1, more);
    put_noun(printer, more ? " more times" : " times");
}

/* "*sc 1, ** ch 1, rep from * across, ending last rep at **". */
static void put_starred(struct printer *printer, const struct hk_step *step)
{
    put_char(printer, '*');
    put_steps(printer, step->steps, step->last_steps);
    put(printer, ", ** ");
    put_steps(printer, step->steps + step->last_steps, step->step_count - step->last_steps);
    put(printer, ", rep from *");
    if (step->where.limit == HK_LIMIT_COUNT)
        put_times(printer, step, step->times_open ? 0 : -1);
    put_limit(printer, &step->where);
    put(printer, ", ending last rep at **");
}

static void put_repeat(struct printer *printer, const struct hk_step *step)
{
    if (step->last_steps) {
        put_starred(printer, step);
        return;
    }
    put_bracketed(printer, step, "[]");
    if (step->where.limit == HK_LIMIT_NONE || step->times_open)
        put(printer, " rep");
    if (step->where.limit == HK_LIMIT_COUNT)
        put_times(printer, step, 0);
    put_limit(printer, &step->where);
}

/* ---- Steps ---- */

static void put_turning(struct printer *printer, const struct hk_step *step)
{
    put(printer, "tch ");
    put_number(printer, step->many);
    if (step->step_count) {
        put(printer, " as ");
        put_bracketed(printer, step, "()");
    }
    put_counts(printer, step, false);
}

static void put_join(struct printer *printer, const struct hk_step *step)
{
    put(printer, "join");
    if (step->name)
        put(printer, " yarn");
    if (!is_one(step->many)) {
        put_char(printer, ' ');
        put_number(printer, step->many);
    }
    if (step->where.given) {
        put(printer, " to ");
        put_where(printer, &step->where, 1);
    }
}

static void put_skip(struct printer *printer, const struct hk_step *step)
{
    put(printer, step->hold ? "place " : "sk ");
    put_where(printer, &step->where, 1);
    if (step->hold)
        put(printer, " on hold");
    if (step->name && *step->name) {
        put(printer, " for ");
        put(printer, step->name);
    }
}

/* Writes metres with the least digits that parse as the same number. */
static void put_cut(struct printer *printer, const struct hk_step *step)
{
    struct hk_number text = {0};
    double again = -1;
    for (int digits = 1; digits <= CUT_DIGITS && again != step->cut_m; digits++) {
        text = hk_number_text(step->cut_m, digits);
        const char *at = text.text;
        if (!hk_number_scan(&at, false, &again))
            again = -1;
    }
    put(printer, "cut ");
    put(printer, text.text);
    put(printer, " m");
    if (!is_one(step->many)) {
        put(printer, " x ");
        put_number(printer, step->many);
    }
}

static void put_step(struct printer *printer, const struct hk_step *step)
{
    switch (step->kind) {
    case HK_STEP_STITCH:
        put_stitch(printer, step);
        return;
    case HK_STEP_CHAIN:
        put(printer, "ch");
        put_plain_number(printer, step->many);
        put_counts(printer, step, true);
        return;
    case HK_STEP_TURNING:
        put_turning(printer, step);
        return;
    case HK_STEP_GROUP:
        put_bracketed(printer, step, "()");
        put_in(printer, &step->where, 1);
        return;
    case HK_STEP_REPEAT:
        put_repeat(printer, step);
        return;
    case HK_STEP_SKIP:
        put_skip(printer, step);
        return;
    case HK_STEP_JOIN:
        put_join(printer, step);
        return;
    case HK_STEP_TURN:
        put(printer, "turn");
        return;
    case HK_STEP_MARK:
        put(printer, "pm");
        put_in(printer, &step->where, 1);
        return;
    case HK_STEP_PASS:
    case HK_STEP_UNMARK:
        put(printer, step->kind == HK_STEP_PASS            ? "sm"
                     : step->where.which == HK_WHICH_EACH ? "remove all markers"
                                                          : "rm");
        return;
    case HK_STEP_CUT:
        put_cut(printer, step);
        return;
    case HK_STEP_LEAVE:
        put(printer, "leave ");
        put_where(printer, &step->where, 1);
        put(printer, " unworked");
        return;
    case HK_STEP_OTHER_SIDE:
        put(printer, "working along other side");
        return;
    case HK_STEP_YARN:
        put(printer, "with ");
        put(printer, step->name);
        return;
    }
}

static void put_steps(struct printer *printer, const struct hk_step *steps, size_t count)
{
    bool bare = printer->bare;
    for (size_t i = 0; i < count; i++) {
        if (i > 0)
            put(printer, ", ");
        bool slips = slips_to(printer, &steps[i]);
        printer->bare = bare && i + 1 == count;
        put_step(printer, &steps[i]);
        i += slips;
    }
    printer->bare = bare;
}

/* ---- Stated counts ---- */

static void put_figure(struct printer *printer, const struct hk_stated *stated)
{
    put_number(printer, stated->count);
    if (stated->of == HK_STATED_GROUPS) {
        put(printer, " shells");
    } else if (stated->of == HK_STATED_CHAINS) {
        put(printer, " chs");
    } else if (stated->of == HK_STATED_SPACES || stated->chains > 0) {
        put_char(printer, ' ');
        put_chains(printer, stated->chains);
        put(printer, "sps");
    } else if (stated->stitch != SIZE_MAX) {
        put_char(printer, ' ');
        put(printer, hk_row_stitch_text(printer->words, stated->stitch));
    } else {
        put_noun(printer, " sts");
    }
    if (stated->of == HK_STATED_MORE || stated->of == HK_STATED_FEWER)
        put(printer, stated->of == HK_STATED_MORE ? " increased" : " decreased");
    put(printer, stated->each ? " at each corner" : "");
    put(printer, stated->spaces_too ? " counting each ch as a st" : "");
}

static void put_stated(struct printer *printer)
{
    const struct hk_row *row = printer->row;
    put(printer, row->other ? "; " : " (");
    for (size_t i = 0; i < row->stated_count; i++) {
        put(printer, i > 0 ? ", " : "");
        printer->bare = row->other && i + 1 == row->stated_count;
        put_figure(printer, &row->stated[i]);
    }
    put(printer, row->other ? "" : ")");
}

const char *hk_row_print(const struct hk_row *row, const struct hk_row_words *words, struct hk_arena *arena)
{
    struct printer printer = {.row = row, .words = words, .arena = arena, .bare = row->other && !row->stated_count};
    put_steps(&printer, row->steps, row->step_count);
    if (row->stated_count)
        put_stated(&printer);
    put_char(&printer, '\0');
    return arena->out_of_memory ? NULL : printer.text;
}
