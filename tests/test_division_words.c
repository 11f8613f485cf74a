/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Words for places of other work, in many wordings after the same rows: the result of each in three sizes, or its
 * refusal. Counts worked by hand; rules of the trade: common practice, no source.
 */
#include "proofed.h"

/* Places of one piece: it has 12 rows of 20 stitches. */
static void places_of_other_work(void **state)
{
    static const struct worded cases[] = {
        {"Row 1: Ch 1, sc in every third row end of front, turn. 4 sc", "7 Row 1: 4= 4= 4=\n", ""},
        {"Row 1: Ch 1, sc in every 3rd row end of front, turn. 4 sc", "7 Row 1: 4= 4= 4=\n", ""},
        {"Row 1: Ch 1, sc in every 2nd row end of front, turn. 6 sc", "7 Row 1: 6= 6= 6=\n", ""},
        {"Row 1: Ch 1, sc in each row end of front, skipping every third row end, turn. 8 sc", "7 Row 1: 8= 8= 8=\n",
         ""},
        {"Row 1: Ch 1, sc in each row end of front, skipping every fourth row end, turn. 9 sc", "7 Row 1: 9= 9= 9=\n",
         ""},
        {"Row 1: Ch 1, sc in each row end of front, skipping every other row end, turn. 6 sc", "7 Row 1: 6= 6= 6=\n",
         ""},
        {"Row 1: Ch 1, sc in each row end of front, skipping every 6th row end, turn. 10 sc", "7 Row 1: 10= 10= 10=\n",
         ""},
        {"Row 1: Ch 1, sc in each row end of front, skipping every 1st row end, turn. 10 sc", "7 Row 1: ? ? ?\n",
         "pattern.txt:7:43: error: \"skipping\" is not understood here; name what is worked: \"sc in each dc around\" "
         "passes over the spaces\n"},
        {"Row 1: Ch 1, sc in each row end of front, skipping every 200th row end, turn. 10 sc", "7 Row 1: ? ? ?\n",
         "pattern.txt:7:43: error: \"skipping\" is not understood here; name what is worked: \"sc in each dc around\" "
         "passes over the spaces\n"},
        {"Row 1: Ch 1, sc in each row end of front, skipping every fifth row end, turn. 10 sc", "7 Row 1: ? ? ?\n",
         "pattern.txt:7:43: error: \"skipping\" is not understood here; name what is worked: \"sc in each dc around\" "
         "passes over the spaces\n"},
        {"Row 1: Ch 1, sc in each row end of front, skipping every 4th stitch, turn. 9 sc", "7 Row 1: ? ? ?\n",
         "pattern.txt:7:43: error: \"skipping\" is not understood here; name what is worked: \"sc in each dc around\" "
         "passes over the spaces\n"},
        {"Row 1: Ch 1, sc in 3 of every 4 row ends of front, turn. 9 sc", "7 Row 1: 9= 9= 9=\n", ""},
        {"Row 1: Ch 1, sc in 2 out of every 3 row ends of front, turn. 8 sc", "7 Row 1: 8= 8= 8=\n", ""},
        {"Row 1: Ch 1, sc in 5 of every 4 row ends of front, turn. 8 sc", "7 Row 1: ? ? ?\n",
         "pattern.txt:7:20: error: in 5 can be read in two ways; write in each of next 5 sts for once in each, or in "
         "next st for all in one\n"},
        {"Row 1: Ch 1, sc in 3 of every 4 sts of front, turn. 8 sc", "7 Row 1: ? ? ?\n",
         "pattern.txt:7:20: error: in 3 can be read in two ways; write in each of next 3 sts for once in each, or in "
         "next st for all in one\n"},
        {"Row 1: Ch 1, sc in 3 of every other row ends of front, turn. 8 sc", "7 Row 1: ? ? ?\n",
         "pattern.txt:7:20: error: in 3 can be read in two ways; write in each of next 3 sts for once in each, or in "
         "next st for all in one\n"},
        {"Row 1: Ch 1, sc in 3 of every 200 row ends of front, turn. 8 sc", "7 Row 1: ? ? ?\n",
         "pattern.txt:7:20: error: in 3 can be read in two ways; write in each of next 3 sts for once in each, or in "
         "next st for all in one\n"},
        {"Row 1: Ch 1, sc in 2 of every 3 every other row ends of front, turn. 8 sc", "7 Row 1: ? ? ?\n",
         "pattern.txt:7:20: error: in 2 can be read in two ways; write in each of next 2 sts for once in each, or in "
         "next st for all in one\n"},
        {"Row 1: Ch 1, sc in end of each row of front, turn. 12 sc", "7 Row 1: 12= 12= 12=\n", ""},
        {"Row 1: Ch 1, sc in the side of every other row of front, turn. 6 sc", "7 Row 1: 6= 6= 6=\n", ""},
        {"Row 1: Ch 1, sc in side of every sc row of front, turn. 12 sc", "7 Row 1: 12= 12= 12=\n", ""},
        {"Row 1: Ch 1, sc in side of next 3 rows of front, turn. 3 sc", "7 Row 1: ? ? ?\n",
         "pattern.txt:7:20: error: \"in side\" names no place; name a stitch and its place: sc in next st, 2 dc in "
         "ch-2 sp, (dc, ch 2) in ring\n"},
        {"Row 1: Ch 1, sc in each row-end of front, turn. 12 sc", "7 Row 1: 12= 12= 12=\n", ""},
        {"Row 1: Ch 1, sc in each row along the side of front, turn. 12 sc", "7 Row 1: 12= 12= 12=\n", ""},
        {"Row 1: Ch 1, sc in each sc row end of front, turn. 12 sc", "7 Row 1: 12= 12= 12=\n", ""},
        {"Row 1: Ch 1, sc in each row end st along front, turn. 12 sc", "7 Row 1: 12= 12= 12=\n", ""},
        {"Row 1: Ch 1, sc in each row end along the left edge, turn. 12 sc", "7 Row 1: 12= 12= 12=\n", ""},
        {"Row 1: Ch 1, sc in each row end down the left side of front, turn. 12 sc", "7 Row 1: 12= 12= 12=\n", ""},
        {"Row 1: Ch 1, sc in each row end down the left side of sleeve, turn. 12 sc", "7 Row 1: ? ? ?\n",
         "pattern.txt:7:52: error: of is not a stitch in US terms; write it in stitches that hankful tables stitches "
         "lists, or write [take as 24 sc] after the row\n"},
        {"Row 1: Ch 1, sc in each row end of frnt, turn. 12 sc", "7 Row 1: ? ? ?\n",
         "pattern.txt:7:36: error: no piece or part has this name; write it as its heading does\n"},
        {"Row 1: Ch 1, sc in each row end of the previous row, turn. 12 sc", "7 Row 1: 12= 12= 12=\n", ""},
        {"Row 1: Ch 1, sc in next 8 row ends of front, turn. 8 sc", "7 Row 1: 8= 8= 8=\n", ""},
        {"Row 1: Ch 1, sc in next 0 (1, 2) row ends of front, sc in next 6 row ends of front, turn. 6 (7, 8) sc",
         "7 Row 1: 6= 7= 8=\n", ""},
        {"Row 1: Ch 1, sc in next 14 row ends of front, turn. 14 sc", "7 Row 1: ? ? ?\n",
         "pattern.txt:7:20: error: 14 row ends are named here, and there are 12\n"},
        {"Row 1: Ch 1, sc in next 30 sts of front, turn. 30 sc", "7 Row 1: ? ? ?\n",
         "pattern.txt:7:20: error: 30 stitches are named here, and there are 20\n"},
        {"Row 1: Ch 1, sc in each held st of front, turn. 20 sc", "7 Row 1: ? ? ?\n",
         "pattern.txt:7:20: error: no unworked stitch is there to work this into; name the piece or part, as its "
         "heading does: unworked sts of back\n"},
        {"Row 1: Ch 1, sc in each free st of front, turn. 20 sc", "7 Row 1: ? ? ?\n",
         "pattern.txt:7:20: error: no unworked stitch is there to work this into; name the piece or part, as its "
         "heading does: unworked sts of back\n"},
        {"Row 1: Ch 1, sc in each unworked st of front, turn. 20 sc", "7 Row 1: ? ? ?\n",
         "pattern.txt:7:20: error: no unworked stitch is there to work this into; name the piece or part, as its "
         "heading does: unworked sts of back\n"},
        {"Row 1: Ch 1, sc in each st of the fronts, turn. 20 sc", "7 Row 1: 20= 20= 20=\n", ""},
        {"Row 1: Ch 1, sc in each st of left front, turn. 20 sc", "7 Row 1: 20= 20= 20=\n", ""},
        {"Row 1: Ch 1, sc in each st of both front, turn. 20 sc", "7 Row 1: 20= 20= 20=\n", ""},
        {"Row 1: Ch 1, sc in each st of front and sleeve, turn. 20 sc", "7 Row 1: ? ? ?\n",
         "pattern.txt:7:41: error: sleeve is not a stitch in US terms; write it in stitches that hankful tables "
         "stitches "
         "lists, or write [take as 24 sc] after the row\n"},
        {"Row 1: Ch 1, sc in each free loop of foundation ch of front, turn. 20 sc", "7 Row 1: 20= 20= 20=\n", ""},
        {"Row 1: Ch 1, sc in each unused lp of the beg ch of front, turn. 20 sc", "7 Row 1: 20= 20= 20=\n", ""},
        {"Row 1: Ch 1, sc in each foundation ch of front, turn. 20 sc", "7 Row 1: 20= 20= 20=\n", ""},
        {"Row 1: Ch 1, sc in each foundation ch edge st of front, turn. 20 sc", "7 Row 1: ? ? ?\n",
         "pattern.txt:7:25: error: foundation is not a stitch in US terms; did you mean \"foundation single "
         "crochet\"?\n"},
        {"Row 1: Ch 1, sc in each foundation ch across, turn. 20 sc", "7 Row 1: ? ? ?\n",
         "pattern.txt:7:25: error: foundation is not a stitch in US terms; did you mean \"foundation single "
         "crochet\"?\n"},
        {"Row 1: Ch 1, sc in each st along edge, turn. 20 sc", "7 Row 1: ? ? ?\n",
         "pattern.txt:7:20: error: no stitch of the edge is there to work this into\n"},
        {"Row 1: Ch 1, sc in each st along the base, turn. 20 sc", "7 Row 1: ? ? ?\n",
         "pattern.txt:7:20: error: no stitch of the edge is there to work this into\n"},
        {"Row 1: Ch 1, sc across front, turn. 20 sc", "7 Row 1: ? ? ?\n",
         "pattern.txt:7:24: error: front is not a stitch in US terms; did you mean \"front post single crochet\"?\n"},
        {"Row 1: Ch 1, sc across the front sts, turn. 20 sc", "7 Row 1: 20= 20= 20=\n", ""},
        {"Row 1: Ch 1, sc across next 8 sts of front, turn. 8 sc", "7 Row 1: 8= 8= 8=\n", ""},
        {"Row 1: Ch 1, sc across the first 8 front sts, turn. 8 sc", "7 Row 1: ? ? ?\n",
         "pattern.txt:7:24: error: the is not a stitch in US terms; write it in stitches that hankful tables stitches "
         "lists, or write [take as 24 sc] after the row\n"},
        {"Row 1: Ch 1, sc across all of the sts of front, turn. 20 sc", "7 Row 1: 20= 20= 20=\n", ""},
        {"Row 1: Ch 1, sc across these 8 sts, turn. 8 sc", "7 Row 1: ? ? ?\n",
         "pattern.txt:7:24: error: these is not a stitch in US terms; write it in stitches that hankful tables "
         "stitches "
         "lists, or write [take as 24 sc] after the row\n"},
        {"Row 1: Ch 1, sc across the reserved front sts, turn. 20 sc", "7 Row 1: ? ? ?\n",
         "pattern.txt:7:24: error: the is not a stitch in US terms; write it in stitches that hankful tables stitches "
         "lists, or write [take as 24 sc] after the row\n"},
        {"Row 1: Ch 1, sc 8 held sts, turn. 8 sc", "7 Row 1: ? ? ?\n",
         "pattern.txt:7:19: error: no stitch is left to work this into\n"},
        {"Row 1: Ch 1, sc in each of next 0 row ends of front, turn. 0 sc", "7 Row 1: ? ? ?\n",
         "pattern.txt:7:33: error: 0 works nothing; leave it out, or write a number from 1\n"},
        {"Row 1: Ch 1, sc2tog in each st of front, turn. 10 sc", "7 Row 1: 10= 10= 10=\n", ""},
        {"Row 1: Ch 1, sc3tog in each st of front, turn. 10 sc", "7 Row 1: ? ? ?\n",
         "pattern.txt:7:14: error: 2 of these places remain\n"},
        {"Row 1: Ch 1, sc in same st of front, turn. 1 sc", "7 Row 1: ? ? ?\n",
         "pattern.txt:7:28: error: of is not a stitch in US terms; write it in stitches that hankful tables stitches "
         "lists, or write [take as 24 sc] after the row\n"},
        {"Row 1: Ch 1, 2 sc in each row end of front, turn. 24 sc", "7 Row 1: 24= 24= 24=\n", ""},
        {"Row 1: Ch 1, (Sc, ch 1) in each row end of front, turn. 12 sc", "7 Row 1: 12= 12= 12=\n", ""},
        {"Row 1: Ch 1, (Sc, ch 1, sc) in each st of front, turn. 40 sc", "7 Row 1: 40= 40= 40=\n", ""},
        {"Row 1: Ch 1, sc in all 12 row ends of front, turn. 12 sc", "7 Row 1: 12= 12= 12=\n", ""},
        {"Row 1: Ch 1, sc evenly along the right front edge, turn. 14 sc", "7 Row 1: ? ? ?\n",
         "pattern.txt:7:17: error: \"evenly\" is not understood here; write where they are worked, such as *k 18, M1; "
         "rep from * to end\n"},
        {"Row 1: Ch 1, 14 sc evenly along the right front edge, turn. 14 sc", "7 Row 1: 14= 14= 14=\n", ""},
        {"Row 1: Ch 1, 1 sc evenly along the edge, turn. 1 sc", "7 Row 1: 1= 1= 1=\n", ""},
        {"Row 1: Ch 1, sk next 4 sts of front, sc in next 10 sts of front, turn. 10 sc", "7 Row 1: 10= 10= 10=\n",
         "pattern.txt:1:3: note: \"Front\" leaves 4 places unworked\n"},
        {"Row 1: Ch 1, sk next 4 row ends of front, sc in next 8 row ends of front, turn. 8 sc", "7 Row 1: 8= 8= 8=\n",
         ""},
        {"Row 1: Ch 1, sk next 40 sts of front, sc in next 10 sts of front, turn. 10 sc", "7 Row 1: ? ? ?\n",
         "pattern.txt:7:17: error: 40 stitches are named here, and there are 20; name the piece whose stitches are "
         "skipped, or skip them before the row: \"Sk next 4 sts of body for underarm.\"\n"},
        {"Row 1: Ch 1, sc in last 4 sts of front, turn. 4 sc", "7 Row 1: 4= 4= 4=\n", ""},
        {"Row 1: Ch 1, sc in first st of front, sc in next 3 sts of front, turn. 4 sc", "7 Row 1: 4= 4= 4=\n", ""},
    };
    assert_worded("# Front\n"
                  "With MC and 5 mm hook, ch 21.\n"
                  "Row 1: Sc in 2nd ch from hook and in each ch across, turn. 20 sc\n"
                  "Rows 2-12: Ch 1, sc in each sc across, turn. 20 sc\n"
                  "# Band\n"
                  "With MC and 5 mm hook, join yarn.\n",
                  "3 Row 1: 20= 20= 20=\n"
                  "4 Rows 2-12: 20= 20= 20=\n",
                  cases);
}

