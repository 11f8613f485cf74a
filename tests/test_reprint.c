/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A written pattern printed again (hankful(1), pattern): what becomes of numbers, words and rows, what stays, and what
 * is said of it. Terms: tables/stitches.csv, whose sources stand there; notation and wording of the trade: common
 * practice, no source.
 */
#include "proofed.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define START "# Body\nWith main and 5 mm hook, ch 21.\nRow 1: Sc in 2nd ch from hook and in each ch across, turn.\n"
#define ALL HK_NO_SIZE

struct printing {
    const char *pattern, *terms; /* terms: of the project, "US" or "UK" */
    size_t size;
    enum hk_terms_wanted to;
    const char *expected, *findings;
};

/* Prints the pattern; *findings gets what is said. Owner: the caller (free). */
static char *printed(const struct hk_catalogue *catalogue, const struct printing *of, bool markdown, struct hk_diags *diags)
{
    char settings[120];
    snprintf(settings, sizeof settings, "field,value\ntitle,Skerry\nsizes,\"S (M, L)\"\nterms,%s\n", of->terms);
    struct proofed read = proofed_read(catalogue, of->pattern, "project.csv", settings);
    assert_non_null(read.project);
    const struct hk_reprint_options options = {.size = of->size, .terms = of->to, .markdown = markdown};
    struct hk_reprint *reprint = hk_reprint_make(read.project, options, diags);
    assert_non_null(reprint);
    char *text = strdup(hk_reprint_text(reprint));
    assert_non_null(text);
    hk_reprint_free(reprint);
    proofed_free(&read);
    return text;
}

static void assert_printings_at(const struct hk_catalogue *catalogue, const struct printing *printings, size_t count,
                                bool markdown, const char *file, int line)
{
    size_t wrong = 0;
    for (size_t i = 0; i < count; i++) {
        struct hk_diags diags = {0};
        char *text = printed(catalogue, &printings[i], markdown, &diags);
        if (strcmp(text, printings[i].expected) != 0) {
            print_error("%s\n--- is printed as\n%s\n--- and not as\n%s\n", printings[i].pattern, text, printings[i].expected);
            wrong++;
        }
        assert_findings(&diags, printings[i].findings);
        free(text);
    }
    if (wrong > 0)
        _fail(file, line);
}
#define assert_printings(printings)                                                                                    \
    assert_printings_at(*state, (printings), sizeof(printings) / sizeof *(printings), false, __FILE__, __LINE__)

/* ---- One size ---- */

static void numbers_of_one_size_stand_alone(void **state)
{
    static const struct printing printings[] = {
        {"# Body (make 1 (2, 2))\nWith main and 5 mm hook, ch 21 (23, 25).\nRow 1: Sc in 2nd ch from hook and in each ch "
         "across, turn. 20 (22, 24) sc\nRows 2-9 (2-11, 2-13): Rep row 1. (20 (22, 24) sts)\n",
         "US", 1, HK_TERMS_WANTED_PROJECT,
         "# Body (make 2)\nWith main and 5 mm hook, ch 23.\nRow 1: Sc in 2nd ch from hook and in each ch "
         "across, turn. 22 sc\nRows 2-11: Rep row 1. (22 sts)\n",
         ""},
        /* only the end of a range differs; a range of one row; words that follow the number */
        {START "Rows 2-3 (4, 5): Ch 1, sc in each sc across, turn.\nRows 6-6 (6-7, 6-8): Rep row 2.\nRep last 2 rows 1 (2, "
               "3) more times.\nNext 1 (2, 3) rows: Ch 1, sc in each sc across, turn.\n",
         "US", 0, HK_TERMS_WANTED_PROJECT,
         START "Rows 2-3: Ch 1, sc in each sc across, turn.\nRow 6: Rep row 2.\nRep last 2 rows 1 more time.\nNext 1 row: Ch "
               "1, sc in each sc across, turn.\n",
         ""},
        {START "Rows 2-3 (4, 5): Ch 1, sc in each sc across, turn.\n", "US", 2, HK_TERMS_WANTED_PROJECT,
         START "Rows 2-5: Ch 1, sc in each sc across, turn.\n", ""},
        /* prose: units, fractions, two groups, names of the sizes */
        {"SIZES\nS (M, L)\nFinished chest 86 (92, 97.5) cm, 34\" (36 1/4\", 38\xC2\xBD\"), 3 by 4 (4 by 5, 5 by 6) motifs, 5 "
         "[6] [7] buttons, written for S, M and L.\n" START,
         "US", 2, HK_TERMS_WANTED_PROJECT,
         "SIZES\nL\nFinished chest 97.5 cm, 38\xC2\xBD\", 5 by 6 motifs, 7 buttons, written for L.\n" START, ""},
    };
    assert_printings(printings);
}

