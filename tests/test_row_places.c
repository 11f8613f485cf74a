/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Places of the row below, in many wordings after the same rows: the result of each in three sizes, or its refusal.
 * Counts worked by hand; rules of the trade: common practice, no source.
 */
#include "proofed.h"

/* 20 knit stitches. */
static void markers(void **state)
{
    static const struct worded cases[] = {
        {"Row 2: K10, pm, k10. 20 sts\n"
         "Row 3: K to last 2 sts removing all markers, k2. 20 sts",
         "4 Row 2: 20= 20= 20=\n"
         "5 Row 3: 20= 20= 20=\n",
         ""},
        {"Row 2: K10, pm, k10. 20 sts\n"
         "Row 3: K to marker, remove marker, k to end. 20 sts\n"
         "Row 4: K to marker, k10. 20 sts",
         "4 Row 2: 20= 20= 20=\n"
         "5 Row 3: 20= 20= 20=\n"
         "6 Row 4: ? ? ?\n",
         "pattern.txt:6:13: error: no place of this kind is left to work into\n"},
        {"Row 2: K10, pm, k10. 20 sts\n"
         "Row 3: K8, sl marker, k10. 20 sts",
         "4 Row 2: 20= 20= 20=\n"
         "5 Row 3: ? ? ?\n",
         "pattern.txt:5:15: error: the next marker is 2 stitches further on; place markers with pm in the row below, "
         "or work to the marker first\n"},
        {"Row 2: K10, pm in last st, k10. 20 sts", "4 Row 2: 20= 20= 20=\n", ""},
        {"Row 2: K10, pm in next st, k10. 20 sts", "4 Row 2: ? ? ?\n",
         "pattern.txt:4:19: error: a marker goes into a stitch that this row has worked already; write it after that "
         "stitch: pm in last st\n"},
        {"Row 2: Pm, k20. 20 sts\n"
         "Row 3: K20, pm. 20 sts",
         "4 Row 2: 20= 20= 20=\n"
         "5 Row 3: 20= 20= 20=\n",
         ""},
        {"Row 2: K4, place next 12 sts on a holder for neck, k4. 8 sts\n"
         "Row 3: K to last 2 sts, place rem sts on hold. 6 sts",
         "4 Row 2: 8= 8= 8=\n"
         "5 Row 3: 6= 6= 6=\n",
         "pattern.txt:1:3: note: \"Piece\" leaves 12 places unworked: neck\n"
         "pattern.txt:1:3: note: \"Piece\" leaves 2 places unworked\n"},
        {"Row 2: K to last 12 sts, place next 8 sts on hold for neck, k4. 13 sts", "4 Row 2: 12!13 12!13 12!13\n",
         "pattern.txt:1:3: note: \"Piece\" leaves 8 places unworked: neck\n"
         "pattern.txt:4:65: error: \"Row 2\" states 13 sts, and has 12; the rows below are worked on the computed "
         "stitches; check the row, or correct the count\n"},
        {"Row 2: K8, place next 8 sts on hold for neck, k to last 2 sts, k2. 13 sts", "4 Row 2: 12!13 12!13 12!13\n",
         "pattern.txt:1:3: note: \"Piece\" leaves 8 places unworked: neck\n"
         "pattern.txt:4:68: error: \"Row 2\" states 13 sts, and has 12; the rows below are worked on the computed "
         "stitches; check the row, or correct the count\n"},
        {"Row 2: K8, sk next 4 sts for neck, k8. 15 sts", "4 Row 2: 16!15 16!15 16!15\n",
         "pattern.txt:1:3: note: \"Piece\" leaves 4 places unworked: neck\n"
         "pattern.txt:4:40: error: \"Row 2\" states 15 sts, and has 16: 8 + 8 are 16; the rows below are worked on the "
         "computed stitches; check the row, or correct the count\n"},
        {"Row 2: Bind off 20 sts.\n"
         "Row 3: K8, place next 8 sts on hold for neck, k4. 12 sts",
         "4 Row 2: 0 0 0\n"
         "5 Row 3: ? ? ?\n",
         "pattern.txt:5:8: error: no stitch is left to work this into\n"},
        {"Row 2: *K1, p1; rep from * to last 2 sts, [k1] twice. 20 sts", "4 Row 2: 20= 20= 20=\n", ""},
        {"Row 2: *Yo; rep from *.", "4 Row 2: ? ? ?\n",
         "pattern.txt:4:13: error: this repeat has no end; let each run of the repeat use up stitches of the row "
         "below\n"},
        {"Row 2: K10, *[k1, p1]; rep from * to end. 20 sts", "4 Row 2: 20= 20= 20=\n", ""},
        {"Row 2: (K1, *p1; rep from * to end) in next st.", "4 Row 2: ? ? ?\n",
         "pattern.txt:4:18: error: this repeat has no end; let each run of the repeat use up stitches of the row "
         "below\n"},
        {"Row 2: K10, pm, k10. 20 sts\n"
         "Row 3: *K1, p1; rep from *, removing all markers. 20 sts",
         "4 Row 2: 20= 20= 20=\n"
         "5 Row 3: 20= 20= 20=\n",
         ""},
        {"Row 2: *K2; rep from *, m1, k2. 21 sts", "4 Row 2: 21= 21= 21=\n", ""},
        {"Row 2: *K2; rep from *, yo, k2. 21 sts", "4 Row 2: 21= 21= 21=\n", ""},
    };
    assert_worded("# Piece\n"
                  "With MC and 5 mm needles, cast on 20 sts.\n"
                  "Row 1: K. 20 sts\n",
                  "3 Row 1: 20= 20= 20=\n", cases);
}

