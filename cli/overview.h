/* SPDX-License-Identifier: GPL-3.0-or-later */
/* hankful without arguments, in a folder that holds a project. */
#ifndef OVERVIEW_H
#define OVERVIEW_H

#include "commands.h"

/* Returns whether the current folder has any file of a project. */
bool overview_has_project(void);

/*
 * Prints the files, sizes, pieces and yarns of the current folder, its first errors, and suggested commands. Returns
 * the same outcome as check.
 */
enum outcome overview(const struct options *options, FILE *out);

#endif
