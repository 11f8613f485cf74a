/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support.h"

#include "project/project.h"
#include "input/quantity.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct hk_convert convert_with(const struct hk_catalogue *catalogue, const struct hk_project *project,
                                      const char *const *words)
{
    struct hk_convert result = {0};
    struct hk_diags diags = {0};
    size_t count = 0;
    while (words[count])
        count++;
    bool converted = hk_convert_words(words, count, catalogue, project, &result, &diags);
    assert_findings(&diags, "");
    assert_true(converted);
    return result;
}

#define WORDS(...) ((const char *const[]){__VA_ARGS__, NULL})

/*
 * Peirce's diameter, for comparison with the last column of the reference table (the model's own coefficient is in the
 * spreads).
 */
static const struct hk_catalogue peirce = {.spreads.diameter_mm = 0.037424};

static struct hk_yarn_number number_of(const char *word)
{
    struct hk_convert result = convert_with(&peirce, NULL, WORDS(word));
    assert_true(result.has_number);
    struct hk_yarn_number number = result.number[0];
    assert_memory_equal(&number, &result.number[1], sizeof number);
    hk_convert_free(&result);
    return number;
}

static void assert_refused(const char *const *words, const struct hk_project *project,
                           const struct hk_catalogue *catalogue, const char *expected)
{
    struct hk_convert result = {.put_up_g = 7};
    struct hk_diags diags = {0};
    size_t count = 0;
    while (words[count])
        count++;
    assert_false(hk_convert_words(words, count, catalogue, project, &result, &diags));
    assert_close(result.put_up_g, 7, 0, 0);
    assert_null(result.memory);
    assert_findings(&diags, expected);
}

/* tests/reference/units.csv: put-ups in all systems; the file names its sources. */
static void put_ups_have_the_yarn_numbers_of_the_reference(void **state)
{
    (void)state;
    struct hk_source source = hk_source_folder(REFERENCE_DIR);
    struct hk_diags diags = {0};
    struct hk_table *table = hk_table_read(&source, "units.csv", (struct hk_table_options){.required = true}, &diags);
    assert_findings(&diags, "");
    assert_int_equal(hk_table_rows(table), 9);
    for (size_t row = 0; row < hk_table_rows(table); row++) {
        struct hk_yarn_number n = number_of(hk_table_at(table, row, 0).text);
        const double got[] = {n.tex, n.denier, n.metric_nm, n.cotton_ne, n.worsted_ne, n.woollen_run, n.yards_a_pound,
                              n.metres_in_100_g, n.diameter_mm};
        for (size_t i = 0; i < sizeof got / sizeof got[0]; i++) {
            struct hk_cell cell = hk_table_at(table, row, i + 1);
            double expected;
            if (hk_cell_empty(cell))
                continue;
            assert_true(hk_quantity_cell(cell, HK_DIM_PLAIN, HK_SIGN_POSITIVE, &expected, &diags));
            /* half a unit of the last printed digit */
            const char *point = strchr(cell.text, '.');
            assert_close(got[i], expected, 0, 0.51 * pow(10, point ? -(double)strlen(point + 1) : 0));
        }
    }
    assert_findings(&diags, "");
    hk_table_free(table);
}

/* ASTM D2260's own examples: Ne 10 is worsted 15; 30 tex is Ne 19.7. */
static void the_standards_own_examples_hold(void **state)
{
    (void)state;
    assert_close(number_of("Ne 10").worsted_ne, 15, 1e-12, 0);
    assert_close(number_of("30 tex").cotton_ne, 19.7, 0, 0.05);
}

/* Inverse: a yarn stated in any system converts back to its number. */
static void each_system_gives_back_what_it_was_given(void **state)
{
    (void)state;
    assert_close(number_of("2.5 Nm").metric_nm, 2.5, 1e-14, 0);
    assert_close(number_of("Nm 2.5").tex, 400, 1e-14, 0);
    assert_close(number_of("1.5 Ne").cotton_ne, 1.5, 1e-14, 0);
    assert_close(number_of("cotton count 1.5").cotton_ne, 1.5, 1e-14, 0);
    assert_close(number_of("2.2 worsted count").worsted_ne, 2.2, 1e-14, 0);
    assert_close(number_of("3600 denier").denier, 3600, 1e-14, 0);
    assert_close(number_of("4000 dtex").tex, 400, 1e-14, 0);
    assert_close(number_of("900 yd/lb").yards_a_pound, 900, 1e-14, 0);
    assert_close(number_of("900 ypp").yards_a_pound, 900, 1e-14, 0);
    assert_close(number_of("250 m/100 g").metres_in_100_g, 250, 1e-14, 0);
    assert_close(number_of("0.5 run").woollen_run, 0.5, 1e-14, 0);
    assert_close(number_of("12 wpi").wraps_per_inch, 12, 1e-14, 0);
    assert_close(number_of("2 mm diameter").wraps_per_inch, 12.7, 1e-14, 0);
    assert_close(number_of("diameter 2 mm").diameter_mm, 2, 1e-14, 0);
}

