/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "proofreading.h"

#include "number.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

/* ---- Text ---- */

static const int words_shown = 24; /* label of a row that has none */

/*
 * "72 =": agrees with the row's statement; "72 !": disagrees; "72": the row states nothing; "?": could not be worked;
 * "~": worked from the statement of the row below.
 */
static void add_count(struct text_table *table, const struct hk_written_row *row)
{
    if (!row->there)
        text_table_cell(table, "-");
    else if (!row->worked)
        text_table_cell(table, "?");
    else
        text_table_cell(table, "%s%s%s", row->from_stated ? "~" : "", number_whole(row->stitches).text,
                        !row->stated_count ? ""
                        : row->agrees      ? " ="
                                           : " !");
}

static void add_row(struct text_table *table, const struct work *work, size_t index, struct size_range sizes,
                    const char **part)
{
    const struct hk_written_row first = hk_written_row(work->project, index, sizes.first);
    text_table_cell(table, "%s", *part);
    *part = "";
    text_table_cell(table, "%zu", first.line);
    if (*first.label)
        text_table_cell(table, "%s", first.label);
    else
        text_table_cell(table, "%.*s%s", words_shown, first.words,
                        strlen(first.words) > (size_t)words_shown ? " ..." : "");
    for (size_t size = sizes.first; size < sizes.end; size++) {
        const struct hk_written_row row = hk_written_row(work->project, index, size);
        add_count(table, &row);
    }
}

/* Lists the stated figures of each size, where one of them differs from the count. */
static void add_stated(struct text_table *table, const struct work *work, size_t index, size_t figure,
                       struct size_range sizes)
{
    const char *what = NULL;
    for (size_t size = sizes.first; size < sizes.end; size++) {
        const struct hk_written_row row = hk_written_row(work->project, index, size);
        if (row.worked && figure < row.stated_count && row.stated[figure].stated != row.stated[figure].actual)
            what = row.stated[figure].what;
    }
    if (!what)
        return;
    for (int actual = 0; actual < 2; actual++) {
        text_table_cell(table, "%s", "");
        text_table_cell(table, "%s", "");
        text_table_cell(table, "  %s %s", actual ? "worked" : "stated", what);
        for (size_t size = sizes.first; size < sizes.end; size++) {
            const struct hk_written_row row = hk_written_row(work->project, index, size);
            if (row.worked && figure < row.stated_count)
                text_table_cell(table, "%s",
                                number_whole(actual ? row.stated[figure].actual : row.stated[figure].stated).text);
            else
                text_table_cell(table, "-");
        }
    }
}

static void add_left(struct text_table *table, const struct work *work, size_t index, struct size_range sizes)
{
    bool any = false;
    for (size_t size = sizes.first; size < sizes.end; size++)
        any |= hk_written_row(work->project, index, size).left > 0;
    if (!any)
        return;
    text_table_cell(table, "%s", "");
    text_table_cell(table, "%s", "");
    text_table_cell(table, "  left unworked");
    for (size_t size = sizes.first; size < sizes.end; size++) {
        const struct hk_written_row row = hk_written_row(work->project, index, size);
        text_table_cell(table, "%s", row.worked ? number_whole(row.left).text : "-");
    }
}

static size_t figures_of(const struct work *work, size_t index, struct size_range sizes)
{
    size_t most = 0;
    for (size_t size = sizes.first; size < sizes.end; size++) {
        const size_t count = hk_written_row(work->project, index, size).stated_count;
        most = count > most ? count : most;
    }
    return most;
}

/* Shows the table of a piece. Returns the row after its last one. */
static size_t print_piece(const struct work *work, size_t first, struct size_range sizes, struct text *text)
{
    struct text_table *table = text_table(text);
    const struct hk_written_row head = hk_written_row(work->project, first, 0);
    const char *last_part = NULL;
    size_t row = first;
    text_gap(text);
    text_heading(text, "%s", head.piece);
    text_table_column(table, TEXT_KEY, "PART");
    text_table_column(table, TEXT_KEY | TEXT_RIGHT, "LINE");
    text_table_column(table, TEXT_KEY, "STITCHES AFTER");
    for (size_t size = sizes.first; size < sizes.end; size++)
        text_table_column(table, TEXT_RIGHT, "%s", hk_project_size(work->project, size));
    for (; row < hk_written_rows(work->project); row++) {
        const struct hk_written_row of = hk_written_row(work->project, row, 0);
        if (strcmp(of.piece, head.piece) != 0)
            break;
        const char *part = last_part && strcmp(last_part, of.part) == 0 ? "" : of.part;
        last_part = of.part;
        add_row(table, work, row, sizes, &part);
        for (size_t figure = 0; figure < figures_of(work, row, sizes); figure++)
            add_stated(table, work, row, figure, sizes);
        add_left(table, work, row, sizes);
    }
    text_table_print(table);
    return row;
}

struct prose_line {
    size_t line, index;
    const char *words;
};

static int by_line(const void *a, const void *b)
{
    const struct prose_line *x = a, *y = b;
    if (x->line != y->line)
        return x->line < y->line ? -1 : 1;
    return x->index < y->index ? -1 : x->index > y->index;
}