static void rows_that_a_size_does_without_are_left_out(void **state)
{
    static const struct printing printings[] = {
        {START "Large only: Ch 1, sc2tog, sc in each sc across. (19 sts)\nSizes S and M only:\nRow 2: Ch 1, sc in each sc "
               "across.\nAll sizes:\nNext row: Ch 1, sc in each st across.\nRep last row 0 (1, 2) times.\nFasten off.\n",
         "US", 0, HK_TERMS_WANTED_PROJECT, START "Row 2: Ch 1, sc in each sc across.\nNext row: Ch 1, sc in each st across.\nFasten off.\n",
         ""},
        {START "Large only: Ch 1, sc2tog, sc in each sc across. (19 sts)\nRows - (-, 3-4): Ch 1, sc in each st across.\n",
         "US", 2, HK_TERMS_WANTED_PROJECT,
         START "Next row: Ch 1, sc2tog, sc in each sc across. (19 sts)\nRows 3-4: Ch 1, sc in each st across.\n", ""},
    };
    assert_printings(printings);
}

static void what_is_worked_0_times_is_left_out(void **state)
{
    static const struct printing printings[] = {
        {START "Row 2: Ch 1, sc in next 0 (2, 4) sts, hdc in each st to last 0 (2, 4) sts, sc in last 0 (2, 4) sts, turn.\n",
         "US", 0, HK_TERMS_WANTED_PROJECT, START "Row 2: Ch 1, hdc in each st to end, turn.\n", ""},
        {START "Row 2: Sc in next 0 (2, 4) sts, hdc in each st across.\n", "US", 0, HK_TERMS_WANTED_PROJECT,
         START "Row 2: Hdc in each st across.\n", ""},
        {START "Row 2: Ch 1, *sc in next 2 sts; rep from * 0 (1, 2) more times, hdc in each st across.\n", "US", 0,
         HK_TERMS_WANTED_PROJECT, START "Row 2: Ch 1, *sc in next 2 sts; rep from * 0 more times, hdc in each st across.\n", ""},
        {START "Row 2: Ch 1, [sc in next 2 sts] 0 (1, 2) times, hdc in each st across.\n", "US", 0, HK_TERMS_WANTED_PROJECT,
         START "Row 2: Ch 1, hdc in each st across.\n", ""},
    };
    assert_printings(printings);
}

/* What is not one number for each size, and rows that are not read. */
static void what_is_not_certain_is_left(void **state)
{
    static const struct printing printings[] = {
        {"Ball band: 50 (100, 150, 200) g.\n" START
         "Row 2: Follow the chart over 20 (22, 24) sts. (20 sts)\nRow 3: Ch 1, sc in each st across.\n",
         "US", 1, HK_TERMS_WANTED_PROJECT,
         "Ball band: 50 (100, 150, 200) g.\n" START
         "Row 2: Follow the chart over 20 (22, 24) sts. (20 sts)\nRow 3: Ch 1, sc in each st across.\n",
         "pattern.txt:1:12: warning: \"50 (100, 150, 200)\" is left as it is: it is not one number for each size; write the "
         "number of this size by hand\n"
         "pattern.txt:5:1: warning: this row is not read: its words are left as they are; change them by hand, or correct the "
         "row; check says how\n"},
    };
    assert_printings(printings);
}

/* A line that has become short is no longer as long as the lines of its paragraph become. */
static void wrapped_lines_stay_one(void **state)
{
    static const struct printing printings[] = {
        {START "Row 2: Ch 1, sc in each st\n  across, turn. 20 (20,\n  20) sts\n", "US", 1, HK_TERMS_WANTED_PROJECT,
         START "Row 2: Ch 1, sc in each st\n  across, turn. 20 sts\n", ""},
    };
    assert_printings(printings);
}

