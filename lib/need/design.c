/* SPDX-License-Identifier: GPL-3.0-or-later */
/* All stages from the tables to the need, in one call. */
#include "hankful.h"

#include <stdlib.h>

struct hk_design {
    struct hk_catalogue *catalogue;
    struct hk_project *project;
    struct hk_tally *tally;
    struct hk_fit *fit;
    struct hk_need *need;
};

struct hk_design *hk_design_read(const struct hk_source *tables, const struct hk_source *folder, struct hk_need_options options,
                                 struct hk_diags *diags)
{
    struct hk_design *design = calloc(1, sizeof *design);
    if (!design) {
        hk_diags_set_out_of_memory(diags);
        return NULL;
    }
    design->catalogue = hk_catalogue_read(tables, diags);
    if (design->catalogue)
        design->project = hk_project_read(folder, design->catalogue, diags);
    if (design->project)
        design->tally = hk_tally_count(design->project, diags);
    if (design->tally)
        design->fit = hk_fit_make(design->tally, diags);
    if (design->fit)
        design->need = hk_need_predict(design->fit, options, diags);
    if (design->need)
        return design;
    hk_design_free(design);
    return NULL;
}

void hk_design_free(struct hk_design *design)
{
    if (!design)
        return;
    hk_need_free(design->need);
    hk_fit_free(design->fit);
    hk_tally_free(design->tally);
    hk_project_free(design->project);
    hk_catalogue_free(design->catalogue);
    free(design);
}

const struct hk_catalogue *hk_design_catalogue(const struct hk_design *design)
{
    return design->catalogue;
}

const struct hk_project *hk_design_project(const struct hk_design *design)
{
    return design->project;
}

const struct hk_tally *hk_design_tally(const struct hk_design *design)
{
    return design->tally;
}

const struct hk_fit *hk_design_fit(const struct hk_design *design)
{
    return design->fit;
}

const struct hk_need *hk_design_need(const struct hk_design *design)
{
    return design->need;
}
