/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Parts of the page: sections, tables that scroll by themselves, figures with their place in the JSON. */
#ifndef REPORT_PAGE_H
#define REPORT_PAGE_H

#include "report/report.h"

/* Opens a section with a heading; `id` names it in links. */
void page_section(struct report *report, const char *id, const char *heading);
void page_section_end(struct report *report);
void page_paragraph(struct report *report, const char *format, ...) TEXT_PRINTF(2, 3);

/* Opens a table; its column heads follow by page_head, and page_body ends them. */
void page_table(struct report *report, const char *caption);
void page_head(struct report *report, const char *words);
void page_head_figure(struct report *report, const char *words);
/* The heads of a table whose columns are the same for every project; words NULL ends the list. */
struct page_head {
    const char *words;
    bool figure;
};
void page_heads(struct report *report, const struct page_head *heads);
void page_body(struct report *report);
void page_table_end(struct report *report);

void page_row(struct report *report);
/* A row whose figures are those of an object of the JSON. */
void page_row_from(struct report *report, const char *from, ...) TEXT_PRINTF(2, 3);
void page_row_end(struct report *report);
/* Cells: the name of the row, text, no figure, and a figure whose place in the JSON the format gives. */
void page_name(struct report *report, const char *words);
void page_cell(struct report *report, const char *words);
void page_blank(struct report *report);
void page_figure(struct report *report, const char *words, const char *from, ...) TEXT_PRINTF(3, 4);

/* A figure within a sentence. */
void page_inline(struct report *report, const char *words, const char *from, ...) TEXT_PRINTF(3, 4);

/* Lists the findings of a severity, with their places; nothing if there are none. */
void page_findings(struct report *report, const struct hk_diags *diags, enum hk_severity severity);

/* Opens a part that is folded until it is asked for, and open in print. */
void page_folded(struct report *report, const char *summary);
void page_folded_end(struct report *report);

/*
 * Opens a picture, svg_open, and closes it: on the page, or as the file "id.svg" where the report writes pictures.
 */
struct svg page_picture(struct report *report, const char *id, double width, double height, const char *title,
                        const char *description);
void page_picture_end(struct report *report, struct svg *svg);

#endif
