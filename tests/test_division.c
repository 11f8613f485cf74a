/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Written patterns that divide the work or work along the edges of other work, in the usual wordings: the result of
 * each row in three sizes, or its refusal. Counts worked by hand; rules of the trade: common practice, no source.
 */
#include "proofed.h"

#define COUNT(list) (sizeof(list) / sizeof(list)[0])

struct divided {
    const char *pattern, *rows, *findings;
};

static void assert_divided(const struct hk_catalogue *catalogue, const struct divided *cases, size_t count)
{
    for (size_t i = 0; i < count; i++)
        assert_rows_at(catalogue, cases[i].pattern, cases[i].rows, cases[i].findings, __FILE__, __LINE__);
}

static void yokes_divide(void **state)
{
    static const struct divided cases[] = {
        /* Crochet raglan: sk for sleeve, ch underarm, in skipped sts, underarm chs. */
        {"# Yoke\n"
         "With MC and 5 mm hook, ch 60 (66, 72), join with sl st to form a ring.\n"
         "Rnd 1: Ch 1, sc in each ch around, join. 60 (66, 72) sc\n"
         "Rnd 2: Ch 1, *2 sc in next st, sc in next 2 sts; rep from * around, join. 80 (88, 96) sc\n"
         "Divide: Ch 1, sc in next 12 (13, 14) sts, ch 4 (5, 6), sk next 16 (18, 20) sts for sleeve, sc in "
         "next 24 (26, 28) sts, ch 4 (5, 6), sk next 16 (18, 20) sts for sleeve, sc in last 12 (13, 14) sts, "
         "join. 48 (52, 56) sc, 2 underarms of 4 (5, 6) chs\n"
         "\n"
         "# Body\n"
         "Rnd 1: Ch 1, sc in each sc and ch around, join. 56 (62, 68) sc\n"
         "Rnds 2-5: Ch 1, sc in each sc around, join. 56 (62, 68) sc\n"
         "Fasten off.\n"
         "\n"
         "# Sleeves (make 2)\n"
         "Join MC in center ch of underarm.\n"
         "Rnd 1: Ch 1, sc in each underarm ch, sc in each skipped st around, join. 20 (23, 26) sc\n"
         "Rnds 2-4: Ch 1, sc in each sc around, join. 20 (23, 26) sc\n"
         "Fasten off.\n",
         "3 Rnd 1: 60= 66= 72=\n"
         "4 Rnd 2: 80= 88= 96=\n"
         "5 Divide: ? ? ?\n"
         "8 Rnd 1: ? ? ?\n"
         "9 Rnds 2-5: ? ? ?\n"
         "14 Rnd 1: ? ? ?\n"
         "15 Rnds 2-4: ? ? ?\n",
         "pattern.txt:5:221: error: underarms is not a stitch in US terms; write it in stitches that hankful "
         "tables stitches lists, or write [take as 24 sc] after the row\n"
         "pattern.txt:14:20: error: no underarm chain is there to work this into\n"
         "pattern.txt:15:1: error: how many stitches this is worked on is not known; name what it is worked "
         "into, such as each row end of back, or write \"On an edge of 40 sts:\" before it\n"},
        /* A row that joins yarn to named stitches is worked on them, and each copy on its own set: none are left. */
        {"# Yoke\n"
         "With MC and 5 mm hook, ch 40, join with sl st to form a ring.\n"
         "Rnd 1: Ch 1, sc in each ch around, join. 40 sc\n"
         "Divide: Ch 1, sc in next 10 sts, sk next 10 sts for sleeve, ch 2, sc in next 10 sts, sk next 10 sts for "
         "sleeve, ch 2, join. 20 sc\n"
         "# Body\n"
         "Rnd 1: Ch 1, sc in each sc and in each ch around, join. 24 sc\n"
         "# Sleeves (make 2)\n"
         "With MC and 5 mm hook,\n"
         "Rnd 1: Join yarn with sl st in first skipped st of yoke, ch 1, sc in same st and in next 9 sts, join. 10 sc\n"
         "Rnd 2: Ch 1, sc in each st around, join. 10 sc\n",
         "3 Rnd 1: 40= 40= 40=\n"
         "4 Divide: 20= 20= 20=\n"
         "6 Rnd 1: 24= 24= 24=\n"
         "9 Rnd 1: 10= 10= 10=\n"
         "10 Rnd 2: 10= 10= 10=\n",
         ""},
        /* A row that divides with a wrong sum shows its sum. */
        {"# Yoke\n"
         "With MC and 5 mm hook, ch 40, join with sl st to form a ring.\n"
         "Rnd 1: Ch 1, sc in each ch around, join. 40 sc\n"
         "Divide: Ch 1, sc in next 10 sts, sk next 10 (11, 10) sts for sleeve, sc in next 10 sts, sk next 10 sts for "
         "sleeve, join. 20 sc\n"
         "# Back\n"
         "With MC and 5 mm hook, ch 40.\n"
         "Row 1: Sc in each ch across. 40 sc\n"
         "Divide: Sc in next 10 (11, 10) sts, sk next 10 (9, 10) sts for neck, sc in next 20 sts. 30 sc\n",
         "3 Rnd 1: 40= 40= 40=\n"
         "4 Divide: 20= ? 20=\n"
         "7 Row 1: 40= 40= 40=\n"
         "8 Divide: 30= 31!30 30=\n",
         "pattern.txt:1:3: note: \"Yoke\" leaves 20 (0, 20) places unworked: sleeve\n"
         "pattern.txt:4:92: error: no stitch is left to work this into: 10 + 11 + 10 + 10 are 41 stitches, of 40 (size "
         "M)\n"
         "pattern.txt:5:3: note: \"Back\" leaves 10 (9, 10) places unworked: neck\n"
         "pattern.txt:8:89: error: \"Divide\" states 30 sc, and has 30 (31, 30) (size M): 11 + 20 are 31; the rows "
         "below are worked on the computed stitches; check the row, or correct the count\n"},
        /* Working in skipped sts. */
        {"# Yoke\n"
         "With MC and 5 mm hook, ch 60 (66, 72), join with sl st to form a ring.\n"
         "Rnd 1: Ch 1, sc in each ch around, join. 60 (66, 72) sc\n"
         "Rnd 2: Ch 1, sc in next 10 sts, sk 20 (22, 24) sts, ch 6, sc in next 10 (12, 14) sts, sk 10 sts, sc "
         "in next 10 (12, 14) sts, join. 30 (34, 38) sc, 6 chs\n"
         "# Sleeve\n"
         "Join yarn to any underarm ch.\n"
         "Rnd 1: Ch 1, sc in each of the 6 underarm chs, sc in each of the 20 (22, 24) skipped sts, join. 26 "
         "(28, 30) sc\n",
         "3 Rnd 1: 60= 66= 72=\n"
         "4 Rnd 2: 30= 34= 38=\n"
         "7 Rnd 1: 26= 28= 30=\n",
         ""},
        /* Knit holders named. */
        {"# Yoke\n"
         "With MC and 5 mm needles, cast on 50 (54, 58) sts, join to work in the round.\n"
         "Rnd 1: K. 50 (54, 58) sts\n"
         "Rnd 2: K8 (9, 10), slip next 10 (11, 12) sts to a stitch holder, CO 3, k14, sl next 10 (11, 12) sts "
         "onto a holder, CO 3, k to end. 36 (38, 40) sts\n"
         "Rnds 3-6: Knit. 36 (38, 40) sts\n"
         "BO all sts.\n"
         "# Sleeve (make 2)\n"
         "Return 10 (11, 12) held sts to needles. Join yarn and pick up and knit 3 sts at underarm.\n"
         "Rnd 1: Knit. 13 (14, 15) sts\n"
         "BO.\n",
         "3 Rnd 1: 50= 54= 58=\n"
         "4 Rnd 2: 36= 38= 40=\n"
         "5 Rnds 3-6: 36= 38= 40=\n"
         "6 : 0 0 0\n"
         "9 Rnd 1: 13= 14= 15=\n"
         "10 : 0 0 0\n",
         ""},
        /* Transfer. */
        {"# Yoke\n"
         "With MC and 5 mm needles, cast on 50 (54, 58) sts, join to work in the round.\n"
         "Rnd 1: K. 50 (54, 58) sts\n"
         "Rnd 2: K8 (9, 10), transfer next 10 (11, 12) sts to scrap yarn for sleeve, using the backward loop "
         "method cast on 3 sts, k14, transfer next 10 (11, 12) sts to scrap yarn for sleeve, cast on 3 sts "
         "using the backward loop method, k8 (9, 10). 36 (38, 40) sts\n"
         "# Left sleeve\n"
         "Transfer held 10 (11, 12) sts of left sleeve to needles.\n"
         "Rnd 1: K10 (11, 12), pick up and k 3 sts from cast-on edge at underarm. 13 (14, 15) sts\n"
         "Rnd 2: K.\n"
         "# Right sleeve\n"
         "Place 10 (11, 12) sts from holder on needles.\n"
         "Rnd 1: K across held sts, pick up and knit 3 sts along underarm cast-on. 13 (14, 15) sts\n",
         "3 Rnd 1: 50= 54= 58=\n"
         "4 Rnd 2: ? ? ?\n"
         "6 : ? ? ?\n"
         "7 Rnd 1: ? ? ?\n"
         "8 Rnd 2: ? ? ?\n"
         "11 Rnd 1: ? ? ?\n",
         "pattern.txt:4:76: error: using is not a stitch in US terms; write it in stitches that hankful tables "
         "stitches lists, or write [take as 24 sc] after the row\n"
         "pattern.txt:6:1: error: Transfer is not a stitch in US terms; write it in stitches that hankful tables "
         "stitches lists, or write [take as 24 sc] after the row\n"
         "pattern.txt:7:52: error: on is not a stitch in US terms; write it in stitches that hankful tables "
         "stitches lists, or write [take as 24 sc] after the row\n"
         "pattern.txt:10:1: note: the stitches that were held are taken as they are stated\n"
         "pattern.txt:11:70: error: on is not a stitch in US terms; write it in stitches that hankful tables "
         "stitches lists, or write [take as 24 sc] after the row\n"},
        /* Wrong sum. */
        {"# Yoke\n"
         "With MC and 5 mm hook, ch 60 (66, 72), join with sl st to form a ring.\n"
         "Rnd 1: Ch 1, sc in each ch around, join. 60 (66, 72) sc\n"
         "Divide: Ch 1, sc in next 12 (13, 14) sts, sk next 16 (18, 20) sts for sleeve, ch 4, sc in next 14 "
         "(15, 16) sts, sk next 16 (18, 20) sts for sleeve, ch 4, sc in each st to end, join. 30 (32, 34) sc "
         "plus 4 chs at each underarm\n",
         "3 Rnd 1: 60= 66= 72=\n"
         "4 Divide: 28!30 30!32 32!34\n",
         "pattern.txt:1:3: note: \"Yoke\" leaves 32 (36, 40) places unworked: sleeve\n"
         "pattern.txt:4:183: error: \"Divide\" states 30 (32, 34) sc, and has 28 (30, 32); the rows below are worked "
         "on the computed stitches; check the row, or correct the count\n"},
    };
    assert_divided(*state, cases, COUNT(cases));
}

