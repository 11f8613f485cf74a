/* SPDX-License-Identifier: GPL-3.0-or-later */
/* hankful materials: the block of a published pattern, as text, Markdown, a piece of HTML, CSV or JSON. */
#include "findings.h"
#include "materials_writer.h"
#include "more.h"
#include "number.h"

#include <math.h>
#include <stdlib.h>

/* ---- For the designer, not for the pattern ---- */

static void report_missing(const struct hk_materials *materials, struct text *text)
{
    const char *gauge = materials->uk ? "tension" : "gauge";
    if (!materials->gauge_count)
        text_entry(text,
                   "Missing from the block: %s. No swatch in a fabric of the design has one: write it into "
                   "swatches.csv, or yes into the column print of the swatch that has it.",
                   gauge);
    if (!materials->measure_count)
        text_entry(
            text,
            "Missing from the block: finished size. Write the finished measurements into grade.csv, with yes in the "
            "column print; without them it is printed only of pieces that run straight through, in a fabric "
            "whose swatch has a %s.",
            gauge);
}

/* "From 6 testers: readers take 3% more than you on average, and differ by 5.1% (3.4% to 7.8%) from you." */
static void report_testers(const struct hk_materials *materials, struct text *text)
{
    const double more = round(1000 * materials->readers_more) / 10;
    text_entry(text,
               "From %zu tester%s: readers take %s%% %s than you on average, and differ from you by %s (%s to %s).",
               materials->testers, NUMBER_PLURAL(materials->testers), hk_number_text(fabs(more), 2).text,
               more < 0 ? "less" : "more", number_percent(materials->reader).text,
               number_percent(materials->reader_low).text, number_percent(materials->reader_high).text);
}

/*
 * Notes for the designer that readers do not need: below the text, or on standard error when the output is for pasting.
 */
static void print_private(const struct work *work, const struct hk_materials *materials, const struct options *options,
                          struct text *text)
{
    char *words = block_difference(work, materials, &text->failed);
    if (words || materials->testers || !materials->gauge_count || !materials->measure_count)
        text_gap(text);
    report_missing(materials, text);
    if (materials->testers)
        report_testers(materials, text);
    if (words)
        text_entry(text, "%s", words);
    free(words);
    more_report(text, work, options, 0, HK_CODE_LENGTHS);
}

/* ---- The formats ---- */

static enum outcome print_document(struct document document, const struct work *work,
                                   const struct hk_materials *materials, const struct options *options,
                                   struct text *beside)
{
    if (!block_write(&document, materials)) {
        complain("out of memory");
        return FAILED;
    }
    print_private(work, materials, options, beside);
    return text_outcome(beside);
}

static enum outcome print(const struct work *work, const struct hk_materials *materials, const struct options *options,
                          FILE *out)
{
    const char *project = pipeline_folder(options);
    struct text text = pipeline_text(out, project, options), beside = pipeline_text(stderr, project, options);
    struct markup markup = {.out = out};
    beside.colour = false;
    if (options->given & OPTION_JSON)
        return block_json(work, materials, out);
    if (options->given & OPTION_MARKDOWN)
        return print_document(document_markdown(out), work, materials, options, &beside);
    if (options->given & OPTION_HTML)
        return print_document(document_html(&markup, "materials"), work, materials, options, &beside);
    if (!(options->given & (OPTION_CSV | OPTION_LISTING)))
        return print_document(document_text(&text), work, materials, options, &text);
    if (options->given & OPTION_LISTING)
        text_line(&text, "%s", materials->listing);
    const enum outcome outcome = options->given & OPTION_CSV ? block_csv(work, materials, out) : text_outcome(&text);
    if (outcome != DONE)
        return outcome;
    print_private(work, materials, options, &beside);
    return text_outcome(&beside);
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
    const bool listed =
        options->given & OPTION_LISTING && options->given & (OPTION_MARKDOWN | OPTION_HTML | OPTION_CSV);
    if (listed)
        complain("--listing is text, or in the answer of --json");
    return asked <= 1 && !listed;
}

enum outcome cmd_materials(const struct options *options, FILE *out)
{
    struct work work = {0};
    struct hk_materials_options wanted = hk_materials_defaults();
    if (!one_format(options))
        return MISUSED;
    wanted.terms = (enum hk_terms_wanted)options->terms;
    wanted.units = (enum hk_units)options->units;
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
