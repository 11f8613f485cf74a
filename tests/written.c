/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "written.h"

#include "support.h"
#include "base/text.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#ifndef ROWS_DIR
#define ROWS_DIR "tests/rows"
#endif

/* ---- One row ---- */

static struct hk_place written_place(const struct hk_row_text *text, size_t offset)
{
    (void)text;
    return (struct hk_place){"row", 1, offset + 1};
}

struct hk_row_words written_words(const struct hk_catalogue *catalogue, enum hk_terms terms, size_t sizes)
{
    static const char *const names[WRITTEN_SIZES] = {"S", "M", "L", "XL", "5", "6", "7", "8", "9"};
    static const char *const yarns[] = {"A", "B", "MC", "CC"};
    return (struct hk_row_words){.catalogue = catalogue,
                                 .terms = terms,
                                 .size_count = sizes,
                                 .size_names = names,
                                 .yarns = yarns,
                                 .yarn_count = sizeof yarns / sizeof *yarns};
}

bool written_read(const char *text, const struct hk_row_words *words, struct hk_row *row, struct hk_arena *arena,
                  struct hk_diags *diags)
{
    struct hk_row_text *plain = hk_arena_take(arena, 1, sizeof *plain);
    size_t *origin = NULL;
    const char *made = plain ? hk_text_plain(arena, text, &origin) : NULL;
    if (!made) {
        diags->out_of_memory = true;
        return false;
    }
    *plain = (struct hk_row_text){.text = made, .origin = origin, .place = written_place};
    return hk_row_read(plain, words, row, arena, diags);
}

/* ---- Two trees ---- */

static bool numbers_same(struct hk_graded_count a, struct hk_graded_count b, size_t sizes)
{
    for (size_t i = 0; i < sizes; i++)
        if (hk_graded_in(a, i) != hk_graded_in(b, i))
            return false;
    return true;
}

static bool where_same(const struct hk_where *a, const struct hk_where *b, size_t sizes)
{
    if (!a || !b)
        return a == b;
    bool group = a->what == HK_WHAT_GROUP && a->within;
    return a->given == b->given && a->which == b->which && a->what == b->what &&
           numbers_same(a->count, b->count, sizes) && a->limit == b->limit && numbers_same(a->last, b->last, sizes) &&
           where_same(a->until, b->until, sizes) && where_same(a->besides, b->besides, sizes) &&
           a->within == b->within &&
           ((a->what != HK_WHAT_STITCH && a->what != HK_WHAT_SKIPPED && !group) || a->stitch == b->stitch) &&
           ((a->what != HK_WHAT_SPACE && a->what != HK_WHAT_TOP) || a->chains == b->chains) &&
           ((a->what != HK_WHAT_NTH_CHAIN && !group) || a->nth == b->nth);
}

static bool names_same(const char *a, const char *b)
{
    return a && b ? strcmp(a, b) == 0 : a == b;
}

static bool steps_same(const struct hk_step *a, const struct hk_step *b, size_t count, size_t sizes);

static bool step_same(const struct hk_step *a, const struct hk_step *b, size_t sizes)
{
    bool named = a->kind == HK_STEP_STITCH || a->kind == HK_STEP_CHAIN;
    return a->kind == b->kind && (!named || a->stitch == b->stitch) && a->stitch_inc == b->stitch_inc &&
           numbers_same(a->many, b->many, sizes) && where_same(&a->where, &b->where, sizes) && a->counts == b->counts &&
           a->spare == b->spare && a->last_steps == b->last_steps && a->times_open == b->times_open &&
           a->cut_m == b->cut_m && names_same(a->name, b->name) && a->step_count == b->step_count &&
           steps_same(a->steps, b->steps, a->step_count, sizes);
}

static bool steps_same(const struct hk_step *a, const struct hk_step *b, size_t count, size_t sizes)
{
    for (size_t i = 0; i < count; i++)
        if (!step_same(&a[i], &b[i], sizes))
            return false;
    return true;
}

static bool stated_same(const struct hk_stated *a, const struct hk_stated *b, size_t sizes)
{
    return a->of == b->of && a->stitch == b->stitch && a->chains == b->chains &&
           numbers_same(a->count, b->count, sizes) && a->each == b->each && a->spaces_too == b->spaces_too;
}

bool written_same(const struct hk_row *a, const struct hk_row *b, size_t sizes)
{
    if (a->step_count != b->step_count || !steps_same(a->steps, b->steps, a->step_count, sizes) ||
        a->stated_count != b->stated_count || a->joined != b->joined || a->turned != b->turned ||
        a->repeats != b->repeats || a->to_end != b->to_end || a->knit != b->knit || a->way != b->way ||
        !a->other != !b->other)
        return false;
    for (size_t i = 0; i < a->stated_count; i++)
        if (!stated_same(&a->stated[i], &b->stated[i], sizes))
            return false;
    return !a->other || written_same(a->other, b->other, sizes);
}

/* ---- The corpus ---- */

enum { ID, CRAFT, TERMS, SIZES, START, WORKED, NOTES, ROWS, COUNTS, PLACES, LEFT, WRONG, REFUSED };

