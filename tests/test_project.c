/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Every rule of hankful(1), FILES for reading a folder: valid folders, equivalent forms of them, and exact findings for
 * invalid ones.
 */
#include "folder.h"

#include "project/gauge.h"
#include "project/size_meant.h"
#include "catalogue/diameter.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- project.csv --------------------------------------------------------------------------------------------- */

static void settings_have_the_defaults_of_the_design(void **state)
{
    struct hk_project *p = folder_good(*state, (struct folder){.project = "field,value\nsizes,\"S (M, L)\"\n"});
    assert_int_equal(p->terms, HK_TERMS_US);
    assert_null(p->currency);
    assert_string_equal(hk_project_currency(p), "");
    assert_close(p->chance, 0.95, 0, 0);
    assert_close(p->margin, -1, 0, 0);
    assert_close(p->tail_m, 0.15, 0, 0);
    assert_false(p->join_anywhere);
    assert_false(p->lots_may_mix);
    assert_int_equal(p->short_cost_minor, -1);
    assert_close(p->spare_worth, 0, 0, 0);
    assert_false(p->count_in_swatches);
    assert_close(p->spreads.making, 0.04, 0, 0);
    assert_int_equal(p->learned_count, 0);
    hk_project_free(p);
}

static void every_setting_is_taken(void **state)
{
    struct hk_project *p = folder_good(*state, (struct folder){.project = "field,value\n"
                                                                          "title,Quay throw\n"
                                                                          "Sizes,\"S (M, L)\"\n"
                                                                          "terms,uk\n"
                                                                          "margin,12.5%\n"
                                                                          "tail,0\n"
                                                                          "join,anywhere\n"
                                                                          "lots,may mix\n"
                                                                          "short cost,4.50\n"
                                                                          "spare_worth,returnable\n"
                                                                          "swatches,count in\n"
                                                                          "currency,eur\n"
                                                                          "making,5%\n"
                                                                          "wrap_ratio,0.6\n",
                                                               .fabrics = "fabric,row,make\npairs,1,*dc*\n"});
    assert_string_equal(hk_project_title(p), "Quay throw");
    assert_true(hk_project_uk_terms(p));
    assert_close(p->margin, 0.125, 1e-15, 0);
    assert_close(p->tail_m, 0, 0, 0);
    assert_true(p->join_anywhere);
    assert_true(p->lots_may_mix);
    assert_int_equal(p->short_cost_minor, 450);
    assert_close(p->spare_worth, 1, 0, 0);
    assert_true(p->count_in_swatches);
    assert_string_equal(hk_project_currency(p), "EUR");
    assert_close(p->spreads.making, 0.05, 1e-15, 0);
    assert_close(p->spreads.wrap_ratio, 0.6, 0, 0);
    hk_project_free(p);
}

static void a_field_without_a_value_keeps_its_default(void **state)
{
    struct hk_project *p = folder_good(
        *state,
        (struct folder){.project = "field,value\nsizes,\"S, M, L\"\nmargin,\nchance,0.9\ntail,\nlearn_from,\n"});
    assert_close(p->chance, 0.9, 0, 0);
    assert_close(p->margin, -1, 0, 0);
    assert_close(p->tail_m, 0.15, 0, 0);
    hk_project_free(p);
}

static void assert_sizes(const struct hk_catalogue *catalogue, const char *text, const char *expected)
{
    char project[256], got[256] = "";
    snprintf(project, sizeof project, "field,value\nsizes,%s\n", text);
    struct hk_project *p = folder_good(catalogue, (struct folder){.project = project,
                                                                  .grade = "",
                                                                  .pieces = "piece,fabric,yarn,tool,stitches,rows\n"
                                                                            "strip,pairs,main,4 mm,20,2\n"});
    for (size_t i = 0; i < hk_project_sizes(p); i++) {
        strcat(got, i ? "|" : "");
        strcat(got, hk_project_size(p, i));
    }
    assert_string_equal(got, expected);
    hk_project_free(p);
}

static void sizes_are_graded_listed_or_one(void **state)
{
    assert_sizes(*state, "\"XS (S, M, L, XL)\"", "XS|S|M|L|XL");
    assert_sizes(*state, "\"XS, S, M\"", "XS|S|M");
    assert_sizes(*state, "\"34 [36; 38]\"", "34|36|38");
    assert_sizes(*state, "One size", "One size");
    assert_sizes(*state, "\"0-6 months (6-12 months)\"", "0-6 months|6-12 months");
    assert_sizes(*state, "", "one size");
}

static void a_size_is_found_in_any_letter_case_and_the_nearest_offered(void **state)
{
    struct hk_project *p = folder_good(
        *state, (struct folder){.project = "field,value\nsizes,\"Small (Medium, Large)\"\n",
                                .grade = "",
                                .pieces = "piece,fabric,yarn,tool,stitches,rows\nstrip,pairs,main,4 mm,20,2\n"});
    const char *nearest = NULL;
    for (size_t i = 0; i < 3; i++)
        assert_int_equal(hk_project_find_size(p, hk_project_size(p, i), &nearest), i);
    assert_int_equal(hk_project_find_size(p, "LARGE", &nearest), 2);
    assert_null(nearest);
    assert_int_equal(hk_project_find_size(p, "Smal", &nearest), HK_NO_SIZE);
    assert_string_equal(nearest, "Small");
    nearest = NULL;
    assert_int_equal(hk_project_find_size(p, "xyzzy", &nearest), HK_NO_SIZE);
    assert_int_equal(hk_project_find_size(p, "Smal", NULL), HK_NO_SIZE);
    assert_null(nearest);
    hk_project_free(p);
}

static void misspelt_settings_and_words_offer_what_would_do(void **state)
{
    assert_folder_bad(*state,
                      ((struct folder){.project = "field,value\n"
                                                  "sizes,\"S (M, L)\"\n"
                                                  "titel,Sampler\n"
                                                  "join,at the end\n"
                                                  "terms,USA\n"
                                                  "currency,EURO\n"
                                                  "lots,two\n"
                                                  "qwertz,1\n"
                                                  "tensoin,0.1\n"}),
                      "project.csv:3:1: error: there is no setting \"titel\"; did you mean \"title\"?\n"
                      "project.csv:4:6: error: \"at the end\" is not a choice here; write row end or anywhere\n"
                      "project.csv:5:7: error: \"USA\" is not a choice here; write US or UK\n"
                      "project.csv:6:10: error: there is no currency \"EURO\"; did you mean \"EUR\"?\n"
                      "project.csv:7:6: error: \"two\" is not a choice here; write one or may mix\n"
                      "project.csv:8:1: error: there is no setting \"qwertz\"\n"
                      "project.csv:9:1: error: there is no setting \"tensoin\"; did you mean \"tension\"?\n");
}

static void a_margin_and_a_chance_together_are_an_error(void **state)
{
    assert_folder_bad(
        *state, ((struct folder){.project = "field,value\nsizes,\"S (M, L)\"\nmargin,10%\nchance,95%\nchance,90%\n"}),
        "project.csv:4:8: error: both a chance and a flat margin are asked for; keep the one that decides "
        "how much is enough\n"
        "project.csv:5:1: error: chance is set twice; keep one of the rows\n");
}

static void percents_beyond_sense_are_errors(void **state)
{
    assert_folder_bad(
        *state,
        ((struct folder){.project = "field,value\nsizes,\"S (M, L)\"\nchance,100%\ntail,-1 cm\n"
                                    "spare_worth,120%\nmaking,0\ntool,500%\n"}),
        "project.csv:3:8: error: a chance of 100%, and nothing is surer than sure; write it as 95% or 0.95, "
        "below 100%\n"
        "project.csv:4:6: error: -1 cm is below zero; write a length of zero or more\n"
        "project.csv:5:13: error: a ball left over that keeps 120% of its price; write it as 50%, 0.5 or "
        "returnable\n"
        "project.csv:6:8: error: 0 is not possible here; write a percentage above zero\n"
        "project.csv:7:6: error: tool of 5, and it is at most 1; write 15% or 0.15 for fifteen percent\n");
}

static void doubled_damaged_and_open_sizes_are_errors_and_nothing_follows(void **state)
{
    assert_folder_bad(*state, ((struct folder){.project = "field,value\nsizes,\"S (M, s)\"\n"}),
                      "project.csv:2:14: error: size \"s\" stands twice; give each size a name of its own\n");
    assert_folder_bad(
        *state, ((struct folder){.project = "field,value\nsizes,\"S (M, L\"\n"}),
        "project.csv:2:8: error: the brackets of \"S (M, L\" do not close; write sizes as XS (S, M, L)\n");
    assert_folder_bad(
        *state, ((struct folder){.project = "field,value\nsizes,\"0-2 (04.02.2026, 4-Jun)\"\n"}),
        "project.csv:2:13: error: \"04.02.2026\" is a date, into which spreadsheets turn sizes such as 2-4; "
        "format the column as text and write the size again\n"
        "project.csv:2:25: error: \"4-Jun\" is a date, into which spreadsheets turn sizes such as 2-4; "
        "format the column as text and write the size again\n");
}

/*
 * "2-4", "10-12", "6/8" and "4-6-2" as spreadsheets of several countries change them; "1-2-3", "Mary-4x" and "12 mths"
 * are names.
 */
static void sizes_that_a_spreadsheet_made_dates_of_are_distinguished_from_names(void **state)
{
    static const char *const dates[] = {"04.02.2026", "2026-02-04", "10/12/2026", "4-Feb", "4-feb-26", "Feb-04", "12-Oct-2026", "Jun-8"};
    static const char *const names[] = {"1-2-3", "1.2.3.4.5.6", "2026", "4-Febr", "12-months", "Feb", "Feb 4", "Feb-", "Feb-4x", "March", "./-"};
    for (size_t i = 0; i < sizeof dates / sizeof dates[0]; i++) {
        char project[128], expected[256];
        snprintf(project, sizeof project, "field,value\nsizes,\"S (%s, L)\"\n", dates[i]);
        snprintf(expected, sizeof expected,
                 "project.csv:2:11: error: \"%s\" is a date, into which spreadsheets turn sizes such as 2-4; format the column "
                 "as text and write the size again\n",
                 dates[i]);
        assert_folder_bad(*state, ((struct folder){.project = project}), expected);
    }
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        char text[64], expected[64];
        snprintf(text, sizeof text, "\"S (%s, L)\"", names[i]);
        snprintf(expected, sizeof expected, "S|%s|L", names[i]);
        assert_sizes(*state, text, expected);
    }
}

/* In a file of semicolons a comma between two digits is a decimal mark; any other comma separates sizes. */
static void sizes_keep_decimal_commas_in_files_of_semicolons(void **state)
{
    static const struct {
        const char *sizes, *first, *second;
    } lists[] = {{"34,5 (36,5; 38)", "34,5", "36,5"}, {"34, 36, 38", "34", "36"}, {"S,M,L", "S", "M"}, {"4,M, 6", "4", "M"}};
    for (size_t i = 0; i < sizeof lists / sizeof lists[0]; i++) {
        char project[64];
        snprintf(project, sizeof project, "field;value\nsizes;\"%s\"\n", lists[i].sizes);
        struct hk_project *p = folder_good(*state, (struct folder){.project = project,
                                                                   .grade = "",
                                                                   .pieces = "piece,fabric,yarn,tool,stitches,rows\n"
                                                                             "strip,pairs,main,4 mm,20,2\n"});
        assert_int_equal(hk_project_sizes(p), 3);
        assert_string_equal(hk_project_size(p, 0), lists[i].first);
        assert_string_equal(hk_project_size(p, 1), lists[i].second);
        hk_project_free(p);
    }
}

static void a_hundred_sizes_are_the_most(void **state)
{
    char project[1024] = "field,value\nsizes,\"1";
    for (int i = 2; i <= 101; i++)
        snprintf(project + strlen(project), sizeof project - strlen(project), ", %d", i);
    strcat(project, "\"\n");
    assert_folder_bad(*state, ((struct folder){.project = project}), "project.csv:2:400: error: more than 100 sizes\n");
}

/* ---- yarns.csv ----------------------------------------------------------------------------------------------- */

/* 50 g for 120 m is 416.67 tex; 0.108 mm * sqrt(416.67) = 2.2045 mm. 12 wraps an inch: 25.4 / 12 = 2.1167 mm. */
static void a_yarn_is_measured_by_its_label_or_its_wraps(void **state)
{
    struct hk_project *p = folder_good(*state, (struct folder){.yarns = "role,yarn,put_up,length,wpi\n"
                                                                        "main,Quay DK,50 g,120 m,\n"
                                                                        "lace,Quay Lace,1 oz,210 yd,12\n"});
    assert_int_equal(p->yarn_count, 2);
    assert_close(p->yarns[0].tex, 416.666666666667, 1e-12, 0);
    assert_close(p->yarns[0].diameter_mm, 2.2045407685, 1e-9, 0);
    assert_close(p->yarns[1].put_up_g, 28.349523125, 1e-15, 0);
    assert_close(p->yarns[1].length_m, 192.024, 1e-15, 0);
    assert_close(p->yarns[1].diameter_mm, 25.4 / 12, 1e-15, 0);
    hk_project_free(p);
}

static void the_first_yarn_of_a_role_is_the_plan_and_one_name_is_one_yarn(void **state)
{
    struct hk_project *p = folder_good(*state, (struct folder){.yarns = "role,yarn,put_up,length,colour,price,wpi\n"
                                                                        "main,Quay DK,50 g,120 m,Slate,6.40,\n"
                                                                        "lace,quay dk,50 g,120 m,Foam,,11\n"
                                                                        "Main,Pier DK,100 g,250 m,Slate,0.01,\n"});
    assert_int_equal(p->role_count, 2);
    assert_int_equal(p->candidate_count, 3);
    assert_int_equal(p->yarn_count, 2);
    assert_string_equal(p->yarns[p->candidates[p->roles[0].plan].yarn].name, "Quay DK");
    assert_int_equal(p->candidates[p->roles[1].plan].yarn, 0);
    assert_string_equal(p->candidates[1].colour, "Foam");
    assert_int_equal(p->candidates[0].price_minor, 640);
    assert_int_equal(p->candidates[1].price_minor, -1);
    assert_int_equal(p->candidates[2].price_minor, 1);
    assert_int_equal(p->candidates[2].role, 0);
    assert_close(p->yarns[0].diameter_mm, 25.4 / 11, 1e-15, 0); /* any row may state it */
    hk_project_free(p);
}

