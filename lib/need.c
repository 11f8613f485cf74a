/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Prediction (DEVELOPERS.md, The model). For one role in one size, with W_j the length worked in line j (all copies):
 *
 *     T = exp(B) sum_j exp(c_j) W_j + ends * tail + cut       metres; B: this making, c: one for each copy of j
 *     M = g T                                                 grams
 *
 * ln T and ln M are taken as normal. Median: at the optimum of the fit. With h the gradient of ln M in the parameters,
 * C their covariance and n_j copies of line j, roles r and s of one size share B and each c, sizes do not:
 *
 *     cov(ln M_r, ln M_s) = h_r^T C h_s + W_r W_s / (T_r T_s) * making^2 + sum_j W_rj W_sj / (n_j T_r T_s) * piece^2
 *
 * A delta method: how well it does against drawing all of it by Monte Carlo is in tests/test_need.c.
 */
#include "need.h"

#include "balls.h"
#include "chance.h"
#include "diags.h"
#include "loop.h"
#include "so_far.h"
#include "why.h"

#include <assert.h>
#include <gsl/gsl_math.h>
#include <stdlib.h>

/* What a count that is half a stitch may miss by from adding up a taper. */
#define HALF_STITCH_NOISE 1e-6

/* One role in one line of one size, all copies. */
struct cell {
    double worked_m; /* W: what tension, making and piece act on */
    double plain_m;  /* ends and cut lengths */
    double stitches, loops;
};

/*
 * A sum with its lost low-order part (Neumaier 1974, "Rundungsfehleranalyse", eq. IV): a garment's lines differ by
 * many orders.
 */
struct total {
    double sum, lost;
};

/* Roles times sizes: the covariance has the square of it. */
#define AMOUNTS_MOST ((size_t)1000)
#define SUMS_MOST 1e8 /* over all lines, for every two roles of a size: a second or so */

struct prediction {
    struct hk_needed *needed;
    const struct hk_fit *fit;
    const struct hk_tally *tally;
    const struct hk_project *project;
    struct hk_diags *diags;
    struct hk_arena scratch;
    struct cell *cells;         /* [size][line][role], size from the first one asked for */
    double *longest_m;          /* [size][role]: the longest row of one strand */
    struct hk_need_role *roles; /* room for every role in every size */
    size_t role_count;
    double *gradients;          /* of ln mass, a row for each of `roles` */
    double *own;
    double *ch;                 /* C h, for the time being */
    bool *refused;              /* by role: its ball has been found too small or too many */
};

static void total_add(struct total *total, double term)
{
    double sum = total->sum + term;
    total->lost += fabs(total->sum) >= fabs(term) ? (total->sum - sum) + term : (term - sum) + total->sum;
    total->sum = sum;
}

static double total_value(struct total total)
{
    return total.sum + total.lost;
}

static size_t asked_sizes(const struct prediction *p)
{
    return p->needed->last_size - p->needed->first_size + 1;
}

static struct cell *cell_at(const struct prediction *p, size_t size, size_t line, size_t role)
{
    size_t row = (size - p->needed->first_size) * p->project->line_count + line;
    return &p->cells[row * p->project->role_count + role];
}

static double *longest_at(const struct prediction *p, size_t size, size_t role)
{
    return &p->longest_m[(size - p->needed->first_size) * p->project->role_count + role];
}

static const struct hk_worked *worked_at(const struct prediction *p, size_t size, size_t line)
{
    return &p->tally->lines[size * p->project->line_count + line];
}

/* ---- From tally to lengths --------------------------------------------------------------------------------------- */

/* Strands of a role in a combination, and their ends together. */
static double strands_of(const struct hk_combination *combination, size_t role, const double *ends, double *ends_sum)
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

/* One strand of a use, at the optimum. */
static double strand_length_m(const struct prediction *p, const struct hk_worked *worked, const struct hk_use *use,
                              struct hk_kinds kinds)
{
    return hk_fit_length_m(p->fit, NULL, p->tally, use->combination, worked->tool_mm, kinds, 0, NULL);
}

static void longest_row(const struct prediction *p, const struct hk_worked *worked, const struct hk_use *use,
                        double *longest_m)
{
    for (size_t i = 0; i < use->longest_count; i++)
        *longest_m = fmax(*longest_m, strand_length_m(p, worked, use, use->longest[i]));
}

