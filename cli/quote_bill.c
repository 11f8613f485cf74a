/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The bill of a commission or a kit, line by line. */
#include "quote.h"

#include <stdlib.h>

struct bill {
    const struct hk_quote *quote;
    quote_bill_take *take;
    void *context;
    int64_t *minor; /* of the line, by size */
    bool failed;
};

/* Gives a line whose amounts are in bill->minor; takes ownership of the name. */
static void give(struct bill *bill, char *name, const char *key, bool always)
{
    bool any = always;
    for (size_t i = 0; i < bill->quote->size_count; i++)
        any |= bill->minor[i] != 0;
    bill->failed |= !name;
    if (name && any)
        bill->take(bill->context, &(struct quote_bill_line){.name = name, .key = key, .minor = bill->minor});
    free(name);
}

/* Gives an amount, a member of struct hk_quote_size; not `always`: only where some size has it. */
static void give_amount(struct bill *bill, const char *name, const char *key, size_t amount, bool always)
{
    for (size_t i = 0; i < bill->quote->size_count; i++)
        bill->minor[i] = quote_amount(&bill->quote->sizes[i], amount);
    give(bill, text_format("%s", name), key, always);
}

static void give_yarn(struct bill *bill)
{
    if (bill->quote->used && bill->quote->question == HK_QUESTION_COMMISSION) {
        give_amount(bill, "yarn, as used", "yarn", AMOUNT(yarn_minor), true);
        return;
    }
    give_amount(bill, "yarn, as bought", "yarn_bought", AMOUNT(yarn_bought_minor), true);
    give_amount(bill, "yarn from home", "yarn_home", AMOUNT(yarn_home_minor), false);
}

static void give_charges(struct bill *bill)
{
    const struct hk_quote *quote = bill->quote;
    char key[64];
    for (size_t fee = 0; fee < quote->fee_count; fee++) {
        for (size_t i = 0; i < quote->size_count; i++)
            bill->minor[i] = quote->sizes[i].bill.fee_minor[fee];
        snprintf(key, sizeof key, "bill/each_fee/%zu/amount", fee);
        give(bill, quote_fee_words(quote, fee), key, true);
    }
    for (size_t tax = 0; tax < quote->tax_count; tax++) {
        for (size_t i = 0; i < quote->size_count; i++)
            bill->minor[i] = quote->sizes[i].bill.each_tax_minor[tax];
        snprintf(key, sizeof key, "bill/each_tax/%zu/amount", tax);
        give(bill, quote_tax_words(quote, tax), key, true);
    }
}

/* What a commission leaves, and how it is paid. */
static void give_end(struct bill *bill)
{
    const struct hk_quote *quote = bill->quote;
    if (!quote->solved)
        give_amount(bill, "kept", "bill/kept", AMOUNT(bill.kept_minor), true);
    give_amount(bill, "deposit", "deposit", AMOUNT(deposit_minor), true);
    for (size_t i = 0; i < quote->size_count; i++)
        bill->minor[i] = quote->sizes[i].bill.paid_minor - quote->sizes[i].deposit_minor;
    give(bill, text_format("balance"), "balance", true);
}

bool quote_bill_each(const struct hk_quote *quote, quote_bill_take *take, void *context)
{
    struct bill bill = {.quote = quote, .take = take, .context = context};
    const bool commission = quote->question == HK_QUESTION_COMMISSION;
    char reserve[64];
    bill.minor = calloc(quote->size_count + 1, sizeof *bill.minor);
    if (!bill.minor)
        return false;
    snprintf(reserve, sizeof reserve, "reserve, %s sure", number_asked(quote->safe).text);
    if (!quote->solved)
        give_amount(&bill, "price", QUOTE_PRICE_KEY, AMOUNT(bill.paid_minor), true);
    give_yarn(&bill);
    give_amount(&bill, commission ? "notions" : "notions and kit", "materials", AMOUNT(materials_minor), false);
    give_amount(&bill, "fixed costs", "fixed_each", AMOUNT(each_fixed_minor), false);
    give_amount(&bill, "overhead", "overhead", AMOUNT(overhead_minor), false);
    give_amount(&bill, "postage", "postage", AMOUNT(postage_minor), false);
    if (quote->solved) {
        give_amount(&bill, "work", "labour", AMOUNT(labour_minor), false);
        give_amount(&bill, "markup", "markup", AMOUNT(markup_minor), false);
        give_amount(&bill, reserve, "reserve", AMOUNT(reserve_minor), false);
    }
    give_charges(&bill);
    give_amount(&bill, "rounding up", "rounding", AMOUNT(rounding_minor), false);
    if (quote->solved)
        give_amount(&bill, "price", QUOTE_PRICE_KEY, AMOUNT(bill.paid_minor), true);
    if (quote->tax_added)
        give_amount(&bill, "before added tax", "bill/quoted", AMOUNT(bill.quoted_minor), false);
    if (commission)
        give_end(&bill);
    free(bill.minor);
    return !bill.failed;
}
