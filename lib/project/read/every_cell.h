/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The cell `every` of pieces.csv: how a line widens or narrows row by row (hankful(1), pieces.csv). */
#ifndef HK_EVERY_CELL_H
#define HK_EVERY_CELL_H

#include "project/read/reading.h"

/* False with a finding, or without one where sizes or grade.csv are not known; an empty cell is good. */
bool hk_every_cell(struct hk_reading *reading, struct hk_cell cell, struct hk_every *every);

#endif
