/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Balls used row by row, compared with a simulation that shares no code with the library: makers with a random total
 * length, balls that differ by 1.5%, rows by 2%, each row worked from one ball.
 */
#include "folder.h"

#include "model/chance.h"
#include "need/walk.h"

#include <gsl/gsl_math.h>
#include <gsl/gsl_randist.h>
#include <stdio.h>

#define MAKERS 20000

#define NARROW "tension,0.01\nstitch,0.01\ntool,0.01\nyarn,0.01\ngarment,0.01\ngrist,0.0001\nmaking,0.04\n"

/*
 * A wide strip of equal rows: a number of rows in a ball of 50 g = 100 m, with the spreads of a well calibrated
 * project.
 */
static struct stages strip(const struct hk_catalogue *catalogue, double rows_a_ball, int rows, const char *join)
{
    char project[256], pieces[256];
    /* a row of n sc is 2 n loops of pi 7 mm: 100 m / rows_a_ball, without tails */
    int stitches = (int)round(100 / rows_a_ball / (2 * M_PI * 0.007));
    snprintf(project, sizeof project,
             "field,value\ntail,0.1 m\njoin,%s\n" NARROW, join);
    snprintf(pieces, sizeof pieces, "piece,fabric,yarn,tool,stitches,rows,start\nstrip,plain,main,5 mm,%d,%d,edge\n", stitches,
             rows);
    return stages_of(catalogue,
                     (struct folder){.project = project, .grade = "", .swatches = "", .pieces = pieces,
                                     .yarns = "role,yarn,put_up,length,wpi\nmain,Alva,50 g,100 m,12.7\n",
                                     .fabrics = "fabric,row,make\nplain,1,*sc*\n"},
                     HK_NO_SIZE);
}

/* Returns the share of makers for whom n balls are enough. */
static double simulated(const struct hk_need_role *role, int rows, int64_t balls, double tail_m)
{
    gsl_rng *rng = hk_random_new(7741);
    double held = 0;
    for (int maker = 0; maker < MAKERS; maker++) {
        double scale = exp(gsl_ran_gaussian(rng, role->spread));
        int64_t used = 1;
        double left_m = 100 * exp(gsl_ran_gaussian(rng, 0.015));
        for (int row = 0; row < rows; row++) {
            double row_m = role->length_m.likely / rows * scale * exp(gsl_ran_gaussian(rng, 0.02));
            if (row_m > left_m) {
                used++;
                left_m = 100 * exp(gsl_ran_gaussian(rng, 0.015)) - 2 * tail_m;
            }
            left_m -= row_m;
        }
        held += used <= balls ? 1.0 / MAKERS : 0;
    }
    gsl_rng_free(rng);
    return held;
}

static double walked_chance(const struct stages *s, const struct hk_need_role *role, int64_t balls, bool *wanted)
{
    struct hk_arena arena = {0};
    struct hk_walk walk;
    struct hk_pile pile = {balls, role->put_up_g};
    double chance = 0;
    assert_true(hk_walk_rows((const struct hk_needed *)s->need, 0, 0, 1, 0, &walk, &arena));
    *wanted = hk_walk_wanted(&walk, role->put_up_g);
    assert_true(hk_walk_chance(&walk, &pile, 1, 0, role->spread, &chance));
    hk_arena_free(&arena);
    return chance;
}

