/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * testers.csv (hankful(1), FILES). A row names a tester, a size, perhaps a yarn, and what was used of it. Rows of one
 * tester in one size belong together: each is another yarn of the same piece.
 */
#include "project/read/testers.h"

#include "project/gauge.h"
#include "project/read/fields.h"

#include <string.h>

enum { TESTER, SIZE, USED, YARN, TOOL, GAUGE, SCALE_STEP, SCALE_ACCURACY };

/* A row being read. */
struct tester_row {
    const char *name;
    double tool_mm;
    struct hk_cell cell, tool_cell, gauge_cell, used_cell;
};

static const struct hk_field fields[] = {
    [TESTER] = {"tester", HK_FIELD_FILLED, HK_FIELD_NAME(tester_row, name), HK_FIELD_KEEPS(tester_row, cell)},
    [SIZE] = {"size", HK_FIELD_REQUIRED},
    [USED] = {"used", HK_FIELD_FILLED, HK_FIELD_KEEPS(tester_row, used_cell)},
    [YARN] = {"yarn"},
    [TOOL] = {"tool", HK_FIELD_TOOL(tester_row, tool_mm), HK_FIELD_KEEPS(tester_row, tool_cell)},
    [GAUGE] = {"gauge", HK_FIELD_KEEPS(tester_row, gauge_cell)},
    [SCALE_STEP] = {"scale_step"},
    [SCALE_ACCURACY] = {"scale_accuracy"},
    {.name = NULL},
};

static bool wrong(struct hk_reading *reading, struct hk_cell cell, const char *message, const char *hint)
{
    hk_diags_add(reading->diags, HK_CODE_TESTER, hk_cell_place(cell, 0), "%s", message ? message : "");
    hk_diags_hint(reading->diags, "%s", hint ? hint : "");
    return false;
}

static bool read_size(struct hk_reading_row row, size_t *size)
{
    struct hk_names names = hk_project_size_names(row.reading->project);
    struct hk_cell cell = hk_reading_cell(row, SIZE);
    *size = 0;
    if (hk_cell_empty(cell) && names.count == 1)
        return true;
    if (hk_cell_empty(cell)) {
        hk_diags_add(row.reading->diags, HK_CODE_CELL_MISSING, hk_cell_place(cell, 0), "the size is missing");
        hk_diags_hint(row.reading->diags, "write which size the tester made");
        return false;
    }
    *size = hk_names_find(names, hk_reading_text(row.reading, cell));
    if (*size == SIZE_MAX)
        hk_reading_size_unknown(row.reading, cell, hk_reading_name(row.reading, cell));
    return *size != SIZE_MAX;
}

/* ---- The yarn ---------------------------------------------------------------------------------------------------- */

static bool is_planned(const struct hk_project *project, size_t yarn)
{
    for (size_t r = 0; r < project->role_count; r++)
        if (project->candidates[project->roles[r].plan].yarn == yarn)
            return true;
    return false;
}

/* The role that a candidate which is planned for none would fill; SIZE_MAX with a finding where there are several. */
static size_t role_of(struct hk_reading_row row, size_t yarn)
{
    const struct hk_project *project = row.reading->project;
    size_t role = SIZE_MAX;
    for (size_t i = 0; i < project->candidate_count; i++) {
        const struct hk_candidate *candidate = &project->candidates[i];
        if (candidate->yarn != yarn || candidate->role == role)
            continue;
        if (role != SIZE_MAX) {
            wrong(row.reading, hk_reading_cell(row, YARN),
                  hk_arena_print(&row.reading->project->arena, "yarns.csv lists %s for %s and for %s",
                                 project->yarns[yarn].name, project->roles[role].name,
                                 project->roles[candidate->role].name),
                  "name the role, if the tester took its planned yarn; else take one of the two rows out of yarns.csv");
            return SIZE_MAX;
        }
        role = candidate->role;
    }
    return role;
}

static const char *role_or_yarn(const void *context, size_t i)
{
    const struct hk_project *project = context;
    return i < project->role_count ? project->roles[i].name : project->yarns[i - project->role_count].name;
}

