/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Adds one note for each kind of thing (stitches, tools, yarns) in the design but in no swatch, not one for each thing,
 * to keep the list short.
 */
#include "model/assumptions.h"

#include "base/text.h"

/* The number of names shown in a list. */
#define NAMES_MOST 4

/* The names of a list such as "ch, sc or hdc". */
struct names {
    const char *name[NAMES_MOST];
    size_t count;               /* may be above NAMES_MOST, when only the first are stored */
    const struct hk_line *line; /* the line with the first name */
};

static void names_add(struct names *names, const char *name, const struct hk_line *line)
{
    if (names->count == 0)
        names->line = line;
    if (names->count < NAMES_MOST)
        names->name[names->count] = name;
    names->count++;
}

/* Returns a list: "a", "a or b", "a, b or c", "a, b, c, d or 3 more". */
static const char *names_text(const struct names *names, const char *last, struct hk_arena *arena)
{
    size_t shown = names->count < NAMES_MOST ? names->count : NAMES_MOST;
    const char *text = "";
    for (size_t i = 0; i < shown && text; i++) {
        bool closes = i > 0 && i + 1 == names->count;
        const char *between = i == 0 ? "" : closes ? " " : ", ";
        text =
            hk_arena_print(arena, "%s%s%s%s%s", text, between, closes ? last : "", closes ? " " : "", names->name[i]);
    }
    if (text && names->count > shown)
        text = hk_arena_print(arena, "%s %s %zu more", text, last, names->count - shown);
    return text ? text : "";
}

static bool in_evidence(const struct hk_fit *fit, enum hk_family family)
{
    size_t tension = fit->tensions[family];
    return tension != SIZE_MAX && fit->parameters[tension].own;
}

static bool only_in_design(const struct hk_parameter *parameter, enum hk_parameter_kind kind)
{
    return parameter->kind == kind && parameter->line && !parameter->own;
}

static void say(struct hk_diags *diags, const struct names *names, const char *message, const char *hint)
{
    hk_diags_add(diags, HK_CODE_ASSUMPTION, hk_line_place(names->line), "%s", message ? message : "");
    hk_diags_hint(diags, "%s", hint);
}

static void report_nothing_weighed(const struct hk_fit *fit, struct hk_diags *diags)
{
    const struct hk_project *project = fit->tally->project;
    struct hk_place place = {0};
    if (project->swatch_count > 0 && project->swatches[0].cell.table)
        place = hk_table_place(project->swatches[0].cell.table);
    else if (project->line_count > 0 && project->lines[0].written)
        place = (struct hk_place){project->lines[0].at.file, 0, 0};
    else if (project->line_count > 0 && project->lines[0].cell.table)
        place = hk_table_place(project->lines[0].cell.table);
    if (fit->readers.testers > 0)
        hk_diags_add(diags, HK_CODE_ASSUMPTION, place,
                     "nothing of your own was weighed: from the loop rule and what the testers used");
    else
        hk_diags_add(diags, HK_CODE_ASSUMPTION, place, "%s: from the loop rule alone",
                     fit->odd_count > 0 ? "nothing that was weighed counts" : "nothing was weighed");
    hk_diags_hint(diags, "weigh a swatch of the main fabric, with its tool and yarn: the range becomes far narrower");
}

static void report_families(const struct hk_fit *fit, struct hk_arena *arena, struct hk_diags *diags)
{
    static const char *const crafts[HK_FAMILIES] = {
        [HK_FAMILY_CROCHET] = "crochet", [HK_FAMILY_TUNISIAN] = "Tunisian crochet", [HK_FAMILY_KNIT] = "knitting"};
    struct names names = {0};
    for (size_t i = 0; i < fit->count; i++)
        if (only_in_design(&fit->parameters[i], HK_PARAM_TENSION))
            names_add(&names, crafts[fit->parameters[i].key], fit->parameters[i].line);
    if (names.count > 0)
        say(diags, &names,
            hk_arena_print(arena, "no swatch of %s was weighed: the loop rule alone stands in",
                           names_text(&names, "or", arena)),
            "weigh one");
}

static void report_stitches(const struct hk_fit *fit, struct hk_arena *arena, struct hk_diags *diags)
{
    const struct hk_project *project = fit->tally->project;
    struct names names = {0};
    for (size_t i = 0; i < fit->count; i++) {
        if (!only_in_design(&fit->parameters[i], HK_PARAM_STITCH))
            continue;
        const struct hk_stitch *stitch = &project->catalogue->stitches[fit->parameters[i].key];
        const char *name = project->terms == HK_TERMS_UK ? stitch->uk : stitch->us;
        if (in_evidence(fit, stitch->family))
            names_add(&names, name ? name : stitch->name, fit->parameters[i].line);
    }
    if (names.count > 0)
        say(diags, &names,
            hk_arena_print(arena,
                           "no weighed swatch has %s: the count of loops stands in, at the tension of the other "
                           "stitches",
                           names_text(&names, "or", arena)),
            "weigh a swatch of it, if much of the yarn goes there");
}

