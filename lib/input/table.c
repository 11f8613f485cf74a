/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * libcsv separates cells and rows. This file handles notes, separators, column names and places. It gives libcsv one
 * physical line at a time, so that the line is known.
 *
 * The table keeps the whole file, and the text of each cell with its offset in the file. Lines and columns are computed
 * only for messages, from the start of the row.
 *
 * After a syntax error the row is dropped, and parsing continues with the line after the start of the bad cell: an
 * unclosed quote costs one line, not the rest of the file.
 */
#include "input/table.h"

#include "base/diags.h"
#include "base/text.h"
#include "input/error_value.h"
#include "input/ok_words.h"
#include "input/read_file.h"

#include <assert.h>
#include <csv.h>
#include <stdlib.h>
#include <string.h>

#define QUOTE '"'

#define MARK_HINT "inches written as 5\" need the whole cell in quotes with the mark doubled (\"5\"\"\"), or write 5 in"

/* Offsets have 32 bits, and decoding may triple the size of a file. */
#define BYTES_MOST ((UINT32_MAX - 16) / 3)
#define HEADER_ROW UINT32_MAX
#define NO_COLUMN UINT32_MAX

struct row {
    uint32_t line;       /* line of its first byte, from 1 */
    uint32_t start, end; /* offsets in raw of its first byte and of the end of its last cell */
    uint32_t first;      /* index in cells of its first cell */
};

struct cell {
    uint32_t at;   /* offset in raw of the first byte of its text */
    uint32_t text; /* offset in texts */
};

/* Row 0 is the header. A row has at most as many cells as the header. */
struct hk_table {
    struct hk_arena arena;
    const char *name;
    struct hk_identity identity;
    char *raw; /* the file as UTF-8 text */
    size_t raw_bytes;
    char *texts; /* of all cells, zero-terminated; not larger than the file, where each cell has a separator or line end
                  */
    size_t text_bytes;
    char separator;
    struct cell *cells; /* at most one for each separator and line end; one row for each line */
    size_t cell_count;
    struct row *rows;
    size_t row_count;
    size_t columns;
    uint32_t *index_of; /* for each column of the options its index in the file, or NO_COLUMN */
    size_t known_count;
    size_t ok; /* the index of the column that accepts findings; SIZE_MAX: none */
    const char
        *typed; /* hk_table_words: the text as typed; else NULL. Its cells have their offset in `raw`, the plain text */
    size_t *origin; /* of each byte of `raw`, its index in `typed`; NULL: the same */
};

/* ---- Places -------------------------------------------------------------------------------------------------------- */

static bool is_line_end(char c)
{
    return c == '\n' || c == '\r';
}

/*
 * Returns the length in bytes of a blank that is trimmed from cells (ASCII, no-break and invisible blanks) at `text`;
 * else 0.
 */
static size_t blank_length(const char *text)
{
    if (*text == ' ' || (*text >= '\t' && *text <= '\r'))
        return 1;
    if (strncmp(text, "\xC2\xA0", 2) == 0)
        return 2;
    bool thin = strncmp(text, "\xE2\x80\xAF", 3) == 0 || strncmp(text, "\xE2\x80\x8B", 3) == 0;
    return thin || strncmp(text, "\xEF\xBB\xBF", 3) == 0 ? 3 : 0;
}

/* Returns the offset of the first character, or opening quote, of the cell that begins at `at`. */
static size_t cell_open(const struct hk_table *table, size_t at)
{
    const char *raw = table->raw;
    while ((raw[at] == ' ' || raw[at] == '\t') && raw[at] != table->separator)
        at++;
    return at;
}

/* Returns true for the last byte of a line end: LF, CR LF or CR. */
static bool ends_line(const char *c)
{
    return *c == '\n' || (*c == '\r' && c[1] != '\n');
}

/*
 * Advances the place over `bytes` bytes of text. A quote counts as `quotes` columns: a doubled quote is one quote in
 * the text.
 */
static void place_move(struct hk_place *place, const char *text, size_t bytes, size_t quotes)
{
    for (const char *c = text; c < text + bytes; c++) {
        if (ends_line(c)) {
            place->line++;
            place->column = 1;
        } else if (((unsigned char)*c & 0xC0) != 0x80) {
            place->column += *c == QUOTE ? quotes : 1;
        }
    }
}

/* Returns the place of the byte at offset `at`, which belongs to the row. */
static struct hk_place raw_place(const struct hk_table *table, const struct row *row, size_t at)
{
    struct hk_place place = {table->name, row->line, 1};
    place_move(&place, table->raw + row->start, at - row->start, 1);
    return place;
}

/*
 * Returns the place of byte `offset` in the text of cell `index` of the row, or the end of the row if `index` is not
 * below `count`, the number of its cells.
 */
static struct hk_place row_place(const struct hk_table *table, const struct row *row, size_t count, size_t index,
                                 size_t offset)
{
    if (index >= count)
        return raw_place(table, row, row->end);
    const struct cell *cell = &table->cells[row->first + index];
    const char *text = table->texts + cell->text;
    struct hk_place place = raw_place(table, row, cell->at);
    place_move(&place, text, strnlen(text, offset), 2);
    return place;
}

/* ---- Names of columns ---------------------------------------------------------------------------------------------- */

/* The state of the parser: the partial table and the current row. */
struct reader {
    struct hk_table *table;
    struct hk_diags *diags;
    const struct hk_column *known;
    bool accepts; /* a column "ok" accepts findings */
    struct csv_parser parser;
    size_t at, line;     /* offset and number of the next line */
    struct row row;      /* the current row */
    size_t cell;         /* the offset of its next cell */
    size_t filled_cells; /* the number of cells up to the last filled one */
    bool bad_row;        /* a finding makes the row unusable */
    bool inside;         /* the row continues in the next line, within quotes */
    size_t unnamed;      /* the number of unnamed columns between others */
    bool header_read;
    bool *is_read;       /* for each column of the file: it is known, or all columns are accepted */
    bool damaged;        /* rows or columns are missing from the table */
    bool stop;           /* the rest of the file cannot be parsed */
};

