/* SPDX-License-Identifier: GPL-3.0-or-later */
/* hankful materials: the block of a published pattern, as text, Markdown, a piece of HTML, CSV or JSON. */
#include "materials_writer.h"
#include "findings.h"
#include "grading.h"

static void report_missing(const struct hk_materials *materials, struct text *text)
{
    if (materials->gauge_count && materials->measure_count)
        return;
    text_gap(text);
    text_heading(text, "Missing from the block");
    if (!materials->gauge_count)
        text_item(text, "%s: no swatch worked with a tool of the design has one; write its gauge into swatches.csv",
                  materials->uk ? "tension" : "gauge");
    if (!materials->measure_count)
        text_item(text, "finished size: write the finished measurements into grade.csv, with yes in the column print; "
                        "without them it is printed only of pieces that run straight through, in a fabric whose swatch has "
                        "a gauge");
}

/*
 * Notes for the designer that readers do not need: below the text, or on standard error when the output is for pasting.
 */
static void print_private(const struct work *work, const struct hk_materials *materials, bool apart, struct text *text)
{
    if (materials->gauge_count && materials->measure_count && !findings_any(&work->diags, HK_SEVERITY_NOTE))
        return;
    if (apart)
        text_gap(text);
    text_heading(text, "For you, not for the pattern");
    report_missing(materials, text);
    grading_print(work, pipeline_sizes(work), text);
    findings_assumed_but(text, &work->diags, work->folder.path, HK_CODE_LENGTHS);
}

static enum outcome print_text(const struct work *work, const struct hk_materials *materials,
                               const struct options *options, FILE *out)
{
    struct text text = text_to(out, options->width);
    const enum outcome outcome = block_text(materials, &text);
    if (outcome != DONE)
        return outcome;
    print_private(work, materials, true, &text);
    return text_outcome(&text);
}

static enum outcome print_pasted(const struct work *work, const struct hk_materials *materials,
                                 const struct options *options, FILE *out)
{
    struct text beside = text_to(stderr, options->width);
    enum outcome outcome = DONE;
    if (options->given & OPTION_MARKDOWN)
        outcome = block_markdown(materials, out);
    else if (options->given & OPTION_HTML)
        outcome = block_html(materials, out);
    else
        outcome = block_csv(work, materials, out);
    beside.colour = false;
    if (outcome != DONE)
        return outcome;
    print_private(work, materials, false, &beside);
    return text_outcome(&beside);
}

static enum outcome print(const struct work *work, const struct hk_materials *materials, const struct options *options,
                          FILE *out)
{
    if (options->given & OPTION_JSON)
        return block_json(work, materials, out);
    if (options->given & (OPTION_MARKDOWN | OPTION_HTML | OPTION_CSV))
        return print_pasted(work, materials, options, out);
    return print_text(work, materials, options, out);
}

/* The command accepts only one output format. */
static bool one_format(const struct options *options)
{
    static const uint64_t formats[] = {OPTION_JSON, OPTION_MARKDOWN, OPTION_HTML, OPTION_CSV};
    int asked = 0;
    for (size_t i = 0; i < sizeof formats / sizeof formats[0]; i++)
        asked += (options->given & formats[i]) != 0;
    if (asked > 1)
        complain("one of --markdown, --html, --csv and --json at a time");
    return asked <= 1;
}

enum outcome cmd_materials(const struct options *options, FILE *out)
{
    struct work work = {0};
    struct hk_materials_options wanted = hk_materials_defaults();
    if (!one_format(options))
        return MISUSED;
    wanted.terms = (enum hk_terms_wanted)options->terms;
    wanted.plain = options->given & OPTION_PLAIN;
    if (options->round > 0)
        wanted.round_to = options->round;
    enum outcome outcome = pipeline_project(&work, options, pipeline_folder(options), STAGE_NEED);
    struct hk_diags diags = {0};
    hk_diags_accept_as(&diags, &work.diags);
    struct hk_materials *materials = outcome == DONE ? hk_materials_make(work.need, wanted, &diags) : NULL;
    findings_print(&diags, work.folder.path);
    if (outcome == DONE)
        outcome = findings_outcome(&diags);
    if (materials && outcome == DONE)
        outcome = print(&work, materials, options, out);
    hk_materials_free(materials);
    hk_diags_free(&diags);
    pipeline_free(&work);
    return outcome;
}
