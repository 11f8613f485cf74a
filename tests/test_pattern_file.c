/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * pattern.txt worked (hankful(1), PATTERNS AS THEY ARE WRITTEN): the result of each row in every size, beside its
 * statement; drafts, references, sides, conventions; lines of the project. Counts worked by hand; rules of the trade:
 * common practice, no source.
 */
#include "proofed.h"

#include "tally/tally.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define WITH "With main and 5 mm hook, "

static void rows_are_worked_in_every_size(void **state)
{
    assert_rows("# Body\n" WITH "ch 72 (78, 84), join.\nRnd 1: Ch 1, sc in each ch around, join. 72 (78, 84) sts\n"
                "Rnds 2-9 (2-10, 2-11): Rep rnd 1.\nNext rnd: Ch 1, *sc in next 4 sts, sc2tog; rep from * around, "
                "join. (60 (65, 70) sts)\n",
                "3 Rnd 1: 72= 78= 84=\n4 Rnds 2-9 (2-10, 2-11): 72 78 84\n5 Next rnd: 60= 65= 70=\n", "");
}

static void a_count_that_differs_is_reported_of_its_sizes(void **state)
{
    assert_rows("# Body\n" WITH
                "ch 21 (23, 25).\nRow 1: Sc in 2nd ch from hook and in each ch across, turn. 20 (22, 25) sts\n"
                "Row 2: Ch 1, sc in each st across, turn. (20 (22, 24) sts)\n",
                "3 Row 1: 20= 22= 24!25\n4 Row 2: 20= 22= 24=\n",
                "pattern.txt:3:60: error: \"Row 1\" states 20 (22, 25) sts, and has 20 (22, 24) (size L); the rows "
                "below are worked on the computed stitches; check the row, or correct the count\n");
}

/*
 * Work continues from the count that a refused row states; without a statement, rows up to the next start are not
 * followed.
 */
static void drafts_go_on(void **state)
{
    assert_rows("# Body\n" WITH "ch 21.\nRow 1: Sc in 2nd ch from hook and in each ch across, turn. (20 sc)\nRow 2: "
                "Follow the chart. (24 (26, 28) sts)\n"
                "Row 3: Ch 1, sc in each st across, turn. (24 (26, 28) sc)\nRow 4: Follow the chart.\nRow 5: Ch 1, sc "
                "across, turn.\n# Cuff\nch 11.\n"
                "Row 1: Sc in 2nd ch from hook and in each ch across.\n",
                "3 Row 1: 20= 20= 20=\n4 Row 2: ? ? ?\n5 Row 3: ~24= ~26= ~28=\n6 Row 4: ? ? ?\n7 Row 5: ? ? ?\n10 Row "
                "1: 10 10 10\n",
                "pattern.txt:4:8: error: Follow is not a stitch in US terms; write it in stitches that hankful tables "
                "stitches lists, or write [take as 24 sc] after the row\n"
                "pattern.txt:6:8: error: Follow is not a stitch in US terms; write it in stitches that hankful tables "
                "stitches lists, or write [take as 24 sc] after the row\n");
}

static void what_to_take_in_place_of_a_row(void **state)
{
    assert_rows("# Body\n" WITH "ch 21.\nRow 1: Sc in 2nd ch from hook and in each ch across, turn.\nRow 2: Follow the "
                "chart. [take as 84 (90, 96) hdc, 6 ch]\n"
                "Row 3: Ch 1, sc in each st across, turn. (84 (90, 96) sc)\n",
                "3 Row 1: 20 20 20\n4 Row 2: 84 90 96\n5 Row 3: 84= 90= 96=\n", "");
}

static void references_mean_the_rows_above(void **state)
{
    assert_rows("# Body\n" WITH "ch 11.\nRow 1: Sc in 2nd ch from hook and in each ch across, turn. (10 sc)\n"
                "Row 2: Ch 1, 2 sc in first st, sc in each st across, turn. (11 sc)\nRow 3: Ch 1, sc in each st "
                "across, turn. (11 sc)\n"
                "Rows 4-9: Rep rows 2 and 3. (14 sc)\nRep last 2 rows 1 (2, 3) more times. 15 (16, 17) sc\nRep row 3 0 "
                "(1, 2) times.\n"
                "Work even for 4 rows. 15 (16, 17) sts\nRep row 7 twice.\nRep row 99.\n",
                "3 Row 1: 10= 10= 10=\n4 Row 2: 11= 11= 11=\n5 Row 3: 11= 11= 11=\n6 Rows 4-9: 14= 14= 14=\n7 : 15= "
                "16= 17=\n8 : - 16 17\n"
                "9 : 15= 16= 17=\n10 : 15 16 17\n11 : ? ? ?\n",
                "pattern.txt:11:1: error: there is no row 99 above; a reference means the nearest row of that number "
                "above it in its piece\n");
}

