/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tools and gauge of a published pattern: millimetres and trade labels, largest first. */
#include "materials/materials.h"

#include "base/text.h"
#include "project/gauge.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define HALF_STITCH 0.5

/* ---- Tools ---- */

static double thinnest_mm(const struct hk_catalogue *catalogue, enum hk_tool_kind kind)
{
    double thinnest = INFINITY;
    for (size_t i = 0; i < catalogue->tool_count; i++) {
        if (catalogue->tools[i].kind == kind)
            thinnest = fmin(thinnest, catalogue->tools[i].tool_mm);
    }
    return thinnest;
}

/* Returns the trade label; labels of steel hooks, which are for thread, only below the sizes of other hooks. */
static const char *tool_label(const struct hk_writing *w, double tool_mm, bool needle)
{
    const struct hk_catalogue *catalogue = w->project->catalogue;
    const enum hk_tool_kind kind = needle                                       ? HK_TOOL_NEEDLE
                                   : tool_mm < thinnest_mm(catalogue, HK_TOOL_HOOK) ? HK_TOOL_STEEL_HOOK
                                                                                : HK_TOOL_HOOK;
    for (size_t i = 0; i < catalogue->tool_count; i++) {
        const struct hk_tool *tool = &catalogue->tools[i];
        if (tool->tool_mm == tool_mm && tool->kind == kind)
            return tool->label;
    }
    return "";
}

/* Returns the text of a tool: "US H-8 (5 mm) hook", "5 mm (US H-8) hook", "5 mm hook". */
static const char *tool_write(struct hk_writing *w, double tool_mm, const char *label, bool needle)
{
    const char *what = needle ? "needles" : "hook", *mm = hk_printed_number(tool_mm, false, w->arena);
    const char *us = hk_text_starts(label, "US ") ? "" : "US ";
    if (!mm || !*label)
        return hk_arena_print(w->arena, "%s mm %s", mm ? mm : "", what);
    return w->terms == HK_TERMS_US ? hk_arena_print(w->arena, "%s%s (%s mm) %s", us, label, mm, what)
                             : hk_arena_print(w->arena, "%s mm (%s%s) %s", mm, us, label, what);
}

static int tool_order(const void *a, const void *b)
{
    const struct hk_materials_tool *x = a, *y = b;
    if (x->needle != y->needle)
        return x->needle ? 1 : -1;
    return (x->tool_mm < y->tool_mm) - (x->tool_mm > y->tool_mm);
}

/* Returns the index of the tool; count if it is not known. */
static size_t tool_find(const struct hk_materials_tool *tools, size_t count, double tool_mm, bool needle)
{
    size_t i = 0;
    while (i < count && (tools[i].tool_mm != tool_mm || tools[i].needle != needle))
        i++;
    return i;
}

/* Returns false for sewn seams and fringes, which need no hook: they use only cut lengths. */
static bool takes_tool(const struct hk_writing *w, size_t size, size_t line)
{
    const struct hk_worked *worked = hk_writing_worked(w, size, line);
    for (size_t u = 0; u < worked->use_count && worked->times > 0; u++) {
        if (worked->uses[u].kinds.count > 0)
            return true;
    }
    return false;
}

/* Adds ", for S and M only" to a tool that other sizes do without. */
static const char *tool_sizes(struct hk_writing *w, const struct hk_materials_tool *tool)
{
    const char **names = hk_arena_take(w->arena, w->size_count, sizeof *names);
    size_t count = 0;
    for (size_t size = 0; names && size < w->size_count; size++)
        if (tool->uses[size])
            names[count++] = w->face->sizes[size];
    if (!names || count == w->size_count)
        return tool->text;
    const char *list = hk_writing_list(w, names, count);
    return list && tool->text ? hk_arena_print(w->arena, "%s, for %s only", tool->text, list) : tool->text;
}

/* Adds the tool of a line to the list, or the sizes in which the line is worked to a known tool. */
static void tool_add(struct hk_writing *w, struct hk_materials_tool *tools, size_t *count, size_t size, size_t line)
{
    const struct hk_line *of = &w->project->lines[line];
    const bool needle = of->fabric->knit;
    const size_t found = tool_find(tools, *count, of->tool_mm, needle);
    bool *uses = found < *count ? (bool *)tools[found].uses : hk_arena_take(w->arena, w->size_count, sizeof *uses);
    if (!uses)
        return;
    uses[size] = true;
    if (found < *count)
        return;
    const char *label = tool_label(w, of->tool_mm, needle);
    tools[(*count)++] = (struct hk_materials_tool){.tool_mm = of->tool_mm,
                                                   .label = label,
                                                   .needle = needle,
                                                   .uses = uses,
                                                   .text = tool_write(w, of->tool_mm, label, needle)};
}

