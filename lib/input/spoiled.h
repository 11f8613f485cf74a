/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What spreadsheets make of what people type: 12-14 becomes the 12th of a month, 1/2 the 1st of February, a long number a power
 * of ten. Such a cell is said as what it is, and not taken for another number.
 */
#ifndef HK_SPOILED_H
#define HK_SPOILED_H

#include "input/excerpt.h"

/* Adds HK_CODE_SPOILED and returns true where the text is what a spreadsheet made of something else. */
bool hk_spoiled(const struct hk_excerpt *excerpt, struct hk_diags *diags);

#endif
