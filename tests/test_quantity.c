/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support.h"

#include "input/quantity.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void assert_reads(char separator, const char *text, enum hk_dimension dimension, double expected)
{
    struct hk_diags diags = {0};
    struct hk_cell cell = cell_make(separator, text, &diags);
    double value = -1;
    bool read = hk_quantity_cell(cell, dimension, HK_SIGN_NOT_NEGATIVE, &value, &diags);
    if (!read)
        print_error("%s\n", text);
    assert_findings(&diags, "");
    assert_true(read);
    assert_close(value, expected, 1e-15, 0);
    cell_free(cell);
}

/* The cell's first character is in column 4, after x, the separator and a quote. */
static void assert_fails(char separator, const char *text, enum hk_dimension dimension, const char *expected)
{
    struct hk_diags diags = {0};
    struct hk_cell cell = cell_make(separator, text, &diags);
    double value = -1;
    assert_false(hk_quantity_cell(cell, dimension, HK_SIGN_POSITIVE, &value, &diags));
    assert_close(value, -1, 0, 0);
    assert_findings(&diags, expected);
    cell_free(cell);
}

/*
 * (NIST HB 44 App. C, NIST SP 811 B.8): 200 yd = 182.88 m; 3.5 oz = 99.2233309375 g; 1.75 oz
 * = 49.61166546875 g.
 */
static void units_are_exact(void **state)
{
    (void)state;
    assert_reads(',', "200 yd", HK_DIM_LENGTH, 182.88);
    assert_reads(',', "3.5 oz", HK_DIM_MASS, 99.2233309375);
    assert_reads(',', "1.75 oz", HK_DIM_MASS, 49.61166546875);
    assert_reads(',', "8 oz", HK_DIM_MASS, 226.796185);
    assert_reads(',', "1 lb", HK_DIM_MASS, 453.59237);
    assert_reads(',', "1.5 kg", HK_DIM_MASS, 1500);
    assert_reads(',', "5 mm", HK_DIM_LENGTH, 0.005);
    assert_reads(',', "18.5 cm", HK_DIM_LENGTH, 0.185);
    assert_reads(',', "1 ft", HK_DIM_LENGTH, 0.3048);
    assert_reads(',', "57%", HK_DIM_PERCENT, 0.57);
    assert_reads(',', "3600 denier", HK_DIM_TEX, 400);
    assert_reads(',', "12 wpi", HK_DIM_WRAPS, 12);
    assert_reads(',', "1.5 h", HK_DIM_MINUTES, 90);
}

/* Common practice, no source: these pairs state the same lengths in patterns, rounded to whole centimetres. */
static void inches_of_patterns_are_their_centimetres(void **state)
{
    (void)state;
    static const struct {
        const char *inches, *centimetres;
    } pairs[] = {{"15 in", "38 cm"}, {"7 in", "18 cm"}, {"14 in", "36 cm"}, {"6 in", "15 cm"}};
    for (size_t i = 0; i < sizeof pairs / sizeof *pairs; i++) {
        struct hk_diags diags = {0};
        struct hk_cell inches = cell_make(',', pairs[i].inches, &diags);
        struct hk_cell centimetres = cell_make(',', pairs[i].centimetres, &diags);
        double a = 0, b = 1;
        assert_true(hk_quantity_cell(inches, HK_DIM_LENGTH, HK_SIGN_POSITIVE, &a, &diags));
        assert_true(hk_quantity_cell(centimetres, HK_DIM_LENGTH, HK_SIGN_POSITIVE, &b, &diags));
        assert_int_equal(lround(100 * a), lround(100 * b));
        assert_findings(&diags, "");
        cell_free(inches);
        cell_free(centimetres);
    }
}

