/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The settings that a project can take from a written pattern (hankful(1), new --from): sizes, terms, yarns, tools,
 * gauge. Each text is beside the settings that a reader finds in it; the form of labels, gauges and sizes: common
 * practice, no source.
 */
#include "support.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct example {
    const char *text, *expected;
};

/* Returns one aspect of the settings as text. */
typedef void aspect_text(const struct hk_text_settings *settings, char *text, size_t room);

static struct hk_text_settings *settings_of(const struct hk_catalogue *catalogue, const char *text,
                                            struct hk_diags *diags)
{
    const struct memory_file files[] = {{"mine.txt", text, 0}, {NULL, NULL, 0}};
    struct hk_source source = memory_source(files);
    return hk_text_settings_read(&source, "mine.txt", catalogue, diags);
}

static void assert_examples_at(const struct hk_catalogue *catalogue, const struct example *examples, size_t count,
                               aspect_text *aspect, const char *file, int line)
{
    size_t wrong = 0;
    for (size_t i = 0; i < count; i++) {
        char text[2000] = "";
        struct hk_diags diags = {0};
        struct hk_text_settings *settings = settings_of(catalogue, examples[i].text, &diags);
        assert_non_null(settings);
        assert_findings(&diags, "");
        aspect(settings, text, sizeof text);
        hk_text_settings_free(settings);
        if (strcmp(text, examples[i].expected) == 0)
            continue;
        print_error("%s\n--- gives\n%s\n--- and not\n%s\n", examples[i].text, text, examples[i].expected);
        wrong++;
    }
    if (wrong > 0)
        _fail(file, line);
}
#define assert_examples(examples, aspect)                                                                              \
    assert_examples_at(*state, (examples), sizeof(examples) / sizeof *(examples), (aspect), __FILE__, __LINE__)

/* "S|M|L", and the number of values in graded numbers. */
static void sizes_text(const struct hk_text_settings *settings, char *text, size_t room)
{
    size_t at = 0;
    for (size_t i = 0; i < settings->size_count; i++)
        at += (size_t)snprintf(text + at, room - at, "%s%s", i ? "|" : "", settings->sizes[i]);
    if (settings->graded > 0)
        snprintf(text + at, room - at, " of %zu", settings->graded);
}

static void sizes_are_named_in_a_line_or_below(void **state)
{
    static const struct example examples[] = {
        {"Sizes: S (M, L)\n", "S|M|L"},
        {"Size: S [M, L]\n", "S|M|L"},
        {"SIZES\nXS (S, M) (L, XL)\n", "XS|S|M|L|XL"},
        {"SIZES\nTo fit sizes S (M, L); see the table.\n", "S|M|L"},
        {"SIZES\nSizes S (M, L)\n", "S|M|L"},
        {"Sizes: To fit 4 (6, 8) years\n", "4|6|8"},
        {"Sizes: S, M, L\n", "S|M|L"},
        {"Sizes: S, M and L\n", "S|M|L"},
        {"Sizes: S & M\n", "S|M"},
        {"Sizes: Sandy and Andy.\n", "Sandy|Andy"},
        {"Sizes: S/M/L\n", "S|M|L"},
        {"Sizes: S/M, L/XL\n", "S/M|L/XL"},
        {"Sizes: S/M (L/XL)\n", "S/M|L/XL"},
        {"Sizes: S (M; L)\n", "S|M|L"},
        {"Sizes: 2 (4: 6: 8) years\n", "2|4|6|8"},
        {"Sizes 2 [4:6:8]\n", "2|4|6|8"},
        {"Sizes: S, M; see the table\n", "S|M"},
        {"Sizes: S; see the table\n", "S"},
        {"Sizes: S (M, L), to fit a bust of 80 (90, 100) cm\n", ""},
        {"Sizes: S (M, L), to fit the studio\n", "S|M|L"},
        {"Sizes: S (32 in), M (36 in), L (40 in)\n", "S|M|L"},
        {"Sizes: S (32 in), M (36 in\n", "S|M"},
        {"Sizes: S, M, L (32, 36, 40 in)\n", "S|M|L"},
        {"Sizes: XS (S) M (L) XL\n", ""}, /* the names among them cannot be recognised */
        {"Sizes: S (M, L\n", "S|M|L"},
        {"Sizes: (S, M)\n", "S|M"},
        {"Size: Medium\n", "Medium"},
        {"Size: One size (adult)\n", "One size"},
        {"Sizes: S: to fit 80 cm\n", ""}, /* the others have separate lines */
        {"Sizes: S (M, L): 80 (90, 100) cm\n", "S|M|L"},
        {"Sizes: S, , M ,\n", "S|M"},
        {"Sizes: Small, as in the photographs above\n", ""}, /* no name has this length */
        {"Sizes: ()\n", ""},
        {"Sizes:\n", ""},
        {"SIZES 2 (4, 6, 8)\n", "2|4|6|8"},
        {"Sizes S [M, L]\n", "S|M|L"},
        {"Sizes S (M, L\n", ""},
        {"Sizes S (M, L) too\n", ""},
        {"Sizes matter: S, M\n", ""},
        {"Sizing: S, M\n", ""},
        {"The cap\nSize\nMedium\nSizes: S, M\n", "Medium"},
    };
    assert_examples(examples, sizes_text);
}

