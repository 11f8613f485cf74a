/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Rows followed over an edge, one after another. What each leaves is written "count/width: places", places that stand in one place of
 * the row below joined by +: a space of two chains is "ch-2", a chain that counts has ^ behind what it stands for. Expected edges are
 * worked by hand.
 */
#include "support.h"

#include "pattern/follow.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#define ROWS_MOST 5
#define LINE_MOST 2000

enum start { EDGE, CHAIN, RING };

struct example {
    enum start start;
    int64_t stitches;
    struct hk_manner manner;
    const char *rows[ROWS_MOST], *edges[ROWS_MOST];
};

static void say_edge(const struct hk_catalogue *catalogue, const struct hk_followed *followed, const struct hk_edge *edge, char *text,
                     size_t size)
{
    size_t length = (size_t)snprintf(text, size, "%" PRId64 "/%" PRId64 ":", followed->count, followed->width);
    for (size_t i = 0; i < edge->count && length < size; i++) {
        const struct hk_spot *spot = &edge->spots[i];
        bool joined = i > 0 && spot->group == spot[-1].group;
        char place[32];
        if (spot->kind == HK_SPOT_SPACE)
            snprintf(place, sizeof place, "ch-%" PRIu32, spot->chains);
        else if (spot->kind == HK_SPOT_MARKER)
            snprintf(place, sizeof place, "m");
        else
            snprintf(place, sizeof place, "%s%s", spot->stitch == HK_SPOT_ANY ? "st" : catalogue->stitches[spot->stitch].us,
                     spot->chains ? "^" : "");
        length += (size_t)snprintf(text + length, size - length, "%s%s", joined ? "+" : " ", place);
    }
}

static bool start(struct hk_follow *follow, const struct example *e)
{
    return e->start == RING    ? hk_follow_ring(follow)
           : e->start == CHAIN ? hk_follow_chain(follow, e->stitches, false)
                               : hk_follow_edge(follow, e->stitches, HK_SPOT_ANY);
}

/* Whether every row leaves what it should; an edge without its places, "20/20:", stands for any of that count and width. */
static bool follows(const struct hk_catalogue *catalogue, const struct example *e)
{
    const struct hk_conventions usual = {0, 0};
    struct hk_arena arena = {0};
    struct hk_row rows[ROWS_MOST];
    struct hk_follow *follow = hk_follow_new(catalogue, &usual, 0, NULL);
    bool good = start(follow, e);
    for (size_t i = 0; i < ROWS_MOST && e->rows[i]; i++) {
        struct hk_diags diags = {0};
        struct hk_followed followed;
        char text[LINE_MOST];
        if (!hk_row_parse((struct hk_cell){.text = e->rows[i]}, HK_US, catalogue, &rows[i], &arena, &diags))
            assert_findings(&diags, "");
        hk_diags_free(&diags);
        assert_true(hk_follow_row(follow, &rows[i], e->manner, &followed));
        if (followed.good)
            say_edge(catalogue, &followed, hk_follow_edge_now(follow), text, sizeof text);
        else
            snprintf(text, sizeof text, "%s", followed.trouble.text);
        bool whole = strchr(e->edges[i], ':') && e->edges[i][strlen(e->edges[i]) - 1] != ':';
        if (!followed.good || whole ? strcmp(text, e->edges[i]) != 0 : strncmp(text, e->edges[i], strlen(e->edges[i])) != 0) {
            print_error("%s\n  is       %s\n  and not  %s\n", e->rows[i], text, e->edges[i]);
            good = false;
        }
    }
    hk_follow_free(follow);
    hk_arena_free(&arena);
    return good;
}

static void assert_follows(const struct hk_catalogue *catalogue, const struct example *examples, size_t count)
{
    bool good = true;
    for (size_t i = 0; i < count; i++)
        good &= follows(catalogue, &examples[i]);
    assert_true(good);
}

#define FOLLOWS(examples) assert_follows(*state, examples, sizeof examples / sizeof *examples)

