/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A fabric: set-up rows worked once, then rows repeated. Shipped (tables/fabrics.csv) and a project's own (fabrics.csv) alike. */
#ifndef HK_FABRIC_H
#define HK_FABRIC_H

#include "pattern/row.h"

/* What the first row of a part is worked on. */
enum hk_start { HK_START_CHAIN, HK_START_EDGE, HK_START_RING, HK_START_CONTINUE };

#define HK_NOT_STATED (-1) /* of stitches and rows */

struct hk_fabric {
    const char *name;
    struct hk_row *rows; /* set-up rows, then the cycle */
    size_t setup_count, cycle_count;
    bool knit;           /* the first row has knit stitches: the foundation is cast on */
    struct hk_cell cell; /* its name, where the file first has it */
};

/*
 * Fabrics from a table with the columns fabric, row, make (in that order in its options, all of them `filled`, so that the
 * table tells of empty cells). Rows of one fabric may stand anywhere in the file, in any order: `set-up`, `set-up 2`, ...,
 * then 1, 2, ... without gaps, else HK_CODE_FABRIC_ROWS. Delivered in the order in which the file first has them. Good
 * fabrics are delivered even where others have findings; the answer is false then.
 */
bool hk_fabrics_read(const struct hk_table *table, enum hk_terms terms, const struct hk_catalogue *catalogue,
                     struct hk_fabric **fabrics, size_t *count, struct hk_arena *arena, struct hk_diags *diags);

/* A row of cut lengths alone: it stands on no stitches and leaves none. */
bool hk_row_without_stitches(const struct hk_row *row);

/* What the rows that come again and again say, else the set-up rows: one that is closed makes them rounds. */
enum hk_way hk_fabric_way(const struct hk_fabric *fabric);

/* The row definition that row `r` (from 0) of a part is worked by. */
const struct hk_row *hk_fabric_row(const struct hk_fabric *fabric, int64_t r);

#endif
