/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Any text as a row, with one size and with three: what can be read prints as a row of the same form, and is followed
 * over a few edges within its effort, to figures within bounds.
 */
#include "fuzz.h"

#include "pattern/follow.h"
#include "pattern/row.h"
#include "base/text.h"

#include <stdlib.h>
#include <string.h>

#define EFFORT 4000
#define EDGES 4

static struct hk_place place(const struct hk_row_text *text, size_t offset)
{
    fuzz_hold(offset <= strlen(text->text) + 1);
    return (struct hk_place){"row", 1, offset + 1};
}

/* An arena holds what the text points at. */
static bool read_row(const char *text, const struct hk_row_words *words, struct hk_row *row, struct hk_arena *arena,
                     struct hk_diags *diags)
{
    struct hk_row_text *plain = hk_arena_take(arena, 1, sizeof *plain);
    fuzz_hold(plain);
    *plain = (struct hk_row_text){.text = text, .place = place};
    bool read = hk_row_read(plain, words, row, arena, diags);
    fuzz_hold(read == hk_diags_ok(diags));
    for (size_t i = 0; i < diags->count; i++)
        fuzz_hold(*diags->findings[i].message);
    return read;
}

static void start(struct hk_follow *follow, size_t edge)
{
    fuzz_hold(edge == 0   ? hk_follow_edge(follow, 24, HK_SPOT_ANY)
              : edge == 1 ? hk_follow_chain(follow, 26, false)
              : edge == 2 ? hk_follow_ring(follow)
                          : hk_follow_edge(follow, 0, HK_SPOT_ANY));
}

static void check_followed(const struct hk_followed *followed, const struct hk_row *row)
{
    if (!followed->good) {
        fuzz_hold(*followed->trouble.text && followed->trouble.at <= strlen(row->text->text));
        return;
    }
    fuzz_hold(followed->count >= 0 && followed->width >= 0 && followed->left >= 0 && followed->used >= 0 &&
              followed->cut_m >= 0);
    for (size_t i = 0; i < followed->worked_count; i++) {
        fuzz_hold(followed->worked[i].stitch < fuzz_catalogue()->stitch_count);
        fuzz_hold(followed->worked[i].count > 0 && followed->worked[i].count <= HK_COUNT_MOST);
    }
}

static void follow_row(const struct hk_row *row, const struct hk_row_words *words)
{
    for (size_t edge = 0; edge < EDGES; edge++) {
        const struct hk_conventions conventions = {0};
        int64_t effort = EFFORT;
        struct hk_follow *follow = hk_follow_new(words->catalogue, &conventions, edge % words->size_count, &effort);
        fuzz_hold(follow);
        start(follow, edge);
        for (size_t again = 0; again < 3; again++) {
            struct hk_followed followed;
            struct hk_manner manner = {.round = edge == 2, .strict = again == 1};
            fuzz_hold(hk_follow_row(follow, row, manner, &followed));
            check_followed(&followed, row);
        }
        hk_follow_free(follow);
    }
}

/* Printed it reads again, and prints the same. Brackets may then be too many, where the row repeats without them. */
static void check_printed(const struct hk_row *row, const struct hk_row_words *words, struct hk_arena *arena)
{
    struct hk_diags diags = {0};
    struct hk_row again;
    const char *printed = hk_row_print(row, words, arena);
    fuzz_hold(printed);
    if (read_row(printed, words, &again, arena, &diags))
        fuzz_hold(strcmp(printed, hk_row_print(&again, words, arena)) == 0);
    hk_diags_free(&diags);
}

static void check(const char *text, enum hk_terms terms, size_t sizes)
{
    static const char *const names[] = {"S", "M", "L"}, *const yarns[] = {"A", "B", "MC", "CC"};
    const struct hk_row_words words = {.catalogue = fuzz_catalogue(),
                                       .terms = terms,
                                       .size_count = sizes,
                                       .size_names = names,
                                       .yarns = yarns,
                                       .yarn_count = sizeof yarns / sizeof *yarns};
    struct hk_arena arena = {0};
    struct hk_diags diags = {0};
    struct hk_row row;
    size_t *origin = NULL;
    const char *plain = hk_text_plain(&arena, text, &origin);
    fuzz_hold(plain);
    if (read_row(plain, &words, &row, &arena, &diags)) {
        check_printed(&row, &words, &arena);
        follow_row(&row, &words);
    }
    hk_diags_free(&diags);
    hk_arena_free(&arena);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
    char *text = malloc(size + 1);
    fuzz_hold(text);
    if (size)
        memcpy(text, bytes, size);
    text[size] = '\0';
    check(text, HK_TERMS_US, 1);
    check(text, HK_TERMS_US, 3);
    check(text, HK_TERMS_UK, 1);
    free(text);
    return 0;
}
