/* SPDX-License-Identifier: GPL-3.0-or-later */
/* hankful quote --json. */
#include "quote.h"

#include "json.h"
#include "quote_letter.h"

#define MINUTES_PER_HOUR 60

static double ratio(int64_t millionths)
{
    return (double)millionths / 1e6;
}

/* The amount may be negative: a loss. */
static void put_money(struct json *json, json_t *object, const char *key, const struct hk_quote *quote, int64_t minor)
{
    json_put_price(json, object, key, quote_money(quote, minor).text);
}

/* The amount is null below 0: there is none. */
static void put_if(struct json *json, json_t *object, const char *key, const struct hk_quote *quote, int64_t minor)
{
    if (minor < 0)
        json_put(json, object, key, json_null());
    else
        put_money(json, object, key, quote, minor);
}

/* Returns every fee with its rate; the rate is null for a fixed amount on each sale. */
static json_t *fees_json(struct json *json, const struct hk_quote *quote, const struct hk_bill *bill)
{
    json_t *fees = json_make_array(json);
    for (size_t i = 0; i < quote->fee_count; i++) {
        const struct hk_quote_fee *fee = &quote->fees[i];
        json_t *object = json_make_object(json);
        json_put_text(json, object, "item", fee->item);
        json_put(json, object, "rate", fee->percent ? json_real(ratio(fee->millionths)) : json_null());
        put_money(json, object, "amount", quote, bill->fee_minor[i]);
        json_add(json, fees, object);
    }
    return fees;
}

/* Returns every tax with its rate, of the price before tax. */
static json_t *taxes_json(struct json *json, const struct hk_quote *quote, const struct hk_bill *bill)
{
    json_t *taxes = json_make_array(json);
    for (size_t i = 0; i < quote->tax_count; i++) {
        const struct hk_quote_tax *tax = &quote->taxes[i];
        json_t *object = json_make_object(json);
        json_put_text(json, object, "item", tax->item);
        json_put_real(json, object, "rate", ratio(tax->millionths));
        json_put_bool(json, object, "added", tax->added);
        put_money(json, object, "amount", quote, bill->each_tax_minor[i]);
        json_add(json, taxes, object);
    }
    return taxes;
}

static json_t *bill_json(struct json *json, const struct hk_quote *quote, const struct hk_bill *bill)
{
    json_t *object = json_make_object(json);
    put_money(json, object, "quoted", quote, bill->quoted_minor);
    put_money(json, object, "paid", quote, bill->paid_minor);
    put_money(json, object, "fees", quote, bill->fees_minor);
    put_money(json, object, "tax", quote, bill->tax_minor);
    put_money(json, object, "costs", quote, bill->costs_minor);
    put_money(json, object, "kept", quote, bill->kept_minor);
    json_put(json, object, "each_fee", fees_json(json, quote, bill));
    json_put(json, object, "each_tax", taxes_json(json, quote, bill));
    return object;
}

static json_t *put_ups_json(struct json *json, const struct hk_quote_yarn *yarn)
{
    json_t *put_ups = json_make_array(json);
    for (size_t i = 0; i < yarn->put_up_count; i++) {
        json_t *object = json_make_object(json);
        json_put_real(json, object, "put_up_g", yarn->put_ups[i].put_up_g);
        json_put_whole(json, object, "balls", yarn->put_ups[i].balls);
        json_add(json, put_ups, object);
    }
    return put_ups;
}

static json_t *yarns_json(struct json *json, const struct hk_quote_size *size)
{
    json_t *yarns = json_make_array(json);
    for (size_t i = 0; i < size->yarn_count; i++) {
        const struct hk_quote_yarn *yarn = &size->yarns[i];
        json_t *object = json_make_object(json);
        json_put_text(json, object, "role", yarn->role);
        json_put_text(json, object, "yarn", yarn->yarn);
        json_put_text(json, object, "colour", yarn->colour);
        json_put_real(json, object, "mass_g", yarn->mass_g);
        json_put(json, object, "put_up_g", yarn->put_up_count == 1 ? json_real(yarn->put_ups[0].put_up_g) : json_null());
        json_put_whole(json, object, "balls", yarn->balls);
        json_put(json, object, "put_ups", put_ups_json(json, yarn));
        json_add(json, yarns, object);
    }
    return yarns;
}

static void put_commission(struct json *json, json_t *object, const struct hk_quote *quote,
                           const struct hk_quote_size *size)
{
    put_money(json, object, "yarn_bought", quote, size->yarn_bought_minor);
    put_money(json, object, "yarn_used", quote, size->yarn_used_minor);
    put_money(json, object, "deposit", quote, size->deposit_minor);
    put_money(json, object, "balance", quote, size->bill.paid_minor - size->deposit_minor);
    put_money(json, object, "reserve", quote, size->reserve_minor);
    json_put_range(json, object, "hours", &size->hours);
    if (quote->solved) {
        put_money(json, object, "price_low", quote, size->price_low_minor);
        put_money(json, object, "price_high", quote, size->price_high_minor);
    }
    if (size->hours.likely > 0) {
        put_money(json, object, "hour", quote, size->earns_minor);
        put_money(json, object, "hour_low", quote, size->earns_low_minor);
        put_money(json, object, "hour_high", quote, size->earns_high_minor);
    }
    json_put(json, object, "chance_below", size->chance_below < 0 ? json_null() : json_real(size->chance_below));
    put_if(json, object, "safe_price", quote, size->safe_minor);
}

