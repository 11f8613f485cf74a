/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What to charge. All that is shown to the minor unit is reckoned in whole minor units, every product rounded half up once:
 * quantities, hours and percentages each by themselves. The range of a price and what an hour earns come from the spreads of
 * yarn and hours by Monte Carlo (JCGM 101:2008), in doubles.
 *
 *     commission: costs = yarn + materials + overhead + postage; hers = labour + markup; price: the least that leaves both
 *     kit:        the same of a batch and its fixed costs, over its kits, rounded up
 *     pattern:    sales = fixed costs / what a sale leaves, rounded up
 */
#include "need.h"

#include "balls.h"
#include "chance.h"
#include "costs.h"
#include "diags.h"
#include "money.h"

#include <gsl/gsl_math.h>
#include <gsl/gsl_randist.h>
#include <stdlib.h>

#define DRAWS 20000
#define SEED 4217 /* any; the same for ever, so that equal input gives equal output */
#define LOW_CHANCE 0.05
#define HIGH_CHANCE 0.95
#define MINUTES_PER_HOUR 60
#define DEFAULT_MINOR_DIGITS 2
#define KITS_MOST 100000
#define BATCHES_MOST 7
/* Hours beyond this are no work of a person, and minutes are counted whole. */
#define HOURS_MOST 1e6

/* The public struct comes first, as in struct hk_needed. */
struct quoted {
    struct hk_quote face;
    struct hk_arena arena;
};

struct quoting {
    struct quoted *quoted;
    const struct hk_needed *needed;
    const struct hk_shop *shop;
    const struct hk_hours *hours;
    const struct hk_project *project;
    struct hk_quote_options options;
    struct hk_rates rates;
    struct hk_diags *diags;
    bool too_much; /* some amount is more than money can be */
};

/* ---- Exact sums -------------------------------------------------------------------------------------------------- */

static void add(struct quoting *q, int64_t *sum, int64_t more)
{
    if (more > HK_MONEY_MOST - *sum)
        q->too_much = true;
    else
        *sum += more;
}

/* amount * numerator / denominator, half up; numerator * denominator within 2^62. */
static int64_t part_of(struct quoting *q, int64_t amount, int64_t numerator, int64_t denominator)
{
    int64_t whole = amount / denominator, rest = amount % denominator;
    if (numerator > 0 && whole > HK_MONEY_MOST / numerator) {
        q->too_much = true;
        return 0;
    }
    return whole * numerator + (2 * rest * numerator + denominator) / (2 * denominator);
}

static int64_t percent_of(struct quoting *q, int64_t amount, int64_t millionths)
{
    int64_t share = 0;
    if (!hk_money_share(amount, millionths, &share))
        q->too_much = true;
    return share;
}

static int64_t ceil_div(int64_t a, int64_t b)
{
    return a / b + (a % b > 0);
}

/* ---- Rows of costs.csv ------------------------------------------------------------------------------------------- */

static bool applies(const struct hk_cost *cost, enum hk_cost_kind kind, enum hk_cost_per per)
{
    bool each = cost->per == HK_PER_EACH && per != HK_PER_PATTERN;
    return cost->kind == kind && (cost->per == per || each);
}

/* How many of it, in thousandths; one where nothing is stated. */
static int64_t quantity_of(const struct hk_cost *cost, size_t size)
{
    return cost->quantity ? cost->quantity[size] : HK_THOUSAND;
}

/* What all rows of that kind come to, each once. */
static int64_t sum_of(struct quoting *q, enum hk_cost_kind kind, enum hk_cost_per per, size_t size)
{
    int64_t sum = 0;
    for (size_t i = 0; i < q->project->cost_count; i++) {
        const struct hk_cost *cost = &q->project->costs[i];
        if (applies(cost, kind, per) && !cost->percent)
            add(q, &sum, part_of(q, cost->amount_minor, quantity_of(cost, size), HK_THOUSAND));
    }
    return sum;
}

/* Hours stated in rows of labour: what they earn, and their minutes added to *minutes. */
static int64_t stated_labour(struct quoting *q, enum hk_cost_per per, size_t size, int64_t *minutes)
{
    int64_t sum = 0, thousandths = 0;
    for (size_t i = 0; i < q->project->cost_count; i++) {
        const struct hk_cost *cost = &q->project->costs[i];
        if (cost->kind != HK_COST_LABOUR || cost->per != per || !cost->quantity)
            continue;
        add(q, &sum, part_of(q, cost->amount_minor, cost->quantity[size], HK_THOUSAND));
        thousandths += cost->quantity[size];
    }
    *minutes += (thousandths * MINUTES_PER_HOUR + HK_THOUSAND / 2) / HK_THOUSAND;
    return sum;
}

/* The rate for the hours that the stitches come to; NULL where none is stated. */
static const struct hk_cost *rate_of(const struct hk_project *project)
{
    for (size_t i = 0; i < project->cost_count; i++)
        if (project->costs[i].kind == HK_COST_LABOUR && !project->costs[i].quantity)
            return &project->costs[i];
    return NULL;
}

/* Hours on the piece that she states; where those are all the labour there is, they stand in for the stitches' own. */
static bool hours_stated(const struct hk_project *project)
{
    for (size_t i = 0; i < project->cost_count; i++)
        if (project->costs[i].kind == HK_COST_LABOUR && project->costs[i].per == HK_PER_PIECE && project->costs[i].quantity)
            return true;
    return false;
}

