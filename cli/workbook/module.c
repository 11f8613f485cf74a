/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "workbook/module.h"

/* The symbol of the module that is looked up by name. */
__attribute__((visibility("default"))) extern const struct workbook_module hankful_workbook;

const struct workbook_module hankful_workbook = {
    .read = sheets_read,
    .write = sheets_write,
    .write_answer = answer_sheets_write,
    .wrote_answer = answer_sheets_wrote,
};
