/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Counting: each expected count is worked by hand in the comment above it. */
#include "support.h"

#include "tally/count.h"

#include <stdio.h>
#include <string.h>

#define ROWS_MOST 16

struct bench {
    struct hk_catalogue *catalogue;
    struct hk_arena arena;
    struct hk_fabric fabric;
    struct hk_row rows[ROWS_MOST];
    struct hk_work work;
    struct hk_counted counted;
    struct hk_count_error error;
};

static const int64_t one_stripe[] = {HK_COUNT_MOST};

static int set_up(void **state)
{
    static struct bench bench;
    bench.catalogue = shipped_catalogue();
    *state = &bench;
    return bench.catalogue ? 0 : -1;
}

static int tear_down(void **state)
{
    struct bench *bench = *state;
    hk_arena_free(&bench->arena);
    hk_catalogue_free(bench->catalogue);
    return 0;
}

static size_t stitch(const struct bench *bench, const char *us)
{
    for (size_t i = 0; i < bench->catalogue->stitch_count; i++) {
        if (bench->catalogue->stitches[i].us && strcmp(bench->catalogue->stitches[i].us, us) == 0)
            return i;
    }
    fail_msg("no stitch %s", us);
    return 0;
}

/* Makes a fabric from rows separated by "/"; a row that begins with "!" is a set-up row. */
static void fabric(struct bench *bench, const char *rows)
{
    struct hk_diags diags = {0};
    hk_arena_free(&bench->arena);
    bench->fabric = (struct hk_fabric){.name = rows, .rows = bench->rows};
    size_t count = 0;
    while (*rows) {
        size_t length = strcspn(rows, "/");
        bool once = *rows == '!';
        struct hk_cell cell = {.text = hk_arena_text(&bench->arena, rows + once, length - once)};
        if (!hk_row_parse(cell, HK_TERMS_US, bench->catalogue, &bench->rows[count], &bench->arena, &diags))
            assert_findings(&diags, "");
        count++;
        bench->fabric.setup_count += once;
        rows += length + (rows[length] == '/');
    }
    bench->fabric.cycle_count = count - bench->fabric.setup_count;
    bench->fabric.knit = bench->rows[0].knit;
    bench->work = (struct hk_work){
        .fabric = &bench->fabric,
        .catalogue = bench->catalogue,
        .stitches = HK_NOT_STATED,
        .end_stitches = HK_NOT_STATED,
        .stripe_rows = one_stripe,
        .stripe_count = 1,
        .foundation_stitch = stitch(bench, "ch"),
    };
    hk_diags_free(&diags);
}

static enum hk_counting count(struct bench *bench, enum hk_start start, int64_t stitches, int64_t rows)
{
    bench->work.start = start;
    bench->work.stitches = stitches;
    bench->work.rows = rows;
    enum hk_counting answer = hk_count_part(&bench->work, &bench->counted, &bench->error, &bench->arena);
    if (answer == HK_COUNTING_DONE)
        hk_follow_free(bench->counted.follow);
    return answer;
}

static double kind_of(const struct bench *bench, struct hk_kinds kinds, const char *us)
{
    size_t wanted = stitch(bench, us);
    for (size_t i = 0; i < kinds.count; i++) {
        if (kinds.kinds[i].stitch == wanted)
            return kinds.kinds[i].count;
    }
    return 0;
}

static double kind(const struct bench *bench, const char *us)
{
    return kind_of(bench, bench->counted.stripes[0].kinds, us);
}

static void assert_kind(const struct bench *bench, const char *us, double expected)
{
    assert_close(kind(bench, us), expected, 0, 1e-9);
}

/* Formats runs as "1-3: 12, 4-6: 18+6". */
static void assert_runs(const struct bench *bench, const char *expected)
{
    char text[512] = "";
    for (size_t i = 0; i < bench->counted.run_count; i++) {
        const struct hk_row_run *run = &bench->counted.runs[i];
        size_t length = strlen(text);
        int wrote = snprintf(text + length, sizeof text - length, "%s%d-%d: %d", i ? ", " : "", (int)run->first,
                             (int)run->last, (int)run->stitches);
        if (run->step)
            snprintf(text + length + (size_t)wrote, sizeof text - length - (size_t)wrote, "%+d", (int)run->step);
    }
    assert_string_equal(text, expected);
}

static void assert_around(const int64_t around[2], int64_t below, int64_t above)
{
    assert_int_equal(around[0], below);
    assert_int_equal(around[1], above);
}

/* ---- Row 1 ------------------------------------------------------------------------------------------------------- */

/* 20 stitches: 20 chains below; each of 10 rows is 1 chain to turn and 20 sc. ch = 20 + 10, sc = 200. */
static void single_crochet_stands_on_its_chains(void **state)
{
    struct bench *b = *state;
    fabric(b, "tch 1, *sc 1*");
    assert_int_equal(count(b, HK_START_CHAIN, 20, 10), HK_COUNTING_DONE);
    assert_int_equal(b->counted.foundation, 20);
    assert_int_equal(b->counted.leaves, 20);
    assert_kind(b, "ch", 30);
    assert_kind(b, "sc", 200);
    assert_runs(b, "1-10: 20");
}

/*
 * 20 stitches, the turning chain one of them: 19 dc into 19 chains, which with the 3 to turn are the usual 22. Later
 * rows need 20: the turning chain is worked over one. ch = 19 + 4 * 3 = 31, dc = 4 * 19 = 76.
 */
static void a_turning_chain_that_counts_needs_no_chain_below(void **state)
{
    struct bench *b = *state;
    fabric(b, "tch 3 as dc, *dc 1*");
    assert_int_equal(count(b, HK_START_CHAIN, 20, 4), HK_COUNTING_DONE);
    assert_int_equal(b->counted.foundation, 19);
    assert_int_equal(b->counted.leaves, 20);
    assert_kind(b, "ch", 31);
    assert_kind(b, "dc", 76);
}

/*
 * 70 stitches in the round, the turning chain one of them: 70 chains are joined, the turning chain uses the first, 69
 * dc the others (common practice, no source). Two rounds: ch = 70 + 2 * 3, dc = 2 * 69, sl st = 2. Written flat, the
 * same row needs 69 chains; on a ring, on an edge and in the middle of a square nothing changes.
 */
static void a_turning_chain_of_a_joined_round_takes_up_a_chain(void **state)
{
    struct bench *b = *state;
    fabric(b, "tch 3 as dc, *dc 1*, join");
    assert_int_equal(count(b, HK_START_CHAIN, 70, 2), HK_COUNTING_DONE);
    assert_int_equal(b->counted.foundation, 70);
    assert_int_equal(b->counted.leaves, 70);
    assert_kind(b, "ch", 76);
    assert_kind(b, "dc", 138);
    assert_kind(b, "sl st", 2);
    assert_int_equal(count(b, HK_START_EDGE, 70, 2), HK_COUNTING_DONE);
    assert_int_equal(b->counted.foundation, 0);
    fabric(b, "tch 3 as dc, *dc 1*");
    assert_int_equal(count(b, HK_START_CHAIN, 70, 2), HK_COUNTING_DONE);
    assert_int_equal(b->counted.foundation, 69);
    fabric(b, "tch 3 as dc, *(dc 1, join)*"); /* no join that closes the round */
    assert_int_equal(count(b, HK_START_CHAIN, 70, 1), HK_COUNTING_DONE);
    assert_int_equal(b->counted.foundation, 69);
    fabric(b, "tch 4, join, tch 3 as dc, 11 dc in ring, join");
    assert_int_equal(count(b, HK_START_CHAIN, 12, 1), HK_COUNTING_DONE);
    assert_int_equal(b->counted.foundation, 0);
}

/* On an edge of 20 the turning chain uses a stitch: 19 dc, no foundation. */
static void a_turning_chain_that_counts_stands_on_an_edge(void **state)
{
    struct bench *b = *state;
    fabric(b, "tch 3 as dc, *dc 1*");
    assert_int_equal(count(b, HK_START_EDGE, 20, 1), HK_COUNTING_DONE);
    assert_int_equal(b->counted.foundation, 0);
    assert_int_equal(b->counted.leaves, 20);
    assert_kind(b, "ch", 3);
    assert_kind(b, "dc", 19);
}

/* An edge of 60, a shell of 5 to 6 stitches: 10 times sc and 5 dc, leaving 60. */
static void an_edge_states_what_row_1_stands_on(void **state)
{
    struct bench *b = *state;
    fabric(b, "*sc 1, sk 2, 5 dc in 1, sk 2*, join");
    assert_int_equal(count(b, HK_START_EDGE, 60, 1), HK_COUNTING_DONE);
    assert_kind(b, "sc", 10);
    assert_kind(b, "dc", 50);
    assert_kind(b, "sl st", 1);
    assert_int_equal(b->counted.leaves, 60);
    assert_int_equal(count(b, HK_START_EDGE, 62, 1), HK_COUNTING_NO_WIDTH);
    assert_around(b->error.fits_row, 60, 66);
    assert_around(b->error.fits_all, 60, 66);
}

/* Foundation stitches need no stitches below: 30 of them, without a chain. */
static void foundation_stitches_run_until_they_leave_what_is_stated(void **state)
{
    struct bench *b = *state;
    fabric(b, "!tch 2, *fsc 1*/tch 1, *sc 1*");
    assert_int_equal(count(b, HK_START_CHAIN, 30, 3), HK_COUNTING_DONE);
    assert_int_equal(b->counted.foundation, 0);
    assert_kind(b, "fsc", 30);
    assert_kind(b, "sc", 60);
    assert_kind(b, "ch", 4);
}