/* Returns a column name with underscores for blanks and dashes: "Put up" is put_up. NULL when out of memory. */
static char *column_name(struct hk_arena *arena, const char *text)
{
    char *name = hk_text_plain(arena, text, NULL);
    for (char *c = name; c && *c; c++) {
        if (*c == ' ' || *c == '-')
            *c = '_';
    }
    return name;
}

/*
 * Returns the required columns as a list, or all if none is required: "role, yarn, put_up, length". NULL when out of
 * memory.
 */
static const char *column_list(struct hk_arena *arena, const struct hk_column *known)
{
    bool any_required = false;
    for (const struct hk_column *k = known; k->name; k++)
        any_required |= k->required;
    const char *list = "";
    for (const struct hk_column *k = known; k->name && list; k++) {
        if (k->required || !any_required)
            list = hk_arena_print(arena, "%s%s%s", list, *list ? ", " : "", k->name);
    }
    return list;
}

static const char *cell_text(const struct hk_table *table, const struct row *row, size_t count, size_t index)
{
    return index < count ? table->texts + table->cells[row->first + index].text : "";
}

/* Returns the number of cells of the current row so far. */
static size_t row_cells(const struct reader *reader)
{
    return reader->table->cell_count - reader->row.first;
}

/* Returns the text of cell `index` of the current row. */
static const char *row_text(const struct reader *reader, size_t index)
{
    return cell_text(reader->table, &reader->row, row_cells(reader), index);
}

static struct hk_place here(const struct reader *reader, size_t index)
{
    return row_place(reader->table, &reader->row, row_cells(reader), index, 0);
}

static void hint_columns(struct reader *reader)
{
    const char *list = reader->known ? column_list(&reader->table->arena, reader->known) : NULL;
    if (list)
        hk_diags_hint(reader->diags, "the first row names the columns: %s", list);
    else
        hk_diags_hint(reader->diags, "the first row names the columns");
}

static void add_doubled(struct reader *reader, size_t index, size_t earlier)
{
    hk_diags_add(reader->diags, HK_CODE_COLUMN_DOUBLED, here(reader, index), "the column \"%s\" stands twice",
                 row_text(reader, index));
    hk_diags_hint(reader->diags, "rename or remove one: the first is column %zu", earlier + 1);
    reader->damaged = true;
}

/* Maps each known column to the index of its header cell, and marks the matched header cells. */
static size_t match_columns(struct reader *reader, char *const *names, bool *matched)
{
    struct hk_table *table = reader->table;
    size_t count = 0;
    for (size_t i = 0; i < table->columns; i++) {
        size_t k = 0;
        while (k < table->known_count && !hk_text_same(names[i], reader->known[k].name))
            k++;
        if (k == table->known_count || !*names[i])
            continue;
        matched[i] = true;
        count++;
        if (table->index_of[k] == NO_COLUMN)
            table->index_of[k] = (uint32_t)i;
        else
            add_doubled(reader, i, table->index_of[k]);
    }
    return count;
}

/*
 * For hk_text_nearest: returns the name of known column k if the file lacks it, since a present column is no
 * suggestion.
 */
static const char *lacking_name(const void *context, size_t k)
{
    const struct reader *reader = context;
    return reader->table->index_of[k] == NO_COLUMN ? reader->known[k].name : "";
}

static void add_unknown(struct reader *reader, size_t index, const char *name)
{
    struct hk_table *table = reader->table;
    size_t nearest = hk_text_nearest(name, table->known_count, lacking_name, reader);
    hk_diags_add(reader->diags, HK_CODE_COLUMN_UNKNOWN, here(reader, index), "no column is called \"%s\": it is not read",
                 row_text(reader, index));
    if (nearest != SIZE_MAX)
        hk_diags_hint(reader->diags, "is it meant to be \"%s\"?", reader->known[nearest].name);
}

/* Returns the index of an unknown header cell whose nearest name is column k; SIZE_MAX if there is none. */
static size_t misspelt(const struct reader *reader, char *const *names, const bool *matched, size_t k)
{
    const struct hk_table *table = reader->table;
    for (size_t i = 0; i < table->columns; i++) {
        if (!matched[i] && hk_text_nearest(names[i], table->known_count, lacking_name, reader) == k)
            return i;
    }
    return SIZE_MAX;
}

static void add_missing(struct reader *reader, char *const *names, const bool *matched)
{
    for (size_t k = 0; k < reader->table->known_count; k++) {
        if (!reader->known[k].required || reader->table->index_of[k] != NO_COLUMN)
            continue;
        hk_diags_add(reader->diags, HK_CODE_COLUMN_MISSING, here(reader, 0), "the column \"%s\" is missing",
                     reader->known[k].name);
        size_t near = misspelt(reader, names, matched, k);
        if (near != SIZE_MAX)
            hk_diags_hint(reader->diags, "is \"%s\" meant to be it?", row_text(reader, near));
        else
            hk_diags_hint(reader->diags, "add it to this row, and a cell for it to each row below");
        reader->damaged = true;
    }
}

/* Returns true when columns are required and the first row names none, not even misspelt: the file has no header. */
static bool is_no_header(const struct reader *reader, char *const *names)
{
    bool any_required = false;
    for (const struct hk_column *k = reader->known; k->name; k++)
        any_required |= k->required;
    for (size_t i = 0; i < reader->table->columns && any_required; i++) {
        if (hk_text_nearest(names[i], reader->table->known_count, lacking_name, reader) != SIZE_MAX)
            return false;
    }
    return any_required;
}

