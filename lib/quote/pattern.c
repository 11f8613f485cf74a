/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A pattern: break-even sales = fixed costs / amount left from a sale, rounded up. Fixed costs are the stated fixed
 * costs, the work on the pattern, and the overhead on that work. The price for a wished number of sales leaves the
 * fixed costs / that number, rounded up, from each.
 */
#include "quote/quoting.h"

#include "base/diags.h"

static int64_t sales_until(int64_t fixed_minor, int64_t left_minor)
{
    return fixed_minor == 0 ? 0 : left_minor > 0 ? hk_ceil_div(fixed_minor, left_minor) : -1;
}

static struct hk_quote_sales sales_of(const struct hk_quote *face, struct hk_bill bill)
{
    return (struct hk_quote_sales){.bill = bill, .sales = sales_until(face->fixed_minor, bill.kept_minor),
                                   .money_sales = sales_until(face->fixed_minor - face->labour_minor, bill.kept_minor)};
}

void hk_pattern_sales(struct hk_quoting *q)
{
    struct hk_quote *face = q->face;
    struct hk_bill bill = {0}, code_bill = {0};
    int64_t time = 0, sales = q->options.sales;
    if (face->solved && sales == 0) {
        hk_diags_add(q->diags, HK_CODE_COST_MISSING, (struct hk_place){"price", 0, 0},
                     "a pattern's price is not known, so neither is how many have to be sold");
        hk_diags_hint(q->diags, "ask for a price, such as --price 7.50, or for a number of sales, such as --sales 100");
        return;
    }
    face->fixed_minor = hk_quoting_sum(q, HK_COST_FIXED, HK_PER_PATTERN, 0, 1);
    face->labour_minor = hk_quoting_stated_labour(q, HK_PER_PATTERN, 0, 1, &time);
    face->overhead_minor = hk_quoting_shares(q, HK_COST_OVERHEAD, 0, face->labour_minor);
    hk_quoting_add(q, &face->overhead_minor, hk_quoting_hour_overhead(q, time));
    hk_quoting_add(q, &face->fixed_minor, face->labour_minor);
    hk_quoting_add(q, &face->fixed_minor, face->overhead_minor);
    if (!hk_quoting_price(q, 0, face->solved ? hk_ceil_div(face->fixed_minor, sales) : 0, &bill))
        return;
    hk_quoting_code_bill(q, &bill, &code_bill);
    face->sales = sales_of(face, bill);
    face->code_sales = sales_of(face, code_bill);
}
