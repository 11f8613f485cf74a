/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Gauge: stitches and rows in 10 cm of a swatch, and the swatch whose gauge is used for a line. */
#ifndef HK_GAUGE_H
#define HK_GAUGE_H

#include "base/diags.h"
#include "project/project.h"

/*
 * `18 x 9`: stitches x rows in 10 cm; also `18 sts x 9 rows`, with another length named `18 x 9 in 4 in` or `18 x 9 = 4
 * in`. False with a finding, *stitches and *rows untouched.
 */
bool hk_gauge_cell(struct hk_cell cell, double *stitches, double *rows, struct hk_arena *arena, struct hk_diags *diags);

/*
 * The swatch whose gauge counts for a fabric worked with a tool: of the same fabric, nearest in tool, first in file
 * (DEVELOPERS.md, The model). Its stitches (or its rows, if `rows`) in 10 cm are known. NULL where there is none.
 */
const struct hk_swatch *hk_gauge_swatch(const struct hk_project *project, const struct hk_fabric *fabric,
                                        double tool_mm, bool rows);

#endif
