/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support.h"

#include "base/money.h"
#include "input/money_cell.h"

#include <string.h>

static void assert_price(char separator, const char *text, const char *currency, int digits, int64_t expected)
{
    struct hk_diags diags = {0};
    struct hk_cell cell = cell_make(separator, text, &diags);
    int64_t minor = -7;
    bool read = hk_money_cell(cell, currency, digits, &minor, &diags);
    assert_findings(&diags, "");
    assert_true(read);
    assert_true(minor == expected);
    cell_free(cell);
}

static void assert_no_price(char separator, const char *text, const char *currency, int digits, const char *expected)
{
    struct hk_diags diags = {0};
    struct hk_cell cell = cell_make(separator, text, &diags);
    int64_t minor = -7;
    assert_false(hk_money_cell(cell, currency, digits, &minor, &diags));
    assert_true(minor == -7);
    assert_findings(&diags, expected);
    cell_free(cell);
}

/* (ISO 4217 list one, 2024-06-25): JPY 0, EUR 2, KWD 3, CLF 4 digits. */
static void each_currency_has_its_digits(void **state)
{
    (void)state;
    assert_price(',', "640", "JPY", 0, 640);
    assert_price(',', "6.40", "EUR", 2, 640);
    assert_price(',', "6.4", "EUR", 2, 640);
    assert_price(',', "6", "EUR", 2, 600);
    assert_price(',', "6.405", "KWD", 3, 6405);
    assert_price(',', "6.4051", "CLF", 4, 64051);
    assert_price(',', "0", "EUR", 2, 0);
    assert_no_price(',', "6.405", "EUR", 2,
                    "cells.csv:2:4: error: 6.405 has too many digits after the point; write at most 2\n");
    assert_no_price(',', "6.4", "JPY", 0,
                    "cells.csv:2:4: error: 6.4 has too many digits after the point; write a whole number\n");
}

static void the_currency_may_be_written(void **state)
{
    (void)state;
    assert_price(',', "EUR 6.40", "EUR", 2, 640);
    assert_price(',', "6.40 eur", "EUR", 2, 640);
    assert_price(',', "\xE2\x82\xAC" "6.40", "EUR", 2, 640);
    assert_price(',', "$6.40", "CAD", 2, 640);
    assert_price(',', "6,40 kr", "NOK", 2, 640);
    assert_no_price(',', "USD 6.40", "EUR", 2,
                    "cells.csv:2:4: error: USD is not this design's currency; write the price in EUR\n");
    assert_no_price(',', "6.40 \xC2\xA3", "EUR", 2,
                    "cells.csv:2:9: error: \xC2\xA3 is not this design's currency; write the price in EUR\n");
    assert_no_price(',', "6.40 EUR", "", 2,
                    "cells.csv:2:9: error: EUR is not this design's currency; "
                    "state the currency in project.csv, as a row such as currency,EUR\n");
    assert_price(',', "6.40", NULL, 2, 640);
}

/* With two minor digits, three digits after the mark must be thousands; with three they are ambiguous. */
static void digits_of_the_currency_settle_what_a_mark_means(void **state)
{
    (void)state;
    assert_price(',', "6,40", "EUR", 2, 640);
    assert_price(';', "6,40", "EUR", 2, 640);
    assert_price(',', "1,234", "EUR", 2, 123400);
    assert_price(';', "1.234", "EUR", 2, 123400);
    assert_price(',', "1,234.50", "EUR", 2, 123450);
    assert_price(';', "1.234,50", "EUR", 2, 123450);
    assert_price(',', "1,234", "JPY", 0, 1234);
    assert_no_price(',', "1,234", "KWD", 3,
                    "cells.csv:2:4: error: 1,234 can be read in two ways; write 1234 or 1.234\n");
}

static void what_is_no_price_is_reported(void **state)
{
    (void)state;
    assert_no_price(',', "6 1/2", "EUR", 2, "cells.csv:2:4: error: \"6 1/2\" is not a price; write it like EUR 6.40\n");
    assert_no_price(',', "cheap", "EUR", 2,
                    "cells.csv:2:4: error: \"cheap\" is not a price; write it like EUR 6.40, and what costs nothing as 0\n");
    assert_no_price(',', "6.40 each", "EUR", 2,
                    "cells.csv:2:9: error: \"6.40 each\" is not a price; write it like EUR 6.40\n");
    assert_no_price(',', "-6.40", "EUR", 2,
                    "cells.csv:2:4: error: -6.40 is below zero; write a price of zero or more\n");
    assert_no_price(',', "6-Apr", "EUR", 2,
                    "cells.csv:2:4: error: 6-Apr is a date that a spreadsheet made of what was typed; "
                    "format the column as text and type it again\n");
    assert_no_price(',', "nan", "EUR", 2,
                    "cells.csv:2:4: error: \"nan\" is not a price; write it like EUR 6.40, and what costs nothing as 0\n");
}

