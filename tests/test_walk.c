/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Walked balls against a simulation that shares no code with them: makers whose whole length is drawn, balls that differ by
 * 1.5%, rows by 2%, each row worked from one ball.
 */
#include "folder.h"

#include "chance.h"
#include "walk.h"

#include <gsl/gsl_math.h>
#include <gsl/gsl_randist.h>
#include <stdio.h>

#define MAKERS 20000

/* A wide strip of equal rows: so many in a ball of 50 g = 100 m, with the spreads of a project that has weighed well. */
static struct stages strip(const struct hk_catalogue *catalogue, double rows_a_ball, int rows, const char *join)
{
    char project[256], pieces[256];
    /* a row of n sc is 2 n loops of pi 7 mm: 100 m / rows_a_ball, without tails */
    int stitches = (int)round(100 / rows_a_ball / (2 * M_PI * 0.007));
    snprintf(project, sizeof project,
             "field,value\ntail,0.1 m\njoin,%s\ntension,0.01\nstitch,0.01\ntool,0.01\nyarn,0.01\ngarment,0.01\ngrist,0.0001\n"
             "making,0.04\n", join);
    snprintf(pieces, sizeof pieces, "piece,fabric,yarn,tool,stitches,rows,start\nstrip,plain,main,5 mm,%d,%d,edge\n", stitches,
             rows);
    return stages_of(catalogue,
                     (struct folder){.project = project, .grade = "", .swatches = "", .pieces = pieces,
                                     .yarns = "role,yarn,put_up,length,wpi\nmain,Alva,50 g,100 m,12.7\n",
                                     .fabrics = "fabric,row,make\nplain,1,*sc*\n"},
                     HK_NO_SIZE);
}

/* The share of makers for whom n balls are enough. */
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

/* What is stated of the balls that are bought, and of one fewer, against the simulation: within 2 points. */
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
        /* the least number at the chance asked for */
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

/* A ball more never lowers the chance, nor does a larger one; what swatches ate never raises it. Without balls it is none. */
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
        double eaten, with_larger;
        assert_true(hk_walk_chance(&walk, &pile, 1, 0, 0.05, &chance));
        assert_true(hk_walk_chance(&walk, &pile, 1, 10, 0.05, &eaten));
        assert_true(hk_walk_chance(&walk, larger, 2, 0, 0.05, &with_larger));
        assert_true(chance >= before && eaten <= chance && with_larger >= chance);
        before = chance;
    }
    assert_close(before, 1, 1e-6, 0);
    hk_arena_free(&arena);
    stages_free(s);
}

/* Stripes of two roles: each has its own rows, and their lengths add up to what is likely of it. */
static void rows_of_stripes_are_those_of_their_role(void **state)
{
    struct stages s = stages_of(*state,
                                (struct folder){.project = "field,value\nsizes,one\n", .grade = "", .swatches = "",
                                                .yarns = "role,yarn,put_up,length\nmain,Alva,50 g,100 m\ntrim,Birk,50 g,100 m\n",
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
    stages_free(s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(chances_are_those_of_a_simulation_row_by_row),
        cmocka_unit_test(with_joins_anywhere_nothing_is_walked),
        cmocka_unit_test(chances_rise_with_every_ball),
        cmocka_unit_test(rows_of_stripes_are_those_of_their_role),
    };
    return cmocka_run_group_tests_name("walk", tests, catalogue_set_up, catalogue_tear_down);
}
