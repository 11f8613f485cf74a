/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * hankful quote: what to charge for a commission, a kit or a pattern, or what a price leaves; how sure that is; where the
 * hours go; and a letter for the client, in which none of the costs stand.
 */
#include "findings.h"
#include "json.h"
#include "number.h"
#include "purchases.h"
#include "work.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define MINUTES_PER_HOUR 60.0
/* From the 5% to the 95% quantile of a normal are so many standard deviations. */
#define DEVIATIONS_IN_RANGE 3.29

/* ---- Figures ---- */

static struct money money(const struct hk_quote *quote, int64_t minor)
{
    struct money money = {0};
    hk_money_text(minor, quote->minor_digits, money.text);
    return money;
}

/* "EUR 95.00" */
static struct number named_money(const struct hk_quote *quote, int64_t minor)
{
    struct number number;
    snprintf(number.text, sizeof number.text, "%s%s%.24s", quote->currency, *quote->currency ? " " : "",
             money(quote, minor).text);
    return number;
}

static double major(const struct hk_quote *quote, int64_t minor)
{
    return (double)minor / pow(10, quote->minor_digits);
}

/* "62-110": outward, in the steps that the spread warrants. */
static struct number range_words(double low, double high, int least)
{
    struct number number;
    const struct number_step step = number_step((high - low) / DEVIATIONS_IN_RANGE, least);
    snprintf(number.text, sizeof number.text, low < 0 ? "%.17s to %.17s" : "%.18s-%.18s",
             number_stepped(low, step, NUMBER_DOWN).text, number_stepped(high, step, NUMBER_UP).text);
    return number;
}

static struct number money_range(const struct hk_quote *quote, int64_t low, int64_t high)
{
    return range_words(major(quote, low), major(quote, high), -quote->minor_digits);
}

static struct number hours_words(const struct hk_range *hours)
{
    const struct number_step step = number_step((hours->high - hours->low) / DEVIATIONS_IN_RANGE, hours->likely < 10 ? -1 : 0);
    return number_stepped(hours->likely, step, NUMBER_NEAREST);
}

/* ---- The bill, a column a size ---- */

struct row {
    const char *name;
    int64_t (*amount)(const struct hk_quote_size *size);
    bool always; /* else left out where it is nothing in every size */
};

static int64_t of_yarn(const struct hk_quote_size *s) { return s->yarn_minor; }
static int64_t of_bought(const struct hk_quote_size *s) { return s->yarn_bought_minor; }
static int64_t of_used(const struct hk_quote_size *s) { return s->yarn_used_minor; }
static int64_t of_materials(const struct hk_quote_size *s) { return s->materials_minor; }
static int64_t of_overhead(const struct hk_quote_size *s) { return s->overhead_minor; }
static int64_t of_postage(const struct hk_quote_size *s) { return s->postage_minor; }
static int64_t of_labour(const struct hk_quote_size *s) { return s->labour_minor; }
static int64_t of_markup(const struct hk_quote_size *s) { return s->markup_minor; }
static int64_t of_fees(const struct hk_quote_size *s) { return s->bill.fees_minor; }
static int64_t of_tax(const struct hk_quote_size *s) { return s->bill.tax_minor; }
static int64_t of_costs(const struct hk_quote_size *s) { return s->bill.costs_minor; }
static int64_t of_kept(const struct hk_quote_size *s) { return s->bill.kept_minor; }
static int64_t of_quoted(const struct hk_quote_size *s) { return s->bill.quoted_minor; }
static int64_t of_paid(const struct hk_quote_size *s) { return s->bill.paid_minor; }
static int64_t of_code_paid(const struct hk_quote_size *s) { return s->code_bill.paid_minor; }
static int64_t of_code_kept(const struct hk_quote_size *s) { return s->code_bill.kept_minor; }
static int64_t of_deposit(const struct hk_quote_size *s) { return s->deposit_minor; }

static bool row_empty(const struct hk_quote *quote, const struct row *row)
{
    for (size_t i = 0; i < quote->size_count; i++)
        if (row->amount(&quote->sizes[i]) != 0)
            return false;
    return !row->always;
}

static void add_row(struct text_table *table, const struct hk_quote *quote, const struct row *row)
{
    if (row_empty(quote, row))
        return;
    text_table_cell(table, "%s", row->name);
    for (size_t i = 0; i < quote->size_count; i++)
        text_table_cell(table, "%s", money(quote, row->amount(&quote->sizes[i])).text);
}

static void add_rows(struct text_table *table, const struct hk_quote *quote, const struct row *rows, size_t count)
{
    for (size_t i = 0; i < count; i++)
        add_row(table, quote, &rows[i]);
}
#define ROWS(rows) (rows), sizeof(rows) / sizeof(rows)[0]

