/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The amount that a sale leaves, by hand, and the least price that leaves enough, compared with a search through all
 * lower prices.
 */
#include "support.h"

#include "model/chance.h"
#include "base/money.h"
#include "quote/price.h"

#include <gsl/gsl_rng.h>

static const struct hk_ending any = {0, 1};

/* 100.00 with 6.5% and 0.25 fixed, including 20% tax: fee 6.50 + 0.25, tax 100 - 100/1.2 = 16.67; 76.58 left. */
static void a_tax_in_the_price_is_a_sixth_of_it_at_20_percent(void **state)
{
    (void)state;
    const struct hk_rates rates = {{65000}, 1, 25, {{200000, false}}, 1};
    struct hk_sale sale;
    assert_true(hk_sale_at(&rates, 10000, &sale));
    assert_int_equal(sale.paid_minor, 10000);
    assert_int_equal(sale.tax_minor, 1667);
    assert_int_equal(sale.fees_minor, 675);
    assert_int_equal(sale.left_minor, 7658);
}

/* 100.00 and 20.00 tax on top: fees are on the 120.00 paid, 7.80 + 0.25; 91.95 left. */
static void a_tax_on_top_is_paid_by_the_buyer_and_fees_are_on_it_too(void **state)
{
    (void)state;
    const struct hk_rates rates = {{65000}, 1, 25, {{200000, true}}, 1};
    struct hk_sale sale;
    assert_true(hk_sale_at(&rates, 10000, &sale));
    assert_int_equal(sale.paid_minor, 12000);
    assert_int_equal(sale.tax_minor, 2000);
    assert_int_equal(sale.fees_minor, 805);
    assert_int_equal(sale.left_minor, 9195);
}

/* 90.00 wanted at 10%: 100.00. At .95: 100.95; at .00: 100.00. */
static void the_least_price_ends_as_she_likes(void **state)
{
    (void)state;
    const struct hk_rates rates = {{100000}, 1, 0, {{0, false}}, 0};
    struct hk_sale sale;
    assert_true(hk_sale_leaving(&rates, 9000, any, &sale));
    assert_int_equal(sale.quoted_minor, 10000);
    assert_true(hk_sale_leaving(&rates, 9000, (struct hk_ending){95, 100}, &sale));
    assert_int_equal(sale.quoted_minor, 10095);
    assert_true(hk_sale_leaving(&rates, 9000, (struct hk_ending){0, 100}, &sale));
    assert_int_equal(sale.quoted_minor, 10000);
    assert_true(hk_sale_leaving(&rates, 9000, (struct hk_ending){50, 100}, &sale));
    assert_int_equal(sale.quoted_minor, 10050);
    assert_true(hk_sale_leaving(&rates, 9000, (struct hk_ending){995, 1000}, &sale));
    assert_int_equal(sale.quoted_minor, 10995);
}

/*
 * 82.00 wanted, 20% tax added: 98.40 paid. At .95 of the payment: 98.95 would need a net price between 82.45 (98.94)
 * and 82.46 (98.95): 82.46. At .99: 82.49 and 16.50. 1.95 is no payment (1.62 pays 1.94, 1.63 pays 1.96): the next is
 * 2.95, 2.46 and 0.49.
 */
static void the_ending_is_of_what_the_buyer_pays(void **state)
{
    (void)state;
    const struct hk_rates rates = {{0}, 0, 0, {{200000, true}}, 1};
    struct hk_sale sale;
    assert_true(hk_sale_leaving(&rates, 8200, any, &sale));
    assert_int_equal(sale.paid_minor, 9840);
    assert_true(hk_sale_leaving(&rates, 8200, (struct hk_ending){95, 100}, &sale));
    assert_int_equal(sale.paid_minor, 9895);
    assert_int_equal(sale.quoted_minor, 8246);
    assert_true(hk_sale_leaving(&rates, 8200, (struct hk_ending){99, 100}, &sale));
    assert_int_equal(sale.paid_minor, 9899);
    assert_int_equal(sale.tax_minor, 1650);
    assert_true(hk_sale_leaving(&rates, 160, (struct hk_ending){95, 100}, &sale));
    assert_int_equal(sale.paid_minor, 295);
    assert_int_equal(sale.quoted_minor, 246);
}

