/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Decides whether a yarn can replace the planned one: a common category, similar thickness, and stitches of the same
 * size with the planned tool or another tool of the trade. Also compares the moisture allowances of the fibres.
 */
#include "compare/compare.h"

#include "catalogue/moisture.h"

#include <gsl/gsl_math.h>
#include <string.h>

/* Stitches this much larger or smaller keep the gauge: half a stitch in 16 over 10 cm. From experience, no source. */
#define GAUGE_KEPT 0.03
/*
 * A yarn thicker by more than this than the planned one, or the reverse, makes another fabric. From experience, no
 * source.
 */
#define THICKNESS_KEPT 0.25
/* A difference of allowances that is visible on a scale in damp air. From experience, no source. */
#define DAMP_APART 0.03
#define CATEGORIES_MOST 16

/* ---- Categories, moisture ------------------------------------------------------------------------------------------ */

/* Returns a bit set of the categories that fit the thickness, and of the one stated on the label. */
static unsigned categories_of(const struct hk_comparing *c, double diameter_mm, const char *stated)
{
    const struct hk_catalogue *catalogue = c->work.project->catalogue;
    const struct hk_category *label = hk_category_find(catalogue, stated);
    unsigned set = 0;
    for (size_t i = 0; i < catalogue->category_count && i < CATEGORIES_MOST; i++) {
        const struct hk_category *category = &catalogue->categories[i];
        if (hk_category_holds(catalogue, category, HK_MM_PER_INCH / diameter_mm) || category == label)
            set |= 1u << i;
    }
    return set;
}

static const char *set_text(struct hk_comparing *c, unsigned set)
{
    const struct hk_catalogue *catalogue = c->work.project->catalogue;
    bool keep = set < sizeof c->sets / sizeof c->sets[0];
    const char *text = keep ? c->sets[set] : NULL;
    if (text)
        return text;
    text = "";
    for (size_t i = 0; i < catalogue->category_count && i < CATEGORIES_MOST && text; i++) {
        if (set & 1u << i)
            text = hk_arena_print(c->arena, "%s%s%s %s", text, *text ? ", " : "",
                                  catalogue->categories[i].name, catalogue->categories[i].label);
    }
    if (keep)
        c->sets[set] = text;
    return text ? text : "";
}

/*
 * Returns the moisture of a label from a hash table of the last labels (D. J. Bernstein's hash), since many yarns in a
 * list have the same label.
 */
static const struct hk_known_fibre *moisture_of(struct hk_comparing *c, const char *words)
{
    uint32_t hash = 5381;
    for (const char *word = words; *word; word++)
        hash = hash * 33 + (unsigned char)*word;
    struct hk_known_fibre *known = &c->fibres[hash % HK_FIBRES_KEPT];
    if (!known->words || strcmp(known->words, words) != 0) {
        *known = (struct hk_known_fibre){words, -1, -1};
        hk_moisture_allowance(c->work.project->catalogue, words, &known->low, &known->high);
    }
    return known;
}

/* For a pair: the mean weighted by mass. */
static void fill_moisture(struct hk_comparing *c, struct hk_compare_row *row)
{
    row->moisture_low = row->moisture_high = 0;
    for (size_t i = 0; i < row->yarn_count; i++) {
        double share = row->yarns[i].mass_g.likely / row->mass_g;
        const struct hk_known_fibre *fibre = moisture_of(c, row->yarns[i].fibre);
        if (fibre->low < 0) {
            row->moisture_low = row->moisture_high = -1;
            return;
        }
        row->moisture_low += share * fibre->low;
        row->moisture_high += share * fibre->high;
    }
    double apart = row->moisture_low + row->moisture_high - c->plan_fibre.low - c->plan_fibre.high;
    row->damp = c->plan_fibre.low >= 0 && fabs(apart) / 2 >= DAMP_APART;
}

/* ---- Tools --------------------------------------------------------------------------------------------------------- */

static bool kept(double stitch_size)
{
    return fabs(log(stitch_size)) <= log1p(GAUGE_KEPT);
}

/* Returns the trade tool of the craft with which the stitch size changes least; NULL if there is none. *size: its ratio. */
static const struct hk_tool *nearest_tool(const struct hk_comparing *c, double diameter_mm2, double *size)
{
    const struct hk_catalogue *catalogue = c->work.project->catalogue;
    const struct hk_group *group = &c->work.groups[c->work.main];
    const struct hk_tool *found = NULL;
    double best = INFINITY;
    for (size_t i = 0; i < catalogue->tool_count; i++) {
        const struct hk_tool *tool = &catalogue->tools[i];
        double ratio = hk_group_ratio(group, diameter_mm2, tool->tool_mm), off = fmax(ratio, 1 / ratio);
        if ((tool->kind == HK_TOOL_NEEDLE) != group->needles || off >= best)
            continue;
        best = off;
        *size = ratio;
        found = tool;
    }
    return found;
}

