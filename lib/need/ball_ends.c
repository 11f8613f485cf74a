/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Where each ball ends: the rows of the work in order, each with its likely length; a ball that cannot finish a row is
 * replaced at the start of that row, or, where joins may be anywhere, within it. The earliest and the latest end are
 * those of a making that takes the 95% and the 5% quantile of the yarn.
 */
#include "need/ball_ends.h"

#include "model/predict.h"
#include "need/need.h"
#include "need/walk.h"

#include <math.h>
#include <stdlib.h>

struct ends {
    struct hk_ball_ends face;
    struct hk_arena arena;
};

/* Returns the place behind which a ball ends, after `rows` whole rows of the walk. */
static struct hk_ball_place place_of(const struct hk_project *project, const struct hk_walk *walk, size_t rows)
{
    if (rows == 0 || rows > walk->row_count)
        return (struct hk_ball_place){.piece = "", .part = ""};
    const struct hk_walk_place *at = &walk->places[rows - 1];
    return (struct hk_ball_place){project->lines[at->line].piece, project->lines[at->line].part, at->copy, at->row,
                                  at->copies};
}

void hk_ball_rows(const struct hk_walk *walk, struct hk_ball_lengths lengths, double scale, size_t *rows, size_t balls)
{
    const bool anywhere = lengths.join_anywhere;
    const double joined_m = lengths.ball_m - 2 * walk->tail_m; /* of a ball that is joined to the one before */
    double left_m = lengths.first_m;
    size_t ball = 0;
    for (size_t row = 0; row < walk->row_count && ball < balls && joined_m > 0; row++) {
        double row_m = scale * walk->rows_m[row];
        while (row_m > left_m && ball < balls) {
            if (anywhere || row_m > joined_m)
                row_m -= left_m;
            rows[ball++] = row;
            left_m = joined_m;
        }
        left_m -= row_m;
    }
    while (ball < balls)
        rows[ball++] = walk->row_count + 1;
}

bool hk_ball_ends_list(const struct hk_project *project, const struct hk_walk *walk, struct hk_ball_lengths lengths,
                       const double scales[3], struct hk_ball_end *list, size_t balls, struct hk_arena *arena)
{
    size_t *rows = hk_arena_take(arena, 3 * balls, sizeof *rows);
    for (size_t i = 0; rows && i < 3 && balls > 0; i++)
        hk_ball_rows(walk, lengths, scales[i], rows + i * balls, balls);
    for (size_t i = 0; rows && i < balls; i++)
        list[i] = (struct hk_ball_end){.ball = (int64_t)i + 1,
                                       .likely = place_of(project, walk, rows[i]),
                                       .earliest = place_of(project, walk, rows[balls + i]),
                                       .latest = place_of(project, walk, rows[2 * balls + i])};
    return rows;
}

static bool list_ends(struct ends *ends, const struct hk_needed *needed, const struct hk_need_role *role,
                      const struct hk_walk *walk)
{
    const struct hk_project *project = needed->fit->tally->project;
    const struct hk_level level = hk_level_of(needed->face.chance, -1);
    const size_t balls = role->balls > 1 ? (size_t)role->balls - 1 : 0;
    struct hk_ball_end *list = hk_arena_take(&ends->arena, balls, sizeof *list);
    const double ball_m = role->put_up_g / walk->g_m;
    const struct hk_ball_lengths lengths = {ball_m, ball_m, project->join_anywhere};
    const double scales[] = {1, exp(role->spread_mass * level.high), exp(role->spread_mass * level.low)};
    if (!list || !hk_ball_ends_list(project, walk, lengths, scales, list, balls, &ends->arena))
        return false;
    ends->face.ends = list;
    ends->face.count = balls;
    return true;
}

struct hk_ball_ends *hk_need_ball_ends(const struct hk_need *need, size_t at, struct hk_diags *diags)
{
    const struct hk_needed *needed = (const struct hk_needed *)need;
    const struct hk_need_role *role = &need->roles[at];
    struct ends *ends = calloc(1, sizeof *ends);
    struct hk_walk walk;
    if (!ends) {
        hk_diags_set_out_of_memory(diags);
        return NULL;
    }
    if (hk_walk_list(needed, role->size, role->role, &walk, &ends->arena))
        list_ends(ends, needed, role, &walk);
    if (ends->arena.out_of_memory) {
        hk_diags_set_out_of_memory(diags);
        hk_need_ball_ends_free(&ends->face);
        return NULL;
    }
    return &ends->face;
}

void hk_need_ball_ends_free(struct hk_ball_ends *ends)
{
    struct ends *whole = (struct ends *)ends;
    if (!whole)
        return;
    hk_arena_free(&whole->arena);
    free(whole);
}