/* Round 1 leaves 12 (the turning chain and 11 dc); round 2 works 2 dc into each but counts its turning chain: 24. */
static void a_ring_derives_its_stitches(void **state)
{
    struct bench *b = *state;
    fabric(b, "!tch 3 as dc, 11 dc in ring, join/tch 3 as dc, dc in same, *2 dc in 1*, join");
    assert_int_equal(count(b, HK_START_RING, HK_NOT_STATED, 2), HK_COUNTING_DONE);
    assert_runs(b, "1-1: 12, 2-2: 24");
    assert_kind(b, "dc", 11 + 1 + 22);
    assert_kind(b, "ch", 6);
    assert_kind(b, "sl st", 2);
    assert_int_equal(b->counted.foundation, 0);
    assert_int_equal(count(b, HK_START_RING, 12, 2), HK_COUNTING_DONE);
    assert_int_equal(count(b, HK_START_RING, 10, 2), HK_COUNTING_DIFFERS);
    assert_int_equal(b->error.counted, 12);
    assert_int_equal(b->error.below, 10);
}

/* "sc 6" would need 6 stitches, and a ring has none. */
static void a_ring_has_no_stitches_to_work_into(void **state)
{
    struct bench *b = *state;
    fabric(b, "sc 6");
    assert_int_equal(count(b, HK_START_RING, HK_NOT_STATED, 1), HK_COUNTING_NO_WIDTH);
    assert_int_equal(b->error.row, 1);
    assert_int_equal(b->error.below, 0);
    assert_int_equal(b->error.needs, 6);
    fabric(b, "*sc 1 in ring*");
    assert_int_equal(count(b, HK_START_RING, HK_NOT_STATED, 1), HK_COUNTING_UNKNOWN);
    assert_int_equal(count(b, HK_START_RING, 8, 1), HK_COUNTING_DONE);
    assert_kind(b, "sc", 8);
}

/* A continued line is worked on 24: 2x2 rib leaves 24; a stated 20 differs. */
static void continuing_stands_on_what_the_line_before_left(void **state)
{
    struct bench *b = *state;
    fabric(b, "*k 2, p 2*");
    b->work.below = 24;
    assert_int_equal(count(b, HK_START_CONTINUE, HK_NOT_STATED, 5), HK_COUNTING_DONE);
    assert_kind(b, "k", 60);
    assert_int_equal(count(b, HK_START_CONTINUE, 24, 5), HK_COUNTING_DONE);
    assert_int_equal(count(b, HK_START_CONTINUE, 20, 5), HK_COUNTING_DIFFERS);
    assert_int_equal(b->error.counted, 24);
    b->work.below = 26;
    assert_int_equal(count(b, HK_START_CONTINUE, HK_NOT_STATED, 5), HK_COUNTING_NO_WIDTH);
    assert_around(b->error.fits_row, 24, 28);
    assert_around(b->error.fits_all, HK_NOT_STATED, HK_NOT_STATED);
}

static void a_failed_count_leaves_its_output_alone(void **state)
{
    struct bench *b = *state;
    fabric(b, "*k 2, p 2*");
    b->counted = (struct hk_counted){.leaves = 77};
    assert_int_equal(count(b, HK_START_CHAIN, 21, 5), HK_COUNTING_NO_WIDTH);
    assert_int_equal(b->counted.leaves, 77);
    assert_int_equal(count(b, HK_START_CHAIN, HK_NOT_STATED, 5), HK_COUNTING_UNKNOWN);
    int64_t width = 77, apart = 77;
    fabric(b, "*sk 1, ch 1*/sc 3, *sc 1*/sc 2");
    b->work.rows = 3;
    assert_int_equal(hk_count_nearest(&b->work, 10, &width, &apart), HK_COUNTING_NO_WIDTH);
    assert_int_equal(width, 77);
    assert_int_equal(apart, 77);
}

static void a_part_of_no_rows_has_no_stitches(void **state)
{
    struct bench *b = *state;
    fabric(b, "*k 1*");
    b->work.below = 9;
    assert_int_equal(count(b, HK_START_CONTINUE, HK_NOT_STATED, 0), HK_COUNTING_DONE);
    assert_int_equal(b->counted.leaves, 9);
    assert_int_equal(b->counted.run_count, 0);
    assert_int_equal(b->counted.stripes[0].kinds.count, 0);
}

static void repeats_that_nothing_ends_are_refused(void **state)
{
    struct bench *b = *state;
    fabric(b, "!*sc 1*/*ch 1*");
    assert_int_equal(count(b, HK_START_CHAIN, 10, 2), HK_COUNTING_ENDLESS);
    assert_int_equal(b->error.row, 2);
    fabric(b, "*sk 1*");
    assert_int_equal(count(b, HK_START_CHAIN, 10, 1), HK_COUNTING_ENDLESS);
}

/* A repeat may be worked zero times: 2 edge stitches alone. */
static void a_repeat_may_run_no_times(void **state)
{
    struct bench *b = *state;
    fabric(b, "k 1, *yo 1, k2tog 1*, k 1");
    assert_int_equal(count(b, HK_START_CHAIN, 2, 3), HK_COUNTING_DONE);
    assert_kind(b, "k", 6);
    assert_kind(b, "yo", 0);
}

/* ---- Things that designers make ---------------------------------------------------------------------------------- */

/*
 * Moss stitch over an even number and one more: set-up "tch 2 as ch, *sc 1, ch 1, sk 1*, sc 1" leaves 1 + 2k + 1, so 22
 * is k = 10. It needs 2k + 1 = 21 chains. Rows 2 on need 1 + 2k + 1 and leave the same number: k = 10 again. 5 rows: sc
 * = 5 * 11; ch = 21 + 5 * (2 + 10).
 */
static void moss_stitch_keeps_its_width(void **state)
{
    struct bench *b = *state;
    fabric(b, "!tch 2 as ch, *sc 1, ch 1, sk 1*, sc 1/tch 2 as ch, *sc 1 in ch-1 sp, ch 1, sk 1*, sc 1 in ch-1 sp");
    assert_int_equal(count(b, HK_START_CHAIN, 22, 5), HK_COUNTING_DONE);
    assert_int_equal(b->counted.foundation, 21);
    assert_kind(b, "sc", 55);
    assert_kind(b, "ch", 81);
    assert_runs(b, "1-5: 22");
    assert_int_equal(count(b, HK_START_CHAIN, 21, 5), HK_COUNTING_NO_WIDTH);
    assert_around(b->error.fits_row, 20, 22);
    assert_around(b->error.fits_all, 20, 22);
}

/*
 * V-stitch: "dc, ch 1, dc" (3) over 3, and a dc either side: width 3k + 2. 32: k = 10; each row 10 ch + 3 to turn, 21
 * dc.
 */
static void v_stitch_is_counted_by_threes(void **state)
{
    struct bench *b = *state;
    fabric(b, "!tch 3 as dc, *sk 1, (dc 1, ch 1, dc 1) in 1, sk 1*, dc 1/"
              "tch 3 as dc, *sk 1, (dc 1, ch 1, dc 1) in ch-1 sp, sk 1*, dc 1");
    assert_int_equal(count(b, HK_START_CHAIN, 32, 6), HK_COUNTING_DONE);
    assert_int_equal(b->counted.foundation, 31);
    assert_kind(b, "dc", 6 * 21);
    assert_kind(b, "ch", 31 + 6 * 13);
}

/*
 * Shells of 5 over 6 and one: row 1 leaves 1 + 6k. Row 2 turns it by half a shell: needs 1 + 2 + 1 + 6k' + 2 + 1 = 7 +
 * 6k', so k' = k - 1; leaves 3 + 1 + 6k' + 3 = 7 + 6k'. Width 25: k = 4, k' = 3. Rows 1, 2: sc 5 + 4, dc 20 + (2 + 15 +
 * 3).
 */
static void shells_shift_by_half(void **state)
{
    struct bench *b = *state;
    fabric(b, "tch 1, sc 1, *sk 2, 5 dc in 1, sk 2, sc 1*/"
              "tch 3 as dc, 2 dc in same, sk 2, sc 1, *sk 2, 5 dc in 1, sk 2, sc 1*, sk 2, 3 dc in 1");
    assert_int_equal(count(b, HK_START_CHAIN, 25, 2), HK_COUNTING_DONE);
    assert_kind(b, "sc", 9);
    assert_kind(b, "dc", 40);
    assert_int_equal(b->counted.leaves, 25);
    /* 1 fits row 1 with no shell but not row 2. */
    assert_int_equal(count(b, HK_START_CHAIN, 1, 2), HK_COUNTING_NO_WIDTH);
    assert_int_equal(b->error.row, 2);
    assert_int_equal(b->error.needs, 7);
    assert_around(b->error.fits_row, HK_NOT_STATED, 7);
    assert_around(b->error.fits_all, HK_NOT_STATED, 7);
}

/* Ripple: 2 in 1, 4, skip 2, 4, 2 in 1 takes 12 and leaves 12. 60 stitches: 5 waves of 12 sc each row. */
static void a_ripple_gains_what_it_skips(void **state)
{
    struct bench *b = *state;
    fabric(b, "tch 1, *2 sc in 1, sc 4, sk 2, sc 4, 2 sc in 1*");
    assert_int_equal(count(b, HK_START_CHAIN, 60, 8), HK_COUNTING_DONE);
    assert_kind(b, "sc", 480);
    assert_int_equal(count(b, HK_START_CHAIN, 65, 8), HK_COUNTING_NO_WIDTH);
    assert_around(b->error.fits_all, 60, 72);
}

