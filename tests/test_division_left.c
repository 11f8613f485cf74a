/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Stitches on hold or left unworked, and work that begins on them, in many wordings after the same rows: the result of
 * each in three sizes, or its refusal. Counts worked by hand; rules of the trade: common practice, no source.
 */
#include "proofed.h"

/* 40 stitches, with some of them worked. */
static void part_of_a_row(void **state)
{
    static const struct worded cases[] = {
        {"Working on these 12 sts only:\n"
         "Row 5: K. 12 sts",
         "5 Row 5: 12= 12= 12=\n", "pattern.txt:1:3: note: \"Back\" leaves 28 places unworked\n"},
        {"Working on first 12 sts only with RS facing:\n"
         "Row 5: K. 12 sts",
         "5 Row 5: 12= 12= 12=\n", "pattern.txt:1:3: note: \"Back\" leaves 28 places unworked\n"},
        {"Work on the last 12 sts only\n"
         "Row 5: K. 12 sts",
         "5 Row 5: 12= 12= 12=\n", "pattern.txt:1:3: note: \"Back\" leaves 28 places unworked\n"},
        {"Work on the last 12 sts only, k 4 rows. 12 sts", "4 : 12= 12= 12=\n",
         "pattern.txt:1:3: note: \"Back\" leaves 28 places unworked\n"},
        {"Work on these 12 sts. K only 4 rows.",
         "4 : ? ? ?\n"
         "4 : ? ? ?\n",
         "pattern.txt:4:6: error: on is not a stitch in US terms; write it in stitches that hankful tables stitches "
         "lists, or write [take as 24 sc] after the row\n"
         "pattern.txt:4:25: error: only is not a stitch in US terms; write it in stitches that hankful tables stitches "
         "lists, or write [take as 24 sc] after the row\n"},
        {"Work on these sts only:\n"
         "Row 5: K. 40 sts",
         "5 Row 5: 40= 40= 40=\n", "pattern.txt:4:1: note: no yarn is counted for \"Work on these sts only:\"\n"},
        {"Work on the first 50 sts only:\n"
         "Row 5: K. 50 sts",
         "5 Row 5: 50= 50= 50=\n",
         "pattern.txt:4:1: error: 50 stitches are named here, and 40 are there; correct the number\n"},
        {"Work on the last 50 sts only:\n"
         "Row 5: K. 50 sts",
         "5 Row 5: 50= 50= 50=\n",
         "pattern.txt:4:1: error: 50 stitches are named here, and 40 are there; correct the number\n"},
        {"Work on the first 12 (13) sts only:\n"
         "Row 5: K. 12 sts",
         "5 Row 5: ? ? ?\n",
         "pattern.txt:4:19: error: a number is not given once for each of the 3 sizes; write one value, or one for "
         "each size, as 12 (14, 16); - for a size that does without\n"},
        {"Work on the next 12 (0, 12) sts only:\n"
         "Row 5: K. 12 (0, 12) sts",
         "5 Row 5: 12= - 12=\n", "pattern.txt:1:3: note: \"Back\" leaves 28 (0, 28) places unworked\n"},
        {"Row 5: Bind off 40 sts.\n"
         "Work on the first 12 sts only:\n"
         "Row 6: K. 12 sts",
         "4 Row 5: 0 0 0\n"
         "6 Row 6: 12= 12= 12=\n",
         "pattern.txt:5:1: error: 12 stitches are named here, and 0 are there; correct the number\n"},
        {"# Front\n"
         "With MC and 5 mm needles, cast on 20 (0, 20) sts.\n"
         "Row 1: K. 20 (0, 20) sts\n"
         "Work on the first 5 (0, 5) sts only:\n"
         "Row 2: K. 5 (0, 5) sts",
         "6 Row 1: 20= - 20=\n"
         "8 Row 2: 5= - 5=\n",
         "pattern.txt:4:3: note: \"Front\" leaves 15 (0, 15) places unworked\n"},
        {"Work on 12 sts only:\n"
         "Row 5: K. 12 sts",
         "5 Row 5: 12= 12= 12=\n", "pattern.txt:1:3: note: \"Back\" leaves 28 places unworked\n"},
        {"Row 5: Ch 1, sc in each sc across, turn. 40 sc", "4 Row 5: ? ? ?\n",
         "pattern.txt:4:20: error: the next place is a k, not a sc; skip it by name, or name what is there\n"},
    };
    assert_worded("# Back\n"
                  "With MC and 5 mm needles, cast on 40 sts.\n"
                  "Rows 1-4: K. 40 sts\n",
                  "3 Rows 1-4: 40= 40= 40=\n", cases);
}

/* 20 of 40 stitches wait. */
static void one_set_on_hold(void **state)
{
    static const struct worded cases[] = {
        {"Bind off all sts.\n"
         "Work on the first 12 sts only:\n"
         "Row 6: K. 12 sts",
         "5 : 0 0 0\n"
         "7 Row 6: 12= 12= 12=\n",
         "pattern.txt:1:3: note: \"Back\" leaves 8 places unworked\n"},
        {"Work on the first 5 sts only:\n"
         "Row 6: K. 5 sts\n"
         "Bind off.\n"
         "Work on the last 5 sts only:\n"
         "Row 6: K. 5 sts",
         "6 Row 6: 5= 5= 5=\n"
         "7 : 0 0 0\n"
         "9 Row 6: 5= 5= 5=\n",
         "pattern.txt:1:3: note: \"Back\" leaves 20 places unworked: neck\n"
         "pattern.txt:1:3: note: \"Back\" leaves 10 places unworked\n"},
        {"Work on the 20 held sts of neck.\n"
         "Row 6: K. 20 sts",
         "6 Row 6: 20= 20= 20=\n", ""},
        {"Work on the 20 held sts of back.\n"
         "Row 6: K. 20 sts",
         "6 Row 6: 20= 20= 20=\n", ""},
        {"Work on the 12 held sts of back.\n"
         "Row 6: K. 12 sts",
         "6 Row 6: 12= 12= 12=\n", "pattern.txt:1:3: note: \"Back\" leaves 8 places unworked: neck\n"},
        {"Work on the 22 held sts of back.\n"
         "Row 6: K. 22 sts",
         "6 Row 6: 22= 22= 22=\n",
         "pattern.txt:1:3: note: \"Back\" leaves 20 places unworked: neck\n"
         "pattern.txt:5:1: error: 22 stitches are named here, and 20 wait; correct the number here, or where they are "
         "put on hold or left\n"},
        {"Work on the 20 held sts of pocket.\n"
         "Row 6: K. 20 sts",
         "6 Row 6: 20= 20= 20=\n", ""},
        {"Return the 20 sts from holder to needles. Pick up and k 4 sts at underarm.\n"
         "Row 6: K. 24 sts",
         "6 Row 6: 24= 24= 24=\n", ""},
        {"# Neck\n"
         "Work on the 20 held sts.\n"
         "Row 1: K. 20 sts",
         "7 Row 1: 20= 20= 20=\n", ""},
        {"# Neck (make 2)\n"
         "Work on the 20 held sts.\n"
         "Row 1: K. 20 sts",
         "7 Row 1: 20= 20= 20=\n",
         "pattern.txt:6:1: error: 2 copies begin on 20 held stitches each, and there is enough for 1; correct how many "
         "are made, or write a piece for each set, with its number of stitches\n"},
        {"# Collar\n"
         "Work on the 20 (0, 20) held sts.\n"
         "Row 1: K. 20 (0, 20) sts",
         "7 Row 1: 20= - 20=\n", "pattern.txt:1:3: note: \"Back\" leaves 0 (20, 0) places unworked: neck\n"},
        {"# Collar\n"
         "Work on the 20 (20) held sts.\n"
         "Row 1: K. 20 sts",
         "7 Row 1: ? ? ?\n",
         "pattern.txt:1:3: note: \"Back\" leaves 20 places unworked: neck\n"
         "pattern.txt:6:13: error: a number is not given once for each of the 3 sizes; write one value, or one for "
         "each size, as 12 (14, 16); - for a size that does without\n"},
        {"Place center 20 sts on holder.\n"
         "Row 6: K. 20 sts",
         "5 : 0 0 0\n"
         "6 Row 6: ? ? ?\n",
         "pattern.txt:1:3: note: \"Back\" leaves 20 places unworked: neck\n"
         "pattern.txt:1:3: note: \"Back\" leaves 20 places unworked\n"
         "pattern.txt:6:1: warning: \"Row 6\" comes after row 6; is a row missing, or a number wrong?\n"
         "pattern.txt:6:1: error: no stitches are left to work this row on; write on which it is worked: \"Rejoin yarn "
         "to rem sts\", \"Work on the 20 held sts\"\n"},
        {"Place center 4 sts on holder. Rejoin yarn, k to end.\n"
         "Row 6: K. 20 sts",
         "5 : ? ? ?\n"
         "5 : ? ? ?\n"
         "6 Row 6: ? ? ?\n",
         "pattern.txt:1:3: note: \"Back\" leaves 20 places unworked: neck\n"
         "pattern.txt:5:1: error: 4 stitches are not the centre here: 0 lie before them, and 16 after; work to the "
         "center first, or write next in place of center\n"},
        {"Place center 4 sts on holder, rejoin yarn to next st.\n"
         "Row 6: K. 6 sts",
         "6 Row 6: 16!6 16!6 16!6\n",
         "pattern.txt:1:3: note: \"Back\" leaves 4 places unworked: neck\n"
         "pattern.txt:6:11: error: \"Row 6\" states 6 sts, and has 16; the rows below are worked on the computed "
         "stitches; check the row, or correct the count\n"},
        {"Place first 4 sts on holder, rejoin yarn to next st, k to end. 16 sts", "5 : 16= 16= 16=\n",
         "pattern.txt:1:3: note: \"Back\" leaves 20 places unworked: neck\n"},
        {"Place next 4 (4) sts on holder, rejoin yarn to next st.\n"
         "Row 6: K. 16 sts",
         "5 : ? ? ?\n"
         "6 Row 6: ? ? ?\n",
         "pattern.txt:1:3: note: \"Back\" leaves 20 places unworked: neck\n"
         "pattern.txt:5:1: error: Place is not a stitch in US terms; write it in stitches that hankful tables stitches "
         "lists, or write [take as 24 sc] after the row\n"},
        {"# Front\n"
         "With MC and 5 mm needles, cast on 10 sts.\n"
         "Row 1: Bind off 10 sts.\n"
         "Work on the first 5 sts only:\n"
         "Row 2: K. 5 sts",
         "7 Row 1: 0 0 0\n"
         "9 Row 2: 5= 5= 5=\n",
         "pattern.txt:1:3: note: \"Back\" leaves 20 places unworked: neck\n"
         "pattern.txt:8:1: error: 5 stitches are named here, and 0 are there; correct the number\n"},
        {"Work on the 20 (0, 20) held sts. Pick up and k 4 (0, 4) sts.\n"
         "Row 6: K. 24 (0, 24) sts",
         "6 Row 6: 24= - 24=\n", "pattern.txt:1:3: note: \"Back\" leaves 0 (20, 0) places unworked: neck\n"},
        {"Work on the 20 held sts. Pick up and k 9999999 sts.\n"
         "Row 6: K. 24 sts",
         "6 Row 6: ? ? ?\n",
         "pattern.txt:5:26: error: work begins on more stitches than can be followed; is the number a slip?\n"},
        {"# Cuff\n"
         "With MC and 5 mm needles, cast on 5 sts.\n"
         "Row 1: K. 5 sts\n"
         "# Edge\n"
         "Work on the 20 held sts of cuff.\n"
         "Row 1: K. 20 sts",
         "7 Row 1: 5= 5= 5=\n"
         "10 Row 1: 20= 20= 20=\n",
         "pattern.txt:1:3: note: \"Back\" leaves 20 places unworked: neck\n"
         "pattern.txt:9:1: note: the stitches that were held are taken as they are stated\n"},
    };
    assert_worded("# Back\n"
                  "With MC and 5 mm needles, cast on 40 sts.\n"
                  "Rows 1-4: K. 40 sts\n"
                  "Row 5: K10, place next 20 sts on hold for neck, k10. 20 sts\n",
                  "3 Rows 1-4: 40= 40= 40=\n"
                  "4 Row 5: 20= 20= 20=\n",
                  cases);
}

