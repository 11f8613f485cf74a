/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Any text as offers.csv and shops.csv of a small design: a basket that adds up and is enough, or errors. */
#include "fuzz.h"

#include <math.h>

static void check_size(const struct hk_shop_size *size)
{
    int64_t goods = 0, postage = 0, discount = 0;
    for (size_t i = 0; i < size->line_count; i++) {
        const struct hk_shop_line *line = &size->lines[i];
        fuzz_hold(line->balls > 0 && line->put_up_g > 0);
        fuzz_hold(line->cost_minor < 0 || line->cost_minor * line->price_for == line->balls * line->price_minor);
    }
    for (size_t i = 0; i < size->bill_count; i++) {
        const struct hk_shop_bill *bill = &size->bills[i];
        fuzz_hold(bill->goods_minor >= 0 && bill->postage_minor >= 0 && bill->discount_minor <= bill->goods_minor);
        goods += bill->goods_minor;
        postage += bill->postage_minor;
        discount += bill->discount_minor;
    }
    fuzz_hold(goods == size->goods_minor && postage == size->postage_minor && discount == size->discount_minor);
    fuzz_hold(size->total_minor == goods + postage - discount);
    fuzz_hold(size->proven || (size->gap > 0 && size->gap <= 1));
    for (size_t i = 0; i < size->role_count; i++)
        fuzz_hold(isfinite(size->roles[i].bought_g) && size->roles[i].bought_g - size->roles[i].joins_g > 0);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
    struct fuzz_folder folder = {0};
    struct fuzz_stages stages;
    struct hk_diags diags = {0};
    fuzz_folder_split(&folder, bytes, size);
    fuzz_folder_complete(&folder);
    if (fuzz_stages_make(&stages, &folder, &diags))
        for (size_t i = 0; i < stages.shop->size_count; i++)
            check_size(&stages.shop->sizes[i]);
    fuzz_check_findings(&diags, &folder);
    fuzz_stages_free(&stages);
    return 0;
}
