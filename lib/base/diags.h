/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Adding findings (hankful.h has the public part). Programs may depend on a finding's code, never on its text. */
#ifndef HK_DIAGS_H
#define HK_DIAGS_H

#include "base/acceptance.h"

/*
 * Adds one finding; copies the file name. A finding with the same code, place and message is kept once. Control
 * characters in the message become blanks, and the middle of a very long message is cut, so a message may quote any
 * cell. When memory runs out it sets diags->out_of_memory, which counts as an error.
 */
void hk_diags_add(struct hk_diags *diags, enum hk_code code, struct hk_place at, const char *format, ...) HK_PRINTF(4, 5);

/*
 * Adds a hint, how to correct the error, to the last finding. Does nothing if that finding was dropped or has a hint.
 */
void hk_diags_hint(struct hk_diags *diags, const char *format, ...) HK_PRINTF(2, 3);

/*
 * Accepts a code, of a warning or a note, for these lines: its findings there, earlier ones and later ones, are set aside
 * (hk_diags_accepted). Copies the file name. The lines of two acceptances of a file are the same or do not overlap.
 */
void hk_diags_accept(struct hk_diags *diags, enum hk_code code, struct hk_ok_lines lines);

/* Returns true when a finding of that code would be set aside there. */
bool hk_diags_accepts(const struct hk_diags *diags, enum hk_code code, struct hk_place at);

#endif