static void sides_and_flaps_are_worked_in_turn(void **state)
{
    static const struct divided cases[] = {
        /* Bottom-up yoke joining (knit). */
        {"# Body\n"
         "With MC and 5 mm needles, cast on 60 (64, 68) sts and join to work in the round.\n"
         "Rnds 1-5: K. 60 (64, 68) sts\n"
         "Rnd 6: K26 (28, 30), bind off 4 sts, k26 (28, 30), bind off 4 sts. 52 (56, 60) sts\n"
         "Break yarn and set aside.\n"
         "# Sleeves (make 2)\n"
         "With MC and 5 mm needles, cast on 20 (22, 24) sts, join.\n"
         "Rnds 1-5: K.\n"
         "Rnd 6: Bind off 4 sts, k to end. 16 (18, 20) sts\n"
         "Place rem 16 (18, 20) sts on hold.\n"
         "# Yoke\n"
         "Joining rnd: K across 26 (28, 30) sts of front, k across 16 (18, 20) sts of left sleeve, k across "
         "26 (28, 30) sts of back, k across 16 (18, 20) sts of right sleeve. 84 (92, 100) sts\n"
         "Next rnd: K. 84 (92, 100) sts\n",
         "3 Rnds 1-5: 60= 64= 68=\n"
         "4 Rnd 6: 52= 56= 60=\n"
         "8 Rnds 1-5: 20 22 24\n"
         "9 Rnd 6: 16= 18= 20=\n"
         "10 : 0 0 0\n"
         "12 Joining rnd: ? ? ?\n"
         "13 Next rnd: ~84= ~92= ~100=\n",
         "pattern.txt:6:3: note: \"Sleeves\" leaves 16 (18, 20) places unworked\n"
         "pattern.txt:12:39: error: of is not a stitch in US terms; write it in stitches that hankful tables "
         "stitches lists, or write [take as 24 sc] after the row\n"},
        /* Joining, other words. */
        {"# Body\n"
         "With MC and 5 mm needles, cast on 60 (64, 68) sts and join to work in the round.\n"
         "Rnds 1-5: K. 60 (64, 68) sts\n"
         "Do not break yarn. Set aside.\n"
         "# Sleeves (make 2)\n"
         "With MC and 5 mm needles, cast on 20 (22, 24) sts, join.\n"
         "Rnds 1-5: K. 20 (22, 24) sts\n"
         "Place first 4 sts on waste yarn for underarm, then place rem 16 (18, 20) sts on holder.\n"
         "# Yoke\n"
         "Joining rnd: K26 (28, 30) sts of body, place next 4 sts on hold for underarm, k16 (18, 20) held sts "
         "of sleeve, k26 (28, 30) sts of body, place next 4 sts on hold for underarm, k16 (18, 20) held sts "
         "of sleeve. 84 (92, 100) sts\n",
         "3 Rnds 1-5: 60= 64= 68=\n"
         "7 Rnds 1-5: 20= 22= 24=\n"
         "8 : 0 0 0\n"
         "10 Joining rnd: ? ? ?\n",
         "pattern.txt:5:3: note: \"Sleeves\" leaves 4 places unworked: underarm\n"
         "pattern.txt:5:3: note: \"Sleeves\" leaves 16 (18, 20) places unworked\n"
         "pattern.txt:10:46: error: no stitch is left to work this into\n"},
        /* Yoke crochet joined bottom-up. */
        {"# Body\n"
         "With MC and 5 mm hook, ch 60 (64, 68), join.\n"
         "Rnds 1-4: Ch 1, sc in each st around, join. 60 (64, 68) sc\n"
         "Fasten off.\n"
         "# Sleeves (make 2)\n"
         "With MC and 5 mm hook, ch 20 (22, 24), join.\n"
         "Rnds 1-4: Ch 1, sc in each st around, join. 20 (22, 24) sc\n"
         "Fasten off.\n"
         "# Yoke\n"
         "With MC and 5 mm hook, join yarn to body.\n"
         "Rnd 1: Ch 1, sc in next 26 (28, 30) sts of body, sk next 4 sts of body, sc in next 16 (18, 20) sts "
         "of sleeve, sc in next 26 (28, 30) sts of body, sc in next 16 (18, 20) sts of sleeve, join. 84 (92, "
         "100) sc\n"
         "Rnd 2: Ch 1, sc in each sc around, join. 84 (92, 100) sc\n",
         "3 Rnds 1-4: 60= 64= 68=\n"
         "7 Rnds 1-4: 20= 22= 24=\n"
         "11 Rnd 1: 84= 92= 100=\n"
         "12 Rnd 2: 84= 92= 100=\n",
         "pattern.txt:1:3: note: \"Body\" leaves 4 places unworked\n"},
        /* Crochet vest armholes, leave, rejoin. */
        {"# Body\n"
         "With MC and 5 mm hook, ch 61 (65, 69).\n"
         "Row 1: Sc in 2nd ch from hook and in each ch across, turn. 60 (64, 68) sc\n"
         "Rows 2-5: Ch 1, sc in each sc across, turn. 60 (64, 68) sc\n"
         "Right front:\n"
         "Row 6: Ch 1, sc in next 13 (14, 15) sc, turn, leave rem sts unworked. 13 (14, 15) sc\n"
         "Rows 7-10: Ch 1, sc in each sc across, turn. 13 (14, 15) sc\n"
         "Fasten off.\n"
         "Back:\n"
         "Row 6: With RS facing, skip next 4 sts for underarm, rejoin yarn in next st, ch 1, sc in same st "
         "and in next 25 (27, 29) sts, turn. 26 (28, 30) sc\n"
         "Rows 7-10: Ch 1, sc in each sc across, turn. 26 (28, 30) sc\n"
         "Fasten off.\n"
         "Left front:\n"
         "Row 6: Skip next 4 sts from back, attach yarn to next st, ch 1, sc in same st as joining, sc in "
         "each st across, turn. 13 (14, 15) sc\n"
         "Rows 7-10: Ch 1, sc in each sc across, turn. 13 (14, 15) sc\n"
         "Fasten off.\n",
         "3 Row 1: 60= 64= 68=\n"
         "4 Rows 2-5: 60= 64= 68=\n"
         "6 Row 6: 13= 14= 15=\n"
         "7 Rows 7-10: 13= 14= 15=\n"
         "10 Row 6: 26= 28= 30=\n"
         "11 Rows 7-10: 26= 28= 30=\n"
         "14 Row 6: 13= 14= 15=\n"
         "15 Rows 7-10: 13= 14= 15=\n",
         "pattern.txt:1:3: note: \"Body\" leaves 8 places unworked\n"},
        /* Neck sides of a back. */
        {"# Back\n"
         "With MC and 5 mm hook, ch 41 (45, 49).\n"
         "Row 1: Sc in 2nd ch from hook and in each ch across, turn. 40 (44, 48) sc\n"
         "Rows 2-5: Ch 1, sc in each sc across, turn. 40 (44, 48) sc\n"
         "First shoulder:\n"
         "Row 6: Ch 1, sc in first 10 (11, 12) sts, turn. 10 (11, 12) sc\n"
         "Row 7: Ch 1, sc in each sc across. Fasten off. 10 (11, 12) sc\n"
         "Second shoulder:\n"
         "Row 6: Sk next 20 (22, 24) sts for neck, attach new ball in next st, ch 1, sc in same st, sc in "
         "each st to end, turn. 10 (11, 12) sc\n"
         "Row 7: Ch 1, sc in each sc across. 10 (11, 12) sc\n"
         "Fasten off.\n",
         "3 Row 1: 40= 44= 48=\n"
         "4 Rows 2-5: 40= 44= 48=\n"
         "6 Row 6: 10= 11= 12=\n"
         "7 Row 7: 10= 11= 12=\n"
         "9 Row 6: 10= 11= 12=\n"
         "10 Row 7: 10= 11= 12=\n",
         "pattern.txt:1:3: note: \"Back\" leaves 20 (22, 24) places unworked\n"},
        /* Knit neck: bind off center. */
        {"# Front\n"
         "With MC and 5 mm needles, cast on 40 (44, 48) sts.\n"
         "Rows 1-4: K. 40 (44, 48) sts\n"
         "Row 5: K10 (11, 12), bind off center 20 (22, 24) sts, k to end. 20 (22, 24) sts\n"
         "Working both sides at once with separate balls of yarn, work 4 rows.\n"
         "Bind off.\n",
         "3 Rows 1-4: 40= 44= 48=\n"
         "4 Row 5: ? ? ?\n"
         "6 : ? ? ?\n",
         "pattern.txt:4:8: error: two sides that are worked at once are not read; write the rows of one side "
         "on its stitches, then those of the other, which begins with \"Rejoin yarn to rem sts\"\n"},
        /* Knit neck: join new ball, turn. */
        {"# Front\n"
         "With MC and 5 mm needles, cast on 40 (44, 48) sts.\n"
         "Rows 1-4: K. 40 (44, 48) sts\n"
         "Row 5: K10 (11, 12), turn, leaving rem sts on holder. 10 (11, 12) sts\n"
         "Rows 6-8: K. 10 (11, 12) sts\n"
         "Bind off.\n"
         "Second side:\n"
         "Place center 20 (22, 24) sts on holder, rejoin yarn to rem 10 (11, 12) sts.\n"
         "Row 5: K. 10 (11, 12) sts\n"
         "Rows 6-8: K. 10 (11, 12) sts\n"
         "Bind off.\n",
         "3 Rows 1-4: 40= 44= 48=\n"
         "4 Row 5: 10= 11= 12=\n"
         "5 Rows 6-8: 10= 11= 12=\n"
         "6 : 0 0 0\n"
         "9 Row 5: 10= 11= 12=\n"
         "10 Rows 6-8: 10= 11= 12=\n"
         "11 : 0 0 0\n",
         "pattern.txt:1:3: note: \"Front\" leaves 20 (22, 24) places unworked\n"},
        /* Knit neck: with next sts on holder. */
        {"# Back\n"
         "With MC and 5 mm needles, cast on 40 (44, 48) sts.\n"
         "Rows 1-4: K. 40 (44, 48) sts\n"
         "Shape neck:\n"
         "Next row: K12 (13, 14), turn. Work on these 12 (13, 14) sts only.\n"
         "Next row: P. 12 (13, 14) sts\n"
         "Next row: K. 12 (13, 14) sts\n"
         "Bind off.\n"
         "With RS facing, rejoin yarn to rem sts, bind off 16 (18, 20) sts, k to end. 12 (13, 14) sts\n"
         "Next row: P. 12 (13, 14) sts\n"
         "Bind off.\n",
         "3 Rows 1-4: 40= 44= 48=\n"
         "5 Next row: 40 44 48\n"
         "6 Next row: 12= 13= 14=\n"
         "7 Next row: 12= 13= 14=\n"
         "8 : 0 0 0\n"
         "9 : 12= 13= 14=\n"
         "10 Next row: 12= 13= 14=\n"
         "11 : 0 0 0\n",
         ""},
        /* Thumb. */
        {"# Mitten\n"
         "With MC and 5 mm needles, cast on 30 (32, 34) sts, join.\n"
         "Rnds 1-6: K. 30 (32, 34) sts\n"
         "Thumb opening: K1, place next 6 sts on waste yarn, cast on 6 sts, k to end. 30 (32, 34) sts\n"
         "Rnds 8-12: K. 30 (32, 34) sts\n"
         "Cut yarn and draw through rem sts.\n"
         "# Thumb\n"
         "Slip 6 held thumb sts to needles.\n"
         "Rnd 1: K6, pick up and knit 6 sts along cast-on edge. 12 sts\n"
         "Rnds 2-5: K. 12 sts\n",
         "3 Rnds 1-6: 30= 32= 34=\n"
         "4 Thumb opening: 30= 32= 34=\n"
         "5 Rnds 8-12: 30= 32= 34=\n"
         "9 Rnd 1: ? ? ?\n"
         "10 Rnds 2-5: ~12= ~12= ~12=\n",
         "pattern.txt:9:46: error: on is not a stitch in US terms; write it in stitches that hankful tables "
         "stitches lists, or write [take as 24 sc] after the row\n"},
        /* Crochet thumb: ch and skip. */
        {"# Mitten\n"
         "With MC and 5 mm hook, ch 24 (26, 28), join.\n"
         "Rnds 1-4: Ch 1, sc in each st around, join. 24 (26, 28) sc\n"
         "Rnd 5: Ch 1, sc in next 4 sts, ch 5, skip 5 sts, sc in each st to end, join. 19 (21, 23) sc, 1 ch-5 "
         "sp\n"
         "Rnd 6: Ch 1, sc in each sc and in each ch around, join. 24 (26, 28) sc\n"
         "# Thumb\n"
         "Rnd 1: Join yarn at thumb opening, ch 1, sc in each of 5 skipped sts, sc in each of 5 chs, join. 10 "
         "sc\n"
         "Rnd 2: Ch 1, sc in each st around, join. 10 sc\n",
         "3 Rnds 1-4: 24= 26= 28=\n"
         "4 Rnd 5: 19= 21= 23=\n"
         "5 Rnd 6: 24= 26= 28=\n"
         "7 Rnd 1: ? ? ?\n"
         "8 Rnd 2: ~10= ~10= ~10=\n",
         "pattern.txt:7:77: error: the next place is a sc, not a chain; skip it by name, or name what is "
         "there\n"},
        /* Sock, heel flap and gusset. */
        {"# Sock\n"
         "With MC and 5 mm needles, cast on 40 (44, 48) sts, join.\n"
         "Rnds 1-10: *K2, p2; rep from * around. 40 (44, 48) sts\n"
         "Heel flap:\n"
         "Row 1: K20 (22, 24), turn, leaving rem sts on hold. 20 (22, 24) sts\n"
         "Row 2: P. 20 (22, 24) sts\n"
         "Rows 3-20: Rep rows 1 and 2 9 more times. 20 (22, 24) sts\n"
         "Gusset:\n"
         "Rnd 1: K across 20 (22, 24) heel sts, pick up and knit 10 sts along side of heel flap, k across 20 "
         "(22, 24) held instep sts, pick up and knit 10 sts along other side of heel flap. 60 (64, 68) sts\n"
         "Rnd 2: K. 60 (64, 68) sts\n",
         "3 Rnds 1-10: 40= 44= 48=\n"
         "5 Row 1: 20= 22= 24=\n"
         "6 Row 2: 20= 22= 24=\n"
         "7 Rows 3-20: 20= 22= 24=\n"
         "9 Rnd 1: 60= 64= 68=\n"
         "10 Rnd 2: 60= 64= 68=\n",
         ""},
        /* Sock 2. */
        {"# Leg\n"
         "With MC and 5 mm needles, cast on 40 (44, 48) sts, join.\n"
         "Rnds 1-10: K. 40 (44, 48) sts\n"
         "# Heel flap\n"
         "Place last 20 (22, 24) sts on hold for instep.\n"
         "Row 1: K20 (22, 24), turn.\n"
         "Row 2: P.\n"
         "Rows 3-20: Rep rows 1-2. 20 (22, 24) sts\n"
         "# Gusset\n"
         "Rnd 1: K20 (22, 24), pick up and knit 1 st in every other row end of heel flap, k20 (22, 24) held "
         "sts, pick up and knit 1 st in every other row end of heel flap. 60 (64, 68) sts\n",
         "3 Rnds 1-10: 40= 44= 48=\n"
         "5 : 0 0 0\n"
         "6 Row 1: ? ? ?\n"
         "7 Row 2: ? ? ?\n"
         "8 Rows 3-20: ? ? ?\n"
         "10 Rnd 1: ? ? ?\n",
         "pattern.txt:1:3: note: \"Leg\" leaves 20 (22, 24) places unworked: instep\n"
         "pattern.txt:6:8: error: no stitch is left to work this into\n"},
    };
    assert_divided(*state, cases, COUNT(cases));
}

