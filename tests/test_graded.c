/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support.h"

#include "project/read/grade.h"

#include <string.h>

static const char *const five[] = {"XS", "S", "M", "L", "XL"};

/* Reads a cell that may hold lengths, with the first `sizes` of five. */
static void assert_amounts(char separator, const char *text, size_t sizes, const char *expected)
{
    struct hk_diags diags = {0};
    struct hk_arena arena = {0};
    struct hk_cell cell = cell_make(separator, text, &diags);
    struct hk_graded value = {0};
    bool read = hk_graded_cell(cell, sizes, NULL, true, &value, &arena, &diags);
    assert_findings(&diags, "");
    assert_true(read && value.given);
    char amounts[256] = "";
    amounts_text(value.by_size, sizes, amounts, sizeof amounts);
    assert_string_equal(amounts, expected);
    hk_arena_free(&arena);
    cell_free(cell);
}

static void assert_refused(char separator, const char *text, bool lengths, const char *expected)
{
    struct hk_diags diags = {0};
    struct hk_arena arena = {0};
    struct hk_cell cell = cell_make(separator, text, &diags);
    struct hk_graded value = {.given = true};
    const struct hk_grade grade = {.sizes = five};
    assert_false(hk_graded_cell(cell, 5, &grade, lengths, &value, &arena, &diags));
    assert_true(value.given && !value.by_size);
    assert_findings(&diags, expected);
    hk_arena_free(&arena);
    cell_free(cell);
}

static void values_stand_before_and_in_brackets(void **state)
{
    (void)state;
    static const char *const forms[] = {"71 (77, 83, 91, 99)",
                                        "71(77,83,91,99)",
                                        "71 [77, 83, 91, 99]",
                                        "71 {77; 83; 91; 99}",
                                        "71 (77, 83) [91, 99]",
                                        "71 (77, 83)[91]{99}",
                                        "71 sts (77 sts, 83 sts, 91 sts, 99 sts)",
                                        "71 (77, 83, 91, 99) sts",
                                        "71\xC2\xA0(77,\xC2\xA0"
                                        "83, 91, 99)"};
    for (size_t i = 0; i < sizeof forms / sizeof forms[0]; i++)
        assert_amounts(',', forms[i], 5, "71 77 83 91 99");
    assert_amounts(';', "71 (77, 83, 91, 99)", 5, "71 77 83 91 99");
    assert_amounts('\t', "71 (77; 83; 91; 99)", 5, "71 77 83 91 99");
}

static void assert_refused_of(size_t sizes, char separator, const char *text, const char *expected)
{
    struct hk_diags diags = {0};
    struct hk_arena arena = {0};
    struct hk_cell cell = cell_make(separator, text, &diags);
    struct hk_graded value = {0};
    assert_false(hk_graded_cell(cell, sizes, NULL, true, &value, &arena, &diags));
    assert_findings(&diags, expected);
    const char *texts[5] = {NULL};
    if (strstr(expected, "can be one number")) {
        assert_false(hk_graded_split(cell, sizes, texts, &arena, &diags));
        assert_findings(&diags, expected);
    }
    hk_arena_free(&arena);
    cell_free(cell);
}