/* Two sets of 10 stitches wait. */
static void two_sets_on_hold(void **state)
{
    static const struct worded cases[] = {
        {"# Sleeve (make 2)\n"
         "Work on the 10 held sts of sleeve.\n"
         "Row 1: K. 10 sts",
         "7 Row 1: 10= 10= 10=\n", ""},
        {"# Sleeve (make 2)\n"
         "Work on the 10 held sts of back.\n"
         "Row 1: K. 10 sts",
         "7 Row 1: 10= 10= 10=\n", ""},
        {"# Sleeve\n"
         "Work on the 6 held sts of sleeve.\n"
         "Row 1: K. 6 sts",
         "7 Row 1: 6= 6= 6=\n", "pattern.txt:1:3: note: \"Back\" leaves 14 places unworked: sleeve\n"},
        {"# Sleeve (make 2)\n"
         "With 5 mm needles and MC,\n"
         "Row 1: K 10 held sts of back. 10 sts",
         "7 Row 1: 10= 10= 10=\n", ""},
        {"# Sleeve (make 2)\n"
         "With 5 mm needles and MC, join yarn.\n"
         "Row 1: K10 held sts. 10 sts",
         "7 Row 1: 10= 10= 10=\n", ""},
        {"# Sleeve (make 2)\n"
         "With 5 mm needles and MC, join yarn.\n"
         "Row 1: K across held sts. 10 sts",
         "7 Row 1: 10= 10= 10=\n", ""},
        {"# Sleeve (make 2)\n"
         "With 5 mm needles and MC, join yarn.\n"
         "Row 1: K across held sleeve sts. 10 sts",
         "7 Row 1: 10= 10= 10=\n", ""},
        {"# Sleeve (make 2)\n"
         "With 5 mm needles and MC, join yarn.\n"
         "Row 1: K across held left sleeve sts. 10 sts",
         "7 Row 1: 10= 10= 10=\n", ""},
        {"# Sleeve (make 2)\n"
         "With 5 mm needles and MC, join yarn.\n"
         "Row 1: K across sts on hold. 10 sts",
         "7 Row 1: 10= 10= 10=\n", ""},
        {"# Sleeve (make 2)\n"
         "With 5 mm needles and MC, join yarn.\n"
         "Row 1: K10 sts from holder. 10 sts",
         "7 Row 1: 10= 10= 10=\n", ""},
        {"# Sleeve (make 2)\n"
         "With 5 mm needles and MC, join yarn.\n"
         "Row 1: K10 back sts on hold. 10 sts",
         "7 Row 1: 10= 10= 10=\n", ""},
        {"# Sleeve (make 2)\n"
         "With 5 mm needles and MC, join yarn.\n"
         "Row 1: K10 sts from back holder. 10 sts",
         "7 Row 1: 10= 10= 10=\n", ""},
        {"# Sleeve (make 2)\n"
         "With 5 mm needles and MC, join yarn.\n"
         "Row 1: K12 held sts. 12 sts",
         "7 Row 1: ? ? ?\n",
         "pattern.txt:1:3: note: \"Back\" leaves 20 places unworked: sleeve\n"
         "pattern.txt:7:12: error: 12 unworked stitches are named here, and there are 10\n"},
        {"# Sleeve (make 2)\n"
         "With 5 mm needles and MC, join yarn.\n"
         "Row 1: K8 held sts. 8 sts",
         "7 Row 1: 8= 8= 8=\n", "pattern.txt:1:3: note: \"Back\" leaves 4 places unworked: sleeve\n"},
        {"# Sleeve (make 4)\n"
         "With 5 mm needles and MC, join yarn.\n"
         "Row 1: K5 held sts. 5 sts",
         "7 Row 1: ? ? ?\n",
         "pattern.txt:1:3: note: \"Back\" leaves 20 places unworked: sleeve\n"
         "pattern.txt:7:11: error: 4 copies are worked on 5 unworked stitches each, and there are enough for 2; "
         "correct how many are made, or give the others a beginning of their own\n"},
        {"# Sleeve (make 5)\n"
         "With 5 mm needles and MC, join yarn.\n"
         "Row 1: K5 held sts. 5 sts",
         "7 Row 1: ? ? ?\n",
         "pattern.txt:1:3: note: \"Back\" leaves 20 places unworked: sleeve\n"
         "pattern.txt:7:11: error: 5 copies are worked on 5 unworked stitches each, and there are enough for 2; "
         "correct how many are made, or give the others a beginning of their own\n"},
        {"# Sleeve\n"
         "With 5 mm needles and MC, join yarn.\n"
         "Row 1: K20 held sts. 20 sts",
         "7 Row 1: ? ? ?\n",
         "pattern.txt:1:3: note: \"Back\" leaves 20 places unworked: sleeve\n"
         "pattern.txt:7:12: error: 20 unworked stitches are named here, and there are 10\n"},
        {"# Sleeve\n"
         "With 5 mm needles and MC, join yarn.\n"
         "Row 1: K across all held sts. 20 sts",
         "7 Row 1: ? ? ?\n",
         "pattern.txt:1:3: note: \"Back\" leaves 20 places unworked: sleeve\n"
         "pattern.txt:7:17: error: all is not a stitch in US terms; write it in stitches that hankful tables stitches "
         "lists, or write [take as 24 sc] after the row\n"},
        {"# Sleeve\n"
         "With 5 mm needles and MC, join yarn.\n"
         "Row 1: K across held back sts. 20 sts",
         "7 Row 1: 10!20 10!20 10!20\n",
         "pattern.txt:1:3: note: \"Back\" leaves 10 places unworked: sleeve\n"
         "pattern.txt:7:32: error: \"Row 1\" states 20 sts, and has 10; the rows below are worked on the computed "
         "stitches; check the row, or correct the count\n"},
    };
    assert_worded(
        "# Back\n"
        "With MC and 5 mm needles, cast on 40 sts.\n"
        "Rows 1-4: K. 40 sts\n"
        "Row 5: K8, place next 10 sts on hold for sleeve, k4, place next 10 sts on hold for sleeve, k8. 20 sts\n",
        "3 Rows 1-4: 40= 40= 40=\n"
        "4 Row 5: 20= 20= 20=\n",
        cases);
}

