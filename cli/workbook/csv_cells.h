/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The text of a project's file as the cells of a sheet, notes and empty lines in their rows, and the reverse. */
#ifndef CSV_CELLS_H
#define CSV_CELLS_H

#include "workbook/sheets.h"

/*
 * Adds a sheet with the cells of a file, "pieces.csv" or "pattern.txt". A cell that is a number or a percentage becomes
 * one; every other stays a text, as typed. A number that could be read in two ways without the separator of the file,
 * such as 1.234, is rewritten, 1.2340. Returns false, with the reason in `sheets`, on failure.
 */
bool csv_cells_add(struct sheets *sheets, const char *file, const char *bytes, size_t size);

/*
 * Returns the sheet as the text of the file that it stands for. Separated by commas, or by tabs if texts have a comma
 * or point that would then have another meaning. Owner: the caller (free). Returns NULL, with the reason in *why.
 */
char *csv_cells_text(const struct sheets *sheets, const struct sheet *sheet, size_t *size, const char **why);

#endif
