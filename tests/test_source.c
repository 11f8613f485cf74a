/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sources of the library: a folder on disk (source_folder.c) and texts in memory (source_memory.c). */
#include "support.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* A temporary folder, the working directory until the test ends. */
struct place {
    char outer[64], inner[80];
};

static void write_text(const char *path, const char *text)
{
    FILE *file = fopen(path, "w");
    assert_non_null(file);
    fputs(text, file);
    assert_int_equal(fclose(file), 0);
}

static int make_place(void **state)
{
    struct place *place = calloc(1, sizeof *place);
    assert_non_null(place);
    snprintf(place->outer, sizeof place->outer, "/tmp/source-XXXXXX");
    assert_non_null(mkdtemp(place->outer));
    snprintf(place->inner, sizeof place->inner, "%s/quay", place->outer);
    assert_int_equal(mkdir(place->inner, 0700), 0);
    assert_int_equal(chdir(place->inner), 0);
    write_text("yarns.csv", "role\nmain\n");
    write_text("../outside.csv", "role\nlace\n");
    assert_int_equal(symlink("yarns.csv", "link.csv"), 0);
    assert_int_equal(mkdir("folder.csv", 0700), 0);
    assert_int_equal(mkfifo("pipe.csv", 0600), 0);
    *state = place;
    return 0;
}

static int remove_place(void **state)
{
    struct place *place = *state;
    char command[128];
    snprintf(command, sizeof command, "rm -rf '%s'", place->outer);
    assert_int_equal(chdir("/"), 0);
    assert_int_equal(system(command), 0);
    free(place);
    return 0;
}

/* The result of opening: "done TEXT", "absent", "refused: why". */
static const char *opened(struct hk_source source, const char *name, struct hk_identity *identity)
{
    static char said[256];
    struct hk_file file = {0};
    const char *why = "";
    char bytes[100] = "";
    switch (source.open(source.host, name, &file, &why)) {
    case HK_OPEN_DONE:
        break;
    case HK_OPEN_ABSENT:
        return "absent";
    case HK_OPEN_REFUSED:
        snprintf(said, sizeof said, "refused: %s", why);
        return said;
    case HK_OPEN_NO_MEMORY:
        return "no memory";
    }
    size_t size = 0;
    ptrdiff_t got;
    while ((got = file.read(file.handle, bytes + size, 3, &why)) > 0)
        size += (size_t)got;
    assert_int_equal(got, 0);
    file.close(file.handle);
    if (identity)
        *identity = file.identity;
    snprintf(said, sizeof said, "done %s", bytes);
    return said;
}

static void a_folder_gives_the_files_that_are_in_it(void **state)
{
    const struct place *place = *state;
    char slash[96];
    snprintf(slash, sizeof slash, "%s/", place->inner);
    assert_string_equal(opened(hk_source_folder(place->inner), "yarns.csv", NULL), "done role\nmain\n");
    assert_string_equal(opened(hk_source_folder(slash), "yarns.csv", NULL), "done role\nmain\n");
    assert_string_equal(opened(hk_source_folder("."), "yarns.csv", NULL), "done role\nmain\n");
    assert_string_equal(opened(hk_source_folder(""), "yarns.csv", NULL), "done role\nmain\n");
    assert_string_equal(opened(hk_source_folder(place->inner), "pieces.csv", NULL), "absent");
    assert_string_equal(opened(hk_source_folder(place->inner), "yarns.csv/more", NULL), "absent");
    char longer[300];
    memset(longer, 'a', sizeof longer - 1);
    longer[sizeof longer - 1] = '\0';
    assert_string_equal(opened(hk_source_folder(place->inner), longer, NULL), "absent"); /* no file has this name */
}

static void what_is_no_file_is_refused_and_not_waited_for(void **state)
{
    const struct place *place = *state;
    assert_string_equal(opened(hk_source_folder(place->inner), "folder.csv", NULL), "refused: it is not a file");
    assert_string_equal(opened(hk_source_folder(place->inner), "pipe.csv", NULL), "refused: it is not a file");
    assert_int_equal(symlink("loop.csv", "loop.csv"), 0);
    assert_string_equal(opened(hk_source_folder(place->inner), "loop.csv", NULL), "refused: Too many levels of symbolic links");
}