static void units_have_many_spellings(void **state)
{
    (void)state;
    static const char *const yards[] = {"2 yd",
                                        "2yds",
                                        "2 YARDS",
                                        "2 yard",
                                        "2 yd.",
                                        "6 ft",
                                        "6 feet",
                                        "6'",
                                        "72 in",
                                        "72 in.",
                                        "72 inches",
                                        "72\"",
                                        "72''",
                                        "72\xE2\x80\xB3",
                                        "1.8288 metres",
                                        "1.8288 meter",
                                        "182.88 centimetres",
                                        "1828.8 mm"};
    for (size_t i = 0; i < sizeof yards / sizeof yards[0]; i++)
        assert_reads(',', yards[i], HK_DIM_LENGTH, 1.8288);
    assert_reads(',', "50 grams", HK_DIM_MASS, 50);
    assert_reads(',', "1 ounce", HK_DIM_MASS, 28.349523125);
    assert_reads(',', "12 wraps per inch", HK_DIM_WRAPS, 12);
}

/* 7 1/4 in is 7.25 * 0.0254 m = 0.18415 m; 5' 2" is 62 * 0.0254 m = 1.5748 m. */
static void fractions_and_compounds_add_up(void **state)
{
    (void)state;
    static const char *const forms[] = {"7 1/4 in", "7\xC2\xBC in", "7\xC2\xBC\"", "7 1/4\"",
                                        "7-1/4 in", "7.25 in",      "29/4 in"};
    for (size_t i = 0; i < sizeof forms / sizeof forms[0]; i++)
        assert_reads(',', forms[i], HK_DIM_LENGTH, 0.18415);
    assert_reads(',', "5 125/250 m", HK_DIM_LENGTH, 5.5); /* 125 are no thousands */
    assert_reads(',', "5 125 m", HK_DIM_LENGTH, 5125);
    assert_reads(',', "5' 2\"", HK_DIM_LENGTH, 1.5748);
    assert_reads(',', "5 ft 2 in", HK_DIM_LENGTH, 1.5748);
    assert_reads(',', "1 h 10 min", HK_DIM_MINUTES, 70);
    assert_reads(',', "1h10", HK_DIM_MINUTES, 70);
    assert_reads(',', "2 lb 4 oz", HK_DIM_MASS, 36 * 28.349523125);
    assert_fails(',', "2 in 5 ft", HK_DIM_LENGTH,
                 "cells.csv:2:9: error: \"2 in 5 ft\" is not one value; write one value, like 18.5 cm or 7 1/4 in\n");
    assert_fails(',', "1 ft 13 in", HK_DIM_LENGTH,
                 "cells.csv:2:9: error: \"1 ft 13 in\" is not one value; write one value, like 18.5 cm or 7 1/4 in\n");
}

static void units_may_be_left_out_where_there_is_one(void **state)
{
    (void)state;
    assert_reads(',', "12", HK_DIM_WRAPS, 12);
    assert_reads(',', "25", HK_DIM_MINUTES, 25);
    assert_reads(',', "0.95", HK_DIM_PERCENT, 0.95);
    assert_reads(',', "12.5", HK_DIM_PLAIN, 12.5);
    assert_fails(',', "95", HK_DIM_PERCENT, "cells.csv:2:4: error: 95 has no unit; write 95%\n");
}

static void marks_are_read_where_they_can_mean_one_thing(void **state)
{
    (void)state;
    static const struct {
        char separator;
        const char *text;
        double value;
    } cells[] = {
        {',', "4.95", 4.95},
        {',', "4,95", 4.95},
        {',', "0,125", 0.125},
        {',', "1.234", 1.234},
        {',', "1,234.50", 1234.5},
        {',', "1.234,50", 1234.5},
        {',', "1 234", 1234},
        {',', "1'234", 1234},
        {',', "1'234'567.5", 1234567.5},
        {',', "1,234,567", 1234567},
        {',',
         "1\xC2\xA0"
         "234,5",
         1234.5},
        {',', ".5", 0.5},
        {',', "1234,567", 1234.567},
        {';', "4,95", 4.95},
        {';', "4.95", 4.95},
        {';', "1,234", 1.234},
        {';', "1.234,50", 1234.5},
        {';', "1.234.567", 1234567},
        {';', "0.125", 0.125},
        {'\t', "18,5", 18.5},
    };
    for (size_t i = 0; i < sizeof cells / sizeof cells[0]; i++)
        assert_reads(cells[i].separator, cells[i].text, HK_DIM_PLAIN, cells[i].value);
}