static void edges_of_other_work(void **state)
{
    static const struct divided cases[] = {
        /* Band 3 for every 4 rows. */
        {"# Front\n"
         "With MC and 5 mm needles, cast on 20 sts.\n"
         "Rows 1-40 (1-44, 1-48): K. 20 sts\n"
         "Bind off.\n"
         "# Band\n"
         "With MC and 5 mm needles, pick up and knit 3 sts for every 4 rows along front edge.\n"
         "Row 1: K. 30 (33, 36) sts\n"
         "Bind off.\n",
         "3 Rows 1-40 (1-44, 1-48): 20= 20= 20=\n"
         "4 : 0 0 0\n"
         "6 : 30 33 36\n"
         "7 Row 1: 30= 33= 36=\n"
         "8 : 0 0 0\n",
         ""},
        /* Band 3 for every 4 in a row. */
        {"# Front\n"
         "With MC and 5 mm needles, cast on 20 sts.\n"
         "Rows 1-40 (1-44, 1-48): K. 20 sts\n"
         "Bind off.\n"
         "# Band\n"
         "Row 1: Pick up and knit 3 sts for every 4 rows along edge of front. 30 (33, 36) sts\n"
         "Row 2: K. 30 (33, 36) sts\n"
         "Bind off.\n",
         "3 Rows 1-40 (1-44, 1-48): 20= 20= 20=\n"
         "4 : 0 0 0\n"
         "6 Row 1: 30= 33= 36=\n"
         "7 Row 2: 30= 33= 36=\n"
         "8 : 0 0 0\n",
         ""},
        /* Sc in each row end; skipping every 4th. */
        {"# Front\n"
         "With MC and 5 mm hook, ch 21.\n"
         "Row 1: Sc in 2nd ch from hook and in each ch across, turn. 20 sc\n"
         "Rows 2-40 (2-44, 2-48): Ch 1, sc in each sc across, turn. 20 sc\n"
         "Fasten off.\n"
         "# Band\n"
         "Join MC at bottom corner of front.\n"
         "Row 1: Ch 1, sc in each row end, skipping every 4th row end, turn. 30 (33, 36) sc\n"
         "Row 2: Ch 1, sc in each sc across. 30 (33, 36) sc\n"
         "# Other band\n"
         "Join MC at top of front.\n"
         "Row 1: Ch 1, sc evenly along side of front, working 1 sc in each row end. 40 (44, 48) sc\n"
         "Row 2: Ch 1, sc in each sc across. 40 (44, 48) sc\n"
         "# Third band\n"
         "With MC, work along edge of front.\n"
         "Row 1: Work 30 (33, 36) sc evenly along edge. 30 (33, 36) sc\n"
         "Row 2: Ch 1, sc in each sc across. 30 (33, 36) sc\n"
         "# Fourth band\n"
         "Join yarn to front.\n"
         "Row 1: 1 sc in each row end across. 40 (44, 48) sc\n"
         "# Fifth band\n"
         "Row 1: Join yarn in first row end of front, ch 1, sc in side of each row to end. 40 (44, 48) sc\n"
         "# Sixth band\n"
         "Join yarn to side of front.\n"
         "Row 1: Ch 1, evenly sc 33 (36, 39) along front edge, turn. 33 (36, 39) sc\n"
         "Row 2: Ch 1, sc in each sc across. 33 (36, 39) sc\n",
         "3 Row 1: 20= 20= 20=\n"
         "4 Rows 2-40 (2-44, 2-48): 20= 20= 20=\n"
         "8 Row 1: 30= 33= 36=\n"
         "9 Row 2: 30= 33= 36=\n"
         "12 Row 1: ? ? ?\n"
         "13 Row 2: ? ? ?\n"
         "16 Row 1: 30= 33= 36=\n"
         "17 Row 2: 30= 33= 36=\n"
         "20 Row 1: 40= 44= 48=\n"
         "22 Row 1: ? ? ?\n"
         "25 Row 1: ? ? ?\n"
         "26 Row 2: ? ? ?\n",
         "pattern.txt:12:17: error: \"evenly\" is not understood here; write where they are worked, such as "
         "*k 18, M1; rep from * to end\n"
         "pattern.txt:13:1: error: how many stitches this is worked on is not known; name what it is worked "
         "into, such as each row end of back, or write \"On an edge of 40 sts:\" before it\n"
         "pattern.txt:22:74: error: to is not a stitch in US terms; write it in stitches that hankful tables "
         "stitches lists, or write [take as 24 sc] after the row\n"
         "pattern.txt:25:14: error: \"evenly\" is not understood here; write where they are worked, such as "
         "*k 18, M1; rep from * to end\n"
         "pattern.txt:26:1: error: how many stitches this is worked on is not known; name what it is worked "
         "into, such as each row end of back, or write \"On an edge of 40 sts:\" before it\n"},
        /* 2 sc in side of each dc row. */
        {"# Front\n"
         "With MC and 5 mm hook, ch 22.\n"
         "Row 1: Dc in 4th ch from hook and in each ch across, turn. 20 dc\n"
         "Rows 2-12 (2-13, 2-14): Ch 3, dc in next st and in each st across, turn. 20 dc\n"
         "Fasten off.\n"
         "# Band\n"
         "Join yarn to corner of front.\n"
         "Row 1: Ch 1, 2 sc in side of each dc row, turn. 24 (26, 28) sc\n"
         "Row 2: Ch 1, sc in each sc across. 24 (26, 28) sc\n"
         "# Band two\n"
         "Join yarn.\n"
         "Row 1: Ch 1, work 2 sc in each row end of front, turn. 24 (26, 28) sc\n"
         "# Band three\n"
         "Join yarn.\n"
         "Row 1: Ch 1, 2 sc around the post of each dc along side edge of front, turn. 24 (26, 28) sc\n"
         "# Band four\n"
         "Join yarn.\n"
         "Row 1: Ch 1, 2 sc in end of each row of front, turn. 24 (26, 28) sc\n"
         "# Band five\n"
         "Join yarn.\n"
         "Row 1: Ch 1, 2 sc in each dc row end along side of front, turn. 24 (26, 28) sc\n"
         "# Band six\n"
         "Join yarn.\n"
         "Row 1: Ch 1, (2 sc in next row end, sc in next row end) 6 times, turn. 18 sc\n",
         "3 Row 1: 20= 20= 20=\n"
         "4 Rows 2-12 (2-13, 2-14): 20= 20= 20=\n"
         "8 Row 1: 24= 26= 28=\n"
         "9 Row 2: 24= 26= 28=\n"
         "12 Row 1: 24= 26= 28=\n"
         "15 Row 1: ? ? ?\n"
         "18 Row 1: 24= 26= 28=\n"
         "21 Row 1: 24= 26= 28=\n"
         "24 Row 1: 18= 18= 18=\n",
         "pattern.txt:15:52: error: side is not a stitch in US terms; write it in stitches that hankful tables "
         "stitches lists, or write [take as 24 sc] after the row\n"},
        /* Edging around blanket, 3 in corner. */
        {"# Blanket\n"
         "With MC and 5 mm hook, ch 31 (41, 51).\n"
         "Row 1: Sc in 2nd ch from hook and in each ch across, turn. 30 (40, 50) sc\n"
         "Rows 2-30 (2-40, 2-50): Ch 1, sc in each sc across, turn. 30 (40, 50) sc\n"
         "Do not fasten off.\n"
         "# Edging\n"
         "Rnd 1: Ch 1, sc around all four sides, 3 sc in each corner, join. 124 (164, 204) sc\n"
         "Rnd 2: Ch 1, sc in each sc around, join.\n",
         "3 Row 1: 30= 40= 50=\n"
         "4 Rows 2-30 (2-40, 2-50): 30= 40= 50=\n"
         "7 Rnd 1: ? ? ?\n"
         "8 Rnd 2: ~124 ~164 ~204\n",
         "pattern.txt:7:24: error: all is not a stitch in US terms; write it in stitches that hankful tables "
         "stitches lists, or write [take as 24 sc] after the row\n"},
        /* Edging written out. */
        {"# Blanket\n"
         "With MC and 5 mm hook, ch 31 (41, 51).\n"
         "Row 1: Sc in 2nd ch from hook and in each ch across, turn. 30 (40, 50) sc\n"
         "Rows 2-30 (2-40, 2-50): Ch 1, sc in each sc across, turn. 30 (40, 50) sc\n"
         "# Edging\n"
         "Rnd 1: Ch 1, sc in each st across, ch 2, sc in each row end of blanket, ch 2, sc in each foundation "
         "ch of blanket, ch 2, sc in each row end of blanket, ch 2, join. 120 (160, 200) sc, 4 ch-2 sps\n"
         "Rnd 2: Ch 1, *sc in each sc to next ch-2 sp, 3 sc in ch-2 sp; rep from * around, join. 132 (172, "
         "212) sc\n",
         "3 Row 1: 30= 40= 50=\n"
         "4 Rows 2-30 (2-40, 2-50): 30= 40= 50=\n"
         "6 Rnd 1: 120= 160= 200=\n"
         "7 Rnd 2: 132= 172= 212=\n",
         ""},
        /* Edging in piece. */
        {"# Blanket\n"
         "With MC and 5 mm hook, ch 31 (41, 51).\n"
         "Row 1: Sc in 2nd ch from hook and in each ch across, turn. 30 (40, 50) sc\n"
         "Rows 2-30 (2-40, 2-50): Ch 1, sc in each sc across, turn. 30 (40, 50) sc\n"
         "Border:\n"
         "Rnd 1: Ch 1, 3 sc in first st, sc in each st to last st, 3 sc in last st, sc in each row end down "
         "side, 3 sc in first ch of foundation, sc in each foundation ch to last ch, 3 sc in last ch, sc in "
         "each row end up side, join. 128 (168, 208) sc\n",
         "3 Row 1: 30= 40= 50=\n"
         "4 Rows 2-30 (2-40, 2-50): 30= 40= 50=\n"
         "6 Rnd 1: ? ? ?\n",
         "pattern.txt:6:122: error: of is not a stitch in US terms; write it in stitches that hankful tables "
         "stitches lists, or write [take as 24 sc] after the row\n"},
        /* Other side of the foundation. */
        {"# Bag\n"
         "With MC and 5 mm hook, ch 21 (23, 25).\n"
         "Rnd 1: Sc in 2nd ch from hook and in each ch across, working on other side of foundation ch, sc in "
         "each ch across, join. 40 (44, 48) sc\n"
         "Rnd 2: Ch 1, sc in each sc around, join. 40 (44, 48) sc\n",
         "3 Rnd 1: 40= 44= 48=\n"
         "4 Rnd 2: 40= 44= 48=\n",
         ""},
        /* Other side later. */
        {"# Cuff\n"
         "With MC and 5 mm hook, ch 21 (23, 25).\n"
         "Row 1: Sc in 2nd ch from hook and in each ch across, turn. 20 (22, 24) sc\n"
         "Rows 2-5: Ch 1, sc in each sc across, turn. 20 (22, 24) sc\n"
         "Fasten off.\n"
         "# Ruffle\n"
         "Join yarn to foundation ch of cuff.\n"
         "Row 1: Ch 1, sc in each ch across opposite side of foundation chain of cuff, turn. 20 (22, 24) sc\n"
         "Row 2: Ch 1, 2 sc in each sc across. 40 (44, 48) sc\n"
         "# Ruffle two\n"
         "Row 1: Join yarn to other side of foundation ch, ch 1, sc in each free loop of foundation ch of "
         "cuff. 20 (22, 24) sc\n"
         "# Ruffle three\n"
         "Join MC.\n"
         "Row 1: Working in free loops of foundation ch, sc in each ch across. 20 (22, 24) sc\n",
         "3 Row 1: 20= 22= 24=\n"
         "4 Rows 2-5: 20= 22= 24=\n"
         "8 Row 1: ? ? ?\n"
         "9 Row 2: ? ? ?\n"
         "11 Row 1: 20= 22= 24=\n"
         "14 Row 1: ? ? ?\n",
         "pattern.txt:8:69: error: of is not a stitch in US terms; write it in stitches that hankful tables "
         "stitches lists, or write [take as 24 sc] after the row\n"
         "pattern.txt:9:1: error: how many stitches this is worked on is not known; name what it is worked "
         "into, such as each row end of back, or write \"On an edge of 40 sts:\" before it\n"
         "pattern.txt:14:8: error: Working is not a stitch in US terms; write it in stitches that hankful tables "
         "stitches lists, or write [take as 24 sc] after the row\n"},
    };
    assert_divided(*state, cases, COUNT(cases));
}

