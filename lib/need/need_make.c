/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Predicts yarn by role and size (predict.h). With g grams per metre, M = g T, and ln M has the gradient of ln T and 1
 * for ln g. Grams are those of the label: the mass of a ball on the maker's scale (H) affects weighings only. All roles
 * and sizes are predicted with their covariance.
 */
#include "need/need.h"

#include "base/diags.h"
#include "model/chance.h"
#include "model/loop.h"
#include "model/predict.h"
#include "need/balls.h"
#include "need/by_stitch.h"
#include "need/walk.h"
#include "need/why.h"
#include "tally/progress.h"

#include <assert.h>
#include <gsl/gsl_math.h>
#include <stdlib.h>

/* The tolerance for a count of half a stitch after adding up a taper. */
#define HALF_STITCH_NOISE 1e-6

/* The counts of one role in one size, all copies. */
struct counted {
    double stitches, loops;
};

/* The limit of roles times sizes; the size of the covariance is its square. */
#define AMOUNTS_MOST ((size_t)1000)
/* The limit of rows in all walks; each takes about 10 microseconds. */
#define ROWS_WALKED_MOST 50000
#define SUMS_MOST 1e8 /* limit of sums over lines for all pairs of roles of a size: about a second */

struct prediction {
    struct hk_needed *needed;
    const struct hk_fit *fit;
    const struct hk_tally *tally;
    const struct hk_project *project;
    struct hk_diags *diags;
    struct hk_arena scratch;
    struct hk_priors priors;
    struct hk_level level;
    struct hk_extent *amounts;  /* [size][role][line], size counts from the first one asked for */
    struct counted *counted;    /* likewise */
    double *longest_m;          /* [size][role]: the longest row of one strand */
    struct hk_need_role *roles; /* room for every role in every size */
    size_t role_count;
    double *gradients; /* gradients of ln mass, a row for each of `roles` */
    double *garment_variance;
    double *along;      /* C h, temporary */
    double rows_walked; /* rows walked so far */
    bool *refused;      /* by role: its ball is too small, or too many are needed */
};

static size_t asked_sizes(const struct prediction *p)
{
    return p->needed->last_size - p->needed->first_size + 1;
}

