/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A small good project folder in memory, of which a test replaces the file that it is about. */
#ifndef TEST_FOLDER_H
#define TEST_FOLDER_H

#include "support.h"

#include "tally/tally.h"

/* NULL: the file of the good folder; "": the file is absent. */
struct folder {
    const char *project, *grade, *yarns, *fabrics, *swatches, *pieces;
    const char *other_name, *other_text;   /* one more file */
    const char *other2_name, *other2_text; /* and another */
    bool roles_matter;                     /* HK_CODE_ROLE_UNUSED is left in: most samplers use one role of the two */
};

/* A sampler in sizes S, M and L with two roles of yarn, one fabric of its own and one swatch. */
extern const struct folder good_folder;

/* Reads the good folder with what `folder` replaces. */
struct hk_project *folder_read(const struct hk_catalogue *catalogue, struct folder folder, struct hk_diags *diags);

/* The same, asserting that there are no findings at all. */
struct hk_project *folder_good(const struct hk_catalogue *catalogue, struct folder folder);

/* Asserts that the folder does not give a project, and exactly what is found. */
#define assert_folder_bad(catalogue, folder, expected)                                                                 \
    assert_folder_bad_at((catalogue), (folder), (expected), __FILE__, __LINE__)
void assert_folder_bad_at(const struct hk_catalogue *catalogue, struct folder folder, const char *expected,
                          const char *file, int line);

/* A project and all that follows from it, up to what it needs. */
struct stages {
    struct hk_project *project;
    struct hk_tally *tally;
    struct hk_fit *fit;
    struct hk_need *need;
};

/* Takes over the project, asserting that all goes well; `size` as in hk_need_options. */
struct stages stages_from(struct hk_project *project, size_t size);
/* Of the good folder with what `folder` replaces. */
struct stages stages_of(const struct hk_catalogue *catalogue, struct folder folder, size_t size);
void stages_free(struct stages stages);

#endif
