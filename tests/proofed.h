/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A pattern.txt worked in a project of three sizes, S, M and L, with a yarn "main" (and "trim" where the pattern names
 * it): 25 rows of stockinette in 10 cm, 20 of single crochet.
 */
#ifndef TEST_PROOFED_H
#define TEST_PROOFED_H

#include "support.h"

#include "tally/tally.h"

/* The other files of the project. */
#define PROJECT "field,value\ntitle,Skerry\nsizes,\"S (M, L)\"\n"
#define YARN "role,yarn,put_up,length\nmain,Holm DK,50 g,120 m\n"
#define YARNS YARN "trim,Holm Tweed DK,50 g,115 m\n"
#define SWATCHES                                                                                                       \
    "swatch,yarn,tool,fabric,stitches,rows,gauge\nbody,main,5 mm,single crochet,20,20,16 x 20\n"                       \
    "plain,main,5 mm,stockinette,20,20,18 x 25\n"

struct proofed {
    struct hk_project *project;
    struct hk_tally *tally;
    struct hk_diags diags;
};

/*
 * Returns the project and, if it has no mistake, its tally; a file of the given name and text, unless NULL, is added or
 * replaces project.csv.
 */
struct proofed proofed_read(const struct hk_catalogue *catalogue, const char *pattern, const char *name,
                            const char *text);
void proofed_free(struct proofed *read);

/* Returns the number of stitches of that kind that the whole project takes in a size. */
int64_t proofed_total(const struct proofed *read, size_t size, const char *stitch);

/*
 * Asserts the result of each row, one line for each: "5 Rnd 1: 72= 78= 84!76", with - for a size without the row, ? for
 * a row that cannot be worked, ~ for a row worked from the statement of the row below, ! before a stated count that
 * differs; and the findings. The test's state is the catalogue.
 */
void assert_rows_at(const struct hk_catalogue *catalogue, const char *pattern, const char *expected,
                    const char *findings, const char *file, int line);
#define assert_rows(pattern, expected, findings)                                                                       \
    assert_rows_at(*state, (pattern), (expected), (findings), __FILE__, __LINE__)

/* Lines after the rows that several cases share, with the added rows and the findings. */
struct worded {
    const char *lines, *rows, *findings;
};

void assert_worded_at(const struct hk_catalogue *catalogue, const char *above, const char *rows_above,
                      const struct worded *cases, size_t count, const char *file, int line);
#define assert_worded(above, rows_above, cases)                                                                        \
    assert_worded_at(*state, (above), (rows_above), (cases), sizeof(cases) / sizeof *(cases), __FILE__, __LINE__)

#endif