/* A role means its planned yarn; a yarn replaces that of the roles it is listed for; empty: all of the work. */
static bool read_yarn(struct hk_reading_row row, struct hk_tester_used *used)
{
    const struct hk_project *project = row.reading->project;
    struct hk_cell cell = hk_reading_cell(row, YARN);
    used->of = (struct hk_of_yarn){SIZE_MAX, SIZE_MAX};
    used->yarn = SIZE_MAX;
    if (hk_cell_empty(cell))
        return true;
    const char *text = hk_reading_text(row.reading, cell);
    used->of.role = hk_names_find(hk_project_role_names(project), text);
    if (used->of.role != SIZE_MAX) {
        used->yarn = project->candidates[project->roles[used->of.role].plan].yarn;
        return true;
    }
    used->yarn = hk_names_find(hk_project_yarn_names(project), text);
    if (used->yarn == SIZE_MAX) {
        struct hk_names names = {project->role_count + project->yarn_count, role_or_yarn, project};
        hk_reading_unknown(row.reading, cell, 0, "role or yarn", text, " in yarns.csv", names);
        return false;
    }
    if (is_planned(project, used->yarn))
        used->of.yarn = used->yarn;
    else
        used->of.role = role_of(row, used->yarn);
    return used->of.role != SIZE_MAX || used->of.yarn != SIZE_MAX;
}

/* ---- What was used ----------------------------------------------------------------------------------------------- */

/* Whether the unit of the cell is one of length. */
static bool is_length(struct hk_reading_row row, struct hk_cell cell)
{
    enum hk_dimension dimension = HK_DIM_MASS;
    double factor;
    for (const char *at = hk_reading_text(row.reading, cell); *at; at++)
        if (hk_is_letter(*at))
            return hk_unit_scan(&at, &dimension, &factor) && dimension == HK_DIM_LENGTH;
    return false;
}

static bool read_used(struct hk_reading_row row, struct hk_cell cell, struct hk_tester_used *used)
{
    const struct hk_project *project = row.reading->project;
    double length_m;
    if (hk_cell_empty(cell))
        return false;
    if (!is_length(row, cell))
        return hk_quantity_cell(cell, HK_DIM_MASS, HK_SIGN_POSITIVE, &used->mass_g, row.reading->diags);
    if (!hk_quantity_cell(cell, HK_DIM_LENGTH, HK_SIGN_POSITIVE, &length_m, row.reading->diags))
        return false;
    size_t yarn = used->yarn == SIZE_MAX && project->yarn_count == 1 ? 0 : used->yarn;
    if (yarn == SIZE_MAX)
        return wrong(row.reading, cell, "a length of several yarns", "write the yarn, or what all of it weighed");
    used->mass_g = length_m * project->yarns[yarn].put_up_g / project->yarns[yarn].length_m;
    used->scale = (struct hk_scale){0, 0};
    return true;
}

/* ---- Rows of one tester ------------------------------------------------------------------------------------------ */

/* Whether some strand would be counted twice. */
static bool overlaps(const struct hk_project *project, struct hk_of_yarn a, struct hk_of_yarn b)
{
    for (size_t r = 0; r < project->role_count; r++) {
        size_t plan = project->candidates[project->roles[r].plan].yarn;
        if (hk_of_yarn(a, r, plan) && hk_of_yarn(b, r, plan))
            return true;
    }
    return false;
}

static bool used_once(struct hk_reading *reading, const struct hk_tester *tester, const struct hk_tester_used *used)
{
    for (size_t i = 0; i < tester->used_count; i++) {
        if (!overlaps(reading->project, tester->used[i].of, used->of))
            continue;
        return wrong(reading, used->cell,
                     hk_arena_print(&reading->project->arena, "line %zu has what %s used of that yarn already",
                                    hk_cell_place(tester->used[i].cell, 0).line, tester->name),
                     "give each tester a name of its own, and each yarn of a tester one row");
    }
    return true;
}

