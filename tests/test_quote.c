/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Prices worked by hand. The piece: 3600 sc of 2 loops at 1.3 s, 2.6 h exactly, without ends; its yarn is 50 g balls of
 * 100 m. Costs are made by hand, as costs.csv would give them.
 */
#include "support.h"

#include "handmade.h"
#include "base/money.h"
#include "input/table.h"

#include <gsl/gsl_math.h>
#include <gsl/gsl_rng.h>

#include "model/chance.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_randist.h>

enum { COSTS_MOST = 16 };

struct case_ {
    struct handmade h;
    struct hk_cost costs[COSTS_MOST];
    int64_t quantities[COSTS_MOST][HANDMADE_SIZES];
    struct hk_currency currency;
};

static void start(struct case_ *c, int64_t ball_minor)
{
    memset(c, 0, sizeof *c);
    handmade_start(&c->h, 1, 1);
    size_t main = handmade_yarn(&c->h, "main", ball_minor);
    handmade_line(&c->h, 0, 0, 5, 1, (struct handmade_use){main, SC, 3600, 60, 0, 0});
    c->h.project.costs = c->costs;
    c->h.project.spreads.reader = 0.07;
}

static struct hk_cost *cost_add(struct case_ *c, enum hk_cost_kind kind, enum hk_cost_per per, int64_t amount_minor)
{
    size_t i = c->h.project.cost_count++;
    assert_true(i < COSTS_MOST);
    c->costs[i] = (struct hk_cost){.item = "item", .kind = kind, .per = per, .amount_minor = amount_minor};
    return &c->costs[i];
}

static void percent_add(struct case_ *c, enum hk_cost_kind kind, enum hk_cost_per per, int64_t millionths)
{
    struct hk_cost *cost = cost_add(c, kind, per, 0);
    cost->percent = true;
    cost->millionths = millionths;
}

static void counted_add(struct case_ *c, enum hk_cost_kind kind, enum hk_cost_per per, int64_t amount_minor,
                        int64_t thousandths)
{
    struct hk_cost *cost = cost_add(c, kind, per, amount_minor);
    size_t i = (size_t)(cost - c->costs);
    for (size_t s = 0; s < HANDMADE_SIZES; s++)
        c->quantities[i][s] = thousandths * (HK_COST_ONE / 1000);
    cost->quantity = c->quantities[i];
}

#define UNREASONABLE                                                                                                        \
    "options:0:0: error: a quote with such options cannot be made; a batch is 1 to 100000 kits; a deposit, waste and spare " \
    "are at most 100%, a code and a discount below that; a chance to be sure of is between 0 and 1 and goes with a price "  \
    "that is sought; time to search is above 0\n"

/* Every stage that a quote needs. */
struct answer {
    struct hk_fit *fit;
    struct hk_time_fit *time;
    struct hk_need *need;
    struct hk_shop *shop;
    struct hk_hours *hours;
    struct hk_quote *quote;
};

static struct answer ask_all(struct case_ *c, struct hk_quote_options options, struct hk_diags *diags)
{
    struct answer a = {.fit = hk_fit_make(&c->h.tally, diags), .time = hk_fit_time(&c->h.tally, diags)};
    a.need = hk_need_predict(a.fit, hk_need_defaults(), diags);
    a.shop = hk_shop_plan(a.need, hk_shop_defaults(), diags);
    a.hours = hk_hours_predict(a.time, HK_NO_SIZE, diags);
    assert_non_null(a.shop);
    assert_non_null(a.hours);
    hk_diags_free(diags);
    *diags = (struct hk_diags){0};
    a.quote = hk_quote_make(a.need, a.shop, a.hours, options, diags);
    return a;
}

static struct answer ask(struct case_ *c, struct hk_quote_options options)
{
    struct hk_diags diags = {0};
    struct answer a = ask_all(c, options, &diags);
    assert_findings(&diags, "");
    assert_non_null(a.quote);
    return a;
}

static void done(struct answer a)
{
    hk_quote_free(a.quote);
    hk_hours_free(a.hours);
    hk_shop_free(a.shop);
    hk_need_free(a.need);
    hk_time_fit_free(a.time);
    hk_fit_free(a.fit);
}

static void assert_refused(struct case_ *c, struct hk_quote_options options, const char *expected)
{
    struct hk_diags diags = {0};
    struct answer a = ask_all(c, options, &diags);
    assert_null(a.quote);
    assert_findings(&diags, expected);
    done(a);
}

/* ---- Commission -------------------------------------------------------------------------------------------------- */

/*
 * Yarn: W = 3600 * 2 * 7 pi mm = 158.34 m, 79.2 g at 0.5 g/m; enough at 95% with nothing weighed is under 150 g: 3
 * balls or fewer, b * 5.00. Seven buttons at 0.85: 5.95. Work: 2.6 h at 18.00: 46.80. Overhead 10% of labour: 4.68.
 * Markup 20% of all: of yarn + 5.95 + 46.80. Postage 4.90. Fees 6.5% + 0.30. No tax.
 */
static void a_commission_leaves_costs_and_hers(void **state)
{
    (void)state;
    struct case_ c;
    start(&c, 500);
    counted_add(&c, HK_COST_MATERIAL, HK_PER_EACH, 85, 7000);
    cost_add(&c, HK_COST_LABOUR, HK_PER_PIECE, 1800);
    percent_add(&c, HK_COST_OVERHEAD, HK_PER_LABOUR, 100000);
    percent_add(&c, HK_COST_MARKUP, HK_PER_ALL, 200000);
    percent_add(&c, HK_COST_FEE, HK_PER_EACH, 65000);
    cost_add(&c, HK_COST_FEE, HK_PER_PIECE, 30);
    cost_add(&c, HK_COST_FEE, HK_PER_PATTERN, 999); /* for another sale */
    cost_add(&c, HK_COST_POSTAGE, HK_PER_EACH, 490);
    struct answer a = ask(&c, hk_quote_defaults(HK_QUESTION_COMMISSION));
    const struct hk_quote_size *s = &a.quote->sizes[0];
    int64_t yarn = 500 * a.shop->sizes[0].lines[0].balls;
    assert_int_equal(s->yarn_bought_minor, yarn);
    assert_int_equal(s->yarn_minor, yarn);
    assert_int_equal(s->materials_minor, 595);
    assert_close(s->hours.likely, 2.6, 1e-12, 0);
    assert_int_equal(s->labour_minor, 4680);
    assert_int_equal(s->overhead_minor, 468);
    assert_int_equal(s->markup_minor, (yarn + 595 + 4680) / 5);
    assert_int_equal(s->postage_minor, 490);
    assert_int_equal(s->bill.costs_minor, yarn + 595 + 468 + 490);
    int64_t wanted = s->bill.costs_minor + 4680 + s->markup_minor + 30;
    assert_close((double)s->bill.paid_minor, (double)wanted / 0.935, 0, 1.5);
    assert_true(s->bill.kept_minor >= 4680 + s->markup_minor);
    assert_int_equal(s->bill.kept_minor,
                     s->bill.paid_minor - s->bill.fees_minor - s->bill.tax_minor - s->bill.costs_minor);
    assert_int_equal(s->deposit_minor, (s->bill.paid_minor + 1) / 2);
    assert_true(s->price_low_minor < s->bill.quoted_minor && s->bill.quoted_minor < s->price_high_minor);
    /*
     * The markup is a reserve: the hours may reach 1 + markup / (1.1 * 46.80) of the likely hours, at a spread of 0.41;
     * yarn adds a little to the spread.
     */
    double room = 1 + (double)s->markup_minor / (1.1 * 4680);
    assert_close(s->chance_below, hk_normal_chance(-log(room) / a.hours->sizes[0].spread), 0, 0.02);
    done(a);
}

/*
 * Used: likely grams of the balls bought, 79.17 g (one join of half a row of 60 sc and no tail for each ball after the
 * first). The yarn lost in joins is used too.
 */
static void yarn_used_is_its_part_by_weight_of_what_was_bought(void **state)
{
    (void)state;
    struct case_ c;
    start(&c, 500);
    cost_add(&c, HK_COST_LABOUR, HK_PER_PIECE, 1800);
    struct hk_quote_options options = hk_quote_defaults(HK_QUESTION_COMMISSION);
    options.used = true;
    struct answer a = ask(&c, options);
    const struct hk_quote_size *s = &a.quote->sizes[0];
    const struct hk_shop_role *role = &a.shop->sizes[0].roles[0];
    assert_close(role->likely_g, 0.5 * 3600 * 2 * 0.007 * M_PI, 1e-9, 0);
    assert_int_equal(s->yarn_used_minor, (int64_t)floor((role->likely_g + role->joins_g) * 10 + 0.5));
    assert_int_equal(s->yarn_minor, s->yarn_used_minor);
    assert_true(s->yarn_used_minor < s->yarn_bought_minor);
    done(a);
}

/*
 * At 95.00, 2.6 h, the yarn the only cost: (95 - yarn) / 2.6 an hour. Without a rate there is no statement about
 * falling below it.
 */
static void a_price_says_what_an_hour_earns(void **state)
{
    (void)state;
    struct case_ c;
    start(&c, 500);
    percent_add(&c, HK_COST_TAX, HK_PER_INCLUDED, 0);
    struct hk_quote_options options = hk_quote_defaults(HK_QUESTION_COMMISSION);
    options.price_minor = 9500;
    struct answer a = ask(&c, options);
    const struct hk_quote_size *s = &a.quote->sizes[0];
    assert_false(a.quote->solved);
    assert_int_equal(s->bill.kept_minor, 9500 - s->yarn_bought_minor);
    assert_close((double)s->earns_minor, (double)s->bill.kept_minor / 2.6, 0, 0.51);
    assert_true(s->earns_low_minor < s->earns_minor && s->earns_minor < s->earns_high_minor);
    assert_true(s->chance_below < 0);
    done(a);
}

/* The price found for a rate earns that rate: both directions agree. */
static void the_two_ways_round_agree(void **state)
{
    (void)state;
    struct case_ c;
    start(&c, 500);
    cost_add(&c, HK_COST_LABOUR, HK_PER_PIECE, 1800);
    percent_add(&c, HK_COST_FEE, HK_PER_EACH, 65000);
    percent_add(&c, HK_COST_TAX, HK_PER_ADDED, 190000);
    struct answer solved = ask(&c, hk_quote_defaults(HK_QUESTION_COMMISSION));
    assert_close((double)solved.quote->sizes[0].earns_minor, 1800, 0, 1);
    struct hk_quote_options options = hk_quote_defaults(HK_QUESTION_COMMISSION);
    options.price_minor = solved.quote->sizes[0].bill.quoted_minor;
    struct answer back = ask(&c, options);
    assert_int_equal(back.quote->sizes[0].bill.kept_minor, solved.quote->sizes[0].bill.kept_minor);
    assert_close(back.quote->sizes[0].chance_below, 0.5, 0, 0.02); /* at the median nothing is left */
    done(back);
    done(solved);
}

/*
 * A timed swatch of many minutes in the piece's own fabric narrows the price; then yarn is nearly the only uncertainty.
 */
static void a_timed_swatch_narrows_the_price(void **state)
{
    (void)state;
    struct case_ c;
    start(&c, 500);
    cost_add(&c, HK_COST_LABOUR, HK_PER_PIECE, 1800);
    struct answer wide = ask(&c, hk_quote_defaults(HK_QUESTION_COMMISSION));
    size_t i = handmade_swatch(&c.h, "square", 5, 0, 1, (struct handmade_use){0, SC, 700, 35, 2, 0});
    c.h.swatches[i].minutes = 30;
    struct answer narrow = ask(&c, hk_quote_defaults(HK_QUESTION_COMMISSION));
    const struct hk_quote_size *w = &wide.quote->sizes[0], *n = &narrow.quote->sizes[0];
    assert_int_equal(narrow.quote->timed, 1);
    assert_true(n->price_high_minor - n->price_low_minor < (w->price_high_minor - w->price_low_minor) / 2);
    done(narrow);
    done(wide);
}

/*
 * Fair piece rate (UK National Minimum Wage Regulations 2015, 41 to 43; HMRC manual NMWM03140, NMWM08360): 1.2 * hourly
 * wage / average hourly output. 6 minutes an item at 5.05, and 20% more: 0.606; at 6.31: 0.757; 525 items at 10 an hour
 * are 52.5 h, treated as 63; before April 2005 the factor was 1: 4.85 gives 0.485. In thousandths, a currency of 3
 * digits, because the manual keeps them.
 */
static int64_t piece_rate(int64_t rate_minor, int64_t thousandths, int64_t markup_millionths)
{
    struct case_ c;
    start(&c, 0);
    c.currency = (struct hk_currency){"KWD", 3};
    c.h.project.currency = &c.currency;
    counted_add(&c, HK_COST_LABOUR, HK_PER_PIECE, rate_minor, thousandths);
    percent_add(&c, HK_COST_MARKUP, HK_PER_LABOUR, markup_millionths);
    struct answer a = ask(&c, hk_quote_defaults(HK_QUESTION_COMMISSION));
    assert_int_equal(a.quote->minor_digits, 3);
    int64_t paid = a.quote->sizes[0].bill.paid_minor;
    done(a);
    return paid;
}

static void fair_piece_rates_are_those_of_the_handbook(void **state)
{
    (void)state;
    assert_int_equal(piece_rate(5050, 100, 200000), 606);
    assert_int_equal(piece_rate(6310, 100, 200000), 757);
    assert_int_equal(piece_rate(4850, 100, 0), 485);
    assert_int_equal(piece_rate(6310, 52500, 200000), 63 * 6310);
}