/* The place in the current row of byte `offset` of its cell "ok". */
static struct hk_place ok_place(const void *host, size_t offset)
{
    const struct reader *reader = host;
    return row_place(reader->table, &reader->row, row_cells(reader), reader->table->ok, offset);
}

/* Accepts the findings whose codes the row's cell "ok" holds from byte `from` on, for all lines of the row. */
static void accept(struct reader *reader, size_t from)
{
    const struct hk_table *table = reader->table;
    const char *text = table->ok == SIZE_MAX ? "" : row_text(reader, table->ok);
    if (!*text || hk_error_value(text))
        return;
    const struct hk_ok_lines lines = {ok_place(reader, 0), reader->row.line,
                                      raw_place(table, &reader->row, reader->row.end).line};
    hk_ok_words(text, from, lines, ok_place, reader, reader->diags);
}

/* Finds the column "ok", and marks it as matched. Its header may accept findings about the header: "ok: column-unknown". */
static void find_ok(struct reader *reader, char *const *names, bool *matched)
{
    static const char with_codes[] = "ok:";
    struct hk_table *table = reader->table;
    for (size_t i = 0; i < table->columns && reader->accepts; i++) {
        const bool more = hk_text_starts(names[i], with_codes);
        if (!more && !hk_text_same(names[i], "ok"))
            continue;
        matched[i] = true;
        if (table->ok != SIZE_MAX) {
            add_doubled(reader, i, table->ok);
            continue;
        }
        table->ok = i;
        if (more)
            accept(reader, (size_t)(strchr(row_text(reader, i), ':') + 1 - row_text(reader, i)));
    }
}

static void header_known(struct reader *reader, char *const *names, bool *matched)
{
    if (match_columns(reader, names, matched) == 0 && is_no_header(reader, names)) {
        hk_diags_add(reader->diags, HK_CODE_HEADER_MISSING, here(reader, 0), "\"%s\" is no column: a header row is missing",
                     row_text(reader, 0));
        hint_columns(reader);
        reader->damaged = reader->stop = true;
        return;
    }
    for (size_t i = 0; i < reader->table->columns; i++) {
        if (*names[i] && !matched[i])
            add_unknown(reader, i, names[i]);
    }
    add_missing(reader, names, matched);
}

static void header_any(struct reader *reader, char *const *names)
{
    for (size_t i = 0; i < reader->table->columns; i++) {
        size_t earlier = 0;
        while (earlier < i && !hk_text_same(names[earlier], names[i]))
            earlier++;
        if (earlier < i && *names[i] && earlier != reader->table->ok)
            add_doubled(reader, i, earlier);
    }
}

/* Reports error values in the header, in the known columns, and in the first column, where # begins a note. */
static void check_errors(struct reader *reader)
{
    const struct hk_table *table = reader->table;
    size_t count = row_cells(reader) < table->columns ? row_cells(reader) : table->columns;
    for (size_t i = 0; i < count; i++) {
        const char *text = row_text(reader, i);
        if ((*text == '#' || *text == 'E') && (!reader->is_read || reader->is_read[i]) && hk_error_value(text))
            hk_error_value_found(text, here(reader, i), reader->diags);
    }
}

static void read_header(struct reader *reader)
{
    struct hk_table *table = reader->table;
    reader->header_read = true;
    table->columns = reader->filled_cells;
    if (table->columns > HK_COLUMNS_MOST) {
        hk_diags_add(reader->diags, HK_CODE_FILE_TOO_LARGE, here(reader, HK_COLUMNS_MOST),
                     "the header has %zu columns, and at most %d can be read", table->columns, HK_COLUMNS_MOST);
        reader->damaged = reader->stop = true;
        return;
    }
    check_errors(reader);
    struct hk_arena scratch = {0};
    char **names = hk_arena_take(&scratch, table->columns, sizeof *names);
    bool *matched = hk_arena_take(&scratch, table->columns, sizeof *matched);
    for (size_t i = 0; i < table->columns && !scratch.out_of_memory; i++) {
        names[i] = column_name(&scratch, row_text(reader, i));
        reader->unnamed += names[i] && !*names[i];
    }
    if (scratch.out_of_memory) {
        reader->diags->out_of_memory = reader->stop = true;
    } else {
        find_ok(reader, names, matched);
        if (reader->known)
            header_known(reader, names, matched);
        else
            header_any(reader, names);
    }
    reader->is_read = hk_arena_take(&table->arena, table->columns, sizeof *reader->is_read);
    for (size_t i = 0; reader->is_read && matched && i < table->columns; i++)
        reader->is_read[i] = matched[i] || !reader->known;
    reader->diags->out_of_memory |= !reader->is_read;
    reader->stop |= !reader->is_read;
    hk_arena_free(&scratch);
}

/* ---- Rows ---------------------------------------------------------------------------------------------------------- */

static const char *separator_name(char separator)
{
    return separator == ',' ? "comma" : separator == ';' ? "semicolon" : separator == '\t' ? "tab" : "bar";
}

static void check_filled(struct reader *reader)
{
    const struct hk_table *table = reader->table;
    for (size_t k = 0; k < table->known_count; k++) {
        size_t index = table->index_of[k];
        if (!reader->known[k].filled || index == NO_COLUMN || *row_text(reader, index))
            continue;
        hk_diags_add(reader->diags, HK_CODE_CELL_MISSING, here(reader, index), "the cell \"%s\" is empty",
                     reader->known[k].name);
        hk_diags_hint(reader->diags, "every row of %s needs one", table->name);
    }
}

/* Returns whether all filled cells of the row are in quotes, up to that one: no separator splits them. */
static bool all_quoted(const struct reader *reader, size_t last)
{
    const struct hk_table *table = reader->table;
    bool quoted = true;
    for (size_t i = 0; i <= last && quoted; i++) {
        const size_t at = table->cells[reader->row.first + i].at;
        quoted = !*row_text(reader, i) || (at > 0 && table->raw[at - 1] == QUOTE);
    }
    return quoted;
}

