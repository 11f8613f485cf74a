/* SPDX-License-Identifier: GPL-3.0-or-later */
/* hankful without words, in a folder that holds a project. */
#ifndef OVERVIEW_H
#define OVERVIEW_H

#include "commands.h"

/* Whether the current folder has any file of a project. */
bool overview_has_project(void);

/* The files, sizes, pieces and yarns of the current folder, its first errors, and commands to type next. Outcome as of
 * check. */
enum outcome overview(const struct options *options, FILE *out);

#endif
