/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "workbook/csv_cells.h"

#include "workbook/sheet_text.h"

#include <errno.h>
#include <iconv.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define QUOTE '"'

/* ---- Characters ---- */

/* Returns whether the bytes are text in that encoding; *no_memory is set if they could not be tried. */
static bool convert(const char *from, const char *bytes, size_t size, char *text, size_t room, size_t *used,
                    bool *no_memory)
{
    iconv_t converter = iconv_open("UTF-8", from);
    *no_memory |=
        converter == (iconv_t)-1 && errno != EINVAL; /* NOLINT(performance-no-int-to-ptr): the value of a failure */
    if (converter == (iconv_t)-1)                    /* NOLINT(performance-no-int-to-ptr) */
        return false;
    char *in = (char *)(uintptr_t)bytes, *out = text;
    size_t left = room - 1;
    const bool good = iconv(converter, &in, &size, &out, &left) != (size_t)-1 && size == 0;
    iconv_close(converter);
    *out = '\0';
    *used = (size_t)(out - text);
    return good;
}

/*
 * Returns the text in UTF-8, without a byte order mark; a file in another encoding is read as Windows-1252, as the
 * library reads it. Owner: the caller (free). Returns NULL with the reason.
 */
static char *decoded(struct sheets *sheets, const char *bytes, size_t size, size_t *used)
{
    const size_t room = 3 * size + 1, mark = size >= 3 && memcmp(bytes, "\xEF\xBB\xBF", 3) == 0 ? 3 : 0;
    char *text = malloc(room);
    bool no_memory = !text, good = false;
    const bool wide = size >= 2 && (memcmp(bytes, "\xFF\xFE", 2) == 0 || memcmp(bytes, "\xFE\xFF", 2) == 0);
    if (text && wide)
        good = convert("UTF-16", bytes, size, text, room, used, &no_memory);
    if (!good && !no_memory && !memchr(bytes, '\0', size))
        good = convert("UTF-8", bytes + mark, size - mark, text, room, used, &no_memory);
    if (!good && !no_memory && !memchr(bytes, '\0', size))
        good = convert("WINDOWS-1252", bytes, size, text, room, used, &no_memory);
    if (good)
        return text;
    free(text);
    if (no_memory)
        sheets_no_memory(sheets);
    else
        sheets_refuse(sheets, "a file is not text in UTF-8", "save it as CSV UTF-8");
    return NULL;
}

/* ---- From a file ---- */

struct csv {
    struct sheets *sheets;
    struct sheet *sheet;
    char separator;
    uint32_t row;
    char *cell; /* the text of the current cell, with room for the whole file */
};

static bool is_line_end(char c)
{
    return c == '\n' || c == '\r';
}

static const char *after_line_end(const char *c)
{
    return c + (*c == '\r' && c[1] == '\n') + (*c != '\0');
}

/* Returns the most frequent separator outside quotes; a comma if there is none. */
static char separator_of(const char *line)
{
    static const char separators[] = ",;\t";
    size_t counts[3] = {0};
    bool quoted = false;
    for (const char *c = line; *c && (quoted || !is_line_end(*c)); c++) {
        const char *separator = strchr(separators, *c);
        quoted = quoted != (*c == QUOTE);
        if (separator && !quoted)
            counts[separator - separators]++;
    }
    const size_t best = counts[1] > counts[0] ? 1 : 0;
    return separators[counts[2] > counts[best] ? 2 : best];
}

static bool is_note(const char *line)
{
    line += strspn(line, " ");
    return *line == '#' || (*line == QUOTE && line[1] == '#');
}

/* Returns the first line that is neither empty nor a note: the header. */
static const char *header_of(const char *text)
{
    while (*text && (is_note(text) || is_line_end(text[strspn(text, " \t,;\"")]))) {
        text += strcspn(text, "\r\n");
        text = after_line_end(text);
    }
    return text;
}

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

static size_t digit_run(const char *text)
{
    size_t count = 0;
    while (is_digit(text[count]))
        count++;
    return count;
}

/*
 * Returns whether the text is a number that its value states completely, such as 12, 4.50 or 95%, and writes it with a
 * point.
 */
static bool is_number(const struct csv *csv, const char *text, char number[40])
{
    const char *c = text + (*text == '-');
    const size_t whole = digit_run(c);
    const size_t length = strlen(text);
    if (whole == 0 || length > 16 || (whole > 1 && *c == '0'))
        return false;
    c += whole;
    const bool comma = *c == ',' && csv->separator != ',', point = *c == '.' && csv->separator != ';';
    const size_t decimals = comma || point ? digit_run(c + 1) : 0;
    if (csv->separator == '\t' && decimals == 3 && whole <= 3)
        return false; /* a thousand and more, or decimals: a text as before */
    c += decimals ? decimals + 1 : 0;
    c += *c == '%';
    if (*c || strcmp(text, "-0") == 0)
        return false;
    snprintf(number, 40, "%s", text);
    char *mark = strchr(number, ',');
    if (mark)
        *mark = '.';
    return true;
}