/* Stitches that nothing is worked for (skipped ones) are no stitches. */
static void count_stitches(const struct prediction *p, struct hk_kinds kinds, double copies, struct cell *cell)
{
    const struct hk_stitch *stitches = p->project->catalogue->stitches;
    double omega = hk_fit_omega(p->fit);
    for (size_t i = 0; i < kinds.count; i++) {
        const struct hk_stitch *stitch = &stitches[kinds.kinds[i].stitch];
        double count = copies * kinds.kinds[i].count;
        if (stitch->loops > 0 || stitch->wraps > 0)
            cell->stitches += count;
        cell->loops += count * hk_stitch_loops(stitch, omega);
    }
}

static void fill_cell(struct prediction *p, size_t size, size_t line, size_t role)
{
    const struct hk_worked *worked = worked_at(p, size, line);
    struct cell *cell = cell_at(p, size, line, role);
    double copies = (double)worked->times;
    for (size_t u = 0; u < worked->use_count && worked->times > 0; u++) {
        const struct hk_use *use = &worked->uses[u];
        double ends;
        double strands = strands_of(&p->project->combinations[use->combination], role, use->ends, &ends);
        if (!(strands > 0))
            continue;
        cell->worked_m += copies * strands * strand_length_m(p, worked, use, use->kinds);
        cell->plain_m += copies * (ends * p->project->tail_m + strands * use->cut_m);
        count_stitches(p, use->kinds, copies, cell);
        longest_row(p, worked, use, longest_at(p, size, role));
    }
}

/* Derivatives of ln T in the parameters: those of every W_j over T. */
static void length_gradient(const struct prediction *p, size_t size, size_t role, double length_m, double *gradient)
{
    for (size_t line = 0; line < p->project->line_count; line++) {
        const struct hk_worked *worked = worked_at(p, size, line);
        for (size_t u = 0; u < worked->use_count && worked->times > 0; u++) {
            const struct hk_use *use = &worked->uses[u];
            double ends;
            double strands = strands_of(&p->project->combinations[use->combination], role, use->ends, &ends);
            if (strands > 0)
                hk_fit_length_m(p->fit, NULL, p->tally, use->combination, worked->tool_mm, use->kinds,
                                (double)worked->times * strands / length_m, gradient);
        }
    }
}

/* ---- Spread ------------------------------------------------------------------------------------------------------ */

/* C h over the parameters. */
static void times_covariance(const struct hk_fit *fit, const double *h, double *ch)
{
    for (size_t i = 0; i < fit->count; i++) {
        struct total total = {0};
        for (size_t k = 0; k < fit->count; k++)
            total_add(&total, fit->covariance[i * fit->count + k] * h[k]);
        ch[i] = total_value(total);
    }
}

static double dot(size_t count, const double *a, const double *b)
{
    struct total total = {0};
    for (size_t i = 0; i < count; i++)
        total_add(&total, a[i] * b[i]);
    return total_value(total);
}

/* Standard deviation of h^T x and something independent. Rounding may leave a hair less than nothing. */
static double spread_of(const struct prediction *p, const double *h, double own)
{
    times_covariance(p->fit, h, p->ch);
    return sqrt(fmax(dot(p->fit->count, h, p->ch) + own, 0));
}

/* What the making and its pieces add to cov(ln M_r, ln M_s), two roles of one size with their total lengths. */
static double own_covariance(const struct prediction *p, size_t size, size_t r, double r_m, size_t s, double s_m)
{
    const struct hk_spreads *spreads = &p->project->spreads;
    struct total worked_r = {0}, worked_s = {0}, pieces = {0};
    for (size_t line = 0; line < p->project->line_count; line++) {
        int64_t copies = worked_at(p, size, line)->times;
        if (copies <= 0)
            continue;
        double part_r = cell_at(p, size, line, r)->worked_m / r_m;
        double part_s = cell_at(p, size, line, s)->worked_m / s_m;
        total_add(&worked_r, part_r);
        total_add(&worked_s, part_s);
        total_add(&pieces, part_r * part_s / (double)copies);
    }
    return total_value(worked_r) * total_value(worked_s) * spreads->making * spreads->making +
           total_value(pieces) * spreads->piece * spreads->piece;
}

static double *covariance_of(const struct prediction *p)
{
    size_t count = p->role_count;
    double *covariance = hk_arena_take(&p->needed->arena, count * count, sizeof *covariance);
    for (size_t r = 0; r < count && covariance; r++) {
        const struct hk_need_role *a = &p->roles[r];
        times_covariance(p->fit, p->gradients + r * p->fit->count, p->ch);
        for (size_t s = r; s < count; s++) {
            const struct hk_need_role *b = &p->roles[s];
            double c = dot(p->fit->count, p->ch, p->gradients + s * p->fit->count);
            if (a->size == b->size)
                c += own_covariance(p, a->size, a->role, a->length_m.likely, b->role, b->length_m.likely);
            covariance[r * count + s] = covariance[s * count + r] = c;
        }
    }
    return covariance;
}

