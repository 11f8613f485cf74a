/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * An answer as a workbook: the lists of its JSON as tidy sheets, one table a sheet, one observation a row. A list
 * within a list is a sheet of its own, with the names of the row that it belongs to. Headers have the units, numbers
 * are numbers.
 */
#ifndef ANSWER_H
#define ANSWER_H

#include "commands.h"

/*
 * Runs the command and writes its answer to the file that --xlsx names: a new file, or one that --xlsx wrote before,
 * never the project's own. Prints the names of the sheets.
 */
enum outcome answer_workbook(const struct command *command, const struct options *options, FILE *out);

#endif