/*
 * "fingering" is 0 Lace and 1 Super Fine; 100 g in 400 m are 250 tex, 1.708 mm, 14.9 wraps an inch, which is 14 and
 * more and not 30 and more: 1. 4 ply is 1 and 8 ply is 3 (common practice, no source).
 */
static void a_category_with_several_names_is_the_one_that_the_label_allows(void **state)
{
    struct hk_project *p = folder_good(*state, (struct folder){.yarns = "role,yarn,put_up,length,category\n"
                                                                        "main,Reed,100 g,400 m,fingering\n"
                                                                        "lace,Wrack,50 g,200 m,4 ply\n"
                                                                        "lace,Kelp,50 g,115 m,8-ply\n"});
    assert_string_equal(p->candidates[0].category, "1");
    assert_string_equal(p->candidates[1].category, "1");
    assert_string_equal(p->candidates[2].category, "3");
    hk_project_free(p);
}

/*
 * 200 tex are 1.527 mm, 16.6 wraps: both 14 to 30 and 12 to 18. A label mistyped by a digit: 18 m in 100 g are 8.05 mm,
 * 3.2 wraps, and 4 Medium has 9 to 12, so 100 g of it at most 25.4 / 9 mm thick: 683 tex, 146 m. 210 m in 100 g
 * are 10.9 wraps, more than one and a half times the 6 of Super Bulky.
 */
static void a_category_that_the_label_cannot_be_is_warned_about_once(void **state)
{
    struct hk_diags diags = {0};
    struct hk_project *p = folder_read(*state,
                                       (struct folder){.yarns = "role,yarn,put_up,length,colour,category\n"
                                                                "main,Reed,100 g,18 m,Sand,4\n"
                                                                "lace,Reed,100 g,18 m,Rust,4\n"
                                                                "lace,Kelp,100 g,500 m,,baby\n"
                                                                "lace,Wrack,100 g,1800 m,,worsted\n"
                                                                "lace,Foam,100 g,1800 m,,0\n"
                                                                "lace,Holm,100 g,210 m,,9\n"
                                                                "lace,Rope,100 g,210 m,,6\n"},
                                       &diags);
    assert_non_null(p);
    assert_findings(&diags,
                    "yarns.csv:2:27: warning: 18 m in 100 g makes \"Reed\" far thicker than category 4 Medium; check "
                    "put_up, length and category: 100 g of such a yarn would have at least about 150 m\n"
                    "yarns.csv:4:24: warning: \"baby\" is the name of several yarn categories: 1 Super Fine, 2 Fine; "
                    "write the number of the one that is meant\n"
                    "yarns.csv:5:26: warning: 1800 m in 100 g makes \"Wrack\" far thinner than category 4 Medium; check "
                    "put_up, length and category: 100 g of such a yarn would have at most about 260 m\n"
                    "yarns.csv:7:24: warning: \"9\" is no yarn category; the categories are 0 Lace, 1 Super Fine, 2 Fine, "
                    "3 Light, 4 Medium, 5 Bulky, 6 Super Bulky, 7 Jumbo; leave the cell empty to have the yarn's thickness "
                    "tell\n"
                    "yarns.csv:8:24: warning: 210 m in 100 g makes \"Rope\" far thinner than category 6 Super Bulky; check "
                    "put_up, length and category: 100 g of such a yarn would have at most about 70 m\n");
    hk_project_free(p);
}

static void one_name_with_two_labels_is_an_error(void **state)
{
    assert_folder_bad(
        *state,
        ((struct folder){.yarns = "role,yarn,put_up,length,wpi\n"
                                  "main,Quay DK,50 g,120 m,11\n"
                                  "lace,Quay DK,100 g,120 m,\n"
                                  "main,Quay DK,50 g,125 m,12\n"}),
        "yarns.csv:3:14: error: the put-up of \"Quay DK\" differs from the one in line 2; one name is one "
        "yarn: write the same there, or give this one another name\n"
        "yarns.csv:4:1: error: \"Quay DK\" stands for this role in line 2 already; take one of the two rows "
        "out\n"
        "yarns.csv:4:19: error: the length of \"Quay DK\" differs from the one in line 2; one name is one "
        "yarn: write the same there, or give this one another name\n"
        "yarns.csv:4:25: error: wpi of \"Quay DK\" differs from the one in line 2; one name is one yarn: "
        "write the same there, or give this one another name\n");
}

#define BALLS "role,yarn,put_up,length,ball_weighs,scale_step\n"

/* One ball without a count; two rows for one yarn may both state it, if they agree. */
static void balls_on_the_scale_are_counted_and_weighed(void **state)
{
    struct hk_project *p = folder_good(*state, (struct folder){.yarns = BALLS "main,Quay DK,50 g,120 m,\"3 balls: 148 g\",1 g\n"
                                                                        "lace,Quay Lace,25 g,210 m,24.6 g,0.1 g\n"
                                                                        "trim,Quay DK,50 g,120 m,3 Balls 148 g,1 g\n"
                                                                        "edge,Quay Aran,50 g,80 m,1 ball = 49 g,\n"});
    assert_int_equal(p->yarns[0].ball_count, 3);
    assert_close(p->yarns[0].ball_g, 148, 1e-12, 0);
    assert_close(p->yarns[0].ball_scale.step_g, 1, 0, 0);
    assert_int_equal(p->yarns[1].ball_count, 1);
    assert_close(p->yarns[1].ball_g, 24.6, 1e-12, 0);
    assert_close(p->yarns[1].ball_scale.step_g, 0.1, 0, 0);
    assert_int_equal(p->yarns[2].ball_count, 1);
    assert_close(p->yarns[2].ball_g, 49, 1e-12, 0);
    hk_project_free(p);
}

static void mistakes_in_balls_on_the_scale_are_reported_at_the_cell(void **state)
{
    assert_folder_bad(*state,
                      ((struct folder){.yarns = BALLS "main,Quay DK,50 g,120 m,2 balls 98 g,\n"
                                                      "lace,Quay DK,50 g,120 m,3 balls 98 g,\n"
                                                      "trim,Quay DK,50 g,120 m,2 balls 99 g,\n"
                                                      "a,Alva,50 g,120 m,0 balls 98 g,\n"
                                                      "b,Birk,50 g,120 m,1.5 balls 98 g,\n"
                                                      "c,Cove,50 g,120 m,1000000 balls 98 g,\n"
                                                      "d,Dune,50 g,120 m,about 49 g,\n"
                                                      "e,Eider,50 g,120 m,3-Feb,\n"
                                                      "f,Fell,50 g,120 m,49 g,fine\n"}),
                      "yarns.csv:3:25: error: what a ball weighs of \"Quay DK\" differs from the one in line 2; one name is one "
                      "yarn: write the same there, or give this one another name\n"
                      "yarns.csv:4:25: error: what a ball weighs of \"Quay DK\" differs from the one in line 2; one name is one "
                      "yarn: write the same there, or give this one another name\n"
                      "yarns.csv:5:21: error: \"balls\" is not a known unit; write it like 50 g or 1.75 oz\n"
                      "yarns.csv:6:23: error: \"balls\" is not a known unit; write it like 50 g or 1.75 oz\n"
                      "yarns.csv:7:27: error: \"balls\" is not a known unit; write it like 50 g or 1.75 oz\n"
                      "yarns.csv:8:19: error: \"about 49 g\" is not a mass; write it like 50 g or 1.75 oz\n"
                      "yarns.csv:9:20: error: 3-Feb is a date that a spreadsheet made of what was typed; format the column as "
                      "text and type it again\n"
                      "yarns.csv:10:24: error: \"fine\" is not a mass; write it like 50 g or 1.75 oz\n");
}

static void zero_negative_and_wrong_amounts_are_reported_in_one_run(void **state)
{
    assert_folder_bad(
        *state,
        ((struct folder){.yarns = "role,yarn,put_up,length,price\n"
                                  "main,Quay DK,0 g,120 m,-1\n"
                                  "lace,Quay Lace,25 cm,210,7\n"
                                  "a+b,Pier,1e30 g,nan,7\n"
                                  ",,-5 g,1000000000000000 m,1\n"}),

        "yarns.csv:2:14: error: 0 g is not possible here; write a mass above zero\n"
        "yarns.csv:2:24: error: -1 is below zero; write a price of zero or more\n"
        "yarns.csv:3:19: error: cm measures a length, and a mass is needed here; write it like 50 g or 1.75 oz\n"
        "yarns.csv:3:22: error: 210 has no unit; write 210 cm, 210 in, 210 m or 210 yd\n"
        "yarns.csv:4:1: error: the role \"a+b\" has a mark in it that joins roles; leave + , and ; out of the names of "
        "roles\n"
        "yarns.csv:4:10: error: 1e30 g is how a spreadsheet shortens a long number; digits may be lost; format the "
        "column as text and type the number with all its digits\n"
        "yarns.csv:4:17: error: \"nan\" is not a length; write it like 18.5 cm or 7 1/4 in\n"
        "yarns.csv:5:1: error: the cell \"role\" is empty; every row of yarns.csv needs one\n"
        "yarns.csv:5:2: error: the cell \"yarn\" is empty; every row of yarns.csv needs one\n"
        "yarns.csv:5:3: error: -5 g is below zero; write a mass above zero\n"
        "yarns.csv:5:8: error: 1000000000000000 m is larger than anything possible; write a length like 18.5 cm or 7 "
        "1/4 in\n");
}

static void unknown_columns_are_warned_about_and_the_project_stands(void **state)
{
    struct hk_diags diags = {0};
    struct hk_project *p = folder_read(*state,
                                       (struct folder){.pieces = "piece,fabric,yarn,tool,stitches,rows,tims,\n"
                                                                 "strip,single crochet,main,4 mm,20,10,2,\n"},
                                       &diags);
    assert_non_null(p);
    assert_false(p->lines[0].times.given);
    hk_project_free(p);
    assert_findings(
        &diags,
        "pieces.csv:1:38: warning: no column is called \"tims\": it is not read; is it meant to be \"times\"?\n");
}

static void doubled_columns_and_junk_are_errors(void **state)
{
    assert_folder_bad(
        *state,
        ((struct folder){.pieces = "piece,fabric,yarn,tool,stitches,rows,Rows\na,pairs,main,4 mm,20,4,5\n",
                         .swatches = "PK\x03\x04 a spreadsheet"}),
        "swatches.csv:0:0: error: this is a spreadsheet program's own format (.xlsx or .ods), not CSV text; in the "
        "spreadsheet: File, Save as, Text CSV, character set UTF-8\n"
        "pieces.csv:1:38: error: the column \"Rows\" stands twice; rename or remove one: the first is column 6\n");
}

/* ---- yarn cells ---------------------------------------------------------------------------------------------- */

static struct hk_project *with_yarn_cell(const struct hk_catalogue *catalogue, const char *cell)
{
    char pieces[512];
    snprintf(pieces, sizeof pieces, "piece,fabric,yarn,tool,stitches,rows\nstrip,pairs,\"%s\",4 mm,20,10\n", cell);
    return folder_good(catalogue, (struct folder){.pieces = pieces});
}

static void strands_held_together_have_one_diameter(void **state)
{
    struct hk_project *p = with_yarn_cell(*state, "lace + main x2");
    const struct hk_line *line = &p->lines[0];
    assert_int_equal(line->yarn.count, 1);
    assert_int_equal(line->yarn.stripes[0].rows, HK_COUNT_MOST);
    const struct hk_combination *c = &p->combinations[line->yarn.stripes[0].combination];
    assert_int_equal(c->strand_count, 2);
    assert_int_equal(c->strands[0].role, 0); /* by role, in any order within the cell */
    assert_int_equal(c->strands[0].times, 2);
    double main = p->yarns[0].diameter_mm, lace = p->yarns[1].diameter_mm;
    assert_close(c->diameter_mm, sqrt(2 * main * main + lace * lace), 1e-15, 0);
    hk_project_free(p);
}

static void stripes_say_their_rows_and_a_combination_is_kept_once(void **state)
{
    struct hk_project *p = with_yarn_cell(*state, "main x 2 4, lace 2; main + main 1, MAIN 3");
    const struct hk_stripes *yarn = &p->lines[0].yarn;
    assert_int_equal(yarn->count, 4);
    int64_t rows[] = {4, 2, 1, 3};
    for (size_t i = 0; i < 4; i++)
        assert_int_equal(yarn->stripes[i].rows, rows[i]);
    assert_int_equal(yarn->stripes[0].combination, yarn->stripes[2].combination);
    assert_int_not_equal(yarn->stripes[0].combination, yarn->stripes[3].combination);
    /* the swatch's main and this line's main are the same combination; main x2 and lace are the others */
    assert_int_equal(p->combination_count, 3);
    assert_int_equal(p->blend_count, 3);
    hk_project_free(p);
}

