/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support.h"

#include "chance.h"
#include "handmade.h"
#include "money.h"

#include <gsl/gsl_math.h>

/* A loop on a 5 mm tool in a yarn 2 mm thick is 7 pi mm, and a metre weighs 0.5 g. */
#define SC_G (2 * M_PI * 0.007 * 0.5)

struct answer {
    struct handmade_answer from;
    struct hk_shop *shop;
};

static struct answer plan(const struct handmade *h, const char *findings)
{
    struct hk_diags diags = {0};
    struct answer a = {.from = handmade_predict(h, hk_need_defaults())};
    a.shop = hk_shop_plan(a.from.need, &diags);
    assert_findings(&diags, findings);
    assert_non_null(a.shop);
    return a;
}

static void done(struct answer a)
{
    hk_shop_free(a.shop);
    handmade_done(a.from);
}

/*
 * 10,000 sc in rows of 20: 219.9 g likely, spread 0.2114, enough 311.4 g; joins of 0.15 + 0.22 = 0.37 g: 7 balls of 50
 * g.
 */
static void start_plain(struct handmade *h, int64_t price_minor)
{
    handmade_start(h, 1, 1);
    h->project.tail_m = 0.15;
    handmade_line(h, 0, 0, 5, 1, (struct handmade_use){handmade_yarn(h, "main", price_minor), SC, 10000, 20, 0, 0});
}

static void balls_cost_and_chance_by_hand(void **state)
{
    (void)state;
    struct handmade h;
    start_plain(&h, 640);
    struct answer a = plan(&h, "");
    const struct hk_shop_size *size = &a.shop->sizes[0];
    double likely = 10000 * SC_G, join = 0.5 * 0.3 + 10 * SC_G, usable = 7 * 50 - 6 * join;
    double spread = sqrt(0.0225 + 0.0144 + 0.0025 + 0.0036 + 0.0004 + 0.0009 + 0.0004);
    assert_int_equal(a.shop->size_count, 1);
    assert_int_equal(size->line_count, 1);
    assert_string_equal(size->lines[0].role, "main");
    assert_int_equal(size->lines[0].balls, 7);
    assert_int_equal(size->lines[0].price_minor, 640);
    assert_int_equal(size->lines[0].cost_minor, 4480);
    assert_int_equal(size->goods_minor, 4480);
    assert_int_equal(size->total_minor, 4480);
    assert_true(size->priced && size->proven);
    const struct hk_shop_role *role = &size->roles[0];
    assert_close(role->bought_g, 350, 1e-15, 0);
    assert_close(role->joins_g, 6 * join, 1e-12, 0);
    assert_close(role->likely_g, likely, 1e-12, 0);
    assert_close(role->need_g, likely * exp(1.6448536269514722 * spread), 1e-12, 0);
    assert_close(role->margin, usable / likely - 1, 1e-12, 0);
    assert_close(role->left_over_m, (usable - likely) / 0.5, 1e-12, 0);
    assert_close(role->chance, hk_normal_chance(log(usable / likely) / spread), 1e-12, 0);
    /* ln(347.78 / 219.91) / 0.21142 = 2.168, P = 0.9849: any table of the normal distribution */
    assert_close(role->chance, 0.9849, 0, 2e-4);
    /* one role: the joint chance is its own */
    assert_close(size->chance_all, role->chance, 1e-12, 0);
    done(a);
}

static void steps_are_two_fewer_to_two_more(void **state)
{
    (void)state;
    struct handmade h;
    start_plain(&h, 640);
    struct answer a = plan(&h, "");
    const struct hk_shop_role *role = &a.shop->sizes[0].roles[0];
    assert_int_equal(role->step_count, 5);
    for (size_t i = 0; i < 5; i++) {
        assert_int_equal(role->steps[i].balls, 5 + (int64_t)i);
        assert_int_equal(role->steps[i].cost_minor, 640 * role->steps[i].balls);
        assert_true(i == 0 || role->steps[i].chance > role->steps[i - 1].chance);
    }
    assert_close(role->steps[2].chance, role->chance, 0, 0);
    assert_true(role->steps[1].chance < 0.95);
    done(a);

    h.kinds[0][0].count = 100; /* one ball is enough: nothing below it */
    a = plan(&h, "");
    role = &a.shop->sizes[0].roles[0];
    assert_int_equal(role->step_count, 3);
    assert_int_equal(role->steps[0].balls, 1);
    assert_close(role->joins_g, 0, 0, 0);
    done(a);
}

/* Where the balls are fewer than likely takes, nothing is left over, and the margin is negative. */
static void too_few_balls_leave_nothing_over(void **state)
{
    (void)state;
    struct handmade h;
    start_plain(&h, 640);
    h.kinds[0][0].count = 12000; /* 263.9 g likely; in three makers of ten 236 g are enough, 5 balls; 3 give 149 g */
    h.project.chance = 0.3;
    struct answer a = plan(&h, "");
    const struct hk_shop_role *role = &a.shop->sizes[0].roles[0];
    assert_int_equal(role->steps[2].balls, 5);
    assert_close(role->steps[0].left_over_m, 0, 0, 0);
    assert_true(role->steps[0].margin < 0);
    assert_true(role->steps[0].chance < 0.5);
    done(a);
}