/* Returns the index of the first line of a role in a size. */
static size_t lines_at(const struct prediction *p, size_t size, size_t role)
{
    return ((size - p->needed->first_size) * p->project->role_count + role) * p->project->line_count;
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

static void longest_row(const struct prediction *p, const struct hk_worked *worked, const struct hk_use *use,
                        double *longest_m)
{
    struct hk_ground ground = {p->tally, use->combination, worked->tool_mm, false};
    for (size_t i = 0; i < use->longest_count; i++)
        *longest_m = fmax(*longest_m, hk_fit_length_m(p->fit, NULL, ground, use->longest[i], 0, NULL));
}

/* Counts stitches, without skipped ones. */
static void count_stitches(const struct prediction *p, struct hk_kinds kinds, double copies, struct counted *counted)
{
    const struct hk_stitch *stitches = p->project->catalogue->stitches;
    double omega = hk_fit_omega(p->fit);
    for (size_t i = 0; i < kinds.count; i++) {
        const struct hk_stitch *stitch = &stitches[kinds.kinds[i].stitch];
        double count = copies * kinds.kinds[i].count;
        if (stitch->loops > 0 || stitch->wraps > 0)
            counted->stitches += count;
        counted->loops += count * hk_stitch_loops(stitch, omega);
    }
}

/* Counts the stitches of a role in a size and finds its longest row. */
static struct counted count_role(struct prediction *p, size_t size, size_t role)
{
    struct hk_total stitches = {0}, loops = {0};
    for (size_t line = 0; line < p->project->line_count; line++) {
        const struct hk_worked *worked = worked_at(p, size, line);
        struct counted *counted = &p->counted[lines_at(p, size, role) + line];
        for (size_t u = 0; u < worked->use_count && worked->times > 0; u++) {
            const struct hk_use *use = &worked->uses[u];
            double ends;
            if (!(hk_role_strands(&p->project->combinations[use->combination], role, use->ends, &ends) > 0))
                continue;
            count_stitches(p, use->kinds, (double)worked->times, counted);
            longest_row(p, worked, use, longest_at(p, size, role));
        }
        hk_total_add(&stitches, counted->stitches);
        hk_total_add(&loops, counted->loops);
    }
    return (struct counted){hk_total_value(stitches), hk_total_value(loops)};
}

/* ---- Spread ------------------------------------------------------------------------------------------------------ */

/* Returns the part of cov(ln M_r, ln M_s) from the making and its pieces, for two roles of one size. */
static double garment_covariance(const struct prediction *p, const struct hk_need_role *r, const struct hk_need_role *s)
{
    const struct hk_extent *of_r = &p->amounts[lines_at(p, r->size, r->role)];
    const struct hk_extent *of_s = &p->amounts[lines_at(p, s->size, s->role)];
    struct hk_total worked_r = {0}, worked_s = {0}, pieces = {0};
    for (size_t line = 0; line < p->project->line_count; line++) {
        int64_t copies = worked_at(p, r->size, line)->times;
        if (copies <= 0)
            continue;
        double part_r = of_r[line].worked / r->length_m.likely, part_s = of_s[line].worked / s->length_m.likely;
        hk_total_add(&worked_r, part_r);
        hk_total_add(&worked_s, part_s);
        hk_total_add(&pieces, part_r * part_s / (double)copies);
    }
    return hk_garment_covariance(&p->priors, hk_total_value(worked_r) * hk_total_value(worked_s),
                                 hk_total_value(pieces));
}

static double *covariance_of(const struct prediction *p)
{
    size_t count = p->role_count;
    double *covariance = hk_arena_take(&p->needed->arena, count * count, sizeof *covariance);
    for (size_t r = 0; r < count && covariance; r++) {
        hk_fit_along(p->fit, p->gradients + r * p->fit->count, p->along);
        for (size_t s = r; s < count; s++) {
            double c = hk_fit_dot(p->fit, p->along, p->gradients + s * p->fit->count);
            if (p->roles[r].size == p->roles[s].size)
                c += garment_covariance(p, &p->roles[r], &p->roles[s]);
            covariance[r * count + s] = covariance[s * count + r] = c;
        }
    }
    return covariance;
}

/* ---- Roles ------------------------------------------------------------------------------------------------------- */

/* Rounds half up. Returns false above the largest count. */
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
    hk_diags_add(p->diags, HK_CODE_COUNT_TOO_LARGE, hk_cell_place(at, 0), "%s comes to more than 10^12 stitches in size %s",
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
        hk_diags_add(p->diags, HK_CODE_COUNT_TOO_LARGE, at, "it takes more than 10^12 balls of %s in size %s", row->yarn,
                     row->size_name);
        hk_diags_hint(p->diags, "check put_up, stitches, rows and times");
        return;
    }
    hk_diags_add(p->diags, HK_CODE_BALL_SMALL, at,
                 "a ball of %s weighs %s g, and each join wastes %s g in size %s, so no number of balls is enough",
                 row->yarn, hk_number_text(row->put_up_g, 3).text, hk_number_text(row->join_g, 3).text, row->size_name);
    hk_diags_hint(p->diags, "%s",
                  p->project->join_anywhere ? "a larger put_up or a shorter tail would do"
                                            : "a larger put_up, or \"join,anywhere\" in project.csv, would do");
}

/*
 * When a ball holds few rows, finds the least number of balls that is enough at the chance by walking row by row,
 * starting from the number by the mean loss. Keeps that number when the limit of rows is reached.
 */
static void walk_balls(struct prediction *p, struct hk_need_role *row)
{
    struct hk_walk walk;
    double chance, asked = p->needed->face.chance;
    if (p->level.margin >= 0 || p->rows_walked > ROWS_WALKED_MOST ||
        !hk_walk_rows(p->needed, row->size, row->size, 1, row->role, &walk, &p->scratch) || !hk_walk_wanted(&walk, row->put_up_g))
        return;
    struct hk_pile pile = {row->balls, row->put_up_g};
    for (int way = 0; p->rows_walked <= ROWS_WALKED_MOST;) {
        p->scratch.out_of_memory |= !hk_walk_chance(&walk, &pile, 1, 0, row->spread_mass, &chance);
        p->rows_walked += (double)walk.row_count;
        bool enough = chance >= asked;
        if (enough)
            row->balls = pile.balls;
        if (p->scratch.out_of_memory || (enough && (way > 0 || pile.balls == 1)) || (!enough && way < 0))
            return;
        way = enough ? -1 : 1;
        pile.balls += way;
    }
}

static bool buy_balls(struct prediction *p, struct hk_need_role *row, double g_m)
{
    row->join_g = hk_join_g(p->project, g_m, *longest_at(p, row->size, row->role));
    if (hk_balls_needed(row->mass_g.enough, row->put_up_g, row->join_g, &row->balls)) {
        walk_balls(p, row);
        return true;
    }
    refuse_ball(p, row);
    return false;
}

