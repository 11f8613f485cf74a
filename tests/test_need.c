/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "folder.h"

#include "model/chance.h"
#include "handmade.h"

#include <gsl/gsl_linalg.h>
#include <gsl/gsl_math.h>
#include <gsl/gsl_randist.h>
#include <stdlib.h>

/* A loop on a 5 mm tool in a yarn 2 mm thick, and of the handmade yarns a metre weighs 0.5 g. */
#define LOOP_M (M_PI * 0.007)
#define G_M 0.5

/*
 * The total variance for one stitch, one tool and one yarn, for the length of a swatch: tension, stitch, tool, yarn;
 * for a garment's.
 */
#define SWATCH2 (0.15 * 0.15 + 0.12 * 0.12 + 0.05 * 0.05 + 0.06 * 0.06)
#define GARMENT2 (0.03 * 0.03)
#define MAKER2 (SWATCH2 + GARMENT2)
#define GRIST2 (0.02 * 0.02)
#define WEIGHS2 (0.02 * 0.02) /* the mass of a ball relative to its label, with an unstated fibre */
#define MAKING2 (0.04 * 0.04)
#define PIECE2 (0.02 * 0.02)

static struct hk_need_options all_sizes(void)
{
    return hk_need_defaults();
}

/* One line of 1,000 sc without ends: 2,000 loops. */
static void start_plain(struct handmade *h)
{
    handmade_start(h, 1, 1);
    size_t main = handmade_yarn(h, "main", -1);
    handmade_line(h, 0, 0, 5, 1, (struct handmade_use){main, SC, 1000, 20, 0, 0});
}

/* ---- Length, mass and their spread by hand ----------------------------------------------------------------------- */

static void one_stitch_by_the_loop_rule_has_the_spread_of_the_priors(void **state)
{
    (void)state;
    struct handmade h;
    start_plain(&h);
    struct handmade_answer a = handmade_predict(&h, all_sizes());
    assert_int_equal(a.need->role_count, 1);
    assert_int_equal(a.need->evidence, 0);
    const struct hk_need_role *r = &a.need->roles[0];
    assert_close(r->length_m.likely, 2000 * LOOP_M, 1e-14, 0);
    assert_close(r->mass_g.likely, 2000 * LOOP_M * G_M, 1e-14, 0);
    assert_int_equal(r->stitches, 1000);
    assert_close(r->loops, 2000, 1e-15, 0);
    double spread = sqrt(MAKER2 + MAKING2 + PIECE2), spread_mass = sqrt(MAKER2 + GRIST2 + MAKING2 + PIECE2);
    assert_close(r->spread, spread, 1e-14, 0);
    assert_close(r->spread_mass, spread_mass, 1e-14, 0);
    assert_close(r->length_m.high, r->length_m.likely * exp(Z95 * spread), 1e-12, 0);
    assert_close(r->mass_g.low, r->mass_g.likely * exp(-Z95 * spread_mass), 1e-12, 0);
    assert_close(r->mass_g.enough, r->mass_g.likely * exp(Z95 * spread_mass), 1e-12, 0);
    assert_close(r->chance, 0.95, 0, 0);
    assert_close(a.need->covariance[0], spread_mass * spread_mass, 1e-14, 0);
    handmade_done(a);
}

/* dc has 2 loops and 2 wraps at 2/3, so 10/3 loops; of these 4/3 are wraps, 0.4: ln omega adds (0.4 * 0.2)^2. */
static void wraps_add_the_spread_of_a_wrap(void **state)
{
    (void)state;
    struct handmade h;
    handmade_start(&h, 1, 1);
    handmade_line(&h, 0, 0, 5, 1, (struct handmade_use){handmade_yarn(&h, "main", -1), DC, 300, 20, 0, 0});
    struct handmade_answer a = handmade_predict(&h, all_sizes());
    assert_close(a.need->roles[0].length_m.likely, 1000 * LOOP_M, 1e-13, 0);
    assert_close(a.need->roles[0].loops, 1000, 1e-13, 0);
    assert_close(a.need->roles[0].spread, sqrt(MAKER2 + 0.08 * 0.08 + MAKING2 + PIECE2), 1e-13, 0);
    handmade_done(a);
}

/*
 * 2 copies, each with 3 ends of 0.15 m and 4 m cut: 2 * 4.45 m that tension does not affect, so the spread shrinks by W
 * / T.
 */
static void ends_and_cut_lengths_have_no_spread(void **state)
{
    (void)state;
    struct handmade h;
    handmade_start(&h, 1, 1);
    h.project.tail_m = 0.15;
    handmade_line(&h, 0, 0, 5, 2, (struct handmade_use){handmade_yarn(&h, "main", -1), SC, 500, 20, 3, 4});
    struct handmade_answer a = handmade_predict(&h, all_sizes());
    const struct hk_need_role *r = &a.need->roles[0];
    double worked = 2000 * LOOP_M, length = worked + 2 * 4.45, part = worked / length;
    assert_close(r->length_m.likely, length, 1e-14, 0);
    /* the two copies have separate departures: half the variance */
    assert_close(r->spread, part * sqrt(MAKER2 + MAKING2 + PIECE2 / 2), 1e-13, 0);
    assert_close(r->spread_mass, sqrt(part * part * (MAKER2 + MAKING2 + PIECE2 / 2) + GRIST2), 1e-13, 0);
    handmade_done(a);
}

