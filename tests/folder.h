/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A small valid project folder in memory; a test replaces the file under test. */
#ifndef TEST_FOLDER_H
#define TEST_FOLDER_H

#include "support.h"

#include "tally/tally.h"

/* NULL: the file of the valid folder; "": the file is absent. */
struct folder {
    const char *project, *grade, *yarns, *fabrics, *swatches, *pieces;
    const char *other_name, *other_text;   /* an additional file */
    const char *other2_name, *other2_text; /* a second additional file */
    bool roles_matter;                     /* HK_CODE_ROLE_UNUSED is excluded: most samplers use one of the two roles */
};

/* A sampler in sizes S, M and L with two yarn roles, one fabric of its own and one swatch. */
extern const struct folder good_folder;

/* Reads the valid folder with the replacements of `folder`. */
struct hk_project *folder_read(const struct hk_catalogue *catalogue, struct folder folder, struct hk_diags *diags);

/* The same; asserts that there are no findings. */
struct hk_project *folder_good(const struct hk_catalogue *catalogue, struct folder folder);

/* Asserts that the folder gives no project, and asserts the exact findings. */
#define assert_folder_bad(catalogue, folder, expected)                                                                 \
    assert_folder_bad_at((catalogue), (folder), (expected), __FILE__, __LINE__)
void assert_folder_bad_at(const struct hk_catalogue *catalogue, struct folder folder, const char *expected,
                          const char *file, int line);

/* A project and all results that follow from it, up to the need. */
struct stages {
    struct hk_project *project;
    struct hk_tally *tally;
    struct hk_fit *fit;
    struct hk_need *need;
};

/* Takes ownership of the project and asserts that every stage succeeds; `size` as in hk_need_options. */
struct stages stages_from(struct hk_project *project, size_t size);
/* The same for the valid folder with the replacements of `folder`. */
struct stages stages_of(const struct hk_catalogue *catalogue, struct folder folder, size_t size);
void stages_free(struct stages stages);

#endif
