/* SPDX-License-Identifier: GPL-3.0-or-later */
/* hankful tables: the rows of the shipped tables and the source of each row. */
#include "findings.h"
#include "json.h"
#include "number.h"
#include "layout.h"
#include "pipeline.h"

#include <stdlib.h>
#include <string.h>

static const char *meaning(const char *table)
{
    static const char *const meanings[][2] = {
        {"stitches", "stitches: what each needs and leaves, and its loops and wraps"},
        {"fabrics", "rows of the common fabrics, seams and edgings, in US terms"},
        {"categories", "yarn categories with their usual gauges, tools and wraps"},
        {"tools", "hooks and needles: millimetres and labels"},
        {"fibres", "fibres with the moisture that the trade allows for"},
        {"currencies", "currencies and the digits of their smallest unit"},
        {"spreads", "the numbers of the model, which a project may override"},
    };
    for (size_t i = 0; i < sizeof meanings / sizeof meanings[0]; i++)
        if (strcmp(table, meanings[i][0]) == 0)
            return meanings[i][1];
    return "";
}

/* ---- All tables ---- */

static enum outcome list_json(const struct hk_catalogue *catalogue, FILE *out)
{
    struct json json = {0};
    json_t *answer = json_make_answer(&json), *tables = json_make_array(&json);
    for (size_t i = 0; i < hk_catalogue_tables(catalogue); i++) {
        json_t *table = json_make_object(&json);
        json_put_text(&json, table, "name", hk_catalogue_table_name(catalogue, i));
        json_put_whole(&json, table, "rows", (int64_t)hk_catalogue_rows(catalogue, i));
        json_put_text(&json, table, "meaning", meaning(hk_catalogue_table_name(catalogue, i)));
        json_add(&json, tables, table);
    }
    json_put(&json, answer, "tables", tables);
    return json_write(&json, answer, out);
}

static enum outcome list_text(const struct hk_catalogue *catalogue, struct text *text, const char *folder)
{
    struct text_table *table = text_table(text);
    text_heading(text, "Shipped tables in %s", folder);
    text_gap(text);
    text_table_column(table, TEXT_LEFT, "TABLE");
    text_table_column(table, TEXT_RIGHT, "ROWS");
    text_table_column(table, TEXT_WRAP, "CONTENTS");
    for (size_t i = 0; i < hk_catalogue_tables(catalogue); i++) {
        const char *name = hk_catalogue_table_name(catalogue, i);
        text_table_cell(table, "%s", name);
        text_table_cell(table, "%s", number_whole((int64_t)hk_catalogue_rows(catalogue, i)).text);
        text_table_cell(table, "%s", meaning(name));
    }
    text_table_print(table);
    text_gap(text);
    text_paragraph(text, "\"hankful tables NAME\" prints the rows of one, with their sources.");
    return text_outcome(text);
}

/* ---- One table ---- */

static enum outcome rows_json(const struct hk_catalogue *catalogue, size_t table, FILE *out)
{
    struct json json = {0};
    json_t *rows = json_make_array(&json);
    for (size_t i = 0; i < hk_catalogue_rows(catalogue, table); i++) {
        json_t *row = json_make_object(&json);
        for (size_t j = 0; j < hk_catalogue_columns(catalogue, table); j++)
            json_put_text(&json, row, hk_catalogue_column(catalogue, table, j),
                          hk_catalogue_cell(catalogue, table, i, j));
        json_add(&json, rows, row);
    }
    return json_write(&json, rows, out);
}

static bool is_source(const struct hk_catalogue *catalogue, size_t table, size_t column)
{
    return strcmp(hk_catalogue_column(catalogue, table, column), "source") == 0;
}

/* Returns the first row with the same source as this one. */
static size_t first_with_source(const struct hk_catalogue *catalogue, size_t table, size_t row, size_t column)
{
    const char *source = hk_catalogue_cell(catalogue, table, row, column);
    for (size_t i = 0; i < row; i++)
        if (strcmp(hk_catalogue_cell(catalogue, table, i, column), source) == 0)
            return i;
    return row;
}

/* Returns the number, from 1, of a row's source among the distinct sources. */
static size_t source_number(const struct hk_catalogue *catalogue, size_t table, size_t row, size_t column)
{
    const size_t first = first_with_source(catalogue, table, row, column);
    size_t number = 0;
    for (size_t i = 0; i <= first; i++)
        number += first_with_source(catalogue, table, i, column) == i;
    return number;
}

