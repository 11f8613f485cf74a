/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "support.h"

#include "folder.h"
#include "handmade.h"

#include <gsl/gsl_linalg.h>
#include <gsl/gsl_math.h>
#include <stdio.h>

/*
 * With one stitch, one tool and one yarn only these variables matter: u, the sum of all a swatch's departures and ln
 * grist, prior variance P; D of garments; H, the mass of a ball relative to its label; Z of each scale. A weighing of
 * mass_g reads u + H + Z / mass_g with its step, its day and its piece. One making of one piece adds OWN.
 */
#define P (0.15 * 0.15 + 0.12 * 0.12 + 0.05 * 0.05 + 0.06 * 0.06 + 0.02 * 0.02)
#define GARMENT (0.03 * 0.03)
#define WEIGHS (0.02 * 0.02)
#define OWN (0.04 * 0.04 + 0.02 * 0.02)

enum { U, D, H, COARSE, FINE, MAKING, UNKNOWNS };

/* Information of all readings, over all unknown variables. */
struct known {
    double information[UNKNOWNS][UNKNOWNS];
};

/* The priors; a coarse scale that may be accuracy_g off. */
static struct known unread(double accuracy_g)
{
    struct known known = {{{0}}};
    known.information[U][U] = 1 / P;
    known.information[D][D] = 1 / GARMENT;
    known.information[H][H] = 1 / WEIGHS;
    known.information[COARSE][COARSE] = 3 / (accuracy_g * accuracy_g);
    known.information[FINE][FINE] = 3 / (0.1 * 0.1);
    known.information[MAKING][MAKING] = 1 / (0.04 * 0.04);
    return known;
}

static void read_with(struct known *known, const double *gradient, double variance)
{
    for (size_t i = 0; i < UNKNOWNS; i++)
        for (size_t k = 0; k < UNKNOWNS; k++)
            known->information[i][k] += gradient[i] * gradient[k] / variance;
}

/* A swatch on one of the two scales. */
static void weigh(struct known *known, int scale, double step_g, double mass_g)
{
    double gradient[UNKNOWNS] = {[U] = 1, [H] = 1};
    gradient[scale] = 1 / mass_g;
    read_with(known, gradient, gsl_pow_2(step_g / mass_g) / 12 + OWN);
}

/* The variance of ln mass of a garment. */
static double left(const struct known *known)
{
    double matrix[UNKNOWNS * UNKNOWNS], x[UNKNOWNS] = {0}, h[UNKNOWNS] = {[U] = 1, [D] = 1};
    memcpy(matrix, known->information, sizeof matrix);
    gsl_matrix_view m = gsl_matrix_view_array(matrix, UNKNOWNS, UNKNOWNS);
    gsl_vector_view of = gsl_vector_view_array(h, UNKNOWNS), to = gsl_vector_view_array(x, UNKNOWNS);
    assert_int_equal(gsl_linalg_HH_solve(&m.matrix, &of.vector, &to.vector), 0);
    return x[U] + x[D] + OWN;
}

/* 1,000 sc in one piece, a swatch of 400 of a stitch (mass 0: not weighed) on 20 rows. */
static void start_with(struct handmade *h, size_t stitch, double tool_mm, double mass_g, double step_g)
{
    handmade_start(h, 1, 1);
    size_t main = handmade_yarn(h, "main", -1);
    handmade_line(h, 0, 0, 5, 1, (struct handmade_use){main, SC, 1000, 20, 0, 0});
    if (mass_g > 0)
        handmade_swatch(h, "square", tool_mm, mass_g, step_g, (struct handmade_use){main, stitch, 400, 20, 0, 0});
}

static const struct hk_need_why *find(const struct hk_need *need, enum hk_cause cause)
{
    for (size_t i = 0; i < need->why_count; i++)
        if (need->why[i].cause == cause)
            return &need->why[i];
    return NULL;
}

static struct handmade_answer predict(const struct handmade *h)
{
    return handmade_predict(h, hk_need_defaults());
}

/* Returns the expected reading of a swatch of 30 rows of 30 sc on the maker's scale, by the current fit. */
static double new_swatch_g(struct handmade_answer a)
{
    double garment = a.fit->parameters[hk_fit_find(a.fit, HK_PARAM_GARMENT, HK_FAMILY_CROCHET, 0, NULL)].value;
    return 900 * a.need->roles[0].mass_g.likely / 1000 * exp(-garment) * hk_fit_weighs(a.fit, 0, 0);
}

