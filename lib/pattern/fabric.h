/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A fabric: set-up rows worked once, then rows repeated. Used for shipped fabrics (tables/fabrics.csv) and a project's
 * own (fabrics.csv).
 */
#ifndef HK_FABRIC_H
#define HK_FABRIC_H

#include "pattern/row.h"

/* The start of the first row of a part. */
enum hk_start { HK_START_CHAIN, HK_START_EDGE, HK_START_RING, HK_START_CONTINUE };

#define HK_NOT_STATED (-1) /* for stitches and rows */

struct hk_fabric {
    const char *name;
    struct hk_row *rows; /* set-up rows, then the cycle */
    size_t setup_count, cycle_count;
    bool knit;           /* the first row has knit stitches: the foundation is cast on */
    struct hk_cell cell; /* its first occurrence in the file */
};

/*
 * Reads fabrics from a table with the columns fabric, row, make (in this order in its options, all of them `filled`, so
 * that the table reports empty cells). Rows of a fabric may be in any order in the file: `set-up`, `set-up 2`, ..., and
 * 1, 2, ... without gaps, else HK_CODE_FABRIC_ROWS. Sets the fabrics in the order of their first rows in the file.
 * Returns false when some fabric has findings; the valid ones are set all the same.
 */
bool hk_fabrics_read(const struct hk_table *table, enum hk_terms terms, const struct hk_catalogue *catalogue,
                     struct hk_fabric **fabrics, size_t *count, struct hk_arena *arena, struct hk_diags *diags);

/* Returns true for a row of cut lengths only, which uses no stitches and leaves none. */
bool hk_row_without_stitches(const struct hk_row *row);

/* Returns the way of the cycle, else of the set-up rows: a row that is joined makes them rounds. */
enum hk_way hk_fabric_way(const struct hk_fabric *fabric);

/* Returns true when a row works the basic stitch `base`, or one made from it (struct hk_stitch, base). */
bool hk_fabric_works(const struct hk_fabric *fabric, const struct hk_catalogue *catalogue, size_t base);

/* Returns the definition of row `r` (from 0) of a part. */
const struct hk_row *hk_fabric_row(const struct hk_fabric *fabric, int64_t r);

#endif
