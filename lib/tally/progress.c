/* SPDX-License-Identifier: GPL-3.0-or-later */
/* See progress.h. tally_make.c counts the lines. */
#include "tally/progress.h"

#include "base/diags.h"

#include <inttypes.h>
#include <string.h>

int64_t hk_progress_rows(const struct hk_progress *progress)
{
    return progress->rows == HK_NOT_STATED ? HK_COUNT_MOST : progress->rows;
}

int64_t hk_progress_copies(const struct hk_progress *progress, int64_t times)
{
    int64_t last = progress->last < times ? progress->last : times;
    return last >= progress->first ? last - progress->first + 1 : 0;
}

size_t hk_progress_weight_row(const struct hk_project *project, size_t row)
{
    for (size_t i = row + 1; i < project->progress_count; i++)
        if (project->progress[i].with >= i - row)
            return i;
    return row;
}

bool hk_progress_fits(const struct hk_progress *progress, const struct hk_progress_work *done, struct hk_diags *diags)
{
    int64_t rows = progress->rows - done->rows_left;
    if (progress->rows == HK_NOT_STATED || done->rows_left == 0)
        return true;
    hk_diags_add(diags, HK_CODE_PROGRESS, hk_cell_place(progress->rows_cell, 0),
                 "%" PRId64 " rows, and %s has %" PRId64 " in pieces.csv", progress->rows, progress->own_title, rows);
    hk_diags_hint(diags, "state no rows where all of them are worked");
    return false;
}

/* ---- Two rows of the same work --------------------------------------------------------------------------------- */

/* Returns true when the work of a line has a strand that both weighings include. */
static bool shares_yarn(const struct hk_project *project, const struct hk_worked *worked, struct hk_of_yarn a,
                        struct hk_of_yarn b)
{
    for (size_t u = 0; u < worked->use_count; u++) {
        const struct hk_combination *c = &project->combinations[worked->uses[u].combination];
        for (size_t s = 0; s < c->strand_count; s++)
            if (hk_of_yarn(a, c->strands[s].role, c->strands[s].yarn) &&
                hk_of_yarn(b, c->strands[s].role, c->strands[s].yarn))
                return true;
    }
    return false;
}

enum reading { WEIGHT, TIME };

/* Returns true when two rows share work. The lines of both ascend. */
static bool overlap(const struct hk_tally *tally, size_t a, size_t b, enum reading reading)
{
    const struct hk_progress *x = &tally->project->progress[a], *y = &tally->project->progress[b];
    const struct hk_progress_work *of_x = &tally->progress[a], *of_y = &tally->progress[b];
    if (x->size != y->size || x->first > y->last || y->first > x->last)
        return false;
    for (size_t i = 0, k = 0; i < of_x->count && k < of_y->count;) {
        if (of_x->lines[i] == of_y->lines[k] &&
            (reading == TIME || shares_yarn(tally->project, &of_x->worked[i], x->of, y->of)))
            return true;
        if (of_x->lines[i] <= of_y->lines[k])
            i++;
        else
            k++;
    }
    return false;
}

/* The same for everything on the scale with each of them. */
static bool weighed_together(const struct hk_tally *tally, size_t a, size_t b, enum reading reading)
{
    const struct hk_progress *rows = tally->project->progress;
    for (size_t i = a - rows[a].with; i <= a; i++)
        for (size_t k = b - rows[b].with; k <= b; k++)
            if (overlap(tally, i, k, reading))
                return true;
    return false;
}

static bool *standing(struct hk_tally *tally, size_t i, enum reading reading)
{
    return reading == WEIGHT ? &tally->progress[i].weighed : &tally->progress[i].timed;
}

static void report_overlap(const struct hk_tally *tally, size_t earlier, size_t later, enum reading reading,
                           struct hk_diags *diags)
{
    const struct hk_progress *of = &tally->project->progress[earlier], *by = &tally->project->progress[later];
    struct hk_cell cell = reading == WEIGHT ? of->weight_cell : of->minutes_cell;
    hk_diags_add(diags, HK_CODE_ASSUMPTION, hk_cell_place(cell, 0),
                 "the %s of %s is left out: %s in line %zu is of the same %s", reading == WEIGHT ? "weight" : "time",
                 of->title, by->title, hk_cell_place(by->cell, 0).line, reading == WEIGHT ? "yarn" : "work");
    hk_diags_hint(diags, "the later row counts; take it out if this row says more");
}

/* From the last row to the first: a row is used unless a later used row includes some of its work. */
static void settle(struct hk_tally *tally, enum reading reading, struct hk_diags *diags)
{
    for (size_t i = tally->project->progress_count; i-- > 0;) {
        const struct hk_progress *progress = &tally->project->progress[i];
        bool stands = reading == WEIGHT ? progress->mass_g > 0 : progress->minutes > 0;
        for (size_t k = i + 1; k < tally->project->progress_count && stands; k++) {
            if (!*standing(tally, k, reading) || !weighed_together(tally, i, k, reading))
                continue;
            stands = false;
            report_overlap(tally, i, k, reading, diags);
        }
        *standing(tally, i, reading) = stands;
    }
}

void hk_progress_settle(struct hk_tally *tally, struct hk_diags *diags)
{
    settle(tally, WEIGHT, diags);
    settle(tally, TIME, diags);
}

/* ---- Yarn used ---------------------------------------------------------------------------------------------- */

static const char *yarn_title(const struct hk_project *project, struct hk_of_yarn of)
{
    if (of.role != SIZE_MAX)
        return project->roles[of.role].name;
    return of.yarn != SIZE_MAX ? project->yarns[of.yarn].name : "";
}

struct hk_need_used *hk_progress_used(const struct hk_tally *tally, struct hk_arena *arena, size_t *count)
{
    const struct hk_project *project = tally->project;
    struct hk_need_used *used = hk_arena_take(arena, project->progress_count, sizeof *used);
    *count = 0;
    for (size_t i = 0; used && i < project->progress_count; i++) {
        const struct hk_progress *progress = &project->progress[i];
        const char *of = yarn_title(project, progress->of);
        size_t at = 0;
        if (!tally->progress[i].weighed)
            continue;
        while (at < *count && (used[at].size != progress->size || strcmp(used[at].of, of) != 0))
            at++;
        if (at == *count)
            used[(*count)++] = (struct hk_need_used){progress->size, project->sizes[progress->size], of, 0};
        used[at].mass_g += progress->mass_g;
    }
    return used;
}
