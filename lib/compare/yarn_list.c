/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Reads a list of yarns. Unlike in yarns.csv, rows may repeat a name, and nothing refers to them, so rows are
 * independent and the time is proportional to their number.
 */
#include "compare/yarn_list.h"

#include "base/diags.h"
#include "base/money.h"
#include "base/text.h"
#include "catalogue/diameter.h"
#include "input/quantity.h"

#include <stdlib.h>

enum { YARN, PUT_UP, LENGTH, COLOUR, FIBRE, CATEGORY, PRICE, WPI };
static const struct hk_column columns[] = {
    {"yarn", true, true},      {"put_up", true, true},    {"length", true, true}, {"colour", false, false},
    {"fibre", false, false},   {"category", false, false}, {"price", false, false}, {"wpi", false, false},
    {"notes", false, false},   {"role", false, false},     {"ball_weighs", false, false},
    {"scale_step", false, false}, {"scale_accuracy", false, false}, {NULL, false, false},
};

struct hk_listed hk_listed_candidate(const struct hk_project *project, const struct hk_candidate *candidate)
{
    const struct hk_yarn *yarn = &project->yarns[candidate->yarn];
    return (struct hk_listed){
        .name = yarn->name, .colour = candidate->colour, .fibre = candidate->fibre, .category = candidate->category,
        .put_up_g = yarn->put_up_g, .length_m = yarn->length_m, .diameter_mm = yarn->diameter_mm,
        .price_minor = candidate->price_minor, .candidate = candidate,
    };
}

struct reader {
    struct hk_yarn_list *list;
    const struct hk_project *project;
    struct hk_diags *diags;
    struct hk_place free; /* place of the first price of 0 */
    size_t free_count;
};

static const char *text_of(struct reader *reader, size_t row, size_t column)
{
    struct hk_cell cell = hk_table_cell(reader->list->table, row, column);
    const char *text = hk_cell_empty(cell) ? "" : hk_text_plain(&reader->list->arena, cell.text, NULL);
    return text ? text : "";
}

/* *Reads an amount; an empty cell leaves *amount unchanged. Returns false with a finding. */
static bool amount_of(struct reader *reader, size_t row, size_t column, enum hk_dimension dimension, double *amount)
{
    struct hk_cell cell = hk_table_cell(reader->list->table, row, column);
    return hk_cell_empty(cell) || hk_quantity_cell(cell, dimension, HK_SIGN_POSITIVE, amount, reader->diags);
}

static bool price_of(struct reader *reader, size_t row, int64_t *price_minor)
{
    struct hk_cell cell = hk_table_cell(reader->list->table, row, PRICE);
    if (hk_cell_empty(cell))
        return true;
    if (!hk_project_money_cell(reader->project, cell, price_minor, reader->diags))
        return false;
    if (*price_minor == 0 && reader->free_count++ == 0)
        reader->free = hk_cell_place(cell, 0);
    return true;
}

/* Reports all prices of 0 in one finding, since a list may have thousands. */
static void report_free(const struct reader *reader)
{
    if (reader->free_count == 0)
        return;
    hk_diags_add(reader->diags, HK_CODE_PRICE_NOTHING, reader->free,
                 "a price of 0 in %zu %s, the first of them here: such a "
                 "yarn costs nothing in any amount",
                 reader->free_count, reader->free_count == 1 ? "row" : "rows");
    hk_diags_hint(reader->diags, "leave the cell empty where the price is not known");
}

static void row_read(struct reader *reader, size_t row)
{
    struct hk_listed listed = {.price_minor = HK_NO_PRICE};
    double wraps = 0;
    bool good = amount_of(reader, row, PUT_UP, HK_DIM_MASS, &listed.put_up_g);
    good &= amount_of(reader, row, LENGTH, HK_DIM_LENGTH, &listed.length_m);
    good &= amount_of(reader, row, WPI, HK_DIM_WRAPS, &wraps);
    good &= price_of(reader, row, &listed.price_minor);
    listed.name = text_of(reader, row, YARN);
    listed.colour = text_of(reader, row, COLOUR);
    listed.fibre = text_of(reader, row, FIBRE);
    listed.category = text_of(reader, row, CATEGORY);
    if (!good || !(listed.put_up_g > 0) || !(listed.length_m > 0))
        return; /* reported already */
    listed.diameter_mm = wraps > 0 ? hk_wraps_diameter_mm(wraps)
                                   : hk_yarn_diameter_mm(1000 * listed.put_up_g / listed.length_m,
                                                         reader->project->spreads.diameter_mm);
    reader->list->yarns[reader->list->count++] = listed;
}

struct hk_yarn_list *hk_yarn_list_read(const struct hk_source *source, const char *name,
                                       const struct hk_project *project, struct hk_diags *diags)
{
    size_t errors = diags->errors;
    struct hk_yarn_list *list = calloc(1, sizeof *list);
    if (!list) {
        diags->out_of_memory = true;
        return NULL;
    }
    list->project = project;
    struct hk_table_options options = {
        .columns = columns, .most_bytes = HK_CATALOGUE_BYTES, .required = true, .accepts = true};
    struct reader reader = {.list = list, .project = project, .diags = diags};
    list->table = hk_table_read(source, name, options, diags);
    size_t rows = list->table ? hk_table_rows(list->table) : 0;
    list->yarns = hk_arena_take(&list->arena, rows, sizeof *list->yarns);
    for (size_t row = 0; row < rows && list->yarns; row++)
        row_read(&reader, row);
    report_free(&reader);
    diags->out_of_memory |= list->arena.out_of_memory;
    if (list->table && diags->errors == errors && !diags->out_of_memory)
        return list;
    hk_yarn_list_free(list);
    return NULL;
}

void hk_yarn_list_free(struct hk_yarn_list *list)
{
    if (!list)
        return;
    hk_table_free(list->table);
    hk_arena_free(&list->arena);
    free(list);
}