/*
 * Rewrites numbers of a text that starts with one: without the separator of its file, 1,234 could be a thousand and
 * more or have three decimals. The text becomes longer by at most a byte for each.
 */
static void make_certain(const struct csv *csv, char *text)
{
    const char decimal = csv->separator == ',' ? '.' : ',';
    if (csv->separator == '\t' || !is_digit(*text))
        return;
    for (char *c = text; *c;) {
        const size_t before = digit_run(c);
        char *mark = c + before;
        const bool doubtful = before >= 1 && before <= 3 && *c != '0' && (*mark == '.' || *mark == ',') &&
                              digit_run(mark + 1) == 3 && (c == text || (c[-1] != '.' && c[-1] != ','));
        if (doubtful && mark[4] != '.' && mark[4] != ',' && *mark == decimal) {
            memmove(mark + 5, mark + 4, strlen(mark + 4) + 1);
            mark[4] = '0';
        } else if (doubtful && mark[4] != '.' && mark[4] != ',') {
            memmove(mark, mark + 1, strlen(mark));
        }
        c += digit_run(c);
        c += *c != '\0';
    }
}

static bool put(struct csv *csv, uint32_t column, char *text)
{
    char number[40];
    const bool numeric = is_number(csv, text, number);
    if (!numeric)
        make_certain(csv, text);
    const char *words = numeric ? number : text;
    const struct sheet_cell cell = {.row = csv->row, .column = column, .kind = numeric ? CELL_NUMBER : CELL_TEXT};
    return !*words || sheets_put(csv->sheets, csv->sheet, cell, words, strlen(words));
}

/* Reads a cell. Returns the separator or line end behind it. */
static const char *read_cell(struct csv *csv, const char *text)
{
    size_t used = 0;
    while ((*text == ' ' || *text == '\t') && *text != csv->separator)
        text++;
    const bool quoted = *text == QUOTE;
    if (quoted) {
        for (text++; *text && (*text != QUOTE || text[1] == QUOTE); text++) {
            csv->cell[used++] = *text;
            text += *text == QUOTE;
        }
        text += *text == QUOTE;
    }
    const size_t kept = used;
    while (*text && *text != csv->separator && !is_line_end(*text))
        csv->cell[used++] = *text++;
    while (used > kept && (csv->cell[used - 1] == ' ' || csv->cell[used - 1] == '\t'))
        used--;
    csv->cell[used] = '\0';
    return text;
}

static bool read_rows(struct csv *csv, const char *text)
{
    bool good = true;
    for (; *text && good; csv->row++, text = after_line_end(text)) {
        if (*text == '#') {
            const size_t length = strcspn(text, "\r\n");
            memcpy(csv->cell, text, length);
            csv->cell[length] = '\0';
            good = sheets_put(csv->sheets, csv->sheet, (struct sheet_cell){.row = csv->row}, csv->cell, length);
            text += length;
            continue;
        }
        for (uint32_t column = 0; good; column++) {
            text = read_cell(csv, text);
            good = put(csv, column, csv->cell);
            if (*text != csv->separator)
                break;
            text++;
        }
    }
    return good;
}

static bool read_lines(struct csv *csv, const char *text)
{
    bool good = true;
    for (; *text && good; csv->row++, text = after_line_end(text)) {
        const size_t length = strcspn(text, "\r\n");
        good = length == 0 || sheets_put(csv->sheets, csv->sheet, (struct sheet_cell){.row = csv->row}, text, length);
        text += length;
    }
    return good;
}

bool csv_cells_add(struct sheets *sheets, const char *file, const char *bytes, size_t size)
{
    char name[40];
    size_t used = 0;
    snprintf(name, sizeof name, "%.*s", (int)strcspn(file, "."), file);
    struct csv csv = {.sheets = sheets, .sheet = sheets_add(sheets, name)};
    char *text = csv.sheet ? decoded(sheets, bytes, size, &used) : NULL;
    csv.cell = text ? calloc(2 * used + 2, 1) : NULL;
    bool good = csv.cell != NULL;
    if (text && !good)
        sheets_no_memory(sheets);
    if (good && sheet_is_pattern(csv.sheet)) {
        good = read_lines(&csv, text);
    } else if (good) {
        const bool stated = strncmp(text, "sep=", 4) == 0 && text[4];
        csv.separator = stated ? text[4] : separator_of(header_of(text));
        const char *rest = stated ? text + strcspn(text, "\r\n") : text;
        good = read_rows(&csv, stated ? after_line_end(rest) : rest);
    }
    free(csv.cell);
    free(text);
    return good;
}