/* ---- By hand ----------------------------------------------------------------------------------------------------- */

static void with_nothing_weighed_a_swatch_is_the_remedy(void **state)
{
    (void)state;
    struct handmade h;
    start_with(&h, SC, 5, 0, 0);
    struct handmade_answer a = predict(&h);
    struct known then = unread(1);
    weigh(&then, FINE, 0.1, new_swatch_g(a));
    const struct hk_need_why *why = &a.need->why[1]; /* a finished piece would have a larger effect */
    assert_int_equal(why->cause, HK_CAUSE_NOTHING_WEIGHED);
    assert_string_equal(why->fabric, "single crochet");
    assert_string_equal(why->yarn, "main");
    assert_close(why->tool_mm, 5, 0, 0);
    assert_null(why->swatch);
    assert_int_equal(why->stitches, 30);
    assert_int_equal(why->rows, 30);
    assert_close(why->new_step_g, 0.1, 0, 0);
    assert_close(why->share, (P + GARMENT + OWN - left(&then)) / (P + GARMENT + OWN), 1e-12, 0);
    assert_close(why->spread_mass_then, sqrt(left(&then)), 1e-12, 0);
    /* the rest that no remedy removes: this making and this piece */
    const struct hk_need_why *making = &a.need->why[a.need->why_count - 1];
    assert_int_equal(making->cause, HK_CAUSE_MAKING);
    assert_close(making->share, OWN / (P + GARMENT + OWN), 1e-12, 0);
    assert_close(making->spread_mass_then, sqrt(OWN), 1e-12, 0);
    handmade_done(a);
}

/*
 * A swatch of 6 g on a 1 g scale: read to 11% including the accuracy of the scale, more than the 4.5% of days and
 * pieces.
 */
static void a_coarse_scale_is_most_of_it(void **state)
{
    (void)state;
    struct handmade h;
    start_with(&h, SC, 5, 6, 1);
    struct handmade_answer a = predict(&h);
    struct known before = unread(1), after = unread(1);
    weigh(&before, COARSE, 1, 6);
    weigh(&after, FINE, 0.1, 6);
    const struct hk_need_why *why = find(a.need, HK_CAUSE_SCALE);
    assert_string_equal(why->swatch, "square");
    assert_close(why->scale_step_g, 1, 0, 0);
    assert_close(why->scale_accuracy_g, 1, 0, 0);
    assert_close(why->share, (left(&before) - left(&after)) / left(&before), 1e-8, 0);
    assert_close(why->spread_mass_then, sqrt(left(&after)), 1e-8, 0);
    /* on the same scale the least rows with nine tenths of the effect; one row fewer has less */
    double enough = left(&before) - 0.9 * (left(&before) - left(&after));
    struct known rows = unread(1), fewer = unread(1);
    weigh(&rows, COARSE, 1, 6 * (double)why->rows / 20);
    weigh(&fewer, COARSE, 1, 6 * (double)(why->rows - 1) / 20);
    assert_true(left(&rows) <= enough);
    assert_true(left(&fewer) > enough);
    assert_in_range(why->rows, 41, 100);
    handmade_done(a);
}

/* Copies of a swatch, worked alike in one making, each a separate piece. */
static void weigh_together(struct known *known, double step_g, double mass_g, double copies)
{
    double gradient[UNKNOWNS] = {[U] = 1, [H] = 1, [COARSE] = 1 / (copies * mass_g)};
    read_with(known, gradient, gsl_pow_2(step_g / (copies * mass_g)) / 12 + 0.04 * 0.04 + 0.02 * 0.02 / copies);
}

/*
 * The number with nine tenths of the finer scale's effect; one fewer has less; and the reported effect is the effect of
 * exactly that change.
 */
