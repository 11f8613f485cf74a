/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The stripes of every piece in their colours, row by row; the table has their sequences. */
#include "json.h"
#include "number.h"
#include "report/page.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define WIDTH 340.0
#define LEFT 96.0
#define BAND_WIDTH 160.0
#define ROW_MOST 7.0      /* the height of a row */
#define HEIGHT_MOST 420.0 /* of all rows of a piece */
#define KEY_HEIGHT 16.0
#define ROWS_MOST 2000 /* of a piece that is drawn; above it a row is too thin to see */

/* The lines of a piece in one size: first up to end. */
struct striped {
    size_t size, first, end;
    int64_t rows;
};

static const struct hk_tally *tally_of(const struct report *report)
{
    return report->work->tally;
}

static int64_t rows_of(const struct hk_line_count *line)
{
    return line->times > 0 && line->run_count > 0 ? line->runs[line->run_count - 1].last : 0;
}

/* Returns the piece that begins with this line. */
static struct striped piece_at(const struct report *report, size_t size, size_t first)
{
    struct striped piece = {.size = size, .first = first, .end = first};
    const char *name = hk_tally_line(tally_of(report), first, size).piece;
    while (piece.end < hk_tally_lines(tally_of(report))) {
        const struct hk_line_count line = hk_tally_line(tally_of(report), piece.end, size);
        if (strcmp(line.piece, name) != 0)
            break;
        piece.rows += rows_of(&line);
        piece.end++;
    }
    return piece;
}

static bool has_stripes(const struct report *report, const struct striped *piece)
{
    for (size_t line = piece->first; line < piece->end; line++) {
        const struct hk_line_count count = hk_tally_line(tally_of(report), line, piece->size);
        if (rows_of(&count) > 0 && hk_tally_stripes(tally_of(report), line) > 1)
            return true;
    }
    return false;
}

/* The size that is drawn: the one asked for, else the middle one. */
static size_t drawn_size(const struct report *report)
{
    const struct size_range sizes = pipeline_sizes(report->work);
    return sizes.first + (sizes.end - sizes.first - 1) / 2;
}

static const char *role_name(const struct report *report, size_t role)
{
    const struct hk_need_role *any = report_any_size(report->work->need, role);
    return any ? any->role_name : "";
}

/* Returns the rows of a stripe, at most those of the line. */
static int64_t stripe_rows(const struct report *report, size_t line, size_t stripe, int64_t rows)
{
    const int64_t stated = hk_tally_stripe_rows(tally_of(report), line, stripe);
    return stated < rows ? stated : rows;
}

/* ---- The picture ---- */

/* Draws rows of one stripe, from `low` up to `high`; yarns held together stand side by side. */
static void draw_band(struct svg *svg, const struct report *report, size_t line, size_t stripe, double low, double high)
{
    const size_t count = hk_tally_stripe_roles(tally_of(report), line, stripe);
    const double width = BAND_WIDTH / (double)count;
    for (size_t i = 0; i < count; i++)
        svg_filled(svg, hk_tally_stripe_role(tally_of(report), line, stripe, i), LEFT + width * (double)i, high, width,
                   low - high);
}

/* Draws the bands of a line upward from row 1 at `bottom`. Returns where the next line begins. */
static double draw_line(struct svg *svg, const struct report *report, const struct striped *piece, size_t line,
                        double bottom, double row_height)
{
    const struct hk_line_count count = hk_tally_line(tally_of(report), line, piece->size);
    const int64_t rows = rows_of(&count);
    for (int64_t first = 1, last; first <= rows; first = last + 1) {
        const size_t stripe = hk_tally_row_stripe(tally_of(report), line, first);
        for (last = first; last < rows && hk_tally_row_stripe(tally_of(report), line, last + 1) == stripe;)
            last++;
        draw_band(svg, report, line, stripe, bottom - row_height * (double)(first - 1),
                  bottom - row_height * (double)last);
    }
    const double top = bottom - row_height * (double)rows;
    if (rows > 0) {
        svg_name(svg, LEFT - 6, bottom - 1, SVG_END, LEFT - 6, count.part);
        svg_words(svg, LEFT + BAND_WIDTH + 6, bottom, SVG_START, "row 1");
        char *words = text_format("row %s", number_whole(rows).text);
        svg->markup->failed |= !words;
        if (words && bottom - top > 2 * KEY_HEIGHT)
            svg_words(svg, LEFT + BAND_WIDTH + 6, top + 10, SVG_START, words);
        free(words);
    }
    return top;
}