/* Two of them. */
static void two_pieces(void **state)
{
    static const struct worded cases[] = {
        {"Row 1: Ch 1, sc in each st of front and back, turn. 40 sc", "11 Row 1: 40= 40= 40=\n", ""},
        {"Row 1: Ch 1, sc in each row end of front and back, turn. 24 sc", "11 Row 1: 24= 24= 24=\n", ""},
        {"Row 1: Ch 1, sc in each row end of front & back, turn. 24 sc", "11 Row 1: 24= 24= 24=\n", ""},
        {"Row 1: Ch 1, sc through both layers in each row end of front and back, turn. 12 sc",
         "11 Row 1: 12= 12= 12=\n", ""},
        {"Row 1: Ch 1, sc in each row end of front and back through both layers, turn. 12 sc",
         "11 Row 1: 12= 12= 12=\n", ""},
        {"Row 1: Ch 1, sc through front and back in each st, turn. 20 sc", "11 Row 1: 20= 20= 20=\n", ""},
        {"Row 1: Ch 1, sc in each st through front and back, turn. 20 sc", "11 Row 1: 20= 20= 20=\n", ""},
        {"Row 1: Ch 1, sc in each row end through front and back, turn. 12 sc", "11 Row 1: 12= 12= 12=\n", ""},
        {"Row 1: Ch 1, sc through both pieces in each st of front and back, turn. 20 sc", "11 Row 1: 20= 20= 20=\n",
         ""},
        {"Row 1: Ch 1, sl st through both layers in each st of front and back, turn. 20 sl sts",
         "11 Row 1: 20= 20= 20=\n", ""},
        {"Row 1: Ch 1, sc through both thicknesses of front and back in each st, turn. 20 sc",
         "11 Row 1: 20= 20= 20=\n", ""},
        {"Row 1: Ch 1, sc through front in each st, turn. 20 sc", "11 Row 1: ? ? ?\n",
         "pattern.txt:11:17: error: through is not a stitch in US terms; write it in stitches that hankful tables "
         "stitches lists, or write [take as 24 sc] after the row\n"},
        {"Row 1: Ch 1, sc through front and back and front in each st, turn. 20 sc", "11 Row 1: ? ? ?\n",
         "pattern.txt:11:17: error: through is not a stitch in US terms; write it in stitches that hankful tables "
         "stitches lists, or write [take as 24 sc] after the row\n"},
        {"Row 1: Ch 1, sc through loops in each st of front, turn. 20 sc", "11 Row 1: ? ? ?\n",
         "pattern.txt:11:39: error: \"st\" is not understood here; name the stitch, such as sc 3 or k 3\n"},
        {"Row 1: Ch 1, sc in next 4 sts of front, sc in next 4 sts of back, turn. 8 sc", "11 Row 1: 8= 8= 8=\n", ""},
    };
    assert_worded("# Front\n"
                  "With MC and 5 mm hook, ch 21.\n"
                  "Row 1: Sc in 2nd ch from hook and in each ch across, turn. 20 sc\n"
                  "Rows 2-12: Ch 1, sc in each sc across, turn. 20 sc\n"
                  "# Back\n"
                  "With MC and 5 mm hook, ch 21.\n"
                  "Row 1: Sc in 2nd ch from hook and in each ch across, turn. 20 sc\n"
                  "Rows 2-12: Ch 1, sc in each sc across, turn. 20 sc\n"
                  "# Band\n"
                  "With MC and 5 mm hook, join yarn.\n",
                  "3 Row 1: 20= 20= 20=\n"
                  "4 Rows 2-12: 20= 20= 20=\n"
                  "7 Row 1: 20= 20= 20=\n"
                  "8 Rows 2-12: 20= 20= 20=\n",
                  cases);
}

