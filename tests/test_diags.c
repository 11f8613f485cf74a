/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support.h"

#include "base/diags.h"

#include <stdlib.h>
#include <string.h>

#define COUNT(array) (sizeof(array) / sizeof(array)[0])

static struct hk_place at(const char *file, size_t line, size_t column)
{
    return (struct hk_place){file, line, column};
}

/* JSON readers depend on the names: lower-case words joined by dashes, each unique. */
static void every_code_has_a_kebab_name_of_its_own(void **state)
{
    (void)state;
    for (int code = 0; code < HK_CODE_END; code++) {
        const char *name = hk_code_name((enum hk_code)code);
        assert_non_null(name);
        assert_int_equal(strspn(name, "abcdefghijklmnopqrstuvwxyz-"), strlen(name));
        assert_true(strlen(name) > 1 && name[0] != '-' && name[strlen(name) - 1] != '-');
        for (int other = 0; other < code; other++)
            assert_string_not_equal(name, hk_code_name((enum hk_code)other));
    }
}

static void past_the_last_code_there_is_no_name(void **state)
{
    (void)state;
    assert_null(hk_code_name(HK_CODE_END));
    assert_null(hk_code_name((enum hk_code)(HK_CODE_END + 1)));
    assert_int_equal(hk_code_severity(HK_CODE_END), HK_SEVERITY_ERROR); /* an unknown code is not a note */
}

static enum hk_severity severity_meant(enum hk_code code)
{
    static const enum hk_code warnings[] = {
        HK_CODE_FILE_ENCODING, HK_CODE_COLUMN_UNKNOWN, HK_CODE_SCALE_COARSE,  HK_CODE_OUTLIER,
        HK_CODE_PRICE_MISSING, HK_CODE_SCATTER,        HK_CODE_OFFER_DOUBLED, HK_CODE_OFFER_LENGTH,
        HK_CODE_OFFER_SMALL,   HK_CODE_GRADING_FALLS,  HK_CODE_CATEGORY,      HK_CODE_UNUSUAL,
        HK_CODE_PRICE_NOTHING, HK_CODE_NOTE_FILLED,    HK_CODE_LINE_DOUBLED,  HK_CODE_ROLE_UNUSED,
        HK_CODE_FABRIC_HIDES,  HK_CODE_SWATCH_DOUBLED, HK_CODE_SIZE_WITHOUT,  HK_CODE_PRINT_LEFT,
    };
    for (size_t i = 0; i < sizeof warnings / sizeof warnings[0]; i++) {
        if (code == warnings[i])
            return HK_SEVERITY_WARNING;
    }
    bool note =
        code == HK_CODE_ASSUMPTION || code == HK_CODE_LENGTHS || code == HK_CODE_STANDS || code == HK_CODE_UNTAKEN ||
        code == HK_CODE_OK_UNUSED;
    return note ? HK_SEVERITY_NOTE : HK_SEVERITY_ERROR;
}

static void one_code_is_a_note_a_few_are_warnings_the_rest_errors(void **state)
{
    (void)state;
    for (int code = 0; code < HK_CODE_END; code++)
        assert_int_equal(hk_code_severity((enum hk_code)code), severity_meant((enum hk_code)code));
}

static void findings_come_in_the_order_of_files_then_places_then_as_found(void **state)
{
    (void)state;
    struct hk_diags diags = {0};
    hk_diags_add(&diags, HK_CODE_NUMBER, at("../learned/swatches.csv", 1, 1), "b");
    hk_diags_add(&diags, HK_CODE_NUMBER, at("stitches.csv", 1, 1), "c");
    hk_diags_add(&diags, HK_CODE_NUMBER, at("costs.csv", 1, 1), "a10");
    hk_diags_add(&diags, HK_CODE_NUMBER, at("progress.csv", 1, 1), "a9");
    hk_diags_add(&diags, HK_CODE_NUMBER, at("shops.csv", 1, 1), "a8");
    hk_diags_add(&diags, HK_CODE_NUMBER, at("offers.csv", 1, 1), "a7");
    hk_diags_add(&diags, HK_CODE_NUMBER, at("pieces.csv", 10, 2), "line 10 column 2");
    hk_diags_add(&diags, HK_CODE_NUMBER, at("pieces.csv", 9, 30), "first found");
    hk_diags_add(&diags, HK_CODE_NUMBER, at("pieces.csv", 9, 30), "found later");
    hk_diags_add(&diags, HK_CODE_NUMBER, at("pieces.csv", 9, 4), "column 4");
    hk_diags_add(&diags, HK_CODE_NUMBER, at("pieces.csv", 0, 0), "whole file");
    hk_diags_add(&diags, HK_CODE_NUMBER, at("swatches.csv", 1, 1), "a5");
    hk_diags_add(&diags, HK_CODE_NUMBER, at("fabrics.csv", 1, 1), "a4");
    hk_diags_add(&diags, HK_CODE_NUMBER, at("yarns.csv", 1, 1), "a3");
    hk_diags_add(&diags, HK_CODE_NUMBER, at("grade.csv", 1, 1), "a2");
    hk_diags_add(&diags, HK_CODE_NUMBER, at("project.csv", 1, 1), "a1");
    hk_diags_add(&diags, HK_CODE_FIT, at(NULL, 0, 0), "of no file");
    static const char *const expected[] = {
        "of no file",  "a1",       "a2",       "a3", "a4", "a5", "whole file", "column 4", "first found",
        "found later", "line 10 column 2", "a7", "a8", "a9", "a10", "b", "c",
    };
    hk_diags_sort(&diags);
    hk_diags_sort(&diags); /* remains here */
    assert_int_equal(diags.count, sizeof expected / sizeof expected[0]);
    for (size_t i = 0; i < diags.count; i++)
        assert_string_equal(diags.findings[i].message, expected[i]);
    hk_diags_free(&diags);
}

