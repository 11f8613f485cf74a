/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A written pattern printed again (hankful(1), pattern): the changes to numbers, words and rows, the unchanged parts,
 * and the findings. Terms: tables/stitches.csv, which has its sources; notation and wording of the trade: common
 * practice, no source.
 */
#include "proofed.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define START "# Body\nWith main and 5 mm hook, ch 21.\nRow 1: Sc in 2nd ch from hook and in each ch across, turn.\n"
#define ALL HK_NO_SIZE

struct printing {
    const char *pattern, *terms; /* terms: the project's, "US" or "UK" */
    size_t size;
    enum hk_terms_wanted to;
    const char *expected, *findings;
};

/* The form of printing: Markdown or text; the sizes of the project. */
struct manner {
    bool markdown;
    const char *sizes;
};

/* Prints the pattern; *findings receives the findings. Owner: the caller (free). */
static char *printed(const struct hk_catalogue *catalogue, const struct printing *of, struct manner manner,
                     struct hk_diags *diags)
{
    char settings[120];
    snprintf(settings, sizeof settings, "field,value\ntitle,Skerry\nsizes,\"%s\"\nterms,%s\n", manner.sizes, of->terms);
    struct proofed read = proofed_read(catalogue, of->pattern, "project.csv", settings);
    assert_non_null(read.project);
    const struct hk_reprint_options options = {.size = of->size, .terms = of->to, .markdown = manner.markdown};
    struct hk_reprint *reprint = hk_reprint_make(read.project, options, diags);
    assert_non_null(reprint);
    char *text = strdup(hk_reprint_text(reprint));
    assert_non_null(text);
    hk_reprint_free(reprint);
    proofed_free(&read);
    return text;
}

static void assert_printings_at(const struct hk_catalogue *catalogue, const struct printing *printings, size_t count,
                                struct manner manner, const char *file, int line)
{
    size_t wrong = 0;
    for (size_t i = 0; i < count; i++) {
        struct hk_diags diags = {0};
        char *text = printed(catalogue, &printings[i], manner, &diags);
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
#define assert_printings_in(printings, manner)                                                                         \
    assert_printings_at(*state, (printings), sizeof(printings) / sizeof *(printings), manner, __FILE__, __LINE__)
#define THREE ((struct manner){false, "S (M, L)"})
#define TWO ((struct manner){false, "S (M)"})
#define ONE ((struct manner){false, "S"})
#define assert_printings(printings) assert_printings_in(printings, THREE)

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
        {START
         "Row 2: Ch 1, sc in next 0 (2, 4) sts, hdc in each st to last 0 (2, 4) sts, sc in last 0 (2, 4) sts, turn.\n",
         "US", 0, HK_TERMS_WANTED_PROJECT, START "Row 2: Ch 1, hdc in each st to end, turn.\n", ""},
        {START "Row 2: Sc in next 0 (2, 4) sts, hdc in each st across.\n", "US", 0, HK_TERMS_WANTED_PROJECT,
         START "Row 2: Hdc in each st across.\n", ""},
        {START "Row 2: Ch 1, *sc in next 2 sts; rep from * 0 (1, 2) more times, hdc in each st across.\n", "US", 0,
         HK_TERMS_WANTED_PROJECT,
         START "Row 2: Ch 1, *sc in next 2 sts; rep from * 0 more times, hdc in each st across.\n", ""},
        {START "Row 2: Ch 1, [sc in next 2 sts] 0 (1, 2) times, hdc in each st across.\n", "US", 0,
         HK_TERMS_WANTED_PROJECT, START "Row 2: Ch 1, hdc in each st across.\n", ""},
        /* no capital that was not there */
        {START "Rows 2-3 (4, 5): 0 (1, 2) hdc, sc in each st across, turn.\n", "US", 0, HK_TERMS_WANTED_PROJECT,
         START "Rows 2-3: sc in each st across, turn.\n", ""},
        {START "Rows 2-3 (4, 5): Hdc 0 (1, 2), sc in each st across, turn.\n", "US", 0, HK_TERMS_WANTED_PROJECT,
         START "Rows 2-3: Sc in each st across, turn.\n", ""},
    };
    assert_printings(printings);
}

