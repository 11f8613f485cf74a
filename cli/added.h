/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Files that `new --add` adds to a project: their names, and their texts with the names from that project. */
#ifndef ADDED_H
#define ADDED_H

#include "hankful.h"

struct added_file {
    const char *name, *purpose; /* "costs.csv" */
};

/* Returns the name of file i; NULL beyond the last. */
const struct added_file *added_file(size_t i);

/*
 * Adds the bits of "costs,offers" to *files, bit i for added_file(i). Returns false, with a message, if a name is
 * unknown.
 */
bool added_parse(const char *words, uint64_t *files);

/*
 * Returns the shipped text of a file, with names from the project in place of {role}, {put_up}, {colour}, {size},
 * {sizes}, {values}, {piece}, {kind} and {meaning}; repeats a line with {role}, {piece} or {kind} for each of them. The
 * tally may be NULL: then there are no pieces. Owner: the caller (free). Returns NULL when memory runs out.
 */
char *added_text(const char *shipped, const struct hk_project *names, const struct hk_tally *tally);

/*
 * Appends a CSV cell, quoted where necessary, and the text after it. Returns false, and frees all words, when memory
 * runs out.
 */
bool append_cell(char **words, const char *cell, const char *behind);

#endif
