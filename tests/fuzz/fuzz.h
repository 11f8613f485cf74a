/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the fuzz targets share: files and cells made of the bytes, and what must hold whatever the bytes are. */
#ifndef FUZZ_H
#define FUZZ_H

#include "catalogue/catalogue.h"
#include "input/table.h"

#include <stddef.h>
#include <stdint.h>

/* What libFuzzer calls. */
int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size);

#define FUZZ_FILES 16
/* For a basket: hardly any needs it. */
#define FUZZ_SEARCH_S 0.05

struct fuzz_file {
    char name[32];
    const uint8_t *bytes;
    size_t size;
};

/* A folder; its source lives as long as it does. */
struct fuzz_folder {
    struct fuzz_file files[FUZZ_FILES];
    size_t count;
};

/* One file of that name. */
void fuzz_folder_one(struct fuzz_folder *folder, const char *name, const uint8_t *bytes, size_t size);
/* Several: each begins behind a line "==== name"; what stands before the first such line is left out. */
void fuzz_folder_split(struct fuzz_folder *folder, const uint8_t *bytes, size_t size);
/* What a small design in two sizes needs besides, where the folder has it not. */
void fuzz_folder_complete(struct fuzz_folder *folder);
struct hk_source fuzz_source(struct fuzz_folder *folder);

/* A folder from its files to what is bought and worked; each stage stands on the one before. */
struct fuzz_stages {
    struct hk_project *project;
    struct hk_tally *tally;
    struct hk_fit *fit;
    struct hk_time_fit *time;
    struct hk_need *need;
    struct hk_shop *shop;
    struct hk_hours *hours;
};

/* False where the folder has errors, which have been said then. Free it all the same. */
bool fuzz_stages_make(struct fuzz_stages *stages, struct fuzz_folder *folder, struct hk_diags *diags);
void fuzz_stages_free(struct fuzz_stages *stages);

/* The shipped tables, read once. */
const struct hk_catalogue *fuzz_catalogue(void);

/* Says what does not hold and aborts, which libFuzzer reports as a finding. */
#define fuzz_hold(fact) ((fact) ? (void)0 : fuzz_broken(#fact, __FILE__, __LINE__))
_Noreturn void fuzz_broken(const char *fact, const char *file, int line);

/* Every finding has a name, well-formed words and a place inside a file of the folder; then frees them. */
void fuzz_check_findings(struct hk_diags *diags, const struct fuzz_folder *folder);

/* The bytes as the only cell of a file; a table of no rows, or NULL, where they come to no cell. */
struct fuzz_cell {
    struct fuzz_folder folder;
    char *text;
    struct hk_table *table;
    struct hk_cell cell;
    struct hk_diags diags;
};
bool fuzz_cell_make(struct fuzz_cell *cell, const uint8_t *bytes, size_t size);
/* Checks the findings too. */
void fuzz_cell_free(struct fuzz_cell *cell);

#endif