/* Defines the fills of the roles that a piece uses, and draws their names below `y`. Returns their number. */
static size_t draw_key(struct svg *svg, const struct report *report, const struct striped *piece, double y, bool draw)
{
    const struct hk_need *need = report->work->need;
    size_t count = 0;
    for (size_t i = 0; i < need->role_count; i++) {
        const struct hk_need_role *role = &need->roles[i];
        bool used = false;
        for (size_t line = piece->first; line < piece->end && role->size == piece->size; line++)
            for (size_t stripe = 0; stripe < hk_tally_stripes(tally_of(report), line); stripe++)
                for (size_t k = 0; k < hk_tally_stripe_roles(tally_of(report), line, stripe); k++)
                    used |= hk_tally_stripe_role(tally_of(report), line, stripe, k) == role->role;
        if (!used)
            continue;
        if (draw) {
            const double top = y + KEY_HEIGHT * (double)count;
            char *words = text_format("%s%s%s", role->role_name, *role->colour ? ": " : "", role->colour);
            svg->markup->failed |= !words;
            svg_fill(svg, role->role, report_colour(report, role->role));
            svg_filled(svg, role->role, LEFT, top, 12, 11);
            if (words)
                svg_name(svg, LEFT + 18, top + 10, SVG_START, WIDTH - LEFT - 18, words);
            free(words);
        }
        count++;
    }
    return count;
}

static void draw_piece(struct report *report, const struct striped *piece)
{
    const char *name = hk_tally_line(tally_of(report), piece->first, piece->size).piece;
    const double row_height = fmin(ROW_MOST, HEIGHT_MOST / (double)piece->rows);
    const double bottom = 8 + row_height * (double)piece->rows;
    const size_t keys = draw_key(NULL, report, piece, 0, false);
    char *id = text_format("stripes%zu", piece->first),
         *title = text_format("Stripes of %s, size %s", name, report->work->need->sizes[piece->size]);
    report->markup.failed |= !id || !title;
    if (id && title) {
        struct svg svg =
            page_picture(report, id, WIDTH, bottom + 12 + KEY_HEIGHT * (double)keys, title,
                         "The rows from the first, at the bottom, in the colours of their yarns. The sequences "
                         "are in the table below.");
        draw_key(&svg, report, piece, bottom + 8, true);
        double at = bottom;
        for (size_t line = piece->first; line < piece->end; line++)
            at = draw_line(&svg, report, piece, line, at, row_height);
        page_picture_end(report, &svg);
    }
    free(id);
    free(title);
}

/* ---- The table ---- */

/* `at`: the index of the line among those of the JSON. */
static void stripe_row(struct report *report, const struct striped *piece, size_t line, size_t stripe, size_t at)
{
    const struct hk_line_count count = hk_tally_line(tally_of(report), line, piece->size);
    const size_t roles = hk_tally_stripe_roles(tally_of(report), line, stripe);
    const bool one = hk_tally_stripes(tally_of(report), line) == 1;
    const int64_t rows = stripe_rows(report, line, stripe, rows_of(&count));
    char *words = NULL;
    bool good = true;
    page_row(report);
    page_cell(report, stripe == 0 ? count.part : "");
    page_figure(report, number_whole(rows).text, "report:/stripes/%zu/stripes/%zu/rows", at, stripe);
    for (size_t i = 0; i < roles && good; i++)
        good = text_append(&words, "%s%s", i ? " + " : "",
                           role_name(report, hk_tally_stripe_role(tally_of(report), line, stripe, i)));
    report->markup.failed |= !good;
    page_cell(report, words ? words : "");
    free(words);
    words = one || stripe > 0 ? text_format("%s", "")
                              : text_format("repeated, up to row %s", number_whole(rows_of(&count)).text);
    report->markup.failed |= !words;
    page_cell(report, words ? words : "");
    page_row_end(report);
    free(words);
}