static void several_swatches_weighed_together_do_as_well_as_a_finer_scale(void **state)
{
    (void)state;
    struct handmade h;
    start_with(&h, SC, 5, 6, 1);
    struct handmade_answer a = predict(&h);
    int64_t copies = find(a.need, HK_CAUSE_SCALE)->copies;
    struct known before = unread(1), fine = unread(1), enough = unread(1), fewer = unread(1);
    weigh(&before, COARSE, 1, 6);
    weigh(&fine, FINE, 0.1, 6);
    weigh_together(&enough, 1, 6, (double)copies);
    weigh_together(&fewer, 1, 6, (double)copies - 1);
    double wanted = left(&before) - 0.9 * (left(&before) - left(&fine));
    assert_in_range(copies, 2, 9);
    assert_true(left(&enough) <= wanted);
    assert_true(left(&fewer) > wanted);
    handmade_done(a);

    h.worked_swatches[0].times = copies;
    h.swatches[0].mass_g = 6 * (double)copies;
    a = predict(&h);
    assert_close(a.need->roles[0].spread_mass, sqrt(left(&enough)), 1e-4, 0);
    /* the next proposal includes the existing copies */
    const struct hk_need_why *why = find(a.need, HK_CAUSE_SCALE);
    assert_true(!why || why->copies % copies == 0);
    handmade_done(a);

    /* a tiny swatch: more copies than anyone works */
    start_with(&h, SC, 5, 2, 5);
    a = predict(&h);
    assert_int_equal(find(a.need, HK_CAUSE_SCALE)->copies, 0);
    handmade_done(a);
}

/* A scale that reads to 0.1 g and may be 2 g off is coarse too. */
static void a_scale_that_may_be_off_is_coarse_however_finely_it_is_read(void **state)
{
    (void)state;
    struct handmade h;
    start_with(&h, SC, 5, 6, 0.1);
    struct handmade_answer a = predict(&h);
    assert_null(find(a.need, HK_CAUSE_SCALE));
    handmade_done(a);
    h.swatches[0].scale.accuracy_g = 2;
    a = predict(&h);
    struct known before = unread(2), after = unread(2);
    weigh(&before, COARSE, 0.1, 6);
    weigh(&after, FINE, 0.1, 6);
    assert_close(find(a.need, HK_CAUSE_SCALE)->spread_mass_then, sqrt(left(&after)), 1e-8, 0);
    handmade_done(a);
}

/* The reported effect of the second swatch keeps the first unchanged, on its coarse scale. */
static void a_second_swatch_takes_away_part_of_the_first_ones_day(void **state)
{
    (void)state;
    struct handmade h;
    start_with(&h, SC, 5, 10, 1);
    struct handmade_answer a = predict(&h);
    const struct hk_need_why *why = find(a.need, HK_CAUSE_ONE_DAY);
    struct known both = unread(1);
    weigh(&both, COARSE, 1, 10);
    weigh(&both, FINE, 0.1, new_swatch_g(a));
    assert_non_null(why);
    assert_close(why->spread_mass_then, sqrt(left(&both)), 1e-8, 0);
    assert_string_equal(why->fabric, "single crochet");
    handmade_done(a);

    /* on the fine scale of the first weighing too; both share the offset of the scale */
    start_with(&h, SC, 5, 10, 0.1);
    a = predict(&h);
    assert_null(find(a.need, HK_CAUSE_SCALE));
    why = find(a.need, HK_CAUSE_ONE_DAY);
    both = unread(1);
    weigh(&both, FINE, 0.1, 10);
    weigh(&both, FINE, 0.1, new_swatch_g(a));
    assert_close(why->spread_mass_then, sqrt(left(&both)), 1e-8, 0);
    handmade_done(a);
}

/* Seven swatches of a fifth of a gram, each weighed again in turn. */
static void many_coarse_swatches_are_each_tried_on_a_fine_scale(void **state)
{
    (void)state;
    struct handmade h;
    start_with(&h, SC, 5, 2, 2);
    for (int i = 0; i < 6; i++)
        handmade_swatch(&h, "again", 5, 2, 2, (struct handmade_use){0, SC, 400, 20, 0, 0});
    struct handmade_answer a = predict(&h);
    struct known then = unread(2);
    for (int i = 0; i < 6; i++)
        weigh(&then, COARSE, 2, 2);
    weigh(&then, FINE, 0.1, 2);
    assert_close(find(a.need, HK_CAUSE_SCALE)->spread_mass_then, sqrt(left(&then)), 1e-8, 0);
    handmade_done(a);
}

/* For an unravelled swatch too, the scale determines its mass for each metre: like the fit, with that scale. */
static void a_swatch_weighed_again_says_its_grist_anew(void **state)
{
    (void)state;
    struct handmade h;
    start_with(&h, SC, 5, 6, 1);
    h.swatches[0].unravelled_m = 12.2;
    struct handmade_answer a = predict(&h);
    const struct hk_need_why *why = find(a.need, HK_CAUSE_SCALE);
    assert_non_null(why);
    double then = why->spread_mass_then;
    handmade_done(a);
    h.swatches[0].scale = (struct hk_scale){0.1, 0.1};
    a = predict(&h);
    assert_close(a.need->roles[0].spread_mass, then, 1e-4, 0);
    handmade_done(a);
}

