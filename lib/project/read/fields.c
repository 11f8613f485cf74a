/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "project/read/fields.h"

#include "base/text.h"
#include "catalogue/catalogue.h"

#include <assert.h>

/* ---- Columns ------------------------------------------------------------------------------------------------- */

const struct hk_column *hk_fields_columns(const struct hk_field *fields, struct hk_column columns[HK_FIELDS_MOST + 1])
{
    size_t count = 0;
    for (; fields[count].name; count++) {
        assert(count < HK_FIELDS_MOST);
        const struct hk_field *field = &fields[count];
        columns[count] =
            (struct hk_column){field->name, field->need != HK_FIELD_OPTIONAL, field->need == HK_FIELD_FILLED};
    }
    columns[count] = (struct hk_column){NULL, false, false};
    return columns;
}

const struct hk_table *hk_fields_table(struct hk_reading *reading, const char *name, const struct hk_field *fields,
                                       bool required, bool *known)
{
    struct hk_column columns[HK_FIELDS_MOST + 1];
    return hk_reading_table(reading, name, hk_fields_columns(fields, columns), required, known);
}

/* ---- Cells --------------------------------------------------------------------------------------------------- */

static bool within(const struct hk_bound *bound, struct hk_reading *reading, struct hk_cell cell, double ratio)
{
    if (!bound || ratio < bound->most || (ratio == bound->most && !bound->below))
        return true;
    hk_diags_add(reading->diags, HK_CODE_RANGE, hk_cell_place(cell, 0), "%s%s%%%s", bound->before,
                 hk_number_text(100 * ratio, 6).text, bound->after);
    hk_diags_hint(reading->diags, "%s", bound->hint);
    return false;
}

static bool read_quantity(const struct hk_field *field, struct hk_reading *reading, struct hk_cell cell, double *value)
{
    double read = field->word_value;
    bool is_word = field->word && hk_text_same(cell.text, field->word);
    if (!is_word && (!hk_quantity_cell(cell, field->dimension, field->sign, &read, reading->diags) ||
                     !within(field->bound, reading, cell, read)))
        return false;
    *value = read;
    return true;
}

static bool read_word(const struct hk_field *field, struct hk_reading *reading, struct hk_cell cell, bool *value)
{
    size_t choice;
    if (!hk_reading_choice(reading, cell, field->words, 2, &choice))
        return false;
    *value = choice == 1;
    return true;
}

/* Without a finding where the sizes, or grade.csv for a cell that starts with a letter, could not be read: that is
 * reported. */
static bool read_graded(const struct hk_field *field, struct hk_reading *reading, struct hk_cell cell,
                        struct hk_graded *value)
{
    struct hk_project *project = reading->project;
    if (!reading->knows_sizes || (!reading->knows_grade && hk_is_letter(*hk_reading_text(reading, cell))))
        return false;
    return hk_graded_cell(cell, project->size_count, &project->grade, field->lengths, value, &project->arena,
                          reading->diags);
}

static bool read_filled(const struct hk_field *field, struct hk_reading *reading, struct hk_cell cell, void *value)
{
    switch (field->holds) {
    case HK_HOLDS_OTHER:
        return true;
    case HK_HOLDS_NAME:
        *(const char **)value = hk_reading_name(reading, cell);
        return true;
    case HK_HOLDS_TEXT:
        *(const char **)value = hk_reading_text(reading, cell);
        return true;
    case HK_HOLDS_QUANTITY:
        return read_quantity(field, reading, cell, value);
    case HK_HOLDS_COUNT:
        return hk_count_cell(cell, field->sign, value, reading->diags);
    case HK_HOLDS_MONEY:
        return hk_reading_money(reading, cell, value);
    case HK_HOLDS_WORD:
        return read_word(field, reading, cell, value);
    case HK_HOLDS_FABRIC:
        return hk_reading_fabric(reading, cell, value);
    case HK_HOLDS_TOOL:
        return hk_tool_cell(cell, reading->project->catalogue, value, reading->diags);
    case HK_HOLDS_GRADED:
        return read_graded(field, reading, cell, value);
    case HK_HOLDS_READ:
        return field->read(reading, cell, value);
    }
    return false;
}

static void *at(void *into, size_t offset)
{
    return (char *)into + offset;
}

bool hk_field_read(const struct hk_field *field, struct hk_reading *reading, struct hk_cell cell, void *into)
{
    void *value = at(into, field->value);
    if (field->keeps_cell)
        *(struct hk_cell *)at(into, field->cell) = cell;
    if (!hk_cell_empty(cell))
        return read_filled(field, reading, cell, value);
    if (field->holds == HK_HOLDS_NAME || field->holds == HK_HOLDS_TEXT)
        *(const char **)value = "";
    return field->need != HK_FIELD_FILLED;
}

bool hk_fields_read(const struct hk_field *fields, struct hk_reading_row row, void *into)
{
    bool good = true;
    for (size_t i = 0; fields[i].name; i++)
        good &= hk_field_read(&fields[i], row.reading, hk_reading_cell(row, i), into);
    return good;
}
