/* SPDX-License-Identifier: GPL-3.0-or-later */
/* hankful pattern: the written pattern printed again, for one size, in the other terms. */
#include "findings.h"
#include "json.h"
#include "safe.h"
#include "pipeline.h"
#include "workbook/workbooks.h"

#include <stdlib.h>
#include <string.h>

/* Returns the words on one line, with unsafe characters replaced. Owner: the caller (free). */
static char *shown(const char *words)
{
    char *line = text_format("%s", words);
    if (!line)
        return NULL;
    line[strcspn(line, "\r\n")] = '\0';
    safe_words(line);
    return line;
}

/* Returns the place of a change, "pattern.txt:12:8"; in a workbook that of its cell. Owner: the caller (free). */
static char *place_of(const struct work *work, const struct hk_reprint_change *change)
{
    const char *folder = work->folder.path;
    return finding_place((struct hk_place){"pattern.txt", change->line, change->column},
                         workbook_named(folder) ? folder : ".");
}

/* Formats `pattern.txt:12:8: "72 (78, 84)" -> "78"`, or `left out: "..."`. */
static enum outcome print_changes(const struct work *work, const struct hk_reprint *reprint, struct text *text)
{
    for (size_t i = 0; i < hk_reprint_changes(reprint); i++) {
        const struct hk_reprint_change change = hk_reprint_change(reprint, i);
        char *place = place_of(work, &change), *before = shown(change.before), *after = shown(change.after);
        if (!place || !before || !after)
            text->failed = true;
        else if (*after)
            text_line(text, "%s: \"%s\" -> \"%s\"", place, before, after);
        else
            text_line(text, "%s: left out: \"%s\"", place, before);
        free(place);
        free(before);
        free(after);
    }
    if (hk_reprint_changes(reprint) == 0)
        text_line(text, "%s: nothing changes", hk_project_title(work->project));
    return text_outcome(text);
}

static enum outcome print_json(const struct work *work, const struct hk_reprint *reprint, const struct hk_diags *diags,
                               FILE *out)
{
    struct json json = {0};
    json_t *answer = json_make_answer(&json), *changes = json_make_array(&json);
    for (size_t i = 0; i < hk_reprint_changes(reprint); i++) {
        const struct hk_reprint_change change = hk_reprint_change(reprint, i);
        json_t *object = json_make_object(&json);
        const struct hk_place at = {"pattern.txt", change.line, change.column};
        json_put_place(&json, object, at, work->folder.path);
        json_put_text(&json, object, "before", change.before);
        json_put_text(&json, object, "after", change.after);
        json_add(&json, changes, object);
    }
    json_put_text(&json, answer, "text", hk_reprint_text(reprint));
    json_put(&json, answer, "changes", changes);
    json_put_findings(&json, answer, "errors", diags, HK_SEVERITY_ERROR, work->folder.path);
    json_put_findings(&json, answer, "warnings", diags, HK_SEVERITY_WARNING, work->folder.path);
    json_put_accepted(&json, answer, diags, work->folder.path);
    return json_write(&json, answer, out);
}

/* The check command reports mistakes in the project; this command prints the readable part of a draft. */
enum outcome cmd_pattern(const struct options *options, FILE *out)
{
    struct work work = {0};
    struct hk_diags diags = {0};
    struct text text = pipeline_text(out, pipeline_folder(options), options);
    enum outcome outcome = pipeline_project(&work, options, pipeline_folder(options), STAGE_PROJECT);
    const struct hk_reprint_options wanted = {
        .size = work.size, .terms = (enum hk_terms_wanted)options->terms, .markdown = options->given & OPTION_MARKDOWN};
    hk_diags_accept_as(&diags, &work.diags);
    struct hk_reprint *reprint = outcome == DONE ? hk_reprint_make(work.project, wanted, &diags) : NULL;
    hk_diags_sort(&diags);
    findings_print(&diags, work.folder.path);
    if (outcome == DONE)
        outcome = findings_outcome(&diags);
    enum outcome written = DONE;
    if (reprint && options->given & OPTION_JSON)
        written = print_json(&work, reprint, &diags, out);
    else if (reprint && options->given & OPTION_CHANGES)
        written = print_changes(&work, reprint, &text);
    else if (reprint && fputs(hk_reprint_text(reprint), out) < 0)
        written = FAILED;
    hk_reprint_free(reprint);
    hk_diags_free(&diags);
    pipeline_free(&work);
    return written == DONE ? outcome : written;
}