static void copies_order_and_names(void **state)
{
    static const struct divided cases[] = {
        /* Motifs. */
        {"# Motif (make 6)\n"
         "With MC and 5 mm hook, make a magic ring.\n"
         "Rnd 1: Ch 1, 12 sc in ring, join. 12 sc\n"
         "Rnd 2: Ch 1, 2 sc in each sc around, join. 24 sc\n"
         "Fasten off.\n"
         "# Border\n"
         "Join yarn to any st.\n"
         "Rnd 1: Ch 1, sc in next 12 sts of all motifs, join. 72 sc\n",
         "3 Rnd 1: 12= 12= 12=\n"
         "4 Rnd 2: 24= 24= 24=\n"
         "8 Rnd 1: ? ? ?\n",
         "pattern.txt:8:20: error: whether these are of each or of all together is not stated; write each st of "
         "all, or one of them in brackets: *sc in next 4 sts of motif; rep from *\n"},
        /* Motifs each. */
        {"# Motif (make 6)\n"
         "With MC and 5 mm hook, make a magic ring.\n"
         "Rnd 1: Ch 1, 12 sc in ring, join. 12 sc\n"
         "Rnd 2: Ch 1, 2 sc in each sc around, join. 24 sc\n"
         "Fasten off.\n"
         "# Border\n"
         "Join yarn to any st.\n"
         "Rnd 1: Ch 1, sc in each st around all motifs, join. 144 sc\n"
         "Rnd 2: Ch 1, sc in each sc around, join. 144 sc\n",
         "3 Rnd 1: 12= 12= 12=\n"
         "4 Rnd 2: 24= 24= 24=\n"
         "8 Rnd 1: 144= 144= 144=\n"
         "9 Rnd 2: 144= 144= 144=\n",
         ""},
        /* Strip of motifs. */
        {"# Motif (make 6)\n"
         "With MC and 5 mm hook, make a magic ring.\n"
         "Rnd 1: Ch 1, 12 sc in ring, join. 12 sc\n"
         "Fasten off.\n"
         "# Joining\n"
         "Join yarn.\n"
         "Row 1: *Sc in next 4 sts of motif, ch 2; rep from * 5 more times, turn. 24 sc, 6 ch-2 sps\n",
         "3 Rnd 1: 12= 12= 12=\n"
         "7 Row 1: 24= 24= 24=\n",
         ""},
        /* Rib joined. */
        {"# Body\n"
         "With MC and 5 mm hook, ch 41 (45, 49).\n"
         "Row 1: Sc in 2nd ch from hook and in each ch across, turn. 40 (44, 48) sc\n"
         "Rows 2-5: Ch 1, sc in each sc across, turn. 40 (44, 48) sc\n"
         "Ribbing:\n"
         "Row 1: Ch 7, sc in 2nd ch from hook and in each ch across, sl st in next 2 sts of body, turn. 6 sc\n"
         "Row 2: Sk 2 sl sts, sc in blo of next 6 sc, turn. 6 sc\n"
         "Row 3: Ch 1, sc in blo of next 6 sc, sl st in next 2 sts of body, turn. 6 sc\n"
         "Rep rows 2 and 3 across edge of body. 6 sc\n",
         "3 Row 1: 40= 44= 48=\n"
         "4 Rows 2-5: 40= 44= 48=\n"
         "6 Row 1: 6= 6= 6=\n"
         "7 Row 2: 6= 6= 6=\n"
         "8 Row 3: 6= 6= 6=\n"
         "9 : ? ? ?\n",
         "pattern.txt:9:18: error: across is not a stitch in US terms; write it in stitches that hankful tables "
         "stitches lists, or write [take as 24 sc] after the row\n"},
        /* Rib joined base. */
        {"# Body\n"
         "With MC and 5 mm hook, ch 41 (45, 49).\n"
         "Row 1: Sc in 2nd ch from hook and in each ch across, turn. 40 (44, 48) sc\n"
         "Rows 2-5: Ch 1, sc in each sc across, turn. 40 (44, 48) sc\n"
         "Ribbing:\n"
         "Row 1: Ch 7, sc in 2nd ch from hook and in each ch across, sl st in next 2 sts along edge, turn. 6 "
         "sc\n"
         "Row 2: Sk 2 sl sts, sc BLO in next 6 sc, turn. 6 sc\n"
         "Row 3: Ch 1, sc BLO in next 6 sc, sl st in next 2 sts along edge, turn. 6 sc\n"
         "Rep rows 2 and 3 until all sts of the edge are worked. 6 sc\n",
         "3 Row 1: 40= 44= 48=\n"
         "4 Rows 2-5: 40= 44= 48=\n"
         "6 Row 1: ? ? ?\n"
         "7 Row 2: ~6= ~6= ~6=\n"
         "8 Row 3: 6= 6= 6=\n"
         "9 : ? ? ?\n",
         "pattern.txt:6:20: error: there are fewer than 2 chains from the hook; start the work with a chain, "
         "or write in first st\n"
         "pattern.txt:9:18: error: where this ends cannot be read; write how many rows, or \"until piece "
         "measures 20 cm\"\n"},
        /* Pocket on 20 sts of front. */
        {"# Front\n"
         "With MC and 5 mm needles, cast on 40 (44, 48) sts.\n"
         "Rows 1-10: K. 40 (44, 48) sts\n"
         "Row 11: K10 (12, 14), place next 20 sts on hold (pocket), cast on 20 sts, k to end. 40 (44, 48) "
         "sts\n"
         "Rows 12-20: K.\n"
         "Bind off.\n"
         "# Pocket\n"
         "Work on the 20 held sts of pocket.\n"
         "Rows 1-10: K. 20 sts\n"
         "Bind off.\n",
         "3 Rows 1-10: 40= 44= 48=\n"
         "4 Row 11: 40= 44= 48=\n"
         "5 Rows 12-20: 40 44 48\n"
         "6 : 0 0 0\n"
         "9 Rows 1-10: 20= 20= 20=\n"
         "10 : 0 0 0\n",
         ""},
        /* Crochet pocket. */
        {"# Front\n"
         "With MC and 5 mm hook, ch 41 (45, 49).\n"
         "Row 1: Sc in 2nd ch from hook and in each ch across, turn. 40 (44, 48) sc\n"
         "Rows 2-15: Ch 1, sc in each sc across, turn. 40 (44, 48) sc\n"
         "# Pocket\n"
         "Join yarn in a st of row 5.\n"
         "Row 1: Sc in 20 sts of front, turn. 20 sc\n"
         "Rows 2-10: Ch 1, sc in each sc across, turn. 20 sc\n",
         "3 Row 1: 40= 44= 48=\n"
         "4 Rows 2-15: 40= 44= 48=\n"
         "7 Row 1: ? ? ?\n"
         "8 Rows 2-10: ? ? ?\n",
         "pattern.txt:7:14: error: in 20 can be read in two ways; write in each of next 20 sts for once in "
         "each, or in next st for all in one\n"
         "pattern.txt:8:1: error: how many stitches this is worked on is not known; name what it is worked "
         "into, such as each row end of back, or write \"On an edge of 40 sts:\" before it\n"},
        /* Three copies on two sets. */
        {"# Yoke\n"
         "With MC and 5 mm hook, ch 60 (66, 72), join with sl st to form a ring.\n"
         "Rnd 1: Ch 1, sc in each ch around, join. 60 (66, 72) sc\n"
         "Divide: Ch 1, sc in next 12 (13, 14) sts, sk next 16 (18, 20) sts for sleeve, ch 4, sc in next 14 "
         "(15, 16) sts, sk next 16 (18, 20) sts for sleeve, ch 4, sc in each st to end, join. 28 (30, 32) sc "
         "plus 4 chs at each underarm\n"
         "# Sleeves (make 3)\n"
         "Join yarn.\n"
         "Rnd 1: Ch 1, sc in each underarm ch, sc in each skipped st, join. 20 (22, 24) sc\n",
         "3 Rnd 1: 60= 66= 72=\n"
         "4 Divide: 28= 30= 32=\n"
         "7 Rnd 1: ? ? ?\n",
         "pattern.txt:1:3: note: \"Yoke\" leaves 32 (36, 40) places unworked: sleeve\n"
         "pattern.txt:7:20: error: 3 copies are worked on 4 underarm chains each, and there are enough for 2; "
         "correct how many are made, or give the others a beginning of their own\n"},
        /* Sets of different size. */
        {"# Yoke\n"
         "With MC and 5 mm hook, ch 60 (66, 72), join with sl st to form a ring.\n"
         "Rnd 1: Ch 1, sc in each ch around, join. 60 (66, 72) sc\n"
         "Divide: Ch 1, sc in next 12 (13, 14) sts, sk next 16 (18, 20) sts for sleeve, ch 4, sc in next 14 "
         "(15, 16) sts, sk next 14 (18, 20) sts for sleeve, ch 4, sc in each st to end, join. 30 (30, 32) sc "
         "plus 4 chs at each underarm\n"
         "# Sleeves (make 2)\n"
         "Join yarn.\n"
         "Rnd 1: Ch 1, sc in each underarm ch, sc in each skipped st, join. 20 (22, 24) sc\n",
         "3 Rnd 1: 60= 66= 72=\n"
         "4 Divide: 30= 30= 32=\n"
         "7 Rnd 1: ? 22= 24=\n",
         "pattern.txt:1:3: note: \"Yoke\" leaves 30 (0, 0) places unworked: sleeve\n"
         "pattern.txt:7:44: error: these places stand in several sets, of 16 for sleeve and 14 for sleeve "
         "(size S); write a piece for each of them, with the number: in each of 16 skipped sts\n"},
        /* Held, three copies. */
        {"# Yoke\n"
         "With MC and 5 mm needles, cast on 50 (54, 58) sts.\n"
         "Row 1 (RS): K. 50 (54, 58) sts\n"
         "Row 2: K8 (9, 10), place next 10 (11, 12) sts on hold for sleeve, k14, place next 10 (11, 12) sts "
         "on hold for sleeve, k8 (9, 10). 30 (32, 34) sts\n"
         "# Sleeves (make 3)\n"
         "Work on the 10 (11, 12) held sts.\n"
         "Row 1: K. 10 (11, 12) sts\n",
         "3 Row 1 (RS): 50= 54= 58=\n"
         "4 Row 2: 30= 32= 34=\n"
         "7 Row 1: 10= 11= 12=\n",
         "pattern.txt:6:1: error: 3 copies begin on 10 held stitches each, and there are enough for 2 (size "
         "S); correct how many are made, or write a piece for each set, with its number of stitches\n"
         "pattern.txt:6:1: error: 3 copies begin on 11 held stitches each, and there are enough for 2 (size "
         "M); correct how many are made, or write a piece for each set, with its number of stitches\n"
         "pattern.txt:6:1: error: 3 copies begin on 12 held stitches each, and there are enough for 2 (size "
         "L); correct how many are made, or write a piece for each set, with its number of stitches\n"},
        /* Held, different. */
        {"# Yoke\n"
         "With MC and 5 mm needles, cast on 50 (54, 58) sts.\n"
         "Row 1 (RS): K. 50 (54, 58) sts\n"
         "Row 2: K8 (9, 10), place next 10 (11, 12) sts on hold for sleeve, k14, place next 9 (11, 12) sts on "
         "hold for sleeve, k9 (9, 10). 31 (32, 34) sts\n"
         "# Sleeves (make 2)\n"
         "Work on the 10 (11, 12) held sts.\n"
         "Row 1: K. 10 (11, 12) sts\n",
         "3 Row 1 (RS): 50= 54= 58=\n"
         "4 Row 2: 31= 32= 34=\n"
         "7 Row 1: 10= 11= 12=\n",
         "pattern.txt:1:3: note: \"Yoke\" leaves 9 (0, 0) places unworked: sleeve\n"
         "pattern.txt:6:1: error: 2 copies begin on 10 held stitches each, and there is enough for 1 (size "
         "S); correct how many are made, or write a piece for each set, with its number of stitches\n"},
        /* Below. */
        {"# Band\n"
         "Join yarn to front edge.\n"
         "Row 1: Ch 1, sc in each row end of front, turn. 20 sc\n"
         "# Front\n"
         "With MC and 5 mm hook, ch 21.\n"
         "Row 1: Sc in 2nd ch from hook and in each ch across, turn. 20 sc\n"
         "Rows 2-20: Ch 1, sc in each sc across, turn. 20 sc\n",
         "3 Row 1: ? ? ?\n"
         "6 Row 1: 20= 20= 20=\n"
         "7 Rows 2-20: 20= 20= 20=\n",
         "pattern.txt:3:1: error: Front is worked below, in line 5; move what is worked on it below it\n"},
        /* Circle. */
        {"# Band\n"
         "Join yarn to front edge.\n"
         "Row 1: Ch 1, sc in each row end of front, turn. 20 sc\n"
         "# Front\n"
         "Join yarn to band.\n"
         "Row 1: Sc in each st of band, turn. 20 sc\n"
         "Rows 2-20: Ch 1, sc in each sc across, turn. 20 sc\n",
         "3 Row 1: ? ? ?\n"
         "6 Row 1: ? ? ?\n"
         "7 Rows 2-20: ? ? ?\n",
         "pattern.txt:2:1: error: \"Band\" does not say its hook or needles; write them where it begins: "
         "\"With MC and 5 mm hook, ch 72\"\n"
         "pattern.txt:3:1: error: these are worked on one another in a circle: Band (line 2) -> Front (line "
         "5) -> Band; let one of them begin on chains, a cast-on or \"On an edge of 20 sts:\"\n"
         "pattern.txt:5:1: error: \"Front\" does not say its hook or needles; write them where it begins: "
         "\"With MC and 5 mm hook, ch 72\"\n"
         "pattern.txt:6:14: error: no stitch is there to work this into\n"
         "pattern.txt:7:1: error: how many stitches this is worked on is not known; name what it is worked "
         "into, such as each row end of back, or write \"On an edge of 40 sts:\" before it\n"},
        /* Rounds have no row ends. */
        {"# Body\n"
         "With MC and 5 mm hook, ch 20, join.\n"
         "Rnds 1-9: Ch 1, sc in each st around, join. 20 sc\n"
         "# Band\n"
         "Join yarn.\n"
         "Row 1: Ch 1, sc in each row end of body, turn. 9 sc\n",
         "3 Rnds 1-9: 20= 20= 20=\n"
         "6 Row 1: ? ? ?\n",
         "pattern.txt:6:1: error: Body is worked in rounds and has no row ends; name its stitches or its "
         "foundation: each st of body, each foundation ch of body\n"},
        /* Part begins inside a piece. */
        {"# Back\n"
         "With MC and 5 mm needles, cast on 40 (44, 48) sts.\n"
         "Rows 1-4: K. 40 (44, 48) sts\n"
         "Working on first 10 (11, 12) sts only:\n"
         "Row 5: K. 10 (11, 12) sts\n"
         "Bind off.\n"
         "Working on last 10 (11, 12) sts only:\n"
         "Row 5: K. 10 (11, 12) sts\n"
         "Bind off.\n",
         "3 Rows 1-4: 40= 44= 48=\n"
         "5 Row 5: 10= 11= 12=\n"
         "6 : 0 0 0\n"
         "8 Row 5: 10= 11= 12=\n"
         "9 : 0 0 0\n",
         "pattern.txt:1:3: note: \"Back\" leaves 20 (22, 24) places unworked\n"},
        /* Unknown name. */
        {"# Front\n"
         "With MC and 5 mm hook, ch 21.\n"
         "Row 1: Sc in 2nd ch from hook and in each ch across, turn. 20 sc\n"
         "# Band\n"
         "Join yarn.\n"
         "Row 1: Ch 1, sc in each row end of frnt, turn. 20 sc\n",
         "3 Row 1: 20= 20= 20=\n"
         "6 Row 1: ? ? ?\n",
         "pattern.txt:6:36: error: no piece or part has this name; write it as its heading does\n"},
    };
    assert_divided(*state, cases, COUNT(cases));
}

