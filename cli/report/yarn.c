/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The yarn to have in every size; its range, with what is bought drawn in; the chance of running short by balls. */
#include "amount.h"
#include "purchases.h"
#include "report/page.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

size_t report_role(const struct hk_need *need, size_t size, size_t role)
{
    for (size_t i = 0; i < need->role_count; i++)
        if (need->roles[i].size == size && need->roles[i].role == role)
            return i;
    return SIZE_MAX;
}

const struct hk_need_role *report_any_size(const struct hk_need *need, size_t role)
{
    for (size_t i = 0; i < need->role_count; i++)
        if (need->roles[i].role == role)
            return &need->roles[i];
    return NULL;
}

struct colour report_colour(const struct report *report, size_t role)
{
    const struct hk_need_role *any = report_any_size(report->work->need, role);
    return any ? colour_shown(any->rgb, any->colour, role) : colour_shown("", "", role);
}

const struct hk_shop_size *report_shop_size(const struct report *report, size_t size, size_t *at)
{
    const struct hk_shop *shop = report->work->shop;
    *at = SIZE_MAX;
    for (size_t i = 0; shop && i < shop->size_count; i++)
        if (strcmp(shop->sizes[i].size, report->work->need->sizes[size]) == 0) {
            *at = i;
            return &shop->sizes[i];
        }
    return NULL;
}

static size_t role_count(const struct hk_need *need)
{
    size_t count = 0;
    for (size_t i = 0; i < need->role_count; i++)
        count = need->roles[i].role >= count ? need->roles[i].role + 1 : count;
    return count;
}

static size_t shop_role(const struct hk_shop_size *size, const char *role)
{
    for (size_t i = 0; size && i < size->role_count; i++)
        if (strcmp(size->roles[i].role, role) == 0)
            return i;
    return SIZE_MAX;
}

/* ---- The answer ---- */

static void answer_row(struct report *report, const struct hk_need_role *any, bool mass)
{
    const struct hk_need *need = report->work->need;
    const struct size_range sizes = pipeline_sizes(report->work);
    page_row(report);
    page_name(report, any->role_name);
    page_cell(report, mass ? "g" : "balls");
    for (size_t size = sizes.first; size < sizes.end; size++) {
        const size_t at = report_role(need, size, any->role);
        if (at == SIZE_MAX)
            page_blank(report);
        else if (mass)
            page_figure(report, amount_enough(&need->roles[at].mass_g, AMOUNT_G).text, "need:/need/%zu/mass_g/enough",
                        at);
        else
            page_figure(report, number_whole(need->roles[at].balls).text, "need:/need/%zu/balls", at);
    }
    page_row_end(report);
}

static void answer_sizes(struct report *report, const char *caption)
{
    const struct hk_need *need = report->work->need;
    const struct size_range sizes = pipeline_sizes(report->work);
    page_table(report, caption);
    page_head(report, "");
    page_head(report, "");
    for (size_t size = sizes.first; size < sizes.end; size++)
        page_head_figure(report, need->sizes[size]);
    page_body(report);
    for (size_t role = 0; role < role_count(need); role++) {
        const struct hk_need_role *any = report_any_size(need, role);
        if (!any)
            continue;
        answer_row(report, any, false);
        answer_row(report, any, true);
    }
    page_table_end(report);
}

void report_answer(struct report *report)
{
    const struct hk_need *need = report->work->need;
    page_section(report, "answer", "Yarn to have");
    if (need->margin >= 0)
        page_paragraph(report, "The likely amount and a flat %s more.", number_asked(need->margin).text);
    else
        page_paragraph(report, "Enough with a chance of %s, for each yarn.", number_asked(need->chance).text);
    answer_sizes(report, "Balls and grams of each yarn");
    markup_open(&report->markup, "ul", NULL);
    for (size_t role = 0; role < role_count(need); role++) {
        const struct hk_need_role *any = report_any_size(need, role);
        if (!any)
            continue;
        markup_open(&report->markup, "li", NULL);
        markup_text(&report->markup, "%s: balls of %s g (%s m) %s%s%s", any->role_name,
                    number_label(any->put_up_g).text, number_label(any->put_up_m).text, any->yarn,
                    *any->colour ? " " : "", any->colour);
        markup_close(&report->markup, "li");
    }
    markup_close(&report->markup, "ul");
    page_section_end(report);
}

/* ---- Ranges ---- */

/* The plot: names on the left, then grams from 0 to `most` over `width`. */
struct scale {
    double left, width, most;
};

static double at_x(const struct scale *scale, double value)
{
    return scale->left + scale->width * value / scale->most;
}

/* Returns a step of 1, 2 or 5 times a power of ten that divides `most` into at most five parts. */
static double nice_step(double most)
{
    double power = pow(10, floor(log10(most / 5)));
    const double factors[] = {1, 2, 5, 10};
    for (size_t i = 0; i < 4; i++)
        if (most / (factors[i] * power) <= 5)
            return factors[i] * power;
    return most;
}

