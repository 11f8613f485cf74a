/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * See rest.h. The copies of a line are divided where a row of progress.csv begins or ends to include them; of each part
 * the most rows that any row of progress.csv states are worked, and the rest is the whole line without these.
 */
#include "tally/rest.h"

#include "tally/progress.h"

#include <math.h>

/* Rows of progress.csv that include a line: copies first to last, and what they work of it. */
struct done {
    int64_t first, last;
    const struct hk_worked *worked;
};

struct resting {
    const struct hk_tally *tally;
    size_t size, role;
    struct hk_rest *rest;
    struct hk_arena *arena;
};

static int64_t rows_of(const struct hk_worked *worked)
{
    return worked->run_count > 0 ? worked->runs[worked->run_count - 1].last : 0;
}

/* Returns true when the row counts: with a role, when its weight, alone or with later rows, is used and includes the
 * role. */
static bool counts(const struct resting *r, size_t row)
{
    const struct hk_project *project = r->tally->project;
    if (project->progress[row].size != r->size)
        return false;
    if (r->role == HK_REST_ALL)
        return true;
    size_t head = hk_progress_weight_row(project, row);
    return r->tally->progress[head].weighed &&
           hk_of_yarn(project->progress[head].of, r->role, project->candidates[project->roles[r->role].plan].yarn);
}

static size_t list_done(const struct resting *r, size_t line, struct done *list)
{
    const struct hk_project *project = r->tally->project;
    size_t count = 0;
    for (size_t row = 0; row < project->progress_count; row++) {
        const struct hk_progress_work *work = &r->tally->progress[row];
        for (size_t w = 0; w < work->count && counts(r, row); w++)
            if (work->lines[w] == line && work->worked[w].times > 0)
                list[count++] =
                    (struct done){project->progress[row].first, project->progress[row].last, &work->worked[w]};
    }
    return count;
}

/* Returns the count of a kind without those of the part. */
static double without(struct hk_kind kind, const struct hk_use *part)
{
    for (size_t i = 0; part && i < part->kinds.count; i++)
        if (part->kinds.kinds[i].stitch == kind.stitch)
            return fmax(kind.count - part->kinds.kinds[i].count, 0);
    return kind.count;
}

static const struct hk_use *use_of(const struct hk_worked *part, size_t combination)
{
    for (size_t i = 0; i < part->use_count; i++)
        if (part->uses[i].combination == combination)
            return &part->uses[i];
    return NULL;
}

/* Sets one copy of a line without its first rows. Ends of these rows count as cut. */
static bool subtract(const struct resting *r, const struct hk_worked *whole, const struct hk_worked *part,
                     struct hk_worked *rest)
{
    *rest = *whole;
    rest->uses = hk_arena_take(r->arena, whole->use_count, sizeof *rest->uses);
    for (size_t u = 0; rest->uses && u < whole->use_count; u++) {
        const struct hk_use *use = &whole->uses[u], *done = use_of(part, use->combination);
        size_t strands = r->tally->project->combinations[use->combination].strand_count;
        struct hk_use *left = &rest->uses[u];
        *left = *use;
        left->kinds.kinds = hk_arena_take(r->arena, use->kinds.count, sizeof *left->kinds.kinds);
        left->ends = hk_arena_take(r->arena, strands, sizeof *left->ends);
        if (!left->kinds.kinds || !left->ends)
            return false;
        for (size_t i = 0; i < use->kinds.count; i++)
            left->kinds.kinds[i] = (struct hk_kind){use->kinds.kinds[i].stitch, without(use->kinds.kinds[i], done)};
        for (size_t s = 0; s < strands; s++)
            left->ends[s] = fmax(use->ends[s] - (done ? done->ends[s] : 0), 0);
        left->cut_m = fmax(use->cut_m - (done ? done->cut_m : 0), 0);
    }
    return rest->uses;
}

/* Adds copies of which `part` is worked; NULL: nothing. */
static bool add(struct resting *r, size_t line, int64_t first, int64_t copies, const struct hk_worked *part)
{
    const struct hk_worked *whole = &r->tally->lines[r->size * r->tally->project->line_count + line];
    struct hk_rest *rest = r->rest;
    struct hk_worked worked = *whole;
    if (part && part->uses == whole->uses)
        return true; /* all of its rows are worked */
    struct hk_rest_line *lines = hk_arena_grow(r->arena, rest->lines, rest->count, &rest->line_capacity, sizeof *lines);
    struct hk_worked *all = hk_arena_grow(r->arena, rest->worked, rest->count, &rest->worked_capacity, sizeof *all);
    if (!lines || !all || (part && !subtract(r, whole, part, &worked)))
        return false;
    rest->lines = lines;
    rest->worked = all;
    worked.times = copies;
    all[rest->count] = worked;
    lines[rest->count++] = (struct hk_rest_line){line, first, part ? rows_of(part) : 0, rows_of(whole)};
    return true;
}

/* Returns what is worked of a copy: of several rows of progress.csv that which states the most rows; NULL: nothing. */
static const struct hk_worked *done_of(const struct done *list, size_t count, int64_t copy,
                                       const struct hk_worked *whole)
{
    const struct hk_worked *most = NULL;
    for (size_t i = 0; i < count; i++) {
        if (copy < list[i].first || copy > list[i].last)
            continue;
        if (list[i].worked->uses == whole->uses)
            return list[i].worked;
        if (!most || rows_of(list[i].worked) > rows_of(most))
            most = list[i].worked;
    }
    return most;
}

/* Returns the last copy for which the same rows of progress.csv count as for `copy`. */
static int64_t same_until(const struct done *list, size_t count, int64_t copy, int64_t times)
{
    int64_t last = times;
    for (size_t i = 0; i < count; i++) {
        if (list[i].first > copy && list[i].first - 1 < last)
            last = list[i].first - 1;
        if (list[i].last >= copy && list[i].last < last)
            last = list[i].last;
    }
    return last;
}

static bool add_line(struct resting *r, size_t line, struct done *list)
{
    const struct hk_worked *whole = &r->tally->lines[r->size * r->tally->project->line_count + line];
    size_t count = list_done(r, line, list);
    for (int64_t copy = 1; copy <= whole->times;) {
        int64_t last = same_until(list, count, copy, whole->times);
        if (!add(r, line, copy, last - copy + 1, done_of(list, count, copy, whole)))
            return false;
        copy = last + 1;
    }
    return true;
}

bool hk_rest_make(const struct hk_tally *tally, size_t size, size_t role, struct hk_rest *rest, struct hk_arena *arena)
{
    struct resting r = {tally, size, role, rest, arena};
    struct done *list = hk_arena_take(arena, tally->project->progress_count, sizeof *list);
    *rest = (struct hk_rest){0};
    for (size_t line = 0; list && line < tally->project->line_count; line++)
        if (!add_line(&r, line, list))
            return false;
    return list;
}

bool hk_rest_has(const struct hk_rest *rest, size_t line, int64_t copy, int64_t row)
{
    for (size_t i = 0; i < rest->count; i++)
        if (rest->lines[i].line == line && copy >= rest->lines[i].first &&
            copy - rest->lines[i].first < rest->worked[i].times)
            return row == 0 ? rest->lines[i].rows_done == 0 : row > rest->lines[i].rows_done;
    return false;
}
