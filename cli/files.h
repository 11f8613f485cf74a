/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Folders on disk, and the location of the shipped tables. */
#ifndef FILES_H
#define FILES_H

#include "hankful.h"

struct folder {
    const char *path;
    bool outside; /* a name may lead outside: true for learn_from, false for the tables */
};

/* Initialises a source that reads the folder's files. Borrows the path. */
struct hk_source folder_source(const struct folder *folder);

/* Returns whether the folder can be read; otherwise *why is the reason (static). */
enum hk_open folder_open(const char *path, const char **why);

/*
 * Returns the folder of the shipped tables: `option`, else HANKFUL_TABLES, else the installed folder. Returns NULL,
 * with a message that names the folder, if it cannot be read.
 */
const char *folder_of_tables(const char *option);

/* Returns whether the place of a finding is an option, "--done", in place of a file. */
bool folder_is_option(const char *name);

/* Returns "folder/name", or "name" for the current folder. Owner: the caller (free). NULL when memory runs out. */
char *folder_path(const char *folder, const char *name);

/* Returns whether a path ends in ".xlsx", whatever the letter case, with a name before it. */
bool path_ends_in(const char *path, const char *ending);

#endif