/* 2.6 h at 1500 yen: 3900, without a minor unit. A fee of 10% on 4333 is 433; ending in 80: 4380. */
static void a_currency_without_cents_is_priced_in_whole_units(void **state)
{
    (void)state;
    struct case_ c;
    start(&c, 0);
    c.currency = (struct hk_currency){"JPY", 0};
    c.h.project.currency = &c.currency;
    cost_add(&c, HK_COST_LABOUR, HK_PER_PIECE, 1500);
    percent_add(&c, HK_COST_FEE, HK_PER_EACH, 100000);
    struct hk_quote_options options = hk_quote_defaults(HK_QUESTION_COMMISSION);
    struct answer a = ask(&c, options);
    assert_int_equal(a.quote->minor_digits, 0);
    assert_int_equal(a.quote->sizes[0].bill.paid_minor, 4333);
    options.ending_minor = 80;
    options.ending_modulus = 100;
    struct answer b = ask(&c, options);
    assert_int_equal(b.quote->sizes[0].bill.paid_minor, 4380);
    done(b);
    done(a);
}

/*
 * Two of three balls in one shop, one in another at the same price: one ball more would have that price. A gift is
 * free.
 */
static void yarn_of_two_shops_is_charged_as_it_was_bought(void **state)
{
    (void)state;
    struct case_ c;
    start(&c, 900);
    size_t trim = handmade_yarn(&c.h, "trim", 0);
    handmade_work(&c.h, &c.h.worked[0], 5, (struct handmade_use){trim, SC, 600, 60, 0, 0});
    size_t quay = handmade_seller(&c.h, "Quay"), mole = handmade_seller(&c.h, "Mole");
    handmade_offer(&c.h, quay, 500)->stock = 2;
    handmade_offer(&c.h, mole, 500)->stock = 2;
    c.h.offers[0].lot = c.h.offers[1].lot = "7";
    cost_add(&c, HK_COST_LABOUR, HK_PER_PIECE, 1800);
    struct answer a = ask(&c, hk_quote_defaults(HK_QUESTION_COMMISSION));
    const struct hk_quote_yarn *main = &a.quote->sizes[0].yarns[0], *given = &a.quote->sizes[0].yarns[1];
    assert_int_equal(main->balls, 3);
    assert_int_equal(main->price_minor, 500);
    assert_int_equal(given->price_minor, 0);
    assert_int_equal(a.quote->sizes[0].yarn_bought_minor, 1500);
    done(a);
}

/*
 * One of 100 g and one of 50 g in each of two shops: 200 g, listed by mass, the largest first, and never as one put-up.
 */
static void balls_of_several_put_ups_are_all_named(void **state)
{
    (void)state;
    struct case_ c;
    start(&c, 900);
    size_t quay = handmade_seller(&c.h, "Quay"), mole = handmade_seller(&c.h, "Mole");
    struct hk_offer *small = handmade_offer(&c.h, quay, 500), *same = handmade_offer(&c.h, mole, 500);
    struct hk_offer *large = handmade_offer(&c.h, quay, 900);
    small->stock = same->stock = large->stock = 1;
    large->put_up_g = 100;
    small->lot = same->lot = large->lot = "7";
    c.h.kinds[0][0].count = 5400; /* 118.8 g likely: the two smallest would be too little, all three are enough */
    cost_add(&c, HK_COST_LABOUR, HK_PER_PIECE, 1800);
    struct answer a = ask(&c, hk_quote_defaults(HK_QUESTION_COMMISSION));
    const struct hk_quote_yarn *main = &a.quote->sizes[0].yarns[0];
    assert_int_equal(main->balls, 3);
    assert_int_equal(main->put_up_count, 2);
    assert_close(main->put_ups[0].put_up_g, 100, 0, 0);
    assert_int_equal(main->put_ups[0].balls, 1);
    assert_close(main->put_ups[1].put_up_g, 50, 0, 0);
    assert_int_equal(main->put_ups[1].balls, 2);
    done(a);
}

/* Without a stated spread there is no uncertainty. */
static void without_spreads(struct case_ *c)
{
    struct hk_spreads none = {.wrap_ratio = 2.0 / 3, .diameter_mm = 0.108, .time_loop_s = 1.3, .time_end_min = 3};
    c->h.project.spreads = none;
}

/* Then every draw equals the price, to the minor unit, for yarn as bought and for yarn as used. */
static void the_range_of_what_is_certain_is_the_price(void **state)
{
    (void)state;
    for (int used = 0; used < 2; used++) {
        struct case_ c;
        start(&c, 500);
        without_spreads(&c);
        cost_add(&c, HK_COST_LABOUR, HK_PER_PIECE, 1800);
        struct hk_quote_options options = hk_quote_defaults(HK_QUESTION_COMMISSION);
        options.used = used;
        struct answer a = ask(&c, options);
        const struct hk_quote_size *s = &a.quote->sizes[0];
        assert_int_equal(s->bill.paid_minor, s->yarn_minor + 4680);
        assert_int_equal(s->price_low_minor, s->bill.paid_minor);
        assert_int_equal(s->price_high_minor, s->bill.paid_minor);
        done(a);
    }
}

/*
 * Tension is the only uncertainty, 0.52, and the median is 219.9 g, with joins of 10 m of tail and half a row of 60 sc,
 * 5.66 g: 5 balls give 227.4 g. At 95% it takes 219.9 exp(1.645 * 0.52) = 517.3 g: 289.9 g more, which are 7 balls of
 * 50 - 5.66 g each. The price leaves exactly 18.00 an hour while the yarn is enough, and less if more balls are bought.
 */
static void yarn_that_is_lacking_is_bought_by_the_ball(void **state)
{
    (void)state;
    struct case_ c;
    start(&c, 500);
    without_spreads(&c);
    c.h.project.spreads.tension = 0.52;
    c.h.project.chance = 0.5;
    c.h.project.tail_m = 5;
    c.h.kinds[0][0].count = 10000;
    counted_add(&c, HK_COST_LABOUR, HK_PER_PIECE, 1800, 1000);
    struct answer a = ask(&c, hk_quote_defaults(HK_QUESTION_COMMISSION));
    const struct hk_quote_size *s = &a.quote->sizes[0];
    double likely = 10000 * 0.007 * M_PI, join = 5 + 30 * 0.007 * M_PI, usable = 250 - 4 * join;
    double lacking = likely * exp(Z95 * 0.52) - usable;
    assert_close(ceil(lacking / (50 - join)), 7, 0, 0);
    assert_int_equal(s->bill.paid_minor, 5 * 500 + 1800);
    assert_int_equal(s->price_low_minor, 5 * 500 + 1800);
    assert_int_equal(s->price_high_minor, (5 + 7) * 500 + 1800);
    assert_close(s->chance_below, 1 - hk_normal_chance(log(usable / likely) / 0.52), 0, 0.015);
    done(a);
}

/* Free yarn, charged by use, leaves the hours as the only uncertainty: 2.6 h at 18.00, median 46.80. */
static void yarn_for_nothing_costs_nothing_however_much_is_used(void **state)
{
    (void)state;
    struct case_ c;
    start(&c, 0);
    cost_add(&c, HK_COST_LABOUR, HK_PER_PIECE, 1800);
    struct hk_quote_options options = hk_quote_defaults(HK_QUESTION_COMMISSION);
    options.used = true;
    struct answer a = ask(&c, options);
    const struct hk_quote_size *s = &a.quote->sizes[0];
    double spread = a.hours->sizes[0].spread;
    assert_int_equal(s->yarn_minor, 0);
    assert_int_equal(s->bill.paid_minor, 4680);
    assert_close((double)s->price_high_minor, 4680 * exp(Z95 * spread), 0.02, 0);
    assert_close((double)s->price_low_minor, 4680 * exp(-Z95 * spread), 0.02, 0);
    done(a);
}

/* With a stated time of zero the hourly earnings are undefined. Hours on a pattern are not hours on the piece. */
static void no_hours_earn_nothing_an_hour(void **state)
{
    (void)state;
    struct case_ c;
    start(&c, 500);
    counted_add(&c, HK_COST_LABOUR, HK_PER_PIECE, 1800, 0);
    struct hk_quote_options options = hk_quote_defaults(HK_QUESTION_COMMISSION);
    options.price_minor = 9500;
    struct answer a = ask(&c, options);
    assert_close(a.quote->sizes[0].hours.likely, 0, 0, 0);
    assert_int_equal(a.quote->sizes[0].earns_minor, -1);
    done(a);
    c.costs[0].per = HK_PER_PATTERN;
    a = ask(&c, options);
    assert_close(a.quote->sizes[0].hours.likely, 2.6, 1e-12, 0);
    assert_true(a.quote->sizes[0].earns_minor > 0);
    done(a);
}

/* ---- Time -------------------------------------------------------------------------------------------------------- */

/*
 * At 18.00 an hour a minute is 0.30, and no fraction of a cent is lost. A third of an hour at 14.00 is 4.666..., so
 * 4.67.
 */
static void minutes_are_not_cut(void **state)
{
    (void)state;
    static const struct {
        int64_t minutes, rate_minor, paid_minor;
    } worked[] = {{1, 1800, 30},    {10, 1800, 300},   {20, 1800, 600},
                  {40, 1800, 1200}, {100, 1800, 3000}, {20, 1400, 467}};
    for (size_t i = 0; i < sizeof worked / sizeof worked[0]; i++) {
        struct case_ c;
        start(&c, 0);
        counted_add(&c, HK_COST_LABOUR, HK_PER_PIECE, worked[i].rate_minor, 0);
        c.quantities[0][0] = HK_COST_ONE * worked[i].minutes / 60;
        struct answer a = ask(&c, hk_quote_defaults(HK_QUESTION_COMMISSION));
        assert_int_equal(a.quote->sizes[0].bill.paid_minor, worked[i].paid_minor);
        done(a);
    }
}

/*
 * 1 minute of packing a kit at 14.00 is 0.2333...: ten kits 2.33 and not 2.30; the share of a kit is 0.233, rounded up
 * 0.24. A third of a metre of ribbon at 1.00, 3.33 m for ten.
 */
static void a_batch_is_rounded_once_and_not_kit_by_kit(void **state)
{
    (void)state;
    struct case_ c;
    start(&c, 0);
    counted_add(&c, HK_COST_LABOUR, HK_PER_KIT, 1400, 0);
    c.quantities[0][0] = HK_COST_ONE / 60;
    counted_add(&c, HK_COST_KIT, HK_PER_KIT, 100, 0);
    c.quantities[1][0] = HK_COST_ONE / 3;
    struct hk_quote_options options = hk_quote_defaults(HK_QUESTION_KIT);
    options.price_minor = 100;
    struct answer a = ask(&c, options);
    assert_int_equal(a.quote->sizes[0].labour_minor, 24);
    assert_int_equal(a.quote->sizes[0].materials_minor, 34);
    assert_int_equal(a.quote->sizes[0].batches[2].left_minor, 1000 - 233 - 333);
    done(a);
}

/*
 * 12.00 an hour: with 15 min of packing a kit 3.00, with 1 h of unpacking a batch of ten 1.20 a kit more. For a pattern
 * with 4 h at 20.00 48.00, and with an overhead of 10% 8.00.
 */
static void overhead_by_the_hour_is_of_all_hours(void **state)
{
    (void)state;
    struct case_ c;
    start(&c, 0);
    counted_add(&c, HK_COST_LABOUR, HK_PER_KIT, 2000, 250);
    cost_add(&c, HK_COST_OVERHEAD, HK_PER_HOUR, 1200);
    struct answer a = ask(&c, hk_quote_defaults(HK_QUESTION_KIT));
    assert_int_equal(a.quote->sizes[0].overhead_minor, 300);
    assert_int_equal(a.quote->sizes[0].bill.paid_minor, 500 + 300);
    done(a);
    counted_add(&c, HK_COST_LABOUR, HK_PER_BATCH, 2000, 1000);
    a = ask(&c, hk_quote_defaults(HK_QUESTION_KIT));
    assert_int_equal(a.quote->sizes[0].overhead_minor, 420);
    assert_close(a.quote->sizes[0].hours.likely, 0.35, 1e-12, 0);
    done(a);
    counted_add(&c, HK_COST_LABOUR, HK_PER_PATTERN, 2000, 4000);
    percent_add(&c, HK_COST_OVERHEAD, HK_PER_LABOUR, 100000);
    struct hk_quote_options options = hk_quote_defaults(HK_QUESTION_PATTERN);
    options.price_minor = 750;
    a = ask(&c, options);
    assert_int_equal(a.quote->labour_minor, 8000);
    assert_int_equal(a.quote->overhead_minor, 4800 + 800);
    assert_int_equal(a.quote->fixed_minor, 8000 + 4800 + 800);
    done(a);
}

/*
 * The amount kept divided by the hours is the hourly earnings, stated hours included: 2.6 h of stitches and 45 min of
 * washing. If no rate is stated, those 45 min are the only hours.
 */
