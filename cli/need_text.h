/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sections of `need` below its first screen. */
#ifndef NEED_TEXT_H
#define NEED_TEXT_H

#include "amount.h"
#include "layout.h"
#include "pipeline.h"

/* Prints the likely amounts with their range, the causes of that range, and ways to narrow it (--why). */
void need_why_report(const struct work *work, struct text *text);

/* Prints the yarn of every piece and part (--where). */
void need_where_report(const struct work *work, struct text *text);

/*
 * Prints the likely amount of one role, its range, and the remedies that narrow it most, in a sentence. `at`: an index
 * into need->roles.
 */
void need_likely_report(const struct work *work, size_t at, struct text *text);

/* The name of a kind of stitch, and of what is no stitch. */
const char *need_stitch_name(const struct hk_need_stitch *stitch);

#endif
