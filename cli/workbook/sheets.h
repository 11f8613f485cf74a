/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A workbook in memory: its sheets, each a list of filled cells. A cell holds a text: what was typed, or a number as
 * its value with the unit, currency or percent sign that the sheet shows.
 */
#ifndef SHEETS_H
#define SHEETS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum sheet_kind {
    CELL_TEXT,
    CELL_NUMBER,   /* its decimal mark is a point */
    CELL_UNSOLVED, /* a formula without a saved result */
};

struct sheet_cell {
    uint32_t row, column; /* from 0 */
    size_t text;          /* offset in the texts of the workbook */
    enum sheet_kind kind;
};

struct sheet {
    char *name;               /* as the workbook spells it */
    bool wanted;              /* the cells of other sheets are not kept */
    struct sheet_cell *cells; /* by row, then by column */
    size_t count, capacity;
};

/* Starts as {0}. `why` is the reason why the workbook cannot be read, static; NULL: it was read. */
struct sheets {
    struct sheet *list;
    size_t count;
    char *texts;
    size_t used, capacity; /* of texts, in bytes */
    size_t cells;          /* of all sheets */
    const char *why, *remedy;
    bool no_memory, absent, machine; /* the failure: out of memory; no such file; another one of the machine */
};

#define SHEET_LISTS                                                                                                    \
    "lists" /* the sheet that "new --workbook" makes for its lists to choose from; no project reads it */

/* Limits of a workbook: bytes of its file, bytes unpacked, cells, bytes of all texts. */
#define SHEETS_FILE_BYTES ((size_t)64 << 20)
#define SHEETS_UNPACKED_BYTES ((size_t)128 << 20)
#define SHEETS_CELLS ((size_t)2000000)
#define SHEETS_TEXT_BYTES ((size_t)64 << 20)
#define SHEETS_ROWS ((uint32_t)1048576)
#define SHEETS_COLUMNS ((uint32_t)16384)

/*
 * Adds a sheet; it is wanted if it has the name of a file of a project, letter case and blanks around it aside. Returns
 * NULL when memory runs out. The pointer is valid until the next sheet is added.
 */
struct sheet *sheets_add(struct sheets *sheets, const char *name);

/* Returns the name of the file, "pieces.csv", that a sheet of this name stands for; NULL: none. */
const char *sheets_file(const char *sheet);

/*
 * Adds a cell with a copy of `length` bytes of text. Returns false, and sets `why`, when a limit is reached or memory
 * runs out.
 */
bool sheets_put(struct sheets *sheets, struct sheet *sheet, struct sheet_cell cell, const char *text, size_t length);

/* Adds an empty text. Returns its offset. */
size_t sheets_empty(struct sheets *sheets);

/* Sorts the cells of all sheets, and drops empty ones. */
void sheets_sort(struct sheets *sheets);

const char *sheets_text(const struct sheets *sheets, const struct sheet_cell *cell);

/* Sets the reason, unless there is one. Returns false. */
bool sheets_refuse(struct sheets *sheets, const char *why, const char *remedy);
bool sheets_no_memory(struct sheets *sheets);

void sheets_free(struct sheets *sheets);

/* Reads a workbook file, .xlsx or .ods by its contents. Returns false, with the reason in `sheets`, on failure. */
bool sheets_read(struct sheets *sheets, const char *path);

/* Writes "AB" for column 27. */
#define SHEET_LETTERS 8
void sheet_letters(uint32_t column, char letters[SHEET_LETTERS]);

#endif