static struct text_table *size_table(const struct hk_quote *quote, struct text *text)
{
    struct text_table *table = text_table(text);
    text_table_column(table, TEXT_KEY, "%s", *quote->currency ? quote->currency : "AMOUNT");
    for (size_t i = 0; i < quote->size_count; i++)
        text_table_column(table, TEXT_RIGHT, "%s", quote->sizes[i].size);
    return table;
}

static void add_commission_rows(struct text_table *table, const struct hk_quote *quote)
{
    static const struct row bought[] = {{"yarn, as bought", of_yarn, true}}, used[] = {{"yarn, as used", of_yarn, true}};
    static const struct row parts[] = {{"notions", of_materials, false}, {"overhead", of_overhead, false},
                                       {"postage", of_postage, false}};
    static const struct row hers[] = {{"work", of_labour, false}, {"markup", of_markup, false}};
    static const struct row taken[] = {{"fees", of_fees, false}, {"tax", of_tax, false}};
    static const struct row price[] = {{"price", of_paid, true}}, left[] = {{"kept", of_kept, true}};
    static const struct row net[] = {{"before tax", of_quoted, false}}, deposit[] = {{"deposit", of_deposit, true}};
    if (!quote->solved)
        add_rows(table, quote, ROWS(price));
    add_rows(table, quote, quote->used ? used : bought, 1);
    add_rows(table, quote, ROWS(parts));
    if (quote->solved)
        add_rows(table, quote, ROWS(hers));
    add_rows(table, quote, ROWS(taken));
    if (quote->solved)
        add_rows(table, quote, ROWS(price));
    if (quote->tax_added)
        add_rows(table, quote, ROWS(net));
    if (!quote->solved)
        add_rows(table, quote, ROWS(left));
    add_rows(table, quote, ROWS(deposit));
}

static void print_other_yarn(const struct hk_quote *quote, struct text *text)
{
    static const struct row bought[] = {{"yarn, as bought", of_bought, true}}, used[] = {{"yarn, as used", of_used, true}};
    struct text_table *table = size_table(quote, text);
    text_gap(text);
    text_paragraph(text, quote->used ? "Charged by what goes in. What has to be bought for it (leave out --used to charge that):"
                                     : "Charged by the balls bought. What goes in of them (--used charges that):");
    text_gap(text);
    add_rows(table, quote, quote->used ? bought : used, 1);
    text_table_print(table);
}

/* ---- How sure ---- */

static void add_sure(struct text_table *table, const struct hk_quote *quote, const struct hk_quote_size *size,
                     const struct hk_hours_size *hours)
{
    text_table_cell(table, "%s", size->size);
    text_table_cell(table, "%s", hours_words(&hours->hours).text);
    text_table_cell(table, "%s", range_words(hours->hours.low, hours->hours.high, hours->hours.likely < 10 ? -1 : 0).text);
    if (quote->solved)
        text_table_cell(table, "%s", money_range(quote, size->price_low_minor, size->price_high_minor).text);
    if (size->minutes > 0) {
        text_table_cell(table, "%s", money(quote, size->earns_minor).text);
        text_table_cell(table, "%s", money_range(quote, size->earns_low_minor, size->earns_high_minor).text);
    } else {
        text_table_cell(table, "-");
        text_table_cell(table, "-");
    }
    text_table_cell(table, "%s", size->chance_below < 0 ? "-" : number_chance(size->chance_below).text);
}

static void print_sure(const struct work *work, const struct hk_quote *quote, struct text *text)
{
    struct text_table *table = text_table(text);
    text_gap(text);
    text_heading(text, "How sure that is");
    text_paragraph(text,
                   "HOURS on the piece, by its stitches and ends; nine makings in ten lie in each RANGE. AN HOUR is what is "
                   "left after fees, tax and costs, over all hours. BELOW is the chance that it is less than the hourly rate.");
    text_gap(text);
    text_table_column(table, TEXT_KEY, "SIZE");
    text_table_column(table, TEXT_RIGHT, "HOURS");
    text_table_column(table, TEXT_RIGHT, "RANGE");
    if (quote->solved)
        text_table_column(table, TEXT_RIGHT, "PRICE RANGE");
    text_table_column(table, TEXT_RIGHT, "AN HOUR");
    text_table_column(table, TEXT_RIGHT, "RANGE");
    text_table_column(table, TEXT_RIGHT, "BELOW");
    for (size_t i = 0; i < quote->size_count; i++)
        add_sure(table, quote, &quote->sizes[i], &work->hours->sizes[i]);
    text_table_print(table);
}

/* ---- Where the hours go ---- */

static const struct hk_hours_size *shown_hours(const struct work *work)
{
    const struct hk_hours *hours = work->hours;
    for (size_t i = 0; i < hours->size_count; i++)
        if (hours->sizes[i].size == hours->stitch_size)
            return &hours->sizes[i];
    return &hours->sizes[0];
}