static bool numeric(const struct hk_catalogue *catalogue, size_t table, size_t column)
{
    bool any = false;
    for (size_t i = 0; i < hk_catalogue_rows(catalogue, table); i++) {
        const char *cell = hk_catalogue_cell(catalogue, table, i, column);
        any = any || *cell;
        if (strspn(cell, "0123456789.") != strlen(cell))
            return false;
    }
    return any;
}

/* Adds a space after each semicolon of a list in a cell, "us:half treble;trc", so that the list can wrap. */
static void add_list(struct text_table *shown, const char *cell, struct text *text)
{
    char *list = malloc(2 * strlen(cell) + 1), *end = list;
    if (!list) {
        text->failed = true;
        return;
    }
    for (; *cell; cell++) {
        *end++ = *cell;
        if (*cell == ';' && cell[1] != ' ' && cell[1])
            *end++ = ' ';
    }
    *end = '\0';
    text_table_cell(shown, "%s", list);
    free(list);
}

static void list_sources(const struct hk_catalogue *catalogue, size_t table, size_t column, struct text *text)
{
    size_t number = 0;
    text_gap(text);
    text_heading(text, "Sources");
    for (size_t i = 0; i < hk_catalogue_rows(catalogue, table); i++)
        if (first_with_source(catalogue, table, i, column) == i)
            text_item(text, "[%zu] %s", ++number, hk_catalogue_cell(catalogue, table, i, column));
}

/* Sources are long and few: each row shows the number of its source. */
static enum outcome rows_text(const struct hk_catalogue *catalogue, size_t table, struct text *text)
{
    const size_t columns = hk_catalogue_columns(catalogue, table);
    struct text_table *shown = text_table(text);
    text_heading(text, "%s: %s", hk_catalogue_table_name(catalogue, table),
                 meaning(hk_catalogue_table_name(catalogue, table)));
    text_gap(text);
    for (size_t j = 0; j < columns; j++)
        text_table_column(shown, (j ? 0 : TEXT_KEY) | (numeric(catalogue, table, j) ? TEXT_RIGHT : TEXT_WRAP), "%s",
                          hk_catalogue_column(catalogue, table, j));
    for (size_t i = 0; i < hk_catalogue_rows(catalogue, table); i++) {
        for (size_t j = 0; j < columns; j++) {
            if (is_source(catalogue, table, j))
                text_table_cell(shown, "[%zu]", source_number(catalogue, table, i, j));
            else
                add_list(shown, hk_catalogue_cell(catalogue, table, i, j), text);
        }
    }
    text_table_print(shown);
    for (size_t j = 0; j < columns; j++)
        if (is_source(catalogue, table, j))
            list_sources(catalogue, table, j, text);
    return text_outcome(text);
}

/* Suggests the nearest table name on standard error. Returns SIZE_MAX if no table has the name. */
static size_t find_table(const struct hk_catalogue *catalogue, const char *name)
{
    const size_t count = hk_catalogue_tables(catalogue);
    const char **names = calloc(count + 1, sizeof *names);
    size_t nearest = HK_NO_NAME;
    for (size_t i = 0; i < count; i++) {
        if (strcmp(name, hk_catalogue_table_name(catalogue, i)) == 0) {
            free(names);
            return i;
        }
        if (names)
            names[i] = hk_catalogue_table_name(catalogue, i);
    }
    if (names)
        nearest = hk_nearest_name(name, names, count);
    if (nearest == HK_NO_NAME)
        complain("there is no table \"%s\"; \"hankful tables\" lists them", name);
    else
        complain("there is no table \"%s\"; did you mean %s?", name, names[nearest]);
    free(names);
    return SIZE_MAX;
}

static enum outcome show(const struct hk_catalogue *catalogue, const struct options *options, const char *folder,
                         FILE *out)
{
    struct text text = text_to(out, options->width);
    if (options->word_count < 2)
        return options->given & OPTION_JSON ? list_json(catalogue, out) : list_text(catalogue, &text, folder);
    const size_t table = find_table(catalogue, options->words[1]);
    if (table == SIZE_MAX)
        return MISUSED;
    return options->given & OPTION_JSON ? rows_json(catalogue, table, out) : rows_text(catalogue, table, &text);
}

enum outcome cmd_tables(const struct options *options, FILE *out)
{
    struct work work = {0};
    enum outcome outcome = pipeline_tables(&work, options);
    if (outcome == DONE)
        outcome = show(work.catalogue, options, work.table_folder.path, out);
    pipeline_free(&work);
    return outcome;
}
