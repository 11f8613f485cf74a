/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Parsing of cells with a price. */
#ifndef HK_MONEY_CELL_H
#define HK_MONEY_CELL_H

#include "base/diags.h"
#include "input/table.h"

/*
 * "6.40", "6,40" (where the file's separator allows or the cell cannot mean thousands), "EUR 6.40", "6.40 EUR" to minor
 * units. `currency`: a code of ISO 4217; "" or NULL if the project states none, when a code or sign in the cell is an
 * error. Another currency, too many decimals and negative amounts are errors; zero is allowed. Returns false with a
 * finding.
 */
bool hk_money_cell(struct hk_cell cell, const char *currency, int minor_digits, int64_t *minor, struct hk_diags *diags);

#endif