static void marks_that_can_mean_two_things_are_asked_about(void **state)
{
    (void)state;
    assert_fails(',', "1,234 m", HK_DIM_LENGTH,
                 "cells.csv:2:4: error: 1,234 can be read in two ways; write 1234 or 1.234\n");
    assert_fails(';', "1.234 m", HK_DIM_LENGTH,
                 "cells.csv:2:4: error: 1.234 can be read in two ways; write 1234 or 1,234\n");
    assert_fails(',', "12,345 m", HK_DIM_LENGTH,
                 "cells.csv:2:4: error: 12,345 can be read in two ways; write 12345 or 12.345\n");
}

static void groups_that_are_not_of_three_are_no_thousands(void **state)
{
    (void)state;
    assert_fails(
        ',', "1 23 m", HK_DIM_LENGTH,
        "cells.csv:2:6: error: \"23 m\" behind 1 is not understood; write one value, like 18.5 cm or 7 1/4 in\n");
    assert_fails(',', "1,234,56 m", HK_DIM_LENGTH,
                 "cells.csv:2:4: error: 1,234 can be read in two ways; write 1234 or 1.234\n");
    assert_fails(
        ',', "1.2.3 m", HK_DIM_LENGTH,
        "cells.csv:2:7: error: \".3 m\" behind 1.2 is not understood; write one value, like 18.5 cm or 7 1/4 in\n");
}

static void a_missing_unit_is_reported_with_what_would_do(void **state)
{
    (void)state;
    assert_fails(',', "50", HK_DIM_MASS, "cells.csv:2:4: error: 50 has no unit; write 50 g or 50 oz\n");
    assert_fails(';', "18,5", HK_DIM_LENGTH,
                 "cells.csv:2:4: error: 18,5 has no unit; write 18,5 cm, 18,5 in, 18,5 m or 18,5 yd\n");
    assert_fails(',', "5' 2", HK_DIM_LENGTH, "cells.csv:2:7: error: 2 has no unit; write 2 cm, 2 in, 2 m or 2 yd\n");
}

static void a_wrong_unit_is_pointed_at(void **state)
{
    (void)state;
    assert_fails(
        ',', "50 cm", HK_DIM_MASS,
        "cells.csv:2:7: error: cm measures a length, and a mass is needed here; write it like 50 g or 1.75 oz\n");
    assert_fails(',', "50 gramms", HK_DIM_MASS,
                 "cells.csv:2:7: error: \"gramms\" is not a known unit; did you mean grams?\n");
    assert_fails(',', "7\xC2\xBD  yrads", HK_DIM_LENGTH,
                 "cells.csv:2:8: error: \"yrads\" is not a known unit; did you mean yards?\n");
    assert_fails(',', "50 furlongs", HK_DIM_MASS,
                 "cells.csv:2:7: error: \"furlongs\" is not a known unit; write it like 50 g or 1.75 oz\n");
    assert_fails(',', "50 gr", HK_DIM_MASS, "cells.csv:2:7: error: \"gr\" is not a known unit; did you mean g?\n");
}

/*
 * 120 characters of two bytes each after one of one byte: found by fuzzing, when words were cut after a number of
 * bytes.
 */
static void a_long_unit_is_quoted_in_whole_characters(void **state)
{
    char text[300] = "1 l", expected[400] = "cells.csv:2:6: error: \"l";
    (void)state;
    for (int i = 0; i < 120; i++) {
        strcat(text, "\xC3\xBF");
        strcat(expected, "\xC3\xBF");
    }
    strcat(expected, "\" is not a known unit; write it like 50 g or 1.75 oz\n");
    assert_fails(',', text, HK_DIM_MASS, expected);
}

static void what_is_no_number_is_reported(void **state)
{
    (void)state;
    static const char *const words[] = {"nan", "inf", "-inf", "NaN g", "0x1p3", "many", "1/0 g", "(71)", "~50 g"};
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        struct hk_diags diags = {0};
        struct hk_cell cell = cell_make(',', words[i], &diags);
        double value = 7;
        assert_false(hk_quantity_cell(cell, HK_DIM_MASS, HK_SIGN_ANY, &value, &diags));
        assert_close(value, 7, 0, 0);
        assert_int_equal(diags.errors, 1);
        hk_diags_free(&diags);
        cell_free(cell);
    }
    assert_fails(',', "nan", HK_DIM_MASS, "cells.csv:2:4: error: \"nan\" is not a mass; write it like 50 g or 1.75 oz\n");
    assert_fails(',', "50-60 g", HK_DIM_MASS,
                 "cells.csv:2:6: error: \"50-60 g\" is a range; write one value, like 50 g or 1.75 oz\n");
}