static bool is_needle(const struct hk_line *line)
{
    return line->fabric && line->fabric->knit;
}

/* Returns true for a line of a craft without any weighing, whose craft is reported instead of its tool. */
static bool stands_on_others(const struct hk_fit *fit, const struct hk_line *line)
{
    return is_needle(line) ? in_evidence(fit, HK_FAMILY_KNIT)
                           : in_evidence(fit, HK_FAMILY_CROCHET) || in_evidence(fit, HK_FAMILY_TUNISIAN);
}

static void report_tools(const struct hk_fit *fit, struct hk_arena *arena, struct hk_diags *diags)
{
    struct names missing = {0}, worked = {0};
    bool hooks = false, needles = false;
    for (size_t i = 0; i < fit->count; i++) {
        const struct hk_parameter *p = &fit->parameters[i];
        if (p->kind != HK_PARAM_TOOL || (!p->own && !stands_on_others(fit, p->line)))
            continue;
        const char *name = hk_arena_print(arena, "%s mm", hk_number_text(p->tool_mm, 4).text);
        names_add(p->own ? &worked : &missing, name ? name : "", p->line);
        if (!p->own) {
            needles = needles || is_needle(p->line);
            hooks = hooks || !is_needle(p->line);
        }
    }
    if (missing.count == 0)
        return;
    const char *kind = hooks && needles ? "tool" : needles ? "needle" : "hook";
    say(diags, &missing,
        hk_arena_print(arena, "no swatch with the %s %s: the %s one%s and the loop rule stand in",
                       names_text(&missing, "or", arena), kind, names_text(&worked, "and", arena),
                       worked.count > 1 ? "s" : ""),
        "weigh a swatch worked with that, if much of the yarn goes there");
}

static void report_blends(const struct hk_fit *fit, struct hk_arena *arena, struct hk_diags *diags)
{
    struct names names = {0};
    for (size_t i = 0; i < fit->count; i++)
        if (only_in_design(&fit->parameters[i], HK_PARAM_BLEND))
            names_add(&names, fit->parameters[i].name, fit->parameters[i].line);
    if (names.count > 0)
        say(diags, &names,
            hk_arena_print(arena, "no swatch in %s: the label and what was weighed in other yarns stand in",
                           names_text(&names, "or", arena)),
            "weigh a swatch in that yarn, if much of the work is in it");
}

static bool was_unravelled(const struct hk_fit *fit, const char *yarn)
{
    for (size_t i = 0; i < fit->evidence; i++) {
        const struct hk_datum *datum = &fit->data[i];
        const struct hk_worked *worked = datum->worked;
        const struct hk_project *project = datum->tally->project;
        for (size_t u = 0; datum->kind == HK_DATUM_GRIST && u < worked->use_count; u++) {
            const struct hk_combination *c = &project->combinations[worked->uses[u].combination];
            for (size_t s = 0; s < c->strand_count; s++)
                if (hk_text_same(project->yarns[c->strands[s].yarn].name, yarn))
                    return true;
        }
    }
    return false;
}

static void report_labels(const struct hk_fit *fit, struct hk_arena *arena, struct hk_diags *diags)
{
    const struct hk_project *project = fit->tally->project;
    const struct hk_folder *folder = &fit->folders[0];
    struct names names = {0};
    struct hk_cell cell = {0};
    for (size_t y = 0; y < project->yarn_count; y++) {
        size_t grist = folder->grists[y];
        if (grist == SIZE_MAX || !fit->parameters[grist].line || was_unravelled(fit, project->yarns[y].name))
            continue;
        if (names.count == 0)
            cell = project->yarns[y].cell;
        names_add(&names, project->yarns[y].name, fit->parameters[grist].line);
    }
    if (names.count == 0)
        return;
    hk_diags_add(diags, HK_CODE_ASSUMPTION, hk_cell_place(cell, 0), "what a metre of %s weighs is taken from the label",
                 names_text(&names, "or", arena));
    hk_diags_hint(diags, "unravel and measure a swatch that was weighed");
}

void hk_assumptions_report(const struct hk_fit *fit, struct hk_diags *diags)
{
    if (fit->evidence == hk_fit_balls(fit) + fit->readers.testers) {
        report_nothing_weighed(fit, diags);
        return;
    }
    struct hk_arena arena = {0};
    report_families(fit, &arena, diags);
    report_stitches(fit, &arena, diags);
    report_tools(fit, &arena, diags);
    report_blends(fit, &arena, diags);
    report_labels(fit, &arena, diags);
    diags->out_of_memory = diags->out_of_memory || arena.out_of_memory;
    hk_arena_free(&arena);
}