static void a_hundred_sizes_are_the_most(void **state)
{
    char text[1000] = "Sizes: 1";
    for (int i = 2; i <= 101; i++)
        snprintf(text + strlen(text), sizeof text - strlen(text), ",%d", i);
    const struct example examples[] = {{text, ""}};
    assert_examples(examples, sizes_text);
}

static void graded_numbers_tell_how_many_sizes(void **state)
{
    static const struct example examples[] = {
        {"Ch 20 (24, 28).\nRow 1: Sc in next 3 (4, 5) sts.\n", " of 3"},
        {"Ch 20 [24] .\nRow 1: Sc in next 3 [ 4 ] sts.\n", " of 2"},
        {"Ch 20 (24, 28) (32).\nRow 1: Sc in next - (4, -) (5) sts, 3 (4, -) (5) more.\n", " of 4"},
        {"Ch 20 (24, 28).\nRow 1: Sc in next 3 sts.\n", ""}, /* one occurrence is not a rule */
        {"Ch 20 (24 sts).\nSc 3 (4;5), 3 (sc, ch 1), 3 (4, 5.\n", ""},
        {"Ch 20 (24, 28) (sc, ch).\nSc 10 (12, 14) (10 of them dc).\nSc 7 (8).\n", " of 3"},
        {"Rnd 1: 6 sc in ring (6)\nRnd 2: Inc x 6 (12)\nRnd 3: (sc, inc) \xC3\x97 6 (18)\nRnd 4: (2 sc, inc) X6 "
         "(24)\n",
         ""},
        {"Ch 20 (24), 20 (24, 28), 20 (24, 28), 20 (24).\n", " of 2"}, /* the smaller of two equally frequent numbers */
    };
    assert_examples(examples, sizes_text);
    static char many[4000];
    for (int n = 0; n < 2; n++) {
        strcat(many, "Ch 1 (1");
        for (int i = 2; i <= 101; i++)
            strcat(many, ",1");
        strcat(many, ").\n");
    }
    const struct example hundred[] = {{many, ""}};
    assert_examples(hundred, sizes_text);
}

static void title_text(const struct hk_text_settings *settings, char *text, size_t room)
{
    snprintf(text, room, "%s", settings->title);
}

static void the_title_is_the_first_line_that_can_be_one(void **state)
{
    static const struct example examples[] = {
        {"Quay collar\nBy the studio.\n", "Quay collar"},
        {"# Quay collar. \nBy the studio.\n", "Quay collar"},
        {"* * *\n\nSIZES\n\nRow 1: sc.\n\nQuay collar *_*\n", "Quay collar"},
        {"This line says at length how the studio on the ferry quay came to make collars in winter.\n\nCollar\n",
         "Collar"},
        {"NOTES\n", ""},
        {"\n", ""},
    };
    assert_examples(examples, title_text);
}

static void terms_text(const struct hk_text_settings *settings, char *text, size_t room)
{
    snprintf(text, room, "%s%s", settings->uk ? "UK" : "US", settings->terms_named ? " named" : "");
}