/* ---- Garments and balls ------------------------------------------------------------------------------------------ */

/* A finished piece on a 1 g scale: it reads u + D + H + B, with its own c. */
static void a_finished_piece_tells_what_no_swatch_can(void **state)
{
    (void)state;
    struct handmade h;
    start_with(&h, SC, 5, 10, 0.1);
    struct handmade_answer a = predict(&h);
    const struct hk_need_why *why = find(a.need, HK_CAUSE_GARMENT);
    assert_non_null(why);
    assert_string_equal(why->piece, "piece");
    double mass_g = a.need->roles[0].mass_g.likely * hk_fit_weighs(a.fit, 0, 0);
    struct known then = unread(1);
    weigh(&then, FINE, 0.1, 10);
    double gradient[UNKNOWNS] = {[U] = 1, [D] = 1, [H] = 1, [MAKING] = 1, [COARSE] = 1 / mass_g};
    read_with(&then, gradient, 1 / (12 * mass_g * mass_g) + 0.02 * 0.02);
    assert_close(why->spread_mass_then, sqrt(left(&then)), 1e-8, 0);
    handmade_done(a);
}

/* For a piece in several yarns, the weighing is of one yarn. */
static void a_piece_in_several_roles_is_asked_for_by_role(void **state)
{
    (void)state;
    struct handmade h;
    handmade_start(&h, 1, 1);
    size_t main = handmade_yarn(&h, "main", -1), trim = handmade_yarn(&h, "trim", -1);
    handmade_line(&h, 0, 0, 5, 1, (struct handmade_use){main, SC, 1000, 20, 0, 0});
    handmade_line(&h, 0, 0, 5, 1, (struct handmade_use){trim, SC, 100, 20, 0, 0});
    struct handmade_answer a = predict(&h);
    assert_non_null(find(a.need, HK_CAUSE_GARMENT));
    assert_string_equal(find(a.need, HK_CAUSE_GARMENT)->yarn, "main");
    handmade_done(a);
}

/*
 * A full ball of 50 g on a 0.1 g scale reads H + Z / 50 with the spread of balls; an existing weighing is not
 * requested.
 */
static void a_full_ball_tells_what_a_label_weighs(void **state)
{
    (void)state;
    struct handmade h;
    start_with(&h, SC, 5, 12, 0.1);
    h.yarns[0].ln_weighs_sd = 0.05;
    struct handmade_answer a = predict(&h);
    const struct hk_need_why *why = find(a.need, HK_CAUSE_BALL);
    assert_non_null(why);
    assert_string_equal(why->yarn, "main");
    struct known then = unread(1);
    then.information[H][H] = 1 / (0.05 * 0.05);
    weigh(&then, FINE, 0.1, 12);
    double gradient[UNKNOWNS] = {[H] = 1, [FINE] = 1.0 / 50};
    read_with(&then, gradient, gsl_pow_2(0.1 / 50) / 12 + 0.015 * 0.015);
    assert_close(why->spread_mass_then, sqrt(left(&then)), 1e-8, 0);
    handmade_done(a);
    h.yarns[0].ball_g = 49;
    h.yarns[0].ball_count = 1;
    h.yarns[0].ball_scale = (struct hk_scale){0.1, 0.1};
    a = predict(&h);
    assert_null(find(a.need, HK_CAUSE_BALL));
    assert_close(a.need->roles[0].spread_mass, sqrt(left(&then)), 1e-3, 0);
    handmade_done(a);
}

/* ---- Missing readings -------------------------------------------------------------------------------------------- */

/* Applies the remedy: a swatch of that fabric and tool, with the expected weight, leaves the reported spread. */
static void assert_comes_true(struct handmade *h, enum hk_cause cause)
{
    struct handmade_answer a = predict(h);
    const struct hk_need_why *why = find(a.need, cause);
    assert_non_null(why);
    double then = why->spread_mass_then;
    handmade_swatch(h, "new", 5, new_swatch_g(a), 0.1, (struct handmade_use){0, SC, 900, 30, 0, 0});
    handmade_done(a);
    a = predict(h);
    assert_close(a.need->roles[0].spread_mass, then, 1e-3, 0);
    handmade_done(a);
}

