/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The place of shaping in a flat row: near its start, near its end, or further inside. */
#include "pattern/run.h"

/* The changes of a row, by their place among the stitches that it makes. */
struct changing {
    const struct run *run;
    struct hk_ends ends;
    int64_t made, within; /* made: all stitches of the row; within: the changes far from both ends */
};

/* Records a change of `by` stitches where `at` stitches have been made and `behind` are still to come. */
static void change_add(struct changing *changing, int64_t by, int64_t at)
{
    int64_t behind = changing->made - at - (by > 0 ? by : 0), near = changing->made / 3;
    near = near < HK_ENDS_NEAR ? near : HK_ENDS_NEAR;
    if (at <= behind && at <= near)
        changing->ends.start += by;
    else if (behind < at && behind <= near)
        changing->ends.end += by;
    else
        changing->within += by;
}

/* Returns the first stitch from spot `i` on that is no counting chain; *at counts the chains passed. */
static size_t stitch_from(const struct hk_edge *made, size_t i, int64_t *at)
{
    for (; i < made->count && (made->spots[i].kind != HK_SPOT_STITCH || made->spots[i].chains > 0); i++)
        *at += made->spots[i].kind == HK_SPOT_STITCH;
    return i;
}

/*
 * Goes along the worked stitches and the places that they made: a stitch takes as many stitches of the row below as it
 * needs, and none if it shares its place with the one before.
 */
static void stitches_change(struct changing *changing)
{
    const struct run *run = changing->run;
    const struct hk_edge *made = &run->made;
    size_t i = 0, before = SIZE_MAX;
    int64_t at = 0;
    for (size_t e = 0; e < run->log.count; e++) {
        const struct hk_stitches *entry = &run->log.entries[e];
        const struct hk_stitch *stitch = hk_run_stitch_of(run, entry->stitch);
        for (int64_t n = 0; n < entry->count && entry->stitch != run->follow->chain; n++) {
            i = stitch_from(made, i, &at);
            if (entry->stitch == run->follow->slip && (i == made->count || made->spots[i].stitch != run->follow->slip))
                continue; /* it travels, or joins */
            bool shares = stitch->leaves > 0 && before != SIZE_MAX && i < made->count &&
                          made->spots[i].group == made->spots[before].group;
            int64_t by = stitch->leaves - (shares ? 0 : stitch->needs);
            if (by != 0)
                change_add(changing, by, at);
            for (int64_t k = 0; k < stitch->leaves && i < made->count; k++)
                before = i++;
            at += stitch->leaves;
        }
    }
}

/* Adds the stitches that the row skipped, and those that it left at its end or slipped over at its start. */
static void unworked_change(struct changing *changing)
{
    const struct run *run = changing->run;
    const int64_t below = hk_edge_count(&run->below, false);
    for (size_t k = run->skipped_first; k < run->skipped_count; k++) {
        const size_t at = run->skipped[k];
        if (run->below.spots[at].kind != HK_SPOT_STITCH)
            continue;
        if (at <= HK_ENDS_NEAR && 3 * (int64_t)at <= below)
            changing->ends.start--;
        else if (below - 1 - (int64_t)at <= HK_ENDS_NEAR && 3 * (below - 1 - (int64_t)at) <= below)
            changing->ends.end--;
        else
            changing->within--;
    }
    changing->ends.end -= hk_run_jumped_over(run) ? 0 : hk_run_leftover(run);
    changing->ends.start -= hk_edge_count(&run->behind, false);
}

static bool has_spaces(const struct hk_edge *edge)
{
    return hk_edge_count(edge, true) != hk_edge_count(edge, false);
}

struct hk_ends hk_run_ends(const struct run *run, int64_t count)
{
    if (run->manner.round || run->manner.strict)
        return (struct hk_ends){0};
    const int64_t more = count - hk_edge_count(&run->follow->edge, false) - hk_edge_count(&run->follow->needle, false);
    if (has_spaces(&run->made) || has_spaces(&run->below))
        return (struct hk_ends){.elsewhere = more != 0};
    struct changing changing = {.run = run, .made = hk_edge_count(&run->made, false)};
    stitches_change(&changing);
    unworked_change(&changing);
    bool inside = changing.within != 0 || changing.ends.start + changing.ends.end != more;
    if (more == 0 && inside)
        return (struct hk_ends){0}; /* a stitch pattern */
    changing.ends.elsewhere = inside;
    return changing.ends;
}
