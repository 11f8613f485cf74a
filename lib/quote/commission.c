/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A piece made to order: costs = yarn + materials + overhead + postage; the maker's income = labour + markup; the price
 * is the least that covers both. Yarn from home is charged at its value. The ranges of the price and of the earnings
 * per hour come from the spreads of yarn and hours by Monte Carlo (JCGM 101:2008), in doubles; so does the price that
 * pays the hourly rate with a chance s: it leaves the s quantile of costs + labour.
 */
#include "quote/quoting.h"

#include "base/diags.h"
#include "base/money.h"
#include "model/chance.h"

#include <gsl/gsl_math.h>
#include <gsl/gsl_randist.h>
#include <stdlib.h>

#ifdef HK_FUZZING
#define DRAWS 1000
#else
#define DRAWS 20000
#endif
#define SEED 4217 /* arbitrary; never changed, so that equal input gives equal output */

/* ---- Commission: yarn -------------------------------------------------------------------------------------------- */

/* Returns the role in the basket; every role of the need is in it. */
static const struct hk_shop_role *shop_role(const struct hk_shop_size *shop, const char *role)
{
    size_t i = 0;
    while (shop->roles[i].role != role)
        i++;
    return &shop->roles[i];
}

/* The cost of the balls of a role before postage and discount, and the value of those from home. */
struct goods {
    int64_t bought, home;
};

/* Sets the balls of a role, and the price of one ball more: that of its most expensive line. */
static struct goods role_goods(struct hk_quoting *q, const struct hk_shop_size *shop, const char *role,
                               struct hk_quote_yarn *yarn)
{
    struct goods goods = {0};
    yarn->price_minor = -1;
    for (size_t i = 0; i < shop->line_count; i++) {
        const struct hk_shop_line *line = &shop->lines[i];
        if (line->role != role)
            continue;
        int64_t worth = line->worth_minor > 0 ? line->worth_minor : 0, each = worth / line->balls;
        hk_quoting_add(q, &goods.bought, line->cost_minor);
        hk_quoting_add(q, &goods.home, worth - line->cost_minor);
        yarn->balls += line->balls;
        if (each > yarn->price_minor) {
            yarn->price_minor = each;
            yarn->more_g = line->put_up_g;
        }
    }
    return goods;
}

/* Adds balls to the entry of the same mass, or inserts a new one, largest first. */
static void put_up_add(struct hk_quote_balls *put_ups, size_t *count, const struct hk_shop_line *line)
{
    size_t at = 0, i = *count;
    while (at < *count && put_ups[at].put_up_g > line->put_up_g)
        at++;
    if (at < *count && put_ups[at].put_up_g == line->put_up_g) {
        put_ups[at].balls += line->balls;
        return;
    }
    for (; i > at; i--)
        put_ups[i] = put_ups[i - 1];
    put_ups[at] = (struct hk_quote_balls){line->put_up_g, line->balls};
    ++*count;
}

/* Sets the balls of a role by mass, across shops and lots. */
static void role_put_ups(struct hk_quoting *q, const struct hk_shop_size *shop, const char *role, struct hk_quote_yarn *yarn)
{
    struct hk_quote_balls *put_ups = hk_arena_take(q->arena, shop->line_count, sizeof *put_ups);
    for (size_t i = 0; put_ups && i < shop->line_count; i++)
        if (shop->lines[i].role == role)
            put_up_add(put_ups, &yarn->put_up_count, &shop->lines[i]);
    yarn->put_ups = put_ups;
}

/* Returns the grams of a role that are used, joins included; at most the mass bought. */
static double used_g(const struct hk_shop_role *role)
{
    return fmin(role->likely_g + role->joins_g, role->bought_g);
}