static void warnings_and_notes_leave_it_ok_and_an_error_does_not(void **state)
{
    (void)state;
    struct hk_diags diags = {0};
    assert_true(hk_diags_ok(&diags));
    hk_diags_add(&diags, HK_CODE_COLUMN_UNKNOWN, at("a.csv", 1, 1), "a warning");
    hk_diags_add(&diags, HK_CODE_ASSUMPTION, at("a.csv", 1, 1), "a note");
    assert_true(hk_diags_ok(&diags));
    hk_diags_add(&diags, HK_CODE_RANGE, at("a.csv", 1, 1), "an error");
    assert_false(hk_diags_ok(&diags));
    assert_int_equal(diags.errors, 1);
    hk_diags_free(&diags);
    assert_true(hk_diags_ok(&diags));
    diags.out_of_memory = true;
    assert_false(hk_diags_ok(&diags));
}

static void only_an_unreadable_file_is_the_machines_failure(void **state)
{
    (void)state;
    for (int code = 0; code < HK_CODE_END; code++) {
        struct hk_diags diags = {0};
        hk_diags_add(&diags, (enum hk_code)code, at("a.csv", 0, 0), "x");
        assert_int_equal(diags.machine, code == HK_CODE_FILE_UNREADABLE);
        hk_diags_free(&diags);
    }
}

static void the_same_finding_is_kept_once(void **state)
{
    (void)state;
    struct hk_diags diags = {0};
    hk_diags_add(&diags, HK_CODE_NUMBER, at("a.csv", 2, 3), "\"%s\" is not a number", "five");
    hk_diags_add(&diags, HK_CODE_RANGE, at("a.csv", 2, 3), "between");
    hk_diags_add(&diags, HK_CODE_NUMBER, at("a.csv", 2, 3), "\"five\" is not a number");
    hk_diags_hint(&diags, "write 5"); /* moves to the findings that are kept */
    hk_diags_add(&diags, HK_CODE_NUMBER, at("a.csv", 2, 4), "\"five\" is not a number");
    hk_diags_add(&diags, HK_CODE_NUMBER, at("b.csv", 2, 3), "\"five\" is not a number");
    hk_diags_add(&diags, HK_CODE_CHOICE, at("a.csv", 2, 3), "\"five\" is not a number");
    assert_int_equal(diags.errors, 5);
    assert_findings(&diags, "a.csv:2:3: error: \"five\" is not a number; write 5\n"
                            "a.csv:2:3: error: between\n"
                            "a.csv:2:3: error: \"five\" is not a number\n"
                            "a.csv:2:4: error: \"five\" is not a number\n"
                            "b.csv:2:3: error: \"five\" is not a number\n");
}

static void a_hint_belongs_to_the_finding_before_it_and_stays(void **state)
{
    (void)state;
    struct hk_diags diags = {0};
    hk_diags_hint(&diags, "of nothing");
    hk_diags_add(&diags, HK_CODE_NUMBER, at("a.csv", 1, 1), "found");
    hk_diags_hint(&diags, "write %d", 5);
    hk_diags_hint(&diags, "another");
    hk_diags_sort(&diags);
    hk_diags_hint(&diags, "late");
    assert_findings(&diags, "a.csv:1:1: error: found; write 5\n");
}

