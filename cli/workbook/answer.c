/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "workbook/answer.h"

#include "findings.h"
#include "json.h"
#include "new_files.h"
#include "pipeline.h"
#include "workbook/module.h"

#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

static bool same_file(const char *one, const char *other)
{
    struct stat a, b;
    return stat(one, &a) == 0 && stat(other, &b) == 0 && a.st_dev == b.st_dev && a.st_ino == b.st_ino;
}

/* Returns DONE if the answer may be written there. */
static enum outcome check_name(const char *path, const char *project)
{
    struct stat status;
    const char *why;
    if (!path_ends_in(path, ".xlsx")) {
        complain("--xlsx writes a file whose name ends in .xlsx, not \"%s\"", path);
        return MISUSED;
    }
    if (same_file(path, project)) {
        complain("\"%s\" is the project itself, and stays as it is; name another file for --xlsx", path);
        return MISUSED;
    }
    if (!module_load(&why)) {
        complain("cannot write \"%s\": %s", path, why);
        return FAILED;
    }
    if (lstat(path, &status) != 0 || answer_sheets_wrote(path))
        return DONE;
    complain("\"%s\" is there already, is no answer that --xlsx wrote, and stays as it is; name another file", path);
    return REFUSED;
}

/* Another form of the answer has no lists of its own. */
static bool forms_fit(const struct options *options)
{
    const uint64_t forms = options->given & (OPTION_JSON | OPTION_EACH | OPTION_MARKDOWN | OPTION_HTML | OPTION_CSV |
                                             OPTION_LIST | OPTION_LISTING | OPTION_LETTER | OPTION_TABLE);
    for (uint64_t bit = 1; bit && bit <= forms; bit <<= 1)
        if (forms & bit)
            complain("--xlsx and --%s are two forms of the answer; ask for one of them", options_name(bit));
    return !forms;
}

static enum outcome write_tables(const json_t *tables, const char *path)
{
    struct new_file file = {0};
    const char *why = "out of memory";
    const bool named = new_file_name(&file, ".", path), begun = named && new_file_begin(&file);
    const bool written = begun && answer_sheets_write(tables, file.beside, &why);
    if (begun == named && !written)
        complain("cannot write \"%s\": %s", path, why);
    const bool done = written && new_file_settle(&file, true);
    new_file_free(&file);
    return done ? DONE : FAILED;
}

static enum outcome report(const json_t *tables, const char *path, struct text *text)
{
    char *names = NULL;
    const char *name;
    json_t *rows;
    bool good = true;
    json_object_foreach((json_t *)(uintptr_t)tables, name, rows) good =
        good && text_append(&names, "%s%s (%zu)", names ? ", " : "", name, json_array_size(rows));
    text_paragraph(text, "Written to %s; the sheets and their rows: %s.", path, names ? names : "");
    text->failed |= !good;
    free(names);
    return text_outcome(text);
}

enum outcome answer_workbook(const struct command *command, const struct options *options, FILE *out)
{
    struct text text = text_to(out, options->width);
    struct options json = *options;
    enum outcome outcome = forms_fit(options) ? check_name(options->xlsx, pipeline_folder(options)) : MISUSED;
    if (outcome != DONE)
        return outcome;
    json.given |= OPTION_JSON;
    json_keep();
    outcome = command->run(&json, out);
    json_t *answer = json_kept(), *tables = answer && outcome != FAILED ? answer_tables(answer) : NULL;
    enum outcome written = tables ? write_tables(tables, options->xlsx) : outcome;
    if (answer && outcome != FAILED && !tables) {
        complain("out of memory");
        written = FAILED;
    }
    if (tables && written == DONE)
        written = report(tables, options->xlsx, &text);
    json_decref(tables);
    json_decref(answer);
    return written == FAILED ? FAILED : outcome;
}
