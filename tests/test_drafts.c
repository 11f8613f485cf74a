/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Whole written patterns with one slip each: a missing word, a number one too large or 0, a trade word replaced by
 * another. Every draft is read, worked and printed to its end, and every finding has a place in its files.
 * tests/reference/recount.py checks the results of the unchanged patterns.
 */
#include "support.h"

#include "project/project.h"
#include "tally/tally.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define EVERY 25 /* the number of words for each word changed */

enum slip { SLIP_OUT, SLIP_MORE, SLIP_NONE, SLIP_WORD, SLIPS };

static const char *const words[] = {"skipped sts",   "row ends of yoke",
                                    "each",          "to end",
                                    "turn",          "twice",
                                    "marker",        "in ch-2 sp",
                                    "unworked",      "rep from *",
                                    "on hold",       "evenly",
                                    "underarm chs",  "Fasten off.",
                                    "join",          "x 3",
                                    "(12 sts)",      "of body",
                                    "2 more times",  "work even",
                                    "in ring",       "sk next",
                                    "held",          "with CC,",
                                    "last",          "pick up",
                                    "across",        "at the same time",
                                    "every 4th row", "dec 1 st each end",
                                    "around",        "leaving rem sts unworked",
                                    "3 (4)",         "inc",
                                    "top of ch-3",   "BLO"};

static char *file_read(const char *folder, const char *name)
{
    char path[600];
    snprintf(path, sizeof path, "%s/%s/%s", ROWS_DIR, folder, name);
    FILE *file = fopen(path, "rb");
    assert_non_null(file);
    char *text = calloc(1, 1 << 16);
    assert_non_null(text);
    assert_true(fread(text, 1, (1 << 16) - 1, file) > 0);
    fclose(file);
    return text;
}

/* Returns the text with that slip at a word of `length` bytes. Owner: the caller (free). */
static char *slipped(const char *text, const char *at, size_t length, enum slip slip, size_t turn)
{
    const bool number = *at >= '0' && *at <= '9';
    char word[80] = "";
    if (slip == SLIP_WORD)
        snprintf(word, sizeof word, "%s", words[turn % (sizeof words / sizeof *words)]);
    else if (slip == SLIP_MORE || slip == SLIP_NONE)
        snprintf(word, sizeof word, "%ld%s", slip == SLIP_MORE && number ? atol(at) + 1 : 0, number ? "" : "x");
    char *draft = malloc(strlen(text) + sizeof word);
    assert_non_null(draft);
    sprintf(draft, "%.*s%s%s", (int)(at - text), text, word, at + length);
    return draft;
}

static void assert_places(const struct hk_diags *diags)
{
    for (size_t i = 0; i < diags->count; i++) {
        assert_non_null(diags->findings[i].message);
        assert_true(diags->findings[i].at.line < 4000);
    }
}

static void prints_again(const struct hk_project *project)
{
    const struct hk_reprint_options ways[] = {{.size = HK_NO_SIZE, .terms = HK_TERMS_WANTED_UK},
                                              {.size = 0, .terms = HK_TERMS_WANTED_UK, .markdown = true}};
    for (size_t i = 0; i < sizeof ways / sizeof *ways; i++) {
        struct hk_diags diags = {0};
        struct hk_reprint *reprint = hk_reprint_make(project, ways[i], &diags);
        assert_int_equal(reprint != NULL, hk_project_written(project));
        assert_places(&diags);
        hk_reprint_free(reprint);
        hk_diags_free(&diags);
    }
}

static void draft_read(const struct hk_catalogue *catalogue, const struct hk_memory_file *files)
{
    struct hk_diags diags = {0};
    struct hk_source source = hk_source_memory(files);
    struct hk_project *project = hk_project_read(&source, catalogue, &diags);
    assert_false(diags.out_of_memory);
    assert_int_equal(project != NULL, diags.errors == 0);
    if (project) {
        prints_again(project);
        struct hk_tally *tally = hk_tally_count(project, &diags);
        assert_int_equal(tally != NULL, diags.errors == 0);
        hk_tally_free(tally);
    }
    assert_places(&diags);
    hk_diags_free(&diags);
    hk_project_free(project);
}

static size_t drafts_of(const struct hk_catalogue *catalogue, const char *folder)
{
    struct hk_memory_file files[] = {{"project.csv", file_read(folder, "project.csv")},
                                     {"yarns.csv", file_read(folder, "yarns.csv")},
                                     {"swatches.csv", file_read(folder, "swatches.csv")},
                                     {"pattern.txt", file_read(folder, "pattern.txt")},
                                     {NULL, NULL}};
    const char *text = files[3].text;
    size_t drafts = 0, word = 0;
    draft_read(catalogue, files);
    for (const char *at = text; *at; word++) {
        at += strspn(at, " \n,.;:()[]*");
        size_t length = strcspn(at, " \n,.;:()[]*");
        if (length > 0 && word % EVERY < SLIPS && word / EVERY % PART_OF_CASES == 0) {
            char *draft = slipped(text, at, length, (enum slip)(word % EVERY), word / EVERY);
            files[3].text = draft;
            draft_read(catalogue, files);
            free(draft);
            drafts++;
        }
        at += length;
    }
    files[3].text = text;
    for (size_t i = 0; files[i].name; i++)
        free((char *)(uintptr_t)files[i].text);
    return drafts;
}

static void drafts_with_a_slip_are_read_to_their_end(void **state)
{
    static const char *const folders[] = {"raglan-pullover", "crochet-raglan", "band-cardigan", "spine-shawl",
                                          "granny-motif",    "knitted-hat",    "spiral-toy"};
    size_t drafts = 0;
    for (size_t i = 0; i < sizeof folders / sizeof *folders; i++)
        drafts += drafts_of(*state, folders[i]);
    assert_true(drafts > RANDOM_CASES(250));
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(drafts_with_a_slip_are_read_to_their_end)};
    return cmocka_run_group_tests(tests, catalogue_set_up, catalogue_tear_down);
}