static void put_even(struct json *json, json_t *object, const char *key, int64_t even)
{
    json_put(json, object, key, even < 0 ? json_null() : json_integer(even));
}

static void put_batch(struct json *json, json_t *object, const struct hk_quote *quote,
                      const struct hk_quote_batch *batch)
{
    json_put_whole(json, object, "kits", batch->kits);
    if (!batch->had) {
        json_put(json, object, "unit", json_null());
        json_put(json, object, "left", json_null());
        return;
    }
    put_money(json, object, "unit", quote, batch->unit_minor);
    put_money(json, object, "left", quote, batch->left_minor);
    json_put(json, object, "proven", batch->proven ? json_true() : json_real(batch->gap));
}

/* Adds the purchases for the batch. */
static json_t *purchase_json(struct json *json, const struct hk_quote *quote, const struct hk_shop_size *size)
{
    json_t *object = json_make_object(json);
    json_put(json, object, "lines", purchase_lines_json(json, size, quote->minor_digits));
    json_put_money(json, object, "goods", size->goods_minor, quote->minor_digits);
    json_put_money(json, object, "postage", size->postage_minor, quote->minor_digits);
    json_put_money(json, object, "discount", size->discount_minor, quote->minor_digits);
    json_put_money(json, object, "total", size->total_minor, quote->minor_digits);
    json_put(json, object, "proven", size->proven ? json_true() : json_real(size->gap));
    json_put(json, object, "bills", purchase_bills_json(json, size, quote->minor_digits));
    return object;
}

static void put_sold(struct json *json, json_t *object, const struct hk_quote_sold *sold)
{
    put_even(json, object, "sold_for_costs", sold->costs);
    put_even(json, object, "sold_for_work", sold->work);
}

static void put_kit(struct json *json, json_t *object, const struct hk_quote *quote, const struct hk_quote_size *size,
                    bool code)
{
    json_put_whole(json, object, "kits", size->kits);
    put_money(json, object, "fixed", quote, size->fixed_minor);
    put_money(json, object, "fixed_each", quote, size->each_fixed_minor);
    if (code)
        json_put(json, object, "code_bill", bill_json(json, quote, &size->code_bill));
    if (quote->mixed)
        return;
    json_t *batches = json_make_array(json);
    put_sold(json, object, &size->sold);
    put_even(json, object, "even_batch", size->even_batch);
    json_put_whole(json, object, "even_most", size->even_most);
    for (size_t i = 0; i < size->batch_count; i++) {
        json_t *batch = json_make_object(json);
        put_batch(json, batch, quote, &size->batches[i]);
        json_add(json, batches, batch);
    }
    json_put(json, object, "batches", batches);
    json_put(json, object, "purchase", purchase_json(json, quote, &quote->shop.sizes[size - quote->sizes]));
    if (code)
        put_even(json, object, "code_even_batch", size->code_even_batch);
}

/* Returns the bill at each discount. */
static json_t *discounts_json(struct json *json, const struct hk_quote *quote, const struct hk_quote_size *size)
{
    json_t *discounts = json_make_array(json);
    for (size_t i = 0; i < quote->discount_count; i++) {
        const struct hk_quote_discount *discount = &size->discounts[i];
        json_t *object = json_make_object(json);
        json_put_real(json, object, "discount", ratio(discount->millionths));
        json_put(json, object, "bill", bill_json(json, quote, &discount->bill));
        if (size->hours.likely > 0)
            put_money(json, object, "hour", quote, discount->earns_minor);
        else
            json_put(json, object, "hour", json_null());
        json_add(json, discounts, object);
    }
    return discounts;
}

static json_t *size_json(struct json *json, const struct hk_quote *quote, size_t i, bool code)
{
    const struct hk_quote_size *size = &quote->sizes[i];
    json_t *object = json_make_object(json);
    json_put_text(json, object, "size", size->size);
    json_put(json, object, "bill", bill_json(json, quote, &size->bill));
    json_put(json, object, "yarns", yarns_json(json, size));
    put_money(json, object, "yarn", quote, size->yarn_minor);
    put_money(json, object, "materials", quote, size->materials_minor);
    put_money(json, object, "overhead", quote, size->overhead_minor);
    put_money(json, object, "postage", quote, size->postage_minor);
    json_put_real(json, object, "minutes", MINUTES_PER_HOUR * size->hours.likely);
    put_money(json, object, "labour", quote, size->labour_minor);
    put_money(json, object, "markup", quote, size->markup_minor);
    if (quote->question == HK_QUESTION_COMMISSION)
        put_commission(json, object, quote, size);
    else
        put_kit(json, object, quote, size, code);
    put_money(json, object, "yarn_home", quote, size->yarn_home_minor);
    put_money(json, object, "rounding", quote, size->rounding_minor);
    json_put_real(json, object, "stated_h", size->stated_h);
    if (quote->discount_count > 0)
        json_put(json, object, "discounts", discounts_json(json, quote, size));
    return object;
}

