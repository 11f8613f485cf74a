/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The count table for a page (Markdown) and for a spreadsheet (CSV, a column for each size). */
#include "count_table.h"

#include "number.h"
#include "safe.h"

#include <stdlib.h>
#include <string.h>

struct writer {
    FILE *out;
    const char *piece, *part; /* width of the row before; NULL: none */
    bool wide;                /* whether the width of any row is known */
};

static bool wide_row(void *context, const struct count_row *row)
{
    struct writer *writer = context;
    writer->wide |= count_row_wide(row);
    return true;
}

static enum outcome lost(void)
{
    complain("out of memory");
    return FAILED;
}

/* ---- Markdown ---- */

static void markdown_words(FILE *out, const char *words)
{
    char *shown = text_format("%s", words);
    if (!shown)
        return;
    safe_words(shown);
    for (const char *c = shown; *c; c++) {
        if (strchr("\\`*_[]<>|#&~", *c))
            fputc('\\', out);
        fputc(*c, out);
    }
    free(shown);
}

static void markdown_heading(struct writer *writer, const struct count_row *row)
{
    const bool piece = !writer->piece || strcmp(writer->piece, row->piece) != 0;
    if (!piece && strcmp(writer->part, row->part) == 0)
        return;
    writer->piece = row->piece;
    writer->part = row->part;
    if (piece) {
        fputs("\n## ", writer->out);
        markdown_words(writer->out, row->piece);
        fputc('\n', writer->out);
    }
    if (*row->part) {
        fputs("\n### ", writer->out);
        markdown_words(writer->out, row->part);
        fputc('\n', writer->out);
    }
    fprintf(writer->out, "\n| Line | Row | Stitches |%s\n| ---: | --- | --- |%s\n", writer->wide ? " cm | in |" : "",
            writer->wide ? " --- | --- |" : "");
}

static bool markdown_row(void *context, const struct count_row *row)
{
    struct writer *writer = context;
    markdown_heading(writer, row);
    fprintf(writer->out, "| %zu | ", row->line);
    markdown_words(writer->out, row->label);
    fputs(" |", writer->out);
    for (int figure = COUNT_STITCHES; figure <= (writer->wide ? COUNT_IN : COUNT_STITCHES); figure++) {
        char *words = figure == COUNT_STITCHES || count_row_wide(row) ? count_row_text(row, (enum count_figure)figure)
                                                                      : text_format("%s", "");
        if (!words)
            return false;
        fprintf(writer->out, *words ? " %s |" : " |", words);
        free(words);
    }
    fputc('\n', writer->out);
    return true;
}

enum outcome count_table_markdown(const struct work *work, bool every_row, FILE *out)
{
    struct writer writer = {.out = out};
    char *sizes = count_sizes_text(work);
    if (!sizes || !count_table_each(work, every_row, wide_row, &writer)) {
        free(sizes);
        return lost();
    }
    fputs("# ", out);
    markdown_words(out, hk_project_title(work->project));
    fputs(": stitches of each row\n\nSizes ", out);
    markdown_words(out, sizes);
    fputs(". A range of rows: after its last. -: this size does without the row.\n", out);
    free(sizes);
    return count_table_each(work, every_row, markdown_row, &writer) ? DONE : lost();
}

/* ---- CSV ---- */

/* Formats a width to a tenth; a size without the row has an empty cell. */
static void csv_cell(FILE *out, const struct count_cell *cell, enum count_figure figure)
{
    static const struct number_step tenths = {1, -1};
    const double unit_m = figure == COUNT_CM ? 0.01 : HK_M_PER_INCH;
    fputc(',', out);
    if (cell->stitches == COUNT_UNKNOWN)
        fputc('?', out);
    else if (cell->stitches >= 0 && figure == COUNT_STITCHES)
        fprintf(out, "%lld", (long long)cell->stitches);
    else if (cell->stitches >= 0 && cell->width_m > 0)
        fputs(hk_number_text(number_rounded(cell->width_m / unit_m, tenths, NUMBER_NEAREST), 15).text, out);
}

static bool csv_row(void *context, const struct count_row *row)
{
    struct writer *writer = context;
    safe_csv(writer->out, row->piece);
    fputc(',', writer->out);
    safe_csv(writer->out, row->part);
    fputc(',', writer->out);
    safe_csv(writer->out, row->label);
    fprintf(writer->out, ",%zu", row->line);
    for (int figure = COUNT_STITCHES; figure <= COUNT_IN; figure++)
        for (size_t i = 0; i < row->size_count; i++)
            csv_cell(writer->out, &row->cells[i], (enum count_figure)figure);
    fputc('\n', writer->out);
    return true;
}

enum outcome count_table_csv(const struct work *work, bool every_row, FILE *out)
{
    static const char *const units[] = {"", " cm", " in"};
    struct writer writer = {.out = out};
    const struct size_range sizes = pipeline_sizes(work);
    fputs("piece,part,row,line", out);
    for (size_t figure = 0; figure < sizeof units / sizeof units[0]; figure++)
        for (size_t size = sizes.first; size < sizes.end; size++) {
            char *name = text_format("%s%s", hk_project_size(work->project, size), units[figure]);
            if (!name)
                return lost();
            fputc(',', out);
            safe_csv(out, name);
            free(name);
        }
    fputc('\n', out);
    return count_table_each(work, every_row, csv_row, &writer) ? DONE : lost();
}