/* Cut lengths alone: the grist is the only uncertainty of the mass; the length has none. */
static void a_fringe_alone_is_known_but_for_its_grist(void **state)
{
    (void)state;
    struct handmade h;
    handmade_start(&h, 1, 1);
    handmade_line(&h, 0, 0, 5, 1, (struct handmade_use){handmade_yarn(&h, "main", -1), SKIP, 10, 0, 0, 40});
    struct handmade_answer a = handmade_predict(&h, all_sizes());
    const struct hk_need_role *r = &a.need->roles[0];
    assert_close(r->length_m.likely, 40, 1e-15, 0);
    assert_close(r->length_m.enough, 40, 1e-15, 0);
    assert_close(r->spread, 0, 0, 0);
    assert_close(r->spread_mass, 0.02, 1e-14, 0);
    assert_int_equal(r->stitches, 0);
    handmade_done(a);
}

/* Two lines, three quarters and a quarter of the yarn: pieces add (3/4)^2 + (1/4)^2 = 10/16 of a piece's variance. */
static void lines_share_the_making_and_have_their_own_piece(void **state)
{
    (void)state;
    struct handmade h;
    handmade_start(&h, 1, 2);
    size_t main = handmade_yarn(&h, "main", -1);
    handmade_line(&h, 0, 0, 5, 1, (struct handmade_use){main, SC, 750, 20, 0, 0});
    handmade_line(&h, 0, 1, 5, 1, (struct handmade_use){main, SC, 250, 20, 0, 0});
    struct handmade_answer a = handmade_predict(&h, all_sizes());
    assert_close(a.need->roles[0].spread, sqrt(MAKER2 + MAKING2 + PIECE2 * 10 / 16), 1e-13, 0);
    handmade_done(a);
}

/* ---- Several roles and sizes ------------------------------------------------------------------------------------- */

/* Stripes of one line share tension, stitch, tool, making and piece; each has its own yarn and its own grist. */
static void striped_roles_share_all_but_their_yarns(void **state)
{
    (void)state;
    struct handmade h;
    handmade_start(&h, 1, 1);
    size_t main = handmade_yarn(&h, "main", -1), contrast = handmade_yarn(&h, "contrast", -1);
    handmade_line(&h, 0, 0, 5, 1, (struct handmade_use){main, SC, 600, 20, 0, 0});
    handmade_line(&h, 0, 0, 5, 1, (struct handmade_use){contrast, SC, 300, 30, 0, 0});
    struct handmade_answer a = handmade_predict(&h, all_sizes());
    assert_int_equal(a.need->role_count, 2);
    assert_string_equal(a.need->roles[1].role_name, "contrast");
    assert_close(a.need->roles[0].length_m.likely, 2 * a.need->roles[1].length_m.likely, 1e-14, 0);
    double shared = 0.15 * 0.15 + 0.12 * 0.12 + 0.05 * 0.05 + GARMENT2 + MAKING2 + PIECE2;
    assert_close(a.need->covariance[1], shared, 1e-13, 0);
    assert_close(a.need->covariance[2], shared, 1e-13, 0);
    assert_close(a.need->covariance[3], shared + 0.06 * 0.06 + GRIST2, 1e-13, 0);
    assert_int_equal(a.need->part_count, 2);
    handmade_done(a);
}

/*
 * "main x2 + lace": main takes twice the length of lace, and the stitches are counted once. sqrt(2 * 2^2 + 1^2) = 3 mm
 * thick.
 */
static void strands_held_together_take_their_lengths_and_one_count(void **state)
{
    (void)state;
    struct handmade h;
    handmade_start(&h, 1, 1);
    h.project.tail_m = 0.1;
    size_t main = handmade_yarn(&h, "main", -1), lace = handmade_yarn(&h, "lace", -1);
    size_t both = handmade_together(&h, main, 2, lace, 1, 3);
    handmade_line(&h, 0, 0, 5, 1, (struct handmade_use){both, SC, 500, 20, 2, 1});
    struct handmade_answer a = handmade_predict(&h, all_sizes());
    double strand = 1000 * M_PI * 0.008 + 2 * 0.1 + 1;
    assert_close(a.need->roles[0].length_m.likely, 2 * strand, 1e-13, 0);
    assert_close(a.need->roles[1].length_m.likely, strand, 1e-13, 0);
    assert_int_equal(a.need->roles[0].stitches, 500);
    assert_int_equal(a.need->roles[1].stitches, 500);
    assert_close(a.need->roles[0].loops, 1000, 1e-15, 0);
    /* one combination, so the lengths are fully correlated; each mass has its own grist */
    double common = gsl_pow_2(a.need->roles[0].spread);
    assert_close(a.need->roles[1].spread, a.need->roles[0].spread, 1e-13, 0);
    assert_close(a.need->covariance[1], common, 1e-13, 0);
    assert_close(a.need->covariance[0], common + GRIST2, 1e-13, 0);
    handmade_done(a);
}

