/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "count_table.h"

#include "findings.h"
#include "number.h"

#include <assert.h>
#include <inttypes.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- One row ---- */

bool count_row_wide(const struct count_row *row)
{
    for (size_t i = 0; i < row->size_count; i++)
        if (row->cells[i].width_m > 0)
            return true;
    return false;
}

/*
 * Rounds to the nearest quarter of an inch, the usual step of tape measures and patterns. The text has a no-break
 * space.
 */
static char *quarters_text(double inches)
{
    static const char *const parts[] = {"", "1/4", "1/2", "3/4"};
    const int64_t quarters = llround(4 * inches);
    const char *part = parts[quarters % 4];
    if (quarters % 4 == 0)
        return text_format("%" PRId64, quarters / 4);
    return quarters < 4 ? text_format("%s", part) : text_format("%" PRId64 "\u00a0%s", quarters / 4, part);
}

char *count_cell_text(const struct count_cell *cell, enum count_figure figure)
{
    static const struct number_step halves = {5, -1};
    if (cell->stitches < 0)
        return text_format("%s", cell->stitches == COUNT_WITHOUT ? "-" : "?");
    if (figure == COUNT_STITCHES)
        return text_format("%" PRId64, cell->stitches);
    if (!(cell->width_m > 0))
        return text_format("?");
    if (figure == COUNT_IN)
        return quarters_text(cell->width_m / HK_M_PER_INCH);
    return text_format("%s", hk_number_text(number_rounded(100 * cell->width_m, halves, NUMBER_NEAREST), 15).text);
}

/* Takes ownership of the texts, some of which may be NULL. */
static char *graded(char **texts, size_t count)
{
    bool same = true, lost = false;
    char *all = NULL;
    for (size_t i = 0; i < count; i++)
        lost |= !texts[i];
    for (size_t i = 1; !lost && i < count; i++)
        same &= strcmp(texts[i], texts[0]) == 0;
    const size_t shown = same ? 1 : count;
    for (size_t i = 0; !lost && i < shown; i++)
        lost = !text_append(&all, "%s%s%s", hk_graded_mark(i, count), texts[i],
                            i + 1 == shown && shown > 1 ? hk_graded_mark(count, count) : "");
    for (size_t i = 0; i < count; i++)
        free(texts[i]);
    return lost ? NULL : all;
}

char *count_row_text(const struct count_row *row, enum count_figure figure)
{
    char **texts = calloc(row->size_count, sizeof *texts);
    for (size_t i = 0; texts && i < row->size_count; i++)
        texts[i] = count_cell_text(&row->cells[i], figure);
    char *all = texts ? graded(texts, row->size_count) : NULL;
    free(texts);
    return all;
}

char *count_sizes_text(const struct work *work)
{
    const struct size_range sizes = pipeline_sizes(work);
    char **texts = calloc(sizes.end - sizes.first, sizeof *texts);
    for (size_t size = sizes.first; texts && size < sizes.end; size++)
        texts[size - sizes.first] = text_format("%s", hk_project_size(work->project, size));
    char *all = texts ? graded(texts, sizes.end - sizes.first) : NULL;
    free(texts);
    return all;
}

/* ---- Rows of pattern.txt ---- */

struct visiting {
    const struct work *work;
    struct size_range sizes;
    struct count_cell *cells;
    count_visit *visit;
    void *context;
};

/*
 * Returns the label of the row, or for a row without one its first sentence, "Rep last 2 rows 5 times". Owner: the
 * caller (free).
 */
static char *written_label(const struct hk_written_row *row)
{
    const char *stop = strstr(row->words, ". ");
    size_t length = stop ? (size_t)(stop - row->words) : strlen(row->words);
    if (*row->label)
        return text_format("%s", row->label);
    while (length > 0 && row->words[length - 1] == '.')
        length--;
    return text_format("%.*s", (int)length, row->words);
}