/* ---- To a file ---- */

/* Returns whether a text has a number that means another one between commas: 4,95, or 1.234. */
static bool needs_tabs(const char *text)
{
    for (const char *c = text; *c; c++)
        if (is_digit(*c) && ((c[1] == ',' && is_digit(c[2])) || (c[1] == '.' && digit_run(c + 2) == 3)))
            return true;
    return false;
}

static bool sheet_needs_tabs(const struct sheets *sheets, const struct sheet *sheet)
{
    for (size_t i = 0; i < sheet->count; i++) {
        const char *text = sheets_text(sheets, &sheet->cells[i]);
        if (sheet->cells[i].kind == CELL_TEXT && *text != '#' && needs_tabs(text))
            return true;
    }
    return false;
}

/* Returns whether the cell is the only one of its row, and begins with #. */
static bool is_note_row(const struct sheets *sheets, const struct sheet *sheet, size_t i)
{
    const struct sheet_cell *cell = &sheet->cells[i];
    const char *text = sheets_text(sheets, cell);
    const bool alone = i + 1 == sheet->count || sheet->cells[i + 1].row != cell->row;
    return alone && cell->column == 0 && *text == '#' && !strpbrk(text, "\r\n");
}

static void write_cell(FILE *out, const struct sheets *sheets, const struct sheet_cell *cell, char separator)
{
    char special[] = {separator, QUOTE, '\n', '\r', '\0'};
    const char *text = sheets_text(sheets, cell);
    const size_t length = strlen(text);
    const bool noted = *text == '#' && cell->column == 0; /* would begin a note */
    const bool quoted = noted || strpbrk(text, special) || (length && (*text == ' ' || text[length - 1] == ' '));
    if (cell->kind == CELL_NUMBER && separator == '\t') {
        sheet_text_number(text, out);
        return;
    }
    if (quoted)
        fputc(QUOTE, out);
    for (const char *c = text; *c; c++) {
        if (*c == QUOTE)
            fputc(QUOTE, out);
        fputc(*c, out);
    }
    if (quoted)
        fputc(QUOTE, out);
}

/* Writes the row of cell i, as wide as the header at least. Returns the index of the first cell of the next row. */
static size_t write_row(FILE *out, const struct sheets *sheets, const struct sheet *sheet, size_t i, uint32_t columns,
                        char separator)
{
    const uint32_t row = sheet->cells[i].row;
    for (uint32_t column = 0; column < columns || (i < sheet->count && sheet->cells[i].row == row); column++) {
        if (column > 0)
            fputc(separator, out);
        if (i < sheet->count && sheet->cells[i].row == row && sheet->cells[i].column <= column)
            write_cell(out, sheets, &sheet->cells[i++], separator);
    }
    fputc('\n', out);
    return i;
}

static void write_table(FILE *out, const struct sheets *sheets, const struct sheet *sheet)
{
    const char separator = sheet_needs_tabs(sheets, sheet) ? '\t' : ',';
    uint32_t row = 0, columns = 0;
    for (size_t i = 0; i < sheet->count; row++) {
        for (; row < sheet->cells[i].row; row++)
            fputc('\n', out);
        if (is_note_row(sheets, sheet, i)) {
            fprintf(out, "%s\n", sheets_text(sheets, &sheet->cells[i++]));
            continue;
        }
        const bool header = columns == 0;
        const size_t next = write_row(out, sheets, sheet, i, columns, separator);
        columns = header ? sheet->cells[next - 1].column + 1 : columns;
        i = next;
    }
}

char *csv_cells_text(const struct sheets *sheets, const struct sheet *sheet, size_t *size, const char **why)
{
    char *bytes = NULL;
    FILE *out = open_memstream(&bytes, size);
    struct sheet_text lines = {0};
    *why = "out of memory";
    if (out && sheet_is_pattern(sheet)) {
        if (sheet_text_make(&lines, sheets, sheet))
            fwrite(lines.bytes, 1, lines.used, out);
    } else if (out) {
        write_table(out, sheets, sheet);
    }
    const bool kept = out && !ferror(out) && !lines.no_memory && !lines.too_large;
    sheet_text_free(&lines);
    if (out && fclose(out) == 0 && kept && bytes)
        return bytes;
    free(bytes);
    return NULL;
}