/* Two plies of 28 are 14; common practice, no source. */
static void plied_counts_are_no_fractions(void **state)
{
    (void)state;
    assert_close(number_of("Nm 2/28").metric_nm, 14, 1e-14, 0);
    assert_close(number_of("28/2 Nm").metric_nm, 14, 1e-14, 0);
    assert_close(number_of("30/2 Ne").cotton_ne, 15, 1e-14, 0);
}

static void a_label_turns_mass_into_length_and_back(void **state)
{
    (void)state;
    static const char *const labels[] = {"50 g = 120 m", "50g/120m", "120 m = 50 g", "120 m / 50 g", "120m per 50g"};
    for (size_t i = 0; i < sizeof labels / sizeof labels[0]; i++) {
        struct hk_convert result = convert_with(&peirce, NULL, WORDS("275 g", labels[i]));
        assert_close(result.length_m[0], 660, 1e-14, 0); /* 275 / 50 * 120 */
        assert_close(result.length_m[1], 660, 1e-14, 0);
        assert_close(result.balls[0], 5.5, 1e-14, 0);
        assert_close(result.put_up_g, 50, 0, 0);
        hk_convert_free(&result);
        result = convert_with(&peirce, NULL, WORDS(labels[i], "660 m"));
        assert_close(result.mass_g[1], 275, 1e-14, 0);
        assert_close(result.balls[1], 5.5, 1e-14, 0);
        hk_convert_free(&result);
    }
    struct hk_convert result = convert_with(&peirce, NULL, WORDS("100 g", "900 yd/lb"));
    assert_close(result.put_up_g, 0, 0, 0);
    assert_close(result.balls[0], 0, 0, 0);
    hk_convert_free(&result);
}

static void words_may_be_apart(void **state)
{
    (void)state;
    struct hk_convert result = convert_with(&peirce, NULL, WORDS("275", "g", "50", "g", "=", "120", "m"));
    assert_close(result.length_m[0], 660, 1e-14, 0);
    hk_convert_free(&result);
    result = convert_with(&peirce, NULL, WORDS("7", "1/4", "in", "12", "wraps", "per", "inch"));
    assert_close(result.length_m[0], 7.25 * 0.0254, 1e-14, 0);
    assert_close(result.number[0].wraps_per_inch, 12, 1e-14, 0);
    hk_convert_free(&result);
    result = convert_with(&peirce, NULL, WORDS("5'", "2\""));
    assert_close(result.length_m[0], 62 * 0.0254, 1e-14, 0);
    hk_convert_free(&result);
    result = convert_with(&peirce, NULL, WORDS("Nm", "2.5", "275", "g"));
    assert_close(result.length_m[0], 687.5, 1e-14, 0);
    hk_convert_free(&result);
}

static void an_amount_alone_is_only_converted(void **state)
{
    (void)state;
    struct hk_convert result = convert_with(&peirce, NULL, WORDS("8 oz"));
    assert_true(result.has_mass && !result.has_length && !result.has_number);
    assert_close(result.mass_g[0], 226.796185, 1e-15, 0); /* NIST HB 44 */
    assert_int_equal(result.category_count, 0);
    hk_convert_free(&result);
    hk_convert_free(&result);
    hk_convert_free(NULL);
}

static bool has_category(const struct hk_convert *result, const char *category)
{
    for (size_t i = 0; i < result->category_count; i++) {
        if (strcmp(result->categories[i], category) == 0)
            return true;
    }
    return false;
}

/* Common practice, no source: worsted yarn at 690 yd for 310 g lies in category 4's usual grist. */
static void worsted_at_690_yards_for_310_g_is_of_category_4(void **state)
{
    struct hk_convert result = convert_with(*state, NULL, WORDS("690 yd", "310 g"));
    assert_true(has_category(&result, "4 Medium"));
    hk_convert_free(&result);
}

/*
 * Craft Yarn Council, seen in two copies: wraps per inch 9 to 12 for category 4, 11 to 15 for 3, 12 to 18 for 2,
 * 5 to 6 for 6, 1 to 4 for 7.
 */
static void every_category_that_fits_is_listed(void **state)
{
    const struct hk_catalogue *catalogue = *state;
    static const struct {
        const char *word, *categories[4];
    } cases[] = {
        {"12 wpi", {"2 Fine", "3 Light", "4 Medium"}},
        {"10 wpi", {"4 Medium"}},
        {"4.6 wpi", {"6 Super Bulky"}},
        {"0.7 wpi", {"7 Jumbo"}},
        {"60 wpi", {"0 Lace"}},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct hk_convert result = convert_with(catalogue, NULL, WORDS(cases[i].word));
        size_t count = 0;
        for (; cases[i].categories[count]; count++)
            assert_true(has_category(&result, cases[i].categories[count]));
        assert_int_equal(result.category_count, count);
        hk_convert_free(&result);
    }
}

/*
 * By hand, with 9 to 12 wraps and d = 0.108 mm sqrt(tex): tex = (25.4 / (0.108 * 12))^2 = 384.1 to (25.4 / (0.108 *
 * 9))^2 = 682.9, so 275 g are 402.7 m to 715.9 m.
 */