static void a_stitch_that_no_swatch_has_is_named_in_the_projects_terms(void **state)
{
    (void)state;
    struct handmade h;
    start_with(&h, DC, 5, 14, 0.1);
    struct handmade_answer a = predict(&h);
    assert_string_equal(find(a.need, HK_CAUSE_STITCH)->stitch, "sc");
    assert_string_equal(find(a.need, HK_CAUSE_STITCH)->fabric, "single crochet");
    handmade_done(a);
    h.project.terms = HK_TERMS_UK;
    a = predict(&h);
    assert_string_equal(find(a.need, HK_CAUSE_STITCH)->stitch, "dc");
    handmade_done(a);
    assert_comes_true(&h, HK_CAUSE_STITCH);
}

static void a_tool_that_no_swatch_has_is_named(void **state)
{
    (void)state;
    struct handmade h;
    start_with(&h, SC, 4, 8, 0.1);
    struct handmade_answer a = predict(&h);
    const struct hk_need_why *why = find(a.need, HK_CAUSE_TOOL);
    assert_non_null(why);
    assert_close(why->tool_mm, 5, 0, 0);
    handmade_done(a);
    assert_comes_true(&h, HK_CAUSE_TOOL);
}

static void a_yarn_that_no_swatch_has_is_named(void **state)
{
    (void)state;
    struct handmade h;
    handmade_start(&h, 1, 1);
    handmade_yarn(&h, "main", -1);
    size_t other = handmade_yarn(&h, "other", -1);
    handmade_line(&h, 0, 0, 5, 1, (struct handmade_use){0, SC, 1000, 20, 0, 0});
    handmade_swatch(&h, "of the other", 5, 9, 0.1, (struct handmade_use){other, SC, 400, 20, 0, 0});
    struct handmade_answer a = predict(&h);
    const struct hk_need_why *why = find(a.need, HK_CAUSE_YARN);
    assert_non_null(why);
    assert_string_equal(why->yarn, "main");
    handmade_done(a);
    assert_comes_true(&h, HK_CAUSE_YARN);
}

/* A swatch of knitting gives no information on crochet. */
static void a_swatch_of_another_craft_is_as_nothing(void **state)
{
    (void)state;
    struct handmade h;
    start_with(&h, KNIT, 5, 5, 0.1);
    struct handmade_answer a = predict(&h);
    assert_int_equal(a.need->evidence, 1);
    assert_non_null(find(a.need, HK_CAUSE_NOTHING_WEIGHED));
    handmade_done(a);
    assert_comes_true(&h, HK_CAUSE_NOTHING_WEIGHED);
}

/*
 * A crown of 1,000 dc that widens and a band of 100 sc: the proposed swatch is of the band; for a crown alone it is the
 * crown itself.
 */
static void no_swatch_is_asked_of_a_fabric_that_shapes(void **state)
{
    (void)state;
    /* 2 dc in 1, *dc 1* */
    struct hk_step steps[] = {
        {.kind = HK_STEP_STITCH, .stitch = DC, .many.one = 2, .where = {.given = true, .count.one = 1}},
        {.kind = HK_STEP_REPEAT, .steps = &steps[2], .step_count = 1},
        {.kind = HK_STEP_STITCH, .stitch = DC, .many.one = 1, .where.count.one = 1},
    };
    struct hk_row widens = {.steps = steps, .step_count = 2, .repeats = true, .to_end = true};
    for (size_t lines = 1; lines <= 2; lines++) {
        struct handmade h;
        handmade_start(&h, 1, lines);
        size_t main = handmade_yarn(&h, "main", -1);
        h.fabrics[DC].rows = &widens;
        h.fabrics[DC].cycle_count = 1;
        handmade_line(&h, 0, 0, 5, 1, (struct handmade_use){main, DC, 1000, 20, 0, 0});
        if (lines == 2)
            handmade_line(&h, 0, 1, 5, 1, (struct handmade_use){main, SC, 100, 20, 0, 0});
        struct handmade_answer a = predict(&h);
        for (size_t i = 0; i < a.need->why_count; i++)
            if (a.need->why[i].fabric)
                assert_string_equal(a.need->why[i].fabric, lines == 2 ? "single crochet" : "double crochet");
        assert_non_null(find(a.need, HK_CAUSE_NOTHING_WEIGHED));
        handmade_done(a);
    }
}