/* Spiral in sixes: 6, 12, 18, 24, a stitch more between increases each round, then even. 6 + 12 + 18 + 24 + 24 = 84. */
static void a_spiral_grows_by_six(void **state)
{
    struct bench *b = *state;
    fabric(b, "!6 sc in ring/!*2 sc in 1*/!*2 sc in 1, sc 1*/!*2 sc in 1, sc 2*/*sc 1*");
    assert_int_equal(count(b, HK_START_RING, HK_NOT_STATED, 5), HK_COUNTING_DONE);
    assert_kind(b, "sc", 84);
    assert_runs(b, "1-4: 6+6, 5-5: 24");
}

/*
 * The same with repeats in brackets: "(2 sc in 1, *sc 1*) 6 times" grows by 6 each round: 6 (1 + 2 + ... + n) = 3 n (n
 * + 1).
 */
static void repeats_in_brackets_run_equally_often(void **state)
{
    struct bench *b = *state;
    fabric(b, "!6 sc in ring/(2 sc in 1, *sc 1*) 6 times");
    assert_int_equal(count(b, HK_START_RING, HK_NOT_STATED, 100), HK_COUNTING_DONE);
    assert_int_equal(b->counted.leaves, 600);
    assert_kind(b, "sc", 3 * 100 * 101);
    assert_runs(b, "1-100: 6+6");
}

/*
 * A hexagon of explicit joined rounds, corners of (dc, ch 1, dc) in the chain space:
 * round 1: tch as dc, 1 dc, ch 1, then (2 dc, ch 1) 5 times: 12 dc (one of chains), 6 ch: 18.
 * round 2: needs per side 2 dc + the space = 3; makes 2 dc, and dc, ch 1, dc in the space = 5: 6 * 5 = 30.
 * round 3: per side 4 dc + space = 5; makes 4 + 3 = 7: 42. The round starts one stitch into a side: 3 before its
 * corner, 1 after the last. dc without turning chains: 11, then 6 * 4 - 1 = 23, then 6 * 6 - 1 = 35. Chains: 3 * 3 to
 * turn, 6 a round.
 */
static void a_hexagon_of_explicit_rounds(void **state)
{
    struct bench *b = *state;
    fabric(b, "!tch 3 as dc, 1 dc in ring, ch 1, (2 dc, ch 1) 5 times in ring, join/"
              "!tch 3 as dc, dc 1, (dc, ch 1, dc) in ch-1 sp, (dc 2, (dc, ch 1, dc) in ch-1 sp) 5 times, join/"
              "tch 3 as dc, dc 2, (dc, ch 1, dc) in ch-1 sp, (dc 4, (dc, ch 1, dc) in ch-1 sp) 5 times, dc 1, join");
    assert_int_equal(count(b, HK_START_RING, HK_NOT_STATED, 3), HK_COUNTING_DONE);
    assert_runs(b, "1-3: 18+12");
    assert_kind(b, "dc", 11 + 23 + 35);
    assert_kind(b, "ch", 9 + 18);
    assert_kind(b, "sl st", 3);
    /* A fourth round would need 30 again, but 42 are available; on stitches alone, without spaces, it never fits. */
    assert_int_equal(count(b, HK_START_RING, HK_NOT_STATED, 4), HK_COUNTING_NO_WIDTH);
    assert_int_equal(b->error.row, 4);
    assert_int_equal(b->error.below, 42);
    assert_around(b->error.fits_row, HK_NOT_STATED, HK_NOT_STATED);
    assert_int_equal(b->error.needs, HK_NOT_STATED);
}

/*
 * Top-down raglan in crochet rounds: a yoke of 48 chains, 4 corners of (sc, ch 1, sc) in 1, so a round leaves 4 * (3 -
 * 1) = 8 more than it needs. Round 1 leaves 12 + k from 4 + k: 48 is k = 36 on 40 chains. Rounds 48, 56, ..., 48 + 8 *
 * 9 = 120. Round i has 48 + 8(i - 1) - 4 sc and 4 ch: sc = sum 44 + 8 i', i' = 0..9 = 440 + 360 = 800; ch = 40 + 40.
 */
static void a_raglan_grows_at_four_corners(void **state)
{
    struct bench *b = *state;
    fabric(b, "*sc 1*, (sc, ch 1, sc) in each of 4");
    assert_int_equal(count(b, HK_START_CHAIN, 48, 10), HK_COUNTING_DONE);
    assert_int_equal(b->counted.foundation, 40);
    assert_runs(b, "1-10: 48+8");
    assert_kind(b, "sc", 800);
    assert_kind(b, "ch", 80);
}

/*
 * Knit: 80 cast on; a round with yo, k 1, yo at 4 markers (+8), a plain round, in turn. 6 rounds: 88 88 96 96 104 104.
 */
static void a_knit_raglan_increases_every_other_round(void **state)
{
    struct bench *b = *state;
    fabric(b, "!*k 1*/*k 1*, (yo 1, k 1, yo 1) x 4/*k 1*");
    b->work.foundation_stitch = stitch(b, "CO");
    assert_int_equal(count(b, HK_START_CHAIN, 80, 7), HK_COUNTING_DONE);
    assert_runs(b, "1-1: 80, 2-3: 88, 4-5: 96, 6-7: 104");
    assert_int_equal(b->counted.foundation, 80);
    assert_kind(b, "CO", 80);
    assert_kind(b, "yo", 24);
    assert_kind(b, "k", 80 + 80 + 88 + 88 + 96 + 96 + 104);
}

/*
 * A triangle from the middle of its long edge: 3 dc, ch 2, 3 dc in a ring, 8 with the chains; each row puts 2 more at
 * both ends and (2 dc, ch 2, 2 dc) into the point: needs 1 + k + 2 + k + 1 (the point's space is 2), leaves 2 + k + 6 +
 * k + 2. 8: k = 2, leaves 14; 14: k = 5, leaves 20; +6 a row.
 */
static void a_shawl_from_the_centre_out(void **state)
{
    struct bench *b = *state;
    fabric(b, "!(tch 3 as dc, 2 dc, ch 2, 3 dc) in ring/2 dc in 1, *dc 1*, (2 dc, ch 2, 2 dc) in ch-2 sp, *dc 1*, 2 dc in 1");
    assert_int_equal(count(b, HK_START_RING, HK_NOT_STATED, 4), HK_COUNTING_DONE);
    assert_runs(b, "1-4: 8+6");
    /* dc: 5; 2 + 2 + 4 + 2 + 2 = 12 (k = 2), 18 (k = 5), 24 (k = 8). */
    assert_kind(b, "dc", 5 + 12 + 18 + 24);
    assert_kind(b, "ch", 3 + 2 * 4);
}

/* Fringe along an edge of 100: two strands of 40 cm into every second stitch: 50 * 0.8 m = 40 m, without stitches. */
static void fringe_is_cut_not_worked(void **state)
{
    struct bench *b = *state;
    fabric(b, "*cut 40 cm x 2, sk 2*");
    assert_int_equal(count(b, HK_START_EDGE, 100, 1), HK_COUNTING_DONE);
    assert_close(b->counted.stripes[0].cut_m, 40, 1e-12, 0);
    assert_int_equal(b->counted.stripes[0].kinds.count, 0);
    assert_int_equal(b->counted.stripes[0].longest_count, 0);
    assert_int_equal(b->counted.leaves, 0);
}

/* A rib of 8 worked sideways, each row caught to the edge by 2 slip stitches: 30 rows: 240 sc, 60 sl st, 8 + 30 ch. */
static void a_rib_worked_sideways_is_joined_to_an_edge(void **state)
{
    struct bench *b = *state;
    fabric(b, "tch 1, *BLO sc 1*, join 2");
    assert_int_equal(count(b, HK_START_CHAIN, 8, 30), HK_COUNTING_DONE);
    assert_kind(b, "sc", 240);
    assert_kind(b, "sl st", 60);
    assert_kind(b, "ch", 38);
}

/*
 * Granny rounds with four corners of (3 dc, ch 2, 3 dc) in a ch-2 space and 3 dc between groups: round 1: (3 dc, ch 2)
 * x 4 = 20. Round 2 has no gaps between its corners: 4 * 8 = 32. Round 3 one a side: 4 * (8 + 3) = 44. +12 a round. The
 * first dc of each round is 3 chains; the ring is 4, and each later round begins with a slip stitch for each of the 3
 * to its corner.
 */
static void granny_corners_grow_by_twelve(void **state)
{
    struct bench *b = *state;
    fabric(b, "!tch 4, join, tch 3 as dc, 2 dc in ring, ch 2, (3 dc, ch 2) 3 times in ring, join/"
              "sl st to ch-2 sp, (tch 3 as dc, 2 dc, ch 2, 3 dc) in same sp, *3 dc in sp between next 2 groups*, "
              "((3 dc, ch 2, 3 dc) in ch-2 sp, *3 dc in sp between next 2 groups*) 3 times, join");
    assert_int_equal(count(b, HK_START_RING, HK_NOT_STATED, 4), HK_COUNTING_DONE);
    assert_runs(b, "1-4: 20+12");
    assert_kind(b, "dc", 12 + 24 + 36 + 48 - 4);
    assert_kind(b, "ch", 4 + 4 * (3 + 8));
    assert_kind(b, "sl st", 2 + 3 * (3 + 1));
}