static void a_category_gives_a_range(void **state)
{
    const struct hk_catalogue *catalogue = *state;
    static const char *const names[] = {"category 4", "Medium", "category medium", "aran", "category 10 ply"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        struct hk_convert result = convert_with(catalogue, NULL, WORDS("275 g", names[i]));
        assert_close(result.number[0].tex, 384.1, 0, 0.05);
        assert_close(result.number[1].tex, 682.9, 0, 0.05);
        assert_close(result.length_m[0], 402.7, 0, 0.1);
        assert_close(result.length_m[1], 715.9, 0, 0.1);
        assert_false(result.finer_too || result.coarser_too);
        assert_int_equal(result.category_count, 1);
        hk_convert_free(&result);
    }
    struct hk_convert lace = convert_with(catalogue, NULL, WORDS("category", "0", "100", "m"));
    assert_true(lace.finer_too && !lace.coarser_too);
    assert_close(lace.number[0].wraps_per_inch, 30, 1e-14, 0);
    hk_convert_free(&lace);
}

static void a_name_of_several_categories_asks_which(void **state)
{
    assert_refused(WORDS("275 g", "fingering"), NULL, *state,
                   "words:2:1: error: \"fingering\" is the name of several yarn categories: 0 Lace, 1 Super Fine; write "
                   "category and the number of the one that is meant\n");
}

static void a_yarn_of_the_project_is_known_by_name_or_role(void **state)
{
    (void)state;
    struct hk_yarn yarn = {.name = "Brinewool", .put_up_g = 50, .length_m = 125, .tex = 400, .diameter_mm = 2.2};
    struct hk_candidate candidate = {.role = 0, .yarn = 0};
    struct hk_role role = {.name = "main"};
    const struct hk_project project = {.yarns = &yarn, .yarn_count = 1, .candidates = &candidate, .candidate_count = 1,
                                       .roles = &role, .role_count = 1, .spreads.diameter_mm = 0.108};
    static const char *const names[] = {"Brinewool", "brinewool", "yarn Brinewool", "main"};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        struct hk_convert result = convert_with(&peirce, &project, WORDS("275 g", names[i]));
        assert_close(result.length_m[0], 687.5, 1e-14, 0); /* 275 / 0.4 */
        assert_close(result.number[0].diameter_mm, 2.2, 0, 0);
        assert_close(result.balls[0], 5.5, 1e-14, 0);
        hk_convert_free(&result);
    }
    assert_refused(WORDS("275 g", "Brinewol"), &project, &peirce,
                   "words:2:1: error: \"Brinewol\" is not an amount, a category or a yarn of this design; did you mean "
                   "\"Brinewool\"?\n");
}

/* For a category with known wraps at one end only, that end; for none, no length can be computed. */
static void a_category_without_wraps_does_not_describe_the_yarn(void **state)
{
    (void)state;
    static struct hk_category categories[] = {
        {.name = "8", .label = "Rope", .wraps_low = 0, .wraps_high = 5}, {.name = "9", .label = "Cable", .wraps_high = INFINITY},
        {.name = "10", .label = "Hawser"},
    };
    const struct hk_catalogue catalogue = {.categories = categories, .category_count = 3, .spreads.diameter_mm = 0.037424};
    struct hk_convert rope = convert_with(&catalogue, NULL, WORDS("category 8"));
    assert_true(rope.coarser_too && !rope.finer_too);
    assert_close(rope.number[0].wraps_per_inch, 5, 1e-14, 0);
    assert_close(rope.number[1].wraps_per_inch, 5, 1e-14, 0);
    hk_convert_free(&rope);
    assert_refused(WORDS("category 9"), NULL, &catalogue,
                   "words:1:1: error: no wraps per inch are known for category 9; describe the yarn by its label: 50 g = 120 m\n");
    assert_refused(WORDS("Hawser"), NULL, &catalogue,
                   "words:1:1: error: no wraps per inch are known for category 10; describe the yarn by its label: 50 g = 120 m\n");
}

static void a_second_yarn_or_length_is_refused_whatever_says_it(void **state)
{
    (void)state;
    struct hk_yarn yarn = {.name = "Brinewool", .put_up_g = 50, .length_m = 125, .tex = 400, .diameter_mm = 2.2};
    const struct hk_project project = {.yarns = &yarn, .yarn_count = 1, .spreads.diameter_mm = 0.108};
    assert_refused(WORDS("400 tex", "Brinewool"), &project, &peirce,
                   "words:2:1: error: \"Brinewool\" is a second yarn; describe one yarn at a time\n");
    assert_refused(WORDS("400 tex", "50 g = 120 m"), NULL, &peirce,
                   "words:2:1: error: \"50 g = 120 m\" is a second yarn; describe one yarn at a time\n");
    assert_refused(WORDS("500 m", "600 m"), NULL, &peirce,
                   "words:2:1: error: \"600 m\" is a second length; "
                   "convert one amount at a time, or write a label with =: 50 g = 120 m\n");
    assert_refused(
        WORDS("0.0001 g = 100000000 km"), NULL, &peirce,
        "words:1:1: error: \"0.0001 g = 100000000 km\" is not a possible yarn; write it like 50 g = 120 m\n");
    assert_refused(WORDS("100 kg = 0.001 mm"), NULL, &peirce,
                   "words:1:1: error: \"100 kg = 0.001 mm\" is not a possible yarn; write it like 50 g = 120 m\n");
    assert_refused(WORDS("Nm 0"), NULL, &peirce,
                   "words:1:4: error: 0 is not possible here; write a plain number above zero\n");
}