static void the_same_yarns_share_a_blend_whatever_their_roles(void **state)
{
    struct hk_project *p =
        folder_good(*state, (struct folder){.yarns = "role,yarn,put_up,length,colour\n"
                                                     "contrast 2,Quay DK,50 g,120 m,Foam\n"
                                                     "main,Quay DK,50 g,120 m,Slate\n",
                                            .pieces = "piece,fabric,yarn,tool,stitches,rows\n"
                                                      "a,pairs,main,4 mm,20,10\n"
                                                      "b,pairs,contrast 2,4 mm,20,10\n"
                                                      "c,pairs,main + contrast 2,4 mm,20,10\n"
                                                      "d,pairs,\"contrast 2 4, contrast 2 x2 1\",4 mm,20,10\n"});
    size_t combination[4];
    for (size_t i = 0; i < 4; i++)
        combination[i] = p->lines[i].yarn.stripes[0].combination;
    assert_int_not_equal(combination[0], combination[1]);
    assert_int_equal(p->combinations[combination[0]].blend, p->combinations[combination[1]].blend);
    assert_int_not_equal(p->combinations[combination[0]].blend, p->combinations[combination[2]].blend);
    assert_int_equal(combination[3], combination[1]);
    assert_int_equal(p->lines[3].yarn.stripes[0].rows, 4);
    size_t doubled = p->lines[3].yarn.stripes[1].combination; /* two strands of the yarn, as in c */
    assert_int_equal(p->combinations[doubled].blend, p->combinations[combination[2]].blend);
    assert_int_equal(p->blend_count, 2);
    hk_project_free(p);
}

static void mistakes_in_yarn_cells_point_at_the_word(void **state)
{
    assert_folder_bad(
        *state,
        ((struct folder){.pieces = "piece,fabric,yarn,tool,stitches,rows\n"
                                   "a,pairs,mian,4 mm,20,10\n"
                                   "b,pairs,\"main 4, laec 2\",4 mm,20,10\n"
                                   "c,pairs,\"main 4, lace\",4 mm,20,10\n"
                                   "d,pairs,main +,4 mm,20,10\n"
                                   "e,pairs,main x0,4 mm,20,10\n"
                                   "f,pairs,\"main 0, lace 2\",4 mm,20,10\n"
                                   "g,pairs,\"main 4,, lace 2\",4 mm,20,10\n"
                                   "h,pairs,Quay DK,4 mm,20,10\n"
                                   "i,pairs,\"main X 2, lace 2\",4 mm,20,10\n"
                                   "j,pairs,\"lux 4, m 2\",4 mm,20,10\n"}),
        "pieces.csv:2:9: error: there is no role \"mian\" in yarns.csv; did you mean \"main\"?\n"
        "pieces.csv:3:18: error: there is no role \"laec\" in yarns.csv; did you mean \"lace\"?\n"
        "pieces.csv:4:18: error: the stripe \"lace\" does not say its rows; write stripes as main 4, "
        "contrast 2\n"
        "pieces.csv:5:15: error: a role is missing in \"main +\"; write it as main, main + lace or main 4, "
        "contrast 2\n"
        "pieces.csv:6:9: error: \"main x0\" has 0 strands; write at least 1, or leave it out\n"
        "pieces.csv:7:10: error: \"main 0\" has 0 rows; write at least 1, or leave it out\n"
        "pieces.csv:8:17: error: a role is missing in \"main 4,, lace 2\"; write it as main, main + lace or "
        "main 4, contrast 2\n"
        "pieces.csv:9:9: error: there is no role \"Quay DK\" in yarns.csv; known here: main or lace\n"
        "pieces.csv:10:10: error: the stripe \"main X 2\" does not say its rows; write stripes as main 4, "
        "contrast 2\n"
        "pieces.csv:11:10: error: there is no role \"lux\" in yarns.csv; known here: main or lace\n"
        "pieces.csv:11:17: error: there is no role \"m\" in yarns.csv; known here: main or lace\n");
}

/* ---- fabrics ------------------------------------------------------------------------------------------------- */

/* One piece with this yarn cell, on yarns `r0` to `r39`. */
static void assert_yarn_cell(const struct hk_catalogue *catalogue, const char *cell, const char *expected)
{
    struct hk_arena arena = {0};
    const char *yarns = "role,yarn,put_up,length\nmain,Quay,50 g,120 m\ncontrast,Reed,50 g,120 m\n";
    for (int i = 0; i < 40; i++)
        yarns = hk_arena_print(&arena, "%sr%d,y%d,50 g,120 m\n", yarns, i, i);
    struct folder folder = {.yarns = yarns,
                            .pieces = hk_arena_print(&arena, "piece,fabric,yarn,tool,stitches,rows\n"
                                                             "a,single crochet,\"%s\",4 mm,20,10\n", cell)};
    if (expected)
        assert_folder_bad(catalogue, folder, expected);
    else
        hk_project_free(folder_good(catalogue, folder));
    hk_arena_free(&arena);
}

/* A yarn cell with a number of strands of `r0` to `r39`, in repeated order; as stripes of 2 rows. */
static const char *cell_of_many(struct hk_arena *arena, size_t count, const char *between, bool stripes)
{
    const char *cell = "";
    for (size_t i = 0; i < count; i++)
        cell = hk_arena_print(arena, stripes ? "%s%sr%zu 2" : "%s%sr%zu", cell, i ? between : "", i % 40);
    return cell;
}

static void what_is_held_together_has_bounds(void **state)
{
    struct hk_arena arena = {0};
    assert_yarn_cell(*state, cell_of_many(&arena, 16, " + ", false), NULL);
    assert_yarn_cell(*state, cell_of_many(&arena, 17, " + ", false),
                     "pieces.csv:2:19: error: more than 16 strands are held together; that is too many to compute "
                     "together: is it a slip?\n");
    assert_yarn_cell(*state, "main x1000", NULL);
    assert_yarn_cell(*state, "main x1001",
                     "pieces.csv:2:19: error: \"main x1001\" has 1001 strands; at most 1000 are allowed\n");
    assert_yarn_cell(*state, cell_of_many(&arena, 1000, ", ", true), NULL);
    assert_yarn_cell(*state, cell_of_many(&arena, 1001, ", ", true),
                     "pieces.csv:2:19: error: more than 1000 stripes; that is too many to compute together: is it a "
                     "slip?\n");
    hk_arena_free(&arena);
}

/* 40 yarns make 40 * 39 / 2 = 780 pairs; the yarn of the swatch counts too. */
static void sets_of_yarns_held_together_have_a_bound(void **state)
{
    struct hk_arena arena = {0};
    for (size_t most = 499; most <= 500; most++) {
        const char *cell = "";
        size_t count = 0, at = 0;
        for (size_t i = 0; i < 40; i++) {
            for (size_t j = i + 1; j < 40 && count < most; j++, count++) {
                if (count == 499)
                    at = strlen(cell) + strlen(", ");
                cell = hk_arena_print(&arena, "%s%sr%zu + r%zu 2", cell, count ? ", " : "", i, j);
            }
        }
        const char *expected = hk_arena_print(&arena,
                                              "pieces.csv:2:%zu: error: more than 500 yarns and sets of yarns held "
                                              "together; that is too many to compute together: is it a slip?\n",
                                              19 + at);
        assert_yarn_cell(*state, cell, most == 499 ? NULL : expected);
    }
    hk_arena_free(&arena);
}

static void a_fabric_of_the_project_hides_the_shipped_one(void **state)
{
    struct hk_diags diags = {0};
    struct hk_project *p =
        folder_read(*state, (struct folder){.fabrics = "fabric,row,make\nSingle Crochet,1,\"*sc 3*\"\n"}, &diags);
    assert_findings(&diags, "fabrics.csv:2:1: warning: \"Single Crochet\" is the name of a shipped fabric too, and means the one of "
                            "this file; give it another name, or take it out to have the shipped one\n");
    assert_ptr_equal(p->lines[0].fabric, &p->fabrics[0]);
    assert_ptr_equal(p->swatches[0].fabric, &p->fabrics[0]);
    hk_project_free(p);
}

/* In a swatch or a line, by either name: one fabric, unless the project has a fabric of that name. */
static void a_fabric_has_more_than_one_name(void **state)
{
    static const char pieces[] = "piece,fabric,yarn,tool,stitches,rows\ncuff,Stocking stitch,main,4 mm,20,10\n";
    static const char swatches[] = "swatch,yarn,tool,fabric,stitches,rows,gauge\nplain,main,4 mm,stockinette,20,20,20 x 25\n";
    struct hk_project *p = folder_good(*state, (struct folder){.pieces = pieces, .swatches = swatches});
    assert_ptr_equal(p->lines[0].fabric, p->swatches[0].fabric);
    assert_ptr_equal(p->lines[0].width_gauge, &p->swatches[0]);
    hk_project_free(p);
    struct hk_diags diags = {0};
    p = folder_read(*state, (struct folder){.pieces = pieces, .fabrics = "fabric,row,make\nstocking stitch,1,*k 1*\n"}, &diags);
    assert_findings(&diags, "fabrics.csv:2:1: warning: \"stocking stitch\" is the name of a shipped fabric too, and means the one of "
                            "this file; give it another name, or take it out to have the shipped one\n");
    assert_ptr_equal(p->lines[0].fabric, &p->fabrics[0]);
    hk_project_free(p);
}

/* Single crochet (US) is double crochet (UK), double crochet treble, half double half treble: the trade body's list. */
static void shipped_fabrics_must_be_named_in_us_terms(void **state)
{
    static const char project[] = "field,value\nsizes,S\nterms,UK\n";
    struct hk_diags diags = {0};
    struct hk_project *p = folder_read(
        *state,
        (struct folder){.project = project, .grade = "", .swatches = "", .fabrics = "",
                        .pieces = "piece,fabric,yarn,tool,stitches,rows\na,single crochet,main,4 mm,20,10\n"
                                  "b,double crochet,main,4 mm,20,10\nc,double crochet,main,4 mm,20,10\n"
                                  "d,half double crochet,main,4 mm,20,10\ne,stockinette,main,4 mm,20,10\n"},
        &diags);
    assert_findings(
        &diags,
        "pieces.csv:3:3: warning: \"double crochet\" is taken in US terms, as shipped fabrics are named: treble "
        "crochet in UK terms; for double crochet in UK terms write \"single crochet\"\n");
    hk_project_free(p);
    assert_folder_bad(*state,
                      ((struct folder){.project = project, .grade = "", .swatches = "", .fabrics = "",
                                       .pieces = "piece,fabric,yarn,tool,stitches,rows\n"
                                                 "a,half treble crochet,main,4 mm,20,10\n"}),
                      "pieces.csv:2:3: error: there is no fabric \"half treble crochet\"; shipped fabrics are named in US "
                      "terms: write \"half double crochet\"\n");
}

static void an_unknown_fabric_offers_the_nearest_and_a_broken_one_is_reported_once(void **state)
{
    assert_folder_bad(*state,
                      ((struct folder){.fabrics = "fabric,row,make\npairs,1,*sc 2*\nbroken,2,*sc*\n",
                                       .pieces = "piece,fabric,yarn,tool,stitches,rows\n"
                                                 "a,singel crochet,main,4 mm,20,10\n"
                                                 "b,broken,main,4 mm,20,10\n"
                                                 "c,Pair,main,4 mm,20,10\n"
                                                 "d,zzzzzzzzzz,main,4 mm,20,10\n"}),
                      "fabrics.csv:3:8: error: broken has a row 2 and no row 1; number the rows without gaps\n"
                      "pieces.csv:2:3: error: there is no fabric \"singel crochet\"; did you mean \"single crochet\"?\n"
                      "pieces.csv:4:3: error: there is no fabric \"Pair\"; did you mean \"pairs\"?\n"
                      "pieces.csv:5:3: error: there is no fabric \"zzzzzzzzzz\"; write its rows into fabrics.csv, or name "
                      "one that \"hankful tables fabrics\" lists\n");
}

/* ---- swatches.csv -------------------------------------------------------------------------------------------- */

static void a_swatch_has_the_defaults_of_the_design(void **state)
{
    struct hk_project *p = folder_good(*state, (struct folder){0});
    const struct hk_swatch *s = &p->swatches[0];
    assert_int_equal(s->start, HK_START_CHAIN);
    assert_int_equal(s->stitches, 20);
    assert_int_equal(s->rows, 20);
    assert_int_equal(s->ends, 2);
    assert_close(s->mass_g, 9, 0, 0);
    assert_close(s->scale.step_g, 1, 0, 0);
    assert_close(s->tape_step_m, 0.001, 0, 0);
    assert_close(s->unravelled_m, 0, 0, 0);
    assert_close(s->minutes, 0, 0, 0);
    assert_close(s->gauge_stitches, 20, 1e-15, 0);
    assert_close(s->gauge_rows, 25, 1e-15, 0);
    hk_project_free(p);
}

/* 24 stitches over 16 cm are 15 in 10 cm, 18 rows over 12 cm are 15. */
static void gauge_comes_from_what_was_counted_and_measured(void **state)
{
    struct hk_project *p = folder_good(
        *state, (struct folder){.swatches = "swatch,yarn,tool,fabric,stitches,rows,width,height,ends,start\n"
                                            "a,Quay DK,4 mm,single crochet,24,18,16 cm,12 cm,0,\n"
                                            "b,lace,H-8,pairs,24,18,16 cm,,3,edge\n"});
    assert_close(p->swatches[0].gauge_stitches, 15, 1e-14, 0);
    assert_close(p->swatches[0].gauge_rows, 15, 1e-14, 0);
    assert_int_equal(p->swatches[0].ends, 0);
    const struct hk_strand *strand = &p->combinations[p->swatches[0].yarn.stripes[0].combination].strands[0];
    assert_int_equal(strand->role, SIZE_MAX); /* the cell names a yarn */
    assert_int_equal(strand->yarn, 0);
    assert_close(p->swatches[1].gauge_rows, 0, 0, 0);
    assert_close(p->swatches[1].tool_mm, 5, 0, 0);
    assert_int_equal(p->swatches[1].start, HK_START_EDGE);
    hk_project_free(p);
}

static void assert_gauge(const struct hk_catalogue *catalogue, const char *cell, double stitches, double rows)
{
    char swatches[256];
    snprintf(swatches, sizeof swatches,
             "swatch,yarn,tool,fabric,stitches,rows,gauge\na,main,4 mm,single crochet,20,20,\"%s\"\n", cell);
    struct hk_project *p = folder_good(catalogue, (struct folder){.swatches = swatches});
    assert_close(p->swatches[0].gauge_stitches, stitches, 1e-14, 0);
    assert_close(p->swatches[0].gauge_rows, rows, 1e-14, 0);
    hk_project_free(p);
}