/* 10 single crochet. */
static void places_of_a_row(void **state)
{
    static const struct worded cases[] = {
        {"Row 2: Ch 1, sc in each sc across, pm in first st, turn. 10 sc\n"
         "Row 3: Ch 1, sc in each sc to marked st, 2 sc in marked st, turn. 11 sc",
         "4 Row 2: 10= 10= 10=\n"
         "5 Row 3: 11= 11= 11=\n",
         ""},
        {"Row 2: Ch 1, sc in next 5 sc, pm in last st, sc in next 5 sc, turn. 10 sc\n"
         "Row 3: Ch 1, sc in each st to marked st, (sc, ch 2, sc) in marked st, sc in each st to end, turn. 11 sc",
         "4 Row 2: 10= 10= 10=\n"
         "5 Row 3: 11= 11= 11=\n",
         ""},
        {"Row 2: Ch 1, sc in next 5 sc, pm in last st, sc in next 5 sc, turn. 10 sc\n"
         "Row 3: Ch 1, sc in each st to marked st, (sl st, ch 2) in marked st, sc in each st to end, turn.",
         "4 Row 2: 10= 10= 10=\n"
         "5 Row 3: 10 10 10\n",
         ""},
        {"Row 2: Ch 1, pm in next sc, sc in each sc, turn. 10 sc", "4 Row 2: ? ? ?\n",
         "pattern.txt:4:20: error: a marker goes into a stitch that this row has worked already; write it after that "
         "stitch: pm in last st\n"},
        {"Row 2: Ch 1, pm in next st, sc in each sc, turn. 10 sc", "4 Row 2: ? ? ?\n",
         "pattern.txt:4:20: error: a marker goes into a stitch that this row has worked already; write it after that "
         "stitch: pm in last st\n"},
        {"Row 2: Ch 1, sc in next 8 sc, sl st in next 2 sc, turn. 10 sts\n"
         "Row 3: Sk 2 sl sts, sc in next 8 sc, turn. 8 sc",
         "4 Row 2: 10= 10= 10=\n"
         "5 Row 3: 8= 8= 8=\n",
         ""},
        {"Row 2: Ch 1, sl st in next 2 sc, sc in next 8 sc, turn. 10 sts\n"
         "Row 3: Ch 1, sc in next 8 sc, sk 2 sl sts, turn. 8 sc",
         "4 Row 2: 10= 10= 10=\n"
         "5 Row 3: 8= 8= 8=\n",
         ""},
        {"Row 2: Ch 1, sc in each sc, sk 2 sl sts, turn. 10 sc", "4 Row 2: 10= 10= 10=\n", ""},
        {"Row 2: Ch 1, sk 2 sl sts, sc in each sc, turn. 10 sc", "4 Row 2: 10= 10= 10=\n", ""},
        {"Row 2: Ch 1, sk 2 dc, sc in each sc, turn. 8 sc", "4 Row 2: ? ? ?\n",
         "pattern.txt:4:19: error: the next place is a sc, not a dc; skip it by name, or name what is there\n"},
        {"Row 2: Ch 1, sk 2 sc, sc in each sc, turn. 8 sc", "4 Row 2: 8= 8= 8=\n", ""},
        {"Row 2: Ch 1, sc in next 3 sc, ch 2, sk 2 sc, sc in next 5 sc, turn. 8 sc\n"
         "Row 3: Ch 1, sc in next sc, sk next ch-2 sp, sc in next 3 sc, turn. 4 sc",
         "4 Row 2: 8= 8= 8=\n"
         "5 Row 3: 4= 4= 4=\n",
         ""},
        {"Row 2: Ch 1, sc in next 3 sc, ch 2, sk 2 sc, sc in next 5 sc, turn. 8 sc\n"
         "Work on the first 4 sts only:\n"
         "Row 3: Ch 1, sc in each sc, turn. 4 sc",
         "4 Row 2: 8= 8= 8=\n"
         "6 Row 3: 4= 4= 4=\n",
         "pattern.txt:5:1: error: 4 stitches are named here, and 8 are there; correct the number\n"},
        {"Row 2: Ch 1, sc in next 3 sc, working along other side of foundation ch, sc in each ch, turn.",
         "4 Row 2: ? ? ?\n", "pattern.txt:4:8: error: there is no foundation chain to work along the other side of\n"},
        {"Row 2: Ch 1, *sc in next sc, ch 1; rep from * across, turn. 10 sc\n"
         "Row 3: Ch 1, sc in sp between next 2 sts, turn. 1 sc",
         "4 Row 2: 10= 10= 10=\n"
         "5 Row 3: 1= 1= 1=\n",
         "pattern.txt:1:3: note: \"Piece\" leaves 9 places unworked\n"},
        {"Row 2: Ch 1, 2 sc in each sc, turn. 20 sc\n"
         "Row 3: Ch 1, sc in each sp between sts across, turn.",
         "4 Row 2: 20= 20= 20=\n"
         "5 Row 3: 9 9 9\n",
         ""},
        {"Row 2: Ch 1, *ch 1; rep from * across, turn.", "4 Row 2: ? ? ?\n",
         "pattern.txt:4:21: error: this repeat has no end; let each run of the repeat use up stitches of the row "
         "below\n"},
        {"Row 2: Ch 1, (2 sc 999999999999) in next st, turn.", "4 Row 2: ? ? ?\n",
         "pattern.txt:4:20: error: a number without a stitch; name what is worked: sc 3, 5 dc in next "
         "st\n"},
        {"Row 2: Ch 1, sc in next 999999999999 sts, turn.", "4 Row 2: ? ? ?\n",
         "pattern.txt:4:20: error: no stitch is left to work this into\n"},
        {"Row 2: Ch 1, 999999999999 sc in next st, turn.", "4 Row 2: ? ? ?\n",
         "pattern.txt:4:8: error: the row comes to more than 1000000 places\n"},
        {"Row 2: Ch 1, 1001 sc in each of next 2 sts, turn. 2002 sc", "4 Row 2: 2002= 2002= 2002=\n",
         "pattern.txt:1:3: note: \"Piece\" leaves 8 places unworked\n"},
        {"Row 2: Ch 1, sc in all 10 sts, turn. 10 sc", "4 Row 2: 10= 10= 10=\n", ""},
        {"Row 2: Ch 1, sc2tog in each st across, turn. 5 sc", "4 Row 2: 5= 5= 5=\n", ""},
        {"Row 2: Ch 1, sc3tog in each st across, turn.", "4 Row 2: ? ? ?\n",
         "pattern.txt:4:14: error: 1 stitch remains at the end of the row\n"},
        {"Row 2: Ch 1, 2 sc in next sc, sc in next 9 sc, turn. 11 sc\n"
         "Row 3: Ch 1, sc3tog in each st across, turn.",
         "4 Row 2: 11= 11= 11=\n"
         "5 Row 3: ? ? ?\n",
         "pattern.txt:5:14: error: 2 stitches remain at the end of the row\n"},
        {"Row 2: Ch 1, sc in each sc across, ch 1, turn. 10 sc\n"
         "Row 3: Sl st in next 2 sc, sc in next 8 sc, turn. 2 sl sts, 8 sc",
         "4 Row 2: 10= 10= 10=\n"
         "5 Row 3: 10= 10= 10=\n",
         ""},
        {"Rows 2-4: Ch 1, sc in each sc, turn. 10 sc\n"
         "Rep rows 3 and 4 until all sts of the edge are worked.",
         "4 Rows 2-4: 10= 10= 10=\n"
         "5 : ? ? ?\n",
         "pattern.txt:5:18: error: where this ends cannot be read; write how many rows, or \"until piece measures 20 "
         "cm\"\n"},
        {"Row 2: Ch 1, skip first st, sc in each st across, turn. 9 sc", "4 Row 2: 9= 9= 9=\n", ""},
        {"Row 2: Ch 1, sc in same st, sc in each st across, turn.", "4 Row 2: 10 10 10\n", ""},
        {"Row 2: Ch 1, *sc in next sc, ch 1, sk next sc; rep from * across, turn. 5 sc\n"
         "Row 3: Ch 1, sc in each st and each ch-1 sp, turn. 10 sc",
         "4 Row 2: 5= 5= 5=\n"
         "5 Row 3: 10= 10= 10=\n",
         ""},
        {"Row 2: Ch 1, sk next sp between sts, sc in each sc, turn. 9 sc", "4 Row 2: 9= 9= 9=\n", ""},
        {"Rep row 1 until the edge is used up.", "4 : ? ? ?\n",
         "pattern.txt:4:1: error: no row above ties itself to an edge; write it in the rows: \"sl st in next 2 sts of "
         "the edge, turn\"\n"},
        {"Row 2: Ch 1, sc in all 5 sts, sk next 3 sts for pocket, sc in next 2 sts, turn. 8 sc",
         "4 Row 2: 7!8 7!8 7!8\n",
         "pattern.txt:1:3: note: \"Piece\" leaves 3 places unworked: pocket\n"
         "pattern.txt:4:81: error: \"Row 2\" states 8 sc, and has 7: 5 + 2 are 7; the rows below are worked on the "
         "computed stitches; check the row, or correct the count\n"},
        {"Row 2: Ch 1, sc in all 5 sts, sk next 3 sts for pocket, inc, sc in next st, turn. 9 sc",
         "4 Row 2: 8!9 8!9 8!9\n",
         "pattern.txt:1:3: note: \"Piece\" leaves 3 places unworked: pocket\n"
         "pattern.txt:4:83: error: \"Row 2\" states 9 sc, and has 8; the rows below are worked on the computed "
         "stitches; check the row, or correct the count\n"},
        {"Row 2: Ch 1, (sc, ch 1, sc) in each sc, turn. 20 sc\n"
         "Row 3: Ch 1, sc in sp between next 2 sts, sc in sp between next 2 sts, turn. 2 sc",
         "4 Row 2: 20= 20= 20=\n"
         "5 Row 3: 2= 2= 2=\n",
         "pattern.txt:1:3: note: \"Piece\" leaves 16 places unworked\n"},
        {"Row 2: Ch 1, sc in next 5 sc, pm in last st, sc in next 5 sc, turn. 10 sc\n"
         "Row 3: Ch 1, sc in each st to marked st, ch-3 picot in marked st, sc in each st to end, turn. 9 sc",
         "4 Row 2: 10= 10= 10=\n"
         "5 Row 3: 9= 9= 9=\n",
         ""},
        {"Row 2: Ch 1, sc in next 5 sc, ch 2, pm in ch-2 sp, sc in next 5 sc, turn. 10 sc\n"
         "Row 3: Ch 1, sc in next 5 sc, 2 sc in marked st, sc in next 5 sc, turn. 12 sc",
         "4 Row 2: 10= 10= 10=\n"
         "5 Row 3: 12= 12= 12=\n",
         ""},
        {"Row 2: Join yarn in sp between next 2 sts, ch 1, sc in each sc, turn. 9 sc", "4 Row 2: 9= 9= 9=\n",
         "pattern.txt:1:3: note: \"Piece\" leaves 1 place unworked\n"},
        {"Row 2: Ch 1, sc in next 5 sc, pm in last st, sc in next 5 sc, turn. 10 sc\n"
         "Row 3: Ch 1, sc in each st across, turn. 10 sc\n"
         "Row 4: Ch 1, sc in each st to marked st, 3 sc in marked st, sc in each st across, turn. 12 sc",
         "4 Row 2: 10= 10= 10=\n"
         "5 Row 3: 10= 10= 10=\n"
         "6 Row 4: 12= 12= 12=\n",
         ""},
        {"Row 2: Ch 3, dc in next 9 sc, turn. 10 dc\n"
         "Row 3: Ch 1, sc in each st to top of last tch, 2 sc in top of last tch, turn. 11 sc",
         "4 Row 2: 10= 10= 10=\n"
         "5 Row 3: 11= 11= 11=\n",
         ""},
        {"Row 2: Ch 1, sc in next 2 sc, sk next sc, sc in next 3 sc, sc in each st to skipped st, turn.",
         "4 Row 2: ? ? ?\n", "pattern.txt:4:77: error: no stitch is left to work this into\n"},
        {"Row 2: Ch 1, sc in next 5 sc, ch 1, sk next sc, sc in next 4 sc, turn. 9 sc\n"
         "Row 3: Ch 1, sc in each hdc, 2 sc in next ch-1 sp, turn.",
         "4 Row 2: 9= 9= 9=\n"
         "5 Row 3: ? ? ?\n",
         "pattern.txt:5:20: error: the next place is a sc, not a hdc; skip it by name, or name what is there\n"},
        {"Row 2: Ch 1, 2 sc in next sc, *ch 1, sk next sc, 2 sc in next sc; rep from * to last sc, sk last sc, turn. "
         "10 sc\n"
         "Row 3: Ch 1, *sc in next sp, ch 1; rep from * across, turn.",
         "4 Row 2: 10= 10= 10=\n"
         "5 Row 3: 4 4 4\n",
         ""},
        {"Row 2: Ch 1, *sc in next sc, ch 1, sk next sc; rep from * to last 2 sc, sc in next 2 sc, turn. 6 sc\n"
         "Row 3: Ch 1, *sc in next ch-1 sp, ch 1; rep from *",
         "4 Row 2: 6= 6= 6=\n"
         "5 Row 3: 4 4 4\n",
         ""},
        {"Row 2: Ch 1, sc in next sc, sc in same 2 sts, sc in next 9 sc, turn.", "4 Row 2: ? ? ?\n",
         "pattern.txt:4:40: error: the same place is one, not 2; write in same st for all in one, or in each of next 2 "
         "sts\n"},
    };
    assert_worded("# Piece\n"
                  "With MC and 5 mm hook, ch 11.\n"
                  "Row 1: Sc in 2nd ch from hook and in each ch across, turn. 10 sc\n",
                  "3 Row 1: 10= 10= 10=\n", cases);
}