/* The maker is the same in every size; the day and the pieces differ. */
static void sizes_share_the_maker_and_not_the_making(void **state)
{
    (void)state;
    struct handmade h;
    handmade_start(&h, 3, 1);
    size_t main = handmade_yarn(&h, "main", -1);
    for (size_t size = 0; size < 3; size++)
        handmade_line(&h, size, 0, 5, 1, (struct handmade_use){main, SC, 1000 + 100 * (double)size, 20, 0, 0});
    struct handmade_answer a = handmade_predict(&h, all_sizes());
    assert_int_equal(a.need->role_count, 3);
    assert_close(a.need->covariance[0 * 3 + 2], MAKER2 + GRIST2, 1e-13, 0);
    assert_close(a.need->covariance[2 * 3 + 2], MAKER2 + GRIST2 + MAKING2 + PIECE2, 1e-13, 0);
    handmade_done(a);
}

static void a_size_that_does_without_a_role_has_no_row_of_it(void **state)
{
    (void)state;
    struct handmade h;
    handmade_start(&h, 2, 2);
    size_t main = handmade_yarn(&h, "main", -1), pocket = handmade_yarn(&h, "pocket", -1);
    handmade_yarn(&h, "spare", -1); /* a role that no line uses */
    for (size_t size = 0; size < 2; size++) {
        handmade_line(&h, size, 0, 5, 1, (struct handmade_use){main, SC, 100, 20, 0, 0});
        handmade_line(&h, size, 1, 5, (int64_t)size, (struct handmade_use){pocket, SC, 50, 20, 0, 0});
    }
    struct handmade_answer a = handmade_predict(&h, all_sizes());
    assert_int_equal(a.need->role_count, 3);
    assert_string_equal(a.need->roles[0].size_name, "S");
    assert_string_equal(a.need->roles[0].role_name, "main");
    assert_string_equal(a.need->roles[1].size_name, "M");
    assert_string_equal(a.need->roles[2].role_name, "pocket");
    assert_int_equal(a.need->part_count, 3);
    assert_string_equal(a.need->parts[2].size_name, "M");
    handmade_done(a);

    a = handmade_predict(&h, (struct hk_need_options){.size = 0});
    assert_int_equal(a.need->role_count, 1);
    assert_int_equal(a.need->size_count, 2);
    handmade_done(a);
}

/* ---- Parts, joins and balls -------------------------------------------------------------------------------------- */

static void parts_add_up_to_the_likely_and_to_the_enough(void **state)
{
    (void)state;
    struct handmade h;
    handmade_start(&h, 1, 7);
    h.project.tail_m = 0.15;
    size_t main = handmade_yarn(&h, "main", -1);
    for (size_t l = 0; l < 7; l++) {
        struct handmade_use use = {main, l % 2, 100.0 / 3 * (double)(l + 1), 20, (double)l, 0.1};
        handmade_line(&h, 0, l, 3 + (double)l / 3, 1 + (int64_t)l % 3, use);
    }
    struct handmade_answer a = handmade_predict(&h, all_sizes());
    const struct hk_need_role *r = &a.need->roles[0];
    double length = 0, mass = 0, enough = 0, share = 0;
    assert_int_equal(a.need->part_count, 7);
    for (size_t i = 0; i < 7; i++) {
        length += a.need->parts[i].length_m;
        mass += a.need->parts[i].mass_g;
        enough += a.need->parts[i].enough_g;
        share += a.need->parts[i].share;
    }
    assert_close(length, r->length_m.likely, 1e-13, 0);
    assert_close(mass, r->mass_g.likely, 1e-13, 0);
    assert_close(enough, r->mass_g.enough, 1e-13, 0);
    assert_close(share, 1, 1e-13, 0);
    handmade_done(a);
}

/* Stitches and ends of every role and size add up to it, the most yarn first, ends last. */
static void stitches_add_up_to_the_likely(void **state)
{
    struct stages a = stages_of(*state,
                                (struct folder){.project = "field,value\ntail,0.2 m\n",
                                                .grade = "",
                                                .swatches = "",
                                                .pieces = "piece,fabric,yarn,tool,stitches,rows,start\n"
                                                          "a,single crochet,main,5 mm,20,10,chain\n"
                                                          "b,double crochet,main,5 mm,20,10,chain\n"},
                                HK_NO_SIZE);
    for (size_t r = 0; r < a.need->role_count; r++) {
        const struct hk_need_role *role = &a.need->roles[r];
        double length = 0, mass = 0, share = 0, before = INFINITY;
        size_t kinds = 0;
        for (size_t i = 0; i < a.need->stitch_count; i++) {
            const struct hk_need_stitch *stitch = &a.need->stitches[i];
            if (stitch->size != role->size || stitch->role != role->role)
                continue;
            length += stitch->length_m;
            mass += stitch->mass_g;
            share += stitch->share;
            assert_true(!*stitch->stitch || stitch->length_m <= before);
            before = stitch->length_m;
            kinds++;
        }
        assert_close(length, role->length_m.likely, 1e-12, 0);
        assert_close(mass, role->mass_g.likely, 1e-12, 0);
        assert_close(share, 1, 1e-12, 0);
        assert_int_equal(kinds, 4); /* dc, sc, ch, ends */
    }
    stages_free(a);
}

/*
 * One line of 4.4 10^9 m, where adjacent doubles differ by 9.5 10^-7 m, and 60 of 4 10^-7 m: added singly to the long
 * one they would all be lost; together they are 2.4 10^-5 m.
 */
