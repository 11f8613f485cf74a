/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The block of a published pattern: amounts for readers, two systems of units, graded notation, US and UK terms. */
#include "folder.h"

#include "model/chance.h"
#include "input/graded.h"
#include "materials/printed.h"
#include "catalogue/terms.h"
#include "base/text.h"

#include <gsl/gsl_randist.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct hk_materials *materials_of(const struct stages *stages, enum hk_terms_wanted terms)
{
    struct hk_diags diags = {0};
    struct hk_materials_options options = hk_materials_defaults();
    options.terms = terms;
    struct hk_materials *materials = hk_materials_make(stages->need, options, &diags);
    assert_findings(&diags, "");
    assert_non_null(materials);
    return materials;
}

/* ---- Units, rounding, notation ---- */

/* NIST HB 44 (2014) App. C: 1 yd = 0.9144 m, 1 in = 2.54 cm, 1 oz = 28.349523125 g, all exact. */
static void units_are_those_of_the_handbook(void **state)
{
    (void)state;
    assert_close(hk_printed_in(0.9144, HK_PRINTED_YARN_LENGTH, HK_SYSTEM_CUSTOMARY), 1, 1e-15, 0);
    assert_close(hk_printed_in(0.0254, HK_PRINTED_SIZE, HK_SYSTEM_CUSTOMARY), 1, 1e-15, 0);
    assert_close(hk_printed_in(0.0254, HK_PRINTED_SIZE, HK_SYSTEM_METRIC), 2.54, 1e-15, 0);
    assert_close(hk_printed_in(28.349523125, HK_PRINTED_YARN_MASS, HK_SYSTEM_CUSTOMARY), 1, 1e-15, 0);
}

static void rounding_up_never_falls_short_and_leaves_multiples_alone(void **state)
{
    (void)state;
    assert_close(hk_round_up(471, 10), 480, 0, 0);
    assert_close(hk_round_up(480, 10), 480, 0, 0);
    assert_close(hk_round_up(480.001, 5), 485, 0, 0);
    assert_close(hk_round_up(0.1 + 0.2, 0.1), 0.3, 0, 1e-15); /* 0.30000000000000004 in binary */
    assert_close(hk_round_up(0, 10), 0, 0, 0);
    assert_close(hk_round_near(11.25, 0.5), 11.5, 0, 0);
    assert_close(hk_round_near(10.9, 0.1), 10.9, 0, 0);
    for (int i = 1; i < 2000; i++)
        assert_true(hk_round_up(i * 0.37, 5) >= i * 0.37 && hk_round_up(i * 0.37, 5) < i * 0.37 + 5);
}

static void numbers_have_no_idle_digits(void **state)
{
    (void)state;
    static const struct {
        double value;
        bool quarters;
        const char *text;
    } cases[] = {{480, false, "480"}, {2.75, false, "2.75"}, {2.5, false, "2.5"}, {100, false, "100"}, {7.25, true, "7\u00a01/4"},
                 {7.5, true, "7\u00a01/2"}, {0.75, true, "3/4"}, {8, true, "8"}, {NAN, false, "-"}, {0, false, "0"}};
    struct hk_arena arena = {0};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++)
        assert_string_equal(hk_printed_number(cases[i].value, cases[i].quarters, &arena), cases[i].text);
    hk_arena_free(&arena);
}

/* A printed number reads back, except for no-break spaces: hk_graded_split is the inverse. */
static void graded_notation_reads_back(void **state)
{
    (void)state;
    static const char *const lists[][5] = {{"480", "520", "570", "630", "690"}, {"7\u00a01/4", "8", "8\u00a01/2", "9", "-"},
                                           {"5", "5", "5", "5", "5"}, {"-", "-", "3", "-", "4"}};
    static const char *const written[] = {"480 (520, 570, 630, 690)", "7\u00a01/4 (8, 8\u00a01/2, 9, -)", "5", "- (-, 3, -, 4)"};
    for (size_t i = 0; i < sizeof written / sizeof written[0]; i++) {
        struct hk_arena arena = {0};
        struct hk_diags diags = {0};
        const char *texts[5];
        const char *text = hk_graded_write(lists[i], 5, &arena);
        assert_string_equal(text, written[i]);
        assert_true(hk_graded_split((struct hk_cell){.text = text}, 5, texts, &arena, &diags));
        for (size_t k = 0; k < 5; k++)
            assert_string_equal(texts[k], hk_text_plain(&arena, lists[i][k], NULL));
        hk_diags_free(&diags);
        hk_arena_free(&arena);
    }
}

/* Nine sizes have two brackets, as XS (S, M, L, XL) [2X, 3X, 4X, 5X]: common practice, no source. */
static void many_sizes_have_two_brackets(void **state)
{
    (void)state;
    static const char *const texts[] = {"1", "2", "3", "4", "5", "6", "7", "8", "9", "10"};
    static const struct {
        size_t count;
        const char *written;
    } cases[] = {{1, "1"},
                 {2, "1 (2)"},
                 {7, "1 (2, 3, 4, 5, 6, 7)"},
                 {8, "1 (2, 3, 4, 5) [6, 7, 8]"},
                 {9, "1 (2, 3, 4, 5) [6, 7, 8, 9]"},
                 {10, "1 (2, 3, 4, 5, 6) [7, 8, 9, 10]"}};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct hk_arena arena = {0};
        struct hk_diags diags = {0};
        const char *read[10], *text = hk_graded_write(texts, cases[i].count, &arena);
        assert_string_equal(text, cases[i].written);
        assert_true(hk_graded_split((struct hk_cell){.text = text}, cases[i].count, read, &arena, &diags));
        for (size_t k = 0; k < cases[i].count; k++)
            assert_string_equal(read[k], texts[k]);
        hk_diags_free(&diags);
        hk_arena_free(&arena);
    }
}

