/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef HK_SCHEMATIC_GAUGE_H
#define HK_SCHEMATIC_GAUGE_H

#include "project/project.h"

/* Returns the swatch whose gauge of stitches (or of rows, if `rows`) a line is drawn by. NULL: there is none. */
const struct hk_swatch *hk_gauge_drawn(const struct hk_project *project, size_t line, bool rows);

static inline bool hk_gauge_drawable(const struct hk_project *project, size_t line)
{
    return hk_gauge_drawn(project, line, false) && hk_gauge_drawn(project, line, true);
}

/* Returns true for the words of a row that is worked into the back, front or third loop, which have a gauge of their
 * own. */
bool hk_text_one_loop(const char *text);

#endif
