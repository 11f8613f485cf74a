/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The line of a folder depends on that folder alone, not on the folders before it. A list split among several
 * processes, with their lines joined in order, therefore gives the same bytes as one process. The shipped tables are
 * read once; all other memory is freed before the next folder.
 */
#include "each.h"

#include "findings.h"
#include "need_json.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>

/* ---- The list ---- */

struct list {
    FILE *file;
    const char *name; /* name for messages */
    char *line;       /* buffer of getline */
    size_t capacity, read;
    bool standard; /* standard input, which this file does not close */
};

static bool list_open(struct list *list, const struct options *options)
{
    const char *path = options->word_count > 1 ? options->words[1] : "-";
    list->standard = strcmp(path, "-") == 0;
    list->name = list->standard ? "standard input" : path;
    list->file = list->standard ? stdin : fopen(path, "r");
    if (!list->file)
        complain("cannot open the list of folders \"%s\": %s", path, strerror(errno));
    return list->file != NULL;
}

/* Removes the line end, LF or CR LF, and the byte order mark that some editors write before UTF-8. */
static char *name_in(char *line, size_t length, bool first)
{
    if (length && line[length - 1] == '\n')
        line[--length] = '\0';
    if (length && line[length - 1] == '\r')
        line[--length] = '\0';
    for (char *zero; (zero = memchr(line, '\0', length));)
        *zero = '\x1A'; /* a NUL byte would end the name, which might then match another folder */
    return first && strncmp(line, "\xEF\xBB\xBF", 3) == 0 ? line + 3 : line;
}

/*
 * Returns the next folder's name, valid until the next call; skips empty lines. Returns NULL at the end, with the
 * reason in *outcome.
 */
static const char *list_next(struct list *list, enum outcome *outcome)
{
    for (ssize_t length; (length = getline(&list->line, &list->capacity, list->file)) >= 0;) {
        const char *name = name_in(list->line, (size_t)length, list->read++ == 0);
        if (*name)
            return name;
    }
    const int error = errno;
    *outcome = feof(list->file) && !ferror(list->file) ? DONE : FAILED;
    if (*outcome == FAILED)
        complain("cannot read the list of folders, %s: %s%s", list->name, strerror(error),
                 error == EISDIR ? "; --each wants a file that names folders, one a line" : "");
    return NULL;
}

static void list_close(struct list *list)
{
    if (list->file && !list->standard)
        fclose(list->file);
    free(list->line);
}

/* ---- Its lines ---- */

static void put_errors(struct json *json, json_t *answer, const struct work *work, const char *folder)
{
    json_put_findings(json, answer, "errors", &work->diags, HK_SEVERITY_ERROR, folder);
    json_put_findings(json, answer, "warnings", &work->diags, HK_SEVERITY_WARNING, folder);
    json_put_accepted(json, answer, &work->diags, folder);
    if (!work->refusal.message)
        return;
    struct hk_finding refusal = work->refusal;
    refusal.at.file = folder;
    json_add_finding(json, json_object_get(answer, "errors"), &refusal, ".");
}

static enum outcome write_line(const struct work *work, const char *folder, bool ok, FILE *out)
{
    struct json json = {0};
    json_t *answer = json_make_answer(&json);
    json_put_text(&json, answer, "folder", folder);
    json_put_bool(&json, answer, "ok", ok);
    if (ok)
        need_json(&json, answer, work);
    else
        put_errors(&json, answer, work, folder);
    return json_write_line(&json, answer, out);
}

/* Returns the folder's contribution to the exit status: a missing folder or size is a mistake in the list. */
static enum outcome outcome_of(const struct work *work, enum outcome outcome)
{
    if (!work->refusal.message)
        return outcome;
    return work->refusal.code == HK_CODE_FILE_UNREADABLE ? FAILED : REFUSED;
}

enum outcome each_folder(const struct options *options, FILE *out)
{
    struct list list = {0};
    struct work work = {0};
    enum outcome worst = list_open(&list, options) ? pipeline_tables(&work, options) : FAILED, ended = worst;
    for (const char *folder; ended == DONE && (folder = list_next(&list, &ended));) {
        const enum outcome outcome = outcome_of(&work, pipeline_project(&work, options, folder, STAGE_NEED));
        worst = outcome > worst ? outcome : worst;
        ended = hk_diags_out_of_memory(&work.diags) ? FAILED : write_line(&work, folder, outcome == DONE, out);
        pipeline_clear(&work);
    }
    pipeline_free(&work);
    list_close(&list);
    return ended == DONE ? worst : ended;
}