/* Compares the stated chance of the balls bought, and of one fewer, with the simulation: within 2 points. */
static void chances_are_those_of_a_simulation_row_by_row(void **state)
{
    static const double rows_a_ball[] = {4, 5, 8, 10, 15, 30};
    for (size_t i = 0; i < sizeof rows_a_ball / sizeof rows_a_ball[0]; i++) {
        int rows = (int)(9.3 * rows_a_ball[i]);
        struct stages s = strip(*state, rows_a_ball[i], rows, "row end");
        const struct hk_need_role *role = &s.need->roles[0];
        for (int64_t fewer = 0; fewer < 2; fewer++) {
            int64_t balls = role->balls - fewer;
            bool wanted;
            double stated = walked_chance(&s, role, balls, &wanted), held = simulated(role, rows, balls, 0.1);
            double usable_g = (double)balls * role->put_up_g - (double)(balls - 1) * role->join_g;
            double mean = hk_normal_chance(log(usable_g / role->mass_g.likely) / role->spread_mass);
            assert_int_equal(wanted, rows_a_ball[i] < 12);
            print_message("%2.0f rows a ball, %d balls: stated %.1f%%, by the mean loss %.1f%%, held in %.1f%%\n", rows_a_ball[i],
                          (int)balls, 100 * stated, 100 * mean, 100 * held);
            if (wanted || fewer == 0)
                assert_close(wanted ? stated : mean, held, 0, 0.02);
        }
        /* the least number at the requested chance */
        bool wanted;
        if (rows_a_ball[i] < 12) {
            assert_true(walked_chance(&s, role, role->balls, &wanted) >= 0.95);
            assert_true(walked_chance(&s, role, role->balls - 1, &wanted) < 0.95);
        }
        stages_free(s);
    }
}

static void with_joins_anywhere_nothing_is_walked(void **state)
{
    struct stages s = strip(*state, 5, 40, "anywhere");
    struct hk_arena arena = {0};
    struct hk_walk walk;
    assert_false(hk_walk_rows((const struct hk_needed *)s.need, 0, 0, 1, 0, &walk, &arena));
    hk_arena_free(&arena);
    stages_free(s);
}

/*
 * One ball more, or a larger one, never lowers the chance; yarn used by swatches never raises it. Without balls there
 * is no chance.
 */
static void chances_rise_with_every_ball(void **state)
{
    struct stages s = strip(*state, 5, 40, "row end");
    struct hk_arena arena = {0};
    struct hk_walk walk;
    double before = -1, chance;
    assert_true(hk_walk_rows((const struct hk_needed *)s.need, 0, 0, 1, 0, &walk, &arena));
    assert_int_equal(walk.row_count, 40);
    for (int64_t n = 0; n < 16; n++) {
        struct hk_pile pile = {n, 50}, larger[2] = {{n > 0 ? 1 : 0, 60}, {n > 0 ? n - 1 : 0, 50}};
        double after_swatches, with_larger;
        assert_true(hk_walk_chance(&walk, &pile, 1, 0, 0.05, &chance));
        assert_true(hk_walk_chance(&walk, &pile, 1, 10, 0.05, &after_swatches));
        assert_true(hk_walk_chance(&walk, larger, 2, 0, 0.05, &with_larger));
        assert_true(chance >= before && after_swatches <= chance && with_larger >= chance);
        before = chance;
    }
    assert_close(before, 1, 1e-6, 0);
    hk_arena_free(&arena);
    stages_free(s);
}

/* If everything is exact and the spread is 0, balls are enough or not: the limit of ever smaller spreads. */
static void without_a_spread_balls_are_enough_or_not(void **state)
{
    struct stages s = strip(*state, 5, 40, "row end");
    struct hk_arena arena = {0};
    struct hk_walk walk;
    double chance, small;
    assert_true(hk_walk_rows((const struct hk_needed *)s.need, 0, 0, 1, 0, &walk, &arena));
    for (int64_t n = 6; n < 14; n++) {
        struct hk_pile pile = {n, 50};
        assert_true(hk_walk_chance(&walk, &pile, 1, 0, 0, &chance));
        assert_true(hk_walk_chance(&walk, &pile, 1, 0, 1e-7, &small));
        assert_close(chance, small, 1e-9, 1e-9);
        assert_close(50 * chance, round(50 * chance), 0, 1e-9); /* each of 50 walks is enough or not */
    }
    assert_close(chance, 1, 1e-12, 0);
    struct hk_pile crumbs = {1, 0.05};
    assert_true(hk_walk_chance(&walk, &crumbs, 1, 0, 0.05, &chance)); /* a 50th of the work with a factor of e^-4 */
    assert_close(chance, 0, 0, 0);
    hk_arena_free(&arena);
    stages_free(s);
}