/*
 * 25% added: 4 more net are 5 more paid, and of 5 consecutive payments the third is impossible, whatever digits precede
 * it.
 */
static void some_endings_no_payment_has(void **state)
{
    (void)state;
    const struct hk_rates rates = {{0}, 0, 0, {{250000, true}}, 1}, inside = {{0}, 0, 0, {{250000, false}}, 1};
    struct hk_sale sale = {.paid_minor = -7};
    for (int64_t minor = 0; minor < 100; minor++)
        assert_int_equal(hk_ending_possible(&rates, (struct hk_ending){minor, 100}), minor % 5 != 2);
    assert_false(hk_sale_leaving(&rates, 8200, (struct hk_ending){97, 100}, &sale));
    assert_int_equal(sale.paid_minor, -7);
    assert_true(hk_ending_possible(&inside, (struct hk_ending){97, 100}));
    assert_false(hk_ending_possible(&inside, (struct hk_ending){HK_MONEY_MOST + 1, INT64_MAX}));
}

static void nothing_wanted_and_nothing_taken_costs_nothing(void **state)
{
    (void)state;
    const struct hk_rates none = {0};
    struct hk_sale sale;
    assert_true(hk_sale_leaving(&none, 0, any, &sale));
    assert_int_equal(sale.paid_minor, 0);
    assert_true(hk_sale_leaving(&none, 1, any, &sale));
    assert_int_equal(sale.paid_minor, 1);
}

/* 100% in fees; 80% and a tax of 25% on top, 80% of 125%; 50% and a tax of 100% inside, half of it. */
static void fees_and_tax_that_take_all_leave_no_price(void **state)
{
    (void)state;
    const struct hk_rates all[] = {{{600000, 400000}, 2, 0, {{0, false}}, 0}, {{800000}, 1, 0, {{250000, true}}, 1},
                                   {{500000}, 1, 0, {{1000000, false}}, 1}};
    for (size_t i = 0; i < sizeof all / sizeof all[0]; i++) {
        struct hk_sale sale = {.paid_minor = -7};
        assert_false(hk_rates_leave(&all[i]));
        assert_false(hk_sale_leaving(&all[i], 100, any, &sale));
        assert_int_equal(sale.paid_minor, -7);
    }
    const struct hk_rates nearly = {{999000}, 1, 0, {{0, false}}, 0};
    struct hk_sale sale;
    assert_true(hk_rates_leave(&nearly));
    assert_true(hk_sale_leaving(&nearly, 100, any, &sale)); /* the fee is 99,401.499, so 99,401 */
    assert_int_equal(sale.left_minor, 100);
    assert_int_equal(sale.paid_minor, 99501);
}

/* 99.997% and a tax of 0.003% on top leave 9 of 10^10: a search unit by unit would take minutes. */
static void less_than_a_thousandth_is_nothing(void **state)
{
    (void)state;
    const struct hk_rates sliver = {{999970}, 1, 0, {{30, true}}, 1}, too_high = {{999001}, 1, 0, {{0, false}}, 0};
    struct hk_sale sale = {.paid_minor = -7};
    assert_false(hk_rates_leave(&sliver));
    assert_false(hk_rates_leave(&too_high));
    assert_false(hk_sale_leaving(&sliver, 100, any, &sale));
    assert_int_equal(sale.paid_minor, -7);
}

static void a_price_beyond_money_is_refused_untouched(void **state)
{
    (void)state;
    const struct hk_rates rates = {{990000}, 1, 0, {{0, false}}, 0};
    struct hk_sale sale = {.paid_minor = -7};
    assert_false(hk_sale_leaving(&rates, HK_MONEY_MOST / 10, any, &sale));
    assert_false(hk_sale_at(&rates, HK_MONEY_MOST + 1, &sale));
    assert_false(hk_sale_at(&rates, -1, &sale));
    assert_int_equal(sale.paid_minor, -7);
}

