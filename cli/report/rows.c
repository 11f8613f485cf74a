/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The rows of every piece with their stitches, to tick off. */
#include "count_table.h"
#include "report/page.h"

#include <stdlib.h>
#include <string.h>

struct listing {
    struct report *report;
    const char *piece;
    bool open;
};

static void open_piece(struct listing *listing, const struct count_row *row)
{
    const struct size_range sizes = pipeline_sizes(listing->report->work);
    if (listing->open)
        page_table_end(listing->report);
    markup_element(&listing->report->markup, "h3", row->piece, NULL);
    char *caption = text_format("Stitches of %s", row->piece);
    listing->report->markup.failed |= !caption;
    page_table(listing->report, caption ? caption : "");
    free(caption);
    page_head(listing->report, "Part");
    page_head(listing->report, "Row");
    for (size_t size = sizes.first; size < sizes.end; size++)
        page_head_figure(listing->report, hk_project_size(listing->report->work->project, size));
    page_body(listing->report);
    listing->open = true;
    listing->piece = row->piece;
}

static bool add_row(void *context, const struct count_row *row)
{
    struct listing *listing = context;
    struct report *report = listing->report;
    if (!listing->open || strcmp(listing->piece, row->piece) != 0)
        open_piece(listing, row);
    page_row(report);
    page_cell(report, row->part);
    markup_element(&report->markup, "th", row->label, "scope", "row", "class", "tick", NULL);
    for (size_t i = 0; i < row->size_count; i++) {
        char *words = count_cell_text(&row->cells[i], COUNT_STITCHES);
        report->markup.failed |= !words;
        if (words)
            markup_element(&report->markup, "td", words, NULL);
        free(words);
    }
    page_row_end(report);
    return !report->markup.failed;
}

void report_rows(struct report *report)
{
    struct listing listing = {.report = report};
    page_section(report, "rows", "Stitches after every row");
    report->markup.failed |= !count_table_each(report->work, report->cut == REPORT_OWN, add_row, &listing);
    if (listing.open)
        page_table_end(report);
    page_section_end(report);
}