/* Seams and edgings are worked on an edge, and sewing takes cut lengths: neither is proposed as a swatch. */
static void no_swatch_is_asked_of_what_cannot_be_one(void **state)
{
    (void)state;
    struct handmade h;
    start_with(&h, SC, 5, 0, 0);
    h.fabrics[SC].name = "picot edging";
    struct handmade_answer a = predict(&h);
    assert_null(find(a.need, HK_CAUSE_NOTHING_WEIGHED));
    handmade_done(a);
    h.fabrics[SC].name = "single crochet";
    struct hk_step cut[] = {h.steps[SC][1], {.kind = HK_STEP_CUT, .many.one = 1, .cut_m = 0.1}};
    h.steps[SC][0].steps = cut;
    h.steps[SC][0].step_count = 2;
    a = predict(&h);
    assert_null(find(a.need, HK_CAUSE_NOTHING_WEIGHED));
    handmade_done(a);
}

/*
 * A row that leaves fewer stitches than the next needs: 30 of them leave none. A ring has rounds, and states no
 * stitches.
 */
static void a_swatch_from_a_ring_is_asked_for_in_rounds(void **state)
{
    (void)state;
    struct handmade h;
    start_with(&h, SC, 5, 0, 0);
    h.lines[0].start = HK_START_RING;
    struct hk_step six = {.kind = HK_STEP_STITCH,
                          .stitch = SC,
                          .many.one = 6,
                          .where = {.given = true, .what = HK_WHAT_RING, .count.one = 1}};
    struct hk_row rows[2] = {{.steps = &six, .step_count = 1}, h.rows[SC]};
    h.fabrics[SC].rows = rows;
    h.fabrics[SC].setup_count = 1;
    struct handmade_answer a = predict(&h);
    const struct hk_need_why *why = find(a.need, HK_CAUSE_NOTHING_WEIGHED);
    assert_non_null(why);
    assert_int_equal(why->stitches, 0);
    assert_int_equal(why->rows, 10);
    handmade_done(a);
}

/* One fabric on a chain and from a ring, which it cannot start from: the swatch is on a chain, in either order. */
static void one_fabric_on_a_chain_and_from_a_ring_is_two_swatches(void **state)
{
    (void)state;
    for (size_t ring = 0; ring < 2; ring++) {
        struct handmade h;
        handmade_start(&h, 1, 2);
        size_t main = handmade_yarn(&h, "main", -1);
        for (size_t line = 0; line < 2; line++)
            handmade_line(&h, 0, line, 5, 1, (struct handmade_use){main, SC, 1000, 20, 0, 0});
        h.lines[ring].start = HK_START_RING;
        struct handmade_answer a = predict(&h);
        const struct hk_need_why *why = find(a.need, HK_CAUSE_NOTHING_WEIGHED);
        assert_non_null(why);
        assert_int_equal(why->stitches, 30);
        assert_int_equal(why->rows, 30);
        handmade_done(a);
    }
}

/* 20 m of fringe and little else: the label's grams a metre are the unknown, and a weighed swatch may be unravelled. */
static void the_labels_grist_is_a_cause_where_a_swatch_can_be_unravelled(void **state)
{
    (void)state;
    struct handmade h;
    handmade_start(&h, 1, 1);
    handmade_line(&h, 0, 0, 5, 1, (struct handmade_use){handmade_yarn(&h, "main", -1), SKIP, 1, 0, 0, 20});
    struct handmade_answer a = predict(&h);
    assert_null(find(a.need, HK_CAUSE_GRIST)); /* no reading exists yet */
    handmade_done(a);

    handmade_swatch(&h, "square", 5, 10, 0.1, (struct handmade_use){0, SC, 400, 20, 0, 0});
    a = predict(&h);
    const struct hk_need_why *why = find(a.need, HK_CAUSE_GRIST);
    assert_string_equal(why->swatch, "square");
    double then = why->spread_mass_then;
    handmade_done(a);

    h.swatches[0].unravelled_m = 10 / 0.5 / exp(-0.015); /* the expected reading */
    a = predict(&h);
    assert_null(find(a.need, HK_CAUSE_GRIST));
    assert_close(a.need->roles[0].spread_mass, then, 1e-3, 0);
    handmade_done(a);
}