/* Digits in groups of three (ISO 80000-1:2009 7.3.1, from memory); a list where both readings are possible. */
static void blanks_group_digits_only_where_nothing_else_can_be_meant(void **state)
{
    (void)state;
    assert_amounts(',', "12 000", 3, "12000 12000 12000");
    assert_amounts(',', "1 200 (1 300, 12 000)", 3, "1200 1300 12000");
    assert_amounts(',', "160 200", 1, "160200");
    assert_amounts(',', "1 200 000", 2, "1200000 1200000");
    assert_amounts(',', "12 1/2 in", 2, "317.5mm 317.5mm");
    assert_refused_of(2, ',', "160 200",
                      "cells.csv:2:4: error: 160 200 can be one number or 2; write 160200, or 160 (200) for a number each\n");
    assert_refused_of(3, ',', "160 200",
                      "cells.csv:2:4: error: 160 200 can be one number or 2; write 160200, or 160 (200) for a number each\n");
    assert_refused_of(2, ',', "1 200",
                      "cells.csv:2:4: error: 1 200 can be one number or 2; write 1200, or 1 (200) for a number each\n");
    assert_refused_of(2, ',', "160 200 cm",
                      "cells.csv:2:4: error: 160 200 can be one number or 2; write 160200, or 160 (200) for a number each\n");
    assert_refused_of(3, ',', "60 (100 100, 90)",
                      "cells.csv:2:8: error: 100 100 can be one number or 2; write 100100, or 100 (100) for a number each\n");
    assert_refused_of(3, ',', "160 200 240",
                      "cells.csv:2:4: error: 160 200 240 can be one number or 3; write 160200240, or 160 (200, 240) for a number each\n");
    assert_refused_of(2, ',', "71 77", "cells.csv:2:4: error: \"71 77\" is a list without brackets; write the first size, then the "
                                       "others in brackets: 71 (77, 83)\n");
}

static void one_value_is_every_size(void **state)
{
    (void)state;
    assert_amounts(',', "5", 3, "5 5 5");
    assert_amounts(',', "18.5 cm", 2, "185mm 185mm");
    assert_amounts(',', "71", 1, "71");
}

static void zero_or_a_dash_is_none(void **state)
{
    (void)state;
    assert_amounts(',', "0 (-, 5)", 3, "- - 5");
    assert_amounts(',', "38 (0, \xE2\x80\x93) cm", 3, "380mm - -");
    assert_amounts(',', "0 cm", 1, "-");
    assert_amounts(',', "-", 2, "- -");
}

/* 1 in is 25.4 mm: 7 1/2 in = 190.5 mm, 8 in = 203.2 mm, 8 1/2 in = 215.9 mm. */
static void a_unit_behind_the_whole_goes_to_each(void **state)
{
    (void)state;
    assert_amounts(',', "38 (40, 42) cm", 3, "380mm 400mm 420mm");
    assert_amounts(',', "38 cm (40 cm, 42 cm)", 3, "380mm 400mm 420mm");
    assert_amounts(',', "7 1/2 (8, 8 1/2) in", 3, "190.5mm 203.2mm 215.9mm");
    assert_amounts(',', "7\xC2\xBD (8, 8\xC2\xBD)\"", 3, "190.5mm 203.2mm 215.9mm");
    assert_amounts(',', "38 cm (400 mm, 42) cm", 3, "380mm 400mm 420mm");
    assert_refused(',', "38 (40, 42, 44, 46) cn", true,
                   "cells.csv:2:24: error: \"cn\" is not a known unit; did you mean cm?\n");
    assert_refused(
        ',', "38 (40, 42, 44, 46) g", true,
        "cells.csv:2:24: error: g measures a mass, and a length is needed here; write it like 18.5 cm or 7 1/4 in\n");
}

static void commas_are_read_by_the_kind_of_file(void **state)
{
    (void)state;
    assert_amounts(';', "37,5 (40, 42,5) cm", 3, "375mm 400mm 425mm");
    assert_amounts(',', "37,5 (40; 42,5) cm", 3, "375mm 400mm 425mm");
    assert_amounts(',', "37.5 (40,42.5) cm", 3, "375mm 400mm 425mm");
    assert_refused(';', "71 (77,83,91,99)", true,
                   "cells.csv:2:4: error: 2 values for 5 sizes (XS, S, M, L, XL); "
                   "in this file a comma between digits is a decimal mark: put a blank after each comma\n");
    assert_refused(',', "7 (8, 8,5, 9, 10) cm", true,
                   "cells.csv:2:10: error: 8,5 can be one value or two; write 8.5, or 8, 5 with a blank\n");
    assert_refused(',', "1200 (1,300, 1400, 1500, 1600)", true,
                   "cells.csv:2:10: error: 1,300 can be one value or two; write 1300, or 1, 300 with a blank\n");
}