/* A band joined to an edge of 20 stitches, or 21. */
static void rows_go_on_to_the_end_of_an_edge(void **state)
{
#define BAND(edge)                                                                                                     \
    "# Band\n" WITH "on an edge of " edge                                                                              \
    " sts:\nRow 1: Ch 5, sc in 2nd ch from hook and in next 3 ch, sl st in next 2 sts of the edge, turn.\n"
#define TWO_A_TURN                                                                                                     \
    "Row 2: Sk 2 sl sts, sc in next 4 sc, turn.\nRow 3: Ch 1, sc in next 4 sc, sl st in next 2 sts of the edge, "      \
    "turn.\n"                                                                                                          \
    "Rep rows 2 and 3 to end of the edge.\n"
    assert_rows(BAND("20") TWO_A_TURN "Next row: Sl st in next st of the edge, turn.\n",
                "3 Row 1: 4 4 4\n"
                "4 Row 2: 4 4 4\n"
                "5 Row 3: 4 4 4\n"
                "6 : 4 4 4\n"
                "7 Next row: ? ? ?\n",
                "pattern.txt:7:20: error: no stitch of the edge is there to work this into\n");
    assert_rows(BAND("21") TWO_A_TURN,
                "3 Row 1: 4 4 4\n"
                "4 Row 2: 4 4 4\n"
                "5 Row 3: 4 4 4\n"
                "6 : ? ? ?\n",
                "pattern.txt:6:1: error: 1 of the stitches of the edge remains; let each turn of the rows take as many "
                "as the edge has stitches for\n");
    /* 6 of 20, 4 x 3 more, and the 2 of row 3 alone */
    assert_rows(BAND("20") "Row 2: Sk 2 sl sts, sc in next 4 sc, sl st in next st of the edge, turn.\n"
                           "Row 3: Ch 1, sk 1 sl st, sc in next 4 sc, sl st in next 2 sts of the edge, turn.\n"
                           "Row 4: Ch 1, sk 2 sl sts, sc in next 4 sc, sl st in next st of the edge, turn.\n"
                           "Rep rows 3 and 4 to end of the edge.\nNext row: Sl st in next st of the edge, turn.\n",
                "3 Row 1: 4 4 4\n"
                "4 Row 2: 4 4 4\n"
                "5 Row 3: 4 4 4\n"
                "6 Row 4: 4 4 4\n"
                "7 : 4 4 4\n"
                "8 Next row: ? ? ?\n",
                "pattern.txt:8:20: error: no stitch of the edge is there to work this into\n");
    /* stitches on hold are none of the edge: 7 of 21, 4 x 3 more */
    assert_rows(BAND("21") "Row 2: Sk 2 sl sts, sc in next 2 sc, place next 2 sc on hold for loop, turn.\n"
                           "Row 3: Ch 1, sc in next 2 sc, sl st in next 2 sts of the edge, turn.\n"
                           "Row 4: Sk 2 sl sts, sc in next 2 sc, turn.\n"
                           "Row 5: Ch 1, sc in next 2 sc, sl st in next 3 sts of the edge, turn.\n"
                           "Rep rows 4 and 5 to end of the edge.\n",
                "3 Row 1: 4 4 4\n"
                "4 Row 2: 2 2 2\n"
                "5 Row 3: 2 2 2\n"
                "6 Row 4: 2 2 2\n"
                "7 Row 5: 2 2 2\n"
                "8 : ? ? ?\n",
                "pattern.txt:1:3: note: \"Band\" leaves 2 places unworked: loop\n"
                "pattern.txt:8:1: error: 2 of the stitches of the edge remain; let each turn of the rows take as many "
                "as the edge has stitches for\n");
#undef BAND
#undef TWO_A_TURN
}

/* The last row goes on: one row for two labels, and not where two rows alternate. */
static void work_goes_on_even(void **state)
{
#define MIXED "Ch 1, *sc in next st, hdc in next st; rep from * across, turn.\n"
#define SC_10 "# Body\n" WITH "ch 11.\nRow 1: Sc in 2nd ch from hook and in each ch across, turn.\n"
    assert_rows(SC_10 "Rows 2 and 3: " MIXED "Work even for 4 rows. 10 sts\n",
                "3 Row 1: 10 10 10\n"
                "4 Rows 2 and 3: 10 10 10\n"
                "5 : 10= 10= 10=\n",
                "");
    assert_rows(SC_10 "Row 2: " MIXED "Row 3: " MIXED "Work even for 4 rows. 10 sts\n",
                "3 Row 1: 10 10 10\n"
                "4 Row 2: 10 10 10\n"
                "5 Row 3: 10 10 10\n"
                "6 : ? ? ?\n",
                "pattern.txt:6:1: error: the rows above do not show which rows go on; write \"Rep row 4 for 10 rows\", "
                "or \"Work 10 rows in sc\"\n");
#undef MIXED
#undef SC_10
}

/* 25 rows of stockinette in 10 cm, 20 of single crochet. */
static void lengths_become_rows_by_the_gauge(void **state)
{
    assert_rows(
        "# Scarf\n" WITH
        "ch 11.\nRow 1: Sc in 2nd ch from hook and in each ch across, turn.\nRow 2: Ch 1, sc in each st across, turn.\n"
        "Rep row 2 until piece measures 10 (15, 20) cm.\n# Rib\nWith main and 5 mm needles, cast on 20 sts.\nRow 1 "
        "(RS): K.\nRow 2: P.\n"
        "Work even for 4 cm, ending with a WS row.\n",
        "3 Row 1: 10 10 10\n4 Row 2: 10 10 10\n5 : 10 10 10\n8 Row 1 (RS): 20 20 20\n9 Row 2: 20 20 20\n10 : 20 20 "
        "20\n",
        "pattern.txt:5:1: note: this length is 18 (28, 38) rows by the gauge of a swatch\n"
        "pattern.txt:10:1: note: this length is 10 (10, 10) rows by the gauge of a swatch\n");
}

static void shaping_at_ends_comes_out(void **state)
{
    assert_rows("# Back\nWith main and 5 mm needles, cast on 50 (54, 60) sts.\nRow 1: K.\nRow 2: P.\n"
                "Dec 1 st each end of next and every 4th row to 34 (36, 38) sts.\nDec 1 st each end of every alt row 2 "
                "times. 30 (32, 34) sts\n"
                "Dec 1 st each end of next and every foll 4th row 3 more times. 22 (24, 27) sts\nDec 1 st each end of "
                "next and every 4th row to 3 sts.\n",
                "3 Row 1: 50 54 60\n4 Row 2: 50 54 60\n5 : 34 36 38\n6 : 30= 32= 34=\n7 : 22= 24= 26!27\n8 : ? ? ?\n",
                "pattern.txt:7:64: error: the row states 22 (24, 27) sts, and has 22 (24, 26) (size L); the rows below "
                "are worked on the computed stitches; check the row, or correct the count\n"
                "pattern.txt:8:1: error: 20 stitches do not become 3 by 2 at a time (size S); check both numbers\n"
                "pattern.txt:8:1: error: 22 stitches do not become 3 by 2 at a time (size M); check both numbers\n"
                "pattern.txt:8:1: error: 24 stitches do not become 3 by 2 at a time (size L); check both numbers\n");
}

