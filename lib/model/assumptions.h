/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What an answer rests on besides the weighings, said once each: the loop rule, swatches of something else, labels. */
#ifndef HK_ASSUMPTIONS_H
#define HK_ASSUMPTIONS_H

#include "model/fit.h"

/* Adds at most a handful of notes (the code HK_CODE_ASSUMPTION). */
void hk_assumptions_report(const struct hk_fit *fit, struct hk_diags *diags);

#endif