static bool hours_reckoned(const struct hk_project *project)
{
    return rate_of(project) || !hours_stated(project);
}

/* Percentages of that kind on one basis. */
static int64_t percents_of(const struct hk_project *project, enum hk_cost_kind kind, enum hk_cost_per basis)
{
    int64_t sum = 0;
    for (size_t i = 0; i < project->cost_count; i++)
        if (project->costs[i].kind == kind && project->costs[i].percent && project->costs[i].per == basis)
            sum += project->costs[i].millionths;
    return sum;
}

/* Every percentage of that kind on its basis, each rounded by itself. */
static int64_t shares_of(struct quoting *q, enum hk_cost_kind kind, int64_t materials, int64_t labour)
{
    int64_t sum = 0;
    for (size_t i = 0; i < q->project->cost_count; i++) {
        const struct hk_cost *cost = &q->project->costs[i];
        if (cost->kind != kind || !cost->percent)
            continue;
        int64_t basis = cost->per == HK_PER_LABOUR ? 0 : materials;
        basis += cost->per == HK_PER_MATERIALS ? 0 : labour;
        add(q, &sum, percent_of(q, basis, cost->millionths));
    }
    return sum;
}

/* ---- Fees and tax ------------------------------------------------------------------------------------------------ */

static enum hk_cost_per sold_as(enum hk_question question)
{
    switch (question) {
    case HK_COMMISSION:
        return HK_PER_PIECE;
    case HK_KIT:
        return HK_PER_KIT;
    case HK_PATTERN:
        break;
    }
    return HK_PER_PATTERN;
}

static struct hk_place costs_place(const struct hk_project *project)
{
    return project->cost_count > 0 ? hk_cell_place(project->costs[project->cost_count - 1].cell, 0)
                                   : (struct hk_place){"costs.csv", 0, 0};
}

static bool fee_add(struct quoting *q, const struct hk_cost *cost)
{
    if (!cost->percent) {
        add(q, &q->rates.fee_minor, cost->amount_minor);
    } else if (q->rates.fee_count < HK_FEES_MOST) {
        q->rates.fee_millionths[q->rates.fee_count++] = cost->millionths;
    } else {
        hk_diags_add(q->diags, HK_RANGE, hk_cell_place(cost->cell, 0), "more than %d fees", HK_FEES_MOST);
        hk_diags_hint(q->diags, "take some of them together");
        return false;
    }
    return true;
}

static bool rates_collect(struct quoting *q)
{
    struct hk_cell last = {0};
    int64_t fees = 0;
    for (size_t i = 0; i < q->project->cost_count; i++) {
        const struct hk_cost *cost = &q->project->costs[i];
        bool fee = cost->kind == HK_COST_FEE && (cost->per == HK_PER_EACH || cost->per == sold_as(q->options.question));
        if (!fee && cost->kind != HK_COST_TAX)
            continue;
        last = cost->cell;
        if (fee && !fee_add(q, cost))
            return false;
        fees += fee && cost->percent ? cost->millionths : 0;
        if (!fee) {
            q->rates.tax_millionths = cost->millionths;
            q->rates.tax_added = cost->per == HK_PER_ADDED;
            q->quoted->face.tax_stated = true;
        }
    }
    q->quoted->face.tax_added = q->rates.tax_added;
    if (fees < HK_MILLION && hk_rates_leave(&q->rates))
        return true;
    hk_diags_add(q->diags, HK_COST_ALL, hk_cell_place(last, 0),
                 "fees of %.6g%% and a tax of %.6g%% take all of a price, however high", (double)fees / 10000,
                 (double)q->rates.tax_millionths / 10000);
    hk_diags_hint(q->diags, "check the percentages of fee and tax in costs.csv");
    return false;
}

/* ---- The price --------------------------------------------------------------------------------------------------- */

static struct hk_bill bill_of(const struct hk_sale *sale, int64_t costs_minor)
{
    return (struct hk_bill){.quoted_minor = sale->quoted_minor, .paid_minor = sale->paid_minor,
                            .fees_minor = sale->fees_minor, .tax_minor = sale->tax_minor, .costs_minor = costs_minor,
                            .kept_minor = sale->left_minor - costs_minor};
}

/* At the price asked about, else at the least one that leaves costs and hers. */
static bool price(struct quoting *q, int64_t costs_minor, int64_t hers_minor, struct hk_bill *bill)
{
    struct hk_sale sale;
    struct hk_ending ending = {q->options.ending_minor, q->options.ending_modulus};
    int64_t wanted = costs_minor;
    add(q, &wanted, hers_minor);
    bool asked = q->options.price_minor >= 0;
    bool found = !q->too_much && (asked ? hk_sale_at(&q->rates, q->options.price_minor, &sale)
                                        : hk_sale_leaving(&q->rates, wanted, ending, &sale));
    if (found)
        *bill = bill_of(&sale, costs_minor);
    else
        q->too_much = true;
    return found;
}

/* The same article with the discount code. */
static bool code_bill(struct quoting *q, const struct hk_bill *full, struct hk_bill *bill)
{
    struct hk_sale sale;
    int64_t off = percent_of(q, full->quoted_minor, q->options.code_millionths);
    if (q->too_much || !hk_sale_at(&q->rates, full->quoted_minor - off, &sale))
        return false;
    *bill = bill_of(&sale, full->costs_minor);
    return true;
}

/* ---- Commission: yarn -------------------------------------------------------------------------------------------- */