void hk_materials_tools(struct hk_writing *w)
{
    struct hk_materials_tool *tools = hk_arena_take(w->arena, w->project->line_count, sizeof *tools);
    size_t count = 0;
    for (size_t line = 0; tools && line < w->project->line_count; line++)
        for (size_t size = 0; size < w->size_count; size++)
            if (takes_tool(w, size, line))
                tool_add(w, tools, &count, size, line);
    for (size_t i = 0; i < count; i++)
        tools[i].text = tool_sizes(w, &tools[i]);
    if (tools)
        qsort(tools, count, sizeof *tools, tool_order);
    w->face->tools = tools;
    w->face->tool_count = count;
}

/* ---- Gauge ---- */

/*
 * Returns the gauge as text: "15 sts and 11.5 rows = 10 cm / 4 in of half double crochet, US H-8 (5 mm) hook, washed
 * and dried flat".
 */
static const char *gauge_write(struct hk_writing *w, const struct hk_materials_gauge *gauge, bool needle)
{
    const char *stitches = hk_printed_number(gauge->stitches, false, w->arena);
    const char *rows = gauge->rows > 0 ? hk_printed_number(gauge->rows, false, w->arena) : NULL;
    const char *tool = tool_write(w, gauge->tool_mm, tool_label(w, gauge->tool_mm, needle), needle);
    const char *over = hk_writing_units(w, "10 cm", "4 in");
    return hk_arena_print(w->arena, "%s sts%s%s%s = %s of %s, %s%s%s", stitches ? stitches : "", rows ? " and " : "",
                          rows ? rows : "",
                          !rows           ? ""
                          : gauge->rounds ? " rounds"
                                          : " rows",
                          over ? over : "", gauge->fabric, tool ? tool : "", *gauge->care ? ", " : "", gauge->care);
}

static bool gauge_known(const struct hk_materials_gauge *gauges, size_t count, const char *swatch)
{
    for (size_t i = 0; i < count; i++) {
        if (strcmp(gauges[i].swatch, swatch) == 0)
            return true;
    }
    return false;
}

static void gauge_add(struct hk_writing *w, struct hk_materials_gauge *gauges, size_t *count,
                      const struct hk_swatch *swatch)
{
    if (gauge_known(gauges, *count, swatch->name))
        return;
    struct hk_materials_gauge *gauge = &gauges[(*count)++];
    *gauge = (struct hk_materials_gauge){
        .fabric = hk_writing_fabric(w, swatch->fabric), .care = swatch->care, .swatch = swatch->name,
        .tool_mm = swatch->tool_mm, .stitches = hk_round_near(swatch->gauge_stitches, HALF_STITCH),
        .rows = hk_round_near(swatch->gauge_rows, HALF_STITCH),
        .rounds = hk_writing_swatch_rounds(swatch),
    };
    gauge->text = gauge_write(w, gauge, swatch->fabric->knit);
}

/* Returns the swatch of the line's fabric that states another gauge for the pattern, or none; else its gauge's. */
static const struct hk_swatch *swatch_of(const struct hk_writing *w, const struct hk_line *line)
{
    const struct hk_swatch *named = NULL; /* of several, the nearest in tool, as for the gauge */
    if (line->width_gauge)
        return line->width_gauge;
    for (size_t i = 0; w->project->swatches && i < w->project->swatch_count; i++) {
        const struct hk_swatch *swatch = &w->project->swatches[i];
        if (swatch->fabric == line->fabric && swatch->gauge_as != SIZE_MAX &&
            (!named || fabs(swatch->tool_mm - line->tool_mm) < fabs(named->tool_mm - line->tool_mm)))
            named = swatch;
    }
    return named;
}

/* Writes the gauges of the design's fabrics, each as its swatch states it for the pattern, then those marked for print.
 */
void hk_materials_gauges(struct hk_writing *w)
{
    const struct hk_project *project = w->project;
    struct hk_materials_gauge *gauges =
        hk_arena_take(w->arena, project->line_count + project->swatch_count, sizeof *gauges);
    size_t count = 0;
    for (size_t i = 0; gauges && i < project->line_count; i++) {
        const struct hk_swatch *swatch = hk_writing_uses(w, i) ? swatch_of(w, &project->lines[i]) : NULL;
        if (swatch && swatch->gauge_as != SIZE_MAX)
            swatch = &project->swatches[swatch->gauge_as];
        if (swatch && swatch->print != HK_STATING_NO)
            gauge_add(w, gauges, &count, swatch);
    }
    for (size_t i = 0; gauges && project->swatches && i < project->swatch_count; i++)
        if (project->swatches[i].print == HK_STATING_YES && project->swatches[i].gauge_stitches > 0)
            gauge_add(w, gauges, &count, &project->swatches[i]);
    w->face->gauges = gauges;
    w->face->gauge_count = count;
}
