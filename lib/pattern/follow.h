/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Following a row over the edge: the places that are there, in working order, for one size. One engine for swatches,
 * pieces, fabrics and pattern.txt. Nothing is read and nothing printed here; a row that cannot be followed says why in
 * words, and the caller knows file, piece and size.
 */
#ifndef HK_FOLLOW_H
#define HK_FOLLOW_H

#include "pattern/edge.h"
#include "pattern/followed.h"

struct hk_follow;

/*
 * For one part in one size. `conventions` is read at every row. `effort` (may be NULL) is what all together may still
 * cost, a unit for each place. NULL where memory runs out. Owner: the caller.
 */
struct hk_follow *hk_follow_new(const struct hk_catalogue *catalogue, const struct hk_conventions *conventions,
                                size_t size, int64_t *effort);
void hk_follow_free(struct hk_follow *follow);

/* What the first row is worked into; false where memory runs out. `joined`: chains closed to a ring of chains, worked
 * in rounds. */
bool hk_follow_chain(struct hk_follow *follow, int64_t chains, bool joined);
/* Stitches that are there; HK_SPOT_ANY: their kind is not known. */
bool hk_follow_edge(struct hk_follow *follow, int64_t stitches, size_t stitch);
bool hk_follow_ring(struct hk_follow *follow);
/* The edge of another follower, as it is now. */
bool hk_follow_copy(struct hk_follow *follow, const struct hk_follow *from);

/*
 * What rows may work into besides the edge: `list` must live as long and gets what they take. `copies`: how often the
 * piece is made that they belong to. `part`: the part of the row that made the edge, for what is left of it.
 */
void hk_follow_others(struct hk_follow *follow, struct hk_other *list, size_t count, int64_t copies);
void hk_follow_part(struct hk_follow *follow, size_t part);
/* No places: what is worked on is not there, or a row names it. */
void hk_follow_clear(struct hk_follow *follow);
/* Places that are there already, `count` of `spots`. */
bool hk_follow_places(struct hk_follow *follow, const struct hk_spot *spots, size_t count);
/* Places that rows left beyond the end of the edge (0) and before its start (1), nearest first. */
const struct hk_edge *hk_follow_beyond(const struct hk_follow *follow, int side);
/* Stitches of knitting that wait on the other needle. */
const struct hk_edge *hk_follow_needle(const struct hk_follow *follow);

/* Works one row. False where memory runs out; followed->good tells of the row. One that cannot be followed leaves the
 * edge as it was. */
bool hk_follow_row(struct hk_follow *follow, const struct hk_row *row, struct hk_manner manner,
                   struct hk_followed *followed);

/* The edge as the next row finds it. */
const struct hk_edge *hk_follow_edge_now(const struct hk_follow *follow);
const char *hk_convention_text(enum hk_convention choice, bool other); /* "ch 3 counts as dc" */

#endif