/* Three rows in a ball of five: the search tries at least one ball. Tiny balls are not simulated. */
static void few_rows_take_one_ball(void **state)
{
    struct stages s = strip(*state, 5, 3, "row end");
    bool wanted;
    assert_int_equal(s.need->roles[0].balls, 1);
    assert_true(walked_chance(&s, &s.need->roles[0], 1, &wanted) >= 0.95);
    assert_true(wanted);
    struct hk_arena arena = {0};
    struct hk_walk walk;
    assert_true(hk_walk_rows((const struct hk_needed *)s.need, 0, 0, 1, 0, &walk, &arena));
    assert_false(hk_walk_wanted(&walk, 0.001));
    hk_arena_free(&arena);
    stages_free(s);
}

/* ---- Where balls end ----------------------------------------------------------------------------------------------
 */

/*
 * Rows of 20 m with 100 m a ball and tails of 0.1 m: the first row has two ends, so the first ball of 100 m holds rows
 * 1 to 4 (80.2 m; a fifth row would need 100.2), and each further ball, less two tails of the join, 99.8 m: four rows
 * too. By the strip above a row is not quite 20 m: 4.98 rows a ball give the same.
 */
static void balls_end_behind_the_rows_that_they_finish(void **state)
{
    struct stages s = strip(*state, 4.98, 20, "row end");
    struct hk_diags diags = {0};
    struct hk_ball_ends *ends = hk_need_ball_ends(s.need, 0, &diags);
    assert_non_null(ends);
    assert_int_equal(ends->count, s.need->roles[0].balls - 1);
    for (size_t i = 0; i < ends->count; i++) {
        const struct hk_ball_end *end = &ends->ends[i];
        assert_int_equal(end->ball, i + 1);
        if (4 * (i + 1) >= 20)
            continue;
        assert_string_equal(end->likely.piece, "strip");
        assert_int_equal(end->likely.copy, 1);
        assert_int_equal(end->likely.row, 4 * (i + 1));
        assert_true(end->earliest.row <= end->likely.row &&
                    (!*end->latest.piece || end->likely.row <= end->latest.row));
    }
    hk_need_ball_ends_free(ends);
    hk_need_ball_ends_free(NULL);
    hk_diags_free(&diags);
    stages_free(s);
}

/* With joins anywhere no rest is lost but the tails of the join: ball n ends behind floor((100 n - 0.2 (n - 1) - 0.2) /
 * row) rows. */
static void with_joins_anywhere_balls_end_within_a_row(void **state)
{
    struct stages s = strip(*state, 4.5, 30, "anywhere");
    struct hk_diags diags = {0};
    struct hk_ball_ends *ends = hk_need_ball_ends(s.need, 0, &diags);
    const double row_m = (s.need->roles[0].length_m.likely - 0.2) / 30;
    for (size_t i = 0; i < ends->count; i++) {
        const int64_t rows = (int64_t)floor((100.0 * (double)(i + 1) - 0.2 * (double)i - 0.2) / row_m);
        if (rows < 30)
            assert_int_equal(ends->ends[i].likely.row, rows);
        else
            assert_string_equal(ends->ends[i].likely.piece, "");
    }
    hk_need_ball_ends_free(ends);
    hk_diags_free(&diags);
    stages_free(s);
}

/* ---- Baskets ----------------------------------------------------------------------------------------------------- */

static struct hk_shop *plan(const struct stages *s, const char *expected)
{
    struct hk_diags diags = {0};
    struct hk_shop *shop = hk_shop_plan(s->need, hk_shop_defaults(), &diags);
    assert_findings(&diags, expected);
    assert_non_null(shop);
    return shop;
}

#define NO_PRICE(line, yarn, role)                                                                                     \
    "yarns.csv:" line ":1: warning: " yarn ", the yarn of " role ", has no price, so its cost is left out; state the price of one ball in " \
    "the column price\n"

/* A strip of four rows a ball beside its trim, 37 rows each; offers as stated, or NULL for none. */
static struct stages two_strips(const struct hk_catalogue *catalogue, const char *offers)
{
    return stages_of(catalogue,
                     (struct folder){.project = "field,value\nsizes,one\ncurrency,EUR\ntail,0.1 m\n" NARROW, .grade = "", .swatches = "",
                                     .yarns = "role,yarn,put_up,length,wpi\nmain,Alva,50 g,100 m,12.7\ntrim,Birk,50 g,100 m,12.7\n",
                                     .fabrics = "fabric,row,make\nplain,1,*sc*\n",
                                     .pieces = "piece,fabric,yarn,tool,stitches,rows,start\n"
                                               "strip,plain,main,5 mm,568,37,edge\nband,plain,trim,5 mm,568,37,edge\n",
                                     .other_name = "offers.csv", .other_text = offers},
                     HK_NO_SIZE);
}