/* A foundation is worked on both sides. */
static void chains_on_both_sides(void **state)
{
    static const struct worded cases[] = {
        {"ch 7.\n"
         "Rnd 1: Sc in 2nd ch from hook and in next 4 ch, 3 sc in last ch, working along other side of foundation ch, "
         "sc in next 5 ch, join. 13 sc",
         "4 Rnd 1: 13= 13= 13=\n", ""},
        {"ch 7.\n"
         "Rnd 1: Sc in 2nd ch from hook and in each ch across, working along other side of foundation ch, sc in each "
         "ch, join. 12 sc",
         "4 Rnd 1: 12= 12= 12=\n", ""},
        {"ch 2.\n"
         "Rnd 1: Sc in 2nd ch from hook, working along other side of foundation ch, sc in next ch, join. 2 sc",
         "4 Rnd 1: ? ? ?\n", "pattern.txt:4:8: error: there is no foundation chain to work along the other side of\n"},
        {"ch 3.\n"
         "Rnd 1: Sc in 2nd ch from hook, working along other side of foundation ch, sc in next ch, join.",
         "4 Rnd 1: ? ? ?\n", "pattern.txt:4:8: error: there is no foundation chain to work along the other side of\n"},
        {"ch 3.\n"
         "Rnd 1: Sc2tog in 2nd ch from hook and next ch, working along other side of foundation ch, sc in next ch, "
         "join.",
         "4 Rnd 1: ? ? ?\n", "pattern.txt:4:39: error: no stitch is left to work this into\n"},
        {"ch 4.\n"
         "Rnd 1: Sc3tog in 2nd ch from hook, working along other side of foundation ch, sc in next 2 ch, join. 3 sts",
         "4 Rnd 1: 3= 3= 3=\n", "pattern.txt:1:3: note: \"Piece\" leaves 1 place unworked\n"},
    };
    assert_worded("# Piece\n"
                  "With MC and 5 mm hook,\n",
                  "", cases);
}

