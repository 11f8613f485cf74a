/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The cell `on` of pieces.csv: the other work that a line stands on (hankful(1), pieces.csv). */
#ifndef HK_ON_CELL_H
#define HK_ON_CELL_H

#include "project/read/reading.h"

/* False with a finding, or without one where sizes or grade.csv are not known; an empty cell is good. Looks up no names. */
bool hk_on_cell(struct hk_reading *reading, struct hk_cell cell, struct hk_on *on);

/* Once all lines are read: looks up the names and makes project->order. All mistakes become findings. */
void hk_on_find(struct hk_reading *reading);

#endif
