/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The stages of the library, from the folders to the shopping list, as far as a command wants them. */
#ifndef WORK_H
#define WORK_H

#include "commands.h"
#include "files.h"
#include "hankful.h"

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
    /* Set by the caller: the hours too, from the need on; and, where that needs the project, what takes the options
     * once it is read, before anything is predicted or searched. Not DONE ends the work there; it has been said why. */
    bool hours_wanted;
    bool silent; /* set by the caller, which shows warnings and errors itself: only failures of the machine are printed
                  */
    enum outcome (*take_options)(const struct work *work, const struct options *options, void *taking);
    void *taking;
    struct hk_time_fit *time;
    struct hk_hours *hours;
    size_t size; /* asked for; HK_NO_SIZE: all */
    /* Why nothing came of it, where that stands in no file: the folder cannot be opened, the size asked for is not
     * there. Owns its texts; message NULL: nothing of the kind. */
    struct hk_finding refusal;
};

/* The shipped tables. Says what is wrong on standard error. Starts from {0}; free it whatever comes out. */
enum outcome pipeline_tables(struct work *work, const struct options *options);

/* The tables, unless they are read already, then the project folder up to a stage. All findings are sorted, warnings,
 * errors and a refusal said on standard error. */
enum outcome pipeline_project(struct work *work, const struct options *options, const char *folder, enum stage last);

/* Gives back all but the tables: ready for the next folder. */
void pipeline_clear(struct work *work);
void pipeline_free(struct work *work);

/* Sizes of the project from `first` up to, not including, `end`. */
struct size_range {
    size_t first, end;
};

/* Those asked for. */
struct size_range pipeline_sizes(const struct work *work);

/* The project folder that the operand after the command's name states, else the one that one stands in. */
const char *pipeline_folder(const struct options *options);

#endif