static void short_lines_are_not_lost_beside_a_long_one(void **state)
{
    (void)state;
    struct handmade h;
    handmade_start(&h, 1, 61);
    size_t main = handmade_yarn(&h, "main", -1);
    handmade_line(&h, 0, 0, 5, 1, (struct handmade_use){main, SC, 1e11, 1, 0, 0});
    for (size_t l = 1; l <= 60; l++)
        handmade_line(&h, 0, l, 5, 1, (struct handmade_use){main, SKIP, 0, 0, 0, 4e-7});
    struct handmade_answer a = handmade_predict(&h, all_sizes());
    double beyond = a.need->roles[0].length_m.likely - a.need->parts[0].length_m;
    assert_close(beyond, 2.4e-5, 0, 1.5e-6);
    handmade_done(a);
}

/*
 * 2 tails of 0.15 m and half a row of 20 sc, 40 loops; the other line's longest row is shorter. Cut lengths do not
 * count.
 */
static void a_join_costs_two_tails_and_half_the_longest_row(void **state)
{
    (void)state;
    struct handmade h;
    handmade_start(&h, 1, 2);
    h.project.tail_m = 0.15;
    size_t main = handmade_yarn(&h, "main", -1);
    size_t twice = handmade_together(&h, main, 2, 0, 0, 2);
    handmade_line(&h, 0, 0, 5, 1, (struct handmade_use){main, SC, 5000, 10, 0, 30});
    handmade_line(&h, 0, 1, 5, 1, (struct handmade_use){twice, SC, 2000, 20, 0, 0}); /* "x2": the row of one strand */
    struct handmade_answer a = handmade_predict(&h, all_sizes());
    const struct hk_need_role *r = &a.need->roles[0];
    double join_g = G_M * (0.3 + 20 * LOOP_M);
    assert_close(r->join_g, join_g, 1e-13, 0);
    assert_int_equal(r->balls, (int64_t)ceil((r->mass_g.enough - join_g) / (50 - join_g)));
    handmade_done(a);

    h.project.join_anywhere = true;
    a = handmade_predict(&h, all_sizes());
    assert_close(a.need->roles[0].join_g, G_M * 0.3, 1e-13, 0);
    handmade_done(a);
}

/* 2 copies of 10.25 and 3 of 0.5 stitches: 20.5 and 1.5, 22 in total; halves are rounded up. */
static void half_stitches_are_rounded_up(void **state)
{
    (void)state;
    struct handmade h;
    handmade_start(&h, 1, 2);
    size_t main = handmade_yarn(&h, "main", -1);
    handmade_line(&h, 0, 0, 5, 2, (struct handmade_use){main, SC, 10.25, 1, 0, 0});
    handmade_line(&h, 0, 1, 5, 3, (struct handmade_use){main, SC, 0.5, 1, 0, 0});
    struct handmade_answer a = handmade_predict(&h, all_sizes());
    assert_int_equal(a.need->parts[0].stitches, 21);
    assert_int_equal(a.need->parts[1].stitches, 2);
    assert_int_equal(a.need->roles[0].stitches, 22);
    handmade_done(a);
}

/* ---- Margins and chances ----------------------------------------------------------------------------------------- */

static void a_flat_margin_says_what_chance_it_gives(void **state)
{
    (void)state;
    struct handmade h;
    start_plain(&h);
    h.project.margin = 0.1;
    struct handmade_answer a = handmade_predict(&h, all_sizes());
    const struct hk_need_role *r = &a.need->roles[0];
    assert_close(a.need->margin, 0.1, 0, 0);
    assert_close(r->mass_g.enough, 1.1 * r->mass_g.likely, 1e-14, 0);
    /* spread sqrt(0.0463) = 0.2152: ln 1.1 / 0.2152 = 0.4430, P = 0.6711 */
    assert_close(r->chance, 0.6711, 0, 1e-4);
    handmade_done(a);

    /* a margin of zero is valid too: the likely amount, which is enough with a chance of one half */
    h.project.margin = 0;
    a = handmade_predict(&h, all_sizes());
    assert_close(a.need->roles[0].mass_g.enough, a.need->roles[0].mass_g.likely, 1e-14, 0);
    assert_close(a.need->roles[0].chance, 0.5, 1e-12, 0);
    handmade_done(a);

    /* the inverse: the margin needed for 95% gives 95% */
    h.project.margin = expm1(Z95 * sqrt(MAKER2 + GRIST2 + MAKING2 + PIECE2));
    a = handmade_predict(&h, all_sizes());
    assert_close(a.need->roles[0].chance, 0.95, 1e-12, 0);
    handmade_done(a);

    /* a requested chance overrides the project's margin */
    a = handmade_predict(&h, (struct hk_need_options){.chance = 0.5, .size = HK_NO_SIZE});
    assert_close(a.need->margin, -1, 0, 0);
    assert_close(a.need->roles[0].mass_g.enough, a.need->roles[0].mass_g.likely, 1e-14, 0);
    handmade_done(a);
}