static void zero_negative_and_huge_are_out_of_range(void **state)
{
    (void)state;
    assert_fails(',', "0 g", HK_DIM_MASS, "cells.csv:2:4: error: 0 g is not possible here; write a mass above zero\n");
    assert_fails(',', "-5 g", HK_DIM_MASS, "cells.csv:2:4: error: -5 g is below zero; write a mass above zero\n");
    assert_fails(
        ',', "1000000000001 g", HK_DIM_MASS,
        "cells.csv:2:4: error: 1000000000001 g is larger than anything possible; write a mass like 50 g or 1.75 oz\n");
    assert_fails(
        ',', "0.0000000001 g", HK_DIM_MASS,
        "cells.csv:2:4: error: 0.0000000001 g is smaller than anything possible; write a mass like 50 g or 1.75 oz\n");
    assert_reads(',', "1000000000000 g", HK_DIM_MASS, 1e12);
    assert_reads(',', "0 g", HK_DIM_MASS, 0);
}

/* A number of a thousand digits is too large, not an overflow. */
static void endless_digits_are_out_of_range(void **state)
{
    (void)state;
    char digits[1004];
    memset(digits, '9', 1000);
    strcpy(digits + 1000, " g");
    struct hk_diags diags = {0};
    struct hk_cell cell = cell_make(',', digits, &diags);
    double value = 7;
    assert_false(hk_quantity_cell(cell, HK_DIM_MASS, HK_SIGN_POSITIVE, &value, &diags));
    assert_int_equal(diags.count, 1);
    assert_int_equal(diags.findings[0].code, HK_CODE_RANGE);
    hk_diags_free(&diags);
    cell_free(cell);
}

static void what_a_spreadsheet_spoiled_is_no_quantity(void **state)
{
    (void)state;
    assert_fails(',', "1-Mar", HK_DIM_MASS,
                 "cells.csv:2:4: error: 1-Mar is a date that a spreadsheet made of what was typed; "
                 "format the column as text and type it again\n");
    assert_reads(',', "1/2", HK_DIM_PLAIN, 0.5);
    assert_reads(',', "12/16", HK_DIM_PLAIN, 0.75);
    assert_reads(',', "7-1/4", HK_DIM_PLAIN, 7.25);
    assert_reads(',', "12.12", HK_DIM_PLAIN, 12.12);
}

static void counts_are_whole(void **state)
{
    (void)state;
    static const struct {
        const char *text;
        int64_t count; /* -1: an error */
    } cells[] = {{"71", 71}, {"71.0", 71}, {"1 200", 1200}, {"1000000000000", INT64_C(1000000000000)}, {"7.5", -1},
                 {"1000000000001", -1}, {"0", -1}, {"-71", -1}, {"71 cm", -1}, {"", -1}};
    for (size_t i = 0; i < sizeof cells / sizeof cells[0]; i++) {
        struct hk_diags diags = {0};
        struct hk_cell cell = cell_make(',', cells[i].text, &diags);
        int64_t count = -1;
        assert_int_equal(hk_count_cell(cell, HK_SIGN_POSITIVE, &count, &diags), cells[i].count >= 0);
        assert_int_equal(count, cells[i].count);
        assert_int_equal(diags.errors, cells[i].count < 0);
        hk_diags_free(&diags);
        cell_free(cell);
    }
}

