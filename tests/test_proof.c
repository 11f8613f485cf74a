/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Written patterns worked in every size: continued rows, lengths, stitch patterns by name, shaping at the ends, pieces
 * like others, [take as ...], edges that work begins on, labels and sides, limits of the information kept for a row.
 * Counts worked by hand; rules of the trade: common practice, no source.
 */
#include "proofed.h"

#include "pattern/proof.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define HOOK "With main and 5 mm hook, "
#define NEEDLES "With main and 5 mm needles, "
/* Lines 1 to 3. */
#define SC_20 "# Body\n" HOOK "ch 21.\nRow 1: Sc in 2nd ch from hook and in each ch across, turn.\n"
#define SC_20_ROW "3 Row 1: 20 20 20\n"
/* Lines 1 and 2; 1 to 4. */
#define CAST_ON_20 "# Body\n" NEEDLES "cast on 20 sts.\n"
#define STOCKINETTE_20 CAST_ON_20 "Row 1: K.\nRow 2: P.\n"
#define STOCKINETTE_20_ROWS "3 Row 1: 20 20 20\n4 Row 2: 20 20 20\n"
#define HAT_20 "# Hat\n" NEEDLES "cast on 20 sts, join.\n"

/* The stitches of the totals, here of size M, show the chosen rows. */
struct totals {
    const char *pattern;
    struct {
        const char *stitch;
        int64_t count;
    } of[3];
};

static void assert_totals(const struct hk_catalogue *catalogue, const struct totals *totals, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        struct proofed read = proofed_read(catalogue, totals[i].pattern, NULL, NULL);
        if (!read.tally)
            fail_msg("%s%s", totals[i].pattern, findings_text(&read.diags));
        for (size_t s = 0; s < 3 && totals[i].of[s].stitch; s++) {
            int64_t found = proofed_total(&read, 1, totals[i].of[s].stitch);
            if (found != totals[i].of[s].count)
                fail_msg("%s%" PRId64 " %s, and not %" PRId64, totals[i].pattern, found, totals[i].of[s].stitch,
                         totals[i].of[s].count);
        }
        proofed_free(&read);
    }
}

/* One error of one row, the same in all sizes; the rest of the pattern has none. */
struct refused {
    const char *pattern, *rows, *finding;
};

static void assert_refused(const struct hk_catalogue *catalogue, const struct refused *refused, size_t count)
{
    for (size_t i = 0; i < count; i++)
        assert_rows_at(catalogue, refused[i].pattern, refused[i].rows, refused[i].finding, __FILE__, __LINE__);
}
#define COUNT(list) (sizeof(list) / sizeof(list)[0])

/* ---- Work even ---- */

static void rows_go_on_as_they_were(void **state)
{
    static const struct totals totals[] = {
        /* The last row shaped: plain rows of its stitch. 20, 16 and two decreases, 3 x 18. */
        {SC_20 "Row 2: Ch 1, sc2tog, sc in each st to last 2 sts, sc2tog, turn.\nWork even for 3 rows.\n",
         {{"sc", 90}, {"sc2tog", 2}}},
        /* The rows of the last reference in turn: sc dc | sc dc sc dc | sc dc sc; 19 dc and the ch 3 a row. */
        {SC_20 "Row 2: Ch 1, sc in each st across, turn.\nRow 3: Ch 3, dc in each st across, turn.\n"
               "Rep rows 2 and 3 twice.\nWork even for 3 rows.\n",
         {{"sc", 120}, {"dc", 76}}},
        /* From where they were left: sc sc hdc hdc sc | sc hdc hdc. */
        {"Wave st:\nRow 1: Ch 1, sc in each st across, turn.\nRow 2: Ch 1, sc in each st across, turn.\n"
         "Row 3: Ch 1, hdc in each st across, turn.\nRow 4: Ch 1, hdc in each st across, turn.\n\n" SC_20
         "Work in wave st for 5 rows.\nWork even for 3 rows.\n",
         {{"sc", 100}, {"hdc", 80}}},
        /* The same if the pattern has more rows than were worked: sc sc hdc | hdc sc. */
        {"Wave st:\nRow 1: Ch 1, sc in each st across, turn.\nRow 2: Ch 1, sc in each st across, turn.\n"
         "Row 3: Ch 1, hdc in each st across, turn.\nRow 4: Ch 1, hdc in each st across, turn.\n\n" SC_20
         "Work in wave st for 3 rows.\nWork even for 2 rows.\n",
         {{"sc", 80}, {"hdc", 40}}},
        /* The rows of the last reference shaped: plain rows. 20; 19, 18 and an increase before each, 22. */
        {SC_20 "Row 2: Ch 1, 2 sc in first st, sc in each st across, turn.\nRep row 2.\nWork even for 2 rows.\n",
         {{"sc", 20 + 21 + 22 + 2 * 22}}},
        /* Flat knitting continues with both of its rows, even if they shaped: 18 k, 17 p | k p k of 18. */
        {CAST_ON_20 "Row 1: K2tog, k to end.\nRow 2: P2tog, p to end.\nWork even for 3 rows.\n",
         {{"k", 54}, {"p", 35}}},
        {STOCKINETTE_20 "Work even for 3 rows.\n", {{"k", 60}, {"p", 40}}},
        /* One of the two shaped. */
        {CAST_ON_20 "Row 1: K2tog, k to end.\nRow 2: P.\nWork even for 2 rows.\n", {{"k", 37}, {"p", 38}}},
        /* Rounds. */
        {HAT_20 "Rnd 1: K2tog, k to end.\nWork even for 3 rnds.\n", {{"k", 75}}},
        {HAT_20 "Rnd 1: K.\nWork even for 2 rnds.\n", {{"k", 60}}},
        /* Foundation stitches continue as the stitch of their kind. */
        {"# Body\n" HOOK "12 fsc.\nRow 1: Ch 1, sc in each st across, turn.\nWork even for 2 rows.\n", {{"sc", 36}}},
        /* Two rows of one stitch; increases and decreases are of it. */
        {SC_20
         "Row 2: Ch 1, sc in each st across, turn.\nRow 3: Ch 1, sc in next 20 sts, turn.\nWork even for 2 rows.\n",
         {{"sc", 100}}},
        {HAT_20 "Rnd 1: P1, M1P, p to end.\nRnd 2: Ssp, p to end.\nWork even for 2 rnds.\n", {{"p", 20 + 19 + 40}}},
        /* Chains without stitches, and spaces with them. */
        {"# Tube\n" HOOK "ch 20, join.\nRnd 1: Sc in each sc and each ch around.\nRnds 2-3: Rep rnd 1.\n",
         {{"sc", 60}}},
        {SC_20 "Row 2: Ch 1, *sc in next st, ch 1, sk next st; rep from * across, turn.\n"
               "Row 3: Ch 1, *sc in next sc, ch 1; rep from * across, turn.\nNext 2 rows: Rep row 3.\n",
         {{"sc", 60}}},
        /* The last reference has no rows. */
        {SC_20 "Row 2: Ch 1, sc in each st across, turn.\nRep row 2 0 times.\nWork even for 2 rows.\n", {{"sc", 80}}},
    };
    assert_totals(*state, totals, COUNT(totals));
}

#define NO_ROWS                                                                                                        \
    "the rows above do not show which rows go on; write \"Rep row 4 for 10 rows\", or \"Work 10 rows in "              \
    "sc\"\n"

/* Stockinette has knit rows on the right side and purl rows on the wrong side (common practice, no source). */
static void stitch_patterns_begin_with_a_row(void **state)
{
    static const struct totals totals[] = {
        {STOCKINETTE_20 "Beg with a K row, work in st st for 5 (7: 9) rows.\n", {{"k", 100}, {"p", 80}}},
        {STOCKINETTE_20 "Beg with a P row, work in st st for 5 (7: 9) rows.\n", {{"k", 80}, {"p", 100}}},
        {STOCKINETTE_20 "Work 7 rows in st st, beginning with a purl row.\n", {{"k", 80}, {"p", 100}}},
        {STOCKINETTE_20 "Starting with a WS row, cont in stocking stitch for 7 rows.\n", {{"k", 80}, {"p", 100}}},
        {STOCKINETTE_20 "Beg with a RS row, work in st st for 7 rows.\n", {{"k", 100}, {"p", 80}}},
        {STOCKINETTE_20 "St st 7 rows.\n", {{"k", 100}, {"p", 80}}},
        {STOCKINETTE_20 "Beg with a K row, garter st 6 rows.\n", {{"k", 140}, {"p", 20}}},
        {STOCKINETTE_20 "Beg with a WS row, garter st 6 rows.\n", {{"k", 140}, {"p", 20}}},
        {HAT_20 "Rnd 1: K.\nBeg with a K rnd, work in st st for 6 rnds.\n", {{"k", 140}, {"p", 0}}},
    };
    static const struct refused refused[] = {
        /* Its line does not continue the one above, which is the longest. */
        {STOCKINETTE_20
         "Next row: K2, k1, k1, k1, k1, k1, k1, k to last 2 sts, k2\nBeg with a P row, work in st st for 5 (7: 9) "
         "rows.\nSt st 4 rows.\n",
         STOCKINETTE_20_ROWS "5 Next row: 20 20 20\n6 : 20 20 20\n7 : 20 20 20\n", ""},
        {STOCKINETTE_20 "Beg with a P row, garter st 6 rows.\n", STOCKINETTE_20_ROWS "5 : ? ? ?\n",
         "pattern.txt:5:1: error: with which row this stitch pattern begins is not clear; leave out \"beg with\", or "
         "write "
         "its rows\n"},
        {HAT_20 "Rnd 1: K.\nBeg with a P rnd, work in st st for 6 rnds.\n", "3 Rnd 1: 20 20 20\n4 : ? ? ?\n",
         "pattern.txt:4:1: error: with which row this stitch pattern begins is not clear; leave out \"beg with\", or "
         "write "
         "its rows\n"},
        {"# Cord st\nRow 1: K.\nRow 2: P.\nRow 3: K.\n" CAST_ON_20 "Beg with a WS row, work in cord st for 6 rows.\n",
         "7 : ? ? ?\n",
         "pattern.txt:7:1: error: with which row this stitch pattern begins is not clear; leave out \"beg with\", or "
         "write "
         "its rows\n"},
        {CAST_ON_20 "Row 1 (RS): K.\nBeg with a RS row, work in st st for 6 rows.\n",
         "3 Row 1 (RS): 20 20 20\n4 : 20 20 20\n",
         "pattern.txt:4:1: warning: \"Beg with a RS row, work in st st for 6 rows.\" falls on the wrong side; is a row "
         "too many "
         "or too few above it?\n"},
        {STOCKINETTE_20 "Do this for 18 (20: 22) more rows.\nRow 3: K. (20 sts)\n",
         STOCKINETTE_20_ROWS "6 Row 3: 20= 20= 20=\n",
         "pattern.txt:5:1: error: \"Do this for 18 (20: 22) more rows.\" has a number of rows and is not read; write "
         "it as "
         "\"Work in st st for 18 rows\", \"Rep row 2 18 more times\" or \"Next 18 rows: Sc in each st across\"\n"},
        {STOCKINETTE_20 "The pattern has 18 rows.\n", STOCKINETTE_20_ROWS,
         "pattern.txt:5:1: warning: \"The pattern has 18 rows.\" has a number of rows and is not read; if it is work, "
         "write it "
         "as \"Work in st st for 18 rows\" or \"Rep row 2 18 more times\"\n"},
        {STOCKINETTE_20 "Make 2 tassels, wrapping the yarn 18 times.\n", STOCKINETTE_20_ROWS,
         "pattern.txt:5:1: note: no yarn is counted for \"Make 2 tassels, wrapping the yarn 18 times.\"\n"},
        {STOCKINETTE_20 "Graft it over 18 rows.\n", STOCKINETTE_20_ROWS,
         "pattern.txt:5:1: note: no yarn is counted for \"Graft it over 18 rows.\"\n"},
        {STOCKINETTE_20 "Rep rows 1 and 2 (18 rows).\n", STOCKINETTE_20_ROWS "5 : ? ? ?\n",
         "pattern.txt:5:18: error: a number of rows in brackets may be that of this line or of all rows so far; write "
         "\"for 18 "
         "rows\" or \"18 more times\"\n"},
        {STOCKINETTE_20 "Rows 3-20: Rep rows 1 and 2 (20 rows). 20 sts\n",
         STOCKINETTE_20_ROWS "5 Rows 3-20: 20= 20= 20=\n", ""},
        {STOCKINETTE_20 "Rows 3-20: Rep rows 1 and 2 (8 times).\n", STOCKINETTE_20_ROWS "5 Rows 3-20: ? ? ?\n",
         "pattern.txt:5:1: error: the label has 18 rows, and the words come to 16; make them agree, or leave one of "
         "them "
         "out\n"},
    };
    assert_totals(*state, totals, COUNT(totals));
    assert_refused(*state, refused, COUNT(refused));
}

static void what_goes_on_may_not_be_reported(void **state)
{
    static const struct refused refused[] = {
        {"# Body\n" HOOK "ch 21.\nWork even for 3 rows.\n", "3 : ? ? ?\n", "pattern.txt:3:1: error: " NO_ROWS},
        /* Flat knitting has two rows. */
        {CAST_ON_20 "Row 1: K.\nWork even for 3 rows.\n", "3 Row 1: 20 20 20\n4 : ? ? ?\n",
         "pattern.txt:4:1: error: " NO_ROWS},
        {CAST_ON_20 "Row 1: K2tog, k to end.\nWork even for 3 rows.\n", "3 Row 1: 19 19 19\n4 : ? ? ?\n",
         "pattern.txt:4:1: error: " NO_ROWS},
        /* Two rows in turn or the last row again: ambiguous. */
        {SC_20
         "Row 2: Ch 1, sc in each st across, turn.\nRow 3: Ch 1, hdc in each st across, turn.\nWork even for 3 rows.\n",
         SC_20_ROW "4 Row 2: 20 20 20\n5 Row 3: 20 20 20\n6 : ? ? ?\n", "pattern.txt:6:1: error: " NO_ROWS},
        /* Shaped, of two stitches. */
        {SC_20 "Row 2: Ch 1, sc in next 10 sts, dc2tog, sc in each st across, turn.\nWork even for 3 rows.\n",
         SC_20_ROW "4 Row 2: 19 19 19\n5 : ? ? ?\n", "pattern.txt:5:1: error: " NO_ROWS},
        {CAST_ON_20
         "Row 1: *K1, p1; rep from * to end.\nRow 2: K2tog, *p1, k1; rep from * to end.\nWork even for 3 rows.\n",
         "3 Row 1: 20 20 20\n4 Row 2: 19 19 19\n5 : ? ? ?\n", "pattern.txt:5:1: error: " NO_ROWS},
        /* Rows with equal words, of two stitches. */
        {SC_20 "Row 2: Ch 1, *sc in next st, hdc in next st; rep from * across, turn.\n"
               "Row 3: Ch 1, *sc in next st, hdc in next st; rep from * across, turn.\nWork even for 2 rows.\n",
         SC_20_ROW "4 Row 2: 20 20 20\n5 Row 3: 20 20 20\n6 : ? ? ?\n", "pattern.txt:6:1: error: " NO_ROWS},
        {SC_20 "Row 2: K.\nWork even for 2 rows.\n", SC_20_ROW "4 Row 2: 20 20 20\n5 : ? ? ?\n",
         "pattern.txt:5:1: error: " NO_ROWS},
        /* A new part begins on the existing stitches, which are one row of knitting. */
        {STOCKINETTE_20 "NECK\nWork even for 2 rows.\n", STOCKINETTE_20_ROWS "6 : ? ? ?\n",
         "pattern.txt:6:1: error: " NO_ROWS},
    };
    assert_refused(*state, refused, COUNT(refused));
}

/* ---- How many ---- */

#define LENGTH(line, rows) "pattern.txt:" line ":1: note: this length is " rows " rows by the gauge of a swatch\n"

