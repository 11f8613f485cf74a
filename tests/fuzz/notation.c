/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Any text as a row: sums within bounds and in order, the same when the row is put in brackets and worked once, but for chains
 * next to a turn, which are stitches in brackets.
 */
#include "fuzz.h"

#include "pattern/row.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void check_sum(const struct hk_sum *sum)
{
    fuzz_hold(sum->needs >= 0 && sum->needs <= HK_COUNT_MOST);
    fuzz_hold(sum->turning_needs >= 0 && sum->turning_needs <= sum->needs);
    fuzz_hold(sum->leaves >= 0 && sum->leaves <= HK_COUNT_MOST);
    fuzz_hold(sum->cut_m >= 0 && sum->cut_m <= 1e24);
    for (size_t i = 0; i < sum->stitch_count; i++) {
        fuzz_hold(sum->stitches[i].stitch < fuzz_catalogue()->stitch_count);
        fuzz_hold(sum->stitches[i].count > 0 && sum->stitches[i].count <= HK_COUNT_MOST);
        fuzz_hold(i == 0 || sum->stitches[i].stitch > sum->stitches[i - 1].stitch);
    }
}

/* The row `a`, and `b`, the same in brackets. */
static void check_same(const struct hk_sum *a, const struct hk_sum *b)
{
    fuzz_hold(a->needs == b->needs && a->leaves <= b->leaves && a->stitch_count == b->stitch_count);
    fuzz_hold(a->turning_needs == b->turning_needs && a->cut_m == b->cut_m);
    for (size_t i = 0; i < a->stitch_count; i++)
        fuzz_hold(a->stitches[i].stitch == b->stitches[i].stitch && a->stitches[i].count == b->stitches[i].count);
}

/* A row as deep as rows may be is refused with one more bracket round it; then there is nothing to compare. */
static void check_bracketed(const char *text, enum hk_terms terms, const struct hk_row *row, struct hk_arena *arena)
{
    struct hk_diags diags = {0};
    struct hk_row again = {0};
    char *bracketed = malloc(strlen(text) + 3);
    fuzz_hold(bracketed);
    sprintf(bracketed, "(%s)", text);
    if (hk_row_parse((struct hk_cell){.text = bracketed}, terms, fuzz_catalogue(), &again, arena, &diags)) {
        fuzz_hold(row->repeats == again.repeats);
        check_same(&row->once, &again.once);
        check_same(&row->each, &again.each);
        fuzz_hold(row->each.leaves == again.each.leaves);
    }
    free(bracketed);
    hk_diags_free(&diags);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
    struct fuzz_cell cell;
    if (fuzz_cell_make(&cell, bytes, size)) {
        for (enum hk_terms terms = HK_US; terms <= HK_UK; terms++) {
            struct hk_arena arena = {0};
            struct hk_row row = {0};
            struct hk_diags diags = {0};
            bool read = hk_row_parse(cell.cell, terms, fuzz_catalogue(), &row, &arena, &diags);
            fuzz_hold(read == hk_diags_ok(&diags));
            fuzz_check_findings(&diags, &cell.folder);
            if (read) {
                check_sum(&row.once);
                check_sum(&row.each);
                check_bracketed(cell.cell.text, terms, &row, &arena);
            }
            hk_arena_free(&arena);
        }
    }
    fuzz_cell_free(&cell);
    return 0;
}