static void what_is_reported_only_in_part_is_reported(void **state)
{
    (void)state;
    static const char nothing[] =
        "is not an amount, a category or a yarn of this design; write an amount like 275 g or 500 m, and a yarn "
        "like 50 g = 120 m, 400 tex, 12 wpi or category 4";
    static const struct {
        const char *word, *column, *message;
    } wrong[] = {
        {"= 120 m", "1", "a mass is missing; write it like 50 g or 1.75 oz"},
        {"50 g =", "7", "a mass is missing; write it like 50 g or 1.75 oz"},
        {"50 g = x m", "8", "\"x m\" is not a mass; write it like 50 g or 1.75 oz"},
        {"0 g = 120 m", "1", "0 g is not possible here; write a mass above zero"},
        {"Nm 0/2", "4",
         "0/2 is a date that a spreadsheet made of what was typed; format the column as text and type it again"},
        {"Nm x", "1", NULL},
        {"Nm -2", "1", NULL},
        {"tex 400", "1", NULL},
        {"diameter", "1", NULL},
        {"category", "1", NULL},
        {"category 9", "1", NULL},
        {"", "1", NULL},
        {"0.0000000000001 tex", "1",
         "0.0000000000001 tex is smaller than anything possible; write a yarn number like 400 tex"},
        {"99999999999999999 tex", "1",
         "99999999999999999 tex is larger than anything possible; write a yarn number like 400 tex"},
        {"diameter 0 mm", "10", "0 mm is not possible here; write a length above zero"},
        {"diameter 2 g", "12", "g measures a mass, and a length is needed here; write it like 18.5 cm or 7 1/4 in"},
        {"0 g", "1", "0 g is not possible here; write a mass above zero"},
        {"5 %", "1", "\"5 %\" is not an amount of yarn; write a mass or a length, such as 275 g or 500 m"},
        {"275 g 5", "7", "5 has no unit; write 5 g or 5 oz"},
        {"275 [g]", "5", "\"[g]\" is not a known unit; write it like 50 g or 1.75 oz"},
        {"10^3 g", "3", "\"^\" is not a known unit; write it like 50 g or 1.75 oz"},
    };
    for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++) {
        char expected[400];
        if (wrong[i].message)
            snprintf(expected, sizeof expected, "words:1:%s: error: %s\n", wrong[i].column, wrong[i].message);
        else
            snprintf(expected, sizeof expected, "words:1:1: error: \"%s\" %s\n", wrong[i].word, nothing);
        assert_refused(WORDS(wrong[i].word), NULL, &peirce, expected);
    }
}

static void mistakes_are_all_reported_with_the_number_of_the_word(void **state)
{
    (void)state;
    assert_refused(WORDS("275 gramms", "50 g = 120"), NULL, &peirce,
                   "words:1:5: error: \"gramms\" is not a known unit; did you mean grams?\n"
                   "words:2:8: error: 120 has no unit; write 120 g or 120 oz\n");
    assert_refused(WORDS("275"), NULL, &peirce,
                   "words:1:1: error: 275 has no unit; write 275 g, 275 m, 275 yd, 275 tex or category 275\n");
    assert_refused(WORDS("275 g", "5 oz"), NULL, &peirce,
                   "words:2:1: error: \"5 oz\" is a second mass; "
                   "convert one amount at a time, or write a label with =: 50 g = 120 m\n");
    assert_refused(WORDS("400 tex", "12 wpi"), NULL, &peirce,
                   "words:2:1: error: \"12 wpi\" is a second yarn; describe one yarn at a time\n");
    assert_refused(WORDS("275 g", "500 m", "400 tex"), NULL, &peirce,
                   "words:0:0: error: a mass, a length and a yarn are given; "
                   "leave one out to compute it from the others\n");
    assert_refused(
        WORDS("50 g = 2 oz"), NULL, &peirce,
        "words:1:1: error: \"50 g = 2 oz\" is two masses; a label gives a mass and a length: 50 g = 120 m\n");
    assert_refused(
        WORDS("100 m = 50 yd"), NULL, &peirce,
        "words:1:1: error: \"100 m = 50 yd\" is two lengths; a label gives a mass and a length: 50 g = 120 m\n");
    assert_refused(WORDS("0 tex"), NULL, &peirce,
                   "words:1:1: error: 0 tex is not possible here; write a yarn number above zero\n");
    assert_refused(
        WORDS("20 min"), NULL, &peirce,
        "words:1:1: error: \"20 min\" is not an amount of yarn; write a mass or a length, such as 275 g or 500 m\n");
    assert_refused(
        WORDS("wool"), NULL, &peirce,
        "words:1:1: error: \"wool\" is not an amount, a category or a yarn of this design; write an amount like 275 "
        "g or 500 m, "
        "and a yarn like 50 g = 120 m, 400 tex, 12 wpi or category 4\n");
    assert_refused((const char *const[]){NULL}, NULL, &peirce,
                   "words:0:0: error: there is nothing to convert; "
                   "write an amount like 275 g, a yarn like 50 g = 120 m, or both\n");
}