/* 10 single crochet, and repeats whose last ends at **. */
static void last_repeats_end_early(void **state)
{
    static const struct worded cases[] = {
        {"Row 2: Ch 1, *sc in next 2 sc, ch 1**, sk next sc; rep from * across, ending last rep at **, sc in next 2 "
         "sc, "
         "turn. 8 sc",
         "4 Row 2: 8= 8= 8=\n", ""},
        {"Row 2: Ch 1, *sc in next 2 sc, ch 1**, sk next sc; rep from * across, ending last rep at **, sc in last 2 "
         "sc, "
         "turn. 8 sc",
         "4 Row 2: 8= 8= 8=\n", ""},
        {"Row 2: Ch 1, *sc in next 2 sc, ch 1**, sk next sc; rep from * across, ending last rep at **, sc in next sc, "
         "turn.",
         "4 Row 2: ? ? ?\n", "pattern.txt:4:52: error: 1 stitch remains where this repeat should come out\n"},
        {"Row 2: Ch 1, *sc in next 2 sc, ch 1**, sk next sc; rep from * to last 2 sc, ending last rep at **, sc in "
         "last 2 "
         "sc, turn. 8 sc",
         "4 Row 2: 8= 8= 8=\n", ""},
        {"Row 2: Ch 1, *sc in next sc, ch 1**, sk next sc; rep from * across, ending last rep at **, turn.",
         "4 Row 2: ? ? ?\n", "pattern.txt:4:50: error: 1 stitch remains where this repeat should come out\n"},
        {"Row 2: Ch 1, *sc in next 2 sc; rep from * across, sc in next sc, turn.", "4 Row 2: ? ? ?\n",
         "pattern.txt:4:32: error: 1 stitch remains where this repeat should come out\n"},
    };
    assert_worded("# Piece\n"
                  "With MC and 5 mm hook, ch 11.\n"
                  "Row 1: Sc in 2nd ch from hook and in each ch across, turn. 10 sc\n",
                  "3 Row 1: 10= 10= 10=\n", cases);
}