static void a_wrong_number_of_values_names_the_sizes(void **state)
{
    (void)state;
    assert_refused(',', "71 (77, 83)", true,
                   "cells.csv:2:4: error: 3 values for 5 sizes (XS, S, M, L, XL); "
                   "write one value for all sizes, or one for each with 0 or - where a size does without\n");
}

static void brackets_that_do_not_fit_are_reported(void **state)
{
    (void)state;
#define WRITE "write the first size, then the others in brackets: 71 (77, 83)\n"
    assert_refused(',', "71 (77, 83", true,
                   "cells.csv:2:7: error: a bracket does not close in \"71 (77, 83\"; " WRITE);
    assert_refused(',', "71 (77, 83]", true,
                   "cells.csv:2:7: error: a bracket closes with another in \"71 (77, 83]\"; " WRITE);
    assert_refused(',', "71 77)", true,
                   "cells.csv:2:9: error: a bracket closes that was not opened in \"71 77)\"; " WRITE);
    assert_refused(',', "(71, 77)", true,
                   "cells.csv:2:4: error: no value precedes the bracket in \"(71, 77)\"; " WRITE);
    assert_refused(',', "71 (77,, 83)", true, "cells.csv:2:11: error: a value is missing in \"71 (77,, 83)\"; " WRITE);
    assert_refused(',', "71 ()", true, "cells.csv:2:8: error: a value is missing in \"71 ()\"; " WRITE);
    assert_refused(',', "71 (77) 83", true,
                   "cells.csv:2:12: error: text follows the bracket in \"71 (77) 83\"; " WRITE);
    assert_refused(',', "71, 77, 83", true, "cells.csv:2:6: error: \"71, 77, 83\" is a list without brackets; " WRITE);
#undef WRITE
}

static void what_a_spreadsheet_made_of_a_size_is_reported(void **state)
{
    (void)state;
    assert_refused(
        ',', "-71", true,
        "cells.csv:2:4: error: a spreadsheet turned (71) into -71; format the column as text and type it again\n");
    assert_refused(',', "Mar-71", true,
                   "cells.csv:2:4: error: Mar-71 is a date that a spreadsheet made of what was typed; "
                   "format the column as text and type it again\n");
    assert_refused(',', "71 (77, -83, 91, 99)", true,
                   "cells.csv:2:12: error: -83 is below zero; write 0 or - where a size does without\n");
}

static void all_mistakes_of_a_cell_are_found(void **state)
{
    (void)state;
    assert_refused(
        ',', "7.5 (77, nan, 91 cm, 1000000000001)", false,
        "cells.csv:2:4: error: 7.5 is not a whole number; write a count like 12\n"
        "cells.csv:2:13: error: \"nan\" is not a count; write it like 71\n"
        "cells.csv:2:21: error: 91 cm has a unit, and a count is needed here; write a whole number without a unit\n"
        "cells.csv:2:25: error: 1000000000001 is larger than anything possible; "
        "write a count of at most 1000000000000\n");
}

static void counts_and_lengths_do_not_mix(void **state)
{
    (void)state;
    assert_refused(',', "38 (40, 42 cm, 44, 46)", true,
                   "cells.csv:2:4: error: 38 has no unit, and 42 cm has one; "
                   "write the unit after each value, or once after all of them: 38 (40, 42) cm\n");
    assert_refused(',', "7 1/2", true,
                   "cells.csv:2:4: error: 7 1/2 is not a whole number; "
                   "write a count like 12, or with a unit if it is a length: 7 1/2 cm or 7 1/2 in\n");
}