static void gauge_is_understood_as_it_is_written(void **state)
{
    assert_gauge(*state, "18 x 9", 18, 9);
    assert_gauge(*state, "18 \xC3\x97 9 rows", 18, 9);
    assert_gauge(*state, "18 sts x 24 rows = 10 cm", 18, 24);
    assert_gauge(*state, "18,5x24,5", 18.5, 24.5);
    assert_gauge(*state, "18 1/2 stitches by 24 rounds", 18.5, 24);
    /* 4 in are 10.16 cm */
    assert_gauge(*state, "20 x 24 in 4 in", 20 / 1.016, 24 / 1.016);
    assert_gauge(*state, "10 x 12 over 5 cm", 20, 24);
}

static void mistakes_in_swatches_are_reported_in_one_run(void **state)
{
    assert_folder_bad(
        *state,
        ((struct folder){.swatches = "swatch,yarn,tool,fabric,stitches,rows,start,gauge,weight,scale_step\n"
                                     "a,main,4 mm,pairs,,10,,18,9 g,\n"
                                     "A,Quay D,4 mm,pairs,20,0,ring,0 x 9,0 g,\n"
                                     "b,main,0 mm,pairs,20,10,continue,,9 g,0 g\n"
                                     ",main,4 mm,pairs,20,10,,,,\n"}),
        "swatches.csv:2:19: error: the swatch \"a\" does not say its stitches; write how many its first row leaves\n"
        "swatches.csv:2:24: error: \"18\" is not a gauge; write stitches x rows in 10 cm, such as 18 x 24\n"
        "swatches.csv:3:1: error: the swatch \"A\" is already in line 2; give each swatch a name of its own\n"
        "swatches.csv:3:3: error: there is no role or yarn \"Quay D\" in yarns.csv; did you mean \"Quay DK\"?\n"
        "swatches.csv:3:24: error: 0 is not possible here; write a plain number above zero\n"
        "swatches.csv:3:31: error: a gauge of 0 stitches and 9 rows in 10 cm; write stitches x rows in 10 cm, such as "
        "18 x 24\n"
        "swatches.csv:3:37: error: 0 g is not possible here; write a mass above zero\n"
        "swatches.csv:4:8: error: 0 mm is not possible here; write a length above zero\n"
        "swatches.csv:4:25: error: a swatch has nothing to continue on; write chain, edge or ring\n"
        "swatches.csv:4:39: error: 0 g is not possible here; write a mass above zero\n"
        "swatches.csv:5:1: error: the cell \"swatch\" is empty; every row of swatches.csv needs one\n");
}

/* "18 x 24" and "18-09" that a spreadsheet converted to dates. */
static void a_gauge_that_became_a_date_is_distinguished(void **state)
{
    assert_folder_bad(
        *state,
        ((struct folder){.swatches = "swatch,yarn,tool,fabric,stitches,rows,gauge\n"
                                     "a,main,4 mm,pairs,20,10,2026-11-15\n"
                                     "b,main,4 mm,pairs,20,10,09.Aug\n"
                                     "c,main,4 mm,pairs,20,10,18. Sep\n"}),
        "swatches.csv:2:25: error: 2026-11-15 is a date that a spreadsheet made of what was typed; format the column as "
        "text and type it again\n"
        "swatches.csv:3:25: error: 09.Aug is a date that a spreadsheet made of what was typed; format the column as text "
        "and type it again\n"
        "swatches.csv:4:25: error: 18. Sep is a date that a spreadsheet made of what was typed; format the column as text "
        "and type it again\n");
}

/* ---- pieces.csv ---------------------------------------------------------------------------------------------- */

static void lines_have_the_defaults_of_the_design(void **state)
{
    struct hk_project *p = folder_good(*state, (struct folder){.pieces = "piece,part,fabric,yarn,tool,stitches,rows\n"
                                                                         "back,rib,pairs,main,4 mm,20,4\n"
                                                                         "sleeve,,pairs,main,4 mm,20,4\n"
                                                                         "back,body,single crochet,main,4 mm,,20\n"});
    assert_int_equal(p->line_count, 3);
    assert_true(p->lines[0].first);
    assert_int_equal(p->lines[0].start, HK_START_CHAIN);
    assert_false(p->lines[0].times.given);
    assert_false(p->lines[0].ends.given);
    assert_false(p->lines[0].carry);
    assert_string_equal(p->lines[1].part, "");
    assert_int_equal(p->lines[1].start, HK_START_CHAIN);
    assert_false(p->lines[2].first);
    assert_int_equal(p->lines[2].before, 0); /* the previous line of the same piece */
    assert_int_equal(p->lines[2].start, HK_START_CONTINUE);
    hk_project_free(p);
}

static void every_start_has_its_word(void **state)
{
    struct hk_project *p =
        folder_good(*state, (struct folder){.pieces = "piece,fabric,yarn,tool,stitches,rows,start,carry\n"
                                                      "a,pairs,main,4 mm,20,4,Cast on,yes\n"
                                                      "a,pairs,main,4 mm,20,4,edge,no\n"
                                                      "a,pairs,main,4 mm,20,4,continue,\n"
                                                      "a,pairs,main,4 mm,20,4,ring,\n"
                                                      "a,pairs,main,4 mm,20,4,chain,\n"});
    enum hk_start starts[] = {HK_START_CHAIN, HK_START_EDGE, HK_START_CONTINUE, HK_START_RING, HK_START_CHAIN};
    for (size_t i = 0; i < 5; i++)
        assert_int_equal(p->lines[i].start, starts[i]);
    assert_true(p->lines[0].carry);
    assert_false(p->lines[1].carry);
    hk_project_free(p);
}

/* The valid folder has three sizes and no grade.csv. */
static void a_wrong_number_of_values_names_the_sizes_without_grade_csv(void **state)
{
    assert_folder_bad(*state,
                      ((struct folder){.pieces = "piece,fabric,yarn,tool,stitches,rows\n"
                                                 "strip,single crochet,main,4 mm,\"20 (24)\",10\n"}),
                      "pieces.csv:2:33: error: 2 values for 3 sizes (S, M, L); write one value for all sizes, or one for "
                      "each with 0 or - where a size does without\n");
}

static void grade_csv_says_the_same_as_graded_cells(void **state)
{
    struct hk_project *sheet =
        folder_good(*state, (struct folder){.pieces = "piece,fabric,yarn,tool,stitches,rows\n"
                                                      "strip,single crochet,main,4 mm,width,length\n"});
    struct hk_project *cells = folder_good(
        *state, (struct folder){.grade = "",
                                .pieces = "piece,fabric,yarn,tool,stitches,rows\n"
                                          "strip,single crochet,main,4 mm,\"20 (24, 28)\",\"10 (12, 14) cm\"\n"});
    for (size_t i = 0; i < 3; i++) {
        assert_int_equal(sheet->lines[0].stitches.by_size[i].count, 20 + 4 * (int64_t)i);
        assert_int_equal(cells->lines[0].stitches.by_size[i].count, 20 + 4 * (int64_t)i);
        assert_close(sheet->lines[0].rows.by_size[i].length_m, 0.10 + 0.02 * (double)i, 1e-14, 0);
        assert_close(cells->lines[0].rows.by_size[i].length_m, 0.10 + 0.02 * (double)i, 1e-14, 0);
    }
    assert_true(sheet->grade.measures[1].print);
    hk_project_free(sheet);
    hk_project_free(cells);
}

static void mistakes_in_pieces_are_reported_in_one_run(void **state)
{
    assert_folder_bad(
        *state,
        ((struct folder){.pieces = "piece,fabric,yarn,tool,stitches,rows,start,times,end_stitches,carry\n"
                                   "a,pairs,main,4 mm,\"20 (24)\",4,,,,\n"
                                   "a,pairs,main,,20,,,,,\n"
                                   "b,pairs,main,4 mm,20,4,continue,,,\n"
                                   "c,pairs,main,4 mm,,4,,,,\n"
                                   "d,pairs,main,4 mm,,4,edge,2 cm,,perhaps\n"
                                   "e,pairs,main,4 mm,20,4,side,,0,\n"}),
        "pieces.csv:2:20: error: 2 values for 3 sizes (S, M, L); write one value for all sizes, or one for each with 0 "
        "or - where a size does without\n"
        "pieces.csv:3:14: error: the cell \"tool\" is empty; every row of pieces.csv needs one\n"
        "pieces.csv:3:18: error: the cell \"rows\" is empty; every row of pieces.csv needs one, but where end_stitches and every "
        "say it\n"
        "pieces.csv:4:24: error: the first line of \"b\" has no line before to continue on; write chain, edge or ring, "
        "or leave the cell empty\n"
        "pieces.csv:5:19: error: \"c\" does not say its stitches; write how many its first row leaves\n"
        "pieces.csv:6:19: error: \"d\" does not say its stitches; write how many stitches of the edge it stands on\n"
        "pieces.csv:6:29: error: 2 cm has a unit, and a count is needed here; write a whole number without a unit\n"
        "pieces.csv:6:33: error: \"perhaps\" is not a choice here; write no or yes\n"
        "pieces.csv:7:24: error: \"side\" is not a choice here; write chain, edge, ring, continue or cast on\n"
        "pieces.csv:7:30: error: a taper down to 0 stitches; write 1 for a point, or - for a size that has no taper\n");
}

static void assert_named(const struct hk_catalogue *catalogue, const char *piece, const char *times, int64_t said)
{
    struct hk_diags diags = {0};
    struct hk_arena arena = {0};
    struct folder folder = {.pieces = hk_arena_print(&arena,
                                                     "piece,fabric,yarn,tool,stitches,rows,times\n"
                                                     "\"%s\",pairs,main,4 mm,20,4,%s\n", piece, times)};
    struct hk_project *project = folder_read(catalogue, folder, &diags);
    assert_non_null(project);
    assert_findings(&diags, said == 0 ? ""
                                      : hk_arena_print(&arena,
                                                       "pieces.csv:2:2: warning: \"%s\" is worked once: a number in its name "
                                                       "counts for nothing; write %d in the column times, or 1 if once is right\n",
                                                       piece, (int)said));
    hk_project_free(project);
    hk_arena_free(&arena);
}

/* Two sleeves would get the yarn for one. */
static void a_number_of_times_in_a_name_is_warned_about(void **state)
{
    static const char *const two[] = {"sleeves x2", "sleeves X 2", "sleeve (2)", "sleeve (x2)", "cuffs (make 2)",
                                      "cuffs, make 2", "2x strap", "2 x strap", "1x1 rib x 2"};
    static const char *const none[] = {"sleeve 2", "x2", "part two", "rib 2 x 2", "4 x 4 rib", "size x 123", "front (1)", "(2", "a ("};
    for (size_t i = 0; i < sizeof two / sizeof two[0]; i++)
        assert_named(*state, two[i], "", 2);
    for (size_t i = 0; i < sizeof none / sizeof none[0]; i++)
        assert_named(*state, none[i], "", 0);
    assert_named(*state, "12 x strap", "", 12);
    assert_named(*state, "sleeves x2", "2", 0);
    assert_named(*state, "sleeves x2", "1", 0);
}

static void a_line_worked_less_often_than_the_one_it_continues_on_is_warned_about(void **state)
{
    struct hk_diags diags = {0};
    struct folder folder = {.pieces = "piece,part,fabric,yarn,tool,stitches,rows,times,start\n"
                                      "sleeves,upper,pairs,main,4 mm,20,4,\"0 (1, 2)\",\n"
                                      "sleeves,lower,pairs,main,4 mm,,4,,\n"
                                      "sleeves,cuff,pairs,main,4 mm,,4,,\n"
                                      "straps,,pairs,main,4 mm,20,4,2,\n"
                                      "straps,,pairs,main,4 mm,,4,,\n"
                                      "straps,,pairs,main,4 mm,20,4,,edge\n"
                                      "bands,upper,pairs,main,4 mm,20,4,2,\n"
                                      "bands,lower,pairs,main,4 mm,,4,1,\n"};
    struct hk_project *project = folder_read(*state, folder, &diags);
    assert_non_null(project);
    assert_findings(&diags, "pieces.csv:3:34: warning: part \"lower\" is worked once, and the line that it continues on 2 times; "
                            "write 2 in the column times, or 1 if once is right\n"
                            "pieces.csv:6:28: warning: \"straps\" is worked once, and the line that it continues on 2 times; "
                            "write 2 in the column times, or 1 if once is right\n");
    hk_project_free(project);
}

static void an_unknown_measure_offers_the_nearest(void **state)
{
    assert_folder_bad(
        *state,
        ((struct folder){.pieces = "piece,fabric,yarn,tool,stitches,rows\n"
                                   "f,pairs,main,4 mm,widht,lenght\n"}),
        "pieces.csv:2:19: error: \"widht\" is neither a number nor a name in grade.csv; did you mean \"width\"?\n"
        "pieces.csv:2:25: error: \"lenght\" is neither a number nor a name in grade.csv; did you mean \"length\"?\n");
}

/* ---- Files --------------------------------------------------------------------------------------------------- */

static void files_that_must_be_there_are_missed_and_nothing_follows(void **state)
{
    assert_folder_bad(*state, ((struct folder){.project = ""}),
                      "project.csv:0:0: error: the file is missing; add it, with the columns field, value\n");
    assert_folder_bad(
        *state, ((struct folder){.yarns = ""}),
        "yarns.csv:0:0: error: the file is missing; add it, with the columns role, yarn, put_up, length\n");
    assert_folder_bad(*state, ((struct folder){.pieces = ""}),
                      "pieces.csv:0:0: error: the file is missing; add it, with the columns piece, fabric, yarn, tool, "
                      "stitches, rows\n");
    assert_folder_bad(*state, ((struct folder){.project = "", .yarns = "", .pieces = ""}),
                      "project.csv:0:0: error: the file is missing; add it, with the columns field, value\n"
                      "yarns.csv:0:0: error: the file is missing; add it, with the columns role, yarn, put_up, length\n"
                      "pieces.csv:0:0: error: the file is missing; add it, with the columns piece, fabric, yarn, tool, "
                      "stitches, rows\n");
}