/* Returns the simulated chance for the balls of one role. */
static double walked(const struct stages *s, size_t role, const struct hk_pile *piles, size_t count)
{
    struct hk_arena arena = {0};
    struct hk_walk walk;
    double chance;
    assert_true(hk_walk_rows((const struct hk_needed *)s->need, 0, 0, 1, role, &walk, &arena));
    assert_true(hk_walk_chance(&walk, piles, count, 0, s->need->roles[role].spread_mass, &chance));
    hk_arena_free(&arena);
    return chance;
}

/* Without a price, and with a price for each of two roles: the chance of each depends on its own balls. */
static void a_basket_has_the_chances_that_its_balls_are_walked_to(void **state)
{
    static const char *const offers[] = {NULL, "role,shop,put_up,price\nmain,Mole Wool,50 g,6\ntrim,Mole Wool,50 g,7\n"};
    for (size_t i = 0; i < 2; i++) {
        struct stages s = two_strips(*state, offers[i]);
        struct hk_shop *shop = plan(&s, i == 0 ? NO_PRICE("2", "Alva", "main") NO_PRICE("3", "Birk", "trim") : "");
        for (size_t role = 0; role < 2; role++) {
            struct hk_pile pile = {shop->sizes[0].lines[role].balls, 50};
            double chance = walked(&s, role, &pile, 1);
            assert_close(shop->sizes[0].roles[role].chance, chance, 1e-9, 0);
            assert_true(chance >= 0.95);
            pile.balls--;
            assert_true(walked(&s, role, &pile, 1) < 0.95);
        }
        hk_shop_free(shop);
        stages_free(s);
    }
}

/* Where running short has a price, the number of least expected cost by the simulated chances; tried from 1 to 30. */
static void balls_of_least_cost_are_walked(void **state)
{
    struct stages s = two_strips(*state, "role,shop,put_up,price\nmain,Mole Wool,50 g,6\ntrim,Mole Wool,50 g,7\n");
    s.project->short_cost_minor = 2500;
    s.project->spare_worth = 0.5;
    struct hk_shop *shop = plan(&s, "");
    double chances[31] = {0}, least = HUGE_VAL;
    int64_t best = 0;
    for (int64_t n = 1; n < 31; n++)
        chances[n] = walked(&s, 0, &(struct hk_pile){n, 50}, 1);
    for (int64_t n = 1; n < 31; n++) { /* one ball missing later costs its price; one left over returns half of it */
        double cost = 600 * (double)n + 2500 * (1 - chances[n]);
        for (int64_t k = n; k < 30; k++)
            cost += 600 * (1 - chances[k]);
        for (int64_t k = 0; k < n; k++)
            cost -= 300 * chances[k];
        best = cost < least ? n : best;
        least = fmin(cost, least);
    }
    const struct hk_shop_role *main = &shop->sizes[0].roles[0];
    assert_int_equal(main->basis, HK_SHOP_BASIS_LEAST_COST);
    assert_int_equal(main->reason.balls, best);
    assert_close(main->reason.short_chance, 1 - chances[best], 1e-9, 0);
    assert_int_equal(shop->sizes[0].lines[0].balls, best);
    assert_close(main->chance, chances[best], 1e-9, 0);
    hk_shop_free(shop);
    stages_free(s);
}

/* A cone holds many rows: if one is on offer, the mean loss is used. */
static void where_a_cone_is_on_offer_the_mean_loss_stands(void **state)
{
    struct stages s = two_strips(*state, "role,shop,put_up,price\nmain,Mole Wool,50 g,6\nmain,Mole Wool,500 g,900\ntrim,Mole Wool,50 g,7\n");
    struct hk_shop *shop = plan(&s, "");
    const struct hk_shop_role *main = &shop->sizes[0].roles[0];
    const struct hk_need_role *need = &s.need->roles[0];
    double usable_g = 50 * (double)shop->sizes[0].lines[0].balls - (double)(shop->sizes[0].lines[0].balls - 1) * need->join_g;
    assert_close(main->chance, hk_normal_chance(log(usable_g / need->mass_g.likely) / need->spread_mass), 1e-9, 0);
    hk_shop_free(shop);
    stages_free(s);
}