static void draw_axis(struct svg *svg, const struct scale *scale, double top, double bottom, const char *unit)
{
    const double step = nice_step(scale->most);
    for (int i = 0; i * step <= scale->most * 1.0001; i++) {
        svg_line(svg, "axis", at_x(scale, i * step), top, at_x(scale, i * step), bottom);
        svg_words(svg, at_x(scale, i * step), bottom + 13, SVG_MIDDLE, hk_number_text(i * step, 6).text);
    }
    svg_words(svg, scale->left + scale->width, bottom + 26, SVG_END, unit);
}

/* Returns the grams that the shop's answer buys of a role in a size; 0: none. */
static double bought(const struct report *report, const struct hk_need_role *role, size_t *size_at, size_t *role_at)
{
    const struct hk_shop_size *size = report_shop_size(report, role->size, size_at);
    *role_at = shop_role(size, role->role_name);
    return *role_at == SIZE_MAX ? 0 : size->roles[*role_at].bought_g;
}

static void draw_range(struct svg *svg, const struct report *report, const struct scale *scale, size_t at, double y)
{
    const struct hk_need_role *role = &report->work->need->roles[at];
    size_t size_at, role_at;
    const double bought_g = bought(report, role, &size_at, &role_at);
    svg_name(svg, scale->left - 6, y + 12, SVG_END, scale->left - 6, role->size_name);
    svg_filled(svg, role->role, at_x(scale, role->mass_g.low), y + 2,
               at_x(scale, role->mass_g.high) - at_x(scale, role->mass_g.low), 12);
    svg_line(svg, "likely", at_x(scale, role->mass_g.likely), y, at_x(scale, role->mass_g.likely), y + 16);
    if (bought_g > 0) {
        svg_line(svg, "mark", at_x(scale, bought_g), y - 1, at_x(scale, bought_g), y + 17);
        svg_circle(svg, "mark", at_x(scale, bought_g), y + 8, 3);
    }
}

#define ROW_HEIGHT 22.0
#define CHART_WIDTH 340.0
#define CHART_LEFT 64.0

static void draw_ranges(struct report *report, const struct hk_need_role *any)
{
    const struct hk_need *need = report->work->need;
    double most = 0;
    size_t rows = 0, size_at, role_at;
    for (size_t i = 0; i < need->role_count; i++)
        if (need->roles[i].role == any->role) {
            most = fmax(most, fmax(need->roles[i].mass_g.high, bought(report, &need->roles[i], &size_at, &role_at)));
            rows++;
        }
    const struct scale scale = {CHART_LEFT, CHART_WIDTH - CHART_LEFT - 14, most};
    const double bottom = 8 + ROW_HEIGHT * (double)rows;
    char *id = text_format("range%zu", any->role), *title = text_format("Range of %s, in grams", any->role_name);
    report->markup.failed |= !id || !title;
    if (id && title && most > 0) {
        struct svg svg =
            page_picture(report, id, CHART_WIDTH, bottom + 32, title,
                         "Bars: nine makings in ten lie within. Upright stroke: the likely amount. Circle: what is "
                         "bought. The figures are in the table below.");
        svg_fill(&svg, any->role, report_colour(report, any->role));
        draw_axis(&svg, &scale, 4, bottom, "g");
        double y = 8;
        for (size_t i = 0; i < need->role_count; i++)
            if (need->roles[i].role == any->role) {
                draw_range(&svg, report, &scale, i, y);
                y += ROW_HEIGHT;
            }
        page_picture_end(report, &svg);
    }
    free(id);
    free(title);
}

static void range_rows(struct report *report, size_t at)
{
    const struct hk_need_role *role = &report->work->need->roles[at];
    const struct hk_range *range = &role->mass_g;
    size_t size_at, role_at;
    const double bought_g = bought(report, role, &size_at, &role_at);
    page_row(report);
    page_name(report, role->size_name);
    page_cell(report, role->role_name);
    page_figure(report, amount_shown(range, range->likely, AMOUNT_G, NUMBER_NEAREST).text,
                "need:/need/%zu/mass_g/likely", at);
    page_figure(report, amount_shown(range, range->low, AMOUNT_G, NUMBER_DOWN).text, "need:/need/%zu/mass_g/low", at);
    page_figure(report, amount_shown(range, range->high, AMOUNT_G, NUMBER_UP).text, "need:/need/%zu/mass_g/high", at);
    if (bought_g > 0)
        page_figure(report, number_label(bought_g).text, "shop:/shop/%zu/roles/%zu/bought_g", size_at, role_at);
    else
        page_blank(report);
    page_row_end(report);
}

