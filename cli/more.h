/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The end of an answer's first screen: the number of warnings and assumptions, and the options that show more. A
 * section is an option, OPTION_WHY and the like, that adds a part to the answer; --all adds them all.
 */
#ifndef MORE_H
#define MORE_H

#include "options.h"
#include "pipeline.h"

/* Returns whether the section is asked for, by its option or by --all. */
bool more_wanted(const struct options *options, uint64_t section);

/*
 * Prints the assumptions, and the accepted findings, if they are asked for; then one line: "1 warning; hankful check shows
 * it. 1 accepted warning. 2 assumptions. More: --why, --where, --assumptions; or --all." `sections`: bits of the sections
 * that the command offers here besides the assumptions. `shown`: the code of notes that the answer shows elsewhere;
 * HK_CODE_END: none. Prints nothing where there is nothing more.
 */
void more_report(struct text *text, const struct work *work, const struct options *options, uint64_t sections,
                 enum hk_code shown);

/* The same without the number of warnings, after an answer that states it. */
void more_offer(struct text *text, const struct work *work, const struct options *options, uint64_t sections,
                enum hk_code shown);

#endif
