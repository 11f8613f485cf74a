/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "catalogue/diameter.h"

#include "input/quantity.h"

#include <assert.h>
#include <math.h>

/*
 * Yarn diameter from linear density: d = c * sqrt(T).
 *   T in tex (g/km) > 0; c in mm at 1 tex; the result is in mm.
 * For a round yarn of uniform density, T = density * pi d^2 / 4. c is 0.037424 for cotton yarn under no load at 1.1
 * cm3/g (F. T. Peirce, checked in tests/test_loop.c); hand-knitting yarns are looser when wound side by side;
 * tables/spreads.csv has the value used.
 */
double hk_yarn_diameter_mm(double tex, double coefficient_mm)
{
    assert(tex > 0 && coefficient_mm > 0);
    return coefficient_mm * sqrt(tex);
}

/* n wraps side by side fill an inch: d = 25.4 mm / n, n > 0. */
double hk_wraps_diameter_mm(double wraps_per_inch)
{
    assert(wraps_per_inch > 0);
    return HK_MM_PER_INCH / wraps_per_inch;
}