/* 12 rows of 20 stitches and 10 rows of 18. */
static void two_pieces_that_differ(void **state)
{
    static const struct worded cases[] = {
        {"Row 1: Ch 1, sc in each st of front and back, turn. 40 sc", "11 Row 1: 38!40 38!40 38!40\n",
         "pattern.txt:11:53: error: \"Row 1\" states 40 sc, and has 38; the rows below are worked on the computed "
         "stitches; check the row, or correct the count\n"},
        {"Row 1: Ch 1, sc in each row end of front and back, turn. 24 sc", "11 Row 1: 22!24 22!24 22!24\n",
         "pattern.txt:11:58: error: \"Row 1\" states 24 sc, and has 22; the rows below are worked on the computed "
         "stitches; check the row, or correct the count\n"},
        {"Row 1: Ch 1, sc in each row end of front & back, turn. 24 sc", "11 Row 1: 22!24 22!24 22!24\n",
         "pattern.txt:11:56: error: \"Row 1\" states 24 sc, and has 22; the rows below are worked on the computed "
         "stitches; check the row, or correct the count\n"},
        {"Row 1: Ch 1, sc through both layers in each row end of front and back, turn. 12 sc", "11 Row 1: ? ? ?\n",
         "pattern.txt:11:40: error: the two layers have 12 and 10 row ends\n"},
        {"Row 1: Ch 1, sc in each row end of front and back through both layers, turn. 12 sc", "11 Row 1: ? ? ?\n",
         "pattern.txt:11:20: error: the two layers have 12 and 10 row ends\n"},
        {"Row 1: Ch 1, sc through front and back in each st, turn. 20 sc", "11 Row 1: ? ? ?\n",
         "pattern.txt:11:43: error: the two layers have 20 and 18 stitches\n"},
        {"Row 1: Ch 1, sc in each st through front and back, turn. 20 sc", "11 Row 1: ? ? ?\n",
         "pattern.txt:11:20: error: the two layers have 20 and 18 stitches\n"},
        {"Row 1: Ch 1, sc in each row end through front and back, turn. 12 sc", "11 Row 1: ? ? ?\n",
         "pattern.txt:11:20: error: the two layers have 12 and 10 row ends\n"},
        {"Row 1: Ch 1, sc through both pieces in each st of front and back, turn. 20 sc", "11 Row 1: ? ? ?\n",
         "pattern.txt:11:40: error: the two layers have 20 and 18 stitches\n"},
        {"Row 1: Ch 1, sl st through both layers in each st of front and back, turn. 20 sl sts", "11 Row 1: ? ? ?\n",
         "pattern.txt:11:43: error: the two layers have 20 and 18 stitches\n"},
    };
    assert_worded("# Front\n"
                  "With MC and 5 mm hook, ch 21.\n"
                  "Row 1: Sc in 2nd ch from hook and in each ch across, turn. 20 sc\n"
                  "Rows 2-12: Ch 1, sc in each sc across, turn. 20 sc\n"
                  "# Back\n"
                  "With MC and 5 mm hook, ch 19.\n"
                  "Row 1: Sc in 2nd ch from hook and in each ch across, turn. 18 sc\n"
                  "Rows 2-10: Ch 1, sc in each sc across, turn. 18 sc\n"
                  "# Band\n"
                  "With MC and 5 mm hook, join yarn.\n",
                  "3 Row 1: 20= 20= 20=\n"
                  "4 Rows 2-12: 20= 20= 20=\n"
                  "7 Row 1: 18= 18= 18=\n"
                  "8 Rows 2-10: 18= 18= 18=\n",
                  cases);
}

