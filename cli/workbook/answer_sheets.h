/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The tables of a JSON answer, written as a workbook. */
#ifndef ANSWER_SHEETS_H
#define ANSWER_SHEETS_H

#include <jansson.h>
#include <stdbool.h>

/*
 * Returns the tables as {"need": [{"size": "M", "mass, likely (g)": 355.4}, ...], ...}; money is {"money": "12.50"}.
 * Owner: the caller. Returns NULL when memory runs out.
 */
json_t *answer_tables(const json_t *answer);

/* Writes the tables to a new file. Returns false, with the reason in *why (static), on failure. */
bool answer_sheets_write(const json_t *tables, const char *path, const char **why);

/* Returns whether answer_sheets_write wrote the file at `path`. */
bool answer_sheets_wrote(const char *path);

#endif
