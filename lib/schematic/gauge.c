/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The swatch whose gauge a line is drawn by: one of its fabric, as for lengths. Else one in the line's yarn and with
 * its tool, worked in one plain stitch, if the line is worked in this stitch alone, with its increases, decreases and
 * chain spaces; of knitting only if both are rows or both are rounds.
 */
#include "schematic/gauge.h"

#include "base/text.h"
#include "schematic/way.h"

bool hk_text_one_loop(const char *text)
{
    static const char *const words[] = {"BLO",       "FLO",        "BL only",    "FL only",
                                        "back loop", "front loop", "third loop", "3rd loop"};
    for (const char *c = text; *c; c++)
        for (size_t i = 0; i < sizeof words / sizeof *words; i++)
            if (hk_text_starts(c, words[i]))
                return true;
    return false;
}

/* The search for the only stitch of a fabric. */
struct only {
    const struct hk_catalogue *catalogue;
    size_t base; /* SIZE_MAX: none yet */
    bool shaped; /* increases, decreases and chain spaces are allowed */
};

static bool stitch_fits(struct only *only, const struct hk_step *step)
{
    if (step->stitch == HK_STITCH_INC || step->stitch == HK_STITCH_DEC)
        return only->shaped;
    const struct hk_stitch *stitch = &only->catalogue->stitches[step->stitch];
    if (step->where.what == HK_WHAT_BELOW || step->where.what == HK_WHAT_OTHER)
        return false;
    if (only->base == SIZE_MAX)
        only->base = stitch->base;
    bool plain = stitch->base == step->stitch && !step->stitch_inc;
    return stitch->base == only->base &&
           (plain || (only->shaped && (step->stitch_inc || stitch->needs != stitch->leaves)));
}

static bool steps_fit(struct only *only, const struct hk_step *steps, size_t count)
{
    bool fits = true;
    for (size_t i = 0; i < count && fits; i++) {
        const struct hk_step *step = &steps[i];
        switch (step->kind) {
        case HK_STEP_STITCH:
            fits = stitch_fits(only, step);
            break;
        case HK_STEP_CHAIN:
            fits = only->shaped;
            break;
        case HK_STEP_GROUP:
            fits = only->shaped && steps_fit(only, step->steps, step->step_count);
            break;
        case HK_STEP_TURNING:
        case HK_STEP_REPEAT:
            fits = steps_fit(only, step->steps, step->step_count);
            break;
        case HK_STEP_SKIP:
        case HK_STEP_CUT:
        case HK_STEP_LEAVE:
        case HK_STEP_OTHER_SIDE:
            fits = false;
            break;
        default:
            break;
        }
    }
    return fits;
}

/* Returns the only stitch of a fabric; SIZE_MAX: it has several, or is worked into one loop. */
static size_t only_stitch(const struct hk_project *project, const struct hk_fabric *fabric, bool shaped)
{
    struct only only = {project->catalogue, SIZE_MAX, shaped};
    for (size_t r = 0; r < fabric->setup_count + fabric->cycle_count; r++) {
        const struct hk_row *row = &fabric->rows[r];
        if (!row->text || hk_text_one_loop(row->text->text) || !steps_fit(&only, row->steps, row->step_count))
            return SIZE_MAX;
    }
    return only.base;
}

static bool has_yarn(const struct hk_stripes *line, const struct hk_stripes *swatch)
{
    for (size_t i = 0; i < line->count; i++)
        for (size_t j = 0; j < swatch->count; j++)
            if (line->stripes[i].combination == swatch->stripes[j].combination)
                return true;
    return false;
}

/* Returns the first swatch of the same stitch, one that is worked in the same way first. */
static const struct hk_swatch *swatch_alike(const struct hk_project *project, size_t line, size_t stitch)
{
    const struct hk_line *of = &project->lines[line];
    bool rounds =
        (of->written ? hk_fabric_way(of->fabric) == HK_WAY_ROUNDS : hk_drawn_way(project, line) == HK_DRAWN_ROUNDS);
    bool crochet = project->catalogue->stitches[stitch].family == HK_FAMILY_CROCHET;
    const struct hk_swatch *other = NULL;
    for (size_t i = 0; i < project->swatch_count; i++) {
        const struct hk_swatch *swatch = &project->swatches[i];
        if (swatch->gauge_stitches <= 0 || swatch->gauge_rows <= 0 || swatch->tool_mm != of->tool_mm ||
            !has_yarn(&of->yarn, &swatch->yarn) || only_stitch(project, swatch->fabric, false) != stitch)
            continue;
        if ((hk_fabric_way(swatch->fabric) == HK_WAY_ROUNDS) == rounds)
            return swatch;
        other = other || !crochet ? other : swatch;
    }
    return other;
}

const struct hk_swatch *hk_gauge_drawn(const struct hk_project *project, size_t line, bool rows)
{
    const struct hk_line *of = &project->lines[line];
    if (of->width_gauge && of->height_gauge)
        return rows ? of->height_gauge : of->width_gauge;
    size_t stitch = only_stitch(project, of->fabric, true);
    const struct hk_swatch *alike = stitch == SIZE_MAX ? NULL : swatch_alike(project, line, stitch);
    return alike ? alike : rows ? of->height_gauge : of->width_gauge;
}
