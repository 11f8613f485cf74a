/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The errors that spreadsheet programs show in place of a value: "#REF!", "#N/A", "#####", "Err:502". */
#ifndef HK_ERROR_VALUE_H
#define HK_ERROR_VALUE_H

#include "hankful.h"

/* Returns true when the whole text is an error value. */
bool hk_error_value(const char *text);
/* Adds HK_CODE_SPREADSHEET_DAMAGE for an error value. */
void hk_error_value_found(const char *text, struct hk_place at, struct hk_diags *diags);

#endif