/* 28 of 40 stitches are left; 6 rows. */
static void what_a_row_left(void **state)
{
    static const struct worded cases[] = {
        {"Rejoin yarn to next unworked st.\n"
         "Row 5: Ch 1, sc in each sc across. 28 sc",
         "9 Row 5: 28= 28= 28=\n", ""},
        {"Rejoin yarn in next unworked st\n"
         "Row 5: Ch 1, sc in same st and in next 27 sc. 28 sc",
         "9 Row 5: 28= 28= 28=\n", ""},
        {"Sk next 16 sts for the neck, rejoin yarn in next st.\n"
         "Row 5: Ch 1, sc in same st, sc in each sc across. 12 sc",
         "9 Row 5: 12= 12= 12=\n", "pattern.txt:1:3: note: \"Back\" leaves 16 places unworked: neck\n"},
        {"Sk next 16 (17) sts for the neck, rejoin yarn in next st.\n"
         "Row 5: Ch 1, sc in same st, sc in each sc across. 12 sc",
         "8 : ? ? ?\n"
         "9 Row 5: ? ? ?\n",
         "pattern.txt:8:13: error: a number without a stitch; name what is worked: sc 3, 5 dc in next "
         "st\n"},
        {"Sk next 16 sts of back.\n"
         "Row 5: Ch 1, sc in each sc across. 12 sc",
         "9 Row 5: 12= 12= 12=\n", "pattern.txt:1:3: note: \"Back\" leaves 16 places unworked\n"},
        {"Sk next 30 sts of back.\n"
         "Row 5: Ch 1, sc in each sc across. 12 sc",
         "9 Row 5: ? ? ?\n",
         "pattern.txt:1:3: note: \"Back\" leaves 28 places unworked\n"
         "pattern.txt:9:1: error: no stitches are left to work on here; name the piece whose stitches are meant, or "
         "write \"On an edge of 20 sts:\" before it\n"},
        {"Sk 16 sts.\n"
         "Row 5: Ch 1, sc in each sc across. 12 sc",
         "9 Row 5: 12= 12= 12=\n", "pattern.txt:1:3: note: \"Back\" leaves 16 places unworked\n"},
        {"Sk 16 sts, dc in next st.", "8 : 1 1 1\n", "pattern.txt:1:3: note: \"Back\" leaves 23 places unworked\n"},
        {"Sk 16, rejoin yarn.\n"
         "Row 5: Ch 1, sc in each sc across. 12 sc",
         "9 Row 5: 12= 12= 12=\n", "pattern.txt:1:3: note: \"Back\" leaves 16 places unworked\n"},
        {"Skip next 16 sts of back for the neck, join yarn in next st, ch 1, sc in same st and in next 11 sc. 12 sc",
         "8 : 12= 12= 12=\n", "pattern.txt:1:3: note: \"Back\" leaves 16 places unworked\n"},
        {"Sk next 16 sc of back, join yarn in next st, ch 1, sc in each st across.", "8 : 12 12 12\n",
         "pattern.txt:1:3: note: \"Back\" leaves 16 places unworked\n"},
        {"Sk next 30 sts of back, join yarn in next st, ch 1, sc in each st across.", "8 : ? ? ?\n",
         "pattern.txt:1:3: note: \"Back\" leaves 28 places unworked\n"
         "pattern.txt:8:4: error: no stitch is left to work this into\n"},
        {"Sk next 30 sts, join yarn in next st, ch 1, sc in each st across.", "8 : ? ? ?\n",
         "pattern.txt:1:3: note: \"Back\" leaves 28 places unworked\n"
         "pattern.txt:8:4: error: no stitch is left to work this into\n"},
        {"# Front\n"
         "With MC and 5 mm hook, ch 21.\n"
         "Row 1: Sc in 2nd ch from hook and in each ch across, turn. 20 sc\n"
         "Sk next 16 sts of back, join yarn in next st, ch 1, sc in each st across.",
         "10 Row 1: 20= 20= 20=\n"
         "11 : 12 12 12\n",
         "pattern.txt:1:3: note: \"Back\" leaves 16 places unworked\n"},
        {"Row 5: Sk 16 sts, join yarn in next st, ch 1, sc in each sc across. 12 sc", "8 Row 5: 12= 12= 12=\n",
         "pattern.txt:1:3: note: \"Back\" leaves 16 places unworked\n"},
        {"Row 5: Join yarn in next st, ch 1, sc in same st, sc in each sc across. 28 sc", "8 Row 5: 28= 28= 28=\n", ""},
        {"Row 5: Join yarn in next st, ch 1, sc in same st, sc in each sc across.", "8 Row 5: ? ? ?\n",
         "pattern.txt:8:1: error: this may be worked on the last row, or on stitches that were left; write the number "
         "of stitches after the row, or before it \"Sk next 4 sts of back.\"\n"},
        {"Row 5: Join yarn in next st, ch 1, sc in same st, sc in each sc across. 12 sc", "8 Row 5: 12= 12= 12=\n",
         "pattern.txt:1:3: note: \"Back\" leaves 28 places unworked\n"},
        {"Row 5: Join yarn in next st, ch 1, sc in same st, sc in each sc across. 30 sc",
         "8 Row 5: 12!30 12!30 12!30\n",
         "pattern.txt:1:3: note: \"Back\" leaves 28 places unworked\n"
         "pattern.txt:8:73: error: \"Row 5\" states 30 sc, and has 12; the rows below are worked on the computed "
         "stitches; check the row, or correct the count\n"},
        {"Row 5: Join yarn with sl st in first unworked st, ch 1, sc in same st and in next 9 sts. 10 sc",
         "8 Row 5: 10= 10= 10=\n", "pattern.txt:1:3: note: \"Back\" leaves 18 places unworked\n"},
        {"Row 5: Join yarn with sl st in first unworked st of front, ch 1, sc in same st and in next 9 sts. 10 sc",
         "8 Row 5: ? ? ?\n",
         "pattern.txt:8:1: warning: \"Row 5\" comes after row 6; is a row missing, or a number wrong?\n"
         "pattern.txt:8:50: error: of is not a stitch in US terms; write it in stitches that hankful tables stitches "
         "lists, or write [take as 24 sc] after the row\n"},
        {"# Front\n"
         "Rejoin yarn to next unworked st of back.\n"
         "Row 1: Ch 1, sc in each sc across. 28 sc",
         "10 Row 1: 28= 28= 28=\n", ""},
        {"# Front (make 2)\n"
         "Rejoin yarn to next unworked st of back.\n"
         "Row 1: Ch 1, sc in each sc across. 28 sc",
         "10 Row 1: 28= 28= 28=\n",
         "pattern.txt:10:1: error: 2 copies are worked on stitches that were left, and there are enough for 1; correct "
         "how many are made, or give the others a beginning of their own\n"},
        {"# Front\n"
         "Rejoin yarn to next unworked st of collar.\n"
         "Row 1: Ch 1, sc in each sc across. 28 sc",
         "10 Row 1: 28= 28= 28=\n", ""},
        {"# Front\n"
         "Row 1: Join yarn with sl st in first unworked st of back, ch 1, sc in each of 28 unworked sts. 28 sc",
         "9 Row 1: 28= 28= 28=\n", ""},
        {"# Edge\n"
         "With MC and 5 mm hook, join yarn.\n"
         "Row 1: Ch 1, sc in each unworked st of back. 28 sc",
         "10 Row 1: 28= 28= 28=\n", ""},
        {"# Edge\n"
         "With MC and 5 mm hook, join yarn.\n"
         "Row 1: Ch 1, sc in each of 28 unworked sts of back, sc in each row end of back. 34 sc",
         "10 Row 1: 34= 34= 34=\n", ""},
        {"# Edge\n"
         "With MC and 5 mm hook, join yarn.\n"
         "Row 1: Ch 1, sc in next 10 unworked sts of back, sc in next 18 unworked sts. 28 sc",
         "10 Row 1: 28= 28= 28=\n", ""},
        {"# Edge\n"
         "With MC and 5 mm hook, join yarn.\n"
         "Row 1: Ch 1, sc in next 10 unworked sts of back, sc in next 19 unworked sts. 29 sc",
         "10 Row 1: ? ? ?\n",
         "pattern.txt:1:3: note: \"Back\" leaves 28 places unworked\n"
         "pattern.txt:10:56: error: 19 unworked stitches are named here, and there are 18\n"},
        {"# Edge\n"
         "With MC and 5 mm hook, join yarn.\n"
         "Row 1: Ch 1, sc in each st of all back. 12 sc",
         "10 Row 1: 12= 12= 12=\n", "pattern.txt:1:3: note: \"Back\" leaves 28 places unworked\n"},
        {"# Edge\n"
         "With MC and 5 mm hook, join yarn.\n"
         "Row 1: Ch 1, sc in next 4 sts of all back. 4 sc",
         "10 Row 1: ? ? ?\n",
         "pattern.txt:1:3: note: \"Back\" leaves 28 places unworked\n"
         "pattern.txt:10:20: error: whether these are of each or of all together is not stated; write each st of all, "
         "or "
         "one of them in brackets: *sc in next 4 sts of motif; rep from *\n"},
        {"# Edge\n"
         "With MC and 5 mm hook, join yarn.\n"
         "Row 1: Ch 1, sc in each row end. 6 sc",
         "10 Row 1: 6= 6= 6=\n", "pattern.txt:1:3: note: \"Back\" leaves 28 places unworked\n"},
        {"# Edge\n"
         "With MC and 5 mm hook, work along the side of back.\n"
         "Row 1: Ch 1, sc in each row end. 6 sc",
         "10 Row 1: 6= 6= 6=\n", "pattern.txt:1:3: note: \"Back\" leaves 28 places unworked\n"},
        {"# Edge\n"
         "On an edge of 12 sc:\n"
         "Row 1: Ch 1, sc in each sc. 12 sc",
         "10 Row 1: 12= 12= 12=\n", "pattern.txt:1:3: note: \"Back\" leaves 28 places unworked\n"},
        {"# Edge\n"
         "On an edge of 12 sc, with MC and 5 mm hook:\n"
         "Row 1: Ch 1, sc in each sc. 12 sc",
         "10 Row 1: 12= 12= 12=\n", "pattern.txt:1:3: note: \"Back\" leaves 28 places unworked\n"},
        {"# Edge\n"
         "On an edge of 12 wobbles:\n"
         "Row 1: Ch 1, sc in each sc. 12 sc",
         "10 Row 1: ? ? ?\n",
         "pattern.txt:1:3: note: \"Back\" leaves 28 places unworked\n"
         "pattern.txt:9:1: error: \"wobbles\" is not a stitch; write \"On an edge of 20 sts:\", or the kind of stitch: "
         "\"On an edge of 20 dc:\"\n"},
        {"# Edge\n"
         "On an edge of 12 (12, 0) sts:\n"
         "Row 1: Ch 1, sc in each sc. 12 (12, 0) sc",
         "10 Row 1: 12= 12= -\n", "pattern.txt:1:3: note: \"Back\" leaves 28 places unworked\n"},
        {"# Edge\n"
         "On an edge of 12 (12) sts:\n"
         "Row 1: Ch 1, sc in each st. 12 sc",
         "10 Row 1: ? ? ?\n",
         "pattern.txt:1:3: note: \"Back\" leaves 28 places unworked\n"
         "pattern.txt:9:15: error: a number is not given once for each of the 3 sizes; write one value, or one for "
         "each size, as 12 (14, 16); - for a size that does without\n"},
        {"# Edge\n"
         "On an edge of 9999999 sts:\n"
         "Row 1: Ch 1, sc in each st. 12 sc",
         "10 Row 1: ? ? ?\n",
         "pattern.txt:1:3: note: \"Back\" leaves 28 places unworked\n"
         "pattern.txt:9:1: error: work begins on more stitches than can be followed; is the number a slip?\n"},
        {"# Edge\n"
         "Pick up and k 14 sts evenly along the neck edge, join.\n"
         "Rnd 1: K. 14 sts",
         "10 Rnd 1: 14= 14= 14=\n", "pattern.txt:1:3: note: \"Back\" leaves 28 places unworked\n"},
        {"# Edge\n"
         "Pick up and k 14 sts.\n"
         "Pick up and k 3 sts.\n"
         "Row 1: K. 17 sts",
         "11 Row 1: 17= 17= 17=\n", "pattern.txt:1:3: note: \"Back\" leaves 28 places unworked\n"},
        {"# Edge\n"
         "Join yarn and pick up and k 14 (14) sts.\n"
         "Row 1: K. 14 sts",
         "10 Row 1: ? ? ?\n",
         "pattern.txt:1:3: note: \"Back\" leaves 28 places unworked\n"
         "pattern.txt:9:29: error: a number is not given once for each of the 3 sizes; write one value, or one for "
         "each size, as 12 (14, 16); - for a size that does without\n"},
        {"# Edge\n"
         "Pick up and knit about 14 sts.\n"
         "Row 1: K. 14 sts",
         "9 : ? ? ?\n"
         "10 Row 1: ? ? ?\n",
         "pattern.txt:9:18: error: about is not a stitch in US terms; write it in stitches that hankful tables "
         "stitches "
         "lists, or write [take as 24 sc] after the row\n"},
        {"# Edge\n"
         "Pick up and knit 3 sts for every 4 rows of back.\n"
         "Row 1: K. 5 sts",
         "9 : 5 5 5\n"
         "10 Row 1: 5= 5= 5=\n",
         "pattern.txt:1:3: note: \"Back\" leaves 28 places unworked\n"},
        {"# Edge\n"
         "With 5 mm needles and MC, join yarn.\n"
         "Row 1: Pick up and knit 3 sts for every 4 rows of back. 5 sts",
         "10 Row 1: 5= 5= 5=\n", "pattern.txt:1:3: note: \"Back\" leaves 28 places unworked\n"},
        {"Rejoin yarn to next unworked st, .\n"
         "Row 5: Ch 1, sc in each sc across. 28 sc",
         "9 Row 5: 28= 28= 28=\n", ""},
        {"Sk next 16 sts in back.\n"
         "Row 5: Ch 1, sc in each sc across. 12 sc",
         "9 Row 5: 12= 12= 12=\n", "pattern.txt:1:3: note: \"Back\" leaves 16 places unworked\n"},
        {"Sk next 16 sts of back. Rejoin yarn to next st, ch 1, sc in each sc across. 12 sc", "8 : 12= 12= 12=\n",
         "pattern.txt:1:3: note: \"Back\" leaves 16 places unworked\n"},
    };
    assert_worded("# Back\n"
                  "With MC and 5 mm hook, ch 41.\n"
                  "Row 1: Sc in 2nd ch from hook and in each ch across, turn. 40 sc\n"
                  "Rows 2-4: Ch 1, sc in each sc across, turn. 40 sc\n"
                  "Row 5: Ch 1, sc in next 12 sc, turn, leave rem sts unworked. 12 sc\n"
                  "Row 6: Ch 1, sc in each sc across. 12 sc\n"
                  "Fasten off.\n",
                  "3 Row 1: 40= 40= 40=\n"
                  "4 Rows 2-4: 40= 40= 40=\n"
                  "5 Row 5: 12= 12= 12=\n"
                  "6 Row 6: 12= 12= 12=\n",
                  cases);
}