/* Decreases: 16 becomes 8 becomes 4; from 12 the third of these rows would need an even 3. */
static void decreases_halve(void **state)
{
    struct bench *b = *state;
    fabric(b, "!*sc 1*/*sc2tog 1*");
    assert_int_equal(count(b, HK_START_CHAIN, 16, 4), HK_COUNTING_DONE);
    assert_kind(b, "sc2tog", 8 + 4 + 2);
    assert_int_equal(count(b, HK_START_CHAIN, 12, 4), HK_COUNTING_NO_WIDTH);
    assert_int_equal(b->error.row, 4);
    assert_int_equal(b->error.below, 3);
    assert_around(b->error.fits_row, 2, 4);
    assert_around(b->error.fits_all, 8, 16); /* multiples of 2^3 */
}

/* Row 1 needs a multiple of 4, row 2 a multiple of 6: 12, 24, ... fit both; 20 fails in row 2. */
static void a_width_that_fits_all_rows_is_named_once_for_all(void **state)
{
    struct bench *b = *state;
    fabric(b, "*k 2, p 2*/*k 3, p 3*");
    assert_int_equal(count(b, HK_START_CHAIN, 20, 2), HK_COUNTING_NO_WIDTH);
    assert_int_equal(b->error.row, 2);
    assert_int_equal(b->error.below, 20);
    assert_around(b->error.fits_row, 18, 24);
    assert_around(b->error.fits_all, 12, 24);
    /* No number is both odd and even. */
    fabric(b, "*k 2, p 2*/k 1, *k 2*");
    assert_int_equal(count(b, HK_START_CHAIN, 20, 2), HK_COUNTING_NO_WIDTH);
    assert_around(b->error.fits_row, 19, 21);
    assert_around(b->error.fits_all, HK_NOT_STATED, HK_NOT_STATED);
}

/* ---- Stripes, tapers, widths from cm ----------------------------------------------------------------------------- */

/*
 * 10 stitches, 9 rows in stripes of 2 and 1: rows 1 2 | 3 | 4 5 | 6 | 7 8 | 9. First: 6 rows, 60 sc, 10 + 6 chains,
 * joined again in rows 4 and 7. Second: 3 rows, 30 sc, 3 chains, joined in rows 3, 6 and 9; the part ends with it.
 */
static void stripes_share_the_rows(void **state)
{
    struct bench *b = *state;
    static const int64_t rows[] = {2, 1};
    fabric(b, "tch 1, *sc 1*");
    b->work.stripe_rows = rows;
    b->work.stripe_count = 2;
    assert_int_equal(count(b, HK_START_CHAIN, 10, 9), HK_COUNTING_DONE);
    assert_close(kind_of(b, b->counted.stripes[0].kinds, "sc"), 60, 0, 0);
    assert_close(kind_of(b, b->counted.stripes[0].kinds, "ch"), 16, 0, 0);
    assert_close(kind_of(b, b->counted.stripes[1].kinds, "sc"), 30, 0, 0);
    assert_close(kind_of(b, b->counted.stripes[1].kinds, "ch"), 3, 0, 0);
    assert_int_equal(b->counted.stripes[0].joined, 2);
    assert_int_equal(b->counted.stripes[1].joined, 3);
    assert_int_equal(b->counted.last_stripe, 1);
    assert_int_equal(count(b, HK_START_CHAIN, 10, 2), HK_COUNTING_DONE);
    assert_int_equal(b->counted.stripes[1].joined, 0);
    assert_int_equal(b->counted.stripes[1].kinds.count, 0);
    assert_int_equal(b->counted.last_stripe, 0);
}

/*
 * Widths 8, 16, 16: the longest of three rows of sc has 16; a row of 8 tr may take more yarn than sc, so either may be
 * the longest.
 */
static void rows_that_may_be_longest_are_kept(void **state)
{
    struct bench *b = *state;
    fabric(b, "!*sc 1*/!*2 sc in 1*/!*sc 1*/*tr 1, sk 1*");
    assert_int_equal(count(b, HK_START_CHAIN, 8, 4), HK_COUNTING_DONE);
    assert_int_equal(b->counted.stripes[0].longest_count, 2);
    assert_close(kind_of(b, b->counted.stripes[0].longest[0], "sc") + kind_of(b, b->counted.stripes[0].longest[1], "sc"), 16,
                 0, 0);
    assert_close(kind_of(b, b->counted.stripes[0].longest[0], "tr") + kind_of(b, b->counted.stripes[0].longest[1], "tr"), 8, 0,
                 0);
}

/* 10 to 20 in 11 rows: 10, 11, ..., 20: sum 165. Halfway down to 15 in 11 rows: 10, 10.5, ..., 15: sum 137.5. */
static void a_taper_is_linear(void **state)
{
    struct bench *b = *state;
    fabric(b, "tch 1, *sc 1*");
    b->work.end_stitches = 20;
    assert_int_equal(count(b, HK_START_CHAIN, 10, 11), HK_COUNTING_DONE);
    assert_kind(b, "sc", 165);
    assert_kind(b, "ch", 10 + 11);
    assert_int_equal(b->counted.leaves, 20);
    assert_runs(b, "1-11: 10+1");
    b->work.end_stitches = 15;
    assert_int_equal(count(b, HK_START_CHAIN, 10, 11), HK_COUNTING_DONE);
    assert_kind(b, "sc", 137.5);
    /* One row is too short for a taper. */
    assert_int_equal(count(b, HK_START_CHAIN, 10, 1), HK_COUNTING_DONE);
    assert_kind(b, "sc", 10);
    assert_int_equal(b->counted.leaves, 10);
    /* The same width at both ends is not a taper. */
    b->work.end_stitches = 10;
    assert_int_equal(count(b, HK_START_CHAIN, 10, 11), HK_COUNTING_DONE);
    assert_kind(b, "sc", 110);
}

static void a_taper_needs_repeats_and_enough_stitches(void **state)
{
    struct bench *b = *state;
    fabric(b, "*sc 1*/sc 10");
    b->work.end_stitches = 5;
    assert_int_equal(count(b, HK_START_CHAIN, 10, 4), HK_COUNTING_RIGID);
    assert_int_equal(b->error.row, 2);
    fabric(b, "sc 4, *sc 1*");
    b->work.end_stitches = 2;
    assert_int_equal(count(b, HK_START_CHAIN, 10, 9), HK_COUNTING_NO_WIDTH); /* 10, 9, 8, ... 4, 3: row 8 */
    assert_int_equal(b->error.row, 8);
    assert_around(b->error.fits_row, HK_NOT_STATED, 4);
}

/*
 * A multiple of 6 and one more: 1 has no repeat, so 7 is the least; 10 is halfway between 7 and 13 and is rounded up.
 */
static void the_nearest_width_fits_all_rows(void **state)
{
    struct bench *b = *state;
    int64_t width, apart;
    fabric(b, "tch 1, sc 1, *sk 2, 5 dc in 1, sk 2, sc 1*");
    b->work.rows = 1;
    static const struct {
        double near;
        int64_t width;
    } cases[] = {{0, 7}, {1, 7}, {9.99, 7}, {10, 13}, {13, 13}, {9999, 9997}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        assert_int_equal(hk_count_nearest(&b->work, cases[i].near, &width, &apart), HK_COUNTING_DONE);
        assert_int_equal(width, cases[i].width);
        assert_int_equal(apart, 6);
    }
    fabric(b, "*k 2, p 2*/*k 3, p 3*");
    b->work.rows = 2;
    assert_int_equal(hk_count_nearest(&b->work, 100, &width, &apart), HK_COUNTING_DONE);
    assert_int_equal(width, 96);
    assert_int_equal(apart, 12); /* of 4 and of 6 */
    fabric(b, "tch 3 as dc, *sk 1, dc 1*");
    b->work.rows = 1;
    b->work.start = HK_START_EDGE; /* needs 1 + 2k */
    assert_int_equal(hk_count_nearest(&b->work, 10, &width, &apart), HK_COUNTING_DONE);
    assert_int_equal(width, 11);
    assert_int_equal(apart, 2);
}

static enum hk_counting nearest(struct bench *b, enum hk_start start, int64_t rows, int64_t *width, int64_t *apart)
{
    b->work.start = start;
    b->work.rows = rows;
    *width = *apart = -7;
    enum hk_counting answer = hk_count_nearest(&b->work, 100, width, apart);
    if (answer != HK_COUNTING_DONE)
        assert_true(*width == -7 && *apart == -7);
    return answer;
}

/* The line before left 12: 6 times 2 take all of them, and there is no choice. */
static void the_nearest_width_of_a_line_that_continues_is_its_only_one(void **state)
{
    struct bench *b = *state;
    int64_t width, apart;
    fabric(b, "*sc2tog 1*");
    b->work.below = 12;
    assert_int_equal(nearest(b, HK_START_CONTINUE, 1, &width, &apart), HK_COUNTING_DONE);
    assert_int_equal(width, 6);
    assert_int_equal(apart, 0);
    b->work.below = 11; /* is odd */
    assert_int_equal(nearest(b, HK_START_CONTINUE, 1, &width, &apart), HK_COUNTING_NO_WIDTH);
    b->work.below = (int64_t)HK_SPOTS_MOST;
    assert_int_equal(nearest(b, HK_START_CONTINUE, 1, &width, &apart), HK_COUNTING_DONE);
    assert_int_equal(width, (int64_t)HK_SPOTS_MOST / 2);
    b->work.below = (int64_t)HK_SPOTS_MOST + 1;
    assert_int_equal(nearest(b, HK_START_CONTINUE, 1, &width, &apart), HK_COUNTING_TOO_MANY);
    fabric(b, "*5 sc in 1*");
    b->work.below = (int64_t)HK_SPOTS_MOST;
    assert_int_equal(nearest(b, HK_START_CONTINUE, 1, &width, &apart), HK_COUNTING_TOO_MANY);
    fabric(b, "sc 12");
    b->work.below = 12;
    assert_int_equal(nearest(b, HK_START_CONTINUE, 1, &width, &apart), HK_COUNTING_DONE);
    assert_int_equal(width, 12);
    b->work.below = 13;
    assert_int_equal(nearest(b, HK_START_CONTINUE, 1, &width, &apart), HK_COUNTING_NO_WIDTH);
    b->work.below = 11;
    assert_int_equal(nearest(b, HK_START_CONTINUE, 1, &width, &apart), HK_COUNTING_NO_WIDTH);
}

