/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The geometry of one loop by the loop rule. Nothing here is fitted: deviations by maker, stitch, tool or yarn are
 * departures (fit.h).
 */
#include "model/loop.h"

#include <assert.h>
#include <gsl/gsl_math.h>

#define MM_PER_M 1000.0

/*
 * Length of a full loop: l = pi * (h + d).
 *   h: tool diameter, d: yarn diameter, both in mm and > 0; the result is in m.
 * The yarn lies on the tool, so its axis is a circle of diameter h + d. Not modelled: the pitch along the tool, the
 * flattening of the yarn, and yarn exchanged with neighbouring loops. Accuracy: within 15% of the loop length of plain
 * knitting by Munden's stitch density from fingering on 2.75 mm to bulky on 6.5 mm (tests/test_loop.c).
 */
double hk_loop_length_m(double tool_mm, double diameter_mm)
{
    assert(tool_mm > 0 && diameter_mm > 0);
    return M_PI * (tool_mm + diameter_mm) / MM_PER_M;
}

/*
 * Loops of one stitch: y = loops + omega * wraps.
 *   omega > 0: the length of a yarn-over relative to a loop drawn up through the work (DEVELOPERS.md, The model).
 */
double hk_stitch_loops(const struct hk_stitch *stitch, double omega)
{
    return stitch->loops + omega * stitch->wraps;
}