static void hours_are_those_that_what_is_kept_is_earned_in(void **state)
{
    (void)state;
    struct case_ c;
    start(&c, 500);
    counted_add(&c, HK_COST_LABOUR, HK_PER_PIECE, 1800, 750);
    cost_add(&c, HK_COST_LABOUR, HK_PER_PIECE, 1800);
    struct hk_quote_options options = hk_quote_defaults(HK_QUESTION_COMMISSION);
    options.price_minor = 9500;
    struct answer a = ask(&c, options);
    const struct hk_quote_size *s = &a.quote->sizes[0];
    assert_close(s->hours.likely, 3.35, 1e-12, 0);
    assert_close(s->hours.low, a.hours->sizes[0].hours.low + 0.75, 1e-12, 0);
    assert_close(s->hours.high, a.hours->sizes[0].hours.high + 0.75, 1e-12, 0);
    assert_close(s->stated_h, 0.75, 1e-12, 0);
    assert_close((double)s->earns_minor * s->hours.likely, (double)s->bill.kept_minor, 0, 0.5 * 3.35);
    done(a);
    c.h.project.cost_count = 1;
    a = ask(&c, options);
    s = &a.quote->sizes[0];
    assert_close(s->hours.likely, 0.75, 1e-12, 0);
    assert_close(s->hours.high, 0.75, 1e-12, 0);
    assert_close((double)s->earns_minor * 0.75, (double)s->bill.kept_minor, 0, 0.5 * 0.75);
    done(a);
}

/* ---- Yarn from home ---------------------------------------------------------------------------------------------- */

/*
 * Two of three balls are at home, 50 g each, and one is bought at 5.00. The yarn is 9.00 a ball of 50 g in yarns.csv.
 */
static struct hk_offer *two_at_home(struct case_ *c, int64_t ball_minor)
{
    start(c, ball_minor);
    struct hk_offer *home = handmade_offer(&c->h, HK_SELLER_OWN, 0);
    home->stock = 2;
    handmade_offer(&c->h, handmade_seller(&c->h, "Quay"), 500);
    c->h.offers[0].lot = c->h.offers[1].lot = "7";
    cost_add(c, HK_COST_LABOUR, HK_PER_PIECE, 1800);
    return home;
}

/*
 * 5.00 and twice 9.00; used, the share by weight that is used; a kit the same, from stock at home as far as it lasts.
 */
static void yarn_from_home_is_charged_at_its_price(void **state)
{
    (void)state;
    struct case_ c;
    two_at_home(&c, 900);
    struct hk_quote_options options = hk_quote_defaults(HK_QUESTION_COMMISSION);
    struct answer a = ask(&c, options);
    const struct hk_quote_size *s = &a.quote->sizes[0];
    assert_int_equal(s->yarns[0].balls, 3);
    assert_int_equal(s->yarn_bought_minor, 500);
    assert_int_equal(s->yarn_home_minor, 1800);
    assert_int_equal(s->yarn_minor, 2300);
    assert_int_equal(s->bill.paid_minor, 2300 + 4680);
    const struct hk_shop_role *role = &a.shop->sizes[0].roles[0];
    assert_int_equal(s->yarn_used_minor, (int64_t)floor(2300 * (role->likely_g + role->joins_g) / 150 + 0.5));
    done(a);
    options.used = true;
    a = ask(&c, options);
    assert_int_equal(a.quote->sizes[0].yarn_minor, a.quote->sizes[0].yarn_used_minor);
    done(a);
    options = hk_quote_defaults(HK_QUESTION_KIT);
    a = ask(&c, options);
    s = &a.quote->sizes[0];
    assert_int_equal(a.quote->shop.sizes[0].total_minor, 28 * 500);
    assert_int_equal(s->yarn_bought_minor, 1400);
    assert_int_equal(s->yarn_home_minor, 180);
    assert_int_equal(s->bill.costs_minor, 1580);
    assert_int_equal(s->batches[0].unit_minor, 2300);
    done(a);
}

/*
 * A ball of 22 g of a yarn of 9.00 for 50 g is worth 3.96; a stated value is used as stated; 0 is nothing, without a
 * message.
 */
static void yarn_from_home_is_worth_its_weight_or_what_is_stated(void **state)
{
    (void)state;
    static const struct {
        double put_up_g;
        int64_t value_minor, home_minor;
    } of[] = {{22, -1, 396}, {25, -1, 450}, {50, 650, 650}, {22, 650, 650}, {50, 0, 0}};
    for (size_t i = 0; i < sizeof of / sizeof of[0]; i++) {
        struct case_ c;
        struct hk_offer *home = two_at_home(&c, 900);
        home->stock = 1;
        home->put_up_g = of[i].put_up_g;
        home->value_minor = of[i].value_minor;
        struct answer a = ask(&c, hk_quote_defaults(HK_QUESTION_COMMISSION));
        assert_int_equal(a.quote->sizes[0].yarn_home_minor, of[i].home_minor);
        done(a);
    }
}

/* Neither a price nor a value: worth nothing, and the message names the balls. A value needs no price. */
static void yarn_from_home_of_unknown_worth_is_named(void **state)
{
    (void)state;
    for (int kit = 0; kit < 2; kit++) {
        struct case_ c;
        struct hk_diags diags = {0};
        struct hk_offer *home = two_at_home(&c, -1);
        struct answer a = ask_all(&c, hk_quote_defaults(kit ? HK_QUESTION_KIT : HK_QUESTION_COMMISSION), &diags);
        assert_non_null(a.quote);
        assert_int_equal(a.quote->sizes[0].yarn_home_minor, 0);
        assert_findings(&diags, "-:0:0: warning: the balls at home of 50 g main, for main, are charged at nothing: main has no price in "
                                "yarns.csv; state its price there, or in the column value what one of these balls is worth, 0 for "
                                "nothing\n");
        done(a);
        home->value_minor = 700;
        a = ask(&c, hk_quote_defaults(kit ? HK_QUESTION_KIT : HK_QUESTION_COMMISSION));
        assert_int_equal(a.quote->sizes[0].yarn_home_minor, kit ? 140 : 1400);
        done(a);
        two_at_home(&c, 0); /* a yarn received as a gift has a price, and needs no message */
        a = ask(&c, hk_quote_defaults(kit ? HK_QUESTION_KIT : HK_QUESTION_COMMISSION));
        assert_int_equal(a.quote->sizes[0].yarn_home_minor, 0);
        done(a);
    }
}

/* One of two rows of balls at home states a value of zero: the message names only the other. */
static void yarn_from_home_that_is_stated_to_be_worth_nothing_is_not_named(void **state)
{
    (void)state;
    struct case_ c;
    struct hk_diags diags = {0};
    two_at_home(&c, -1);
    c.h.project.lots_may_mix = true;
    struct hk_offer *given = handmade_offer(&c.h, HK_SELLER_OWN, 0);
    given->stock = 1;
    given->value_minor = 0;
    c.h.offers[0].lot = given->lot;
    const struct memory_file files[] = {{"offers.csv", "value\n?\nx\n0\n", 0}, {NULL, NULL, 0}};
    struct hk_source source = memory_source(files);
    struct hk_table *table = hk_table_read(&source, "offers.csv", (struct hk_table_options){0}, &diags);
    assert_non_null(table);
    for (size_t i = 0; i < 3; i++)
        c.h.offers[i].cell = hk_table_at(table, i, 0);
    struct answer a = ask_all(&c, hk_quote_defaults(HK_QUESTION_COMMISSION), &diags);
    assert_non_null(a.quote);
    assert_int_equal(a.quote->sizes[0].yarn_bought_minor, 0);
    assert_findings(&diags, "offers.csv:2:1: warning: the balls at home of 50 g main, for main, are charged at nothing: "
                            "main has no price in yarns.csv; state its price there, or in the column value what one of "
                            "these balls is worth, 0 for nothing\n");
    done(a);
    hk_table_free(table);
}

/* A third of 100 g, in four digits like every put-up. */
static void a_ball_from_home_is_named_in_four_digits(void **state)
{
    (void)state;
    struct case_ c;
    struct hk_diags diags = {0};
    two_at_home(&c, -1)->put_up_g = 100.0 / 3;
    struct answer a = ask_all(&c, hk_quote_defaults(HK_QUESTION_COMMISSION), &diags);
    assert_non_null(a.quote);
    assert_findings(&diags,
                    "-:0:0: warning: the balls at home of 33.33 g main, for main, are charged at nothing: main has "
                    "no price in yarns.csv; state its price there, or in the column value what one of these balls "
                    "is worth, 0 for nothing\n");
    done(a);
}

/*
 * Kits of three balls at 19.00 each, and a batch costs 10.00 besides. At home 12 balls of one lot worth 4.00 each; else
 * 5.00 a ball of another lot. Up to four kits come from stock at home: 12 N + 10, below 19 N from 2 on. Five and more
 * are bought: 15 N + 10, from 3 on. Both results come from trying all of them.
 */
static void from_which_batch_on_it_pays_with_yarn_from_home(void **state)
{
    (void)state;
    for (int64_t price = 1250; price <= 2600; price += 90) {
        struct case_ c;
        struct hk_offer *home = two_at_home(&c, 900);
        home->stock = 12;
        home->value_minor = 400;
        c.h.offers[1].lot = "8";
        cost_add(&c, HK_COST_FIXED, HK_PER_BATCH, 1000);
        struct hk_quote_options options = hk_quote_defaults(HK_QUESTION_KIT);
        options.price_minor = price;
        struct answer a = ask(&c, options);
        int64_t last_loss = 0;
        for (int64_t kits = 1; kits <= 100; kits++)
            if (kits * price < 1000 + 3 * kits * (kits <= 4 ? 400 : 500))
                last_loss = kits;
        assert_int_equal(a.quote->sizes[0].even_batch, last_loss == 100 ? -1 : last_loss + 1);
        done(a);
    }
}

/* ---- A price that is sure ----------------------------------------------------------------------------------------- */

/*
 * The hours are the only uncertainty, ln hours ~ N(ln 2.6, s^2): the price that pays 18.00 an hour with a chance of 80%
 * leaves yarn + 46.80 exp(0.8416 s), by the quantile of the normal distribution (GSL's gsl_cdf_ugaussian_Pinv). The
 * quantile of 20,000 draws has a standard error of sqrt(0.8 * 0.2 / 20000) / 0.28 = 0.0101 deviations; four of them are
 * allowed. A fee of 10% is paid on top.
 */
static void a_sure_price_pays_the_rate_with_the_chance_asked_for(void **state)
{
    (void)state;
    static const double chances[] = {0.6, 0.8, 0.95};
    for (size_t i = 0; i < sizeof chances / sizeof chances[0]; i++) {
        struct case_ c;
        start(&c, 500);
        without_spreads(&c);
        c.h.project.spreads.time_tension = 0.35;
        cost_add(&c, HK_COST_LABOUR, HK_PER_PIECE, 1800);
        percent_add(&c, HK_COST_FEE, HK_PER_EACH, 100000);
        struct hk_quote_options options = hk_quote_defaults(HK_QUESTION_COMMISSION);
        options.sure = chances[i];
        struct answer a = ask(&c, options);
        const struct hk_quote_size *s = &a.quote->sizes[0];
        double deviation = a.hours->sizes[0].spread, quantile = gsl_cdf_ugaussian_Pinv(chances[i]);
        double left = (double)s->yarn_minor + 4680 * exp(deviation * quantile);
        double error = 4 * sqrt(chances[i] * (1 - chances[i]) / 20000) / gsl_ran_ugaussian_pdf(quantile);
        assert_close(deviation, 0.35, 1e-9, 0);
        assert_close((double)s->bill.paid_minor, left / 0.9, 0, 2 + 4680 * deviation * exp(deviation * quantile) * error / 0.9);
        assert_true(a.quote->sure);
        assert_true(s->chance_below <= 1 - chances[i] && s->chance_below > 1 - chances[i] - 0.005);
        assert_int_equal(s->safe_minor, s->bill.paid_minor);
        assert_int_equal(s->bill.paid_minor, s->bill.costs_minor + s->labour_minor + s->reserve_minor + s->bill.fees_minor +
                                                 s->rounding_minor);
        assert_true(s->reserve_minor > 0);
        done(a);
    }
}

/* Without an option the safe price is that of 80%, and asking for it gives it; at the price found the chance is the one asked. */
static void the_safe_price_is_the_one_that_sure_asks(void **state)
{
    (void)state;
    struct case_ c;
    start(&c, 500);
    cost_add(&c, HK_COST_LABOUR, HK_PER_PIECE, 1800);
    percent_add(&c, HK_COST_TAX, HK_PER_INCLUDED, 200000);
    struct hk_quote_options options = hk_quote_defaults(HK_QUESTION_COMMISSION);
    struct answer plain = ask(&c, options);
    options.sure = 0.8;
    struct answer sure = ask(&c, options);
    assert_close(plain.quote->safe, 0.8, 0, 0);
    assert_false(plain.quote->sure);
    assert_int_equal(plain.quote->sizes[0].reserve_minor, 0);
    assert_int_equal(plain.quote->sizes[0].safe_minor, sure.quote->sizes[0].bill.paid_minor);
    options.sure = 0;
    options.price_minor = plain.quote->sizes[0].safe_minor;
    struct answer back = ask(&c, options);
    assert_close(back.quote->sizes[0].chance_below, sure.quote->sizes[0].chance_below, 0, 0);
    assert_close(back.quote->sizes[0].chance_below, 0.2, 0, 0.001);
    options.price_minor--;
    struct answer less = ask(&c, options);
    assert_true(less.quote->sizes[0].chance_below >= 0.2);
    done(less);
    done(back);
    done(sure);
    done(plain);
}

