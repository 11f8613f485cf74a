/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How thick a yarn is. */
#ifndef HK_DIAMETER_H
#define HK_DIAMETER_H

/* Diameter of a yarn from its linear density: coefficient_mm * sqrt(tex); coefficient: hk_spreads.diameter_mm. */
double hk_yarn_diameter_mm(double tex, double coefficient_mm);

/* 25.4 mm / wraps per inch. */
double hk_wraps_diameter_mm(double wraps_per_inch);

#endif