/* 10^15 minor units are 10^13 of a currency with cents. */
static void the_largest_price_is_read_and_the_next_is_not(void **state)
{
    (void)state;
    assert_price(',', "10000000000000", "EUR", 2, HK_MONEY_MOST);
    assert_no_price(
        ',', "10000000000000.01", "EUR", 2,
        "cells.csv:2:4: error: 10000000000000.01 is larger than any price; write a price of zero or more\n");
    assert_no_price(
        ',', "99999999999999999999999999", "EUR", 2,
        "cells.csv:2:4: error: 99999999999999999999999999 is larger than any price; write a price of zero or more\n");
}

/* 12.5% of 1.00 is 0.125, half up 0.13; of 0.99 it is 0.12375, down to 0.12; of 0.04 it is 0.005, up to 0.01. */
static void a_share_is_rounded_half_up(void **state)
{
    (void)state;
    int64_t minor = -7;
    assert_true(hk_money_share(100, 125000, &minor) && minor == 13);
    assert_true(hk_money_share(99, 125000, &minor) && minor == 12);
    assert_true(hk_money_share(4, 125000, &minor) && minor == 1);
    assert_true(hk_money_share(12345, 1000000, &minor) && minor == 12345);
    assert_true(hk_money_share(12345, 0, &minor) && minor == 0);
    assert_true(hk_money_share(HK_MONEY_MOST, 1000000, &minor) && minor == HK_MONEY_MOST);
    assert_true(hk_money_share(HK_MONEY_MOST, 999999, &minor) && minor == HK_MONEY_MOST / 1000000 * 999999);
}

static void a_share_beyond_the_range_changes_nothing(void **state)
{
    (void)state;
    int64_t minor = -7;
    assert_false(hk_money_share(HK_MONEY_MOST, 1000001, &minor));
    assert_false(hk_money_share(INT64_MAX, INT64_MAX, &minor));
    assert_false(hk_money_share(-1, 1000000, &minor));
    assert_false(hk_money_share(1, -1, &minor));
    assert_true(minor == -7);
}

static void assert_money_text(int64_t minor, int digits, const char *expected)
{
    char text[HK_MONEY_TEXT];
    hk_money_text(minor, digits, text);
    assert_string_equal(text, expected);
}

static void money_is_written_with_all_its_digits(void **state)
{
    (void)state;
    assert_money_text(3840, 2, "38.40");
    assert_money_text(1200, 0, "1200");
    assert_money_text(0, 0, "0");
    assert_money_text(0, 2, "0.00");
    assert_money_text(5, 2, "0.05");
    assert_money_text(-5, 2, "-0.05");
    assert_money_text(6405, 3, "6.405");
    assert_money_text(INT64_MIN, 18, "-9.223372036854775808");
    assert_money_text(INT64_MAX, 1, "922337203685477580.7");
    assert_money_text(5, 19, "");
    assert_money_text(5, -1, "");
}

/* Inverse: a formatted amount reads back as the same amount, in either kind of file and for every number of digits. */
static void money_written_is_money_read(void **state)
{
    (void)state;
    for (int64_t minor = 0; minor < HK_MONEY_MOST; minor = minor * 7 + 3) {
        for (int digits = 0; digits <= 4; digits++) {
            char text[HK_MONEY_TEXT];
            hk_money_text(minor, digits, text);
            assert_price(',', text, "EUR", digits, minor);
        }
    }
}

static void garbage_is_answered(void **state)
{
    (void)state;
    static const char *const bits[] = {"1", "6.40",         ",",   ".", " ",  "EUR",  "$", "\xE2\x82\xAC",
                                       "-", "999999999999", "1/2", "'", "kr", "\xFF", "x", "000"};
    uint64_t seed = 5;
    for (int i = 0; i < 20000; i++) {
        char text[256] = "";
        for (uint64_t n = random_next(&seed) % 8; n > 0; n--)
            strcat(text, bits[random_next(&seed) % (sizeof bits / sizeof bits[0])]);
        struct hk_diags diags = {0};
        int64_t minor = -7;
        bool read = hk_money_cell((struct hk_cell){.text = text}, "EUR", (int)random_in(&seed, 0, 4), &minor, &diags);
        assert_int_equal(read, diags.errors == 0);
        assert_true(read ? minor >= 0 && minor <= HK_MONEY_MOST : minor == -7);
        hk_diags_free(&diags);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_currency_has_its_digits),
        cmocka_unit_test(the_currency_may_be_written),
        cmocka_unit_test(digits_of_the_currency_settle_what_a_mark_means),
        cmocka_unit_test(what_is_no_price_is_reported),
        cmocka_unit_test(the_largest_price_is_read_and_the_next_is_not),
        cmocka_unit_test(a_share_is_rounded_half_up),
        cmocka_unit_test(a_share_beyond_the_range_changes_nothing),
        cmocka_unit_test(money_is_written_with_all_its_digits),
        cmocka_unit_test(money_written_is_money_read),
        cmocka_unit_test(garbage_is_answered),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
