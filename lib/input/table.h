/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A CSV file as rows of cells with places: the reader of shipped tables and users' files. It handles the dialect
 * (separator, byte order mark, notes, encodings), not the meaning of cells. A line that begins with # is a note; it
 * gets a warning when it has the cells of a row. A quoted cell that begins with # and is alone in its row is a note
 * too, since spreadsheets quote a note with a comma. Error values such as #REF! are errors anywhere. ="72" and '72 are
 * the text 72.
 */
#ifndef HK_TABLE_H
#define HK_TABLE_H

#include "base/arena.h"
#include "input/digits.h"

struct hk_table;

/* A cell by reference; small enough to store in the objects made from it. `text` is never NULL; empty cells are "". */
struct hk_cell {
    const char *text;
    const struct hk_table *table; /* NULL: the value is not from a file */
    uint32_t row, index;          /* row from 0 below the header; index in the file's own column order */
};

/* A column that a file may have. Arrays of columns end with a NULL name. */
struct hk_column {
    const char *name;
    bool required; /* the file must have it */
    bool filled;   /* every row must fill it */
};

struct hk_table_options {
    const struct hk_column *columns; /* the known columns; NULL: accept all columns (grade.csv, display of tables) */
    size_t most_bytes;               /* 0: HK_TABLE_BYTES */
    bool required;                   /* an absent file is an error */
    bool accepts;                    /* a column "ok" accepts findings of its row (ok_words.h) */
};

#define HK_TABLE_BYTES ((size_t)16 << 20)
#define HK_CATALOGUE_BYTES ((size_t)64 << 20) /* price lists and lists of yarns, the largest files */
#define HK_CELL_BYTES ((size_t)64 << 10)
#define HK_COLUMNS_MOST 1024

/*
 * Reads `name` from the source. Reports all errors of the file's form. Returns NULL when the file is absent (an error
 * only if required), and when rows or columns could not be read, so that later stages do not report them as missing. An
 * empty `filled` cell or an extra cell is an error too, but the table is returned, so that other cells can be checked:
 * the caller must skip an empty cell silently. Cells of unknown columns are kept but cannot be found by name. Header
 * names are compared after hk_text_plain, ignoring letter case; blanks and dashes match underscores. Outer blanks of
 * cells, quoted or not, are removed.
 */
struct hk_table *hk_table_read(const struct hk_source *source, const char *name, struct hk_table_options options,
                               struct hk_diags *diags);
void hk_table_free(struct hk_table *table);

/*
 * A text of a command line as a table, so that messages point into it as into a file: hk_table_word is a part of the
 * text as a cell, without outer blanks. `name` is that of the option: "--done". hk_table_words returns NULL, and
 * hk_table_words_failed true, when memory ran out. The text has less than 4 GB. It has no rows and no header.
 */
struct hk_table *hk_table_words(const char *name, const char *text);
struct hk_cell hk_table_word(struct hk_table *table, size_t start, size_t length);
bool hk_table_words_failed(const struct hk_table *table);
const char *hk_table_text(const struct hk_table *table); /* the whole text, made plain */

const char *hk_table_name(const struct hk_table *table); /* "pieces.csv" */
struct hk_identity hk_table_identity(const struct hk_table *table); /* of its file */
size_t hk_table_rows(const struct hk_table *table);      /* notes and empty rows are not counted */
size_t hk_table_columns(const struct hk_table *table);   /* of the file, without unnamed trailing columns */
/* Returns the decimal mark: a point if commas separate cells, a comma if semicolons do, either with tabs and bars. */
enum hk_decimal hk_table_decimal(const struct hk_table *table);
struct hk_cell hk_table_header(const struct hk_table *table, size_t index);
struct hk_cell hk_table_at(const struct hk_table *table, size_t row, size_t index);
/*
 * Returns the cell of a column, an index into options.columns; an empty cell (with the row's place) if the file lacks
 * the column.
 */
struct hk_cell hk_table_cell(const struct hk_table *table, size_t row, size_t column);
bool hk_table_has(const struct hk_table *table, size_t column);
/* Returns the index, in the file's own order, of the column "ok" that accepts findings; SIZE_MAX if there is none. */
size_t hk_table_ok(const struct hk_table *table);

/* Returns the place in the file of byte `offset` of the cell's text. It rescans the row, so it is for messages only. */
struct hk_place hk_cell_place(struct hk_cell cell, size_t offset);
struct hk_place hk_table_place(const struct hk_table *table); /* the whole file */

bool hk_cell_empty(struct hk_cell cell);

/*
 * Names are compared throughout a project, so their length is limited. Returns false with a finding when a name has
 * more than HK_NAME_MOST characters.
 */
#define HK_NAME_MOST ((size_t)400)
bool hk_name_bound(struct hk_cell cell, const char *name, struct hk_diags *diags);

#endif