static const struct hk_shop_role *shop_role(const struct hk_shop_size *shop, const char *role)
{
    for (size_t i = 0; i < shop->role_count; i++)
        if (shop->roles[i].role == role)
            return &shop->roles[i];
    return NULL;
}

/* What the balls of a role cost, before postage and discount; *balls and *price_minor of the first line of it. */
static int64_t role_goods(struct quoting *q, const struct hk_shop_size *shop, const char *role, struct hk_quote_yarn *yarn)
{
    int64_t goods = 0;
    yarn->price_minor = -1;
    for (size_t i = 0; i < shop->line_count; i++) {
        if (shop->lines[i].role != role)
            continue;
        add(q, &goods, shop->lines[i].cost_minor);
        yarn->balls += shop->lines[i].balls;
        /* what is at home costs nothing, but one ball more would */
        if (shop->lines[i].price_minor > yarn->price_minor) {
            yarn->price_minor = shop->lines[i].price_minor;
            yarn->put_up_g = shop->lines[i].put_up_g;
        }
    }
    return goods;
}

/* Of a role: grams that go in and are lost in joins, never more than what was bought. */
static double eaten_g(const struct hk_shop_role *role)
{
    return fmin(role->likely_g + role->joins_g, role->bought_g);
}

/* Money as doubles within what is counted, half up. */
static int64_t to_minor(struct quoting *q, double amount)
{
    if (amount >= 0 && amount < (double)HK_MONEY_MOST)
        return (int64_t)floor(amount + 0.5);
    q->too_much = true;
    return 0;
}

/* One size: what is bought as the shop says, and what is used as its part of that by weight. */
static void commission_yarn(struct quoting *q, const struct hk_shop_size *shop, struct hk_quote_size *size)
{
    struct hk_quote_yarn *yarns = hk_arena_take(&q->quoted->arena, shop->role_count, sizeof *yarns);
    double used = 0;
    for (size_t r = 0; yarns && r < shop->role_count; r++) {
        const struct hk_shop_role *role = &shop->roles[r];
        double goods = (double)role_goods(q, shop, role->role, &yarns[r]);
        yarns[r].role = role->role;
        yarns[r].mass_g = role->likely_g;
        used += role->bought_g > 0 ? goods * eaten_g(role) / role->bought_g : 0;
        for (size_t i = 0; i < shop->line_count; i++)
            if (shop->lines[i].role == role->role) {
                yarns[r].yarn = shop->lines[i].yarn;
                yarns[r].colour = shop->lines[i].colour;
            }
    }
    double order = shop->goods_minor > 0 ? (double)shop->total_minor / (double)shop->goods_minor : 1;
    q->quoted->face.ordered |= shop->total_minor != shop->goods_minor;
    size->yarns = yarns;
    size->yarn_count = shop->role_count;
    size->yarn_bought_minor = shop->total_minor;
    size->yarn_used_minor = to_minor(q, used * order);
    size->yarn_minor = q->options.used ? size->yarn_used_minor : size->yarn_bought_minor;
}

/* ---- Commission: the range --------------------------------------------------------------------------------------- */

/* One size, as the draws see it: z of each role's ln mass, then of ln hours. */
struct chances {
    const struct quoting *q;
    const struct hk_quote_size *size;
    const struct hk_shop_size *shop;
    const struct hk_need_role *roles;
    size_t role_count;
    const double *factor;           /* of the correlation of ln mass */
    double hours, spread, rate;     /* of the stitches; rate in minor units an hour */
    double stated_hours, stated_labour;
    double materials, fixed_overhead, hour_overhead, postage; /* without yarn */
    double overhead[3], markup[3];  /* ratios of all, materials, labour */
    double left;                    /* at the price */
};

static void draw(const void *context, gsl_rng *rng, double *z)
{
    const struct chances *c = context;
    for (size_t i = 0; i <= c->role_count; i++)
        z[i] = gsl_ran_gaussian_ziggurat(rng, 1);
}

static double drawn_mass_g(const struct chances *c, const double *z, size_t role)
{
    double x = 0;
    for (size_t k = 0; k <= role; k++)
        x += c->factor[role * c->role_count + k] * z[k];
    return c->roles[role].mass_g.likely * exp(c->roles[role].spread_mass * x);
}

/* What is bought is paid whatever is used, and what is lacking is bought by the ball. */
static double drawn_yarn(const struct chances *c, const double *z)
{
    double cost = c->q->options.used ? 0 : (double)c->size->yarn_bought_minor;
    double used = 0, likely = 0;
    for (size_t r = 0; r < c->role_count; r++) {
        const struct hk_shop_role *bought = shop_role(c->shop, c->roles[r].role_name);
        const struct hk_quote_yarn *yarn = &c->size->yarns[r];
        double mass_g = drawn_mass_g(c, z, r), usable_g = bought->bought_g - bought->joins_g;
        double ball_g = yarn->put_up_g - c->roles[r].join_g;
        used += mass_g / c->roles[r].mass_g.likely * (double)yarn->price_minor * yarn->mass_g / yarn->put_up_g;
        likely += (double)yarn->price_minor * yarn->mass_g / yarn->put_up_g;
        if (!c->q->options.used && mass_g > usable_g && ball_g > 0)
            cost += ceil((mass_g - usable_g) / ball_g) * (double)yarn->price_minor;
    }
    return !c->q->options.used ? cost : likely > 0 ? (double)c->size->yarn_used_minor * used / likely : 0;
}