static void an_empty_cell_is_not_given(void **state)
{
    (void)state;
    struct hk_diags diags = {0};
    struct hk_arena arena = {0};
    struct hk_cell cell = cell_make(',', "", &diags);
    struct hk_graded value = {.given = true};
    assert_true(hk_graded_cell(cell, 5, NULL, true, &value, &arena, &diags));
    assert_false(value.given);
    assert_null(value.by_size);
    assert_findings(&diags, "");
    hk_arena_free(&arena);
    cell_free(cell);
}

static void text_is_split_like_numbers(void **state)
{
    (void)state;
    struct hk_diags diags = {0};
    struct hk_arena arena = {0};
    struct hk_cell cell = cell_make(',', "6.40 (7.20, 0, EUR 8) EUR", &diags);
    const char *texts[4] = {NULL};
    assert_true(hk_graded_split(cell, 4, texts, &arena, &diags));
    assert_string_equal(texts[0], "6.40 EUR");
    assert_string_equal(texts[1], "7.20 EUR");
    assert_string_equal(texts[2], "0");
    assert_string_equal(texts[3], "EUR 8");
    texts[0] = NULL;
    assert_false(hk_graded_split(cell, 3, texts, &arena, &diags));
    assert_null(texts[0]);
    assert_findings(&diags, "cells.csv:2:4: error: 4 values for 3 sizes; "
                            "write one value for all sizes, or one for each with 0 or - where a size does without\n");
    hk_arena_free(&arena);
    cell_free(cell);
}

static void garbage_is_answered(void **state)
{
    (void)state;
    static const char *const bits[] = {"71",           "(",   ")",        "[",  "}", ",",  ", ",   ";", " ",  "cm",
                                       "in",           "1/2", "\xC2\xBD", "-",  "0", ".5", "body", "'", "\"", "\xFF",
                                       "\xE2\x80\x93", "sts", "1,234",    "Mar"};
    struct hk_amount body[] = {{HK_AMOUNT_LENGTH, 0, 0.38}, {HK_AMOUNT_LENGTH, 0, 0.4}, {HK_AMOUNT_LENGTH, 0, 0.42}};
    struct hk_measure measure = {.name = "body", .by_size = body};
    const struct hk_grade grade = {&measure, 1, five};
    uint64_t seed = 11;
    for (int i = 0; i < 50000; i++) {
        char text[256] = "";
        for (uint64_t n = random_next(&seed) % 16; n > 0; n--)
            strcat(text, bits[random_next(&seed) % (sizeof bits / sizeof bits[0])]);
        struct hk_diags diags = {0};
        struct hk_arena arena = {0};
        struct hk_graded value = {0};
        bool read = hk_graded_cell((struct hk_cell){.text = text}, 3, &grade, random_next(&seed) % 2, &value, &arena, &diags);
        assert_int_equal(read, diags.errors == 0);
        assert_int_equal(value.given, read && *text);
        hk_diags_free(&diags);
        hk_arena_free(&arena);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(values_stand_before_and_in_brackets),
        cmocka_unit_test(blanks_group_digits_only_where_nothing_else_can_be_meant),
        cmocka_unit_test(one_value_is_every_size),
        cmocka_unit_test(zero_or_a_dash_is_none),
        cmocka_unit_test(a_unit_behind_the_whole_goes_to_each),
        cmocka_unit_test(commas_are_read_by_the_kind_of_file),
        cmocka_unit_test(a_wrong_number_of_values_names_the_sizes),
        cmocka_unit_test(brackets_that_do_not_fit_are_reported),
        cmocka_unit_test(what_a_spreadsheet_made_of_a_size_is_reported),
        cmocka_unit_test(all_mistakes_of_a_cell_are_found),
        cmocka_unit_test(counts_and_lengths_do_not_mix),
        cmocka_unit_test(an_empty_cell_is_not_given),
        cmocka_unit_test(text_is_split_like_numbers),
        cmocka_unit_test(garbage_is_answered),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
