/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "findings.h"

#include "files.h"
#include "safe.h"
#include "workbook/workbooks.h"

#include <stdlib.h>

static const char *severity_word(enum hk_severity severity)
{
    switch (severity) {
    case HK_SEVERITY_NOTE:
        return "note";
    case HK_SEVERITY_WARNING:
        return "warning";
    case HK_SEVERITY_ERROR:
        return "error";
    }
    return "";
}

bool findings_typed(const struct hk_diags *diags)
{
    bool any = false;
    for (size_t i = 0; i < hk_diags_count(diags); i++) {
        const struct hk_finding *finding = hk_diags_finding(diags, i);
        if (hk_code_severity(finding->code) == HK_SEVERITY_ERROR && !folder_is_option(finding->at.file))
            return false;
        any |= hk_code_severity(finding->code) == HK_SEVERITY_ERROR;
    }
    return any;
}

char *finding_place(struct hk_place at, const char *folder)
{
    struct workbook_place cell;
    bool failed = false;
    if (workbook_place(folder, at, &cell, &failed)) {
        char *words = failed ? NULL
                             : text_format("%s%s%s%s%s", cell.path, cell.sheet ? ", " : "",
                                           cell.sheet ? cell.sheet : "", *cell.cell ? "!" : "", cell.cell);
        workbook_place_free(&cell);
        return words;
    }
    if (failed)
        return NULL;
    char *path = at.file ? project_path(folder, at.file) : text_format("%s", folder), *place = NULL;
    if (path && at.line)
        place = text_format("%s:%zu:%zu", path, at.line, at.column);
    else if (path)
        place = text_format("%s", path);
    free(path);
    return place;
}

char *finding_words(const struct hk_finding *finding, const char *folder)
{
    char *message = workbook_words(folder, finding->message);
    char *hint = workbook_words(folder, finding->hint ? finding->hint : "");
    char *words = message && hint ? text_format("%s%s%s", message, *hint ? "; " : "", hint) : NULL;
    free(message);
    free(hint);
    return words;
}

/* Returns false, and prints nothing, when memory runs out. */
static bool print_finding(const struct hk_finding *finding, const char *folder)
{
    const enum hk_severity severity = hk_code_severity(finding->code);
    const bool coded = severity == HK_SEVERITY_WARNING; /* what a column `ok` may hold */
    char *place = finding_place(finding->at, folder), *words = finding_words(finding, folder);
    char *line = place && words
                     ? text_format("%s: %s: %s%s%s%s", place, severity_word(severity), words, coded ? " [" : "",
                                   coded ? hk_code_name(finding->code) : "", coded ? "]" : "")
                     : NULL;
    const bool printed = line != NULL;
    if (line) {
        safe_words(line);
        fprintf(stderr, "%s\n", line);
    }
    free(place);
    free(words);
    free(line);
    return printed;
}

void findings_print(struct hk_diags *diags, const char *folder)
{
    for (size_t i = 0; i < hk_diags_count(diags); i++) {
        const struct hk_finding *finding = hk_diags_finding(diags, i);
        if (hk_code_severity(finding->code) != HK_SEVERITY_NOTE && !print_finding(finding, folder))
            hk_diags_set_out_of_memory(diags);
    }
    if (hk_diags_dropped(diags))
        complain("%zu more findings are not shown", hk_diags_dropped(diags));
}

size_t findings_count(const struct hk_diags *diags, enum hk_severity severity)
{
    size_t count = 0;
    for (size_t i = 0; i < hk_diags_count(diags); i++)
        count += hk_code_severity(hk_diags_finding(diags, i)->code) == severity;
    return count;
}

bool findings_any(const struct hk_diags *diags, enum hk_severity severity)
{
    return findings_count(diags, severity) > 0;
}

void findings_but_assumptions(struct text *text, const struct hk_diags *diags, const char *folder)
{
    findings_assumed_but(text, diags, folder, HK_CODE_END);
}

static bool is_assumption(const struct hk_finding *finding, enum hk_code shown)
{
    return hk_code_severity(finding->code) == HK_SEVERITY_NOTE && finding->code != shown;
}

size_t findings_assumed(const struct hk_diags *diags, enum hk_code shown)
{
    size_t count = 0;
    for (size_t i = 0; i < hk_diags_count(diags); i++)
        count += is_assumption(hk_diags_finding(diags, i), shown);
    return count;
}

static void list(struct text *text, const struct hk_finding *finding, const char *folder)
{
    char *place = finding_place(finding->at, folder), *words = finding_words(finding, folder);
    text_item(text, "%s (%s) [%s]", words ? words : "", place ? place : "", hk_code_name(finding->code));
    text->failed = text->failed || !place || !words;
    free(place);
    free(words);
}

void findings_assumed_but(struct text *text, const struct hk_diags *diags, const char *folder, enum hk_code shown)
{
    bool any = false;
    for (size_t i = 0; i < hk_diags_count(diags); i++) {
        const struct hk_finding *finding = hk_diags_finding(diags, i);
        if (!is_assumption(finding, shown))
            continue;
        if (!any) {
            text_gap(text);
            text_heading(text, "Assumed");
        }
        any = true;
        list(text, finding, folder);
    }
}

size_t findings_accepted(const struct hk_diags *diags, enum hk_severity severity)
{
    size_t count = 0;
    for (size_t i = 0; hk_diags_accepted_finding(diags, i); i++)
        count += hk_code_severity(hk_diags_accepted_finding(diags, i)->code) == severity;
    return count;
}

void findings_list_accepted(struct text *text, const struct hk_diags *diags, const char *folder)
{
    size_t i = 0;
    if (hk_diags_accepted(diags) == 0)
        return;
    text_gap(text);
    text_heading(text, "Accepted");
    for (; hk_diags_accepted_finding(diags, i); i++)
        list(text, hk_diags_accepted_finding(diags, i), folder);
    if (hk_diags_accepted(diags) > i)
        text_item(text, "%zu more", hk_diags_accepted(diags) - i);
}

enum outcome findings_outcome(const struct hk_diags *diags)
{
    if (hk_diags_out_of_memory(diags))
        complain("out of memory");
    if (hk_diags_out_of_memory(diags) || hk_diags_machine_failed(diags))
        return FAILED;
    return hk_diags_errors(diags) ? REFUSED : DONE;
}

enum outcome text_outcome(const struct text *text)
{
    if (!text->failed)
        return DONE;
    complain("out of memory");
    return FAILED;
}
