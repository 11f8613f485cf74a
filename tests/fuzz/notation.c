/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Any text as the cell of a row, in both terms: a row or findings at places of the cell; and a part worked in it, from
 * chains, on an edge and in a ring, counted within its effort to figures within bounds.
 */
#include "fuzz.h"

#include "tally/count.h"

#include <string.h>

#define EFFORT 4000
#define STITCHES 12
#define ROWS 4

static void check_counted(const struct hk_counted *counted)
{
    const struct hk_stripe_count *stripe = &counted->stripes[0];
    fuzz_hold(counted->leaves >= 0 && counted->foundation >= 0 && stripe->cut_m >= 0 && stripe->joined == 0);
    for (size_t i = 0; i < stripe->kinds.count; i++) {
        fuzz_hold(stripe->kinds.kinds[i].stitch < fuzz_catalogue()->stitch_count && stripe->kinds.kinds[i].count > 0);
        fuzz_hold(i == 0 || stripe->kinds.kinds[i].stitch > stripe->kinds.kinds[i - 1].stitch);
    }
    fuzz_hold(stripe->kinds.count == 0 || stripe->longest_count > 0);
}

static void check_part(struct hk_row *row, enum hk_start start)
{
    static const int64_t whole[] = {HK_COUNT_MOST};
    const struct hk_fabric fabric = {.name = "fuzz", .rows = row, .cycle_count = 1, .knit = row->knit};
    int64_t effort = EFFORT, width = 0, apart = 0;
    struct hk_work work = {.fabric = &fabric,
                           .catalogue = fuzz_catalogue(),
                           .start = start,
                           .stitches = start == HK_START_RING ? HK_NOT_STATED : STITCHES,
                           .rows = ROWS,
                           .end_stitches = HK_NOT_STATED,
                           .stripe_rows = whole,
                           .stripe_count = 1,
                           .effort = &effort};
    struct hk_arena arena = {0};
    struct hk_counted counted;
    struct hk_count_error error;
    enum hk_counting answer = hk_count_part(&work, &counted, &error, &arena);
    fuzz_hold(answer != HK_COUNTING_NO_MEMORY);
    if (answer == HK_COUNTING_DONE) {
        check_counted(&counted);
        hk_follow_free(counted.follow);
    } else if (answer != HK_COUNTING_SPENT && answer != HK_COUNTING_TOO_MANY) {
        fuzz_hold(error.row >= 1 && error.row <= ROWS && error.row_of == row);
    }
    effort = EFFORT;
    fuzz_hold(hk_count_nearest(&work, STITCHES, &width, &apart) != HK_COUNTING_DONE || (width >= 0 && apart >= 0));
    hk_arena_free(&arena);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
    struct fuzz_cell cell;
    if (fuzz_cell_make(&cell, bytes, size)) {
        for (enum hk_terms terms = HK_TERMS_US; terms <= HK_TERMS_UK; terms++) {
            struct hk_arena arena = {0};
            struct hk_row row = {0};
            struct hk_diags diags = {0};
            bool read = hk_row_parse(cell.cell, terms, fuzz_catalogue(), &row, &arena, &diags);
            fuzz_hold(read == hk_diags_ok(&diags));
            fuzz_check_findings(&diags, &cell.folder);
            if (read) {
                check_part(&row, HK_START_CHAIN);
                check_part(&row, HK_START_EDGE);
                check_part(&row, HK_START_RING);
            }
            hk_arena_free(&arena);
        }
    }
    fuzz_cell_free(&cell);
    return 0;
}
