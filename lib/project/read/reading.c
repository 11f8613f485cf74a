/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Helpers of the readers: files, words to choose from, names to look up, the nearest name for a hint. */
#include "project/read/reading.h"

#include "catalogue/terms.h"
#include "input/quantity.h"
#include "pattern/shipped_fabrics.h"
#include "project/size_meant.h"

#include <assert.h>
#include <string.h>

/* ---- Files --------------------------------------------------------------------------------------------------- */

static const struct hk_table *table_read(struct hk_reading *reading, const char *name,
                                         struct hk_table_options options, size_t most_rows, bool *known)
{
    *known = false;
    size_t errors = reading->diags->errors;
    const char *path = hk_arena_print(&reading->project->arena, "%s%s", reading->folder, name);
    if (!path)
        return NULL;
    options.accepts = true;
    struct hk_table *table = hk_table_read(reading->source, path, options, reading->diags);
    *known = table || (!options.required && reading->diags->errors == errors && !reading->diags->out_of_memory);
    if (!table)
        return NULL;
    if (hk_table_rows(table) > most_rows) {
        hk_diags_add(reading->diags, HK_CODE_FILE_TOO_LARGE, hk_table_place(table), "%zu rows, and at most %zu are read",
                     hk_table_rows(table), most_rows);
        hk_table_free(table);
        *known = false;
        return NULL;
    }
    assert(reading->project->table_count < HK_READING_FILES);
    reading->project->tables[reading->project->table_count++] = table;
    return table;
}

const struct hk_table *hk_reading_table(struct hk_reading *reading, const char *name, const struct hk_column *columns,
                                        bool required, bool *known)
{
    const struct hk_table_options options = {.columns = columns, .required = required};
    return table_read(reading, name, options, HK_ROWS_MOST, known);
}

const struct hk_table *hk_reading_large_table(struct hk_reading *reading, const char *name,
                                              const struct hk_column *columns, size_t most_rows, size_t most_bytes,
                                              bool *known)
{
    const struct hk_table_options options = {.columns = columns, .most_bytes = most_bytes};
    return table_read(reading, name, options, most_rows, known);
}

bool hk_reading_has(const struct hk_reading *reading, const char *name)
{
    const char *path = hk_arena_print(&reading->project->arena, "%s%s", reading->folder, name), *why = NULL;
    struct hk_file file;
    if (!path)
        return false;
    enum hk_open opened = reading->source->open(reading->source->host, path, &file, &why);
    if (opened == HK_OPEN_DONE)
        file.close(file.handle);
    return opened != HK_OPEN_ABSENT;
}

/* What a row accepts does not make it another row. */
static uint64_t row_hash(const struct hk_table *table, size_t row)
{
    uint64_t hash = 0;
    for (size_t i = 0; i < hk_table_columns(table); i++)
        if (i != hk_table_ok(table))
            hash = hash * 31 + hk_text_hash(hk_table_at(table, row, i).text);
    return hash;
}

static bool rows_same(const struct hk_table *table, size_t a, size_t b)
{
    for (size_t i = 0; i < hk_table_columns(table); i++) {
        if (i != hk_table_ok(table) && !hk_text_same(hk_table_at(table, a, i).text, hk_table_at(table, b, i).text))
            return false;
    }
    return true;
}

void hk_reading_doubled(struct hk_reading *reading, const struct hk_table *table, const char *counting)
{
    struct hk_arena scratch = {0};
    size_t rows = hk_table_rows(table);
    uint64_t *hashes = hk_arena_take(&scratch, rows, sizeof *hashes);
    for (size_t row = 0; hashes && row < rows; row++) {
        size_t earlier = 0;
        hashes[row] = row_hash(table, row);
        while (earlier < row && (hashes[earlier] != hashes[row] || !rows_same(table, earlier, row)))
            earlier++;
        if (earlier == row)
            continue;
        hk_diags_add(reading->diags, HK_CODE_LINE_DOUBLED, hk_cell_place(hk_table_at(table, row, 0), 0),
                     "this row is the same as the one in line %zu, and both count",
                     hk_cell_place(hk_table_at(table, earlier, 0), 0).line);
        hk_diags_hint(reading->diags, "take one of them out, or, if both are meant, write 2 in the column %s of one", counting);
    }
    reading->diags->out_of_memory |= scratch.out_of_memory;
    hk_arena_free(&scratch);
}

