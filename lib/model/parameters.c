/* SPDX-License-Identifier: GPL-3.0-or-later */
/* See parameters.h. Yarn and time differ only in hk_priors_of. */
#include "model/parameters.h"

#include "base/text.h"

#include <gsl/gsl_math.h>

size_t hk_fit_find_like(const struct hk_fit *fit, const struct hk_parameter *like)
{
    for (size_t i = 0; i < fit->count; i++) {
        const struct hk_parameter *p = &fit->parameters[i];
        if (p->kind == like->kind && p->key == like->key && p->folder == like->folder && p->tool_mm == like->tool_mm &&
            p->scale.step_g == like->scale.step_g && p->scale.accuracy_g == like->scale.accuracy_g &&
            !p->name == !like->name && (!like->name || hk_text_same(p->name, like->name)))
            return i;
    }
    return SIZE_MAX;
}

size_t hk_fit_find(const struct hk_fit *fit, enum hk_parameter_kind kind, size_t key, double tool_mm, const char *name)
{
    return hk_fit_find_like(fit, &(struct hk_parameter){.kind = kind, .key = key, .tool_mm = tool_mm, .name = name});
}

struct hk_priors hk_priors_of(const struct hk_spreads *s, enum hk_quantity quantity)
{
    if (quantity == HK_QUANTITY_YARN)
        return (struct hk_priors){0, s->tension, s->stitch, s->tool, s->yarn, s->making, s->piece, s->garment};
    return (struct hk_priors){log(s->time_loop_s), s->time_tension, s->time_stitch, s->time_tool, s->time_yarn, s->time_making,
                           s->time_piece, 0};
}

/* Returns the index of the parameter, entered if it is new; SIZE_MAX when out of memory. */
size_t hk_enter(struct hk_maker *m, struct hk_parameter parameter)
{
    struct hk_fit *fit = m->fit;
    size_t i = hk_fit_find_like(fit, &parameter);
    if (i == SIZE_MAX && fit->count == HK_PARAMETERS_MOST)
        i = fit->count - 1; /* any index: few_enough() ends the fit */
    if (i == SIZE_MAX) {
        struct hk_parameter *all =
            hk_arena_grow(&fit->arena, fit->parameters, fit->count, &m->parameter_capacity, sizeof *all);
        if (!all)
            return SIZE_MAX;
        fit->parameters = all;
        i = fit->count++;
        all[i] = parameter;
        all[i].value = parameter.prior;
    }
    if (!m->line) {
        fit->parameters[i].touched = true;
        fit->parameters[i].own |= !m->testers;
    } else if (!fit->parameters[i].line) {
        fit->parameters[i].line = m->line;
    }
    return i;
}

const struct hk_stitch *hk_fit_stitch(const struct hk_fit *fit, size_t stitch)
{
    return &fit->tally->project->catalogue->stitches[stitch];
}

/* Returns false for a stitch that takes no yarn, such as a skipped one. */
bool hk_is_worked(const struct hk_stitch *stitch, double count)
{
    return count > 0 && (stitch->loops > 0 || stitch->wraps > 0);
}

/* Returns false when none of the kinds takes yarn. */
static bool enter_kinds(struct hk_maker *m, struct hk_kinds kinds, bool swatch)
{
    struct hk_fit *fit = m->fit;
    const struct hk_spreads *spreads = &m->project->spreads;
    const struct hk_priors *priors = &m->priors;
    bool any = false;
    for (size_t i = 0; i < kinds.count; i++) {
        size_t k = kinds.kinds[i].stitch;
        const struct hk_stitch *stitch = hk_fit_stitch(fit, k);
        if (!hk_is_worked(stitch, kinds.kinds[i].count))
            continue;
        any = true;
        fit->stitches[k] = hk_enter(m, (struct hk_parameter){.kind = HK_PARAM_STITCH, .key = k, .sd = priors->stitch});
        fit->tensions[stitch->family] = hk_enter(m, (struct hk_parameter){
            .kind = HK_PARAM_TENSION, .key = (size_t)stitch->family, .prior = priors->ln_loop, .sd = priors->tension});
        if (!swatch && fit->quantity == HK_QUANTITY_YARN)
            fit->garments[stitch->family] = hk_enter(m, (struct hk_parameter){
                .kind = HK_PARAM_GARMENT, .key = (size_t)stitch->family, .sd = priors->garment});
        if (stitch->wraps > 0 && fit->quantity == HK_QUANTITY_YARN)
            fit->wrap = hk_enter(m, (struct hk_parameter){
                .kind = HK_PARAM_WRAP, .prior = log(spreads->wrap_ratio), .sd = spreads->wrap});
    }
    return any;
}

/* Returns the number of strands of the yarn held together. *after: the next name in order after `name` (NULL: none). */
static int64_t strands_of(const struct hk_project *project, const struct hk_combination *combination, const char *name,
                          const char **after)
{
    int64_t times = 0;
    *after = NULL;
    for (size_t s = 0; s < combination->strand_count; s++) {
        const char *other = project->yarns[combination->strands[s].yarn].name;
        int order = name ? hk_text_compare(other, name) : 1;
        if (order == 0)
            times += combination->strands[s].times;
        else if (order > 0 && (!*after || hk_text_compare(other, *after) < 0))
            *after = other;
    }
    return times;
}