/* The tester of the row: a new one, or one that an earlier row began; NULL with a finding where there are too many. */
static struct hk_tester *tester_of(struct hk_reading *reading, const struct tester_row *read, size_t size)
{
    struct hk_project *project = reading->project;
    for (size_t i = 0; i < project->tester_count; i++)
        if (project->testers[i].size == size && hk_text_same(project->testers[i].name, read->name))
            return &project->testers[i];
    if (project->tester_count == HK_TESTERS_MOST) {
        wrong(reading, read->cell, hk_arena_print(&project->arena, "more than %zu testers", HK_TESTERS_MOST),
              "leave some out: these say well enough how far readers differ");
        return NULL;
    }
    struct hk_tester *tester = &project->testers[project->tester_count++];
    *tester = (struct hk_tester){.name = read->name, .size = size, .cell = read->cell};
    return tester;
}

static bool read_gauge(struct hk_reading *reading, const struct tester_row *read, struct hk_tester *tester)
{
    double stitches, rows;
    if (hk_cell_empty(read->gauge_cell))
        return true;
    if (!hk_gauge_cell(read->gauge_cell, &stitches, &rows, &reading->project->arena, reading->diags))
        return false;
    if (tester->gauge_stitches > 0 && (tester->gauge_stitches != stitches || tester->gauge_rows != rows))
        return wrong(reading, read->gauge_cell,
                     hk_arena_print(&reading->project->arena, "line %zu has another gauge of %s",
                                    hk_cell_place(tester->gauge_cell, 0).line, tester->name),
                     "write the gauge of the piece once, of its main fabric");
    tester->gauge_stitches = stitches;
    tester->gauge_rows = rows;
    tester->gauge_cell = read->gauge_cell;
    return true;
}

static void add_used(struct hk_reading *reading, struct hk_tester *tester, const struct hk_tester_used *used)
{
    struct hk_tester_used *list =
        hk_arena_grow(&reading->project->arena, tester->used, tester->used_count, &tester->used_capacity, sizeof *list);
    if (!list)
        return;
    tester->used = list;
    list[tester->used_count++] = *used;
}

/* False where there are too many testers, with a finding. */
static bool read_row(struct hk_reading_row row)
{
    struct tester_row read = {.tool_mm = 0};
    struct hk_tester_used used = {.mass_g = 0};
    size_t size;
    bool good = hk_fields_read(fields, row, &read);
    used.cell = read.used_cell;
    good = read_size(row, &size) && good;
    good = read_yarn(row, &used) && good;
    good = hk_reading_scale(row, SCALE_STEP, SCALE_ACCURACY, &used.scale) && good;
    good = read_used(row, read.used_cell, &used) && good;
    if (!good)
        return true;
    struct hk_tester *tester = tester_of(row.reading, &read, size);
    if (!tester)
        return false;
    if (!read_gauge(row.reading, &read, tester) || !used_once(row.reading, tester, &used))
        return true;
    if (read.tool_mm > 0 && !(tester->tool_mm > 0)) {
        tester->tool_mm = read.tool_mm;
        tester->tool_cell = read.tool_cell;
    }
    add_used(row.reading, tester, &used);
    return true;
}

/* A tester of two sizes is one maker, and the model takes each for another. */
static void report_sizes(struct hk_reading *reading)
{
    const struct hk_project *project = reading->project;
    for (size_t i = 0; i < project->tester_count; i++) {
        for (size_t k = 0; k < i; k++) {
            if (!hk_text_same(project->testers[i].name, project->testers[k].name))
                continue;
            hk_diags_add(reading->diags, HK_CODE_ASSUMPTION, hk_cell_place(project->testers[i].cell, 0),
                         "%s tested two sizes, and counts as two makers", project->testers[i].name);
            hk_diags_hint(reading->diags, "readers may differ by a little more than the answer says");
            break;
        }
    }
}

void hk_testers_read(struct hk_reading *reading)
{
    struct hk_project *project = reading->project;
    bool known;
    const struct hk_table *table = hk_fields_table(reading, "testers.csv", fields, false, &known);
    size_t rows = table ? hk_table_rows(table) : 0;
    if (!reading->knows_sizes || !reading->knows_yarns || rows == 0)
        return; /* the names that its rows refer to are not known */
    project->testers = hk_arena_take(&project->arena, HK_TESTERS_MOST, sizeof *project->testers);
    for (size_t i = 0; project->testers && i < rows; i++)
        if (!read_row((struct hk_reading_row){reading, table, i}))
            break;
    report_sizes(reading);
}
