/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The findings of the library, said to people. */
#ifndef FINDINGS_H
#define FINDINGS_H

#include "commands.h"
#include "hankful.h"
#include "layout.h"

/* Warnings and errors to standard error as "folder/file:line:column: error: message; hint", in file order. Where memory
 * fails for one, the findings are lost: findings_outcome says so. */
void findings_print(struct hk_diags *diags, const char *folder);

/* The notes as a list under "Assumed"; nothing where there are none. */
void findings_but_assumptions(struct text *text, const struct hk_diags *diags, const char *folder);

/* The same without those of one code, which are shown in another way. */
void findings_assumed_but(struct text *text, const struct hk_diags *diags, const char *folder, enum hk_code shown);

/* How many of that severity are kept; whether there are any. */
size_t findings_count(const struct hk_diags *diags, enum hk_severity severity);
bool findings_any(const struct hk_diags *diags, enum hk_severity severity);

/* FAILED if the machine failed (says so where memory ran out), REFUSED if there are errors, else DONE. */
enum outcome findings_outcome(const struct hk_diags *diags);

/* FAILED, said on standard error, if the text was lost on the way to memory, else DONE. */
enum outcome text_outcome(const struct text *text);

/* Where a finding stands: "folder/file:line:column" ("folder/file" for the whole file). Owner: the caller (free). */
char *finding_place(struct hk_place at, const char *folder);

#endif
