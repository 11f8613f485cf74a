/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "workbook/sheets_write.h"

#include "workbook/sheet_text.h"
#include "workbook/written.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define WIDEST 50.0
#define GUIDED_ROWS 300 /* rows that offer lists */

struct writer {
    const struct sheets *sheets;
    const struct sheet_guide *guide;
    struct written *written;
    const struct sheet *sheet;
    lxw_worksheet *page;
    uint32_t skipped; /* rows of notes that are not written */
    size_t header;    /* index of the first cell of the header; the number of cells if there is none */
};

static const char *text_of(const struct writer *w, size_t i)
{
    return sheets_text(w->sheets, &w->sheet->cells[i]);
}

static bool is_note(const struct writer *w, size_t i)
{
    const struct sheet_cell *cell = &w->sheet->cells[i];
    return cell->column == 0 && *text_of(w, i) == '#' &&
           (i + 1 == w->sheet->count || w->sheet->cells[i + 1].row != cell->row);
}

/* ---- Columns ---- */

/* Returns the width of a text in a column, roughly a character each. */
static double width_of(const char *text)
{
    size_t count = 0;
    for (const char *c = text; *c; c++)
        count += ((unsigned char)*c & 0xC0) != 0x80;
    const double width = (double)count + 2;
    return width < 9 ? 9 : width > WIDEST ? WIDEST : width;
}

/*
 * Sets the width and the format of a column. It is text, so that a spreadsheet makes no date of what is typed, unless
 * all its cells are numbers.
 */
static void set_column(struct writer *w, uint32_t column)
{
    double width = 0;
    size_t numbers = 0, texts = 0;
    for (size_t i = w->header; i < w->sheet->count; i++) {
        const struct sheet_cell *cell = &w->sheet->cells[i];
        if (cell->column != column || is_note(w, i))
            continue;
        const double own = width_of(text_of(w, i));
        width = own > width ? own : width;
        numbers += cell->kind == CELL_NUMBER;
        texts += cell->kind != CELL_NUMBER && cell->row > w->sheet->cells[w->header].row;
    }
    const bool numeric = numbers > 0 && texts == 0;
    if (width > 0)
        written_done(w->written, worksheet_set_column(w->page, (lxw_col_t)column, (lxw_col_t)column, width,
                                                      numeric ? NULL : w->written->text));
}

static void set_columns(struct writer *w)
{
    if (sheet_is_pattern(w->sheet)) {
        written_done(w->written, worksheet_set_column(w->page, 0, 0, 100, w->written->text));
        return;
    }
    for (size_t i = w->header; i < w->sheet->count && w->sheet->cells[i].row == w->sheet->cells[w->header].row; i++)
        set_column(w, w->sheet->cells[i].column);
}

/* ---- Notes as comments ---- */

static void comment(struct writer *w, size_t cell, const char *words)
{
    const size_t lines = strlen(words) / 40 + 2;
    lxw_comment_options box = {.width = 300, .height = (uint16_t)(20 * (lines < 30 ? lines : 30))};
    const struct sheet_cell *at = &w->sheet->cells[cell];
    written_done(w->written,
                 worksheet_write_comment_opt(w->page, at->row - w->skipped, (lxw_col_t)at->column, words, &box));
}

/* Returns the cell that has that name: in the header, or, for project.csv, in the first column; the number of cells:
 * none. */
static size_t cell_named(const struct writer *w, const char *name, size_t length)
{
    const bool fields = strcmp(sheets_file(w->sheet->name), "project.csv") == 0;
    for (size_t i = w->header; i < w->sheet->count; i++) {
        const struct sheet_cell *cell = &w->sheet->cells[i];
        const bool place = fields ? cell->column == 0 : cell->row == w->sheet->cells[w->header].row;
        if (place && strncmp(text_of(w, i), name, length) == 0 && !text_of(w, i)[length])
            return i;
    }
    return w->sheet->count;
}

/* Explanations by cell; the first cell of the header has those of the whole sheet. */
struct comments {
    char **words; /* one for each cell of the sheet, NULL: none */
};

static void explain(struct writer *w, struct comments *comments, size_t cell, const char *text)
{
    char **words = &comments->words[cell];
    const size_t before = *words ? strlen(*words) : 0, length = strlen(text);
    char *longer = realloc(*words, before + length + 2);
    if (!longer) {
        w->written->no_memory = true;
        return;
    }
    snprintf(longer + before, length + 2, "%s%s", before ? " " : "", text);
    *words = longer;
}

