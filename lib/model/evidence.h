/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What was weighed, unravelled and timed, as data of the fit; what cannot be right is said. */
#ifndef HK_EVIDENCE_H
#define HK_EVIDENCE_H

#include "model/parameters.h"

/* The swatches, pieces and balls of the maker's folder. */
void hk_evidence_enter(struct hk_maker *m);

/*
 * Each copy of each line has its own c, N(0, piece^2): of a sum of W_j, sum_j (W_j / W)^2 piece^2. n copies of one line are n
 * terms of (W_j / n)^2.
 */
double hk_pieces_spread(const struct hk_fit *fit, double piece, const struct hk_datum *datum);

#endif