static void files_with_a_header_only(void **state)
{
    assert_folder_bad(*state,
                      ((struct folder){.project = "field,value\n",
                                       .grade = "",
                                       .yarns = "role,yarn,put_up,length\n",
                                       .swatches = "swatch,yarn,tool,fabric,stitches,rows\n",
                                       .pieces = "piece,fabric,yarn,tool,stitches,rows\n"}),
                      "project.csv:0:0: error: there is a header and no row below it; add at least one row\n"
                      "yarns.csv:0:0: error: there is a header and no row below it; add at least one row\n"
                      "pieces.csv:0:0: error: there is a header and no row below it; add at least one row\n");
}

static void more_rows_than_any_design_has_are_refused(void **state)
{
    static const char row[] = "strip 0000,single crochet,main,4 mm,20,10\n";
    char *pieces = calloc(1, 64 + 2001 * sizeof row), *end = pieces;
    end += sprintf(end, "piece,fabric,yarn,tool,stitches,rows\n");
    for (int i = 0; i < 2001; i++)
        end += sprintf(end, "strip %04d%s", i, row + strlen("strip 0000"));
    assert_folder_bad(*state, ((struct folder){.pieces = pieces}),
                      "pieces.csv:0:0: error: 2001 rows, and at most 2000 are read\n");
    end[-(int)(sizeof row - 1)] = '\0'; /* one row fewer */
    struct hk_project *p = folder_good(*state, (struct folder){.pieces = pieces});
    assert_int_equal(p->line_count, 2000);
    hk_project_free(p);
    free(pieces);
}

static void files_that_are_not_needed_may_be_absent(void **state)
{
    struct hk_project *p = folder_good(*state, (struct folder){.grade = "",
                                                               .fabrics = "",
                                                               .swatches = "",
                                                               .pieces = "piece,fabric,yarn,tool,stitches,rows\n"
                                                                         "strip,single crochet,main,4 mm,20,10\n"});
    assert_int_equal(p->swatch_count, 0);
    assert_int_equal(p->fabric_count, 0);
    assert_int_equal(p->grade.count, 0);
    hk_project_free(p);
}

static void a_file_that_cannot_be_read_brings_no_further_findings(void **state)
{
    /* yarns.csv lacks a column: roles of pieces and swatches are not looked up; other mistakes are reported anyway */
    assert_folder_bad(
        *state,
        ((struct folder){.yarns = "role,yarn,put_up\nmain,Quay DK,50 g\n",
                         .pieces = "piece,fabric,yarn,tool,stitches,rows\n"
                                   "strip,single crochet,main,4 mm,width,10\n"
                                   "strap,singel crochet,main,4 mm,width,10\n"}),
        "yarns.csv:1:1: error: the column \"length\" is missing; add it to this row, and a cell for it to each row "
        "below\n"
        "pieces.csv:3:7: error: there is no fabric \"singel crochet\"; did you mean \"single crochet\"?\n");
    /* grade.csv lacks a size: its names are not looked up */
    assert_folder_bad(*state, ((struct folder){.grade = "name,unit,S,M\nwidth,,20,24\n"}),
                      "grade.csv:0:0: error: there is no column \"L\"; add a column for each size of project.csv\n");
}

static void a_folder_of_semicolons_and_decimal_commas_is_the_same_project(void **state)
{
    struct hk_project *plain = folder_good(*state, (struct folder){0});
    struct hk_project *twin = folder_good(
        *state, (struct folder){.project = "\xEF\xBB\xBF"
                                           "field;value\r\ntitle;Sampler\r\nsizes;S (M, L)\r\ncurrency;EUR\r\n",
                                .grade = "name;unit;S;M;L;print\r\nwidth;;20;24;28;\r\nlength;cm;10;12;14;yes\r\n",
                                .yarns = "role;yarn;put_up;length;colour;price\r\n"
                                         "main;Quay DK;50 g;120,0 m;Slate;6,40\r\n"
                                         "lace;Quay Lace;25 g;210 m;Slate;7,00\r\n",
                                .fabrics = "fabric;row;make\r\npairs;1;tch 1, *sc 2*\r\npairs;2;tch 1, *sc*\r\n",
                                .swatches = "\xEF\xBB\xBF"
                                            "swatch;yarn;tool;fabric;stitches;rows;gauge;weight;;\r\n"
                                            "plain;main;4,0 mm;single crochet;20;20;20,0 x 25,0;9,0 g;;\r\n",
                                .pieces = "piece;fabric;yarn;tool;stitches;rows\r\n"
                                          "# a note\r\n"
                                          "strip;single crochet;main;4,0 mm;width;10\r\n"});
    assert_string_equal(plain->title, twin->title);
    assert_int_equal(plain->size_count, twin->size_count);
    assert_int_equal(plain->candidates[0].price_minor, twin->candidates[0].price_minor);
    assert_int_equal(plain->candidates[1].price_minor, twin->candidates[1].price_minor);
    assert_close(plain->yarns[0].tex, twin->yarns[0].tex, 0, 0);
    assert_close(plain->swatches[0].gauge_rows, twin->swatches[0].gauge_rows, 0, 0);
    assert_close(plain->swatches[0].mass_g, twin->swatches[0].mass_g, 0, 0);
    assert_close(plain->lines[0].tool_mm, twin->lines[0].tool_mm, 0, 0);
    for (size_t i = 0; i < 3; i++)
        assert_int_equal(plain->lines[0].stitches.by_size[i].count, twin->lines[0].stitches.by_size[i].count);
    hk_project_free(plain);
    hk_project_free(twin);
}

/* ---- Probable slips ------------------------------------------------------------------------------------------ */

static void a_row_that_stands_twice_is_warned_about(void **state)
{
    struct hk_diags diags = {0};
    hk_project_free(folder_read(
        *state,
        (struct folder){.pieces = "piece,part,fabric,yarn,tool,stitches,rows\na,,single crochet,main,4 mm,20,10\n"
                                  "a,,single crochet,main,4 mm,20,11\n A ,,single  crochet,MAIN,4 mm,20,10\n",
                        .other_name = "costs.csv",
                        .other_text = "kind,item,amount,quantity\nmaterial,button,0.40,5\nmaterial,Button,0.40,5\nmaterial,button,0.40,6\n"},
        &diags));
    assert_findings(&diags,
                    "pieces.csv:4:2: warning: this row is the same as the one in line 2, and both count; take one of them out, or, if "
                    "both are meant, write 2 in the column times of one\n"
                    "costs.csv:3:1: warning: this row is the same as the one in line 2, and both count; take one of them out, or, if both "
                    "are meant, write 2 in the column quantity of one\n");
}

static void a_role_that_no_part_uses_is_warned_about(void **state)
{
    struct hk_diags diags = {0};
    hk_project_free(folder_read(*state, (struct folder){.roles_matter = true}, &diags));
    assert_findings(&diags, "yarns.csv:3:1: warning: no part is worked in \"lace\"; name it in pieces.csv, or take its rows out of this file\n");
    hk_project_free(folder_read(*state, (struct folder){.roles_matter = true, .pieces = "piece,fabric,yarn,tool,stitches,rows\n"
                                                        "strip,single crochet,main + lace,4 mm,20,10\n"}, &diags));
    assert_findings(&diags, "");
    hk_project_free(folder_read(*state, (struct folder){.roles_matter = true, .pieces = "piece,fabric,yarn,tool,stitches,rows\n"
                                                        "strip,single crochet,\"main 2, lace 4\",4 mm,20,10\n"}, &diags));
    assert_findings(&diags, "");
}

static void a_chance_below_a_half_is_warned_about(void **state)
{
    struct hk_diags diags = {0};
    hk_project_free(folder_read(*state, (struct folder){.project = "field,value\nsizes,\"S (M, L)\"\nchance,5%\n"}, &diags));
    assert_findings(&diags, "project.csv:3:8: warning: with a chance of 5% the yarn is less than is likely to be used; it is the chance "
                            "that the yarn is enough: write one like 95%; if it is right, it may stay\n");
    hk_project_free(folder_good(*state, (struct folder){.project = "field,value\nsizes,\"S (M, L)\"\nchance,50%\n"}));
}

/* ---- learn_from ---------------------------------------------------------------------------------------------- */

static const char learning[] = "field,value\nsizes,\"S (M, L)\"\nlearn_from,..\\hat\\\n";

/* None of the folders exists, which is reported too. */
static void a_hundred_folders_are_the_most_to_learn_from(void **state)
{
    char project[4096] = "field,value\n";
    for (int i = 1; i <= 102; i++)
        snprintf(project + strlen(project), sizeof project - strlen(project), "learn_from,../f%d\n", i);
    struct hk_diags diags = {0};
    assert_null(folder_read(*state, (struct folder){.project = project}, &diags));
    hk_diags_sort(&diags);
    size_t beyond = 0;
    for (size_t i = 0; i < diags.count; i++) {
        if (strcmp(diags.findings[i].message, "more than 100 folders to learn from") != 0)
            continue;
        assert_int_equal(diags.findings[i].at.line, 102 + beyond++);
    }
    assert_int_equal(beyond, 2);
    hk_diags_free(&diags);
}

/* Its own learn_from is not followed, and its pieces are not read. */
static void swatches_of_other_folders_join(void **state)
{
    static const struct memory_file files[] = {
        {"project.csv", learning, 0},
        {"yarns.csv", "role,yarn,put_up,length\nmain,Quay DK,50 g,120 m\n", 0},
        {"pieces.csv", "piece,fabric,yarn,tool,stitches,rows\nstrip,single crochet,main,4 mm,20,10\n", 0},
        {"../hat/project.csv", "field,value\ntail,20 cm\nterms,UK\nlearn_from,../scarf\n", 0},
        {"../hat/yarns.csv", "role,yarn,put_up,length\nbrim,Quay DK,50 g,120 m\n", 0},
        {"../hat/fabrics.csv", "fabric,row,make\nplain,1,*dc*\n", 0},
        {"../hat/swatches.csv", "swatch,yarn,tool,fabric,stitches,rows,weight\nhat,brim,4 mm,plain,20,20,9 g\n", 0},
        {"../hat/pieces.csv", "what,is,this\n1,2,3\n", 0},
        {NULL, NULL, 0},
    };
    struct hk_diags diags = {0};
    struct hk_source source = memory_source(files);
    struct hk_project *p = hk_project_read(&source, *state, &diags);
    assert_findings(&diags, "");
    assert_int_equal(p->learned_count, 1);
    assert_int_equal(p->learned[0]->swatch_count, 1);
    assert_int_equal(p->learned[0]->line_count, 0);
    assert_int_equal(p->learned[0]->learned_count, 0);
    assert_int_equal(p->learned[0]->terms, HK_TERMS_UK);
    assert_close(p->learned[0]->tail_m, 0.2, 1e-15, 0);
    hk_project_free(p);
}

/* A folder in memory whose files have no device, and where every project.csv has this number: 0 for none. */
struct numbered {
    struct hk_source files;
    uint64_t number;
};

static enum hk_open numbered_open(void *host, const char *name, struct hk_file *file, const char **why)
{
    const struct numbered *numbered = host;
    enum hk_open answer = numbered->files.open(numbered->files.host, name, file, why);
    file->identity =
        (struct hk_identity){0, answer == HK_OPEN_DONE && strstr(name, "project.csv") ? numbered->number : 0};
    return answer;
}

/* One folder by two names, for a host that numbers its files; a host that does not cannot know. */
static void a_folder_by_another_name_is_known_by_the_number_of_its_file(void **state)
{
    static const struct memory_file files[] = {
        {"project.csv", learning, 0},
        {"yarns.csv", "role,yarn,put_up,length\nmain,Quay DK,50 g,120 m\n", 0},
        {"pieces.csv", "piece,fabric,yarn,tool,stitches,rows\nstrip,single crochet,main,4 mm,20,10\n", 0},
        {"../hat/project.csv", "field,value\nterms,US\n", 0},
        {"../hat/yarns.csv", "role,yarn,put_up,length\nbrim,Quay DK,50 g,120 m\n", 0},
        {"../hat/swatches.csv",
         "swatch,yarn,tool,fabric,stitches,rows,weight\nhat,brim,4 mm,single crochet,20,20,9 g\n", 0},
        {NULL, NULL, 0},
    };
    for (uint64_t number = 0; number < 2; number++) {
        struct hk_diags diags = {0};
        struct numbered host = {memory_source(files), number};
        struct hk_source source = {&host, numbered_open};
        struct hk_project *p = hk_project_read(&source, *state, &diags);
        assert_findings(
            &diags, number
                        ? "project.csv:3:12: warning: ../hat/project.csv is the same file as project.csv, and what was "
                          "weighed there counts once; take this row out\n"
                        : "");
        assert_int_equal(p->learned_count, number ? 0 : 1);
        hk_project_free(p);
    }
}

#define SWATCHES "swatch,yarn,tool,fabric,stitches,rows,gauge,weight,scale_step\n"
#define LEARNED_YARNS "role,yarn,put_up,length\ncrown,quay dk,50 g,120 m\n"