/* 4 cm are 10 rows of stockinette. */
static void lengths_are_measured_by_the_rows_to_come(void **state)
{
    static const struct refused measured[] = {
        {CAST_ON_20 "Work in stockinette until piece measures 4 cm.\n", "3 : 20 20 20\n", LENGTH("3", "10 (10, 10)")},
        {STOCKINETTE_20 "Work in stockinette until piece measures 4 (6, 8) cm.\n", STOCKINETTE_20_ROWS "5 : 20 20 20\n",
         LENGTH("5", "8 (13, 18)")},
        /* Rows of the named part. */
        {STOCKINETTE_20 "BORDER\nRow 1: K.\nRow 2: P.\nWork in stockinette until border measures 4 cm.\n",
         STOCKINETTE_20_ROWS "6 Row 1: 20 20 20\n7 Row 2: 20 20 20\n8 : 20 20 20\n", LENGTH("8", "8 (8, 8)")},
        /* The work already has that length. */
        {CAST_ON_20 "Rows 1-10: K.\nWork in stockinette until piece measures 4 cm.\n",
         "3 Rows 1-10: 20 20 20\n4 : - - -\n", ""},
        {CAST_ON_20 "Rows 1-20: K.\nWork in stockinette until piece measures 4 cm.\n",
         "3 Rows 1-20: 20 20 20\n4 : ? ? ?\n",
         "pattern.txt:4:1: error: the rows above already exceed that length; check the length, the gauge of "
         "the swatch and the rows above\n"},
        {STOCKINETTE_20 "Work in stockinette for 500000 cm.\n", STOCKINETTE_20_ROWS "5 : ? ? ?\n",
         "pattern.txt:5:1: error: the piece has more than 100000 rows; is a number a slip?\n"},
        /* Two swatches, and neither has this stitch. */
        {CAST_ON_20 "Row 1: *K1, p1; rep from * to end.\nRep row 1 until piece measures 4 cm.\n",
         "3 Row 1: 20 20 20\n4 : 20 20 20\n",
         "pattern.txt:4:1: error: no swatch gives the number of rows for it; give a swatch of this stitch with its "
         "gauge in "
         "swatches.csv, or write how many rows\n"},
        {SC_20 "Work in hdc for 4 cm.\n", SC_20_ROW "4 : 20 20 20\n",
         "pattern.txt:4:1: error: no swatch gives the number of rows for it; give a swatch of this stitch with its "
         "gauge in "
         "swatches.csv, or write how many rows\n"},
        /* The next row is a WS row: the 10th is on the right side, the 11th on the wrong one. */
        {CAST_ON_20 "Row 1 (RS): K.\nWork in stockinette for 4 cm, ending with a WS row.\n",
         "3 Row 1 (RS): 20 20 20\n4 : 20 20 20\n", LENGTH("4", "11 (11, 11)")},
        {CAST_ON_20 "Row 1 (RS): K.\nWork in stockinette for 4 cm, ending with a RS row.\n",
         "3 Row 1 (RS): 20 20 20\n4 : 20 20 20\n", LENGTH("4", "10 (10, 10)")},
        {CAST_ON_20 "Row 1 (RS): K.\nWork in stockinette for 4.4 cm, ending with a RS row.\n",
         "3 Row 1 (RS): 20 20 20\n4 : 20 20 20\n", LENGTH("4", "12 (12, 12)")},
        {CAST_ON_20 "Row 1: K.\nWork in stockinette for 4 cm, ending with a WS row.\n",
         "3 Row 1: 20 20 20\n4 : 20 20 20\n", LENGTH("4", "10 (10, 10)")},
        {CAST_ON_20 "Row 1 (RS): K.\nRnd 2: K.\nWork in stockinette for 4 cm, ending with a RS row.\n",
         "3 Row 1 (RS): 20 20 20\n4 Rnd 2: 20 20 20\n5 : 20 20 20\n", LENGTH("5", "10 (10, 10)")},
        {HAT_20 "Rnd 1 (RS): K.\nWork in stockinette for 4 cm, ending with a WS row.\n",
         "3 Rnd 1 (RS): 20 20 20\n4 : 20 20 20\n", LENGTH("4", "10 (10, 10)")},
    };
    assert_refused(*state, measured, COUNT(measured));
}

static void labels_and_words_agree_on_how_many(void **state)
{
    static const char twos[] =
        SC_20 "Row 2: Ch 1, sc in each st across, turn.\nRow 3: Ch 1, hdc in each st across, turn.\n"
              "Rows 4-7: Rep rows 2 and 3 twice.\nRep rows 2 and 3.\nRows 10-12: Rep rows 2 and 3.\n"
              "Rows 13-15: Rep rows 2 and 3 twice.\n";
    static const struct refused refused[] = {
        {twos,
         SC_20_ROW "4 Row 2: 20 20 20\n5 Row 3: 20 20 20\n6 Rows 4-7: 20 20 20\n7 : 20 20 20\n8 Rows 10-12: 20 20 20\n"
                   "9 Rows 13-15: ? ? ?\n",
         "pattern.txt:9:1: error: the label has 3 rows, and the words come to 4; make them agree, or leave one of them "
         "out\n"},
        {CAST_ON_20 "Row 1: K.\nRows 2-5: Work in stockinette until piece measures 4 cm.\n",
         "3 Row 1: 20 20 20\n4 Rows 2-5: ? ? ?\n",
         "pattern.txt:4:1: error: the label has 4 rows, and the words come to 9; make them agree, or leave one of them "
         "out\n"},
        {SC_20 "Rep last 2 rows.\n", SC_20_ROW "4 : ? ? ?\n",
         "pattern.txt:4:1: error: there are 1 rows above it in its piece, and not 2; check the number\n"},
        {CAST_ON_20 "Rows 1-1200: K.\nRep last 1100 rows.\n", "3 Rows 1-1200: 20 20 20\n4 : ? ? ?\n",
         "pattern.txt:4:1: error: more than 1000 rows are not repeated; check the number\n"},
        {CAST_ON_20 "Row 5: K.\nRow 6 and all WS rows: P.\nRep row 2.\n",
         "3 Row 5: 20 20 20\n4 Row 6 and all WS rows: 20 20 20\n5 : ? ? ?\n",
         "pattern.txt:5:1: error: there is no row 2 above; a reference means the nearest row of that number above it "
         "in its piece\n"},
        {SC_20 "Rep last 0 rows.\n", SC_20_ROW "4 : ? ? ?\n",
         "pattern.txt:4:1: error: there are 1 rows above it in its piece, and not 0; check the number\n"},
    };
    assert_refused(*state, refused, COUNT(refused));
}

/* ---- Rows that stand for others ---- */

static void rows_are_worked_where_others_stand_for_them(void **state)
{
    static const struct totals totals[] = {
        {CAST_ON_20 "Row 1: K.\nRows 2, 4 and 6: P.\nRow 3: K.\nRow 5: K.\nRow 7: K.\n", {{"k", 80}, {"p", 60}}},
        {CAST_ON_20 "Row 1: K.\nRow 2 and all WS rows: P.\nRow 3: K.\nRow 5: K.\n", {{"k", 60}, {"p", 40}}},
        /* Row 4 has not been worked. */
        {CAST_ON_20 "Row 1: K.\nRow 2 and all WS rows: P.\nRow 3: K.\nRep row 4 twice.\n", {{"k", 40}, {"p", 60}}},
        {CAST_ON_20 "Row 1: K.\nRows 2 and 4: P.\nRow 3: K.\nRow 5: K.\nRep row 4 twice.\n", {{"k", 60}, {"p", 80}}},
        {CAST_ON_20 "All WS rows: P.\nRow 1: K.\nRow 3: K.\nRow 5: K.\n", {{"k", 60}, {"p", 40}}},
        {CAST_ON_20 "Row 1: K.\nAll RS rows: K.\nRow 2: P.\nRow 4: P.\n", {{"k", 40}, {"p", 40}}},
    };
    assert_totals(*state, totals, COUNT(totals));
    /* One of them fails: later rows are not followed. */
    assert_rows(CAST_ON_20
                "Row 1: K.\nRow 2 and all WS rows: *P2; rep from * to end.\nRow 3: K2tog, k to end.\nRow 5: K.\n",
                "3 Row 1: 20 20 20\n4 Row 2 and all WS rows: ? ? ?\n5 Row 3: 19 19 19\n6 Row 5: ? ? ?\n",
                "pattern.txt:4:29: error: 1 stitch remains where this repeat should come out\n");
    assert_rows(CAST_ON_20 "Row 1: K.\nRow 4: K.\nRow 1: K.\nRow 3: K.\n",
                "3 Row 1: 20 20 20\n4 Row 4: 20 20 20\n5 Row 1: 20 20 20\n6 Row 3: 20 20 20\n",
                "pattern.txt:4:1: warning: \"Row 4\" comes after row 1; is a row missing, or a number wrong?\n"
                "pattern.txt:6:1: warning: \"Row 3\" comes after row 1; is a row missing, or a number wrong?\n");
}

/* ---- Stitch patterns ---- */

static void stitch_patterns_are_put_together(void **state)
{
    static const struct totals totals[] = {
        {"Moss st:\nRow 1: *K1, p1; rep from * to end.\nRow 2: *P1, k1; rep from * to end.\n\n" CAST_ON_20
         "Work in moss st patt for 4 rows.\n",
         {{"k", 40}, {"p", 40}}},
        /* Rows 1 and 3, and the rows after them: four in turn. */
        {"Plain st:\nRow 1: K.\nRow 2 and all WS rows: P.\nRow 3: K.\n\n" CAST_ON_20 "Work in plain st for 8 rows.\n",
         {{"k", 80}, {"p", 80}}},
        {"Plain st:\nAll WS rows: P.\nRow 1: K.\nRow 3: K.\n\n" CAST_ON_20 "Work in plain st for 8 rows.\n",
         {{"k", 80}, {"p", 80}}},
        /* Rows 2 and 4, and the rows before them: four, and no fifth. */
        {"Plain st:\nRow 1 and all RS rows: K.\nRow 2: P.\nRow 4: P.\n\n" CAST_ON_20 "Work in plain st for 8 rows.\n",
         {{"k", 80}, {"p", 80}}},
        {"Plain st:\nAll RS rows: K.\nRow 2: P.\nRow 4: P.\n\n" CAST_ON_20 "Work in plain st for 8 rows.\n",
         {{"k", 80}, {"p", 80}}},
        {"Plain st:\nRow 1: K.\nRows 2 and 4: P.\nRow 3: K.\n\n" CAST_ON_20 "Work in plain st for 8 rows.\n",
         {{"k", 80}, {"p", 80}}},
        /* k p k k p, k. */
        {"Plain st:\nRow 1: K.\nRow 2: P.\nRow 3: Rep row 1.\nRows 4-5: Rep rows 1 and 2.\n\n" CAST_ON_20
         "Work in plain st for 6 rows.\n",
         {{"k", 80}, {"p", 40}}},
        {"Plain st:\nRow 1: K.\nRow 2 and all WS rows: P.\nRow 3: K.\nRow 4: P.\n\n" CAST_ON_20
         "Work in plain st for 8 rows.\n",
         {{"k", 80}, {"p", 80}}},
        {"Plain st:\nNext 2 rows: K.\nNext row: P.\n\n" CAST_ON_20 "Work in plain st for 4 rows.\n",
         {{"k", 60}, {"p", 20}}},
        /* Fabrics: 1 set-up row, then 9 FPdc, 9 BPdc, an hdc and the ch 2 a row. */
        {SC_20 "Rows 2-5: Work in post stitch rib for 4 rows.\nWork even for 1 row.\n",
         {{"dc", 19}, {"FPdc", 36}, {"hdc", 4}}},
        {SC_20 "Work in post stitch rib for 1 row.\n", {{"dc", 19}, {"FPdc", 0}}},
        {CAST_ON_20 "Work in st st for 3 rows.\nWork in garter for 2 rows.\nWork in stocking-stitch for 1 row.\n",
         {{"k", 100}, {"p", 20}}},
        {HAT_20 "Work in stockinette for 3 rnds.\n", {{"k", 60}, {"p", 0}}},
        {"# Tube\n" HOOK
         "ch 20, join.\nRnd 1: Ch 1, sc in each ch around, join.\nWork in half double crochet for 2 rnds.\n",
         {{"sc", 20}, {"hdc", 40}}},
        {SC_20 "Work in hdc for 4 rows.\n", {{"sc", 20}, {"hdc", 80}}},
        {SC_20 "Work 4 rows in hdc.\n", {{"sc", 20}, {"hdc", 80}}},
        {CAST_ON_20 "Knit 3 rows.\nPurl 2 rows.\n", {{"k", 60}, {"p", 40}}},
    };
    assert_totals(*state, totals, COUNT(totals));
}

#define PATTERN(line, name, wrong) "pattern.txt:" line ":1: error: the stitch pattern \"" name "\" " wrong "\n"

static void stitch_patterns_that_lack_something_are_refused(void **state)
{
    static const struct refused refused[] = {
        {"Odd st:\nRow 1: K.\nRow 2: Kx.\n\n" CAST_ON_20 "Work in odd st for 4 rows.\n", "7 : ? ? ?\n",
         "pattern.txt:3:8: error: Kx is not a stitch in US terms; write it in stitches that hankful tables stitches "
         "lists, or write "
         "[take as 24 sc] after the row\n" PATTERN("7", "Odd st", "has a row that cannot be read; correct that row")},
        {"Odd st:\nRow 1: K.\nRow 3: K.\n\n" CAST_ON_20 "Work in odd st for 4 rows.\n", "7 : ? ? ?\n",
         PATTERN("7", "Odd st", "lacks row 2; write all its rows")},
        {"Odd st:\nRow 1: Rep row 2.\nRow 2: K.\n\n" CAST_ON_20 "Work in odd st for 4 rows.\n", "7 : ? ? ?\n",
         PATTERN("7", "Odd st",
                 "has a row by reference that is not one of the rows above it; write its rows by their numbers, or "
                 "\"Row 3: Rep row 1.\"")},
        {"Odd st:\nRow 3: K.\nRow 4: Rep row 1.\n\n" CAST_ON_20 "Work in odd st for 4 rows.\n", "7 : ? ? ?\n",
         PATTERN("7", "Odd st",
                 "has a row by reference that is not one of the rows above it; write its rows by their numbers, or "
                 "\"Row 3: Rep row 1.\"")},
        {"Odd st:\nRow 1: K.\nRow 2: Work even.\n\n" CAST_ON_20 "Work in odd st for 4 rows.\n", "7 : ? ? ?\n",
         PATTERN("7", "Odd st",
                 "has a row by reference that is not one of the rows above it; write its rows by their numbers, or "
                 "\"Row 3: Rep row 1.\"")},
        {"Odd st:\nRows 1-2000: K.\n\n" CAST_ON_20 "Work in odd st for 4 rows.\n", "6 : ? ? ?\n",
         PATTERN("6", "Odd st", "has a row of a number that no row has; number its rows from 1 to 1000")},
        {"Odd st:\nRow 0: K.\n\n" CAST_ON_20 "Work in odd st for 4 rows.\n", "6 : ? ? ?\n",
         PATTERN("6", "Odd st", "has a row of a number that no row has; number its rows from 1 to 1000")},
        {"Odd st:\nRows 1, 3 and 2000: K.\n\n" CAST_ON_20 "Work in odd st for 4 rows.\n", "6 : ? ? ?\n",
         PATTERN("6", "Odd st", "has a row of a number that no row has; number its rows from 1 to 1000")},
        {"Odd st:\nRows 1-2 (1-2, -): K.\n\n" CAST_ON_20 "Work in odd st for 4 rows.\n", "6 : 20 20 ?\n",
         "pattern.txt:6:1: error: the stitch pattern \"Odd st\" has no rows in this size (size L); write them\n"},
        {"Odd st:\nRow 1: K.\n\n" CAST_ON_20 "Work in odd stuff for 4 rows.\n", "6 : ? ? ?\n",
         "pattern.txt:6:1: error: there is no stitch pattern \"odd stuff\"; write its rows under its name before the "
         "pieces, or into fabrics.csv\n"},
        {CAST_ON_20 "Work in no such patt for 4 rows.\n", "3 : ? ? ?\n",
         "pattern.txt:3:1: error: there is no stitch pattern \"no such patt\"; write its rows under its name before "
         "the pieces, or into fabrics.csv\n"},
        /* It is not worked, but it is not read either. */
        {"Odd st:\nRow 1: Kx.\n\n" CAST_ON_20 "Row 1: K.\n", "6 Row 1: 20 20 20\n",
         "pattern.txt:2:8: error: Kx is not a stitch in US terms; write it in stitches that hankful tables stitches "
         "lists, or write "
         "[take as 24 sc] after the row\n"},
    };
    assert_refused(*state, refused, COUNT(refused));
}

