/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A cell that holds a price. */
#ifndef HK_MONEY_CELL_H
#define HK_MONEY_CELL_H

#include "base/diags.h"
#include "input/table.h"

/*
 * "6.40", "6,40" (where the file's separator allows or the cell cannot mean thousands), "EUR 6.40", "6.40 EUR" into
 * minor units. `currency`: a code of ISO 4217, "" or NULL where the project states none (a code or sign in the cell is
 * then an error, for it could not be told from another). A currency other than that or more digits than it has is an
 * error. Zero is allowed, negative is not.
 */
bool hk_money_cell(struct hk_cell cell, const char *currency, int minor_digits, int64_t *minor, struct hk_diags *diags);

#endif
