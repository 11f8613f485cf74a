/* SPDX-License-Identifier: GPL-3.0-or-later */
/* hankful copy: a project in a folder as a workbook, or a workbook as a folder, by the endings of the names. */
#include "commands.h"
#include "files.h"
#include "findings.h"
#include "hankful.h"
#include "layout.h"
#include "new_files.h"
#include "workbook/csv_cells.h"
#include "workbook/sheet_files.h"
#include "workbook/workbooks.h"

#include <dirent.h>
#include <stdlib.h>
#include <string.h>

enum { files_most = 32 };

static bool is_project_file(const char *name)
{
    const char *file;
    for (size_t i = 0; (file = hk_project_file(i)); i++)
        if (strcmp(file, name) == 0)
            return true;
    return false;
}

/* Appends the names of other files in the folder, those that begin with a point aside. Returns false on failure. */
static bool name_others(char **words, const char *folder)
{
    DIR *open = opendir(folder);
    bool good = true;
    for (const struct dirent *entry; open && good && (entry = readdir(open));)
        if (entry->d_name[0] != '.' && !is_project_file(entry->d_name))
            good = text_append(words, "%s%s", *words ? ", " : "", entry->d_name);
    if (open)
        closedir(open);
    return good;
}

static size_t count_wanted(const struct sheets *sheets)
{
    size_t count = 0;
    for (size_t i = 0; i < sheets->count; i++)
        count += sheets->list[i].wanted;
    return count;
}

/* ---- To a folder ---- */

static enum outcome make_files(const struct sheets *sheets, const char *folder)
{
    struct new_file files[files_most] = {{0}};
    struct new_files set = {.files = files, .folder = folder, .remedy = "name another folder"};
    enum outcome outcome = DONE;
    const char *why = NULL;
    for (size_t i = 0; i < sheets->count && set.count < files_most && outcome == DONE; i++) {
        struct new_file *file = &files[set.count];
        if (!sheets->list[i].wanted)
            continue;
        set.count++;
        file->bytes = csv_cells_text(sheets, &sheets->list[i], &file->size, &why);
        if (!file->bytes || !new_file_name(file, folder, sheets_file(sheets->list[i].name))) {
            complain("out of memory");
            outcome = FAILED;
        }
    }
    if (outcome == DONE)
        outcome = new_files_check(&set);
    if (outcome == DONE)
        outcome = new_files_make(&set);
    new_files_end(&set, outcome == DONE);
    new_files_free(&set);
    return outcome;
}

/* A formula without a result has no value to copy. */
static bool all_solved(const struct sheets *sheets, const char *path)
{
    bool solved = true;
    for (size_t i = 0; i < sheets->count; i++)
        for (size_t c = 0; c < sheets->list[i].count; c++) {
            const struct sheet_cell *cell = &sheets->list[i].cells[c];
            char letters[SHEET_LETTERS];
            if (cell->kind != CELL_UNSOLVED)
                continue;
            sheet_letters(cell->column, letters);
            complain("%s, %s!%s%u: the formula has no saved result; open the workbook in a spreadsheet and save it, or "
                     "type the value",
                     path, sheets->list[i].name, letters, cell->row + 1);
            solved = false;
        }
    return solved;
}

/* ---- From and to ---- */

/* Reads the workbook. Returns NULL, with a message, on failure; *outcome is the kind of failure. */
static const struct sheets *read_workbook(const char *path, enum outcome *outcome)
{
    const struct sheets *sheets = workbook_sheets(path);
    *outcome = FAILED;
    if (!sheets || sheets->no_memory) {
        complain("out of memory");
    } else if (sheets->absent || sheets->machine) {
        complain("cannot open workbook \"%s\": %s", path, sheets->why);
    } else if (sheets->why) {
        complain("cannot read \"%s\": %s%s%s", path, sheets->why, sheets->remedy ? "; " : "",
                 sheets->remedy ? sheets->remedy : "");
        *outcome = REFUSED;
    } else if (!all_solved(sheets, path)) {
        *outcome = REFUSED;
    } else {
        *outcome = DONE;
        return sheets;
    }
    return NULL;
}

static enum outcome report(const char *to, const struct sheets *sheets, char *others, bool folder, struct text *text)
{
    char *names = NULL;
    bool good = true;
    for (size_t i = 0; i < sheets->count && good; i++)
        if (sheets->list[i].wanted)
            good = text_append(&names, "%s%s", names ? ", " : "",
                               folder ? sheets_file(sheets->list[i].name) : sheets->list[i].name);
    text_paragraph(text, "Made %s, with the %s %s.", to, folder ? "files" : "sheets", names ? names : "");
    if (others)
        text_paragraph(text, "Not copied, because no project reads it: %s.", others);
    text->failed |= !good;
    free(names);
    return text_outcome(text);
}

static enum outcome copy(const char *from, const char *to, struct text *text)
{
    const bool of_workbook = workbook_named(from), folder = !path_ends_in(to, ".xlsx");
    struct sheets own = {0};
    const struct sheets *sheets = &own;
    enum outcome outcome = DONE;
    char *others = NULL;
    const char *why;
    if (of_workbook) {
        sheets = read_workbook(from, &outcome);
    } else if (folder_open(from, &why) != HK_OPEN_DONE) {
        complain("cannot open folder \"%s\": %s", from, why);
        outcome = FAILED;
    } else {
        outcome = folder_sheets(&own, from);
    }
    if (outcome == DONE && count_wanted(sheets) == 0) {
        complain("\"%s\" holds no project: it has none of the %s that a project has, such as %s", from,
                 of_workbook ? "sheets" : "files", of_workbook ? "pieces" : "pieces.csv");
        outcome = REFUSED;
    }
    if (outcome == DONE)
        outcome = folder ? make_files(sheets, to) : workbook_make(sheets, NULL, to);
    if (outcome == DONE && of_workbook)
        others = workbook_others(from, &text->failed);
    else if (outcome == DONE)
        text->failed = !name_others(&others, from);
    if (outcome == DONE)
        outcome = report(to, sheets, others, folder, text);
    free(others);
    sheets_free(&own);
    workbooks_forget();
    return outcome;
}

enum outcome cmd_copy(const struct options *options, FILE *out)
{
    const char *from = options->words[1], *to = options->words[2];
    struct text text = text_to(out, options->width);
    if (path_ends_in(to, ".ods"))
        complain("copy writes workbooks as .xlsx only; name it so, and save it as .ods in a spreadsheet");
    else if (path_ends_in(to, ".xls") || path_ends_in(to, ".csv"))
        complain("copy writes a folder, or a workbook whose name ends in .xlsx, not \"%s\"", to);
    else if (!workbook_named(from) && !path_ends_in(to, ".xlsx"))
        complain(
            "copy turns a folder into a workbook, or a workbook into a folder; one of the two names must end in .xlsx");
    else
        return copy(from, to, &text);
    return MISUSED;
}