/* ---- Shaping at the ends ---- */

static void rows_shape_at_their_ends(void **state)
{
    static const struct totals totals[] = {
        /* k p k2tog..ssk | p k p2tog..p2tog: the 6th row is a purl row. */
        {STOCKINETTE_20 "Dec 1 st each end of every 3rd row 2 times.\n", {{"k2tog", 1}, {"ssk", 1}, {"p2tog", 2}}},
        {STOCKINETTE_20 "Inc 1 st each end of every 3rd row 2 times.\n", {{"M1", 2}, {"M1P", 2}}},
        {STOCKINETTE_20 "Dec 1 st at beg of every 3rd row 2 times.\n", {{"k2tog", 1}, {"p2tog", 1}, {"ssk", 0}}},
        {STOCKINETTE_20 "Inc 1 st at neck edge of every 3rd row 2 times.\n", {{"M1", 1}, {"M1P", 1}}},
        /* 20 | 22 22 24 24 26. */
        {SC_20 "Inc 1 st each end of next and every alt row 2 more times.\n", {{"sc", 138}}},
        {SC_20 "Inc 1 st at beg of next 2 rows.\n", {{"sc", 20 + 21 + 22}}},
        {SC_20 "Dec 1 st at end of next 2 rows.\n", {{"sc", 20 + 18 + 17}, {"sc2tog", 2}}},
        {SC_20 "Dec 1 st each end of next row.\n", {{"sc", 36}, {"sc2tog", 2}}},
        /* Its rows are those of the label: four with shaping; two with and two without; one with and three without. */
        {SC_20 "Rows 2-5: Dec 1 st each end of every row.\n", {{"sc", 20 + 16 + 14 + 12 + 10}, {"sc2tog", 8}}},
        {SC_20 "Rows 2-7: Dec 1 st each end of every alt row 2 times.\n",
         {{"sc", 20 + 20 + 16 + 18 + 14 + 16 + 16}, {"sc2tog", 4}}},
        {SC_20 "Rows 2-5: Dec 1 st each end of next and every 4th row.\n", {{"sc", 20 + 16 + 3 * 18}, {"sc2tog", 2}}},
        {SC_20 "Next 4 rows: Dec 1 st each end of every row.\n", {{"sc", 20 + 16 + 14 + 12 + 10}, {"sc2tog", 8}}},
        {SC_20 "Row 2: Dec 1 st each end of next and every 4th row.\n", {{"sc", 36}, {"sc2tog", 2}}},
        /* 20 | 20 18 18 16, 14 12. */
        {SC_20 "Dec 1 st each end of every alt row 2 times, then every row 2 times.\n",
         {{"sc", 20 + 20 + 16 + 18 + 14 + 12 + 10}, {"sc2tog", 8}}},
        {SC_20 "Dec 1 st each end of next and every row to 12 sts.\n", {{"sc", 20 + 16 + 14 + 12 + 10}, {"sc2tog", 8}}},
        {HAT_20 "Rnd 1: K.\nDec 1 st each end of next rnd.\n", {{"k", 36}, {"k2tog", 1}, {"ssk", 1}}},
        /* The row that casts off shows the other stitch that it works. */
        {STOCKINETTE_20 "Bind off 4 sts at beg of next 2 rows.\nDec 1 st each end of next row.\n",
         {{"BO", 8}, {"k", 20 + 16 + 8}, {"p", 20 + 12}}},
        {HAT_20 "Rnd 1: K.\nBind off 4 sts at beg of next rnd.\n", {{"BO", 4}, {"k", 36}}},
    };
    assert_totals(*state, totals, COUNT(totals));
}

#define SHAPED                                                                                                         \
    "the rows above do not show which stitches are shaped; write the row that shapes with its label, and "             \
    "\"Rep rows ...\" or \"Work even for 3 rows\"\n"

static void shaping_that_does_not_come_out_is_refused(void **state)
{
    static const struct refused refused[] = {
        {SC_20 "Dec 1 st each end of next and every row.\n", SC_20_ROW "4 : ? ? ?\n",
         "pattern.txt:4:1: error: it does not say how often; write \"... to 34 sts\", \"... 6 times\" or \"... 6 more "
         "times\"\n"},
        {SC_20 "Next 200000 rows: Dec 1 st each end of next row.\n", SC_20_ROW "4 Next 200000 rows: ? ? ?\n",
         "pattern.txt:4:1: error: the piece has more than 100000 rows; is a number a slip?\n"},
        {SC_20 "Row 2: K.\nDec 1 st each end of next row.\n", SC_20_ROW "4 Row 2: 20 20 20\n5 : ? ? ?\n",
         "pattern.txt:5:1: error: " SHAPED},
        {SC_20 "Rows 2-4: Dec 1 st each end of every alt row 2 times.\n", SC_20_ROW "4 Rows 2-4: ? ? ?\n",
         "pattern.txt:4:1: error: the shaping takes more rows than the label has; check both numbers\n"},
        {SC_20 "Row 2: Dec 1 st each end of next row and every row 1 more time.\n", SC_20_ROW "4 Row 2: ? ? ?\n",
         "pattern.txt:4:1: error: the shaping takes more rows than the label has; check both numbers\n"},
        {SC_20 "Inc 1 st each end of every row to 12 sts.\n", SC_20_ROW "4 : ? ? ?\n",
         "pattern.txt:4:1: error: 20 stitches do not become 12 by 2 at a time; check both numbers\n"},
        {SC_20 "Dec 1 st each end of every row 200000 times.\n", SC_20_ROW "4 : ? ? ?\n",
         "pattern.txt:4:1: error: the piece has more than 100000 rows; is a number a slip?\n"},
        /* 20 18 ... 4 2, and 2 are too few. */
        {SC_20 "Dec 1 st each end of every row 10 times.\nRow 12: Ch 1, sc in each st across, turn.\n",
         SC_20_ROW "4 : ? ? ?\n5 Row 12: ? ? ?\n",
         "pattern.txt:4:1: error: fewer than 2 stitches are left here, where it works \"sc2tog, sc in each st to last "
         "2 sts, sc2tog\"\n"},
        /* The tables have no esc2tog. */
        {SC_20 "Row 2: Ch 2, esc in each st across, turn.\nRow 3: Dec 1 st each end of next row. (18 sts)\nRow 4: Ch "
               "1, sc in each st across, turn.\n",
         SC_20_ROW "4 Row 2: 20 20 20\n5 Row 3: ? ? ?\n6 Row 4: ~18 ~18 ~18\n", "pattern.txt:5:1: error: " SHAPED},
        {"# Strip\n" HOOK
         "ch 20.\nOn an edge of 20 tss:\nRow 1: Tss in each st across.\nDec 1 st each end of next row.\n",
         "4 Row 1: 20 20 20\n5 : ? ? ?\n", "pattern.txt:5:1: error: " SHAPED},
        {SC_20 "Dec 2 sts each end of next row.\n", SC_20_ROW "4 : ? ? ?\n",
         "pattern.txt:4:1: error: how several stitches are shaped at an end of a row is not stated; write the row: "
         "\"Dec "
         "row: K1, "
         "k3tog, k to last 4 sts, k3tog, k1\", and \"Rep dec row every 4th row 5 more times\"\n"},
        {"# Body\n" HOOK "ch 21.\nDec 1 st each end of next row.\n", "3 : ? ? ?\n", "pattern.txt:3:1: error: " SHAPED},
        {CAST_ON_20 "Row 1: K.\nDec 1 st each end of next row.\n", "3 Row 1: 20 20 20\n4 : ? ? ?\n",
         "pattern.txt:4:1: error: " SHAPED},
        {CAST_ON_20 "Row 1: *K1, p1; rep from * to end.\nRow 2: P.\nDec 1 st each end of next row.\n",
         "3 Row 1: 20 20 20\n4 Row 2: 20 20 20\n5 : ? ? ?\n", "pattern.txt:5:1: error: " SHAPED},
        {SC_20
         "Row 2: Ch 1, *sc in next st, hdc in next st; rep from * across, turn.\nDec 1 st each end of next row.\n",
         SC_20_ROW "4 Row 2: 20 20 20\n5 : ? ? ?\n", "pattern.txt:5:1: error: " SHAPED},
        /* Cables and brioche are not plain knitting. */
        {CAST_ON_20 "Row 1: K8, C4F, k8.\nRow 2: P.\nDec 1 st each end of next row.\n",
         "3 Row 1: 20 20 20\n4 Row 2: 20 20 20\n5 : ? ? ?\n", "pattern.txt:5:1: error: " SHAPED},
        /* No row above it. */
        {CAST_ON_20 "Dec 1 st each end of next row.\n", "3 : 18 18 18\n",
         "pattern.txt:3:1: note: there is no row above it: alternate knit and purl rows are assumed\n"},
        {"# Hat\n" NEEDLES "cast on 20 sts, join.\nRnds 1-2: Dec 1 st each end of every rnd.\n",
         "3 Rnds 1-2: 16 16 16\n", "pattern.txt:3:1: note: no row is above it: knit rounds are taken\n"},
        /* The statement belongs to the last row, even if that is the first. */
        {STOCKINETTE_20 "Dec 1 st each end of next and every alt row 0 (1, 2) more times. 17 (16, 14) sts\n",
         STOCKINETTE_20_ROWS "5 : 18!17 16= 14=\n",
         "pattern.txt:5:66: error: the row states 17 (16, 14) sts, and has 18 (16, 14) (size S); the rows below are "
         "worked on the computed stitches; check the row, or correct the count\n"},
        {SC_20 "Rows 2-5: Dec 1 st each end of every alt row 1 time. (19 sts)\n",
         SC_20_ROW "4 Rows 2-5: 18!19 18!19 18!19\n",
         "pattern.txt:4:55: error: \"Rows 2-5\" states 19 sts, and has 18; the rows below are worked on the computed "
         "stitches; check the row, or correct the count\n"},
        {"# Body\n" HOOK "ch 21.\nBind off 4 sts at beg of next 2 rows.\n", "3 : ? ? ?\n",
         "pattern.txt:3:1: error: the rows above do not show how these rows go on; write each of them: \"Next "
         "row: "
         "Bind off 3 sts, k to end\"\n"},
    };
    assert_refused(*state, refused, COUNT(refused));
}

/* The results row by row, by hand; totals are for size M. */
static void shaping_in_rhythm(void **state)
{
    static const struct totals totals[] = {
        /* 20 and 3 rows, 18, 3 x 18 and 16, 2 rows of 16: dec in rows 4 and 8 of 10. The ch 1 of row 2 goes on. */
        {SC_20
         "Row 2: Ch 1, sc in each st across, turn.\nWork even for 10 rows, AT THE SAME TIME dec 1 st at each end of "
         "every 4th row 2 times.\n",
         {{"sc", 40 + 3 * 20 + 16 + 3 * 18 + 14 + 2 * 16}, {"sc2tog", 4}, {"ch", 21 + 11}}},
        /* The number of rows required: 4 + 4. */
        {STOCKINETTE_20 "Cont in patt, inc 1 st each end of every 4th row 2 times.\nWork even for 2 rows.\n",
         {{"k", 20 + 2 * 20 + 2 * 22 + 24}, {"p", 20 + 20 + 20 + 22 + 22 + 24}, {"M1P", 4}}},
        /* A separate row every 4th row: k 20, p 20; dec 18, (k p k dec) twice with 18 and 16. */
        {STOCKINETTE_20 "Dec row (RS): K1, k2tog, k to last 3 sts, ssk, k1.\nRep dec row every 4th row 2 more times.\n",
         {{"k", 20 + 16 + 18 + 14 + 16 + 12}, {"p", 20 + 2 * 18 + 2 * 16}, {"ssk", 3}}},
        /* Neck 4 rows, armhole rows 2 and 4: 19, 17, 16, 14. */
        {SC_20
         "Dec 1 st at neck edge on every row 4 times, at the same time dec 1 st at armhole edge on every alt row 2 "
         "times.\n",
         {{"sc", 20 + 18 + 15 + 15 + 12}, {"sc2tog", 6}}},
        /* Alternately: rows 2, 6, 8 and 12. */
        {SC_20 "Inc 1 st at end of every 2nd and 4th row alternately to 24 sts.\n",
         {{"sc", 20 + 20 + 21 + 3 * 21 + 22 + 22 + 23 + 3 * 23 + 24}}},
        /* Stitch patterns of one stitch a row, in turn: sc hdc sc hdc, dec in the 2nd and the 4th. */
        {SC_20 "Row 2: Ch 1, sc in each st across, turn.\nRow 3: Ch 1, hdc in each st across, turn.\nRep rows 2 and 3 "
               "twice.\nDec 1 st at end of every alt row twice.\n",
         {{"sc", 20 + 3 * 20 + 20 + 19}, {"hdc", 3 * 20 + 18 + 17}, {"hdc2tog", 2}}},
        /* Bound off in steps, then decreased. */
        {STOCKINETTE_20 "Bind off 3 sts at beg of next 2 rows, then 2 sts at beg of foll 2 rows, then dec 1 st at each "
                        "end of next row.\n",
         {{"BO", 10}, {"k", 20 + 17 + 12 + 6}, {"p", 20 + 14 + 10}}},
        {STOCKINETTE_20 "Cast on 3 sts at end of next 2 rows.\n", {{"CO", 26}, {"k", 40}, {"p", 43}}},
        /* 20 by 6: two groups of 4 and four of 3. */
        {STOCKINETTE_20 "Inc 6 sts evenly across. 26 sts\n", {{"k", 40}, {"M1", 6}, {"p", 20}}},
        {STOCKINETTE_20 "Next row: K, dec 6 sts evenly across. 14 sts\n", {{"k", 28}, {"k2tog", 6}}},
        {STOCKINETTE_20 "Purl, dec ten sts evenly.\n", {{"p", 20}, {"p2tog", 10}}},
        {SC_20 "Row 2: Ch 1, sc in each st across, turn.\nRow 3: Inc 4 (6, 8) sts evenly across.\n",
         {{"sc", 20 + 20 + 26}, {"ch", 21 + 2}}},
        {SC_20 "Row 2: Hdc across, dec 3 sts evenly.\n", {{"hdc", 14}, {"hdc2tog", 3}}},
        {"# Hat\n" HOOK
         "ch 20, join.\nRnd 1: Ch 1, sc in each ch around, join.\nRnd 2: Ch 1, sc around, dec 4 sts evenly.\n",
         {{"sc2tog", 4}, {"sc", 32}, {"sl st", 3}}},
        {STOCKINETTE_20 "Work thirty-two rows even.\nKnit fourteen rows.\n", {{"k", 20 + 16 * 20 + 14 * 20}}},
    };
    assert_totals(*state, totals, COUNT(totals));
}

#define AFTER_20 SC_20_ROW "4 : ? ? ?\n"

