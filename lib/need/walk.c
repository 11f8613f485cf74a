/* SPDX-License-Identifier: GPL-3.0-or-later */
/* See walk.h. */
#include "need/walk.h"

#include "model/chance.h"
#include "need/by_stitch.h"

#include <assert.h>
#include <gsl/gsl_math.h>
#include <gsl/gsl_randist.h>
#include <stdlib.h>

/* The number of antithetic pairs of walks. */
#ifdef HK_FUZZING
#define PAIRS 1
#else
#define PAIRS 25
#endif
#define SEED 911 /* arbitrary; never changed, so that equal input gives equal output */
/* Relative spreads of the length of a ball and of a row: from experience, no source. */
#define BALL_SPREAD 0.015
#define ROW_SPREAD 0.02
/* The limit of rows: some nanoseconds each, times the walks and their steps, so that a chance takes about 10 ms. */
#define ROWS_MOST 2000
#define LISTED_MOST 100000 /* of a list that is gone through three times */
/* The interval -FAR to FAR of x_n, and the number of bisections. */
#define FAR 4.0
#define STEPS 22

/* ---- The rows of the work ---------------------------------------------------------------------------------------- */

static void add_row(struct hk_walk *walk, double length_m, struct hk_walk_place place, struct hk_arena *arena)
{
    double *rows = hk_arena_grow(arena, walk->rows_m, walk->row_count, &walk->capacity, sizeof *rows);
    struct hk_walk_place *places =
        rows ? hk_arena_grow(arena, walk->places, walk->row_count, &walk->place_capacity, sizeof *places) : NULL;
    if (!places)
        return;
    walk->rows_m = rows;
    walk->places = places;
    places[walk->row_count] = place;
    rows[walk->row_count++] = length_m;
}

/* Returns the combination of a row of a line; rows count from 1. */
static size_t combination_of(const struct hk_tally *tally, size_t line, int64_t row)
{
    return tally->project->lines[line].yarn.stripes[hk_tally_row_stripe(tally, line, row)].combination;
}

/* Returns the stitches that a row of a run leaves; at least 1, since every row uses yarn. */
static double stitches_of(const struct hk_row_run *run, int64_t row)
{
    return fmax((double)(run->stitches + (row - run->first) * run->step), 1);
}

/* The share of the role in the use of a combination. */
struct part {
    double strands, worked_m, loose_m, stitches; /* for one copy; stitches: of all rows in this combination */
    size_t combination;
};

/* Returns the part of a combination; it exists, since the line uses the combination of each of its rows. */
static struct part *part_of(struct part *parts, size_t count, size_t combination)
{
    size_t i = 0;
    while (i + 1 < count && parts[i].combination != combination)
        i++;
    assert(parts[i].combination == combination);
    return &parts[i];
}

static int64_t rows_of(const struct hk_worked *worked)
{
    return worked->run_count > 0 ? worked->runs[worked->run_count - 1].last : 0;
}

/*
 * Adds one copy of a line: the length of each combination is distributed over its rows in proportion to their stitches;
 * ends belong to the first row.
 */
static void add_copy(struct hk_walk *walk, const struct hk_tally *tally, const struct hk_worked *worked,
                     struct part *parts, struct hk_walk_place place, struct hk_arena *arena)
{
    const size_t part_count = worked->use_count;
    bool *begun = hk_arena_take(arena, part_count, sizeof *begun);
    for (size_t r = 0; begun && r < worked->run_count; r++) {
        for (int64_t row = worked->runs[r].first; row <= worked->runs[r].last; row++) {
            struct part *part = part_of(parts, part_count, combination_of(tally, place.line, row));
            if (!(part->strands > 0))
                continue;
            double length_m = part->worked_m * stitches_of(&worked->runs[r], row) / part->stitches;
            place.row = row;
            add_row(walk, length_m + (begun[part - parts] ? 0 : part->loose_m), place, arena);
            begun[part - parts] = true;
        }
    }
    place.row = 0;
    for (size_t i = 0; begun && i < part_count; i++)
        if (!begun[i] && parts[i].strands > 0)
            add_row(walk, parts[i].worked_m + parts[i].loose_m, place, arena);
}

