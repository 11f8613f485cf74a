/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "report/page.h"

#include <stdlib.h>

void page_section(struct report *report, const char *id, const char *heading)
{
    markup_open(&report->markup, "section", "id", id, NULL);
    markup_element(&report->markup, "h2", heading, NULL);
}

void page_section_end(struct report *report)
{
    markup_close(&report->markup, "section");
}

void page_paragraph(struct report *report, const char *format, ...)
{
    va_list list;
    va_start(list, format);
    char *words = text_format_list(format, list);
    va_end(list);
    report->markup.failed |= !words;
    if (words)
        markup_element(&report->markup, "p", words, NULL);
    free(words);
}

void page_table(struct report *report, const char *caption)
{
    markup_open(&report->markup, "div", "class", "wide", "tabindex", "0", "role", "group", "aria-label", caption, NULL);
    markup_open(&report->markup, "table", NULL);
    markup_element(&report->markup, "caption", caption, NULL);
    markup_open(&report->markup, "thead", NULL);
    markup_open(&report->markup, "tr", NULL);
}

void page_head(struct report *report, const char *words)
{
    if (*words)
        markup_element(&report->markup, "th", words, "scope", "col", NULL);
    else
        markup_element(&report->markup, "td", "", NULL);
}

void page_head_figure(struct report *report, const char *words)
{
    markup_element(&report->markup, "th", words, "scope", "col", "class", "figure", NULL);
}

void page_heads(struct report *report, const struct page_head *heads)
{
    for (; heads->words; heads++)
        (heads->figure ? page_head_figure : page_head)(report, heads->words);
}

void page_body(struct report *report)
{
    markup_close(&report->markup, "tr");
    markup_close(&report->markup, "thead");
    markup_open(&report->markup, "tbody", NULL);
}

void page_table_end(struct report *report)
{
    markup_close(&report->markup, "tbody");
    markup_close(&report->markup, "table");
    markup_close(&report->markup, "div");
}

void page_row(struct report *report)
{
    markup_open(&report->markup, "tr", NULL);
}

/* Returns the place in the JSON that the format gives. */
static char *place_of(struct report *report, const char *from, va_list list)
{
    char *place = text_format_list(from, list);
    report->markup.failed |= !place;
    return place;
}

void page_row_from(struct report *report, const char *from, ...)
{
    va_list list;
    va_start(list, from);
    char *place = place_of(report, from, list);
    va_end(list);
    markup_open(&report->markup, "tr", "data-from", place, NULL);
    free(place);
}

void page_row_end(struct report *report)
{
    markup_close(&report->markup, "tr");
}

void page_name(struct report *report, const char *words)
{
    markup_element(&report->markup, "th", words, "scope", "row", NULL);
}

void page_cell(struct report *report, const char *words)
{
    markup_element(&report->markup, "td", words, "class", "words", NULL);
}

void page_blank(struct report *report)
{
    markup_element(&report->markup, "td", "-", NULL);
}

static void figure(struct report *report, const char *tag, const char *words, const char *from, va_list list)
{
    char *place = place_of(report, from, list);
    if (place)
        markup_figure(&report->markup, tag, words, place, NULL);
    free(place);
}

void page_figure(struct report *report, const char *words, const char *from, ...)
{
    va_list list;
    va_start(list, from);
    figure(report, "td", words, from, list);
    va_end(list);
}

void page_inline(struct report *report, const char *words, const char *from, ...)
{
    va_list list;
    va_start(list, from);
    figure(report, "span", words, from, list);
    va_end(list);
}

void page_folded(struct report *report, const char *summary)
{
    markup_open(&report->markup, "details", NULL);
    markup_element(&report->markup, "summary", summary, NULL);
}

void page_folded_end(struct report *report)
{
    markup_close(&report->markup, "details");
}
