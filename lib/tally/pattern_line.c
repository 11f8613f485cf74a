/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tally/pattern_line.h"

#include <math.h>
#include <string.h>

#define LONGEST_LOOKS 64 /* the number of rows that a row is compared with */

int64_t hk_pattern_line_rows(const struct hk_project *project, size_t line, size_t size)
{
    const struct hk_proof_line *proof = &project->proof->lines[line * project->size_count + size];
    int64_t rows = 0;
    for (size_t i = 0; i < proof->count; i++)
        rows += proof->works[i].rows;
    return rows;
}

static void kind_add(struct hk_kinds *kinds, size_t stitch, double count)
{
    size_t at = 0;
    while (at < kinds->count && kinds->kinds[at].stitch < stitch)
        at++;
    if (at == kinds->count || kinds->kinds[at].stitch != stitch) {
        memmove(kinds->kinds + at + 1, kinds->kinds + at, (kinds->count - at) * sizeof *kinds->kinds);
        kinds->kinds[at] = (struct hk_kind){.stitch = stitch};
        kinds->count++;
    }
    kinds->kinds[at].count += count;
}

/* Returns the use of a combination, with room for every kind of stitch. NULL when memory runs out. */
static struct hk_use *use_with_room(const struct hk_project *project, struct hk_worked *worked, size_t combination,
                                    struct hk_arena *arena)
{
    struct hk_use *use = hk_worked_use(worked, combination, project, arena);
    if (use && !use->kinds.kinds)
        use->kinds.kinds = hk_arena_take(arena, project->catalogue->stitch_count, sizeof *use->kinds.kinds);
    return use && use->kinds.kinds ? use : NULL;
}

/* Returns true when `b` has at least as many stitches of each kind as `a`. */
static bool kinds_within(const struct hk_kinds *a, const struct hk_kinds *b)
{
    for (size_t i = 0, j = 0; i < a->count; i++) {
        while (j < b->count && b->kinds[j].stitch < a->kinds[i].stitch)
            j++;
        if (j == b->count || b->kinds[j].stitch != a->kinds[i].stitch || b->kinds[j].count < a->kinds[i].count)
            return false;
    }
    return true;
}

/*
 * Keeps a row that may be the longest of its combination. It is compared with the rows kept last, since consecutive
 * rows of a pattern are often equal; rows it is not compared with are kept too.
 */
static bool longest_add(struct hk_use *use, struct hk_kinds row, struct hk_arena *arena)
{
    size_t first = use->longest_count > LONGEST_LOOKS ? use->longest_count - LONGEST_LOOKS : 0, kept = first;
    for (size_t i = first; i < use->longest_count; i++)
        if (kinds_within(&row, &use->longest[i]))
            return true;
    for (size_t i = first; i < use->longest_count; i++)
        if (!kinds_within(&use->longest[i], &row))
            use->longest[kept++] = use->longest[i];
    use->longest_count = kept;
    struct hk_kinds *grown =
        hk_arena_grow(arena, use->longest, use->longest_count, &use->longest_capacity, sizeof *grown);
    struct hk_kind *kinds = hk_arena_take(arena, row.count, sizeof *kinds);
    if (!grown || !kinds)
        return false;
    memcpy(kinds, row.kinds, row.count * sizeof *kinds);
    use->longest = grown;
    grown[use->longest_count++] = (struct hk_kinds){kinds, row.count};
    return true;
}

/* Records the number of strands of each role in a row: the maximum of its combinations. */
static void strands_mark(const struct hk_project *project, size_t combination, int64_t *held)
{
    const struct hk_combination *of = &project->combinations[combination];
    for (size_t i = 0; i < of->strand_count; i++)
        if (of->strands[i].times > held[of->strands[i].role])
            held[of->strands[i].role] = of->strands[i].times;
}

struct adding {
    const struct hk_project *project;
    struct hk_worked *worked;
    struct hk_arena *arena;
    int64_t *before, *now; /* by role */
    struct hk_kind *row;   /* room for one row */
    size_t last;
};