/* 12 rows of 20 stitches. */
static void row_ends_and_single_places(void **state)
{
    static const struct worded cases[] = {
        {"Row 1: Ch 1, sc in next row end of front, sc in same row end, turn. 2 sc", "7 Row 1: 2= 2= 2=\n", ""},
        {"Row 1: Ch 1, sc in next st of front, sc in same st, sc in next 18 sts of front, turn. 20 sc",
         "7 Row 1: 20= 20= 20=\n", ""},
        {"Row 1: Ch 1, sc in next st of front, sc in next st of front, sc in next st of front, sc in next st of front, "
         "sc in next st of front, sc in next st of front, sc in next st of front, sc in next st of front, sc in next "
         "st of front, sc in next 11 sts of front, turn. 20 sc",
         "7 Row 1: 20= 20= 20=\n", ""},
        {"Row 1: Ch 1, sc in each row end of all front, turn. 12 sc", "7 Row 1: 12= 12= 12=\n", ""},
        {"Row 1: Ch 1, sc through both layers in each row end of front, turn. 12 sc", "7 Row 1: 12= 12= 12=\n", ""},
        {"Row 1: Ch 1, sc through both layers in each st of front, turn. 20 sc", "7 Row 1: 20= 20= 20=\n", ""},
        {"Row 1: Ch 1, sc through both layers in next 14 row ends of front and front, turn. 14 sc", "7 Row 1: ? ? ?\n",
         "pattern.txt:7:40: error: 14 row ends are named here, and there are 12\n"},
        {"Row 1: Ch 1, sc in each row end of front and front and front and front and front and front and front and "
         "front and front, turn. 108 sc",
         "7 Row 1: ? ? ?\n",
         "pattern.txt:7:116: error: front is not a stitch in US terms; did you mean \"front post single crochet\"?\n"},
        {"Row 1: Ch 1, sc in 2 of every 3 other row ends of front, turn. 8 sc", "7 Row 1: ? ? ?\n",
         "pattern.txt:7:20: error: in 2 can be read in two ways; write in each of next 2 sts for once in each, or in "
         "next st for all in one\n"},
        {"Row 1: Ch 1, sc in 3 of every 4 held sts of front, turn. 8 sc", "7 Row 1: ? ? ?\n",
         "pattern.txt:7:20: error: in 3 can be read in two ways; write in each of next 3 sts for once in each, or in "
         "next st for all in one\n"},
        {"Row 1: Ch 1, sc in each sc of front, turn. 20 sc", "7 Row 1: 20= 20= 20=\n", ""},
        {"Row 1: Ch 1, sc in each st of fronts, turn. 20 sc", "7 Row 1: 20= 20= 20=\n", ""},
        {"Row 1: Ch 1, sc in each st of frontal, turn. 20 sc", "7 Row 1: ? ? ?\n",
         "pattern.txt:7:28: error: of is not a stitch in US terms; write it in stitches that hankful tables stitches "
         "lists, or write [take as 24 sc] after the row\n"},
        {"Row 1: Ch 1, sc in each st of front2, turn. 20 sc", "7 Row 1: ? ? ?\n",
         "pattern.txt:7:28: error: of is not a stitch in US terms; write it in stitches that hankful tables stitches "
         "lists, or write [take as 24 sc] after the row\n"},
        {"Row 1: Ch 1, sc in each st along edge of front, turn. 20 sc", "7 Row 1: 20= 20= 20=\n", ""},
        {"Row 1: Ch 1, sc in each st along the edge row, turn. 20 sc", "7 Row 1: ? ? ?\n",
         "pattern.txt:7:43: error: \"row\" is not understood here; leave the row's number out here: it stands before "
         "the colon, or in a column of its own\n"},
        {"Row 1: Ch 1, sc across next 0 sts of front, turn. 0 sc", "7 Row 1: ? ? ?\n",
         "pattern.txt:7:29: error: 0 works nothing; leave it out, or write a number from 1\n"},
        {"Row 1: Ch 1, sc in next 1 row ends of front, turn. 1 sc", "7 Row 1: 1= 1= 1=\n", ""},
        {"Row 1: Ch 1, sl st in next st of front, sc in next 19 sts of front, turn. 19 sc", "7 Row 1: 20= 20= 20=\n",
         ""},
        {"Row 1: Ch 1, sc in next 1 held st, turn. 1 sc", "7 Row 1: ? ? ?\n",
         "pattern.txt:7:20: error: no stitch is left to work this into\n"},
        {"Row 1: Ch 1, sc in each of 30 row ends of front, turn. 30 sc", "7 Row 1: ? ? ?\n",
         "pattern.txt:7:20: error: 30 row ends are named here, and there are 12\n"},
        {"Row 1: Join yarn with sl st in first st of front, ch 1, sc in same st and in next 19 sts. 20 sc",
         "7 Row 1: ? ? ?\n", "pattern.txt:7:32: error: no stitch is left to work this into\n"},
        {"Row 1: Join yarn with sl st in first row end of front, ch 1, sc in each row end of front. 12 sc",
         "7 Row 1: ? ? ?\n", "pattern.txt:7:32: error: no stitch is left to work this into\n"},
        {"Row 1: Ch 1, sc in each st. 20 sc", "7 Row 1: ? ? ?\n",
         "pattern.txt:7:1: error: how many stitches this is worked on is not known; name what it is worked into, such "
         "as each row end of back, or write \"On an edge of 40 sts:\" before it\n"},
        {"Row 1: Ch 1, *sc in next st of front, ch 1; rep from * 9 times more, turn. 10 sc", "7 Row 1: 10= 10= 10=\n",
         ""},
        {"Row 1: Ch 1, *sc in next st of frnt, ch 1; rep from * 9 times more, turn. 10 sc", "7 Row 1: ? ? ?\n",
         "pattern.txt:7:29: error: of is not a stitch in US terms; write it in stitches that hankful tables stitches "
         "lists, or write [take as 24 sc] after the row\n"},
        {"Row 1: Ch 1, [sc in next row end of front] 4 times, turn. 4 sc", "7 Row 1: 4= 4= 4=\n", ""},
        {"Row 1: Ch 1, sc in each held st of all front, turn. 1 sc", "7 Row 1: ? ? ?\n",
         "pattern.txt:7:20: error: no unworked stitch is there to work this into; name the piece or part, as its "
         "heading does: unworked sts of back\n"},
        {"Row 1: Ch 1, sc in end of row of front, turn. 1 sc", "7 Row 1: 1= 1= 1=\n", ""},
    };
    assert_worded("# Front\n"
                  "With MC and 5 mm hook, ch 21.\n"
                  "Row 1: Sc in 2nd ch from hook and in each ch across, turn. 20 sc\n"
                  "Rows 2-12: Ch 1, sc in each sc across, turn. 20 sc\n"
                  "# Band\n"
                  "With MC and 5 mm hook, join yarn.\n",
                  "3 Row 1: 20= 20= 20=\n"
                  "4 Rows 2-12: 20= 20= 20=\n",
                  cases);
}

