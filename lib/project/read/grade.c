/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "project/read/grade.h"

#include "base/text.h"
#include "project/size_meant.h"

#define NO_COLUMN SIZE_MAX
#define FIRST_SIZE 3 /* of the columns that are looked for: name, unit, print, then the sizes */

struct grade_reader {
    const struct hk_table *table;
    const char *const *sizes;
    size_t size_count;
    size_t name, unit, print; /* columns */
    size_t *size;             /* the column of each size */
    struct hk_grade grade;    /* as it grows */
    size_t capacity;
    struct hk_arena *arena;
    struct hk_diags *diags;
};

/* The columns a header may name: name, unit, print, then the sizes. */
static const char *column_name(const void *context, size_t i)
{
    static const char *const fixed[] = {"name", "unit", "print"};
    const struct grade_reader *reader = context;
    return i < FIRST_SIZE ? fixed[i] : reader->sizes[i - FIRST_SIZE];
}

static const char *size_name(const void *context, size_t i)
{
    return ((const struct grade_reader *)context)->sizes[i];
}

static size_t *column_slot(struct grade_reader *reader, size_t i)
{
    return i == 0 ? &reader->name : i == 1 ? &reader->unit : i == 2 ? &reader->print : &reader->size[i - FIRST_SIZE];
}

static void column_place(struct grade_reader *reader, size_t index)
{
    struct hk_cell header = hk_table_header(reader->table, index);
    size_t count = FIRST_SIZE + reader->size_count;
    if (hk_cell_empty(header) || index == hk_table_ok(reader->table))
        return;
    for (size_t i = 0; i < count; i++) {
        if (!hk_text_same(header.text, column_name(reader, i)))
            continue;
        size_t *slot = column_slot(reader, i);
        if (*slot != NO_COLUMN)
            hk_diags_add(reader->diags, HK_CODE_COLUMN_DOUBLED, hk_cell_place(header, 0), "column \"%s\" stands here twice",
                         header.text);
        *slot = index;
        return;
    }
    hk_diags_add(reader->diags, HK_CODE_COLUMN_UNKNOWN, hk_cell_place(header, 0), "unknown column \"%s\"", header.text);
    size_t word = hk_text_nearest(header.text, FIRST_SIZE, column_name, reader);
    size_t size = hk_size_meant((struct hk_names){reader->size_count, size_name, reader}, header.text);
    if (word != SIZE_MAX || size != SIZE_MAX)
        hk_diags_hint(reader->diags, "did you mean \"%s\"?",
                      word != SIZE_MAX ? column_name(reader, word) : size_name(reader, size));
    else
        hk_diags_hint(reader->diags, "known are name, unit, print, ok and the sizes of project.csv");
}

static bool columns_read(struct grade_reader *reader)
{
    reader->name = reader->unit = reader->print = NO_COLUMN;
    reader->size = hk_arena_take(reader->arena, reader->size_count, sizeof *reader->size);
    if (!reader->size)
        return false;
    for (size_t i = 0; i < reader->size_count; i++)
        reader->size[i] = NO_COLUMN;
    size_t errors = reader->diags->errors;
    for (size_t i = 0; i < hk_table_columns(reader->table); i++)
        column_place(reader, i);
    for (size_t i = 0; i < FIRST_SIZE + reader->size_count; i++) {
        if (i == 1 || i == 2 || *column_slot(reader, i) != NO_COLUMN)
            continue;
        hk_diags_add(reader->diags, HK_CODE_COLUMN_MISSING, hk_table_place(reader->table), "there is no column \"%s\"",
                     column_name(reader, i));
        if (i >= FIRST_SIZE)
            hk_diags_hint(reader->diags, "add a column for each size of project.csv");
    }
    return reader->diags->errors == errors;
}

/* An empty cell with the place of the row where the file lacks the column. */
static struct hk_cell row_cell(const struct grade_reader *reader, size_t row, size_t column)
{
    if (column != NO_COLUMN)
        return hk_table_at(reader->table, row, column);
    struct hk_cell cell = hk_table_at(reader->table, row, reader->name);
    cell.text = "";
    return cell;
}