static void assert_learned(const struct hk_catalogue *catalogue, const char *hat, const char *scarf, size_t count, const char *expected)
{
    const struct memory_file files[] = {
        {"project.csv", "field,value\nsizes,S\nlearn_from,../hat\nlearn_from,../scarf\n", 0},
        {"yarns.csv", "role,yarn,put_up,length\nmain,Quay DK,50 g,120 m\n", 0},
        {"pieces.csv", "piece,fabric,yarn,tool,stitches,rows\nstrip,single crochet,main,4 mm,20,10\n", 0},
        {"swatches.csv", SWATCHES "plain,main,4 mm,single crochet,20,20,20 x 25,9 g,1 g\n", 0},
        {"../hat/project.csv", "field,value\nsizes,one\n", 0}, {"../hat/yarns.csv", LEARNED_YARNS, 0}, {"../hat/swatches.csv", hat, 0},
        {"../scarf/project.csv", "field,value\nsizes,one\n", 0}, {"../scarf/yarns.csv", LEARNED_YARNS, 0},
        {"../scarf/swatches.csv", scarf, 0}, {NULL, NULL, 0},
    };
    struct hk_source source = memory_source(files);
    struct hk_diags diags = {0};
    struct hk_project *project = hk_project_read(&source, catalogue, &diags);
    assert_findings(&diags, expected);
    assert_non_null(project);
    size_t found = project->swatch_count;
    for (size_t i = 0; i < project->learned_count; i++)
        found += project->learned[i]->swatch_count;
    assert_int_equal(found, count);
    hk_project_free(project);
}

/* A copied folder has the same weighings; a swatch that shares only the name is another one. */
static void one_weighing_of_two_folders_counts_once(void **state)
{
    static const char once[] = "; take it out of one of the two files; another swatch needs another name\n";
    static const char other[] = SWATCHES "rib,crown,4 mm,single crochet,20,20,20 x 25,9 g,1 g\n";
    char expected[1000];
    assert_learned(*state, other, SWATCHES "cable,crown,4 mm,single crochet,20,20,20 x 25,9 g,1 g\n", 3, "");
    snprintf(expected, sizeof expected, "../hat/swatches.csv:3:1: warning: swatch \"Plain\" is the one in swatches.csv:2, and counts once%s", once);
    assert_learned(*state, SWATCHES "rib,crown,4 mm,single crochet,20,20,20 x 25,9 g,1 g\nPlain,crown,4 mm,Single Crochet,20,20,,9.4 g,0.1 g\n",
                   SWATCHES "plain,crown,4 mm,single crochet,20,24,20 x 25,9 g,1 g\n", 3, expected);
    snprintf(expected, sizeof expected, "../scarf/swatches.csv:2:1: warning: swatch \"rib\" is the one in ../hat/swatches.csv:2, and counts once%s", once);
    assert_learned(*state, other, other, 2, expected);
    assert_learned(*state, SWATCHES "plain,crown,4 mm,single crochet,20,20,20 x 25,,\n", SWATCHES "plain,crown,4.5 mm,single crochet,20,20,20 x 25,9 g,1 g\n", 3, "");
}

static void two_weighings_of_one_swatch_that_differ_are_warned_about(void **state)
{
    assert_learned(*state, SWATCHES "plain,crown,4 mm,single crochet,20,20,20 x 25,14 g,1 g\n", SWATCHES "rib,crown,4 mm,single crochet,20,20,,9 g,1 g\n", 3,
                   "../hat/swatches.csv:2:47: warning: swatch \"plain\" was read otherwise in swatches.csv:2; both count, as two "
                   "swatches; if it is one, take out the wrong reading; if there are two, give each a name of its own\n");
}

/* The later copy of a weighing that two folders distinguish is compared with its equal. */
static void of_three_folders_the_nearest_weighing_is_the_same(void **state)
{
    assert_learned(*state, SWATCHES "plain,crown,4 mm,single crochet,20,20,,14 g,1 g\n", SWATCHES "plain,crown,4 mm,single crochet,20,20,,14 g,1 g\n", 2,
                   "../hat/swatches.csv:2:40: warning: swatch \"plain\" was read otherwise in swatches.csv:2; both count, as two "
                   "swatches; if it is one, take out the wrong reading; if there are two, give each a name of its own\n"
                   "../scarf/swatches.csv:2:1: warning: swatch \"plain\" is the one in ../hat/swatches.csv:2, and counts once; take it out of "
                   "one of the two files; another swatch needs another name\n");
}

/* Balls are the same weighing if their yarn, number, mass and scale are the same. */
static void assert_ball_learned(const struct hk_catalogue *catalogue, const char *weighs, const char *step, bool once)
{
    char text[200];
    snprintf(text, sizeof text, "role,yarn,put_up,length,ball_weighs,scale_step\ncrown,quay dk,50 g,120 m,%s,%s\n",
             weighs, step);
    const struct memory_file files[] = {
        {"project.csv", "field,value\nsizes,S\nlearn_from,../hat\nlearn_from,../scarf\n", 0},
        {"yarns.csv", "role,yarn,put_up,length,ball_weighs,scale_step\nmain,Quay DK,50 g,120 m,3 balls 148 g,1 g\n", 0},
        {"pieces.csv", "piece,fabric,yarn,tool,stitches,rows\nstrip,single crochet,main,4 mm,20,10\n", 0},
        {"../hat/project.csv", "field,value\nsizes,one\n", 0},
        {"../hat/yarns.csv", text, 0},
        {"../hat/swatches.csv", SWATCHES "a,crown,4 mm,single crochet,20,20,,9 g,1 g\n", 0},
        {"../scarf/project.csv", "field,value\nsizes,one\n", 0},
        {"../scarf/yarns.csv", text, 0},
        {"../scarf/swatches.csv", SWATCHES "b,crown,4 mm,single crochet,22,20,,9 g,1 g\n", 0},
        {NULL, NULL, 0},
    };
    struct hk_source source = memory_source(files);
    struct hk_diags diags = {0};
    struct hk_project *project = hk_project_read(&source, catalogue, &diags);
    assert_non_null(project);
    assert_findings(&diags, once ? "../hat/yarns.csv:2:26: warning: what a ball of quay dk weighs is the weighing in "
                                   "yarns.csv:2, and counts once; "
                                   "take it out of one of the two files\n"
                                   "../scarf/yarns.csv:2:26: warning: what a ball of quay dk weighs is the weighing in "
                                   "yarns.csv:2, and counts once; "
                                   "take it out of one of the two files\n"
                                 : "../scarf/yarns.csv:2:26: warning: what a ball of quay dk weighs is the weighing in "
                                   "../hat/yarns.csv:2, and counts "
                                   "once; take it out of one of the two files\n");
    assert_true((project->learned[0]->yarns[0].ball_g > 0) == !once);
    assert_true(project->learned[1]->yarns[0].ball_g == 0);
    assert_true(project->yarns[0].ball_g == 148);
    hk_project_free(project);
}

static void one_weighing_of_balls_in_two_folders_counts_once(void **state)
{
    assert_ball_learned(*state, "3 balls 148 g", "1 g", true);
    assert_ball_learned(*state, "3 balls 149 g", "1 g", false);
    assert_ball_learned(*state, "4 balls 148 g", "1 g", false);
    assert_ball_learned(*state, "3 balls 148 g", "2 g", false);
}

#define READ "swatch,yarn,tool,fabric,stitches,rows,start,ends,weight,unravelled,minutes\n"

/* One swatch of the project and one of a folder with the same two yarns. */
static void assert_again(const struct hk_catalogue *catalogue, const char *own, const char *learned, const char *expected)
{
    char texts[2][300];
    snprintf(texts[0], sizeof texts[0], READ "plain,%s\n", own);
    snprintf(texts[1], sizeof texts[1], READ "plain,%s\n", learned);
    const struct memory_file files[] = {
        {"project.csv", "field,value\nsizes,S\nlearn_from,../hat\n", 0},
        {"yarns.csv", "role,yarn,put_up,length\nmain,Quay DK,50 g,120 m\ntrim,Quay Lace,25 g,210 m\n", 0},
        {"pieces.csv", "piece,fabric,yarn,tool,stitches,rows\nstrip,single crochet,\"main 2, trim 2\",4 mm,20,10\n", 0},
        {"swatches.csv", *own ? texts[0] : READ, 0},
        {"../hat/project.csv", "field,value\nsizes,one\n", 0},
        {"../hat/yarns.csv", "role,yarn,put_up,length\nbrim,Quay Lace,25 g,210 m\ncrown,Quay DK,50 g,120 m\n", 0},
        {"../hat/swatches.csv", *learned ? texts[1] : READ, 0}, {NULL, NULL, 0},
    };
    struct hk_source source = memory_source(files);
    struct hk_diags diags = {0};
    struct hk_project *project = hk_project_read(&source, catalogue, &diags);
    bool once = strstr(expected, "counts once");
    if (!strstr(expected, "error")) {
        assert_non_null(project);
        assert_int_equal(project->swatch_count, *own != '\0');
        assert_int_equal(project->learned[0]->swatch_count, *learned && !once);
    }
    assert_findings(&diags, expected);
    hk_project_free(project);
}

#define ONCE                                                                                                           \
    "../hat/swatches.csv:2:1: warning: swatch \"plain\" is the one in swatches.csv:2, and counts once; take it out of one of the two "  \
    "files; another swatch needs another name\n"
#define OTHERWISE                                                                                                      \
    "warning: swatch \"plain\" was read otherwise in swatches.csv:2; both count, as two swatches; if it is one, take out the wrong "   \
    "reading; if there are two, give each a name of its own\n"

/* Any difference in the work makes it another swatch, without a message. */
static void a_swatch_worked_otherwise_is_another(void **state)
{
    static const char own[] = "main,4 mm,single crochet,20,20,,2,9 g,,";
    static const char *const others[] = {
        "crown,4 mm,single crochet,22,20,,2,9 g,,",      "crown,4 mm,single crochet,20,22,,2,9 g,,",
        "crown,4 mm,single crochet,20,20,edge,2,9 g,,",  "crown,4 mm,single crochet,20,20,,3,9 g,,",
        "crown,4 mm,double crochet,20,20,,2,9 g,,",      "crown x2,4 mm,single crochet,20,20,,2,9 g,,",
        "brim,4 mm,single crochet,20,20,,2,9 g,,",       "crown + brim,4 mm,single crochet,20,20,,2,9 g,,",
        "\"crown 2, brim 2\",4 mm,single crochet,20,20,,2,9 g,,",
    };
    for (size_t i = 0; i < sizeof others / sizeof others[0]; i++)
        assert_again(*state, own, others[i], "");
    assert_again(*state, own, "crown,4 mm,single crochet,20,20,,2,9 g,,", ONCE);
    static const char striped[] = "\"main 2, trim 4\",4 mm,single crochet,20,20,,2,9 g,,";
    assert_again(*state, striped, "\"crown 2, brim 4\",4 mm,single crochet,20,20,,2,9 g,,", ONCE);
    assert_again(*state, striped, "\"crown 2, brim 2\",4 mm,single crochet,20,20,,2,9 g,,", "");
    assert_again(*state, striped, "\"crown 2, crown x2 4\",4 mm,single crochet,20,20,,2,9 g,,", "");
    assert_again(*state, "", "", "../hat/swatches.csv:0:0: error: there is a header and no row below it; add at least one row\n");
}

/* A length and a time are readings like a weight; one minute is within the steps of a clock. */
static void a_swatch_is_known_again_by_any_reading(void **state)
{
#define WORKED ",4 mm,single crochet,20,20,,2,"
    assert_again(*state, "main" WORKED ",21 m,", "crown" WORKED ",21 m,", ONCE);
    assert_again(*state, "main" WORKED ",21 m,", "crown" WORKED ",22 m,", "../hat/swatches.csv:2:1: " OTHERWISE);
    assert_again(*state, "main" WORKED "9 g,21 m,", "crown" WORKED "9 g,22 m,", "../hat/swatches.csv:2:1: " OTHERWISE);
    assert_again(*state, "main" WORKED ",,20", "crown" WORKED ",,21", ONCE);
    assert_again(*state, "main" WORKED ",,20", "crown" WORKED ",,25", "../hat/swatches.csv:2:1: " OTHERWISE);
    assert_again(*state, "main" WORKED "9 g,,", "crown" WORKED ",21 m,", "");
#undef WORKED
}

/* A swatch with an unknown fabric is never the same as another. */
static void a_swatch_of_an_unknown_fabric_is_reported_once(void **state)
{
    static const char good[] = "4 mm,single crochet,20,20,,2,9 g,,", bad[] = "4 mm,moonlight,20,20,,2,9 g,,";
    for (int learned = 0; learned < 2; learned++) {
        char own[100], other[100], expected[300];
        snprintf(own, sizeof own, "main,%s", learned ? good : bad);
        snprintf(other, sizeof other, "crown,%s", learned ? bad : good);
        snprintf(expected, sizeof expected,
                 "%sswatches.csv:2:%d: error: there is no fabric \"moonlight\"; write its rows into fabrics.csv, or name one that "
                 "\"hankful tables fabrics\" lists\n",
                 learned ? "../hat/" : "", learned ? 18 : 17);
        assert_again(*state, own, other, expected);
    }
}

/* A duplicate name in one folder is an error of that folder, and has no other message. */
static void a_name_twice_in_a_folder_is_reported_once(void **state)
{
    static const char good[] = "main,4 mm,single crochet,20,20,,2,9 g,,";
    assert_again(*state, good,
                 "crown,4 mm,single crochet,20,20,,3,9 g,,\nplain,crown,4 mm,single crochet,20,20,,3,9 g,,",
                 "../hat/swatches.csv:3:1: error: the swatch \"plain\" is already in line 2; give each swatch a name "
                 "of its own\n");
}

static void mistakes_in_a_folder_to_learn_from_carry_its_name(void **state)
{
    assert_folder_bad(
        *state,
        ((struct folder){.project = "field,value\nsizes,\"S (M, L)\"\nlearn_from,../hat\nlearn_from,./..//hat/\n"
                                    "learn_from,.\n",
                         .other_name = "../hat/project.csv",
                         .other_text = "field,value\nterms,EN\n",
                         .other2_name = "../hat/yarns.csv",
                         .other2_text = "role,yarn,put_up,length\nbrim,Quay DK,50 g,0 m\n"}),
        "project.csv:4:12: error: \"./..//hat/\" is named twice, and its swatches count once; take this row out\n"
        "project.csv:5:12: error: \".\" is this folder itself; name the folder of another project, such as ../hat\n"
        "../hat/project.csv:2:7: error: \"EN\" is not a choice here; write US or UK\n"
        "../hat/swatches.csv:0:0: error: the file is missing; add it, with the columns swatch, yarn, tool, fabric, "
        "stitches, rows\n"
        "../hat/yarns.csv:2:19: error: 0 m is not possible here; write a length above zero\n");
}

