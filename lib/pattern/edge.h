/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The edge as an array of places: what the follower does to it besides what follow.h shows. False where memory is lost.
 */
#ifndef HK_EDGE_H
#define HK_EDGE_H

#include "pattern/follow.h"

bool hk_edge_room(struct hk_edge *edge, size_t count);
bool hk_edge_push(struct hk_edge *edge, struct hk_spot spot);
bool hk_edge_add(struct hk_edge *to, const struct hk_spot *spots, size_t count);
void hk_edge_reverse(struct hk_edge *edge);
/* Makes `first` the first place of a round; what stood before it comes last. */
bool hk_edge_rotate(struct hk_edge *edge, size_t first, struct hk_edge *scratch);

#endif