/* Numbers without one value for each size, and unreadable rows. */
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

/* A shortened line is no longer than its paragraph's wrapped lines. */
static void wrapped_lines_stay_one(void **state)
{
    static const struct printing printings[] = {
        {START "Row 2: Ch 1, sc in each st\n  across, turn. 20 (20,\n  20) sts\n", "US", 1, HK_TERMS_WANTED_PROJECT,
         START "Row 2: Ch 1, sc in each st\n  across, turn. 20 sts\n", ""},
    };
    assert_printings(printings);
}

#define HAND "write the number of this size by hand\n"
#define NOTHING_LEFT                                                                                                   \
    "in this size the number is 0, and its words are still there; take out by hand what is not worked\n"
#define UNWORKED                                                                                                       \
    "printed so, the row cannot be worked any more; compare what is printed with pattern.txt there, and correct it "   \
    "by "                                                                                                              \
    "hand\n"
#define UNREAD                                                                                                         \
    "this row is not read: its words are left as they are; change them by hand, or correct the row; check says how\n"

/* A line of prose for one size; its findings; the sizes. */
static void lists_of_prose_become_the_number_of_the_size(void **state)
{
    static const struct {
        const char *line;
        size_t size;
        const char *expected, *findings;
        bool two; /* sizes */
    } cases[] = {
        /* fractions, units */
        {"1/2 (3/4, 1) yd, 18 1/2 (19 1/2, 20) in", 1, "3/4 yd, 19 1/2 in", "", false},
        {"18 1/x (2, 3), 18 1 (2, 3), 4/x (5, 6), 4 /5", 1, "18 1/x (2, 3), 18 2, 4/x (5, 6), 4 /5", "", false},
        {"3 (4; 5/6) g and 3 (4/5, 6)", 2, "5/6 g and 6", "", false},
        {"Length 34'' (36'', 38''), 34 (36, 38) cm", 2, "Length 38'', 38 cm", "", false},
        {"30 cm (32, 34), - (36 cm, 38 cm)", 2, "34 cm, 38 cm", "", false},
        {"34 cm (-, 36) and 34 (36", 1, "- and 34 (36", "", false},
        {"Chest 34 (36 cm, 38 cm)", 1, "Chest 34 (36 cm, 38 cm)",
         "pattern.txt:1:7: warning: \"34 (36 cm, 38 cm)\" is left as it is: it is not one number for each size; " HAND,
         false},
        /* starts of numbers */
        {".5 (6, 7) for", 1, ".6 for", "", false},
        {"No. 3.5 (6, 7), v.5 (6, 7), x-5 (6, 7), 1/5 (6, 7), 12.3 (4, 5)", 1, "No. 6, v.6, x-6, 6, 4", "", false},
        {"(- (6, 7)), [- (6, 7)], use:- (6, 7), a- (6, 7)", 1, "(6), [6], use:6, a- (6, 7)", "", false},
        {"-(6, 7) for", 1, "6 for", "", false},
        {"34 (36, x) and 34 (36) (x)", 1, "34 (36, x) and 34 (36) (x)", "", false},
        /* words about the number */
        {"Rep 1 (2, 3) times 2-2 (2-3, 2-4).", 0, "Rep 1 time 2.", "", false},
        {"Rep 1 (2, 3) times 2-2 (2-3, 2-4).", 1, "Rep 2 times 2-3.", "", false},
        {"1 (2, 3) time, 1 (2, 3) more time", 0, "1 time, 1 more time", "", false},
        {"1 (2, 3) time, 1 (2, 3) more time", 1, "2 times, 2 more times", "", false},
        {"2-2 (2-3, 2-4) and , 2-2 (2-3, 2-4)", 0, "2 and , 2", "", false},
        {"Rows 1-1 (2, 3)", 0, "Row 1", "", false},
        {"Rows 1-1 (2, 3)", 2, "Rows 1-3", "", false},
        {"Work 1 (2, 3) ridges, 1 (2, 3) sps", 0, "Work 1 ridge, 1 sp", "", false},
        /* names of the sizes */
        {"S [M, L], S (M, L, S / M / L; S M L, XS (M, L), S-M", 1, "M, M, M; S M L, XS (M, L), S-M", "", false},
        /* a number over two lines */
        {"Take 18\n 1/2 (19 1/2, 20) in.", 0, "Take 18\n 1/2 in.", "", false},
        /* two sizes: the second number may be one in another unit */
        {"5 cm (6), 5 (6 cm), 5 cm (6 cm), 5 (6)", 1, "5 cm (6), 5 (6 cm), 6 cm, 6", "", true},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char pattern[400], expected[400];
        snprintf(pattern, sizeof pattern, "%s\n\n" START, cases[i].line);
        snprintf(expected, sizeof expected, "%s\n\n" START, cases[i].expected);
        const struct printing printing[] = {
            {pattern, "US", cases[i].size, HK_TERMS_WANTED_PROJECT, expected, cases[i].findings}};
        assert_printings_in(printing, cases[i].two ? TWO : THREE);
    }
}