/* ---- Arbitrary file contents ---------------------------------------------------------------------------------- */

static char *mutated(const char *text, uint64_t *seed)
{
    static const char often[] = ",;\"\n()*x+-0123456789 \xC3\xBD#";
    size_t length = strlen(text);
    char *copy = malloc(length + 2);
    memcpy(copy, text, length + 1);
    for (uint64_t changes = random_next(seed) % 4; changes > 0; changes--) {
        size_t at = random_next(seed) % length;
        switch (random_next(seed) % 3) {
        case 0:
            copy[at] = (char)(1 + random_next(seed) % 255);
            break;
        case 1:
            copy[at] = often[random_next(seed) % (sizeof often - 1)];
            break;
        default:
            memmove(copy + at, copy + at + 1, length - at);
            length -= length > 1;
            break;
        }
    }
    return copy;
}

static void any_bytes_give_a_project_or_findings(void **state)
{
    uint64_t seed = 20240607;
    for (int run = 0; run < RANDOM_CASES(3000); run++) {
        char *files[6];
        const char *texts[6] = {good_folder.project,
                                good_folder.grade,
                                good_folder.yarns,
                                good_folder.fabrics,
                                good_folder.swatches,
                                "piece,part,fabric,yarn,tool,stitches,rows,times,start,end_stitches,ends,carry\n"
                                "back,rib,pairs,\"main 4, lace x2 2\",4 mm,\"20 (24, 28)\",12,2,,,,yes\n"
                                "back,body,single crochet,main,4 mm,,length,2,continue,10,1,\n"
                                "edging,,pairs,main + lace,4 mm,40 cm,2,,edge,,,\n"};
        for (size_t i = 0; i < 6; i++)
            files[i] = mutated(texts[i], &seed);
        struct hk_diags diags = {0};
        struct hk_project *p = folder_read(
            *state, (struct folder){.project = files[0], .grade = files[1], .yarns = files[2], .fabrics = files[3], .swatches = files[4],
                                  .pieces = files[5]},
            &diags);
        assert_true(p ? hk_diags_ok(&diags) : diags.errors > 0);
        struct hk_tally *tally = p ? hk_tally_count(p, &diags) : NULL;
        assert_true(tally ? hk_diags_ok(&diags) : diags.errors > 0);
        hk_tally_free(tally);
        hk_project_free(p);
        hk_diags_free(&diags);
        for (size_t i = 0; i < 6; i++)
            free(files[i]);
    }
}

static void nothing_is_freed_without_complaint(void **state)
{
    (void)state;
    hk_project_free(NULL);
}

/*
 * Held together, in stripes, by label and by diameter: unambiguous forms are read, the others reported at their word.
 */
static void yarns_and_tools_of_pieces_are_read_or_reported_at_the_word(void **state)
{
    assert_folder_bad(
        *state,
        ((struct folder){.pieces =
                             "piece,fabric,yarn,tool,stitches,rows\na,single crochet,main x2,4 mm,20,4\n"
                             "b,single crochet,main x 2,4 mm,20,4\nc,single crochet,main X 2 4,4 mm,20,4\n"
                             "d,single crochet,x2,4 mm,20,4\ne,single crochet,main x0,4 mm,20,4\n"
                             "f,single crochet,\"main 0, lace 2\",4 mm,20,4\n"
                             "g,single crochet,\"main 10000000000000, lace 2\",4 mm,20,4\n"
                             "h,single crochet,\"main 99999999999999999999999, lace 2\",4 mm,20,4\n"
                             "i,single crochet,main + main,4 mm,20,4\nj,single crochet,lace + main,4 mm,20,4\n"
                             "k,single crochet,main +,4 mm,20,4\nl,single crochet,+ main,4 mm,20,4\n"
                             "m,single crochet,\"main,\",4 mm,20,4\nn,single crochet,main 4,4 mm,20,4\n"
                             "o,single crochet,\"main 2, lace\",4 mm,20,4\np,single crochet,mainx2,4 mm,20,4\n"
                             "q,single crochet,2 main,4 mm,20,4\nr,single crochet,2,4 mm,20,4\n"
                             "s,single crochet,main x2 + lace x2,4 mm,20,4\nt,single crochet,main 2 x 2,4 mm,20,4\n"
                             "u,single crochet,mian,4 mm,20,4\nv,single crochet,main,US 8,20,4\n"
                             "w,single crochet,main,size H,20,4\nx,single crochet,main,us,20,4\n"
                             "y,single crochet,main,size,20,4\nz,single crochet,main,H (5 mm),20,4\n"
                             "aa,single crochet,main,5 mm (H),20,4\nbb,single crochet,main,5 mm (),20,4\n"
                             "cc,single crochet,main,5 mm (Z-99),20,4\ndd,single crochet,main,0 mm,20,4\n"
                             "ee,single crochet,main,500 mm,20,4\nff,single crochet,main,5 mm (6 mm),20,4\n"
                             "gg,single crochet,main,+5,20,4\nhh,single crochet,main,H-8 (6 mm),20,4\n"}),
        "pieces.csv:5:18: error: there is no role \"x2\" in yarns.csv; known here: main or lace\n"
        "pieces.csv:6:18: error: \"main x0\" has 0 strands; write at least 1, or leave it out\n"
        "pieces.csv:7:19: error: \"main 0\" has 0 rows; write at least 1, or leave it out\n"
        "pieces.csv:8:19: error: there is no role \"main 10000000000000\" in yarns.csv; did you mean "
        "\"main\"?\n"
        "pieces.csv:9:19: error: there is no role \"main 99999999999999999999999\" in yarns.csv; did you "
        "mean \"main\"?\n"
        "pieces.csv:12:24: error: a role is missing in \"main +\"; write it as main, main + lace or main "
        "4, contrast 2\n"
        "pieces.csv:13:18: error: a role is missing in \"+ main\"; write it as main, main + lace or main "
        "4, contrast 2\n"
        "pieces.csv:14:19: error: the stripe \"main\" does not say its rows; write stripes as main 4, "
        "contrast 2\n"
        "pieces.csv:14:24: error: a role is missing in \"main,\"; write it as main, main + lace or main "
        "4, contrast 2\n"
        "pieces.csv:16:27: error: the stripe \"lace\" does not say its rows; write stripes as main 4, "
        "contrast 2\n"
        "pieces.csv:17:18: error: there is no role \"mainx2\" in yarns.csv; did you mean \"main\"?\n"
        "pieces.csv:18:18: error: there is no role \"2 main\" in yarns.csv; did you mean \"main\"?\n"
        "pieces.csv:19:18: error: there is no role \"2\" in yarns.csv; known here: main or lace\n"
        "pieces.csv:21:18: error: there is no role \"main 2\" in yarns.csv; did you mean \"main\"?\n"
        "pieces.csv:22:18: error: there is no role \"mian\" in yarns.csv; did you mean \"main\"?\n"
        "pieces.csv:25:23: error: there is no hook or needle \"us\"; write its diameter, such as 5 mm\n"
        "pieces.csv:26:23: error: there is no hook or needle \"size\"; write its diameter, such as 5 mm\n"
        "pieces.csv:29:29: error: \"()\" behind 5 mm is not understood; write one value, like 18.5 cm or "
        "7 1/4 in\n"
        "pieces.csv:30:30: error: there is no hook or needle \"Z-99\"; write its diameter, such as 5 mm\n"
        "pieces.csv:31:24: error: 0 mm is not possible here; write a length above zero\n"
        "pieces.csv:32:24: error: 500 mm is not a diameter of a hook or needle; write it like 5 mm\n"
        "pieces.csv:33:29: error: \"(6 mm)\" behind 5 mm is not understood; write one value, like 18.5 "
        "cm or 7 1/4 in\n"
        "pieces.csv:34:24: error: the tool \"+5\" has no unit; write +5 mm\n"
        "pieces.csv:35:24: error: \"H-8\" is 5 mm, not 6 mm; write the diameter alone, such as 5 mm\n");
}

/* A gauge is stitches by rows, over 10 cm or over the stated length. */
static void a_gauge_is_read_whole_or_reported(void **state)
{
    assert_folder_bad(*state, ((struct folder){.swatches =
                      "swatch,yarn,tool,fabric,stitches,rows,gauge,weight\n"
                      "a,main,4 mm,single crochet,20,20,18 x 9 in 4 in,9 g\n"
                      "b,main,4 mm,single crochet,20,20,18 sts and 9 rows in 10 cm,9 g\n"
                      "c,main,4 mm,single crochet,20,20,18 x 9 in 10 g,9 g\n"
                      "d,main,4 mm,single crochet,20,20,18 x 9 in 0 cm,9 g\n"
                      "e,main,4 mm,single crochet,20,20,18 x 9 in cm,9 g\n"
                      "f,main,4 mm,single crochet,20,20,18 x 9 in 10,9 g\n"
                      "g,main,4 mm,single crochet,20,20,18 x 9 per 10 cm x,9 g\n"
                      "h,main,4 mm,single crochet,20,20,0 x 9,9 g\ni,main,4 mm,single crochet,20,20,18 x,9 g\n"
                      "j,main,4 mm,single crochet,20,20,18,9 g\nk,main,4 mm,single crochet,20,20,x 9,9 g\n"}),
                      "swatches.csv:3:34: error: \"18 sts and 9 rows in 10 cm\" is not a gauge; write stitches x rows "
                      "in 10 cm, such as 18 x 24\n"
                      "swatches.csv:4:34: error: \"18 x 9 in 10 g\" is not a gauge; write stitches x rows in 10 cm, "
                      "such as 18 x 24\n"
                      "swatches.csv:5:34: error: \"18 x 9 in 0 cm\" is not a gauge; write stitches x rows in 10 cm, "
                      "such as 18 x 24\n"
                      "swatches.csv:6:34: error: \"18 x 9 in cm\" is not a gauge; write stitches x rows in 10 cm, such "
                      "as 18 x 24\n"
                      "swatches.csv:7:34: error: \"18 x 9 in 10\" is not a gauge; write stitches x rows in 10 cm, such "
                      "as 18 x 24\n"
                      "swatches.csv:8:34: error: \"18 x 9 per 10 cm x\" is not a gauge; write stitches x rows in 10 "
                      "cm, such as 18 x 24\n"
                      "swatches.csv:9:34: error: a gauge of 0 stitches and 9 rows in 10 cm; write stitches x rows in "
                      "10 cm, such as 18 x 24\n"
                      "swatches.csv:10:34: error: \"18 x\" is not a gauge; write stitches x rows in 10 cm, such as 18 "
                      "x 24\n"
                      "swatches.csv:11:34: error: \"18\" is not a gauge; write stitches x rows in 10 cm, such as 18 x "
                      "24\n"
                      "swatches.csv:12:34: error: \"x 9\" is not a gauge; write stitches x rows in 10 cm, such as 18 x "
                      "24\n");
}

static void every_mistake_in_the_grading_sheet_is_reported(void **state)
{
    assert_folder_bad(
        *state,
        ((struct folder){
            .grade = "name,unit,S,M,L,print\nwidth,,20,24,28,no\nlength,cm,10,12,14,n\n"
                     "a,cm,99999999999999999999,12,14,yes\nb,cm,0.0000000000001,12,14,y\nc,mm,10 in,12,14,maybe\n"
                     "d,,10 cm,12,14,\ne,cm,1x2,12,14,\nf,,1x2,12,14,\ng,,10000000000000,12,14,\nh,,-4,12,14,\n"
                     "i,cm,-4,12,14,\nj,cm,1/2,12,14,\nk,,1/2,12,14,\nl,,,12,14,\n,,1,2,3,\n"}),
        "grade.csv:4:6: error: 99999999999999999999 is larger than anything possible; write a length "
        "like 18.5 cm or 7 1/4 in\n"
        "grade.csv:5:6: error: 0.0000000000001 is smaller than anything possible; write a length like "
        "18.5 cm or 7 1/4 in\n"
        "grade.csv:6:18: error: print is \"maybe\"; write yes or no\n"
        "grade.csv:7:10: error: 12 has no unit, and 10 cm has one; write the unit after each value, or once after all "
        "of them: 38 (40, 42) cm\n"
        "grade.csv:8:7: error: \"x\" is not a known unit; write it like 18.5 cm or 7 1/4 in\n"
        "grade.csv:9:5: error: \"x\" is not a known unit; write it like 18.5 cm or 7 1/4 in\n"
        "grade.csv:10:4: error: 10000000000000 is larger than anything possible; write a count of at "
        "most 1000000000000\n"
        "grade.csv:11:4: error: a spreadsheet turned (4) into -4; format the column as text and type it "
        "again\n"
        "grade.csv:12:6: error: a spreadsheet turned (4) into -4; format the column as text and type it "
        "again\n"
        "grade.csv:14:4: error: 1/2 is not a whole number; write a count like 12, or with a unit if it "
        "is a length: 1/2 cm or 1/2 in\n"
        "grade.csv:15:4: error: size S has no value; write 0 or - where a size does without\n"
        "grade.csv:16:1: error: this measure has no name; write what is measured, such as body length\n");
}

static void a_margin_beyond_the_work_itself_is_reported(void **state)
{
    assert_folder_bad(*state, ((struct folder){.project =
                      "field,value\nsizes,\"S (M, L)\"\ncurrency,EUR\nmargin,1200%\nchance,95%\n"}),
                      "project.csv:4:8: error: a margin of 1200%, more than the work itself; write it as 10% or 0.1\n"
                      "project.csv:5:8: error: both a chance and a flat margin are asked for; keep the one that "
                      "decides how much is enough\n");
}

/* ---- Names alone --------------------------------------------------------------------------------------------- */

