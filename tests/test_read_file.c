/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The text that read_file.c makes from a file's bytes; the refused formats are in test_table.c, as users meet them. */
#include "support.h"

#include "input/read_file.h"

#include <iconv.h>
#include <stdlib.h>
#include <string.h>

static enum hk_file_read read_from(const struct hk_source *source, size_t most, char **text, size_t *length,
                                   struct hk_diags *diags)
{
    struct hk_file_text file = {.text = *text, .bytes = *length};
    enum hk_file_read read = hk_read_file(source, "a.csv", most, &file, diags);
    *text = file.text;
    *length = file.bytes;
    return read;
}

static enum hk_file_read read(const char *bytes, size_t size, char **text, size_t *length, struct hk_diags *diags)
{
    const struct memory_file files[] = {{"a.csv", bytes, size}, {NULL, NULL, 0}};
    struct hk_source source = memory_source(files);
    return read_from(&source, (size_t)1 << 20, text, length, diags);
}

static void utf8_is_taken_as_it_is_and_closed_by_a_zero(void **state)
{
    (void)state;
    const char *text = "\xE8\x8C\x9C,b\r\n";
    char *got = NULL;
    size_t length = 0;
    struct hk_diags diags = {0};
    assert_int_equal(read(text, strlen(text), &got, &length, &diags), HK_FILE_READ_WHOLE);
    assert_findings(&diags, "");
    assert_int_equal(length, strlen(text));
    assert_string_equal(got, text);
    free(got);
}

static void the_byte_order_mark_and_the_old_end_mark_are_left_out(void **state)
{
    (void)state;
    char *got = NULL;
    size_t length = 0;
    struct hk_diags diags = {0};
    assert_int_equal(read("\xEF\xBB\xBF"
                          "a\n\x1A",
                          6, &got, &length, &diags),
                     HK_FILE_READ_WHOLE);
    assert_findings(&diags, "");
    assert_string_equal(got, "a\n");
    assert_int_equal(length, 2);
    free(got);
}

/* Independent reference: the C library's own converter. It has no character for the five unassigned bytes. */
static void every_western_byte_is_what_iconv_makes_of_it(void **state)
{
    (void)state;
    iconv_t converter = iconv_open("UTF-8", "WINDOWS-1252");
    if (converter == (iconv_t)-1)
        skip();
    size_t unassigned = 0;
    for (int byte = 0x80; byte < 0x100; byte++) {
        char text[] = "a?b", expected[16] = "\xEF\xBF\xBD"; /* U+FFFD */
        text[1] = (char)byte;
        char *in = text + 1, *out = expected;
        size_t in_left = 1, out_left = sizeof expected - 1;
        if (iconv(converter, &in, &in_left, &out, &out_left) == (size_t)-1)
            unassigned++;
        else
            *out = '\0';
        char *got = NULL;
        size_t length = 0;
        struct hk_diags diags = {0};
        assert_int_equal(read(text, 3, &got, &length, &diags), HK_FILE_READ_WHOLE);
        assert_int_equal(diags.count, 1);
        assert_int_equal(diags.findings[0].at.column, 2);
        assert_int_equal(length, 2 + strlen(expected));
        assert_int_equal(got[0], 'a');
        assert_memory_equal(got + 1, expected, strlen(expected));
        assert_string_equal(got + 1 + strlen(expected), "b");
        free(got);
        hk_diags_free(&diags);
    }
    iconv_close(converter);
    assert_int_equal(unassigned, 5);
}

static void a_failure_leaves_the_outputs_alone(void **state)
{
    (void)state;
    char mark = 0, *got = &mark;
    size_t length = 7;
    struct hk_diags diags = {0};
    assert_int_equal(read("a\0b", 3, &got, &length, &diags), HK_FILE_READ_FAILED);
    assert_false(hk_diags_ok(&diags));
    hk_diags_free(&diags);
    const struct memory_file files[] = {{NULL, NULL, 0}};
    struct hk_source source = memory_source(files);
    assert_int_equal(read_from(&source, 100, &got, &length, &diags), HK_FILE_READ_ABSENT);
    assert_findings(&diags, "");
    assert_ptr_equal(got, &mark);
    assert_int_equal(length, 7);
}

/* A source may return its bytes in small parts. */
static ptrdiff_t crumb_read(void *handle, void *bytes, size_t count, const char **why)
{
    size_t *left = handle;
    (void)why;
    if (*left == 0 || count == 0)
        return 0;
    --*left;
    *(char *)bytes = 'a';
    return 1;
}

static void crumb_close(void *handle)
{
    (void)handle;
}

static enum hk_open crumb_open(void *host, const char *name, struct hk_file *file, const char **why)
{
    (void)name, (void)why;
    *file = (struct hk_file){.handle = host, .read = crumb_read, .close = crumb_close};
    return HK_OPEN_DONE;
}

static void crumbs_add_up_to_the_file(void **state)
{
    (void)state;
    size_t left = 200000; /* beyond the first block */
    struct hk_source source = {&left, crumb_open};
    char *got = NULL;
    size_t length = 0;
    struct hk_diags diags = {0};
    assert_int_equal(read_from(&source, 200000, &got, &length, &diags), HK_FILE_READ_WHOLE);
    assert_findings(&diags, "");
    assert_int_equal(length, 200000);
    assert_int_equal(strspn(got, "a"), 200000);
    free(got);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(utf8_is_taken_as_it_is_and_closed_by_a_zero),
        cmocka_unit_test(the_byte_order_mark_and_the_old_end_mark_are_left_out),
        cmocka_unit_test(every_western_byte_is_what_iconv_makes_of_it),
        cmocka_unit_test(a_failure_leaves_the_outputs_alone),
        cmocka_unit_test(crumbs_add_up_to_the_file),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