static double shares(const double ratios[3], double materials, double labour)
{
    return ratios[0] * (materials + labour) + ratios[1] * materials + ratios[2] * labour;
}

struct drawn {
    double hours, labour, costs, markup;
};

static struct drawn drawn_of(const struct chances *c, const double *z)
{
    double worked = c->hours * exp(c->spread * z[c->role_count]);
    struct drawn drawn = {.hours = worked + c->stated_hours, .labour = worked * c->rate + c->stated_labour};
    double materials = c->materials + drawn_yarn(c, z);
    drawn.costs = materials + c->postage + c->fixed_overhead + c->hour_overhead * drawn.hours +
                  shares(c->overhead, materials, drawn.labour);
    drawn.markup = shares(c->markup, materials, drawn.labour);
    return drawn;
}

static double drawn_price(const void *context, const double *z)
{
    const struct chances *c = context;
    struct drawn drawn = drawn_of(c, z);
    return hk_price_leaving(&c->q->rates, drawn.costs + drawn.labour + drawn.markup);
}

static double drawn_earning(const void *context, const double *z)
{
    const struct chances *c = context;
    struct drawn drawn = drawn_of(c, z);
    return (c->left - drawn.costs) / drawn.hours;
}

/* Below 0: less than her rate. */
static double drawn_excess(const void *context, const double *z)
{
    const struct chances *c = context;
    struct drawn drawn = drawn_of(c, z);
    return c->left - drawn.costs - drawn.labour;
}

/* Draws an amount; its quantiles, and the share of the draws below 0. */
static bool draw_amount(const struct chances *c, double (*output)(const void *, const double *), double quantiles[2],
                        double *below)
{
    struct hk_propagation propagation = {c->role_count + 1, DRAWS, draw, output, c};
    double *sorted = calloc(DRAWS, sizeof *sorted);
    gsl_rng *rng = hk_random_new(SEED);
    bool drawn = sorted && rng && hk_propagate(&propagation, rng, sorted);
    if (drawn) {
        size_t count = 0;
        while (count < DRAWS && sorted[count] < 0)
            count++;
        quantiles[0] = sorted[(size_t)(LOW_CHANCE * DRAWS)];
        quantiles[1] = sorted[(size_t)(HIGH_CHANCE * DRAWS)];
        *below = (double)count / DRAWS;
    }
    free(sorted);
    if (rng)
        gsl_rng_free(rng);
    return drawn;
}

/* Towards 0 or below it too: what a job earns may be a loss. */
static int64_t whole_minor(double amount)
{
    double bound = (double)HK_MONEY_MOST;
    return (int64_t)floor(fmin(fmax(amount, -bound), bound) + 0.5);
}

static bool draw_all(const struct chances *c, struct hk_quote_size *size)
{
    double quantiles[2], below;
    if (c->q->options.price_minor < 0) {
        if (!draw_amount(c, drawn_price, quantiles, &below))
            return false;
        size->price_low_minor = whole_minor(quantiles[0]);
        size->price_high_minor = whole_minor(quantiles[1]);
    }
    size->chance_below = -1;
    if (size->labour_minor > 0) {
        if (!draw_amount(c, drawn_excess, quantiles, &below))
            return false;
        size->chance_below = below;
    }
    size->earns_minor = -1;
    if (size->minutes == 0)
        return true;
    if (!draw_amount(c, drawn_earning, quantiles, &below))
        return false;
    size->earns_minor = whole_minor((double)size->bill.kept_minor * MINUTES_PER_HOUR / (double)size->minutes);
    size->earns_low_minor = whole_minor(quantiles[0]);
    size->earns_high_minor = whole_minor(quantiles[1]);
    return true;
}

static const double *factor_of(struct quoting *q, size_t first, size_t count)
{
    const struct hk_need *need = &q->needed->face;
    double *covariance = hk_arena_take(&q->quoted->arena, count * count, sizeof *covariance);
    double *factor = hk_arena_take(&q->quoted->arena, count * count, sizeof *factor);
    for (size_t r = 0; covariance && factor && r < count; r++)
        for (size_t s = 0; s < count; s++)
            covariance[r * count + s] = need->covariance[(first + r) * need->role_count + first + s];
    return covariance && factor && hk_normal_factor(count, covariance, factor) ? factor : NULL;
}

static void ratios_of(const struct hk_project *project, enum hk_cost_kind kind, double ratios[3])
{
    static const enum hk_cost_per bases[3] = {HK_PER_ALL, HK_PER_MATERIALS, HK_PER_LABOUR};
    for (size_t i = 0; i < 3; i++)
        ratios[i] = (double)percents_of(project, kind, bases[i]) / (double)HK_MILLION;
}

/* ---- Commission -------------------------------------------------------------------------------------------------- */

/* What of a size is the same whatever is drawn. */
struct terms {
    int64_t stated_minutes, stated_labour, hour_overhead, piece_overhead;
};

