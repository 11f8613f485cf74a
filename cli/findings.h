/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Output of the library's findings for people. */
#ifndef FINDINGS_H
#define FINDINGS_H

#include "commands.h"
#include "hankful.h"
#include "layout.h"

/*
 * Prints warnings and errors on standard error as "folder/file:line:column: error: message; hint", in file order; a
 * warning ends with its code, "[unusual]". When memory runs out for a finding, the findings are lost: findings_outcome
 * reports it.
 */
void findings_print(struct hk_diags *diags, const char *folder);

/* Prints the notes as a list under "Assumed"; prints nothing if there are none. */
void findings_but_assumptions(struct text *text, const struct hk_diags *diags, const char *folder);

/* The same without the notes of one code, which the caller shows elsewhere. */
void findings_assumed_but(struct text *text, const struct hk_diags *diags, const char *folder, enum hk_code shown);

/* Returns the number of these notes. */
size_t findings_assumed(const struct hk_diags *diags, enum hk_code shown);

/* Returns the number of accepted findings of that severity, and prints all as a list; nothing if there are none. */
size_t findings_accepted(const struct hk_diags *diags, enum hk_severity severity);
void findings_list_accepted(struct text *text, const struct hk_diags *diags, const char *folder);

/* Returns the number of findings kept of that severity. */
size_t findings_count(const struct hk_diags *diags, enum hk_severity severity);
bool findings_any(const struct hk_diags *diags, enum hk_severity severity);

/*
 * Returns FAILED on a failure of the machine (with a message if memory ran out), REFUSED if there are errors, else
 * DONE.
 */
enum outcome findings_outcome(const struct hk_diags *diags);

/* Returns whether there are errors, and all of them are about options and not about files. */
bool findings_typed(const struct hk_diags *diags);

/* Returns FAILED, with a message, if the text could not be kept in memory, else DONE. */
enum outcome text_outcome(const struct text *text);

/*
 * Returns the place of a finding: "folder/file:line:column" ("folder/file" for the whole file, "folder" for none); in a
 * workbook "my-hat.xlsx, sheet!C4".
 * Owner: the caller (free).
 */
char *finding_place(struct hk_place at, const char *folder);

/* Returns the message and the hint, with the names of sheets for those of files in a workbook. Owner: the caller
 * (free). */
char *finding_words(const struct hk_finding *finding, const char *folder);

#endif