/* A markup of the whole work makes the price surer than 60%: it stays, without a reserve. */
static void a_price_that_is_surer_already_stays(void **state)
{
    (void)state;
    struct case_ c;
    start(&c, 500);
    cost_add(&c, HK_COST_LABOUR, HK_PER_PIECE, 1800);
    percent_add(&c, HK_COST_MARKUP, HK_PER_LABOUR, 1000000);
    struct hk_quote_options options = hk_quote_defaults(HK_QUESTION_COMMISSION);
    struct answer plain = ask(&c, options);
    options.sure = 0.6;
    struct answer sure = ask(&c, options);
    assert_true(plain.quote->sizes[0].chance_below < 0.4);
    assert_int_equal(sure.quote->sizes[0].reserve_minor, 0);
    assert_int_equal(sure.quote->sizes[0].bill.paid_minor, plain.quote->sizes[0].bill.paid_minor);
    assert_true(sure.quote->sizes[0].safe_minor < sure.quote->sizes[0].bill.paid_minor);
    done(sure);
    done(plain);
}

/* ---- Deposit and discounts --------------------------------------------------------------------------------------- */

static void a_deposit_may_be_an_amount(void **state)
{
    (void)state;
    struct case_ c;
    start(&c, 500);
    cost_add(&c, HK_COST_LABOUR, HK_PER_PIECE, 1800);
    struct hk_quote_options options = hk_quote_defaults(HK_QUESTION_COMMISSION);
    options.price_minor = 6000;
    options.deposit_minor = 2500;
    struct answer a = ask(&c, options);
    assert_int_equal(a.quote->sizes[0].deposit_minor, 2500);
    done(a);
    options.deposit_minor = 6001;
    assert_refused(&c, options, "-:0:0: error: a deposit of 60.01 is more than the price of 60.00; state a smaller amount, or a "
                                "share of the price such as 50%\n");
    options = hk_quote_defaults(HK_QUESTION_PATTERN);
    options.price_minor = 750;
    options.code_minor = 751;
    assert_refused(&c, options, "-:0:0: error: a code of 7.51 is more than the price of 7.50; state a smaller amount, or a "
                                "share of the price such as 10%\n");
}

/*
 * 60.00 with 20% included, no fees: 50% off is 30.00, of which 5.00 are tax; 33.33% off is 20.00 (19.998) off, 40.00.
 * What is kept is 25.00 - yarn over 2.6 h, and 33.33 (tax 6.67) - yarn.
 */
static void discounts_are_bills_of_their_own(void **state)
{
    (void)state;
    static const int64_t discounts[] = {500000, 333300};
    struct case_ c;
    start(&c, 500);
    percent_add(&c, HK_COST_TAX, HK_PER_INCLUDED, 200000);
    struct hk_quote_options options = hk_quote_defaults(HK_QUESTION_COMMISSION);
    options.price_minor = 6000;
    options.discount_millionths = discounts;
    options.discount_count = 2;
    struct answer a = ask(&c, options);
    const struct hk_quote_size *s = &a.quote->sizes[0];
    assert_int_equal(a.quote->discount_count, 2);
    assert_int_equal(s->discounts[0].bill.paid_minor, 3000);
    assert_int_equal(s->discounts[0].bill.each_tax_minor[0], 500);
    assert_int_equal(s->discounts[0].bill.kept_minor, 2500 - s->yarn_minor);
    assert_close((double)s->discounts[0].earns_minor, (double)(2500 - s->yarn_minor) / 2.6, 0, 0.51);
    assert_int_equal(s->discounts[1].bill.paid_minor, 4000);
    assert_int_equal(s->discounts[1].bill.kept_minor, 3333 - s->yarn_minor);
    done(a);
}

/* ---- The identity ------------------------------------------------------------------------------------------------ */

__extension__ typedef __int128 wide;

/* Half up, in 128 bits. */
static int64_t part_of(int64_t amount, int64_t numerator, int64_t denominator)
{
    return (int64_t)((2 * (wide)amount * numerator + denominator) / (2 * (wide)denominator));
}

/* Checks every line of a bill against its definition in hankful.h, and that the lines add up. */
static void assert_bill(const struct hk_quote *quote, const struct hk_bill *b)
{
    int64_t before = 1000000, fees = 0, taxes = 0, added = 0;
    for (size_t i = 0; i < quote->tax_count; i++)
        before += quote->taxes[i].added ? 0 : quote->taxes[i].millionths;
    for (size_t i = 0; i < quote->fee_count; i++) {
        const struct hk_quote_fee *fee = &quote->fees[i];
        assert_int_equal(b->fee_minor[i], fee->percent ? part_of(b->paid_minor, fee->millionths, 1000000) : fee->amount_minor);
        fees += b->fee_minor[i];
    }
    for (size_t i = 0; i < quote->tax_count; i++) {
        assert_int_equal(b->each_tax_minor[i], part_of(b->quoted_minor, quote->taxes[i].millionths, before));
        taxes += b->each_tax_minor[i];
        added += quote->taxes[i].added ? b->each_tax_minor[i] : 0;
    }
    assert_int_equal(b->fees_minor, fees);
    assert_int_equal(b->tax_minor, taxes);
    assert_int_equal(b->paid_minor, b->quoted_minor + added);
    assert_int_equal(b->kept_minor, b->paid_minor - fees - taxes - b->costs_minor);
}

/* Adds costs of every kind, at random; up to three taxes, included, added or both. */
static void random_costs(struct case_ *c, gsl_rng *rng)
{
    c->h.project.cost_count = 0;
    cost_add(c, HK_COST_LABOUR, HK_PER_PIECE, 1 + (int64_t)gsl_rng_uniform_int(rng, 5000));
    counted_add(c, HK_COST_LABOUR, HK_PER_KIT, 1 + (int64_t)gsl_rng_uniform_int(rng, 5000),
                (int64_t)gsl_rng_uniform_int(rng, 2000));
    counted_add(c, HK_COST_LABOUR, HK_PER_KIT, 1 + (int64_t)gsl_rng_uniform_int(rng, 3000), 333);
    counted_add(c, HK_COST_MATERIAL, HK_PER_EACH, (int64_t)gsl_rng_uniform_int(rng, 900),
                1 + (int64_t)gsl_rng_uniform_int(rng, 9000));
    percent_add(c, HK_COST_OVERHEAD, HK_PER_ALL, (int64_t)gsl_rng_uniform_int(rng, 400000));
    cost_add(c, HK_COST_OVERHEAD, HK_PER_HOUR, (int64_t)gsl_rng_uniform_int(rng, 200));
    percent_add(c, HK_COST_MARKUP, HK_PER_MATERIALS, (int64_t)gsl_rng_uniform_int(rng, 900000));
    percent_add(c, HK_COST_FEE, HK_PER_EACH, (int64_t)gsl_rng_uniform_int(rng, 300000));
    percent_add(c, HK_COST_FEE, HK_PER_EACH, (int64_t)gsl_rng_uniform_int(rng, 300000));
    cost_add(c, HK_COST_FEE, HK_PER_EACH, (int64_t)gsl_rng_uniform_int(rng, 99));
    for (size_t taxes = gsl_rng_uniform_int(rng, 4); taxes > 0; taxes--)
        percent_add(c, HK_COST_TAX, gsl_rng_uniform_int(rng, 2) ? HK_PER_ADDED : HK_PER_INCLUDED,
                    (int64_t)gsl_rng_uniform_int(rng, 180000));
    cost_add(c, HK_COST_FIXED, HK_PER_BATCH, (int64_t)gsl_rng_uniform_int(rng, 9000));
    cost_add(c, HK_COST_POSTAGE, HK_PER_EACH, (int64_t)gsl_rng_uniform_int(rng, 900));
}

/*
 * Every line by its definition, and their sum the price, for random costs of every kind, in 128 bits: kits, and every
 * hundredth case a commission, with a reserve in half of them; at the price, with the code and at a discount.
 */
static void the_lines_of_a_bill_add_up_in_10000_random_cases(void **state)
{
    (void)state;
    gsl_rng *rng = hk_random_new(4);
    assert_non_null(rng);
    struct hk_diags diags = {0};
    struct case_ c;
    start(&c, 637);
    struct answer a = ask_all(&c, hk_quote_defaults(HK_QUESTION_PATTERN), &diags);
    hk_diags_free(&diags);
    for (int i = 0; i < RANDOM_CASES(10000); i++) {
        random_costs(&c, rng);
        struct hk_quote_options options = hk_quote_defaults(i % 100 == 0 ? HK_QUESTION_COMMISSION : HK_QUESTION_KIT);
        options.batch = 1 + (int64_t)gsl_rng_uniform_int(rng, 30);
        options.ending_modulus = gsl_rng_uniform_int(rng, 2) ? 100 : 1;
        options.ending_minor = options.ending_modulus > 1 ? 95 : 0;
        options.sure = i % 200 == 0 ? 0.9 : 0;
        options.deposit_millionths = (int64_t)gsl_rng_uniform_int(rng, 1000001);
        options.code_millionths = (int64_t)gsl_rng_uniform_int(rng, 1000000);
        int64_t discount = (int64_t)gsl_rng_uniform_int(rng, 1000000);
        options.discount_millionths = &discount;
        options.discount_count = 1;
        struct hk_quote *quote = hk_quote_make(a.need, a.shop, a.hours, options, &diags);
        assert_non_null(quote);
        const struct hk_quote_size *s = &quote->sizes[0];
        const struct hk_bill *b = &s->bill, *lower = &s->discounts[0].bill;
        assert_int_equal(quote->fee_count, 3);
        assert_bill(quote, b);
        assert_bill(quote, lower);
        assert_int_equal(lower->quoted_minor, b->quoted_minor - part_of(b->quoted_minor, discount, 1000000));
        if (quote->question == HK_QUESTION_KIT) {
            assert_bill(quote, &s->code_bill);
            assert_int_equal(s->code_bill.quoted_minor,
                             b->quoted_minor - part_of(b->quoted_minor, options.code_millionths, 1000000));
        } else {
            assert_int_equal(s->deposit_minor, part_of(b->paid_minor, options.deposit_millionths, 1000000));
        }
        assert_int_equal(b->costs_minor, s->yarn_minor + s->materials_minor + s->overhead_minor + s->postage_minor +
                                             s->each_fixed_minor);
        assert_int_equal(b->paid_minor, b->costs_minor + s->labour_minor + s->markup_minor + s->reserve_minor + b->fees_minor +
                                            b->tax_minor + s->rounding_minor);
        assert_true(s->rounding_minor >= 0 && s->reserve_minor >= 0);
        assert_int_equal(b->paid_minor % options.ending_modulus, options.ending_minor);
        hk_quote_free(quote);
    }
    assert_findings(&diags, "");
    gsl_rng_free(rng);
    done(a);
}

/* ---- Kit --------------------------------------------------------------------------------------------------------- */

/*
 * Enough for another maker at 95%: 79.17 g * exp(1.645 hypot(spread, 0.07)), b balls of 5.00 a kit. A box of 1.00,
 * 40.00 of printing a batch, 30.00 a kit, no fees. Each kit leaves 30 - 5b - 1; the batch breaks even at 40 / that,
 * rounded up.
 */
static void a_kit_breaks_even_where_its_kits_carry_what_is_fixed(void **state)
{
    (void)state;
    struct case_ c;
    start(&c, 500);
    cost_add(&c, HK_COST_KIT, HK_PER_KIT, 100);
    cost_add(&c, HK_COST_FIXED, HK_PER_BATCH, 4000);
    struct hk_quote_options options = hk_quote_defaults(HK_QUESTION_KIT);
    options.price_minor = 3000;
    struct answer a = ask(&c, options);
    const struct hk_quote_size *s = &a.quote->sizes[0];
    const struct hk_need_role *role = &a.need->roles[0];
    double enough = role->mass_g.likely * exp(Z95 * hypot(role->spread_mass, c.h.project.spreads.reader));
    assert_close(s->yarns[0].mass_g, enough, 1e-9, 0);
    int64_t balls = s->yarns[0].balls, each = 3000 - 500 * balls - 100;
    assert_true((double)balls * 50 >= enough && (double)(balls - 1) * 50 < enough + 5);
    assert_int_equal(a.quote->shop.sizes[0].lines[0].balls, 10 * balls);
    assert_int_equal(a.quote->shop.sizes[0].total_minor, 5000 * balls);
    assert_int_equal(s->bill.costs_minor, 500 * balls + 100 + 400);
    assert_int_equal(s->even_batch, (4000 + each - 1) / each);
    assert_int_equal(s->batches[0].kits, 1);
    assert_int_equal(s->batches[0].unit_minor, 500 * balls + 100 + 4000);
    assert_int_equal(s->batches[2].kits, 10);
    assert_int_equal(s->batches[2].left_minor, 10 * each - 4000);
    done(a);
}

/*
 * Three balls of 5.00 leave 5.00 of 20.00: 500.00 are recovered with the largest batch considered, 100; a cent more is
 * not.
 */
static void the_largest_batch_that_is_looked_at_may_be_the_first_to_pay(void **state)
{
    (void)state;
    for (int64_t over = 0; over < 2; over++) {
        struct case_ c;
        start(&c, 500);
        cost_add(&c, HK_COST_FIXED, HK_PER_BATCH, 50000 + over);
        struct hk_quote_options options = hk_quote_defaults(HK_QUESTION_KIT);
        options.price_minor = 2000;
        struct answer a = ask(&c, options);
        assert_int_equal(a.quote->sizes[0].yarns[0].balls, 3);
        assert_int_equal(a.quote->sizes[0].even_most, 100);
        assert_int_equal(a.quote->sizes[0].even_batch, over ? -1 : 100);
        done(a);
    }
}