static void print_stitches(const struct hk_hours *hours, struct text *text)
{
    struct text_table *table = text_table(text);
    text_table_column(table, TEXT_KEY, "STITCH");
    text_table_column(table, TEXT_KEY, "TOOL mm");
    text_table_column(table, TEXT_RIGHT, "SECONDS EACH");
    text_table_column(table, TEXT_RIGHT, "RANGE");
    text_table_column(table, TEXT_RIGHT, "STITCHES");
    text_table_column(table, TEXT_RIGHT, "HOURS");
    for (size_t i = 0; i < hours->stitch_count; i++) {
        const struct hk_hours_stitch *stitch = &hours->stitches[i];
        text_table_cell(table, "%s", stitch->stitch);
        text_table_cell(table, "%s", number_stated(stitch->tool_mm).text);
        text_table_cell(table, "%s", number_digits(stitch->each_s.likely, 2).text);
        text_table_cell(table, "%s", range_words(stitch->each_s.low, stitch->each_s.high, -1).text);
        text_table_cell(table, "%s", number_whole((int64_t)(stitch->count + 0.5)).text);
        text_table_cell(table, "%s", number_stepped(stitch->hours, (struct number_step){1, -1}, NUMBER_NEAREST).text);
    }
    text_table_print(table);
}

static void print_parts(const struct hk_hours_size *size, struct text *text)
{
    const struct number_step tenth = {1, -1};
    struct text_table *table = text_table(text);
    text_table_column(table, TEXT_KEY, "PIECE");
    text_table_column(table, TEXT_KEY, "PART");
    text_table_column(table, TEXT_RIGHT, "HOURS");
    text_table_column(table, TEXT_RIGHT, "ENDS");
    text_table_column(table, TEXT_RIGHT, "MINUTES FOR THEM");
    for (size_t i = 0; i < size->part_count; i++) {
        const struct hk_hours_part *part = &size->parts[i];
        text_table_cell(table, "%s", part->piece);
        text_table_cell(table, "%s", part->part);
        text_table_cell(table, "%s", number_stepped(part->worked_h, tenth, NUMBER_NEAREST).text);
        text_table_cell(table, "%s", number_whole((int64_t)(part->ends + 0.5)).text);
        text_table_cell(table, "%s", number_whole((int64_t)(part->ends_h * MINUTES_PER_HOUR + 0.5)).text);
    }
    text_table_print(table);
}

static void print_hours(const struct work *work, struct text *text)
{
    const struct hk_hours_size *size = shown_hours(work);
    text_gap(text);
    if (hk_project_sizes(work->project) > 1)
        text_heading(text, "Where the hours go (size %s): likely", size->size_name);
    else
        text_heading(text, "Where the hours go: likely");
    text_gap(text);
    print_stitches(work->hours, text);
    text_gap(text);
    print_parts(size, text);
}

/* ---- Commission ---- */

static void say_footer(struct text *text)
{
    text_gap(text);
    text_paragraph(text,
                   "Tax rates and thresholds are local, and are yours to state. Fibre labels for textiles, and safety rules "
                   "for what is made for children (cords, small parts, flammability), apply to what is sold: the rules of "
                   "the place decide. This is neither legal nor tax advice.");
}

static void say_tax(const struct hk_quote *quote, struct text *text)
{
    if (!quote->tax_stated)
        text_paragraph(text, "No tax is stated in costs.csv, so none is reckoned.");
    else
        text_paragraph(text, "The price is what the buyer pays, %s.",
                       quote->tax_added ? "the tax that is added with it" : "the tax in it");
}

static enum outcome print_commission(const struct work *work, const struct hk_quote *quote, struct text *text)
{
    if (quote->solved) {
        text_heading(text, "%s: what to charge", quote->project);
        text_paragraph(text, "The least price that pays fees, tax and costs and leaves the work and the markup whole.");
    } else {
        text_heading(text, "%s: what a price of %s leaves", quote->project,
                     named_money(quote, quote->sizes[0].bill.quoted_minor).text);
        text_paragraph(text, "What is kept is the price less fees, tax and costs: it is what the work earns.");
    }
    say_tax(quote, text);
    text_gap(text);
    struct text_table *table = size_table(quote, text);
    add_commission_rows(table, quote);
    text_table_print(table);
    print_other_yarn(quote, text);
    print_sure(work, quote, text);
    print_hours(work, text);
    say_footer(text);
    findings_assumed(text, &work->diags, work->folder.path);
    return text_outcome(text);
}

/* ---- Kit ---- */

static void add_even(struct text_table *table, const struct hk_quote *quote, const char *name, bool code)
{
    text_table_cell(table, "%s", name);
    for (size_t i = 0; i < quote->size_count; i++) {
        const int64_t even = code ? quote->sizes[i].code_even_batch : quote->sizes[i].even_batch;
        if (even < 0)
            text_table_cell(table, "not by %s", number_whole(quote->sizes[i].even_most).text);
        else
            text_table_cell(table, "%s", number_whole(even).text);
    }
}