static void garbage_is_answered(void **state)
{
    const struct hk_catalogue *catalogue = *state;
    static const char *const bits[] = {"1",    "275",       " g",     " m",       "=",   "/",   " per ", "Nm ",
                                       " Ne",  "category ", "Medium", " ",        "tex", "wpi", "1/4",   "\"",
                                       "\xFF", "-",         "thick",  "diameter", "0",   "e9",  "yarn "};
    uint64_t seed = 3;
    for (int i = 0; i < RANDOM_CASES(20000); i++) {
        char text[3][128] = {"", "", ""};
        for (int w = 0; w < 3; w++) {
            for (uint64_t n = random_next(&seed) % 6; n > 0; n--)
                strcat(text[w], bits[random_next(&seed) % (sizeof bits / sizeof bits[0])]);
        }
        const char *const words[] = {text[0], text[1], text[2]};
        struct hk_convert result = {0};
        struct hk_diags diags = {0};
        bool converted = hk_convert_words(words, 1 + random_next(&seed) % 3, catalogue, NULL, &result, &diags);
        assert_int_equal(converted, diags.errors == 0);
        hk_diags_free(&diags);
        hk_convert_free(&result);
    }
}

/* ---- GNU units as an independent reference ----------------------------------------------------------------------- */

/* A unit in our notation and in that of GNU units. Counts are inverse to tex: GNU units inverts them automatically. */
struct names {
    const char *ours, *theirs;
};

static const struct names masses[] = {{"g", "gram"}, {"kg", "kg"}, {"oz", "ounce"}, {"lb", "pound"}};
static const struct names lengths[] = {{"mm", "mm"}, {"cm", "cm"}, {"m", "m"},   {"km", "km"},
                                       {"in", "inch"}, {"ft", "foot"}, {"yd", "yard"}};
static const struct names numbers[] = {
    {"tex", "tex"}, {"dtex", "dtex"}, {"denier", "denier"}, {"Nm", "metricyarncount"}, {"Ne", "cottonyarncount"},
    {"NeK", "worstedyarncount"}, {"run", "woolyarnrun"}, {"yd/lb", "yd/lb"},
};

#define CONVERSIONS 400
#define COUNT_OF(array) (sizeof(array) / sizeof(array)[0])

/* The request of one random conversion, and our answer. */
struct conversion {
    char ask[96], want[96];
    double ours;
};

static double in_number(const struct hk_yarn_number *n, size_t i)
{
    const double of[] = {n->tex, n->tex * 10, n->denier, n->metric_nm, n->cotton_ne, n->worsted_ne, n->woollen_run,
                         n->yards_a_pound};
    return of[i];
}

/* A random amount as text with 1 to 6 significant digits, from 0.01 to 99999. */
static void random_amount(uint64_t *seed, char text[24])
{
    double value = (double)random_in(seed, 1, 999999) / 1e5 * pow(10, (int)(random_next(seed) % 5) - 1);
    snprintf(text, 24, "%.6g", value);
}

static void make_amount(uint64_t *seed, struct conversion *c)
{
    bool mass = random_next(seed) % 2;
    const struct names *units = mass ? masses : lengths;
    const struct names *from = &units[random_next(seed) % (mass ? COUNT_OF(masses) : COUNT_OF(lengths))];
    char amount[24], word[64];
    random_amount(seed, amount);
    snprintf(word, sizeof word, "%s %s", amount, from->ours);
    snprintf(c->ask, sizeof c->ask, "%s %s", amount, from->theirs);
    snprintf(c->want, sizeof c->want, "%s", mass ? "gram" : "m");
    struct hk_convert result = convert_with(&peirce, NULL, WORDS(word));
    c->ours = mass ? result.mass_g[0] : result.length_m[0];
    hk_convert_free(&result);
}

static void make_label(uint64_t *seed, struct conversion *c)
{
    const struct names *mass = &masses[random_next(seed) % 2 ? 0 : 2];
    const struct names *length = &lengths[random_next(seed) % 2 ? 2 : 6];
    size_t to = random_next(seed) % COUNT_OF(numbers);
    char m[24], l[24], word[96];
    random_amount(seed, m);
    random_amount(seed, l);
    snprintf(word, sizeof word, "%s %s = %s %s", m, mass->ours, l, length->ours);
    snprintf(c->ask, sizeof c->ask, "(%s %s)/(%s %s)", m, mass->theirs, l, length->theirs);
    snprintf(c->want, sizeof c->want, "%s", numbers[to].theirs);
    struct hk_yarn_number number = number_of(word);
    c->ours = in_number(&number, to);
}

