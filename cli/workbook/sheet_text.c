/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "workbook/sheet_text.h"

#include <stdlib.h>
#include <string.h>

/* Columns beyond these are not filled up with separators: no file of a project has as many. */
#define FILLED_COLUMNS 1024

static bool add(struct sheet_text *text, const char *bytes, size_t length)
{
    if (length > SHEETS_TEXT_BYTES - text->used) {
        text->too_large = true;
        return false;
    }
    if (text->used + length + 1 > text->capacity) {
        const size_t capacity = 2 * (text->used + length + 1);
        char *grown = realloc(text->bytes, capacity);
        if (!grown) {
            text->no_memory = true;
            return false;
        }
        text->bytes = grown;
        text->capacity = capacity;
    }
    memcpy(text->bytes + text->used, bytes, length);
    text->used += length;
    text->bytes[text->used] = '\0';
    return true;
}

static bool mark(struct sheet_text *text, struct sheet_mark mark)
{
    if (text->mark_count == text->mark_capacity) {
        const size_t capacity = text->mark_capacity ? 2 * text->mark_capacity : 256;
        struct sheet_mark *grown = realloc(text->marks, capacity * sizeof *grown);
        if (!grown) {
            text->no_memory = true;
            return false;
        }
        text->marks = grown;
        text->mark_capacity = capacity;
    }
    text->marks[text->mark_count++] = mark;
    return true;
}

static uint32_t characters_in(const char *bytes, size_t length)
{
    uint32_t count = 0;
    for (size_t i = 0; i < length; i++)
        count += ((unsigned char)bytes[i] & 0xC0) != 0x80;
    return count;
}

/* The place of the next byte. */
struct cursor {
    uint32_t line, character;
};

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

/*
 * Returns the length of a number up to the third decimal, if it has exactly three and at most three digits before them:
 * 1.234 could be a thousand and more, so that a value gets a further zero. 0: none begins at `text`.
 */
static size_t doubtful(const char *text)
{
    size_t before = 0;
    while (is_digit(text[before]))
        before++;
    const bool three = before >= 1 && before <= 3 && text[0] != '0' && text[before] == '.' &&
                       is_digit(text[before + 1]) && is_digit(text[before + 2]) && is_digit(text[before + 3]) &&
                       !is_digit(text[before + 4]);
    return three ? before + 4 : 0;
}

void sheet_text_number(const char *text, FILE *out)
{
    for (const char *c = text; *c; c++) {
        const size_t length = c == text || !is_digit(c[-1]) ? doubtful(c) : 0;
        if (length > 0) {
            fprintf(out, "%.*s0", (int)length, c);
            c += length - 1;
        } else {
            fputc(*c, out);
        }
    }
}

/* Adds a cell in quotes; a line end in it becomes a blank, so that lines remain rows. */
static bool add_quoted(struct sheet_text *text, const char *words, enum sheet_kind kind, struct cursor *cursor)
{
    bool good = add(text, "\"", 1);
    for (size_t i = 0; words[i] && good; i++) {
        const char c = words[i] == '\n' || words[i] == '\r' || words[i] == '\t' ? ' ' : words[i];
        const size_t length = kind == CELL_NUMBER && (i == 0 || !is_digit(words[i - 1])) ? doubtful(words + i) : 0;
        if (length > 0) {
            good = add(text, words + i, length) && add(text, "0", 1);
            cursor->character += (uint32_t)length + 1;
            i += length - 1;
            continue;
        }
        good = add(text, &c, 1) && (c != '"' || add(text, "\"", 1));
        cursor->character += c == '"' ? 2 : ((unsigned char)c & 0xC0) != 0x80;
    }
    cursor->character += 2;
    return good && add(text, "\"", 1);
}

bool sheet_is_pattern(const struct sheet *sheet)
{
    const char *file = sheets_file(sheet->name);
    return file && strcmp(file, "pattern.txt") == 0;
}

