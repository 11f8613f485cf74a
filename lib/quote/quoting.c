/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "quote/quoting.h"

#include "base/diags.h"
#include "base/money.h"

#include <math.h>
#include <stdio.h>

/* ---- Exact sums -------------------------------------------------------------------------------------------------- */

void hk_quoting_add(struct hk_quoting *q, int64_t *sum, int64_t more)
{
    q->too_much |= !hk_money_add(sum, more);
}

int64_t hk_quoting_times(struct hk_quoting *q, int64_t amount, int64_t quantity)
{
    int64_t part = 0;
    q->too_much |= !hk_money_part(amount, quantity, HK_COST_ONE, &part);
    return part;
}

int64_t hk_quoting_percent(struct hk_quoting *q, int64_t amount, int64_t millionths)
{
    int64_t share = 0;
    q->too_much |= !hk_money_share(amount, millionths, &share);
    return share;
}

int64_t hk_ceil_div(int64_t a, int64_t b)
{
    return a / b + (a % b > 0);
}

/* ---- Rows of costs.csv ------------------------------------------------------------------------------------------- */

bool hk_cost_applies(const struct hk_cost *cost, enum hk_cost_kind kind, enum hk_cost_per per)
{
    bool each = cost->per == HK_PER_EACH && per != HK_PER_PATTERN;
    return cost->kind == kind && (cost->per == per || each);
}

int64_t hk_cost_quantity(const struct hk_cost *cost, size_t size)
{
    return cost->quantity ? cost->quantity[size] : HK_COST_ONE;
}

/* Returns the sum of all rows of this kind in money; percentages refer to other amounts and are not included. */
int64_t hk_quoting_sum(struct hk_quoting *q, enum hk_cost_kind kind, enum hk_cost_per per, size_t size, int64_t times)
{
    int64_t sum = 0;
    for (size_t i = 0; i < q->project->cost_count; i++) {
        const struct hk_cost *cost = &q->project->costs[i];
        if (hk_cost_applies(cost, kind, per))
            hk_quoting_add(q, &sum, hk_quoting_times(q, cost->amount_minor, times * hk_cost_quantity(cost, size)));
    }
    return sum;
}

int64_t hk_quoting_stated_labour(struct hk_quoting *q, enum hk_cost_per per, size_t size, int64_t times, int64_t *time)
{
    int64_t sum = 0;
    for (size_t i = 0; i < q->project->cost_count; i++) {
        const struct hk_cost *cost = &q->project->costs[i];
        if (cost->kind != HK_COST_LABOUR || cost->per != per || !cost->quantity)
            continue;
        hk_quoting_add(q, &sum, hk_quoting_times(q, cost->amount_minor, times * cost->quantity[size]));
        hk_quoting_add(q, time, times * cost->quantity[size]);
    }
    return sum;
}

int64_t hk_quoting_hour_overhead(struct hk_quoting *q, int64_t time)
{
    return hk_quoting_times(q, hk_quoting_sum(q, HK_COST_OVERHEAD, HK_PER_HOUR, 0, 1), time);
}

/* Returns the hourly rate for the computed hours; NULL if none is stated. */
const struct hk_cost *hk_quoting_rate(const struct hk_project *project)
{
    for (size_t i = 0; i < project->cost_count; i++)
        if (project->costs[i].kind == HK_COST_LABOUR && !project->costs[i].quantity)
            return &project->costs[i];
    return NULL;
}

const struct hk_cost *hk_quoting_hours_stated(const struct hk_project *project)
{
    for (size_t i = 0; i < project->cost_count; i++)
        if (project->costs[i].kind == HK_COST_LABOUR && project->costs[i].per == HK_PER_PIECE)
            return &project->costs[i];
    return NULL;
}

/* Returns the sum of percentages of this kind on one basis. */
int64_t hk_quoting_percents(const struct hk_project *project, enum hk_cost_kind kind, enum hk_cost_per basis)
{
    int64_t sum = 0;
    for (size_t i = 0; i < project->cost_count; i++)
        if (project->costs[i].kind == kind && project->costs[i].percent && project->costs[i].per == basis)
            sum += project->costs[i].millionths;
    return sum;
}

/* Returns the sum of all percentages of this kind on their bases, each rounded separately. */
int64_t hk_quoting_shares(struct hk_quoting *q, enum hk_cost_kind kind, int64_t materials, int64_t labour)
{
    int64_t sum = 0;
    for (size_t i = 0; i < q->project->cost_count; i++) {
        const struct hk_cost *cost = &q->project->costs[i];
        if (cost->kind != kind || !cost->percent)
            continue;
        int64_t basis = cost->per == HK_PER_LABOUR ? 0 : materials;
        basis += cost->per == HK_PER_MATERIALS ? 0 : labour;
        hk_quoting_add(q, &sum, hk_quoting_percent(q, basis, cost->millionths));
    }
    return sum;
}

/* ---- Fees and tax ------------------------------------------------------------------------------------------------ */