/* ---- Terms ---- */

static void stitches_of_rows_change_their_terms(void **state)
{
    static const struct printing printings[] = {
        {"# Body\nWith main and 5 mm hook, ch 22.\nRow 1: Dc in 4th ch from hook and in each ch across, turn. 20 dc\nRow 2: Ch "
         "3 (counts as dc), skip first st, FPdc around next dc, sl st in next dc, half double crochet in next dc, dc2tog, DC in each dc across. "
         "(19 dcs)\n",
         "US", ALL, HK_TERMS_WANTED_UK,
         "# Body\nWith main and 5 mm hook, ch 22.\nRow 1: Tr in 4th ch from hook and in each ch across, turn. 20 tr\nRow 2: Ch "
         "3 (counts as tr), miss first st, FPtr around next tr, ss in next tr, half treble crochet in next tr, tr2tog, TR in each tr across. "
         "(19 trs)\n",
         ""},
        {"# Body\nWith main and 5 mm hook, ch 22.\nRow 1: Tr in 4th ch from hook and in each ch across, turn. 20 tr\nRow 2: Ch "
         "1, miss 2 sts, ss in next tr, dc in each tr across.\n",
         "UK", ALL, HK_TERMS_WANTED_US,
         "# Body\nWith main and 5 mm hook, ch 22.\nRow 1: Dc in 4th ch from hook and in each ch across, turn. 20 dc\nRow 2: Ch "
         "1, skip 2 sts, sl st in next dc, sc in each dc across.\n",
         ""},
        {"# Body\nWith main and 5 mm needles, cast on 20 sts.\nRow 1: K.\nRow 2: BO 4 sts, k to end.\nRow 3: Bind off 4 sts, p to "
         "end.\n",
         "US", ALL, HK_TERMS_WANTED_UK,
         "# Body\nWith main and 5 mm needles, cast on 20 sts.\nRow 1: K.\nRow 2: Cast off 4 sts, k to end.\nRow 3: Cast off 4 sts, p "
         "to end.\n",
         ""},
    };
    assert_printings(printings);
}

/* Words that can mean nothing else change; "double" and "treble" may be no stitches. */
static void prose_changes_where_it_is_certain(void **state)
{
    static const struct printing printings[] = {
        {"US terms are used. Hook: US H-8 (5 mm).\n\nGAUGE\n16 dc and 9 rows to 10 cm in double crochet.\n\nNOTES\nDouble the yarn, and "
         "miss nothing. For us it is no trouble. Ch 2 does not count as a hdc.\nWork a treble here.\ndc (UK: tr)\nHolm DK: Single "
         "Crochet Shop\n\n" START,
         "US", ALL, HK_TERMS_WANTED_UK,
         "UK terms are used. Hook: US H-8 (5 mm).\n\nTENSION\n16 tr and 9 rows to 10 cm in treble crochet.\n\nNOTES\nDouble the yarn, and "
         "miss nothing. For us it is no trouble. Ch 2 does not count as a htr.\nWork a treble here.\ndc (UK: tr)\nHolm DK: Single "
         "Crochet Shop\n\n# Body\nWith main and 5 mm hook, ch 21.\nRow 1: Dc in 2nd ch from hook and in each ch across, turn.\n",
         "pattern.txt:8:8: warning: \"treble\" is left as it is: in prose it may be no stitch; where it is one, write \"double "
         "treble\"\n"
         "pattern.txt:9:1: warning: \"dc\" is left as it is: its line speaks of US or UK words; where it is one, write \"tr\"\n"
         "pattern.txt:9:9: warning: \"tr\" is left as it is: its line speaks of US or UK words; where it is one, write \"dtr\"\n"
         "pattern.txt:10:10: warning: \"Single Crochet\" is left as it is: in prose it may be no stitch; where it is one, write "
         "\"double crochet\"\n"},
    };
    assert_printings(printings);
}

static void both_at_once(void **state)
{
    static const struct printing printings[] = {
        {"# Body\nWith main and 5 mm hook, ch 22 (24, 26).\nRow 1: Dc in 4th ch from hook and in each ch across, turn. 20 (22, 24) dc\n",
         "US", 2, HK_TERMS_WANTED_UK,
         "# Body\nWith main and 5 mm hook, ch 26.\nRow 1: Tr in 4th ch from hook and in each ch across, turn. 24 tr\n", ""},
        /* nothing is asked for */
        {START, "US", ALL, HK_TERMS_WANTED_US, START, ""},
    };
    assert_printings(printings);
}