static void a_flat_margin_buys_by_the_margin_and_says_its_chance(void **state)
{
    (void)state;
    struct handmade h;
    start_plain(&h, 640);
    h.project.margin = 0.1;
    struct answer a = plan(&h, "");
    const struct hk_shop_role *role = &a.shop->sizes[0].roles[0];
    assert_close(a.shop->margin, 0.1, 0, 0);
    assert_close(role->need_g, 1.1 * role->likely_g, 1e-12, 0); /* 241.9 g: 5 balls give 248.5 */
    assert_close(role->bought_g, 250, 0, 0);
    assert_close(role->margin, 0.13, 0, 0.002);
    assert_close(role->chance, 0.72, 0, 0.005); /* ln(248.5 / 219.9) / 0.2114 = 0.578, P = 0.718 */
    done(a);
}

/* ---- Several roles ----------------------------------------------------------------------------------------------- */

static void start_striped(struct handmade *h)
{
    handmade_start(h, 2, 2);
    size_t main = handmade_yarn(h, "main", 640), contrast = handmade_yarn(h, "contrast", 725);
    for (size_t size = 0; size < 2; size++) {
        handmade_line(h, size, 0, 5, 1, (struct handmade_use){main, SC, 10000 + 2000 * (double)size, 20, 0, 0});
        handmade_line(h, size, 1, 5, size == 0 ? 2 : 0, (struct handmade_use){contrast, SC, 1500, 20, 0, 0});
    }
}

/* Whatever the correlation: at most the smallest chance, at least what is left when all failures are apart (Boole). */
static void all_are_enough_less_often_than_the_worst(void **state)
{
    (void)state;
    struct handmade h;
    start_striped(&h);
    struct answer a = plan(&h, "");
    const struct hk_shop_size *size = &a.shop->sizes[0];
    assert_int_equal(size->role_count, 2);
    double p = size->roles[0].chance, q = size->roles[1].chance;
    assert_true(size->chance_all <= fmin(p, q));
    assert_true(size->chance_all >= p + q - 1);
    /* the maker is one, so they fail together more often than by chance */
    assert_true(size->chance_all > p * q + 0.001);
    assert_int_equal(size->total_minor, 640 * size->lines[0].balls + 725 * size->lines[1].balls);
    /* the other size does without the contrast */
    assert_int_equal(a.shop->sizes[1].role_count, 1);
    assert_string_equal(a.shop->sizes[1].size, "M");
    done(a);
}

static void only_the_size_asked_for_is_bought(void **state)
{
    (void)state;
    struct handmade h;
    struct hk_diags diags = {0};
    start_striped(&h);
    struct handmade_answer from = handmade_predict(&h, (struct hk_need_options){.size = 1});
    struct hk_shop *shop = hk_shop_plan(from.need, &diags);
    assert_non_null(shop);
    assert_int_equal(shop->size_count, 1);
    assert_string_equal(shop->sizes[0].size, "M");
    hk_shop_free(shop);
    handmade_done(from);
    assert_findings(&diags, "");
}

static void a_size_that_uses_nothing_buys_nothing(void **state)
{
    (void)state;
    struct handmade h;
    start_striped(&h);
    h.worked[2].times = 0; /* M, line 0 */
    struct answer a = plan(&h, "");
    assert_int_equal(a.shop->size_count, 2);
    assert_int_equal(a.shop->sizes[1].line_count, 0);
    assert_int_equal(a.shop->sizes[1].total_minor, 0);
    assert_close(a.shop->sizes[1].chance_all, 1, 0, 0);
    done(a);
}

/* ---- Money ------------------------------------------------------------------------------------------------------- */

/* The designer still reads how many balls; what has no price is left out and said once, not once a size. */
static void balls_stand_without_a_price(void **state)
{
    (void)state;
    struct handmade h;
    start_striped(&h);
    h.candidates[0].price_minor = -1;
    struct answer a = plan(&h, "-:0:0: warning: main, the yarn of main, has no price, so its cost is left out; "
                               "state the price of one ball in the column price\n");
    const struct hk_shop_size *size = &a.shop->sizes[0];
    assert_true(size->lines[0].balls > 1);
    assert_int_equal(size->lines[0].price_minor, -1);
    assert_int_equal(size->lines[0].cost_minor, -1);
    assert_int_equal(size->roles[0].steps[0].cost_minor, -1);
    assert_false(size->priced);
    assert_int_equal(size->goods_minor, size->lines[1].cost_minor);
    assert_true(size->chance_all > 0.9);
    done(a);
}