/* A yoke of 40 stitches. */
static void a_yoke(void **state)
{
    static const struct worded cases[] = {
        {"Rnd 2: Ch 1, sc in next 10 sts, sk next 10 sts for left sleeve, ch 4, sc in next 10 sts, sk next 10 sts for "
         "right sleeve, ch 4, join. 20 sc, 8 chs\n"
         "# Left sleeve\n"
         "With 5 mm hook and MC, join yarn.\n"
         "Rnd 1: Ch 1, sc in each of 10 skipped sts of yoke, sc in each underarm ch, join. 14 sc\n"
         "# Right sleeve\n"
         "With 5 mm hook and MC, join yarn.\n"
         "Rnd 1: Ch 1, sc in each skipped st of yoke, sc in each underarm ch, join. 14 sc",
         "4 Rnd 2: 20= 20= 20=\n"
         "7 Rnd 1: 14= 14= 14=\n"
         "10 Rnd 1: 14= 14= 14=\n",
         ""},
        {"Rnd 2: Ch 1, sc in next 10 sts, sk next 12 sts for left sleeve, ch 4, sc in next 10 sts, sk next 8 sts for "
         "right sleeve, ch 3, join. 20 sc, 7 chs\n"
         "# Sleeves\n"
         "With 5 mm hook and MC, join yarn.\n"
         "Rnd 1: Ch 1, sc in each skipped st of yoke, sc in each underarm ch, join. 14 sc",
         "4 Rnd 2: 20= 20= 20=\n"
         "7 Rnd 1: ? ? ?\n",
         "pattern.txt:1:3: note: \"Yoke\" leaves 12 places unworked: left sleeve\n"
         "pattern.txt:1:3: note: \"Yoke\" leaves 8 places unworked: right sleeve\n"
         "pattern.txt:7:20: error: these places stand in several sets, of 12 for left sleeve and 8 for right sleeve; "
         "write how many of them, and of which piece or part\n"},
        {"Rnd 2: Ch 1, sc in next 10 sts, sk next 12 sts, ch 4, sc in next 10 sts, sk next 8 sts, ch 3, join. 20 sc, 7 "
         "chs\n"
         "# Sleeves\n"
         "With 5 mm hook and MC, join yarn.\n"
         "Rnd 1: Ch 1, sc in each skipped st of yoke, join. 12 sc",
         "4 Rnd 2: 20= 20= 20=\n"
         "7 Rnd 1: ? ? ?\n",
         "pattern.txt:7:20: error: these places stand in several sets, of 12 and 8; write how many of them, and of "
         "which piece or part\n"},
        {"Rnd 2: Ch 1, sc in next 10 sts, sk next 12 sts, ch 4, sc in next 10 sts, sk next 8 sts, ch 3, join. 20 sc, 7 "
         "chs\n"
         "# Sleeves\n"
         "With 5 mm hook and MC, join yarn.\n"
         "Rnd 1: Ch 1, sc in each ch at the underarm, join. 4 sc",
         "4 Rnd 2: 20= 20= 20=\n"
         "7 Rnd 1: ? ? ?\n",
         "pattern.txt:7:20: error: no underarm chain is there to work this into\n"},
        {"Rnd 2: Ch 1, sc in next 10 sts, sk next 10 sts, ch 4, sc in next 10 sts, sk next 10 sts, ch 4, join. 20 sc, "
         "8 chs\n"
         "# Sleeve (make 2)\n"
         "With 5 mm hook and MC, join yarn.\n"
         "Rnd 1: Ch 1, sc in each ch at the underarm, sc in next 12 skipped sts, join. 16 sc",
         "4 Rnd 2: 20= 20= 20=\n"
         "7 Rnd 1: ? ? ?\n",
         "pattern.txt:7:51: error: 12 unworked stitches are named here, and there are 10\n"},
        {"Rnd 2: Ch 1, sc in next 10 sts, sk next 10 sts, ch 4, sc in next 10 sts, sk next 10 sts, ch 4, join. 20 sc, "
         "8 chs\n"
         "# Sleeve (make 2)\n"
         "With 5 mm hook and MC, join yarn.\n"
         "Rnd 1: Ch 1, sc in next 2 underarm ch sts, sc in next 10 skipped sts, sc in next 2 underarm chs, join. 14 sc",
         "4 Rnd 2: 20= 20= 20=\n"
         "7 Rnd 1: 14= 14= 14=\n",
         ""},
        {"Rnd 2: Ch 1, sc in next 10 sts, sk next 10 sts, ch 4, sc in next 20 sts, join. 30 sc\n"
         "# Sleeve\n"
         "Work on the 10 held sts of yoke.\n"
         "Rnd 1: Ch 1, sc in each st around, join. 10 sc",
         "4 Rnd 2: 30= 30= 30=\n"
         "7 Rnd 1: 10= 10= 10=\n",
         ""},
    };
    assert_worded("# Yoke\n"
                  "With MC and 5 mm hook, ch 40, join with sl st to form a ring.\n"
                  "Rnd 1: Ch 1, sc in each ch around, join. 40 sc\n",
                  "3 Rnd 1: 40= 40= 40=\n", cases);
}

/* 14 stitches are picked up. */
static void edges_picked_up(void **state)
{
    static const struct worded cases[] = {
        {"Row 1: K. 14 sts", "3 Row 1: 14= 14= 14=\n", ""},
        {"Pick up and k 20 sts across back neck.\n"
         "Row 1: K. 34 sts",
         "4 Row 1: 34= 34= 34=\n", ""},
        {"Pick up and k 20 sts across back neck.\n"
         "Pick up and k 14 sts along right front. 48 sts.\n"
         "Row 1: K. 48 sts",
         "5 Row 1: 48= 48= 48=\n", ""},
        {"Pick up and k 20 sts across back neck.\n"
         "Pick up and k 14 sts along right front. 34 sts.\n"
         "Row 1: K. 48 sts",
         "5 Row 1: 48= 48= 48=\n",
         "pattern.txt:4:41: error: \"34 sts.\" is a count that follows no row; write it at the end of the row that it "
         "belongs to\n"},
        {"Pick up and k 20 sts across back neck, join.\n"
         "Rnd 1: K. 34 sts",
         "4 Rnd 1: 34= 34= 34=\n", ""},
        {"Pick up and k 20 (21, 22) sts across back neck.\n"
         "Row 1: K. 34 (35, 36) sts",
         "4 Row 1: 34= 35= 36=\n", ""},
        {"Row 1: K. 14 sts\n"
         "Bind off.\n"
         "Pick up and k 20 sts across back neck.\n"
         "Row 1: K. 20 sts",
         "3 Row 1: 14= 14= 14=\n"
         "4 : 0 0 0\n"
         "6 Row 1: 20= 20= 20=\n",
         ""},
    };
    assert_worded("# Edge\n"
                  "With MC and 5 mm needles, pick up and k 14 sts along left front.\n",
                  "", cases);
}

