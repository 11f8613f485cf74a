/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Any files as a project folder, through every stage: an answer of sane figures, or errors. */
#include "fuzz.h"

#include <math.h>

static void check_range(const struct hk_range *range)
{
    fuzz_hold(isfinite(range->high) && isfinite(range->enough));
    fuzz_hold(range->low >= 0 && range->low <= range->likely && range->likely <= range->high);
    fuzz_hold(range->enough >= 0);
}

static void check_need(const struct hk_need *need)
{
    for (size_t i = 0; i < need->role_count; i++) {
        const struct hk_need_role *role = &need->roles[i];
        check_range(&role->length_m);
        check_range(&role->mass_g);
        fuzz_hold(role->stitches >= 0 && role->loops >= 0 && role->balls >= 1);
        fuzz_hold(role->chance >= 0 && role->chance <= 1 && role->spread >= 0 && role->spread_mass >= 0);
    }
    for (size_t i = 0; i < need->part_count; i++)
        fuzz_hold(need->parts[i].share >= 0 && need->parts[i].share <= 1 + 1e-9);
    for (size_t i = 0; i < need->why_count; i++)
        fuzz_hold(isfinite(need->why[i].share) && isfinite(need->why[i].spread_mass_then));
}

static void check_tally(const struct hk_tally *tally, size_t sizes)
{
    for (size_t line = 0; line < hk_tally_lines(tally); line++) {
        for (size_t size = 0; size < sizes; size++) {
            struct hk_line_count count = hk_tally_line(tally, line, size);
            fuzz_hold(count.times >= 0 && count.foundation >= 0);
            for (size_t i = 0; i < count.run_count; i++)
                fuzz_hold(count.runs[i].first >= 1 && count.runs[i].last >= count.runs[i].first);
        }
    }
}

/* Each stage stands on the one before; a stage that gives nothing has said why. */
static void work(const struct hk_project *project, struct hk_diags *diags)
{
    struct hk_tally *tally = hk_tally_count(project, diags);
    struct hk_fit *fit = tally ? hk_fit_make(tally, diags) : NULL;
    struct hk_need *need = fit ? hk_need_predict(fit, hk_need_defaults(), diags) : NULL;
    struct hk_calibration *calibration = fit ? hk_calibration_make(fit, 0.95, diags) : NULL;
    struct hk_shop_options options = hk_shop_defaults();
    options.seconds = FUZZ_SEARCH_S;
    struct hk_shop *shop = need ? hk_shop_plan(need, options, diags) : NULL;
    if (tally)
        check_tally(tally, hk_project_sizes(project));
    if (need)
        check_need(need);
    fuzz_hold(shop || diags->errors > 0);
    fuzz_hold(!fit || calibration || diags->errors > 0);
    hk_shop_free(shop);
    hk_calibration_free(calibration);
    hk_need_free(need);
    hk_fit_free(fit);
    hk_tally_free(tally);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t size)
{
    struct fuzz_folder folder = {0};
    struct hk_diags diags = {0};
    fuzz_folder_split(&folder, bytes, size);
    struct hk_source source = fuzz_source(&folder);
    struct hk_project *project = hk_project_read(&source, fuzz_catalogue(), &diags);
    fuzz_hold((project != NULL) == (diags.errors == 0));
    if (project)
        work(project, &diags);
    fuzz_check_findings(&diags, &folder);
    hk_project_free(project);
    return 0;
}