static void commission_costs(struct quoting *q, size_t index, const struct hk_hours_size *hours, struct hk_quote_size *size,
                             struct terms *terms)
{
    const struct hk_cost *rate = rate_of(q->project);
    bool reckoned = hours_reckoned(q->project);
    int64_t worked = reckoned ? (int64_t)floor(hours->hours.likely * MINUTES_PER_HOUR + 0.5) : 0;
    terms->stated_labour = stated_labour(q, HK_PER_PIECE, index, &terms->stated_minutes);
    size->minutes = worked + terms->stated_minutes;
    size->materials_minor = sum_of(q, HK_COST_MATERIAL, HK_PER_PIECE, index);
    size->postage_minor = sum_of(q, HK_COST_POSTAGE, HK_PER_PIECE, index);
    size->labour_minor = terms->stated_labour;
    if (rate)
        add(q, &size->labour_minor, part_of(q, rate->amount_minor, worked, MINUTES_PER_HOUR));
    terms->piece_overhead = sum_of(q, HK_COST_OVERHEAD, HK_PER_PIECE, index);
    terms->hour_overhead = sum_of(q, HK_COST_OVERHEAD, HK_PER_HOUR, index);
    int64_t materials = size->yarn_minor;
    add(q, &materials, size->materials_minor);
    size->overhead_minor = shares_of(q, HK_COST_OVERHEAD, materials, size->labour_minor);
    add(q, &size->overhead_minor, terms->piece_overhead);
    add(q, &size->overhead_minor, part_of(q, terms->hour_overhead, size->minutes, MINUTES_PER_HOUR));
    size->markup_minor = shares_of(q, HK_COST_MARKUP, materials, size->labour_minor);
}

static bool commission_chances(struct quoting *q, size_t first, size_t count, const struct hk_shop_size *shop,
                               const struct hk_hours_size *hours, const struct terms *terms, struct hk_quote_size *size)
{
    const struct hk_cost *rate = rate_of(q->project);
    struct chances c = {
        .q = q,
        .size = size,
        .shop = shop,
        .roles = &q->needed->face.roles[first],
        .role_count = count,
        .factor = factor_of(q, first, count),
        .hours = hours_reckoned(q->project) ? hours->hours.likely : 0,
        .spread = hours->spread,
        .rate = rate ? (double)rate->amount_minor : 0,
        .stated_hours = (double)terms->stated_minutes / MINUTES_PER_HOUR,
        .stated_labour = (double)terms->stated_labour,
        .materials = (double)size->materials_minor,
        .postage = (double)size->postage_minor,
        .fixed_overhead = (double)terms->piece_overhead,
        .hour_overhead = (double)terms->hour_overhead,
        .left = (double)(size->bill.kept_minor + size->bill.costs_minor),
    };
    ratios_of(q->project, HK_COST_OVERHEAD, c.overhead);
    ratios_of(q->project, HK_COST_MARKUP, c.markup);
    if (c.factor && draw_all(&c, size))
        return true;
    q->quoted->arena.lost = true; /* a covariance by its making, so there was no memory */
    return false;
}

/* roles[first] to roles[first + count - 1] of the need are those of the size. */
static void commission_size(struct quoting *q, size_t i, size_t first, size_t count, struct hk_quote_size *size)
{
    const struct hk_shop_size *shop = &q->shop->sizes[i];
    const struct hk_hours_size *hours = &q->hours->sizes[i];
    struct terms terms = {0};
    size->size = shop->size;
    commission_yarn(q, shop, size);
    if (!size->yarns)
        return;
    commission_costs(q, hours->size, hours, size, &terms);
    int64_t costs = size->yarn_minor, hers = size->labour_minor;
    add(q, &costs, size->materials_minor);
    add(q, &costs, size->overhead_minor);
    add(q, &costs, size->postage_minor);
    add(q, &hers, size->markup_minor);
    if (!price(q, costs, hers, &size->bill))
        return;
    size->deposit_minor = percent_of(q, size->bill.paid_minor, q->options.deposit_millionths);
    commission_chances(q, first, count, shop, hours, &terms, size);
}

/* ---- Kit --------------------------------------------------------------------------------------------------------- */

/* What the batch is bought from: as many kits as asked, and the spare. */
static double with_spare(const struct quoting *q, double kits)
{
    return kits * (1 + (double)q->options.spare_millionths / (double)HK_MILLION);
}

/* Rounding leaves what is a whole number a hair above it. */
static int64_t whole_up(double amount)
{
    return (int64_t)ceil(amount - 1e-9 * fmax(1, amount));
}

static int64_t batch_balls(const struct quoting *q, const struct hk_quote_yarn *yarn, int64_t kits)
{
    double all = with_spare(q, (double)kits);
    if (yarn->balls > 0)
        return whole_up(all * (double)yarn->balls);
    double waste = 1 + (double)q->options.waste_millionths / (double)HK_MILLION;
    return whole_up(all * yarn->mass_g * waste / yarn->put_up_g);
}

/* Things that are counted are bought whole. */
static int64_t batch_materials(struct quoting *q, size_t size, int64_t kits)
{
    int64_t sum = 0;
    for (size_t i = 0; i < q->project->cost_count; i++) {
        const struct hk_cost *cost = &q->project->costs[i];
        bool once = cost->kind == HK_COST_KIT && cost->per == HK_PER_BATCH;
        bool each = applies(cost, HK_COST_MATERIAL, HK_PER_KIT) || applies(cost, HK_COST_KIT, HK_PER_KIT);
        int64_t quantity = quantity_of(cost, size);
        if (each) {
            bool whole = quantity % HK_THOUSAND == 0;
            double all = with_spare(q, (double)kits * (double)quantity);
            quantity = whole ? HK_THOUSAND * whole_up(all / HK_THOUSAND) : whole_up(all);
        }
        if (each || once)
            add(q, &sum, part_of(q, cost->amount_minor, quantity, HK_THOUSAND));
    }
    return sum;
}

