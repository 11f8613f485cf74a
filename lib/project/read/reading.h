/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What the readers of a folder's files share: where the files come from, the project that grows, and which things are
 * known so far. A file that could not be read leaves its names unknown, and what refers to them is then not looked up:
 * one mistake, one finding.
 */
#ifndef HK_READING_H
#define HK_READING_H

#include "base/diags.h"
#include "base/index.h"
#include "base/text.h"
#include "project/names.h"
#include "project/project.h"

#define HK_READING_FILES 16 /* those of the design's table, with room to spare */

/* Bounds far beyond any design, so that a file of junk is answered at once. */
#define HK_ROWS_MOST ((size_t)2000)
#define HK_SIZES_MOST ((size_t)100)
#define HK_LEARNED_MOST ((size_t)100)

struct hk_reading {
    const struct hk_source *source;
    const char *folder; /* stands before the name of every file: "" or "../hat/" */
    struct hk_project *project;
    struct hk_diags *diags;
    size_t combination_capacity, seller_capacity;
    const struct hk_table *fabrics_table; /* where own fabrics with mistakes still have names; may be NULL */
    bool *said_fabrics; /* by shipped fabric: that its name is a US one */
    struct hk_index roles, yarns, sellers; /* as they stand in the project */
    bool knows_sizes, knows_terms, knows_currency, knows_yarns, knows_fabrics, knows_grade, knows_pieces,
        knows_offers;
    bool learning;           /* a folder of learn_from: its own learn_from is not followed */
    const char **learn_from; /* folders named, made plain, a slash behind each */
    struct hk_cell *learn_cells; /* that name them */
    size_t learn_count;
};

/*
 * Reads a file of the folder into the project, which frees it. NULL where it is absent or cannot be read; *known tells
 * whether all that it says is known: not where it cannot be read, or is absent and required. Cells that its columns
 * want `filled` may be empty: that has been said.
 */
const struct hk_table *hk_reading_table(struct hk_reading *reading, const char *name, const struct hk_column *columns,
                                        bool required, bool *known);

/* The same for a file that may be larger than a design: rows to `most_rows`, bytes to `most_bytes`. */
const struct hk_table *hk_reading_large_table(struct hk_reading *reading, const char *name,
                                              const struct hk_column *columns, size_t most_rows, size_t most_bytes,
                                              bool *known);

/*
 * Adds HK_CODE_LINE_DOUBLED for each row that is the same as an earlier one in all cells. A count that is meant stands in
 * the column `counting`.
 */
void hk_reading_doubled(struct hk_reading *reading, const struct hk_table *table, const char *counting);

/* A row being read. */
struct hk_reading_row {
    struct hk_reading *reading;
    const struct hk_table *table;
    size_t row;
};

static inline struct hk_cell hk_reading_cell(struct hk_reading_row row, size_t column)
{
    return hk_table_cell(row.table, row.row, column);
}

/* A scale by its step, 1 g where the cell is empty, and its accuracy, one step where empty. False with a finding. */
bool hk_reading_scale(struct hk_reading_row row, size_t step_column, size_t accuracy_column, struct hk_scale *scale);

/*
 * The cell's text, kept with the project; "" when memory runs out. Made plain (hk_text_plain), for what it says; or a
 * name as it was typed (hk_text_shown): names are compared by hk_text_same, and shown as they were typed. A name that
 * is too long (hk_name_bound) is a finding.
 */
const char *hk_reading_text(struct hk_reading *reading, struct hk_cell cell);
const char *hk_reading_name(struct hk_reading *reading, struct hk_cell cell);

/* One of the words: true and its index in *choice; false and untouched where the cell is empty (no finding) or another.
 */
bool hk_reading_choice(struct hk_reading *reading, struct hk_cell cell, const char *const *words, size_t count,
                       size_t *choice);

/* Money in the project's currency, two digits where none is stated. False where there was a finding, or the currency is
 * unknown. */
bool hk_reading_money(struct hk_reading *reading, struct hk_cell cell, int64_t *minor);

/* Whether the folder has a file of that name. */
bool hk_reading_has(const struct hk_reading *reading, const char *name);

/*
 * Adds HK_CODE_NAME_UNKNOWN at the byte `offset` of the cell: there is no `what` "word"`where`; the nearest of the names, or
 * else all of them if they are few.
 */
void hk_reading_unknown(struct hk_reading *reading, struct hk_cell cell, size_t offset, const char *what,
                        const char *word, const char *where, struct hk_names names);

/*
 * A fabric by name: the project's own, which hide the shipped ones, then those. False with a finding, or silently where
 * the cell is empty or the mistakes of that fabric have been said already.
 */
bool hk_reading_fabric(struct hk_reading *reading, struct hk_cell cell, const struct hk_fabric **fabric);

/* The start of a part: `chain`, `cast on`, `edge`, `ring`, `continue`. *start stays where the cell is empty. */
bool hk_reading_start(struct hk_reading *reading, struct hk_cell cell, enum hk_start *start);

#endif