/* Two sides of a neck on 40 stitches. */
static void parts_side_by_side(void **state)
{
    static const struct worded cases[] = {
        {"Row 1: K 1 in each row end of back. 13 sts", "14 Row 1: ? ? ?\n",
         "pattern.txt:1:3: note: \"Back\" leaves 16 places unworked\n"
         "pattern.txt:14:15: error: some of its rows are worked side by side: name the edge; name "
         "the part, or write how many row ends: in each of next 44 row ends of back\n"},
        {"Row 1: Pick up and knit 1 st in each row end of back. 13 sts", "14 Row 1: ? ? ?\n",
         "pattern.txt:1:3: note: \"Back\" leaves 16 places unworked\n"
         "pattern.txt:14:33: error: some of its rows are worked side by side: name the edge; name "
         "the part, or write how many row ends: in each of next 44 row ends of back\n"},
        {"Row 1: Pick up and knit 1 st in each row end of right side. 4 sts", "14 Row 1: 4= 4= 4=\n",
         "pattern.txt:1:3: note: \"Back\" leaves 16 places unworked\n"},
        {"Row 1: Pick up and knit 1 st in each row end of left side. 6 sts", "14 Row 1: 6= 6= 6=\n",
         "pattern.txt:1:3: note: \"Back\" leaves 16 places unworked\n"},
        {"Row 1: Pick up and knit 1 st in each of next 8 row ends of back. 8 sts", "14 Row 1: ? ? ?\n",
         "pattern.txt:1:3: note: \"Back\" leaves 16 places unworked\n"
         "pattern.txt:14:48: error: \"row\" is not understood here; leave the row's number out here: it stands before "
         "the colon, or in a column of its own\n"},
        {"Row 1: Pick up and knit 3 sts for every 4 rows of left side. 5 sts", "14 Row 1: 5= 5= 5=\n",
         "pattern.txt:1:3: note: \"Back\" leaves 16 places unworked\n"},
        {"Row 1: K16 unworked sts of back. 16 sts", "14 Row 1: ? ? ?\n",
         "pattern.txt:1:3: note: \"Back\" leaves 16 places unworked\n"
         "pattern.txt:14:12: error: unworked is not a stitch in US terms; write it in stitches that hankful tables "
         "stitches lists, or write [take as 24 sc] after the row\n"},
    };
    assert_worded("# Back\n"
                  "With MC and 5 mm needles, cast on 40 sts.\n"
                  "Rows 1-4: K. 40 sts\n"
                  "Right side:\n"
                  "Work on the first 12 sts only:\n"
                  "Rows 5-8: K. 12 sts\n"
                  "Bind off.\n"
                  "Left side:\n"
                  "Work on the last 12 sts only:\n"
                  "Rows 5-10: K. 12 sts\n"
                  "Bind off.\n"
                  "# Band\n"
                  "With MC and 5 mm needles, join yarn.\n",
                  "3 Rows 1-4: 40= 40= 40=\n"
                  "6 Rows 5-8: 12= 12= 12=\n"
                  "7 : 0 0 0\n"
                  "10 Rows 5-10: 12= 12= 12=\n"
                  "11 : 0 0 0\n",
                  cases);
}

/* Two motifs, of 4 rows of 10 stitches each. */
static void copies_of_a_motif(void **state)
{
    static const struct worded cases[] = {
        {"Row 1: Ch 1, sc in each st of motif, turn. 10 sc", "7 Row 1: 10= 10= 10=\n", ""},
        {"Row 1: Ch 1, sc in each st of all motifs, turn. 20 sc", "7 Row 1: 20= 20= 20=\n", ""},
        {"Row 1: Ch 1, sc in each row end of all motifs, turn. 8 sc", "7 Row 1: 8= 8= 8=\n", ""},
        {"Row 1: Ch 1, sc in each row end of motif, turn. 4 sc", "7 Row 1: 4= 4= 4=\n", ""},
        {"Row 1: Ch 1, sc in each st of both motifs, turn. 20 sc", "7 Row 1: 20= 20= 20=\n", ""},
        {"Row 1: Ch 1, sc in next 10 sts of motif, ch 1, sc in next 10 sts of motif, turn. 20 sc",
         "7 Row 1: 20= 20= 20=\n", ""},
        {"Row 1: Ch 1, sc in next 10 sts of motif, sc in next 11 sts of motif, turn. 21 sc", "7 Row 1: ? ? ?\n",
         "pattern.txt:7:48: error: 11 stitches are named here, and there are 10\n"},
        {"Row 1: Ch 1, sc in next 11 sts of motif, turn. 11 sc", "7 Row 1: 11= 11= 11=\n", ""},
        {"Row 1: Ch 1, sc in next 25 sts of motif, turn. 25 sc", "7 Row 1: ? ? ?\n",
         "pattern.txt:7:20: error: 25 stitches are named here, and there are 20\n"},
        {"Row 1: Ch 1, sc through both layers in each st of motif, turn. 10 sc", "7 Row 1: 10= 10= 10=\n", ""},
    };
    assert_worded("# Motif (make 2)\n"
                  "With MC and 5 mm hook, ch 11.\n"
                  "Row 1: Sc in 2nd ch from hook and in each ch across, turn. 10 sc\n"
                  "Rows 2-4: Ch 1, sc in each sc across, turn. 10 sc\n"
                  "# Band\n"
                  "With MC and 5 mm hook, join yarn.\n",
                  "3 Row 1: 10= 10= 10=\n"
                  "4 Rows 2-4: 10= 10= 10=\n",
                  cases);
}

/* The heel flap has 10 stitches, and 10 wait. */
static void first_words_of_headings(void **state)
{
    static const struct worded cases[] = {
        {"Row 1: K across heel sts. 10 sts", "7 Row 1: 10= 10= 10=\n",
         "pattern.txt:1:3: note: \"Heel flap\" leaves 10 places unworked: instep\n"},
        {"Row 1: K across heel held sts. 10 sts", "7 Row 1: 10= 10= 10=\n", ""},
        {"Row 1: K across held instep sts. 10 sts", "7 Row 1: 10= 10= 10=\n", ""},
        {"Row 1: K across held left instep sts. 10 sts", "7 Row 1: 10= 10= 10=\n", ""},
        {"Row 1: K across held very long instep sts. 10 sts", "7 Row 1: ? ? ?\n",
         "pattern.txt:1:3: note: \"Heel flap\" leaves 10 places unworked: instep\n"
         "pattern.txt:7:17: error: held is not a stitch in US terms; write it in stitches that hankful tables stitches "
         "lists, or write [take as 24 sc] after the row\n"},
        {"Row 1: K across held 10. 10 sts", "7 Row 1: ? ? ?\n",
         "pattern.txt:1:3: note: \"Heel flap\" leaves 10 places unworked: instep\n"
         "pattern.txt:7:17: error: held is not a stitch in US terms; write it in stitches that hankful tables stitches "
         "lists, or write [take as 24 sc] after the row\n"},
        {"Row 1: K across toe sts. 10 sts", "7 Row 1: ? ? ?\n",
         "pattern.txt:1:3: note: \"Heel flap\" leaves 10 places unworked: instep\n"
         "pattern.txt:7:17: error: toe is not a stitch in US terms; write it in stitches that hankful tables stitches "
         "lists, or write [take as 24 sc] after the row\n"},
        {"Row 1: K across right heel sts. 10 sts", "7 Row 1: ? ? ?\n",
         "pattern.txt:1:3: note: \"Heel flap\" leaves 10 places unworked: instep\n"
         "pattern.txt:7:17: error: right is not a stitch in US terms; did you mean \"right lifted increase\"?\n"},
        {"Row 1: K10 heel sts. 10 sts", "7 Row 1: 10= 10= 10=\n",
         "pattern.txt:1:3: note: \"Heel flap\" leaves 10 places unworked: instep\n"},
        {"Row 1: K across 10 sts. 10 sts", "7 Row 1: ? ? ?\n",
         "pattern.txt:1:3: note: \"Heel flap\" leaves 10 places unworked: instep\n"
         "pattern.txt:7:1: error: how many stitches this is worked on is not known; name what it is worked into, such "
         "as each row end of back, or write \"On an edge of 40 sts:\" before it\n"},
        {"Row 1: K across hee sts. 10 sts", "7 Row 1: ? ? ?\n",
         "pattern.txt:1:3: note: \"Heel flap\" leaves 10 places unworked: instep\n"
         "pattern.txt:7:17: error: hee is not a stitch in US terms; write it in stitches that hankful tables stitches "
         "lists, or write [take as 24 sc] after the row\n"},
    };
    assert_worded("# Heel flap\n"
                  "With MC and 5 mm needles, cast on 20 sts.\n"
                  "Rows 1-4: K. 20 sts\n"
                  "Row 5: K5, place next 10 sts on hold for instep, k5. 10 sts\n"
                  "# Foot\n"
                  "With MC and 5 mm needles, join yarn.\n",
                  "3 Rows 1-4: 20= 20= 20=\n"
                  "4 Row 5: 10= 10= 10=\n",
                  cases);
}