const char *hk_blend_name(struct hk_arena *arena, const struct hk_project *project,
                          const struct hk_combination *combination)
{
    const char *blend = NULL, *next = NULL;
    strands_of(project, combination, NULL, &next);
    while (next) {
        const char *name = next;
        int64_t times = strands_of(project, combination, name, &next);
        const char *before = blend ? blend : "", *plus = blend ? " + " : "";
        blend = times > 1 ? hk_arena_print(arena, "%s%s%s x%lld", before, plus, name, (long long)times)
                          : hk_arena_print(arena, "%s%s%s", before, plus, name);
        if (!blend)
            return NULL;
    }
    return blend;
}

/* Enters a combination once, since names take memory. */
static void enter_blend(struct hk_maker *m, size_t combination)
{
    struct hk_folder *folder = &m->fit->folders[m->folder];
    const struct hk_project *project = folder->tally->project;
    struct hk_parameter parameter = {.kind = HK_PARAM_BLEND, .sd = m->priors.yarn};
    size_t known = folder->blends[combination];
    parameter.name = known != SIZE_MAX ? m->fit->parameters[known].name
                                       : hk_blend_name(&m->fit->arena, project, &project->combinations[combination]);
    if (parameter.name)
        folder->blends[combination] = hk_enter(m, parameter);
}

double hk_label_g_m(const struct hk_yarn *yarn)
{
    return yarn->put_up_g / yarn->length_m;
}

void hk_enter_ball(struct hk_maker *m, size_t yarn)
{
    struct hk_folder *folder = &m->fit->folders[m->folder];
    const struct hk_yarn *of = &folder->tally->project->yarns[yarn];
    folder->balls[yarn] = hk_enter(m, (struct hk_parameter){
        .kind = HK_PARAM_BALL, .name = of->name, .prior = of->ln_weighs, .sd = of->ln_weighs_sd});
}

void hk_enter_grist(struct hk_maker *m, size_t yarn)
{
    struct hk_folder *folder = &m->fit->folders[m->folder];
    const struct hk_yarn *of = &folder->tally->project->yarns[yarn];
    folder->grists[yarn] = hk_enter(m, (struct hk_parameter){.kind = HK_PARAM_GRIST,
                                                             .name = of->name,
                                                             .prior = log(hk_label_g_m(of)),
                                                             .sd = m->project->spreads.grist});
}

/* Enters the grist and the ball parameter of each yarn in a combination. */
static void enter_masses(struct hk_maker *m, size_t combination, struct hk_of_yarn of)
{
    struct hk_folder *folder = &m->fit->folders[m->folder];
    const struct hk_combination *c = &folder->tally->project->combinations[combination];
    for (size_t s = 0; s < c->strand_count; s++) {
        if (!hk_of_yarn(of, c->strands[s].role, c->strands[s].yarn))
            continue;
        hk_enter_grist(m, c->strands[s].yarn);
        hk_enter_ball(m, c->strands[s].yarn);
    }
}

/* Returns the number of strands of a combination that a weighing includes, counting each copy. */
int64_t hk_strands_weighed(const struct hk_combination *c, struct hk_of_yarn of)
{
    int64_t strands = 0;
    for (size_t s = 0; s < c->strand_count; s++)
        strands += hk_of_yarn(of, c->strands[s].role, c->strands[s].yarn) ? c->strands[s].times : 0;
    return strands;
}

/* Returns false when none of the work takes yarn. */
bool hk_enter_worked(struct hk_maker *m, const struct hk_worked *worked, struct hk_entering entering)
{
    const struct hk_project *project = m->fit->folders[m->folder].tally->project;
    bool any = false;
    for (size_t u = 0; u < worked->use_count; u++) {
        const struct hk_use *use = &worked->uses[u];
        if (hk_strands_weighed(&project->combinations[use->combination], entering.of) == 0)
            continue;
        if (enter_kinds(m, use->kinds, entering.swatch)) {
            hk_enter(m, (struct hk_parameter){
                .kind = HK_PARAM_TOOL, .tool_mm = worked->tool_mm, .sd = m->priors.tool});
            enter_blend(m, use->combination);
            any = true;
        }
        if (entering.weighed)
            enter_masses(m, use->combination, entering.of);
    }
    return any;
}

/* Enters the design line by line, so that each parameter knows its first line. */
void hk_enter_design(struct hk_maker *m)
{
    const struct hk_project *project = m->project;
    for (size_t l = 0; l < project->line_count; l++) {
        m->line = &project->lines[l];
        for (size_t size = 0; size < project->size_count; size++) {
            const struct hk_worked *worked = &m->fit->tally->lines[size * project->line_count + l];
            if (worked->times > 0)
                hk_enter_worked(m, worked, (struct hk_entering){hk_any_yarn, false, m->fit->quantity == HK_QUANTITY_YARN});
        }
    }
    m->line = NULL;
}