static void add_extra(struct reader *reader, size_t index, const char *where)
{
    hk_diags_add(reader->diags, HK_CODE_CELL_EXTRA, here(reader, index), "\"%s\" stands %s", row_text(reader, index), where);
    if (all_quoted(reader, index))
        hk_diags_hint(reader->diags, "write a column's name above it, or empty the cell");
    else
        hk_diags_hint(reader->diags,
                      "a %s inside a cell splits it: put quotes round the whole cell, or name the column",
                      separator_name(reader->table->separator));
}

static bool is_named(const struct hk_table *table, size_t index)
{
    return *cell_text(table, &table->rows[0], table->columns, index);
}

/* Reports one finding per row: further extra cells are consequences of the first. */
static void check_extra(struct reader *reader)
{
    const struct hk_table *table = reader->table;
    if (reader->unnamed == 0 && reader->filled_cells <= table->columns)
        return;
    for (size_t i = 0; i < reader->filled_cells; i++) {
        if (!*row_text(reader, i) || (i < table->columns && is_named(table, i)))
            continue;
        add_extra(reader, i, i < table->columns ? "under no column name" : "beyond the last column");
        return;
    }
}

/* Drops the cells of the row from index `count` on. */
static void cells_drop(struct reader *reader, size_t count)
{
    struct hk_table *table = reader->table;
    if (row_cells(reader) <= count)
        return;
    table->cell_count = reader->row.first + count;
    table->text_bytes = table->cells[table->cell_count].text;
}

static void row_drop(struct reader *reader)
{
    cells_drop(reader, 0);
}

static void row_keep(struct reader *reader)
{
    struct hk_table *table = reader->table;
    if (!reader->header_read) {
        read_header(reader);
    } else {
        check_extra(reader);
        check_filled(reader);
        check_errors(reader);
        accept(reader, 0);
    }
    cells_drop(reader, table->columns);
    table->rows[table->row_count++] = reader->row;
}

/*
 * Returns true for a quoted note, which is the only filled cell of its row; "#2 sleeve" among other cells is a name.
 * Unquoted notes are skipped earlier.
 */
static bool is_quoted_note(const struct reader *reader)
{
    const char *text = row_text(reader, 0);
    return *text == '#' && reader->filled_cells == 1 && (!hk_error_value(text) || text[1] == '#');
}

static void on_row(int end, void *context)
{
    struct reader *reader = context;
    (void)end;
    if (reader->stop || reader->filled_cells == 0 || is_quoted_note(reader)) {
        row_drop(reader);
    } else if (reader->bad_row) {
        reader->damaged = true;
        reader->stop |= !reader->header_read;
        row_drop(reader);
    } else {
        row_keep(reader);
    }
}

/* ---- Cells --------------------------------------------------------------------------------------------------------- */

static bool is_plain_byte(char c)
{
    return c > ' ' && (unsigned char)c < 0x7F;
}

/* Returns the length in bytes of the blank that ends the first `length` bytes of `text`, or 0. */
static size_t blank_before(const char *text, size_t length)
{
    for (size_t size = 1; size <= 3 && size <= length; size++) {
        if (blank_length(text + length - size) == size)
            return size;
    }
    return 0;
}

static void trim(const char **text, size_t *length)
{
    if (*length == 0 || (is_plain_byte(**text) && is_plain_byte((*text)[*length - 1])))
        return;
    for (size_t blank; *length > 0 && (blank = blank_length(*text)) > 0; *text += blank)
        *length -= blank;
    for (size_t blank; (blank = blank_before(*text, *length)) > 0;)
        *length -= blank;
}

static void add_large(struct reader *reader, const struct hk_place place, bool quoted)
{
    hk_diags_add(reader->diags, HK_CODE_CELL_TOO_LARGE, place, "the cell that starts here is longer than %zu kB",
                 HK_CELL_BYTES >> 10);
    if (quoted)
        hk_diags_hint(reader->diags, "is its closing quote missing? " MARK_HINT);
    else
        hk_diags_hint(reader->diags, "shorten it");
}

/*
 * Unwraps ="72", a spreadsheet's way to keep a text from becoming a number or a date. In a quoted cell it is "=""72""",
 * and the text is between the inner quotes, unless it has quotes itself.
 */
static void take_out_formula(const char **text, size_t *length)
{
    if (*length < 3 || strncmp(*text, "=\"", 2) != 0 || memchr(*text + 2, QUOTE, *length - 2) != *text + *length - 1)
        return;
    *text += 2;
    *length -= 3;
}

/* Removes the apostrophe by which a spreadsheet marks a text, but not a pair that quotes the text. */
static void take_out_apostrophe(const char **text, size_t *length)
{
    if (*length < 2 || **text != '\'' || (*text)[*length - 1] == '\'')
        return;
    ++*text;
    --*length;
    trim(text, length);
}

/* Returns the length in the file of a text from libcsv: a quote within quotes is doubled there. */
static size_t written_bytes(const char *text, size_t length, bool quoted)
{
    size_t bytes = length;
    for (size_t i = 0; i < length && quoted; i++)
        bytes += text[i] == QUOTE;
    return bytes;
}