/* Half up, by long division of numerator / denominator, digit by digit: shares no code with price.c. */
static int64_t half_up(int64_t amount, int64_t numerator, int64_t denominator)
{
    int64_t quotient = 0, rest = 0;
    for (int64_t digit = 1000000000000000; digit > 0; digit /= 10) {
        rest += amount / digit % 10 * numerator;
        quotient = 10 * quotient + rest / denominator;
        rest %= denominator;
        rest *= digit > 1 ? 10 : 1;
    }
    return quotient + (2 * rest >= denominator);
}

/*
 * 5% and 9.975% added to 100.00: 5.00 and 9.98 (9.975, half up), 114.98 paid. With 20% of VAT and 2.5% of a levy included
 * in 122.50, the price before tax is 100.00: 20.00 and 2.50; with 100.00 quoted they are 16.33 (2000 / 122.5 = 16.3265)
 * and 2.04 (2.0408), whole together 18.37.
 */
static void several_taxes_are_each_a_share_of_the_price_before_tax(void **state)
{
    (void)state;
    const struct hk_rates added = {{0}, 0, 0, {{50000, true}, {99750, true}}, 2};
    const struct hk_rates inside = {{0}, 0, 0, {{200000, false}, {25000, false}}, 2};
    struct hk_sale sale;
    int64_t tax;
    assert_true(hk_sale_at(&added, 10000, &sale));
    assert_int_equal(sale.paid_minor, 11498);
    assert_int_equal(sale.tax_minor, 500 + 998);
    assert_true(hk_sale_at(&inside, 12250, &sale));
    assert_int_equal(sale.left_minor, 10000);
    assert_true(hk_sale_at(&inside, 10000, &sale));
    assert_int_equal(sale.tax_minor, 1633 + 204);
    assert_true(hk_rates_tax_at(&inside, 0, 10000, &tax));
    assert_int_equal(tax, 1633);
}

/*
 * 20% included and 10% added: 120.00 quoted is 100.00 before tax, so 20.00 are in it and 10.00 come on top: 130.00 paid,
 * 100.00 left. The price that leaves 100.00 is found again.
 */
static void an_included_and_an_added_tax_are_of_the_same_price_before_tax(void **state)
{
    (void)state;
    const struct hk_rates both = {{0}, 0, 0, {{200000, false}, {100000, true}}, 2};
    struct hk_sale sale;
    assert_true(hk_sale_at(&both, 12000, &sale));
    assert_int_equal(sale.paid_minor, 13000);
    assert_int_equal(sale.left_minor, 10000);
    assert_true(hk_sale_leaving(&both, 10000, any, &sale));
    assert_int_equal(sale.left_minor, 10000);
    assert_true(sale.paid_minor <= 13000);
}

/*
 * Checks each tax, that paid - fees - taxes = left, and that no lower price of that ending leaves enough: none, one or
 * several taxes, included, added or both.
 */
