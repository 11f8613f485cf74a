/* SPDX-License-Identifier: GPL-3.0-or-later */
/* hankful report: one page of HTML that needs no network and no script; or its pictures, or the outlines as JSON. */
#include "findings.h"
#include "quote_letter.h"
#include "quote_options.h"
#include "report/report.h"

#include <stdlib.h>

/* The options about a price. */
#define PRICE_OPTIONS (OPTION_PRICE | OPTION_ENDING | OPTION_SURE | OPTION_DEPOSIT | OPTION_USED_YARN)

/* Writes the pictures as files: the page around them is not kept. */
static enum outcome write_pictures(struct report *report, FILE *out)
{
    struct text text = text_to(out, report->options->width);
    char *page = NULL;
    size_t size = 0;
    enum outcome outcome = FAILED;
    report->pictures.folder = report->options->svg;
    report->markup.failed |= !report_take_pictures(report);
    report->markup.out = report->markup.failed ? NULL : open_memstream(&page, &size);
    report->markup.failed |= !report->markup.out;
    if (report->markup.out) {
        report_write(report);
        report->markup.failed |= fclose(report->markup.out) != 0;
    }
    if (report->markup.failed)
        complain("out of memory");
    else
        outcome = report_write_pictures(&report->pictures, &text);
    report_free_pictures(&report->pictures);
    free(page);
    return outcome;
}

static enum outcome write_page(struct report *report, FILE *out)
{
    struct text beside = text_to(stderr, report->options->width);
    report->markup.out = out;
    report_write(report);
    if (report->markup.failed) {
        complain("out of memory");
        return FAILED;
    }
    if (report->cut == REPORT_CLIENT)
        quote_letter_caution(&beside);
    return text_outcome(&beside);
}

static enum outcome print(struct report *report, FILE *out)
{
    if (report->options->given & OPTION_JSON)
        return report_json(report, out);
    return report->options->given & OPTION_SVG ? write_pictures(report, out) : write_page(report, out);
}

/* Ends the command where the cut is nothing without this part; the maker's page says instead why it is missing. */
static enum outcome wanted_part(const struct report *report, const void *part, struct hk_diags *diags)
{
    if (part || report->cut == REPORT_OWN)
        return findings_outcome(diags) == FAILED ? FAILED : DONE;
    findings_print(diags, report->work->folder.path);
    return findings_outcome(diags);
}

/* Makes the parts that the cut has. */
static enum outcome make_parts(struct report *report, const struct hk_quote_options *wanted)
{
    const struct work *work = report->work;
    enum outcome outcome = DONE;
    report->schematic = hk_schematic_make(work->tally, work->size, &report->schematic_diags);
    report->markup.failed |= !report->schematic;
    const bool costs = hk_project_costs(work->project) > 0 || report->options->given & PRICE_OPTIONS;
    if (report->cut == REPORT_CLIENT || (report->cut == REPORT_OWN && costs)) {
        hk_diags_accept_as(&report->quote_diags, &work->diags);
        report->quote = hk_quote_make(work->need, work->shop, work->hours, *wanted, &report->quote_diags);
        outcome = wanted_part(report, report->quote, &report->quote_diags);
    }
    if (outcome == DONE && report->cut != REPORT_CLIENT) {
        struct hk_materials_options options = hk_materials_defaults();
        options.terms = (enum hk_terms_wanted)report->options->terms;
        options.units = (enum hk_units)report->options->units;
        hk_diags_accept_as(&report->materials_diags, &work->diags);
        report->materials = hk_materials_make(work->need, options, &report->materials_diags);
        outcome = wanted_part(report, report->materials, &report->materials_diags);
    }
    return outcome;
}

static void free_parts(struct report *report)
{
    hk_schematic_free(report->schematic);
    hk_materials_free(report->materials);
    hk_quote_free(report->quote);
    hk_diags_free(&report->schematic_diags);
    hk_diags_free(&report->materials_diags);
    hk_diags_free(&report->quote_diags);
}

static enum outcome take_options(const struct work *work, const struct options *options, void *taking)
{
    const enum outcome outcome = quote_options_fill(work, options, taking);
    return outcome == DONE && options->given & OPTION_CLIENT ? quote_one_piece(work, OPTION_CLIENT) : outcome;
}

/* Refuses options that do not fit together. */
static bool options_belong(const struct options *options)
{
    const bool client = options->given & OPTION_CLIENT, pattern = options->given & OPTION_PATTERN;
    bool good = quote_price_options(options);
    if (client && pattern) {
        complain("--client and --pattern are two pages; ask for one of them");
        return false;
    }
    if (client)
        good = options_go_with(options, OPTION_TERMS | OPTION_UNITS, "the block of the pattern, not with --client") &&
               good;
    if (pattern)
        good = options_go_with(options, PRICE_OPTIONS, "a page that has a price, not with --pattern") && good;
    if (options->given & OPTION_JSON)
        good = options_go_with(options, OPTION_SVG, "the page, not with --json") && good;
    return good;
}

enum outcome cmd_report(const struct options *options, FILE *out)
{
    struct quote_asked asked = {.wanted = hk_quote_defaults(HK_QUESTION_COMMISSION)};
    struct work work = {.hours_wanted = true, .take_options = take_options, .taking = &asked};
    struct report report = {.options = options, .work = &work};
    if (!options_belong(options))
        return MISUSED;
    report.cut = options->given & OPTION_CLIENT    ? REPORT_CLIENT
                 : options->given & OPTION_PATTERN ? REPORT_PATTERN
                                                   : REPORT_OWN;
    enum outcome outcome = pipeline_project(&work, options, pipeline_folder(options), STAGE_SHOP);
    if (outcome == DONE)
        outcome = make_parts(&report, &asked.wanted);
    if (outcome == DONE)
        outcome = print(&report, out);
    free_parts(&report);
    pipeline_free(&work);
    free(asked.kits);
    return outcome;
}