static void names_lead_out_of_a_folder_unless_it_is_closed(void **state)
{
    const struct place *place = *state;
    char whole[128];
    snprintf(whole, sizeof whole, "%s/outside.csv", place->outer);
    assert_string_equal(opened(hk_source_folder(place->inner), "../outside.csv", NULL), "done role\nlace\n");
    assert_string_equal(opened(hk_source_folder(place->inner), whole, NULL), "done role\nlace\n");
    struct hk_source inside = hk_source_inside(place->inner);
    assert_string_equal(opened(inside, "yarns.csv", NULL), "done role\nmain\n");
    assert_string_equal(opened(inside, "..yarns.csv", NULL), "absent");
    assert_string_equal(opened(inside, "../outside.csv", NULL), "refused: it is outside the folder");
    assert_string_equal(opened(inside, "folder.csv/../../outside.csv", NULL), "refused: it is outside the folder");
    assert_string_equal(opened(inside, whole, NULL), "refused: it is outside the folder");
    assert_string_equal(opened(inside, "..", NULL), "refused: it is outside the folder");
    assert_string_equal(opened(inside, "./yarns.csv", NULL), "done role\nmain\n");
}

static void one_file_has_one_identity_by_whatever_name(void **state)
{
    const struct place *place = *state;
    struct hk_identity file, link, other;
    opened(hk_source_folder(place->inner), "yarns.csv", &file);
    opened(hk_source_folder("."), "link.csv", &link);
    opened(hk_source_folder(place->inner), "../outside.csv", &other);
    assert_memory_equal(&file, &link, sizeof file);
    assert_memory_not_equal(&file, &other, sizeof file);
    assert_true(file.number != 0);
}

static void a_file_that_becomes_shorter_is_a_failure(void **state)
{
    (void)state;
    struct hk_source source = hk_source_folder(".");
    struct hk_file file;
    const char *why = NULL;
    char bytes[8];
    write_text("cut.csv", "0123456789");
    assert_int_equal(source.open(source.host, "cut.csv", &file, &why), HK_OPEN_DONE);
    assert_int_equal(file.read(file.handle, bytes, 4, &why), 4);
    assert_int_equal(truncate("cut.csv", 4), 0);
    assert_int_equal(file.read(file.handle, bytes, 4, &why), -1);
    assert_string_equal(why, "it became shorter while it was read");
    file.close(file.handle);
}

/* A read error is not the end of the file. */
static void a_read_that_fails_says_why(void **state)
{
    (void)state;
    struct hk_source source = hk_source_folder(".");
    struct hk_file file;
    const char *why = NULL;
    char byte;
    assert_int_equal(source.open(source.host, "yarns.csv", &file, &why), HK_OPEN_DONE);
    assert_int_equal(file.read(file.handle, &byte, 0, &why), 0);
    file.close(file.handle);
    /* proc(5): the memory of this process, whose first page is not mapped. */
    if (source.open(source.host, "/proc/self/mem", &file, &why) != HK_OPEN_DONE)
        skip();
    assert_int_equal(file.read(file.handle, &byte, 1, &why), -1);
    assert_string_equal(why, "Input/output error");
    file.close(file.handle);
}

static void texts_are_found_by_their_names(void **state)
{
    (void)state;
    const struct hk_memory_file files[] = {{"a.csv", "one"}, {"b.csv", ""}, {"../quay/c.csv", "three"}, {NULL, NULL}};
    struct hk_source source = hk_source_memory(files);
    struct hk_identity a, c;
    assert_string_equal(opened(source, "a.csv", &a), "done one");
    assert_string_equal(opened(source, "b.csv", NULL), "done ");
    assert_string_equal(opened(source, "../quay/c.csv", &c), "done three");
    assert_string_equal(opened(source, "c.csv", NULL), "absent");
    assert_memory_not_equal(&a, &c, sizeof a);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_folder_gives_the_files_that_are_in_it),
        cmocka_unit_test(what_is_no_file_is_refused_and_not_waited_for),
        cmocka_unit_test(names_lead_out_of_a_folder_unless_it_is_closed),
        cmocka_unit_test(one_file_has_one_identity_by_whatever_name),
        cmocka_unit_test(a_file_that_becomes_shorter_is_a_failure),
        cmocka_unit_test(a_read_that_fails_says_why),
        cmocka_unit_test(texts_are_found_by_their_names),
    };
    return cmocka_run_group_tests(tests, make_place, remove_place);
}