/* Callback of libcsv for a cell: unquoted, without blanks outside the quotes. */
static void on_cell(void *bytes, size_t length, void *context)
{
    struct reader *reader = context;
    struct hk_table *table = reader->table;
    const size_t open = cell_open(table, reader->cell);
    const bool quoted = table->raw[open] == QUOTE, large = length > HK_CELL_BYTES;
    const char *whole = bytes, *text = whole;
    reader->row.end = (uint32_t)cell_open(table, open + written_bytes(whole, length, quoted) + (quoted ? 2 : 0));
    reader->cell = (size_t)reader->row.end + 1;
    if (quoted)
        take_out_formula(&text, &length);
    trim(&text, &length);
    take_out_apostrophe(&text, &length);
    size_t at = open + quoted + (text ? written_bytes(whole, (size_t)(text - whole), quoted) : 0);
    table->cells[table->cell_count++] = (struct cell){(uint32_t)at, (uint32_t)table->text_bytes};
    if (length > 0) {
        assert(text);
        memcpy(table->texts + table->text_bytes, text, length);
    }
    table->texts[table->text_bytes + length] = '\0';
    table->text_bytes += length + 1;
    if (large && !reader->stop) {
        add_large(reader, raw_place(table, &reader->row, at), quoted);
        reader->bad_row = true;
    }
    if (length > 0)
        reader->filled_cells = row_cells(reader);
}

/* ---- Lines --------------------------------------------------------------------------------------------------------- */

/* Returns the length of the physical line at `at` with its line end: LF, CR LF or CR. */
static size_t line_length(const struct hk_table *table, size_t at)
{
    const char *line = table->raw + at;
    size_t length = strcspn(line, "\r\n");
    if (line[length] == '\r' && line[length + 1] == '\n')
        return length + 2;
    return length + (line[length] != '\0');
}

static bool parser_start(struct reader *reader)
{
    if (csv_init(&reader->parser, CSV_STRICT | CSV_STRICT_FINI) != 0)
        return false;
    csv_set_delim(&reader->parser, (unsigned char)reader->table->separator);
    csv_set_blk_size(&reader->parser, 4096);
    return true;
}

static void row_start(struct reader *reader)
{
    uint32_t at = (uint32_t)reader->at;
    reader->row = (struct row){(uint32_t)reader->line, at, at, (uint32_t)reader->table->cell_count};
    reader->cell = reader->at;
    reader->filled_cells = 0;
    reader->bad_row = false;
}

/*
 * Drops the row of a cell that cannot be parsed. In the header it stops; else parsing continues with the line after the
 * start of the cell.
 */
static void give_up_row(struct reader *reader, size_t cell_at)
{
    struct hk_table *table = reader->table;
    size_t line = raw_place(table, &reader->row, cell_at).line;
    row_drop(reader);
    reader->damaged = true;
    reader->stop |= !reader->header_read;
    reader->line = line + 1;
    reader->at = cell_at + line_length(table, cell_at);
    reader->inside = false;
    csv_free(&reader->parser);
    if (!parser_start(reader))
        reader->diags->out_of_memory = reader->stop = true;
}

/* Reports a syntax error that libcsv found at offset `at`. */
static void give_up_syntax(struct reader *reader, size_t at)
{
    struct hk_table *table = reader->table;
    size_t cell_at = cell_open(reader->table, reader->cell);
    struct hk_place cell = raw_place(table, &reader->row, cell_at), byte = raw_place(table, &reader->row, at);
    if (byte.line != cell.line)
        hk_diags_add(reader->diags, HK_CODE_CSV_SYNTAX, cell,
                     "a quote opens here, and text follows the next one, in line %zu column %zu", byte.line, byte.column);
    else if (table->raw[cell_at] == QUOTE)
        hk_diags_add(reader->diags, HK_CODE_CSV_SYNTAX, byte, "text follows the quote that closes the cell");
    else
        hk_diags_add(reader->diags, HK_CODE_CSV_SYNTAX, byte,
                     "there is a quote in a cell that does not begin with one");
    hk_diags_hint(reader->diags, MARK_HINT);
    give_up_row(reader, cell_at);
}

static void give_up_open(struct reader *reader)
{
    size_t cell_at = cell_open(reader->table, reader->cell);
    hk_diags_add(reader->diags, HK_CODE_CSV_SYNTAX, raw_place(reader->table, &reader->row, cell_at),
                 "a quote opens here and is never closed");
    hk_diags_hint(reader->diags, MARK_HINT);
    give_up_row(reader, cell_at);
}

static void give_up_large(struct reader *reader)
{
    size_t cell_at = cell_open(reader->table, reader->cell);
    add_large(reader, raw_place(reader->table, &reader->row, cell_at), reader->table->raw[cell_at] == QUOTE);
    give_up_row(reader, cell_at);
}

/* Replaces the = of each cell ="72" in the line by a blank, so that libcsv parses it as a quoted cell. */
static void open_formulas(struct reader *reader, size_t end)
{
    char *raw = reader->table->raw;
    if (!memchr(raw + reader->at, '=', end - reader->at))
        return;
    bool quoted = reader->inside, opening = !quoted;
    for (size_t at = reader->at; at < end; at++) {
        if (opening && !quoted && raw[at] == '=' && raw[at + 1] == QUOTE)
            raw[at] = ' ';
        quoted ^= raw[at] == QUOTE;
        opening = !quoted && (raw[at] == reader->table->separator || (opening && raw[at] == ' '));
    }
}

/* Gives libcsv the next line, a long line in pieces, so that an unclosed cell is noticed early. */
static void read_line(struct reader *reader)
{
    struct hk_table *table = reader->table;
    size_t end = reader->at + line_length(table, reader->at);
    if (!reader->inside)
        row_start(reader);
    open_formulas(reader, end);
    for (size_t at = reader->at; at < end && !reader->stop;) {
        size_t piece = end - at < HK_CELL_BYTES ? end - at : HK_CELL_BYTES;
        size_t used = csv_parse(&reader->parser, table->raw + at, piece, on_cell, on_row, reader);
        if (used < piece && csv_error(&reader->parser) == CSV_EPARSE) {
            give_up_syntax(reader, at + used);
            return;
        }
        if (used < piece) {
            reader->diags->out_of_memory = reader->stop = true;
            return;
        }
        if (reader->parser.entry_pos > HK_CELL_BYTES) {
            give_up_large(reader);
            return;
        }
        at += piece;
    }
    reader->inside = reader->parser.quoted;
    reader->at = end;
    reader->line++;
}

