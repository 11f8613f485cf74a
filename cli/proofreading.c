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

/* Stands for rows that are not shown. */
static void add_gap(struct text_table *table, struct size_range sizes)
{
    text_table_cell(table, "%s", "");
    text_table_cell(table, "%s", "");
    text_table_cell(table, "...");
    for (size_t size = sizes.first; size < sizes.end; size++)
        text_table_cell(table, "%s", "");
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

enum { rows_near = 3 }; /* rows shown above and below a mistake */

/* Returns whether the row needs a look: it states another count than it has, or it could not be worked. */
static bool is_mistaken(const struct work *work, size_t index, struct size_range sizes)
{
    for (size_t size = sizes.first; size < sizes.end; size++) {
        const struct hk_written_row row = hk_written_row(work->project, index, size);
        if (row.there && (!row.worked || (row.stated_count > 0 && !row.agrees)))
            return true;
    }
    return false;
}

/* Returns the row after the last one of the piece that has the row `first`. */
static size_t piece_end(const struct work *work, size_t first)
{
    const struct hk_written_row head = hk_written_row(work->project, first, 0);
    size_t end = first + 1;
    while (end < hk_written_rows(work->project) && strcmp(hk_written_row(work->project, end, 0).piece, head.piece) == 0)
        end++;
    return end;
}

/* Returns the first row from `row` on, before `end`, that is shown; `end` if there is none. */
static size_t next_shown(const struct work *work, size_t first, size_t row, size_t end, bool all)
{
    const struct size_range sizes = pipeline_sizes(work);
    const size_t from = row > first + rows_near ? row - rows_near : first;
    for (size_t i = all ? end : from; i < end; i++)
        if (is_mistaken(work, i, sizes))
            return i > row + rows_near ? i - rows_near : row;
    return all ? row : end;
}

/* Shows the table of the piece whose rows are `first` to `end` - 1, where it has a row to show. */
static void print_piece(const struct work *work, size_t first, size_t end, bool all, struct text *text)
{
    const struct size_range sizes = pipeline_sizes(work);
    const char *last_part = NULL;
    size_t row = next_shown(work, first, first, end, all), expected = first;
    if (row == end)
        return;
    struct text_table *table = text_table(text);
    text_gap(text);
    text_heading(text, "%s", hk_written_row(work->project, first, 0).piece);
    text_table_column(table, TEXT_KEY, "PART");
    text_table_column(table, TEXT_KEY | TEXT_RIGHT, "LINE");
    text_table_column(table, TEXT_KEY, "STITCHES AFTER");
    for (size_t size = sizes.first; size < sizes.end; size++)
        text_table_column(table, TEXT_RIGHT, "%s", hk_project_size(work->project, size));
    for (; row < end; row = next_shown(work, first, row + 1, end, all)) {
        const struct hk_written_row of = hk_written_row(work->project, row, 0);
        if (row > expected)
            add_gap(table, sizes);
        expected = row + 1;
        const char *part = last_part && strcmp(last_part, of.part) == 0 ? "" : of.part;
        last_part = of.part;
        add_row(table, work, row, sizes, &part);
        for (size_t figure = 0; figure < figures_of(work, row, sizes); figure++)
            add_stated(table, work, row, figure, sizes);
        add_left(table, work, row, sizes);
    }
    if (expected < end)
        add_gap(table, sizes);
    text_table_print(table);
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

static bool is_written(const struct work *work)
{
    return work->project && hk_project_written(work->project);
}

size_t proofreading_prose_lines(const struct work *work)
{
    size_t count = 0, line;
    bool speaks;
    while (is_written(work) && hk_written_prose(work->project, count, &line, &speaks))
        count++;
    return count;
}

void proofreading_prose(const struct work *work, struct text *text)
{
    const size_t count = proofreading_prose_lines(work);
    if (count == 0)
        return;
    text_gap(text);
    text_heading(text, "Prose, not read");
    print_prose_lines(work, count, text);
}

void proofreading_choices(const struct work *work, struct text *text)
{
    if (!is_written(work) || !hk_written_choice(work->project, 0))
        return;
    text_gap(text);
    text_heading(text, "Readings taken where custom leaves a choice");
    for (size_t i = 0; hk_written_choice(work->project, i); i++)
        text_item(text, "%s", hk_written_choice(work->project, i));
}

/* Numbers of rows, counted once, and of the counts that they state, counted in every size. */
struct proofread {
    size_t rows, unworked, stated, compared, agreeing;
};

static struct proofread proofread_count(const struct work *work)
{
    const struct size_range sizes = pipeline_sizes(work);
    struct proofread read = {0};
    for (size_t i = 0; i < hk_written_rows(work->project); i++) {
        bool there = false, unworked = false;
        for (size_t size = sizes.first; size < sizes.end; size++) {
            const struct hk_written_row row = hk_written_row(work->project, i, size);
            there |= row.there;
            unworked |= row.there && !row.worked;
            read.stated += row.there && row.stated_count > 0;
            read.compared += row.there && row.worked && row.stated_count > 0;
            read.agreeing += row.there && row.worked && row.stated_count > 0 && row.agrees;
        }
        read.rows += there;
        read.unworked += unworked;
    }
    return read;
}

void proofreading_summary(const struct work *work, struct text *text)
{
    if (!is_written(work))
        return;
    const struct proofread read = proofread_count(work);
    const size_t prose = proofreading_prose_lines(work), worked = read.rows - read.unworked;
    char *words = text_format("pattern.txt: %zu line%s of rows worked", worked, NUMBER_PLURAL(worked));
    bool good = words != NULL;
    if (good && read.unworked)
        good = text_append(&words, ", %zu not worked", read.unworked);
    if (good && read.compared)
        good = text_append(&words, "; %zu of %zu stated counts agree", read.agreeing, read.compared);
    else if (good && !read.stated)
        good = text_append(&words, "; no row states its count");
    if (good && prose)
        good = text_append(&words, "; %zu line%s of prose not read", prose, NUMBER_PLURAL(prose));
    if (good)
        text_paragraph(text, "%s.", words);
    text->failed |= !good;
    free(words);
}

void proofreading_print(const struct work *work, bool all, struct text *text)
{
    static const char key[] = "= is the count that the row states, ! another count; ? could not be worked; ~ is worked on "
                              "the count that the row below states.";
    bool any = all;
    if (!is_written(work))
        return;
    const size_t rows = hk_written_rows(work->project);
    for (size_t row = 0; row < rows && !any; row++)
        any = is_mistaken(work, row, pipeline_sizes(work));
    for (size_t row = 0, end; row < rows; row = end) {
        end = piece_end(work, row);
        print_piece(work, row, end, all, text);
    }
    if (any && rows) {
        text_gap(text);
        text_paragraph(text, "%s", key);
    }
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