static void beyond_the_most_findings_are_only_counted(void **state)
{
    (void)state;
    struct hk_diags diags = {0};
    for (size_t i = 0; i < HK_FINDINGS_MOST; i++)
        hk_diags_add(&diags, HK_CODE_COLUMN_UNKNOWN, at("a.csv", i + 1, 1), "a warning");
    assert_int_equal(diags.dropped, 0);
    hk_diags_add(&diags, HK_CODE_COLUMN_UNKNOWN, at("b.csv", 1, 1), "dropped");
    hk_diags_hint(&diags, "of what was dropped");
    assert_int_equal(diags.count, HK_FINDINGS_MOST);
    assert_int_equal(diags.dropped, 1);
    assert_null(diags.findings[HK_FINDINGS_MOST - 1].hint);
    hk_diags_add(&diags, HK_CODE_NUMBER, at("b.csv", 1, 1), "an error takes the place of a warning");
    assert_int_equal(diags.count, HK_FINDINGS_MOST);
    assert_int_equal(diags.dropped, 2);
    assert_int_equal(diags.errors, 1);
    assert_int_equal(diags.findings[HK_FINDINGS_MOST - 1].code, HK_CODE_NUMBER);
    assert_int_equal(diags.findings[HK_FINDINGS_MOST - 2].at.line, HK_FINDINGS_MOST - 1);
    assert_false(hk_diags_ok(&diags));
    hk_diags_free(&diags);
}

static void texts_and_file_names_are_copies(void **state)
{
    (void)state;
    struct hk_diags diags = {0};
    char file[] = "a.csv", word[] = "five";
    hk_diags_add(&diags, HK_CODE_NUMBER, at(file, 1, 1), "%s", word);
    memset(file, 'x', sizeof file - 1);
    memset(word, 'x', sizeof word - 1);
    assert_findings(&diags, "a.csv:1:1: error: five\n");
}

/* Control characters never reach the terminal: ESC, BEL, DEL, line breaks, and CSI as one C1 character (C2 9B). */
static void control_characters_of_a_cell_become_blanks(void **state)
{
    (void)state;
    struct hk_diags diags = {0};
    hk_diags_add(&diags, HK_CODE_NUMBER, at("a.csv", 1, 1), "\"%s\"", "a\r\nb\x1B[31mc\x07\x7F\xC2\x9B" "d\xC3\xA9");
    assert_findings(&diags, "a.csv:1:1: error: \"a  b [31mc    d\xC3\xA9\"\n");
}

/* 300 bytes at each end are kept; "é" has two bytes, and no character is split. */
static void a_very_long_message_loses_its_middle(void **state)
{
    (void)state;
    for (int shift = 0; shift < 2; shift++) {
        struct hk_diags diags = {0};
        char cell[5001] = {0};
        for (size_t i = 0; i + 1 < sizeof cell; i += 2)
            memcpy(cell + i, "\xC3\xA9", 2);
        hk_diags_add(&diags, HK_CODE_NUMBER, at("a.csv", 1, 1), "%s%s%s is not a number", shift ? "a" : "", cell, shift ? "a" : "");
        const char *message = diags.findings[0].message;
        assert_true(strlen(message) <= 610);
        assert_non_null(strstr(message, "\xC3\xA9 ... \xC3\xA9"));
        assert_string_equal(message + strlen(message) - 16, " is not a number");
        hk_diags_free(&diags);
    }
}

static void a_host_asks_for_findings_by_calls(void **state)
{
    (void)state;
    struct hk_diags diags = {0};
    assert_int_equal(hk_diags_count(&diags), 0);
    assert_null(hk_diags_finding(&diags, 0));
    hk_diags_add(&diags, HK_CODE_COLUMN_UNKNOWN, at("a.csv", 1, 1), "first");
    hk_diags_add(&diags, HK_CODE_FILE_UNREADABLE, at("b.csv", 0, 0), "second");
    assert_int_equal(hk_diags_count(&diags), 2);
    assert_string_equal(hk_diags_finding(&diags, 1)->message, "second");
    assert_null(hk_diags_finding(&diags, 2));
    assert_int_equal(hk_diags_errors(&diags), 1);
    assert_int_equal(hk_diags_dropped(&diags), 0);
    assert_true(hk_diags_machine_failed(&diags));
    assert_false(hk_diags_out_of_memory(&diags));
    hk_diags_set_out_of_memory(&diags);
    assert_true(hk_diags_out_of_memory(&diags));
    assert_false(hk_diags_ok(&diags));
    hk_diags_free(&diags);
}