/* All spreads set to 0 in the project: every quantile is the median. */
static void without_spreads_everything_is_likely(void **state)
{
    (void)state;
    struct handmade h;
    start_plain(&h);
    h.project.spreads = (struct hk_spreads){.wrap_ratio = 1, .unravelled = 0.02, .diameter_mm = 0.108};
    h.project.margin = 0;
    struct handmade_answer a = handmade_predict(&h, all_sizes());
    assert_close(a.need->roles[0].mass_g.high, a.need->roles[0].mass_g.likely, 0, 0);
    assert_close(a.need->roles[0].chance, 1, 0, 0);
    assert_int_equal(a.need->why_count, 0);
    handmade_done(a);
}

/* ---- Unanswerable questions -------------------------------------------------------------------------------------- */

static void predict_fails(const struct handmade *h, struct hk_need_options options, const char *expected)
{
    struct hk_diags diags = {0}, quiet = {0};
    struct hk_fit *fit = hk_fit_make(&h->tally, &quiet);
    hk_diags_free(&quiet);
    assert_non_null(fit);
    assert_null(hk_need_predict(fit, options, &diags));
    hk_fit_free(fit);
    assert_findings(&diags, expected);
}

/* A row of 2,000 loops is 44 m; half of it and two tails of 10 m are 42 m or 21 g, more than a ball of 20 g. */
static void a_ball_lighter_than_a_join_is_an_error_reported_once(void **state)
{
    (void)state;
    struct handmade h;
    handmade_start(&h, 2, 1);
    h.project.tail_m = 10;
    size_t main = handmade_yarn(&h, "main", -1);
    h.yarns[main].put_up_g = 20;
    h.yarns[main].length_m = 40;
    for (size_t size = 0; size < 2; size++)
        handmade_line(&h, size, 0, 5, 1, (struct handmade_use){main, SC, 5000, 1000, 0, 0});
    predict_fails(&h, all_sizes(),
                  "-:0:0: error: a ball of main weighs 20 g, and each join wastes 21 g in size S, so no number of "
                  "balls is enough; a larger put_up, or \"join,anywhere\" in project.csv, would do\n");
    h.project.join_anywhere = true;
    h.project.tail_m = 20;
    predict_fails(&h, all_sizes(),
                  "-:0:0: error: a ball of main weighs 20 g, and each join wastes 20 g in size S, so no number of "
                  "balls is enough; a larger put_up or a shorter tail would do\n");
}

static void more_stitches_than_are_counted_are_an_error(void **state)
{
    (void)state;
    struct handmade h;
    handmade_start(&h, 1, 1);
    handmade_line(&h, 0, 0, 5, 4, (struct handmade_use){handmade_yarn(&h, "main", -1), SC, 3e11, 1, 0, 0});
    predict_fails(&h, all_sizes(),
                  "-:0:0: error: main comes to more than 10^12 stitches in size S; check stitches, rows and times\n"
                  "-:0:0: error: piece comes to more than 10^12 stitches in size S; check stitches, rows and times\n");
}

static void a_chance_or_a_size_that_cannot_be_is_refused(void **state)
{
    (void)state;
    struct handmade h;
    start_plain(&h);
    predict_fails(&h, (struct hk_need_options){.chance = 1, .size = HK_NO_SIZE},
                  "chance:0:0: error: a chance of 1 cannot be asked for; "
                  "a chance above 0 and below 1, such as 0.95, would do\n");
    predict_fails(&h, (struct hk_need_options){.chance = -0.5, .size = HK_NO_SIZE},
                  "chance:0:0: error: a chance of -0.5 cannot be asked for; "
                  "a chance above 0 and below 1, such as 0.95, would do\n");
    predict_fails(&h, (struct hk_need_options){.size = 1},
                  "size:0:0: error: there is no size number 2; the project has 1\n");
}

/* ---- After a weighing -------------------------------------------------------------------------------------------- */

/* 400 sc in the garment's yarn and with its tool; the loop rule makes them 8.8 g. */
static struct handmade_use small_swatch(void)
{
    return (struct handmade_use){0, SC, 400, 20, 0, 0};
}

/*
 * One stitch: only the sum of the departures and ln grist matters, prior variance P, read with s^2. Posterior by hand:
 * variance 1 / (1 / P + 1 / s^2), mean P / (P + s^2) of the reading's deviation.
 */
static void a_weighed_swatch_narrows_as_by_hand(void **state)
{
    (void)state;
    struct handmade h;
    start_plain(&h);
    handmade_swatch(&h, "square", 5, 10, 1, small_swatch());
    struct handmade_answer a = handmade_predict(&h, all_sizes());
    double prior = SWATCH2 + GRIST2, weighs = -0.015;
    double s2 = (1.0 / 12 + 1.0 / 3) / 100 + WEIGHS2 + MAKING2 + PIECE2; /* step and accuracy, both 1 g */
    double mean = prior / (prior + s2) * (log(10 / (800 * LOOP_M * G_M)) - weighs);
    assert_int_equal(a.need->evidence, 1);
    assert_close(a.need->roles[0].mass_g.likely, 2000 * LOOP_M * G_M * exp(mean), 1e-9, 0);
    assert_close(a.need->roles[0].spread_mass, sqrt(1 / (1 / prior + 1 / s2) + GARMENT2 + MAKING2 + PIECE2), 1e-9, 0);
    handmade_done(a);
}

/* ---- Delta method against Monte Carlo ---------------------------------------------------------------------------- */

struct drawing {
    const struct hk_fit *fit;
    const struct handmade *h;
    const gsl_matrix *factor; /* covariance = factor factor^T */
};

