/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Fits everything weighed or unravelled in one Bayesian fit (DEVELOPERS.md, The model), and everything timed in
 * another. The two differ only in the priors (parameters.c), the footing of a stitch (model.c) and the data
 * (evidence.c).
 *
 * The solver works on standardised departures z = (x - prior) / spread: the rows of the priors are z itself, a spread
 * of 0 fixes its parameter, and all columns have the same scale. Only parameters with data enter; the others keep their
 * priors exactly.
 */
#include "model/fit.h"

#include "model/assumptions.h"
#include "model/evidence.h"
#include "model/odd.h"
#include "model/outlier.h"
#include "model/readers.h"
#include "model/solver.h"

#include <assert.h>
#include <gsl/gsl_math.h>
#include <stdlib.h>
#include <string.h>

/* ---- The optimum ------------------------------------------------------------------------------------------------- */

/* The problem for the solver: z of the parameters with data. */
struct problem {
    const struct hk_fit *fit;
    size_t *touched; /* the parameter of each column */
    size_t count;
    double *x;       /* scratch: all parameters */
    double *gradient;
};

static void place_x(const struct problem *problem, const double *z)
{
    for (size_t j = 0; j < problem->count; j++) {
        const struct hk_parameter *p = &problem->fit->parameters[problem->touched[j]];
        problem->x[problem->touched[j]] = p->prior + p->sd * z[j];
    }
}

static bool residuals(const void *context, const double *z, double *r)
{
    const struct problem *problem = context;
    const struct hk_fit *fit = problem->fit;
    place_x(problem, z);
    for (size_t i = 0; i < fit->evidence; i++) {
        const struct hk_datum *datum = &fit->data[i];
        r[i] = hk_fit_ln_off(fit, problem->x, datum, 0, NULL) / datum->s;
    }
    memcpy(r + fit->evidence, z, problem->count * sizeof *z);
    return true;
}

static bool jacobian(const void *context, const double *z, double *j)
{
    const struct problem *problem = context;
    const struct hk_fit *fit = problem->fit;
    size_t n = problem->count;
    place_x(problem, z);
    memset(j, 0, (fit->evidence + n) * n * sizeof *j);
    for (size_t i = 0; i < fit->evidence; i++) {
        memset(problem->gradient, 0, fit->count * sizeof *problem->gradient);
        hk_fit_ln_off(fit, problem->x, &fit->data[i], 1 / fit->data[i].s, problem->gradient);
        for (size_t k = 0; k < n; k++)
            j[i * n + k] = problem->gradient[problem->touched[k]] * fit->parameters[problem->touched[k]].sd;
    }
    for (size_t k = 0; k < n; k++)
        j[(fit->evidence + k) * n + k] = 1;
    return true;
}

static bool problem_make(struct problem *problem, struct hk_fit *fit, struct hk_arena *scratch)
{
    problem->fit = fit;
    problem->touched = hk_arena_take(scratch, fit->count, sizeof *problem->touched);
    problem->x = hk_arena_take(scratch, fit->count, sizeof *problem->x);
    problem->gradient = hk_arena_take(scratch, fit->count, sizeof *problem->gradient);
    if (scratch->out_of_memory)
        return false;
    for (size_t i = 0; i < fit->count; i++) {
        problem->x[i] = fit->parameters[i].prior;
        if (fit->parameters[i].touched)
            problem->touched[problem->count++] = i;
    }
    return true;
}

static void take_optimum(struct hk_fit *fit, const struct problem *problem, const double *z, const double *covariance)
{
    size_t n = problem->count;
    for (size_t j = 0; j < n; j++) {
        struct hk_parameter *p = &fit->parameters[problem->touched[j]];
        p->value = p->prior + p->sd * z[j];
        for (size_t k = 0; k < n; k++)
            fit->covariance[problem->touched[j] * fit->count + problem->touched[k]] =
                p->sd * covariance[j * n + k] * fit->parameters[problem->touched[k]].sd;
    }
    for (size_t i = 0; i < fit->evidence; i++) {
        struct hk_datum *datum = &fit->data[i];
        datum->residual = hk_fit_ln_off(fit, NULL, datum, 0, NULL) / datum->s;
    }
}