/* ---- The list ---------------------------------------------------------------------------------------------------- */

static void causes_stand_by_share_what_nothing_narrows_last_and_none_is_too_small_to_show(void **state)
{
    (void)state;
    struct handmade h;
    handmade_start(&h, 1, 3);
    size_t main = handmade_yarn(&h, "main", -1);
    handmade_line(&h, 0, 0, 5, 1, (struct handmade_use){main, DC, 5000, 100, 0, 0});
    handmade_line(&h, 0, 1, 4, 1, (struct handmade_use){main, SC, 3000, 100, 0, 0});
    handmade_line(&h, 0, 2, 5, 1, (struct handmade_use){main, SC, 1, 1, 0, 0}); /* one stitch: no finding */
    handmade_swatch(&h, "square", 5, 12, 1, (struct handmade_use){main, DC, 400, 20, 0, 0});
    struct handmade_answer a = predict(&h);
    assert_true(a.need->why_count >= 3);
    for (size_t i = 0; i < a.need->why_count; i++) {
        assert_true(a.need->why[i].share >= 0.03 || a.need->why[i].cause == HK_CAUSE_MAKING);
        assert_true(i == 0 || a.need->why[i].cause == HK_CAUSE_MAKING ||
                    a.need->why[i].share <= a.need->why[i - 1].share);
        assert_true(i + 1 == a.need->why_count || a.need->why[i].cause != HK_CAUSE_MAKING);
        assert_true(a.need->why[i].spread_mass_then <= a.need->roles[0].spread_mass);
    }
    assert_non_null(find(a.need, HK_CAUSE_STITCH));
    handmade_done(a);
}

static void it_speaks_of_the_middle_size(void **state)
{
    (void)state;
    struct handmade h;
    handmade_start(&h, 3, 1);
    size_t main = handmade_yarn(&h, "main", -1);
    for (size_t size = 0; size < 3; size++)
        handmade_line(&h, size, 0, 5, size == 1 ? 0 : 1, (struct handmade_use){main, SC, 1000, 20, 0, 0});
    struct handmade_answer a = predict(&h); /* M has none: S is the nearest before L */
    assert_string_equal(a.need->roles[a.need->why[0].role].size_name, "S");
    handmade_done(a);
    h.worked[1].times = 1;
    a = predict(&h);
    assert_string_equal(a.need->roles[a.need->why[0].role].size_name, "M");
    handmade_done(a);
    for (size_t size = 0; size < 3; size++)
        h.worked[size].times = 0;
    a = predict(&h);
    assert_int_equal(a.need->role_count, 0);
    assert_int_equal(a.need->why_count, 0);
    handmade_done(a);
}

/* Skipped stitches take no yarn: the remedies are the same as without them. */
static void skipped_stitches_are_none_of_a_new_swatch(void **state)
{
    (void)state;
    struct handmade h;
    start_with(&h, SC, 5, 0, 0);
    struct handmade_answer plain = predict(&h);
    h.kinds[0][1] = (struct hk_kind){SKIP, 500};
    h.uses[0].kinds.count = 2;
    struct handmade_answer skipped = predict(&h);
    assert_int_equal(skipped.need->roles[0].stitches, 1000);
    assert_int_equal(skipped.need->why_count, plain.need->why_count);
    assert_close(skipped.need->why[0].spread_mass_then, plain.need->why[0].spread_mass_then, 1e-12, 0);
    handmade_done(skipped);
    handmade_done(plain);
}

/* A stitch without a swatch and without an abbreviation: the remedy names it by its name. */
static void a_stitch_without_an_abbreviation_is_asked_for_by_name(void **state)
{
    (void)state;
    struct handmade h;
    start_with(&h, DC, 5, 40, 0.1);
    h.stitches[SC].us = NULL;
    struct handmade_answer a = predict(&h);
    const struct hk_need_why *why = find(a.need, HK_CAUSE_STITCH);
    assert_non_null(why);
    assert_string_equal(why->stitch, "single crochet");
    handmade_done(a);
}

/* A swatch without a number of rows cannot have a proposal for more rows; a finer scale is still proposed. */
static void a_swatch_of_unknown_rows_is_only_weighed_again(void **state)
{
    (void)state;
    struct handmade h;
    start_with(&h, SC, 5, 6, 1);
    h.swatches[0].rows = 0;
    struct handmade_answer a = predict(&h);
    assert_int_equal(find(a.need, HK_CAUSE_SCALE)->rows, 0);
    handmade_done(a);
}