/* Two copies, each with two sets of 10 of 40 stitches. */
static void copies_on_what_was_left(void **state)
{
    static const struct worded cases[] = {
        {"Rejoin yarn to next unworked st of front.\n"
         "Row 2: K. 10 sts\n"
         "Bind off.\n"
         "Rejoin yarn to next unworked st of front.\n"
         "Row 2: K. 10 sts\n"
         "Bind off.",
         "6 Row 2: 10= 10= 10=\n"
         "7 : 0 0 0\n"
         "9 Row 2: 10= 10= 10=\n"
         "10 : 0 0 0\n",
         ""},
        {"Work on the 10 held sts.\n"
         "Row 2: K. 10 sts\n"
         "Bind off.\n"
         "Work on the 10 held sts.\n"
         "Row 2: K. 10 sts\n"
         "Bind off.",
         "6 Row 2: 10= 10= 10=\n"
         "7 : 0 0 0\n"
         "9 Row 2: 10= 10= 10=\n"
         "10 : 0 0 0\n",
         ""},
        {"# Strap (make 2)\n"
         "With MC and 5 mm needles, rejoin yarn to next unworked st of front.\n"
         "Row 1: K. 10 sts",
         "7 Row 1: 10= 10= 10=\n", "pattern.txt:1:3: note: \"Front\" leaves 10 places unworked: neck\n"},
        {"# Strap (make 4)\n"
         "With MC and 5 mm needles, rejoin yarn to next unworked st of front.\n"
         "Row 1: K. 10 sts",
         "7 Row 1: 10= 10= 10=\n", ""},
        {"# Strap (make 5)\n"
         "With MC and 5 mm needles, rejoin yarn to next unworked st of front.\n"
         "Row 1: K. 10 sts",
         "7 Row 1: 10= 10= 10=\n",
         "pattern.txt:7:1: error: 5 copies are worked on stitches that were left, and there are enough for 4; correct "
         "how many are made, or give the others a beginning of their own\n"},
        {"# Strap (make 4)\n"
         "Work on the 10 held sts of front.\n"
         "Row 1: K. 10 sts",
         "7 Row 1: 10= 10= 10=\n", ""},
        {"# Strap (make 5)\n"
         "Work on the 10 held sts of front.\n"
         "Row 1: K. 10 sts",
         "7 Row 1: 10= 10= 10=\n",
         "pattern.txt:6:1: error: 5 copies begin on 10 held stitches each, and there are enough for 4; correct how "
         "many are made, or write a piece for each set, with its number of stitches\n"},
        {"# Strap (make 4)\n"
         "With MC and 5 mm needles, join yarn.\n"
         "Row 1: K10 held sts of front. 10 sts",
         "7 Row 1: 10= 10= 10=\n", ""},
        {"# Strap (make 5)\n"
         "With MC and 5 mm needles, join yarn.\n"
         "Row 1: K10 held sts of front. 10 sts",
         "7 Row 1: ? ? ?\n",
         "pattern.txt:1:3: note: \"Front\" leaves 20 places unworked: neck\n"
         "pattern.txt:7:12: error: 5 copies are worked on 10 unworked stitches each, and there are enough for 4; "
         "correct how many are made, or give the others a beginning of their own\n"},
    };
    assert_worded("# Front (make 2)\n"
                  "With MC and 5 mm needles, cast on 40 sts.\n"
                  "Row 1: K8, place next 10 sts on hold for neck, k4, place next 10 sts on hold for neck, k8. 20 sts\n"
                  "Bind off.\n",
                  "3 Row 1: 20= 20= 20=\n"
                  "4 : 0 0 0\n",
                  cases);
}

/* 12 of 30 stitches wait in each of two pieces. */
static void names_where_work_begins(void **state)
{
    static const struct worded cases[] = {
        {"# Edge\n"
         "With MC and 5 mm needles, rejoin yarn to unworked sts of sleeve.\n"
         "Row 1: K. 12 sts",
         "13 Row 1: 12= 12= 12=\n", "pattern.txt:6:3: note: \"Front\" leaves 12 places unworked: neck\n"},
        {"# Edge\n"
         "With MC and 5 mm needles, rejoin yarn to unworked sts of sleeves.\n"
         "Row 1: K. 12 sts",
         "13 Row 1: 12= 12= 12=\n", "pattern.txt:6:3: note: \"Front\" leaves 12 places unworked: neck\n"},
        {"# Edge\n"
         "With MC and 5 mm needles, rejoin yarn to unworked sts of front.\n"
         "Row 1: K. 12 sts",
         "13 Row 1: 12= 12= 12=\n", "pattern.txt:1:3: note: \"Sleeves\" leaves 12 places unworked\n"},
        {"# Edge\n"
         "With MC and 5 mm needles, rejoin yarn to unworked sts of half-front.\n"
         "Row 1: K. 12 sts",
         "13 Row 1: 12= 12= 12=\n", "pattern.txt:1:3: note: \"Sleeves\" leaves 12 places unworked\n"},
        {"# Edge\n"
         "With MC and 5 mm needles, rejoin yarn to unworked sts of frontal.\n"
         "Row 1: K. 12 sts",
         "13 Row 1: 12= 12= 12=\n", "pattern.txt:1:3: note: \"Sleeves\" leaves 12 places unworked\n"},
        {"# Edge\n"
         "Work on the 12 held sts of sleeve.\n"
         "Row 1: K. 12 sts",
         "13 Row 1: 12= 12= 12=\n", "pattern.txt:6:3: note: \"Front\" leaves 12 places unworked: neck\n"},
        {"# Edge\n"
         "Work on the 12 held sts of neck.\n"
         "Row 1: K. 12 sts",
         "13 Row 1: 12= 12= 12=\n", "pattern.txt:1:3: note: \"Sleeves\" leaves 12 places unworked\n"},
        {"# Edge (make 2)\n"
         "Work on the 12 held sts of sleeve.\n"
         "Row 1: K. 12 sts",
         "13 Row 1: 12= 12= 12=\n", ""},
        {"# Edge (make 2)\n"
         "With MC and 5 mm needles, rejoin yarn to unworked sts of front.\n"
         "Row 1: K. 12 sts",
         "13 Row 1: 12= 12= 12=\n",
         "pattern.txt:1:3: note: \"Sleeves\" leaves 12 places unworked\n"
         "pattern.txt:13:1: error: 2 copies are worked on stitches that were left, and there are enough for 1; correct "
         "how many are made, or give the others a beginning of their own\n"},
        {"# Edge\n"
         "With MC and 5 mm needles, sk next 4 sts of front for, rejoin yarn in next st.\n"
         "Row 1: K. 8 sts",
         "13 Row 1: 8= 8= 8=\n",
         "pattern.txt:1:3: note: \"Sleeves\" leaves 12 places unworked\n"
         "pattern.txt:6:3: note: \"Front\" leaves 4 places unworked\n"},
        {"# Edge\n"
         "With MC and 5 mm needles, sk next 4 sts of front for border, rejoin yarn in next st.\n"
         "Row 1: K. 8 sts",
         "13 Row 1: 8= 8= 8=\n",
         "pattern.txt:1:3: note: \"Sleeves\" leaves 12 places unworked\n"
         "pattern.txt:6:3: note: \"Front\" leaves 4 places unworked: border\n"},
        {"# Edge\n"
         "With MC and 5 mm needles, sk next 4 (4) sts of front, rejoin yarn in next st.\n"
         "Row 1: K. 8 sts",
         "12 : ? ? ?\n"
         "13 Row 1: ? ? ?\n",
         "pattern.txt:1:3: note: \"Sleeves\" leaves 12 places unworked\n"
         "pattern.txt:6:3: note: \"Front\" leaves 12 places unworked: neck\n"
         "pattern.txt:12:38: error: a number without a stitch; name what is worked: sc 3, 5 dc in next "
         "st\n"},
        {"# Edge\n"
         "With MC and 5 mm needles, rejoin yarn to unworked sts of front.\n"
         "Row 1: K4, place next 4 sts on hold, k4. 8 sts\n"
         "Bind off.",
         "13 Row 1: 8= 8= 8=\n"
         "14 : 0 0 0\n",
         "pattern.txt:1:3: note: \"Sleeves\" leaves 12 places unworked\n"
         "pattern.txt:6:3: note: \"Front\" leaves 4 places unworked\n"},
    };
    assert_worded("# Sleeves\n"
                  "With MC and 5 mm needles, cast on 30 sts.\n"
                  "Rows 1-4: K. 30 sts\n"
                  "Row 5: K10, place next 12 sts on hold, k8. 18 sts\n"
                  "Bind off.\n"
                  "# Front\n"
                  "With MC and 5 mm needles, cast on 30 sts.\n"
                  "Rows 1-4: K. 30 sts\n"
                  "Row 5: K10, place next 12 sts on hold for neck, k8. 18 sts\n"
                  "Bind off.\n",
                  "3 Rows 1-4: 30= 30= 30=\n"
                  "4 Row 5: 18= 18= 18=\n"
                  "5 : 0 0 0\n"
                  "8 Rows 1-4: 30= 30= 30=\n"
                  "9 Row 5: 18= 18= 18=\n"
                  "10 : 0 0 0\n",
                  cases);
}