/* At 10.00 below the yarn alone a kit is never profitable; with a code of 50% neither, although it would be without. */
static void a_kit_that_loses_on_each_never_breaks_even(void **state)
{
    (void)state;
    struct case_ c;
    start(&c, 500);
    cost_add(&c, HK_COST_FIXED, HK_PER_BATCH, 4000);
    struct hk_quote_options options = hk_quote_defaults(HK_QUESTION_KIT);
    options.price_minor = 1900;
    options.code_millionths = 500000;
    struct answer a = ask(&c, options);
    assert_true(a.quote->sizes[0].even_batch > 0);
    assert_int_equal(a.quote->sizes[0].code_even_batch, -1);
    assert_int_equal(a.quote->sizes[0].code_bill.paid_minor, 950);
    done(a);
}

/*
 * Wound off: 20 kits of m grams with 5% spare and 2% lost are 21 * 1.02 m grams in whole balls. Buttons are bought
 * whole: 3 a kit, 63. A computed price covers the batch.
 */
static void a_wound_kit_pays_for_waste_and_spare(void **state)
{
    (void)state;
    struct case_ c;
    start(&c, 500);
    counted_add(&c, HK_COST_MATERIAL, HK_PER_EACH, 85, 3000);
    counted_add(&c, HK_COST_LABOUR, HK_PER_KIT, 1200, 250);
    struct hk_quote_options options = hk_quote_defaults(HK_QUESTION_KIT);
    options.used = true;
    options.batch = 20;
    options.spare_millionths = 50000;
    options.waste_millionths = 20000;
    struct answer a = ask(&c, options);
    const struct hk_quote_size *s = &a.quote->sizes[0];
    int64_t balls = (int64_t)ceil(21 * 1.02 * s->yarns[0].mass_g / 50);
    assert_int_equal(s->yarns[0].balls, 0);
    assert_int_equal(s->yarns[0].put_up_count, 0);
    assert_int_equal(a.quote->shop.sizes[0].lines[0].balls, balls);
    assert_int_equal(s->bill.costs_minor, (500 * balls + 63 * 85 + 19) / 20);
    assert_int_equal(s->labour_minor, 300);
    assert_close(s->hours.likely, 0.25, 1e-12, 0);
    assert_int_equal(s->bill.paid_minor, s->bill.costs_minor + 300);
    done(a);
}

/*
 * 274 g a kit, in balls of 50 g: ten are 2740 g, 54.8 balls. A kit has no joins, so the batch has no yarn lost in
 * joins.
 */
static void a_wound_kit_buys_the_grams_that_its_kits_hold(void **state)
{
    (void)state;
    struct case_ c;
    start(&c, 500);
    c.h.project.margin = 0;
    c.h.kinds[0][0].count = 274 / (0.5 * 2 * 0.007 * M_PI);
    cost_add(&c, HK_COST_FIXED, HK_PER_BATCH, 100);
    struct hk_quote_options options = hk_quote_defaults(HK_QUESTION_KIT);
    options.used = true;
    struct answer a = ask(&c, options);
    assert_close(a.quote->sizes[0].yarns[0].mass_g, 274, 1e-9, 0);
    assert_true(a.need->roles[0].join_g > 0.1);
    assert_int_equal(a.quote->shop.sizes[0].lines[0].balls, 55);
    done(a);
}

/* Every batch from the least profitable one on is profitable, although whole balls make the profit rise and fall. */
static void the_least_batch_is_one_beyond_which_none_loses(void **state)
{
    (void)state;
    struct case_ c;
    start(&c, 500);
    cost_add(&c, HK_COST_FIXED, HK_PER_BATCH, 700);
    struct hk_quote_options options = hk_quote_defaults(HK_QUESTION_KIT);
    options.used = true;
    for (int64_t price = 1050; price < 1600; price += 50) {
        options.price_minor = price;
        options.batch = 10;
        struct answer a = ask(&c, options);
        int64_t even = a.quote->sizes[0].even_batch;
        double mass_g = a.quote->sizes[0].yarns[0].mass_g;
        assert_int_equal(a.quote->sizes[0].even_most, 100);
        done(a);
        int64_t last_loss = 0;
        for (int64_t kits = 1; kits <= 100; kits++)
            if (kits * price < 700 + 500 * (int64_t)ceil((double)kits * mass_g / 50 - 1e-9))
                last_loss = kits;
        assert_int_equal(even, last_loss == 100 ? -1 : last_loss + 1);
    }
}

/*
 * Three balls a kit. Quay sells a ball at 5.00 with 4.00 postage; Mole at 4.50, in tens, without postage. One kit:
 * 15.00 + 4.00 or 45.00; five: 75.00 + 4.00 or 90.00; ten: 150.00 + 4.00 or 135.00. A role uses one shop.
 */
static void a_batch_buys_the_cheapest_basket(void **state)
{
    (void)state;
    struct case_ c;
    start(&c, 900);
    size_t quay = handmade_seller(&c.h, "Quay"), mole = handmade_seller(&c.h, "Mole");
    c.h.sellers[quay].postage_minor = 400;
    handmade_offer(&c.h, quay, 500);
    handmade_offer(&c.h, mole, 450)->pack = 10;
    cost_add(&c, HK_COST_FIXED, HK_PER_BATCH, 1000);
    struct hk_quote_options options = hk_quote_defaults(HK_QUESTION_KIT);
    options.price_minor = 2000;
    struct answer a = ask(&c, options);
    const struct hk_quote_size *s = &a.quote->sizes[0];
    const struct hk_shop_size *bought = &a.quote->shop.sizes[0];
    assert_int_equal(s->yarns[0].balls, 3);
    assert_true(a.quote->shop.offers && bought->proven);
    assert_int_equal(bought->line_count, 1);
    assert_string_equal(bought->lines[0].shop, "Mole");
    assert_int_equal(bought->lines[0].balls, 30);
    assert_int_equal(bought->total_minor, 13500);
    assert_int_equal(s->yarn_bought_minor, 1350);
    static const int64_t kits[] = {1, 5, 10}, yarn_minor[] = {1900, 7900, 13500};
    for (size_t i = 0; i < 3; i++) {
        assert_int_equal(s->batches[i].kits, kits[i]);
        assert_true(s->batches[i].had && s->batches[i].proven);
        assert_int_equal(s->batches[i].unit_minor, (yarn_minor[i] + 1000 + kits[i] - 1) / kits[i]);
        assert_int_equal(s->batches[i].left_minor, kits[i] * 2000 - yarn_minor[i] - 1000);
    }
    /* 2: 34 + 10 > 40; 3, ten from Mole: 45 + 10 < 60; 4: 64 + 10 < 80; 5: 79 + 10 < 100; 6, twenty: 90 + 10 < 120 */
    assert_int_equal(s->even_batch, 3);
    done(a);
}

/* 45 balls of three a kit are 15 kits; with 7% spare, 44.94 balls for 14 and 48.15 for 15, they are 14. */
static void a_batch_is_no_larger_than_its_stock(void **state)
{
    (void)state;
    struct case_ c;
    start(&c, 900);
    handmade_offer(&c.h, handmade_seller(&c.h, "Quay"), 500)->stock = 45;
    cost_add(&c, HK_COST_FIXED, HK_PER_BATCH, 1000);
    struct hk_quote_options options = hk_quote_defaults(HK_QUESTION_KIT);
    options.price_minor = 2000;
    struct answer a = ask(&c, options);
    assert_int_equal(a.quote->sizes[0].even_most, 15);
    assert_int_equal(a.quote->sizes[0].even_batch, 2);
    for (size_t i = 0; i < a.quote->sizes[0].batch_count; i++)
        assert_int_equal(a.quote->sizes[0].batches[i].had, a.quote->sizes[0].batches[i].kits <= 15);
    done(a);
    options.spare_millionths = 70000;
    a = ask(&c, options);
    assert_int_equal(a.quote->sizes[0].even_most, 14);
    done(a);
    options.batch = 15;
    struct hk_diags diags = {0};
    a = ask_all(&c, options, &diags);
    assert_null(a.quote);
    assert_int_equal(diags.errors, 1);
    assert_int_equal(diags.findings[0].code, HK_CODE_STOCK_SHORT);
    hk_diags_free(&diags);
    done(a);
}

/* At most 7 usual batches, followed by one of 250: it is the largest that is considered. */
static void a_batch_beyond_the_usual_ones_is_shown_last(void **state)
{
    (void)state;
    struct case_ c;
    start(&c, 500);
    cost_add(&c, HK_COST_FIXED, HK_PER_BATCH, 100000);
    struct hk_quote_options options = hk_quote_defaults(HK_QUESTION_KIT);
    options.price_minor = 2000;
    options.batch = 250;
    struct answer a = ask(&c, options);
    const struct hk_quote_size *s = &a.quote->sizes[0];
    assert_int_equal(s->batch_count, 7);
    assert_int_equal(s->batches[5].kits, 100);
    assert_int_equal(s->batches[6].kits, 250);
    assert_int_equal(s->batches[6].left_minor, 250 * 500 - 100000);
    assert_int_equal(s->even_most, 250);
    assert_int_equal(s->even_batch, 200);
    done(a);
}

/*
 * Main in two shops of one dye lot, 12 and 20 balls at 5.00, and in 100 g at 4.00, two a kit; trim has no offer, and a
 * price. Kits are equal, so main comes in one size of ball: 20 of 100 g for ten kits. When those run out, 30 of 50 g,
 * in both shops.
 */
static void kits_of_two_yarns_take_one_size_of_ball_each(void **state)
{
    (void)state;
    struct case_ c;
    start(&c, 900);
    size_t trim = handmade_yarn(&c.h, "trim", 300);
    handmade_work(&c.h, &c.h.worked[0], 5, (struct handmade_use){trim, SC, 600, 60, 0, 0});
    size_t quay = handmade_seller(&c.h, "Quay"), mole = handmade_seller(&c.h, "Mole");
    handmade_offer(&c.h, quay, 500)->stock = 12;
    handmade_offer(&c.h, mole, 500)->stock = 20;
    handmade_offer(&c.h, mole, 400);
    for (size_t i = 0; i < 3; i++)
        c.h.offers[i].lot = "7";
    c.h.offers[2].put_up_g = 100;
    c.h.offers[2].length_m = 210;
    cost_add(&c, HK_COST_FIXED, HK_PER_BATCH, 100);
    struct hk_quote_options options = hk_quote_defaults(HK_QUESTION_KIT);
    options.price_minor = 3000;
    struct answer a = ask(&c, options);
    const struct hk_quote_size *s = &a.quote->sizes[0];
    assert_int_equal(s->yarn_count, 2);
    assert_string_equal(s->yarns[0].role, "main");
    assert_int_equal(s->yarns[0].balls, 2);
    assert_close(s->yarns[0].put_ups[0].put_up_g, 100, 0, 0);
    assert_string_equal(s->yarns[1].role, "trim");
    assert_int_equal(s->yarns[1].balls, 1);
    assert_int_equal(a.quote->shop.sizes[0].total_minor, 20 * 400 + 10 * 300);
    done(a);
    c.h.offers[2].stock = 19;
    a = ask(&c, options);
    s = &a.quote->sizes[0];
    assert_int_equal(s->yarns[0].balls, 3);
    assert_close(s->yarns[0].put_ups[0].put_up_g, 50, 0, 0);
    assert_int_equal(a.quote->shop.sizes[0].line_count, 3);
    assert_int_equal(a.quote->shop.sizes[0].roles[0].lots, 1);
    assert_int_equal(a.quote->shop.sizes[0].total_minor, 30 * 500 + 10 * 300);
    assert_int_equal(s->even_most, 10); /* 32 balls */
    done(a);
}

/* A fee of ten million millions a kit gives a loss at any number of sales; a price as high gives as much. */
static void what_a_kit_leaves_is_kept_within_what_is_counted(void **state)
{
    (void)state;
    struct case_ c;
    start(&c, 500);
    cost_add(&c, HK_COST_FEE, HK_PER_KIT, HK_MONEY_MOST);
    struct hk_quote_options options = hk_quote_defaults(HK_QUESTION_KIT);
    options.price_minor = 0;
    struct answer a = ask(&c, options);
    const struct hk_quote_size *s = &a.quote->sizes[0];
    assert_int_equal(s->even_batch, -1);
    assert_int_equal(s->batches[1].left_minor, -HK_MONEY_MOST - 5 * 1500);
    done(a);
    c.costs[0].amount_minor = 0;
    options.price_minor = HK_MONEY_MOST;
    a = ask(&c, options);
    s = &a.quote->sizes[0];
    assert_int_equal(s->even_batch, 1);
    assert_int_equal(s->batches[1].left_minor, HK_MONEY_MOST - 5 * 1500);
    done(a);
}

static const char too_much[] =
    "-:0:0: error: some amount is too large to compute to the minor unit; check the amounts and "
    "quantities of costs.csv, and the prices\n";

/* Three balls of a thousand million have a price, three hundred do not; a hundred kits are always considered. */
static void a_batch_too_expensive_to_compute_is_refused(void **state)
{
    (void)state;
    struct case_ c;
    start(&c, INT64_C(100000000000));
    cost_add(&c, HK_COST_FIXED, HK_PER_BATCH, 100);
    struct hk_quote_options options = hk_quote_defaults(HK_QUESTION_KIT);
    options.price_minor = INT64_C(400000000000);
    options.batch = 1;
    assert_refused(&c, options, too_much);
    options.batch = 10;
    assert_refused(&c, options,
                   "-:0:0: error: the order, for 10 kits costs more than can be computed to the minor unit; "
                   "check price, put_up and times\n");
    start(&c, 500);
    cost_add(&c, HK_COST_POSTAGE, HK_PER_KIT, HK_MONEY_MOST / 2);
    options = hk_quote_defaults(HK_QUESTION_KIT);
    assert_refused(&c, options, too_much);
}