static void make_number(uint64_t *seed, struct conversion *c)
{
    size_t from = random_next(seed) % COUNT_OF(numbers), to = random_next(seed) % COUNT_OF(numbers);
    char amount[24], word[64];
    random_amount(seed, amount);
    snprintf(word, sizeof word, "%s %s", amount, numbers[from].ours);
    snprintf(c->ask, sizeof c->ask, "%s %s", amount, numbers[from].theirs);
    snprintf(c->want, sizeof c->want, "%s", numbers[to].theirs);
    struct hk_yarn_number number = number_of(word);
    c->ours = in_number(&number, to);
}

/* Runs one conversion in a single call. Returns NAN if the answer is no number. */
static double gnu_units(const struct conversion *c)
{
    char command[256], answer[128] = "";
    snprintf(command, sizeof command, "LC_ALL=C units --digits 17 --compact --one-line -- '%s' '%s' 2>&1", c->ask,
             c->want);
    FILE *pipe = popen(command, "r");
    if (!pipe)
        return NAN;
    /* an inverse conversion is announced in the line before */
    double value = NAN;
    while (fgets(answer, sizeof answer, pipe)) {
        char *end;
        double read = strtod(answer, &end);
        if (end != answer)
            value = read;
    }
    pclose(pipe);
    return value;
}

/* 400 conversions with a fixed seed: amounts, labels to yarn numbers, and yarn numbers to each other. */
static void gnu_units_agrees(void **state)
{
    (void)state;
    if (system("units --version >/dev/null 2>&1") != 0)
        skip();
    static void (*const makers[])(uint64_t *, struct conversion *) = {make_amount, make_label, make_number};
    uint64_t seed = 20241125;
    for (int i = 0; i < RANDOM_CASES(CONVERSIONS); i++) {
        struct conversion c;
        makers[i % 3](&seed, &c);
        double theirs = gnu_units(&c);
        if (!(fabs(c.ours - theirs) <= 1e-9 * fabs(theirs)))
            print_error("%s in %s: GNU units says %.17g\n", c.ask, c.want, theirs);
        assert_false(isnan(theirs));
        assert_close(c.ours, theirs, 1e-9, 0);
    }
}

/* ---- Balls ---- */

/* Converts one argument. */
static struct hk_convert convert_text(const struct hk_catalogue *catalogue, const char *text)
{
    return convert_with(catalogue, NULL, WORDS(text));
}

/* 3 x 50 g = 150 g = 150 / 28.349523125 oz; 3 x 120 m = 360 m = 360 / 0.9144 yd (NIST SP 811 (2008) B.8: both exact). */
static void a_number_of_balls_is_an_amount(void **state)
{
    struct hk_convert r = convert_text(*state, "3 balls of 50 g = 120 m");
    assert_close(r.given_balls, 3, 0, 0);
    assert_close(r.mass_g[0], 150, 1e-12, 0);
    assert_close(r.mass_g[1] / HK_G_PER_OUNCE, 5.291094, 1e-6, 0);
    assert_close(r.length_m[0], 360, 1e-12, 0);
    assert_close(r.length_m[1] / HK_M_PER_YARD, 393.700787, 1e-8, 0);
    assert_close(r.balls[0], 3, 1e-12, 0);
    assert_close(r.whole_balls[1], 3, 0, 0);
    assert_close(r.left_g + r.left_m, 0, 0, 0);
    assert_false(r.asks_balls);
    assert_string_equal(r.put_up_word, "ball");
    hk_convert_free(&r);
    r = convert_text(*state, "2 1/2 skeins of 3.5 oz = 220 yd"); /* 8.75 oz, 550 yd = 502.92 m */
    assert_close(r.mass_g[0], 8.75 * 28.349523125, 1e-12, 0);
    assert_close(r.length_m[0], 502.92, 1e-12, 0);
    assert_close(r.whole_balls[0], 3, 0, 0);
    assert_string_equal(r.put_up_word, "skein");
    hk_convert_free(&r);
}

/*
 * 840 m / 300 m = 2.8; 3 balls hold 60 m and 20 g more. 900 yd / 131 yd = 6.87; 7 skeins hold 17 yd = 15.5448 m more, of
 * 1.75 oz / 131 yd: 0.2270992 oz = 6.438155 g (NIST SP 811 (2008) B.8: 1 yd = 0.9144 m, 1 oz = 28.349523125 g).
 */
static void how_many_balls_is_answered_in_whole_ones(void **state)
{
    struct hk_convert r = convert_text(*state, "how many balls of 100 g = 300 m for 840 m");
    assert_true(r.asks_balls);
    assert_close(r.balls[0], 2.8, 1e-12, 0);
    assert_close(r.whole_balls[0], 3, 0, 0);
    assert_close(r.left_m, 60, 1e-12, 0);
    assert_close(r.left_g, 20, 1e-12, 0);
    assert_close(r.mass_g[0], 280, 1e-12, 0);
    hk_convert_free(&r);
    r = convert_text(*state, "How many skeins of 1.75 oz = 131 yds do I need for 900 yards?");
    assert_close(r.balls[1], 900.0 / 131, 1e-12, 0);
    assert_close(r.whole_balls[1], 7, 0, 0);
    assert_close(r.left_m, 15.5448, 1e-9, 0);
    assert_close(r.left_g, 6.438155, 1e-6, 0);
    hk_convert_free(&r);
    r = convert_text(*state, "how many cones of 500 g for 1.2 kg"); /* no length needed: 2.4 cones, 300 g over */
    assert_close(r.whole_balls[0], 3, 0, 0);
    assert_close(r.left_g, 300, 1e-12, 0);
    assert_close(r.left_m, 0, 0, 0);
    assert_false(r.has_length);
    hk_convert_free(&r);
}

