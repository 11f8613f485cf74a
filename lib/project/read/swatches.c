/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * swatches.csv (hankful(1), FILES). A swatch need not be weighed: a gauge alone turns centimetres into stitches.
 * Its stitches are the stitches that its first row leaves, as in pieces.csv.
 */
#include "project/read/swatches.h"

#include "project/gauge.h"
#include "project/read/fields.h"
#include "project/read/weighed_once.h"
#include "project/read/yarn_cell.h"

#include <math.h>
#include <string.h>

/* A row being read. */
struct swatch_row {
    struct hk_swatch swatch;
    double width_m, height_m; /* 0: not measured */
};

enum {
    SWATCH,
    YARN,
    TOOL,
    FABRIC,
    STITCHES,
    ROWS,
    START,
    GAUGE,
    WIDTH,
    HEIGHT,
    CARE,
    PRINT,
    GAUGE_AS,
    WEIGHT,
    SCALE_STEP,
    SCALE_ACCURACY,
    TAPE_STEP,
    UNRAVELLED,
    ENDS,
    COPIES,
    MINUTES
};
static bool read_print(struct hk_reading *reading, struct hk_cell cell, void *value)
{
    static const char *const words[] = {"yes", "no"};
    enum hk_stating *print = value;
    size_t choice;
    const bool good = hk_reading_choice(reading, cell, words, 2, &choice);
    if (good)
        *print = choice == 0 ? HK_STATING_YES : HK_STATING_NO;
    return good;
}

static const struct hk_field fields[] = {
    [SWATCH] = {"swatch", HK_FIELD_FILLED, HK_FIELD_NAME(swatch_row, swatch.name),
                HK_FIELD_KEEPS(swatch_row, swatch.cell)},
    [YARN] = {"yarn", HK_FIELD_FILLED},
    [TOOL] = {"tool", HK_FIELD_FILLED, HK_FIELD_TOOL(swatch_row, swatch.tool_mm)},
    [FABRIC] = {"fabric", HK_FIELD_FILLED, HK_FIELD_FABRIC(swatch_row, swatch.fabric)},
    [STITCHES] = {"stitches", HK_FIELD_REQUIRED, HK_FIELD_COUNT(swatch_row, swatch.stitches),
                  HK_FIELD_KEEPS(swatch_row, swatch.stitches_cell)},
    [ROWS] = {"rows", HK_FIELD_FILLED, HK_FIELD_COUNT(swatch_row, swatch.rows)},
    [START] = {"start"},
    [GAUGE] = {"gauge"},
    [WIDTH] = {"width", HK_FIELD_QUANTITY(swatch_row, width_m, HK_DIM_LENGTH)},
    [HEIGHT] = {"height", HK_FIELD_QUANTITY(swatch_row, height_m, HK_DIM_LENGTH)},
    [CARE] = {"care", HK_FIELD_NAME(swatch_row, swatch.care)},
    [PRINT] = {"print", HK_FIELD_READ(swatch_row, swatch.print, enum hk_stating, read_print)},
    [GAUGE_AS] = {"gauge_as", HK_FIELD_NAME(swatch_row, swatch.gauge_as_name),
                  HK_FIELD_KEEPS(swatch_row, swatch.gauge_as_cell)},
    [WEIGHT] = {"weight", HK_FIELD_QUANTITY(swatch_row, swatch.mass_g, HK_DIM_MASS),
                HK_FIELD_KEEPS(swatch_row, swatch.weight_cell)},
    [SCALE_STEP] = {"scale_step"},
    [SCALE_ACCURACY] = {"scale_accuracy"},
    [TAPE_STEP] = {"tape_step", HK_FIELD_QUANTITY(swatch_row, swatch.tape_step_m, HK_DIM_LENGTH)},
    [UNRAVELLED] = {"unravelled", HK_FIELD_QUANTITY(swatch_row, swatch.unravelled_m, HK_DIM_LENGTH)},
    [ENDS] = {"ends", HK_FIELD_COUNT(swatch_row, swatch.ends), .sign = HK_SIGN_NOT_NEGATIVE},
    [COPIES] = {"copies", HK_FIELD_COUNT(swatch_row, swatch.copies)},
    [MINUTES] = {"minutes", HK_FIELD_QUANTITY(swatch_row, swatch.minutes, HK_DIM_MINUTES),
                 HK_FIELD_KEEPS(swatch_row, swatch.minutes_cell)},
    {.name = NULL},
};

