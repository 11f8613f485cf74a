/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support.h"

#include "input/ok_words.h"
#include "input/table.h"

#include <string.h>

#define COUNT(array) (sizeof(array) / sizeof(array)[0])

static struct hk_place place(const void *host, size_t offset)
{
    struct hk_place at = *(const struct hk_place *)host;
    at.column += offset;
    return at;
}

/* Reads the text as what stands in line 3, column 10, of a.csv, for the lines 3 and 4. */
static void read_words(const char *text, size_t from, struct hk_diags *diags)
{
    const struct hk_place at = {"a.csv", 3, 10};
    hk_ok_words(text, from, (struct hk_ok_lines){at, 3, 4}, place, &at, diags);
}

static bool accepts(struct hk_diags *diags, size_t line, enum hk_code code)
{
    const size_t before = hk_diags_accepted(diags);
    hk_diags_add(diags, code, (struct hk_place){"a.csv", line, (size_t)code + 1}, "found");
    return hk_diags_accepted(diags) > before;
}

static void codes_are_separated_by_blanks_commas_semicolons_and_brackets(void **state)
{
    static const char *const same[] = {
        "unusual grading-falls", "unusual,grading-falls", "unusual; grading-falls", "[unusual] [grading-falls]",
        "  Unusual ,, GRADING-FALLS ", "unusual grading\xE2\x80\x93" "falls", /* an en dash, as word processors write it */
        "unusual unusual grading-falls unusual", "unusual\xC2\xA0grading-falls",
    };
    (void)state;
    for (size_t i = 0; i < COUNT(same); i++) {
        struct hk_diags diags = {0};
        read_words(same[i], 0, &diags);
        assert_true(accepts(&diags, 3, HK_CODE_UNUSUAL));
        assert_true(accepts(&diags, 4, HK_CODE_GRADING_FALLS));
        assert_false(accepts(&diags, 3, HK_CODE_CATEGORY));
        assert_false(accepts(&diags, 2, HK_CODE_UNUSUAL));
        assert_false(accepts(&diags, 5, HK_CODE_UNUSUAL));
        assert_int_equal(hk_diags_errors(&diags), 0);
        hk_diags_free(&diags);
    }
}

static void an_empty_text_accepts_nothing(void **state)
{
    static const char *const empty[] = {"", " ", ",;", "[]"};
    (void)state;
    for (size_t i = 0; i < COUNT(empty); i++) {
        struct hk_diags diags = {0};
        read_words(empty[i], 0, &diags);
        assert_int_equal(hk_diags_count(&diags), 0);
        hk_diags_free(&diags);
    }
}

/* Columns count from 10; the text begins at the byte given. */
static void a_word_that_is_no_code_of_a_warning_is_an_error_in_its_place(void **state)
{
    struct hk_diags diags = {0};
    (void)state;
    read_words("ok: unusal, range; xyzzy ok-unused", 3, &diags);
    assert_findings(&diags,
                    "a.csv:3:14: error: ok: \"unusal\" is not the code of a warning; did you mean \"unusual\"? each warning "
                    "ends with its code in brackets\n"
                    "a.csv:3:22: error: ok: \"range\" is an error, and an error cannot be accepted; correct the error, and "
                    "take the code out\n"
                    "a.csv:3:29: error: ok: \"xyzzy\" is not the code of a warning; each warning ends with its code in "
                    "brackets\n"
                    "a.csv:3:35: error: ok: \"ok-unused\" is not the code of a warning; did you mean \"role-unused\"? each "
                    "warning ends with its code in brackets\n");
}

/* Every code of a warning or a note can be accepted but the one that says so, and no code of an error. */
static void all_codes_but_errors_can_be_accepted(void **state)
{
    (void)state;
    for (int code = 0; code < HK_CODE_END; code++) {
        struct hk_diags diags = {0};
        read_words(hk_code_name((enum hk_code)code), 0, &diags);
        const bool can = hk_code_severity((enum hk_code)code) != HK_SEVERITY_ERROR && code != HK_CODE_OK_UNUSED;
        assert_int_equal(hk_diags_errors(&diags), can ? 0 : 1);
        hk_diags_free(&diags);
    }
}