/* ---- Accepted findings ---- */

static struct hk_ok_lines lines(const char *file, size_t first, size_t last)
{
    return (struct hk_ok_lines){{file, first, 40}, first, last};
}

static void an_accepted_finding_is_set_aside_with_its_hint(void **state)
{
    (void)state;
    struct hk_diags diags = {0};
    hk_diags_accept(&diags, HK_CODE_UNUSUAL, lines("a.csv", 3, 3));
    hk_diags_add(&diags, HK_CODE_UNUSUAL, at("a.csv", 3, 1), "accepted");
    hk_diags_hint(&diags, "its hint");
    hk_diags_add(&diags, HK_CODE_UNUSUAL, at("a.csv", 3, 1), "accepted");
    hk_diags_add(&diags, HK_CODE_UNUSUAL, at("a.csv", 4, 1), "another line");
    hk_diags_add(&diags, HK_CODE_UNUSUAL, at("b.csv", 3, 1), "another file");
    hk_diags_add(&diags, HK_CODE_CATEGORY, at("a.csv", 3, 1), "another code");
    hk_diags_add(&diags, HK_CODE_UNUSUAL, at("a.csv", 0, 0), "the whole file");
    hk_diags_add(&diags, HK_CODE_UNUSUAL, at(NULL, 3, 1), "no file");
    hk_diags_hint(&diags, "the hint of the last one");
    assert_int_equal(hk_diags_accepted(&diags), 1);
    assert_string_equal(hk_diags_accepted_finding(&diags, 0)->message, "accepted");
    assert_string_equal(hk_diags_accepted_finding(&diags, 0)->hint, "its hint");
    assert_null(hk_diags_accepted_finding(&diags, 1));
    assert_true(hk_diags_ok(&diags));
    assert_findings(&diags, "-:3:1: warning: no file; the hint of the last one\n"
                            "a.csv:0:0: warning: the whole file\n"
                            "a.csv:3:1: warning: another code\n"
                            "a.csv:4:1: warning: another line\n"
                            "b.csv:3:1: warning: another file\n");
}

/* What was found before the cell was read is set aside too; a hint that comes later does not go astray. */
static void what_was_found_before_is_set_aside_too(void **state)
{
    (void)state;
    struct hk_diags diags = {0};
    hk_diags_add(&diags, HK_CODE_CATEGORY, at("a.csv", 2, 1), "stays");
    hk_diags_add(&diags, HK_CODE_UNUSUAL, at("a.csv", 3, 9), "second");
    hk_diags_add(&diags, HK_CODE_UNUSUAL, at("a.csv", 2, 5), "first");
    hk_diags_accept(&diags, HK_CODE_UNUSUAL, lines("a.csv", 2, 3));
    hk_diags_hint(&diags, "late");
    hk_diags_sort(&diags);
    assert_int_equal(hk_diags_accepted(&diags), 2);
    assert_string_equal(hk_diags_accepted_finding(&diags, 0)->message, "first");
    assert_string_equal(hk_diags_accepted_finding(&diags, 1)->message, "second");
    hk_diags_unused(&diags);
    assert_findings(&diags, "a.csv:2:1: warning: stays\n");
}

/* Lines in any order, many files, each code of a line by itself: against a plain list. */
static void acceptances_are_found_as_in_a_plain_list(void **state)
{
    static const enum hk_code codes[] = {HK_CODE_UNUSUAL, HK_CODE_CATEGORY, HK_CODE_OFFER_SMALL, HK_CODE_ASSUMPTION};
    static const char *const files[] = {"a.csv", "b.csv", "../shawl/a.csv", "c.csv", "d.csv"};
    enum { line_count = 30 };
    (void)state;
    uint64_t seed = 16;
    for (int round = 0; round < 200; round++) {
        bool accepted[COUNT(files)][line_count + 1][COUNT(codes)] = {0};
        struct hk_diags diags = {0}, other = {0};
        for (int i = 0; i < 40; i++) {
            const size_t f = (size_t)random_in(&seed, 0, COUNT(files) - 1), c = (size_t)random_in(&seed, 0, COUNT(codes) - 1);
            const size_t first = 3 * (size_t)random_in(&seed, 0, line_count / 3 - 1) + 1; /* rows of two lines, then a gap */
            hk_diags_accept(&diags, codes[c], lines(files[f], first, first + 1));
            accepted[f][first][c] = accepted[f][first + 1][c] = true;
        }
        assert_true(hk_diags_accept_as(&other, &diags));
        size_t expected = 0;
        for (size_t f = 0; f < COUNT(files); f++)
            for (size_t line = 1; line <= line_count; line++)
                for (size_t c = 0; c < COUNT(codes); c++) {
                    hk_diags_add(&diags, codes[c], at(files[f], line, 1), "found");
                    hk_diags_add(&other, codes[c], at(files[f], line, 1), "found");
                    expected += accepted[f][line][c];
                    assert_int_equal(hk_diags_accepted(&diags), expected);
                }
        assert_int_equal(hk_diags_accepted(&other), expected);
        assert_int_equal(hk_diags_count(&diags), COUNT(files) * line_count * COUNT(codes) - expected);
        hk_diags_free(&diags);
        hk_diags_free(&other);
    }
}