static const char *swatch_name(const void *project, size_t i)
{
    return ((const struct hk_project *)project)->swatches[i].name;
}

static void name_once(struct hk_reading_row row, const struct hk_swatch *swatch)
{
    const struct hk_project *project = row.reading->project;
    struct hk_names names = {project->swatch_count, swatch_name, project};
    size_t found = hk_cell_empty(swatch->cell) ? SIZE_MAX : hk_names_find(names, swatch->name);
    if (found == SIZE_MAX)
        return;
    hk_diags_add(row.reading->diags, HK_CODE_NAME_DOUBLED, hk_cell_place(swatch->cell, 0),
                 "the swatch \"%s\" is already in line %zu", swatch->name,
                 hk_cell_place(project->swatches[found].cell, 0).line);
    hk_diags_hint(row.reading->diags, "give each swatch a name of its own");
}

static bool read_start(struct hk_reading_row row, struct hk_swatch *swatch)
{
    struct hk_cell cell = hk_reading_cell(row, START);
    if (!hk_reading_start(row.reading, cell, &swatch->start))
        return false;
    if (swatch->start != HK_START_CONTINUE)
        return true;
    hk_diags_add(row.reading->diags, HK_CODE_START, hk_cell_place(cell, 0), "a swatch has nothing to continue on");
    hk_diags_hint(row.reading->diags, "write chain, edge or ring");
    return false;
}

static void stitches_needed(struct hk_reading_row row, struct hk_swatch *swatch)
{
    if (!read_start(row, swatch) || swatch->start == HK_START_RING || !hk_cell_empty(swatch->stitches_cell))
        return;
    hk_diags_add(row.reading->diags, HK_CODE_CELL_MISSING, hk_cell_place(swatch->stitches_cell, 0),
                 "the swatch \"%s\" does not say its stitches", swatch->name);
    hk_diags_hint(row.reading->diags, "write how many its first row leaves");
}

/* Bounds of a stitch and a row in tool diameters: they include tight thread and drop stitches, not tenfold errors. */
#define STITCH_LEAST 0.3
#define STITCH_MOST 5
#define ROW_LEAST 0.2
#define ROW_MOST 9

/* It may have been measured in another unit, or the decimal mark may be in the wrong place. */
static void warn_of_gauge(struct hk_reading_row row, const struct hk_swatch *swatch, bool rows)
{
    double per_10cm = rows ? swatch->gauge_rows : swatch->gauge_stitches, one_mm = 100 / per_10cm;
    double least = rows ? ROW_LEAST : STITCH_LEAST, most = rows ? ROW_MOST : STITCH_MOST;
    struct hk_cell gauge = hk_reading_cell(row, GAUGE);
    struct hk_cell measured = hk_reading_cell(row, rows ? HEIGHT : WIDTH);
    if (!(per_10cm > 0 && swatch->tool_mm > 0))
        return;
    if (one_mm >= least * swatch->tool_mm && one_mm <= most * swatch->tool_mm)
        return;
    hk_diags_add(row.reading->diags, HK_CODE_UNUSUAL, hk_cell_place(hk_cell_empty(gauge) ? measured : gauge, 0),
                 "swatch \"%s\" has %s %s in 10 cm: one would be %s mm, worked on %s mm", swatch->name,
                 hk_number_text(per_10cm, 3).text, rows ? "rows" : "stitches", hk_number_text(one_mm, 3).text,
                 hk_number_text(swatch->tool_mm, 6).text);
    hk_diags_hint(row.reading->diags, "check what was counted and measured; if it is right, it may stay");
}

/* The gauge cell; where it is empty, the counts over the measured width and height. */
static void read_gauge(struct hk_reading_row row, struct swatch_row *read)
{
    struct hk_swatch *swatch = &read->swatch;
    struct hk_cell gauge = hk_reading_cell(row, GAUGE);
    if (read->width_m > 0 && swatch->stitches > 0)
        swatch->gauge_stitches = 0.1 * (double)swatch->stitches / read->width_m;
    if (read->height_m > 0 && swatch->rows > 0)
        swatch->gauge_rows = 0.1 * (double)swatch->rows / read->height_m;
    if (!hk_cell_empty(gauge))
        hk_gauge_cell(gauge, &swatch->gauge_stitches, &swatch->gauge_rows, &row.reading->project->arena,
                      row.reading->diags);
    warn_of_gauge(row, swatch, false);
    warn_of_gauge(row, swatch, true);
}