static bool visit_written(const struct visiting *v, size_t index)
{
    const struct hk_written_row of = hk_written_row(v->work->project, index, v->sizes.first);
    char *label = written_label(&of);
    struct count_row row = {.piece = of.piece,
                            .part = of.part,
                            .label = label,
                            .line = of.line,
                            .cells = v->cells,
                            .size_count = v->sizes.end - v->sizes.first};
    for (size_t size = v->sizes.first; size < v->sizes.end; size++) {
        const struct hk_written_row in = hk_written_row(v->work->project, index, size);
        v->cells[size - v->sizes.first] = (struct count_cell){
            !in.there ? COUNT_WITHOUT : !in.worked ? COUNT_UNKNOWN : in.stitches,
            hk_written_row_width(v->work->project, index, size)};
    }
    const bool good = label && v->visit(v->context, &row);
    free(label);
    return good;
}

/* ---- Rows of pieces.csv ---- */

/* Returns the stitches that a row leaves; row 0 is the foundation. */
static int64_t leaves(const struct hk_line_count *line, int64_t row)
{
    if (!line->times)
        return COUNT_WITHOUT;
    if (row == 0)
        return line->foundation ? line->foundation : COUNT_WITHOUT;
    for (size_t i = 0; i < line->run_count; i++) {
        const struct hk_row_run *run = &line->runs[i];
        if (row >= run->first && row <= run->last)
            return run->stitches + (row - run->first) * run->step;
    }
    return COUNT_WITHOUT;
}

static int64_t last_row(const struct hk_line_count *line)
{
    return line->times && line->run_count ? line->runs[line->run_count - 1].last : 0;
}

/* Adds a row of the line; rows[i] is its number in size i. Takes ownership of the label. */
static bool visit_line(const struct visiting *v, size_t line, char *label, const int64_t *rows)
{
    bool any = false;
    const struct hk_line_count of = hk_tally_line(v->work->tally, line, v->sizes.first);
    struct count_row row = {.piece = of.piece,
                            .part = *of.part ? of.part : of.fabric,
                            .label = label,
                            .line = of.line,
                            .cells = v->cells,
                            .size_count = v->sizes.end - v->sizes.first};
    for (size_t i = 0; i < row.size_count; i++) {
        const struct hk_line_count count = hk_tally_line(v->work->tally, line, v->sizes.first + i);
        const int64_t stitches = rows[i] < 0 ? COUNT_WITHOUT : leaves(&count, rows[i]);
        any |= stitches >= 0;
        v->cells[i] = (struct count_cell){
            stitches, stitches > 0 && rows[i] > 0 ? hk_tally_row_width(v->work->tally, line, stitches) : 0};
    }
    const bool good = label && (!any || v->visit(v->context, &row));
    free(label);
    return good;
}

/* Formats "row 12" or "rows 1-40 (44, 48)": the last row of each size is in the parentheses. */
static char *rows_label(const int64_t *last, size_t count, bool from_first)
{
    bool several = false;
    assert(count > 0);
    char **texts = calloc(count, sizeof *texts);
    for (size_t i = 0; texts && i < count; i++) {
        several |= last[i] > 1;
        texts[i] = last[i] > 0 ? text_format("%" PRId64, last[i]) : text_format("-");
    }
    char *all = texts ? graded(texts, count) : NULL;
    char *label = all ? text_format("%s%s", !from_first ? "row " : several ? "rows 1-" : "row ", all) : NULL;
    free(texts);
    free(all);
    return label;
}

/* Returns whether, within each size, every row leaves as many stitches as the first row. */
static bool straight(const struct visiting *v, size_t line)
{
    for (size_t size = v->sizes.first; size < v->sizes.end; size++) {
        const struct hk_line_count count = hk_tally_line(v->work->tally, line, size);
        for (size_t i = 0; count.times && i < count.run_count; i++)
            if (count.runs[i].step || count.runs[i].stitches != count.runs[0].stitches)
                return false;
    }
    return true;
}