/* A row of knitting, row 2, in size S, where the first number is 0. */
static void clauses_of_0_go_with_their_mark(void **state)
{
    static const struct {
        const char *row, *expected, *findings;
    } cases[] = {
        {"K 0 (2, 4), p to end.", "P to end.", ""},
        {"K 0 (2, 4), P to end.", "P to end.", ""},
        {"K 0 (2, 4), (k1, p1) to end.", "(k1, p1) to end.", ""},
        {"0 (2, 4) k, k to end.", "k to end.", ""},
        {"K 0 (2, 4), turn.", "Turn.", ""},
        {"K 0 (2, 4), p 0 (1, 2), k to end.", "K to end.", ""},
        {"K to end, p 0 (2, 4)", "K to end", ""},
        {"K to last 0 (2, 4) sts, p 0 (2, 4).", "K to end.", ""},
        {"(K 1, p 1) 0 (1, 2) times, k to end.", "K to end.", ""},
        {"K2, [k1, p1] 0 (1, 2) times, k to end.", "K2, k to end.", ""},
        {"K2, *k1, (k1, p1) 0 (1, 2) times, k1; rep from * to end.", "K2, *k1, k1; rep from * to end.", ""},
        {"K2, (p 0 (2, 4), k1) twice, k to end.", "K2, (k1) twice, k to end.", ""},
        {"K2, (k1, p 0 (2, 4)) twice, k to end.", "K2, (k1) twice, k to end.", ""},
        {"K2, p in next 0 (2, 4) sts; k to end.", "K2; k to end.", ""},
        {"K 0 (2, 4), k to end. (20 (20, 20) sts)", "K to end. (20 sts)", ""},
        /* the removed part cannot be separated from the rest */
        {"K to last 0 (2, 4), k to end.", "K to last 0, k to end.", "pattern.txt:4:18: warning: " NOTHING_LEFT},
        {"K to last 0 (2, 4) sts. P 0 (2, 4). K to end.", "K to end. P 0. K to end.",
         "pattern.txt:4:1: error: " UNWORKED "pattern.txt:4:34: warning: " NOTHING_LEFT},
        {"[K1] twice p 0 (2, 4), k to end.", "[K1] twice p 0, k to end.",
         "pattern.txt:4:1: error: " UNWORKED "pattern.txt:4:21: warning: " NOTHING_LEFT},
        {"K 0 (2, 4), k to end, 20 sts.", "K 0 (2, 4), k to end, 20 sts.", "pattern.txt:4:1: warning: " UNREAD},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        static const char *const start = "# Body\nWith main and 5 mm needles, cast on 20 sts.\nRow 1: K.\nRow 2: ";
        char pattern[400], expected[400];
        snprintf(pattern, sizeof pattern, "%s%s\n", start, cases[i].row);
        snprintf(expected, sizeof expected, "%s%s\n", start, cases[i].expected);
        const struct printing printing[] = {{pattern, "US", 0, HK_TERMS_WANTED_PROJECT, expected, cases[i].findings}};
        assert_printings(printing);
    }
}