/* A file of tabs has no known origin: its decimal mark may be a point or a comma. */
static void in_files_of_tabs_three_decimals_are_asked_about(void **state)
{
    (void)state;
    static const struct {
        const char *text, *finding;
        double value;
    } cells[] = {
        {"1,5", NULL, 1.5}, {"1.5", NULL, 1.5}, {"12,0", NULL, 12}, {"0,125", NULL, 0.125}, {"1,2345", NULL, 1.2345},
        {"1,234.5", NULL, 1234.5}, {"1.234,5", NULL, 1234.5}, {"1,234,567", NULL, 1234567},
        {"1,000", "cells.csv:2:4: error: 1,000 can be read in two ways; write 1000 or 1.0000\n", 0},
        {"12,000", "cells.csv:2:4: error: 12,000 can be read in two ways; write 12000 or 12.0000\n", 0},
        {"1.000", "cells.csv:2:4: error: 1.000 can be read in two ways; write 1000 or 1.0000\n", 0},
        {"1.0000", NULL, 1},
    };
    for (size_t i = 0; i < sizeof cells / sizeof cells[0]; i++) {
        struct hk_diags diags = {0};
        struct hk_cell cell = cell_make('\t', cells[i].text, &diags);
        double value = 0;
        assert_int_equal(hk_quantity_cell(cell, HK_DIM_PLAIN, HK_SIGN_POSITIVE, &value, &diags), !cells[i].finding);
        assert_findings(&diags, cells[i].finding ? cells[i].finding : "");
        assert_close(value, cells[i].value, 0, 0);
        cell_free(cell);
    }
}

/*
 * One may mean one percent or the whole, and two is ambiguous in the same way; a number below one can only be a ratio.
 */
static void a_bare_one_is_no_percentage(void **state)
{
    (void)state;
    struct hk_diags diags = {0};
    double value = 7;
    struct hk_cell one = cell_make(',', "1", &diags), written = cell_make(',', "1.0", &diags), part = cell_make(',', "0.99", &diags);
    assert_false(hk_quantity_cell(one, HK_DIM_PERCENT, HK_SIGN_POSITIVE, &value, &diags));
    assert_findings(&diags, "cells.csv:2:4: error: 1 has no unit; write 1% or 100%\n");
    assert_false(hk_quantity_cell(written, HK_DIM_PERCENT, HK_SIGN_POSITIVE, &value, &diags));
    assert_findings(&diags, "cells.csv:2:4: error: 1.0 has no unit; write 1% or 100%\n");
    assert_true(hk_quantity_cell(part, HK_DIM_PERCENT, HK_SIGN_POSITIVE, &value, &diags));
    assert_close(value, 0.99, 0, 0);
    cell_free(one);
    cell_free(written);
    cell_free(part);
}

static void a_scan_stops_where_the_number_ends(void **state)
{
    (void)state;
    const char *text = "18 x 9", *cursor = text;
    double value;
    assert_true(hk_number_scan(&cursor, false, &value));
    assert_close(value, 18, 0, 0);
    assert_string_equal(cursor, " x 9");
    cursor = "4, contrast 2";
    assert_true(hk_number_scan(&cursor, false, &value));
    assert_string_equal(cursor, ", contrast 2");
    cursor = "3,5";
    assert_true(hk_number_scan(&cursor, false, &value));
    assert_string_equal(cursor, ",5");
    cursor = "3,5";
    assert_true(hk_number_scan(&cursor, true, &value));
    assert_close(value, 3.5, 0, 0);
    cursor = text = "x 9";
    assert_false(hk_number_scan(&cursor, false, &value));
    assert_ptr_equal(cursor, text);
    assert_close(value, 3.5, 0, 0);
}

/*
 * Inverse: the text that printf writes reads as the same double as in the C library (in the C locale), approximately
 * beyond 15 digits.
 */
static void printed_numbers_are_read_back(void **state)
{
    (void)state;
    uint64_t seed = 20240301;
    for (int i = 0; i < 20000; i++) {
        char text[64];
        double value = (double)(random_next(&seed) >> 11) / 0x1p53 * pow(10, (double)random_in(&seed, 0, 11));
        snprintf(text, sizeof text, "%.*f", (int)(random_next(&seed) % 7), value);
        const char *cursor = text;
        double read = -1;
        assert_true(hk_number_scan(&cursor, false, &read));
        assert_string_equal(cursor, "");
        assert_close(read, strtod(text, NULL), strlen(text) <= 16 ? 0 : 2.3e-16, 0);
    }
}

