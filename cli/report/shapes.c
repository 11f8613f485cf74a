/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A schematic of every piece, and the table of its measures. */
#include "report/outlines.h"

#include <stdlib.h>
#include <string.h>

/* ---- The table of measures ---- */

/* Returns whether the measures are of several parts, which their names then state. */
static bool several_parts(const struct outlines *outlines)
{
    size_t line = SIZE_MAX;
    for (size_t letter = 0; letter < outlines->letters; letter++) {
        const size_t at = outlines_lettered(outlines, letter);
        if (at == SIZE_MAX)
            continue;
        const struct hk_schematic_measure *measure = outline_measure(&outlines->pieces[at], letter);
        if (line != SIZE_MAX && measure->at != HK_MEASURED_WHOLE && measure->line != line)
            return true;
        line = measure->at == HK_MEASURED_WHOLE ? line : measure->line;
    }
    return false;
}

/* Returns whether no other letter measures the same way: "width" then needs no place. */
static bool only_one(const struct outlines *outlines, const struct hk_schematic_measure *of)
{
    size_t count = 0;
    for (size_t letter = 0; letter < outlines->letters; letter++) {
        const size_t at = outlines_lettered(outlines, letter);
        count += at != SIZE_MAX && outline_measure(&outlines->pieces[at], letter)->measured == of->measured;
    }
    return count == 1;
}

/* Returns "width at the end, neck"; owned by the caller, NULL when out of memory. */
static char *measure_words(const struct outlines *outlines, size_t letter)
{
    const struct hk_schematic_piece *piece = &outlines->pieces[outlines_lettered(outlines, letter)];
    const struct hk_schematic_measure *measure = outline_measure(piece, letter);
    const char *name = report_measured_name(measure), *part = "", *comma = "";
    if (measure->at != HK_MEASURED_WHOLE && several_parts(outlines)) {
        part = *measure->part ? measure->part : piece->piece;
        comma = ", ";
    }
    if (only_one(outlines, measure))
        return text_format("%s", name);
    switch (measure->at) {
    case HK_MEASURED_START:
        return text_format("%s at the start%s%s", name, comma, part);
    case HK_MEASURED_END:
        return text_format("%s at the end%s%s", name, comma, part);
    case HK_MEASURED_WITHIN:
        return measure->rows ? text_format("%s, section %zu%s%s", name, measure->nth, comma, part)
                             : text_format("%s after section %zu%s%s", name, measure->nth, comma, part);
    case HK_MEASURED_PART:
        return text_format("%s%s%s", name, comma, part);
    default:
        return measure->measured == HK_MEASURED_HEIGHT ? text_format("whole %s", name) : text_format("%s", name);
    }
}

/* Writes "81 sts, 54.0 cm" of one size. */
static void measure_cell(struct report *report, size_t at, const struct hk_schematic_measure *measure)
{
    const size_t index = (size_t)(measure - report->schematic->pieces[at].measures);
    char *words = text_format("%s %s, %s cm", number_whole(measure->count).text, outline_counted_in(measure),
                              outline_centimetres(measure->length_m).text);
    report->markup.failed |= !words;
    if (words)
        page_figure(report, words, "report:/schematic/%zu/measures/%zu", at, index);
    free(words);
}

static void measure_table(struct report *report, const struct outlines *outlines, const char *title)
{
    char *caption = text_format("Measures of %s", title);
    report->markup.failed |= !caption;
    page_table(report, caption ? caption : "");
    free(caption);
    page_head(report, "");
    page_head(report, "Measure");
    for (size_t i = outlines->first; i < outlines->end; i++)
        page_head_figure(report, hk_project_size(report->work->project, outlines->pieces[i].size));
    page_body(report);
    for (size_t letter = 0; letter < outlines->letters; letter++) {
        if (outlines_lettered(outlines, letter) == SIZE_MAX)
            continue;
        char *words = measure_words(outlines, letter);
        report->markup.failed |= !words;
        page_row(report);
        page_name(report, report_shape_letter(letter).text);
        page_cell(report, words ? words : "");
        for (size_t i = outlines->first; i < outlines->end; i++) {
            const struct hk_schematic_measure *measure = outline_measure(&outlines->pieces[i], letter);
            if (measure)
                measure_cell(report, i, measure);
            else
                page_blank(report);
        }
        page_row_end(report);
        free(words);
    }
    page_table_end(report);
}

/* ---- The section ---- */

/* States how many are worked, by size where sizes differ. */
static void copies(struct report *report, const struct outlines *outlines)
{
    const struct hk_schematic_piece *pieces = outlines->pieces;
    bool several = false, same = true;
    for (size_t i = outlines->first; i < outlines->end; i++) {
        several |= pieces[i].copies > 1;
        same &= pieces[i].copies == pieces[outlines->first].copies;
    }
    if (several && same)
        page_paragraph(report, "Work %s alike.", number_whole(pieces[outlines->first].copies).text);
    if (same)
        return;
    markup_open(&report->markup, "p", NULL);
    markup_text(&report->markup, "Work ");
    for (size_t i = outlines->first; i < outlines->end; i++)
        markup_text(&report->markup, "%s%s (%s)", i > outlines->first ? ", " : "", number_whole(pieces[i].copies).text,
                    hk_project_size(report->work->project, pieces[i].size));
    markup_text(&report->markup, " alike.");
    markup_close(&report->markup, "p");
}

/* States why sizes have no outline; once where no size has one, and all for the same reason. */
static void reasons(struct report *report, const struct outlines *outlines)
{
    const struct hk_schematic_piece *pieces = outlines->pieces;
    bool same = outlines->drawn == 0;
    for (size_t i = outlines->first; i < outlines->end; i++)
        same &= strcmp(pieces[i].why, pieces[outlines->first].why) == 0;
    if (same) {
        page_paragraph(report, "No outline: %s.", pieces[outlines->first].why);
        return;
    }
    for (size_t i = outlines->first; i < outlines->end; i++)
        if (!outline_drawn(&pieces[i]))
            page_paragraph(report, "No outline of size %s: %s.", hk_project_size(report->work->project, pieces[i].size),
                           pieces[i].why);
}

static void one_piece(struct report *report, const struct outlines *outlines)
{
    const struct hk_schematic_piece *first = &outlines->pieces[outlines->first];
    char *title = text_format("%s%s%s", first->piece, *first->part ? ", " : "", first->part);
    report->markup.failed |= !title;
    if (title) {
        markup_element(&report->markup, "h3", title, NULL);
        copies(report, outlines);
        if (outlines->drawn > 0)
            outlines_draw(report, outlines, title);
        if (outlines->drawn < outlines->end - outlines->first)
            reasons(report, outlines);
        if (outlines->drawn > 0)
            measure_table(report, outlines, title);
    }
    free(title);
}

void report_shapes(struct report *report)
{
    const struct hk_schematic *schematic = report->schematic;
    if (!schematic || !schematic->piece_count)
        return;
    page_section(report, "shapes", "The pieces, to scale");
    for (size_t first = 0, end = 0; first < schematic->piece_count; first = end) {
        while (end < schematic->piece_count && schematic->pieces[end].line == schematic->pieces[first].line)
            end++;
        const struct outlines outlines = outlines_of(report, first, end);
        one_piece(report, &outlines);
    }
    page_section_end(report);
}
