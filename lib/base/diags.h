/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Adding to the findings (their public face is in hankful.h). Code decides, text explains: never branch on text. */
#ifndef HK_DIAGS_H
#define HK_DIAGS_H

#include "hankful.h"

/*
 * Adds one finding; copies the file name. The same finding (code, place, message) is kept once. Control characters of
 * the message become blanks and the middle of a very long one is cut, so cells may be quoted as they are. Out of memory
 * sets diags->out_of_memory, which counts as an error.
 */
void hk_diags_add(struct hk_diags *diags, enum hk_code code, struct hk_place at, const char *format, ...) HK_PRINTF(4, 5);

/* Says what would do, on the finding added last (nothing if that one was dropped; a hint it has already stays). */
void hk_diags_hint(struct hk_diags *diags, const char *format, ...) HK_PRINTF(2, 3);

#endif