/* ---- Terms ---- */

/* The trade body's table of US and UK terms: each UK name is one step higher. */
static void names_climb_one_rung_from_us_to_uk_and_back(void **state)
{
    static const char *const names[][2] = {
        {"single crochet", "double crochet"},
        {"half double crochet in a spiral", "half treble crochet in a spiral"},
        {"double crochet", "treble crochet"},
        {"treble crochet in joined rounds", "double treble crochet in joined rounds"},
        {"single crochet 2 together", "double crochet 2 together"},
        {"cluster of 3 double crochet", "cluster of 3 treble crochet"},
        {"back loop half double rib", "back loop half treble rib"},
        {"extended single crochet", "extended double crochet"},
        {"double seed stitch", "double seed stitch"},
        {"slip stitch seam", "slip stitch seam"},
    };
    struct hk_arena arena = {0};
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        assert_string_equal(hk_terms_change(*state, names[i][0], HK_TERMS_US, HK_TERMS_UK, &arena), names[i][1]);
        assert_string_equal(hk_terms_change(*state, names[i][1], HK_TERMS_UK, HK_TERMS_US, &arena), names[i][0]);
        assert_string_equal(hk_terms_change(*state, names[i][0], HK_TERMS_US, HK_TERMS_US, &arena), names[i][0]);
    }
    hk_arena_free(&arena);
}

/* Returns the stitch of an abbreviation in those terms. */
static const struct hk_stitch *stitch_of(const struct hk_catalogue *catalogue, const char *word, bool uk)
{
    for (size_t i = 0; i < catalogue->stitch_count; i++) {
        const char *known = uk ? catalogue->stitches[i].uk : catalogue->stitches[i].us;
        if (known && strcmp(known, word) == 0)
            return &catalogue->stitches[i];
    }
    return NULL;
}

static void assert_amounts_same(const struct hk_printed *a, const struct hk_printed *b, size_t sizes)
{
    for (size_t i = 0; i < sizes; i++) {
        assert_close(a->metric[i], b->metric[i], 0, 0);
        assert_close(a->customary[i], b->customary[i], 0, 0);
    }
    assert_string_equal(a->metric_text, b->metric_text);
}

static const struct folder graded_folder = {
    .pieces = "piece,part,fabric,yarn,tool,stitches,rows,start\n"
              "strip,,single crochet,main,4 mm,width,length,\n"
              "strip,edge,half double crochet in joined rounds,lace,3.5 mm,20,4,edge\n",
};

/* Both blocks of one design, read back: the same stitches, fabrics, tools and amounts. */
static void us_and_uk_blocks_describe_the_same_design(void **state)
{
    const struct hk_catalogue *catalogue = *state;
    struct stages stages = stages_of(catalogue, graded_folder, HK_NO_SIZE);
    struct hk_materials *us = materials_of(&stages, HK_TERMS_WANTED_US), *uk = materials_of(&stages, HK_TERMS_WANTED_UK);
    struct hk_arena arena = {0};
    assert_false(us->uk);
    assert_true(uk->uk);
    assert_int_equal(us->word_count, uk->word_count);
    assert_true(us->word_count >= 4); /* ch, sl st, sc, hdc */
    for (size_t i = 0; i + 1 < us->word_count; i++) { /* the last is "st(s)" */
        const struct hk_stitch *a = stitch_of(catalogue, us->words[i].word, false);
        assert_non_null(a);
        assert_ptr_equal(a, stitch_of(catalogue, uk->words[i].word, true));
        assert_string_equal(hk_terms_change(catalogue, uk->words[i].meaning, HK_TERMS_UK, HK_TERMS_US, &arena), us->words[i].meaning);
    }
    assert_int_equal(us->gauge_count, 1);
    assert_string_equal(us->gauges[0].fabric, "single crochet");
    assert_string_equal(uk->gauges[0].fabric, "double crochet");
    assert_int_equal(us->tool_count, uk->tool_count);
    for (size_t i = 0; i < us->tool_count; i++)
        assert_close(us->tools[i].tool_mm, uk->tools[i].tool_mm, 0, 0);
    for (size_t i = 0; i < us->yarn_count; i++)
        assert_amounts_same(&us->yarns[i].colours[0].length, &uk->yarns[i].colours[0].length, us->size_count);
    assert_amounts_same(&us->measures[0].amount, &uk->measures[0].amount, us->size_count);
    hk_arena_free(&arena);
    hk_materials_free(us);
    hk_materials_free(uk);
    stages_free(stages);
}

/*
 * Words of rows that are not stitches: the block explains all of them for own fabrics, and for shipped ones (back loop
 * rib) all but tch.
 */