/* ---- Cells --------------------------------------------------------------------------------------------------- */

const char *hk_reading_text(struct hk_reading *reading, struct hk_cell cell)
{
    if (hk_text_is_plain(cell.text))
        return cell.text; /* the project keeps its tables */
    const char *text = hk_text_plain(&reading->project->arena, cell.text, NULL);
    return text ? text : "";
}

const char *hk_reading_name(struct hk_reading *reading, struct hk_cell cell)
{
    struct hk_arena *arena = &reading->project->arena;
    const char *text = hk_text_is_plain(cell.text) ? cell.text : hk_text_shown(arena, cell.text);
    if (text && !hk_name_bound(cell, text, reading->diags)) /* an error: a short name in its place is compared faster */
        text = hk_arena_print(arena, "line %zu", hk_cell_place(cell, 0).line);
    return text ? text : "";
}

bool hk_reading_scale(struct hk_reading_row row, size_t step_column, size_t accuracy_column, struct hk_scale *scale)
{
    struct hk_cell step = hk_reading_cell(row, step_column), accuracy = hk_reading_cell(row, accuracy_column);
    struct hk_diags *diags = row.reading->diags;
    scale->step_g = 1;
    bool good = hk_cell_empty(step) || hk_quantity_cell(step, HK_DIM_MASS, HK_SIGN_POSITIVE, &scale->step_g, diags);
    scale->accuracy_g = scale->step_g;
    good &= hk_cell_empty(accuracy) || hk_quantity_cell(accuracy, HK_DIM_MASS, HK_SIGN_POSITIVE, &scale->accuracy_g, diags);
    return good;
}

/* `a`, `a or b`, `a, b or c`. */
static const char *words_list(struct hk_arena *arena, struct hk_names names)
{
    const char *text = names.count ? names.name(names.context, 0) : "";
    for (size_t i = 1; i < names.count && text; i++)
        text = hk_arena_print(arena, "%s%s%s", text, i + 1 < names.count ? ", " : " or ", names.name(names.context, i));
    return text ? text : "";
}

static const char *word_name(const void *context, size_t i)
{
    return ((const char *const *)context)[i];
}

bool hk_reading_choice(struct hk_reading *reading, struct hk_cell cell, const char *const *words, size_t count,
                       size_t *choice)
{
    if (hk_cell_empty(cell))
        return false;
    struct hk_names names = {count, word_name, words};
    const char *text = hk_reading_name(reading, cell);
    size_t found = hk_names_find(names, text);
    if (found != SIZE_MAX) {
        *choice = found;
        return true;
    }
    hk_diags_add(reading->diags, HK_CODE_CHOICE, hk_cell_place(cell, 0), "\"%s\" is not a choice here", text);
    const char *list = words_list(&reading->project->arena, names);
    size_t nearest = count > 2 ? hk_text_nearest(text, count, word_name, words) : SIZE_MAX; /* two need no suggestion */
    if (nearest == SIZE_MAX)
        hk_diags_hint(reading->diags, "write %s", list);
    else
        hk_diags_hint(reading->diags, "did you mean \"%s\"? write %s", words[nearest], list);
    return false;
}

bool hk_reading_money(struct hk_reading *reading, struct hk_cell cell, int64_t *minor)
{
    return reading->knows_currency && hk_project_money_cell(reading->project, cell, minor, reading->diags);
}

/* ---- Names --------------------------------------------------------------------------------------------------- */

