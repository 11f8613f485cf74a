/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A project folder: its files in the order in which they refer to each other. Every file is read even if another
 * failed, so that all mistakes are reported in one run; references to a failed file are not checked (reading.h).
 */
#include "pattern/shipped_fabrics.h"
#include "project/read/costs.h"
#include "project/read/grade.h"
#include "project/read/hand.h"
#include "project/read/offers.h"
#include "project/read/pattern_file.h"
#include "project/read/pieces.h"
#include "project/read/progress.h"
#include "project/read/reading.h"
#include "project/read/settings.h"
#include "project/read/swatches.h"
#include "project/read/testers.h"
#include "project/read/yarns.h"

#include <stdlib.h>

static void read_grade(struct hk_reading *reading)
{
    struct hk_project *project = reading->project;
    const struct hk_table *table = hk_reading_table(reading, "grade.csv", NULL, false, &reading->knows_grade);
    if (!reading->knows_sizes)
        reading->knows_grade = reading->knows_grade && !table;
    else if (reading->knows_grade) /* even without the file: messages about graded cells name the sizes */
        reading->knows_grade =
            hk_grade_read(table, project->sizes, project->size_count, &project->grade, &project->arena, reading->diags);
}

/* Reports names of shipped fabrics that the project gives to fabrics of its own. */
static void warn_of_hidden(struct hk_reading *reading)
{
    const struct hk_project *project = reading->project;
    for (size_t i = 0; i < project->fabric_count && !reading->learning; i++) {
        if (!hk_catalogue_fabric(project->catalogue, project->fabrics[i].name))
            continue;
        hk_diags_add(reading->diags, HK_CODE_FABRIC_HIDES, hk_cell_place(project->fabrics[i].cell, 0),
                     "\"%s\" is the name of a shipped fabric too, and means the one of this file", project->fabrics[i].name);
        hk_diags_hint(reading->diags, "give it another name, or take it out to have the shipped one");
    }
}

static void read_fabrics(struct hk_reading *reading)
{
    static const struct hk_column columns[] = {
        {"fabric", true, true}, {"row", true, true}, {"make", true, true}, {NULL, false, false}};
    struct hk_project *project = reading->project;
    const struct hk_table *table = hk_reading_table(reading, "fabrics.csv", columns, false, &reading->knows_fabrics);
    reading->fabrics_table = table;
    if (table && !reading->knows_terms)
        reading->knows_fabrics = false;
    else if (table)
        reading->knows_fabrics = hk_fabrics_read(table, project->terms, project->catalogue, &project->fabrics,
                                                 &project->fabric_count, &project->arena, reading->diags);
    warn_of_hidden(reading);
}

/* Reports roles that no part is worked in: their yarn is bought in vain, or a part is missing. */
static void warn_of_roles(struct hk_reading *reading)
{
    const struct hk_project *project = reading->project;
    if (project->pattern_unread || project->proof_diags.errors > 0)
        return; /* rows that were not read may work in them */
    bool *used = hk_arena_take(&reading->project->arena, project->role_count, sizeof *used);
    for (size_t l = 0; used && l < project->line_count; l++) {
        const struct hk_stripes *yarn = &project->lines[l].yarn;
        for (size_t i = 0; i < yarn->count; i++) {
            const struct hk_combination *c = &project->combinations[yarn->stripes[i].combination];
            for (size_t s = 0; s < c->strand_count; s++)
                used[c->strands[s].role] = true;
        }
    }
    const struct hk_written *written = project->written; /* a role that is named counts, even if its rows are not worked */
    bool none = written && written->piece_count == 0;
    for (size_t h = 0; used && written && h < written->held_count; h++)
        for (size_t i = 0; i < written->helds[h].count; i++)
            used[written->helds[h].roles[i]] = true;
    for (size_t r = 0; used && !none && r < project->role_count; r++) {
        if (used[r])
            continue;
        hk_diags_add(reading->diags, HK_CODE_ROLE_UNUSED, hk_cell_place(project->roles[r].cell, 0),
                     "no part is worked in \"%s\"", project->roles[r].name);
        hk_diags_hint(reading->diags, "name it in %s, or take its rows out of this file",
                      project->written ? "pattern.txt or pieces.csv" : "pieces.csv");
    }
}

static void read_files(struct hk_reading *reading);

static struct hk_project *folder_read(struct hk_reading reading, void (*read)(struct hk_reading *reading),
                                      const struct hk_catalogue *catalogue);

/* The identity of project.csv, which every folder has, identifies the folder. */
static struct hk_identity identity_of(const struct hk_project *project)
{
    return project->table_count > 0 ? hk_table_identity(project->tables[0]) : (struct hk_identity){0};
}