/* A gauge to print must be there, and not be another's. */
static void print_fits(struct hk_reading_row row, const struct hk_swatch *swatch)
{
    struct hk_cell print = hk_reading_cell(row, PRINT), other = swatch->gauge_as_cell;
    struct hk_diags *diags = row.reading->diags;
    if (swatch->print != HK_STATING_YES)
        return;
    if (!hk_cell_empty(other)) {
        hk_diags_add(diags, HK_CODE_CHOICE, hk_cell_place(other, 0), "swatch \"%s\" prints its own gauge and another's",
                     swatch->name);
        hk_diags_hint(diags, "leave print or gauge_as empty");
    } else if (!(swatch->gauge_stitches > 0)) {
        hk_diags_add(diags, HK_CODE_CELL_MISSING, hk_cell_place(print, 0), "swatch \"%s\" has no gauge to print",
                     swatch->name);
        hk_diags_hint(diags, "write its gauge, or its width and height");
    }
}

/* A row with a mistake is kept too, so that its name is known. No answer is computed then. */
static void read_row(struct hk_reading_row row)
{
    struct hk_project *project = row.reading->project;
    struct swatch_row read = {.swatch = {.stitches = HK_NOT_STATED,
                                         .start = HK_START_CHAIN,
                                         .ends = 2,
                                         .copies = 1,
                                         .tape_step_m = 0.001,
                                         .gauge_as = SIZE_MAX}};
    struct hk_swatch *swatch = &read.swatch;
    hk_fields_read(fields, row, &read);
    name_once(row, swatch);
    hk_yarn_cell(row.reading, hk_reading_cell(row, YARN), true, &swatch->yarn);
    stitches_needed(row, swatch);
    read_gauge(row, &read);
    print_fits(row, swatch);
    hk_reading_scale(row, SCALE_STEP, SCALE_ACCURACY, &swatch->scale);
    project->swatches[project->swatch_count++] = *swatch;
}

/* Finds the swatch that the cell gauge_as names. It must have a gauge, which is its own and is printed. */
static void gauge_as_find(struct hk_reading *reading, struct hk_swatch *swatch)
{
    struct hk_project *project = reading->project;
    const struct hk_names names = {project->swatch_count, swatch_name, project};
    const struct hk_place at = hk_cell_place(swatch->gauge_as_cell, 0);
    const size_t found = hk_names_find(names, swatch->gauge_as_name);
    if (found == SIZE_MAX) {
        hk_reading_unknown(reading, swatch->gauge_as_cell, 0, "swatch", swatch->gauge_as_name, "", names);
        return;
    }
    const struct hk_swatch *of = &project->swatches[found];
    if (of == swatch) {
        hk_diags_add(reading->diags, HK_CODE_CHOICE, at, "swatch \"%s\" states its gauge as its own", swatch->name);
        hk_diags_hint(reading->diags, "name another swatch, or leave the cell empty");
    } else if (!(of->gauge_stitches > 0) || !hk_cell_empty(of->gauge_as_cell) || of->print == HK_STATING_NO) {
        hk_diags_add(reading->diags, HK_CODE_CHOICE, at, "swatch \"%s\" has no gauge that the pattern prints",
                     of->name);
        hk_diags_hint(reading->diags, of->gauge_stitches > 0 ? "name a swatch without no in print and without gauge_as"
                                                             : "write its gauge, or name another swatch");
    } else {
        swatch->gauge_as = found;
    }
}

void hk_swatches_read(struct hk_reading *reading, bool required)
{
    struct hk_project *project = reading->project;
    bool known;
    const struct hk_table *table = hk_fields_table(reading, "swatches.csv", fields, required, &known);
    size_t rows = table ? hk_table_rows(table) : 0;
    project->swatches = hk_arena_take(&project->arena, rows, sizeof *project->swatches);
    for (size_t i = 0; project->swatches && i < rows; i++)
        read_row((struct hk_reading_row){reading, table, i});
    for (size_t i = 0; project->swatches && i < project->swatch_count; i++)
        if (!hk_cell_empty(project->swatches[i].gauge_as_cell))
            gauge_as_find(reading, &project->swatches[i]);
}

/* ---- Of several folders ------------------------------------------------------------------------------------------ */

/* Whether both have the same yarns, by name. */
static bool strands_same(const struct hk_weighing *a, size_t in_a, const struct hk_weighing *b, size_t in_b)
{
    const struct hk_combination *x = &a->of->combinations[in_a], *y = &b->of->combinations[in_b];
    bool same = x->strand_count == y->strand_count;
    for (size_t i = 0; same && i < x->strand_count; i++) {
        same = x->strands[i].times == y->strands[i].times &&
               hk_text_same(a->of->yarns[x->strands[i].yarn].name, b->of->yarns[y->strands[i].yarn].name);
    }
    return same;
}

