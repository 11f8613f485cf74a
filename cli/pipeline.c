/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "pipeline.h"

#include "findings.h"
#include "searching.h"
#include "workbook/workbooks.h"

#include <stdlib.h>
#include <string.h>

const char *pipeline_folder(const struct options *options)
{
    return options->word_count > 1 ? options->words[1] : ".";
}

struct text pipeline_text(FILE *stream, const char *project, const struct options *options)
{
    struct text text = text_to(stream, options->width);
    text.reword = workbook_words;
    text.project = project;
    return text;
}

enum outcome pipeline_tables(struct work *work, const struct options *options)
{
    const char *path = folder_of_tables(options->tables);
    if (!path)
        return FAILED;
    work->table_folder = (struct folder){path, false};
    const struct hk_source source = folder_source(&work->table_folder);
    work->catalogue = hk_catalogue_read(&source, &work->table_diags);
    hk_diags_sort(&work->table_diags);
    findings_print(&work->table_diags, path);
    if (work->catalogue && !hk_diags_out_of_memory(&work->table_diags))
        return DONE;
    findings_outcome(&work->table_diags); /* reports where memory ran out */
    return FAILED;                        /* not a mistake in the project, even if the tables are wrong */
}

/* Returns "S, M, L". Owner: the caller (free). */
static char *size_names(const struct hk_project *project)
{
    char *names = NULL;
    for (size_t i = 0; i < hk_project_sizes(project); i++)
        if (!text_append(&names, "%s%s", i ? ", " : "", hk_project_size(project, i)))
            return NULL;
    return names;
}

/* Takes ownership of the texts; a NULL message means that memory ran out. */
static enum outcome refuse(struct work *work, enum outcome outcome, enum hk_code code, char *message, char *hint)
{
    work->refusal = (struct hk_finding){.code = code, .message = message, .hint = hint};
    if (message)
        return outcome;
    hk_diags_set_out_of_memory(&work->diags);
    return findings_outcome(&work->diags);
}

/* Returns a hint for a size name that does not exist. Owner: the caller (free). */
static char *size_hint(const struct hk_project *project, const char *nearest)
{
    if (nearest)
        return text_format("did you mean %s?", nearest);
    char *names = size_names(project);
    char *hint = names
                     ? text_format("%s %s", hk_project_sizes(project) == 1 ? "the only one is" : "the sizes are", names)
                     : NULL;
    free(names);
    return hint;
}

static enum outcome find_size(struct work *work, const struct options *options)
{
    const char *name = options->size, *nearest = NULL;
    work->size = HK_NO_SIZE;
    if (!name)
        return DONE;
    work->size = hk_project_find_size(work->project, name, &nearest);
    if (work->size != HK_NO_SIZE)
        return DONE;
    char *hint = size_hint(work->project, nearest);
    char *message = hint ? text_format("there is no size \"%s\"", name) : NULL;
    const enum outcome outcome = refuse(work, MISUSED, HK_CODE_NAME_UNKNOWN, message, hint);
    const bool each = options->given & OPTION_EACH;
    if (outcome == MISUSED)
        complain("%s%s%s; %s", each ? work->folder.path : "", each ? ": " : "", message, hint);
    return outcome;
}

static bool plan_shop(struct work *work, const struct options *options)
{
    struct hk_shop_options wanted = hk_shop_defaults();
    wanted.together = options->given & OPTION_TOGETHER;
    wanted.by_chance = options->chance > 0;
    wanted.unpriced_silent = work->hours_wanted;
    if (options->times > 0)
        wanted.times = options->times;
    if (options->seconds > 0)
        wanted.seconds = options->seconds;
    struct searching searching = searching_start();
    wanted.watch = searching_watch(&searching);
    work->shop = hk_shop_plan(work->need, wanted, &work->diags);
    searching_end(&searching);
    return work->shop != NULL;
}