static void rhythm_that_is_not_definite_is_refused(void **state)
{
    static const struct refused refused[] = {
        {SC_20 "Work even for 6 rows, at the same time dec 1 st each end of every 4th row 2 times.\n", AFTER_20,
         "pattern.txt:4:1: error: the shaping takes more rows than are worked at the same time; check both numbers\n"},
        {SC_20 "Work even for 6 rows, at the same time shape the neck.\n", AFTER_20,
         "pattern.txt:4:23: error: the work at the same time cannot be read; write it as \"Work even for 24 "
         "rows, at "
         "the same time dec 1 st at each end of every 4th row 6 times\", or the rows in which both fall as rows of "
         "their "
         "own\n"},
        {SC_20
         "Dec 1 st at neck edge on every row 4 times, at the same time dec 1 st at front edge on every row 2 times.\n",
         AFTER_20,
         "pattern.txt:4:1: error: the ends of the rows that are shaped at the same time are ambiguous; write \"at neck "
         "edge\" "
         "and \"at armhole edge\", or \"at each end\"\n"},
        {SC_20
         "Dec 1 st each end of every alt row 2 times, at the same time dec 1 st at neck edge on every row 4 times.\n",
         AFTER_20,
         "pattern.txt:4:1: error: two shapings fall on the same end of a row; write the rows in which both fall as "
         "rows of "
         "their own\n"},
        {SC_20 "Dec 1 st at neck edge on every row to 10 sts, at the same time dec 1 st at armhole edge on every row 2 "
               "times.\n",
         AFTER_20,
         "pattern.txt:4:1: error: \"to\" this number of stitches may be meant with or without the other shaping; write "
         "how "
         "often in "
         "place of it: \"... 6 times\"\n"},
        {SC_20 "Rep dec row every 4th row 2 more times.\n", AFTER_20,
         "pattern.txt:4:1: error: no row above it is a \"dec row\"; write it as a row with this label: \"Dec row: "
         "...\"\n"},
        {STOCKINETTE_20 "Dec row: K2tog, k to end.\nRep dec row every 3rd row 2 more times.\n",
         STOCKINETTE_20_ROWS "5 Dec row: 19 19 19\n6 : ? ? ?\n",
         "pattern.txt:6:1: error: a row that shapes falls on the other side than where it is written; write an even "
         "number: "
         "\"every 4th row\"\n"},
        {SC_20 "Inc 1 st at end of every 2nd and 4th row alternately 4 times.\n", SC_20_ROW "4 : 24 24 24\n",
         "pattern.txt:4:1: note: the number of rows that shape alternately is taken as the total, not for each kind\n"},
        {SC_20 "Inc 24 sts evenly.\n", AFTER_20,
         "pattern.txt:4:1: error: 24 stitches cannot be increased evenly over 20; check both numbers\n"},
        {SC_20 "Dec 11 sts evenly.\n", AFTER_20,
         "pattern.txt:4:1: error: 11 stitches cannot be decreased evenly over 20; check both numbers\n"},
        {SC_20 "Rows 2-3: Inc 2 sts evenly.\n", SC_20_ROW "4 Rows 2-3: ? ? ?\n",
         "pattern.txt:4:1: error: the number of rows over which these are spread is not stated; write one row for "
         "them: \"Next row: "
         "K, "
         "inc 6 sts evenly across\"\n"},
        {SC_20 "Row 2: *Sc in next st, hdc in next st; rep from * across.\nInc 2 sts evenly.\n",
         SC_20_ROW "4 Row 2: 20 20 20\n5 : ? ? ?\n",
         "pattern.txt:5:1: error: the stitch of this row is ambiguous from the rows above; name it: \"Sc "
         "around, inc 6 sts evenly\", or write where they are worked\n"},
        /* A row with spaces is not made of one stitch: shaped, it would be a row of sc. */
        {SC_20
         "Row 2: Ch 1, *sc in next st, ch 1, sk next st; rep from * across, turn.\nDec 1 st each end of next row.\n",
         SC_20_ROW "4 Row 2: 10 10 10\n5 : ? ? ?\n", "pattern.txt:5:1: error: " SHAPED},
        {SC_20 "Rows 2-4: Bind off 1 st at beg of next 2 rows, then dec 1 st each end of next row.\n",
         SC_20_ROW "4 Rows 2-4: ? ? ?\n",
         "pattern.txt:4:1: error: the rows of this label are worked in several ways; write a line for each of them\n"},
        {"Ridge st:\nRow 1: *K1, p1; rep from * to end.\nRow 2: K.\n\n" STOCKINETTE_20
         "Work in ridge st for 8 rows, at the same time dec 1 st each end of every 4th row 2 times.\n",
         "7 Row 1: 20 20 20\n8 Row 2: 20 20 20\n9 : ? ? ?\n",
         "pattern.txt:9:1: error: how this stitch pattern continues where it is shaped is not stated; write the rows "
         "that "
         "shape "
         "with their labels; rows of one stitch each are shaped without\n"},
    };
    assert_refused(*state, refused, COUNT(refused));
}

/* The label finds the rows that shape in any spelling; words about them find the ends of a row. */
static void shaping_by_other_words(void **state)
{
    static const struct totals totals[] = {
        /* 18 and a decrease, 19, 17, 18, 16; ch 1 a row. */
        {SC_20 "Dec rnd: Ch 1, sc2tog, sc in each st across, turn.\nRep decrease round every 2nd row 2 more times.\n",
         {{"sc", 20 + 18 + 19 + 17 + 18 + 16}, {"sc2tog", 3}, {"ch", 21 + 5}}},
        {SC_20 "Decreasing row: Ch 1, sc2tog, sc in each st across, turn.\nRep dec. rows every 2nd row to 17 sts.\n",
         {{"sc", 20 + 18 + 19 + 17 + 18 + 16}, {"sc2tog", 3}}},
        {SC_20 "Inc row: Ch 1, 2 sc in first st, sc in each st across, turn.\nRep inc. row every 2nd row to 24 sts.\n",
         {{"sc", 20 + 21 + 21 + 22 + 22 + 23 + 23 + 24}}},
        {SC_20 "Dec row: Ch 1, sc2tog, sc in each st across, turn.\nRep dec row every row 2 more times.\n",
         {{"sc", 20 + 18 + 17 + 16}, {"sc2tog", 3}}},
        {SC_20 "Dec 1 st at beg of every row 2 times.\n", {{"sc", 20 + 18 + 17}, {"sc2tog", 2}}},
        /* 10 rows: 2, 6 and 8; 4 and 8; 1, 5 and 9; 1 alone. */
        {SC_20 "Rows 2-11: Dec 1 st each end of every 2nd and 4th row alternately.\n",
         {{"sc", 20 + 20 + 16 + 3 * 18 + 14 + 16 + 12 + 2 * 14}, {"sc2tog", 6}}},
        {SC_20 "Rows 2-11: Dec 1 st each end of every 4th row.\n",
         {{"sc", 20 + 3 * 20 + 16 + 3 * 18 + 14 + 2 * 16}, {"sc2tog", 4}}},
        {SC_20 "Rows 2-11: Dec 1 st each end of next and every 4th row.\n",
         {{"sc", 20 + 16 + 3 * 18 + 14 + 3 * 16 + 12 + 14}, {"sc2tog", 6}}},
        {SC_20 "Rows 2-5: Dec 1 st each end of next row.\n", {{"sc", 20 + 16 + 3 * 18}, {"sc2tog", 2}}},
        {SC_20 "Row 2: Dec 1 st each end of row.\n", {{"sc", 20 + 16}, {"sc2tog", 2}}},
        /* Both ends of 2 rows: 16 and 14. */
        {SC_20
         "Dec 1 st at left edge on every row 2 times, at the same time dec 1 st at right edge on every row 2 times.\n",
         {{"sc", 20 + 16 + 14}, {"sc2tog", 4}}},
        {SC_20
         "Dec 1 st at right edge on every row 2 times, at the same time dec 1 st at left edge on every row 2 times.\n",
         {{"sc", 20 + 16 + 14}, {"sc2tog", 4}}},
        {SC_20 "Dec 1 st at beg of every row 2 times, at the same time dec 1 st at end of every row 2 times.\n",
         {{"sc", 20 + 16 + 14}, {"sc2tog", 4}}},
        {SC_20 "Dec 1 st at end of every row 2 times, at the same time inc 1 st at beg of every row 2 times.\n",
         {{"sc", 20 + 19 + 19}, {"sc2tog", 2}}},
        {SC_20 "Dec 1 st at armhole edge on every row 2 times, at the same time dec 1 st at front edge on every row 2 "
               "times.\n",
         {{"sc", 20 + 16 + 14}, {"sc2tog", 4}}},
        {SC_20
         "Dec 1 st at side edge on next and every 4th row 2 more times, at the same time dec 1 st at neck edge on "
         "next and every 4th row 2 more times.\n",
         {{"sc", 20 + 16 + 3 * 18 + 14 + 3 * 16 + 12}, {"sc2tog", 6}}},
        {SC_20 "Work even for 9 rows, at the same time dec 1 st at neck edge on next and every 4th row 2 more times.\n",
         {{"sc", 20 + 18 + 3 * 19 + 17 + 3 * 18 + 16}, {"sc2tog", 3}}},
        /* Rounds: 3 and 3. */
        {HAT_20 "Rnd 1: K.\nDec 1 st each end of every 3rd rnd 2 times.\nWork even for 2 rnds.\n",
         {{"k", 3 * 20 + 16 + 2 * 18 + 14 + 2 * 16}, {"k2tog", 2}, {"ssk", 2}}},
        /* 18 k, 19 p, 17, 18 and 16 after 20 and 20. */
        {STOCKINETTE_20 "Dec row: K2tog, k to end.\nWith trim, rep dec row every 2nd row 2 more times.\n",
         {{"k", 20 + 18 + 17 + 16}, {"p", 20 + 19 + 18}, {"k2tog", 3}}},
    };
    assert_totals(*state, totals, COUNT(totals));
}

static void shaping_that_falls_together_is_refused(void **state)
{
#define SAME_END(line)                                                                                                 \
    "pattern.txt:" line ":1: error: two shapings fall on the same end of a row; write the rows in which both fall as " \
    "rows of their own\n"
#define WHICH_ENDS(line)                                                                                               \
    "pattern.txt:" line ":1: error: the ends of the rows that are shaped at the same time are ambiguous; write \"at "  \
    "neck edge\" and \"at armhole edge\", or \"at each end\"\n"
    static const struct refused refused[] = {
        {SC_20
         "Dec row: Ch 1, sc2tog, sc in each st across, turn.\nRep dec row every 2nd row 2 more times, at the same "
         "time dec 1 st at neck edge on every 4th row 2 times.\n",
         SC_20_ROW "4 Dec row: 19 19 19\n5 : ? ? ?\n", SAME_END("5")},
        {SC_20 "Dec row: Ch 1, sc2tog, sc in each st across, turn.\nDec 1 st at neck edge on every 4th row 2 times, at "
               "the same time rep dec row every 2nd row 2 more times.\n",
         SC_20_ROW "4 Dec row: 19 19 19\n5 : ? ? ?\n", SAME_END("5")},
        {SC_20 "Dec 1 st at each end of next and every 4th row 2 more times, at the same time dec 1 st at side edge on "
               "next and every 4th row 2 more times.\n",
         AFTER_20, SAME_END("4")},
        {SC_20 "Dec 1 st at right edge on every row 2 times, at the same time dec 1 st at neck edge on every row 2 "
               "times.\n",
         AFTER_20, WHICH_ENDS("4")},
        {SC_20
         "Dec 1 st at neck edge on every row 2 times, at the same time dec 1 st at side edge on every row 2 times, "
         "at the same time dec 1 st at beg of every row 2 times.\n",
         AFTER_20, WHICH_ENDS("4")},
        {SC_20 "Dec 1 st each end of every 4th row to 15 sts.\n", AFTER_20,
         "pattern.txt:4:1: error: 20 stitches do not become 15 by 2 at a time; check both numbers\n"},
        {SC_20 "Dec 1 st each end of every 4th row to 24 sts.\n", AFTER_20,
         "pattern.txt:4:1: error: 20 stitches do not become 24 by 2 at a time; check both numbers\n"},
        {SC_20 "Rows 2-5: Dec 1 st each end of every 2nd row 4 times.\n", SC_20_ROW "4 Rows 2-5: ? ? ?\n",
         "pattern.txt:4:1: error: the shaping takes more rows than the label has; check both numbers\n"},
        {SC_20 "Rows 2-3: Dec 1 st each end.\n", SC_20_ROW "4 Rows 2-3: ? ? ?\n",
         "pattern.txt:4:1: error: which of these rows it shapes is not stated; write \"every row\" or \"every 4th "
         "row\"\n"},
        {SC_20 "Work even for 0 rows, at the same time dec 1 st at neck edge on next and every 4th row 2 more times.\n",
         AFTER_20,
         "pattern.txt:4:1: error: the shaping takes more rows than are worked at the same time; check both numbers\n"},
        {SC_20 "Dec 1 st each end of every 4th row 50000 times.\n", AFTER_20,
         "pattern.txt:4:1: error: the piece has more than 100000 rows; is a number a slip?\n"},
        {SC_20 "Rows 2-200000: Dec 1 st each end of every 4th row.\n", SC_20_ROW "4 Rows 2-200000: ? ? ?\n",
         "pattern.txt:4:1: error: the piece has more than 100000 rows; is a number a slip?\n"},
        /* Tunisian rows and puffs have no known decrease. */
        {"# Body\n" HOOK "ch 21.\nRow 1: Puff in 2nd ch from hook and in each ch across, turn.\nRow 2: Ch 1, puff in "
         "each st across, turn.\nDec 1 st each end of next row.\n",
         "3 Row 1: 20 20 20\n4 Row 2: 20 20 20\n5 : ? ? ?\n", "pattern.txt:5:1: error: " SHAPED},
        {"# Body\n" HOOK "ch 21.\nRow 1: Tss in 2nd ch from hook and in each ch across.\nRow 2: Tss in each st "
         "across.\nDec 1 st each end of next row.\n",
         "3 Row 1: 20 20 20\n4 Row 2: 20 20 20\n5 : ? ? ?\n", "pattern.txt:5:1: error: " SHAPED},
    };
    assert_refused(*state, refused, COUNT(refused));
}

/* Where only some of the worked rows shape, each row has the chains and the join of its own stitch. */
static void rows_are_shaped_as_they_go_on(void **state)
{
    static const struct totals totals[] = {
        /* sc hdc sc hdc sc hdc, shaped in the 2nd and the 4th: 20, 16, 18, 14, 16, 16; ch 1 a row. */
        {SC_20 "Row 2: Ch 1, sc in each st across, turn.\nRow 3: Ch 1, hdc in each st across, turn.\nRep rows 2 and 3 "
               "for 6 rows, at the same time dec 1 st each end of every 2nd row 2 times.\n",
         {{"sc", 20 + 20 + 20 + 18 + 16}, {"hdc", 20 + 16 + 14 + 16}, {"ch", 21 + 2 + 6}}},
        {SC_20 "Row 2: Ch 1, *sc in next st; rep from * across, turn.\nRep row 2 for 4 rows, at the same time dec 1 st "
               "each end of every 2nd row 2 times.\n",
         {{"sc", 20 + 20 + 20 + 16 + 18 + 14}, {"sc2tog", 4}, {"ch", 21 + 5}}},
        {SC_20
         "Row 2: Ch 1, turn, sc in each st across, join.\nRep row 2 for 4 rows, at the same time dec 1 st each end "
         "of every 2nd row 2 times.\n",
         {{"sc", 20 + 20 + 20 + 16 + 18 + 14}, {"sl st", 5}, {"ch", 21 + 5}}},
        {"# Hat\n" HOOK
         "ch 20, join.\nRnd 1: Ch 1, sc in each ch around, join.\nRep rnd 1 for 4 rnds, at the same time "
         "dec 1 st each end of every 2nd rnd 2 times.\n",
         {{"sc", 20 + 20 + 16 + 18 + 14}, {"sl st", 6}, {"ch", 20 + 5}}},
        {"# Hat\n" HOOK "ch 20, join.\nRnd 1: Ch 1, sc in each ch around, join.\nRnd 2: Ch 1, sc2tog, sc in each st "
         "around, join.\nWork even for 2 rnds.\n",
         {{"sc", 20 + 18 + 2 * 19}, {"sl st", 5}, {"ch", 20 + 4}}},
        /* 4 cm are 8 rows, 2 of them above. */
        {SC_20
         "Row 2: Ch 1, sc in each st across, turn.\nWork even until piece measures 4 cm, at the same time dec 1 st "
         "each end of every 2nd row 2 times.\n",
         {{"sc", 20 + 20 + 20 + 16 + 18 + 14 + 2 * 16}, {"sc2tog", 4}, {"ch", 21 + 7}}},
        {SC_20
         "Stripes: 1 row trim, 1 row main.\nRow 2: Ch 1, sc in each st across, turn.\nWork in stripes for 4 rows, "
         "at the same time dec 1 st each end of every 2nd row 2 times.\n",
         {{"sc", 20 + 20 + 20 + 16 + 18 + 14}, {"sc2tog", 4}}},
        /* The hdc rows with shaping continue as hdc. */
        {SC_20
         "Row 2: Ch 1, sc in each st across, turn.\nRow 3: Ch 1, *sc in next st, sc2tog; rep from * to last 2 sts, "
         "sc in each st across, turn.\nRow 4: Ch 1, hdc2tog, hdc in each st across, turn.\nWork even for 2 rows.\n",
         {{"hdc", 12 + 2 * 13}, {"hdc2tog", 1}, {"ch", 21 + 5}}},
        /* Crochet that is bound off: 17 and 14 after 20. */
        {SC_20 "Bind off 3 sts at beg of next 2 rows.\n", {{"sc", 20 + 17 + 14}, {"BO", 6}}},
        {SC_20 "Cast on 3 sts at end of next 2 rows.\n", {{"sc", 20 + 20 + 23}, {"CO", 6}}},
        /* 10 cm are 20 rows, 2 of them above: 21 and 22 to 39. */
        {SC_20 "Row 2: Ch 1, 2 sc in next st, sc in each st across, turn.\nRep row 2 until piece measures 10 cm.\n",
         {{"sc", 20 + 21 + 9 * (22 + 39)}}},
    };
    assert_totals(*state, totals, COUNT(totals));
}

