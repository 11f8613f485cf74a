/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The codes of accepted findings: "grading-falls, unusual" in the column `ok` of a CSV file, or after "ok:" in pattern.txt.
 * Blanks, commas, semicolons and square brackets separate them.
 */
#ifndef HK_OK_WORDS_H
#define HK_OK_WORDS_H

#include "base/diags.h"

/*
 * Accepts each code, from byte `from` of the text on, for the lines (hk_diags_accept). A word that is not the code of a
 * warning or a note is an error, at the place that place(host, offset) returns for a byte of the text.
 */
void hk_ok_words(const char *text, size_t from, struct hk_ok_lines lines,
                 struct hk_place (*place)(const void *host, size_t offset), const void *host, struct hk_diags *diags);

#endif