/* Runs the stages after the project. Each stage uses the one before. Returns false if a stage failed. */
static bool count_and_predict(struct work *work, const struct options *options, enum stage last)
{
    struct hk_need_options wanted = hk_need_defaults();
    wanted.size = work->size;
    wanted.chance = options->chance;
    if (last >= STAGE_TALLY && !(work->tally = hk_tally_count(work->project, &work->diags)))
        return false;
    if (last >= STAGE_FIT && !(work->fit = hk_fit_make(work->tally, &work->diags)))
        return false;
    if (last >= STAGE_NEED && !(work->need = hk_need_predict(work->fit, wanted, &work->diags)))
        return false;
    if (work->hours_wanted && (!(work->time = hk_fit_time(work->tally, &work->diags)) ||
                               !(work->hours = hk_hours_predict(work->time, work->size, &work->diags))))
        return false;
    return last < STAGE_SHOP || plan_shop(work, options);
}

enum outcome pipeline_project(struct work *work, const struct options *options, const char *folder, enum stage last)
{
    const char *why;
    const enum hk_open opened = project_open(folder, &why);
    if (opened == HK_OPEN_NO_MEMORY) {
        hk_diags_set_out_of_memory(&work->diags);
        return findings_outcome(&work->diags);
    }
    if (opened != HK_OPEN_DONE) {
        const char *what = workbook_named(folder) ? "workbook" : "folder";
        complain("cannot open %s \"%s\": %s", what, folder, why);
        return refuse(work, FAILED, opened == HK_OPEN_ABSENT ? HK_CODE_FILE_MISSING : HK_CODE_FILE_UNREADABLE,
                      text_format("the %s cannot be opened: %s", what, why), NULL);
    }
    enum outcome outcome = work->catalogue ? DONE : pipeline_tables(work, options);
    if (outcome != DONE)
        return outcome;
    work->folder = (struct folder){folder, true};
    const struct hk_source source = project_source(folder);
    if (workbook_report(folder, &work->diags))
        work->project = work->hand ? hk_project_read_hand(&source, work->catalogue, work->hand, &work->diags)
                                   : hk_project_read(&source, work->catalogue, &work->diags);
    bool done = work->project != NULL;
    if (done)
        outcome = find_size(work, options);
    if (done && outcome == DONE && work->take_options)
        outcome = work->take_options(work, options, work->taking);
    if (done && outcome == DONE)
        done = count_and_predict(work, options, last);
    hk_diags_sort(&work->diags);
    if (outcome != DONE)
        return outcome; /* the size or another option was refused, or memory ran out */
    if (!work->silent || hk_diags_machine_failed(&work->diags))
        findings_print(&work->diags, folder);
    outcome = findings_outcome(&work->diags);
    if (outcome == REFUSED && findings_typed(&work->diags))
        return MISUSED;
    return done || outcome != DONE ? outcome : REFUSED;
}

struct size_range pipeline_sizes(const struct work *work)
{
    if (work->size != HK_NO_SIZE)
        return (struct size_range){work->size, work->size + 1};
    return (struct size_range){0, hk_project_sizes(work->project)};
}

void pipeline_clear(struct work *work)
{
    hk_shop_free(work->shop);
    hk_hours_free(work->hours);
    hk_time_fit_free(work->time);
    hk_need_free(work->need);
    hk_fit_free(work->fit);
    hk_tally_free(work->tally);
    hk_project_free(work->project);
    hk_diags_free(&work->diags);
    free((char *)(uintptr_t)work->refusal.message);
    free((char *)(uintptr_t)work->refusal.hint);
    workbooks_forget();
    *work = (struct work){.table_folder = work->table_folder,
                          .table_diags = work->table_diags,
                          .catalogue = work->catalogue,
                          .hours_wanted = work->hours_wanted,
                          .hand = work->hand,
                          .silent = work->silent,
                          .take_options = work->take_options,
                          .taking = work->taking};
}

void pipeline_free(struct work *work)
{
    pipeline_clear(work);
    hk_catalogue_free(work->catalogue);
    hk_diags_free(&work->table_diags);
}
