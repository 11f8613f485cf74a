/* SPDX-License-Identifier: GPL-3.0-or-later */
/* pattern.txt for a host: its rows as they were worked, lines that are no rows, readings that custom leaves open. */
#include "project/project.h"

bool hk_project_written(const struct hk_project *project)
{
    return project->proof != NULL;
}

/* The entry of a row; only entries of pieces are counted as rows. */
static size_t entry_of(const struct hk_project *project, size_t row)
{
    return project->written_rows[row];
}

size_t hk_written_rows(const struct hk_project *project)
{
    return project->written_row_count;
}

struct hk_written_row hk_written_row(const struct hk_project *project, size_t row, size_t size)
{
    const struct hk_written *w = project->written;
    size_t index = entry_of(project, row);
    const struct hk_entry *entry = &w->entries[index];
    const struct hk_proof_row *proof = &project->proof->rows[index * project->size_count + size];
    const struct hk_written_line *line = &w->works[entry->line];
    return (struct hk_written_row){.file = w->lines.file,
                                   .piece = w->pieces[line->piece].name,
                                   .part = w->parts[line->part_index].name,
                                   .label = entry->label,
                                   .words = entry->text.text,
                                   .line = entry->place.line,
                                   .there = proof->there,
                                   .worked = proof->worked,
                                   .from_stated = proof->from_stated,
                                   .rows = proof->rows,
                                   .stitches = proof->stitches,
                                   .left = proof->left,
                                   .places = proof->places,
                                   .place_count = proof->place_count,
                                   .on_hold = proof->on_hold,
                                   .on_hold_count = proof->on_hold_count,
                                   .stated = proof->stated,
                                   .stated_count = proof->stated_count,
                                   .agrees = proof->agrees,
                                   .readings = proof->readings,
                                   .reading_count = proof->reading_count};
}

const char *hk_written_choice(const struct hk_project *project, size_t i)
{
    const struct hk_proof *proof = project->proof;
    for (unsigned choice = 0; proof && choice < HK_CONVENTIONS; choice++)
        for (unsigned other = 0; other < 2; other++)
            if ((proof->taken[other] & (1u << choice)) && i-- == 0)
                return hk_convention_text((enum hk_convention)choice, other);
    return NULL;
}

const char *hk_written_prose(const struct hk_project *project, size_t i, size_t *line, bool *work)
{
    const struct hk_written *w = project->written;
    if (!project->proof)
        return NULL;
    if (i < w->prose_count) {
        *line = w->prose[i].place.line;
        *work = w->prose[i].work;
        return w->prose[i].text;
    }
    i -= w->prose_count;
    if (i >= project->proof->unread_count)
        return NULL;
    const struct hk_written_definition *definition = &w->definitions[project->proof->unread[i]];
    *line = hk_row_text_place(&definition->steps, 0).line;
    *work = false;
    return definition->text;
}

const struct hk_stitch_total *hk_written_totals(const struct hk_project *project, size_t *count, bool *complete)
{
    *count = project->written_total_count;
    *complete = true;
    for (size_t i = 0; project->proof && i < project->size_count; i++)
        *complete &= !project->proof->incomplete[i];
    return project->written_totals;
}