/* Lists definitions in file order; a definition with two names is one line. */
static void print_prose_lines(const struct work *work, size_t count, struct text *text)
{
    struct prose_line *lines = calloc(count, sizeof *lines);
    if (!lines) {
        text->failed = true;
        return;
    }
    for (size_t i = 0; i < count; i++) {
        bool speaks;
        lines[i].words = hk_written_prose(work->project, i, &lines[i].line, &speaks);
        lines[i].index = i;
    }
    qsort(lines, count, sizeof *lines, by_line);
    for (size_t i = 0; i < count; i++)
        if (i == 0 || lines[i].line != lines[i - 1].line || strcmp(lines[i].words, lines[i - 1].words) != 0)
            text_item(text, "line %zu: %s", lines[i].line, lines[i].words);
    free(lines);
}

static void print_prose(const struct work *work, bool all, struct text *text)
{
    size_t count = 0, line;
    bool speaks;
    while (hk_written_prose(work->project, count, &line, &speaks))
        count++;
    if (count == 0)
        return;
    text_gap(text);
    if (!all) {
        text_paragraph(text, "%zu line%s of prose not read; --prose lists %s.", count, count == 1 ? "" : "s",
                       count == 1 ? "it" : "them");
        return;
    }
    text_heading(text, "Prose, not read");
    print_prose_lines(work, count, text);
}

void proofreading_print(const struct work *work, bool prose, struct text *text)
{
    if (!work->project || !hk_project_written(work->project))
        return;
    text_gap(text);
    text_heading(text, "pattern.txt, row by row");
    text_paragraph(text, "= is the count that the row states, ! another count; ? could not be worked; ~ is worked on "
                         "the count that the row "
                         "below states.");
    for (size_t row = 0; row < hk_written_rows(work->project);)
        row = print_piece(work, row, pipeline_sizes(work), text);
    if (hk_written_choice(work->project, 0)) {
        text_gap(text);
        text_heading(text, "Readings taken where custom leaves a choice");
        for (size_t i = 0; hk_written_choice(work->project, i); i++)
            text_item(text, "%s", hk_written_choice(work->project, i));
    }
    print_prose(work, prose, text);
}

/* ---- JSON ---- */

static json_t *row_json(struct json *json, const struct hk_written_row *row, const char *size)
{
    json_t *object = json_make_object(json), *places = json_make_object(json), *on_hold = json_make_object(json),
           *stated = NULL, *readings = json_make_array(json);
    json_put_text(json, object, "file", row->file);
    json_put_whole(json, object, "line", (int64_t)row->line);
    json_put_text(json, object, "piece", row->piece);
    json_put_text(json, object, "part", row->part);
    json_put_text(json, object, "label", row->label);
    json_put_text(json, object, "size", size);
    json_put_whole(json, object, "stitches", row->stitches);
    for (size_t i = 0; i < row->place_count; i++)
        json_put_whole(json, places, row->places[i].kind, row->places[i].count);
    json_put(json, object, "places", places);
    if (row->stated_count > 0)
        stated = json_make_object(json);
    for (size_t i = 0; i < row->stated_count; i++)
        json_put_whole(json, stated, row->stated[i].what, row->stated[i].stated);
    json_put(json, object, "stated", stated ? stated : json_null());
    json_put_bool(json, object, "agrees", row->agrees);
    json_put_text(json, object, "from", row->from_stated ? "stated" : "worked");
    json_put_whole(json, object, "left", row->left);
    for (size_t i = 0; i < row->on_hold_count; i++)
        json_put_whole(json, on_hold, row->on_hold[i].kind, row->on_hold[i].count);
    json_put(json, object, "held", on_hold);
    for (size_t i = 0; i < row->reading_count; i++)
        json_add(json, readings, json_text(row->readings[i]));
    json_put(json, object, "readings", readings);
    return object;
}

json_t *proofreading_rows(struct json *json, const struct work *work)
{
    json_t *rows = json_make_array(json);
    if (!work->project || !hk_project_written(work->project))
        return rows;
    const struct size_range sizes = pipeline_sizes(work);
    for (size_t i = 0; i < hk_written_rows(work->project); i++)
        for (size_t size = sizes.first; size < sizes.end; size++) {
            const struct hk_written_row row = hk_written_row(work->project, i, size);
            if (row.there && row.worked)
                json_add(json, rows, row_json(json, &row, hk_project_size(work->project, size)));
        }
    return rows;
}

json_t *proofreading_totals(struct json *json, const struct work *work, bool *complete)
{
    json_t *totals = json_make_array(json);
    size_t count = 0;
    const struct hk_stitch_total *list = NULL;
    *complete = work->tally != NULL;
    if (work->tally)
        list = hk_tally_totals(work->tally, &count);
    else if (work->project)
        list = hk_written_totals(work->project, &count, complete);
    for (size_t i = 0; i < count; i++) {
        if (work->size != HK_NO_SIZE && list[i].size != work->size)
            continue;
        json_t *total = json_make_object(json);
        json_put_text(json, total, "size", hk_project_size(work->project, list[i].size));
        json_put_text(json, total, "stitch", list[i].stitch);
        json_put_whole(json, total, "count", list[i].count);
        json_add(json, totals, total);
    }
    return totals;
}