static void sides_of_a_neck(void **state)
{
    static const struct divided cases[] = {
        /* Rejoin row. */
        {"# Back\n"
         "With MC and 5 mm needles, cast on 40 (44, 48) sts.\n"
         "Rows 1-4: K. 40 (44, 48) sts\n"
         "Next row: K12 (13, 14), turn. Work on these 12 (13, 14) sts only.\n"
         "Next row: P. 12 (13, 14) sts\n"
         "Bind off.\n"
         "With RS facing, rejoin yarn to rem sts, bind off 16 (18, 20) sts, k to end. 12 (13, 14) sts\n"
         "Next row: P. 12 (13, 14) sts\n"
         "Bind off.\n",
         "3 Rows 1-4: 40= 44= 48=\n"
         "4 Next row: 40 44 48\n"
         "5 Next row: 12= 13= 14=\n"
         "6 : 0 0 0\n"
         "7 : 12= 13= 14=\n"
         "8 Next row: 12= 13= 14=\n"
         "9 : 0 0 0\n",
         ""},
        /* Rejoin labelled. */
        {"# Back\n"
         "With MC and 5 mm needles, cast on 40 (44, 48) sts.\n"
         "Rows 1-4: K. 40 (44, 48) sts\n"
         "Row 5: K12 (13, 14), turn. Work on these 12 (13, 14) sts only.\n"
         "Row 6: P. 12 (13, 14) sts\n"
         "Bind off.\n"
         "Rejoin yarn to rem sts.\n"
         "Row 5: Bind off 16 (18, 20) sts, k to end. 12 (13, 14) sts\n"
         "Row 6: P. 12 (13, 14) sts\n"
         "Bind off.\n",
         "3 Rows 1-4: 40= 44= 48=\n"
         "4 Row 5: 40 44 48\n"
         "5 Row 6: 12= 13= 14=\n"
         "6 : 0 0 0\n"
         "8 Row 5: 12= 13= 14=\n"
         "9 Row 6: 12= 13= 14=\n"
         "10 : 0 0 0\n",
         ""},
        /* Both. */
        {"# Back\n"
         "With MC and 5 mm needles, cast on 40 (44, 48) sts.\n"
         "Rows 1-4: K. 40 (44, 48) sts\n"
         "Row 5: K12 (13, 14), bind off next 16 (18, 20) sts, k to end. 24 (26, 28) sts\n"
         "Working both sides at once with separate balls of yarn, work 4 rows.\n",
         "3 Rows 1-4: 40= 44= 48=\n"
         "4 Row 5: ? ? ?\n",
         "pattern.txt:4:8: error: two sides that are worked at once are not read; write the rows of one side "
         "on its stitches, then those of the other, which begins with \"Rejoin yarn to rem sts\"\n"},
        /* Center wrong. */
        {"# Back\n"
         "With MC and 5 mm needles, cast on 40 (44, 48) sts.\n"
         "Row 1: K12 (14, 16), bind off center 18 (16, 16) sts, k to end.\n",
         "3 Row 1: ? 28 32\n",
         "pattern.txt:3:22: error: 18 stitches are not the centre here: 12 lie before them, and 10 after "
         "(size S); work to the center first, or write next in place of center\n"},
        /* Repeat raglan. */
        {"# Yoke\n"
         "With MC and 5 mm hook, ch 60 (66, 72), join with sl st to form a ring.\n"
         "Rnd 1: Ch 1, sc in each ch around, join. 60 (66, 72) sc\n"
         "Divide: Ch 1, *sc in next 14 (15, 16) sts, sk next 16 (18, 20) sts for sleeve, ch 4; rep from * "
         "once more, join. 28 (30, 32) sc plus 4 chs at each underarm\n"
         "# Sleeves (make 2)\n"
         "Join yarn.\n"
         "Rnd 1: Ch 1, sc in each underarm ch, sc in each skipped st, join. 20 (22, 24) sc\n",
         "3 Rnd 1: 60= 66= 72=\n"
         "4 Divide: 28= 30= 32=\n"
         "7 Rnd 1: 20= 22= 24=\n",
         ""},
        /* Empty needle. */
        {"# Front\n"
         "With MC and 5 mm needles, cast on 40 (44, 48) sts.\n"
         "Rows 1-4: K. 40 (44, 48) sts\n"
         "Bind off.\n"
         "Row 5: K.\n",
         "3 Rows 1-4: 40= 44= 48=\n"
         "4 : 0 0 0\n"
         "5 Row 5: ? ? ?\n",
         "pattern.txt:5:1: warning: \"Row 5\" comes after row 5; is a row missing, or a number wrong?\n"
         "pattern.txt:5:1: error: no stitches are left to work this row on; write on which it is worked: "
         "\"Rejoin yarn to rem sts\", \"Work on the 20 held sts\"\n"},
    };
    assert_divided(*state, cases, COUNT(cases));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(yokes_divide),        cmocka_unit_test(sides_and_flaps_are_worked_in_turn),
        cmocka_unit_test(edges_of_other_work), cmocka_unit_test(copies_order_and_names),
        cmocka_unit_test(sides_of_a_neck),
    };
    return cmocka_run_group_tests(tests, catalogue_set_up, catalogue_tear_down);
}
