/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The diameter of a yarn. */
#ifndef HK_DIAMETER_H
#define HK_DIAMETER_H

/*
 * Returns the diameter in mm from the linear density: coefficient_mm * sqrt(tex); coefficient: hk_spreads.diameter_mm.
 */
double hk_yarn_diameter_mm(double tex, double coefficient_mm);

/* Returns the diameter in mm: 25.4 mm / wraps per inch. */
double hk_wraps_diameter_mm(double wraps_per_inch);

#endif