/* 12 stitches wait for a sleeve, 8 have no named purpose. */
static void sets_that_differ(void **state)
{
    static const struct worded cases[] = {
        {"# Edge\n"
         "With MC and 5 mm needles, join yarn.\n"
         "Row 1: K across held sts. 12 sts",
         "7 Row 1: ? ? ?\n",
         "pattern.txt:1:3: note: \"Yoke\" leaves 12 places unworked: sleeve\n"
         "pattern.txt:1:3: note: \"Yoke\" leaves 8 places unworked\n"
         "pattern.txt:7:17: error: these places stand in several sets, of 12 and 8; write how many of them, and of "
         "which piece or part\n"},
        {"# Edge\n"
         "With MC and 5 mm needles, join yarn.\n"
         "Row 1: K8 held sts. 8 sts",
         "7 Row 1: 8= 8= 8=\n", "pattern.txt:1:3: note: \"Yoke\" leaves 12 places unworked: sleeve\n"},
        {"# Edge\n"
         "With MC and 5 mm needles, join yarn.\n"
         "Row 1: K6 held sts. 6 sts",
         "7 Row 1: 6= 6= 6=\n",
         "pattern.txt:1:3: note: \"Yoke\" leaves 6 places unworked: sleeve\n"
         "pattern.txt:1:3: note: \"Yoke\" leaves 8 places unworked\n"},
        {"# Edge\n"
         "With MC and 5 mm needles, join yarn.\n"
         "Row 1: K6 held sts, k6 held sts. 12 sts",
         "7 Row 1: 12= 12= 12=\n", "pattern.txt:1:3: note: \"Yoke\" leaves 8 places unworked\n"},
        {"# Edge\n"
         "With MC and 5 mm needles, join yarn.\n"
         "Row 1: K12 held sts, k8 held sts. 20 sts",
         "7 Row 1: 20= 20= 20=\n", ""},
        {"# Edge\n"
         "With MC and 5 mm needles, join yarn.\n"
         "Row 1: K across all held sts of yoke. 20 sts",
         "7 Row 1: ? ? ?\n",
         "pattern.txt:1:3: note: \"Yoke\" leaves 12 places unworked: sleeve\n"
         "pattern.txt:1:3: note: \"Yoke\" leaves 8 places unworked\n"
         "pattern.txt:7:17: error: all is not a stitch in US terms; write it in stitches that hankful tables stitches "
         "lists, or write [take as 24 sc] after the row\n"},
        {"# Edge\n"
         "With MC and 5 mm needles, join yarn.\n"
         "Row 1: K 1 in each held st of all yoke. 20 sts",
         "7 Row 1: 20= 20= 20=\n", ""},
        {"# Edge\n"
         "With MC and 5 mm needles, join yarn.\n"
         "Row 1: K13 held sts. 13 sts",
         "7 Row 1: ? ? ?\n",
         "pattern.txt:1:3: note: \"Yoke\" leaves 12 places unworked: sleeve\n"
         "pattern.txt:1:3: note: \"Yoke\" leaves 8 places unworked\n"
         "pattern.txt:7:12: error: 13 unworked stitches are named here, and there are 12\n"},
        {"# Edge\n"
         "Work on the 12 held sts of sleeve.\n"
         "Row 1: K. 12 sts",
         "7 Row 1: 12= 12= 12=\n", "pattern.txt:1:3: note: \"Yoke\" leaves 8 places unworked\n"},
        {"# Edge\n"
         "Work on the 8 held sts of sleeve.\n"
         "Row 1: K. 8 sts",
         "7 Row 1: 8= 8= 8=\n",
         "pattern.txt:1:3: note: \"Yoke\" leaves 4 places unworked: sleeve\n"
         "pattern.txt:1:3: note: \"Yoke\" leaves 8 places unworked\n"},
        {"# Edge\n"
         "Work on the 8 held sts.\n"
         "Row 1: K. 8 sts",
         "7 Row 1: 8= 8= 8=\n", "pattern.txt:1:3: note: \"Yoke\" leaves 12 places unworked: sleeve\n"},
        {"# Edge (make 2)\n"
         "With MC and 5 mm needles, rejoin yarn to unworked sts of yoke.\n"
         "Row 1: K. 8 sts",
         "7 Row 1: 8= 8= 8=\n",
         "pattern.txt:1:3: note: \"Yoke\" leaves 12 places unworked: sleeve\n"
         "pattern.txt:7:1: error: 2 copies are worked on stitches that were left, and there are enough for 1; correct "
         "how many are made, or give the others a beginning of their own\n"},
        {"# Edge (make 2)\n"
         "With MC and 5 mm needles, join yarn.\n"
         "Row 1: K10 held sts. 10 sts",
         "7 Row 1: ? ? ?\n",
         "pattern.txt:1:3: note: \"Yoke\" leaves 12 places unworked: sleeve\n"
         "pattern.txt:1:3: note: \"Yoke\" leaves 8 places unworked\n"
         "pattern.txt:7:12: error: 2 copies are worked on 10 unworked stitches each, and there is enough for 1; "
         "correct how many are made, or give the others a beginning of their own\n"},
    };
    assert_worded("# Yoke\n"
                  "With MC and 5 mm needles, cast on 40 sts.\n"
                  "Row 1: K. 40 sts\n"
                  "Row 2: K6, place next 12 sts on hold for sleeve, k6, place next 8 sts on hold, k8. 20 sts\n",
                  "3 Row 1: 40= 40= 40=\n"
                  "4 Row 2: 20= 20= 20=\n",
                  cases);
}

/* Two sets of 10; one of them has a name. */
static void sets_alike(void **state)
{
    static const struct worded cases[] = {
        {"# Edge\n"
         "With MC and 5 mm needles, join yarn.\n"
         "Row 1: K across held sts. 10 sts",
         "8 Row 1: 10= 10= 10=\n", "pattern.txt:1:3: note: \"Yoke\" leaves 10 places unworked: neck\n"},
        {"# Edge\n"
         "With MC and 5 mm needles, rejoin yarn to unworked sts of yoke.\n"
         "Row 1: K. 10 sts",
         "8 Row 1: 10= 10= 10=\n", "pattern.txt:1:3: note: \"Yoke\" leaves 10 places unworked\n"},
        {"# Edge (make 2)\n"
         "With MC and 5 mm needles, rejoin yarn to unworked sts of yoke.\n"
         "Row 1: K. 10 sts",
         "8 Row 1: 10= 10= 10=\n", ""},
        {"Rejoin yarn to unworked sts.\n"
         "Row 3: K. 10 sts",
         "7 Row 3: 10= 10= 10=\n", "pattern.txt:1:3: note: \"Yoke\" leaves 10 places unworked\n"},
        {"Work on the first 5 sts only:\n"
         "Row 3: K. 5 sts",
         "7 Row 3: 5= 5= 5=\n", "pattern.txt:1:3: note: \"Yoke\" leaves 15 places unworked\n"},
        {"Work on the last 5 sts only:\n"
         "Row 3: K. 5 sts",
         "7 Row 3: 5= 5= 5=\n", "pattern.txt:1:3: note: \"Yoke\" leaves 15 places unworked\n"},
    };
    assert_worded("# Yoke\n"
                  "With MC and 5 mm needles, cast on 40 sts.\n"
                  "Row 1: K. 40 sts\n"
                  "Row 2: K6, place next 10 sts on hold, k4, place next 10 sts on hold for neck, k10. 20 sts\n"
                  "Bind off.\n",
                  "3 Row 1: 40= 40= 40=\n"
                  "4 Row 2: 20= 20= 20=\n"
                  "5 : 0 0 0\n",
                  cases);
}

/* 28 of 40 single crochet are left. */
static void left_and_named(void **state)
{
    static const struct worded cases[] = {
        {"Fasten off.\n"
         "Work on the 28 held sts of back.\n"
         "Row 2: Ch 1, sc in each sc. 28 sc",
         "7 Row 2: 28= 28= 28=\n", ""},
        {"Row 3: Join yarn in next st, ch 1, sc in same st, sc in each sc across, join. 28 sc",
         "5 Row 3: 12!28 12!28 12!28\n",
         "pattern.txt:1:3: note: \"Back\" leaves 28 places unworked\n"
         "pattern.txt:5:79: error: \"Row 3\" states 28 sc, and has 12; the rows below are worked on the computed "
         "stitches; check the row, or correct the count\n"},
        {"# Edge\n"
         "With MC and 5 mm hook, rejoin yarn to unworked sts of back.\n"
         "Row 1: Ch 1, sc in each row end of back. 2 sc",
         "7 Row 1: ? ? ?\n", "pattern.txt:7:8: error: 28 stitches remain at the end of the row\n"},
        {"# Edge\n"
         "With MC and 5 mm hook, join yarn.\n"
         "Row 1: Join yarn in first st of back, ch 1, sc in each st of back. 12 sc",
         "7 Row 1: ? ? ?\n",
         "pattern.txt:1:3: note: \"Back\" leaves 28 places unworked\n"
         "pattern.txt:7:21: error: no stitch is left to work this into\n"},
        {"Fasten off.\n"
         "Sk next 16 (17, 18, 19) sts, rejoin yarn in next st.\n"
         "Row 2: Ch 1, sc in each sc. 12 sc",
         "6 : ? ? ?\n"
         "7 Row 2: ? ? ?\n",
         "pattern.txt:6:9: error: 4 values for 3 sizes; write one value for all sizes, or one for each: 12 (14, 16)\n"},
        {"Fasten off.\n"
         "Sk next 16 sts of back.\n"
         "Row 2: Ch 1, sc in each sc. 12 sc\n"
         "Fasten off.\n"
         "Rejoin yarn to next unworked st.\n"
         "Row 2: Ch 1, sc in each sc. 16 sc",
         "7 Row 2: 12= 12= 12=\n"
         "10 Row 2: 16= 16= 16=\n",
         ""},
        {"Fasten off.\n"
         "Work on the first few sts only:\n"
         "Row 3: Ch 1, sc in each sc. 12 sc",
         "7 Row 3: 12= 12= 12=\n",
         "pattern.txt:1:3: note: \"Back\" leaves 28 places unworked\n"
         "pattern.txt:6:1: note: no yarn is counted for \"Work on the first few sts only:\"\n"},
        {"Fasten off.\n"
         "Work on the last 30 sts only:\n"
         "Row 3: Ch 1, sc in each sc. 30 sc",
         "7 Row 3: 30= 30= 30=\n",
         "pattern.txt:1:3: note: \"Back\" leaves 28 places unworked\n"
         "pattern.txt:6:1: error: 30 stitches are named here, and 12 are there; correct the number\n"},
        {"# Front\n"
         "With MC and 5 mm hook, ch 11.\n"
         "Row 1: Sc in 2nd ch from hook and in each ch across. 10 sc\n"
         "Fasten off.\n"
         "Work on the first 5 sts only:\n"
         "Row 2: Ch 1, sc in each sc. 5 sc",
         "7 Row 1: 10= 10= 10=\n"
         "10 Row 2: 5= 5= 5=\n",
         "pattern.txt:1:3: note: \"Back\" leaves 28 places unworked\n"
         "pattern.txt:5:3: note: \"Front\" leaves 5 places unworked\n"},
        {"# Edge\n"
         "Work along the front edge 20 sts:\n"
         "Row 1: Ch 1, sc in each st. 20 sc",
         "6 : ? ? ?\n"
         "7 Row 1: ? ? ?\n",
         "pattern.txt:6:1: error: Work is not a stitch in US terms; write it in stitches that hankful tables stitches "
         "lists, or write [take as 24 sc] after the row\n"},
        {"# Edge\n"
         "With MC and 5 mm hook, work along the front edge:\n"
         "Row 1: Ch 1, 20 sc evenly along the front edge. 20 sc",
         "7 Row 1: 20= 20= 20=\n", "pattern.txt:1:3: note: \"Back\" leaves 28 places unworked\n"},
        {"Fasten off.\n"
         "# Edge\n"
         "With MC and 5 mm hook, join yarn.\n"
         "Row 1: Join yarn in next st, ch 1, sc in each st. 28 sc",
         "8 Row 1: 28= 28= 28=\n", ""},
        {"Row 3: Ch 1, sc in next 4 sc, sk next 4 sc for pocket, sc in next 4 sc, turn. 8 sc\n"
         "# Edge\n"
         "With MC and 5 mm hook, join yarn.\n"
         "Row 1: Ch 1, sc in each unworked st of back. 4 sc",
         "5 Row 3: 8= 8= 8=\n"
         "8 Row 1: ? ? ?\n",
         "pattern.txt:1:3: note: \"Back\" leaves 4 places unworked: pocket\n"
         "pattern.txt:1:3: note: \"Back\" leaves 28 places unworked\n"
         "pattern.txt:8:20: error: these places stand in several sets, of 4 and 28; write how many of them, and of "
         "which piece or part\n"},
        {"Row 3: Ch 1, sc in next 4 sc, sk next 4 sc for pocket, sc in next 4 sc, turn. 8 sc\n"
         "# Edge\n"
         "With MC and 5 mm hook, join yarn.\n"
         "Row 1: Ch 1, sc in each unworked st of all back. 32 sc",
         "5 Row 3: 8= 8= 8=\n"
         "8 Row 1: 32= 32= 32=\n",
         ""},
        {"# Front\n"
         "With MC and 5 mm hook, ch 21.\n"
         "Row 1: Sc in 2nd ch from hook and in each ch across, turn. 20 sc\n"
         "Row 2: Ch 1, *sc in next sc, ch 1, sk next sc; rep from * across, turn. 10 sc\n"
         "Row 3: Ch 1, sc in next 4 sc, turn, leave rem sts unworked. 4 sc\n"
         "Fasten off.\n"
         "Work on the 6 unworked sts of front.\n"
         "Row 3: Ch 1, sc in each st. 6 sc",
         "7 Row 1: 20= 20= 20=\n"
         "8 Row 2: 10= 10= 10=\n"
         "9 Row 3: 4= 4= 4=\n"
         "12 Row 3: 6= 6= 6=\n",
         "pattern.txt:1:3: note: \"Back\" leaves 28 places unworked\n"},
    };
    assert_worded("# Back\n"
                  "With MC and 5 mm hook, ch 41.\n"
                  "Row 1: Sc in 2nd ch from hook and in each ch across, turn. 40 sc\n"
                  "Row 2: Ch 1, sc in next 12 sc, turn, leave rem sts unworked. 12 sc\n",
                  "3 Row 1: 40= 40= 40=\n"
                  "4 Row 2: 12= 12= 12=\n",
                  cases);
}

