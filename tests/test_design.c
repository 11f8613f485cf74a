/* SPDX-License-Identifier: GPL-3.0-or-later */
/* All stages in one call (design.c), and the project data that a host may read from it. */
#include "support.h"

#include <math.h>
#include <string.h>

static struct hk_design *design_of(const struct hk_memory_file *files, struct hk_diags *diags)
{
    const struct hk_source tables = hk_source_inside(TABLES_DIR), folder = hk_source_memory(files);
    return hk_design_read(&tables, &folder, hk_need_defaults(), diags);
}

static const struct hk_memory_file pouch[] = {
    {"project.csv", "field,value\ntitle,Rope pouch\nsizes,one\n"},
    {"yarns.csv", "role,yarn,put_up,length,colour,fibre,wpi\n"
                  "main,Quay DK,50 g,120 m,Slate,wool,12\n"
                  "trim,Quay Lace,25 g,210 m,,,\n"},
    {"swatches.csv", "swatch,yarn,tool,fabric,stitches,rows,gauge,weight,scale_step,minutes\n"
                     "plain,main,4 mm,single crochet,20,20,20 x 25,9 g,0.1 g,25\n"
                     "edge,trim,2.5 mm,double crochet,30,8,,,,\n"},
    {"pieces.csv", "piece,fabric,yarn,tool,stitches,rows\nbag,single crochet,main,4 mm,40,30\nband,double crochet,trim,2.5 mm,80,2\n"},
    {NULL, NULL},
};

static void one_call_goes_from_a_source_to_a_need(void **state)
{
    (void)state;
    struct hk_diags diags = {0};
    struct hk_design *design = design_of(pouch, &diags);
    assert_non_null(design);
    assert_int_equal(hk_diags_errors(&diags), 0);
    const struct hk_need *need = hk_design_need(design);
    assert_string_equal(need->project, "Rope pouch");
    assert_int_equal(need->role_count, 2);

    struct hk_diags again = {0};
    struct hk_tally *tally = hk_tally_count(hk_design_project(design), &again);
    struct hk_fit *fit = hk_fit_make(tally, &again);
    struct hk_need *by_hand = hk_need_predict(fit, hk_need_defaults(), &again);
    assert_non_null(by_hand);
    for (size_t r = 0; r < need->role_count; r++)
        assert_true(need->roles[r].mass_g.enough == by_hand->roles[r].mass_g.enough);
    assert_int_equal(hk_tally_lines(hk_design_tally(design)), 2);
    assert_true(hk_catalogue_tables(hk_design_catalogue(design)) > 0);
    struct hk_evidence *evidence = hk_evidence_explain(hk_design_fit(design), &again);
    assert_int_equal(evidence->count, 1);
    hk_evidence_free(evidence);
    hk_need_free(by_hand);
    hk_fit_free(fit);
    hk_tally_free(tally);
    hk_diags_free(&again);
    hk_design_free(design);
    hk_diags_free(&diags);
}

static void what_the_project_says_can_be_read(void **state)
{
    (void)state;
    struct hk_diags diags = {0};
    struct hk_design *design = design_of(pouch, &diags);
    assert_non_null(design);
    const struct hk_project *project = hk_design_project(design);
    assert_int_equal(hk_project_roles(project), 2);
    assert_string_equal(hk_project_role(project, 0).name, "main");
    assert_string_equal(hk_project_role(project, 0).yarn, "Quay DK");
    assert_string_equal(hk_project_role(project, 0).colour, "Slate");
    assert_string_equal(hk_project_role(project, 1).colour, "");
    assert_int_equal(hk_project_yarns(project), 2);
    struct hk_project_yarn yarn = hk_project_yarn(project, 0);
    assert_string_equal(yarn.name, "Quay DK");
    assert_string_equal(yarn.fibre, "wool");
    assert_close(yarn.put_up_g, 50, 0, 0);
    assert_close(yarn.put_up_m, 120, 0, 0);
    assert_close(yarn.diameter_mm, 25.4 / 12, 1e-15, 0); /* 12 wraps fill an inch */
    assert_int_equal(hk_project_swatches(project), 2);
    struct hk_project_swatch plain = hk_project_swatch(project, 0), edge = hk_project_swatch(project, 1);
    assert_string_equal(plain.name, "plain");
    assert_string_equal(plain.fabric, "single crochet");
    assert_int_equal(plain.stitches, 20);
    assert_int_equal(plain.rows, 20);
    assert_int_equal(plain.copies, 1);
    assert_close(plain.tool_mm, 4, 0, 0);
    assert_close(plain.gauge_stitches, 20, 0, 0);
    assert_close(plain.gauge_rows, 25, 0, 0);
    assert_close(plain.mass_g, 9, 0, 0);
    assert_close(plain.scale_step_g, 0.1, 0, 0);
    assert_close(plain.minutes, 25, 0, 0);
    assert_string_equal(plain.at.file, "swatches.csv");
    assert_int_equal(plain.at.line, 2);
    assert_close(edge.mass_g, 0, 0, 0);
    assert_close(edge.scale_step_g, 0, 0, 0);
    assert_close(edge.gauge_rows, 0, 0, 0);
    hk_design_free(design);
    hk_diags_free(&diags);
}