/* A batch of so many kits: everything that is paid, and what is hers. */
struct batch {
    int64_t yarn, materials, fixed, overhead, postage, minutes, labour, markup, costs;
};

static int64_t times_kits(struct quoting *q, int64_t amount, int64_t kits)
{
    if (amount > HK_MONEY_MOST / kits) {
        q->too_much = true;
        return 0;
    }
    return amount * kits;
}

static void batch_hers(struct quoting *q, size_t index, int64_t kits, struct batch *b)
{
    int64_t each_minutes = 0, minutes = 0;
    b->labour = times_kits(q, stated_labour(q, HK_PER_KIT, index, &each_minutes), kits);
    add(q, &b->labour, stated_labour(q, HK_PER_BATCH, index, &minutes));
    b->minutes = each_minutes * kits + minutes;
}

static struct batch batch_of(struct quoting *q, size_t index, const struct hk_quote_size *size, int64_t kits)
{
    struct batch b = {.materials = batch_materials(q, index, kits),
                      .fixed = sum_of(q, HK_COST_FIXED, HK_PER_BATCH, index),
                      .postage = times_kits(q, sum_of(q, HK_COST_POSTAGE, HK_PER_KIT, index), kits)};
    for (size_t r = 0; r < size->yarn_count; r++)
        add(q, &b.yarn, part_of(q, size->yarns[r].price_minor, batch_balls(q, &size->yarns[r], kits), 1));
    batch_hers(q, index, kits, &b);
    int64_t materials = b.yarn;
    add(q, &materials, b.materials);
    b.overhead = shares_of(q, HK_COST_OVERHEAD, materials, b.labour);
    add(q, &b.overhead, times_kits(q, sum_of(q, HK_COST_OVERHEAD, HK_PER_KIT, index), kits));
    add(q, &b.overhead, sum_of(q, HK_COST_OVERHEAD, HK_PER_BATCH, index));
    b.markup = shares_of(q, HK_COST_MARKUP, materials, b.labour);
    b.costs = materials;
    add(q, &b.costs, b.fixed);
    add(q, &b.costs, b.overhead);
    add(q, &b.costs, b.postage);
    return b;
}

/* What is left when all kits of a batch are sold, her stated hours paid. */
static int64_t batch_left(struct quoting *q, size_t index, const struct hk_quote_size *size, int64_t kits, int64_t left_minor)
{
    struct batch b = batch_of(q, index, size, kits);
    if (left_minor > HK_MONEY_MOST / kits)
        return HK_MONEY_MOST;
    return left_minor * kits - b.costs - b.labour;
}

/* At most so much does a batch lose by buying whole balls and whole things, and by rounding. */
static int64_t whole_loss(const struct quoting *q, const struct hk_quote_size *size)
{
    int64_t loss = (int64_t)q->project->cost_count + 1;
    for (size_t r = 0; r < size->yarn_count; r++)
        loss += size->yarns[r].price_minor;
    for (size_t i = 0; i < q->project->cost_count; i++)
        if (!q->project->costs[i].percent)
            loss += q->project->costs[i].amount_minor;
    int64_t percent = percents_of(q->project, HK_COST_OVERHEAD, HK_PER_ALL) +
                      percents_of(q->project, HK_COST_OVERHEAD, HK_PER_MATERIALS);
    return loss + (int64_t)((double)loss * (double)percent / (double)HK_MILLION) + 1;
}

/*
 * The least batch from which on every larger one pays. What a batch leaves grows with it but for whole balls, so one that leaves
 * more than those can cost settles all beyond it; from there it is counted down.
 */
static int64_t even_batch(struct quoting *q, size_t index, const struct hk_quote_size *size, int64_t left_minor)
{
    int64_t loss = whole_loss(q, size), kits = 1;
    while (kits <= KITS_MOST && batch_left(q, index, size, kits, left_minor) < loss && !q->too_much)
        kits++;
    if (kits > KITS_MOST || q->too_much)
        return -1;
    while (kits > 1 && batch_left(q, index, size, kits - 1, left_minor) >= 0)
        kits--;
    return kits;
}

/* Enough for another maker: the reader's own spread joins hers. */
static bool kit_yarn(struct quoting *q, const struct hk_need_role *role, struct hk_quote_yarn *yarn)
{
    const struct hk_need *need = &q->needed->face;
    const struct hk_candidate *plan = &q->project->candidates[q->project->roles[role->role].plan];
    double spread = hypot(role->spread_mass, q->project->spreads.reader);
    *yarn = (struct hk_quote_yarn){
        .role = role->role_name, .yarn = role->yarn, .colour = role->colour, .put_up_g = role->put_up_g,
        .price_minor = plan->price_minor,
        .mass_g = need->margin >= 0 ? role->mass_g.enough
                                    : role->mass_g.likely * exp(spread * hk_normal_quantile(need->chance)),
    };
    return q->options.used || hk_balls_needed(yarn->mass_g, role->put_up_g, role->join_g, &yarn->balls);
}

/* The usual batches and the one asked for, in order. */
static size_t batch_sizes(int64_t asked, int64_t kits[BATCHES_MOST])
{
    static const int64_t usual[BATCHES_MOST - 1] = {1, 5, 10, 25, 50, 100};
    size_t count = 0;
    bool placed = false;
    for (size_t i = 0; i < BATCHES_MOST - 1; i++) {
        if (!placed && usual[i] > asked)
            kits[count++] = asked;
        placed = placed || usual[i] >= asked;
        kits[count++] = usual[i];
    }
    if (!placed)
        kits[count++] = asked;
    return count;
}

