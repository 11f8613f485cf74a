/* SPDX-License-Identifier: GPL-3.0-or-later */
/* hankful report: one page of HTML that needs no network and no script. */
#include "findings.h"
#include "json.h"
#include "report/page.h"

#include <stdlib.h>
#include <string.h>

/*
 * The style of the page: one column on a telephone, light and dark, and for print black on white with everything
 * unfolded. Tables scroll by themselves, the page never does.
 */
static const char style[] =
    ":root{color-scheme:light dark;--paper:#fdfcf9;--ink:#1d2327;--faint:#5c666d;--line:#c9ced2;--accent:#8a2f1d}"
    "@media(prefers-color-scheme:dark){:root{--paper:#15191c;--ink:#e8eaec;--faint:#a9b2b9;--line:#3b444b;--accent:#ffb199}}"
    "*{box-sizing:border-box}"
    "body{margin:0;background:var(--paper);color:var(--ink);font:1rem/1.5 system-ui,sans-serif;overflow-wrap:anywhere}"
    "main,header,footer{max-width:46rem;margin:0 auto;padding:0 1rem}"
    "h1{font-size:1.6rem;line-height:1.2;margin:1.5rem 0 .5rem}"
    "h2{font-size:1.25rem;margin:2.2rem 0 .4rem;border-bottom:1px solid var(--line)}"
    "h3{font-size:1.05rem;margin:1.2rem 0 .3rem}h4{font-size:1rem;margin:.8rem 0 .2rem}"
    "a{color:var(--accent)}nav ul{list-style:none;padding:0;display:flex;flex-wrap:wrap;gap:.3rem 1rem}"
    ".wide{overflow-x:auto;max-width:100%}.wide:focus{outline:2px solid var(--accent)}"
    "table{border-collapse:collapse;margin:.4rem 0}caption{text-align:left;color:var(--faint);font-size:.9rem}"
    "th,td{padding:.15rem .6rem;border-bottom:1px solid var(--line);text-align:left;vertical-align:top;overflow-wrap:normal}"
    ".number{text-align:right;font-variant-numeric:tabular-nums;white-space:nowrap}thead th{font-weight:600}"
    "tbody th{font-weight:400}svg{display:block;width:100%;max-width:34rem;height:auto;margin:.4rem 0}"
    ".ticks{list-style:none;padding-left:0}.ticks li::before,.tick::before{content:'\\2610\\a0'}"
    "code{font-size:.9em;color:var(--faint)}details{margin:.4rem 0}summary{cursor:pointer;color:var(--accent)}"
    "@page{margin:15mm}@media print{:root{--paper:#fff;--ink:#000;--faint:#333;--line:#999;--accent:#000}"
    "body{font-size:10pt}nav,summary{display:none}main,header,footer{max-width:none;padding:0}"
    "h2,h3,h4{break-after:avoid}svg,tr,li{break-inside:avoid}.wide{overflow:visible}"
    "details::details-content{content-visibility:visible;block-size:auto}}";

/* A section of the page, and the cuts that have it. */
static const struct {
    void (*write)(struct report *report);
    const char *id, *heading;
    unsigned cuts;
} sections[] = {
    {report_answer, "answer", "Yarn to have", 1 << REPORT_OWN},
    {report_shopping, "shopping", "What to buy", 1 << REPORT_OWN},
    {report_ranges, "ranges", "How sure the amounts are", 1 << REPORT_OWN},
    {report_risks, "risks", "A ball more or fewer", 1 << REPORT_OWN},
    {report_balls, "balls", "Where each ball ends", 1 << REPORT_OWN},
    {report_where, "where", "Where the yarn goes", 1 << REPORT_OWN},
    {report_shapes, "shapes", "The pieces, to scale", 1 << REPORT_OWN | 1 << REPORT_PATTERN},
    {report_rows, "rows", "Stitches after every row", 1 << REPORT_OWN | 1 << REPORT_PATTERN},
    {report_notes, "notes", "What this rests on", 1 << REPORT_OWN},
};

static void write_head(struct report *report, const char *title)
{
    struct markup *markup = &report->markup;
    markup_plain(markup, "<!DOCTYPE html>\n");
    markup_open(markup, "html", "lang", "en", NULL);
    markup_open(markup, "head", NULL);
    markup_leaf(markup, "meta", "charset", "utf-8", NULL);
    markup_leaf(markup, "meta", "name", "viewport", "content", "width=device-width, initial-scale=1", NULL);
    markup_element(markup, "title", title, NULL);
    markup_open(markup, "style", NULL);
    markup_plain(markup, style);
    markup_plain(markup, svg_style);
    markup_close(markup, "style");
    markup_close(markup, "head");
}

static void write_page(struct report *report)
{
    struct markup *markup = &report->markup;
    const char *title = hk_project_title(report->work->project);
    write_head(report, title);
    markup_open(markup, "body", NULL);
    markup_open(markup, "header", NULL);
    markup_element(markup, "h1", title, NULL);
    markup_open(markup, "nav", "aria-label", "Sections", NULL);
    markup_open(markup, "ul", NULL);
    for (size_t i = 0; i < sizeof sections / sizeof sections[0]; i++) {
        if (!(sections[i].cuts & 1U << report->cut))
            continue;
        char *link = text_format("#%s", sections[i].id);
        markup->failed |= !link;
        markup_open(markup, "li", NULL);
        markup_element(markup, "a", sections[i].heading, "href", link ? link : "", NULL);
        markup_close(markup, "li");
        free(link);
    }
    markup_close(markup, "ul");
    markup_close(markup, "nav");
    markup_close(markup, "header");
    markup_open(markup, "main", NULL);
    for (size_t i = 0; i < sizeof sections / sizeof sections[0]; i++)
        if (sections[i].cuts & 1U << report->cut)
            sections[i].write(report);
    markup_close(markup, "main");
    markup_close(markup, "body");
    markup_close(markup, "html");
}

