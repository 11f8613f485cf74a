/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "workbook/sheets.h"

#include "hankful.h"

#include <stdlib.h>
#include <string.h>
#include <strings.h>

bool sheets_refuse(struct sheets *sheets, const char *why, const char *remedy)
{
    if (!sheets->why) {
        sheets->why = why;
        sheets->remedy = remedy;
    }
    return false;
}

bool sheets_no_memory(struct sheets *sheets)
{
    sheets->no_memory = true;
    return sheets_refuse(sheets, "out of memory", NULL);
}

const char *sheets_file(const char *sheet)
{
    const size_t blanks = strspn(sheet, " ");
    size_t length = strlen(sheet + blanks);
    const char *file;
    while (length > 0 && sheet[blanks + length - 1] == ' ')
        length--;
    for (size_t i = 0; (file = hk_project_file(i)); i++)
        if (strcspn(file, ".") == length && strncasecmp(file, sheet + blanks, length) == 0)
            return file;
    return NULL;
}

struct sheet *sheets_add(struct sheets *sheets, const char *name)
{
    struct sheet *list = realloc(sheets->list, (sheets->count + 1) * sizeof *list);
    if (list)
        sheets->list = list;
    char *copy = list ? strdup(name) : NULL;
    if (!copy) {
        sheets_no_memory(sheets);
        return NULL;
    }
    const char *file = sheets_file(name);
    for (size_t i = 0; file && i < sheets->count; i++)
        if (list[i].wanted && sheets_file(list[i].name) == file)
            sheets_refuse(sheets, "two of its sheets have the same name, blanks and letter case aside",
                          "rename one of them");
    list[sheets->count] = (struct sheet){.name = copy, .wanted = file != NULL};
    return &list[sheets->count++];
}

/* Returns whether there is room for `more` items of `size` bytes; *list grows by doubling. */
static bool make_room(void **list, size_t used, size_t *capacity, size_t more, size_t size)
{
    if (*list && *capacity - used >= more)
        return true;
    size_t wanted = *capacity ? *capacity : 256;
    while (wanted - used < more)
        wanted *= 2;
    void *grown = realloc(*list, wanted * size);
    if (!grown)
        return false;
    *list = grown;
    *capacity = wanted;
    return true;
}

bool sheets_put(struct sheets *sheets, struct sheet *sheet, struct sheet_cell cell, const char *text, size_t length)
{
    static const char large[] = "it has more cells or text than any project";
    if (sheets->cells >= SHEETS_CELLS || length > SHEETS_TEXT_BYTES - sheets->used)
        return sheets_refuse(sheets, large, "remove sheets and rows that are not the project's");
    if (cell.row >= SHEETS_ROWS || cell.column >= SHEETS_COLUMNS)
        return sheets_refuse(sheets, "a cell lies outside any sheet", "open it in a spreadsheet and save it again");
    void *texts = sheets->texts, *cells = sheet->cells;
    const bool room = make_room(&texts, sheets->used, &sheets->capacity, length + 1, 1);
    const bool room_too = room && make_room(&cells, sheet->count, &sheet->capacity, 1, sizeof *sheet->cells);
    sheets->texts = texts;
    sheet->cells = cells;
    if (!room_too)
        return sheets_no_memory(sheets);
    cell.text = sheets->used;
    if (length)
        memcpy(sheets->texts + sheets->used, text, length);
    sheets->texts[sheets->used + length] = '\0';
    sheets->used += length + 1;
    sheet->cells[sheet->count++] = cell;
    sheets->cells++;
    return true;
}

size_t sheets_empty(struct sheets *sheets)
{
    void *texts = sheets->texts;
    const size_t at = sheets->used;
    const bool room = make_room(&texts, at, &sheets->capacity, 1, 1);
    sheets->texts = texts;
    if (!room) {
        sheets_no_memory(sheets);
        return 0;
    }
    sheets->texts[sheets->used++] = '\0';
    return at;
}

static int compare_cells(const void *one, const void *other)
{
    const struct sheet_cell *a = one, *b = other;
    if (a->row != b->row)
        return a->row < b->row ? -1 : 1;
    if (a->column != b->column)
        return a->column < b->column ? -1 : 1;
    return a->text < b->text ? -1 : a->text > b->text;
}

void sheets_sort(struct sheets *sheets)
{
    for (size_t i = 0; i < sheets->count; i++) {
        struct sheet *sheet = &sheets->list[i];
        size_t kept = 0;
        if (sheet->count > 1)
            qsort(sheet->cells, sheet->count, sizeof *sheet->cells, compare_cells);
        for (size_t c = 0; c < sheet->count; c++)
            if (sheet->cells[c].kind == CELL_UNSOLVED || *sheets_text(sheets, &sheet->cells[c]))
                sheet->cells[kept++] = sheet->cells[c];
        sheet->count = kept;
    }
}

const char *sheets_text(const struct sheets *sheets, const struct sheet_cell *cell)
{
    return sheets->texts + cell->text;
}

void sheets_free(struct sheets *sheets)
{
    for (size_t i = 0; i < sheets->count; i++) {
        free(sheets->list[i].name);
        free(sheets->list[i].cells);
    }
    free(sheets->list);
    free(sheets->texts);
    *sheets = (struct sheets){0};
}

void sheet_letters(uint32_t column, char letters[SHEET_LETTERS])
{
    char backwards[SHEET_LETTERS];
    size_t count = 0;
    for (uint64_t left = (uint64_t)column + 1; left > 0; left = (left - 1) / 26)
        backwards[count++] = (char)('A' + (left - 1) % 26);
    for (size_t i = 0; i < count; i++)
        letters[i] = backwards[count - 1 - i];
    letters[count] = '\0';
}
