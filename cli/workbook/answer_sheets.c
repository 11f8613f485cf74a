/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "workbook/answer_sheets.h"

#include "workbook/package.h"
#include "workbook/written.h"

#include <stdio.h>
#include <string.h>

#define SUBJECT "An answer of hankful"
#define NAME_MOST 31 /* characters in the name of a sheet */

/* Writes the header, and returns the columns in the order in which the rows first have them: header: index. */
static json_t *write_header(struct written *written, lxw_worksheet *page, const json_t *rows)
{
    json_t *columns = json_object(), *value;
    const char *key;
    for (size_t i = 0; i < json_array_size(rows); i++)
        json_object_foreach(json_array_get(rows, i), key, value)
        {
            const size_t column = json_object_size(columns);
            if (json_object_get(columns, key))
                continue;
            written->no_memory |= json_object_set_new(columns, key, json_integer((json_int_t)column)) != 0;
            written_text(written, page, 0, (uint32_t)column, key, written->head);
            const double width = (double)strlen(key) + 2;
            const lxw_col_t at = (lxw_col_t)column;
            written_done(written, worksheet_set_column(page, at, at, width < 12 ? 12 : width, NULL));
        }
    worksheet_freeze_panes(page, 1, 0);
    return columns;
}

static void write_value(struct written *written, lxw_worksheet *page, uint32_t row, uint32_t column,
                        const json_t *value)
{
    const json_t *money = json_object_get(value, "money");
    if (money)
        written_number(written, page, row, column, json_string_value(money));
    else if (json_is_string(value))
        written_text(written, page, row, column, json_string_value(value), written->text);
    else if (json_is_number(value))
        written_value(written, page, row, column, json_number_value(value));
    else if (json_is_boolean(value))
        written_done(written, worksheet_write_boolean(page, row, (lxw_col_t)column, json_is_true(value), NULL));
}

static void write_row(struct written *written, lxw_worksheet *page, uint32_t row, const json_t *columns, json_t *values)
{
    const char *key;
    json_t *value;
    json_object_foreach(values, key, value)
    {
        write_value(written, page, row, (uint32_t)json_integer_value(json_object_get(columns, key)), value);
    }
}

/* Writes the name of a sheet, cut, with a number if another sheet has it. */
static void name_sheet(struct written *written, const char *table, char name[4 * NAME_MOST])
{
    snprintf(name, 4 * (size_t)NAME_MOST, "%.*s", NAME_MOST, table);
    for (unsigned i = 2; workbook_get_worksheet_by_name(written->book, name); i++)
        snprintf(name, 4 * (size_t)NAME_MOST, "%.*s %u", NAME_MOST - 6, table, i);
}

bool answer_sheets_write(const json_t *tables, const char *path, const char **why)
{
    struct written written;
    json_t *rows;
    const char *table;
    written_begin(&written, path, SUBJECT);
    json_object_foreach((json_t *)(uintptr_t)tables, table, rows)
    {
        char name[4 * NAME_MOST];
        if (written.no_memory)
            break;
        name_sheet(&written, table, name);
        lxw_worksheet *page = written_page(&written, name);
        json_t *columns = page ? write_header(&written, page, rows) : NULL;
        for (size_t i = 0; columns && i < json_array_size(rows); i++)
            write_row(&written, page, (uint32_t)i + 1, columns, json_array_get(rows, i));
        json_decref(columns);
    }
    return written_end(&written, why);
}

/* ---- The properties of a file ---- */

struct subject {
    struct package *package;
    bool inside;
    struct growing text;
};

static void start_element(void *data, const char *name, const char **attributes)
{
    (void)attributes;
    struct subject *subject = data;
    subject->inside = strcmp(name, "subject") == 0;
}

static void end_element(void *data, const char *name)
{
    (void)name;
    struct subject *subject = data;
    subject->inside = false;
}

static void take_text(void *data, const char *text, size_t length)
{
    struct subject *subject = data;
    if (subject->inside)
        growing_add(&subject->text, subject->package, text, length);
}

bool answer_sheets_wrote(const char *path)
{
    struct sheets sheets = {0};
    struct package package;
    struct subject subject = {.package = &package};
    const struct part_reader reader = {&subject, start_element, end_element, take_text};
    const bool read = package_open(&package, &sheets, path) && package_has(&package, "docProps/core.xml") &&
                      package_parse(&package, "docProps/core.xml", &reader);
    const bool ours = read && strcmp(growing_text(&subject.text), SUBJECT) == 0;
    package_close(&package);
    free(subject.text.bytes);
    sheets_free(&sheets);
    return ours;
}