/* For all bytes: an answer, or else a finding, never both. */
static void garbage_is_answered(void **state)
{
    (void)state;
    static const char *const bits[] = {"1",
                                       "7",
                                       "0",
                                       "1/4",
                                       "\xC2\xBD",
                                       "in",
                                       "\"",
                                       "'",
                                       ",",
                                       ".",
                                       " ",
                                       "-",
                                       "e5",
                                       "g",
                                       "cm",
                                       "%",
                                       "Mar",
                                       "#REF!",
                                       "\xE2\x80\x93",
                                       "\xC3\xA4",
                                       "/",
                                       "999999999999",
                                       ":",
                                       "h",
                                       "min",
                                       "(",
                                       "\x01",
                                       "\xFF",
                                       "\xE2\x80",
                                       "\xC2\xA0"};
    uint64_t seed = 7;
    for (int i = 0; i < 50000; i++) {
        char text[256] = "";
        for (uint64_t n = random_next(&seed) % 9; n > 0; n--)
            strcat(text, bits[random_next(&seed) % (sizeof bits / sizeof bits[0])]);
        struct hk_diags diags = {0};
        double value = -7;
        bool read = hk_quantity_cell((struct hk_cell){.text = text}, (enum hk_dimension)(random_next(&seed) % 7),
                                     HK_SIGN_POSITIVE, &value, &diags);
        assert_int_equal(read, diags.errors == 0);
        assert_true(read ? value > 0 && value <= HK_QUANTITY_MOST : value == -7);
        hk_diags_free(&diags);
        const char *cursor = text;
        if (!hk_number_scan(&cursor, random_next(&seed) % 2, &value))
            assert_ptr_equal(cursor, text);
    }
}

static void what_only_begins_like_a_quantity_is_pointed_at(void **state)
{
    (void)state;
    assert_fails(',', "Err:x", HK_DIM_PLAIN, "cells.csv:2:4: error: \"Err:x\" is not a plain number; write it like 12.5\n");
    assert_fails(',', "2026-001-5", HK_DIM_PLAIN,
                 "cells.csv:2:8: error: \"2026-001-5\" is a range; write one value, like 12.5\n");
    assert_fails(',', "3 m + 4 m", HK_DIM_LENGTH,
                 "cells.csv:2:8: error: \"+ 4 m\" behind 3 m is not understood; write one value, like 18.5 cm or 7 1/4 in\n");
    assert_reads(',', "0.1234567890123456789012345 m", HK_DIM_LENGTH, 0.1234567890123456789012345);
    assert_reads(',', "1,234,567 m", HK_DIM_LENGTH, 1234567);
    assert_reads(',', "5 m 3 ft 2 in", HK_DIM_LENGTH, 5 + 3 * 0.3048 + 2 * 0.0254);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(units_are_exact),
        cmocka_unit_test(inches_of_patterns_are_their_centimetres),
        cmocka_unit_test(units_have_many_spellings),
        cmocka_unit_test(fractions_and_compounds_add_up),
        cmocka_unit_test(units_may_be_left_out_where_there_is_one),
        cmocka_unit_test(marks_are_read_where_they_can_mean_one_thing),
        cmocka_unit_test(marks_that_can_mean_two_things_are_asked_about),
        cmocka_unit_test(groups_that_are_not_of_three_are_no_thousands),
        cmocka_unit_test(a_missing_unit_is_reported_with_what_would_do),
        cmocka_unit_test(a_wrong_unit_is_pointed_at),
        cmocka_unit_test(a_long_unit_is_quoted_in_whole_characters),
        cmocka_unit_test(what_is_no_number_is_reported),
        cmocka_unit_test(zero_negative_and_huge_are_out_of_range),
        cmocka_unit_test(endless_digits_are_out_of_range),
        cmocka_unit_test(what_a_spreadsheet_spoiled_is_no_quantity),
        cmocka_unit_test(counts_are_whole),
        cmocka_unit_test(in_files_of_tabs_three_decimals_are_asked_about),
        cmocka_unit_test(a_bare_one_is_no_percentage),
        cmocka_unit_test(a_scan_stops_where_the_number_ends),
        cmocka_unit_test(printed_numbers_are_read_back),
        cmocka_unit_test(garbage_is_answered),
        cmocka_unit_test(what_only_begins_like_a_quantity_is_pointed_at),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