/* Heel flap and heel turn. */
static void first_words_of_two_headings(void **state)
{
    static const struct worded cases[] = {
        {"Row 1: K across heel sts. 10 sts", "10 Row 1: ? ? ?\n",
         "pattern.txt:1:3: note: \"Heel flap\" leaves 10 places unworked: instep\n"
         "pattern.txt:10:17: error: heel is not a stitch in US terms; write it in stitches that hankful tables "
         "stitches "
         "lists, or write [take as 24 sc] after the row\n"},
        {"Row 1: K across heel turn sts. 8 sts", "10 Row 1: 8= 8= 8=\n",
         "pattern.txt:1:3: note: \"Heel flap\" leaves 10 places unworked: instep\n"},
    };
    assert_worded("# Heel flap\n"
                  "With MC and 5 mm needles, cast on 20 sts.\n"
                  "Rows 1-4: K. 20 sts\n"
                  "Row 5: K5, place next 10 sts on hold for instep, k5. 10 sts\n"
                  "# Heel turn\n"
                  "With MC and 5 mm needles, cast on 8 sts.\n"
                  "Row 1: K. 8 sts\n"
                  "# Foot\n"
                  "With MC and 5 mm needles, join yarn.\n",
                  "3 Rows 1-4: 20= 20= 20=\n"
                  "4 Row 5: 10= 10= 10=\n"
                  "7 Row 1: 8= 8= 8=\n",
                  cases);
}

/* Front of 20 stitches, front band of 6. */
static void the_longest_heading(void **state)
{
    static const struct worded cases[] = {
        {"Row 1: Ch 1, sc in each st of front, turn. 20 sc", "9 Row 1: 20= 20= 20=\n", ""},
        {"Row 1: Ch 1, sc in each st of front band, turn. 6 sc", "9 Row 1: 6= 6= 6=\n", ""},
        {"Row 1: Ch 1, sc in each st of front bands, turn. 6 sc", "9 Row 1: 6= 6= 6=\n", ""},
        {"Row 1: Ch 1, sc in each st of front and front band, turn. 26 sc", "9 Row 1: 26= 26= 26=\n", ""},
        {"# Bs\n"
         "With MC and 5 mm hook, ch 5.\n"
         "Row 1: Sc in 2nd ch from hook and in each ch across, turn. 4 sc\n"
         "# Front\n"
         "With MC and 5 mm hook, join yarn.\n"
         "Row 1: Ch 1, sc in each st of b, turn. 4 sc",
         "11 Row 1: 4= 4= 4=\n"
         "14 Row 1: ? ? ?\n",
         "pattern.txt:14:28: error: of is not a stitch in US terms; write it in stitches that hankful tables stitches "
         "lists, or write [take as 24 sc] after the row\n"},
        {"# Rim\n"
         "With MC and 5 mm hook, join yarn.\n"
         "Row 1: Ch 1, sc in each st of bs, turn. 4 sc\n"
         "# Bs\n"
         "With MC and 5 mm hook, ch 5.\n"
         "Row 1: Sc in 2nd ch from hook and in each ch across, turn. 4 sc",
         "11 Row 1: ? ? ?\n"
         "14 Row 1: 4= 4= 4=\n",
         "pattern.txt:11:1: error: Bs is worked below, in line 13; move what is worked on it below it\n"},
    };
    assert_worded("# Front\n"
                  "With MC and 5 mm hook, ch 21.\n"
                  "Row 1: Sc in 2nd ch from hook and in each ch across, turn. 20 sc\n"
                  "# Front band\n"
                  "With MC and 5 mm hook, ch 7.\n"
                  "Row 1: Sc in 2nd ch from hook and in each ch across, turn. 6 sc\n"
                  "# Edge\n"
                  "With MC and 5 mm hook, join yarn.\n",
                  "3 Row 1: 20= 20= 20=\n"
                  "6 Row 1: 6= 6= 6=\n",
                  cases);
}

/* Front band of 6, then front of 20 stitches. */
static void headings_in_another_order(void **state)
{
    static const struct worded cases[] = {
        {"Row 1: Ch 1, sc in each st of front band, turn. 6 sc", "9 Row 1: 6= 6= 6=\n", ""},
        {"Row 1: Ch 1, sc in each st of front, turn. 20 sc", "9 Row 1: 20= 20= 20=\n", ""},
        {"Row 1: Ch 1, sc in each st of front band and front, turn. 26 sc", "9 Row 1: 26= 26= 26=\n", ""},
    };
    assert_worded("# Front band\n"
                  "With MC and 5 mm hook, ch 7.\n"
                  "Row 1: Sc in 2nd ch from hook and in each ch across, turn. 6 sc\n"
                  "# Front\n"
                  "With MC and 5 mm hook, ch 21.\n"
                  "Row 1: Sc in 2nd ch from hook and in each ch across, turn. 20 sc\n"
                  "# Edge\n"
                  "With MC and 5 mm hook, join yarn.\n",
                  "3 Row 1: 6= 6= 6=\n"
                  "6 Row 1: 20= 20= 20=\n",
                  cases);
}

