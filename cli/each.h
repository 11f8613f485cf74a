/* SPDX-License-Identifier: GPL-3.0-or-later */
/* hankful need --each: many folders in one process, a line of JSON for each. */
#ifndef EACH_H
#define EACH_H

#include "commands.h"

/*
 * Reads the list of folders from the file that the operand names; no operand or "-" means standard input. A folder with
 * errors has them in its line, and the list continues.
 * Returns DONE if every folder had an answer, REFUSED if a folder had errors, FAILED on a failure of the machine. A
 * failure with a file of a folder is in that folder's line, and the list continues; a failure of memory, the list or
 * the output ends it.
 */
enum outcome each_folder(const struct options *options, FILE *out);

#endif