/* Three shells of 5 between 4 single crochet. */
static void shells(void **state)
{
    static const struct worded cases[] = {
        {"Row 2: Ch 1, sc in next sc, *ch 2, sc in center dc of next shell, ch 2, sc in next sc; rep from * across, "
         "turn. 7 sc",
         "4 Row 2: 7= 7= 7=\n", ""},
        {"Row 2: Ch 1, sc in next sc, sc in center dc of next shell, tr in next tr, turn.", "4 Row 2: ? ? ?\n",
         "pattern.txt:4:66: error: the next place is a sc, not a tr; skip it by name, or name what is there\n"},
        {"Row 2: Ch 1, sc in next sc, sc in center dc of next shell, dc in next dc, turn.", "4 Row 2: 3 3 3\n",
         "pattern.txt:1:3: note: \"Piece\" leaves 14 places unworked\n"},
        {"Row 2: Ch 1, sc in next sc, sc in 2nd dc of next shell, sc in next sc, turn. 3 sc", "4 Row 2: 3= 3= 3=\n",
         "pattern.txt:1:3: note: \"Piece\" leaves 12 places unworked\n"},
        {"Row 2: Ch 1, sc in next sc, sc in 7th dc of next shell, sc in next sc, turn. 3 sc", "4 Row 2: ? ? ?\n",
         "pattern.txt:4:35: error: no place of this kind is left to work into\n"},
        {"Row 2: Ch 1, sc in next sc, sc in next shell, sc in next sc, turn. 3 sc", "4 Row 2: 3= 3= 3=\n",
         "pattern.txt:1:3: note: \"Piece\" leaves 12 places unworked\n"},
    };
    assert_worded("# Piece\n"
                  "With MC and 5 mm hook, ch 20.\n"
                  "Row 1: Sc in 2nd ch from hook, *sk 2 ch, 5 dc in next ch, sk 2 ch, sc in next ch; rep from * "
                  "across, turn. 4 sc, 15 dc\n",
                  "3 Row 1: 19= 19= 19=\n", cases);
}

