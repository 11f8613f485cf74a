/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Any text as costs.csv of a small design: a quote for each question whose sums add up, or errors. */
#include "fuzz.h"

#define BATCH 3

static void check_bill(const struct hk_quote *quote, const struct hk_bill *bill)
{
    fuzz_hold(bill->paid_minor >= 0 && bill->fees_minor >= 0 && bill->tax_minor >= 0 && bill->costs_minor >= 0);
    fuzz_hold(bill->kept_minor == bill->paid_minor - bill->fees_minor - bill->tax_minor - bill->costs_minor);
    int64_t fees_minor = 0;
    for (size_t i = 0; i < quote->fee_count; i++)
        fees_minor += bill->fee_minor[i];
    fuzz_hold(fees_minor == bill->fees_minor);
}

static void check_column(const struct hk_quote_size *size)
{
    const struct hk_bill *bill = &size->bill;
    fuzz_hold(bill->costs_minor == size->yarn_minor + size->materials_minor + size->overhead_minor + size->postage_minor +
                                       size->each_fixed_minor);
    fuzz_hold(bill->paid_minor == bill->costs_minor + size->labour_minor + size->markup_minor + bill->fees_minor +
                                      bill->tax_minor + size->rounding_minor);
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

static void work(struct fuzz_stages *stages, struct hk_diags *diags)
{
    for (enum hk_question question = HK_QUESTION_COMMISSION; question <= HK_QUESTION_PATTERN; question++) {
        size_t errors = diags->errors;
        struct hk_quote_options options = hk_quote_defaults(question);
        options.batch = BATCH;
        options.seconds = FUZZ_SEARCH_S;
        options.price_minor = question == HK_QUESTION_PATTERN ? 700 : -1;
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
