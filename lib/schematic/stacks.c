/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "schematic/stacks.h"

#include "schematic/gauge.h"

#define BAND_MOST 10 /* stitches a row */

/* The beginning of a line of pattern.txt. */
static enum hk_begin_kind begin_of(const struct hk_project *project, size_t line)
{
    const struct hk_entry *entry = &project->written->entries[project->written->works[line].first];
    return entry->kind == HK_ENTRY_BEGIN ? entry->begin.kind : HK_BEGIN_NOTHING;
}

/* Returns true for a line that begins on stitches that other work has left, and on no row ends. */
static bool on_stitches(const struct hk_project *project, size_t line)
{
    const struct hk_line *of = &project->lines[line];
    if (of->written) {
        enum hk_begin_kind begin = begin_of(project, line);
        return begin == HK_BEGIN_HELD || begin == HK_BEGIN_LEFT || begin == HK_BEGIN_ONLY;
    }
    bool stitches = false, other = false;
    for (size_t i = 0; i < of->on.count; i++) {
        enum hk_on_kind kind = of->on.parts[i].kind;
        stitches |= kind == HK_ON_STITCHES || kind == HK_ON_REST;
        other |= kind == HK_ON_ROWS || kind == HK_ON_FOUNDATION;
    }
    return stitches && !other;
}

bool hk_stack_band(const struct hk_tally *tally, size_t line)
{
    const struct hk_project *project = tally->project;
    if (project->lines[line].start != HK_START_EDGE || on_stitches(project, line))
        return false;
    for (size_t size = 0; size < project->size_count; size++) {
        const struct hk_worked *worked = &tally->lines[size * project->line_count + line];
        if (worked->times > 0 && worked->run_count > 0 &&
            worked->runs[worked->run_count - 1].last >= worked->runs[0].stitches / BAND_MOST)
            return false;
    }
    return true;
}

/* Returns true for a line of pattern.txt that is worked in slip stitches alone on other work, and for one of tails. */
static bool written_seam(const struct hk_project *project, size_t line)
{
    const size_t slip = hk_catalogue_stitch(project->catalogue, "sl st");
    for (size_t size = 0; size < project->size_count; size++) {
        const struct hk_proof_line *proof = &project->proof->lines[line * project->size_count + size];
        for (size_t i = 0; i < proof->count; i++)
            for (size_t s = 0; s < proof->works[i].stitch_count; s++)
                if (proof->works[i].stitches[s].stitch != slip)
                    return false;
    }
    return project->lines[line].start != HK_START_CHAIN && project->lines[line].start != HK_START_RING;
}

/* Returns true for seams, fringes and the like: cut lengths, or one row on an edge that neither turns nor closes. */
static bool no_fabric(const struct hk_project *project, const struct hk_line *line)
{
    bool cut = true, one_row = line->rows.given;
    for (size_t r = 0; r < line->fabric->setup_count + line->fabric->cycle_count; r++)
        cut &= hk_row_without_stitches(&line->fabric->rows[r]);
    for (size_t size = 0; one_row && size < project->size_count; size++)
        one_row = line->rows.by_size[size].kind != HK_AMOUNT_LENGTH && line->rows.by_size[size].count <= 1;
    return cut || (line->start == HK_START_EDGE && one_row && hk_fabric_way(line->fabric) == HK_WAY_NOT_STATED);
}

/*
 * Returns true when the line begins an outline: a band only as a piece of its own; a line that continues another, if
 * only one of them has a gauge.
 */
static bool begins(const struct hk_tally *tally, size_t line)
{
    const struct hk_line *of = &tally->project->lines[line];
    if (of->start == HK_START_CONTINUE)
        return hk_gauge_drawable(tally->project, line) != hk_gauge_drawable(tally->project, of->before);
    return of->first || !hk_stack_band(tally, line);
}

bool hk_stacks_make(const struct hk_tally *tally, struct hk_stacks *stacks, struct hk_arena *arena)
{
    const struct hk_project *project = tally->project;
    size_t lines = project->line_count;
    size_t *stack_of = hk_arena_take(arena, lines, sizeof *stack_of); /* [line]: 1 + its stack; 0: none */
    *stacks = (struct hk_stacks){.stacks = hk_arena_take(arena, lines, sizeof *stacks->stacks)};
    if (!stack_of || !stacks->stacks)
        return false;
    for (size_t line = 0; line < lines; line++) {
        const struct hk_line *of = &project->lines[line];
        if (of->written ? written_seam(project, line) : no_fabric(project, of))
            continue;
        if (begins(tally, line))
            stack_of[line] = ++stacks->count;
        else if (of->start == HK_START_CONTINUE)
            stack_of[line] = stack_of[of->before];
        if (stack_of[line] > 0)
            stacks->stacks[stack_of[line] - 1].count++;
    }
    for (size_t i = 0; i < stacks->count; i++) {
        struct hk_stack *stack = &stacks->stacks[i];
        stack->lines = hk_arena_take(arena, stack->count, sizeof *stack->lines);
        if (!stack->lines)
            return false;
        stack->count = 0;
    }
    for (size_t line = 0; line < lines; line++)
        if (stack_of[line] > 0) {
            struct hk_stack *stack = &stacks->stacks[stack_of[line] - 1];
            stack->lines[stack->count++] = line;
        }
    for (size_t i = 0; i < stacks->count; i++) {
        stacks->stacks[i].only = true;
        for (size_t j = 0; j < stacks->count; j++)
            stacks->stacks[i].only &= j == i || project->lines[stacks->stacks[j].lines[0]].piece !=
                                                    project->lines[stacks->stacks[i].lines[0]].piece;
    }
    return true;
}