static void abbreviations_are_those_that_the_rows_use(void **state)
{
    struct folder folder = {
        .fabrics = "fabric,row,make\nmesh,1,\"tch 4 as (dc, ch 1), *sk 1, dc 1, ch 1*, sk 1, dc 1\"\n"
                   "mesh,2,\"tch 1, *sc 1 in FLO, sc 1 in ch-1 sp*, sc 1\"\nunused,1,\"tch 4, *flo tr 1*\"\n",
        .pieces = "piece,fabric,yarn,tool,stitches,rows\nrib,back loop rib,main,4 mm,20,4\nnet,mesh,main,4 mm,21,1\n"};
    static const char *const expected[] = {"ch", "sc", "dc", "sk", "BLO", "FLO", "sp(s)", "tch", "st(s)"};
    struct stages stages = stages_of(*state, folder, HK_NO_SIZE);
    struct hk_materials *materials = materials_of(&stages, HK_TERMS_WANTED_PROJECT);
    assert_int_equal(materials->word_count, sizeof expected / sizeof expected[0]);
    for (size_t i = 0; i < materials->word_count; i++)
        assert_string_equal(materials->words[i].word, expected[i]);
    hk_materials_free(materials);
    stages_free(stages);
    /* the row of a sewn seam, which skips, is not spelt */
    folder.pieces = "piece,fabric,yarn,tool,stitches,rows,start\nrib,back loop rib,main,4 mm,20,4,\n"
                    "seam,mattress seam,main,4 mm,20,1,edge\n";
    stages = stages_of(*state, folder, HK_NO_SIZE);
    materials = materials_of(&stages, HK_TERMS_WANTED_PROJECT);
    assert_int_equal(materials->word_count, 4); /* ch, sc, BLO, st(s) */
    hk_materials_free(materials);
    stages_free(stages);
}

/* Work in the round has rounds in its gauge. */
static void rounds_are_called_rounds(void **state)
{
    struct folder folder = {
        .swatches = "swatch,yarn,tool,fabric,stitches,rows,gauge,care,weight\n"
                    "tube,main,4 mm,single crochet in a spiral,40,20,20.2 x 22.8,steamed,12 g\n",
        .pieces = "piece,fabric,yarn,tool,stitches,rows\ncowl,single crochet in a spiral,main,4 mm,20,4\n"
                  "edge,single crochet,main,4 mm,20,4\n"};
    struct stages stages = stages_of(*state, folder, HK_NO_SIZE);
    struct hk_materials *materials = materials_of(&stages, HK_TERMS_WANTED_UK);
    assert_int_equal(materials->gauge_count, 1); /* none for single crochet in rows */
    assert_true(materials->gauges[0].rounds);
    assert_string_equal(materials->gauges[0].text, "20 sts and 23 rounds = 10 cm / 4 in of double crochet in a spiral, 4 mm "
                                                   "(US G-6) hook, steamed");
    hk_materials_free(materials);
    stages_free(stages);
}

/* ---- Amounts ---- */

/*
 * For readers the spread is sqrt(spread^2 + 0.07^2); with the maker's 0.10 that is 0.12207, and 1.6449 times that gives
 * a factor of 1.2224. Here with the spread of the need: enough = likely exp(z sqrt(s^2 + 0.0049)), rounded up to tens.
 */
static void readers_need_what_their_own_spread_adds(void **state)
{
    struct stages stages = stages_of(*state, graded_folder, HK_NO_SIZE);
    struct hk_materials *materials = materials_of(&stages, HK_TERMS_WANTED_PROJECT);
    const struct hk_materials_colour *main_colour = &materials->yarns[0].colours[0];
    assert_string_equal(materials->yarns[0].yarn, "Quay DK");
    for (size_t i = 0; i < stages.need->role_count; i++) {
        const struct hk_need_role *role = &stages.need->roles[i];
        if (role->role != 0)
            continue;
        double enough_m = role->length_m.likely * exp(Z95 * sqrt(role->spread * role->spread + 0.0049));
        double enough_g = role->mass_g.likely * exp(Z95 * hypot(role->spread_mass, 0.07));
        assert_close(main_colour->length.metric[role->size], 10 * ceil(enough_m / 10), 1e-12, 0);
        assert_close(main_colour->length.customary[role->size], 10 * ceil(enough_m / 0.9144 / 10), 1e-12, 0);
        assert_close(main_colour->mass.metric[role->size], 10 * ceil(enough_g / 10), 1e-12, 0);
        assert_true(enough_m > role->length_m.enough);
        /* Balls of mass p with j lost at each join: the least n that satisfies n p - (n - 1) j >= enough. */
        double join_g = role->join_g, balls = fmax(1, ceil((enough_g - join_g) / (role->put_up_g - join_g)));
        assert_int_equal(main_colour->balls[role->size], balls);
    }
    hk_materials_free(materials);
    stages_free(stages);
}

/*
 * One design, once in one role and once in two roles of the same yarn and colour: the same work, so the same amounts;
 * both roles share the making and the pieces, which are the same lines.
 */
static void roles_of_one_yarn_and_colour_are_bought_together(void **state)
{
    struct folder one = {.pieces = "piece,fabric,yarn,tool,stitches,rows,start\n"
                                   "a,single crochet,main,4 mm,400,90,\nb,single crochet,main,4 mm,400,40,\n"};
    struct folder two = {.yarns = "role,yarn,put_up,length,colour,price\nmain,Quay DK,50 g,120 m,Slate,6.40\n"
                                  "trim,Quay DK,50 g,120 m,Slate,6.40\n",
                         .pieces = "piece,fabric,yarn,tool,stitches,rows,start\n"
                                   "a,single crochet,main,4 mm,400,90,\nb,single crochet,trim,4 mm,400,40,\n"};
    struct stages stages_one = stages_of(*state, one, HK_NO_SIZE), stages_two = stages_of(*state, two, HK_NO_SIZE);
    struct hk_materials *a = materials_of(&stages_one, HK_TERMS_WANTED_PROJECT), *b = materials_of(&stages_two, HK_TERMS_WANTED_PROJECT);
    assert_int_equal(b->yarn_count, 1);
    assert_int_equal(b->yarns[0].colour_count, 1);
    assert_string_equal(b->yarns[0].colours[0].roles, "main and trim");
    assert_amounts_same(&a->yarns[0].colours[0].length, &b->yarns[0].colours[0].length, a->size_count);
    assert_amounts_same(&a->yarns[0].colours[0].mass, &b->yarns[0].colours[0].mass, a->size_count);
    assert_string_equal(a->yarns[0].colours[0].balls_text, b->yarns[0].colours[0].balls_text);
    hk_materials_free(a);
    hk_materials_free(b);
    stages_free(stages_one);
    stages_free(stages_two);
}