static bool yarn_same(const struct hk_weighing *a, const struct hk_weighing *b)
{
    const struct hk_swatch *of_a = a->what, *of_b = b->what;
    const struct hk_stripes *x = &of_a->yarn, *y = &of_b->yarn;
    bool same = x->count == y->count;
    for (size_t i = 0; same && i < x->count; i++) {
        same = x->stripes[i].rows == y->stripes[i].rows &&
               strands_same(a, x->stripes[i].combination, b, y->stripes[i].combination);
    }
    return same;
}

/* Whether both are the same work, as far as the files say. */
static bool work_same(const struct hk_weighing *a, const struct hk_weighing *b)
{
    const struct hk_swatch *x = a->what, *y = b->what;
    return hk_text_same(x->name, y->name) && x->tool_mm == y->tool_mm && x->stitches == y->stitches &&
           x->rows == y->rows && x->start == y->start && x->ends == y->ends && x->copies == y->copies && x->fabric && y->fabric &&
           hk_text_same(x->fabric->name, y->fabric->name) && yarn_same(a, b);
}

/* Whether both were read, and differ by at most half the sum of their steps: a reading is exact to half a step. */
static bool reading_same(double a, double b, double steps)
{
    return a > 0 && b > 0 && fabs(a - b) <= steps / 2 + 1e-9 * a;
}

static bool reading_differs(double a, double b, double steps)
{
    return a > 0 && b > 0 && !reading_same(a, b, steps);
}

/* Reports a swatch that stands in both folders: as the same weighing, or as two that differ. */
static void weighing_compare(const struct hk_weighing *first, struct hk_weighing *again, struct hk_diags *diags)
{
    const struct hk_swatch *x = first->what, *y = again->what;
    double grams = x->scale.step_g + y->scale.step_g + 2 * (x->scale.accuracy_g + y->scale.accuracy_g);
    double metres = x->tape_step_m + y->tape_step_m;
    bool weight = reading_differs(x->mass_g, y->mass_g, grams);
    bool differs = weight || reading_differs(x->unravelled_m, y->unravelled_m, metres) ||
                   reading_differs(x->minutes, y->minutes, 2);
    bool same = reading_same(x->mass_g, y->mass_g, grams) || reading_same(x->unravelled_m, y->unravelled_m, metres) ||
                reading_same(x->minutes, y->minutes, 2);
    struct hk_place at = hk_cell_place(x->cell, 0);
    if (!work_same(first, again) || (!differs && !same))
        return;
    again->again = !differs;
    struct hk_place here = hk_cell_place(weight ? y->weight_cell : y->cell, 0);
    if (differs) {
        hk_diags_add(diags, HK_CODE_SWATCH_DOUBLED, here,
                     "swatch \"%s\" was read otherwise in %s:%zu; both count, as two swatches", y->name, at.file, at.line);
        hk_diags_hint(diags, "if it is one, take out the wrong reading; if there are two, give each a name of its own");
    } else {
        hk_diags_add(diags, HK_CODE_SWATCH_DOUBLED, here, "swatch \"%s\" is the one in %s:%zu, and counts once", y->name,
                     at.file, at.line);
        hk_diags_hint(diags, "take it out of one of the two files; another swatch needs another name");
    }
}

static size_t swatch_count(const struct hk_project *of)
{
    return of->swatch_count;
}

static void weighing_list(struct hk_project *of, size_t i, struct hk_weighing *weighing)
{
    weighing->hash = hk_text_hash(of->swatches[i].name);
    weighing->what = &of->swatches[i];
}

/* The last is the first to be removed, so pointers to earlier ones stay valid. */
static void weighing_leave_out(const struct hk_weighing *weighing)
{
    struct hk_swatch *swatch = weighing->what, *end = weighing->of->swatches + weighing->of->swatch_count;
    memmove(swatch, swatch + 1, (size_t)(end - swatch - 1) * sizeof *end);
    weighing->of->swatch_count--;
}

void hk_swatches_once(struct hk_project *project, struct hk_diags *diags)
{
    static const struct hk_weighings of_swatches = {swatch_count, weighing_list, weighing_compare, weighing_leave_out};
    hk_weighed_once(project, &of_swatches, diags);
}