/* ---- Roles ------------------------------------------------------------------------------------------------------- */

/* P(X <= ratio * median), ln X normal with that spread; without a spread X is its median. */
static double chance_of(double ratio, double spread)
{
    if (spread > 0)
        return hk_normal_chance(log(ratio) / spread);
    return ratio >= 1 ? 1 : 0;
}

static struct hk_range range_of(const struct hk_need *face, double likely, double spread)
{
    bool flat = face->margin >= 0;
    return (struct hk_range){
        .likely = likely,
        .low = likely * exp(spread * hk_normal_quantile(HK_LOW_CHANCE)),
        .high = likely * exp(spread * hk_normal_quantile(HK_HIGH_CHANCE)),
        .enough = flat ? likely * (1 + face->margin) : likely * exp(spread * hk_normal_quantile(face->chance)),
    };
}

/* Half up, and false beyond what is counted. */
static bool whole_stitches(double stitches, int64_t *whole)
{
    double rounded = floor(stitches + 0.5 + HALF_STITCH_NOISE);
    if (!(rounded <= (double)HK_COUNT_MOST))
        return false;
    *whole = (int64_t)rounded;
    return true;
}

static void too_many_stitches(const struct prediction *p, struct hk_cell at, size_t size, const char *what)
{
    hk_diags_add(p->diags, HK_COUNT_TOO_LARGE, hk_cell_place(at, 0), "%s comes to more than 10^12 stitches in size %s",
                 what, p->project->sizes[size]);
    hk_diags_hint(p->diags, "check stitches, rows and times");
}

static void refuse_ball(struct prediction *p, const struct hk_need_role *row)
{
    const struct hk_yarn *yarn = &p->project->yarns[p->project->candidates[p->project->roles[row->role].plan].yarn];
    if (p->refused[row->role])
        return;
    p->refused[row->role] = true;
    struct hk_place at = hk_cell_place(yarn->cell, 0);
    if (row->put_up_g > row->join_g) {
        hk_diags_add(p->diags, HK_COUNT_TOO_LARGE, at, "it takes more than 10^12 balls of %s in size %s", row->yarn,
                     row->size_name);
        hk_diags_hint(p->diags, "check put_up, stitches, rows and times");
        return;
    }
    hk_diags_add(p->diags, HK_BALL_SMALL, at,
                 "a ball of %s weighs %s g, and each join wastes %s g in size %s, so no number of balls is enough",
                 row->yarn, hk_number_text(row->put_up_g, 3).text, hk_number_text(row->join_g, 3).text, row->size_name);
    hk_diags_hint(p->diags, "%s",
                  p->project->join_anywhere ? "a larger put_up or a shorter tail would do"
                                            : "a larger put_up, or \"join,anywhere\" in project.csv, would do");
}

static bool buy_balls(struct prediction *p, struct hk_need_role *row, double g_m)
{
    double row_m = p->project->join_anywhere ? 0 : *longest_at(p, row->size, row->role) / 2;
    row->join_g = g_m * (2 * p->project->tail_m + row_m);
    if (hk_balls_needed(row->mass_g.enough, row->put_up_g, row->join_g, &row->balls))
        return true;
    refuse_ball(p, row);
    return false;
}

/* Sums a role over the lines of a size. */
static struct cell role_sum(const struct prediction *p, size_t size, size_t role)
{
    struct total worked = {0}, plain = {0}, stitches = {0}, loops = {0};
    for (size_t line = 0; line < p->project->line_count; line++) {
        const struct cell *cell = cell_at(p, size, line, role);
        total_add(&worked, cell->worked_m);
        total_add(&plain, cell->plain_m);
        total_add(&stitches, cell->stitches);
        total_add(&loops, cell->loops);
    }
    return (struct cell){total_value(worked), total_value(plain), total_value(stitches), total_value(loops)};
}