/* Steel hooks have their own numbers, 1.5 mm (8) for example; 2.5 mm (2) and 3.25 mm (0) mean other hooks. */
static void steel_hooks_are_named_below_all_others_only(void **state)
{
    static const struct {
        const char *pieces, *text;
    } cases[] = {
        {"piece,fabric,yarn,tool,stitches,rows\na,pairs,main,1.5 mm,20,4\n", "US steel 8 (1.5 mm) hook"},
        {"piece,fabric,yarn,tool,stitches,rows\na,pairs,main,2.25 mm,20,4\n", "US B-1 (2.25 mm) hook"},
        {"piece,fabric,yarn,tool,stitches,rows\na,pairs,main,2.5 mm,20,4\n", "2.5 mm hook"},
        {"piece,fabric,yarn,tool,stitches,rows\na,pairs,main,3.25 mm,20,4\n", "US D-3 (3.25 mm) hook"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct stages stages = stages_of(*state, (struct folder){.pieces = cases[i].pieces}, 0);
        struct hk_materials *materials = materials_of(&stages, HK_TERMS_WANTED_PROJECT);
        assert_int_equal(materials->tool_count, 1);
        assert_string_equal(materials->tools[0].text, cases[i].text);
        hk_materials_free(materials);
        stages_free(stages);
    }
}

/* 10 (12, 14) cm: 10/2.54 = 3.94, 4.72, 5.51; to quarters 4 (4 3/4, 5 1/2). */
static void finished_sizes_marked_for_print_are_stated(void **state)
{
    struct stages stages = stages_of(*state, graded_folder, HK_NO_SIZE);
    struct hk_materials *materials = materials_of(&stages, HK_TERMS_WANTED_PROJECT);
    assert_int_equal(materials->measure_count, 1);
    assert_string_equal(materials->measures[0].name, "length");
    assert_string_equal(materials->measures[0].amount.metric_text, "10 (12, 14) cm");
    assert_string_equal(materials->measures[0].amount.customary_text, "4 (4\u00a03/4, 5\u00a01/2) in");
    hk_materials_free(materials);
    stages_free(stages);
}

/*
 * 40 stitches at 20 in 10 cm are 20 cm, regardless of the gauge of an edging that is no wider; 30 rows at 25 are 12 cm,
 * which is no edging; a band of 4 rows is one. The width of a wider part without a gauge is unknown, and so is the
 * length with its hem.
 */
static void what_is_worked_on_from_an_edge_has_a_size_and_an_edging_has_none(void **state)
{
    struct folder folder = {.grade = "name,unit,S,M,L\nwidth,,20,24,28\n",
                            .pieces = "piece,part,fabric,yarn,tool,stitches,rows,start\n"
                                      "yoke,,pairs,main,4 mm,40,4,chain\n"
                                      "body,,single crochet,main,4 mm,40,30,edge\n"
                                      "body,hem,pairs,main,4 mm,,4,continue\n"
                                      "sleeve,,single crochet,main,4 mm,30,26,edge\n"
                                      "band,,single crochet,main,4 mm,90,4,edge\n"};
    struct stages stages = stages_of(*state, folder, 0);
    struct hk_materials *materials = materials_of(&stages, HK_TERMS_WANTED_PROJECT);
    static const char *const expected[][2] = {{"body, width", "20 cm"}, {"sleeve, width", "15 cm"}, {"sleeve, length", "10.4 cm"}};
    assert_int_equal(materials->measure_count, 3);
    for (size_t i = 0; i < 3; i++) {
        assert_string_equal(materials->measures[i].name, expected[i][0]);
        assert_string_equal(materials->measures[i].amount.metric_text, expected[i][1]);
    }
    hk_materials_free(materials);
    stages_free(stages);
}

/* 20 stitches at 20 in 10 cm are 10 cm; 10 rows at 25 are 4 cm. */
static void without_marked_rows_sizes_follow_from_the_gauge(void **state)
{
    struct folder folder = {.grade = "name,unit,S,M,L\nwidth,,20,24,28\n"};
    struct stages stages = stages_of(*state, folder, HK_NO_SIZE);
    struct hk_materials *materials = materials_of(&stages, HK_TERMS_WANTED_PROJECT);
    assert_int_equal(materials->measure_count, 2);
    assert_string_equal(materials->measures[0].name, "strip, width");
    assert_string_equal(materials->measures[0].amount.metric_text, "10 (12, 14) cm");
    assert_string_equal(materials->measures[1].amount.metric_text, "4 cm");
    assert_string_equal(materials->gauges[0].text, "20 sts and 25 rows = 10 cm / 4 in of single crochet, US G-6 (4 mm) hook");
    hk_materials_free(materials);
    stages_free(stages);
}

/*
 * From costs.csv the items of a piece, by size and without prices; work, kits and items that no size takes are not
 * notions.
 */
static void notions_of_the_costs_are_stated_by_size(void **state)
{
    struct folder folder = {.other_name = "costs.csv",
                            .other_text = "item,kind,amount,quantity,per\n"
                                          "buttons,material,0.85,\"7 (7, 8)\",\n"
                                          "label,material,0.60,,\n"
                                          "ribbon,material,1.20,\"0 (0.5, 0.5)\",piece\n"
                                          "bell,material,1.20,0,\n"
                                          "bag,material,0.30,1,kit\n"
                                          "box,kit,1.10,,\n"
                                          "work,labour,14.00,1,\n"};
    struct stages stages = stages_of(*state, folder, HK_NO_SIZE);
    struct hk_materials *materials = materials_of(&stages, HK_TERMS_WANTED_PROJECT);
    static const char *const notions[] = {"yarn needle for weaving in ends", "7 (7, 8) buttons", "label",
                                          "- (0.5, 0.5) ribbon"};
    assert_int_equal(materials->notion_count, sizeof notions / sizeof notions[0]);
    for (size_t i = 0; i < materials->notion_count; i++)
        assert_string_equal(materials->notions[i], notions[i]);
    hk_materials_free(materials);
    stages_free(stages);
}

/* Returns the notions joined by "; ". Owner: the caller (free). */
static char *notions_of(const struct hk_catalogue *catalogue, struct folder folder, enum hk_terms_wanted terms)
{
    struct stages stages = stages_of(catalogue, folder, HK_NO_SIZE);
    struct hk_materials *materials = materials_of(&stages, terms);
    char *all = calloc(1000, 1);
    assert_non_null(all);
    for (size_t i = 0; i < materials->notion_count; i++)
        snprintf(all + strlen(all), 1000 - strlen(all), "%s%s", i ? "; " : "", materials->notions[i]);
    hk_materials_free(materials);
    stages_free(stages);
    return all;
}

/*
 * Packaging is marked print,no; an item of costs.csv that names a notion of the work replaces it. The text decides what
 * else is certain: "no marker" needs none.
 */
static void notions_follow_from_the_work_and_the_costs(void **state)
{
    struct folder folder = {.fabrics = "fabric,row,make\ncabled,1,*C4F*\n",
                            .pieces = "piece,fabric,yarn,tool,stitches,rows\nstrip,cabled,main,4 mm,20,4\n"};
    char *all = notions_of(*state, folder, HK_TERMS_WANTED_US);
    assert_string_equal(all, "yarn needle for weaving in ends; cable needle");
    free(all);
    folder.other_name = "costs.csv";
    folder.other_text = "item,kind,amount,quantity,per,print\n"
                        "g of stuffing,material,0.02,\"40 (45, 50)\",,\n"
                        "cable needle (3 mm),material,1,1,,yes\n"
                        "darning needle,material,0.50,1,,\n"
                        "label,material,0.60,,,no\n";
    all = notions_of(*state, folder, HK_TERMS_WANTED_US);
    assert_string_equal(all, "40 (45, 50) g of stuffing; 1 cable needle (3 mm); 1 darning needle");
    free(all);
    folder.other_text = "item,kind,amount,quantity,per,print\nlight,overhead,8%,,,no\n";
    assert_folder_bad(
        *state, folder,
        "costs.csv:2:21: error: \"light\" is overhead, and a pattern lists only materials; leave print empty\n");
}

static void notions_that_the_text_names_are_stated(void **state)
{
    static const char *const lines[][2] = {
        {"Stuff the ball firmly.", "yarn needle for weaving in ends; stuffing"},
        {"You need waste yarn and a stitch holder.", "yarn needle for weaving in ends; waste yarn; stitch holders"},
        {"No marker is needed; it may be stuffed.", "yarn needle for weaving in ends; stuffing"},
        {"Fishholders and remarkers.", "yarn needle for weaving in ends"},
        {"Place a marker.", "yarn needle for weaving in ends; stitch markers"},
        {"You need 4 stitch markers, 100 g of stuffing; 2.5 m waste yarn.",
         "yarn needle for weaving in ends; 2.5 m waste yarn; 100 g of stuffing; 4 stitch markers"},
        {"30 g of stuffing, a pair of eyes (not for small children).",
         "yarn needle for weaving in ends; 30 g of stuffing"},
        {"Size A4 holder; pack of markers.", "yarn needle for weaving in ends; stitch holders; stitch markers"},
    };
    for (size_t i = 0; i < sizeof lines / sizeof lines[0]; i++) {
        char text[300];
        snprintf(text, sizeof text,
                 "STRIP\n%s\nWith main and 4 mm hook, ch 21.\nRow 1: Sc in 2nd ch from hook and in each ch across. (20 "
                 "sts)\n",
                 lines[i][0]);
        char *all = notions_of(*state,
                               (struct folder){.project = "field,value\nsizes,one\n",
                                               .grade = "",
                                               .pieces = "",
                                               .other_name = "pattern.txt",
                                               .other_text = text},
                               HK_TERMS_WANTED_US);
        assert_string_equal(all, lines[i][1]);
        free(all);
    }
}

/* "skip" is "miss", gauge is tension, and weaving in is sewing in; none of the US words is left. */
static void uk_blocks_have_uk_words(void **state)
{
    struct folder folder = {.fabrics =
                                "fabric,row,make\nmesh,1,\"tch 4 as (dc, ch 1), *sk 1, dc 1, ch 1*, sk 1, dc 1\"\n",
                            .pieces = "piece,fabric,yarn,tool,stitches,rows\nnet,mesh,main,4 mm,21,1\n"
                                      "plain,single crochet,main,4 mm,20,4\n"};
    struct stages stages = stages_of(*state, folder, HK_NO_SIZE);
    struct hk_materials *materials = materials_of(&stages, HK_TERMS_WANTED_UK);
    bool missed = false;
    for (size_t i = 0; i < materials->word_count; i++) {
        assert_null(strstr(materials->words[i].meaning, "skip"));
        missed |= strcmp(materials->words[i].meaning, "miss a stitch") == 0;
    }
    assert_true(missed);
    assert_string_equal(materials->notions[0], "darning needle for sewing in ends");
    assert_non_null(strstr(materials->listing, "Tension: 20 sts"));
    assert_null(strstr(materials->listing, "auge"));
    hk_materials_free(materials);
    stages_free(stages);
}

/* ---- Yarn lines, tools and gauge ---- */

static void texts_are_in_the_units_asked_for(void **state)
{
    static const struct {
        enum hk_units units;
        const char *size, *put_up, *gauge;
    } cases[] = {{HK_UNITS_METRIC, "10 (12, 14) cm", "50 g, 120 m",
                  "20 sts and 25 rows = 10 cm of single crochet, US G-6 (4 mm) hook"},
                 {HK_UNITS_IMPERIAL, "4 (4\u00a03/4, 5\u00a01/2) in", "1.76 oz, 131 yd",
                  "20 sts and 25 rows = 4 in of single crochet, US G-6 (4 mm) hook"},
                 {HK_UNITS_BOTH, "10 (12, 14) cm / 4 (4\u00a03/4, 5\u00a01/2) in", "50 g / 1.76 oz, 120 m / 131 yd",
                  "20 sts and 25 rows = 10 cm / 4 in of single crochet, US G-6 (4 mm) hook"}};
    struct stages stages = stages_of(*state, graded_folder, HK_NO_SIZE);
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct hk_diags diags = {0};
        struct hk_materials_options options = hk_materials_defaults();
        options.units = cases[i].units;
        struct hk_materials *materials = hk_materials_make(stages.need, options, &diags);
        assert_non_null(materials);
        assert_string_equal(materials->measures[0].amount.text, cases[i].size);
        assert_string_equal(materials->yarns[0].put_up_text, cases[i].put_up);
        assert_string_equal(materials->gauges[0].text, cases[i].gauge);
        assert_close(materials->measures[0].amount.metric[2], 14, 1e-12, 0); /* numbers are in both */
        assert_close(materials->measures[0].amount.customary[2], 5.5, 1e-12, 0);
        hk_materials_free(materials);
    }
    stages_free(stages);
}