/* 5 sc on the 5 below, then chains up to the stated number; on 4 below the 5 sc do not fit. */
static void chains_of_a_line_that_continues_run_until_they_leave_what_is_stated(void **state)
{
    struct bench *b = *state;
    int64_t width, apart;
    fabric(b, "sc 5, *ch 1*");
    b->work.below = 5;
    assert_int_equal(count(b, HK_START_CONTINUE, 20, 1), HK_COUNTING_DONE);
    assert_int_equal(b->counted.leaves, 20);
    assert_kind(b, "ch", 15);
    assert_int_equal(nearest(b, HK_START_CONTINUE, 1, &width, &apart), HK_COUNTING_DONE);
    assert_int_equal(width, 100);
    assert_int_equal(apart, 1);
    b->work.below = 4;
    assert_int_equal(count(b, HK_START_CONTINUE, 20, 1), HK_COUNTING_NO_WIDTH);
    assert_int_equal(b->error.row, 1);
    assert_around(b->error.fits_row, HK_NOT_STATED, 5);
    assert_int_equal(nearest(b, HK_START_CONTINUE, 1, &width, &apart), HK_COUNTING_NO_WIDTH);
}

static void no_width_is_near_where_none_fits(void **state)
{
    struct bench *b = *state;
    int64_t width, apart;
    fabric(b, "*sk 1*"); /* leaves nothing for any number of repeats */
    assert_int_equal(nearest(b, HK_START_CHAIN, 1, &width, &apart), HK_COUNTING_ENDLESS);
    fabric(b, "*sc 1*/*ch 1*"); /* row 2 needs nothing */
    assert_int_equal(nearest(b, HK_START_CHAIN, 2, &width, &apart), HK_COUNTING_ENDLESS);
    fabric(b, "*sc 1*"); /* a ring has no stitches to work into */
    assert_int_equal(nearest(b, HK_START_RING, 1, &width, &apart), HK_COUNTING_NO_WIDTH);
    fabric(b, "sc 4, *sc 1*/sc 4"); /* fits without a repeat, which gives no width */
    assert_int_equal(nearest(b, HK_START_CHAIN, 2, &width, &apart), HK_COUNTING_NO_WIDTH);
    /* Row 1 would need twice as many, above the limit of counting. */
    fabric(b, "*sc2tog 1*/sc 999999999999");
    assert_int_equal(nearest(b, HK_START_EDGE, 2, &width, &apart), HK_COUNTING_NO_WIDTH);
    fabric(b, "*sc2tog 1*/sc 999999999999, *sc 1*");
    assert_int_equal(nearest(b, HK_START_EDGE, 2, &width, &apart), HK_COUNTING_NO_WIDTH);
}

/* A row that leaves one more each time never reaches a constant width. */
static void the_search_for_the_nearest_width_ends(void **state)
{
    struct bench *b = *state;
    int64_t width, apart, effort = 100000;
    fabric(b, "*sc 1*, 2 sc in 1");
    b->work.effort = &effort;
    assert_int_equal(nearest(b, HK_START_CHAIN, HK_PART_ROWS_MOST + 1, &width, &apart), HK_COUNTING_TOO_MANY);
    assert_int_equal(effort, 100000);
    assert_int_equal(nearest(b, HK_START_CHAIN, 6, &width, &apart), HK_COUNTING_DONE);
    assert_true(effort > 0);
    effort = 1000;
    assert_int_equal(nearest(b, HK_START_CHAIN, 60, &width, &apart), HK_COUNTING_SPENT);
    assert_int_equal(nearest(b, HK_START_CHAIN, 6, &width, &apart), HK_COUNTING_SPENT);
}

/* ---- Cost and limits --------------------------------------------------------------------------------------------- */

/* 10^6 rows of 9 stitches in stripes of 3, 5 and 7 rows: periodic work is added up, not followed. */
static void a_steady_fabric_costs_one_cycle(void **state)
{
    struct bench *b = *state;
    static const int64_t rows[] = {3, 5, 7};
    const int64_t total = HK_PART_ROWS_MOST;
    int64_t effort = 2 * total;
    fabric(b, "!tch 1, *sc 1*/tch 1, *sc 1*/tch 3 as dc, *dc 1*");
    b->work.stripe_rows = rows;
    b->work.stripe_count = 3;
    b->work.effort = &effort;
    assert_int_equal(count(b, HK_START_CHAIN, 9, total), HK_COUNTING_DONE);
    double dc = 0, sc = 0;
    for (size_t i = 0; i < 3; i++) {
        dc += kind_of(b, b->counted.stripes[i].kinds, "dc");
        sc += kind_of(b, b->counted.stripes[i].kinds, "sc");
    }
    /* Row 1 and every even row are sc; 10^6 / 2 - 1 dc rows of 8, since row 1 is the set-up: rows 3, 5, ... are dc. */
    assert_close(dc, 8.0 * (double)(total / 2 - 1), 0, 0);
    assert_close(sc, 9.0 * (double)(total / 2 + 1), 0, 0);
    assert_int_equal(b->counted.run_count, 1);
    assert_int_equal(b->counted.runs[0].last, total);
    assert_int_equal(b->counted.last_stripe, (total - 1) % 15 < 3 ? 0 : (total - 1) % 15 < 8 ? 1 : 2);
    assert_int_equal(count(b, HK_START_CHAIN, 9, total + 1), HK_COUNTING_TOO_MANY);
}

/* Widths 10, 20, 10, 20 without end: the list of rows stops at its limit, the counts do not. */
static void an_endless_list_of_rows_is_cut_short(void **state)
{
    struct bench *b = *state;
    fabric(b, "*2 sc in 1*/*sc2tog 1*");
    assert_int_equal(count(b, HK_START_CHAIN, 20, 1000000), HK_COUNTING_DONE);
    assert_int_equal(b->counted.run_count, HK_RUNS_MOST);
    assert_true(b->counted.runs[HK_RUNS_MOST - 1].last < 1000000);
    assert_kind(b, "sc", 1e7);
    assert_kind(b, "sc2tog", 5e6);
    assert_int_equal(b->counted.leaves, 10);
}

/* Two equal parts have equal cost, and a third one exceeds the remaining effort. */
static void parts_share_their_effort(void **state)
{
    struct bench *b = *state;
    int64_t effort = 1000000;
    fabric(b, "*sc 1*, 2 sc in 1");
    b->work.effort = &effort;
    assert_int_equal(count(b, HK_START_CHAIN, 10, 100), HK_COUNTING_DONE);
    int64_t cost = 1000000 - effort;
    assert_true(cost >= 100 * 10);
    effort = 2 * cost;
    assert_int_equal(count(b, HK_START_CHAIN, 10, 100), HK_COUNTING_DONE);
    assert_int_equal(effort, cost);
    assert_int_equal(count(b, HK_START_CHAIN, 10, 100), HK_COUNTING_DONE);
    assert_int_equal(effort, 0);
    assert_int_equal(count(b, HK_START_CHAIN, 10, 1), HK_COUNTING_SPENT);
    assert_int_equal(count(b, HK_START_CHAIN, 10, 1), HK_COUNTING_SPENT);
}

/* A row of more than HK_SPOTS_MOST places is refused, from any row below. */
static void counts_above_the_limit_are_refused(void **state)
{
    struct bench *b = *state;
    fabric(b, "*k 1*");
    assert_int_equal(count(b, HK_START_CHAIN, (int64_t)HK_SPOTS_MOST, 2), HK_COUNTING_DONE);
    assert_kind(b, "k", 2.0 * (double)HK_SPOTS_MOST);
    assert_int_equal(count(b, HK_START_CHAIN, (int64_t)HK_SPOTS_MOST + 1, 2), HK_COUNTING_TOO_MANY);
    assert_int_equal(count(b, HK_START_CHAIN, HK_COUNT_MOST, HK_COUNT_MOST), HK_COUNTING_TOO_MANY);
    fabric(b, "*2 k in 1*"); /* doubles each row: row r leaves 2^r, and 2^20 > 10^6 */
    assert_int_equal(count(b, HK_START_CHAIN, 2, 60), HK_COUNTING_TOO_MANY);
    assert_int_equal(b->error.row, 20);
}

/* A stripe of the largest number of rows: the stripe after it never begins. */
static void a_stripe_may_be_longer_than_the_part(void **state)
{
    struct bench *b = *state;
    static const int64_t rows[] = {HK_COUNT_MOST, HK_COUNT_MOST};
    fabric(b, "*sc 1*");
    b->work.stripe_rows = rows;
    b->work.stripe_count = 2;
    assert_int_equal(count(b, HK_START_CHAIN, 10, 30), HK_COUNTING_DONE);
    assert_kind(b, "sc", 300);
    assert_int_equal(b->counted.stripes[1].kinds.count, 0);
    assert_int_equal(b->counted.stripes[1].joined, 0);
    assert_int_equal(b->counted.last_stripe, 0);
}