/* 8 stitches have no named purpose, 12 wait for a sleeve. */
static void sets_in_another_order(void **state)
{
    static const struct worded cases[] = {
        {"# Edge\n"
         "With MC and 5 mm needles, join yarn.\n"
         "Row 1: K across held sts. 12 sts",
         "8 Row 1: ? ? ?\n",
         "pattern.txt:1:3: note: \"Yoke\" leaves 8 places unworked\n"
         "pattern.txt:1:3: note: \"Yoke\" leaves 12 places unworked: sleeve\n"
         "pattern.txt:8:17: error: these places stand in several sets, of 8 and 12; write how many of them, and of "
         "which piece or part\n"},
        {"# Edge\n"
         "With MC and 5 mm needles, join yarn.\n"
         "Row 1: K 1 in each held st of all yoke. 20 sts",
         "8 Row 1: 20= 20= 20=\n", ""},
        {"# Edge (make 2)\n"
         "With MC and 5 mm needles, join yarn.\n"
         "Row 1: K 1 in each held st of all yoke. 20 sts",
         "8 Row 1: ? ? ?\n",
         "pattern.txt:1:3: note: \"Yoke\" leaves 8 places unworked\n"
         "pattern.txt:1:3: note: \"Yoke\" leaves 12 places unworked: sleeve\n"
         "pattern.txt:8:15: error: 2 copies are worked on 20 unworked stitches each, and there is enough for 1; "
         "correct how many are made, or give the others a beginning of their own\n"},
        {"# Edge (make 3)\n"
         "With MC and 5 mm needles, join yarn.\n"
         "Row 1: K1 held st. 1 st",
         "8 Row 1: ? ? ?\n",
         "pattern.txt:1:3: note: \"Yoke\" leaves 8 places unworked\n"
         "pattern.txt:1:3: note: \"Yoke\" leaves 12 places unworked: sleeve\n"
         "pattern.txt:8:11: error: 3 copies are worked on 1 unworked stitch each, and there are enough for 2; correct "
         "how many are made, or give the others a beginning of their own\n"},
        {"Rejoin yarn to unworked sts.\n"
         "Row 3: K.",
         "7 Row 3: 12 12 12\n", "pattern.txt:1:3: note: \"Yoke\" leaves 8 places unworked\n"},
    };
    assert_worded("# Yoke\n"
                  "With MC and 5 mm needles, cast on 40 sts.\n"
                  "Row 1: K. 40 sts\n"
                  "Row 2: K6, place next 8 sts on hold, k6, place next 12 sts on hold for sleeve, k8. 20 sts\n"
                  "Bind off.\n",
                  "3 Row 1: 40= 40= 40=\n"
                  "4 Row 2: 20= 20= 20=\n"
                  "5 : 0 0 0\n",
                  cases);
}

/* Each of two copies has two sets of 10. */
static void two_copies_with_sets(void **state)
{
    static const struct worded cases[] = {
        {"# Edge\n"
         "With MC and 5 mm needles, join yarn.\n"
         "Row 1: K15 held sts. 15 sts",
         "8 Row 1: ? ? ?\n",
         "pattern.txt:1:3: note: \"Yoke\" leaves 20 places unworked: neck\n"
         "pattern.txt:8:12: error: 15 unworked stitches are named here, and there are 10\n"},
        {"# Edge\n"
         "With MC and 5 mm needles, join yarn.\n"
         "Row 1: K10 held sts. 10 sts",
         "8 Row 1: 10= 10= 10=\n", "pattern.txt:1:3: note: \"Yoke\" leaves 20 places unworked: neck\n"},
        {"# Edge\n"
         "With MC and 5 mm needles, join yarn.\n"
         "Row 1: K 1 in each held st of all yoke. 40 sts",
         "8 Row 1: 40= 40= 40=\n", ""},
        {"# Edge\n"
         "With MC and 5 mm needles, join yarn.\n"
         "Row 1: K across held sts. 10 sts",
         "8 Row 1: 10= 10= 10=\n", "pattern.txt:1:3: note: \"Yoke\" leaves 20 places unworked: neck\n"},
        {"# Edge (make 2)\n"
         "With MC and 5 mm needles, join yarn.\n"
         "Row 1: K10 held sts. 10 sts",
         "8 Row 1: 10= 10= 10=\n", "pattern.txt:1:3: note: \"Yoke\" leaves 10 places unworked: neck\n"},
        {"# Edge (make 3)\n"
         "With MC and 5 mm needles, join yarn.\n"
         "Row 1: K10 held sts. 10 sts",
         "8 Row 1: 10= 10= 10=\n", "pattern.txt:1:3: note: \"Yoke\" leaves 10 places unworked: neck\n"},
    };
    assert_worded("# Yoke (make 2)\n"
                  "With MC and 5 mm needles, cast on 40 sts.\n"
                  "Row 1: K. 40 sts\n"
                  "Row 2: K6, place next 10 sts on hold for neck, k4, place next 10 sts on hold for neck, k10. 20 sts\n"
                  "Bind off.\n",
                  "3 Row 1: 40= 40= 40=\n"
                  "4 Row 2: 20= 20= 20=\n"
                  "5 : 0 0 0\n",
                  cases);
}

/* The left side puts 4 of 12 stitches on hold. */
static void left_of_a_part(void **state)
{
    static const struct worded cases[] = {
        {"Right side:\n"
         "Work on the last 12 sts only:\n"
         "Row 2: K. 12 sts",
         "10 Row 2: 12= 12= 12=\n",
         "pattern.txt:1:3: note: \"Back\" leaves 4 places unworked: pocket\n"
         "pattern.txt:1:3: note: \"Back\" leaves 16 places unworked\n"},
        {"Right side:\n"
         "Work on the last 30 sts only:\n"
         "Row 2: K. 30 sts",
         "10 Row 2: 30= 30= 30=\n",
         "pattern.txt:1:3: note: \"Back\" leaves 28 places unworked\n"
         "pattern.txt:1:3: note: \"Back\" leaves 4 places unworked: pocket\n"
         "pattern.txt:9:1: error: 30 stitches are named here, and 28 are there; correct the number\n"},
        {"# Edge\n"
         "With MC and 5 mm needles, join yarn.\n"
         "Row 1: K 1 in each row end. 1 st",
         "10 Row 1: 1= 1= 1=\n",
         "pattern.txt:1:3: note: \"Back\" leaves 28 places unworked\n"
         "pattern.txt:1:3: note: \"Back\" leaves 4 places unworked: pocket\n"},
        {"# Edge (make 2)\n"
         "Work on the 4 held sts.\n"
         "Row 1: K. 4 sts",
         "10 Row 1: 4= 4= 4=\n",
         "pattern.txt:1:3: note: \"Back\" leaves 28 places unworked\n"
         "pattern.txt:9:1: error: 2 copies begin on 4 held stitches each, and there is enough for 1; correct how many "
         "are made, or write a piece for each set, with its number of stitches\n"},
        {"# Edge (make 2)\n"
         "With MC and 5 mm needles, rejoin yarn to unworked sts of left side.\n"
         "Row 1: K. 4 sts",
         "10 Row 1: ? ? ?\n",
         "pattern.txt:1:3: note: \"Back\" leaves 28 places unworked\n"
         "pattern.txt:1:3: note: \"Back\" leaves 4 places unworked: pocket\n"
         "pattern.txt:10:1: error: no stitches are left to work on here; name the piece whose stitches are meant, or "
         "write \"On an edge of 20 sts:\" before it\n"},
    };
    assert_worded("# Back\n"
                  "With MC and 5 mm needles, cast on 40 sts.\n"
                  "Row 1: K. 40 sts\n"
                  "Left side:\n"
                  "Work on the first 12 sts only:\n"
                  "Row 2: K6, place next 4 sts on hold for pocket, k2. 8 sts\n"
                  "Bind off.\n",
                  "3 Row 1: 40= 40= 40=\n"
                  "6 Row 2: 8= 8= 8=\n"
                  "7 : 0 0 0\n",
                  cases);
}