/* The reader never ignores an ambiguity of a reference, or words after it. */
static void references_say_all_that_is_worked(void **state)
{
    assert_rows(
        "# Back\n" WITH "ch 11.\nRow 1: Sc in 2nd ch from hook and in each ch across, turn.\nRow 2: Ch 1, sc in "
        "each st across, turn.\nRow 3: Rep row 2, then dc in next 3 sts. (10 sts)\nRow 4: Rep row 2, turn. Fasten "
        "off.\nNext row: Work even.\nWork even. (10 sts)\nKnit every row.\n",
        "3 Row 1: 10 10 10\n4 Row 2: 10 10 10\n5 Row 3: ? ? ?\n6 Row 4: ~10 ~10 ~10\n7 Next row: 10 10 "
        "10\n8 : ? ? ?\n9 : ? ? ?\n",
        "pattern.txt:5:24: error: work after a reference to rows is not read; write the row out\n"
        "pattern.txt:8:1: error: it does not say how many rows; write \"for 10 rows\", or \"until piece measures "
        "20 cm\"\n"
        "pattern.txt:9:1: error: it does not say how many rows; write \"for 10 rows\", or \"until piece measures "
        "20 cm\"\n");
}

/* 40 - 2 = 38; then rows 4 and 6 shape and row 7 does not. Counts are compared after the last row, shaping or not. */
static void shaping_is_planned_to_its_end(void **state)
{
#define FLAT "# Back\nWith main and 5 mm needles, cast on 40 sts.\nRow 1: K.\nRow 2: P.\n"
    assert_rows(FLAT
                "Dec 1 st each end of next row. (37 sts)\nRows 4-7: Dec 1 st each end of next and foll alt row. (34 "
                "sts)\nDec 1 st each end of every 3rd row twice, then every row 0 (1, 2) times. 30 (28, 26) sts\n",
                "3 Row 1: 40 40 40\n4 Row 2: 40 40 40\n5 : 38!37 38!37 38!37\n6 Rows 4-7: 34= 34= 34=\n7 : 30= 28= "
                "26=\n",
                "pattern.txt:5:33: error: the row states 37 sts, and has 38; the rows below are worked on the computed "
                "stitches; check the row, or correct the count\n");
    assert_rows(FLAT "Dec 1 st each end of next and every alt row to 40 sts.\n",
                "3 Row 1: 40 40 40\n4 Row 2: 40 40 40\n5 : ? ? ?\n",
                "pattern.txt:5:1: error: 38 stitches do not become 40 by 2 at a time; check both numbers\n");
    assert_rows(FLAT "Inc 1 st each end of next row and every row once more, then every alt row to 47 sts.\n",
                "3 Row 1: 40 40 40\n4 Row 2: 40 40 40\n5 : ? ? ?\n",
                "pattern.txt:5:1: error: 44 stitches do not become 47 by 2 at a time; check both numbers\n");
    assert_rows(FLAT "Inc 1 st each end of next row and every row once more, then every alt row to 48 sts. (48 sts)\n",
                "3 Row 1: 40 40 40\n4 Row 2: 40 40 40\n5 : 48= 48= 48=\n", "");
    assert_rows(FLAT "Rows 3-4: Dec 1 st each end of next 4 rows.\n",
                "3 Row 1: 40 40 40\n4 Row 2: 40 40 40\n5 Rows 3-4: ? ? ?\n",
                "pattern.txt:5:1: error: the shaping takes more rows than the label has; check both numbers\n");
    assert_rows(FLAT "Row 3: Dec 1 st each end of next 4 rows and every row.\n",
                "3 Row 1: 40 40 40\n4 Row 2: 40 40 40\n5 Row 3: ? ? ?\n",
                "pattern.txt:5:1: error: the shaping takes more rows than the label has; check both numbers\n");
#undef FLAT
}

/* Row 10 is on the wrong side in S, where the range above it ends on the same side. */
static void sides_are_followed(void **state)
{
    assert_rows("# Back\nWith main and 5 mm needles, cast on 20 sts.\nRow 1 (RS): K.\nRows 2-8 (2-9, 2-9): K.\nRow 9 "
                "(10, 10) (RS): K.\n",
                "3 Row 1 (RS): 20 20 20\n4 Rows 2-8 (2-9, 2-9): 20 20 20\n5 Row 9 (10, 10) (RS): 20 20 20\n",
                "pattern.txt:5:1: warning: \"Row 9 (10, 10) (RS)\" falls on the wrong side (sizes M, L); is a row too "
                "many or too few above it?\n");
}

static void rows_stand_for_others(void **state)
{
    assert_rows("# Back\nWith main and 5 mm needles, cast on 20 sts.\nRow 1: K.\nRow 2 and all WS rows: P.\nRow 3: "
                "K2tog, k to end. (19 sts)\n"
                "Row 5: K2tog, k to end. (18 sts)\nRow 9: K.\n",
                "3 Row 1: 20 20 20\n4 Row 2 and all WS rows: 18 18 18\n5 Row 3: 19= 19= 19=\n6 Row 5: 18= 18= 18=\n7 "
                "Row 9: 18 18 18\n",
                "pattern.txt:7:1: warning: \"Row 9\" comes after row 6; is a row missing, or a number wrong?\n");
}

/* 20 dc with the ch 3, 21 with it as one more: the stated counts decide for the whole file (hankful(1), Conventions).
 */

/* An interpretation chosen by the words is shown, and the counts follow it. */
static void words_settle_what_is_shown(void **state)
{
    assert_rows(
        "ch-1 sps count as sts\n# Body\n" WITH "ch 21.\nRow 1: Sc in 2nd ch from hook and in each ch across, "
        "turn. (20)\nRow 2: Ch 1, *sc in next st, ch 1, sk next st; rep from * to last 2 sts, sc in last 2 sts, "
        "turn. (20)\n",
        "4 Row 1: 20= 20= 20=\n5 Row 2: 20= 20= 20=\n", "");
    struct proofed read = proofed_read(*state,
                                       "# Body\nThe skipped chs count as hdc.\n" WITH
                                       "ch 21.\nRow 1: Hdc in 3rd ch from hook and in each ch across. (20)\n",
                                       NULL, NULL);
    assert_non_null(read.project);
    assert_string_equal(hk_written_choice(read.project, 0), "skipped chains before hdc count as hdc");
    assert_null(hk_written_choice(read.project, 1));
    proofed_free(&read);
}

