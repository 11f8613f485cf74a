/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Compares other yarns for a role. Nothing is fitted again: a candidate changes only the diameter, the grist and the
 * yarn's departure v. The role's work is gathered once by tool and combination k (where the candidate may be one of
 * several strands); worked length and its gradient scale by the loop rule:
 *
 *     s_k = (h_k + d'_k) / (h_k + d_k) * exp(v')     d'_k^2 = sum over the other strands d^2 + times * d_candidate^2
 *     W'  = sum_k s_k W_k        T' = W' + plain     W_k: at the optimum, without v
 *
 *     var ln T' = h'^T C h' + sum_b (share of blend b)^2 yarn^2 + (W'/T')^2 making^2
 *                 + piece^2 / T'^2 sum_kl s_k s_l P_kl       P_kl = sum over lines j of W_jk W_jl / copies_j
 *
 * v' and the grist are from the fit if it has the yarn; else they are 0 and the label's, with the uncertainty of the
 * spreads. For the planned yarn the result equals hk_need_predict (tests/test_compare.c). Two yarns held together
 * replace one strand by one strand of each: d_candidate^2 = d_1^2 + d_2^2, with the length T' of each; a yarn held
 * together with itself has 2 T'.
 */
#include "compare/compare.h"

#include "base/diags.h"
#include "base/text.h"

#include <stdlib.h>

struct compared {
    struct hk_compare face;
    struct hk_arena arena;
};

/* ---- Order --------------------------------------------------------------------------------------------------------- */

static int whole_order(int64_t a, int64_t b)
{
    return (a > b) - (a < b);
}

static int real_order(double a, double b)
{
    return (a > b) - (a < b);
}

static int fits_order(const struct hk_compare_row *a, const struct hk_compare_row *b)
{
    return (a->verdict == HK_VERDICT_DIFFERS) - (b->verdict == HK_VERDICT_DIFFERS);
}

static int cost_order(const void *x, const void *y)
{
    const struct hk_compare_row *a = x, *b = y;
    int order = fits_order(a, b);
    order = order ? order : (a->cost_minor < 0) - (b->cost_minor < 0);
    order = order ? order : whole_order(a->cost_minor, b->cost_minor);
    return order ? order : whole_order((int64_t)a->listed, (int64_t)b->listed);
}

static int length_order(const void *x, const void *y)
{
    const struct hk_compare_row *a = x, *b = y;
    int order = fits_order(a, b);
    order = order ? order : real_order(a->length_m.likely, b->length_m.likely);
    return order ? order : whole_order((int64_t)a->listed, (int64_t)b->listed);
}

static int mass_order(const void *x, const void *y)
{
    const struct hk_compare_row *a = x, *b = y;
    int order = fits_order(a, b);
    order = order ? order : real_order(a->mass_g, b->mass_g);
    return order ? order : whole_order((int64_t)a->listed, (int64_t)b->listed);
}

static int balls_order(const void *x, const void *y)
{
    const struct hk_compare_row *a = x, *b = y;
    int order = fits_order(a, b);
    order = order ? order : whole_order(a->balls, b->balls);
    return order ? order : whole_order((int64_t)a->listed, (int64_t)b->listed);
}

static void sort_rows(struct hk_comparing *c, enum hk_compare_order order)
{
    static int (*const orders[])(const void *, const void *) = {[HK_COMPARE_ORDER_COST] = cost_order,
                                                                [HK_COMPARE_ORDER_LENGTH] = length_order,
                                                                [HK_COMPARE_ORDER_MASS] = mass_order,
                                                                [HK_COMPARE_ORDER_BALLS] = balls_order};
    if (c->row_count)
        qsort(c->rows, c->row_count, sizeof *c->rows, orders[order]);
}

struct hk_compare_options hk_compare_defaults(void)
{
    return (struct hk_compare_options){.role = NULL, .list = NULL, .order = HK_COMPARE_ORDER_COST, .held_together = false};
}

static size_t candidates_of(const struct hk_project *project, size_t role)
{
    size_t count = 0;
    for (size_t i = 0; i < project->candidate_count; i++)
        count += project->candidates[i].role == role;
    return count;
}

static const char *role_name(const void *context, size_t i)
{
    return ((const struct hk_project *)context)->roles[i].name;
}

