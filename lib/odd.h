/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Readings that look wrong: far from what the loop rule and all other evidence lead to expect. */
#ifndef HK_ODD_H
#define HK_ODD_H

#include "fit.h"

/* Adds a warning (HK_SWATCH_ODD) for each. */
void hk_odd_say(const struct hk_fit *fit, struct hk_arena *scratch, struct hk_diags *diags);

#endif