static bool folders_same(const struct hk_project *a, const struct hk_project *b)
{
    struct hk_identity x = identity_of(a), y = identity_of(b);
    return x.device == y.device && x.number == y.number && (x.device != 0 || x.number != 0);
}

/* The same folder by another name or link: its weighings are there already. */
static bool is_known(struct hk_reading *reading, const struct hk_project *learned, size_t folder)
{
    const struct hk_project *project = reading->project, *known = folders_same(learned, project) ? project : NULL;
    for (size_t i = 0; !known && i < project->learned_count; i++)
        known = folders_same(learned, project->learned[i]) ? project->learned[i] : NULL;
    if (!known)
        return false;
    hk_diags_add(reading->diags, HK_CODE_SWATCH_DOUBLED, hk_cell_place(reading->learn_cells[folder], 0),
                 "%s is the same file as %s, and what was weighed there counts once", hk_table_name(learned->tables[0]),
                 hk_table_name(known->tables[0]));
    hk_diags_hint(reading->diags, "take this row out");
    return true;
}

static void read_learned(struct hk_reading *reading)
{
    struct hk_project *project = reading->project;
    project->learned = hk_arena_take(&project->arena, reading->learn_count, sizeof *project->learned);
    for (size_t i = 0; project->learned && i < reading->learn_count; i++) {
        struct hk_project *learned = folder_read(
            (struct hk_reading){
                .source = reading->source, .folder = reading->learn_from[i], .learning = true, .diags = reading->diags},
            read_files, project->catalogue);
        if (learned && is_known(reading, learned, i))
            hk_project_free(learned);
        else if (learned)
            project->learned[project->learned_count++] = learned;
    }
    hk_swatches_once(project, reading->diags);
    hk_progress_once(project, reading->diags);
    hk_yarns_once(project, reading->diags);
}

static void read_names(struct hk_reading *reading)
{
    hk_settings_read(reading);
    hk_yarns_read(reading);
}

static void read_files(struct hk_reading *reading)
{
    bool works = !reading->learning || hk_reading_has(reading, "progress.csv");
    hk_settings_read(reading);
    if (works)
        read_grade(reading);
    hk_yarns_read(reading);
    read_fabrics(reading);
    hk_swatches_read(reading, !works);
    if (!works)
        return;
    size_t errors = reading->diags->errors;
    hk_pattern_file_read(reading);
    hk_pieces_read(reading);
    reading->knows_pieces = reading->diags->errors == errors && reading->knows_sizes && reading->knows_yarns;
    if (reading->knows_pieces && !reading->learning)
        warn_of_roles(reading);
    if (!reading->learning)
        hk_costs_read(reading);
    errors = reading->diags->errors;
    hk_offers_read(reading);
    reading->knows_offers = reading->diags->errors == errors;
    hk_progress_read(reading);
    if (reading->hand)
        hk_hand_read(reading);
    if (reading->learning)
        return;
    hk_testers_read(reading);
    read_learned(reading);
}

/* Of a folder to learn from, only files that its weighings need are read. */
static struct hk_project *folder_read(struct hk_reading reading, void (*read)(struct hk_reading *reading),
                                      const struct hk_catalogue *catalogue)
{
    struct hk_diags *diags = reading.diags;
    size_t errors = diags->errors;
    struct hk_project *project = calloc(1, sizeof *project);
    if (!project) {
        diags->out_of_memory = true;
        return NULL;
    }
    project->catalogue = catalogue;
    project->learning = reading.learning;
    project->tables = hk_arena_take(&project->arena, HK_READING_FILES, sizeof *project->tables);
    reading.project = project;
    if (project->tables)
        read(&reading);
    if (project->arena.out_of_memory || project->proof_diags.out_of_memory)
        diags->out_of_memory = true;
    if (diags->errors == errors && !diags->out_of_memory)
        return project;
    hk_pattern_file_report(project, diags);
    hk_project_free(project);
    return NULL;
}

struct hk_project *hk_project_read(const struct hk_source *source, const struct hk_catalogue *catalogue,
                                   struct hk_diags *diags)
{
    return folder_read((struct hk_reading){.source = source, .folder = "", .diags = diags}, read_files, catalogue);
}

struct hk_project *hk_project_read_hand(const struct hk_source *source, const struct hk_catalogue *catalogue,
                                        const struct hk_hand *hand, struct hk_diags *diags)
{
    return folder_read((struct hk_reading){.source = source, .folder = "", .hand = hand, .diags = diags}, read_files,
                       catalogue);
}

struct hk_project *hk_project_read_names(const struct hk_source *source, const struct hk_catalogue *catalogue,
                                         struct hk_diags *diags)
{
    return folder_read((struct hk_reading){.source = source, .folder = "", .diags = diags}, read_names, catalogue);
}
