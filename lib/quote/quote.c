/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The quote: checks the required statements and dispatches the three questions. commission.c, kit.c and pattern.c
 * answer them with the sums of quoting.c. All amounts shown to the minor unit are computed in whole minor units.
 */
#include "quote/quoting.h"

#include "base/diags.h"
#include "base/money.h"
#include "quote/hours.h"
#include "shop/shop.h"

#include <math.h>
#include <stdlib.h>

#define DEFAULT_SECONDS 10
#define SAFE_CHANCE 0.8
/* The limit of hours, since they are integers in HK_COST_ONE; far above any person's work. */
#define HOURS_MOST 1e6

/* The public struct comes first, as in struct hk_needed. */
struct quoted {
    struct hk_quote face;
    struct hk_arena arena;
};

/* ---- Required statements ----------------------------------------------------------------------------------------- */

static bool costs_stated(const struct hk_quoting *q)
{
    if (q->project->cost_count > 0)
        return true;
    hk_diags_add(q->diags, HK_CODE_COST_MISSING, (struct hk_place){"costs.csv", 0, 0},
                 "no costs are stated, so no price can be computed");
    hk_diags_hint(q->diags, "write a file costs.csv with the columns item, kind, amount, and a row such as work,labour,18.00");
    return false;
}

static bool rate_stated(const struct hk_quoting *q)
{
    if (q->options.question != HK_QUESTION_COMMISSION || q->options.price_minor >= 0 || hk_quoting_rate(q->project) ||
        hk_quoting_hours_stated(q->project))
        return true;
    hk_diags_add(q->diags, HK_CODE_COST_MISSING, hk_costs_place(q->project),
                 "no hourly rate is stated, so no price can be computed");
    hk_diags_hint(q->diags, "add a row such as work,labour,18.00 or ask what an hour earns with --price");
    return false;
}

/* Returns true when a role of yarns.csv has an offer or a price. */
static bool has_price(const struct hk_project *project, size_t role)
{
    for (size_t i = 0; i < project->offer_count; i++)
        if (project->offers[i].role == role)
            return true;
    return project->candidates[project->roles[role].plan].price_minor >= 0;
}

static bool is_used(const struct hk_need *need, size_t role)
{
    for (size_t r = 0; r < need->role_count; r++)
        if (need->roles[r].role == role)
            return true;
    return false;
}

/* Returns true when the yarn of every role has a price; else reports it. */
static bool yarns_priced(const struct hk_quoting *q)
{
    bool priced = true;
    for (size_t role = 0; role < q->project->role_count && q->options.question != HK_QUESTION_PATTERN; role++) {
        if (!is_used(&q->needed->face, role) || has_price(q->project, role))
            continue;
        const struct hk_candidate *plan = &q->project->candidates[q->project->roles[role].plan];
        priced = false;
        hk_diags_add(q->diags, HK_CODE_COST_MISSING, hk_cell_place(plan->price_cell, 0),
                     "%s, the yarn of %s, has no price, so what is made of it has none either",
                     q->project->yarns[plan->yarn].name, q->project->roles[role].name);
        hk_diags_hint(q->diags, "state the price of one ball in the column price, or where to buy it in offers.csv");
    }
    return priced;
}

static bool share_fits(int64_t millionths, int64_t most)
{
    return millionths >= 0 && millionths <= most;
}

static bool batch_fits(const struct hk_quote_options *options, const struct hk_project *project)
{
    int64_t sum = 0;
    for (size_t i = 0; options->kits && i < project->size_count; i++) {
        if (options->kits[i] < 0 || options->kits[i] > HK_KITS_MOST)
            return false;
        sum += options->kits[i];
    }
    sum = options->kits ? sum : options->batch;
    return sum >= 1 && sum <= HK_KITS_MOST;
}