/* Returns the role asked for; SIZE_MAX with a finding. */
static size_t role_of(const struct hk_project *project, const struct hk_compare_options *options, struct hk_diags *diags)
{
    for (size_t i = 0; i < project->role_count; i++) {
        if (options->role ? hk_text_same(project->roles[i].name, options->role)
                          : options->list || candidates_of(project, i) > 1)
            return i;
    }
    if (!options->role)
        return 0;
    struct hk_place file = hk_table_place(project->roles[0].cell.table);
    hk_diags_add(diags, HK_CODE_NAME_UNKNOWN, file, "there is no role \"%s\" in yarns.csv", options->role);
    size_t nearest = hk_text_nearest(options->role, project->role_count, role_name, project);
    hk_diags_hint(diags, nearest != SIZE_MAX ? "did you mean \"%s\"?" : "the first is \"%s\"",
                  project->roles[nearest != SIZE_MAX ? nearest : 0].name);
    return SIZE_MAX;
}

static const struct hk_need_role *plan_of(const struct hk_need *need, size_t size, size_t role)
{
    for (size_t i = 0; i < need->role_count; i++) {
        if (need->roles[i].size == size && need->roles[i].role == role)
            return &need->roles[i];
    }
    return NULL;
}

static bool listed_already(const struct hk_listed *yarns, size_t count, const struct hk_candidate *candidate)
{
    for (size_t i = 0; i < count; i++) {
        if (yarns[i].candidate->yarn == candidate->yarn && hk_text_same(yarns[i].colour, candidate->colour))
            return true;
    }
    return false;
}

/*
 * Returns the candidates of yarns.csv as a list, the plan first; with `all` also, once each, the yarns of other roles,
 * as partners for pairs.
 */
static struct hk_listed *candidates_list(struct hk_comparing *c, bool all, size_t *count)
{
    const struct hk_project *project = c->work.project;
    struct hk_listed *yarns = hk_arena_take(c->arena, project->candidate_count, sizeof *yarns);
    *count = 0;
    for (size_t i = 0; yarns && i < project->candidate_count; i++) {
        if (project->candidates[i].role == c->work.role)
            yarns[(*count)++] = hk_listed_candidate(project, &project->candidates[i]);
    }
    for (size_t i = 0; yarns && all && i < project->candidate_count; i++) {
        if (!listed_already(yarns, *count, &project->candidates[i]))
            yarns[(*count)++] = hk_listed_candidate(project, &project->candidates[i]);
    }
    return yarns;
}

static bool add_candidates(struct hk_comparing *c, const struct hk_compare_options *options,
                           const struct hk_listed *plan)
{
    size_t candidate_count, count = options->list ? options->list->count : 0;
    const struct hk_listed *candidates = candidates_list(c, false, &candidate_count), *yarns = candidates;
    if (!candidates)
        return false;
    if (options->list)
        yarns = options->list->yarns;
    else
        count = candidate_count;
    c->rows = hk_arena_take(c->arena, count, sizeof *c->rows);
    c->row_capacity = c->rows ? count : 0;
    for (size_t i = options->list ? 0 : 1; i < count; i++) { /* the first candidate of yarns.csv is the plan */
        if (!hk_compare_add(c, &yarns[i], NULL))
            return false;
    }
    if (!options->held_together)
        return true;
    if (!options->list)
        yarns = candidates_list(c, true, &count);
    return yarns && hk_compare_add_pairs(c, yarns, count, hk_listed_g_m(plan));
}

static void nothing_to_compare(const struct hk_comparing *c, const struct hk_compare_options *options)
{
    const struct hk_role *role = &c->work.project->roles[c->work.role];
    if (options->held_together)
        hk_diags_add(c->diags, HK_CODE_ROWS_MISSING, hk_cell_place(role->cell, 0),
                     "no other yarn, and no two held together, may take the place of %s", role->name);
    else
        hk_diags_add(c->diags, HK_CODE_ROWS_MISSING, hk_cell_place(role->cell, 0), "no other yarn is listed for %s",
                     role->name);
    hk_diags_hint(c->diags, "add a row of that role below the planned yarn, or name a catalogue with --yarns FILE");
}

static void refuse_groups(const struct hk_comparing *c)
{
    const struct hk_role *role = &c->work.project->roles[c->work.role];
    hk_diags_add(c->diags, HK_CODE_RANGE, hk_cell_place(role->cell, 0),
                 "%s is worked with more than %zu pairs of a tool and what is held together with it", role->name, HK_GROUPS_MOST);
    hk_diags_hint(c->diags, "there are too many to compute together: leave out lines that do not matter");
}

