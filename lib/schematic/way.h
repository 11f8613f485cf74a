/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How a line is worked: in rows or in rounds. */
#ifndef HK_DRAWN_WAY_H
#define HK_DRAWN_WAY_H

#include "project/project.h"

/* OPEN: not stated. */
enum hk_drawn_way { HK_DRAWN_ROWS, HK_DRAWN_ROUNDS, HK_DRAWN_OPEN };

/*
 * Returns the way of a line of pieces.csv: by its fabric, else by the line that it continues, else by a start from a
 * ring. A shipped fabric that is not one of rounds is worked in rows; of a project's own fabric that is not stated.
 */
enum hk_drawn_way hk_drawn_way(const struct hk_project *project, size_t line);

#endif