/* Another maker so different that a kit would need a million balls, or that exp() overflows. */
static void more_balls_than_can_be_counted_make_no_kit(void **state)
{
    (void)state;
    static const double readers[] = {10, 1000};
    for (size_t i = 0; i < 2; i++) {
        struct case_ c;
        start(&c, 500);
        cost_add(&c, HK_COST_LABOUR, HK_PER_PIECE, 1800);
        c.h.project.spreads.reader = readers[i];
        assert_refused(&c, hk_quote_defaults(HK_QUESTION_KIT), too_much);
        struct answer a = ask(&c, hk_quote_defaults(HK_QUESTION_COMMISSION)); /* no other maker, so no effect */
        done(a);
    }
}

static bool ends_at_the_fourth(void *calls, double done)
{
    assert_true(done >= 0 && done <= 1);
    return ++*(int *)calls < 4;
}

/* The first search is for the requested batch; later searches are for the other batches shown. */
static void a_quote_of_kits_can_be_cancelled(void **state)
{
    (void)state;
    struct case_ c;
    int calls = 0;
    start(&c, 500);
    cost_add(&c, HK_COST_LABOUR, HK_PER_KIT, 1800);
    c.quantities[0][0] = HK_COST_ONE;
    struct hk_quote_options options = hk_quote_defaults(HK_QUESTION_KIT);
    options.watch = (struct hk_watch){ends_at_the_fourth, &calls};
    assert_refused(&c, options, "-:0:0: error: the search for the cheapest basket was cancelled\n");
    assert_int_equal(calls, 4);
}

/* Five shops of many packs, and no time to prove the minimum: reported, and still enough for the kits. */
static void a_search_cut_short_is_reported(void **state)
{
    (void)state;
    struct case_ c;
    start(&c, 900);
    c.h.project.lots_may_mix = true;
    for (size_t i = 0; i < 5; i++) {
        size_t shop = handmade_seller(&c.h, "Quay");
        c.h.sellers[shop].postage_minor = 311 + 53 * (int64_t)i;
        c.h.sellers[shop].off_from_minor = 9000;
        c.h.sellers[shop].off_minor = 700;
        for (size_t k = 0; k < 8; k++) {
            struct hk_offer *offer = handmade_offer(&c.h, shop, 490 + (int64_t)((37 * i + 71 * k) % 97));
            offer->pack = 3 + (int64_t)k;
            offer->stock = 70;
        }
    }
    cost_add(&c, HK_COST_FIXED, HK_PER_BATCH, 100);
    struct hk_quote_options options = hk_quote_defaults(HK_QUESTION_KIT);
    options.seconds = 1e-9;
    options.price_minor = 3000;
    struct answer a = ask(&c, options);
    const struct hk_shop_size *bought = &a.quote->shop.sizes[0];
    int64_t balls = 0;
    for (size_t i = 0; i < bought->line_count; i++)
        balls += bought->lines[i].balls;
    assert_false(bought->proven);
    assert_true(bought->gap > 0 && balls >= 30);
    assert_false(a.quote->sizes[0].batches[2].proven);
    assert_close(a.quote->sizes[0].batches[2].gap, bought->gap, 0, 0);
    done(a);
}

/* A yarn of yarns.csv that no piece uses needs no price. */
static void a_yarn_that_is_not_used_needs_no_price(void **state)
{
    (void)state;
    struct case_ c;
    start(&c, 500);
    handmade_yarn(&c.h, "trim", -1);
    cost_add(&c, HK_COST_LABOUR, HK_PER_PIECE, 1800);
    struct answer a = ask(&c, hk_quote_defaults(HK_QUESTION_KIT));
    assert_int_equal(a.quote->sizes[0].yarn_count, 1);
    done(a);
}

/* The yarn bought costs the total of the basket, postage included; the yarn used costs its share. */
static void a_commission_is_charged_what_its_basket_costs(void **state)
{
    (void)state;
    struct case_ c;
    start(&c, 900);
    size_t quay = handmade_seller(&c.h, "Quay");
    c.h.sellers[quay].postage_minor = 400;
    handmade_offer(&c.h, quay, 500);
    cost_add(&c, HK_COST_LABOUR, HK_PER_PIECE, 1800);
    struct answer a = ask(&c, hk_quote_defaults(HK_QUESTION_COMMISSION));
    const struct hk_quote_size *s = &a.quote->sizes[0];
    assert_int_equal(s->yarn_bought_minor, a.shop->sizes[0].total_minor);
    assert_int_equal(s->yarn_bought_minor, 3 * 500 + 400);
    assert_int_equal(s->yarn_minor, s->yarn_bought_minor);
    assert_true(s->yarn_used_minor > 0 && s->yarn_used_minor < s->yarn_bought_minor);
    done(a);
}

/* ---- A batch over several sizes ---------------------------------------------------------------------------------- */

/*
 * S takes 79.17 g and M 118.75 g (3600 and 5400 sc at 0.5 * 2 * 7 pi mm a loop), with no margin: 2 and 3 balls of 5.00.
 * Two kits of S and three of M are 4 + 9 = 13 balls, 65.00, and 6.50 of postage, 71.50: S has 20 / 65 of it, 22.00, M
 * 49.50; a kit 11.00 and 16.50. Printing of 40.00 is 8.00 a kit, a box 1.00. An hour on the batch at 10.00 is 2.00 a
 * kit, a quarter of an hour at 12.00 is 3.00. So a kit costs 20.00 and 25.50, and 5.00 of work: 25.00 and 30.50.
 * The money, 71.50 + 40.00 + 5.00 = 116.50, is back after two of S and three of M (50.00 + 66.50 / 30.50, 2.2), all 5.
 * At 40.00 each 116.50 are 2.9, so 3 kits; with 25.00 of work 141.50 are 3.5, so 4.
 */
static void start_two_sizes(struct case_ *c)
{
    memset(c, 0, sizeof *c);
    handmade_start(&c->h, 2, 1);
    size_t main = handmade_yarn(&c->h, "main", 900), quay = handmade_seller(&c->h, "Quay");
    handmade_line(&c->h, 0, 0, 5, 1, (struct handmade_use){main, SC, 3600, 60, 0, 0});
    handmade_line(&c->h, 1, 0, 5, 1, (struct handmade_use){main, SC, 5400, 60, 0, 0});
    c->h.sellers[quay].postage_minor = 650;
    handmade_offer(&c->h, quay, 500);
    c->h.project.margin = 0;
    c->h.project.costs = c->costs;
    cost_add(c, HK_COST_FIXED, HK_PER_BATCH, 4000);
    cost_add(c, HK_COST_KIT, HK_PER_KIT, 100);
    counted_add(c, HK_COST_LABOUR, HK_PER_BATCH, 1000, 1000);
    counted_add(c, HK_COST_LABOUR, HK_PER_KIT, 1200, 250);
}

static void sizes_of_one_batch_share_its_costs(void **state)
{
    (void)state;
    static const int64_t kits[] = {2, 3}, yarn[] = {1100, 1650}, price[] = {2500, 3050};
    struct case_ c;
    start_two_sizes(&c);
    struct hk_quote_options options = hk_quote_defaults(HK_QUESTION_KIT);
    options.kits = kits;
    struct answer a = ask(&c, options);
    assert_true(a.quote->mixed);
    assert_int_equal(a.quote->batch, 5);
    assert_int_equal(a.quote->size_count, 2);
    assert_int_equal(a.quote->shop.size_count, 1);
    assert_string_equal(a.quote->shop.sizes[0].size, "S 2, M 3");
    assert_int_equal(a.quote->shop.sizes[0].lines[0].balls, 13);
    assert_int_equal(a.quote->shop.sizes[0].total_minor, 7150);
    for (size_t i = 0; i < 2; i++) {
        const struct hk_quote_size *s = &a.quote->sizes[i];
        assert_int_equal(s->kits, kits[i]);
        assert_int_equal(s->yarns[0].balls, 2 + (int64_t)i);
        assert_int_equal(s->yarn_bought_minor, yarn[i]);
        assert_int_equal(s->each_fixed_minor, 800);
        assert_int_equal(s->fixed_minor, 800 * kits[i]);
        assert_int_equal(s->materials_minor, 100);
        assert_int_equal(s->labour_minor, 500);
        assert_close(s->stated_h, 0.45, 1e-12, 0);
        assert_int_equal(s->bill.paid_minor, price[i]);
        assert_int_equal(s->batch_count, 0);
    }
    assert_int_equal(a.quote->sold.costs, 5);
    assert_int_equal(a.quote->sold.work, 5);
    done(a);
    options.price_minor = 4000;
    a = ask(&c, options);
    assert_int_equal(a.quote->sold.costs, 3);
    assert_int_equal(a.quote->sold.work, 4);
    done(a);
    options.price_minor = 2000; /* 100.00 do not pay 116.50 */
    a = ask(&c, options);
    assert_int_equal(a.quote->sold.costs, -1);
    done(a);
}

/* Wound off, by grams: two of S and three of M are 514.6 g, 11 balls, 55.00 + 6.50; S has 2 * 79.17 / 514.6 of it, 18.92. */
static void sizes_of_one_batch_share_yarn_by_its_grams(void **state)
{
    (void)state;
    static const int64_t kits[] = {2, 3};
    struct case_ c;
    start_two_sizes(&c);
    struct hk_quote_options options = hk_quote_defaults(HK_QUESTION_KIT);
    options.kits = kits;
    options.used = true;
    struct answer a = ask(&c, options);
    assert_int_equal(a.quote->shop.sizes[0].total_minor, 6150);
    assert_int_equal(a.quote->sizes[0].yarn_bought_minor, 946);
    assert_int_equal(a.quote->sizes[1].yarn_bought_minor, (6150 - 1892 + 2) / 3);
    done(a);
}

/*
 * A trim of 39.6 g in M only, a ball of 3.00: 65.00 and 9.00 of goods, 80.50 with postage, of which S has 20 / 74, 21.76,
 * and M 58.74; 10.88 and 19.58 a kit. A ball of the main yarn at home is free, and charged at its value of 5.00: 75.50
 * bought, 69.00 of goods (S 18.46, M 41.54 of 60.00 main), S 18.46 / 69 of it, 20.20; of the 5.00 S has 20 / 65, 1.54.
 */
static void a_yarn_of_one_size_is_charged_to_it(void **state)
{
    (void)state;
    static const int64_t kits[] = {2, 3};
    struct case_ c;
    start_two_sizes(&c);
    size_t trim = handmade_yarn(&c.h, "trim", 300);
    handmade_work(&c.h, &c.h.worked[1], 5, (struct handmade_use){trim, SC, 1800, 60, 0, 0});
    struct hk_quote_options options = hk_quote_defaults(HK_QUESTION_KIT);
    options.kits = kits;
    struct answer a = ask(&c, options);
    assert_int_equal(a.quote->shop.sizes[0].total_minor, 8050);
    assert_int_equal(a.quote->sizes[0].yarn_count, 1);
    assert_int_equal(a.quote->sizes[1].yarn_count, 2);
    assert_string_equal(a.quote->sizes[1].yarns[1].role, "trim");
    assert_int_equal(a.quote->sizes[0].yarn_minor, 1088);
    assert_int_equal(a.quote->sizes[1].yarn_minor, 1958);
    done(a);
    struct hk_offer *own = handmade_offer(&c.h, HK_SELLER_OWN, 0);
    own->stock = 1;
    own->value_minor = 500;
    c.h.project.lots_may_mix = true;
    a = ask(&c, options);
    assert_int_equal(a.quote->shop.sizes[0].total_minor, 7550);
    assert_int_equal(a.quote->sizes[0].yarn_bought_minor, 1010);
    assert_int_equal(a.quote->sizes[0].yarn_home_minor, 77);
    assert_int_equal(a.quote->sizes[1].yarn_bought_minor, (7550 - 2020 + 2) / 3);
    done(a);
}

/* Three kits of M alone are the batch of M; a size that is not in the batch has no answer. */
static void a_batch_by_size_of_one_size_is_its_batch(void **state)
{
    (void)state;
    static const int64_t kits[] = {0, 3};
    struct case_ c;
    start_two_sizes(&c);
    struct hk_quote_options options = hk_quote_defaults(HK_QUESTION_KIT);
    options.batch = 3;
    struct answer each = ask(&c, options);
    options.kits = kits;
    struct answer mixed = ask(&c, options);
    assert_int_equal(mixed.quote->size_count, 1);
    assert_string_equal(mixed.quote->sizes[0].size, "M");
    assert_int_equal(mixed.quote->sizes[0].bill.paid_minor, each.quote->sizes[1].bill.paid_minor);
    assert_int_equal(mixed.quote->sold.costs, each.quote->sizes[1].sold.costs);
    assert_int_equal(mixed.quote->sold.work, each.quote->sizes[1].sold.work);
    done(mixed);
    done(each);
}

/* The smallest number of kits of which every choice pays an amount, by trying all of them; -1: none. */
static int64_t sold_by_trial(const int64_t kits[2], const int64_t left[2], int64_t amount)
{
    for (int64_t sold = 0; sold <= kits[0] + kits[1]; sold++) {
        bool pays = true;
        for (int64_t first = 0; first <= kits[0]; first++)
            if (sold - first >= 0 && sold - first <= kits[1])
                pays &= first * left[0] + (sold - first) * left[1] >= amount;
        if (pays)
            return sold;
    }
    return -1;
}

