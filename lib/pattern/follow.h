/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Follows rows over the edge, the places in working order, for one size: the engine for swatches, pieces, fabrics and
 * pattern.txt. It reads and prints nothing. A row that cannot be followed has an error text; the caller adds file,
 * piece and size.
 */
#ifndef HK_FOLLOW_H
#define HK_FOLLOW_H

#include "pattern/edge.h"
#include "pattern/followed.h"

struct hk_follow;

/*
 * Creates a follower for one part in one size. `conventions` is read at every row. `effort` (may be NULL) is the
 * remaining effort of all followers, one unit for each place. NULL when out of memory. Owner: the caller.
 */
struct hk_follow *hk_follow_new(const struct hk_catalogue *catalogue, const struct hk_conventions *conventions,
                                size_t size, int64_t *effort);
void hk_follow_free(struct hk_follow *follow);

/*
 * Set the places for the first row; return false when out of memory. joined: the chains form a ring, worked in rounds.
 */
bool hk_follow_chain(struct hk_follow *follow, int64_t chains, bool joined);
/* Existing stitches; HK_SPOT_ANY: of unknown kind. */
bool hk_follow_edge(struct hk_follow *follow, int64_t stitches, size_t stitch);
bool hk_follow_ring(struct hk_follow *follow);
/* Copies the current edge of another follower. */
bool hk_follow_copy(struct hk_follow *follow, const struct hk_follow *from);

/*
 * Sets the places besides the edge that rows may work into. `list` must live as long as the follower and receives what
 * rows take. copies: the copies of the piece of these rows. part: the part of the row that made the edge, for stitches
 * that it leaves.
 */
void hk_follow_others(struct hk_follow *follow, struct hk_other *list, size_t count, int64_t copies);
void hk_follow_part(struct hk_follow *follow, size_t part);
/* Removes all places: the work below does not exist, or a row names it. */
void hk_follow_clear(struct hk_follow *follow);
/* Removes the places that rows left beyond the edge: they are other work. */
void hk_follow_alone(struct hk_follow *follow);
/* Sets existing places, `count` of `spots`. */
bool hk_follow_places(struct hk_follow *follow, const struct hk_spot *spots, size_t count);
/* Returns the places that rows left beyond the end of the edge (0) or before its start (1), nearest first. */
const struct hk_edge *hk_follow_beyond(const struct hk_follow *follow, int side);
/* Returns the knit stitches on the other needle. */
const struct hk_edge *hk_follow_needle(const struct hk_follow *follow);

/*
 * Works one row. Returns false when out of memory; followed->good is false when the row cannot be followed, and the
 * edge is then unchanged.
 */
bool hk_follow_row(struct hk_follow *follow, const struct hk_row *row, struct hk_manner manner,
                   struct hk_followed *followed);

/* Returns the edge for the next row. */
const struct hk_edge *hk_follow_edge_now(const struct hk_follow *follow);
const char *hk_convention_text(enum hk_convention choice, bool other); /* "ch 3 counts as dc" */

#endif
