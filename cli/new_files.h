/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Files that a command makes in a folder: all of them or none, and never in the place of one that is there. Every file
 * is written completely, and synced, under a temporary name beside its own, and they are renamed when all are written.
 * A power cut or a kill leaves no partial file under a real name; the next run completes the set.
 */
#ifndef NEW_FILES_H
#define NEW_FILES_H

#include "commands.h"

#include <stdbool.h>
#include <stddef.h>

struct new_file {
    char *path;   /* path of the file */
    char *beside; /* path of the temporary file */
    char *bytes;
    size_t size;
    bool there;   /* the file exists at path with these bytes, left by an interrupted run */
    bool written; /* the temporary file exists at beside */
    bool made;    /* the file was made by this run */
};

struct new_files {
    struct new_file *files; /* borrowed; new_files_free frees what they own */
    size_t count;
    const char *folder, *remedy; /* remedy: what to do about a file in the way */
    bool completes;              /* files left by an interrupted run are completed, not refused */
    bool folder_made;
};

/* Sets the paths of a file. Returns false when memory runs out. */
bool new_file_name(struct new_file *file, const char *folder, const char *name);

/* Returns REFUSED, with a message for each file in the way, else DONE. */
enum outcome new_files_check(struct new_files *set);

/* Makes the folder, if there is none, and the files. Returns FAILED, with a message, on failure. */
enum outcome new_files_make(struct new_files *set);

/* Removes the temporary files; unless `keep`, removes all that was made; else syncs the folder. */
void new_files_end(const struct new_files *set, bool keep);

void new_files_free(const struct new_files *set);

/*
 * Syncs a file that others wrote at `beside`, and gives it its real name; only with `replace` in the place of one that
 * is there. Returns false, with a message, and removes it, on failure.
 */
bool new_file_settle(struct new_file *file, bool replace);

/* Creates the file at `beside`, empty, for others to write. Returns false, with a message, on failure. */
bool new_file_begin(struct new_file *file);

/* Frees what the file owns. */
void new_file_free(struct new_file *file);

#endif
