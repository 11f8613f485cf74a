/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Any text as one value for every size: each within bounds, the same when printed and read again. */
#include "fuzz.h"

#include "tally/count.h"
#include "input/graded.h"
#include "pattern/row.h"

#include <inttypes.h>
#include <math.h>
#include <stdio.h>

#define SIZES_MOST 5

static void check_amount(const struct hk_amount *amount)
{
    switch (amount->kind) {
    case HK_AMOUNT_NONE:
        return;
    case HK_AMOUNT_COUNT:
        fuzz_hold(amount->count >= 1 && amount->count <= HK_COUNT_MOST);
        return;
    case HK_AMOUNT_LENGTH:
        fuzz_hold(amount->length_m >= HK_QUANTITY_LEAST && amount->length_m <= HK_QUANTITY_MOST);
        return;
    }
    fuzz_hold(!"a kind of amount");
}

static void print_amount(const struct hk_amount *amount, char *text, size_t room)
{
    if (amount->kind == HK_AMOUNT_NONE)
        snprintf(text, room, "-");
    else if (amount->kind == HK_AMOUNT_COUNT)
        snprintf(text, room, "%" PRId64, amount->count);
    else
        snprintf(text, room, "%.*f m", (int)fmax(0, 14 - floor(log10(amount->length_m))), amount->length_m);
}

static bool same_amount(const struct hk_amount *a, const struct hk_amount *b)
{
    return a->kind == b->kind && a->count == b->count && fabs(a->length_m - b->length_m) <= 1e-14 * a->length_m;
}

/* Prints the values as a first and the others in brackets, and reads that. */
static void check_again(const struct hk_graded *value, size_t sizes, bool lengths, struct hk_arena *arena)
{
    char text[SIZES_MOST * 48] = "";
    for (size_t i = 0, at = 0; i < sizes; i++) {
        char amount[40];
        print_amount(&value->by_size[i], amount, sizeof amount);
        at += (size_t)snprintf(text + at, sizeof text - at, "%s%s", i == 0 ? "" : i == 1 ? " (" : "; ", amount);
        if (i > 0 && i + 1 == sizes)
            snprintf(text + at, sizeof text - at, ")");
    }
    struct hk_diags diags = {0};
    struct hk_graded again = {0};
    bool read = hk_graded_cell((struct hk_cell){.text = text}, sizes, NULL, lengths, &again, arena, &diags);
    if (!read)
        fprintf(stderr, "not read: %s: %s\n", text, diags.findings[0].message);
    fuzz_hold(read);
    for (size_t i = 0; i < sizes; i++)
        fuzz_hold(same_amount(&value->by_size[i], &again.by_size[i]));
    hk_diags_free(&diags);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
    struct fuzz_cell cell;
    if (fuzz_cell_make(&cell, bytes, size)) {
        for (size_t sizes = 1; sizes <= SIZES_MOST; sizes += 2) {
            for (int lengths = 0; lengths < 2; lengths++) {
                struct hk_arena arena = {0};
                struct hk_graded value = {0};
                struct hk_diags diags = {0};
                bool read = hk_graded_cell(cell.cell, sizes, NULL, lengths, &value, &arena, &diags);
                fuzz_hold(read == hk_diags_ok(&diags) && (read || !value.given));
                fuzz_check_findings(&diags, &cell.folder);
                for (size_t i = 0; read && value.given && i < sizes; i++)
                    check_amount(&value.by_size[i]);
                if (read && value.given)
                    check_again(&value, sizes, lengths, &arena);
                hk_arena_free(&arena);
            }
        }
    }
    fuzz_cell_free(&cell);
    return 0;
}