static void print_kit_bill(const struct hk_quote *quote, bool code, struct text *text)
{
    static const struct row costs[] = {{"yarn", of_yarn, true}, {"notions and kit", of_materials, false},
                                       {"overhead", of_overhead, false}, {"postage", of_postage, false},
                                       {"costs, fixed ones too", of_costs, true}};
    static const struct row hers[] = {{"work", of_labour, false}, {"markup", of_markup, false}};
    static const struct row rest[] = {{"fees", of_fees, false}, {"tax", of_tax, false}, {"price", of_paid, true},
                                      {"kept", of_kept, true}};
    static const struct row net[] = {{"before tax", of_quoted, false}};
    static const struct row with_code[] = {{"price with the code", of_code_paid, true}, {"kept with it", of_code_kept, true}};
    struct text_table *table = size_table(quote, text);
    add_rows(table, quote, ROWS(costs));
    add_rows(table, quote, ROWS(hers));
    add_rows(table, quote, ROWS(rest));
    if (quote->tax_added)
        add_rows(table, quote, ROWS(net));
    add_even(table, quote, "pays from kits", false);
    if (code) {
        add_rows(table, quote, ROWS(with_code));
        add_even(table, quote, "with it from kits", true);
    }
    text_table_print(table);
}

/* What the figures of some batches are not. */
static void say_batches(const struct hk_quote *quote, struct text *text)
{
    bool lacking = false;
    double gap = 0;
    for (size_t i = 0; i < quote->size_count; i++) {
        for (size_t b = 0; b < quote->sizes[i].batch_count; b++) {
            const struct hk_quote_batch *batch = &quote->sizes[i].batches[b];
            lacking |= !batch->had;
            gap = fmax(gap, batch->had && !batch->proven ? batch->gap : 0);
        }
    }
    if (lacking || gap > 0)
        text_gap(text);
    if (lacking)
        text_paragraph(text, "- where there is not yarn enough on offer.");
    if (gap > 0)
        text_paragraph(text, "Not every search for the cheapest yarn came to its end: it may be up to %s cheaper (--seconds gives "
                       "them more time).", number_percent(gap).text);
}

static void print_batches(const struct hk_quote *quote, struct text *text)
{
    struct text_table *table = text_table(text);
    text_gap(text);
    text_heading(text, "By batch: what a kit costs, work in it, and what the batch leaves beyond that");
    text_gap(text);
    text_table_column(table, TEXT_KEY, "SIZE");
    text_table_column(table, TEXT_RIGHT, "KITS");
    text_table_column(table, TEXT_RIGHT, "A KIT COSTS");
    text_table_column(table, TEXT_RIGHT, "LEFT");
    for (size_t i = 0; i < quote->size_count; i++) {
        for (size_t b = 0; b < quote->sizes[i].batch_count; b++) {
            const struct hk_quote_batch *batch = &quote->sizes[i].batches[b];
            text_table_cell(table, "%s", b ? "" : quote->sizes[i].size);
            text_table_cell(table, "%s", number_whole(batch->kits).text);
            text_table_cell(table, "%s", batch->had ? money(quote, batch->unit_minor).text : "-");
            text_table_cell(table, "%s", batch->had ? money(quote, batch->left_minor).text : "-");
        }
    }
    text_table_print(table);
    say_batches(quote, text);
}

static void add_kit_yarn(struct text_table *table, const char *size, const struct hk_quote_yarn *yarn)
{
    text_table_cell(table, "%s", size);
    text_table_cell(table, "%s", yarn->role);
    text_table_cell(table, "%s%s%s", yarn->yarn, *yarn->colour ? " " : "", yarn->colour);
    if (yarn->balls > 0)
        text_table_cell(table, "%s x %s g", number_whole(yarn->balls).text, number_stated(yarn->put_up_g).text);
    else
        text_table_cell(table, "%s g", number_stepped(yarn->mass_g, (struct number_step){1, 0}, NUMBER_UP).text);
}

static void print_kit_yarn(const struct hk_quote *quote, struct text *text)
{
    struct text_table *table = text_table(text);
    text_gap(text);
    text_heading(text, "Yarn of a kit");
    text_gap(text);
    text_table_column(table, TEXT_KEY, "SIZE");
    text_table_column(table, TEXT_KEY, "ROLE");
    text_table_column(table, TEXT_WRAP, "YARN");
    text_table_column(table, TEXT_RIGHT, "A KIT");
    for (size_t i = 0; i < quote->size_count; i++)
        for (size_t r = 0; r < quote->sizes[i].yarn_count; r++)
            add_kit_yarn(table, r ? "" : quote->sizes[i].size, &quote->sizes[i].yarns[r]);
    text_table_print(table);
}