#define NOT_PLAIN                                                                                                      \
    "error: how this stitch pattern continues where it is shaped is not stated; write the rows that shape with their " \
    "labels; rows of one stitch each are shaped without\n"

static void rows_that_do_not_say_how_they_go_on(void **state)
{
    static const struct refused refused[] = {
        {SC_20 "Row 2: Ch 1, sc in next st, hdc in each st across, turn.\nRep row 2 for 4 rows, at the same time dec 1 "
               "st each end of every 2nd row 2 times.\n",
         SC_20_ROW "4 Row 2: 20 20 20\n5 : ? ? ?\n", "pattern.txt:5:1: " NOT_PLAIN},
        {SC_20 "Row 2: Sc in next st, ch 1, sk next st, sc in each st across, turn.\nRep row 2 for 4 rows, at the same "
               "time dec 1 st each end of every 2nd row 2 times.\n",
         SC_20_ROW "4 Row 2: 19 19 19\n5 : ? ? ?\n", "pattern.txt:5:1: " NOT_PLAIN},
        {SC_20 "Row 2: Ch 1, *sc in next st, ch 1, sk next st; rep from * across, turn.\nRep row 2 for 4 rows, at the "
               "same time dec 1 st each end of every 2nd row 2 times.\n",
         SC_20_ROW "4 Row 2: 10 10 10\n5 : ? ? ?\n", "pattern.txt:5:1: " NOT_PLAIN},
        {SC_20
         "Row 2: Ch 1, 2 sc in each st across, turn.\nRep row 2 for 4 rows, at the same time dec 1 st each end of "
         "every 2nd row 2 times.\n",
         SC_20_ROW "4 Row 2: 40 40 40\n5 : ? ? ?\n", "pattern.txt:5:1: " NOT_PLAIN},
        {SC_20 "Rep row 1 3 times, at the same time dec 1 st each end of every 2nd row 2 times.\n", AFTER_20,
         "pattern.txt:4:1: error: the number of rows worked at the same time is not stated; write \"for 24 rows\"\n"},
        {SC_20 "Rep row 9 for 4 rows, at the same time dec 1 st each end of every 2nd row 2 times.\n", AFTER_20,
         "pattern.txt:4:1: error: there is no row 9 above; a reference means the nearest row of that number above it "
         "in its piece\n"},
        {SC_20
         "Row 2: Ch 1, sc in each st across, turn.\nWork even until piece measures 0.4 cm, at the same time dec 1 "
         "st each end of every 2nd row 2 times.\n",
         SC_20_ROW "4 Row 2: 20 20 20\n5 : ? ? ?\n",
         "pattern.txt:5:1: error: the rows above already exceed that length; check the length, the gauge of "
         "the swatch and the rows above\n"},
        {SC_20 "Row 2: Ch 1, sc in next st, hdc in each st across, turn.\nRep row 2 until piece measures 10 cm.\n",
         SC_20_ROW "4 Row 2: 20 20 20\n5 : 20 20 20\n",
         "pattern.txt:5:1: error: no swatch gives the number of rows for it; give a swatch of this stitch with its "
         "gauge in "
         "swatches.csv, or write how many rows\n"},
        /* Chains at an edge do not start a piece. */
        {SC_20 "Ch 4 at end of next 2 rows.\n", AFTER_20,
         "pattern.txt:4:6: error: at is not a stitch in US terms; write it in stitches that hankful tables stitches "
         "lists, "
         "or write [take as 24 sc] after the row\n"},
        {SC_20 "Ch 4 at the beg of next 2 rows.\n", AFTER_20,
         "pattern.txt:4:6: error: at is not a stitch in US terms; write it in stitches that hankful tables stitches "
         "lists, "
         "or write [take as 24 sc] after the row\n"},
        {SC_20 "Rep row 1 until all sts of the edge are used.\n", AFTER_20,
         "pattern.txt:4:1: error: no row above ties itself to an edge; write it in the rows: \"sl st in next 2 sts of "
         "the edge, turn\"\n"},
        {SC_20
         "Stripes: 1 row trim, 1 row main.\nRow 2: Ch 1, sc in each st across, turn.\nWork in stripes as set for 4 "
         "rows.\n",
         SC_20_ROW "5 Row 2: 20 20 20\n6 : ? ? ?\n",
         "pattern.txt:6:1: error: there is no stitch pattern \"stripes as set\"; write its rows under its name before "
         "the pieces, or into fabrics.csv\n"},
    };
    assert_refused(*state, refused, COUNT(refused));
}

/* Groups of one size, and stitches with an increase or a decrease, or with neither. */
static void evenly_by_the_stitch_that_there_is(void **state)
{
#define PUFF_20                                                                                                        \
    "# Body\n" HOOK "ch 21.\nRow 1: Puff in 2nd ch from hook and in each ch across, turn.\nRow 2: Ch 1, puff in each " \
    "st across, turn.\n"
    static const struct totals totals[] = {
        {SC_20 "Dec 5 sts evenly.\n", {{"sc", 20 + 10}, {"sc2tog", 5}}},
        {SC_20 "Inc 20 sts evenly.\n", {{"sc", 20 + 40}}},
        {SC_20 "Inc 1 st evenly.\n", {{"sc", 20 + 21}}},
        {SC_20 "Row 2: Sc across, inc 4 (0, 4) sts evenly.\n", {{"sc", 40}}},
        {SC_20 "Row 2: Ch 1, hdc in each st across, turn.\nRow 3: Ch 1, sc across, dec 5 sts evenly, turn.\n",
         {{"sc", 20 + 10}, {"sc2tog", 5}, {"ch", 23}}},
        {STOCKINETTE_20 "K across, dec 10 sts evenly.\n", {{"k", 20}, {"p", 20}, {"k2tog", 10}}},
        {STOCKINETTE_20 "Row 3: K across, inc 3 sts evenly. (23 sts)\nRow 4: P.\n", {{"k", 40}, {"p", 43}, {"M1", 3}}},
        {HAT_20 "Rnd 1: K.\nRnd 2: Inc 4 sts evenly.\n", {{"k", 40}, {"M1", 4}}},
        {PUFF_20 "Inc 4 sts evenly.\n", {{"3-hdc puff", 64}}},
    };
    assert_totals(*state, totals, COUNT(totals));
#define UNKNOWN_HOW                                                                                                    \
    "pattern.txt:5:1: error: how this stitch is increased or decreased is not known; write where they are worked, "    \
    "such as *k 18, M1; rep from * to end\n"
    static const struct refused refused[] = {
        {PUFF_20 "Dec 4 sts evenly.\n", "3 Row 1: 20 20 20\n4 Row 2: 20 20 20\n5 : ? ? ?\n", UNKNOWN_HOW},
        {"# Body\n" HOOK "ch 21.\nRow 1: Tss in 2nd ch from hook and in each ch across.\nRow 2: Tss in each st "
         "across.\nInc 4 sts evenly.\n",
         "3 Row 1: 20 20 20\n4 Row 2: 20 20 20\n5 : ? ? ?\n", UNKNOWN_HOW},
        {SC_20 "Row 2: Ch 1, *sc in next st, ch 1, sk next st; rep from * across, turn.\nRow 3: Sc across, inc 4 sts "
               "evenly.\n",
         SC_20_ROW "4 Row 2: 10 10 10\n5 Row 3: ? ? ?\n",
         "pattern.txt:5:1: error: the stitch of this row is ambiguous from the rows above; name it: \"Sc "
         "around, inc 6 sts evenly\", or write where they are worked\n"},
    };
    assert_refused(*state, refused, COUNT(refused));
}

/* An unreadable row leaves the count that it states, of one kind or several, after nested brackets. */
static void rows_go_on_from_what_is_stated(void **state)
{
#define NO_STITCH_OF_ROW_2(word)                                                                                       \
    "pattern.txt:4:8: error: " word " is not a stitch in US terms; write it in stitches that hankful tables stitches " \
    "lists, or write [take as 24 sc] after the row\n"
    static const struct refused refused[] = {
        {SC_20 "Row 2: Chart row. (20 sc, 2 dc)\nRow 3: Sc across.\n",
         SC_20_ROW "4 Row 2: ? ? ?\n5 Row 3: ~22 ~22 ~22\n", NO_STITCH_OF_ROW_2("Chart")},
        {SC_20 "Row 2: Follow chart (see page 2 (left)). 20 sts\nRow 3: Sc across.\n",
         SC_20_ROW "4 Row 2: ? ? ?\n5 Row 3: ~20 ~20 ~20\n", NO_STITCH_OF_ROW_2("Follow")},
        {SC_20 "Row 2: [take as 20 sc, turn]\nRow 3: Sc across.\n", SC_20_ROW "4 Row 2: ? ? ?\n5 Row 3: ? ? ?\n",
         "pattern.txt:4:17: error: what to take in place of the row is not a list of numbers of stitches; write it as "
         "[take "
         "as 84 hdc, 6 ch]\n"},
        {SC_20 "Row 2: Chart. [take as 20 (22, -) sc]\nRow 3: Sc across.\n",
         SC_20_ROW "4 Row 2: 20 22 0\n5 Row 3: 20 22 ?\n",
         "pattern.txt:5:1: error: no stitches are left to work this row on (size L); write on which it is worked: "
         "\"Rejoin "
         "yarn to rem sts\", \"Work on the 20 held sts\"\n"},
        {SC_20 "# Cuff\nAs bodies.\n", SC_20_ROW "5 : ? ? ?\n",
         "pattern.txt:5:1: error: there is no piece of that name above; name it as its heading does, or write the "
         "rows\n"},
    };
    assert_refused(*state, refused, COUNT(refused));
}

/* ---- Colours ---- */

/* Stitches of both yarns, main and trim, in size S. */
struct yarns {
    const char *pattern, *stitch;
    int64_t counts[2];
};

static int64_t yarn_count(const struct proofed *read, size_t role, const char *stitch)
{
    double count = 0;
    for (size_t line = 0; line < read->project->line_count; line++) {
        const struct hk_worked *worked = &read->tally->lines[line];
        for (size_t u = 0; u < worked->use_count; u++) {
            const struct hk_use *use = &worked->uses[u];
            if (read->project->combinations[use->combination].strands[0].role != role)
                continue;
            for (size_t k = 0; k < use->kinds.count; k++)
                if (strcmp(read->project->catalogue->stitches[use->kinds.kinds[k].stitch].us, stitch) == 0)
                    count += use->kinds.kinds[k].count;
        }
    }
    return (int64_t)count;
}

static void assert_yarns(const struct hk_catalogue *catalogue, const struct yarns *yarns, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        struct proofed read = proofed_read(catalogue, yarns[i].pattern, NULL, NULL);
        if (!read.tally)
            fail_msg("%s%s", yarns[i].pattern, findings_text(&read.diags));
        for (size_t role = 0; role < 2; role++) {
            int64_t found = yarn_count(&read, role, yarns[i].stitch);
            if (found != yarns[i].counts[role])
                fail_msg("%s%" PRId64 " %s of yarn %zu, and not %" PRId64, yarns[i].pattern, found, yarns[i].stitch,
                         role, yarns[i].counts[role]);
        }
        proofed_free(&read);
    }
}

static void colours_come_in_turn(void **state)
{
    static const struct yarns yarns[] = {
        /* 7 rows: main trim main trim main trim main, after one of main. */
        {SC_20 "Colour sequence: main, trim; work 1 row each.\nRows 2-8: Sc in each st across, turn.\n",
         "sc",
         {100, 60}},
        {SC_20 "Color sequence: main, trim. Work 1 row of each.\nRows 2-8: Sc in each st across, turn.\n",
         "sc",
         {100, 60}},
        /* mm tttt mm tttt, and mm again. */
        {SC_20
         "Work in stripes: 2 rows main, 4 rows trim.\nRow 2: Sc in each st across, turn.\nRep row 2 13 more times.\n",
         "sc",
         {140, 160}},
        {SC_20 "Work in stripes of 2 rows main and 4 rows trim.\nRow 2: Sc in each st across, turn.\nWork even for 13 "
               "rows.\n",
         "sc",
         {140, 160}},
        {SC_20 "Alternate 2 rows MC and 2 rows trim.\nRow 2: Sc in each st across, turn.\nWork even for 5 rows.\n",
         "sc",
         {100, 40}},
        /* Rows of two kinds over stripes of three: sc hdc in mmt, six rows a turn of both: main sc hdc, trim sc; main
         * hdc sc, trim hdc. */
        {SC_20
         "Stripe pattern (3 rows): 2 rows main, 1 row trim; rep throughout.\nRow 2: Sc in each st across, turn.\nRow "
         "3: Hdc in each st across, turn.\nRep rows 2 and 3 8 more times.\n",
         "hdc",
         {120, 60}},
        /* Graded: 1 row of trim in S. */
        {SC_20 "Stripes: 2 rows main, 1 (2, 3) rows trim.\nRow 2: Sc in each st across, turn.\nWork even for 8 rows.\n",
         "sc",
         {140, 60}},
        /* Named once, worked at each place that names it, each time from its first colour. */
        {"NOTES\nStripe sequence: 1 row trim, 1 row main.\n" SC_20
         "Work in stripe sequence for 3 rows.\nWith main, work even for 2 rows.\nWork even in stripes for 1 row.\n",
         "sc",
         {80, 60}},
        {SC_20 "Work in stripes of 1 row trim and 1 row main for 4 rows. 20 sts\nWith main, work even for 2 rows.\n",
         "sc",
         {100, 40}},
        /* A named yarn ends the sequence; shaping continues in that yarn. */
        {SC_20
         "Stripes: 1 row trim, 1 row main.\nRow 2: Sc in each st across, turn.\nInc 1 st at end of every row 2 times.\n"
         "With main, sc in each st across.\n",
         "sc",
         {20 + 21 + 22, 20 + 22}},
        /* The start of a piece ends the sequence too. */
        {SC_20 "Stripes: 1 row trim, 1 row main.\nRow 2: Sc in each st across, turn.\n# Cuff\n" HOOK
               "ch 21.\nRow 1: Sc in 2nd ch from hook and in each ch across, turn.\n",
         "sc",
         {40, 20}},
        /* Repeated rows keep their yarns, or take the yarn named since. */
        {SC_20
         "Row 2: With trim, sc in each st across, turn.\nRow 3: With main, sc in each st across, turn.\nRep rows 2 and "
         "3.\nWork even for 2 rows.\n",
         "sc",
         {80, 60}},
        {SC_20 "Row 2: Sc in each st across, turn.\nWith trim, rep row 2 3 times.\n", "sc", {40, 60}},
        {SC_20
         "Row 2: With trim, sc in each st across, turn.\nRow 3: With main, sc in each st across, turn.\nWith trim, rep "
         "rows 2 and 3.\n",
         "sc",
         {60, 40}},
        {SC_20 "Row 2: Sc in each st across, turn. Change to trim.\nRep row 2.\n", "sc", {40, 20}},
        {SC_20 "Stripes: 1 row trim, 2 rows main.\nRows 2-5: Chart. [take as 20 hdc]\n", "hdc", {40, 40}},
    };
    assert_yarns(*state, yarns, COUNT(yarns));
}