static void a_gift_costs_nothing_and_has_a_price(void **state)
{
    (void)state;
    struct handmade h;
    start_plain(&h, 0);
    struct answer a = plan(&h, "");
    assert_true(a.shop->sizes[0].priced);
    assert_int_equal(a.shop->sizes[0].lines[0].cost_minor, 0);
    done(a);
}

static void plan_fails(const struct handmade *h, const char *expected)
{
    struct hk_diags diags = {0};
    struct handmade_answer from = handmade_predict(h, hk_need_defaults());
    assert_null(hk_shop_plan(from.need, &diags));
    handmade_done(from);
    assert_findings(&diags, expected);
}

/* 7 balls at 10^15 minor units, the most one price can be; and two roles whose costs fit singly but not together. */
static void a_cost_beyond_counting_is_an_error(void **state)
{
    (void)state;
    struct handmade h;
    start_plain(&h, HK_MONEY_MOST);
    plan_fails(&h, "-:0:0: error: what main costs is more than can be counted to the minor unit; "
                   "check price and put_up\n");

    start_striped(&h);
    h.worked[2].times = 0; /* M uses nothing */
    h.candidates[0].price_minor = HK_MONEY_MOST / 9;
    h.candidates[1].price_minor = HK_MONEY_MOST / 5;
    plan_fails(&h, "-:0:0: error: what contrast costs is more than can be counted to the minor unit; "
                   "check price and put_up\n");
}

static void without_a_currency_money_has_two_digits(void **state)
{
    (void)state;
    struct handmade h;
    static const struct hk_currency yen = {"JPY", 0};
    start_plain(&h, 640);
    struct answer a = plan(&h, "");
    assert_string_equal(a.shop->currency, "");
    assert_int_equal(a.shop->minor_digits, 2);
    done(a);
    h.project.currency = &yen;
    a = plan(&h, "");
    assert_string_equal(a.shop->currency, "JPY");
    assert_int_equal(a.shop->minor_digits, 0);
    done(a);
}

/* ---- From the files of a folder ---------------------------------------------------------------------------------- */

/* A square of 20 sc by 200 rows in two yarns; the price cell of the second is empty. */
static void a_price_that_is_missing_is_pointed_at(void **state)
{
    (void)state;
    static const struct memory_file files[] = {
        {"project.csv", "field,value\ncurrency,EUR\n", 0},
        {"yarns.csv", "role,yarn,put_up,length,price\nmain,Alva,50 g,100 m,EUR 6.40\ncontrast,Brisa,50 g,100 m,\n", 0},
        {"fabrics.csv", "fabric,row,make\nplain,1,*sc*\n", 0},
        {"pieces.csv", "piece,fabric,yarn,tool,stitches,rows\nstrip,plain,\"main 20, contrast 20\",5 mm,20,200\n", 0},
        {NULL, NULL, 0}};
    struct hk_source source = memory_source(files);
    struct hk_diags diags = {0};
    struct hk_catalogue *catalogue = shipped_catalogue(TABLES_DIR);
    struct hk_project *project = hk_project_read(&source, catalogue, &diags);
    struct hk_tally *tally = project ? hk_tally_count(project, &diags) : NULL;
    struct hk_fit *fit = tally ? hk_fit_make(tally, &diags) : NULL;
    struct hk_need *need = fit ? hk_need_predict(fit, hk_need_defaults(), &diags) : NULL;
    assert_non_null(need);
    hk_diags_free(&diags);
    struct hk_shop *shop = hk_shop_plan(need, &diags);
    assert_non_null(shop);
    assert_string_equal(shop->currency, "EUR");
    assert_int_equal(shop->sizes[0].lines[0].price_minor, 640);
    assert_int_equal(shop->sizes[0].total_minor, 640 * shop->sizes[0].lines[0].balls);
    assert_findings(&diags, "yarns.csv:3:27: warning: Brisa, the yarn of contrast, has no price, so its cost is left out; "
                            "state the price of one ball in the column price\n");
    hk_shop_free(shop);
    hk_need_free(need);
    hk_fit_free(fit);
    hk_tally_free(tally);
    hk_project_free(project);
    hk_catalogue_free(catalogue);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(balls_cost_and_chance_by_hand),
        cmocka_unit_test(steps_are_two_fewer_to_two_more),
        cmocka_unit_test(too_few_balls_leave_nothing_over),
        cmocka_unit_test(a_flat_margin_buys_by_the_margin_and_says_its_chance),
        cmocka_unit_test(all_are_enough_less_often_than_the_worst),
        cmocka_unit_test(only_the_size_asked_for_is_bought),
        cmocka_unit_test(a_size_that_uses_nothing_buys_nothing),
        cmocka_unit_test(balls_stand_without_a_price),
        cmocka_unit_test(a_gift_costs_nothing_and_has_a_price),
        cmocka_unit_test(a_cost_beyond_counting_is_an_error),
        cmocka_unit_test(without_a_currency_money_has_two_digits),
        cmocka_unit_test(a_price_that_is_missing_is_pointed_at),
    };
    return cmocka_run_group_tests_name("shop", tests, NULL, NULL);
}