/* Kits of one batch may differ in colour then. */
static void say_mixed_lots(const struct hk_quote *quote, struct text *text)
{
    for (size_t i = 0; i < quote->shop.size_count; i++) {
        const struct hk_shop_size *size = &quote->shop.sizes[i];
        for (size_t r = 0; r < size->role_count; r++)
            if (size->roles[r].lots > 1)
                text_item(text, "%s, %s: %zu lots are mixed, as project.csv lets them; put one lot into each kit, as far as they "
                          "reach", size->size, size->roles[r].role, size->roles[r].lots);
    }
}

static void print_batch_yarn(const struct hk_quote *quote, struct text *text)
{
    text_gap(text);
    text_heading(text, "What to buy for %s %s of one size, spare%s in it", number_whole(quote->batch).text,
                 quote->batch == 1 ? "kit" : "kits", quote->used ? " and waste" : "");
    text_gap(text);
    purchases_print(&quote->shop, false, text);
    say_mixed_lots(quote, text);
}

static void say_kit(const struct hk_quote *quote, struct text *text)
{
    const char *holds = quote->used ? "yarn wound off" : "whole balls";
    if (quote->margin >= 0)
        text_paragraph(text, "A kit holds %s, the likely amount and a flat %s more.", holds, number_asked(quote->margin).text);
    else
        text_paragraph(text, "A kit holds %s, enough for another maker with a chance of %s.", holds,
                       number_asked(quote->chance).text);
    text_paragraph(text, "It pays from so many kits on: that batch and every larger one, as far as was looked, leave something when "
                         "all costs and the work stated are paid.");
}

static enum outcome print_kit(const struct work *work, const struct hk_quote *quote, bool code, struct text *text)
{
    text_heading(text, "%s: a kit, in batches of %s", quote->project, number_whole(quote->batch).text);
    if (quote->solved)
        text_paragraph(text, "The least price that pays fees, tax and all costs of the batch and leaves the work and the "
                             "markup whole, if every kit of it is sold.");
    else
        text_paragraph(text, "What is kept of a kit at the price asked about, if every kit of the batch is sold.");
    say_kit(quote, text);
    say_tax(quote, text);
    text_gap(text);
    print_kit_bill(quote, code, text);
    print_kit_yarn(quote, text);
    print_batch_yarn(quote, text);
    print_batches(quote, text);
    say_footer(text);
    findings_assumed(text, &work->diags, work->folder.path);
    return text_outcome(text);
}

/* ---- Pattern ---- */

static void add_sale(struct text_table *table, const struct hk_quote *quote, const char *name, int64_t full, int64_t code,
                     bool with_code)
{
    text_table_cell(table, "%s", name);
    text_table_cell(table, "%s", money(quote, full).text);
    if (with_code)
        text_table_cell(table, "%s", money(quote, code).text);
}

static void add_sales(struct text_table *table, const struct hk_quote *quote, bool with_code)
{
    text_table_cell(table, "sales until then");
    text_table_cell(table, "%s", quote->sales.sales < 0 ? "never" : number_whole(quote->sales.sales).text);
    if (with_code)
        text_table_cell(table, "%s", quote->code_sales.sales < 0 ? "never" : number_whole(quote->code_sales.sales).text);
}

static enum outcome print_pattern(const struct work *work, const struct hk_quote *quote, bool code, struct text *text)
{
    const struct hk_bill *full = &quote->sales.bill, *with = &quote->code_sales.bill;
    struct text_table *table = text_table(text);
    text_heading(text, "%s: the pattern", quote->project);
    text_paragraph(text, "What a sale leaves, and how many it takes until the fixed costs are back.");
    say_tax(quote, text);
    text_gap(text);
    text_table_column(table, TEXT_KEY, "%s", *quote->currency ? quote->currency : "AMOUNT");
    text_table_column(table, TEXT_RIGHT, "FULL PRICE");
    if (code)
        text_table_column(table, TEXT_RIGHT, "WITH THE CODE");
    add_sale(table, quote, "price", full->paid_minor, with->paid_minor, code);
    add_sale(table, quote, "fees", full->fees_minor, with->fees_minor, code);
    add_sale(table, quote, "tax", full->tax_minor, with->tax_minor, code);
    add_sale(table, quote, "left of a sale", full->kept_minor, with->kept_minor, code);
    add_sale(table, quote, "fixed costs", quote->fixed_minor, quote->fixed_minor, code);
    add_sales(table, quote, code);
    text_table_print(table);
    say_footer(text);
    (void)work;
    return text_outcome(text);
}

/* ---- Letter ---- */

