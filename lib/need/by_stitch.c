/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "need/by_stitch.h"

#include "catalogue/catalogue.h"

#include <stdlib.h>

double hk_role_strands(const struct hk_combination *combination, size_t role, const double *ends, double *ends_sum)
{
    double strands = 0;
    *ends_sum = 0;
    for (size_t s = 0; s < combination->strand_count; s++) {
        if (combination->strands[s].role != role)
            continue;
        strands += (double)combination->strands[s].times;
        *ends_sum += (double)combination->strands[s].times * ends[s];
    }
    return strands;
}

struct hk_asked_of hk_of_role_use(const void *context, const struct hk_use *use)
{
    const struct hk_of_role *of = context;
    double ends, strands = hk_role_strands(&of->project->combinations[use->combination], of->role, use->ends, &ends);
    return (struct hk_asked_of){strands, ends * of->project->tail_m + strands * use->cut_m};
}

/* The stitches of one role in one size; `by_stitch` is by index of the catalogue, and its last entry is no stitch. */
struct listing {
    const struct hk_fit *fit;
    const struct hk_project *project;
    struct hk_need_stitch *by_stitch;
    size_t none;
};

static void add_use(struct listing *l, const struct hk_worked *line, const struct hk_use *use, size_t role)
{
    const struct hk_of_role context = {l->project, role};
    const struct hk_asked_of of = hk_of_role_use(&context, use);
    const struct hk_ground ground = {l->fit->tally, use->combination, line->tool_mm, false};
    const double copies = (double)line->times;
    l->by_stitch[l->none].length_m += copies * of.loose;
    if (!(of.strands > 0))
        return;
    for (size_t k = 0; k < use->kinds.count; k++) {
        struct hk_kind kind = use->kinds.kinds[k];
        struct hk_need_stitch *entry = &l->by_stitch[kind.stitch];
        entry->count += copies * kind.count;
        entry->length_m +=
            copies * of.strands * hk_fit_worked(l->fit, NULL, ground, (struct hk_kinds){&kind, 1}, 0, NULL);
    }
}

static int by_length(const void *a, const void *b)
{
    const struct hk_need_stitch *x = a, *y = b;
    if (!*x->stitch != !*y->stitch)
        return *x->stitch ? -1 : 1;
    return (x->length_m < y->length_m) - (x->length_m > y->length_m);
}

/* Moves the entries in use to the front, with their names, masses and shares. Returns their number. */
static size_t finish(struct listing *l, const struct hk_need_role *role)
{
    size_t count = 0;
    for (size_t i = 0; i <= l->none; i++) {
        struct hk_need_stitch entry = l->by_stitch[i];
        if (!(entry.length_m > 0))
            continue;
        entry.size = role->size;
        entry.role = role->role;
        entry.size_name = role->size_name;
        entry.role_name = role->role_name;
        entry.stitch = i == l->none ? "" : hk_stitch_word(&l->project->catalogue->stitches[i], l->project->terms);
        entry.share = entry.length_m / role->length_m.likely;
        entry.mass_g = entry.share * role->mass_g.likely;
        l->by_stitch[count++] = entry;
    }
    qsort(l->by_stitch, count, sizeof *l->by_stitch, by_length);
    return count;
}

const struct hk_need_stitch *hk_need_by_stitch(struct hk_needed *needed, const struct hk_need_role *roles,
                                               size_t role_count, size_t *count)
{
    const struct hk_tally *tally = needed->fit->tally;
    const size_t none = tally->project->catalogue->stitch_count, lines = tally->project->line_count;
    struct hk_need_stitch *all = NULL;
    size_t capacity = 0;
    *count = 0;
    for (size_t r = 0; r < role_count; r++) {
        struct listing l = {needed->fit, tally->project, calloc(none + 1, sizeof *l.by_stitch), none};
        needed->arena.out_of_memory |= !l.by_stitch;
        for (size_t line = 0; l.by_stitch && line < lines; line++) {
            const struct hk_worked *worked = &tally->lines[roles[r].size * lines + line];
            for (size_t u = 0; u < worked->use_count && worked->times > 0; u++)
                add_use(&l, worked, &worked->uses[u], roles[r].role);
        }
        const size_t found = l.by_stitch ? finish(&l, &roles[r]) : 0;
        for (size_t i = 0; i < found; i++) {
            struct hk_need_stitch *grown = hk_arena_grow(&needed->arena, all, *count, &capacity, sizeof *grown);
            if (!grown)
                break;
            all = grown;
            all[(*count)++] = l.by_stitch[i];
        }
        free(l.by_stitch);
    }
    return all;
}