/* Row ends without other work. */
static void nothing_above(void **state)
{
    static const struct worded cases[] = {
        {"Row 1: Ch 1, sc in each row end, turn. 20 sc", "3 Row 1: ? ? ?\n",
         "pattern.txt:3:20: error: no row end is there to work this into; name a piece that is worked in rows above "
         "it, as its heading does: row ends of back\n"},
        {"Row 1: Ch 1, sc in each row end of band, turn. 20 sc", "3 Row 1: ? ? ?\n",
         "pattern.txt:3:20: error: no row end is there to work this into; name a piece that is worked in rows above "
         "it, as its heading does: row ends of back\n"},
        {"Row 1: Ch 1, sc in each row end of front, turn. 20 sc\n"
         "# Front",
         "3 Row 1: ? ? ?\n", "pattern.txt:3:36: error: no piece or part has this name; write it as its heading does\n"},
        {"Row 1: Ch 1, sc in each row end of front, turn. 20 sc\n"
         "# Front\n"
         "With MC and 5 mm hook, ch 21.\n"
         "Row 1: Sc in 2nd ch from hook and in each ch across, turn. 20 sc",
         "3 Row 1: ? ? ?\n"
         "6 Row 1: 20= 20= 20=\n",
         "pattern.txt:3:1: error: Front is worked below, in line 5; move what is worked on it below it\n"},
        {"Row 1: Ch 1, *sc in next row end of front; rep from * 3 times more, turn. 4 sc\n"
         "# Front\n"
         "With MC and 5 mm hook, ch 21.\n"
         "Row 1: Sc in 2nd ch from hook and in each ch across, turn. 20 sc",
         "3 Row 1: ? ? ?\n"
         "6 Row 1: 20= 20= 20=\n",
         "pattern.txt:3:1: error: Front is worked below, in line 5; move what is worked on it below it\n"},
        {"Row 1: Ch 1, sc in each st of front, turn. 20 sc\n"
         "# Front\n"
         "With MC and 5 mm hook, join yarn.\n"
         "Row 1: Ch 1, sc in each st of collar, turn. 20 sc\n"
         "Row 2: Wobble.\n"
         "# Collar\n"
         "With MC and 5 mm hook, join yarn.\n"
         "Row 1: Ch 1, *sc in next st of band; rep from * 19 times more, turn. 20 sc",
         "3 Row 1: ? ? ?\n"
         "6 Row 1: ? ? ?\n"
         "7 Row 2: ? ? ?\n"
         "10 Row 1: ? ? ?\n",
         "pattern.txt:3:1: error: these are worked on one another in a circle: Band (line 2) -> Front (line 5) -> "
         "Collar (line 9) -> Band; let one of them begin on chains, a cast-on or \"On an edge of 20 sts:\"\n"
         "pattern.txt:6:1: error: Collar is worked below, in line 9; move what is worked on it below it\n"
         "pattern.txt:7:8: error: Wobble is not a stitch in US terms; did you mean \"bobble\"?\n"
         "pattern.txt:10:21: error: no stitch is there to work this into\n"},
        {"Row 1: Ch 1, sc in each st of front, turn. 20 sc\n"
         "# Front\n"
         "With MC and 5 mm hook, join yarn.\n"
         "Row 1: Ch 1, sc in each st of collar, turn. 20 sc\n"
         "# Collar\n"
         "With MC and 5 mm hook, join yarn.\n"
         "Row 1: Ch 1, sc in each st of front, turn. 20 sc",
         "3 Row 1: ? ? ?\n"
         "6 Row 1: ? ? ?\n"
         "9 Row 1: ? ? ?\n",
         "pattern.txt:3:1: error: Front is worked below, in line 5; move what is worked on it below it\n"
         "pattern.txt:6:1: error: these are worked on one another in a circle: Front (line 5) -> Collar (line 8) -> "
         "Front; let one of them begin on chains, a cast-on or \"On an edge of 20 sts:\"\n"
         "pattern.txt:9:20: error: no stitch is there to work this into\n"},
        {"Row 1: Ch 1, sc in each st of p1, turn. 20 sc\n"
         "# P1\n"
         "With MC and 5 mm hook, join yarn.\n"
         "Row 1: Ch 1, sc in each st of p2, turn. 20 sc\n"
         "# P2\n"
         "With MC and 5 mm hook, join yarn.\n"
         "Row 1: Ch 1, sc in each st of p3, turn. 20 sc\n"
         "# P3\n"
         "With MC and 5 mm hook, join yarn.\n"
         "Row 1: Ch 1, sc in each st of p4, turn. 20 sc\n"
         "# P4\n"
         "With MC and 5 mm hook, join yarn.\n"
         "Row 1: Ch 1, sc in each st of p5, turn. 20 sc\n"
         "# P5\n"
         "With MC and 5 mm hook, join yarn.\n"
         "Row 1: Ch 1, sc in each st of p6, turn. 20 sc\n"
         "# P6\n"
         "With MC and 5 mm hook, join yarn.\n"
         "Row 1: Ch 1, sc in each st of p7, turn. 20 sc\n"
         "# P7\n"
         "With MC and 5 mm hook, join yarn.\n"
         "Row 1: Ch 1, sc in each st of p8, turn. 20 sc\n"
         "# P8\n"
         "With MC and 5 mm hook, join yarn.\n"
         "Row 1: Ch 1, sc in each st of p9, turn. 20 sc\n"
         "# P9\n"
         "With MC and 5 mm hook, join yarn.\n"
         "Row 1: Ch 1, sc in each st of band, turn. 20 sc",
         "3 Row 1: ? ? ?\n"
         "6 Row 1: ? ? ?\n"
         "9 Row 1: ? ? ?\n"
         "12 Row 1: ? ? ?\n"
         "15 Row 1: ? ? ?\n"
         "18 Row 1: ? ? ?\n"
         "21 Row 1: ? ? ?\n"
         "24 Row 1: ? ? ?\n"
         "27 Row 1: ? ? ?\n"
         "30 Row 1: ? ? ?\n",
         "pattern.txt:3:1: error: P1 is worked below, in line 5; move what is worked on it below it\n"
         "pattern.txt:6:1: error: P2 is worked below, in line 8; move what is worked on it below it\n"
         "pattern.txt:9:1: error: P3 is worked below, in line 11; move what is worked on it below it\n"
         "pattern.txt:12:1: error: P4 is worked below, in line 14; move what is worked on it below it\n"
         "pattern.txt:15:1: error: P5 is worked below, in line 17; move what is worked on it below it\n"
         "pattern.txt:18:1: error: P6 is worked below, in line 20; move what is worked on it below it\n"
         "pattern.txt:21:1: error: P7 is worked below, in line 23; move what is worked on it below it\n"
         "pattern.txt:24:1: error: P8 is worked below, in line 26; move what is worked on it below it\n"
         "pattern.txt:27:1: error: P9 is worked below, in line 29; move what is worked on it below it\n"
         "pattern.txt:30:20: error: no stitch is there to work this into\n"},
        {"Row 1: Ch 1, sc in each st of pa, turn. 20 sc\n"
         "# Pa\n"
         "With MC and 5 mm hook, join yarn.\n"
         "Row 1: Ch 1, sc in each st of pb, turn. 20 sc\n"
         "# Pb\n"
         "With MC and 5 mm hook, join yarn.\n"
         "Row 1: Ch 1, sc in each st of pc, turn. 20 sc\n"
         "# Pc\n"
         "With MC and 5 mm hook, join yarn.\n"
         "Row 1: Ch 1, sc in each st of pd, turn. 20 sc\n"
         "# Pd\n"
         "With MC and 5 mm hook, join yarn.\n"
         "Row 1: Ch 1, sc in each st of pe, turn. 20 sc\n"
         "# Pe\n"
         "With MC and 5 mm hook, join yarn.\n"
         "Row 1: Ch 1, sc in each st of pf, turn. 20 sc\n"
         "# Pf\n"
         "With MC and 5 mm hook, join yarn.\n"
         "Row 1: Ch 1, sc in each st of pg, turn. 20 sc\n"
         "# Pg\n"
         "With MC and 5 mm hook, join yarn.\n"
         "Row 1: Ch 1, sc in each st of ph, turn. 20 sc\n"
         "# Ph\n"
         "With MC and 5 mm hook, join yarn.\n"
         "Row 1: Ch 1, sc in each st of pi, turn. 20 sc\n"
         "# Pi\n"
         "With MC and 5 mm hook, join yarn.\n"
         "Row 1: Ch 1, sc in each st of pj, turn. 20 sc\n"
         "# Pj\n"
         "With MC and 5 mm hook, join yarn.\n"
         "Row 1: Ch 1, sc in each st of band, turn. 20 sc",
         "3 Row 1: ? ? ?\n"
         "6 Row 1: ? ? ?\n"
         "9 Row 1: ? ? ?\n"
         "12 Row 1: ? ? ?\n"
         "15 Row 1: ? ? ?\n"
         "18 Row 1: ? ? ?\n"
         "21 Row 1: ? ? ?\n"
         "24 Row 1: ? ? ?\n"
         "27 Row 1: ? ? ?\n"
         "30 Row 1: ? ? ?\n"
         "33 Row 1: ? ? ?\n",
         "pattern.txt:3:1: error: Pa is worked below, in line 5; move what is worked on it below it\n"
         "pattern.txt:6:1: error: Pb is worked below, in line 8; move what is worked on it below it\n"
         "pattern.txt:9:1: error: Pc is worked below, in line 11; move what is worked on it below it\n"
         "pattern.txt:12:1: error: Pd is worked below, in line 14; move what is worked on it below it\n"
         "pattern.txt:15:1: error: Pe is worked below, in line 17; move what is worked on it below it\n"
         "pattern.txt:18:1: error: Pf is worked below, in line 20; move what is worked on it below it\n"
         "pattern.txt:21:1: error: Pg is worked below, in line 23; move what is worked on it below it\n"
         "pattern.txt:24:1: error: Ph is worked below, in line 26; move what is worked on it below it\n"
         "pattern.txt:27:1: error: Pi is worked below, in line 29; move what is worked on it below it\n"
         "pattern.txt:30:1: error: Pj is worked below, in line 32; move what is worked on it below it\n"
         "pattern.txt:33:20: error: no stitch is there to work this into\n"},
        {"Row 1: Ch 1, sc in each st of pa, turn. 20 sc\n"
         "# Pa\n"
         "With MC and 5 mm hook, join yarn.\n"
         "Row 1: Ch 1, sc in each st of pb, turn. 20 sc\n"
         "# Pb\n"
         "With MC and 5 mm hook, join yarn.\n"
         "Row 1: Ch 1, sc in each st of pc, turn. 20 sc\n"
         "# Pc\n"
         "With MC and 5 mm hook, join yarn.\n"
         "Row 1: Ch 1, sc in each st of pd, turn. 20 sc\n"
         "# Pd\n"
         "With MC and 5 mm hook, join yarn.\n"
         "Row 1: Ch 1, sc in each st of pe, turn. 20 sc\n"
         "# Pe\n"
         "With MC and 5 mm hook, join yarn.\n"
         "Row 1: Ch 1, sc in each st of pf, turn. 20 sc\n"
         "# Pf\n"
         "With MC and 5 mm hook, join yarn.\n"
         "Row 1: Ch 1, sc in each st of pg, turn. 20 sc\n"
         "# Pg\n"
         "With MC and 5 mm hook, join yarn.\n"
         "Row 1: Ch 1, sc in each st of band, turn. 20 sc",
         "3 Row 1: ? ? ?\n"
         "6 Row 1: ? ? ?\n"
         "9 Row 1: ? ? ?\n"
         "12 Row 1: ? ? ?\n"
         "15 Row 1: ? ? ?\n"
         "18 Row 1: ? ? ?\n"
         "21 Row 1: ? ? ?\n"
         "24 Row 1: ? ? ?\n",
         "pattern.txt:3:1: error: these are worked on one another in a circle: Band (line 2) -> Pa (line 5) -> Pb "
         "(line 8) -> Pc (line 11) -> Pd (line 14) -> Pe (line 17) -> Pf (line 20) -> Pg (line 23) -> Band; let one of "
         "them begin on chains, a cast-on or \"On an edge of 20 sts:\"\n"
         "pattern.txt:6:1: error: Pb is worked below, in line 8; move what is worked on it below it\n"
         "pattern.txt:9:1: error: Pc is worked below, in line 11; move what is worked on it below it\n"
         "pattern.txt:12:1: error: Pd is worked below, in line 14; move what is worked on it below it\n"
         "pattern.txt:15:1: error: Pe is worked below, in line 17; move what is worked on it below it\n"
         "pattern.txt:18:1: error: Pf is worked below, in line 20; move what is worked on it below it\n"
         "pattern.txt:21:1: error: Pg is worked below, in line 23; move what is worked on it below it\n"
         "pattern.txt:24:20: error: no stitch is there to work this into\n"},
    };
    assert_worded("# Band\n"
                  "With MC and 5 mm hook, join yarn.\n",
                  "", cases);
}