static void skip_line(struct reader *reader)
{
    reader->at += line_length(reader->table, reader->at);
    reader->line++;
}

/* ---- Notes --------------------------------------------------------------------------------------------------------- */

static bool is_separator(char c)
{
    return c == ',' || c == ';' || c == '\t' || c == '|';
}

/*
 * Returns true when the line is an unquoted note: it begins with #, and is not a row that begins with an error value
 * such as #REF!.
 */
static bool is_note(const char *line)
{
    char first[32] = "";
    if (*line != '#')
        return false;
    size_t length = 0;
    while (line[length] && !is_separator(line[length]) && !is_line_end(line[length]))
        length++;
    if (length >= sizeof first)
        return true;
    memcpy(first, line, length);
    const bool alone = !is_separator(line[length]);
    while (length > 0 && first[length - 1] == ' ')
        first[--length] = '\0';
    return !hk_error_value(first) || (first[1] == '#' && alone);
}

/*
 * Splits a note as if it were a row. Returns the number of filled cells; *prose: a blank follows # and each separator.
 */
static size_t note_cells(const struct hk_table *table, const char *line, bool *filled, bool *prose)
{
    size_t count = 0, index = 0;
    bool quoted = false, any = false;
    *prose = line[1] == ' ';
    for (const char *c = line + 1;; c++) {
        bool end = *c == '\0' || is_line_end(*c);
        quoted ^= *c == QUOTE;
        if (!end && (quoted || *c != table->separator)) {
            any |= blank_length(c) == 0;
            continue;
        }
        if (index < table->columns)
            filled[index++] = any;
        count += any;
        any = false;
        if (end)
            return count;
        *prose &= c[1] == ' ';
    }
}

/* Returns true when all cells that a row must fill are filled, and there are enough of these to recognise a row. */
static bool fills_row(const struct reader *reader, const bool *filled)
{
    size_t wanted = 0;
    for (size_t k = 0; k < reader->table->known_count; k++) {
        size_t index = reader->table->index_of[k];
        if (!reader->known[k].filled || index == NO_COLUMN)
            continue;
        if (!filled[index])
            return false;
        wanted++;
    }
    return wanted > 2;
}

/* Warns of a note that looks like a row, such as one that begins with "#2 sleeve": it would be skipped silently. */
static void warn_of_note(struct reader *reader)
{
    const struct hk_table *table = reader->table;
    const char *line = table->raw + cell_open(table, reader->at);
    struct hk_arena scratch = {0};
    bool *filled = reader->header_read ? hk_arena_take(&scratch, table->columns, sizeof *filled) : NULL, prose = false;
    size_t count = filled ? note_cells(table, line, filled, &prose) : 0;
    reader->diags->out_of_memory |= scratch.out_of_memory;
    if (filled && !prose && count > 1 && (count >= table->columns || fills_row(reader, filled))) {
        hk_diags_add(reader->diags, HK_CODE_NOTE_FILLED, (struct hk_place){table->name, reader->line, 1},
                     "this line begins with # and is not read, though it has the cells of a row: %.*s",
                     (int)strcspn(line, "\r\n"), line);
        hk_diags_hint(reader->diags,
                      "to have it read, put its first cell in quotes; if it is a note, put the whole line in quotes");
    }
    hk_arena_free(&scratch);
}

static void read_rows(struct reader *reader)
{
    const struct hk_table *table = reader->table;
    while (!reader->stop) {
        if (reader->at < table->raw_bytes) {
            if (!reader->inside && is_note(table->raw + cell_open(table, reader->at))) {
                warn_of_note(reader);
                skip_line(reader);
            } else {
                read_line(reader);
            }
        } else if (csv_fini(&reader->parser, on_cell, on_row, reader) == 0) {
            return;
        } else if (csv_error(&reader->parser) == CSV_EPARSE) {
            give_up_open(reader);
        } else {
            reader->diags->out_of_memory = reader->stop = true;
        }
    }
}

/* ---- The separator ------------------------------------------------------------------------------------------------- */

/* Reads the separator from a first line "sep=;", which some spreadsheets write. Returns false if there is none. */
static bool read_stated(struct reader *reader)
{
    struct hk_table *table = reader->table;
    const char *line = table->raw;
    line += *line == QUOTE;
    if (!hk_text_starts(line, "sep=") || !is_separator(line[4]))
        return false;
    const char *rest = line + 5;
    rest += *rest == QUOTE;
    if (*rest && !is_line_end(*rest))
        return false;
    table->separator = line[4];
    skip_line(reader);
    return true;
}

/* Returns true for a note or a line of only blanks, separators and quotes. */
static bool is_no_header_line(const char *line, size_t length)
{
    if (is_note(line) || (*line == QUOTE && line[1] == '#'))
        return true;
    for (size_t i = 0, step; i < length; i += step) {
        step = is_separator(line[i]) || line[i] == QUOTE ? 1 : blank_length(line + i);
        if (step == 0)
            return false;
    }
    return true;
}

/*
 * Returns the most frequent separator of the row outside quotes, the first in this list of equals; a comma if there is
 * none.
 */
static char most_frequent(const char *row)
{
    static const char separators[] = {',', ';', '\t', '|'};
    size_t counts[sizeof separators] = {0}, most = 0;
    bool quoted = false;
    for (const char *c = row; *c && (quoted || !is_line_end(*c)); c++) {
        quoted ^= *c == QUOTE;
        for (size_t s = 0; s < sizeof separators && !quoted; s++)
            counts[s] += *c == separators[s];
    }
    for (size_t s = 1; s < sizeof separators; s++)
        most = counts[s] > counts[most] ? s : most;
    return separators[most];
}