#define COLOURS "; write it as \"Colour sequence: 2 rows A, 4 rows B\", with roles of yarns.csv\n"

/* Number of stitches past which each yarn is carried, in all rounds: within them, and from one to the next. */
static void yarns_are_carried_on_to_the_next_round(void **state)
{
    static const struct yarns yarns[] = {
        /* 5 x (k3 main, k1 trim): main 4 x 1, trim 4 x 3; main past the last trim into the next round, trim past 3. */
        {HAT_20 "Rnd 1: *K3 main, k1 trim; rep from * around.\n", "float", {4, 12}},
        {HAT_20 "Rnd 1: *K3 main, k1 trim; rep from * around.\nRnd 2: Rep rnd 1.\n", "float", {8 + 1, 24 + 3}},
        {HAT_20 "Rnd 1: *K3 main, k1 trim; rep from * around.\nRnds 2-10: Rep rnd 1.\n", "float", {40 + 9, 120 + 27}},
        /* One begins with trim, the other with main. */
        {HAT_20 "Rnd 1: *K1 trim, k3 main; rep from * around.\nRnd 2: *K2 main, k1 trim, k1 main; rep from * around.\n",
         "float",
         {4 + 5, 12 + 12 + 3 + 2}},
        /* In a round and back. */
        {HAT_20
         "Rnd 1: *K3 main, k1 trim; rep from * around.\nRnd 2: With main, k.\nRnd 3: *K3 main, k1 trim; rep from * "
         "around.\n",
         "float",
         {8 + 1, 24}},
        /* A single motif: the pattern does not state that trim is carried around. */
        {HAT_20 "Rnd 1: K8 main, k4 trim, k8 main.\nRnds 2-4: Rep rnd 1.\n", "float", {16, 0}},
        /* Rows turn: the edge where the yarn returns is not followed. */
        {CAST_ON_20 "Row 1: *K3 main, k1 trim; rep from * to end.\nRow 2: *P3 main, p1 trim; rep from * to end.\n",
         "float",
         {8, 24}},
        /* Tapestry crochet: carried within the stitches. */
        {"# Bag\n" HOOK
         "ch 20, join.\nRnd 1: *Sc in next 3 sts with main, sc in next st with trim; rep from * around.\n"
         "Rnd 2: *Sc in next 3 sts with main, sc in next st with trim; rep from * around.\n",
         "carried strand",
         {8 + 1, 24 + 3}},
    };
    assert_yarns(*state, yarns, COUNT(yarns));
}

/* Two strands at each change, unless they are not cut: main, trim, main, trim after the chain and row 1 in main. */
static void colours_are_joined_or_carried(void **state)
{
    static const struct {
        const char *words;
        double ends[2];
    } stripes[] = {{"Stripes: 1 row trim, 1 row main.\n", {6, 4}},
                   {"Stripes: 1 row trim, 1 row main, carrying the yarn not in use.\n", {2, 2}}};
    for (size_t i = 0; i < COUNT(stripes); i++) {
        char pattern[400];
        snprintf(pattern, sizeof pattern, SC_20 "%sRow 2: Sc in each st across, turn.\nRep row 2 3 more times.\n",
                 stripes[i].words);
        struct proofed read = proofed_read(*state, pattern, NULL, NULL);
        if (!read.tally)
            fail_msg("%s", findings_text(&read.diags));
        const struct hk_worked *worked = &read.tally->lines[0];
        assert_int_equal(worked->use_count, 2);
        for (size_t u = 0; u < 2; u++)
            assert_close(worked->uses[u].ends[0], stripes[i].ends[u], 0, 1e-9);
        proofed_free(&read);
    }
}

/* 100 rows, none certainly longer than another: the longest is the last, with most dc. */
static void every_row_that_may_be_longest_is_kept(void **state)
{
    enum { rows = 100 };
    static char pattern[20000];
    size_t at = (size_t)snprintf(pattern, sizeof pattern,
                                 "# Body\n" HOOK "ch 121.\nRow 1: Sc in 2nd ch from hook and in each "
                                 "ch across, turn.\n");
    for (int i = 1; i <= rows; i++)
        at += (size_t)snprintf(pattern + at, sizeof pattern - at,
                               "Row %d: Sc in next %d sts, dc in next %d sts, turn.\n", i + 1, 120 - i, i);
    struct proofed read = proofed_read(*state, pattern, NULL, NULL);
    if (!read.tally)
        fail_msg("%s", findings_text(&read.diags));
    const struct hk_use *use = &read.tally->lines[0].uses[0];
    double most = 0;
    for (size_t i = 0; i < use->longest_count; i++)
        for (size_t k = 0; k < use->longest[i].count; k++)
            if (strcmp(read.project->catalogue->stitches[use->longest[i].kinds[k].stitch].us, "dc") == 0)
                most = use->longest[i].kinds[k].count > most ? use->longest[i].kinds[k].count : most;
    assert_close(most, rows, 0, 1e-9);
    proofed_free(&read);
}

static void colours_that_are_not_definite_are_refused(void **state)
{
    static const struct refused refused[] = {
        {SC_20 "Colour sequence: main, trim.\nRow 2: Sc across.\n", SC_20_ROW "4 : ? ? ?\n5 Row 2: ? ? ?\n",
         "pattern.txt:4:18: error: the number of rows of each of these colours is not stated" COLOURS},
        {SC_20 "Alternate 2 rows red and 2 rows trim.\n", AFTER_20,
         "pattern.txt:4:11: error: these colours are not read" COLOURS},
        {SC_20 "Stripes: 2 rows main, 2 rows trim, 2 rows red.\n", AFTER_20,
         "pattern.txt:4:34: error: the words after these colours are not read" COLOURS},
        {SC_20 "Stripes: 2 (3) rows main, 2 rows trim.\n", AFTER_20,
         "pattern.txt:4:10: error: a number is not given once for each of the 3 sizes; write one value, or one for "
         "each size, "
         "as 12 (14, 16); - for a size that does without\n"},
        {SC_20 "Work even in stripe sequence for 2 rows.\nWith trim, work even for 2 rows.\n",
         SC_20_ROW "4 : ? ? ?\n5 : ? ? ?\n",
         "pattern.txt:4:1: error: the sequence of colours is not stated above it; write it before: \"Colour sequence: "
         "2 rows "
         "A, 4 rows B\"\n"},
        {SC_20 "Work in stripes of 1 row main and 1 row trim for 4 rows.\nRow 6: Sc in each st across.\n",
         SC_20_ROW "4 : 20 20 20\n5 Row 6: ? ? ?\n",
         "pattern.txt:5:8: error: its yarn is not stated: the sequence of colours ends above it; name the "
         "yarn: "
         "\"With A, ...\"\n"},
        {"NOTES\nStripe sequence: 1 row trim, 1 row main.\n" SC_20, "5 Row 1: 20 20 20\n",
         "pattern.txt:2:1: error: no rows are worked in these colours: \"Stripe sequence: 1 row trim, 1 row main.\"; "
         "write it "
         "in the piece ahead of its rows, or \"Work in stripe sequence for 20 rows\" there\n"},
        {SC_20 "Stripes: 0 rows main, 0 rows trim.\nRow 2: Sc across.\n", SC_20_ROW "4 : ? ? ?\n5 Row 2: ? ? ?\n",
         "pattern.txt:4:10: error: the number of rows of each of these colours is not stated" COLOURS},
        {SC_20 "Stripes: 1 (0, 1) row main, 1 (0, 1) row trim.\nRow 2: Sc in each st across.\n",
         SC_20_ROW "5 Row 2: 20 ? 20\n",
         "pattern.txt:5:1: error: the sequence of colours has no rows in this size (size M); write for how many "
         "rows "
         "each of them is worked\n"},
        {SC_20
         "Row 2: Sc in each st across, turn.\nRow 3: With trim, sc in each st across, turn.\nWith trim, rep rows 2 and "
         "3.\n",
         SC_20_ROW "4 Row 2: 20 20 20\n5 Row 3: 20 20 20\n6 : ? ? ?\n",
         "pattern.txt:6:12: error: the rows that are worked again are in several yarns, and another one is named; take "
         "the yarn "
         "out where they keep their own, or write the rows with their yarns\n"},
    };
    assert_refused(*state, refused, COUNT(refused));
}

/* ---- Pieces as others ---- */

#define MOTIF "# Motif one\n" HOOK "ch 21.\nRow 1: Sc in 2nd ch from hook and in each ch across.\n"

static void pieces_are_as_others(void **state)
{
    static const struct refused as[] = {
        {MOTIF "# Motif two\nWork as motif one. (21 sts)\n", "3 Row 1: 20 20 20\n5 : 20!21 20!21 20!21\n",
         "pattern.txt:5:21: error: the row states 21 sts, and has 20; the rows below are worked on the computed "
         "stitches; check the row, or correct the count\n"},
        {"# Sleeves\n" HOOK
         "ch 21.\nRow 1: Sc in 2nd ch from hook and in each ch across.\n# Third sleeve\nWork as sleeve. (20 sts)\n",
         "3 Row 1: 20 20 20\n5 : 20= 20= 20=\n", ""},
        {"# Sleeves\n" HOOK "ch 21.\nRow 1: Sc in 2nd ch from hook and in each ch across.\n# Cuff\nWork as sleeved.\n"
         "# Band\nWork as sleev.\n",
         "3 Row 1: 20 20 20\n5 : ? ? ?\n7 : ? ? ?\n",
         "pattern.txt:5:1: error: there is no piece of that name above; name it as its heading does, or write the "
         "rows\n"
         "pattern.txt:7:1: error: there is no piece of that name above; name it as its heading does, or write the "
         "rows\n"},
        /* A piece absent from a size, and one made zero times in it. */
        {"# Flap\n" HOOK
         "ch - (21, 23).\nRow 1: Sc in 2nd ch from hook and in each ch across.\nFasten off, leaving a 40 cm tail.\n"
         "# Second flap\nWork as flap.\n# Pocket (make - (1, 2))\n" HOOK
         "ch 21.\nRow 1: Sc in 2nd ch from hook and in each ch across.\n",
         "3 Row 1: - 20 22\n6 : - 20 22\n9 Row 1: - 20 20\n", ""},
        /* Each like the one before it. */
        {MOTIF
         "# Motif two\nWork as motif one.\n# Motif three\nWork as motif two.\n# Motif four\nWork as motif three.\n"
         "# Motif five\nWork as motif four.\n# Motif six\nWork as motif five.\n# Motif seven\nWork as motif six.\n",
         "3 Row 1: 20 20 20\n5 : 20 20 20\n7 : 20 20 20\n9 : 20 20 20\n11 : 20 20 20\n13 : 20 20 20\n15 : 20 20 20\n",
         ""},
        {"# Motif one\n" HOOK "ch 21.\nRow 1: Sc in 2nd ch from hook and in each ch across.\nRow 2: Follow the chart.\n"
         "# Motif two\nWork as motif one.\n",
         "3 Row 1: 20 20 20\n4 Row 2: ? ? ?\n6 : ? ? ?\n",
         "pattern.txt:4:8: error: Follow is not a stitch in US terms; write it in stitches that hankful tables "
         "stitches "
         "lists, "
         "or write [take as 24 sc] after the row\n"},
    };
    assert_refused(*state, as, COUNT(as));
    static const struct totals totals[] = {
        {MOTIF "# Motif two\nWork as motif one.\n# Motif three\nWork as motif two.\n", {{"sc", 60}, {"ch", 63}}}};
    assert_totals(*state, totals, COUNT(totals));
}

static void a_hundred_pieces_are_as_others_at_most(void **state)
{
    static char pattern[20000];
    size_t at =
        (size_t)snprintf(pattern, sizeof pattern, "# Motif 0 end\n" HOOK "ch 2.\nRow 1: Sc in 2nd ch from hook.\n");
    for (size_t i = 1; i <= 102; i++)
        at +=
            (size_t)snprintf(pattern + at, sizeof pattern - at, "# Motif %zu end\nWork as motif %zu end.\n", i, i - 1);
    struct proofed read = proofed_read(*state, pattern, NULL, NULL);
    assert_null(read.tally);
    assert_findings(&read.diags, "pattern.txt:5:1: error: more than 100 pieces are made like each other in a chain; "
                                 "write the rows of one of them\n"
                                 "pattern.txt:7:1: error: more than 100 pieces are made like each other in a chain; "
                                 "write the rows of one of them\n");
    read.diags = (struct hk_diags){0};
    proofed_free(&read);
}

/* ---- [take as ...] ---- */

static void what_is_taken_is_held_to_the_count(void **state)
{
    static const struct refused taken[] = {
        /* 84 stitches, and 6 chains that may count. */
        {SC_20 "Row 2: Follow the chart. [take as 84 hdc, 6 ch] (90 sts)\n", SC_20_ROW "4 Row 2: 90= 90= 90=\n", ""},
        {SC_20 "Row 2: Follow the chart. [take as 84 hdc, 6 ch] (84 sts)\n", SC_20_ROW "4 Row 2: 84= 84= 84=\n", ""},
        {SC_20 "Row 2: Follow the chart. [take as 84 hdc, 6 ch] (91 sts)\nRow 3: Ch 1, hdc in each hdc across, turn.\n",
         SC_20_ROW "4 Row 2: 84!91 84!91 84!91\n5 Row 3: 84 84 84\n",
         "pattern.txt:4:50: error: \"Row 2\" states 91 sts, and has 84; the rows below are worked on the computed "
         "stitches; check the row, or correct the count\n"},
        {SC_20 "Row 2: Follow the chart. [take as 84 hdc] (83 hdc)\n", SC_20_ROW "4 Row 2: 84!83 84!83 84!83\n",
         "pattern.txt:4:44: error: \"Row 2\" states 83 sts, and has 84; the rows below are worked on the computed "
         "stitches; check the row, or correct the count\n"},
        /* A readable row can be replaced too. */
        {SC_20 "Row 2: Ch 1, sc in each st across, turn. [take as sc, 20 sl st, sc 11, 9 dc2tog] (21 sts)\n",
         SC_20_ROW "4 Row 2: 21= 21= 21=\n", ""},
        {SC_20 "Row 2: Follow the chart. [take as 6 ch]\n", SC_20_ROW "4 Row 2: 0 0 0\n", ""},
        {SC_20 "Row 2: Follow the chart. [take as 20 (-, 22) sc]\n", SC_20_ROW "4 Row 2: 20 0 22\n", ""},
        {SC_20 "Row 2: Follow the chart. [take as 9999999 sc]\nRow 3: Ch 1, sc in each st across, turn.\n",
         SC_20_ROW "4 Row 2: ? ? ?\n5 Row 3: ? ? ?\n",
         "pattern.txt:4:1: error: it leaves more stitches than can be followed; is the number a slip?\n"},
        {SC_20
         "Row 2: Follow the chart. [take as sc in next 2 sts] (20 sts)\nRow 3: Ch 1, sc in each st across, turn.\n",
         SC_20_ROW "4 Row 2: ? ? ?\n5 Row 3: ~20 ~20 ~20\n",
         "pattern.txt:4:35: error: what to take in place of the row is not a list of numbers of stitches; write it as "
         "[take as 84 hdc, 6 ch]\n"},
        {SC_20 "Row 2: Follow the chart. [take as 3 inc]\n", SC_20_ROW "4 Row 2: ? ? ?\n",
         "pattern.txt:4:35: error: what to take in place of the row is not a list of numbers of stitches; write it as "
         "[take as 84 hdc, 6 ch]\n"},
        {SC_20 "Row 2: Follow the chart. [take as 20 sc, turn]\n", SC_20_ROW "4 Row 2: ? ? ?\n",
         "pattern.txt:4:35: error: what to take in place of the row is not a list of numbers of stitches; write it as "
         "[take as 84 hdc, 6 ch]\n"},
        /* Work without a starting edge has that message alone. */
        {"# Body\nRow 2: " HOOK "follow the chart. [take as 20 sc]\n", "2 Row 2: ? ? ?\n",
         "pattern.txt:2:1: error: work begins nowhere; write how it begins before it: \"ch 72\", \"cast on 84 sts\", "
         "\"On an "
         "edge of 20 sts:\"\n"},
    };
    assert_refused(*state, taken, COUNT(taken));
    static const struct totals totals[] = {
        {SC_20 "Rows 2-5: Follow the chart. [take as 20 sc, 3 ch]\nRow 6: Ch 1, sc in each st across, turn.\n",
         {{"sc", 120}, {"ch", 21 + 12 + 1}}}};
    assert_totals(*state, totals, COUNT(totals));
}

