/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Any text as a number with a unit, a count and an amount of money: within bounds, the same when printed and read again. */
#include "fuzz.h"

#include "base/money.h"
#include "input/money_cell.h"
#include "input/quantity.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const char *const units[] = {
    [HK_DIM_PLAIN] = "", [HK_DIM_MASS] = " g",     [HK_DIM_LENGTH] = " m",    [HK_DIM_PERCENT] = "",
    [HK_DIM_TEX] = " tex", [HK_DIM_WRAPS] = " wpi", [HK_DIM_MINUTES] = " min"};

/* Fifteen digits without an exponent. */
static void print_number(double value, const char *unit, char *text, size_t room)
{
    int decimals = value == 0 ? 0 : 14 - (int)floor(log10(fabs(value)));
    snprintf(text, room, "%.*f%s", decimals < 0 ? 0 : decimals, value, unit);
}

static void check_quantity(struct fuzz_cell *cell, enum hk_dimension dimension, enum hk_sign sign)
{
    char text[80];
    double value = NAN, again = NAN;
    struct hk_diags diags = {0};
    bool read = hk_quantity_cell(cell->cell, dimension, sign, &value, &diags);
    fuzz_hold(read == hk_diags_ok(&diags) && (read || isnan(value)));
    fuzz_check_findings(&diags, &cell->folder);
    if (!read)
        return;
    fuzz_hold(sign == HK_SIGN_ANY || value >= 0);
    fuzz_hold(sign != HK_SIGN_POSITIVE || value > 0);
    fuzz_hold(value == 0 || (fabs(value) >= HK_QUANTITY_LEAST && fabs(value) <= HK_QUANTITY_MOST));
    if (dimension == HK_DIM_PERCENT)
        return; /* 1.5 may be a ratio or percent: never printed bare */
    print_number(value, units[dimension], text, sizeof text);
    bool same = hk_quantity_cell((struct hk_cell){.text = text}, dimension, HK_SIGN_ANY, &again, &diags) &&
                fabs(again - value) <= 1e-14 * fabs(value);
    if (!same)
        fprintf(stderr, "%s was read as %.17g\n", text, again);
    fuzz_hold(same);
    hk_diags_free(&diags);
}

static void check_count(struct fuzz_cell *cell)
{
    int64_t count = -1;
    struct hk_diags diags = {0};
    bool read = hk_count_cell(cell->cell, HK_SIGN_NOT_NEGATIVE, &count, &diags);
    fuzz_hold(read == hk_diags_ok(&diags));
    fuzz_check_findings(&diags, &cell->folder);
    fuzz_hold(read ? count >= 0 && count <= INT64_C(1000000000000) : count == -1);
}

static void check_money(struct fuzz_cell *cell, const char *currency, int digits)
{
    char text[HK_MONEY_TEXT];
    int64_t minor = -1, again = -1;
    struct hk_diags diags = {0};
    bool read = hk_money_cell(cell->cell, currency, digits, &minor, &diags);
    fuzz_hold(read == hk_diags_ok(&diags));
    fuzz_check_findings(&diags, &cell->folder);
    fuzz_hold(read ? minor >= 0 && minor <= HK_MONEY_MOST : minor == -1);
    if (!read)
        return;
    hk_money_text(minor, digits, text);
    fuzz_hold(hk_money_cell((struct hk_cell){.text = text}, currency, digits, &again, &diags) && again == minor);
    hk_diags_free(&diags);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
    struct fuzz_cell cell;
    if (fuzz_cell_make(&cell, bytes, size)) {
        for (enum hk_dimension dimension = HK_DIM_PLAIN; dimension <= HK_DIM_MINUTES; dimension++)
            for (enum hk_sign sign = HK_SIGN_POSITIVE; sign <= HK_SIGN_ANY; sign++)
                check_quantity(&cell, dimension, sign);
        check_count(&cell);
        check_money(&cell, "EUR", 2);
        check_money(&cell, "JPY", 0);
        check_money(&cell, "", 2);
    }
    fuzz_cell_free(&cell);
    return 0;
}