/* Adds one role that is used in one size to the answer. */
static void add_role(struct prediction *p, size_t size, size_t role, const struct hk_predicted *predicted)
{
    const struct hk_project *project = p->project;
    const struct hk_candidate *plan = &project->candidates[project->roles[role].plan];
    const struct hk_yarn *yarn = &project->yarns[plan->yarn];
    struct hk_need_role *row = &p->roles[p->role_count];
    struct counted counted = count_role(p, size, role);
    double g_m = hk_fit_grist_g_m(p->fit, plan->yarn);
    size_t grist = hk_fit_find(p->fit, HK_PARAM_GRIST, 0, 0, yarn->name);
    assert(grist != SIZE_MAX);
    predicted->gradient[grist] += 1;
    *row = (struct hk_need_role){
        .size = size,
        .role = role,
        .size_name = project->sizes[size],
        .role_name = project->roles[role].name,
        .yarn = yarn->name,
        .colour = plan->colour,
        .rgb = plan->rgb ? plan->rgb : "",
        .loops = counted.loops,
        .put_up_g = yarn->put_up_g,
        .put_up_m = yarn->length_m,
        .spread = sqrt(predicted->variance),
        .spread_mass = sqrt(hk_fit_variance(p->fit, predicted->gradient) + predicted->garment_variance),
    };
    row->length_m = hk_range_of(&p->level, predicted->total, row->spread);
    row->mass_g = hk_range_of(&p->level, g_m * predicted->total, row->spread_mass);
    row->chance = p->level.margin < 0 ? p->needed->face.chance : hk_chance_within(log1p(p->level.margin), row->spread_mass);
    p->garment_variance[p->role_count] = predicted->garment_variance;
    p->role_count++;
    if (!whole_stitches(counted.stitches, &row->stitches))
        too_many_stitches(p, project->roles[role].cell, size, row->role_name);
    buy_balls(p, row, g_m);
}

static void predict_size(struct prediction *p, size_t size)
{
    for (size_t role = 0; role < p->project->role_count; role++) {
        struct hk_of_role of = {p->project, role};
        struct hk_asked asked = {p->fit, worked_at(p, size, 0), p->project->line_count, hk_of_role_use, &of, NULL};
        struct hk_predicted predicted = {.lines = &p->amounts[lines_at(p, size, role)],
                                         .gradient = p->gradients + p->role_count * p->fit->count};
        hk_predict(&asked, &p->priors, &predicted);
        if (predicted.total > 0)
            add_role(p, size, role, &predicted);
    }
}

/* ---- Parts ------------------------------------------------------------------------------------------------------- */

static size_t count_parts(const struct prediction *p)
{
    size_t count = 0;
    for (size_t i = 0; i < asked_sizes(p) * p->project->line_count * p->project->role_count; i++)
        count += p->amounts[i].worked + p->amounts[i].loose > 0;
    return count;
}

static void fill_part(struct prediction *p, const struct hk_need_role *row, size_t line, struct hk_need_part *part)
{
    size_t cell = lines_at(p, row->size, row->role) + line;
    const struct hk_line *of = &p->project->lines[line];
    double length_m = p->amounts[cell].worked + p->amounts[cell].loose;
    double share = length_m / row->length_m.likely;
    *part = (struct hk_need_part){
        .size = row->size, .role = row->role, .size_name = row->size_name, .piece = of->piece, .part = of->part,
        .role_name = row->role_name, .length_m = length_m, .share = share,
        .mass_g = share * row->mass_g.likely, .enough_g = share * row->mass_g.enough,
    };
    if (!whole_stitches(p->counted[cell].stitches, &part->stitches))
        too_many_stitches(p, of->cell, row->size, of->piece);
}

/* Lists the parts by size, line and role; roles[first] to roles[last - 1] belong to one size. */
static struct hk_need_part *list_parts(struct prediction *p, size_t *count)
{
    size_t n = 0;
    struct hk_need_part *parts = hk_arena_take(&p->needed->arena, count_parts(p), sizeof *parts);
    for (size_t first = 0, last = 0; first < p->role_count && parts; first = last) {
        while (last < p->role_count && p->roles[last].size == p->roles[first].size)
            last++;
        for (size_t line = 0; line < p->project->line_count; line++) {
            for (size_t r = first; r < last; r++) {
                const struct hk_extent *cell = &p->amounts[lines_at(p, p->roles[r].size, p->roles[r].role) + line];
                if (cell->worked + cell->loose > 0)
                    fill_part(p, &p->roles[r], line, &parts[n++]);
            }
        }
    }
    *count = n;
    return parts;
}

/*
 * ---- The whole need
 * ---------------------------------------------------------------------------------------------------
 */

struct hk_need_options hk_need_defaults(void)
{
    return (struct hk_need_options){.chance = 0, .size = HK_NO_SIZE};
}