static void find_separator(struct reader *reader)
{
    struct hk_table *table = reader->table;
    table->separator = ',';
    if (read_stated(reader))
        return;
    for (size_t at = reader->at; at < table->raw_bytes;) {
        size_t length = line_length(table, at);
        if (!is_no_header_line(table->raw + at, length)) {
            table->separator = most_frequent(table->raw + at);
            break;
        }
        at += length;
    }
    if (table->separator != '|')
        return;
    hk_diags_add(reader->diags, HK_CODE_FILE_FORMAT, hk_table_place(table), "the cells are separated by bars, |");
    hk_diags_hint(reader->diags, "separate them by commas, semicolons or tabs, or write sep=| as the first line");
    reader->damaged = reader->stop = true;
}

/* ---- Reading ------------------------------------------------------------------------------------------------------- */

/* Takes over the text. */
static struct hk_table *table_new(const char *name, struct hk_file_text file, const struct hk_column *known)
{
    struct hk_table *table = calloc(1, sizeof *table);
    if (!table) {
        free(file.text);
        return NULL;
    }
    table->raw = file.text;
    table->raw_bytes = file.bytes;
    table->ok = SIZE_MAX;
    table->identity = file.identity;
    table->name = hk_arena_text(&table->arena, name, strlen(name));
    while (known && known[table->known_count].name)
        table->known_count++;
    table->index_of = hk_arena_take(&table->arena, table->known_count, sizeof *table->index_of);
    if (table->arena.out_of_memory) {
        hk_table_free(table);
        return NULL;
    }
    for (size_t k = 0; k < table->known_count; k++)
        table->index_of[k] = NO_COLUMN;
    return table;
}

void hk_table_free(struct hk_table *table)
{
    if (!table)
        return;
    free(table->raw);
    free(table->texts);
    free(table->cells);
    free(table->rows);
    hk_arena_free(&table->arena);
    free(table);
}

/*
 * Returns the name of a spreadsheet file in place of a missing CSV file, such as "pieces.xlsx" for "pieces.csv"; NULL
 * if there is none.
 */
static const char *unsaved_beside(const struct hk_source *source, const char *name, struct hk_arena *arena)
{
    static const char *const formats[] = {"xlsx", "ods", "xls", "numbers"};
    const char *dot = strrchr(name, '.');
    if (!dot || strchr(dot, '/'))
        return NULL;
    for (size_t i = 0; i < sizeof formats / sizeof *formats; i++) {
        const char *other = hk_arena_print(arena, "%.*s.%s", (int)(dot - name), name, formats[i]);
        struct hk_file file = {0};
        const char *why;
        enum hk_open opened = other ? source->open(source->host, other, &file, &why) : HK_OPEN_ABSENT;
        arena->out_of_memory |= opened == HK_OPEN_NO_MEMORY;
        if (opened != HK_OPEN_DONE)
            continue;
        file.close(file.handle);
        return other;
    }
    return NULL;
}

static void add_absent(const struct hk_source *source, const char *name, const struct hk_column *known,
                       struct hk_diags *diags)
{
    hk_diags_add(diags, HK_CODE_FILE_MISSING, (struct hk_place){name, 0, 0}, "the file is missing");
    struct hk_arena scratch = {0};
    const char *unsaved = unsaved_beside(source, name, &scratch);
    const char *list = known && !unsaved ? column_list(&scratch, known) : NULL;
    if (unsaved)
        hk_diags_hint(diags, "%s is there: save it as %s, " HK_SAVE_AS_CSV, unsaved, name);
    if (list)
        hk_diags_hint(diags, "add it, with the columns %s", list);
    diags->out_of_memory |= scratch.out_of_memory;
    hk_arena_free(&scratch);
}

/* Checks that need the whole file. */
static void check_rows(struct reader *reader, bool required)
{
    struct hk_table *table = reader->table;
    if (reader->diags->out_of_memory || reader->damaged)
        return;
    if (!reader->header_read) {
        hk_diags_add(reader->diags, HK_CODE_HEADER_MISSING, hk_table_place(table),
                     table->raw_bytes == 0 ? "the file is empty" : "the file has neither header nor rows");
        hint_columns(reader);
        reader->damaged = true;
    } else if (required && hk_table_rows(table) == 0) {
        hk_diags_add(reader->diags, HK_CODE_ROWS_MISSING, hk_table_place(table), "there is a header and no row below it");
        hk_diags_hint(reader->diags, "add at least one row");
        reader->damaged = true;
    }
}

/* Allocates room for all cells of the file, whose last line may lack a line end. Returns false when out of memory. */
static bool take_room(struct hk_table *table)
{
    size_t cells = 2, rows = 2;
    for (size_t i = 0; i < table->raw_bytes; i++) {
        cells += table->raw[i] == table->separator || is_line_end(table->raw[i]);
        rows += is_line_end(table->raw[i]);
    }
    table->texts = malloc(table->raw_bytes + 2);
    table->cells = malloc(cells * sizeof *table->cells);
    table->rows = malloc(rows * sizeof *table->rows);
    return table->texts && table->cells && table->rows;
}

/* Returns false when the table is unusable. */
static bool table_fill(struct hk_table *table, const struct hk_table_options *options, struct hk_diags *diags)
{
    struct reader reader = {
        .table = table, .diags = diags, .known = options->columns, .accepts = options->accepts, .line = 1};
    find_separator(&reader);
    if (!take_room(table) || !parser_start(&reader)) {
        diags->out_of_memory = true;
        return false;
    }
    read_rows(&reader);
    csv_free(&reader.parser);
    check_rows(&reader, options->required);
    diags->out_of_memory |= table->arena.out_of_memory;
    return !reader.damaged && !diags->out_of_memory;
}