/* Names the probable one, or else all of them if they are few. */
static void hint_name(struct hk_reading *reading, struct hk_names names, size_t probable)
{
    static const size_t few = 12;
    if (probable != SIZE_MAX)
        hk_diags_hint(reading->diags, "did you mean \"%s\"?", names.name(names.context, probable));
    else if (names.count > 0 && names.count <= few)
        hk_diags_hint(reading->diags, "known here: %s", words_list(&reading->project->arena, names));
}

void hk_reading_unknown(struct hk_reading *reading, struct hk_cell cell, size_t offset, const char *what,
                        const char *word, const char *where, struct hk_names names)
{
    struct hk_diags *diags = reading->diags;
    hk_diags_add(diags, HK_CODE_NAME_UNKNOWN, hk_cell_place(cell, offset), "there is no %s \"%s\"%s", what, word, where);
    if (diags->count == HK_FINDINGS_MOST)
        return; /* the finding is not shown, so there is no need to search */
    hint_name(reading, names, hk_text_nearest(word, names.count, names.name, names.context));
}

void hk_reading_size_unknown(struct hk_reading *reading, struct hk_cell cell, const char *name)
{
    struct hk_names names = hk_project_size_names(reading->project);
    hk_diags_add(reading->diags, HK_CODE_NAME_UNKNOWN, hk_cell_place(cell, 0), "there is no size \"%s\"", name);
    hint_name(reading, names, hk_size_meant(names, name));
}

/* ---- Fabrics ------------------------------------------------------------------------------------------------- */

/* The fabrics of the project come first: they hide the shipped ones. */
static struct hk_fabric_alias fabric_at(const struct hk_project *project, size_t i)
{
    const struct hk_catalogue *catalogue = project->catalogue;
    if (i < project->fabric_count)
        return (struct hk_fabric_alias){project->fabrics[i].name, &project->fabrics[i]};
    i -= project->fabric_count;
    if (i < catalogue->fabric_count)
        return (struct hk_fabric_alias){catalogue->fabrics[i].name, &catalogue->fabrics[i]};
    return catalogue->aliases[i - catalogue->fabric_count];
}

static const char *fabric_name(const void *project, size_t i)
{
    return fabric_at(project, i).name;
}

static struct hk_names fabric_names(const struct hk_project *project)
{
    const struct hk_catalogue *catalogue = project->catalogue;
    return (struct hk_names){project->fabric_count + catalogue->fabric_count + catalogue->alias_count, fabric_name, project};
}

/* Whether fabrics.csv has rows of it, even if their mistakes kept it from being read. */
static bool fabric_attempted(struct hk_reading *reading, const char *name)
{
    const struct hk_table *table = reading->fabrics_table;
    for (size_t row = 0; table && row < hk_table_rows(table); row++) {
        if (hk_text_same(hk_table_cell(table, row, 0).text, name))
            return true;
    }
    return false;
}

/* Shipped fabrics are named in US terms. Reports, once for each, a name that means another shipped fabric in UK terms. */
static void report_us_terms(struct hk_reading *reading, struct hk_cell cell, size_t found)
{
    struct hk_project *project = reading->project;
    const struct hk_catalogue *catalogue = project->catalogue;
    if (project->terms != HK_TERMS_UK || found < project->fabric_count ||
        found - project->fabric_count >= catalogue->fabric_count)
        return;
    const char *name = fabric_name(project, found);
    const char *meant = hk_terms_change(catalogue, name, HK_TERMS_UK, HK_TERMS_US, &project->arena);
    const char *taken = hk_terms_change(catalogue, name, HK_TERMS_US, HK_TERMS_UK, &project->arena);
    if (!reading->said_fabrics)
        reading->said_fabrics = hk_arena_take(&project->arena, catalogue->fabric_count, sizeof *reading->said_fabrics);
    if (!meant || !taken || !reading->said_fabrics || hk_text_same(meant, name) || !hk_catalogue_fabric(catalogue, meant))
        return;
    bool *said = &reading->said_fabrics[found - project->fabric_count];
    if (!*said) {
        hk_diags_add(reading->diags, HK_CODE_UNUSUAL, hk_cell_place(cell, 0),
                     "\"%s\" is taken in US terms, as shipped fabrics are named: %s in UK terms", name, taken);
        hk_diags_hint(reading->diags, "for %s in UK terms write \"%s\"", name, meant);
    }
    *said = true;
}