static bool work_add(struct adding *adding, const struct hk_proof_work *work, int64_t rows)
{
    const struct hk_project *project = adding->project;
    size_t roles = project->role_count;
    if (work->cut_m > 0) {
        struct hk_use *use =
            use_with_room(project, adding->worked, hk_held_combination(project, work->cut_held), adding->arena);
        if (!use)
            return false;
        /* It includes the tail that every end has. */
        double cut_m = work->rows > 0 ? work->cut_m * (double)rows : fmax(work->cut_m - project->tail_m, 0);
        use->cut_m += cut_m;
    }
    if (work->stitch_count == 0)
        return true;
    memset(adding->now, 0, roles * sizeof *adding->now);
    for (size_t s = 0; s < work->stitch_count; s++)
        strands_mark(project, hk_held_combination(project, work->stitches[s].held), adding->now);
    for (size_t s = 0; s < work->stitch_count;) {
        size_t held = work->stitches[s].held, combination = hk_held_combination(project, held);
        struct hk_use *use = use_with_room(project, adding->worked, combination, adding->arena);
        struct hk_kinds row = {.kinds = adding->row};
        if (!use)
            return false;
        const struct hk_combination *of = &project->combinations[combination];
        for (size_t i = 0; i < of->strand_count; i++)
            use->ends[i] += HK_ENDS_OF_A_STRAND * hk_strand_new(&of->strands[i], adding->before[of->strands[i].role]);
        for (; s < work->stitch_count && work->stitches[s].held == held; s++) {
            kind_add(&row, work->stitches[s].stitch, (double)work->stitches[s].count);
            kind_add(&use->kinds, work->stitches[s].stitch, (double)work->stitches[s].count * (double)rows);
        }
        strands_mark(project, combination, adding->before);
        if (work->rows > 0 && !longest_add(use, row, adding->arena))
            return false;
        adding->last = combination;
    }
    for (size_t i = 0; i < roles; i++) /* strands that are not cut are not joined again */
        if (!work->carried || adding->now[i] > adding->before[i])
            adding->before[i] = adding->now[i];
    return true;
}

static bool runs_make(const struct hk_proof_line *line, struct hk_worked *worked, int64_t rows, struct hk_arena *arena)
{
    worked->runs = hk_arena_take(arena, line->count < HK_RUNS_MOST ? line->count : HK_RUNS_MOST, sizeof *worked->runs);
    int64_t row = 0;
    for (size_t i = 0; worked->runs && i < line->count && row < rows; i++) {
        const struct hk_proof_work *work = &line->works[i];
        int64_t here = work->rows < rows - row ? work->rows : rows - row;
        if (here == 0)
            continue;
        struct hk_row_run *last = worked->run_count > 0 ? &worked->runs[worked->run_count - 1] : NULL;
        if (last && last->stitches == work->leaves)
            last->last += here;
        else if (worked->run_count < HK_RUNS_MOST)
            worked->runs[worked->run_count++] = (struct hk_row_run){row + 1, row + here, work->leaves, 0};
        row += here;
        worked->leaves = work->leaves;
    }
    return worked->runs != NULL;
}

bool hk_pattern_line_work(const struct hk_project *project, size_t line, size_t size, int64_t rows, size_t before,
                          struct hk_worked *worked, size_t *last, struct hk_arena *arena)
{
    const struct hk_proof_line *proof = &project->proof->lines[line * project->size_count + size];
    int64_t left = rows == HK_NOT_STATED ? INT64_MAX : rows;
    struct adding adding = {.project = project,
                            .worked = worked,
                            .arena = arena,
                            .before = hk_arena_take(arena, project->role_count, sizeof *adding.before),
                            .now = hk_arena_take(arena, project->role_count, sizeof *adding.now),
                            .row = hk_arena_take(arena, project->catalogue->stitch_count, sizeof *adding.row),
                            .last = before == SIZE_MAX ? project->lines[line].yarn.stripes[0].combination : before};
    worked->uses = hk_arena_take(arena, project->written->held_count + 1, sizeof *worked->uses);
    worked->foundation = proof->foundation;
    worked->leaves = proof->foundation;
    if (!adding.before || !adding.now || !adding.row || !worked->uses || !runs_make(proof, worked, left, arena))
        return false;
    if (before != SIZE_MAX)
        strands_mark(project, before, adding.before);
    for (size_t i = 0; i < proof->count && left > 0; i++) {
        int64_t most = proof->works[i].rows, here = most < left ? most : left;
        if (!work_add(&adding, &proof->works[i], most > 0 ? here : 1))
            return false;
        left -= here;
    }
    *last = adding.last;
    return true;
}
