/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Is a 95% bound on the grams held (makers.h)? Swatches and pieces on a scale that is read in whole steps, then the garment. */
#include "makers.h"

#include "chance.h"

#include <gsl/gsl_math.h>
#include <gsl/gsl_randist.h>

static double take_g(const struct maker *maker, const struct hk_worked *worked, double day)
{
    const struct hk_project *project = &maker->design->project;
    double length_m = 0;
    for (size_t u = 0; u < worked->use_count; u++) {
        const struct hk_use *use = &worked->uses[u];
        double strand_m = hk_fit_length_m(maker->fit, maker->x, &maker->design->tally, use->combination, worked->tool_mm,
                                          use->kinds, 0, NULL);
        for (int64_t copy = 0; copy < worked->times; copy++) {
            double piece = gsl_ran_gaussian(maker->rng, project->spreads.piece);
            length_m += exp(day + piece) * strand_m + use->ends[0] * project->tail_m + use->cut_m;
        }
    }
    return exp(maker->x[hk_fit_find(maker->fit, HK_GRIST, 0, 0, "main")]) * length_m;
}

static void weigh_swatch(struct hk_swatch *swatch, double mass_g)
{
    swatch->mass_g = swatch->scale_step_g * floor(mass_g / swatch->scale_step_g + 0.5);
    assert_true(swatch->mass_g > 0);
}

static void weigh_progress(struct hk_progress *progress, double mass_g)
{
    progress->mass_g = floor(mass_g + 0.5);
}

static double enough_g(const struct hk_fit *fit, size_t size, double *spread)
{
    struct hk_diags diags = {0};
    struct hk_need_options options = hk_need_defaults();
    options.size = size;
    struct hk_need *need = hk_need_predict(fit, options, &diags);
    assert_non_null(need);
    double bound_g = need->roles[0].mass_g.enough;
    *spread = need->roles[0].spread_mass;
    hk_diags_free(&diags);
    hk_need_free(need);
    return bound_g;
}

static const struct measure grams = {
    .fit = hk_fit_make, .bound = enough_g, .take = take_g, .read_swatch = weigh_swatch, .read_progress = weigh_progress,
    .day_sd = 0.03, .seed = 1854,
};

/* A swatch as the loop rule would have it weigh; each maker's own reading takes its place. */
static void add_swatch(struct handmade *h, size_t stitch, double tool_mm, double count, double step_g)
{
    handmade_swatch(h, "square", tool_mm, 20, step_g, (struct handmade_use){0, stitch, count, 20, 2, 0});
}

static void bounds_hold_with_nothing_weighed(void **state)
{
    (void)state;
    struct handmade h;
    makers_garment(&h, 1);
    assert_calibrated(&h, &grams, "nothing weighed");
}

static void bounds_hold_after_one_swatch_on_a_1_g_scale(void **state)
{
    (void)state;
    struct handmade h;
    makers_garment(&h, 1);
    add_swatch(&h, DC, 5, 400, 1);
    assert_calibrated(&h, &grams, "one swatch, 1 g scale");
}

static void bounds_hold_after_one_swatch_on_a_tenth_of_a_gram_scale(void **state)
{
    (void)state;
    struct handmade h;
    makers_garment(&h, 1);
    add_swatch(&h, DC, 5, 400, 0.1);
    assert_calibrated(&h, &grams, "one swatch, 0.1 g scale");
}

static void bounds_hold_after_two_swatches_of_different_stitches(void **state)
{
    (void)state;
    struct handmade h;
    makers_garment(&h, 1);
    add_swatch(&h, DC, 5, 400, 1);
    add_swatch(&h, SC, 4, 500, 0.1);
    assert_calibrated(&h, &grams, "two swatches");
}

static void bounds_hold_in_another_size_after_two_weighed_pieces(void **state)
{
    (void)state;
    struct handmade h;
    struct in_hand in_hand;
    makers_garment(&h, 2);
    makers_take_in_hand(&h, &in_hand, (struct hk_progress){.mass_g = 100, .scale_step_g = 1},
                        (struct hk_so_far){.weighed = true});
    assert_calibrated(&h, &grams, "two pieces of another size");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(bounds_hold_with_nothing_weighed),
        cmocka_unit_test(bounds_hold_after_one_swatch_on_a_1_g_scale),
        cmocka_unit_test(bounds_hold_after_one_swatch_on_a_tenth_of_a_gram_scale),
        cmocka_unit_test(bounds_hold_after_two_swatches_of_different_stitches),
        cmocka_unit_test(bounds_hold_in_another_size_after_two_weighed_pieces),
    };
    return cmocka_run_group_tests_name("calibration", tests, NULL, NULL);
}