/* Computes the yarn of one size: bought by the shop's bill, from home, and used, the part of both by mass. */
static void commission_yarn(struct hk_quoting *q, const struct hk_shop_size *shop, struct hk_quote_size *size)
{
    struct hk_quote_yarn *yarns = hk_arena_take(q->arena, shop->role_count, sizeof *yarns);
    double used = 0, order = shop->goods_minor > 0 ? (double)shop->total_minor / (double)shop->goods_minor : 1;
    for (size_t r = 0; yarns && r < shop->role_count; r++) {
        const struct hk_shop_role *role = &shop->roles[r];
        struct goods goods = role_goods(q, shop, role->role, &yarns[r]);
        role_put_ups(q, shop, role->role, &yarns[r]);
        yarns[r].role = role->role;
        yarns[r].mass_g = role->likely_g;
        used += ((double)goods.bought * order + (double)goods.home) * used_g(role) / role->bought_g;
        hk_quoting_add(q, &size->yarn_home_minor, goods.home);
        for (size_t i = 0; i < shop->line_count; i++)
            if (shop->lines[i].role == role->role) {
                yarns[r].yarn = shop->lines[i].yarn;
                yarns[r].colour = shop->lines[i].colour;
            }
    }
    q->face->ordered |= shop->total_minor != shop->goods_minor;
    size->yarns = yarns;
    size->yarn_count = shop->role_count;
    size->yarn_bought_minor = shop->total_minor;
    size->yarn_used_minor = (int64_t)floor(used + 0.5); /* at most the sum of both */
    size->yarn_minor = size->yarn_used_minor;
    if (q->options.used)
        return;
    size->yarn_minor = size->yarn_bought_minor;
    hk_quoting_add(q, &size->yarn_minor, size->yarn_home_minor);
}

/* ---- Commission: the range --------------------------------------------------------------------------------------- */