/* Adds row `row` of a table, whose first cell is cells[0]. Returns the number of its cells; 0 on failure. */
static size_t add_row(struct sheet_text *text, const struct sheets *sheets, const struct sheet_cell *cells, size_t most,
                      uint32_t columns)
{
    const uint32_t row = cells[0].row;
    struct cursor cursor = {row + 1, 1};
    size_t done = 0;
    for (uint32_t column = 0; column < columns || (done < most && cells[done].row == row); column++) {
        const bool good = (column == 0 || add(text, "\t", 1)) &&
                          mark(text, (struct sheet_mark){cursor.line, cursor.character += column > 0, row, column});
        const bool filled = done < most && cells[done].row == row && cells[done].column <= column;
        if (!good || (filled && !add_quoted(text, sheets_text(sheets, &cells[done]), cells[done].kind, &cursor)))
            return 0;
        done += filled;
    }
    return add(text, "\n", 1) ? done : 0;
}

static bool make_table(struct sheet_text *text, const struct sheets *sheets, const struct sheet *sheet)
{
    uint32_t columns = 2, row = 0; /* of one column the separator could not be known */
    for (size_t i = 0; i < sheet->count; i++)
        if (sheet->cells[i].column >= columns)
            columns = sheet->cells[i].column + 1;
    if (columns > FILLED_COLUMNS)
        columns = 2;
    for (size_t i = 0, count; i < sheet->count; i += count) {
        for (; row < sheet->cells[i].row; row++)
            if (!add(text, "\n", 1))
                return false;
        count = add_row(text, sheets, &sheet->cells[i], sheet->count - i, columns);
        if (count == 0)
            return false;
        row++;
    }
    return true;
}

/* Adds the text of a cell; its line ends begin lines of the text, which belong to the same cell. */
static bool add_lines(struct sheet_text *text, const char *words, const struct sheet_cell *cell, struct cursor *cursor)
{
    while (true) {
        const size_t length = strcspn(words, "\r\n");
        if (!mark(text, (struct sheet_mark){cursor->line, cursor->character, cell->row, cell->column}) ||
            !add(text, words, length))
            return false;
        cursor->character += characters_in(words, length);
        words += length;
        words += *words == '\r' && words[1] == '\n';
        if (!*words)
            return true;
        words++;
        *cursor = (struct cursor){cursor->line + 1, 1};
        if (!add(text, "\n", 1))
            return false;
    }
}

/* The cells of a row are one line, with a blank between them. */
static bool make_pattern(struct sheet_text *text, const struct sheets *sheets, const struct sheet *sheet)
{
    struct cursor cursor = {1, 1};
    uint32_t row = 0;
    for (size_t i = 0; i < sheet->count; i++) {
        const struct sheet_cell *cell = &sheet->cells[i];
        for (; row < cell->row; row++) {
            cursor = (struct cursor){cursor.line + 1, 1};
            if (!add(text, "\n", 1))
                return false;
        }
        const bool first = cursor.character == 1;
        cursor.character += !first;
        if ((!first && !add(text, " ", 1)) || !add_lines(text, sheets_text(sheets, cell), cell, &cursor))
            return false;
    }
    return sheet->count == 0 || add(text, "\n", 1);
}

bool sheet_text_make(struct sheet_text *text, const struct sheets *sheets, const struct sheet *sheet)
{
    return add(text, "", 0) &&
           (sheet_is_pattern(sheet) ? make_pattern(text, sheets, sheet) : make_table(text, sheets, sheet));
}

void sheet_text_free(struct sheet_text *text)
{
    free(text->bytes);
    free(text->marks);
    *text = (struct sheet_text){0};
}

const struct sheet_mark *sheet_text_cell(const struct sheet_text *text, size_t line, size_t character)
{
    size_t low = 0, high = text->mark_count;
    while (low < high) {
        const size_t middle = low + (high - low) / 2;
        const struct sheet_mark *mark = &text->marks[middle];
        if (mark->line < line || (mark->line == line && mark->character <= character))
            low = middle + 1;
        else
            high = middle;
    }
    if (low == 0)
        return text->mark_count ? &text->marks[0] : NULL;
    return &text->marks[low - 1];
}

const struct sheet_mark *sheet_text_place(const struct sheet_text *text, uint32_t row, uint32_t column)
{
    for (size_t i = 0; i < text->mark_count; i++)
        if (text->marks[i].row == row && text->marks[i].column == column)
            return &text->marks[i];
    return NULL;
}