/*
 * Of 50 g balls a small amount is at most 5 g, of 25 g balls 2.5 g; the same few rows are small beside a large piece,
 * and alone they are the yarn that the design takes most of.
 */
static void a_small_amount_is_told_from_a_ball(void **state)
{
    static const struct {
        const char *pieces;
        bool small[2];
    } cases[] = {
        {"piece,fabric,yarn,tool,stitches,rows\na,single crochet,main,4 mm,100,40\nb,single crochet,lace,4 mm,40,2\n",
         {false, true}},
        {"piece,fabric,yarn,tool,stitches,rows\na,single crochet,main,4 mm,100,40\nb,single crochet,lace,4 mm,100,40\n",
         {false, false}},
        {"piece,fabric,yarn,tool,stitches,rows\nb,single crochet,lace,4 mm,40,2\n", {false, false}},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct stages stages = stages_of(*state, (struct folder){.pieces = cases[i].pieces}, 0);
        struct hk_materials *materials = materials_of(&stages, HK_TERMS_WANTED_PROJECT);
        for (size_t y = 0; y < materials->yarn_count; y++)
            assert_int_equal(materials->yarns[y].colours[0].small, cases[i].small[y]);
        hk_materials_free(materials);
        stages_free(stages);
    }
}

static void yarns_held_together_are_stated(void **state)
{
    static const struct {
        const char *pieces, *held;
    } cases[] = {
        {"piece,fabric,yarn,tool,stitches,rows\na,single crochet,main + lace,4 mm,20,4\n",
         "1 strand of main and 1 of lace throughout"},
        {"piece,fabric,yarn,tool,stitches,rows\na,single crochet,main x2,4 mm,20,4\nb,single crochet,main,4 mm,20,4\n"
         "c,single crochet,main x2,4 mm,20,4\n",
         "2 strands of main in a and c"},
        {"piece,fabric,yarn,tool,stitches,rows\na,single crochet,main,4 mm,20,4\n", NULL},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct stages stages = stages_of(*state, (struct folder){.pieces = cases[i].pieces}, HK_NO_SIZE);
        struct hk_materials *materials = materials_of(&stages, HK_TERMS_WANTED_PROJECT);
        assert_int_equal(materials->held_count, cases[i].held != NULL);
        if (cases[i].held)
            assert_string_equal(materials->held[0], cases[i].held);
        hk_materials_free(materials);
        stages_free(stages);
    }
}