/* A group goes round its corner, and between groups there is a gap: none beside a space, one at the end of the round. */
static void granny_rounds_meet_their_gaps(void **state)
{
    static const char *const later = "sl st to ch-2 sp, (ch 3, 2 dc, ch 2, 3 dc) in same sp, *3 dc in sp between next 2 groups*, "
                                     "((3 dc, ch 2, 3 dc) in ch-2 sp, *3 dc in sp between next 2 groups*) 3 times, join";
    const struct example examples[] = {
        {RING, 0, {.strict = true},
         {"ch 3, 2 dc in ring, ch 2, (3 dc, ch 2) 3 times in ring, join with sl st to top of ch-3", later, later, later},
         {"12/20: dc^+dc+dc ch-2 dc+dc+dc ch-2 dc+dc+dc ch-2 dc+dc+dc ch-2",
          "24/32: dc^+dc+dc+ch-2+dc+dc+dc dc+dc+dc+ch-2+dc+dc+dc dc+dc+dc+ch-2+dc+dc+dc dc+dc+dc+ch-2+dc+dc+dc", "36/44:", "48/56:"}},
    };
    FOLLOWS(examples);
}

/* What a repeat names itself does not end it. */
static void a_repeat_goes_on_over_the_places_that_it_names(void **state)
{
    static const struct example examples[] = {
        {CHAIN, 9, {.strict = true},
         {"tch 1, sc 1, *ch 1, sk 1, sc 1*", "tch 1, sc 1, *sc 1 in ch-1 sp, ch 1, sk 1*, sc 1 in ch-1 sp, sc 1",
          "tch 1, sc 1, ch 1, sk 1, *sc 1 in ch-1 sp, ch 1, sk 1*, sc 1"},
         {"5/9: sc ch-1 sc ch-1 sc ch-1 sc ch-1 sc", "6/9: sc sc ch-1 sc ch-1 sc ch-1 sc sc",
          "5/9: sc ch-1 sc ch-1 sc ch-1 sc ch-1 sc"}},
    };
    FOLLOWS(examples);
}

/* The examples of the design page: what custom says of chains, spaces, left stitches and remainders. */
static void rows_of_the_design_page(void **state)
{
    static const struct example examples[] = {
        {EDGE, 20, {0}, {"Ch 1, sc in each st across, turn."}, {"20/20:"}},
        {EDGE, 18, {.round = true}, {"*Sc in next 2 sts, 2 sc in next st; rep from * around (24 sts)"}, {"24/24:"}},
        {EDGE, 20, {.round = true}, {"Ch 3, dc in each st around, join with sl st to top of ch-3 (20 dc)"}, {"20/20: dc^ dc dc"}},
        {EDGE, 20, {0},
         {"Ch 3 (counts as dc), *sk next st, (dc, ch 1, dc) in next st, sk next st; rep from * to last st, dc in last st, turn.",
          "Ch 3, (dc, ch 1, dc) in each ch-1 sp across, dc in top of turning ch, turn"},
         {"14/20:", "14/20:"}},
        {EDGE, 20, {0}, {"Sl st in next 3 sts, ch 1, sc in each st to last 3 sts, turn (14 sc)"}, {"14/14:"}},
        {EDGE, 6, {.round = true}, {"Inc in each st around (12)"}, {"12/12:"}},
        {EDGE, 23, {0}, {"*K2, p2; rep from * across"}, {"3 stitches remain where this repeat should come out"}},
        {EDGE, 22, {0}, {"*K2, p2; rep from *, end k2"}, {"22/22:"}},
        {EDGE, 24, {.round = true}, {"*Sk 2 sts, 5 dc in next st, sk 2 sts, sc in next st; rep from * around"}, {"24/24:"}},
    };
    FOLLOWS(examples);
}

/* How often a repeat within another runs has to be said. */
static void a_repeat_in_an_open_one_is_refused(void **state)
{
    static const struct example examples[] = {
        {EDGE, 12, {.strict = true}, {"*sc, (dc, *sc*) x 2*"},
         {"this repeat stands in another, and nothing says how often it runs or where it ends"}},
        {EDGE, 12, {.strict = true}, {"(2 sc in 1, *sc 1*) 6 times", "(2 sc in 1, *sc 1*) 6 times"}, {"18/18:", "24/24:"}},
    };
    FOLLOWS(examples);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(granny_rounds_meet_their_gaps),
        cmocka_unit_test(a_repeat_goes_on_over_the_places_that_it_names),
        cmocka_unit_test(rows_of_the_design_page),
        cmocka_unit_test(a_repeat_in_an_open_one_is_refused),
    };
    return cmocka_run_group_tests(tests, catalogue_set_up, catalogue_tear_down);
}