/* Returns false when the line uses the role but its rows are not known. */
static bool add_line(struct hk_walk *walk, const struct hk_fit *fit, size_t size, size_t line, size_t role,
                     struct hk_arena *arena)
{
    const struct hk_project *project = fit->tally->project;
    const struct hk_worked *worked = &fit->tally->lines[size * project->line_count + line];
    struct part *parts = hk_arena_take(arena, worked->use_count, sizeof *parts);
    bool any = false;
    for (size_t u = 0; parts && u < worked->use_count; u++) {
        const struct hk_use *use = &worked->uses[u];
        struct hk_ground ground = {fit->tally, use->combination, worked->tool_mm, false};
        const struct hk_of_role of_role = {project, role};
        const struct hk_asked_of of = hk_of_role_use(&of_role, use);
        parts[u].combination = use->combination;
        parts[u].strands = of.strands;
        parts[u].loose_m = of.loose;
        parts[u].worked_m = parts[u].strands * hk_fit_length_m(fit, NULL, ground, use->kinds, 0, NULL);
        any |= parts[u].strands > 0;
    }
    if (!any || worked->times <= 0)
        return true;
    for (size_t r = 0; r < worked->run_count; r++) {
        for (int64_t row = worked->runs[r].first; row <= worked->runs[r].last; row++) {
            struct part *part = part_of(parts, worked->use_count, combination_of(fit->tally, line, row));
            part->stitches += stitches_of(&worked->runs[r], row);
        }
    }
    for (int64_t copy = 0; copy < worked->times; copy++)
        add_copy(walk, fit->tally, worked, parts, (struct hk_walk_place){line, copy + 1, 0, worked->times}, arena);
    return worked->run_count > 0;
}

/* Returns true when all garments together have few enough rows. */
static bool few_rows(const struct hk_tally *tally, size_t first, size_t last, int64_t times, double most)
{
    double rows = 0;
    for (size_t i = first * tally->project->line_count; i < (last + 1) * tally->project->line_count; i++)
        rows += tally->lines[i].times > 0 ? (double)(rows_of(&tally->lines[i]) + 1) * (double)tally->lines[i].times : 0;
    return rows * (double)times <= most;
}

/* Lists the rows. Returns false when some line uses the role and its rows are not known, or memory runs out. */
static bool list_rows(const struct hk_needed *needed, size_t first_size, size_t last_size, int64_t times, size_t role,
                      struct hk_walk *walk, struct hk_arena *arena)
{
    const struct hk_project *project = needed->fit->tally->project;
    bool known = true;
    for (size_t size = first_size; size <= last_size; size++)
        for (int64_t making = 0; making < times; making++)
            for (size_t line = 0; line < project->line_count; line++)
                known &= add_line(walk, needed->fit, size, line, role, arena);
    double sum = 0, squares = 0;
    for (size_t i = 0; i < walk->row_count; i++) {
        sum += walk->rows_m[i];
        squares += gsl_pow_2(walk->rows_m[i]);
    }
    walk->sum_m = sum;
    walk->mean_row_m = sum > 0 ? squares / sum : 0;
    return known && !arena->out_of_memory && sum > 0;
}

static struct hk_walk new_walk(const struct hk_needed *needed, size_t role)
{
    const struct hk_project *project = needed->fit->tally->project;
    return (struct hk_walk){.tail_m = project->tail_m,
                            .g_m = hk_fit_grist_g_m(needed->fit, project->candidates[project->roles[role].plan].yarn)};
}

bool hk_walk_rows(const struct hk_needed *needed, size_t first_size, size_t last_size, int64_t times, size_t role,
                  struct hk_walk *walk, struct hk_arena *arena)
{
    const struct hk_tally *tally = needed->fit->tally;
    *walk = new_walk(needed, role);
    return !tally->project->join_anywhere && few_rows(tally, first_size, last_size, times, ROWS_MOST) &&
           list_rows(needed, first_size, last_size, times, role, walk, arena);
}

bool hk_walk_list(const struct hk_needed *needed, size_t size, size_t role, struct hk_walk *walk,
                  struct hk_arena *arena)
{
    *walk = new_walk(needed, role);
    return few_rows(needed->fit->tally, size, size, 1, LISTED_MOST) &&
           list_rows(needed, size, size, 1, role, walk, arena);
}