static void kit_batches(struct quoting *q, size_t index, struct hk_quote_size *size, int64_t left_minor)
{
    int64_t kits[BATCHES_MOST];
    struct hk_quote_batch *batches = hk_arena_take(&q->quoted->arena, BATCHES_MOST, sizeof *batches);
    size->batch_count = batches ? batch_sizes(q->options.batch, kits) : 0;
    for (size_t i = 0; i < size->batch_count; i++) {
        struct batch b = batch_of(q, index, size, kits[i]);
        batches[i] = (struct hk_quote_batch){kits[i], ceil_div(b.costs + b.labour, kits[i]),
                                             batch_left(q, index, size, kits[i], left_minor)};
    }
    size->batches = batches;
}

static void kit_unit(struct quoting *q, const struct batch *b, struct hk_quote_size *size)
{
    int64_t kits = q->options.batch;
    size->yarn_bought_minor = size->yarn_minor = ceil_div(b->yarn, kits);
    size->materials_minor = ceil_div(b->materials, kits);
    size->overhead_minor = ceil_div(b->overhead, kits);
    size->postage_minor = ceil_div(b->postage, kits);
    size->labour_minor = ceil_div(b->labour, kits);
    size->markup_minor = ceil_div(b->markup, kits);
    size->minutes = ceil_div(b->minutes, kits);
    size->fixed_minor = b->fixed;
}

static bool kit_yarns(struct quoting *q, size_t first, size_t count, struct hk_quote_size *size)
{
    struct hk_quote_yarn *yarns = hk_arena_take(&q->quoted->arena, count, sizeof *yarns);
    if (!yarns)
        return false;
    for (size_t r = 0; r < count; r++) {
        if (!kit_yarn(q, &q->needed->face.roles[first + r], &yarns[r])) {
            q->too_much = true;
            return false;
        }
        yarns[r].buy_balls = batch_balls(q, &yarns[r], q->options.batch);
        yarns[r].buy_minor = part_of(q, yarns[r].price_minor, yarns[r].buy_balls, 1);
    }
    size->yarns = yarns;
    size->yarn_count = count;
    return true;
}

static void kit_size(struct quoting *q, size_t i, size_t first, size_t count, struct hk_quote_size *size)
{
    size_t index = q->hours->sizes[i].size;
    size->size = q->hours->sizes[i].size_name;
    if (!kit_yarns(q, first, count, size))
        return;
    struct batch b = batch_of(q, index, size, q->options.batch);
    kit_unit(q, &b, size);
    int64_t costs = ceil_div(b.costs, q->options.batch), hers = ceil_div(b.labour + b.markup, q->options.batch);
    if (!price(q, costs, hers, &size->bill) || !code_bill(q, &size->bill, &size->code_bill))
        return;
    int64_t left = size->bill.kept_minor + costs;
    size->even_batch = even_batch(q, index, size, left);
    size->code_even_batch = even_batch(q, index, size, size->code_bill.kept_minor + costs);
    kit_batches(q, index, size, left);
}

/* ---- Pattern ----------------------------------------------------------------------------------------------------- */

static int64_t sales_until(int64_t fixed_minor, int64_t left_minor)
{
    return fixed_minor == 0 ? 0 : left_minor > 0 ? ceil_div(fixed_minor, left_minor) : -1;
}

static void pattern(struct quoting *q)
{
    struct hk_quote *face = &q->quoted->face;
    int64_t minutes = 0;
    if (q->options.price_minor < 0) {
        hk_diags_add(q->diags, HK_COST_MISSING, (struct hk_place){"price", 0, 0},
                     "a pattern's price is not known, so neither is how many have to be sold");
        hk_diags_hint(q->diags, "ask for a price, such as --price 7.50");
        return;
    }
    face->fixed_minor = sum_of(q, HK_COST_FIXED, HK_PER_PATTERN, 0);
    add(q, &face->fixed_minor, stated_labour(q, HK_PER_PATTERN, 0, &minutes));
    if (!price(q, 0, 0, &face->sales.bill) || !code_bill(q, &face->sales.bill, &face->code_sales.bill))
        return;
    face->sales.sales = sales_until(face->fixed_minor, face->sales.bill.kept_minor);
    face->code_sales.sales = sales_until(face->fixed_minor, face->code_sales.bill.kept_minor);
}

/* ---- What must be stated ----------------------------------------------------------------------------------------- */

static bool costs_stated(const struct quoting *q)
{
    if (q->project->cost_count > 0)
        return true;
    hk_diags_add(q->diags, HK_COST_MISSING, (struct hk_place){"costs.csv", 0, 0},
                 "no costs are stated, so no price can be reckoned");
    hk_diags_hint(q->diags, "write a file costs.csv with the columns item, kind, amount, and a row such as work,labour,18.00");
    return false;
}

static bool rate_stated(const struct quoting *q)
{
    if (q->options.question != HK_COMMISSION || q->options.price_minor >= 0 || rate_of(q->project) ||
        hours_stated(q->project))
        return true;
    hk_diags_add(q->diags, HK_COST_MISSING, costs_place(q->project),
                 "no hourly rate is stated, so there is no price that would keep it");
    hk_diags_hint(q->diags, "add a row such as work,labour,18.00 or ask what an hour earns with --price");
    return false;
}