static void rows_that_look_like_others(void **state)
{
    assert_rows("# Body\n" WITH "CO 20 sts.\nRow 1: K.\nCast on 4 sts, k to end. (24 sts)\nNext row: Cast on 4 sts, k "
                "to end. (28 sts)\nNext row: K2, k2tog.\n",
                "3 Row 1: 20 20 20\n4 : 24= 24= 24=\n5 Next row: 28= 28= 28=\n6 Next row: ? ? ?\n",
                "pattern.txt:6:11: error: 24 stitches remain at the end of the row\n");
    assert_rows("# Body\n" WITH "CO 20 sts.\nAll WS rows: P.\nRow 1 (RS): K.\nRow 3 (RS): K.\n",
                "3 All WS rows: 20 20 20\n4 Row 1 (RS): 20 20 20\n5 Row 3 (RS): 20 20 20\n", "");
    assert_rows("# Body\n" WITH "CO 20 sts.\nRow 1 (RS): K.\nEvery WS row: P.\nRow 2: P.\n",
                "3 Row 1 (RS): 20 20 20\n4 Every WS row: ? ? ?\n5 Row 2: 20 20 20\n",
                "pattern.txt:4:1: error: the number of times that this row is worked is missing; write how often, such "
                "as \"Rep rows 1 "
                "and 2 4 more times\", or number the rows that it is worked between\n");
}

static void stated_counts_decide_conventions(void **state)
{
    assert_rows("# Tube\n" WITH "ch 20, join.\nRnd 1: Ch 3, dc in each ch around, join. (20 dc)\nRnd 2: Ch 3, dc in "
                "each st around, join. (20 dc)\n",
                "3 Rnd 1: 20= 20= 20=\n4 Rnd 2: 20= 20= 20=\n", "");
    assert_rows("# Square\n" WITH "ch 21.\nRow 1: Sc in 2nd ch from hook and in each ch across, turn. (20 sc)\nRow 2: "
                "Ch 2, dc in each st across, turn. (20 dc)\n",
                "3 Row 1: 20= 20= 20=\n4 Row 2: 20= 20= 20=\n", "");
}

static void a_piece_as_another(void **state)
{
    assert_rows("# Left front\nWith main and 5 mm needles, cast on 20 (22, 24) sts.\nRows 1-10: K.\nBind off 4 sts at "
                "beg of next 2 rows.\n"
                "# Right front\nWork as left front, reversing shaping.\n# Back\nWork as the sleeve.\n",
                "3 Rows 1-10: 20 22 24\n4 : 12 14 16\n6 : 12 14 16\n8 : ? ? ?\n",
                "pattern.txt:6:1: note: \"Right front\" is counted as \"Left front\": reversed, its rows have the same "
                "stitches\n"
                "pattern.txt:8:1: error: there is no piece of that name above; name it as its heading does, or write "
                "the rows\n");
    /* In one line, and where two pieces share the name. */
    assert_rows(
        "# Left front\nWith main and 5 mm needles, cast on 20 (22, 24) sts.\nRows 1-10: K.\nRow 11: Dec 1 st at end "
        "of row.\nRight front: Work as for left front, reversing all shaping. 19 (21, 23) sts\n"
        "# Sleeve\nCast on 20 sts.\nRow 1: K.\n# Sleeve\nCast on 22 sts.\nRow 1: K.\n# Other sleeve\nWork as sleeve.\n",
        "3 Rows 1-10: 20 22 24\n4 Row 11: 19 21 23\n5 : 19= 21= 23=\n8 Row 1: 20 20 20\n11 Row 1: 22 22 22\n13 : ? ? "
        "?\n",
        "pattern.txt:5:14: note: \"Right front\" is counted as \"Left front\": reversed, its rows have the same "
        "stitches\npattern.txt:13:1: error: several pieces above have that name; give each a name of its own in its "
        "heading\n");
}

static void stitch_patterns_by_name(void **state)
{
    assert_rows("Moss st:\nRow 1: *K1, p1; rep from * to end.\nRow 2: *P1, k1; rep from * to end.\n\n# Cuff\nWith main "
                "and 5 mm needles, cast on 20 sts.\n"
                "Work in moss st for 7 rows.\nWork 4 rows in stockinette. (20 sts)\nWork in no such st for 4 rows.\n",
                "7 : 20 20 20\n8 : 20= 20= 20=\n9 : ? ? ?\n",
                "pattern.txt:9:1: error: there is no stitch pattern \"no such st\"; write its rows under its name "
                "before the pieces, or into fabrics.csv\n");
}

static void starts_that_cannot_be(void **state)
{
    assert_rows("# Sleeve\n" WITH "join main at underarm, sc in each st around.\n", "2 : ? ? ?\n",
                "pattern.txt:2:26: error: how many stitches this is worked on is not known; name what it is worked "
                "into, such as each row end of back, or write \"On an edge of 40 sts:\" before it\n");
    assert_rows("# Sleeve\nRow 1: With main and 5 mm hook, sc in each st across.\n", "2 Row 1: ? ? ?\n",
                "pattern.txt:2:1: error: work begins nowhere; write how it begins before it: \"ch 72\", \"cast on 84 "
                "sts\", \"On an edge of 20 sts:\"\n");
    assert_rows("Only words.\n", "",
                "pattern.txt:0:0: error: no piece begins in it; a piece begins with \"ch 72\", \"cast on 84 sts\", \"6 "
                "sc in magic ring\" or \"On an edge of 20 sts:\"\n");
    assert_rows("# Sleeve\nWith main, ch 21.\nRow 1: Sc in 2nd ch from hook and in each ch across.\n",
                "3 Row 1: 20 20 20\n",
                "pattern.txt:2:12: error: \"Sleeve\" does not say its hook or needles; write them where it begins: "
                "\"With MC and 5 mm hook, ch 72\"\n");
    assert_rows(
        "# Sleeve\nWith 5 mm hook, ch 21.\nRow 1: Sc in 2nd ch from hook and in each ch across.\nSew the seam.\n",
        "3 Row 1: 20 20 20\n",
        "yarns.csv:3:1: warning: no part is worked in \"trim\"; name it in pattern.txt or pieces.csv, or take its rows "
        "out of this file\n"
        "pattern.txt:2:17: note: \"Sleeve\" names no yarn: main is taken; write it where it begins: \"With MC and 5 mm "
        "hook, ch 72\"\n"
        "pattern.txt:4:1: note: no yarn is counted for \"Sew the seam.\"\n");
    assert_rows("# Sleeve\n" WITH "ch 21 (23).\nRow 1: Sc in each ch across.\n", "3 Row 1: ? ? ?\n",
                "pattern.txt:2:29: error: a number is not given once for each of the 3 sizes; write one value, or one "
                "for each size, as 12 (14, 16); - for a size that "
                "does without\n");
}