/* Rows leave 2 more, 3 fewer and 1 more in turn, so that no three rows make a slope: 10, 12, 9, 10, 12, 9, ... */
static void rows_that_keep_changing_are_listed_to_a_limit(void **state)
{
    struct bench *b = *state;
    fabric(b, "*sc 1*, 2 sc in 1/*sc 1*, 3 sc in 1/*sc 1*, (sc2tog) x 3");
    int64_t rows = 2 * HK_RUNS_MOST + 2000;
    assert_int_equal(rows % 3, 1);
    assert_int_equal(count(b, HK_START_CHAIN, 10, rows), HK_COUNTING_DONE);
    assert_int_equal(b->counted.run_count, HK_RUNS_MOST);
    assert_int_equal(b->counted.leaves, 10);
}

/* 7 does not divide 10^6, and the next multiple of it is beyond the limit. */
static void no_width_above_the_limit_is_named(void **state)
{
    struct bench *b = *state;
    const int64_t most = (int64_t)HK_SPOTS_MOST;
    fabric(b, "*sc 7*");
    assert_int_equal(count(b, HK_START_EDGE, most, 1), HK_COUNTING_NO_WIDTH);
    assert_true(b->error.fits_row[0] == HK_NOT_STATED || b->error.fits_row[0] == most - most % 7);
    assert_int_equal(b->error.fits_row[1], HK_NOT_STATED);
    assert_int_equal(b->error.fits_all[1], HK_NOT_STATED);
    fabric(b, "*sc2tog 1*"); /* would need 2 x 10^6 chains */
    assert_int_equal(count(b, HK_START_CHAIN, most, 1), HK_COUNTING_TOO_MANY);
}

/* A part that costs more than the remaining effort is not counted, with or without a taper. */
static void effort_that_ends_within_a_part_stops_it(void **state)
{
    struct bench *b = *state;
    fabric(b, "*sc 1*, 2 sc in 1");
    for (int taper = 0; taper < 2; taper++) {
        int64_t effort = 1000000;
        b->work.effort = &effort;
        b->work.end_stitches = taper ? 30 : HK_NOT_STATED;
        assert_int_equal(count(b, HK_START_CHAIN, 10, 6), HK_COUNTING_DONE);
        int64_t cost = 1000000 - effort;
        for (effort = cost; effort > 0; effort = effort * 2 / 3) {
            int64_t given = effort;
            assert_int_equal(count(b, HK_START_CHAIN, 10, 6), given == cost ? HK_COUNTING_DONE : HK_COUNTING_SPENT);
            effort = given;
        }
    }
}

/* ---- Widths that do not come about ---- */

/* sc in the 5th chain needs 5 and leaves 1; fewer than 5 have no 5th chain, which does not matter when 5 are found. */
static void a_foundation_may_be_much_longer_than_the_row(void **state)
{
    struct bench *b = *state;
    fabric(b, "sc in 5th ch from hook");
    assert_int_equal(count(b, HK_START_CHAIN, 1, 1), HK_COUNTING_DONE);
    assert_int_equal(b->counted.foundation, 5);
    assert_int_equal(b->counted.leaves, 1);
    fabric(b, "ch 6, 12 dc in ring"); /* no number of chains fits it */
    assert_int_equal(count(b, HK_START_CHAIN, 12, 1), HK_COUNTING_DONE);
    assert_int_equal(b->counted.foundation, 0);
}

/* Chains have no dc to work into: the message states that for every number of chains. */
static void a_row_that_no_foundation_bears_is_named(void **state)
{
    struct bench *b = *state;
    fabric(b, "dc in next dc, *dc 1*");
    assert_int_equal(count(b, HK_START_CHAIN, 20, 1), HK_COUNTING_TROUBLE);
    assert_string_equal(b->error.trouble.text, "the next place is a chain, not a dc");
    assert_int_equal(b->error.row, 1);
    fabric(b, "*sk 1*, fsc 5"); /* leaves 5 for any number of chains */
    assert_int_equal(count(b, HK_START_CHAIN, 7, 1), HK_COUNTING_ENDLESS);
    fabric(b, "sc 900"); /* no width near fits it */
    assert_int_equal(count(b, HK_START_EDGE, 20, 1), HK_COUNTING_NO_WIDTH);
    assert_int_equal(b->error.needs, HK_NOT_STATED);
    fabric(b, "sc 5");
    assert_int_equal(count(b, HK_START_EDGE, 7, 1), HK_COUNTING_DIFFERS);
    assert_int_equal(b->error.counted, 5);
    fabric(b, "sc in next dc");
    assert_int_equal(count(b, HK_START_EDGE, 7, 1), HK_COUNTING_DIFFERS); /* 1: kinds of an edge are unknown */
    assert_int_equal(b->error.counted, 1);
}

/* fsc 2 at a time over 4: widths of 4, 6, 8. */
static void a_row_on_no_stitches_has_the_widths_of_its_repeat(void **state)
{
    struct bench *b = *state;
    int64_t width, apart;
    fabric(b, "fsc 4, *fsc 2*");
    assert_int_equal(count(b, HK_START_CHAIN, 10, 1), HK_COUNTING_DONE);
    assert_kind(b, "fsc", 10);
    assert_int_equal(count(b, HK_START_CHAIN, 9, 1), HK_COUNTING_NO_WIDTH);
    assert_around(b->error.fits_all, 8, 10);
    assert_int_equal(count(b, HK_START_CHAIN, 2, 1), HK_COUNTING_NO_WIDTH);
    assert_int_equal(count(b, HK_START_CHAIN, 2000000, 1), HK_COUNTING_TOO_MANY);
    b->work.rows = 1;
    assert_int_equal(hk_count_nearest(&b->work, 9, &width, &apart), HK_COUNTING_DONE);
    assert_int_equal(width, 10);
    assert_int_equal(apart, 2);
    assert_int_equal(hk_count_nearest(&b->work, 2000000, &width, &apart), HK_COUNTING_TOO_MANY);
}

static void what_has_no_room_is_refused(void **state)
{
    struct bench *b = *state;
    int64_t width, apart;
    fabric(b, "*sc 1*");
    assert_int_equal(count(b, HK_START_EDGE, 1000001, 1), HK_COUNTING_TOO_MANY);
    b->work.below = 1000001;
    assert_int_equal(count(b, HK_START_CONTINUE, HK_NOT_STATED, 1), HK_COUNTING_TOO_MANY);
    assert_int_equal(hk_count_nearest(&b->work, 1000001, &width, &apart), HK_COUNTING_TOO_MANY);
    fabric(b, "2 sc in each st across");
    assert_int_equal(count(b, HK_START_EDGE, 600000, 1), HK_COUNTING_TOO_MANY);
}

/* 6 sc in a ring are 6, for any requested number. */
static void a_ring_has_one_width(void **state)
{
    struct bench *b = *state;
    int64_t width, apart;
    fabric(b, "!6 sc in ring/*inc 1*");
    b->work.start = HK_START_RING;
    b->work.rows = 1;
    assert_int_equal(hk_count_nearest(&b->work, 40, &width, &apart), HK_COUNTING_DONE);
    assert_int_equal(width, 6);
    assert_int_equal(apart, 0);
    assert_true(hk_count_shapes(&b->fabric, b->catalogue, &b->arena));
    fabric(b, "!6 sc in ring/*sc 1*");
    assert_false(hk_count_shapes(&b->fabric, b->catalogue, &b->arena));
    fabric(b, "!6 sc in ring/*inc 1*/*dec 1*"); /* in either direction */
    assert_false(hk_count_shapes(&b->fabric, b->catalogue, &b->arena));
    fabric(b, "*sc 1*, 2 sc in last st");
    assert_true(hk_count_shapes(&b->fabric, b->catalogue, &b->arena));
    fabric(b, "dc in next ch-2 sp, dc in next ch-3 sp"); /* without an edge to begin on */
    assert_false(hk_count_shapes(&b->fabric, b->catalogue, &b->arena));
}

/* The ch 2 that counts uses the first stitch, which also has a dc: 2 + 19 of 20. */
static void a_stated_count_decides_what_custom_leaves_open(void **state)
{
    struct bench *b = *state;
    fabric(b, "ch 2, dc in first st, *dc 1* (21 sts)");
    assert_int_equal(count(b, HK_START_EDGE, 20, 1), HK_COUNTING_DONE);
    assert_int_equal(b->counted.leaves, 21);
    assert_kind(b, "dc", 20);
    fabric(b, "ch 2, dc in first st, *dc 1* (25 sts)");
    assert_int_equal(count(b, HK_START_EDGE, 20, 1), HK_COUNTING_MISCOUNTED);
    assert_int_equal(b->error.counted, 20);
    assert_int_equal(b->error.below, 25);
    fabric(b, "!*dc 1*/ch 2, dc in first st, *dc 1* (25 sts)");
    assert_int_equal(count(b, HK_START_EDGE, 20, 2), HK_COUNTING_MISCOUNTED);
    assert_int_equal(b->error.row, 2);
}