/* Writes the lines of a piece that the size works; `at` counts them over all pieces. */
static void piece_table(struct report *report, const struct striped *piece, size_t *at)
{
    char *caption = text_format("Stripes of %s", hk_tally_line(tally_of(report), piece->first, piece->size).piece);
    report->markup.failed |= !caption;
    page_table(report, caption ? caption : "");
    free(caption);
    page_head(report, "Part");
    page_head_figure(report, "Rows");
    page_head(report, "Yarn");
    page_head(report, "");
    page_body(report);
    for (size_t line = piece->first; line < piece->end; line++) {
        const struct hk_line_count count = hk_tally_line(tally_of(report), line, piece->size);
        if (rows_of(&count) == 0)
            continue;
        for (size_t stripe = 0; stripe < hk_tally_stripes(tally_of(report), line); stripe++)
            stripe_row(report, piece, line, stripe, *at);
        ++*at;
    }
    page_table_end(report);
}

/* Finds the next piece with stripes from a line on, and sets the line behind it. Returns false when there is none. */
static bool next_striped(const struct report *report, size_t *line, struct striped *piece)
{
    while (*line < hk_tally_lines(tally_of(report))) {
        *piece = piece_at(report, drawn_size(report), *line);
        *line = piece->end;
        if (has_stripes(report, piece))
            return true;
    }
    return false;
}

bool report_has_stripes(const struct report *report)
{
    struct striped piece;
    size_t line = 0;
    return next_striped(report, &line, &piece);
}

void report_stripes(struct report *report)
{
    struct striped piece;
    size_t line = 0, at = 0;
    page_section(report, "stripes", "Stripes");
    if (hk_project_sizes(report->work->project) > 1)
        page_paragraph(report, "Size %s.", report->work->need->sizes[drawn_size(report)]);
    while (next_striped(report, &line, &piece)) {
        markup_element(&report->markup, "h3", hk_tally_line(tally_of(report), piece.first, piece.size).piece, NULL);
        if (piece.rows <= ROWS_MOST)
            draw_piece(report, &piece);
        else
            page_paragraph(report, "Too many rows to draw.");
        piece_table(report, &piece, &at);
    }
    page_section_end(report);
}

/* ---- The same as data ---- */

static json_t *line_json(struct json *json, const struct report *report, const struct striped *piece, size_t line)
{
    const struct hk_line_count count = hk_tally_line(tally_of(report), line, piece->size);
    json_t *object = json_make_object(json), *stripes = json_make_array(json);
    json_put_text(json, object, "piece", count.piece);
    json_put_text(json, object, "part", count.part);
    json_put_text(json, object, "size", report->work->need->sizes[piece->size]);
    json_put_whole(json, object, "rows", rows_of(&count));
    for (size_t i = 0; i < hk_tally_stripes(tally_of(report), line); i++) {
        json_t *stripe = json_make_object(json), *roles = json_make_array(json);
        json_put_whole(json, stripe, "rows", stripe_rows(report, line, i, rows_of(&count)));
        for (size_t k = 0; k < hk_tally_stripe_roles(tally_of(report), line, i); k++)
            json_add(json, roles, json_string(role_name(report, hk_tally_stripe_role(tally_of(report), line, i, k))));
        json_put(json, stripe, "roles", roles);
        json_add(json, stripes, stripe);
    }
    json_put(json, object, "stripes", stripes);
    return object;
}

json_t *report_stripes_json(struct json *json, const struct report *report)
{
    json_t *lines = json_make_array(json);
    struct striped piece;
    for (size_t next = 0; next_striped(report, &next, &piece);)
        for (size_t line = piece.first; line < piece.end; line++) {
            const struct hk_line_count count = hk_tally_line(tally_of(report), line, piece.size);
            if (rows_of(&count) > 0)
                json_add(json, lines, line_json(json, report, &piece, line));
        }
    return lines;
}
