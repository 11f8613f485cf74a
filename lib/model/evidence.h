/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Enters weighed, unravelled and timed readings as data of the fit; reports impossible ones. */
#ifndef HK_EVIDENCE_H
#define HK_EVIDENCE_H

#include "model/parameters.h"

/* Enters the swatches, pieces and balls of the current folder. */
void hk_evidence_enter(struct hk_maker *m);

/* A datum of the current folder, without a reading; and its addition to the data. */
struct hk_datum hk_datum_new(const struct hk_maker *m);
void hk_datum_add(struct hk_maker *m, const struct hk_datum *datum);

/* Returns the relative standard uncertainty of a reading in steps: step / sqrt(12), rectangular (JCGM 100:2008 4.3.7).
 */
double hk_step_spread(double step, double reading);

/*
 * Returns the standard deviation that pieces add to ln of a datum. Each copy of each line has its own c ~ N(0,
 * piece^2), so a sum W of W_j has the variance sum_j (W_j / W)^2 piece^2; n copies of a line are n terms with W_j / n.
 */
double hk_pieces_spread(const struct hk_fit *fit, double piece, const struct hk_datum *datum);

#endif
