/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Any text as costs.csv of a small design: a quote for each question whose sums add up, or errors. */
#include "fuzz.h"

#define BATCH 3
#define SIZES_MOST 16

static void check_bill(const struct hk_quote *quote, const struct hk_bill *bill)
{
    fuzz_hold(bill->paid_minor >= 0 && bill->fees_minor >= 0 && bill->tax_minor >= 0 && bill->costs_minor >= 0);
    fuzz_hold(bill->kept_minor == bill->paid_minor - bill->fees_minor - bill->tax_minor - bill->costs_minor);
    int64_t fees_minor = 0, tax_minor = 0, added_minor = 0;
    for (size_t i = 0; i < quote->fee_count; i++)
        fees_minor += bill->fee_minor[i];
    for (size_t i = 0; i < quote->tax_count; i++) {
        tax_minor += bill->each_tax_minor[i];
        added_minor += quote->taxes[i].added ? bill->each_tax_minor[i] : 0;
    }
    fuzz_hold(fees_minor == bill->fees_minor && tax_minor == bill->tax_minor);
    fuzz_hold(bill->paid_minor == bill->quoted_minor + added_minor);
}

static void check_column(const struct hk_quote_size *size)
{
    const struct hk_bill *bill = &size->bill;
    fuzz_hold(bill->costs_minor == size->yarn_minor + size->materials_minor + size->overhead_minor + size->postage_minor +
                                       size->each_fixed_minor);
    fuzz_hold(bill->paid_minor == bill->costs_minor + size->labour_minor + size->markup_minor + size->reserve_minor +
                                      bill->fees_minor + bill->tax_minor + size->rounding_minor);
}

static void check_quote(const struct hk_quote *quote)
{
    for (size_t i = 0; i < quote->size_count; i++) {
        const struct hk_quote_size *size = &quote->sizes[i];
        check_bill(quote, &size->bill);
        if (quote->solved)
            check_column(size);
        fuzz_hold(size->yarn_minor >= 0 && size->materials_minor >= 0 && size->overhead_minor >= 0);
        fuzz_hold(!quote->solved || size->bill.kept_minor >= 0);
        fuzz_hold(size->chance_below <= 1);
        for (size_t b = 0; b < size->batch_count; b++)
            fuzz_hold(!size->batches[b].had || size->batches[b].unit_minor >= 0);
    }
    if (quote->question == HK_QUESTION_PATTERN)
        check_bill(quote, &quote->sales.bill);
}

/* Each question as it is, and once more: a sure commission, the sizes in one batch, a pattern for some sales. */
static void work(struct fuzz_stages *stages, struct hk_diags *diags)
{
    int64_t kits[SIZES_MOST];
    static const int64_t discount = 500000;
    for (size_t i = 0; i < SIZES_MOST; i++)
        kits[i] = 1 + (int64_t)(i % BATCH);
    for (int ask = 0; ask < 2 * (HK_QUESTION_PATTERN + 1); ask++) {
        enum hk_question question = (enum hk_question)(ask / 2);
        bool again = ask % 2;
        size_t errors = diags->errors;
        struct hk_quote_options options = hk_quote_defaults(question);
        options.batch = BATCH;
        options.seconds = FUZZ_SEARCH_S;
        options.price_minor = question == HK_QUESTION_PATTERN && !again ? 700 : -1;
        options.sales = again ? 7 : 0;
        options.sure = again ? 0.8 : 0;
        options.kits = again && hk_project_sizes(stages->project) <= SIZES_MOST ? kits : NULL;
        options.discount_millionths = &discount;
        options.discount_count = again;
        struct hk_quote *quote = hk_quote_make(stages->need, stages->shop, stages->hours, options, diags);
        fuzz_hold(quote || diags->errors > errors || diags->out_of_memory);
        if (quote)
            check_quote(quote);
        hk_quote_free(quote);
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
    struct fuzz_folder folder = {0};
    struct fuzz_stages stages;
    struct hk_diags diags = {0};
    fuzz_folder_one(&folder, "costs.csv", bytes, size);
    fuzz_folder_complete(&folder);
    if (fuzz_stages_make(&stages, &folder, &diags))
        work(&stages, &diags);
    fuzz_check_findings(&diags, &folder);
    fuzz_stages_free(&stages);
    return 0;
}
