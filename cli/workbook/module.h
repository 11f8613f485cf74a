/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The module that reads and writes workbook files. It is a shared object of its own, loaded when a command is given a
 * workbook: its libraries would more than double the time in which every other command starts.
 */
#ifndef MODULE_H
#define MODULE_H

#include "workbook/answer_sheets.h"
#include "workbook/sheets_write.h"

/* What the module exports; each function is declared by the name in the comment. */
struct workbook_module {
    bool (*read)(struct sheets *sheets, const char *path); /* sheets_read */
    bool (*write)(const struct sheets *sheets, const struct sheet_guide *guide, const char *path,
                  const char **why);                                                /* sheets_write */
    bool (*write_answer)(const json_t *tables, const char *path, const char **why); /* answer_sheets_write */
    bool (*wrote_answer)(const char *path);                                         /* answer_sheets_wrote */
};

#define MODULE_FILE "hankful-workbook.so"
#define MODULE_SYMBOL "hankful_workbook"

/* Loads the module, once. Returns NULL, with the reason in *why (static), on failure. */
const struct workbook_module *module_load(const char **why);

#endif