/* Returns the last row before the stitch count changes in any size; 0 where no size has the row. */
static int64_t alike_until(const struct visiting *v, size_t line, int64_t row)
{
    int64_t until = 0;
    for (size_t size = v->sizes.first; size < v->sizes.end; size++) {
        const struct hk_line_count count = hk_tally_line(v->work->tally, line, size);
        for (size_t i = 0; count.times && i < count.run_count; i++) {
            const struct hk_row_run *run = &count.runs[i];
            const int64_t end = run->step ? row : run->last;
            if (row >= run->first && row <= run->last && (!until || end < until))
                until = end;
        }
    }
    return until;
}

static bool visit_every_row(const struct visiting *v, size_t line, int64_t *rows)
{
    const size_t count = v->sizes.end - v->sizes.first;
    int64_t until;
    for (int64_t row = 1; (until = alike_until(v, line, row)) != 0; row = until + 1) {
        for (size_t i = 0; i < count; i++)
            rows[i] = until;
        char *label = row == until ? text_format("row %" PRId64, row)
                                   : text_format("rows %" PRId64 "-%" PRId64, row, until);
        if (!visit_line(v, line, label, rows))
            return false;
    }
    return true;
}

static bool visit_rows(const struct visiting *v, size_t line, bool every_row, int64_t *rows)
{
    const size_t count = v->sizes.end - v->sizes.first;
    bool founded = false;
    for (size_t i = 0; i < count; i++) {
        const struct hk_line_count of = hk_tally_line(v->work->tally, line, v->sizes.first + i);
        founded |= of.times && of.foundation;
        rows[i] = 0;
    }
    if (founded && !visit_line(v, line, text_format("foundation"), rows))
        return false;
    const bool level = straight(v, line);
    if (!level && every_row)
        return visit_every_row(v, line, rows);
    for (size_t i = 0; i < count; i++)
        rows[i] = 1;
    if (!level && !visit_line(v, line, text_format("row 1"), rows))
        return false;
    for (size_t i = 0; i < count; i++) {
        const struct hk_line_count of = hk_tally_line(v->work->tally, line, v->sizes.first + i);
        rows[i] = last_row(&of) ? last_row(&of) : -1;
    }
    return visit_line(v, line, rows_label(rows, count, level), rows);
}

static bool same_piece(const struct work *work, size_t a, size_t b)
{
    return strcmp(hk_tally_line(work->tally, a, 0).piece, hk_tally_line(work->tally, b, 0).piece) == 0;
}

/* Lines of one piece need not be adjacent. */
static bool visit_pieces(const struct visiting *v, bool every_row)
{
    const size_t lines = v->work->tally ? hk_tally_lines(v->work->tally) : 0;
    int64_t *rows = calloc(v->sizes.end - v->sizes.first, sizeof *rows);
    bool *done = calloc(lines + 1, sizeof *done), good = rows && done;
    for (size_t first = 0; first < lines && good; first++)
        for (size_t line = first; line < lines && good && !done[first]; line++) {
            if (hk_tally_line(v->work->tally, line, 0).written || !same_piece(v->work, line, first))
                continue;
            good = visit_rows(v, line, every_row, rows);
            done[line] = line != first;
        }
    free(rows);
    free(done);
    return good;
}

bool count_table_each(const struct work *work, bool every_row, count_visit *visit, void *context)
{
    struct visiting v = {.work = work, .sizes = pipeline_sizes(work), .visit = visit, .context = context};
    v.cells = calloc(v.sizes.end - v.sizes.first, sizeof *v.cells);
    bool good = v.cells != NULL;
    for (size_t i = 0; good && hk_project_written(work->project) && i < hk_written_rows(work->project); i++)
        good = visit_written(&v, i);
    good = good && visit_pieces(&v, every_row);
    free(v.cells);
    return good;
}

/* ---- Text ---- */