/* Random batches and costs: the parts add up to the whole, to the minor unit; kits to sell as by trying all choices. */
static void the_parts_of_a_batch_add_up(void **state)
{
    (void)state;
    gsl_rng *rng = hk_random_new(16);
    assert_non_null(rng);
    for (int i = 0; i < RANDOM_CASES(200); i++) {
        struct case_ c;
        start_two_sizes(&c);
        c.h.offers[0].price.minor = (int64_t)gsl_rng_uniform_int(rng, 900);
        c.costs[0].amount_minor = (int64_t)gsl_rng_uniform_int(rng, 9000);
        int64_t kits[] = {1 + (int64_t)gsl_rng_uniform_int(rng, 20), 1 + (int64_t)gsl_rng_uniform_int(rng, 20)};
        struct hk_quote_options options = hk_quote_defaults(HK_QUESTION_KIT);
        options.kits = kits;
        options.used = i % 2;
        options.price_minor = i % 3 == 0 ? 500 + (int64_t)gsl_rng_uniform_int(rng, 5000) : -1;
        cost_add(&c, HK_COST_POSTAGE, HK_PER_EACH, 120);
        struct answer a = ask(&c, options);
        const struct hk_quote_size *s = a.quote->sizes;
        int64_t left[2], paid = a.quote->shop.sizes[0].total_minor + c.costs[0].amount_minor + 100 * (kits[0] + kits[1]);
        for (size_t k = 0; k < 2; k++)
            left[k] = s[k].bill.paid_minor - s[k].bill.fees_minor - s[k].bill.tax_minor - 120;
        assert_int_equal(a.quote->sold.costs, sold_by_trial(kits, left, paid));
        assert_int_equal(a.quote->sold.work, sold_by_trial(kits, left, paid + 1000 + 300 * (kits[0] + kits[1])));
        int64_t yarn = a.quote->shop.sizes[0].total_minor, fixed = s[0].fixed_minor + s[1].fixed_minor;
        assert_int_equal(fixed, c.costs[0].amount_minor);
        for (size_t k = 0; k < 2; k++) {
            int64_t costs = s[k].yarn_minor + s[k].materials_minor + s[k].overhead_minor + s[k].postage_minor + s[k].each_fixed_minor;
            assert_int_equal(s[k].bill.costs_minor, costs);
            yarn -= kits[k] * s[k].yarn_minor; /* each kit's part is rounded up by less than a minor unit */
        }
        assert_true(yarn <= 0 && yarn > -kits[0] - kits[1]);
        done(a);
    }
    gsl_rng_free(rng);
}

/* A row for the batch has one quantity; a batch has at least one kit, of sizes that are predicted. */
static void a_batch_that_sizes_cannot_share_is_refused(void **state)
{
    (void)state;
    int64_t kits[] = {2, 3};
    struct case_ c;
    start_two_sizes(&c);
    struct hk_quote_options options = hk_quote_defaults(HK_QUESTION_KIT);
    options.kits = kits;
    c.quantities[2][1] = 2 * HK_COST_ONE;
    assert_refused(&c, options, "-:0:0: error: \"item\" is for a batch and has a quantity for each size, but the sizes share one "
                                "batch; write one quantity for all sizes\n");
    kits[0] = kits[1] = 0;
    assert_refused(&c, options, UNREASONABLE);
    kits[0] = -1;
    assert_refused(&c, options, UNREASONABLE);
    kits[0] = 100001;
    assert_refused(&c, options, UNREASONABLE);
}

/* ---- Pattern ----------------------------------------------------------------------------------------------------- */

/*
 * Fixed: sample 60, testers 90, editing 4 h at 20: 230.00. At 7.50 with 10% and 0.25: 6.50 left, 35.4, so 36 sales.
 * With a code of 20%: 6.00, fee 0.85, 5.15 left: 44.7, so 45.
 */
static void a_pattern_breaks_even_after_enough_sales(void **state)
{
    (void)state;
    struct case_ c;
    start(&c, -1); /* the missing price of a yarn does not matter */
    cost_add(&c, HK_COST_FIXED, HK_PER_PATTERN, 6000);
    counted_add(&c, HK_COST_FIXED, HK_PER_PATTERN, 3000, 3000);
    counted_add(&c, HK_COST_LABOUR, HK_PER_PATTERN, 2000, 4000);
    percent_add(&c, HK_COST_FEE, HK_PER_EACH, 100000);
    cost_add(&c, HK_COST_FEE, HK_PER_PATTERN, 25);
    cost_add(&c, HK_COST_MATERIAL, HK_PER_EACH, 999);
    struct hk_quote_options options = hk_quote_defaults(HK_QUESTION_PATTERN);
    options.price_minor = 750;
    options.code_millionths = 200000;
    struct answer a = ask(&c, options);
    assert_int_equal(a.quote->fixed_minor, 23000);
    assert_int_equal(a.quote->sales.bill.kept_minor, 650);
    assert_int_equal(a.quote->sales.sales, 36);
    assert_int_equal(a.quote->code_sales.bill.paid_minor, 600);
    assert_int_equal(a.quote->code_sales.bill.kept_minor, 515);
    assert_int_equal(a.quote->code_sales.sales, 45);
    assert_int_equal(a.quote->sales.money_sales, 24); /* 150.00 without the work, 23.1 */
    done(a);
}

/*
 * 230.00 by 100 sales are 2.30 each: with 10% and 0.25, (2.30 + 0.25) / 0.9 = 2.83 (2.8333: fee 0.28, 2.30 left). By 70:
 * 3.29 each (3.2857, rounded up), 3.93 (3.9333: fee 0.39, 3.29 left). Ending in .95: 3.95, fee 0.40 (0.395), 3.30 left,
 * 69.7 sales.
 */
static void a_pattern_has_a_price_for_a_number_of_sales(void **state)
{
    (void)state;
    static const int64_t sales[] = {100, 70}, prices[] = {283, 393};
    struct case_ c;
    start(&c, -1);
    cost_add(&c, HK_COST_FIXED, HK_PER_PATTERN, 15000);
    counted_add(&c, HK_COST_LABOUR, HK_PER_PATTERN, 2000, 4000);
    percent_add(&c, HK_COST_FEE, HK_PER_EACH, 100000);
    cost_add(&c, HK_COST_FEE, HK_PER_PATTERN, 25);
    struct hk_quote_options options = hk_quote_defaults(HK_QUESTION_PATTERN);
    for (size_t i = 0; i < 2; i++) {
        options.sales = sales[i];
        struct answer a = ask(&c, options);
        assert_true(a.quote->solved);
        assert_int_equal(a.quote->sales.bill.paid_minor, prices[i]);
        assert_int_equal(a.quote->sales.sales, sales[i]);
        done(a);
    }
    options.ending_minor = 95;
    options.ending_modulus = 100;
    struct answer a = ask(&c, options);
    assert_int_equal(a.quote->sales.bill.paid_minor, 395);
    assert_int_equal(a.quote->sales.sales, 70);
    done(a);
}

/* A fee of 0.50 on a pattern of 0.50 leaves nothing; without costs the pattern breaks even at once. */
static void a_pattern_that_leaves_nothing_never_breaks_even(void **state)
{
    (void)state;
    struct case_ c;
    start(&c, -1);
    cost_add(&c, HK_COST_FIXED, HK_PER_PATTERN, 6000);
    cost_add(&c, HK_COST_FEE, HK_PER_PATTERN, 50);
    struct hk_quote_options options = hk_quote_defaults(HK_QUESTION_PATTERN);
    options.price_minor = 50;
    struct answer a = ask(&c, options);
    assert_int_equal(a.quote->sales.sales, -1);
    done(a);
    c.costs[0].amount_minor = 0;
    a = ask(&c, options);
    assert_int_equal(a.quote->sales.sales, 0);
    done(a);
}

/* At 18,000.00 an hour a thousandth of a second would be half a cent: a pattern without work takes no time. */
static void a_pattern_without_work_has_no_overhead_by_the_hour(void **state)
{
    (void)state;
    struct case_ c;
    start(&c, -1);
    cost_add(&c, HK_COST_OVERHEAD, HK_PER_HOUR, 1800000);
    struct hk_quote_options options = hk_quote_defaults(HK_QUESTION_PATTERN);
    options.price_minor = 750;
    struct answer a = ask(&c, options);
    assert_int_equal(a.quote->overhead_minor, 0);
    assert_int_equal(a.quote->fixed_minor, 0);
    done(a);
}

/* ---- Impossible prices ------------------------------------------------------------------------------------------- */

static void what_is_missing_is_reported(void **state)
{
    (void)state;
    struct case_ c;
    start(&c, 500);
    assert_refused(
        &c, hk_quote_defaults(HK_QUESTION_COMMISSION),
        "costs.csv:0:0: error: no costs are stated, so no price can be computed; write a file costs.csv with the "
        "columns item, kind, amount, and a row such as work,labour,18.00\n");
    cost_add(&c, HK_COST_POSTAGE, HK_PER_EACH, 490);
    assert_refused(&c, hk_quote_defaults(HK_QUESTION_COMMISSION),
                   "-:0:0: error: no hourly rate is stated, so no price can be computed; add a row such as "
                   "work,labour,18.00 or ask what an hour earns with --price\n");
    assert_refused(&c, hk_quote_defaults(HK_QUESTION_PATTERN),
                   "price:0:0: error: a pattern's price is not known, so neither is how many have to be sold; ask for a "
                   "price, such as --price 7.50, or for a number of sales, such as --sales 100\n");
    start(&c, -1);
    cost_add(&c, HK_COST_LABOUR, HK_PER_PIECE, 1800);
    assert_refused(
        &c, hk_quote_defaults(HK_QUESTION_KIT),
        "-:0:0: error: main, the yarn of main, has no price, so what is made of it has none either; state the price of "
        "one ball in the column price, or where to buy it in offers.csv\n");
}

static void fees_and_tax_of_everything_are_an_error(void **state)
{
    (void)state;
    struct case_ c;
    start(&c, 500);
    cost_add(&c, HK_COST_LABOUR, HK_PER_PIECE, 1800);
    percent_add(&c, HK_COST_FEE, HK_PER_EACH, 600000);
    percent_add(&c, HK_COST_FEE, HK_PER_PIECE, 400000);
    assert_refused(&c, hk_quote_defaults(HK_QUESTION_COMMISSION),
                   "-:0:0: error: fees of 100% and a tax of 0% take all of a price or nearly all, however high; check the "
                   "percentages of fee and tax in costs.csv\n");
    struct answer a = ask(&c, hk_quote_defaults(HK_QUESTION_KIT)); /* 60% of a kit */
    done(a);
}

/* Amounts above the limit: a sum, a product with a quantity, with kits, a share, a fixed cost. */
static void amounts_beyond_money_are_an_error(void **state)
{
    (void)state;
    static const struct {
        enum hk_question question;
        enum hk_cost_kind kind;
        enum hk_cost_per per;
        int64_t amount_minor, thousandths;
    } much[] = {
        {HK_QUESTION_COMMISSION, HK_COST_LABOUR, HK_PER_PIECE, HK_MONEY_MOST, 0},
        {HK_QUESTION_COMMISSION, HK_COST_MATERIAL, HK_PER_EACH, HK_MONEY_MOST / 1000, 2000000},
        {HK_QUESTION_COMMISSION, HK_COST_MATERIAL, HK_PER_EACH, HK_MONEY_MOST, 1000},
        {HK_QUESTION_COMMISSION, HK_COST_POSTAGE, HK_PER_EACH, HK_MONEY_MOST, 0},
        {HK_QUESTION_KIT, HK_COST_MATERIAL, HK_PER_EACH, HK_MONEY_MOST / 2, 0},
        {HK_QUESTION_KIT, HK_COST_KIT, HK_PER_KIT, HK_MONEY_MOST / 2, 0},
        {HK_QUESTION_KIT, HK_COST_KIT, HK_PER_BATCH, HK_MONEY_MOST, 0},
        {HK_QUESTION_KIT, HK_COST_FIXED, HK_PER_BATCH, HK_MONEY_MOST, 0},
    };
    for (size_t i = 0; i < sizeof much / sizeof much[0]; i++) {
        struct case_ c;
        start(&c, 500);
        cost_add(&c, HK_COST_LABOUR, HK_PER_PIECE, 1800);
        if (much[i].kind == HK_COST_LABOUR)
            c.costs[0].amount_minor = much[i].amount_minor;
        else if (much[i].thousandths > 0)
            counted_add(&c, much[i].kind, much[i].per, much[i].amount_minor, much[i].thousandths);
        else
            cost_add(&c, much[i].kind, much[i].per, much[i].amount_minor);
        struct hk_quote_options options = hk_quote_defaults(much[i].question);
        options.batch = 7;
        assert_refused(&c, options,
                       "-:0:0: error: some amount is too large to compute to the minor unit; check the amounts and "
                       "quantities of costs.csv, and the prices\n");
    }
}

