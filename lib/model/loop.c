/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The geometry of one loop, as the loop rule has it: nothing here is fitted. What a maker, a stitch, a tool or a yarn
 * adds or takes away is a departure (fit.h).
 */
#include "model/loop.h"

#include <assert.h>
#include <gsl/gsl_math.h>

#define MM_PER_M 1000.0

/*
 * Length of a full loop: l = pi * (h + d).
 *   h: tool diameter, d: yarn diameter, both in mm and > 0; the result is in m.
 * The yarn lies on the tool, so its axis runs round a circle of diameter h + d. Left out: the rise along the tool, the
 * yarn's flattening, and what the loop gives to or takes from its neighbours. Accuracy: within 15% of the loop length
 * of plain knitting by Munden's stitch density from fingering on 2.75 mm to bulky on 6.5 mm (tests/test_loop.c).
 */
double hk_loop_length_m(double tool_mm, double diameter_mm)
{
    assert(tool_mm > 0 && diameter_mm > 0);
    return M_PI * (tool_mm + diameter_mm) / MM_PER_M;
}

/*
 * Loops of one stitch: y = loops + omega * wraps.
 *   omega > 0: a yarn-over laid and closed on the way, against a loop drawn up through the work (DEVELOPERS.md, The model).
 */
double hk_stitch_loops(const struct hk_stitch *stitch, double omega)
{
    return stitch->loops + omega * stitch->wraps;
}