static enum hk_cost_per sold_as(enum hk_question question)
{
    switch (question) {
    case HK_QUESTION_COMMISSION:
        return HK_PER_PIECE;
    case HK_QUESTION_KIT:
        return HK_PER_KIT;
    case HK_QUESTION_PATTERN:
        break;
    }
    return HK_PER_PATTERN;
}

struct hk_place hk_costs_place(const struct hk_project *project)
{
    return hk_cell_place(project->costs[project->cost_count - 1].cell, 0);
}

static bool fee_add(struct hk_quoting *q, const struct hk_cost *cost, struct hk_quote_fee *fee)
{
    *fee = (struct hk_quote_fee){cost->item, cost->percent, cost->millionths, cost->amount_minor};
    if (!cost->percent) {
        hk_quoting_add(q, &q->rates.fee_minor, cost->amount_minor);
    } else if (q->rates.fee_count < HK_FEES_MOST) {
        q->rates.fee_millionths[q->rates.fee_count++] = cost->millionths;
    } else {
        hk_diags_add(q->diags, HK_CODE_RANGE, hk_cell_place(cost->cell, 0), "more than %d fees", HK_FEES_MOST);
        hk_diags_hint(q->diags, "take some of them together");
        return false;
    }
    return true;
}

static bool tax_add(struct hk_quoting *q, const struct hk_cost *cost, struct hk_quote_tax *tax)
{
    bool added = cost->per == HK_PER_ADDED;
    *tax = (struct hk_quote_tax){cost->item, cost->millionths, added};
    q->face->tax_added |= added;
    if (q->rates.tax_count < HK_TAXES_MOST) {
        q->rates.taxes[q->rates.tax_count++] = (struct hk_rate_tax){cost->millionths, added};
        return true;
    }
    hk_diags_add(q->diags, HK_CODE_RANGE, hk_cell_place(cost->cell, 0), "more than %d taxes", HK_TAXES_MOST);
    hk_diags_hint(q->diags, "take some of them together");
    return false;
}

struct words {
    char text[64];
};

/* Returns "a tax of 20%", or "taxes of 26%": their sum; of the added ones only, or of all. */
static struct words taxes_words(const struct hk_rates *rates, bool all)
{
    struct words words;
    int64_t sum = hk_rates_tax(rates, true) + (all ? hk_rates_tax(rates, false) : 0);
    size_t count = 0;
    for (size_t i = 0; i < rates->tax_count; i++)
        count += all || rates->taxes[i].added;
    snprintf(words.text, sizeof words.text, "%s of %s%%", count > 1 ? "taxes" : "a tax",
             hk_number_text((double)sum / 10000, 10).text);
    return words;
}

static bool ending_fits(struct hk_quoting *q, struct hk_cell tax)
{
    struct hk_ending ending = {q->options.ending_minor, q->options.ending_modulus};
    if (hk_ending_possible(&q->rates, ending))
        return true;
    hk_diags_add(q->diags, HK_CODE_RANGE, hk_cell_place(tax, 0),
                 "with %s added, no price in whole minor units makes the buyer pay what ends as asked",
                 taxes_words(&q->rates, false).text);
    hk_diags_hint(q->diags, "ask for another ending, or none");
    return false;
}

bool hk_quoting_collect_rates(struct hk_quoting *q)
{
    struct hk_cell last = {0}, tax = {0};
    struct hk_quote_fee *fees = hk_arena_take(q->arena, q->project->cost_count, sizeof *fees);
    struct hk_quote_tax *taxes = hk_arena_take(q->arena, q->project->cost_count, sizeof *taxes);
    int64_t taken = 0;
    q->face->fees = fees;
    q->face->taxes = taxes;
    for (size_t i = 0; fees && taxes && i < q->project->cost_count; i++) {
        const struct hk_cost *cost = &q->project->costs[i];
        bool fee = cost->kind == HK_COST_FEE && (cost->per == HK_PER_EACH || cost->per == sold_as(q->options.question));
        if (!fee && cost->kind != HK_COST_TAX)
            continue;
        last = cost->cell;
        tax = cost->per == HK_PER_ADDED ? cost->cell : tax;
        taken += fee && cost->percent ? cost->millionths : 0;
        if (!(fee ? fee_add(q, cost, &fees[q->face->fee_count++]) : tax_add(q, cost, &taxes[q->face->tax_count++])))
            return false;
    }
    if (taken < HK_MILLION && hk_rates_leave(&q->rates))
        return ending_fits(q, tax);
    hk_diags_add(q->diags, HK_CODE_COST_ALL, hk_cell_place(last, 0),
                 "fees of %s%% and %s take all of a price or nearly all, however high",
                 hk_number_text((double)taken / 10000, 10).text, taxes_words(&q->rates, true).text);
    hk_diags_hint(q->diags, "check the percentages of fee and tax in costs.csv");
    return false;
}

/* ---- The price --------------------------------------------------------------------------------------------------- */

