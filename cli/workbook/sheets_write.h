/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Workbooks written as .xlsx, by libxlsxwriter. The same cells give the same bytes. */
#ifndef SHEETS_WRITE_H
#define SHEETS_WRITE_H

#include "workbook/sheets.h"

/* A list of texts to choose from, for the cells of a column. */
struct sheet_choices {
    const char *const *texts;
    size_t count;
};

/* For a workbook to begin with: notes become comments of the cells that they explain, and cells offer lists. */
struct sheet_guide {
    struct sheet_choices fabrics, tools;
};

/*
 * Writes the sheets to a new file at `path`; guide NULL: every cell as it is, notes in their rows. Returns false, with
 * the reason in *why (static), on failure; then there is no file.
 */
bool sheets_write(const struct sheets *sheets, const struct sheet_guide *guide, const char *path, const char **why);

#endif