static void a_tool_of_some_sizes_says_which(void **state)
{
    struct folder folder = {
        .pieces = "piece,fabric,yarn,tool,stitches,rows,times\na,single crochet,main,5 mm,20,4,\"1 (1, 0)\"\n"
                  "b,single crochet,main,4 mm,20,4,\n"};
    struct stages stages = stages_of(*state, folder, HK_NO_SIZE);
    struct hk_materials *materials = materials_of(&stages, HK_TERMS_WANTED_PROJECT);
    assert_int_equal(materials->tool_count, 2);
    assert_string_equal(materials->tools[0].text, "US H-8 (5 mm) hook, for S and M only");
    assert_true(materials->tools[0].uses[0] && materials->tools[0].uses[1] && !materials->tools[0].uses[2]);
    assert_string_equal(materials->tools[1].text, "US G-6 (4 mm) hook");
    hk_materials_free(materials);
    stages_free(stages);
}

/* By default the gauge of every fabric of the design; `print` and `gauge_as` state another, or none. */
static void the_gauge_is_the_one_that_is_stated(void **state)
{
    static const struct {
        const char *columns, *pairs, *plain, *other, *expected;
    } cases[] = {
        {"print,gauge_as", "", "", "", "pairs; plain"},    {"print,gauge_as", "no,", "", "", "plain"},
        {"print,gauge_as", ",plain", "", "", "plain"},     {"print,gauge_as", "no,other", "", "", "other; plain"},
        {"print,gauge_as", "no,", "no,", "yes,", "other"}, {"print,gauge_as", "no,", "no,", "", ""},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char swatches[600], all[100] = "";
        snprintf(swatches, sizeof swatches,
                 "swatch,yarn,tool,fabric,stitches,rows,gauge,%s\npairs,main,4 mm,pairs,20,20,22 x 25,%s\n"
                 "plain,main,4 mm,single crochet,20,20,20 x 25,%s\nother,main,4 mm,stockinette,20,20,21 x 28,%s\n",
                 cases[i].columns, cases[i].pairs, cases[i].plain, cases[i].other);
        struct folder folder = {.swatches = swatches,
                                .pieces = "piece,fabric,yarn,tool,stitches,rows\na,pairs,main,4 mm,20,4\n"
                                          "b,single crochet,main,4 mm,20,4\n"};
        struct stages stages = stages_of(*state, folder, HK_NO_SIZE);
        struct hk_materials *materials = materials_of(&stages, HK_TERMS_WANTED_PROJECT);
        for (size_t k = 0; k < materials->gauge_count; k++)
            snprintf(all + strlen(all), sizeof all - strlen(all), "%s%s", k ? "; " : "", materials->gauges[k].swatch);
        assert_string_equal(all, cases[i].expected);
        hk_materials_free(materials);
        stages_free(stages);
    }
}