/* 12 single crochet in rounds. */
static void rounds(void **state)
{
    static const struct worded cases[] = {
        {"Rnd 2: Sl st in same st, ch 1, sc in each sc around, join. 12 sc", "4 Rnd 2: 12= 12= 12=\n", ""},
        {"Rnd 2: Sl st in first st, ch 1, sc in each sc around, join. 12 sc", "4 Rnd 2: 12= 12= 12=\n", ""},
        {"Rnd 2: Sl st in next st, ch 1, sc in same st, sc in each sc around, join. 12 sc", "4 Rnd 2: 12= 12= 12=\n",
         ""},
        {"Rnd 2: Join yarn in next st, ch 1, sc in each sc around, join. 12 sc", "4 Rnd 2: 12= 12= 12=\n", ""},
        {"Rnd 2: Ch 1, *sc in next 2 sc, sk next sc; rep from * around, join. 8 sc", "4 Rnd 2: 8= 8= 8=\n", ""},
        {"Rnd 2: Ch 1, 2 sc in each sc around, join. 24 sc\n"
         "Rnd 3: Ch 1, sc in each sc around, skip last st, join.",
         "4 Rnd 2: 24= 24= 24=\n"
         "5 Rnd 3: 23 23 23\n",
         ""},
        {"Rnd 2: Ch 1, (sc, ch 1) in each sc around, join. 12 sc\n"
         "Rnd 3: Ch 1, sc in each ch-1 sp around, join. 12 sc",
         "4 Rnd 2: 12= 12= 12=\n"
         "5 Rnd 3: 12= 12= 12=\n",
         ""},
        {"Rnd 2: Ch 1, (sc, ch 1) in each sc around, join. 12 sc\n"
         "Rnd 3: Ch 1, sc in each sp between sts around, join. 12 sc",
         "4 Rnd 2: 12= 12= 12=\n"
         "5 Rnd 3: ? ? ?\n",
         "pattern.txt:5:8: error: 12 stitches remain at the end of the row\n"},
        {"Rnd 2: Ch 1, *sc in next sc, ch 2, sk next sc; rep from * to last 2 sc, sc in next 2 sc, join. 7 sc\n"
         "Rnd 3: Ch 1, *sc in next ch-2 sp, ch 2, dc in same st; rep from * around, join. 5 sc, 5 dc",
         "4 Rnd 2: 7= 7= 7=\n"
         "5 Rnd 3: 10= 10= 10=\n",
         ""},
        {"Rnd 2: Ch 1, (sc, ch 1) in each sc around, join. 12 sc\n"
         "Rnd 3: Ch 1, sc in each ch-1 sp around, join with sl st in first ch-1 sp, ch 2. 12 sc",
         "4 Rnd 2: 12= 12= 12=\n"
         "5 Rnd 3: 12= 12= 12=\n",
         ""},
    };
    assert_worded("# Piece\n"
                  "With MC and 5 mm hook, ch 12, join with sl st to form a ring.\n"
                  "Rnd 1: Ch 1, sc in each ch around, join. 12 sc\n",
                  "3 Rnd 1: 12= 12= 12=\n", cases);
}