/* The next row of the answer: one role that is used in one size. */
static void predict_role(struct prediction *p, size_t size, size_t role, struct cell sum)
{
    const struct hk_project *project = p->project;
    const struct hk_candidate *plan = &project->candidates[project->roles[role].plan];
    const struct hk_yarn *yarn = &project->yarns[plan->yarn];
    struct hk_need_role *row = &p->roles[p->role_count];
    double *gradient = p->gradients + p->role_count * p->fit->count;
    double length_m = sum.worked_m + sum.plain_m;
    double g_m = hk_fit_grist_g_m(p->fit, plan->yarn);
    double own = own_covariance(p, size, role, length_m, role, length_m);

    length_gradient(p, size, role, length_m, gradient);
    *row = (struct hk_need_role){
        .size = size, .role = role, .size_name = project->sizes[size], .role_name = project->roles[role].name,
        .yarn = yarn->name, .colour = plan->colour, .loops = sum.loops,
        .put_up_g = yarn->put_up_g, .put_up_m = yarn->length_m,
        .spread = spread_of(p, gradient, own),
    };
    size_t grist = hk_fit_find(p->fit, HK_GRIST, 0, 0, yarn->name);
    assert(grist != SIZE_MAX);
    gradient[grist] += 1;
    row->spread_mass = spread_of(p, gradient, own);
    row->length_m = range_of(&p->needed->face, length_m, row->spread);
    row->mass_g = range_of(&p->needed->face, g_m * length_m, row->spread_mass);
    row->chance = p->needed->face.margin < 0 ? p->needed->face.chance
                                             : chance_of(1 + p->needed->face.margin, row->spread_mass);
    p->own[p->role_count] = own;
    p->role_count++;
    if (!whole_stitches(sum.stitches, &row->stitches))
        too_many_stitches(p, project->roles[role].cell, size, row->role_name);
    buy_balls(p, row, g_m);
}

static void predict_size(struct prediction *p, size_t size)
{
    for (size_t role = 0; role < p->project->role_count; role++) {
        for (size_t line = 0; line < p->project->line_count; line++)
            fill_cell(p, size, line, role);
        struct cell sum = role_sum(p, size, role);
        if (sum.worked_m + sum.plain_m > 0)
            predict_role(p, size, role, sum);
    }
}

/* ---- Parts ------------------------------------------------------------------------------------------------------- */

static size_t count_parts(const struct prediction *p)
{
    size_t count = 0;
    for (size_t i = 0; i < asked_sizes(p) * p->project->line_count * p->project->role_count; i++)
        count += p->cells[i].worked_m + p->cells[i].plain_m > 0;
    return count;
}

static void fill_part(struct prediction *p, const struct hk_need_role *row, size_t line, struct hk_need_part *part)
{
    const struct cell *cell = cell_at(p, row->size, line, row->role);
    const struct hk_line *of = &p->project->lines[line];
    double length_m = cell->worked_m + cell->plain_m;
    double share = length_m / row->length_m.likely;
    *part = (struct hk_need_part){
        .size = row->size, .role = row->role, .size_name = row->size_name, .piece = of->piece, .part = of->part,
        .role_name = row->role_name, .length_m = length_m, .share = share,
        .mass_g = share * row->mass_g.likely, .enough_g = share * row->mass_g.enough,
    };
    if (!whole_stitches(cell->stitches, &part->stitches))
        too_many_stitches(p, of->cell, row->size, of->piece);
}

/* By size, line, role; roles[first] to roles[last - 1] are those of one size. */
static struct hk_need_part *list_parts(struct prediction *p, size_t *count)
{
    size_t n = 0;
    struct hk_need_part *parts = hk_arena_take(&p->needed->arena, count_parts(p), sizeof *parts);
    for (size_t first = 0, last = 0; first < p->role_count && parts; first = last) {
        while (last < p->role_count && p->roles[last].size == p->roles[first].size)
            last++;
        for (size_t line = 0; line < p->project->line_count; line++) {
            for (size_t r = first; r < last; r++) {
                const struct cell *cell = cell_at(p, p->roles[r].size, line, p->roles[r].role);
                if (cell->worked_m + cell->plain_m > 0)
                    fill_part(p, &p->roles[r], line, &parts[n++]);
            }
        }
    }
    *count = n;
    return parts;
}

/* ---- The whole --------------------------------------------------------------------------------------------------- */

struct hk_need_options hk_need_defaults(void)
{
    return (struct hk_need_options){.chance = 0, .size = HK_NO_SIZE};
}