/* Chains and their findings; a label that ends in a comma. */
static void clauses_of_crochet_go_with_their_mark(void **state)
{
    static const struct printing printings[] = {
        {START "Row 2: Ch 0 (1, 2) (counts as sc), sc in each st across.\n", "US", 0, HK_TERMS_WANTED_PROJECT,
         START "Row 2: Sc in each st across.\n", ""},
        {START "Row 2: Ch 0 (1, 2) [does not count], sc in each st across.\n", "US", 0, HK_TERMS_WANTED_PROJECT,
         START "Row 2: Sc in each st across.\n", ""},
        {START "Row 2: Ch 0 (1, 2), ch 0 (1, 2), ch 1, sc in each st across.\n", "US", 0, HK_TERMS_WANTED_PROJECT,
         START "Row 2: Ch 1, sc in each st across.\n", ""},
        {START "Row 2 (RS), sc in next 0 (2, 4) sts, sc in each st across.\n", "US", 0, HK_TERMS_WANTED_PROJECT,
         START "Row 2 (RS), sc in each st across.\n", ""},
    };
    assert_printings(printings);
}

/* "6 (12)" in two sizes: 12 is a count if the second size would state it and the first does not state 6. */
static void a_count_of_two_sizes_is_no_list(void **state)
{
#define BALL "# Ball\nWith main and 5 mm hook.\nRnd 1: 6 sc in ring. (6)\n"
    static const struct printing printings[] = {
        {BALL "Rnd 2: Inc x 6 (12)\n", "US", 0, HK_TERMS_WANTED_PROJECT, BALL "Rnd 2: Inc x 6 (12)\n", ""},
        {BALL "Rnd 2: Inc x 6 (12).\n", "US", 1, HK_TERMS_WANTED_PROJECT, BALL "Rnd 2: Inc x 6 (12).\n", ""},
        {BALL "Rnd 2: Sc 6 (6).\n", "US", 1, HK_TERMS_WANTED_PROJECT, BALL "Rnd 2: Sc 6.\n", ""},
        {BALL "Rnd 2: Sc 6 (5).\n", "US", 1, HK_TERMS_WANTED_PROJECT, BALL "Rnd 2: Sc 5.\n", ""},
        {"Inc x 6 (12)\n\n" BALL, "US", 1, HK_TERMS_WANTED_PROJECT, "Inc x 12\n\n" BALL, ""},
    };
    assert_printings_in(printings, TWO);
}

/* Limits on separate lines, on lines of prose, in the first line of the file; rows that a size works 0 times. */
static void limits_go_with_what_they_limit(void **state)
{
    static const struct printing printings[] = {
        {"  Large only:\nThis is a wide one.\n" START, "US", 0, HK_TERMS_WANTED_PROJECT, START, ""},
        {"Large only:\nThis is a wide one.\n\n" START, "US", 0, HK_TERMS_WANTED_PROJECT, "\n" START, ""},
        {"Large only: this is a wide one.\nFor all.\n" START, "US", 0, HK_TERMS_WANTED_PROJECT, "For all.\n" START, ""},
        {"#\n**\n" START, "US", 0, HK_TERMS_WANTED_PROJECT, "#\n**\n" START, ""},
        {START "S and M only: Rep last row 0 (1, 2) times.\nFasten off.\n", "US", 0, HK_TERMS_WANTED_PROJECT,
         START "Fasten off.\n", ""},
        {START "S and M only: Rep last row 0 (1, 2) times.\nFasten off.\n", "US", 1, HK_TERMS_WANTED_PROJECT,
         START "Next row: Rep last row 1 time.\nFasten off.\n", ""},
        {START "Rep last row 0 (1, 2) times.  Fasten off.\n", "US", 0, HK_TERMS_WANTED_PROJECT, START "Fasten off.\n",
         ""},
        {"# Body\nWith main and 5 mm hook, ch 21, join.\nRnd 1: Sc in each ch around, join.\nM and L only:   Ch 1, sc "
         "in each sc "
         "around, join.\nFasten off.\n",
         "US", 1, HK_TERMS_WANTED_PROJECT,
         "# Body\nWith main and 5 mm hook, ch 21, join.\nRnd 1: Sc in each ch around, join.\nNext rnd: Ch 1, sc in "
         "each sc around, "
         "join.\nFasten off.\n",
         ""},
        {START "Row 2: Follow the chart. [take as 20 sc]\nRow 3: Ch 1, sc in each st across.\n", "US", 0,
         HK_TERMS_WANTED_PROJECT,
         START "Row 2: Follow the chart. [take as 20 sc]\nRow 3: Ch 1, sc in each st across.\n",
         "pattern.txt:4:1: warning: " UNREAD},
    };
    static const struct printing one[] = {
        {"Chest 34 (36, 38) cm.\n\n" START, "US", 0, HK_TERMS_WANTED_PROJECT, "Chest 34 (36, 38) cm.\n\n" START, ""}};
    assert_printings(printings);
    assert_printings_in(one, ONE);
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

/* Unambiguous words change; "double" and "treble" may not be stitches. */
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
        /* no terms are requested */
        {START, "US", ALL, HK_TERMS_WANTED_US, START, ""},
    };
    assert_printings(printings);
}