/* The price of a yarn and assumptions are looked at by later stages: of these nothing is said. */
static void what_is_accepted_in_vain_is_said(void **state)
{
    (void)state;
    struct hk_diags diags = {0};
    hk_diags_accept(&diags, HK_CODE_UNUSUAL, lines("a.csv", 2, 2));
    hk_diags_accept(&diags, HK_CODE_CATEGORY, lines("a.csv", 2, 2));
    hk_diags_accept(&diags, HK_CODE_PRICE_MISSING, lines("a.csv", 2, 2));
    hk_diags_accept(&diags, HK_CODE_ASSUMPTION, lines("b.csv", 7, 9));
    hk_diags_add(&diags, HK_CODE_UNUSUAL, at("a.csv", 2, 1), "met");
    hk_diags_unused(&diags);
    assert_findings(&diags, "a.csv:2:40: note: ok: \"category\" is accepted here, and nothing is found that it stands for; "
                            "take it out\n");
    hk_diags_unused(&diags);
    assert_int_equal(hk_diags_count(&diags), 0); /* an empty list accepts nothing */
}

/* Accepted findings take no place among the others, even where those fill the list. */
static void accepted_findings_beyond_the_most_are_only_counted(void **state)
{
    (void)state;
    struct hk_diags diags = {0};
    hk_diags_accept(&diags, HK_CODE_UNUSUAL, lines("a.csv", 1, HK_FINDINGS_MOST + 5));
    for (size_t i = 0; i < HK_FINDINGS_MOST; i++)
        hk_diags_add(&diags, HK_CODE_CATEGORY, at("a.csv", i + 1, 1), "kept");
    for (size_t i = 0; i < HK_FINDINGS_MOST + 5; i++) {
        hk_diags_add(&diags, HK_CODE_UNUSUAL, at("a.csv", i + 1, 1), "accepted");
        hk_diags_hint(&diags, "line %zu", i + 1);
    }
    assert_int_equal(hk_diags_count(&diags), HK_FINDINGS_MOST);
    assert_int_equal(hk_diags_dropped(&diags), 0);
    assert_int_equal(hk_diags_accepted(&diags), HK_FINDINGS_MOST + 5);
    assert_string_equal(hk_diags_accepted_finding(&diags, HK_FINDINGS_MOST - 1)->hint, "line 1000");
    assert_null(hk_diags_accepted_finding(&diags, HK_FINDINGS_MOST));
    hk_diags_free(&diags);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_accepted_finding_is_set_aside_with_its_hint),
        cmocka_unit_test(what_was_found_before_is_set_aside_too),
        cmocka_unit_test(acceptances_are_found_as_in_a_plain_list),
        cmocka_unit_test(what_is_accepted_in_vain_is_said),
        cmocka_unit_test(accepted_findings_beyond_the_most_are_only_counted),
        cmocka_unit_test(a_host_asks_for_findings_by_calls),
        cmocka_unit_test(every_code_has_a_kebab_name_of_its_own),
        cmocka_unit_test(past_the_last_code_there_is_no_name),
        cmocka_unit_test(one_code_is_a_note_a_few_are_warnings_the_rest_errors),
        cmocka_unit_test(findings_come_in_the_order_of_files_then_places_then_as_found),
        cmocka_unit_test(warnings_and_notes_leave_it_ok_and_an_error_does_not),
        cmocka_unit_test(only_an_unreadable_file_is_the_machines_failure),
        cmocka_unit_test(the_same_finding_is_kept_once),
        cmocka_unit_test(a_hint_belongs_to_the_finding_before_it_and_stays),
        cmocka_unit_test(beyond_the_most_findings_are_only_counted),
        cmocka_unit_test(texts_and_file_names_are_copies),
        cmocka_unit_test(control_characters_of_a_cell_become_blanks),
        cmocka_unit_test(a_very_long_message_loses_its_middle),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