/* Computes the data common to all candidates. Returns false with a finding, or when out of memory. */
static bool prepare(struct hk_comparing *c, const struct hk_listed *plan)
{
    const struct hk_project *project = c->work.project;
    if (!hk_role_work_gather(&c->work)) {
        if (c->work.too_many)
            refuse_groups(c);
        return false;
    }
    c->priors = hk_priors_of(&project->spreads, HK_QUANTITY_YARN);
    c->level = hk_level_of(c->needed->face.chance, c->needed->face.margin);
    c->gradient = hk_arena_take(&c->scratch, c->work.fit->count, sizeof *c->gradient);
    c->blends = hk_arena_take(&c->scratch, project->blend_count, sizeof *c->blends);
    c->scale = hk_arena_take(&c->scratch, c->work.group_count, sizeof *c->scale);
    c->known = hk_arena_take(&c->scratch, c->work.group_count, sizeof *c->known);
    hk_verdict_plan(c, plan);
    return !c->scratch.out_of_memory;
}

static bool compare_all(struct hk_comparing *c, const struct hk_compare_options *options, struct hk_compare *face)
{
    const struct hk_project *project = c->work.project;
    const struct hk_role *role = &project->roles[c->work.role];
    struct hk_listed plan = hk_listed_candidate(project, &project->candidates[role->plan]);
    if (!prepare(c, &plan) || !hk_compare_fill(c, &plan, NULL, &face->plan) || !add_candidates(c, options, &plan))
        return false;
    sort_rows(c, options->order);
    face->needles = c->work.groups[c->work.main].needles;
    face->offers = c->offers;
    face->rows = c->rows;
    face->row_count = c->row_count;
    if (c->row_count == 0)
        nothing_to_compare(c, options);
    if (c->too_dear) {
        hk_diags_add(c->diags, HK_CODE_MONEY, hk_cell_place(role->cell, 0),
                     "what %s costs is more than can be counted to the minor unit", role->name);
        hk_diags_hint(c->diags, "check prices and put_up");
    }
    return true;
}

static bool role_used(const struct hk_comparing *c)
{
    const struct hk_project *project = c->work.project;
    const struct hk_role *role = &project->roles[c->work.role];
    const struct hk_need_role *plan = plan_of(&c->needed->face, c->work.size, c->work.role);
    if (plan && plan->loops > 0)
        return true;
    hk_diags_add(c->diags, HK_CODE_RANGE, hk_cell_place(role->cell, 0), "nothing is worked in %s in size %s", role->name,
                 project->sizes[c->work.size]);
    hk_diags_hint(c->diags, "ask for another size or another role");
    return false;
}

/* Returns false with a finding when a host passes a list read for another project. */
static bool list_fits(const struct hk_project *project, const struct hk_yarn_list *list, struct hk_diags *diags)
{
    if (!list || list->project == project)
        return true;
    hk_diags_add(diags, HK_CODE_RANGE, (struct hk_place){"list", 0, 0},
                 "the list of yarns was read for a different project");
    hk_diags_hint(diags, "read it for the project of the need");
    return false;
}

struct hk_compare *hk_compare_make(const struct hk_need *need, struct hk_compare_options options, struct hk_diags *diags)
{
    const struct hk_needed *needed = (const struct hk_needed *)need;
    const struct hk_project *project = needed->fit->tally->project;
    size_t errors = diags->errors;
    size_t role = list_fits(project, options.list, diags) ? role_of(project, &options, diags) : SIZE_MAX;
    size_t size = (needed->first_size + needed->last_size) / 2;
    struct compared *compared = role == SIZE_MAX ? NULL : calloc(1, sizeof *compared);
    if (!compared) {
        diags->out_of_memory |= role != SIZE_MAX;
        return NULL;
    }
    struct hk_comparing c = {.needed = needed, .diags = diags, .arena = &compared->arena};
    c.work = (struct hk_role_work){
        .project = project, .fit = needed->fit, .arena = &c.scratch, .size = size, .role = role};
    compared->face = (struct hk_compare){
        .project = need->project, .size = project->sizes[size], .role = project->roles[role].name,
        .currency = hk_project_currency(project), .minor_digits = hk_project_minor_digits(project),
        .chance = need->chance, .margin = need->margin,
    };
    bool done = role_used(&c) && compare_all(&c, &options, &compared->face);
    diags->out_of_memory |= c.scratch.out_of_memory || compared->arena.out_of_memory;
    hk_arena_free(&c.scratch);
    if (done && !diags->out_of_memory && diags->errors == errors)
        return &compared->face;
    hk_compare_free(&compared->face);
    return NULL;
}

void hk_compare_free(struct hk_compare *compare)
{
    struct compared *compared = (struct compared *)compare;
    if (!compared)
        return;
    hk_arena_free(&compared->arena);
    free(compared);
}