static bool options_fit(const struct hk_project *project, struct hk_need_options options, struct hk_diags *diags)
{
    bool chance_fits = options.chance == 0 || (options.chance > 0 && options.chance < 1);
    bool size_fits = options.size == HK_NO_SIZE || options.size < project->size_count;
    if (!chance_fits) {
        hk_diags_add(diags, HK_RANGE, (struct hk_place){"chance", 0, 0}, "a chance of %s cannot be asked for",
                     hk_number_text(options.chance, 6).text);
        hk_diags_hint(diags, "a chance above 0 and below 1, such as 0.95, would do");
    }
    size_t sizes = options.size == HK_NO_SIZE ? project->size_count : 1;
    double roles = (double)project->role_count, sums = roles * roles * (double)sizes * (double)project->line_count;
    bool few = !size_fits || (sizes * project->role_count <= AMOUNTS_MOST && sums <= SUMS_MOST);
    if (!few) {
        hk_diags_add(diags, HK_RANGE, (struct hk_place){"yarns.csv", 0, 0},
                     "%zu roles in %zu lines and %zu sizes are too many to reckon together", project->role_count,
                     project->line_count, sizes);
        hk_diags_hint(diags, "ask for one size, or remove roles or lines");
    }
    if (!size_fits) {
        hk_diags_add(diags, HK_RANGE, (struct hk_place){"size", 0, 0}, "there is no size number %zu", options.size + 1);
        hk_diags_hint(diags, "the project has %zu", project->size_count);
    }
    return chance_fits && size_fits && few;
}

static struct hk_needed *needed_new(const struct hk_fit *fit, struct hk_need_options options)
{
    const struct hk_project *project = fit->tally->project;
    struct hk_needed *needed = calloc(1, sizeof *needed);
    if (!needed)
        return NULL;
    bool all = options.size == HK_NO_SIZE;
    *needed = (struct hk_needed){
        .fit = fit,
        .first_size = all ? 0 : options.size,
        .last_size = all ? project->size_count - 1 : options.size,
        .face = {
            .project = project->title,
            .chance = options.chance > 0 ? options.chance : project->chance,
            .margin = options.chance > 0 ? -1 : project->margin,
            .evidence = fit->evidence,
            .evidence_so_far = hk_fit_so_far(fit),
            .size_count = project->size_count,
            .sizes = project->sizes,
            .in_hand = project->progress_count > 0,
        },
    };
    return needed;
}

static bool make_room(struct prediction *p)
{
    size_t rows = asked_sizes(p) * p->project->role_count;
    p->cells = hk_arena_take(&p->scratch, rows * p->project->line_count, sizeof *p->cells);
    p->longest_m = hk_arena_take(&p->scratch, rows, sizeof *p->longest_m);
    p->ch = hk_arena_take(&p->scratch, p->fit->count, sizeof *p->ch);
    p->refused = hk_arena_take(&p->scratch, p->project->role_count, sizeof *p->refused);
    p->roles = hk_arena_take(&p->needed->arena, rows, sizeof *p->roles);
    p->gradients = hk_arena_take(&p->needed->arena, rows * p->fit->count, sizeof *p->gradients);
    p->own = hk_arena_take(&p->needed->arena, rows, sizeof *p->own);
    return !p->scratch.lost && !p->needed->arena.lost;
}

static void predict_all(struct prediction *p)
{
    struct hk_needed *needed = p->needed;
    if (!make_room(p))
        return;
    for (size_t size = needed->first_size; size <= needed->last_size; size++)
        predict_size(p, size);
    needed->face.roles = p->roles;
    needed->face.role_count = p->role_count;
    needed->gradients = p->gradients;
    needed->own = p->own;
    needed->face.parts = list_parts(p, &needed->face.part_count);
    needed->face.covariance = covariance_of(p);
    needed->face.used = hk_so_far_used(p->tally, &needed->arena, &needed->face.used_count);
    if (!needed->arena.lost)
        hk_why(needed);
}

struct hk_need *hk_need_predict(const struct hk_fit *fit, struct hk_need_options options, struct hk_diags *diags)
{
    if (!options_fit(fit->tally->project, options, diags))
        return NULL;
    size_t errors = diags->errors;
    struct prediction p = {
        .needed = needed_new(fit, options), .fit = fit, .tally = fit->tally, .project = fit->tally->project,
        .diags = diags,
    };
    if (!p.needed) {
        diags->lost = true;
        return NULL;
    }
    predict_all(&p);
    diags->lost |= p.scratch.lost || p.needed->arena.lost;
    hk_arena_free(&p.scratch);
    if (diags->lost || diags->errors > errors) {
        hk_need_free(&p.needed->face);
        return NULL;
    }
    return &p.needed->face;
}

void hk_need_free(struct hk_need *need)
{
    struct hk_needed *needed = (struct hk_needed *)need;
    if (!needed)
        return;
    hk_arena_free(&needed->arena);
    free(needed);
}