static bool prices_fit(const struct hk_quote_options *options)
{
    bool fits = options->ending_modulus >= 1 && options->ending_modulus <= HK_MONEY_MOST && options->ending_minor >= 0 &&
                options->ending_minor < options->ending_modulus && options->sales >= 0 && options->code_minor >= 0 &&
                options->code_minor <= HK_MONEY_MOST && options->deposit_minor >= -1 && options->deposit_minor <= HK_MONEY_MOST;
    fits &= !(options->code_minor > 0 && options->code_millionths > 0);
    fits &= options->sure == 0 || (options->sure > 0 && options->sure < 1 && options->price_minor < 0);
    for (size_t i = 0; i < options->discount_count; i++)
        fits &= share_fits(options->discount_millionths[i], HK_MILLION - 1);
    return fits;
}

static bool options_fit(const struct hk_quote_options *options, const struct hk_project *project, struct hk_diags *diags)
{
    if (prices_fit(options) && batch_fits(options, project) && share_fits(options->deposit_millionths, HK_MILLION) &&
        share_fits(options->code_millionths, HK_MILLION - 1) && share_fits(options->waste_millionths, HK_MILLION) &&
        share_fits(options->spare_millionths, HK_MILLION) && options->seconds > 0 && isfinite(options->seconds))
        return true;
    hk_diags_add(diags, HK_CODE_RANGE, (struct hk_place){"options", 0, 0}, "a quote with such options cannot be made");
    hk_diags_hint(diags, "a batch is 1 to %d kits; a deposit, waste and spare are at most 100%%, a code and a discount below "
                  "that; a chance to be sure of is between 0 and 1 and goes with a price that is sought; time to search is "
                  "above 0", HK_KITS_MOST);
    return false;
}

/* Reports that a host passed stages that do not belong together. Returns false. */
static bool refuse_stage(struct hk_diags *diags, const char *stage, const char *message, const char *hint)
{
    hk_diags_add(diags, HK_CODE_RANGE, (struct hk_place){stage, 0, 0}, "%s", message);
    hk_diags_hint(diags, "%s", hint);
    return false;
}

/* Checks that the shop has one basket for each size, which a commission needs; other questions do not use the shop. */
static bool shop_fits(const struct hk_needed *needed, const struct hk_shop *shop, enum hk_question question,
                      struct hk_diags *diags)
{
    const struct hk_shopped *shopped = (const struct hk_shopped *)shop;
    if (!shop)
        return question != HK_QUESTION_COMMISSION ||
               refuse_stage(diags, "shop", "a commission is quoted by what is bought for it, and no basket is given",
                            "plan one for the same need");
    if (shopped->needed != needed)
        return refuse_stage(diags, "shop", "the basket is of another need", "plan one for the need that is quoted");
    if (shopped->options.together || shopped->options.times != 1)
        return refuse_stage(diags, "shop", "a basket for several makings does not give the price of one",
                            "plan a basket for each size, once");
    return true;
}

static bool hours_belong(const struct hk_needed *needed, const struct hk_hours *hours, struct hk_diags *diags)
{
    const struct hk_clocked *clocked = (const struct hk_clocked *)hours;
    if (!hours)
        return refuse_stage(diags, "hours", "no hours are given", "predict them from a fit of time");
    if (clocked->tally != needed->fit->tally || clocked->first_size != needed->first_size ||
        clocked->last_size != needed->last_size)
        return refuse_stage(diags, "hours", "the hours are of another project or of other sizes",
                            "predict them for the sizes of the need");
    return true;
}

/* Returns true when every size with kits is in the need. */
static bool kits_needed(const struct hk_needed *needed, const struct hk_quote_options *options, struct hk_diags *diags)
{
    for (size_t i = 0; options->kits && i < needed->fit->tally->project->size_count; i++)
        if ((i < needed->first_size || i > needed->last_size) && options->kits[i] > 0)
            return refuse_stage(diags, "options", "the batch has kits of a size that the need does not have",
                                "predict the need for all sizes");
    return true;
}

/*
 * ---- The whole quote
 * ---------------------------------------------------------------------------------------------------
 */