static void yarns_that_no_role_has_are_reported(void **state)
{
    assert_rows(
        "# Sleeve\nWith 5 mm hook and B, ch 21 (23, 25).\nRow 1: Sc in 2nd ch from hook and in each ch across.\n",
        "3 Row 1: 20 22 24\n",
        "pattern.txt:2:20: error: there is no yarn \"B\" in yarns.csv; add a row for it, with \"B\" as its role, or "
        "name another yarn\n");
    assert_rows("# Sleeve\n" WITH
                "ch 21 (23, 25).\nRow 1: Sc in 2nd ch from hook and in each ch across.\nRow 2: With CC2, sc in each st "
                "across. (20 (22, 24) sts)\nRow 3: Sc in each st across.\n",
                "3 Row 1: 20 22 24\n4 Row 2: ? ? ?\n5 Row 3: ~20 ~22 ~24\n",
                "pattern.txt:4:13: error: there is no yarn \"CC2\" in yarns.csv; add a row for it, with \"CC2\" as its "
                "role, or "
                "name another yarn\n");
    assert_rows("# Sleeve\nWith 5 mm hook and A, ch 21.\nRow 1: Sc in 2nd ch from hook and in each ch across.\n",
                "3 Row 1: 20 20 20\n", "");
}

/* The first value of a list is never taken for all sizes. Brackets with colons are the custom of UK patterns (common
 * practice, no source). */
static void numbers_of_a_start_are_of_every_size(void **state)
{
    static const char *const graded[] = {"21 (23: 25)", "21 [23: 25]", "21[23:25]", "21 (23; 25)", "21 (23, 25)", NULL},
                             *const lists[] = {"21/23/25",   "21 / 23 / 25", "21-23-25",
                                               "21, 23, 25", "21: 23: 25",   NULL},
                             *const others[] = {"21 (23: 25: 27)", "21 ch (23, 25)", "21 chs (23 chs, 25 chs)", NULL},
                             *const words[] = {"21 or 23 ch", "21 (S), 23 (M), 25 (L)", "21 to 25 ch", NULL};
    char text[400];
    for (size_t i = 0; graded[i]; i++) {
        snprintf(text, sizeof text,
                 "# Back\n" WITH "ch %s.\nRow 1: Sc in 2nd ch from hook and in each ch across. 20 (22: 24) sc\n"
                 "Rows 2-3 (4: 5): Sc in next 20 (22: 24) sts.\nRep last row 2 (3: 4) more times.\n",
                 graded[i]);
        assert_rows(text, "3 Row 1: 20= 22= 24=\n4 Rows 2-3 (4: 5): 20 22 24\n5 : 20 22 24\n", "");
    }
    for (size_t i = 0; lists[i]; i++) {
        snprintf(text, sizeof text, "# Back\n" WITH "ch %s.\nRow 1: Sc in 2nd ch from hook and in each ch across.\n",
                 lists[i]);
        assert_rows(text, "3 Row 1: ? ? ?\n",
                    "pattern.txt:2:29: error: the number is a list without brackets; write the first size, then the "
                    "others in brackets: 21 (23, 25)\n");
    }
    for (size_t i = 0; others[i]; i++) {
        snprintf(text, sizeof text, "# Back\n" WITH "ch %s.\nRow 1: Sc in 2nd ch from hook and in each ch across.\n",
                 others[i]);
        assert_rows(text, "3 Row 1: ? ? ?\n",
                    "pattern.txt:2:29: error: a number is not given once for each of the 3 sizes; write one value, or "
                    "one for each size, as 12 (14, 16); - for a size that does without\n");
    }
    for (size_t i = 0; words[i]; i++) {
        struct proofed read;
        snprintf(text, sizeof text, "# Back\n" WITH "ch %s.\nRow 1: Sc in 2nd ch from hook and in each ch across.\n",
                 words[i]);
        read = proofed_read(*state, text, NULL, NULL);
        assert_int_equal(read.diags.errors, 1);
        assert_string_equal(read.diags.findings[0].message, "these words after a beginning are not read");
        proofed_free(&read);
    }
    assert_rows("# Back\n" WITH
                "ch 21 (multiple of 2 plus 1) loosely.\nRow 1: Sc in 2nd ch from hook and in each ch across.\n",
                "3 Row 1: 20 20 20\n", "");
}

/* ---- Lines of the project ---- */

/*
 * Two sleeves of 20 ch and 3 rows of 19 sc; a fringe beside them in pieces.csv: 10 rows of 8 sc, 7 of them after its
 * foundation.
 */