static void names_are_read_whatever_is_wrong_elsewhere(void **state)
{
    struct hk_memory_file files[] = {{"project.csv", "field,value\nsizes,\"S (M, L)\"\n"},
                                     {"yarns.csv", "role,yarn,put_up,length\nmain,Quay DK,50 g,120 m\n"},
                                     {"pieces.csv", "piece,fabric\n\"open"},
                                     {NULL, NULL}};
    const struct hk_source source = hk_source_memory(files);
    struct hk_diags diags = {0};
    struct hk_project *names = hk_project_read_names(&source, *state, &diags);
    assert_non_null(names);
    assert_int_equal(hk_diags_count(&diags), 0);
    assert_int_equal(hk_project_sizes(names), 3);
    assert_string_equal(hk_project_size(names, 1), "M");
    assert_int_equal(hk_project_roles(names), 1);
    assert_string_equal(hk_project_role(names, 0).yarn, "Quay DK");
    hk_project_free(names);
    assert_null(hk_project_read(&source, *state, &diags));
    hk_diags_free(&diags);
    files[1].text = "role,yarn,put_up,length\nmain,Quay DK,50,120 m\n";
    assert_null(hk_project_read_names(&source, *state, &diags));
    assert_int_equal(hk_diags_errors(&diags), 1);
    hk_diags_free(&diags);
}

static const char *size_at(const void *context, size_t i)
{
    return ((const char *const *)context)[i];
}

/* Common practice, no source: XXL, 2XL and 2X are one size; 1X and 3X are other sizes than XL and 2X. */
static void a_size_called_otherwise_is_meant_and_another_size_is_not(void **state)
{
    static const char *const labels[] = {"2XS", "xs", "S", "Medium", "L", "XL", "2X", "XXXL"};
    static const char *const ages[] = {"baby", "toddler", "3-6 months", "6-12 months", "1"};
    static const struct {
        const char *const *sizes;
        size_t count;
        const char *name, *meant;
    } names[] = {
        {labels, 8, "XXS", "2XS"},
        {labels, 8, "xx-small", "2XS"},
        {labels, 8, "Extra Small", "xs"},
        {labels, 8, "small", "S"},
        {labels, 8, "M", "Medium"},
        {labels, 8, "med.", "Medium"},
        {labels, 8, "large", "L"},
        {labels, 8, "X-Large", "XL"},
        {labels, 8, "extra large", "XL"},
        {labels, 8, "XXL", "2X"},
        {labels, 8, "2 XL", "2X"},
        {labels, 8, "extra extra large", "2X"},
        {labels, 8, "3X", "XXXL"},
        {labels, 8, "4X", NULL},
        {labels, 8, "1X", NULL},
        {labels, 8, "XM", NULL},
        {labels, 8, "X", NULL},
        {labels, 8, "2M", NULL},
        {labels, 8, "SM", NULL},
        {labels, 8, "22X", NULL},
        {labels, 8, "1XL", NULL},
        {labels, 8, "XXXXXXXXXXXL", NULL},
        {ages, 5, "babby", "baby"},
        {ages, 5, "todler", "toddler"},
        {ages, 5, "3-6 month", "3-6 months"},
        {ages, 5, "3-9 months", NULL},
        {ages, 5, "2", NULL},
        {ages, 5, "medium", NULL},
    };
    (void)state;
    for (size_t i = 0; i < sizeof names / sizeof names[0]; i++) {
        size_t found = hk_size_meant((struct hk_names){names[i].count, size_at, names[i].sizes}, names[i].name);
        if (names[i].meant)
            assert_true(found < names[i].count && strcmp(names[i].sizes[found], names[i].meant) == 0);
        else
            assert_true(found == SIZE_MAX);
    }
}

static void files_are_listed_in_their_order(void **state)
{
    (void)state;
    size_t count = 0;
    assert_string_equal(hk_project_file(0), "project.csv");
    while (hk_project_file(count))
        count++;
    assert_int_equal(count, 12); /* hankful(1), FILES has a section for each file */
    assert_null(hk_project_file(count + 1));
}

/* ---- The letter to a client ---- */

static void times_of_the_letter_are_whole_days_or_weeks(void **state)
{
    static const struct {
        const char *text;
        int64_t days; /* 0: refused */
        bool weeks;
    } cases[] = {
        {"30 days", 30, false},      {"1 day", 1, false},       {"6 weeks", 42, true},   {"1 Week", 7, true},
        {"3650 days", 3650, false},  {"521 weeks", 3647, true}, {"522 weeks", 0, false}, {"3651 days", 0, false},
        {"0 days", 0, false},        {"six weeks", 0, false},   {"6", 0, false},         {"4-6 weeks", 0, false},
        {"30 days or so", 0, false}, {"-3 days", 0, false},     {"1.5 weeks", 0, false}, {"2 months", 0, false}};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        char text[200], expected[200];
        snprintf(text, sizeof text, "field,value\nsizes,\"S (M, L)\"\nvalid_for,%s\n", cases[i].text);
        snprintf(
            expected, sizeof expected,
            "project.csv:3:11: error: \"%s\" is not a number of days or weeks; write it like 30 days or 6 weeks, at "
            "most ten "
            "years\n",
            cases[i].text);
        const struct folder folder = {.project = text};
        if (!cases[i].days) {
            assert_folder_bad(*state, folder, expected);
            continue;
        }
        struct hk_project *project = folder_good(*state, folder);
        const struct hk_project_letter letter = hk_project_letter(project);
        assert_int_equal(letter.valid_days, cases[i].days);
        assert_int_equal(letter.valid_weeks, cases[i].weeks);
        assert_int_equal(letter.ready_days, 0);
        assert_string_equal(letter.maker, "");
        hk_project_free(project);
    }
}

/* Only what a piece made to order includes: no pay for the work itself, no share of the price, no kit, no packaging. */
static void costs_say_what_a_piece_includes(void **state)
{
    static const struct {
        enum hk_included included[2]; /* in sizes S and M */
        double quantity;              /* in size S */
    } rows[] = {{{HK_INCLUDED_NOTION, HK_INCLUDED_NOT}, 3},       {{HK_INCLUDED_NOT, HK_INCLUDED_NOT}, NAN},
                {{HK_INCLUDED_NOT, HK_INCLUDED_NOT}, NAN},        {{HK_INCLUDED_WORK, HK_INCLUDED_WORK}, 0.75},
                {{HK_INCLUDED_NOT, HK_INCLUDED_NOT}, NAN},        {{HK_INCLUDED_NOT, HK_INCLUDED_NOT}, NAN},
                {{HK_INCLUDED_POSTAGE, HK_INCLUDED_POSTAGE}, NAN}};
    struct folder folder = {.other_name = "costs.csv",
                            .other_text = "item,kind,amount,quantity,per,print\nbuttons,material,0.85,\"3 (0, 3)\",,\n"
                                          "bag,material,0.20,,,no\nwork,labour,14,,,\nwashing,labour,14,45 min,,\n"
                                          "box,kit,1,,,\nmarket,fee,5%,,,\nparcel,postage,5,,,\n"};
    struct hk_project *project = folder_good(*state, folder);
    assert_int_equal(hk_project_costs(project), sizeof rows / sizeof rows[0]);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const struct hk_project_cost cost = hk_project_cost(project, i, 0);
        assert_int_equal(cost.included, rows[i].included[0]);
        assert_int_equal(hk_project_cost(project, i, 1).included, rows[i].included[1]);
        assert_true(isnan(rows[i].quantity) ? isnan(cost.quantity) : cost.quantity == rows[i].quantity);
    }
    assert_int_equal(hk_project_measures(project), 1); /* the row marked for print */
    assert_string_equal(hk_project_measure(project, 0, 1).name, "length");
    assert_close(hk_project_measure(project, 0, 1).length_m, 0.12, 1e-12, 0);
    hk_project_free(project);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(times_of_the_letter_are_whole_days_or_weeks),
        cmocka_unit_test(costs_say_what_a_piece_includes),
        cmocka_unit_test(settings_have_the_defaults_of_the_design),
        cmocka_unit_test(every_setting_is_taken),
        cmocka_unit_test(a_field_without_a_value_keeps_its_default),
        cmocka_unit_test(sizes_are_graded_listed_or_one),
        cmocka_unit_test(a_size_is_found_in_any_letter_case_and_the_nearest_offered),
        cmocka_unit_test(misspelt_settings_and_words_offer_what_would_do),
        cmocka_unit_test(a_margin_and_a_chance_together_are_an_error),
        cmocka_unit_test(percents_beyond_sense_are_errors),
        cmocka_unit_test(doubled_damaged_and_open_sizes_are_errors_and_nothing_follows),
        cmocka_unit_test(sizes_that_a_spreadsheet_made_dates_of_are_distinguished_from_names),
        cmocka_unit_test(sizes_keep_decimal_commas_in_files_of_semicolons),
        cmocka_unit_test(a_hundred_sizes_are_the_most),
        cmocka_unit_test(a_yarn_is_measured_by_its_label_or_its_wraps),
        cmocka_unit_test(the_first_yarn_of_a_role_is_the_plan_and_one_name_is_one_yarn),
        cmocka_unit_test(a_category_with_several_names_is_the_one_that_the_label_allows),
        cmocka_unit_test(a_category_that_the_label_cannot_be_is_warned_about_once),
        cmocka_unit_test(one_name_with_two_labels_is_an_error),
        cmocka_unit_test(balls_on_the_scale_are_counted_and_weighed),
        cmocka_unit_test(mistakes_in_balls_on_the_scale_are_reported_at_the_cell),
        cmocka_unit_test(zero_negative_and_wrong_amounts_are_reported_in_one_run),
        cmocka_unit_test(unknown_columns_are_warned_about_and_the_project_stands),
        cmocka_unit_test(doubled_columns_and_junk_are_errors),
        cmocka_unit_test(strands_held_together_have_one_diameter),
        cmocka_unit_test(stripes_say_their_rows_and_a_combination_is_kept_once),
        cmocka_unit_test(the_same_yarns_share_a_blend_whatever_their_roles),
        cmocka_unit_test(mistakes_in_yarn_cells_point_at_the_word),
        cmocka_unit_test(what_is_held_together_has_bounds),
        cmocka_unit_test(sets_of_yarns_held_together_have_a_bound),
        cmocka_unit_test(a_fabric_of_the_project_hides_the_shipped_one),
        cmocka_unit_test(a_fabric_has_more_than_one_name),
        cmocka_unit_test(shipped_fabrics_must_be_named_in_us_terms),
        cmocka_unit_test(an_unknown_fabric_offers_the_nearest_and_a_broken_one_is_reported_once),
        cmocka_unit_test(a_swatch_has_the_defaults_of_the_design),
        cmocka_unit_test(gauge_comes_from_what_was_counted_and_measured),
        cmocka_unit_test(gauge_is_understood_as_it_is_written),
        cmocka_unit_test(mistakes_in_swatches_are_reported_in_one_run),
        cmocka_unit_test(a_gauge_that_became_a_date_is_distinguished),
        cmocka_unit_test(lines_have_the_defaults_of_the_design),
        cmocka_unit_test(every_start_has_its_word),
        cmocka_unit_test(a_wrong_number_of_values_names_the_sizes_without_grade_csv),
        cmocka_unit_test(grade_csv_says_the_same_as_graded_cells),
        cmocka_unit_test(mistakes_in_pieces_are_reported_in_one_run),
        cmocka_unit_test(a_number_of_times_in_a_name_is_warned_about),
        cmocka_unit_test(a_line_worked_less_often_than_the_one_it_continues_on_is_warned_about),
        cmocka_unit_test(an_unknown_measure_offers_the_nearest),
        cmocka_unit_test(files_that_must_be_there_are_missed_and_nothing_follows),
        cmocka_unit_test(files_with_a_header_only),
        cmocka_unit_test(more_rows_than_any_design_has_are_refused),
        cmocka_unit_test(files_that_are_not_needed_may_be_absent),
        cmocka_unit_test(a_file_that_cannot_be_read_brings_no_further_findings),
        cmocka_unit_test(a_folder_of_semicolons_and_decimal_commas_is_the_same_project),
        cmocka_unit_test(swatches_of_other_folders_join),
        cmocka_unit_test(a_folder_by_another_name_is_known_by_the_number_of_its_file),
        cmocka_unit_test(a_row_that_stands_twice_is_warned_about),
        cmocka_unit_test(a_role_that_no_part_uses_is_warned_about),
        cmocka_unit_test(a_chance_below_a_half_is_warned_about),
        cmocka_unit_test(one_weighing_of_two_folders_counts_once),
        cmocka_unit_test(one_weighing_of_balls_in_two_folders_counts_once),
        cmocka_unit_test(two_weighings_of_one_swatch_that_differ_are_warned_about),
        cmocka_unit_test(of_three_folders_the_nearest_weighing_is_the_same),
        cmocka_unit_test(a_swatch_worked_otherwise_is_another),
        cmocka_unit_test(a_swatch_is_known_again_by_any_reading),
        cmocka_unit_test(a_swatch_of_an_unknown_fabric_is_reported_once),
        cmocka_unit_test(a_name_twice_in_a_folder_is_reported_once),
        cmocka_unit_test(mistakes_in_a_folder_to_learn_from_carry_its_name),
        cmocka_unit_test(a_hundred_folders_are_the_most_to_learn_from),
        cmocka_unit_test(any_bytes_give_a_project_or_findings),
        cmocka_unit_test(nothing_is_freed_without_complaint),
        cmocka_unit_test(yarns_and_tools_of_pieces_are_read_or_reported_at_the_word),
        cmocka_unit_test(a_gauge_is_read_whole_or_reported),
        cmocka_unit_test(names_are_read_whatever_is_wrong_elsewhere),
        cmocka_unit_test(a_size_called_otherwise_is_meant_and_another_size_is_not),
        cmocka_unit_test(files_are_listed_in_their_order),
        cmocka_unit_test(every_mistake_in_the_grading_sheet_is_reported),
        cmocka_unit_test(a_margin_beyond_the_work_itself_is_reported),
    };
    return cmocka_run_group_tests_name("project", tests, catalogue_set_up, catalogue_tear_down);
}
