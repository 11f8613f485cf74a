/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Every allocation of reading a table fails in turn, once and from then on for good: nothing crashes or leaks (run
 * under valgrind or the address sanitizer), no table comes of it, and the findings say that memory was lost. Linked
 * with --wrap.
 */
#include "support.h"

#include "table.h"
#include "text.h"

#include <stdlib.h>
#include <string.h>

/* Names that begin like this belong to the linker's --wrap. */
void *__real_malloc(size_t size);
void *__real_calloc(size_t count, size_t size);
void *__real_realloc(void *memory, size_t size);
char *__real_strdup(const char *text);
void *__wrap_malloc(size_t size);
void *__wrap_calloc(size_t count, size_t size);
void *__wrap_realloc(void *memory, size_t size);
char *__wrap_strdup(const char *text);

static size_t until_failure; /* allocations that still succeed; SIZE_MAX: all */
static bool for_good;
static size_t failures;

static bool fails(void)
{
    if (until_failure == SIZE_MAX)
        return false;
    if (until_failure > 0) {
        until_failure--;
        return false;
    }
    if (!for_good)
        until_failure = SIZE_MAX;
    failures++;
    return true;
}

void *__wrap_malloc(size_t size)
{
    return fails() ? NULL : __real_malloc(size);
}

void *__wrap_calloc(size_t count, size_t size)
{
    return fails() ? NULL : __real_calloc(count, size);
}

void *__wrap_realloc(void *memory, size_t size)
{
    return fails() ? NULL : __real_realloc(memory, size);
}

char *__wrap_strdup(const char *text)
{
    return fails() ? NULL : __real_strdup(text);
}

static const struct hk_column columns[] = {{"role", true, true}, {"yarn", true, false}, {NULL, false, false}};

struct text_reader {
    const char *at;
};

static ptrdiff_t text_read(void *handle, void *bytes, size_t count, const char **why)
{
    (void)why;
    struct text_reader *reader = handle;
    size_t left = strlen(reader->at), size = left < count ? left : count;
    memcpy(bytes, reader->at, size);
    reader->at += size;
    return (ptrdiff_t)size;
}

static void text_close(void *handle)
{
    (void)handle;
}

static enum hk_opened text_open(void *host, const char *name, struct hk_file *file, const char **why)
{
    (void)name, (void)why;
    *file = (struct hk_file){host, text_read, text_close};
    return HK_OPENED;
}

/* Reads the text with the allocation numbered `failing` (from 0) failing; true if none failed. */
static bool read_with_failure(const char *text, size_t failing, bool good)
{
    struct text_reader reader = {text};
    struct hk_source source = {&reader, text_open};
    struct hk_diags diags = {0};
    failures = 0;
    for_good = good;
    until_failure = failing;
    struct hk_table *table = hk_table_read(&source, "yarns.csv", (struct hk_table_options){.columns = columns}, &diags);
    until_failure = SIZE_MAX;
    bool whole = failures == 0;
    assert_int_equal(diags.lost, !whole);
    assert_true(whole || !hk_diags_ok(&diags));
    if (!whole)
        assert_null(table);
    hk_table_free(table);
    hk_diags_free(&diags);
    return whole;
}

static void assert_no_failure_goes_unnoticed(const char *text)
{
    for (int good = 0; good < 2; good++) {
        size_t failing = 0;
        while (!read_with_failure(text, failing, good))
            failing++;
        assert_true(failing >= 5); /* the failures were met at all */
    }
}

static void a_good_file_notices_every_failure(void **state)
{
    (void)state;
    assert_no_failure_goes_unnoticed("role,yarn,notes\na,b,c\nd,e,f\n");
}

static void a_file_of_many_rows_notices_every_failure(void **state)
{
    (void)state;
    char text[4000] = "role,yarn\n";
    for (int i = 0; i < 600; i++)
        strcat(text, "a,b\n");
    assert_no_failure_goes_unnoticed(text);
}

static void files_with_mistakes_notice_every_failure(void **state)
{
    (void)state;
    assert_no_failure_goes_unnoticed("role,yarm\na,\"b\n\nc,d,e\nf,5\"\n,g\n");
    assert_no_failure_goes_unnoticed("role,yarn\na,\xE9\n");
    assert_no_failure_goes_unnoticed("main,Merino\n");
}

int main(void)
{
    until_failure = SIZE_MAX;
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_good_file_notices_every_failure),
        cmocka_unit_test(a_file_of_many_rows_notices_every_failure),
        cmocka_unit_test(files_with_mistakes_notice_every_failure),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