static void terms_are_named_or_known_by_their_words(void **state)
{
    static const struct example examples[] = {
        {"Collar, UK terms\nHtr in each st.\n", "UK named"},
        {"American terms are used, not htr.\n", "US named"},
        {"Htr in each st.\n", "UK"},
        {"Hdc in each st (htr in Britain).\n", "US"},
        {"Dc in each st.\n", "US"},
    };
    assert_examples(examples, terms_text);
}

static void yarns_text(const struct hk_text_settings *settings, char *text, size_t room)
{
    size_t at = 0;
    for (size_t i = 0; i < settings->yarn_count; i++) {
        const struct hk_text_yarn *y = &settings->yarns[i];
        at += (size_t)snprintf(text + at, room - at, "%s%s: %s|%s|%s|%s", i ? "; " : "", y->role, y->yarn, y->put_up,
                               y->length, y->colour);
    }
}

static void yarns_are_read_from_their_labels(void **state)
{
    static const struct example examples[] = {
        {"MC: Holm DK (50 g = 120 m), Slate, 5 (6, 7) balls\n", "MC: Holm DK|50 g|120 m|Slate"},
        {"MC: Holm DK (50 g, 120 m), Slate\n", "MC: Holm DK|50 g|120 m|Slate"},
        {"CC1 Holm DK [120 m / 50 g]; shade Tar Black.\n", "CC1: Holm DK|50 g|120 m|Tar Black"},
        {"Yarn A: Holm DK, 50 g / 120 m\nColour B Eider Sock, 1.75 oz = 240 yards in color: Tar\nRow 1: sc.\n",
         "A: Holm DK|50 g|120 m|; B: Eider Sock|1.75 oz|240 yards|"},
        {"A - Holm DK - 50 g = 120 m, in Slate\n\nA - again: 50 g = 110 m\n\nB (Eider Sock, 50 g = 240 m)\n",
         "A: Holm DK|50 g|120 m|Slate; B: Eider Sock|50 g|240 m|"},
        {"A (black): Skerry DK, 50 g / 120 m, Slate\n", "A: Skerry DK|50 g|120 m|black"},
        {"A (black) Skerry DK, 50 g / 120 m, Slate\n", "A: black) Skerry DK|50 g|120 m|Slate"},
        {"A black): Skerry DK, 50 g / 120 m\n", "MC: Skerry DK|50 g|120 m|"},
        {"Yarn: A: Skerry DK, 50 g / 120 m\n", "A: Skerry DK|50 g|120 m|"},
        {"A = 50 g / 120 m\n", "A: |50 g|120 m|"},
        /* No role: for all yarns named in the rows, MC if they name none. */
        {"Holm DK (50 g / 120 m)\n", "MC: Holm DK|50 g|120 m|"},
        {"Yarn: Holm DK, 50 g / 120 m\nWith A, ch 20. Change to B.\n",
         "A: Holm DK|50 g|120 m|; B: Holm DK|50 g|120 m|"},
        {"Holm DK (50 g / 120 m): MC grey, CC red\nWith MC, ch 20. With CC, sc.\n",
         "MC: Holm DK|50 g|120 m|grey; CC: Holm DK|50 g|120 m|red"},
        {"A 50 g ball of Holm DK has 120 m.\n", "MC: |50 g|120 m|"},
        {"I used Holm DK (50 g / 120 m).\n", "MC: I used Holm DK|50 g|120 m|"},
        /* Two labels without a role: their roles are unknown. */
        {"Holm DK (50 g / 120 m)\nEider Sock (50 g / 240 m)\nWith A, ch 20. Join B.\n", "A: |||; B: |||"},
        /* A label has a mass and a length, in metres. */
        {"MC: Holm DK, 50 g\nCC: 120 m\n", "MC: |||"},
        {"MC: Holm DK, 50 g, 4 mm hook, 22 sts\n", "MC: |||"},
        {"MC: Holm DK, 50 g / 120 m (100 g / 240 m), size2m 3.5m\n", "MC: Holm DK|50 g|120 m|"},
        {"MC: Holm no.3 (50 g / 120 m)\n", "MC: Holm no.3|50 g|120 m|"},
        {"MC: Holm DK (50 g / 120 m)\n\nEider Sock (50 g / 240 m)\n\nWith MC, ch 20. Join B.\n",
         "MC: Holm DK|50 g|120 m|; B: Eider Sock|50 g|240 m|"},
        {"MC: Holm DK, 50 g / 1,234 m\nRow 9: Pick up 50 g of yarn, 120 m.\n", "MC: |||"},
        /* Roles have one letter, or are MC and CC with a number. */
        {"Main: Holm DK (50 g / 120 m)\n", "MC: Holm DK|50 g|120 m|"},
        {"XY: Holm DK (50 g / 120 m)\n", "MC: Holm DK|50 g|120 m|"},
        {"b: Holm DK (50 g / 120 m)\n", "MC: Holm DK|50 g|120 m|"},
        {"\xC3\x84: Holm DK (50 g / 120 m)\n", "MC: Holm DK|50 g|120 m|"},
        {"", "MC: |||"},
    };
    assert_examples(examples, yarns_text);
}