/* The shipped fabric of a stitch that is named by its abbreviation, "sc" for "single crochet"; NULL: there is none. */
static const char *fabric_of_stitch(const struct hk_project *project, const char *text)
{
    const struct hk_catalogue *catalogue = project->catalogue;
    for (size_t i = 0; i < catalogue->stitch_count; i++) {
        const struct hk_stitch *stitch = &catalogue->stitches[i];
        const char *word = project->terms == HK_TERMS_UK ? stitch->uk : stitch->us;
        if (word && hk_text_same(word, text) && hk_catalogue_fabric(catalogue, stitch->name))
            return stitch->name;
    }
    return NULL;
}

/* In UK terms "half treble crochet" is shipped under its US name. */
static void fabric_unknown(struct hk_reading *reading, struct hk_cell cell, const char *text, struct hk_names names)
{
    struct hk_project *project = reading->project;
    const char *us = project->terms == HK_TERMS_UK
                         ? hk_terms_change(project->catalogue, text, HK_TERMS_UK, HK_TERMS_US, &project->arena)
                         : NULL;
    if (us && hk_names_find(names, us) != SIZE_MAX) {
        hk_diags_add(reading->diags, HK_CODE_NAME_UNKNOWN, hk_cell_place(cell, 0), "there is no fabric \"%s\"", text);
        hk_diags_hint(reading->diags, "shipped fabrics are named in US terms: write \"%s\"", us);
        return;
    }
    const char *worked = fabric_of_stitch(project, text);
    if (worked) {
        hk_diags_add(reading->diags, HK_CODE_NAME_UNKNOWN, hk_cell_place(cell, 0), "there is no fabric \"%s\"", text);
        hk_diags_hint(reading->diags, "that is a stitch; write the fabric%s, \"%s\"",
                      project->terms == HK_TERMS_UK ? " by its US name" : "", worked);
        return;
    }
    hk_reading_unknown(reading, cell, 0, "fabric", text, "", names);
    hk_diags_hint(reading->diags, "write its rows into fabrics.csv, or name one that \"hankful tables fabrics\" lists");
}

bool hk_reading_fabric(struct hk_reading *reading, struct hk_cell cell, const struct hk_fabric **fabric)
{
    if (hk_cell_empty(cell))
        return false;
    const struct hk_project *project = reading->project;
    struct hk_names names = fabric_names(project);
    const char *text = hk_reading_name(reading, cell);
    size_t found = hk_names_find(names, text);
    if (!reading->knows_fabrics && (!reading->fabrics_table || fabric_attempted(reading, text)))
        return false;
    if (found != SIZE_MAX) {
        *fabric = fabric_at(project, found).fabric;
        report_us_terms(reading, cell, found);
        return true;
    }
    fabric_unknown(reading, cell, text, names);
    return false;
}

bool hk_reading_start(struct hk_reading *reading, struct hk_cell cell, enum hk_start *start)
{
    static const char *const words[] = {"chain", "edge", "ring", "continue", "cast on"};
    static const enum hk_start starts[] = {HK_START_CHAIN, HK_START_EDGE, HK_START_RING, HK_START_CONTINUE,
                                           HK_START_CHAIN};
    size_t choice;
    if (hk_cell_empty(cell))
        return true;
    if (!hk_reading_choice(reading, cell, words, sizeof words / sizeof words[0], &choice))
        return false;
    *start = starts[choice];
    return true;
}