/* ---- Starting edges ---- */

static void work_begins_on_what_is_there(void **state)
{
    static const struct refused begun[] = {
        {"# Band\n" NEEDLES "pick up and knit 30 (32, 34) sts along the edge.\nRow 1: P.\n", "3 Row 1: 30 32 34\n", ""},
        {"# Disc\n" HOOK "ch 4, join.\nRnd 1: 12 sc in ring, join.\n", "3 Rnd 1: 12 12 12\n", ""},
        {"# Disc\n" HOOK "make a magic ring.\nRnd 1: 12 sc in ring, join.\n", "3 Rnd 1: 12 12 12\n", ""},
        {"# Edging\nOn an edge of 20 dc:\nRow 1: " HOOK "ch 1, sc in each dc across.\n", "3 Row 1: 20 20 20\n", ""},
        {"# Edging\nOn an edge of 20 foos:\nRow 1: " HOOK "ch 1, sc in each st across.\n", "3 Row 1: ? ? ?\n",
         "pattern.txt:2:1: error: \"foos\" is not a stitch; write \"On an edge of 20 sts:\", or the kind of stitch: "
         "\"On "
         "an edge of 20 dc:\"\n"},
        {SC_20 "# Sleeve\nWork on the 12 held sts.\nRow 1: Ch 1, sc in each st across.\n",
         SC_20_ROW "6 Row 1: 12 12 12\n",
         "pattern.txt:5:1: note: the stitches that were held are taken as they are stated\n"},
        {"# Base\n" HOOK "12 fsc.\n", "2 : 12 12 12\n", ""},
        {"# Body\nWith main and trim and 5 mm hook, ch 21.\nRow 1: Sc in 2nd ch from hook and in each ch across.\n",
         "3 Row 1: 20 20 20\n",
         "pattern.txt:2:1: error: several yarns are named together; write \"held together\" after them, or one yarn\n"},
        /* A size without the piece. */
        {"# Gusset\n" HOOK "ch - (21, 23).\nRow 1: Sc in 2nd ch from hook and in each ch across.\n",
         "3 Row 1: - 20 22\n", ""},
    };
    assert_refused(*state, begun, COUNT(begun));
    static const struct totals totals[] = {
        {"# Disc\n" HOOK "ch 4, join.\nRnd 1: 12 sc in ring, join.\n", {{"ch", 4}, {"sl st", 2}}},
        {"# Tube\n" HOOK "ch 20, join.\nRnd 1: Sc in each ch around.\n", {{"ch", 20}, {"sl st", 1}}},
        {"# Band\n" NEEDLES "pick up and knit 30 sts along the edge.\nRow 1: P.\n", {{"k", 30}, {"p", 30}}},
        {CAST_ON_20 "Row 1: K.\n", {{"CO", 20}, {"k", 20}}},
        {"# Edging\nOn an edge of 20 sts:\nRow 1: " HOOK "ch 1, sc in each st across.\n", {{"ch", 1}, {"sc", 20}}},
    };
    assert_totals(*state, totals, COUNT(totals));
}

/* ---- Labels and sides ---- */

#define WRONG_SIDE(line, label, side)                                                                                  \
    "pattern.txt:" line ":1: warning: \"" label "\" falls on the " side                                                \
    " side; is a row too many or too few above it?\n"

static void labels_say_rows_or_rounds(void **state)
{
    static const struct refused labelled[] = {
        /* "3rd" does not name a round. */
        {CAST_ON_20 "1st row (RS): K.\n2nd row: P.\n3rd row (WS): K.\n",
         "3 1st row (RS): 20 20 20\n4 2nd row: 20 20 20\n5 3rd row (WS): 20 20 20\n",
         WRONG_SIDE("5", "3rd row (WS)", "right")},
        {HAT_20 "Rd 1 (RS): K.\nRd 2 (RS): K.\nRow 3 (RS): K.\nRow 4 (RS): K.\n",
         "3 Rd 1 (RS): 20 20 20\n4 Rd 2 (RS): 20 20 20\n5 Row 3 (RS): 20 20 20\n6 Row 4 (RS): 20 20 20\n",
         WRONG_SIDE("6", "Row 4 (RS)", "wrong")},
        /* Refused or replaced rows turn the work too. */
        {CAST_ON_20 "Row 1 (RS): K.\nRow 2: Follow. (20 sts)\nRow 3: Follow. [take as 20 k]\nRow 4 (RS): K.\n",
         "3 Row 1 (RS): 20 20 20\n4 Row 2: ? ? ?\n5 Row 3: 20 20 20\n6 Row 4 (RS): 20 20 20\n",
         "pattern.txt:4:8: error: Follow is not a stitch in US terms; write it in stitches that hankful tables "
         "stitches "
         "lists, or write "
         "[take as 24 sc] after the row\n" WRONG_SIDE("6", "Row 4 (RS)", "wrong")},
    };
    assert_refused(*state, labelled, COUNT(labelled));
}

static void places_left_are_reported(void **state)
{
    static const struct refused left[] = {
        {SC_20 "Row 2: Ch 1, sc in next 10 sts, leave rem sts unworked, turn.\n", SC_20_ROW "4 Row 2: 10 10 10\n",
         "pattern.txt:1:3: note: \"Body\" leaves 10 places unworked\n"},
        {SC_20 "Row 2: Ch 1, sc in next 19 sts, leave rem sts unworked, turn.\n", SC_20_ROW "4 Row 2: 19 19 19\n",
         "pattern.txt:1:3: note: \"Body\" leaves 1 place unworked\n"},
        {SC_20 "Medium and large only: Row 2: Ch 1, sc in next 19 sts, leave rem sts unworked, turn.\n",
         SC_20_ROW "4 Row 2: - 19 19\n", "pattern.txt:1:3: note: \"Body\" leaves 0 (1, 1) place unworked\n"},
        /* The statement of a refused row may not be a usable number. */
        {SC_20 "Row 2: Follow the chart. (9999999 sts)\nRow 3: Ch 1, sc in each st across, turn.\n",
         SC_20_ROW "4 Row 2: ? ? ?\n5 Row 3: ? ? ?\n",
         "pattern.txt:4:8: error: Follow is not a stitch in US terms; write it in stitches that hankful tables "
         "stitches "
         "lists, or write "
         "[take as 24 sc] after the row\n"},
        {SC_20 "Row 2: Follow the chart. (3 ch-1 sps)\nRow 3: Ch 1, sc in each st across, turn.\n",
         SC_20_ROW "4 Row 2: ? ? ?\n5 Row 3: ? ? ?\n",
         "pattern.txt:4:8: error: Follow is not a stitch in US terms; write it in stitches that hankful tables "
         "stitches "
         "lists, or write "
         "[take as 24 sc] after the row\n"},
        {SC_20 "Row 2: Follow the chart. (9 sc, 3 dc)\nRow 3: Ch 1, sc in each st across, turn.\n",
         SC_20_ROW "4 Row 2: ? ? ?\n5 Row 3: ~12 ~12 ~12\n",
         "pattern.txt:4:8: error: Follow is not a stitch in US terms; write it in stitches that hankful tables "
         "stitches "
         "lists, or write "
         "[take as 24 sc] after the row\n"},
    };
    assert_refused(*state, left, COUNT(left));
}

/* ---- Sizes named in messages ---- */

#define DIFFERS "; the rows below are worked on the computed stitches; check the row, or correct the count\n"

static void findings_name_their_sizes(void **state)
{
    static const struct refused said[] = {
        /* For sizes that have the row, all; one of them. */
        {SC_20 "Medium and large only: Ch 1, sc in each st across, turn. (21 sts)\n", SC_20_ROW "4 : - 20!21 20!21\n",
         "pattern.txt:4:59: error: the row states 21 sts, and has 20" DIFFERS},
        {SC_20 "Medium and large only: Ch 1, sc in each st across, turn. (- (20, 21) sts)\n",
         SC_20_ROW "4 : - 20= 20!21\n",
         "pattern.txt:4:59: error: the row states - (20, 21) sts, and has 20 (size L)" DIFFERS},
        {"# Body\n" HOOK "ch 9999999 (21, 21).\nRow 1: Sc in 2nd ch from hook and in each ch across.\n",
         "3 Row 1: ? 20 20\n",
         "pattern.txt:2:26: error: work begins on more stitches than can be followed (size S); is the number a "
         "slip?\n"},
        /* Rows after a refused row that states its count. */
        {SC_20 "Row 2: Follow the chart [24 sts]\nRow 3: Ch 1, sc in each st across, turn.\n",
         SC_20_ROW "4 Row 2: ? ? ?\n5 Row 3: ~24 ~24 ~24\n",
         "pattern.txt:4:8: error: Follow is not a stitch in US terms; write it in stitches that hankful tables "
         "stitches "
         "lists, or write "
         "[take as 24 sc] after the row\n"},
        {"# Cuff\nWith main and 5 mm circular needle, cast on 20 sts.\nDec 1 st each end of next row.\n",
         "3 : 18 18 18\n",
         "pattern.txt:3:1: note: there is no row above it: alternate knit and purl rows are assumed\n"},
    };
    assert_refused(*state, said, COUNT(said));
}

/* Nine of ten sizes are wrong: the message names eight. With one size it names none. */
static void many_sizes_are_named_in_part(void **state)
{
    struct proofed read =
        proofed_read(*state, SC_20 "Row 2: Ch 1, sc in each st across, turn. (20 (1, 2, 3, 4, 5, 6, 7, 8, 9) sts)\n",
                     "project.csv", "field,value\ntitle,Skerry\nsizes,\"A (B, C, D, E, F, G, H, I, J)\"\n");
    assert_findings(&read.diags, "pattern.txt:4:43: error: \"Row 2\" states 20 (1, 2, 3, 4, 5, 6, 7, 8, 9) sts, and "
                                 "has 20 (sizes B, C, D, E, F, "
                                 "G, H, I and 1 more)" DIFFERS);
    read.diags = (struct hk_diags){0};
    proofed_free(&read);
    read = proofed_read(*state, CAST_ON_20 "Work in stockinette for 4 cm.\n", "project.csv",
                        "field,value\ntitle,Skerry\n");
    assert_findings(&read.diags, "pattern.txt:3:1: note: this length is 10 rows by the gauge of a swatch\n");
    read.diags = (struct hk_diags){0};
    proofed_free(&read);
}

static bool no_fabric(const void *context, const char *name, const struct hk_row **rows, size_t *setup, size_t *cycle)
{
    (void)context, (void)name, (void)rows, (void)setup, (void)cycle;
    return false;
}

static double no_gauge(const void *context, size_t stitch, double tool_mm, const char **swatch)
{
    (void)context, (void)stitch, (void)tool_mm, (void)swatch;
    return 0;
}

/* The proof ends for every remaining effort; with too little, a message states it. */
static void effort_is_bounded(void **state)
{
    const struct hk_proof_host host = {NULL, no_fabric, no_gauge};
    struct proofed read =
        proofed_read(*state,
                     SC_20 "Row 2: Ch 2, dc in each st across, turn. (21 sts)\nRow 3: Ch 3, dc in each st across, "
                           "turn. (19 sts)\nRep last 2 rows 4 times.\n# Second\nWork as body.\n",
                     NULL, NULL);
    size_t ended = 0;
    for (int64_t effort = 0; effort < 20000; effort += 97) {
        struct hk_diags diags = {0};
        int64_t left = effort;
        struct hk_proof *proof = hk_proof_make(read.project->written, &host, &left, &diags);
        assert_non_null(proof);
        char *findings = findings_text(&diags);
        bool spent = strstr(findings, "the pattern has more stitches and rows than can be followed") != NULL;
        free(findings);
        assert_int_equal(spent, left < 0);
        ended += !spent;
        hk_proof_free(proof);
        hk_diags_free(&diags);
    }
    assert_true(ended > 0 && ended < 200);
    proofed_free(&read);
}

/* Definitions: unclosed brackets, unknown stitches, words of the tables, more definitions than are kept. */
static void definitions_that_are_none_are_prose(void **state)
{
    static char pattern[40000];
    struct proofed read = proofed_read(
        *state,
        "shell = (dc, (ch 1), dc) in same st\nfoo = (dc, ch 1\nbar = 3 zzz in same st or sp\n"
        "fan = (3 zzz) in same st\npicot = ch 3, sl st in same place\n\n" SC_20
        "Row 2: Ch 1, sc in next 10 sts, shell in next st, sc in each st across, turn. (21 sts, 1 ch-1 sp)\n",
        NULL, NULL);
    assert_findings(&read.diags, "");
    read.diags = (struct hk_diags){0};
    assert_int_equal(read.project->proof->unread_count, 4);
    proofed_free(&read);
    size_t at = 0;
    for (size_t i = 0; i < 501; i++)
        at += (size_t)snprintf(pattern + at, sizeof pattern - at, "fan%c%c = 5 dc in same st.\n", (int)('a' + i / 26),
                               (int)('a' + i % 26));
    snprintf(pattern + at, sizeof pattern - at, "\n" SC_20);
    read = proofed_read(*state, pattern, NULL, NULL);
    assert_int_equal(read.project->proof->unread_count, 1);
    proofed_free(&read);
}

/* ---- Information kept for a row ---- */

/* The places of the last row, and its statement. */
static void kept_text(const struct hk_project *project, char *text, size_t size)
{
    struct hk_written_row row = hk_written_row(project, hk_written_rows(project) - 1, 0);
    size_t at = 0;
    for (size_t i = 0; i < row.place_count && at < size; i++)
        at += (size_t)snprintf(text + at, size - at, "%s%" PRId64 " %s", i ? ", " : "", row.places[i].count,
                               row.places[i].kind);
    for (size_t i = 0; i < row.stated_count && at < size; i++)
        at += (size_t)snprintf(text + at, size - at, "%s%" PRId64 "/%" PRId64 " %s", i ? ", " : ": ",
                               row.stated[i].stated, row.stated[i].actual, row.stated[i].what);
}

static void places_and_counts_are_kept_by_kind(void **state)
{
    static const struct {
        const char *pattern, *kept;
    } rows[] = {
        {SC_20 "Row 2: Ch 1, sc in next 10 sts, ch 2, sk next 2 sts, sc in each st across, turn. (18 sc, 1 ch-2 sp)\n",
         "18 sc, 1 ch-2 sp: 18/18 sc, 1/1 ch-2 sp"},
        {SC_20 "Row 2: Ch 1, sc in next 10 sts, ch 2, sk next 2 sts, sc in each st across, turn. (18 sts, 1 sp)\n",
         "18 sc, 1 ch-2 sp: 18/18 sts, 1/1 sp"},
        {SC_20 "Row 2: Ch 1, sc in next 10 sts, ch 2, sk next 2 sts, sc in each st across, turn. (18 sts plus 2 chs)\n",
         "18 sc, 1 ch-2 sp: 18/18 sts, 2/2 ch"},
        {SC_20 "Row 2: Ch 1, *sk next 2 sts, 5 dc in next st, sk next 2 sts; rep from * across, turn. (4 shells)\n",
         "20 dc: 4/4 groups"},
        {SC_20 "Row 2: Ch 1, sc2tog, sc in each st to last 2 sts, sc2tog, turn. (2 sts dec'd)\n",
         "2 sc2tog, 16 sc: 2/2 sts fewer"},
        {SC_20 "Row 2: Ch 1, 2 sc in first st, sc in each st to last st, 2 sc in last st, turn. (2 sts inc'd)\n",
         "22 sc: 2/2 sts more"},
        {"# Edging\nOn an edge of 20 sts:\nRow 1: " HOOK "ch 1, sc in next 10 sts, pm, sc in next 10 sts.\n", "20 sc"},
        /* 3 + 4 ... + 72 chains: 70 kinds of spaces. */
    };
    for (size_t i = 0; i < COUNT(rows); i++) {
        char text[2000] = "";
        struct proofed read = proofed_read(*state, rows[i].pattern, NULL, NULL);
        kept_text(read.project, text, sizeof text);
        assert_string_equal(text, rows[i].kept);
        proofed_free(&read);
    }
}

