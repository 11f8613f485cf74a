/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A CSV file as rows of cells that know their place. One reader for shipped tables and users' files. The dialect
 * (separator, byte order mark, notes, encodings) is handled here; what a cell means is not. A line that
 * begins with # is a note, and is warned about where it has the cells of a row; so is a cell in quotes that begins with #
 * and stands alone in its row (spreadsheets quote a note that has a comma in it). #REF! and its like are an error
 * wherever they stand. ="72" and '72 are the text 72.
 */
#ifndef HK_TABLE_H
#define HK_TABLE_H

#include "base/arena.h"
#include "input/digits.h"

struct hk_table;

/* A cell by reference; small enough to keep in whatever was made from it. `text` is never NULL; empty cells are "". */
struct hk_cell {
    const char *text;
    const struct hk_table *table; /* NULL: the value did not come from a file */
    uint32_t row, index;          /* row from 0 below the header; index in the file's own column order */
};

/* A column that a file may have. Tables of these end with a NULL name. */
struct hk_column {
    const char *name;
    bool required; /* the file must have it */
    bool filled;   /* and every row must fill it */
};

struct hk_table_options {
    const struct hk_column *columns; /* the columns known; NULL: take every column as it comes (grade.csv, showing tables) */
    size_t most_bytes;               /* 0: HK_TABLE_BYTES */
    bool required;                   /* an absent file is an error */
};

#define HK_TABLE_BYTES ((size_t)16 << 20)
#define HK_CATALOGUE_BYTES ((size_t)64 << 20) /* price lists and catalogues of yarns, the largest files that are read */
#define HK_CELL_BYTES ((size_t)64 << 10)
#define HK_COLUMNS_MOST 1024

/*
 * Reads `name` from the source. NULL where the file is absent (an error only if required) and where rows or columns
 * that should be there could not be read, so that nothing is missed later for want of them; all mistakes of the file's
 * form are reported in either case. An empty `filled` cell or a cell too many is an error too, but the table is
 * delivered, so that the mistakes in its other cells can be told: the caller leaves out such an empty cell without a
 * word. Cells of unknown columns are kept but have no name to ask by. Header names are compared after hk_text_plain,
 * letter case ignored, blanks and dashes as good as underscores. Outer blanks of cells, quoted or not, are taken off.
 */
struct hk_table *hk_table_read(const struct hk_source *source, const char *name, struct hk_table_options options,
                               struct hk_diags *diags);
void hk_table_free(struct hk_table *table);

const char *hk_table_name(const struct hk_table *table); /* "pieces.csv" */
struct hk_identity hk_table_identity(const struct hk_table *table); /* of its file */
size_t hk_table_rows(const struct hk_table *table);      /* notes and empty rows are not counted */
size_t hk_table_columns(const struct hk_table *table);   /* of the file, unnamed trailing ones left out */
/*
 * A point where commas separate cells, a comma where semicolons do, for then the comma is taken. Tabs and bars go with either.
 */
enum hk_decimal hk_table_decimal(const struct hk_table *table);
struct hk_cell hk_table_header(const struct hk_table *table, size_t index);
struct hk_cell hk_table_at(const struct hk_table *table, size_t row, size_t index);
/* By the place of the column in options.columns; an empty cell (with the row's place) where the file lacks that column. */
struct hk_cell hk_table_cell(const struct hk_table *table, size_t row, size_t column);
bool hk_table_has(const struct hk_table *table, size_t column);

/* Where the byte `offset` of the cell's text stands in the file. Rescans the row: for messages only. */
struct hk_place hk_cell_place(struct hk_cell cell, size_t offset);
struct hk_place hk_table_place(const struct hk_table *table); /* the whole file */

bool hk_cell_empty(struct hk_cell cell);

/* Names are compared all over a project. A longer text, of so many characters, is none: false, with a finding. */
#define HK_NAME_MOST ((size_t)400)
bool hk_name_bound(struct hk_cell cell, const char *name, struct hk_diags *diags);

#endif
