/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A workbook made as a whole or not at all, and the folder of a project as sheets. */
#ifndef SHEET_FILES_H
#define SHEET_FILES_H

#include "commands.h"
#include "workbook/sheets_write.h"

/* Writes a new workbook at `path`, which is not there yet. Prints the reason of a failure. */
enum outcome workbook_make(const struct sheets *sheets, const struct sheet_guide *guide, const char *path);

/* Reads the files of a project in a folder. Prints the reason of a failure. */
enum outcome folder_sheets(struct sheets *sheets, const char *folder);

#endif