static bool solve(struct hk_fit *fit, struct hk_arena *scratch, struct hk_diags *diags)
{
    struct problem problem = {0};
    if (!problem_make(&problem, fit, scratch))
        return false;
    double *z = hk_arena_take(scratch, problem.count, sizeof *z);
    double *covariance = hk_arena_take(scratch, problem.count * problem.count, sizeof *covariance);
    if (scratch->out_of_memory)
        return false;
    struct hk_least_squares squares = {problem.count, fit->evidence + problem.count, residuals, jacobian, &problem};
    struct hk_solution solution = {0};
    switch (hk_least_squares_solve(&squares, z, covariance, &solution)) {
    case HK_SOLVED_CONVERGED:
        take_optimum(fit, &problem, z, covariance);
        return true;
    case HK_SOLVED_NOT_CONVERGED:
    case HK_SOLVED_NOT_FINITE:
        hk_diags_add(diags, HK_CODE_FIT, hk_cell_place(hk_datum_cell(fit->evidence > 0 ? fit->data : fit->odd), 0),
                     "the readings cannot be brought together (after %zu steps, the last of %s spreads)",
                     solution.iterations, hk_number_text(solution.last_step, 2).text);
        hk_diags_hint(diags, "look for a %s or a stitch count that is far off",
                      fit->quantity == HK_QUANTITY_TIME ? "time" : "weight, a length");
        return false;
    case HK_SOLVED_MEMORY:
        break;
    }
    scratch->out_of_memory = true;
    return false;
}

/* ---- Construction ------------------------------------------------------------------------------------------------ */

static void all_absent(size_t *indexes, size_t count)
{
    for (size_t i = 0; indexes && i < count; i++)
        indexes[i] = SIZE_MAX;
}

static bool folders_make(struct hk_fit *fit)
{
    const struct hk_project *project = fit->tally->project;
    fit->stitches = hk_arena_take(&fit->arena, project->catalogue->stitch_count, sizeof *fit->stitches);
    all_absent(fit->stitches, project->catalogue->stitch_count);
    all_absent(fit->tensions, HK_FAMILIES);
    all_absent(fit->garments, HK_FAMILIES);
    fit->wrap = SIZE_MAX;
    fit->folder_count = 1 + project->learned_count;
    fit->folders = hk_arena_take(&fit->arena, fit->folder_count, sizeof *fit->folders);
    for (size_t i = 0; fit->folders && i < fit->folder_count; i++) {
        struct hk_folder *folder = &fit->folders[i];
        folder->tally = i == 0 ? fit->tally : fit->tally->learned[i - 1];
        const struct hk_project *other = folder->tally->project;
        assert(other->catalogue == project->catalogue);
        folder->blends = hk_arena_take(&fit->arena, other->combination_count, sizeof *folder->blends);
        folder->grists = hk_arena_take(&fit->arena, other->yarn_count, sizeof *folder->grists);
        all_absent(folder->blends, other->combination_count);
        folder->balls = hk_arena_take(&fit->arena, other->yarn_count, sizeof *folder->balls);
        all_absent(folder->grists, other->yarn_count);
        all_absent(folder->balls, other->yarn_count);
    }
    return !fit->arena.out_of_memory;
}

static bool priors_make(struct hk_fit *fit)
{
    fit->covariance = hk_arena_take(&fit->arena, fit->count * fit->count, sizeof *fit->covariance);
    for (size_t i = 0; fit->covariance && i < fit->count; i++)
        fit->covariance[i * fit->count + i] = gsl_pow_2(fit->parameters[i].sd);
    return !fit->arena.out_of_memory;
}

/* The limit of multiplications in one step of the solver, approximately; about a second in all. */
#define STEP_MOST 6e7

/*
 * Returns false with a finding when there are too many parameters or data. Parameters beyond the limit are not entered.
 */
static bool few_enough(const struct hk_fit *fit, struct hk_diags *diags)
{
    double n = (double)fit->count, step = n * n * ((double)fit->evidence + n);
    if (fit->count < HK_PARAMETERS_MOST && (fit->evidence == 0 || step <= STEP_MOST))
        return true;
    bool learns = fit->folder_count > 1;
    hk_diags_add(diags, HK_CODE_FIT, (struct hk_place){learns ? "project.csv" : "yarns.csv", 0, 0},
                 "too many yarns, stitches and tools are used, and swatches of them weighed, to compute together");
    hk_diags_hint(diags, learns ? "name fewer folders in learn_from"
                                : "leave out swatches and lines of yarns and tools that do not matter");
    return false;
}

/* Solves, and leaves out what is odd (odd.h), as long as something is. */
static bool solve_without_odd(struct hk_fit *fit, size_t testers, struct hk_arena *scratch, struct hk_diags *diags)
{
    while (solve(fit, scratch, diags)) {
        const size_t odd = hk_odd_find(fit, diags, scratch);
        if (odd == SIZE_MAX)
            return !scratch->out_of_memory;
        if (!hk_odd_leave_out(fit, odd, testers))
            return false;
    }
    return false;
}