/* The yarn of every role that is bought. */
static bool yarns_priced(const struct quoting *q)
{
    const struct hk_need *need = &q->needed->face;
    bool priced = true;
    if (q->options.question == HK_COMMISSION) {
        for (size_t i = 0; i < q->shop->size_count; i++)
            priced = priced && q->shop->sizes[i].priced;
    } else if (q->options.question == HK_KIT) {
        for (size_t r = 0; r < need->role_count; r++)
            priced = priced && q->project->candidates[q->project->roles[need->roles[r].role].plan].price_minor >= 0;
    }
    if (priced)
        return true;
    hk_diags_add(q->diags, HK_COST_MISSING, hk_cell_place(q->project->yarns[0].cell, 0),
                 "a yarn has no price, so what is made of it has none either");
    hk_diags_hint(q->diags, "state the price of one ball of each yarn in the column price of yarns.csv");
    return false;
}

static bool options_fit(const struct hk_quote_options *options, struct hk_diags *diags)
{
    bool fits = options->ending_modulus >= 1 && options->ending_minor >= 0 &&
                options->ending_minor < options->ending_modulus && options->batch >= 1 && options->batch <= KITS_MOST &&
                options->deposit_millionths >= 0 && options->deposit_millionths <= HK_MILLION &&
                options->code_millionths >= 0 && options->code_millionths < HK_MILLION &&
                options->waste_millionths >= 0 && options->waste_millionths <= HK_MILLION &&
                options->spare_millionths >= 0 && options->spare_millionths <= HK_MILLION;
    if (!fits) {
        hk_diags_add(diags, HK_RANGE, (struct hk_place){"options", 0, 0}, "a quote with such options cannot be made");
        hk_diags_hint(diags, "a batch is 1 to %d kits; a deposit, waste and spare are at most 100%%, a code below that",
                      KITS_MOST);
    }
    return fits;
}

/* ---- The whole --------------------------------------------------------------------------------------------------- */

static void quote_sizes(struct quoting *q)
{
    const struct hk_needed *needed = q->needed;
    size_t count = needed->last_size - needed->first_size + 1;
    struct hk_quote_size *sizes = hk_arena_take(&q->quoted->arena, count, sizeof *sizes);
    for (size_t i = 0, first = 0, last = 0; sizes && i < count; i++, first = last) {
        while (last < needed->face.role_count && needed->face.roles[last].size == needed->first_size + i)
            last++;
        if (q->options.question == HK_COMMISSION)
            commission_size(q, i, first, last - first, &sizes[i]);
        else
            kit_size(q, i, first, last - first, &sizes[i]);
    }
    q->quoted->face.sizes = sizes;
    q->quoted->face.size_count = count;
}

static void hours_fit(struct quoting *q)
{
    for (size_t i = 0; i < q->hours->size_count; i++)
        q->too_much |= !(q->hours->sizes[i].hours.likely < HOURS_MOST);
}

static void quote_fill(struct quoting *q)
{
    if (!costs_stated(q) || !rate_stated(q) || !yarns_priced(q) || !rates_collect(q))
        return;
    hours_fit(q);
    if (q->options.question == HK_PATTERN)
        pattern(q);
    else if (!q->too_much)
        quote_sizes(q);
    if (!q->too_much)
        return;
    hk_diags_add(q->diags, HK_MONEY, costs_place(q->project), "some amount is more than can be counted to the minor unit");
    hk_diags_hint(q->diags, "check the amounts and quantities of costs.csv, and the prices");
}

struct hk_quote_options hk_quote_defaults(enum hk_question question)
{
    return (struct hk_quote_options){.question = question, .price_minor = -1, .ending_modulus = 1,
                                     .deposit_millionths = HK_MILLION / 2, .batch = 10};
}

struct hk_quote *hk_quote_make(const struct hk_need *need, const struct hk_shop *shop, const struct hk_hours *hours,
                               struct hk_quote_options options, struct hk_diags *diags)
{
    const struct hk_needed *needed = (const struct hk_needed *)need;
    const struct hk_project *project = needed->fit->tally->project;
    size_t errors = diags->errors;
    if (!options_fit(&options, diags))
        return NULL;
    struct quoted *quoted = calloc(1, sizeof *quoted);
    if (!quoted) {
        diags->lost = true;
        return NULL;
    }
    quoted->face = (struct hk_quote){
        .project = need->project, .question = options.question, .used = options.used, .solved = options.price_minor < 0,
        .currency = hk_project_currency(project), .minor_digits = hk_project_minor_digits(project),
        .batch = options.batch, .timed = hours->evidence, .chance = need->chance,
    };
    struct quoting q = {.quoted = quoted, .needed = needed, .shop = shop, .hours = hours, .project = project,
                        .options = options, .diags = diags};
    quote_fill(&q);
    diags->lost |= quoted->arena.lost;
    if (!diags->lost && diags->errors == errors)
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

/* ---- Money as typed ---------------------------------------------------------------------------------------------- */

int hk_project_minor_digits(const struct hk_project *project)
{
    return project->currency ? project->currency->minor_digits : DEFAULT_MINOR_DIGITS;
}

bool hk_project_money(const struct hk_project *project, const char *text, int64_t *minor, struct hk_diags *diags)
{
    return hk_money_cell((struct hk_cell){.text = text}, hk_project_currency(project), hk_project_minor_digits(project),
                         minor, diags);
}