/*
 * Gives a note to the cells that it names, as "#   stitches, rows: how many were worked." does; a note that names none
 * goes on from the one before, if it is indented as that, and is of the whole sheet otherwise. Returns the last cell
 * explained.
 */
static size_t explain_note(struct writer *w, struct comments *comments, const char *note, size_t last)
{
    const char *text = note + 1 + strspn(note + 1, " ");
    const size_t names = strcspn(text, ":");
    if (text - note < 3 || w->header == w->sheet->count) {
        explain(w, comments, w->header, text);
        return w->header;
    }
    size_t found = w->sheet->count;
    for (const char *name = text; text[names] && name < text + names;) {
        const size_t length = strcspn(name, ",:");
        const size_t cell = cell_named(w, name, length);
        if (cell == w->sheet->count)
            break;
        explain(w, comments, cell, text + names + 1 + strspn(text + names + 1, " "));
        found = cell;
        name += length + 1 + strspn(name + length + 1, " ");
    }
    if (found == w->sheet->count)
        explain(w, comments, last, text);
    return found == w->sheet->count ? last : found;
}

static void write_comments(struct writer *w)
{
    struct comments comments = {calloc(w->sheet->count + 1, sizeof *comments.words)};
    if (!comments.words) {
        w->written->no_memory = true;
        return;
    }
    size_t last = w->header;
    for (size_t i = 0; i < w->sheet->count; i++)
        if (is_note(w, i))
            last = explain_note(w, &comments, text_of(w, i), last);
    for (size_t i = 0; i < w->sheet->count; i++)
        if (comments.words[i] && !is_note(w, i))
            comment(w, i, comments.words[i]);
    for (size_t i = 0; i <= w->sheet->count; i++)
        free(comments.words[i]);
    free(comments.words);
}

/* ---- Lists to choose from ---- */

static void offer(struct writer *w, uint32_t row, uint32_t last, uint32_t column, lxw_data_validation *list)
{
    list->show_error = LXW_VALIDATION_OFF; /* other texts may be typed too */
    written_done(w->written,
                 worksheet_data_validation_range(w->page, row, (lxw_col_t)column, last, (lxw_col_t)column, list));
}

static void offer_words(struct writer *w, uint32_t row, uint32_t last, uint32_t column, const char *const words[])
{
    char *list[8] = {NULL};
    for (size_t i = 0; i < 7 && words[i]; i++)
        list[i] = (char *)(uintptr_t)words[i]; /* libxlsxwriter copies them */
    offer(w, row, last, column, &(lxw_data_validation){.validate = LXW_VALIDATION_TYPE_LIST, .value_list = list});
}

static void offer_range(struct writer *w, uint32_t row, uint32_t last, uint32_t column, const char *range)
{
    offer(w, row, last, column,
          &(lxw_data_validation){.validate = LXW_VALIDATION_TYPE_LIST_FORMULA,
                                 .value_formula = (char *)(uintptr_t)range});
}

static void offer_column(struct writer *w, const char *name, uint32_t row, uint32_t column)
{
    static const char *const yes[] = {"yes", "no", NULL}, *const starts[] = {"chain", "edge", "ring", "continue", NULL},
                             *const units[] = {"cm", "in", NULL};
    char range[60];
    const uint32_t last = row + GUIDED_ROWS;
    const char *file = sheets_file(w->sheet->name);
    const bool roles = strcmp(name, "yarn") == 0 ? strcmp(file, "yarns.csv") != 0 : strcmp(name, "role") == 0;
    if (strcmp(name, "fabric") == 0 && strcmp(file, "fabrics.csv") != 0 && w->guide->fabrics.count) {
        snprintf(range, sizeof range, "=%s!$A$2:$A$%zu", SHEET_LISTS, w->guide->fabrics.count + 1);
        offer_range(w, row, last, column, range);
    } else if (strcmp(name, "tool") == 0 && w->guide->tools.count) {
        snprintf(range, sizeof range, "=%s!$B$2:$B$%zu", SHEET_LISTS, w->guide->tools.count + 1);
        offer_range(w, row, last, column, range);
    } else if (roles && strcmp(file, "yarns.csv") != 0) {
        offer_range(w, row, last, column, "=yarns!$A$2:$A$60");
    } else if (strcmp(name, "print") == 0) {
        offer_words(w, row, last, column, yes);
    } else if (strcmp(name, "start") == 0) {
        offer_words(w, row, last, column, starts);
    } else if (strcmp(name, "unit") == 0) {
        offer_words(w, row, last, column, units);
    }
}