static void mistakes_in_the_stated_gauge_are_reported(void **state)
{
    struct folder folder = {.swatches = "swatch,yarn,tool,fabric,stitches,rows,gauge,print,gauge_as\n"
                                        "plain,main,4 mm,single crochet,20,20,20 x 25,maybe,\n"
                                        "mine,main,4 mm,single crochet,20,20,20 x 25,,mine\n"
                                        "far,main,4 mm,single crochet,20,20,20 x 25,,plane\n"
                                        "bare,main,4 mm,single crochet,20,20,,yes,\n"
                                        "next,main,4 mm,single crochet,20,20,20 x 25,,bare\n"
                                        "both,main,4 mm,single crochet,20,20,20 x 25,yes,plain\n"};
    assert_folder_bad(
        *state, folder,
        "swatches.csv:2:46: error: \"maybe\" is not a choice here; write yes or no\n"
        "swatches.csv:3:46: error: swatch \"mine\" states its gauge as its own; name another swatch, or leave the cell "
        "empty\n"
        "swatches.csv:4:45: error: there is no swatch \"plane\"; known here: plain, mine, far, bare, next or both\n"
        "swatches.csv:5:38: error: swatch \"bare\" has no gauge to print; write its gauge, or its width and height\n"
        "swatches.csv:6:46: error: swatch \"bare\" has no gauge that the pattern prints; write its gauge, or name "
        "another "
        "swatch\n"
        "swatches.csv:7:49: error: swatch \"both\" prints its own gauge and another's; leave print or gauge_as "
        "empty\n");
}

/* The block of one size agrees with the block of all sizes. */
static void one_size_is_stated_alone(void **state)
{
    struct folder folder = graded_folder;
    folder.other_name = "costs.csv";
    folder.other_text = "item,kind,amount,quantity\nbuttons,material,0.85,\"7 (0, 8)\"\n";
    struct stages stages = stages_of(*state, folder, HK_NO_SIZE);
    struct hk_materials *all = materials_of(&stages, HK_TERMS_WANTED_PROJECT);
    for (size_t size = 0; size < all->size_count; size++) {
        struct stages single = stages_of(*state, folder, size);
        struct hk_materials *one = materials_of(&single, HK_TERMS_WANTED_PROJECT);
        assert_int_equal(one->size_count, 1);
        assert_string_equal(one->sizes_text, all->sizes[size]);
        for (size_t i = 0; i < all->yarn_count; i++) {
            const struct hk_materials_colour *a = &all->yarns[i].colours[0], *b = &one->yarns[i].colours[0];
            assert_close(a->length.metric[size], b->length.metric[0], 0, 0);
            assert_close(a->mass.customary[size], b->mass.customary[0], 0, 0);
            assert_int_equal(a->balls[size], b->balls[0]);
        }
        assert_close(all->measures[0].amount.metric[size], one->measures[0].amount.metric[0], 0, 0);
        assert_int_equal(one->notion_count, size == 1 ? 2 : 3);
        assert_int_equal(one->word_count, all->word_count);
        hk_materials_free(one);
        stages_free(single);
    }
    hk_materials_free(all);
    stages_free(stages);
}

static void what_cannot_be_printed_is_reported(void **state)
{
    struct hk_diags diags = {0};
    struct stages stages = stages_of(*state, graded_folder, HK_NO_SIZE);
    struct hk_materials_options options = hk_materials_defaults();
    options.round_to = 0;
    assert_null(hk_materials_make(stages.need, options, &diags));
    assert_findings(&diags, "round:0:0: error: amounts cannot be rounded up to multiples of 0; 5 or 10 would do\n");
    options.round_to = 1e300;
    assert_null(hk_materials_make(stages.need, options, &diags));
    assert_findings(&diags, "round:0:0: error: amounts cannot be rounded up to multiples of 1 x 10^300; 5 or 10 would do\n");
    hk_materials_free(NULL);
    stages_free(stages);
}

