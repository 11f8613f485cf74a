/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Queries of a project, and freeing it. project/read/folder.c makes it. */
#include "project/project.h"

#include "base/text.h"
#include "input/money_cell.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>

#define DEFAULT_MINOR_DIGITS 2
#define DAYS_PER_WEEK 7

void hk_project_free(struct hk_project *project)
{
    if (!project)
        return;
    for (size_t i = 0; i < project->learned_count; i++)
        hk_project_free(project->learned[i]);
    assert(project->tables || project->table_count == 0);
    for (size_t i = 0; i < project->table_count; i++)
        hk_table_free(project->tables[i]);
    hk_proof_free(project->proof);
    hk_diags_free(&project->proof_diags);
    hk_arena_free(&project->arena);
    free(project);
}

/* ---- Asking -------------------------------------------------------------------------------------------------- */

const char *hk_project_title(const struct hk_project *project)
{
    return project->title;
}

size_t hk_project_size_in_hand(const struct hk_project *project)
{
    size_t size = project->size_count == 1 ? 0 : HK_NO_SIZE;
    for (size_t i = 0; i < project->progress_count && project->size_count > 1; i++) {
        if (i > 0 && project->progress[i].size != size)
            return HK_NO_SIZE;
        size = project->progress[i].size;
    }
    return size;
}

size_t hk_project_sizes(const struct hk_project *project)
{
    return project->size_count;
}

const char *hk_project_size(const struct hk_project *project, size_t size)
{
    return project->sizes[size];
}

bool hk_project_uk_terms(const struct hk_project *project)
{
    return project->terms == HK_TERMS_UK;
}

const char *hk_project_currency(const struct hk_project *project)
{
    return project->currency ? project->currency->code : "";
}

int hk_project_minor_digits(const struct hk_project *project)
{
    return project->currency ? project->currency->minor_digits : DEFAULT_MINOR_DIGITS;
}

static int64_t days_of(struct hk_period period)
{
    return (period.weeks ? DAYS_PER_WEEK : 1) * period.count;
}

struct hk_project_letter hk_project_letter(const struct hk_project *project)
{
    const struct hk_letter *letter = &project->letter;
    return (struct hk_project_letter){
        .maker = letter->maker,
        .place = letter->place,
        .care = letter->care,
        .conditions = letter->conditions,
        .valid_days = days_of(letter->valid_for),
        .ready_days = days_of(letter->ready_in),
        .valid_weeks = letter->valid_for.weeks,
        .ready_weeks = letter->ready_in.weeks,
        .tax_separately = letter->tax_separately,
    };
}

size_t hk_project_measures(const struct hk_project *project)
{
    size_t count = 0;
    for (size_t i = 0; i < project->grade.count; i++)
        count += project->grade.measures[i].print;
    return count;
}

struct hk_project_measure hk_project_measure(const struct hk_project *project, size_t measure, size_t size)
{
    size_t i = 0;
    for (size_t printed = 0; !project->grade.measures[i].print || printed++ < measure;)
        i++;
    const struct hk_measure *of = &project->grade.measures[i];
    const struct hk_amount *amount = &of->by_size[size];
    return (struct hk_project_measure){
        .name = of->name,
        .length_m = amount->kind == HK_AMOUNT_LENGTH ? amount->length_m : NAN,
        .count = amount->kind == HK_AMOUNT_COUNT ? amount->count : 0,
    };
}

size_t hk_project_costs(const struct hk_project *project)
{
    return project->cost_count;
}

static enum hk_included included_of(const struct hk_cost *cost)
{
    if (cost->per != HK_PER_EACH && cost->per != HK_PER_PIECE)
        return HK_INCLUDED_NOT;
    if (cost->kind == HK_COST_MATERIAL && !cost->unprinted)
        return HK_INCLUDED_NOTION;
    if (cost->kind == HK_COST_LABOUR && cost->quantity)
        return HK_INCLUDED_WORK;
    return cost->kind == HK_COST_POSTAGE ? HK_INCLUDED_POSTAGE : HK_INCLUDED_NOT;
}

struct hk_project_cost hk_project_cost(const struct hk_project *project, size_t cost, size_t size)
{
    const struct hk_cost *of = &project->costs[cost];
    const double quantity = of->quantity ? (double)of->quantity[size] / (double)HK_COST_ONE : NAN;
    return (struct hk_project_cost){
        .item = of->item, .included = quantity == 0 ? HK_INCLUDED_NOT : included_of(of), .quantity = quantity};
}

