/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The block of the published pattern, as `materials --html` writes it. */
#include "materials_writer.h"
#include "report/page.h"

#include <stdlib.h>

void report_materials(struct report *report)
{
    struct markup *markup = &report->markup;
    markup_open(markup, "div", "id", "materials", NULL);
    if (report->materials) {
        struct document document = document_html(markup, "materials");
        markup->failed |= !block_write(&document, report->materials);
        char *words =
            report->cut == REPORT_OWN ? block_difference(report->work, report->materials, &markup->failed) : NULL;
        if (words)
            markup_element(markup, "p", words, NULL);
        free(words);
    } else {
        markup_element(markup, "h2", "Materials", NULL);
        page_paragraph(report, "There is no block for the pattern, for this reason:");
        page_findings(report, &report->materials_diags, HK_SEVERITY_ERROR);
    }
    markup_close(markup, "div");
}