static bool print_read(struct hk_cell cell, bool *print, struct hk_diags *diags)
{
    *print = hk_text_same(cell.text, "yes") || hk_text_same(cell.text, "y") || hk_text_same(cell.text, "x");
    if (*print || hk_cell_empty(cell) || hk_text_same(cell.text, "no") || hk_text_same(cell.text, "n"))
        return true;
    hk_diags_add(diags, HK_CODE_CHOICE, hk_cell_place(cell, 0), "print is \"%s\"", cell.text);
    hk_diags_hint(diags, "write yes or no");
    return false;
}

/* A name that reads as a number could not be distinguished from a number. */
static bool name_read(const struct grade_reader *reader, struct hk_cell cell, const char **name)
{
    const char *plain = hk_text_plain(reader->arena, cell.text, NULL);
    *name = hk_text_shown(reader->arena, cell.text);
    if (!*name || !plain)
        return false;
    hk_name_bound(cell, *name, reader->diags);
    if (!**name) {
        hk_diags_add(reader->diags, HK_CODE_CELL_MISSING, hk_cell_place(cell, 0), "this measure has no name");
        hk_diags_hint(reader->diags, "write what is measured, such as body length");
        return false;
    }
    if (!hk_has_words(plain)) {
        hk_diags_add(reader->diags, HK_CODE_NAME_UNKNOWN, hk_cell_place(cell, 0),
                     "\"%s\" is a number, not the name of a measure", *name);
        hk_diags_hint(reader->diags, "write what is measured, such as body length");
        return false;
    }
    if (!hk_measure_find(&reader->grade, *name))
        return true;
    hk_diags_add(reader->diags, HK_CODE_NAME_DOUBLED, hk_cell_place(cell, 0), "\"%s\" stands here twice", *name);
    hk_diags_hint(reader->diags, "give each measure a name of its own");
    return false;
}

static bool row_amounts(const struct grade_reader *reader, size_t row, struct hk_amount *by_size)
{
    struct hk_cell *cells = hk_arena_take(reader->arena, reader->size_count, sizeof *cells);
    if (!cells)
        return false;
    for (size_t i = 0; i < reader->size_count; i++)
        cells[i] = hk_table_at(reader->table, row, reader->size[i]);
    return hk_amounts_row(cells, row_cell(reader, row, reader->unit), reader->sizes, reader->size_count, by_size,
                          reader->arena, reader->diags);
}

static bool row_read(struct grade_reader *reader, size_t row)
{
    struct hk_measure measure = {.cell = hk_table_at(reader->table, row, reader->name)};
    measure.by_size = hk_arena_take(reader->arena, reader->size_count, sizeof *measure.by_size);
    struct hk_measure *larger =
        hk_arena_grow(reader->arena, reader->grade.measures, reader->grade.count, &reader->capacity, sizeof *larger);
    if (!measure.by_size || !larger)
        return false;
    reader->grade.measures = larger;
    bool good = name_read(reader, measure.cell, &measure.name);
    good &= row_amounts(reader, row, measure.by_size);
    good &= print_read(row_cell(reader, row, reader->print), &measure.print, reader->diags);
    if (measure.name && *measure.name)
        reader->grade.measures[reader->grade.count++] = measure;
    return good;
}

bool hk_grade_read(const struct hk_table *table, const char *const *sizes, size_t size_count, struct hk_grade *grade,
                   struct hk_arena *arena, struct hk_diags *diags)
{
    struct grade_reader reader = {
        .table = table, .sizes = sizes, .size_count = size_count, .grade.sizes = sizes, .arena = arena, .diags = diags};
    bool good = !table || columns_read(&reader);
    size_t rows = table && good ? hk_table_rows(table) : 0;
    for (size_t i = 0; i < rows; i++)
        good &= row_read(&reader, i);
    diags->out_of_memory |= arena->out_of_memory;
    if (!good || arena->out_of_memory)
        return false;
    *grade = reader.grade;
    return true;
}