static void commission_sizes(struct hk_quoting *q, struct hk_quote_size *sizes)
{
    const struct hk_needed *needed = q->needed;
    for (size_t i = 0, first = 0, last = 0; i < q->face->size_count; i++, first = last) {
        while (last < needed->face.role_count && needed->face.roles[last].size == needed->first_size + i)
            last++;
        hk_commission_size(q, i, first, last - first, &sizes[i]);
    }
}

static struct hk_shop_size *baskets_take(struct hk_quoting *q, size_t count)
{
    struct hk_quote *face = q->face;
    struct hk_shop_size *baskets = hk_arena_take(q->arena, count, sizeof *baskets);
    face->shop = (struct hk_shop){.project = face->project, .currency = face->currency, .minor_digits = face->minor_digits,
                                  .chance = face->chance, .margin = face->margin, .short_cost_minor = -1,
                                  .sizes = baskets, .size_count = baskets ? count : 0};
    return baskets;
}

/* Each size is a batch of its own. */
static void kit_sizes(struct hk_quoting *q, struct hk_quote_size *sizes)
{
    struct hk_quote *face = q->face;
    struct hk_shop_size *baskets = baskets_take(q, face->size_count);
    q->watching = (struct hk_watching){.watch = q->options.watch, .share = 1 / (double)face->size_count};
    for (size_t i = 0; baskets && i < face->size_count && !q->watching.cancelled; i++) {
        q->watching.from = (double)i / (double)face->size_count;
        hk_kit_batch(q, q->needed->first_size + i, q->needed->first_size + i, &sizes[i], &baskets[i]);
    }
}

/* The sizes share one batch. */
static void kit_mixed(struct hk_quoting *q, struct hk_quote_size *sizes)
{
    struct hk_shop_size *basket = baskets_take(q, 1);
    q->watching = (struct hk_watching){.watch = q->options.watch, .share = 1};
    if (basket)
        hk_kit_batch(q, q->needed->first_size, q->needed->last_size, sizes, basket);
}

/* Returns true when some basket has balls of this offer without a known value. */
static bool takes_unknown(const struct hk_quoting *q, const struct hk_offer *offer)
{
    const struct hk_shop *shop = q->options.question == HK_QUESTION_KIT ? &q->face->shop : q->shop;
    for (size_t i = 0; i < shop->size_count; i++)
        for (size_t k = 0; k < shop->sizes[i].line_count; k++) {
            const struct hk_shop_line *line = &shop->sizes[i].lines[k];
            if (line->lot == offer->lot && line->put_up_g == offer->put_up_g && line->worth_minor < 0 &&
                line->role == q->project->roles[offer->role].name)
                return true;
        }
    return false;
}

static void warn_of_home(struct hk_quoting *q)
{
    for (size_t i = 0; i < q->project->offer_count; i++) {
        const struct hk_offer *offer = &q->project->offers[i];
        const struct hk_role *role = &q->project->roles[offer->role];
        if (offer->shop != HK_SELLER_OWN || offer->value_minor >= 0 || !takes_unknown(q, offer))
            continue;
        const struct hk_candidate *plan = &q->project->candidates[role->plan];
        const char *yarn = q->project->yarns[plan->yarn].name;
        hk_diags_add(q->diags, HK_CODE_PRICE_MISSING, hk_cell_place(offer->cell, 0),
                     "the balls at home of %s g %s%s%s, for %s, are charged at nothing: %s has no price in yarns.csv",
                     hk_number_text(offer->put_up_g, 4).text, yarn, *plan->colour ? " " : "", plan->colour, role->name, yarn);
        hk_diags_hint(q->diags, "state its price there, or in the column value what one of these balls is worth, 0 for nothing");
    }
}

static void quote_sizes(struct hk_quoting *q)
{
    struct hk_quote *face = q->face;
    for (size_t i = q->needed->first_size; i <= q->needed->last_size; i++)
        face->size_count += !face->mixed || q->options.kits[i] > 0;
    struct hk_quote_size *sizes = hk_arena_take(q->arena, face->size_count, sizeof *sizes);
    face->sizes = sizes;
    if (sizes && q->options.question == HK_QUESTION_COMMISSION)
        commission_sizes(q, sizes);
    else if (sizes && face->mixed)
        kit_mixed(q, sizes);
    else if (sizes)
        kit_sizes(q, sizes);
    if (sizes && !q->arena->out_of_memory)
        warn_of_home(q);
}

