/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Shared by the readers of the files of a folder: the source of the files, the project under construction, and flags that
 * say which names are known. Where a file could not be read, references to its names are not looked up: one mistake, one
 * finding.
 */
#ifndef HK_READING_H
#define HK_READING_H

#include "base/diags.h"
#include "base/index.h"
#include "base/text.h"
#include "project/names.h"
#include "project/project.h"

#define HK_READING_FILES 24 /* more than a folder has, with the texts of a command line */

/* Bounds far beyond any design, so that a file of garbage is refused at once. */
#define HK_ROWS_MOST ((size_t)2000)
#define HK_SIZES_MOST ((size_t)100)
#define HK_LEARNED_MOST ((size_t)100)
#define HK_TESTERS_MOST ((size_t)100) /* the time that they take together grows with the third power */

struct hk_reading {
    const struct hk_source *source;
    const char *folder; /* stands before the name of every file: "" or "../hat/" */
    const struct hk_hand *hand; /* what was typed beside the folder; NULL: nothing */
    struct hk_project *project;
    struct hk_diags *diags;
    size_t combination_capacity, seller_capacity;
    const struct hk_table *fabrics_table; /* fabrics.csv, with the names of fabrics that have mistakes; may be NULL */
    bool *said_fabrics; /* by shipped fabric: whether it is reported that its name is in US terms */
    struct hk_index roles, yarns, sellers; /* indices are those of the project */
    bool knows_sizes, knows_terms, knows_currency, knows_yarns, knows_fabrics, knows_grade, knows_pieces,
        knows_offers;
    bool learning;           /* a folder of learn_from: its own learn_from is not followed */
    const char **learn_from; /* the folders, made plain, each with a slash at its end */
    struct hk_cell *learn_cells; /* the cells that name them */
    size_t learn_count;
};

/*
 * Reads a file of the folder into the project, which frees it. NULL where it is absent or cannot be read; *known is false
 * where it cannot be read, or is absent and required. Cells of `filled` columns may still be empty: that is reported.
 */
const struct hk_table *hk_reading_table(struct hk_reading *reading, const char *name, const struct hk_column *columns,
                                        bool required, bool *known);

/* The same for a file that may be larger than a design: at most `most_rows` rows and `most_bytes` bytes. */
const struct hk_table *hk_reading_large_table(struct hk_reading *reading, const char *name,
                                              const struct hk_column *columns, size_t most_rows, size_t most_bytes,
                                              bool *known);

/*
 * Adds HK_CODE_LINE_DOUBLED for each row that equals an earlier row in all cells. The hint names the column `counting`, in
 * which a number of equal rows is written.
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

/* A scale: its step, 1 g where that cell is empty, and its accuracy, one step where that is empty. False with a finding. */
bool hk_reading_scale(struct hk_reading_row row, size_t step_column, size_t accuracy_column, struct hk_scale *scale);

/*
 * The text of the cell, kept with the project; "" when memory runs out. hk_reading_text makes it plain (hk_text_plain).
 * hk_reading_name keeps it as it was typed (hk_text_shown): names are compared by hk_text_same, and shown as they were
 * typed. A name that is too long (hk_name_bound) is a finding.
 */
const char *hk_reading_text(struct hk_reading *reading, struct hk_cell cell);
const char *hk_reading_name(struct hk_reading *reading, struct hk_cell cell);

/* One of the words: true, and its index in *choice. False, and *choice untouched, where the cell is empty (no finding) or
 * has another word. */
bool hk_reading_choice(struct hk_reading *reading, struct hk_cell cell, const char *const *words, size_t count,
                       size_t *choice);

/* Money in the currency of the project; with two digits where it states no currency. False with a finding, or without one
 * where the currency is unknown. */
bool hk_reading_money(struct hk_reading *reading, struct hk_cell cell, int64_t *minor);

/* Whether the folder has a file of that name. */
bool hk_reading_has(const struct hk_reading *reading, const char *name);

/*
 * Adds HK_CODE_NAME_UNKNOWN at the byte `offset` of the cell: there is no `what` "word"`where`. The hint is the nearest of
 * the names, or else all of them if they are few.
 */
void hk_reading_unknown(struct hk_reading *reading, struct hk_cell cell, size_t offset, const char *what,
                        const char *word, const char *where, struct hk_names names);

/* The same for the name of a size: a hint names the size only if it is called otherwise or mistyped. */
void hk_reading_size_unknown(struct hk_reading *reading, struct hk_cell cell, const char *name);

/*
 * A fabric by name; a fabric of the project hides a shipped one. False with a finding, or without one where the cell is
 * empty or mistakes of that fabric are reported already.
 */
bool hk_reading_fabric(struct hk_reading *reading, struct hk_cell cell, const struct hk_fabric **fabric);

/* The start of a part: `chain`, `cast on`, `edge`, `ring`, `continue`. *start stays where the cell is empty. */
bool hk_reading_start(struct hk_reading *reading, struct hk_cell cell, enum hk_start *start);

#endif