bool hk_project_money_cell(const struct hk_project *project, struct hk_cell cell, int64_t *minor, struct hk_diags *diags)
{
    return hk_money_cell(cell, hk_project_currency(project), hk_project_minor_digits(project), minor, diags);
}

bool hk_project_money(const struct hk_project *project, const char *text, int64_t *minor, struct hk_diags *diags)
{
    return hk_project_money_cell(project, (struct hk_cell){.text = text}, minor, diags);
}

size_t hk_project_roles(const struct hk_project *project)
{
    return project->role_count;
}

struct hk_project_role hk_project_role(const struct hk_project *project, size_t role)
{
    assert(role < project->role_count);
    const struct hk_candidate *plan = &project->candidates[project->roles[role].plan];
    return (struct hk_project_role){project->roles[role].name, project->yarns[plan->yarn].name, plan->colour};
}

size_t hk_project_yarns(const struct hk_project *project)
{
    return project->yarn_count;
}

struct hk_project_yarn hk_project_yarn(const struct hk_project *project, size_t yarn)
{
    assert(yarn < project->yarn_count);
    const struct hk_yarn *of = &project->yarns[yarn];
    return (struct hk_project_yarn){of->name, of->fibre, of->put_up_g, of->length_m, of->diameter_mm};
}

size_t hk_project_swatches(const struct hk_project *project)
{
    return project->swatch_count;
}

struct hk_project_swatch hk_project_swatch(const struct hk_project *project, size_t swatch)
{
    assert(swatch < project->swatch_count);
    const struct hk_swatch *of = &project->swatches[swatch];
    return (struct hk_project_swatch){
        .name = of->name,
        .fabric = of->fabric->name,
        .tool_mm = of->tool_mm,
        .stitches = of->stitches == HK_NOT_STATED ? 0 : of->stitches,
        .rows = of->rows,
        .copies = of->copies,
        .gauge_stitches = of->gauge_stitches,
        .gauge_rows = of->gauge_rows,
        .mass_g = of->mass_g,
        .scale_step_g = of->mass_g > 0 ? of->scale.step_g : 0,
        .unravelled_m = of->unravelled_m,
        .minutes = of->minutes,
        .at = hk_cell_place(of->cell, 0),
    };
}

/* ---- Lines --------------------------------------------------------------------------------------------------- */

const char *hk_line_title(const struct hk_line *line, struct hk_arena *arena)
{
    const char *title = *line->part ? hk_arena_print(arena, "\"%s\", part \"%s\"", line->piece, line->part)
                                    : hk_arena_print(arena, "\"%s\"", line->piece);
    return title ? title : "";
}

const char *hk_line_title_in(const struct hk_project *project, size_t line, size_t size, struct hk_arena *arena)
{
    const char *title = hk_line_title(&project->lines[line], arena);
    if (project->size_count > 1)
        title = hk_arena_print(arena, "%s, size %s", title, project->sizes[size]);
    return title ? title : "";
}

bool hk_line_without(const struct hk_line *line, size_t size)
{
    return hk_graded_none(&line->times, size) || hk_graded_none(&line->rows, size) || hk_graded_none(&line->stitches, size);
}

size_t hk_held_combination(const struct hk_project *project, size_t held)
{
    return project->held_combinations[held == SIZE_MAX ? project->written->held_count : held];
}

/* ---- Yarn ---------------------------------------------------------------------------------------------------- */

bool hk_of_yarn(struct hk_of_yarn of, size_t role, size_t yarn)
{
    return (of.role == SIZE_MAX || role == of.role) && (of.yarn == SIZE_MAX || yarn == of.yarn);
}

int64_t hk_offer_price_at(const struct hk_offer *offer, int64_t balls)
{
    int64_t minor = offer->price.minor;
    for (size_t i = 0; i < offer->price.from_count && balls >= offer->price.from[i].from; i++)
        minor = offer->price.from[i].minor;
    return minor;
}

bool hk_offer_counts(const struct hk_offer *offer, const struct hk_candidate *candidate)
{
    return offer->role == candidate->role && offer->yarn == candidate->yarn &&
           (*offer->colour == '\0' || *candidate->colour == '\0' || hk_text_same(offer->colour, candidate->colour));
}