/* Shares, fixed costs, a price with its tax, a price nearly equal to its fees, impossible hours; and no costs.csv. */
static void other_amounts_beyond_money_are_an_error(void **state)
{
    (void)state;
    struct case_ c;
    struct hk_quote_options options = hk_quote_defaults(HK_QUESTION_COMMISSION);
    start(&c, 500);
    counted_add(&c, HK_COST_LABOUR, HK_PER_PIECE, HK_MONEY_MOST / 2, 1000);
    percent_add(&c, HK_COST_MARKUP, HK_PER_LABOUR, 3000000);
    assert_refused(&c, options, too_much);
    start(&c, 500);
    cost_add(&c, HK_COST_LABOUR, HK_PER_PIECE, 1800);
    percent_add(&c, HK_COST_TAX, HK_PER_ADDED, 190000);
    options.price_minor = HK_MONEY_MOST;
    assert_refused(&c, options, too_much);
    start(&c, 500);
    c.h.project.spreads.time_loop_s = 1e9;
    cost_add(&c, HK_COST_LABOUR, HK_PER_PIECE, 1800);
    assert_refused(&c, hk_quote_defaults(HK_QUESTION_COMMISSION), too_much);
    start(&c, 500);
    counted_add(&c, HK_COST_LABOUR, HK_PER_KIT, HK_MONEY_MOST / 20, 1000);
    percent_add(&c, HK_COST_FEE, HK_PER_EACH, 999000);
    assert_refused(&c, hk_quote_defaults(HK_QUESTION_KIT), too_much);
    start(&c, 500);
    cost_add(&c, HK_COST_FIXED, HK_PER_PATTERN, HK_MONEY_MOST);
    cost_add(&c, HK_COST_FIXED, HK_PER_PATTERN, HK_MONEY_MOST);
    options = hk_quote_defaults(HK_QUESTION_PATTERN);
    options.price_minor = 750;
    assert_refused(&c, options, too_much);
}

static void more_fees_than_a_sale_has_are_an_error(void **state)
{
    (void)state;
    static struct hk_cost costs[65];
    struct case_ c;
    start(&c, 500);
    for (size_t i = 0; i < 65; i++)
        costs[i] = (struct hk_cost){.item = "fee", .kind = HK_COST_FEE, .per = HK_PER_EACH, .percent = true, .millionths = 1000};
    c.h.project.costs = costs;
    c.h.project.cost_count = 64;
    struct hk_quote_options options = hk_quote_defaults(HK_QUESTION_PATTERN);
    options.price_minor = 1000;
    struct answer a = ask(&c, options); /* 1 minor unit each */
    assert_int_equal(a.quote->sales.bill.fees_minor, 64);
    done(a);
    c.h.project.cost_count = 65;
    assert_refused(&c, options, "-:0:0: error: more than 64 fees; take some of them together\n");
    c.h.project.cost_count = 17;
    for (size_t i = 0; i < 17; i++)
        c.h.project.costs[i] = (struct hk_cost){.item = "item", .kind = HK_COST_TAX, .per = HK_PER_ADDED, .millionths = 100};
    assert_refused(&c, options, "-:0:0: error: more than 16 taxes; take some of them together\n");
}

/*
 * With 25% added no whole net price makes a payment that ends in .97: 4 more are 5 more, and payments ending in 2 and 7
 * do not occur.
 */
static void an_ending_that_no_price_has_is_refused(void **state)
{
    (void)state;
    struct case_ c;
    start(&c, 500);
    cost_add(&c, HK_COST_LABOUR, HK_PER_PIECE, 1800);
    percent_add(&c, HK_COST_TAX, HK_PER_ADDED, 250000);
    struct hk_quote_options options = hk_quote_defaults(HK_QUESTION_COMMISSION);
    options.ending_minor = 97;
    options.ending_modulus = 100;
    assert_refused(&c, options, "-:0:0: error: with a tax of 25% added, no price in whole minor units makes the buyer pay what ends "
                                "as asked; ask for another ending, or none\n");
    options.ending_minor = 95;
    struct answer a = ask(&c, options);
    assert_int_equal(a.quote->sizes[0].bill.paid_minor % 100, 95);
    done(a);
}

static void options_beyond_reason_are_refused(void **state)
{
    (void)state;
    static const int64_t all = 1000000;
    struct hk_quote_options options[26];
    size_t count = 0;
    for (size_t i = 0; i < sizeof options / sizeof options[0]; i++)
        options[i] = hk_quote_defaults(HK_QUESTION_KIT);
    options[count++].batch = 0;
    options[count++].batch = 100001;
    options[count++].ending_modulus = 0;
    options[count++].ending_modulus = INT64_MAX;
    options[count++].ending_minor = -1;
    options[count].ending_modulus = 100;
    options[count++].ending_minor = 100;
    options[count++].deposit_millionths = -1;
    options[count++].deposit_millionths = 1000001;
    options[count++].code_millionths = -1;
    options[count++].code_millionths = 1000000; /* the whole price */
    options[count++].waste_millionths = -1;
    options[count++].waste_millionths = 1000001;
    options[count++].spare_millionths = -1;
    options[count++].spare_millionths = 1000001;
    options[count++].seconds = 0;
    options[count++].seconds = INFINITY;
    options[count++].sure = 1;
    options[count++].sure = -0.5;
    options[count++].sure = NAN;
    options[count].sure = 0.8;
    options[count++].price_minor = 5000;
    options[count++].sales = -1;
    options[count++].code_minor = -1;
    options[count].code_minor = 5;
    options[count++].code_millionths = 5;
    options[count++].deposit_minor = -2;
    options[count].discount_millionths = &all;
    options[count++].discount_count = 1;
    for (size_t i = 0; i < count; i++) {
        struct case_ c;
        start(&c, 500);
        assert_refused(&c, options[i],
                       UNREASONABLE);
    }
    hk_quote_free(NULL);
}

/*
 * The values passed by a host must belong together: a basket for all sizes has no price for one, and another need has
 * other sums.
 */
static void stages_that_do_not_belong_together_are_refused(void **state)
{
    (void)state;
    struct case_ c;
    struct hk_diags diags = {0};
    start(&c, 500);
    cost_add(&c, HK_COST_LABOUR, HK_PER_PIECE, 1800);
    struct hk_quote_options options = hk_quote_defaults(HK_QUESTION_COMMISSION);
    struct answer a = ask_all(&c, options, &diags), b = ask_all(&c, options, &diags);
    struct hk_shop_options together = hk_shop_defaults(), thrice = hk_shop_defaults();
    together.together = true;
    thrice.times = 3;
    struct hk_shop *shops[] = {hk_shop_plan(a.need, together, &diags), hk_shop_plan(a.need, thrice, &diags)};
    hk_diags_free(&diags);
    diags = (struct hk_diags){0};
    for (size_t i = 0; i < 2; i++)
        assert_null(hk_quote_make(a.need, shops[i], a.hours, options, &diags));
    assert_null(hk_quote_make(a.need, b.shop, a.hours, options, &diags));
    assert_null(hk_quote_make(a.need, NULL, a.hours, options, &diags));
    assert_null(hk_quote_make(a.need, a.shop, NULL, options, &diags));
    assert_findings(&diags, "hours:0:0: error: no hours are given; predict them from a fit of time\n"
                            "shop:0:0: error: a basket for several makings does not give the price of one; plan a "
                            "basket for each size, once\n"
                            "shop:0:0: error: the basket is of another need; plan one for the need that is quoted\n"
                            "shop:0:0: error: a commission is quoted by what is bought for it, and no basket is given; "
                            "plan one for the same "
                            "need\n");
    diags = (struct hk_diags){0};
    struct case_ other;
    start(&other, 500);
    cost_add(&other, HK_COST_LABOUR, HK_PER_PIECE, 1800);
    struct answer d = ask_all(&other, options, &diags);
    assert_null(hk_quote_make(a.need, a.shop, d.hours, options, &diags));
    assert_findings(&diags, "hours:0:0: error: the hours are of another project or of other sizes; predict them for the sizes of the "
                            "need\n");
    hk_shop_free(shops[0]);
    hk_shop_free(shops[1]);
    done(d);
    /* two sizes with the hours of one */
    handmade_start(&other.h, 2, 1);
    size_t main = handmade_yarn(&other.h, "main", 500);
    for (size_t size = 0; size < 2; size++)
        handmade_line(&other.h, size, 0, 5, 1, (struct handmade_use){main, SC, 3600, 60, 0, 0});
    other.h.project.costs = other.costs;
    other.h.project.cost_count = 1;
    d = ask_all(&other, options, &diags);
    hk_diags_free(&diags);
    diags = (struct hk_diags){0};
    for (size_t size = 0; size < 2; size++) {
        struct hk_hours *of_one = hk_hours_predict(d.time, size, &diags);
        assert_non_null(of_one);
        hk_diags_free(&diags); /* no work was timed */
        diags = (struct hk_diags){0};
        assert_null(hk_quote_make(d.need, d.shop, of_one, options, &diags));
        assert_findings(&diags, "hours:0:0: error: the hours are of another project or of other sizes; predict them for the sizes of the "
                                "need\n");
        diags = (struct hk_diags){0};
        hk_hours_free(of_one);
    }
    done(d);
    done(b);
    done(a);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_commission_leaves_costs_and_hers),
        cmocka_unit_test(yarn_used_is_its_part_by_weight_of_what_was_bought),
        cmocka_unit_test(a_price_says_what_an_hour_earns),
        cmocka_unit_test(the_two_ways_round_agree),
        cmocka_unit_test(a_timed_swatch_narrows_the_price),
        cmocka_unit_test(fair_piece_rates_are_those_of_the_handbook),
        cmocka_unit_test(a_currency_without_cents_is_priced_in_whole_units),
        cmocka_unit_test(minutes_are_not_cut),
        cmocka_unit_test(a_batch_is_rounded_once_and_not_kit_by_kit),
        cmocka_unit_test(overhead_by_the_hour_is_of_all_hours),
        cmocka_unit_test(hours_are_those_that_what_is_kept_is_earned_in),
        cmocka_unit_test(yarn_from_home_is_charged_at_its_price),
        cmocka_unit_test(yarn_from_home_is_worth_its_weight_or_what_is_stated),
        cmocka_unit_test(yarn_from_home_of_unknown_worth_is_named),
        cmocka_unit_test(yarn_from_home_that_is_stated_to_be_worth_nothing_is_not_named),
        cmocka_unit_test(a_ball_from_home_is_named_in_four_digits),
        cmocka_unit_test(from_which_batch_on_it_pays_with_yarn_from_home),
        cmocka_unit_test(a_sure_price_pays_the_rate_with_the_chance_asked_for),
        cmocka_unit_test(the_safe_price_is_the_one_that_sure_asks),
        cmocka_unit_test(a_price_that_is_surer_already_stays),
        cmocka_unit_test(a_deposit_may_be_an_amount),
        cmocka_unit_test(discounts_are_bills_of_their_own),
        cmocka_unit_test(the_lines_of_a_bill_add_up_in_10000_random_cases),
        cmocka_unit_test(a_kit_breaks_even_where_its_kits_carry_what_is_fixed),
        cmocka_unit_test(the_largest_batch_that_is_looked_at_may_be_the_first_to_pay),
        cmocka_unit_test(a_kit_that_loses_on_each_never_breaks_even),
        cmocka_unit_test(a_wound_kit_pays_for_waste_and_spare),
        cmocka_unit_test(a_wound_kit_buys_the_grams_that_its_kits_hold),
        cmocka_unit_test(the_least_batch_is_one_beyond_which_none_loses),
        cmocka_unit_test(sizes_of_one_batch_share_its_costs),
        cmocka_unit_test(sizes_of_one_batch_share_yarn_by_its_grams),
        cmocka_unit_test(a_yarn_of_one_size_is_charged_to_it),
        cmocka_unit_test(a_batch_by_size_of_one_size_is_its_batch),
        cmocka_unit_test(the_parts_of_a_batch_add_up),
        cmocka_unit_test(a_batch_that_sizes_cannot_share_is_refused),
        cmocka_unit_test(a_pattern_breaks_even_after_enough_sales),
        cmocka_unit_test(a_pattern_has_a_price_for_a_number_of_sales),
        cmocka_unit_test(a_pattern_that_leaves_nothing_never_breaks_even),
        cmocka_unit_test(a_pattern_without_work_has_no_overhead_by_the_hour),
        cmocka_unit_test(a_batch_buys_the_cheapest_basket),
        cmocka_unit_test(a_batch_is_no_larger_than_its_stock),
        cmocka_unit_test(a_commission_is_charged_what_its_basket_costs),
        cmocka_unit_test(what_is_missing_is_reported),
        cmocka_unit_test(fees_and_tax_of_everything_are_an_error),
        cmocka_unit_test(amounts_beyond_money_are_an_error),
        cmocka_unit_test(a_batch_beyond_the_usual_ones_is_shown_last),
        cmocka_unit_test(kits_of_two_yarns_take_one_size_of_ball_each),
        cmocka_unit_test(what_a_kit_leaves_is_kept_within_what_is_counted),
        cmocka_unit_test(a_batch_too_expensive_to_compute_is_refused),
        cmocka_unit_test(more_balls_than_can_be_counted_make_no_kit),
        cmocka_unit_test(a_search_cut_short_is_reported),
        cmocka_unit_test(a_quote_of_kits_can_be_cancelled),
        cmocka_unit_test(a_yarn_that_is_not_used_needs_no_price),
        cmocka_unit_test(yarn_of_two_shops_is_charged_as_it_was_bought),
        cmocka_unit_test(balls_of_several_put_ups_are_all_named),
        cmocka_unit_test(the_range_of_what_is_certain_is_the_price),
        cmocka_unit_test(yarn_that_is_lacking_is_bought_by_the_ball),
        cmocka_unit_test(yarn_for_nothing_costs_nothing_however_much_is_used),
        cmocka_unit_test(no_hours_earn_nothing_an_hour),
        cmocka_unit_test(other_amounts_beyond_money_are_an_error),
        cmocka_unit_test(more_fees_than_a_sale_has_are_an_error),
        cmocka_unit_test(an_ending_that_no_price_has_is_refused),
        cmocka_unit_test(options_beyond_reason_are_refused),
        cmocka_unit_test(stages_that_do_not_belong_together_are_refused),
    };
    return cmocka_run_group_tests_name("quote", tests, NULL, NULL);
}