/* ---- Grading ---- */

static void a_size_that_falls_is_reported(void **state)
{
    struct hk_diags diags = {0};
    struct folder folder = {
        .grade = "name,unit,S,M,L,print\nwidth,,20,18,28,\nlength,cm,14,12,10,yes\n",
        .pieces = "piece,fabric,yarn,tool,stitches,rows\nstrip,single crochet,main,4 mm,width,\"10 (8, 12)\"\n"
                  "cuff,single crochet,main,4 mm,20,\"12 (10, 8)\"\n",
    };
    struct hk_project *project = folder_read(*state, folder, &diags);
    struct hk_tally *tally = hk_tally_count(project, &diags);
    assert_non_null(tally);
    assert_findings(&diags,
                    "grade.csv:2:1: warning: \"width\" falls: 20 in size S and 18 in size M; check the value of "
                    "one of the two sizes\n"
                    "pieces.csv:2:39: warning: \"strip\" falls: 10 rows in size S and 8 rows in size M; check "
                    "the value of one of the two sizes\n");
    hk_tally_free(tally);
    hk_project_free(project);
}

/*
 * Two yarns in stripes of one piece, rounded up to the gram: for makers drawn with the covariance of the need and the
 * additional departure of the reader, both are enough with the stated frequency; it never exceeds either chance alone,
 * nor falls below the bound for both separately.
 */
static void all_yarns_together_are_enough_as_often_as_is_reported(void **state)
{
    struct stages s = stages_of(*state,
                                (struct folder){.project = "field,value\nsizes,one\n", .grade = "", .swatches = "",
                                                .yarns = "role,yarn,put_up,length\nmain,Alva,50 g,100 m\ntrim,Birk,50 g,140 m\n",
                                                .fabrics = "fabric,row,make\nplain,1,*sc*\n",
                                                .pieces = "piece,fabric,yarn,tool,stitches,rows\n"
                                                          "strip,plain,\"main 2, trim 1\",5 mm,100,90\n"},
                                HK_NO_SIZE);
    struct hk_diags diags = {0};
    struct hk_materials_options options = hk_materials_defaults();
    options.round_to = 1;
    struct hk_materials *materials = hk_materials_make(s.need, options, &diags);
    assert_non_null(materials);
    assert_int_equal(materials->colour_count, 2);
    assert_false(materials->plain);
    double limit[2], l00 = sqrt(s.need->covariance[0]), l10 = s.need->covariance[1] / l00;
    double l11 = sqrt(s.need->covariance[3] - l10 * l10), held = 0;
    for (size_t r = 0; r < 2; r++)
        limit[r] = log(materials->yarns[r].colours[0].mass.metric[0] / s.need->roles[r].mass_g.likely);
    gsl_rng *rng = hk_random_new(12);
    for (int i = 0; i < 100000; i++) {
        double a = gsl_ran_gaussian(rng, 1), b = gsl_ran_gaussian(rng, 1), reader = gsl_ran_gaussian(rng, materials->reader);
        held += l00 * a + reader <= limit[0] && l10 * a + l11 * b + reader <= limit[1] ? 1e-5 : 0;
    }
    gsl_rng_free(rng);
    assert_close(materials->chance_all, held, 0, 0.003);
    assert_true(materials->chance_all < 0.96 && materials->chance_all > 0.90);
    hk_materials_free(materials);
    stages_free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(all_yarns_together_are_enough_as_often_as_is_reported),
        cmocka_unit_test(units_are_those_of_the_handbook),
        cmocka_unit_test(rounding_up_never_falls_short_and_leaves_multiples_alone),
        cmocka_unit_test(numbers_have_no_idle_digits),
        cmocka_unit_test(graded_notation_reads_back),
        cmocka_unit_test(many_sizes_have_two_brackets),
        cmocka_unit_test(notions_follow_from_the_work_and_the_costs),
        cmocka_unit_test(notions_that_the_text_names_are_stated),
        cmocka_unit_test(uk_blocks_have_uk_words),
        cmocka_unit_test(texts_are_in_the_units_asked_for),
        cmocka_unit_test(a_small_amount_is_told_from_a_ball),
        cmocka_unit_test(yarns_held_together_are_stated),
        cmocka_unit_test(a_tool_of_some_sizes_says_which),
        cmocka_unit_test(the_gauge_is_the_one_that_is_stated),
        cmocka_unit_test(mistakes_in_the_stated_gauge_are_reported),
        cmocka_unit_test(names_climb_one_rung_from_us_to_uk_and_back),
        cmocka_unit_test(us_and_uk_blocks_describe_the_same_design),
        cmocka_unit_test(abbreviations_are_those_that_the_rows_use),
        cmocka_unit_test(rounds_are_called_rounds),
        cmocka_unit_test(readers_need_what_their_own_spread_adds),
        cmocka_unit_test(roles_of_one_yarn_and_colour_are_bought_together),
        cmocka_unit_test(finished_sizes_marked_for_print_are_stated),
        cmocka_unit_test(steel_hooks_are_named_below_all_others_only),
        cmocka_unit_test(what_is_worked_on_from_an_edge_has_a_size_and_an_edging_has_none),
        cmocka_unit_test(without_marked_rows_sizes_follow_from_the_gauge),
        cmocka_unit_test(notions_of_the_costs_are_stated_by_size),
        cmocka_unit_test(one_size_is_stated_alone),
        cmocka_unit_test(what_cannot_be_printed_is_reported),
        cmocka_unit_test(a_size_that_falls_is_reported),
    };
    return cmocka_run_group_tests(tests, catalogue_set_up, catalogue_tear_down);
}