/* ---- Limits ------------------------------------------------------------------------------------------------------ */

/* A swatch of single crochet is weighed; the design has one double crochet for every `single` single crochet. */
static bool another_stitch_is_named(const struct hk_catalogue *catalogue, int single)
{
    char fabrics[100], pieces[200];
    snprintf(fabrics, sizeof fabrics, "fabric,row,make\nspotted,1,\"*sc %d, dc*\"\n", single);
    snprintf(pieces, sizeof pieces, "piece,fabric,yarn,tool,stitches,rows,start\npiece,spotted,main,4 mm,%d,100,edge\n",
             10 * (single + 1));
    struct stages stages = stages_of(catalogue, (struct folder){.fabrics = fabrics, .pieces = pieces, .grade = "",
        .project = "field,value\ntitle,Spotted\nsizes,one\ntail,0\njoin,anywhere\n",
        .swatches = "swatch,yarn,tool,fabric,stitches,rows,weight,scale\nplain,main,4 mm,single crochet,20,20,9 g,5 g\n"},
        HK_NO_SIZE);
    bool named = find(stages.need, HK_CAUSE_STITCH);
    assert_true(named || find(stages.need, HK_CAUSE_ONE_DAY));
    stages_free(stages);
    return named;
}

/*
 * A stitch that takes a twentieth of the yarn gets its own swatch, and a smaller share does not. A double crochet of 2
 * loops and 2 wraps of 2/3 is 3.33 loops, with 31 single crochet of 2 loops 5.1% and with 32 4.95%; the heavy swatch
 * makes single crochet a tenth longer, which moves the limit to between 28 and 29.
 */
static void a_twentieth_of_the_yarn_makes_a_stitch_matter(void **state)
{
    assert_true(another_stitch_is_named(*state, 28));
    assert_false(another_stitch_is_named(*state, 29));
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(with_nothing_weighed_a_swatch_is_the_remedy),
        cmocka_unit_test(a_coarse_scale_is_most_of_it),
        cmocka_unit_test(a_second_swatch_takes_away_part_of_the_first_ones_day),
        cmocka_unit_test(several_swatches_weighed_together_do_as_well_as_a_finer_scale),
        cmocka_unit_test(a_scale_that_may_be_off_is_coarse_however_finely_it_is_read),
        cmocka_unit_test(many_coarse_swatches_are_each_tried_on_a_fine_scale),
        cmocka_unit_test(a_swatch_weighed_again_says_its_grist_anew),
        cmocka_unit_test(one_fabric_on_a_chain_and_from_a_ring_is_two_swatches),
        cmocka_unit_test(a_finished_piece_tells_what_no_swatch_can),
        cmocka_unit_test(a_piece_in_several_roles_is_asked_for_by_role),
        cmocka_unit_test(a_full_ball_tells_what_a_label_weighs),
        cmocka_unit_test(no_swatch_is_asked_of_what_cannot_be_one),
        cmocka_unit_test(a_swatch_from_a_ring_is_asked_for_in_rounds),
        cmocka_unit_test(a_stitch_that_no_swatch_has_is_named_in_the_projects_terms),
        cmocka_unit_test(a_tool_that_no_swatch_has_is_named),
        cmocka_unit_test(a_yarn_that_no_swatch_has_is_named),
        cmocka_unit_test(a_swatch_of_another_craft_is_as_nothing),
        cmocka_unit_test(no_swatch_is_asked_of_a_fabric_that_shapes),
        cmocka_unit_test(the_labels_grist_is_a_cause_where_a_swatch_can_be_unravelled),
        cmocka_unit_test(causes_stand_by_share_what_nothing_narrows_last_and_none_is_too_small_to_show),
        cmocka_unit_test(it_speaks_of_the_middle_size),
        cmocka_unit_test(skipped_stitches_are_none_of_a_new_swatch),
        cmocka_unit_test(a_stitch_without_an_abbreviation_is_asked_for_by_name),
        cmocka_unit_test(a_swatch_of_unknown_rows_is_only_weighed_again),
        cmocka_unit_test(a_twentieth_of_the_yarn_makes_a_stitch_matter),
    };
    return cmocka_run_group_tests_name("why", tests, catalogue_set_up, catalogue_tear_down);
}
