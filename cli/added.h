/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Files that `new --add` adds to a project: their names, and their texts with the names of that project. */
#ifndef ADDED_H
#define ADDED_H

#include "hankful.h"

struct added_file {
    const char *name, *purpose; /* "costs.csv" */
};

/* NULL beyond the last. */
const struct added_file *added_file(size_t i);

/* Adds the bits of "costs,offers" to *files, bit i for added_file(i). False, with a message, where a name is unknown.
 */
bool added_parse(const char *words, uint64_t *files);

/*
 * The shipped text of a file with the names of the project in place of {role}, {put_up}, {colour}, {size}, {sizes},
 * {values}, {piece}, {kind} and {meaning}; a line that has {role}, {piece} or {kind} is repeated for each. The tally
 * may be NULL: then there are no pieces. Owner: the caller (free). NULL when out of memory.
 */
char *added_text(const char *shipped, const struct hk_project *names, const struct hk_tally *tally);

/* A cell as CSV has it, in quotes where it needs them, and what follows it. Out of memory: false, and all words are
 * gone. */
bool append_cell(char **words, const char *cell, const char *behind);

#endif
