/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Enters weighed, unravelled and timed readings as data of the fit; reports impossible ones. */
#ifndef HK_EVIDENCE_H
#define HK_EVIDENCE_H

#include "model/parameters.h"

/* Enters the swatches, pieces and balls of the current folder. */
void hk_evidence_enter(struct hk_maker *m);

/*
 * Returns the standard deviation that pieces add to ln of a datum. Each copy of each line has its own c ~ N(0,
 * piece^2), so a sum W of W_j has the variance sum_j (W_j / W)^2 piece^2; n copies of a line are n terms with W_j / n.
 */
double hk_pieces_spread(const struct hk_fit *fit, double piece, const struct hk_datum *datum);

#endif
