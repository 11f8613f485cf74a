/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The rows that balls finish, in the order of the work. */
#ifndef HK_BALL_ENDS_H
#define HK_BALL_ENDS_H

#include "need/walk.h"

/* The first ball may be begun already. Where joins are at row ends, a ball that cannot finish a row is replaced before
 * it. */
struct hk_ball_lengths {
    double first_m, ball_m;
    bool join_anywhere;
};

/* Sets the rows that each ball and those before it finish, if every row takes `scale` times its length; row_count + 1:
 * the ball does not end. */
void hk_ball_rows(const struct hk_walk *walk, struct hk_ball_lengths lengths, double scale, size_t *rows, size_t balls);

/* Fills the ends of so many balls, at the scales of the likely, the earliest and the latest end. False when out of
 * memory. */
bool hk_ball_ends_list(const struct hk_project *project, const struct hk_walk *walk, struct hk_ball_lengths lengths,
                       const double scales[3], struct hk_ball_end *list, size_t balls, struct hk_arena *arena);

#endif