/* One size for the draws: z of each role's ln mass, then of ln hours. */
struct chances {
    const struct hk_quoting *q;
    const struct hk_quote_size *size;
    const struct hk_shop_size *shop;
    const struct hk_need_role *roles;
    size_t role_count;
    const double *factor;           /* of the correlation of ln mass */
    double hours, spread, rate;     /* of the stitches; rate in minor units per hour */
    double stated_hours, stated_labour;
    double materials, fixed_overhead, hour_overhead, postage; /* without yarn */
    double overhead[3], markup[3];                            /* ratios: of all, of materials, of labour */
    double left;                                              /* the amount left at the price */
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

/* Returns the cost of yarn in a draw: all bought yarn, and missing yarn bought by the ball. */
static double drawn_yarn(const struct chances *c, const double *z)
{
    double cost = c->q->options.used ? 0 : (double)c->size->yarn_minor;
    double used = 0, likely = 0;
    for (size_t r = 0; r < c->role_count; r++) {
        const struct hk_shop_role *bought = shop_role(c->shop, c->roles[r].role_name);
        const struct hk_quote_yarn *yarn = &c->size->yarns[r];
        double mass_g = drawn_mass_g(c, z, r), usable_g = bought->bought_g - bought->joins_g;
        double ball_g = yarn->more_g - c->roles[r].join_g;
        used += mass_g / c->roles[r].mass_g.likely * (double)yarn->price_minor * yarn->mass_g / yarn->more_g;
        likely += (double)yarn->price_minor * yarn->mass_g / yarn->more_g;
        if (!c->q->options.used && mass_g > usable_g)
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

/* Returns the amount that must be left for the hourly rate in a draw: costs and labour. */
static double drawn_required(const void *context, const double *z)
{
    const struct chances *c = context;
    struct drawn drawn = drawn_of(c, z);
    return drawn.costs + drawn.labour;
}

/*
 * Returns DRAWS amounts in ascending order, from the same draws each time. NULL when out of memory. Owner: the caller
 * (free).
 */
static double *draw_sorted(const struct chances *c, double (*output)(const void *, const double *))
{
    struct hk_propagation propagation = {c->role_count + 1, DRAWS, draw, output, c};
    double *sorted = calloc(DRAWS, sizeof *sorted);
    gsl_rng *rng = hk_random_new(SEED);
    if (!sorted || !rng || !hk_propagate(&propagation, rng, sorted)) {
        free(sorted);
        sorted = NULL;
    }
    if (rng)
        gsl_rng_free(rng);
    return sorted;
}

/* Rounds to whole minor units, also negative amounts: a job may make a loss. */
static int64_t whole_minor(double amount)
{
    double bound = (double)HK_MONEY_MOST;
    return (int64_t)floor(fmin(fmax(amount, -bound), bound) + 0.5);
}

/* Sets the 5% and 95% quantiles of an amount. Returns false when out of memory. */
static bool draw_range(const struct chances *c, double (*output)(const void *, const double *), int64_t *low, int64_t *high)
{
    double *sorted = draw_sorted(c, output);
    bool good = sorted;
    if (good) {
        *low = whole_minor(sorted[(size_t)(HK_LOW_CHANCE * DRAWS)]);
        *high = whole_minor(sorted[(size_t)(HK_HIGH_CHANCE * DRAWS)]);
    }
    free(sorted);
    return good;
}

/* Returns the chance that more is required than is left. */
static double chance_above(const double *required, double left)
{
    size_t count = 0;
    while (count < DRAWS && required[DRAWS - 1 - count] > left)
        count++;
    return (double)count / DRAWS;
}

/* Returns the least whole amount that is at least what is required, in a share `sure` of the draws. */
static int64_t sure_minor(const double *required, double sure)
{
    size_t above = (size_t)((1 - sure) * DRAWS); /* the draws that may require more */
    return (int64_t)ceil(fmin(required[DRAWS - 1 - above], (double)HK_MONEY_MOST));
}

static const double *factor_of(struct hk_quoting *q, size_t first, size_t count)
{
    const struct hk_need *need = &q->needed->face;
    double *covariance = hk_arena_take(q->arena, count * count, sizeof *covariance);
    double *factor = hk_arena_take(q->arena, count * count, sizeof *factor);
    for (size_t r = 0; covariance && factor && r < count; r++)
        for (size_t s = 0; s < count; s++)
            covariance[r * count + s] = need->covariance[(first + r) * need->role_count + first + s];
    return covariance && factor && hk_normal_factor(count, covariance, factor) ? factor : NULL;
}

static void ratios_of(const struct hk_project *project, enum hk_cost_kind kind, double ratios[3])
{
    static const enum hk_cost_per bases[3] = {HK_PER_ALL, HK_PER_MATERIALS, HK_PER_LABOUR};
    for (size_t i = 0; i < 3; i++)
        ratios[i] = (double)hk_quoting_percents(project, kind, bases[i]) / (double)HK_MILLION;
}

/* ---- Commission -------------------------------------------------------------------------------------------------- */

static bool hours_computed(const struct hk_project *project)
{
    return hk_quoting_rate(project) || !hk_quoting_hours_stated(project);
}

/* The terms of a size that do not depend on the draw. */
struct terms {
    int64_t stated_labour, piece_overhead;
};

/* Sets the hours of the piece: computed and stated; stated hours have no spread. */
static void fill_hours(struct hk_quote_size *size, const struct hk_range *computed, int64_t worked, int64_t stated)
{
    size->stated_h = (double)stated / (double)HK_COST_ONE;
    size->hours = (struct hk_range){.likely = (double)(worked + stated) / (double)HK_COST_ONE,
                                    .low = computed->low + size->stated_h,
                                    .high = computed->high + size->stated_h};
    size->hours.enough = size->hours.likely;
}

static void commission_costs(struct hk_quoting *q, size_t index, const struct hk_hours_size *hours, struct hk_quote_size *size,
                             struct terms *terms)
{
    const struct hk_cost *rate = hk_quoting_rate(q->project);
    struct hk_range computed = hours_computed(q->project) ? hours->hours : (struct hk_range){0};
    int64_t worked = (int64_t)floor(computed.likely * (double)HK_COST_ONE + 0.5), stated = 0;
    terms->stated_labour = hk_quoting_stated_labour(q, HK_PER_PIECE, index, 1, &stated);
    fill_hours(size, &computed, worked, stated);
    size->materials_minor = hk_quoting_sum(q, HK_COST_MATERIAL, HK_PER_PIECE, index, 1);
    size->postage_minor = hk_quoting_sum(q, HK_COST_POSTAGE, HK_PER_PIECE, index, 1);
    size->labour_minor = terms->stated_labour;
    if (rate)
        hk_quoting_add(q, &size->labour_minor, hk_quoting_times(q, rate->amount_minor, worked));
    terms->piece_overhead = hk_quoting_sum(q, HK_COST_OVERHEAD, HK_PER_PIECE, index, 1);
    int64_t materials = size->yarn_minor;
    hk_quoting_add(q, &materials, size->materials_minor);
    size->overhead_minor = hk_quoting_shares(q, HK_COST_OVERHEAD, materials, size->labour_minor);
    hk_quoting_add(q, &size->overhead_minor, terms->piece_overhead);
    hk_quoting_add(q, &size->overhead_minor, hk_quoting_hour_overhead(q, worked + stated));
    size->markup_minor = hk_quoting_shares(q, HK_COST_MARKUP, materials, size->labour_minor);
}

/* Sets what the draws of a size need, except the amount left at the price. Returns false when out of memory. */
static bool open_chances(struct hk_quoting *q, size_t first, size_t count, const struct hk_shop_size *shop,
                         const struct hk_hours_size *hours, const struct terms *terms, const struct hk_quote_size *size,
                         struct chances *c)
{
    const struct hk_cost *rate = hk_quoting_rate(q->project);
    *c = (struct chances){
        .q = q,
        .size = size,
        .shop = shop,
        .roles = &q->needed->face.roles[first],
        .role_count = count,
        .factor = factor_of(q, first, count),
        .hours = hours_computed(q->project) ? hours->hours.likely : 0,
        .spread = hours->spread,
        .rate = rate ? (double)rate->amount_minor : 0,
        .stated_hours = size->stated_h,
        .stated_labour = (double)terms->stated_labour,
        .materials = (double)size->materials_minor,
        .postage = (double)size->postage_minor,
        .fixed_overhead = (double)terms->piece_overhead,
        .hour_overhead = (double)hk_quoting_sum(q, HK_COST_OVERHEAD, HK_PER_HOUR, 0, 1),
    };
    ratios_of(q->project, HK_COST_OVERHEAD, c->overhead);
    ratios_of(q->project, HK_COST_MARKUP, c->markup);
    return c->factor;
}

/* The amounts that the price of a size must cover. */
struct cover {
    int64_t costs, hers;
};

static struct cover covered(struct hk_quoting *q, const struct hk_quote_size *size)
{
    struct cover cover = {size->yarn_minor, size->labour_minor};
    hk_quoting_add(q, &cover.costs, size->materials_minor);
    hk_quoting_add(q, &cover.costs, size->overhead_minor);
    hk_quoting_add(q, &cover.costs, size->postage_minor);
    hk_quoting_add(q, &cover.hers, size->markup_minor);
    return cover;
}

/*
 * Sets the price that is safe, and the reserve of the price if it is sought to be so, by what is required in the draws;
 * a price that covers the likely work and the markup may be surer already, and then stays.
 */
static void fill_safe(struct hk_quoting *q, const double *required, struct cover cover, struct hk_quote_size *size)
{
    struct hk_sale sale;
    struct hk_ending ending = {q->options.ending_minor, q->options.ending_modulus};
    int64_t safe = sure_minor(required, q->face->safe);
    if (q->face->sure && safe > cover.costs + cover.hers)
        size->reserve_minor = safe - cover.costs - cover.hers;
    size->safe_minor = hk_sale_leaving(&q->rates, safe, ending, &sale) ? sale.paid_minor : -1;
}

/* Sets the price, the ranges and the chances. Returns false when out of memory, or when an amount is too large. */
static bool price_size(struct hk_quoting *q, struct chances *c, struct hk_quote_size *size)
{
    struct cover cover = covered(q, size);
    double *required = size->labour_minor > 0 ? draw_sorted(c, drawn_required) : NULL;
    bool good = required || size->labour_minor == 0;
    q->arena->out_of_memory |= !good;
    size->safe_minor = -1;
    size->chance_below = -1;
    if (required)
        fill_safe(q, required, cover, size);
    hk_quoting_add(q, &cover.hers, size->reserve_minor);
    good = good && hk_quoting_price(q, cover.costs, cover.hers, &size->bill);
    if (good) {
        c->left = (double)(size->bill.kept_minor + size->bill.costs_minor);
        size->rounding_minor = q->face->solved ? size->bill.kept_minor - cover.hers : 0;
        size->chance_below = required ? chance_above(required, c->left) : -1;
    }
    free(required);
    return good;
}

static void draw_ranges(struct hk_quoting *q, const struct chances *c, struct hk_quote_size *size)
{
    bool good = draw_range(c, drawn_price, &size->price_low_minor, &size->price_high_minor);
    const bool certain = size->price_high_minor - size->price_low_minor <= 1; /* but for the rounding of the lines */
    if (certain && size->reserve_minor == 0 && q->options.ending_modulus == 1)
        size->price_low_minor = size->price_high_minor = size->bill.paid_minor;
    size->earns_minor = -1;
    if (size->hours.likely > 0) {
        size->earns_minor = hk_quoting_earns(&size->bill, size->hours.likely);
        good = good && draw_range(c, drawn_earning, &size->earns_low_minor, &size->earns_high_minor);
    }
    q->arena->out_of_memory |= !good;
}

/* Stated hours take the place of those of the stitches, and may be meant to be added to them: washing alone, say. */
static void compare_hours(struct hk_quoting *q, const struct hk_hours_size *hours, const struct hk_quote_size *size)
{
    if (hours_computed(q->project) || !(size->stated_h > 0) ||
        (size->stated_h >= hours->hours.low && size->stated_h <= hours->hours.high))
        return;
    hk_diags_add(q->diags, HK_CODE_UNUSUAL, hk_cell_place(hk_quoting_hours_stated(q->project)->cell, 0),
                 "costs.csv states %s h for the piece, size %s, and its stitches take about %s h (%s-%s)",
                 hk_number_text(size->stated_h, 3).text, hours->size_name, hk_number_text(hours->hours.likely, 2).text,
                 hk_number_text(hours->hours.low, 2).text, hk_number_text(hours->hours.high, 2).text);
    hk_diags_hint(q->diags,
                  "check the quantity, or add a row of labour without one: the rate for the hours of the stitches");
}

/* roles[first] to roles[first + count - 1] of the need are those of the size. */
void hk_commission_size(struct hk_quoting *q, size_t i, size_t first, size_t count, struct hk_quote_size *size)
{
    const struct hk_shop_size *shop = &q->shop->sizes[i];
    const struct hk_hours_size *hours = &q->hours->sizes[i];
    struct terms terms = {0};
    struct chances c;
    size->size = shop->size;
    commission_yarn(q, shop, size);
    if (!size->yarns)
        return;
    commission_costs(q, hours->size, hours, size, &terms);
    if (!open_chances(q, first, count, shop, hours, &terms, size, &c)) {
        q->arena->out_of_memory = true; /* the matrix is a covariance, so the only failure is memory */
        return;
    }
    if (!price_size(q, &c, size))
        return;
    draw_ranges(q, &c, size);
    hk_quoting_discounts(q, size);
    hk_quoting_deposit(q, size);
    if (i == 0)
        compare_hours(q, hours, size);
}