/*
 * A back of 60 with 5 slip stitches at one armhole and 5 left at the other: 50. A shoulder of 14 and a neck of 22 leave
 * 14 for the other shoulder: the slip stitches are places of the edge below. On two rows more, the same.
 */
static void a_shoulder_behind_an_armhole(void **state)
{
    static const struct worded cases[] = {
        {"Next row: Ch 2, hdc in next 14 sts, turn. 14 hdc\n"
         "Right shoulder:\n"
         "Sk next 22 sts, join MC with sl st in next st, ch 2, hdc in same st and in each st across, turn.",
         "6 Next row: 14= 14= 14=\n"
         "8 : 14 14 14\n",
         "pattern.txt:1:3: note: \"Back\" leaves 32 places unworked\n"},
        {"Next row: Ch 2, hdc in next 14 sts, turn. 14 hdc\n"
         "Next row: Ch 2, hdc in each st across. 14 hdc\n"
         "Right shoulder:\n"
         "Sk next 22 sts, join MC with sl st in next st, ch 2, hdc in same st and in each st across, turn. 14 hdc",
         "6 Next row: 14= 14= 14=\n"
         "7 Next row: 14= 14= 14=\n"
         "9 : 14= 14= 14=\n",
         "pattern.txt:1:3: note: \"Back\" leaves 32 places unworked\n"},
        {"Next row: Ch 2, hdc in next 14 sts, turn. 14 hdc\n"
         "Right shoulder:\n"
         "Sk next 22 sts, join MC with sl st in next st, ch 2, hdc in same st and in each st across, turn. 19 hdc",
         "6 Next row: 14= 14= 14=\n"
         "8 : 14!19 14!19 14!19\n",
         "pattern.txt:1:3: note: \"Back\" leaves 32 places unworked\n"
         "pattern.txt:8:98: error: the row states 19 hdc, and has 14; the rows below are worked on the computed "
         "stitches; check the row, or correct the count\n"},
        {"Next row: Ch 2, hdc in next 14 sts, turn. 14 hdc\n"
         "Right shoulder:\n"
         "Sk next 22 sts of back.\n"
         "Next row: Join MC in next st, ch 2, hdc in same st and in each st across, turn.",
         "6 Next row: 14= 14= 14=\n"
         "9 Next row: 14 14 14\n",
         "pattern.txt:1:3: note: \"Back\" leaves 32 places unworked\n"},
        /* 2 left on the shoulder are nearer, and on its own edge */
        {"Next row: Ch 2, hdc in next 14 sts, turn. 14 hdc\n"
         "Next row: Ch 2, hdc in each st across, turn. 14 hdc\n"
         "Next row: Ch 2, hdc in next 12 sts, turn. 12 hdc\n"
         "Right shoulder:\n"
         "Sk next 22 sts, join MC with sl st in next st, ch 2, hdc in same st and in each st across, turn.",
         "6 Next row: 14= 14= 14=\n"
         "7 Next row: 14= 14= 14=\n"
         "8 Next row: 12= 12= 12=\n"
         "10 : 14 14 14\n",
         "pattern.txt:1:3: note: \"Back\" leaves 34 places unworked\n"},
        /* the 3 left on the shoulder take the row too, and do not come to what it states */
        {"Next row: Ch 2, hdc in next 14 sts, turn. 14 hdc\n"
         "Next row: Ch 2, hdc in each st across, turn. 14 hdc\n"
         "Next row: Ch 2, hdc in next 11 sts, turn. 11 hdc\n"
         "Right shoulder:\n"
         "Sk next 2 sts, join MC with sl st in next st, ch 2, hdc in same st and in each st across, turn. 34 hdc",
         "6 Next row: 14= 14= 14=\n"
         "7 Next row: 14= 14= 14=\n"
         "8 Next row: 11= 11= 11=\n"
         "10 : 34= 34= 34=\n",
         "pattern.txt:1:3: note: \"Back\" leaves 15 places unworked\n"},
        {"Next row: Ch 2, hdc in next 14 sts, turn. 14 hdc\n"
         "Right shoulder:\n"
         "Sk next 40 sts of back.\n"
         "Next row: Ch 2, hdc in each st across, turn.",
         "6 Next row: 14= 14= 14=\n"
         "9 Next row: ? ? ?\n",
         "pattern.txt:1:3: note: \"Back\" leaves 46 places unworked\n"
         "pattern.txt:9:1: error: no stitches are left to work on here; name the piece whose stitches are meant, or "
         "write \"On an edge of 20 sts:\" before it\n"},
        /* the slip stitches are not counted off either */
        {"Next row: Ch 2, hdc in next 14 sts, turn. 14 hdc\n"
         "Right shoulder:\n"
         "Sk next 22 sts, join MC with sl st in next st, ch 2, hdc in same st and in next 18 sts, turn. 19 hdc",
         "6 Next row: 14= 14= 14=\n"
         "8 : ? ? ?\n",
         "pattern.txt:1:3: note: \"Back\" leaves 46 places unworked\n"
         "pattern.txt:8:4: error: no stitch is left to work this into: 22 + 1 + 18 are 41 stitches, of 14\n"},
    };
    assert_worded("# Back\n"
                  "With MC and 5 mm hook, ch 62.\n"
                  "Row 1: Hdc in 3rd ch from hook and in each ch across, turn. 60 hdc\n"
                  "Row 2: Sl st in first 5 sts, ch 2, hdc in next 50 sts, turn, leaving rem sts unworked. 50 hdc\n"
                  "Rows 3-4: Ch 2, hdc in each st across, turn. 50 hdc\n",
                  "3 Row 1: 60= 60= 60=\n"
                  "4 Row 2: 50= 50= 50=\n"
                  "5 Rows 3-4: 50= 50= 50=\n",
                  cases);
}

/* "Last 14 sts only" below the heading of a second shoulder: of the 36 that the first left, not of its own 13. */
static void the_last_stitches_of_a_shoulder(void **state)
{
    static const struct worded cases[] = {
        {"Right shoulder:\nWorking on the last 14 sts only:\nNext row: Ch 2, hdc in each st across, turn. 14 hdc",
         "10 Next row: 14= 14= 14=\n", "pattern.txt:1:3: note: \"Back\" leaves 32 places unworked\n"},
        /* as many as the first shoulder has, and fewer: of the same stitches */
        {"Right shoulder:\nWork on the last 13 sts only:\nNext row: Ch 2, hdc in each st across, turn. 13 hdc",
         "10 Next row: 13= 13= 13=\n", "pattern.txt:1:3: note: \"Back\" leaves 33 places unworked\n"},
        {"Right shoulder:\nWork on the last 12 sts only:\nNext row: Ch 2, hdc in each st across, turn. 12 hdc",
         "10 Next row: 12= 12= 12=\n", "pattern.txt:1:3: note: \"Back\" leaves 34 places unworked\n"},
        {"Neck:\nWork on the next 20 sts only:\nNext row: Ch 2, hdc in each st across, turn. 20 hdc",
         "10 Next row: 20= 20= 20=\n", "pattern.txt:1:3: note: \"Back\" leaves 26 places unworked\n"},
        /* the slip stitches of the armhole are not among them */
        {"Right shoulder:\nWork on the last 37 sts only:\nNext row: Ch 2, hdc in each st across, turn. 37 hdc",
         "10 Next row: 37= 37= 37=\n",
         "pattern.txt:1:3: note: \"Back\" leaves 46 places unworked\n"
         "pattern.txt:9:1: error: 37 stitches are named here, and 36 are there; correct the number\n"},
        /* without a heading the shoulder goes on */
        {"Work on the last 6 sts only:\nNext row: Ch 2, hdc in each st across, turn. 6 hdc", "9 Next row: 6= 6= 6=\n",
         "pattern.txt:1:3: note: \"Back\" leaves 46 places unworked\n"
         "pattern.txt:6:1: note: \"Left shoulder\" leaves 7 places unworked\n"},
        {"Tip:\nWork on these 13 sts only:\nNext row: Ch 2, hdc in each st across, turn. 13 hdc",
         "10 Next row: 13= 13= 13=\n", "pattern.txt:1:3: note: \"Back\" leaves 46 places unworked\n"},
    };
    assert_worded("# Back\n"
                  "With MC and 5 mm hook, ch 62.\n"
                  "Row 1: Hdc in 3rd ch from hook and in each ch across, turn. 60 hdc\n"
                  "Row 2: Sl st in first 5 sts, ch 2, hdc in next 50 sts, turn, leaving rem sts unworked. 50 hdc\n"
                  "Left shoulder:\n"
                  "Next row: Ch 2, hdc in next 14 sts, turn. 14 hdc\n"
                  "Next row: Ch 2, hdc2tog, hdc in each st across, turn. 13 sts\n",
                  "3 Row 1: 60= 60= 60=\n"
                  "4 Row 2: 50= 50= 50=\n"
                  "6 Next row: 14= 14= 14=\n"
                  "7 Next row: 13= 13= 13=\n",
                  cases);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(part_of_a_row),
        cmocka_unit_test(one_set_on_hold),
        cmocka_unit_test(two_sets_on_hold),
        cmocka_unit_test(what_a_row_left),
        cmocka_unit_test(a_yoke),
        cmocka_unit_test(edges_picked_up),
        cmocka_unit_test(copies_on_what_was_left),
        cmocka_unit_test(names_where_work_begins),
        cmocka_unit_test(sets_that_differ),
        cmocka_unit_test(sets_alike),
        cmocka_unit_test(left_and_named),
        cmocka_unit_test(sets_in_another_order),
        cmocka_unit_test(two_copies_with_sets),
        cmocka_unit_test(left_of_a_part),
        cmocka_unit_test(a_shoulder_behind_an_armhole),
        cmocka_unit_test(the_last_stitches_of_a_shoulder),
    };
    return cmocka_run_group_tests(tests, catalogue_set_up, catalogue_tear_down);
}