/* ---- Markdown ---- */

static void markdown_has_marks_and_escapes(void **state)
{
    static const struct printing printings[] = {
        {"Pier cowl\n\nBODY\nWith main and 5 mm hook, ch 20 (22, 24), join.\nRnd 1: Ch 1, *sc in next st, sc in next st; rep from * "
         "around, join. 20 (22, 24) sc\n\nCaf\xC3\xA9 \xE2\x80\x93 block it.\n",
         "US", 0, HK_TERMS_WANTED_PROJECT,
         "## Pier cowl\n\n## BODY\n\n- With main and 5 mm hook, ch 20, join.\n- **Rnd 1:** Ch 1, \\*sc in next st, sc in next st; rep "
         "from \\* around, join. 20 sc\n\nCaf\xC3\xA9 \xE2\x80\x93 block it.\n",
         ""},
        /* it is Markdown already */
        {START, "US", 0, HK_TERMS_WANTED_PROJECT, START, ""},
    };
    assert_printings_at(*state, printings, sizeof printings / sizeof *printings, true, __FILE__, __LINE__);
}

/* ---- The whole ---- */

static void changes_are_listed_with_their_places(void **state)
{
    static const char *const expected = "2:29 21 (23, 25) > 23\n3:8 Sc > Dc\n3:60 20 (22, 24) > 22\n3:72 sc > dc\n";
    struct hk_diags diags = {0};
    char text[400] = "";
    size_t at = 0;
    struct proofed read = proofed_read(*state, "# Body\nWith main and 5 mm hook, ch 21 (23, 25).\nRow 1: Sc in 2nd ch from hook and in "
                                               "each ch across, turn. 20 (22, 24) sc\n",
                                       NULL, NULL);
    struct hk_reprint *reprint =
        hk_reprint_make(read.project, (struct hk_reprint_options){.size = 1, .terms = HK_TERMS_WANTED_UK}, &diags);
    assert_non_null(reprint);
    for (size_t i = 0; i < hk_reprint_changes(reprint); i++) {
        const struct hk_reprint_change change = hk_reprint_change(reprint, i);
        at += (size_t)snprintf(text + at, sizeof text - at, "%zu:%zu %s > %s\n", change.line, change.column, change.before, change.after);
    }
    assert_string_equal(text, expected);
    assert_findings(&diags, "");
    hk_reprint_free(reprint);
    proofed_free(&read);
}

static void a_project_without_a_pattern_has_none_to_print(void **state)
{
    struct hk_diags diags = {0};
    const struct memory_file files[] = {{"project.csv", PROJECT, 0},
                                        {"yarns.csv", YARN, 0},
                                        {"pieces.csv", "piece,fabric,yarn,tool,stitches,rows\nhat,single crochet,main,5 mm,20,20\n", 0},
                                        {NULL, NULL, 0}};
    struct hk_source source = memory_source(files);
    struct hk_project *project = hk_project_read(&source, *state, &diags);
    assert_non_null(project);
    assert_null(hk_reprint_make(project, (struct hk_reprint_options){.size = HK_NO_SIZE}, &diags));
    assert_findings(&diags, "pattern.txt:0:0: error: there is no written pattern to print; a written pattern stands in pattern.txt\n");
    hk_project_free(project);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(numbers_of_one_size_stand_alone),
        cmocka_unit_test(rows_that_a_size_does_without_are_left_out),
        cmocka_unit_test(what_is_worked_0_times_is_left_out),
        cmocka_unit_test(what_is_not_certain_is_left),
        cmocka_unit_test(wrapped_lines_stay_one),
        cmocka_unit_test(stitches_of_rows_change_their_terms),
        cmocka_unit_test(prose_changes_where_it_is_certain),
        cmocka_unit_test(both_at_once),
        cmocka_unit_test(markdown_has_marks_and_escapes),
        cmocka_unit_test(changes_are_listed_with_their_places),
        cmocka_unit_test(a_project_without_a_pattern_has_none_to_print),
    };
    return cmocka_run_group_tests(tests, catalogue_set_up, catalogue_tear_down);
}