/* Against whole numbers: ceil(a / p) balls of p m hold ceil(a / p) p - a m more. An exact multiple is not rounded up. */
static void whole_balls_are_those_of_whole_numbers(void **state)
{
    uint64_t seed = 167;
    for (int i = 0; i < RANDOM_CASES(10000); i++) {
        const int64_t put_up = random_in(&seed, 1, 1000), grams = random_in(&seed, 1, 1000);
        const int64_t amount = i % 2 ? random_in(&seed, 1, 100000) : put_up * random_in(&seed, 1, 1000);
        const int64_t balls = (amount + put_up - 1) / put_up;
        char text[120];
        snprintf(text, sizeof text, "how many balls of %lld g = %lld m for %lld m", (long long)grams, (long long)put_up,
                 (long long)amount);
        struct hk_convert r = convert_text(*state, text);
        assert_close(r.whole_balls[0], (double)balls, 0, 0);
        assert_close(r.left_m, (double)(balls * put_up - amount), 1e-9, 1e-9 * (double)amount);
        hk_convert_free(&r);
        snprintf(text, sizeof text, "%lld balls of %lld g = %lld m", (long long)balls, (long long)grams, (long long)put_up);
        r = convert_text(*state, text);
        assert_close(r.length_m[0], (double)(balls * put_up), 1e-12, 0);
        assert_close(r.mass_g[0], (double)(balls * grams), 1e-12, 0);
        assert_close(r.whole_balls[0], (double)balls, 0, 0);
        hk_convert_free(&r);
    }
}

static void balls_may_be_said_in_many_ways(void **state)
{
    const char *const *const same[] = {
        WORDS("how many balls of 100 g = 300 m for 840 m"),
        WORDS("how", "many", "balls", "of", "100", "g", "=", "300", "m", "for", "840", "m"),
        WORDS("how many balls of", "100 g = 300 m", "for", "840 m"),
        WORDS("how many hanks of 100g/300m for 840m"),
        WORDS("how many cakes of 100 g (300 m) for 840 m"),
        WORDS("how many spools of 300 m = 100 g each are needed for 840 m?"),
        WORDS("how many reels of 100 g per 300 m to make 840 m"),
        WORDS("840 m", "how many balls of 100 g = 300 m"),
        WORDS("840 m of 100 g = 300 m"),
        WORDS("840 m", "100 g (300 m)"),
    };
    for (size_t i = 0; i < sizeof same / sizeof same[0]; i++) {
        struct hk_convert r = convert_with(*state, NULL, same[i]);
        assert_close(r.balls[0], 2.8, 1e-12, 0);
        assert_close(r.whole_balls[0], 3, 0, 0);
        assert_close(r.left_g, 20, 1e-12, 0);
        assert_close(r.put_up_m, 300, 1e-12, 0);
        hk_convert_free(&r);
    }
    const char *const *const three[] = {
        WORDS("3 balls of 50 g = 120 m"), WORDS("3", "balls", "of", "50", "g", "=", "120", "m"),
        WORDS("3 balls of 50 g (120 m) each"), WORDS("50 g = 120 m", "3 balls"), WORDS("3 balls, 50 g = 120 m"),
        WORDS("how many yards are in 3 balls of 50 g = 120 m?"), WORDS("3 balls of", "50 g", "Nm 2.4"),
    };
    for (size_t i = 0; i < sizeof three / sizeof three[0]; i++) {
        struct hk_convert r = convert_with(*state, NULL, three[i]);
        assert_close(r.mass_g[0], 150, 1e-12, 0);
        assert_close(r.length_m[0], 360, 1e-12, 0);
        hk_convert_free(&r);
    }
}