static bool options_fit(const struct hk_fit *fit, struct hk_need_options options, struct hk_diags *diags)
{
    const struct hk_project *project = fit->tally->project;
    bool yarn_fits = fit->quantity == HK_QUANTITY_YARN;
    bool chance_fits = options.chance == 0 || (options.chance > 0 && options.chance < 1);
    bool size_fits = options.size == HK_NO_SIZE || options.size < project->size_count;
    if (!yarn_fits) {
        hk_diags_add(diags, HK_CODE_RANGE, (struct hk_place){"fit", 0, 0}, "a fit of time does not predict yarn");
        hk_diags_hint(diags, "ask with a fit of what was weighed");
    }
    if (!chance_fits) {
        hk_diags_add(diags, HK_CODE_RANGE, (struct hk_place){"chance", 0, 0}, "a chance of %s cannot be asked for",
                     hk_number_text(options.chance, 6).text);
        hk_diags_hint(diags, "a chance above 0 and below 1, such as 0.95, would do");
    }
    size_t sizes = options.size == HK_NO_SIZE ? project->size_count : 1;
    double roles = (double)project->role_count, sums = roles * roles * (double)sizes * (double)project->line_count;
    bool few = !size_fits || (sizes * project->role_count <= AMOUNTS_MOST && sums <= SUMS_MOST);
    if (!few) {
        hk_diags_add(diags, HK_CODE_RANGE, (struct hk_place){"yarns.csv", 0, 0},
                     "%zu roles in %zu lines and %zu sizes are too many to compute together", project->role_count,
                     project->line_count, sizes);
        hk_diags_hint(diags, "ask for one size, or remove roles or lines");
    }
    if (!size_fits) {
        hk_diags_add(diags, HK_CODE_RANGE, (struct hk_place){"size", 0, 0}, "there is no size number %zu", options.size + 1);
        hk_diags_hint(diags, "the project has %zu", project->size_count);
    }
    return yarn_fits && chance_fits && size_fits && few;
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
        .face =
            {
                .project = project->title,
                .chance = options.chance > 0 ? options.chance : project->chance,
                .margin = options.chance > 0 ? -1 : project->margin,
                .evidence = fit->evidence,
                .evidence_progress = hk_fit_pieces(fit, false),
                .evidence_learned = hk_fit_pieces(fit, true),
                .evidence_balls = hk_fit_balls(fit),
                .evidence_testers = fit->readers.testers,
                .left_out = fit->odd_count,
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
    p->amounts = hk_arena_take(&p->scratch, rows * p->project->line_count, sizeof *p->amounts);
    p->counted = hk_arena_take(&p->scratch, rows * p->project->line_count, sizeof *p->counted);
    p->longest_m = hk_arena_take(&p->scratch, rows, sizeof *p->longest_m);
    p->along = hk_arena_take(&p->scratch, p->fit->count, sizeof *p->along);
    p->refused = hk_arena_take(&p->scratch, p->project->role_count, sizeof *p->refused);
    p->roles = hk_arena_take(&p->needed->arena, rows, sizeof *p->roles);
    p->gradients = hk_arena_take(&p->needed->arena, rows * p->fit->count, sizeof *p->gradients);
    p->garment_variance = hk_arena_take(&p->needed->arena, rows, sizeof *p->garment_variance);
    return !p->scratch.out_of_memory && !p->needed->arena.out_of_memory;
}

static void predict_all(struct prediction *p)
{
    struct hk_needed *needed = p->needed;
    if (!make_room(p))
        return;
    p->priors = hk_priors_of(&p->project->spreads, HK_QUANTITY_YARN);
    p->level = hk_level_of(needed->face.chance, needed->face.margin);
    for (size_t size = needed->first_size; size <= needed->last_size; size++)
        predict_size(p, size);
    needed->face.roles = p->roles;
    needed->face.role_count = p->role_count;
    needed->gradients = p->gradients;
    needed->garment_variance = p->garment_variance;
    needed->face.parts = list_parts(p, &needed->face.part_count);
    needed->face.stitches = hk_need_by_stitch(needed, p->roles, p->role_count, &needed->face.stitch_count);
    needed->face.covariance = covariance_of(p);
    needed->face.used = hk_progress_used(p->tally, &needed->arena, &needed->face.used_count);
    if (!needed->arena.out_of_memory)
        hk_why(needed);
}

struct hk_need *hk_need_predict(const struct hk_fit *fit, struct hk_need_options options, struct hk_diags *diags)
{
    if (!options_fit(fit, options, diags) || !hk_tally_has_parts(fit->tally, options.size, diags))
        return NULL;
    size_t errors = diags->errors;
    struct prediction p = {
        .needed = needed_new(fit, options), .fit = fit, .tally = fit->tally, .project = fit->tally->project,
        .diags = diags,
    };
    if (!p.needed) {
        diags->out_of_memory = true;
        return NULL;
    }
    predict_all(&p);
    diags->out_of_memory |= p.scratch.out_of_memory || p.needed->arena.out_of_memory;
    hk_arena_free(&p.scratch);
    if (diags->out_of_memory || diags->errors > errors) {
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
