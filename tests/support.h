/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Helpers shared by the suites: folders in memory, closeness of doubles, findings as text. Includes cmocka and the
 * headers that must precede it.
 */
#ifndef TEST_SUPPORT_H
#define TEST_SUPPORT_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "input/graded.h"

/* A folder in memory; the list ends with a NULL name. */
struct memory_file {
    const char *name, *text;
    size_t size; /* 0: strlen(text) */
};
struct hk_source memory_source(const struct memory_file *files);

/* Reads the shipped tables; fails the test if they have any error. The caller frees them with hk_catalogue_free. */
struct hk_catalogue *shipped_catalogue(void);

/* Turns off GSL's own error handler, like the command: the set-up of a group of tests. */
int handler_off(void **state);

/* The same, with the shipped tables as the group's state. */
int catalogue_set_up(void **state);
int catalogue_tear_down(void **state);

/*
 * Returns the second cell of the file cells.csv, whose only row is x and this text in quotes. The caller frees it with
 * cell_free.
 */
struct hk_cell cell_make(char separator, const char *text, struct hk_diags *diags);
void cell_free(struct hk_cell cell);

/* Formats "71 77 -" for counts and an absent value; lengths in whole millimetres, "380mm". */
void amounts_text(const struct hk_amount *by_size, size_t count, char *text, size_t size);

/* Returns the next number of a reproducible random sequence, from `least` to `most`. */
uint64_t random_next(uint64_t *seed);
int64_t random_in(uint64_t *seed, int64_t least, int64_t most);

/* How many of `whole` random cases a build tries: all, or a part where every case takes longer (meson.build). */
#ifndef PART_OF_CASES
#define PART_OF_CASES 1
#endif
#define RANDOM_CASES(whole) ((whole) / PART_OF_CASES)

/* P(Z <= 1.6448536...) = 0.95: any table of the normal distribution. */
#define Z95 1.6448536269514722

/* Returns whether |a - b| <= relative * max(|a|, |b|) + absolute, on doubles (cmocka's own check narrows to float). */
#define assert_close(a, b, relative, absolute) assert_close_at((a), (b), (relative), (absolute), #a, __FILE__, __LINE__)
void assert_close_at(double a, double b, double relative, double absolute, const char *what, const char *file, int line);

/*
 * Returns all findings, one on each line: "file:line:column: error: message; hint\n", sorted. Owner: the caller (free).
 */
char *findings_text(struct hk_diags *diags);

/* Asserts that the findings are exactly that text, and frees the findings. */
#define assert_findings(diags, expected) assert_findings_at((diags), (expected), __FILE__, __LINE__)
void assert_findings_at(struct hk_diags *diags, const char *expected, const char *file, int line);

#endif