static void parts_are_lines_of_the_project(void **state)
{
    struct proofed read = proofed_read(
        *state,
        "# Sleeves (make 2)\n" WITH
        "ch 20.\nRow 1: Sc in 2nd ch from hook and in each ch across, turn.\nChange to trim.\n"
        "Rows 2-3: Ch 1, sc in each st across, turn.\nFasten off, leaving a 40 cm tail.\nChange to 4 mm hook.\nRow 4: "
        "Ch 1, sc in each st across.\n",
        "pieces.csv", "piece,fabric,yarn,tool,stitches,rows,start\nfringe,single crochet,trim,5 mm,8,10,chain\n");
    assert_findings(&read.diags, "");
    read.diags = (struct hk_diags){0};
    assert_non_null(read.tally);
    assert_int_equal(hk_tally_lines(read.tally), 3);
    struct hk_line_count line = hk_tally_line(read.tally, 0, 1);
    assert_string_equal(line.piece, "Sleeves");
    assert_string_equal(line.part, "");
    assert_true(line.written);
    assert_int_equal(line.times, 2);
    assert_int_equal(line.foundation, 20);
    assert_int_equal(line.run_count, 1);
    assert_int_equal(line.runs[0].last, 3);
    assert_int_equal(line.runs[0].stitches, 19);
    line = hk_tally_line(read.tally, 1, 1);
    assert_string_equal(line.part, "from Row 4");
    assert_string_equal(line.fabric, "single crochet");
    assert_false(hk_tally_line(read.tally, 2, 1).written);
    assert_int_equal(proofed_total(&read, 1, "sc"), 2 * 4 * 19 + 80);
    /*
     * 20 and one in each of rows 2 to 4, twice; 9 for the fringe's foundation and one for each row, the first of them
     * on the foundation.
     */
    assert_int_equal(proofed_total(&read, 1, "ch"), 2 * 23 + 8 + 10);
    /*
     * main is joined once and trim once in the first line, two ends each; the tail is 25 cm longer than the 15 cm of
     * every end.
     */
    const struct hk_worked *worked = &read.tally->lines[1 * 3 + 0];
    assert_int_equal(worked->use_count, 2);
    assert_close(worked->uses[0].ends[0], 2, 0, 0);
    assert_close(worked->uses[1].ends[0], 2, 0, 0);
    assert_close(worked->uses[1].cut_m, 0.25, 1e-12, 0);
    /* Row 4 continues in trim, so no yarn is joined. */
    assert_close(read.tally->lines[1 * 3 + 1].uses[0].ends[0], 0, 0, 0);
    proofed_free(&read);
}

/*
 * A yarn that returns within a row was carried along the stitches that it passed: in k1, k3 around 24 stitches main
 * passes 3 five times, trim 1 five times; past a stripe of 5 sc it is carried once. A yarn that does not return in the
 * row is not carried.
 */
static void a_yarn_that_comes_back_is_carried(void **state)
{
    struct proofed read =
        proofed_read(*state,
                     "# Band\nWith main and 4 mm needles, cast on 24 sts, join.\n"
                     "Rnd 1: *K1 main, k3 trim; rep from * around.\nRnd 2: K12 trim, k12 main.\n"
                     "# Cuff\nWith main and 5 mm hook, ch 21.\n"
                     "Row 1: Sc in 2nd ch from hook and in each ch across, turn.\n"
                     "Row 2: Ch 1, sc in next 5 sts, with trim sc in next 5 sts, with main sc in next 10 sts.\n",
                     NULL, NULL);
    assert_int_equal(read.diags.errors, 0);
    assert_int_equal(proofed_total(&read, 0, "float"), 5 * 3 + 5 * 1);
    assert_int_equal(proofed_total(&read, 0, "carried strand"), 5);
    assert_int_equal(proofed_total(&read, 0, "k"), 48);
    assert_int_equal(proofed_total(&read, 0, "sc"), 40);
    proofed_free(&read);
}

static void progress_counts_rows_of_a_pattern(void **state)
{
    struct proofed read = proofed_read(*state,
                                       "# Scarf\n" WITH "ch 20.\nRow 1: Sc in 2nd ch from hook and in each ch across, "
                                       "turn.\nRows 2-30: Ch 1, sc in each st across, turn.\n",
                                       "progress.csv", "size,piece,rows,weight,scale_step\nM,Scarf,10,20 g,1 g\n");
    if (!read.tally)
        fail_msg("%s", findings_text(&read.diags));
    assert_int_equal(read.tally->progress[0].count, 1);
    const struct hk_use *use = &read.tally->progress[0].worked[0].uses[0];
    for (size_t i = 0; i < use->kinds.count; i++)
        if (strcmp(read.project->catalogue->stitches[use->kinds.kinds[i].stitch].us, "sc") == 0)
            assert_close(use->kinds.kinds[i].count, 190, 0, 0);
    proofed_free(&read);
}

/*
 * Lengths cut in a row count for all its rows; a tail belongs to the piece, and counts beyond that of an end; a cut
 * after the worked rows does not count.
 */
static void what_is_cut_is_counted_with_its_rows(void **state)
{
    struct proofed read = proofed_read(
        *state,
        "# Fringe\n" WITH "ch 20.\nRow 1: Sc in 2nd ch from hook and in each ch across, turn.\nRows 2-4: Ch 1, sc "
        "in each st across, cut 20 cm twice, turn.\nRow 5: Ch 1, sc in each st across.\nFasten off, leaving a 10 "
        "cm tail.\n",
        "progress.csv", "size,piece,rows,weight,scale_step\nM,Fringe,3,20 g,1 g\nL,Fringe,5,20 g,1 g\n");
    if (!read.tally)
        fail_msg("%s", findings_text(&read.diags));
    assert_findings(&read.diags, "");
    read.diags = (struct hk_diags){0};
    /* Three rows of 40 cm; the tail of 10 cm is within the 15 cm of an end. */
    assert_close(read.tally->lines[0].uses[0].cut_m, 3 * 0.4, 1e-12, 0);
    assert_close(read.tally->progress[0].worked[0].uses[0].cut_m, 2 * 0.4, 1e-12, 0);
    assert_close(read.tally->progress[1].worked[0].uses[0].cut_m, 3 * 0.4, 1e-12, 0);
    proofed_free(&read);
}

