/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The frame of the page: its style, its links, and the sections of each cut. */
#include "findings.h"
#include "report/page.h"

#include <stdlib.h>

/*
 * The style of the page: one column on a telephone, light and dark, and for print black on white with everything
 * unfolded. Tables scroll by themselves, the page never does.
 */
static const char style[] =
    ":root{color-scheme:light dark;--paper:#fdfcf9;--ink:#1d2327;--faint:#5c666d;--line:#c9ced2;--accent:#8a2f1d}"
    "@media(prefers-color-scheme:dark){:root{--paper:#15191c;--ink:#e8eaec;--faint:#a9b2b9;--line:#3b444b;--accent:#"
    "ffb199}}"
    "*{box-sizing:border-box}"
    "body{margin:0;background:var(--paper);color:var(--ink);font:1rem/1.5 system-ui,sans-serif;overflow-wrap:anywhere}"
    "main,header,footer{max-width:46rem;margin:0 auto;padding:0 1rem}"
    "h1{font-size:1.6rem;line-height:1.2;margin:1.5rem 0 .5rem}"
    "h2{font-size:1.25rem;margin:2.2rem 0 .4rem;border-bottom:1px solid var(--line)}"
    "h3{font-size:1.05rem;margin:1.2rem 0 .3rem}h4{font-size:1rem;margin:.8rem 0 .2rem}"
    "a{color:var(--accent)}nav ul{list-style:none;padding:0;display:flex;flex-wrap:wrap;gap:.3rem 1rem}"
    ".wide{overflow-x:auto;max-width:100%}.wide:focus{outline:2px solid var(--accent)}"
    "table{border-collapse:collapse;margin:.4rem 0}caption{text-align:left;color:var(--faint);font-size:.9rem}"
    "th,td{padding:.15rem .6rem;border-bottom:1px solid "
    "var(--line);text-align:left;vertical-align:top;overflow-wrap:normal}"
    "td,.figure{text-align:right;font-variant-numeric:tabular-nums;white-space:nowrap}"
    ".words{text-align:left;white-space:normal}thead th{font-weight:600}"
    "tbody th{font-weight:400}svg{display:block;width:100%;max-width:34rem;height:auto;margin:.4rem 0}"
    ".ticks{list-style:none;padding-left:0}.ticks li::before,.tick::before{content:'\\2610\\a0'}"
    "code{font-size:.9em;color:var(--faint)}details{margin:.4rem 0}summary{cursor:pointer;color:var(--accent)}"
    "@page{margin:15mm}@media print{:root{--paper:#fff;--ink:#000;--faint:#333;--line:#999;--accent:#000}"
    "body{font-size:10pt}nav,summary{display:none}main,header,footer{max-width:none;padding:0}"
    "h2,h3,h4{break-after:avoid}svg,tr,li{break-inside:avoid}.wide{overflow:visible}"
    "details::details-content{content-visibility:visible;block-size:auto}}";

static bool has_shop(const struct report *report)
{
    return report->work->shop && report->work->shop->size_count > 0;
}

static bool has_price(const struct report *report)
{
    return report->quote || findings_any(&report->quote_diags, HK_SEVERITY_ERROR);
}

enum { ALL_CUTS = 1 << REPORT_OWN | 1 << REPORT_CLIENT | 1 << REPORT_PATTERN };

/* A section of the page, the cuts that have it, and whether this project has it; NULL: all have. */
static const struct section {
    void (*write)(struct report *report);
    const char *id, *heading;
    unsigned cuts;
    bool (*has)(const struct report *report);
} sections[] = {
    {report_offer, "offer", "Quote", 1 << REPORT_CLIENT, NULL},
    {report_answer, "answer", "Yarn to have", 1 << REPORT_OWN, NULL},
    {report_shopping, "shopping", "What to buy", 1 << REPORT_OWN, has_shop},
    {report_ranges, "ranges", "How sure the amounts are", 1 << REPORT_OWN, NULL},
    {report_risks, "risks", "A ball more or fewer", 1 << REPORT_OWN, has_shop},
    {report_balls, "balls", "Where each ball ends", 1 << REPORT_OWN, NULL},
    {report_where, "where", "Where the yarn goes", 1 << REPORT_OWN, NULL},
    {report_materials, "materials", "Materials", 1 << REPORT_PATTERN, NULL},
    {report_shapes, "shapes", "The pieces, to scale", ALL_CUTS, NULL},
    {report_stripes, "stripes", "Stripes", ALL_CUTS, report_has_stripes},
    {report_price, "price", "What to charge", 1 << REPORT_OWN, has_price},
    {report_materials, "materials", "Materials", 1 << REPORT_OWN, NULL},
    {report_rows, "rows", "Stitches after every row", 1 << REPORT_OWN | 1 << REPORT_PATTERN, NULL},
    {report_notes, "notes", "What this rests on", 1 << REPORT_OWN, report_has_notes},
};

static bool shown(const struct report *report, const struct section *section)
{
    return section->cuts & 1U << report->cut && (!section->has || section->has(report));
}

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

void report_write(struct report *report)
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
        if (!shown(report, &sections[i]))
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
        if (shown(report, &sections[i]))
            sections[i].write(report);
    markup_close(markup, "main");
    markup_close(markup, "body");
    markup_close(markup, "html");
}