static void the_sums_hold_to_the_minor_unit_in_20000_random_cases(void **state)
{
    (void)state;
    gsl_rng *rng = hk_random_new(95);
    assert_non_null(rng);
    for (int i = 0; i < RANDOM_CASES(20000); i++) {
        struct hk_rates rates = {.fee_count = gsl_rng_uniform_int(rng, 4), .tax_count = gsl_rng_uniform_int(rng, 4)};
        rates.fee_minor = (int64_t)gsl_rng_uniform_int(rng, 500);
        int64_t before = 1000000;
        for (size_t t = 0; t < rates.tax_count; t++) {
            rates.taxes[t] = (struct hk_rate_tax){(int64_t)gsl_rng_uniform_int(rng, 150000), gsl_rng_uniform_int(rng, 2)};
            before += rates.taxes[t].added ? 0 : rates.taxes[t].millionths;
        }
        for (size_t f = 0; f < rates.fee_count; f++)
            rates.fee_millionths[f] = (int64_t)gsl_rng_uniform_int(rng, 200000);
        static const int64_t moduli[] = {1, 100, 10, 1000};
        struct hk_ending ending = {0, moduli[gsl_rng_uniform_int(rng, 4)]};
        ending.minor = (int64_t)gsl_rng_uniform_int(rng, (unsigned long)ending.modulus);
        int64_t wanted = (int64_t)gsl_rng_uniform_int(rng, 1000000);
        struct hk_sale sale;
        bool possible = hk_sale_leaving(&rates, wanted, ending, &sale);
        assert_int_equal(possible, hk_ending_possible(&rates, ending));
        if (!possible)
            continue;
        int64_t fees = rates.fee_minor, taxes = 0, on_top = 0;
        for (size_t f = 0; f < rates.fee_count; f++)
            fees += half_up(sale.paid_minor, rates.fee_millionths[f], 1000000);
        for (size_t t = 0; t < rates.tax_count; t++) {
            int64_t tax = half_up(sale.quoted_minor, rates.taxes[t].millionths, before), same;
            assert_true(hk_rates_tax_at(&rates, t, sale.quoted_minor, &same));
            assert_int_equal(same, tax);
            taxes += tax;
            on_top += rates.taxes[t].added ? tax : 0;
        }
        assert_int_equal(sale.fees_minor, fees);
        assert_int_equal(sale.tax_minor, taxes);
        assert_int_equal(sale.paid_minor, sale.quoted_minor + on_top);
        assert_int_equal(sale.left_minor, sale.paid_minor - fees - taxes);
        assert_true(sale.left_minor >= wanted);
        assert_int_equal(sale.paid_minor % ending.modulus, ending.minor);
        for (int64_t p = sale.quoted_minor - 1, k = 0; p >= 0 && k < 12 * ending.modulus; p--, k++) {
            struct hk_sale lower;
            assert_true(hk_sale_at(&rates, p, &lower));
            assert_true(lower.left_minor < wanted || lower.paid_minor % ending.modulus != ending.minor);
        }
        assert_true(hk_price_leaving(&rates, (double)wanted) <= (double)(sale.paid_minor + 10));
    }
    gsl_rng_free(rng);
}

/*
 * Just below the maximum, without such an ending: the next is beyond it. Fees and a tax of many times the price exceed
 * it too.
 */
static void a_price_whose_parts_are_beyond_money_is_none(void **state)
{
    (void)state;
    const struct hk_rates none = {0}, fees = {{2000000}, 1, 0, {{0, false}}, 0}, tax = {{0}, 0, 0, {{9000000, true}}, 1};
    struct hk_sale sale = {.quoted_minor = 7};
    assert_false(hk_sale_leaving(&none, HK_MONEY_MOST, (struct hk_ending){1, 1000}, &sale));
    assert_false(hk_sale_at(&fees, HK_MONEY_MOST, &sale));
    assert_false(hk_sale_at(&tax, HK_MONEY_MOST, &sale));
    assert_false(hk_sale_at(&none, -1, &sale));
    assert_int_equal(sale.quoted_minor, 7);
    assert_true(hk_sale_leaving(&none, HK_MONEY_MOST, any, &sale));
    assert_int_equal(sale.quoted_minor, HK_MONEY_MOST);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_tax_in_the_price_is_a_sixth_of_it_at_20_percent),
        cmocka_unit_test(a_tax_on_top_is_paid_by_the_buyer_and_fees_are_on_it_too),
        cmocka_unit_test(several_taxes_are_each_a_share_of_the_price_before_tax),
        cmocka_unit_test(an_included_and_an_added_tax_are_of_the_same_price_before_tax),
        cmocka_unit_test(the_least_price_ends_as_she_likes),
        cmocka_unit_test(the_ending_is_of_what_the_buyer_pays),
        cmocka_unit_test(some_endings_no_payment_has),
        cmocka_unit_test(nothing_wanted_and_nothing_taken_costs_nothing),
        cmocka_unit_test(fees_and_tax_that_take_all_leave_no_price),
        cmocka_unit_test(less_than_a_thousandth_is_nothing),
        cmocka_unit_test(a_price_beyond_money_is_refused_untouched),
        cmocka_unit_test(the_sums_hold_to_the_minor_unit_in_20000_random_cases),
        cmocka_unit_test(a_price_whose_parts_are_beyond_money_is_none),
    };
    return cmocka_run_group_tests_name("price", tests, NULL, NULL);
}