bool hk_walk_wanted(const struct hk_walk *walk, double put_up_g)
{
    double ball_m = put_up_g / walk->g_m;
    return walk->row_count > 0 && ball_m < HK_WALK_ROWS_LEAST * walk->mean_row_m && walk->sum_m < ROWS_MOST * ball_m;
}

/* ---- Walking ----------------------------------------------------------------------------------------------------- */

/* One walk: the length of each ball without joins, and the factor of each row. */
struct walking {
    const struct hk_walk *walk;
    const double *balls_m, *factors;
    size_t ball_count;
};

/* Returns true when the balls are enough at this scale. A row longer than a ball is joined within the row. */
static bool carried(const struct walking *w, double scale)
{
    size_t ball = 0;
    double left_m = w->balls_m[0];
    for (size_t r = 0; r < w->walk->row_count; r++) {
        double row_m = scale * w->factors[r] * w->walk->rows_m[r];
        while (row_m > left_m) {
            if (++ball == w->ball_count)
                return false;
            if (row_m > w->balls_m[ball])
                row_m -= fmax(left_m, 0);
            left_m = w->balls_m[ball];
        }
        left_m -= row_m;
    }
    return true;
}

/* Returns the largest x at which the balls are enough, by bisection: they are then enough at every smaller scale. */
static double largest_x(const struct walking *w)
{
    double low = -FAR, high = FAR; /* low: enough */
    if (!carried(w, exp(low)))
        return -HUGE_VAL;
    for (int i = 0; i < STEPS; i++) {
        double x = (low + high) / 2;
        if (carried(w, exp(x)))
            low = x;
        else
            high = x;
    }
    return low;
}

/* Sets the length of each ball; the first swatch_m are used before, and each ball after the first loses two tails. */
static void give(const struct hk_walk *walk, const struct hk_pile *piles, size_t pile_count, double swatch_m,
                 const double *z, double sign, double *balls_m)
{
    size_t b = 0;
    for (size_t i = 0; i < pile_count; i++) {
        for (int64_t n = 0; n < piles[i].balls; n++, b++) {
            double whole_m =
                piles[i].put_up_g / walk->g_m * exp(sign * BALL_SPREAD * z[b]) - (b > 0 ? 2 * walk->tail_m : 0);
            double used_m = fmin(swatch_m, fmax(whole_m, 0));
            balls_m[b] = fmax(whole_m, 0) - used_m;
            swatch_m -= used_m;
        }
    }
}

static double chance_of(double x, double spread)
{
    if (spread > 0)
        return hk_normal_chance(x / spread);
    return x >= 0 ? 1 : 0;
}

bool hk_walk_chance(const struct hk_walk *walk, const struct hk_pile *piles, size_t pile_count, double swatch_use_g,
                    double spread, double *chance)
{
    int64_t count = 0;
    for (size_t i = 0; i < pile_count; i++)
        count += piles[i].balls;
    *chance = 0;
    if (count < 1)
        return true;
    size_t balls = (size_t)count, rows = walk->row_count;
    double *memory = calloc(2 * (balls + rows), sizeof *memory);
    gsl_rng *rng = hk_random_new(SEED);
    double *ball_z = memory, *balls_m = memory + balls, *row_z = balls_m + balls, *factors = row_z + rows;
    struct walking w = {walk, balls_m, factors, balls};
    bool done = memory && rng;
    for (unsigned long pair = 0; done && pair < PAIRS; pair++) {
        gsl_rng_set(rng, SEED + pair); /* rows are drawn before balls, so that one more ball changes no other draw */
        for (size_t r = 0; r < rows; r++)
            row_z[r] = gsl_ran_gaussian_ziggurat(rng, 1);
        for (size_t b = 0; b < balls; b++)
            ball_z[b] = gsl_ran_gaussian_ziggurat(rng, 1);
        for (int mirrored = 0; mirrored < 2; mirrored++) {
            double sign = mirrored ? -1 : 1;
            for (size_t r = 0; r < rows; r++)
                factors[r] = exp(sign * ROW_SPREAD * row_z[r]);
            give(walk, piles, pile_count, swatch_use_g / walk->g_m, ball_z, sign, balls_m);
            *chance += chance_of(largest_x(&w), spread) / (2 * PAIRS);
        }
    }
    *chance = fmin(*chance, 1);
    free(memory);
    gsl_rng_free(rng);
    return done;
}