/*
 * Solves without the testers, the last data. What was left out once may come back once. Timings all stay: how fast a
 * maker works is known far less well.
 */
static bool solve_own(struct hk_fit *fit, size_t testers, struct hk_arena *scratch, struct hk_diags *diags)
{
    if (fit->evidence == 0)
        return true;
    if (fit->quantity == HK_QUANTITY_TIME)
        return solve(fit, scratch, diags);
    if (!solve_without_odd(fit, testers, scratch, diags))
        return false;
    if (fit->odd_count == 0 || !hk_odd_take_back(fit, testers, scratch))
        return true;
    return !scratch->out_of_memory && solve_without_odd(fit, testers, scratch, diags);
}

/* Solves without the testers, the last data; estimates the spread of readers from what is left of them; solves with
 * them. */
static bool solve_all(struct hk_fit *fit, struct hk_arena *scratch, struct hk_diags *diags)
{
    size_t testers = fit->readers.testers;
    fit->evidence -= testers;
    bool solved = solve_own(fit, testers, scratch, diags);
    fit->evidence += testers;
    if (!solved || testers == 0)
        return solved;
    if (hk_readers_estimate(fit, scratch)) {
        solved = fit->evidence == 0 || solve(fit, scratch, diags);
        if (solved)
            hk_readers_report(fit, scratch, diags);
        return solved;
    }
    if (!scratch->out_of_memory && !fit->arena.out_of_memory) {
        hk_diags_add(diags, HK_CODE_FIT, (struct hk_place){"testers.csv", 0, 0},
                     "the testers cannot be brought together");
        hk_diags_hint(diags, "look for an amount that is far off");
    }
    return false;
}

static bool fit_fill(struct hk_fit *fit, bool holds, struct hk_arena *scratch, struct hk_diags *diags)
{
    size_t errors = diags->errors;
    const struct hk_project *project = fit->tally->project;
    struct hk_maker m = {.fit = fit,
                         .project = project,
                         .priors = hk_priors_of(&project->spreads, fit->quantity),
                         .holds = holds,
                         .diags = diags};
    fit->readers = hk_readers_unknown(project);
    if (!folders_make(fit))
        return false;
    hk_enter_design(&m);
    for (m.folder = 0; m.folder < fit->folder_count; m.folder++)
        hk_evidence_enter(&m);
    m.folder = 0;
    if (fit->quantity == HK_QUANTITY_YARN && !holds && !fit->arena.out_of_memory)
        hk_testers_enter(&m);
    if (fit->arena.out_of_memory || diags->errors > errors || !few_enough(fit, diags) || !priors_make(fit) ||
        !solve_all(fit, scratch, diags))
        return false;
    if (fit->evidence + fit->odd_count > 0)
        hk_outlier_report(fit, scratch, diags);
    if (fit->quantity == HK_QUANTITY_YARN)
        hk_assumptions_report(fit, diags);
    return !scratch->out_of_memory;
}

static struct hk_fit *fit_of(const struct hk_tally *tally, enum hk_quantity quantity, bool holds,
                             struct hk_diags *diags)
{
    void *room = calloc(1, sizeof(struct hk_time_fit)); /* it contains only a fit */
    struct hk_fit *fit = room;
    if (!fit) {
        diags->out_of_memory = true;
        return NULL;
    }
    struct hk_arena scratch = {0};
    fit->tally = tally;
    fit->quantity = quantity;
    bool made = fit_fill(fit, holds, &scratch, diags);
    diags->out_of_memory = diags->out_of_memory || fit->arena.out_of_memory || scratch.out_of_memory;
    hk_arena_free(&scratch);
    if (made && !diags->out_of_memory)
        return fit;
    hk_fit_free(fit);
    return NULL;
}

struct hk_fit *hk_fit_make(const struct hk_tally *tally, struct hk_diags *diags)
{
    return fit_of(tally, HK_QUANTITY_YARN, false, diags);
}

struct hk_fit *hk_fit_holding(const struct hk_tally *tally, struct hk_diags *diags)
{
    return fit_of(tally, HK_QUANTITY_YARN, true, diags);
}

struct hk_time_fit *hk_fit_time(const struct hk_tally *tally, struct hk_diags *diags)
{
    return (struct hk_time_fit *)fit_of(tally, HK_QUANTITY_TIME, false, diags);
}

void hk_time_fit_free(struct hk_time_fit *time)
{
    hk_fit_free((struct hk_fit *)time);
}

void hk_fit_free(struct hk_fit *fit)
{
    if (!fit)
        return;
    hk_arena_free(&fit->arena);
    free(fit);
}