/* The settings of project.csv with few values. */
static void offer_settings(struct writer *w)
{
    static const struct {
        const char *field, *values[3];
    } fields[] = {{"terms", {"US", "UK"}}, {"join", {"anywhere", "row end"}}, {"carry", {"yes", "no"}}};
    for (size_t i = 0; i < sizeof fields / sizeof fields[0]; i++) {
        const size_t cell = cell_named(w, fields[i].field, strlen(fields[i].field));
        if (cell < w->sheet->count) {
            const uint32_t row = w->sheet->cells[cell].row - w->skipped;
            offer_words(w, row, row, 1, fields[i].values);
        }
    }
}

static void offer_lists(struct writer *w)
{
    const uint32_t row = w->sheet->cells[w->header].row;
    if (strcmp(sheets_file(w->sheet->name), "project.csv") == 0)
        offer_settings(w);
    for (size_t i = w->header; i < w->sheet->count && w->sheet->cells[i].row == row; i++)
        offer_column(w, text_of(w, i), row + 1 - w->skipped, w->sheet->cells[i].column);
}

static void write_lists(struct writer *w)
{
    const struct sheet_choices lists[] = {w->guide->fabrics, w->guide->tools};
    static const char *const heads[] = {"stitch patterns", "tools"};
    w->page = written_page(w->written, SHEET_LISTS);
    for (size_t l = 0; w->page && l < 2; l++) {
        written_text(w->written, w->page, 0, (uint32_t)l, heads[l], w->written->head);
        for (size_t i = 0; i < lists[l].count; i++)
            written_text(w->written, w->page, (uint32_t)i + 1, (uint32_t)l, lists[l].texts[i], w->written->text);
        written_done(w->written,
                     worksheet_set_column(w->page, (lxw_col_t)l, (lxw_col_t)l, l ? 12 : 40, w->written->text));
    }
}

/* ---- Sheets ---- */

static void write_cell(struct writer *w, size_t i)
{
    const struct sheet_cell *cell = &w->sheet->cells[i];
    const bool head =
        !sheet_is_pattern(w->sheet) && w->header < w->sheet->count && cell->row == w->sheet->cells[w->header].row;
    const uint32_t row = cell->row - w->skipped;
    if (cell->kind != CELL_NUMBER || head || !written_number(w->written, w->page, row, cell->column, text_of(w, i)))
        written_text(w->written, w->page, row, cell->column, text_of(w, i), head ? w->written->head : w->written->text);
}

static void find_header(struct writer *w)
{
    w->header = 0;
    while (w->header < w->sheet->count && is_note(w, w->header))
        w->header++;
    w->skipped = w->guide && w->header < w->sheet->count ? w->sheet->cells[w->header].row : 0;
}

static void write_sheet(struct writer *w)
{
    const bool table = !sheet_is_pattern(w->sheet);
    w->page = written_page(w->written, w->sheet->name);
    if (!w->page)
        return;
    w->header = w->skipped = 0;
    if (table)
        find_header(w);
    set_columns(w);
    for (size_t i = 0; i < w->sheet->count; i++)
        if (!w->guide || !table || !is_note(w, i))
            write_cell(w, i);
    if (table && w->header < w->sheet->count && w->sheet->cells[w->header].row == w->skipped)
        worksheet_freeze_panes(w->page, 1, 0);
    if (w->guide && table && w->header < w->sheet->count) {
        write_comments(w);
        offer_lists(w);
    }
}

bool sheets_write(const struct sheets *sheets, const struct sheet_guide *guide, const char *path, const char **why)
{
    struct written written;
    struct writer writer = {.sheets = sheets, .guide = guide, .written = &written};
    written_begin(&written, path, NULL);
    for (size_t i = 0; i < sheets->count; i++) {
        writer.sheet = &sheets->list[i];
        if (writer.sheet->wanted)
            write_sheet(&writer);
    }
    if (guide)
        write_lists(&writer);
    return written_end(&written, why);
}
