/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The stages of the library, from the folders to the shopping list; a command runs them up to the stage that it needs.
 */
#ifndef WORK_H
#define WORK_H

#include "commands.h"
#include "files.h"
#include "hankful.h"
#include "layout.h"

enum stage { STAGE_PROJECT, STAGE_TALLY, STAGE_FIT, STAGE_NEED, STAGE_SHOP };

struct work {
    struct folder table_folder, folder;
    struct hk_diags table_diags, diags;
    struct hk_catalogue *catalogue;
    struct hk_project *project;
    struct hk_tally *tally;
    struct hk_fit *fit;
    struct hk_need *need;
    struct hk_shop *shop;
    /*
     * Set by the caller: whether stages from the need on include the hours; and a callback for options that depend on
     * the project, called after it is read, before any prediction or search. An outcome other than DONE ends the work;
     * the callback has printed the reason.
     */
    bool hours_wanted;
    const struct hk_hand *hand; /* set by the caller: what was typed beside the folder; NULL: nothing */
    bool silent; /* set by the caller if it shows findings itself: only failures of the machine are printed */
    enum outcome (*take_options)(const struct work *work, const struct options *options, void *taking);
    void *taking;
    struct hk_time_fit *time;
    struct hk_hours *hours;
    size_t size; /* requested size; HK_NO_SIZE: all */
    /*
     * The reason for a refusal that belongs to no file: the folder cannot be opened, or the requested size does not
     * exist. Owns its texts; message NULL: no refusal.
     */
    struct hk_finding refusal;
};

/*
 * Reads the shipped tables. Prints errors on standard error. `work` starts as {0}; the caller frees it after every
 * outcome.
 */
enum outcome pipeline_tables(struct work *work, const struct options *options);

/*
 * Reads the tables, unless they are already read, then runs the project folder up to a stage. Sorts all findings;
 * prints warnings, errors and a refusal on standard error.
 */
enum outcome pipeline_project(struct work *work, const struct options *options, const char *folder, enum stage last);

/* Frees everything except the tables, before the next folder. */
void pipeline_clear(struct work *work);
void pipeline_free(struct work *work);

/* Sizes of the project from `first` up to, not including, `end`. */
struct size_range {
    size_t first, end;
};

/* Returns the requested sizes. */
struct size_range pipeline_sizes(const struct work *work);

/* Returns the project folder: the operand after the command's name, else the current folder. */
const char *pipeline_folder(const struct options *options);

/* Returns text about a project to a stream; it names the sheets of a workbook in place of files. */
struct text pipeline_text(FILE *stream, const char *project, const struct options *options);

#endif