/* The fabric assigned to a line: that of most of its stitches, flat or in rounds. */
static void a_line_is_of_the_fabric_of_most_stitches(void **state)
{
    static const struct {
        const char *pattern, *fabric;
    } cases[] = {
        {WITH "ch 20.\nRow 1: Sc in 2nd ch from hook and in each ch across.\n", "single crochet"},
        {WITH "ch 20, join.\nRow 1: Sc in each ch around.\n", "single crochet in a spiral"},
        {WITH "on an edge of 20 sts:\nRnd 1: sc in each st around.\n", "single crochet in a spiral"},
        {WITH "on an edge of 20 sts:\n2nd round: sc in each st around.\n", "single crochet in a spiral"},
        {WITH "on an edge of 20 sts:\nInc rd: sc in each st around.\n", "single crochet in a spiral"},
        {WITH "on an edge of 20 sts:\nRow 1: hdc in each st across.\n", "half double crochet"},
        {WITH "cast on 20 sts.\nRow 1: k.\nRow 2: k.\n", "garter stitch"},
        {WITH "cast on 20 sts.\nRow 1: k.\nRow 2: p.\n", "stockinette"},
        {WITH "cast on 20 sts, join.\nRnd 1: k.\n", "stockinette in rounds"},
        {WITH "ch 20.\nFasten off.\n", "single crochet"}, /* a cord made of chains alone */
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct proofed read = proofed_read(*state, cases[i].pattern, NULL, NULL);
        if (!read.tally)
            fail_msg("%s%s", cases[i].pattern, findings_text(&read.diags));
        if (strcmp(hk_tally_line(read.tally, 0, 0).fabric, cases[i].fabric) != 0)
            fail_msg("%s%s", cases[i].pattern, hk_tally_line(read.tally, 0, 0).fabric);
        proofed_free(&read);
    }
}

/* Number of rows in a length, by swatch: 20 rows in 10 cm with 5 mm, 18 with 6 mm, in stockinette 25. */
static void the_swatch_of_the_stitch_nearest_in_tool_decides(void **state)
{
    static const char more[] =
        "swatch,yarn,tool,fabric,stitches,rows,gauge\nloose,main,6 mm,single crochet,20,20,14 x 18\n"
        "body,main,5 mm,single crochet,20,20,16 x 20\nthin,main,4 mm,single crochet,20,20,18 x 24\n"
        "plain,main,5 mm,stockinette,20,20,18 x 25\nbare,main,5 mm,garter stitch,20,20,\n";
    static const struct {
        const char *pattern, *finding;
    } cases[] = {
        {"# Hem\nWith 6.5 mm hook, ch 20.\nRow 1: Sc in 2nd ch from hook and in each ch across, turn.\nRow 2: Ch 1, sc "
         "in each st "
         "across, turn.\nRep row 2 until piece measures 10 cm.\n",
         "pattern.txt:5:1: note: this length is 16 (16, 16) rows by the gauge of a swatch\n"},
        {"# Hem\nWith 5 mm hook, ch 20.\nRow 1: Sc in 2nd ch from hook and in each ch across, turn.\nRow 2: Ch 1, sc "
         "in each st "
         "across, turn.\nRep row 2 until piece measures 10 cm.\n",
         "pattern.txt:5:1: note: this length is 18 (18, 18) rows by the gauge of a swatch\n"},
        {"# Hem\nWith 5 mm hook, ch 20.\nRow 1: Sc in 2nd ch from hook and in each ch across, turn.\nRow 2: Ch 1, sc "
         "in each st "
         "across, turn.\nRep row 2 until piece measures 10 cm.\n",
         NULL},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        const struct memory_file files[] = {{"project.csv", PROJECT, 0},
                                            {"yarns.csv", YARN, 0},
                                            {"swatches.csv",
                                             cases[i].finding ? more
                                                              : "swatch,yarn,tool,fabric,stitches,rows,gauge\n"
                                                                "bare,main,5 mm,single crochet,20,20,\n",
                                             0},
                                            {"pattern.txt", cases[i].pattern, 0},
                                            {NULL, NULL, 0}};
        struct hk_source source = memory_source(files);
        struct hk_diags diags = {0};
        struct hk_project *project = hk_project_read(&source, *state, &diags);
        assert_non_null(project);
        hk_tally_free(hk_tally_count(project, &diags));
        if (cases[i].finding)
            assert_findings(&diags, cases[i].finding);
        else
            assert_true(diags.errors > 0); /* no swatch states a number of rows */
        hk_diags_free(&diags);
        hk_project_free(project);
    }
}

static void own_fabrics_are_stitch_patterns(void **state)
{
    const struct memory_file files[] = {
        {"project.csv", PROJECT, 0},
        {"yarns.csv", YARN, 0},
        {"fabrics.csv", "fabric,row,make\nbars,1,\"*k 1*\"\npairs,1,\"*k 1, p 1*\"\n", 0},
        {"pattern.txt", "# Cuff\nWith 5 mm needles, cast on 20 sts.\nWork in pairs for 4 rows.\n", 0},
        {NULL, NULL, 0}};
    struct hk_source source = memory_source(files);
    struct hk_diags diags = {0};
    struct hk_project *project = hk_project_read(&source, *state, &diags);
    assert_findings(&diags, "");
    assert_non_null(project);
    assert_int_equal(hk_written_rows(project), 1);
    assert_int_equal(hk_written_row(project, 0, 2).stitches, 20);
    assert_int_equal(hk_written_row(project, 0, 2).rows, 4);
    hk_project_free(project);
}