static struct hk_bill bill_of(struct hk_quoting *q, const struct hk_sale *sale, int64_t costs_minor)
{
    int64_t *fee_minor = hk_arena_take(q->arena, q->face->fee_count, sizeof *fee_minor);
    int64_t *each_tax_minor = hk_arena_take(q->arena, q->face->tax_count, sizeof *each_tax_minor);
    for (size_t i = 0; fee_minor && i < q->face->fee_count; i++) {
        const struct hk_quote_fee *fee = &q->face->fees[i];
        fee_minor[i] = fee->percent ? hk_quoting_percent(q, sale->paid_minor, fee->millionths) : fee->amount_minor;
    }
    for (size_t i = 0; each_tax_minor && i < q->face->tax_count; i++)
        q->too_much |= !hk_rates_tax_at(&q->rates, i, sale->quoted_minor, &each_tax_minor[i]);
    return (struct hk_bill){.quoted_minor = sale->quoted_minor, .paid_minor = sale->paid_minor,
                            .fees_minor = sale->fees_minor, .tax_minor = sale->tax_minor, .costs_minor = costs_minor,
                            .kept_minor = sale->left_minor - costs_minor, .fee_minor = fee_minor,
                            .each_tax_minor = each_tax_minor};
}

/* Sets the bill at the given price, else at the least price that covers costs and the maker's income. */
bool hk_quoting_price(struct hk_quoting *q, int64_t costs_minor, int64_t hers_minor, struct hk_bill *bill)
{
    struct hk_sale sale;
    struct hk_ending ending = {q->options.ending_minor, q->options.ending_modulus};
    int64_t wanted = costs_minor;
    hk_quoting_add(q, &wanted, hers_minor);
    bool asked = q->options.price_minor >= 0;
    bool found = !q->too_much && (asked ? hk_sale_at(&q->rates, q->options.price_minor, &sale)
                                        : hk_sale_leaving(&q->rates, wanted, ending, &sale));
    if (found)
        *bill = bill_of(q, &sale, costs_minor);
    else
        q->too_much = true;
    return found;
}

/* Sets the bill at a lower quoted price; its amounts cannot overflow. */
static void lower_bill(struct hk_quoting *q, const struct hk_bill *full, int64_t off_minor, struct hk_bill *bill)
{
    struct hk_sale sale = {0};
    q->too_much |= !hk_sale_at(&q->rates, full->quoted_minor - off_minor, &sale);
    *bill = bill_of(q, &sale, full->costs_minor);
}

/* Reports an amount of the options that is more than the price. */
static void refuse_above(struct hk_quoting *q, const char *what, int64_t amount_minor, int64_t price_minor, const char *hint)
{
    int digits = q->face->minor_digits;
    char amount[HK_MONEY_TEXT], price[HK_MONEY_TEXT];
    hk_money_text(amount_minor, digits, amount);
    hk_money_text(price_minor, digits, price);
    hk_diags_add(q->diags, HK_CODE_RANGE, (struct hk_place){0}, "a %s of %s is more than the price of %s", what, amount,
                 price);
    hk_diags_hint(q->diags, "%s", hint);
}

void hk_quoting_code_bill(struct hk_quoting *q, const struct hk_bill *full, struct hk_bill *bill)
{
    int64_t off = q->options.code_minor;
    if (off == 0)
        off = hk_quoting_percent(q, full->quoted_minor, q->options.code_millionths);
    if (off <= full->quoted_minor)
        lower_bill(q, full, off, bill);
    else
        refuse_above(q, "code", off, full->quoted_minor, "state a smaller amount, or a share of the price such as 10%");
}

int64_t hk_quoting_earns(const struct hk_bill *bill, double hours)
{
    double bound = (double)HK_MONEY_MOST, each = (double)bill->kept_minor / hours;
    return (int64_t)floor(fmin(fmax(each, -bound), bound) + 0.5);
}

void hk_quoting_discounts(struct hk_quoting *q, struct hk_quote_size *size)
{
    size_t count = q->options.discount_count;
    struct hk_quote_discount *discounts = hk_arena_take(q->arena, count, sizeof *discounts);
    for (size_t i = 0; discounts && i < count; i++) {
        int64_t millionths = q->options.discount_millionths[i];
        discounts[i].millionths = millionths;
        lower_bill(q, &size->bill, hk_quoting_percent(q, size->bill.quoted_minor, millionths), &discounts[i].bill);
        if (size->hours.likely > 0)
            discounts[i].earns_minor = hk_quoting_earns(&discounts[i].bill, size->hours.likely);
    }
    size->discounts = discounts;
}

void hk_quoting_deposit(struct hk_quoting *q, struct hk_quote_size *size)
{
    int64_t paid = size->bill.paid_minor;
    size->deposit_minor = q->options.deposit_minor;
    if (size->deposit_minor < 0)
        size->deposit_minor = hk_quoting_percent(q, paid, q->options.deposit_millionths);
    if (size->deposit_minor > paid)
        refuse_above(q, "deposit", size->deposit_minor, paid, "state a smaller amount, or a share of the price such as 50%");
}