struct hk_table *hk_table_read(const struct hk_source *source, const char *name, struct hk_table_options options,
                               struct hk_diags *diags)
{
    size_t most = options.most_bytes ? options.most_bytes : HK_TABLE_BYTES;
    struct hk_file_text file = {0};
    switch (hk_read_file(source, name, most < BYTES_MOST ? most : BYTES_MOST, &file, diags)) {
    case HK_FILE_READ_ABSENT:
        if (options.required)
            add_absent(source, name, options.columns, diags);
        return NULL;
    case HK_FILE_READ_FAILED:
        return NULL;
    case HK_FILE_READ_WHOLE:
        break;
    }
    struct hk_table *table = table_new(name, file, options.columns);
    if (!table) {
        diags->out_of_memory = true;
        return NULL;
    }
    if (!table_fill(table, &options, diags)) {
        hk_table_free(table);
        return NULL;
    }
    return table;
}

/* ---- Words of a command line ----------------------------------------------------------------------------------------
 */

struct hk_table *hk_table_words(const char *name, const char *text)
{
    struct hk_table *table = calloc(1, sizeof *table);
    if (!table)
        return NULL;
    table->separator = '\t'; /* either decimal mark */
    table->ok = SIZE_MAX;
    table->typed = hk_arena_text(&table->arena, text, strlen(text));
    table->name = hk_arena_text(&table->arena, name, strlen(name));
    const char *plain = hk_text_is_plain(text) ? table->typed : hk_text_plain(&table->arena, text, &table->origin);
    table->raw = plain ? strdup(plain) : NULL;
    if (table->raw && table->typed && table->name)
        return table;
    hk_table_free(table);
    return NULL;
}

struct hk_cell hk_table_word(struct hk_table *table, size_t start, size_t length)
{
    while (length > 0 && table->raw[start] == ' ') {
        start++;
        length--;
    }
    while (length > 0 && table->raw[start + length - 1] == ' ')
        length--;
    const char *text = hk_arena_text(&table->arena, table->raw + start, length);
    return (struct hk_cell){text ? text : "", table, 0, (uint32_t)start};
}

bool hk_table_words_failed(const struct hk_table *table)
{
    return table->arena.out_of_memory;
}

const char *hk_table_text(const struct hk_table *table)
{
    return table->raw;
}

/* ---- Asking -------------------------------------------------------------------------------------------------------- */

const char *hk_table_name(const struct hk_table *table)
{
    return table->name;
}

struct hk_identity hk_table_identity(const struct hk_table *table)
{
    return table->identity;
}

size_t hk_table_rows(const struct hk_table *table)
{
    return table->row_count > 0 ? table->row_count - 1 : 0;
}

size_t hk_table_columns(const struct hk_table *table)
{
    return table->columns;
}

enum hk_decimal hk_table_decimal(const struct hk_table *table)
{
    return table->separator == ',' ? HK_DECIMAL_POINT : table->separator == ';' ? HK_DECIMAL_COMMA : HK_DECIMAL_EITHER;
}

/* Returns the number of cells of a row; row 0 is the header. */
static size_t count_at(const struct hk_table *table, size_t row)
{
    assert(row < table->row_count);
    size_t end = row + 1 < table->row_count ? table->rows[row + 1].first : table->cell_count;
    return end - table->rows[row].first;
}

static const char *text_at(const struct hk_table *table, size_t row, size_t index)
{
    return cell_text(table, &table->rows[row], count_at(table, row), index);
}

struct hk_cell hk_table_header(const struct hk_table *table, size_t index)
{
    return (struct hk_cell){text_at(table, 0, index), table, HEADER_ROW, (uint32_t)index};
}

struct hk_cell hk_table_at(const struct hk_table *table, size_t row, size_t index)
{
    return (struct hk_cell){text_at(table, row + 1, index), table, (uint32_t)row, (uint32_t)index};
}

struct hk_cell hk_table_cell(const struct hk_table *table, size_t row, size_t column)
{
    assert(column < table->known_count);
    if (!hk_table_has(table, column))
        return (struct hk_cell){"", table, (uint32_t)row, NO_COLUMN};
    return hk_table_at(table, row, table->index_of[column]);
}

bool hk_table_has(const struct hk_table *table, size_t column)
{
    return column < table->known_count && table->index_of[column] != NO_COLUMN;
}

size_t hk_table_ok(const struct hk_table *table)
{
    return table->ok;
}

struct hk_place hk_cell_place(struct hk_cell cell, size_t offset)
{
    if (!cell.table)
        return (struct hk_place){0};
    if (cell.table->typed) {
        size_t at = cell.index + offset;
        at = cell.table->origin ? cell.table->origin[at] : at;
        return (struct hk_place){cell.table->name, 1, 1 + hk_text_characters(cell.table->typed, at)};
    }
    size_t row = cell.row == HEADER_ROW ? 0 : (size_t)cell.row + 1, count = count_at(cell.table, row);
    if (cell.index == NO_COLUMN)
        return row_place(cell.table, &cell.table->rows[row], count, 0, 0);
    return row_place(cell.table, &cell.table->rows[row], count, cell.index, offset);
}

struct hk_place hk_table_place(const struct hk_table *table)
{
    return (struct hk_place){table->name, 0, 0};
}

bool hk_cell_empty(struct hk_cell cell)
{
    return *cell.text == '\0';
}

bool hk_name_bound(struct hk_cell cell, const char *name, struct hk_diags *diags)
{
    size_t bytes = strlen(name), characters = bytes > HK_NAME_MOST ? hk_text_characters(name, bytes) : 0;
    if (characters <= HK_NAME_MOST)
        return true;
    hk_diags_add(diags, HK_CODE_CELL_TOO_LARGE, hk_cell_place(cell, 0), "a name of %zu characters", characters);
    hk_diags_hint(diags, "a name has at most %zu: shorten it, or look for a quote that is left open", HK_NAME_MOST);
    return false;
}