/* A pattern is read when the meanings of its words are known; its other mistakes are reported anyway. */
static void mistakes_in_other_files_leave_the_pattern_unread(void **state)
{
    static const struct {
        const char *project, *yarns, *findings;
    } cases[] = {
        {"field,value\nsizes,\"S (S, L)\"\n", YARN, "project.csv:2:11: error: "},
        {"field,value\nsizes,\"S (M, L)\"\nterms,Welsh\n", YARN, "project.csv:3:7: error: "},
        {PROJECT, "role,yarn,put_up,length\n,Holm DK,50 g,120 m\n", "yarns.csv:2"},
        {PROJECT, "role,yarn,put_up,length\n", "yarns.csv"},
        {PROJECT, "role,yarn,put_up,length\n\"\n", "yarns.csv"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        const struct memory_file files[] = {{"project.csv", cases[i].project, 0},
                                            {"yarns.csv", cases[i].yarns, 0},
                                            {"pattern.txt", WITH "ch 20.\nRow 1: Sc in each ch.\n", 0},
                                            {NULL, NULL, 0}};
        struct hk_source source = memory_source(files);
        struct hk_diags diags = {0};
        assert_null(hk_project_read(&source, *state, &diags));
        char *text = findings_text(&diags);
        if (!strstr(text, cases[i].findings))
            fail_msg("%s", text);
        free(text);
        hk_diags_free(&diags);
    }
}

static void without_a_pattern_nothing_is_written(void **state)
{
    const struct memory_file files[] = {
        {"project.csv", PROJECT, 0},
        {"yarns.csv", YARN, 0},
        {"pieces.csv", "piece,fabric,yarn,tool,stitches,rows\nhem,single crochet,main,5 mm,8,10\n", 0},
        {NULL, NULL, 0}};
    struct hk_source source = memory_source(files);
    struct hk_diags diags = {0};
    struct hk_project *project = hk_project_read(&source, *state, &diags);
    assert_findings(&diags, "");
    size_t line, count;
    bool work, complete;
    assert_false(hk_project_written(project));
    assert_int_equal(hk_written_rows(project), 0);
    assert_null(hk_written_choice(project, 0));
    assert_null(hk_written_prose(project, 0, &line, &work));
    hk_written_totals(project, &count, &complete);
    assert_int_equal(count, 0);
    assert_true(complete);
    hk_project_free(project);
}

/* More kinds of rows than the search for the longest keeps, and more runs than are kept. */
static void patterns_of_many_kinds_of_rows_are_counted_whole(void **state)
{
    enum { kinds = 70, rows = 4200 };
    static char text[200 * 1024];
    size_t at = (size_t)snprintf(text, sizeof text,
                                 "# Sampler\n" WITH "ch 101.\nRow 1: Sc in 2nd ch from hook and in each ch "
                                 "across, turn.\n");
    for (int i = 1; i <= kinds; i++)
        at += (size_t)snprintf(text + at, sizeof text - at, "Row %d: Sc in next %d sts, dc in next %d sts, turn.\n",
                               i + 1, i, 100 - i);
    snprintf(text + at, sizeof text - at,
             "Row 72: Sc2tog, sc in next 98 sts, turn.\nRow 73: 2 sc in first st, sc in next 98 sts, turn.\nRep last 2 "
             "rows %d "
             "times.\n",
             rows / 2);
    struct proofed read = proofed_read(*state, text, NULL, NULL);
    if (!read.tally)
        fail_msg("%s", findings_text(&read.diags));
    int64_t sc = 100;
    for (int i = 1; i <= kinds; i++)
        sc += i;
    /* sc2tog is one stitch of its own kind, an increase is the two sc of its result. */
    sc += (int64_t)(rows / 2 + 1) * (98 + 100);
    assert_int_equal(proofed_total(&read, 1, "sc"), sc);
    proofed_free(&read);
}

/* A stretch of constant width is multiplied; the cost of rows is bounded. */
static void long_and_hostile_patterns_are_bounded(void **state)
{
    struct proofed read = proofed_read(*state,
                                       "# Rope\n" WITH "ch 1001.\nRow 1: Sc in 2nd ch from hook and in each ch across, "
                                       "turn.\nRow 2: Ch 1, sc in each st across, turn.\n"
                                       "Rep row 2 90000 times.\nRep last 2 rows 10000 more times.\n",
                                       NULL, NULL);
    assert_null(read.tally);
    assert_findings(&read.diags, "pattern.txt:6:1: error: the piece has more than 100000 rows; is a number a slip?\n");
    read.diags = (struct hk_diags){0};
    proofed_free(&read);
    assert_rows("# Rope\n" WITH "ch 9999999.\nRow 1: Sc in each ch across.\n", "3 Row 1: ? ? ?\n",
                "pattern.txt:2:26: error: work begins on more stitches than can be followed; is the number a slip?\n");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rows_are_worked_in_every_size),
        cmocka_unit_test(a_count_that_differs_is_reported_of_its_sizes),
        cmocka_unit_test(drafts_go_on),
        cmocka_unit_test(what_to_take_in_place_of_a_row),
        cmocka_unit_test(references_mean_the_rows_above),
        cmocka_unit_test(rows_go_on_to_the_end_of_an_edge),
        cmocka_unit_test(work_goes_on_even),
        cmocka_unit_test(lengths_become_rows_by_the_gauge),
        cmocka_unit_test(shaping_at_ends_comes_out),
        cmocka_unit_test(references_say_all_that_is_worked),
        cmocka_unit_test(shaping_is_planned_to_its_end),
        cmocka_unit_test(sides_are_followed),
        cmocka_unit_test(rows_stand_for_others),
        cmocka_unit_test(words_settle_what_is_shown),
        cmocka_unit_test(rows_that_look_like_others),
        cmocka_unit_test(stated_counts_decide_conventions),
        cmocka_unit_test(a_piece_as_another),
        cmocka_unit_test(stitch_patterns_by_name),
        cmocka_unit_test(starts_that_cannot_be),
        cmocka_unit_test(yarns_that_no_role_has_are_reported),
        cmocka_unit_test(numbers_of_a_start_are_of_every_size),
        cmocka_unit_test(parts_are_lines_of_the_project),
        cmocka_unit_test(a_yarn_that_comes_back_is_carried),
        cmocka_unit_test(progress_counts_rows_of_a_pattern),
        cmocka_unit_test(what_is_cut_is_counted_with_its_rows),
        cmocka_unit_test(a_line_is_of_the_fabric_of_most_stitches),
        cmocka_unit_test(the_swatch_of_the_stitch_nearest_in_tool_decides),
        cmocka_unit_test(own_fabrics_are_stitch_patterns),
        cmocka_unit_test(mistakes_in_other_files_leave_the_pattern_unread),
        cmocka_unit_test(without_a_pattern_nothing_is_written),
        cmocka_unit_test(patterns_of_many_kinds_of_rows_are_counted_whole),
        cmocka_unit_test(long_and_hostile_patterns_are_bounded),
    };
    return cmocka_run_group_tests(tests, catalogue_set_up, catalogue_tear_down);
}