/* A row 2, or a line of prose, in UK terms; and from UK into US terms. */
static void words_of_the_table_change_for_their_counterparts(void **state)
{
    static const struct {
        const char *line, *expected;
        bool row, from_uk;
        const char *findings;
    } cases[] = {
        {"Treble in next st, spsc in next st, TRC in next st, exsc in next st, sc in each st across.",
         "Double treble in next st, spdc in next st, DTR in next st, exdc in next st, dc in each st across.", true,
         false, ""},
        {"Triple crochet in next st, treble crochet in next st, crab st across.",
         "Double treble crochet in next st, double treble crochet in next st, crab st across.", true, false, ""},
        {"RtrF around next st, exdc in next st, treble in next st, Half treble in next st, skip next st, dc in each st "
         "across.",
         "FPdc around next st, exsc in next st, double crochet in next st, Half double in next st, skip next st, sc in "
         "each st across.",
         true, true, ""},
        {"Miss 1 st, dc in next st, RTRF around next st, dc to end",
         "Skip 1 st, sc in next st, FPDC around next st, sc to end", true, true, ""},
        {"Quadruple treble in next st, slst in next st, half treble crochet 2 together, dc to end",
         "Triple treble in next st, slst in next st, half double crochet 2 together, sc to end", true, true, ""},
        /* gauge and tension */
        {"Gauge", "Tension", false, false, ""},
        {"Gauge - see notes", "Tension - see notes", false, false, ""},
        {"Gauge (10 cm)", "Tension (10 cm)", false, false, ""},
        {"GAUGE SWATCH", "TENSION SWATCH", false, false, ""},
        {"Work a gauge square.", "Work a tension square.", false, false, ""},
        {"Check the gauge: it matters", "Check the gauge: it matters", false, false, ""},
        {"Gauge, 12", "Gauge, 12", false, false, ""},
        {"Gauge matters, tension too", "Gauge matters, tension too", false, false, ""},
        {"Tension: 16 dc", "Gauge: 16 sc", false, true, ""},
        /* the text's statement of its terms; tools */
        {"US crochet terms, US Terms", "UK crochet terms, UK Terms", false, false, ""},
        {"American abbreviations, US terminology", "British abbreviations, UK terminology", false, false, ""},
        {"British terms, UK crochet abbreviations", "American terms, US crochet abbreviations", false, true, ""},
        {"US hooks for sc", "US hooks for sc", false, false,
         "pattern.txt:1:14: warning: \"sc\" is left as it is: its line speaks of US or UK words; where it is one, "
         "write \"dc\"\n"},
        {"Hook US 7, US M (9 mm), in sc", "Hook US 7, US M (9 mm), in dc", false, false, ""},
        {"US a b. Us terms, uS terms, US crochet", "US a b. Us terms, uS terms, US crochet", false, false, ""},
        {"US terms; UK terms in brackets", "US terms; UK terms in brackets", false, false, ""},
        /* stitches in prose */
        {"Miss the skip; Sl st, single Crochet, 3-dc cl, Sc 2 together",
         "Miss the skip; Ss, double crochet, 3-tr cl, Dc 2 together", false, false, ""},
        {"An FPDC, an FPdc", "An FPDC, an FPtr", false, false,
         "pattern.txt:1:4: warning: \"FPDC\" is left as it is: in prose it may be no stitch; where it is one, write "
         "\"FPtr\"\n"},
        {"Miss 2, skip 2, sk 2, ss, mb", "Miss 2, skip 2, sk 2, sl st, mb", false, true, ""},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        static const char *const starts[] = {
            START,
            "# Body\nWith main and 5 mm hook, ch 21.\nRow 1: Dc in 2nd ch from hook and in each ch across, turn.\n"};
        const char *before = starts[cases[i].from_uk], *after = starts[!cases[i].from_uk];
        char pattern[500], expected[500];
        const char *format = cases[i].row ? "%s%s%s\n" : "%s%s\n\n%s", *label = cases[i].row ? "Row 2: " : "";
        const bool row = cases[i].row;
        snprintf(pattern, sizeof pattern, format, row ? before : cases[i].line, label, row ? cases[i].line : before);
        snprintf(expected, sizeof expected, format, row ? after : cases[i].expected, label,
                 row ? cases[i].expected : after);
        const struct printing printing[] = {{pattern, cases[i].from_uk ? "UK" : "US", ALL,
                                             cases[i].from_uk ? HK_TERMS_WANTED_US : HK_TERMS_WANTED_UK, expected,
                                             cases[i].findings}};
        assert_printings(printing);
    }
}

