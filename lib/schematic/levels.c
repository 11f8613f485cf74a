/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "schematic/levels.h"

#include <math.h>

/* Far below a stitch, and far above the rounding of doubles. */
static const double same_m = 1e-9;

bool hk_levels_add(struct hk_levels *levels, struct hk_level level, struct hk_arena *arena)
{
    struct hk_level *grown =
        hk_arena_grow(arena, levels->levels, levels->count, &levels->capacity, sizeof *levels->levels);
    if (!grown)
        return false;
    levels->levels = grown;
    grown[levels->count++] = level;
    return true;
}

bool hk_levels_step(struct hk_levels *levels, int64_t stitches, double left_m, double right_m, struct hk_arena *arena)
{
    levels->levels[levels->count - 1].corner = true;
    struct hk_level level = levels->levels[levels->count - 1];
    level.stitches = stitches;
    level.left_m = left_m;
    level.right_m = right_m;
    level.ends = false;
    return hk_levels_add(levels, level, arena);
}

/* Returns the largest change of an edge from one row to the next, in metres, between two levels. */
static double step_of(const struct hk_level *levels, size_t first, size_t last)
{
    double step = 0;
    for (size_t i = first; i < last; i++) {
        double rows = (double)(levels[i + 1].rows - levels[i].rows);
        double left = fabs(levels[i + 1].left_m - levels[i].left_m),
               right = fabs(levels[i + 1].right_m - levels[i].right_m);
        step = fmax(step, fmax(left, right) / fmax(rows, 1));
    }
    return step;
}

/* Returns the distance of an edge from the straight line between two levels, in metres, the larger of both edges. */
static double apart_of(const struct hk_level *from, const struct hk_level *to, const struct hk_level *level)
{
    double part = to->y_m > from->y_m ? (level->y_m - from->y_m) / (to->y_m - from->y_m) : 0;
    double left = from->left_m + part * (to->left_m - from->left_m);
    double right = from->right_m + part * (to->right_m - from->right_m);
    return fmax(fabs(level->left_m - left), fabs(level->right_m - right));
}

/* Marks the corners between two corners: the farthest level from the straight line, and so on in both halves. */
static void corners_between(struct hk_level *levels, size_t first, size_t last, double step_m)
{
    size_t farthest = first;
    double most = step_m + same_m;
    for (size_t i = first + 1; i < last; i++) {
        double apart = apart_of(&levels[first], &levels[last], &levels[i]);
        if (apart <= most)
            continue;
        most = apart;
        farthest = i;
    }
    if (farthest == first)
        return;
    levels[farthest].corner = true;
    corners_between(levels, first, farthest, step_m);
    corners_between(levels, farthest, last, step_m);
}

void hk_levels_corners(struct hk_levels *levels)
{
    if (levels->count == 0)
        return;
    levels->levels[0].corner = levels->levels[levels->count - 1].corner = true;
    for (size_t first = 0, last; first + 1 < levels->count; first = last) {
        for (last = first + 1; !levels->levels[last].corner;)
            last++;
        corners_between(levels->levels, first, last, step_of(levels->levels, first, last));
    }
}
