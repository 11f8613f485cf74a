/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The yarn cell of a line or a swatch: `main`, `main x2`, `main + lace`, stripes `main 4, contrast 2`. */
#ifndef HK_YARN_CELL_H
#define HK_YARN_CELL_H

#include "project/read/reading.h"

/*
 * Reads the cell into stripes, adding combinations and blends that are new to the project. Names are roles; yarns too
 * if `yarns_too` (swatches). False with findings at the words they are about, or without one where yarns.csv could not
 * be read.
 */
bool hk_yarn_cell(struct hk_reading *reading, struct hk_cell cell, bool yarns_too, struct hk_stripes *stripes);

/* The combination of these strands; equal ones are kept once. False where a project has too many of them (no finding) or
 * memory runs out. */
bool hk_combination_of(struct hk_reading *reading, const struct hk_strand *strands, size_t count, size_t *combination);

#endif