/* 20 single crochet, every other one with a chain after it. */
static void several_places_have_a_number(void **state)
{
#define NO_NUMBER "the number of these places is not stated; write each st across, or their number: next 3 sts\n"
    static const struct worded cases[] = {
        {"Row 3: Ch 1, sc in sts, turn.", "5 Row 3: ? ? ?\n", "pattern.txt:5:20: error: " NO_NUMBER},
        {"Row 3: Ch 1, sc in next stitches, turn.", "5 Row 3: ? ? ?\n", "pattern.txt:5:25: error: " NO_NUMBER},
        {"Row 3: Ch 1, 2 sc in ch-1 sps, turn.", "5 Row 3: ? ? ?\n", "pattern.txt:5:27: error: " NO_NUMBER},
        {"Row 3: Ch 1, 2 sc in last sps, turn.", "5 Row 3: ? ? ?\n", "pattern.txt:5:27: error: " NO_NUMBER},
        {"Row 3: Ch 1, 2 sc in each ch-1 sp across, turn. 20 sc", "5 Row 3: 20= 20= 20=\n", ""},
        {"Row 3: Ch 1, sc in next 10 ch-1 sps, sc in last st, turn. 11 sc", "5 Row 3: 11= 11= 11=\n", ""},
        {"Row 3: Ch 1, sc in next ten ch-1 sps, sc in last st, turn. 11 sc", "5 Row 3: 11= 11= 11=\n", ""},
    };
    assert_worded(
        "# Piece\nWith MC and 5 mm hook, ch 21.\nRow 1: Sc in 2nd ch from hook and in each ch across, turn. 20 sc\n"
        "Row 2: Ch 1, *sc in next st, ch 1, sk next st; rep from * across, turn. 10 sc\n",
        "3 Row 1: 20= 20= 20=\n4 Row 2: 10= 10= 10=\n", cases);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(markers),
        cmocka_unit_test(several_places_have_a_number),
        cmocka_unit_test(places_of_a_row),
        cmocka_unit_test(chains_on_both_sides),
        cmocka_unit_test(shells),
        cmocka_unit_test(rounds),
        cmocka_unit_test(last_repeats_end_early),
    };
    return cmocka_run_group_tests(tests, catalogue_set_up, catalogue_tear_down);
}
