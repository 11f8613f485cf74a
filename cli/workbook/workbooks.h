/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Projects as sources: a folder of files, or a workbook with a sheet for each file. A workbook is read once and kept
 * until workbooks_forget; its text and the place of every cell with it.
 */
#ifndef WORKBOOKS_H
#define WORKBOOKS_H

#include "hankful.h"
#include "workbook/sheets.h"

/* Returns whether the name ends in .xlsx or .ods, letter case aside, and no folder has it. */
bool workbook_named(const char *path);

/* The files of a folder or workbook at `path`, which must live as long as the source; names may lead out of it. */
struct hk_source project_source(const char *path);

/*
 * Returns the path of a file of the project, "folder/name"; of one in another folder, as learn_from names it, beside
 * the workbook. Owner: the caller (free). Returns NULL when memory runs out.
 */
char *project_path(const char *folder, const char *name);

/* Returns whether the folder or workbook can be read; otherwise *why is the reason. */
enum hk_open project_open(const char *path, const char **why);

/*
 * Adds what is wrong with the workbook itself: that it cannot be read, a formula without a result, a sheet whose name
 * is nearly that of a file. Adds nothing for a folder. Returns false when it cannot be read.
 */
bool workbook_report(const char *path, struct hk_diags *diags);

/* Returns the sheets of a workbook; NULL for a folder, or when memory runs out. Valid until workbooks_forget. */
const struct sheets *workbook_sheets(const char *path);

/*
 * Returns the names of the sheets that no project reads, "Notes, Chart", SHEET_LISTS aside; *failed: memory ran out.
 * NULL: none, or a folder. Owner: the caller (free).
 */
char *workbook_others(const char *path, bool *failed);

/* A place in a workbook. Owner of the texts: the caller, who calls workbook_place_free. */
struct workbook_place {
    char *path;         /* of the workbook */
    char *sheet;        /* as the workbook spells it, or the name of the missing sheet; NULL: the whole workbook */
    char cell[20];      /* "C4"; empty: the whole sheet */
    size_t row, column; /* from 1; 0: the whole sheet */
};

/*
 * Finds the place of a finding in a workbook. Returns false if it is in a folder, or when memory runs out; then *failed
 * is set.
 */
bool workbook_place(const char *folder, struct hk_place at, struct workbook_place *place, bool *failed);

/*
 * Returns the words of a message about a project; for a workbook, "swatches.csv" in them becomes "the sheet swatches".
 * Owner: the caller (free). Returns NULL when memory runs out.
 */
char *workbook_words(const char *folder, const char *words);

void workbook_place_free(struct workbook_place *place);

/* Frees all workbooks. Sources of them are invalid then. */
void workbooks_forget(void);

#endif