/* Spaces of 2 to 71 chains: all 70 kinds are kept. */
static void many_kinds_of_places_are_kept(void **state)
{
    char pattern[4000], text[4000] = "";
    size_t at = (size_t)snprintf(pattern, sizeof pattern, "# Mesh\nOn an edge of 70 sts:\nRow 1: " HOOK "ch 1");
    for (size_t i = 2; i < 72; i++)
        at += (size_t)snprintf(pattern + at, sizeof pattern - at, ", sc in next st, ch %zu", i);
    snprintf(pattern + at, sizeof pattern - at, ", turn.\n");
    struct proofed read = proofed_read(*state, pattern, NULL, NULL);
    kept_text(read.project, text, sizeof text);
    for (size_t i = 2; i < 71; i++) {
        char kind[40];
        snprintf(kind, sizeof kind, "1 ch-%zu sp", i);
        if (!strstr(text, kind))
            fail_msg("no %s in %s", kind, text);
    }
    proofed_free(&read);
}

/* Yarns within a row: by name; by letter, where A is the yarn after MC if MC is named, in rows as at their start. */
static void yarns_of_a_row_are_kept_apart(void **state)
{
    static const char *const rows[] = {
        CAST_ON_20 "Row 1: *K1 with main, k1 with trim; rep from * to end.\n",
        CAST_ON_20 "Row 1: *K1 A, k1 B; rep from * to end. (20 sts)\nWith trim, k.\n",
        "# Body\nWith MC and 5 mm needles, cast on 20 sts.\nRow 1: *K1 MC, k1 A; rep from * to end.\nWith trim, k.\n"};
    for (size_t i = 0; i < COUNT(rows); i++) {
        struct proofed read = proofed_read(*state, rows[i], NULL, NULL);
        if (!read.tally)
            fail_msg("%s", findings_text(&read.diags));
        const struct hk_worked *worked = &read.tally->lines[0];
        int64_t knit[2] = {0, 0};
        assert_int_equal(worked->use_count, 2);
        for (size_t u = 0; u < 2; u++)
            for (size_t k = 0; k < worked->uses[u].kinds.count; k++)
                if (strcmp(read.project->catalogue->stitches[worked->uses[u].kinds.kinds[k].stitch].us, "k") == 0)
                    knit[u] += (int64_t)worked->uses[u].kinds.kinds[k].count;
        assert_int_equal(knit[0], 10);
        assert_int_equal(knit[1], i == 0 ? 10 : 30);
        proofed_free(&read);
    }
}

/* Places that a row puts on hold have the name given there, and the number of the size. */
static void what_is_put_on_hold_has_its_name(void **state)
{
    struct proofed proofed = proofed_read(
        *state,
        "# Yoke\nWith 5 mm hook, ch 31.\nRow 1: Sc in 2nd ch from hook and in each ch across.\n"
        "Row 2: Ch 1, sc in next 5 sts, place next 4 (5, 6) sts on hold for left sleeve, sc in next 8 sts, "
        "place next 4 (5, 6) sts on hold, sc in each st across.\n",
        NULL, NULL);
    assert_int_equal(proofed.diags.errors, 0);
    const struct hk_written_row row = hk_written_row(proofed.project, 1, 1);
    assert_int_equal(row.on_hold_count, 2);
    assert_string_equal(row.on_hold[0].kind, "left sleeve");
    assert_int_equal(row.on_hold[0].count, 5);
    assert_string_equal(row.on_hold[1].kind, "stitches");
    assert_int_equal(row.on_hold[1].count, 5);
    assert_int_equal(row.stitches, 20);
    assert_int_equal(hk_written_row(proofed.project, 0, 1).on_hold_count, 0);
    proofed_free(&proofed);
}

/* ---- Between the rows ---- */

/* Yarn joins, tails, sides that face, and stitches picked up beside a cast-on. */
static void sentences_between_rows(void **state)
{
    static const struct totals totals[] = {
        /* With a label, the slip stitch that joins is a stitch of the row. */
        {SC_20 "Row 2: Join trim with sl st in next st, ch 1, sc in each st across.\n",
         {{"sc", 40}, {"sl st", 1}, {"ch", 22}}},
        {SC_20 "Row 2: Join trim with sl st to next st, ch 1, sc in each st across.\n",
         {{"sc", 40}, {"sl st", 1}, {"ch", 22}}},
        {SC_20 "Row 2: Join trim with sl st, ch 1, sc in each st across.\n", {{"sc", 40}, {"sl st", 0}, {"ch", 22}}},
        {SC_20 "Join trim with sl st.\n", {{"sc", 20}}},
        {SC_20 "Join trim with sc in next st, sc in each st across.\n", {{"sc", 40}}},
        {SC_20 "Fasten off, leaving a 1.5.2 long 40 cm tail.\n", {{"sc", 20}}},
        {SC_20 "Fasten off, leaving 3 tails of 40 g.\n", {{"sc", 20}}},
        {SC_20 "With RS facing, sc in each st across.\n", {{"sc", 40}}},
        {SC_20 "With wrong side facing, hooray.\n", {{"sc", 20}}},
        {SC_20 "Row 2: Sc in each st across. Ch 4.\n", {{"sc", 40}, {"ch", 25}}},
        /* 10 + 2 stitches of a thumb. */
        {"# Thumb\n" NEEDLES
         "cast on 10 sts. Pick up and knit 2 sts at the base of the thumb. 12 sts.\nRnd 1: K. 12 sts\n",
         {{"CO", 10}, {"k", 14}}},
        {"# Thumb\n" NEEDLES
         "cast on 10 sts.\nRow 1: K.\nPick up and knit 2 sts at the base of the thumb.\nRow 2: K.\n",
         {{"CO", 10}, {"k", 14}}},
        {"# Body\n" HOOK "ch 21.\n21 chs.\nRow 1: Sc in 2nd ch from hook and in each ch across, turn.\n", {{"sc", 20}}},
        {"# Left front\n" HOOK "ch 21.\nRow 1: Sc in 2nd ch from hook and in each ch across, turn.\n"
         "Right front: Work as for left front.\nThe other front that is made: Work as for left front.\n"
         "A, b: Work as for left front.\n",
         {{"sc", 40}, {"ch", 42}}},
    };
    assert_totals(*state, totals, COUNT(totals));
    static const struct refused refused[] = {
        {"# Body\n" HOOK "ch 21.\n20 chs.\nRow 1: Sc in 2nd ch from hook and in each ch across, turn.\n",
         "4 Row 1: 20 20 20\n",
         "pattern.txt:3:1: error: \"20 chs.\" is a count that follows no row; write it at the end of the row that it "
         "belongs to\n"},
        {"# Thumb\n" NEEDLES "cast on 10 sts.\nPick up and knit 2 sts at the base of the thumb. 13 sts.\nRow 1: K.\n",
         "4 Row 1: 12 12 12\n",
         "pattern.txt:3:50: error: \"13 sts.\" is a count that follows no row; write it at the end of the row that it "
         "belongs to\n"},
        {SC_20 "40 sts.\n", "3 Row 1: 20!40 20!40 20!40\n",
         "pattern.txt:4:1: error: \"Row 1\" states 40 sts, and has 20" DIFFERS},
        {SC_20 "Row 2: Sc in each st across. Work on these 10 sts only.\n", SC_20_ROW "4 Row 2: 20 20 20\n",
         "pattern.txt:1:3: note: \"Body\" leaves 10 places unworked\n"},
        {"# Body\n" HOOK "leave 10 sts unworked.\nRow 1: Sc in each st across.\n", "3 Row 1: ? ? ?\n",
         "pattern.txt:3:1: error: work begins nowhere; write how it begins before it: \"ch 72\", \"cast on 84 sts\", "
         "\"On "
         "an edge of 20 sts:\"\n"},
    };
    assert_refused(*state, refused, COUNT(refused));
}

/* The place that names a sequence of colours, and its range. */
static void colours_stand_where_they_stand(void **state)
{
    static const struct yarns yarns[] = {
        /* Between the heading and the start: for the piece; row 1 is of trim. */
        {"# Body\nStripes: 1 row trim, 1 row main.\n" HOOK
         "ch 21.\nRow 1: Sc in 2nd ch from hook and in each ch across, turn.\nRow 2: Sc in each st across, turn.\n",
         "sc",
         {20, 20}},
        /* For a part. */
        {SC_20 "BORDER\nStripes: 1 row trim, 1 row main.\nRow 1: Sc in each st across, turn.\nRow 2: Sc in each st "
               "across, turn.\n",
         "sc",
         {40, 20}},
        /* From the row with the name. */
        {"NOTES\nStripe sequence: 1 row trim, 1 row main.\n" SC_20
         "Row 2: Working in stripe sequence, sc in each st across, turn.\nRow 3: Sc in each st across, turn.\n",
         "sc",
         {40, 20}},
        {SC_20 "Work in stripes of 1 row trim and 1 row main for 4 rows (20 sts). Row 6: With main, sc across.\n",
         "sc",
         {80, 40}},
        /* 7 rows of trim and main in turn. */
        {SC_20 "Work in stripes of 1 row trim and 1 row main until piece measures 4 cm.\n", "sc", {80, 80}},
    };
    assert_yarns(*state, yarns, COUNT(yarns));
    static const struct totals totals[] = {
        /* A stitch pattern named like a sequence is a stitch pattern. */
        {"## Stripe pattern\nRow 1: Ch 1, sc in each st across, turn.\nRow 2: Ch 1, hdc in each st across, "
         "turn.\n\n" SC_20 "Work in stripe pattern for 4 rows.\n",
         {{"sc", 60}, {"hdc", 40}}},
        /* Unreadable text among the notes is prose. */
        {"NOTES\nColour sequence: A.\n" SC_20, {{"sc", 20}}},
    };
    assert_totals(*state, totals, COUNT(totals));
    static const struct refused refused[] = {
        {SC_20 "Colour sequence: 2 (4) rows main, 1 row trim.\nRow 2: Sc in each st across, turn.\n",
         SC_20_ROW "4 : ? ? ?\n5 Row 2: ? ? ?\n",
         "pattern.txt:4:18: error: a number is not given once for each of the 3 sizes; write one value, or one for "
         "each "
         "size, as 12 (14, 16); - for a size that does without\n"},
        {SC_20 "Row 2: Working in stripe sequence, sc in each st across, turn.\n", SC_20_ROW "4 Row 2: ? ? ?\n",
         "pattern.txt:4:8: error: the sequence of colours is not stated above it; write it before: \"Colour sequence: "
         "2 "
         "rows A, 4 rows B\"\n"},
    };
    assert_refused(*state, refused, COUNT(refused));
}

/* A length leaves the stitches unchanged, with known or unknown rows: later rows are checked against them. */
static void rows_below_a_length_that_is_not_known(void **state)
{
    assert_rows(
        SC_20
        "Work even until piece measures 20 cm from neck edge.\nRow 3: Ch 1, *sc in next 3 sts, sk next st; rep from * "
        "across, turn. 16 sc\n",
        SC_20_ROW "4 : 20 20 20\n5 Row 3: 15!16 15!16 15!16\n",
        "pattern.txt:4:11: error: from where this is measured is not followed; write how much is worked from here on, "
        "such as "
        "\"Work even for 20 cm\"\n"
        "pattern.txt:5:70: error: \"Row 3\" states 16 sc, and has 15; the rows below are worked on the computed "
        "stitches; check "
        "the row, or correct the count\n");
    /* 6 cm are 15 rows at 25 to 10 cm; one is worked below the division; the five above it do not count. */
    assert_rows("# Yoke\nWith MC and 4 mm needles, cast on 40 sts, join to work in the round.\nRnds 1-4: K.\nRnd 5: "
                "K10, place next 10 sts on hold "
                "for sleeve, cast on 2 sts for underarm, k20. 32 sts\nRnd 6: K.\nWork even until piece measures 6 cm "
                "from underarm.\n",
                "3 Rnds 1-4: 40 40 40\n4 Rnd 5: 32= 32= 32=\n5 Rnd 6: 32 32 32\n6 : 32 32 32\n",
                "pattern.txt:1:3: note: \"Yoke\" leaves 10 places unworked: sleeve\n"
                "pattern.txt:6:1: note: this length is 14 (14, 14) rows by the gauge of a swatch\n");
    assert_rows(
        "# Body\nWith MC and 4 mm needles, cast on 40 sts.\nRow 1: K.\nRow 2: K.\nWork even until piece measures 6 cm "
        "from underarm.\n",
        "3 Row 1: 40 40 40\n4 Row 2: 40 40 40\n5 : ? ? ?\n",
        "pattern.txt:5:1: error: from where this is measured is not clear: no row above divides the work; "
        "write how much is "
        "worked from here on, such as \"Work even for 20 cm\"\n");
}

/* A beginning applies to all sizes: one after a size limit made a separate piece for all of them. */
static void a_beginning_for_some_sizes_is_refused(void **state)
{
    assert_rows("# Body\nM only: With MC and 5 mm hook, ch 21.\nRow 1: Sc in 2nd ch from hook and in each ch across.\n",
                "3 Row 1: 20 20 20\n",
                "pattern.txt:2:32: error: a beginning for some of the sizes is not read; write one beginning for all "
                "sizes, with "
                "graded numbers: \"ch 21 (23, 25)\"\n");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rows_go_on_as_they_were),
        cmocka_unit_test(stitch_patterns_begin_with_a_row),
        cmocka_unit_test(what_goes_on_may_not_be_reported),
        cmocka_unit_test(lengths_are_measured_by_the_rows_to_come),
        cmocka_unit_test(labels_and_words_agree_on_how_many),
        cmocka_unit_test(rows_are_worked_where_others_stand_for_them),
        cmocka_unit_test(stitch_patterns_are_put_together),
        cmocka_unit_test(stitch_patterns_that_lack_something_are_refused),
        cmocka_unit_test(rows_shape_at_their_ends),
        cmocka_unit_test(shaping_that_does_not_come_out_is_refused),
        cmocka_unit_test(shaping_in_rhythm),
        cmocka_unit_test(rhythm_that_is_not_definite_is_refused),
        cmocka_unit_test(shaping_by_other_words),
        cmocka_unit_test(shaping_that_falls_together_is_refused),
        cmocka_unit_test(rows_are_shaped_as_they_go_on),
        cmocka_unit_test(rows_that_do_not_say_how_they_go_on),
        cmocka_unit_test(sentences_between_rows),
        cmocka_unit_test(colours_stand_where_they_stand),
        cmocka_unit_test(evenly_by_the_stitch_that_there_is),
        cmocka_unit_test(rows_go_on_from_what_is_stated),
        cmocka_unit_test(colours_come_in_turn),
        cmocka_unit_test(yarns_are_carried_on_to_the_next_round),
        cmocka_unit_test(colours_are_joined_or_carried),
        cmocka_unit_test(every_row_that_may_be_longest_is_kept),
        cmocka_unit_test(colours_that_are_not_definite_are_refused),
        cmocka_unit_test(pieces_are_as_others),
        cmocka_unit_test(a_hundred_pieces_are_as_others_at_most),
        cmocka_unit_test(what_is_taken_is_held_to_the_count),
        cmocka_unit_test(work_begins_on_what_is_there),
        cmocka_unit_test(labels_say_rows_or_rounds),
        cmocka_unit_test(places_left_are_reported),
        cmocka_unit_test(findings_name_their_sizes),
        cmocka_unit_test(many_sizes_are_named_in_part),
        cmocka_unit_test(effort_is_bounded),
        cmocka_unit_test(definitions_that_are_none_are_prose),
        cmocka_unit_test(places_and_counts_are_kept_by_kind),
        cmocka_unit_test(many_kinds_of_places_are_kept),
        cmocka_unit_test(yarns_of_a_row_are_kept_apart),
        cmocka_unit_test(a_beginning_for_some_sizes_is_refused),
        cmocka_unit_test(rows_below_a_length_that_is_not_known),
        cmocka_unit_test(what_is_put_on_hold_has_its_name),
    };
    return cmocka_run_group_tests(tests, catalogue_set_up, catalogue_tear_down);
}
