/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Gathers the role's work by tool and combination: a few sums, from which each of thousands of candidates is computed
 * without the lines of the design.
 */
#include "compare/compare.h"

#include <gsl/gsl_math.h>
#include <string.h>

const struct hk_combination *hk_group_combination(const struct hk_role_work *work, const struct hk_group *group)
{
    return &work->project->combinations[group->combination];
}

double hk_group_ratio(const struct hk_group *group, double diameter_mm2, double tool_mm)
{
    double d = sqrt(group->others_mm2 + group->times * diameter_mm2);
    return (tool_mm + d) / (group->tool_mm + group->old_mm);
}

static struct hk_group *group_of(struct hk_role_work *work, const struct hk_worked *worked, size_t combination,
                                 bool needles)
{
    for (size_t i = 0; i < work->group_count; i++) {
        if (work->groups[i].tool_mm == worked->tool_mm && work->groups[i].combination == combination)
            return &work->groups[i];
    }
    const struct hk_combination *of = &work->project->combinations[combination];
    struct hk_group *group = &work->groups[work->group_count++];
    *group = (struct hk_group){.tool_mm = worked->tool_mm, .old_mm = of->diameter_mm, .combination = combination,
                               .needles = needles, .blend = work->fit->folders[0].blends[combination]};
    group->gradient = hk_arena_take(work->arena, work->fit->count, sizeof *group->gradient);
    for (size_t s = 0; s < of->strand_count; s++) {
        double d = work->project->yarns[of->strands[s].yarn].diameter_mm, times = (double)of->strands[s].times;
        if (of->strands[s].role == work->role)
            group->times += times;
        else
            group->others_mm2 += times * d * d;
    }
    return group;
}

static bool has_role(const struct hk_combination *combination, size_t role)
{
    for (size_t s = 0; s < combination->strand_count; s++) {
        if (combination->strands[s].role == role)
            return true;
    }
    return false;
}

/* Returns exp(-v), which removes the planned yarn's departure. */
static double without_blend(const struct hk_role_work *work, size_t blend)
{
    return blend == SIZE_MAX ? 1 : exp(-work->fit->parameters[blend].value);
}

static double strand_m(const struct hk_role_work *work, const struct hk_worked *worked, size_t combination,
                       struct hk_kinds kinds, double weight, double *gradient)
{
    struct hk_ground ground = {work->fit->tally, combination, worked->tool_mm, false};
    return hk_fit_length_m(work->fit, NULL, ground, kinds, weight, gradient);
}

/* Computes the mass of strands of other roles in a use: worked, and in ends and cut lengths. */
static void weigh_others(const struct hk_role_work *work, const struct hk_use *use, double copies, double worked_m,
                         double *worked_g, double *plain_g)
{
    const struct hk_combination *of = &work->project->combinations[use->combination];
    for (size_t s = 0; s < of->strand_count; s++) {
        if (of->strands[s].role == work->role)
            continue;
        double g_m = copies * (double)of->strands[s].times * hk_fit_grist_g_m(work->fit, of->strands[s].yarn);
        *worked_g += g_m * worked_m;
        *plain_g += g_m * (use->ends[s] * work->project->tail_m + use->cut_m);
    }
}

static void gather_use(struct hk_role_work *work, const struct hk_worked *worked, const struct hk_use *use,
                       bool needles, double *by_group)
{
    const struct hk_combination *of = &work->project->combinations[use->combination];
    double copies = (double)worked->times, plain_g = 0, worked_g = 0;
    if (!has_role(of, work->role)) {
        double worked_m = strand_m(work, worked, use->combination, use->kinds, 0, NULL);
        weigh_others(work, use, copies, worked_m, &work->other_g, &work->other_g);
        return;
    }
    struct hk_group *group = group_of(work, worked, use->combination, needles);
    if (!group->gradient)
        return;
    double bare = without_blend(work, group->blend), strands = copies * group->times;
    double one_m = bare * strand_m(work, worked, use->combination, use->kinds, bare * strands, group->gradient);
    group->worked_m += strands * one_m;
    by_group[group - work->groups] += strands * one_m;
    if (group->blend != SIZE_MAX)
        group->gradient[group->blend] = 0;
    weigh_others(work, use, copies, one_m, &worked_g, &plain_g);
    group->other_g += worked_g;
    work->other_g += plain_g;
    for (size_t s = 0; s < of->strand_count; s++) {
        double plain_m = use->ends[s] * work->project->tail_m + use->cut_m;
        if (of->strands[s].role == work->role)
            work->plain_m += copies * (double)of->strands[s].times * plain_m;
    }
    for (size_t i = 0; i < use->longest_count; i++)
        group->longest_m =
            fmax(group->longest_m, bare * strand_m(work, worked, use->combination, use->longest[i], 0, NULL));
}

/* Adds a line's W_jk W_jl / copies. */
static void add_pieces(struct hk_role_work *work, const double *by_group, size_t most, double copies)
{
    for (size_t k = 0; k < work->group_count; k++)
        for (size_t l = 0; l < work->group_count; l++)
            work->pieces[k * most + l] += by_group[k] * by_group[l] / copies;
}

/* Returns the number of groups of the role's uses, in order of first use; at most HK_GROUPS_MOST + 1. */
static size_t count_groups(const struct hk_role_work *work, struct hk_group *known)
{
    size_t lines = work->project->line_count, count = 0;
    for (size_t line = 0; line < lines; line++) {
        const struct hk_worked *worked = &work->fit->tally->lines[work->size * lines + line];
        for (size_t u = 0; u < worked->use_count && worked->times > 0; u++) {
            size_t i = 0, combination = worked->uses[u].combination;
            if (!has_role(&work->project->combinations[combination], work->role))
                continue;
            while (i < count && (known[i].tool_mm != worked->tool_mm || known[i].combination != combination))
                i++;
            if (i < count)
                continue;
            if (count == HK_GROUPS_MOST)
                return count + 1;
            known[count++] = (struct hk_group){.tool_mm = worked->tool_mm, .combination = combination};
        }
    }
    return count;
}

bool hk_role_work_gather(struct hk_role_work *work)
{
    work->groups = hk_arena_take(work->arena, HK_GROUPS_MOST, sizeof *work->groups);
    if (!work->groups)
        return false;
    size_t most = count_groups(work, work->groups);
    work->too_many = most > HK_GROUPS_MOST;
    if (work->too_many)
        return false;
    double *by_group = hk_arena_take(work->arena, most, sizeof *by_group);
    work->pieces = hk_arena_take(work->arena, most * most, sizeof *work->pieces);
    if (!by_group || !work->pieces)
        return false;
    for (size_t line = 0; line < work->project->line_count; line++) {
        const struct hk_worked *worked = &work->fit->tally->lines[work->size * work->project->line_count + line];
        memset(by_group, 0, most * sizeof *by_group);
        for (size_t u = 0; u < worked->use_count && worked->times > 0; u++)
            gather_use(work, worked, &worked->uses[u], work->project->lines[line].fabric->knit, by_group);
        if (worked->times > 0)
            add_pieces(work, by_group, most, (double)worked->times);
    }
    for (size_t k = 0; k < work->group_count; k++) {
        if (work->groups[k].worked_m > work->groups[work->main].worked_m)
            work->main = k;
    }
    return !work->arena->out_of_memory;
}
