/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The assumptions of an answer, reported once each: the loop rule, swatches of other things, labels. */
#ifndef HK_ASSUMPTIONS_H
#define HK_ASSUMPTIONS_H

#include "model/fit.h"

/* Adds at most a handful of notes (the code HK_CODE_ASSUMPTION). */
void hk_assumptions_report(const struct hk_fit *fit, struct hk_diags *diags);

#endif