/* Inputs: the parameters, then B, then one c for each copy of each line. */
static void draw_maker(const void *context, gsl_rng *rng, double *inputs)
{
    const struct drawing *d = context;
    size_t n = d->fit->count;
    double z[64];
    assert_true(n <= 64);
    for (size_t i = 0; i < n; i++)
        z[i] = gsl_ran_gaussian(rng, 1);
    for (size_t i = 0; i < n; i++) {
        inputs[i] = d->fit->parameters[i].value;
        for (size_t k = 0; k <= i; k++)
            inputs[i] += gsl_matrix_get(d->factor, i, k) * z[k];
    }
    inputs[n++] = gsl_ran_gaussian(rng, d->h->project.spreads.making);
    for (size_t line = 0; line < d->h->project.line_count; line++)
        for (int64_t copy = 0; copy < d->h->worked[line].times; copy++)
            inputs[n++] = gsl_ran_gaussian(rng, d->h->project.spreads.piece);
}

/* ln M of role 0 in size 0, by its definition. */
static double ln_mass(const void *context, const double *x)
{
    const struct drawing *d = context;
    const double *next = x + d->fit->count;
    double making = *next++, length_m = 0;
    for (size_t line = 0; line < d->h->project.line_count; line++) {
        const struct hk_worked *worked = &d->h->worked[line];
        const struct hk_use *use = &worked->uses[0];
        double strand_m =
            hk_fit_length_m(d->fit, x, (struct hk_ground){&d->h->tally, use->combination, worked->tool_mm, false}, use->kinds, 0,
                            NULL);
        for (int64_t copy = 0; copy < worked->times; copy++)
            length_m += exp(making + *next++) * strand_m + use->ends[0] * d->h->project.tail_m + use->cut_m;
    }
    return x[hk_fit_find(d->fit, HK_PARAM_GRIST, 0, 0, "main")] + log(length_m);
}

static double deviation_of(const double *values, size_t count)
{
    double sum = 0, squares = 0;
    for (size_t i = 0; i < count; i++)
        sum += values[i];
    for (size_t i = 0; i < count; i++)
        squares += gsl_pow_2(values[i] - sum / (double)count);
    return sqrt(squares / (double)(count - 1));
}

/*
 * 40,000 draws give a standard deviation to 0.35%, a 95% quantile to about 0.01 spreads. The logarithm of a sum is not
 * a sum of logarithms: for a garment of several stitches, the terms omitted by the delta method move the median by a
 * tenth of a spread.
 */
static void delta_method_is_monte_carlo(const struct handmade *h)
{
    enum { DRAWS = 40000 };
    struct handmade_answer a = handmade_predict(h, all_sizes());
    const struct hk_need_role *r = &a.need->roles[0];
    gsl_matrix *factor = gsl_matrix_alloc(a.fit->count, a.fit->count);
    memcpy(factor->data, a.fit->covariance, a.fit->count * a.fit->count * sizeof(double));
    assert_int_equal(gsl_linalg_cholesky_decomp1(factor), 0);
    struct drawing drawing = {a.fit, h, factor};
    double *sorted = malloc(DRAWS * sizeof *sorted);
    gsl_rng *rng = hk_random_new(20251);
    struct hk_propagation propagation = {a.fit->count + 1 + 16, DRAWS, draw_maker, ln_mass, &drawing};
    assert_true(hk_propagate(&propagation, rng, sorted));
    assert_close(deviation_of(sorted, DRAWS), r->spread_mass, 0.03, 0);
    print_message("spread %.5f, drawn %.5f; median %.4f, drawn %.4f; 95%%: %.4f, drawn %.4f\n", r->spread_mass,
                  deviation_of(sorted, DRAWS), log(r->mass_g.likely), sorted[DRAWS / 2], log(r->mass_g.enough),
                  sorted[DRAWS * 19 / 20]);
    assert_close(sorted[DRAWS / 2], log(r->mass_g.likely), 0, 0.15 * r->spread_mass);
    assert_close(sorted[DRAWS * 19 / 20], log(r->mass_g.enough), 0, 0.15 * r->spread_mass);
    gsl_rng_free(rng);
    gsl_matrix_free(factor);
    free(sorted);
    handmade_done(a);
}

/* A body of dc, sleeves of dc on a smaller tool, an edge of sc, ends and a fringe. */
static void start_garment(struct handmade *h)
{
    handmade_start(h, 1, 4);
    h->project.tail_m = 0.15;
    size_t main = handmade_yarn(h, "main", -1);
    handmade_line(h, 0, 0, 5, 1, (struct handmade_use){main, DC, 8000, 100, 2, 0});
    handmade_line(h, 0, 1, 4.5, 2, (struct handmade_use){main, DC, 2500, 50, 4, 0});
    handmade_line(h, 0, 2, 4, 1, (struct handmade_use){main, SC, 1500, 100, 2, 0});
    handmade_line(h, 0, 3, 5, 1, (struct handmade_use){main, SC, 100, 100, 0, 20});
}

static void spread_with_nothing_weighed_is_that_of_monte_carlo(void **state)
{
    (void)state;
    struct handmade h;
    start_garment(&h);
    delta_method_is_monte_carlo(&h);
}