static void mistakes_of_the_folder_come_as_findings(void **state)
{
    (void)state;
    struct hk_memory_file files[sizeof pouch / sizeof *pouch];
    memcpy(files, pouch, sizeof pouch);
    files[1].text = "role,yarn,put_up,length\nmain,Quay DK,50 m,120 m\n";
    struct hk_diags diags = {0};
    assert_null(design_of(files, &diags));
    assert_int_equal(hk_diags_finding(&diags, 0)->code, HK_CODE_UNIT_WRONG);
    assert_string_equal(hk_diags_finding(&diags, 0)->at.file, "yarns.csv");
    assert_null(hk_diags_finding(&diags, hk_diags_count(&diags)));
    assert_true(hk_diags_errors(&diags) >= 1);
    assert_false(hk_diags_out_of_memory(&diags));
    hk_diags_free(&diags);
}

static void tables_that_are_not_there_are_a_finding_too(void **state)
{
    (void)state;
    const struct hk_source tables = hk_source_inside("/nowhere"), folder = hk_source_memory(pouch);
    struct hk_diags diags = {0};
    assert_null(hk_design_read(&tables, &folder, hk_need_defaults(), &diags));
    assert_int_equal(hk_diags_finding(&diags, 0)->code, HK_CODE_FILE_MISSING);
    hk_diags_free(&diags);
    hk_design_free(NULL);
}

static void what_cannot_be_predicted_gives_no_design(void **state)
{
    (void)state;
    const struct hk_source tables = hk_source_inside(TABLES_DIR), folder = hk_source_memory(pouch);
    struct hk_need_options options = hk_need_defaults();
    struct hk_diags diags = {0};
    options.chance = 1;
    assert_null(hk_design_read(&tables, &folder, options, &diags));
    assert_int_equal(hk_diags_errors(&diags), 1);
    hk_diags_free(&diags);
}

/* Its prices may be in another currency, and its diameters may come from other spreads. */
static void a_list_of_another_project_is_refused(void **state)
{
    (void)state;
    const struct hk_memory_file listed[] = {{"list.csv", "yarn,put_up,length\nMole Aran,50 g,90 m\n"}, {NULL, NULL}};
    const struct hk_source source = hk_source_memory(listed);
    struct hk_diags diags = {0};
    struct hk_design *one = design_of(pouch, &diags), *other = design_of(pouch, &diags);
    struct hk_yarn_list *list = hk_yarn_list_read(&source, "list.csv", hk_design_project(one), &diags);
    assert_non_null(list);
    hk_diags_free(&diags);
    struct hk_compare_options options = hk_compare_defaults();
    options.list = list;
    assert_null(hk_compare_make(hk_design_need(other), options, &diags));
    assert_findings(
        &diags,
        "list:0:0: error: the list of yarns was read for a different project; read it for the project of the need\n");
    struct hk_compare *compare = hk_compare_make(hk_design_need(one), options, &diags);
    assert_non_null(compare);
    hk_compare_free(compare);
    hk_yarn_list_free(list);
    hk_design_free(other);
    hk_design_free(one);
    hk_diags_free(&diags);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(one_call_goes_from_a_source_to_a_need),
        cmocka_unit_test(what_the_project_says_can_be_read),
        cmocka_unit_test(mistakes_of_the_folder_come_as_findings),
        cmocka_unit_test(tables_that_are_not_there_are_a_finding_too),
        cmocka_unit_test(what_cannot_be_predicted_gives_no_design),
        cmocka_unit_test(a_list_of_another_project_is_refused),
    };
    return cmocka_run_group_tests(tests, handler_off, NULL);
}