/*
 * A count after stitches that are picked up beside held ones is the sum of both, and the sentence between them is not a
 * row.
 */
static void held_stitches_are_joined_to_a_round(void **state)
{
    static const struct worded cases[] = {
        {"Place 10 held sts on needles. Pick up and knit 2 sts at underarm. Join to work in the round. 12 sts\nRnd 1: "
         "K. 12 sts",
         "7 Rnd 1: 12= 12= 12=\n", ""},
        {"Place 10 held sts on needles. Pick up and knit 2 sts at underarm. Pm and join in the round.\nRnd 1: K. 12 "
         "sts",
         "7 Rnd 1: 12= 12= 12=\n", ""},
    };
    assert_worded(
        "# Yoke\nWith MC and 5 mm needles, cast on 40 sts. Join to work in the round.\nRnd 1: K.\n"
        "Rnd 2: K10, place next 10 sts on hold for sleeve, cast on 2 sts for underarm, k20. 32 sts\n# Sleeve\n",
        "3 Rnd 1: 40 40 40\n4 Rnd 2: 32= 32= 32=\n", cases);
}

/* Two double crochet, the first a chain, and eight single crochet. */
static void kinds_and_counts_of_what_is_picked_up(void **state)
{
    static const struct worded cases[] = {
        {"Row 1: Ch 1, sc in each dc of front, turn.", "6 Row 1: ? ? ?\n",
         "pattern.txt:6:20: error: not all of these stitches are dc: there is a sc; write st for all of them, or how "
         "many are "
         "worked and skipped in turn\n"},
        {"Row 1: Ch 1, sc in each st of front, turn. 10 sc", "6 Row 1: 10= 10= 10=\n", ""},
        {"Row 1: Ch 1, sc in each st of front, turn.\n# Second band\nWith MC and 5 mm hook,\nRow 1: Ch 1, dc in each "
         "sc of band, "
         "turn. 10 dc",
         "6 Row 1: 10 10 10\n9 Row 1: 10= 10= 10=\n", ""},
        {"Row 1: Pick up and knit 20 (22, 24) sts along the edge of front. 20 (22, 24) sts\nRow 2: K.",
         "6 Row 1: 20= 22= 24=\n7 Row 2: 20 22 24\n", ""},
        {"Row 1: Pick up and knit 20 (22, 24) sts along the edge of front. 20 (22, 26) sts", "6 Row 1: 20= 22= 24!26\n",
         "pattern.txt:6:66: error: \"Row 1\" states 20 (22, 26) sts, and has 20 (22, 24) (size L); the rows below are "
         "worked on the computed stitches; check the row, or correct the count\n"},
    };
    assert_worded(
        "# Front\nWith MC and 5 mm hook, ch 12.\nRow 1: Dc in 4th ch from hook, sc in next 8 ch. 10 sts\n# Band\n"
        "With MC and 5 mm hook,\n",
        "3 Row 1: 10= 10= 10=\n", cases);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(places_of_other_work),
        cmocka_unit_test(two_pieces),
        cmocka_unit_test(two_pieces_that_differ),
        cmocka_unit_test(row_ends_and_single_places),
        cmocka_unit_test(parts_side_by_side),
        cmocka_unit_test(copies_of_a_motif),
        cmocka_unit_test(first_words_of_headings),
        cmocka_unit_test(first_words_of_two_headings),
        cmocka_unit_test(the_longest_heading),
        cmocka_unit_test(headings_in_another_order),
        cmocka_unit_test(nothing_above),
        cmocka_unit_test(held_stitches_are_joined_to_a_round),
        cmocka_unit_test(kinds_and_counts_of_what_is_picked_up),
    };
    return cmocka_run_group_tests(tests, catalogue_set_up, catalogue_tear_down);
}