static const char *tool_label(const struct hk_comparing *c, double tool_mm)
{
    const struct hk_catalogue *catalogue = c->work.project->catalogue;
    for (size_t i = 0; i < catalogue->tool_count; i++) {
        const struct hk_tool *tool = &catalogue->tools[i];
        if (tool->tool_mm == tool_mm && (tool->kind == HK_TOOL_NEEDLE) == c->work.groups[c->work.main].needles)
            return tool->label;
    }
    return "";
}

/* Returns the length of each of its yarns, with all tools of the role changed by more_mm. */
static double keeping_length_m(const struct hk_comparing *c, const struct hk_stand_in *in, double more_mm)
{
    double length_m = c->work.plain_m;
    for (size_t k = 0; k < c->work.group_count; k++) {
        const struct hk_group *group = &c->work.groups[k];
        double tool_mm = fmax(group->tool_mm + more_mm, 0);
        double before = hk_group_ratio(group, in->diameter_mm2, group->tool_mm);
        double now = hk_group_ratio(group, in->diameter_mm2, tool_mm);
        length_m += c->scale[k] * now / before * group->worked_m;
    }
    return (double)in->alike * length_m;
}

static void fill_tool(const struct hk_comparing *c, const struct hk_stand_in *in, struct hk_compare_row *row)
{
    const struct hk_group *group = &c->work.groups[c->work.main];
    row->tool_mm = group->tool_mm;
    row->thickness = sqrt(in->diameter_mm2) / c->plan_mm;
    row->stitch_size = hk_group_ratio(group, in->diameter_mm2, group->tool_mm);
    row->nearest_size = row->stitch_size;
    row->keeping_label = row->nearest_label = "";
    if (kept(row->stitch_size)) {
        row->keeping_tool_mm = row->nearest_tool_mm = group->tool_mm;
        row->keeping_label = row->nearest_label = tool_label(c, group->tool_mm);
        row->keeping_length_m = row->length_m.likely;
        return;
    }
    const struct hk_tool *tool = nearest_tool(c, in->diameter_mm2, &row->nearest_size);
    if (!tool)
        return;
    row->nearest_tool_mm = tool->tool_mm;
    row->nearest_label = tool->label;
    if (!kept(row->nearest_size))
        return;
    row->keeping_tool_mm = tool->tool_mm;
    row->keeping_label = tool->label;
    row->keeping_length_m = keeping_length_m(c, in, tool->tool_mm - group->tool_mm);
}

static void judge(const struct hk_comparing *c, unsigned categories, struct hk_compare_row *row)
{
    bool enough = true;
    for (size_t i = 0; i < row->yarn_count; i++)
        enough &= row->yarns[i].balls > 0;
    row->verdict = HK_VERDICT_DIFFERS;
    if (!enough) {
        row->reason = HK_REASON_BALL_SMALL;
    } else if (!(categories & c->plan_categories)) {
        row->reason = HK_REASON_CATEGORY;
    } else if (fabs(log(row->thickness)) > log1p(THICKNESS_KEPT)) {
        row->reason = HK_REASON_THICKNESS;
    } else if (kept(row->stitch_size)) {
        row->verdict = HK_VERDICT_FITS;
        row->reason = HK_REASON_GAUGE;
    } else if (row->keeping_tool_mm > 0) {
        row->verdict = HK_VERDICT_OTHER_TOOL;
        row->reason = HK_REASON_TOOL;
    } else {
        row->reason = HK_REASON_NO_TOOL;
    }
}

void hk_verdict_plan(struct hk_comparing *c, const struct hk_listed *plan)
{
    c->plan_mm = plan->diameter_mm;
    c->plan_categories = categories_of(c, plan->diameter_mm, plan->category);
    c->plan_fibre = *moisture_of(c, plan->fibre);
}

void hk_verdict_fill(struct hk_comparing *c, const struct hk_stand_in *in, struct hk_compare_row *row)
{
    unsigned categories = categories_of(c, sqrt(in->diameter_mm2), in->count > 1 ? "" : in->yarns[0]->category);
    fill_tool(c, in, row);
    row->categories = set_text(c, categories);
    fill_moisture(c, row);
    judge(c, categories, row);
}