static void hours_fit(struct hk_quoting *q)
{
    for (size_t i = 0; i < q->hours->size_count; i++)
        q->too_much |= !(q->hours->sizes[i].hours.likely < HOURS_MOST);
}

static void quote_fill(struct hk_quoting *q)
{
    if (!costs_stated(q) || !rate_stated(q) || !yarns_priced(q) || !hk_quoting_collect_rates(q))
        return;
    hours_fit(q);
    if (q->options.question == HK_QUESTION_PATTERN)
        hk_pattern_sales(q);
    else if (!q->too_much)
        quote_sizes(q);
    if (!q->too_much)
        return;
    hk_diags_add(q->diags, HK_CODE_MONEY, hk_costs_place(q->project),
                 "some amount is too large to compute to the minor unit");
    hk_diags_hint(q->diags, "check the amounts and quantities of costs.csv, and the prices");
}

struct hk_quote_options hk_quote_defaults(enum hk_question question)
{
    return (struct hk_quote_options){.question = question, .price_minor = -1, .ending_modulus = 1,
                                     .deposit_millionths = HK_MILLION / 2, .deposit_minor = -1, .batch = 10,
                                     .seconds = DEFAULT_SECONDS};
}

static struct hk_quote face_of(const struct hk_needed *needed, const struct hk_hours *hours,
                               const struct hk_quote_options *options)
{
    const struct hk_project *project = needed->fit->tally->project;
    const struct hk_cost *rate = hk_quoting_rate(project);
    struct hk_quote face = {
        .project = needed->face.project, .question = options->question, .used = options->used,
        .solved = options->price_minor < 0, .currency = hk_project_currency(project),
        .minor_digits = hk_project_minor_digits(project), .batch = options->batch,
        .mixed = options->kits && options->question == HK_QUESTION_KIT,
        .wasted = options->used && options->waste_millionths > 0, .spared = options->spare_millionths > 0,
        .discount_count = options->discount_count, .safe = options->sure > 0 ? options->sure : SAFE_CHANCE,
        .sure = options->sure > 0, .rate_minor = rate ? rate->amount_minor : -1, .timed = hours->evidence,
        .chance = needed->face.chance, .margin = needed->face.margin,
    };
    for (size_t i = 0; face.mixed && i < project->size_count; i++)
        face.batch = (i == 0 ? 0 : face.batch) + options->kits[i];
    return face;
}

struct hk_quote *hk_quote_make(const struct hk_need *need, const struct hk_shop *shop, const struct hk_hours *hours,
                               struct hk_quote_options options, struct hk_diags *diags)
{
    const struct hk_needed *needed = (const struct hk_needed *)need;
    const struct hk_project *project = needed->fit->tally->project;
    size_t errors = diags->errors;
    if (!options_fit(&options, project, diags) || !shop_fits(needed, shop, options.question, diags) ||
        !hours_belong(needed, hours, diags) || !kits_needed(needed, &options, diags))
        return NULL;
    struct quoted *quoted = calloc(1, sizeof *quoted);
    if (!quoted) {
        diags->out_of_memory = true;
        return NULL;
    }
    quoted->face = face_of(needed, hours, &options);
    struct hk_quoting q = {.face = &quoted->face, .arena = &quoted->arena, .needed = needed, .shop = shop, .hours = hours,
                           .project = project, .options = options, .diags = diags, .errors = errors};
    quote_fill(&q);
    diags->out_of_memory |= quoted->arena.out_of_memory;
    if (!diags->out_of_memory && diags->errors == errors)
        return &quoted->face;
    hk_quote_free(&quoted->face);
    return NULL;
}

void hk_quote_free(struct hk_quote *quote)
{
    struct quoted *quoted = (struct quoted *)quote;
    if (!quoted)
        return;
    hk_arena_free(&quoted->arena);
    free(quoted);
}