static void spread_after_a_swatch_is_that_of_monte_carlo(void **state)
{
    (void)state;
    struct handmade h;
    start_garment(&h);
    handmade_swatch(&h, "square", 5, 16, 1, (struct handmade_use){0, DC, 400, 20, 2, 0});
    delta_method_is_monte_carlo(&h);
}

/* ---- Orders of size ---------------------------------------------------------------------------------------------- */

static double spread_mass_of(const struct handmade *h)
{
    struct handmade_answer a = handmade_predict(h, all_sizes());
    double spread = a.need->roles[0].spread_mass;
    handmade_done(a);
    return spread;
}

/*
 * About 20% with no weighings, 7% with the garment's one stitch, 8% with several, 13 to 18% with another:
 * DEVELOPERS.md, The model.
 */
static void spreads_have_the_orders_of_size_that_are_known(void **state)
{
    (void)state;
    struct handmade h;
    start_garment(&h);
    double nothing = spread_mass_of(&h);
    handmade_swatch(&h, "of the sleeves", 4.5, 20, 0.1, (struct handmade_use){0, DC, 600, 20, 2, 0});
    double several = spread_mass_of(&h);

    start_plain(&h);
    handmade_swatch(&h, "of the stitch", 5, 15, 0.1, (struct handmade_use){0, SC, 600, 20, 2, 0});
    double same = spread_mass_of(&h);

    start_plain(&h);
    handmade_swatch(&h, "of another", 5, 20, 0.1, (struct handmade_use){0, DC, 600, 20, 2, 0});
    double another = spread_mass_of(&h);
    print_message("spread of mass: nothing weighed %.1f%%, several stitches %.1f%%, its one stitch %.1f%%, another %.1f%%\n",
                  100 * nothing, 100 * several, 100 * same, 100 * another);
    assert_close(nothing, 0.20, 0, 0.03);
    assert_close(several, 0.075, 0, 0.02);
    assert_close(same, 0.07, 0, 0.01);
    assert_close(another, 0.155, 0, 0.03);
}

/* ---- From the files of a folder ---------------------------------------------------------------------------------- */

/* Reads a folder of these files alone, up to the need. */
static struct stages plain_folder(const struct hk_catalogue *catalogue, const char *project, const char *yarns,
                                  const char *pieces)
{
    return stages_of(catalogue,
                     (struct folder){.project = project, .grade = "", .yarns = yarns, .swatches = "", .pieces = pieces,
                                     .fabrics = "fabric,row,make\nplain,1,*sc*\n"},
                     HK_NO_SIZE);
}

/*
 * Returns the findings for a design of a number of roles of one yarn, and a number of lines; lines take the roles in
 * turn.
 */
static void assert_many(const struct hk_catalogue *catalogue, const char *sizes, size_t roles, size_t lines,
                        const char *expected)
{
    struct hk_arena arena = {0};
    struct hk_diags diags = {0};
    char *yarns = hk_arena_take(&arena, 64 * (roles + 1), 1), *pieces = hk_arena_take(&arena, 64 * (lines + 1), 1), *end;
    end = yarns + sprintf(yarns, "role,yarn,put_up,length,wpi\n");
    for (size_t i = 0; i < roles; i++)
        end += sprintf(end, "r%zu,Alva,50 g,100 m,12.7\n", i);
    end = pieces + sprintf(pieces, "piece,fabric,yarn,tool,stitches,rows\n");
    for (size_t i = 0; i < lines; i++)
        end += sprintf(end, "p%zu,plain,r%zu,5 mm,10,10\n", i, i % roles);
    struct folder folder = {.project = hk_arena_print(&arena, "field,value\nsizes,\"%s\"\n", sizes), .grade = "",
                            .yarns = yarns, .fabrics = "fabric,row,make\nplain,1,*sc*\n", .swatches = "", .pieces = pieces};
    struct hk_project *project = folder_good(catalogue, folder);
    struct hk_tally *tally = hk_tally_count(project, &diags);
    struct hk_fit *fit = hk_fit_make(tally, &diags);
    assert_non_null(fit);
    hk_diags_free(&diags);
    struct hk_need *need = hk_need_predict(fit, hk_need_defaults(), &diags);
    assert_int_equal(need == NULL, expected != NULL);
    if (expected)
        assert_findings(&diags, expected);
    hk_diags_free(&diags);
    hk_need_free(need);
    hk_fit_free(fit);
    hk_tally_free(tally);
    hk_project_free(project);
    hk_arena_free(&arena);
}

/* 10 roles in 100 sizes are 1,000 amounts, 11 are 1,100; 316^2 * 1,001 is below 10^8, and 316^2 * 1,002 above. */
static void more_than_can_be_computed_together_is_refused(void **state)
{
    char hundred[512] = "0";
    for (int i = 1; i < 100; i++)
        snprintf(hundred + strlen(hundred), sizeof hundred - strlen(hundred), ", %d", i);
    assert_many(*state, hundred, 10, 10, NULL);
    assert_many(*state, hundred, 11, 11,
                "yarns.csv:0:0: error: 11 roles in 11 lines and 100 sizes are too many to compute together; "
                "ask for one size, or remove roles or lines\n");
    assert_many(*state, "one", 316, 1001, NULL);
    assert_many(*state, "one", 316, 1002,
                "yarns.csv:0:0: error: 316 roles in 1002 lines and 1 sizes are too many to compute together; "
                "ask for one size, or remove roles or lines\n");
}