void report_ranges(struct report *report)
{
    const struct hk_need *need = report->work->need;
    static const struct page_head heads[] = {{"Size", false}, {"Yarn", false},    {"Likely g", true}, {"From g", true},
                                             {"To g", true},  {"Bought g", true}, {NULL, false}};
    page_section(report, "ranges", "How sure the amounts are");
    page_paragraph(
        report, "Nine makings in ten lie within each bar; the stroke is the likely amount, the circle what is bought.");
    for (size_t role = 0; role < role_count(need); role++) {
        const struct hk_need_role *any = report_any_size(need, role);
        if (!any)
            continue;
        markup_element(&report->markup, "h3", any->role_name, NULL);
        draw_ranges(report, any);
    }
    page_folded(report, "The figures");
    page_table(report, "Likely amounts and their range, in grams");
    page_heads(report, heads);
    page_body(report);
    for (size_t i = 0; i < need->role_count; i++)
        range_rows(report, i);
    page_table_end(report);
    page_folded_end(report);
    page_section_end(report);
}

/* ---- The chance of running short ---- */

static void draw_risk(struct report *report, const struct hk_shop_role *role, size_t size_at, size_t role_at)
{
    char *id = text_format("risk%zu", role_at),
         *title = text_format("Chance of running short of %s, by balls", role->role);
    report->markup.failed |= !id || !title;
    const double bottom = 8 + ROW_HEIGHT * (double)role->step_count;
    const struct scale scale = {CHART_LEFT, CHART_WIDTH - CHART_LEFT - 100, 1};
    if (id && title) {
        struct svg svg =
            page_picture(report, id, CHART_WIDTH, bottom + 4, title,
                         "A bar for each number of balls; the dark one is what is bought. The figures stand beside "
                         "the bars.");
        for (size_t i = 0; i < role->step_count; i++) {
            const struct hk_shop_step *step = &role->steps[i];
            const double y = 6 + ROW_HEIGHT * (double)i, end = at_x(&scale, 1 - step->chance);
            const bool chosen = !step->shop;
            svg_rect(&svg, chosen ? "chosen" : "bar", scale.left, y, fmax(end - scale.left, 1), 14);
            char *balls = text_format("%s ball%s", number_whole(step->balls).text, step->balls == 1 ? "" : "s");
            report->markup.failed |= !balls;
            if (balls)
                svg_figure(&svg, scale.left - 6, y + 11, SVG_END, balls, "shop:/shop/%zu/roles/%zu/steps/%zu/balls",
                           size_at, role_at, i);
            free(balls);
            char *enough = text_format("%s enough", number_chance(step->chance).text);
            report->markup.failed |= !enough;
            if (enough)
                svg_figure(&svg, fmax(end, scale.left) + 5, y + 11, SVG_START, enough,
                           "shop:/shop/%zu/roles/%zu/steps/%zu/chance", size_at, role_at, i);
            free(enough);
        }
        page_picture_end(report, &svg);
    }
    free(id);
    free(title);
}

static void risk_rows(struct report *report, size_t size_at, size_t role_at)
{
    const struct hk_shop *shop = report->work->shop;
    const struct hk_shop_role *role = &shop->sizes[size_at].roles[role_at];
    for (size_t i = 0; i < role->step_count; i++) {
        const struct hk_shop_step *step = &role->steps[i];
        page_row(report);
        page_name(report, shop->sizes[size_at].size);
        page_cell(report, role->role);
        page_figure(report, number_whole(step->balls).text, "shop:/shop/%zu/roles/%zu/steps/%zu/balls", size_at,
                    role_at, i);
        page_figure(report, number_chance(step->chance).text, "shop:/shop/%zu/roles/%zu/steps/%zu/chance", size_at,
                    role_at, i);
        if (step->cost_minor >= 0)
            page_figure(report, shop_money(shop, step->cost_minor).text, "shop:/shop/%zu/roles/%zu/steps/%zu/cost",
                        size_at, role_at, i);
        else
            page_blank(report);
        page_row_end(report);
    }
}

void report_risks(struct report *report)
{
    const struct hk_shop *shop = report->work->shop;
    static const struct page_head heads[] = {
        {"Size", false}, {"Yarn", false}, {"Balls", true}, {"Enough", true}, {"Cost of all yarn", true}, {NULL, false}};
    const size_t middle = (shop->size_count - 1) / 2;
    page_section(report, "risks", "A ball more or fewer");
    page_paragraph(report, "Size %s: the longer the bar, the greater the chance of running short.",
                   shop->sizes[middle].size);
    for (size_t i = 0; i < shop->sizes[middle].role_count; i++) {
        markup_element(&report->markup, "h3", shop->sizes[middle].roles[i].role, NULL);
        draw_risk(report, &shop->sizes[middle].roles[i], middle, i);
    }
    page_folded(report, "The figures of every size");
    page_table(report, "The chance that a number of balls is enough");
    page_heads(report, heads);
    page_body(report);
    for (size_t size = 0; size < shop->size_count; size++)
        for (size_t role = 0; role < shop->sizes[size].role_count; role++)
            risk_rows(report, size, role);
    page_table_end(report);
    page_folded_end(report);
    page_section_end(report);
}