/*
 * A table of stitches that lacks words in one of the terms: the abbreviation of one stitch, its other spellings, or
 * both.
 */
static void words_that_a_table_does_without_stay(void **state)
{
    static const struct {
        const char *us; /* the stitch */
        bool from_uk, without_us, without_uk, without_also;
        const char *also_uk; /* its spelling in UK terms; NULL: unchanged */
        const char *words, *expected, *finding;
    } cases[] = {
        {"spike sc", false, false, true, true, NULL, "Spike sc in next st", "Spike sc in next st",
         "\"Spike sc\" is left unchanged: UK terms have no word for it"},
        {"spike sc", true, true, false, true, NULL, "Spike dc in next st", "Spike dc in next st",
         "\"Spike dc\" is left unchanged: US terms have no word for it"},
        {"spike sc", false, false, true, false, NULL, "Spsc in next st", "Spdc in next st", NULL},
        {"spike sc", false, true, false, false, NULL, "Spike single crochet in next st",
         "Spike double crochet in next st", NULL},
        {"esc", false, false, false, false, "zz", "Exsc in next st", "Edc in next st", NULL},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        const struct hk_catalogue *whole = *state;
        struct hk_catalogue part = *whole;
        const char *also[16];
        struct hk_stitch *stitches = malloc(whole->stitch_count * sizeof *stitches);
        assert_non_null(stitches);
        memcpy(stitches, whole->stitches, whole->stitch_count * sizeof *stitches);
        for (size_t s = 0; s < whole->stitch_count; s++) {
            struct hk_stitch *of = &stitches[s];
            if (!of->us || strcmp(of->us, cases[i].us) != 0)
                continue;
            of->us = cases[i].without_us ? NULL : of->us;
            of->uk = cases[i].without_uk ? NULL : of->uk;
            of->also_count = cases[i].without_also ? 0 : of->also_count;
            for (size_t k = 0; k < of->also_count; k++)
                also[k] = cases[i].also_uk && of->also_terms[k] == HK_TERMS_UK ? cases[i].also_uk : of->also[k];
            of->also = also;
        }
        part.stitches = stitches;
        const char *sc[] = {"Sc", "Dc"};
        char pattern[300], expected[300];
        struct hk_diags diags = {0};
        snprintf(pattern, sizeof pattern,
                 "# Body\nWith main and 5 mm hook, ch 21.\nRow 1: %s in 2nd ch from hook, %s.\n", sc[cases[i].from_uk],
                 cases[i].words);
        snprintf(expected, sizeof expected,
                 "# Body\nWith main and 5 mm hook, ch 21.\nRow 1: %s in 2nd ch from hook, %s.\n", sc[!cases[i].from_uk],
                 cases[i].expected);
        const struct printing printing = {pattern, cases[i].from_uk ? "UK" : "US",
                                          ALL,     cases[i].from_uk ? HK_TERMS_WANTED_US : HK_TERMS_WANTED_UK,
                                          NULL,    NULL};
        char *text = printed(&part, &printing, THREE, &diags);
        assert_string_equal(text, expected);
        assert_int_equal(diags.count, cases[i].finding ? 2 : 0);
        if (cases[i].finding) { /* and its row cannot be read in the other terms */
            assert_string_equal(diags.findings[0].message, cases[i].finding);
            assert_null(diags.findings[0].hint);
            assert_string_equal(diags.findings[1].message, "printed so, the row cannot be worked any more");
        }
        free(text);
        free(stitches);
        hk_diags_free(&diags);
    }
}

