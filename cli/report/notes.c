/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Assumptions and warnings, with their places. */
#include "findings.h"
#include "report/page.h"

#include <stdlib.h>

void page_findings(struct report *report, const struct hk_diags *diags, enum hk_severity severity)
{
    if (!findings_any(diags, severity))
        return;
    markup_open(&report->markup, "ul", NULL);
    for (size_t i = 0; i < hk_diags_count(diags); i++) {
        const struct hk_finding *finding = hk_diags_finding(diags, i);
        if (hk_code_severity(finding->code) != severity)
            continue;
        char *place = finding_place(finding->at, report->work->folder.path);
        report->markup.failed |= !place;
        markup_open(&report->markup, "li", NULL);
        markup_text(&report->markup, "%s%s%s ", finding->message, finding->hint ? "; " : "",
                    finding->hint ? finding->hint : "");
        markup_element(&report->markup, "code", place ? place : "", NULL);
        markup_close(&report->markup, "li");
        free(place);
    }
    markup_close(&report->markup, "ul");
}

static bool any_of(const struct report *report, enum hk_severity severity)
{
    return findings_any(&report->work->diags, severity) || findings_any(&report->quote_diags, severity) ||
           findings_any(&report->materials_diags, severity) || findings_any(&report->schematic_diags, severity);
}

bool report_has_notes(const struct report *report)
{
    return any_of(report, HK_SEVERITY_WARNING) || any_of(report, HK_SEVERITY_NOTE);
}

static void list(struct report *report, enum hk_severity severity, const char *heading)
{
    if (!any_of(report, severity))
        return;
    markup_element(&report->markup, "h3", heading, NULL);
    page_findings(report, &report->work->diags, severity);
    page_findings(report, &report->quote_diags, severity);
    page_findings(report, &report->materials_diags, severity);
    page_findings(report, &report->schematic_diags, severity);
}

void report_notes(struct report *report)
{
    page_section(report, "notes", "What this rests on");
    list(report, HK_SEVERITY_WARNING, "Warnings");
    list(report, HK_SEVERITY_NOTE, "Assumptions");
    page_section_end(report);
}