static void colours_are_words_behind_a_label(void **state)
{
    static const struct example examples[] = {
        {"A: Holm (50 g, 120 m), 3 balls\n", "A: Holm|50 g|120 m|"},
        {"A: Holm (50 g, 120 m), balls\n", "A: Holm|50 g|120 m|"},
        {"A: Holm (50 g, 120 m),\n", "A: Holm|50 g|120 m|"},
        {"A: Holm (50 g, 120 m); colour - Tar , 2 balls\n", "A: Holm|50 g|120 m|Tar"},
        {"A: Holm (50 g, 120 m), grey as the ferry on a morning of rain in March\n", "A: Holm|50 g|120 m|"},
        {"A: Holm (50 g, 120 m) Slate\n", "A: Holm|50 g|120 m|"},
    };
    assert_examples(examples, yarns_text);
}

static void rows_name_yarns(void **state)
{
    static const struct example examples[] = {
        /* As written: "with a" is not a yarn. */
        {"With a 5 mm hook and MC, ch 20. Join CC2. With A, sc.\n", "MC: |||; CC2: |||; A: |||"},
        {"With 4 mm needles and B, cast on 20 sts. With a needle and A, sew.\n", "A: |||; B: |||"},
        {"With needles and b, cast on. With crook and C, sc.\n", "MC: |||"},
        {"Yarn: Quay DK in Slate (A), 3 x 50 g balls, and Buoy (B), 1 ball\nWith A, ch 20.\n", "A: |||; B: |||"},
        {"Hooks (B) and yarn (D)\nWith A, ch 20.\n", "A: |||"},
        {"With MC, ch 20. In B, sc. Using C, sc. Switch to D. Change to E.\n",
         "MC: |||; B: |||; C: |||; D: |||; E: |||"},
        {"With A's tail, sew. Join B-side. With the hook.\n", "MC: |||"},
        {"MC: Holm DK (50 g / 120 m)\nWith MC, ch 20.\n", "MC: Holm DK|50 g|120 m|"},
    };
    assert_examples(examples, yarns_text);
    /* At most sixteen yarns. */
    static char labels[1000], expected[1000];
    for (int i = 0; i < 17; i++) {
        snprintf(labels + strlen(labels), sizeof labels - strlen(labels), "%c: Holm, 50 g / 120 m\n", 'G' + i);
        if (i < 16)
            snprintf(expected + strlen(expected), sizeof expected - strlen(expected), "%s%c: Holm|50 g|120 m|",
                     i ? "; " : "", 'G' + i);
    }
    strcat(labels, "With A, ch 20.\n");
    const struct example most[] = {{labels, expected}};
    assert_examples(most, yarns_text);
}

static void gauge_text(const struct hk_text_settings *settings, char *text, size_t room)
{
    snprintf(text, room, "%g x %g, %g mm, %s", settings->gauge_stitches, settings->gauge_rows, settings->gauge_tool_mm,
             settings->gauge_fabric);
}