static void say_letter_yarn(const struct hk_quote_yarn *yarn, struct text *text)
{
    text_item(text, "Yarn: %s%s%s, %s %s of %s g", yarn->yarn, *yarn->colour ? ", " : "", yarn->colour,
              number_whole(yarn->balls).text, yarn->balls == 1 ? "ball" : "balls", number_stated(yarn->put_up_g).text);
}

/* What the buyer may read: none of the costs. */
static enum outcome print_letter(const struct work *work, const struct hk_quote *quote, struct text *text)
{
    const struct hk_quote_size *size = &quote->sizes[0];
    const struct hk_range *hours = &work->hours->sizes[0].hours;
    const bool sized = hk_project_sizes(work->project) > 1;
    text_heading(text, "Quote: %s", quote->project);
    text_gap(text);
    text_item(text, "Made to order: %s%s%s", quote->project, sized ? ", size " : "", sized ? size->size : "");
    for (size_t i = 0; i < size->yarn_count; i++)
        say_letter_yarn(&size->yarns[i], text);
    text_item(text, "Price: %s%s", named_money(quote, size->bill.paid_minor).text,
              quote->tax_stated ? ", tax included" : "");
    if (size->deposit_minor > 0)
        text_item(text, "Deposit: %s when it is ordered, %s when it is ready",
                  named_money(quote, size->deposit_minor).text,
                  named_money(quote, size->bill.paid_minor - size->deposit_minor).text);
    if (size->minutes > 0)
        text_item(text, "Time: about %s hours of work by hand", hours_words(hours).text);
    return text_outcome(text);
}

/* ---- JSON ---- */

/* May be below 0, which is a loss. */
static void put_money(struct json *json, json_t *object, const char *key, const struct hk_quote *quote, int64_t minor)
{
    json_put_text(json, object, key, money(quote, minor).text);
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
    return object;
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
        json_put_real(json, object, "put_up_g", yarn->put_up_g);
        json_put_whole(json, object, "balls", yarn->balls);
        json_add(json, yarns, object);
    }
    return yarns;
}

static void put_range(struct json *json, json_t *object, const char *key, const struct hk_range *range)
{
    json_t *values = json_make_object(json);
    json_put_real(json, values, "likely", range->likely);
    json_put_real(json, values, "low", range->low);
    json_put_real(json, values, "high", range->high);
    json_put(json, object, key, values);
}

static void put_commission(struct json *json, json_t *object, const struct hk_quote *quote,
                           const struct hk_quote_size *size, const struct hk_hours_size *hours)
{
    put_money(json, object, "yarn_bought", quote, size->yarn_bought_minor);
    put_money(json, object, "yarn_used", quote, size->yarn_used_minor);
    put_money(json, object, "deposit", quote, size->deposit_minor);
    put_range(json, object, "hours", &hours->hours);
    if (quote->solved) {
        put_money(json, object, "price_low", quote, size->price_low_minor);
        put_money(json, object, "price_high", quote, size->price_high_minor);
    }
    if (size->minutes > 0) {
        put_money(json, object, "hour", quote, size->earns_minor);
        put_money(json, object, "hour_low", quote, size->earns_low_minor);
        put_money(json, object, "hour_high", quote, size->earns_high_minor);
    }
    json_put(json, object, "chance_below", size->chance_below < 0 ? json_null() : json_real(size->chance_below));
}

static void put_even(struct json *json, json_t *object, const char *key, int64_t even)
{
    json_put(json, object, key, even < 0 ? json_null() : json_integer(even));
}

static void put_batch(struct json *json, json_t *object, const struct hk_quote *quote, const struct hk_quote_batch *batch)
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

/* What to buy for the batch. */
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

static void put_kit(struct json *json, json_t *object, const struct hk_quote *quote, const struct hk_quote_size *size,
                    bool code)
{
    json_t *batches = json_make_array(json);
    put_money(json, object, "fixed", quote, size->fixed_minor);
    put_even(json, object, "even_batch", size->even_batch);
    json_put_whole(json, object, "even_most", size->even_most);
    for (size_t i = 0; i < size->batch_count; i++) {
        json_t *batch = json_make_object(json);
        put_batch(json, batch, quote, &size->batches[i]);
        json_add(json, batches, batch);
    }
    json_put(json, object, "batches", batches);
    json_put(json, object, "purchase", purchase_json(json, quote, &quote->shop.sizes[size - quote->sizes]));
    if (code) {
        json_put(json, object, "code_bill", bill_json(json, quote, &size->code_bill));
        put_even(json, object, "code_even_batch", size->code_even_batch);
    }
}

static json_t *size_json(struct json *json, const struct work *work, const struct hk_quote *quote, size_t i, bool code)
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
    json_put_whole(json, object, "minutes", size->minutes);
    put_money(json, object, "labour", quote, size->labour_minor);
    put_money(json, object, "markup", quote, size->markup_minor);
    if (quote->question == HK_COMMISSION)
        put_commission(json, object, quote, size, &work->hours->sizes[i]);
    else
        put_kit(json, object, quote, size, code);
    return object;
}

