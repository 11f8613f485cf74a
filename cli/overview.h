/* SPDX-License-Identifier: GPL-3.0-or-later */
/* hankful without arguments, in a folder that holds a project, or one workbook that is one. */
#ifndef OVERVIEW_H
#define OVERVIEW_H

#include "commands.h"

#include <stdbool.h>

/*
 * Returns the project here: ".", if the folder has any file of one, else its only workbook, if that has a sheet of one.
 * Owner: the caller (free). Returns NULL if there is none; *failed: memory ran out.
 */
char *overview_project(bool *failed);

/*
 * Prints the files, sizes, pieces and yarns of the project, its first errors, and suggested commands. Returns the same
 * outcome as check.
 */
enum outcome overview(const char *project, const struct options *options, FILE *out);

#endif