/* A yarn of the project has a put-up; its name may be several words, and have "of" in it. */
static void balls_of_a_yarn_of_the_project(void **state)
{
    struct hk_yarn yarns[] = {{.name = "Isle of Skerry DK", .tex = 500, .put_up_g = 50, .diameter_mm = 2.4},
                              {.name = "Cake", .tex = 400, .put_up_g = 200, .diameter_mm = 2.2}};
    const struct hk_project project = {.catalogue = *state, .spreads = ((const struct hk_catalogue *)*state)->spreads,
                                       .yarns = yarns, .yarn_count = 2};
    /* 500 tex: 50 g are 100 m */
    const char *const *const same[] = {
        WORDS("4 balls of Isle of Skerry DK"),
        WORDS("4", "balls", "of", "Isle", "of", "Skerry", "DK"),
        WORDS("4 balls of", "isle of skerry dk"),
        WORDS("Isle of Skerry DK", "4 balls"),
        WORDS("400 m of Isle of Skerry DK"),
        WORDS("how many balls of Isle of Skerry DK for 400 m"),
        WORDS("how many balls do I need for 400 m of Isle of Skerry DK"),
    };
    for (size_t i = 0; i < sizeof same / sizeof same[0]; i++) {
        struct hk_convert r = convert_with(*state, &project, same[i]);
        assert_close(r.mass_g[0], 200, 1e-12, 0);
        assert_close(r.length_m[0], 400, 1e-12, 0);
        assert_close(r.whole_balls[0], 4, 0, 0);
        hk_convert_free(&r);
    }
    struct hk_convert r = convert_with(*state, &project, WORDS("500 m", "Cake")); /* a name before a word of the trade */
    assert_close(r.mass_g[0], 200, 1e-12, 0);
    assert_close(r.put_up_m, 500, 1e-12, 0);
    hk_convert_free(&r);
}

#define NOT_READ(words)                                                                                                \
    "words:1:1: error: \"" words "\" is not an amount, a category or a yarn of this design; write an amount like 275 g "  \
    "or 500 m, and a yarn like 50 g = 120 m, 400 tex, 12 wpi or category 4\n"

static void questions_about_balls_without_an_answer_are_refused(void **state)
{
    static const struct {
        const char *words, *expected;
    } cases[] = {
        {"3 balls", "words:1:1: error: it is not said what a ball holds; write its label: balls of 50 g = 120 m\n"},
        {"how many hanks for 840 m",
         "words:1:1: error: it is not said what a hank holds; write its label: hanks of 50 g = 120 m\n"},
        {"how many balls of 100 g = 300 m",
         "words:1:1: error: it is not said for how much yarn; write the amount after it: for 840 m\n"},
        {"how many balls of 100 g for 840 m",
         "words:1:1: error: the amount is a length, and of a ball only the mass is said; "
         "write both, as on the label: 50 g = 120 m\n"},
        {"how many balls of 300 m for 840 g",
         "words:1:1: error: the amount is a mass, and of a ball only the length is said; "
         "write both, as on the label: 50 g = 120 m\n"},
        {"3 balls of 50 g = 120 m for 840 m", "words:1:1: error: a number of balls and another amount are given; leave "
                                              "one out, or ask: how many balls of 50 g = "
                                              "120 m for 500 m\n"},
        {"3 balls of 50 g 2 balls of 40 g",
         "words:1:1: error: 2 balls are a second number of balls; convert one kind at a time\n"},
        {"0 balls of 50 g", "words:1:1: error: 0 is not possible here; write a plain number above zero\n"},
        {"balls of 50 g = 120 m",
         "words:1:1: error: \"balls\" has no number; write 3 balls of 50 g = 120 m, or how many "
         "balls of 50 g = 120 m for 500 m\n"},
        {"3 balls of fluffy stuff", NOT_READ("fluffy stuff")},
        {"several balls of 50 g", NOT_READ("several")},
        {"how much", NOT_READ("how much")},
        {"how many sheep for 840 m", NOT_READ("how many sheep")},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++)
        assert_refused(WORDS(cases[i].words), NULL, *state, cases[i].expected);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_number_of_balls_is_an_amount),
        cmocka_unit_test(how_many_balls_is_answered_in_whole_ones),
        cmocka_unit_test(whole_balls_are_those_of_whole_numbers),
        cmocka_unit_test(balls_may_be_said_in_many_ways),
        cmocka_unit_test(balls_of_a_yarn_of_the_project),
        cmocka_unit_test(questions_about_balls_without_an_answer_are_refused),
        cmocka_unit_test(put_ups_have_the_yarn_numbers_of_the_reference),
        cmocka_unit_test(the_standards_own_examples_hold),
        cmocka_unit_test(each_system_gives_back_what_it_was_given),
        cmocka_unit_test(plied_counts_are_no_fractions),
        cmocka_unit_test(a_label_turns_mass_into_length_and_back),
        cmocka_unit_test(words_may_be_apart),
        cmocka_unit_test(an_amount_alone_is_only_converted),
        cmocka_unit_test(worsted_at_690_yards_for_310_g_is_of_category_4),
        cmocka_unit_test(every_category_that_fits_is_listed),
        cmocka_unit_test(a_category_gives_a_range),
        cmocka_unit_test(a_name_of_several_categories_asks_which),
        cmocka_unit_test(a_yarn_of_the_project_is_known_by_name_or_role),
        cmocka_unit_test(what_is_reported_only_in_part_is_reported),
        cmocka_unit_test(mistakes_are_all_reported_with_the_number_of_the_word),
        cmocka_unit_test(garbage_is_answered),
        cmocka_unit_test(gnu_units_agrees),
        cmocka_unit_test(a_category_without_wraps_does_not_describe_the_yarn),
        cmocka_unit_test(a_second_yarn_or_length_is_refused_whatever_says_it),
    };
    return cmocka_run_group_tests(tests, catalogue_set_up, catalogue_tear_down);
}
