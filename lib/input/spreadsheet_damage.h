/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Cells that a spreadsheet converted: 12-14 to the 12th of a month, 1/2 to the 1st of February, a long number to a
 * power of ten. They are reported, not read as other numbers.
 */
#ifndef HK_SPREADSHEET_DAMAGE_H
#define HK_SPREADSHEET_DAMAGE_H

#include "input/span.h"

/* Adds HK_CODE_SPREADSHEET_DAMAGE and returns true when the text looks converted by a spreadsheet. */
bool hk_spreadsheet_damage(const struct hk_span *span, struct hk_diags *diags);

#endif