/* ---- Markdown ---- */

static void markdown_has_marks_and_escapes(void **state)
{
    static const struct printing printings[] = {
        {"Pier cowl\n\nBODY\nWith main and 5 mm hook, ch 20 (22, 24), join.\nRnd 1: Ch 1, *sc in next st, sc in next "
         "st; rep from * "
         "around, join. 20 (22, 24) sc\n\nCaf\xC3\xA9 \xE2\x80\x93 block it.\n",
         "US", 0, HK_TERMS_WANTED_PROJECT,
         "## Pier cowl\n\n## BODY\n\n- With main and 5 mm hook, ch 20, join.\n- **Rnd 1:** Ch 1, \\*sc in next st, sc "
         "in next st; rep "
         "from \\* around, join. 20 sc\n\nCaf\xC3\xA9 \xE2\x80\x93 block it.\n",
         ""},
        /* no label without a space after its colon, tabs, headings one below the other, lines that follow each other
         */
        {"BODY\nWith main and 5 mm hook, ch 20, join.\nRnd 1 (RS): Ch 1, sc in next st, sc in next\n  st, sc around, "
         "join. 20 "
         "sc\nRnd 2:sc around.\n\nEDGING\n\nNECK\nFasten off.\n",
         "US", ALL, HK_TERMS_WANTED_PROJECT,
         "## BODY\n\n- With main and 5 mm hook, ch 20, join.\n- **Rnd 1 (RS):** Ch 1, sc in next st, sc in next st, sc "
         "around, "
         "join. 20 sc\n- Rnd 2:sc around.\n\n## EDGING\n\n## NECK\n\nFasten off.\n",
         ""},
        {"\xC2\xBD of a_b\tis\tc\\d.\nSo it is.\n\nBODY\nWith main and 5 mm hook, ch 20.\n", "US", ALL,
         HK_TERMS_WANTED_PROJECT,
         "- \xC2\xBD of a\\_b is c\\\\d.\n- So it is.\n\n## BODY\n\nWith main and 5 mm hook, ch 20.\n", ""},
        {"BODY\nRnd 1: sc around.\n", "US", ALL, HK_TERMS_WANTED_PROJECT, "## BODY\n\n- **Rnd 1:** sc around.\n", ""},
        /* it is already Markdown */
        {START, "US", 0, HK_TERMS_WANTED_PROJECT, START, ""},
    };
    assert_printings_in(printings, ((struct manner){true, "S (M, L)"}));
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
    assert_findings(
        &diags, "pattern.txt:0:0: error: there is no written pattern to print; write the pattern into pattern.txt\n");
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
        cmocka_unit_test(lists_of_prose_become_the_number_of_the_size),
        cmocka_unit_test(clauses_of_0_go_with_their_mark),
        cmocka_unit_test(clauses_of_crochet_go_with_their_mark),
        cmocka_unit_test(a_count_of_two_sizes_is_no_list),
        cmocka_unit_test(limits_go_with_what_they_limit),
        cmocka_unit_test(stitches_of_rows_change_their_terms),
        cmocka_unit_test(prose_changes_where_it_is_certain),
        cmocka_unit_test(both_at_once),
        cmocka_unit_test(words_of_the_table_change_for_their_counterparts),
        cmocka_unit_test(words_that_a_table_does_without_stay),
        cmocka_unit_test(markdown_has_marks_and_escapes),
        cmocka_unit_test(changes_are_listed_with_their_places),
        cmocka_unit_test(a_project_without_a_pattern_has_none_to_print),
    };
    return cmocka_run_group_tests(tests, catalogue_set_up, catalogue_tear_down);
}