static void put_pattern(struct json *json, json_t *answer, const struct hk_quote *quote, bool code)
{
    put_money(json, answer, "fixed", quote, quote->fixed_minor);
    json_put(json, answer, "bill", bill_json(json, quote, &quote->sales.bill));
    put_even(json, answer, "sales", quote->sales.sales);
    if (code) {
        json_put(json, answer, "code_bill", bill_json(json, quote, &quote->code_sales.bill));
        put_even(json, answer, "code_sales", quote->code_sales.sales);
    }
}

static void put_stitches(struct json *json, json_t *answer, const struct hk_hours *hours)
{
    json_t *stitches = json_make_array(json);
    for (size_t i = 0; i < hours->stitch_count; i++) {
        const struct hk_hours_stitch *stitch = &hours->stitches[i];
        json_t *object = json_make_object(json);
        json_put_text(json, object, "stitch", stitch->stitch);
        json_put_real(json, object, "tool_mm", stitch->tool_mm);
        put_range(json, object, "seconds", &stitch->each_s);
        json_put_real(json, object, "spread", stitch->spread);
        json_put_real(json, object, "count", stitch->count);
        json_put_real(json, object, "hours", stitch->hours);
        json_add(json, stitches, object);
    }
    json_put(json, answer, "stitches", stitches);
}

static enum outcome print_json(const struct work *work, const struct hk_quote *quote, bool code, FILE *out)
{
    static const char *const questions[] = {[HK_COMMISSION] = "commission", [HK_KIT] = "kit", [HK_PATTERN] = "pattern"};
    struct json json = {0};
    json_t *answer = json_make_answer(&json), *sizes = json_make_array(&json);
    json_put_text(&json, answer, "project", quote->project);
    json_put_text(&json, answer, "question", questions[quote->question]);
    json_put_text(&json, answer, "currency", quote->currency);
    json_put_bool(&json, answer, "solved", quote->solved);
    json_put_bool(&json, answer, "used", quote->used);
    json_put_real(&json, answer, "chance", quote->chance);
    json_put_whole(&json, answer, "timed", (int64_t)quote->timed);
    if (quote->question == HK_KIT)
        json_put_whole(&json, answer, "batch", quote->batch);
    for (size_t i = 0; i < quote->size_count; i++)
        json_add(&json, sizes, size_json(&json, work, quote, i, code));
    json_put(&json, answer, "quote", sizes);
    if (quote->question == HK_PATTERN)
        put_pattern(&json, answer, quote, code);
    if (quote->question == HK_COMMISSION)
        put_stitches(&json, answer, work->hours);
    json_put_findings(&json, answer, "warnings", &work->diags, HK_WARNING, work->folder.path);
    json_put_findings(&json, answer, "assumed", &work->diags, HK_NOTE, work->folder.path);
    return json_write(&json, answer, out);
}

/* ---- Options ---- */

static bool price_option(const struct work *work, const char *word, int64_t *minor)
{
    struct hk_diags diags = {0};
    const bool read = hk_project_money(work->project, word, minor, &diags);
    for (size_t i = 0; i < diags.count; i++)
        complain("--price: %s%s%s", diags.findings[i].message, diags.findings[i].hint ? "; " : "",
                 diags.findings[i].hint ? diags.findings[i].hint : "");
    hk_diags_free(&diags);
    return read;
}

/* ".95": the digits of the smaller unit; "9.95" and, where there is none, "80": digits before it too. */
static bool ending_option(const struct work *work, const char *word, struct hk_quote_options *options)
{
    const int digits = hk_project_minor_digits(work->project);
    const char *point = strpbrk(word, ".,");
    const size_t whole = point ? (size_t)(point - word) : strlen(word), behind = point ? strlen(point + 1) : 0;
    int64_t minor = 0, modulus = 1;
    for (const char *c = word; *c; c++)
        minor = c == point ? minor : 10 * minor + (*c - '0');
    bool good = strlen(word) > 0 && strlen(word) <= 8 && (point ? behind == (size_t)digits : whole > 0) &&
                strspn(word, "0123456789") >= whole && (!point || strspn(point + 1, "0123456789") == behind);
    for (size_t i = 0; i < whole + (size_t)digits; i++)
        modulus *= good ? 10 : 1;
    for (int i = 0; !point && i < digits; i++)
        minor *= 10;
    if (good) {
        options->ending_minor = minor;
        options->ending_modulus = modulus;
    } else {
        complain("--ending: \"%s\" is no end of a price; write %s", word, digits == 2   ? "one like .95 or 9.50"
                                                                          : digits == 0 ? "one like 80 or 500"
                                                                                        : "all digits after the point");
    }
    return good;
}