/* From 40 stitches to 20 over a row that needs 30: with fewer than 30 no row can be worked. */
static void a_taper_ends_where_its_rows_do(void **state)
{
    struct bench *b = *state;
    fabric(b, "k 30, *k 1*");
    b->work.end_stitches = 20;
    assert_int_equal(count(b, HK_START_CHAIN, 40, 21), HK_COUNTING_NO_WIDTH);
    assert_int_equal(b->error.row, 12); /* 40 - 11 = 29 */
    fabric(b, "sc 5");
    b->work.end_stitches = 3;
    assert_int_equal(count(b, HK_START_EDGE, 5, 3), HK_COUNTING_RIGID);
    assert_int_equal(b->error.row, 1);
    fabric(b, "*sc 1*"); /* 3, 2, 1: 6 */
    b->work.end_stitches = 1;
    assert_int_equal(count(b, HK_START_EDGE, 3, 3), HK_COUNTING_DONE);
    assert_kind(b, "sc", 6);
    fabric(b, "*k 2, p 2*"); /* from 6 to 10: row 1 on 6 is halfway between 4 and 8, so that k is 3, 4, 5 */
    b->work.end_stitches = 10;
    assert_int_equal(count(b, HK_START_CHAIN, 6, 3), HK_COUNTING_DONE);
    assert_kind(b, "k", 12);
    b->work.below = 6;
    assert_int_equal(count(b, HK_START_CONTINUE, 6, 3), HK_COUNTING_DONE);
    assert_kind(b, "k", 12);
}

/* A line of no rows leaves the edge that it began on. */
static void a_line_of_no_rows_hands_on_its_edge(void **state)
{
    struct bench *b = *state;
    fabric(b, "*sc 1, ch 1*");
    b->work.start = HK_START_EDGE;
    b->work.stitches = 4;
    b->work.rows = 1;
    assert_int_equal(hk_count_part(&b->work, &b->counted, &b->error, &b->arena), HK_COUNTING_DONE);
    struct hk_follow *before = b->counted.follow;
    b->work.start = HK_START_CONTINUE;
    b->work.before = before;
    b->work.below = 8;
    b->work.stitches = HK_NOT_STATED;
    b->work.rows = 0;
    assert_int_equal(hk_count_part(&b->work, &b->counted, &b->error, &b->arena), HK_COUNTING_DONE);
    assert_int_equal(b->counted.leaves, 8);
    assert_true(hk_edge_same(hk_follow_edge_now(b->counted.follow), hk_follow_edge_now(before)));
    hk_follow_free(b->counted.follow);
    hk_follow_free(before);
    b->work.before = NULL;
}

/* For every limit of effort, a part has the same result, or the effort runs out. */
static void effort_may_end_at_any_step(void **state)
{
    static const struct {
        const char *rows;
        enum hk_start start;
        int64_t stitches, end, row_count;
        enum hk_counting answer;
    } cases[] = {
        {"*sc 1*, 2 sc in 1", HK_START_CHAIN, 10, HK_NOT_STATED, 4, HK_COUNTING_DONE},
        {"*sc 1*", HK_START_CHAIN, 10, 14, 3, HK_COUNTING_DONE},
        {"*k 2, p 2*", HK_START_CONTINUE, 6, 10, 3, HK_COUNTING_DONE},
        {"fsc 4, *fsc 2*", HK_START_CHAIN, 10, HK_NOT_STATED, 2, HK_COUNTING_ENDLESS},
        {"fsc 4, *fsc 2*/*sc 1*", HK_START_CHAIN, 10, HK_NOT_STATED, 2, HK_COUNTING_DONE},
        {"ch 2, dc in first st, *dc 1* (11 sts)", HK_START_EDGE, 10, HK_NOT_STATED, 1, HK_COUNTING_DONE},
        {"ch 2, dc in first st, *dc 1* (15 sts)", HK_START_EDGE, 10, HK_NOT_STATED, 1, HK_COUNTING_MISCOUNTED},
        {"!6 sc in ring/*inc 1*", HK_START_RING, HK_NOT_STATED, HK_NOT_STATED, 3, HK_COUNTING_DONE},
    };
    struct bench *b = *state;
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        bool whole = false;
        size_t spent = 0;
        for (int64_t most = 0; most < 3000 && !(whole && most % 100); most++) {
            int64_t effort = most;
            fabric(b, cases[i].rows);
            b->work.effort = &effort;
            b->work.end_stitches = cases[i].end;
            b->work.below = cases[i].stitches;
            enum hk_counting answer = count(b, cases[i].start, cases[i].stitches, cases[i].row_count);
            if (answer != HK_COUNTING_SPENT && answer != cases[i].answer)
                fail_msg("%s: %d with an effort of %d", cases[i].rows, (int)answer, (int)most);
            assert_false(whole && answer == HK_COUNTING_SPENT);
            whole |= answer != HK_COUNTING_SPENT;
            spent += answer == HK_COUNTING_SPENT;
        }
        assert_true(whole && spent > 10);
    }
}

/* ---- Shaping ---- */

static enum hk_counting shaped(struct bench *b, const char *rows, int64_t stitches, int64_t row_count, int64_t by,
                               int64_t after, int64_t end)
{
    fabric(b, rows);
    b->work.end_stitches = end;
    b->work.shaping = (struct hk_shaping){by, {after, after}};
    return count(b, HK_START_EDGE, stitches, row_count);
}

/* Decreases apply to the most frequent stitch of the row, if the row has enough of it and it has its own decrease. */
static void decreases_are_of_what_there_is_most_of(void **state)
{
    struct bench *b = *state;
    /*
     * 28 is not a multiple of 3: between 27 and 30, so that row 3 has 18 2/3 sc, 2 of them decreased, and 9 1/3 sc2tog.
     */
    assert_int_equal(shaped(b, "*2 sc in 1, sc2tog*", 30, 3, -2, 3, 28), HK_COUNTING_DONE);
    assert_kind(b, "sc", 20 + 20 + 56 / 3.0 - 2);
    assert_kind(b, "sc2tog", 10 + 10 + 28 / 3.0 + 2);
    assert_int_equal(b->counted.leaves, 28);
    /* Puffs have no decrease: 15 and 15 of both, then 14. */
    assert_int_equal(shaped(b, "*puff 1, sc 1*", 30, 3, -2, 3, 28), HK_COUNTING_DONE);
    assert_kind(b, "sc", 15 + 15 + 12);
    assert_kind(b, "3-hdc puff", 15 + 15 + 14);
    assert_kind(b, "sc2tog", 2);
    /* 4 sc are fewer than 6: 20 dc are decreased. */
    assert_int_equal(shaped(b, "*sc 1, dc 5*", 30, 2, -6, 2, 24), HK_COUNTING_DONE);
    assert_kind(b, "sc", 5 + 4);
    assert_kind(b, "dc", 25 + 14);
    assert_kind(b, "dc2tog", 6);
    /* A decrease is not decreased again. */
    assert_int_equal(shaped(b, "*sc2tog, 2 dc in 1*", 30, 2, -2, 2, 28), HK_COUNTING_DONE);
    assert_kind(b, "dc", 20 + 56 / 3.0 - 2);
    assert_kind(b, "dc2tog", 2);
    assert_kind(b, "sc2tog", 10 + 28 / 3.0);
    /* Puffs alone. */
    assert_int_equal(shaped(b, "*puff 1*", 30, 3, -2, 3, 28), HK_COUNTING_NO_DECREASE);
    assert_int_equal(b->error.row, 3);
}

static void rows_that_cannot_be_shaped_are_named(void **state)
{
    struct bench *b = *state;
    assert_int_equal(shaped(b, "*2 sc in 1*", 10, 3, -2, 3, 8), HK_COUNTING_SHAPES); /* row 1 leaves 20 */
    assert_int_equal(b->error.row, 1);
    assert_int_equal(shaped(b, "*sc 1*/*2 sc in 1*", 10, 3, -2, 3, 8), HK_COUNTING_SHAPES); /* row 2 does */
    assert_int_equal(b->error.row, 2);
    assert_int_equal(shaped(b, "*sc 1*/sc 10", 10, 3, -2, 3, 8), HK_COUNTING_RIGID);
    assert_int_equal(b->error.row, 2);
    /* Row 1 leaves a number between 0 and 500, and neither is near. */
    assert_int_equal(shaped(b, "*sc 500*", 300, 3, -2, 3, 298), HK_COUNTING_NO_WIDTH);
}

/* The first 5 of 10 rows; rows 3, 6 and 9 shape. */
static void the_first_rows_of_a_shaping(void **state)
{
    struct bench *b = *state;
    fabric(b, "*sc 1*");
    b->work.end_stitches = 24;
    b->work.taper_rows = 10;
    b->work.shaping = (struct hk_shaping){-2, {3, 3}};
    assert_int_equal(count(b, HK_START_EDGE, 30, 5), HK_COUNTING_DONE);
    assert_runs(b, "1-2: 30, 3-5: 28");
    assert_kind(b, "sc", 30 + 30 + 26 + 28 + 28);
}

/* A row that leaves 4 of any number of chains has one width. */
static void a_row_that_leaves_chains_has_one_width(void **state)
{
    struct bench *b = *state;
    fabric(b, "sc in next 4 sts, leave rem sts unworked");
    assert_int_equal(count(b, HK_START_CHAIN, 4, 1), HK_COUNTING_DONE);
    assert_kind(b, "sc", 4);
    assert_int_equal(count(b, HK_START_CHAIN, 10, 1), HK_COUNTING_DIFFERS);
    assert_int_equal(b->error.counted, 4);
}

/* ---- Against its rows one by one ---- */

#define ALIKE_STRIPES 4
#define ALIKE_STITCHES 512

struct one_by_one {
    double kinds[ALIKE_STRIPES][ALIKE_STITCHES];
    int64_t joined[ALIKE_STRIPES], leaves;
    size_t last;
    bool fits;
};

