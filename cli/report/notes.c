/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Assumptions and warnings, with their places. */
#include "findings.h"
#include "report/page.h"

#include <stdlib.h>

static void list(struct report *report, enum hk_severity severity, const char *heading)
{
    const struct hk_diags *diags = &report->work->diags;
    if (!findings_any(diags, severity))
        return;
    markup_element(&report->markup, "h3", heading, NULL);
    markup_open(&report->markup, "ul", NULL);
    for (size_t i = 0; i < hk_diags_count(diags); i++) {
        const struct hk_finding *finding = hk_diags_finding(diags, i);
        if (hk_code_severity(finding->code) != severity)
            continue;
        const char *folder = report->work->folder.path;
        char *place = finding_place(finding->at, folder), *words = finding_words(finding, folder);
        report->markup.failed |= !place || !words;
        markup_open(&report->markup, "li", NULL);
        markup_text(&report->markup, "%s ", words ? words : "");
        markup_element(&report->markup, "code", place ? place : "", NULL);
        markup_close(&report->markup, "li");
        free(place);
        free(words);
    }
    markup_close(&report->markup, "ul");
}

void report_notes(struct report *report)
{
    const struct hk_diags *diags = &report->work->diags;
    if (!findings_any(diags, HK_SEVERITY_WARNING) && !findings_any(diags, HK_SEVERITY_NOTE))
        return;
    page_section(report, "notes", "What this rests on");
    list(report, HK_SEVERITY_WARNING, "Warnings");
    list(report, HK_SEVERITY_NOTE, "Assumptions");
    page_section_end(report);
}