/* The stock equals the number of balls by the mean loss: all are bought, and the answer has their chance. */
static void where_no_more_balls_are_on_offer_the_chance_says_so(void **state)
{
    struct stages s = two_strips(*state, "role,shop,put_up,price\nmain,Mole Wool,50 g,6\ntrim,Mole Wool,50 g,7\n");
    int64_t enough = s.need->roles[0].balls;
    stages_free(s);
    char offers[200];
    snprintf(offers, sizeof offers, "role,shop,put_up,price,stock\nmain,Mole Wool,50 g,6,%d\ntrim,Mole Wool,50 g,7,\n", (int)enough - 1);
    s = two_strips(*state, offers);
    struct hk_shop *shop = plan(&s, "");
    struct hk_pile pile = {enough - 1, 50};
    assert_int_equal(shop->sizes[0].lines[0].balls, enough - 1);
    assert_close(shop->sizes[0].roles[0].chance, walked(&s, 0, &pile, 1), 1e-9, 0);
    assert_true(shop->sizes[0].roles[0].chance < 0.95);
    hk_shop_free(shop);
    stages_free(s);
}

/* ---- Stripes ----------------------------------------------------------------------------------------------------- */

/* Stripes of two roles: each has its own rows, and their lengths add up to its likely length. */
static void rows_of_stripes_are_those_of_their_role(void **state)
{
    struct stages s = stages_of(*state,
                                (struct folder){.project = "field,value\nsizes,one\n", .grade = "", .swatches = "",
                                                .yarns = "role,yarn,put_up,length\nmain,Alva,50 g,100 m\ntrim,Birk,50 g,100 m\n"
                                                         "spare,Cove,50 g,100 m\n",
                                                .fabrics = "fabric,row,make\nplain,1,*sc*\n",
                                                .pieces = "piece,fabric,yarn,tool,stitches,rows,times\n"
                                                          "strip,plain,\"main 2, trim 1\",5 mm,100,10,2\n"},
                                HK_NO_SIZE);
    static const size_t rows[] = {2 * 7, 2 * 3};
    for (size_t role = 0; role < 2; role++) {
        struct hk_arena arena = {0};
        struct hk_walk walk;
        assert_true(hk_walk_rows((const struct hk_needed *)s.need, 0, 0, 1, role, &walk, &arena));
        assert_int_equal(walk.row_count, rows[role]);
        assert_close(walk.sum_m, s.need->roles[role].length_m.likely, 1e-9, 0);
        hk_arena_free(&arena);
    }
    struct hk_arena arena = {0};
    struct hk_walk none;
    assert_false(hk_walk_rows((const struct hk_needed *)s.need, 0, 0, 1, 2, &none, &arena)); /* no row uses the third */
    hk_arena_free(&arena);
    stages_free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(chances_are_those_of_a_simulation_row_by_row),
        cmocka_unit_test(with_joins_anywhere_nothing_is_walked),
        cmocka_unit_test(chances_rise_with_every_ball),
        cmocka_unit_test(without_a_spread_balls_are_enough_or_not),
        cmocka_unit_test(few_rows_take_one_ball),
        cmocka_unit_test(balls_end_behind_the_rows_that_they_finish),
        cmocka_unit_test(with_joins_anywhere_balls_end_within_a_row),
        cmocka_unit_test(a_basket_has_the_chances_that_its_balls_are_walked_to),
        cmocka_unit_test(balls_of_least_cost_are_walked),
        cmocka_unit_test(where_a_cone_is_on_offer_the_mean_loss_stands),
        cmocka_unit_test(where_no_more_balls_are_on_offer_the_chance_says_so),
        cmocka_unit_test(rows_of_stripes_are_those_of_their_role),
    };
    return cmocka_run_group_tests_name("walk", tests, catalogue_set_up, catalogue_tear_down);
}
