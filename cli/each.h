/* SPDX-License-Identifier: GPL-3.0-or-later */
/* hankful need --each: many folders in one process, a line of JSON for each. */
#ifndef EACH_H
#define EACH_H

#include "commands.h"

/*
 * The operand names the list of folders, none or "-" standard input. A folder with errors has these in its line, and the
 * next follows. DONE where every folder had an answer, REFUSED where one had errors, FAILED where the machine failed: with
 * a file of a folder, which its line says and the rest follows, or with memory, the list or the output, which ends it.
 */
enum outcome each_folder(const struct options *options, FILE *out);

#endif
