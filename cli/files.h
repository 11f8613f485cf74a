/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Folders on disk, and where the shipped tables are. */
#ifndef FILES_H
#define FILES_H

#include "hankful.h"

struct folder {
    const char *path;
    bool outside; /* may a name lead out of it: a project's learn_from may, the tables may not */
};

/* Reads the folder's files; borrows its path. */
struct hk_source folder_source(const struct folder *folder);

/* Whether it can be read from; else *why says why not (static). */
enum hk_open folder_open(const char *path, const char **why);

/*
 * The folder of the shipped tables: `option`, else HANKFUL_TABLES, else the installed one. Complains, naming what was
 * tried, and returns NULL if it cannot be read from.
 */
const char *folder_of_tables(const char *option);

/* "folder/name"; the name alone in the folder one stands in. Owner: the caller (free). NULL when out of memory. */
char *folder_path(const char *folder, const char *name);

#endif