/* ---- In a table ---- */

static const struct hk_column columns[] = {{"role", true, true}, {"yarn", false, false}, {NULL, false, false}};

static struct hk_table *read_table(const char *text, bool accepting, struct hk_diags *diags)
{
    const struct memory_file files[] = {{"a.csv", text, 0}, {NULL, NULL, 0}};
    struct hk_source source = memory_source(files);
    return hk_table_read(&source, "a.csv", (struct hk_table_options){.columns = columns, .accepts = accepting}, diags);
}

static void a_column_ok_accepts_for_all_lines_of_its_row(void **state)
{
    struct hk_diags diags = {0};
    (void)state;
    struct hk_table *table = read_table("role,OK,yarn\nmain,unusual,x\ncc,category,\"two\nlines\"\n\n#,unusual\nb,,\n", true, &diags);
    assert_non_null(table);
    assert_int_equal(hk_table_ok(table), 1);
    assert_true(accepts(&diags, 2, HK_CODE_UNUSUAL));
    assert_false(accepts(&diags, 3, HK_CODE_UNUSUAL));
    assert_true(accepts(&diags, 3, HK_CODE_CATEGORY));
    assert_true(accepts(&diags, 4, HK_CODE_CATEGORY));
    assert_false(accepts(&diags, 5, HK_CODE_CATEGORY));
    assert_false(accepts(&diags, 6, HK_CODE_UNUSUAL)); /* a note is no row */
    hk_table_free(table);
    hk_diags_free(&diags);
}

static void a_header_accepts_findings_about_the_header(void **state)
{
    struct hk_diags diags = {0};
    (void)state;
    struct hk_table *table = read_table("role,mine,ok: column-unknown\nmain,1,unusual\n", true, &diags);
    assert_non_null(table);
    assert_int_equal(hk_diags_accepted(&diags), 1);
    assert_true(accepts(&diags, 2, HK_CODE_UNUSUAL));
    hk_table_free(table);
    assert_findings(&diags, "");
}

/* The places of words are those of the file: column 6 of line 2, behind the opening quote. */
static void words_of_a_cell_have_their_place_in_the_file(void **state)
{
    struct hk_diags diags = {0};
    (void)state;
    hk_table_free(read_table("role,ok,ok\nmain,\"width, x\"\n", true, &diags));
    assert_findings(&diags,
                    "a.csv:1:9: error: the column \"ok\" stands twice; rename or remove one: the first is column 2\n"
                    "a.csv:2:7: error: ok: \"width\" is an error, and an error cannot be accepted; correct the error, and "
                    "take the code out\n"
                    "a.csv:2:14: error: ok: \"x\" is not the code of a warning; each warning ends with its code in "
                    "brackets\n");
}

static void a_shipped_table_has_no_such_column(void **state)
{
    struct hk_diags diags = {0};
    (void)state;
    struct hk_table *table = read_table("role,ok\nmain,unusual\n", false, &diags);
    assert_non_null(table);
    assert_int_equal(hk_table_ok(table), SIZE_MAX);
    assert_false(accepts(&diags, 2, HK_CODE_UNUSUAL));
    hk_table_free(table);
    hk_diags_free(&diags);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(codes_are_separated_by_blanks_commas_semicolons_and_brackets),
        cmocka_unit_test(an_empty_text_accepts_nothing),
        cmocka_unit_test(a_word_that_is_no_code_of_a_warning_is_an_error_in_its_place),
        cmocka_unit_test(all_codes_but_errors_can_be_accepted),
        cmocka_unit_test(a_column_ok_accepts_for_all_lines_of_its_row),
        cmocka_unit_test(a_header_accepts_findings_about_the_header),
        cmocka_unit_test(words_of_a_cell_have_their_place_in_the_file),
        cmocka_unit_test(a_shipped_table_has_no_such_column),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