/* What belongs to one question is no option of another. */
static bool belongs(const struct options *options, uint64_t bits, const char *wanted)
{
    for (uint64_t bit = 1; bit && bit <= bits; bit <<= 1)
        if (bit & bits & options->given)
            complain("--%s goes with %s", options_name(bit), wanted);
    return !(bits & options->given);
}

static bool options_belong(const struct options *options, enum hk_question question)
{
    bool good = !((options->given & OPTION_KIT) && (options->given & OPTION_PATTERN));
    if (!good)
        complain("--kit and --pattern are two questions; ask one of them");
    if (question != HK_KIT)
        good = belongs(options, OPTION_BATCH | OPTION_WASTE | OPTION_SPARE, "--kit") && good;
    else if (!(options->given & OPTION_USED))
        good = belongs(options, OPTION_WASTE, "--used: whole balls are not wound") && good;
    if (question == HK_COMMISSION)
        good = belongs(options, OPTION_CODE, "--kit or --pattern") && good;
    else
        good = belongs(options, OPTION_DEPOSIT | OPTION_LETTER, "a commission, not with --kit or --pattern") && good;
    if (question == HK_PATTERN && !options->price) {
        complain("--pattern needs its price, such as --price 7.50");
        good = false;
    }
    if (question == HK_PATTERN)
        good = belongs(options, OPTION_SIZE | OPTION_CHANCE | OPTION_USED | OPTION_ENDING | OPTION_SECONDS,
                       "a commission or --kit") && good;
    if (options->given & OPTION_PRICE)
        good = belongs(options, OPTION_ENDING, "a price that is sought, not with --price") && good;
    if (options->json)
        good = belongs(options, OPTION_LETTER, "text, not with --json") && good;
    return good;
}

static bool letter_sized(const struct work *work, const struct options *options)
{
    if (!(options->given & OPTION_LETTER) || work->size != HK_NO_SIZE || hk_project_sizes(work->project) == 1)
        return true;
    complain("--letter is about one piece; name its size with --size");
    return false;
}

static enum outcome options_fill(const struct work *work, const struct options *options, struct hk_quote_options *wanted)
{
    bool good = letter_sized(work, options);
    wanted->used = options->given & OPTION_USED;
    if (options->given & OPTION_DEPOSIT)
        wanted->deposit_millionths = options->deposit_millionths;
    if (options->given & OPTION_BATCH)
        wanted->batch = options->batch;
    wanted->waste_millionths = options->waste_millionths;
    wanted->spare_millionths = options->spare_millionths;
    wanted->code_millionths = options->code_millionths;
    if (options->seconds > 0)
        wanted->seconds = options->seconds;
    if (options->price)
        good = price_option(work, options->price, &wanted->price_minor) && good;
    if (options->ending)
        good = ending_option(work, options->ending, wanted) && good;
    return good ? DONE : MISUSED;
}

/* ---- The command ---- */

static enum outcome print(const struct work *work, const struct options *options, const struct hk_quote *quote, FILE *out)
{
    struct text text = text_to(out, options->width);
    const bool code = options->given & OPTION_CODE;
    if (options->json)
        return print_json(work, quote, code, out);
    if (options->given & OPTION_LETTER)
        return print_letter(work, quote, &text);
    switch (quote->question) {
    case HK_COMMISSION:
        return print_commission(work, quote, &text);
    case HK_KIT:
        return print_kit(work, quote, code, &text);
    case HK_PATTERN:
        break;
    }
    return print_pattern(work, quote, code, &text);
}

static enum outcome quote_and_print(struct work *work, const struct options *options, struct hk_quote_options wanted,
                                    FILE *out)
{
    struct hk_diags diags = {0};
    struct hk_quote *quote = hk_quote_make(work->need, work->shop, work->hours, wanted, &diags);
    hk_diags_sort(&diags);
    findings_print(&diags, work->folder.path);
    enum outcome outcome = findings_outcome(&diags);
    if (quote && outcome == DONE)
        outcome = print(work, options, quote, out);
    hk_quote_free(quote);
    hk_diags_free(&diags);
    return outcome;
}

enum outcome cmd_quote(const struct options *options, FILE *out)
{
    struct work work = {.hours_wanted = true};
    const enum hk_question question = options->given & OPTION_KIT       ? HK_KIT
                                      : options->given & OPTION_PATTERN ? HK_PATTERN
                                                                        : HK_COMMISSION;
    struct hk_quote_options wanted = hk_quote_defaults(question);
    if (!options_belong(options, question))
        return MISUSED;
    enum outcome outcome =
        work_project(&work, options, work_folder(options), question == HK_COMMISSION ? STAGE_SHOP : STAGE_NEED);
    if (outcome == DONE)
        outcome = options_fill(&work, options, &wanted);
    if (outcome == DONE)
        outcome = quote_and_print(&work, options, wanted, out);
    work_free(&work);
    return outcome;
}