static void the_gauge_is_that_of_ten_centimetres(void **state)
{
    static const struct example examples[] = {
        {"16 sts and 12 rows to 10 cm in hdc with 5 mm hook\n", "16 x 12, 5 mm, half double crochet"},
        {"Gauge: 22 stitches x 28 rows = 10cm over st st\n", "22 x 28, 0 mm, stockinette"},
        {"10 cm in st st: 22 stitches and 28 rounds\n", "22 x 28, 0 mm, stockinette"},
        {"GAUGE\n4 in / 10 cm of single crochet, slightly stretched, has 16 1/2 sts and 20.5 rnds.\n",
         "16.5 x 20.5, 0 mm, single crochet"},
        {"16 st and 20 rows = 4in in garter stitch.\n", "16 x 20, 0 mm, garter stitch"},
        {"16 sts and 20 rows = 4\" in the lace of the chart\n", "16 x 20, 0 mm, "},
        {"16 sts and 20 rows to 4 inches, in sc2tog, with 4 mm hook or 5 mm hook\n", "16 x 20, 0 mm, "},
        {"16 sts and 20 rows to 10 cm over pattern; inside\n\n16 sts and 12 rows to 10 cm in hdc\n", "16 x 20, 0 mm, "},
        {"Row 1: 16 sts in 20 rows of 10 cm\n", "0 x 0, 0 mm, "},
        {"16 sts to 10 cm\n20 rows to 10 cm\nsts and rows to 10 cm\nmany sts and 20 rows to 10 cm\n16 sts and 20 rows "
         "to 10 cm in sc\n",
         "16 x 20, 0 mm, single crochet"},
        {"The scarf has 24 sts and 300 rows and is 64 in long.\n", "0 x 0, 0 mm, "},
        {"16 or more 1/2 sts, 16 sts and many rows to 10 cm\n", "0 x 0, 0 mm, "},
        {"1/2 sts, rows, 10 cm\n", "0 x 0, 0 mm, "},
        {"20\" - sts / 10 cm: 16 sts and 20 rows\n", "16 x 20, 0 mm, "},
        {"16-18 sts and 20 rows to 10 cm\n", "0 x 0, 0 mm, "}, /* not a single number */
        {"Sts: 16. Rows: 20. 10 cm.\n", "0 x 0, 0 mm, "},
        {"UK terms\n16 sts and 20 rows to 10 cm in dc\n", "16 x 20, 0 mm, single crochet"},
    };
    assert_examples(examples, gauge_text);
}

static void tools_text(const struct hk_text_settings *settings, char *text, size_t room)
{
    size_t at = 0;
    for (size_t i = 0; i < settings->tool_count; i++)
        at += (size_t)snprintf(text + at, room - at, "%s%g", i ? " " : "", settings->tools_mm[i]);
}

static void all_tools_are_listed(void **state)
{
    static const struct example examples[] = {
        {"With 5 mm hook, ch 20. Change to 4 mm hook. Back to 5 mm hook.\nButtons of 18 mm.\n", "4 5"},
        {"Ch 20.\n", ""},
    };
    assert_examples(examples, tools_text);
}

static void a_file_that_cannot_be_read_is_refused(void **state)
{
    const struct memory_file files[] = {{"bad.txt", "Ch\xE9 20.\n", 0}, {NULL, NULL, 0}};
    struct hk_source source = memory_source(files);
    struct hk_diags diags = {0};
    assert_null(hk_text_settings_read(&source, "none.txt", *state, &diags));
    assert_findings(&diags, "none.txt:0:0: error: there is no such file\n");
    hk_text_settings_free(NULL);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(sizes_are_named_in_a_line_or_below),
        cmocka_unit_test(a_hundred_sizes_are_the_most),
        cmocka_unit_test(graded_numbers_tell_how_many_sizes),
        cmocka_unit_test(the_title_is_the_first_line_that_can_be_one),
        cmocka_unit_test(terms_are_named_or_known_by_their_words),
        cmocka_unit_test(yarns_are_read_from_their_labels),
        cmocka_unit_test(colours_are_words_behind_a_label),
        cmocka_unit_test(rows_name_yarns),
        cmocka_unit_test(the_gauge_is_that_of_ten_centimetres),
        cmocka_unit_test(all_tools_are_listed),
        cmocka_unit_test(a_file_that_cannot_be_read_is_refused),
    };
    return cmocka_run_group_tests(tests, catalogue_set_up, catalogue_tear_down);
}