static void put_pattern(struct json *json, json_t *answer, const struct hk_quote *quote, bool code)
{
    put_money(json, answer, "fixed", quote, quote->fixed_minor);
    json_put(json, answer, "bill", bill_json(json, quote, &quote->sales.bill));
    put_even(json, answer, "sales", quote->sales.sales);
    put_even(json, answer, "money_sales", quote->sales.money_sales);
    if (code) {
        json_put(json, answer, "code_bill", bill_json(json, quote, &quote->code_sales.bill));
        put_even(json, answer, "code_sales", quote->code_sales.sales);
    }
    put_money(json, answer, "labour", quote, quote->labour_minor);
    put_money(json, answer, "overhead", quote, quote->overhead_minor);
}

static void put_stitches(struct json *json, json_t *answer, const struct hk_hours *hours)
{
    json_t *stitches = json_make_array(json);
    for (size_t i = 0; i < hours->stitch_count; i++) {
        const struct hk_hours_stitch *stitch = &hours->stitches[i];
        json_t *object = json_make_object(json);
        json_put_text(json, object, "stitch", stitch->stitch);
        json_put_real(json, object, "tool_mm", stitch->tool_mm);
        json_put_range(json, object, "seconds", &stitch->each_s);
        json_put_real(json, object, "spread", stitch->spread);
        json_put_real(json, object, "count", stitch->count);
        json_put_real(json, object, "hours", stitch->hours);
        json_add(json, stitches, object);
    }
    json_put(json, answer, "stitches", stitches);
}

/* Adds the findings of the earlier stages, and then the findings of the quote. */
static void put_findings(struct json *json, json_t *answer, const struct work *work, const struct hk_diags *diags)
{
    json_put_remarks(json, answer, &work->diags, work->folder.path);
    for (size_t i = 0; hk_diags_accepted_finding(diags, i); i++)
        json_add_finding(json, json_object_get(answer, "accepted"), hk_diags_accepted_finding(diags, i), work->folder.path);
    for (size_t i = 0; i < hk_diags_count(diags); i++) {
        const enum hk_severity severity = hk_code_severity(hk_diags_finding(diags, i)->code);
        if (severity != HK_SEVERITY_ERROR)
            json_add_finding(json, json_object_get(answer, severity == HK_SEVERITY_NOTE ? "assumptions" : "warnings"),
                             hk_diags_finding(diags, i), work->folder.path);
    }
}

enum outcome quote_json(const struct work *work, const struct hk_quote *quote, const struct hk_diags *diags,
                        const struct options *options, FILE *out)
{
    const bool code = options->given & OPTION_CODE;
    static const char *const questions[] = {
        [HK_QUESTION_COMMISSION] = "commission", [HK_QUESTION_KIT] = "kit", [HK_QUESTION_PATTERN] = "pattern"};
    struct json json = {0};
    json_t *answer = json_make_answer(&json), *sizes = json_make_array(&json);
    json_put_text(&json, answer, "project", quote->project);
    json_put_text(&json, answer, "question", questions[quote->question]);
    json_put_text(&json, answer, "currency", quote->currency);
    json_put_bool(&json, answer, "solved", quote->solved);
    json_put_bool(&json, answer, "used", quote->used);
    json_put_real(&json, answer, "chance", quote->chance);
    json_put_whole(&json, answer, "timed", (int64_t)quote->timed);
    if (quote->question == HK_QUESTION_KIT)
        json_put_whole(&json, answer, "batch", quote->batch);
    if (quote->question == HK_QUESTION_COMMISSION) {
        json_put_real(&json, answer, "safe", quote->safe);
        json_put_bool(&json, answer, "sure", quote->sure);
        put_if(&json, answer, "rate", quote, quote->rate_minor);
    }
    for (size_t i = 0; i < quote->size_count; i++)
        json_add(&json, sizes, size_json(&json, quote, i, code));
    json_put(&json, answer, "quote", sizes);
    if (quote->mixed) {
        put_sold(&json, answer, &quote->sold);
        json_put(&json, answer, "purchase", purchase_json(&json, quote, &quote->shop.sizes[0]));
    }
    if (quote->question == HK_QUESTION_PATTERN)
        put_pattern(&json, answer, quote, code);
    if (quote->question == HK_QUESTION_COMMISSION) {
        put_stitches(&json, answer, work->hours);
        json_put(&json, answer, "letter", quote_letter_json(&json, work, quote, options));
    }
    put_findings(&json, answer, work, diags);
    return json_write(&json, answer, out);
}