/* Writes the pictures as files: the page around them is not kept. */
static enum outcome write_pictures(struct report *report, const struct options *options, FILE *out)
{
    struct pictures pictures = {.folder = options->svg};
    struct text text = text_to(out, options->width);
    char *page = NULL;
    size_t size = 0;
    enum outcome outcome = FAILED;
    report->pictures = &pictures;
    report->markup.out = open_memstream(&page, &size);
    report->markup.failed |= !report->markup.out;
    if (report->markup.out) {
        write_page(report);
        report->markup.failed |= fclose(report->markup.out) != 0;
    }
    if (report->markup.failed)
        complain("out of memory");
    else
        outcome = report_write_pictures(&pictures, &text);
    report_free_pictures(&pictures);
    free(page);
    return outcome;
}

static enum outcome write_report(struct report *report, const struct options *options, FILE *out)
{
    if (options->given & OPTION_SVG)
        return write_pictures(report, options, out);
    write_page(report);
    if (report->markup.failed)
        complain("out of memory");
    return report->markup.failed ? FAILED : DONE;
}

static const char *outline_name(enum hk_outline outline)
{
    static const char *const names[] = {[HK_OUTLINE_UNKNOWN] = "unknown",
                                        [HK_OUTLINE_FLAT] = "flat",
                                        [HK_OUTLINE_TUBE] = "tube",
                                        [HK_OUTLINE_DISC] = "disc",
                                        [HK_OUTLINE_POLYGON] = "polygon"};
    return names[outline];
}

static const char *at_name(enum hk_measured_at at)
{
    static const char *const names[] = {[HK_MEASURED_WHOLE] = "whole",
                                        [HK_MEASURED_START] = "start",
                                        [HK_MEASURED_WITHIN] = "within",
                                        [HK_MEASURED_PART] = "part",
                                        [HK_MEASURED_END] = "end"};
    return names[at];
}

static json_t *piece_json(struct json *json, const struct report *report, const struct hk_schematic_piece *piece)
{
    json_t *object = json_make_object(json), *points = json_make_array(json), *measures = json_make_array(json);
    json_put_text(json, object, "piece", piece->piece);
    json_put_text(json, object, "part", piece->part);
    json_put_text(json, object, "size", hk_project_size(report->work->project, piece->size));
    json_put_whole(json, object, "copies", piece->copies);
    json_put_text(json, object, "outline", outline_name(piece->outline));
    json_put_text(json, object, "why", piece->why);
    for (size_t i = 0; i < piece->point_count; i++) {
        json_t *point = json_make_object(json);
        json_put_real(json, point, "x_cm", 100 * piece->points[i].x_m);
        json_put_real(json, point, "y_cm", 100 * piece->points[i].y_m);
        json_add(json, points, point);
    }
    for (size_t i = 0; i < piece->measure_count; i++) {
        json_t *measure = json_make_object(json);
        json_put_text(json, measure, "letter", report_shape_letter(piece->measures[i].letter).text);
        json_put_text(json, measure, "measured", report_measured_name(&piece->measures[i]));
        json_put_text(json, measure, "at", at_name(piece->measures[i].at));
        json_put_text(json, measure, "part", piece->measures[i].part);
        json_put_bool(json, measure, "rows", piece->measures[i].rows);
        json_put_whole(json, measure, "count", piece->measures[i].count);
        json_put_real(json, measure, "length_cm", 100 * piece->measures[i].length_m);
        json_add(json, measures, measure);
    }
    json_put(json, object, "points_cm", points);
    json_put_real(json, object, "radius_cm", 100 * piece->radius_m);
    json_put(json, object, "measures", measures);
    return object;
}

/* The outlines: all other figures of the page are in the JSON of the other commands. */
static enum outcome report_json(const struct report *report, FILE *out)
{
    struct json json = {.failed = report->markup.failed};
    json_t *answer = json_make_answer(&json), *pieces = json_make_array(&json);
    json_put_text(&json, answer, "project", hk_project_title(report->work->project));
    for (size_t i = 0; report->schematic && i < report->schematic->piece_count; i++)
        json_add(&json, pieces, piece_json(&json, report, &report->schematic->pieces[i]));
    json_put(&json, answer, "schematic", pieces);
    return json_write(&json, answer, out);
}

enum outcome cmd_report(const struct options *options, FILE *out)
{
    struct work work = {0};
    enum outcome outcome = pipeline_project(&work, options, pipeline_folder(options), STAGE_SHOP);
    struct hk_diags diags = {0};
    struct report report = {.markup = {.out = out}, .work = &work};
    if (outcome == DONE) {
        struct hk_schematic *schematic = hk_schematic_make(work.tally, work.size, &diags);
        report.schematic = schematic;
        report.markup.failed = !schematic;
        outcome = options->given & OPTION_JSON ? report_json(&report, out) : write_report(&report, options, out);
        hk_schematic_free(schematic);
    }
    hk_diags_free(&diags);
    pipeline_free(&work);
    return outcome;
}
