/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the yarn goes: by piece and part in every size, stacked. */
#include "number.h"
#include "report/page.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define SHARES_MOST 7 /* pieces with a fill of their own; the others are drawn as one */
#define BAR_HEIGHT 22.0
#define WIDTH 340.0
#define LEFT 64.0

/* Pieces of a project in the order of its lines, each with its mass in one size. */
struct pieces {
    const char **names;
    size_t count;
};

static size_t piece_index(const struct pieces *pieces, const char *name)
{
    size_t i = 0;
    while (i < pieces->count && strcmp(pieces->names[i], name) != 0)
        i++;
    return i;
}

static bool collect(const struct hk_need *need, struct pieces *pieces)
{
    pieces->names = calloc(need->part_count + 1, sizeof *pieces->names);
    for (size_t i = 0; pieces->names && i < need->part_count; i++)
        if (piece_index(pieces, need->parts[i].piece) == pieces->count)
            pieces->names[pieces->count++] = need->parts[i].piece;
    return pieces->names != NULL;
}

static double piece_mass(const struct hk_need *need, size_t size, const struct pieces *pieces, size_t index)
{
    double mass_g = 0;
    for (size_t i = 0; i < need->part_count; i++) {
        const size_t at = piece_index(pieces, need->parts[i].piece);
        const size_t fill = at < SHARES_MOST ? at : SHARES_MOST;
        if (need->parts[i].size == size && fill == index)
            mass_g += need->parts[i].mass_g;
    }
    return mass_g;
}

static void draw_key(struct svg *svg, const struct pieces *pieces, size_t fills, double y)
{
    for (size_t i = 0; i < fills; i++) {
        svg_filled(svg, i, LEFT, y + 16 * (double)i, 12, 11);
        svg_words(svg, LEFT + 18, y + 10 + 16 * (double)i, SVG_START, i < SHARES_MOST ? pieces->names[i] : "all others");
    }
}

static void draw(struct report *report, const struct pieces *pieces)
{
    const struct hk_need *need = report->work->need;
    const struct size_range sizes = pipeline_sizes(report->work);
    const size_t fills = pieces->count < SHARES_MOST ? pieces->count : SHARES_MOST + (pieces->count > SHARES_MOST);
    double most = 0;
    for (size_t size = sizes.first; size < sizes.end; size++) {
        double all_g = 0;
        for (size_t i = 0; i < fills; i++)
            all_g += piece_mass(need, size, pieces, i);
        most = fmax(most, all_g);
    }
    const double bottom = 4 + BAR_HEIGHT * (double)(sizes.end - sizes.first);
    if (!(most > 0))
        return;
    struct svg svg = svg_open(&report->markup, "where-pieces", WIDTH, bottom + 12 + 16 * (double)fills,
                              "Yarn of each piece in every size, stacked",
                              "A bar for each size, as long as its likely mass; its parts are the pieces, in the order of the "
                              "key. The figures are in the table below.",
                              report->svg_folder != NULL);
    for (size_t i = 0; i < fills; i++)
        svg_fill(&svg, i, colour_shown("", "", i));
    for (size_t size = sizes.first; size < sizes.end; size++) {
        double x = LEFT, y = 4 + BAR_HEIGHT * (double)(size - sizes.first);
        svg_words(&svg, LEFT - 6, y + 12, SVG_END, need->sizes[size]);
        for (size_t i = 0; i < fills; i++) {
            const double width = (WIDTH - LEFT - 8) * piece_mass(need, size, pieces, i) / most;
            if (width > 0)
                svg_filled(&svg, i, x, y, width, 16);
            x += width;
        }
    }
    draw_key(&svg, pieces, fills, bottom + 8);
    svg_close(&svg);
}

static void part_rows(struct report *report)
{
    const struct hk_need *need = report->work->need;
    for (size_t i = 0; i < need->part_count; i++) {
        const struct hk_need_part *part = &need->parts[i];
        page_row(report);
        page_name(report, part->size_name);
        page_cell(report, part->piece);
        page_cell(report, part->part);
        page_cell(report, part->role_name);
        page_figure(report, number_whole(part->stitches).text, "need:/parts/%zu/stitches", i);
        page_figure(report, number_digits(part->mass_g, 3).text, "need:/parts/%zu/mass_g", i);
        page_figure(report, number_digits(part->length_m, 3).text, "need:/parts/%zu/length_m", i);
        page_figure(report, number_share(part->share).text, "need:/parts/%zu/share", i);
        page_row_end(report);
    }
}

void report_where(struct report *report)
{
    static const char *const heads[] = {"Size", "Piece", "Part", "Yarn", "Stitches", "g", "m", "Share"};
    struct pieces pieces = {0};
    page_section(report, "where", "Where the yarn goes");
    if (collect(report->work->need, &pieces))
        draw(report, &pieces);
    else
        report->markup.failed = true;
    free(pieces.names);
    page_folded(report, "The figures of every part");
    page_table(report, "Likely yarn of each part, ends included");
    for (size_t i = 0; i < sizeof heads / sizeof heads[0]; i++)
        page_head(report, heads[i]);
    page_body(report);
    part_rows(report);
    page_table_end(report);
    page_folded_end(report);
    page_section_end(report);
}