struct text_writer {
    struct text *text;
    struct text_table *table; /* the piece and part of the open table; NULL: no table is open */
    const char *piece, *part;
    char *widths; /* width of the row before, in cm; NULL: none. Owned */
};

static void table_close(struct text_writer *writer)
{
    free(writer->widths);
    writer->widths = NULL;
    if (writer->table)
        text_table_print(writer->table);
    writer->table = NULL;
}

static void table_open(struct text_writer *writer, const struct count_row *row)
{
    if (writer->piece && strcmp(writer->piece, row->piece) == 0 && strcmp(writer->part, row->part) == 0)
        return;
    table_close(writer);
    writer->piece = row->piece;
    writer->part = row->part;
    text_gap(writer->text);
    text_heading(writer->text, "%s%s%s", row->piece, *row->part ? ", " : "", row->part);
    writer->table = text_table(writer->text);
    text_table_column(writer->table, TEXT_KEY | TEXT_RIGHT, "LINE");
    text_table_column(writer->table, TEXT_WRAP, "ROW");
    /* Figures do not wrap, except where nine sizes do not fit. */
    text_table_column(writer->table, writer->text->width < 80 ? TEXT_WRAP : TEXT_LEFT, "STITCHES");
}

static void cells_add(struct text_writer *writer, size_t line, const char *label, const char *words, const char *unit)
{
    if (line > 0)
        text_table_cell(writer->table, "%zu", line);
    else
        text_table_cell(writer->table, "%s", "");
    text_table_cell(writer->table, "%s", label);
    text_table_cell(writer->table, "%s%s", words, unit);
}

/* Splits a long text before its second group, so that no group is cut. */
static bool figures_add(struct text_writer *writer, const struct count_row *row, enum count_figure figure)
{
    static const char *const units[] = {"", " cm", " in"};
    static const size_t long_bytes = 44;
    char *words = count_row_text(row, figure);
    if (!words)
        return false;
    const size_t line = figure == COUNT_STITCHES ? row->line : 0;
    const char *label = figure == COUNT_STITCHES ? row->label : "";
    char *second = strlen(words) > long_bytes ? strstr(words, " [") : NULL;
    if (second) {
        *second = '\0';
        cells_add(writer, line, label, words, "");
        cells_add(writer, 0, "", second + 1, units[figure]);
    } else {
        cells_add(writer, line, label, words, units[figure]);
    }
    free(words);
    return true;
}

/* Shows widths that differ from those of the row above. */
static bool text_row(void *context, const struct count_row *row)
{
    struct text_writer *writer = context;
    table_open(writer, row);
    if (!figures_add(writer, row, COUNT_STITCHES))
        return false;
    if (!count_row_wide(row))
        return true;
    char *widths = count_row_text(row, COUNT_CM);
    const bool same = widths && writer->widths && strcmp(widths, writer->widths) == 0;
    const bool good =
        widths && (same || (figures_add(writer, row, COUNT_CM) && figures_add(writer, row, COUNT_IN)));
    free(writer->widths);
    writer->widths = widths;
    return good;
}

static enum outcome lost(void)
{
    complain("out of memory");
    return FAILED;
}

enum outcome count_table_text(const struct work *work, bool every_row, struct text *text)
{
    struct text_writer writer = {.text = text};
    char *sizes = count_sizes_text(work);
    if (!sizes)
        return lost();
    text_heading(text, "%s: stitches of each row", hk_project_title(work->project));
    text_paragraph(text,
                   "Sizes %s. A range of rows: after its last. -: this size does without the row; ?: it could not be "
                   "worked. Widths are by the gauge of the swatches, to half a centimetre and a quarter of an inch, "
                   "of rounds all round; they stand where they change.",
                   sizes);
    free(sizes);
    const bool good = count_table_each(work, every_row, text_row, &writer);
    table_close(&writer);
    return good ? text_outcome(text) : lost();
}