/* Follows every row separately, by the definition alone. */
static void follow_all(const struct bench *b, int64_t foundation, struct one_by_one *all)
{
    const struct hk_work *work = &b->work;
    const struct hk_conventions usual = {0, 0};
    struct hk_follow *follow = hk_follow_new(b->catalogue, &usual, 0, NULL);
    int64_t left = work->stripe_rows[0];
    memset(all, 0, sizeof *all);
    all->fits = true;
    assert_true(hk_follow_chain(follow, foundation, hk_fabric_row(work->fabric, 0)->joined));
    all->kinds[0][work->foundation_stitch] += (double)foundation;
    for (int64_t r = 0; r < work->rows && all->fits; r++) {
        struct hk_followed followed;
        if (left == 0) {
            all->last = (all->last + 1) % work->stripe_count;
            left = work->stripe_rows[all->last];
            all->joined[all->last] += work->stripe_count > 1;
        }
        left--;
        assert_true(
            hk_follow_row(follow, hk_fabric_row(work->fabric, r), (struct hk_manner){.strict = true}, &followed));
        all->fits = followed.good;
        for (size_t i = 0; i < followed.worked_count; i++)
            all->kinds[all->last][followed.worked[i].stitch] += (double)followed.worked[i].count;
        all->leaves = followed.width;
    }
    hk_follow_free(follow);
}

static void assert_alike(const struct bench *b, const struct one_by_one *all)
{
    for (size_t s = 0; s < b->work.stripe_count; s++) {
        double kinds[ALIKE_STITCHES] = {0};
        const struct hk_stripe_count *stripe = &b->counted.stripes[s];
        for (size_t i = 0; i < stripe->kinds.count; i++)
            kinds[stripe->kinds.kinds[i].stitch] = stripe->kinds.kinds[i].count;
        for (size_t i = 0; i < b->catalogue->stitch_count; i++)
            assert_close(kinds[i], all->kinds[s][i], 0, 0);
        assert_int_equal(stripe->joined, all->joined[s]);
    }
    assert_int_equal(b->counted.leaves, all->leaves);
    assert_int_equal(b->counted.last_stripe, all->last);
}

/* The suggested widths fit, and no width between them and the stated one fits. */
static void assert_widths(struct bench *b)
{
    struct hk_count_error error = b->error;
    int64_t stated = b->work.stitches;
    for (int64_t width = stated > 48 ? stated - 48 : 1; width <= stated + 48; width++) {
        bool named = width == error.fits_all[0] || width == error.fits_all[1];
        bool between = (error.fits_all[0] == HK_NOT_STATED || width > error.fits_all[0]) &&
                       (error.fits_all[1] == HK_NOT_STATED || width < error.fits_all[1]);
        if (named || between)
            assert_int_equal(count(b, HK_START_CHAIN, width, b->work.rows) == HK_COUNTING_DONE, named);
    }
}

static void a_part_comes_to_what_its_rows_come_to(void **state)
{
    static const char *const rows[] = {
        "tch 1, *sc 1*",         "tch 3 as dc, *dc 1*",      "tch 1, *sc 2, ch 1, sk 1*",
        "*sc 1*, 2 sc in 1",     "sc2tog, *sc 1*",           "tch 1, sc 1, *dc 1, hdc 2*",
        "*2 sc in 1, sc2tog 1*", "tch 1, *sc 5, sc2tog*",    "*hdc in next st, ch 2, sk next 2 sts*",
        "tch 1, *sc 4*",         "tch 1, *sc 3, 2 sc in 1*", "dc 2, *sc 1, dc 1*",
    };
    struct bench *b = *state;
    uint64_t seed = 20;
    size_t counted = 0, errors = 0, again = 0;
    for (size_t trial = 0; trial < RANDOM_CASES(400); trial++) {
        char text[512] = "";
        int64_t stripe_rows[ALIKE_STRIPES], setup = random_in(&seed, 0, 1), cycle = random_in(&seed, 1, 3);
        for (int64_t i = 0; i < setup + cycle; i++) {
            size_t length = strlen(text);
            snprintf(text + length, sizeof text - length, "%s%s%s", i ? "/" : "", i < setup ? "!" : "",
                     rows[random_in(&seed, 0, sizeof rows / sizeof *rows - 1)]);
        }
        for (size_t i = 0; i < ALIKE_STRIPES; i++)
            stripe_rows[i] = random_in(&seed, 1, 9);
        fabric(b, text);
        b->work.stripe_rows = stripe_rows;
        b->work.stripe_count = (size_t)random_in(&seed, 1, ALIKE_STRIPES);
        enum hk_counting answer = count(b, HK_START_CHAIN, random_in(&seed, 1, 60), random_in(&seed, 1, 40));
        struct one_by_one all;
        if (answer == HK_COUNTING_DONE) {
            follow_all(b, b->counted.foundation, &all);
            assert_true(all.fits);
            assert_alike(b, &all);
            counted++;
            again += b->work.rows > 20;
        } else if (answer == HK_COUNTING_NO_WIDTH && b->work.rows < 6) {
            assert_widths(b);
            errors++;
        }
    }
    assert_true(counted > RANDOM_CASES(60));
    assert_true(again > RANDOM_CASES(20));
    assert_true(errors > RANDOM_CASES(10));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(single_crochet_stands_on_its_chains),
        cmocka_unit_test(a_turning_chain_that_counts_needs_no_chain_below),
        cmocka_unit_test(a_turning_chain_of_a_joined_round_takes_up_a_chain),
        cmocka_unit_test(a_turning_chain_that_counts_stands_on_an_edge),
        cmocka_unit_test(an_edge_states_what_row_1_stands_on),
        cmocka_unit_test(foundation_stitches_run_until_they_leave_what_is_stated),
        cmocka_unit_test(a_ring_derives_its_stitches),
        cmocka_unit_test(a_ring_has_no_stitches_to_work_into),
        cmocka_unit_test(continuing_stands_on_what_the_line_before_left),
        cmocka_unit_test(a_failed_count_leaves_its_output_alone),
        cmocka_unit_test(a_part_of_no_rows_has_no_stitches),
        cmocka_unit_test(repeats_that_nothing_ends_are_refused),
        cmocka_unit_test(a_repeat_may_run_no_times),
        cmocka_unit_test(moss_stitch_keeps_its_width),
        cmocka_unit_test(v_stitch_is_counted_by_threes),
        cmocka_unit_test(shells_shift_by_half),
        cmocka_unit_test(a_ripple_gains_what_it_skips),
        cmocka_unit_test(a_spiral_grows_by_six),
        cmocka_unit_test(repeats_in_brackets_run_equally_often),
        cmocka_unit_test(a_hexagon_of_explicit_rounds),
        cmocka_unit_test(a_raglan_grows_at_four_corners),
        cmocka_unit_test(a_knit_raglan_increases_every_other_round),
        cmocka_unit_test(a_shawl_from_the_centre_out),
        cmocka_unit_test(fringe_is_cut_not_worked),
        cmocka_unit_test(a_rib_worked_sideways_is_joined_to_an_edge),
        cmocka_unit_test(granny_corners_grow_by_twelve),
        cmocka_unit_test(decreases_halve),
        cmocka_unit_test(a_width_that_fits_all_rows_is_named_once_for_all),
        cmocka_unit_test(stripes_share_the_rows),
        cmocka_unit_test(rows_that_may_be_longest_are_kept),
        cmocka_unit_test(a_taper_is_linear),
        cmocka_unit_test(a_taper_needs_repeats_and_enough_stitches),
        cmocka_unit_test(the_nearest_width_fits_all_rows),
        cmocka_unit_test(the_nearest_width_of_a_line_that_continues_is_its_only_one),
        cmocka_unit_test(chains_of_a_line_that_continues_run_until_they_leave_what_is_stated),
        cmocka_unit_test(no_width_is_near_where_none_fits),
        cmocka_unit_test(the_search_for_the_nearest_width_ends),
        cmocka_unit_test(a_stripe_may_be_longer_than_the_part),
        cmocka_unit_test(rows_that_keep_changing_are_listed_to_a_limit),
        cmocka_unit_test(no_width_above_the_limit_is_named),
        cmocka_unit_test(effort_that_ends_within_a_part_stops_it),
        cmocka_unit_test(a_foundation_may_be_much_longer_than_the_row),
        cmocka_unit_test(a_row_that_no_foundation_bears_is_named),
        cmocka_unit_test(a_row_on_no_stitches_has_the_widths_of_its_repeat),
        cmocka_unit_test(what_has_no_room_is_refused),
        cmocka_unit_test(a_ring_has_one_width),
        cmocka_unit_test(a_stated_count_decides_what_custom_leaves_open),
        cmocka_unit_test(a_taper_ends_where_its_rows_do),
        cmocka_unit_test(a_line_of_no_rows_hands_on_its_edge),
        cmocka_unit_test(effort_may_end_at_any_step),
        cmocka_unit_test(a_steady_fabric_costs_one_cycle),
        cmocka_unit_test(an_endless_list_of_rows_is_cut_short),
        cmocka_unit_test(parts_share_their_effort),
        cmocka_unit_test(counts_above_the_limit_are_refused),
        cmocka_unit_test(decreases_are_of_what_there_is_most_of),
        cmocka_unit_test(rows_that_cannot_be_shaped_are_named),
        cmocka_unit_test(the_first_rows_of_a_shaping),
        cmocka_unit_test(a_row_that_leaves_chains_has_one_width),
        cmocka_unit_test(a_part_comes_to_what_its_rows_come_to),
    };
    return cmocka_run_group_tests(tests, set_up, tear_down);
}