/*
 * A square of 20 sc: 20 chains (1 loop each), then 20 and 30 rows of 20 sc (2 loops each): 820 and 1,220 loops, 2 ends
 * of 15 cm. Two copies in M. 12.7 wraps an inch: 2 mm thick.
 */
static void a_folder_comes_to_what_its_rows_report(void **state)
{
    struct stages f = plain_folder(
        *state, "field,value\ntitle,Square\nsizes,\"S (M)\"\n",
        "role,yarn,put_up,length,wpi,price\nmain,Alva,50 g,100 m,12.7,6.40\n",
        "piece,fabric,yarn,tool,stitches,rows,times\nsquare,plain,main,5 mm,20,20 (30),1 (2)\n");
    assert_int_equal(f.need->role_count, 2);
    const struct hk_need_role *s = &f.need->roles[0], *m = &f.need->roles[1];
    assert_int_equal(s->stitches, 420);
    assert_int_equal(m->stitches, 1240);
    assert_close(s->length_m.likely, 820 * LOOP_M + 0.3, 1e-12, 0);
    assert_close(m->length_m.likely, 2 * (1220 * LOOP_M + 0.3), 1e-12, 0);
    /* 800 of 820 loops are sc and 20 are chains, each kind with its own departure */
    double part = 820 * LOOP_M / s->length_m.likely, kinds = (800.0 * 800 + 20 * 20) / (820 * 820);
    double maker = 0.15 * 0.15 + 0.05 * 0.05 + 0.06 * 0.06 + 0.12 * 0.12 * kinds + GARMENT2;
    assert_close(s->spread, part * sqrt(maker + MAKING2 + PIECE2), 1e-9, 0);
    /* a row of 20 sc is 40 loops */
    assert_close(s->join_g, G_M * (0.3 + 20 * LOOP_M), 1e-12, 0);
    stages_free(f);
}

/*
 * Stripes of 2 rows: 6 rows of main (with the foundation) and 4 of contrast; main is joined again twice, contrast
 * joined twice.
 */
static void stripes_of_a_folder_go_to_their_roles(void **state)
{
    struct stages f = plain_folder(
        *state, "field,value\ntail,10 cm\n",
        "role,yarn,put_up,length,wpi\nmain,Alva,50 g,100 m,12.7\ncontrast,Brisa,50 g,100 m,12.7\n",
        "piece,fabric,yarn,tool,stitches,rows\nstrip,plain,\"main 2, contrast 2\",5 mm,10,10\n");
    assert_int_equal(f.need->role_count, 2);
    assert_int_equal(f.need->roles[0].stitches, 10 + 60);
    assert_int_equal(f.need->roles[1].stitches, 40);
    assert_close(f.need->roles[0].length_m.likely, (10 + 120) * LOOP_M + 2 * 0.1 + 2 * 2 * 0.1, 1e-12, 0);
    assert_close(f.need->roles[1].length_m.likely, 80 * LOOP_M + 2 * 2 * 0.1, 1e-12, 0);
    stages_free(f);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(one_stitch_by_the_loop_rule_has_the_spread_of_the_priors),
        cmocka_unit_test(wraps_add_the_spread_of_a_wrap),
        cmocka_unit_test(ends_and_cut_lengths_have_no_spread),
        cmocka_unit_test(a_fringe_alone_is_known_but_for_its_grist),
        cmocka_unit_test(lines_share_the_making_and_have_their_own_piece),
        cmocka_unit_test(striped_roles_share_all_but_their_yarns),
        cmocka_unit_test(strands_held_together_take_their_lengths_and_one_count),
        cmocka_unit_test(sizes_share_the_maker_and_not_the_making),
        cmocka_unit_test(a_size_that_does_without_a_role_has_no_row_of_it),
        cmocka_unit_test(parts_add_up_to_the_likely_and_to_the_enough),
        cmocka_unit_test(stitches_add_up_to_the_likely),
        cmocka_unit_test(short_lines_are_not_lost_beside_a_long_one),
        cmocka_unit_test(a_join_costs_two_tails_and_half_the_longest_row),
        cmocka_unit_test(half_stitches_are_rounded_up),
        cmocka_unit_test(a_flat_margin_says_what_chance_it_gives),
        cmocka_unit_test(without_spreads_everything_is_likely),
        cmocka_unit_test(a_ball_lighter_than_a_join_is_an_error_reported_once),
        cmocka_unit_test(more_stitches_than_are_counted_are_an_error),
        cmocka_unit_test(a_chance_or_a_size_that_cannot_be_is_refused),
        cmocka_unit_test(a_weighed_swatch_narrows_as_by_hand),
        cmocka_unit_test(spread_with_nothing_weighed_is_that_of_monte_carlo),
        cmocka_unit_test(spread_after_a_swatch_is_that_of_monte_carlo),
        cmocka_unit_test(spreads_have_the_orders_of_size_that_are_known),
        cmocka_unit_test(a_folder_comes_to_what_its_rows_report),
        cmocka_unit_test(stripes_of_a_folder_go_to_their_roles),
        cmocka_unit_test(more_than_can_be_computed_together_is_refused),
    };
    return cmocka_run_group_tests_name("need", tests, catalogue_set_up, catalogue_tear_down);
}
