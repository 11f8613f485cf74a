/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Changes that spreadsheets make to cells, by the behaviour of the common ones (common practice, no source). */
#include "support.h"

#include "input/spreadsheet_damage.h"

#include <stdio.h>

/* The finding for a cell of the file cells.csv, whose first character is in column 4; NULL: undamaged. */
static void assert_damaged(const char *text, const char *what)
{
    struct hk_diags diags = {0};
    struct hk_arena arena = {0};
    struct hk_span span;
    struct hk_cell cell = cell_make(';', text, &diags);
    char expected[256] = "";
    assert_true(hk_span_make(cell, &span, &arena));
    if (what)
        snprintf(expected, sizeof expected, "cells.csv:2:4: error: %s %s\n", span.text, what);
    assert_int_equal(hk_spreadsheet_damage(&span, &diags), what != NULL);
    assert_findings(&diags, expected);
    hk_arena_free(&arena);
    cell_free(cell);
}

static void dates_are_distinguished_from_numbers(void **state)
{
    (void)state;
    static const char *const dates[] = {
        "2024-03-01",
        "2024-03-01 00:00:00",
        "2024/3/1",
        "01/02/2024",
        "1/2/24",
        "01.02.2024",
        "05.06.",
        "01/02",
        "1-Mar",
        "Mar-71",
        "mars-71",
        "05. Jun",
        "5. M\xC3\xA4r",
        "12 March 2024",
        "Jun 24",
        "12 d\xC3\xA9"
        "c. 2024",
        "7-Okt",
        "ao\xC3\xBBt-83",
        "2026-1-5",
        "15.1.26",
        "1/02",
        "01/2",
        "5-Jan",
        "2026-01-15T10:30",
    };
    for (size_t i = 0; i < sizeof dates / sizeof dates[0]; i++)
        assert_damaged(dates[i],
                       "is a date that a spreadsheet made of what was typed; format the column as text and type it "
                       "again");
}

static void errors_powers_and_times_are_distinguished_from_numbers(void **state)
{
    (void)state;
    static const char *const errors[] = {"#REF!", "#NAME?",  "#VALUE!", "#WERT!", "###",
                                         "####",  "#DIV/0!", "#N/A",    "Err:502"};
    static const char *const powers[] = {"1.2E+05", "1,2E+05", "1e30"};
    for (size_t i = 0; i < sizeof errors / sizeof errors[0]; i++)
        assert_damaged(errors[i], "is a spreadsheet's error, not a value; type the value itself");
    for (size_t i = 0; i < sizeof powers / sizeof powers[0]; i++)
        assert_damaged(powers[i],
                       "is how a spreadsheet shortens a long number; digits may be lost; format the column as text and "
                       "type the number with all its digits");
    assert_damaged("01:10:00",
                   "is a time of day that a spreadsheet made of what was typed; format the column as text and type it "
                   "again; for a time write 25 min or 1 h 10 min");
}

static void what_only_looks_spoiled_is_sound(void **state)
{
    (void)state;
    static const char *const sound[] = {"",           "71",    "1/2", "12/16",    "7-1/4",        "12.12",
                                        "2026-001-5", "Err:x", "mar", "12 d",     "1 e",          "3:1",
                                        "4-6",        "#",     "# 7", "18 marks", "5 may 6 may 7"};
    for (size_t i = 0; i < sizeof sound / sizeof sound[0]; i++)
        assert_damaged(sound[i], NULL);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(dates_are_distinguished_from_numbers),
        cmocka_unit_test(errors_powers_and_times_are_distinguished_from_numbers),
        cmocka_unit_test(what_only_looks_spoiled_is_sound),
    };
    return cmocka_run_group_tests_name("spreadsheet-damage", tests, NULL, NULL);
}
