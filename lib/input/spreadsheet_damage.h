/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What spreadsheets make of what people type: 12-14 becomes the 12th of a month, 1/2 the 1st of February, a long number
 * a power of ten. Such a cell is said as what it is, and not taken for another number.
 */
#ifndef HK_SPREADSHEET_DAMAGE_H
#define HK_SPREADSHEET_DAMAGE_H

#include "input/span.h"

/* Adds HK_CODE_SPREADSHEET_DAMAGE and returns true where the text is what a spreadsheet made of something else. */
bool hk_spreadsheet_damage(const struct hk_span *span, struct hk_diags *diags);

#endif
