/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support.h"

#include "project/read/grade.h"

static const char *const five[] = {"XS", "S", "M", "L", "XL"};

struct graded_file {
    struct hk_table *table;
    struct hk_grade grade;
    struct hk_arena arena;
    struct hk_diags diags;
    bool read;
};

static struct graded_file grade_make(const char *text, size_t sizes)
{
    struct graded_file file = {0};
    const struct memory_file files[] = {{"grade.csv", text, 0}, {NULL, NULL, 0}};
    struct hk_source source = memory_source(files);
    file.table = hk_table_read(&source, "grade.csv", (struct hk_table_options){0}, &file.diags);
    assert_non_null(file.table);
    file.read = hk_grade_read(file.table, five, sizes, &file.grade, &file.arena, &file.diags);
    return file;
}

static void grade_free(struct graded_file *file)
{
    hk_arena_free(&file->arena);
    hk_table_free(file->table);
}

static void assert_grade_refused(const char *text, size_t sizes, const char *expected)
{
    struct graded_file file = grade_make(text, sizes);
    assert_false(file.read);
    assert_null(file.grade.measures);
    assert_findings(&file.diags, expected);
    grade_free(&file);
}

static void assert_measure(const struct hk_measure *measure, const char *name, bool print, size_t sizes,
                           const char *expected)
{
    char amounts[256] = "";
    amounts_text(measure->by_size, sizes, amounts, sizeof amounts);
    assert_string_equal(measure->name, name);
    assert_string_equal(amounts, expected);
    assert_int_equal(measure->print, print);
}

static void grade_csv_holds_measures_in_any_order_of_columns(void **state)
{
    (void)state;
    struct graded_file file = grade_make("print,m,name,XS,unit,s\n"
                                         "x,42,body length,38,cm,40\n"
                                         ",83,body stitches,71,,77\n"
                                         "no,8 1/2 in,cuff,7 1/2,in,0\n"
                                         "YES,12,rib rows,10,rows,-\n", 3);
    assert_findings(&file.diags, "");
    assert_true(file.read);
    assert_int_equal(file.grade.count, 4);
    assert_measure(&file.grade.measures[0], "body length", true, 3, "380mm 400mm 420mm");
    assert_measure(&file.grade.measures[1], "body stitches", false, 3, "71 77 83");
    assert_measure(&file.grade.measures[2], "cuff", false, 3, "190.5mm - 215.9mm");
    assert_measure(&file.grade.measures[3], "rib rows", true, 3, "10 - 12");
    grade_free(&file);
}

static void a_cell_may_name_a_measure(void **state)
{
    (void)state;
    struct graded_file file = grade_make("name,XS,S,unit\nbody length,38,40,cm\nbody stitches,71,77,\n", 2);
    struct hk_diags diags = {0};
    struct hk_graded value = {0};
    struct hk_cell cell = cell_make(',', "Body Length", &diags);
    assert_true(hk_graded_cell(cell, 2, &file.grade, true, &value, &file.arena, &diags));
    assert_close(value.by_size[1].length_m, 0.4, 1e-15, 0);
    assert_ptr_equal(value.cell.text, cell.text);
    assert_false(hk_graded_cell(cell, 2, &file.grade, false, &value, &file.arena, &diags));
    assert_findings(&diags, "cells.csv:2:4: error: \"Body Length\" is a length in grade.csv; "
                            "a count is needed here: write whole numbers without a unit\n");
    cell_free(cell);
    cell = cell_make(',', "body sitches", &diags);
    assert_false(hk_graded_cell(cell, 2, &file.grade, false, &value, &file.arena, &diags));
    assert_findings(&diags, "cells.csv:2:4: error: \"body sitches\" is neither a number nor a name in grade.csv; "
                            "did you mean \"body stitches\"?\n");
    cell_free(cell);
    grade_free(&file);
}

static void every_mistake_of_grade_csv_is_found(void **state)
{
    (void)state;
    assert_grade_refused(
        "name,unit,XS,S,print\n"
        "body,cm,38,40,maybe\n"
        ",cm,38,40,\n"
        "body,cmm,38,,\n"
        "71,,71,seven,\n"
        "sleeve,,38 cm,40,\n",
        2,
        "grade.csv:2:15: error: print is \"maybe\"; write yes or no\n"
        "grade.csv:3:1: error: this measure has no name; write what is measured, such as body length\n"
        "grade.csv:4:1: error: \"body\" stands here twice; give each measure a name of its own\n"
        "grade.csv:4:6: error: \"cmm\" is not a known unit; did you mean mm?\n"
        "grade.csv:4:13: error: size S has no value; write 0 or - where a size does without\n"
        "grade.csv:5:1: error: \"71\" is a number, not the name of a measure; "
        "write what is measured, such as body length\n"
        "grade.csv:5:8: error: \"seven\" is not a count or a length; write it like 71, 18.5 cm or 7 1/4 in\n"
        "grade.csv:6:15: error: 40 has no unit, and 38 cm has one; "
        "write the unit after each value, or once after all of them: 38 (40, 42) cm\n");
}

static void columns_of_grade_csv_are_the_sizes(void **state)
{
    (void)state;
    assert_grade_refused(
        "name,XS,L,unti\nbody,1,2,\n", 3,
        "grade.csv:0:0: error: there is no column \"S\"; add a column for each size of project.csv\n"
        "grade.csv:0:0: error: there is no column \"M\"; add a column for each size of project.csv\n"
        "grade.csv:1:9: warning: unknown column \"L\"; known are name, unit, print, ok and the sizes of project.csv\n"
        "grade.csv:1:11: warning: unknown column \"unti\"; did you mean \"unit\"?\n");
}

static void no_grade_csv_still_names_the_sizes(void **state)
{
    (void)state;
    struct hk_grade grade = {0};
    struct hk_arena arena = {0};
    struct hk_diags diags = {0};
    assert_true(hk_grade_read(NULL, five, 5, &grade, &arena, &diags));
    assert_int_equal(grade.count, 0);
    assert_ptr_equal(grade.sizes, five);
    assert_findings(&diags, "");
    hk_arena_free(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(grade_csv_holds_measures_in_any_order_of_columns),
        cmocka_unit_test(a_cell_may_name_a_measure),
        cmocka_unit_test(every_mistake_of_grade_csv_is_found),
        cmocka_unit_test(columns_of_grade_csv_are_the_sizes),
        cmocka_unit_test(no_grade_csv_still_names_the_sizes),
    };
    return cmocka_run_group_tests_name("grade", tests, NULL, NULL);
}