/* Splits a text at " / "; a dash means a missing part. Returns the number of parts. */
static size_t split(struct hk_arena *arena, const char *cell, const char **parts)
{
    size_t count = 0;
    for (size_t i = 0; i < WRITTEN_ROWS; i++)
        parts[i] = "-";
    while (*cell && count < WRITTEN_ROWS) {
        const char *end = strstr(cell, " / ");
        size_t length = end ? (size_t)(end - cell) : strlen(cell);
        parts[count] = hk_arena_text(arena, cell, length);
        assert_non_null(parts[count++]);
        cell = end ? end + 3 : cell + length;
    }
    return count;
}

/*
 * Returns whether a row is "Rep row 2" or "Repeat rnds 2 and 3", which only the reader of whole patterns understands.
 */
static bool refers(const char *row)
{
    return hk_text_starts(row, "rep row") || hk_text_starts(row, "rep rnd") || hk_text_starts(row, "repeat row") ||
           hk_text_starts(row, "repeat rnd") || hk_text_starts(row, "rep last");
}

static void read_case(struct written_corpus *corpus, const struct hk_catalogue *catalogue, size_t row,
                      struct written_case *of)
{
    const struct hk_table *table = corpus->table;
#define CELL(column) hk_table_at(table, row, column).text
    *of = (struct written_case){.id = CELL(ID), .start = CELL(START), .rounds = strcmp(CELL(WORKED), "rounds") == 0};
    of->sizes = strtoul(CELL(SIZES), NULL, 10);
    assert_in_range(of->sizes, 1, WRITTEN_SIZES);
    of->words = written_words(catalogue, strcmp(CELL(TERMS), "UK") == 0 ? HK_TERMS_UK : HK_TERMS_US, of->sizes);
    of->row_count = split(&corpus->arena, CELL(ROWS), of->rows);
    split(&corpus->arena, CELL(COUNTS), of->counts);
    split(&corpus->arena, CELL(PLACES), of->places);
    split(&corpus->arena, CELL(LEFT), of->left);
    split(&corpus->arena, CELL(WRONG), of->wrong);
    of->may_be_refused = strcmp(CELL(REFUSED), "may") == 0;
    of->plain = *CELL(NOTES) == '\0' && strcmp(CELL(WORKED), "as written") != 0;
    for (size_t i = 0; i < of->row_count; i++)
        of->plain = of->plain && !refers(of->rows[i]);
#undef CELL
}

struct written_corpus written_corpus_read(const struct hk_catalogue *catalogue)
{
    struct written_corpus corpus = {0};
    struct hk_diags diags = {0};
    struct hk_source source = hk_source_folder(ROWS_DIR);
    corpus.table = hk_table_read(&source, "rows.csv", (struct hk_table_options){0}, &diags);
    assert_non_null(corpus.table);
    assert_findings(&diags, "");
    corpus.count = hk_table_rows(corpus.table);
    corpus.cases = hk_arena_take(&corpus.arena, corpus.count, sizeof *corpus.cases);
    assert_non_null(corpus.cases);
    for (size_t i = 0; i < corpus.count; i++)
        read_case(&corpus, catalogue, i, &corpus.cases[i]);
    return corpus;
}

void written_corpus_free(struct written_corpus *corpus)
{
    hk_table_free(corpus->table);
    hk_arena_free(&corpus->arena);
}

void written_value(const char *cell, size_t size, char *text, size_t room)
{
    static const char marks[] = " (),;[]";
    *text = '\0';
    for (size_t i = 0; *cell && i <= size; i++) {
        cell += strspn(cell, marks);
        size_t length = strcspn(cell, marks);
        if (length == 0)
            return;
        snprintf(text, room, "%.*s", (int)length, cell);
        cell += length;
    }
}

static size_t stitch_by_word(const struct hk_row_words *words, const char *word)
{
    for (size_t i = 0; i < words->catalogue->stitch_count; i++) {
        const struct hk_stitch *stitch = &words->catalogue->stitches[i];
        const char *text = words->terms == HK_TERMS_UK ? stitch->uk : stitch->us;
        if (text && strcmp(text, word) == 0)
            return i;
    }
    return HK_SPOT_ANY;
}

bool written_start(struct hk_follow *follow, const struct written_case *of, size_t size)
{
    char count[32], cell[200];
    const char *start = of->start, *kind = strrchr(start, ' ');
    if (strcmp(start, "ring") == 0)
        return hk_follow_ring(follow);
    if (strcmp(start, "nothing") == 0)
        return hk_follow_edge(follow, 0, HK_SPOT_ANY);
    if (hk_text_starts(start, "chain ") || hk_text_starts(start, "cast-on ")) {
        written_value(strchr(start, ' ') + 1, size, count, sizeof count);
        int64_t places = strtoll(count, NULL, 10);
        return *start == 'c' && start[1] == 'h' ? hk_follow_chain(follow, places, of->rounds)
                                                : hk_follow_edge(follow, places, stitch_by_word(&of->words, "CO"));
    }
    assert_non_null(kind);
    snprintf(cell, sizeof cell, "%.*s", (int)(kind - start), start);
    written_value(cell, size, count, sizeof count);
    return hk_follow_edge(follow, strtoll(count, NULL, 10), stitch_by_word(&of->words, kind + 1));
}
